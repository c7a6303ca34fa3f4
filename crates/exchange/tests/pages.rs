//! Laws of tiling, on garments and papers of any size.

#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod common;

use common::{back, collar, finished, finished_piece, front, quarter, sleeve, strip};
use petitoile_core::finish::{Finished, FinishedPiece};
use petitoile_core::kurbo::{Affine, ParamCurve, Point, Rect, Shape, Size};
use petitoile_core::paper::{PaperSettings, PaperSize, PaperTurn};
use petitoile_core::{LengthUnit, Mm};
use petitoile_exchange::drawing::{Ink, Layer, Sheet};
use petitoile_exchange::sheet::sheet;
use petitoile_exchange::tiling::{Pages, PlacedPiece, tile};
use proptest::prelude::*;

fn any_piece() -> impl Strategy<Value = FinishedPiece> {
    let size = || prop_oneof![0.4..1.5_f64, 1.5..6.0_f64];
    prop_oneof![
        size().prop_map(|s| finished_piece(front(s))),
        size().prop_map(|s| finished_piece(back(s))),
        size().prop_map(|s| finished_piece(sleeve(s))),
        size().prop_map(|s| finished_piece(collar(s))),
        (10.0..1200.0_f64, 5.0..60.0_f64)
            .prop_map(|(long, wide)| finished_piece(strip("Band", long, wide))),
        (5.0..60.0_f64, 10.0..1200.0_f64)
            .prop_map(|(wide, long)| finished_piece(strip("Placket", wide, long))),
        (15.0..110.0_f64, 30.0..700.0_f64)
            .prop_map(|(waist, long)| finished_piece(quarter(waist, long))),
    ]
}

fn any_paper() -> impl Strategy<Value = PaperSettings> {
    let size = prop_oneof![Just(PaperSize::A4), Just(PaperSize::Letter)];
    let turn = prop_oneof![Just(PaperTurn::Portrait), Just(PaperTurn::Landscape)];
    (
        size,
        turn,
        3.0..30.0_f64,
        6.0..40.0_f64,
        93.0..107.0_f64,
        93.0..107.0_f64,
    )
        .prop_map(
            |(size, turn, margin, overlap, across, along)| PaperSettings {
                size,
                turn,
                margin: Mm(margin),
                overlap: Mm(overlap),
                measured_across: Mm(across),
                measured_along: Mm(along),
            },
        )
}

/// Points along the cut and the stitch line.
fn points(piece: &FinishedPiece) -> Vec<Point> {
    let along = |part: petitoile_core::kurbo::PathSeg| {
        (0..=16).map(move |i| part.eval(f64::from(i) / 16.0))
    };
    piece
        .cut
        .segments()
        .chain(piece.stitch.segments())
        .flat_map(along)
        .collect()
}

/// Does a rectangle hold a point, its border counted in?
fn holds(rect: Rect, p: Point) -> bool {
    let r = rect.inflate(1e-6, 1e-6);
    r.x0 <= p.x && p.x <= r.x1 && r.y0 <= p.y && p.y <= r.y1
}

fn bounds_on_page(all: &Sheet, placed: &PlacedPiece) -> Rect {
    placed
        .page_from_piece
        .transform_rect_bbox(all.pieces[placed.piece].bounds)
}

/// Room for pieces on a page, true mm: what is printable less the strip of the rulers.
fn room(pages: &Pages, paper: &PaperSettings) -> Size {
    let (right, up) = paper.correction();
    let strip = petitoile_exchange::paper::STRIP;
    Size::new(
        (pages.size.0 - 2.0 * paper.margin.0) / right - strip,
        (pages.size.1 - 2.0 * paper.margin.0) / up - strip,
    )
}

fn every_point_is_printed(garment: &Finished, pages: &Pages) {
    for (index, piece) in garment.pieces.iter().enumerate() {
        let here: Vec<&PlacedPiece> = pages.placed.iter().filter(|p| p.piece == index).collect();
        for point in points(piece) {
            assert!(
                here.iter()
                    .any(|p| holds(p.area, p.page_from_piece * point)),
                "{point:?} of {} is on no page",
                piece.piece.name
            );
        }
    }
}

