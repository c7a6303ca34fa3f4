//! From solved control points back to pieces: outlines, body lines, notches, marks.
#![allow(
    clippy::indexing_slicing,
    reason = "blocks and pieces have the same order"
)]

use std::sync::Arc;

use kurbo::Point;

use super::demands::{Problem, Setup};
use super::guess::carried;
use super::rules::{Site, arc};
use super::solve::Solution;
use super::targets::detail_ratio;
use crate::allowance::without_allowance;
use crate::edge::OutlinePoint;
use crate::finding::{Finding, Gravity, Place};
use crate::fullness::{Fullness, FullnessOp};
use crate::garment::Garment;
use crate::geometry::outline::Outline;
use crate::notch::Notch;
use crate::piece::{BodyLine, Mark, Piece};
use crate::seams::{Seam, Stretch};
use crate::tape::{TapeLine, TapePart, TapePath};
use crate::units::Mm;

/// How near (in share of a seam) a notch must lie to a join or notch of the mate to be taken as meeting it.
const MEETS: f64 = 0.04;

/// The source pieces, with allowance that was drawn in taken off.
pub(super) fn stripped(garment: &Garment, findings: &mut Vec<Finding>) -> Vec<Arc<Piece>> {
    let has_some = |piece: &Arc<Piece>| {
        garment
            .included_allowance
            .keys()
            .any(|edge| edge.piece == piece.name)
    };
    garment
        .pieces
        .iter()
        .map(|piece| {
            if !has_some(piece) {
                return piece.clone();
            }
            without_allowance(piece, &garment.included_allowance)
                .map(Arc::new)
                .unwrap_or_else(|why| {
                    findings.push(Finding {
                        gravity: Gravity::Unusable,
                        place: Place::piece(&piece.name),
                        what: format!(
                            "the allowance drawn into the source could not be taken off: {why}."
                        ),
                        advice: "Correct the width that is said to be included.".to_owned(),
                        remedy: None,
                    });
                    piece.clone()
                })
        })
        .collect()
}

/// All pieces as solved.
pub(super) fn pieces(
    setup: &Setup<'_>,
    problem: &Problem,
    solution: &Solution,
    findings: &mut Vec<Finding>,
) -> Vec<Arc<Piece>> {
    let mut pieces: Vec<Piece> = setup
        .pieces
        .iter()
        .enumerate()
        .map(|(index, piece)| {
            piece_at(problem, index, piece, &solution.points[index]).unwrap_or_else(|| {
                findings.push(Finding {
                    gravity: Gravity::Unusable,
                    place: Place::piece(&piece.name),
                    what: "the adapted outline does not close round an area; the piece is shown as on the source.".to_owned(),
                    advice: "Let a demand of this piece go, or lower its rank.".to_owned(),
                    remedy: None,
                });
                Piece::clone(piece)
            })
        })
        .collect();
    for seam in &setup.garment.seams {
        meet(setup.pieces, &mut pieces, seam);
    }
    pieces.into_iter().map(Arc::new).collect()
}

