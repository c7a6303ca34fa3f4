//! Presses a dart the other way.

use petitoile_core::alteration::{Alteration, DartChange};
use petitoile_core::piece::DartPress;

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants, dart_of};
use crate::chalk::tool::Group;

/// Presses a dart the other way.
pub struct Press;

impl Job for Press {
    fn name(&self) -> &'static str {
        "Press other way"
    }

    fn tip(&self) -> &'static str {
        "Press the sewn dart towards its other leg"
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
        "Click a dart: it is pressed the other way"
    }

    fn alteration(&self, hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Dart { piece, dart }] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        let (_, now) = dart_of(hand, piece, dart).ok_or("this dart is gone")?;
        let to = match now.pressed {
            DartPress::Before => DartPress::After,
            DartPress::After => DartPress::Before,
        };
        let change = DartChange::Press {
            dart: dart.clone(),
            to,
        };
        Ok(change.of(piece))
    }
}
