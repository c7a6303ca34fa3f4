//! Where lines cross each other or themselves, and the outer loop that is left when the crossings are resolved.
//!
//! Millimetres, y up. Knows no cloth.
#![allow(
    clippy::indexing_slicing,
    reason = "every index is taken from the length of the list it is used on"
)]

use kurbo::{CubicBez, ParamCurve, ParamCurveDeriv, Point};

use super::curve::direction_on;
use super::parallel::{FIT, Spot, between, from_spot, is_straight, up_to};
use super::polygon::{Polygon, pieces_of};
use crate::tolerance::{JOINING, MEASURING};

/// Where two places of one chain, or of two chains, coincide.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// Spot on the first chain, or the earlier one of a single chain.
    pub first: Spot,
    /// Spot on the second chain, or the later one of a single chain.
    pub second: Spot,
    /// Where.
    pub at: Point,
}

/// A short chord of a cubic.
#[derive(Debug, Clone, Copy)]
struct Chord {
    cubic: usize,
    from: f64,
    to: f64,
    a: Point,
    b: Point,
}

impl Chord {
    fn low_x(&self) -> f64 {
        self.a.x.min(self.b.x)
    }
    fn high_x(&self) -> f64 {
        self.a.x.max(self.b.x)
    }
}

fn chords(chain: &[CubicBez]) -> Vec<Chord> {
    let mut list = Vec::with_capacity(chain.len() * 4);
    for (cubic, c) in chain.iter().enumerate() {
        let n = pieces_of(c, 2.0 * FIT);
        let mut a = c.p0;
        for i in 0..n {
            let to = (i + 1) as f64 / n as f64;
            let b = if i + 1 == n { c.p3 } else { c.eval(to) };
            list.push(Chord {
                cubic,
                from: i as f64 / n as f64,
                to,
                a,
                b,
            });
            a = b;
        }
    }
    list
}

/// Where two chords cross: parameters on both, 0 to 1. Chords lying along each other do not count.
fn cross(p: &Chord, q: &Chord) -> Option<(f64, f64)> {
    let (d, e, f) = (p.b - p.a, q.b - q.a, q.a - p.a);
    let det = d.cross(e);
    if det.abs() <= 1e-12 * (d.hypot2() * e.hypot2()).sqrt() {
        return None;
    }
    let (s, u) = (f.cross(e) / det, f.cross(d) / det);
    let ok = |v: f64| (-1e-9..=1.0 + 1e-9).contains(&v);
    (ok(s) && ok(u)).then(|| (s.clamp(0.0, 1.0), u.clamp(0.0, 1.0)))
}

/// Moves a crossing of two chords onto the curves they stand for.
fn refined(a: &CubicBez, b: &CubicBez, mut t: f64, mut u: f64) -> (f64, f64) {
    let (da, db) = (a.deriv(), b.deriv());
    let start = (t, u);
    for _ in 0..6 {
        let gap = b.eval(u) - a.eval(t);
        let (va, vb) = (da.eval(t).to_vec2(), db.eval(u).to_vec2());
        let det = va.cross(vb);
        if det.abs() <= 1e-9 * (va.hypot2() * vb.hypot2()).sqrt() {
            break;
        }
        t += gap.cross(vb) / det;
        u += gap.cross(va) / det;
        if !((-0.01..=1.01).contains(&t) && (-0.01..=1.01).contains(&u)) {
            return start;
        }
    }
    let (t, u) = (t.clamp(0.0, 1.0), u.clamp(0.0, 1.0));
    let gap = |t: f64, u: f64| (a.eval(t) - b.eval(u)).hypot2();
    if gap(t, u) <= gap(start.0, start.1) {
        (t, u)
    } else {
        start
    }
}

