//! Points of an outline moved by hand: single ones, and whole stretches.

use std::collections::BTreeSet;

use kurbo::{Point, Vec2};

use super::PointRef;
use super::kept::{NEAR, Reshaped};
use super::ring::{Ring, Shifts};
use crate::alteration::AlterationError;
use crate::alteration::moves::{finite, index_of};
use crate::edge::OutlinePoint;
use crate::geometry::curve::Line;
use crate::piece::Piece;
use crate::tolerance::JOINING;
use crate::units::Mm;

/// Moves control points. Straight edges and straight parts of edges stay straight, unless their own steering points
/// are moved; smooth joins stay smooth if asked.
pub(super) fn move_points(
    piece: &Piece,
    points: &[PointRef],
    by: (Mm, Mm),
    keep_smooth: bool,
) -> Result<Reshaped, AlterationError> {
    let by = Vec2::new(finite(by.0.0)?, finite(by.1.0)?);
    let ring = Ring::of(piece);
    let mut chosen = BTreeSet::new();
    for point in points {
        chosen.insert(ring.find(piece, point)?);
    }
    let mut shifts: Shifts = chosen.iter().map(|place| (*place, by)).collect();
    if keep_smooth {
        bring_steering_points(&ring, &chosen, &mut shifts);
    }
    let straight = keep_straight(&ring, &chosen, &mut shifts);
    if keep_smooth {
        keep_joins(&ring, &chosen, &straight, &mut shifts);
    }
    Reshaped::with_lines(piece, ring.lines(&shifts))
}

/// The steering points beside a point that moves come along.
fn bring_steering_points(ring: &Ring, chosen: &BTreeSet<usize>, shifts: &mut Shifts) {
    for place in ring.on_line().filter(|place| chosen.contains(place)) {
        let by = shifts.get(&place).copied().unwrap_or_default();
        for beside in [ring.step(place, -1), ring.step(place, 1)] {
            shifts.entry(beside).or_insert(by);
        }
    }
}

/// Straight edges and straight cubics whose ends move stay straight. Gives the cubics that do, by where they start.
fn keep_straight(ring: &Ring, chosen: &BTreeSet<usize>, shifts: &mut Shifts) -> BTreeSet<usize> {
    let mut straight = BTreeSet::new();
    for (first, last, line) in ring.edges() {
        let inner = (first + 1..last).any(|place| chosen.contains(&place));
        if line.is_straight() && !inner {
            spread_evenly(ring, first, last, shifts);
            straight.extend((first..last).step_by(3));
            continue;
        }
        for start in (first..last).step_by(3) {
            let steered = [start + 1, start + 2].iter().any(|p| chosen.contains(p));
            if ring.is_straight(start) && !steered {
                spread_evenly(ring, start, start + 3, shifts);
                straight.insert(start);
            }
        }
    }
    straight
}

/// The points between two places move in proportion to how far along they lie.
fn spread_evenly(ring: &Ring, first: usize, last: usize, shifts: &mut Shifts) {
    let ends = [first, last].map(|end| {
        let shift = shifts.get(&(end % ring.len()));
        shift.copied().unwrap_or_default()
    });
    let [start, end] = ends;
    let still = start == Vec2::ZERO && end == Vec2::ZERO;
    let chord = ring.at(last) - ring.at(first);
    for place in first + 1..last {
        if still {
            shifts.remove(&place);
            continue;
        }
        let along = (ring.at(place) - ring.at(first)).dot(chord) / chord.hypot2();
        shifts.insert(place, start.lerp(end, along));
    }
}

/// Joins that were smooth stay so: the steering point on the other side turns.
fn keep_joins(
    ring: &Ring,
    chosen: &BTreeSet<usize>,
    straight: &BTreeSet<usize>,
    shifts: &mut Shifts,
) {
    for place in ring.on_line().filter(|place| ring.is_smooth(*place)) {
        let (before, after) = (ring.step(place, -1), ring.step(place, 1));
        if ![before, place, after]
            .iter()
            .any(|p| shifts.contains_key(p))
        {
            continue;
        }
        let is_straight = [ring.step(place, -3), place].map(|cubic| straight.contains(&cubic));
        let follower = match is_straight {
            [true, true] => continue,
            [true, false] => after,
            [false, true] => before,
            [false, false] if chosen.contains(&before) && !chosen.contains(&after) => after,
            [false, false] => before,
        };
        let leader = if follower == after { before } else { after };
        turn_into_line(ring, place, leader, follower, shifts);
    }
}

/// Turns one steering point about its point on the line, so that it lies opposite the other.
fn turn_into_line(ring: &Ring, place: usize, leader: usize, follower: usize, shifts: &mut Shifts) {
    let now =
        |at: usize, shifts: &Shifts| ring.at(at) + shifts.get(&at).copied().unwrap_or_default();
    let here = now(place, shifts);
    let away = here - now(leader, shifts);
    let reach = (now(follower, shifts) - here).hypot();
    if away.hypot() <= JOINING.0 || reach <= JOINING.0 {
        return;
    }
    let wanted = here + away * (reach / away.hypot());
    let already = (wanted - now(follower, shifts)).hypot() <= reach * NEAR;
    if !already {
        shifts.insert(follower, wanted - ring.at(follower));
    }
}

