//! Notches, grainline, dots, cutting, body lines.

use egui::Key;
use kurbo::Point;
use petitoile::session::On;
use petitoile_core::Mm;
use petitoile_core::measure::Level;
use petitoile_core::notch::NotchKind;
use petitoile_core::piece::{Face, Frame, MarkKind, Placement, Role};

use crate::bench::{BOTH, Bench, near};

#[test]
fn a_notch_clicked_on_a_side_seam_is_on_its_mate_in_the_same_step() {
    for on in BOTH {
        let mut bench = Bench::of("harbour-jacket", on);
        bench.take("Notch", "front");
        bench.press("Notch: Double");
        let before = bench.garment();
        let at = bench.on_edge("front", "side seam", 0.3);
        bench.click(at);
        assert_eq!(bench.steps(), 1, "{on:?}: {}", bench.message());
        let walked = |bench: &Bench| {
            let garment = bench.garment();
            let seam = garment
                .seams
                .iter()
                .find(|s| s.name == "side seam")
                .unwrap();
            seam.walked(&garment.pieces).unwrap()
        };
        let found = walked(&bench);
        let pair = found
            .pairs
            .iter()
            .find(|pair| pair.a.kind == NotchKind::Double)
            .expect("a double notch on both");
        assert!(pair.apart.0 < 0.01 && found.alone.is_empty(), "{found:?}");
        bench.undo();
        assert!(bench.garment() == before, "as it was before");
    }
}

#[test]
fn a_notch_is_typed_from_either_end_and_by_its_share() {
    let mut bench = Bench::of("sunday-skirts", On::Garment);
    bench.take("Notch", "front");
    bench.press("Notch the mate too");
    bench.pick("Edge", "hem");
    let length = bench
        .piece("front")
        .outline
        .edge("hem")
        .unwrap()
        .line
        .length();
    let last = |bench: &Bench| {
        let piece = bench.piece("front");
        let notch = piece.notches.last().unwrap().clone();
        assert_eq!(notch.edge, "hem");
        notch.fraction * length
    };
    bench.type_over("From centre front", "30 mm");
    let from_centre = last(&bench);
    bench.type_over("From front seam", "30 mm");
    let from_seam = last(&bench);
    assert!(
        near(from_centre + from_seam, length),
        "{from_centre} {from_seam}"
    );
    assert!(near(from_centre.min(from_seam), 30.0));
    bench.type_over("Share of the edge", "2/5");
    assert!(near(last(&bench), 0.4 * length));
    bench.press("At 1/2 of hem");
    assert!(near(last(&bench), 0.5 * length));
    assert_eq!(bench.steps(), 4);
    bench.type_over("From centre front", "9000 mm");
    assert!(bench.message().contains("only"), "{}", bench.message());
    assert_eq!(bench.steps(), 4);
}

#[test]
fn a_notch_is_dragged_changed_nudged_and_taken_out() {
    for on in BOTH {
        let mut bench = Bench::of("sunday-skirts", on);
        bench.take("Notch", "front");
        bench.press("Notch the mate too");
        let before = bench.piece("front").notches.len();
        let at = bench.on_edge("front", "hem", 0.4);
        bench.click(at);
        let to = bench.on_edge("front", "hem", 0.7);
        bench.drag(at, to);
        let notch = |bench: &Bench| bench.piece("front").notches[before].clone();
        assert!(
            (notch(&bench).fraction - 0.7).abs() < 0.02,
            "{:?}",
            notch(&bench)
        );
        bench.press("Notch: Triple");
        assert_eq!(notch(&bench).kind, NotchKind::Triple);
        assert_eq!(bench.steps(), 3);
        let length = bench
            .piece("front")
            .outline
            .edge("hem")
            .unwrap()
            .line
            .length();
        let was = notch(&bench).fraction;
        bench.click_handle("Triple notch on hem of front");
        bench.key(Key::ArrowRight);
        assert!(
            near((notch(&bench).fraction - was).abs() * length, 1.0),
            "an arrow moves it by 1 mm"
        );
        bench.key(Key::Delete);
        assert_eq!(bench.piece("front").notches.len(), before);
        bench.undo();
        assert_eq!(notch(&bench).kind, NotchKind::Triple);
    }
}

