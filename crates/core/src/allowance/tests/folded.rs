//! Hems, folds and darts: folded by numbers, the cloth has to end where it should.

use super::*;

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

/// The right side of a rectangle of 100 x 60, its lower 15 mm finished otherwise.
fn opened_below(finish: Finish) -> Piece {
    let corners = [(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)].map(Point::from);
    let mut edges: Vec<Edge> = (0..4)
        .map(|i| {
            Edge::seam(
                i.to_string(),
                Line::straight(corners[i], corners[(i + 1) % 4]),
            )
        })
        .collect();
    let stretch = |from, to, finish| FinishStretch { from, to, finish };
    edges[1].finish = vec![stretch(0.0, 0.25, finish), stretch(0.25, 1.0, Finish::Seam)];
    piece(edges)
}

#[test]
fn a_slit_and_a_gap_left_open_keep_the_cut_line_straight_past_their_notch() {
    for finish in [Finish::Slit, Finish::Open] {
        let cut = cut_line(&opened_below(finish), &plan(5.0));
        assert!(
            (cut.path().area() - 110.0 * 70.0).abs() < 1e-9,
            "{finish:?}: {}",
            cut.path().area()
        );
    }
    let run = cut_line(&opened_below(Finish::Slit), &plan(5.0)).runs[1].clone();
    assert_eq!(
        (run.finish, run.strips),
        (Finish::Slit, vec![2.5, 2.5]),
        "turned in twice inside one allowance"
    );
}

#[test]
fn a_placket_takes_its_width_and_a_turn_in() {
    let cut = cut_line(
        &opened_below(Finish::Placket { width: Mm(9.0) }),
        &plan(5.0),
    );
    assert!((cut.path().bounding_box().x1 - 114.0).abs() < 1e-9);
    assert!(
        has_corner(&cut, (105.0, 15.0)),
        "from the notch on it is a seam again: {:?}",
        corner_points(&cut)
    );
}
