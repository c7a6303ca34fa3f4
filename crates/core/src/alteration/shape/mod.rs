//! Changes to the outline of one piece: its points, its edges, lines along which it is lengthened or spread.

pub(super) mod edges;
pub(super) mod kept;
mod lines;
mod open_out;
mod points;
mod raise;
mod ring;
pub(super) mod slash;
#[cfg(test)]
mod tests;
mod whole;
pub(super) mod widen;

use serde::{Deserialize, Serialize};

use super::{Alteration, AlterationError, Altered};
use crate::edge::OutlinePoint;
use crate::garment::Garment;
use crate::geometry::curve::Line;
use crate::units::{Degrees, Mm};

/// A change to the outline of one piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum ShapeChange {
    /// Moves control points, all by the same way.
    MovePoints {
        /// Which.
        points: Vec<PointRef>,
        /// To the right.
        right: Mm,
        /// Upwards.
        up: Mm,
        /// Keeps joins smooth that are smooth: the steering points opposite turn or move along. Off, they are broken.
        keep_smooth: bool,
    },
    /// Moves everything of the outline from one place to another (counter-clockwise); the edges beside follow evenly.
    MoveStretch {
        /// Where it starts.
        from: OutlinePoint,
        /// Where it ends.
        to: OutlinePoint,
        /// To the right.
        right: Mm,
        /// Upwards.
        up: Mm,
    },
    /// Draws an edge anew between its two corners.
    Redraw {
        /// Name of the edge.
        edge: String,
        /// Its new line, in the piece's coordinates; its ends must be the corners.
        line: Line,
    },
    /// Makes an edge straight.
    Straighten {
        /// Name of the edge.
        edge: String,
    },
    /// Makes the join at a point smooth: both steering points in one line.
    Smooth {
        /// A point on the line: a corner between two edges or a point inside an edge.
        point: PointRef,
    },
    /// Puts a point into an edge without changing its shape.
    AddPoint {
        /// Where.
        at: OutlinePoint,
    },
    /// Takes a point out of an edge; the curve between its neighbours keeps their directions.
    RemovePoint {
        /// A point on the line, inside an edge.
        point: PointRef,
    },
    /// Makes two edges of one: a new corner.
    SplitEdge {
        /// Where.
        at: OutlinePoint,
        /// Name of the second part (counter-clockwise); the first keeps the name.
        name: String,
    },
    /// Makes one edge of an edge and the next (counter-clockwise).
    JoinEdges {
        /// The first; its name stays.
        edge: String,
    },
    /// Gives an edge another name.
    RenameEdge {
        /// Its name.
        edge: String,
        /// Its new name.
        name: String,
    },
    /// Brings an edge to a length along itself; the corner at its end moves, the next edge follows.
    SetLength {
        /// Name of the edge.
        edge: String,
        /// How long.
        length: Mm,
    },
    /// Lengthens (or shortens) the piece at a line across it: what lies right of the line, walked from `from` to `to`,
    /// moves square away.
    Lengthen {
        /// Where the line starts.
        from: OutlinePoint,
        /// Where it ends.
        to: OutlinePoint,
        /// How much.
        by: Mm,
    },
    /// Slashes the piece along a line and spreads it (or laps it, below 0).
    Spread {
        /// Where the line starts.
        from: OutlinePoint,
        /// Where it ends.
        to: OutlinePoint,
        /// How much wider `from` becomes, measured between the two sides of the slash.
        by: Mm,
        /// Even, or hinged at an end.
        how: Spreading,
    },
    /// Adds (or takes away) width at an edge, tapering from one end to the other.
    Widen {
        /// Name of the edge.
        edge: String,
        /// Outwards at its start.
        at_start: Mm,
        /// Outwards at its end.
        at_end: Mm,
    },
    /// Raises an edge by these amounts at evenly spaced places from its start to its end; its corners run on along their
    /// neighbours. Below 0 it is lowered.
    Raise {
        /// Name of the edge.
        edge: String,
        /// How much, from its start to its end; two places at least.
        by: Vec<Mm>,
    },
    /// Mirrors the piece.
    Mirror {
        /// About which axis through its middle.
        axis: Axis,
    },
    /// Turns the piece about its middle, counter-clockwise.
    Turn {
        /// By how much.
        by: Degrees,
    },
    /// Turns the piece so that its grainline stands upright.
    TurnToGrain,
    /// Opens a piece on the fold out into a whole one.
    OpenOut,
}

