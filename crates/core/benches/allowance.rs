//! How long the allowances of one piece of 200 curve segments take; the aim is under 5 ms.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a bench"
)]

use std::hint::black_box;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use kurbo::{CubicBez, Point};
use petitoile_core::Mm;
use petitoile_core::allowance::{AllowancePlan, cut_line, without_allowance};
use petitoile_core::edge::{Edge, EdgeRef, Finish};
use petitoile_core::finish::finish_piece;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::notch::{Notch, NotchKind};
use petitoile_core::piece::{Follow, FollowRule, Piece, Placement};

/// A wavy piece, about 300 mm across: 8 edges of 25 cubics, seams and hems in turn, 8 notches.
fn piece(straight: bool) -> Piece {
    let n = 200;
    let at = |i: usize| {
        let angle = i as f64 / n as f64 * std::f64::consts::TAU;
        let r = 150.0 + 12.0 * (9.0 * angle).sin() + 6.0 * (23.0 * angle).cos();
        Point::new(r * angle.cos(), r * angle.sin())
    };
    let cubic = |i: usize| {
        let (before, a, b, after) = (at(i + n - 1), at(i), at(i + 1), at(i + 2));
        if straight {
            CubicBez::new(a, a.lerp(b, 1.0 / 3.0), a.lerp(b, 2.0 / 3.0), b)
        } else {
            CubicBez::new(a, a + (b - before) / 6.0, b - (after - a) / 6.0, b)
        }
    };
    let finishes = [
        Finish::Seam,
        Finish::Hem {
            width: Some(Mm(10.0)),
            turns: 2,
        },
        Finish::Facing,
        Finish::Seam,
    ];
    let edges = (0..8)
        .map(|e| {
            let cubics: Vec<CubicBez> = (0..25).map(|i| cubic(e * 25 + i)).collect();
            Edge::finished(
                format!("edge {e}"),
                Line::from_cubics(&cubics).unwrap(),
                finishes[e % 4],
            )
        })
        .collect();
    let notches = (0..8)
        .map(|e| Notch {
            edge: format!("edge {e}"),
            fraction: 0.5,
            kind: NotchKind::Double,
        })
        .collect();
    let rule = FollowRule::Detail;
    Piece {
        name: "piece".into(),
        outline: Outline::new(edges).unwrap(),
        placement: Placement::Follows(Follow {
            length: rule.clone(),
            depth: rule,
        }),
        body_lines: vec![],
        darts: vec![],
        notches,
        marks: vec![],
        grainline: None,
        face: Default::default(),
        fullness: vec![],
        copies: vec![],
    }
}

fn allowance(c: &mut Criterion) {
    let plan = AllowancePlan::default();
    for (name, piece) in [
        ("200 curves", piece(false)),
        ("200 straight lines", piece(true)),
    ] {
        let piece = Arc::new(piece);
        c.bench_function(&format!("cut line, {name}"), |b| {
            b.iter(|| black_box(cut_line(black_box(&piece), &plan)))
        });
        c.bench_function(&format!("everything on the piece, {name}"), |b| {
            b.iter(|| black_box(finish_piece(black_box(&piece), &plan, "fitting")));
        });
    }
    let drawn = piece(false);
    let widths = drawn
        .outline
        .edges()
        .iter()
        .map(|e| (EdgeRef::new("piece", &e.name), Mm(2.0)))
        .collect();
    c.bench_function("taking an allowance off, 200 curves", |b| {
        b.iter(|| black_box(without_allowance(black_box(&drawn), &widths)))
    });
}

criterion_group!(benches, allowance);
criterion_main!(benches);
