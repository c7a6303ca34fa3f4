//! Where a part nearly fits: a straight seam, or two, that take off all that sticks out, just inside of the cloth there.

#![allow(
    clippy::indexing_slicing,
    reason = "bodies, items and bays are numbered by the stock"
)]

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay as _;
use kurbo::{Point, Vec2};

use super::chance::Chance;
use super::driver::Search;
use super::problem::{Part, Placed, Polygon, Problem};
use super::stock::Pose;
use super::{offset, plane, start};

/// A place of a part, and the seams that take off what sticks out there.
#[derive(Clone, Debug, PartialEq)]
pub struct SeamsOff {
    /// Where the part would lie.
    pub placed: Placed,
    /// One seam; two only where one does not do.
    pub seams: Vec<SeamOff>,
    /// Area that is taken off, mm2.
    pub area: f64,
}

/// A straight seam across a part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeamOff {
    /// Square to the seam, towards what is taken off, 1 mm long.
    pub out: Vec2,
    /// Where the seam runs: its points have this much along `out`, mm.
    pub level: f64,
}

/// Looks by chance, and the places that are looked at more closely.
const DRAWS: usize = 6;
const CLOSER: usize = 4;

/// Slanting edges of what sticks out that are tried as seams.
const SLANTS: usize = 3;

/// Separate bits that stick out, of which it is looked whether two seams take them off.
const BITS: usize = 6;

/// More than this share of a part is not taken off. Own figure, that of corner patches.
const LARGEST: f64 = 0.3;

/// What sticks out by less area is rounding, mm2.
const NOTHING: f64 = 0.01;

/// How far a seam and its allowance keep inside of the cloth, mm: the engine counts in f32, and touching is a collision.
const SLACK: f64 = 0.02;

/// Strides of the closer look, as shares of the diameter, and how many.
const STRIDE: (f64, f64) = (0.04, 0.0002);
const ROUNDS: usize = 80;

impl Search {
    /// Places beside everything else of the best plan where one seam takes off all that sticks out of an item cut in this way (of
    /// one part), or two where one does not do: those first that need the fewest seams, then the least patch. The seams are told in
    /// the part's own frame. Along them the part that stays has an allowance. The search itself is not changed. `draw` makes one
    /// look differ from another.
    pub fn seams_off(
        &mut self,
        item: usize,
        way: usize,
        allowance: f64,
        draw: u64,
    ) -> Vec<SeamsOff> {
        let ways = self.stock.of.get(item).and_then(|ways| ways.get(way));
        let Some(&[body]) = ways.map(Vec::as_slice) else {
            return Vec::new();
        };
        let others = |placed: &&Placed| placed.item != item;
        let others: Vec<Placed> = self
            .best
            .plan
            .placed
            .iter()
            .filter(others)
            .copied()
            .collect();
        let mut chance = Chance::new(draw);
        let poses = self.beside_the_best(item, |search| {
            let mut poses = search.corners(body);
            for _ in 0..DRAWS {
                let found = start::least_bad(&search.stock, &mut search.floor, &mut chance, body);
                poses.extend(found.map(|found| found.pose));
            }
            poses
        });
        let problem = &self.stock.problem;
        let Some(part) = problem.items[item].ways[way].parts.first() else {
            return Vec::new();
        };
        let mut cloth = Cloth {
            problem,
            part,
            others: &others,
            allowance,
            free: vec![None; problem.rooms.len()],
        };
        let told = poses.iter().filter_map(|pose| self.stock.told(body, pose));
        let mut looked: Vec<(f64, Option<SeamsOff>, Placed)> = Vec::new();
        for placed in told {
            let (worth, seam) = cloth.seam_at(&placed);
            looked.push((worth, seam, placed));
        }
        looked.sort_by(|a, b| a.0.total_cmp(&b.0));
        looked.truncate(CLOSER);
        let diameter = f64::from(self.stock.bodies[body].diameter);
        let closer = looked
            .into_iter()
            .filter_map(|(worth, seam, placed)| cloth.closer(worth, seam, placed, diameter));
        let mut found: Vec<SeamsOff> = closer.collect();
        found.sort_by(|a, b| {
            let fewer = a.seams.len().cmp(&b.seams.len());
            fewer.then(a.area.total_cmp(&b.area))
        });
        found.dedup_by(|a, b| a.is_like(b));
        found
    }

