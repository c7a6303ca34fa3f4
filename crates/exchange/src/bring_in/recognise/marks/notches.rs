//! Notches: short strokes, triangles and T strokes at the outline; two or three close together are one.

use petitoile_core::kurbo::{Point, Vec2};
use petitoile_core::notch::{Notch, NotchKind};

use super::super::super::found::Meaning;
use super::super::chain::turn;
use super::super::strokes::Stroke;
use super::super::told::guess;
use super::super::types::{Alternative, Correction, Guess, GuessKind, Taken, Thing};
use super::{Scene, TOUCHES, place_on};

/// Longest notch, mm. *Own; paper pieces have 6 to 10.*
const LONGEST: f64 = 14.0;

/// Strokes of one notch lie no further apart than this many times their length.
const CLOSE: f64 = 1.4;

/// A stroke that stands at the outline.
#[derive(Debug, Clone)]
struct Stand {
    strokes: Vec<usize>,
    /// Where it meets the line.
    foot: Point,
    long: f64,
    edge: usize,
    fraction: f64,
    /// Along the edge, mm.
    along: f64,
    certainty: f64,
    said: Option<NotchKind>,
    /// Cut into this line, the one of this number.
    cut: Option<(usize, usize)>,
}

pub(super) fn read(scene: &mut Scene<'_, '_>) {
    let mut stands: Vec<Stand> = Vec::new();
    let all: Vec<usize> = scene.free.iter().copied().collect();
    for at in all {
        let Some((foot, long, strokes, certainty)) = stands_at(scene, at) else {
            continue;
        };
        if strokes.iter().any(|s| !scene.free.contains(s)) {
            continue;
        }
        let said = match scene.said(at) {
            Some(Taken::Notch(kind)) => Some(kind),
            Some(_) => continue,
            None => None,
        };
        let Some(draft) = scene.work.drafts.get(scene.draft) else {
            return;
        };
        let may = |e: usize| !draft.is_leg(e);
        let Some((edge, fraction, _)) = place_on(&draft.edges, foot, may) else {
            continue;
        };
        let length = draft.line(edge).map_or(0.0, |l| l.length());
        scene.claim(&strokes);
        stands.push(Stand {
            strokes,
            foot,
            long,
            edge,
            fraction,
            along: fraction * length,
            certainty,
            said,
            cut: None,
        });
    }
    cut_in(scene, &mut stands);
    stands.sort_by(|a, b| {
        (a.edge.cmp(&b.edge))
            .then(a.along.total_cmp(&b.along))
            .then(a.strokes.cmp(&b.strokes))
    });
    let mut group: Vec<Stand> = Vec::new();
    for stand in stands {
        let goes_on = group.last().is_some_and(|last| {
            last.edge == stand.edge
                && last.said == stand.said
                && (stand.foot - last.foot).hypot() <= CLOSE * last.long.min(stand.long).max(0.5)
        });
        if !goes_on {
            put(scene, &group);
            group.clear();
        }
        group.push(stand);
    }
    put(scene, &group);
}

/// Notches that were cut into the outlines; what both lines show counts once.
fn cut_in(scene: &Scene<'_, '_>, stands: &mut Vec<Stand>) {
    let Some(draft) = scene.work.drafts.get(scene.draft) else {
        return;
    };
    for of in [Some(draft.outer), draft.inner].into_iter().flatten() {
        let stroke = scene.work.loops.get(of).map(|l| l.stroke);
        let cuts = scene.work.vcuts.iter();
        for cut in cuts.filter(|cut| Some(cut.stroke) == stroke) {
            let may = |e: usize| !draft.is_leg(e);
            let Some((edge, fraction, _)) = place_on(&draft.edges, cut.foot, may) else {
                continue;
            };
            let length = draft.line(edge).map_or(0.0, |l| l.length());
            let along = fraction * length;
            let is_told = stands.iter().any(|s| {
                s.edge == edge
                    && s.cut.is_some_and(|c| c.0 != cut.line)
                    && (s.along - along).abs() < 3.0
            });
            if !is_told {
                stands.push(Stand {
                    strokes: Vec::new(),
                    foot: cut.foot,
                    long: cut.depth,
                    edge,
                    fraction,
                    along,
                    certainty: 0.9,
                    said: None,
                    cut: Some((cut.line, cut.number)),
                });
            }
        }
    }
}

