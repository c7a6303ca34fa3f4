//! Rulers along the table in the chosen unit: which marks, and what they say. Pure functions.

use petitoile_core::LengthUnit;
use petitoile_core::units::MM_PER_INCH;

/// Width of a ruler, screen points.
pub const WIDTH: f32 = 20.0;

/// The table without its rulers.
pub fn canvas(whole: egui::Rect) -> egui::Rect {
    egui::Rect::from_min_max(whole.min + egui::vec2(WIDTH, WIDTH), whole.max)
}

/// Marks of a ruler.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Steps {
    /// From number to number, mm.
    pub numbered: f64,
    /// How many small marks to each number.
    pub small: u32,
    /// Millimetres in one of what the numbers count.
    pub counts: f64,
}

/// The finest marks whose numbers stand at least `room` screen points apart.
pub fn steps(unit: LengthUnit, scale: f64, room: f64) -> Steps {
    let (counts, choices): (f64, &[(f64, u32)]) = match unit {
        LengthUnit::Millimetre => (1.0, &METRIC),
        LengthUnit::Centimetre => (10.0, &METRIC),
        LengthUnit::Inch => (MM_PER_INCH, &INCHES),
    };
    let base = if unit == LengthUnit::Inch {
        MM_PER_INCH
    } else {
        1.0
    };
    let fits = choices
        .iter()
        .find(|(step, _)| step * base * scale >= room)
        .or(choices.last());
    let (step, small) = fits.copied().unwrap_or((1.0, 1));
    Steps {
        numbered: step * base,
        small,
        counts,
    }
}

const METRIC: [(f64, u32); 10] = [
    (1.0, 2),
    (2.0, 2),
    (5.0, 5),
    (10.0, 10),
    (20.0, 4),
    (50.0, 5),
    (100.0, 10),
    (200.0, 4),
    (500.0, 5),
    (1000.0, 10),
];
const INCHES: [(f64, u32); 8] = [
    (0.25, 4),
    (0.5, 4),
    (1.0, 8),
    (2.0, 4),
    (5.0, 5),
    (10.0, 10),
    (20.0, 4),
    (40.0, 4),
];

/// What stands at a mark, `mm` away from the start of the ruler.
pub fn number(mm: f64, steps: Steps) -> String {
    let value = mm / steps.counts;
    let nearest = value.round();
    if (value - nearest).abs() < 1e-6 {
        return format!("{nearest:.0}");
    }
    if (steps.counts - MM_PER_INCH).abs() < 1e-9 {
        let (whole, part) = (value.abs().floor(), value.abs().fract());
        let fraction = if part < 0.3 {
            "\u{bc}"
        } else if part < 0.6 {
            "\u{bd}"
        } else {
            "\u{be}"
        };
        let sign = if value < 0.0 { "\u{2212}" } else { "" };
        return if whole == 0.0 {
            format!("{sign}{fraction}")
        } else {
            format!("{sign}{whole:.0}{fraction}")
        };
    }
    format!("{value:.1}")
}

/// Every mark between two places: where it is, and whether it has a number.
pub fn marks(from: f64, to: f64, steps: Steps) -> Vec<(f64, bool)> {
    let small = steps.numbered / f64::from(steps.small);
    let first = (from / small).ceil();
    let count = (((to - from) / small).floor().max(0.0) as usize).min(2000);
    (0..=count)
        .map(|i| first + i as f64)
        .filter(|k| k * small <= to)
        .map(|k| {
            (
                k * small,
                (k.rem_euclid(f64::from(steps.small))).abs() < 0.5,
            )
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_stand_apart_at_every_zoom() {
        for unit in [
            LengthUnit::Millimetre,
            LengthUnit::Centimetre,
            LengthUnit::Inch,
        ] {
            for scale in [0.06, 0.3, 1.0, 4.0, 20.0, 70.0] {
                assert!(
                    steps(unit, scale, 50.0).numbered * scale >= 50.0,
                    "{unit:?} {scale}"
                );
            }
        }
    }

    #[test]
    fn a_ruler_in_inches_counts_inches() {
        let steps = steps(LengthUnit::Inch, 3.0, 50.0);
        assert_eq!(number(50.8, steps), "2");
        assert_eq!(number(63.5, steps), "2\u{bd}");
        assert_eq!(number(6.35, steps), "\u{bc}");
    }

    #[test]
    fn every_tenth_millimetre_carries_a_number() {
        let marks = marks(
            -5.0,
            25.0,
            Steps {
                numbered: 10.0,
                small: 10,
                counts: 1.0,
            },
        );
        let numbered: Vec<f64> = marks
            .iter()
            .filter(|(_, n)| *n)
            .map(|(at, _)| *at)
            .collect();
        assert_eq!(numbered, [0.0, 10.0, 20.0]);
        assert_eq!(marks.len(), 31);
    }
}
