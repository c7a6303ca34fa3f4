//! Layers: closed forms on strips that hang from a waist, laws, and the four garments of a Sunday on the quay.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]

mod quay;

use std::collections::BTreeSet;

use proptest::prelude::*;

use super::*;
use crate::adapt::EaseRow;
use crate::body::{BodyKind, Measured};
use crate::check::samples;
use crate::cloth::Cloth;
use crate::edge::{Finish, OutlinePoint};
use crate::fitting::Fitting;
use crate::fullness::{Fullness, FullnessOp};
use crate::machine::Machine;
use crate::measure::{Level, Measure};
use crate::piece::{BodyLine, Piece, Role};
use crate::tape::Hold;
use crate::units::{LengthUnit, Mm};

fn doll_of(figures: &[(Measure, f64)]) -> Body {
    let start = Body::new("doll", BodyKind::Doll);
    figures.iter().fold(start, |body, (measure, value)| {
        body.with(*measure, Measured::own_tape(Mm(*value)))
    })
}

/// A waist of 84 mm on a doll of 290 mm.
fn slim() -> Body {
    doll_of(&[
        (Measure::Height, 290.0),
        (Measure::WaistGirth, 84.0),
        (Measure::HipGirth, 126.0),
        (Measure::BackWaistLength, 62.0),
        (Measure::WaistToHip, 30.0),
        (Measure::WaistToKnee, 80.0),
        (Measure::WaistToFloor, 175.0),
    ])
}

/// A panel that hangs from the waist, this long, on the fold; hemmed.
fn panel(length: f64) -> Piece {
    let strip = samples::finished_with(samples::strip("Front", 42.0, length), "left", Finish::Fold);
    let hem = Finish::Hem {
        width: None,
        turns: 2,
    };
    let mut strip = samples::finished_with(strip, "hem", hem);
    strip.body_lines.push(BodyLine {
        level: Level::Waist,
        from: OutlinePoint::new("waist", 1.0),
        to: OutlinePoint::new("waist", 0.0),
    });
    strip
}

/// That panel as a garment on the slim doll, of one cloth.
fn hanging(name: &str, piece: Piece, cloth: f64) -> Arc<Worn> {
    let mut garment = samples::garment(vec![piece], Vec::new());
    garment.name = name.to_owned();
    let mut adapted = samples::adapted(garment, slim());
    let mut fitting = Fitting::clone(&adapted.fitting);
    fitting.name = name.to_owned();
    fitting.cloths.insert(
        Role::Shell,
        Cloth {
            name: "cotton".to_owned(),
            thickness: Mm(cloth),
            source: String::new(),
        },
    );
    adapted.fitting = Arc::new(fitting);
    adapted.ease = vec![EaseRow {
        name: "waist".to_owned(),
        hold: Hold::Fitted,
        measure: Measure::WaistGirth,
        is_girth: true,
        body: (Mm(84.0), Mm(84.0)),
        garment: (Mm(90.0), Mm(90.0)),
        cloth: Mm(0.0),
    }];
    Arc::new(Worn::new(Arc::new(adapted)))
}

fn together(layers: &[Arc<Worn>]) -> Together {
    Together {
        outfit: "Sunday".to_owned(),
        layers: layers.to_vec(),
        ..Together::default()
    }
}

fn outer(layers: &[Arc<Worn>]) -> f64 {
    rooms(&together(layers), layers.len() - 1)[0].outer().0
}

/// Fact sheet D2, computed: an 84 mm waist with two layers of 0.318 mm measures 88.0 mm.
#[test]
fn a_waist_of_84_mm_with_two_layers_of_0_318_mm_is_88_0_mm_round() {
    let thick = 318.0 / 1000.0;
    let layer = |name| hanging(name, panel(100.0), thick);
    let layers = [layer("shift"), layer("petticoat"), layer("skirt")];
    assert!((outer(&layers) - 88.0).abs() < 0.01, "{}", outer(&layers));
    assert!((outer(&layers) - 84.0 - 4.0 * std::f64::consts::PI * thick).abs() < 1e-9);
    let room = &rooms(&together(&layers), 2)[0];
    assert!((room.ease().0 - (90.0 - outer(&layers) - std::f64::consts::PI * thick)).abs() < 1e-9);
}

