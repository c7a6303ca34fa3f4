//! The sheets of the demo projects and of garments made by hand, their layers and meanings taken off.

use std::sync::{Arc, LazyLock};

use petitoile_core::adapt::Adapted;
use petitoile_core::finish::{Finished, finish};
use petitoile_core::fullness::{Fullness, FullnessOp, fill};
use petitoile_core::kurbo::{Affine, Shape, Vec2};
use petitoile_core::{LengthUnit, Mm};
use petitoile_exchange::bring_in::FoundSheet;
use petitoile_exchange::bring_in::recognise::{Choices, recognise};
use petitoile_exchange::drawing::{Drawing, Item, Layer};
use petitoile_exchange::sheet::sheet;

use super::common::{adult_dress, doll_jacket, finished as common_finished, finished_piece, strip};
use super::made::{PROJECTS, finished, found, of_drawing};
use super::tally::{Tally, compare};

/// Adapted once for all tests.
pub static GARMENTS: LazyLock<Vec<Finished>> = LazyLock::new(|| {
    let mut all: Vec<Finished> = PROJECTS.iter().flat_map(|file| finished(file)).collect();
    all.extend([doll_jacket(), adult_dress()]);
    all
});

/// Where every piece was put on the sheet: its stitch line is found again among the lines.
pub fn places(garment: &Finished, found: &FoundSheet) -> Vec<Vec<Affine>> {
    garment
        .pieces
        .iter()
        .map(|piece| {
            let b = piece.stitch.bounding_box();
            found
                .lines
                .iter()
                .map(|l| l.path.bounding_box())
                .filter(|o| {
                    (o.width() - b.width()).abs() < 0.02 && (o.height() - b.height()).abs() < 0.02
                })
                .map(|o| Affine::translate(o.origin() - b.origin()))
                .collect()
        })
        .collect()
}

pub fn add(all: &mut Tally, tally: Tally) {
    for (kind, (right, of)) in tally.counts {
        let count = all.counts.entry(kind).or_default();
        count.0 += right;
        count.1 += of;
    }
    all.wrong.extend(tally.wrong);
}

#[test]
fn shares_of_right_guesses_on_whole_sheets_without_layers() {
    let mut all = Tally::default();
    for garment in GARMENTS.iter() {
        let sheet = found(garment);
        let recognised = recognise(&sheet, &Choices::default());
        add(
            &mut all,
            compare(garment, &recognised, &places(garment, &sheet), true),
        );
    }
    insta::assert_snapshot!(format!("{}\n{}", all.table(), all.wrong.join("\n")), @r"
    allowance         232 of  232
    both lines         51 of   51
    buttonhole         10 of   10
    cut count          51 of   51
    darts              51 of   51
    dot                 2 of    2
    fold               51 of   51
    grain              51 of   51
    hem or not        232 of  232
    inner line          8 of    8
    name               51 of   51
    notch              60 of   60
    outline            51 of   51
    piece              51 of   51
    ");
}

/// Cut and stitch lines alone, each piece turned by another angle, the lines in another order.
fn stripped(garment: &Finished, with_cut: bool, seed: u64) -> (FoundSheet, Vec<Vec<Affine>>) {
    let mut items: Vec<Item> = Vec::new();
    let mut places = Vec::new();
    let mut x = 0.0;
    for (i, (piece, drawn)) in garment
        .pieces
        .iter()
        .zip(&sheet(garment, LengthUnit::Millimetre).pieces)
        .enumerate()
    {
        let turn = Affine::rotate(0.37 + 1.31 * (i as f64 + seed as f64));
        let b = turn.transform_rect_bbox(drawn.bounds);
        let at = Affine::translate(Vec2::new(x - b.x0, -b.y0 * 0.5)) * turn;
        x += b.width() + 15.0;
        places.push(vec![at]);
        items.push(Item::stroke(Layer::Page, at * piece.stitch.clone(), 0.3));
        if with_cut {
            items.push(Item::stroke(Layer::Page, at * piece.cut.clone(), 0.3));
        }
    }
    let n = items.len();
    let shuffled = (0..n).map(|i| items[(i * 7 + 3) % n].clone());
    let all: Vec<Item> = if n.is_multiple_of(7) {
        items.iter().rev().cloned().collect()
    } else {
        shuffled.collect()
    };
    let drawing = Drawing {
        title: String::new(),
        items: all,
    };
    (of_drawing(&drawing), places)
}

#[test]
fn shares_of_right_guesses_on_bare_outlines_turned_and_shuffled() {
    let mut all = Tally::default();
    for garment in GARMENTS.iter() {
        let (sheet, places) = stripped(garment, true, 1);
        let recognised = recognise(&sheet, &Choices::default());
        add(&mut all, compare(garment, &recognised, &places, false));
    }
    insta::assert_snapshot!(format!("{}\n{}", all.table(), all.wrong.join("\n")), @r"
    allowance         232 of  232
    both lines         51 of   51
    darts              51 of   51
    fold               51 of   51
    hem or not        232 of  232
    outline            51 of   51
    piece              51 of   51
    ");
}

#[test]
fn stitch_lines_alone_are_pieces_too_with_a_doubt() {
    let mut all = Tally::default();
    for garment in GARMENTS.iter() {
        let (sheet, places) = stripped(garment, false, 2);
        let recognised = recognise(&sheet, &Choices::default());
        let tally = compare(garment, &recognised, &places, false);
        for (kind, count) in tally
            .counts
            .iter()
            .filter(|c| ["piece", "outline", "darts", "nothing extra"].contains(c.0))
        {
            all.counts.insert(kind, *count);
            assert_eq!(count.0, count.1, "{kind}: {:?}", tally.wrong);
        }
        assert!(
            recognised
                .guesses
                .iter()
                .filter(|g| g.kind == petitoile_exchange::bring_in::recognise::GuessKind::OneLine)
                .all(|g| g.certainty < 0.9 && g.alternatives.len() == 1)
        );
    }
}

/// A pleated skirt prints a template strip and a table besides: neither is a piece.
#[test]
fn template_strips_and_tables_of_pleats_are_no_pieces() {
    let op = FullnessOp::new(
        "upper",
        Fullness::KnifePleats {
            count: 6,
            depth: Mm(6.0),
        },
    );
    let mut skirt = strip("Skirt", 132.0, 90.0);
    skirt.fullness = vec![op];
    let made = common_finished("Skirt", vec![finished_piece(skirt)]);
    let filled = fill(&Arc::new(Adapted::clone(&made.filled.adapted))).outcome;
    let garment = finish(&Arc::new(filled)).outcome;
    let found = recognise(&found(&garment), &Choices::default());
    let names: Vec<&str> = found.pieces.iter().map(|p| p.piece.name.as_str()).collect();
    assert_eq!(names, ["Skirt"], "{:?}", found.left);
}
