//! Bringing in by label: a drawing, its pages, a picture; guesses put right, proposals accepted, everything undone.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod common;

use std::path::PathBuf;
use std::sync::Arc;

use common::{harness_of_busy, project, type_over, window};
use egui::Key;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use petitoile::command::Command;
use petitoile::session::Tray;
use petitoile::window::Window;
use petitoile::{demos, whole_way};
use petitoile_core::fitting::Fitting;

/// A folder of this test's own, removed with it.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let path = std::env::temp_dir().join(format!("petitoile-{name}-{}", std::process::id()));
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    fn put(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.0.join(name);
        std::fs::write(&path, bytes).unwrap();
        path
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        std::fs::remove_dir_all(&self.0).ok();
    }
}

/// A window into which this file is being brought.
fn bringing(file: PathBuf) -> Harness<'static, Window> {
    bringing_all(vec![file])
}

/// A window into which these files are being brought together.
fn bringing_all(files: Vec<PathBuf>) -> Harness<'static, Window> {
    let mut harness = harness_of_busy(window(project()), egui::vec2(1280.0, 1700.0));
    harness.step();
    harness.state_mut().ask(Command::BringInFiles(files));
    harness
}

/// Frames until something is told; the readers work beside the window.
fn until_told(harness: &mut Harness<'_, Window>, words: &str) {
    for _ in 0..2000 {
        harness.step();
        if harness.query_all_by_label_contains(words).next().is_some() {
            harness.step();
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    panic!("never told: {words}");
}

fn click(harness: &mut Harness<'_, Window>, label: &str) {
    harness.get_by_label(label).scroll_to_me();
    harness.step();
    harness.step();
    harness.get_by_label(label).click();
    for _ in 0..4 {
        harness.step();
    }
}

fn told(harness: &Harness<'_, Window>, words: &str) -> bool {
    harness.query_all_by_label_contains(words).next().is_some()
}

fn jacket_svg() -> String {
    let project = demos::first().unwrap();
    let fitting = project.fittings[0].name.clone();
    let worked = whole_way::work(&project, &fitting).unwrap();
    whole_way::svg(&worked, project.unit)
}

#[test]
fn a_drawing_becomes_a_garment_of_the_project_and_undo_takes_it_out_again() {
    let folder = Folder::new("bring-svg");
    let mut harness = bringing(folder.put("harbour_jacket.svg", jacket_svg()));
    until_told(&mut harness, "5 pieces");
    assert!(told(&harness, "front: cut 2"));
    assert!(
        harness.query_by_label_contains("sleeve, cut 2").is_some(),
        "on the table, too"
    );
    let before = harness.state().session.project().garments.len();
    click(&mut harness, "Ready leaf");
    let all = harness.get_by_label_contains("Accept all ");
    let words = all.accesskit_node().label().unwrap_or_default();
    let count: usize = words.rsplit(' ').next().unwrap().parse().unwrap();
    assert!(count > 0 && count <= 25, "{words}");
    click(&mut harness, &words);
    until_told(&mut harness, "Everything that is proposed is answered.");
    click(&mut harness, "Take it in");
    let project = harness.state().session.project().clone();
    assert_eq!(project.garments.len(), before + 1);
    let garment = project.garment("harbour jacket").unwrap();
    assert_eq!(garment.pieces.len(), 5);
    assert!(!harness.state().bring_in.is_open());
    harness.state_mut().ask(Command::Undo);
    harness.step();
    harness.step();
    assert_eq!(harness.state().session.project().garments.len(), before);
}

#[test]
fn a_guess_is_put_right_by_a_name_and_undone_before_anything_is_taken_in() {
    let folder = Folder::new("bring-name");
    let mut harness = bringing(folder.put("jacket.svg", jacket_svg()));
    until_told(&mut harness, "5 pieces");
    let row = harness
        .get_all_by_label_contains("cuff: cut 2")
        .next()
        .unwrap()
        .accesskit_node()
        .label()
        .unwrap_or_default();
    click(&mut harness, &row);
    type_over(&mut harness, "Name of the piece", "wristband");
    harness.key_press(Key::Enter);
    until_told(&mut harness, "wristband: cut 2");
    harness.key_press_modifiers(egui::Modifiers::COMMAND, Key::Z);
    until_told(&mut harness, "cuff: cut 2");
    click(&mut harness, "Give it up");
    assert!(!harness.state().bring_in.is_open());
    assert_eq!(harness.state().session.project().garments.len(), 1);
}

#[test]
fn a_line_in_no_piece_is_chosen_and_said_to_be_a_part() {
    let folder = Folder::new("bring-line");
    let svg = "<svg xmlns='http://www.w3.org/2000/svg' width='300mm' height='200mm' viewBox='0 0 300 200'>\
        <path d='M10 10h100v100h-100z' fill='none' stroke='#000'/>\
        <path d='M200 20l40 90' fill='none' stroke='#000'/></svg>";
    let mut harness = bringing(folder.put("bag.svg", svg));
    until_told(&mut harness, "1 piece");
    let is_one_line = told(&harness, "drawn with one line");
    assert!(is_one_line, "asked which line it is");
    click(&mut harness, "The only line: the cut line");
    until_told(&mut harness, "Allowance in it");
    assert!(told(&harness, "in no piece"));
}

#[test]
fn a_file_that_is_no_drawing_is_told_and_nothing_changes() {
    let folder = Folder::new("bring-bad");
    let mut harness = bringing(folder.put("letter.svg", "Dear aunt"));
    until_told(
        &mut harness,
        "letter.svg: this is no SVG, DXF, PDF, PNG or JPEG",
    );
    click(&mut harness, "Give it up");
    assert!(!harness.state().bring_in.is_open());
    assert_eq!(harness.state().session.project().garments.len(), 1);
}

/// A dark square of 100 mm and an A4 sheet on a mid ground, 4 pixels a mm, seen from straight above.
fn picture() -> Vec<u8> {
    let side = |mm: f64| (mm * 4.0) as u32;
    let (sheet, piece) = ((20.0, 20.0, 210.0, 297.0), (270.0, 120.0, 100.0, 100.0));
    let within = |x: u32, y: u32, (left, top, wide, high): (f64, f64, f64, f64)| {
        (side(left)..side(left + wide)).contains(&x) && (side(top)..side(top + high)).contains(&y)
    };
    // A little noise, the same every time, as any camera has.
    let noise = |x: u32, y: u32| (x.wrapping_mul(7919) ^ y.wrapping_mul(104_729)) % 5;
    let image = image::RgbImage::from_fn(side(400.0), side(340.0), |x, y| {
        let tone = if within(x, y, sheet) {
            240
        } else if within(x, y, piece) {
            45
        } else {
            140
        };
        image::Rgb([(tone + noise(x, y)) as u8; 3])
    });
    let mut bytes = std::io::Cursor::new(Vec::new());
    image.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
    bytes.into_inner()
}

/// Finds the sheet of paper in the picture on the table.
fn find_sheet(harness: &mut Harness<'_, Window>) {
    until_told(harness, "Find the sheet");
    click(harness, "Find the sheet");
    until_told(harness, "Find the outlines");
}

/// Lays the picture under the pieces of the Chalk table.
fn draw_over(harness: &mut Harness<'_, Window>) {
    find_sheet(harness);
    click(harness, "Draw over it by hand");
    until_told(harness, "Picture piece.png under the pieces");
}

#[test]
fn a_piece_in_a_picture_is_traced_beside_a_sheet_of_paper() {
    let folder = Folder::new("bring-picture");
    let mut harness = bringing(folder.put("piece.png", picture()));
    find_sheet(&mut harness);
    click(&mut harness, "Find the outlines");
    until_told(&mut harness, "1 piece");
    click(&mut harness, "The only line: the stitch line");
    until_told(&mut harness, "1 piece");
    click(&mut harness, "Take it in");
    let project = harness.state().session.project().clone();
    let garment = project.garment("piece").unwrap();
    let outline = &garment.pieces[0].outline;
    let long: f64 = outline.edges().iter().map(|e| e.line.length()).sum();
    assert!(
        (long - 400.0).abs() < 2.0,
        "{long} mm round a square of 100 mm"
    );
}

/// Clicks a place of the table, mm from the upper left corner of the picture under the pieces, y down.
fn click_in_picture(harness: &mut Harness<'_, Window>, x: f64, y: f64) {
    let corner = harness
        .get_by_label("Picture piece.png: drag to move it")
        .rect()
        .center();
    let scale = harness.state().session.view.scale;
    let at = corner + egui::vec2((x * scale) as f32, (y * scale) as f32);
    harness.hover_at(at);
    harness.step();
    for pressed in [true, false] {
        harness.event(egui::Event::PointerButton {
            pos: at,
            button: egui::PointerButton::Primary,
            pressed,
            modifiers: egui::Modifiers::COMMAND,
        });
        harness.step();
    }
    harness.step();
}

#[test]
fn a_piece_in_a_picture_is_drawn_over_by_hand_in_its_true_size() {
    let folder = Folder::new("bring-draw-over");
    let mut harness = bringing(folder.put("piece.png", picture()));
    draw_over(&mut harness);
    assert_eq!(harness.state().session.tray, Tray::Chalk);
    assert!(!harness.state().bring_in.is_open());
    let before = harness.state().session.garment().unwrap().pieces.len();
    // The four corners of the dark square, as they lie in the picture; held Ctrl: nothing snaps.
    harness.event(egui::Event::ModifiersChanged(egui::Modifiers::COMMAND));
    for (x, y) in [
        (270.0, 120.0),
        (370.0, 120.0),
        (370.0, 220.0),
        (270.0, 220.0),
    ] {
        click_in_picture(&mut harness, x, y);
    }
    harness.event(egui::Event::ModifiersChanged(egui::Modifiers::NONE));
    click(&mut harness, "Close the line");
    let garment = harness.state().session.garment().unwrap().clone();
    assert_eq!(garment.pieces.len(), before + 1);
    let drawn = garment.pieces.last().unwrap();
    let long: f64 = drawn.outline.edges().iter().map(|e| e.line.length()).sum();
    // A screen point is half a millimetre here.
    assert!(
        (long - 400.0).abs() < 3.0,
        "{long} mm round a square of 100 mm"
    );
    // Hidden, turned, put away.
    click(&mut harness, "Picture: hidden");
    assert!(harness.query_by_label_contains("drag to move it").is_none());
    click(&mut harness, "Picture: pale");
    assert!(harness.query_by_label_contains("drag to move it").is_some());
    click(&mut harness, "Put the picture away");
    assert!(harness.query_by_label_contains("drag to move it").is_none());
    assert!(told(&harness, "Draw over a picture"));
}

#[test]
fn the_picture_under_the_pieces_moves_by_its_corner_and_by_arrow_keys() {
    let folder = Folder::new("bring-move-picture");
    let mut harness = bringing(folder.put("piece.png", picture()));
    draw_over(&mut harness);
    let label = "Picture piece.png: drag to move it";
    let at = |harness: &Harness<'_, Window>| harness.get_by_label(label).rect().center();
    let scale = harness.state().session.view.scale as f32;
    let before = at(&harness);
    harness.get_by_label(label).focus();
    harness.step();
    harness.key_press_modifiers(egui::Modifiers::SHIFT, Key::ArrowRight);
    for _ in 0..3 {
        harness.step();
    }
    let by = at(&harness) - before;
    assert!(
        (by - egui::vec2(10.0 * scale, 0.0)).length() < 0.1,
        "{by:?}"
    );
}

/// Three drawings of one square piece each.
fn squares(folder: &Folder) -> [PathBuf; 3] {
    [("front", 120), ("back", 110), ("pocket", 60)].map(|(name, side)| {
        let svg = format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='200mm' height='200mm' viewBox='0 0 200 200'>\
             <path d='M10 10h{side}v{side}h-{side}z' fill='none' stroke='#000'/>\
             <text x='20' y='40' font-size='8'>{name}</text></svg>"
        );
        folder.put(&format!("{name}.svg"), svg)
    })
}

#[test]
fn several_files_come_in_together_and_one_more_beside_them() {
    let folder = Folder::new("bring-several");
    let [front, back, pocket] = squares(&folder);
    let mut harness = bringing_all(vec![front.clone(), back.clone()]);
    until_told(&mut harness, "2 pieces;");
    click(&mut harness, "Pieces leaf");
    assert!(told(&harness, "front: cut") && told(&harness, "back: cut"));
    harness
        .state_mut()
        .ask(Command::BringInFiles(vec![pocket.clone()]));
    until_told(&mut harness, "3 pieces;");
    click(&mut harness, "Pieces leaf");
    for name in ["front", "back", "pocket"] {
        assert!(told(&harness, &format!("{name}: cut")), "{name}");
    }
    // A picture beside the drawings: it is traced first.
    let picture = folder.put("piece.png", picture());
    harness
        .state_mut()
        .ask(Command::BringInFiles(vec![picture, front.clone()]));
    until_told(&mut harness, "Leave this picture out, go on with front.svg");
    find_sheet(&mut harness);
    click(&mut harness, "Find the outlines");
    until_told(&mut harness, "4 pieces;");
    click(&mut harness, "Picture leaf");
    click(&mut harness, "Go on with front.svg");
    until_told(&mut harness, "5 pieces");
}

#[test]
fn files_asked_for_while_others_are_read_are_not_lost() {
    let folder = Folder::new("bring-meanwhile");
    let [front, back, pocket] = squares(&folder);
    let mut harness = bringing_all(vec![front, back]);
    harness.state_mut().ask(Command::BringInFiles(vec![pocket]));
    until_told(&mut harness, "3 pieces;");
}

#[test]
fn a_file_that_was_given_up_does_not_come_after_all() {
    let folder = Folder::new("bring-given-up");
    let [front, ..] = squares(&folder);
    let mut harness = bringing(folder.put("harbour_jacket.svg", jacket_svg()));
    harness.step();
    // Wherever the reader is by now.
    harness.key_press(egui::Key::Escape);
    harness.step();
    harness.step();
    assert!(!harness.state().bring_in.is_open());
    harness.state_mut().ask(Command::BringInFiles(vec![front]));
    until_told(&mut harness, "1 piece;");
    assert!(told(&harness, "front: cut") && !told(&harness, "sleeve: cut"));
}

#[test]
fn a_picture_used_otherwise_leaves_the_other_files_as_they_are() {
    let folder = Folder::new("bring-aside");
    let [front, back, _] = squares(&folder);
    let picture = folder.put("piece.png", picture());
    let mut harness = bringing_all(vec![front, picture, back]);
    find_sheet(&mut harness);
    click(&mut harness, "Find the outlines");
    until_told(&mut harness, "2 pieces;");
    click(&mut harness, "Picture leaf");
    click(&mut harness, "They are offcuts of cloth");
    assert_eq!(harness.state().session.project().offcuts.len(), 1);
    // What came before it and what waited go on.
    until_told(&mut harness, "2 pieces;");
    click(&mut harness, "Pieces leaf");
    assert!(told(&harness, "front: cut") && told(&harness, "back: cut"));
    assert!(harness.state().bring_in.is_open());
}

#[test]
fn an_offcut_in_a_picture_goes_onto_the_cloth_table() {
    let folder = Folder::new("bring-offcut");
    let mut harness = bringing(folder.put("piece.png", picture()));
    find_sheet(&mut harness);
    click(&mut harness, "Find the outlines");
    until_told(&mut harness, "1 piece");
    click(&mut harness, "Picture leaf");
    assert!(told(&harness, "Outline 1: exact within"));
    click(&mut harness, "They are offcuts of cloth");
    let project = harness.state().session.project().clone();
    assert_eq!(project.offcuts.len(), 1);
    let area = project.offcuts[0].area();
    // A square of 100 mm, to half a millimetre along its sides.
    assert!((area - 10_000.0).abs() < 100.0, "{area}");
    assert!(!harness.state().bring_in.is_open());
    assert_eq!(harness.state().session.tray, Tray::Cloth);
}

#[test]
fn the_pages_of_a_printed_sheet_join_by_their_lines() {
    let folder = Folder::new("bring-pages");
    // As it was drawn, for a grown woman: every piece is larger than a page.
    let mut project = demos::first().unwrap();
    let garment = project.garments[0].clone();
    let body = garment.made_for.clone();
    let whole = Fitting::new("full size", &garment.name, body);
    project.fittings = vec![Arc::new(whole)];
    let worked = whole_way::work(&project, "full size").unwrap();
    let count = worked.finished.pieces.len();
    let pdf = whole_way::pdf(&whole_way::pages(&worked, project.unit));
    let mut harness = bringing(folder.put("jacket.pdf", pdf));
    until_told(&mut harness, " pages. Drag one on the table");
    let rows: Vec<String> = harness
        .query_all_by_label_contains("page")
        .filter_map(|node| node.accesskit_node().label())
        .collect();
    assert!(
        told(&harness, "by its lines"),
        "pages found each other: {rows:?}"
    );
    click(&mut harness, "Pieces leaf");
    until_told(
        &mut harness,
        &petitoile::wording::count(count, "piece", "pieces"),
    );
}
