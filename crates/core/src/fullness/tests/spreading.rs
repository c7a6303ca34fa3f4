//! Cloth let in between, evenly or hinged.

use super::*;
use crate::edit::Edit;

/// Largest and smallest distance of a line from a point.
fn radii(line: &Line, centre: Point) -> (f64, f64) {
    let distances = line
        .cubics()
        .flat_map(|c| (0..=16).map(move |i| (c.eval(f64::from(i) / 16.0) - centre).hypot()));
    distances.fold((f64::INFINITY, 0.0), |(low, high), d| {
        (low.min(d), f64::max(high, d))
    })
}

#[test]
fn a_gathered_strip_is_cut_twice_as_long_and_stays_a_rectangle() {
    let ruffle = filled_piece(strip(100.0, 20.0, vec![op("waist", DOUBLE, Some("hem"))]));
    assert!(
        (length(&ruffle, "waist") - 200.0).abs() < 1e-6
            && (length(&ruffle, "hem") - 200.0).abs() < 1e-6
    );
    assert!((ruffle.outline.area() - 4000.0).abs() < 1e-6);
    assert!(
        ruffle
            .outline
            .edges()
            .iter()
            .all(|edge| edge.line.is_straight())
    );
}

#[test]
fn a_strip_gathered_at_both_edges_is_not_widened_twice() {
    let both = vec![
        op("waist", DOUBLE, Some("hem")),
        op("hem", DOUBLE, Some("waist")),
    ];
    let Warned {
        outcome: (puff, lines),
        findings,
    } = fill_one(strip(100.0, 20.0, both));
    assert_eq!(findings, Vec::new());
    assert!(
        (length(&puff, "waist") - 200.0).abs() < 1e-6
            && (length(&puff, "hem") - 200.0).abs() < 1e-6
    );
    assert_eq!(
        lines
            .iter()
            .filter(|line| line.kind == FillLineKind::Gather)
            .count(),
        4,
        "two rows at each edge"
    );
}

/// A ruffle folded double is stored as its half: the fold opposite becomes as long as the cloth and stays straight.
#[test]
fn a_ruffle_folded_double_is_widened_along_its_fold() {
    let half = |edges: Vec<(&str, Line)>, even_to| {
        let mut half = piece(edges, vec![op("waist", DOUBLE, even_to)]);
        half.outline = folded_at(&half.outline, "hem");
        half
    };
    let straight = |a: (f64, f64), b: (f64, f64)| Line::straight(a.into(), b.into());
    let sides = |high: f64| {
        vec![
            ("hem", straight((0.0, 0.0), (100.0, 0.0))),
            ("right", straight((100.0, 0.0), (100.0, 20.0))),
            ("waist", straight((100.0, 20.0), (0.0, high))),
            ("left", straight((0.0, high), (0.0, 0.0))),
        ]
    };
    let ruffle = filled_piece(half(sides(20.0), Some("hem")));
    for edge in ["waist", "hem"] {
        assert!((length(&ruffle, edge) - 200.0).abs() < 1e-6, "{edge}");
    }
    let fold = ruffle.fold_edge().unwrap();
    assert!(fold.line.is_straight() && fold.line.direction(0.5).y.abs() < 1e-9);
    assert!((ruffle.outline.area() - 4000.0).abs() < 1e-6);
    // A fold that would turn about its edge, and one that is not parallel, are still refused.
    for (high, even_to) in [(20.0, None), (26.0, Some("hem"))] {
        let findings = fill_one(half(sides(high), even_to)).findings;
        assert_eq!(findings.len(), 1);
        assert!(
            findings[0].what.contains("hem lies on the fold"),
            "{}",
            findings[0]
        );
    }
}

fn folded_at(outline: &Outline, name: &str) -> Outline {
    let edges = outline.edges().iter().map(|edge| {
        if edge.name == name {
            Edge::finished(name, edge.line.clone(), Finish::Fold)
        } else {
            edge.clone()
        }
    });
    Outline::new(edges.collect()).unwrap()
}

