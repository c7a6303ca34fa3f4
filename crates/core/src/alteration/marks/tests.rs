#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use kurbo::Point;

use super::*;
use crate::check::samples::{LEFT, RIGHT, finished_with, garment, seam, stretch, strip};
use crate::geometry::curve::Line;
use crate::seams::{Insert, InsertKind, Relation, side_length};
use crate::units::{LengthUnit, Mm};

fn front() -> Garment {
    garment(vec![strip("Front", 100.0, 60.0)], Vec::new())
}

fn after(garment: &Garment, change: MarkChange) -> Altered {
    change.applied(garment, "Front").unwrap()
}

fn refused(garment: &Garment, change: MarkChange) -> String {
    let error = change.applied(garment, "Front").unwrap_err().to_string();
    assert!(!error.is_empty());
    error
}

fn the<'a>(altered: &'a Altered, piece: &str) -> &'a Piece {
    altered.garment.piece(piece).unwrap()
}

fn notch(edge: &str, fraction: f64, kind: NotchKind) -> Notch {
    Notch {
        edge: edge.to_owned(),
        fraction,
        kind,
    }
}

fn mark(name: &str, kind: MarkKind) -> Mark {
    Mark {
        name: name.to_owned(),
        kind,
    }
}

fn finish(edge: &str, from: f64, to: f64, finish: Finish) -> MarkChange {
    MarkChange::SetFinish {
        edge: edge.to_owned(),
        from,
        to,
        finish,
    }
}

fn stretches(piece: &Piece, edge: &str) -> Vec<(f64, f64, Finish)> {
    let list = &piece.outline.edge(edge).unwrap().finish;
    list.iter().map(|s| (s.from, s.to, s.finish)).collect()
}

#[test]
fn notches_are_set_moved_and_taken_out() {
    let set = after(
        &front(),
        MarkChange::AddNotch(notch("right", 0.25, NotchKind::Single)),
    );
    let moved = after(
        &set.garment,
        MarkChange::SetNotch {
            number: 0,
            at: OutlinePoint::new("left", 1.0),
            kind: NotchKind::Triple,
        },
    );
    assert_eq!(
        the(&moved, "Front").notches,
        vec![notch("left", 1.0, NotchKind::Triple)]
    );
    let none = after(&moved.garment, MarkChange::RemoveNotch { number: 0 });
    assert_eq!(none.garment, front(), "as it was before");
}

#[test]
fn a_notch_may_change_its_strokes_where_it_is() {
    let set = after(
        &front(),
        MarkChange::AddNotch(notch("right", 0.25, NotchKind::Single)),
    );
    let change = MarkChange::SetNotch {
        number: 0,
        at: OutlinePoint::new("right", 0.25),
        kind: NotchKind::Double,
    };
    let double = after(&set.garment, change);
    assert_eq!(the(&double, "Front").notches[0].kind, NotchKind::Double);
}

#[test]
fn what_cannot_be_marked_is_refused_with_mm_and_advice() {
    let add = |edge: &str, fraction| {
        refused(
            &front(),
            MarkChange::AddNotch(notch(edge, fraction, NotchKind::Single)),
        )
    };
    insta::assert_snapshot!(add("right", 1.1), @"the notch would lie 6.0 mm beyond the end of right; put it on the edge");
    insta::assert_snapshot!(add("armscye", 0.5), @"the piece has no edge called armscye any more");
    insta::assert_snapshot!(add("right", f64::NAN), @"its distance is not a number");
    let set = after(
        &front(),
        MarkChange::AddNotch(notch("right", 0.25, NotchKind::Single)),
    );
    insta::assert_snapshot!(refused(&set.garment, MarkChange::AddNotch(notch("right", 0.2501, NotchKind::Double))), @"right is notched there already; move that notch, or give it more strokes");
    insta::assert_snapshot!(refused(&front(), MarkChange::RemoveNotch { number: 2 }), @"the piece has no notch number 3 any more");
    insta::assert_snapshot!(refused(&front(), MarkChange::SetCopies(Vec::new())), @"a piece is cut at least once; take the piece out if it is not needed");
    let point = Point::new(3.0, 3.0);
    insta::assert_snapshot!(refused(&front(), MarkChange::SetGrain(Some((point, point)))), @"a grainline of 0.00 mm has no direction; draw it longer");
    let add = |name: &str, kind| refused(&front(), MarkChange::AddMark(mark(name, kind)));
    insta::assert_snapshot!(add("", MarkKind::Buttonhole(point, point)), @"the buttonhole is only 0.00 mm long; draw it longer");
    insta::assert_snapshot!(add(" ", MarkKind::Text(point)), @"there are no words to write; type some");
    insta::assert_snapshot!(add("", MarkKind::Eyelet { at: point, diameter: Mm(0.0) }), @"a width of 0.0 mm is none for the eyelet; type one above 0");
    insta::assert_snapshot!(refused(&front(), MarkChange::RemoveBodyLine(Level::Knee)), @"no knee line crosses the piece any more");
}

