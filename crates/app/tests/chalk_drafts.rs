//! Two published blocks drafted by hand from nothing, with real pointer and key events: typed lengths, dragged curves.
//!
//! Points, lengths and steering points are those of `facts/DRAFTS.md`, section 8 (adult92, inches as printed), typed to
//! the hundredth of a millimetre as a maker would read them from the page; what comes out is compared with the draft
//! that `petitoile_core::drafts` computes. The pointer only ever stands on whole points of the screen.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod common;

use common::{harness, type_over};
use egui::{Event, Key, Modifiers, PointerButton, Pos2, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use kurbo::Point;
use petitoile::window::Window;
use petitoile_core::drafts::{Constants, DraftMeasures, fitted_bodice, gored_skirt};
use petitoile_core::geometry::outline::Outline;
use petitoile_core::project::Project;

/// How near the hand-drawn outline must come to the computed one, mm.
const WITHIN: f64 = 0.1;

type Hand<'a> = Harness<'a, Window>;

/// A new garment from the empty window, the Line tool in hand.
fn begin(garment: &str) -> Hand<'static> {
    let mut hand = harness(Project::default());
    hand.key_press_modifiers(Modifiers::COMMAND, Key::N);
    hand.run();
    hand.event(Event::Text(garment.to_owned()));
    hand.run();
    hand.get_by_label("Start it").click();
    hand.run();
    hand.get_by_label("Line").click();
    hand.run();
    hand
}

/// Types on the table, as on a keyboard: a tab goes on to the next number, a line end is Enter.
fn type_on_table(hand: &mut Hand<'_>, text: &str) {
    for sign in text.chars() {
        match sign {
            '\t' => hand.key_press(Key::Tab),
            '\n' => hand.key_press(Key::Enter),
            sign => hand.event(Event::Text(sign.to_string())),
        }
        hand.step();
    }
    hand.run();
}

/// Types how far to the right and up the next point lies, in the tray.
fn right_and_up(hand: &mut Hand<'_>, right: &str, up: &str) {
    for (field, text) in [("Right", right), ("Up", up)] {
        let is_field = |node: &egui_kittest::Node<'_>| {
            node.accesskit_node().role() == egui::accesskit::Role::TextInput
        };
        hand.get_all_by_label(field).find(is_field).unwrap().focus();
        hand.run();
        hand.get_all_by_label(field)
            .find(is_field)
            .unwrap()
            .type_text(text);
        hand.run();
    }
    hand.key_press(Key::Enter);
    hand.run();
}

fn canvas(hand: &Hand<'_>) -> egui::Rect {
    hand.get_by_label("Chalk table").rect()
}

/// The whole point of the screen nearest to a place of the table.
fn on_screen(hand: &Hand<'_>, at: Point) -> Pos2 {
    let p = hand
        .state()
        .session
        .view
        .screen_from_table(canvas(hand), at);
    Pos2::new(p.x.round(), p.y.round())
}

/// Zooms in with the wheel and pans with the right button until the place is in the middle.
fn look_at(hand: &mut Hand<'_>, at: Point) {
    let middle = canvas(hand).center().round();
    hand.hover_at(middle);
    hand.run();
    for _ in 0..40 {
        if hand.state().session.view.scale >= 4.8 {
            break;
        }
        hand.event(Event::MouseWheel {
            unit: egui::MouseWheelUnit::Point,
            delta: egui::vec2(0.0, 30.0),
            phase: egui::TouchPhase::Move,
            source: egui::MouseWheelSource::Unknown,
            modifiers: Modifiers::NONE,
        });
        hand.run();
    }
    for _ in 0..60 {
        let off = on_screen(hand, at) - middle;
        if off.length() < 40.0 {
            return;
        }
        let by = off * (150.0 / off.length()).min(1.0);
        pan(hand, middle, (middle - by).round());
    }
    panic!("the place never came to the middle");
}

fn pan(hand: &mut Hand<'_>, from: Pos2, to: Pos2) {
    let button = |pos, pressed| Event::PointerButton {
        pos,
        button: PointerButton::Secondary,
        pressed,
        modifiers: Modifiers::NONE,
    };
    hand.hover_at(from);
    hand.step();
    hand.event(button(from, true));
    hand.step();
    for i in 1..=4 {
        hand.hover_at(from.lerp(to, i as f32 / 4.0));
        hand.step();
    }
    hand.event(button(to, false));
    hand.run();
}

