#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use proptest::prelude::*;

use super::*;
use crate::check::samples::{RIGHT, finished_with, garment, seam, stretch, strip};
use crate::edge::Finish;
use crate::seams::Stretch;
use crate::units::LengthUnit;

/// A front, a back and a yoke as wide as both, front and back sewn at their sides.
fn blouse() -> Garment {
    garment(
        vec![
            strip("Front", 100.0, 60.0),
            strip("Back", 80.0, 60.0),
            strip("Yoke", 180.0, 30.0),
        ],
        vec![seam(
            "side",
            vec![stretch("Front", "right", 1.0, 0.0)],
            vec![stretch("Back", "left", 0.0, 1.0)],
            Relation::Equal,
        )],
    )
}

fn yoke_seam() -> Seam {
    seam(
        "yoke",
        vec![stretch("Yoke", "hem", 0.0, 1.0)],
        vec![
            stretch("Front", "waist", 1.0, 0.0),
            stretch("Back", "waist", 1.0, 0.0),
        ],
        Relation::Equal,
    )
}

fn sewn() -> Garment {
    SeamChange::Sew(yoke_seam())
        .applied(&blouse())
        .unwrap()
        .garment
}

fn told(altered: &Altered) -> Vec<String> {
    altered.notes.iter().map(ToString::to_string).collect()
}

fn why(change: &SeamChange, garment: &Garment) -> String {
    change.applied(garment).unwrap_err().to_string()
}

#[test]
fn a_seam_is_sewn_and_sewn_again_in_its_place() {
    let first = SeamChange::Sew(yoke_seam()).applied(&blouse()).unwrap();
    assert_eq!((first.garment.seams.len(), first.notes.len()), (2, 0));
    let shorter = Seam {
        b: vec![stretch("Front", "waist", 1.0, 0.0)],
        ..yoke_seam()
    };
    let again = SeamChange::Sew(shorter.clone())
        .applied(&first.garment)
        .unwrap();
    assert_eq!(again.garment.seams[1], shorter);
    assert_eq!(
        told(&again),
        [
            "yoke: its first side is 180.0 mm long, its second 100.0 mm: 80.0 mm too long for how they are to be sewn. Ease or gather it in, or alter one of the edges."
        ]
    );
}

#[test]
fn what_cannot_be_sewn_is_refused() {
    let with =
        |a: Stretch, b: Stretch| SeamChange::Sew(seam("new", vec![a], vec![b], Relation::Equal));
    let hem = || stretch("Back", "hem", 0.0, 1.0);
    insta::assert_snapshot!(why(&with(stretch("Cuff", "hem", 0.0, 1.0), hem()), &blouse()), @"there is no piece called Cuff any more");
    insta::assert_snapshot!(why(&with(stretch("Front", "neckline", 0.0, 1.0), hem()), &blouse()), @"the piece has no edge called neckline any more");
    insta::assert_snapshot!(why(&with(stretch("Front", "hem", 0.0, 1.4), hem()), &blouse()), @"Front, hem: the stretch runs beyond the ends of its edge; shorten it");
    insta::assert_snapshot!(why(&with(stretch("Front", "hem", 0.0, f64::NAN), hem()), &blouse()), @"Front, hem: the stretch runs beyond the ends of its edge; shorten it");
    insta::assert_snapshot!(why(&with(stretch("Back", "hem", 0.0, 0.5), hem()), &blouse()), @"Back, hem would be sewn to itself over 50 % of its length; choose another edge for one side");
    insta::assert_snapshot!(why(&with(stretch("Front", "hem", 0.5, 0.5), hem()), &blouse()), @"one side of the seam has no length; choose an edge for it");
    let other_copy = Stretch {
        copy: RIGHT,
        ..stretch("Front", "hem", 0.0, 1.0)
    };
    insta::assert_snapshot!(why(&with(other_copy, hem()), &blouse()), @"Front, hem: no copy is cut for that side and layer; cut one, or sew another copy");
    let mut folded = blouse();
    folded.pieces[0] = std::sync::Arc::new(finished_with(
        strip("Front", 100.0, 60.0),
        "left",
        Finish::Fold,
    ));
    insta::assert_snapshot!(why(&with(stretch("Front", "left", 0.0, 1.0), hem()), &folded), @"Front, left: is cut on the fold and has no raw edge to sew; sew another edge");
    let ratio = Seam {
        relation: Relation::Ratio(0.0),
        ..yoke_seam()
    };
    insta::assert_snapshot!(why(&SeamChange::Sew(ratio), &blouse()), @"the ratio of the two sides must be above 0; 1 is equal, 2 is gathered to half");
    let nameless = Seam {
        name: "  ".to_owned(),
        ..yoke_seam()
    };
    insta::assert_snapshot!(why(&SeamChange::Sew(nameless), &blouse()), @"a seam needs a name; type one");
}