fn what_fits_a_page_is_on_one_page(all: &Sheet, pages: &Pages, room: Size) {
    for (index, piece) in all.pieces.iter().enumerate() {
        let here: Vec<&PlacedPiece> = pages.placed.iter().filter(|p| p.piece == index).collect();
        let size = piece.bounds.size();
        let upright = size.width <= room.width && size.height <= room.height;
        if upright || (size.height <= room.width && size.width <= room.height) {
            assert_eq!(here.len(), 1, "{}", piece.name);
            assert!(here[0].whole);
            let bounds = bounds_on_page(all, here[0]);
            assert!(
                here[0].area.inflate(1e-6, 1e-6).intersect(bounds) == bounds,
                "{} lies within the page",
                piece.name
            );
        } else {
            // A page of its block that would show nothing is left out: one page may be enough.
            assert!(
                !here.is_empty() && here.iter().all(|p| !p.whole),
                "{}",
                piece.name
            );
        }
    }
}

/// Nothing lies on anything else, and no small piece lies where another page is glued on.
fn pieces_are_clear_of_each_other_and_of_joins(all: &Sheet, pages: &Pages) {
    for whole in pages.placed.iter().filter(|p| p.whole) {
        let bounds = bounds_on_page(all, whole);
        for other in pages
            .placed
            .iter()
            .filter(|p| p.page == whole.page && p.piece != whole.piece)
        {
            let other_bounds = bounds_on_page(all, other);
            assert!(
                bounds.intersect(other_bounds).area() < 1e-6,
                "two pieces on page {} overlap",
                whole.page + 1
            );
            for neighbour in pages
                .placed
                .iter()
                .filter(|p| p.piece == other.piece && p.page != whole.page)
            {
                let neighbour_from_here: Affine =
                    neighbour.page_from_piece * other.page_from_piece.inverse();
                let over = neighbour_from_here
                    .transform_rect_bbox(bounds)
                    .intersect(neighbour.area);
                assert!(
                    over.area() < 1e-6,
                    "page {} is glued over a piece on page {}",
                    neighbour.page + 1,
                    whole.page + 1
                );
            }
        }
        if whole.page == 0 {
            let heads = pages.pages[0]
                .items
                .iter()
                .filter(|item| item.layer == Layer::Page)
                .filter_map(|item| match &item.ink {
                    Ink::Stroke { path, .. } if path.segments().count() == 4 => {
                        Some(path.bounding_box())
                    }
                    _ => None,
                });
            for head in heads {
                assert!(
                    head.intersect(bounds).area() < 1e-6,
                    "a piece lies on a test square"
                );
            }
        }
    }
}

fn no_page_is_empty(garment: &Finished, pages: &Pages) {
    for page in 1..pages.pages.len() {
        let shows = pages
            .placed
            .iter()
            .filter(|p| p.page == page)
            .any(|placed| {
                let piece = &garment.pieces[placed.piece];
                let cut = placed.page_from_piece * piece.cut.clone();
                placed.whole
                    || cut.contains(placed.area.center())
                    || points(piece)
                        .iter()
                        .any(|p| placed.area.contains(placed.page_from_piece * *p))
                    || {
                        let step =
                            |i: i32, from: f64, to: f64| from + (to - from) * f64::from(i) / 40.0;
                        let area = placed.area;
                        (0..=40).any(|i| {
                            (0..=40).any(|j| {
                                cut.contains(Point::new(
                                    step(i, area.x0, area.x1),
                                    step(j, area.y0, area.y1),
                                ))
                            })
                        })
                    }
            });
        assert!(shows, "page {} is empty", page + 1);
    }
}

