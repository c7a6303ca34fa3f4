//! A small hand-made garment and a window on it, for the tests of the window.
//!
//! A gored skirt with a pocket: two panels on the fold, sewn at the side, a waist and a hip tape, made for a grown
//! woman, fitted to a 45 cm play doll. Figures are made up; only the window is tested with them.

#![allow(
    dead_code,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::sync::Arc;

use egui_kittest::Harness;
use egui_kittest::kittest::{By, NodeT, Queryable};
use kurbo::{CubicBez, Point};
use petitoile::chooser::Chooser;
use petitoile::session::Session;
use petitoile::theme;
use petitoile::window::Window;
use petitoile_core::Mm;
use petitoile_core::body::{Body, BodyKind, Measured};
use petitoile_core::edge::{Edge, Finish, OutlinePoint};
use petitoile_core::fitting::Fitting;
use petitoile_core::garment::Garment;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::measure::{Level, Measure};
use petitoile_core::notch::{Notch, NotchKind};
use petitoile_core::piece::{
    BodyLine, Copy, Follow, FollowRule, Frame, Piece, Placement, Role, Side,
};
use petitoile_core::project::Project;
use petitoile_core::seams::{Relation, Seam, SeamKind, Stretch};
use petitoile_core::tape::{Hold, TapeKind, TapeLine, TapePart, TapePath};

/// The fitting that all tests work on.
pub const FITTING: &str = "Skirt for the play doll";

fn body(name: &str, kind: BodyKind, figures: &[(Measure, f64)]) -> Arc<Body> {
    let start = Body::new(name, kind);
    Arc::new(figures.iter().fold(start, |body, (measure, mm)| {
        body.with(*measure, Measured::own_tape(Mm(*mm)))
    }))
}

fn panel(name: &str, waist: f64, hip: f64, length: f64) -> Piece {
    let p = Point::new;
    let fold = Line::straight(p(0.0, 0.0), p(0.0, -length));
    let hem = CubicBez::new(
        p(0.0, -length),
        p(hip * 0.5, -length),
        p(hip, -length + 4.0),
        p(hip * 1.4, -length + 20.0),
    );
    let side = CubicBez::new(
        p(hip * 1.4, -length + 20.0),
        p(hip * 1.2, -length * 0.6),
        p(hip, -length * 0.4),
        p(waist, 12.0),
    );
    let top = CubicBez::new(
        p(waist, 12.0),
        p(waist * 0.6, 2.0),
        p(waist * 0.3, 0.0),
        p(0.0, 0.0),
    );
    let edges = vec![
        Edge::finished("centre", fold, Finish::Fold),
        Edge::finished(
            "hem",
            Line::from_cubics(&[hem]).unwrap(),
            Finish::Hem {
                width: None,
                turns: 2,
            },
        ),
        Edge::seam("side", Line::from_cubics(&[side]).unwrap()),
        Edge::seam("waist", Line::from_cubics(&[top]).unwrap()),
    ];
    Piece {
        name: name.to_owned(),
        outline: Outline::new(edges).unwrap(),
        placement: Placement::Framed(Frame::Torso),
        body_lines: vec![
            BodyLine {
                level: Level::Waist,
                from: OutlinePoint::new("waist", 1.0),
                to: OutlinePoint::new("waist", 0.0),
            },
            BodyLine {
                level: Level::Hip,
                from: OutlinePoint::new("centre", 0.3),
                to: OutlinePoint::new("side", 0.65),
            },
        ],
        darts: Vec::new(),
        notches: vec![Notch {
            edge: "side".to_owned(),
            fraction: 0.5,
            kind: NotchKind::Single,
        }],
        marks: Vec::new(),
        grainline: None,
        face: Default::default(),
        fullness: Vec::new(),
        copies: vec![Copy {
            side: Side::Whole,
            role: Role::Shell,
        }],
    }
}

fn pocket() -> Piece {
    let p = Point::new;
    let corner = [p(0.0, 0.0), p(120.0, 0.0), p(120.0, 140.0), p(0.0, 140.0)];
    let names = ["bottom", "right", "top", "left"];
    let edges = (0..4)
        .map(|i| Edge::seam(names[i], Line::straight(corner[i], corner[(i + 1) % 4])))
        .collect();
    let side = |side| Copy {
        side,
        role: Role::Shell,
    };
    let follow = Follow {
        length: FollowRule::Detail,
        depth: FollowRule::Detail,
    };
    Piece {
        name: "Pocket".to_owned(),
        outline: Outline::new(edges).unwrap(),
        placement: Placement::Follows(follow),
        body_lines: Vec::new(),
        darts: Vec::new(),
        notches: Vec::new(),
        marks: Vec::new(),
        grainline: None,
        face: Default::default(),
        fullness: Vec::new(),
        copies: vec![side(Side::Right), side(Side::Left)],
    }
}

fn tape(name: &str, measure: Measure, to: f64) -> TapeLine {
    let part = |piece: &str| {
        let path = TapePath::Across(
            OutlinePoint::new("centre", to),
            OutlinePoint::new("side", 1.0 - 1.2 * to),
        );
        TapePart {
            piece: piece.to_owned(),
            path,
        }
    };
    TapeLine {
        name: name.to_owned(),
        measure,
        share: 1.0,
        kind: TapeKind::Girth,
        parts: vec![part("Front"), part("Back")],
        hold: Hold::Fitted,
        overlap: Mm(0.0),
        lacing_gap: Mm(0.0),
    }
}

