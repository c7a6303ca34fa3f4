//! Joins: the two corners that meet at one end of a seam, and the edges that run on over it when it is sewn.
//!
//! A hem, a neckline, an armscye or a waist runs over the seams it crosses without a point or a dip. Whether it does
//! is a matter of the two corner angles together. Angles in degrees, lengths in mm.

use kurbo::{Affine, Vec2};

use crate::alteration::{Alteration, SeamChange, TrueTo};
use crate::edge::EdgeRef;
use crate::edit::{Edit, FittingEdit};
use crate::finding::{Finding, Gravity, Place};
use crate::garment::Garment;
use crate::piece::Piece;
use crate::seams::{Seam, Side, SidePlace, Stretch};
use crate::units::Mm;
use crate::walk::{Laid, laid_on};

/// How far a join may be off before it is told, degrees (common practice, no source).
const SEEN_TURN: f64 = 3.0;

/// The same in mm: a pencil line's width (common practice, no source).
const SEEN: f64 = 0.5;

/// From here on a join looks wrong to everybody, mm (common practice, no source).
const CLEARLY_SEEN: f64 = 2.0;

/// How far from the seam it is looked at, mm (common practice, no source).
const REACH: f64 = 20.0;

/// A corner further off than this is meant to be one, degrees (common practice, no source).
const A_CORNER: f64 = 60.0;

/// An edge that turns by less than this where it is cut in two runs on, degrees (common practice, no source).
const RUNS_ON: f64 = 30.0;

/// How near two mates lie that count as one place, as a share of the edges' length.
const ONE_PLACE: f64 = 0.02;

/// The corner of one piece at an end of a seam.
#[derive(Debug, Clone, PartialEq)]
pub struct JoinCorner {
    /// Name of the piece.
    pub piece: String,
    /// The edge that is sewn.
    pub seam_edge: String,
    /// Does the corner lie at the drawn start of that edge?
    pub at_seam_edge_start: bool,
    /// The edge that runs on over the seam.
    pub run_edge: String,
    /// Does the corner lie at the drawn start of that edge?
    pub at_run_edge_start: bool,
    /// Angle inside the piece, degrees.
    pub angle: f64,
}

/// Two corners that meet at one end of a seam.
#[derive(Debug, Clone, PartialEq)]
pub struct Join {
    /// Name of the seam.
    pub seam: String,
    /// At its start, or at its end?
    pub at_start: bool,
    /// On side `a`.
    pub a: JoinCorner,
    /// On side `b`.
    pub b: JoinCorner,
    /// Takes the drawing of the piece at `b` to that of the piece at `a`, corner on corner, seam on seam.
    pub a_from_b: Affine,
    /// How the edges should run over the seam.
    pub wanted: TrueTo,
    /// By how much the angles miss that, degrees: positive is a dip, negative a point.
    pub off: f64,
    /// How far the dip goes in, or the point stands out.
    pub off_by: Mm,
}

/// Why two corners do not make a join.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum JoinError {
    /// The seam cannot be laid out.
    #[error("{0}")]
    Seam(#[from] crate::seams::SeamError),
    /// The seam ends inside an edge.
    #[error("the seam ends inside {0}, not at a corner; there is nothing to true there")]
    Inside(EdgeRef),
    /// A dart begins at the corner.
    #[error(
        "{edge} is a leg of a dart, which is closed first; close or move the dart before truing there"
    )]
    Dart {
        /// The dart leg.
        edge: EdgeRef,
    },
    /// The fold begins at the corner.
    #[error(
        "{edge} is the fold of the cloth and runs over no seam; square the other edge to the fold"
    )]
    Fold {
        /// The folded edge.
        edge: EdgeRef,
    },
}

