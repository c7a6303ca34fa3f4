//! Cut lines of shapes whose answer is known without the code.

use super::*;

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
        assert_eq!(strips(finish, plan, &edge, None), wanted, "{finish:?}")
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
    // A width that came with the piece comes before the fitting's one width, after what the fitting says of the edge.
    let own = |plan: &AllowancePlan, finish| strips(finish, plan, &edge, Some(Mm(4.0)));
    assert_eq!(own(&plan, Finish::Seam), [4.0]);
    assert_eq!(own(&plan, hem(None, 1)), [8.0], "a hem has its own");
    plan.single.insert(edge.clone(), Mm(3.0));
    check(&plan, Finish::Seam, &[3.0]);
    assert_eq!(strips(Finish::Seam, &plan, &edge, Some(Mm(4.0))), [3.0]);
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
fn allowances_begin_at_the_size_of_the_body() {
    let plan = |kind, height| {
        let body =
            Body::new("somebody", kind).with(Measure::Height, Measured::own_tape(Mm(height)));
        let plan = AllowancePlan::for_body(&body);
        (plan.seam.0, plan.hem.0)
    };
    assert_eq!(plan(BodyKind::Woman, 1630.0), (15.0, 30.0));
    assert_eq!(plan(BodyKind::Child, 1140.0), (15.0, 30.0));
    assert_eq!(plan(BodyKind::Doll, 457.0), (6.35, 8.0));
    assert_eq!(plan(BodyKind::Doll, 292.0), (4.8, 6.0));
    assert_eq!(plan(BodyKind::Doll, 145.0), (3.2, 3.2));
}
