//! Cuts a piece in two along a line.

use egui::Ui;
use kurbo::{BezPath, Point};
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, PiecesChange};

use crate::chalk::across;
use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::made::{piece_name, seam_name};
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::{Group, Handle, HandleLook};
use crate::chalk::typed;
use crate::command::Command;

/// Cuts a piece in two along a line, straight or bent.
pub struct CutInTwo {
    bend: Mm,
    name: String,
    seam: String,
}

impl Default for CutInTwo {
    fn default() -> Self {
        Self {
            bend: Mm(0.0),
            name: String::new(),
            seam: String::new(),
        }
    }
}

impl Job for CutInTwo {
    fn name(&self) -> &'static str {
        "Cut in two"
    }

    fn tip(&self) -> &'static str {
        "Cut a piece in two along a line; the cut becomes a seam"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        match picked {
            [] => Some(Wants::Place),
            [Spot::Place(from)] => Some(Wants::PlaceOn(from.piece.clone())),
            _ => None,
        }
    }

    fn does(&self) -> Option<&'static str> {
        Some("Cut it in two")
    }

    fn asks(&self, picked: &[Spot]) -> &'static str {
        if picked.is_empty() {
            "Click the outline where the cut begins"
        } else {
            "Click the outline where the cut ends"
        }
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        if let [Spot::Place(from)] = picked {
            self.bend = Mm(0.0);
            self.name = piece_name(hand, &format!("{} 2", from.piece));
            self.seam = seam_name(hand, &format!("{} cut", from.piece.to_lowercase()));
        }
    }

    fn alteration(&self, hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let (piece, from, to) = across::ends(picked)?;
        Ok(Alteration::Pieces(PiecesChange::Cut {
            piece: piece.to_owned(),
            from,
            to,
            through: across::bent(hand, picked, self.bend),
            name: self.name.clone(),
            seam: self.seam.clone(),
        }))
    }

    fn fields(
        &mut self,
        ui: &mut Ui,
        hand: &Hand<'_>,
        _picked: &[Spot],
        commands: &mut Vec<Command>,
    ) -> bool {
        let bent = typed::difference(ui, hand, "Bent by", &mut self.bend, commands);
        let named = typed::name(ui, "Name of the other part", &mut self.name);
        typed::name(ui, "Name of the seam", &mut self.seam) | named | bent
    }

    fn pulls(&self, hand: &Hand<'_>, picked: &[Spot]) -> Vec<Handle> {
        let handle = across::middle(hand, picked).map(|(middle, right)| Handle {
            id: "bend".to_owned(),
            at: middle + right * self.bend.0,
            label: "Bend the cut".to_owned(),
            look: HandleLook::Steering,
            chosen: true,
        });
        handle.into_iter().collect()
    }

    fn pull(&mut self, hand: &Hand<'_>, picked: &[Spot], _handle: &str, to: Point) {
        if let Some(by) = across::pulled(hand, picked, to) {
            self.bend = by;
        }
    }

    fn line(&self, hand: &Hand<'_>, picked: &[Spot]) -> Option<BezPath> {
        across::bent_line(hand, picked, self.bend)
    }
}
