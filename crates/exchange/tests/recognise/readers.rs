//! The same sheets written as files and read again: what goes out comes in again the same.

use petitoile_core::LengthUnit;
use petitoile_exchange::bring_in::recognise::{Choices, recognise};
use petitoile_exchange::bring_in::{FoundSheet, Limits, Watch, read};
use petitoile_exchange::sheet::{one_drawing, sheet};
use petitoile_exchange::{dxf, pdf, svg};

use super::demo::{GARMENTS, add, places};
use super::tally::{Tally, compare};

fn sheet_of(bytes: &[u8], name: &str) -> FoundSheet {
    let mut found = read(bytes, name, &Limits::default(), &Watch::default()).unwrap();
    assert_eq!(found.sheets.len(), 1, "{name}");
    found.sheets.remove(0)
}

/// As somebody else would have drawn it: no layer has a name, nothing says what it is.
fn without_names(sheet: &FoundSheet) -> FoundSheet {
    let mut bare = sheet.clone();
    for line in &mut bare.lines {
        line.layer.clear();
        line.groups.clear();
        line.meaning = None;
    }
    for text in &mut bare.texts {
        text.layer.clear();
        text.groups.clear();
        text.meaning = None;
    }
    bare
}

/// Everything is found again, counted over all garments.
fn check(write: impl Fn(usize) -> FoundSheet, garments: std::ops::Range<usize>) {
    let mut all = Tally::default();
    for at in garments {
        let (garment, sheet) = (&GARMENTS[at], write(at));
        let recognised = recognise(&sheet, &Choices::default());
        add(
            &mut all,
            compare(garment, &recognised, &places(garment, &sheet), true),
        );
    }
    assert!(
        all.wrong.is_empty(),
        "{}\n{}",
        all.table(),
        all.wrong.join("\n")
    );
}

fn as_svg(at: usize) -> FoundSheet {
    let drawing = one_drawing(&sheet(&GARMENTS[at], LengthUnit::Millimetre));
    sheet_of(svg::write(&drawing).as_bytes(), "sheet.svg")
}

fn as_pdf(at: usize) -> FoundSheet {
    let drawing = one_drawing(&sheet(&GARMENTS[at], LengthUnit::Millimetre));
    sheet_of(&pdf::write_one_sheet(&drawing), "sheet.pdf")
}

#[test]
fn our_own_svg_comes_in_again_the_same() {
    check(as_svg, 0..3);
}

#[test]
fn an_svg_without_names_of_layers_comes_in_again() {
    check(|at| without_names(&as_svg(at)), 0..GARMENTS.len());
}

#[test]
fn our_own_pdf_comes_in_again_the_same() {
    check(as_pdf, 0..3);
}

#[test]
fn a_pdf_without_layers_comes_in_again() {
    check(|at| without_names(&as_pdf(at)), 0..GARMENTS.len());
}

fn as_dxf(at: usize) -> FoundSheet {
    let pieces = dxf::piece::pieces(&GARMENTS[at], LengthUnit::Millimetre);
    sheet_of(
        dxf::write::write("garment", "M", &pieces).as_bytes(),
        "sheet.dxf",
    )
}

#[test]
fn our_own_dxf_comes_in_again_the_same() {
    check(as_dxf, 0..GARMENTS.len());
}
