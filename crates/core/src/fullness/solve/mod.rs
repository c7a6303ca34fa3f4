//! The arithmetic asked for in any way: some lengths are given, the rest is computed.
//!
//! Lengths in mm. What cannot be folded gets no plain numbers: a reason, and the nearest that can.

mod drawn_in;
mod known;
mod limits;
mod pleats;
#[cfg(test)]
mod tests;

use super::layout::Layout;
use super::{FoldedEdge, Fullness, FullnessOp, Kind};
use crate::units::{LengthUnit, Mm};

/// What is asked for. Give any two or three; what is `None` is computed.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// What kind of fullness.
    pub kind: Kind,
    /// Length when folded, everything that is left plain included.
    pub finished: Option<Mm>,
    /// Length of the cloth.
    pub cloth: Option<Mm>,
    /// How many pleats, tucks or loops.
    pub count: Option<u32>,
    /// Width that shows of each: from fold to fold (knife, inverted, cartridge), the top (box), the tuck itself.
    pub visible: Option<Mm>,
    /// Depth of the folds.
    pub depth: Option<Depth>,
    /// From pleat to pleat on the finished edge.
    pub spacing: Option<Mm>,
    /// From mark to mark on the cloth.
    pub marks: Option<Mm>,
    /// Cloth length / finished length.
    pub ratio: Option<f64>,
    /// What happens to a length that is no whole number of spacings.
    pub leftover: Leftover,
    /// Rows of shirring.
    ///
    /// Default: 3 (common practice, no source)
    pub rows: u32,
    /// From row to row.
    ///
    /// Default: 6 mm (second row 6 to 10 mm below the first: The New Dressmaker 1921, via a paraphrase)
    pub apart: Mm,
    /// How they lie: direction, margins, groups, a plain panel, places to keep off. Its spacing is overwritten.
    pub layout: Layout,
    /// Unit in which reasons are told.
    ///
    /// Default: mm
    pub unit: LengthUnit,
}

/// Depth of a fold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Depth {
    /// This deep.
    Of(Mm),
    /// Full: as deep as its spacing (knife), half of it (box, inverted); the next pleat begins where it ends.
    Full,
    /// A share of full: partial depth.
    Share(f64),
}

/// What happens to a length that is no whole number of spacings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Leftover {
    /// The spacing is adjusted until they fill it.
    #[default]
    Spread,
    /// The spacing is kept; what is left stays plain, where [`Layout::rest`] says.
    Plain,
}

/// A number of a request.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Quantity {
    /// [`Wanted::finished`].
    Finished,
    /// [`Wanted::cloth`].
    Cloth,
    /// [`Wanted::count`].
    Count,
    /// [`Wanted::visible`].
    Visible,
    /// [`Wanted::depth`].
    Depth,
    /// [`Wanted::spacing`].
    Spacing,
    /// [`Wanted::marks`].
    Marks,
    /// [`Wanted::ratio`].
    Ratio,
}

/// A number that was asked for and had to change so that the count is whole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Adjusted {
    /// Which.
    pub what: Quantity,
    /// What was asked for: mm, or a ratio.
    pub asked: f64,
    /// What it became.
    pub got: f64,
}

/// All numbers of a fullness that can be sewn.
#[derive(Debug, Clone, PartialEq)]
pub struct Solved {
    /// What kind.
    pub kind: Kind,
    /// Length when folded.
    pub finished: Mm,
    /// Length of the cloth.
    pub cloth: Mm,
    /// How many; `None` for what is drawn in or eased.
    pub count: Option<u32>,
    /// Width that shows of each.
    pub visible: Option<Mm>,
    /// Depth of the folds, width of a tuck, height of a loop.
    pub depth: Option<Mm>,
    /// From pleat to pleat on the finished edge.
    pub spacing: Option<Mm>,
    /// From mark to mark on the cloth.
    pub marks: Option<Mm>,
    /// Cloth length / finished length.
    pub ratio: f64,
    /// Length on the finished edge that is left over by the spacing; it lies where [`Layout::rest`] of `layout` says.
    pub leftover: Mm,
    /// What was adjusted to find whole numbers.
    pub adjusted: Vec<Adjusted>,
    /// The same as fullness of an edge.
    pub fullness: Fullness,
    /// How it lies.
    pub layout: Layout,
    /// Every pleat with its places.
    pub folded: FoldedEdge,
}

/// Why a request has no numbers.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Unsolved {
    /// Too little is given.
    #[error("{ask}")]
    Open {
        /// What to give.
        ask: String,
    },
    /// It cannot be folded.
    #[error("{why}")]
    Impossible {
        /// Why, in the maker's words, lengths in the unit of the request.
        why: String,
        /// The nearest that can.
        nearest: Box<Solved>,
    },
}

/// Computes all numbers from those that are given.
///
/// Whole counts are found by the nearest rule (`n = round(finished / spacing)`, tucks between margins round up); the
/// spacing is then adjusted and told. Without a depth pleats are full.
///
/// # Errors
/// [`Unsolved::Open`] when too little is given, [`Unsolved::Impossible`] when it contradicts itself or cannot be folded.
///
/// # Source
/// The rules named in [`super::cloth_length`]; the test `every_row_of_the_table_of_examples_comes_out_as_printed` runs
/// the published examples.
///
/// # Example
/// ```
/// # use petitoile_core::{Mm, fullness::{Depth, Kind, Wanted, solve}};
/// let pleats = solve(&Wanted {
///     finished: Some(Mm(920.0)),
///     visible: Some(Mm(50.0)),
///     depth: Some(Depth::Of(Mm(40.0))),
///     ..Wanted::new(Kind::Knife)
/// })?;
/// assert_eq!((pleats.count, pleats.cloth), (Some(18), Mm(2360.0)));
/// assert_eq!(format!("{:.2}", pleats.visible.unwrap_or_default().0), "51.11");
/// # Ok::<(), petitoile_core::fullness::Unsolved>(())
/// ```
pub fn solve(wanted: &Wanted) -> Result<Solved, Unsolved> {
    if let Some((why, sound)) = limits::sound(wanted) {
        return Err(impossible(why, &sound, MOST_STEPS));
    }
    solved(wanted, MOST_STEPS)
}

