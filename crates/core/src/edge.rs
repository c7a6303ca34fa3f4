//! A named stretch of outline between two corners, and how its cloth is finished.

use serde::{Deserialize, Serialize};

use crate::geometry::curve::Line;
use crate::units::Mm;

/// A named stretch of a piece's outline between two corners.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Edge {
    /// Unique in its piece: "side", "neckline", "dart leg front".
    pub name: String,
    /// Its stitch line (finished edge for hems, folds and casings).
    pub line: Line,
    /// How it is finished, stretch by stretch; empty counts as one seam over the whole edge.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub finish: Vec<FinishStretch>,
    /// Width of its seam allowance where that was chosen with the piece, as for a joined strip: it comes before the one
    /// width of a fitting, and after what a fitting says of this edge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub allowance: Option<Mm>,
}

/// A finish over part of an edge.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FinishStretch {
    /// Fraction of the edge where it starts, 0 to 1.
    pub from: f64,
    /// Fraction where it ends, above `from`.
    pub to: f64,
    /// What is done there.
    pub finish: Finish,
}

/// What is done with the cloth along an edge.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Finish {
    /// Sewn to a mate.
    Seam,
    /// Turned up and sewn down.
    Hem {
        /// Finished width; `None` takes the fitting's own hem width.
        width: Option<Mm>,
        /// How often it is turned: 1 or 2.
        turns: u8,
    },
    /// Covered by a facing: sewn and turned.
    Facing,
    /// Left as cut.
    Raw,
    /// The cloth is folded here; only half the piece is stored.
    Fold,
    /// The woven edge of the cloth.
    Selvedge,
    /// Turned over to carry a tape or elastic.
    Casing {
        /// Finished width of the channel.
        width: Mm,
    },
    /// Not sewn, with its seam allowance on: the gap through which a lining is turned.
    Open,
    /// An opening below a notch: its seam allowance turned in twice, narrow, and sewn down.
    Slit,
    /// An opening whose cloth is turned over as a placket that carries buttons or hooks.
    Placket {
        /// Finished width of the placket.
        width: Mm,
    },
}

impl Finish {
    /// What it is called in the trade: "hem", "left open".
    pub fn noun(self) -> &'static str {
        match self {
            Self::Seam => "seam",
            Self::Hem { .. } => "hem",
            Self::Facing => "facing",
            Self::Raw => "left as cut",
            Self::Fold => "fold",
            Self::Selvedge => "selvedge",
            Self::Casing { .. } => "casing",
            Self::Open => "left open",
            Self::Slit => "slit",
            Self::Placket { .. } => "placket",
        }
    }
}

impl Edge {
    /// An edge that is one seam from end to end.
    pub fn seam(name: impl Into<String>, line: Line) -> Self {
        Self {
            name: name.into(),
            line,
            finish: Vec::new(),
            allowance: None,
        }
    }

    /// An edge with one finish from end to end.
    pub fn finished(name: impl Into<String>, line: Line, finish: Finish) -> Self {
        Self {
            name: name.into(),
            line,
            finish: vec![FinishStretch {
                from: 0.0,
                to: 1.0,
                finish,
            }],
            allowance: None,
        }
    }

    /// The same edge with a seam allowance of its own.
    pub fn with_allowance(self, width: Option<Mm>) -> Self {
        Self {
            allowance: width,
            ..self
        }
    }

    /// Is the cloth folded along this edge?
    pub fn is_fold(&self) -> bool {
        matches!(
            self.finish.as_slice(),
            [FinishStretch {
                finish: Finish::Fold,
                ..
            }]
        )
    }

    /// The finish at a fraction of the edge.
    pub fn finish_at(&self, fraction: f64) -> Finish {
        self.finish
            .iter()
            .find(|s| s.from <= fraction && fraction <= s.to)
            .map_or(Finish::Seam, |s| s.finish)
    }

    /// The edge walked the other way, finishes with it.
    pub fn reversed(self) -> Self {
        let finish = self
            .finish
            .into_iter()
            .rev()
            .map(|s| FinishStretch {
                from: 1.0 - s.to,
                to: 1.0 - s.from,
                finish: s.finish,
            })
            .collect();
        Self {
            line: self.line.reversed(),
            finish,
            ..self
        }
    }
}

/// An edge of a piece, by name.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct EdgeRef {
    /// Name of the piece.
    pub piece: String,
    /// Name of the edge in it.
    pub edge: String,
}

impl EdgeRef {
    /// The edge of that name in the piece of that name.
    pub fn new(piece: impl Into<String>, edge: impl Into<String>) -> Self {
        Self {
            piece: piece.into(),
            edge: edge.into(),
        }
    }
}

impl std::fmt::Display for EdgeRef {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}, {}", self.piece, self.edge)
    }
}

/// A place on a piece's outline: an edge and a fraction of its length.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OutlinePoint {
    /// Name of the edge.
    pub edge: String,
    /// 0 at its start, 1 at its end.
    pub fraction: f64,
}

impl OutlinePoint {
    /// A place on an edge.
    pub fn new(edge: impl Into<String>, fraction: f64) -> Self {
        Self {
            edge: edge.into(),
            fraction,
        }
    }
}
