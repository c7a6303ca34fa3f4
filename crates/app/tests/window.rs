//! The window by label: what a maker clicks and types, and what becomes of the project.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod common;

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
fn a_tape_figure_typed_over_changes_the_body_and_undo_brings_it_back() {
    let mut harness = harness(project());
    type_over(&mut harness, "Waist girth", "10 1/4 in");
    let waist = |h: &_| fitting(h).body.measure(Measure::WaistGirth).value;
    assert!(
        (waist(&harness).0 - 260.35).abs() < 1e-9,
        "{:?}",
        waist(&harness)
    );
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    harness.run();
    assert_eq!(waist(&harness), Mm(265.0));
    harness.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    harness.run();
    assert!((waist(&harness).0 - 260.35).abs() < 1e-9);
}

#[test]
fn what_is_no_length_is_told_and_changes_nothing() {
    let mut harness = harness(project());
    type_over(&mut harness, "Waist girth", "wide");
    assert_eq!(harness.state().session.history.steps(), 0);
    assert!(
        harness
            .state()
            .session
            .message
            .as_ref()
            .unwrap()
            .starts_with("Waist girth")
    );
}

#[test]
fn a_slider_gesture_is_one_step_however_far_it_moved() {
    let mut harness = harness(project());
    harness.key_press(Key::F3);
    harness.run();
    let before = fitting(&harness).allowances.hem;
    drag_slider(&mut harness, "Hem", 0.8);
    let after = fitting(&harness).allowances.hem;
    assert!(after.0 > before.0 + 5.0, "{before:?} {after:?}");
    assert_eq!(harness.state().session.history.steps(), 1);
    harness.get_by_label("Change").click();
    harness.run();
    let step = format!("Undo: hem {}", LengthUnit::Millimetre.show(after));
    assert!(harness.query_by_label_contains(&step).is_some(), "{step}");
    harness.key_press(Key::Escape);
    harness.run();
    harness.get_by_label("Undo").click();
    harness.run();
    assert_eq!(fitting(&harness).allowances.hem, before);
}

#[test]
fn while_a_slider_moves_the_table_follows_and_nothing_is_recorded() {
    let mut window = window(project());
    let edit = |mm| Edit::Fitting {
        fitting: FITTING.to_owned(),
        change: FittingEdit::SetHem(Mm(mm)),
    };
    window.session.apply(Command::Try(edit(30.0)));
    assert_eq!(window.session.fitting().unwrap().allowances.hem, Mm(30.0));
    assert_eq!(
        window
            .session
            .work
            .done
            .as_ref()
            .unwrap()
            .adapted
            .fitting
            .allowances
            .hem,
        Mm(30.0)
    );
    assert_eq!(window.session.history.steps(), 0);
    assert!(!window.session.is_unsaved());
    window.session.apply(Command::StopTrying);
    assert_eq!(window.session.fitting().unwrap().allowances.hem, Mm(8.0));
}

#[test]
fn another_body_is_chosen_from_the_table() {
    let mut harness = harness(project());
    let names: Vec<String> = petitoile_exchange::body_table::built_in()
        .iter()
        .map(|b| b.name.clone())
        .collect();
    let doll = names
        .iter()
        .find(|name| name.contains("29 cm"))
        .expect("the table has a 29 cm doll");
    harness
        .get_by_role_and_label(egui::accesskit::Role::ComboBox, "Body")
        .click();
    harness.run();
    harness.get_by_label(doll).scroll_to_me();
    harness.run();
    harness.get_by_label(doll).click();
    harness.run();
    assert_eq!(&fitting(&harness).body.name, doll);
    assert_eq!(harness.state().session.history.steps(), 1);
}

#[test]
fn a_body_with_own_figures_is_kept_under_its_own_name() {
    let mut harness = harness(project());
    type_over(&mut harness, "Hip girth", "310 mm");
    harness.get_by_label("Name of the own body").scroll_to_me();
    harness.run();
    type_over(&mut harness, "Name of the own body", "Anna's doll");
    harness.get_by_label("Keep as own body").click();
    harness.run();
    let kept = harness
        .state()
        .session
        .project()
        .body("Anna's doll")
        .unwrap()
        .clone();
    assert_eq!(kept.measure(Measure::HipGirth).value, Mm(310.0));
}

