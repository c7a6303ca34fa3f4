//! The Body tray and figures by label: what is typed, dragged, chosen, and what becomes of the project.

use super::*;

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
