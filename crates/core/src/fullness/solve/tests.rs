//! What is said of requests that cannot be, and what is nearest.

#![allow(clippy::unwrap_used, clippy::panic, reason = "tests")]

use super::*;
use crate::fullness::KeepOff;

fn asked(kind: Kind, change: impl Fn(&mut Wanted)) -> Wanted {
    let mut wanted = Wanted::new(kind);
    change(&mut wanted);
    wanted
}

fn refused(wanted: &Wanted) -> (String, Solved) {
    match solve(wanted) {
        Err(Unsolved::Impossible { why, nearest }) => (why, *nearest),
        other => panic!("{other:?}"),
    }
}

#[test]
fn more_pleats_than_fit_get_the_most_that_do() {
    let (why, nearest) = refused(&asked(Kind::Knife, |w| {
        w.finished = Some(Mm(100.0));
        w.count = Some(12);
        w.spacing = Some(Mm(10.0));
    }));
    insta::assert_snapshot!(why, @"12 knife pleats of 10 mm need 120 mm, 20 mm more than there is.");
    assert_eq!((nearest.count, nearest.spacing), (Some(10), Some(Mm(10.0))));
}

#[test]
fn cloth_shorter_than_the_edge_gets_the_cloth_that_full_pleats_take() {
    let (why, nearest) = refused(&asked(Kind::Box, |w| {
        w.finished = Some(Mm(300.0));
        w.cloth = Some(Mm(280.0));
        w.count = Some(6);
    }));
    insta::assert_snapshot!(why, @"280 mm of cloth leaves nothing to fold on 300 mm.");
    assert_eq!((nearest.cloth, nearest.count), (Mm(900.0), Some(6)));
}

#[test]
fn numbers_that_contradict_each_other_are_told() {
    let (why, nearest) = refused(&asked(Kind::Knife, |w| {
        w.finished = Some(Mm(200.0));
        w.cloth = Some(Mm(500.0));
        w.count = Some(10);
        w.depth = Some(Depth::Of(Mm(20.0)));
    }));
    insta::assert_snapshot!(why, @"These lengths contradict each other: with the others, the depth would be 15 mm, not 20 mm.");
    assert_eq!(nearest.depth, Some(Mm(15.0)));
}

#[test]
fn a_leftover_stays_plain_where_the_layout_says() {
    let solved = solve(&asked(Kind::Knife, |w| {
        w.finished = Some(Mm(107.0));
        w.spacing = Some(Mm(10.0));
        w.leftover = Leftover::Plain;
        w.layout.rest = crate::fullness::Rest::End;
    }))
    .unwrap();
    assert_eq!((solved.count, solved.leftover), (Some(10), Mm(7.0)));
    let last = solved.folded.pleats.last().unwrap();
    assert!((last.at.0 - 95.0).abs() < 1e-9, "{last:?}");
}

#[test]
fn folds_keep_off_the_seams_by_as_much_as_asked() {
    let solved = solve(&asked(Kind::Knife, |w| {
        w.finished = Some(Mm(120.0));
        w.spacing = Some(Mm(10.0));
        w.depth = Some(Depth::Of(Mm(4.0)));
        w.layout.keep_off = [0.25, 0.75]
            .map(|at| KeepOff {
                what: "side seam".to_owned(),
                at,
                by: Mm(2.0),
            })
            .to_vec();
    }))
    .unwrap();
    let folds = solved.folded.folds().map(|(_, fold)| fold.on_edge.0);
    let nearest = folds
        .map(|x| (x - 30.0).abs().min((x - 90.0).abs()))
        .fold(99.0, f64::min);
    assert!(nearest >= 2.0 - 1e-9, "{nearest}");
}

#[test]
fn too_little_is_asked_back() {
    let said = |wanted: &Wanted| solve(wanted).unwrap_err().to_string();
    insta::assert_snapshot!(said(&Wanted::new(Kind::Knife)), @"Give the finished length or the cloth length, or how many.");
    insta::assert_snapshot!(said(&asked(Kind::Knife, |w| (w.finished, w.cloth) = (Some(Mm(100.0)), Some(Mm(300.0))))), @"Give how many, how wide or how deep: both lengths leave that open.");
    insta::assert_snapshot!(said(&asked(Kind::Gathers, |w| w.finished = Some(Mm(100.0)))), @"Give two of finished length, cloth length and how many times as long the cloth is.");
}

#[test]
fn a_maker_of_inches_reads_reasons_in_inches() {
    let in_inches = |wanted: Wanted| refused(&wanted.told_in(LengthUnit::Inch)).0;
    let inches = |n: f64| Some(Mm::from_inches(n));
    let knife = |change: &dyn Fn(&mut Wanted)| asked(Kind::Knife, change);
    let short = knife(&|w| {
        (w.finished, w.cloth, w.count) = (inches(12.0), inches(11.5), Some(6));
    });
    insta::assert_snapshot!(in_inches(short), @"11 1/2 in of cloth leaves nothing to fold on 12 in.");
    let many = knife(&|w| (w.finished, w.count, w.spacing) = (inches(4.0), Some(12), inches(0.5)));
    insta::assert_snapshot!(in_inches(many), @"12 knife pleats of 1/2 in need 6 in, 2 in more than there is.");
    let none = knife(&|w| w.finished = Some(Mm(-25.4)));
    let Err(Unsolved::Impossible { why, .. } | Unsolved::Open { ask: why }) =
        solve(&none.told_in(LengthUnit::Inch))
    else {
        panic!("nothing can be folded to less than nothing")
    };
    assert!(
        why.starts_with("A finished length of -1 in cannot be made."),
        "{why}"
    );
    // No whole number of 1/32 in: said so.
    let gathers = asked(Kind::Gathers, |w| {
        (w.finished, w.cloth) = (Some(Mm(100.0)), Some(Mm(50.8)));
    });
    insta::assert_snapshot!(in_inches(gathers), @"2 in of cloth cannot cover about 3 15/16 in (3.937 in): about 1 15/16 in (1.937 in) are missing.");
}