/// Closed form: what is folded at one edge of a strip is folded at the other, walked from its other end.
#[test]
fn pleats_sewn_on_at_both_edges_are_the_same_folds_and_are_drawn_once() {
    let pleats = Fullness::KnifePleats {
        count: 5,
        depth: Mm(8.0),
    };
    let upper = FullnessOp {
        layout: Layout {
            margin: Some(Mm(12.0)),
            rest: Rest::End,
            spacing: Some(Mm(15.0)),
            ..Layout::default()
        },
        ..op("waist", pleats, Some("hem"))
    };
    let lower = upper.across().unwrap();
    assert!(upper.is_across_from(&lower) && lower.is_across_from(&upper));
    let (above, below) = (upper.folded(Mm(100.0)), lower.folded(Mm(100.0)));
    let places = |edge: &FoldedEdge| -> Vec<(f64, FillLineKind)> {
        edge.folds().map(|(_, f)| (f.on_cloth.0, f.kind)).collect()
    };
    let mut walked: Vec<_> = places(&below);
    walked.reverse();
    assert_eq!(walked.len(), 15);
    for ((at, kind), (back, same)) in places(&above).into_iter().zip(walked) {
        assert!((at - (180.0 - back)).abs() < 1e-9, "{at} and {back}");
        assert_eq!(kind, same);
    }
    let lines = |ops: Vec<FullnessOp>| {
        let filled = fill_one(strip(100.0, 20.0, ops));
        assert_eq!(filled.findings, Vec::new());
        filled.outcome.1.len()
    };
    let once = lines(vec![upper.clone()]);
    assert_eq!(lines(vec![upper.clone(), lower]), once);
    // Another number of pleats at the other edge is another matter, and drawn.
    let other = FullnessOp {
        fullness: pleats.with_count(4).with_depth(Mm(10.0)),
        ..upper.across().unwrap()
    };
    assert!(lines(vec![upper, other]) > once);
}

/// Rows of stitches lie a third and two thirds into the allowance that the edge really has.
#[test]
fn gathering_rows_lie_in_the_allowance_of_their_own_edge() {
    let mut ruffle = strip(100.0, 20.0, vec![op("waist", DOUBLE, Some("hem"))]);
    let edges = ruffle.outline.edges().iter().cloned();
    let narrow = edges.map(|edge| edge.with_allowance(Some(Mm(3.0))));
    ruffle.outline = Outline::new(narrow.collect()).unwrap();
    let rows = |piece: Piece| -> Vec<f64> {
        let (filled, lines) = fill_one(piece).outcome;
        let top = filled.outline.edge("waist").unwrap().line.at(0.5).y;
        lines.iter().map(|row| row.line.at(0.5).y - top).collect()
    };
    for (got, wanted) in rows(ruffle).into_iter().zip([1.0, 2.0]) {
        assert!((got - wanted).abs() < 1e-6, "{got}");
    }
}

#[test]
fn tucks_and_gathers_on_one_edge_add_up() {
    let tucks = Fullness::Tucks {
        count: 4,
        width: Mm(2.0),
    };
    let yoke = filled_piece(strip(
        100.0,
        50.0,
        vec![
            op("waist", tucks, Some("hem")),
            op("waist", DOUBLE, Some("hem")),
        ],
    ));
    assert!(
        (length(&yoke, "waist") - 216.0).abs() < 1e-6,
        "16 mm in tucks and 100 mm in gathers"
    );
}

