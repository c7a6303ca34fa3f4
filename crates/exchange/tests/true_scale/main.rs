//! Prints are true to scale: PDF read back by hayro and rendered by poppler, SVG read back by usvg.

#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::print_stdout,
    reason = "tests"
)]

#[path = "../common/mod.rs"]
mod common;
mod poppler;

use common::read::{Read, apart, pdf};
use petitoile_core::finish::Finished;
use petitoile_core::kurbo::{BezPath, PathSeg, Rect, Shape};
use petitoile_core::paper::{PaperSettings, PaperSize, PaperTurn};
use petitoile_core::{LengthUnit, Mm};
use petitoile_exchange::drawing::{Drawing, Ink, Layer};
use petitoile_exchange::pdf::{write_one_sheet, write_pages};
use petitoile_exchange::sheet::{one_drawing, sheet};
use petitoile_exchange::svg;
use petitoile_exchange::tiling::{Pages, tile};

fn print(garment: &Finished, settings: &PaperSettings) -> (Pages, Vec<u8>) {
    let pages = tile(&sheet(garment, LengthUnit::Millimetre), settings);
    let bytes = write_pages(&pages);
    (pages, bytes)
}

/// Width and height of the upright rectangles on the page layer, mm.
fn rectangles(read: &Read, page: usize) -> Vec<Rect> {
    read.on(page, "Page")
        .filter(|s| !s.filled && s.path.segments().count() == 4)
        .map(|s| s.path.bounding_box())
        .collect()
}

fn test_squares(read: &Read) -> (Rect, Rect) {
    let near = |side: f64| {
        let like: Vec<Rect> = rectangles(read, 0)
            .into_iter()
            .filter(|r| (r.width() - side).abs() < 0.3 && (r.height() - side).abs() < 0.3)
            .collect();
        assert_eq!(like.len(), 1, "one square of about {side} mm");
        like[0]
    };
    (near(50.0), near(50.8))
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

#[test]
fn the_test_squares_measure_50_mm_and_2_in_on_every_paper() {
    for paper in every_paper() {
        let (pages, bytes) = print(&common::doll_jacket(), &paper);
        let read = pdf(&bytes);
        let (metric, inch) = test_squares(&read);
        for (side, wanted) in [
            (metric.width(), 50.0),
            (metric.height(), 50.0),
            (inch.width(), 50.8),
            (inch.height(), 50.8),
        ] {
            assert!(
                (side - wanted).abs() <= 0.001,
                "{side} instead of {wanted} on {paper:?}"
            );
        }
        for (width, height) in read.sizes {
            assert!((width - pages.size.0).abs() < 1e-4 && (height - pages.size.1).abs() < 1e-4);
        }
    }
}

#[test]
fn every_stitch_line_lies_within_a_hundredth_of_a_millimetre_of_the_model() {
    for garment in [common::doll_jacket(), common::adult_dress()] {
        for paper in every_paper() {
            let (pages, bytes) = print(&garment, &paper);
            let read = pdf(&bytes);
            let mut seen = vec![false; garment.pieces.len()];
            for placed in &pages.placed {
                let piece = &garment.pieces[placed.piece];
                let back = placed.page_from_piece.inverse();
                let stitch_shows = (placed.page_from_piece * piece.stitch.clone())
                    .bounding_box()
                    .overlaps(placed.area);
                for (model, layer, shows) in [
                    (&piece.stitch, "Stitch lines", stitch_shows),
                    (&piece.cut, "Cut lines", placed.whole),
                ] {
                    let off = read
                        .on(placed.page, layer)
                        .map(|shown| apart(model, &(back * shown.path.clone())))
                        .fold(f64::INFINITY, f64::min);
                    assert!(
                        !shows || off <= 0.01,
                        "{}: {layer} {off} mm off on page {}",
                        piece.piece.name,
                        placed.page + 1
                    );
                    if off <= 0.01 {
                        seen[placed.piece] |= layer == "Stitch lines";
                    }
                }
            }
            assert_eq!(
                seen,
                vec![true; garment.pieces.len()],
                "each piece is there"
            );
        }
    }
}

/// Parts of a path that are truly curved.
fn curved<'a>(paths: impl Iterator<Item = &'a BezPath>) -> usize {
    let is_curved = |part: &PathSeg| match part {
        PathSeg::Cubic(c) => {
            let thirds = [(c.p1, 1.0 / 3.0), (c.p2, 2.0 / 3.0)];
            thirds
                .iter()
                .any(|(p, t)| p.distance(c.p0.lerp(c.p3, *t)) > 1e-6)
        }
        _ => false,
    };
    paths.flat_map(BezPath::segments).filter(is_curved).count()
}

