//! Arrows: the grainline, and brackets whose arrows point at a fold.

use petitoile_core::kurbo::{Point, Vec2};

use super::super::super::found::Meaning;
use super::super::strokes::Stroke;
use super::super::told::{guess, mm};
use super::super::types::{Alternative, Correction, Guess, GuessKind, Taken, Thing};
use super::Scene;

/// An arrow head is smaller than this, mm across.
const HEAD: f64 = 15.0;

/// A grainline with two heads is at least this long, mm: on a narrow strip of doll size it has 5.
const GRAIN: f64 = 2.0;

/// A grainline with one head is at least this long, mm; arrows of pleats are shorter.
const ONE_HEAD: f64 = 8.0;

/// The direction of a head and of its shaft agree within this, radians.
const ALONG: f64 = 0.25;

/// The tip of a head and where it points.
#[derive(Debug, Clone, Copy)]
struct Head {
    stroke: usize,
    tip: Point,
    base: Point,
}

impl Head {
    fn along(&self) -> Vec2 {
        self.tip - self.base
    }
}

/// A line with two corners and an arrow at either end, as it stands along a fold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in super::super) struct Bracket {
    /// The tips of its arrows.
    pub tips: [Point; 2],
    /// Where they point.
    pub along: Vec2,
}

pub(super) fn read(scene: &mut Scene<'_, '_>) {
    let heads: Vec<Head> = scene.strokes().filter_map(|(i, s)| head(i, s)).collect();
    let mut arrows: Vec<(usize, Vec<Head>, f64, Point, Point)> = Vec::new();
    let mut brackets: Vec<(Vec<usize>, Bracket)> = Vec::new();
    for (at, shaft) in scene.strokes() {
        if shaft.closed || heads.iter().any(|h| h.stroke == at) {
            continue;
        }
        let at_end = at_tip(&heads, shaft.end(), shaft.comes());
        let at_start = at_tip(&heads, shaft.start(), -shaft.leaves());
        if shaft.is_straight(0.1) {
            let found: Vec<Head> = at_start.into_iter().chain(at_end).collect();
            let p0 = at_start.map_or(shaft.start(), |h| h.tip);
            let p1 = at_end.map_or(shaft.end(), |h| h.tip);
            if !found.is_empty() {
                arrows.push((at, found, (p1 - p0).hypot(), p0, p1));
            }
        } else if let (Some(a), Some(b)) = (at_start, at_end)
            && a.along().dot(b.along()) > 0.9 * a.along().hypot() * b.along().hypot()
        {
            brackets.push((
                vec![at, a.stroke, b.stroke],
                Bracket {
                    tips: [a.tip, b.tip],
                    along: a.along(),
                },
            ));
        } else if let Some((p0, p1)) = drawn_in_one(shaft) {
            arrows.push((at, Vec::new(), (p1 - p0).hypot(), p0, p1));
        }
    }
    for (strokes, bracket) in brackets {
        scene.claim(&strokes);
        scene.brackets.push(bracket);
    }
    grain(scene, arrows);
}

/// The longest arrow is the grainline, one with two heads before one with one.
fn grain(scene: &mut Scene<'_, '_>, mut arrows: Vec<(usize, Vec<Head>, f64, Point, Point)>) {
    let has_grain = scene
        .work
        .drafts
        .get(scene.draft)
        .is_some_and(|d| d.grain.is_some());
    arrows.retain(|a| scene.free.contains(&a.0));
    let told = |a: &(usize, Vec<Head>, f64, Point, Point)| {
        scene
            .work
            .strokes
            .get(a.0)
            .is_some_and(|s| s.meaning == Some(Meaning::Grain))
    };
    arrows.sort_by(|a, b| {
        let rank = |x: &(usize, Vec<Head>, f64, Point, Point)| (told(x), x.1.len() != 1);
        rank(b)
            .cmp(&rank(a))
            .then(b.2.total_cmp(&a.2))
            .then(a.0.cmp(&b.0))
    });
    let mut chosen: Option<usize> = None;
    for (stroke, heads, long, p0, p1) in arrows {
        let mut all = vec![stroke];
        all.extend(heads.iter().map(|h| h.stroke));
        let least = if heads.len() == 1 { ONE_HEAD } else { GRAIN };
        if chosen.is_none() && !has_grain && long >= least {
            chosen = Some(stroke);
            let line = scene.work.strokes.get(stroke).map_or(0, Stroke::first_line);
            let Some(draft) = scene.work.drafts.get_mut(scene.draft) else {
                return;
            };
            draft.grain = Some((p0, p1));
            let two = heads.len() != 1;
            let id = draft.id;
            scene.work.guesses.push(Guess {
                words: format!("the grainline, {} long", mm(long)),
                rests_on: if two {
                    "an arrow with two heads".to_owned()
                } else {
                    "the longest arrow on the piece".to_owned()
                },
                certainty: if two { 0.95 } else { 0.75 },
                alternatives: vec![Alternative {
                    words: "it is not the grainline".to_owned(),
                    correction: Correction::Is {
                        thing: Thing::Line(line),
                        taken: Taken::NoPart,
                    },
                }],
                ..guess(Some(id), GuessKind::Grain, "", p0.midpoint(p1))
            });
        } else {
            // Arrows of pleats and darts: they tell a way, nothing is kept of them.
            for at in &all {
                scene.work.leave(*at, "an arrow that is not the grainline");
                scene.free.remove(at);
            }
            continue;
        }
        scene.claim(&all);
    }
}