/// Closed form: a strip hinged along its hem opens into a ring sector; 50 mm let in over a depth of 50 mm turn it by
/// one radian, so the hem of 100 mm lies on a radius of 100 mm and the waist of 150 mm on one of 150 mm.
#[test]
fn a_hinged_strip_opens_into_a_ring_sector() {
    let flounce = filled_piece(strip(
        100.0,
        50.0,
        vec![op("waist", Fullness::Gathers { ratio: 1.5 }, None)],
    ));
    assert!(
        (length(&flounce, "waist") - 150.0).abs() < 1e-4,
        "{}",
        length(&flounce, "waist")
    );
    assert!(
        (length(&flounce, "hem") - 100.0).abs() < 1e-4,
        "{}",
        length(&flounce, "hem")
    );
    let (right, left) = (
        flounce.outline.edge("right").unwrap(),
        flounce.outline.edge("left").unwrap(),
    );
    let (a, b) = (right.line.start(), left.line.end());
    let (u, v) = (right.line.direction(0.5), -left.line.direction(0.5));
    let centre = a + u * ((b - a).cross(v) / u.cross(v));
    for (edge, radius) in [("hem", 100.0), ("waist", 150.0)] {
        let (low, high) = radii(&flounce.outline.edge(edge).unwrap().line, centre);
        assert!(
            (low - radius).abs() < 2e-3 && (high - radius).abs() < 2e-3,
            "{edge}: {low} to {high}"
        );
    }
    assert!(right.line.is_straight() && left.line.is_straight());
}

/// Closed form: a ring sector widened evenly keeps its angle; each radius grows by growth / angle.
#[test]
fn a_flared_panel_widened_evenly_stays_a_ring_sector() {
    let arc = |radius: f64, from: f64, to: f64| {
        let arc = kurbo::Arc::new((0.0, 0.0), (radius, radius), from, to - from, 0.0);
        let cubics: Vec<_> = kurbo::Shape::path_segments(&arc, 1e-7)
            .map(|s| s.to_cubic())
            .collect();
        Line::from_cubics(&cubics).unwrap()
    };
    let (waist, hem) = (arc(100.0, 2.0, 1.0), arc(300.0, 1.0, 2.0));
    let sides = (
        Line::straight(waist.end(), hem.start()),
        Line::straight(hem.end(), waist.start()),
    );
    let skirt = piece(
        vec![
            ("waist", waist),
            ("right", sides.0),
            ("hem", hem),
            ("left", sides.1),
        ],
        vec![op("waist", Fullness::Gathers { ratio: 1.4 }, Some("hem"))],
    );
    let wider = filled_piece(skirt);
    assert!(
        (length(&wider, "waist") - 140.0).abs() < 1e-4,
        "{}",
        length(&wider, "waist")
    );
    assert!(
        (length(&wider, "hem") - 340.0).abs() < 1e-3,
        "{}",
        length(&wider, "hem")
    );
    let (left, right) = (
        &wider.outline.edge("left").unwrap().line,
        &wider.outline.edge("right").unwrap().line,
    );
    let (u, v) = (left.direction(0.5), right.direction(0.5));
    let centre = left.start() + u * ((right.start() - left.start()).cross(v) / u.cross(v));
    for (edge, radius) in [("waist", 140.0), ("hem", 340.0)] {
        let (low, high) = radii(&wider.outline.edge(edge).unwrap().line, centre);
        assert!(
            (low - radius).abs() < 2e-3 && (high - radius).abs() < 2e-3,
            "{edge}: {low} to {high}"
        );
    }
}

#[test]
fn the_fold_stays_where_it_is_whichever_side_it_lies_on() {
    for (side, even_to) in [
        ("left", None),
        ("right", None),
        ("left", Some("hem")),
        ("right", Some("hem")),
    ] {
        let mut half = strip(80.0, 60.0, vec![op("waist", DOUBLE, even_to)]);
        let edges = half.outline.edges().iter().cloned().map(|mut edge| {
            if edge.name == side {
                edge.finish = vec![FinishStretch {
                    from: 0.0,
                    to: 1.0,
                    finish: Finish::Fold,
                }];
            }
            edge
        });
        half.outline = Outline::new(edges.collect()).unwrap();
        let before = half.outline.edge(side).unwrap().line.clone();
        let after = filled_piece(half);
        let fold = &after.fold_edge().unwrap().line;
        assert!(
            (fold.start() - before.start()).hypot() < 1e-6
                && (fold.end() - before.end()).hypot() < 1e-6,
            "{side}, {even_to:?}"
        );
    }
}

