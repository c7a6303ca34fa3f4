//! Round marks and buttonholes: small circles and crosses, holes with a rim, two close short parallels.

use petitoile_core::Mm;
use petitoile_core::kurbo::{Point, Vec2};
use petitoile_core::piece::{Mark, MarkKind};

use super::super::super::found::Meaning;
use super::super::labels::middle;
use super::super::loops::rectangle;
use super::super::strokes::Stroke;
use super::super::told::guess;
use super::super::types::{Alternative, Correction, Guess, GuessKind, Taken, Thing};
use super::Scene;

/// Widest dot, mm from its middle.
const DOT: f64 = 3.5;

/// Widest hole with a rim, mm from its middle.
const EYELET: f64 = 10.0;

/// Longest arm of a cross, mm.
const ARM: f64 = 12.0;

/// Longest and shortest buttonhole, mm.
const BUTTONHOLE: std::ops::RangeInclusive<f64> = 2.5..=45.0;

pub(super) fn read(scene: &mut Scene<'_, '_>) {
    leaders(scene);
    let rounds: Vec<(usize, Point, f64)> = scene
        .strokes()
        .filter(|(_, s)| s.bounds.width() <= 2.2 * EYELET)
        .filter_map(|(i, s)| s.circle().map(|(p, r)| (i, p, r)))
        .collect();
    let mut done: Vec<usize> = Vec::new();
    let mut largest_first = rounds.clone();
    largest_first.sort_by(|a, b| b.2.total_cmp(&a.2).then(a.0.cmp(&b.0)));
    for (at, middle, radius) in largest_first {
        if done.contains(&at) {
            continue;
        }
        // What is drawn about the same middle is one mark.
        let mut strokes: Vec<usize> = rounds
            .iter()
            .filter(|(_, p, r)| (*p - middle).hypot() <= 0.1 && *r <= radius)
            .map(|r| r.0)
            .collect();
        let arms = arms(scene, middle, 1.6 * radius + 1.5);
        strokes.extend(&arms);
        done.extend(&strokes);
        let said = scene.said(at);
        let is_eyelet = said == Some(Taken::Eyelet) || said.is_none() && arms.len() >= 2;
        let kind = if is_eyelet && radius <= EYELET {
            MarkKind::Eyelet {
                at: middle,
                diameter: Mm(2.0 * radius),
            }
        } else if radius <= DOT || said == Some(Taken::Dot) {
            MarkKind::Dot(middle)
        } else {
            continue;
        };
        put(scene, &strokes, kind, middle, radius, 0.9);
    }
    crosses(scene);
}

/// A line that leads from words beside a piece into it, with its dot, is part of the label.
fn leaders(scene: &mut Scene<'_, '_>) {
    let lines: Vec<(usize, Point)> = scene
        .strokes()
        .filter(|(_, s)| !s.closed && s.segs.len() == 1)
        .filter_map(|(i, s)| {
            let (a, b) = (scene.is_inside(s.start()), scene.is_inside(s.end()));
            match (a, b) {
                (true, false) => Some((i, s.start())),
                (false, true) => Some((i, s.end())),
                _ => None,
            }
        })
        .collect();
    for (line, end) in lines {
        let dot = scene
            .strokes()
            .find(|(_, s)| {
                s.circle()
                    .is_some_and(|(p, r)| r <= 0.8 && (p - end).hypot() <= 0.1)
            })
            .map(|(i, _)| i);
        if let Some(dot) = dot {
            scene.claim(&[line, dot]);
        }
    }
}

/// Straight strokes that cross each other in their middles at this place.
fn arms(scene: &Scene<'_, '_>, at: Point, longest: f64) -> Vec<usize> {
    scene
        .strokes()
        .filter(|(_, s)| !s.closed && s.is_straight(0.05) && s.length <= 2.0 * longest)
        .filter(|(_, s)| (s.start().midpoint(s.end()) - at).hypot() <= 0.1)
        .map(|(i, _)| i)
        .collect()
}

