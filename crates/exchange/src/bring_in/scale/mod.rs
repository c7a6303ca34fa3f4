//! Is a sheet true to scale? Its own test square or measured line, compared with what it says of itself.
//!
//! Bought sheets come out of scale: fitted to a page somewhere on their way. Here every square, bar and ticked line
//! that a label beside it gives a length is measured, and a correction is offered, with its doubt, across and up apart
//! where they differ. The maker decides. Pure functions; never here: which lines are pieces.

mod labels;
mod shapes;

use petitoile_core::kurbo::{Affine, Rect, Vec2};
use petitoile_core::{LengthUnit, Mm};

use super::{FoundLine, FoundPoint, FoundSheet, FoundText};
use labels::Label;
pub use labels::lengths;
use shapes::Shape;

/// How far a drawn length may be from its label to be believed: a sheet is not shrunk below, nor blown up beyond. Our
/// own bounds, no source (points taken for pixels and back are 0.75 and 1.33).
const BELIEVED: std::ops::Range<f64> = 0.6..1.7;

/// Factors this alike are one.
const ALIKE: f64 = 0.004;

/// What a sheet says of its own scale.
#[derive(Debug, Clone, PartialEq)]
pub struct ScaleCheck {
    /// Everything on it that says its own length, the surest first.
    pub measures: Vec<Measure>,
    /// What to multiply by; `None` when the sheet says nothing.
    pub correction: Option<Correction>,
}

/// Something drawn that says how long it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    /// What it is.
    pub kind: MeasureKind,
    /// Where, mm as drawn.
    pub bounds: Rect,
    /// The label.
    pub words: String,
    /// What it says, across and up, mm; only what it says something of.
    pub said: (Option<f64>, Option<f64>),
    /// What is drawn, across and up, mm.
    pub drawn: (f64, f64),
    /// How sure it is that the label speaks of this, 0 to 1.
    pub sure: f64,
}

/// Kind of a [`Measure`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum MeasureKind {
    /// A square or rectangle.
    Square,
    /// A straight line with a tick at either end, or a bar.
    Line,
}

/// What to multiply a sheet by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Correction {
    /// Across.
    pub across: f64,
    /// Up; the same as across when only one of them is known, or when they hardly differ.
    pub up: f64,
    /// How sure, 0 to 1.
    pub sure: f64,
    /// Measures that agree.
    pub agree: usize,
    /// Measures that say something else.
    pub differ: usize,
}

impl Correction {
    /// Is the sheet out of scale by more than a drawing's accuracy (2 in 1,000)?
    pub fn is_needed(&self) -> bool {
        (self.across - 1.0).abs() > 0.002 || (self.up - 1.0).abs() > 0.002
    }

    /// Do across and up differ?
    pub fn is_uneven(&self) -> bool {
        (self.across - self.up).abs() > f64::EPSILON
    }
}

impl Measure {
    /// Label over drawn length, across and up.
    fn factors(&self) -> (Option<f64>, Option<f64>) {
        (
            self.said.0.map(|said| said / self.drawn.0),
            self.said.1.map(|said| said / self.drawn.1),
        )
    }

    /// "the square marked 5 cm measures 47.5 mm across and 47.5 mm up".
    pub fn in_words(&self, unit: LengthUnit) -> String {
        let what = match self.kind {
            MeasureKind::Square => "square",
            MeasureKind::Line => "line",
        };
        let across = self
            .said
            .0
            .map(|_| format!("{} across", unit.show(Mm(self.drawn.0))));
        let up = self
            .said
            .1
            .map(|_| format!("{} up", unit.show(Mm(self.drawn.1))));
        let sizes: Vec<String> = [across, up].into_iter().flatten().collect();
        format!(
            "the {what} marked “{}” measures {}",
            self.words.trim(),
            sizes.join(" and ")
        )
    }
}

