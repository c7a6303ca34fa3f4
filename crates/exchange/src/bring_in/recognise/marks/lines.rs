//! Lines on a piece: folds, stitching, placement; darts drawn on; what repeats the outline; where hems are turned.

use petitoile_core::geometry::curve::Line;
use petitoile_core::kurbo::Point;
use petitoile_core::piece::{Mark, MarkKind};

use super::super::super::found::Meaning;
use super::super::chain::turn;
use super::super::corners::{Smooth, open_edges};
use super::super::strokes::Stroke;
use super::super::told::{guess, mm};
use super::super::types::{Alternative, Correction, Guess, GuessKind, Taken, Thing};
use super::{Scene, TOUCHES, dots, place_on};

/// Shorter strokes say nothing, mm.
const SHORTEST: f64 = 1.5;

/// A dash at least this long is that of a fold, a shorter one that of stitches, mm. *Own.*
const FOLD_DASH: f64 = 2.0;

/// A line inside that keeps this near to an edge may be stitching along it, mm.
const ALONG: f64 = 25.0;

/// Where the cloth of a wide edge is turned: the edge, and how far out.
pub(in super::super) type HemFold = (usize, f64);

/// What the maker or the file says of single strokes goes first.
pub(super) fn told(scene: &mut Scene<'_, '_>) {
    let all: Vec<usize> = scene.free.iter().copied().collect();
    for at in all {
        let Some(stroke) = scene.stroke(at).cloned() else {
            continue;
        };
        let said = scene.said(at);
        match (said, stroke.meaning) {
            (Some(Taken::Grain), _) => {
                scene.claim(&[at]);
                let line = stroke.first_line();
                if let Some(draft) = scene.work.drafts.get_mut(scene.draft) {
                    draft.grain = Some((stroke.start(), stroke.end()));
                    let id = draft.id;
                    scene.work.guesses.push(Guess {
                        words: "the grainline".to_owned(),
                        rests_on: "you say so".to_owned(),
                        ..guess(
                            Some(id),
                            GuessKind::Grain,
                            &line.to_string(),
                            stroke.middle(),
                        )
                    });
                }
            }
            (None, Some(Meaning::Grain)) if stroke.is_straight(0.1) => {
                scene.claim(&[at]);
                if let Some(draft) = scene.work.drafts.get_mut(scene.draft) {
                    draft.grain = Some((stroke.start(), stroke.end()));
                    let id = draft.id;
                    scene.work.guesses.push(Guess {
                        words: format!("the grainline, {} long", mm(stroke.length)),
                        rests_on: "the file says so".to_owned(),
                        ..guess(Some(id), GuessKind::Grain, "", stroke.middle())
                    });
                }
            }
            (Some(Taken::FoldEdge), _) | (None, Some(Meaning::Fold)) => {
                scene.claim(&[at]);
                if let Some(draft) = scene.work.drafts.get_mut(scene.draft) {
                    draft.fold_told.push((stroke.start(), stroke.end()));
                }
            }
            (Some(Taken::Dot), _) => mark_at(scene, at, MarkKind::Dot(stroke.bounds.center())),
            (Some(Taken::Buttonhole), _) => {
                mark_at(
                    scene,
                    at,
                    MarkKind::Buttonhole(stroke.start(), stroke.end()),
                );
            }
            (Some(Taken::FoldMark | Taken::StitchMark | Taken::Placement), _) => {
                line_mark(scene, at, &stroke);
            }
            (None, Some(Meaning::CutOut)) => line_mark(scene, at, &stroke),
            (None, Some(Meaning::Reference)) => {
                scene.work.leave(at, "a line of reference, by the file");
                scene.free.remove(&at);
            }
            _ => {}
        }
    }
}

fn mark_at(scene: &mut Scene<'_, '_>, at: usize, kind: MarkKind) {
    scene.claim(&[at]);
    if let Some(draft) = scene.work.drafts.get_mut(scene.draft) {
        draft.marks.push(Mark {
            name: String::new(),
            kind,
        });
    }
}

