//! What the maker set for the window itself. Kept by the desktop between runs, never in a project.

use petitoile_core::snapping::Snapping;
use serde::{Deserialize, Serialize};

/// What the maker set for the window itself.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    /// Light or dark.
    pub look: Look,
    /// Size of everything in the window: 1 is plain, 2 is twice as large.
    pub scale: f32,
    /// How the source garment shows behind the adapted one.
    pub ghost: Ghost,
    /// Is the list of findings unfolded?
    pub findings_open: bool,
    /// What places on the table snap to.
    pub snapping: Snapping,
    /// How many points of the window at its plain size are 100 mm on this screen, once a ruler was held to it.
    pub points_on_100_mm: Option<f32>,
}

/// Light or dark.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Look {
    /// As the desktop says.
    #[default]
    Desktop,
    /// Light.
    Light,
    /// Dark.
    Dark,
}

/// How the source garment shows behind the adapted one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Ghost {
    /// Brought to the height of the target body, so that the change of shape shows.
    #[default]
    SameHeight,
    /// As large as it was drawn.
    TrueSize,
    /// Not at all.
    Hidden,
    /// In its place what fullness is drawn in to, behind the cloth: in the Folds tray.
    DrawnIn,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            look: Look::Desktop,
            scale: 1.0,
            ghost: Ghost::SameHeight,
            findings_open: true,
            snapping: Snapping::default(),
            points_on_100_mm: None,
        }
    }
}

impl Ghost {
    /// What the chalk line shows.
    pub fn words(self) -> Option<&'static str> {
        match self {
            Self::SameHeight => Some("source, at the same height"),
            Self::TrueSize => Some("source, true size"),
            Self::DrawnIn => Some("drawn in"),
            Self::Hidden => None,
        }
    }
}

impl Look {
    /// The same for egui.
    pub fn preference(self) -> egui::ThemePreference {
        match self {
            Self::Desktop => egui::ThemePreference::System,
            Self::Light => egui::ThemePreference::Light,
            Self::Dark => egui::ThemePreference::Dark,
        }
    }
}
