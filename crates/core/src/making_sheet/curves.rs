//! Where the allowance of a curve is clipped, and where it is notched out.
//!
//! An allowance that is turned back onto its piece has to change its length: at a hollow curve it must spread, so it is
//! clipped; at a round one it bunches, so small wedges are cut out. Lengths in mm, angles in radians.
//!
//! # Source
//! Geometry. An allowance `a` wide beyond an arc of radius `r` and length `s` is `(r - a) s / r` long at its cut edge (`r + a`
//! where the arc is round); turned back it lies along `(r + a) s / r`: the difference is `2 a s / r`, half of it where the
//! allowance is only straightened. How wide a cut may open is common practice, no source.

use kurbo::{ParamCurve, Point};

use crate::edge::{Edge, EdgeRef, Finish};
use crate::finish::{Finished, FinishedPiece};
use crate::geometry::curve::{Line, direction_on};
use crate::piece::Piece;
use crate::seams::{Relation, Seam, SeamKind};
use crate::units::{LengthUnit, Mm};

/// A cut may open or close by this much: wider ones show as corners from the right side (common practice, no source).
pub const WIDEST_CUT: Mm = Mm(2.0);

/// And by no more than this share of the allowance (*own*).
const SHARE_OF_ALLOWANCE: f64 = 0.5;

/// A curve that turns by less than this, radians, is left alone: about 5 degrees (*own*).
const LEAST_TURN: f64 = 0.09;

/// A corner that turns inwards by more than this, radians, is clipped into: about 20 degrees (*own*).
const CORNER: f64 = 0.35;

/// Samples along one cubic.
const STEPS: usize = 48;

/// Cuts lie no closer than this, or the cloth between them frays out (common practice, no source).
pub const CLOSEST_CUTS: Mm = Mm(2.0);

/// How long a cut leaves the cloth before the stitch line whole, mm (common practice, no source).
pub const SHORT_OF_STITCHES: Mm = Mm(1.0);

/// What is done to the allowance of a curve.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CurveCut {
    /// Clipped: the allowance must spread.
    Clip,
    /// Small wedges cut out: the allowance bunches.
    NotchOut,
}

impl CurveCut {
    /// "clip" or "notch out".
    pub fn verb(self) -> &'static str {
        match self {
            Self::Clip => "clip",
            Self::NotchOut => "notch out",
        }
    }
}

/// What the allowance has to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bend {
    /// Turned back onto its own piece: pressed open, faced, bagged.
    TurnedBack,
    /// Laid over to the other piece.
    LaidOver,
}

impl Bend {
    /// How many allowances' widths the cut edge has to make up for, for each radian of turning.
    fn widths(self) -> f64 {
        match self {
            Self::TurnedBack => 2.0,
            Self::LaidOver => 1.0,
        }
    }
}

/// Cuts along one stretch of a curve.
#[derive(Debug, Clone, PartialEq)]
pub struct Cuts {
    /// Clips or wedges.
    pub cut: CurveCut,
    /// Tightest radius of the stretch.
    pub radius: Mm,
    /// By how much each opens or closes.
    pub opens: Mm,
    /// How far each lies from the start of the line.
    pub places: Vec<Mm>,
    /// Width the allowance is trimmed to first, where the curve is so tight that cuts at its full width would lie too close.
    pub trim_to: Option<Mm>,
}

/// Cuts along one edge of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct CurveCuts {
    /// The edge.
    pub edge: EdgeRef,
    /// Width of the allowance there.
    pub allowance: Mm,
    /// The edge at whose corner the places are counted from.
    pub from: String,
    /// Is it one half of a piece cut on the fold, so that the other half gets the same?
    pub both_halves: bool,
    /// What is cut.
    pub cuts: Cuts,
    /// Where each cut points to, on the stitch line of the drawing.
    pub points: Vec<Point>,
}

impl CurveCuts {
    /// "front yoke, neckline: clip 4 times, at 3, 9, 15 and 21 mm from the shoulder, to 1 mm before the stitch line; each opens
    /// 1.8 mm (radius 20 mm, allowance 6 mm)".
    pub fn words(&self, unit: LengthUnit) -> String {
        let Cuts {
            cut,
            radius,
            opens,
            places,
            trim_to,
        } = &self.cuts;
        let times = times(places.len());
        let trimmed = trim_to.map_or_else(String::new, |width| {
            format!("trim to {}, then ", unit.show(width))
        });
        let half = if self.both_halves {
            " on both halves"
        } else {
            ""
        };
        let does = match cut {
            CurveCut::Clip => "opens",
            CurveCut::NotchOut => "closes",
        };
        let at = listed(
            places
                .iter()
                .map(|place| unit.show_on_rule(*place))
                .map(|shown| shown.trim_end_matches(unit.suffix()).trim_end().to_owned()),
        );
        if self.is_corner() {
            return format!(
                "{}: clip into the corner at the {}, to {} before the stitch line",
                self.edge,
                self.from,
                unit.show(SHORT_OF_STITCHES)
            );
        }
        format!(
            "{}: {trimmed}{} {times}{half}, at {at} {} from the {}, to {} before the stitch line; each {does} {} (radius {}, allowance {})",
            self.edge,
            cut.verb(),
            unit.suffix(),
            self.from,
            unit.show(SHORT_OF_STITCHES),
            unit.show(*opens),
            unit.show(*radius),
            unit.show_chosen(self.allowance),
        )
    }

