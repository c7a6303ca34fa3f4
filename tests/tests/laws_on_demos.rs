//! The laws of adapting (ADAPTATION.md, "Laws to test") on the garments of the demo projects, which came by the whole way
//! from their files.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::sync::Arc;

use kurbo::Vec2;
use petitoile::demos;
use petitoile::whole_way;
use petitoile_core::adapt::{Adapted, adapt_garment};
use petitoile_core::finding::Gravity;
use petitoile_core::fitting::Fitting;
use petitoile_core::garment::Garment;
use petitoile_core::piece::Piece;
use petitoile_core::project::Project;
use petitoile_core::seams::{Relation, Seam, side_length};

fn projects() -> Vec<Project> {
    let read = |(_, text): &(&str, &str)| whole_way::read(text.as_bytes()).unwrap();
    demos::ALL.iter().map(read).collect()
}

/// Every garment with every fitting of it, and what adapting gives before any work by hand.
fn every_fitting(check: impl Fn(&Arc<Garment>, &Fitting, &Adapted)) {
    for project in projects() {
        assert!(!project.fittings.is_empty());
        for fitting in &project.fittings {
            let garment = project.garment(&fitting.garment).unwrap();
            let fitting = Fitting {
                alterations: Vec::new(),
                ..Fitting::clone(fitting)
            };
            let adapted = adapt_garment(garment, &Arc::new(fitting.clone())).unwrap();
            check(garment, &fitting, &adapted);
        }
    }
}

/// Control points by the names of their edges, counted from the start of the first.
fn shape(piece: &Piece) -> Vec<(&str, Vec2)> {
    let mut edges: Vec<_> = piece.outline.edges().iter().collect();
    edges.sort_by(|a, b| a.name.cmp(&b.name));
    let origin = edges[0].line.start();
    let points = |edge: &&petitoile_core::edge::Edge| -> Vec<Vec2> {
        edge.line.points().iter().map(|p| *p - origin).collect()
    };
    edges
        .iter()
        .flat_map(|e| points(e).into_iter().map(|p| (e.name.as_str(), p)))
        .collect()
}

fn assert_same(what: &str, a: &[Arc<Piece>], b: &[Arc<Piece>]) {
    assert_eq!(a.len(), b.len(), "{what}");
    for piece in a {
        let other = b.iter().find(|p| p.name == piece.name).unwrap();
        let (a, b) = (shape(piece), shape(other));
        assert_eq!(a.len(), b.len(), "{what}, {}", piece.name);
        for ((edge, p), (of, q)) in a.iter().zip(&b) {
            assert_eq!(edge, of);
            let far = (*p - *q).hypot();
            assert!(far < 1e-6, "{what}, {}, {edge}: {far} mm", piece.name);
        }
    }
}

#[test]
fn the_same_body_gives_the_same_pieces_back() {
    for project in projects() {
        for garment in &project.garments {
            assert!(
                garment.included_allowance.is_empty(),
                "{}: taking allowance off changes pieces; compare with those without",
                garment.name
            );
            let mut fitting = Fitting::new("same body", &garment.name, garment.made_for.clone());
            fitting.cloths = garment.cloths.clone();
            let adapted = adapt_garment(garment, &Arc::new(fitting)).unwrap();
            assert_same(&garment.name, &garment.pieces, &adapted.pieces);
            for finding in &adapted.findings {
                assert!(
                    finding.gravity <= Gravity::Note,
                    "{}: {finding}",
                    garment.name
                );
            }
        }
    }
}

/// How much longer side `a` is than its relation asks. Where the source's sides do not fit the relation as it is
/// written, what they have of ease or fullness is to stay in proportion.
fn unfit(seam: &Seam, source: &[Arc<Piece>], pieces: &[Arc<Piece>]) -> f64 {
    let fits_as_written = seam.difference(source).unwrap().0.abs() <= 0.01;
    if fits_as_written && !matches!(seam.relation, Relation::Eased(_)) {
        return seam.difference(pieces).unwrap().0;
    }
    let ratio = side_length(&seam.a, source).unwrap().0 / side_length(&seam.b, source).unwrap().0;
    let own = Seam {
        relation: Relation::Ratio(ratio),
        ..seam.clone()
    };
    own.difference(pieces).unwrap().0
}

#[test]
fn every_seam_fits_as_it_does_on_the_source() {
    every_fitting(|garment, fitting, adapted| {
        assert!(!garment.seams.is_empty(), "{}", garment.name);
        for seam in &garment.seams {
            let off = unfit(seam, &garment.pieces, &adapted.pieces);
            assert!(
                off.abs() <= 0.01,
                "{}, {}: {off:.4} mm",
                fitting.name,
                seam.name
            );
        }
    });
}

#[test]
fn every_demand_is_met() {
    every_fitting(|garment, fitting, adapted| {
        assert!(!adapted.demands.is_empty(), "{}", garment.name);
        for demand in &adapted.demands {
            let missed = demand.got.0 - demand.wanted.0;
            assert!(
                missed.abs() <= 0.01,
                "{}, {}: {missed:.4} mm",
                fitting.name,
                demand.name
            );
        }
    });
}

#[test]
fn a_straight_edge_stays_straight() {
    every_fitting(|garment, fitting, adapted| {
        for (before, after) in garment.pieces.iter().zip(&adapted.pieces) {
            for edge in before.outline.edges() {
                let now = after.outline.edge(&edge.name).unwrap();
                assert!(
                    !edge.line.is_straight() || now.line.is_straight(),
                    "{}, {}, {}",
                    fitting.name,
                    before.name,
                    edge.name
                );
            }
        }
    });
}

#[test]
fn a_fold_stays_on_grain() {
    every_fitting(|garment, fitting, adapted| {
        for (before, after) in garment.pieces.iter().zip(&adapted.pieces) {
            let Some(fold) = before.fold_edge() else {
                continue;
            };
            let along = |piece: &Piece| {
                let line = &piece.outline.edge(&fold.name).unwrap().line;
                (line.end() - line.start()).normalize()
            };
            // On grain on the source: along the drawn grainline, or upright.
            let grain = |piece: &Piece| {
                piece
                    .grainline
                    .map_or(Vec2::new(0.0, 1.0), |(a, b)| (b - a).normalize())
            };
            let lean = grain(before).cross(along(before));
            let now = grain(after).cross(along(after));
            let place = format!("{}, {}", fitting.name, before.name);
            assert!((now - lean).abs() < 1e-6, "{place}: {lean} and {now}");
            assert!(
                after.outline.edge(&fold.name).unwrap().line.is_straight(),
                "{place}"
            );
        }
    });
}

#[test]
fn pieces_in_reverse_order_give_the_same_pieces() {
    every_fitting(|garment, fitting, adapted| {
        let mut turned = Garment::clone(garment);
        turned.pieces.reverse();
        let other = adapt_garment(&Arc::new(turned), &Arc::new(fitting.clone())).unwrap();
        assert_same(&fitting.name, &adapted.pieces, &other.pieces);
    });
}