#[test]
fn the_picture_shows_the_tape_of_the_measure_in_focus() {
    let mut harness = harness(project());
    harness
        .get_by_role_and_label(egui::accesskit::Role::TextInput, "Hip girth")
        .focus();
    harness.run();
    let found = harness
        .query_by_label_contains("tape at Hip girth")
        .is_some();
    assert!(found);
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
fn ease_at_a_tape_line_is_typed_and_taken_back() {
    let mut harness = harness(project());
    harness.key_press(Key::F3);
    harness.run();
    if harness
        .state()
        .session
        .work
        .done
        .as_ref()
        .unwrap()
        .adapted
        .ease
        .is_empty()
    {
        panic!("the adapted garment tells no ease");
    }
    harness.get_by_label("Tape line waist").click();
    harness.run();
    type_over(&mut harness, "Ease at waist", "12 mm");
    assert_eq!(fitting(&harness).demands["waist"].ease, Some(Mm(12.0)));
    type_over(&mut harness, "Ease at waist", "");
    assert!(fitting(&harness).demands.is_empty());
}

#[test]
fn a_finished_measure_and_how_long_it_is_kept_are_asked_for_one_tape_line() {
    let mut harness = harness(project());
    harness.key_press(Key::F3);
    harness.run();
    harness.get_by_label("Tape line waist").click();
    harness.run();
    type_over(&mut harness, "Finished measure at waist", "290 mm");
    assert_eq!(fitting(&harness).demands["waist"].measure, Some(Mm(290.0)));
    let waist = |h: &egui_kittest::Harness<'_, petitoile::window::Window>| {
        let worked = h.state().session.work.done.clone().unwrap();
        let row = worked.adapted.ease.iter().find(|row| row.name == "waist");
        row.unwrap().garment.1
    };
    assert!(
        (waist(&harness).0 - 290.0).abs() < 0.01,
        "{:?}",
        waist(&harness)
    );
    let keep = "waist, where not everything can be kept: let it go first";
    harness.get_by_label(keep).scroll_to_me();
    harness.run();
    harness.get_by_label(keep).click();
    harness.run();
    assert!(fitting(&harness).demands["waist"].rank > Some(8));
    type_over(&mut harness, "Finished measure at waist", "");
    let choice = fitting(&harness).demands["waist"];
    assert_eq!((choice.measure, choice.rank.is_some()), (None, true));
}

