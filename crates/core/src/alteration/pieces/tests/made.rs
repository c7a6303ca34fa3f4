//! Pieces made from pieces: facings, linings, gussets, bindings.

use super::*;
use crate::alteration::{round_an_edge, turn_of_cloth};
use crate::drafts::{Constants, DraftMeasures, gown};
use crate::piece::{Copy, Role};
use crate::seams::{Seam, SeamKind, side_length};
use crate::units::Mm;

/// Fact sheet row H02: cloth of 0.5 mm, half a turn: 1.571 mm; round a stack of 1 mm, in its middle: 2.356 mm.
#[test]
fn turn_of_cloth_is_half_pi_times_the_thickness_for_every_quarter_turn() {
    assert!((turn_of_cloth(Mm(0.5), 2).0 - 1.571).abs() < 5e-4);
    assert!((turn_of_cloth(Mm(0.5), 1).0 * 2.0 - turn_of_cloth(Mm(0.5), 2).0).abs() < 1e-12);
    assert!((round_an_edge(Mm(1.0), Mm(0.5)).0 - 2.356).abs() < 5e-4);
}

/// A quarter of a neck hole of radius 40 round (0, 0), shoulder along x from 40 to 120, fold upright below the neck.
fn neck(on_fold: bool) -> Garment {
    let k = 0.552_284_749_830_793_6 * 40.0;
    let p = |x: f64, y: f64| Point::new(x, y);
    let neckline = Line::new(vec![p(40.0, 0.0), p(40.0, -k), p(k, -40.0), p(0.0, -40.0)]).unwrap();
    let edges = vec![
        Edge::seam("neckline", neckline),
        Edge::seam("centre", Line::straight(p(0.0, -40.0), p(0.0, -200.0))),
        Edge::seam("hem", Line::straight(p(0.0, -200.0), p(120.0, -200.0))),
        Edge::seam("side", Line::straight(p(120.0, -200.0), p(120.0, 0.0))),
        Edge::seam("shoulder", Line::straight(p(120.0, 0.0), p(40.0, 0.0))),
    ];
    let mut front = Piece {
        outline: Outline::new(edges).unwrap(),
        copies: vec![RIGHT, LEFT],
        ..strip("Front", 1.0, 1.0)
    };
    front.notches = vec![Notch {
        edge: "neckline".to_owned(),
        fraction: 0.5,
        kind: NotchKind::Single,
    }];
    if on_fold {
        front = finished_with(front, "centre", Finish::Fold);
        front.copies = vec![WHOLE];
    }
    garment(vec![front], Vec::new())
}

fn facing(edges: &[&str], depth: f64, turn: f64) -> PiecesChange {
    PiecesChange::Facing {
        piece: "Front".to_owned(),
        edges: edges.iter().map(|edge| (*edge).to_owned()).collect(),
        depth: Mm(depth),
        turn_of_cloth: Mm(turn),
        name: "Neck facing".to_owned(),
    }
}

