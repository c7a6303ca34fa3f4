//! What is to be laid where: rooms, items, ways of cutting an item, and the plan that comes out.
//!
//! Lengths in mm, angles in degrees counter-clockwise, y up. Nothing here knows garments: a *room* is an offcut, an *item* one
//! copy of a piece, a *way* one manner of cutting that copy (whole, split, patched ...), a *part* one outline to cut out.

use kurbo::Point;
use thiserror::Error;

/// A closed line of straight edges, first point not repeated (a repeated one is taken off), either direction.
pub type Polygon = Vec<Point>;

/// All that has to be laid, and where it may lie.
#[derive(Clone, Debug, Default)]
pub struct Problem {
    /// Where parts can lie.
    pub rooms: Vec<Room>,
    /// What has to lie there: one entry a copy.
    pub items: Vec<Item>,
    /// Least distance between two parts, mm.
    pub gap: f64,
    /// Parts that lie already and are never moved: cut ones, or pinned by hand. Each names an item of `items`, which is then cut
    /// in that way. What a fixed part covers is taken; it is not checked where it lies.
    pub fixed: Vec<Placed>,
}

/// One offcut.
#[derive(Clone, Debug, Default)]
pub struct Room {
    /// Its edge.
    pub outline: Polygon,
    /// What is missing inside. Parts keep `margin` or the gap away from it, whichever is more.
    pub holes: Vec<Polygon>,
    /// Places that only some parts may use.
    pub zones: Vec<Zone>,
    /// It is cut into anyway: using it opens no new offcut.
    pub already_open: bool,
    /// How far parts stay away from its edge, mm.
    pub margin: f64,
    /// Which way its grain runs.
    pub grain: Grain,
}

/// A stain or worn place.
#[derive(Clone, Debug)]
pub struct Zone {
    /// How good the cloth is here; parts with [`Part::min_quality`] at most this may use it.
    pub quality: u8,
    /// Where it is. Parts that may not use it keep off it by the gap.
    pub polygon: Polygon,
}

/// Direction of the grain of a room.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Grain {
    /// Turn from the y axis, degrees counter-clockwise.
    pub angle_deg: f64,
    /// How far the true direction may be off either way. It is taken off every part's tolerance (down to 0), so that a part laid
    /// within what is left is within its tolerance whatever the true direction is.
    pub doubt_deg: f64,
}

/// One copy of a piece.
#[derive(Clone, Debug, Default)]
pub struct Item {
    /// Ways of cutting it; the search takes one. Without a way the item can never lie.
    pub ways: Vec<Way>,
    /// Higher ones are placed before lower ones.
    pub priority: u32,
}

/// One way of cutting an item.
#[derive(Clone, Debug, Default)]
pub struct Way {
    /// All of them must lie for the item to count as placed.
    pub parts: Vec<Part>,
    /// Seams added, or any other rank: the sum over all placed items is kept small.
    pub cost: u32,
}

/// Whether a part lies as drawn or mirrored left to right (x to -x) in its own frame.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Mirror {
    /// As drawn.
    #[default]
    Never,
    /// Mirrored.
    Always,
    /// As it fits.
    Either,
}

/// One outline to cut out. Its own frame has the grain along y.
#[derive(Clone, Debug, Default)]
pub struct Part {
    /// Its outline.
    pub outline: Polygon,
    /// Turns it may lie in, degrees from the grain of the room: `[0]` one way, `[0, 180]` both ways. Empty counts as `[0]`.
    pub turns: Vec<f64>,
    /// How far it may be off each of these, either way, continuously. 180 and more: any angle.
    pub tolerance_deg: f64,
    /// Whether it lies mirrored.
    pub mirror: Mirror,
    /// It may lie in zones of at least this quality; `None`: in no zone.
    pub min_quality: Option<u8>,
    /// Rooms it may lie in (its cloth); `None`: all.
    pub rooms: Option<Vec<usize>>,
}

/// Where one part lies: a point `p` of its frame goes to `turn(mirror(p)) + (x, y)` of the room's frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Index into [`Problem::items`].
    pub item: usize,
    /// Index into [`Item::ways`].
    pub way: usize,
    /// Index into [`Way::parts`].
    pub part: usize,
    /// Index into [`Problem::rooms`].
    pub room: usize,
    /// Turn, degrees counter-clockwise, after mirroring. It counts from the room's own axes, not from its grain.
    pub turn_deg: f64,
    /// Mirrored left to right before turning.
    pub mirrored: bool,
    /// Shift after turning, mm.
    pub x: f64,
    /// Shift after turning, mm.
    pub y: f64,
}

/// What the search found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// Every part of every item that is placed, fixed ones included; by item, then part.
    pub placed: Vec<Placed>,
    /// Items that found no place, smallest index first.
    pub not_placed: Vec<usize>,
}

/// Why a problem cannot be searched. Indices are those of the [`Problem`].
#[derive(Clone, Debug, Error, PartialEq)]
pub enum ProblemError {
    /// An outline is no simple polygon.
    #[error("{what}: {why}")]
    Outline {
        /// Which one.
        what: What,
        /// What is wrong.
        why: OutlineFault,
    },
    /// Gap, margin, tolerance, turn or place is not a finite number, or a length is negative.
    #[error("{0}: a number is not finite or below 0")]
    Number(What),
    /// [`Problem::fixed`] names something that is not there.
    #[error(
        "fixed part {0} names an item, way, part or room that is not there, or lies twice, or its item is cut in two ways"
    )]
    Fixed(usize),
}

/// Which outline or number is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum What {
    /// The gap.
    #[error("gap")]
    Gap,
    /// The edge, margin or grain of a room.
    #[error("room {0}")]
    Room(usize),
    /// A hole: room, hole.
    #[error("room {0}, hole {1}")]
    Hole(usize, usize),
    /// A zone: room, zone.
    #[error("room {0}, zone {1}")]
    Zone(usize, usize),
    /// A part: item, way, part.
    #[error("item {0}, way {1}, part {2}")]
    Part(usize, usize, usize),
    /// A fixed part.
    #[error("fixed part {0}")]
    Fixed(usize),
}

/// What is wrong with an outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum OutlineFault {
    /// Fewer than three different points.
    #[error("fewer than three different points")]
    TooFewPoints,
    /// A coordinate is not finite.
    #[error("a coordinate is not a finite number")]
    NotFinite,
    /// Two edges cross or touch.
    #[error("it crosses or touches itself")]
    CrossesItself,
    /// It has no area.
    #[error("it has no area")]
    Flat,
}

impl Problem {
    /// The part a placement names, if there is one.
    #[must_use]
    pub fn part(&self, placed: &Placed) -> Option<&Part> {
        self.items
            .get(placed.item)?
            .ways
            .get(placed.way)?
            .parts
            .get(placed.part)
    }

    /// The outline of a placed part in its room, mm. `None` when the placement names no part of this problem.
    #[must_use]
    pub fn lying(&self, placed: &Placed) -> Option<Polygon> {
        Some(placed.moved(&self.part(placed)?.outline))
    }
}

impl Placed {
    /// An outline of the part's frame, moved to where it lies in the room.
    #[must_use]
    pub fn moved(&self, outline: &[Point]) -> Polygon {
        let (sin, cos) = libm::sincos(self.turn_deg.to_radians());
        outline
            .iter()
            .map(|point| {
                let x = if self.mirrored { -point.x } else { point.x };
                Point::new(
                    cos * x - sin * point.y + self.x,
                    sin * x + cos * point.y + self.y,
                )
            })
            .collect()
    }
}
