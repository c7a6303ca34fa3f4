//! The folded edge: every pleat with its exact places on the cloth and on the finished edge. All marks and pictures
//! come from it.
//!
//! Lengths in mm from the start of the stretch. One dimension: cloth runs on, turns back at each fold, and runs on.

use super::layout::Layout;
use super::pattern::Pattern;
use super::{FillLineKind, Fullness, Kind, place};
use crate::tolerance::MEASURING;
use crate::units::{LengthUnit, Mm};

/// A stretch of edge with its fullness folded.
#[derive(Debug, Clone, PartialEq)]
pub struct FoldedEdge {
    /// What is folded.
    pub fullness: Fullness,
    /// Length when folded.
    pub finished: Mm,
    /// Length of the cloth.
    pub cloth: Mm,
    /// Every pleat, tuck or loop, in order; none for gathers and ease.
    pub pleats: Vec<Pleat>,
    /// The whole cloth from start to end, cut where it turns back.
    pub spans: Vec<Span>,
    /// Places that folds come nearer to than asked.
    pub misses: Vec<Miss>,
}

/// One pleat, tuck or loop.
#[derive(Debug, Clone, PartialEq)]
pub struct Pleat {
    /// From 1.
    pub number: u32,
    /// Where it stands on the finished edge: the fold of a knife pleat, the middle of a box pleat, the stitches of a tuck.
    pub at: Mm,
    /// Where it starts on the cloth: its first fold (or stitch, or placement).
    pub from: Mm,
    /// Where it ends on the cloth.
    pub to: Mm,
    /// Depth of its folds; width of a tuck.
    pub depth: Mm,
    /// Which way it lies.
    pub lies: Way,
    /// Its lines in the order of the cloth.
    pub folds: Vec<Fold>,
}

/// Which way a pleat lies, the edge at the top and the right side of the cloth towards you.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// To the left: onward along the edge.
    Left,
    /// To the right.
    Right,
    /// Two folds away from each other (box).
    Apart,
    /// Two folds towards each other (inverted).
    Together,
    /// Standing out (cartridge).
    Out,
}

/// A line of a pleat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fold {
    /// What is done there.
    pub kind: FillLineKind,
    /// Where it is on the cloth.
    pub on_cloth: Mm,
    /// Where it comes to lie on the finished edge.
    pub on_edge: Mm,
    /// The place on the cloth that it is laid on or sewn to; `None` for hidden folds and placement lines.
    pub to: Option<Mm>,
}

/// Cloth between two turns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// On the cloth.
    pub cloth: (Mm, Mm),
    /// On the finished edge; runs back between two folds.
    pub edge: (Mm, Mm),
    /// How many layers lie on top of it at its start and at its end.
    pub below: (u32, u32),
    /// Number of the pleat it lies in; `None` for the cloth between pleats.
    pub pleat: Option<u32>,
    /// Where two lie on each other, the one with the greater height lies on top; of one height, the later.
    pub height: i32,
}

/// A place that folds come nearer to than asked.
#[derive(Debug, Clone, PartialEq)]
pub struct Miss {
    /// What is there.
    pub what: String,
    /// Distance asked for.
    pub asked: Mm,
    /// Distance of the nearest fold.
    pub got: Mm,
}

impl FoldedEdge {
    /// Folds a stretch of this finished length. A fullness that cannot be folded ([`Fullness::checked`]) gives plain
    /// cloth.
    ///
    /// # Example
    /// ```
    /// # use petitoile_core::{Mm, fullness::{FoldedEdge, Fullness, Layout}};
    /// let pleats = Fullness::KnifePleats { count: 18, depth: Mm(40.0) };
    /// let folded = FoldedEdge::new(pleats, &Layout::default(), Mm(920.0));
    /// assert_eq!((folded.pleats.len(), folded.cloth), (18, Mm(2360.0)));
    /// ```
    pub fn new(fullness: Fullness, layout: &Layout, finished: Mm) -> Self {
        let cloth = fullness.cloth_length(finished);
        let mut folded = Self {
            fullness,
            finished,
            cloth,
            pleats: Vec::new(),
            spans: vec![plain((0.0, 0.0), (cloth.0, finished.0))],
            misses: Vec::new(),
        };
        if fullness.checked().is_err() || !(finished.0.is_finite() && finished.0 > 0.0) {
            return folded;
        }
        match (fullness, fullness.count(), fullness.depth()) {
            (Fullness::CartridgePleats { .. }, Some(count), _) => folded.loops(count),
            (_, Some(count), Some(depth)) => folded.fold(count, depth.0, layout),
            _ => {}
        }
        folded
    }

