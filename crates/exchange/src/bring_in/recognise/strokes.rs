//! The sheet's lines as cubics, cleaned: no infinite figures, no stretches without length, no line drawn twice.

use std::collections::BTreeMap;

use petitoile_core::geometry::curve::direction_on;
use petitoile_core::geometry::parallel::{is_straight, straight};
use petitoile_core::kurbo::{
    CubicBez, ParamCurve, ParamCurveArclen, PathSeg, Point, Rect, Shape, Vec2,
};

use super::super::FoundSheet;
use super::super::found::{FoundLine, Meaning};

/// Nearer than this is the same point, mm.
pub(super) const SAME: f64 = 1e-4;

/// Coordinates beyond this are no drawing of a garment, mm.
const FAR: f64 = 1e6;

/// A stretch of a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Seg {
    /// Its curve; straight stretches have their control points at their thirds.
    pub c: CubicBez,
    /// Was it drawn as a straight line?
    pub straight: bool,
    /// The line of the sheet it comes from.
    pub line: usize,
}

/// One unbroken line, perhaps joined of several.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stroke {
    /// Its stretches, end to end.
    pub segs: Vec<Seg>,
    /// Does it come back to its start?
    pub closed: bool,
    /// How it is drawn: place in [`Styles`]. Of a joined line, that of its longest part.
    pub style: usize,
    /// Is it filled and has no stroke?
    pub filled: bool,
    /// What the file says it is.
    pub meaning: Option<Meaning>,
    /// Where ends did not meet, and by how much.
    pub gaps: Vec<(Point, f64)>,
    /// Further lines that repeat it.
    pub repeats: Vec<usize>,
    /// How many of its stretches are its own; the others belong to a line it shares an edge with.
    pub own: usize,
    /// Its length, mm.
    pub length: f64,
    /// Smallest upright rectangle around it.
    pub bounds: Rect,
}

/// How a line is drawn.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Style {
    pub layer: String,
    pub colour: [u8; 3],
    /// Hundredths of a mm.
    pub dash: Vec<i64>,
    /// Hundredths of a mm.
    pub width: i64,
}

/// Every way in which lines are drawn on a sheet.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Styles(pub Vec<Style>);

impl Styles {
    /// Is it drawn with gaps?
    pub fn is_dashed(&self, style: usize) -> bool {
        self.0.get(style).is_some_and(|s| !s.dash.is_empty())
    }

    /// Dash and gap, mm.
    pub fn dash(&self, style: usize) -> Vec<f64> {
        self.0
            .get(style)
            .map(|s| s.dash.iter().map(|d| *d as f64 / 100.0).collect())
            .unwrap_or_default()
    }
}

fn hundredths(mm: f64) -> i64 {
    if mm.is_finite() {
        (mm * 100.0).round().clamp(-1e9, 1e9) as i64
    } else {
        0
    }
}

impl Style {
    fn of(line: &FoundLine) -> Self {
        Self {
            layer: line.layer.clone(),
            colour: line.colour,
            dash: line.dash.iter().map(|d| hundredths(*d)).collect(),
            width: hundredths(line.width),
        }
    }
}

impl Seg {
    /// A straight stretch.
    pub fn straight(from: Point, to: Point, line: usize) -> Self {
        Self {
            c: straight(from, to),
            straight: true,
            line,
        }
    }

    /// Length, mm.
    pub fn length(&self) -> f64 {
        if self.straight {
            (self.c.p3 - self.c.p0).hypot()
        } else {
            self.c.arclen(1e-3)
        }
    }

    /// The same walked the other way.
    pub fn turned(self) -> Self {
        let c = self.c;
        Self {
            c: CubicBez::new(c.p3, c.p2, c.p1, c.p0),
            ..self
        }
    }

    /// The same with its start elsewhere.
    pub fn from(self, to: Point) -> Self {
        self.turned().to(to).turned()
    }

    /// The same with its end elsewhere.
    pub fn to(self, to: Point) -> Self {
        if self.straight {
            return Self::straight(self.c.p0, to, self.line);
        }
        let by = to - self.c.p3;
        let c = CubicBez::new(self.c.p0, self.c.p1, self.c.p2 + by, to);
        Self { c, ..self }
    }
}