fn piece_at(problem: &Problem, index: usize, piece: &Piece, points: &[Point]) -> Option<Piece> {
    let block = &problem.blocks[index];
    let lines = (0..block.edges.len())
        .map(|edge| block.line(edge, points))
        .collect::<Option<Vec<_>>>()?;
    if lines
        .iter()
        .flat_map(|line| line.points())
        .any(|p| !p.is_finite())
    {
        return None;
    }
    let before = piece.outline.area();
    let outline: Outline = piece.outline.with_lines(lines).ok()?;
    // A piece turned inside out is put the right way round by the outline; its edges would run the other way.
    let kept_way = outline.edges().first().map(|e| &e.name)
        == piece.outline.edges().first().map(|e| &e.name)
        && before > 0.0;
    if !kept_way {
        return None;
    }
    let carry = |p: Point| carried(p, &block.source, points);
    let moved = |at: &OutlinePoint| moved_point(problem, index, piece, at, points);
    Some(Piece {
        name: piece.name.clone(),
        placement: piece.placement.clone(),
        body_lines: piece
            .body_lines
            .iter()
            .map(|line| BodyLine {
                level: line.level,
                from: moved(&line.from),
                to: moved(&line.to),
            })
            .collect(),
        darts: piece.darts.clone(),
        notches: piece.notches.clone(),
        marks: piece
            .marks
            .iter()
            .map(|mark| carried_mark(mark, &carry))
            .collect(),
        grainline: piece.grainline.map(|line| carried_grain(line, &carry)),
        fullness: piece
            .fullness
            .iter()
            .map(|op| carried_fullness(op, piece, &outline))
            .collect(),
        copies: piece.copies.clone(),
        face: piece.face,
        outline,
    })
}

/// A place on an edge keeps its share of the edge, unless it slid along it with a level.
fn moved_point(
    problem: &Problem,
    index: usize,
    piece: &Piece,
    at: &OutlinePoint,
    points: &[Point],
) -> OutlinePoint {
    problem
        .site(index, piece, at)
        .filter(|site| site.level.is_some())
        .and_then(|site| solved_place(problem, &site, at, points))
        .unwrap_or_else(|| at.clone())
}

/// Where the rules measured a place: a curve that is bent anew may have less or more of its length before it.
fn solved_place(
    problem: &Problem,
    site: &Site,
    at: &OutlinePoint,
    points: &[Point],
) -> Option<OutlinePoint> {
    let block = &problem.blocks[site.block];
    let (cubic, t) = site.locate(block, points);
    let edge = block.edges[site.edge].clone();
    let length = |cubics: std::ops::Range<usize>| -> f64 {
        cubics
            .map(|k| arc(&block.cubic(k, points), 0.0, 1.0).0)
            .sum()
    };
    let part = arc(&block.cubic(cubic, points), 0.0, t).0;
    let fraction = (length(edge.start..cubic) + part) / length(edge).max(1e-12);
    fraction
        .is_finite()
        .then(|| OutlinePoint::new(at.edge.clone(), fraction.clamp(0.0, 1.0)))
}

/// A grainline moves and shrinks with its piece but keeps its direction: folds and upright edges keep theirs too.
fn carried_grain((a, b): (Point, Point), carry: &dyn Fn(Point) -> Point) -> (Point, Point) {
    let half = (b - a) / 2.0;
    let (from, to) = (carry(a), carry(b));
    let reach = half.normalize() * ((to - from).hypot() / 2.0);
    if !reach.is_finite() {
        return (from, to);
    }
    let middle = carry(a.midpoint(b));
    (middle - reach, middle + reach)
}

fn carried_mark(mark: &Mark, carry: &dyn Fn(Point) -> Point) -> Mark {
    Mark {
        name: mark.name.clone(),
        kind: mark.kind.mapped(carry),
    }
}

/// Gathers keep their ratio; folds keep their count, and their size in proportion to the edge.
fn carried_fullness(op: &FullnessOp, piece: &Piece, outline: &Outline) -> FullnessOp {
    let length = |o: &Outline| o.edge(&op.edge).map_or(0.0, |e| e.line.length());
    let ratio = if length(&piece.outline) > 0.0 {
        length(outline) / length(&piece.outline)
    } else {
        1.0
    };
    let size = |m: Mm| Mm(m.0 * ratio);
    let fullness = match op.fullness {
        Fullness::Gathers { ratio } => Fullness::Gathers { ratio },
        Fullness::CartridgePleats { count, ratio } => Fullness::CartridgePleats { count, ratio },
        Fullness::Shirring { ratio, rows, apart } => Fullness::Shirring {
            ratio,
            rows,
            apart: size(apart),
        },
        Fullness::Ease { by } => Fullness::Ease { by: size(by) },
        Fullness::DoubleBoxPleats {
            count,
            depth,
            inverted,
        } => Fullness::DoubleBoxPleats {
            count,
            depth: size(depth),
            inverted,
        },
        Fullness::KnifePleats { count, depth } => Fullness::KnifePleats {
            count,
            depth: size(depth),
        },
        Fullness::BoxPleats {
            count,
            depth,
            inverted,
        } => Fullness::BoxPleats {
            count,
            depth: size(depth),
            inverted,
        },
        Fullness::Tucks { count, width } => Fullness::Tucks {
            count,
            width: size(width),
        },
    };
    FullnessOp {
        fullness,
        layout: op.layout.scaled(ratio),
        ..op.clone()
    }
}

