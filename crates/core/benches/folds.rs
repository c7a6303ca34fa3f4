//! How long one change of a fullness takes to be computed anew; the aim is under 1 ms for all of it.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a bench"
)]

use std::hint::black_box;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use petitoile_core::Mm;
use petitoile_core::adapt::as_drawn;
use petitoile_core::alteration::Alteration;
use petitoile_core::body::{Body, BodyKind};
use petitoile_core::check::check;
use petitoile_core::cloth::Cloth;
use petitoile_core::edge::Edge;
use petitoile_core::edit::Edit;
use petitoile_core::finish::finish;
use petitoile_core::fitting::Fitting;
use petitoile_core::fullness::{
    Depth, Filled, FoldedEdge, Fullness, FullnessOp, KeepOff, Kind, Layout, Solved, Wanted, fill,
    solve,
};
use petitoile_core::garment::Garment;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::piece::{Copy, Frame, Piece, Placement, Role, Side};
use petitoile_core::project::Project;
use petitoile_core::strips::{Ends, Hiding, LongEdge, Size, Source, StripWanted, joined};

fn wanted(kind: Kind) -> Wanted {
    let keep_off = [0.0, 0.25, 0.5, 0.75, 1.0].map(|at| KeepOff {
        what: "seam".to_owned(),
        at,
        by: Mm(1.0),
    });
    Wanted {
        finished: Some(Mm(920.0)),
        visible: Some(Mm(20.0)),
        depth: Some(Depth::Of(Mm(9.5))),
        layout: Layout {
            keep_off: keep_off.to_vec(),
            ..Layout::default()
        },
        ..Wanted::new(kind)
    }
}

fn solver(c: &mut Criterion) {
    for kind in [Kind::Knife, Kind::Box, Kind::DoubleBox, Kind::Gathers] {
        let mut asked = wanted(kind);
        if kind == Kind::Gathers {
            asked.ratio = Some(2.5);
        }
        c.bench_function(&format!("solve, {}", kind.words()), |b| {
            b.iter(|| black_box(solve(black_box(&asked)).is_ok()));
        });
    }
    let impossible = Wanted {
        cloth: Some(Mm(800.0)),
        ..wanted(Kind::Knife)
    };
    c.bench_function("solve, impossible", |b| {
        b.iter(|| black_box(solve(black_box(&impossible)).is_err()));
    });
    let pleats = Fullness::KnifePleats {
        count: 60,
        depth: Mm(15.0),
    };
    c.bench_function("folded edge, 60 knife pleats", |b| {
        b.iter(|| {
            black_box(FoldedEdge::new(
                black_box(pleats),
                &Layout::default(),
                Mm(900.0),
            ))
        });
    });
}

/// A quarter of a circle skirt with 30 pleats on its waist, made for a doll, and a fitting of it.
fn project() -> Project {
    let ring = |radius: f64, from: f64, sweep: f64| {
        let arc = kurbo::Arc::new((0.0, 0.0), (radius, radius), from, sweep, 0.0);
        let cubics: Vec<_> = kurbo::Shape::path_segments(&arc, 1e-6)
            .map(|s| s.to_cubic())
            .collect();
        Line::from_cubics(&cubics).unwrap()
    };
    let quarter = std::f64::consts::FRAC_PI_2;
    let (hem, waist) = (ring(300.0, 0.0, quarter), ring(100.0, quarter, -quarter));
    let sides = (
        Line::straight(hem.end(), waist.start()),
        Line::straight(waist.end(), hem.start()),
    );
    let edges = vec![
        Edge::seam("hem", hem),
        Edge::seam("left", sides.0),
        Edge::seam("waist", waist),
        Edge::seam("right", sides.1),
    ];
    let pleats = Fullness::KnifePleats {
        count: 30,
        depth: Mm(1.0),
    };
    let piece = Piece {
        name: "Skirt".into(),
        outline: Outline::new(edges).unwrap(),
        placement: Placement::Framed(Frame::Torso),
        body_lines: vec![],
        darts: vec![],
        notches: vec![],
        marks: vec![],
        grainline: None,
        fullness: vec![FullnessOp::new("waist", pleats)],
        copies: vec![Copy {
            side: Side::Whole,
            role: Role::Shell,
        }],
        face: Default::default(),
    };
    let body = Arc::new(Body::new("doll", BodyKind::Doll));
    let lawn = Cloth {
        name: "lawn".into(),
        thickness: Mm(0.1),
        source: String::new(),
    };
    let garment = Garment {
        name: "Skirt".into(),
        made_for: body.clone(),
        pieces: vec![Arc::new(piece)],
        seams: vec![],
        tape_lines: vec![],
        openings: vec![],
        cloths: [(Role::Shell, lawn)].into(),
        included_allowance: Default::default(),
    };
    let fitting = Fitting::new("Skirt for the doll", "Skirt", body);
    Project {
        name: "Skirt".into(),
        garments: vec![Arc::new(garment)],
        fittings: vec![Arc::new(fitting)],
        ..Project::default()
    }
}

