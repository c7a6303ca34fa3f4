//! Whatever is answered, the outcome is a garment.

use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::body::{Body, BodyKind, Measured};
use petitoile_core::edge::Edge;
use petitoile_core::edit::Edit;
use petitoile_core::fitting::Fitting;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::kurbo::{Point, Vec2};
use petitoile_core::measure::Measure;
use petitoile_core::piece::Piece;
use petitoile_core::project::Project;
use petitoile_core::readying::{
    Answers, MADE_FOR, NONE, Proposed, ProposedKind, accept_all, made_for_way, propose, readied,
};
use proptest::prelude::*;

use super::bare::{AS_A_DRAWING, SHUFFLED, bare, garments, plain};
use super::bodies::{body, known};

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Ways are chosen one after the other, and what follows is proposed anew.
    #[test]
    fn any_answers_give_a_valid_garment_that_can_be_adapted(
        which in 0..8_usize,
        seed in 0..1000_u64,
        picks in proptest::collection::vec((any::<u16>(), any::<u16>()), 0..14),
    ) {
        let all = garments("woman-92");
        let garment = &all[which % all.len()];
        let bare = bare(garment, if seed % 2 == 0 { SHUFFLED } else { AS_A_DRAWING }, seed);
        let known = known();
        let mut answers = Answers::default();
        for (item, way) in picks {
            let proposal = propose(&bare.garment, &known, &answers);
            if proposal.items.is_empty() {
                break;
            }
            let item = &proposal.items[usize::from(item) % proposal.items.len()];
            let way = &item.ways[usize::from(way) % item.ways.len()];
            answers.choose(&item.key, &way.key);
        }
        let ready = readied(&bare.garment, &known, &answers);
        // A project takes it: every name is there, every size and place makes sense.
        let project = Project::default().edited(&Edit::PutGarment(Arc::new(ready.clone())));
        prop_assert!(project.is_ok(), "{:?}", project.err());
        prop_assert_eq!(project.unwrap().check(), Ok(()));
        for (now, was) in ready.pieces.iter().zip(&bare.garment.pieces) {
            prop_assert!((now.outline.area() / was.outline.area() - 1.0).abs() < 1e-9, "turned, never bent");
            prop_assert!(!now.copies.is_empty());
        }
    }
}

#[test]
fn keys_stay_the_same_while_other_answers_change() {
    for garment in garments("woman-92") {
        let bare = bare(&garment, SHUFFLED, 5);
        let proposal = propose(&bare.garment, &known(), &Answers::default());
        let keys = |answers: &Answers| -> Vec<String> {
            propose(&bare.garment, &known(), answers)
                .items
                .into_iter()
                .map(|item| item.key)
                .collect()
        };
        let (all, _) = accept_all(&proposal);
        assert_eq!(keys(&Answers::default()), keys(&all), "{}", garment.name);
        // Every item by itself, taken as it is proposed, changes no other.
        for item in &proposal.items {
            let mut one = Answers::default();
            one.accept(item);
            assert_eq!(
                keys(&Answers::default()),
                keys(&one),
                "{}, {}",
                garment.name,
                item.key
            );
        }
    }
}

#[test]
fn what_is_refused_can_be_taken_up_again() {
    for garment in garments("woman-92") {
        let bare = bare(&garment, SHUFFLED, 5);
        for item in propose(&bare.garment, &known(), &Answers::default()).items {
            let mut answers = Answers::default();
            answers.refuse(&item.key);
            let again = propose(&bare.garment, &known(), &answers);
            let refused = again.items.iter().find(|own| own.key == item.key);
            let refused =
                refused.unwrap_or_else(|| panic!("{}: {} is gone", garment.name, item.key));
            assert_eq!(refused.ways[0].key, NONE, "{}, {}", garment.name, item.key);
            assert!(refused.ways.len() > 1, "{}, {}", garment.name, item.key);
            answers.accept(&item);
            let taken = propose(&bare.garment, &known(), &answers);
            let taken = taken.items.iter().find(|own| own.key == item.key);
            let way = |item: &Proposed| item.ways[0].key.clone();
            assert_eq!(taken.map(way), Some(way(&item)), "{}", garment.name);
        }
    }
}