impl Stroke {
    /// A stroke of these stretches; measured.
    pub fn new(segs: Vec<Seg>, closed: bool, style: usize) -> Self {
        let mut stroke = Self {
            segs,
            closed,
            style,
            filled: false,
            meaning: None,
            gaps: Vec::new(),
            repeats: Vec::new(),
            own: usize::MAX,
            length: 0.0,
            bounds: Rect::ZERO,
        };
        stroke.measure();
        stroke
    }

    /// Length and bounds anew.
    pub fn measure(&mut self) {
        self.length = self.segs.iter().map(Seg::length).sum();
        let boxes = self.segs.iter().map(|s| s.c.bounding_box());
        self.bounds = boxes.reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO);
    }

    /// Where it starts.
    pub fn start(&self) -> Point {
        self.segs.first().map_or(Point::ZERO, |s| s.c.p0)
    }

    /// Where it ends.
    pub fn end(&self) -> Point {
        self.segs.last().map_or(Point::ZERO, |s| s.c.p3)
    }

    /// Direction of travel at its start.
    pub fn leaves(&self) -> Vec2 {
        self.segs
            .first()
            .map_or(Vec2::ZERO, |s| direction_on(&s.c, 0.0))
    }

    /// Direction of travel at its end.
    pub fn comes(&self) -> Vec2 {
        self.segs
            .last()
            .map_or(Vec2::ZERO, |s| direction_on(&s.c, 1.0))
    }

    /// The lines of the sheet it is made of, each once.
    pub fn lines(&self) -> Vec<usize> {
        let mut lines: Vec<usize> = self.segs.iter().map(|s| s.line).collect();
        lines.extend(&self.repeats);
        lines.sort_unstable();
        lines.dedup();
        lines
    }

    /// The lines that are its own alone.
    pub fn own_lines(&self) -> Vec<usize> {
        let own = self.segs.iter().take(self.own).map(|s| s.line);
        let mut lines: Vec<usize> = own.chain(self.repeats.iter().copied()).collect();
        lines.sort_unstable();
        lines.dedup();
        lines
    }

    /// The first of its own lines.
    pub fn first_line(&self) -> usize {
        let own = self.segs.iter().take(self.own);
        own.map(|s| s.line).min().unwrap_or(0)
    }

    /// Is it one straight stretch, within `off` mm?
    pub fn is_straight(&self, off: f64) -> bool {
        let (a, b) = (self.start(), self.end());
        let d = b - a;
        let long = d.hypot();
        !self.closed
            && long > SAME
            && self.segs.iter().all(|s| {
                [s.c.p1, s.c.p2, s.c.p3]
                    .iter()
                    .all(|p| ((*p - a).cross(d) / long).abs() <= off)
            })
            && self.length <= long * 1.001 + 1e-6
    }

    /// Its corners: where stretches meet, start and end included.
    pub fn points(&self) -> Vec<Point> {
        let mut points = vec![self.start()];
        points.extend(self.segs.iter().map(|s| s.c.p3));
        points
    }

    /// The point half way along, by its stretches.
    pub fn middle(&self) -> Point {
        let mut rest = self.length / 2.0;
        for seg in &self.segs {
            let long = seg.length();
            if rest <= long && long > 0.0 {
                let t = if seg.straight {
                    rest / long
                } else {
                    seg.c.inv_arclen(rest, 1e-3)
                };
                return seg.c.eval(t);
            }
            rest -= long;
        }
        self.end()
    }

    /// The middle of a circle and its radius, when it is one within 3 %.
    pub fn circle(&self) -> Option<(Point, f64)> {
        if !self.closed || self.segs.len() < 2 {
            return None;
        }
        let middle = self.bounds.center();
        let radius = (self.bounds.width() + self.bounds.height()) / 4.0;
        let is_round = radius > 0.0
            && self.segs.len() * 2 >= 5 - usize::from(!self.segs.iter().any(|s| s.straight))
            && self.segs.iter().all(|s| {
                let off = |t: f64| ((s.c.eval(t) - middle).hypot() - radius).abs();
                off(0.0) <= 0.03 * radius && off(0.5) <= 0.06 * radius
            });
        let has_corners = self.segs.iter().filter(|s| s.straight).count() > 0
            && self.segs.len() < 8
            && self.segs.iter().all(|s| s.straight);
        (is_round && !has_corners).then_some((middle, radius))
    }
}

