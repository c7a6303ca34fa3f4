//! Points, corners and edges moved.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use petitoile::session::On;
use petitoile_core::geometry::outline::Outline;

use crate::bench::{BOTH, Bench, SMOCK, on_both, same};

const CORNER: &str = "front body, corner of side seam and hem";

fn corner(bench: &Bench) -> kurbo::Point {
    bench
        .piece("front body")
        .outline
        .edge("hem")
        .unwrap()
        .line
        .start()
}

#[test]
fn a_dragged_corner_moves_as_far_as_the_hand_in_one_step_with_its_numbers() {
    on_both(SMOCK, |bench| {
        bench.take("Move", "front body");
        let before = corner(bench);
        bench.drag_by(CORNER, -10.0, -6.0);
        let by = corner(bench) - before;
        let point = 1.0 / bench.window.state().session.view.scale;
        assert!(
            (by.x + 10.0).abs() < point && (by.y + 6.0).abs() < point,
            "{by:?}"
        );
        assert_eq!(bench.steps(), 1);
        assert!(
            bench.last_step().contains("front body"),
            "{}",
            bench.last_step()
        );
    });
}

#[test]
fn while_a_hand_moves_the_numbers_follow_and_escape_gives_it_up() {
    for on in BOTH {
        let mut bench = Bench::of(SMOCK, on);
        bench.take("Move", "front body");
        let before = bench.length("front body", "hem");
        let from = bench.window.get_by_label(CORNER).rect().center();
        bench.hold(from, from + egui::vec2(-60.0, 0.0));
        let session = &bench.window.state().session;
        assert!(session.is_trying(), "{on:?}");
        assert_eq!(session.history.steps(), 0);
        let said = bench.shows("hem of front body");
        assert!(
            said,
            "new lengths stand in the status line while it moves, {on:?}"
        );
        bench.key(Key::Escape);
        assert!(!bench.window.state().session.is_trying(), "{on:?}");
        bench.window.drop_at(from);
        bench.window.run();
        assert!(same(bench.length("front body", "hem"), before));
    }
}

#[test]
fn nudges_in_a_row_are_one_step_and_one_alteration() {
    for on in BOTH {
        let mut bench = Bench::of(SMOCK, on);
        bench.take("Move", "front body");
        let before = corner(&bench);
        bench.press(CORNER);
        for _ in 0..3 {
            bench.key(Key::ArrowLeft);
        }
        bench.keys(Modifiers::SHIFT, Key::ArrowDown);
        bench.keys(Modifiers::ALT, Key::ArrowDown);
        let by = corner(&bench) - before;
        assert!(same(by.x, -3.0) && same(by.y, -10.1), "{by:?} on {on:?}");
        let expected = if on == On::Fitting { 1 } else { 0 };
        assert_eq!(bench.fitting().alterations.len(), expected);
    }
}

#[test]
fn nudges_back_to_where_it_was_leave_no_step() {
    on_both(SMOCK, |bench| {
        bench.take("Move", "front body");
        bench.press(CORNER);
        bench.key(Key::ArrowLeft);
        assert_eq!(bench.steps(), 1);
        bench.key(Key::ArrowRight);
        assert_eq!(bench.steps(), 0);
        bench.key(Key::ArrowUp);
    });
}

#[test]
fn a_box_takes_all_points_in_it_and_typed_lengths_move_them_together() {
    on_both(SMOCK, |bench| {
        bench.take("Move", "front body");
        let bounds = bench.piece("front body").outline.bounds();
        let hem = |outline: &Outline| outline.edge("hem").unwrap().line.clone();
        let before = hem(&bench.piece("front body").outline);
        let edge = |x: f64, y: f64| kurbo::Point::new(x, y);
        let from = bench.screen("front body", edge(bounds.x0 - 15.0, bounds.y0 - 15.0));
        let to = bench.screen("front body", edge(bounds.x1 + 15.0, bounds.y0 + 25.0));
        bench.drag(from, to);
        assert!(
            bench.shows("points of front body: drag one"),
            "several are chosen"
        );
        bench.type_over("Move upwards", "-7 mm");
        let after = hem(&bench.piece("front body").outline);
        assert!(same((after.start() - before.start()).y, -7.0));
        assert!(same((after.end() - before.end()).y, -7.0));
    });
}