impl Join {
    /// The corners that meet at one end of a seam.
    ///
    /// # Errors
    /// [`JoinError`] when the seam ends inside an edge, at a dart or at a fold, or cannot be laid out.
    pub fn at(garment: &Garment, seam: &Seam, at_start: bool) -> Result<Self, JoinError> {
        let a = corner_of(garment, &seam.a, at_start)?;
        let b = corner_of(garment, &seam.b, at_start)?;
        let place = |stretches: &[Stretch]| {
            let side = Side::new(stretches, &garment.pieces)?;
            let along = if at_start { Mm(0.0) } else { side.length() };
            side.place(along).ok_or(crate::seams::SeamError::NoLength)
        };
        let (on_a, on_b): (SidePlace, SidePlace) = (place(&seam.a)?, place(&seam.b)?);
        let wanted = wanted(garment, &a, &b);
        let reach = reach(garment, &a).min(reach(garment, &b));
        let off = match wanted {
            TrueTo::Straight | TrueTo::Smooth => a.angle + b.angle - 180.0,
            TrueTo::Square => larger(a.angle - 90.0, b.angle - 90.0),
        };
        let half = match wanted {
            TrueTo::Straight | TrueTo::Smooth => off / 2.0,
            TrueTo::Square => off,
        };
        Ok(Self {
            seam: seam.name.clone(),
            at_start,
            a_from_b: laid_on(&on_a, &on_b, Laid::Beside),
            a,
            b,
            wanted,
            off,
            off_by: Mm(reach * libm::sin(half.abs().min(90.0).to_radians())),
        })
    }

    /// Is it off by more than anybody sees?
    pub fn needs_truing(&self) -> bool {
        self.off.abs() > SEEN_TURN && self.off_by.0 > SEEN
    }

    /// The alteration that trues it.
    pub fn truing(&self) -> Alteration {
        Alteration::Seam(SeamChange::True {
            seam: self.seam.clone(),
            at_start: self.at_start,
            to: self.wanted,
        })
    }

    /// What is wrong with it, in one sentence.
    pub fn told(&self) -> String {
        let shape = if self.off > 0.0 { "a dip" } else { "a point" };
        let (a, b) = (&self.a, &self.b);
        let runs = format!(
            "where {}, {} runs on into {}, {} the corners make {:.1} and {:.1} degrees",
            a.piece, a.run_edge, b.piece, b.run_edge, a.angle, b.angle
        );
        match self.wanted {
            TrueTo::Square => format!(
                "{runs} and should be square: {shape} of {:.1} mm.",
                self.off_by.0
            ),
            TrueTo::Straight | TrueTo::Smooth => format!(
                "{runs}, {:.1} together instead of 180: {shape} of {:.1} mm.",
                a.angle + b.angle,
                self.off_by.0
            ),
        }
    }

    fn finding(&self, remedy: Edit) -> Finding {
        let how = match self.wanted {
            TrueTo::Straight => "straight over the seam",
            TrueTo::Square => "square to the seam",
            TrueTo::Smooth => "smoothly over the seam",
        };
        Finding {
            gravity: if self.off_by.0 > CLEARLY_SEEN {
                Gravity::Care
            } else {
                Gravity::Note
            },
            place: Place::part(&self.seam),
            what: self.told(),
            advice: format!("Draw it {how}."),
            remedy: Some(remedy),
        }
    }
}

fn larger(x: f64, y: f64) -> f64 {
    if x.abs() < y.abs() { y } else { x }
}

/// Every join of a garment where an edge runs on over a seam, in the order of the seams.
///
/// Left out: seams between layers, ends inside an edge, at a dart or at a fold, corners where two seams only cross, and
/// corners that are so far from running on that they are meant.
pub fn joins(garment: &Garment) -> Vec<Join> {
    let ends = garment
        .seams
        .iter()
        .flat_map(|seam| [true, false].map(|at_start| (seam, at_start)));
    ends.filter(|(seam, at_start)| runs_on(garment, seam, *at_start))
        .filter_map(|(seam, at_start)| Join::at(garment, seam, at_start).ok())
        .filter(|join| join.off.abs() <= A_CORNER)
        .collect()
}

/// Joins of a garment that need truing, each with the alteration of the garment that trues it.
pub fn untrue_joins(garment: &Garment) -> Vec<Finding> {
    told(garment, |alteration| Edit::Alter {
        garment: garment.name.clone(),
        alteration,
    })
}

