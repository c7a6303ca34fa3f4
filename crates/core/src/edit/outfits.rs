//! Changes to outfits.

use std::sync::Arc;

use super::{EditError, find_mut, limits, missing, put};
use crate::fitting::{AsWorn, Fitting};
use crate::outfit::Outfit;
use crate::project::Project;

impl Project {
    pub(super) fn put_outfit(&mut self, outfit: &Outfit) -> Result<(), EditError> {
        limits::name("outfit", &outfit.name)?;
        if let Some(gone) = outfit
            .layers
            .iter()
            .find(|layer| self.fitting(layer).is_none())
        {
            return Err(missing("fitting", gone));
        }
        outfit
            .pads
            .iter()
            .try_for_each(|worn| limits::pad(&worn.pad))?;
        put(&mut self.outfits, outfit.clone(), |outfit| &outfit.name);
        Ok(())
    }

    pub(super) fn rename_outfit(&mut self, outfit: &str, name: &str) -> Result<(), EditError> {
        limits::name("outfit", name)?;
        if outfit != name && self.outfits.iter().any(|other| other.name == name) {
            return Err(EditError::Taken {
                what: "outfit",
                name: name.to_owned(),
            });
        }
        name.clone_into(
            &mut find_mut(&mut self.outfits, "outfit", outfit, |outfit| &outfit.name)?.name,
        );
        for fitting in &mut self.fittings {
            let follows = |worn: &AsWorn| worn.outfit == outfit;
            if fitting.as_worn.as_ref().is_some_and(follows) {
                let mut next = Fitting::clone(fitting);
                if let Some(worn) = &mut next.as_worn {
                    name.clone_into(&mut worn.outfit);
                }
                *fitting = Arc::new(next);
            }
        }
        Ok(())
    }
}
