//! What is drawn on a piece besides its outlines: arrows, notches, dots, buttonholes, lines.
//!
//! Each step claims the strokes it understands; what nobody claims is told as left over.

mod arrows;
mod dots;
mod letters;
mod lines;
mod notches;

use std::collections::{BTreeMap, BTreeSet};

use petitoile_core::geometry::curve::Line;
use petitoile_core::kurbo::{ParamCurve, ParamCurveArclen, ParamCurveNearest, Point, Vec2};

use super::corners::Smooth;
use super::pieces::Work;
use super::strokes::Stroke;
use super::types::{Taken, Thing};
use crate::bring_in::{BringInError, Pace};

pub(super) use arrows::Bracket;

/// How near an end must come to an outline to touch it, mm.
pub(super) const TOUCHES: f64 = 0.4;

/// The marks of one piece while they are being read.
pub(super) struct Scene<'w, 's> {
    pub work: &'w mut Work<'s>,
    /// Which piece.
    pub draft: usize,
    /// Strokes on it, by their places, that nobody has claimed yet.
    pub free: BTreeSet<usize>,
    /// Brackets whose arrows point at the outline.
    pub brackets: Vec<Bracket>,
}

impl Scene<'_, '_> {
    /// A free stroke.
    pub fn stroke(&self, at: usize) -> Option<&Stroke> {
        self.work
            .strokes
            .get(at)
            .filter(|_| self.free.contains(&at))
    }

    /// Free strokes with their places.
    pub fn strokes(&self) -> impl Iterator<Item = (usize, &Stroke)> {
        self.free
            .iter()
            .filter_map(|i| Some((*i, self.work.strokes.get(*i)?)))
    }

    /// Makes strokes part of the piece.
    pub fn claim(&mut self, strokes: &[usize]) {
        for at in strokes {
            self.free.remove(at);
            let lines = self.work.strokes.get(*at).map(Stroke::lines);
            if let Some(draft) = self.work.drafts.get_mut(self.draft) {
                draft
                    .made_of
                    .extend(lines.into_iter().flatten().map(Thing::Line));
            }
        }
    }

    /// What the maker says a stroke is.
    pub fn said(&self, at: usize) -> Option<Taken> {
        let stroke = self.work.strokes.get(at)?;
        stroke
            .lines()
            .iter()
            .find_map(|i| self.work.choices.taken(Thing::Line(*i)))
    }

    /// The edges of the piece's outline.
    pub fn edges(&self) -> &[Smooth] {
        self.work
            .drafts
            .get(self.draft)
            .map_or(&[], |d| d.edges.as_slice())
    }

    /// How far a point lies from the outer line, the foot on it, and the direction there.
    pub fn on_outer(&self, p: Point) -> Option<(f64, Point, Vec2)> {
        let outer = self.work.drafts.get(self.draft)?.outer;
        on_ring(&self.work.loops.get(outer)?.corners, p)
    }

    /// The same for the stitch line, where it is drawn besides.
    pub fn on_inner(&self, p: Point) -> Option<(f64, Point, Vec2)> {
        let inner = self.work.drafts.get(self.draft)?.inner?;
        on_ring(&self.work.loops.get(inner)?.corners, p)
    }

    /// Is the point inside the outer line?
    pub fn is_inside(&self, p: Point) -> bool {
        let outer = self.work.drafts.get(self.draft).map(|d| d.outer);
        outer
            .and_then(|o| self.work.loops.get(o))
            .is_some_and(|l| l.contains(p))
    }
}

fn on_ring(corners: &[Point], p: Point) -> Option<(f64, Point, Vec2)> {
    let mut before = *corners.last()?;
    let mut best: Option<(f64, Point, Vec2)> = None;
    for here in corners {
        let d = *here - before;
        let long2 = d.hypot2();
        let t = if long2 > 0.0 {
            ((p - before).dot(d) / long2).clamp(0.0, 1.0)
        } else {
            0.0
        };
        let foot = before + d * t;
        let far = (p - foot).hypot();
        if best.as_ref().is_none_or(|b| far < b.0) {
            best = Some((far, foot, d));
        }
        before = *here;
    }
    best
}

