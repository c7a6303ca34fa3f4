//! What passes which opening: the published cases, elastic, soft torsos, wigs, slits that a seam closes.

use super::*;
use crate::body::Torso;
use crate::check::samples::{LEFT, RIGHT, finished_with, four, seam, stretch};
use crate::closure::Closure;
use crate::cloth::Cloth;
use crate::edge::Finish;
use crate::edit::{Edit, FittingEdit};
use crate::finding::Gravity;
use crate::piece::{Copy, Piece, Role};
use crate::seams::{Relation, Seam};

const CASES: &str = include_str!("../../../tests/cases/openings.csv");

fn case(line: &str) -> (&str, Passing, f64, f64, f64) {
    let cells: Vec<&str> = line.splitn(6, ',').collect();
    let number = |at: usize| cells[at].parse::<f64>().unwrap();
    let passes = match cells[1] {
        "Head" => Passing::Head,
        "Hand" => Passing::Hand,
        "Foot" => Passing::Foot,
        _ => Passing::Trunk,
    };
    (cells[0], passes, number(2), number(3), number(4))
}

/// Fact sheet J2 and rows O01 to O04: the slit that is needed is the printed one, it is enough, and half a millimetre
/// less is not.
#[test]
fn the_slits_of_the_fact_sheet_just_let_the_body_through() {
    let rows: Vec<&str> = CASES.lines().skip(1).collect();
    assert_eq!(rows.len(), 6);
    for row in rows {
        let (id, passes, hole, girth, slit) = case(row);
        let way = match passes {
            Passing::Trunk => Way::FeetFirst,
            _ => Way::OverHead,
        };
        let look = |slit: f64| {
            let dressing = looked_at(on(
                with_opening(passes, hole, slit),
                &figures(passes, girth),
            ));
            dressing.passages[0].clone()
        };
        let needed = look(0.0).slit_needed(way, HeadDress::Wig).0;
        assert!(
            (needed - slit).abs() < 1e-9,
            "{id}: {needed} printed {slit}"
        );
        assert!(look(slit).lets_in(way, HeadDress::Wig), "{id}");
        assert!(!look(slit - 0.5).lets_in(way, HeadDress::Wig), "{id}");
    }
}

fn lawn(mut garment: Garment, thickness: f64) -> Garment {
    let cloth = Cloth {
        name: "lawn".to_owned(),
        thickness: Mm(thickness),
        source: String::new(),
    };
    garment.cloths.insert(Role::Shell, cloth);
    garment
}

/// A doll whose hips are too wide as well, so that nothing else helps.
fn big_headed(wig: f64) -> Vec<(Measure, f64)> {
    vec![
        (Measure::HeadGirthWithWig, wig),
        (Measure::HeadGirth, wig),
        (Measure::HipGirth, 400.0),
    ]
}

#[test]
fn a_slit_too_short_for_the_head_says_how_long_it_must_be() {
    let neck = |slit, thickness| {
        said(on(
            lawn(with_opening(Passing::Head, 130.0, slit), thickness),
            &big_headed(320.0),
        ))
    };
    let found = neck(40.0, 0.0);
    assert_eq!(found[0].gravity, Gravity::Unusable);
    insta::assert_snapshot!(found[0], @"centre back: it opens to 210.0 mm, but the head with its wig needs 320.0 mm. Make the slit 95.0 mm long instead of 40.0 mm, or the hole 110.0 mm wider.");
    insta::assert_snapshot!(neck(0.0, 0.0)[0], @"centre back: it opens to 130.0 mm, but the head with its wig needs 320.0 mm. Open it by a slit of 95.0 mm, or make the hole 190.0 mm wider.");
    insta::assert_snapshot!(neck(94.0, 0.32)[0], @"centre back: it opens to 318.0 mm, but the head with its wig needs 321.0 mm. Make the slit 95.5 mm long instead of 94.0 mm, or the hole 3.0 mm wider.");
}

