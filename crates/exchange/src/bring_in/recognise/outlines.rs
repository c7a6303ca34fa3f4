//! Which closed lines are outlines, which lies in which as its stitch line, and what a single line is.

use std::collections::{BTreeMap, BTreeSet};

use super::super::found::Meaning;
use super::super::{BringInError, Pace};
use super::corners::{self, Smooth};
use super::draft::{Draft, darts};
use super::loops::SMALLEST_PIECE;
use super::parallel::{Wall, Way, is_allowance, ways};
use super::pieces::Work;
use super::strokes::Stroke;
use super::types::{Drawn, OneLine, Taken, Thing};
use super::{labels, told};

/// More closed lines than this are not looked at: no garment has as many.
const MOST_PIECES: usize = 2000;

/// A closed line that is the stitch line of the one around it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct StitchLine {
    /// Its place among the closed lines.
    pub at: usize,
    pub edges: Vec<Smooth>,
    /// From each edge out to the cut line.
    pub ways: Vec<Option<Way>>,
    /// 0 to 1.
    pub certainty: f64,
    /// The usual width, mm.
    pub usual: f64,
}

impl Work<'_> {
    /// Outer closed lines with the stitch line in them.
    pub fn outlines(&mut self, pace: &Pace<'_>) -> Result<(), BringInError> {
        let mut candidates: Vec<usize> = (0..self.loops.len())
            .filter(|i| self.is_candidate(*i))
            .collect();
        candidates.sort_by(|a, b| {
            let area = |i: &usize| self.loops.get(*i).map_or(0.0, |l| l.area);
            area(b).total_cmp(&area(a)).then(a.cmp(b))
        });
        for beyond in candidates.split_off(candidates.len().min(MOST_PIECES)) {
            if let Some(stroke) = self.loops.get(beyond).map(|l| l.stroke) {
                self.leave(
                    stroke,
                    "beyond the first 2000 closed lines, which are looked at",
                );
            }
        }
        let is_candidate: BTreeSet<usize> = candidates.iter().copied().collect();
        // Children by their nearest candidate around them.
        let mut children: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for i in &candidates {
            let mut up = self.loops.get(*i).and_then(|l| l.parent);
            while let Some(p) = up.filter(|p| !is_candidate.contains(p)) {
                up = self.loops.get(p).and_then(|l| l.parent);
            }
            if let Some(p) = up {
                children.entry(p).or_default().push(*i);
            }
        }
        let mut taken: BTreeSet<usize> = BTreeSet::new();
        let count = candidates.len();
        for (seen, i) in candidates.into_iter().enumerate() {
            pace.step(seen, count)?;
            if taken.contains(&i) {
                continue;
            }
            taken.insert(i);
            let inner = children.get(&i).map(Vec::as_slice).unwrap_or_default();
            let pair = self.stitch_line(i, inner);
            if let Some(pair) = &pair {
                taken.insert(pair.at);
            }
            let below = pair
                .as_ref()
                .and_then(|p| children.get(&p.at))
                .into_iter()
                .flatten()
                .chain(inner);
            for child in below {
                // What else is drawn in a piece belongs to it, unless the maker makes it a piece.
                let is_piece = self.choices.is_piece(self.id_of(*child)) == Some(true);
                let is_told =
                    self.stroke_of(*child).and_then(|s| s.meaning) == Some(Meaning::CutLine);
                if !is_piece && !is_told {
                    taken.insert(*child);
                }
            }
            self.draft(i, pair);
        }
        Ok(())
    }

    /// May a closed line be an outline?
    fn is_candidate(&self, at: usize) -> bool {
        let Some(l) = self.loops.get(at) else {
            return false;
        };
        if self.is_left(l.stroke) {
            return false;
        }
        match self.choices.is_piece(self.id_of(at)) {
            Some(is_piece) => is_piece,
            None => {
                let Some(stroke) = self.strokes.get(l.stroke) else {
                    return false;
                };
                l.area >= SMALLEST_PIECE
                    && l.bounds.width().min(l.bounds.height()) >= 2.0
                    && !stroke.filled
                    && !matches!(
                        stroke.meaning,
                        Some(
                            Meaning::Inside
                                | Meaning::CutOut
                                | Meaning::Hole
                                | Meaning::Notch
                                | Meaning::Grain
                                | Meaning::Reference
                        )
                    )
            }
        }
    }

    /// The stitch line among the closed lines in an outline: its place, edges, ways out, certainty, usual width.
    pub fn stitch_line(&self, outer: usize, inner: &[usize]) -> Option<StitchLine> {
        let outline = self.loops.get(outer)?;
        let wall = Wall::of(&corners::edges(self.stroke_of(outer)?));
        let mut best: Option<StitchLine> = None;
        for at in inner {
            let (Some(l), Some(stroke)) = (self.loops.get(*at), self.stroke_of(*at)) else {
                continue;
            };
            let said = stroke
                .lines()
                .iter()
                .find_map(|i| self.choices.taken(Thing::Line(*i)));
            let is_told =
                stroke.meaning == Some(Meaning::StitchLine) || said == Some(Taken::StitchLine);
            if matches!(said, Some(t) if t != Taken::StitchLine) {
                continue;
            }
            let edges = corners::edges(stroke);
            let ways = ways(&edges, &wall);
            let firsts = darts(&edges);
            let n = edges.len();
            let legs: Vec<bool> = (0..n)
                .map(|e| firsts.iter().any(|d| *d == e || (d + 1) % n == e))
                .collect();
            // The side of a square, twice the width of a long strip; the same however it is turned.
            let narrow = 4.0 * l.area / stroke.length.max(1e-9);
            let found = is_allowance(&ways, &legs, narrow, l.area / outline.area.max(1e-9));
            let (certainty, usual) = match (found, is_told) {
                (Some(found), false) => found,
                (found, true) => (1.0, found.map_or(0.0, |f| f.1)),
                (None, false) => continue,
            };
            let is_larger = best.as_ref().is_none_or(|b| {
                certainty == 1.0 && b.certainty < 1.0
                    || self.loops.get(b.at).is_some_and(|b| l.area > b.area)
            });
            if is_larger {
                best = Some(StitchLine {
                    at: *at,
                    edges,
                    ways,
                    certainty,
                    usual,
                });
            }
        }
        best
    }

    fn draft(&mut self, outer: usize, pair: Option<StitchLine>) {
        let Some(stroke) = self.stroke_of(outer) else {
            return;
        };
        let (id, bounds) = (self.id_of(outer), stroke.bounds);
        let mut made_of: BTreeSet<Thing> = stroke.lines().into_iter().map(Thing::Line).collect();
        let gaps = stroke.gaps.clone();
        let mut draft = match pair {
            Some(pair) => {
                let inner = pair.at;
                made_of.extend(
                    self.stroke_of(inner)
                        .map(Stroke::lines)
                        .unwrap_or_default()
                        .into_iter()
                        .map(Thing::Line),
                );
                let line = self.id_of(inner).0;
                let guess =
                    told::allowance(id, &pair.ways, pair.certainty, pair.usual, line, bounds);
                self.guesses.push(guess);
                let mut draft = Draft::new(id, outer, Drawn::Both, pair.edges, bounds);
                draft.inner = Some(inner);
                draft.ways = pair.ways;
                draft
            }
            None => Draft::new(id, outer, Drawn::StitchOnly, corners::edges(stroke), bounds),
        };
        let n = draft.edges.len();
        for (at, is_dart) in (0..n).filter_map(|at| Some((at, self.choices.dart(id, at)?))) {
            draft.darts.retain(|d| *d != at);
            if is_dart && n >= 4 {
                draft.darts.push(at);
                draft.darts.sort_unstable();
            }
        }
        for (at, far) in gaps {
            self.guesses.push(told::gap(id, at, far));
        }
        draft.made_of = made_of;
        self.drafts.push(draft);
    }

    /// Pieces of which one line only is drawn: is it the cut or the stitch line?
    pub fn single_lines(&mut self) {
        for i in 0..self.drafts.len() {
            let Some(draft) = self.drafts.get(i).filter(|d| d.inner.is_none()) else {
                continue;
            };
            let id = draft.id;
            let meaning = self.stroke_of(draft.outer).and_then(|s| s.meaning);
            let said = self
                .choices
                .one_line(id)
                .or(match self.choices.taken(Thing::Line(id.0)) {
                    Some(Taken::CutLine) => Some(OneLine::Cut),
                    Some(Taken::StitchLine) => Some(OneLine::Stitch),
                    _ => None,
                });
            let own = self.choices.one_line.unwrap_or(OneLine::Stitch);
            let by_words = labels::line_told(self, i);
            let by_rows = self.drafts.get(i).and_then(by_rows);
            let (is, certainty, why) = match (said, meaning) {
                (Some(is), _) => (is, 1.0, "you say so"),
                (None, Some(Meaning::StitchLine)) => (OneLine::Stitch, 1.0, "the file says so"),
                (None, Some(Meaning::CutLine)) => (OneLine::Cut, 1.0, "the file says so"),
                (None, _) if self.choices.one_line.is_some() => (own, 1.0, "you say so of all"),
                (None, _) if by_rows.is_some() => (
                    OneLine::Cut,
                    0.9,
                    "dashed rows run along its edges inside, where it is sewn",
                ),
                (None, _) if by_words.is_some() => {
                    by_words.map_or((own, 0.5, ""), |(is, _, why)| (is, 0.9, why))
                }
                (None, _) => (own, 0.5, "one line is drawn, nothing on the sheet tells"),
            };
            self.guesses.push(told::one_line(
                id,
                is,
                certainty,
                why,
                draft.bounds.center(),
            ));
            let named = by_words.and_then(|t| t.1);
            let width = self
                .choices
                .allowance
                .map(|mm| mm.0)
                .or(named)
                .unwrap_or(super::ALLOWANCE.0);
            if let Some(draft) = self.drafts.get_mut(i).filter(|_| is == OneLine::Cut) {
                draft.drawn = Drawn::CutOnly;
                draft.told = vec![Some(width); draft.edges.len()];
                if let Some(widths) = by_rows {
                    take_rows(draft, &widths);
                }
            }
        }
    }
}

