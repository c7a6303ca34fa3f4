//! Walks a seam: one piece is rolled along the other on the table, stopping at every notch.

use egui::{Key, Ui};
use kurbo::{Affine, Point};
use petitoile_core::Mm;
use petitoile_core::walk::{Laid, Pace, SideOf, Step, Stop, StopKind, Walk};

use crate::chalk::brush::Brush;
use crate::chalk::hand::Hand;
use crate::chalk::near::fraction_near;
use crate::chalk::on_edge::OnEdge;
use crate::chalk::tool::{Gesture, Group, Handle, HandleLook, Tool};
use crate::chalk::which_seam::{InHand, both_pieces, side_words};
use crate::command::Command;
use crate::fields::{Asked, length_slider, one_of};
use crate::wording;

/// How long a whole seam is played, seconds.
const PLAYED: f64 = 12.0;

/// Walks a seam.
#[derive(Default)]
pub struct WalkSeam {
    seam: InHand,
    walked: Mm,
    pace: Pace,
    laid: Laid,
    playing: bool,
}

impl WalkSeam {
    fn walk(&self, hand: &Hand<'_>) -> Option<Walk> {
        let seam = self.seam.seam(hand)?;
        Walk::new(seam, &hand.garment?.pieces).ok()
    }

    fn step(&self, hand: &Hand<'_>) -> Option<(Walk, Step)> {
        let walk = self.walk(hand)?;
        let step = walk.at(self.walked, self.pace, self.laid)?;
        Some((walk, step))
    }

    /// Back to where the seam starts, with both pieces in view wherever they will be walked.
    fn start_over(&mut self, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        self.walked = Mm(0.0);
        self.playing = false;
        let Some(walk) = self.walk(hand) else {
            return;
        };
        let places = (0..=4).filter_map(|quarter| {
            let walked = Mm(walk.length().0 * f64::from(quarter) / 4.0);
            walk.at(walked, self.pace, self.laid)
        });
        let parts = places.filter_map(|step| {
            let (a, b) = (&step.a.edge.piece, &step.b.edge.piece);
            both_pieces(hand, a, b, &[step.a_from_b])
        });
        if let Some(part) = parts.reduce(|x, y| x.union(y)) {
            commands.push(Command::ShowPart(part));
        }
    }

    fn go_to_next(&mut self, hand: &Hand<'_>) {
        self.playing = false;
        if let Some(walk) = self.walk(hand) {
            let next = walk.next_stop(self.walked, self.pace).map(|(at, _)| at);
            self.walked = next.unwrap_or_else(|| walk.length());
        }
    }

    fn go_to_stop_before(&mut self, hand: &Hand<'_>) {
        self.playing = false;
        if let Some(walk) = self.walk(hand) {
            let before = walk.stop_before(self.walked, self.pace).map(|(at, _)| at);
            self.walked = before.unwrap_or(Mm(0.0));
        }
    }

    /// Walked to the place of the first side that is nearest to the pointer.
    fn drag(&mut self, hand: &Hand<'_>, to: Point) {
        let Some(walk) = self.walk(hand) else {
            return;
        };
        let near = walk.a.parts().iter().filter_map(|part| {
            let piece = &part.stretch.piece;
            let place = hand.in_piece(piece, to);
            let share = part.stretch.along(fraction_near(&part.line, place))?;
            let off = (part.place(0, share).point - place).hypot();
            Some((off, Mm(part.start.0 + share * part.length.0)))
        });
        if let Some((_, at)) = near.min_by(|x, y| x.0.total_cmp(&y.0)) {
            self.playing = false;
            self.walked = at;
        }
    }

    /// One moment of playing: on by so much, at most to the next stop.
    fn play(&mut self, walk: &Walk, seconds: f64) {
        let on = walk.length().0 / PLAYED * seconds;
        let end = walk
            .next_stop(self.walked, self.pace)
            .map_or(walk.length(), |(at, _)| at);
        self.walked = Mm((self.walked.0 + on).min(end.0));
        if self.walked.0 >= end.0 {
            self.playing = false;
        }
    }

