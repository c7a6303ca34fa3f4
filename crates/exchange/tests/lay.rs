//! A lay plan on paper: to scale with every figure, at true size to a hundredth of a millimetre, inside the margins.

#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod common;

use std::sync::Arc;

use petitoile_core::cloth::{Blemish, GoodFor, Offcut};
use petitoile_core::kurbo::{Line, ParamCurveArclen, Point, Rect};
use petitoile_core::lay_plan::{CopyRef, LayPlan, Placed};
use petitoile_core::laying::{CopyToLay, LayShape, LaySheet, ToLay, lay_sheet};
use petitoile_core::paper::{PaperSettings, PaperSize, PaperTurn};
use petitoile_core::piece::{Copy, Face, Role, Side};
use petitoile_core::{Degrees, LengthUnit, Mm};
use petitoile_exchange::drawing::{Drawing, Ink, Layer};
use petitoile_exchange::pdf::write_pages;
use petitoile_exchange::sheet::{lay_pages, lay_true_size};
use petitoile_exchange::tiling::tile;

fn corners(list: &[(f64, f64)]) -> Vec<Point> {
    list.iter().map(|at| Point::from(*at)).collect()
}

fn offcut(name: &str, size: f64) -> Offcut {
    Offcut {
        name: name.to_owned(),
        cloth: "linen".to_owned(),
        outline: corners(&[
            (0.0, 0.0),
            (size, 0.0),
            (size * 0.9, size),
            (0.0, size * 0.8),
        ]),
        blemishes: vec![
            Blemish {
                outline: corners(&[(150.0, 10.0), (175.0, 10.0), (175.0, 30.0), (150.0, 30.0)]),
                is_hole: true,
                good_for: GoodFor::Inside,
            },
            Blemish {
                outline: corners(&[(150.0, 40.0), (190.0, 40.0), (190.0, 70.0), (150.0, 70.0)]),
                is_hole: false,
                good_for: GoodFor::Inside,
            },
        ],
        grain: Degrees(0.0),
        grain_doubt: Degrees(0.0),
        face: Face::Right,
        sides_alike: false,
        nap: true,
        margin: Mm(0.0),
        thickness: None,
    }
}

