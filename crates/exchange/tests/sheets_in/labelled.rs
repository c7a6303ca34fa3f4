//! Pages in a shuffled file that say of themselves where they belong: joined rightly all the same.

use super::joining::{check, rows, samples};
use super::*;
use petitoile_core::LengthUnit;
use petitoile_core::kurbo::Vec2;
use petitoile_core::paper::{PaperSettings, PaperSize};
use petitoile_exchange::bring_in::sheets::{Matches, PagePlaces, PlacedBy, joined};
use petitoile_exchange::bring_in::{FoundText, Meaning, Pace};
use petitoile_exchange::pdf::write_pages;
use petitoile_exchange::sheet::sheet;
use petitoile_exchange::tiling::tile;

/// Every page once, none where it belongs, no rule in it that a reader could guess.
fn shuffled(count: usize) -> Vec<usize> {
    let mut pages: Vec<usize> = (0..count).collect();
    let mut state = 17_u64;
    for i in (1..count).rev() {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        pages.swap(i, (state >> 33) as usize % (i + 1));
    }
    assert!(!pages.is_sorted());
    pages
}

fn text(sheet: &FoundSheet, x: f64, y: f64, words: String) -> FoundText {
    FoundText {
        at: sheet.bounds.origin() + Vec2::new(x, y),
        size: 3.0,
        turn: 0.0,
        words,
        layer: String::new(),
        groups: Vec::new(),
        meaning: None,
    }
}

/// What each page is called: by its number, how many there are, row and column, counted from 0.
type Labels = fn(usize, usize, usize, usize) -> String;

const KINDS: [(&str, Labels); 6] = [
    ("numbers", |n, of, _, _| format!("page {} of {of}", n + 1)),
    ("German", |n, of, _, _| {
        format!("Rock, Seite {} von {of}", n + 1)
    }),
    ("short", |n, of, _, _| format!("{}/{of}", n + 1)),
    ("bare", |n, _, _, _| format!("{}", n + 1)),
    ("letters", |_, _, row, column| {
        format!("{}{}", ["A", "B", "C", "D"][row], column + 1)
    }),
    ("words", |_, _, row, column| {
        format!("row {}, column {}", row + 1, column + 1)
    }),
];

/// A sample with labels, its pages shuffled; and which page stands where.
fn labelled(name: &str, columns: usize, label: Labels) -> (FoundDrawing, Vec<usize>) {
    let mut drawing = found(name);
    let count = drawing.sheets.len();
    for (n, sheet) in drawing.sheets.iter_mut().enumerate() {
        // The page's own words about itself go.
        sheet
            .texts
            .retain(|t| !t.words.to_lowercase().contains("page"));
        let (row, column) = (n / columns, n % columns);
        sheet
            .texts
            .push(text(sheet, 20.0, 12.0, label(n, count, row, column)));
        // A map of the whole sheet, the same on every page.
        for other in 0..count {
            let (r, c) = (other / columns, other % columns);
            let (x, y) = (60.0 + 18.0 * c as f64, 40.0 - 6.0 * r as f64);
            sheet
                .texts
                .push(text(sheet, x, y, label(other, count, r, c)));
        }
    }
    let order = shuffled(count);
    drawing.sheets = order
        .iter()
        .map(|page| drawing.sheets[*page].clone())
        .collect();
    (drawing, order)
}

#[test]
fn shuffled_pages_are_joined_by_what_they_say_of_themselves() {
    for (name, columns, overlap, truth) in samples() {
        for (kind, label) in KINDS {
            let (drawing, order) = labelled(name, columns, label);
            let places = Matches::of(&drawing, &Pace::default())
                .unwrap()
                .proposed(&drawing, &Pace::default())
                .unwrap();
            let given = PagePlaces::in_rows(&found(name), &rows(columns, overlap));
            for (place, page) in places.pages.iter().zip(&order) {
                let truth = given.pages[*page].at;
                assert!(
                    place.at.distance(truth) < 0.02,
                    "{name}, {kind}, page {page}: {place:?} for {truth:?}"
                );
            }
            let whole = joined(&drawing, &places, 0.5, &Pace::default()).unwrap();
            check(&format!("{name}, {kind}"), &whole, &truth, 0.02);
        }
    }
}

#[test]
fn pages_of_which_only_labels_tell_lie_in_their_grid_with_a_doubt() {
    let mut drawing = found("cut_edge_to_edge.pdf");
    let count = drawing.sheets.len();
    for (n, sheet) in drawing.sheets.iter_mut().enumerate() {
        sheet.lines.clear();
        let words = format!("row {}, column {}", n / 3 + 1, n % 3 + 1);
        sheet.texts = vec![text(sheet, 20.0, 12.0, words)];
    }
    drawing.sheets.reverse();
    let places = Matches::of(&drawing, &Pace::default())
        .unwrap()
        .proposed(&drawing, &Pace::default())
        .unwrap();
    let size = drawing.sheets[0].bounds.size();
    let last = places.pages[count - 1].at;
    for (at, place) in places.pages.iter().enumerate() {
        let page = count - 1 - at;
        let step = Vec2::new(
            (page % 3) as f64 * size.width,
            -((page / 3) as f64) * size.height,
        );
        assert!((place.at - (last + step)).hypot() < 1e-6, "{place:?}");
        assert_eq!(place.by, PlacedBy::Order);
        assert!(place.sure < 0.9, "only the labels tell it");
    }
}

#[test]
fn our_own_prints_join_whatever_order_their_pages_come_in() {
    let garment = common::adult_dress();
    for size in [PaperSize::A4, PaperSize::Letter] {
        let settings = PaperSettings {
            size,
            ..PaperSettings::default()
        };
        let pages = tile(&sheet(&garment, LengthUnit::Millimetre), &settings);
        let in_order = bring_in(&write_pages(&pages), "dress.pdf").unwrap();
        let mut mixed = in_order.clone();
        let order = shuffled(mixed.sheets.len());
        mixed.sheets = order
            .iter()
            .map(|page| in_order.sheets[*page].clone())
            .collect();
        let cut_lines = |drawing: &FoundDrawing| {
            let places = Matches::of(drawing, &Pace::default())
                .unwrap()
                .proposed(drawing, &Pace::default())
                .unwrap();
            let whole = joined(drawing, &places, 0.3, &Pace::default()).unwrap();
            assert!(whole.worst_gap < 0.01, "{}", whole.worst_gap);
            let is_cut = |line: &&FoundLine| line.closed && line.meaning == Some(Meaning::CutLine);
            let lines = whole.sheet.lines.iter().filter(is_cut);
            let mut areas: Vec<i64> = lines
                .map(|line| (line.path.area().abs() / 10.0).round() as i64)
                .collect();
            areas.sort_unstable();
            areas
        };
        assert_eq!(cut_lines(&in_order), cut_lines(&mixed));
    }
}
