//! The Dressing leaf by label, and the same in the report: what a maker clicks and types, and what becomes of it.

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
use egui::accesskit::Role;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use petitoile::report::fit::FitReport;
use petitoile::whole_way;
use petitoile::window::Window;
use petitoile_core::Mm;
use petitoile_core::closure::Closure;
use petitoile_core::dressing::{HeadDress, Passage, Way};
use petitoile_core::project::Project;

fn demo(name: &str) -> Project {
    petitoile::demos::named(name).unwrap()
}

/// The Dressing leaf on the first fitting of a project.
fn leaf(project: Project) -> Harness<'static, Window> {
    let mut harness = on_tray(project, Key::F3);
    harness.get_by_label("Dressing leaf").click();
    harness.run();
    harness
}

fn passage(harness: &Harness<'_, Window>, name: &str) -> Passage {
    let worked = harness.state().session.work.done.clone().unwrap();
    let passages = &worked.beyond.dressing.passages;
    passages.iter().find(|p| p.name == name).unwrap().clone()
}

fn closure(harness: &Harness<'_, Window>, opening: &str) -> Option<Closure> {
    harness
        .state()
        .session
        .fitting()
        .unwrap()
        .closures
        .get(opening)
        .copied()
}

#[test]
fn the_leaf_says_in_which_way_the_smock_goes_on_and_what_is_tightest() {
    let mut harness = leaf(demo("net-menders-smock"));
    assert!(harness.query_by_label_contains("Over the head: ").is_some());
    assert!(harness.query_by_label_contains("Feet first: ").is_some());
    assert!(harness.query_by_label("Head with wig").is_some());
    assert!(harness.query_by_label("Head without wig").is_none());
    click(&mut harness, "Head: without its wig");
    assert!(harness.query_by_label("Head with wig").is_none());
    assert!(harness.query_by_label("Head without wig").is_some());
    // What is seen is a look, no change.
    assert_eq!(harness.state().session.history.steps(), 0);
}

#[test]
fn a_closure_is_chosen_sized_and_taken_back() {
    let mut harness = leaf(demo("net-menders-smock"));
    let list = "Closure of back";
    harness
        .get_by_role_and_label(Role::ComboBox, list)
        .scroll_to_me();
    harness.run();
    harness.get_by_role_and_label(Role::ComboBox, list).click();
    harness.run();
    harness.get_by_label("Hook-and-loop tape").click();
    harness.run();
    let Some(Closure::HookAndLoop { width }) = closure(&harness, "back") else {
        panic!("{:?}", closure(&harness, "back"));
    };
    assert!(width.0 > 0.0);
    type_over(&mut harness, "Width of back", "9 mm");
    assert_eq!(
        closure(&harness, "back"),
        Some(Closure::HookAndLoop { width: Mm(9.0) })
    );
    // 9 mm of tape want 12 mm; the smock's back meets edge to edge.
    let words = "Overlap needed 12 mm; the sides meet edge to edge.";
    assert!(harness.query_by_label(words).is_some());
    let found = harness
        .state()
        .session
        .findings()
        .iter()
        .any(|f| f.what.contains("12.0 mm short"));
    assert!(found, "{:?}", harness.state().session.findings());
    assert_eq!(harness.state().session.history.steps(), 2);
    for _ in 0..2 {
        harness.key_press_modifiers(egui::Modifiers::COMMAND, Key::Z);
        harness.run();
    }
    assert_eq!(closure(&harness, "back"), None);
}

/// On a doll with a large head one click opens the seam as far as she needs.
#[test]
fn a_seam_is_opened_further_by_one_click() {
    use petitoile_core::edit::{Edit, FittingEdit};
    use petitoile_core::measure::Measure;
    let project = demo("net-menders-smock");
    let fitting = project.fittings[0].name.clone();
    let head = |mm| Edit::Fitting {
        fitting: fitting.clone(),
        change: FittingEdit::SetMeasure(Measure::HeadGirthWithWig, Mm(mm)),
    };
    let now = leaf(project.clone());
    // 30 mm more than the smock lets through now.
    let mut harness = leaf(
        project
            .edited(&head(passage(&now, "back").open.0 + 30.0))
            .unwrap(),
    );
    let before = passage(&harness, "back");
    assert!(!before.lets_in(Way::OverHead, HeadDress::Wig));
    click(&mut harness, "Open further: back");
    let after = passage(&harness, "back");
    assert!(after.lets_in(Way::OverHead, HeadDress::Wig), "{after:?}");
    let needed = before.slit_needed(Way::OverHead, HeadDress::Wig).0;
    assert!(
        (after.slit.0 - needed).abs() < 0.05,
        "{} {needed}",
        after.slit.0
    );
    assert_eq!(harness.state().session.history.steps(), 1);
}