#[test]
fn nothing_is_put_in_without_an_answer() {
    for garment in garments("woman-92") {
        let bare = bare(&garment, SHUFFLED, 3);
        assert_eq!(
            readied(&bare.garment, &known(), &Answers::default()),
            bare.garment
        );
    }
}

#[test]
fn every_proposal_says_its_doubt_and_what_it_rests_on_and_can_be_refused() {
    for garment in garments("woman-92") {
        let bare = bare(&garment, SHUFFLED, 9);
        for item in propose(&bare.garment, &known(), &Answers::default()).items {
            assert!((0.0..=1.0).contains(&item.certainty), "{item:?}");
            assert!(
                !item.words.is_empty() && !item.rests_on.is_empty(),
                "{item:?}"
            );
            assert!(
                item.kind == ProposedKind::MadeFor || !item.places.is_empty(),
                "{item:?}"
            );
            assert_eq!(item.ways.last().unwrap().key, NONE);
            let mut keys: Vec<&str> = item.ways.iter().map(|way| way.key.as_str()).collect();
            keys.sort_unstable();
            keys.dedup();
            assert_eq!(keys.len(), item.ways.len(), "{item:?}");
        }
    }
}

#[test]
fn a_garment_that_is_ready_is_left_alone() {
    for garment in super::adapted::demos() {
        let proposal = propose(&garment, &known(), &Answers::default());
        assert_eq!(proposal.items, Vec::new(), "{}", garment.name);
    }
}

/// The order of the pieces, how they lie and where their outlines start says nothing.
#[test]
fn the_same_garment_is_read_however_it_comes() {
    for garment in garments("woman-92") {
        let read = |seed: u64| -> Vec<(String, String)> {
            let bare = bare(&garment, SHUFFLED, seed);
            let (answers, _) = accept_all(&propose(&bare.garment, &known(), &Answers::default()));
            let ready = readied(&bare.garment, &known(), &answers);
            let mut named: Vec<(String, String)> = ready
                .pieces
                .iter()
                .zip(&bare.garment.pieces)
                .map(|(now, was)| (bare.pieces[&was.name].clone(), now.name.clone()))
                .filter(|(_, now)| !now.starts_with("piece"))
                .collect();
            named.sort();
            named
        };
        assert_eq!(read(1), read(2), "{}", garment.name);
        assert_eq!(read(1), read(4), "{}", garment.name);
    }
}

#[test]
fn another_way_for_a_piece_moves_the_others_along() {
    let jacket = garments("woman-92")
        .into_iter()
        .find(|g| g.name == "harbour jacket")
        .unwrap();
    let bare = bare(&jacket, SHUFFLED, 2);
    let came = |was: &str| {
        bare.pieces
            .iter()
            .find(|(_, name)| *name == was)
            .unwrap()
            .0
            .clone()
    };
    let mut answers = Answers::default();
    answers.choose(&format!("piece: {}", came("front")), "back, fold");
    let proposal = propose(&bare.garment, &known(), &answers);
    let words = |was: &str| {
        let key = format!("piece: {}", came(was));
        proposal
            .items
            .iter()
            .find(|item| item.key == key)
            .unwrap()
            .words
            .clone()
    };
    assert!(
        words("front").contains("the back, one half, cut on the fold"),
        "{}",
        words("front")
    );
    assert!(words("back").contains("the front"), "{}", words("back"));
    // The maker's mind changed: refused, and taken back.
    answers.refuse("seam: shoulder");
    let refused = propose(&bare.garment, &known(), &answers);
    let shoulder = refused
        .items
        .iter()
        .find(|item| item.key == "seam: shoulder")
        .unwrap();
    assert_eq!(shoulder.ways[0].key, NONE);
    answers.forget("seam: shoulder");
    assert_eq!(propose(&bare.garment, &known(), &answers), proposal);
}

#[test]
fn what_cannot_be_told_is_said_with_what_to_do() {
    let gown = garments("woman-92")
        .into_iter()
        .find(|g| g.name == "gown")
        .unwrap();
    let bare = bare(&gown, SHUFFLED, 1).garment;
    let proposal = propose(&bare, &[body("woman-92")], &Answers::default());
    let wanted: Vec<String> = (1..=3)
        .map(|n| format!("piece {n}: what it is cannot be told from its shape; choose what it follows, and mark what it is sewn to"))
        .chain([
            "no tape goes round it; lay one at the bust or the waist, on every piece that lies there".to_owned(),
            "the body it was made for is not known; choose one or type its girths".to_owned(),
        ])
        .collect();
    assert_eq!(proposal.lacking, wanted);
}

