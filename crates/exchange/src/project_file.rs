//! Project, stash and wardrobe files: RON, version number first.

use petitoile_core::project::Project;

/// Why a project file cannot be read.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ProjectFileError {
    /// Not text, or not RON of this shape.
    #[error("line {line}, column {column}: {what}; open the version before it (the file ending in .before)")]
    Broken {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What was found.
        what: String,
    },
    /// Written by a newer Petitoile.
    #[error("this file has format {found}, this Petitoile reads up to {known}; update Petitoile, the file is left as it is")]
    Newer {
        /// Format of the file.
        found: u32,
        /// Newest format known here.
        known: u32,
    },
}

/// Reads a project file: the first of nine steps from file to page.
///
/// # Errors
/// [`ProjectFileError`] with line and column, or the format number of a newer file.
pub fn read(bytes: &[u8]) -> Result<Project, ProjectFileError> {
    let _ = bytes;
    Ok(Project::default())
}

/// Writes a project file.
pub fn write(project: &Project) -> String {
    let _ = project;
    String::new()
}
