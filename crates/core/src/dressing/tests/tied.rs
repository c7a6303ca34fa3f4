//! Ties, sashes, kerchiefs; undersleeves; the hem.

use super::*;
use crate::check::samples::{LEFT, RIGHT, four, polygon};
use crate::edge::OutlinePoint;
use crate::edit::{Edit, FittingEdit};
use crate::finding::Gravity;
use crate::measure::Level;
use crate::piece::{BodyLine, Follow, FollowRule, Frame, Piece, Placement};

fn free(piece: Piece) -> Piece {
    Piece {
        placement: Placement::Follows(Follow {
            length: FollowRule::Detail,
            depth: FollowRule::Detail,
        }),
        ..piece
    }
}

/// 45 cm play doll: height 457, waist 275, neck base 147.
const PLAY: [(Measure, f64); 5] = [
    (Measure::Height, 457.0),
    (Measure::WaistGirth, 275.0),
    (Measure::NeckBaseGirth, 147.0),
    (Measure::FrontWaistLength, 93.0),
    (Measure::WaistToFloor, 245.0),
];

fn only(piece: Piece) -> Adapted {
    on(garment(vec![piece], Vec::new()), &PLAY)
}

/// A two-part band on 280 mm with 100 mm for the bow: 170 behind, 310 crossed and back in front (issue 7, computed).
#[test]
fn a_band_in_two_parts_takes_a_quarter_or_three_quarters_of_the_girth() {
    assert_eq!(band_behind(Mm(280.0), Mm(100.0)), Mm(170.0));
    assert_eq!(band_returned(Mm(280.0), Mm(100.0)), Mm(310.0));
}

/// Loop and tail of 27.42 mm (6 % of 457), band of 10 mm: bow 2 x 27.42 + 27.42 + 40 = 122.26, knot 67.42.
#[test]
fn apron_strings_too_short_say_every_length_that_works() {
    let strings = |length| {
        let piece = Piece {
            copies: vec![RIGHT, LEFT],
            ..strip("apron strings", length, 10.0)
        };
        only(free(piece))
    };
    let dressing = looked_at(strings(120.0));
    let tied = &dressing.tied[0];
    assert_eq!((tied.kind, tied.round), (TieKind::Ties, Round::Waist));
    let lengths: Vec<f64> = tied.ways.iter().map(|way| way.length.0).collect();
    for (got, wanted) in lengths
        .iter()
        .zip([68.75 + 67.42, 68.75 + 122.26, 206.25 + 122.26])
    {
        assert!((got - wanted).abs() < 1e-9, "{got} {wanted}");
    }
    let found = said(strings(120.0));
    assert_eq!(found[0].gravity, Gravity::Care);
    insta::assert_snapshot!(found[0], @"apron strings: at 120.0 mm it is 16.2 mm too short to go round the waist of 275.0 mm, meeting behind, knotted. Lengths that work: meeting behind, knotted: 136.2 mm; meeting behind, bow: 191.0 mm; crossed and back to the front, bow: 328.5 mm. At 573.5 mm its ends reach the floor.");
    assert!(said(strings(140.0)).is_empty(), "it can be knotted");
    // One step makes it long enough.
    let Some(Edit::Fitting {
        change: FittingEdit::AddAlteration(step),
        ..
    }) = &found[0].remedy
    else {
        panic!("{}", found[0]);
    };
    let mut adapted = strings(120.0);
    let altered = step.applied(&adapted.made).unwrap().garment;
    adapted.pieces.clone_from(&altered.pieces);
    adapted.made = Arc::new(altered);
    assert_eq!(looked_at(adapted).tied[0].short(), None);
}

/// Caught over a third of a 30 mm seam: 10 mm wide; loop and end 27.42 mm (6 % of 457), knot 40 mm.
#[test]
fn a_tie_caught_in_a_seam_is_told_its_length() {
    use crate::check::samples::{seam, stretch};
    use crate::seams::{Insert, InsertKind, Relation};
    let end = |piece| vec![stretch(piece, "right", 0.0, 1.0)];
    let mut closed = seam("neckband end", end("Band"), end("Inside"), Relation::Equal);
    closed.inserts.push(Insert {
        name: "tie".to_owned(),
        kind: InsertKind::Tie,
        thickness: Mm(0.3),
        from: 0.3,
        to: 0.3 + 1.0 / 3.0,
    });
    let bands = vec![
        free(strip("Band", 200.0, 30.0)),
        free(strip("Inside", 200.0, 30.0)),
    ];
    let dressing = looked_at(on(garment(bands, vec![closed]), &PLAY));
    let tie = &dressing.caught[0];
    assert_eq!(
        (tie.seam.as_str(), tie.name.as_str()),
        ("neckband end", "tie")
    );
    assert!((tie.width.0 - 10.0).abs() < 1e-9);
    assert!(
        (tie.bow.0 - 122.26).abs() < 1e-9 && (tie.knot.0 - 67.42).abs() < 1e-9,
        "{tie:?}"
    );
}

