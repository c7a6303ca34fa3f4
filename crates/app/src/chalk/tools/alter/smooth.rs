//! Makes the join at a point smooth.

use petitoile_core::alteration::{Alteration, ShapeChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;

/// Makes the join at a point smooth.
pub struct Smooth;

impl Job for Smooth {
    fn name(&self) -> &'static str {
        "Smooth"
    }

    fn tip(&self) -> &'static str {
        "Let the lines on both sides of a point run into each other without a kink"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Point)
    }

    fn does(&self) -> Option<&'static str> {
        None
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click a corner or a point: its join becomes smooth"
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Point { piece, point }] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        let change = ShapeChange::Smooth {
            point: point.clone(),
        };
        Ok(change.of(piece))
    }
}
