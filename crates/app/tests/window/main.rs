//! The window by label: what a maker clicks and types, and what becomes of the project.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod body;
#[path = "../common/mod.rs"]
mod common;
mod files;

use common::{FITTING, drag_slider, harness, harness_of, project, type_over, window};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use petitoile::command::Command;
use petitoile::settings::Ghost;
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::finding::{Finding, Gravity, Place};
use petitoile_core::fitting::Fitting;
use petitoile_core::measure::Measure;
use petitoile_core::{LengthUnit, Mm};

fn fitting(harness: &egui_kittest::Harness<'_, petitoile::window::Window>) -> Fitting {
    (**harness.state().session.project().fitting(FITTING).unwrap()).clone()
}

#[test]
fn a_piece_and_then_its_edge_are_chosen_on_the_table_and_get_a_width_of_their_own() {
    let mut harness = harness(project());
    harness.key_press(Key::F3);
    harness.run();
    harness.get_by_label("Pocket, cut 2").click();
    harness.run();
    assert_eq!(
        harness.state().session.chosen.piece.as_deref(),
        Some("Pocket")
    );
    harness.get_by_label_contains("Pocket, top,").click();
    harness.run();
    assert_eq!(harness.state().session.chosen.edge.as_deref(), Some("top"));
    harness.get_by_label("Give it a width of its own").click();
    harness.run();
    assert_eq!(fitting(&harness).allowances.single.len(), 1);
    harness.get_by_label("As all others").click();
    harness.run();
    assert!(fitting(&harness).allowances.single.is_empty());
}

#[test]
fn pieces_that_grow_stay_in_view_once_the_change_is_made_but_not_while_it_is_tried() {
    let mut harness = harness(project());
    let scale =
        |h: &egui_kittest::Harness<'_, petitoile::window::Window>| h.state().session.view.scale;
    let before = scale(&harness);
    let hem = Edit::Fitting {
        fitting: FITTING.to_owned(),
        change: FittingEdit::SetHem(Mm(60.0)),
    };
    harness.state_mut().ask(Command::Try(hem.clone()));
    harness.run();
    assert_eq!(scale(&harness), before);
    harness.state_mut().ask(Command::Edit(hem));
    harness.run();
    assert!(scale(&harness) < before, "{} {before}", scale(&harness));
}

#[test]
fn findings_stand_worst_first_and_are_counted_by_how_grave_they_are() {
    let mut window = window(project());
    let found = |gravity, edge: &str| Finding {
        gravity,
        place: Place::edge("Back", edge),
        what: "too narrow by 2 mm".to_owned(),
        advice: String::new(),
        remedy: None,
    };
    let mut worked = (**window.session.work.done.as_ref().unwrap()).clone();
    worked.findings = (0..30)
        .map(|_| found(Gravity::Note, "hem"))
        .chain([
            found(Gravity::Care, "waist"),
            found(Gravity::Unusable, "side"),
        ])
        .collect();
    worked
        .findings
        .sort_by_key(|f| std::cmp::Reverse(f.gravity));
    window.session.work.done = Some(std::sync::Arc::new(worked));
    let harness = harness_of(window, egui::vec2(1280.0, 800.0));
    for count in ["1 unusable", "1 to look at", "30 notes"] {
        assert!(harness.query_by_label_contains(count).is_some(), "{count}");
    }
    let top = |label: &str| harness.get_by_label(label).rect().top();
    assert!(top("Show me: Back, side") < top("Show me: Back, waist"));
    let table = harness.get_by_label("Table").rect();
    assert!(
        table.height() > 300.0,
        "the list must leave the table its room"
    );
}

#[test]
fn choices_of_the_fit_tray_reach_the_fitting() {
    let mut harness = harness(project());
    harness.key_press(Key::F3);
    harness.run();
    for (label, check) in [
        (
            "Ease: the same",
            (|f: &Fitting| f.ease == petitoile_core::ease::EasePolicy::Absolute)
                as fn(&Fitting) -> bool,
        ),
        ("Details follow: girth", |f| {
            f.details == petitoile_core::fitting::DetailRule::Girth
        }),
        ("Wears shoes", |f| f.with_shoes),
        ("Add a layer", |f| f.worn_underneath == [Mm(0.3)]),
    ] {
        harness.get_by_label(label).scroll_to_me();
        harness.run();
        harness.get_by_label(label).click();
        harness.run();
        assert!(check(&fitting(&harness)), "{label}");
    }
}

#[test]
fn the_paper_tray_turns_the_sheet_and_shows_its_pages() {
    let mut harness = harness(project());
    harness.key_press(Key::F6);
    harness.run();
    let upright = harness.state().session.work.pages.clone().expect("pages");
    assert!(!upright.pages.is_empty());
    let label = format!("Page 1 of {}", upright.pages.len());
    assert!(harness.query_by_label(&label).is_some());
    harness.get_by_label("Lying: on its side").click();
    harness.run();
    let turned = harness.state().session.work.pages.clone().expect("pages");
    assert!(turned.size.0 > turned.size.1);
}