#[test]
fn escape_lets_go_of_a_dragged_notch_where_it_was() {
    let mut bench = Bench::of("sunday-skirts", On::Fitting);
    bench.take("Notch", "front");
    let at = bench.on_edge("front", "hem", 0.4);
    bench.click(at);
    let (steps, before) = (bench.steps(), bench.garment());
    let to = bench.on_edge("front", "hem", 0.8);
    bench.drag_and_hold(at, to);
    assert!(bench.0.state().session.is_trying());
    bench.key(Key::Escape);
    assert!(!bench.0.state().session.is_trying());
    bench.0.drop_at(to);
    bench.0.run();
    assert_eq!(bench.steps(), steps);
    assert!(bench.garment() == before, "the notch is where it was");
}

#[test]
fn the_grainline_is_laid_with_two_clicks_and_turned_to_a_typed_angle() {
    for on in BOTH {
        let mut bench = Bench::of("harbour-jacket", on);
        bench.take("Grainline", "front");
        let bounds = bench.piece("front").outline.bounds();
        let place = |x: f64, y: f64| {
            Point::new(
                bounds.x0 + x * bounds.width(),
                bounds.y0 + y * bounds.height(),
            )
        };
        let (a, b) = (place(0.4, 0.3), place(0.6, 0.6));
        let (at, to) = (bench.screen("front", a), bench.screen("front", b));
        bench.click(at);
        assert_eq!(bench.steps(), 0);
        bench.click(to);
        let grain = |bench: &Bench| bench.piece("front").grainline.unwrap();
        let (from, end) = grain(&bench);
        assert!(
            (from - a).hypot() < 2.0 && (end - b).hypot() < 2.0,
            "{from} {end}"
        );
        bench.type_over("Grain, degrees from upright", "45");
        let way = grain(&bench).1 - grain(&bench).0;
        assert!(near(way.x.atan2(way.y).to_degrees(), 45.0), "{way:?}");
        assert_eq!(bench.steps(), 2);
        bench.press("Upright");
        assert_eq!(bench.piece("front").grainline, None);
        bench.undo();
        bench.undo();
        assert_eq!(grain(&bench), (from, end));
    }
}

#[test]
fn dots_eyelets_and_words_are_set_moved_renamed_and_taken_out() {
    for on in BOTH {
        let mut bench = Bench::of("harbour-jacket", on);
        bench.take("Dot", "back");
        let before = bench.piece("back").marks.len();
        let middle = bench.piece("back").outline.bounds().center();
        let at = bench.screen("back", middle);
        bench.click(at);
        bench.press("Set: Eyelet");
        bench.type_over("Diameter of the eyelet", "3 mm");
        let beside = bench.screen("back", middle) + egui::vec2(60.0, 40.0);
        bench.click(beside);
        bench.press("Set: Words");
        let steps = bench.steps();
        let above = bench.screen("back", middle) + egui::vec2(-60.0, -60.0);
        bench.click(above);
        assert_eq!(bench.steps(), steps, "no words, no mark");
        bench.type_over("Words to write", "ease here");
        bench.click(above);
        let marks = |bench: &Bench| bench.piece("back").marks[before..].to_vec();
        let found = marks(&bench);
        assert!(matches!(found[0].kind, MarkKind::Dot(at) if (at - middle).hypot() < 2.0));
        assert!(matches!(
            found[1].kind,
            MarkKind::Eyelet {
                diameter: Mm(3.0),
                ..
            }
        ));
        assert!(matches!(found[2].kind, MarkKind::Text(_)) && found[2].name == "ease here");
        let dot = bench.handle("back, dot dot 1");
        bench.drag(dot, dot + egui::vec2(0.0, 50.0));
        assert!(matches!(marks(&bench)[0].kind, MarkKind::Dot(at) if at.y < middle.y - 1.0));
        bench.type_over("Name of this mark", "tie");
        assert_eq!(marks(&bench)[0].name, "tie");
        bench.press("Take this mark out");
        assert_eq!(marks(&bench).len(), 2);
        bench.undo();
        assert_eq!(marks(&bench)[0].name, "tie");
    }
}

