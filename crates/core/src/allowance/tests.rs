//! Closed forms, folding by numbers, and laws.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::collections::BTreeMap;

use kurbo::{
    Affine, BezPath, CubicBez, ParamCurve, ParamCurveNearest, PathSeg, Point, Shape, Vec2,
};
use proptest::prelude::*;

use super::*;
use crate::edge::{Edge, FinishStretch};
use crate::geometry::crossing::self_crossings;
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::geometry::parallel::{FIT, right_of};
use crate::piece::{Dart, DartPress, Follow, FollowRule, Piece, Placement};

pub(crate) fn piece(edges: Vec<Edge>) -> Piece {
    let rule = FollowRule::Detail;
    Piece {
        name: "piece".into(),
        outline: Outline::new(edges).unwrap(),
        placement: Placement::Follows(Follow {
            length: rule.clone(),
            depth: rule,
        }),
        body_lines: vec![],
        darts: vec![],
        notches: vec![],
        marks: vec![],
        grainline: None,
        fullness: vec![],
        copies: vec![],
    }
}

/// Straight edges "0", "1", ... between the corners, with their finishes.
pub(crate) fn straight_piece(corners: &[(f64, f64)], finishes: &[Finish]) -> Piece {
    let n = corners.len();
    piece(
        (0..n)
            .map(|i| {
                Edge::finished(
                    i.to_string(),
                    Line::straight(corners[i].into(), corners[(i + 1) % n].into()),
                    finishes[i % finishes.len()],
                )
            })
            .collect(),
    )
}

fn circle(r: f64, clockwise_hole: bool) -> Vec<CubicBez> {
    let k = 0.552_284_749_830_793_6 * r;
    let quarter = CubicBez::new((r, 0.0), (r, k), (k, r), (0.0, r));
    let list: Vec<CubicBez> = (0..4)
        .map(|i| Affine::rotate(f64::from(i) * std::f64::consts::FRAC_PI_2) * quarter)
        .collect();
    if clockwise_hole {
        crate::geometry::parallel::turned_round(&list)
    } else {
        list
    }
}

fn plan(seam: f64) -> AllowancePlan {
    AllowancePlan {
        seam: Mm(seam),
        ..AllowancePlan::default()
    }
}

fn kinds(cut: &CutLine) -> Vec<CornerKind> {
    cut.corners.iter().map(|c| c.kind).collect()
}

pub(crate) fn distance(path: &BezPath, p: Point) -> f64 {
    path.segments()
        .map(|s: PathSeg| s.nearest(p, 1e-9).distance_sq)
        .fold(f64::INFINITY, f64::min)
        .sqrt()
}

fn corner_points(cut: &CutLine) -> Vec<Point> {
    cut.chain.iter().map(|c| c.p0).collect()
}

fn has_corner(cut: &CutLine, p: (f64, f64)) -> bool {
    corner_points(cut)
        .iter()
        .any(|c| (*c - Point::from(p)).hypot() < 1e-6)
}

const RECTANGLE: [(f64, f64); 4] = [(0.0, 0.0), (80.0, 0.0), (80.0, 50.0), (0.0, 50.0)];

#[test]
fn a_rectangle_gets_a_width_of_its_own_on_every_edge() {
    let mut plan = plan(5.0);
    for (edge, width) in [("0", 10.0), ("1", 4.0), ("2", 0.0)] {
        plan.single.insert(EdgeRef::new("piece", edge), Mm(width));
    }
    let cut = cut_line(&straight_piece(&RECTANGLE, &[Finish::Seam]), &plan);
    assert_eq!(
        cut.path().bounding_box(),
        kurbo::Rect::new(-5.0, -10.0, 84.0, 50.0)
    );
    assert!((cut.path().area() - 89.0 * 60.0).abs() < 1e-9);
    assert_eq!(kinds(&cut), [CornerKind::Mitred; 4]);
    assert_eq!(
        cut.chain.len(),
        4,
        "straight edges stay single straight lines"
    );
}

