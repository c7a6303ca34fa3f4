//! Is there a screen to open a window on?

/// On Linux and the BSDs: `DISPLAY` or `WAYLAND_DISPLAY` is set. macOS and Windows always have a desktop.
///
/// A set variable does not prove that a screen answers; opening the window does.
pub fn is_there() -> bool {
    if cfg!(any(target_os = "macos", windows)) {
        return true;
    }
    ["DISPLAY", "WAYLAND_DISPLAY"]
        .iter()
        .any(|name| std::env::var_os(name).is_some_and(|value| !value.is_empty()))
}