/// Reads what is left; gives where hems are turned.
pub(super) fn read(scene: &mut Scene<'_, '_>) -> Vec<HemFold> {
    let mut hem_folds = Vec::new();
    let all: Vec<usize> = scene.free.iter().copied().collect();
    for at in all {
        let Some(stroke) = scene.stroke(at).cloned() else {
            continue;
        };
        if stroke.length < SHORTEST || stroke.filled {
            continue;
        }
        let Some(beside) = beside(scene, &stroke) else {
            continue;
        };
        match beside {
            Beside::On(edge) => {
                scene.claim(&[at]);
                let is_leg = scene
                    .work
                    .drafts
                    .get(scene.draft)
                    .is_some_and(|d| d.is_leg(edge));
                if scene.work.styles.is_dashed(stroke.style) && !is_leg {
                    hem_folds.push((edge, 0.0));
                }
            }
            Beside::Out(edge, far) => {
                scene.claim(&[at]);
                hem_folds.push((edge, far));
            }
            Beside::DartFold => scene.claim(&[at]),
            Beside::In(edge, far, share) => {
                let stitched = scene.work.styles.is_dashed(stroke.style) && share > 0.6;
                if stitched && far <= ALONG && stroke.meaning.is_none() && scene.said(at).is_none()
                {
                    along_edge(scene, at, &stroke, edge, far);
                } else {
                    line_mark(scene, at, &stroke);
                }
            }
            Beside::Nothing => {
                if !drawn_dart(scene, at, &stroke) {
                    line_mark(scene, at, &stroke);
                }
            }
        }
    }
    hem_folds
}

/// How a stroke lies to the edges of the piece.
enum Beside {
    /// Along this edge, on it.
    On(usize),
    /// Along this edge, outside of it, this far.
    Out(usize, f64),
    /// Along this edge, inside of it, this far, over this share of it.
    In(usize, f64, f64),
    /// From a dart's point to its mouth.
    DartFold,
    Nothing,
}

fn beside(scene: &Scene<'_, '_>, stroke: &Stroke) -> Option<Beside> {
    let draft = scene.work.drafts.get(scene.draft)?;
    let apexes = || {
        draft
            .darts
            .iter()
            .filter_map(|d| draft.edges.get(*d))
            .map(Smooth::end)
    };
    let touches_apex =
        apexes().any(|p| (p - stroke.start()).hypot() <= 0.1 || (p - stroke.end()).hypot() <= 0.1);
    if touches_apex && stroke.is_straight(0.1) && scene.work.styles.is_dashed(stroke.style) {
        let other = |p: Point| (p - stroke.start()).hypot().max((p - stroke.end()).hypot());
        let is_leg = apexes().any(|p| other(p) <= stroke.length * 1.01);
        let long = stroke.length;
        let leg = draft
            .darts
            .iter()
            .filter_map(|d| draft.line(*d))
            .map(|l| l.length())
            .fold(0.0, f64::max);
        let on_leg = |p: Point| {
            place_on(&draft.edges, p, |e| draft.is_leg(e)).is_some_and(|at| at.2 <= 0.05)
        };
        if is_leg && long <= 3.0 * leg && !on_leg(stroke.middle()) {
            return Some(Beside::DartFold);
        }
    }
    let points = samples(stroke);
    if points.is_empty() {
        return None;
    }
    let (edge, ..) = place_on(&draft.edges, *points.get(points.len() / 2)?, |_| true)?;
    let mut fars = Vec::new();
    let mut fractions = Vec::new();
    for p in &points {
        let (_, fraction, far) = place_on(&draft.edges, *p, |e| e == edge)?;
        fars.push(far);
        fractions.push(fraction);
    }
    let (least, most) = (
        fars.iter().copied().fold(f64::INFINITY, f64::min),
        fars.iter().copied().fold(0.0, f64::max),
    );
    let far = fars.get(fars.len() / 2).copied()?;
    let first = fractions.iter().copied().fold(1.0, f64::min);
    let last = fractions.iter().copied().fold(0.0, f64::max);
    if most <= 0.06 {
        return Some(Beside::On(edge));
    }
    if most - least > 0.15 {
        return Some(Beside::Nothing);
    }
    let mid = *points.get(points.len() / 2)?;
    let inner = draft.inner.unwrap_or(draft.outer);
    let is_in = scene.work.loops.get(inner).is_some_and(|l| l.contains(mid));
    Some(if is_in {
        // Sampled over six tenths of the stroke.
        Beside::In(edge, far, (last - first) / 0.6)
    } else {
        Beside::Out(edge, far)
    })
}

