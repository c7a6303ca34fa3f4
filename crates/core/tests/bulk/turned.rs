//! Tubes, turned pieces and curves.

use crate::small_garments::{garment, seam, stretch, strip};
use crate::{made, reckoned};
use petitoile_core::bulk::{Bulk, Way, bulk, findings};
use petitoile_core::edge::{Edge, EdgeRef};
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::machine::Machine;
use petitoile_core::piece::{Copy, Piece, Role, Side};
use petitoile_core::seams::Relation;
use petitoile_core::units::{LengthUnit, Mm};

const COTTON: &[(Role, f64)] = &[(Role::Shell, 0.3), (Role::Lining, 0.1)];

/// A sleeve of this girth, closed along its length.
fn tube(girth: f64) -> Bulk {
    let underarm = seam(
        "underarm",
        vec![stretch("Sleeve", "left", 0.0, 1.0)],
        vec![stretch("Sleeve", "right", 1.0, 0.0)],
        Relation::Equal,
    );
    let sleeve = garment(vec![strip("Sleeve", girth, 90.0)], vec![underarm]);
    reckoned(&made(sleeve, COTTON))
}

/// Fact sheet J3.6: a wrist 7 mm wide laid flat with quarter-inch seams cannot be turned.
#[test]
fn a_wrist_of_seven_millimetres_with_quarter_inch_seams_cannot_be_turned() {
    let narrow = tube(14.0);
    let one = &narrow.turned[0];
    assert_eq!((one.way, one.flat), (Way::Tube, Mm(7.0)));
    assert!((one.needed().0 - (2.0 * 6.35 + 2.0 * 0.3)).abs() < 1e-12);
    assert!(one.too_narrow.0 > 0.0);
    let (machine, unit) = (Machine::default(), LengthUnit::Millimetre);
    let told = findings(&narrow, "fitting", &machine, unit);
    insta::assert_snapshot!(told[0], @"Sleeve, underarm: the tube is 7 mm wide laid flat and needs 13.3 mm to be turned: 12.7 mm of allowances and 0.60 mm of cloth. Use allowances of 3 mm on Sleeve, left and Sleeve, right, or fold the edges in and sew them together from the right side.");
    let Some(Edit::Fitting {
        change: FittingEdit::SetSingleAllowance(edge, Some(width)),
        ..
    }) = &told[0].remedy
    else {
        panic!("{told:?}")
    };
    assert_eq!((edge, *width), (&EdgeRef::new("Sleeve", "left"), Mm(3.0)));
    // The girth at which it just can: twice the allowances and the stack.
    let least = 2.0 * (2.0 * 6.35 + 0.6);
    assert!(tube(least - 0.1).turned[0].too_narrow.0 > 0.0);
    assert_eq!(tube(least + 0.1).turned[0].too_narrow, Mm(0.0));
}

#[test]
fn a_tube_is_told_against_the_machine_once_the_maker_has_set_it() {
    let told = |machine: &Machine| {
        let underarm = seam(
            "underarm",
            vec![stretch("Sleeve", "left", 0.0, 1.0)],
            vec![stretch("Sleeve", "right", 1.0, 0.0)],
            Relation::Equal,
        );
        let sleeve = garment(vec![strip("Sleeve", 96.0, 90.0)], vec![underarm]);
        let unit = LengthUnit::Millimetre;
        let all = bulk(&made(sleeve, COTTON), None, machine, unit);
        findings(&all, "fitting", machine, unit)
    };
    assert_eq!(told(&Machine::default()), Vec::new());
    let own = Machine {
        tube: Mm(260.0),
        ..Machine::default()
    };
    insta::assert_snapshot!(told(&own)[0], @"Sleeve, underarm: closed it is a tube of 96 mm; your machine reaches round 260 mm and more. Finish its ends and set it in flat, and close it last; or sew its ends by hand.");
}

/// A collar this deep, bagged along its outer edge and both ends.
fn collar(depth: f64, both_long_edges: bool) -> Bulk {
    let side = |role| Copy {
        side: Side::Whole,
        role,
    };
    let piece = Piece {
        copies: vec![side(Role::Shell), side(Role::Lining)],
        placement: petitoile_core::piece::Placement::Follows(petitoile_core::piece::Follow {
            length: petitoile_core::piece::FollowRule::Mate,
            depth: petitoile_core::piece::FollowRule::Detail,
        }),
        ..strip("Collar", 120.0, depth)
    };
    let bagged = |edge: &str| {
        let bit = |role| petitoile_core::seams::Stretch {
            copy: side(role),
            ..stretch("Collar", edge, 0.0, 1.0)
        };
        seam(
            &format!("{edge} bagged"),
            vec![bit(Role::Shell)],
            vec![bit(Role::Lining)],
            Relation::Equal,
        )
    };
    let edges: &[&str] = if both_long_edges {
        &["waist", "hem"]
    } else {
        &["left", "waist", "right"]
    };
    let seams = edges.iter().map(|e| bagged(e)).collect();
    reckoned(&made(garment(vec![piece], seams), COTTON))
}