#[test]
fn a_mark_beside_the_piece_is_told_and_one_on_it_is_not() {
    let dot = |x| {
        let dot = mark("pocket", MarkKind::Dot(Point::new(x, 30.0)));
        after(&front(), MarkChange::AddMark(dot)).notes
    };
    assert_eq!(dot(50.0), Vec::new());
    insta::assert_snapshot!(dot(104.5)[0], @"Front: the dot pocket lies 4.5 mm outside its stitch line. Move it onto the piece, unless it is meant for the allowance.");
}

#[test]
fn every_kind_of_mark_moves_with_the_piece_that_is_lengthened_above_it() {
    use crate::piece::BodyLine;
    let p = |x: f64, y: f64| Point::new(x, y);
    let line = Line::straight(p(10.0, 10.0), p(30.0, 10.0));
    let kinds = [
        MarkKind::Dot(p(10.0, 10.0)),
        MarkKind::Line(line.clone()),
        MarkKind::Buttonhole(p(10.0, 10.0), p(16.0, 10.0)),
        MarkKind::Fold(line.clone()),
        MarkKind::Stitch(line.clone()),
        MarkKind::Text(p(20.0, 10.0)),
        MarkKind::Channel {
            line,
            width: Mm(5.0),
        },
        MarkKind::Eyelet {
            at: p(20.0, 10.0),
            diameter: Mm(3.0),
        },
    ];
    let mut piece = strip("Front", 100.0, 60.0);
    piece.body_lines.push(BodyLine {
        level: Level::Waist,
        from: OutlinePoint::new("left", 0.5),
        to: OutlinePoint::new("right", 0.5),
    });
    piece.marks = kinds.iter().map(|kind| mark("m", kind.clone())).collect();
    let longer = Alteration::LengthenAt {
        piece: "Front".to_owned(),
        level: Level::Waist,
        by: Mm(8.0),
    };
    let altered = longer.applied(&garment(vec![piece], Vec::new())).unwrap();
    for (kind, moved) in kinds.iter().zip(&the(&altered, "Front").marks) {
        let (a, b) = (kind.middle(), moved.kind.middle());
        assert!(
            (b - a - kurbo::Vec2::new(0.0, -8.0)).hypot() < 1e-9,
            "{kind:?}"
        );
        assert_eq!(
            kind.size(),
            moved.kind.size(),
            "a bone stays as wide as it is"
        );
    }
}

#[test]
fn a_finish_is_spliced_into_the_stretches_of_its_edge() {
    let hem = Finish::Hem {
        width: Some(Mm(8.0)),
        turns: 2,
    };
    let first = after(&front(), finish("right", 0.5, 1.0, hem));
    assert_eq!(
        stretches(the(&first, "Front"), "right"),
        vec![(0.0, 0.5, Finish::Seam), (0.5, 1.0, hem)]
    );
    let second = after(&first.garment, finish("right", 0.4, 0.75, Finish::Facing));
    assert_eq!(
        stretches(the(&second, "Front"), "right"),
        vec![
            (0.0, 0.4, Finish::Seam),
            (0.4, 0.75, Finish::Facing),
            (0.75, 1.0, hem)
        ]
    );
    let joined = after(&second.garment, finish("right", 0.3, 0.8, hem));
    assert_eq!(
        stretches(the(&joined, "Front"), "right"),
        vec![(0.0, 0.3, Finish::Seam), (0.3, 1.0, hem)],
        "neighbours that are finished alike are one stretch"
    );
    let plain = after(&joined.garment, finish("right", 0.0, 1.0, Finish::Seam));
    assert_eq!(plain.garment, front(), "nothing but a seam needs no list");
}

