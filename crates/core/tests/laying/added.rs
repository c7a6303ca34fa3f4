//! Seams that a plan adds, on the piece as it is drawn.

use petitoile_core::Mm;
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::{CopyRef, LayPlan, Piecing, PiecingKind, Placed};
use petitoile_core::laying::added_seams;
use petitoile_core::piece::{Copy, Role, Side};
use petitoile_core::units::{Degrees, LengthUnit};

use super::samples::{WHOLE, finished, on_fold};

fn of(side: Side) -> CopyRef {
    CopyRef {
        piece: "Back".to_owned(),
        copy: Copy {
            side,
            role: Role::Shell,
        },
        number: 0,
    }
}

fn placed(of: &CopyRef, part: usize) -> Placed {
    Placed {
        piece: of.piece.clone(),
        copy: of.copy,
        number: of.number,
        part,
        offcut: "blue".to_owned(),
        moved: (0.0, 0.0),
        turn: Degrees(0.0),
        mirrored: false,
        pinned: false,
        as_cut: None,
    }
}

fn patch(of: &CopyRef, a: (f64, f64), b: (f64, f64)) -> Piecing {
    Piecing {
        of: of.clone(),
        kind: PiecingKind::Patch,
        lines: vec![(a.into(), b.into())],
        allowance: Mm(6.0),
    }
}

#[test]
fn a_seam_on_the_other_half_is_drawn_on_the_half_there_is() {
    let made = finished(vec![on_fold("Back", 60.0, 40.0)], |_| {});
    let back = &made.pieces[0];
    let whole = of(WHOLE.side);
    // The fold is x = 0; the patch lies at the lower left corner of the opened-out back.
    let plan = LayPlan {
        placed: vec![placed(&whole, 0), placed(&whole, 1)],
        piecings: vec![patch(&whole, (-60.0, 15.0), (-30.0, 0.0))],
        ..LayPlan::default()
    };
    let added = added_seams(back, &plan);
    assert_eq!(added.len(), 1);
    let near = |p: Point, x: f64, y: f64| (p - Point::new(x, y)).hypot() < 1e-9;
    assert!(
        near(added[0].line.p0, 60.0, 15.0) && near(added[0].line.p1, 30.0, 0.0),
        "{added:?}"
    );
    assert_eq!(
        added[0].words(LengthUnit::Millimetre),
        "seam added: Back, 6 mm allowance each side"
    );
}

#[test]
fn copies_pieced_alike_share_a_seam_and_what_does_not_lie_adds_none() {
    let made = finished(vec![on_fold("Back", 60.0, 40.0)], |_| {});
    let (right, left) = (of(Side::Right), of(Side::Left));
    let line = ((60.0, 15.0), (30.0, 0.0));
    let plan = LayPlan {
        placed: vec![placed(&right, 0), placed(&left, 0)],
        piecings: vec![
            patch(&right, line.0, line.1),
            patch(&left, line.1, line.0),
            patch(&of(WHOLE.side), line.0, line.1),
        ],
        ..LayPlan::default()
    };
    let added = added_seams(&made.pieces[0], &plan);
    assert_eq!(added.len(), 1);
    assert_eq!(added[0].copies, [right, left]);
}