#[test]
fn a_whole_edge_is_dragged_by_its_middle() {
    on_both(SMOCK, |bench| {
        bench.take("Move", "cuff");
        let before = bench
            .piece("cuff")
            .outline
            .edge("inner edge")
            .unwrap()
            .line
            .clone();
        bench.press("cuff, inner edge, whole edge");
        bench.type_over("Move upwards", "2 mm");
        let after = bench
            .piece("cuff")
            .outline
            .edge("inner edge")
            .unwrap()
            .line
            .clone();
        assert!(same((after.start() - before.start()).y, 2.0));
        assert!(same((after.end() - before.end()).y, 2.0));
    });
}

#[test]
fn a_double_click_adds_a_point_without_changing_the_shape_and_delete_takes_it_out() {
    on_both(SMOCK, |bench| {
        bench.take("Move", "front body");
        let length = bench.length("front body", "side seam");
        let at = bench.on_edge("front body", "side seam", 0.3);
        bench.double_click(at);
        assert_eq!(bench.steps(), 1, "{}", bench.message());
        assert!(same(bench.length("front body", "side seam"), length));
        let points = |bench: &Bench| {
            let piece = bench.piece("front body");
            piece.outline.edge("side seam").unwrap().line.points().len()
        };
        let many = points(bench);
        let at = bench.on_edge("front body", "side seam", 0.3);
        bench.click(at);
        bench.key(Key::Delete);
        assert_eq!(points(bench), many - 3, "{}", bench.message());
    });
}

#[test]
fn a_smooth_join_is_kept_unless_the_maker_breaks_it() {
    let kink = |breaks: bool| {
        let mut bench = Bench::of(SMOCK, On::Garment);
        bench.take("Move", "sleeve");
        let piece = bench.piece("sleeve");
        let edge = piece
            .outline
            .edges()
            .iter()
            .find(|e| e.line.points().len() > 4);
        let edge = edge.expect("a curve with a point inside").name.clone();
        bench.press(&format!("sleeve, {edge}, steering point 2"));
        if breaks {
            bench.press("Keep smooth joins smooth");
        }
        for _ in 0..40 {
            bench.key(Key::ArrowUp);
        }
        let points = bench
            .piece("sleeve")
            .outline
            .edge(&edge)
            .unwrap()
            .line
            .points()
            .to_vec();
        let (a, b) = (points[3] - points[2], points[4] - points[3]);
        (a.cross(b) / (a.hypot() * b.hypot())).abs()
    };
    assert!(kink(false) < 1e-3, "the join stays smooth");
    assert!(kink(true) > 1e-3, "it is broken when asked");
}

#[test]
fn what_would_cross_itself_is_told_and_not_recorded() {
    for on in BOTH {
        let mut bench = Bench::of(SMOCK, on);
        bench.take("Move", "cuff");
        bench.press("cuff, inner edge, whole edge");
        for way in ["200 mm", "-200 mm"] {
            let steps = bench.steps();
            bench.type_over("Move upwards", way);
            let told = bench.message().contains("cross");
            assert_eq!(told, bench.steps() == steps, "{way}: {}", bench.message());
        }
        assert_eq!(bench.steps(), 1, "one of the two ways turns it inside out");
    }
}

#[test]
fn the_length_of_an_edge_is_typed_where_it_is_taken_hold_of() {
    on_both(SMOCK, |bench| {
        let wanted = bench.length("front yoke", "shoulder") - 2.0;
        bench.take("Move", "front yoke");
        bench.press("front yoke, shoulder, whole edge");
        bench.type_over("Length of shoulder", &format!("{wanted} mm"));
        let length = bench.length("front yoke", "shoulder");
        assert!(
            same(length, wanted),
            "{length} {wanted}: {}",
            bench.message()
        );
    });
}
