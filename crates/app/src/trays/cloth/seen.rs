//! What the Cloth tray sees of the sitting: the pieces to be laid, the offcuts, the plan that is shown.

use std::sync::Arc;

use petitoile_core::LengthUnit;
use petitoile_core::fitting::Fitting;
use petitoile_core::lay_plan::LayPlan;
use petitoile_core::project::Project;

use super::laid::{Laid, Scene};
use crate::lay_work::OnCloth;
use crate::session::Session;

/// What the Cloth tray sees.
pub struct Seen {
    project: Arc<Project>,
    /// The fitting.
    pub fitting: Option<Arc<Fitting>>,
    /// What was worked out for it.
    pub cloth: Arc<OnCloth>,
    /// The plan that is shown: the best so far while it is searched, else the one that is kept.
    pub plan: Arc<LayPlan>,
    /// Is it the best so far of a search that still runs?
    pub is_searching: bool,
}

impl Seen {
    /// What there is to see now.
    pub fn of(session: &Session) -> Self {
        let fitting = session.fitting().cloned();
        let worked = session.work.done.as_ref().filter(|worked| {
            let name = &worked.adapted.fitting.name;
            fitting
                .as_ref()
                .is_some_and(|fitting| fitting.name == *name)
        });
        let now = fitting
            .as_ref()
            .and_then(|fitting| session.laying.now(&fitting.name));
        let is_searching = now.is_some();
        let kept = || {
            let plan = fitting
                .as_ref()
                .and_then(|fitting| fitting.lay_plan.clone());
            Arc::new(plan.unwrap_or_default())
        };
        Self {
            project: session.shown().clone(),
            cloth: worked.map_or_else(Arc::default, |worked| worked.beyond.cloth.clone()),
            plan: now.map_or_else(kept, |now| now.best),
            is_searching,
            fitting,
        }
    }

    /// How lengths are told.
    pub fn unit(&self) -> LengthUnit {
        self.project.unit
    }

    /// The project as it is shown.
    pub fn project(&self) -> &Project {
        &self.project
    }

    /// What is laid out on the table.
    pub fn scene(&self) -> Scene<'_> {
        Scene {
            to_lay: &self.cloth.to_lay,
            offcuts: &self.project.offcuts,
            left: &self.cloth.offcuts,
            plan: &self.plan,
            // While it is searched every plan is proved before it is shown.
            faults: if self.is_searching {
                &[]
            } else {
                &self.cloth.faults
            },
            unit: self.project.unit,
        }
    }
}

/// The table that was laid out last, and of what.
#[derive(Default)]
pub struct Kept {
    of: Option<(Arc<Project>, Arc<OnCloth>, LayPlan)>,
    laid: Arc<Laid>,
}

impl Kept {
    /// The table, laid out anew only when something on it has changed.
    pub fn of(&mut self, seen: &Seen) -> Arc<Laid> {
        let same = self.of.as_ref().is_some_and(|(project, cloth, plan)| {
            Arc::ptr_eq(project, &seen.project)
                && Arc::ptr_eq(cloth, &seen.cloth)
                && *plan == *seen.plan
        });
        if !same {
            self.laid = Arc::new(Laid::of(&seen.scene()));
            self.of = Some((
                seen.project.clone(),
                seen.cloth.clone(),
                LayPlan::clone(&seen.plan),
            ));
        }
        self.laid.clone()
    }
}