#[test]
fn a_free_band_is_a_sash_by_its_shape_and_a_pocket_is_none() {
    let dressing = looked_at(only(free(strip("long thing", 500.0, 20.0))));
    assert_eq!(dressing.tied[0].kind, TieKind::Sash);
    assert!(
        looked_at(only(free(strip("pocket", 50.0, 60.0))))
            .tied
            .is_empty()
    );
    assert!(
        looked_at(only(strip("sash of the body", 500.0, 20.0)))
            .tied
            .is_empty(),
        "it lies on the body"
    );
}

/// A square of 100 mm folded corner to corner has a long edge of 141.4 mm.
#[test]
fn a_kerchief_too_short_for_the_neck_or_too_long_for_it() {
    let square = |side: f64| only(free(strip("kerchief", side, side)));
    let tied = looked_at(square(100.0)).tied[0].clone();
    assert_eq!((tied.kind, tied.round), (TieKind::Kerchief, Round::Neck));
    assert!((tied.length.0 - 141.421_356).abs() < 1e-5);
    assert!(tied.short().is_some(), "147 mm of neck and two knots");
    assert_eq!(looked_at(square(250.0)).tied[0].short(), None);
    assert_eq!(looked_at(square(250.0)).tied[0].long(), None);
    assert_eq!(
        looked_at(square(500.0)).tied[0].long(),
        None,
        "long enough to be crossed over"
    );
    let long = said(square(400.0));
    assert_eq!(long[0].gravity, Gravity::Note);
    insta::assert_snapshot!(long[0], @"kerchief: at 565.7 mm its ends hang 36.3 mm lower than the waist. Lengths that work: knotted in front: 361.8 mm; crossed over and tied behind: 657.1 mm. At 493.0 mm its ends reach the waist.");
}

