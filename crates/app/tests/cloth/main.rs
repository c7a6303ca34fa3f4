//! The Cloth tray by label: offcuts typed and drawn, laid by search and by hand, pinned, cut, the stash.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

#[path = "../common/mod.rs"]
mod common;
mod files;
mod search;

use common::{FITTING, harness_of, project, type_over, window};
use egui::Key;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use petitoile::command::Command;
use petitoile::window::Window;
use petitoile_core::Mm;
use petitoile_core::cloth::{Cloth, GoodFor, Offcut};
use petitoile_core::lay_plan::LayPlan;
use petitoile_core::piece::Role;
use petitoile_core::project::Project;
use std::sync::Arc;

/// The skirt of the tests in the Cloth tray, in a window tall enough for all of it.
fn cloth(project: Project) -> Harness<'static, Window> {
    let mut harness = harness_of(window(project), egui::vec2(1280.0, 1700.0));
    harness.key_press(Key::F5);
    harness.run();
    harness
}

/// The skirt with one rectangle of cloth.
fn with_cloth(width: f64, height: f64) -> Project {
    let offcut = Offcut::rectangle("Rest", "linen", Mm(width), Mm(height)).unwrap();
    Project {
        offcuts: vec![Arc::new(offcut)],
        ..project()
    }
}

fn click(harness: &mut Harness<'_, Window>, label: &str) {
    harness.get_by_label(label).scroll_to_me();
    harness.run();
    harness.get_by_label(label).click();
    harness.run();
}

fn offcut(harness: &Harness<'_, Window>, name: &str) -> Offcut {
    let project = harness.state().session.project();
    let found = project
        .offcut(name)
        .unwrap_or_else(|| panic!("no offcut {name}"));
    Offcut::clone(found)
}

fn plan(harness: &Harness<'_, Window>) -> LayPlan {
    let project = harness.state().session.project();
    let fitting = project.fitting(FITTING).unwrap();
    fitting.lay_plan.clone().unwrap_or_default()
}

fn undo(harness: &mut Harness<'_, Window>) {
    harness.state_mut().ask(Command::Undo);
    harness.run();
}

fn says(harness: &Harness<'_, Window>) -> String {
    harness.state().session.message.clone().unwrap_or_default()
}

/// Is this told anywhere in the window?
fn told(harness: &Harness<'_, Window>, words: &str) -> bool {
    harness.query_all_by_label_contains(words).next().is_some()
}

/// Gives the keys to what is called so.
fn focus(harness: &mut Harness<'_, Window>, part_of_label: &str) {
    harness.get_by_label_contains(part_of_label).focus();
    harness.run();
}

fn lay_out(harness: &mut Harness<'_, Window>, steps: &str) {
    click(harness, "Lay leaf");
    type_over(harness, "Steps of the search", steps);
    click(harness, "Lay out");
}

#[test]
fn a_rectangle_is_typed_and_undo_takes_it_off_again() {
    let mut harness = cloth(project());
    type_over(&mut harness, "Width of the offcut", "300");
    type_over(&mut harness, "Height of the offcut", "20 cm");
    click(&mut harness, "Add a rectangle");
    let cloth = offcut(&harness, "Offcut 1");
    assert!((cloth.area() - 60_000.0).abs() < 1e-6);
    assert!(told(&harness, "Offcut 1: 300 x 200 mm, 600 cm\u{b2}"));
    assert!(
        harness
            .query_by_label("Offcut Offcut 1, 300 x 200 mm")
            .is_some()
    );
    undo(&mut harness);
    assert!(harness.state().session.project().offcuts.is_empty());
}

#[test]
fn an_outline_is_typed_point_by_point_and_a_corner_moved_by_an_arrow() {
    let mut harness = cloth(project());
    click(&mut harness, "Draw it");
    for (x, y) in [("0", "0"), ("200", "0"), ("120", "150")] {
        type_over(&mut harness, "x of the next point", x);
        type_over(&mut harness, "y of the next point", y);
        click(&mut harness, "Add this point");
    }
    click(&mut harness, "Close the outline");
    assert!((offcut(&harness, "Offcut 1").area() - 15_000.0).abs() < 1e-6);
    focus(&mut harness, "Corner 2 of Offcut 1");
    harness.key_press(Key::ArrowRight);
    harness.run();
    assert!((offcut(&harness, "Offcut 1").area() - 15_075.0).abs() < 1e-6);
    undo(&mut harness);
    undo(&mut harness);
    assert!(harness.state().session.project().offcuts.is_empty());
}

