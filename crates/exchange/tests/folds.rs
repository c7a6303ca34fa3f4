//! Pleats on paper lie where the core says, to 0.01 mm: read back from PDF by hayro and from SVG by usvg.

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

use common::read::{Shown, pdf};
use petitoile_core::adapt::Adapted;
use petitoile_core::finish::{Finished, finish};
use petitoile_core::fullness::{FillLineKind, FoldedEdge, Fullness, FullnessOp, Layout, fill};
use petitoile_core::kurbo::{ParamCurve, Point, Rect, Shape};
use petitoile_core::paper::{PaperSettings, PaperSize};
use petitoile_core::piece::{Copy, Role, Side};
use petitoile_core::seams::{Relation, Seam, SeamKind, Stretch};
use petitoile_core::{LengthUnit, Mm};
use petitoile_exchange::pdf::{write_one_sheet, write_pages};
use petitoile_exchange::sheet::{TEMPLATE_HEIGHT, lines, one_drawing, sheet};
use petitoile_exchange::svg;
use petitoile_exchange::tiling::tile;
use proptest::prelude::*;

const LONG: f64 = 132.0;

/// A skirt of one straight piece, folded at its upper edge and sewn to a band as long as it is then.
fn skirt(fullness: Fullness) -> (Finished, FoldedEdge) {
    skirt_laid(fullness, Layout::default())
}

/// The same with its fullness laid otherwise than usual.
fn skirt_laid(fullness: Fullness, layout: Layout) -> (Finished, FoldedEdge) {
    let op = FullnessOp {
        even_to: Some("lower".to_owned()),
        layout,
        ..FullnessOp::new("upper", fullness)
    };
    let folded = op.folded(Mm(LONG));
    let mut skirt = common::strip("Skirt", LONG, 90.0);
    skirt.fullness = vec![op];
    let band = common::strip("Band", LONG, 12.0);
    let made = common::finished("Skirt", [skirt, band].map(common::finished_piece).to_vec());
    let mut adapted = Adapted::clone(&made.filled.adapted);
    let mut garment = (*adapted.made).clone();
    let side = |piece: &str, edge: &str, from, to| Stretch {
        piece: piece.to_owned(),
        copy: Copy {
            side: Side::Whole,
            role: Role::Shell,
        },
        edge: edge.to_owned(),
        from,
        to,
    };
    garment.seams = vec![Seam {
        name: "waist".to_owned(),
        a: vec![side("Skirt", "upper", 0.0, 1.0)],
        b: vec![side("Band", "lower", 1.0, 0.0)],
        mirrored: false,
        relation: Relation::Equal,
        kind: SeamKind::Plain,
        inserts: Vec::new(),
    }];
    adapted.made = Arc::new(garment);
    let filled = fill(&Arc::new(adapted));
    assert_eq!(filled.findings, Vec::new());
    (finish(&Arc::new(filled.outcome)).outcome, folded)
}

fn knife(count: u32, depth: f64) -> Fullness {
    Fullness::KnifePleats {
        count,
        depth: Mm(depth),
    }
}

/// Ends of a straight stroke.
fn stroke(shown: &Shown) -> Option<(Point, Point)> {
    let mut parts = shown.path.segments();
    let first = parts.next()?;
    (parts.next().is_none() && !shown.filled).then(|| (first.start(), first.end()))
}

/// The border of the template among the cut lines.
fn border<'a>(shown: impl Iterator<Item = &'a Shown>, cloth: f64) -> Rect {
    let like: Vec<Rect> = shown
        .filter(|s| s.layer == "Cut lines")
        .map(|s| s.path.bounding_box())
        .filter(|r| (r.width() - cloth).abs() < 0.01 && (r.height() - TEMPLATE_HEIGHT).abs() < 0.01)
        .collect();
    assert_eq!(like.len(), 1, "one template of {cloth} mm");
    like[0]
}