#[test]
fn curves_stay_curves() {
    let garment = common::doll_jacket();
    let (_, bytes) = print(&garment, &PaperSettings::default());
    let read = pdf(&bytes);
    let shown = |layer: &str| {
        let paths = read.paths.iter().filter(|s| s.layer == layer);
        curved(paths.map(|s| &s.path))
    };
    // Front: armscye, neckline. Back: neckline, armscye. Sleeve: two caps. Collar: neck, outer.
    assert_eq!(shown("Stitch lines"), 8);
    let cut = curved(garment.pieces.iter().map(|piece| &piece.cut));
    assert!(
        cut >= 8 && shown("Cut lines") == cut,
        "{cut} curves are cut"
    );
}

#[test]
fn a_print_that_came_out_small_is_enlarged_until_it_prints_true() {
    let paper = PaperSettings {
        measured_across: Mm(98.5),
        measured_along: Mm(100.8),
        ..PaperSettings::default()
    };
    let (_, bytes) = print(&common::doll_jacket(), &paper);
    let printed = |r: Rect| (r.width() * 0.985, r.height() * 1.008); // what that printer makes of it
    let read = pdf(&bytes);
    let like = |side: f64| {
        rectangles(&read, 0)
            .into_iter()
            .map(printed)
            .any(|(w, h)| (w - side).abs() <= 0.001 && (h - side).abs() <= 0.001)
    };
    assert!(like(50.0) && like(50.8));
    let on_its_side = PaperSettings {
        turn: PaperTurn::Landscape,
        ..paper
    };
    let read = pdf(&print(&common::doll_jacket(), &on_its_side).1);
    let printed = |r: Rect| (r.width() * 1.008, r.height() * 0.985); // a sheet on its side is fed lengthwise all the same
    assert!(
        rectangles(&read, 0)
            .into_iter()
            .map(printed)
            .any(|(w, h)| (w - 50.0).abs() <= 0.001 && (h - 50.0).abs() <= 0.001)
    );
}

#[test]
fn the_rulers_are_true_on_every_page() {
    let (pages, bytes) = print(&common::adult_dress(), &PaperSettings::default());
    let read = pdf(&bytes);
    for page in 0..pages.pages.len() {
        let long: Vec<Rect> = read
            .on(page, "Page")
            .filter(|s| s.path.segments().count() > 100)
            .map(|s| s.path.bounding_box())
            .collect();
        let reaches =
            |wanted: f64, of: fn(&Rect) -> f64| long.iter().any(|r| (of(r) - wanted).abs() < 0.001);
        assert!(
            reaches(101.6, Rect::width),
            "4 in across on page {}",
            page + 1
        );
        assert!(reaches(152.4, Rect::height), "6 in up on page {}", page + 1);
    }
}

