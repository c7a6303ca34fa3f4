//! The Bulk leaf of the Fit tray by label: limits typed, stacks unfolded, shown and helped.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod common;

use common::{click, on_tray, type_over};
use egui::Key;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use petitoile::window::Window;
use petitoile_core::Mm;
use petitoile_core::bulk::Bulk;
use petitoile_core::finding::Gravity;
use petitoile_core::making_order::By;

/// The Bulk leaf on a demo.
fn leaf(demo: &str) -> Harness<'static, Window> {
    let mut harness = on_tray(petitoile::demos::named(demo).unwrap(), Key::F3);
    click(&mut harness, "Bulk leaf");
    harness
}

fn bulk(harness: &Harness<'_, Window>) -> Bulk {
    let worked = harness.state().session.work.done.clone().unwrap();
    worked.beyond.bulk.clone()
}

fn cares(harness: &Harness<'_, Window>, words: &str) -> usize {
    let findings = harness.state().session.findings().iter();
    findings
        .filter(|f| f.gravity == Gravity::Care && f.what.contains(words))
        .count()
}

#[test]
fn a_weaker_machine_finds_stacks_that_are_too_thick_and_the_usual_one_none() {
    let mut harness = leaf("harbour-jacket");
    assert!(
        harness
            .query_by_label_contains("These are usual limits")
            .is_some()
    );
    assert_eq!(cares(&harness, "your machine takes"), 0);
    type_over(&mut harness, "Thickest stack", "1 mm");
    assert_eq!(harness.state().session.project().machine.thickest, Mm(1.0));
    let over = bulk(&harness).stacks.iter().filter(|s| s.is_over()).count();
    assert!(over > 0);
    assert!(cares(&harness, "your machine takes") > 0);
    assert!(
        harness
            .query_by_label_contains("These are usual limits")
            .is_none()
    );
    click(&mut harness, "Usual limits");
    assert!(harness.state().session.project().machine.is_usual());
    assert_eq!(cares(&harness, "your machine takes"), 0);
}

#[test]
fn a_stack_unfolds_to_its_section_is_shown_and_sewn_by_hand() {
    let mut harness = leaf("harbour-jacket");
    type_over(&mut harness, "Thickest stack", "1 mm");
    let judged = bulk(&harness)
        .stacks
        .into_iter()
        .find(|s| s.is_over() && s.by == By::Machine)
        .unwrap();
    let stack = &judged.stack;
    let name = match stack.where_words() {
        words if words.is_empty() => stack.name.clone(),
        words => format!("{}, {words}", stack.name),
    };
    click(&mut harness, &format!("Stack {name}, too much"));
    // The picture says how many layers lie there, and which.
    let heap = stack.sewn().unwrap();
    let said = format!("Section {}: {} layers", heap.moment.words(), heap.count);
    assert!(harness.query_by_label_contains(&said).is_some(), "{said}");
    click(&mut harness, &format!("Show me the stack: {name}"));
    assert!(harness.state().session.chosen.piece.is_some());
    let remedy = judged.remedies.last().unwrap();
    assert!(remedy.words.ends_with("by hand"), "{}", remedy.words);
    click(&mut harness, &remedy.words);
    let fitting = harness.state().session.fitting().unwrap().clone();
    assert!(fitting.making.by.values().any(|by| *by == By::Hand));
}

#[test]
fn what_is_turned_stands_with_the_width_it_needs() {
    let harness = leaf("harbour-jacket");
    let all = bulk(&harness);
    let sleeve = all.turned.iter().find(|one| one.name == "sleeve").unwrap();
    assert!(
        harness
            .query_by_label_contains(&format!("Sleeve, {}", sleeve.way.words()))
            .is_some()
    );
    assert!(
        harness
            .query_by_label("Show me what is turned: sleeve")
            .is_some()
    );
}