/// Points along the middle six tenths of a stroke.
fn samples(stroke: &Stroke) -> Vec<Point> {
    let cubics: Vec<_> = stroke.segs.iter().map(|s| s.c).collect();
    let Some(line) = Line::from_cubics(&cubics) else {
        return Vec::new();
    };
    (0..9)
        .map(|i| line.at(0.2 + 0.6 * f64::from(i) / 8.0))
        .collect()
}

/// A dashed line along an edge inside the piece: stitching.
fn along_edge(scene: &mut Scene<'_, '_>, at: usize, stroke: &Stroke, edge: usize, far: f64) {
    let Some(line) = line_of(stroke) else { return };
    let words = dots::words_along(scene, line.at(0.5), line.direction(0.5), line.length());
    let kind = kind_of(scene, at, stroke, line.clone());
    let is_stitch = matches!(kind, MarkKind::Stitch(_));
    let certainty = if is_stitch { 0.85 } else { 0.6 };
    let names = scene
        .work
        .drafts
        .get(scene.draft)
        .map(super::super::draft::Draft::names)
        .unwrap_or_default();
    let rests_on = format!(
        "dashed, {} inside {}",
        mm(far),
        names.get(edge).map_or("an edge", String::as_str)
    );
    put(scene, at, kind, words, certainty, rests_on);
    if let Some(draft) = scene.work.drafts.get_mut(scene.draft)
        && is_stitch
        && let Some(mark) = draft.marks.len().checked_sub(1)
    {
        draft.rows.push((edge, far, mark));
    }
}

fn line_of(stroke: &Stroke) -> Option<Line> {
    let parts = if stroke.closed {
        super::super::corners::edges(stroke)
    } else {
        open_edges(stroke)
    };
    let cubics: Vec<_> = parts.into_iter().flat_map(|p| p.cubics).collect();
    Line::from_cubics(&cubics)
}

/// What a line inside is, by its dashes.
fn kind_of(scene: &Scene<'_, '_>, at: usize, stroke: &Stroke, line: Line) -> MarkKind {
    match scene.said(at) {
        Some(Taken::FoldMark) => return MarkKind::Fold(line),
        Some(Taken::StitchMark | Taken::StitchLine) => return MarkKind::Stitch(line),
        Some(Taken::Placement) => return MarkKind::Line(line),
        _ => {}
    }
    if stroke.meaning == Some(Meaning::StitchLine) {
        return MarkKind::Stitch(line);
    }
    let dash = scene.work.styles.dash(stroke.style);
    match dash.as_slice() {
        [] => MarkKind::Line(line),
        [_, _, _, ..] => MarkKind::Line(line),
        [first, ..] if *first >= FOLD_DASH && stroke.is_straight(0.1) => MarkKind::Fold(line),
        _ => MarkKind::Stitch(line),
    }
}

/// A line inside becomes a mark.
fn line_mark(scene: &mut Scene<'_, '_>, at: usize, stroke: &Stroke) {
    let Some(line) = line_of(stroke) else { return };
    let words = dots::words_along(scene, line.at(0.5), line.direction(0.5), line.length());
    let kind = kind_of(scene, at, stroke, line);
    let told = scene.said(at).is_some() || stroke.meaning.is_some();
    let dash = scene.work.styles.dash(stroke.style);
    let certainty = match (told, dash.len()) {
        (true, _) => 1.0,
        (false, 0) => 0.6,
        _ => 0.75,
    };
    let rests_on = match dash.first() {
        None => "drawn without dashes".to_owned(),
        Some(_) if dash.len() > 2 => "dashes and dots".to_owned(),
        Some(first) => format!("dashes of {}", mm(*first)),
    };
    put(scene, at, kind, words, certainty, rests_on);
}