/// A control point of an edge.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct PointRef {
    /// Name of the edge.
    pub edge: String,
    /// Its number in [`Line::points`]: 0 is the corner where the edge starts, every third lies on the line.
    pub number: usize,
}

/// The two ways a slashed piece is spread.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Spreading {
    /// By the same amount along the whole slash.
    Even,
    /// Turned about one end, which stays joined.
    Hinged(HingeEnd),
}

/// The end of a slash that stays joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum HingeEnd {
    /// Where the line starts; then `to` becomes wider.
    From,
    /// Where it ends; then `from` becomes wider.
    To,
}

/// An axis of the drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Axis {
    /// Left and right change places.
    Upright,
    /// Top and bottom change places.
    Level,
}

impl PointRef {
    /// A control point of an edge.
    pub fn new(edge: impl Into<String>, number: usize) -> Self {
        Self {
            edge: edge.into(),
            number,
        }
    }
}

impl ShapeChange {
    /// The garment with one piece reshaped.
    ///
    /// # Errors
    /// [`AlterationError`] when it does not apply.
    pub fn applied(&self, garment: &Garment, piece: &str) -> Result<Altered, AlterationError> {
        let missing = || AlterationError::NoPiece(piece.to_owned());
        let old = garment.piece(piece).ok_or_else(missing)?;
        let reshaped = match self {
            Self::MovePoints {
                points,
                right,
                up,
                keep_smooth,
            } => points::move_points(old, points, (*right, *up), *keep_smooth),
            Self::MoveStretch {
                from,
                to,
                right,
                up,
            } => points::move_stretch(old, from, to, (*right, *up)),
            Self::Redraw { edge, line } => lines::redraw(old, edge, line),
            Self::Straighten { edge } => lines::straighten(old, edge),
            Self::Smooth { point } => lines::smooth(old, point),
            Self::AddPoint { at } => lines::add_point(old, at),
            Self::RemovePoint { point } => lines::remove_point(old, point),
            Self::SplitEdge { at, name } => edges::split(old, at, name),
            Self::JoinEdges { edge } => edges::join(old, edge),
            Self::RenameEdge { edge, name } => edges::rename(old, edge, name),
            Self::SetLength { edge, length } => edges::set_length(old, edge, *length),
            Self::Lengthen { from, to, by } => slash::lengthen(old, from, to, *by),
            Self::Spread { from, to, by, how } => slash::spread(old, from, to, *by, *how),
            Self::Widen {
                edge,
                at_start,
                at_end,
            } => widen::widen(old, edge, *at_start, *at_end),
            Self::Raise { edge, by } => raise::raise(old, edge, by),
            Self::Mirror { axis } => {
                return whole::mirror(old, *axis)?.turned_in_place_of(old, garment);
            }
            Self::Turn { by } => return whole::turn(old, *by)?.turned_in_place_of(old, garment),
            Self::TurnToGrain => {
                return whole::turn_to_grain(old)?.turned_in_place_of(old, garment);
            }
            Self::OpenOut => return open_out::open_out(old, garment),
        };
        reshaped?.in_place_of(old, garment)
    }

    /// The same as an alteration of a piece.
    pub fn of(self, piece: impl Into<String>) -> Alteration {
        Alteration::Shape {
            piece: piece.into(),
            change: self,
        }
    }
}
