//! Moves corners, points, steering points and whole edges of a piece.

use egui::{Key, Ui};
use kurbo::{Point, Rect, Vec2};
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, PointRef, ShapeChange};
use petitoile_core::edge::OutlinePoint;
use petitoile_core::garment::Garment;
use petitoile_core::piece::Piece;

use crate::chalk::brush::Brush;
use crate::chalk::hand::{At, Hand};
use crate::chalk::points::{self, Grip, handles, in_box};
use crate::chalk::tool::{Gesture, Group, Handle, Tool};
use crate::chalk::trial::{Shows, Trial};
use crate::chalk::{ask, typed};
use crate::command::{Chosen, Command};
use crate::wording;

/// Moves what is chosen of one piece.
pub struct MovePoints {
    piece: Option<String>,
    chosen: Vec<PointRef>,
    edge: Option<String>,
    keep_smooth: bool,
    held: Option<String>,
    by: Vec2,
    frame: Option<Rect>,
    trial: Trial,
}

impl Default for MovePoints {
    fn default() -> Self {
        Self {
            piece: None,
            chosen: Vec::new(),
            edge: None,
            keep_smooth: true,
            held: None,
            by: Vec2::ZERO,
            frame: None,
            trial: Trial::default(),
        }
    }
}

impl MovePoints {
    fn piece<'a>(&self, hand: &'a Hand<'_>) -> Option<&'a Piece> {
        hand.piece(hand.session.chosen.piece.as_deref()?)
            .map(AsRef::as_ref)
    }

    /// What is chosen belongs to one piece, and is let go when another is taken in hand.
    fn keep_to_piece(&mut self, hand: &Hand<'_>) {
        let now = &hand.session.chosen.piece;
        if *now != self.piece {
            self.piece.clone_from(now);
            self.chosen.clear();
        }
        if let Some(piece) = self.piece(hand) {
            self.chosen
                .retain(|point| points::place(piece, point).is_some());
        }
    }

    fn take(&mut self, hand: &Hand<'_>, handle: &str, more: bool) {
        let Some(piece) = self.piece(hand) else {
            return;
        };
        let grip = Grip::of(handle);
        let taken = grip
            .as_ref()
            .map_or_else(Vec::new, |grip| grip.points(piece));
        self.edge = match grip {
            Some(Grip::Edge(edge)) if !more => Some(edge),
            _ => None,
        };
        let all_there = taken.iter().all(|point| self.chosen.contains(point));
        if more && all_there {
            self.chosen.retain(|point| !taken.contains(point));
        } else {
            if !more {
                self.chosen.clear();
            }
            self.chosen.extend(taken);
            self.chosen.sort();
            self.chosen.dedup();
        }
    }

    /// Moving what is chosen; steering points that are alone steer, whether joins are kept smooth or broken.
    fn moved(&self, hand: &Hand<'_>, by: Vec2) -> Option<Alteration> {
        let change = ShapeChange::MovePoints {
            points: self.chosen.clone(),
            right: Mm(by.x),
            up: Mm(by.y),
            keep_smooth: self.keep_smooth && !self.breaks(hand),
        };
        (!self.chosen.is_empty()).then(|| change.of(self.piece.clone().unwrap_or_default()))
    }

    /// Alt breaks smooth joins while a handle is dragged; with arrows it makes the steps small.
    fn breaks(&self, hand: &Hand<'_>) -> bool {
        hand.keys.alt && self.held.is_some()
    }

    /// How far a handle has been dragged: to where the pointer snapped.
    fn dragged(&mut self, hand: &Hand<'_>, handle: &str, at: &At) {
        let piece = self.piece(hand);
        let start = piece.and_then(|piece| {
            handles(hand, piece, &[])
                .into_iter()
                .find(|other| other.id == handle)
        });
        if let Some(start) = start {
            self.by = at.point - start.at;
        }
        self.held = Some(handle.to_owned());
    }

    fn drag(&mut self, hand: &Hand<'_>, handle: &str, at: &At, commands: &mut Vec<Command>) {
        self.dragged(hand, handle, at);
        if let Some(alteration) = self.moved(hand, self.by) {
            let at = Some(at.point);
            self.trial
                .show(hand, Ok(alteration), at, Shows::Everywhere, commands);
        }
    }

