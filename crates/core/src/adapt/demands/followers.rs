//! The guess of every piece: framed ones by their body lines, the others by their mates and rules.
#![allow(
    clippy::indexing_slicing,
    reason = "block, edge and point indices are looked up in the same chain"
)]

use super::Setup;
use crate::adapt::block::Block;
use crate::adapt::guess::Warp;
use crate::adapt::levels::{follow_warp, framed_warp, own_shaping};
use crate::adapt::targets::detail_ratio;
use crate::piece::{FollowRule, Piece, Placement};

/// Framed pieces first, then those that follow their mates.
pub(super) fn blocks(setup: &Setup<'_>) -> (Vec<Block>, Vec<Warp>) {
    let mut warps: Vec<Option<Warp>> = setup
        .pieces
        .iter()
        .map(|piece| match piece.placement {
            Placement::Framed(frame) => Some(framed_warp(
                setup.garment,
                setup.fitting,
                setup.tapes,
                piece,
                frame,
            )),
            Placement::Follows(_) => None,
        })
        .collect();
    // A ruffle may hang on a band that hangs on a skirt: as many rounds as there can be links.
    for _ in 0..setup.pieces.len() {
        let settled: Vec<Option<Warp>> = warps.clone();
        for (piece, warp) in setup.pieces.iter().zip(&mut warps) {
            if warp.is_none() {
                *warp = follower(setup, piece, &settled, false);
            }
        }
    }
    let warps: Vec<Warp> = setup
        .pieces
        .iter()
        .zip(warps)
        .map(|(piece, warp)| {
            warp.or_else(|| follower(setup, piece, &[], true))
                .unwrap_or_else(|| follow_warp(setup.garment, setup.fitting, piece, None, None))
        })
        .collect();
    let blocks = setup
        .pieces
        .iter()
        .zip(&warps)
        .map(|(piece, warp)| Block::new(piece, own_shaping(piece, setup.fitting), warp))
        .collect();
    (blocks, warps)
}

/// The guess of a frameless piece; `None` while the mates it follows have none themselves (unless `last`).
fn follower(
    setup: &Setup<'_>,
    piece: &Piece,
    settled: &[Option<Warp>],
    last: bool,
) -> Option<Warp> {
    let Placement::Follows(follow) = &piece.placement else {
        return None;
    };
    let size = piece.outline.bounds();
    let sizes = [
        (&follow.length, size.width(), true),
        (&follow.depth, size.height(), false),
    ];
    let mut ratios = [None, None];
    for (slot, (rule, source, lies)) in ratios.iter_mut().zip(sizes) {
        *slot = match rule {
            FollowRule::Mate => match mate_ratio(setup, piece, settled, lies) {
                None if !last => return None,
                found => found,
            },
            other => Some(wanted_size(setup, other, piece, source).map_or_else(
                || detail_ratio(setup.garment, setup.fitting, Some(&piece.name)),
                |size| size / source.max(1e-9),
            )),
        };
    }
    let [length, depth] = ratios;
    Some(follow_warp(
        setup.garment,
        setup.fitting,
        piece,
        length,
        depth,
    ))
}

/// Size of a frameless piece by its rule; `None` when its mates decide.
pub(super) fn wanted_size(
    setup: &Setup<'_>,
    rule: &FollowRule,
    piece: &Piece,
    source: f64,
) -> Option<f64> {
    let body = |m| (setup.garment.made_for.mm(m).0, setup.fitting.body.mm(m).0);
    match rule {
        FollowRule::Mate => None,
        FollowRule::Typed(size) => Some(size.0),
        FollowRule::Detail => {
            Some(source * detail_ratio(setup.garment, setup.fitting, Some(&piece.name)))
        }
        FollowRule::ShareOfGirth { measure, share }
        | FollowRule::RatioOfLength {
            measure,
            ratio: share,
        } => {
            let (from, to) = body(*measure);
            // What the source piece has beyond its share stays in proportion.
            Some(share * to + (source - share * from) * to / from.max(1e-9))
        }
    }
}

/// How much longer the mates of a piece's lying (or standing) edges become by their own guess.
fn mate_ratio(
    setup: &Setup<'_>,
    piece: &Piece,
    settled: &[Option<Warp>],
    lies: bool,
) -> Option<f64> {
    let (mut before, mut after) = (0.0, 0.0);
    for seam in &setup.garment.seams {
        for (own, mates) in [(&seam.a, &seam.b), (&seam.b, &seam.a)] {
            let fits = own.iter().any(|s| {
                s.piece == piece.name
                    && piece.outline.edge(&s.edge).is_some_and(|edge| {
                        let d = edge.line.end() - edge.line.start();
                        (d.x.abs() >= d.y.abs()) == lies
                    })
            });
            if !fits {
                continue;
            }
            for mate in mates {
                let Some(index) = setup.pieces.iter().position(|p| p.name == mate.piece) else {
                    continue;
                };
                let Some(warp) = settled.get(index).and_then(Option::as_ref) else {
                    continue;
                };
                let Some(line) = setup.pieces[index]
                    .outline
                    .edge(&mate.edge)
                    .and_then(|e| e.line.between(mate.from, mate.to))
                else {
                    continue;
                };
                before += line.length();
                after += line.mapped(|p| warp.at(p)).length();
            }
        }
    }
    (before > 0.0).then(|| after / before)
}