    /// True to the grain in every corner of every bay, whether it fits there or not.
    fn corners(&self, body: usize) -> Vec<Pose> {
        let made = &self.stock.bodies[body];
        let mut poses = Vec::new();
        for &bay in &made.bays {
            let bounds = self.stock.bays[bay].bounds;
            for turn in made.turns[self.stock.bays[bay].room].bases() {
                for &shape in &made.shapes {
                    let pose = Pose {
                        bay,
                        shape,
                        turn,
                        x: 0.0,
                        y: 0.0,
                    };
                    let [x0, x1, y0, y1] = self.stock.reach(&pose);
                    for corner in 0..4 {
                        let x = [bounds.x_min - x0, bounds.x_max - x1][corner % 2];
                        let y = [bounds.y_min - y0, bounds.y_max - y1][corner / 2];
                        poses.push(Pose { x, y, ..pose });
                    }
                }
            }
        }
        poses
    }
}

type Contour = Vec<[f64; 2]>;

fn contour(polygon: &[Point]) -> Contour {
    polygon.iter().map(|p| [p.x, p.y]).collect()
}

fn polygon(contour: &Contour) -> Polygon {
    contour.iter().map(|[x, y]| Point::new(*x, *y)).collect()
}

/// A seam as it lies in the room.
#[derive(Clone, Copy, Debug)]
struct Cut {
    /// Square to it, towards what is taken off, 1 mm long.
    towards: Vec2,
    level: f64,
    /// Area that is taken off, mm2.
    area: f64,
}

/// The cloth that a part may lie on.
struct Cloth<'a> {
    problem: &'a Problem,
    part: &'a Part,
    others: &'a [Placed],
    allowance: f64,
    /// What is free in each room, once it was asked for: lines round it and round what is taken inside.
    free: Vec<Option<Vec<Contour>>>,
}