#[test]
fn sewing_over_a_hem_and_over_another_seam_is_said() {
    let mut hemmed = blouse();
    hemmed.pieces[0] = std::sync::Arc::new(finished_with(
        strip("Front", 100.0, 60.0),
        "right",
        Finish::Hem {
            width: None,
            turns: 1,
        },
    ));
    let again = Seam {
        name: "side again".to_owned(),
        ..hemmed.seams[0].clone()
    };
    assert_eq!(
        told(&SeamChange::Sew(again).applied(&hemmed).unwrap()),
        [
            "side again: Front, right is finished otherwise there (hem). Finish it as a seam over the stretch that is sewn.",
            "side again: part of it is sewn already in side. Unpick that, if it was not meant; a band that is folded over is sewn twice."
        ]
    );
}

#[test]
fn a_seam_is_unpicked_renamed_and_set() {
    let unpick = SeamChange::Unpick {
        seam: "side".to_owned(),
    };
    let unpicked = unpick.applied(&sewn()).unwrap();
    assert_eq!(unpicked.garment.seams.len(), 1);
    assert!(unpicked.carried.seam("side").is_empty());
    insta::assert_snapshot!(why(&unpick, &unpicked.garment), @"there is no seam called side any more");
    let rename = |name: &str| SeamChange::Rename {
        seam: "side".to_owned(),
        name: name.to_owned(),
    };
    let renamed = rename("side seam").applied(&sewn()).unwrap();
    assert_eq!(renamed.garment.seams[0].name, "side seam");
    assert_eq!(renamed.carried.seam("side"), ["side seam"]);
    insta::assert_snapshot!(why(&rename("yoke"), &sewn()), @"another seam is called yoke already; choose another name");
    let kind = SeamChange::SetKind {
        seam: "side".to_owned(),
        kind: SeamKind::French,
    };
    assert_eq!(
        kind.applied(&sewn()).unwrap().garment.seams[0].kind,
        SeamKind::French
    );
    let eased = SeamChange::SetRelation {
        seam: "side".to_owned(),
        relation: Relation::Eased(Mm(4.0)),
    };
    let eased = eased.applied(&sewn()).unwrap();
    assert_eq!(
        told(&eased),
        [
            "side: its first side is 60.0 mm long, its second 60.0 mm: 4.0 mm too short for how they are to be sewn. Ease or gather it in, or alter one of the edges."
        ]
    );
}

#[test]
fn matched_notches_fall_on_the_right_stretches() {
    let notch = |at: f64, at_mate: f64| SeamChange::MatchNotch {
        seam: "yoke".to_owned(),
        at,
        at_mate,
        kind: NotchKind::Double,
    };
    let marked = notch(0.75, 0.75).applied(&sewn()).unwrap().garment;
    let back = &marked.piece("Back").unwrap().notches;
    // 135 mm along: 100 mm of front, then 35 of the back's 80 mm, drawn from the right.
    assert!((back[0].fraction - (1.0 - 35.0 / 80.0)).abs() < 1e-9);
    assert_eq!(marked.piece("Front").unwrap().notches, Vec::new());
    let again = notch(0.75, 0.75).applied(&marked).unwrap();
    assert_eq!(again.notes.len(), 2);
    assert_eq!(again.garment, marked);
    insta::assert_snapshot!(why(&notch(0.5, 1.0), &sewn()), @"the notch would lie 180.0 mm from the start of a side that is 180.0 mm long; put it between the ends, the ends meet anyway");
    insta::assert_snapshot!(why(&notch(f64::NAN, 0.5), &sewn()), @"its distance is not a number");
}

