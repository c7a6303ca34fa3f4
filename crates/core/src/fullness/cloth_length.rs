//! The arithmetic of fullness: cloth length of a finished length, and back.
//!
//! Lengths in mm. No outline here; see `spread`.
//!
//! Sources of the rules: a state dressmaking handbook (CITS Dress Making, Trade Practical vol. 2, Exercise 48,
//! p. 187-194) for pleats and tucks; "The New Dressmaker" (1921) for gathers. Each is checked by its worked examples.

use crate::fullness::Fullness;
use crate::units::Mm;

/// Why a fullness cannot be sewn.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FullnessError {
    /// Gathers that would need less cloth than they cover.
    #[error("gathers of {0:.2} times the finished length need 1 or more")]
    Ratio(f64),
    /// Ease that would shorten the cloth.
    #[error("ease of {0:.2} mm cannot be taken in; it must be 0 or more")]
    Ease(f64),
    /// A pleat or tuck without a depth.
    #[error("a depth of {0:.2} mm cannot be folded; it must be above 0")]
    Depth(f64),
    /// Not even one.
    #[error("no pleat or tuck is asked for; at least one is needed")]
    None,
}

impl Fullness {
    /// Checks that it can be folded or gathered at all.
    ///
    /// # Errors
    /// [`FullnessError`] for a ratio below 1, a depth that is not above 0, or a count of 0.
    pub fn checked(&self) -> Result<Self, FullnessError> {
        let (count, depth) = match *self {
            Self::Gathers { ratio }
            | Self::Shirring { ratio, .. }
            | Self::CartridgePleats { ratio, .. }
                if !(ratio.is_finite() && ratio >= 1.0) =>
            {
                return Err(FullnessError::Ratio(ratio));
            }
            Self::Gathers { .. } => return Ok(*self),
            Self::Shirring { rows, apart, .. } => (rows, apart),
            Self::CartridgePleats { count, ratio } => (count, Mm(ratio)),
            Self::Ease { by } if by.0.is_finite() && by.0 >= 0.0 => return Ok(*self),
            Self::Ease { by } => return Err(FullnessError::Ease(by.0)),
            Self::KnifePleats { count, depth }
            | Self::BoxPleats { count, depth, .. }
            | Self::DoubleBoxPleats { count, depth, .. } => (count, depth),
            Self::Tucks { count, width } => (count, width),
        };
        if !(depth.0.is_finite() && depth.0 > 0.0) {
            return Err(FullnessError::Depth(depth.0));
        }
        if count == 0 {
            Err(FullnessError::None)
        } else {
            Ok(*self)
        }
    }

    /// Length of cloth that is drawn in to this finished length.
    ///
    /// # Source
    /// Knife pleats `section + 2 depth n`, box and inverted pleats `section + 4 depth n`, tucks `width + 2 tuck n`
    /// (handbook named in the header, p. 188-194); gathers `edge x ratio`.
    ///
    /// # Example
    /// ```
    /// # use petitoile_core::{Mm, fullness::Fullness};
    /// let pleats = Fullness::KnifePleats { count: 18, depth: Mm(40.0) };
    /// assert_eq!(pleats.cloth_length(Mm(920.0)), Mm(2360.0));
    /// ```
    pub fn cloth_length(&self, finished: Mm) -> Mm {
        match *self {
            Self::Gathers { ratio }
            | Self::Shirring { ratio, .. }
            | Self::CartridgePleats { ratio, .. } => Mm(finished.0 * ratio),
            _ => finished + self.in_folds(),
        }
    }

    /// Finished length that this length of cloth is drawn in to. Below 0 when there is not cloth enough.
    pub fn finished_length(&self, cloth: Mm) -> Mm {
        match *self {
            Self::Gathers { ratio }
            | Self::Shirring { ratio, .. }
            | Self::CartridgePleats { ratio, .. } => Mm(cloth.0 / ratio),
            _ => cloth - self.in_folds(),
        }
    }

    /// Length of cloth that is taken up over this finished length.
    pub fn taken_up(&self, finished: Mm) -> Mm {
        self.cloth_length(finished) - finished
    }

    /// Cloth that lies in all folds together; 0 for what is drawn in, whose share depends on the length.
    fn in_folds(&self) -> Mm {
        match *self {
            Self::Gathers { .. } | Self::Shirring { .. } | Self::CartridgePleats { .. } => Mm(0.0),
            Self::Ease { by } => by,
            Self::DoubleBoxPleats { count, depth, .. } => Mm(8.0 * f64::from(count) * depth.0),
            Self::KnifePleats { count, depth } => Mm(2.0 * f64::from(count) * depth.0),
            Self::BoxPleats { count, depth, .. } => Mm(4.0 * f64::from(count) * depth.0),
            Self::Tucks { count, width } => Mm(2.0 * f64::from(count) * width.0),
        }
    }
}