/// Moves everything between two places of the outline; the edges beside it follow evenly up to their next corners.
pub(super) fn move_stretch(
    piece: &Piece,
    from: &OutlinePoint,
    to: &OutlinePoint,
    by: (Mm, Mm),
) -> Result<Reshaped, AlterationError> {
    let by = Vec2::new(finite(by.0.0)?, finite(by.1.0)?);
    let (lines, [first, last]) = with_points(piece, [from, to])?;
    let ring = Ring::new(lines);
    let corners: Vec<usize> = ring.edges().map(|(first, _, _)| first).collect();
    let is_corner = |place: usize| corners.contains(&place);
    let inside = walk(&ring, first, last);
    let mut shifts: Shifts = inside.iter().map(|place| (*place, by)).collect();
    let outside = walk(&ring, last, first);
    let next = |place: &usize| *place != last && is_corner(*place);
    let until = outside.iter().position(next).unwrap_or(0);
    let since = outside
        .iter()
        .rposition(|place| *place != first && is_corner(*place))
        .unwrap_or(0);
    let alone = until == 0 || outside.get(until) == Some(&first);
    if alone && !(is_corner(first) && first == last) {
        // one edge lies between: it has nothing to fade to
        let fades = outside.iter().map(|place| (*place, by));
        shifts.extend(fades);
    } else {
        fade(
            &ring,
            outside.get(..=until).unwrap_or_default(),
            by,
            &mut shifts,
        );
        let mut back: Vec<usize> = outside.get(since..).unwrap_or_default().to_vec();
        back.reverse();
        fade(&ring, &back, by, &mut shifts);
    }
    Reshaped::with_lines(&with_edge_lines(piece, &ring)?, ring.lines(&shifts))
}

/// Places from one to another, counter-clockwise, both included.
fn walk(ring: &Ring, from: usize, to: usize) -> Vec<usize> {
    let count = (to + ring.len() - from) % ring.len();
    (0..=count).map(|step| (from + step) % ring.len()).collect()
}

/// Points along a run move the less the further along they lie.
fn fade(ring: &Ring, run: &[usize], by: Vec2, shifts: &mut Shifts) {
    let steps = run.windows(2).map(|pair| match pair {
        [a, b] => (ring.at(*b) - ring.at(*a)).hypot(),
        _ => 0.0,
    });
    let steps: Vec<f64> = steps.collect();
    let total = steps.iter().sum::<f64>().max(f64::MIN_POSITIVE);
    let mut reached = 0.0;
    for (place, step) in run.iter().skip(1).zip(&steps) {
        reached += step;
        let share = 1.0 - reached / total;
        if share > NEAR {
            shifts.insert(*place, by * share);
        }
    }
}

/// The same piece whose edges are the lines of a ring of the same shape, with points put in.
fn with_edge_lines(piece: &Piece, ring: &Ring) -> Result<Piece, AlterationError> {
    let lines = ring.edges().map(|(_, _, line)| line.clone()).collect();
    Ok(Piece {
        outline: piece.outline.with_lines(lines)?,
        ..piece.clone()
    })
}

/// The lines of the edges with a point at each place, and where these points are in the ring.
fn with_points(
    piece: &Piece,
    places: [&OutlinePoint; 2],
) -> Result<(Vec<Line>, [usize; 2]), AlterationError> {
    let edges = piece.outline.edges().iter();
    let mut lines: Vec<Line> = edges.map(|edge| edge.line.clone()).collect();
    let mut at = Vec::new();
    for place in places {
        let index = index_of(piece, &place.edge)?;
        let fraction = finite(place.fraction)?.clamp(0.0, 1.0);
        let Some(line) = lines.get_mut(index) else {
            continue;
        };
        at.push((index, line.at(fraction)));
        if let Some(more) = with_point(line, fraction) {
            *line = more;
        }
    }
    let ring = Ring::new(lines.clone());
    let find = |(index, point): &(usize, Point)| {
        let (first, last, _) = ring.edges().nth(*index)?;
        let places = (first..=last).step_by(3).map(|place| place % ring.len());
        places.min_by(|a, b| {
            let far = |place: &usize| (ring.at(*place) - *point).hypot();
            far(a).total_cmp(&far(b))
        })
    };
    let found: Vec<usize> = at.iter().filter_map(find).collect();
    match found.as_slice() {
        [first, last] => Ok((lines, [*first, *last])),
        _ => Err(AlterationError::NotFinite),
    }
}

/// A line with one more point on it; `None` where there is one already.
pub(super) fn with_point(line: &Line, fraction: f64) -> Option<Line> {
    let at = line.at(fraction);
    let mut on_line = line.points().iter().step_by(3);
    if on_line.any(|p| (*p - at).hypot() <= JOINING.0) {
        return None;
    }
    let (number, t) = line.locate(fraction);
    let mut cubics = Vec::new();
    for (i, cubic) in line.cubics().enumerate() {
        if i == number {
            cubics.push(kurbo::ParamCurve::subsegment(&cubic, 0.0..t));
            cubics.push(kurbo::ParamCurve::subsegment(&cubic, t..1.0));
        } else {
            cubics.push(cubic);
        }
    }
    Line::from_cubics(&cubics)
}
