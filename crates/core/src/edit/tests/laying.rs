//! Lay plans: what an edit puts down must be there and of a sensible size; what lay there before may stay.

use super::*;
use crate::alteration::PiecesChange;
use crate::lay_plan::{CopyRef, LayChange, PartRef, Piecing, PiecingKind};

fn laid(piece: &str, as_cut: Option<Vec<Point>>) -> Placed {
    Placed {
        piece: piece.to_owned(),
        copy: WHOLE,
        offcut: "blue".to_owned(),
        turn: Degrees(0.0),
        moved: (0.0, 0.0),
        mirrored: false,
        number: 0,
        part: 0,
        pinned: false,
        as_cut,
    }
}

fn triangle() -> Vec<Point> {
    [(0.0, 0.0), (9.0, 0.0), (0.0, 9.0)]
        .map(Point::from)
        .to_vec()
}

fn plan(placed: Vec<Placed>) -> LayPlan {
    LayPlan {
        placed,
        ..LayPlan::default()
    }
}

fn set(plan: LayPlan) -> Edit {
    on_skirt(FittingEdit::SetLayPlan(Some(plan)))
}

fn put(piece: &str) -> Edit {
    on_skirt(FittingEdit::Lay(LayChange::Put(laid(piece, None))))
}

#[test]
fn a_laid_piece_that_was_taken_out_hinders_no_other_change_on_the_cloth() {
    let out = FittingEdit::AddAlteration(Alteration::Pieces(PiecesChange::Remove {
        piece: "pocket".to_owned(),
    }));
    let pocket = FittingEdit::AddAlteration(Alteration::Pieces(PiecesChange::Add(Arc::new(
        rectangle("pocket", Finish::Raw),
    ))));
    let project = [
        on_skirt(pocket),
        put("pocket"),
        set(plan(vec![laid("pocket", None)])),
        on_skirt(out),
    ]
    .iter()
    .fold(project(), |p, edit| p.edited(edit).unwrap());

    let both = project.edited(&put("front")).unwrap();
    assert_eq!(both.fittings[0].lay_plan.as_ref().unwrap().placed.len(), 2);
    let stray = laid("pocket", None).part_ref();
    let up = on_skirt(FittingEdit::Lay(LayChange::TakeUp(stray)));
    assert!(both.edited(&up).is_ok());
    let again = plan(vec![laid("pocket", None), laid("front", None)]);
    assert!(project.edited(&set(again)).is_ok());

    // Put down anew it is refused, cut it may come back.
    assert!(
        project
            .edited(&put("pocket"))
            .unwrap_err()
            .to_string()
            .contains("there is no piece called pocket")
    );
    let empty = project.edited(&set(plan(Vec::new()))).unwrap();
    assert!(
        empty
            .edited(&set(plan(vec![laid("pocket", None)])))
            .is_err()
    );
    let cut = plan(vec![laid("pocket", Some(triangle()))]);
    assert!(empty.edited(&set(cut)).is_ok());
}

#[test]
fn outlines_as_cut_and_new_seams_that_are_no_places_are_refused_by_edits_and_on_reading() {
    let piecing = |x: f64, allowance: f64| Piecing {
        of: laid("front", None).of(),
        kind: PiecingKind::AlongFold,
        lines: vec![(Point::new(x, 0.0), Point::new(20.0, 60.0))],
        allowance: Mm(allowance),
    };
    let pieced = |piecing| LayPlan {
        piecings: vec![piecing],
        ..LayPlan::default()
    };
    let of_points = |x: f64| {
        let mut cut = triangle();
        cut[0].x = x;
        plan(vec![laid("front", Some(cut))])
    };
    assert!(project().edited(&set(of_points(1.0))).is_ok());
    assert!(project().edited(&set(pieced(piecing(20.0, 6.0)))).is_ok());
    for wrong in [
        of_points(f64::NAN),
        of_points(1e9),
        plan(vec![laid("front", Some(triangle()[..2].to_vec()))]),
        pieced(piecing(f64::NAN, 6.0)),
        pieced(piecing(f64::INFINITY, 6.0)),
        pieced(piecing(20.0, f64::NAN)),
        pieced(piecing(20.0, -1.0)),
    ] {
        assert!(project().edited(&set(wrong.clone())).is_err(), "{wrong:?}");
        let mut read = project();
        Arc::make_mut(&mut read.fittings[0]).lay_plan = Some(wrong.clone());
        assert!(read.check().is_err(), "{wrong:?}");
    }
    let part = PartRef {
        of: CopyRef {
            piece: "front".to_owned(),
            copy: WHOLE,
            number: 0,
        },
        part: 0,
    };
    let down = project().edited(&put("front")).unwrap();
    let mut cut = triangle();
    cut[1].y = f64::NAN;
    let marked = on_skirt(FittingEdit::Lay(LayChange::Cut(vec![(part, cut)])));
    assert!(down.edited(&marked).is_err());
}
