//! Pictures of a hand-made table and of hand-made pages, painted by software; the rest of the window is tested by
//! label. Without any renderer they are left out, and say so; with PETITOILE_CI=1 they fail instead.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::print_stderr,
    reason = "tests"
)]

use std::sync::Arc;

use egui::{Theme, Vec2};
use egui_kittest::Harness;
use kurbo::{BezPath, Line, Point, Shape, Vec2 as Move};
use petitoile::canvas::Canvas;
use petitoile::canvas::shown::{ShownEdge, ShownPiece, Table};
use petitoile::command::{Chosen, Command};
use petitoile::session::{Session, Tray};
use petitoile::theme;
use petitoile::trays::{FoldsTray, PaperTray};
use petitoile_core::Mm;
use petitoile_core::alteration::Alteration;
use petitoile_core::fitting::Fitting;
use petitoile_core::fullness::{Fullness, FullnessOp};
use petitoile_core::project::Project;
use petitoile_exchange::drawing::{Drawing, Ink, Item, Layer};
use petitoile_exchange::tiling::Pages;

mod common;

/// Is there anything that can paint? Without it the test library panics.
fn can_paint() -> bool {
    let painted = std::panic::catch_unwind(|| {
        let mut harness = Harness::builder()
            .with_size(Vec2::splat(16.0))
            .build_ui(|ui| {
                ui.label("a");
            });
        harness.render().is_ok()
    });
    let can = painted.unwrap_or(false);
    if !can {
        // Where everything is checked before a change is taken, a check left out would look like one that held.
        assert!(
            std::env::var_os("PETITOILE_CI").is_none_or(|value| value != "1"),
            "this machine has no renderer, so no picture was compared; PETITOILE_CI=1 allows no check to be left out: \
             install mesa-vulkan-drivers"
        );
        eprintln!("left out: this machine has no renderer, not even one in software");
    }
    can
}

/// Half a back: shoulder, hollow armscye, side, hem, fold.
fn back(shift: f64) -> BezPath {
    let mut path = BezPath::new();
    path.move_to((0.0, -shift));
    path.line_to((70.0 + shift, -shift));
    path.line_to((72.0 + shift, 70.0 + shift * 0.5));
    path.curve_to(
        (50.0 + shift, 72.0),
        (48.0 + shift, 90.0),
        (56.0 + shift, 118.0),
    );
    path.line_to((24.0, 132.0 + shift));
    path.curve_to(
        (20.0, 126.0 + shift),
        (8.0, 122.0 + shift),
        (0.0, 122.0 + shift),
    );
    path.close_path();
    path
}

fn piece(name: &str, moved: Move, ghost: bool) -> ShownPiece {
    let (cut, stitch) = (back(6.0), back(0.0));
    let side = {
        let mut line = BezPath::new();
        line.move_to((70.0, 0.0));
        line.line_to((72.0, 70.0));
        line
    };
    ShownPiece {
        name: name.to_owned(),
        label: format!("{name}, cut 1 on fold"),
        to_cut: "cut 1 on fold".to_owned(),
        moved,
        bounds: cut.bounding_box(),
        own: cut.bounding_box(),
        notches: vec![(
            Line::new((77.0, 35.0), (74.0, 35.0)),
            format!("{name}, notch 1 of 1"),
        )],
        fold: Some(Line::new((0.0, -6.0), (0.0, 128.0))),
        fold_lines: vec![{
            let mut line = BezPath::new();
            line.move_to((0.0, 0.0));
            line.line_to((76.0, 0.0));
            line
        }],
        sew_lines: Vec::new(),
        marks: Vec::new(),
        grain: Line::new((20.0, 20.0), (20.0, 100.0)),
        label_at: Point::new(38.0, 60.0),
        edges: vec![ShownEdge {
            name: "side".to_owned(),
            line: side,
            middle: Point::new(71.0, 35.0),
            label: format!("{name}, side"),
        }],
        ghost: ghost.then(|| kurbo::Affine::scale_non_uniform(0.8, 1.1) * back(0.0)),
        cut,
        stitch,
    }
}

#[test]
fn the_table_looks_as_it_did_by_day() {
    look_at_the_table(Theme::Light, "table_light");
}

