//! Moves a seam line from one piece to its neighbour.

use egui::Ui;
use kurbo::Point;
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, SeamChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::made::outwards;
use crate::chalk::on_edge::OnEdge;
use crate::chalk::spot::{Spot, Wants, seam_of};
use crate::chalk::tool::{Group, Handle, HandleLook};
use crate::chalk::typed;
use crate::command::Command;

/// Moves a seam line from one piece to its neighbour.
pub struct StyleLine {
    at_start: Mm,
    at_end: Mm,
}

impl Default for StyleLine {
    fn default() -> Self {
        Self {
            at_start: Mm(0.0),
            at_end: Mm(0.0),
        }
    }
}

impl Job for StyleLine {
    fn name(&self) -> &'static str {
        "Style line"
    }

    fn tip(&self) -> &'static str {
        "Move a seam line: one piece becomes wider, its neighbour narrower by as much"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Seam)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Move the seam line")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click an edge that is sewn, then drag the ends of its seam"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        let _ = (hand, picked);
        *self = Self::default();
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Seam(seam)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        Ok(Alteration::Seam(SeamChange::MoveLine {
            seam: seam.clone(),
            at_start: self.at_start,
            at_end: self.at_end,
        }))
    }

    fn fields(
        &mut self,
        ui: &mut Ui,
        hand: &Hand<'_>,
        picked: &[Spot],
        commands: &mut Vec<Command>,
    ) -> bool {
        let Some((a, b)) = pieces(hand, picked) else {
            return false;
        };
        ui.label(format!("{a} becomes wider, {b} narrower"));
        typed::difference(ui, hand, "Wider at the start", &mut self.at_start, commands)
            | typed::difference(ui, hand, "Wider at the end", &mut self.at_end, commands)
    }

    fn pulls(&self, hand: &Hand<'_>, picked: &[Spot]) -> Vec<Handle> {
        let handles = ["start", "end"].into_iter().filter_map(|id| {
            let (at, way) = end(hand, picked, id)?;
            let by = if id == "start" {
                self.at_start
            } else {
                self.at_end
            };
            Some(Handle {
                id: id.to_owned(),
                at: at + way * by.0,
                label: format!("Seam line at its {id}"),
                look: HandleLook::Corner,
                chosen: true,
            })
        });
        handles.collect()
    }

    fn pull(&mut self, hand: &Hand<'_>, picked: &[Spot], handle: &str, to: Point) {
        let Some((at, way)) = end(hand, picked, handle) else {
            return;
        };
        let by = Mm((to - at).dot(way));
        if handle == "start" {
            self.at_start = by;
        } else {
            self.at_end = by;
        }
    }
}

/// Where a seam begins or ends on its side `a`, and the way out of that piece.
fn end(hand: &Hand<'_>, picked: &[Spot], which: &str) -> Option<(Point, kurbo::Vec2)> {
    let [Spot::Seam(name)] = picked else {
        return None;
    };
    let a = &seam_of(hand, name)?.a;
    let place = match which {
        "start" => a.first().map(|s| OnEdge::new(&s.piece, &s.edge, s.from))?,
        _ => a.last().map(|s| OnEdge::new(&s.piece, &s.edge, s.to))?,
    };
    outwards(hand, &place)
}

/// The pieces of side `a` and side `b`.
fn pieces(hand: &Hand<'_>, picked: &[Spot]) -> Option<(String, String)> {
    let [Spot::Seam(name)] = picked else {
        return None;
    };
    let seam = seam_of(hand, name)?;
    Some((seam.a.first()?.piece.clone(), seam.b.first()?.piece.clone()))
}
