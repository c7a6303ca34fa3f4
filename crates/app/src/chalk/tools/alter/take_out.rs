//! Takes a piece out.

use petitoile_core::alteration::{Alteration, PiecesChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;

/// Takes a piece out, with its seams.
pub struct TakeOut;

impl Job for TakeOut {
    fn name(&self) -> &'static str {
        "Take out piece"
    }

    fn tip(&self) -> &'static str {
        "Take a piece out, with its seams"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Piece)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Take it out")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click the piece that is taken out"
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Piece(piece)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        Ok(Alteration::Pieces(PiecesChange::Remove {
            piece: piece.clone(),
        }))
    }
}
