#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod closed_forms;
mod laws;
mod opened;
mod words;

use super::*;
use crate::alteration::samples::nth_piece;
use crate::check::samples::{finished_with, four, garment, strip};
use crate::edge::Finish;
use crate::geometry::outline::Outline;
use crate::piece::Piece;

fn after(piece: Piece, change: ShapeChange) -> Piece {
    let name = piece.name.clone();
    let altered = change
        .applied(&garment(vec![piece], Vec::new()), &name)
        .unwrap();
    assert_eq!(altered.notes, Vec::new());
    Piece::clone(&altered.garment.pieces[0])
}

fn refused(piece: Piece, change: ShapeChange) -> String {
    let name = piece.name.clone();
    change
        .applied(&garment(vec![piece], Vec::new()), &name)
        .unwrap_err()
        .to_string()
}

fn length(piece: &Piece, edge: &str) -> f64 {
    piece.outline.edge(edge).unwrap().line.length()
}

fn place(edge: &str, fraction: f64) -> OutlinePoint {
    OutlinePoint::new(edge, fraction)
}

/// The largest distance between control points of two outlines with the same edges.
fn apart(a: &Outline, b: &Outline) -> f64 {
    assert_eq!(a.edges().len(), b.edges().len());
    let mut most: f64 = 0.0;
    for (a, b) in a.edges().iter().zip(b.edges()) {
        assert_eq!((&a.name, a.finish.len()), (&b.name, b.finish.len()));
        for (s, t) in a.finish.iter().zip(&b.finish) {
            assert_eq!(s.finish, t.finish);
            assert!((s.from - t.from).abs() + (s.to - t.to).abs() < 1e-9);
        }
        assert_eq!(a.line.points().len(), b.line.points().len(), "{}", a.name);
        for (p, q) in a.line.points().iter().zip(b.line.points()) {
            most = most.max((*p - *q).hypot());
        }
    }
    most
}
