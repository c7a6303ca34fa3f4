//! Turns a dart into ease.

use petitoile_core::alteration::{Alteration, DartChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;

/// Turns a dart into ease.
pub struct ToEase;

impl Job for ToEase {
    fn name(&self) -> &'static str {
        "To ease"
    }

    fn tip(&self) -> &'static str {
        "Leave a dart unsewn; its width is eased in along the edge instead"
    }

    fn group(&self) -> Group {
        Group::Darts
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Dart)
    }

    fn does(&self) -> Option<&'static str> {
        None
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click a dart: its width is eased in instead"
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Dart { piece, dart }] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        Ok(DartChange::ToEase { dart: dart.clone() }.of(piece))
    }
}