#[test]
fn layers_carry_their_lines_and_can_be_told_apart() {
    let (pages, bytes) = print(&common::adult_dress(), &PaperSettings::default());
    let read = pdf(&bytes);
    for layer in Layer::ALL {
        let lines = read.paths.iter().any(|shown| shown.layer == layer.name());
        let words = read.words.iter().any(|(_, of, _)| of == layer.name());
        assert!(lines || words, "{} is empty", layer.name());
    }
    let widths = |layer: &str| read.on(0, layer).map(|s| s.width).fold(0.0, f64::max);
    assert!(
        widths("Cut lines") > 1.5 * widths("Stitch lines"),
        "the cut line is the heavier one"
    );
    let grey = |layer: Layer| {
        let [r, g, b] = layer.colour().map(f64::from);
        0.2126 * r + 0.7152 * g + 0.0722 * b // luma weights of ITU-R BT.709, from memory
    };
    assert!(
        grey(Layer::CutLines) > grey(Layer::StitchLines) + 30.0,
        "and the lighter one: told apart in grey"
    );
    assert!(pages.pages.len() > 10);
}

#[test]
fn the_viewer_is_asked_not_to_scale_and_nothing_in_the_file_is_chance() {
    use hayro_syntax::object::{Array, Dict, Name};
    let (_, bytes) = print(&common::doll_jacket(), &PaperSettings::default());
    let file = hayro_syntax::Pdf::new(bytes.clone()).unwrap();
    let catalog: Dict<'_> = file.xref().get(file.xref().root_id()).unwrap();
    let viewer: Dict<'_> = catalog.get(b"ViewerPreferences".as_ref()).unwrap();
    let scaling: Name<'_> = viewer.get(b"PrintScaling".as_ref()).unwrap();
    assert_eq!(&*scaling, b"None");
    let layers: Dict<'_> = catalog.get(b"OCProperties".as_ref()).unwrap();
    let groups: Array<'_> = layers.get(b"OCGs".as_ref()).unwrap();
    assert_eq!(groups.raw_iter().count(), Layer::ALL.len());
    for word in ["CreationDate", "ModDate", "/ID"] {
        assert!(
            !bytes.windows(word.len()).any(|w| w == word.as_bytes()),
            "{word}"
        );
    }
    assert_eq!(
        print(&common::doll_jacket(), &PaperSettings::default()).1,
        bytes,
        "same garment, same bytes"
    );
}

#[test]
fn a_reader_finds_every_word() {
    let garment = common::doll_jacket();
    let (pages, bytes) = print(&garment, &PaperSettings::default());
    let read = pdf(&bytes);
    let all: String = (0..pages.pages.len())
        .map(|page| read.words_on(page) + "\n")
        .collect();
    let joined = all.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "1 of 8 Front",
        "3 of 8 Sleeve",
        "cut 2 shell, 2 lining (1 left, 1 right)",
        "cut 1 shell, 1 lining, centre front on the fold",
        "shell: wool serge, lining: cotton lawn",
        "allowance 6.35 mm; hem 8 mm turned twice",
        "printed side is the right side; turn over for the left",
        "grain along the arrow",
        "place on fold",
        "dart point",
        "Harbour jacket for 45 cm play doll",
        "page 1 of 2",
        "50 mm",
        "2 in",
    ] {
        assert!(joined.contains(words), "{words:?} is not among\n{joined}");
    }
    for (number, piece) in (1..).zip(&garment.pieces) {
        assert!(
            joined.contains(&format!("{number} of 8 {}", piece.piece.name)),
            "{}",
            piece.piece.name
        );
    }
}

#[test]
fn one_sheet_holds_every_piece_apart_and_true() {
    for garment in [common::doll_jacket(), common::adult_dress()] {
        let all = sheet(&garment, LengthUnit::Inch);
        let one = one_drawing(&all);
        let read = pdf(&write_one_sheet(&one));
        assert_eq!(read.sizes.len(), 1);
        let (metric, _) = test_squares(&read);
        assert!((metric.width() - 50.0).abs() <= 0.001 && (metric.height() - 50.0).abs() <= 0.001);
        let mut boxes = vec![metric];
        for piece in &garment.pieces {
            let size = piece.cut.bounding_box().size();
            let found: Vec<Rect> = read
                .on(0, "Cut lines")
                .map(|s| s.path.bounding_box())
                .filter(|b| {
                    (b.width() - size.width).abs() < 0.01 && (b.height() - size.height).abs() < 0.01
                })
                .collect();
            assert_eq!(found.len(), 1, "{}", piece.piece.name);
            boxes.extend(found);
        }
        let page = Rect::new(0.0, 0.0, read.sizes[0].0, read.sizes[0].1);
        for (i, a) in boxes.iter().enumerate() {
            assert_eq!(a.intersect(page), *a, "on the page");
            assert!(boxes.iter().skip(i + 1).all(|b| !a.overlaps(*b)), "apart");
        }
    }
}