#[test]
fn a_round_piece_is_cut_on_the_larger_ring() {
    let line = Line::from_cubics(&circle(50.0, false)).unwrap();
    let cut = cut_line(&piece(vec![Edge::seam("rim", line)]), &plan(8.0));
    let truth = std::f64::consts::PI * 58.0 * 58.0;
    assert!(
        (cut.path().area() / truth - 1.0).abs() < 1e-3,
        "{} against {truth}",
        cut.path().area()
    );
    for c in &cut.chain {
        for i in 0..8 {
            let r = c.eval(f64::from(i) / 8.0).to_vec2().hypot();
            // the drawn circle is itself up to 0.027 % of its radius too large
            assert!((r - 58.0).abs() < FIT + 50.0 * 2.8e-4, "radius {r}");
        }
    }
}

#[test]
fn each_finish_has_its_strips() {
    let edge = EdgeRef::new("piece", "0");
    let mut plan = AllowancePlan {
        seam: Mm(6.0),
        hem: Mm(8.0),
        ..AllowancePlan::default()
    };
    let hem = |width, turns| Finish::Hem { width, turns };
    let check = |plan: &AllowancePlan, finish, wanted: &[f64]| {
        assert_eq!(strips(finish, plan, &edge), wanted, "{finish:?}")
    };
    check(&plan, Finish::Seam, &[6.0]);
    check(&plan, Finish::Facing, &[6.0]);
    check(&plan, hem(None, 1), &[8.0]);
    check(&plan, hem(Some(Mm(5.0)), 2), &[5.0, 5.0]);
    check(&plan, Finish::Casing { width: Mm(10.0) }, &[10.0, 6.0]);
    check(&plan, Finish::Casing { width: Mm(4.0) }, &[4.0, 4.0]);
    check(&plan, Finish::Raw, &[]);
    check(&plan, Finish::Selvedge, &[]);
    check(&plan, Finish::Fold, &[]);
    plan.single.insert(edge.clone(), Mm(3.0));
    check(&plan, Finish::Seam, &[3.0]);
    check(&plan, hem(Some(Mm(5.0)), 2), &[3.0, 3.0]);
    plan.single.insert(edge.clone(), Mm(f64::NAN));
    check(&plan, Finish::Seam, &[0.0]);
}

#[test]
fn a_sharp_corner_is_squared_off_at_three_allowances() {
    let cut = cut_line(
        &straight_piece(
            &[(0.0, 0.0), (100.0, -10.0), (100.0, 10.0)],
            &[Finish::Seam],
        ),
        &plan(5.0),
    );
    assert_eq!(cut.corners[2].kind, CornerKind::SquaredOff);
    assert!((cut.path().bounding_box().x0 - -15.0).abs() < 1e-9);
}

#[test]
fn the_allowance_steps_where_a_seam_ends_in_a_hemmed_slit() {
    let mut edges: Vec<Edge> = straight_piece(&RECTANGLE, &[Finish::Seam])
        .outline
        .edges()
        .to_vec();
    edges[0].finish = vec![
        FinishStretch {
            from: 0.0,
            to: 0.6,
            finish: Finish::Seam,
        },
        FinishStretch {
            from: 0.6,
            to: 1.0,
            finish: Finish::Hem {
                width: Some(Mm(9.0)),
                turns: 1,
            },
        },
    ];
    let cut = cut_line(&piece(edges), &plan(5.0));
    assert_eq!(cut.corners[0].kind, CornerKind::Stepped);
    assert!(
        has_corner(&cut, (48.0, -5.0)) && has_corner(&cut, (48.0, -9.0)),
        "{:?}",
        corner_points(&cut)
    );
}

/// The point where it lies after every turn of a hem along y = 0 (cloth below it), `first` mm wide.
fn turned_up(p: Point, first: f64) -> Point {
    let below_first = if p.y < -first {
        -2.0 * first - p.y
    } else {
        p.y
    };
    Point::new(p.x, below_first.abs())
}

