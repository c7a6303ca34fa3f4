//! What stands on the pieces of the demo garments, read as a maker reads it.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::sync::Arc;

use petitoile_core::LengthUnit;
use petitoile_core::adapt::adapt;
use petitoile_core::finish::finish;
use petitoile_core::fullness::fill;
use petitoile_core::kurbo::Shape;
use petitoile_exchange::drawing::{Ink, Layer, PieceDrawing};
use petitoile_exchange::{project_file, sheet};

/// The pieces of a fitting of a demo project, drawn.
fn drawn(bytes: &[u8], fitting: &str) -> Vec<PieceDrawing> {
    let project = project_file::read(bytes).unwrap();
    let adapted = Arc::new(adapt(&project, fitting).unwrap());
    let filled = Arc::new(fill(&adapted).outcome);
    sheet::sheet(&finish(&filled).outcome, LengthUnit::Millimetre).pieces
}

fn smock() -> Vec<PieceDrawing> {
    drawn(
        include_bytes!("../../../demo-projects/net-menders-smock.ron"),
        "net mender's smock, 45 cm play doll",
    )
}

/// All words on a piece, spaced plainly.
fn words(pieces: &[PieceDrawing], name: &str) -> String {
    let piece = pieces.iter().find(|piece| piece.name == name).unwrap();
    let texts = piece
        .drawing
        .items
        .iter()
        .filter_map(|item| match &item.ink {
            Ink::Text { words, .. } => Some(words.as_str()),
            _ => None,
        });
    let all = texts.collect::<Vec<_>>().join(" ");
    all.split(|c: char| c.is_whitespace())
        .collect::<Vec<_>>()
        .join(" ")
}

#[test]
fn a_gathered_edge_says_to_what_length_it_is_drawn_in() {
    let pieces = smock();
    let sleeve = words(&pieces, "sleeve");
    assert!(
        sleeve.contains("gather cap back and cap front to "),
        "{sleeve}"
    );
    // The cuff of this fitting, its lap left out, is what the sleeve is sewn to.
    assert!(
        sleeve.contains("; hem to ") || sleeve.contains("gather hem to "),
        "{sleeve}"
    );
    let body = words(&pieces, "front body");
    assert!(body.contains("gather yoke seam to "), "{body}");
    // 60.86 mm on the half, as the front yoke measures; the maker gathers it opened out.
    assert!(
        body.contains("gather yoke seam to 121.7 mm from side to side"),
        "{body}"
    );
    let back = words(&pieces, "back body");
    assert!(
        back.contains("gather yoke seam to 55.1 mm") && !back.contains("from side"),
        "{back}"
    );
}

#[test]
fn gathering_rows_are_drawn_where_a_seam_draws_the_sleeve_in() {
    let pieces = smock();
    let rows = |name: &str| {
        let piece = pieces.iter().find(|piece| piece.name == name).unwrap();
        let dashed = piece.drawing.items.iter().filter(|item| {
            item.layer == Layer::StitchLines
                && matches!(&item.ink, Ink::Stroke { dash, .. } if !dash.is_empty())
        });
        dashed.count()
    };
    assert_eq!(
        rows("sleeve"),
        6,
        "two along the wrist, two along either half of the cap"
    );
    assert_eq!(rows("cuff"), 0);
}

#[test]
fn a_hem_turned_twice_says_its_finished_width() {
    let body = words(&smock(), "front body");
    assert!(body.contains("hem 12.7 mm turned twice"), "{body}");
}

#[test]
fn the_grain_arrow_of_a_band_ends_clear_of_the_words_at_its_fold() {
    let pieces = drawn(
        include_bytes!("../../../demo-projects/net-menders-smock.ron"),
        "net mender's smock, 29 cm fashion doll, slim",
    );
    let band = pieces
        .iter()
        .find(|piece| piece.name == "neckband")
        .unwrap();
    let marks = || {
        band.drawing
            .items
            .iter()
            .filter(|item| item.layer == Layer::Marks)
    };
    let words = marks().find_map(|item| match &item.ink {
        Ink::Text { at, words, .. } if words == "place on fold" => Some(*at),
        _ => None,
    });
    let fold = words.expect("there is room for the words");
    // The grain lies across the fold; its two heads are filled and point along it.
    let nearest = marks()
        .filter_map(|item| match &item.ink {
            Ink::Stroke { path, dash, .. } if dash.is_empty() => Some(path.bounding_box()),
            _ => None,
        })
        .filter(|b| b.height() < 0.01 && b.width() > 5.0)
        .map(|b| (b.x0 - fold.x).abs().min((b.x1 - fold.x).abs()))
        .fold(f64::INFINITY, f64::min);
    assert!(nearest.is_finite() && nearest > 1.0, "{nearest}");
}

