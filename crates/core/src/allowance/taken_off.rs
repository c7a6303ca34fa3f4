//! Taking off an allowance that was drawn in: from the cut line back to the stitch line.

use std::collections::BTreeMap;

use kurbo::{CubicBez, ParamCurveArclen, ParamCurveNearest, Point};

use super::chain::Growing;
use super::cut::{Run, smooth_parts};
use crate::edge::{Edge, EdgeRef, Finish, FinishStretch};
use crate::geometry::corner::{End, Joined, Shape, join, point};
use crate::geometry::crossing::self_crossings;
use crate::geometry::curve::Line;
use crate::geometry::outline::{Outline, OutlineError};
use crate::geometry::parallel::{Spot, between, curvature, cusps, right_of};
use crate::piece::Piece;
use crate::tolerance::MEASURING;
use crate::units::Mm;

/// Why an allowance cannot be taken off.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum AllowanceError {
    /// No such edge.
    #[error("{edge}: there is no such edge to take an allowance off; check the name")]
    NoEdge {
        /// The edge that was named.
        edge: EdgeRef,
    },
    /// Negative, or not a number.
    #[error("{edge}: an allowance of {width:.2} mm cannot be taken off; give 0 mm or more")]
    BadWidth {
        /// The edge.
        edge: EdgeRef,
        /// The width that was asked for, mm.
        width: f64,
    },
    /// Nothing is left of the edge.
    #[error(
        "{edge}: nothing is left of this edge when {width:.1} mm are taken off here and at its neighbours; give less, or take the allowance off by hand"
    )]
    TooWide {
        /// The edge.
        edge: EdgeRef,
        /// Its width, mm.
        width: f64,
    },
    /// A bulge rounder than its allowance.
    #[error(
        "{edge}: this curve (radius {radius:.1} mm) is tighter than the {width:.1} mm to be taken off; at most {radius:.1} mm can be"
    )]
    TooTight {
        /// The edge.
        edge: EdgeRef,
        /// Its smallest outward radius, mm.
        radius: f64,
        /// Its width, mm.
        width: f64,
    },
    /// Opposite edges meet.
    #[error(
        "{piece}, {edge}: what is left of the piece crosses itself here; the piece is narrower than its allowances, give less"
    )]
    Crosses {
        /// The piece.
        piece: String,
        /// An edge that crosses.
        edge: String,
    },
    /// The moved edges make no outline.
    #[error("{piece}: without its allowances this is no outline: {what}")]
    NoOutline {
        /// The piece.
        piece: String,
        /// Why not.
        what: OutlineError,
    },
}