/// The tape lines on the adapted pieces: each end where its demand was measured.
pub(super) fn tape_lines(
    setup: &Setup<'_>,
    problem: &Problem,
    solution: &Solution,
    pieces: &[Arc<Piece>],
) -> Vec<TapeLine> {
    let detail = detail_ratio(setup.garment, setup.fitting, None);
    let solved = |piece: &str, at: &OutlinePoint| {
        let index = setup.pieces.iter().position(|p| p.name == piece)?;
        let inside = at.fraction > 0.0 && at.fraction < 1.0;
        let site = problem.site(index, &setup.pieces[index], at);
        let site = site.filter(|_| inside)?;
        Some((site, solution.points.get(index)?))
    };
    let moved = |piece: &str, at: &OutlinePoint| {
        let (before, after) = (find(setup.pieces, piece)?, find(pieces, piece)?);
        let pairs = before.body_lines.iter().zip(&after.body_lines);
        let mut ends = pairs.flat_map(|(b, a)| [(&b.from, &a.from), (&b.to, &a.to)]);
        let on_level = ends.find(|(b, _)| *b == at).map(|(_, a)| a.clone());
        on_level.or_else(|| {
            let (site, points) = solved(piece, at)?;
            solved_place(problem, &site, at, points)
        })
    };
    // Along an edge no end slides with a level.
    let share = |piece: &str, edge: &str, fraction: f64| {
        let at = OutlinePoint::new(edge, fraction);
        solved(piece, &at)
            .and_then(|(site, points)| {
                let fixed = Site {
                    level: None,
                    ..site
                };
                solved_place(problem, &fixed, &at, points)
            })
            .map_or(fraction, |place| place.fraction)
    };
    let path = |part: &TapePart| {
        let end = |at: &OutlinePoint| moved(&part.piece, at).unwrap_or_else(|| at.clone());
        match &part.path {
            TapePath::Along { edge, from, to } => TapePath::Along {
                edge: edge.clone(),
                from: share(&part.piece, edge, *from),
                to: share(&part.piece, edge, *to),
            },
            TapePath::Across(a, b) => TapePath::Across(end(a), end(b)),
            TapePath::Upright(a, b) => TapePath::Upright(end(a), end(b)),
        }
    };
    let line = |tape: &TapeLine| TapeLine {
        parts: tape
            .parts
            .iter()
            .map(|part| TapePart {
                piece: part.piece.clone(),
                path: path(part),
            })
            .collect(),
        overlap: Mm(tape.overlap.0 * detail),
        lacing_gap: Mm(tape.lacing_gap.0 * detail),
        ..tape.clone()
    };
    setup.garment.tape_lines.iter().map(line).collect()
}

fn find<'a>(pieces: &'a [Arc<Piece>], name: &str) -> Option<&'a Arc<Piece>> {
    pieces.iter().find(|piece| piece.name == name)
}

