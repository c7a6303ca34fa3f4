//! The Folds tray by label: what a maker clicks and types, and what becomes of the project and the print.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod common;
#[path = "folds/lies.rs"]
mod lies;
#[path = "folds/strips.rs"]
mod strips;
#[path = "folds/told.rs"]
mod told;

use common::{click, harness_of, on_tray, type_over, window};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use petitoile::command::{Chosen, Command};
use petitoile::whole_way;
use petitoile::window::Window;
use petitoile_core::Mm;
use petitoile_core::fullness::{Fullness, FullnessOp, Lies};

/// The Sunday skirts in the Folds tray, with an edge chosen on the table.
fn folds(piece: &str, edge: &str) -> Harness<'static, Window> {
    let mut harness = on_tray(petitoile::demos::named("sunday-skirts").unwrap(), Key::F4);
    choose(&mut harness, piece, edge);
    harness
}

fn choose(harness: &mut Harness<'_, Window>, piece: &str, edge: &str) {
    let chosen = Command::Choose(Chosen::edge(piece, edge));
    harness.state_mut().session.apply(chosen);
    harness.run();
}

/// The only fullness of a piece on the table.
fn op(harness: &Harness<'_, Window>, piece: &str) -> FullnessOp {
    let garment = harness.state().session.on_table().unwrap();
    let all = &garment.piece(piece).unwrap().fullness;
    assert_eq!(all.len(), 1, "{all:?}");
    all[0].clone()
}

/// All words of the one label that contains these.
fn said(harness: &Harness<'_, Window>, part: &str) -> String {
    let node = harness.get_by_label_contains(part);
    let node = node.accesskit_node();
    node.label().or_else(|| node.value()).unwrap()
}

/// Length of an edge as it is sewn, and as it is cut.
fn lengths(harness: &Harness<'_, Window>, piece: &str, edge: &str) -> (f64, f64) {
    let worked = harness.state().session.work.done.clone().unwrap();
    let long = |pieces: &[std::sync::Arc<petitoile_core::piece::Piece>]| {
        let piece = pieces.iter().find(|p| p.name == piece).unwrap();
        piece.outline.edge(edge).unwrap().line.length()
    };
    (long(&worked.adapted.pieces), long(&worked.filled.pieces))
}

fn knife(count: u32, depth: f64) -> Fullness {
    Fullness::KnifePleats {
        count,
        depth: Mm(depth),
    }
}

#[test]
fn a_gathered_skirt_is_turned_into_knife_pleats_and_back_for_the_same_cloth() {
    let mut harness = folds("side", "waist");
    click(&mut harness, "Gathers");
    assert_eq!(
        op(&harness, "side").fullness,
        Fullness::Gathers { ratio: 2.0 }
    );
    let (sewn, cloth) = lengths(&harness, "side", "waist");
    assert!((cloth - 2.0 * sewn).abs() < 1e-3, "{cloth} from {sewn}");
    click(&mut harness, "Knife pleats");
    let Fullness::KnifePleats { count, depth } = op(&harness, "side").fullness else {
        panic!("{:?}", op(&harness, "side"));
    };
    // Pleats of 11 mm suit a doll of 45 cm: round(46.2 / 11.25) = 4.
    assert_eq!(count, 4);
    // knife: cloth = finished + 2 x count x depth (handbook named in `fullness::cloth_length`)
    assert!(
        (sewn + 8.0 * depth.0 - 2.0 * sewn).abs() < 1e-6,
        "{depth:?}"
    );
    assert!((lengths(&harness, "side", "waist").1 - cloth).abs() < 1e-3);
    click(&mut harness, "Gathers");
    let Fullness::Gathers { ratio } = op(&harness, "side").fullness else {
        panic!("{:?}", op(&harness, "side"));
    };
    assert!((ratio - 2.0).abs() < 1e-9);
    let fitting = harness.state().session.fitting().unwrap();
    assert_eq!(
        fitting.alterations.len(),
        1,
        "one step says all fullness of the piece"
    );
    assert_eq!(harness.state().session.history.steps(), 3);
    for _ in 0..3 {
        harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        harness.run();
    }
    let garment = harness.state().session.on_table().unwrap();
    assert!(garment.piece("side").unwrap().fullness.is_empty());
}