#[test]
fn an_outline_that_crosses_itself_stays_in_the_hand_with_the_reason() {
    let mut harness = cloth(project());
    click(&mut harness, "Draw it");
    for (x, y) in [("0", "0"), ("100", "100"), ("100", "0"), ("0", "100")] {
        type_over(&mut harness, "x of the next point", x);
        type_over(&mut harness, "y of the next point", y);
        click(&mut harness, "Add this point");
    }
    harness.key_press(Key::Enter);
    harness.run();
    assert!(
        says(&harness).contains("crosses itself"),
        "{}",
        says(&harness)
    );
    assert!(harness.state().session.project().offcuts.is_empty());
    harness.key_press(Key::Escape);
    harness.run();
    assert!(harness.query_by_label("Draw it").is_some());
}

#[test]
fn a_pulled_thread_sets_the_grain_and_says_how_sure_it_is() {
    let mut harness = cloth(with_cloth(300.0, 200.0));
    click(&mut harness, "Offcut Rest, 300 x 200 mm");
    click(&mut harness, "Draw a pulled thread");
    for (x, y) in [("100", "20"), ("70", "60")] {
        type_over(&mut harness, "x of the next point", x);
        type_over(&mut harness, "y of the next point", y);
        click(&mut harness, "Add this point");
    }
    let cloth = offcut(&harness, "Rest");
    assert!((cloth.grain.0 - 36.869_897_645_844).abs() < 1e-6);
    // Typed to a twentieth of a millimetre: 0.1 mm over 50 mm.
    let doubt = (0.1_f64 / 50.0).atan().to_degrees();
    assert!((cloth.grain_doubt.0 - doubt).abs() < 1e-9);
    assert!(
        says(&harness).contains("A thread of 50 mm"),
        "{}",
        says(&harness)
    );
}

#[test]
fn a_stain_is_drawn_and_made_a_hole_and_taken_out() {
    let mut harness = cloth(with_cloth(300.0, 200.0));
    click(&mut harness, "Offcut Rest, 300 x 200 mm");
    click(&mut harness, "A new stain is good for: inside only");
    click(&mut harness, "Draw a stain");
    for (x, y) in [("10", "10"), ("40", "10"), ("10", "40")] {
        type_over(&mut harness, "x of the next point", x);
        type_over(&mut harness, "y of the next point", y);
        click(&mut harness, "Add this point");
    }
    click(&mut harness, "Close the outline");
    let blemish = offcut(&harness, "Rest").blemishes[0].clone();
    assert!(!blemish.is_hole && blemish.good_for == GoodFor::Inside);
    click(&mut harness, "Place 1: hole");
    assert!(offcut(&harness, "Rest").blemishes[0].is_hole);
    click(&mut harness, "Take out place 1");
    assert!(offcut(&harness, "Rest").blemishes.is_empty());
}

#[test]
fn a_piece_is_laid_by_keys_alone_and_what_it_hits_is_told() {
    let mut harness = cloth(with_cloth(700.0, 500.0));
    focus(&mut harness, "Front, waits");
    harness.key_press(Key::Enter);
    harness.run();
    assert!(told(&harness, "Front is free on Rest, in the hand"));
    harness.key_press(Key::Enter);
    harness.run();
    let placed = plan(&harness).placed[0].clone();
    assert_eq!(placed.piece, "Front");
    // Over the edge: told, not recorded, and put back by Escape.
    focus(&mut harness, "Front, on Rest");
    for _ in 0..60 {
        harness.key_press(Key::ArrowLeft);
        harness.run();
    }
    assert!(told(&harness, "sticks out over the edge by"));
    harness.key_press(Key::Escape);
    harness.run();
    assert_eq!(plan(&harness).placed, std::slice::from_ref(&placed));
    // Two steps up and set down: one step of undo.
    focus(&mut harness, "Front, on Rest");
    for _ in 0..2 {
        harness.key_press(Key::ArrowUp);
        harness.run();
    }
    harness.key_press(Key::Enter);
    harness.run();
    let moved = plan(&harness).placed[0].clone();
    assert!((moved.moved.1 - placed.moved.1 - 2.0).abs() < 1e-9);
    undo(&mut harness);
    assert_eq!(plan(&harness).placed, [placed]);
}

#[test]
fn a_piece_set_down_over_another_goes_back() {
    let mut harness = cloth(with_cloth(700.0, 500.0));
    for name in ["Front, waits", "Back, waits"] {
        focus(&mut harness, name);
        harness.key_press(Key::Enter);
        harness.run();
        harness.key_press(Key::Enter);
        harness.run();
    }
    let before = plan(&harness);
    assert_eq!(before.placed.len(), 2);
    let at = |harness: &Harness<'_, Window>, name: &str| {
        harness.get_by_label_contains(name).rect().center()
    };
    let (front, back) = (
        at(&harness, "Front, on Rest"),
        at(&harness, "Back, on Rest"),
    );
    drag(&mut harness, back, front, "overlaps Front by");
    assert_eq!(plan(&harness), before);
    assert!(
        says(&harness).contains("it went back"),
        "{}",
        says(&harness)
    );
}