impl Cloth<'_> {
    /// What is free in a room: its usable part without holes, poor places and what lies there.
    fn free(&mut self, room: usize) -> &[Contour] {
        let Self {
            problem,
            part,
            others,
            free,
            ..
        } = self;
        let Some(known) = free.get_mut(room) else {
            return &[];
        };
        known.get_or_insert_with(|| free_in(problem, part, others, room))
    }

    /// What of an outline sticks out of the free cloth.
    fn sticks_out(&mut self, room: usize, outline: &[Point]) -> Vec<Polygon> {
        let shape = vec![contour(outline)];
        let free = self.free(room).to_vec();
        let out = if free.is_empty() {
            vec![shape]
        } else {
            shape.overlay(&free, OverlayRule::Difference, FillRule::EvenOdd)
        };
        out.iter()
            .filter_map(|shape| shape.first())
            .map(polygon)
            .filter(|outer| plane::area(outer).abs() > NOTHING)
            .collect()
    }

    /// What a place is worth: the area that the best seam takes off there; more than any such where it takes two, and more than the
    /// part itself where they will not do either.
    fn seam_at(&mut self, placed: &Placed) -> (f64, Option<SeamsOff>) {
        let outline = placed.moved(&self.part.outline);
        let whole = plane::area(&outline).abs();
        let out = self.sticks_out(placed.room, &outline);
        if out.is_empty() {
            return (0.0, None);
        }
        let directions = directions(placed, &outline, &out);
        let mut single: Vec<Cut> = directions
            .iter()
            .map(|&towards| self.cut(&outline, out.iter(), towards))
            .collect();
        single.sort_by(|a, b| a.area.total_cmp(&b.area));
        let least = single.first().map_or(whole, |cut| cut.area);
        for cut in single {
            if cut.area > LARGEST * whole {
                break;
            }
            if self.has_room(placed.room, &outline, &[cut]) {
                return (cut.area, Some(told(placed, &[cut])));
            }
        }
        for cuts in self.in_two(&outline, &out, &directions) {
            let area = cuts.iter().map(|cut| cut.area).sum::<f64>();
            if area > LARGEST * whole {
                break;
            }
            if self.has_room(placed.room, &outline, &cuts) {
                return (LARGEST * whole + area, Some(told(placed, &cuts)));
            }
        }
        (whole + least, None)
    }

    /// The cut in one direction that takes these bits off.
    fn cut<'b>(
        &self,
        outline: &[Point],
        bits: impl Iterator<Item = &'b Polygon>,
        towards: Vec2,
    ) -> Cut {
        let far = bits.flatten().map(|p| p.to_vec2().dot(towards));
        let level = far.fold(f64::INFINITY, f64::min) - self.allowance - SLACK;
        Cut {
            towards,
            level,
            area: area_beyond(outline, towards, level),
        }
    }

    /// Cuts in two directions that take all bits off between them, each bit on the side where that takes less: the least area first.
    fn in_two(&self, outline: &[Point], out: &[Polygon], directions: &[Vec2]) -> Vec<[Cut; 2]> {
        if !(2..=BITS).contains(&out.len()) {
            return Vec::new();
        }
        let alone =
            |bit: &Polygon, towards: Vec2| self.cut(outline, std::iter::once(bit), towards).area;
        let mut pairs = Vec::new();
        for (i, &one) in directions.iter().enumerate() {
            for &other in &directions[i + 1..] {
                let (ones, others): (Vec<&Polygon>, Vec<&Polygon>) = out
                    .iter()
                    .partition(|bit| alone(bit, one) <= alone(bit, other));
                if !ones.is_empty() && !others.is_empty() {
                    pairs.push([
                        self.cut(outline, ones.into_iter(), one),
                        self.cut(outline, others.into_iter(), other),
                    ]);
                }
            }
        }
        let area = |pair: &[Cut; 2]| pair[0].area + pair[1].area;
        pairs.sort_by(|a, b| area(a).total_cmp(&area(b)));
        pairs
    }

    /// Do the allowances along these cuts lie on the cloth, apart from each other?
    fn has_room(&mut self, room: usize, outline: &[Point], cuts: &[Cut]) -> bool {
        let strips: Option<Vec<Polygon>> = cuts
            .iter()
            .map(|cut| allowance_strip(outline, cut.towards, cut.level, self.allowance))
            .collect();
        let Some(strips) = strips else {
            return false;
        };
        let meet = strips.iter().enumerate().any(|(i, one)| {
            let mut others = strips.iter().skip(i + 1);
            others.any(|other| plane::distance(one, other) <= 0.0)
        });
        !meet
            && strips
                .iter()
                .all(|strip| self.sticks_out(room, strip).is_empty())
    }

    /// Goes to the better of eight neighbours until none is, in shrinking strides.
    fn closer(
        &mut self,
        worth: f64,
        seam: Option<SeamsOff>,
        placed: Placed,
        diameter: f64,
    ) -> Option<SeamsOff> {
        let (mut worth, mut best, mut at) = (worth, seam, placed);
        let mut stride = diameter * STRIDE.0;
        for _ in 0..ROUNDS {
            if stride < diameter * STRIDE.1 || worth <= 0.0 {
                break;
            }
            let next = (0..8)
                .map(|i| {
                    let (sin, cos) = libm::sincos(f64::from(i) * std::f64::consts::FRAC_PI_4);
                    let moved = Placed {
                        x: at.x + cos * stride,
                        y: at.y + sin * stride,
                        ..at
                    };
                    let (worth, seam) = self.seam_at(&moved);
                    (worth, seam, moved)
                })
                .min_by(|a, b| a.0.total_cmp(&b.0));
            match next {
                Some(next) if next.0 < worth - 1e-6 => (worth, best, at) = next,
                _ => stride /= 2.0,
            }
        }
        best
    }
}

fn free_in(problem: &Problem, part: &Part, others: &[Placed], room: usize) -> Vec<Contour> {
    let Some(made) = problem.rooms.get(room) else {
        return Vec::new();
    };
    let grown = |polygon: &[Point], by: f64| -> Vec<Contour> {
        let tidy = plane::tidied(polygon);
        let moved = tidy.map_or(Vec::new(), |tidy| offset::moved(&tidy, by));
        moved.iter().map(|line| contour(line)).collect()
    };
    let usable = grown(&made.outline, -made.margin);
    let is_poor = |quality: u8| part.min_quality.is_none_or(|least| quality < least);
    let mut taken: Vec<Contour> = Vec::new();
    for hole in &made.holes {
        taken.extend(grown(hole, made.margin.max(problem.gap)));
    }
    for zone in made.zones.iter().filter(|zone| is_poor(zone.quality)) {
        taken.extend(grown(&zone.polygon, problem.gap));
    }
    for other in others.iter().filter(|other| other.room == room) {
        let lying = problem.lying(other).unwrap_or_default();
        taken.extend(grown(&lying, problem.gap));
    }
    if taken.is_empty() {
        return usable;
    }
    let left = usable.overlay(&taken, OverlayRule::Difference, FillRule::NonZero);
    left.into_iter().flatten().collect()
}

