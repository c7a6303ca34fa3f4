//! Our own prints come in again.

use super::*;
use petitoile_core::LengthUnit;
use petitoile_core::paper::{PaperSettings, PaperSize};
use petitoile_exchange::bring_in::{Meaning, Pace};
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

fn round_trip(
    name: &str,
    garment: &petitoile_core::finish::Finished,
    papers: &[PaperSize],
) -> usize {
    use petitoile_core::kurbo::Affine;
    use petitoile_exchange::bring_in::sheets::{Matches, joined};
    let mut spread = 0;
    for size in papers {
        let settings = PaperSettings {
            size: *size,
            ..PaperSettings::default()
        };
        let pages = tile(&sheet(garment, LengthUnit::Millimetre), &settings);
        let found = bring_in(&write_pages(&pages), name).unwrap();
        let places = Matches::of(&found, &Pace::default())
            .unwrap()
            .proposed(&found, &Pace::default())
            .unwrap();
        let joined = joined(&found, &places, 0.3, &Pace::default()).unwrap();
        assert!(joined.worst_gap < 0.01, "{name}: {}", joined.worst_gap);
        let outlines: Vec<_> = joined
            .sheet
            .lines
            .iter()
            .filter(|line| line.closed && line.meaning == Some(Meaning::CutLine))
            .collect();
        assert!(
            !outlines.is_empty(),
            "{name}: {:?}, {} cut lines",
            joined.left,
            joined
                .sheet
                .lines
                .iter()
                .filter(|l| l.meaning == Some(Meaning::CutLine))
                .count()
        );
        for (index, piece) in garment.pieces.iter().enumerate() {
            // On every page that shows it, the piece lies where the joined sheet has it.
            for placed in pages.placed.iter().filter(|placed| placed.piece == index) {
                spread += usize::from(!placed.whole);
                let corner = places.pages[placed.page].at.to_vec2();
                let truth = Affine::translate(corner) * placed.page_from_piece * piece.cut.clone();
                let ends = |path: &petitoile_core::kurbo::BezPath| -> Vec<Point> {
                    path.segments().map(|segment| segment.end()).collect()
                };
                let wanted = ends(&truth);
                if wanted.is_empty() {
                    continue; // its allowance cannot be drawn, there is a finding for it
                }
                let worst = |of: &[Point], from: &[Point]| {
                    let nearest =
                        |p: &Point| from.iter().map(|q| p.distance(*q)).fold(f64::MAX, f64::min);
                    of.iter().map(nearest).fold(0.0, f64::max)
                };
                let off = outlines
                    .iter()
                    .map(|line| ends(&line.path))
                    .map(|there| worst(&there, &wanted).max(worst(&wanted, &there)))
                    .fold(f64::MAX, f64::min);
                assert!(
                    off < 0.01,
                    "{name}, {}: {off} mm on page {}",
                    piece.piece.name,
                    placed.page + 1
                );
            }
        }
        let cut_lines: usize = pages
            .placed
            .iter()
            .map(|placed| placed.piece)
            .collect::<std::collections::BTreeSet<_>>()
            .len();
        assert!(
            outlines.len() >= garment.pieces.len() && outlines.len() <= cut_lines,
            "{name}: each outline once"
        );
    }
    spread
}

#[test]
fn prints_of_every_demo_project_come_in_and_join_within_a_hundredth_of_a_mm() {
    let folder = std::path::PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-projects");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "ron"))
        .collect();
    files.sort();
    assert!(files.len() >= 4);
    for file in files {
        let project =
            petitoile_exchange::project_file::read(&std::fs::read(&file).unwrap()).unwrap();
        // Both papers for every project; its further fittings on one of them in turn.
        let papers = [PaperSize::A4, PaperSize::Letter];
        for (number, fitting) in project.fittings.iter().enumerate() {
            let adapted = petitoile_core::adapt::adapt(&project, &fitting.name).unwrap();
            let filled = petitoile_core::fullness::fill(&std::sync::Arc::new(adapted)).outcome;
            let finished = petitoile_core::finish::finish(&std::sync::Arc::new(filled)).outcome;
            let these = if number == 0 {
                &papers[..]
            } else {
                &papers[number % 2..=number % 2]
            };
            round_trip(&fitting.name, &finished, these);
        }
    }
}

#[test]
fn a_dress_for_a_person_spread_over_many_pages_is_whole_again() {
    let spread = round_trip(
        "dress",
        &common::adult_dress(),
        &[PaperSize::A4, PaperSize::Letter],
    );
    assert!(spread > 20, "{spread} parts on pages");
}