#[test]
fn a_neck_facing_is_as_deep_everywhere_and_cut_off_by_shoulder_and_fold() {
    let made = done(&neck(true), facing(&["neckline"], 30.0, 0.8));
    let piece = the(&made.garment, "Neck facing");
    assert_eq!(
        names(piece),
        ["centre", "inner edge", "neckline", "shoulder"]
    );
    let radius = |edge: &str| -> Vec<f64> {
        let line = &piece.outline.edge(edge).unwrap().line;
        (0..=16)
            .map(|i| line.at(f64::from(i) / 16.0).to_vec2().hypot())
            .collect()
    };
    // A circle of one cubic is within 0.03 % of round.
    for r in radius("inner edge") {
        assert!((r - 70.0).abs() < 0.03, "30 mm from the neckline: {r}");
    }
    for r in radius("neckline") {
        assert!((r - 40.8).abs() < 0.03, "a turn of cloth smaller: {r}");
    }
    let length = |edge: &str| piece.outline.edge(edge).unwrap().line.length();
    assert!((length("shoulder") - 29.2).abs() < 1e-6 && (length("centre") - 29.2).abs() < 1e-6);
    assert_eq!(piece.fold_edge().unwrap().name, "centre");
    assert_eq!(piece.copies, vec![WHOLE]);
    assert_eq!(piece.notches.len(), 1);
    let front = the(&made.garment, "Front");
    assert_eq!(
        front.outline.edge("neckline").unwrap().finish_at(0.5),
        Finish::Facing
    );
    let sewn = &made.garment.seams[0];
    assert_eq!(
        (sewn.name.as_str(), sewn.mirrored),
        ("Neck facing to Front", true)
    );
    assert!(sewn.difference(&made.garment.pieces).unwrap().0.abs() < 1e-9);
    let Relation::Eased(by) = sewn.relation else {
        panic!()
    };
    assert!(
        (by.0 + 0.8 * std::f64::consts::FRAC_PI_2).abs() < 0.01,
        "the hollow edge grows by a quarter of 2 pi t: {by:?}"
    );
}

proptest::proptest! {
    #[test]
    fn however_deep_a_facing_of_straight_edges_is_it_is_exactly_so_deep(depth in 2.0..38.0_f64, share in 0.0..0.5_f64) {
        let made = done(&garment(vec![strip("Front", 100.0, 60.0)], Vec::new()), facing(&["hem", "right"], depth, depth * share));
        let piece = the(&made.garment, "Neck facing");
        let turn = depth * share;
        let area = (depth - turn) * (100.0 - turn) + (depth - turn) * (60.0 - depth);
        assert!((piece.outline.area() - area).abs() < 1e-6);
        let inner = &piece.outline.edge("inner edge").unwrap().line;
        assert!((inner.length() - (100.0 - depth) - (60.0 - depth)).abs() < 1e-6);
    }
}

#[test]
fn facings_that_cannot_be_are_refused() {
    let front = neck(true);
    insta::assert_snapshot!(refused(&front, facing(&["neckline"], 90.0, 0.0)), @"a depth of 90.0 mm leaves nothing of shoulder (80.0 mm long); make it less");
    insta::assert_snapshot!(refused(&front, facing(&["neckline"], -3.0, 0.0)), @"a depth of -3.0 mm is none; type one above 0");
    insta::assert_snapshot!(refused(&front, facing(&["neckline"], 30.0, 31.0)), @"a turn of cloth of 31.0 mm does not go into a depth of 30.0 mm; type one between 0 and the depth");
    insta::assert_snapshot!(refused(&front, facing(&["neckline", "hem"], 30.0, 0.0)), @"the chosen edges do not lie side by side; choose those between them too");
    insta::assert_snapshot!(refused(&front, facing(&["centre"], 30.0, 0.0)), @"centre is a fold; choose the edges beside it");
    insta::assert_snapshot!(refused(&front, facing(&[], 30.0, 0.0)), @"no edge was chosen; choose one or more that lie side by side");
    insta::assert_snapshot!(refused(&front, facing(&["collar"], 30.0, 0.0)), @"the piece has no edge called collar any more");
}

fn lining(of: &str, turn: f64) -> PiecesChange {
    PiecesChange::Lining {
        piece: of.to_owned(),
        turn_of_cloth: Mm(turn),
        name: format!("{of} lining"),
    }
}

fn sides() -> Garment {
    let side = seam(
        "side",
        vec![stretch("Front", "right", 0.0, 1.0)],
        vec![stretch("Back", "left", 1.0, 0.0)],
        Relation::Equal,
    );
    let front = finished_with(strip("Front", 100.0, 60.0), "left", Finish::Fold);
    garment(vec![front, strip("Back", 80.0, 60.0)], vec![side])
}