#[test]
fn every_line_of_the_template_lies_where_the_folded_edge_says() {
    for fullness in [
        knife(12, 9.0),
        knife(1, 20.0),
        Fullness::BoxPleats {
            count: 3,
            depth: Mm(11.0),
            inverted: false,
        },
        Fullness::DoubleBoxPleats {
            count: 2,
            depth: Mm(9.0),
            inverted: true,
        },
        Fullness::Tucks {
            count: 7,
            width: Mm(2.5),
        },
    ] {
        let (finished, folded) = skirt(fullness);
        let one = one_drawing(&sheet(&finished, LengthUnit::Millimetre));
        let read = pdf(&write_one_sheet(&one));
        let border = border(read.paths.iter(), folded.cloth.0);
        let mut drawn: Vec<f64> = read
            .paths
            .iter()
            .filter_map(stroke)
            .filter(|(a, b)| {
                let high = (b.y - a.y).abs();
                let inside = (a.y.min(b.y) - border.y0).abs() < 0.01;
                (a.x - b.x).abs() < 1e-3 && (high - TEMPLATE_HEIGHT).abs() < 0.01 && inside
            })
            .filter(|(a, _)| border.inflate(0.01, 0.01).contains(*a))
            .map(|(a, _)| border.x1 - a.x)
            .collect();
        let mut told: Vec<f64> = folded.folds().map(|(_, fold)| fold.on_cloth.0).collect();
        drawn.sort_by(f64::total_cmp);
        told.sort_by(f64::total_cmp);
        assert_eq!(drawn.len(), told.len(), "{fullness:?}");
        for (drawn, told) in drawn.iter().zip(&told) {
            assert!(
                (drawn - told).abs() < 0.01,
                "{fullness:?}: {drawn} against {told}"
            );
        }
    }
}

#[test]
fn every_fold_on_the_piece_starts_at_its_place_on_the_stitch_line() {
    let (finished, folded) = skirt(knife(12, 9.0));
    let one = one_drawing(&sheet(&finished, LengthUnit::Millimetre));
    let read = pdf(&write_one_sheet(&one));
    // The stitch line of the skirt: as long as the cloth, 90 mm high.
    let piece = read
        .paths
        .iter()
        .filter(|s| s.layer == "Stitch lines")
        .map(|s| s.path.bounding_box())
        .find(|r| (r.width() - folded.cloth.0).abs() < 0.01 && (r.height() - 90.0).abs() < 0.01)
        .expect("the skirt");
    // Seen from the right side, the edge at the top, the stretch starts at the right.
    for (_, fold) in folded.folds() {
        let x = piece.x1 - fold.on_cloth.0;
        let found = read
            .paths
            .iter()
            .filter(|s| s.layer == "Marks")
            .filter_map(stroke)
            .any(|(a, b)| {
                let top = if a.y > b.y { a } else { b };
                (top.x - x).abs() < 0.01
                    && (top.y - piece.y1).abs() < 0.01
                    && (a.x - b.x).abs() < 0.01
                    && (a.y - b.y).abs() > 80.0
            });
        assert!(found, "{fold:?}");
    }
}

#[test]
fn pleats_stitched_down_print_their_stitches_to_the_depth_asked_and_say_so() {
    let layout = Layout {
        sewn_down: Some(Mm(22.0)),
        ..Layout::default()
    };
    let (finished, folded) = skirt_laid(knife(4, 9.0), layout);
    let one = one_drawing(&sheet(&finished, LengthUnit::Millimetre));
    let read = pdf(&write_one_sheet(&one));
    let piece = read
        .paths
        .iter()
        .filter(|s| s.layer == "Stitch lines")
        .map(|s| s.path.bounding_box())
        .find(|r| (r.width() - folded.cloth.0).abs() < 0.01 && (r.height() - 90.0).abs() < 0.01)
        .expect("the skirt");
    for (_, fold) in folded.folds().filter(|(_, f)| f.kind == FillLineKind::Fold) {
        for at in [fold.on_cloth, fold.to.unwrap()] {
            let x = piece.x1 - at.0;
            let stitched = read
                .paths
                .iter()
                .filter(|s| s.layer == "Stitch lines")
                .filter_map(stroke)
                .any(|(a, b)| {
                    let (low, high) = (a.y.min(b.y), a.y.max(b.y));
                    (a.x - x).abs() < 0.01
                        && (b.x - x).abs() < 0.01
                        && (high - piece.y1).abs() < 0.01
                        && (high - low - 22.0).abs() < 0.01
                });
            assert!(stitched, "{at:?}");
        }
    }
    let words: Vec<&str> = read
        .words
        .iter()
        .map(|(_, _, words)| words.as_str())
        .collect();
    let told = words.join(" ").replace('\u{a0}', " ");
    assert!(told.contains("stitched down 22 mm"), "{told}");
}

