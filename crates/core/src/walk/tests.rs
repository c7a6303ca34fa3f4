#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use kurbo::Point;
use proptest::prelude::*;

use super::*;
use crate::check::samples::{LEFT, RIGHT, seam, stretch, strip};
use crate::edge::Edge;
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::notch::Notch;
use crate::piece::Mark;
use crate::seams::{Relation, Stretch};

fn pieces(list: Vec<Piece>) -> Vec<Arc<Piece>> {
    list.into_iter().map(Arc::new).collect()
}

fn notched(mut piece: Piece, edge: &str, fractions: &[f64]) -> Piece {
    piece.notches.extend(fractions.iter().map(|fraction| Notch {
        edge: edge.to_owned(),
        fraction: *fraction,
        kind: NotchKind::Single,
    }));
    piece
}

/// Front and back, sewn at the front's right side and the back's left side, from the waist down.
fn side_seam() -> (Seam, Vec<Arc<Piece>>) {
    let side = seam(
        "side",
        vec![stretch("Front", "right", 1.0, 0.0)],
        vec![stretch("Back", "left", 0.0, 1.0)],
        Relation::Equal,
    );
    let pieces = pieces(vec![strip("Front", 100.0, 60.0), strip("Back", 80.0, 60.0)]);
    (side, pieces)
}

#[test]
fn front_and_back_walked_side_by_side_lie_as_they_are_worn() {
    let (side, pieces) = side_seam();
    let walk = Walk::new(&side, &pieces).unwrap();
    for walked in [0.0, 13.0, 60.0] {
        let step = walk.at(Mm(walked), Pace::Same, Laid::Beside).unwrap();
        // The back's left edge on the front's right edge: moved by the front's width.
        assert!((step.a_from_b * Point::ZERO - Point::new(100.0, 0.0)).hypot() < 1e-9);
        assert!((step.a_from_b * Point::new(80.0, 60.0) - Point::new(180.0, 60.0)).hypot() < 1e-9);
        assert_eq!(step.difference, Mm(0.0));
    }
    let step = walk.at(Mm(20.0), Pace::Same, Laid::OnTop).unwrap();
    assert!(
        (step.a_from_b * Point::new(80.0, 0.0) - Point::new(20.0, 0.0)).hypot() < 1e-9,
        "right sides together: the back lies on the front"
    );
}

#[test]
fn a_seam_between_the_halves_of_one_pair_is_walked_with_the_mirror_image() {
    let half = |copy| Stretch {
        copy,
        ..stretch("Back", "left", 0.0, 1.0)
    };
    let centre = seam(
        "centre back",
        vec![half(RIGHT)],
        vec![half(LEFT)],
        Relation::Equal,
    );
    let walk = Walk::new(&centre, &pieces(vec![strip("Back", 80.0, 60.0)])).unwrap();
    let step = walk.at(Mm(30.0), Pace::Same, Laid::Beside).unwrap();
    assert!((step.a_from_b * Point::new(80.0, 10.0) - Point::new(-80.0, 10.0)).hypot() < 1e-9);
}

#[test]
fn a_straight_cap_rolls_on_a_round_armscye_like_a_ruler_on_a_wheel() {
    // Quarter circle of radius 50 against a straight edge: after a quarter turn the ruler has turned by 90 degrees.
    let k = 0.552_284_749_830_793_6 * 50.0;
    let quarter = Line::new(vec![
        Point::new(50.0, 0.0),
        Point::new(50.0, k),
        Point::new(k, 50.0),
        Point::new(0.0, 50.0),
    ])
    .unwrap();
    let wheel = Piece {
        outline: Outline::new(vec![
            Edge::seam("rim", quarter),
            Edge::seam("left", Line::straight(Point::new(0.0, 50.0), Point::ZERO)),
            Edge::seam("hem", Line::straight(Point::ZERO, Point::new(50.0, 0.0))),
        ])
        .unwrap(),
        ..strip("Wheel", 1.0, 1.0)
    };
    let rim = wheel.outline.edge("rim").unwrap().line.length();
    let rolled = seam(
        "rolled",
        vec![stretch("Wheel", "rim", 0.0, 1.0)],
        vec![stretch("Ruler", "waist", 1.0, 0.0)],
        Relation::Equal,
    );
    let walk = Walk::new(&rolled, &pieces(vec![wheel, strip("Ruler", rim, 10.0)])).unwrap();
    let along = |walked: f64| {
        let step = walk.at(Mm(walked), Pace::Same, Laid::Beside).unwrap();
        let at = |p: Point| step.a_from_b * p;
        at(Point::new(1.0, 0.0)) - at(Point::ZERO)
    };
    let (start, end) = (along(0.0), along(rim));
    assert!(start.dot(end).abs() < 1e-6 && (start.cross(end).abs() - 1.0).abs() < 1e-6);
}

