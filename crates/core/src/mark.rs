//! Marks inside a piece: dots, lines, buttonholes, words, channels, eyelets.

use kurbo::{Point, Vec2};
use serde::{Deserialize, Serialize};

use crate::geometry::curve::Line;
use crate::units::Mm;

/// A mark inside a piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Mark {
    /// What it says.
    pub name: String,
    /// What it is.
    pub kind: MarkKind,
}

/// Kinds of marks inside a piece. Points move with the piece when it is adapted; widths and diameters stay, for they
/// are those of the bones, cords and eyelets that go in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum MarkKind {
    /// A dot.
    Dot(Point),
    /// A line to place something on.
    Line(Line),
    /// A buttonhole from end to end.
    Buttonhole(Point, Point),
    /// A line along which the cloth is folded: a pleat, a roll line, a crease.
    Fold(Line),
    /// A line that is sewn: a dart inside the piece, a pleat or tuck sewn down.
    Stitch(Line),
    /// Words; the mark's name is what is written, its middle here.
    Text(Point),
    /// A channel sewn along a line for a bone, a cord or elastic.
    Channel {
        /// Its middle.
        line: Line,
        /// How wide, from row to row of stitches.
        width: Mm,
    },
    /// A round hole with a rim, for lacing.
    Eyelet {
        /// Its middle.
        at: Point,
        /// Its inner diameter.
        diameter: Mm,
    },
}

impl MarkKind {
    /// The same mark with every point moved by `f`.
    ///
    /// # Example
    /// ```
    /// # use petitoile_core::{kurbo::{Point, Vec2}, piece::MarkKind};
    /// let dot = MarkKind::Dot(Point::new(5.0, 5.0));
    /// assert_eq!(dot.mapped(|p| p + Vec2::new(1.0, 0.0)), MarkKind::Dot(Point::new(6.0, 5.0)));
    /// ```
    #[must_use]
    pub fn mapped(&self, f: impl Fn(Point) -> Point) -> Self {
        match self {
            Self::Dot(at) => Self::Dot(f(*at)),
            Self::Line(line) => Self::Line(line.mapped(f)),
            Self::Buttonhole(a, b) => Self::Buttonhole(f(*a), f(*b)),
            Self::Fold(line) => Self::Fold(line.mapped(f)),
            Self::Stitch(line) => Self::Stitch(line.mapped(f)),
            Self::Text(at) => Self::Text(f(*at)),
            Self::Channel { line, width } => Self::Channel {
                line: line.mapped(f),
                width: *width,
            },
            Self::Eyelet { at, diameter } => Self::Eyelet {
                at: f(*at),
                diameter: *diameter,
            },
        }
    }

    /// The same mark moved as a whole.
    #[must_use]
    pub fn moved(&self, by: Vec2) -> Self {
        self.mapped(|p| p + by)
    }

    /// Every point of it, steering points of lines included.
    pub fn points(&self) -> Vec<Point> {
        match self {
            Self::Dot(at) | Self::Text(at) | Self::Eyelet { at, .. } => vec![*at],
            Self::Buttonhole(a, b) => vec![*a, *b],
            Self::Line(line)
            | Self::Fold(line)
            | Self::Stitch(line)
            | Self::Channel { line, .. } => line.points().to_vec(),
        }
    }

    /// Its middle: half way along a line, between the ends of a buttonhole.
    pub fn middle(&self) -> Point {
        match self {
            Self::Dot(at) | Self::Text(at) | Self::Eyelet { at, .. } => *at,
            Self::Buttonhole(a, b) => a.midpoint(*b),
            Self::Line(line)
            | Self::Fold(line)
            | Self::Stitch(line)
            | Self::Channel { line, .. } => line.at(0.5),
        }
    }

    /// Its line, where it is one.
    pub fn line(&self) -> Option<&Line> {
        match self {
            Self::Line(line)
            | Self::Fold(line)
            | Self::Stitch(line)
            | Self::Channel { line, .. } => Some(line),
            Self::Dot(_) | Self::Buttonhole(..) | Self::Text(_) | Self::Eyelet { .. } => None,
        }
    }

    /// The same mark with another line; a mark that is no line stays as it is.
    #[must_use]
    pub fn with_line(&self, line: Line) -> Self {
        match self {
            Self::Line(_) => Self::Line(line),
            Self::Fold(_) => Self::Fold(line),
            Self::Stitch(_) => Self::Stitch(line),
            Self::Channel { width, .. } => Self::Channel {
                line,
                width: *width,
            },
            other => other.clone(),
        }
    }

    /// Its width or diameter, where it has one.
    pub fn size(&self) -> Option<Mm> {
        match self {
            Self::Channel { width, .. } => Some(*width),
            Self::Eyelet { diameter, .. } => Some(*diameter),
            _ => None,
        }
    }

    /// What it is called in the trade: "dot", "placement line", "boning channel".
    pub fn noun(&self) -> &'static str {
        match self {
            Self::Dot(_) => "dot",
            Self::Line(_) => "placement line",
            Self::Buttonhole(..) => "buttonhole",
            Self::Fold(_) => "fold line",
            Self::Stitch(_) => "stitching line",
            Self::Text(_) => "words",
            Self::Channel { .. } => "channel",
            Self::Eyelet { .. } => "eyelet",
        }
    }
}
