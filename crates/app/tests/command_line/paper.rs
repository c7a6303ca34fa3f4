//! Print and export.

use super::*;

#[test]
fn a_print_is_a_pdf_and_the_same_every_time() {
    let folder = Folder::new();
    let print = |more: &[&str], out: &str| {
        let mut words = vec!["print", "jacket.petitoile", "--json", "--out", out];
        words.extend(more);
        let said = folder.run(&words).json();
        assert_eq!(said["out"], out);
        let bytes = folder.read(out);
        assert!(bytes.starts_with(b"%PDF"));
        (said, bytes)
    };
    let (a4, first) = print(&["--paper", "a4"], "a4.pdf");
    assert_eq!(a4["print"]["paper"], "A4");
    assert_eq!(
        print(&["--paper", "a4"], "again.pdf").1,
        first,
        "same project, same bytes"
    );
    let (letter, other) = print(&["--paper", "letter", "--landscape"], "letter.pdf");
    assert_eq!(letter["print"]["paper"], "Letter");
    assert_eq!(letter["print"]["turn"], "landscape");
    assert_ne!(other, first);
    let (one, _) = print(&["--one-sheet"], "one.pdf");
    assert!(one["print"].is_null());
}

#[test]
fn an_export_is_an_svg_in_millimetres() {
    let folder = Folder::new();
    folder
        .run(&["export", "jacket.petitoile", "--out", "x.svg"])
        .worked();
    let text = String::from_utf8(folder.read("x.svg")).unwrap();
    assert!(
        text.contains("<svg") && text.contains("mm\""),
        "{}",
        text.chars().take(300).collect::<String>()
    );
}

#[test]
fn a_making_sheet_is_a_pdf_of_its_own_and_needs_no_name() {
    let folder = Folder::new();
    let said = folder.run(&["print", "jacket.petitoile", "--making-sheet"]);
    let words = said.worked();
    assert!(words.out.contains("making sheet of"), "{words:?}");
    let sheet = folder.read("jacket-making-sheet.pdf");
    assert!(sheet.starts_with(b"%PDF"));
    let named = [
        "print",
        "jacket.petitoile",
        "--making-sheet",
        "--json",
        "--out",
        "m.pdf",
        "--paper",
        "letter",
    ];
    let json = folder.run(&named).json();
    assert_eq!(
        (json["out"].as_str(), json["print"]["paper"].as_str()),
        (Some("m.pdf"), Some("Letter"))
    );
    assert_ne!(folder.read("m.pdf"), sheet);
}
