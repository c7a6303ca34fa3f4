//! Speed while a point is dragged in a project of 50 pieces, both parts: from the event to new shapes on the table (seams
//! and findings included), on the garment and on a fitting; and the adapting of the fitting that the piece belongs to.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a benchmark"
)]

use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use egui::{Pos2, RawInput, Rect, Vec2};
use petitoile::canvas::Canvas;
use petitoile::chalk::Chalk;
use petitoile::command::Command;
use petitoile::session::{On, Session, Tray};
use petitoile::{theme, whole_way};
use petitoile_core::alteration::{PointRef, ShapeChange};
use petitoile_core::fitting::Fitting;
use petitoile_core::garment::Garment;
use petitoile_core::project::Project;
use petitoile_core::units::Mm;
use petitoile_exchange::project_file;

/// The jacket so often that the project holds 50 pieces at least; every one with its fitting.
fn project() -> Project {
    let file = include_bytes!("../../../demo-projects/harbour-jacket.ron");
    let demo = project_file::read(file).unwrap();
    let (jacket, fitting) = (demo.garments[0].clone(), demo.fittings[0].clone());
    let mut project = Project::default();
    let mut pieces = 0;
    while pieces < 50 {
        let name = format!("Jacket {}", project.garments.len() + 1);
        pieces += jacket.pieces.len();
        project.fittings.push(Arc::new(Fitting {
            name: format!("{name} for the doll"),
            garment: name.clone(),
            ..Fitting::clone(&fitting)
        }));
        project.garments.push(Arc::new(Garment {
            name,
            ..Garment::clone(&jacket)
        }));
    }
    project
}

/// A steering point of the first curve of the first piece, a little further with every event.
fn moved(garment: &Garment, by: f64) -> Command {
    let piece = &garment.pieces[0];
    let curved = piece
        .outline
        .edges()
        .iter()
        .find(|edge| !edge.line.is_straight())
        .unwrap();
    Command::TryAlter(
        ShapeChange::MovePoints {
            points: vec![PointRef::new(&curved.name, 1)],
            right: Mm(by),
            up: Mm(by),
            keep_smooth: true,
        }
        .of(&piece.name),
    )
}

fn dragging(c: &mut Criterion) {
    let project = project();
    let garment = project.garments[0].clone();
    for (name, on) in [
        ("dragging on the garment: event to new shapes", On::Garment),
        ("dragging on a fitting: event to new shapes", On::Fitting),
    ] {
        let mut session = Session::for_tests(project.clone());
        session.apply(Command::Tray(Tray::Chalk));
        session.apply(Command::On(on));
        let ctx = egui::Context::default();
        theme::install(&ctx);
        let (mut canvas, mut chalk) = (Canvas::default(), Chalk::default());
        let mut event = 0;
        c.bench_function(name, |b| {
            b.iter(|| {
                event += 1;
                session.apply(moved(&garment, f64::from(event % 50) * 0.01));
                frame(&ctx, &mut canvas, &mut chalk, &session)
            });
        });
    }
    let fitting = project.fittings[0].name.clone();
    c.bench_function("adapting the fitting of the dragged piece", |b| {
        b.iter(|| whole_way::work(&project, &fitting))
    });
}

fn frame(ctx: &egui::Context, canvas: &mut Canvas, chalk: &mut Chalk, session: &Session) {
    let input = RawInput {
        screen_rect: Some(Rect::from_min_size(Pos2::ZERO, Vec2::new(1200.0, 800.0))),
        ..RawInput::default()
    };
    let mut commands = Vec::new();
    let mut shown = ctx.run_ui(input, |ui| {
        canvas.ui(ui, session, Some(chalk), &mut commands);
    });
    shown.textures_delta.clear();
}

criterion_group!(benches, dragging);
criterion_main!(benches);