/// Drags from a point in the direction the line travels there; with Shift only the arriving curve is pulled.
fn pull(hand: &mut Hand<'_>, at: Point, by: (f64, f64), modifiers: Modifiers) {
    let to = at + kurbo::Vec2::from(by);
    look_at(hand, at.midpoint(to));
    let (from, to) = (on_screen(hand, at), on_screen(hand, to));
    let button = |pos, pressed| Event::PointerButton {
        pos,
        button: PointerButton::Primary,
        pressed,
        modifiers,
    };
    hand.event(Event::ModifiersChanged(modifiers));
    hand.hover_at(from);
    hand.step();
    hand.event(button(from, true));
    hand.step();
    for i in 1..=8 {
        hand.hover_at(from + (to - from) * (i as f32 / 8.0));
        hand.step();
    }
    hand.event(button(to, false));
    hand.step();
    hand.event(Event::ModifiersChanged(Modifiers::NONE));
    hand.run();
    assert!(Vec2::ZERO != to - from);
}

fn drawn(hand: &Hand<'_>, piece: &str) -> Outline {
    let session = &hand.state().session;
    let garment = session.project().garments.first().unwrap();
    let found = garment.piece(piece);
    found
        .unwrap_or_else(|| panic!("{:?}, {:?}", garment.pieces.len(), session.message))
        .outline
        .clone()
}

/// Places along an outline, a quarter of a millimetre apart or less.
fn places(outline: &Outline) -> Vec<Point> {
    let lines = outline.edges().iter().map(|edge| &edge.line);
    lines
        .flat_map(|line| {
            let n = (line.length() * 4.0).ceil() as u32;
            (0..=n)
                .map(move |i| line.at(f64::from(i) / f64::from(n)))
                .collect::<Vec<_>>()
        })
        .collect()
}

/// The largest distance of any place of one outline from the other, and the other way round.
fn hausdorff(a: &Outline, b: &Outline) -> f64 {
    let one_way = |a: &Outline, b: &Outline| {
        let on_b = b.path();
        places(a)
            .iter()
            .map(|p| {
                on_b.segments()
                    .map(|s| {
                        kurbo::ParamCurveNearest::nearest(&s, *p, 1e-6)
                            .distance_sq
                            .sqrt()
                    })
                    .fold(f64::INFINITY, f64::min)
            })
            .fold(0.0, f64::max)
    };
    one_way(a, b).max(one_way(b, a))
}

fn check(drawn: &Outline, computed: &Outline, mates: &[(&str, &[&str])]) {
    let off = hausdorff(drawn, computed);
    assert!(off < WITHIN, "{off:.3} mm from the computed draft");
    for (edge, parts) in mates {
        let wanted = computed.edge(edge).unwrap().line.length();
        let got: f64 = parts
            .iter()
            .map(|part| {
                let names: Vec<&str> = drawn.edges().iter().map(|e| e.name.as_str()).collect();
                let edge = drawn.edge(part);
                edge.unwrap_or_else(|| panic!("{part} is not among {names:?}"))
                    .line
                    .length()
            })
            .sum();
        assert!(
            (got - wanted).abs() < WITHIN,
            "{edge}: {got:.3} mm, computed {wanted:.3} mm"
        );
    }
}

