//! By hand: what a part would hit where it is held, how deep, and where it would just touch. All in f64.

use kurbo::{Point, Vec2};

use super::floor::Floor;
use super::plane;
use super::problem::{Item, Part, Placed, Polygon, Problem, ProblemError, Room, Way};
use super::stock::{Pose, Stock};

/// Rounds a sliding part is stepped at most; each step is as long as the free way that is certain.
const STEPS: usize = 400;

/// Where a slide ends, mm before the gap is used up: so that what just touches is still free.
const CLEAR: f64 = 1e-6;

/// Least step while something is in the way, as a share of the way to go.
const STRIDE: f64 = 1.0 / 200.0;

/// What lies on the cloth, ready to be asked.
#[derive(Clone, Debug)]
pub struct Table<'a> {
    problem: &'a Problem,
    lying: Vec<(Placed, Polygon)>,
}

/// One thing a part hits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hit {
    /// What it hits.
    pub what: Obstacle,
    /// How deep it reaches in, or how much of the distance it should keep is missing, mm; the farther of both.
    pub by: f64,
}

/// What a part can hit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Obstacle {
    /// The edge of the room (with its margin).
    Edge,
    /// A hole of the room, by its number.
    Hole(usize),
    /// A zone it may not use, by its number.
    Zone(usize),
    /// Another part.
    Part(Placed),
}

impl<'a> Table<'a> {
    /// Lays down what is placed. Placements that name nothing of the problem are left out.
    #[must_use]
    pub fn new(problem: &'a Problem, placed: &[Placed]) -> Self {
        let lying = placed
            .iter()
            .filter_map(|placed| Some((*placed, problem.lying(placed)?)))
            .collect();
        Self { problem, lying }
    }

    /// Everything a part hits where it is held. The same part of the same item, where it lies, does not count. Empty: it is free.
    /// Also empty when the placement names nothing of the problem.
    #[must_use]
    pub fn hits(&self, held: &Placed) -> Vec<Hit> {
        let mut hits = Vec::new();
        let _ = self.each(held, &mut |what, distance, deep, keep| {
            let by = deep.max(keep - distance);
            if by > 1e-9 {
                hits.push(Hit { what, by });
            }
        });
        hits
    }

    /// Whether a part is free where it is held.
    #[must_use]
    pub fn is_free(&self, held: &Placed) -> bool {
        self.hits(held).is_empty()
    }

    /// Slides a free part in a direction until it just touches something, at most `reach` mm. From where it is not free it is first
    /// slid to the nearest place in that direction where it is. `None` when there is no free place on the way.
    #[must_use]
    pub fn touch(&self, held: &Placed, direction: Vec2, reach: f64) -> Option<Placed> {
        let length = direction.hypot();
        if !(length > 0.0 && length.is_finite() && reach.is_finite()) {
            return None;
        }
        let along = direction / length;
        let at = |way: f64| Placed {
            x: held.x + along.x * way,
            y: held.y + along.y * way,
            ..*held
        };
        let (start, was_free) = self.first_free(&at, reach)?;
        if !was_free {
            return Some(at(start));
        }
        let mut way = start;
        for _ in 0..STEPS {
            let free = self.free_way(&at(way))?.min(reach - way);
            if free <= CLEAR {
                break;
            }
            way += free - CLEAR * 0.5;
        }
        Some(at(way))
    }

