//! What is drawn on a piece besides its stitch and cut line.

use kurbo::{BezPath, CubicBez, Line as Stroke, Point, Vec2};

use crate::allowance::{AllowancePlan, CutLine, Run, dart_legs, is_turned, middle_of, open_path};
use crate::finding::{Finding, Gravity, Place};
use crate::geometry::crossing::crossings;
use crate::geometry::curve::direction_on;
use crate::geometry::parallel::{Spot, between, parallel, straight};
use crate::geometry::polygon::Polygon;
use crate::notch::{Notch, stroke_from, strokes};
use crate::piece::Piece;
use crate::tolerance::JOINING;
use crate::units::Mm;

/// How far a chord for label and grain may lie from the outline, mm; they are placed by eye.
const COARSE: f64 = 0.5;

fn inside(piece: &Piece) -> Polygon {
    let cubics: Vec<CubicBez> = piece
        .outline
        .edges()
        .iter()
        .flat_map(|e| e.line.cubics())
        .collect();
    Polygon::from_chain(&cubics, COARSE)
}

/// The point deepest inside the stitch line.
pub(super) fn label_point(piece: &Piece) -> Point {
    inside(piece).deepest()
}

/// A grain arrow that fits inside: along the grainline of the piece through its middle, where that lies inside, else
/// through the label's place; upright where the piece has no grainline. Eight tenths of the cloth there.
pub(super) fn grain(piece: &Piece, label_at: Point) -> Stroke {
    let polygon = inside(piece);
    let given = piece
        .grainline
        .filter(|(a, b)| (*b - *a).hypot2().sqrt() > JOINING.0);
    let along = given.map_or(Vec2::new(0.0, 1.0), |(a, b)| {
        (b - a) / (b - a).hypot2().sqrt()
    });
    let middle = given
        .map(|(a, b)| a.midpoint(b))
        .filter(|p| polygon.depth(*p) > 1.0);
    let chord = middle
        .and_then(|p| polygon.chord(p, along))
        .or_else(|| polygon.chord(label_at, along));
    let (a, b) = chord.unwrap_or((label_at - along, label_at + along));
    Stroke::new(a.lerp(b, 0.1), a.lerp(b, 0.9))
}

/// The widest allowance of every edge.
pub(super) fn allowances(piece: &Piece, cut: &CutLine) -> Vec<Mm> {
    (0..piece.outline.edges().len())
        .map(|i| {
            Mm(cut
                .runs
                .iter()
                .filter(|run| run.edge == i)
                .map(|run| run.width)
                .fold(0.0, f64::max))
        })
        .collect()
}

/// The fold edge from cut line to cut line.
pub(super) fn fold(piece: &Piece, cut: &CutLine) -> Option<Stroke> {
    let edge = piece.fold_edge()?;
    let line = straight(edge.line.start(), edge.line.end());
    let along = direction_on(&line, 0.5);
    // the cut line runs along the fold: its straight stretch there says how far
    let on_fold = |p: Point| ((p - line.p0).cross(along)).abs() <= JOINING.0;
    let stretch = cut
        .chain
        .iter()
        .find(|c| on_fold(c.p0) && on_fold(c.p3) && (c.p3 - c.p0).dot(along) > JOINING.0);
    Some(stretch.map_or(Stroke::new(line.p0, line.p3), |c| Stroke::new(c.p0, c.p3)))
}

/// Lines along which cloth is folded inside the piece.
pub(super) fn fold_lines(piece: &Piece, cut: &CutLine) -> Vec<BezPath> {
    let mut lines = Vec::new();
    let n = cut.runs.len();
    for (i, run) in cut
        .runs
        .iter()
        .enumerate()
        .filter(|(_, run)| is_turned(run.finish))
    {
        let next = cut.runs.iter().cycle().nth(i + 1);
        let last = cut.runs.iter().cycle().nth(i + n - 1);
        let goes_on = |other: Option<&Run>| {
            n > 1 && other.is_some_and(|o| o.edge == run.edge && o.finish == run.finish)
        };
        let mut depth = 0.0;
        for strip in &run.strips {
            if *strip > 0.0 {
                let most = 4.0 * run.width;
                let carried = carried_on(
                    parallel(&run.stitch, depth),
                    if goes_on(last) { 0.0 } else { most },
                    if goes_on(next) { 0.0 } else { most },
                );
                lines.push(open_path(&within(&carried, &cut.chain)));
            }
            depth += strip;
        }
    }
    for legs in dart_legs(piece) {
        let Some((a, b)) = piece
            .outline
            .edges()
            .get(legs.first)
            .zip(piece.outline.edges().get(legs.second))
        else {
            continue;
        };
        let apex = a.line.end();
        let out = middle_of(apex, a.line.start(), b.line.end());
        if out.hypot2() > 0.5 {
            let end = stroke_from(apex, out, &cut.chain, 0.0)
                .map_or(a.line.start().midpoint(b.line.end()), |s| s.p0);
            lines.push(open_path(&[straight(apex, end)]));
        }
    }
    lines
}

