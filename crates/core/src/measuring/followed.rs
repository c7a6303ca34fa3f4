//! A measurement follows when pieces are cut, joined and renamed.

use super::{Measurement, PiecePoint};
use crate::alteration::Carried;
use crate::edge::EdgeRef;

impl Measurement {
    /// The same measurement after a change. What it names that is gone it goes on naming: reading it says so.
    #[must_use]
    pub fn followed(&self, carried: &Carried) -> Self {
        match self {
            Self::Edge(edge) => stretched(carried, edge, 0.0, 1.0).unwrap_or_else(|| self.clone()),
            Self::Stretch { edge, from, to } => {
                stretched(carried, edge, *from, *to).unwrap_or_else(|| self.clone())
            }
            Self::Between { piece, from, to } => pair(carried, piece, from, to).map_or_else(
                || self.clone(),
                |(piece, from, to)| Self::Between { piece, from, to },
            ),
            Self::Across { piece, from, to } => pair(carried, piece, from, to).map_or_else(
                || self.clone(),
                |(piece, from, to)| Self::Across { piece, from, to },
            ),
            Self::Sum(all) => Self::Sum(all.iter().map(|one| one.followed(carried)).collect()),
            Self::Girth { .. } => self.clone(),
        }
    }
}

/// A stretch, bit by bit where its edge was cut.
fn stretched(carried: &Carried, edge: &EdgeRef, from: f64, to: f64) -> Option<Measurement> {
    let one = |part: crate::alteration::EdgePart| {
        if part.from == 0.0 && part.to == 1.0 {
            Measurement::Edge(part.edge)
        } else {
            Measurement::Stretch {
                edge: part.edge,
                from: part.from,
                to: part.to,
            }
        }
    };
    let mut parts: Vec<Measurement> = carried.range(edge, from, to).into_iter().map(one).collect();
    match parts.len() {
        0 => None,
        1 => parts.pop(),
        _ => Some(Measurement::Sum(parts)),
    }
}

/// Two points that are still on one piece.
fn pair(
    carried: &Carried,
    piece: &str,
    from: &PiecePoint,
    to: &PiecePoint,
) -> Option<(String, PiecePoint, PiecePoint)> {
    let (first, second) = (point(carried, piece, from)?, point(carried, piece, to)?);
    (first.0 == second.0).then_some((first.0, first.1, second.1))
}

fn point(carried: &Carried, piece: &str, at: &PiecePoint) -> Option<(String, PiecePoint)> {
    match at {
        PiecePoint::On(at) => {
            let (piece, at) = carried.point(piece, at)?;
            Some((piece, PiecePoint::On(at)))
        }
        PiecePoint::Inside { from, to, share } => {
            let (first, from) = carried.point(piece, from)?;
            let (second, to) = carried.point(piece, to)?;
            let inside = PiecePoint::Inside {
                from,
                to,
                share: *share,
            };
            (first == second).then_some((first, inside))
        }
        PiecePoint::Dot(name) => {
            let piece = carried.piece(piece).into_iter().next()?;
            Some((piece, PiecePoint::Dot(name.clone())))
        }
    }
}
