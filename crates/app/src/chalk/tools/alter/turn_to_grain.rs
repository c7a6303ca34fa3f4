//! Turns a piece so that its grainline stands upright.

use petitoile_core::alteration::{Alteration, ShapeChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;

/// Turns a piece so that its grainline stands upright.
pub struct TurnToGrain;

impl Job for TurnToGrain {
    fn name(&self) -> &'static str {
        "Turn to grain"
    }

    fn tip(&self) -> &'static str {
        "Turn a piece so that its grainline stands upright"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Piece)
    }

    fn does(&self) -> Option<&'static str> {
        None
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click a piece: it is turned until its grainline stands upright"
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Piece(piece)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        Ok(ShapeChange::TurnToGrain.of(piece))
    }
}
