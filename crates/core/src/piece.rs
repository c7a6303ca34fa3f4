//! A piece: its finished outline, what is marked on it, and how many are cut.

use kurbo::Point;
use serde::{Deserialize, Serialize};

use crate::edge::OutlinePoint;
use crate::fullness::FullnessOp;
use crate::geometry::outline::Outline;
pub use crate::mark::{Mark, MarkKind};
use crate::measure::{Level, Measure};
use crate::notch::Notch;
use crate::units::Mm;

/// One piece of a garment: finished (unpleated, sewn) outline without allowance.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Piece {
    /// Unique in its garment.
    pub name: String,
    /// Finished stitch line. A piece cut on a fold is stored as one half.
    pub outline: Outline,
    /// Which part of the body steers it.
    pub placement: Placement,
    /// Levels of the body that cross it.
    #[serde(default)]
    pub body_lines: Vec<BodyLine>,
    /// Darts whose two legs are edges of the outline.
    #[serde(default)]
    pub darts: Vec<Dart>,
    /// Notches on the edges.
    #[serde(default)]
    pub notches: Vec<Notch>,
    /// Marks inside: dots, buttonholes, placement lines.
    #[serde(default)]
    pub marks: Vec<Mark>,
    /// Two points along the warp; `None` means upright.
    #[serde(default)]
    pub grainline: Option<(Point, Point)>,
    /// Pleats, gathers and tucks that turn the finished outline into the cloth outline.
    #[serde(default)]
    pub fullness: Vec<FullnessOp>,
    /// Every copy that is cut.
    pub copies: Vec<Copy>,
    /// Which side of the cloth the drawing shows.
    #[serde(default, skip_serializing_if = "Face::is_right")]
    pub face: Face,
}

/// A side of the cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Face {
    /// The right side: the one that is seen when the garment is worn.
    #[default]
    Right,
    /// The wrong side, which lies inwards.
    Wrong,
}

impl Face {
    /// Is it the right side?
    pub fn is_right(&self) -> bool {
        *self == Self::Right
    }

    /// "right side" or "wrong side".
    pub fn words(self) -> &'static str {
        match self {
            Self::Right => "right side",
            Self::Wrong => "wrong side",
        }
    }
}

/// Which part of the body steers a piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Placement {
    /// It lies on a part of the body and is adapted by that part's body lines.
    Framed(Frame),
    /// It lies on none (collar, cuff, ruffle, pocket, band, kerchief) and follows rules of its own.
    Follows(Follow),
}

/// A part of the body with levels of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Frame {
    /// Neck to floor: bodices, skirts, gowns.
    Torso,
    /// Shoulder to wrist: sleeves.
    Arm,
    /// Waist to ankle, one leg at a time: trousers.
    Leg,
    /// Hats and hoods.
    Head,
}

impl Frame {
    /// Its name: "torso".
    pub const fn label(self) -> &'static str {
        match self {
            Self::Torso => "torso",
            Self::Arm => "arm",
            Self::Leg => "leg",
            Self::Head => "head",
        }
    }
}

/// How a piece without a frame gets its two sizes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Follow {
    /// Its size along x in the piece's own drawing.
    pub length: FollowRule,
    /// Its size along y in the piece's own drawing.
    pub depth: FollowRule,
}

/// What one size of a frameless piece follows.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum FollowRule {
    /// The edges it is sewn to.
    Mate,
    /// A share of a girth of the body.
    ShareOfGirth {
        /// Which girth.
        measure: Measure,
        /// 0.5 for half of it.
        share: f64,
    },
    /// A ratio of a length of the body.
    RatioOfLength {
        /// Which length.
        measure: Measure,
        /// 0.1 for a tenth of it.
        ratio: f64,
    },
    /// A size typed by the maker.
    Typed(Mm),
    /// In proportion, by the fitting's choice for details (height or girth).
    Detail,
}

/// A level of the body on a piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BodyLine {
    /// Which level.
    pub level: Level,
    /// Where it meets the outline on one side.
    pub from: OutlinePoint,
    /// Where it meets the outline on the other side.
    pub to: OutlinePoint,
}

/// A dart that opens at an edge: two equal legs that are edges of the outline and meet at the apex.
///
/// Counter-clockwise, `leg_in` runs from the mouth to the apex and `leg_out` from the apex back to the mouth.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Dart {
    /// Unique in its piece.
    pub name: String,
    /// Edge from the mouth to the apex.
    pub leg_in: String,
    /// Edge from the apex to the mouth.
    pub leg_out: String,
    /// Towards which side the sewn dart is pressed.
    pub pressed: DartPress,
}

/// Towards which leg a sewn dart is pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum DartPress {
    /// Towards the edge before the dart (counter-clockwise).
    #[default]
    Before,
    /// Towards the edge after the dart.
    After,
}

/// One cut copy of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Copy {
    /// Which side of the body; left is the mirror image of the drawing.
    pub side: Side,
    /// Which layer of the garment.
    pub role: Role,
}

/// Side of the body that a copy is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Side {
    /// One that lies across both sides, or has none.
    Whole,
    /// As drawn.
    Right,
    /// Mirrored.
    Left,
}

/// Layer of the garment that a copy belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Role {
    /// The outer cloth.
    Shell,
    /// The lining.
    Lining,
    /// Between shell and lining.
    Interlining,
    /// Mounted on the shell and sewn as one with it.
    FlatLined,
}

impl Piece {
    /// Copies cut in this role.
    pub fn copies_in(&self, role: Role) -> usize {
        self.copies.iter().filter(|copy| copy.role == role).count()
    }

    /// How often the drawn outline goes round the body in the shell (or in the role the piece has, when it has
    /// no shell copy): copies, counted twice where the drawing is one half on a fold.
    pub fn times_round(&self) -> f64 {
        let role = if self.copies_in(Role::Shell) > 0 {
            Role::Shell
        } else {
            self.copies.first().map_or(Role::Shell, |c| c.role)
        };
        let fold = if self.fold_edge().is_some() { 2.0 } else { 1.0 };
        self.copies_in(role) as f64 * fold
    }

    /// The edge on which the cloth is folded, if any.
    pub fn fold_edge(&self) -> Option<&crate::edge::Edge> {
        self.outline.edges().iter().find(|edge| edge.is_fold())
    }

    /// Where an outline point lies.
    pub fn point_at(&self, at: &OutlinePoint) -> Option<Point> {
        self.outline
            .edge(&at.edge)
            .map(|edge| edge.line.at(at.fraction))
    }
}
