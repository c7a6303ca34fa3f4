//! The tape: an edge or a stretch of it, from point to point, over cloth only; several added up; pinned.

use egui::{Key, Ui};
use petitoile_core::Mm;
use petitoile_core::measuring::{Measurement, PiecePoint};

use crate::chalk::brush::Brush;
use crate::chalk::hand::{At, Hand};
use crate::chalk::near::fraction_near;
use crate::chalk::on_edge::{OnEdge, pick_edge};
use crate::chalk::pinned::{paint_reading, pin_it, read};
use crate::chalk::tool::{Gesture, Group, Tool};
use crate::command::{Chosen, Command};
use crate::fields::one_of;
use crate::wording;

/// How the tape is laid.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Way {
    Edges,
    Straight,
    Cloth,
}

/// Measures.
pub struct Tape {
    way: Way,
    add_up: bool,
    measured: Vec<Measurement>,
    /// Piece and point where the tape starts.
    from: Option<(String, PiecePoint)>,
    stretch: Option<OnEdge>,
}

impl Default for Tape {
    fn default() -> Self {
        Self {
            way: Way::Edges,
            add_up: false,
            measured: Vec::new(),
            from: None,
            stretch: None,
        }
    }
}

/// The point of a piece under the pointer.
fn point(hand: &Hand<'_>, at: &At, of: Option<&str>) -> Option<(String, PiecePoint)> {
    let name = of.or(at.piece.as_deref())?;
    let piece = hand.piece(name)?;
    let own = hand.in_piece(name, at.point);
    let found = PiecePoint::near(piece, own, Mm(hand.reach))?;
    Some((name.to_owned(), found))
}

impl Tape {
    /// What would be measured if the pointer were clicked here.
    fn next(&self, hand: &Hand<'_>, at: &At) -> Option<Measurement> {
        if self.way == Way::Edges {
            return match &self.stretch {
                Some(from) => {
                    let line = &from.edge_of(hand)?.line;
                    let to = fraction_near(line, hand.in_piece(&from.piece, at.point));
                    Some(Measurement::Stretch {
                        edge: from.edge_ref(),
                        from: from.fraction.min(to),
                        to: from.fraction.max(to),
                    })
                }
                None => Some(Measurement::Edge(OnEdge::under(at)?.edge_ref())),
            };
        }
        let (piece, from) = self.from.clone()?;
        let (_, to) = point(hand, at, Some(&piece))?;
        Some(if self.way == Way::Cloth {
            Measurement::Across { piece, from, to }
        } else {
            Measurement::Between { piece, from, to }
        })
    }

    fn take(&mut self, measurement: Measurement, more: bool) {
        if !(more || self.add_up) {
            self.measured.clear();
        }
        self.measured.push(measurement);
    }

    /// All of it as one measurement.
    fn whole(&self) -> Option<Measurement> {
        match self.measured.as_slice() {
            [] => None,
            [one] => Some(one.clone()),
            many => Some(Measurement::Sum(many.to_vec())),
        }
    }

    fn click(&mut self, hand: &Hand<'_>, at: &At, commands: &mut Vec<Command>) {
        if let Some(place) = OnEdge::under(at) {
            commands.push(Command::Choose(Chosen::edge(&place.piece, &place.edge)));
        }
        match self.next(hand, at) {
            Some(measurement) => {
                self.take(measurement, hand.keys.shift);
                self.from = None;
            }
            None if self.way == Way::Edges => self.measured.clear(),
            None => self.from = point(hand, at, None),
        }
    }
}

/// "84 mm", with how far right and up for a straight line.
fn reads(hand: &Hand<'_>, measurement: &Measurement) -> String {
    let show = |mm| wording::length(mm, hand.unit);
    match read(hand.session, measurement) {
        Some(Ok(reading)) => match reading.right_and_up {
            Some((right, up)) => format!(
                "{} ({} across, {} up or down)",
                show(reading.length),
                show(Mm(right.0.abs())),
                show(Mm(up.0.abs()))
            ),
            None => show(reading.length),
        },
        Some(Err(why)) => why.to_string(),
        None => String::new(),
    }
}

impl Tool for Tape {
    fn name(&self) -> &'static str {
        "Tape"
    }

    fn tip(&self) -> &'static str {
        "Measure edges, from point to point, across several pieces; pin it"
    }

    fn group(&self) -> Group {
        Group::Measure
    }

    fn key(&self) -> Option<Key> {
        Some(Key::A)
    }

    fn snaps(&self) -> bool {
        self.way != Way::Edges
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        let next = hand.pointer.as_ref().and_then(|at| self.next(hand, at));
        let more = if self.measured.is_empty() {
            ""
        } else {
            "; with Shift it is added"
        };
        match (next, self.way) {
            (Some(next), _) => format!("{}: {}{more}", next.name(), reads(hand, &next)),
            (None, Way::Edges) => {
                "Click an edge to measure it, drag along it for a stretch".to_owned()
            }
            (None, _) if self.from.is_some() => "Click where the tape ends".to_owned(),
            (None, _) => "Click where the tape starts".to_owned(),
        }
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        match gesture {
            Gesture::Click(at) => self.click(hand, &at, commands),
            Gesture::Press(at) if self.way == Way::Edges => self.stretch = OnEdge::under(&at),
            Gesture::Press(at) => self.from = point(hand, &at, None),
            Gesture::Drop(_, at) => {
                if let Some(measurement) = self.next(hand, &at) {
                    self.take(measurement, hand.keys.shift);
                }
                self.stretch = None;
                self.from = None;
            }
            Gesture::Delete => {
                self.measured.pop();
            }
            _ => {}
        }
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        if self.from.take().is_some() | self.stretch.take().is_some() {
            return true;
        }
        let was = !self.measured.is_empty();
        self.measured.clear();
        was
    }

    fn step_back(&mut self) -> bool {
        self.from.take().is_some()
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        ui.horizontal_wrapped(|ui| {
            let ways = [Way::Edges, Way::Straight, Way::Cloth];
            let words = |way| match way {
                Way::Edges => "along edges",
                Way::Straight => "point to point",
                Way::Cloth => "over cloth only",
            };
            if let Some(way) = one_of(ui, "Tape", self.way, &ways, words) {
                self.way = way;
                self.from = None;
            }
        });
        ui.checkbox(&mut self.add_up, "Add up what is clicked");
        pick_edge(ui, hand, commands);
        if let Some(edge) = OnEdge::chosen(hand)
            && ui.button(format!("Measure {}", edge.edge)).clicked()
        {
            self.take(Measurement::Edge(edge.edge_ref()), false);
        }
        for measurement in &self.measured {
            ui.label(format!(
                "{}: {}",
                measurement.name(),
                reads(hand, measurement)
            ));
        }
        let Some(whole) = self.whole() else {
            return;
        };
        if self.measured.len() > 1 {
            ui.strong(format!("Together {}", reads(hand, &whole)));
        }
        ui.horizontal(|ui| {
            if ui.button("Pin it").clicked() {
                pin_it(hand.session, whole, commands);
                self.measured.clear();
            }
            if ui.button("Take the tape away").clicked() {
                self.measured.clear();
            }
        });
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        let next = hand.pointer.as_ref().and_then(|at| self.next(hand, at));
        for measurement in self.whole().iter().chain(&next) {
            if let Some(Ok(reading)) = read(hand.session, measurement) {
                paint_reading(hand, brush, &reading, None);
            }
        }
        if let Some((piece, from)) = &self.from
            && let Some(Ok(at)) = hand.piece(piece).map(|found| from.at(found))
        {
            brush.dot(hand.on_table(piece, at));
        }
    }
}