    /// The nearest free place in 32 directions, at most `reach` mm away; where it is held when that is free.
    #[must_use]
    pub fn nearest_free(&self, held: &Placed, reach: f64) -> Option<Placed> {
        if self.is_free(held) {
            return Some(*held);
        }
        (0..32)
            .filter_map(|step| {
                let (sin, cos) = libm::sincos(f64::from(step) * std::f64::consts::TAU / 32.0);
                let at = |way: f64| Placed {
                    x: held.x + cos * way,
                    y: held.y + sin * way,
                    ..*held
                };
                let (way, _) = self.first_free(&at, reach)?;
                Some((way, at(way)))
            })
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|found| found.1)
    }

    /// How far along a way a part is free for the first time, and whether it is at once.
    fn first_free(&self, at: &impl Fn(f64) -> Placed, reach: f64) -> Option<(f64, bool)> {
        if self.is_free(&at(0.0)) {
            return Some((0.0, true));
        }
        let stride = reach * STRIDE;
        let mut taken = 0.0;
        while taken < reach {
            let next = (taken + stride).min(reach);
            if self.is_free(&at(next)) {
                let (mut low, mut high) = (taken, next);
                while high - low > CLEAR {
                    let middle = (low + high) * 0.5;
                    if self.is_free(&at(middle)) {
                        high = middle
                    } else {
                        low = middle
                    }
                }
                return Some((high, false));
            }
            taken = next;
        }
        None
    }

    /// How far a free part can certainly be moved in any direction.
    fn free_way(&self, held: &Placed) -> Option<f64> {
        let mut free = f64::INFINITY;
        self.each(held, &mut |_, distance, _, keep| {
            free = free.min(distance - keep)
        })?;
        Some(free.max(0.0))
    }

    /// Every obstacle: what, its distance, how deep the part reaches in, the distance it should keep.
    fn each(&self, held: &Placed, tell: &mut impl FnMut(Obstacle, f64, f64, f64)) -> Option<()> {
        let part = self.problem.part(held)?;
        let room = self.problem.rooms.get(held.room)?;
        let gap = self.problem.gap;
        let outline = self.problem.lying(held)?;
        let out = plane::sticks_out(&outline, &room.outline);
        let crosses = plane::edges(&outline).any(|(a, b)| {
            plane::edges(&room.outline).any(|(c, d)| plane::segments_cross(a, b, c, d))
        });
        let from_edge = if out > 0.0 || crosses {
            0.0
        } else {
            plane::edge_distance(&outline, &room.outline)
        };
        let margin = room.margin.max(0.0);
        tell(
            Obstacle::Edge,
            from_edge,
            if out > 0.0 { out + margin } else { 0.0 },
            margin,
        );
        let mut one = |what: Obstacle, other: &Polygon, keep: f64| {
            let distance = plane::distance(&outline, other);
            let deep = if distance > 0.0 {
                0.0
            } else {
                plane::depth(&outline, other)
            };
            tell(
                what,
                distance,
                if deep > 0.0 { deep + keep } else { 0.0 },
                keep,
            );
        };
        for (index, hole) in room.holes.iter().enumerate() {
            one(Obstacle::Hole(index), hole, margin.max(gap));
        }
        for (index, zone) in room.zones.iter().enumerate() {
            if part.min_quality.is_none_or(|least| zone.quality < least) {
                one(Obstacle::Zone(index), &zone.polygon, gap);
            }
        }
        for (placed, other) in &self.lying {
            let itself = (placed.item, placed.way, placed.part) == (held.item, held.way, held.part);
            if placed.room == held.room && !itself {
                one(Obstacle::Part(*placed), other, gap);
            }
        }
        Some(())
    }
}

/// Two outlines in the collision core that the search is built on, so that tests can hold it against others.
#[derive(Debug)]
pub struct CorePair {
    stock: Stock,
    floor: Floor,
}

impl CorePair {
    /// One outline lies where it is, in a square room of `size` mm around 0; the other will ask.
    ///
    /// # Errors
    /// As [`super::Search::new`].
    pub fn new(standing: &Polygon, asking: &Polygon, size: f64) -> Result<Self, ProblemError> {
        let half = size * 0.5;
        let outline = [(-half, -half), (half, -half), (half, half), (-half, half)]
            .map(Point::from)
            .to_vec();
        let item = |outline: &Polygon| {
            let part = Part {
                outline: outline.clone(),
                tolerance_deg: 180.0,
                ..Part::default()
            };
            Item {
                ways: vec![Way {
                    parts: vec![part],
                    cost: 0,
                }],
                priority: 0,
            }
        };
        let lies = Placed {
            item: 0,
            way: 0,
            part: 0,
            room: 0,
            turn_deg: 0.0,
            mirrored: false,
            x: 0.0,
            y: 0.0,
        };
        let problem = Problem {
            rooms: vec![Room {
                outline,
                ..Room::default()
            }],
            items: vec![item(standing), item(asking)],
            gap: 0.0,
            fixed: vec![lies],
        };
        let stock = Stock::new(&problem)?;
        let floor = Floor::new(&stock);
        Ok(Self { stock, floor })
    }

    /// Whether the core says that they collide when the asking one is turned and then shifted.
    pub fn collide(&mut self, turn_deg: f64, shift: Vec2) -> bool {
        let Some(shape) = self
            .stock
            .bodies
            .get(1)
            .and_then(|body| body.shapes.first().copied())
        else {
            return false;
        };
        let middle = self
            .stock
            .shapes
            .get(shape)
            .map_or(Vec2::ZERO, |shape| shape.middle);
        let (sin, cos) = libm::sincos(turn_deg.to_radians());
        let pose = Pose {
            bay: 0,
            shape,
            turn: turn_deg.to_radians() as f32,
            x: (shift.x + cos * middle.x - sin * middle.y) as f32,
            y: (shift.y + sin * middle.x + cos * middle.y) as f32,
        };
        !self.floor.is_free(&self.stock, 1, &pose)
    }
}