#[test]
fn numbers_that_are_typed_are_given_and_the_rest_is_computed() {
    let mut harness = folds("waistband", "waist edge");
    click(&mut harness, "Knife pleats");
    let (sewn, _) = lengths(&harness, "waistband", "waist edge");
    type_over(&mut harness, "How many", "9");
    type_over(&mut harness, "Depth", "6 mm");
    assert_eq!(op(&harness, "waistband").fullness, knife(9, 6.0));
    let (_, cloth) = lengths(&harness, "waistband", "waist edge");
    assert!((cloth - (sewn + 108.0)).abs() < 1e-3, "{cloth} from {sewn}");
    // A width instead of a number: the nearest whole number, and the width that then fills the edge.
    type_over(&mut harness, "Visible width", "20 mm");
    let count = (sewn / 20.0).round();
    assert_eq!(
        op(&harness, "waistband").fullness.count(),
        Some(count as u32)
    );
    let becomes = "Visible width becomes ";
    assert!(harness.query_by_label_contains(becomes).is_some());
    // The cloth instead of the depth.
    type_over(
        &mut harness,
        "Cloth length",
        &format!("{:.2} mm", 2.0 * sewn),
    );
    let depth = op(&harness, "waistband").fullness.depth().unwrap().0;
    assert!((depth - sewn / (2.0 * count)).abs() < 0.01, "{depth}");
}

#[test]
fn what_cannot_be_folded_says_why_and_is_taken_as_near_as_can_be_with_one_click() {
    let mut harness = folds("side", "waist");
    click(&mut harness, "Knife pleats");
    let before = op(&harness, "side");
    let steps = harness.state().session.history.steps();
    // Less cloth than the edge is long.
    type_over(&mut harness, "Cloth length", "20 mm");
    assert_eq!(
        op(&harness, "side"),
        before,
        "nothing is made of what cannot be"
    );
    assert_eq!(harness.state().session.history.steps(), steps);
    assert!(
        harness
            .query_by_label_contains("leaves nothing to fold")
            .is_some()
    );
    click(&mut harness, "Take the nearest");
    assert!(harness.query_by_label("Take the nearest").is_none());
    let now = op(&harness, "side");
    assert!(now.fullness.checked().is_ok());
    let (sewn, cloth) = lengths(&harness, "side", "waist");
    assert!(cloth > sewn, "{cloth} against {sewn}");
}

#[test]
fn pleats_turn_at_the_centre_keep_off_a_seam_and_leave_a_plain_panel() {
    let mut harness = folds("waistband", "waist edge");
    click(&mut harness, "Knife pleats");
    click(&mut harness, "How it lies");
    click(&mut harness, "Lie: to the centre");
    assert_eq!(op(&harness, "waistband").layout.lies, Lies::ToCentre);
    click(&mut harness, "Plain panel");
    let panel = op(&harness, "waistband").layout.plain.unwrap();
    let (sewn, _) = lengths(&harness, "waistband", "waist edge");
    let folded = op(&harness, "waistband").folded(Mm(sewn));
    let clear = folded
        .folds()
        .map(|(_, fold)| (fold.on_edge.0 - sewn / 2.0).abs())
        .fold(f64::INFINITY, f64::min);
    assert!(clear > 0.0 && panel.width.0 > 0.0, "{clear} {panel:?}");
    let ways: Vec<_> = folded.pleats.iter().map(|pleat| pleat.lies).collect();
    assert_ne!(ways.first(), ways.last(), "they turn at the centre");
}