proptest::proptest! {
    #[test]
    fn a_lining_is_smaller_by_exactly_the_turn_of_cloth_but_for_the_fold(turn in 0.0..5.0_f64) {
        let made = done(&sides(), lining("Front", turn));
        let bounds = the(&made.garment, "Front lining").outline.bounds();
        assert!(bounds.x0.abs() < 1e-9, "on the fold it stays");
        assert!((bounds.x1 - (100.0 - turn)).abs() < 1e-9);
        assert!((bounds.y0 - turn).abs() < 1e-9 && (bounds.y1 - (60.0 - turn)).abs() < 1e-9);
    }
}

#[test]
fn linings_are_sewn_together_where_their_shells_are() {
    let one = done(&sides(), lining("Front", 0.5));
    assert_eq!(one.garment.seams.len(), 1, "the back has no lining yet");
    let both = done(&one.garment, lining("Back", 0.5));
    let sewn = both
        .garment
        .seams
        .iter()
        .find(|s| s.name == "side, lining")
        .unwrap();
    assert_eq!(
        (sewn.a[0].piece.as_str(), sewn.b[0].piece.as_str()),
        ("Front lining", "Back lining")
    );
    assert_eq!(sewn.a[0].copy.role, Role::Lining);
    assert_eq!(sewn.relation, Relation::Equal);
    assert!(sewn.difference(&both.garment.pieces).unwrap().0.abs() < 1e-9);
    let lining = the(&both.garment, "Front lining");
    assert_eq!(
        lining.copies,
        vec![Copy {
            role: Role::Lining,
            ..WHOLE
        }]
    );
    assert!(lining.fold_edge().is_some());
}

#[test]
fn a_piece_that_was_cut_in_the_lining_too_hands_that_over() {
    let mut lined = sides();
    for slot in &mut lined.pieces {
        Arc::make_mut(slot).copies.push(Copy {
            role: Role::Lining,
            ..WHOLE
        });
    }
    let mut inside = lined.seams[0].clone();
    inside.name = "side, lining".to_owned();
    for stretch in inside.a.iter_mut().chain(&mut inside.b) {
        stretch.copy.role = Role::Lining;
    }
    lined.seams.push(inside);
    let made = done(&lined, lining("Front", 0.5));
    assert_eq!(the(&made.garment, "Front").copies, vec![WHOLE]);
    let sewn = &made.garment.seams[1];
    assert_eq!(
        (sewn.a[0].piece.as_str(), sewn.b[0].piece.as_str()),
        ("Front lining", "Back")
    );
    assert!(sewn.difference(&made.garment.pieces).unwrap().0.abs() < 1e-9);
    insta::assert_snapshot!(made.notes[0], @"Front: its lining is cut from Front lining now. The seams of the lining went with it.");
    insta::assert_snapshot!(refused(&lined, lining("Front", -1.0)), @"a turn of cloth of -1.0 mm would make the lining larger; type 0 or more");
    insta::assert_snapshot!(refused(&lined, lining("Front", 31.0)), @"a turn of cloth of 31.0 mm leaves nothing of right (60.0 mm long); make it less");
}

/// Draft K (*Clothing for Women*, Lippincott, 1916, fig. 60) as `drafts::gown` computes it, its slit edges made one
/// with the seams they lie on: what it was before the gusset was set in.
fn gown_without_gusset(constants: Constants) -> (Garment, crate::drafts::Draft) {
    let draft = gown(&DraftMeasures::ADULT_92, constants).unwrap();
    let quarter = |name: &str| {
        let outline = draft
            .pieces
            .iter()
            .find(|p| p.name == name)
            .unwrap()
            .outline
            .clone();
        let line = |edge: &str| outline.edge(edge).unwrap().line.clone();
        let mut edges = Vec::new();
        for edge in outline.edges() {
            match edge.name.as_str() {
                "sleeve seam" => edges.push(Edge::seam(
                    "sleeve seam",
                    Line::straight(line("gusset sleeve").start(), edge.line.end()),
                )),
                "side seam" => edges.push(Edge::seam(
                    "side seam",
                    Line::straight(edge.line.start(), line("gusset side").end()),
                )),
                "gusset sleeve" | "gusset side" => {}
                _ => edges.push(edge.clone()),
            }
        }
        Piece {
            outline: Outline::new(edges).unwrap(),
            ..strip(name, 1.0, 1.0)
        }
    };
    let sew = |edge: &str| -> Seam {
        seam(
            edge,
            vec![stretch("front", edge, 0.0, 1.0)],
            vec![stretch("back", edge, 0.0, 1.0)],
            Relation::Equal,
        )
    };
    let whole = garment(
        vec![quarter("front"), quarter("back")],
        vec![sew("sleeve seam"), sew("side seam")],
    );
    (whole, draft)
}