#[test]
fn a_head_that_passes_without_its_wig_is_told_so() {
    let figures = [
        (Measure::HeadGirthWithWig, 320.0),
        (Measure::HeadGirth, 290.0),
        (Measure::HipGirth, 400.0),
    ];
    let neck = with_opening(Passing::Head, 130.0, 80.0);
    let found = said(on(neck.clone(), &figures));
    assert_eq!(found[0].gravity, Gravity::Care);
    insta::assert_snapshot!(found[0], @"centre back: it opens to 290.0 mm, but the head with its wig needs 320.0 mm. Without its wig the head passes. Make the slit 95.0 mm long instead of 80.0 mm, or the hole 30.0 mm wider.");
    let dressing = looked_at(on(neck, &figures));
    assert!(dressing.goes_on(Way::OverHead, HeadDress::Bare));
    assert!(!dressing.goes_on(Way::OverHead, HeadDress::Wig));
    assert_eq!(dressing.best(), Some((Way::OverHead, HeadDress::Bare)));
}

#[test]
fn what_is_stepped_into_needs_no_room_for_the_head() {
    let figures = [
        (Measure::HeadGirthWithWig, 320.0),
        (Measure::HeadGirth, 320.0),
        (Measure::HipGirth, 200.0),
        (Measure::BustGirth, 190.0),
        (Measure::ShoulderWidth, 60.0),
    ];
    let found = said(on(with_opening(Passing::Head, 130.0, 40.0), &figures));
    assert_eq!(found[0].gravity, Gravity::Note, "{}", found[0]);
    assert!(
        found[0].what.contains("It goes on feet first."),
        "{}",
        found[0]
    );
}

#[test]
fn a_soft_torso_gives_and_a_hard_one_does_not() {
    let mut skirt = on(
        with_opening(Passing::Trunk, 100.0, 0.0),
        &[(Measure::HipGirth, 104.0)],
    );
    assert!(!looked_at(skirt.clone()).goes_on(Way::FeetFirst, HeadDress::Wig));
    let mut soft = crate::fitting::Fitting::clone(&skirt.fitting);
    let body = crate::body::Body {
        torso: Torso::Soft { give: Mm(5.0) },
        ..crate::body::Body::clone(&soft.body)
    };
    soft.body = Arc::new(body);
    skirt.fitting = Arc::new(soft);
    let dressing = looked_at(skirt);
    assert!(dressing.goes_on(Way::FeetFirst, HeadDress::Wig));
    let hips = dressing.passages[0]
        .needs
        .iter()
        .find(|n| n.part == Part::Hips)
        .unwrap();
    assert_eq!(
        (hips.body, hips.give, hips.girth, hips.margin),
        (Mm(104.0), Mm(5.0), Mm(99.0), Mm(1.0))
    );
}

/// A head does not give, however the torso is stuffed.
#[test]
fn nothing_but_the_torso_gives() {
    let mut neck = on(with_opening(Passing::Head, 100.0, 0.0), &big_headed(104.0));
    let mut soft = crate::fitting::Fitting::clone(&neck.fitting);
    let body = crate::body::Body {
        torso: Torso::Soft { give: Mm(5.0) },
        ..crate::body::Body::clone(&soft.body)
    };
    soft.body = Arc::new(body);
    neck.fitting = Arc::new(soft);
    assert!(!looked_at(neck).goes_on(Way::OverHead, HeadDress::Wig));
}

#[test]
fn an_opening_on_an_edge_that_is_gone_is_told() {
    let mut garment = garment(vec![strip("Neck", 100.0, 10.0)], Vec::new());
    garment.openings = vec![Opening {
        name: "centre back".to_owned(),
        hole: vec![EdgeRef::new("Neck", "neckline")],
        slit: Vec::new(),
        passes: Passing::Head,
    }];
    insta::assert_snapshot!(said(on(garment, &[]))[0], @"centre back: the opening cannot be measured: centre back: there is no edge Neck, neckline; take it out of the tape line or rename it. Name the edges of the opening again; until then nobody knows whether it lets the body in.");
}

/// A skirt gathered from 180 to 90 mm at its waist, on hips of 126 mm.
fn gathered(finish: Finish, closure: Option<Closure>) -> Dressing {
    let mut skirt = finished_with(strip("Skirt", 90.0, 60.0), "waist", finish);
    let fullness = crate::fullness::Fullness::Gathers { ratio: 2.0 };
    skirt.fullness = vec![crate::fullness::FullnessOp {
        even_to: Some("hem".to_owned()),
        ..crate::fullness::FullnessOp::new("waist", fullness)
    }];
    let mut garment = garment(vec![skirt], Vec::new());
    garment.openings = vec![Opening {
        name: "waist".to_owned(),
        hole: vec![EdgeRef::new("Skirt", "waist")],
        slit: Vec::new(),
        passes: Passing::Trunk,
    }];
    let mut adapted = on(garment, &[(Measure::HipGirth, 126.0)]);
    if let Some(closure) = closure {
        let mut fitting = crate::fitting::Fitting::clone(&adapted.fitting);
        fitting.closures.insert("waist".to_owned(), closure);
        adapted.fitting = Arc::new(fitting);
    }
    looked_at(adapted)
}