#[test]
fn a_dot_near_the_outline_lies_on_it() {
    let mut bench = Bench::of("sunday-skirts", On::Garment);
    bench.take("Dot", "side");
    let before = bench.piece("side").marks.len();
    let at = bench.on_edge("side", "back seam", 0.31) + egui::vec2(4.0, 0.0);
    bench.click(at);
    let piece = bench.piece("side");
    let mark = &piece.marks[before];
    let (place, off) = piece.dot_on_outline(&mark.name).unwrap();
    assert_eq!(place.edge, "back seam");
    assert!(off.0 < 0.01, "{off:?}");
}

#[test]
fn what_is_cut_is_counted_in_pairs_and_singles_layer_by_layer() {
    for on in BOTH {
        let mut bench = Bench::of("harbour-jacket", on);
        bench.take("Cutting", "cuff");
        let of = |bench: &Bench, role| bench.piece("cuff").copies_in(role);
        let (shell, inter) = (of(&bench, Role::Shell), of(&bench, Role::Interlining));
        bench.press("shell: one pair more");
        bench.press("interlining: one single more");
        assert_eq!(of(&bench, Role::Shell), shell + 2, "{}", bench.message());
        assert_eq!(of(&bench, Role::Interlining), inter + 1);
        bench.press("Drawn side: wrong side");
        assert_eq!(bench.piece("cuff").face, Face::Wrong);
        assert_eq!(bench.steps(), 3);
        bench.undo();
        assert_eq!(bench.piece("cuff").face, Face::Right);
    }
}

#[test]
fn a_body_line_is_laid_with_two_clicks_dragged_and_taken_out() {
    for on in BOTH {
        let mut bench = Bench::of("harbour-jacket", on);
        bench.take("Body line", "front");
        bench.pick("Level", "Hip");
        let from = bench.on_edge("front", "front edge", 0.5);
        let to = bench.on_edge("front", "side seam", 0.2);
        bench.click(from);
        bench.click(to);
        let line = |bench: &Bench| {
            let piece = bench.piece("front");
            let found = piece.body_lines.iter().find(|l| l.level == Level::Hip);
            found.cloned()
        };
        let laid = line(&bench)
            .unwrap_or_else(|| panic!("{on:?} {} {:?}", bench.message(), bench.labels("line")));
        assert_eq!(
            (laid.from.edge.as_str(), laid.to.edge.as_str()),
            ("front edge", "side seam")
        );
        let lower = bench.on_edge("front", "front edge", 0.4);
        bench.drag(from, lower);
        assert!((line(&bench).unwrap().from.fraction - 0.4).abs() < 0.02);
        bench.press("Take the hip line out");
        assert_eq!(line(&bench), None);
        bench.undo();
        assert!(line(&bench).is_some());
    }
}

#[test]
fn a_piece_is_steered_by_another_part_of_the_body_or_by_a_share_of_a_girth() {
    let mut bench = Bench::of("harbour-jacket", On::Garment);
    bench.take("Body part", "cuff");
    bench.press("Steered by: Arm");
    assert_eq!(bench.piece("cuff").placement, Placement::Framed(Frame::Arm));
    bench.undo();
    let before = bench.piece("cuff").placement.clone();
    assert!(matches!(before, Placement::Follows(_)), "{before:?}");
    bench.pick("Upwards it follows", "a share of a length");
    bench.type_over("Upwards: share", "5 %");
    let Placement::Follows(follow) = bench.piece("cuff").placement.clone() else {
        panic!("a cuff lies on no part of the body");
    };
    let petitoile_core::piece::FollowRule::RatioOfLength { ratio, .. } = follow.depth else {
        panic!("{:?}", follow.depth);
    };
    assert!(near(ratio, 0.05));
}