    fn is_corner(&self) -> bool {
        self.cuts.radius.0 <= 0.0
    }
}

/// "once", "twice", "3 times".
pub(super) fn times(count: usize) -> String {
    match count {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        many => format!("{many} times"),
    }
}

/// "3, 9 and 15".
pub(super) fn listed(words: impl IntoIterator<Item = String>) -> String {
    let mut all: Vec<String> = words.into_iter().collect();
    match (all.pop(), all.is_empty()) {
        (None, _) => String::new(),
        (Some(last), true) => last,
        (Some(last), false) => format!("{} and {last}", all.join(", ")),
    }
}

/// How far a cut may open at this allowance.
///
/// # Source
/// Common practice, no source; see [`WIDEST_CUT`].
pub fn widest_cut(allowance: Mm) -> Mm {
    Mm(WIDEST_CUT.0.min(allowance.0 * SHARE_OF_ALLOWANCE))
}

/// A step along a line: how far, and by how much it turns to the left.
struct Turned {
    length: f64,
    turn: f64,
}

/// Clips and wedges along a line whose allowance lies to its right, so that none opens or closes by more than `most`.
///
/// A stretch is cut where it turns one way by 5 degrees and more and its allowance has to change its length by half of `most`
/// and more. The cuts share that change evenly: where the curve is tighter they lie closer. Where they would lie closer than
/// [`CLOSEST_CUTS`] there are fewer, and the allowance is trimmed first to the width at which they are enough.
///
/// # Example
/// A quarter circle of radius 20 mm, hollow, allowance 6 mm turned back: 2 x 6 x 1.571 = 18.85 mm to spread; at 2 mm each, 10
/// clips that open 1.885 mm each, 3.14 mm apart.
pub fn cuts_along(line: &Line, allowance: Mm, bend: Bend, most: Mm) -> Vec<Cuts> {
    if !(allowance.0 > 0.0 && most.0 > 0.0) {
        return Vec::new();
    }
    let steps = turned(line);
    let sampled: f64 = steps.iter().map(|step| step.length).sum();
    let scale = if sampled > 0.0 {
        line.length() / sampled
    } else {
        1.0
    };
    let per_turn = bend.widths() * allowance.0;
    let mut all = Vec::new();
    for run in runs(&steps) {
        let turn: f64 = run.steps.iter().map(|step| step.turn.abs()).sum();
        let change = per_turn * turn;
        if turn < LEAST_TURN || change < most.0 / 2.0 {
            continue;
        }
        let wanted = (change / most.0 - 1e-9).ceil().max(1.0) as usize;
        let spread = |count: usize| -> Vec<Mm> {
            let share = |i: usize| (i as f64 + 0.5) / count as f64 * turn;
            (0..count)
                .map(|i| Mm(run.place_of(share(i)) * scale))
                .collect()
        };
        let too_close = |places: &[Mm]| {
            let mut gaps = places.iter().zip(places.iter().skip(1));
            gaps.any(|(a, b)| b.0 - a.0 < CLOSEST_CUTS.0)
        };
        let (mut count, mut places) = (wanted, spread(wanted));
        while count > 1 && too_close(&places) {
            count -= 1;
            places = spread(count);
        }
        let opens = (change / count as f64).min(most.0);
        let trim_to = (count < wanted).then(|| Mm(most.0 * count as f64 / (bend.widths() * turn)));
        let tightest = run
            .steps
            .iter()
            .filter(|step| step.length > 0.0)
            .map(|step| step.turn.abs() / step.length)
            .fold(0.0, f64::max);
        all.push(Cuts {
            cut: if run.is_hollow {
                CurveCut::Clip
            } else {
                CurveCut::NotchOut
            },
            radius: Mm(if tightest > 0.0 { 1.0 / tightest } else { 0.0 }),
            opens: Mm(opens),
            places,
            trim_to,
        });
    }
    all
}

fn turned(line: &Line) -> Vec<Turned> {
    let mut steps = Vec::new();
    for cubic in line.cubics() {
        let part = |i: usize| i as f64 / STEPS as f64;
        for i in 0..STEPS {
            let (t, u) = (part(i), part(i + 1));
            let (a, b) = (direction_on(&cubic, t), direction_on(&cubic, u));
            steps.push(Turned {
                length: (cubic.eval(u) - cubic.eval(t)).hypot2().sqrt(),
                turn: libm::atan2(a.cross(b), a.dot(b)),
            });
        }
    }
    steps
}

/// Steps in a row that turn the same way.
struct Run<'a> {
    steps: &'a [Turned],
    start: f64,
    is_hollow: bool,
}

impl Run<'_> {
    /// How far along the line the curve has turned by this much.
    fn place_of(&self, turn: f64) -> f64 {
        let (mut along, mut turned) = (self.start, 0.0);
        for step in self.steps {
            let own = step.turn.abs();
            if own > 0.0 && turned + own >= turn {
                return along + step.length * (turn - turned) / own;
            }
            along += step.length;
            turned += own;
        }
        along
    }
}

