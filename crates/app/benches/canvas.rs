//! How long the table takes to say what it shows: 50 pieces of 200 curves each, panning, as a reader of the window's
//! tree (accessibility on) and without. Only `Canvas::ui` is timed, not the rasteriser.

#![allow(missing_docs, clippy::unwrap_used, reason = "a benchmark")]

use std::sync::Arc;
use std::time::{Duration, Instant};

use criterion::{Criterion, criterion_group, criterion_main};
use egui::{Pos2, RawInput, Rect, Vec2};
use kurbo::{BezPath, Line, Point, Shape};
use petitoile::canvas::Canvas;
use petitoile::canvas::shown::{ShownEdge, ShownPiece, Table};
use petitoile::command::Command;
use petitoile::session::Session;
use petitoile::theme;
use petitoile_core::project::Project;

const PIECES: usize = 50;
const CURVES: usize = 200;

/// A wavy ring: concave all round.
fn ring(radius: f64, lift: f64) -> BezPath {
    let at = |k: usize, r: f64| {
        Point::new(60.0, 60.0)
            + kurbo::Vec2::from_angle(std::f64::consts::TAU * k as f64 / (3 * CURVES) as f64) * r
    };
    let wave = |k: usize| radius + lift * if (k / 6).is_multiple_of(2) { 1.0 } else { -1.0 };
    let mut path = BezPath::new();
    path.move_to(at(0, wave(0)));
    for k in 0..CURVES {
        path.curve_to(
            at(3 * k + 1, wave(3 * k + 1)),
            at(3 * k + 2, wave(3 * k + 2)),
            at(3 * k + 3, wave(3 * (k + 1) % (3 * CURVES))),
        );
    }
    path.close_path();
    path
}

fn table() -> Table {
    let pieces = (0..PIECES)
        .map(|i| {
            let (cut, stitch) = (ring(55.0, 1.5), ring(49.0, 1.5));
            let name = format!("Piece {i}");
            ShownPiece {
                label: format!("{name}, cut 2"),
                to_cut: "cut 2".to_owned(),
                moved: kurbo::Vec2::new((i % 10) as f64 * 125.0, (i / 10) as f64 * -125.0),
                bounds: cut.bounding_box(),
                own: cut.bounding_box(),
                notches: (0..6)
                    .map(|k| {
                        (
                            Line::new((60.0, 5.0 + k as f64), (60.0, 8.0)),
                            format!("{name}, notch {}", k + 1),
                        )
                    })
                    .collect(),
                fold: None,
                fold_lines: Vec::new(),
                sew_lines: Vec::new(),
                marks: Vec::new(),
                grain: Line::new((60.0, 30.0), (60.0, 90.0)),
                label_at: Point::new(60.0, 60.0),
                edges: vec![ShownEdge {
                    name: "all round".to_owned(),
                    line: stitch.clone(),
                    middle: Point::new(5.0, 60.0),
                    label: name.clone(),
                }],
                ghost: None,
                name,
                cut,
                stitch,
            }
        })
        .collect();
    Table {
        pieces,
        parts: Vec::new(),
    }
}

fn frames(c: &mut Criterion) {
    for (name, read_out) in [
        ("50 pieces of 200 curves, panning", false),
        ("the same, read out", true),
    ] {
        let ctx = egui::Context::default();
        theme::install(&ctx);
        if read_out {
            ctx.enable_accesskit();
        }
        let mut session = Session::for_tests(Project::default());
        session.work.table = Arc::new(table());
        session.apply(Command::ShowAll);
        let mut canvas = Canvas::default();
        c.bench_function(name, |b| {
            b.iter_custom(|times| {
                let mut spent = Duration::ZERO;
                for k in 0..times {
                    spent += frame(&ctx, &mut canvas, &mut session, k);
                }
                spent
            });
        });
    }
}

fn frame(ctx: &egui::Context, canvas: &mut Canvas, session: &mut Session, k: u64) -> Duration {
    let input = RawInput {
        screen_rect: Some(Rect::from_min_size(Pos2::ZERO, Vec2::new(1200.0, 800.0))),
        ..RawInput::default()
    };
    let mut spent = Duration::ZERO;
    let mut commands = Vec::new();
    let mut shown = ctx.run_ui(input, |ui| {
        let start = Instant::now();
        canvas.ui(ui, session, None, &mut commands);
        spent += start.elapsed();
    });
    shown.textures_delta.clear();
    for command in commands {
        session.apply(command);
    }
    let way = if k % 20 < 10 { 1.0 } else { -1.0 };
    session.view = session.view.panned(Vec2::new(way, 0.0));
    spent
}

criterion_group!(benches, frames);
criterion_main!(benches);
