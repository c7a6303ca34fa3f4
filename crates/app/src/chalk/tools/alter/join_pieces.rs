//! Joins two pieces along a seam into one.

use egui::Ui;
use petitoile_core::alteration::{Alteration, PiecesChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::made::piece_name;
use crate::chalk::spot::{Spot, Wants, seam_of};
use crate::chalk::tool::Group;
use crate::chalk::typed;
use crate::command::Command;

/// Joins two pieces along a seam into one.
#[derive(Default)]
pub struct JoinPieces {
    name: String,
}

impl Job for JoinPieces {
    fn name(&self) -> &'static str {
        "Join pieces"
    }

    fn tip(&self) -> &'static str {
        "Join two pieces along a seam into one; the seam is gone"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Seam)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Join them")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click an edge that is sewn: its two pieces become one"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        if let [Spot::Seam(seam)] = picked
            && let Some(seam) = seam_of(hand, seam)
            && let (Some(a), Some(b)) = (seam.a.first(), seam.b.first())
        {
            let both = format!("{} and {}", a.piece, b.piece.to_lowercase());
            self.name = piece_name(hand, &both);
        }
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Seam(seam)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        Ok(Alteration::Pieces(PiecesChange::Join {
            seam: seam.clone(),
            name: self.name.clone(),
        }))
    }

    fn fields(
        &mut self,
        ui: &mut Ui,
        _hand: &Hand<'_>,
        picked: &[Spot],
        _commands: &mut Vec<Command>,
    ) -> bool {
        !picked.is_empty() && typed::name(ui, "Name of the joined piece", &mut self.name)
    }
}
