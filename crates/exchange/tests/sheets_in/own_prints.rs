//! Our own prints come in again.

use super::*;
use petitoile_core::LengthUnit;
use petitoile_core::paper::PaperSettings;
use petitoile_exchange::bring_in::Meaning;
use petitoile_exchange::pdf::write_pages;
use petitoile_exchange::sheet::sheet;
use petitoile_exchange::tiling::tile;

#[test]
fn our_own_print_says_what_its_lines_are() {
    let garment = common::doll_jacket();
    let pages = tile(
        &sheet(&garment, LengthUnit::Millimetre),
        &PaperSettings::default(),
    );
    let found = bring_in(&write_pages(&pages), "jacket.pdf").unwrap();
    assert_eq!(found.sheets.len(), pages.pages.len());
    let lines = || found.sheets.iter().flat_map(|sheet| &sheet.lines);
    let cut = lines().filter(|line| line.meaning == Some(Meaning::CutLine));
    // One outline per piece, and the sample beside "cut line" in the head of the print.
    assert_eq!(cut.filter(|line| line.closed).count(), garment.pieces.len());
    let stitch = lines().filter(|line| line.meaning == Some(Meaning::StitchLine) && line.closed);
    assert_eq!(stitch.count(), garment.pieces.len());
    let texts = || found.sheets.iter().flat_map(|sheet| &sheet.texts);
    let named = |words: &str, meaning| {
        texts().any(|t| t.words.contains(words) && t.meaning == Some(meaning))
    };
    assert!(
        named("Sleeve", Meaning::PieceText),
        "{:?}",
        texts().map(|t| &t.words).collect::<Vec<_>>()
    );
    assert!(named("50 mm", Meaning::Reference));
    assert!(found.left.is_empty(), "{:?}", found.left);
}
