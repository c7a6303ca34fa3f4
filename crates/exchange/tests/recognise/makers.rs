//! Sheets as makers nobody knows might draw them (`samples/makers/make.py`): what is made of them, and what is told.

use petitoile_core::notch::NotchKind;
use petitoile_core::piece::Side;
use petitoile_exchange::bring_in::recognise::{
    Choices, Drawn, GuessKind, Recognised, RecognisedPiece, recognise,
};
use petitoile_exchange::bring_in::sheets::{Matches, joined};
use petitoile_exchange::bring_in::{FoundDrawing, FoundSheet, Limits, Pace, Watch, read};

fn found(name: &str) -> FoundDrawing {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/samples/makers/");
    let bytes = std::fs::read(format!("{folder}{name}")).unwrap();
    read(&bytes, name, &Limits::default(), &Watch::default()).unwrap()
}

fn piece<'r>(all: &'r Recognised, name: &str) -> &'r RecognisedPiece {
    let names: Vec<&str> = all.pieces.iter().map(|p| p.piece.name.as_str()).collect();
    let named = all.pieces.iter().find(|p| p.piece.name == name);
    named.unwrap_or_else(|| panic!("{name} among {names:?}, left {:#?}", all.left))
}

/// Width and height, mm.
fn size(piece: &RecognisedPiece) -> (f64, f64) {
    let bounds = piece.piece.outline.bounds();
    (bounds.width(), bounds.height())
}

fn near(a: (f64, f64), b: (f64, f64)) {
    assert!(
        (a.0 - b.0).abs() < 0.02 && (a.1 - b.1).abs() < 0.02,
        "{a:?} for {b:?}"
    );
}

/// Every line and text is in a piece or told to be in none.
fn nothing_is_lost(sheet: &FoundSheet, all: &Recognised) {
    let made_of = all.pieces.iter().flat_map(|p| p.made_of.iter().copied());
    let mut things: Vec<_> = made_of.chain(all.left.iter().map(|l| l.thing)).collect();
    things.sort();
    things.dedup();
    assert_eq!(things.len(), sheet.lines.len() + sheet.texts.len());
}

#[test]
fn nested_sizes_with_german_words_and_no_allowance() {
    let sheet = &found("nested_german.pdf").sheets[0];
    for (size_name, grow) in [("34", 0.0), ("36", 5.0), ("38", 10.0)] {
        let choices = Choices {
            size: Some(size_name.to_owned()),
            ..Choices::default()
        };
        let all = recognise(sheet, &choices);
        nothing_is_lost(sheet, &all);
        assert_eq!(all.pieces.len(), 2, "{:#?}", all.left);
        assert_eq!(all.size.as_deref(), Some(size_name));
        assert_eq!(all.sizes.len(), 3);

        let skirt = piece(&all, "Vorderrock");
        near(size(skirt), (90.0 + grow, 146.0 + grow));
        assert_eq!(
            skirt.drawn,
            Drawn::StitchOnly,
            "the sheet says: ohne Nahtzugabe"
        );
        let folds = skirt.piece.outline.edges().iter().filter(|e| e.is_fold());
        assert_eq!(folds.count(), 1);
        assert_eq!(skirt.piece.copies.len(), 1);
        let (from, to) = skirt.piece.grainline.unwrap();
        assert!(((to - from).hypot() - 60.0).abs() < 0.02);

        let pocket = piece(&all, "Tasche");
        near(size(pocket), (40.0 + grow, 50.0 + grow));
        assert_eq!(pocket.piece.copies.len(), 2);
        assert_eq!(pocket.piece.outline.edges().len(), 5);
        assert!(pocket.piece.darts.is_empty());
    }
}

#[test]
fn labelled_pages_in_no_order_with_a_v_and_a_fold_bracket() {
    let drawing = found("tiled_labelled.pdf");
    let places = Matches::of(&drawing, &Pace::default())
        .unwrap()
        .proposed(&drawing, &Pace::default())
        .unwrap();
    let whole = joined(&drawing, &places, 0.5, &Pace::default()).unwrap();
    let all = recognise(&whole.sheet, &Choices::default());
    nothing_is_lost(&whole.sheet, &all);
    assert_eq!(all.pieces.len(), 1, "{:#?}", all.left);
    let front = piece(&all, "Bodice front");
    near(size(front), (160.0, 455.0));
    assert_eq!(front.drawn, Drawn::CutOnly);
    let widths: Vec<f64> = front.allowances.iter().map(|a| a.width.0).collect();
    assert_eq!(
        widths.iter().filter(|w| **w == 10.0).count(),
        5,
        "{widths:?}"
    );
    // Hem, side, armhole, shoulder, neck, fold: the V is no corner.
    assert_eq!(front.piece.outline.edges().len(), 6);
    assert!(front.piece.darts.is_empty());
    let notches: Vec<NotchKind> = front.piece.notches.iter().map(|n| n.kind).collect();
    assert_eq!(notches, [NotchKind::Single]);
    let fold = front
        .piece
        .outline
        .edges()
        .iter()
        .find(|e| e.is_fold())
        .unwrap();
    assert!((fold.line.length() - 405.0).abs() < 0.02);
    assert_eq!(front.piece.copies.len(), 1);
    assert_eq!(front.piece.copies[0].side, Side::Whole);
    let kept = front
        .piece
        .marks
        .iter()
        .any(|m| m.name.starts_with("bow is sewn"));
    assert!(kept, "{:?}", front.piece.marks);
}

#[test]
fn everything_in_one_path_with_words_as_outlines() {
    let sheet = &found("one_path.pdf").sheets[0];
    let all = recognise(sheet, &Choices::default());
    nothing_is_lost(sheet, &all);
    assert_eq!(all.pieces.len(), 2, "{:#?}", all.left);
    let wide = |p: &&RecognisedPiece| size(p).1 > 50.0;
    let sleeve = all.pieces.iter().find(wide).unwrap();
    near(size(sleeve), (120.0, 110.0));
    let cuff = all.pieces.iter().find(|p| !wide(p)).unwrap();
    near(size(cuff), (100.0, 30.0));
    assert_eq!(sleeve.piece.notches.len(), 1);
    let (from, to) = sleeve.piece.grainline.unwrap();
    assert!(((to - from).hypot() - 60.0).abs() < 0.02);
    // Letters drawn as lines are no words: the pieces have no names, and whoever reads the report is told so.
    assert!(all.guesses.iter().all(|g| g.kind != GuessKind::Name));
    assert!(
        all.pieces
            .iter()
            .all(|p| p.piece.name.starts_with("piece "))
    );
    // Nor are they marks on the pieces.
    assert!(
        sleeve.piece.marks.is_empty() && cuff.piece.marks.is_empty(),
        "{:?}",
        sleeve.piece.marks
    );
}