#[test]
fn elastic_opens_as_far_as_it_stretches_and_no_further_than_the_cloth() {
    let casing = Finish::Casing { width: Mm(5.0) };
    let feet = |dressing: &Dressing| dressing.goes_on(Way::FeetFirst, HeadDress::Wig);
    let hole = |dressing: &Dressing| dressing.passages[0].hole.0;
    let sewn = gathered(Finish::Seam, None);
    assert!(
        (hole(&sewn) - 90.0).abs() < 1e-6 && !feet(&sewn),
        "a band holds the gathers"
    );
    let tape = gathered(casing, None);
    assert!(
        (hole(&tape) - 180.0).abs() < 0.1 && feet(&tape),
        "a tape is let out to the cloth"
    );
    let elastic = |stretched| {
        gathered(
            casing,
            Some(Closure::Elastic {
                relaxed: Mm(70.0),
                stretched: Mm(stretched),
            }),
        )
    };
    assert!((hole(&elastic(125.0)) - 125.0).abs() < 1e-9 && !feet(&elastic(125.0)));
    assert!(feet(&elastic(126.0)));
    assert!(
        (hole(&elastic(500.0)) - 180.0).abs() < 0.1,
        "the cloth is the limit"
    );
    assert_eq!(elastic(126.0).passages[0].worn, Mm(70.0));
}

/// Two backs of 100 mm, sewn together below `open` of their length from the neck down.
fn backs(open: f64) -> Garment {
    let pair = |name: &str| Piece {
        copies: vec![RIGHT, LEFT],
        ..strip(name, 65.0, 100.0)
    };
    // The edge "right" runs up from the hem to the waist, which is the neck here.
    let back = |copy: Copy| crate::seams::Stretch {
        copy,
        ..stretch("Back", "right", 0.0, 1.0 - open)
    };
    let closing = Seam {
        name: "centre back seam".to_owned(),
        ..seam("", vec![back(RIGHT)], vec![back(LEFT)], Relation::Equal)
    };
    let mut garment = garment(vec![pair("Back")], vec![closing]);
    garment.openings = vec![Opening {
        name: "neck".to_owned(),
        hole: vec![EdgeRef::new("Back", "waist")],
        slit: vec![EdgeRef::new("Back", "right")],
        passes: Passing::Head,
    }];
    garment
}

#[test]
fn a_slit_is_as_long_as_its_seam_leaves_open() {
    let passage = |open| looked_at(on(backs(open), &big_headed(320.0))).passages[0].clone();
    assert!((passage(0.4).slit.0 - 40.0).abs() < 1e-9);
    assert!((passage(0.4).hole.0 - 130.0).abs() < 1e-9);
    assert!((passage(0.4).open.0 - 210.0).abs() < 1e-9);
    assert!(passage(0.95).lets_in(Way::OverHead, HeadDress::Wig));
}

/// The remedy opens the seam further, in one step, and then the head passes.
#[test]
fn one_step_opens_the_seam_as_far_as_the_head_needs() {
    for open in [0.4, 0.0] {
        let mut adapted = on(backs(open), &big_headed(320.0));
        let found = said(adapted.clone());
        let Some(Edit::Fitting {
            change: FittingEdit::AddAlteration(step),
            ..
        }) = &found[0].remedy
        else {
            panic!("{}", found[0]);
        };
        let altered = step.applied(&adapted.made).unwrap().garment;
        adapted.pieces.clone_from(&altered.pieces);
        adapted.made = Arc::new(altered);
        let dressing = looked_at(adapted);
        assert!(
            (dressing.passages[0].slit.0 - 95.0).abs() < 1e-6,
            "{open}: {:?}",
            dressing.passages[0].slit
        );
        assert!(dressing.goes_on(Way::OverHead, HeadDress::Wig));
    }
}