/// Looks for squares, bars and ticked lines that say their own length, and compares.
pub fn scale_check(sheet: &FoundSheet) -> ScaleCheck {
    let labels: Vec<Label> = sheet.texts.iter().filter_map(Label::of).collect();
    let near_test: Vec<&FoundText> = sheet
        .texts
        .iter()
        .filter(|text| labels::names_a_test(&text.words))
        .collect();
    let mut measures: Vec<Measure> = Vec::new();
    if !labels.is_empty() {
        let shapes = shapes::shapes(&sheet.lines, &labels);
        measures.extend(
            shapes
                .iter()
                .filter_map(|shape| best_label(shape, &labels, &near_test)),
        );
    }
    one_shape_each(&mut measures);
    measures.sort_by(|a, b| b.sure.total_cmp(&a.sure));
    ScaleCheck {
        correction: correction(&measures),
        measures,
    }
}

/// The label that most likely speaks of a shape.
fn best_label(shape: &Shape, labels: &[Label], near_test: &[&FoundText]) -> Option<Measure> {
    let reach = |label: &Label| (3.0 * label.size).clamp(5.0, 15.0);
    let candidates = labels.iter().filter(|label| {
        let reach = reach(label);
        shape.bounds.inflate(reach, reach).contains(label.middle)
    });
    let test = near_test.iter().any(|text| {
        shape
            .bounds
            .inflate(12.0, 12.0)
            .contains(labels::middle(text))
    });
    candidates
        .flat_map(|label| label.lengths.iter().map(move |length| (label, *length)))
        .filter_map(|(label, (first, second))| {
            let said = said(shape, first, second);
            let mut measure = Measure {
                kind: shape.kind,
                bounds: shape.bounds,
                words: label.words.clone(),
                said,
                drawn: shape.size,
                sure: 0.0,
            };
            let (x, y) = measure.factors();
            let all: Vec<f64> = [x, y].into_iter().flatten().collect();
            let even = x.zip(y).is_none_or(|(x, y)| (x / y - 1.0).abs() < 0.12);
            if all.is_empty()
                || !even
                || all.iter().any(|factor| !BELIEVED.contains(&(1.0 / factor)))
            {
                return None;
            }
            measure.sure = sureness(shape, label, &all, test);
            Some(measure)
        })
        .max_by(|a, b| a.sure.total_cmp(&b.sure))
}

/// What a label says of a shape's two sides.
fn said(shape: &Shape, first: f64, second: Option<f64>) -> (Option<f64>, Option<f64>) {
    let (w, h) = shape.size;
    match (shape.kind, second) {
        (MeasureKind::Line, _) if w >= h => (Some(first), None),
        (MeasureKind::Line, _) => (None, Some(first)),
        (MeasureKind::Square, None) => (Some(first), Some(first)),
        // "10 x 5 cm" lies either way.
        (MeasureKind::Square, Some(second)) => {
            let lies = (first / second).max(1e-9).ln() * (w / h).max(1e-9).ln() >= 0.0;
            if lies {
                (Some(first), Some(second))
            } else {
                (Some(second), Some(first))
            }
        }
    }
}

fn sureness(shape: &Shape, label: &Label, factors: &[f64], test: bool) -> f64 {
    let far = factors
        .iter()
        .map(|factor| (factor - 1.0).abs())
        .fold(0.0, f64::max);
    let inside = shape.bounds.contains(label.middle);
    let mut sure: f64 = match shape.kind {
        MeasureKind::Square => 0.45,
        MeasureKind::Line => 0.4,
    };
    sure += if label.is_bare { 0.2 } else { 0.0 };
    sure += if test || labels::names_a_test(&label.words) {
        0.2
    } else {
        0.0
    };
    sure += if inside || shape.kind == MeasureKind::Line {
        0.1
    } else {
        -0.1
    };
    if far > 0.25 {
        sure *= 0.4;
    } else if far > 0.12 {
        sure *= 0.7;
    }
    sure.clamp(0.02, 0.98)
}