#[test]
fn edges_and_pieces_a_maker_named_keep_their_names() {
    let jacket = garments("woman-92")
        .into_iter()
        .find(|g| g.name == "harbour jacket")
        .unwrap();
    let mut bare = bare(&jacket, SHUFFLED, 6).garment;
    let piece = Arc::make_mut(&mut bare.pieces[0]);
    piece.name = "Vorderteil".to_owned();
    let (answers, _) = accept_all(&propose(&bare, &known(), &Answers::default()));
    let ready = readied(&bare, &known(), &answers);
    assert_eq!(ready.pieces[0].name, "Vorderteil");
    assert_eq!(ready.check_references(), Ok(()));
    let fitting = Fitting::new("f", ready.name.clone(), body("play-45"));
    assert!(petitoile_core::adapt::adapt_garment(&Arc::new(ready), &Arc::new(fitting)).is_ok());
}

/// The maker types her girths: a body of her own among the known ones, taken whatever fits better.
#[test]
fn a_body_with_typed_girths_is_taken_when_it_is_chosen() {
    let jacket = garments("woman-92")
        .into_iter()
        .find(|g| g.name == "harbour jacket")
        .unwrap();
    let bare = bare(&jacket, SHUFFLED, 2).garment;
    let own = Body::new("my aunt", BodyKind::Woman)
        .with(Measure::BustGirth, Measured::own_tape(Mm(1180.0)));
    let mut bodies = known();
    bodies.push(Arc::new(own.clone()));
    let (mut answers, _) = accept_all(&propose(&bare, &bodies, &Answers::default()));
    answers.choose(MADE_FOR, &made_for_way(&own));
    assert_eq!(*readied(&bare, &bodies, &answers).made_for, own);
    let item = propose(&bare, &bodies, &answers)
        .items
        .into_iter()
        .find(|item| item.kind == ProposedKind::MadeFor);
    assert_eq!(item.unwrap().ways[0].key, made_for_way(&own));
}

/// Outlines nobody would cut: spikes and waves round a point.
fn odd_piece(n: usize, corners: &[(f64, f64)]) -> Piece {
    let count = corners.len().max(1);
    let at = |k: usize| {
        let (radius, bend) = corners[k % count];
        let angle = std::f64::consts::TAU * (k % count) as f64 / count as f64;
        (
            Point::ORIGIN + Vec2::from_angle(angle) * radius,
            Vec2::from_angle(angle + 1.5) * bend,
        )
    };
    let edges: Vec<Edge> = (0..count)
        .map(|k| {
            let ((a, lead), (b, follow)) = (at(k), at(k + 1));
            let line = Line::new(vec![a, a + lead, b - follow, b]).unwrap();
            Edge::seam(format!("edge {k}"), line)
        })
        .collect();
    let square = || {
        let corner =
            |k: usize| Point::new([0.0, 9.0, 9.0, 0.0][k % 4], [0.0, 0.0, 9.0, 9.0][k % 4]);
        Outline::new(
            (0..4)
                .map(|k| {
                    Edge::seam(
                        format!("edge {k}"),
                        Line::straight(corner(k), corner(k + 1)),
                    )
                })
                .collect(),
        )
        .unwrap()
    };
    plain(
        &format!("piece {n}"),
        Outline::new(edges).unwrap_or_else(|_| square()),
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn odd_outlines_are_read_or_left_and_never_break_anything(
        pieces in proptest::collection::vec(proptest::collection::vec((0.5..400.0_f64, -150.0..150.0_f64), 1..9), 1..7),
    ) {
        let mut garment = garments("woman-92").swap_remove(0);
        garment.made_for = Arc::new(Body::new("not known", BodyKind::Woman));
        garment.pieces = pieces.iter().enumerate().map(|(n, corners)| Arc::new(odd_piece(n, corners))).collect();
        let proposal = propose(&garment, &known(), &Answers::default());
        let (answers, _) = accept_all(&proposal);
        let ready = readied(&garment, &known(), &answers);
        let project = Project::default().edited(&Edit::PutGarment(Arc::new(ready)));
        prop_assert!(project.is_ok(), "{:?}", project.err());
    }
}
