//! How an opening is closed, and how much one side laps over the other for it.
//!
//! Lengths in mm. What passes an opening is reckoned in [`crate::dressing`].

use serde::{Deserialize, Serialize};

use crate::units::Mm;

/// What closes an opening.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Closure {
    /// A hook and a worked bar or eye: edges meet.
    Hooks,
    /// Snaps (press fasteners) of this diameter.
    Snaps {
        /// Diameter of one snap.
        diameter: Mm,
    },
    /// Buttons through buttonholes.
    Buttons {
        /// Diameter of one button.
        diameter: Mm,
    },
    /// Buttons for show over snaps: worked holes would be too small.
    ButtonsOverSnaps {
        /// Diameter of one button.
        diameter: Mm,
    },
    /// Hook-and-loop tape.
    HookAndLoop {
        /// Width of the tape.
        width: Mm,
    },
    /// Lacing through eyelets: the edges need not meet.
    Lacing {
        /// Gap left between the edges.
        gap: Mm,
    },
    /// Ties or ribbons.
    Ties,
    /// A string drawn through a casing.
    Drawstring,
    /// Elastic in a casing.
    Elastic {
        /// Its girth at rest, sewn into a ring.
        relaxed: Mm,
        /// Its girth pulled out as far as it goes.
        stretched: Mm,
    },
    /// Sewn shut on the body.
    SewnShut,
}

impl Closure {
    /// What it is called in the trade: "hooks", "snaps".
    pub fn noun(self) -> &'static str {
        match self {
            Self::Hooks => "hooks",
            Self::Snaps { .. } => "snaps",
            Self::Buttons { .. } => "buttons",
            Self::ButtonsOverSnaps { .. } => "buttons over snaps",
            Self::HookAndLoop { .. } => "hook-and-loop tape",
            Self::Lacing { .. } => "lacing",
            Self::Ties => "ties",
            Self::Drawstring => "drawstring",
            Self::Elastic { .. } => "elastic",
            Self::SewnShut => "sewn shut",
        }
    }

    /// The lengths it is made with, each with its name.
    pub fn sizes(self) -> Vec<(&'static str, Mm)> {
        match self {
            Self::Snaps { diameter }
            | Self::Buttons { diameter }
            | Self::ButtonsOverSnaps { diameter } => vec![("diameter", diameter)],
            Self::HookAndLoop { width } => vec![("width", width)],
            Self::Lacing { gap } => vec![("gap", gap)],
            Self::Elastic { relaxed, stretched } => {
                vec![("relaxed", relaxed), ("stretched", stretched)]
            }
            Self::Hooks | Self::Ties | Self::Drawstring | Self::SewnShut => Vec::new(),
        }
    }
}
