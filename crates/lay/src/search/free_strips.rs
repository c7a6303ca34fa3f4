//! Free stretches of cloth of one width: where the segments of a joined strip can be cut.

use kurbo::{Point, Rect, Vec2};

use super::plane;
use super::problem::{Placed, Polygon, Problem};

/// Room left on every side of a stretch, mm: the engine counts in f32, and touching is a collision.
const SLACK: f64 = 0.02;

/// Even steps at which is looked beside the corners of what lies there.
const STEPS: u32 = 48;

/// Most heights that are looked at in one room; of more corners only some are taken.
const HEIGHTS: usize = 1200;

/// What kind of stretches are asked for.
#[derive(Clone, Copy, Debug)]
pub struct StripsAsked<'a> {
    /// Rooms that are looked at; `None`: all.
    pub rooms: Option<&'a [usize]>,
    /// Zones at least this good may be used.
    pub min_quality: Option<u8>,
    /// Direction of the stretches: turn from the x axis where the grain of the room runs along y, degrees counter-clockwise.
    pub direction_deg: f64,
    /// How wide they are, mm.
    pub width: f64,
    /// Shorter ones are of no use, mm.
    pub least: f64,
    /// How many at most.
    pub most: usize,
}

/// A free rectangle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FreeStrip {
    /// Where.
    pub room: usize,
    /// One corner; the stretch runs from here in its direction, and to the left of that.
    pub start: Point,
    /// Its direction, degrees from the x axis of the room.
    pub angle_deg: f64,
    /// How long it is, mm.
    pub length: f64,
}

/// Free stretches beside what lies there, the longest first; none overlaps another, all keep margins and gaps. Each next one is the
/// longest beside those before it, so they need not be the best choice together.
#[must_use]
pub fn free_strips(
    problem: &Problem,
    placed: &[Placed],
    asked: &StripsAsked<'_>,
) -> Vec<FreeStrip> {
    let usable = asked.width > 0.0 && asked.width.is_finite() && asked.least > 0.0;
    if !usable {
        return Vec::new();
    }
    let is_asked = |room: &usize| asked.rooms.is_none_or(|rooms| rooms.contains(room));
    let mut grounds: Vec<Ground> = (0..problem.rooms.len())
        .filter(is_asked)
        .filter_map(|room| Ground::new(problem, placed, room, asked))
        .collect();
    let mut found = Vec::new();
    while found.len() < asked.most {
        let mut best: Option<(usize, Rect)> = None;
        for (number, ground) in grounds.iter().enumerate() {
            let longer = |rect: &Rect| best.is_none_or(|old| rect.width() > old.1.width() + 1e-6);
            if let Some(rect) = ground.longest.filter(longer) {
                best = Some((number, rect));
            }
        }
        let Some((number, rect)) = best.filter(|best| best.1.width() >= asked.least) else {
            break;
        };
        if let Some(ground) = grounds.get_mut(number) {
            found.push(ground.told(rect));
            ground.take(rect, problem.gap);
        }
    }
    found
}

/// One room, turned so that the stretches run along x.
struct Ground {
    room: usize,
    angle_deg: f64,
    outline: Polygon,
    margin: f64,
    /// What is in the way, and how far a stretch keeps off it.
    blocked: Vec<(Polygon, f64)>,
    width: f64,
    /// The longest free stretch, without its slack.
    longest: Option<Rect>,
}

impl Ground {
    fn new(
        problem: &Problem,
        placed: &[Placed],
        number: usize,
        asked: &StripsAsked<'_>,
    ) -> Option<Self> {
        let room = problem.rooms.get(number)?;
        let angle_deg = room.grain.angle_deg + asked.direction_deg;
        let turned = |polygon: &[Point]| turned(polygon, -angle_deg);
        let holes = room.holes.iter();
        let holes = holes.map(|hole| (turned(hole), room.margin.max(problem.gap)));
        let is_poor = |quality: u8| asked.min_quality.is_none_or(|least| quality < least);
        let zones = room.zones.iter().filter(|zone| is_poor(zone.quality));
        let zones = zones.map(|zone| (turned(&zone.polygon), problem.gap));
        let others = placed.iter().filter(|one| one.room == number);
        let others = others.filter_map(|one| Some((turned(&problem.lying(one)?), problem.gap)));
        let mut ground = Self {
            room: number,
            angle_deg,
            outline: turned(&room.outline),
            margin: room.margin,
            blocked: holes.chain(zones).chain(others).collect(),
            width: asked.width + 2.0 * SLACK,
            longest: None,
        };
        ground.look();
        Some(ground)
    }

