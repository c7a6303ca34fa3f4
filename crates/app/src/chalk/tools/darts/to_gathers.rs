//! Turns a dart into gathers.

use petitoile_core::alteration::{Alteration, DartChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;

/// Turns a dart into gathers.
pub struct ToGathers;

impl Job for ToGathers {
    fn name(&self) -> &'static str {
        "To gathers"
    }

    fn tip(&self) -> &'static str {
        "Leave a dart unsewn; its width is gathered on the edge instead"
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
        "Click a dart: its width is gathered instead"
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Dart { piece, dart }] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        Ok(DartChange::ToGathers { dart: dart.clone() }.of(piece))
    }
}