#[test]
fn a_turned_up_hem_ends_on_the_cut_line_of_the_side_seams() {
    // a flared skirt panel: the hem at the bottom, sides leaning in by 20 of 50 and by 5 of 50, the second one curved
    let lean = Line::straight(Point::new(20.0, 50.0), Point::new(0.0, 0.0));
    let bow = Line::new(
        [(100.0, 0.0), (103.0, 15.0), (97.0, 32.0), (95.0, 50.0)]
            .map(Point::from)
            .to_vec(),
    )
    .unwrap();
    for (turns, width) in [(1, 12.0), (2, 7.0)] {
        let hem = Finish::Hem {
            width: Some(Mm(width)),
            turns,
        };
        let panel = piece(vec![
            Edge::finished(
                "hem",
                Line::straight(Point::new(0.0, 0.0), Point::new(100.0, 0.0)),
                hem,
            ),
            Edge::seam("side", bow.clone()),
            Edge::seam(
                "waist",
                Line::straight(Point::new(95.0, 50.0), Point::new(20.0, 50.0)),
            ),
            Edge::seam("other side", lean.clone()),
        ]);
        let cut = cut_line(&panel, &plan(5.0));
        assert_eq!(
            kinds(&cut),
            [
                CornerKind::Mirrored,
                CornerKind::Mitred,
                CornerKind::Mitred,
                CornerKind::Mirrored
            ]
        );
        let total = width * f64::from(turns);
        let mut on_side = 0;
        for c in &cut.chain {
            for p in (1..10).map(|i| c.eval(f64::from(i) / 10.0)) {
                if p.y >= -1e-9 || p.y <= -total + 1e-6 {
                    continue;
                }
                let up = turned_up(p, width);
                // 5 mm outside the nearer side seam, measured on the seam carried on straight below the hem line
                let carried = |line: &Line, end: f64| {
                    let (at, d) = (
                        line.at(end),
                        line.direction(end) * if end > 0.5 { 1.0 } else { -1.0 },
                    );
                    let mut path = line.to_path();
                    path.move_to(at);
                    path.line_to(at + d * 30.0);
                    path
                };
                let side = if p.x > 50.0 {
                    carried(&bow, 0.0)
                } else {
                    carried(&lean, 1.0)
                };
                let off = (distance(&side, up) - 5.0).abs();
                assert!(
                    off < 2.0 * FIT,
                    "{p:?} turned up to {up:?} lies {off} mm off, {turns} turns"
                );
                on_side += 1;
            }
        }
        assert!(on_side >= 18, "both ends of the hem were looked at");
        assert!((cut.path().bounding_box().y0 - -total).abs() < 1e-9);
    }
}

#[test]
fn two_hems_at_a_square_corner_meet_in_the_diagonal_when_turned() {
    for turns in [1, 2] {
        let hem = Finish::Hem {
            width: Some(Mm(10.0)),
            turns,
        };
        let cut = cut_line(&straight_piece(&RECTANGLE, &[hem]), &plan(4.0));
        assert_eq!(kinds(&cut), [CornerKind::HemMitre; 4]);
        // at the corner (0, 0), below the hem line of the bottom edge: 4 mm of spare cloth beyond the mitre line
        let mut seen = 0;
        for c in &cut.chain {
            for p in (1..10).map(|i| c.eval(f64::from(i) / 10.0)) {
                let total = 10.0 * f64::from(turns);
                let beyond_tip = p.x < 0.0 && p.y > -10.0;
                if p.x > 30.0 || p.y >= 0.0 || p.y <= -total + 1e-6 || beyond_tip {
                    continue;
                }
                let up = turned_up(p, 10.0);
                // distance from the diagonal x = y, on the corner's side
                let off = (up.y - up.x) / std::f64::consts::SQRT_2;
                assert!((off - 4.0).abs() < 1e-6, "{p:?} turned to {up:?}: {off}");
                seen += 1;
            }
        }
        assert!(seen >= 3 * turns, "{seen}");
    }
}