/// A shape drawn twice (filled and stroked, or on two pages) counts once.
fn one_shape_each(measures: &mut Vec<Measure>) {
    let mut kept: Vec<Measure> = Vec::new();
    for measure in measures.drain(..) {
        let same = |other: &&mut Measure| {
            let (a, b) = (other.bounds, measure.bounds);
            (a.center() - b.center()).hypot() < 0.5 && (a.width() - b.width()).abs() < 0.5
        };
        match kept.iter_mut().find(same) {
            Some(other) if other.sure < measure.sure => *other = measure,
            Some(_) => {}
            None => kept.push(measure),
        }
    }
    *measures = kept;
}

/// One factor of the surest measures that agree, across or up.
fn factor(
    measures: &[Measure],
    of: fn(&Measure) -> Option<f64>,
) -> Option<(f64, f64, usize, usize)> {
    let all: Vec<(f64, f64)> = measures
        .iter()
        .filter_map(|m| Some((of(m)?, m.sure)))
        .collect();
    let (best, _) = *all.iter().max_by(|a, b| {
        let weight = |factor: f64| -> f64 {
            all.iter()
                .filter(|(other, _)| alike(*other, factor))
                .map(|(_, sure)| sure)
                .sum()
        };
        weight(a.0).total_cmp(&weight(b.0))
    })?;
    let (agree, differ): (Vec<_>, Vec<_>) = all.iter().partition(|(other, _)| alike(*other, best));
    let weight: f64 = agree.iter().map(|(_, sure)| sure).sum();
    let mean = agree
        .iter()
        .map(|(factor, sure)| factor * sure)
        .sum::<f64>()
        / weight.max(1e-9);
    let mut doubt: f64 = agree.iter().map(|(_, sure)| 1.0 - sure).product();
    for (_, sure) in &differ {
        doubt = 1.0 - (1.0 - doubt) * (1.0 - 0.5 * sure);
    }
    Some((mean, 1.0 - doubt, agree.len(), differ.len()))
}

fn alike(a: f64, b: f64) -> bool {
    (a / b - 1.0).abs() < ALIKE
}

fn correction(measures: &[Measure]) -> Option<Correction> {
    let across = factor(measures, |m| m.factors().0);
    let up = factor(measures, |m| m.factors().1);
    let (a, b) = (across.or(up)?, up.or(across)?);
    let even = alike(a.0, b.0);
    let mean = (a.0 + b.0) / 2.0;
    // One way only measured: the other is taken to be the same, which is less sure.
    let halved = if across.is_none() || up.is_none() {
        0.8
    } else {
        1.0
    };
    Some(Correction {
        across: if even { mean } else { a.0 },
        up: if even { mean } else { b.0 },
        sure: a.1.min(b.1) * halved,
        agree: a.2.max(b.2),
        differ: a.3.max(b.3),
    })
}

/// A sheet multiplied across and up, about the origin.
#[must_use]
pub fn scaled(sheet: &FoundSheet, across: f64, up: f64) -> FoundSheet {
    let to = Affine::scale_non_uniform(across, up);
    let mean = (across * up).abs().sqrt();
    FoundSheet {
        name: sheet.name.clone(),
        bounds: to.transform_rect_bbox(sheet.bounds),
        lines: sheet
            .lines
            .iter()
            .map(|line| FoundLine {
                path: to * &line.path,
                width: line.width * mean,
                dash: line.dash.iter().map(|part| part * mean).collect(),
                ..line.clone()
            })
            .collect(),
        texts: sheet
            .texts
            .iter()
            .map(|text| {
                let along = Vec2::from_angle(text.turn.to_radians());
                let along = Vec2::new(along.x * across, along.y * up);
                FoundText {
                    at: to * text.at,
                    size: text.size * mean,
                    turn: along.atan2().to_degrees(),
                    ..text.clone()
                }
            })
            .collect(),
        points: sheet
            .points
            .iter()
            .map(|point| FoundPoint {
                at: to * point.at,
                ..point.clone()
            })
            .collect(),
    }
}