/// A small triangle or a V: its tip and the middle of its base.
fn head(at: usize, stroke: &Stroke) -> Option<Head> {
    let size = stroke.bounds.width().max(stroke.bounds.height());
    if size > HEAD || !stroke.segs.iter().all(|s| s.straight) {
        return None;
    }
    let points = stroke.points();
    let corners: Vec<Point> = match (stroke.closed, points.as_slice()) {
        (true, [a, b, c, _]) => vec![*a, *b, *c],
        // A swallow's tail: the notch in the base is the fourth corner.
        (true, [a, b, c, d, _]) => {
            let all = [*a, *b, *c, *d];
            let tip = tip_of(&all)?;
            let n = all.iter().position(|p| *p == tip)?;
            let side = |k: usize| all.get((n + k) % 4).copied();
            vec![tip, side(1)?, side(3)?]
        }
        (false, [a, b, c]) => {
            let (u, v) = (*a - *b, *c - *b);
            let alike = (u.hypot() - v.hypot()).abs() <= 0.1 * u.hypot();
            let sharp = u.dot(v) > 0.2 * u.hypot() * v.hypot();
            return (alike && sharp).then_some(Head {
                stroke: at,
                tip: *b,
                base: a.midpoint(*c),
            });
        }
        _ => return None,
    };
    let tip = tip_of(&corners)?;
    let others: Vec<Point> = corners.into_iter().filter(|p| *p != tip).collect();
    let [a, b] = others.as_slice() else {
        return None;
    };
    Some(Head {
        stroke: at,
        tip,
        base: a.midpoint(*b),
    })
}

/// The sharpest corner whose two sides are alike.
fn tip_of(corners: &[Point]) -> Option<Point> {
    let n = corners.len();
    (0..n)
        .filter_map(|i| {
            let p = *corners.get(i)?;
            let (a, b) = (*corners.get((i + 1) % n)?, *corners.get((i + n - 1) % n)?);
            let (u, v) = (a - p, b - p);
            let alike = (u.hypot() - v.hypot()).abs() <= 0.08 * u.hypot().max(v.hypot());
            let angle = u.cross(v).abs().atan2(u.dot(v));
            alike.then_some((angle, p))
        })
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|t| t.1)
}

/// The head that sits at an end of a shaft which goes out this way.
fn at_tip(heads: &[Head], end: Point, out: Vec2) -> Option<Head> {
    heads.iter().copied().find(|h| {
        let along = h.along();
        let long = along.hypot();
        let turn = along.cross(out).abs().atan2(along.dot(out));
        let (on, off) = (
            (end - h.base).dot(along) / long.max(1e-9),
            (end - h.base).cross(along).abs() / long.max(1e-9),
        );
        turn <= ALONG && off <= 0.2 * long + 0.1 && (-0.4 * long - 0.3..=long + 0.4).contains(&on)
    })
}

/// A shaft whose heads were drawn in the same line: the two points furthest apart, when all the rest is close to them.
fn drawn_in_one(stroke: &Stroke) -> Option<(Point, Point)> {
    let points = stroke.points();
    if !(4..=12).contains(&points.len()) || !stroke.segs.iter().all(|s| s.straight) {
        return None;
    }
    let longest = stroke
        .segs
        .iter()
        .max_by(|a, b| a.length().total_cmp(&b.length()))?;
    let (a, b) = (longest.c.p0, longest.c.p3);
    let long = (b - a).hypot();
    let near = |p: &Point| (*p - a).hypot().min((*p - b).hypot()) <= (0.25 * long).min(HEAD);
    let others = stroke.segs.len() - 1;
    (points.iter().all(near) && others >= 2).then_some((a, b))
}
