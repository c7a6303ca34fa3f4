#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod pleats;
mod spreading;

use super::*;
use crate::check::samples;
use crate::edge::Finish;
use crate::geometry::simple::crosses_itself;
use crate::notch::{Notch, NotchKind};
use kurbo::{ParamCurve, Point};
use proptest::prelude::*;

fn piece(edges: Vec<(&str, Line)>, fullness: Vec<FullnessOp>) -> Piece {
    let outline = Outline::new(
        edges
            .into_iter()
            .map(|(name, line)| Edge::seam(name, line))
            .collect(),
    )
    .unwrap();
    Piece {
        outline,
        fullness,
        ..samples::strip("Skirt", 1.0, 1.0)
    }
}

fn strip(width: f64, depth: f64, fullness: Vec<FullnessOp>) -> Piece {
    Piece {
        fullness,
        ..samples::strip("Skirt", width, depth)
    }
}

fn op(edge: &str, fullness: Fullness, even_to: Option<&str>) -> FullnessOp {
    FullnessOp {
        edge: edge.to_owned(),
        from: 0.0,
        to: 1.0,
        fullness,
        even_to: even_to.map(str::to_owned),
        layout: Default::default(),
    }
}

fn fill_one(piece: Piece) -> Warned<(Arc<Piece>, Vec<FillLine>)> {
    let adapted = samples::adapted(
        samples::garment(vec![piece], Vec::new()),
        samples::doll("45 cm play doll"),
    );
    let Warned { outcome, findings } = fill(&Arc::new(adapted));
    Warned {
        outcome: (outcome.pieces[0].clone(), outcome.lines[0].clone()),
        findings,
    }
}

fn filled_piece(piece: Piece) -> Arc<Piece> {
    let Warned { outcome, findings } = fill_one(piece);
    assert_eq!(findings, Vec::new());
    outcome.0
}

fn length(piece: &Piece, edge: &str) -> f64 {
    piece.outline.edge(edge).unwrap().line.length()
}

const DOUBLE: Fullness = Fullness::Gathers { ratio: 2.0 };
