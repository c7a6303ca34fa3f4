//! `petitoile bring-in` and what `export` writes: there and back, doubts told, bad files refused in one line.

use super::*;

/// The demo jacket as the program itself exports it.
fn exported(folder: &Folder, name: &str) {
    let ran = folder.run(&["export", "jacket.petitoile", "--out", name]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
}

#[test]
fn a_drawing_the_program_wrote_comes_in_again_and_can_be_adapted() {
    let folder = Folder::new();
    for name in ["jacket.svg", "jacket.dxf"] {
        exported(&folder, name);
        let out = format!("{name}.petitoile");
        let ran = folder.run(&["bring-in", name, "--out", &out, "--accept", "--json"]);
        assert_eq!(ran.code, Some(0), "{name}: {}", ran.err);
        let report: Value = serde_json::from_str(&ran.out).unwrap();
        assert_eq!(report["pieces"].as_array().unwrap().len(), 5, "{name}");
        let names: Vec<&str> = report["pieces"]
            .as_array()
            .unwrap()
            .iter()
            .map(|piece| piece["name"].as_str().unwrap())
            .collect();
        for piece in ["front", "back", "sleeve", "cuff", "collar"] {
            assert!(names.contains(&piece), "{name}: {names:?}");
        }
        assert_eq!(report["scale_taken"], Value::Null, "{name}");
        let project = folder.project(&out);
        assert_eq!(project.garments.len(), 1);
        assert_eq!(project.garments[0].pieces.len(), 5);
    }
}

#[test]
fn what_is_brought_in_is_told_in_words_with_its_doubts() {
    let folder = Folder::new();
    // A square of 100 mm with one line only, and a stroke that belongs to nothing.
    folder.put(
        "bag.svg",
        "<svg xmlns='http://www.w3.org/2000/svg' width='300mm' height='200mm' viewBox='0 0 300 200'>\
         <path d='M10 10h100v100h-100z' fill='none' stroke='#000'/>\
         <path d='M200 20l40 90' fill='none' stroke='#000'/></svg>",
    );
    let ran = folder.run(&[
        "bring-in",
        "bag.svg",
        "--out",
        "bag.petitoile",
        "--one-line",
        "stitch",
    ]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert!(
        ran.out.contains("bag: 1 piece of an SVG (1 page)"),
        "{}",
        ran.out
    );
    assert!(ran.out.contains("100 x 100"), "{}", ran.out);
    assert!(ran.out.contains("In no piece: "), "{}", ran.out);
    assert!(ran.out.contains("Still needed"), "{}", ran.out);
    let project = folder.project("bag.petitoile");
    let piece = &project.garments[0].pieces[0];
    let long: f64 = piece.outline.edges().iter().map(|e| e.line.length()).sum();
    assert!((long - 400.0).abs() < 0.02, "{long}");
    // A second garment joins it in the same file; a taken name is refused and nothing is lost.
    let again = folder.run(&[
        "bring-in",
        "bag.svg",
        "--out",
        "bag.petitoile",
        "--one-line",
        "stitch",
    ]);
    assert_eq!(again.code, Some(2));
    assert!(again.err.contains("--name"), "{}", again.err);
    let more = folder.run(&[
        "bring-in",
        "bag.svg",
        "--out",
        "bag.petitoile",
        "--one-line",
        "cut",
        "--allowance",
        "10 mm",
        "--name",
        "purse",
    ]);
    assert_eq!(more.code, Some(0), "{}", more.err);
    assert_eq!(folder.project("bag.petitoile").garments.len(), 2);
}

#[test]
fn a_picture_without_a_scale_asks_for_something_of_known_size() {
    let folder = Folder::new();
    let picture = image::RgbImage::from_pixel(60, 40, image::Rgb([200, 200, 200]));
    picture.save(folder.0.join("photo.png")).unwrap();
    let ran = folder.run(&["bring-in", "photo.png"]);
    assert_eq!(ran.code, Some(2));
    assert!(
        ran.err.contains("photo.png") && ran.err.contains("--known A4"),
        "{}",
        ran.err
    );
}

#[test]
fn what_is_no_drawing_is_refused_in_one_line_that_names_the_file() {
    let folder = Folder::new();
    folder.put("letter.txt", "Dear aunt, the sleeve is too tight.");
    folder.put("cut.pdf", "%PDF-1.7\n1 0 obj");
    folder.put("empty.svg", "");
    for name in ["letter.txt", "cut.pdf", "empty.svg", "nowhere.svg"] {
        let ran = folder.run(&["bring-in", name, "--out", "x.petitoile"]);
        assert_eq!(ran.code, Some(2), "{name}: {}", ran.out);
        assert!(ran.err.contains(name), "{name}: {}", ran.err);
        assert_eq!(ran.err.trim().lines().count(), 1, "{name}: {}", ran.err);
        assert!(!folder.0.join("x.petitoile").exists());
    }
}
