//! Rows of running stitch that draw an edge in: where they run, how long their stitches are, and both in words.
//!
//! Lengths in mm. Places of rows are common practice, no source, unless the maker says where they run.

use super::{FoldedEdge, Fullness, FullnessOp};
use crate::units::{LengthUnit, Mm};

/// More rows than this are not drawn.
const MOST_ROWS: u32 = 200;

/// Rows that are told as so far apart, not one by one.
const TOLD_TOGETHER: usize = 3;

/// The rows of a fullness.
#[derive(Debug, Clone, PartialEq)]
pub struct Rows {
    /// How far each runs inside the piece from the stitch line; below 0 in the allowance.
    pub inside: Vec<Mm>,
    /// How long each stitch is, where it matters: a loop of a cartridge pleat is one stitch deep.
    pub stitch: Option<Mm>,
}

impl Rows {
    /// The rows of a fullness with these folds, on an edge with this allowance.
    pub fn of(op: &FullnessOp, folded: &FoldedEdge, allowance: Mm) -> Self {
        let stitch = match op.fullness {
            Fullness::CartridgePleats { .. } => folded.pleats.first().map(|loop_| loop_.depth),
            _ => None,
        };
        Self {
            inside: inside(op, allowance),
            stitch,
        }
    }

    /// "2 rows of running stitch, 2 mm and 4 mm outside the stitch line"; `None` where nothing is stitched.
    pub fn words(&self, unit: LengthUnit) -> Option<String> {
        let first = self.inside.first()?;
        let count = self.inside.len();
        let rows = if count == 1 { "row" } else { "rows" };
        let mut words = format!("{count} {rows} of running stitch");
        match self.apart().filter(|_| count >= TOLD_TOGETHER) {
            Some(apart) => words.push_str(&format!(
                " {} apart, the first {}",
                unit.show_chosen(apart),
                at(*first, unit)
            )),
            None => {
                let places: Vec<String> = self.inside.iter().map(|row| at(*row, unit)).collect();
                words.push_str(&format!(", {}", places.join(" and ")));
            }
        }
        if let Some(stitch) = self.stitch {
            words.push_str(&format!(
                ", every stitch {} long, one above the other",
                unit.show_computed(stitch)
            ));
        }
        Some(words)
    }

    /// How far apart they run, when all are as far.
    fn apart(&self) -> Option<Mm> {
        const SAME: f64 = 1e-6;
        let (first, second) = (self.inside.first()?, self.inside.get(1)?);
        let apart = (second.0 - first.0).abs();
        let is_even = self
            .inside
            .windows(2)
            .all(|pair| matches!(pair, [a, b] if ((b.0 - a.0).abs() - apart).abs() < SAME));
        is_even.then_some(Mm(apart))
    }
}

/// Where one row runs.
fn at(inside: Mm, unit: LengthUnit) -> String {
    const ON: f64 = 1e-6;
    let far = unit.show_chosen(Mm(inside.0.abs()));
    if inside.0.abs() < ON {
        "on the stitch line".to_owned()
    } else if inside.0 < 0.0 {
        format!("{far} outside the stitch line")
    } else {
        format!("{far} inside the stitch line")
    }
}

/// Distances of gathering rows from the stitch line into the piece.
fn inside(op: &FullnessOp, allowance: Mm) -> Vec<Mm> {
    // Two rows within the allowance, a third and two thirds of it outside the stitch line.
    let in_allowance = || {
        [1.0, 2.0]
            .map(|thirds| Mm(-thirds * allowance.0 / 3.0))
            .to_vec()
    };
    match op.fullness {
        _ if !op.layout.rows.is_empty() && op.fullness.depth().is_none() => op.layout.rows.clone(),
        Fullness::Gathers { .. } => in_allowance(),
        Fullness::Shirring { rows, apart, .. } => (0..rows.min(MOST_ROWS))
            .map(|i| Mm(f64::from(i) * apart.0))
            .collect(),
        // One row on either side of the stitch line.
        Fullness::CartridgePleats { .. } => {
            vec![Mm(-allowance.0 / 3.0), Mm(allowance.0 / 3.0)]
        }
        _ => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(fullness: Fullness, rows: &[f64], unit: LengthUnit) -> Option<String> {
        let mut op = FullnessOp::new("waist", fullness);
        op.layout.rows = rows.iter().copied().map(Mm).collect();
        let folded = op.folded(Mm(120.0));
        Rows::of(&op, &folded, Mm(6.0)).words(unit)
    }

    #[test]
    fn every_kind_that_is_drawn_in_says_its_own_rows() {
        let mm = LengthUnit::Millimetre;
        let gathers = Fullness::Gathers { ratio: 2.0 };
        insta::assert_snapshot!(told(gathers, &[], mm).unwrap_or_default(), @"2 rows of running stitch, 2 mm outside the stitch line and 4 mm outside the stitch line");
        insta::assert_snapshot!(told(gathers, &[0.0], mm).unwrap_or_default(), @"1 row of running stitch, on the stitch line");
        let shirring = Fullness::Shirring {
            ratio: 2.0,
            rows: 4,
            apart: Mm(6.35),
        };
        insta::assert_snapshot!(told(shirring, &[], LengthUnit::Inch).unwrap_or_default(), @"4 rows of running stitch 1/4 in apart, the first on the stitch line");
        // 480 mm in 40 loops: 12 mm of cloth to a loop, 6 mm deep, one stitch long.
        let cartridge = Fullness::CartridgePleats {
            count: 40,
            ratio: 4.0,
        };
        insta::assert_snapshot!(told(cartridge, &[], mm).unwrap_or_default(), @"2 rows of running stitch, 2 mm outside the stitch line and 2 mm inside the stitch line, every stitch 6 mm long, one above the other");
        let ease = Fullness::Ease { by: Mm(3.0) };
        assert_eq!(told(ease, &[], mm), None, "ease needs no row");
        let knife = Fullness::KnifePleats {
            count: 4,
            depth: Mm(5.0),
        };
        assert_eq!(told(knife, &[2.0], mm), None, "pleats are not drawn in");
    }
}