fn crossing(a: &[CubicBez], b: &[CubicBez], p: &Chord, q: &Chord, s: f64, u: f64) -> Crossing {
    let (ta, tb) = (p.from + s * (p.to - p.from), q.from + u * (q.to - q.from));
    let (t, u) = refined(&a[p.cubic], &b[q.cubic], ta, tb);
    Crossing {
        first: Spot { cubic: p.cubic, t },
        second: Spot {
            cubic: q.cubic,
            t: u,
        },
        at: a[p.cubic].eval(t).midpoint(b[q.cubic].eval(u)),
    }
}

fn without_twins(mut list: Vec<Crossing>) -> Vec<Crossing> {
    let mut kept: Vec<Crossing> = Vec::with_capacity(list.len());
    list.sort_by(|a, b| {
        a.first
            .partial_cmp(&b.first)
            .unwrap_or(std::cmp::Ordering::Equal)
    });
    for c in list {
        let near =
            |a: Spot, b: Spot| ((a.cubic as f64 + a.t) - (b.cubic as f64 + b.t)).abs() < 1e-4;
        let twin = |k: &Crossing| {
            (k.at - c.at).hypot2() < MEASURING.0 * MEASURING.0
                && near(k.first, c.first)
                && near(k.second, c.second)
        };
        if !kept.iter().any(twin) {
            kept.push(c);
        }
    }
    kept
}

/// Every crossing of two chains.
pub fn crossings(a: &[CubicBez], b: &[CubicBez]) -> Vec<Crossing> {
    let (mut p, mut q) = (chords(a), chords(b));
    p.sort_by(|x, y| x.low_x().total_cmp(&y.low_x()));
    q.sort_by(|x, y| x.low_x().total_cmp(&y.low_x()));
    let mut found = Vec::new();
    let widest = q.iter().map(|c| c.high_x() - c.low_x()).fold(0.0, f64::max);
    for c in &p {
        let first = q.partition_point(|o| o.low_x() < c.low_x() - widest);
        for o in q[first..].iter().take_while(|o| o.low_x() <= c.high_x()) {
            if let Some((s, u)) = cross(c, o) {
                found.push(crossing(a, b, c, o, s, u));
            }
        }
    }
    without_twins(found)
}

/// Every place where a closed chain crosses itself; the joints between neighbouring cubics do not count.
///
/// Sorted by where the chain first comes through. A sweep along x: chords are compared only while their reaches overlap.
pub fn self_crossings(chain: &[CubicBez]) -> Vec<Crossing> {
    let list = chords(chain);
    let n = list.len();
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|i, j| list[*i].low_x().total_cmp(&list[*j].low_x()));
    let mut open: Vec<usize> = Vec::new();
    let mut found = Vec::new();
    for i in order {
        let c = &list[i];
        let (low, high) = (c.a.y.min(c.b.y), c.a.y.max(c.b.y));
        open.retain(|j| list[*j].high_x() >= c.low_x());
        for &j in &open {
            let o = &list[j];
            if o.a.y.max(o.b.y) < low
                || o.a.y.min(o.b.y) > high
                || i.abs_diff(j) <= 1
                || i.abs_diff(j) == n - 1
            {
                continue;
            }
            let (first, second) = if i < j { (c, o) } else { (o, c) };
            if let Some((s, u)) = cross(first, second) {
                let crossing = crossing(chain, chain, first, second, s, u);
                if !is_joint(chain, &crossing) && !touches(chain, &crossing) {
                    found.push(crossing);
                }
            }
        }
        open.push(i);
    }
    found.extend(spike_crossings(chain));
    without_twins(found)
}

