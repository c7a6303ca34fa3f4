//! Where points of a piece lie on the body.

use kurbo::Point;

use crate::adapt::Adapted;
use crate::body::Body;
use crate::garment::Garment;
use crate::geometry::curve::Line;
use crate::measure::{Level, Measure};
use crate::piece::{Frame, Piece, Placement};
use crate::tolerance::JOINING;

/// A part of the body that is dressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// Neck to floor, legs included.
    Trunk,
    /// One arm.
    Arm,
    /// One leg.
    Leg,
    /// The head.
    Head,
}

/// Front or back of the body.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Half {
    /// The front.
    Front,
    /// The back.
    Back,
    /// Both, or nobody can tell.
    Both,
}

impl Half {
    /// Do they have something in common?
    pub fn meets(self, other: Self) -> bool {
        self == Self::Both || other == Self::Both || self == other
    }

    /// "in front", "behind", "" for both.
    pub fn words(self) -> &'static str {
        match self {
            Self::Front => "in front",
            Self::Back => "behind",
            Self::Both => "",
        }
    }
}

/// Samples along one edge.
pub(super) const SAMPLES: u32 = 12;

/// A piece on its part of the body.
#[derive(Debug, Clone)]
pub(super) struct OnBody {
    /// Its place among the pieces of the garment.
    pub index: usize,
    pub frame: Frame,
    pub half: Half,
    /// Its body lines from the top: height on the body, mean height on the piece.
    lines: Vec<(f64, f64)>,
    /// The line it hangs from: height on the body and the line on the piece.
    hang: Option<Hang>,
    /// Lowest and highest place on the body.
    pub reach: (f64, f64),
    /// Heights along each of its edges, by their numbers: lowest, mean, highest.
    pub edges: Vec<(f64, f64, f64)>,
}

#[derive(Debug, Clone)]
struct Hang {
    height: f64,
    line: Vec<Point>,
    /// Mean height on the piece.
    level: f64,
    /// The line is an edge: does all of the piece hang below it (or none)?
    all_below: Option<bool>,
}

/// Every piece of the garment that lies on a part of the body and has a level to tell where.
pub(super) fn placed(adapted: &Adapted) -> Vec<OnBody> {
    let (garment, body) = (&adapted.made, &adapted.fitting.body);
    let pieces = garment.pieces.iter().enumerate();
    pieces
        .filter_map(|(index, piece)| OnBody::new(garment, body, piece, index))
        .collect()
}

/// The level a frame's cloth hangs from.
fn hangs_from(frame: Frame) -> Option<Level> {
    match frame {
        Frame::Torso => Some(Level::Waist),
        Frame::Arm => Some(Level::Underarm),
        Frame::Leg => Some(Level::Crotch),
        Frame::Head => None,
    }
}

impl OnBody {
    fn new(garment: &Garment, body: &Body, piece: &Piece, index: usize) -> Option<Self> {
        let Placement::Framed(frame) = piece.placement else {
            return None;
        };
        let mut lines: Vec<(f64, f64)> = piece
            .body_lines
            .iter()
            .filter_map(|line| {
                let (a, b) = (piece.point_at(&line.from)?, piece.point_at(&line.to)?);
                Some((body.height_of(line.level).0, f64::midpoint(a.y, b.y)))
            })
            .collect();
        lines.sort_by(|a, b| b.0.total_cmp(&a.0));
        if lines.is_empty() {
            return None;
        }
        let hang = hangs_from(frame).and_then(|level| Hang::new(body, piece, level));
        let mut placed = Self {
            index,
            frame,
            half: half_of(garment, piece),
            lines,
            hang,
            reach: (f64::MAX, f64::MIN),
            edges: Vec::new(),
        };
        let edges = piece.outline.edges().iter();
        placed.edges = edges.map(|edge| placed.along(&edge.line)).collect();
        for (low, _, high) in &placed.edges {
            placed.reach = (placed.reach.0.min(*low), placed.reach.1.max(*high));
        }
        Some(placed)
    }

    /// Where a point of the piece lies on the body.
    pub fn height(&self, p: Point) -> f64 {
        if let Some(hang) = self.hang.as_ref().filter(|hang| hang.is_below(p)) {
            return hang.height - hang.distance(p);
        }
        let (Some(first), Some(last)) = (self.lines.first(), self.lines.last()) else {
            return 0.0;
        };
        if p.y >= first.1 {
            return first.0 + (p.y - first.1);
        }
        for pair in self.lines.windows(2) {
            let [upper, lower] = pair else { continue };
            if p.y >= lower.1 {
                let depth = upper.1 - lower.1;
                let share = if depth > 1e-9 {
                    (upper.1 - p.y) / depth
                } else {
                    0.0
                };
                return upper.0 + (lower.0 - upper.0) * share;
            }
        }
        last.0 - (last.1 - p.y)
    }

