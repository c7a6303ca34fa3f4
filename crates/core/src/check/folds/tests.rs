#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::sync::Arc;

use super::*;
use crate::check::samples;
use crate::cloth::Cloth;
use crate::fullness::{KeepOff, Lies};
use crate::garment::Garment;
use crate::seams::Relation;

fn op(fullness: Fullness) -> FullnessOp {
    FullnessOp {
        even_to: Some("hem".to_owned()),
        ..FullnessOp::new("waist", fullness)
    }
}

fn skirt(width: f64, ops: Vec<FullnessOp>) -> Piece {
    Piece {
        fullness: ops,
        ..samples::strip("Skirt", width, 60.0)
    }
}

fn adapted(pieces: Vec<Piece>, cloth: &str, thickness: f64) -> Adapted {
    let mate = |name| {
        samples::stretch(
            name,
            if name == "Skirt" { "waist" } else { "hem" },
            0.0,
            1.0,
        )
    };
    let seams = if pieces.len() > 1 {
        vec![samples::seam(
            "waist seam",
            vec![mate("Skirt")],
            vec![mate("Band")],
            Relation::Equal,
        )]
    } else {
        Vec::new()
    };
    let mut garment = samples::garment(pieces, seams);
    garment.cloths.insert(
        Role::Shell,
        Cloth {
            name: cloth.to_owned(),
            thickness: Mm(thickness),
            source: String::new(),
        },
    );
    samples::adapted(garment, samples::doll("doll"))
}

fn found(fullness: Fullness, cloth: &str, thickness: f64) -> Vec<Finding> {
    findings(&adapted(
        vec![skirt(100.0, vec![op(fullness)])],
        cloth,
        thickness,
    ))
}

/// What the remedy makes of the only fullness of the skirt.
fn remedied(finding: &Finding) -> Fullness {
    let Some(Edit::Fitting {
        change: FittingEdit::AddAlteration(Alteration::Fullness { fullness, .. }),
        ..
    }) = &finding.remedy
    else {
        panic!("{finding} alters the fitting")
    };
    fullness[0].fullness
}

const KNIFE: Fullness = Fullness::KnifePleats {
    count: 5,
    depth: Mm(5.0),
};

#[test]
fn fullness_that_the_cloth_takes_says_nothing() {
    for fullness in [
        KNIFE,
        Fullness::Gathers { ratio: 1.8 },
        Fullness::Tucks {
            count: 6,
            width: Mm(1.5),
        },
        Fullness::Ease { by: Mm(6.0) },
        Fullness::CartridgePleats {
            count: 40,
            ratio: 4.0,
        },
    ] {
        assert_eq!(
            found(fullness, "quilting cotton", 0.3),
            Vec::new(),
            "{fullness:?}"
        );
    }
    assert_eq!(
        found(Fullness::Gathers { ratio: 3.0 }, "lawn", 0.1),
        Vec::new()
    );
}

#[test]
fn pleats_too_shallow_to_lie_flat_are_made_fewer_and_deeper_from_the_same_cloth() {
    let shallow = Fullness::KnifePleats {
        count: 5,
        depth: Mm(1.0),
    };
    let told = found(shallow, "quilting cotton", 0.5);
    insta::assert_snapshot!(told[0], @"Skirt, waist: 5 knife pleats 20.0 mm apart and 1.0 mm deep cannot be pressed in quilting cotton (0.5 mm); 4.0 mm apart and 1.5 mm deep is the least (common practice, no source). Make 3 instead of 5, 33.3 mm apart and 1.7 mm deep: the same cloth in the same proportion; ease the same cloth in without a fold, or use cloth of 0.33 mm or thinner.");
    let instead = remedied(&told[0]);
    assert_eq!(instead.count(), Some(3));
    assert!(
        (instead.cloth_length(Mm(100.0)).0 - 110.0).abs() < 1e-9,
        "the same cloth"
    );
    assert_eq!(found(instead, "quilting cotton", 0.5), Vec::new());
}