/// Crossings close to a joint where the line turns sharply back: its two chords meet there and hide them.
fn spike_crossings(chain: &[CubicBez]) -> Vec<Crossing> {
    let n = chain.len();
    let mut found = Vec::new();
    for i in 0..n {
        let j = (i + 1) % n;
        let (a, b) = (&chain[i], &chain[j]);
        if i == j
            || direction_on(a, 1.0).dot(direction_on(b, 0.0)) > 0.0
            || (is_straight(a) && is_straight(b))
        {
            continue;
        }
        let (p, q) = (
            closer_and_closer(a, i, true),
            closer_and_closer(b, j, false),
        );
        for (k, c) in p.iter().enumerate() {
            for (l, o) in q.iter().enumerate() {
                if k + 1 == p.len() && l + 1 == q.len() {
                    continue;
                }
                let Some((s, u)) = cross(c, o) else { continue };
                let mut crossing = crossing(chain, chain, c, o, s, u);
                let joint = if crossing.first.t > 0.5 { a.p3 } else { b.p0 };
                if (crossing.at - joint).hypot2() > JOINING.0 * JOINING.0 {
                    if j < i {
                        std::mem::swap(&mut crossing.first, &mut crossing.second);
                    }
                    found.push(crossing);
                }
            }
        }
    }
    found
}

/// Chords of a cubic that halve towards its end or its start.
fn closer_and_closer(c: &CubicBez, cubic: usize, to_end: bool) -> Vec<Chord> {
    let t = |far: f64| if to_end { 1.0 - far } else { far };
    let chord = |far: f64, near: f64| Chord {
        cubic,
        from: t(far),
        to: t(near),
        a: c.eval(t(far)),
        b: c.eval(t(near)),
    };
    let first = 1.0 / pieces_of(c, 2.0 * FIT) as f64;
    let mut list = Vec::new();
    let mut far = first;
    for _ in 0..4 {
        // quarters of every half, so that shallow crossings are met
        let near = far / 2.0;
        list.extend((0..4).map(|k| {
            let step = (far - near) / 4.0;
            chord(far - step * f64::from(k), far - step * f64::from(k + 1))
        }));
        far = near;
    }
    list.push(chord(far, 0.0));
    list
}

/// Is the crossing only a tiny stretch of line between two spots, as at a joint?
fn is_joint(chain: &[CubicBez], c: &Crossing) -> bool {
    let far = |from: Spot, to: Spot| {
        between(chain, from, to).iter().any(|c| {
            [c.p1, c.p2, c.p3]
                .iter()
                .any(|p| (*p - c.p0).hypot2() > JOINING.0 * JOINING.0)
        })
    };
    let neighbours = c.second.cubic - c.first.cubic <= 2;
    let round = c.first.cubic + chain.len() - c.second.cubic <= 2;
    if neighbours {
        return !far(c.first, c.second);
    }
    if round {
        let mut rest = from_spot(chain, c.second);
        rest.extend(up_to(chain, c.first));
        let start = rest.first().map(|c| c.p0).unwrap_or_default();
        return rest
            .iter()
            .all(|c| (c.p3 - start).hypot2() <= JOINING.0 * JOINING.0);
    }
    false
}

/// Do two corners of the chain only touch there, as the tips of two darts at one point do?
///
/// The chain comes to the point and leaves it twice. It touches itself when one way through lies all on one side of the
/// other.
fn touches(chain: &[CubicBez], c: &Crossing) -> bool {
    let (Some(a), Some(b)) = (corner_at(chain, c.first), corner_at(chain, c.second)) else {
        return false;
    };
    let (a_back, a_on) = a;
    let turn = |v: kurbo::Vec2| {
        let angle = libm::atan2(a_on.cross(v), a_on.dot(v));
        if angle < 0.0 {
            angle + std::f64::consts::TAU
        } else {
            angle
        }
    };
    let side = |v: kurbo::Vec2| (turn(v), turn(a_back));
    let (before, after) = (side(b.0), side(b.1));
    let clear = |(at, back): (f64, f64)| {
        let near = |x: f64| (at - x).abs() < 1e-6;
        !(near(0.0) || near(back) || near(std::f64::consts::TAU))
    };
    clear(before) && clear(after) && (before.0 < before.1) == (after.0 < after.1)
}