#[test]
fn walking_stops_at_corners_notches_and_dots_and_where_ease_lies() {
    let mut cap = notched(strip("Cap", 104.0, 60.0), "waist", &[0.25, 0.75]);
    cap.marks.push(Mark {
        name: "easing".to_owned(),
        kind: MarkKind::Dot(Point::new(52.0, 59.5)),
    });
    let front = notched(strip("Front", 50.0, 60.0), "waist", &[0.5]);
    let back = notched(strip("Back", 50.0, 60.0), "waist", &[0.52]);
    let armhole = seam(
        "armhole",
        vec![stretch("Cap", "waist", 1.0, 0.0)],
        vec![
            stretch("Front", "waist", 0.0, 1.0),
            stretch("Back", "waist", 0.0, 1.0),
        ],
        Relation::Eased(Mm(4.0)),
    );
    let walk = Walk::new(&armhole, &pieces(vec![cap, front, back])).unwrap();
    let told: Vec<String> = walk
        .stops
        .iter()
        .map(|stop| format!("{:?} {:.1} {}", stop.on, stop.at.0, stop.what))
        .collect();
    insta::assert_snapshot!(told.join("\n"), @r"
    A 0.0 the seam starts
    A 0.0 ease starts
    B 0.0 the seam starts
    B 25.0 single notch
    A 26.0 single notch
    B 50.0 Front, waist ends, Back, waist begins
    A 52.0 dot easing
    B 76.0 single notch
    A 78.0 single notch
    B 100.0 the seam ends
    A 104.0 the seam ends
    A 104.0 ease ends
    ");
    let eased: Vec<f64> = walk.sections.iter().map(|s| s.difference().0).collect();
    assert_eq!(eased.len(), 3);
    for (found, wanted) in eased.iter().zip([1.0, 1.0, 2.0]) {
        assert!((found - wanted).abs() < 1e-9, "{eased:?}");
    }
    // Notch to notch they meet; at the same pace they miss each other by the ease so far.
    let met = walk.at(Mm(26.0), Pace::Notches, Laid::Beside).unwrap();
    assert!((met.along_b.0 - 25.0).abs() < 1e-9 && (met.difference.0 - 1.0).abs() < 1e-9);
    let (next, stop) = walk.next_stop(Mm(26.0), Pace::Same).unwrap();
    assert!(next.0 == 50.0 && stop.on == SideOf::B);
    let (before, _) = walk.stop_before(Mm(26.0), Pace::Same).unwrap();
    assert_eq!(before, Mm(25.0));
    assert_eq!(walk.next_stop(Mm(104.0), Pace::Same), None);
}

#[test]
fn a_seam_without_length_cannot_be_walked() {
    let nothing = seam("nothing", Vec::new(), Vec::new(), Relation::Equal);
    insta::assert_snapshot!(Walk::new(&nothing, &[]).unwrap_err(), @"one side of the seam has no length");
    let gone = seam(
        "gone",
        vec![stretch("Yoke", "hem", 0.0, 1.0)],
        Vec::new(),
        Relation::Equal,
    );
    insta::assert_snapshot!(Walk::new(&gone, &[]).unwrap_err(), @"there is no piece called Yoke");
}

/// A four-cornered piece whose right side is any curve.
fn curved(name: &str, bend: [(f64, f64); 2]) -> Piece {
    let p = |x, y| Point::new(x, y);
    let side = Line::new(vec![
        p(100.0, 0.0),
        p(100.0 + bend[0].0, 20.0 + bend[0].1),
        p(100.0 + bend[1].0, 40.0 + bend[1].1),
        p(100.0, 60.0),
    ])
    .unwrap();
    Piece {
        outline: Outline::new(vec![
            Edge::seam("hem", Line::straight(p(0.0, 0.0), p(100.0, 0.0))),
            Edge::seam("right", side),
            Edge::seam("waist", Line::straight(p(100.0, 60.0), p(0.0, 60.0))),
            Edge::seam("left", Line::straight(p(0.0, 60.0), p(0.0, 0.0))),
        ])
        .unwrap(),
        ..strip(name, 1.0, 1.0)
    }
}

fn any_bend() -> impl Strategy<Value = [(f64, f64); 2]> {
    let one = || (-30.0..30.0, -15.0..15.0);
    (one(), one()).prop_map(|(a, b)| [a, b])
}

proptest! {
    #[test]
    fn at_every_step_the_two_places_meet_and_run_the_same_way(
        first in any_bend(),
        second in any_bend(),
        turned in any::<bool>(),
        walked in 0.0..120.0_f64,
        even in any::<bool>(),
        on_top in any::<bool>(),
    ) {
        let pieces = pieces(vec![curved("Front", first), curved("Back", second)]);
        let (from, to) = if turned { (1.0, 0.0) } else { (0.0, 1.0) };
        let side = seam(
            "side",
            vec![stretch("Front", "right", 1.0, 0.0)],
            vec![stretch("Back", "right", from, to), stretch("Back", "waist", 1.0, 0.0)],
            Relation::Equal,
        );
        let walk = Walk::new(&side, &pieces).unwrap();
        let pace = if even { Pace::Notches } else { Pace::Same };
        let laid = if on_top { Laid::OnTop } else { Laid::Beside };
        let step = walk.at(Mm(walked), pace, laid).unwrap();
        prop_assert!((step.a_from_b * step.b.point - step.a.point).hypot() < 1e-9);
        let ahead = step.a_from_b * (step.b.point + step.b.direction) - step.a.point;
        prop_assert!((ahead - step.a.direction).hypot() < 1e-9);
        let [a, b, c, d, _, _] = step.a_from_b.as_coeffs();
        prop_assert!((a * a + b * b - 1.0).abs() < 1e-9 && (a * c + b * d).abs() < 1e-9, "rigid");
        prop_assert!((step.a_from_b.determinant().abs() - 1.0).abs() < 1e-9);
        // The mate lies on the other side of the seam, or on the same, as it is laid.
        let inwards = |place: &SidePlace| {
            let left = Vec2::new(-place.direction.y, place.direction.x);
            if place.piece_on_left { left } else { -left }
        };
        let mate = step.a_from_b * (step.b.point + inwards(&step.b)) - step.a.point;
        let hand = mate.dot(inwards(&step.a));
        prop_assert!(if on_top { hand > 0.99 } else { hand < -0.99 }, "{hand}");
    }
}