/// How many pleats of about this width fill a section, and the exact width that then fills it.
///
/// `n = round(section / width)`, width = section / n; never fewer than one.
///
/// # Source
/// The handbook named in the header, p. 188: section 920, width 50 gives 18 pleats of 51.1 mm.
pub fn pleats_in(section: Mm, about: Mm) -> (u32, Mm) {
    let count = whole((section.0 / about.0).round());
    (count, Mm(section.0 / f64::from(count)))
}

/// Knife pleats of this width and depth that a given length of cloth yields, and the section they fill.
///
/// # Source
/// The same page: cloth 1445, width 35, depth 25 gives 17 pleats on 595 mm.
pub fn pleats_from(cloth: Mm, width: Mm, depth: Mm) -> (u32, Mm) {
    let count = whole((cloth.0 / (width.0 + 2.0 * depth.0) + 1e-9).floor());
    (
        count,
        Fullness::KnifePleats { count, depth }.finished_length(cloth),
    )
}

/// How many tucks fill a width between two plain margins, and the exact pitch (from tuck to tuck).
///
/// `gaps = ceil((width - 2 margin) / pitch)`, tucks = gaps + 1.
///
/// # Source
/// The handbook named in the header, p. 194: width 390, margin 15, pitch 12 gives 31 tucks; width 280, margin 20,
/// gap 15 and tuck 2 (pitch 17) gives 16 tucks at a pitch of 16 mm.
pub fn tucks_in(width: Mm, margin: Mm, pitch: Mm) -> (u32, Mm) {
    let room = width.0 - 2.0 * margin.0;
    let gaps = whole((room / pitch.0 - 1e-9).ceil());
    (gaps + 1, Mm(room / f64::from(gaps)))
}

/// How many widths of cloth make a strip this long, when each loses an allowance at its joins.
///
/// # Source
/// The handbook named in the header, p. 188: 2360 mm from cloth 900 mm wide, 20 mm lost on each: 3 strips.
pub fn strips_for(cloth_length: Mm, cloth_width: Mm, lost_per_strip: Mm) -> u32 {
    whole((cloth_length.0 / (cloth_width.0 - lost_per_strip.0) - 1e-9).ceil())
}

