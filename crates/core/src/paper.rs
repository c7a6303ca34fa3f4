//! Paper settings of a fitting.

use serde::{Deserialize, Serialize};

use crate::units::Mm;

/// How pages are made.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PaperSettings {
    /// Size of a sheet.
    pub size: PaperSize,
    /// Which way round it lies.
    pub turn: PaperTurn,
    /// The edge that a home printer leaves blank.
    ///
    /// Default: 10 mm (common practice; drivers say 4.2 to 8.5 mm, see fact sheet F).
    pub margin: Mm,
    /// Strip that neighbouring pages share.
    ///
    /// Default: 10 mm (common practice, no source).
    pub overlap: Mm,
    /// What 100 mm measured on the maker's print, across the feed. 100 means exact.
    pub measured_across: Mm,
    /// What 100 mm measured on the maker's print, along the feed.
    pub measured_along: Mm,
}

/// Size of a sheet of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum PaperSize {
    /// 210 x 297 mm (ISO 216).
    #[default]
    A4,
    /// 8 1/2 x 11 in (ANSI/ASME Y14.1).
    Letter,
}

/// Which way round a sheet lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum PaperTurn {
    /// Upright.
    #[default]
    Portrait,
    /// On its side.
    Landscape,
}

impl PaperSize {
    /// Width and height, upright, mm.
    pub fn mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }
}

impl Default for PaperSettings {
    fn default() -> Self {
        Self {
            size: PaperSize::A4,
            turn: PaperTurn::Portrait,
            margin: Mm(10.0),
            overlap: Mm(10.0),
            measured_across: Mm(100.0),
            measured_along: Mm(100.0),
        }
    }
}