#[test]
fn at_twice_the_size_the_last_entry_of_a_menu_is_still_reached() {
    let mut window = window(project());
    window.session.apply(Command::Scale(2.0));
    let mut harness = harness_of(window, egui::vec2(640.0, 400.0));
    harness.get_by_label("Look").click();
    harness.run();
    harness.get_by_label("Size 125 %").scroll_to_me();
    harness.run();
    let entry = harness.get_by_label("Size 125 %").rect();
    let window = harness.ctx.content_rect();
    assert!(window.contains_rect(entry), "{entry:?} {window:?}");
    harness.get_by_label("Size 125 %").click();
    harness.run();
    assert_eq!(harness.state().session.settings.scale, 1.25);
}

#[test]
fn letter_paper_is_told_in_inches_to_a_maker_who_reads_inches() {
    let mut window = window(project());
    window
        .session
        .apply(Command::Edit(Edit::SetUnit(LengthUnit::Inch)));
    let mut harness = harness_of(window, egui::vec2(1280.0, 800.0));
    harness.key_press(Key::F6);
    harness.run();
    harness.get_by_label("Paper: Letter").click();
    harness.run();
    let size = "8 1/2 x 11 in each";
    assert!(harness.query_by_label_contains(size).is_some());
}

#[test]
fn show_me_goes_to_the_place_and_chooses_it() {
    let mut window = window(project());
    window
        .session
        .apply(Command::ShowPlace(Place::edge("Back", "hem")));
    let mut harness = harness_of(window, egui::vec2(1280.0, 800.0));
    let session = &harness.state().session;
    assert_eq!(session.chosen.edge.as_deref(), Some("hem"));
    let back = session.work.table.piece("Back").unwrap().on_table();
    assert!(
        back.contains(session.view.middle),
        "{:?} {:?}",
        back,
        session.view.middle
    );
    let close = session.view.scale;
    harness.key_press(Key::Home);
    harness.run();
    assert!(harness.state().session.view.scale < close);
}

#[test]
fn a_finding_shows_its_place_and_does_what_helps_as_one_step() {
    let mut window = window(project());
    let remedy = Edit::Fitting {
        fitting: FITTING.to_owned(),
        change: FittingEdit::SetHem(Mm(4.0)),
    };
    let found = Finding {
        gravity: Gravity::Care,
        place: Place::edge("Back", "hem"),
        what: "the hem is 2 mm too wide for its curve.".to_owned(),
        advice: "Make it 4 mm.".to_owned(),
        remedy: Some(remedy),
    };
    let mut worked = (**window.session.work.done.as_ref().unwrap()).clone();
    worked.findings.insert(0, found);
    window.session.work.done = Some(std::sync::Arc::new(worked));
    let mut harness = harness_of(window, egui::vec2(1280.0, 800.0));
    harness.get_by_label("Show me: Back, hem").click();
    harness.run();
    assert_eq!(harness.state().session.chosen.edge.as_deref(), Some("hem"));
    harness.get_by_label("Do this: hem 4 mm").click();
    harness.run();
    assert_eq!(fitting(&harness).allowances.hem, Mm(4.0));
    assert_eq!(harness.state().session.history.steps(), 1);
    assert!(harness.query_by_label("last change: hem 4 mm").is_some());
}

#[test]
fn keys_pan_zoom_and_change_trays() {
    let mut harness = harness(project());
    let view = harness.state().session.view;
    harness.key_press(Key::Plus);
    harness.run();
    assert!(harness.state().session.view.scale > view.scale);
    harness.key_press(Key::ArrowRight);
    harness.run();
    assert!(harness.state().session.view.middle.x > view.middle.x);
    harness.key_press(Key::F6);
    harness.run();
    assert_eq!(
        harness.state().session.tray,
        petitoile::session::Tray::Paper
    );
}

#[test]
fn a_drag_on_the_bare_table_pans_it() {
    let mut harness = harness(project());
    let view = harness.state().session.view;
    let rect = harness.get_by_label("Table").rect();
    let from = rect.left_bottom() + egui::vec2(8.0, -8.0);
    harness.drag_at(from);
    harness.step();
    for i in 1..=6 {
        harness.hover_at(from + egui::vec2(10.0 * i as f32, 0.0));
        harness.step();
    }
    harness.drop_at(from + egui::vec2(60.0, 0.0));
    harness.run();
    assert!(harness.state().session.view.middle.x < view.middle.x);
}

