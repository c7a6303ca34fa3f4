//! Body lines: levels of the body across a piece, laid with two clicks, moved at their ends, taken out.

use egui::Ui;
use kurbo::{Point, Vec2};
use petitoile_core::alteration::MarkChange;
use petitoile_core::edge::OutlinePoint;
use petitoile_core::geometry::polygon::Polygon;
use petitoile_core::measure::Level;
use petitoile_core::piece::BodyLine;
use petitoile_core::tolerance::DRAWING;

use crate::chalk::ask::{alter, try_alter};
use crate::chalk::brush::Brush;
use crate::chalk::hand::{At, Hand};
use crate::chalk::on_edge::{OnEdge, pick_piece, place_fields};
use crate::chalk::tool::{Gesture, Group, Handle, HandleLook, Tool};
use crate::command::{Chosen, Command};
use crate::fields::pick;

/// Lays body lines.
pub struct LayBodyLines {
    level: Level,
    from: Option<OnEdge>,
    chosen: Option<String>,
    /// Where the chosen end is dragged to.
    dragged: Option<OnEdge>,
}

impl Default for LayBodyLines {
    fn default() -> Self {
        Self {
            level: Level::Bust,
            from: None,
            chosen: None,
            dragged: None,
        }
    }
}

/// Piece, level and whether it is the end that is held.
fn held(handle: &str) -> Option<(String, Level, bool)> {
    let (rest, end) = handle.rsplit_once('/')?;
    let (piece, level) = rest.rsplit_once('/')?;
    let level = Level::ALL.into_iter().find(|l| format!("{l:?}") == level)?;
    Some((piece.to_owned(), level, end == "to"))
}

fn line_of(hand: &Hand<'_>, piece: &str, level: Level) -> Option<BodyLine> {
    let lines = &hand.piece(piece)?.body_lines;
    lines.iter().find(|line| line.level == level).cloned()
}

/// The body line with one end elsewhere.
fn with_end(mut line: BodyLine, end: bool, at: OutlinePoint) -> MarkChange {
    if end {
        line.to = at;
    } else {
        line.from = at;
    }
    MarkChange::SetBodyLine(line)
}

impl LayBodyLines {
    /// The second end under the pointer: on the same piece, at the height of the first where that is within reach.
    fn end(&self, hand: &Hand<'_>, at: &At) -> Option<OnEdge> {
        let from = self.from.as_ref()?;
        let start = from.on_table(hand)?;
        let level = Point::new(at.pointer.x, start.y);
        let there = if (at.pointer.y - start.y).abs() <= hand.reach {
            level
        } else {
            at.point
        };
        let place = OnEdge::nearest(hand, &from.piece, there)?;
        let off = (place.on_table(hand)? - there).hypot();
        (off <= 2.0 * hand.reach).then_some(place)
    }

    fn lay(&mut self, hand: &Hand<'_>, to: &OnEdge, commands: &mut Vec<Command>) {
        if let Some(from) = self.from.take() {
            let line = BodyLine {
                level: self.level,
                from: from.in_outline(),
                to: to.in_outline(),
            };
            alter(
                hand,
                MarkChange::SetBodyLine(line).of(&from.piece),
                commands,
            );
        }
    }

    /// The chosen line with the end that is held dragged to a place of the table.
    fn drag(&mut self, hand: &Hand<'_>, to: Point) -> Option<(String, MarkChange)> {
        let (piece, level, end) = held(self.chosen.as_deref()?)?;
        let line = line_of(hand, &piece, level)?;
        let place = OnEdge::nearest(hand, &piece, to)?;
        let at = place.in_outline();
        self.dragged = Some(place);
        Some((piece, with_end(line, end, at)))
    }

    fn take_out(&mut self, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        if let Some((piece, level, _)) = self.chosen.take().as_deref().and_then(held) {
            alter(hand, MarkChange::RemoveBodyLine(level).of(piece), commands);
        }
    }
}

