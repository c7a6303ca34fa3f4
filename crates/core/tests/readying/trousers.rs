//! Trousers: no draft of the house has them, so two legs are drawn here by hand.

use std::collections::BTreeMap;
use std::sync::Arc;

use petitoile_core::adapt::adapt_garment;
use petitoile_core::edge::Edge;
use petitoile_core::fitting::Fitting;
use petitoile_core::garment::Garment;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::kurbo::{CubicBez, Point};
use petitoile_core::measure::Level;
use petitoile_core::piece::{Frame, Placement};
use petitoile_core::readying::{Answers, accept_all, is_ready, propose, readied};

use super::bare::{SHUFFLED, bare, plain};
use super::bodies::{body, known};

/// A leg for a woman of 92 cm bust: outer seam at the left, so wide at the crotch, its rise leaning so far.
fn leg(name: &str, crotch: f64, waist: f64, rise: f64) -> Arc<petitoile_core::piece::Piece> {
    let (foot, knee_in) = (Point::new(60.0, 0.0), 0.5 * crotch + 20.0);
    let (hem_in, fork) = (Point::new(60.0 + knee_in, 0.0), Point::new(crotch, 780.0));
    let (centre, top) = (
        Point::new(waist + 10.0, 980.0 + rise),
        Point::new(10.0, 980.0),
    );
    let curve = CubicBez::new(
        fork,
        Point::new(fork.x - 0.45 * (crotch - waist), fork.y),
        Point::new(waist, 820.0),
        centre,
    );
    let edges = vec![
        Edge::seam("hem", Line::straight(foot, hem_in)),
        Edge::seam("inner seam", Line::straight(hem_in, fork)),
        Edge::seam("rise", Line::from_cubics(&[curve]).unwrap()),
        Edge::seam("waist", Line::straight(centre, top)),
        Edge::seam("outer seam", Line::straight(top, foot)),
    ];
    Arc::new(plain(name, Outline::new(edges).unwrap()))
}

fn trousers() -> Garment {
    Garment {
        name: "trousers".to_owned(),
        made_for: body("woman-92"),
        pieces: vec![
            leg("front leg", 310.0, 235.0, 0.0),
            leg("back leg", 350.0, 215.0, 25.0),
        ],
        seams: Vec::new(),
        tape_lines: Vec::new(),
        openings: Vec::new(),
        cloths: BTreeMap::new(),
        included_allowance: BTreeMap::new(),
    }
}

#[test]
fn two_legs_are_told_and_sewn_and_can_be_adapted() {
    for seed in 1..=4 {
        let bare = bare(&trousers(), SHUFFLED, seed);
        let proposal = propose(&bare.garment, &known(), &Answers::default());
        assert_eq!(proposal.lacking, Vec::<String>::new(), "{proposal:#?}");
        let (answers, confirmations) = accept_all(&proposal);
        assert!(confirmations <= 9, "{confirmations}");
        let ready = readied(&bare.garment, &known(), &answers);
        assert_eq!(is_ready(&ready), Ok(()));
        for (now, was) in ready.pieces.iter().zip(&bare.garment.pieces) {
            assert_eq!(now.name, bare.pieces[&was.name]);
            assert_eq!(now.placement, Placement::Framed(Frame::Leg));
            assert!(
                now.body_lines
                    .iter()
                    .any(|line| line.level == Level::Crotch)
            );
            for edge in ["hem", "inner seam", "rise", "waist", "outer seam"] {
                assert!(now.outline.edge(edge).is_some(), "{}: {edge}", now.name);
            }
        }
        let mut seams: Vec<&str> = ready.seams.iter().map(|seam| seam.name.as_str()).collect();
        seams.sort_unstable();
        assert_eq!(
            seams,
            ["back rise", "front rise", "inner seam", "outer seam"]
        );
        let fitting = Fitting::new("f", ready.name.clone(), body("play-45"));
        assert!(adapt_garment(&Arc::new(ready), &Arc::new(fitting)).is_ok());
    }
}