/// A head of 400 mm would need 135 mm of the 100 mm that are there.
#[test]
fn a_seam_that_is_too_short_is_no_remedy() {
    let found = said(on(backs(0.4), &big_headed(400.0)));
    assert_eq!(found[0].remedy, None);
}

/// Two halves of 65 mm, sewn in front and behind: a neck of 130 mm with no opening named.
fn closed_neck(slit: f64, is_sewn: bool) -> Garment {
    let mut garment = backs(slit);
    garment.openings.clear();
    if is_sewn {
        let front = |copy: Copy| crate::seams::Stretch {
            copy,
            ..stretch("Back", "left", 0.0, 1.0)
        };
        let (right, left) = (vec![front(RIGHT)], vec![front(LEFT)]);
        garment
            .seams
            .push(seam("centre front seam", right, left, Relation::Equal));
    }
    let back = garment.pieces[0].clone();
    let mut named = crate::piece::Piece::clone(&back);
    let edges = named.outline.edges().iter().cloned().map(|mut edge| {
        if edge.name == "waist" {
            edge.name = "neckline".to_owned();
        }
        edge
    });
    named.outline = crate::geometry::outline::Outline::new(edges.collect()).unwrap();
    garment.pieces = vec![Arc::new(named)];
    garment
}

#[test]
fn a_neckline_that_nobody_named_is_found_and_proposed() {
    let adapted = on(closed_neck(0.3, true), &big_headed(320.0));
    let source = adapted.garment.clone();
    let found = said(adapted.clone());
    insta::assert_snapshot!(found[0], @"Back, neckline: the neck hole opens to 190.0 mm, but the head with its wig needs 320.0 mm, and the garment names no opening there. Name an opening along Back, neckline and give it a slit of 95.0 mm.");
    let Some(Edit::PutOpening { garment, opening }) = found[0].remedy.clone() else {
        panic!("{}", found[0]);
    };
    assert_eq!(garment, source.name);
    assert_eq!(opening.hole, [EdgeRef::new("Back", "neckline")]);
    assert_eq!(opening.slit, [EdgeRef::new("Back", "right")]);
    // Named, it is measured like any other.
    let mut named = Garment::clone(&source);
    named.openings.push(opening);
    let dressing = looked_at(on(named, &big_headed(320.0)));
    assert!((dressing.passages[0].slit.0 - 30.0).abs() < 1e-9);
    assert_eq!(dressing.missing, Vec::new());
}

#[test]
fn a_neckline_open_down_to_the_hem_is_no_hole() {
    let mut open = closed_neck(1.0, false);
    open.seams.clear();
    let named = open.pieces.iter().map(|piece| {
        Arc::new(finished_with(
            crate::piece::Piece::clone(piece),
            "hem",
            Finish::Hem {
                width: None,
                turns: 1,
            },
        ))
    });
    open.pieces = named.collect();
    assert_eq!(looked_at(on(open, &big_headed(320.0))).missing, Vec::new());
}

/// A sleeve that narrows to 27 mm, sewn into a tube; the hand measures 38 mm.
#[test]
fn a_narrow_sleeve_without_an_opening_is_found() {
    let mut sleeve = four(
        "Sleeve",
        [(8.0, 0.0), (35.0, 0.0), (43.0, 60.0), (0.0, 60.0)],
    );
    sleeve.placement = crate::piece::Placement::Framed(crate::piece::Frame::Arm);
    sleeve.copies = vec![RIGHT, LEFT];
    let side = |edge: &str, from: f64, to: f64| crate::seams::Stretch {
        copy: RIGHT,
        ..stretch("Sleeve", edge, from, to)
    };
    let underarm = seam(
        "underarm",
        vec![side("right", 0.0, 1.0)],
        vec![side("left", 1.0, 0.0)],
        Relation::Equal,
    );
    let dressing = looked_at(on(
        garment(vec![sleeve], vec![underarm]),
        &[(Measure::HandGirth, 38.0)],
    ));
    let missing = &dressing.missing[0];
    assert_eq!(missing.opening.hole, [EdgeRef::new("Sleeve", "hem")]);
    assert_eq!(missing.part, Part::Hand);
    assert!((missing.slit.0 - 5.5).abs() < 1e-9);
}