impl Tool for LayBodyLines {
    fn name(&self) -> &'static str {
        "Body line"
    }

    fn tip(&self) -> &'static str {
        "Lay a level of the body (bust, waist, hip ...) across a piece"
    }

    fn group(&self) -> Group {
        Group::Mark
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        if let Some((piece, level, _)) = self.chosen.as_deref().and_then(held) {
            if let Some(place) = &self.dragged {
                return format!(
                    "Let go: the {} line ends on {}, {}",
                    level.label().to_lowercase(),
                    place.name(),
                    place.distance_words(hand)
                );
            }
            return format!(
                "{} line of {piece}: drag its end along the outline, or Delete takes it out",
                level.label()
            );
        }
        let level = self.level.label().to_lowercase();
        match (&self.from, &hand.pointer) {
            (Some(_), Some(at)) => match self.end(hand, at) {
                Some(to) => format!(
                    "Click: the {level} line ends on {}, {}",
                    to.name(),
                    to.distance_words(hand)
                ),
                None => format!("Click the other side of the piece: the {level} line ends there"),
            },
            (Some(_), None) => format!("Click where the {level} line ends"),
            (None, Some(at)) if at.edge.is_some() => {
                let place = OnEdge::under(at).map(|place| place.name());
                format!(
                    "Click: the {level} line starts on {}",
                    place.unwrap_or_default()
                )
            }
            _ => format!("Click the edge where the {level} line starts"),
        }
    }

    fn handles(&self, hand: &Hand<'_>) -> Vec<Handle> {
        let mut handles = Vec::new();
        for piece in hand.garment.into_iter().flat_map(|garment| &garment.pieces) {
            for line in &piece.body_lines {
                for (end, at) in [("from", &line.from), ("to", &line.to)] {
                    let Some(point) = piece.point_at(at) else {
                        continue;
                    };
                    let id = format!("{}/{:?}/{end}", piece.name, line.level);
                    let dragged = self
                        .dragged
                        .as_ref()
                        .filter(|_| self.chosen.as_deref() == Some(id.as_str()))
                        .and_then(|place| place.on_table(hand));
                    handles.push(Handle {
                        at: dragged.unwrap_or_else(|| hand.on_table(&piece.name, point)),
                        label: format!(
                            "{}, {} line, {} on {}",
                            piece.name,
                            line.level.label().to_lowercase(),
                            if end == "from" { "start" } else { "end" },
                            at.edge
                        ),
                        look: HandleLook::Point,
                        chosen: self.chosen.as_deref() == Some(id.as_str()),
                        id,
                    });
                }
            }
        }
        handles
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        match gesture {
            Gesture::Click(at) if self.from.is_some() => {
                if let Some(to) = self.end(hand, &at) {
                    self.lay(hand, &to, commands);
                }
            }
            Gesture::Click(at) => {
                self.chosen = None;
                self.from = OnEdge::under(&at);
                commands.push(Command::Choose(
                    at.piece.map(Chosen::piece).unwrap_or_default(),
                ));
            }
            Gesture::Take { handle, .. } => {
                if let Some((piece, level, _)) = held(&handle) {
                    self.level = level;
                    commands.push(Command::Choose(Chosen::piece(piece)));
                }
                self.chosen = Some(handle);
            }
            Gesture::DragHandle(_, at) => {
                if let Some((piece, change)) = self.drag(hand, at.point) {
                    try_alter(hand, change.of(piece), commands);
                }
            }
            Gesture::DropHandle(_, at) => {
                if let Some((piece, change)) = self.drag(hand, at.point) {
                    alter(hand, change.of(piece), commands);
                }
                self.dragged = None;
            }
            Gesture::Nudge(by) => {
                let handles = self.handles(hand);
                let now = handles.iter().find(|handle| handle.chosen).map(|h| h.at);
                if let Some((piece, change)) = now.and_then(|now| self.drag(hand, now + by)) {
                    alter(hand, change.of(piece), commands);
                }
                self.dragged = None;
            }
            Gesture::Delete => self.take_out(hand, commands),
            _ => {}
        }
    }

    fn cancel(&mut self, commands: &mut Vec<Command>) -> bool {
        self.dragged = None;
        let was = self.from.take().is_some() | self.chosen.take().is_some();
        if was {
            commands.push(Command::StopTrying);
        }
        was
    }

    fn step_back(&mut self) -> bool {
        self.from.take().is_some()
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        ui.horizontal(|ui| {
            ui.label("Level");
            let words = |level: &Level| level.label().to_owned();
            if let Some(level) = pick(ui, "level", "Level", &self.level, &Level::ALL, words) {
                self.level = level;
            }
        });
        pick_piece(ui, hand, commands);
        let chosen = hand.session.chosen.piece.clone();
        let Some(piece) = chosen.and_then(|name| hand.piece(&name)) else {
            return;
        };
        if let Some(line) = line_of(hand, &piece.name, self.level) {
            for (end, at) in [(false, &line.from), (true, &line.to)] {
                ui.push_id(end, |ui| {
                    ui.label(if end { "Ends on" } else { "Starts on" });
                    ui.label(&at.edge);
                    let place = OnEdge::new(&piece.name, &at.edge, at.fraction);
                    if let Some(to) = place_fields(ui, hand, &place, true, commands) {
                        let at = place.at(to).in_outline();
                        let change = with_end(line.clone(), end, at);
                        alter(hand, change.of(&piece.name), commands);
                    }
                });
            }
            let words = format!("Take the {} line out", self.level.label().to_lowercase());
            if ui.button(words).clicked() {
                let change = MarkChange::RemoveBodyLine(self.level);
                alter(hand, change.of(&piece.name), commands);
            }
        } else if let Some((from, to)) = across_middle(hand, &piece.name)
            && ui.button("Lay it across the middle of the piece").clicked()
        {
            self.from = Some(from);
            self.lay(hand, &to, commands);
        }
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        for piece in hand.garment.into_iter().flat_map(|garment| &garment.pieces) {
            for line in &piece.body_lines {
                let ends = piece.point_at(&line.from).zip(piece.point_at(&line.to));
                if let Some((a, b)) = ends {
                    let (a, b) = (hand.on_table(&piece.name, a), hand.on_table(&piece.name, b));
                    brush.guide(a, b);
                    brush.words(a.midpoint(b), line.level.label());
                }
            }
        }
        let from = self.from.as_ref().and_then(|from| from.on_table(hand));
        if let (Some(from), Some(at)) = (from, &hand.pointer) {
            let to = self.end(hand, at).and_then(|to| to.on_table(hand));
            let to = to.unwrap_or(at.point);
            brush.line(&kurbo::Shape::to_path(&kurbo::Line::new(from, to), 0.1));
            brush.dot(from);
            brush.dot(to);
        }
    }
}

/// Left and right on the outline at half the height of a piece.
fn across_middle(hand: &Hand<'_>, piece: &str) -> Option<(OnEdge, OnEdge)> {
    let outline = &hand.piece(piece)?.outline;
    let cubics = outline.edges().iter().flat_map(|edge| edge.line.cubics());
    let polygon = Polygon::from_chain(&cubics.collect::<Vec<_>>(), DRAWING.0);
    let (a, b) = polygon.chord(outline.bounds().center(), Vec2::new(1.0, 0.0))?;
    let at = |p: Point| OnEdge::nearest(hand, piece, hand.on_table(piece, p));
    Some((at(a)?, at(b)?))
}
