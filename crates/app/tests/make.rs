//! The Make tray by label: what a maker ticks, moves and chooses, and what becomes of the project and the sheet.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod common;

use common::{click, harness_of, on_tray, window};
use egui::Key;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use petitoile::command::Command;
use petitoile::whole_way;
use petitoile::window::Window;
use petitoile_core::fitting::Fitting;
use petitoile_core::making_order::By;
use petitoile_core::making_sheet::{MakingSheet, SheetStep};
use petitoile_core::project::Project;
use petitoile_exchange::project_file;

/// The smock in the Make tray.
fn make(project: Project) -> Harness<'static, Window> {
    on_tray(project, Key::F7)
}

fn smock() -> Harness<'static, Window> {
    make(petitoile::demos::named("net-menders-smock").unwrap())
}

fn sheet(harness: &Harness<'_, Window>) -> MakingSheet {
    MakingSheet::clone(harness.state().session.work.making.as_ref().unwrap())
}

fn fitting(harness: &Harness<'_, Window>) -> Fitting {
    let session = &harness.state().session;
    let name = session.fitting.clone().unwrap();
    Fitting::clone(session.project().fitting(&name).unwrap())
}

fn unfold(harness: &mut Harness<'_, Window>, step: &SheetStep) {
    let start = format!("Step {}: {}", step.number, step.sentence);
    let row = |harness: &Harness<'_, Window>| {
        let mut named = harness.get_all_by_label_contains(&start);
        named.find_map(|node| {
            node.accesskit_node()
                .label()
                .filter(|l| l.starts_with(&start))
        })
    };
    let row = row(harness).unwrap();
    click(harness, &row);
}

#[test]
fn a_ticked_step_is_counted_undone_by_undo_and_there_after_saving_and_opening() {
    let mut harness = smock();
    let all = sheet(&harness).steps.len();
    assert!(
        harness
            .query_all_by_label_contains(&format!("0 of {all} done"))
            .count()
            >= 1
    );
    click(&mut harness, "Done: step 1");
    assert!(
        harness
            .query_all_by_label_contains(&format!("1 of {all} done"))
            .count()
            >= 1
    );
    let key = sheet(&harness).steps[0].key.clone();
    assert!(fitting(&harness).making.done.contains(&key));
    let bytes = project_file::write(harness.state().session.project()).unwrap();
    click(&mut harness, "Undo");
    assert!(fitting(&harness).making.done.is_empty());
    let again = make(project_file::read(bytes.as_bytes()).unwrap());
    assert!(sheet(&again).steps[0].done);
    assert!(
        again
            .query_all_by_label_contains(&format!("1 of {all} done"))
            .count()
            >= 1
    );
}

#[test]
fn a_chosen_step_shows_its_picture_its_words_and_its_edge_on_the_table() {
    let mut harness = smock();
    let sheet = sheet(&harness);
    let step = sheet
        .steps
        .iter()
        .find(|step| {
            step.picture.is_some() && step.place.as_ref().is_some_and(|p| p.part.is_some())
        })
        .unwrap();
    unfold(&mut harness, step);
    let label = format!("Picture of step {}: ", step.number);
    assert!(harness.query_by_label_contains(&label).is_some(), "{label}");
    assert!(harness.query_by_label_contains(&step.notes[0]).is_some());
    let chosen = harness.state().session.chosen.clone();
    assert_eq!(chosen.piece, step.place.as_ref().unwrap().piece);
    assert_eq!(chosen.edge, step.place.as_ref().unwrap().part);
    // Folded again.
    unfold(&mut harness, step);
    assert!(harness.query_by_label_contains(&label).is_none());
}

#[test]
fn a_step_sewn_by_hand_is_kept_and_given_back_to_the_program() {
    let mut harness = smock();
    let sheet_now = sheet(&harness);
    let step = sheet_now
        .steps
        .iter()
        .find(|step| step.by == By::Machine && !step.by_why.is_empty())
        .unwrap();
    unfold(&mut harness, step);
    click(&mut harness, &format!("Step {}: By hand", step.number));
    assert_eq!(fitting(&harness).making.by.get(&step.key), Some(&By::Hand));
    let same = sheet(&harness)
        .steps
        .into_iter()
        .find(|s| s.key == step.key)
        .unwrap();
    assert_eq!(same.by, By::Hand);
    click(&mut harness, "As found");
    assert!(fitting(&harness).making.by.is_empty());
}