#[test]
fn a_layer_counts_only_where_its_pieces_lie() {
    let layers = [
        hanging("shift", panel(100.0), 0.3),
        hanging("skirt", panel(100.0), 0.3),
    ];
    let under = underneath(&together(&layers), 1);
    assert_eq!(under.stack(Measure::WaistGirth), Mm(0.3));
    assert_eq!(under.stack(Measure::HipGirth), Mm(0.3));
    for nowhere in [
        Measure::BustGirth,
        Measure::UpperArmGirth,
        Measure::ThighGirth,
    ] {
        assert_eq!(under.stack(nowhere), Mm(0.0), "{nowhere}");
    }
    let short = [
        hanging("peplum", panel(15.0), 0.3),
        hanging("skirt", panel(100.0), 0.3),
    ];
    let under = underneath(&together(&short), 1);
    assert_eq!(
        under.stack(Measure::HipGirth),
        Mm(0.0),
        "it ends above the hip"
    );
}

#[test]
fn a_gathered_waist_counts_with_all_the_cloth_that_is_drawn_in() {
    let mut gathered = panel(100.0);
    gathered.fullness.push(FullnessOp {
        edge: "waist".to_owned(),
        from: 0.0,
        to: 0.5,
        fullness: Fullness::Gathers { ratio: 3.0 },
        even_to: Some("hem".to_owned()),
        layout: Default::default(),
    });
    let worn = hanging("petticoat", gathered, 0.2);
    // Half of it lies threefold: twice on the mean.
    assert!((worn.thickness_at(Measure::WaistGirth).0 - 0.4).abs() < 1e-9);
    assert!((worn.thickness_at(Measure::HipGirth).0 - 0.2).abs() < 1e-9);
}

#[test]
fn a_petticoat_shows_by_what_it_is_longer_than_the_skirt() {
    let peeps = |under: f64, over: f64| {
        let layers = [
            hanging("petticoat", panel(under), 0.2),
            hanging("skirt", panel(over), 0.2),
        ];
        let together = together(&layers);
        let by = cover(&together, 0).unwrap().peeps[0].by.0;
        let found = findings(
            &[together],
            "skirt",
            &Machine::default(),
            LengthUnit::Millimetre,
        );
        let said = found.iter().any(|f| f.what.contains("shows"));
        (by, said)
    };
    for (under, over, by, said) in [
        (106.0, 100.0, 6.0, true),
        (96.0, 100.0, -4.0, false),
        (100.0, 100.0, 0.0, false),
        (150.0, 100.0, 50.0, false),
    ] {
        let (got, is_said) = peeps(under, over);
        assert!((got - by).abs() < 1e-9, "{got} for {by}");
        assert_eq!(
            is_said, said,
            "{under} under {over}: what is meant to show is not said"
        );
    }
}

#[test]
fn a_hem_under_a_longer_skirt_is_hidden_and_one_below_a_shorter_one_shows() {
    let lines = |under: f64, over: f64| {
        let layers = [
            hanging("petticoat", panel(under), 0.2),
            hanging("skirt", panel(over), 0.2),
        ];
        cover(&together(&layers), 0).unwrap().lines
    };
    let hidden = &lines(90.0, 100.0)[0];
    assert!(hidden.is_hem && hidden.is_hidden() && hidden.name == "Front, hem");
    let seen = &lines(110.0, 100.0)[0];
    assert!((seen.showing().0 - 42.0).abs() < 1e-9 && !seen.is_hidden());
}

proptest! {
    #[test]
    fn one_more_layer_never_shrinks_and_their_order_does_not_matter(
        cloths in prop::collection::vec(0.0..2.0, 1..6), more in 0.0..2.0, turn in 0_usize..6,
    ) {
        let layers: Vec<Arc<Worn>> = cloths
            .iter()
            .enumerate()
            .map(|(i, t)| hanging(&format!("layer {i}"), panel(100.0), *t))
            .collect();
        let top = hanging("coat", panel(100.0), 0.5);
        let over = |under: &[Arc<Worn>]| {
            let mut all = under.to_vec();
            all.push(top.clone());
            outer(&all)
        };
        let mut one_more = layers.clone();
        one_more.push(hanging("one more", panel(100.0), more));
        prop_assert!(over(&one_more) >= over(&layers) - 1e-12);
        let mut turned = layers.clone();
        turned.rotate_left(turn % layers.len());
        prop_assert!((over(&turned) - over(&layers)).abs() < 1e-9);
        let sum: f64 = cloths.iter().sum();
        prop_assert!((over(&layers) - 84.0 - std::f64::consts::TAU * sum).abs() < 1e-9);
    }

    #[test]
    fn leaving_out_the_only_layer_gives_the_bare_body(cloth in 0.01..2.0) {
        let layers = [hanging("shift", panel(100.0), cloth), hanging("skirt", panel(100.0), 0.3)];
        let bare = together(&layers).without(&BTreeSet::from(["shift".to_owned()]));
        let room = &rooms(&bare, 0)[0];
        prop_assert_eq!(room.outer(), Mm(84.0));
        prop_assert!(room.layers.is_empty());
        prop_assert!(outer(&layers) > 84.0);
    }
}