fn runs(steps: &[Turned]) -> Vec<Run<'_>> {
    // A straight step (less than a second of arc) belongs to what comes before it.
    let way = |step: &Turned| {
        if step.turn.abs() < 1e-6 {
            None
        } else {
            Some(step.turn < 0.0)
        }
    };
    let mut all = Vec::new();
    let (mut from, mut start, mut along) = (0, 0.0, 0.0);
    let mut hollow: Option<bool> = None;
    for (i, step) in steps.iter().enumerate() {
        if let Some(now) = way(step) {
            if let Some(before) = hollow.filter(|before| *before != now) {
                all.push(Run {
                    steps: steps.get(from..i).unwrap_or_default(),
                    start,
                    is_hollow: before,
                });
                (from, start) = (i, along);
            }
            hollow = Some(now);
        }
        along += step.length;
    }
    if let Some(is_hollow) = hollow {
        all.push(Run {
            steps: steps.get(from..).unwrap_or_default(),
            start,
            is_hollow,
        });
    }
    all
}

/// Clips and wedges of every seam and facing edge of a garment.
///
/// Left alone: hems (eased in), folds, dart legs, edges that are drawn in, and seams whose allowance stays whole because it is
/// wrapped or sewn down (French, felled, bound).
pub fn curve_cuts(finished: &Finished) -> Vec<CurveCuts> {
    let seams = &finished.filled.adapted.made.seams;
    let mut all = Vec::new();
    for piece in &finished.pieces {
        let edges = piece.piece.outline.edges();
        for (i, edge) in edges.iter().enumerate() {
            let Some(bend) = bend_of(&piece.piece, edge, seams) else {
                continue;
            };
            let allowance = piece.allowances.get(i).copied().unwrap_or_default();
            let before = edges.iter().cycle().nth(i + edges.len() - 1);
            let from = before.map_or_else(String::new, |before| before.name.clone());
            let found = |cuts: Cuts| CurveCuts {
                edge: EdgeRef::new(&piece.piece.name, &edge.name),
                allowance,
                from: from.clone(),
                both_halves: piece.piece.fold_edge().is_some(),
                points: points(edge, &cuts),
                cuts,
            };
            all.extend(
                corner(before, edge, piece, seams)
                    .filter(|_| allowance.0 > 0.0)
                    .map(&found),
            );
            let cuts = cuts_along(&edge.line, allowance, bend, widest_cut(allowance));
            all.extend(cuts.into_iter().map(found));
        }
    }
    all
}

fn points(edge: &Edge, cuts: &Cuts) -> Vec<Point> {
    let length = edge.line.length().max(1e-9);
    cuts.places
        .iter()
        .map(|place| edge.line.at((place.0 / length).clamp(0.0, 1.0)))
        .collect()
}

/// A clip into the corner where an edge starts, when the outline turns inwards there.
fn corner(
    before: Option<&Edge>,
    edge: &Edge,
    piece: &FinishedPiece,
    seams: &[Seam],
) -> Option<Cuts> {
    let before = before.filter(|before| bend_of(&piece.piece, before, seams).is_some())?;
    let (a, b) = (before.line.direction(1.0), edge.line.direction(0.0));
    let turn = libm::atan2(a.cross(b), a.dot(b));
    (turn < -CORNER).then(|| Cuts {
        cut: CurveCut::Clip,
        radius: Mm(0.0),
        opens: Mm(0.0),
        places: vec![Mm(0.0)],
        trim_to: None,
    })
}

/// What the allowance of an edge has to do; `None` where it is never cut.
fn bend_of(piece: &Piece, edge: &Edge, seams: &[Seam]) -> Option<Bend> {
    let is_leg = piece
        .darts
        .iter()
        .any(|dart| dart.leg_in == edge.name || dart.leg_out == edge.name);
    let is_sewn = matches!(
        edge.finish_at(0.5),
        Finish::Seam | Finish::Facing | Finish::Open
    );
    let is_drawn_in = piece.fullness.iter().any(|op| op.edge == edge.name);
    if is_leg || !is_sewn || is_drawn_in {
        return None;
    }
    let on = |side: &[crate::seams::Stretch]| {
        side.iter()
            .any(|s| s.piece == piece.name && s.edge == edge.name)
    };
    let mut bend = Some(Bend::TurnedBack);
    for seam in seams.iter().filter(|seam| on(&seam.a) || on(&seam.b)) {
        let is_gathered = matches!(seam.relation, Relation::Ratio(ratio) if ratio > 1.0);
        bend = match seam.kind {
            SeamKind::French | SeamKind::Felled | SeamKind::Bound => return None,
            _ if is_gathered && on(&seam.a) => return None,
            // Laid over with the gathers or the ease of the other piece, or overcast together.
            SeamKind::Overedged => Some(Bend::LaidOver),
            _ if !matches!(seam.relation, Relation::Equal) => Some(Bend::LaidOver),
            SeamKind::Plain | SeamKind::Lapped => bend,
        };
    }
    bend
}
