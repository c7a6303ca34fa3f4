//! Makes an edge straight.

use petitoile_core::alteration::{Alteration, ShapeChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;

/// Makes an edge straight.
pub struct Straighten;

impl Job for Straighten {
    fn name(&self) -> &'static str {
        "Straighten"
    }

    fn tip(&self) -> &'static str {
        "Make an edge straight from corner to corner"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Edge)
    }

    fn does(&self) -> Option<&'static str> {
        None
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click an edge: it becomes straight"
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Edge(edge)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        let change = ShapeChange::Straighten {
            edge: edge.edge.clone(),
        };
        Ok(change.of(&edge.piece))
    }
}