#[test]
fn the_opened_out_piece_has_one_unbroken_cut_line_across_the_fold() {
    // half a front: fold at x = 0, neckline leaving it square and curved, hem below
    let neck = Line::new(
        [(30.0, 100.0), (28.0, 85.0), (14.0, 80.0), (0.0, 80.0)]
            .map(Point::from)
            .to_vec(),
    )
    .unwrap();
    let half = piece(vec![
        Edge::finished(
            "hem",
            Line::straight(Point::new(0.0, 0.0), Point::new(60.0, 4.0)),
            Finish::Hem {
                width: Some(Mm(10.0)),
                turns: 1,
            },
        ),
        Edge::seam(
            "side",
            Line::straight(Point::new(60.0, 4.0), Point::new(60.0, 100.0)),
        ),
        Edge::seam(
            "shoulder",
            Line::straight(Point::new(60.0, 100.0), Point::new(30.0, 100.0)),
        ),
        Edge::finished("neckline", neck, Finish::Facing),
        Edge::finished(
            "centre front",
            Line::straight(Point::new(0.0, 80.0), Point::new(0.0, 0.0)),
            Finish::Fold,
        ),
    ]);
    let cut = cut_line(&half, &plan(6.0));
    assert_eq!(cut.corners[3].kind, CornerKind::AtFold);
    assert_eq!(cut.corners[4].kind, CornerKind::AtFold);
    let bounds = cut.path().bounding_box();
    assert!(
        bounds.x0.abs() < 1e-9,
        "nothing lies beyond the fold: {bounds:?}"
    );
    assert!(
        has_corner(&cut, (0.0, 86.0)),
        "the neckline's cut line comes to the fold: {:?}",
        corner_points(&cut)
    );
    let at_fold = cut
        .chain
        .iter()
        .find(|c| (c.p3 - Point::new(0.0, 86.0)).hypot() < 1e-6)
        .unwrap();
    let along = crate::geometry::curve::direction_on(at_fold, 1.0);
    assert!(
        along.y.abs() < 1e-3,
        "square to the fold, so smooth when opened out: {along:?}"
    );
    // the hem is not square to the fold: its lower line is cut exactly by it, 10 mm below measured across the hem
    let slope = Vec2::new(60.0, 4.0);
    assert!(has_corner(&cut, (0.0, -10.0 * slope.hypot() / 60.0)));
}

/// A waist dart in the middle of a 100 mm top edge: mouth 12 mm wide, 40 mm deep, neighbours falling to the dart.
fn darted(pressed: DartPress) -> Piece {
    let mut p = straight_piece(
        &[
            (0.0, 0.0),
            (100.0, 0.0),
            (100.0, 60.0),
            (56.0, 57.0),
            (50.0, 20.0),
            (44.0, 57.5),
            (0.0, 60.0),
        ],
        &[Finish::Seam],
    );
    p.darts.push(Dart {
        name: "waist dart".into(),
        leg_in: "3".into(),
        leg_out: "4".into(),
        pressed,
    });
    p
}

