//! What lies under one garment of an outfit.

use std::collections::BTreeMap;

use super::stack::measures;
use super::{Stack, Together};
use crate::edit::{Edit, FittingEdit};
use crate::fitting::AsWorn;
use crate::measure::Measure;
use crate::pad::Pad;
use crate::units::Mm;

/// What lies under one garment of an outfit.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Under {
    /// The stacks at every girth where something lies, innermost layer first.
    pub stacks: BTreeMap<Measure, Vec<Stack>>,
    /// The pads.
    pub pads: Vec<Pad>,
}

/// What lies under the garment at this place of an outfit.
pub fn underneath(together: &Together, place: usize) -> Under {
    let stacks = measures()
        .map(|measure| (measure, together.stacks_under(place, measure)))
        .filter(|(_, stacks)| !stacks.is_empty())
        .collect();
    Under {
        stacks,
        pads: pads_under(together, place),
    }
}

/// Pads worn on the body or over a layer further in; one whose layer is not worn lies on the body.
pub(super) fn pads_under(together: &Together, place: usize) -> Vec<Pad> {
    let over = |name: &Option<String>| {
        name.as_deref()
            .and_then(|name| together.place_of(name))
            .is_none_or(|layer| layer < place)
    };
    let worn = together.pads.iter().filter(|worn| over(&worn.over));
    worn.map(|worn| worn.pad.clone()).collect()
}

impl Under {
    /// Thickness of everything at a girth.
    pub fn stack(&self, measure: Measure) -> Mm {
        let stacks = self.stacks.get(&measure).into_iter().flatten();
        Mm(stacks.map(|stack| stack.thickness.0).sum())
    }

    /// The change that fits a garment as it is worn over this in an outfit. Thicknesses are kept to a thousandth of a mm.
    pub fn as_worn(&self, outfit: &str, fitting: &str) -> Edit {
        let stacks = self
            .stacks
            .keys()
            .map(|measure| {
                (
                    *measure,
                    Mm((self.stack(*measure).0 * 1000.0).round() / 1000.0),
                )
            })
            .collect();
        let worn = AsWorn {
            outfit: outfit.to_owned(),
            stacks,
        };
        Edit::Fitting {
            fitting: fitting.to_owned(),
            change: FittingEdit::SetAsWorn(Some(worn), self.pads.clone()),
        }
    }
}