fn crosses(scene: &mut Scene<'_, '_>) {
    let strokes: Vec<(usize, Point, Vec2)> = scene
        .strokes()
        .filter(|(_, s)| !s.closed && s.is_straight(0.05) && s.length <= ARM)
        .map(|(i, s)| (i, s.start().midpoint(s.end()), s.end() - s.start()))
        .collect();
    let mut done: Vec<usize> = Vec::new();
    for (i, (a, p, u)) in strokes.iter().enumerate() {
        let other = strokes.iter().skip(i + 1).find(|(b, q, v)| {
            !done.contains(b)
                && (*q - *p).hypot() <= 0.1
                && u.dot(*v).abs() <= 0.1 * u.hypot() * v.hypot()
                && (u.hypot() - v.hypot()).abs() <= 0.1 * u.hypot()
        });
        if let Some((b, ..)) = other.filter(|_| !done.contains(a)) {
            done.extend([*a, *b]);
            put(
                scene,
                &[*a, *b],
                MarkKind::Dot(*p),
                *p,
                u.hypot() / 2.0,
                0.8,
            );
        }
    }
}

/// Puts a round mark on the piece, with the words beside it.
fn put(
    scene: &mut Scene<'_, '_>,
    strokes: &[usize],
    kind: MarkKind,
    at: Point,
    radius: f64,
    certainty: f64,
) {
    let line = strokes
        .first()
        .and_then(|s| scene.work.strokes.get(*s))
        .map_or(0, Stroke::first_line);
    let told = strokes.iter().any(|s| {
        let stroke = scene.work.strokes.get(*s);
        stroke.is_some_and(|s| s.meaning == Some(Meaning::Hole)) || scene.said(*s).is_some()
    });
    let texts = &scene.work.sheet.texts;
    let beside = texts
        .iter()
        .enumerate()
        .filter(|(_, t)| (t.at - at).hypot() <= radius + 2.5 && !t.words.trim().is_empty())
        .min_by(|a, b| (a.1.at - at).hypot().total_cmp(&(b.1.at - at).hypot()))
        .map(|(i, t)| (i, t.words.clone()));
    scene.claim(strokes);
    let noun = kind.noun();
    let Some(draft) = scene.work.drafts.get_mut(scene.draft) else {
        return;
    };
    let id = draft.id;
    if let Some((text, _)) = &beside {
        draft.made_of.insert(Thing::Text(*text));
        draft.mark_texts.insert(*text);
    }
    draft.marks.push(Mark {
        name: beside.map(|b| b.1).unwrap_or_default(),
        kind,
    });
    let is = |words: &str, taken| Alternative {
        words: words.to_owned(),
        correction: Correction::Is {
            thing: Thing::Line(line),
            taken,
        },
    };
    scene.work.guesses.push(Guess {
        words: format!("a {noun}"),
        rests_on: format!("drawn {:.1} mm across", 2.0 * radius),
        certainty: if told { 1.0 } else { certainty },
        alternatives: vec![
            is("it is an eyelet", Taken::Eyelet),
            is("it is no part of the piece", Taken::NoPart),
        ],
        ..guess(Some(id), GuessKind::Dot, &line.to_string(), at)
    });
}

