//! How like each other two runs are: length, shape, notches, ends.

use kurbo::Vec2;

use super::runs::Run;
use crate::edge::Finish;
use crate::garment::Garment;
use crate::joins::inside;
use crate::notch::NotchKind;
use crate::piece::Piece;
use crate::seams::{Stretch, walked_notches};

/// Places at which shapes are compared.
const PLACES: usize = 24;

/// Difference of direction that makes shapes unlike, radians.
const UNLIKE: f64 = 0.35;

/// How far apart notches that match may lie, as a share of the whole.
const NOTCHES_MEET: f64 = 0.06;

/// A run as it is compared: walked as drawn, or from its other end.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Profile {
    length: f64,
    /// How much it has turned outwards so far, at even steps, radians.
    turned: Vec<f64>,
    notches: Vec<(f64, NotchKind)>,
    start: End,
    end: End,
}

/// What is at an end of a run.
#[derive(Debug, Clone, Copy, PartialEq)]
struct End {
    beside: Beside,
    /// Angle inside the piece, degrees.
    angle: f64,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Beside {
    /// The fold of the cloth.
    Fold,
    /// An edge that is sewn.
    Seam,
    /// A hem, a facing, an edge that is left.
    Free,
    /// The run ends inside its edge.
    Inside,
    /// A dart.
    Dart,
}

impl Profile {
    pub(super) fn of(garment: &Garment, run: &Run) -> Option<Self> {
        let (first, last) = (run.stretches.first()?, run.stretches.last()?);
        let notches = walked_notches(&run.stretches, &garment.pieces).ok()?;
        Some(Self {
            length: run.length,
            turned: turned(garment, run)?,
            notches: notches.iter().map(|n| (n.share, n.kind)).collect(),
            start: end_of(garment, first, true)?,
            end: end_of(garment, last, false)?,
        })
    }

    /// Are there notches on it?
    pub(super) fn is_notched(&self) -> bool {
        !self.notches.is_empty()
    }

    /// As the other side meets it: mates are walked from opposite ends, images from the same.
    pub(super) fn seen_from(self, same_hand: bool) -> Self {
        if same_hand {
            return self;
        }
        let whole = self.turned.last().copied().unwrap_or(0.0);
        Self {
            turned: self.turned.iter().rev().map(|at| whole - at).collect(),
            notches: self
                .notches
                .iter()
                .rev()
                .map(|(share, kind)| (1.0 - share, *kind))
                .collect(),
            start: self.end,
            end: self.start,
            length: self.length,
        }
    }
}

/// Cumulated turning along a run, corners between its edges left out.
fn turned(garment: &Garment, run: &Run) -> Option<Vec<f64>> {
    let mut marks: Vec<(f64, f64)> = vec![(0.0, 0.0)];
    let (mut along, mut turn) = (0.0, 0.0);
    for stretch in &run.stretches {
        let line = stretch.line(&garment.pieces)?;
        let length = line.length();
        let mut before: Option<Vec2> = None;
        for step in 0..=PLACES {
            let share = step as f64 / PLACES as f64;
            let direction = line.direction(share);
            if let Some(before) = before {
                turn += libm::atan2(before.cross(direction), before.dot(direction));
            }
            before = Some(direction);
            marks.push((along + share * length, turn));
        }
        along += length;
    }
    let at = |wanted: f64| {
        let after = marks.iter().position(|(at, _)| *at >= wanted);
        let after = after.unwrap_or(marks.len() - 1);
        let (b, a) = (
            marks.get(after).copied().unwrap_or_default(),
            marks
                .get(after.saturating_sub(1))
                .copied()
                .unwrap_or_default(),
        );
        let width = b.0 - a.0;
        if width > 0.0 {
            a.1 + (b.1 - a.1) * ((wanted - a.0) / width).clamp(0.0, 1.0)
        } else {
            b.1
        }
    };
    Some(
        (0..=PLACES)
            .map(|step| at(along * step as f64 / PLACES as f64))
            .collect(),
    )
}

fn end_of(garment: &Garment, stretch: &Stretch, at_start: bool) -> Option<End> {
    let piece = garment.piece(&stretch.piece)?;
    let edges = piece.outline.edges();
    let index = piece.outline.index_of(&stretch.edge)?;
    let edge = edges.get(index)?;
    let fraction = if at_start { stretch.from } else { stretch.to };
    let corner = if at_start { 0.0 } else { 1.0 };
    if (fraction - corner).abs() > 1e-6 {
        return Some(End {
            beside: Beside::Inside,
            angle: 90.0,
        });
    }
    let step = if at_start { edges.len() - 1 } else { 1 };
    let other = edges.get((index + step) % edges.len())?;
    let angle = if at_start {
        inside(other.line.direction(1.0), edge.line.direction(0.0))
    } else {
        inside(edge.line.direction(1.0), other.line.direction(0.0))
    };
    Some(End {
        beside: beside(piece, other, 1.0 - corner),
        angle,
    })
}

fn beside(piece: &Piece, edge: &crate::edge::Edge, fraction: f64) -> Beside {
    let leg = piece
        .darts
        .iter()
        .any(|dart| dart.leg_in == edge.name || dart.leg_out == edge.name);
    if leg {
        Beside::Dart
    } else if edge.is_fold() {
        Beside::Fold
    } else if edge.finish_at(fraction) == Finish::Seam {
        Beside::Seam
    } else {
        Beside::Free
    }
}

/// How like two runs are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Likeness {
    /// 1 for equal lengths, less for ease, little for gathers.
    length: f64,
    /// The longer over the shorter.
    ratio: f64,
    /// 1 for the same shape.
    shape: f64,
    how: Shape,
    /// 1 when they match, below 0 when they contradict.
    notches: f64,
    /// 1 when both begin and end beside the like.
    ends: f64,
    both_at_fold: bool,
    /// A triple notch, which is read as centre back.
    pub triple: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Shape {
    Straight,
    Alike,
    HollowOnRound,
    Unlike,
}

impl Likeness {
    /// `None` when no fullness brings them together.
    pub(super) fn between(a: &Profile, b: &Profile) -> Option<Self> {
        let ratio = a.length.max(b.length) / a.length.min(b.length);
        if !ratio.is_finite() || ratio > 3.5 {
            return None;
        }
        let (shape, how) = shape(a, b);
        Some(Self {
            length: length(ratio),
            ratio,
            shape,
            how,
            notches: notches(&a.notches, &b.notches),
            ends: (ends(a.start, b.start) + ends(a.end, b.end)) / 2.0,
            both_at_fold: [(a.start, b.start), (a.end, b.end)]
                .iter()
                .any(|(x, y)| x.beside == Beside::Fold && y.beside == Beside::Fold),
            triple: a.notches.iter().any(|(_, kind)| *kind == NotchKind::Triple)
                && b.notches.iter().any(|(_, kind)| *kind == NotchKind::Triple),
        })
    }