/// Back and onward directions at a spot that is a joint of the chain.
fn corner_at(chain: &[CubicBez], spot: Spot) -> Option<(kurbo::Vec2, kurbo::Vec2)> {
    const AT_END: f64 = 1e-6;
    let n = chain.len();
    let before = if spot.t >= 1.0 - AT_END {
        spot.cubic
    } else if spot.t <= AT_END {
        (spot.cubic + n - 1) % n
    } else {
        return None;
    };
    let after = (before + 1) % n;
    Some((
        -direction_on(chain.get(before)?, 1.0),
        direction_on(chain.get(after)?, 0.0),
    ))
}

/// A stretch of chain between two crossings.
struct Arc {
    from: usize,
    to: usize,
    chain: Vec<CubicBez>,
    mid: Point,
    side: kurbo::Vec2,
}

/// The outer loop of a closed chain that may cross itself: the outline of everything it goes round counter-clockwise.
///
/// Gives the chain itself when it crosses nothing. Islands and holes are left out; `None` when nothing is gone round.
pub fn outer_loop(chain: &[CubicBez]) -> Option<Vec<CubicBez>> {
    let crossings = self_crossings(chain);
    if crossings.is_empty() {
        return (Polygon::from_chain(chain, 2.0 * FIT).area() > 0.0).then(|| chain.to_vec());
    }
    let arcs = arcs(chain, &crossings);
    let flat: Vec<Point> = arcs
        .iter()
        .flat_map(|arc| {
            Polygon::from_chain(&arc.chain, 2.0 * FIT)
                .corners()
                .to_vec()
        })
        .collect();
    let flat = Polygon::new(flat);
    let mut kept: Vec<&Arc> = arcs
        .iter()
        .filter(|arc| {
            let off = arc.side * 1e-5;
            flat.winding(arc.mid + off) <= 0 && flat.winding(arc.mid - off) > 0
        })
        .collect();
    let mut best: Option<(f64, Vec<CubicBez>)> = None;
    while let Some(first) = kept.first().copied() {
        kept.remove(0);
        let mut round = first.chain.clone();
        let mut node = first.to;
        while node != first.from {
            // of several ways on take the one that turns right most: the outermost
            let heading = round
                .last()
                .map(|c| direction_on(c, 1.0))
                .unwrap_or_default();
            let turn = |arc: &Arc| {
                arc.chain
                    .first()
                    .map_or(0.0, |c| turn_between(heading, direction_on(c, 0.0)))
            };
            let next = (0..kept.len())
                .filter(|i| kept[*i].from == node)
                .min_by(|i, j| turn(kept[*i]).total_cmp(&turn(kept[*j])));
            let Some(next) = next else { break };
            let arc = kept.remove(next);
            join_on(&mut round, &arc.chain);
            node = arc.to;
        }
        let area = Polygon::from_chain(&round, 2.0 * FIT).area();
        if node == first.from && area > best.as_ref().map_or(0.0, |(a, _)| *a) {
            if let (Some(a), Some(b)) = (round.first().map(|c| c.p0), round.last_mut()) {
                b.p3 = a;
            }
            best = Some((area, round));
        }
    }
    best.map(|(_, round)| round)
}

/// A number that grows with the turn to the left, -2 for straight back right to 2 for straight back left.
fn turn_between(a: kurbo::Vec2, b: kurbo::Vec2) -> f64 {
    let (sin, cos) = (a.cross(b), a.dot(b));
    if cos >= 0.0 {
        sin
    } else {
        sin.signum() * (2.0 - sin.abs())
    }
}

fn join_on(round: &mut Vec<CubicBez>, next: &[CubicBez]) {
    let start = round.last().map(|c| c.p3);
    round.extend_from_slice(next);
    let at = round.len() - next.len();
    if let (Some(start), Some(c)) = (start, round.get_mut(at)) {
        c.p0 = start;
    }
}

