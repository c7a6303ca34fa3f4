//! Drawing in the Chalk tray by label, pointer and key: from an empty window to a piece and a fitting.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod common;

use std::sync::Arc;

use common::{harness, type_over};
use egui::{Event, Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use kurbo::Point;
use petitoile::chalk::Chalk;
use petitoile::window::Window;
use petitoile_core::garment::Garment;
use petitoile_core::project::Project;
use petitoile_core::ready_shapes::Ring;

type Hand<'a> = Harness<'a, Window>;

/// A new garment from the empty window, a tool in hand.
fn begin(tool: &str) -> Hand<'static> {
    let mut hand = harness(Project::default());
    hand.key_press_modifiers(Modifiers::COMMAND, Key::N);
    hand.run();
    hand.event(Event::Text("Apron".to_owned()));
    hand.run();
    hand.key_press(Key::Enter);
    hand.run();
    take(&mut hand, tool);
    hand
}

fn take(hand: &mut Hand<'_>, tool: &str) {
    hand.get_by_label(tool).click();
    hand.run();
}

/// Pushes a button of the tray, wherever it has scrolled to.
fn push(hand: &mut Hand<'_>, button: &str) {
    hand.get_by_label(button).scroll_to_me();
    hand.run();
    hand.get_by_label(button).click();
    hand.run();
}

fn garment(hand: &Hand<'_>) -> Arc<Garment> {
    hand.state().session.project().garments[0].clone()
}

fn press(hand: &mut Hand<'_>, modifiers: Modifiers, key: Key, times: usize) {
    for _ in 0..times {
        hand.key_press_modifiers(modifiers, key);
        hand.run();
    }
}

/// Clicks this place of the table, a little beside it if asked.
fn click(hand: &mut Hand<'_>, at: Point, beside: egui::Vec2, modifiers: Modifiers) {
    let canvas = hand.get_by_label("Chalk table").rect();
    let p = hand.state().session.view.screen_from_table(canvas, at) + beside;
    hand.event(Event::ModifiersChanged(modifiers));
    hand.hover_at(p);
    hand.step();
    for pressed in [true, false] {
        hand.event(Event::PointerButton {
            pos: p,
            button: egui::PointerButton::Primary,
            pressed,
            modifiers,
        });
        hand.step();
    }
    hand.event(Event::ModifiersChanged(Modifiers::NONE));
    hand.run();
}

/// A rectangle of 120 x 40 mm with its lower left corner at the middle of the table.
fn with_rectangle() -> Hand<'static> {
    let mut hand = begin("Rectangle");
    type_over(&mut hand, "Width", "120 mm");
    type_over(&mut hand, "Height", "40 mm");
    type_over(&mut hand, "Name of the piece", "Band");
    click(&mut hand, Point::ORIGIN, egui::Vec2::ZERO, Modifiers::NONE);
    hand
}

#[test]
fn a_rectangle_by_its_sizes_is_one_step_and_lies_where_it_was_placed() {
    let mut hand = with_rectangle();
    let band = garment(&hand).piece("Band").unwrap().clone();
    let bounds = band.outline.bounds();
    assert!((bounds.width() - 120.0).abs() < 1e-9 && (bounds.height() - 40.0).abs() < 1e-9);
    assert!(bounds.origin().to_vec2().hypot() < 1.0, "{bounds:?}");
    let table = &hand.state().session.work.table;
    assert_eq!(table.piece("Band").unwrap().moved, kurbo::Vec2::ZERO);
    hand.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    hand.run();
    assert!(garment(&hand).pieces.is_empty());
    assert_eq!(hand.state().session.work.trouble, None);
}

#[test]
fn a_circular_skirt_is_placed_by_waist_and_length() {
    let mut hand = begin("Circular skirt");
    type_over(&mut hand, "Waist", "25 in");
    type_over(&mut hand, "Length of skirt", "6 in");
    hand.get_by_label("Of a circle: all").click();
    hand.run();
    click(&mut hand, Point::ORIGIN, egui::Vec2::ZERO, Modifiers::NONE);
    let skirt = garment(&hand).pieces[0].clone();
    let waist = skirt.outline.edge("waist").unwrap().line.length();
    assert!((2.0 * waist - 635.0).abs() < 0.01, "{waist}");
    let ring = Ring {
        waist: petitoile_core::Mm(635.0),
        length: petitoile_core::Mm(152.4),
        share: 1.0,
        on_fold: petitoile_core::ready_shapes::OnFold::Half,
    };
    let hem = skirt.outline.edge("hem").unwrap().line.length();
    assert!((hem - std::f64::consts::PI * (ring.radius() + 152.4)).abs() < 0.01);
}

