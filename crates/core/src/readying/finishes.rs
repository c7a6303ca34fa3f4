//! What is left once seams and openings are there: slits are faced, lower edges hemmed.

use super::kinds::Role;
use super::made::{Made, piece_now};
use super::what::What;
use crate::edge::{Edge, Finish, FinishStretch};
use crate::geometry::outline::Outline;

impl Made<'_> {
    /// Faces what of a slit is not sewn and has no finish yet.
    pub(super) fn face(&mut self, piece: usize, edge: usize) {
        let Some(naming) = self.taken(piece).and_then(|_| self.naming(piece)).cloned() else {
            return;
        };
        let name = naming.edge(edge);
        let mut sewn: Vec<(f64, f64)> = self
            .garment
            .seams
            .iter()
            .flat_map(|seam| seam.a.iter().chain(&seam.b))
            .filter(|s| s.piece == naming.piece && s.edge == name)
            .map(|s| (s.from.min(s.to), s.from.max(s.to)))
            .collect();
        sewn.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut finish = Vec::new();
        let mut at = 0.0;
        for (from, to) in sewn.into_iter().chain([(1.0, 1.0)]) {
            if from > at + 1e-6 {
                finish.push(FinishStretch {
                    from: at,
                    to: from,
                    finish: Finish::Facing,
                });
            }
            if to > from.max(at) + 1e-6 {
                finish.push(FinishStretch {
                    from: from.max(at),
                    to,
                    finish: Finish::Seam,
                });
            }
            at = f64::max(at, to);
        }
        self.finish(piece, &name, finish);
    }

    /// Gives an edge without a finish one.
    fn finish(&mut self, piece: usize, name: &str, finish: Vec<FinishStretch>) {
        let Some(piece) = piece_now(&mut self.garment, piece) else {
            return;
        };
        let edges: Vec<Edge> = piece
            .outline
            .edges()
            .iter()
            .cloned()
            .map(|edge| {
                if edge.name == name && edge.finish.is_empty() {
                    Edge {
                        finish: finish.clone(),
                        ..edge
                    }
                } else {
                    edge
                }
            })
            .collect();
        if let Ok(outline) = Outline::new(edges) {
            piece.outline = outline;
        }
    }

    /// Lower edges that are sewn to nothing are hemmed.
    pub(super) fn hems(&mut self) {
        let mut wanted: Vec<(usize, String, u8)> = Vec::new();
        for (i, _) in self.source.pieces.iter().enumerate() {
            let Some(read) = self.taken(i) else { continue };
            let turns = if matches!(
                read.what,
                What::SkirtFront | What::SkirtSide | What::SkirtBack
            ) {
                2
            } else {
                1
            };
            let hem = match read.what {
                What::FrontYoke | What::BackYoke => continue,
                _ => [Role::Hem, Role::Lower],
            };
            for bit in hem.iter().flat_map(|role| read.bits(*role)) {
                let Some((naming, edge, ..)) = self.bit(i, *bit) else {
                    continue;
                };
                let is_sewn = self
                    .garment
                    .seams
                    .iter()
                    .flat_map(|seam| seam.a.iter().chain(&seam.b))
                    .any(|s| s.piece == naming.piece && s.edge == edge);
                if !is_sewn {
                    wanted.push((i, edge, turns));
                }
            }
        }
        for (piece, edge, turns) in wanted {
            let hem = Finish::Hem { width: None, turns };
            self.finish(
                piece,
                &edge,
                vec![FinishStretch {
                    from: 0.0,
                    to: 1.0,
                    finish: hem,
                }],
            );
        }
    }
}
