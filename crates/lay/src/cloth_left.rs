//! What is left of the offcuts of a project for one fitting: other fittings cut from them, too.

use std::sync::Arc;

use petitoile_core::cloth::{Blemish, GoodFor, Offcut};
use petitoile_core::project::Project;

/// The offcuts of a project as they are there for this fitting: what is marked as cut for other fittings is a hole.
///
/// What is marked as cut for the fitting itself is in its own plan.
pub fn cloth_left(project: &Project, fitting: &str) -> Vec<Arc<Offcut>> {
    project
        .offcuts
        .iter()
        .map(|offcut| {
            let gone = gone_from(project, fitting, &offcut.name);
            if gone.is_empty() {
                return Arc::clone(offcut);
            }
            let mut left = Offcut::clone(offcut);
            left.blemishes.extend(gone);
            Arc::new(left)
        })
        .collect()
}

fn gone_from(project: &Project, fitting: &str, offcut: &str) -> Vec<Blemish> {
    project
        .fittings
        .iter()
        .filter(|other| other.name != fitting)
        .flat_map(|other| other.lay_plan.iter().flat_map(|plan| &plan.placed))
        .filter(|placed| placed.offcut == offcut)
        .filter_map(|placed| placed.as_cut.clone())
        .map(|outline| Blemish {
            outline,
            is_hole: true,
            good_for: GoodFor::Inside,
        })
        .collect()
}