    /// Takes a stretch away and looks for the next.
    fn take(&mut self, rect: Rect, gap: f64) {
        let corners = vec![
            rect.origin(),
            Point::new(rect.x1, rect.y0),
            Point::new(rect.x1, rect.y1),
            Point::new(rect.x0, rect.y1),
        ];
        self.blocked.push((corners, gap));
        self.look();
    }

    fn told(&self, rect: Rect) -> FreeStrip {
        let start = Point::new(rect.x0 + SLACK, rect.y0 + SLACK);
        FreeStrip {
            room: self.room,
            start: turned(&[start], self.angle_deg)
                .first()
                .copied()
                .unwrap_or(start),
            angle_deg: self.angle_deg,
            length: rect.width() - 2.0 * SLACK,
        }
    }

    fn look(&mut self) {
        let mut best: Option<Rect> = None;
        for low in self.heights() {
            for (x0, x1) in self.free_at(low) {
                if best.is_none_or(|old| x1 - x0 > old.width() + 1e-6) {
                    best = Some(Rect::new(x0, low, x1, low + self.width));
                }
            }
        }
        self.longest = best.filter(|rect| rect.width() > 2.0 * SLACK);
    }

    /// Where a stretch may begin: just above or just below every corner, and at even steps.
    fn heights(&self) -> Vec<f64> {
        let edge = (&self.outline, self.margin);
        let blocked = self.blocked.iter().map(|(polygon, by)| (polygon, *by));
        let at: Vec<f64> = std::iter::once(edge)
            .chain(blocked)
            .flat_map(|(polygon, by)| polygon.iter().map(move |p| (p.y, by)))
            .flat_map(|(y, by)| [y + by, y - by - self.width])
            .collect();
        let every = at.len().div_ceil(HEIGHTS).max(1);
        let bounds = plane::bounds(&self.outline);
        let step = (bounds.height() - self.width) / f64::from(STEPS);
        let even = (0..=STEPS).map(|i| bounds.y0 + step * f64::from(i));
        at.into_iter().step_by(every).chain(even).collect()
    }

    /// Free stretches that begin at this height, from left to right.
    fn free_at(&self, low: f64) -> Vec<(f64, f64)> {
        let mut taken = Vec::new();
        along_edges(
            &self.outline,
            self.margin,
            low,
            low + self.width,
            &mut taken,
        );
        for (polygon, by) in &self.blocked {
            along_edges(polygon, *by, low, low + self.width, &mut taken);
        }
        taken.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut free = Vec::new();
        let mut end = f64::NEG_INFINITY;
        for (from, to) in taken {
            if from > end && end.is_finite() {
                free.push((end, from));
            }
            end = end.max(to);
        }
        // No edge runs through what is left, so one point of it tells whether all of it is there.
        free.retain(|(x0, x1)| {
            let middle = Point::new(f64::midpoint(*x0, *x1), low + self.width / 2.0);
            plane::inside(&self.outline, middle)
                && !self
                    .blocked
                    .iter()
                    .any(|(polygon, _)| plane::inside(polygon, middle))
        });
        free
    }
}

/// What the edges of a polygon, and what lies within `by` of them, take of a level band; a little too much at slanting edges.
fn along_edges(polygon: &[Point], by: f64, low: f64, high: f64, taken: &mut Vec<(f64, f64)>) {
    let (low, high) = (low - by, high + by);
    for (a, b) in plane::edges(polygon) {
        if a.y.max(b.y) <= low || a.y.min(b.y) >= high {
            continue;
        }
        let at = |y: f64| {
            if a.y == b.y {
                a.x
            } else {
                a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x)
            }
        };
        let (from, to) = if a.y == b.y {
            (a.x, b.x)
        } else {
            (at(a.y.clamp(low, high)), at(b.y.clamp(low, high)))
        };
        taken.push((from.min(to) - by, from.max(to) + by));
    }
}

/// Points turned about the origin.
pub(crate) fn turned(points: &[Point], degrees: f64) -> Polygon {
    let (sin, cos) = libm::sincos(degrees.to_radians());
    let turn = |p: &Point| Point::new(cos * p.x - sin * p.y, sin * p.x + cos * p.y);
    points.iter().map(turn).collect()
}

impl FreeStrip {
    /// A way along it and to its left, in the room.
    #[must_use]
    pub fn way(&self, along: f64, left: f64) -> Vec2 {
        let (sin, cos) = libm::sincos(self.angle_deg.to_radians());
        Vec2::new(cos * along - sin * left, sin * along + cos * left)
    }
}