#[test]
fn every_change_of_a_seam_has_a_name_in_the_makers_unit() {
    let seam = || "side".to_owned();
    let changes = [
        SeamChange::Sew(yoke_seam()),
        SeamChange::Unpick { seam: seam() },
        SeamChange::Rename {
            seam: seam(),
            name: "left side".to_owned(),
        },
        SeamChange::SetRelation {
            seam: seam(),
            relation: Relation::Eased(Mm(3.175)),
        },
        SeamChange::SetRelation {
            seam: seam(),
            relation: Relation::Ratio(1.5),
        },
        SeamChange::SetKind {
            seam: seam(),
            kind: SeamKind::Overedged,
        },
        SeamChange::MatchNotch {
            seam: seam(),
            at: 0.5,
            at_mate: 0.5,
            kind: NotchKind::Single,
        },
        SeamChange::MoveLine {
            seam: seam(),
            at_start: Mm(6.35),
            at_end: Mm(6.35),
        },
        SeamChange::MoveLine {
            seam: seam(),
            at_start: Mm(6.35),
            at_end: Mm(0.0),
        },
        SeamChange::True {
            seam: seam(),
            at_start: false,
            to: TrueTo::Smooth,
        },
        SeamChange::Distinguish {
            piece: "Cuff".to_owned(),
        },
    ];
    let words: Vec<String> = changes
        .iter()
        .map(|change| change.words(LengthUnit::Inch))
        .collect();
    insta::assert_snapshot!(words.join("\n"), @r"
    sew yoke
    unpick side
    call the seam side left side
    side: eased by 1/8 in
    side: gathered 1.50 to 1
    side: overcast seam
    side: matching single notches
    side: seam line moved by 1/4 in
    side: seam line moved by 1/4 in at its start, 0 in at its end
    true side smooth at its end
    Cuff: notches that tell its sides apart
    ");
}

proptest! {
    #[test]
    fn matched_notches_meet_when_the_seam_is_walked(at in 0.01..0.99_f64, shift in -0.005..0.005_f64) {
        let marked = SeamChange::MatchNotch {
            seam: "yoke".to_owned(),
            at,
            at_mate: at + shift,
            kind: NotchKind::Triple,
        }
        .applied(&sewn())
        .unwrap();
        let walked = marked.garment.seams[1].walked(&marked.garment.pieces).unwrap();
        prop_assert!(walked.alone.is_empty());
        prop_assert_eq!(walked.pairs.len(), 1);
        // As far apart as the maker asked, and no more.
        prop_assert!((walked.pairs[0].apart.0 - shift.abs() * 180.0).abs() < 1e-6);
    }
}

/// Two pieces that share one curved line: cut apart there, they lie on each other.
fn cut_apart(bend: [(f64, f64); 2], slants: (f64, f64)) -> Garment {
    use crate::edge::Edge;
    use crate::geometry::curve::Line;
    use crate::geometry::outline::Outline;
    use crate::piece::Piece;
    use kurbo::{Point, Vec2};

    let (foot, top) = (
        Point::new(100.0, slants.0),
        Point::new(100.0, 60.0 + slants.1),
    );
    let curve = Line::new(vec![
        foot,
        Point::new(100.0 + bend[0].0, 20.0 + bend[0].1),
        Point::new(100.0 + bend[1].0, 40.0 + bend[1].1),
        top,
    ])
    .unwrap();
    let p = Point::new;
    let side = |name: &str, a, b| Edge::seam(name, Line::straight(a, b));
    let front = vec![
        side("hem", p(0.0, 0.0), foot),
        Edge::seam("right", curve.clone()),
        side("waist", top, p(0.0, 60.0)),
        side("left", p(0.0, 60.0), p(0.0, 0.0)),
    ];
    // Drawn elsewhere and turned, as pieces are.
    let moved = |q: Point| {
        let turned = kurbo::Affine::rotate(0.4) * q;
        turned + Vec2::new(37.0, -12.0)
    };
    let back = vec![
        side("hem", foot, p(180.0, 0.0)),
        side("right", p(180.0, 0.0), p(180.0, 60.0)),
        side("waist", p(180.0, 60.0), top),
        Edge::seam("left", curve.reversed()),
    ];
    let back = back.into_iter().map(|edge| Edge {
        line: edge.line.mapped(moved),
        ..edge
    });
    let piece = |name: &str, edges: Vec<Edge>| Piece {
        outline: Outline::new(edges).unwrap(),
        ..strip(name, 1.0, 1.0)
    };
    let mut cut = garment(
        vec![
            piece("Front", front),
            piece("Back", back.collect()),
            strip("Yoke", 180.0, 30.0),
        ],
        vec![blouse().seams[0].clone(), yoke_seam()],
    );
    cut.seams[1].relation = Relation::Ratio(1.0);
    cut
}

fn moved_line(at_start: f64, at_end: f64) -> SeamChange {
    SeamChange::MoveLine {
        seam: "side".to_owned(),
        at_start: Mm(at_start),
        at_end: Mm(at_end),
    }
}

#[test]
fn a_style_line_moved_gives_one_piece_what_the_other_loses() {
    use crate::edge::OutlinePoint;
    use crate::measure::Level;
    use crate::notch::Notch;
    use crate::piece::BodyLine;

    let mut blouse = sewn();
    for (piece, fractions) in [("Front", [0.5, 0.9]), ("Back", [0.05, 0.5])] {
        let piece = blouse
            .pieces
            .iter_mut()
            .find(|p| p.name == piece)
            .map(std::sync::Arc::make_mut)
            .unwrap();
        piece.notches.extend(fractions.map(|fraction| Notch {
            edge: "hem".to_owned(),
            fraction,
            kind: NotchKind::Single,
        }));
        piece.body_lines.push(BodyLine {
            level: Level::Waist,
            from: OutlinePoint::new("waist", 1.0),
            to: OutlinePoint::new("waist", 0.0),
        });
    }
    let after = moved_line(10.0, 10.0).applied(&blouse).unwrap();
    let width = |name: &str| after.garment.piece(name).unwrap().outline.bounds().width();
    assert!((width("Front") - 110.0).abs() < 1e-9 && (width("Back") - 70.0).abs() < 1e-9);
    let hem = |name: &str| -> Vec<f64> {
        let piece = after.garment.piece(name).unwrap();
        let mut at: Vec<f64> = piece
            .notches
            .iter()
            .map(|n| n.fraction * piece.outline.edge("hem").unwrap().line.length())
            .collect();
        at.sort_by(f64::total_cmp);
        at
    };
    // The back's notch 4 mm from the seam is on the front now.
    for (found, wanted) in hem("Front").iter().zip([50.0, 90.0, 104.0]) {
        assert!((found - wanted).abs() < 1e-6, "{:?}", hem("Front"));
    }
    assert!((hem("Back")[0] - 30.0).abs() < 1e-6 && hem("Back").len() == 1);
    for piece in ["Front", "Back"] {
        let piece = after.garment.piece(piece).unwrap();
        let line = &piece.body_lines[0];
        let across = piece.point_at(&line.from).unwrap() - piece.point_at(&line.to).unwrap();
        assert!((across.hypot() - piece.outline.bounds().width()).abs() < 1e-6);
    }
    let yoke = &after.garment.seams[1];
    assert_eq!(yoke.b.len(), 2);
    assert!(yoke.difference(&after.garment.pieces).unwrap().0.abs() < 1e-6);
    let told = told(&after);
    insta::assert_snapshot!(told.join("\n"), @r"
side: Front, hem moved by up to 10.0 mm and is 10.0 mm longer. Walk the seams it belongs to.
side: Front, right moved by up to 10.0 mm and is as long as before. Walk the seams it belongs to.
side: Front, waist moved by up to 10.0 mm and is 10.0 mm longer. Walk the seams it belongs to.
side: Back, hem moved by up to 10.0 mm and is 10.0 mm shorter. Walk the seams it belongs to.
side: Back, waist moved by up to 10.0 mm and is 10.0 mm shorter. Walk the seams it belongs to.
side: Back, left moved by up to 10.0 mm and is as long as before. Walk the seams it belongs to.
");
}

#[test]
fn a_style_line_that_cannot_be_moved_is_refused() {
    let refused = |change: SeamChange, garment: &Garment| why(&change, garment);
    insta::assert_snapshot!(refused(moved_line(80.0, 10.0), &sewn()), @"Back, waist is only 80.0 mm long; move the seam by less than that");
    insta::assert_snapshot!(refused(moved_line(f64::NAN, 10.0), &sewn()), @"its distance is not a number");
    let yoke = SeamChange::MoveLine {
        seam: "yoke".to_owned(),
        at_start: Mm(5.0),
        at_end: Mm(5.0),
    };
    insta::assert_snapshot!(refused(yoke, &sewn()), @"only the seam between one whole edge and one whole edge moves as a style line; split the seam there first");
    let mut bowed = cut_apart([(20.0, 0.0), (20.0, 0.0)], (0.0, 0.0));
    bowed.pieces[1] = std::sync::Arc::new(strip("Back", 80.0, 60.0));
    insta::assert_snapshot!(refused(moved_line(5.0, 5.0), &bowed), @"laid side by side the two sides part by 15.0 mm, so there is no one line to move; make both edges alike first, or add width to one piece and take it off the other");
}

proptest! {
    #[test]
    fn a_moved_style_line_keeps_both_sides_and_the_cloth_of_both_together(
        first in (-20.0..20.0_f64, -8.0..8.0_f64),
        second in (-20.0..20.0_f64, -8.0..8.0_f64),
        slants in (-8.0..8.0_f64, -8.0..8.0_f64),
        by in (-25.0..25.0_f64, -25.0..25.0_f64),
    ) {
        let before = cut_apart([first, second], slants);
        let after = moved_line(by.0, by.1).applied(&before).unwrap();
        let area = |garment: &Garment| -> f64 {
            garment.pieces.iter().map(|piece| piece.outline.area()).sum()
        };
        prop_assert!((area(&before) - area(&after.garment)).abs() < 1e-6);
        let side = &after.garment.seams[0];
        prop_assert!(side.difference(&after.garment.pieces).unwrap().0.abs() < 1e-9);
        // The yoke is sewn to as much of both as before.
        let yoke = |garment: &Garment| {
            crate::seams::side_length(&garment.seams[1].b, &garment.pieces).unwrap().0
        };
        prop_assert!((yoke(&before) - yoke(&after.garment)).abs() < 1e-6);

        // And back again.
        let back = moved_line(-by.0, -by.1).applied(&after.garment).unwrap().garment;
        for (old, new) in before.pieces.iter().zip(&back.pieces) {
            for edge in old.outline.edges() {
                let now = &new.outline.edge(&edge.name).unwrap().line;
                prop_assert!((edge.line.start() - now.start()).hypot() < 1e-6);
            }
        }
    }
}

#[test]
fn a_panel_between_front_and_back_gets_notches_that_tell_its_sides_apart() {
    use crate::check::samples::four;

    let whole = |piece: &str, edge: &str| vec![stretch(piece, edge, 0.0, 1.0)];
    let panel = |lean: f64| {
        garment(
            vec![
                four(
                    "Side",
                    [(0.0, -lean), (60.0, 0.0), (50.0, 80.0), (10.0, 80.0)],
                ),
                strip("Front", 70.0, 80.0),
                strip("Back", 70.0, 80.0),
            ],
            vec![
                seam(
                    "front side",
                    whole("Side", "left"),
                    whole("Front", "left"),
                    Relation::Equal,
                ),
                seam(
                    "back side",
                    whole("Side", "right"),
                    whole("Back", "right"),
                    Relation::Equal,
                ),
            ],
        )
    };
    let change = SeamChange::Distinguish {
        piece: "Side".to_owned(),
    };
    let marked = change.applied(&panel(1.5)).unwrap();
    let kinds = |name: &str| -> Vec<NotchKind> {
        let piece = marked.garment.piece(name).unwrap();
        piece.notches.iter().map(|notch| notch.kind).collect()
    };
    assert_eq!(kinds("Front"), [NotchKind::Single]);
    assert_eq!(kinds("Back"), [NotchKind::Double]);
    assert_eq!(kinds("Side").len(), 2);
    insta::assert_snapshot!(why(&change, &marked.garment), @"Side cannot be set the wrong way round: turned over or round it looks different, its edges go to the same mates, or its notches tell already; nothing to mark");
    assert!(change.applied(&panel(30.0)).is_err(), "an eye sees 30 mm");
}
