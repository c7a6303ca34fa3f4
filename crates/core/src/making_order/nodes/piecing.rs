//! Copies that are cut in parts because the cloth asks for it: their parts are sewn together before anything else.

use super::{Steps, copy_words, stage};
use crate::fitting::Fitting;
use crate::lay_plan::Piecing;
use crate::laying::seam_ends;
use crate::making_order::graph::Node;
use crate::making_order::step::Work;
use crate::piece::Role;

/// A piecing that is sewn.
#[derive(Debug)]
pub(in crate::making_order) struct Pieced {
    /// Its step.
    step: usize,
    /// The copy, where it is one of those that are sewn; what is mounted on a shell copy is not.
    cut: Option<usize>,
    /// The shell copy it is mounted on, if it is.
    under: Option<usize>,
    /// Edges its seams run into.
    edges: Vec<usize>,
}

impl Steps<'_> {
    /// One step for each copy that is cut in parts, in the order of the plan.
    pub(super) fn piecings(&mut self, fitting: &Fitting) {
        for piecing in fitting.lay_plan.iter().flat_map(|plan| &plan.piecings) {
            self.piecing(piecing);
        }
    }

    fn piecing(&mut self, piecing: &Piecing) {
        let of = &piecing.of;
        let garment = self.surface.garment;
        let Some(place) = garment.pieces.iter().position(|p| p.name == of.piece) else {
            return;
        };
        let Some(piece) = garment.pieces.get(place) else {
            return;
        };
        let alike = piece.copies.iter().filter(|copy| **copy == of.copy).count();
        if alike <= of.number || piecing.lines.is_empty() {
            return;
        }
        let cuts = &self.surface.cuts;
        let cut = cuts
            .iter()
            .position(|cut| cut.piece == place && cut.copy == of.copy);
        let under = cuts.iter().position(|cut| {
            cut.piece == place && cut.copy.side == of.copy.side && cut.copy.role == Role::Shell
        });
        let key = format!("piece {}{}", piece.name, copy_words(of.copy));
        let number = match of.number {
            0 => String::new(),
            more => format!(" {}", more + 1),
        };
        let cuts: Vec<usize> = cut.into_iter().collect();
        let node = Node {
            layer: self.layer(&cuts),
            cuts,
            length: piecing.lines.iter().map(|(a, b)| (*b - *a).hypot()).sum(),
            ..self.node(
                format!("{key}{number}"),
                Work::PieceTogether {
                    of: of.clone(),
                    kind: piecing.kind,
                    parts: piecing.lines.len() + 1,
                    allowance: piecing.allowance,
                },
                stage::PIECE,
            )
        };
        let ends = seam_ends(piece, piecing);
        let edges = ends.into_iter().map(|(edge, _)| edge).collect();
        let step = self.add(node);
        self.pieced.push(Pieced {
            step,
            cut,
            under: if cut.is_none() { under } else { None },
            edges,
        });
    }
}

/// A copy is whole before anything else touches it; what runs across a new seam holds it fast.
pub(in crate::making_order) fn tie(steps: &mut Steps<'_>) {
    let nodes = steps.graph.nodes.clone();
    for pieced in &steps.pieced {
        for (then, node) in nodes.iter().enumerate() {
            if matches!(node.work, Work::CutOut | Work::PieceTogether { .. }) {
                continue;
            }
            let mounts = node.work == Work::FlatLine;
            let mine = pieced.cut.is_some_and(|cut| node.cuts.contains(&cut));
            let mounted = mounts && pieced.under.is_some_and(|cut| node.cuts.contains(&cut));
            if !mine && !mounted {
                continue;
            }
            let crosses = node.segments.iter().any(|s| {
                let segment = steps.surface.segment(*s);
                segment.is_some_and(|s| Some(s.cut) == pieced.cut && pieced.edges.contains(&s.edge))
            });
            let rule = match node.work {
                Work::Seam { .. } | Work::Fell { .. } if crosses => "crossed seam first",
                Work::Hem | Work::Casing | Work::Face | Work::Slit if crosses => {
                    "join before finishing"
                }
                _ => "piece first",
            };
            steps.graph.tie(pieced.step, then, rule);
        }
    }
}
