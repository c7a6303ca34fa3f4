//! Marked lines and edge finishes.

use egui::Key;
use petitoile::session::On;
use petitoile_core::Mm;
use petitoile_core::edge::Finish;
use petitoile_core::piece::MarkKind;

use crate::bench::{BOTH, Bench, near};

#[test]
fn a_boning_channel_is_drawn_corner_after_corner_and_a_buttonhole_to_a_typed_length() {
    for on in BOTH {
        let mut bench = Bench::of("harbour-jacket", on);
        bench.take("Marked line", "back");
        let before = bench.piece("back").marks.len();
        let middle = bench.piece("back").outline.bounds().center();
        let at = bench.screen("back", middle);
        bench.pick("What is marked", "Boning channel");
        bench.type_over("Width of the channel", "5 mm");
        for by in [(-80.0, 60.0), (-60.0, 0.0), (-80.0, -60.0)] {
            bench.click(at + egui::vec2(by.0, by.1));
        }
        bench.key(Key::Enter);
        let mark =
            |bench: &Bench, number: usize| bench.piece("back").marks[before + number].clone();
        let MarkKind::Channel { line, width } = mark(&bench, 0).kind else {
            panic!("{:?} {}", mark(&bench, 0), bench.message());
        };
        assert_eq!((line.cubics().count(), width), (2, Mm(5.0)));
        bench.pick("What is marked", "Buttonhole");
        bench.type_over("Length of the next stretch", "12 mm");
        bench.click(at + egui::vec2(30.0, 40.0));
        bench.type_over("Angle of the next stretch", "90");
        let MarkKind::Buttonhole(a, b) = mark(&bench, 1).kind else {
            panic!("{:?}", mark(&bench, 1));
        };
        assert!(
            near((b - a).hypot(), 12.0) && near(b.x, a.x) && b.y > a.y,
            "{a} {b}"
        );
        assert_eq!(bench.steps(), 2);
        bench.undo();
        bench.undo();
        assert_eq!(bench.piece("back").marks.len(), before);
    }
}

#[test]
fn a_pleat_line_is_dragged_out_and_escape_gives_a_begun_line_up() {
    let mut bench = Bench::of("sunday-skirts", On::Fitting);
    bench.take("Marked line", "front");
    bench.pick("What is marked", "Pleat or fold line");
    let before = bench.piece("front").marks.len();
    let at = bench.screen("front", bench.piece("front").outline.bounds().center());
    bench.click(at);
    bench.key(Key::Escape);
    bench.key(Key::Enter);
    assert_eq!(bench.steps(), 0);
    bench.drag(at, at + egui::vec2(0.0, -80.0));
    let mark = bench.piece("front").marks[before].clone();
    assert!(matches!(mark.kind, MarkKind::Fold(_)), "{mark:?}");
    bench.click_handle("front, fold line fold 1");
    let end = bench.handle("front, fold line fold 1, end");
    bench.drag(end, end + egui::vec2(40.0, 0.0));
    let moved = bench.piece("front").marks[before].clone();
    let (was, is) = (mark.kind.line().unwrap(), moved.kind.line().unwrap());
    assert_eq!(was.start(), is.start());
    assert!(is.end().x > was.end().x + 1.0 && is.is_straight());
}

#[test]
fn a_hem_is_clicked_on_and_a_stretch_is_dragged() {
    for on in BOTH {
        let mut bench = Bench::of("sunday-skirts", on);
        bench.take("Edge finish", "front");
        bench.type_over("Hem width", "11 mm");
        bench.press("Hem: Turned once");
        let at = bench.on_edge("front", "hem", 0.5);
        bench.click(at);
        let finish = |bench: &Bench, fraction: f64| {
            let piece = bench.piece("front");
            piece.outline.edge("hem").unwrap().finish_at(fraction)
        };
        let hem = Finish::Hem {
            width: Some(Mm(11.0)),
            turns: 1,
        };
        assert_eq!(finish(&bench, 0.5), hem, "{}", bench.message());
        bench.pick("Finish", "Facing");
        let (from, to) = (
            bench.on_edge("front", "hem", 0.2),
            bench.on_edge("front", "hem", 0.6),
        );
        bench.drag(from, to);
        assert_eq!(finish(&bench, 0.4), Finish::Facing, "{}", bench.message());
        assert_eq!((finish(&bench, 0.1), finish(&bench, 0.8)), (hem, hem));
        assert_eq!(bench.steps(), 2);
        bench.undo();
        assert_eq!(finish(&bench, 0.4), hem);
    }
}

#[test]
fn a_slit_below_a_notch_is_one_step_and_opens_the_seam_on_both_sides() {
    for on in BOTH {
        let mut bench = Bench::of("sunday-skirts", on);
        bench.take("Notch", "side");
        let at = bench.on_edge("side", "back seam", 0.63);
        bench.click(at);
        bench.press("Edge finish");
        bench.pick("Finish", "Slit");
        let steps = bench.steps();
        bench.click(at);
        assert_eq!(bench.steps(), steps + 1, "{}", bench.message());
        let slit = |bench: &Bench, piece: &str| {
            let piece = bench.piece(piece);
            let edge = piece.outline.edge("back seam").unwrap();
            let list = edge.finish.iter().filter(|s| s.finish == Finish::Slit);
            list.map(|s| (s.to - s.from) * edge.line.length())
                .sum::<f64>()
        };
        assert!(slit(&bench, "side") > 1.0);
        assert!((slit(&bench, "side") - slit(&bench, "back")).abs() < 1.0);
        bench.undo();
        assert_eq!(slit(&bench, "side"), 0.0);
    }
}