#[test]
fn arrows_run_from_every_fold_to_where_it_is_laid() {
    let (finished, folded) = skirt(knife(5, 9.0));
    let lines = &finished.filled.lines[0];
    let arrows: Vec<(Point, Point)> = lines.iter().filter_map(|line| line.arrow).collect();
    assert_eq!(arrows.len(), 5, "one for each pleat");
    let drawing = sheet(&finished, LengthUnit::Millimetre);
    let bounds = drawing.pieces[0].drawing.bounds().unwrap();
    for (from, to) in arrows {
        assert!(bounds.contains(from) && bounds.contains(to));
        assert!((from.distance(to) - 18.0).abs() < 0.01, "twice the depth");
    }
    assert!(folded.pleats.len() == 5);
}

/// Shares of a quarter, laid out in 1D by hand: knife pleats evenly spread show as much plain cloth as the band is long.
#[test]
fn marks_on_the_band_and_on_the_cloth_bear_the_same_letters() {
    let (finished, _) = skirt(Fullness::Gathers { ratio: 2.0 });
    let drawing = sheet(&finished, LengthUnit::Millimetre);
    let letters = |piece: usize| -> Vec<(String, f64)> {
        let items = &drawing.pieces[piece].drawing.items;
        let mut found: Vec<(String, f64)> = items
            .iter()
            .filter_map(|item| match &item.ink {
                petitoile_exchange::drawing::Ink::Text { words, at, .. } if words.len() == 1 => {
                    Some((words.clone(), at.x))
                }
                _ => None,
            })
            .collect();
        found.sort_by(|a, b| a.0.cmp(&b.0));
        found
    };
    let (cloth, band) = (letters(0), letters(1));
    let names = |all: &[(String, f64)]| all.iter().map(|(w, _)| w.clone()).collect::<Vec<_>>();
    assert_eq!(names(&cloth), ["a", "b", "c"]);
    assert_eq!(names(&band), ["a", "b", "c"]);
    // Twice as far apart on the cloth as on the band.
    let step = |all: &[(String, f64)]| (all[1].1 - all[0].1).abs();
    assert!((step(&cloth) - 2.0 * step(&band)).abs() < 1e-6);
    assert!((step(&band) - LONG / 4.0).abs() < 1e-6);
}

#[test]
fn the_template_is_as_true_in_an_svg_file() {
    let (finished, folded) = skirt(knife(12, 9.0));
    let one = one_drawing(&sheet(&finished, LengthUnit::Millimetre));
    let text = svg::write(&one);
    let options = usvg::Options::default();
    let tree = usvg::Tree::from_str(&text, &options).unwrap();
    let mm = 25.4 / f64::from(options.dpi);
    let boxes = |id: &str| -> Vec<(f64, f64, f64, f64)> {
        let Some(usvg::Node::Group(group)) = tree.node_by_id(id) else {
            panic!("no group {id}")
        };
        group
            .children()
            .iter()
            .map(|node| node.abs_bounding_box())
            .map(|b| {
                let side = |v: f32| f64::from(v) * mm;
                (
                    side(b.left()),
                    side(b.right()),
                    side(b.width()),
                    side(b.height()),
                )
            })
            .collect()
    };
    let border = boxes("cut-lines")
        .into_iter()
        .find(|b| (b.2 - folded.cloth.0).abs() < 0.01 && (b.3 - TEMPLATE_HEIGHT).abs() < 0.01)
        .expect("the template");
    let lines: Vec<f64> = boxes("marks")
        .into_iter()
        .filter(|b| b.2 < 0.01 && (b.3 - TEMPLATE_HEIGHT).abs() < 0.01)
        .map(|b| border.1 - b.0)
        .collect();
    for (_, fold) in folded.folds() {
        let nearest = lines
            .iter()
            .map(|x| (x - fold.on_cloth.0).abs())
            .fold(f64::INFINITY, f64::min);
        assert!(nearest < 0.01, "{fold:?} is {nearest} mm off");
    }
}

