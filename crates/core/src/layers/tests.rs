//! Layers: closed forms on strips that hang from a waist, laws, and the four garments of a Sunday on the quay.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]

use std::collections::BTreeSet;

use proptest::prelude::*;

use super::*;
use crate::adapt::{EaseRow, adapt};
use crate::body::{BodyKind, Measured};
use crate::check::samples;
use crate::cloth::Cloth;
use crate::drafts::wardrobe::{Dolls, sunday_on_the_quay_project};
use crate::edge::{Finish, OutlinePoint};
use crate::edit::Edit;
use crate::finding::Gravity;
use crate::fitting::Fitting;
use crate::fullness::{Fullness, FullnessOp};
use crate::machine::Machine;
use crate::measure::{Level, Measure};
use crate::pad::{Pad, PadMiddle};
use crate::piece::{BodyLine, Piece, Role};
use crate::project::Project;
use crate::seams::side_length;
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

fn woman() -> Arc<Body> {
    let figures = doll_of(&[
        (Measure::Height, 1628.0),
        (Measure::BustGirth, 919.2),
        (Measure::WaistGirth, 829.9),
        (Measure::HipGirth, 1009.2),
        (Measure::BackWaistLength, 421.9),
        (Measure::ShoulderWidth, 366.1),
        (Measure::UpperArmGirth, 298.9),
    ]);
    Arc::new(Body {
        name: "a woman".to_owned(),
        kind: BodyKind::Woman,
        ..figures
    })
}

fn quay() -> Project {
    let doll = |height: f64| {
        let mut body = doll_of(&[(Measure::Height, height)]);
        body.name = format!("{height} mm doll");
        Arc::new(body)
    };
    let dolls = Dolls {
        play_45: doll(457.0),
        play_36: doll(360.0),
        fashion_29: doll(290.0),
        jointed_60: doll(600.0),
        twelfth: doll(137.0),
    };
    sunday_on_the_quay_project(&woman(), &dolls).unwrap()
}

fn worn_in(project: &Project, outfit: &str) -> Together {
    let outfit = project.outfits.iter().find(|o| o.name == outfit).unwrap();
    Together::new(outfit, |name| {
        let adapted = adapt(project, name).map_err(|why| why.to_string())?;
        Ok(Arc::new(Worn::new(Arc::new(adapted))))
    })
}

const SUNDAY: &str = "Sunday on the quay";

fn said(project: &Project, fitting: &str) -> Vec<crate::finding::Finding> {
    let together = worn_in(project, SUNDAY);
    findings(
        &[together],
        fitting,
        &Machine::default(),
        LengthUnit::Millimetre,
    )
}

#[test]
fn covered_and_showing_are_the_whole_of_every_seam() {
    let project = quay();
    let together = worn_in(&project, SUNDAY);
    assert_eq!((together.layers.len(), together.left_out.len()), (4, 0));
    let mut hidden = 0;
    for (place, worn) in together.layers.iter().enumerate() {
        let made = &worn.adapted.made;
        let lines = cover(&together, place).unwrap().lines;
        for seam in &made.seams {
            let line = lines
                .iter()
                .find(|l| !l.is_hem && l.name == seam.name)
                .unwrap();
            assert!((line.covered + line.showing() - line.length).0.abs() < 1e-9);
            assert!((0.0..=line.length.0 + 1e-9).contains(&line.covered.0));
            let sides = [&seam.a, &seam.b].map(|side| side_length(side, &made.pieces).unwrap().0);
            assert!(
                sides.iter().any(|side| (side - line.length.0).abs() < 1e-6),
                "{}",
                seam.name
            );
            hidden += usize::from(line.is_hidden());
        }
    }
    assert!(
        hidden > 5,
        "the smock lies under skirt and jacket: {hidden}"
    );
    let outermost = cover(&together, 3).unwrap();
    let shell = |line: &&Line| !line.is_hem && line.name == "shoulder";
    assert!(outermost.lines.iter().find(shell).unwrap().covered.0 == 0.0);
}

