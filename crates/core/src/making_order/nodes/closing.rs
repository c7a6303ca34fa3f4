//! What frames the sewing: raw edges overcast at the start, fastenings, fitting and pressing at the end.

use super::{Steps, stage};
use crate::fitting::Fitting;
use crate::making_order::LiningMethod;
use crate::making_order::graph::Node;
use crate::making_order::step::Work;
use crate::piece::MarkKind;
use crate::seams::SeamKind;

impl Steps<'_> {
    /// Edges that no lining will cover and no seam encloses are overcast.
    pub(super) fn neaten(&mut self) {
        let garment = self.surface.garment;
        if matches!(
            self.lining,
            Some(LiningMethod::Bagged | LiningMethod::Felled | LiningMethod::FlatLined)
        ) {
            return;
        }
        let plain = |node: &Node| match &node.work {
            Work::Seam { seam } => garment
                .seams
                .iter()
                .any(|s| s.name == *seam && s.kind == SeamKind::Plain),
            _ => false,
        };
        // Bands enclose their own edges and what is sewn to them.
        let enclosed = |cut: usize| self.surface.cuts.get(cut).is_some_and(|c| c.detail);
        let nodes = self.graph.nodes.iter().filter(|n| plain(n));
        let mut segments: Vec<usize> = nodes
            .filter(|n| !n.cuts.iter().any(|c| enclosed(*c)))
            .flat_map(|n| n.segments.iter().copied())
            .collect();
        segments.sort_unstable();
        segments.dedup();
        if segments.is_empty() {
            return;
        }
        let node = Node {
            cuts: self.cuts_under(&segments),
            length: self.length(segments.iter().copied()),
            segments,
            ..self.node("neaten raw edges".to_owned(), Work::Neaten, stage::NEATEN)
        };
        self.add(node);
    }

    /// Fastenings of every opening, and what buttonholes stand on a piece.
    pub(super) fn closures(&mut self, fitting: &Fitting) {
        let garment = self.surface.garment;
        let mut found: Vec<(String, Vec<usize>)> = Vec::new();
        for opening in &garment.openings {
            let chosen = fitting.closures.contains_key(&opening.name);
            if opening.slit.is_empty() && !chosen {
                continue;
            }
            let edges = opening.slit.iter().chain(&opening.hole);
            let segments: Vec<usize> = edges
                .filter_map(|at| {
                    let piece = garment.pieces.iter().position(|p| p.name == at.piece)?;
                    let edge = garment.pieces.get(piece)?.outline.index_of(&at.edge)?;
                    let cuts = self.surface.cuts_of(piece);
                    Some(cuts.map(move |cut| (cut, edge)).collect::<Vec<_>>())
                })
                .flatten()
                .flat_map(|(cut, edge)| self.surface.along(cut, edge))
                .collect();
            found.push((opening.name.clone(), segments));
        }
        for (number, piece) in garment.pieces.iter().enumerate() {
            let buttoned = |kind: &MarkKind| matches!(kind, MarkKind::Buttonhole(..));
            if !piece.marks.iter().any(|m| buttoned(&m.kind))
                || found.iter().any(|(name, _)| *name == piece.name)
            {
                continue;
            }
            let cuts: Vec<usize> = self.surface.cuts_of(number).collect();
            let segments = cuts
                .iter()
                .flat_map(|cut| {
                    (0..piece.outline.edges().len()).flat_map(|e| self.surface.along(*cut, e))
                })
                .collect();
            found.push((piece.name.clone(), segments));
        }
        for (opening, segments) in found {
            let node = Node {
                cuts: self.cuts_under(&segments),
                segments,
                hand: Some("fastenings are sewn on by hand"),
                ..self.node(
                    format!("close {opening}"),
                    Work::Closure { opening },
                    stage::CLOSURE,
                )
            };
            self.add(node);
        }
    }

    /// When to try it on: as soon as its body is closed, and at the end.
    pub(super) fn trying_on(&mut self) {
        let on_body = self.surface.cuts.iter().any(|cut| !cut.detail);
        if on_body
            && self
                .graph
                .nodes
                .iter()
                .any(|n| matches!(n.work, Work::Seam { .. }))
        {
            let node = Node {
                hand: Some("it is pinned on the body"),
                ..self.node("try on".to_owned(), Work::TryOn, stage::TRY)
            };
            self.add(node);
        }
        let press = Node {
            hand: Some("pressed on a cloth, off the doll"),
            ..self.node("press it all".to_owned(), Work::Press, stage::PRESS)
        };
        self.add(press);
    }
}
