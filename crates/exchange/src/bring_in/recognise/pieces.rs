//! The phases in their order, from the sheet to what was recognised.

use std::collections::{BTreeMap, BTreeSet};

use petitoile_core::kurbo::{Point, Rect};

use super::super::found::Meaning;
use super::super::{BringInError, FoundSheet, Pace};
use super::chain::joined;
use super::draft::Draft;
use super::loops::{Loop, nested};
use super::strokes::{Stroke, Styles, strokes};
use super::types::{Choices, FoundSize, Guess, LeftOver, PieceId, Recognised, Taken, Thing};
use super::vcuts::{self, VCut};
use super::{copies, dashes, folds, frames, kept, labels, marks, shared, sizes};

/// More stretches of line than this are not looked at.
const MOST_SEGS: usize = 2_000_000;

/// A sheet on the way.
pub(super) struct Work<'a> {
    pub sheet: &'a FoundSheet,
    pub choices: &'a Choices,
    pub styles: Styles,
    pub strokes: Vec<Stroke>,
    pub loops: Vec<Loop>,
    /// Notches that were cut into closed lines.
    pub vcuts: Vec<VCut>,
    pub drafts: Vec<Draft>,
    pub guesses: Vec<Guess>,
    pub sizes: Vec<FoundSize>,
    pub size: Option<String>,
    /// What was said of things that are in no piece.
    pub left: BTreeMap<Thing, String>,
}

pub(super) fn recognise(
    sheet: &FoundSheet,
    choices: &Choices,
    pace: &Pace<'_>,
) -> Result<Recognised, BringInError> {
    let mut work = Work::new(sheet, choices, &pace.part(0.0, 0.4))?;
    frames::set_apart(&mut work);
    sizes::choose(&mut work);
    work.outlines(&pace.part(0.4, 0.6))?;
    labels::read(&mut work);
    marks::read(&mut work, &pace.part(0.6, 0.9))?;
    folds::read(&mut work);
    pace.at(0.9)?;
    work.single_lines();
    copies::copies(&mut work);
    kept::keep(&mut work);
    let recognised = work.finished();
    pace.at(1.0)?;
    Ok(recognised)
}

impl<'a> Work<'a> {
    fn new(
        sheet: &'a FoundSheet,
        choices: &'a Choices,
        pace: &Pace<'_>,
    ) -> Result<Self, BringInError> {
        pace.at(0.0)?;
        let (all, mut styles, bad) = strokes(sheet);
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
        pace.at(0.2)?;
        let gathered = dashes::gathered(kept, &mut styles);
        pace.at(0.4)?;
        let mut strokes = shared::closed(joined(gathered, is_mark));
        let vcuts = vcuts::mended(&mut strokes, choices);
        pace.at(0.6)?;
        let mut loops: Vec<Loop> = strokes
            .iter()
            .enumerate()
            .filter(|(_, s)| s.closed)
            .map(|(i, s)| Loop::of(i, s))
            .collect();
        nested(&mut loops, &pace.part(0.6, 1.0))?;
        Ok(Self {
            sheet,
            choices,
            styles,
            strokes,
            loops,
            vcuts,
            drafts: Vec::new(),
            guesses: Vec::new(),
            sizes: Vec::new(),
            size: None,
            left,
        })
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
        let lines = self.strokes.get(stroke).map(Stroke::own_lines);
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
                if let Some(width) = self.choices.allowance(draft.id, at)
                    && let Some(told) = draft.told.get_mut(at)
                {
                    *told = Some(width.0);
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