#[test]
fn the_smock_lies_under_jacket_and_skirts_where_it_covers_them() {
    let project = quay();
    let together = worn_in(&project, SUNDAY);
    let jacket = underneath(&together, 3);
    let at = |measure| jacket.stacks.get(&measure).cloned().unwrap_or_default();
    let names = |measure| -> Vec<String> { at(measure).into_iter().map(|s| s.layer).collect() };
    assert_eq!(names(Measure::BustGirth), ["smock"]);
    assert_eq!(names(Measure::UpperArmGirth), ["smock"]);
    assert_eq!(
        names(Measure::WaistGirth),
        ["smock", "underskirt", "Sunday skirt"]
    );
    // The wool skirt at its waist: the panel and a band folded in two.
    let skirt = &at(Measure::WaistGirth)[2];
    assert!(
        (skirt.thickness.0 - 3.0 * 0.36).abs() < 1e-9,
        "{}",
        skirt.thickness.0
    );
    assert_eq!(jacket.pads.len(), 1);
    assert_eq!(
        underneath(&together, 0).pads,
        Vec::new(),
        "the roll lies over the smock"
    );
}

#[test]
fn fitting_a_garment_as_worn_gives_it_the_room_the_outfit_asks() {
    let mut project = quay();
    for fitting in ["underskirt", "Sunday skirt", "jacket"] {
        let found = said(&project, fitting);
        let care = found
            .iter()
            .find(|f| f.advice.starts_with("Fit it as worn in"))
            .unwrap_or_else(|| panic!("{fitting}: {found:#?}"));
        assert_eq!(care.gravity, Gravity::Care);
        let waist = |project: &Project| {
            let ease = adapt(project, fitting).unwrap().ease;
            ease.iter()
                .find(|row| row.measure == Measure::WaistGirth)
                .unwrap()
                .garment
                .1
                .0
        };
        let before = waist(&project);
        let stack = |project: &Project| {
            let fitting = project.fitting(fitting).unwrap();
            fitting.stack_underneath(Measure::WaistGirth).0
        };
        let (thin, edit) = (stack(&project), care.remedy.clone().unwrap());
        project = project.edited(&edit).unwrap();
        let grown = waist(&project) - before;
        let more = std::f64::consts::TAU * (stack(&project) - thin);
        assert!(more > 1.0, "{fitting}: {more}");
        assert!((grown - more).abs() < 0.05, "{fitting}: {grown} for {more}");
        let again = said(&project, fitting);
        assert!(
            !again
                .iter()
                .any(|f| f.advice.starts_with("Fit it as worn in")),
            "{fitting}: {again:#?}"
        );
    }
}

#[test]
fn the_waist_of_a_gored_skirt_is_a_ring_from_the_centre_front_to_the_centre_back() {
    let together = worn_in(&quay(), SUNDAY);
    let ring = WaistRing::of(&together.layers[2]).unwrap();
    let pieces: Vec<&str> = ring.parts.iter().map(|p| p.edge.piece.as_str()).collect();
    assert_eq!(pieces, ["front", "side", "back"]);
    let ends: Vec<(f64, f64)> = ring.parts.iter().map(|p| (p.at_start, p.at_end)).collect();
    let low = ends.iter().map(|e| e.0.min(e.1)).fold(1.0, f64::min);
    let high = ends.iter().map(|e| e.0.max(e.1)).fold(0.0, f64::max);
    assert!(low.abs() < 1e-12 && (high - 1.0).abs() < 1e-12);
    let half_circle = WaistRing::of(&together.layers[1]).unwrap();
    assert_eq!(half_circle.parts.len(), 1);
    let only = &half_circle.parts[0];
    let piece = together.layers[1]
        .adapted
        .made
        .piece(&only.edge.piece)
        .unwrap();
    let start = piece.outline.edge("waist").unwrap().line.start();
    let front = piece.outline.edge("centre front").unwrap();
    let meets = (front.line.start() - start)
        .hypot()
        .min((front.line.end() - start).hypot());
    assert_eq!(only.at_start, if meets < 0.01 { 0.0 } else { 1.0 });
    assert!(
        WaistRing::of(&together.layers[0]).is_none(),
        "the smock does not hang from the waist"
    );
}

