//! What is left of an offcut, once the cut pieces are gone from it.

use petitoile_core::cloth::Cloth;
use petitoile_core::laying::{Rests, USEFUL, rests};
use petitoile_core::project::Project;

/// What is left of this offcut when everything that any fitting marked as cut is gone from it.
///
/// # Errors
/// When there is no such offcut, or nothing has been cut from it.
pub fn rests_of(project: &Project, name: &str) -> Result<Rests, String> {
    let offcut = project
        .offcut(name)
        .ok_or_else(|| format!("there is no offcut called {name}"))?;
    let cut: Vec<_> = project
        .fittings
        .iter()
        .flat_map(|fitting| fitting.lay_plan.iter().flat_map(|plan| &plan.placed))
        .filter(|placed| placed.offcut == name)
        .filter_map(|placed| placed.as_cut.clone())
        .collect();
    if cut.is_empty() {
        return Err(format!("nothing on {name} is marked as cut yet"));
    }
    let taken: Vec<&str> = project
        .offcuts
        .iter()
        .map(|offcut| offcut.name.as_str())
        .collect();
    Ok(rests(offcut, &cut, USEFUL, &taken))
}

/// What the project knows about the cloth of this name.
pub fn cloth_named(project: &Project, name: &str) -> Option<Cloth> {
    project
        .fittings
        .iter()
        .flat_map(|fitting| fitting.cloths.values())
        .find(|cloth| cloth.name == name)
        .cloned()
}