/// Computed: 680 mm of waist with 32 full pleats, brought to a waist of 108 mm: they would be 3.4 mm wide. At 4 mm, 26
/// (an even number) fit, 4.15 mm wide and as deep.
#[test]
fn a_skirt_of_32_pleats_gets_a_count_that_can_be_pressed_at_doll_size_with_the_old_one_beside_it() {
    let full = |width: f64| Fullness::KnifePleats {
        count: 32,
        depth: Mm(width / 32.0),
    };
    let small = adapted(
        vec![skirt(108.0, vec![op(full(108.0))])],
        "cotton lawn",
        0.15,
    );
    let source = samples::garment(vec![skirt(680.0, vec![op(full(680.0))])], Vec::new());
    let small = Adapted {
        garment: Arc::new(source),
        ..small
    };
    let told = findings(&small);
    insta::assert_snapshot!(told[0], @"Skirt, waist: 32 knife pleats 3.4 mm apart and 3.4 mm deep cannot be pressed in cotton lawn (0.15 mm); 4.0 mm apart and 0.4 mm deep is the least (common practice, no source). As the garment was made for somebody there are 32, 21.2 mm apart. Make 26 instead of 32, 4.2 mm apart and 4.2 mm deep: the same cloth in the same proportion, or gather the same cloth, 3.0 times.");
    let instead = remedied(&told[0]);
    assert_eq!(instead.count(), Some(26));
    assert!(
        (instead.cloth_length(Mm(108.0)).0 - 324.0).abs() < 1e-9,
        "still full: three times"
    );
}

#[test]
fn pleats_of_which_not_even_one_can_be_pressed_are_eased_or_gathered() {
    let told = found(
        Fullness::BoxPleats {
            count: 1,
            depth: Mm(1.0),
            inverted: false,
        },
        "felt",
        1.2,
    );
    insta::assert_snapshot!(told[0], @"Skirt, waist: 1 box pleat 100.0 mm apart and 1.0 mm deep cannot be pressed in felt (1.2 mm); 14.4 mm apart and 3.6 mm deep is the least (common practice, no source). Ease the same cloth in without a fold, or use cloth of 0.33 mm or thinner.");
    assert_eq!(remedied(&told[0]), Fullness::Ease { by: Mm(4.0) });
}

#[test]
fn gathers_that_lump_do_not_fit_or_do_not_suit_the_cloth_are_told() {
    let gathers = |ratio| Fullness::Gathers { ratio };
    insta::assert_snapshot!(found(gathers(3.0), "quilting cotton", 0.3)[0], @"Skirt, waist: gathers of 3.0 times lump in quilting cotton (0.3 mm); 2.0 times or less does not (common practice, no source). Gather 2.0 times; use cloth of 0.20 mm or thinner, or lay the same cloth in 25 knife pleats, 4.0 mm apart.");
    insta::assert_snapshot!(found(gathers(3.5), "dress linen", 0.5)[0], @"Skirt, waist: gathers of 3.5 times do not go on 100 mm: folds of dress linen (0.5 mm) as deep as a stitch of 1.5 mm fill it at 3.0 times. Gather 3.0 times; use cloth of 0.42 mm or thinner, or lay the same cloth in 25 knife pleats, 4.0 mm apart.");
    insta::assert_snapshot!(found(gathers(3.5), "silk taffeta", 0.12)[0], @"Skirt, waist: gathers of 3.5 times stand off in crisp silk taffeta; 2 times is usual (so for taffeta in The New Dressmaker, 1921). Gather 2.0 times.");
    insta::assert_snapshot!(found(gathers(1.5), "silk chiffon", 0.1)[0], @"Skirt, waist: gathers of 1.5 times look skimpy in soft silk chiffon; 3 times is usual (so for chiffon in The New Dressmaker, 1921). Gather 3.0 times.");
    insta::assert_snapshot!(found(Fullness::Ease { by: Mm(15.0) }, "wool", 0.3)[0], @"Skirt, waist: 15.0 mm of ease on 100.0 mm is 15 %; about 10 % goes in without folds (common practice, no source). Ease in 10.0 mm or less, gather it, or take a dart.");
    assert_eq!(
        remedied(&found(gathers(3.5), "dress linen", 0.5)[0]),
        gathers(3.0)
    );
}

#[test]
fn a_stack_too_thick_for_its_waistband_is_told() {
    let with_band = |fullness, depth: f64| {
        let band = samples::strip("Band", 100.0, depth);
        findings(&adapted(
            vec![skirt(100.0, vec![op(fullness)]), band],
            "lawn",
            0.2,
        ))
    };
    let overlapping = Fullness::KnifePleats {
        count: 20,
        depth: Mm(15.0),
    };
    assert_eq!(
        with_band(KNIFE, 5.0),
        Vec::new(),
        "three layers and the band: 1.0 of 1.7 mm"
    );
    let told = with_band(overlapping, 5.0);
    insta::assert_snapshot!(told[0], @"Skirt, waist: 7 layers and the band are 1.8 mm thick; Band is 5.0 mm deep and takes a third of that, 1.7 mm (common practice, no source). Make the pleats shallower, 5.0 mm, so that they do not lie on each other; make 13 instead of 20; use cloth of 0.18 mm or thinner; make the band deeper, or face the edge instead.");
    // Full ones lie in three layers.
    assert_eq!(
        remedied(&told[0]),
        Fullness::KnifePleats {
            count: 20,
            depth: Mm(5.0)
        }
    );
    insta::assert_snapshot!(with_band(KNIFE, 2.5)[0], @"Skirt, waist: 3 layers and the band are 1.0 mm thick; Band is 2.5 mm deep and takes a third of that, 0.8 mm (common practice, no source). Gather the same cloth, 1.5 times; use cloth of 0.16 mm or thinner; make the band deeper, or face the edge instead.");
}