/// A front on the fold, opened out, a pair of cuffs on two offcuts, and a band that does not lie.
fn case() -> LaySheet {
    let copy = |piece: &str, side: Side, width: f64, height: f64| CopyToLay {
        of: CopyRef {
            piece: piece.to_owned(),
            copy: Copy {
                side,
                role: Role::Shell,
            },
            number: 0,
        },
        whole: LayShape {
            outline: corners(&[(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]),
            grain: Degrees(0.0),
            mirrored: side == Side::Left,
            fold: (piece == "Front").then(|| Line::new((width / 2.0, 0.0), (width / 2.0, height))),
        },
        pieced: Vec::new(),
        new_seams: Default::default(),
        cloth: None,
        needs: GoodFor::Anything,
        priority: 2,
        grain_tolerance: Degrees(2.0),
        upside_down: false,
    };
    let copies = vec![
        copy("Front", Side::Whole, 120.0, 90.0),
        copy("Cuff", Side::Right, 60.0, 22.0),
        copy("Cuff", Side::Left, 60.0, 22.0),
        copy("Band", Side::Whole, 180.0, 20.0),
    ];
    let place = |i: usize, offcut: &str, x: f64, y: f64| {
        let of: &CopyRef = &copies[i].of;
        Placed {
            piece: of.piece.clone(),
            copy: of.copy,
            number: 0,
            part: 0,
            offcut: offcut.to_owned(),
            turn: Degrees(0.0),
            moved: (x, y),
            mirrored: copies[i].whole.mirrored,
            pinned: false,
            as_cut: None,
        }
    };
    let plan = LayPlan {
        placed: vec![
            place(0, "blue A", 12.0, 20.0),
            place(1, "blue A", 12.0, 120.0),
            place(2, "blue B", 90.0, 15.0),
        ],
        ..LayPlan::default()
    };
    let offcuts = [
        Arc::new(offcut("blue A", 250.0)),
        Arc::new(offcut("blue B", 200.0)),
    ];
    let to_lay = ToLay {
        copies,
        gap: Mm(1.0),
    };
    lay_sheet(&to_lay, &offcuts, &plan, "Smock for a doll")
}

fn every_paper() -> Vec<PaperSettings> {
    let mut all = Vec::new();
    for size in [PaperSize::A4, PaperSize::Letter] {
        for turn in [PaperTurn::Portrait, PaperTurn::Landscape] {
            all.push(PaperSettings {
                size,
                turn,
                ..PaperSettings::default()
            });
        }
    }
    all
}

fn plain(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn every_part_measure_and_caution_can_be_read_in_the_pdf() {
    let sheet = case();
    for paper in every_paper() {
        for unit in [LengthUnit::Millimetre, LengthUnit::Inch] {
            let pages = lay_pages(&sheet, &paper, unit);
            let read = common::read::pdf(&write_pages(&pages));
            let all: Vec<String> = (0..pages.pages.len())
                .map(|page| plain(&read.words_on(page)))
                .collect();
            let said = |words: &str| all.iter().any(|page| page.contains(&plain(words)));
            for offcut in &sheet.offcuts {
                assert!(said(&offcut.words(unit)), "{}", offcut.words(unit));
                for part in &offcut.parts {
                    assert!(said(&part.words(unit)), "{}", part.words(unit));
                    assert!(
                        said(&format!("{} {}", part.number, part.name)),
                        "in the picture"
                    );
                    for measured in &part.measures {
                        assert!(said(&unit.show(measured.length)));
                    }
                }
            }
            for words in [
                "fold here",
                "hole",
                "inside only",
                "grain, nap",
                "Does not lie",
                "Band",
            ] {
                assert!(said(words), "{words}");
            }
            for words in sheet.cautions.iter().chain(&sheet.tally) {
                assert!(said(words), "{words}");
            }
            assert!(all[0].contains("1 : "), "{}", all[0]);
        }
    }
}

#[test]
fn a_plan_with_a_fault_says_so_at_its_head() {
    let mut sheet = case();
    sheet.faults = vec!["Front, on blue A: sticks out over the edge by 3 mm".to_owned()];
    let pages = lay_pages(&sheet, &PaperSettings::default(), LengthUnit::Millimetre);
    let read = common::read::pdf(&write_pages(&pages));
    let first = plain(&read.words_on(0));
    assert!(first.contains("Do not cut yet: Front, on blue A: sticks out over the edge by 3 mm."));
}

#[test]
fn nothing_leaves_the_margins() {
    for paper in every_paper() {
        let pages = lay_pages(&case(), &paper, LengthUnit::Millimetre);
        let (width, height) = pages.size;
        let margin = paper.margin.0;
        let room = Rect::new(margin, margin, width - margin, height - margin).inflate(0.6, 1.0);
        assert!(pages.pages.len() >= 2, "an offcut a page");
        for item in pages.pages.iter().flat_map(|page| &page.items) {
            assert!(room.contains_rect(item.bounds()), "{paper:?}: {item:?}");
        }
    }
}

/// Lengths of all cut lines of a drawing, mm.
fn cut_lengths(drawing: &Drawing) -> Vec<f64> {
    drawing
        .items
        .iter()
        .filter(|item| item.layer == Layer::CutLines)
        .filter_map(|item| match &item.ink {
            Ink::Stroke { path, .. } => {
                Some(path.segments().map(|segment| segment.arclen(1e-6)).sum())
            }
            _ => None,
        })
        .collect()
}

#[test]
fn a_picture_is_true_to_the_scale_that_it_names() {
    let pages = lay_pages(&case(), &PaperSettings::default(), LengthUnit::Millimetre);
    let first = &pages.pages[0];
    let scale = first
        .items
        .iter()
        .find_map(|item| match &item.ink {
            Ink::Text { words, .. } => words.split("1 : ").nth(1)?.trim().parse::<f64>().ok(),
            _ => None,
        })
        .unwrap();
    assert!((1.0..3.0).contains(&scale), "{scale}");
    let lengths = cut_lengths(first);
    for expected in [2.0 * (120.0 + 90.0), 2.0 * (60.0 + 22.0)] {
        assert!(
            lengths
                .iter()
                .any(|length| (length * scale - expected).abs() < 1e-6),
            "{expected} is not in {lengths:?}"
        );
    }
}

#[test]
fn at_true_size_every_cut_line_is_as_long_as_the_piece() {
    let sheet = lay_true_size(&case(), LengthUnit::Millimetre);
    assert_eq!(sheet.pieces.len(), 2);
    let lengths = cut_lengths(&sheet.pieces[0].drawing);
    assert_eq!(lengths.len(), 2);
    for (length, expected) in lengths.iter().zip([420.0, 164.0]) {
        assert!((length - expected).abs() < 1e-6, "{length}");
    }
    // 250 mm of cloth need several pages of A4.
    let pages = tile(&sheet, &PaperSettings::default());
    assert!(pages.pages.len() > 2, "{}", pages.pages.len());
}

#[test]
fn cloth_of_any_size_finds_a_scale() {
    for size in [30.0, 1500.0, 9000.0] {
        let mut sheet = case();
        let large = Arc::make_mut(&mut sheet.offcuts[0].offcut);
        large.outline = offcut("blue A", size).outline;
        let pages = lay_pages(&sheet, &PaperSettings::default(), LengthUnit::Millimetre);
        let (width, height) = pages.size;
        let page = Rect::new(0.0, 0.0, width, height);
        for item in pages.pages.iter().flat_map(|page| &page.items) {
            assert!(page.contains_rect(item.bounds()), "{size}: {item:?}");
        }
    }
}