proptest::proptest! {
    #[test]
    fn however_an_edge_is_finished_its_list_covers_it_once_and_says_what_was_said_last(
        asked in proptest::collection::vec((0.0..0.9_f64, 0.02..1.0_f64, 0..6_usize), 1..12)
    ) {
        const FINISHES: [Finish; 6] = [
            Finish::Seam,
            Finish::Raw,
            Finish::Facing,
            Finish::Slit,
            Finish::Open,
            Finish::Placket { width: Mm(8.0) },
        ];
        let mut made = front();
        let mut asked_for = Vec::new();
        for (from, length, which) in asked {
            let to = (from + length).min(1.0);
            made = after(&made, finish("right", from, to, FINISHES[which])).garment;
            asked_for.push((from, to, FINISHES[which]));
        }
        let piece = made.piece("Front").unwrap();
        let list = stretches(piece, "right");
        let mut at = 0.0;
        for (from, to, _) in &list {
            assert!((from - at).abs() < 1e-8 && from < to, "{list:?}");
            at = *to;
        }
        assert!(list.is_empty() || (at - 1.0).abs() < 1e-8);
        for i in 0..97 {
            let place = (f64::from(i) + 0.5) / 97.0;
            let near_end = asked_for.iter().any(|(a, b, _)| (a - place).abs().min((b - place).abs()) < 1e-6);
            let last = asked_for.iter().rev().find(|(a, b, _)| (*a..=*b).contains(&place));
            if !near_end {
                let said = last.map_or(Finish::Seam, |x| x.2);
                assert_eq!(piece.outline.edge("right").unwrap().finish_at(place), said);
            }
        }
    }
}

#[test]
fn finishes_that_an_edge_cannot_have_are_refused() {
    let folded = garment(
        vec![finished_with(
            strip("Front", 100.0, 60.0),
            "left",
            Finish::Fold,
        )],
        Vec::new(),
    );
    insta::assert_snapshot!(refused(&folded, finish("left", 0.0, 0.5, Finish::Slit)), @"a fold runs along the whole of left; split the edge first");
    insta::assert_snapshot!(refused(&folded, finish("right", 0.0, 1.0, Finish::Fold)), @"the piece is folded along left already; open it out first");
    insta::assert_snapshot!(refused(&front(), finish("right", 0.5, 0.5, Finish::Slit)), @"slit over 0.00 mm of right is nothing; its end must come after its start");
    insta::assert_snapshot!(refused(&front(), finish("right", 0.5, 1.5, Finish::Slit)), @"the end of the finish would lie 30.0 mm beyond the end of right; put it on the edge");
    insta::assert_snapshot!(refused(&front(), finish("right", 0.0, 0.5, Finish::Placket { width: Mm(-2.0) })), @"a placket needs a width; -2.0 mm is none");
    insta::assert_snapshot!(refused(&front(), finish("hem", 0.0, 1.0, Finish::Hem { width: None, turns: 3 })), @"a hem is turned once or twice, not 3 times");
}

/// A front and a back sewn at the side over 60 mm, a tie in the middle.
fn sewn(relation: Relation) -> Garment {
    let mut side = seam(
        "side",
        vec![stretch("Front", "right", 0.0, 1.0)],
        vec![stretch("Back", "left", 1.0, 0.0)],
        relation,
    );
    side.inserts = vec![Insert {
        name: "tie".to_owned(),
        kind: InsertKind::Tie,
        thickness: Mm(0.5),
        from: 0.45,
        to: 0.55,
    }];
    garment(
        vec![strip("Front", 100.0, 60.0), strip("Back", 80.0, 60.0)],
        vec![side],
    )
}

