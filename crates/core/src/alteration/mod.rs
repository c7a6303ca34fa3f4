//! Alterations by hand: everything a maker does with chalk, ruler and scissors to a garment.
//!
//! One [`Alteration`] is one named step. On a garment it is made once ([`crate::edit::Edit::Alter`]); on a fitting it
//! is kept as a step and replayed after every new solve. It addresses pieces, edges and fractions by name, not by
//! coordinates, so it survives a new body.

mod carry;
mod darts;
mod marks;
mod moves;
mod pieces;
mod reach;
mod sewing;
mod shape;
mod words;

use std::sync::Arc;

use serde::{Deserialize, Serialize};

pub use carry::{Bit, Carried, EdgePart};
pub use darts::DartChange;
pub use marks::MarkChange;
pub use pieces::{PiecesChange, round_an_edge, turn_of_cloth};
pub use sewing::{SeamChange, TrueTo};
pub use shape::{Axis, HingeEnd, PointRef, ShapeChange, Spreading};

use crate::edge::EdgeRef;
use crate::edit::{Edit, FittingEdit};
use crate::finding::{Finding, Gravity, Place, Warned};
use crate::fullness::FullnessOp;
use crate::garment::Garment;
use crate::geometry::outline::OutlineError;
use crate::measure::Level;
use crate::piece::Piece;
use crate::units::Mm;

/// One alteration by hand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Alteration {
    /// Moves a whole edge sideways (positive: outwards); its neighbours follow at the shared corners.
    MoveEdge {
        /// Which edge.
        edge: EdgeRef,
        /// How far.
        outwards: Mm,
    },
    /// Moves the corner at the start of an edge.
    MoveCorner {
        /// The edge that starts there.
        edge: EdgeRef,
        /// To the right.
        right: Mm,
        /// Upwards.
        up: Mm,
    },
    /// Lengthens (or shortens) a piece at a level of the body.
    LengthenAt {
        /// Name of the piece.
        piece: String,
        /// At which of its body lines.
        level: Level,
        /// How much.
        by: Mm,
    },
    /// Changes the outline of one piece.
    Shape {
        /// Name of the piece.
        piece: String,
        /// How.
        change: ShapeChange,
    },
    /// Changes a dart of one piece.
    Dart {
        /// Name of the piece.
        piece: String,
        /// How.
        change: DartChange,
    },
    /// Changes what is marked on one piece, how its edges are finished, and how many are cut.
    Mark {
        /// Name of the piece.
        piece: String,
        /// How.
        change: MarkChange,
    },
    /// Says which pleats, gathers and tucks one piece has, in place of those it had.
    Fullness {
        /// Name of the piece.
        piece: String,
        /// All of its fullness.
        fullness: Vec<FullnessOp>,
    },
    /// Makes, cuts, joins, renames or takes out pieces.
    Pieces(PiecesChange),
    /// Changes what is sewn to what.
    Seam(SeamChange),
}

/// What an alteration made of a garment.
#[derive(Debug, Clone, PartialEq)]
pub struct Altered {
    /// The garment after it. Pieces it did not touch are shared with the one before.
    pub garment: Garment,
    /// Where edges and pieces went, so that a fitting's choices can follow.
    pub carried: Carried,
    /// What moved besides what was asked, and what could not follow, with mm.
    pub notes: Vec<Finding>,
}

/// Why an alteration does not apply.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum AlterationError {
    /// The piece is gone.
    #[error("there is no piece called {0} any more")]
    NoPiece(String),
    /// The edge is gone.
    #[error("the piece has no edge called {0} any more")]
    NoEdge(String),
    /// The level is gone.
    #[error("no {} line crosses the piece any more", .0.label().to_lowercase())]
    NoLevel(Level),
    /// The point is gone.
    #[error("{edge} has no point number {number} any more")]
    NoPoint {
        /// The edge.
        edge: String,
        /// Number of its control point.
        number: usize,
    },
    /// The dart is gone.
    #[error("the piece has no dart called {0} any more")]
    NoDart(String),
    /// The mark or notch is gone.
    #[error("the piece has no {what} number {number} any more")]
    NoMark {
        /// "notch", "mark".
        what: &'static str,
        /// Counted from 1.
        number: usize,
    },
    /// The seam is gone.
    #[error("there is no seam called {0} any more")]
    NoSeam(String),
    /// A name that is taken.
    #[error("another {what} is called {name} already; choose another name")]
    Taken {
        /// "piece", "edge", "seam".
        what: &'static str,
        /// The name.
        name: String,
    },
    /// A distance that is not a number.
    #[error("its distance is not a number")]
    NotFinite,
    /// A dart leg was asked to move without the other.
    #[error("{0} is a dart leg and cannot move without the other")]
    DartLeg(String),
    /// A corner would leave the fold.
    #[error("the corner would leave the fold of the cloth by {0:.1} mm")]
    LeavesFold(f64),
    /// The outline would turn inside out or cross itself.
    #[error("the outline would cross itself")]
    Crosses,
    /// The same, and how far it can go.
    #[error(
        "the outline would cross itself; {most:.1} mm of the {asked:.1} mm is as far as it goes"
    )]
    CrossesAfter {
        /// How far it can go, mm.
        most: f64,
        /// How far it was to go, mm.
        asked: f64,
    },
    /// Something else that cannot be done: what is wrong, by how many mm, and what to do.
    #[error("{0}")]
    Refused(String),
    /// The moved edges no longer make an outline.
    #[error("{0}")]
    Outline(#[from] OutlineError),
}