    fn drop(&mut self, hand: &Hand<'_>, handle: &str, at: &At, commands: &mut Vec<Command>) {
        self.dragged(hand, handle, at);
        if let Some(alteration) = self.moved(hand, self.by) {
            self.trial.finish(hand, Ok(alteration), commands);
        }
        self.by = Vec2::ZERO;
        self.held = None;
    }

    /// Nudges of the same points in a row are one step.
    fn nudge(&self, hand: &Hand<'_>, by: Vec2, commands: &mut Vec<Command>) {
        let Some(alteration) = self.moved(hand, by) else {
            return;
        };
        let why = hand
            .garment
            .and_then(|garment| alteration.applied(garment).err());
        commands.push(match why {
            None => Command::AlterOn(alteration),
            Some(why) => Command::Say(wording::sentence(&hand.unit.reword(&why.to_string()))),
        });
    }

    /// Takes the points out of their edges, last first, so that the numbers of the others stay.
    fn take_out(&mut self, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        let Some(piece) = self.piece.clone() else {
            return;
        };
        let inside = |point: &&PointRef| point.number > 0 && point.number.is_multiple_of(3);
        let mut out: Vec<PointRef> = self.chosen.iter().filter(inside).cloned().collect();
        if out.is_empty() {
            commands.push(Command::Say(
                "Only points inside an edge can be taken out; a corner goes with \u{201c}Join edges\u{201d}"
                    .to_owned(),
            ));
        }
        out.sort_by_key(|point| std::cmp::Reverse(point.number));
        for point in out {
            let change = ShapeChange::RemovePoint { point };
            ask::alter(hand, change.of(&piece), commands);
        }
        self.chosen.clear();
    }

    fn add_point(&self, hand: &Hand<'_>, at: At, commands: &mut Vec<Command>) {
        if let (Some(piece), Some((edge, fraction))) = (at.piece, at.edge) {
            let at = OutlinePoint::new(edge, fraction);
            ask::alter(hand, ShapeChange::AddPoint { at }.of(piece), commands);
        }
    }

    fn frame(&mut self, from: &At, to: &At) -> Rect {
        let frame = Rect::from_points(from.pointer, to.pointer);
        self.frame = Some(frame);
        frame
    }

    fn choose_in(&mut self, hand: &Hand<'_>, frame: Rect) {
        if let Some(piece) = self.piece(hand) {
            let inside = in_box(hand, piece, frame);
            if !hand.keys.shift {
                self.chosen.clear();
            }
            self.chosen.extend(inside);
            self.chosen.sort();
            self.chosen.dedup();
        }
        self.frame = None;
    }

    /// The length of the edge that was taken hold of, to be typed over.
    fn length_field(&self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        let (Some(piece), Some(name)) = (self.piece(hand), &self.edge) else {
            return;
        };
        let Some(edge) = piece.outline.edge(name) else {
            return;
        };
        let mut length = Mm(edge.line.length());
        let label = format!("Length of {name}");
        if typed::length(ui, hand, &label, &mut length, commands) {
            let edge = name.clone();
            let change = ShapeChange::SetLength { edge, length };
            ask::alter(hand, change.of(&piece.name), commands);
        }
    }

    /// Where the chosen point is, when it is one.
    fn single(&self, hand: &Hand<'_>) -> Option<Point> {
        match self.chosen.as_slice() {
            [point] => points::place(self.piece(hand)?, point),
            _ => None,
        }
    }
}

