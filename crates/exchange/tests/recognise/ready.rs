//! The way from a bare drawing to a garment on a doll: outlines alone, turned, mirrored and shuffled, without a name, a
//! mark or a word, come in as SVG, become pieces, and are ready to adapt after at most fifteen confirmations.

use std::fmt::Write as _;
use std::sync::Arc;

use petitoile_core::adapt::adapt_garment;
use petitoile_core::body::{Body, BodyKind};
use petitoile_core::drafts::wardrobe::harbour_jacket;
use petitoile_core::drafts::{Constants, DraftMeasures, flat_sleeve, loose_bodice};
use petitoile_core::fitting::Fitting;
use petitoile_core::garment::Garment;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::kurbo::{Affine, Shape};
use petitoile_core::measure::Measure;
use petitoile_core::readying::{Answers, Proposal, accept_all, is_ready, propose, readied};
use petitoile_exchange::body_table::{built_in, find};

use super::made::{PROJECTS, finished, found};
use petitoile_exchange::bring_in::recognise::{Choices, garment, recognise};
use petitoile_exchange::bring_in::{Limits, Watch, read};

/// Outlines side by side on one sheet, each turned, every second one turned over; true size, nothing else.
fn svg(outlines: &[Outline]) -> String {
    let (mut paths, mut x, mut high) = (String::new(), 0.0, 0.0_f64);
    for (n, outline) in outlines.iter().enumerate() {
        let flip = if n % 2 == 0 {
            Affine::FLIP_Y
        } else {
            Affine::IDENTITY
        };
        let path = Affine::rotate(0.7 + 1.1 * n as f64) * flip * outline.path();
        let bounds = path.bounding_box();
        let path = Affine::translate((x + 20.0 - bounds.x0, 20.0 - bounds.y0)) * path;
        writeln!(
            paths,
            "<path d=\"{}\" fill=\"none\" stroke=\"black\" stroke-width=\"0.3\"/>",
            path.to_svg()
        )
        .unwrap();
        x += bounds.width() + 40.0;
        high = high.max(bounds.height());
    }
    let (width, height) = (x, high + 40.0);
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\">\n{paths}</svg>\n"
    )
}

fn brought_in(svg: &str, name: &str) -> Garment {
    let found = read(
        svg.as_bytes(),
        "drawing.svg",
        &Limits::default(),
        &Watch::default(),
    )
    .unwrap();
    assert_eq!(found.left, vec![]);
    let recognised = recognise(&found.sheets[0], &Choices::default());
    garment(
        &recognised,
        name,
        Arc::new(Body::new("not known", BodyKind::Woman)),
    )
}

fn accepted(bare: &Garment) -> (Garment, Proposal, usize) {
    let proposal = propose(bare, &built_in(), &Answers::default());
    let (answers, confirmations) = accept_all(&proposal);
    (
        readied(bare, &built_in(), &answers),
        proposal,
        confirmations,
    )
}

fn names(garment: &Garment) -> Vec<&str> {
    let mut names: Vec<&str> = garment
        .pieces
        .iter()
        .map(|piece| piece.name.as_str())
        .collect();
    names.sort_unstable();
    names
}

/// Width and height of a piece on a doll, as a share of the bust.
fn size(garment: &Garment, piece: &str, doll: &Arc<Body>) -> (f64, f64) {
    let fitting = Fitting::new("on the doll", garment.name.clone(), doll.clone());
    let adapted = adapt_garment(&Arc::new(garment.clone()), &Arc::new(fitting)).unwrap();
    let piece = adapted.pieces.iter().find(|own| own.name == piece).unwrap();
    let bounds = piece.outline.bounds();
    let bust = doll.mm(Measure::BustGirth).0;
    (bounds.width() / bust, bounds.height() / bust)
}

