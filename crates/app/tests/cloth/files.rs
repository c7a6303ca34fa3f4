//! The stash, photos and what is printed.

use super::*;
use petitoile::command::Export;

#[test]
fn cloth_goes_into_the_stash_and_comes_back_and_the_rest_follows_after_cutting() {
    let folder = std::env::temp_dir().join(format!("petitoile-stash-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let mut harness = cloth(with_cloth(700.0, 500.0));
    harness
        .state_mut()
        .ask(Command::SaveFile(folder.join("skirt.petitoile")));
    harness.run();
    let before = offcut(&harness, "Rest");
    click(&mut harness, "Offcut Rest, 700 x 500 mm");
    click(&mut harness, "Put the chosen offcut into it");
    assert!(harness.state().session.project().offcuts.is_empty());
    click(&mut harness, "Take Rest from the stash");
    assert_eq!(offcut(&harness, "Rest"), before);
    assert!(harness.query_by_label("Take Rest from the stash").is_none());
    // One piece is cut; what is left goes back under another name.
    focus(&mut harness, "Front, waits");
    for _ in 0..2 {
        harness.key_press(Key::Enter);
        harness.run();
    }
    click(&mut harness, "Cut leaf");
    click(&mut harness, "All on Rest is cut");
    let piece = plan(&harness).placed[0].as_cut.clone().unwrap();
    click(&mut harness, "Put the rest of Rest into the stash");
    let stash = harness.state().session.stash.clone().unwrap();
    let rest: f64 = stash.offcuts.iter().map(Offcut::area).sum();
    let gone = petitoile_core::geometry::polygon::Polygon::new(piece)
        .area()
        .abs();
    assert!((before.area() - gone - rest).abs() < 0.01 * before.area());
    std::fs::remove_dir_all(&folder).ok();
}

#[test]
fn cloth_taken_from_the_stash_leaves_the_file_when_the_project_is_saved_and_not_before() {
    let folder = std::env::temp_dir().join(format!("petitoile-settle-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("skirt.petitoile");
    let in_file = || -> Vec<String> {
        let stash = petitoile::files::open_stash(&folder.join("cloth.stash")).unwrap();
        stash
            .offcuts
            .into_iter()
            .map(|offcut| offcut.name)
            .collect()
    };
    let mut harness = cloth(with_cloth(700.0, 500.0));
    let save = |harness: &mut Harness<'_, Window>| {
        harness.state_mut().ask(Command::SaveFile(file.clone()));
        harness.run();
    };
    save(&mut harness);
    click(&mut harness, "Offcut Rest, 700 x 500 mm");
    click(&mut harness, "Put the chosen offcut into it");
    save(&mut harness);
    assert_eq!(in_file(), ["Rest"]);
    click(&mut harness, "Take Rest from the stash");
    assert_eq!(in_file(), ["Rest"], "nothing is lost before it is saved");
    undo(&mut harness);
    save(&mut harness);
    assert_eq!(in_file(), ["Rest"], "it was not taken after all");
    click(&mut harness, "Look into the stash");
    click(&mut harness, "Take Rest from the stash");
    save(&mut harness);
    assert_eq!(in_file(), [""; 0]);
    std::fs::remove_dir_all(&folder).ok();
}

#[test]
fn the_lay_plan_is_written_to_scale_and_at_true_size() {
    let folder = std::env::temp_dir().join(format!("petitoile-lay-plan-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let mut harness = cloth(with_cloth(700.0, 500.0));
    let to_scale = folder.join("plan.pdf");
    harness
        .state_mut()
        .ask(Command::ExportFile(Export::LayPlan, to_scale.clone()));
    harness.run();
    assert!(
        says(&harness).contains("nothing is laid yet"),
        "{}",
        says(&harness)
    );
    assert!(!to_scale.exists());
    lay_out(&mut harness, "400");
    let true_size = folder.join("true size.pdf");
    for (export, file) in [
        (Export::LayPlan, &to_scale),
        (Export::LayPlanTrueSize, &true_size),
    ] {
        harness
            .state_mut()
            .ask(Command::ExportFile(export, file.clone()));
        harness.run();
        assert!(
            std::fs::read(file).unwrap().starts_with(b"%PDF-"),
            "{export:?}"
        );
    }
    std::fs::remove_dir_all(&folder).ok();
}

fn click_at(harness: &mut Harness<'_, Window>, p: egui::Pos2) {
    harness.hover_at(p);
    harness.step();
    harness.drag_at(p);
    harness.step();
    harness.drop_at(p);
    harness.run();
}

#[test]
fn cloth_is_traced_in_a_photo_after_a_known_length_was_shown() {
    let folder = std::env::temp_dir().join(format!("petitoile-photo-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("cloth.png");
    image::RgbImage::from_pixel(400, 200, image::Rgb([90, 120, 160]))
        .save(&file)
        .unwrap();
    let mut harness = cloth(project());
    harness.state_mut().ask(Command::PhotoFile(file));
    for _ in 0..400 {
        harness.run();
        if harness.query_by_label("Photo cloth.png").is_some() {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    let outline = harness.get_by_label("2. Trace its outline");
    assert!(outline.accesskit_node().is_disabled(), "no scale yet");
    harness.get_by_label("1. Show a known length").click();
    harness.run();
    let corner = harness.state().session.work.table.bounds();
    assert!(corner.is_some());
    // Before its scale is known the photo is shown 400 mm wide, its lower left corner beside everything else.
    let photo = |harness: &Harness<'_, Window>, x: f64, y: f64, mm: f64| {
        let left = harness
            .get_by_label_contains("Photo on the table")
            .rect()
            .left_bottom();
        let scale = harness.state().session.view.scale as f32;
        left + egui::vec2(x as f32, -y as f32) * mm as f32 * scale
    };
    for (x, y) in [(50.0, 100.0), (250.0, 100.0)] {
        let p = photo(&harness, x, y, 1.0);
        click_at(&mut harness, p);
    }
    type_over(&mut harness, "Known length in the photo", "100");
    click(&mut harness, "It is that long");
    click(&mut harness, "2. Trace its outline");
    for (x, y) in [(0.0, 0.0), (400.0, 0.0), (400.0, 200.0), (0.0, 200.0)] {
        let p = photo(&harness, x, y, 0.5);
        click_at(&mut harness, p);
    }
    harness.key_press(Key::Enter);
    harness.run();
    let traced = offcut(&harness, "Offcut 1");
    // 200 by 100 mm, to the width of a screen point.
    assert!(
        (traced.area() - 20_000.0).abs() < 300.0,
        "{}",
        traced.area()
    );
    std::fs::remove_dir_all(&folder).ok();
}

/// The smallest JPEG there is of a grey field, by an encoder of another house, its camera held a quarter turn (EXIF
/// orientation 6).
const TURNED: &[u8] = include_bytes!("turned.jpg");

#[test]
fn a_photo_taken_with_the_camera_turned_is_shown_upright() {
    let folder = std::env::temp_dir().join(format!("petitoile-jpeg-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("turned.jpg");
    std::fs::write(&file, TURNED).unwrap();
    let mut harness = cloth(project());
    harness.state_mut().ask(Command::PhotoFile(file));
    for _ in 0..400 {
        harness.run();
        if harness.query_by_label("Photo turned.jpg").is_some() {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    let shown = harness.get_by_label_contains("Photo on the table").rect();
    // 48 wide and 32 high in the file: upright it is 32 wide and 48 high.
    let shape = shown.height() / shown.width();
    assert!((shape - 1.5).abs() < 0.01, "{shape}");
    std::fs::remove_dir_all(&folder).ok();
}

#[test]
fn a_measured_thickness_is_told_against_what_is_reckoned_with_and_taken_over_by_one_click() {
    let mut project = with_cloth(300.0, 200.0);
    let fitting = Arc::make_mut(&mut project.fittings[0]);
    let linen = Cloth {
        name: "linen".to_owned(),
        thickness: Mm(0.3),
        source: String::new(),
    };
    fitting.cloths.insert(Role::Shell, linen);
    let mut harness = cloth(project);
    click(&mut harness, "Offcut Rest, 300 x 200 mm");
    type_over(&mut harness, "Thickness of the offcut", "0.5 mm");
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(offcut(&harness, "Rest").thickness, Some(Mm(0.5)));
    assert!(told(
        &harness,
        "Rest is 0.5 mm thick; the fitting reckons with 0.3 mm of linen."
    ));
}
