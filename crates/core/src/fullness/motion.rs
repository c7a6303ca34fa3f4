//! How the strips between the rays of a spread piece move. See [`super::spread`] for what the rays are.

use kurbo::{Affine, Point, Vec2};

use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::tolerance::MEASURING;

use super::fit::{INSIDE, Place};
use super::spread::{Opening, SpreadError};
use super::walk::{Walk, knots};

/// Steps of the turning rays between two knots.
const STEPS: usize = 32;

/// Shortest ray that can turn.
const SHORTEST_RAY: f64 = 0.5;

/// How the strip at each ray moves.
#[derive(Debug, Clone)]
pub(super) struct Motion {
    edge: Walk,
    /// Walked against its drawn direction; `None` when the rays meet in one point.
    pub opposite: Option<Walk>,
    hinge: Point,
    pub from: f64,
    pub to: f64,
    pub kind: Kind,
    /// Brings fold or grain back to where they were.
    pub settle: Affine,
}

#[derive(Debug, Clone)]
pub(super) enum Kind {
    /// The edge is scaled by this.
    Even(f64),
    /// Cloth length of the whole range, and the turning rays at many fractions.
    Hinged { cloth: f64, turns: Vec<Turn> },
}

/// A ray that turned: its fraction, angle, and where its foot is.
#[derive(Debug, Clone, Copy)]
pub(super) struct Turn {
    at: f64,
    angle: f64,
    foot: Point,
    /// The ray before it turned, taken just inside the stretch that begins here.
    ray: Ray,
}

/// A ray before anything moves: its end on the edge, and its foot.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ray {
    pub edge: Place,
    pub foot: Place,
}

impl Motion {
    pub fn new(outline: &Outline, opening: Opening, chain: &[usize]) -> Result<Self, SpreadError> {
        let Opening {
            edge,
            from,
            to,
            growth,
            ..
        } = opening;
        let lines = |indices: &[usize]| -> Vec<Line> {
            indices
                .iter()
                .filter_map(|i| outline.edges().get(*i))
                .map(|e| e.line.clone())
                .collect()
        };
        let edge_walk = Walk::new(&lines(&[edge])).ok_or(SpreadError::NoLength { from, to })?;
        let length = edge_walk.length * (to - from);
        if !(length > MEASURING.0 && 0.0 <= from && to <= 1.0) {
            return Err(SpreadError::NoLength { from, to });
        }
        let next = outline.edges().get((edge + 1) % outline.edges().len());
        let mut motion = Self {
            edge: edge_walk,
            opposite: Walk::new(&lines(chain)),
            hinge: next.map_or(Point::ZERO, |e| e.line.end()),
            from,
            to,
            kind: Kind::Even((length + growth) / length),
            settle: Affine::IDENTITY,
        };
        if opening.even_to.is_none() {
            let turns = motion.turned(length + growth)?;
            motion.kind = Kind::Hinged {
                cloth: length + growth,
                turns,
            };
        }
        Ok(motion)
    }

    /// The edge at a fraction of the range.
    pub fn on_edge(&self, at: f64) -> Place {
        let range = self.to - self.from;
        let place = self.edge.at(self.from + at * range);
        Place {
            slope: place.slope * range,
            ..place
        }
    }

    /// The foot of the ray at a fraction of the range.
    pub fn on_foot(&self, at: f64) -> Place {
        let range = self.to - self.from;
        let Some(opposite) = &self.opposite else {
            return Place {
                at: self.hinge,
                slope: Vec2::ZERO,
            };
        };
        let place = opposite.at(1.0 - (self.from + at * range));
        Place {
            slope: place.slope * -range,
            ..place
        }
    }

    /// Fractions of the range where the edge or what lies opposite passes from one cubic to the next.
    pub fn knots(&self) -> Vec<f64> {
        let range = self.to - self.from;
        let edge = self
            .edge
            .joints()
            .into_iter()
            .map(|x| (x - self.from) / range);
        let foot = self
            .opposite
            .iter()
            .flat_map(Walk::joints)
            .map(|x| (1.0 - x - self.from) / range);
        knots(edge.chain(foot), 0.0, 1.0)
    }

    /// The ray at a fraction of the range.
    pub fn ray(&self, at: f64) -> Ray {
        Ray {
            edge: self.on_edge(at),
            foot: self.on_foot(at),
        }
    }

    /// Follows the turning rays from one end of the range to the other (Runge and Kutta's fourth order).
    fn turned(&self, cloth: f64) -> Result<Vec<Turn>, SpreadError> {
        let ray = self.ray(0.0);
        let mut now = Turn {
            at: 0.0,
            angle: 0.0,
            foot: ray.foot.at,
            ray,
        };
        let mut turns = vec![now];
        for pair in self.knots().windows(2) {
            let [from, to] = pair else { continue };
            // The lines may bend at a knot: the stretch behind it begins with its own direction.
            now.ray = self.ray(inside(*from, (*from, *to)));
            if let Some(last) = turns.last_mut() {
                last.ray = now.ray;
            }
            for step in 1..=STEPS {
                let next = from + (to - from) * step as f64 / STEPS as f64;
                now = self.step(cloth, now, next, (*from, *to));
                let ray = now.ray.length();
                if ray < SHORTEST_RAY {
                    return Err(SpreadError::TooShallow(ray));
                }
                turns.push(now);
            }
        }
        Ok(turns)
    }