/// Makes one notch of strokes that stand close together, or one of each when they are more than three.
fn put(scene: &mut Scene<'_, '_>, group: &[Stand]) {
    if group.len() > 3 {
        group.chunks(1).for_each(|one| put(scene, one));
        return;
    }
    let Some(first) = group.first() else { return };
    let kind = first.said.unwrap_or(match group.len() {
        1 => NotchKind::Single,
        2 => NotchKind::Double,
        _ => NotchKind::Triple,
    });
    let fraction = group.iter().map(|s| s.fraction).sum::<f64>() / group.len() as f64;
    let own = first
        .strokes
        .first()
        .and_then(|s| scene.work.strokes.get(*s))
        .map(Stroke::first_line);
    let line = own.or(first.cut.map(|c| c.0)).unwrap_or(0);
    let about = first.cut.map_or_else(
        || line.to_string(),
        |(line, number)| format!("{line}v{number}"),
    );
    let told = group.iter().all(|s| {
        s.strokes
            .first()
            .and_then(|s| scene.work.strokes.get(*s))
            .is_some_and(|s| s.meaning == Some(Meaning::Notch))
    });
    let Some(draft) = scene.work.drafts.get_mut(scene.draft) else {
        return;
    };
    let id = draft.id;
    // Edges are named last, when folds and hems are known: the place is kept.
    draft.notches.push(Notch {
        edge: String::new(),
        fraction,
        kind,
    });
    draft.notch_at.push(first.edge);
    scene.work.guesses.push(Guess {
        words: format!("a {} notch", kind.label()),
        rests_on: match (first.cut, group.len()) {
            (Some(_), 1) => format!("a V in the outline, {:.1} mm deep", first.long),
            (Some(_), _) => format!(
                "Vs close together in the outline, {:.1} mm deep",
                first.long
            ),
            (None, 1) => format!("a stroke across the outline, {:.1} mm long", first.long),
            (None, 2) => format!("two strokes across the outline, {:.1} mm long", first.long),
            (None, _) => format!(
                "three strokes across the outline, {:.1} mm long",
                first.long
            ),
        },
        certainty: if told || first.said.is_some() {
            1.0
        } else {
            first.certainty
        },
        alternatives: vec![Alternative {
            words: match first.cut {
                Some(_) => "it is no notch, the outline goes in there".to_owned(),
                None => "it is no notch".to_owned(),
            },
            correction: match first.cut {
                Some((line, number)) => Correction::Cut {
                    line,
                    number,
                    is_notch: false,
                },
                None => Correction::Is {
                    thing: Thing::Line(line),
                    taken: Taken::NoPart,
                },
            },
        }],
        ..guess(Some(id), GuessKind::Notch, &about, first.foot)
    });
}