    /// Of one shape, and so nearly of one length that nothing is gathered.
    pub(super) fn is_like(&self) -> bool {
        self.how != Shape::Unlike && self.ratio < 1.08
    }

    pub(super) fn score(&self) -> f64 {
        0.45 * self.length + 0.20 * self.shape + 0.10 * self.notches + 0.25 * self.ends
    }

    pub(super) fn length_words(&self, difference: f64) -> String {
        let off = difference.abs();
        if self.ratio > 1.15 {
            format!("{:.2} times as long, to be gathered", self.ratio)
        } else if off < 0.05 {
            "as long".to_owned()
        } else if difference > 0.0 {
            format!("{off:.1} mm shorter")
        } else {
            format!("{off:.1} mm longer")
        }
    }

    pub(super) fn shape_words(&self) -> &'static str {
        match self.how {
            Shape::Straight => "both straight",
            Shape::Alike => "curved alike",
            Shape::HollowOnRound => "hollow on round",
            Shape::Unlike => "of other shape",
        }
    }

    pub(super) fn notch_words(&self) -> Option<&'static str> {
        if self.notches > 0.5 {
            Some("notches match")
        } else if self.notches < -0.3 {
            Some("notches do not match")
        } else {
            None
        }
    }

    pub(super) fn end_words(&self) -> Option<&'static str> {
        self.both_at_fold.then_some("both begin at the fold")
    }
}

/// Equal within a hair, eased, gathered: three bells, one on the other.
fn length(ratio: f64) -> f64 {
    let off = libm::log(ratio);
    let bell = |width: f64| libm::exp(-(off / width) * (off / width));
    0.45 * bell(0.004) + 0.30 * bell(0.07) + 0.25 * bell(0.6)
}

fn shape(a: &Profile, b: &Profile) -> (f64, Shape) {
    let mean = |values: &[f64]| values.iter().sum::<f64>() / values.len() as f64;
    let (ma, mb) = (mean(&a.turned), mean(&b.turned));
    let apart = |sign: f64| {
        let pairs = a.turned.iter().zip(&b.turned);
        pairs
            .map(|(x, y)| ((x - ma) - sign * (y - mb)).abs())
            .sum::<f64>()
            / a.turned.len() as f64
    };
    let bent =
        |values: &[f64], mean: f64| values.iter().map(|v| (v - mean).abs()).fold(0.0, f64::max);
    let (alike, hollow) = (apart(1.0), apart(-1.0));
    let off = alike.min(hollow);
    let how = if bent(&a.turned, ma) < 0.02 && bent(&b.turned, mb) < 0.02 {
        Shape::Straight
    } else if off > 0.15 {
        Shape::Unlike
    } else if hollow < alike {
        Shape::HollowOnRound
    } else {
        Shape::Alike
    };
    (libm::exp(-off / UNLIKE), how)
}

fn notches(a: &[(f64, NotchKind)], b: &[(f64, NotchKind)]) -> f64 {
    match (a.is_empty(), b.is_empty()) {
        (true, true) => 0.0,
        (true, false) | (false, true) => -0.4,
        (false, false) => {
            let meet = |x: &(f64, NotchKind)| {
                b.iter()
                    .any(|y| x.1 == y.1 && (x.0 - y.0).abs() <= NOTCHES_MEET)
            };
            let met = a.iter().filter(|x| meet(x)).count() as f64;
            let most = a.len().max(b.len()) as f64;
            2.0 * met / most - 1.0
        }
    }
}

fn ends(a: End, b: End) -> f64 {
    use Beside::{Dart, Fold, Free, Inside, Seam};
    let beside = match (a.beside, b.beside) {
        (Fold, Fold) => 1.0,
        (Free, Free) => 0.8,
        (Inside, Inside) => 0.6,
        (Seam, Seam) => 0.4,
        (Inside, _) | (_, Inside) => 0.1,
        (Dart, _) | (_, Dart) => 0.0,
        (Fold, Seam) | (Seam, Fold) => -0.3,
        (Fold, Free) | (Free, Fold) => -0.4,
        (Seam, Free) | (Free, Seam) => -0.1,
    };
    let turn = (a.angle + b.angle - 180.0).abs();
    0.6 * beside + 0.4 * (1.0 - turn / 60.0).max(-0.5)
}