/// Notches that met a notch or a join of the mate on the source meet it again: the side with fewer stretches follows.
fn meet(source: &[Arc<Piece>], pieces: &mut [Piece], seam: &Seam) {
    let (follower, leader) = if seam.a.len() <= seam.b.len() {
        (&seam.a, &seam.b)
    } else {
        (&seam.b, &seam.a)
    };
    let before: Vec<&Piece> = source.iter().map(AsRef::as_ref).collect();
    let after: Vec<Piece> = pieces.to_vec();
    let after: Vec<&Piece> = after.iter().collect();
    let (Some(lead0), Some(lead1)) = (features(&before, leader), features(&after, leader)) else {
        return;
    };
    let (Some(own0), Some(own1)) = (Walk::of(&before, follower), Walk::of(&after, follower)) else {
        return;
    };
    for (at, stretch) in follower.iter().enumerate() {
        let Some(index) = source.iter().position(|p| p.name == stretch.piece) else {
            continue;
        };
        for k in 0..source[index].notches.len() {
            let notch: &Notch = &source[index].notches[k];
            if notch.edge != stretch.edge
                || leader
                    .iter()
                    .any(|s| s.piece == stretch.piece && s.edge == stretch.edge)
            {
                continue;
            }
            let Some(share) = own0.share(at, notch.fraction) else {
                continue;
            };
            let near = lead0
                .iter()
                .zip(&lead1)
                .min_by(|a, b| (a.0 - share).abs().total_cmp(&(b.0 - share).abs()));
            let Some((was, is)) = near.filter(|(was, _)| (**was - share).abs() < MEETS) else {
                continue;
            };
            if let Some(fraction) = own1.fraction(at, is + share - was) {
                pieces[index].notches[k].fraction = fraction;
            }
        }
    }
}

/// Shares of a side at which something is to be met: notches and inner joins.
fn features(pieces: &[&Piece], side: &[Stretch]) -> Option<Vec<f64>> {
    let walk = Walk::of(pieces, side)?;
    let mut list = Vec::new();
    for (at, stretch) in side.iter().enumerate() {
        let piece = pieces.iter().find(|p| p.name == stretch.piece)?;
        if at > 0 {
            list.push(walk.starts[at] / walk.total);
        }
        for notch in piece.notches.iter().filter(|n| n.edge == stretch.edge) {
            // Also one that lies outside the stretch holds its place in the list, so that both lists stay in step.
            list.push(walk.share(at, notch.fraction).unwrap_or(f64::NEG_INFINITY));
        }
    }
    Some(list)
}

/// A side of a seam walked from its start.
struct Walk<'a> {
    side: &'a [Stretch],
    lengths: Vec<f64>,
    starts: Vec<f64>,
    total: f64,
}

impl<'a> Walk<'a> {
    fn of(pieces: &[&Piece], side: &'a [Stretch]) -> Option<Self> {
        let (mut lengths, mut starts, mut total) = (Vec::new(), Vec::new(), 0.0);
        for stretch in side {
            let piece = pieces.iter().find(|p| p.name == stretch.piece)?;
            let length = piece.outline.edge(&stretch.edge)?.line.length()
                * (stretch.to - stretch.from).abs();
            starts.push(total);
            lengths.push(length);
            total += length;
        }
        (total > 0.0).then_some(Self {
            side,
            lengths,
            starts,
            total,
        })
    }

    /// Share of the side at a fraction of the edge of a stretch.
    fn share(&self, at: usize, fraction: f64) -> Option<f64> {
        let stretch = self.side.get(at)?;
        let way = (fraction - stretch.from) / (stretch.to - stretch.from);
        (0.0..=1.0)
            .contains(&way)
            .then(|| (self.starts[at] + way * self.lengths[at]) / self.total)
    }

    /// Fraction of the edge of a stretch at a share of the side.
    fn fraction(&self, at: usize, share: f64) -> Option<f64> {
        let stretch = self.side.get(at)?;
        let way = (share * self.total - self.starts[at]) / self.lengths[at];
        (0.0..=1.0)
            .contains(&way)
            .then_some(stretch.from + way * (stretch.to - stretch.from))
    }
}