/// The same for a garment as it is made on a fitting: the remedy is a step of that fitting's hand work.
pub fn untrue_joins_on(made: &Garment, fitting: &str) -> Vec<Finding> {
    told(made, |alteration| Edit::Fitting {
        fitting: fitting.to_owned(),
        change: FittingEdit::AddAlteration(alteration),
    })
}

fn told(garment: &Garment, remedy: impl Fn(Alteration) -> Edit) -> Vec<Finding> {
    let untrue = joins(garment).into_iter().filter(Join::needs_truing);
    let mut seen: Vec<(JoinCorner, JoinCorner)> = Vec::new();
    let mut findings = Vec::new();
    for join in untrue {
        // Shell and lining are cut by one outline: told once.
        let corners = (join.a.clone(), join.b.clone());
        if !seen.contains(&corners) {
            findings.push(join.finding(remedy(join.truing())));
            seen.push(corners);
        }
    }
    findings
}

/// The corner where a side starts or ends.
fn corner_of(garment: &Garment, side: &[Stretch], at_start: bool) -> Result<JoinCorner, JoinError> {
    let found = if at_start { side.first() } else { side.last() };
    let stretch = found.ok_or(crate::seams::SeamError::NoLength)?;
    let fraction = if at_start { stretch.from } else { stretch.to };
    let piece = garment
        .piece(&stretch.piece)
        .ok_or_else(|| crate::seams::SeamError::NoPiece(stretch.piece.clone()))?;
    let at = EdgeRef::new(&stretch.piece, &stretch.edge);
    let index = piece
        .outline
        .index_of(&stretch.edge)
        .ok_or_else(|| crate::seams::SeamError::NoEdge(at.clone()))?;
    let at_seam_edge_start = match fraction {
        f if f.abs() <= 1e-9 => true,
        f if (f - 1.0).abs() <= 1e-9 => false,
        _ => return Err(JoinError::Inside(at)),
    };
    let edges = piece.outline.edges();
    let beside = if at_seam_edge_start {
        index + edges.len() - 1
    } else {
        index + 1
    } % edges.len();
    let (Some(seam_edge), Some(run)) = (edges.get(index), edges.get(beside)) else {
        return Err(JoinError::Inside(at));
    };
    let run_at = EdgeRef::new(&piece.name, &run.name);
    if is_leg(piece, &run.name) || is_leg(piece, &seam_edge.name) {
        return Err(JoinError::Dart { edge: run_at });
    }
    if run.is_fold() || seam_edge.is_fold() {
        return Err(JoinError::Fold { edge: run_at });
    }
    let (coming, going) = if at_seam_edge_start {
        (run, seam_edge)
    } else {
        (seam_edge, run)
    };
    Ok(JoinCorner {
        piece: piece.name.clone(),
        seam_edge: seam_edge.name.clone(),
        at_seam_edge_start,
        run_edge: run.name.clone(),
        at_run_edge_start: !at_seam_edge_start,
        angle: inside(coming.line.direction(1.0), going.line.direction(0.0)),
    })
}

fn is_leg(piece: &Piece, edge: &str) -> bool {
    piece
        .darts
        .iter()
        .any(|dart| dart.leg_in == edge || dart.leg_out == edge)
}

/// Angle inside a counter-clockwise outline between the edge that comes to a corner and the one that goes on, degrees.
pub(crate) fn inside(coming: Vec2, going: Vec2) -> f64 {
    180.0 - libm::atan2(coming.cross(going), coming.dot(going)).to_degrees()
}

fn wanted(garment: &Garment, a: &JoinCorner, b: &JoinCorner) -> TrueTo {
    let straight = |corner: &JoinCorner| {
        let piece = garment.piece(&corner.piece);
        let edge = piece.and_then(|piece| piece.outline.edge(&corner.run_edge));
        edge.is_some_and(|edge| edge.line.is_straight())
    };
    if (&a.piece, &a.seam_edge) == (&b.piece, &b.seam_edge) {
        // Sewn to its own mirror image.
        TrueTo::Square
    } else if straight(a) && straight(b) && (&a.piece, &a.run_edge) != (&b.piece, &b.run_edge) {
        TrueTo::Straight
    } else {
        TrueTo::Smooth
    }
}

