//! The grainline: two clicks along the warp, a typed angle, along an edge; its ends are dragged.

use egui::{Key, Ui};
use kurbo::{Affine, Line, Point, Vec2};
use petitoile_core::alteration::MarkChange;

use crate::chalk::ask::{alter, try_alter};
use crate::chalk::brush::Brush;
use crate::chalk::hand::Hand;
use crate::chalk::on_edge::{OnEdge, pick_edge};
use crate::chalk::tool::{Gesture, Group, Handle, HandleLook, Tool};
use crate::command::{Chosen, Command};
use crate::fields::{Asked, angle_field};

/// Lays the grainline.
#[derive(Default)]
pub struct LayGrain {
    /// Piece and first point, in the piece's own coordinates.
    from: Option<(String, Point)>,
    chosen: Option<String>,
    /// Where the chosen end is dragged to, on the table.
    to: Option<Point>,
}

/// The grain of a piece as it is drawn; where none is laid, upright through its middle as on the table.
fn grain_of(hand: &Hand<'_>, piece: &str) -> Option<(Point, Point)> {
    let laid = hand.piece(piece)?.grainline;
    laid.or_else(|| {
        let Line { p0, p1 } = hand.table.piece(piece)?.grain;
        Some((p0, p1))
    })
}

/// Degrees from upright, to the right positive; a grain has no up and down.
fn lean((a, b): (Point, Point)) -> f64 {
    let way = if b.y < a.y { a - b } else { b - a };
    way.x.atan2(way.y).to_degrees()
}

fn turned((a, b): (Point, Point), to: f64) -> (Point, Point) {
    let way = if b.y < a.y { (b, a) } else { (a, b) };
    let by = (lean(way) - to).to_radians();
    let turn = Affine::rotate_about(by, way.0.midpoint(way.1));
    (turn * way.0, turn * way.1)
}

impl LayGrain {
    fn lay(hand: &Hand<'_>, piece: &str, a: Point, b: Point, commands: &mut Vec<Command>) {
        alter(hand, MarkChange::SetGrain(Some((a, b))).of(piece), commands);
    }

    fn dragged(hand: &Hand<'_>, handle: &str, to: Point) -> Option<(String, MarkChange)> {
        let (piece, end) = handle.rsplit_once('/')?;
        let (a, b) = grain_of(hand, piece)?;
        let to = hand.in_piece(piece, to);
        let grain = match end {
            "lower" => (to, b),
            "upper" => (a, to),
            _ => {
                let by = to - a.midpoint(b);
                (a + by, b + by)
            }
        };
        Some((piece.to_owned(), MarkChange::SetGrain(Some(grain))))
    }
}