#[test]
fn an_svg_file_is_true_to_scale() {
    let garment = common::adult_dress();
    let one = one_drawing(&sheet(&garment, LengthUnit::Millimetre));
    let text = svg::write(&one);
    let mut options = usvg::Options::default();
    options
        .fontdb_mut()
        .load_font_data(petitoile_exchange::font::BYTES.to_vec());
    let tree = usvg::Tree::from_str(&text, &options).unwrap();
    let mm = 25.4 / f64::from(options.dpi);
    let bounds = one.bounds().unwrap();
    let size = (
        f64::from(tree.size().width()) * mm,
        f64::from(tree.size().height()) * mm,
    );
    assert!(
        (size.0 - bounds.width() - 10.0).abs() < 0.01
            && (size.1 - bounds.height() - 10.0).abs() < 0.01,
        "{size:?}"
    );
    let sizes = |id: &str| -> Vec<(f64, f64)> {
        let Some(usvg::Node::Group(group)) = tree.node_by_id(id) else {
            panic!("no group {id}")
        };
        let boxes = group.children().iter().map(|node| node.abs_bounding_box());
        boxes
            .map(|b| (f64::from(b.width()) * mm, f64::from(b.height()) * mm))
            .collect()
    };
    let like = |all: &[(f64, f64)], w: f64, h: f64| {
        all.iter()
            .filter(|s| (s.0 - w).abs() < 0.01 && (s.1 - h).abs() < 0.01)
            .count()
    };
    assert_eq!(like(&sizes("page"), 50.0, 50.0), 1, "the test square");
    for piece in &garment.pieces {
        for (path, id) in [(&piece.stitch, "stitch-lines"), (&piece.cut, "cut-lines")] {
            let b = path.bounding_box();
            assert_eq!(
                like(&sizes(id), b.width(), b.height()),
                1,
                "{} in {id}",
                piece.piece.name
            );
        }
    }
    assert!(
        matches!(tree.node_by_id("text"), Some(usvg::Node::Group(g)) if g.children().len() > 40),
        "text is kept as text"
    );
    assert_eq!(svg::write(&one), text, "same garment, same text");
}

#[test]
fn odd_names_do_no_harm() {
    let mut garment = common::doll_jacket();
    let mut piece = (*garment.pieces[0].piece).clone();
    piece.name = "Vorder\u{2014}teil <&> \"\u{1F9F5}\" \\ (\u{0} \u{5d0}\u{5d1}".into();
    garment.pieces[0].piece = std::sync::Arc::new(piece);
    let (_, bytes) = print(&garment, &PaperSettings::default());
    assert!(!pdf(&bytes).paths.is_empty());
    let one = one_drawing(&sheet(&garment, LengthUnit::Inch));
    assert!(usvg::Tree::from_str(&svg::write(&one), &usvg::Options::default()).is_ok());
}

#[test]
fn nothing_at_all_is_still_a_page() {
    let empty = common::finished("Nothing yet", vec![]);
    let (pages, bytes) = print(&empty, &PaperSettings::default());
    assert_eq!(pages.pages.len(), 1);
    test_squares(&pdf(&bytes));
    assert!(!write_one_sheet(&Drawing::default()).is_empty());
    assert!(
        usvg::Tree::from_str(&svg::write(&Drawing::default()), &usvg::Options::default()).is_ok()
    );
}