    fn fold(&mut self, count: u32, depth: f64, layout: &Layout) {
        let finished = self.finished.0;
        let mut sites = place::sites(count, finished, layout);
        let apart = sites
            .windows(2)
            .filter_map(|pair| Some(pair.last()? - pair.first()?))
            .fold(finished, f64::min);
        // Tops that would cover each other are no wider than the spacing; no cloth is there beyond the ends.
        let ends = sites.first().zip(sites.last());
        let end = ends.map_or(0.0, |(first, last)| first.min(finished - last).max(0.0));
        let top = layout.top.map_or(2.0 * depth, |top| top.0);
        let top = top.min(apart).min(2.0 * (depth + end));
        let clear = match self.fullness.kind() {
            Kind::Box | Kind::DoubleBox => (top - 2.0 * depth).max(0.0),
            _ => 0.0,
        };
        let patterns =
            [false, true].map(|onward| Pattern::new(self.fullness.kind(), depth, top, onward));
        let of = |site: f64| -> &Pattern {
            let [back, on] = &patterns;
            if place::is_onward(site, finished, layout) {
                on
            } else {
                back
            }
        };
        let told = place::keep_off(
            &mut sites,
            &|site| of(site).reaches(),
            clear,
            finished,
            layout,
        );
        let mut height = 0;
        let mut at = (0.0, 0.0);
        self.spans.clear();
        for (number, site) in (1..).zip(&sites) {
            let pattern = of(*site);
            let base = site + pattern.start + at.0 - at.1;
            for (i, step) in pattern.steps.iter().filter(|s| s.is_turn()).enumerate() {
                let next = (base + step.cloth, site + step.edge);
                self.spans.push(Span {
                    pleat: (i > 0).then_some(number),
                    height,
                    ..plain(at, next)
                });
                height += step.climbs;
                at = next;
            }
            self.pleats
                .push(pattern.pleat(number, (base, *site), depth, self.cloth.0));
        }
        self.spans.push(Span {
            height,
            ..plain(at, (self.cloth.0, finished))
        });
        layered(&mut self.spans);
        let miss = |near: place::TooNear| {
            let place = layout.keep_off.get(near.what)?;
            Some(Miss {
                what: place.what.clone(),
                asked: place.by,
                got: Mm(near.got),
            })
        };
        self.misses = told.into_iter().filter_map(miss).collect();
    }

    /// Loops of a cartridge-pleated edge: each rises from the edge and comes back.
    fn loops(&mut self, count: u32) {
        let (wide, long) = (
            self.finished.0 / f64::from(count),
            self.cloth.0 / f64::from(count),
        );
        self.spans.clear();
        for number in 1..=count {
            let before = f64::from(number - 1);
            let at = |share: f64| ((before + share) * long, (before + share) * wide);
            let fold = |kind, share: f64| Fold {
                kind,
                on_cloth: Mm(at(share).0),
                on_edge: Mm(at(share).1),
                to: None,
            };
            for (a, b) in [(0.0, 0.5), (0.5, 1.0)] {
                self.spans.push(Span {
                    pleat: Some(number),
                    ..plain(at(a), at(b))
                });
            }
            self.pleats.push(Pleat {
                number,
                at: Mm(at(0.5).1),
                from: Mm(at(0.0).0),
                to: Mm(at(1.0).0),
                depth: Mm(long / 2.0),
                lies: Way::Out,
                folds: vec![
                    fold(FillLineKind::Under, 0.0),
                    fold(FillLineKind::Fold, 0.5),
                ],
            });
        }
    }