impl Tool for MovePoints {
    fn name(&self) -> &'static str {
        "Move"
    }

    fn tip(&self) -> &'static str {
        "Move corners, points, steering points and whole edges"
    }

    fn group(&self) -> Group {
        Group::Hand
    }

    fn key(&self) -> Option<Key> {
        Some(Key::M)
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        if let Some(words) = self.trial.words() {
            return words;
        }
        let Some(piece) = self.piece(hand) else {
            return "Click a piece to move its points".to_owned();
        };
        match self.chosen.as_slice() {
            [] => format!(
                "{}: drag a point or an edge, drag a box round several, double click an edge for a new point",
                piece.name
            ),
            [point] => format!(
                "{}: drag it or use arrows; Alt breaks a smooth join, Delete takes a point out",
                points::words(piece, point)
            ),
            many => format!(
                "{} points of {}: drag one or use arrows to move them all",
                many.len(),
                piece.name
            ),
        }
    }

    fn handles(&self, hand: &Hand<'_>) -> Vec<Handle> {
        let is_same = hand.session.chosen.piece == self.piece;
        let chosen: &[PointRef] = if is_same { &self.chosen } else { &[] };
        self.piece(hand)
            .map(|piece| handles(hand, piece, chosen))
            .unwrap_or_default()
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        self.keep_to_piece(hand);
        match gesture {
            Gesture::Click(at) => {
                self.chosen.clear();
                commands.push(Command::Choose(
                    at.piece.map(Chosen::piece).unwrap_or_default(),
                ));
            }
            Gesture::DoubleClick(at) => self.add_point(hand, at, commands),
            Gesture::Take { handle, more } => self.take(hand, &handle, more),
            Gesture::DragHandle(handle, at) => self.drag(hand, &handle, &at, commands),
            Gesture::DropHandle(handle, at) => self.drop(hand, &handle, &at, commands),
            Gesture::Drag(from, to) => {
                self.frame(&from, &to);
            }
            Gesture::Drop(from, to) => {
                let frame = self.frame(&from, &to);
                self.choose_in(hand, frame);
            }
            Gesture::Nudge(by) => self.nudge(hand, by, commands),
            Gesture::Delete => self.take_out(hand, commands),
            Gesture::Move(_) | Gesture::Press(_) | Gesture::Finish => {}
        }
    }

    fn cancel(&mut self, commands: &mut Vec<Command>) -> bool {
        let was =
            self.trial.give_up(commands) | self.frame.take().is_some() | !self.chosen.is_empty();
        self.held = None;
        self.by = Vec2::ZERO;
        self.chosen.clear();
        was
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        self.keep_to_piece(hand);
        if self.chosen.is_empty() {
            return;
        }
        if let (Some(at), Some(piece)) = (self.single(hand), &self.piece) {
            let place = at
                + if self.held.is_some() {
                    self.by
                } else {
                    Vec2::ZERO
                };
            let show = |mm: f64| wording::length(Mm(mm), hand.unit);
            ui.label(format!(
                "{} right and {} up in {piece}",
                show(place.x),
                show(place.y)
            ));
        }
        let (mut right, mut up) = (Mm(self.by.x), Mm(self.by.y));
        let typed = typed::difference(ui, hand, "Move to the right", &mut right, commands)
            | typed::difference(ui, hand, "Move upwards", &mut up, commands);
        if typed && let Some(alteration) = self.moved(hand, Vec2::new(right.0, up.0)) {
            self.trial.finish(hand, Ok(alteration), commands);
        }
        self.length_field(ui, hand, commands);
        ui.checkbox(&mut self.keep_smooth, "Keep smooth joins smooth");
        ui.horizontal_wrapped(|ui| {
            if ui.button("Smooth the join").clicked()
                && let ([point], Some(piece)) = (self.chosen.as_slice(), &self.piece)
            {
                let change = ShapeChange::Smooth {
                    point: point.clone(),
                };
                ask::alter(hand, change.of(piece), commands);
            }
            if ui.button("Take these points out").clicked() {
                self.take_out(hand, commands);
            }
        });
    }

    fn preview(&self) -> Option<&Garment> {
        self.trial.made()
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        if let Some(piece) = self.piece(hand) {
            steering_lines(hand, piece, brush);
        }
        if let Some(frame) = self.frame {
            let [a, b] = [frame.origin(), Point::new(frame.x1, frame.y1)];
            for (from, to) in [
                (a, Point::new(b.x, a.y)),
                (Point::new(b.x, a.y), b),
                (b, Point::new(a.x, b.y)),
                (Point::new(a.x, b.y), a),
            ] {
                brush.guide(from, to);
            }
        }
        self.trial.paint(hand, brush);
    }
}

/// A thin line from every point of a curve to the points that steer it.
fn steering_lines(hand: &Hand<'_>, piece: &Piece, brush: &Brush<'_>) {
    let curved = piece
        .outline
        .edges()
        .iter()
        .filter(|edge| !edge.line.is_straight());
    for cubic in curved.flat_map(|edge| edge.line.cubics()) {
        for (from, to) in [(cubic.p0, cubic.p1), (cubic.p3, cubic.p2)] {
            brush.guide(
                hand.on_table(&piece.name, from),
                hand.on_table(&piece.name, to),
            );
        }
    }
}
