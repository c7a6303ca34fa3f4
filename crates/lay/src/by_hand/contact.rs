//! How far a part is from what it must not touch, and which way it would have to move.

use petitoile_core::kurbo::{Line, ParamCurve, Point, Rect, Vec2};

/// How near a part is to one thing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Contact {
    /// Room left before the distance that is to be kept is used up, mm; below 0: by how much it must move.
    pub(super) room: f64,
    /// Unit vector: away from it.
    pub(super) away: Vec2,
}

/// An outline with its bounds.
#[derive(Debug, Clone)]
pub(super) struct Shape {
    points: Vec<Point>,
    bounds: Rect,
}

impl Shape {
    /// `None` without points.
    pub(super) fn new(points: Vec<Point>) -> Option<Self> {
        let first = points.first()?;
        let bounds = points
            .iter()
            .fold(Rect::from_points(*first, *first), |bounds, p| {
                bounds.union_pt(*p)
            });
        Some(Self { points, bounds })
    }

    pub(super) fn moved(&self, by: Vec2) -> Self {
        Self {
            points: self.points.iter().map(|p| *p + by).collect(),
            bounds: self.bounds + by,
        }
    }

    fn edges(&self) -> impl Iterator<Item = Line> + '_ {
        let next = self.points.iter().cycle().skip(1);
        self.points.iter().zip(next).map(|(a, b)| Line::new(*a, *b))
    }

    /// Are they surely farther apart than this?
    pub(super) fn far_from(&self, other: &Self, by: f64) -> bool {
        let near = self.bounds.inflate(by, by).intersect(other.bounds);
        near.width() <= 0.0 || near.height() <= 0.0
    }

    fn contains(&self, p: Point) -> bool {
        let mut inside = false;
        for edge in self.edges() {
            let (a, b) = (edge.p0, edge.p1);
            if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x) {
                inside = !inside;
            }
        }
        inside
    }

    /// The point of the edge that is nearest.
    fn nearest(&self, p: Point) -> Option<Point> {
        self.edges()
            .map(|edge| on(&edge, p))
            .min_by(|a, b| (*a - p).hypot2().total_cmp(&(*b - p).hypot2()))
    }

    /// The corners, and the middles of the stretches of edges that run through the other outline from side to side.
    fn probes(&self, other: &Self) -> Vec<Point> {
        let mut probes = self.points.clone();
        for edge in self.edges() {
            let mut at: Vec<f64> = other
                .edges()
                .filter_map(|across| crossing(&edge, &across))
                .collect();
            at.sort_by(f64::total_cmp);
            let pairs = at.iter().zip(at.iter().skip(1));
            probes.extend(pairs.map(|(a, b)| edge.eval((a + b) / 2.0)));
        }
        probes
    }
}

/// A part beside something it must stay off by `keep`.
pub(super) fn beside(part: &Shape, other: &Shape, keep: f64) -> Option<Contact> {
    let into = |p: &Point| other.contains(*p);
    deepest(part, other, keep, into)
        .or_else(|| apart(part, other, keep))
        .or_else(|| touching(part.bounds.center() - other.bounds.center(), keep))
}

/// A part inside an edge it must stay off by `keep`.
pub(super) fn inside(part: &Shape, edge: &Shape, keep: f64) -> Option<Contact> {
    let out = |p: &Point| !edge.contains(*p);
    deepest(part, edge, keep, out)
        .or_else(|| apart(part, edge, keep))
        .or_else(|| touching(edge.bounds.center() - part.bounds.center(), keep))
}

/// Two that just touch: away is from middle to middle, or up.
fn touching(away: Vec2, keep: f64) -> Option<Contact> {
    let long = away.hypot();
    Some(Contact {
        room: -keep,
        away: if long > 0.0 {
            away / long
        } else {
            Vec2::new(0.0, 1.0)
        },
    })
}

/// How deep a part is where it must not be. `None` when it is not.
fn deepest(
    part: &Shape,
    other: &Shape,
    keep: f64,
    wrong: impl Fn(&Point) -> bool,
) -> Option<Contact> {
    let mine = part
        .probes(other)
        .into_iter()
        .filter(|p| wrong(p))
        .filter_map(|p| Some(other.nearest(p)? - p));
    let theirs = other
        .probes(part)
        .into_iter()
        .filter(|p| part.contains(*p))
        .filter_map(|p| Some(p - part.nearest(p)?));
    let way = mine
        .chain(theirs)
        .filter(|way| way.hypot() > 1e-9)
        .max_by(|a, b| a.hypot2().total_cmp(&b.hypot2()))?;
    Some(Contact {
        room: -way.hypot() - keep,
        away: way / way.hypot(),
    })
}

/// How far apart two edges are that do not cross. `None` when they touch, so that there is no way from one to the other.
fn apart(part: &Shape, other: &Shape, keep: f64) -> Option<Contact> {
    let mine = part
        .points
        .iter()
        .filter_map(|p| Some(*p - other.nearest(*p)?));
    let theirs = other
        .points
        .iter()
        .filter_map(|p| Some(part.nearest(*p)? - *p));
    let way = mine
        .chain(theirs)
        .min_by(|a, b| a.hypot2().total_cmp(&b.hypot2()))?;
    let long = way.hypot();
    (long > 1e-12).then(|| Contact {
        room: long - keep,
        away: way / long,
    })
}

fn on(edge: &Line, p: Point) -> Point {
    let along = edge.p1 - edge.p0;
    let long = along.hypot2();
    if long <= 0.0 {
        return edge.p0;
    }
    edge.p0 + along * ((p - edge.p0).dot(along) / long).clamp(0.0, 1.0)
}

/// Where along the first line the second crosses it, from 0 to 1.
fn crossing(one: &Line, two: &Line) -> Option<f64> {
    let (a, b) = (one.p1 - one.p0, two.p1 - two.p0);
    let across = a.cross(b);
    if across.abs() < 1e-12 {
        return None;
    }
    let between = two.p0 - one.p0;
    let (s, t) = (between.cross(b) / across, between.cross(a) / across);
    ((0.0..=1.0).contains(&s) && (0.0..=1.0).contains(&t)).then_some(s)
}