    /// Width of a box pleat's top; `None` for other kinds.
    pub fn top(&self) -> Option<Mm> {
        let pleat = self
            .pleats
            .first()
            .filter(|pleat| pleat.lies == Way::Apart)?;
        let folds = pleat
            .folds
            .iter()
            .filter(|fold| fold.kind == FillLineKind::Fold);
        let (low, high) = folds.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), fold| {
            (low.min(fold.on_edge.0), high.max(fold.on_edge.0))
        });
        Some(Mm(high - low))
    }

    /// Every line of every pleat, with the number of its pleat.
    pub fn folds(&self) -> impl Iterator<Item = (u32, &Fold)> {
        self.pleats
            .iter()
            .flat_map(|pleat| pleat.folds.iter().map(move |fold| (pleat.number, fold)))
    }

    /// How many layers of cloth lie at a place of the finished edge; for gathers, ease and loops the mean.
    pub fn layers_at(&self, at: Mm) -> f64 {
        if self.is_drawn_in() {
            return self.cloth.0 / self.finished.0;
        }
        let here = self.spans.iter().filter(|span| {
            let (low, high) = span.reach();
            low <= at.0 && at.0 < high
        });
        here.count() as f64
    }

    /// The most layers that lie anywhere, and the middle of the first place where they do.
    pub fn thickest(&self) -> (f64, Mm) {
        if self.is_drawn_in() {
            return (self.cloth.0 / self.finished.0, Mm(self.finished.0 / 2.0));
        }
        let mut ends: Vec<(f64, i32)> = Vec::new();
        for (low, high) in self.spans.iter().map(Span::reach) {
            if high - low > MEASURING.0 {
                // Two that only touch do not lie on each other.
                ends.extend([(low + MEASURING.0 / 4.0, 1), (high - MEASURING.0 / 4.0, -1)]);
            }
        }
        ends.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let (mut now, mut most, mut at) = (0, 0, 0.0);
        for (i, (x, step)) in ends.iter().enumerate() {
            now += step;
            if now > most {
                most = now;
                at = ends.get(i + 1).map_or(*x, |next| x.midpoint(next.0));
            }
        }
        (f64::from(most), Mm(at))
    }

    /// Mean layers over the whole stretch: cloth / finished.
    pub fn mean_layers(&self) -> f64 {
        self.cloth.0 / self.finished.0
    }

    /// The place on the cloth that shows (lies uppermost) at a place of the finished edge.
    pub fn cloth_at(&self, at: Mm) -> Mm {
        let shown = self.spans.iter().enumerate().filter_map(|(i, span)| {
            let (low, high) = span.reach();
            let inside = low - MEASURING.0 <= at.0 && at.0 <= high + MEASURING.0 && high > low;
            let share = (at.0 - span.edge.0.0) / (span.edge.1.0 - span.edge.0.0);
            let on_cloth = span.cloth.0.0 + share * (span.cloth.1.0 - span.cloth.0.0);
            inside.then_some(((span.height, i), on_cloth))
        });
        Mm(shown
            .max_by_key(|(height, _)| *height)
            .map_or(at.0, |(_, s)| s))
    }

    fn is_drawn_in(&self) -> bool {
        self.pleats.is_empty() || matches!(self.fullness, Fullness::CartridgePleats { .. })
    }
}

impl Pleat {
    /// Where it is folded behind, on the cloth: the folds that nobody sees.
    pub fn behind(&self) -> Vec<Mm> {
        let hidden = self.folds.iter().filter(|f| f.kind == FillLineKind::Under);
        hidden.map(|fold| fold.on_cloth).collect()
    }

    /// The same as they are marked with a rule: "15 mm", "12.5; 52.5 mm".
    pub fn behind_words(&self, unit: LengthUnit) -> String {
        let mut words: Vec<String> = self
            .behind()
            .into_iter()
            .map(|at| unit.show_on_rule(at))
            .collect();
        let last = words.pop().unwrap_or_default();
        let bare = words
            .iter()
            .map(|at| at.trim_end_matches(unit.suffix()).trim_end().to_owned());
        bare.chain([last]).collect::<Vec<_>>().join("; ")
    }
}

impl Span {
    /// Its ends on the finished edge, the smaller first.
    fn reach(&self) -> (f64, f64) {
        let (a, b) = (self.edge.0.0, self.edge.1.0);
        (a.min(b), a.max(b))
    }
}

/// Cloth with nothing on it, between two places (on the cloth, on the edge).
fn plain(from: (f64, f64), to: (f64, f64)) -> Span {
    Span {
        cloth: (Mm(from.0), Mm(to.0)),
        edge: (Mm(from.1), Mm(to.1)),
        below: (0, 0),
        pleat: None,
        height: 0,
    }
}

/// Counts the layers on top of both ends of every span, by their heights.
fn layered(spans: &mut [Span]) {
    let heights: Vec<i32> = spans.iter().map(|span| span.height).collect();
    let reaches: Vec<(f64, f64)> = spans.iter().map(Span::reach).collect();
    // The furthest that cloth turns back anywhere: no further away can anything lie on a span.
    let back = spans
        .iter()
        .map(|span| span.edge.0.0 - span.edge.1.0)
        .fold(0.0, f64::max);
    let covers = |own: usize, x: f64| -> u32 {
        let mine = heights.get(own).copied().unwrap_or(0);
        let lies_over = |i: usize| {
            let (low, high) = reaches.get(i).copied().unwrap_or_default();
            let height = heights.get(i).copied().unwrap_or(0);
            i != own && low < x && x < high && (height, i) > (mine, own)
        };
        let before = (0..own)
            .rev()
            .take_while(|i| reaches.get(*i).is_some_and(|r| r.1 > x - 3.0 * back))
            .filter(|i| lies_over(*i));
        let after = (own + 1..reaches.len())
            .take_while(|i| reaches.get(*i).is_some_and(|r| r.0 < x + 3.0 * back))
            .filter(|i| lies_over(*i));
        (before.count() + after.count()) as u32
    };
    let below: Vec<(u32, u32)> = spans
        .iter()
        .enumerate()
        .map(|(i, span)| {
            let (a, b) = (span.edge.0.0, span.edge.1.0);
            let step = (b - a) * 1e-6;
            (covers(i, a + step), covers(i, b - step))
        })
        .collect();
    for (span, below) in spans.iter_mut().zip(below) {
        span.below = below;
    }
}
