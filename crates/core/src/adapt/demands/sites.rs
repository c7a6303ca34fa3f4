//! Places on outlines, as the rules take them.
#![allow(
    clippy::indexing_slicing,
    reason = "block, edge and point indices are looked up in the same chain"
)]

use kurbo::Point;

use super::Problem;
use crate::adapt::rules::{LevelLock, Site, Term};
use crate::edge::OutlinePoint;
use crate::piece::Piece;
use crate::tolerance::JOINING;

impl Problem {
    pub(super) fn source_point(&self, site: &Site) -> Point {
        let block = &self.blocks[site.block];
        site.point(block, &block.source)
    }

    /// A place on the outline; one that lies on a body line inside an edge slides along that edge with the level.
    pub(in crate::adapt) fn site(
        &self,
        index: usize,
        piece: &Piece,
        at: &OutlinePoint,
    ) -> Option<Site> {
        let edge = piece.outline.index_of(&at.edge)?;
        let line = &piece.outline.edges()[edge].line;
        let (local, t) = line.locate(at.fraction);
        let inside = at.fraction > 1e-9 && at.fraction < 1.0 - 1e-9;
        let level = if inside {
            self.level_lock(index, piece, at)
        } else {
            None
        };
        Some(Site {
            block: index,
            edge,
            cubic: self.blocks[index].edges[edge].start + local,
            t,
            level,
        })
    }

    /// The level a place belongs to, measured from the highest corner of the piece that lies on another body line, or
    /// from its topmost corner.
    pub(super) fn level_lock(
        &self,
        index: usize,
        piece: &Piece,
        at: &OutlinePoint,
    ) -> Option<LevelLock> {
        let own = piece
            .body_lines
            .iter()
            .find(|line| line.from == *at || line.to == *at)?;
        let block = &self.blocks[index];
        let corners: Vec<usize> = block
            .edges
            .iter()
            .map(|range| block.cubics[range.start][0])
            .collect();
        let here = piece.point_at(at)?;
        let on_line = piece
            .body_lines
            .iter()
            .filter(|line| line.level != own.level)
            .flat_map(|line| [piece.point_at(&line.from), piece.point_at(&line.to)])
            .flatten()
            .filter_map(|p| {
                corners
                    .iter()
                    .copied()
                    .find(|c| (block.source[*c] - p).hypot() < JOINING.0)
            });
        let from = on_line
            .max_by(|a, b| {
                block.source[*a]
                    .y
                    .total_cmp(&block.source[*b].y)
                    .then(b.cmp(a))
            })
            .or_else(|| {
                corners
                    .iter()
                    .copied()
                    .max_by(|a, b| block.source[*a].y.total_cmp(&block.source[*b].y))
            })?;
        let warp = &self.warps[index];
        Some(LevelLock {
            from,
            above: warp.at(here).y - warp.at(block.source[from]).y,
        })
    }

    /// Arcs of an edge between two fractions of its length.
    pub(super) fn arcs(
        &self,
        index: usize,
        edge: usize,
        piece: &Piece,
        from: f64,
        to: f64,
        factor: f64,
    ) -> Vec<(f64, Term)> {
        let line = &piece.outline.edges()[edge].line;
        let first = self.blocks[index].edges[edge].start;
        let ((i, t), (j, u)) = (line.locate(from), line.locate(to));
        (i..=j)
            .map(|k| {
                (
                    first + k,
                    if k == i { t } else { 0.0 },
                    if k == j { u } else { 1.0 },
                )
            })
            .filter(|(_, t, u)| u - t > 1e-12)
            .map(|(k, t, u)| (factor, Term::Arc(index, k, t, u)))
            .collect()
    }

    pub(super) fn edge_arcs(&self, index: usize, edge: usize, factor: f64) -> Vec<(f64, Term)> {
        self.blocks[index].edges[edge]
            .clone()
            .map(|k| (factor, Term::Arc(index, k, 0.0, 1.0)))
            .collect()
    }
}
