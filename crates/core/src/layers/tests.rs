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

/// What a maker gets when she takes a remedy: the garment on its body again.
fn after(worn: &Arc<Worn>, remedy: &crate::edit::Edit) -> Arc<Worn> {
    use crate::edit::{Edit, FittingEdit};
    let steps = match remedy {
        Edit::PutFitting(fitting) => fitting.alterations.clone(),
        Edit::Fitting {
            change: FittingEdit::AddAlterations(steps),
            ..
        } => steps.clone(),
        Edit::Fitting {
            change: FittingEdit::AddAlteration(step),
            ..
        } => vec![step.clone()],
        other => panic!("{other:?}"),
    };
    let made = steps
        .iter()
        .fold((*worn.adapted.made).clone(), |made, step| {
            step.applied(&made).unwrap().garment
        });
    let mut adapted = (*worn.adapted).clone();
    adapted.pieces = made.pieces.clone();
    adapted.made = Arc::new(made);
    Arc::new(Worn::new(Arc::new(adapted)))
}

#[test]
fn a_petticoat_that_peeps_out_is_shortened_or_the_skirt_is_let_down_in_one_change() {
    let said = |layers: &[Arc<Worn>]| {
        let unit = LengthUnit::Millimetre;
        let found = findings(&[together(layers)], "skirt", &Machine::default(), unit);
        found.into_iter().find(|f| f.what.contains("shows"))
    };
    let mut layers = [
        hanging("petticoat", panel(106.0), 0.2),
        hanging("skirt", panel(100.0), 0.2),
    ];
    let found = said(&layers).unwrap();
    assert!(
        found.advice.ends_with("One click does it to petticoat."),
        "{found}"
    );
    layers[0] = after(&layers[0], found.remedy.as_ref().unwrap());
    assert_eq!(said(&layers), None);
    // A ruffle is sewn to the petticoat: the skirt is let down.
    let mut ruffled = (*hanging("petticoat", panel(106.0), 0.2).adapted).clone();
    let sewn = |piece: &str, edge: &str| vec![samples::stretch(piece, edge, 0.0, 1.0)];
    let mut made = (*ruffled.made).clone();
    made.pieces.push(Arc::new(Piece {
        placement: detail(),
        ..samples::strip("Lace", 42.0, 5.0)
    }));
    made.seams.push(samples::seam(
        "lace",
        sewn("Lace", "waist"),
        sewn("Front", "hem"),
        crate::seams::Relation::Equal,
    ));
    ruffled.made = Arc::new(made);
    let layers = [
        Arc::new(Worn::new(Arc::new(ruffled))),
        hanging("skirt", panel(100.0), 0.2),
    ];
    if let Some(found) = said(&layers) {
        assert!(
            found.advice.ends_with("One click does it to skirt."),
            "{found}"
        );
        let longer = after(&layers[1], found.remedy.as_ref().unwrap());
        assert_eq!(said(&[layers[0].clone(), longer]), None);
    } else {
        panic!("the petticoat shows");
    }
}

/// A dart of 6 mm in a waist of 42: both parts are waist, 36 mm in all, and the dart lies at one place of the ring.
#[test]
fn a_waist_cut_by_a_dart_is_one_ring_and_is_levelled_on_both_sides_of_it() {
    use crate::pad::{Pad, PadMiddle};
    let mut skirt = samples::polygon(
        "Front",
        &[
            ("hem", (0.0, 0.0)),
            ("side", (42.0, 0.0)),
            ("waist outer", (42.0, 100.0)),
            ("leg in", (24.0, 100.0)),
            ("leg out", (21.0, 80.0)),
            ("waist inner", (18.0, 100.0)),
            ("centre front", (0.0, 100.0)),
        ],
    );
    skirt.darts.push(crate::piece::Dart {
        name: "dart".to_owned(),
        leg_in: "leg in".to_owned(),
        leg_out: "leg out".to_owned(),
        pressed: crate::piece::DartPress::Before,
    });
    skirt.body_lines.push(BodyLine {
        level: Level::Waist,
        from: OutlinePoint::new("waist outer", 0.0),
        to: OutlinePoint::new("waist inner", 1.0),
    });
    let worn = hanging("skirt", skirt, 0.2);
    let ring = WaistRing::of(&worn).unwrap();
    assert!((ring.half - 36.0).abs() < 1e-9, "{ring:?}");
    let [a, b] = ring.parts.as_slice() else {
        panic!("{ring:?}")
    };
    assert_eq!(
        (a.edge.edge.as_str(), b.edge.edge.as_str()),
        ("waist inner", "waist outer")
    );
    assert!(
        a.at_start.max(a.at_end) == b.at_start.min(b.at_end),
        "{ring:?}"
    );
    // A roll all round: 9.05 mm longer everywhere.
    let roll = Pad {
        name: "roll".to_owned(),
        projection: Mm(25.0),
        below_waist: Mm(30.0),
        share: 1.0,
        middle: PadMiddle::Back,
    };
    let level = levelled(&worn, &[roll]).unwrap();
    assert_eq!(level.steps.len(), 2);
    let before = worn.adapted.made.pieces[0].clone();
    let raised = after(&worn, &level.edit(&worn.adapted.fitting));
    let piece = raised.adapted.made.pieces[0].clone();
    let long = |piece: &Piece, edge: &str| piece.outline.edge(edge).unwrap().line.length();
    assert!((long(&piece, "centre front") - long(&before, "centre front") - 9.05).abs() < 0.01);
    assert!(
        (long(&piece, "leg in") - long(&piece, "leg out")).abs() < 1e-9,
        "the dart is still sewn leg to leg"
    );
    assert_eq!(piece.outline.edge("hem"), before.outline.edge("hem"));
    assert!(
        (WaistRing::of(&raised).unwrap().half - 36.0).abs() < 1e-6,
        "it is as wide as before"
    );
}