/// The garment after a remedy of hand work.
fn mended(mut adapted: Adapted, remedy: &Edit) -> Adapted {
    let steps = match remedy {
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
    let made = steps.iter().fold((*adapted.made).clone(), |made, step| {
        step.applied(&made).unwrap().garment
    });
    adapted.pieces.clone_from(&made.pieces);
    adapted.made = Arc::new(made);
    adapted
}

#[test]
fn a_kerchief_too_small_grows_and_one_too_large_shrinks_in_one_change() {
    for side in [100.0, 400.0] {
        let square = only(free(strip("kerchief", side, side)));
        let found = said(square.clone()).remove(0);
        let then = looked_at(mended(square, found.remedy.as_ref().unwrap()));
        let tied = &then.tied[0];
        assert_eq!(
            (tied.short(), tied.long()),
            (None, None),
            "{side}: {tied:?}"
        );
    }
    // Half a square.
    let half = polygon(
        "kerchief",
        &[
            ("hem", (0.0, 0.0)),
            ("long edge", (50.0, 0.0)),
            ("left", (0.0, 50.0)),
        ],
    );
    let small = only(free(half));
    let found = said(small.clone()).remove(0);
    let then = looked_at(mended(small, found.remedy.as_ref().unwrap()));
    assert_eq!(then.tied[0].short(), None);
}

#[test]
fn a_sash_too_long_is_cut_off_in_one_change() {
    let sash = only(free(strip("sash", 1500.0, 20.0)));
    let found = said(sash.clone()).remove(0);
    assert!(found.what.contains("lower than"), "{found}");
    let then = looked_at(mended(sash, found.remedy.as_ref().unwrap()));
    assert_eq!(then.tied[0].long(), None);
}

#[test]
fn a_hem_on_the_floor_is_shortened_in_one_change() {
    let gown = |name: &str, length: f64| {
        let mut gown = strip(name, 100.0, length);
        gown.body_lines = vec![BodyLine {
            level: Level::Waist,
            from: OutlinePoint::new("right", 1.0),
            to: OutlinePoint::new("left", 0.0),
        }];
        gown
    };
    // The back drags further than the front.
    let adapted = on(
        garment(vec![gown("Front", 250.0), gown("Back", 258.0)], Vec::new()),
        &PLAY,
    );
    let found = said(adapted.clone())
        .into_iter()
        .find(|f| f.what.contains("floor"))
        .unwrap();
    let then = looked_at(mended(adapted, found.remedy.as_ref().unwrap()));
    let hem = then.hem.unwrap();
    assert!(!hem.drags() && hem.barefoot.0 < 0.01, "{hem:?}");
}

#[allow(clippy::approx_constant, reason = "a measured thickness, not 1/pi")]
#[test]
fn a_gathered_undersleeve_fills_a_narrow_sleeve() {
    let mut sleeve = four(
        "Sleeve",
        [(0.0, 0.0), (90.0, 0.0), (110.0, 100.0), (0.0, 100.0)],
    );
    sleeve.placement = Placement::Framed(Frame::Arm);
    sleeve.copies = vec![RIGHT, LEFT];
    sleeve.body_lines = vec![BodyLine {
        level: Level::Wrist,
        from: OutlinePoint::new("hem", 0.0),
        to: OutlinePoint::new("hem", 1.0),
    }];
    let adapted = on(
        garment(vec![sleeve], Vec::new()),
        &[(Measure::WristGirth, 83.0), (Measure::HandGirth, 85.0)],
    );
    let filled = filled(adapted);
    let under = |fullness| Undersleeve {
        name: "shift".to_owned(),
        thickness: Mm(0.318),
        fullness: [fullness; 3],
    };
    let room = |fullness| dressing(&filled, &[under(fullness)]).arms[0].clone();
    // g^2 + 4 pi f g t: 83 -> 84.97 lying close, 90.64 at four times the girth.
    assert!(
        (room(1.0).dressed.0 - 84.974_57).abs() < 1e-3,
        "{:?}",
        room(1.0)
    );
    assert!(
        (room(4.0).dressed.0 - 90.640_5).abs() < 1e-3,
        "{:?}",
        room(4.0)
    );
    assert!(!room(1.0).is_narrow() && room(4.0).is_narrow());
    let look = dressing(&filled, &[under(4.0)]);
    let found = narrow_sleeves(&look);
    insta::assert_snapshot!(found[0], @"Sleeve: the sleeve measures 90.0 mm; the arm of 83.0 mm with shift takes 90.6 mm and the sleeve's own cloth 0.0 mm: 0.6 mm too narrow. Make the sleeve 0.6 mm wider there, or wear a thinner or less gathered one under it.");
    // One change makes its end wide enough, to the half millimetre, and leaves its cap alone.
    let cap = |adapted: &Adapted| adapted.made.pieces[0].outline.edge("waist").cloned();
    let wider = mended(
        Adapted::clone(&filled.adapted),
        found[0].remedy.as_ref().unwrap(),
    );
    assert_eq!(cap(&wider), cap(&filled.adapted));
    let then = dressing(&self::filled(wider), &[under(4.0)]);
    assert!(narrow_sleeves(&then).is_empty(), "{:?}", then.arms);
}

/// Where a tape line says how wide it is, the line is set: the whole sleeve follows when it is adapted again.
#[test]
fn a_narrow_sleeve_with_a_tape_line_is_given_its_finished_measure() {
    use crate::adapt::EaseRow;
    use crate::tape::{Hold, TapeKind, TapeLine};
    let mut sleeve = strip("Sleeve", 80.0, 100.0);
    sleeve.placement = Placement::Framed(Frame::Arm);
    let mut garment = garment(vec![sleeve], Vec::new());
    garment.tape_lines.push(TapeLine {
        name: "wrist".to_owned(),
        measure: Measure::WristGirth,
        kind: TapeKind::Girth,
        share: 1.0,
        hold: Hold::Fitted,
        overlap: Mm(0.0),
        lacing_gap: Mm(0.0),
        parts: Vec::new(),
    });
    let mut adapted = on(
        garment,
        &[(Measure::WristGirth, 83.0), (Measure::HandGirth, 85.0)],
    );
    adapted.tape_lines = adapted.garment.tape_lines.clone();
    adapted.ease = vec![EaseRow {
        name: "wrist".to_owned(),
        hold: Hold::Fitted,
        measure: Measure::WristGirth,
        is_girth: true,
        body: (Mm(83.0), Mm(83.0)),
        garment: (Mm(80.0), Mm(80.0)),
        cloth: Mm(0.0),
    }];
    let found = narrow_sleeves(&looked_at(adapted));
    let Some(Edit::Fitting {
        change: FittingEdit::SetDemand(name, Some(choice)),
        ..
    }) = &found[0].remedy
    else {
        panic!("{found:?}");
    };
    assert_eq!((name.as_str(), choice.measure), ("wrist", Some(Mm(83.0))));
}

#[test]
fn a_hem_on_the_floor_clears_it_in_shoes() {
    let mut gown = strip("Gown", 100.0, 250.0);
    gown.body_lines = vec![BodyLine {
        level: Level::Waist,
        from: OutlinePoint::new("right", 1.0),
        to: OutlinePoint::new("left", 0.0),
    }];
    let mut figures = PLAY.to_vec();
    figures.push((Measure::ShoeHeight, 9.0));
    let mut adapted = on(garment(vec![gown], Vec::new()), &figures);
    let hem = looked_at(adapted.clone()).hem.unwrap();
    assert!(
        (hem.barefoot.0 + 5.0).abs() < 1e-9 && (hem.in_shoes.0 - 4.0).abs() < 1e-9,
        "{hem:?}"
    );
    let drags = |adapted: Adapted| said(adapted).into_iter().find(|f| f.what.contains("floor"));
    insta::assert_snapshot!(drags(adapted.clone()).unwrap(), @"Gown: barefoot its hem lies 5.0 mm on the floor. In shoes of 9.0 mm it clears the floor by 4.0 mm. Shorten it by 5.0 mm, or take a deeper hem.");
    let fitting = crate::fitting::Fitting {
        with_shoes: true,
        ..crate::fitting::Fitting::clone(&adapted.fitting)
    };
    adapted.fitting = Arc::new(fitting);
    assert_eq!(drags(adapted), None);
}