impl Tool for LayGrain {
    fn name(&self) -> &'static str {
        "Grainline"
    }

    fn tip(&self) -> &'static str {
        "Lay the grainline with two clicks, or type its angle"
    }

    fn group(&self) -> Group {
        Group::Mark
    }

    fn key(&self) -> Option<Key> {
        Some(Key::G)
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        let at = hand.pointer.as_ref();
        let held = self.chosen.as_deref().zip(self.to);
        if let Some((piece, MarkChange::SetGrain(Some(grain)))) =
            held.and_then(|(handle, to)| Self::dragged(hand, handle, to))
        {
            return format!(
                "Let go: the grain of {piece} lies {:.1}\u{b0} from upright",
                lean(grain)
            );
        }
        match (&self.from, at) {
            (Some((piece, from)), Some(at)) => {
                let to = hand.in_piece(piece, at.point);
                format!(
                    "Click: the grain of {piece} ends here, {:.1}\u{b0} from upright",
                    lean((*from, to))
                )
            }
            (Some((piece, _)), None) => format!("Click where the grainline of {piece} ends"),
            (None, Some(at)) if at.piece.is_some() => format!(
                "Click: the grainline of {} starts here",
                at.piece.as_deref().unwrap_or_default()
            ),
            _ => "Click where the grainline of a piece starts".to_owned(),
        }
    }

    fn handles(&self, hand: &Hand<'_>) -> Vec<Handle> {
        let Some(piece) = hand.session.chosen.piece.as_deref() else {
            return Vec::new();
        };
        let Some((a, b)) = grain_of(hand, piece) else {
            return Vec::new();
        };
        [("lower", a), ("middle", a.midpoint(b)), ("upper", b)]
            .into_iter()
            .map(|(end, at)| {
                let id = format!("{piece}/{end}");
                let to = self
                    .to
                    .filter(|_| self.chosen.as_deref() == Some(id.as_str()));
                Handle {
                    at: to.unwrap_or_else(|| hand.on_table(piece, at)),
                    label: format!("{piece}, grainline, {end}"),
                    look: HandleLook::Point,
                    chosen: self.chosen.as_deref() == Some(id.as_str()),
                    id,
                }
            })
            .collect()
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        match gesture {
            Gesture::Click(at) => match (self.from.take(), at.piece) {
                (Some((piece, from)), _) => {
                    let to = hand.in_piece(&piece, at.point);
                    Self::lay(hand, &piece, from, to, commands);
                }
                (None, Some(piece)) => {
                    commands.push(Command::Choose(Chosen::piece(&piece)));
                    self.from = Some((piece.clone(), hand.in_piece(&piece, at.point)));
                }
                (None, None) => commands.push(Command::Choose(Chosen::default())),
            },
            Gesture::Take { handle, .. } => self.chosen = Some(handle),
            Gesture::DragHandle(handle, at) => {
                if self.chosen.as_ref() == Some(&handle)
                    && let Some((piece, change)) = Self::dragged(hand, &handle, at.point)
                {
                    self.to = Some(at.point);
                    try_alter(hand, change.of(piece), commands);
                }
            }
            Gesture::DropHandle(handle, at) => {
                if self.to.take().is_some()
                    && let Some((piece, change)) = Self::dragged(hand, &handle, at.point)
                {
                    alter(hand, change.of(piece), commands);
                }
            }
            Gesture::Nudge(by) => {
                let moved = self.chosen.as_deref().and_then(|handle| {
                    let handles = self.handles(hand);
                    let now = handles.iter().find(|h| h.id == handle)?;
                    Self::dragged(hand, handle, now.at + by)
                });
                if let Some((piece, change)) = moved {
                    alter(hand, change.of(piece), commands);
                }
            }
            _ => {}
        }
    }

    fn cancel(&mut self, commands: &mut Vec<Command>) -> bool {
        self.to = None;
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
        pick_edge(ui, hand, commands);
        let Some(piece) = hand.session.chosen.piece.as_deref() else {
            return;
        };
        let Some(grain) = grain_of(hand, piece) else {
            return;
        };
        let mut to = None;
        ui.horizontal(|ui| {
            ui.label("Degrees from upright");
            if let Asked::Done(angle) =
                angle_field(ui, "Grain, degrees from upright", Some(lean(grain)))
            {
                to = Some(turned(grain, angle));
            }
        });
        ui.horizontal_wrapped(|ui| {
            if ui.button("Upright").clicked() {
                alter(hand, MarkChange::SetGrain(None).of(piece), commands);
            }
            for (words, angle) in [("Level", 90.0), ("On the bias", 45.0)] {
                if ui.button(words).clicked() {
                    to = Some(turned(grain, angle));
                }
            }
            if let Some(edge) = OnEdge::chosen(hand) {
                let words = format!("Along {}", edge.edge);
                let line = edge.edge_of(hand).map(|edge| &edge.line);
                if let Some(line) = line.filter(|_| ui.button(words).clicked()) {
                    let way: Vec2 = line.end() - line.start();
                    to = Some(turned(grain, lean((Point::ZERO, way.to_point()))));
                }
            }
        });
        if let Some((a, b)) = to {
            Self::lay(hand, piece, a, b, commands);
        }
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        if let (Some((piece, from)), Some(at)) = (&self.from, &hand.pointer) {
            let from = hand.on_table(piece, *from);
            brush.line(&kurbo::Shape::to_path(&Line::new(from, at.point), 0.1));
            brush.dot(from);
            let angle = lean((from, at.point));
            brush.words(at.point, &format!("{angle:.1}\u{b0} from upright"));
        }
    }
}