#[test]
fn a_small_collar_needs_room_for_one_allowance_and_a_strap_for_two() {
    // 6.35 of allowance, and the turned edge: twice the shell, twice the lining.
    let stack = 2.0 * 0.3 + 2.0 * 0.1;
    let room = |bulk: &Bulk| bulk.turned[0].too_narrow.0;
    assert!(room(&collar(6.35 + stack - 0.1, false)) > 0.0);
    assert!(room(&collar(6.35 + stack + 0.1, false)) <= 0.0);
    assert_eq!(collar(10.0, false).turned[0].way, Way::Bag);
    assert_eq!(collar(10.0, true).turned[0].way, Way::Tube);
    assert!(room(&collar(2.0 * 6.35 + stack - 0.1, true)) > 0.0);
    assert!(room(&collar(2.0 * 6.35 + stack + 0.1, true)) <= 0.0);
    assert!(collar(14.0, true).turned[0].wants_cord(), "long and narrow");
}

/// A half disc of this radius, its round edge bagged with its own lining.
fn flap(radius: f64, role_of_mate: Role) -> Bulk {
    let arc = kurbo::Arc::new((0.0, 0.0), (radius, radius), 0.0, std::f64::consts::PI, 0.0);
    let cubics: Vec<_> = kurbo::Shape::path_segments(&arc, 1e-6)
        .map(|s| s.to_cubic())
        .collect();
    let round = Line::from_cubics(&cubics).unwrap();
    let straight = Line::straight(round.end(), round.start());
    let edges = vec![Edge::seam("round", round), Edge::seam("top", straight)];
    let side = |role| Copy {
        side: Side::Whole,
        role,
    };
    let piece = |name: &str| Piece {
        outline: Outline::new(edges.clone()).unwrap(),
        copies: vec![side(Role::Shell), side(Role::Lining)],
        ..strip(name, 1.0, 1.0)
    };
    let bit = |role| petitoile_core::seams::Stretch {
        copy: side(role),
        ..stretch("Flap", "round", 0.0, 1.0)
    };
    let seam = seam(
        "edge",
        vec![bit(Role::Shell)],
        vec![bit(role_of_mate)],
        Relation::Equal,
    );
    reckoned(&made(garment(vec![piece("Flap")], vec![seam]), COTTON))
}

#[test]
fn a_round_flap_as_small_as_its_allowance_has_no_room_for_it() {
    let small = flap(6.2, Role::Lining);
    assert!(
        (small.curves[0].radius.0 - 6.2).abs() < 0.05,
        "{:?}",
        small.curves
    );
    assert!(small.curves[0].no_room);
    assert!(!flap(6.5, Role::Lining).curves[0].no_room);
    let (machine, unit) = (Machine::default(), LengthUnit::Millimetre);
    let told = findings(&small, "fitting", &machine, unit);
    let curve = told.iter().find(|f| f.what.contains("radius")).unwrap();
    insta::assert_snapshot!(curve, @"Flap, round: the curve has a radius of 6.2 mm and an allowance of 6.35 mm: turned, there is no room for it inside. Use an allowance of 3 mm here and notch it, or make the curve rounder.");
}

#[test]
fn a_curve_tighter_than_the_machine_is_told_with_its_radius() {
    let sewn = flap(5.0, Role::Shell);
    let curve = &sewn.curves[0];
    assert!(!curve.no_room, "it is not turned");
    assert!((curve.too_tight.0 - 1.0).abs() < 0.05);
    let (machine, unit) = (Machine::default(), LengthUnit::Millimetre);
    let told = findings(&sewn, "fitting", &machine, unit);
    let curve = told.iter().find(|f| f.what.contains("radius")).unwrap();
    insta::assert_snapshot!(curve, @"Flap, round: the curve has a radius of 5 mm: tighter than the 6 mm a home machine takes (common practice, no source). Sew this bit by hand, or stitch by stitch with the hand wheel; or make the curve rounder.");
}