#[test]
fn a_sewn_and_pressed_dart_ends_in_the_cut_line() {
    for pressed in [DartPress::Before, DartPress::After] {
        let cut = cut_line(&darted(pressed), &plan(6.0));
        assert!(cut.corners.iter().any(|c| c.kind == CornerKind::DartCap));
        let apex = Point::new(50.0, 20.0);
        let (mouth_before, mouth_after) = (Point::new(56.0, 57.0), Point::new(44.0, 57.5));
        let middle = apex + cut::middle_of(apex, mouth_before, mouth_after);
        let (leg, edge) = match pressed {
            DartPress::Before => (
                mouth_before,
                (Point::new(100.0, 60.0), Point::new(56.0, 57.0)),
            ),
            DartPress::After => (mouth_after, (Point::new(44.0, 57.5), Point::new(0.0, 60.0))),
        };
        // the two halves of the dart's cloth, folded as it is pressed
        let over_middle = Affine::reflect(apex, middle - apex);
        let over_leg = Affine::reflect(apex, leg - apex);
        let on_leg_side =
            |p: Point| (middle - apex).cross(p - apex) * (middle - apex).cross(leg - apex) >= 0.0;
        let edge_dir = (edge.1 - edge.0) / (edge.1 - edge.0).hypot();
        let mut seen = 0;
        for c in &cut.chain {
            for p in (1..10).map(|i| c.eval(f64::from(i) / 10.0)) {
                let between_legs = (mouth_before - apex).cross(p - apex) > 1e-6
                    && (p - apex).cross(mouth_after - apex) > 1e-6
                    && p.y > 40.0;
                if !between_legs {
                    continue;
                }
                let folded = over_leg * (if on_leg_side(p) { p } else { over_middle * p });
                let off = (folded - edge.0).dot(right_of(edge_dir)) - 6.0;
                // along the legs' straight continuation the two edges may differ: only the cap itself is looked at
                if (c.p3 - c.p0)
                    .normalize()
                    .cross((p - apex).normalize())
                    .abs()
                    < 1e-6
                {
                    continue;
                }
                assert!(
                    off.abs() < 1e-6,
                    "{p:?} folded to {folded:?}: {off} mm off, {pressed:?}"
                );
                seen += 1;
            }
        }
        assert!(seen >= 18, "both halves were looked at: {seen}");
        assert!(self_crossings(&cut.chain).is_empty());
    }
}

#[test]
fn a_hollow_tighter_than_its_allowance_keeps_only_what_lies_at_full_distance() {
    // a U-shaped hollow of radius 4 in the top edge, allowance 6
    let k = 0.552_284_75 * 4.0;
    let u = vec![
        CubicBez::new(
            (44.0, 50.0),
            (44.0, 50.0 - k),
            (40.0 + k, 46.0),
            (40.0, 46.0),
        ),
        CubicBez::new(
            (40.0, 46.0),
            (40.0 - k, 46.0),
            (36.0, 50.0 - k),
            (36.0, 50.0),
        ),
    ];
    let hollow = piece(vec![
        Edge::seam(
            "bottom",
            Line::straight(Point::new(0.0, 0.0), Point::new(80.0, 0.0)),
        ),
        Edge::seam(
            "right",
            Line::straight(Point::new(80.0, 0.0), Point::new(80.0, 50.0)),
        ),
        Edge::seam(
            "top right",
            Line::straight(Point::new(80.0, 50.0), Point::new(44.0, 50.0)),
        ),
        Edge::seam("hollow", Line::from_cubics(&u).unwrap()),
        Edge::seam(
            "top left",
            Line::straight(Point::new(36.0, 50.0), Point::new(0.0, 50.0)),
        ),
        Edge::seam(
            "left",
            Line::straight(Point::new(0.0, 50.0), Point::new(0.0, 0.0)),
        ),
    ]);
    let cut = cut_line(&hollow, &plan(6.0));
    assert!(self_crossings(&cut.chain).is_empty());
    let stitch = hollow.outline.path();
    for c in &cut.chain {
        for p in (0..10).map(|i| c.eval(f64::from(i) / 10.0)) {
            assert!(distance(&stitch, p) > 6.0 - 2.0 * FIT, "{p:?}");
        }
    }
}

#[test]
fn an_allowance_drawn_in_comes_off_to_the_stitch_line() {
    let mut widths = BTreeMap::new();
    for (edge, width) in [("0", 10.0), ("1", 4.0), ("3", 5.0)] {
        widths.insert(EdgeRef::new("piece", edge), Mm(width));
    }
    let mut drawn = straight_piece(
        &[(-5.0, -10.0), (84.0, -10.0), (84.0, 50.0), (-5.0, 50.0)],
        &[Finish::Seam],
    );
    drawn.notches.push(crate::notch::Notch {
        edge: "0".into(),
        fraction: 45.0 / 89.0,
        kind: crate::notch::NotchKind::Single,
    });
    let stitch = without_allowance(&drawn, &widths).unwrap();
    let bounds = stitch.outline.bounds();
    for (got, wanted) in [
        (bounds.x0, 0.0),
        (bounds.y0, 0.0),
        (bounds.x1, 80.0),
        (bounds.y1, 50.0),
    ] {
        assert!((got - wanted).abs() < 1e-9, "{bounds:?}");
    }
    assert!(
        (stitch.notches[0].fraction - 0.5).abs() < 1e-6,
        "the notch stays at x = 40"
    );
    let names: Vec<_> = stitch
        .outline
        .edges()
        .iter()
        .map(|e| e.name.as_str())
        .collect();
    assert_eq!(names, ["0", "1", "2", "3"]);
}

