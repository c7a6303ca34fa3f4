//! Which edge lies on the fold of the cloth, which are hems, and the darts of an outline.

use petitoile_core::kurbo::{Point, Rect, Vec2};

use super::draft::Draft;
use super::labels::middle;
use super::parallel::{TOGETHER, usual};
use super::pieces::Work;
use super::told::{guess, mm};
use super::types::{Alternative, Correction, Drawn, Guess, GuessKind, PieceId};
use super::words;

/// An edge bows from a straight line by no more than this on a fold, mm.
const STRAIGHT: f64 = 0.1;

/// "Fold" stands no further from its edge than this, mm.
const BESIDE: f64 = 14.0;

/// A hem is wider than the usual allowance by this share and by [`WIDER`].
const WIDE: f64 = 1.15;

/// A hem is wider than the usual allowance by this, mm.
const WIDER: f64 = 1.0;

pub(super) fn read(work: &mut Work<'_>) {
    // What is usual on the sheet, not on the piece: a hem may be most of a piece.
    let usual = usual(work.drafts.iter().flat_map(|d| d.ways.iter().flatten()));
    let usual = usual.map_or(0.0, |u| u.0);
    for at in 0..work.drafts.len() {
        fold(work, at);
        hems(work, at, usual);
        darts(work, at);
    }
}

/// Is this edge straight? Its ends and direction.
fn straight(draft: &Draft, at: usize) -> Option<(Point, Point, f64)> {
    let line = draft.line(at)?;
    let (a, b) = (line.start(), line.end());
    let d = b - a;
    let long = d.hypot();
    let is_straight = long > 1.0
        && line
            .points()
            .iter()
            .all(|p| ((*p - a).cross(d) / long).abs() <= STRAIGHT);
    (is_straight && !draft.is_leg(at)).then_some((a, b, long))
}

fn fold(work: &mut Work<'_>, at: usize) {
    let Some(draft) = work.drafts.get(at) else {
        return;
    };
    let id = draft.id;
    let said = work.choices.fold(id);
    let straights: Vec<(usize, Point, Point, f64)> = (0..draft.edges.len())
        .filter_map(|e| straight(draft, e).map(|(a, b, l)| (e, a, b, l)))
        .collect();
    let mut best: Option<(usize, f64, String)> = None;
    let mut offer = |edge: usize, certainty: f64, why: String| {
        if best.as_ref().is_none_or(|b| certainty > b.1) {
            best = Some((edge, certainty, why));
        }
    };
    let has_allowance = draft
        .ways
        .iter()
        .flatten()
        .any(|w| w.width > TOGETHER && w.share > 0.5);
    let longest = straights.iter().map(|s| s.3).fold(0.0, f64::max);
    for (edge, a, b, long) in &straights {
        for (p, q) in &draft.fold_told {
            if off(*p, *a, *b) <= 0.3 && off(*q, *a, *b) <= 0.3 {
                offer(*edge, 1.0, "the file or you say so".to_owned());
            }
        }
        for bracket in &draft.brackets {
            if points_at(bracket.tips, bracket.along, *a, *b) {
                offer(
                    *edge,
                    0.97,
                    "a bracket with two arrows points at it".to_owned(),
                );
            }
        }
        if let Some(far) = words_beside(work, draft, *a, *b) {
            let why = format!("\"fold\" stands {} beside it", mm(far));
            offer(*edge, 0.93 - 0.005 * far, why);
        }
        if drawn_otherwise(work, draft, *edge) {
            offer(*edge, 0.8, "it alone is drawn with dashes".to_owned());
        }
        let bare = draft
            .ways
            .get(*edge)
            .copied()
            .flatten()
            .is_some_and(|w| w.width <= TOGETHER && w.share > 0.8);
        let share = 0.02 * long / longest.max(1e-9);
        if bare && has_allowance {
            let certainty = if draft.says_fold() { 0.95 } else { 0.72 };
            let why = "straight, and the only kind of edge without allowance".to_owned();
            offer(*edge, certainty + share, why);
        } else if draft.says_fold() && !has_allowance {
            let along = draft.grain.is_some_and(|(p, q)| {
                (q - p).cross(*b - *a).abs() <= 0.02 * (q - p).hypot() * long
            });
            let certainty = if along { 0.6 } else { 0.4 };
            let why =
                "words say that it is cut on the fold, this straight edge may be it".to_owned();
            offer(*edge, certainty + share, why);
        }
    }
    if let Some(edge) = said {
        best = edge.map(|e| (e, 1.0, "you say so".to_owned()));
        if edge.is_none() {
            return;
        }
    }
    let Some((edge, certainty, why)) = best.filter(|b| b.0 < draft.edges.len()) else {
        return;
    };
    let names = draft.names();
    let mut alternatives = vec![Alternative {
        words: "it is not cut on a fold".to_owned(),
        correction: Correction::Fold {
            piece: id,
            edge: None,
        },
    }];
    alternatives.extend(
        straights
            .iter()
            .filter(|s| s.0 != edge)
            .take(6)
            .map(|s| Alternative {
                words: format!(
                    "{} lies on the fold",
                    names.get(s.0).map_or("another edge", String::as_str)
                ),
                correction: Correction::Fold {
                    piece: id,
                    edge: Some(s.0),
                },
            }),
    );
    let at_edge = draft.line(edge).map_or(Point::ZERO, |l| l.at(0.5));
    let long = draft.line(edge).map_or(0.0, |l| l.length());
    work.guesses.push(Guess {
        words: format!("a straight edge of {} lies on the fold", mm(long)),
        rests_on: why,
        certainty,
        alternatives,
        ..guess(Some(id), GuessKind::Fold, "", at_edge)
    });
    if let Some(draft) = work.drafts.get_mut(at) {
        draft.fold = Some(edge);
    }
}

