//! The window.

use std::path::PathBuf;
use petitoile_core::project::Project;

/// Opens the window on a project and blocks until it is closed.
///
/// # Errors
/// One line when no window can be opened (no display, no OpenGL).
pub fn open(project: Project, file: Option<PathBuf>) -> Result<(), String> {
    let _ = (project, file);
    Ok(())
}