/// The fact of the issue on real skirts: 25 mm at 30 mm below the waist, 9.05 mm, behind only, the hem as it was.
#[test]
fn a_skirt_levelled_over_a_bustle_is_9_05_mm_longer_at_the_centre_back_and_its_hem_is_as_it_was() {
    let mut project = quay();
    let mut outfit = project.outfits[0].clone();
    outfit.pads[0].pad = Pad {
        name: "bustle".to_owned(),
        projection: Mm(25.0),
        below_waist: Mm(30.0),
        share: 0.4,
        middle: PadMiddle::Back,
    };
    project = project.edited(&Edit::PutOutfit(outfit)).unwrap();
    for (fitting, back, piece) in [
        ("Sunday skirt", "back", "back"),
        ("underskirt", "quarter", "quarter"),
    ] {
        let length = |project: &Project, piece: &str, edge: &str| {
            let made = adapt(project, fitting).unwrap().made;
            made.piece(piece)
                .unwrap()
                .outline
                .edge(edge)
                .unwrap()
                .line
                .length()
        };
        let found = said(&project, fitting);
        let level = found
            .iter()
            .find(|f| f.advice.starts_with("Raise the waist edge"))
            .unwrap_or_else(|| panic!("{fitting}: {found:#?}"));
        assert!(level.what.contains("9.1 mm"), "{}", level.what);
        let next = project.edited(&level.remedy.clone().unwrap()).unwrap();
        let grown =
            |piece: &str, edge: &str| length(&next, piece, edge) - length(&project, piece, edge);
        assert!(
            (grown(back, "centre back") - 9.051).abs() < 0.02,
            "{}",
            grown(back, "centre back")
        );
        let front = if fitting == "underskirt" {
            "quarter"
        } else {
            "front"
        };
        assert!(grown(front, "centre front").abs() < 1e-6);
        assert!(grown(piece, "hem").abs() < 1e-6);
        assert!(
            !said(&next, fitting)
                .iter()
                .any(|f| f.advice.starts_with("Raise the waist edge")),
            "{fitting}"
        );
    }
}

#[test]
fn levelled_seams_still_fit() {
    let project = quay();
    let together = worn_in(&project, SUNDAY);
    let pads: Vec<Pad> = together.pads.iter().map(|worn| worn.pad.clone()).collect();
    let level = levelled(&together.layers[2], &pads).unwrap();
    let next = project
        .edited(&level.edit(project.fitting("Sunday skirt").unwrap()))
        .unwrap();
    let made = adapt(&next, "Sunday skirt").unwrap().made;
    for name in ["front seam", "back seam"] {
        let seam = made.seams.iter().find(|s| s.name == name).unwrap();
        let off = seam.difference(&made.pieces).unwrap().0;
        assert!(off.abs() < 0.05, "{name}: {off}");
    }
}

#[test]
fn garments_of_one_outfit_on_two_bodies_are_said_with_the_body_to_take() {
    let mut project = quay();
    let other = Arc::new(doll_of(&[(Measure::Height, 480.0)]));
    let edit = Edit::Fitting {
        fitting: "jacket".to_owned(),
        change: crate::edit::FittingEdit::SetBody(other),
    };
    project = project.edited(&edit).unwrap();
    let found = said(&project, "jacket");
    let body = found
        .iter()
        .find(|f| f.advice.starts_with("Put both on the same body"))
        .unwrap();
    let next = project.edited(&body.remedy.clone().unwrap()).unwrap();
    assert_eq!(
        next.fitting("jacket").unwrap().body,
        next.fitting("smock").unwrap().body
    );
}