#[test]
fn a_long_template_is_spread_over_joined_pages_at_true_scale() {
    let (finished, folded) = skirt(knife(12, 11.0));
    let paper = PaperSettings {
        size: PaperSize::A4,
        ..PaperSettings::default()
    };
    let all = sheet(&finished, LengthUnit::Millimetre);
    let pages = tile(&all, &paper);
    let template = all
        .pieces
        .iter()
        .position(|piece| piece.name.starts_with("pleat template"))
        .unwrap();
    assert!(folded.cloth.0 > 297.0, "longer than the sheet is high");
    let here: Vec<_> = pages
        .placed
        .iter()
        .filter(|p| p.piece == template)
        .collect();
    assert!(here.len() > 1);
    let read = pdf(&write_pages(&pages));
    for (_, fold) in folded.folds().filter(|(_, f)| f.kind == FillLineKind::Fold) {
        let x = folded.cloth.0 - fold.on_cloth.0;
        let seen = here.iter().any(|placed| {
            let at = placed.page_from_piece * Point::new(x, TEMPLATE_HEIGHT / 2.0);
            placed.area.contains(at)
                && read
                    .on(placed.page, "Marks")
                    .filter_map(stroke)
                    .any(|(a, b)| {
                        let way = (b - a).normalize();
                        (at - a).cross(way).abs() < 0.01
                            && (at - a).dot(way) > 0.0
                            && (at - a).dot(way) < (b - a).hypot()
                    })
        });
        assert!(seen, "{fold:?} is on no page");
    }
}

#[test]
fn the_table_tells_every_pleat_to_half_a_millimetre() {
    let (finished, folded) = skirt(knife(12, 9.0));
    let one = one_drawing(&sheet(&finished, LengthUnit::Millimetre));
    let read = pdf(&write_one_sheet(&one));
    let words: Vec<&str> = read
        .words
        .iter()
        .map(|(_, _, words)| words.as_str())
        .collect();
    for head in ["cloth from", "cloth to", "depth", "on the edge", "lies"] {
        let heads = words.iter().filter(|word| **word == head).count();
        assert_eq!(heads, 1, "{head}");
    }
    let deep = words.iter().filter(|word| **word == "9 mm").count();
    assert_eq!(deep, folded.pleats.len(), "the depth of every pleat");
    for pleat in &folded.pleats {
        let behind = pleat.behind();
        assert_eq!(behind.len(), 1, "a knife pleat is folded behind once");
        for place in [pleat.from, pleat.to, pleat.at, behind[0]] {
            let told = LengthUnit::Millimetre.show_on_rule(place);
            assert!(words.contains(&told.as_str()), "{told}");
            let mm: f64 = told.trim_end_matches(" mm").parse().unwrap();
            assert!((mm - place.0).abs() <= 0.25 + 1e-9);
        }
    }
}

#[test]
fn lines_of_figures_print_on_a_page_of_their_own() {
    let told = [
        "Tier 1: 300 mm of cloth to 200 mm".to_owned(),
        format!("Tier 2: {}", "a long remark ".repeat(20)),
    ];
    let page = lines("tiers", &told);
    let pages = tile(&page, &PaperSettings::default());
    let read = pdf(&write_pages(&pages));
    let words: Vec<&str> = read
        .words
        .iter()
        .map(|(.., words)| words.as_str())
        .collect();
    assert!(words.contains(&told[0].as_str()), "{words:?}");
    let remark = words.iter().filter(|line| line.contains("a long remark"));
    assert!(remark.count() > 1, "broken where the page ends");
    assert!(page.pieces[0].bounds.width() < 170.0);
    assert_eq!(pages.placed.len(), 1);
}

proptest! {
    /// Any pleats give a sheet whose template is as long as the cloth.
    #[test]
    fn a_template_is_as_long_as_the_cloth(count in 1_u32..120, depth in 0.5..30.0_f64) {
        let (finished, folded) = skirt(knife(count, depth));
        let all = sheet(&finished, LengthUnit::Inch);
        let template = all.pieces.iter().find(|p| p.name.starts_with("pleat template")).unwrap();
        let cut = template.drawing.items[0].bounds();
        prop_assert!((cut.width() - 0.5 - folded.cloth.0).abs() < 1e-6);
        prop_assert!(template.bounds.width() > folded.cloth.0);
    }
}
