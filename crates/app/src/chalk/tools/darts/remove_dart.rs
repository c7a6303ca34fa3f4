//! Takes a dart out.

use petitoile_core::alteration::{Alteration, DartChange};

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;

/// Takes a dart out.
pub struct RemoveDart;

impl Job for RemoveDart {
    fn name(&self) -> &'static str {
        "Take dart out"
    }

    fn tip(&self) -> &'static str {
        "Take a dart out; the edge runs straight over its mouth"
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
        "Click a dart: it is taken out"
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Dart { piece, dart }] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        Ok(DartChange::Remove { dart: dart.clone() }.of(piece))
    }
}
