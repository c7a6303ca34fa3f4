//! Files of the window by label: demos, saved and broken files, unsaved work, the chooser, drops.

use super::*;

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
