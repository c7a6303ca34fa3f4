//! Sections: where each layer of cloth lies when a seam, hem or edge is cut through square to its stitch line.
//!
//! Every count of layers in this folder is read off these sections, and the picture in the window is drawn from them.
//! x runs square to the stitch line, which lies at 0; mm. Layers are listed bottom up, right side of the garment down
//! where it lies finished. `A` and `B` are the two sides of a seam, `A'` and `B'` their allowances, `S` a strip.
//!
//! ```text
//! plain, sewn            plain, pressed open      plain, to one side (b)      turned (bagged, faced)
//!  BBBBBBBB|bbb           aaa|bbb                        |aaa                    BBBBBB
//!  AAAAAAAA|aaa        AAAAAA|BBBBBB              AAAAAAA|bbb                    bbb
//!   2 layers            2 layers                         |BBBBBB  3 layers       aaa
//!                                                                               |AAAAAA  4 layers
//!
//! French, second row     French, lying (b)        felled, second row          lapped (a on b)
//!  BBBBBB|BBB                   |  aa                    |AAAAAA                AAAAAA|
//!  AA    |bb             AAAAAAA|AAA.                    |bbb                   aaa   |
//!        |aa                    |  bb               AAAAA|aaaaaa                bbbbbb|BBBBB
//!  AAAAAA|AAA                   |BBB                     |BBBBBB  4 layers       3 layers
//!   2 under the needle,         |BBBBBB  5 layers
//!   4 under the foot
//!
//! bound (both edges)     hem, turned once         hem, turned twice           turned corner, each side
//!   SS                    aaa                      aaa                          aaa   beyond both edges
//!   SS                    |AAAAAA  2 layers        aaa                          aaa   beyond the one
//!  BBBB                                            |AAAAAA  3 layers            aaa   beyond the other
//!  AAAA                                                                         AAA   4 layers
//!   SS
//!   SS   a + b + 4 of the strip
//! ```

mod counts;
mod drawn;

pub use counts::{CountRow, KINDS, iso_class, table, why};
pub use drawn::sections;

use crate::seams::SeamKind;

/// Which cloth a layer is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Of {
    /// Side `a` of the seam, or the only side of a hem.
    A,
    /// Side `b`.
    B,
    /// A binding or facing that is no piece of the garment.
    Strip,
}

/// What a layer is of its piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// The piece itself.
    Ply,
    /// Its allowance.
    Allowance,
    /// Its allowance, turned under.
    TurnedUnder,
}

/// One layer of a section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Run {
    /// Of which cloth.
    pub of: Of,
    /// What of it.
    pub part: Part,
    /// Where it begins, mm.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

/// Where one layer goes over into another: a fold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turn {
    /// The two layers, by their places in the section.
    pub between: (usize, usize),
    /// Where, mm.
    pub at: f64,
}

/// A seam, hem or edge cut through.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Section {
    /// Its layers, bottom up.
    pub runs: Vec<Run>,
    /// Its folds.
    pub turns: Vec<Turn>,
}

/// When a section is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Moment {
    /// While its first row is sewn.
    Sewn,
    /// While it is sewn a second time.
    Second,
    /// As it lies when it is done.
    Lying,
}

impl Moment {
    /// In the maker's words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Sewn => "under the foot",
            Self::Second => "under the foot, second row",
            Self::Lying => "lying",
        }
    }

    /// Is it under the foot then?
    pub fn is_sewn(self) -> bool {
        self != Self::Lying
    }
}

/// To which side the allowances of a seam lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lies {
    /// Pressed open.
    Open,
    /// Both over side `a`.
    OnA,
    /// Both over side `b`.
    OnB,
    /// Turned: both pieces lie on each other with the allowances between them.
    Turned,
}

/// What is cut through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Work {
    /// A seam of this kind whose allowances lie so.
    Seam(SeamKind, Lies),
    /// An edge left as cut, bound by side `b`.
    BoundEdge,
    /// An edge turned over and sewn down: once, or twice.
    Hem {
        /// How often.
        turns: u8,
    },
    /// An edge faced with a strip: sewn and turned.
    Faced,
    /// The corner of a turned edge.
    Corner,
}

/// Widths of the allowances, mm: side `a`, side `b`. For a turned edge the first turn and the second.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Widths {
    /// Of side `a`.
    pub a: f64,
    /// Of side `b`.
    pub b: f64,
}

impl Widths {
    /// Graded: the allowance that lies further inside is trimmed to half (common practice, no source).
    pub fn graded(self, lies: Lies) -> Self {
        match lies {
            Lies::Open => self,
            Lies::OnA => Self {
                b: self.b.min(self.a / 2.0),
                ..self
            },
            Lies::OnB => Self {
                a: self.a.min(self.b / 2.0),
                ..self
            },
            Lies::Turned => Self {
                b: self.b.min(self.a / 2.0),
                ..self
            },
        }
    }
}

/// How many layers of each cloth lie over one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cover {
    /// The place, mm.
    pub x: f64,
    /// Layers of side `a`.
    pub a: u32,
    /// Layers of side `b`.
    pub b: u32,
    /// Layers of a strip.
    pub strip: u32,
}

impl Cover {
    /// All layers together.
    pub fn all(self) -> u32 {
        self.a + self.b + self.strip
    }
}

impl Section {
    /// Where the number of layers changes, from left to right.
    pub fn breaks(&self) -> Vec<f64> {
        let mut ends: Vec<f64> = self.runs.iter().flat_map(|r| [r.from, r.to]).collect();
        ends.sort_by(f64::total_cmp);
        ends.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        ends
    }

    /// What lies over each stretch between two changes.
    pub fn covers(&self) -> Vec<Cover> {
        let breaks = self.breaks();
        let pairs = breaks.iter().zip(breaks.iter().skip(1));
        pairs
            .map(|(from, to)| self.cover(f64::midpoint(*from, *to)))
            .collect()
    }

    /// What lies over one place.
    pub fn cover(&self, x: f64) -> Cover {
        let count = |of: Of| {
            let over = |r: &&Run| r.of == of && r.from < x && x < r.to;
            self.runs.iter().filter(over).count() as u32
        };
        Cover {
            x,
            a: count(Of::A),
            b: count(Of::B),
            strip: count(Of::Strip),
        }
    }

    /// The place where most lies, when one layer of each cloth is so thick; `None` for a section without layers.
    pub fn thickest(&self, a: f64, b: f64, strip: f64) -> Option<(Cover, f64)> {
        let high = |c: &Cover| f64::from(c.a) * a + f64::from(c.b) * b + f64::from(c.strip) * strip;
        self.covers()
            .into_iter()
            .map(|cover| (cover, high(&cover)))
            .max_by(|x, y| x.1.total_cmp(&y.1).then(x.0.all().cmp(&y.0.all())))
    }
}