#[test]
fn the_table_looks_as_it_did_by_lamp() {
    look_at_the_table(Theme::Dark, "table_dark");
}

fn look_at_the_table(theme: Theme, name: &str) {
    if !can_paint() {
        return;
    }
    let mut session = Session::for_tests(Project::default());
    let pieces = vec![
        piece("Back", Move::new(0.0, -132.0), true),
        piece("Lining", Move::new(100.0, -132.0), false),
    ];
    session.work.table = Arc::new(Table {
        pieces,
        parts: Vec::new(),
    });
    session.apply(Command::ShowAll);
    session.apply(Command::Choose(Chosen::edge("Lining", "side")));
    let builder = Harness::builder()
        .with_size(Vec2::new(560.0, 420.0))
        .with_theme(theme)
        .with_context_setup(theme::install);
    let mut harness = builder.build_ui_state(
        |ui, (canvas, session): &mut (Canvas, Session)| {
            let mut commands = Vec::new();
            canvas.ui(ui, session, None, &mut commands);
            commands
                .into_iter()
                .for_each(|command| session.apply(command));
        },
        (Canvas::default(), session),
    );
    harness.run();
    harness.snapshot(name);
}

#[test]
fn a_page_looks_as_it_did() {
    if !can_paint() {
        return;
    }
    let ink = |layer, path: BezPath, width| Item {
        layer,
        ink: Ink::Stroke {
            path,
            width,
            dash: Vec::new(),
        },
        clip: None,
    };
    let on_page = kurbo::Affine::translate((60.0, 80.0));
    let page = Drawing {
        title: "page".to_owned(),
        items: vec![
            ink(Layer::CutLines, on_page * back(6.0), 0.7),
            ink(Layer::StitchLines, on_page * back(0.0), 0.35),
            ink(
                Layer::Page,
                kurbo::Rect::new(10.0, 10.0, 200.0, 287.0).to_path(0.1),
                0.3,
            ),
        ],
    };
    let pages = Pages {
        title: "pages".to_owned(),
        size: (210.0, 297.0),
        pages: vec![page.clone(), page],
        placed: Vec::new(),
    };
    let mut session = Session::for_tests(Project::default());
    let doll = common::project().fittings.first().unwrap().body.clone();
    let project = Project {
        garments: common::project().garments.clone(),
        fittings: vec![Arc::new(Fitting::new("f", "Skirt", doll))],
        ..Project::default()
    };
    session.put(project, None);
    session.collect();
    session.work.pages = Some(Arc::new(pages));
    let builder = Harness::builder()
        .with_size(Vec2::new(380.0, 860.0))
        .with_theme(Theme::Light)
        .with_context_setup(theme::install);
    let mut harness = builder.build_ui_state(
        |ui, (tray, session): &mut (PaperTray, Session)| tray.ui(ui, session, &mut Vec::new()),
        (PaperTray::default(), session),
    );
    harness.run();
    harness.snapshot("page");
}

/// Five knife pleats on the pocket of the hand-made skirt, as it was drawn.
#[test]
fn a_folded_edge_looks_as_it_did() {
    if !can_paint() {
        return;
    }
    let mut session = Session::for_tests(common::project());
    session.apply(Command::ChooseGarment("Skirt".to_owned()));
    session.apply(Command::Tray(Tray::Folds));
    let pleats = Fullness::KnifePleats {
        count: 5,
        depth: Mm(14.0),
    };
    session.apply(Command::Alter(Alteration::Fullness {
        piece: "Pocket".to_owned(),
        fullness: vec![FullnessOp::new("top", pleats)],
    }));
    session.apply(Command::Choose(Chosen::edge("Pocket", "top")));
    let builder = Harness::builder()
        .with_size(Vec2::new(380.0, 620.0))
        .with_theme(Theme::Light)
        .with_context_setup(theme::install);
    let mut harness = builder.build_ui_state(
        |ui, (tray, session): &mut (FoldsTray, Session)| tray.ui(ui, session, &mut Vec::new()),
        (FoldsTray::default(), session),
    );
    harness.run();
    harness.snapshot("folds");
}