/// Where a stroke stands at the outline, how long it is, the strokes that belong to it, how sure.
fn stands_at(scene: &Scene<'_, '_>, at: usize) -> Option<(Point, f64, Vec<usize>, f64)> {
    let stroke = scene.stroke(at)?;
    let said = matches!(scene.said(at), Some(Taken::Notch(_)));
    let told = said || stroke.meaning == Some(Meaning::Notch);
    if stroke.meaning.is_some() && !told {
        return None;
    }
    let size = stroke.bounds.width().hypot(stroke.bounds.height());
    if size > LONGEST && !told || size <= 0.0 {
        return None;
    }
    let is_dashed = scene.work.styles.is_dashed(stroke.style);
    if is_dashed && !told {
        return None;
    }
    if !stroke.closed && stroke.is_straight(0.05) {
        let (foot, long) = straight(scene, stroke)?;
        let mut strokes = vec![at];
        strokes.extend(bar_of_t(scene, at, stroke));
        return Some((foot, long, strokes, if told { 1.0 } else { 0.92 }));
    }
    let mut corners = stroke.points();
    if stroke.closed {
        corners.pop();
    }
    let small = stroke.segs.iter().all(|s| s.straight) && (3..=4).contains(&corners.len());
    if !small && !told {
        return None;
    }
    // A triangle or V with corners on the line, a diamond across it.
    let touching: Vec<Point> = corners
        .iter()
        .filter_map(|p| on_lines(scene, *p))
        .filter(|t| t.0 <= TOUCHES)
        .map(|t| t.1)
        .collect();
    if let Some(sum) = touching.iter().map(|p| p.to_vec2()).reduce(|a, b| a + b) {
        let foot = (sum / touching.len() as f64).to_point();
        let (_, foot, _) = on_lines(scene, foot)?;
        return Some((foot, size, vec![at], if told { 1.0 } else { 0.85 }));
    }
    let (off, foot, _) = on_lines(scene, stroke.bounds.center())?;
    (off <= 0.35 * size).then_some((foot, size, vec![at], 0.7))
}

/// The nearer of cut and stitch line.
fn on_lines(scene: &Scene<'_, '_>, p: Point) -> Option<(f64, Point, Vec2)> {
    let (outer, inner) = (scene.on_outer(p)?, scene.on_inner(p));
    Some(match inner {
        Some(inner) if inner.0 < outer.0 => inner,
        _ => outer,
    })
}

/// A straight stroke with one end on the line, or across it; the place where it meets the line, and its length.
fn straight(scene: &Scene<'_, '_>, stroke: &Stroke) -> Option<(Point, f64)> {
    let (a, b) = (stroke.start(), stroke.end());
    let along = b - a;
    let square_on = |d: Vec2| {
        let t = turn(d, along);
        t.min(std::f64::consts::PI - t) > 0.8
    };
    let (from, to) = (scene.on_outer(a)?, scene.on_outer(b)?);
    let (near, far) = if from.0 <= to.0 {
        (from, to)
    } else {
        (to, from)
    };
    if near.0 <= TOUCHES && far.0 > TOUCHES && square_on(near.2) {
        return Some((near.1, stroke.length));
    }
    // Across the cut line, or across the stitch line.
    let crosses = |ring: &dyn Fn(Point) -> Option<(f64, Point, Vec2)>| {
        let middle = ring(a.midpoint(b))?;
        let foot = crossing(a, b, middle.1, middle.2)?;
        (square_on(middle.2) && ring(foot)?.0 <= 0.1).then_some((foot, stroke.length))
    };
    crosses(&|p| scene.on_outer(p)).or_else(|| crosses(&|p| scene.on_inner(p)))
}

/// Where a stroke crosses the straight line through `p` along `d`, between its ends.
fn crossing(a: Point, b: Point, p: Point, d: Vec2) -> Option<Point> {
    let cross = (b - a).cross(d);
    let t = (p - a).cross(d) / cross;
    (cross.abs() > 1e-12 && (0.02..=0.98).contains(&t)).then(|| a.lerp(b, t))
}

/// The bar of a T whose stem this is.
fn bar_of_t(scene: &Scene<'_, '_>, stem: usize, stroke: &Stroke) -> Option<usize> {
    let (a, b) = (stroke.start(), stroke.end());
    scene
        .strokes()
        .filter(|(i, s)| *i != stem && !s.closed && s.is_straight(0.05) && s.length <= LONGEST)
        .find(|(_, s)| {
            let middle = s.start().midpoint(s.end());
            let d = s.end() - s.start();
            let is_square = d.dot(b - a).abs() <= 0.1 * d.hypot() * stroke.length;
            let at_end = (middle - a).hypot().min((middle - b).hypot()) <= 0.3;
            let off_line = scene.on_outer(middle).is_some_and(|o| o.0 > TOUCHES);
            is_square && at_end && off_line
        })
        .map(|(i, _)| i)
}