/// Two parts on 280 mm with a loop of 30, an end of 40 and a band of 5: bow 120, so 190 and 330 mm (G/4, 3 G/4 + bow).
#[test]
fn the_length_of_a_tie_follows_what_is_typed() {
    let mut harness = leaf(demo("sunday-skirts"));
    for (field, typed) in [
        ("Girth to tie", "280 mm"),
        ("Band", "5 mm"),
        ("Bow loop", "30 mm"),
        ("Hanging end", "40 mm"),
    ] {
        harness
            .get_by_role_and_label(Role::TextInput, field)
            .scroll_to_me();
        harness.run();
        type_over(&mut harness, field, typed);
    }
    for words in [
        "Two parts, bow behind, each: 190 mm",
        "Two parts, crossed and back in front, each: 330 mm",
        "Sash, once round, bow: 520 mm",
        "Sash, twice round, bow: 800 mm",
    ] {
        assert!(harness.query_by_label(words).is_some(), "{words}");
    }
    click(&mut harness, "Round: neck");
    assert!(
        harness
            .query_by_label("Two parts, bow behind, each: 190 mm")
            .is_none()
    );
}

#[test]
fn sleeves_over_the_smock_have_less_room_than_over_a_bare_arm() {
    let mut harness = leaf(demo("net-menders-smock"));
    let worked = harness.state().session.work.done.clone().unwrap();
    let room = worked.beyond.dressing.arms.last().unwrap().clone();
    let bare = petitoile_core::LengthUnit::Millimetre.show_bare(room.margin);
    let field = "Thickness of a tried undersleeve";
    harness
        .get_by_role_and_label(Role::TextInput, field)
        .scroll_to_me();
    harness.run();
    assert!(harness.query_all_by_label(&bare).count() > 0, "{bare}");
    type_over(&mut harness, field, "0.5 mm");
    type_over(&mut harness, "Fullness of a tried undersleeve", "2");
    let dressed = petitoile_core::dressing::undersleeve_girth(
        room.dressed,
        Mm(0.5),
        2.0 * room.arm.0 / room.dressed.0,
    );
    let words = petitoile_core::LengthUnit::Millimetre.show_bare(dressed);
    assert!(harness.query_all_by_label(&words).count() > 0, "{words}");
}

/// Every demo fitting: the report holds what the core says, and its margins are opening less what passes.
#[test]
fn the_report_adds_up_for_every_demo_and_every_doll_gets_in() {
    let mut stuck: Vec<String> = Vec::new();
    for name in [
        "harbour-jacket",
        "net-menders-smock",
        "sunday-skirts",
        "sunday-on-the-quay",
    ] {
        let project = demo(name);
        for fitting in &project.fittings {
            let worked = whole_way::work(&project, &fitting.name).unwrap();
            let report = FitReport::of(&project, &worked);
            let section = &report.dressing;
            assert_eq!(
                section.openings.len(),
                worked.beyond.dressing.passages.len()
            );
            for opening in &section.openings {
                assert!((opening.opens.0 - opening.hole.0 - 2.0 * opening.slit.0).abs() < 1e-9);
                assert!(
                    !opening.passing.is_empty(),
                    "{}: {}",
                    fitting.name,
                    opening.name
                );
                for part in &opening.passing {
                    let needs = part.body.0 - part.give.0 + part.cloth.0;
                    assert!(
                        (part.margin.0 - opening.opens.0 + needs).abs() < 1e-9,
                        "{part:?}"
                    );
                }
            }
            let open = section.missing.iter().all(|hole| hole.margin.0 >= -0.05);
            if !open || !section.ways.iter().any(|way| way.goes_on) {
                stuck.push(format!("{}: {}", fitting.name, section.text(project.unit)));
            }
        }
    }
    assert!(stuck.is_empty(), "{}", stuck.join("\n"));
}

#[test]
fn the_text_names_every_opening_with_what_it_lets_through() {
    let project = demo("net-menders-smock");
    let worked = whole_way::work(&project, &project.fittings[0].name).unwrap();
    let text = FitReport::of(&project, &worked).dressing.text(project.unit);
    for words in [
        "Dressing: over the head",
        "back",
        "head with wig",
        "cuff",
        "hand",
        "closed by",
    ] {
        assert!(text.contains(words), "{words} in\n{text}");
    }
}
