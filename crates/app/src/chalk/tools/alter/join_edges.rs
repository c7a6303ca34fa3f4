//! Makes one edge of two that meet at a corner.

use petitoile_core::alteration::{Alteration, ShapeChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::made::edge_before;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;

/// Makes one edge of two that meet at a corner.
pub struct JoinEdges;

impl Job for JoinEdges {
    fn name(&self) -> &'static str {
        "Join edges"
    }

    fn tip(&self) -> &'static str {
        "Make one edge of the two that meet at a corner; the shape stays"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Corner)
    }

    fn does(&self) -> Option<&'static str> {
        None
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click a corner: the two edges that meet there become one"
    }

    fn alteration(&self, hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Corner(corner)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        let edge = hand
            .piece(&corner.piece)
            .and_then(|piece| edge_before(piece, &corner.edge))
            .ok_or("this corner is gone")?;
        let change = ShapeChange::JoinEdges {
            edge: edge.to_owned(),
        };
        Ok(change.of(&corner.piece))
    }
}
