//! The phases in their order, from the sheet to what was recognised.

use std::collections::{BTreeMap, BTreeSet};

use petitoile_core::kurbo::{Point, Rect};

use super::super::FoundSheet;
use super::super::found::Meaning;
use super::chain::joined;
use super::corners::{self, Smooth};
use super::draft::{Draft, darts};
use super::loops::{Loop, SMALLEST_PIECE, nested};
use super::parallel::{Wall, Way, is_allowance, ways};
use super::strokes::{Stroke, Styles, strokes};
use super::types::{
    Choices, Drawn, FoundSize, Guess, LeftOver, OneLine, PieceId, Recognised, Taken, Thing,
};
use super::{folds, frames, labels, marks, sizes, told};

/// More closed lines than this are not looked at: no garment has as many.
const MOST_PIECES: usize = 2000;

/// More stretches of line than this are not looked at.
const MOST_SEGS: usize = 2_000_000;

/// A sheet on the way.
pub(super) struct Work<'a> {
    pub sheet: &'a FoundSheet,
    pub choices: &'a Choices,
    pub styles: Styles,
    pub strokes: Vec<Stroke>,
    pub loops: Vec<Loop>,
    pub drafts: Vec<Draft>,
    pub guesses: Vec<Guess>,
    pub sizes: Vec<FoundSize>,
    pub size: Option<String>,
    /// What was said of things that are in no piece.
    pub left: BTreeMap<Thing, String>,
}

pub(super) fn recognise(sheet: &FoundSheet, choices: &Choices) -> Recognised {
    let mut work = Work::new(sheet, choices);
    frames::set_apart(&mut work);
    sizes::choose(&mut work);
    work.outlines();
    labels::read(&mut work);
    marks::read(&mut work);
    folds::read(&mut work);
    work.single_lines();
    labels::copies(&mut work);
    work.finished()
}

impl<'a> Work<'a> {
    fn new(sheet: &'a FoundSheet, choices: &'a Choices) -> Self {
        let (all, styles, bad) = strokes(sheet);
        let mut left: BTreeMap<Thing, String> = bad
            .into_iter()
            .map(|i| (Thing::Line(i), "a line without length".to_owned()))
            .collect();
        let mut segs = 0;
        let mut kept = Vec::new();
        for stroke in all {
            segs += stroke.segs.len();
            let lines = stroke.lines();
            let is_out = |i: &usize| choices.taken(Thing::Line(*i)) == Some(Taken::NoPart);
            let why = if lines.iter().all(is_out) {
                "left out by you"
            } else if segs > MOST_SEGS {
                "beyond the first two million stretches of line, which are looked at"
            } else {
                kept.push(stroke);
                continue;
            };
            left.extend(lines.into_iter().map(|i| (Thing::Line(i), why.to_owned())));
        }
        let is_mark = |s: &Stroke| {
            s.filled
                || matches!(
                    s.meaning,
                    Some(
                        Meaning::Grain
                            | Meaning::Notch
                            | Meaning::Inside
                            | Meaning::Hole
                            | Meaning::Reference
                    )
                )
                || matches!(
                    choices.taken(Thing::Line(s.first_line())),
                    Some(t) if !matches!(t, Taken::CutLine | Taken::StitchLine | Taken::FoldEdge)
                )
        };
        let strokes = joined(kept, is_mark);
        let mut loops: Vec<Loop> = strokes
            .iter()
            .enumerate()
            .filter(|(_, s)| s.closed)
            .map(|(i, s)| Loop::of(i, s))
            .collect();
        nested(&mut loops);
        Self {
            sheet,
            choices,
            styles,
            strokes,
            loops,
            drafts: Vec::new(),
            guesses: Vec::new(),
            sizes: Vec::new(),
            size: None,
            left,
        }
    }

    /// The stroke of a closed line.
    pub fn stroke_of(&self, at: usize) -> Option<&Stroke> {
        self.loops.get(at).and_then(|l| self.strokes.get(l.stroke))
    }

    /// By which corrections name a closed line.
    pub fn id_of(&self, at: usize) -> PieceId {
        PieceId(self.stroke_of(at).map_or(0, Stroke::first_line))
    }

    /// Says of every line of a stroke why it is in no piece.
    pub fn leave(&mut self, stroke: usize, why: &str) {
        let lines = self.strokes.get(stroke).map(Stroke::lines);
        for line in lines.into_iter().flatten() {
            self.left
                .entry(Thing::Line(line))
                .or_insert_with(|| why.to_owned());
        }
    }

    /// Is this stroke already told to be in no piece?
    pub fn is_left(&self, stroke: usize) -> bool {
        self.strokes
            .get(stroke)
            .is_some_and(|s| self.left.contains_key(&Thing::Line(s.first_line())))
    }

    /// The smallest piece around a point.
    pub fn piece_around(&self, p: Point) -> Option<usize> {
        let area = |i: &usize| {
            self.drafts
                .get(*i)
                .and_then(|d| self.loops.get(d.outer))
                .map_or(f64::INFINITY, |l| l.area)
        };
        (0..self.drafts.len())
            .filter(|i| {
                self.drafts.get(*i).is_some_and(|d| {
                    d.bounds.contains(p) && self.loops.get(d.outer).is_some_and(|l| l.contains(p))
                })
            })
            .min_by(|a, b| area(a).total_cmp(&area(b)))
    }