/// Steps 2 to 5 of the garment as it is drawn: what the window does after every change on the garment.
fn worked(project: &Project) -> (Arc<Filled>, usize) {
    let adapted = Arc::new(as_drawn(&project.garments[0], &project.fittings[0]).unwrap());
    let filled = fill(&adapted);
    assert!(filled.findings.is_empty(), "it is spread");
    let filled = Arc::new(filled.outcome);
    let finished = finish(&filled);
    let found = check(&finished.outcome).len() + finished.findings.len();
    (filled, found)
}

/// The whole change of a hinged piece, and each of its steps.
fn whole_change(c: &mut Criterion) {
    let before = project();
    let depth = Mm(1.1);
    let deeper = Edit::Alter {
        garment: "Skirt".into(),
        alteration: Alteration::Fullness {
            piece: "Skirt".into(),
            fullness: vec![FullnessOp::new(
                "waist",
                Fullness::KnifePleats { count: 30, depth },
            )],
        },
    };
    let after = before.edited(&deeper).unwrap();
    let (filled, _) = worked(&after);
    assert_eq!(filled.lines[0].iter().filter(|l| l.pleat > 0).count(), 90);
    let adapted = filled.adapted.clone();
    let finished = finish(&filled).outcome;
    c.bench_function("whole change, 30 pleats, hinged", |b| {
        b.iter(|| {
            let after = black_box(&before).edited(black_box(&deeper)).unwrap();
            black_box(worked(&after))
        });
    });
    c.bench_function("of it: edit", |b| {
        b.iter(|| black_box(black_box(&before).edited(black_box(&deeper)).unwrap()));
    });
    c.bench_function("of it: as drawn", |b| {
        b.iter(|| black_box(as_drawn(&after.garments[0], &after.fittings[0]).unwrap()));
    });
    c.bench_function("of it: fill", |b| {
        b.iter(|| black_box(fill(black_box(&adapted))));
    });
    c.bench_function("of it: finish", |b| {
        b.iter(|| black_box(finish(black_box(&filled))));
    });
    c.bench_function("of it: check", |b| {
        b.iter(|| black_box(check(black_box(&finished))));
    });
}

fn strips(c: &mut Criterion) {
    let pleats: Solved = solve(&wanted(Kind::Knife)).unwrap();
    let strip = StripWanted {
        ratio: pleats.ratio,
        ends: Ends::Open(LongEdge::Seam(Mm(5.0))),
        hiding: Hiding::UnderPleats(Box::new(pleats.folded)),
        ..StripWanted::new(Size::Finished(Mm(920.0)), Size::Finished(Mm(40.0)))
    };
    c.bench_function("strip under pleats, from a width", |b| {
        b.iter(|| black_box(joined(black_box(&strip), &Source::Every(Mm(400.0))).is_ok()));
    });
    let bits: Vec<Mm> = (0..40)
        .map(|i| Mm(90.0 + f64::from(i * 37 % 23) * 11.0))
        .collect();
    let bits = Source::Bits(bits);
    c.bench_function("strip under pleats, from 40 bits", |b| {
        b.iter(|| black_box(joined(black_box(&strip), black_box(&bits)).is_ok()));
    });
}

criterion_group!(benches, solver, whole_change, strips);
criterion_main!(benches);