#[test]
fn every_pleat_stands_in_the_table_in_the_unit_of_the_maker() {
    let mut harness = folds("side", "waist");
    click(&mut harness, "Knife pleats");
    type_over(&mut harness, "How many", "3");
    type_over(&mut harness, "Depth", "8 mm");
    let (sewn, _) = lengths(&harness, "side", "waist");
    let first = op(&harness, "side").folded(Mm(sewn)).pleats[0].clone();
    let unit = harness.state().session.shown().unit;
    assert!(
        harness.query_all_by_label("8 mm").count() >= 3,
        "the depth of each"
    );
    for head in ["cloth from", "cloth to", "depth", "on edge", "lies"] {
        assert!(harness.query_all_by_label(head).count() == 1, "{head}");
    }
    for place in [first.from, first.to, first.at, first.behind()[0]] {
        let words = unit.show_on_rule(place);
        assert!(
            harness.query_all_by_label(&words).next().is_some(),
            "{words} is in the table"
        );
    }
    assert!(harness.query_by_label_contains("Section: up to").is_some());
    assert!(harness.query_by_label_contains("Front view:").is_some());
}

#[test]
fn the_print_has_a_template_and_a_table_after_the_pieces() {
    let mut harness = folds("side", "waist");
    click(&mut harness, "Knife pleats");
    let worked = harness.state().session.work.done.clone().unwrap();
    let unit = harness.state().session.shown().unit;
    let sheet = whole_way::drawn(&worked, unit);
    let names: Vec<&str> = sheet
        .pieces
        .iter()
        .map(|piece| piece.name.as_str())
        .collect();
    assert_eq!(names.len(), worked.finished.pieces.len() + 2, "{names:?}");
    assert!(names.contains(&"pleat template: side, waist"));
    assert!(names.contains(&"pleats of side, waist"));
    harness.key_press(Key::F6);
    harness.run();
    let pages = harness.state().session.work.pages.clone().expect("pages");
    assert!(
        pages
            .placed
            .iter()
            .any(|placed| placed.piece == names.len() - 2)
    );
}

#[test]
fn a_number_moves_by_its_handle_and_by_the_arrow_keys_and_is_one_step() {
    let mut harness = folds("side", "waist");
    click(&mut harness, "Knife pleats");
    let before = op(&harness, "side").fullness.count().unwrap();
    let steps = harness.state().session.history.steps();
    let handle = harness.get_by_role_and_label(Role::Slider, "Move how many");
    handle.focus();
    harness.run();
    harness.key_press(Key::ArrowRight);
    harness.run();
    assert_eq!(op(&harness, "side").fullness.count(), Some(before + 1));
    assert_eq!(harness.state().session.history.steps(), steps + 1);
    let rect = harness
        .get_by_role_and_label(Role::Slider, "Move how many")
        .rect();
    let (from, to) = (rect.center(), rect.center() + egui::vec2(22.0, 0.0));
    harness.hover_at(from);
    harness.step();
    harness.drag_at(from);
    harness.step();
    for i in 1..=4 {
        harness.hover_at(from.lerp(to, i as f32 / 4.0));
        harness.step();
    }
    assert_eq!(
        harness.state().session.history.steps(),
        steps + 1,
        "only tried"
    );
    assert!(harness.state().session.is_trying());
    harness.drop_at(to);
    harness.run();
    assert_eq!(harness.state().session.history.steps(), steps + 2);
    assert!(op(&harness, "side").fullness.count().unwrap() > before + 2);
}

#[test]
fn pleats_too_small_for_the_cloth_are_proposed_larger_with_the_old_number_beside() {
    let mut harness = folds("side", "waist");
    click(&mut harness, "Knife pleats");
    type_over(&mut harness, "How many", "32");
    assert_eq!(op(&harness, "side").fullness.count(), Some(32));
    let (_, cloth) = lengths(&harness, "side", "waist");
    let words = (1..32)
        .map(|fewer| format!("Take {fewer} instead of 32"))
        .find(|words| harness.query_by_label(words).is_some())
        .expect("the old number stands beside the new one");
    click(&mut harness, &words);
    let fewer = op(&harness, "side").fullness.count().unwrap();
    assert!(fewer < 32, "{fewer}");
    assert!(
        (lengths(&harness, "side", "waist").1 - cloth).abs() < 1e-3,
        "the cloth stays"
    );
    assert!(
        harness
            .query_by_label_contains("Too small to press")
            .is_none()
    );
}