/// A collar that is turned lies down over its garment: the seams that hold it are hidden by a dress that comes up as high;
/// a folded band stands up and shows.
#[test]
fn a_collar_that_lies_down_is_hidden_where_a_band_that_stands_up_shows() {
    let shown = |is_folded: bool| {
        let shift = bodice("Shift", 60.0);
        let mut collar = samples::strip("Collar", 42.0, 8.0);
        collar.placement = detail();
        let sewn = |piece: &str, edge: &str| vec![samples::stretch(piece, edge, 0.0, 1.0)];
        let equal = crate::seams::Relation::Equal;
        let mut seams = vec![samples::seam(
            "collar",
            sewn("Collar", "hem"),
            sewn("Shift", "waist"),
            equal,
        )];
        if is_folded {
            seams.push(samples::seam(
                "inside",
                sewn("Collar", "waist"),
                sewn("Collar", "hem"),
                equal,
            ));
        } else {
            seams.push(samples::seam(
                "collar ends",
                sewn("Collar", "right"),
                sewn("Collar", "left"),
                equal,
            ));
        }
        let mut under = samples::garment(vec![shift, collar], seams);
        under.openings = neck("Shift");
        let mut over = samples::garment(vec![bodice("Dress", 60.0)], Vec::new());
        over.openings = neck("Dress");
        let worn = |garment, name: &str| {
            let mut adapted = samples::adapted(garment, slim());
            let mut fitting = Fitting::clone(&adapted.fitting);
            fitting.name = name.to_owned();
            adapted.fitting = Arc::new(fitting);
            Arc::new(Worn::new(Arc::new(adapted)))
        };
        let layers = [worn(under, "shift"), worn(over, "dress")];
        let lines = cover(&together(&layers), 0).unwrap().lines;
        lines
            .iter()
            .find(|line| {
                line.name
                    .starts_with(if is_folded { "inside" } else { "collar ends" })
            })
            .unwrap()
            .showing()
            .0
    };
    assert_eq!(shown(false), 0.0);
    assert!(shown(true) > 0.0);
}

/// On no part of the body.
fn detail() -> crate::piece::Placement {
    crate::piece::Placement::Follows(crate::piece::Follow {
        length: crate::piece::FollowRule::Detail,
        depth: crate::piece::FollowRule::Detail,
    })
}

/// A body piece from the neck down to the waist of the slim doll, its neckline the upper edge.
fn bodice(name: &str, deep: f64) -> Piece {
    let mut piece = samples::strip(name, 42.0, deep);
    piece.body_lines = vec![
        BodyLine {
            level: Level::Nape,
            from: OutlinePoint::new("waist", 1.0),
            to: OutlinePoint::new("waist", 0.0),
        },
        BodyLine {
            level: Level::Waist,
            from: OutlinePoint::new("hem", 0.0),
            to: OutlinePoint::new("hem", 1.0),
        },
    ];
    piece
}

fn neck(piece: &str) -> Vec<crate::garment::Opening> {
    vec![crate::garment::Opening {
        name: "neck".to_owned(),
        hole: vec![crate::edge::EdgeRef::new(piece, "waist")],
        slit: Vec::new(),
        passes: crate::garment::Passing::Head,
    }]
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