#[test]
fn a_stuffed_torso_gives_as_much_as_is_typed_and_undo_makes_it_rigid_again() {
    use petitoile_core::body::Torso;
    let mut harness = harness(project());
    assert_eq!(fitting(&harness).body.torso, Torso::Rigid);
    harness.get_by_label("Torso: soft, stuffed").scroll_to_me();
    harness.run();
    harness.get_by_label("Torso: soft, stuffed").click();
    harness.run();
    type_over(&mut harness, "A girth gives", "8 mm");
    assert_eq!(fitting(&harness).body.torso, Torso::Soft { give: Mm(8.0) });
    assert_eq!(harness.state().session.history.steps(), 2);
    for _ in 0..2 {
        harness.get_by_label("Undo").click();
        harness.run();
    }
    assert_eq!(fitting(&harness).body.torso, Torso::Rigid);
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
fn a_body_that_comes_with_the_program_is_offered_once() {
    let built_in = petitoile_exchange::body_table::built_in();
    let doll = built_in.iter().find(|b| b.name.contains("45 cm")).unwrap();
    let mut with_doll = project();
    with_doll.bodies.push(doll.clone());
    let mut harness = harness(with_doll);
    harness
        .get_by_role_and_label(egui::accesskit::Role::ComboBox, "Body")
        .click();
    harness.run();
    assert_eq!(harness.get_all_by_label(&doll.name).count(), 1);
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
fn unsaved_work_of_another_day_is_gone_on_with() {
    let folder = std::env::temp_dir().join(format!("petitoile-go-on-{}", std::process::id()));
    let recovery = petitoile::files::Recovery::in_folder(folder.clone());
    let mut lost = project();
    lost.name = "Half a skirt".to_owned();
    recovery
        .keep(&petitoile::files::Work::untitled(), &lost)
        .unwrap();
    let window = petitoile::window::Window::new(
        petitoile::session::Session::for_tests(project()),
        petitoile::chooser::Chooser::inside_the_window(),
        Some(recovery),
    );
    let mut harness = harness_of(window, egui::vec2(1280.0, 800.0));
    harness.get_by_label("Go on with it").click();
    harness.run();
    let session = &harness.state().session;
    assert_eq!(session.project().name, "Half a skirt");
    assert!(session.is_unsaved(), "no file holds it yet");
    assert!(harness.query_by_label("Go on with it").is_none());
    std::fs::remove_dir_all(&folder).unwrap();
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
fn every_demo_comes_onto_the_table_from_the_menu() {
    let mut harness = harness(project());
    for (name, _) in petitoile::demos::ALL {
        harness.get_by_label("Project").click();
        harness.run();
        let words = format!("Demo: {}", name.replace('-', " "));
        harness.get_by_label(&words).click();
        harness.run();
        let session = &harness.state().session;
        let demo = petitoile::demos::named(name).unwrap();
        assert_eq!(**session.project(), demo);
        assert!(!session.work.table.pieces.is_empty() && !session.is_unsaved());
    }
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
fn a_project_file_is_saved_and_opened_again_the_same() {
    let folder = std::env::temp_dir().join(format!("petitoile-window-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("skirt.petitoile");
    let mut harness = harness(project());
    type_over(&mut harness, "Hip girth", "310 mm");
    assert!(harness.state().session.is_unsaved());
    harness.state_mut().ask(Command::SaveFile(file.clone()));
    harness.run();
    assert!(
        !harness.state().session.is_unsaved(),
        "{:?}",
        harness.state().session.message
    );
    let saved = harness.state().session.project().clone();
    harness.state_mut().ask(Command::OpenFile(file));
    harness.run();
    assert_eq!(**harness.state().session.project(), *saved);
    assert_eq!(harness.state().session.history.steps(), 0);
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_broken_file_is_told_in_one_line_and_the_work_stays() {
    let file =
        std::env::temp_dir().join(format!("petitoile-broken-{}.petitoile", std::process::id()));
    std::fs::write(&file, "no project at all").unwrap();
    let mut harness = harness(project());
    harness.state_mut().ask(Command::OpenFile(file.clone()));
    harness.run();
    let message = harness.state().session.message.clone().unwrap();
    assert!(
        !message.contains('\n') && message.contains("petitoile-broken"),
        "{message}"
    );
    assert_eq!(**harness.state().session.project(), project());
    std::fs::remove_file(file).unwrap();
}

#[test]
fn the_chooser_inside_the_window_opens_a_project_and_can_be_cancelled() {
    let folder = std::env::temp_dir().join(format!("petitoile-chooser-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("other.petitoile");
    let mut other = project();
    other.name = "Another one".to_owned();
    petitoile::files::save(&file, &other, None).unwrap();
    let mut harness = harness(project());
    harness.key_press_modifiers(Modifiers::COMMAND, Key::O);
    harness.run();
    harness.get_by_label("Cancel").click();
    harness.run();
    assert!(harness.query_by_label("Cancel").is_none());
    harness.key_press_modifiers(Modifiers::COMMAND, Key::O);
    harness.run();
    type_over(&mut harness, "Folder", &folder.display().to_string());
    harness.get_by_label("other.petitoile").click();
    harness.run();
    harness.get_by_label("Open this").click();
    harness.run();
    assert_eq!(harness.state().session.project().name, "Another one");
    std::fs::remove_dir_all(&folder).unwrap();
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

#[test]
fn a_project_dropped_on_the_window_opens_and_unsaved_work_is_kept_first() {
    let folder = std::env::temp_dir().join(format!("petitoile-dropped-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("other.petitoile");
    let mut other = project();
    other.name = "Another one".to_owned();
    petitoile::files::save(&file, &other, None).unwrap();
    let recovery = petitoile::files::Recovery::in_folder(folder.join("kept"));
    let session = petitoile::session::Session::for_tests(project());
    let window = petitoile::window::Window::new(
        session,
        petitoile::chooser::Chooser::inside_the_window(),
        Some(recovery),
    );
    let mut harness = harness_of(window, egui::vec2(1280.0, 800.0));
    type_over(&mut harness, "Hip girth", "310 mm");
    harness
        .input_mut()
        .dropped_files
        .push(std::sync::Arc::new(Dropped(file)));
    harness.run();
    assert_eq!(harness.state().session.project().name, "Another one");
    let kept = std::fs::read_dir(folder.join("kept")).unwrap().count();
    assert_eq!(kept, 1, "the changed hip must not be lost");
    std::fs::remove_dir_all(&folder).unwrap();
}