fn arcs(chain: &[CubicBez], crossings: &[Crossing]) -> Vec<Arc> {
    let mut stops: Vec<(Spot, usize)> = crossings
        .iter()
        .enumerate()
        .flat_map(|(node, c)| [(c.first, node), (c.second, node)])
        .collect();
    stops.sort_by(|a, b| {
        a.0.partial_cmp(&b.0)
            .unwrap_or(std::cmp::Ordering::Equal)
            .then(a.1.cmp(&b.1))
    });
    let mut list = Vec::with_capacity(stops.len());
    for (i, (from, node)) in stops.iter().enumerate() {
        let (to, next) = stops[(i + 1) % stops.len()];
        let stretch = if i + 1 < stops.len() {
            between(chain, *from, to)
        } else {
            let mut rest = from_spot(chain, *from);
            rest.extend(up_to(chain, to));
            rest
        };
        let longest = stretch
            .iter()
            .flat_map(|c| {
                let n = pieces_of(c, 2.0 * FIT);
                (0..n).map(move |i| {
                    (
                        c.eval(i as f64 / n as f64),
                        c.eval((i + 1) as f64 / n as f64),
                    )
                })
            })
            .max_by(|(a, b), (c, d)| (*b - *a).hypot2().total_cmp(&(*d - *c).hypot2()));
        let Some((a, b)) = longest else { continue };
        let side = super::parallel::right_of(b - a) / (b - a).hypot2().sqrt().max(1e-12);
        list.push(Arc {
            from: *node,
            to: next,
            chain: stretch,
            mid: a.midpoint(b),
            side,
        });
    }
    list
}

#[cfg(test)]
#[allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "tests"
)]
mod tests {
    use super::*;
    use crate::geometry::parallel::straight;

    fn closed(corners: &[(f64, f64)]) -> Vec<CubicBez> {
        (0..corners.len())
            .map(|i| straight(corners[i].into(), corners[(i + 1) % corners.len()].into()))
            .collect()
    }

    #[test]
    fn a_plain_outline_crosses_nothing_and_stays_as_it_is() {
        let square = closed(&[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]);
        assert!(self_crossings(&square).is_empty());
        assert_eq!(outer_loop(&square).unwrap(), square);
    }

    #[test]
    fn a_small_backward_loop_at_a_corner_is_cut_off_where_it_crosses() {
        // the moved line of an L runs 2 mm too far into its inner corner on both sides
        let raw = closed(&[
            (0.0, 0.0),
            (20.0, 0.0),
            (20.0, 20.0),
            (8.0, 20.0),
            (8.0, 8.0),
            (10.0, 10.0),
            (0.0, 10.0),
        ]);
        let clean = outer_loop(&raw).unwrap();
        assert!(self_crossings(&clean).is_empty());
        let area = Polygon::from_chain(&clean, 0.01).area();
        assert!((area - (20.0 * 10.0 + 12.0 * 10.0)).abs() < 1e-6, "{area}");
    }

    #[test]
    fn a_figure_of_eight_keeps_its_larger_counter_clockwise_half() {
        let eight = closed(&[
            (0.0, 0.0),
            (30.0, 30.0),
            (30.0, 0.0),
            (10.0, 30.0),
            (0.0, 30.0),
        ]);
        assert_eq!(self_crossings(&eight).len(), 1);
        assert!(outer_loop(&eight).is_some());
    }

    #[test]
    fn an_arch_and_a_line_cross_where_the_arithmetic_says() {
        // y = 4 h t (1 - t) over x = 30 t as a cubic: parabola of height 10
        let arch = [CubicBez::new(
            (0.0, 0.0),
            (10.0, 40.0 / 3.0),
            (20.0, 40.0 / 3.0),
            (30.0, 0.0),
        )];
        let line = [straight(Point::new(-5.0, 7.5), Point::new(35.0, 7.5))];
        let found = crossings(&arch, &line);
        assert_eq!(found.len(), 2);
        for (c, x) in found.iter().zip([7.5, 22.5]) {
            assert!((c.at.x - x).abs() < 1e-6, "{:?}", c.at);
        }
    }
}