#[test]
fn a_fold_that_cannot_keep_off_the_placket_is_told() {
    let mut pleats = op(Fullness::KnifePleats {
        count: 20,
        depth: Mm(5.0),
    });
    pleats.layout.lies = Lies::Right;
    pleats.layout.keep_off = vec![KeepOff {
        what: "placket".to_owned(),
        at: 0.5,
        by: Mm(2.6),
    }];
    let told = findings(&adapted(vec![skirt(100.0, vec![pleats])], "lawn", 0.2));
    insta::assert_snapshot!(told[0], @"Skirt, waist: a fold comes 2.5 mm from the placket, 2.6 mm are asked for. Make fewer pleats, or let them come nearer.");
}

#[test]
fn a_lining_is_judged_by_its_own_cloth() {
    let mut lining = skirt(100.0, vec![op(KNIFE)]);
    lining.copies = vec![crate::piece::Copy {
        role: Role::Lining,
        ..samples::WHOLE
    }];
    let mut all = adapted(vec![lining], "felt", 2.0);
    let mut garment = Garment::clone(&all.made);
    let cloth = |name: &str, thickness: f64| Cloth {
        name: name.to_owned(),
        thickness: Mm(thickness),
        source: String::new(),
    };
    garment.cloths.insert(Role::Lining, cloth("habotai", 0.08));
    all.made = Arc::new(garment.clone());
    assert_eq!(findings(&all), Vec::new(), "habotai folds 5 mm deep");
    garment.cloths.insert(Role::Lining, cloth("blanket", 3.0));
    garment.cloths.insert(Role::Shell, cloth("habotai", 0.08));
    all.made = Arc::new(garment);
    let told = findings(&all);
    assert!(
        told[0].what.contains("pressed in blanket (3 mm)"),
        "{}",
        told[0]
    );
}

#[test]
fn folds_in_cloth_that_nobody_chose_are_judged_by_thin_cloth_and_say_so() {
    let narrow = Fullness::KnifePleats {
        count: 40,
        depth: Mm(2.5),
    };
    let mut all = adapted(vec![skirt(100.0, vec![op(narrow)])], "lawn", 0.2);
    let mut garment = Garment::clone(&all.made);
    garment.cloths.clear();
    all.made = Arc::new(garment);
    let told = findings(&all);
    insta::assert_snapshot!(told[0], @"Skirt, waist: 40 knife pleats 2.5 mm apart and 2.5 mm deep cannot be pressed in cloth of 0.2 mm (assumed, none is chosen); 4.0 mm apart and 0.6 mm deep is the least (common practice, no source). Make 24 instead of 40, 4.2 mm apart and 4.2 mm deep: the same cloth in the same proportion, or gather the same cloth, 3.0 times.");
}

/// What the advice says holds: each way out is tried, and the band takes it.
#[test]
fn fewer_shallower_or_gathered_what_is_advised_fits_the_band() {
    let band = || samples::strip("Band", 100.0, 5.0);
    let with = |fullness, thickness: f64| {
        adapted(
            vec![skirt(100.0, vec![op(fullness)]), band()],
            "lawn",
            thickness,
        )
    };
    let pleats = |count, depth| Fullness::KnifePleats {
        count,
        depth: Mm(depth),
    };
    assert!(!findings(&with(pleats(20, 15.0), 0.2)).is_empty());
    for (fullness, thickness) in [
        (pleats(20, 5.0), 0.2),
        (pleats(13, 15.0), 0.2),
        (pleats(20, 15.0), 0.18),
    ] {
        let told = findings(&with(fullness, thickness));
        assert_eq!(told, Vec::new(), "{fullness:?} in {thickness} mm");
    }
    assert!(
        !findings(&with(pleats(14, 15.0), 0.2)).is_empty(),
        "13 is the most"
    );
}
