//! Measuring a garment with a tape: an edge, a stretch of it, from point to point, across a piece, round all pieces.
//!
//! Everything that is measured is named by pieces, edges and fractions, never by coordinates: it follows when the
//! pieces change. Lengths in mm; x to the right, y up in the drawing of a piece.

mod across;
mod followed;
mod girth;
#[cfg(test)]
mod tests;

use std::sync::Arc;

use kurbo::Point;
use serde::{Deserialize, Serialize};

use crate::body::Body;
use crate::edge::{EdgeRef, OutlinePoint};
use crate::garment::Garment;
use crate::geometry::curve::Line;
use crate::measure::Level;
use crate::piece::{MarkKind, Piece};
use crate::seams::place_near;
use crate::tolerance::DRAWING;
use crate::units::Mm;

/// Something to measure on a garment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Measurement {
    /// A whole edge, along its line.
    Edge(EdgeRef),
    /// Part of an edge, along its line.
    Stretch {
        /// The edge.
        edge: EdgeRef,
        /// Fraction where it starts.
        from: f64,
        /// Fraction where it ends.
        to: f64,
    },
    /// Straight from point to point of one piece.
    Between {
        /// Name of the piece.
        piece: String,
        /// From here.
        from: PiecePoint,
        /// To there.
        to: PiecePoint,
    },
    /// From point to point of one piece, cloth only: darts and hollows between are left out.
    Across {
        /// Name of the piece.
        piece: String,
        /// From here.
        from: PiecePoint,
        /// To there.
        to: PiecePoint,
    },
    /// Several measurements added up, over several pieces.
    Sum(Vec<Self>),
    /// Round the body at a height, over all pieces and copies there, cloth only.
    Girth {
        /// Counted from this level.
        level: Level,
        /// So far below it; negative is above.
        below: Mm,
    },
}

/// A point of a piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum PiecePoint {
    /// On the outline.
    On(OutlinePoint),
    /// Inside: at a share of the straight line between two places on the outline.
    Inside {
        /// One place.
        from: OutlinePoint,
        /// The other.
        to: OutlinePoint,
        /// 0 at the first, 1 at the second.
        share: f64,
    },
    /// A dot, by its name.
    Dot(String),
}

/// What the tape reads.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The length.
    pub length: Mm,
    /// For a straight line from point to point: how far to the right, and how far up.
    pub right_and_up: Option<(Mm, Mm)>,
    /// What it is made of.
    pub parts: Vec<ReadingPart>,
}

/// Part of a reading, on one piece.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingPart {
    /// Name of the piece.
    pub piece: String,
    /// Where the tape lies, in the drawing of that piece.
    pub line: Line,
    /// How long it is there.
    pub length: Mm,
    /// How often it counts: as often as the piece goes round, for a girth.
    pub times: f64,
}

/// Why something cannot be measured.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum MeasuringError {
    /// The piece is gone.
    #[error("there is no piece called {0} any more; measure again")]
    NoPiece(String),
    /// The edge is gone.
    #[error("there is no edge {0} any more; measure again")]
    NoEdge(EdgeRef),
    /// The dot is gone.
    #[error("{piece} has no dot called {dot} any more; measure again")]
    NoDot {
        /// The piece.
        piece: String,
        /// The dot.
        dot: String,
    },
    /// No cloth there.
    #[error("no piece lies {}; choose a height where there is cloth", height(*level, *below))]
    NoCloth {
        /// Counted from this level.
        level: Level,
        /// So far below it.
        below: Mm,
    },
    /// Nothing to add up.
    #[error("nothing is measured yet; choose an edge or two points")]
    Nothing,
    /// A place that is not a number.
    #[error("a place to measure from is not a number; measure again")]
    NotFinite,
}

fn height(level: Level, below: Mm) -> String {
    let name = level.label().to_lowercase();
    match below.0 {
        0.0 => format!("at the {name}"),
        by if by < 0.0 => format!("{:.1} mm above the {name}", -by),
        by => format!("{by:.1} mm below the {name}"),
    }
}

impl Measurement {
    /// What it reads on a garment; heights of the body are those of `body`, the one the garment is made for or fitted to.
    ///
    /// # Errors
    /// [`MeasuringError`] when a piece, edge or dot is gone, or no cloth lies there.
    pub fn read(&self, garment: &Garment, body: &Body) -> Result<Reading, MeasuringError> {
        match self {
            Self::Edge(edge) => along(garment, edge, 0.0, 1.0),
            Self::Stretch { edge, from, to } => along(garment, edge, *from, *to),
            Self::Between { piece, from, to } => {
                let piece = piece_of(garment, piece)?;
                let (from, to) = (from.at(piece)?, to.at(piece)?);
                Ok(straight(piece, from, to))
            }
            Self::Across { piece, from, to } => {
                let piece = piece_of(garment, piece)?;
                let (from, to) = (from.at(piece)?, to.at(piece)?);
                Ok(cloth_only(piece, from, to))
            }
            Self::Sum(all) => {
                if all.is_empty() {
                    return Err(MeasuringError::Nothing);
                }
                let mut parts = Vec::new();
                let mut length = 0.0;
                for one in all {
                    let read = one.read(garment, body)?;
                    length += read.length.0;
                    parts.extend(read.parts);
                }
                Ok(Reading {
                    length: Mm(length),
                    right_and_up: None,
                    parts,
                })
            }
            Self::Girth { level, below } => girth::read(garment, body, *level, *below),
        }
    }

