//! Step 6 of the way from file to page, and what the Cloth tray asks of `petitoile-lay`: what is to be laid, what is wrong
//! with the plan that is kept, what is left of the cloth, what would make everything fit, how much cloth is needed.

mod needed;
mod rests;
mod why_not;

use std::sync::Arc;

use petitoile_core::cloth::{Cloth, Offcut};
use petitoile_core::finding::Finding;
use petitoile_core::finish::Finished;
use petitoile_core::layers;
use petitoile_core::laying::{self, Hidden, ToLay};
use petitoile_core::project::Project;
use petitoile_lay::{PlanFault, check_plan, cloth_left};

use crate::worn::WornIn;

pub use needed::{Needed, NeededOf, needed};
pub use rests::{cloth_named, rests_of};
pub use why_not::{Asker, Concession, STEPS_EACH, Why};

/// Step 6 without a search: what is to be laid, the cloth for it, and whether the plan that is kept still holds.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct OnCloth {
    /// Every copy that is cut.
    pub to_lay: Arc<ToLay>,
    /// The offcuts as they are there for this fitting: what others have cut is gone.
    pub offcuts: Vec<Arc<Offcut>>,
    /// What is wrong with the plan that is kept.
    pub faults: Vec<PlanFault>,
}

/// What is to be laid for a fitting, and the plan that is kept, checked. A plan made for other outlines has faults here; it
/// is never mended silently.
pub fn on_cloth(
    project: &Project,
    finished: &Finished,
    worn: &[WornIn],
) -> (OnCloth, Vec<Finding>) {
    let fitting = &finished.filled.adapted.fitting;
    let plan = fitting.lay_plan.as_ref();
    // Without cloth nobody lays anything: then nothing is pieced, and what is to be laid is not talked about.
    let no_cloth = project.offcuts.is_empty() && plan.is_none();
    let to_lay = if no_cloth {
        laying::to_lay_whole(finished, project.unit)
    } else {
        let hidden = worn.iter().map(|w| layers::hidden(&w.together, w.place));
        let hidden: Vec<Hidden> = hidden.collect();
        laying::to_lay(finished, &Hidden::in_all(&hidden), project.unit)
    };
    let offcuts = cloth_left(project, &fitting.name);
    let faults = plan.map_or_else(Vec::new, |plan| check_plan(&to_lay.outcome, &offcuts, plan));
    let mut findings = if no_cloth {
        Vec::new()
    } else {
        to_lay.findings
    };
    let on_table = project.offcuts.iter().map(|offcut| &**offcut);
    findings.extend(laying::thickness_told(fitting, on_table, project.unit));
    findings.extend(
        faults
            .iter()
            .map(|fault| fault.finding(&fitting.name, project.unit)),
    );
    let on_cloth = OnCloth {
        to_lay: Arc::new(to_lay.outcome),
        offcuts,
        faults,
    };
    (on_cloth, findings)
}

/// Names of the cloths that an offcut can be of: those of the fittings and of the other offcuts.
pub fn cloth_names(project: &Project) -> Vec<String> {
    let of_fittings = project
        .fittings
        .iter()
        .flat_map(|fitting| fitting.cloths.values())
        .map(|cloth: &Cloth| cloth.name.clone());
    let of_offcuts = project.offcuts.iter().map(|offcut| offcut.cloth.clone());
    let mut names: Vec<String> = of_fittings.chain(of_offcuts).collect();
    names.retain(|name| !name.trim().is_empty());
    names.sort();
    names.dedup();
    names
}