    /// Outer closed lines with the stitch line in them.
    fn outlines(&mut self) {
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
        for i in candidates {
            if taken.contains(&i) {
                continue;
            }
            taken.insert(i);
            let inner = children.get(&i).map(Vec::as_slice).unwrap_or_default();
            let pair = self.stitch_line(i, inner);
            if let Some((at, ..)) = pair {
                taken.insert(at);
            }
            let below = pair
                .as_ref()
                .and_then(|p| children.get(&p.0))
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
    pub fn stitch_line(
        &self,
        outer: usize,
        inner: &[usize],
    ) -> Option<(usize, Vec<Smooth>, Vec<Option<Way>>, f64, f64)> {
        let outline = self.loops.get(outer)?;
        let wall = Wall::of(&corners::edges(self.stroke_of(outer)?));
        let mut best: Option<(usize, Vec<Smooth>, Vec<Option<Way>>, f64, f64)> = None;
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
                certainty == 1.0 && b.3 < 1.0
                    || self.loops.get(b.0).is_some_and(|b| l.area > b.area)
            });
            if is_larger {
                best = Some((*at, edges, ways, certainty, usual));
            }
        }
        best
    }

    fn draft(
        &mut self,
        outer: usize,
        pair: Option<(usize, Vec<Smooth>, Vec<Option<Way>>, f64, f64)>,
    ) {
        let Some(stroke) = self.stroke_of(outer) else {
            return;
        };
        let (id, bounds) = (self.id_of(outer), stroke.bounds);
        let mut made_of: BTreeSet<Thing> = stroke.lines().into_iter().map(Thing::Line).collect();
        let gaps = stroke.gaps.clone();
        let mut draft = match pair {
            Some((inner, edges, ways, certainty, usual)) => {
                made_of.extend(
                    self.stroke_of(inner)
                        .map(Stroke::lines)
                        .unwrap_or_default()
                        .into_iter()
                        .map(Thing::Line),
                );
                self.guesses.push(told::allowance(
                    id,
                    &ways,
                    certainty,
                    usual,
                    inner_line(self, inner),
                    bounds,
                ));
                let mut draft = Draft::new(id, outer, Drawn::Both, edges, bounds);
                draft.inner = Some(inner);
                draft.ways = ways;
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
    fn single_lines(&mut self) {
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
            let (is, certainty, why) = match (said, meaning) {
                (Some(is), _) => (is, 1.0, "you say so"),
                (None, Some(Meaning::StitchLine)) => (OneLine::Stitch, 1.0, "the file says so"),
                (None, Some(Meaning::CutLine)) => (OneLine::Cut, 1.0, "the file says so"),
                (None, _) if self.choices.one_line.is_some() => (own, 1.0, "you say so of all"),
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
            }
        }
    }

    /// Everything as it is handed over.
    fn finished(mut self) -> Recognised {
        self.drafts.sort_by(|a, b| {
            (b.bounds.y1.total_cmp(&a.bounds.y1))
                .then(a.bounds.x0.total_cmp(&b.bounds.x0))
                .then(a.id.cmp(&b.id))
        });
        let mut names: BTreeSet<String> = BTreeSet::new();
        for (i, draft) in self.drafts.iter_mut().enumerate() {
            if let Some(name) = self.choices.name(draft.id) {
                draft.name = name.to_owned();
            }
            if draft.name.is_empty() {
                draft.name = format!("piece {}", i + 1);
            }
            let plain = draft.name.clone();
            let mut number = 1;
            while !names.insert(draft.name.clone()) {
                number += 1;
                draft.name = format!("{plain} {number}");
            }
            if let Some(copies) = self.choices.copies(draft.id) {
                draft.copies = copies.to_vec();
            }
            for at in 0..draft.edges.len() {
                if let Some(width) = self.choices.allowance(draft.id, at) {
                    if let Some(told) = draft.told.get_mut(at) {
                        *told = Some(width.0);
                    }
                }
            }
        }
        let mut pieces = Vec::new();
        let mut used: BTreeSet<Thing> = BTreeSet::new();
        for draft in &self.drafts {
            if let Some(piece) = draft.built() {
                used.extend(draft.made_of.iter().copied());
                pieces.push(piece);
            } else {
                for thing in &draft.made_of {
                    self.left.entry(*thing).or_insert_with(|| {
                        "a closed line that crosses or covers itself".to_owned()
                    });
                }
            }
        }
        let built: BTreeSet<PieceId> = pieces.iter().map(|p| p.id).collect();
        self.guesses
            .retain(|g| g.piece.is_none_or(|p| built.contains(&p)));
        let left = left_over(self.sheet, &used, &self.left);
        Recognised {
            pieces,
            sizes: self.sizes,
            size: self.size,
            guesses: self.guesses,
            left,
        }
    }
}

fn inner_line(work: &Work<'_>, inner: usize) -> usize {
    work.id_of(inner).0
}

/// Every line, text and point that is in no piece.
fn left_over(
    sheet: &FoundSheet,
    used: &BTreeSet<Thing>,
    said: &BTreeMap<Thing, String>,
) -> Vec<LeftOver> {
    let lines = sheet.lines.iter().enumerate().map(|(i, line)| {
        use petitoile_core::kurbo::Shape;
        let at = line.path.bounding_box();
        let long = at.width().hypot(at.height());
        let what = if line.closed {
            format!("a closed line, {:.1} mm across", long)
        } else {
            format!("a line of {:.1} mm", long)
        };
        (Thing::Line(i), at, what)
    });
    let texts = sheet.texts.iter().enumerate().map(|(i, text)| {
        let at = Rect::from_points(text.at, text.at);
        (Thing::Text(i), at, format!("the words \"{}\"", text.words))
    });
    let points = sheet.points.iter().enumerate().map(|(i, point)| {
        let at = Rect::from_points(point.at, point.at);
        (Thing::Point(i), at, "a point".to_owned())
    });
    lines
        .chain(texts)
        .chain(points)
        .filter(|(thing, ..)| !used.contains(thing))
        .map(|(thing, at, what)| LeftOver {
            thing,
            what: said.get(&thing).cloned().unwrap_or(what),
            at,
        })
        .collect()
}
