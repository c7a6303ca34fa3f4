//! Which segments lie where: on an edge, on a copy, along a seam.

use super::{NEAR, On, Segment, Surface};
use crate::edge::EdgeRef;
use crate::piece::Side;
use crate::seams::{Seam, Stretch};

impl Surface<'_> {
    /// The segment of this number.
    pub(in crate::making_order) fn segment(&self, number: usize) -> Option<&Segment> {
        self.segments.get(number)
    }

    /// The edge a segment lies on.
    pub(in crate::making_order) fn edge_ref(&self, number: usize) -> Option<EdgeRef> {
        let segment = self.segments.get(number)?;
        let piece = self.garment.pieces.get(self.cuts.get(segment.cut)?.piece)?;
        let edge = piece.outline.edges().get(segment.edge)?;
        Some(EdgeRef::new(&piece.name, &edge.name))
    }

    /// The cut copies of a piece.
    pub(in crate::making_order) fn cuts_of(
        &self,
        piece: usize,
    ) -> impl Iterator<Item = usize> + '_ {
        let cuts = self.cuts.iter().enumerate();
        cuts.filter(move |(_, cut)| cut.piece == piece)
            .map(|(i, _)| i)
    }

    /// Every segment of an edge of a copy, both halves of a piece cut on a fold.
    pub(in crate::making_order) fn along(&self, cut: usize, edge: usize) -> Vec<usize> {
        [false, true]
            .iter()
            .filter_map(|mirrored| self.on_edge.get(&(cut, *mirrored, edge)))
            .flatten()
            .copied()
            .collect()
    }

    /// Every segment of an edge of one half of a copy.
    pub(in crate::making_order) fn along_half(
        &self,
        cut: usize,
        mirrored: bool,
        edge: usize,
    ) -> &[usize] {
        self.on_edge
            .get(&(cut, mirrored, edge))
            .map_or(&[], Vec::as_slice)
    }

    /// The pairs of segments that a seam sews together; with `twin` those of the same seam on the other side of the body.
    /// `None` where it has no such copy.
    pub(in crate::making_order) fn pairs(
        &self,
        seam: &Seam,
        twin: bool,
    ) -> Option<Vec<(usize, usize)>> {
        let a = self.side(&seam.a, twin)?;
        let b = self.side(&seam.b, twin)?;
        Some(a.into_iter().zip(b).collect())
    }

    /// The segments of one side of a seam in sewing order.
    pub(super) fn side(&self, side: &[Stretch], twin: bool) -> Option<Vec<usize>> {
        let mut found = Vec::new();
        for stretch in side {
            let on = self.on(stretch, twin)?;
            let (low, high) = (
                stretch.from.min(stretch.to) - NEAR,
                stretch.from.max(stretch.to) + NEAR,
            );
            let list = self.on_edge.get(&(on.cut, on.mirrored, on.edge))?;
            let mut inside: Vec<usize> = list
                .iter()
                .copied()
                .filter(|i| {
                    self.segments
                        .get(*i)
                        .is_some_and(|s| low <= s.from && s.to <= high)
                })
                .collect();
            if stretch.to < stretch.from {
                inside.reverse();
            }
            found.extend(inside);
        }
        Some(found)
    }

    /// The copy and half that a stretch lies on, or its twin on the other side of the body.
    pub(super) fn on(&self, stretch: &Stretch, twin: bool) -> Option<On> {
        let (piece, edge) = self.edge_of(stretch)?;
        let folded = self.garment.pieces.get(piece)?.fold_edge().is_some();
        let find = |side: Side| {
            self.cuts.iter().position(|cut| {
                cut.piece == piece && cut.copy.role == stretch.copy.role && cut.copy.side == side
            })
        };
        let (side, mirrored) = match (twin, stretch.copy.side) {
            (false, side) => (side, false),
            (true, Side::Right) => (Side::Left, false),
            (true, Side::Left) => (Side::Right, false),
            (true, Side::Whole) => (Side::Whole, folded),
        };
        Some(On {
            cut: find(side)?,
            mirrored,
            edge,
        })
    }
}
