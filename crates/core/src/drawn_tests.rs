#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use super::*;
use proptest::prelude::*;

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn names(outline: &Outline) -> Vec<&str> {
    outline.edges().iter().map(|e| e.name.as_str()).collect()
}

#[test]
fn corners_are_joined_by_straight_edges_named_after_their_side() {
    for turned in [false, true] {
        let mut corners = vec![p(0.0, 0.0), p(60.0, 0.0), p(60.0, 90.0), p(0.0, 90.0)];
        if turned {
            corners.reverse();
        }
        let points: Vec<DrawnPoint> = corners.into_iter().map(DrawnPoint::corner).collect();
        let drawn = outline(&points, false).unwrap();
        let mut found = names(&drawn);
        found.sort_unstable();
        assert_eq!(found, ["bottom", "left side", "right side", "top"]);
        assert!((drawn.area() - 5400.0).abs() < 1e-9);
        assert!(drawn.edge("top").unwrap().line.start().y == 90.0);
    }
}

#[test]
fn several_edges_on_one_side_are_numbered_and_own_names_stay() {
    let mut points: Vec<DrawnPoint> = [
        (0.0, 0.0),
        (60.0, 0.0),
        (60.0, 90.0),
        (40.0, 95.0),
        (20.0, 80.0),
        (0.0, 90.0),
    ]
    .map(|at| DrawnPoint::corner(at.into()))
    .to_vec();
    points[1].name = Some("hem".to_owned());
    points[4].name = Some("hem".to_owned());
    let drawn = outline(&points, false).unwrap();
    assert_eq!(
        names(&drawn),
        ["hem", "right side", "top 1", "hem 2", "top 2", "left side"]
    );
}

#[test]
fn the_line_runs_smoothly_through_a_pulled_point_and_makes_no_corner_of_it() {
    let points = [
        DrawnPoint::corner(p(0.0, 0.0)),
        DrawnPoint::pulled(p(50.0, 30.0), Vec2::new(20.0, 0.0)),
        DrawnPoint::corner(p(100.0, 0.0)),
    ];
    let drawn = outline(&points, false).unwrap();
    assert_eq!(drawn.edges().len(), 2);
    let line = line(&points).unwrap();
    assert_eq!(line.points()[2], p(30.0, 30.0));
    assert_eq!(line.points()[4], p(70.0, 30.0));
}

#[test]
fn a_pull_on_one_side_only_leaves_a_corner() {
    let mut point = DrawnPoint::pulled(p(0.0, 0.0), Vec2::new(10.0, 0.0));
    assert!(!point.is_corner());
    point.leaves = None;
    assert!(point.is_corner());
    point.leaves = Some(Vec2::new(0.0, 5.0));
    assert!(point.is_corner());
    point.leaves = Some(Vec2::new(3.0, 0.0));
    assert!(!point.is_corner());
}

#[test]
fn points_on_a_smooth_curve_are_joined_by_one_edge() {
    let points = [
        DrawnPoint::corner(p(0.0, 0.0)),
        DrawnPoint::corner(p(90.0, 0.0)),
        DrawnPoint::through(p(80.0, 50.0)),
        DrawnPoint::through(p(45.0, 70.0)),
        DrawnPoint::through(p(10.0, 50.0)),
    ];
    let drawn = outline(&points, false).unwrap();
    assert_eq!(drawn.edges().len(), 2);
    let round = &drawn.edge("top").unwrap().line;
    assert!(
        points[2..]
            .iter()
            .all(|q| round.points().iter().any(|r| (*r - q.at).hypot() < 1e-9))
    );
}

#[test]
fn on_the_fold_the_first_line_is_the_fold_and_nothing_may_lie_beyond() {
    let half = [p(0.0, 0.0), p(0.0, 90.0), p(40.0, 90.0), p(60.0, 0.0)].map(DrawnPoint::corner);
    let drawn = outline(&half, true).unwrap();
    let fold = drawn.edge("fold").unwrap();
    assert!(fold.is_fold() && fold.line.is_straight() && fold.line.length() == 90.0);
    let over = [p(0.0, 0.0), p(0.0, 90.0), p(40.0, 90.0), p(-7.0, -30.0)].map(DrawnPoint::corner);
    assert_eq!(outline(&over, true), Err(DrawnError::OverFold { by: 7.0 }));
    let mut bent = half.clone();
    bent[0].leaves = Some(Vec2::new(-20.0, 10.0));
    assert_eq!(outline(&bent, true), Err(DrawnError::BentFold));
}

#[test]
fn what_holds_no_cloth_or_crosses_itself_is_refused() {
    let one = [DrawnPoint::corner(p(0.0, 0.0))];
    assert_eq!(outline(&one, false), Err(DrawnError::TooFew));
    assert_eq!(outline(&[], false), Err(DrawnError::TooFew));
    let flat = [p(0.0, 0.0), p(50.0, 0.0), p(100.0, 0.0)].map(DrawnPoint::corner);
    assert_eq!(outline(&flat, false), Err(DrawnError::TooFew));
    let bow = [p(0.0, 0.0), p(60.0, 60.0), p(60.0, 0.0), p(0.0, 50.0)].map(DrawnPoint::corner);
    assert!(matches!(
        outline(&bow, false),
        Err(DrawnError::Crosses { .. })
    ));
}

#[test]
fn a_closed_line_without_any_corner_is_one_edge() {
    let pull = 0.5523 * 40.0;
    let round = [
        DrawnPoint::pulled(p(40.0, 0.0), Vec2::new(0.0, pull)),
        DrawnPoint::pulled(p(0.0, 40.0), Vec2::new(-pull, 0.0)),
        DrawnPoint::pulled(p(-40.0, 0.0), Vec2::new(0.0, -pull)),
        DrawnPoint::pulled(p(0.0, -40.0), Vec2::new(pull, 0.0)),
    ];
    let drawn = outline(&round, false).unwrap();
    assert_eq!(names(&drawn), ["edge"]);
    assert!((drawn.area() / (std::f64::consts::PI * 1600.0) - 1.0).abs() < 1e-3);
}

fn any_point() -> impl Strategy<Value = DrawnPoint> {
    let place = (-300.0..300.0_f64, -300.0..300.0_f64);
    let pull = prop::option::of((-90.0..90.0_f64, -90.0..90.0_f64));
    (place, pull.clone(), pull, 0..3_u8).prop_map(|(at, a, b, kind)| match kind {
        0 => DrawnPoint::through(at.into()),
        1 => DrawnPoint::pulled(at.into(), a.unwrap_or((10.0, 0.0)).into()),
        _ => DrawnPoint {
            arrives: a.map(Vec2::from),
            leaves: b.map(Vec2::from),
            ..DrawnPoint::corner(at.into())
        },
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]
    /// Whatever is drawn: an outline that is closed, does not cross itself and has a name for every edge, or a reason.
    #[test]
    fn anything_drawn_gives_a_sound_outline_or_a_reason(
        points in prop::collection::vec(any_point(), 0..9), on_fold in any::<bool>(),
    ) {
        if let Ok(drawn) = outline(&points, on_fold) {
            prop_assert!(drawn.area() > 0.0);
            prop_assert!(crosses_itself(&drawn).is_none());
            let named = |e: &Edge| !e.name.is_empty() && !e.name.contains('\u{0}');
            prop_assert!(drawn.edges().iter().all(named));
            prop_assert_eq!(drawn.edges().iter().filter(|e| e.is_fold()).count(), usize::from(on_fold));
        }
    }
}