/// Drags from one place to another; something with these words must be told on the way.
fn drag(harness: &mut Harness<'_, Window>, from: egui::Pos2, to: egui::Pos2, told: &str) {
    harness.hover_at(from);
    harness.step();
    harness.drag_at(from);
    harness.step();
    for i in 1..=6 {
        harness.hover_at(from.lerp(to, i as f32 / 6.0));
        harness.step();
    }
    // What is told of a place is told a frame later.
    harness.step();
    let all: Vec<String> = harness
        .query_all_by_label_contains("Pocket")
        .filter_map(|node| node.accesskit_node().label())
        .collect();
    assert!(self::told(harness, told), "{told}: {all:?}");
    harness.drop_at(to);
    harness.run();
}

#[test]
fn a_waiting_piece_is_dragged_onto_the_cloth_and_off_again() {
    let mut harness = cloth(with_cloth(700.0, 500.0));
    let from = harness
        .get_by_label_contains("Pocket, left, waits")
        .rect()
        .center();
    let caption = harness.get_by_label("Offcut Rest, 700 x 500 mm").rect();
    let to = caption.center() + egui::vec2(200.0, 120.0);
    let before = harness.state().session.view;
    drag(&mut harness, from, to, "Pocket, left is free on Rest");
    assert_eq!(
        harness.state().session.view,
        before,
        "the table has not moved"
    );
    assert_eq!(plan(&harness).placed.len(), 1);
    let lies = harness
        .get_by_label_contains("Pocket, left, on Rest")
        .rect()
        .center();
    // Back to where it waited: the table has not moved under the hand.
    drag(&mut harness, lies, from, "lies on no cloth here");
    assert!(plan(&harness).placed.is_empty());
}

#[test]
fn a_pinned_piece_stays_while_the_rest_is_laid_around_it() {
    let mut harness = cloth(with_cloth(700.0, 500.0));
    focus(&mut harness, "Front, waits");
    for _ in 0..2 {
        harness.key_press(Key::Enter);
        harness.run();
    }
    focus(&mut harness, "Front, on Rest");
    harness.key_press(Key::P);
    harness.run();
    let pinned = plan(&harness).placed[0].clone();
    assert!(pinned.pinned);
    click(&mut harness, "Lay leaf");
    type_over(&mut harness, "Steps of the search", "400");
    click(&mut harness, "Finish around what I pinned");
    let after = plan(&harness);
    assert!(after.placed.contains(&pinned));
    assert!(after.placed.len() > 3);
}

#[test]
fn what_is_marked_as_cut_is_locked_until_the_mark_is_taken_away() {
    let mut harness = cloth(with_cloth(700.0, 500.0));
    focus(&mut harness, "Front, waits");
    for _ in 0..2 {
        harness.key_press(Key::Enter);
        harness.run();
    }
    click(&mut harness, "Cut leaf");
    focus(&mut harness, "Front, on Rest");
    click(&mut harness, "Mark as cut");
    let cut = plan(&harness);
    assert!(cut.placed[0].as_cut.is_some());
    focus(&mut harness, "Front, on Rest, cut");
    harness.key_press(Key::ArrowUp);
    harness.run();
    assert!(
        says(&harness).contains("is cut already"),
        "{}",
        says(&harness)
    );
    assert_eq!(plan(&harness), cut);
    click(&mut harness, "It is not cut after all");
    assert!(plan(&harness).placed[0].as_cut.is_none());
}

#[test]
fn how_a_piece_is_laid_is_chosen_and_given_back() {
    let mut harness = cloth(with_cloth(700.0, 500.0));
    click(&mut harness, "Lay leaf");
    focus(&mut harness, "Front, waits");
    type_over(&mut harness, "Off the grain, this piece", "5");
    let laying = |harness: &Harness<'_, Window>| {
        let project = harness.state().session.project();
        project.fitting(FITTING).unwrap().laying.clone()
    };
    let chosen = laying(&harness).pieces["Front"];
    assert_eq!(chosen.grain_tolerance.map(|t| t.0), Some(5.0));
    click(&mut harness, "Lay it as usual");
    assert!(laying(&harness).pieces.is_empty());
    type_over(&mut harness, "Room between pieces", "2");
    assert_eq!(laying(&harness).gap, Mm(2.0));
}

#[test]
fn a_piece_is_turned_by_keys_only_within_its_grain_tolerance() {
    let mut harness = cloth(with_cloth(700.0, 500.0));
    focus(&mut harness, "Front, waits");
    for _ in 0..2 {
        harness.key_press(Key::Enter);
        harness.run();
    }
    focus(&mut harness, "Front, on Rest");
    for _ in 0..9 {
        harness.key_press(Key::Comma);
        harness.run();
    }
    harness.key_press(Key::Enter);
    harness.run();
    let placed = plan(&harness).placed[0].clone();
    assert!((placed.turn.0 - 2.0).abs() < 1e-9, "{}", placed.turn.0);
}