#[test]
fn a_strip_is_joined_from_bits_and_too_few_of_them_give_the_nearest() {
    let mut harness = folds("side", "hem");
    click(&mut harness, "Work on: Joined strips");
    type_over(&mut harness, "Length of the strip", "300 mm");
    click(&mut harness, "Ends: as cut");
    click(&mut harness, "Cloth: a list of bits");
    // 600 mm of cloth from bits of 210: 3 x 210 - 2 joins x 10 = 610.
    type_over(&mut harness, "Usable strip lengths", "5 x 210");
    assert!(
        harness
            .query_by_label("Joined strip: 3 segments, 2 joins")
            .is_some()
    );
    assert!(
        harness
            .query_by_label_contains("Cut 620 mm = 300 mm shown + 300 mm drawn in")
            .is_some()
    );
    type_over(&mut harness, "Usable strip lengths", "2 x 210");
    assert!(harness.query_by_label_contains("The bits give").is_some());
    click(&mut harness, "Take the nearest strip");
    assert!(
        harness
            .query_by_label("Joined strip: 2 segments, 1 join")
            .is_some()
    );
}

#[test]
fn bias_comes_out_of_a_square_as_in_the_published_example() {
    let mut project = petitoile::demos::named("sunday-skirts").unwrap();
    project.unit = petitoile_core::LengthUnit::Inch;
    let mut harness = harness_of(window(project), egui::vec2(1280.0, 800.0));
    harness.key_press(Key::F4);
    harness.run();
    click(&mut harness, "Work on: Joined strips");
    click(&mut harness, "Strips for: Bias, binding, piping");
    for (field, inches) in [
        ("Length of bias needed", "250"),
        ("Width of the bias strip", "2"),
        ("Long side of the cloth", "20"),
        ("Short side of the cloth", "20"),
    ] {
        type_over(&mut harness, field, inches);
    }
    // 250 in of 2 in: 22.36, cut 23 in; 20 in square, 2 in: 200 in (quilting answer page and home-furnishing forum).
    assert!(
        harness
            .query_by_label_contains("a square of 22 3/8 in, cut 23 in")
            .is_some()
    );
    assert!(
        harness
            .query_by_label("It gives about 200 in of bias strip.")
            .is_some()
    );
}

#[test]
fn a_strip_becomes_a_piece_with_its_fullness_and_its_joins_marked() {
    let mut harness = folds("side", "hem");
    click(&mut harness, "Work on: Joined strips");
    type_over(&mut harness, "Length of the strip", "300 mm");
    click(&mut harness, "Drawn in by: knife pleats");
    type_over(&mut harness, "Visible width of a pleat", "15 mm");
    click(&mut harness, "Make it a piece");
    let session = &harness.state().session;
    let garment = session.on_table().unwrap();
    let ruffle = garment.piece("ruffle").unwrap();
    // 300 mm in pleats of 15 mm: 20; twice the cloth: each takes 2 x 7.5 mm.
    assert_eq!(ruffle.fullness[0].fullness, knife(20, 7.5));
    let joins = ruffle
        .marks
        .iter()
        .filter(|mark| mark.name.starts_with("join "));
    assert_eq!(joins.count(), 1, "620 mm from cloth of 450 mm");
    assert!(
        ruffle
            .marks
            .iter()
            .any(|mark| mark.name.contains("lost in all"))
    );
    let cloth = lengths(&harness, "ruffle", "upper edge").1;
    assert!((cloth - 600.0).abs() < 1e-3, "{cloth}");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    harness.run();
    let garment = harness.state().session.on_table().unwrap();
    assert!(garment.piece("ruffle").is_none());
}

