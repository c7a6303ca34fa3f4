//! Changes to one garment: a piece, an opening, an alteration by hand.

use std::sync::Arc;

use super::{EditError, alterations, find_mut, limits, put, take_out};
use crate::alteration::Alteration;
use crate::garment::{Garment, Opening};
use crate::piece::Piece;
use crate::project::Project;

impl Project {
    /// Puts a garment in the place of the one of its name, which must be there.
    pub(super) fn take_ready(&mut self, garment: &Arc<Garment>) -> Result<(), EditError> {
        limits::garment(garment)?;
        *find_mut(&mut self.garments, "garment", &garment.name, |own| {
            &own.name
        })? = garment.clone();
        self.drop_pins();
        Ok(())
    }

    pub(super) fn remove_garment(&mut self, name: &str) -> Result<(), EditError> {
        if let Some(user) = self.fittings.iter().find(|fitting| fitting.garment == name) {
            return Err(EditError::InUse {
                name: name.to_owned(),
                by: format!("the fitting {}", user.name),
            });
        }
        take_out(&mut self.garments, "garment", name, |garment| &garment.name)?;
        self.drop_pins();
        Ok(())
    }

    pub(super) fn put_piece(&mut self, garment: &str, piece: &Arc<Piece>) -> Result<(), EditError> {
        let slot = find_mut(&mut self.garments, "garment", garment, |garment| {
            &garment.name
        })?;
        let mut altered = Garment::clone(slot);
        *find_mut(&mut altered.pieces, "piece", &piece.name, |piece| {
            &piece.name
        })? = piece.clone();
        limits::garment(&altered)?;
        *slot = Arc::new(altered);
        Ok(())
    }

    pub(super) fn put_opening(
        &mut self,
        garment: &str,
        opening: &Opening,
    ) -> Result<(), EditError> {
        limits::name("opening", &opening.name)?;
        let slot = find_mut(&mut self.garments, "garment", garment, |garment| {
            &garment.name
        })?;
        let mut next = Garment::clone(slot);
        put(&mut next.openings, opening.clone(), |opening| &opening.name);
        limits::garment(&next)?;
        *slot = Arc::new(next);
        Ok(())
    }

    pub(super) fn alter(
        &mut self,
        garment: &str,
        alteration: &Alteration,
    ) -> Result<(), EditError> {
        alterations::sizes(alteration)?;
        let slot = find_mut(&mut self.garments, "garment", garment, |garment| {
            &garment.name
        })?;
        let altered = alteration
            .applied(slot)
            .map_err(|why| EditError::CannotAlter {
                name: alteration.words(self.unit),
                why,
            })?;
        limits::garment(&altered.garment)?;
        *slot = Arc::new(altered.garment);
        for fitting in self
            .fittings
            .iter_mut()
            .filter(|fitting| fitting.garment == garment)
        {
            if let Some(followed) = altered.carried.fitting(fitting) {
                *fitting = Arc::new(followed);
            }
        }
        self.follow_pins(garment, &altered.carried);
        Ok(())
    }
}