#[test]
fn an_allowance_that_cannot_come_off_is_refused_in_the_makers_words() {
    let strip = straight_piece(
        &[(0.0, 0.0), (60.0, 0.0), (60.0, 8.0), (0.0, 8.0)],
        &[Finish::Seam],
    );
    let all = |width: f64| {
        strip
            .outline
            .edges()
            .iter()
            .map(|e| (EdgeRef::new("piece", &e.name), Mm(width)))
            .collect::<BTreeMap<_, _>>()
    };
    let error = without_allowance(&strip, &all(5.0)).unwrap_err();
    insta::assert_snapshot!(error.to_string(), @"piece, 1: nothing is left of this edge when 5.0 mm are taken off here and at its neighbours; give less, or take the allowance off by hand");
    let error = without_allowance(
        &strip,
        &BTreeMap::from([(EdgeRef::new("piece", "cuff"), Mm(5.0))]),
    )
    .unwrap_err();
    insta::assert_snapshot!(error.to_string(), @"piece, cuff: there is no such edge to take an allowance off; check the name");
    assert!(matches!(
        without_allowance(&strip, &all(-1.0)),
        Err(AllowanceError::BadWidth { .. })
    ));
    let disc = piece(vec![Edge::seam(
        "rim",
        Line::from_cubics(&circle(4.0, false)).unwrap(),
    )]);
    let error = without_allowance(
        &disc,
        &BTreeMap::from([(EdgeRef::new("piece", "rim"), Mm(5.0))]),
    )
    .unwrap_err();
    assert!(matches!(error, AllowanceError::TooTight { .. }), "{error}");
}

#[test]
fn a_disc_without_its_allowance_is_the_smaller_disc() {
    let disc = piece(vec![Edge::seam(
        "rim",
        Line::from_cubics(&circle(40.0, false)).unwrap(),
    )]);
    let stitch = without_allowance(
        &disc,
        &BTreeMap::from([(EdgeRef::new("piece", "rim"), Mm(6.0))]),
    )
    .unwrap();
    let truth = std::f64::consts::PI * 34.0 * 34.0;
    assert!((stitch.outline.area() / truth - 1.0).abs() < 1e-3);
}

/// Corners of an outline that is seen from its middle in every direction: no crossing of its own.
fn star() -> impl Strategy<Value = Vec<(f64, f64)>> {
    prop::collection::vec((0.3..1.0f64, 0.2..0.8f64), 4..12).prop_map(|list| {
        let n = list.len() as f64;
        list.iter()
            .enumerate()
            .map(|(i, (r, shift))| {
                let angle = (i as f64 + shift) / n * std::f64::consts::TAU;
                (120.0 * r * angle.cos(), 120.0 * r * angle.sin())
            })
            .collect()
    })
}