    /// What it is called: "Front, side seam", "girth 20.0 mm below the waist".
    pub fn name(&self) -> String {
        match self {
            Self::Edge(edge) => edge.to_string(),
            Self::Stretch { edge, from, to } => {
                format!("{edge}, {:.0} to {:.0} %", from * 100.0, to * 100.0)
            }
            Self::Between { piece, from, to } => {
                format!("{piece}: {} to {}", from.name(), to.name())
            }
            Self::Across { piece, from, to } => {
                format!("{piece}: across from {} to {}", from.name(), to.name())
            }
            Self::Sum(all) => {
                let names: Vec<String> = all.iter().map(Self::name).collect();
                names.join(" + ")
            }
            Self::Girth { level, below } => format!("girth {}", height(*level, *below)),
        }
    }
}

impl PiecePoint {
    /// Where it lies in the drawing of its piece.
    ///
    /// # Errors
    /// [`MeasuringError`] when its edge or dot is gone.
    pub fn at(&self, piece: &Piece) -> Result<Point, MeasuringError> {
        let on = |at: &OutlinePoint| {
            let gone = || MeasuringError::NoEdge(EdgeRef::new(&piece.name, &at.edge));
            if at.fraction.is_finite() {
                piece.point_at(at).ok_or_else(gone)
            } else {
                Err(MeasuringError::NotFinite)
            }
        };
        match self {
            Self::On(at) => on(at),
            Self::Inside { from, to, share } if share.is_finite() => {
                Ok(on(from)?.lerp(on(to)?, *share))
            }
            Self::Inside { .. } => Err(MeasuringError::NotFinite),
            Self::Dot(name) => piece
                .marks
                .iter()
                .find_map(|mark| match mark.kind {
                    MarkKind::Dot(at) if mark.name == *name => Some(at),
                    _ => None,
                })
                .ok_or_else(|| MeasuringError::NoDot {
                    piece: piece.name.clone(),
                    dot: name.clone(),
                }),
        }
    }

    /// The point of a piece that was pointed at: a dot or a place on the outline within `reach`, else a place inside
    /// that follows the outline to its left and right (above and below where there is none).
    ///
    /// `None` outside the piece.
    pub fn near(piece: &Piece, point: Point, reach: Mm) -> Option<Self> {
        let dot = piece.marks.iter().find(|mark| match mark.kind {
            MarkKind::Dot(at) => (at - point).hypot() <= reach.0,
            _ => false,
        });
        if let Some(dot) = dot {
            return Some(Self::Dot(dot.name.clone()));
        }
        if let Some((at, _)) = place_near(piece, point).filter(|(_, off)| *off <= reach) {
            return Some(Self::On(at));
        }
        let (from, to) = across::around(piece, point)?;
        let (a, b) = (piece.point_at(&from)?, piece.point_at(&to)?);
        let share = (point - a).dot(b - a) / (b - a).hypot2();
        Some(Self::Inside { from, to, share })
    }

    fn name(&self) -> String {
        match self {
            Self::On(at) => format!("{} at {:.0} %", at.edge, at.fraction * 100.0),
            Self::Inside { from, to, .. } => format!("between {} and {}", from.edge, to.edge),
            Self::Dot(name) => format!("dot {name}"),
        }
    }
}

fn piece_of<'a>(garment: &'a Garment, name: &str) -> Result<&'a Arc<Piece>, MeasuringError> {
    garment
        .piece(name)
        .ok_or_else(|| MeasuringError::NoPiece(name.to_owned()))
}

fn along(garment: &Garment, edge: &EdgeRef, from: f64, to: f64) -> Result<Reading, MeasuringError> {
    if !from.is_finite() || !to.is_finite() {
        return Err(MeasuringError::NotFinite);
    }
    let (from, to) = (from.clamp(0.0, 1.0), to.clamp(0.0, 1.0));
    let piece = piece_of(garment, &edge.piece)?;
    let found = piece.outline.edge(&edge.edge);
    let line = &found
        .ok_or_else(|| MeasuringError::NoEdge(edge.clone()))?
        .line;
    let length = Mm(line.length() * (to - from).abs());
    let part = line.between(from, to).map(|line| ReadingPart {
        piece: piece.name.clone(),
        line,
        length,
        times: 1.0,
    });
    Ok(Reading {
        length,
        right_and_up: None,
        parts: part.into_iter().collect(),
    })
}

fn straight(piece: &Piece, from: Point, to: Point) -> Reading {
    let way = to - from;
    Reading {
        length: Mm(way.hypot()),
        right_and_up: Some((Mm(way.x), Mm(way.y))),
        parts: vec![ReadingPart {
            piece: piece.name.clone(),
            line: Line::straight(from, to),
            length: Mm(way.hypot()),
            times: 1.0,
        }],
    }
}

fn cloth_only(piece: &Piece, from: Point, to: Point) -> Reading {
    let way = to - from;
    let parts: Vec<ReadingPart> = across::cloth_between(piece, from, to)
        .into_iter()
        .map(|(a, b)| ReadingPart {
            piece: piece.name.clone(),
            line: Line::straight(a, b),
            length: Mm((b - a).hypot()),
            times: 1.0,
        })
        .collect();
    Reading {
        length: Mm(parts.iter().map(|part| part.length.0).sum()),
        right_and_up: Some((Mm(way.x), Mm(way.y))),
        parts,
    }
}

/// Nearer than this, a point counts as on the outline.
const ON_OUTLINE: Mm = DRAWING;
