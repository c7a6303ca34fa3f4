//! Closures: what overlap they need and what the garment gives.

use super::*;
use crate::check::samples::finished_with;
use crate::closure::Closure;
use crate::edge::Finish;
use crate::edit::{Edit, FittingEdit};
use crate::fitting::Fitting;

/// A neck with a slit that has this placket, on a doll of this height, closed by this.
fn slit(placket: Option<f64>, height: f64, closure: Option<Closure>) -> Adapted {
    let mut garment = with_opening(Passing::Head, 300.0, 60.0);
    if let Some(width) = placket {
        let back = crate::piece::Piece::clone(&garment.pieces[1]);
        garment.pieces[1] = Arc::new(finished_with(
            back,
            "right",
            Finish::Placket { width: Mm(width) },
        ));
    }
    let mut adapted = on(garment, &[(Measure::Height, height)]);
    if let Some(closure) = closure {
        let mut fitting = Fitting::clone(&adapted.fitting);
        fitting.closures.insert("centre back".to_owned(), closure);
        adapted.fitting = Arc::new(fitting);
    }
    adapted
}

fn closing(adapted: Adapted) -> Closing {
    looked_at(adapted).passages[0].closing.clone().unwrap()
}

#[test]
fn edges_that_meet_are_hooked_and_a_placket_takes_what_fits_it() {
    let first = |placket, height| closing(slit(placket, height, None)).used().unwrap();
    assert_eq!(first(None, 457.0), Closure::Hooks);
    assert_eq!(
        first(Some(8.0), 457.0),
        Closure::Snaps { diameter: Mm(6.0) }
    );
    assert_eq!(
        first(Some(8.0), 292.0),
        Closure::Snaps { diameter: Mm(5.0) }
    );
    assert_eq!(
        first(Some(8.0), 140.0),
        Closure::SewnShut,
        "the smallest snap is too large for a miniature"
    );
}

#[test]
fn an_overlap_too_narrow_for_the_closure_names_one_that_fits() {
    let tape = Closure::HookAndLoop { width: Mm(10.0) };
    let found = said(slit(Some(8.0), 457.0, Some(tape)));
    insta::assert_snapshot!(found[0], @"centre back: closed by hook-and-loop tape it needs an overlap of 13.0 mm, but the placket of Back, right gives 8.0 mm: 5.0 mm short. Let one side lap further over the other, or take snaps.");
    let Some(Edit::Fitting {
        change: FittingEdit::SetClosure(name, Some(closure)),
        ..
    }) = &found[0].remedy
    else {
        panic!("{}", found[0]);
    };
    assert_eq!(name, "centre back");
    assert!(closure.overlap().0 <= 8.0);
    assert_eq!(said(slit(Some(13.0), 457.0, Some(tape))), Vec::new());
}

#[test]
fn buttonholes_too_small_to_work_become_buttons_over_snaps() {
    let buttons = Closure::Buttons { diameter: Mm(5.0) };
    let found = said(slit(Some(8.0), 292.0, Some(buttons)));
    insta::assert_snapshot!(found[0], @"centre back: holes for buttons of 5.0 mm are too small to work; 9.0 mm is about the least (common practice). Sew the buttons over snaps.");
    let Some(Edit::Fitting {
        change: FittingEdit::SetClosure(_, Some(closure)),
        ..
    }) = found[0].remedy
    else {
        panic!("{}", found[0]);
    };
    assert_eq!(closure, Closure::ButtonsOverSnaps { diameter: Mm(5.0) });
    let large = Closure::Buttons { diameter: Mm(9.0) };
    assert_eq!(said(slit(Some(12.0), 600.0, Some(large))), Vec::new());
}

#[test]
fn the_overlap_of_a_tape_line_is_an_overlap_too() {
    let mut adapted = slit(None, 457.0, None);
    adapted.tape_lines = vec![crate::tape::TapeLine {
        name: "neck".to_owned(),
        measure: Measure::NeckGirth,
        share: 1.0,
        kind: crate::tape::TapeKind::Girth,
        parts: vec![crate::tape::TapePart {
            piece: "Neck".to_owned(),
            path: crate::tape::TapePath::Along {
                edge: "hem".to_owned(),
                from: 0.0,
                to: 1.0,
            },
        }],
        hold: crate::tape::Hold::Auto,
        overlap: Mm(9.0),
        lacing_gap: Mm(0.0),
    }];
    let closing = closing(adapted);
    assert_eq!(
        (closing.overlap, closing.from.as_str()),
        (Mm(9.0), "tape line neck")
    );
    assert_eq!(closing.used(), Some(Closure::Snaps { diameter: Mm(6.0) }));
}

#[test]
fn elastic_that_does_not_hold_is_told() {
    let mut adapted = slit(
        None,
        457.0,
        Some(Closure::Elastic {
            relaxed: Mm(200.0),
            stretched: Mm(400.0),
        }),
    );
    let fitting = Fitting::clone(&adapted.fitting);
    let body = crate::body::Body::clone(&fitting.body)
        .with(Measure::NeckGirth, Measured::own_tape(Mm(130.0)));
    adapted.fitting = Arc::new(Fitting {
        body: Arc::new(body),
        ..fitting
    });
    insta::assert_snapshot!(said(adapted)[0], @"centre back: elastic of 200.0 mm does not hold: the neck girth is 130.0 mm. Cut it shorter than 130.0 mm, sewn into a ring.");
}