#[test]
fn every_piece_and_notch_on_the_table_is_read_out() {
    let harness = harness(project());
    for label in [
        "Front, cut 1 on fold",
        "Back, cut 1 on fold",
        "Pocket, cut 2",
    ] {
        assert!(harness.query_by_label(label).is_some(), "{label}");
    }
    let notches: Vec<String> = harness
        .state()
        .session
        .work
        .table
        .pieces
        .iter()
        .flat_map(|p| p.notches.iter().map(|(_, label)| label.clone()))
        .collect();
    for notch in notches {
        assert!(harness.query_by_label(&notch).is_some(), "{notch}");
    }
}

#[test]
fn inches_are_read_and_shown_everywhere_once_chosen() {
    let mut harness = harness(project());
    harness.get_by_label("Project").click();
    harness.run();
    harness.get_by_label("Read and type inches").click();
    harness.run();
    assert_eq!(harness.state().session.project().unit, LengthUnit::Inch);
    let field = harness.get_by_role_and_label(egui::accesskit::Role::TextInput, "Waist girth");
    assert!(field.value().unwrap().contains("10"), "{:?}", field.value());
}

#[test]
fn the_window_is_whole_at_a_small_size_and_at_twice_the_scale() {
    for (size, scale) in [
        (egui::vec2(1280.0, 800.0), 1.0),
        (egui::vec2(1280.0, 800.0), 2.0),
        (egui::vec2(640.0, 420.0), 1.0),
    ] {
        let mut window = window(project());
        window.session.apply(Command::Scale(scale));
        let mut harness = harness_of(window, size);
        for key in [Key::F1, Key::F2, Key::F3, Key::F4, Key::F6] {
            harness.key_press(key);
            harness.run();
        }
        let table = harness.get_by_label("Table").rect();
        assert!(
            table.width() * scale >= 200.0 && table.height() * scale >= 120.0,
            "{size:?} {scale}: {table:?}"
        );
    }
}

#[test]
fn the_source_stands_behind_at_the_same_height_or_its_true_size_or_not_at_all() {
    use kurbo::Shape;
    let mut window = window(project());
    let height = |window: &petitoile::window::Window| {
        window
            .session
            .work
            .table
            .piece("Front")
            .unwrap()
            .ghost
            .as_ref()
            .map(|ghost| ghost.bounding_box().height())
    };
    let drawn = project().garments[0]
        .piece("Front")
        .unwrap()
        .outline
        .bounds()
        .height();
    // The woman is 1680 mm tall, the doll 450 mm.
    assert!((height(&window).unwrap() - drawn * 450.0 / 1680.0).abs() < 1e-6);
    window.session.apply(Command::Ghost(Ghost::TrueSize));
    assert!((height(&window).unwrap() - drawn).abs() < 1e-6);
    window.session.apply(Command::Ghost(Ghost::Hidden));
    assert_eq!(height(&window), None);
}

#[test]
fn the_table_says_in_words_what_lies_on_it() {
    let window = window(project());
    let text = window.session.work.table.describe();
    let lines: Vec<&str> = text.lines().collect();
    let heads: Vec<&str> = lines
        .iter()
        .filter(|l| !l.starts_with(' '))
        .map(|l| l.split(" at ").next().unwrap())
        .collect();
    assert_eq!(
        heads,
        [
            "Front, cut 1 on fold",
            "Back, cut 1 on fold",
            "Pocket, cut 2"
        ]
    );
    let top = lines
        .iter()
        .find(|l| l.starts_with("  Pocket, top, "))
        .unwrap();
    let allowance = LengthUnit::Millimetre.show(window.session.fitting().unwrap().allowances.seam);
    assert!(top.ends_with(&format!("allowance {allowance}")), "{top}");
    assert_eq!(lines.iter().filter(|l| **l == "  source behind").count(), 3);
}

#[test]
fn everything_stays_in_view_when_the_window_changes_its_size_until_a_hand_moves_it() {
    let mut harness = harness(project());
    let scale =
        |h: &egui_kittest::Harness<'_, petitoile::window::Window>| h.state().session.view.scale;
    let wide = scale(&harness);
    harness.set_size(egui::vec2(1000.0, 560.0));
    harness.run();
    let small = scale(&harness);
    assert!(small < wide, "{small} {wide}");
    harness.key_press(Key::Plus);
    harness.run();
    let by_hand = scale(&harness);
    harness.set_size(egui::vec2(1280.0, 800.0));
    harness.run();
    assert!((scale(&harness) - by_hand).abs() < 1e-12);
}

#[test]
fn a_worker_beside_the_window_gives_the_same_table() {
    let mut session = petitoile::session::Session::new(project(), None, Default::default(), || {});
    while session.work.done.is_none() {
        session.collect();
        std::thread::yield_now();
    }
    assert_eq!(
        session.work.table.describe(),
        window(project()).session.work.table.describe()
    );
    assert!(!session.is_working());
}

/// A file as the desktop hands it over when it is dropped.
#[derive(Debug)]
struct Dropped(std::path::PathBuf);

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &std::path::Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|trouble| trouble.to_string())
    }
}