fn reach(garment: &Garment, corner: &JoinCorner) -> f64 {
    let piece = garment.piece(&corner.piece);
    let edge = piece.and_then(|piece| piece.outline.edge(&corner.run_edge));
    edge.map_or(REACH, |edge| REACH.min(edge.line.length() / 2.0))
}

/// Does an edge run on over this end of a seam: both run edges unsewn there, or sewn to one place of a mate?
fn runs_on(garment: &Garment, seam: &Seam, at_start: bool) -> bool {
    let stretch_at = |side: &'_ [Stretch]| {
        if at_start {
            side.first().cloned()
        } else {
            side.last().cloned()
        }
    };
    let (Some(on_a), Some(on_b)) = (stretch_at(&seam.a), stretch_at(&seam.b)) else {
        return false;
    };
    if on_a.copy.role != on_b.copy.role {
        return false;
    }
    let (Ok(a), Ok(b)) = (
        corner_of(garment, &seam.a, at_start),
        corner_of(garment, &seam.b, at_start),
    ) else {
        return false;
    };
    if (&a.piece, &a.run_edge) == (&b.piece, &b.seam_edge) {
        // A band folded at the corner where both begin.
        return false;
    }
    if (&a.piece, &a.run_edge) == (&b.piece, &b.run_edge) {
        // A tube, or a piece sewn to its mirror image.
        return true;
    }
    let mates = |corner: &JoinCorner, stretch: &Stretch| {
        let at = if corner.at_run_edge_start { 0.0 } else { 1.0 };
        mates_at(
            garment,
            &EdgeRef::new(&corner.piece, &corner.run_edge),
            at,
            stretch,
        )
    };
    let (of_a, of_b) = (mates(&a, &on_a), mates(&b, &on_b));
    if of_a.is_empty() || of_b.is_empty() {
        return of_a.is_empty() && of_b.is_empty();
    }
    of_a.iter()
        .any(|x| of_b.iter().any(|y| one_place(garment, x, y)))
}

/// Are both sewn to one place of a mate, whose edge runs on there?
fn one_place(garment: &Garment, x: &(SidePlace, f64), y: &(SidePlace, f64)) -> bool {
    let (first, second) = (&x.0.edge, &y.0.edge);
    if first.piece != second.piece || (x.0.point - y.0.point).hypot() > ONE_PLACE * x.1.max(y.1) {
        return false;
    }
    if first.edge == second.edge {
        return true;
    }
    let Some(piece) = garment.piece(&first.piece) else {
        return false;
    };
    let edges = piece.outline.edges();
    edges
        .iter()
        .zip(edges.iter().cycle().skip(1))
        .any(|(coming, going)| {
            let both = [&coming.name, &going.name];
            both.contains(&&first.edge)
                && both.contains(&&second.edge)
                && (inside(coming.line.direction(1.0), going.line.direction(0.0)) - 180.0).abs()
                    <= RUNS_ON
        })
}

/// What a place on an edge is sewn to, with the length of the side it is on.
fn mates_at(
    garment: &Garment,
    edge: &EdgeRef,
    fraction: f64,
    like: &Stretch,
) -> Vec<(SidePlace, f64)> {
    let sides = garment
        .seams
        .iter()
        .flat_map(|seam| [(&seam.a, &seam.b), (&seam.b, &seam.a)]);
    let mut found = Vec::new();
    for (mine, other) in sides {
        if mine.iter().any(|s| s.copy.role != like.copy.role) {
            continue;
        }
        let (Ok(mine), Ok(other)) = (
            Side::new(mine, &garment.pieces),
            Side::new(other, &garment.pieces),
        ) else {
            continue;
        };
        for along in mine.along(edge, fraction) {
            let share = along.0 / mine.length().0;
            if let Some(place) = other.place(Mm(share * other.length().0)) {
                found.push((place, other.length().0));
            }
        }
    }
    found
}

#[cfg(test)]
mod tests;