#[test]
fn fullness_on_part_of_an_edge_leaves_the_rest_and_moves_its_notches() {
    let mut front = strip(
        100.0,
        60.0,
        vec![FullnessOp {
            from: 0.25,
            to: 0.75,
            ..op("waist", DOUBLE, Some("hem"))
        }],
    );
    front.notches = [0.1, 0.25, 0.5, 0.75]
        .map(|fraction| Notch {
            edge: "waist".to_owned(),
            fraction,
            kind: NotchKind::Single,
        })
        .to_vec();
    let front = filled_piece(front);
    assert!((length(&front, "waist") - 150.0).abs() < 1e-6);
    // 10, 25, 50 and 75 mm of 100 become 10, 25, 75 and 125 mm of 150.
    for (notch, along) in front.notches.iter().zip([10.0, 25.0, 75.0, 125.0]) {
        assert!(
            (notch.fraction * 150.0 - along).abs() < 1e-6,
            "{notch:?} should lie at {along}"
        );
    }
}

#[test]
fn marks_and_grain_go_along_with_their_ray() {
    let mut front = strip(100.0, 60.0, vec![op("waist", DOUBLE, Some("hem"))]);
    front.marks = vec![Mark {
        name: "pocket".to_owned(),
        kind: MarkKind::Dot(Point::new(75.0, 30.0)),
    }];
    front.grainline = Some((Point::new(50.0, 10.0), Point::new(50.0, 50.0)));
    let front = filled_piece(front);
    let MarkKind::Dot(dot) = front.marks[0].kind else {
        panic!("a dot stays a dot")
    };
    let (a, b) = front.grainline.unwrap();
    assert!(
        (dot.x - a.x - 50.0).abs() < 1e-6 && (dot.y - 30.0).abs() < 1e-6,
        "25 mm beside the middle become 50"
    );
    assert!(
        (a - Point::new(50.0, 10.0)).hypot() < 1e-6 && (b - Point::new(50.0, 50.0)).hypot() < 1e-6,
        "the grain stays put"
    );
}

#[test]
fn fullness_that_cannot_be_spread_is_found_and_can_be_taken_off() {
    let said = |ops: Vec<FullnessOp>| {
        let found = fill_one(strip(100.0, 20.0, ops)).findings;
        assert!(
            matches!(&found[0].remedy, Some(Edit::PutPiece { piece, .. }) if piece.fullness.is_empty())
        );
        found[0].to_string()
    };
    insta::assert_snapshot!(said(vec![op("neck", DOUBLE, None)]), @"Skirt, neck: the fullness cannot be let in: there is no edge called neck. Let in less, spread it even to the opposite edge, or take the fullness off this edge.");
    insta::assert_snapshot!(said(vec![op("waist", Fullness::Gathers { ratio: 3.0 }, None)]), @"Skirt, waist: the fullness cannot be let in: the spread piece would lap over itself near 60, -8 mm. Let in less, spread it even to the opposite edge, or take the fullness off this edge.");
    insta::assert_snapshot!(said(vec![op("waist", Fullness::Gathers { ratio: 0.2 }, None)]), @"Skirt, waist: the fullness cannot be let in: gathers of 0.20 times the finished length need 1 or more. Let in less, spread it even to the opposite edge, or take the fullness off this edge.");
    insta::assert_snapshot!(said(vec![op("waist", DOUBLE, Some("waist"))]), @"Skirt, waist: the fullness cannot be let in: waist cannot lie opposite itself. Let in less, spread it even to the opposite edge, or take the fullness off this edge.");
}