/// Takes the first way out that is offered: fewer of the same kind.
fn mend(harness: &mut Harness<'_, Window>) {
    let first = |harness: &Harness<'_, Window>| {
        let offered = harness.get_all_by_label_contains("Do here: ");
        offered
            .filter_map(|node| node.accesskit_node().label())
            .next()
    };
    let label = first(harness).unwrap();
    click(harness, &label);
}

#[test]
fn what_the_cloth_does_not_take_is_told_at_its_place_with_one_click_to_mend_it() {
    let mut harness = folds("side", "waist");
    click(&mut harness, "Gathers");
    type_over(&mut harness, "Times as long", "6");
    let Fullness::Gathers { ratio } = op(&harness, "side").fullness else {
        panic!("{:?}", op(&harness, "side"));
    };
    assert!((ratio - 6.0).abs() < 1e-9, "{ratio}");
    // Folds as deep as a stitch, packed solid: stitch / thickness (geometry, `fullness::fullest_gathers`).
    let told = "Gathers of 6.0 times";
    assert!(harness.query_all_by_label_contains(told).count() >= 1);
    mend(&mut harness);
    let Fullness::Gathers { ratio } = op(&harness, "side").fullness else {
        panic!("{:?}", op(&harness, "side"));
    };
    assert!(ratio < 6.0, "{ratio}");
    // The same on the garment as it is drawn, where no fitting could be altered.
    click(&mut harness, "Folds on: The garment");
    choose(&mut harness, "side", "waist");
    click(&mut harness, "Gathers");
    type_over(&mut harness, "Times as long", "19");
    mend(&mut harness);
    let garment = harness.state().session.garment().unwrap();
    let Fullness::Gathers { ratio } = garment.piece("side").unwrap().fullness[0].fullness else {
        panic!("gathers");
    };
    assert!(ratio < 19.0, "{ratio}");
}

#[test]
fn the_rest_of_an_edge_is_folded_too() {
    let mut harness = folds("side", "waist");
    click(&mut harness, "Gathers");
    click(&mut harness, "Stretch and spread");
    type_over(&mut harness, "To along the edge", "20 mm");
    assert!(op(&harness, "side").to < 0.5);
    click(&mut harness, "Fold the rest of the edge too");
    let garment = harness.state().session.on_table().unwrap();
    let all = &garment.piece("side").unwrap().fullness;
    assert_eq!(all.len(), 2);
    assert_eq!((all[1].from, all[1].to), (all[0].to, 1.0));
    let (sewn, cloth) = lengths(&harness, "side", "waist");
    assert!((cloth - 2.0 * sewn).abs() < 1e-3, "{cloth} from {sewn}");
}

#[test]
fn the_tally_of_a_narrow_strip_is_printed_below_it() {
    let mut harness = folds("side", "hem");
    click(&mut harness, "Work on: Joined strips");
    type_over(&mut harness, "Width of the strip", "10 mm");
    click(&mut harness, "Make it a piece");
    let session = &harness.state().session;
    assert_eq!(session.message, None);
    let worked = session.work.done.clone().unwrap();
    let sheet = whole_way::drawn(&worked, session.shown().unit);
    let ruffle = sheet
        .pieces
        .iter()
        .find(|piece| piece.name == "ruffle")
        .unwrap();
    let lines: Vec<kurbo::Rect> = ruffle
        .drawing
        .items
        .iter()
        .filter(|item| match &item.ink {
            petitoile_exchange::drawing::Ink::Text { words, .. } => {
                words.contains("drawn in + ") || words.contains("begun, ")
            }
            _ => false,
        })
        .map(|item| item.bounds())
        .collect();
    let [first, second] = lines[..] else {
        panic!("{lines:?}");
    };
    assert!(
        first.intersect(second).area() <= 0.0,
        "lines do not cover each other"
    );
    assert!(ruffle.bounds.contains_rect(first) && ruffle.bounds.contains_rect(second));
}