/// Where a point is nearest to edges that `may` be: which edge, the fraction of its length, how far.
pub(super) fn place_on(
    edges: &[Smooth],
    p: Point,
    may: impl Fn(usize) -> bool,
) -> Option<(usize, f64, f64)> {
    let mut best: Option<(usize, usize, f64, f64)> = None;
    for (at, edge) in edges.iter().enumerate().filter(|(at, _)| may(*at)) {
        for (k, c) in edge.cubics.iter().enumerate() {
            let near = c.nearest(p, 1e-8);
            if best.is_none_or(|b| near.distance_sq < b.3) {
                best = Some((at, k, near.t, near.distance_sq));
            }
        }
    }
    let (at, k, t, far) = best?;
    let cubics = &edges.get(at)?.cubics;
    let line = Line::from_cubics(cubics)?;
    let before: f64 = cubics.iter().take(k).map(|c| c.arclen(1e-6)).sum();
    let part = if t > 0.0 {
        cubics
            .get(k)
            .map_or(0.0, |c| c.subsegment(0.0..t).arclen(1e-6))
    } else {
        0.0
    };
    let fraction = ((before + part) / line.length().max(1e-12)).clamp(0.0, 1.0);
    Some((at, fraction, far.sqrt()))
}

/// Reads the marks of every piece.
pub(super) fn read(work: &mut Work<'_>, pace: &Pace<'_>) -> Result<(), BringInError> {
    let mut of_piece: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
    let taken: BTreeSet<usize> = work
        .drafts
        .iter()
        .flat_map(|d| d.made_of.iter())
        .filter_map(|thing| match thing {
            Thing::Line(i) => Some(*i),
            _ => None,
        })
        .collect();
    for at in 0..work.strokes.len() {
        let Some(stroke) = work.strokes.get(at) else {
            continue;
        };
        if work.is_left(at) || taken.contains(&stroke.first_line()) {
            continue;
        }
        if let Some(piece) = owner(work, stroke) {
            of_piece.entry(piece).or_default().insert(at);
        }
    }
    for cut in &work.vcuts {
        let is_of = |l: Option<usize>| {
            l.and_then(|l| work.loops.get(l))
                .is_some_and(|l| l.stroke == cut.stroke)
        };
        let owner = work
            .drafts
            .iter()
            .position(|d| is_of(Some(d.outer)) || is_of(d.inner));
        if let Some(piece) = owner {
            of_piece.entry(piece).or_default();
        }
    }
    let count = of_piece.len();
    for (seen, (draft, free)) in of_piece.into_iter().enumerate() {
        pace.step(seen, count)?;
        let mut scene = Scene {
            work,
            draft,
            free,
            brackets: Vec::new(),
        };
        lines::told(&mut scene);
        letters::leave_out(&mut scene);
        arrows::read(&mut scene);
        dots::read(&mut scene);
        notches::read(&mut scene);
        dots::buttonholes(&mut scene);
        let brackets = std::mem::take(&mut scene.brackets);
        let hem_folds = lines::read(&mut scene);
        if let Some(draft) = work.drafts.get_mut(draft) {
            draft.brackets = brackets;
            draft.hem_folds = hem_folds;
        }
    }
    points(work);
    Ok(())
}

/// The piece a stroke lies on: most of its ends and middle are in it, or it touches the outline.
fn owner(work: &Work<'_>, stroke: &Stroke) -> Option<usize> {
    let middle = stroke.middle();
    let asked = [middle, stroke.start(), stroke.end()];
    if let Some(piece) = work.piece_around(middle) {
        return Some(piece);
    }
    let hits: Vec<usize> = asked.iter().filter_map(|p| work.piece_around(*p)).collect();
    if let Some(first) = hits.first().filter(|f| hits.iter().all(|h| h == *f)) {
        return Some(*first);
    }
    // A notch that stands outwards, a fold drawn on the edge.
    let reach = stroke.bounds.inflate(TOUCHES, TOUCHES);
    (0..work.drafts.len()).find(|i| {
        work.drafts.get(*i).is_some_and(|d| {
            d.bounds.overlaps(reach)
                && work
                    .loops
                    .get(d.outer)
                    .is_some_and(|l| asked.iter().any(|p| l.off(*p) <= TOUCHES))
        })
    })
}

