//! Laws: what is enough passes, what is less does not, more never harms.

use proptest::prelude::*;

use super::*;

fn passing() -> impl Strategy<Value = Passing> {
    prop_oneof![
        Just(Passing::Head),
        Just(Passing::Hand),
        Just(Passing::Foot),
        Just(Passing::Trunk)
    ]
}

fn passage(passes: Passing, hole: f64, slit: f64, girth: f64) -> Passage {
    looked_at(on(
        with_opening(passes, hole, slit),
        &figures(passes, girth),
    ))
    .passages[0]
        .clone()
}

proptest! {
    #[test]
    fn a_slit_of_the_needed_length_passes_and_a_shorter_one_never(
        passes in passing(),
        hole in 20.0..400.0_f64,
        girth in 20.0..700.0_f64,
        less in 0.06..20.0_f64,
    ) {
        for way in [Way::OverHead, Way::FeetFirst] {
            let needed = passage(passes, hole, 0.0, girth).slit_needed(way, HeadDress::Wig).0;
            prop_assert!(passage(passes, hole, needed, girth).lets_in(way, HeadDress::Wig));
            if needed - less > 0.0 {
                prop_assert!(!passage(passes, hole, needed - less, girth).lets_in(way, HeadDress::Wig));
            }
        }
    }

    #[test]
    fn a_longer_slit_or_a_wider_hole_never_makes_it_tighter(
        passes in passing(),
        hole in 20.0..400.0_f64,
        slit in 1.0..100.0_f64,
        girth in 20.0..700.0_f64,
        more in 0.0..50.0_f64,
    ) {
        let margins = |hole, slit| {
            let passage = passage(passes, hole, slit, girth);
            passage.needs.iter().map(|need| need.margin.0).collect::<Vec<f64>>()
        };
        let before = margins(hole, slit);
        for (now, by) in [(margins(hole, slit + more), 2.0 * more), (margins(hole + more, slit), more)] {
            for (before, now) in before.iter().zip(now) {
                prop_assert!((now - before - by).abs() < 1e-6);
            }
        }
    }

    #[test]
    fn a_band_brought_back_to_the_front_takes_half_a_girth_more(
        girth in 10.0..900.0_f64,
        bow in 0.0..300.0_f64,
        covered in 0.0..1.0_f64,
    ) {
        let (behind, returned) = (band_behind(Mm(girth), Mm(bow)).0, band_returned(Mm(girth), Mm(bow)).0);
        prop_assert!((returned - behind - girth / 2.0).abs() < 1e-9);
        // Both parts and the half that the garment covers make the girth and two bows.
        prop_assert!((2.0 * behind + girth / 2.0 - girth - 2.0 * bow).abs() < 1e-9);
        prop_assert!((sash(Mm(girth), 1, Mm(bow)).0 - girth - 2.0 * bow).abs() < 1e-9);
        // A kerchief folded corner to corner, there and back.
        let side = Mm(girth * covered + 1.0);
        prop_assert!((kerchief_side(kerchief_long_edge(side)).0 - side.0).abs() < 1e-9);
    }

    #[test]
    fn cloth_under_a_sleeve_never_makes_the_arm_thinner_and_fuller_is_thicker(
        arm in 10.0..400.0_f64,
        thickness in 0.0..3.0_f64,
        fullness in 0.0..4.0_f64,
        more in 0.0..2.0_f64,
    ) {
        let girth = |fullness| undersleeve_girth(Mm(arm), Mm(thickness), fullness).0;
        prop_assert!(girth(fullness) >= arm - 1e-9);
        prop_assert!(girth(fullness + more) >= girth(fullness) - 1e-9);
        // The section grows by just the cloth's.
        let area = |g: f64| g * g / (4.0 * std::f64::consts::PI);
        prop_assert!((area(girth(fullness)) - area(arm) - fullness * arm * thickness).abs() < 1e-6);
    }

    #[test]
    fn hooks_need_the_least_overlap_and_hook_and_loop_the_most_on_every_body(
        height in 80.0..2000.0_f64,
        slit in 5.0..500.0_f64,
        overlap in 0.0..30.0_f64,
    ) {
        use crate::closure::Closure;
        let doll = doll("doll").with(Measure::Height, Measured::own_tape(Mm(height)));
        let list = closures_for(&doll, Mm(slit), Mm(overlap));
        let of = |wanted: fn(&Closure) -> bool| list.iter().find(|s| wanted(&s.closure)).map(|s| s.overlap.0);
        let least = list.iter().map(|s| s.overlap.0).fold(f64::INFINITY, f64::min);
        let most = list.iter().map(|s| s.overlap.0).fold(0.0, f64::max);
        prop_assert_eq!(of(|c| matches!(c, Closure::Hooks)), Some(least));
        if let Some(tape) = of(|c| matches!(c, Closure::HookAndLoop { .. })) {
            prop_assert_eq!(tape, most);
        }
        // What fits comes first, and something always does.
        prop_assert!(list[0].fits);
        prop_assert!(list.windows(2).all(|pair| pair[0].fits >= pair[1].fits));
        prop_assert!(list.iter().all(|s| s.fits == (s.overlap.0 <= overlap + crate::tolerance::DRAWING.0)));
        prop_assert!(list.iter().all(|s| s.count >= 1));
        let worked = list.iter().filter_map(|s| match s.closure {
            Closure::Buttons { diameter } => Some(diameter.0),
            _ => None,
        });
        prop_assert!(worked.into_iter().all(|d| d >= SMALLEST_WORKED_BUTTON.0));
    }
}