#[test]
fn a_piece_is_drawn_with_keys_alone() {
    let mut hand = begin("Line");
    press(&mut hand, Modifiers::NONE, Key::ArrowRight, 1);
    press(&mut hand, Modifiers::NONE, Key::Space, 1);
    press(&mut hand, Modifiers::SHIFT, Key::ArrowRight, 3);
    press(&mut hand, Modifiers::NONE, Key::Enter, 1);
    press(&mut hand, Modifiers::SHIFT, Key::ArrowUp, 2);
    press(&mut hand, Modifiers::NONE, Key::Enter, 2);
    let pieces = garment(&hand).pieces.clone();
    assert_eq!(pieces.len(), 1, "{:?}", hand.state().session.message);
    assert!((pieces[0].outline.area() - 300.0).abs() < 1e-9);
}

#[test]
fn undo_takes_back_the_last_point_and_not_the_piece_before() {
    let mut hand = with_rectangle();
    take(&mut hand, "Line");
    for (x, y) in [(-60.0, -20.0), (-20.0, -20.0), (-20.0, -60.0)] {
        click(
            &mut hand,
            Point::new(x, y),
            egui::Vec2::ZERO,
            Modifiers::NONE,
        );
    }
    assert!(hand.query_by_label_contains("3 points so far").is_some());
    press(&mut hand, Modifiers::COMMAND, Key::Z, 1);
    assert!(hand.query_by_label_contains("2 points so far").is_some());
    press(&mut hand, Modifiers::NONE, Key::Backspace, 1);
    assert!(hand.query_by_label_contains("1 point so far").is_some());
    assert_eq!(garment(&hand).pieces.len(), 1);
}

#[test]
fn escape_gives_a_drawing_up_and_it_can_be_taken_up_again() {
    let mut hand = begin("Line");
    for (x, y) in [(-60.0, -20.0), (-20.0, -20.0), (-20.0, 40.0)] {
        click(
            &mut hand,
            Point::new(x, y),
            egui::Vec2::ZERO,
            Modifiers::NONE,
        );
    }
    press(&mut hand, Modifiers::NONE, Key::Escape, 1);
    assert!(hand.query_by_label_contains("so far").is_none());
    push(&mut hand, "Take up the last drawing again");
    push(&mut hand, "Close the line");
    let area = garment(&hand).pieces[0].outline.area();
    assert!((area - 1200.0).abs() < 40.0, "{area}");
}

#[test]
fn a_click_near_a_corner_lies_on_it_and_with_ctrl_where_it_was_made() {
    let mut hand = with_rectangle();
    let corner = {
        let band = garment(&hand).piece("Band").unwrap().clone();
        band.outline.edge("top").unwrap().line.start()
    };
    take(&mut hand, "Line");
    let beside = egui::vec2(5.0, -4.0);
    click(&mut hand, corner, beside, Modifiers::NONE);
    click(
        &mut hand,
        corner + (0.0, 60.0),
        egui::Vec2::ZERO,
        Modifiers::NONE,
    );
    click(&mut hand, corner + (30.0, 0.0), beside, Modifiers::COMMAND);
    press(&mut hand, Modifiers::NONE, Key::Enter, 1);
    let garment = garment(&hand);
    let drawn = &garment.pieces[1].outline;
    let has = |at: Point| {
        drawn
            .edges()
            .iter()
            .any(|e| (e.line.start() - at).hypot() < 1e-6)
    };
    assert!(has(corner), "{drawn:?}");
    assert!(!has(corner + (30.0, 0.0)));
    assert_eq!(drawn.edges().len(), 3);
}

#[test]
fn an_edge_is_drawn_anew_from_corner_to_corner() {
    let mut hand = with_rectangle();
    take(&mut hand, "Redraw");
    let top = |hand: &Hand<'_>| {
        let band = garment(hand).piece("Band").unwrap().clone();
        band.outline.edge("top").unwrap().line.clone()
    };
    let before = top(&hand);
    click(&mut hand, before.at(0.3), egui::Vec2::ZERO, Modifiers::NONE);
    click(
        &mut hand,
        before.at(0.5) + (0.0, 25.0),
        egui::Vec2::ZERO,
        Modifiers::NONE,
    );
    press(&mut hand, Modifiers::NONE, Key::Enter, 1);
    let after = top(&hand);
    assert_eq!((after.start(), after.end()), (before.start(), before.end()));
    assert!(after.length() > before.length() + 5.0, "{}", after.length());
}