/// Points that a file marks as notches and holes; corners and curve points say nothing new.
fn points(work: &mut Work<'_>) {
    use super::told::guess;
    use super::types::{Guess, GuessKind};
    use crate::bring_in::found::Meaning;
    use petitoile_core::notch::{Notch, NotchKind};
    use petitoile_core::piece::{Mark, MarkKind};
    for (i, point) in work.sheet.points.iter().enumerate() {
        let thing = Thing::Point(i);
        let said = work.choices.taken(thing);
        if !(point.at.x.abs() < 1e6 && point.at.y.abs() < 1e6) || said == Some(Taken::NoPart) {
            continue;
        }
        let near = (0..work.drafts.len()).find(|d| {
            work.drafts.get(*d).is_some_and(|d| {
                d.bounds.inflate(1.0, 1.0).contains(point.at)
                    && work
                        .loops
                        .get(d.outer)
                        .is_some_and(|l| l.off(point.at) <= 1.0)
            })
        });
        let Some(piece) = near.or_else(|| work.piece_around(point.at)) else {
            continue;
        };
        let Some(draft) = work.drafts.get_mut(piece) else {
            continue;
        };
        let id = draft.id;
        let is_notch = matches!(said, Some(Taken::Notch(_)))
            || said.is_none() && point.meaning == Some(Meaning::Notch);
        let is_dot = said == Some(Taken::Dot)
            || said.is_none()
                && matches!(point.meaning, Some(Meaning::Hole) | None)
                && near.is_none();
        let kind = match said {
            Some(Taken::Notch(kind)) => kind,
            _ => NotchKind::Single,
        };
        let told = |words: &str, kind| Guess {
            words: words.to_owned(),
            rests_on: "the file says so".to_owned(),
            ..guess(Some(id), kind, &format!("p{i}"), point.at)
        };
        if is_notch {
            if let Some((edge, fraction, _)) = place_on(&draft.edges, point.at, |_| true) {
                let long = draft.line(edge).map_or(0.0, |l| l.length());
                if said.is_some() || !joins_notch(draft, edge, fraction, long) {
                    draft.notches.push(Notch {
                        edge: String::new(),
                        fraction,
                        kind,
                    });
                    draft.notch_at.push(edge);
                    draft
                        .notch_points
                        .push((draft.notches.len() - 1, vec![fraction]));
                }
            }
            work.guesses.push(told("a notch", GuessKind::Notch));
        } else if is_dot {
            draft.marks.push(Mark {
                name: String::new(),
                kind: MarkKind::Dot(point.at),
            });
            work.guesses.push(told("a dot", GuessKind::Dot));
        }
        let says_nothing_new = matches!(point.meaning, Some(Meaning::Corner | Meaning::OnCurve));
        if (is_notch || is_dot || says_nothing_new)
            && let Some(draft) = work.drafts.get_mut(piece)
        {
            draft.made_of.insert(thing);
        }
    }
}

/// Points of one double or triple notch lie no further apart, mm. *Own; strokes of home patterns lie 4 apart.*
const POINTS: f64 = 5.0;

/// Adds a point to the notch beside it, if there is one that takes it.
fn joins_notch(draft: &mut super::draft::Draft, edge: usize, fraction: f64, long: f64) -> bool {
    use petitoile_core::notch::NotchKind;
    let near = POINTS.min(0.12 * long);
    let on_edge = |at: &usize| draft.notch_at.get(*at) == Some(&edge);
    let found = draft.notch_points.iter_mut().find(|(at, points)| {
        on_edge(at)
            && points.len() < 3
            && points.iter().any(|p| (p - fraction).abs() * long <= near)
    });
    let Some((at, points)) = found else {
        return false;
    };
    points.push(fraction);
    if let Some(notch) = draft.notches.get_mut(*at) {
        notch.fraction = points.iter().sum::<f64>() / points.len() as f64;
        notch.kind = if points.len() == 2 {
            NotchKind::Double
        } else {
            NotchKind::Triple
        };
    }
    true
}
