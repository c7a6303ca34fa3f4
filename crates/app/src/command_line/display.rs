//! Is there a screen to open a window on? And the window, if there is.

use std::path::PathBuf;

use petitoile_core::project::Project;

use super::out;
use crate::window;

/// Shows a project in the window, or says in one line why not and what to do instead. Either is fine: nothing is
/// wrong with what was asked for.
pub fn show(project: Project, file: Option<PathBuf>, instead: &str) {
    if !is_there() {
        out::complain(&format!(
            "no display here, so no window is opened; {instead}"
        ));
        return;
    }
    if let Err(why) = window::open(project, file) {
        out::complain(&format!(
            "the window could not be opened ({why}); {instead}"
        ));
    }
}

/// On Linux and the BSDs: `DISPLAY` or `WAYLAND_DISPLAY` is set. macOS and Windows always have a desktop.
///
/// A set variable does not prove that a screen answers; opening the window does.
fn is_there() -> bool {
    if cfg!(any(target_os = "macos", windows)) {
        return true;
    }
    ["DISPLAY", "WAYLAND_DISPLAY"]
        .iter()
        .any(|name| std::env::var_os(name).is_some_and(|value| !value.is_empty()))
}
