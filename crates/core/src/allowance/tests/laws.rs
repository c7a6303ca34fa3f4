//! What holds for every outline, every width and every finish.

use super::*;

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