#[test]
fn an_edge_becomes_a_smooth_curve_with_given_end_directions() {
    let mut hand = with_rectangle();
    take(&mut hand, "Curve");
    let top = |hand: &Hand<'_>| {
        let band = garment(hand).piece("Band").unwrap().clone();
        band.outline.edge("top").unwrap().line.clone()
    };
    let before = top(&hand);
    click(&mut hand, before.at(0.3), egui::Vec2::ZERO, Modifiers::NONE);
    // The top runs from right to left: it leaves upwards and arrives downwards.
    type_over(&mut hand, "Leaves at", "90");
    type_over(&mut hand, "Arrives at", "-90");
    click(
        &mut hand,
        before.at(0.5) + (0.0, 30.0),
        egui::Vec2::ZERO,
        Modifiers::NONE,
    );
    push(&mut hand, "Finish the edge");
    let after = top(&hand);
    assert!((after.direction(0.0) - kurbo::Vec2::new(0.0, 1.0)).hypot() < 1e-6);
    assert!((after.direction(1.0) - kurbo::Vec2::new(0.0, -1.0)).hypot() < 1e-6);
}

#[test]
fn what_the_next_click_does_stands_in_the_tray_and_in_the_status_line() {
    let hand = begin("Circle");
    let says = hand.query_all_by_label_contains("Click: middle of a circle, radius 50 mm");
    assert_eq!(says.count(), 2);
}

#[test]
fn a_line_that_crosses_itself_is_told_and_not_lost() {
    let mut hand = begin("Line");
    for (x, y) in [(-60.0, -20.0), (20.0, 40.0), (20.0, -20.0), (-60.0, 30.0)] {
        click(
            &mut hand,
            Point::new(x, y),
            egui::Vec2::ZERO,
            Modifiers::COMMAND,
        );
    }
    press(&mut hand, Modifiers::NONE, Key::Enter, 1);
    let message = hand.state().session.message.clone().unwrap();
    assert!(message.contains("crosses itself"), "{message}");
    assert!(hand.query_by_label_contains("4 points so far").is_some());
}

#[test]
fn the_true_size_asks_for_a_ruler_once() {
    let mut hand = with_rectangle();
    press(&mut hand, Modifiers::NONE, Key::End, 1);
    type_over(&mut hand, "The ruler reads", "80 mm");
    hand.get_by_label("It fits").click();
    hand.run();
    // 96 points to the inch were taken; the ruler read 80 mm instead of 100.
    let wanted = 96.0 / 25.4 * 100.0 / 80.0;
    assert!((hand.state().session.view.scale - wanted).abs() < 1e-3);
    press(&mut hand, Modifiers::NONE, Key::Minus, 1);
    press(&mut hand, Modifiers::NONE, Key::End, 1);
    assert!(
        (hand.state().session.view.scale - wanted).abs() < 1e-3,
        "it is not asked again"
    );
}

#[test]
fn a_drawn_garment_is_put_on_a_doll() {
    let mut hand = with_rectangle();
    hand.get_by_label("Project").click();
    hand.run();
    hand.get_by_label_contains("New fitting").click();
    hand.run();
    hand.get_by_label("Fit it").click();
    hand.run();
    let session = &hand.state().session;
    let fitting = session.fitting().expect("a fitting");
    assert_eq!(fitting.garment, "Apron");
    assert_eq!(fitting.body.kind, petitoile_core::body::BodyKind::Doll);
    assert_eq!(session.work.trouble, None);
}

#[test]
fn no_two_tools_share_their_letter_or_their_name() {
    let chalk = Chalk::default();
    let tools: Vec<_> = chalk.tools().collect();
    for (i, tool) in tools.iter().enumerate() {
        for other in &tools[i + 1..] {
            assert_ne!(tool.name(), other.name());
            assert!(
                tool.key().is_none() || tool.key() != other.key(),
                "{}",
                tool.name()
            );
        }
    }
}
