//! What a piece must keep of its shape: folds on grain, darts, square corners, smooth joins, sizes of its own.
#![allow(
    clippy::indexing_slicing,
    reason = "block, edge and point indices are looked up in the same chain"
)]

use kurbo::Vec2;

use super::followers::wanted_size;
use super::{Asker, Demand, Problem, Setup, rank};
use crate::adapt::rules::{LegProduct, Term};
use crate::geometry::curve::Line;
use crate::piece::{Piece, Placement};
use crate::tolerance::MEASURING;

/// Joins that turn by less than this (sine) are smooth.
const SMOOTH_BELOW: f64 = 2e-3;

/// A dart leaning by less than this share of its leg stands upright.
const UPRIGHT_DART: f64 = 1e-3;

/// A line leaning by less than this share lies upright or level.
const ON_GRAIN: f64 = 1e-6;

impl Problem {
    pub(super) fn hidden(&self, name: String, rank: u8, piece: &Piece) -> Option<Demand> {
        Some(Demand {
            from: Asker::Shape,
            name,
            rank,
            wanted: 0.0,
            piece: Some(piece.name.clone()),
        })
    }

    /// A fold stays straight (its points are held so) and on grain.
    pub(super) fn fold_rules(&mut self, index: usize, piece: &Piece) {
        for (at, edge) in piece
            .outline
            .edges()
            .iter()
            .enumerate()
            .filter(|(_, e)| e.is_fold())
        {
            let d = edge.line.end() - edge.line.start();
            let normal = Vec2::new(-d.y, d.x) / d.hypot().max(1e-9);
            let (a, b) = self.ends(index, at);
            let demand = self.hidden(format!("{}: fold on grain", edge.name), rank::FOLD, piece);
            self.add(
                demand,
                rank::FOLD,
                vec![
                    (1.0, Term::Point(index, b, normal)),
                    (-1.0, Term::Point(index, a, normal)),
                ],
                0.0,
            );
        }
    }

    pub(super) fn dart_rules(&mut self, index: usize, piece: &Piece) {
        for dart in &piece.darts {
            let (Some(a), Some(b)) = (
                piece.outline.index_of(&dart.leg_in),
                piece.outline.index_of(&dart.leg_out),
            ) else {
                continue;
            };
            let mut terms = self.edge_arcs(index, a, 1.0);
            terms.extend(self.edge_arcs(index, b, -1.0));
            let demand = self.hidden(format!("{}: legs equal", dart.name), rank::DART, piece);
            self.add(demand, rank::DART, terms, 0.0);
        }
    }

    /// A dart that stands upright over the middle of its mouth goes on doing so.
    pub(super) fn upright_dart_rules(&mut self, index: usize, piece: &Piece) {
        for dart in &piece.darts {
            let (Some(leg_in), Some(leg_out)) = (
                piece.outline.index_of(&dart.leg_in),
                piece.outline.index_of(&dart.leg_out),
            ) else {
                continue;
            };
            let ((first, apex), (_, last)) = (self.ends(index, leg_in), self.ends(index, leg_out));
            let source = &self.blocks[index].source;
            let lean = source[apex].x - source[first].midpoint(source[last]).x;
            if lean.abs() > UPRIGHT_DART * (source[apex] - source[first]).hypot() {
                continue;
            }
            let x = |factor: f64| Vec2::new(factor, 0.0);
            let terms = [(apex, 1.0), (first, -0.5), (last, -0.5)];
            let terms = terms.map(|(point, factor)| (1.0, Term::Point(index, point, x(factor))));
            self.add(None, rank::SQUARE, terms.to_vec(), 0.0);
        }
    }

    /// Corners that are square on the source stay square.
    pub(super) fn corner_rules(&mut self, index: usize, piece: &Piece) {
        let edges = piece.outline.edges();
        for (at, edge) in edges.iter().enumerate() {
            let before = (at + edges.len() - 1) % edges.len();
            let (Some(p), Some(q)) = (self.last_leg(index, before), self.first_leg(index, at))
            else {
                continue;
            };
            let (u, v) = (edges[before].line.direction(1.0), edge.line.direction(0.0));
            if u.dot(v) > 0.0 && u.cross(v).abs() < SMOOTH_BELOW {
                // Two edges that run on smoothly (the top of a sleeve cap, the middle of a hem) do so afterwards.
                let size = self.leg_size(index, p, q);
                self.add(
                    None,
                    rank::SMOOTH,
                    vec![(1.0, Term::Legs(index, p, q, LegProduct::Cross(size)))],
                    u.cross(v) * size,
                );
                continue;
            }
            if u.dot(v).abs() > 1e-4 || u == Vec2::ZERO || v == Vec2::ZERO {
                continue;
            }
            let at_fold = edge.is_fold() || edges[before].is_fold();
            let rank = if at_fold { rank::FOLD } else { rank::SQUARE };
            let size = self.leg_size(index, p, q);
            let demand = self.hidden(
                format!("{} and {}: square corner", edges[before].name, edge.name),
                rank,
                piece,
            );
            self.add(
                demand,
                rank,
                vec![(1.0, Term::Legs(index, p, q, LegProduct::Dot(size)))],
                0.0,
            );
        }
    }

