//! A small table whose every distance can be reckoned in the head.

use std::sync::Arc;

use petitoile_core::cloth::{Blemish, GoodFor, Offcut};
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::{CopyRef, LayPlan, PartRef, Piecing, PiecingKind, Placed};
use petitoile_core::laying::{CopyToLay, LayShape, PiecedWay, ToLay};
use petitoile_core::piece::{Copy, Face, Role, Side};
use petitoile_core::{Degrees, Mm};

use crate::doll_set::points;

/// 100 mm square, margin 5 mm; a hole from 70 to 90 mm both ways; a place good for the inside, 60 to 70 mm across and 10 to
/// 20 mm up.
pub fn offcut() -> Offcut {
    Offcut {
        name: "blue A".to_owned(),
        cloth: "cotton".to_owned(),
        outline: rectangle(0.0, 0.0, 100.0, 100.0),
        blemishes: vec![
            Blemish {
                outline: rectangle(70.0, 70.0, 90.0, 90.0),
                is_hole: true,
                good_for: GoodFor::Inside,
            },
            Blemish {
                outline: rectangle(60.0, 10.0, 70.0, 20.0),
                is_hole: false,
                good_for: GoodFor::Inside,
            },
        ],
        grain: Degrees(0.0),
        grain_doubt: Degrees(0.0),
        face: Face::Right,
        sides_alike: false,
        nap: false,
        margin: Mm(5.0),
        thickness: None,
    }
}

pub fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<Point> {
    points(&[(x0, y0), (x1, y0), (x1, y1), (x0, y1)], 1.0)
}

/// A pair of sleeves, 20 mm wide and 30 mm long with one corner off; a band of 40 by 10 mm that can be cut in two with a seam at
/// x = 20. Tolerance 2 degrees, gap 1 mm.
pub fn to_lay() -> ToLay {
    let sleeve = |side: Side| CopyToLay {
        of: copy("sleeve", side),
        whole: LayShape {
            outline: points(
                &[
                    (0.0, 0.0),
                    (20.0, 0.0),
                    (20.0, 20.0),
                    (10.0, 30.0),
                    (0.0, 30.0),
                ],
                1.0,
            ),
            grain: Degrees(0.0),
            mirrored: side == Side::Left,
            fold: None,
        },
        pieced: Vec::new(),
        new_seams: Default::default(),
        cloth: Some("cotton".to_owned()),
        needs: GoodFor::Anything,
        priority: 2,
        grain_tolerance: Degrees(2.0),
        upside_down: false,
    };
    let shape = |x0: f64, x1: f64| LayShape {
        outline: rectangle(x0, 0.0, x1, 10.0),
        grain: Degrees(0.0),
        mirrored: false,
        fold: None,
    };
    let band = CopyToLay {
        of: copy("band", Side::Whole),
        whole: shape(0.0, 40.0),
        pieced: vec![PiecedWay {
            piecing: piecing(),
            parts: vec![shape(0.0, 24.0), shape(16.0, 40.0)],
            cost: 1,
            why: "a seam in the band".to_owned(),
        }],
        new_seams: Default::default(),
        cloth: Some("cotton".to_owned()),
        needs: GoodFor::Hidden,
        priority: 2,
        grain_tolerance: Degrees(2.0),
        upside_down: true,
    };
    ToLay {
        copies: vec![sleeve(Side::Right), sleeve(Side::Left), band],
        gap: Mm(1.0),
    }
}

pub fn piecing() -> Piecing {
    Piecing {
        of: copy("band", Side::Whole),
        kind: PiecingKind::Strip,
        lines: vec![(Point::new(20.0, 0.0), Point::new(20.0, 10.0))],
        allowance: Mm(4.0),
    }
}

pub fn copy(piece: &str, side: Side) -> CopyRef {
    CopyRef {
        piece: piece.to_owned(),
        copy: Copy {
            side,
            role: Role::Shell,
        },
        number: 0,
    }
}

pub fn placed(of: &CopyRef, x: f64, y: f64) -> Placed {
    Placed {
        piece: of.piece.clone(),
        copy: of.copy,
        number: of.number,
        part: 0,
        offcut: "blue A".to_owned(),
        turn: Degrees(0.0),
        moved: (x, y),
        mirrored: of.copy.side == Side::Left,
        pinned: false,
        as_cut: None,
    }
}

/// The right sleeve at (10, 10), the left one from 31 to 51 mm across, 1 mm beside it; the band at (10, 50).
pub fn plan() -> LayPlan {
    LayPlan {
        seed: 1,
        steps: 0,
        placed: vec![
            placed(&copy("sleeve", Side::Right), 10.0, 10.0),
            placed(&copy("sleeve", Side::Left), 51.0, 10.0),
            placed(&copy("band", Side::Whole), 10.0, 50.0),
        ],
        ..LayPlan::default()
    }
}

pub fn part(piece: &str, side: Side) -> PartRef {
    PartRef {
        of: copy(piece, side),
        part: 0,
    }
}

pub fn table() -> Vec<Arc<Offcut>> {
    vec![Arc::new(offcut())]
}