#[test]
fn a_bare_drawing_of_a_bodice_with_sleeves_is_ready_after_at_most_fifteen_confirmations() {
    let m = DraftMeasures::of(&find("woman-92").unwrap());
    let rule = Constants::InProportion;
    let drafts = [
        loose_bodice(&m, rule).unwrap(),
        flat_sleeve(&m, rule).unwrap(),
    ];
    let outlines: Vec<Outline> = drafts
        .iter()
        .flat_map(|draft| draft.outlines().map(|(_, outline)| outline.clone()))
        .collect();
    let bare = brought_in(&svg(&outlines), "bodice");
    assert_eq!(bare.pieces.len(), 3);
    let (ready, proposal, confirmations) = accepted(&bare);
    assert_eq!(proposal.lacking, Vec::<String>::new());
    assert!(confirmations <= 15, "{confirmations}");
    assert_eq!(names(&ready), ["back", "front", "sleeve"]);
    assert_eq!(is_ready(&ready), Ok(()));
    assert_eq!(ready.made_for.key, "woman-92");
    for doll in ["play-45", "fashion-29-slim", "jointed-60"] {
        let (width, height) = size(&ready, "front", &find(doll).unwrap());
        assert!(width > 0.1 && height > 0.1, "{doll}");
    }
}

/// The jacket has body lines, seams and tapes of its own: what comes out on a doll is held against it.
#[test]
fn a_bare_drawing_of_the_harbour_jacket_comes_out_on_dolls_as_the_jacket_does() {
    let jacket = harbour_jacket(&find("woman-92").unwrap()).unwrap();
    let outlines: Vec<Outline> = jacket
        .pieces
        .iter()
        .rev()
        .map(|piece| piece.outline.clone())
        .collect();
    let bare = brought_in(&svg(&outlines), "jacket");
    assert_eq!(bare.pieces.len(), 5);
    let (ready, proposal, confirmations) = accepted(&bare);
    assert_eq!(proposal.lacking, Vec::<String>::new());
    assert!(confirmations <= 15, "{confirmations}");
    assert_eq!(names(&ready), ["back", "collar", "cuff", "front", "sleeve"]);
    assert_eq!(ready.made_for.key, "woman-92");
    for doll in ["play-45", "fashion-29-slim", "jointed-60"] {
        let doll = find(doll).unwrap();
        for piece in ["front", "back", "sleeve", "cuff", "collar"] {
            let (found, wanted) = (size(&ready, piece, &doll), size(&jacket, piece, &doll));
            let off = (found.0 - wanted.0).abs().max((found.1 - wanted.1).abs());
            assert!(
                off < 0.02,
                "{}, {piece}: {found:?} against {wanted:?} of the bust",
                doll.name
            );
        }
    }
}

/// The whole sheet of a demo garment on its doll, with words, notches and grainlines, but no layer and no seam.
#[test]
fn every_sheet_of_the_demo_projects_is_ready_once_all_is_accepted() {
    for file in PROJECTS {
        for finished in finished(file) {
            let adapted = &finished.filled.adapted;
            let recognised = recognise(&found(&finished), &Choices::default());
            let bare = garment(
                &recognised,
                file,
                Arc::new(Body::new("not known", BodyKind::Woman)),
            );
            let (ready, proposal, confirmations) = accepted(&bare);
            let name = &adapted.garment.name;
            assert_eq!(proposal.lacking, Vec::<String>::new(), "{name}");
            assert_eq!(is_ready(&ready), Ok(()), "{name}");
            // Thirteen for three pieces; two or three more for every piece beyond.
            assert!(
                confirmations <= 6 + 3 * ready.pieces.len(),
                "{name}: {confirmations}"
            );
            assert_eq!(ready.made_for.name, adapted.fitting.body.name, "{name}");
            let own: Vec<&str> = names(&ready);
            let mut wanted: Vec<&str> = adapted
                .pieces
                .iter()
                .map(|piece| piece.name.as_str())
                .collect();
            wanted.sort_unstable();
            assert_eq!(own, wanted, "{name}: names a sheet gives are kept");
            let other = find("fashion-29-slim").unwrap();
            let fitting = Fitting::new("on another doll", ready.name.clone(), other);
            assert!(
                adapt_garment(&Arc::new(ready), &Arc::new(fitting)).is_ok(),
                "{name}"
            );
        }
    }
}
