//! Project files that are well written but make no sense are refused with one clear sentence, never worked on.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use petitoile_core::edge::{Finish, FinishStretch};
use petitoile_core::fitting::Fitting;
use petitoile_core::garment::Garment;
use petitoile_core::kurbo::Vec2;
use petitoile_core::measure::Measure;
use petitoile_core::piece::Piece;
use petitoile_core::project::Project;
use petitoile_core::{Mm, geometry::outline::Outline};
use petitoile_exchange::project_file::{ProjectFileError, read, write};
use std::sync::Arc;

fn demo() -> Project {
    read(include_bytes!("../../../demo-projects/harbour-jacket.ron")).unwrap()
}

/// The project as another program might have written it: changed behind the back of every edit.
fn changed(change: impl Fn(&mut Garment, &mut Fitting)) -> Project {
    let mut project = demo();
    let mut garment = Garment::clone(&project.garments[0]);
    let mut fitting = Fitting::clone(&project.fittings[0]);
    change(&mut garment, &mut fitting);
    project.garments = vec![Arc::new(garment)];
    project.fittings = vec![Arc::new(fitting)];
    project.outfits.clear();
    project
}

fn piece(garment: &mut Garment, change: impl Fn(&mut Piece)) {
    let mut piece = Piece::clone(&garment.pieces[0]);
    change(&mut piece);
    garment.pieces[0] = Arc::new(piece);
}

fn refused(words: &str, change: impl Fn(&mut Garment, &mut Fitting)) {
    let text = write(&changed(change)).unwrap();
    match read(text.as_bytes()) {
        Err(ProjectFileError::Unsound(why)) => assert!(why.contains(words), "{words}: {why}"),
        other => panic!("{words}: {:?}", other.map(|project| project.name)),
    }
}

#[test]
fn places_outside_their_edge_are_refused() {
    refused("the place of a notch", |g, _| {
        piece(g, |p| p.notches[0].fraction = 5.0)
    });
    refused("a place on it", |g, _| {
        piece(g, |p| p.body_lines[0].from.fraction = -1.0)
    });
    refused("where it lies on", |g, _| g.seams[0].a[0].to = 5.0);
}

#[test]
fn names_of_what_is_not_there_are_refused() {
    refused("nowhere", |g, _| {
        piece(g, |p| p.body_lines[0].from.edge = "nowhere".into())
    });
    refused("nowhere", |g, _| g.seams[0].a[0].piece = "nowhere".into());
}

#[test]
fn sizes_that_make_no_sense_are_refused() {
    refused("seam allowance", |_, f| f.allowances.seam = Mm(-1.0));
    refused("notch stroke", |_, f| f.allowances.notch_depth = Mm(1e9));
    refused("corner", |_, f| f.allowances.corner_limit = -1.0);
    refused("worn underneath", |_, f| f.worn_underneath = vec![Mm(1e9)]);
    refused("share of its measure", |g, _| g.tape_lines[0].share = 1e9);
    refused("margin", |_, f| f.paper.margin = Mm(1e9));
    refused("number of copies", |g, _| piece(g, |p| p.copies.clear()));
    refused("3000", |_, f| {
        let mut body = petitoile_core::body::Body::clone(&f.body);
        if let Some(figure) = body.measures.get_mut(&Measure::BustGirth) {
            figure.value = Mm(99999.0);
        }
        f.body = Arc::new(body);
    });
    refused("turns of its hem", |g, _| {
        piece(g, |p| {
            let mut edges = p.outline.edges().to_vec();
            let finish = Finish::Hem {
                width: None,
                turns: 5,
            };
            edges[0].finish = vec![FinishStretch {
                from: 0.0,
                to: 1.0,
                finish,
            }];
            p.outline = Outline::new(edges).unwrap();
        });
    });
}

#[test]
fn pieces_as_large_as_a_town_are_refused() {
    refused("a point", |g, _| {
        piece(g, |p| {
            let far = |line: &petitoile_core::geometry::curve::Line| {
                line.mapped(|q| (q.to_vec2() * 1e12 + Vec2::new(1.0, 1.0)).to_point())
            };
            let lines = p.outline.edges().iter().map(|e| far(&e.line)).collect();
            p.outline = p.outline.with_lines(lines).unwrap();
        });
    });
}
