//! The sheet of a lay plan: measures that can be reckoned in the head, the order of cutting, what is said of each part.

use std::sync::Arc;

use petitoile_core::cloth::Offcut;
use petitoile_core::kurbo::{Point, Vec2};
use petitoile_core::lay_plan::{CopyRef, LayPlan, Placed};
use petitoile_core::laying::{CopyToLay, LayShape, PartOnSheet, ToLay, lay_sheet};
use petitoile_core::piece::{Copy, Face, Side};
use petitoile_core::units::{Degrees, LengthUnit, Mm};

use super::samples::WHOLE;

const MM: LengthUnit = LengthUnit::Millimetre;

fn rectangle(width: f64, height: f64) -> Vec<Point> {
    [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
        .map(Point::from)
        .to_vec()
}

/// 200 mm wide, 100 mm high, one side aslant: its right edge runs from (200, 0) to (180, 100).
fn offcut() -> Offcut {
    let mut outline = rectangle(200.0, 100.0);
    outline[2].x = 180.0;
    Offcut {
        name: "blue".to_owned(),
        cloth: "linen".to_owned(),
        outline,
        blemishes: Vec::new(),
        grain: Degrees(0.0),
        grain_doubt: Degrees(0.0),
        face: Face::Right,
        sides_alike: false,
        nap: false,
        margin: Mm(0.0),
        thickness: None,
    }
}

fn copy(name: &str, side: Side, width: f64, height: f64, priority: u8) -> CopyToLay {
    CopyToLay {
        of: CopyRef {
            piece: name.to_owned(),
            copy: Copy { side, ..WHOLE },
            number: 0,
        },
        whole: LayShape {
            outline: rectangle(width, height),
            grain: Degrees(0.0),
            mirrored: side == Side::Left,
            fold: None,
        },
        pieced: Vec::new(),
        new_seams: Default::default(),
        cloth: Some("linen".to_owned()),
        needs: Default::default(),
        priority,
        grain_tolerance: Degrees(2.0),
        upside_down: true,
    }
}

fn placed(copy: &CopyToLay, x: f64, y: f64, turn: f64) -> Placed {
    Placed {
        piece: copy.of.piece.clone(),
        copy: copy.of.copy,
        number: 0,
        part: 0,
        offcut: "blue".to_owned(),
        turn: Degrees(turn),
        moved: (x, y),
        mirrored: copy.whole.mirrored,
        pinned: false,
        as_cut: None,
    }
}

/// A cuff at (10, 20), a larger front upside down at the right, a mirrored pocket that comes first, a band that does not lie.
fn case() -> (ToLay, LayPlan) {
    let copies = vec![
        copy("Cuff", Side::Right, 30.0, 20.0, 2),
        copy("Front", Side::Whole, 60.0, 50.0, 2),
        copy("Pocket", Side::Left, 10.0, 12.0, 1),
        copy("Band", Side::Whole, 80.0, 10.0, 2),
    ];
    let placed = vec![
        placed(&copies[0], 10.0, 20.0, 0.0),
        placed(&copies[1], 170.0, 95.0, 180.0),
        placed(&copies[2], 80.0, 10.0, 1.5),
    ];
    let plan = LayPlan {
        placed,
        ..LayPlan::default()
    };
    (
        ToLay {
            copies,
            gap: Mm(1.0),
        },
        plan,
    )
}

fn parts(plan: &LayPlan, offcut: Offcut) -> Vec<PartOnSheet> {
    let sheet = lay_sheet(&case().0, &[Arc::new(offcut)], plan, "Smock");
    sheet.offcuts.into_iter().flat_map(|on| on.parts).collect()
}

#[test]
fn what_comes_first_is_cut_first_then_the_larger() {
    let names: Vec<(usize, String)> = parts(&case().1, offcut())
        .into_iter()
        .map(|part| (part.number, part.name))
        .collect();
    let expected = [(1, "Pocket, left"), (2, "Front"), (3, "Cuff, right")];
    assert_eq!(
        names,
        expected.map(|(number, name)| (number, name.to_owned()))
    );
}

#[test]
fn measures_go_the_shorter_way_to_the_edge() {
    let all = parts(&case().1, offcut());
    let cuff = all.iter().find(|part| part.name == "Cuff, right").unwrap();
    assert_eq!(
        cuff.words(MM),
        "3. Cuff, right: 10 mm to the edge across the grain; 20 mm to the edge along the grain"
    );
    // The front lies from 110 to 170 mm across and 45 to 95 mm up; its lower right corner is 191 - 170 = 21 mm from the slant,
    // its upper one 181 - 170 = 11 mm.
    let front = all.iter().find(|part| part.name == "Front").unwrap();
    let across = front.measures.iter().find(|m| !m.along).unwrap();
    assert!(
        (11.0 - 1e-9..=21.0 + 1e-9).contains(&across.length.0),
        "{across:?}"
    );
    let along = front.measures.iter().find(|m| m.along).unwrap();
    assert!((along.length.0 - 5.0).abs() < 1e-9);
    assert!(
        front.words(MM).ends_with("; upside down"),
        "{}",
        front.words(MM)
    );
    for part in &all {
        for measured in &part.measures {
            assert!(
                part.outline
                    .iter()
                    .any(|p| (*p - measured.line.p0).hypot() < 1e-9)
            );
        }
    }
}

#[test]
fn a_part_that_is_turned_or_mirrored_says_so() {
    let all = parts(&case().1, offcut());
    let pocket = &all[0];
    assert!(pocket.face_down && (pocket.off_grain.0 - 1.5).abs() < 1e-9);
    assert!((pocket.grain - Vec2::from_angle((91.5_f64).to_radians())).hypot() < 1e-9);
    assert!(
        pocket
            .words(MM)
            .contains("1.5\u{b0} off the grain; pattern face down"),
        "{}",
        pocket.words(MM)
    );
    // On cloth whose grain runs that way it lies true.
    let mut aslant = offcut();
    aslant.grain = Degrees(1.5);
    assert!(parts(&case().1, aslant)[0].off_grain.0.abs() < 1e-9);
}

#[test]
fn what_is_cut_comes_last_without_a_number() {
    let (_, mut plan) = case();
    plan.placed[1].as_cut = Some(rectangle(50.0, 40.0));
    let all = parts(&plan, offcut());
    assert_eq!(all.last().unwrap().words(MM), "Front: cut already");
    assert!(all.last().unwrap().measures.is_empty());
    assert_eq!(all[1].number, 2);
}

#[test]
fn the_sheet_tallies_and_names_what_does_not_lie() {
    let (to_lay, plan) = case();
    let sheet = lay_sheet(&to_lay, &[Arc::new(offcut())], &plan, "Smock");
    assert_eq!(sheet.not_laid, ["Band"]);
    assert!(
        sheet.tally_words.starts_with("4 to cut: 3 on cloth"),
        "{}",
        sheet.tally_words
    );
    assert_eq!(sheet.tally.len(), 4);
    assert_eq!(
        sheet.offcuts[0].words(MM),
        "blue: linen, 200 mm by 100 mm, right side up"
    );
    assert!(sheet.cautions[0].starts_with("Blades"));
    let elsewhere = lay_sheet(&to_lay, &[], &plan, "Smock");
    assert!(elsewhere.offcuts.is_empty());
}