fn any_finish() -> impl Strategy<Value = Finish> {
    prop_oneof![
        3 => Just(Finish::Seam),
        1 => Just(Finish::Facing),
        1 => Just(Finish::Raw),
        1 => Just(Finish::Selvedge),
        2 => (2.0..15.0f64, 1..3u8).prop_map(|(w, turns)| Finish::Hem { width: Some(Mm(w)), turns }),
        1 => (2.0..12.0f64).prop_map(|w| Finish::Casing { width: Mm(w) }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_finishes_give_one_simple_closed_cut_line(corners in star(), finishes in prop::collection::vec(any_finish(), 12), seam in 0.0..12.0f64) {
        let p = straight_piece(&corners, &finishes);
        let cut = cut_line(&p, &plan(seam));
        prop_assert!(!cut.chain.is_empty());
        prop_assert!(self_crossings(&cut.chain).is_empty(), "{:?}", self_crossings(&cut.chain));
        for pair in cut.chain.windows(2) {
            prop_assert!((pair[0].p3 - pair[1].p0).hypot() < 1e-6);
        }
        prop_assert!((cut.chain.last().unwrap().p3 - cut.chain[0].p0).hypot() < 1e-6);
        prop_assert!(cut.path().area() > 0.0);
    }

    #[test]
    fn seams_of_one_width_lie_at_full_distance_everywhere(corners in star(), seam in 0.5..12.0f64) {
        let p = straight_piece(&corners, &[Finish::Seam]);
        let cut = cut_line(&p, &plan(seam));
        let stitch = p.outline.path();
        for c in &cut.chain {
            for q in (0..8).map(|i| c.eval(f64::from(i) / 8.0)) {
                let d = distance(&stitch, q);
                prop_assert!(d > seam - 1e-6, "{d} at {q:?}");
                prop_assert!(d < 10.0_f64.sqrt() * seam + 1e-6, "{d} at {q:?}: beyond the corner limit");
            }
        }
    }

    #[test]
    fn taking_an_allowance_off_and_putting_it_on_again_changes_nothing(corners in star(), width in 0.5..4.0f64) {
        let drawn = straight_piece(&corners, &[Finish::Seam]);
        let widths: BTreeMap<_, _> = drawn.outline.edges().iter().map(|e| (EdgeRef::new("piece", &e.name), Mm(width))).collect();
        let Ok(stitch) = without_allowance(&drawn, &widths) else { return Ok(()) };
        let cut = cut_line(&stitch, &AllowancePlan { corner_limit: 1e3, ..plan(width) });
        let there_and_back = (cut.path().area() - drawn.outline.area()).abs();
        prop_assert!(there_and_back < 1e-6 * drawn.outline.area(), "{there_and_back} mm2");
    }

    #[test]
    fn bowed_edges_folds_and_darts_give_one_simple_closed_cut_line(
        corners in star(),
        bows in prop::collection::vec((-0.6..0.6f64, -0.6..0.6f64), 12),
        finishes in prop::collection::vec(any_finish(), 12),
        fold in 0..12usize,
        dart in 0..12usize,
        pressed in prop_oneof![Just(DartPress::Before), Just(DartPress::After)],
    ) {
        let n = corners.len();
        let edges: Vec<Edge> = (0..n)
            .map(|i| {
                let (a, b) = (Point::from(corners[i]), Point::from(corners[(i + 1) % n]));
                let third = (b - a) / 3.0;
                let side = right_of(third);
                if fold == i {
                    return Edge::finished(i.to_string(), Line::straight(a, b), Finish::Fold);
                }
                let line = Line::new(vec![a, a + third + side * bows[i].0, b - third + side * bows[i].1, b]).unwrap();
                Edge::finished(i.to_string(), line, finishes[i])
            })
            .collect();
        let Ok(outline) = Outline::new(edges) else { return Ok(()) };
        let mut p = piece(outline.edges().to_vec());
        if dart + 1 < n {
            p.darts.push(Dart { name: "dart".into(), leg_in: dart.to_string(), leg_out: (dart + 1).to_string(), pressed });
        }
        let cut = cut_line(&p, &plan(6.0));
        prop_assert!(!cut.chain.is_empty());
        prop_assert!(cut.path().area() > 0.0);
        let stitch: Vec<CubicBez> = p.outline.edges().iter().flat_map(|e| e.line.cubics()).collect();
        if self_crossings(&stitch).is_empty() {
            prop_assert!(self_crossings(&cut.chain).is_empty(), "{:?}", self_crossings(&cut.chain));
        }
    }
}
