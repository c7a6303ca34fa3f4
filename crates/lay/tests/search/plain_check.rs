//! A checker of our own for these tests: plain loops over points and edges, nothing from the search but the values it gives.

use kurbo::Point;
use petitoile_lay::search::{Mirror, Placed, Plan, Problem};

fn edges(polygon: &[Point]) -> Vec<(Point, Point)> {
    (0..polygon.len())
        .map(|i| (polygon[i], polygon[(i + 1) % polygon.len()]))
        .collect()
}

/// Sum of the turns an observer at `point` makes who follows the edge: 0 outside.
fn within(polygon: &[Point], point: Point) -> bool {
    let turned: f64 = edges(polygon)
        .into_iter()
        .map(|(a, b)| {
            let (u, v) = (a - point, b - point);
            u.cross(v).atan2(u.dot(v))
        })
        .sum();
    turned.abs() > std::f64::consts::PI
}

fn segment_distance(a: Point, b: Point, c: Point, d: Point) -> f64 {
    let to = |p: Point, a: Point, b: Point| {
        let t = ((p - a).dot(b - a) / (b - a).hypot2()).clamp(0.0, 1.0);
        (p - a.lerp(b, t)).hypot()
    };
    let cross = |p: Point, q: Point, r: Point| (q - p).cross(r - p);
    let meet = cross(a, b, c) * cross(a, b, d) < 0.0 && cross(c, d, a) * cross(c, d, b) < 0.0;
    if meet {
        0.0
    } else {
        to(a, c, d)
            .min(to(b, c, d))
            .min(to(c, a, b))
            .min(to(d, a, b))
    }
}

pub fn edge_distance(one: &[Point], other: &[Point]) -> f64 {
    let other = edges(other);
    let mut least = f64::INFINITY;
    for (a, b) in edges(one) {
        for &(c, d) in &other {
            least = least.min(segment_distance(a, b, c, d));
        }
    }
    least
}

fn overlap(one: &[Point], other: &[Point]) -> bool {
    edge_distance(one, other) == 0.0
        || one.iter().any(|p| within(other, *p))
        || other.iter().any(|p| within(one, *p))
}

fn lying(problem: &Problem, placed: &Placed) -> Vec<Point> {
    let part = &problem.items[placed.item].ways[placed.way].parts[placed.part];
    let (sin, cos) = placed.turn_deg.to_radians().sin_cos();
    let side = if placed.mirrored { -1.0 } else { 1.0 };
    part.outline
        .iter()
        .map(|p| {
            Point::new(
                cos * side * p.x - sin * p.y + placed.x,
                sin * side * p.x + cos * p.y + placed.y,
            )
        })
        .collect()
}

/// Everything that is wrong with a plan.
pub fn faults(problem: &Problem, plan: &Plan) -> Vec<String> {
    let mut faults = Vec::new();
    let near = 1e-6;
    for item in 0..problem.items.len() {
        let parts: Vec<&Placed> = plan
            .placed
            .iter()
            .filter(|placed| placed.item == item)
            .collect();
        let named = plan.not_placed.contains(&item);
        let whole = parts.first().is_some_and(|first| {
            let wanted = problem.items[item].ways[first.way].parts.len();
            let mut numbers: Vec<usize> = parts.iter().map(|part| part.part).collect();
            numbers.sort_unstable();
            parts.iter().all(|part| part.way == first.way)
                && numbers == (0..wanted).collect::<Vec<_>>()
        });
        if whole == named || (!whole && !parts.is_empty()) {
            faults.push(format!("item {item} is neither whole nor left out"));
        }
    }
    for (index, placed) in plan.placed.iter().enumerate() {
        let fixed = problem.fixed.contains(placed);
        let part = &problem.items[placed.item].ways[placed.way].parts[placed.part];
        let room = &problem.rooms[placed.room];
        let outline = lying(problem, placed);
        for (other, two) in plan.placed.iter().enumerate().skip(index + 1) {
            if two.room == placed.room && !(fixed && problem.fixed.contains(two)) {
                let there = lying(problem, two);
                let apart = edge_distance(&outline, &there);
                if overlap(&outline, &there) || apart < problem.gap - near {
                    faults.push(format!("parts {index} and {other} are {apart} mm apart"));
                }
            }
        }
        if fixed {
            continue;
        }
        let from_edge = edge_distance(&outline, &room.outline);
        if outline.iter().any(|p| !within(&room.outline, *p)) || from_edge < room.margin - near {
            faults.push(format!("part {index} is {from_edge} mm from the edge"));
        }
        for hole in &room.holes {
            if overlap(&outline, hole)
                || edge_distance(&outline, hole) < problem.gap.max(room.margin) - near
            {
                faults.push(format!("part {index} is on a hole"));
            }
        }
        for zone in &room.zones {
            let may = part.min_quality.is_some_and(|least| least <= zone.quality);
            if !may
                && (overlap(&outline, &zone.polygon)
                    || edge_distance(&outline, &zone.polygon) < problem.gap - near)
            {
                faults.push(format!("part {index} is on a zone"));
            }
        }
        // No turn named: as drawn.
        let turns = if part.turns.is_empty() {
            &[0.0][..]
        } else {
            &part.turns
        };
        let off = turns
            .iter()
            .map(|turn| {
                let off = (placed.turn_deg - room.grain.angle_deg - turn).rem_euclid(360.0);
                off.min(360.0 - off)
            })
            .fold(f64::INFINITY, f64::min);
        let may = (part.tolerance_deg - room.grain.doubt_deg).max(0.0);
        if part.tolerance_deg < 180.0 && off > may + 1e-9 {
            faults.push(format!("part {index} is {off} degrees off, {may} allowed"));
        }
        let mirror_wrong = match part.mirror {
            Mirror::Never => placed.mirrored,
            Mirror::Always => !placed.mirrored,
            Mirror::Either => false,
        };
        if mirror_wrong
            || part
                .rooms
                .as_ref()
                .is_some_and(|rooms| !rooms.contains(&placed.room))
        {
            faults.push(format!("part {index} lies on the wrong side or cloth"));
        }
    }
    faults
}