#[test]
fn a_slit_below_a_notch_ends_the_seam_there_on_both_sides() {
    let slit = after(
        &sewn(Relation::Equal),
        finish("right", 0.0, 0.25, Finish::Slit),
    );
    let seam = &slit.garment.seams[0];
    assert_eq!((seam.a[0].from, seam.a[0].to), (0.25, 1.0));
    assert!((seam.b[0].from - 0.75).abs() < 1e-12 && seam.b[0].to.abs() < 1e-12);
    assert!(seam.difference(&slit.garment.pieces).unwrap().0.abs() < 1e-9);
    let back = the(&slit, "Back");
    assert_eq!(
        stretches(back, "left"),
        vec![(0.0, 0.75, Finish::Seam), (0.75, 1.0, Finish::Slit)],
        "the mate is slit as far"
    );
    assert!(
        (seam.inserts[0].from - 0.2 / 0.75).abs() < 1e-9,
        "the tie stays where it was"
    );
    insta::assert_snapshot!(slit.notes[0], @"side: it is open over 15.0 mm now, 45.0 mm of it are sewn. Both sides are finished alike where it is open.");
}

#[test]
fn a_gap_between_two_dots_makes_two_seams_that_are_sewn_as_before_elsewhere() {
    let gap = after(
        &sewn(Relation::Eased(Mm(6.0))),
        finish("right", 0.4, 0.6, Finish::Open),
    );
    let names: Vec<_> = gap.garment.seams.iter().map(|s| s.name.clone()).collect();
    assert_eq!(names, ["side", "side 2"]);
    assert_eq!(gap.carried.seams["side"], names);
    let sewn: f64 = gap
        .garment
        .seams
        .iter()
        .map(|s| side_length(&s.a, &gap.garment.pieces).unwrap().0)
        .sum();
    assert!((sewn - 48.0).abs() < 1e-9);
    let Relation::Eased(by) = gap.garment.seams[1].relation else {
        panic!()
    };
    assert!(
        (by.0 - 6.0 * 0.4).abs() < 1e-9,
        "ease stays in proportion: {by:?}"
    );
    assert!(
        gap.notes
            .iter()
            .any(|note| note.what.contains("tie was caught")),
        "{:?}",
        gap.notes
    );
}

#[test]
fn a_seam_that_is_open_all_along_is_no_seam_any_more() {
    let open = after(
        &sewn(Relation::Equal),
        finish("right", 0.0, 1.0, Finish::Open),
    );
    assert_eq!(open.garment.seams, Vec::new());
    assert_eq!(open.carried.seams["side"], Vec::<String>::new());
}

#[test]
fn undo_steps_name_the_mark_with_its_numbers() {
    let words = |change: MarkChange, unit| Alteration::words(&change.of("Front"), unit);
    let mm = LengthUnit::Millimetre;
    insta::assert_snapshot!(words(MarkChange::AddNotch(notch("side", 0.255, NotchKind::Double)), mm), @"Front: double notch on side at 25.5 %");
    insta::assert_snapshot!(words(finish("side", 0.0, 0.25, Finish::Slit), mm), @"Front: side slit from 0 % to 25 %");
    insta::assert_snapshot!(words(finish("side", 0.0, 0.25, Finish::Placket { width: Mm(12.7) }), LengthUnit::Inch), @"Front: side placket 1/2 in from 0 % to 25 %");
    let bone = MarkKind::Channel {
        line: Line::straight(Point::new(0.0, 0.0), Point::new(0.0, 9.0)),
        width: Mm(6.35),
    };
    insta::assert_snapshot!(words(MarkChange::AddMark(mark("bone", bone)), mm), @"Front: channel \u{201c}bone\u{201d}, 6.35 mm");
    insta::assert_snapshot!(words(MarkChange::SetCopies(vec![LEFT, RIGHT]), mm), @"Front: cut 2: 1 left, 1 right of shell");
    let bias = MarkChange::SetGrain(Some((Point::new(0.0, 0.0), Point::new(10.0, 10.0))));
    insta::assert_snapshot!(words(bias, mm), @"Front: grain 45 degrees from upright");
}
