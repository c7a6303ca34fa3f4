//! Changes to the offcuts of a project, and what lies on them.

use std::sync::Arc;

use super::{EditError, lay_limits, limits, missing, take_out};
use crate::fitting::Fitting;
use crate::lay_plan::Placed;
use crate::project::Project;

/// By how much offcuts may be taken for larger at once, percent: beyond twice as large it is other cloth.
const MOST_GROWTH: f64 = 100.0;

impl Project {
    /// Takes an offcut out; what lies on it is taken up. Refused while something on it is marked as cut.
    pub(super) fn remove_offcut(&mut self, name: &str) -> Result<(), EditError> {
        let on_it = |placed: &&Placed| placed.offcut == name && placed.as_cut.is_some();
        let cut = self.fittings.iter().find_map(|fitting| {
            let mut placed = fitting.lay_plan.iter().flat_map(|plan| &plan.placed);
            placed.find(on_it).map(|placed| (fitting, placed))
        });
        if let Some((fitting, placed)) = cut {
            return Err(EditError::InUse {
                name: name.to_owned(),
                by: format!(
                    "{} of {}, which is marked as cut",
                    placed.piece, fitting.name
                ),
            });
        }
        take_out(&mut self.offcuts, "offcut", name, |offcut| &offcut.name)?;
        self.on_plans(name, |fitting| {
            if let Some(plan) = &mut fitting.lay_plan {
                plan.placed.retain(|placed| placed.offcut != name);
            }
        });
        Ok(())
    }

    /// Takes out an offcut that is used up. What was cut from it keeps its mark.
    pub(super) fn use_up_offcut(&mut self, name: &str) -> Result<(), EditError> {
        let uncut = |placed: &&Placed| placed.offcut == name && placed.as_cut.is_none();
        let still = self.fittings.iter().find_map(|fitting| {
            let mut placed = fitting.lay_plan.iter().flat_map(|plan| &plan.placed);
            placed.find(uncut).map(|placed| (fitting, placed))
        });
        if let Some((fitting, placed)) = still {
            return Err(EditError::InUse {
                name: name.to_owned(),
                by: format!("{} of {}, which is not cut yet", placed.piece, fitting.name),
            });
        }
        take_out(&mut self.offcuts, "offcut", name, |offcut| &offcut.name)
    }

    /// Gives an offcut another name; what lies on it follows.
    pub(super) fn rename_offcut(&mut self, from: &str, to: &str) -> Result<(), EditError> {
        limits::name("offcut", to)?;
        if from != to && self.offcut(to).is_some() {
            return Err(EditError::Taken {
                what: "offcut",
                name: to.to_owned(),
            });
        }
        let offcut = self
            .offcuts
            .iter_mut()
            .find(|offcut| offcut.name == from)
            .ok_or_else(|| missing("offcut", from))?;
        Arc::make_mut(offcut).name = to.to_owned();
        self.on_plans(from, |fitting| {
            let placed = fitting
                .lay_plan
                .iter_mut()
                .flat_map(|plan| &mut plan.placed);
            for placed in placed.filter(|placed| placed.offcut == from) {
                placed.offcut = to.to_owned();
            }
        });
        Ok(())
    }

    /// Takes every offcut for so many percent longer and wider.
    pub(super) fn grow_offcuts(&mut self, percent: f64) -> Result<(), EditError> {
        limits::number(
            "the growth of the offcuts in percent",
            percent,
            0.0,
            MOST_GROWTH,
        )?;
        for offcut in &mut self.offcuts {
            let grown = offcut.grown(percent, |_| false);
            lay_limits::offcut(&grown)?;
            *offcut = Arc::new(grown);
        }
        Ok(())
    }

    /// Changes the fittings that have something lying on this offcut.
    fn on_plans(&mut self, offcut: &str, change: impl Fn(&mut Fitting)) {
        for fitting in &mut self.fittings {
            let mut placed = fitting.lay_plan.iter().flat_map(|plan| &plan.placed);
            if placed.any(|placed| placed.offcut == offcut) {
                change(Arc::make_mut(fitting));
            }
        }
    }
}
