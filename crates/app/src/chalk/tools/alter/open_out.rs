//! Opens a piece on the fold out into a whole one.

use petitoile_core::alteration::{Alteration, ShapeChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;

/// Opens a piece on the fold out into a whole one.
pub struct OpenOut;

impl Job for OpenOut {
    fn name(&self) -> &'static str {
        "Open out"
    }

    fn tip(&self) -> &'static str {
        "Make a whole piece of one that is cut on the fold"
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
        "Click a piece on the fold: it is opened out"
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Piece(piece)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        Ok(ShapeChange::OpenOut.of(piece))
    }
}