#[test]
fn a_step_moved_before_what_it_needs_is_told_beside_it_at_once_and_put_back() {
    let mut harness = smock();
    let before = sheet(&harness);
    let order = harness
        .state()
        .session
        .work
        .done
        .as_ref()
        .unwrap()
        .beyond
        .order
        .clone();
    // The first step that follows straight on one it needs.
    let at = (1..order.steps.len())
        .find(|i| order.steps[*i].after.contains(&order.steps[*i - 1].key))
        .unwrap();
    let step = &before.steps[at];
    unfold(&mut harness, step);
    click(&mut harness, &format!("Earlier: step {}", step.number));
    let moved = fitting(&harness).making.moved;
    assert_eq!(moved.len(), 1);
    assert_eq!(
        (&moved[0].step, moved[0].before.as_ref()),
        (&step.key, Some(&before.steps[at - 1].key))
    );
    let after = sheet(&harness);
    let place = after.steps.iter().position(|s| s.key == step.key).unwrap();
    assert_eq!(place, at - 1, "it has moved up one place");
    let findings = harness
        .state()
        .session
        .work
        .done
        .as_ref()
        .unwrap()
        .beyond
        .order
        .findings
        .clone();
    assert!(!findings.is_empty(), "what it breaks is told");
    let beside = findings
        .iter()
        .find(|f| f.what.contains(&format!("\"{}\"", step.key)))
        .unwrap();
    let start: String = beside.advice.chars().take(30).collect();
    assert!(
        harness.query_all_by_label_contains(&start).next().is_some(),
        "{start}"
    );
    click(&mut harness, "Back to the program's order");
    assert!(fitting(&harness).making.moved.is_empty());
    let keys = |sheet: &MakingSheet| {
        sheet
            .steps
            .iter()
            .map(|s| s.key.clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(keys(&sheet(&harness)), keys(&before));
}

#[test]
fn the_lining_method_is_chosen_in_the_tray_and_changes_the_steps() {
    let mut harness = make(petitoile::demos::named("harbour-jacket").unwrap());
    let before = sheet(&harness);
    click(&mut harness, "Lining: Flat-lined");
    assert_eq!(
        fitting(&harness).making.lining,
        Some(petitoile_core::making_order::LiningMethod::FlatLined)
    );
    let after = sheet(&harness);
    assert_ne!(
        before.steps.iter().map(|s| &s.key).collect::<Vec<_>>(),
        after.steps.iter().map(|s| &s.key).collect::<Vec<_>>()
    );
}

#[test]
fn the_making_sheet_is_written_as_a_pdf_from_the_window() {
    let mut harness = smock();
    let folder = std::env::temp_dir().join(format!("petitoile-make-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("sheet.pdf");
    let session = &harness.state().session;
    let worked = session.work.done.as_ref().unwrap().clone();
    let unit = session.shown().unit;
    let expected = whole_way::pdf(&whole_way::making_pages(&worked, unit));
    harness.state_mut().ask(Command::ExportFile(
        petitoile::command::Export::MakingSheet,
        file.clone(),
    ));
    harness.run();
    assert_eq!(std::fs::read(&file).unwrap(), expected);
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn every_demo_is_shown_in_a_small_window_without_trouble() {
    for name in ["harbour-jacket", "sunday-skirts", "net-menders-smock"] {
        let project = petitoile::demos::named(name).unwrap();
        let mut harness = harness_of(window(project), egui::vec2(900.0, 600.0));
        harness.key_press(Key::F7);
        harness.run();
        let sheet = sheet(&harness);
        assert!(!sheet.steps.is_empty(), "{name}");
        unfold(&mut harness, &sheet.steps[0]);
        assert!(harness.query_by_label_contains("Progress: ").is_some());
    }
}

#[test]
fn a_mistake_is_told_with_the_seams_to_unpick_and_unpicking_takes_their_ticks_away() {
    let mut harness = smock();
    click(&mut harness, "A mistake was made");
    assert!(
        harness
            .query_by_label_contains("Tick what is sewn first")
            .is_some()
    );
    // Everything up to the first seam is done.
    let steps = sheet(&harness).steps;
    let order = harness.state().session.work.done.clone().unwrap();
    let is_seam = |key: &str| {
        let step = order.beyond.order.step(key).unwrap();
        matches!(step.work, petitoile_core::making_order::Work::Seam { .. })
    };
    let seam = steps.iter().position(|step| is_seam(&step.key)).unwrap();
    for step in &steps[..=seam] {
        click(&mut harness, &format!("Done: step {}", step.number));
    }
    assert_eq!(fitting(&harness).making.done.len(), seam + 1);
    // The last one sewn is asked about first.
    assert!(
        harness
            .query_all_by_label_contains("1 seam to unpick")
            .next()
            .is_some()
    );
    click(&mut harness, "Unpicked: way 1");
    let done = fitting(&harness).making.done;
    assert!(!done.contains(&steps[seam].key));
    assert_eq!(done.len(), seam);
}

/// Front and back yoke taken for each other: everything sewn to either is wrong.
#[test]
fn any_two_copies_can_have_been_taken_for_each_other() {
    let mut harness = smock();
    click(&mut harness, "A mistake was made");
    let steps = sheet(&harness).steps;
    let worked = harness.state().session.work.done.clone().unwrap();
    let of = |key: &str| worked.beyond.order.step(key).unwrap().clone();
    let shoulder = |key: &str| key.starts_with("sew shoulder");
    let last = steps.iter().rposition(|s| shoulder(&s.key)).unwrap();
    for step in &steps[..=last] {
        click(&mut harness, &format!("Done: step {}", step.number));
    }
    click(&mut harness, "Mistake: Two copies swapped");
    let names = |label: &str| {
        let node = harness.get_by_label(label);
        node.accesskit_node().value().unwrap_or_default()
    };
    assert_ne!(names("This copy"), names("Taken for"));
    let sewn = steps[..=last].iter().filter(|s| {
        let step = of(&s.key);
        matches!(step.work, petitoile_core::making_order::Work::Seam { .. })
            && 1 < step.copies.len()
    });
    assert!(1 < sewn.count());
    let told = harness
        .query_all_by_label_contains("to unpick")
        .next()
        .is_some();
    assert!(told, "the ways back are told");
}