/// *Text-Book on Domestic Art*, 1911, "Five-gored underskirt draft": the front gore, half of it on the fold.
#[test]
fn the_front_gore_of_1911_is_drafted_by_hand_to_a_tenth_of_a_millimetre() {
    let mut hand = begin("Underskirt");
    hand.get_by_label("The first line is the fold").click();
    hand.run();
    type_over(&mut hand, "Name of the piece", "Front gore");
    type_on_table(&mut hand, "0\t0\n");
    type_on_table(&mut hand, "535.8\t90\n");
    pull(
        &mut hand,
        Point::new(0.0, 535.8),
        (34.58, 0.0),
        Modifiers::NONE,
    );
    right_and_up(&mut hand, "103.74", "6.35");
    pull(
        &mut hand,
        Point::new(103.74, 542.15),
        (34.58, 0.0),
        Modifiers::SHIFT,
    );
    right_and_up(&mut hand, "91.05", "-542.15");
    hand.key_press(Key::Enter);
    hand.run();
    let outline = drawn(&hand, "Front gore");
    assert_eq!(
        hand.state().session.history.steps(),
        2,
        "the garment, then the piece"
    );
    let draft = gored_skirt(&DraftMeasures::ADULT_92, Constants::Printed).unwrap();
    check(
        &outline,
        draft.outline("front").unwrap(),
        &[
            ("centre front", &["fold"]),
            ("waist", &["top"]),
            ("front seam", &["right side"]),
            ("hem", &["bottom"]),
        ],
    );
    assert!(outline.edge("fold").unwrap().is_fold());
}

/// *Text-Book on Domestic Art*, 1911, "French lining draft": the front with its waist dart.
#[test]
fn the_fitted_front_of_1911_with_its_dart_is_drafted_by_hand_to_a_tenth_of_a_millimetre() {
    let mut hand = begin("Lining");
    type_over(&mut hand, "Name of the piece", "Front");
    let (plain, shift) = (Modifiers::NONE, Modifiers::SHIFT);
    let name = |hand: &mut Hand<'_>, line: &str| type_over(hand, "Name of the line", line);
    // Everything hangs from the handbook's zero at the neck. Centre front from 5 over 2 to 1.
    right_and_up(&mut hand, "19.05", "-472.38");
    name(&mut hand, "centre front, lower");
    right_and_up(&mut hand, "-19.05", "210.95");
    name(&mut hand, "centre front, upper");
    type_on_table(&mut hand, "181.42\t90\n");
    // Neckline from 1 to 7.
    pull(&mut hand, Point::new(0.0, -80.01), (35.07, 0.0), plain);
    name(&mut hand, "neckline");
    right_and_up(&mut hand, "63.5", "80.01");
    pull(&mut hand, Point::new(63.5, 0.0), (0.0, 44.19), shift);
    // Shoulder to 9s; the armscye leaves square to it, runs through g and arrives level at 11.
    name(&mut hand, "shoulder");
    right_and_up(&mut hand, "119.85", "-63.21");
    pull(
        &mut hand,
        Point::new(183.35, -63.21),
        (-16.91, -32.06),
        plain,
    );
    name(&mut hand, "armscye");
    right_and_up(&mut hand, "-16.31", "-107.51");
    pull(&mut hand, Point::new(167.04, -170.72), (0.0, -36.25), shift);
    pull(&mut hand, Point::new(167.04, -170.72), (0.0, -50.10), plain);
    right_and_up(&mut hand, "150.53", "-90.71");
    pull(&mut hand, Point::new(317.57, -261.43), (83.14, 0.0), shift);
    // Side seam, waist, both dart legs; Enter closes along the waist.
    name(&mut hand, "side seam");
    type_on_table(&mut hand, "210.95\t-90\n");
    name(&mut hand, "waist side");
    type_on_table(&mut hand, "143.98\t180\n");
    name(&mut hand, "dart leg side");
    right_and_up(&mut hand, "-45.52", "158.21");
    name(&mut hand, "dart leg centre");
    right_and_up(&mut hand, "-45.52", "-158.21");
    name(&mut hand, "waist centre");
    hand.key_press(Key::Enter);
    hand.run();
    let draft = fitted_bodice(&DraftMeasures::ADULT_92, Constants::Printed).unwrap();
    check(
        &drawn(&hand, "Front"),
        draft.outline("front").unwrap(),
        &[
            (
                "centre front",
                &["centre front, lower", "centre front, upper"],
            ),
            ("neckline", &["neckline"]),
            ("shoulder", &["shoulder"]),
            ("armscye", &["armscye"]),
            ("side seam", &["side seam"]),
            ("waist side", &["waist side"]),
            ("dart leg side", &["dart leg side"]),
            ("dart leg centre", &["dart leg centre"]),
            ("waist centre", &["waist centre"]),
        ],
    );
}