/// A count from a float: at least 1, never a wrap.
fn whole(value: f64) -> u32 {
    if value.is_finite() && value >= 1.0 {
        value.min(f64::from(u32::MAX)) as u32
    } else {
        1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NIMI: &str = "CITS Dress Making Trade Practical vol. 2, Exercise 48, p. 187-194";

    fn knife(count: u32, depth: f64) -> Fullness {
        Fullness::KnifePleats {
            count,
            depth: Mm(depth),
        }
    }

    fn check(row: &str, fullness: Fullness, finished: f64, cloth: f64, source: &str) {
        let got = fullness.cloth_length(Mm(finished));
        assert!(
            (got.0 - cloth).abs() < 1e-9,
            "{row}: cloth {got:?}, {source} says {cloth}"
        );
        let back = fullness.finished_length(Mm(cloth));
        assert!(
            (back.0 - finished).abs() < 1e-9,
            "{row}: back to {back:?}, {source} starts from {finished}"
        );
    }

    /// Rows P01 to P12 of the table of examples: section, width asked for (or the count given), depth; count, cloth.
    #[test]
    fn knife_pleats_take_the_cloth_that_the_handbook_prints() {
        let rows = [
            ("P01", 920.0, 50.0, 40.0, 18, 2360.0),
            ("P02, full", 500.0, 25.0, 25.0, 20, 1500.0),
            ("P05a", 800.0, 40.0, 30.0, 20, 2000.0),
            ("P05b", 620.0, 620.0 / 12.0, 42.0, 12, 1628.0),
            ("P05c", 480.0, 40.0, 40.0, 12, 1440.0),
            ("P06a", 1680.0, 30.0, 30.0, 56, 5040.0),
            ("P06b", 2600.0, 50.0, 45.0, 52, 7280.0),
            ("P06c", 1440.0, 30.0, 35.0, 48, 4800.0),
            ("P06d", 1722.0, 40.0, 42.0, 43, 5334.0),
            ("P06e", 1240.0, 40.0, 25.0, 31, 2790.0),
            ("P08, full", 155.0, 31.0, 31.0, 5, 465.0),
            ("P10", 560.0, 70.0, 40.0, 8, 1200.0),
            ("P11, full", 950.0, 50.0, 50.0, 19, 2850.0),
        ];
        for (row, section, width, depth, count, cloth) in rows {
            assert_eq!(pleats_in(Mm(section), Mm(width)).0, count, "{row}, {NIMI}");
            check(row, knife(count, depth), section, cloth, NIMI);
        }
        assert!(
            (pleats_in(Mm(920.0), Mm(50.0)).1.0 - 51.11).abs() < 0.005,
            "P01: the book rounds to 5.1 cm"
        );
        assert!(
            (pleats_in(Mm(620.0), Mm(50.0)).1.0 - 51.667).abs() < 0.0005,
            "P05b"
        );
        assert_eq!(
            pleats_from(Mm(1445.0), Mm(35.0), Mm(25.0)),
            (17, Mm(595.0)),
            "P09, {NIMI}"
        );
        assert_eq!(
            knife(63, 30.0).cloth_length(Mm(1890.0)),
            Mm(5670.0),
            "P07, full: three times the section"
        );
    }

    #[test]
    fn meeting_plaits_need_three_times_the_length() {
        // P12: "School Needlework" (1890s), half-inch plaits marked every inch and a half. P14: quilling, three times.
        check(
            "P12",
            knife(1, 12.7),
            12.7,
            38.1,
            "School Needlework, chapter Plaiting",
        );
        check(
            "P14",
            knife(10, 10.0),
            100.0,
            300.0,
            "The New Dressmaker (1921), ch. 26, via a paraphrase",
        );
    }

    #[test]
    fn box_and_inverted_pleats_take_four_depths() {
        let pleat = |depth, inverted| Fullness::BoxPleats {
            count: 1,
            depth: Mm(depth),
            inverted,
        };
        check("P03, box", pleat(120.0, false), 600.0, 1080.0, NIMI);
        check("P04, inverted", pleat(65.0, true), 660.0, 920.0, NIMI);
        // P13: a box-pleated ruche takes "a little under" three times; touching pleats are its upper bound.
        let ruche = Fullness::BoxPleats {
            count: 5,
            depth: Mm(10.0),
            inverted: false,
        };
        check(
            "P13",
            ruche,
            100.0,
            300.0,
            "The New Dressmaker (1921), ch. 26, via a paraphrase",
        );
    }

    #[test]
    fn tucks_are_counted_and_cut_as_in_the_handbook() {
        assert_eq!(
            tucks_in(Mm(390.0), Mm(15.0), Mm(12.0)),
            (31, Mm(12.0)),
            "T01, {NIMI}"
        );
        assert_eq!(
            tucks_in(Mm(280.0), Mm(20.0), Mm(17.0)),
            (16, Mm(16.0)),
            "T02, {NIMI}"
        );
        assert_eq!(
            tucks_in(Mm(440.0), Mm(20.0), Mm(20.0)).0,
            21,
            "T03a, {NIMI}"
        );
        assert_eq!(
            tucks_in(Mm(240.0), Mm(15.0), Mm(15.0)).0,
            15,
            "T03b, {NIMI}"
        );
        check(
            "T02",
            Fullness::Tucks {
                count: 16,
                width: Mm(2.0),
            },
            280.0,
            344.0,
            NIMI,
        );
    }

    #[test]
    fn gathers_take_their_ratio() {
        check(
            "G01",
            Fullness::Gathers { ratio: 2.5 },
            381.0,
            952.5,
            "sewing teaching page S22: 15 in x 2.5",
        );
        check(
            "G02, chiffon",
            Fullness::Gathers { ratio: 3.0 },
            100.0,
            300.0,
            "The New Dressmaker (1921), ch. 28",
        );
        check(
            "G03, taffeta",
            Fullness::Gathers { ratio: 2.0 },
            100.0,
            200.0,
            "The New Dressmaker (1921), ch. 28",
        );
        check(
            "G04, low",
            Fullness::Gathers { ratio: 1.5 },
            1000.0,
            1500.0,
            "CITS Dress Making Trade Theory, p. 235",
        );
        check(
            "G04, high",
            Fullness::Gathers { ratio: 2.0 },
            1000.0,
            2000.0,
            "CITS Dress Making Trade Theory, p. 235",
        );
    }

    #[test]
    fn strips_are_joined_as_in_the_handbook() {
        let rows = [
            ("P01c", 2360.0, 900.0, 20.0, 3),
            ("P06a", 5040.0, 1050.0, 15.0, 5),
            ("P06b", 7280.0, 900.0, 20.0, 9),
            ("P06c", 4800.0, 1220.0, 30.0, 5),
            ("P06d", 5334.0, 1480.0, 25.0, 4),
            ("P06e", 2790.0, 1300.0, 20.0, 3),
            ("P07", 5670.0, 1140.0, 25.0, 6),
        ];
        for (row, cloth, width, lost, strips) in rows {
            assert_eq!(
                strips_for(Mm(cloth), Mm(width), Mm(lost)),
                strips,
                "{row}, {NIMI}"
            );
        }
    }

    #[test]
    fn fullness_that_cannot_be_folded_says_so() {
        let said = |f: Fullness| {
            f.checked()
                .map_or_else(|e| e.to_string(), |_| String::from("fine"))
        };
        insta::assert_snapshot!(said(Fullness::Gathers { ratio: 0.5 }), @"gathers of 0.50 times the finished length need 1 or more");
        insta::assert_snapshot!(said(knife(3, -2.0)), @"a depth of -2.00 mm cannot be folded; it must be above 0");
        insta::assert_snapshot!(said(knife(0, 2.0)), @"no pleat or tuck is asked for; at least one is needed");
        insta::assert_snapshot!(said(knife(3, 2.0)), @"fine");
    }
}