    /// Joins inside an edge that are smooth on the source stay smooth.
    pub(super) fn smooth_rules(&mut self, index: usize, piece: &Piece) {
        let straight: Vec<bool> = piece
            .outline
            .edges()
            .iter()
            .map(|e| e.line.is_straight())
            .collect();
        let ranges = self.blocks[index].edges.clone();
        for (range, _) in ranges.iter().zip(&straight).filter(|(_, s)| !**s) {
            for cubic in range.start + 1..range.end {
                let [_, _, a, b] = self.blocks[index].cubics[cubic - 1];
                let [_, c, _, _] = self.blocks[index].cubics[cubic];
                let source = &self.blocks[index].source;
                let (u, v) = (source[b] - source[a], source[c] - source[b]);
                let (lu, lv) = (u.hypot(), v.hypot());
                if lu < 1e-6
                    || lv < 1e-6
                    || u.dot(v) <= 0.0
                    || (u.cross(v) / (lu * lv)).abs() > SMOOTH_BELOW
                {
                    continue;
                }
                let size = self.leg_size(index, (a, b), (b, c));
                let terms = vec![(
                    1.0,
                    Term::Legs(index, (a, b), (b, c), LegProduct::Cross(size)),
                )];
                let target = u.cross(v) / (lu * lv) * size;
                self.add(None, rank::SMOOTH, terms, target);
            }
        }
    }

    /// Straight stretches that lie exactly upright or level on the source (a centre front, a hem) stay so.
    pub(super) fn grain_rules(&mut self, index: usize, piece: &Piece) {
        for (at, edge) in piece
            .outline
            .edges()
            .iter()
            .enumerate()
            .filter(|(_, e)| !e.is_fold())
        {
            for (k, cubic) in edge.line.cubics().enumerate() {
                let [a, _, _, b] =
                    self.blocks[index].cubics[self.blocks[index].edges[at].start + k];
                let d = cubic.p3 - cubic.p0;
                let straight = Line::from_cubics(&[cubic]).is_some_and(|line| line.is_straight());
                let across = if d.x.abs() < ON_GRAIN * d.y.abs() {
                    Vec2::new(1.0, 0.0)
                } else if d.y.abs() < ON_GRAIN * d.x.abs() {
                    Vec2::new(0.0, 1.0)
                } else {
                    continue;
                };
                if straight {
                    self.add(
                        None,
                        rank::SQUARE,
                        vec![
                            (1.0, Term::Point(index, b, across)),
                            (-1.0, Term::Point(index, a, across)),
                        ],
                        d.dot(across),
                    );
                }
            }
        }
    }

    /// A frameless piece has the size its rule says.
    pub(super) fn size_rules(&mut self, setup: &Setup<'_>, index: usize, piece: &Piece) {
        let Placement::Follows(follow) = &piece.placement else {
            return;
        };
        let bounds = piece.outline.bounds();
        for (rule, source, axis, what) in [
            (
                &follow.length,
                bounds.width(),
                Vec2::new(1.0, 0.0),
                "length",
            ),
            (&follow.depth, bounds.height(), Vec2::new(0.0, 1.0), "depth"),
        ] {
            let Some(size) = wanted_size(setup, rule, piece, source) else {
                continue;
            };
            let points = &self.blocks[index].source;
            let on_line = |k: &usize| self.blocks[index].cubics.iter().any(|c| c[0] == *k);
            let reach = |k: &usize| points[*k].to_vec2().dot(axis);
            let ids: Vec<usize> = (0..points.len()).filter(on_line).collect();
            let (Some(least), Some(most)) = (
                ids.iter()
                    .copied()
                    .min_by(|a, b| reach(a).total_cmp(&reach(b))),
                ids.iter()
                    .copied()
                    .max_by(|a, b| reach(a).total_cmp(&reach(b))),
            ) else {
                continue;
            };
            // Between extreme corners; a bulge beyond them scales along.
            let target = size * (reach(&most) - reach(&least)) / source.max(1e-9);
            let demand = Some(Demand {
                from: Asker::Shape,
                name: what.to_owned(),
                rank: rank::SQUARE,
                wanted: target,
                piece: Some(piece.name.clone()),
            });
            self.add(
                demand,
                rank::SQUARE,
                vec![
                    (1.0, Term::Point(index, most, axis)),
                    (-1.0, Term::Point(index, least, axis)),
                ],
                target,
            );
        }
    }

    /// A length to divide a product of two legs by: the geometric mean of their guesses.
    pub(super) fn leg_size(&self, index: usize, p: (usize, usize), q: (usize, usize)) -> f64 {
        let block = &self.blocks[index];
        let size = |(a, b): (usize, usize)| (block.guess[b] - block.guess[a]).hypot();
        (size(p) * size(q)).sqrt().max(block.mean_leg() * 0.01)
    }

    /// First leg of an edge that has a length.
    pub(super) fn first_leg(&self, index: usize, edge: usize) -> Option<(usize, usize)> {
        let block = &self.blocks[index];
        let c = block.cubics[block.edges[edge].start];
        c[1..]
            .iter()
            .map(|p| (c[0], *p))
            .find(|(a, b)| (block.source[*b] - block.source[*a]).hypot() > MEASURING.0)
    }

    /// Last leg of an edge that has a length.
    pub(super) fn last_leg(&self, index: usize, edge: usize) -> Option<(usize, usize)> {
        let block = &self.blocks[index];
        let c = block.cubics[block.edges[edge].end - 1];
        c[..3]
            .iter()
            .rev()
            .map(|p| (*p, c[3]))
            .find(|(a, b)| (block.source[*b] - block.source[*a]).hypot() > MEASURING.0)
    }

    pub(super) fn ends(&self, index: usize, edge: usize) -> (usize, usize) {
        let block = &self.blocks[index];
        let range = &block.edges[edge];
        (block.cubics[range.start][0], block.cubics[range.end - 1][3])
    }
}