/// How far a point lies from the straight line through two others.
fn off(p: Point, a: Point, b: Point) -> f64 {
    let d = b - a;
    ((p - a).cross(d) / d.hypot().max(1e-9)).abs()
}

/// Do two arrows point at an edge, from close by?
fn points_at(tips: [Point; 2], along: Vec2, a: Point, b: Point) -> bool {
    let d = b - a;
    let long = d.hypot();
    let out = along / along.hypot().max(1e-9);
    let square = out.dot(d).abs() <= 0.1 * long;
    square
        && tips.iter().all(|tip| {
            let on = (*tip - a).dot(d) / (long * long);
            let far = (a - *tip).cross(d) / out.cross(d);
            (-0.1..=1.1).contains(&on) && (-1.0..=12.0).contains(&far)
        })
}

/// How far words of a fold stand from an edge, if they stand along it.
fn words_beside(work: &Work<'_>, draft: &Draft, a: Point, b: Point) -> Option<f64> {
    let d = b - a;
    let long = d.hypot();
    work.sheet
        .texts
        .iter()
        .enumerate()
        .filter(|(i, t)| {
            t.words.to_lowercase().contains("fold")
                && words::on_fold(&t.words)
                && !draft.mark_texts.contains(i)
        })
        .map(|(_, t)| t)
        .filter_map(|t| {
            let turned = Vec2::from_angle(t.turn.to_radians());
            let p = middle(t);
            let on = (p - a).dot(d) / (long * long);
            let far = off(p, a, b);
            let fits = turned.cross(d).abs() <= 0.15 * long && (0.0..=1.0).contains(&on);
            (fits && far <= BESIDE.min(4.0 + 3.0 * t.size)).then_some(far)
        })
        .min_by(f64::total_cmp)
}

/// Is the edge drawn with dashes while the others are not?
fn drawn_otherwise(work: &Work<'_>, draft: &Draft, edge: usize) -> bool {
    let dashed = |at: usize| {
        draft.edges.get(at).is_some_and(|e| {
            e.lines
                .iter()
                .all(|l| work.sheet.lines.get(*l).is_some_and(|l| !l.dash.is_empty()))
        })
    };
    dashed(edge) && (0..draft.edges.len()).filter(|e| dashed(*e)).count() == 1
}