/// Directions in which a patch may be taken off: along the grain of the part and square to it, and square to the longest edges of
/// the cloth that run across the part.
fn directions(placed: &Placed, outline: &[Point], out: &[Polygon]) -> Vec<Vec2> {
    let (sin, cos) = libm::sincos(placed.turn_deg.to_radians());
    let (along, up) = (Vec2::new(cos, sin), Vec2::new(-sin, cos));
    let mut slants: Vec<(f64, Vec2)> = Vec::new();
    for polygon in out {
        let turned = plane::area(polygon).signum();
        for (a, b) in plane::edges(polygon) {
            let (side, long) = (b - a, plane::long(b - a));
            let middle = a.midpoint(b);
            let across = plane::inside(outline, middle) && plane::to_edge(outline, middle) > 1e-2;
            if long > 1.0 && across {
                slants.push((long, Vec2::new(-side.y, side.x) * (turned / long)));
            }
        }
    }
    slants.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut all = vec![along, -along, up, -up];
    for (_, towards) in slants {
        let is_new = all.iter().all(|known| known.dot(towards) < 1.0 - 1e-6);
        if is_new && all.len() < 4 + SLANTS {
            all.push(towards);
        }
    }
    all
}

/// Area of what lies beyond a level.
fn area_beyond(outline: &[Point], towards: Vec2, level: f64) -> f64 {
    let mut kept = Vec::new();
    for (a, b) in plane::edges(outline) {
        let (da, db) = (
            a.to_vec2().dot(towards) - level,
            b.to_vec2().dot(towards) - level,
        );
        if da >= 0.0 {
            kept.push(a);
        }
        if (da >= 0.0) != (db >= 0.0) {
            kept.push(a.lerp(b, da / (da - db)));
        }
    }
    plane::area(&kept).abs()
}

/// The allowance beyond a seam at this level, as wide as the seam is long; `None` where the seam would be in several stretches.
fn allowance_strip(
    outline: &[Point],
    towards: Vec2,
    level: f64,
    allowance: f64,
) -> Option<Polygon> {
    let mut ends = plane::edges(outline).filter_map(|(a, b)| {
        let (da, db) = (
            a.to_vec2().dot(towards) - level,
            b.to_vec2().dot(towards) - level,
        );
        ((da <= 0.0) != (db <= 0.0)).then(|| a.lerp(b, da / (da - db)))
    });
    let (from, to) = (ends.next()?, ends.next()?);
    if ends.next().is_some() {
        return None;
    }
    let by = towards * allowance.max(1e-3);
    Some(vec![from, to, to + by, from + by])
}

/// Seams in the room, as the part itself sees them.
fn told(placed: &Placed, cuts: &[Cut]) -> SeamsOff {
    let (sin, cos) = libm::sincos(placed.turn_deg.to_radians());
    let seam = |cut: &Cut| {
        let x = cos * cut.towards.x + sin * cut.towards.y;
        SeamOff {
            out: Vec2::new(
                if placed.mirrored { -x } else { x },
                cos * cut.towards.y - sin * cut.towards.x,
            ),
            level: cut.level - Vec2::new(placed.x, placed.y).dot(cut.towards),
        }
    };
    SeamsOff {
        placed: *placed,
        seams: cuts.iter().map(seam).collect(),
        area: cuts.iter().map(|cut| cut.area).sum(),
    }
}

impl SeamsOff {
    /// Do both take off nearly the same?
    fn is_like(&self, other: &Self) -> bool {
        let alike = |(a, b): (&SeamOff, &SeamOff)| {
            (a.level - b.level).abs() < 0.1 && (a.out - b.out).hypot() < 1e-3
        };
        self.seams.len() == other.seams.len() && self.seams.iter().zip(&other.seams).all(alike)
    }
}