    /// Does it lie on this part of the body?
    pub fn is_on(&self, part: Part) -> bool {
        match part {
            Part::Trunk => matches!(self.frame, Frame::Torso | Frame::Leg),
            Part::Leg => self.frame == Frame::Leg,
            Part::Arm => self.frame == Frame::Arm,
            Part::Head => self.frame == Frame::Head,
        }
    }

    /// The part of the body it is counted to.
    pub fn part(&self) -> Part {
        match self.frame {
            Frame::Torso | Frame::Leg => Part::Trunk,
            Frame::Arm => Part::Arm,
            Frame::Head => Part::Head,
        }
    }

    /// Does it lie over this height, give or take `near`?
    pub fn covers(&self, part: Part, half: Half, height: f64, near: f64) -> bool {
        self.is_on(part)
            && self.half.meets(half)
            && (self.reach.0 - near..=self.reach.1 + near).contains(&height)
    }

    /// Heights along an edge: lowest, mean, highest.
    pub fn along(&self, line: &Line) -> (f64, f64, f64) {
        let heights =
            (0..=SAMPLES).map(|i| self.height(line.at(f64::from(i) / f64::from(SAMPLES))));
        let start = (f64::MAX, 0.0, f64::MIN);
        heights.fold(start, |(low, mean, high), h| {
            (low.min(h), mean + h / f64::from(SAMPLES + 1), high.max(h))
        })
    }
}

impl Hang {
    fn new(body: &Body, piece: &Piece, level: Level) -> Option<Self> {
        let line = piece.body_lines.iter().find(|line| line.level == level)?;
        let (a, b) = (piece.point_at(&line.from)?, piece.point_at(&line.to)?);
        let near = |p: Point, q: Point| (p - q).hypot() < JOINING.0;
        let is_edge = |line: &Line| {
            near(line.start(), a) && near(line.end(), b)
                || near(line.start(), b) && near(line.end(), a)
        };
        let edge = piece
            .outline
            .edges()
            .iter()
            .find(|edge| is_edge(&edge.line));
        let height = body.height_of(level).0;
        let level = f64::midpoint(a.y, b.y);
        let Some(edge) = edge else {
            return Some(Self {
                height,
                line: vec![a, b],
                level,
                all_below: None,
            });
        };
        let steps = 2 * SAMPLES;
        let points: Vec<Point> = (0..=steps)
            .map(|i| edge.line.at(f64::from(i) / f64::from(steps)))
            .collect();
        let mean = points.iter().map(|p| p.y).sum::<f64>() / points.len().max(1) as f64;
        Some(Self {
            height,
            line: points,
            level: mean,
            all_below: Some(piece.outline.bounds().center().y < mean),
        })
    }

    fn is_below(&self, p: Point) -> bool {
        self.all_below.unwrap_or(p.y < self.level)
    }

    /// How far a point is from the line, along the cloth.
    fn distance(&self, p: Point) -> f64 {
        let legs = self.line.windows(2).filter_map(|pair| match pair {
            [a, b] => Some(to_leg(p, *a, *b)),
            _ => None,
        });
        legs.fold(f64::MAX, f64::min)
    }
}

fn to_leg(p: Point, a: Point, b: Point) -> f64 {
    let along = b - a;
    let size = along.hypot2();
    let share = if size > 0.0 {
        ((p - a).dot(along) / size).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (p - (a + along * share)).hypot()
}

/// Front or back: by the measures its tape lines take, by a line at the nape, by the words front and back in its name,
/// by an edge called centre front or centre back. Both when these say both, or nothing.
pub(crate) fn half_of(garment: &Garment, piece: &Piece) -> Half {
    let (mut front, mut back) = (false, false);
    let tapes = garment.tape_lines.iter();
    for tape in tapes.filter(|t| t.parts.iter().any(|part| part.piece == piece.name)) {
        front |= matches!(
            tape.measure,
            Measure::FrontWaistLength | Measure::AcrossFront
        );
        back |= matches!(tape.measure, Measure::BackWaistLength | Measure::AcrossBack);
    }
    back |= piece
        .body_lines
        .iter()
        .any(|line| line.level == Level::Nape);
    let name = piece.name.to_lowercase();
    front |= name.contains("front");
    back |= name.contains("back");
    for edge in piece.outline.edges() {
        front |= edge.name == "centre front";
        back |= edge.name == "centre back";
    }
    match (front, back) {
        (true, false) => Half::Front,
        (false, true) => Half::Back,
        _ => Half::Both,
    }
}