/// The same piece with the allowances that were drawn in taken off: every edge named in `widths` moved inwards, its
/// corners where the moved neighbours meet.
///
/// Names, order and finishes stay. Notches, body lines, finishes along an edge and fullness keep their place: each is
/// carried square across to the moved edge. Marks, grainline and darts' names stay as they are; a dart's legs are cut
/// where the moved edge crosses them. Stretches of seams (fractions of edges) belong to the garment and are left alone.
/// Edges of other pieces in `widths` are passed over.
///
/// # Errors
/// [`AllowanceError`] when an edge is not there, a width is no width, or nothing sewable is left.
pub fn without_allowance(
    piece: &Piece,
    widths: &BTreeMap<EdgeRef, Mm>,
) -> Result<Piece, AllowanceError> {
    for (edge, width) in widths.iter().filter(|(edge, _)| edge.piece == piece.name) {
        if piece.outline.edge(&edge.edge).is_none() {
            return Err(AllowanceError::NoEdge { edge: edge.clone() });
        }
        if !width.0.is_finite() || width.0 < 0.0 {
            return Err(AllowanceError::BadWidth {
                edge: edge.clone(),
                width: width.0,
            });
        }
    }
    let width = |edge: &Edge| {
        widths
            .get(&EdgeRef::new(&piece.name, &edge.name))
            .map_or(0.0, |mm| mm.0)
    };
    if piece.outline.edges().iter().all(|edge| width(edge) == 0.0) {
        return Ok(piece.clone());
    }
    let mut runs = Vec::new();
    for (place, edge) in piece.outline.edges().iter().enumerate() {
        check_bend(piece, edge, width(edge))?;
        runs.extend(
            smooth_parts(edge.line.cubics())
                .into_iter()
                .map(|stitch| Run::new(place, Finish::Seam, vec![-width(edge)], stitch)),
        );
    }
    let lines = moved_lines(piece, &runs)?;
    let whole: Vec<CubicBez> = lines
        .iter()
        .flat_map(|line| line.cubics().collect::<Vec<_>>())
        .collect();
    if let Some(crossing) = self_crossings(&whole).first() {
        let mut cubics = 0;
        let edge = lines.iter().zip(piece.outline.edges()).find(|(line, _)| {
            cubics += line.cubics().count();
            crossing.first.cubic < cubics
        });
        return Err(AllowanceError::Crosses {
            piece: piece.name.clone(),
            edge: edge.map(|(_, e)| e.name.clone()).unwrap_or_default(),
        });
    }
    let mut moved = piece.clone();
    let no_outline = |what| AllowanceError::NoOutline {
        piece: piece.name.clone(),
        what,
    };
    moved.outline = piece.outline.with_lines(lines).map_err(no_outline)?;
    if moved
        .outline
        .edges()
        .iter()
        .zip(piece.outline.edges())
        .any(|(a, b)| a.name != b.name)
    {
        // turned round: everything was turned inside out
        return Err(AllowanceError::Crosses {
            piece: piece.name.clone(),
            edge: piece
                .outline
                .edges()
                .first()
                .map(|e| e.name.clone())
                .unwrap_or_default(),
        });
    }
    carry_places(piece, &mut moved, &width)?;
    Ok(moved)
}

fn check_bend(piece: &Piece, edge: &Edge, width: f64) -> Result<(), AllowanceError> {
    for c in edge.line.cubics() {
        if width <= 0.0 || (cusps(&c, -width).is_empty() && 1.0 - curvature(&c, 0.5) * width > 0.0)
        {
            continue;
        }
        let tightest = (0..=64)
            .map(|i| curvature(&c, f64::from(i) / 64.0))
            .fold(0.0, f64::max);
        return Err(AllowanceError::TooTight {
            edge: EdgeRef::new(&piece.name, &edge.name),
            radius: 1.0 / tightest.max(1e-9),
            width,
        });
    }
    Ok(())
}

/// The moved edges with their corners, one line each.
fn moved_lines(piece: &Piece, runs: &[Run]) -> Result<Vec<Line>, AllowanceError> {
    let n = runs.len();
    let name = |run: &Run| {
        EdgeRef::new(
            &piece.name,
            piece
                .outline
                .edges()
                .get(run.edge)
                .map(|e| e.name.as_str())
                .unwrap_or_default(),
        )
    };
    let too_wide = |run: &Run| AllowanceError::TooWide {
        edge: name(run),
        width: -run.width,
    };
    let pairs = || runs.iter().zip(runs.iter().cycle().skip(1)).take(n);
    let joins: Vec<Joined<Shape>> = pairs()
        .map(|(before, after)| {
            let (comes, leaves) = (before.side(End::Comes), after.side(End::Leaves));
            // a corner drawn with its allowance is a full mitre: no limit
            join(&comes, &leaves, f64::INFINITY)
        })
        .collect();
    let mut chains: Vec<Growing> = piece
        .outline
        .edges()
        .iter()
        .map(|_| Growing::default())
        .collect();
    let starts = joins.iter().cycle().skip(n - 1);
    for (((run, next), join), start) in pairs().zip(&joins).zip(starts) {
        if join.shape == Shape::Through && (run.width < 0.0 || next.width < 0.0) {
            return Err(too_wide(run));
        }
        let from = start.after.unwrap_or(Spot { cubic: 0, t: 0.0 });
        let to = join.before.unwrap_or(Spot {
            cubic: run.moved.len().saturating_sub(1),
            t: 1.0,
        });
        if to <= from {
            return Err(too_wide(run));
        }
        let Some(chain) = chains.get_mut(run.edge) else {
            continue;
        };
        let kept = between(&run.moved, from, to);
        kept.into_iter().for_each(|c| chain.add(c));
        join.way.iter().for_each(|c| chain.add_placed(*c));
        if run.edge != next.edge || n == 1 {
            let Some(end) = chain.chain.last().map(|c| c.p3) else {
                return Err(too_wide(run));
            };
            if let Some(chain) = chains
                .get_mut(next.edge)
                .filter(|chain| chain.chain.is_empty())
            {
                chain.add_placed(point(end));
            }
        }
    }
    // the first edge was begun before its corner was known
    let end = chains
        .last()
        .and_then(|chain| chain.chain.last())
        .map(|c| c.p3);
    if let (Some(end), Some(first)) = (end, chains.first_mut()) {
        let rest = std::mem::take(&mut first.chain);
        first.add_placed(point(end));
        rest.into_iter().for_each(|c| first.add(c));
    }
    chains
        .iter()
        .zip(piece.outline.edges())
        .map(|(chain, edge)| {
            Line::from_cubics(&chain.chain)
                .filter(|line| line.length() > MEASURING.0)
                .ok_or_else(|| AllowanceError::TooWide {
                    edge: EdgeRef::new(&piece.name, &edge.name),
                    width: 0.0,
                })
        })
        .collect()
}

