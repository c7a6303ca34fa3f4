//! Tools for darts.

use petitoile::session::On;
use petitoile_core::piece::Dart;

use crate::bench::{BOTH, Bench, JACKET, on_both, same};

const TIP: &str = "waist dart of front, tip";

fn dart(bench: &Bench, name: &str) -> Dart {
    let piece = bench.piece("front");
    let dart = piece.darts.iter().find(|dart| dart.name == name);
    dart.unwrap_or_else(|| panic!("no {name}: {}", bench.message()))
        .clone()
}

fn darts(bench: &Bench) -> usize {
    bench.piece("front").darts.len()
}

/// The angle between the legs.
fn angle(bench: &Bench, name: &str) -> f64 {
    let (piece, dart) = (bench.piece("front"), dart(bench, name));
    let line = |edge: &str| piece.outline.edge(edge).unwrap().line.clone();
    let (a, b) = (line(&dart.leg_in), line(&dart.leg_out));
    let (a, b) = (a.start() - a.end(), b.end() - b.start());
    a.cross(b).atan2(a.dot(b)).abs()
}

#[test]
fn a_dart_is_pivoted_to_the_shoulder_with_its_whole_angle() {
    on_both(JACKET, |bench| {
        let before = angle(bench, "waist dart");
        bench.take("Pivot", "front");
        bench.press(TIP);
        let at = bench.on_edge("front", "side seam", 0.6);
        bench.click(at);
        bench.type_over("Name of the new dart", "side dart");
        bench.press("Pivot it");
        assert_eq!(darts(bench), 1, "{}", bench.message());
        let after = angle(bench, "side dart");
        assert!((after - before).abs() < 1e-6, "{after} {before}");
    });
}

#[test]
fn a_share_of_a_dart_is_pivoted_and_the_rest_stays() {
    on_both(JACKET, |bench| {
        let before = angle(bench, "waist dart");
        bench.take("Pivot", "front");
        bench.press(TIP);
        let at = bench.on_edge("front", "side seam", 0.6);
        bench.click(at);
        bench.type_over("Share of the dart", "1/2");
        bench.type_over("Name of the new dart", "side dart");
        bench.press("Pivot it");
        assert_eq!(darts(bench), 2, "{}", bench.message());
        let both = angle(bench, "waist dart") + angle(bench, "side dart");
        assert!((both - before).abs() < 1e-6, "{both} {before}");
    });
}

#[test]
fn a_new_dart_is_cut_in_and_taken_out_again() {
    on_both(JACKET, |bench| {
        bench.take("New dart", "front");
        let at = bench.on_edge("front", "side seam", 0.5);
        bench.click(at);
        bench.type_over("Width of the mouth", "4 mm");
        bench.type_over("Length", "14 mm");
        bench.type_over("Name of the dart", "side dart");
        bench.press("Cut the dart in");
        assert_eq!(darts(bench), 2, "{}", bench.message());
        bench.take("Take dart out", "front");
        bench.press("side dart of front, tip");
        assert_eq!(darts(bench), 1, "{}", bench.message());
    });
}

#[test]
fn a_dart_is_divided_into_two() {
    on_both(JACKET, |bench| {
        bench.take("Divide", "front");
        bench.press(TIP);
        bench.press("Divide it");
        assert_eq!(darts(bench), 2, "{}", bench.message());
    });
}

#[test]
fn a_dart_is_moved_along_its_edge_and_its_tip_is_moved() {
    on_both(JACKET, |bench| {
        let tip = |bench: &Bench| {
            let leg = dart(bench, "waist dart").leg_in;
            bench.piece("front").outline.edge(&leg).unwrap().line.end()
        };
        bench.take("Move dart", "front");
        bench.press(TIP);
        bench.type_over("Along the edge", "3 mm");
        bench.press("Move the dart");
        assert_eq!(bench.steps(), 1, "{}", bench.message());
        let before = tip(bench);
        bench.take("Move tip", "front");
        bench.press(TIP);
        bench.type_over("Upwards", "-2 mm");
        bench.press("Move the tip");
        let by = tip(bench) - before;
        assert!(same(by.y, -2.0), "{by:?}: {}", bench.message());
    });
}

#[test]
fn the_tip_of_a_dart_is_dragged() {
    on_both(JACKET, |bench| {
        bench.take("Move tip", "front");
        bench.press(TIP);
        bench.drag_by("Tip of the dart", 0.0, -3.0);
        assert_eq!(bench.steps(), 1, "{}", bench.message());
    });
}

#[test]
fn a_dart_is_pressed_the_other_way() {
    on_both(JACKET, |bench| {
        let before = dart(bench, "waist dart").pressed;
        bench.take("Press other way", "front");
        bench.press(TIP);
        assert_ne!(dart(bench, "waist dart").pressed, before);
    });
}

#[test]
fn a_dart_becomes_gathers() {
    on_both(JACKET, |bench| {
        bench.take("To gathers", "front");
        bench.press(TIP);
        assert_eq!(darts(bench), 0, "{}", bench.message());
    });
}

#[test]
fn a_dart_becomes_ease_where_its_edge_is_sewn_and_is_refused_where_it_is_not() {
    on_both(JACKET, |bench| {
        bench.take("To ease", "front");
        bench.press(TIP);
        assert_eq!(darts(bench), 1);
        assert!(
            bench.message().contains("nothing is sewn"),
            "{}",
            bench.message()
        );
        bench.take("Pivot", "front");
        bench.press(TIP);
        let at = bench.on_edge("front", "side seam", 0.6);
        bench.click(at);
        bench.type_over("Name of the new dart", "side dart");
        bench.press("Pivot it");
        bench.take("To ease", "front");
        bench.press("side dart of front, tip");
        assert_eq!(darts(bench), 0, "{}", bench.message());
    });
}

#[test]
fn what_cannot_be_done_to_a_dart_is_told() {
    for on in BOTH {
        let mut bench = Bench::of(JACKET, on);
        bench.take("Move tip", "front");
        bench.press(TIP);
        let far = if on == On::Garment {
            "3000 mm"
        } else {
            "900 mm"
        };
        bench.type_over("Upwards", far);
        assert!(!bench.message().is_empty());
        bench.press("Move the tip");
        assert_eq!(bench.steps(), 0);
    }
}