/// Lines with a bar at either end, two close short parallels, and narrow small rectangles.
pub(super) fn buttonholes(scene: &mut Scene<'_, '_>) {
    let open: Vec<(usize, Point, Point)> = scene
        .strokes()
        .filter(|(_, s)| !s.closed && s.is_straight(0.05))
        .filter(|(i, s)| s.length <= *BUTTONHOLE.end() && may_be(scene, *i))
        .map(|(i, s)| (i, s.start(), s.end()))
        .collect();
    let mut found: Vec<(Vec<usize>, Point, Point, f64)> = Vec::new();
    let mut done: Vec<usize> = Vec::new();
    for (at, a, b) in &open {
        let long = (*b - *a).hypot();
        if !BUTTONHOLE.contains(&long) {
            continue;
        }
        let bar = |end: Point| {
            open.iter()
                .find(|(i, p, q)| {
                    let d = *q - *p;
                    i != at
                        && (p.midpoint(*q) - end).hypot() <= 0.15
                        && d.dot(*b - *a).abs() <= 0.1 * d.hypot() * long
                        && d.hypot() < long
                })
                .map(|o| o.0)
        };
        if let (Some(first), Some(last)) = (bar(*a), bar(*b)) {
            found.push((vec![*at, first, last], *a, *b, 0.95));
            done.extend([*at, first, last]);
        }
    }
    let says_so = |p: Point| {
        scene
            .work
            .sheet
            .texts
            .iter()
            .any(|t| (t.at - p).hypot() <= 3.0 && t.words.to_lowercase().contains("buttonhole"))
    };
    for (at, a, b) in &open {
        let fits = BUTTONHOLE.contains(&(*b - *a).hypot()) && !done.contains(at);
        if fits && (says_so(*a) || says_so(*b)) {
            found.push((vec![*at], *a, *b, 0.95));
            done.push(*at);
        }
    }
    for (i, (at, a, b)) in open.iter().enumerate() {
        let long = (*b - *a).hypot();
        if done.contains(at) || !BUTTONHOLE.contains(&long) {
            continue;
        }
        let twin = open.iter().skip(i + 1).find(|(j, p, q)| {
            let (p, q) = if (*q - *p).dot(*b - *a) < 0.0 {
                (q, p)
            } else {
                (p, q)
            };
            let (u, v) = (*p - *a, *q - *b);
            !done.contains(j)
                && (u - v).hypot() <= 0.1
                && u.dot(*b - *a).abs() <= 0.1 * u.hypot() * long
                && u.hypot() > 0.1
                && u.hypot() <= (0.35 * long).min(4.0)
        });
        if let Some((j, p, q)) = twin {
            let (p, q) = if (*q - *p).dot(*b - *a) < 0.0 {
                (q, p)
            } else {
                (p, q)
            };
            found.push((vec![*at, *j], a.midpoint(*p), b.midpoint(*q), 0.7));
            done.extend([*at, *j]);
        }
    }
    let narrow: Vec<(Vec<usize>, Point, Point, f64)> = scene
        .strokes()
        .filter_map(|(i, s)| {
            let (w, h) = rectangle(s)?;
            let (long, short) = (w.max(h), w.min(h));
            let fits = BUTTONHOLE.contains(&long) && short <= (0.35 * long).min(5.0);
            let ends = middle_line(s)?;
            fits.then_some((vec![i], ends.0, ends.1, 0.7))
        })
        .collect();
    found.extend(narrow);
    for (strokes, a, b, certainty) in found {
        if strokes.iter().any(|s| !scene.free.contains(s)) {
            continue;
        }
        let line = strokes
            .first()
            .and_then(|s| scene.work.strokes.get(*s))
            .map_or(0, Stroke::first_line);
        scene.claim(&strokes);
        let Some(draft) = scene.work.drafts.get_mut(scene.draft) else {
            return;
        };
        draft.marks.push(Mark {
            name: String::new(),
            kind: MarkKind::Buttonhole(a, b),
        });
        let id = draft.id;
        scene.work.guesses.push(Guess {
            words: format!("a buttonhole, {:.1} mm long", (b - a).hypot()),
            rests_on: "a short line with bars, or two close ones".to_owned(),
            certainty,
            alternatives: vec![Alternative {
                words: "it is a line to place something on".to_owned(),
                correction: Correction::Is {
                    thing: Thing::Line(line),
                    taken: Taken::Placement,
                },
            }],
            ..guess(Some(id), GuessKind::Dot, &line.to_string(), a.midpoint(b))
        });
    }
}

/// May a stroke be part of a buttonhole?
fn may_be(scene: &Scene<'_, '_>, at: usize) -> bool {
    let dashed = scene
        .stroke(at)
        .is_some_and(|s| scene.work.styles.is_dashed(s.style));
    !dashed && matches!(scene.said(at), None | Some(Taken::Buttonhole))
}

/// The line between the middles of the two short sides of a rectangle.
fn middle_line(stroke: &Stroke) -> Option<(Point, Point)> {
    let points = stroke.points();
    let [a, b, c, d, ..] = points.as_slice() else {
        return None;
    };
    Some(if (*b - *a).hypot() < (*c - *b).hypot() {
        (a.midpoint(*b), c.midpoint(*d))
    } else {
        (b.midpoint(*c), d.midpoint(*a))
    })
}

/// The words along a line, if any: their middle close above its middle, turned like it.
pub(super) fn words_along(
    scene: &Scene<'_, '_>,
    at: Point,
    along: Vec2,
    long: f64,
) -> Option<(usize, String)> {
    scene
        .work
        .sheet
        .texts
        .iter()
        .enumerate()
        .filter(|(_, t)| {
            let d = Vec2::from_angle(t.turn.to_radians());
            let off = middle(t) - at;
            let unit = along / along.hypot().max(1e-9);
            d.cross(unit).abs() <= 0.12
                && off.cross(unit).abs() <= 1.5 + 1.5 * t.size
                && off.dot(unit).abs() <= 0.2 * long
                && t.size <= 6.0
        })
        .min_by(|a, b| {
            let far = |t: &super::super::super::found::FoundText| (middle(t) - at).hypot();
            far(a.1).total_cmp(&far(b.1))
        })
        .map(|(i, t)| (i, t.words.clone()))
}