/// The fraction of a line's length at the place nearest to a point.
pub(crate) fn fraction_near(line: &Line, p: Point) -> f64 {
    let accuracy = MEASURING.0 * 1e-3;
    let mut best = (f64::INFINITY, 0.0);
    let mut done = 0.0;
    for c in line.cubics() {
        let near = c.nearest(p, accuracy);
        if near.distance_sq < best.0 {
            let part = if near.t <= 0.0 {
                0.0
            } else {
                kurbo::ParamCurve::subsegment(&c, 0.0..near.t).arclen(accuracy)
            };
            best = (near.distance_sq, done + part);
        }
        done += c.arclen(accuracy);
    }
    if done > 0.0 {
        (best.1 / done).clamp(0.0, 1.0)
    } else {
        0.0
    }
}

/// Carries every fraction of an edge square across to the moved edge.
fn carry_places(
    piece: &Piece,
    moved: &mut Piece,
    width: &impl Fn(&Edge) -> f64,
) -> Result<(), AllowanceError> {
    let outline = moved.outline.clone();
    let carried = |name: &str, fraction: f64| -> f64 {
        let (Some(from), Some(to)) = (piece.outline.edge(name), outline.edge(name)) else {
            return fraction;
        };
        let inwards = -right_of(from.line.direction(fraction)) * width(from);
        fraction_near(&to.line, from.line.at(fraction) + inwards)
    };
    for notch in &mut moved.notches {
        notch.fraction = carried(&notch.edge, notch.fraction);
    }
    for line in &mut moved.body_lines {
        for place in [&mut line.from, &mut line.to] {
            place.fraction = carried(&place.edge, place.fraction);
        }
    }
    for op in &mut moved.fullness {
        (op.from, op.to) = (carried(&op.edge, op.from), carried(&op.edge, op.to));
    }
    // ends of edges stay ends
    let inner = |name: &str, fraction: f64| {
        if fraction <= 0.0 || fraction >= 1.0 {
            fraction
        } else {
            carried(name, fraction)
        }
    };
    let edges = outline
        .edges()
        .iter()
        .map(|edge| {
            let finish = edge
                .finish
                .iter()
                .map(|s| FinishStretch {
                    from: inner(&edge.name, s.from),
                    to: inner(&edge.name, s.to),
                    finish: s.finish,
                })
                .collect();
            Edge {
                finish,
                ..edge.clone()
            }
        })
        .collect();
    moved.outline = Outline::new(edges).map_err(|what| AllowanceError::NoOutline {
        piece: piece.name.clone(),
        what,
    })?;
    Ok(())
}