fn gusset(side: f64, width: f64) -> PiecesChange {
    PiecesChange::Gusset {
        piece: "front".to_owned(),
        corner: "sleeve seam".to_owned(),
        side: Mm(side),
        width: Mm(width),
        name: "gusset".to_owned(),
    }
}

#[test]
fn a_square_gusset_of_4_inches_is_that_of_the_published_gown() {
    let (whole, draft) = gown_without_gusset(Constants::Printed);
    let side = 4.0 * 25.4;
    let made = done(&whole, gusset(side, side * std::f64::consts::SQRT_2));
    let square = the(&made.garment, "gusset");
    for edge in square.outline.edges() {
        assert!((edge.line.length() - side).abs() < 1e-9, "{}", edge.name);
    }
    assert!(
        (square.outline.area() - side * side).abs() < 1e-6,
        "four right angles"
    );
    // The seams that are left are those of the draft: side L-K and sleeve M-I, front and back.
    for piece in ["front", "back"] {
        let drawn = &draft
            .pieces
            .iter()
            .find(|p| p.name == piece)
            .unwrap()
            .outline;
        for name in ["side seam", "sleeve seam"] {
            let sewn = made.garment.seams.iter().find(|s| s.name == name).unwrap();
            let mine = if piece == "front" { &sewn.a } else { &sewn.b };
            let line = mine[0].line(&made.garment.pieces).unwrap();
            let published = &drawn.edge(name).unwrap().line;
            assert!(
                (line.start() - published.start()).hypot() < 1e-6,
                "{piece}, {name}"
            );
            assert!(
                (line.end() - published.end()).hypot() < 1e-6,
                "{piece}, {name}"
            );
        }
    }
    // And the four edges of the gusset lie on H-M and H-L of front and back.
    let sewn: Vec<&Seam> = made
        .garment
        .seams
        .iter()
        .filter(|s| s.name.starts_with("gusset to"))
        .collect();
    let names: Vec<&str> = sewn.iter().map(|s| s.name.as_str()).collect();
    assert_eq!(names, ["gusset to front", "gusset to back"]);
    for seam in sewn {
        assert!((side_length(&seam.a, &made.garment.pieces).unwrap().0 - 2.0 * side).abs() < 1e-6);
        assert!(seam.difference(&made.garment.pieces).unwrap().0.abs() < 1e-6);
        let (one, next) = (
            seam.b[0].line(&made.garment.pieces).unwrap(),
            seam.b[1].line(&made.garment.pieces).unwrap(),
        );
        assert!(
            (one.end() - next.start()).hypot() < 1e-9,
            "the gusset is walked round its corner"
        );
        let (one, next) = (
            seam.a[0].line(&made.garment.pieces).unwrap(),
            seam.a[1].line(&made.garment.pieces).unwrap(),
        );
        assert!(
            (one.end() - next.start()).hypot() < 1e-9,
            "and so is the piece"
        );
    }
}

#[test]
fn gussets_that_cannot_be_are_refused_with_mm() {
    let (whole, _) = gown_without_gusset(Constants::Printed);
    insta::assert_snapshot!(refused(&whole, gusset(2000.0, 100.0)), @"a side of 2000.0 mm is 1278.6 mm longer than side seam (721.4 mm); make it less");
    insta::assert_snapshot!(refused(&whole, gusset(50.0, 100.0)), @"four sides of 50.0 mm cannot open 100.0 mm wide; type less than 100.0 mm");
    insta::assert_snapshot!(refused(&whole, gusset(0.0, 100.0)), @"a side of 0.0 mm is none; type one above 0");
}