#[test]
fn a_set_in_sleeve_is_eased_not_gathered() {
    let pieces = drawn(
        include_bytes!("../../../demo-projects/harbour-jacket.ron"),
        "harbour jacket, 45 cm play doll",
    );
    let sleeve = words(&pieces, "sleeve");
    assert!(sleeve.contains("ease cap front to "), "{sleeve}");
    assert!(sleeve.contains("ease cap back to "), "{sleeve}");
    assert!(!sleeve.contains("gather"), "{sleeve}");
}

/// The smock with marks and finishes of the maker's own on its front body.
fn marked_smock(changes: Vec<petitoile_core::alteration::MarkChange>) -> PieceDrawing {
    let bytes = include_bytes!("../../../demo-projects/net-menders-smock.ron");
    let mut project = project_file::read(bytes).unwrap();
    let garment = project.garments[0].name.clone();
    for change in changes {
        let edit = petitoile_core::edit::Edit::Alter {
            garment: garment.clone(),
            alteration: change.of("front body"),
        };
        project = project.edited(&edit).unwrap();
    }
    let fitting = "net mender's smock, 45 cm play doll";
    let adapted = Arc::new(adapt(&project, fitting).unwrap());
    let filled = Arc::new(fill(&adapted).outcome);
    let mut pieces = sheet::sheet(&finish(&filled).outcome, LengthUnit::Millimetre).pieces;
    pieces.retain(|piece| piece.name == "front body");
    pieces.remove(0)
}

#[test]
fn a_slit_a_gap_and_the_side_of_the_cloth_are_written_on_the_piece() {
    use petitoile_core::alteration::MarkChange;
    use petitoile_core::edge::Finish;
    use petitoile_core::piece::Face;
    let plain = marked_smock(Vec::new());
    let slit = marked_smock(vec![
        MarkChange::SetFinish {
            edge: "side seam".to_owned(),
            from: 0.0,
            to: 0.25,
            finish: Finish::Slit,
        },
        MarkChange::SetFace(Face::Wrong),
    ]);
    let told = words(std::slice::from_ref(&slit), "front body");
    assert!(told.contains("side seam: slit of "), "{told}");
    assert!(told.contains("printed side is the wrong side"), "{told}");
    let rounds = |piece: &PieceDrawing| {
        let filled = |item: &&petitoile_exchange::drawing::Item| {
            item.layer == Layer::Marks && matches!(item.ink, Ink::Fill { .. })
        };
        piece.drawing.items.iter().filter(filled).count()
    };
    assert_eq!(
        rounds(&slit),
        rounds(&plain) + 1,
        "a dot says where sewing ends"
    );
}

#[test]
fn channels_eyelets_and_words_are_drawn_to_size() {
    use petitoile_core::Mm;
    use petitoile_core::alteration::MarkChange;
    use petitoile_core::geometry::curve::Line;
    use petitoile_core::kurbo::Point;
    use petitoile_core::piece::{Mark, MarkKind};
    let plain = marked_smock(Vec::new());
    let project = project_file::read(include_bytes!(
        "../../../demo-projects/net-menders-smock.ron"
    ))
    .unwrap();
    let front = project.garments[0].piece("front body").unwrap().clone();
    let middle = front.outline.bounds().center();
    let add = |name: &str, kind| {
        MarkChange::AddMark(Mark {
            name: name.to_owned(),
            kind,
        })
    };
    let marked = marked_smock(vec![
        add(
            "bone",
            MarkKind::Channel {
                line: Line::straight(middle - (0.0, 60.0), Point::new(middle.x, middle.y + 60.0)),
                width: Mm(7.0),
            },
        ),
        add(
            "",
            MarkKind::Eyelet {
                at: middle - (20.0, 0.0),
                diameter: Mm(4.0),
            },
        ),
        add("this side up", MarkKind::Text(middle - (0.0, 90.0))),
    ]);
    assert!(words(std::slice::from_ref(&marked), "front body").contains("this side up"));
    let new: Vec<_> = marked
        .drawing
        .items
        .iter()
        .filter(|item| !plain.drawing.items.contains(item))
        .collect();
    let rows: Vec<f64> = new
        .iter()
        .filter(|item| item.layer == Layer::StitchLines)
        .filter_map(|item| match &item.ink {
            Ink::Stroke { path, .. } => Some(path.bounding_box().center().x),
            _ => None,
        })
        .collect();
    assert_eq!(rows.len(), 2, "a channel is sewn in two rows");
    assert!(
        ((rows[0] - rows[1]).abs() - 7.0).abs() < 0.05,
        "7 mm apart on the doll too: {rows:?}"
    );
    let ring = new.iter().any(|item| match &item.ink {
        Ink::Stroke { path, .. } => {
            let bounds = path.bounding_box();
            (bounds.width() - 4.0).abs() < 0.01 && (bounds.height() - 4.0).abs() < 0.01
        }
        _ => false,
    });
    assert!(ring, "the eyelet is as wide as its hole");
}