fn hems(work: &mut Work<'_>, at: usize, usual: f64) {
    let Some(draft) = work.drafts.get(at) else {
        return;
    };
    let id = draft.id;
    let mut found: Vec<(usize, u8, f64, String)> = Vec::new();
    for edge in 0..draft.edges.len() {
        if draft.fold == Some(edge) || draft.is_leg(edge) {
            continue;
        }
        let width = draft
            .ways
            .get(edge)
            .copied()
            .flatten()
            .map_or(0.0, |w| w.width);
        let folds: Vec<f64> = draft
            .hem_folds
            .iter()
            .filter(|h| h.0 == edge)
            .map(|h| h.1)
            .collect();
        let at_line = folds.iter().any(|f| *f <= 0.06);
        let half = folds.iter().any(|f| (f - width / 2.0).abs() <= 0.1);
        let turns = if half { 2 } else { 1 };
        let wide = draft.drawn == Drawn::Both && width > WIDE * usual && width > usual + WIDER;
        match work.choices.hem(id, edge) {
            Some(true) => found.push((edge, turns, 1.0, "you say so".to_owned())),
            Some(false) => {}
            None if at_line && width > 0.5 => {
                found.push((edge, turns, 0.92, "a fold is drawn along it".to_owned()));
            }
            None if wide => {
                let why = format!("{} wide, the others {}", mm(width), mm(usual));
                found.push((edge, turns, 0.65, why));
            }
            None => {}
        }
    }
    for (edge, turns, certainty, why) in found {
        let place = work
            .drafts
            .get(at)
            .and_then(|d| d.line(edge))
            .map_or(Point::ZERO, |l| l.at(0.5));
        let bounds = work.drafts.get(at).map(|d| d.bounds).unwrap_or_default();
        let side = side_of(place, bounds);
        let once = if turns == 2 { ", turned twice" } else { "" };
        work.guesses.push(Guess {
            words: format!("its edge {side} is a hem{once}"),
            rests_on: why,
            certainty,
            alternatives: vec![Alternative {
                words: "it is a seam".to_owned(),
                correction: Correction::Hem {
                    piece: id,
                    edge,
                    is_hem: false,
                },
            }],
            ..guess(Some(id), GuessKind::Hem, &edge.to_string(), place)
        });
        if let Some(draft) = work.drafts.get_mut(at) {
            draft.hems.insert(edge, turns);
        }
    }
}

/// On which side of a piece a place lies, as it is drawn.
fn side_of(place: Point, bounds: Rect) -> &'static str {
    let from = place - bounds.center();
    let share = |v: f64, of: f64| v / of.max(1e-9);
    let (x, y) = (
        share(from.x, bounds.width()),
        share(from.y, bounds.height()),
    );
    match (x.abs() > y.abs(), x > 0.0, y > 0.0) {
        (true, true, _) => "on the right",
        (true, false, _) => "on the left",
        (false, _, true) => "above",
        (false, _, false) => "below",
    }
}

fn darts(work: &mut Work<'_>, at: usize) {
    let Some(draft) = work.drafts.get(at) else {
        return;
    };
    let id = draft.id;
    let told: Vec<Guess> = draft
        .darts
        .iter()
        .filter_map(|leg| dart(id, *leg, draft))
        .collect();
    work.guesses.extend(told);
}

fn dart(id: PieceId, leg: usize, draft: &Draft) -> Option<Guess> {
    let n = draft.edges.len();
    let (a, b) = (draft.line(leg)?, draft.line((leg + 1) % n)?);
    let mouth = (b.end() - a.start()).hypot();
    let apart = (a.length() - b.length()).abs();
    Some(Guess {
        words: format!("a dart, {} long, {} wide", mm(a.length()), mm(mouth)),
        rests_on: format!(
            "two legs that meet inside, their lengths {} apart",
            mm(apart)
        ),
        certainty: if mouth < 0.7 * a.length() { 0.92 } else { 0.7 },
        alternatives: vec![Alternative {
            words: "it is no dart, just corners".to_owned(),
            correction: Correction::Dart {
                piece: id,
                leg,
                is_dart: false,
            },
        }],
        ..guess(Some(id), GuessKind::Dart, &leg.to_string(), a.end())
    })
}
