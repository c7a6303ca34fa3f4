//! Where a sitting looks: at a place, or at everything in its true size.

use petitoile_core::finding::Place;

use super::Session;
use crate::canvas::view::View;

impl Session {
    /// Points of the window grow with its size setting, the screen does not.
    pub(super) fn true_size(&mut self) {
        match self.settings.points_on_100_mm {
            Some(points) => {
                let scale = f64::from(points / self.settings.scale) / 100.0;
                self.view = View { scale, ..self.view };
                self.aim = None;
            }
            None => {
                self.message =
                    Some("Hold a ruler to the screen once: Look, Measure the screen".to_owned())
            }
        }
    }

    pub(super) fn show_place(&mut self, place: &Place) {
        self.aim = Some(self.work.table.aim_at(place));
        self.chosen = self.work.table.chosen_at(place);
    }
}