/// How often a request may be changed to find the nearest possible one.
const MOST_STEPS: u32 = 8;

fn solved(wanted: &Wanted, steps: u32) -> Result<Solved, Unsolved> {
    match wanted.kind {
        Kind::Gathers | Kind::Shirring | Kind::Ease => drawn_in::solved(wanted, steps),
        Kind::Cartridge => drawn_in::loops(wanted, steps),
        _ => pleats::solved(wanted, steps),
    }
}

/// A request that cannot be, with the outcome of one near it.
fn impossible(why: String, near: &Wanted, steps: u32) -> Unsolved {
    let open = |more: &str| Unsolved::Open {
        ask: format!("{why} {more}").trim().to_owned(),
    };
    let Some(steps) = steps.checked_sub(1) else {
        return open("Give other lengths.");
    };
    match solved(near, steps) {
        Ok(nearest) => Unsolved::Impossible {
            why,
            nearest: Box::new(nearest),
        },
        Err(Unsolved::Impossible { nearest, .. }) => Unsolved::Impossible { why, nearest },
        Err(Unsolved::Open { ask }) => open(&ask),
    }
}

fn open(ask: &str) -> Unsolved {
    Unsolved::Open {
        ask: ask.to_owned(),
    }
}

impl Wanted {
    /// Nothing given yet.
    pub fn new(kind: Kind) -> Self {
        Self {
            kind,
            finished: None,
            cloth: None,
            count: None,
            visible: None,
            depth: None,
            spacing: None,
            marks: None,
            ratio: None,
            leftover: Leftover::default(),
            rows: 3,
            apart: Mm(6.0),
            layout: Layout::default(),
            unit: LengthUnit::default(),
        }
    }

    /// The same request, its reasons told in this unit.
    pub fn told_in(self, unit: LengthUnit) -> Self {
        Self { unit, ..self }
    }

    /// A length as reasons tell it.
    fn shown(&self, mm: f64) -> String {
        limits::shown_in(self.unit)(mm)
    }

    /// The request that a fullness on a finished length answers: what a tray shows for an edge that has one already.
    pub fn of(fullness: Fullness, layout: &Layout, finished: Mm) -> Self {
        let asked = Self {
            finished: Some(finished),
            count: fullness.count(),
            depth: fullness.depth().map(Depth::Of),
            spacing: layout.spacing,
            layout: layout.clone(),
            ..Self::new(fullness.kind())
        };
        match fullness {
            Fullness::Gathers { ratio } | Fullness::CartridgePleats { ratio, .. } => Self {
                ratio: Some(ratio),
                spacing: None,
                ..asked
            },
            Fullness::Shirring { ratio, rows, apart } => Self {
                ratio: Some(ratio),
                spacing: None,
                rows,
                apart,
                ..asked
            },
            Fullness::Ease { by } => Self {
                cloth: Some(finished + by),
                spacing: None,
                ..asked
            },
            _ => asked,
        }
    }

    /// How many numbers are given.
    pub fn given(&self) -> usize {
        let lengths = [
            self.finished,
            self.cloth,
            self.visible,
            self.spacing,
            self.marks,
        ];
        lengths.iter().flatten().count()
            + usize::from(self.count.is_some())
            + usize::from(self.depth.is_some())
            + usize::from(self.ratio.is_some())
    }
}

impl Solved {
    /// The same as fullness on part of an edge.
    pub fn op(&self, edge: &str, from: f64, to: f64, even_to: Option<String>) -> FullnessOp {
        FullnessOp {
            edge: edge.to_owned(),
            from,
            to,
            fullness: self.fullness,
            even_to,
            layout: self.layout.clone(),
        }
    }

    /// Gives every number that was asked for and came out otherwise.
    fn compared(mut self, wanted: &Wanted) -> Self {
        let of = |what, asked: Option<f64>, got: Option<f64>| {
            let (asked, got) = asked.zip(got)?;
            let far = (asked - got).abs() > 1e-6 * asked.abs().max(1.0);
            far.then_some(Adjusted { what, asked, got })
        };
        let mm = |m: Option<Mm>| m.map(|m| m.0);
        let depth = wanted.depth.and_then(|depth| match depth {
            Depth::Of(depth) => Some(depth.0),
            Depth::Full | Depth::Share(_) => None,
        });
        self.adjusted = [
            of(
                Quantity::Finished,
                mm(wanted.finished),
                Some(self.finished.0),
            ),
            of(Quantity::Cloth, mm(wanted.cloth), Some(self.cloth.0)),
            of(
                Quantity::Count,
                wanted.count.map(f64::from),
                self.count.map(f64::from),
            ),
            of(Quantity::Visible, mm(wanted.visible), mm(self.visible)),
            of(Quantity::Depth, depth, mm(self.depth)),
            of(Quantity::Spacing, mm(wanted.spacing), mm(self.spacing)),
            of(Quantity::Marks, mm(wanted.marks), mm(self.marks)),
            of(Quantity::Ratio, wanted.ratio, Some(self.ratio)),
        ]
        .into_iter()
        .flatten()
        .collect();
        self
    }

    /// Was this number changed?
    pub fn changed(&self, what: Quantity) -> bool {
        self.adjusted.iter().any(|a| a.what == what)
    }
}
