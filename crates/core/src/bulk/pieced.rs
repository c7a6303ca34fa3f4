//! Seams that were added because the cloth asked for it: a seam that crosses one sews through its allowance.

use super::ground::{Ground, Sheet, What};
use super::profile::{Along, Bump, Met};
use crate::laying::seam_ends;
use crate::seams::Stretch;

/// What a stretch meets of the seams between the parts of its copies. They are sewn first and pressed open: beside each lies
/// one allowance more. Copies of both sides of the body count alike; the thickest is told.
pub(super) fn bumps(ground: &Ground<'_>, s: &Stretch, at: &Along, into: &mut Vec<Bump>) {
    let Some((number, piece)) = ground
        .number(&s.piece)
        .and_then(|n| Some((n, ground.piece(n)?)))
    else {
        return;
    };
    let Some(edge) = piece.outline.index_of(&s.edge) else {
        return;
    };
    let plan = ground.adapted.fitting.lay_plan.iter();
    let mut seen: Vec<f64> = Vec::new();
    for piecing in plan.flat_map(|plan| &plan.piecings) {
        if piecing.of.piece != s.piece || piecing.of.copy.role != s.copy.role {
            continue;
        }
        for (own, fraction) in seam_ends(piece, piecing) {
            let along = (fraction - s.from) / (s.to - s.from);
            let is_here = own == edge && (0.0..=1.0).contains(&along);
            if !is_here || seen.iter().any(|other| (other - fraction).abs() < 1e-3) {
                continue;
            }
            seen.push(fraction);
            let middle = along * at.long;
            let ends = [middle - piecing.allowance.0, middle + piecing.allowance.0];
            let [from, to] = ends.map(|mm| at.share(mm));
            if to - from > 1e-9 {
                into.push(Bump {
                    from,
                    to,
                    pile: vec![Sheet {
                        piece: number,
                        role: s.copy.role,
                        what: What::Crossed,
                        thickness: ground.thickness(s.copy.role),
                    }],
                    what: Met::Pieced(number),
                });
            }
        }
    }
}