/// The project of the tests.
pub fn project() -> Project {
    let woman = body(
        "Woman",
        BodyKind::Woman,
        &[
            (Measure::Height, 1680.0),
            (Measure::WaistGirth, 700.0),
            (Measure::HipGirth, 960.0),
            (Measure::WaistToHip, 200.0),
            (Measure::WaistToKnee, 580.0),
        ],
    );
    let doll = body(
        "45 cm doll",
        BodyKind::Doll,
        &[
            (Measure::Height, 450.0),
            (Measure::WaistGirth, 265.0),
            (Measure::HipGirth, 300.0),
            (Measure::WaistToHip, 50.0),
            (Measure::WaistToKnee, 120.0),
        ],
    );
    let stretch = |piece: &str| Stretch {
        piece: piece.to_owned(),
        copy: Copy {
            side: Side::Whole,
            role: Role::Shell,
        },
        edge: "side".to_owned(),
        from: 0.0,
        to: 1.0,
    };
    let garment = Garment {
        name: "Skirt".to_owned(),
        made_for: woman,
        pieces: vec![
            Arc::new(panel("Front", 180.0, 250.0, 600.0)),
            Arc::new(panel("Back", 180.0, 250.0, 600.0)),
            Arc::new(pocket()),
        ],
        seams: vec![Seam {
            name: "side seam".to_owned(),
            a: vec![stretch("Front")],
            b: vec![stretch("Back")],
            mirrored: true,
            relation: Relation::Equal,
            kind: SeamKind::Plain,
            inserts: Vec::new(),
        }],
        tape_lines: vec![
            tape("waist", Measure::WaistGirth, 0.0),
            tape("hip", Measure::HipGirth, 0.3),
        ],
        openings: Vec::new(),
        cloths: Default::default(),
        included_allowance: Default::default(),
    };
    Project {
        name: "Harbour skirt".to_owned(),
        garments: vec![Arc::new(garment)],
        fittings: vec![Arc::new(Fitting::new(FITTING, "Skirt", doll))],
        ..Project::default()
    }
}

/// A window on a project, without a desktop: everything is worked out before the next frame.
pub fn window(project: Project) -> Window {
    Window::new(
        Session::for_tests(project),
        Chooser::inside_the_window(),
        None,
    )
}

/// A harness around it, 1280 x 800.
pub fn harness(project: Project) -> Harness<'static, Window> {
    harness_of(window(project), egui::vec2(1280.0, 800.0))
}

/// The same with the tray of this key open.
pub fn on_tray(project: Project, key: egui::Key) -> Harness<'static, Window> {
    let mut harness = harness(project);
    harness.key_press(key);
    harness.run();
    harness
}

/// Scrolls to what has this label and clicks it.
pub fn click(harness: &mut Harness<'_, Window>, label: &str) {
    harness.get_by_label(label).scroll_to_me();
    harness.run();
    harness.get_by_label(label).click();
    harness.run();
}

/// A harness of another size.
pub fn harness_of(window: Window, size: egui::Vec2) -> Harness<'static, Window> {
    let mut harness = Harness::builder()
        .with_size(size)
        .with_theme(egui::Theme::Light)
        .with_context_setup(theme::install)
        .with_max_steps(60)
        .build_ui_state(|ui, window: &mut Window| window.frame(ui), window);
    harness.run();
    harness
}

/// The same with a worker beside it: not run to an end, for it is never still while that works.
pub fn harness_of_busy(window: Window, size: egui::Vec2) -> Harness<'static, Window> {
    Harness::builder()
        .with_size(size)
        .with_theme(egui::Theme::Light)
        .with_context_setup(theme::install)
        .build_ui_state(|ui, window: &mut Window| window.frame(ui), window)
}

/// Drags a slider by its name from where it is to this share of its width.
pub fn drag_slider(harness: &mut Harness<'_, Window>, name: &str, share: f32) {
    let rect = slider_rect(harness, name);
    let from = egui::pos2(rect.left() + 0.3 * rect.width(), rect.center().y);
    let to = egui::pos2(rect.left() + share * rect.width(), rect.center().y);
    harness.hover_at(from);
    harness.step();
    harness.drag_at(from);
    harness.step();
    for i in 1..=8 {
        harness.hover_at(from.lerp(to, i as f32 / 8.0));
        harness.step();
    }
    harness.drop_at(to);
    harness.run();
}

fn slider_rect(harness: &Harness<'_, Window>, name: &str) -> egui::Rect {
    // A slider also labels the number beside it, and labels are left out of a plain search.
    let found = harness
        .get_all(By::new().label(name).include_labels())
        .find(|node| node.accesskit_node().role() == egui::accesskit::Role::Slider);
    found
        .unwrap_or_else(|| panic!("no slider called {name}"))
        .rect()
}

/// Types over a field.
pub fn type_over(harness: &mut Harness<'_, Window>, field: &str, text: &str) {
    let is_field = |node: &egui_kittest::Node<'_>| {
        node.accesskit_node().role() == egui::accesskit::Role::TextInput
    };
    harness
        .get_all_by_label(field)
        .find(is_field)
        .unwrap_or_else(|| panic!("no field called {field}"))
        .focus();
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    harness.run();
    if text.is_empty() {
        harness.key_press(egui::Key::Delete);
    } else {
        harness
            .get_all_by_label(field)
            .find(is_field)
            .unwrap()
            .type_text(text);
    }
    harness.run();
    harness.key_press(egui::Key::Enter);
    harness.run();
}