/// Replays alterations by hand on an adapted garment, in order.
///
/// One that no longer applies (its piece, edge or level is gone, the outline would cross itself, a fold would leave its
/// line) is skipped with a finding whose remedy takes it off the fitting's list.
pub fn replay(garment: Garment, alterations: &[Alteration], fitting: &str) -> Warned<Garment> {
    let (altered, findings) = replayed(garment, alterations, fitting);
    Warned {
        outcome: altered.garment,
        findings,
    }
}

/// The same, with where everything went over all steps; the notes stand among the findings, in order.
pub(crate) fn replayed(
    garment: Garment,
    alterations: &[Alteration],
    fitting: &str,
) -> (Altered, Vec<Finding>) {
    let mut now = Altered {
        garment,
        carried: Carried::default(),
        notes: Vec::new(),
    };
    let mut findings = Vec::new();
    for (number, alteration) in alterations.iter().enumerate() {
        match alteration.applied(&now.garment) {
            Ok(altered) => {
                now.carried = now.carried.then(&altered.carried);
                now.garment = altered.garment;
                findings.extend(altered.notes);
            }
            Err(why) => findings.push(skipped(alteration, number, fitting, &why)),
        }
    }
    (now, findings)
}

impl Alteration {
    /// Name of the piece it alters; empty when it is about none, or about several.
    pub fn piece(&self) -> &str {
        match self {
            Self::MoveEdge { edge, .. } | Self::MoveCorner { edge, .. } => &edge.piece,
            Self::LengthenAt { piece, .. }
            | Self::Shape { piece, .. }
            | Self::Dart { piece, .. }
            | Self::Mark { piece, .. }
            | Self::Fullness { piece, .. } => piece,
            Self::Pieces(change) => change.piece(),
            Self::Seam(_) => "",
        }
    }

    /// Where it is: its piece, edge or seam.
    pub fn place(&self) -> Place {
        match self {
            Self::MoveEdge { edge, .. } | Self::MoveCorner { edge, .. } => {
                Place::edge(&edge.piece, &edge.edge)
            }
            Self::Seam(change) => Place::part(change.seam()),
            _ if self.piece().is_empty() => Place::default(),
            _ => Place::piece(self.piece()),
        }
    }

    /// The garment, altered.
    ///
    /// Never breaks an outline silently: what crosses itself, turns inside out or leaves its fold is refused.
    ///
    /// # Errors
    /// [`AlterationError`] when it does not apply to this garment.
    pub fn applied(&self, garment: &Garment) -> Result<Altered, AlterationError> {
        let altered = self.made(garment).map_err(|why| match why {
            AlterationError::Crosses => reach::as_far_as(self, garment),
            other => other,
        })?;
        match altered.garment.check_references() {
            Err(why) if garment.check_references().is_ok() => {
                Err(AlterationError::Refused(why.to_string()))
            }
            _ => Ok(altered),
        }
    }

    fn made(&self, garment: &Garment) -> Result<Altered, AlterationError> {
        match self {
            Self::MoveEdge { edge, outwards } => on_piece(garment, &edge.piece, |piece| {
                moves::move_edge(piece, &edge.edge, moves::finite(outwards.0)?)
            }),
            Self::MoveCorner { edge, right, up } => on_piece(garment, &edge.piece, |piece| {
                let by = kurbo::Vec2::new(moves::finite(right.0)?, moves::finite(up.0)?);
                moves::move_corner(piece, &edge.edge, by)
            }),
            Self::LengthenAt { piece, level, by } => on_piece(garment, piece, |piece| {
                moves::lengthen_at(piece, *level, moves::finite(by.0)?)
            }),
            Self::Shape { piece, change } => change.applied(garment, piece),
            Self::Dart { piece, change } => change.applied(garment, piece),
            Self::Mark { piece, change } => change.applied(garment, piece),
            Self::Fullness { piece, fullness } => on_piece(garment, piece, |piece| {
                for op in fullness {
                    moves::index_of(piece, &op.edge)?;
                    op.even_to
                        .as_ref()
                        .map_or(Ok(0), |edge| moves::index_of(piece, edge))?;
                }
                Ok(Piece {
                    fullness: fullness.clone(),
                    ..piece.clone()
                })
            }),
            Self::Pieces(change) => change.applied(garment),
            Self::Seam(change) => change.applied(garment),
        }
    }
}

/// A garment with one piece altered, all its edges still there under their names and fractions.
fn on_piece(
    garment: &Garment,
    name: &str,
    alter: impl FnOnce(&Piece) -> Result<Piece, AlterationError>,
) -> Result<Altered, AlterationError> {
    let mut garment = garment.clone();
    let piece = garment
        .pieces
        .iter_mut()
        .find(|piece| piece.name == name)
        .ok_or_else(|| AlterationError::NoPiece(name.to_owned()))?;
    *piece = Arc::new(alter(piece)?);
    Ok(Altered {
        garment,
        carried: Carried::default(),
        notes: Vec::new(),
    })
}

fn skipped(
    alteration: &Alteration,
    number: usize,
    fitting: &str,
    why: &AlterationError,
) -> Finding {
    Finding {
        gravity: Gravity::Care,
        place: alteration.place(),
        what: format!("{alteration} was left out: {why}."),
        advice: "Make it again in another way, or take it off the list.".to_owned(),
        remedy: Some(Edit::Fitting {
            fitting: fitting.to_owned(),
            change: FittingEdit::RemoveAlteration(number),
        }),
    }
}

#[cfg(test)]
pub(crate) mod samples;
#[cfg(test)]
mod tests;