/// Each join line is drawn twice, on two pages; laid over each other the two are one.
fn joins_come_in_pairs(pages: &Pages) {
    let codes = |page: &petitoile_exchange::drawing::Drawing| -> Vec<String> {
        let texts = page.items.iter().filter_map(|item| match &item.ink {
            Ink::Text { words, .. } if item.clip.is_some() && item.layer == Layer::Page => {
                Some(words.clone())
            }
            _ => None,
        });
        texts.collect()
    };
    let mut counts = std::collections::BTreeMap::<String, Vec<usize>>::new();
    for (number, page) in pages.pages.iter().enumerate() {
        for code in codes(page) {
            counts.entry(code).or_default().push(number);
        }
    }
    for (code, on) in counts {
        // Twice on either page: one on each side of the line.
        assert!(
            on.len() == 4 && on[0] == on[1] && on[2] == on[3] && on[0] != on[2],
            "{code} stands on {on:?}"
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    #[test]
    fn every_line_is_printed_and_no_join_cuts_what_fits_a_page(
        pieces in prop::collection::vec(any_piece(), 1..9),
        paper in any_paper(),
    ) {
        let garment = finished("Harbour dress", pieces);
        let all = sheet(&garment, LengthUnit::Millimetre);
        let pages = tile(&all, &paper);
        every_point_is_printed(&garment, &pages);
        what_fits_a_page_is_on_one_page(&all, &pages, room(&pages, &paper));
        pieces_are_clear_of_each_other_and_of_joins(&all, &pages);
        no_page_is_empty(&garment, &pages);
        joins_come_in_pairs(&pages);
        prop_assert_eq!(tile(&all, &paper), pages);
    }
}

#[test]
fn a_doll_jacket_of_eight_pieces_takes_two_pages() {
    let all = sheet(&common::doll_jacket(), LengthUnit::Millimetre);
    for (size, turn) in [
        (PaperSize::A4, PaperTurn::Portrait),
        (PaperSize::A4, PaperTurn::Landscape),
        (PaperSize::Letter, PaperTurn::Portrait),
    ] {
        let pages = tile(
            &all,
            &PaperSettings {
                size,
                turn,
                ..PaperSettings::default()
            },
        );
        assert_eq!(pages.pages.len(), 2, "{size:?} {turn:?}");
    }
}

#[test]
fn pieces_stay_upright_where_that_costs_no_page() {
    let garment = finished(
        "Harbour jacket",
        vec![finished_piece(front(1.0)), finished_piece(sleeve(1.0))],
    );
    let pages = tile(
        &sheet(&garment, LengthUnit::Millimetre),
        &PaperSettings::default(),
    );
    for placed in &pages.placed {
        let [a, b, ..] = placed.page_from_piece.as_coeffs();
        assert!(a > 0.0 && b == 0.0, "{placed:?}");
    }
}

#[test]
fn a_band_longer_than_the_page_is_wide_is_turned_and_its_grain_arrow_with_it() {
    let garment = finished(
        "Harbour jacket",
        vec![finished_piece(strip("Band", 190.0, 30.0))],
    );
    let all = sheet(&garment, LengthUnit::Millimetre);
    let pages = tile(&all, &PaperSettings::default());
    assert_eq!((pages.pages.len(), pages.placed.len()), (1, 1));
    let placed = &pages.placed[0];
    let grain = garment.pieces[0].grain;
    let turned = placed.page_from_piece * grain;
    assert!(
        (turned.p1 - turned.p0).dot(grain.p1 - grain.p0).abs() < 1e-6,
        "a quarter turn"
    );
    let bounds = turned.bounding_box().inflate(1.0, 1.0);
    let shaft = pages.pages[0].items.iter().filter(|item| item.layer == Layer::Marks).any(|item| {
        matches!(&item.ink, Ink::Stroke { path, .. } if path.bounding_box().intersect(bounds) == path.bounding_box() && path.bounding_box().area() < 1e-6)
    });
    assert!(shaft, "the arrow lies where the piece's grain lies");
}

#[test]
fn the_page_map_stands_on_the_first_page_only() {
    let pages = tile(
        &sheet(&common::adult_dress(), LengthUnit::Millimetre),
        &PaperSettings::default(),
    );
    let count = pages.pages.len();
    let numbers = |page: usize| {
        let texts = pages.pages[page]
            .items
            .iter()
            .filter_map(|item| match &item.ink {
                Ink::Text {
                    words,
                    centred: true,
                    ..
                } if item.layer == Layer::Page => words.parse::<usize>().ok(),
                _ => None,
            });
        texts.collect::<Vec<_>>()
    };
    assert_eq!(numbers(0), (1..=count).collect::<Vec<_>>());
    assert!((1..count).all(|page| numbers(page).is_empty()));
}