fn put(
    scene: &mut Scene<'_, '_>,
    at: usize,
    kind: MarkKind,
    words: Option<(usize, String)>,
    certainty: f64,
    rests_on: String,
) {
    let line = scene.work.strokes.get(at).map_or(0, Stroke::first_line);
    scene.claim(&[at]);
    let Some(draft) = scene.work.drafts.get_mut(scene.draft) else {
        return;
    };
    let id = draft.id;
    if let Some((text, _)) = &words {
        draft.made_of.insert(Thing::Text(*text));
        draft.mark_texts.insert(*text);
    }
    let middle = kind.middle();
    let noun = kind.noun();
    draft.marks.push(Mark {
        name: words.map(|w| w.1).unwrap_or_default(),
        kind,
    });
    let is = |words: &str, taken| Alternative {
        words: words.to_owned(),
        correction: Correction::Is {
            thing: Thing::Line(line),
            taken,
        },
    };
    let alternatives = [
        ("fold line", "it is a fold line", Taken::FoldMark),
        (
            "stitching line",
            "it is a stitching line",
            Taken::StitchMark,
        ),
        (
            "placement line",
            "it is a line to place something on",
            Taken::Placement,
        ),
    ]
    .into_iter()
    .filter(|(of, ..)| *of != noun)
    .map(|(_, words, taken)| is(words, taken))
    .chain([is("it is no part of the piece", Taken::NoPart)])
    .collect();
    scene.work.guesses.push(Guess {
        words: format!("a {noun}"),
        rests_on,
        certainty,
        alternatives,
        ..guess(Some(id), GuessKind::Inside, &line.to_string(), middle)
    });
}

/// A V drawn on the piece with both ends on one edge: a dart, its legs stitching lines.
fn drawn_dart(scene: &mut Scene<'_, '_>, at: usize, stroke: &Stroke) -> bool {
    if stroke.closed || stroke.meaning.is_some() || scene.said(at).is_some() {
        return false;
    }
    let parts = open_edges(stroke);
    let [a, b] = parts.as_slice() else {
        return false;
    };
    let (Some(first), Some(second)) = (Line::from_cubics(&a.cubics), Line::from_cubics(&b.cubics))
    else {
        return false;
    };
    let alike = (first.length() - second.length()).abs()
        <= (0.04 * first.length()).max(0.5).min(0.2 * first.length());
    let sharp = turn(first.direction(1.0), second.direction(0.0)) > 1.9;
    let near = |p: Point| place_on(scene.edges(), p, |_| true).filter(|n| n.2 <= TOUCHES);
    let (Some(from), Some(to)) = (near(first.start()), near(second.end())) else {
        return false;
    };
    if !alike || !sharp || from.0 != to.0 || first.length() < 4.0 {
        return false;
    }
    let line = stroke.first_line();
    scene.claim(&[at]);
    let Some(draft) = scene.work.drafts.get_mut(scene.draft) else {
        return true;
    };
    let (id, apex) = (draft.id, first.end());
    let mouth = (second.end() - first.start()).hypot();
    let (long, number) = (first.length(), draft.marks.len());
    for leg in [first, second] {
        draft.marks.push(Mark {
            name: format!("dart {}", number + 1),
            kind: MarkKind::Stitch(leg),
        });
    }
    scene.work.guesses.push(Guess {
        words: format!("a dart drawn on, {} long, {} wide", mm(long), mm(mouth)),
        rests_on: "a V with two equal legs that ends on an edge".to_owned(),
        certainty: 0.85,
        alternatives: vec![Alternative {
            words: "its lines are only to place something on".to_owned(),
            correction: Correction::Is {
                thing: Thing::Line(line),
                taken: Taken::Placement,
            },
        }],
        ..guess(Some(id), GuessKind::Dart, &line.to_string(), apex)
    });
    true
}