    /// What has been reached: "single notch on the first side".
    fn reached(&self, walk: &Walk) -> Vec<String> {
        let here = |stop: &&Stop| (walk.walked_to(stop, self.pace).0 - self.walked.0).abs() < 0.01;
        let mut words: Vec<String> = walk.stops.iter().filter(here).map(stop_words).collect();
        words.dedup();
        words
    }
}

fn stop_words(stop: &Stop) -> String {
    let side = match stop.on {
        SideOf::A => "first",
        SideOf::B => "second",
    };
    match stop.what {
        StopKind::Start | StopKind::End => stop.what.to_string(),
        _ => format!("{} on the {side} side", stop.what),
    }
}

/// "84 mm along the first side, 82 mm along the second: 2 mm more so far".
fn so_far(step: &Step, hand: &Hand<'_>) -> String {
    let show = |mm| wording::length(mm, hand.unit);
    format!(
        "{} along the first side, {} along the second, difference so far {}",
        show(step.along_a),
        show(step.along_b),
        wording::difference(step.difference, hand.unit)
    )
}

impl Tool for WalkSeam {
    fn name(&self) -> &'static str {
        "Walk"
    }

    fn tip(&self) -> &'static str {
        "Walk one side of a seam along the other, from notch to notch"
    }

    fn group(&self) -> Group {
        Group::Seams
    }

    fn key(&self) -> Option<Key> {
        Some(Key::W)
    }

    fn snaps(&self) -> bool {
        false
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        match self.step(hand) {
            Some((_, step)) => format!(
                "{}. Arrows walk on, Enter goes to the next stop",
                so_far(&step, hand)
            ),
            None => match hand.pointer.as_ref().and_then(OnEdge::under) {
                Some(place) => format!("Click: walk the seam of {}", place.name()),
                None => "Click an edge to walk its seam".to_owned(),
            },
        }
    }

    fn handles(&self, hand: &Hand<'_>) -> Vec<Handle> {
        let Some((_, step)) = self.step(hand) else {
            return Vec::new();
        };
        vec![Handle {
            id: "walked".to_owned(),
            at: hand.on_table(&step.a.edge.piece, step.a.point),
            label: format!(
                "Walked {} along {}",
                wording::length(step.along_a, hand.unit),
                self.seam.seam(hand).map_or("", |seam| seam.name.as_str())
            ),
            look: HandleLook::Point,
            chosen: true,
        }]
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        match gesture {
            Gesture::DragHandle(_, at) => self.drag(hand, at.pointer),
            Gesture::Click(at) => {
                self.seam.click(hand, &at, commands);
                self.start_over(hand, commands);
            }
            Gesture::Finish => self.go_to_next(hand),
            Gesture::Nudge(by) => {
                let on = if by.x.abs() > by.y.abs() { by.x } else { by.y };
                if let Some(walk) = self.walk(hand) {
                    self.playing = false;
                    self.walked = Mm((self.walked.0 + on).clamp(0.0, walk.length().0));
                }
            }
            _ => {}
        }
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        let was = self.playing || self.seam.let_go();
        self.playing = false;
        was
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        let before = self.seam.clone();
        self.seam.pick(ui, hand, commands);
        if before != self.seam {
            self.start_over(hand, commands);
        }
        let Some(walk) = self.walk(hand) else {
            return;
        };
        if let Some(seam) = self.seam.seam(hand) {
            ui.label(format!("First side: {}", side_words(&seam.a)));
            ui.label(format!("Second side: {}", side_words(&seam.b)));
        }
        if self.playing {
            let seconds = ui.input(|i| f64::from(i.stable_dt.min(0.1)));
            self.play(&walk, seconds);
            ui.ctx().request_repaint();
        }
        let length = walk.length();
        match length_slider(ui, "Walked", self.walked, 0.0..=length.0, hand.unit) {
            Asked::Trying(mm) | Asked::Done(mm) => {
                self.playing = false;
                self.walked = Mm(mm.0.clamp(0.0, length.0));
            }
            Asked::Nothing => {}
        }
        ui.horizontal_wrapped(|ui| {
            if ui.button("Stop before").clicked() {
                self.go_to_stop_before(hand);
            }
            let play = if self.playing { "Hold" } else { "Walk on" };
            if ui.button(play).clicked() {
                self.playing = !self.playing;
                if self.walked.0 >= length.0 {
                    self.walked = Mm(0.0);
                }
            }
            if ui.button("Next stop").clicked() {
                self.go_to_next(hand);
            }
        });
        ui.horizontal_wrapped(|ui| {
            let paces = [Pace::Same, Pace::Notches];
            let words = |pace| match pace {
                Pace::Same => "same distance",
                Pace::Notches => "notch to notch",
            };
            if let Some(pace) = one_of(ui, "Walk by", self.pace, &paces, words) {
                self.pace = pace;
            }
        });
        ui.horizontal_wrapped(|ui| {
            let both = [Laid::Beside, Laid::OnTop];
            let words = |laid| match laid {
                Laid::Beside => "side by side",
                Laid::OnTop => "one on the other",
            };
            if let Some(laid) = one_of(ui, "Laid", self.laid, &both, words) {
                self.laid = laid;
            }
        });
        for reached in self.reached(&walk) {
            ui.strong(wording::sentence(&reached));
        }
        self.stops(ui, hand, &walk);
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        let Some((_, step)) = self.step(hand) else {
            return;
        };
        let (a, b) = (&step.a.edge.piece, &step.b.edge.piece);
        let Some((still, rolled)) = hand.piece(a).zip(hand.piece(b)) else {
            return;
        };
        let table_from_b = Affine::translate(hand.moved(a)) * step.a_from_b;
        let stroke = egui::Stroke::new(2.0, brush.palette().chosen);
        brush.stroke(&(table_from_b * rolled.outline.path()), stroke);
        for notch in &rolled.notches {
            let at = rolled.outline.edge(&notch.edge);
            if let Some(edge) = at {
                brush.dot(table_from_b * edge.line.at(notch.fraction));
            }
        }
        for notch in &still.notches {
            if let Some(edge) = still.outline.edge(&notch.edge) {
                brush.dot(hand.on_table(a, edge.line.at(notch.fraction)));
            }
        }
        let middle: Point = rolled.outline.bounds().center();
        brush.words(table_from_b * middle, b);
        let here = hand.on_table(a, step.a.point);
        brush.dot(here);
        brush.words(
            here,
            &format!(
                "{}, {}",
                wording::length(step.along_a, hand.unit),
                wording::difference(step.difference, hand.unit)
            ),
        );
    }
}

impl WalkSeam {
    /// Every stop with its distance; one click goes there.
    fn stops(&mut self, ui: &mut Ui, hand: &Hand<'_>, walk: &Walk) {
        let mut stops: Vec<(Mm, String)> = walk
            .stops
            .iter()
            .map(|stop| (walk.walked_to(stop, self.pace), stop_words(stop)))
            .collect();
        stops.sort_by(|x, y| x.0.0.total_cmp(&y.0.0));
        for (number, (at, words)) in stops.into_iter().enumerate() {
            let words = format!("{}: {words}", wording::length(at, hand.unit));
            let here = (at.0 - self.walked.0).abs() < 0.01;
            ui.push_id(number, |ui| {
                let row = egui::Button::selectable(here, words)
                    .truncate()
                    .min_size(egui::vec2(ui.available_width(), 24.0));
                if ui.add(row).clicked() {
                    self.playing = false;
                    self.walked = at;
                }
            });
        }
    }
}
