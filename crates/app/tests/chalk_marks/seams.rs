//! Seams in the list, walked, trued.

use egui::Key;
use petitoile::session::On;
use petitoile_core::Mm;
use petitoile_core::joins::Join;
use petitoile_core::seams::{Relation, Seam, SeamKind};

use crate::bench::{BOTH, Bench, near};

fn seam(bench: &Bench, name: &str) -> Option<Seam> {
    let garment = bench.garment();
    garment.seams.iter().find(|s| s.name == name).cloned()
}

#[test]
fn the_list_tells_lengths_and_ease_and_a_seam_is_renamed_set_and_unpicked() {
    for on in BOTH {
        let mut bench = Bench::of("harbour-jacket", on);
        bench.take("Seam list", "sleeve");
        let at = bench.on_edge("sleeve", "cap front", 0.4);
        bench.click(at);
        assert!(
            bench.shows("sleeve into front armscye: fits"),
            "{:?} {:?} {}",
            bench.labels("armscye"),
            bench.0.state().session.chosen,
            bench.message()
        );
        assert!(
            bench.shows("Ease: the first side is"),
            "where the ease lies"
        );
        bench.type_over("Name of the seam", "front of the sleeve");
        assert!(
            seam(&bench, "front of the sleeve").is_some(),
            "{}",
            bench.message()
        );
        assert!(
            bench.last_step().contains("front of the sleeve"),
            "{}",
            bench.last_step()
        );
        bench.press("First side: equal");
        let now = seam(&bench, "front of the sleeve").unwrap();
        assert_eq!(now.relation, Relation::Equal);
        assert!(
            bench.shows("too long"),
            "the cap is longer than the armscye"
        );
        bench.pick("Kind of seam", "felled");
        assert_eq!(
            seam(&bench, "front of the sleeve").unwrap().kind,
            SeamKind::Felled
        );
        bench.press("Unpick this seam");
        assert_eq!(seam(&bench, "front of the sleeve"), None);
        assert_eq!(bench.steps(), 4);
        bench.undo();
        assert!(seam(&bench, "front of the sleeve").is_some());
    }
}

#[test]
fn a_seam_is_walked_by_keys_and_buttons_and_stops_at_its_notch() {
    for on in BOTH {
        let mut bench = Bench::of("sunday-skirts", on);
        bench.take("Walk", "front");
        let at = bench.on_edge("front", "front seam", 0.3);
        bench.click(at);
        assert!(
            bench.shows("Walked 0 mm along front seam"),
            "a handle where it starts"
        );
        bench.key(Key::ArrowRight);
        assert!(bench.shows("Walked 1 mm along front seam"));
        bench.press("Next stop");
        assert!(bench.shows("Single notch on the first side"));
        assert!(bench.shows("difference so far +0 mm"));
        let walked = bench.handle("Walked");
        let notch = bench.on_edge("front", "front seam", 0.5);
        assert!((walked - notch).length() < 1.0, "{walked} {notch}");
        let further = bench.on_edge("front", "front seam", 0.8);
        bench.drag(walked, further);
        assert!((bench.handle("Walked") - further).length() < 2.0);
        bench.press("Stop before");
        assert!((bench.handle("Walked") - notch).length() < 1.0);
        bench.press("Next stop");
        assert!(bench.shows("The seam ends"));
        assert_eq!(bench.steps(), 0, "walking changes nothing");
        bench.key(Key::Escape);
    }
}

#[test]
fn walking_on_by_itself_stops_at_the_next_notch() {
    let mut bench = Bench::of("sunday-skirts", On::Fitting);
    bench.take("Walk", "front");
    let at = bench.on_edge("front", "front seam", 0.3);
    bench.click(at);
    bench.press_only("Walk on");
    bench.0.run_steps(1200);
    let notch = bench.on_edge("front", "front seam", 0.5);
    assert!((bench.handle("Walked") - notch).length() < 1.0);
}

#[test]
fn an_eased_seam_is_walked_from_notch_to_notch_and_tells_the_difference() {
    let mut bench = Bench::of("harbour-jacket", On::Fitting);
    bench.take("Walk", "sleeve");
    bench.pick("Seam", "sleeve into front armscye");
    let off = {
        let garment = bench.garment();
        let seam = seam(&bench, "sleeve into front armscye").unwrap();
        let length = |side| petitoile_core::seams::side_length(side, &garment.pieces).unwrap();
        length(&seam.a).0 - length(&seam.b).0
    };
    bench.press("Walk by: notch to notch");
    for _ in 0..12 {
        bench.press("Next stop");
    }
    let told = format!("difference so far +{:.1} mm", off);
    assert!(bench.shows(told.trim_end_matches(".0 mm")), "{told}");
}

#[test]
fn a_hem_that_dips_at_its_seam_is_trued_in_one_click() {
    for on in BOTH {
        let mut bench = Bench::of("sunday-skirts", on);
        bench.take("True", "side");
        let untrue = |bench: &Bench| {
            let garment = bench.garment();
            let found = petitoile_core::joins::joins(&garment);
            found
                .into_iter()
                .filter(Join::needs_truing)
                .collect::<Vec<_>>()
        };
        let before = untrue(&bench);
        let Some(first) = before.first().cloned() else {
            panic!("{on:?}: every join of the demo is true; choose another");
        };
        let begins = format!("{}, {}:", first.seam, first.a.run_edge);
        bench.press_begins(&begins);
        bench.press("True this join");
        assert_eq!(bench.steps(), 1, "{}", bench.message());
        assert!(!bench.message().is_empty(), "what moved is told");
        let same = |join: &Join| join.seam == first.seam && join.at_start == first.at_start;
        assert!(!untrue(&bench).iter().any(same), "{on:?} {begins}");
        bench.undo();
        assert_eq!(untrue(&bench), before);
    }
}

#[test]
fn ease_is_typed_in_the_makers_unit() {
    let mut bench = Bench::of("harbour-jacket", On::Garment);
    bench.take("Seam list", "sleeve");
    let at = bench.on_edge("sleeve", "cap back", 0.4);
    bench.click(at);
    bench.type_over("Eased by", "1/2 in");
    let now = seam(&bench, "sleeve into back armscye").unwrap();
    let Relation::Eased(Mm(by)) = now.relation else {
        panic!("{:?}", now.relation);
    };
    assert!(near(by, 12.7));
}
