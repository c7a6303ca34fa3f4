//! The Ease and Figure leaves of the Fit tray, by their labels.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod common;

use common::{on_tray, project};
use egui::Key;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use petitoile::demos;
use petitoile::whole_way::Other;
use petitoile::window::Window;
use petitoile_core::project::Project;

fn on_fit(project: Project) -> Harness<'static, Window> {
    on_tray(project, Key::F3)
}

fn on_figure(project: Project) -> Harness<'static, Window> {
    let mut harness = on_fit(project);
    harness.get_by_label("Figure leaf").click();
    harness.run();
    harness
}

/// The label of the painted figure.
fn told(harness: &Harness<'_, Window>) -> String {
    harness
        .get_by_label_contains("Measure figure of")
        .accesskit_node()
        .label()
        .unwrap()
}

#[test]
fn the_figure_shows_a_ring_for_every_girth_and_a_hem_and_says_what_it_is() {
    let harness = on_figure(project());
    for ring in ["Ring waist:", "Ring hip:", "Ring hem:"] {
        harness.get_by_label_contains(ring);
    }
    harness.get_by_label_contains("not a drape");
}

#[test]
fn the_figure_turns_by_its_buttons_and_by_the_arrow_keys() {
    let mut harness = on_figure(project());
    assert!(told(&harness).contains("turned 0 degrees"));
    harness.get_by_label("Figure: side").click();
    harness.run();
    assert!(told(&harness).contains("turned 90 degrees"));
    harness.get_by_label_contains("Measure figure of").focus();
    harness.run();
    harness.key_press(Key::ArrowLeft);
    harness.run();
    assert!(
        told(&harness).contains("turned 105 degrees"),
        "{}",
        told(&harness)
    );
    harness.get_by_label("Figure: front").click();
    harness.run();
    assert!(told(&harness).contains("turned 0 degrees"));
}

#[test]
fn dragging_turns_the_figure() {
    let mut harness = on_figure(project());
    let rect = harness.get_by_label_contains("Measure figure of").rect();
    let from = egui::pos2(rect.left() + 30.0, rect.top() + 30.0);
    harness.hover_at(from);
    harness.step();
    harness.drag_at(from);
    harness.step();
    for i in 1..=5 {
        harness.hover_at(from + egui::vec2(10.0 * i as f32, 0.0));
        harness.step();
    }
    harness.drop_at(from + egui::vec2(50.0, 0.0));
    harness.run();
    assert!(
        !told(&harness).contains("turned 0 degrees"),
        "{}",
        told(&harness)
    );
}

#[test]
fn a_ring_shows_its_place_on_the_pieces() {
    let mut harness = on_figure(project());
    assert!(harness.state().session.chosen.piece.is_none());
    harness.get_by_label_contains("Ring waist:").click();
    harness.run();
    assert!(harness.state().session.chosen.piece.is_some());
}

#[test]
fn the_ease_table_tells_what_handbooks_give_with_its_source() {
    let mut harness = on_fit(demos::first().unwrap());
    let row = harness.get_by_label("Tape line bust");
    row.scroll_to_me();
    harness.run();
    harness.get_by_label("Tape line bust").click();
    harness.run();
    harness.get_by_label_contains("Handbooks: ");
    harness.get_by_label_contains("room of");
    harness.get_by_label_contains("It sits: ");
}

#[test]
fn a_fitting_is_put_beside_another_and_taken_away_again() {
    let mut harness = on_fit(demos::first().unwrap());
    let other = harness.state().session.project().fittings[1].name.clone();
    harness
        .state_mut()
        .ask(petitoile::command::Command::Beside(vec![Other::Fitting(
            other.clone(),
        )]));
    harness.run();
    let compared = harness.state().session.work.compared.clone().unwrap();
    assert_eq!(compared.beside.columns.len(), 2);
    assert_eq!(compared.beside.columns[1].0, other);
    assert!(compared.troubles.is_empty());
    let away = format!("Take away: {other}");
    harness.get_by_label(&away).scroll_to_me();
    harness.run();
    harness.get_by_label(&away).click();
    harness.run();
    assert!(harness.state().session.beside.is_empty());
    assert!(harness.state().session.work.compared.is_none());
}

#[test]
fn one_pattern_is_put_on_three_dolls() {
    let mut harness = on_fit(demos::first().unwrap());
    let dolls = petitoile_exchange::body_table::built_in();
    let on = |key: &str| Other::Body(dolls.iter().find(|body| body.key == key).unwrap().clone());
    let others = vec![on("fashion-40"), on("jointed-42")];
    harness
        .state_mut()
        .ask(petitoile::command::Command::Beside(others));
    harness.run();
    let compared = harness.state().session.work.compared.clone().unwrap();
    assert_eq!(compared.beside.columns.len(), 3);
    let bust = compared
        .beside
        .rows
        .iter()
        .find(|row| row.name == "bust")
        .unwrap();
    let bodies: Vec<f64> = bust
        .cells
        .iter()
        .flatten()
        .map(|cell| cell.here.body.0)
        .collect();
    assert_eq!(bodies.len(), 3);
    assert!(bodies[0] > bodies[1] && bodies[1] > bodies[2], "{bodies:?}");
}
