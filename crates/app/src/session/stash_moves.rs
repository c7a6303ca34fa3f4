//! Cloth on its way between the project and the stash file.

use petitoile_core::project::Project;

/// Cloth that went to or from the stash since the project was saved last.
///
/// The stash is a file of its own, and undo does not reach into it. So cloth that is taken out stays in the file, and cloth
/// that is kept goes into it at once: it is never lost. When the project is saved it is settled: what the project then has on
/// the table leaves the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StashMove {
    /// The offcut of the project: while it is on the table, the file does not have this cloth.
    pub offcut: String,
    /// The same cloth in the file.
    pub in_file: Vec<String>,
    /// Is it what was left of the offcut, and not the offcut itself?
    pub is_rest: bool,
}

impl StashMove {
    /// Has the project this cloth, so that the file must not have it? An offcut that something was cut from is the project's for
    /// good, also once it is used up.
    pub fn is_with(&self, project: &Project) -> bool {
        let mut placed = project
            .fittings
            .iter()
            .flat_map(|fitting| &fitting.lay_plan)
            .flat_map(|plan| &plan.placed);
        let was_cut = !self.is_rest
            && placed.any(|placed| placed.offcut == self.offcut && placed.as_cut.is_some());
        was_cut || project.offcut(&self.offcut).is_some()
    }
}