/// The chain carried on straight at its two ends.
fn carried_on(mut chain: Vec<CubicBez>, at_start: f64, at_end: f64) -> Vec<CubicBez> {
    if let Some(c) = chain.last().copied()
        && at_end > 0.0
    {
        chain.push(straight(c.p3, c.p3 + direction_on(&c, 1.0) * at_end));
    }
    if let Some(c) = chain.first().copied()
        && at_start > 0.0
    {
        chain.insert(0, straight(c.p0 - direction_on(&c, 0.0) * at_start, c.p0));
    }
    chain
}

/// The stretch of a chain around its middle that lies inside a closed chain.
fn within(chain: &[CubicBez], closed: &[CubicBez]) -> Vec<CubicBez> {
    let middle = Spot {
        cubic: chain.len() / 2,
        t: if chain.len() % 2 == 1 { 0.5 } else { 0.0 },
    };
    let mut from = Spot { cubic: 0, t: 0.0 };
    let mut to = Spot {
        cubic: chain.len().saturating_sub(1),
        t: 1.0,
    };
    for c in crossings(chain, closed) {
        if c.first <= middle && c.first > from {
            from = c.first;
        } else if c.first > middle && c.first < to {
            to = c.first;
        }
    }
    between(chain, from, to)
}

/// Dart legs, one path each.
pub(super) fn sew_lines(piece: &Piece) -> Vec<BezPath> {
    let edges = piece.outline.edges();
    dart_legs(piece)
        .iter()
        .flat_map(|legs| [legs.first, legs.second])
        .filter_map(|i| edges.get(i))
        .map(|edge| open_path(&edge.line.cubics().collect::<Vec<_>>()))
        .collect()
}

/// All notch strokes. A notch at the mouth end of a dart leg lies where the leg, carried on, meets the cut line; further
/// in there is no cut line to notch, which is a finding.
pub(super) fn notch_strokes(
    piece: &Piece,
    plan: &AllowancePlan,
    cut: &CutLine,
    findings: &mut Vec<Finding>,
) -> Vec<Stroke> {
    let depth = if plan.notch_depth.0.is_finite() {
        plan.notch_depth.0.max(0.0)
    } else {
        0.0
    };
    let legs = dart_legs(piece);
    let mut list = Vec::new();
    for notch in &piece.notches {
        let Some(place) = piece.outline.index_of(&notch.edge) else {
            let what = format!(
                "A notch is on an edge called {}, which this piece does not have.",
                notch.edge
            );
            findings.push(note(
                piece,
                notch,
                what,
                "Put the notch on one of the piece's edges.",
            ));
            continue;
        };
        let Some(edge) = piece.outline.edges().get(place) else {
            continue;
        };
        let Some(leg) = legs.iter().find(|l| l.first == place || l.second == place) else {
            list.extend(strokes(&edge.line, notch, &cut.chain, depth));
            continue;
        };
        let mouth = if leg.first == place { 0.0 } else { 1.0 };
        if (notch.fraction - mouth).abs() > 1e-3 {
            let what = format!(
                "The notch {:.1} mm inside the dart leg lies where no cloth is cut.",
                (notch.fraction - mouth).abs() * edge.line.length()
            );
            findings.push(note(
                piece,
                notch,
                what,
                "Mark it with chalk or thread instead, or put a dot there.",
            ));
            continue;
        }
        let out = if leg.first == place {
            -edge.line.direction(0.0)
        } else {
            edge.line.direction(1.0)
        };
        list.extend(stroke_from(edge.line.at(mouth), out, &cut.chain, depth));
    }
    list
}

fn note(piece: &Piece, notch: &Notch, what: String, advice: &str) -> Finding {
    let place = Place {
        fraction: Some(notch.fraction),
        ..Place::edge(&piece.name, &notch.edge)
    };
    Finding {
        gravity: Gravity::Note,
        place,
        what,
        advice: advice.to_owned(),
        remedy: None,
    }
}
