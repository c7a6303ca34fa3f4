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
    /// The edge that a home printer leaves blank, [`MARGINS`].
    ///
    /// Default: 10 mm (common practice; drivers say 4.2 to 8.5 mm, see fact sheet F).
    pub margin: Mm,
    /// Strip that neighbouring pages share, [`OVERLAPS`].
    ///
    /// Default: 10 mm (common practice, no source).
    pub overlap: Mm,
    /// What 100 mm measured on the maker's print, across the feed, [`MEASURED`]. 100 means exact.
    pub measured_across: Mm,
    /// What 100 mm measured on the maker's print, along the feed, [`MEASURED`].
    pub measured_along: Mm,
}

/// Least and largest margin. Our own choice: less is lost on most home printers, more leaves no room.
pub const MARGINS: (Mm, Mm) = (Mm(3.0), Mm(30.0));

/// Least and largest overlap. Our own choice: the join marks stand in it and need 6 mm.
pub const OVERLAPS: (Mm, Mm) = (Mm(6.0), Mm(40.0));

/// Least and largest measure of 100 mm that is believed. Prints of 90.6 to 96 mm were read of (fact sheet F, "fit to
/// page"); farther off, the maker measured something else.
pub const MEASURED: (Mm, Mm) = (Mm(85.0), Mm(115.0));

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

impl PaperSettings {
    /// Width and height of a page as it is read, mm.
    pub fn page(&self) -> (f64, f64) {
        let (short, long) = self.size.mm();
        match self.turn {
            PaperTurn::Portrait => (short, long),
            PaperTurn::Landscape => (long, short),
        }
    }

    /// By how much a drawing is enlarged so that it prints true, to the right and up the page as it is read.
    ///
    /// A sheet on its side still goes through the printer lengthwise: then "along the feed" is to the right.
    ///
    /// # Example
    /// ```
    /// use petitoile_core::{Mm, paper::PaperSettings};
    /// let paper = PaperSettings { measured_across: Mm(98.5), ..PaperSettings::default() };
    /// let (right, up) = paper.correction();
    /// assert!((right * 98.5 - 100.0).abs() < 1e-9);
    /// assert_eq!(up, 1.0);
    /// ```
    pub fn correction(&self) -> (f64, f64) {
        let across = 100.0 / within(self.measured_across, MEASURED, 100.0);
        let along = 100.0 / within(self.measured_along, MEASURED, 100.0);
        match self.turn {
            PaperTurn::Portrait => (across, along),
            PaperTurn::Landscape => (along, across),
        }
    }

    /// The same with every size inside its limits; what is not a number gets its default.
    #[must_use]
    pub fn clamped(&self) -> Self {
        let usual = Self::default();
        Self {
            margin: Mm(within(self.margin, MARGINS, usual.margin.0)),
            overlap: Mm(within(self.overlap, OVERLAPS, usual.overlap.0)),
            measured_across: Mm(within(self.measured_across, MEASURED, 100.0)),
            measured_along: Mm(within(self.measured_along, MEASURED, 100.0)),
            ..self.clone()
        }
    }

    /// The first size that is outside its limits: its name, the size, least and largest.
    pub fn out_of_limits(&self) -> Option<(&'static str, Mm, Mm, Mm)> {
        [
            ("the page margin", self.margin, MARGINS),
            ("the overlap of pages", self.overlap, OVERLAPS),
            (
                "what 100 mm measured across the print",
                self.measured_across,
                MEASURED,
            ),
            (
                "what 100 mm measured along the print",
                self.measured_along,
                MEASURED,
            ),
        ]
        .into_iter()
        .find(|(_, size, (least, most))| !(least.0..=most.0).contains(&size.0))
        .map(|(name, size, (least, most))| (name, size, least, most))
    }
}

fn within(size: Mm, (least, most): (Mm, Mm), usual: f64) -> f64 {
    if size.0.is_finite() {
        size.0.clamp(least.0, most.0)
    } else {
        usual
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_print_that_came_out_small_is_enlarged() {
        let paper = PaperSettings {
            measured_across: Mm(98.5),
            measured_along: Mm(101.0),
            ..PaperSettings::default()
        };
        let (right, up) = paper.correction();
        assert!((right * 98.5 - 100.0).abs() < 1e-12 && (up * 101.0 - 100.0).abs() < 1e-12);
        let (right, up) = PaperSettings {
            turn: PaperTurn::Landscape,
            ..paper
        }
        .correction();
        assert!((right * 101.0 - 100.0).abs() < 1e-12 && (up * 98.5 - 100.0).abs() < 1e-12);
    }

    #[test]
    fn sizes_outside_their_limits_are_named_and_held_back() {
        let paper = PaperSettings {
            overlap: Mm(0.0),
            measured_along: Mm(f64::NAN),
            ..PaperSettings::default()
        };
        assert_eq!(
            paper.out_of_limits(),
            Some(("the overlap of pages", Mm(0.0), Mm(6.0), Mm(40.0)))
        );
        assert_eq!(
            paper.clamped(),
            PaperSettings {
                overlap: Mm(6.0),
                ..PaperSettings::default()
            }
        );
        assert_eq!(PaperSettings::default().out_of_limits(), None);
        let wild = PaperSettings {
            measured_across: Mm(3.0),
            ..PaperSettings::default()
        };
        assert!(
            wild.correction().0 < 1.2,
            "a slip of the finger does not blow the pages up"
        );
    }
}