    /// One step of the turning rays, within a stretch without bends.
    fn step(&self, cloth: f64, now: Turn, next: f64, stretch: (f64, f64)) -> Turn {
        let h = next - now.at;
        let (first, half, last) = (
            now.ray,
            self.ray(inside(now.at + h / 2.0, stretch)),
            self.ray(inside(next, stretch)),
        );
        let drift =
            |ray: Ray, angle: f64| (Affine::rotate(angle) * ray.foot.slope.to_point()).to_vec2();
        let (k1, k2, k4) = (
            first.turning(cloth),
            half.turning(cloth),
            last.turning(cloth),
        );
        let v1 = drift(first, now.angle);
        let v2 = drift(half, now.angle + k1 * h / 2.0);
        let v3 = drift(half, now.angle + k2 * h / 2.0);
        let v4 = drift(last, now.angle + k2 * h);
        Turn {
            at: next,
            angle: now.angle + (k1 + 4.0 * k2 + k4) * h / 6.0,
            foot: now.foot + (v1 + (v2 + v3) * 2.0 + v4) * (h / 6.0),
            ray: last,
        }
    }

    /// How the strip at a fraction of the range moves, before it is settled.
    pub fn raw(&self, at: f64) -> Affine {
        self.raw_with(at, &self.ray(at))
    }

    /// The same, where the ray there is known already.
    fn raw_with(&self, at: f64, ray: &Ray) -> Affine {
        match &self.kind {
            Kind::Even(scale) => {
                Affine::translate((ray.edge.at - self.on_edge(0.0).at) * (scale - 1.0))
            }
            Kind::Hinged { cloth, turns } => {
                let after = turns.partition_point(|turn| turn.at <= at);
                let Some(before) = turns.get(after.saturating_sub(1)) else {
                    return Affine::IDENTITY;
                };
                let end = turns.get(after).map_or(before.at, |turn| turn.at);
                let turn = if at > before.at {
                    self.step(*cloth, *before, at, (before.at, end))
                } else {
                    *before
                };
                Affine::translate(turn.foot.to_vec2())
                    * Affine::rotate(turn.angle)
                    * Affine::translate(-ray.foot.at.to_vec2())
            }
        }
    }

    pub fn settled(&self, at: f64) -> Affine {
        self.settle * self.raw(at)
    }

    /// The two ends of the ray at a fraction of the range, spread.
    pub fn moved_ray(&self, at: f64) -> (Point, Point) {
        let ray = self.ray(at);
        let motion = self.settle * self.raw_with(at, &ray);
        (motion * ray.edge.at, motion * ray.foot.at)
    }

    /// An end of the ray at a fraction, spread, with its derivative.
    pub fn place(&self, at: f64, which: impl FnOnce(&Ray) -> Place) -> Place {
        let ray = self.ray(at);
        let motion = self.settle * self.raw_with(at, &ray);
        let on = which(&ray);
        let gap = match &self.kind {
            Kind::Even(scale) => ray.edge.slope * (scale - 1.0),
            Kind::Hinged { cloth, .. } => (on.at - ray.foot.at).turn_90() * ray.turning(*cloth),
        };
        Place {
            at: motion * on.at,
            slope: turned_only(motion, on.slope + gap),
        }
    }

    /// Fraction of the ray that goes through a point; 0 before the range, 1 behind it.
    pub fn ray_through(&self, point: Point) -> f64 {
        let ahead = |at: f64| {
            let foot = self.on_foot(at).at;
            (self.on_edge(at).at - foot).cross(point - foot)
        };
        const SAMPLES: u32 = 48;
        let mut low = 0.0;
        if ahead(low) <= 0.0 {
            return low;
        }
        let samples = (1..=SAMPLES).map(|i| f64::from(i) / f64::from(SAMPLES));
        let Some(mut high) = samples.into_iter().find(|at| {
            let behind = ahead(*at) <= 0.0;
            if !behind {
                low = *at;
            }
            behind
        }) else {
            return 1.0;
        };
        for _ in 0..40 {
            let middle = (low + high) / 2.0;
            if ahead(middle) <= 0.0 {
                high = middle
            } else {
                low = middle
            }
        }
        high
    }
}

impl Ray {
    fn length(&self) -> f64 {
        (self.edge.at - self.foot.at).hypot()
    }

    /// How fast it turns, so that the edge becomes `cloth` long.
    fn turning(&self, cloth: f64) -> f64 {
        let (along, ray) = (self.edge.slope, self.edge.at - self.foot.at);
        let (a, b, c) = (
            ray.hypot2(),
            along.dot(ray.turn_90()),
            along.hypot2() - cloth * cloth,
        );
        (-b + (b * b - a * c).max(0.0).sqrt()) / a.max(f64::MIN_POSITIVE)
    }
}

/// A fraction taken off the bends at both ends of a stretch.
fn inside(at: f64, (from, to): (f64, f64)) -> f64 {
    let (low, high) = (from + INSIDE, to - INSIDE);
    // A stretch shorter than that: a fold at the very end of the edge.
    if low < high {
        at.clamp(low, high)
    } else {
        from.midpoint(to)
    }
}

/// The linear part of a motion applied to a direction.
fn turned_only(motion: Affine, v: Vec2) -> Vec2 {
    motion * v.to_point() - motion * Point::ZERO
}