#[test]
fn a_fold_is_never_bent_by_hinging_on_it() {
    let mut half = strip(80.0, 60.0, vec![op("right", DOUBLE, None)]);
    let edges = half.outline.edges().iter().cloned().map(|mut edge| {
        if edge.name == "left" {
            edge.finish = vec![FinishStretch {
                from: 0.0,
                to: 1.0,
                finish: Finish::Fold,
            }];
        }
        edge
    });
    half.outline = Outline::new(edges.collect()).unwrap();
    insta::assert_snapshot!(fill_one(half).findings[0].what, @"the fullness cannot be let in: left lies on the fold of the cloth and would bend.");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn every_spread_gives_the_cloth_length_and_keeps_the_sides(
        lean in -15.0..15.0f64, drop in -10.0..10.0f64, bend in -12.0..12.0f64, dip in -8.0..8.0f64,
        ratio in 1.05..1.7f64, from in 0.0..0.4f64, to in 0.6..1.0f64, hinged in any::<bool>(),
    ) {
        let p = [(0.0, 0.0), (100.0, drop), (100.0 + lean, 70.0), (lean / 2.0, 70.0)].map(Point::from);
        let bent = |a: Point, b: Point, by: f64| Line::new(vec![a, a.lerp(b, 0.3) + (0.0, by), a.lerp(b, 0.7) + (0.0, by / 2.0), b]).unwrap();
        let lines = vec![
            ("hem", bent(p[0], p[1], bend)), ("right", Line::straight(p[1], p[2])),
            ("waist", bent(p[2], p[3], dip)), ("left", Line::straight(p[3], p[0])),
        ];
        let even_to = if hinged { None } else { Some("hem") };
        let before = piece(lines, vec![FullnessOp { from, to, ..op("waist", Fullness::Gathers { ratio }, even_to) }]);
        let after = filled_piece(before.clone());
        let cloth = length(&before, "waist") * (1.0 + (ratio - 1.0) * (to - from));
        prop_assert!((length(&after, "waist") - cloth).abs() < 0.01, "{} against {cloth}", length(&after, "waist"));
        for side in ["left", "right"] {
            prop_assert!((length(&after, side) - length(&before, side)).abs() < 1e-4);
            prop_assert!(after.outline.edge(side).unwrap().line.is_straight());
        }
        if hinged {
            prop_assert!((length(&after, "hem") - length(&before, "hem")).abs() < 0.01);
        }
        prop_assert_eq!(crosses_itself(&after.outline), None);
        prop_assert!(after.outline.area() > before.outline.area());
    }

    #[test]
    fn no_fullness_changes_nothing(bend in -12.0..12.0f64, hinged in any::<bool>()) {
        let line = Line::new(vec![Point::new(100.0, 50.0), Point::new(70.0, 50.0 + bend), Point::new(30.0, 50.0), Point::new(0.0, 50.0)]).unwrap();
        let before = piece(vec![
            ("hem", Line::straight(Point::ORIGIN, Point::new(100.0, 0.0))), ("right", Line::straight(Point::new(100.0, 0.0), line.start())),
            ("left", Line::straight(line.end(), Point::ORIGIN)),
        ].into_iter().take(2).chain([("waist", line.clone()), ("left", Line::straight(line.end(), Point::ORIGIN))]).collect(),
            vec![op("waist", Fullness::Gathers { ratio: 1.0 }, if hinged { None } else { Some("hem") })]);
        let after = filled_piece(before.clone());
        for (a, b) in before.outline.edges().iter().zip(after.outline.edges()) {
            for i in 0..=10 {
                let at = f64::from(i) / 10.0;
                prop_assert!((a.line.at(at) - b.line.at(at)).hypot() < 2e-3);
            }
        }
    }
}

/// Full pleats end at the very end of the edge, where a hinged spread has no cloth behind the last ray.
#[test]
fn full_pleats_hinged_at_the_hem_end_with_their_edge() {
    for count in 1..=5 {
        let depth = Mm(46.2 / f64::from(count) / 2.0);
        for fullness in [
            Fullness::DoubleBoxPleats {
                count,
                depth,
                inverted: false,
            },
            Fullness::DoubleBoxPleats {
                count,
                depth,
                inverted: true,
            },
            Fullness::BoxPleats {
                count,
                depth,
                inverted: true,
            },
        ] {
            let skirt = filled_piece(strip(46.2, 150.0, vec![op("waist", fullness, None)]));
            let cloth = fullness.cloth_length(Mm(46.2)).0;
            assert!(
                (length(&skirt, "waist") - cloth).abs() < 1e-3,
                "{fullness:?}"
            );
        }
    }
}