/// The row of stitching that is the stitch line of each edge, by its place among the draft's rows, when rows run along
/// most edges.
///
/// A channel is sewn with two rows along one edge or two, a topstitching along one: these are marks, no stitch line.
fn by_rows(draft: &Draft) -> Option<Vec<Option<usize>>> {
    let n = draft.edges.len();
    let long = |at: usize| draft.line(at).map_or(0.0, |l| l.length());
    let counts = |at: &usize| draft.fold != Some(*at) && !draft.is_leg(*at);
    let of = |edge: usize| {
        let rows = draft.rows.iter().enumerate();
        rows.filter(move |(_, row)| row.0 == edge)
    };
    let mut single: Vec<f64> = (0..n)
        .filter(|edge| of(*edge).count() == 1)
        .flat_map(|edge| of(edge).map(|(_, row)| row.1))
        .collect();
    single.sort_by(f64::total_cmp);
    let usual = single.get(single.len() / 2).copied();
    // Of several rows that which is as far in as elsewhere, else the inner one: topstitching lies on the allowance.
    let chosen = |edge: usize| {
        of(edge)
            .min_by(|a, b| match usual {
                Some(usual) => (a.1.1 - usual).abs().total_cmp(&(b.1.1 - usual).abs()),
                None => b.1.1.total_cmp(&a.1.1),
            })
            .map(|(at, _)| at)
    };
    let rows: Vec<Option<usize>> = (0..n).map(chosen).collect();
    let is_sewn = |edge: &usize| rows.get(*edge).copied().flatten().is_some();
    let whole: f64 = (0..n).filter(counts).map(long).sum();
    let sewn: f64 = (0..n).filter(counts).filter(is_sewn).map(long).sum();
    let edges = (0..n).filter(counts).count();
    let with = (0..n).filter(counts).filter(is_sewn).count();
    (sewn > 0.5 * whole && whole > 0.0 && 3 * with >= 2 * edges).then_some(rows)
}

/// Takes rows of stitching as the stitch line: their distance is the allowance, they are no marks.
fn take_rows(draft: &mut Draft, rows: &[Option<usize>]) {
    let row = |at: &Option<usize>| at.and_then(|at| draft.rows.get(at));
    let widths: Vec<Option<f64>> = rows.iter().map(|at| row(at).map(|r| r.1)).collect();
    let mut known: Vec<f64> = widths.iter().copied().flatten().collect();
    known.sort_by(f64::total_cmp);
    let usual = known.get(known.len() / 2).copied();
    let taken: BTreeSet<usize> = rows.iter().filter_map(|at| row(at).map(|r| r.2)).collect();
    for (told, width) in draft.told.iter_mut().zip(&widths) {
        *told = width.or(usual).or(*told);
    }
    let mut at = 0;
    draft.marks.retain(|_| {
        at += 1;
        !taken.contains(&(at - 1))
    });
}