fn binding(piece: &str, edges: &[&str], width: f64, thickness: f64, bias: bool) -> PiecesChange {
    PiecesChange::Binding {
        piece: piece.to_owned(),
        edges: edges.iter().map(|edge| (*edge).to_owned()).collect(),
        width: Mm(width),
        turn_of_cloth: Mm(thickness),
        bias,
        name: "Binding".to_owned(),
    }
}

/// Fact sheet row B08: 12.7 mm finished, double fold, 50.8 mm cut.
#[test]
fn a_double_fold_binding_is_four_times_as_wide_as_it_shows_and_half_a_turn_more() {
    let made = done(
        &neck(false),
        binding("Front", &["neckline"], 12.7, 0.0, true),
    );
    let strip = the(&made.garment, "Binding");
    let bounds = strip.outline.bounds();
    assert!((bounds.height() - 50.8).abs() < 1e-9);
    assert!(
        (bounds.width() - 20.0 * std::f64::consts::PI).abs() < 0.02,
        "as long as the neckline"
    );
    let (a, b) = strip.grainline.unwrap();
    assert!(((b - a).x - (b - a).y).abs() < 1e-9, "on the bias");
    assert!(strip.outline.contains(a) && strip.outline.contains(b));
    let thick = done(
        &neck(false),
        binding("Front", &["neckline"], 12.7, 1.0, false),
    );
    let wider = the(&thick.garment, "Binding").outline.bounds().height() - 50.8;
    assert!((wider - std::f64::consts::FRAC_PI_2).abs() < 1e-9);
    let sewn = &made.garment.seams[0];
    assert_eq!(sewn.kind, SeamKind::Bound);
    assert!(sewn.difference(&made.garment.pieces).unwrap().0.abs() < 1e-9);
    let front = the(&made.garment, "Front");
    assert_eq!(
        front.outline.edge("neckline").unwrap().finish_at(0.5),
        Finish::Raw,
        "nothing is added to a bound edge"
    );
}

#[test]
fn a_bound_neck_on_the_fold_takes_one_strip_for_both_halves() {
    let made = done(&neck(true), binding("Front", &["neckline"], 6.0, 0.0, true));
    let bounds = the(&made.garment, "Binding").outline.bounds();
    assert!((bounds.width() - 40.0 * std::f64::consts::PI).abs() < 0.04);
    let sewn = &made.garment.seams[0];
    assert!(sewn.difference(&made.garment.pieces).unwrap().0.abs() < 1e-9);
    insta::assert_snapshot!(refused(&neck(true), binding("Front", &["neckline"], 0.0, 0.0, true)), @"a width of 0.0 mm is none; type one above 0");
}

#[test]
fn undo_steps_name_what_was_made_with_its_sizes() {
    let words = |change: PiecesChange, unit| Alteration::Pieces(change).words(unit);
    insta::assert_snapshot!(words(facing(&["neckline"], 38.1, 0.5), LengthUnit::Inch), @"Neck facing of Front, 1 1/2 in deep, 1/32 in turn of cloth");
    insta::assert_snapshot!(words(gusset(101.6, 60.0), LengthUnit::Millimetre), @"gusset into front, sides 101.6 mm, 60 mm wide");
    insta::assert_snapshot!(words(binding("Front", &["neckline"], 6.35, 0.5, true), LengthUnit::Millimetre), @"Binding of Front, 6.35 mm wide, on the bias");
    insta::assert_snapshot!(words(lining("Front", 0.5), LengthUnit::Centimetre), @"Front lining of Front, 0.05 cm turn of cloth");
    insta::assert_snapshot!(words(cut(at("hem", 0.5), at("waist", 0.5)), LengthUnit::Millimetre), @"cut Front in two: Front and Side front");
}