/// The sheet's lines as strokes, in order; lines without length or with infinite figures are given by their places.
pub(super) fn strokes(sheet: &FoundSheet) -> (Vec<Stroke>, Styles, Vec<usize>) {
    let mut styles: BTreeMap<Style, usize> = BTreeMap::new();
    let mut list = Vec::new();
    let mut strokes: Vec<Stroke> = Vec::new();
    let mut bad = Vec::new();
    for (at, line) in sheet.lines.iter().enumerate() {
        let style = Style::of(line);
        let next = list.len();
        let style = *styles.entry(style.clone()).or_insert_with(|| {
            list.push(style);
            next
        });
        let Some((segs, came_back)) = segs_of(line, at) else {
            bad.push(at);
            continue;
        };
        let mut stroke = Stroke::new(segs, line.closed || came_back, style);
        stroke.filled = line.filled && line.width <= 0.0;
        stroke.meaning = line.meaning;
        strokes.push(stroke);
    }
    (without_repeats(strokes), Styles(list), bad)
}

/// The stretches of a line, and whether it comes back to its start.
fn segs_of(line: &FoundLine, at: usize) -> Option<(Vec<Seg>, bool)> {
    let mut segs = Vec::new();
    for part in line.path.segments() {
        let c = match part {
            PathSeg::Line(l) => straight(l.p0, l.p1),
            PathSeg::Quad(q) => q.raise(),
            PathSeg::Cubic(c) => c,
        };
        if [c.p0, c.p1, c.p2, c.p3]
            .iter()
            .any(|p| !(p.x.abs() < FAR && p.y.abs() < FAR))
        {
            return None;
        }
        let reach = (c.p1 - c.p0)
            .hypot()
            .max((c.p2 - c.p0).hypot())
            .max((c.p3 - c.p0).hypot());
        if reach <= SAME {
            continue;
        }
        let flat = matches!(part, PathSeg::Line(_)) || is_straight(&c);
        segs.push(if flat {
            Seg::straight(c.p0, c.p3, at)
        } else {
            Seg {
                c,
                straight: false,
                line: at,
            }
        });
    }
    let (first, last) = (segs.first()?.c.p0, segs.last()?.c.p3);
    let gap = (last - first).hypot();
    let is_loop = segs.len() > 2 || (segs.len() == 2 && segs.iter().any(|s: &Seg| !s.straight));
    let single_loop = segs.len() == 1 && !segs.iter().any(|s| s.straight) && gap <= SAME;
    if line.closed && gap > SAME {
        segs.push(Seg::straight(last, first, at));
    } else if gap > 0.0
        && gap <= SAME
        && let Some(end) = segs.last_mut()
    {
        *end = end.to(first);
    }
    Some((segs, gap <= SAME && (is_loop || single_loop)))
}

/// Lines drawn twice over each other, in the same way, count once.
fn without_repeats(strokes: Vec<Stroke>) -> Vec<Stroke> {
    let mut seen: BTreeMap<(i64, i64, i64, i64, usize), Vec<usize>> = BTreeMap::new();
    let mut kept: Vec<Stroke> = Vec::new();
    for stroke in strokes {
        let key = (
            hundredths(stroke.bounds.x0),
            hundredths(stroke.bounds.y0),
            hundredths(stroke.bounds.x1),
            hundredths(stroke.bounds.y1),
            stroke.style,
        );
        let others = seen.entry(key).or_default();
        let twin = others
            .iter()
            .take(8)
            .copied()
            .find(|i| kept.get(*i).is_some_and(|k| same_line(k, &stroke)));
        if let Some(kept) = twin.and_then(|i| kept.get_mut(i)) {
            kept.repeats.extend(stroke.lines());
        } else {
            others.push(kept.len());
            kept.push(stroke);
        }
    }
    kept
}

fn same_line(a: &Stroke, b: &Stroke) -> bool {
    let near = |p: Point, q: Point| (p - q).hypot() <= 0.01;
    let alike = |x: &Seg, y: &Seg| {
        near(x.c.p0, y.c.p0) && near(x.c.p1, y.c.p1) && near(x.c.p2, y.c.p2) && near(x.c.p3, y.c.p3)
    };
    a.segs.len() == b.segs.len()
        && a.closed == b.closed
        && a.filled == b.filled
        && a.meaning == b.meaning
        && (a.segs.iter().zip(&b.segs).all(|(x, y)| alike(x, y))
            || a.segs
                .iter()
                .zip(b.segs.iter().rev())
                .all(|(x, y)| alike(x, &y.turned())))
}
