//! Garments made by hand for the tests of drawings and pages.

#![allow(dead_code, reason = "each test file uses a part of it")]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::collections::BTreeMap;
use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::adapt::Adapted;
use petitoile_core::allowance::AllowancePlan;
use petitoile_core::body::{Body, BodyKind};
use petitoile_core::cloth::Cloth;
use petitoile_core::edge::{Edge, Finish};
use petitoile_core::finish::{Finished, FinishedPiece};
use petitoile_core::fitting::Fitting;
use petitoile_core::garment::Garment;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::kurbo::Point;
use petitoile_core::notch::{Notch, NotchKind};
use petitoile_core::piece::{
    Copy, Dart, DartPress, Frame, Mark, MarkKind, Piece, Placement, Role, Side,
};

pub mod read;

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn straight(a: Point, b: Point) -> Line {
    Line::straight(a, b)
}

fn curve(points: [Point; 4]) -> Line {
    Line::new(points.to_vec()).unwrap()
}

fn copies(list: &[(Side, Role)]) -> Vec<Copy> {
    list.iter()
        .map(|(side, role)| Copy {
            side: *side,
            role: *role,
        })
        .collect()
}

pub const PAIR: &[(Side, Role)] = &[
    (Side::Right, Role::Shell),
    (Side::Left, Role::Shell),
    (Side::Right, Role::Lining),
    (Side::Left, Role::Lining),
];
pub const ONE: &[(Side, Role)] = &[(Side::Whole, Role::Shell)];

pub fn piece(name: &str, edges: Vec<Edge>, list: &[(Side, Role)]) -> Piece {
    Piece {
        name: name.into(),
        outline: Outline::new(edges).unwrap(),
        placement: Placement::Framed(Frame::Torso),
        body_lines: vec![],
        darts: vec![],
        notches: vec![],
        marks: vec![],
        grainline: None,
        face: Default::default(),
        fullness: vec![],
        copies: copies(list),
    }
}

/// A bodice front on the fold, with a waist dart; `s` is its size against a doll of 45 cm.
pub fn front(s: f64) -> Piece {
    let q = |x: f64, y: f64| p(x * s, y * s);
    let edges = vec![
        Edge::seam("waist a", straight(q(0.0, 0.0), q(25.0, 0.5))),
        Edge::seam("dart leg in", straight(q(25.0, 0.5), q(30.0, 35.0))),
        Edge::seam("dart leg out", straight(q(30.0, 35.0), q(35.0, 0.5))),
        Edge::seam("waist b", straight(q(35.0, 0.5), q(62.0, 3.0))),
        Edge::seam("side", straight(q(62.0, 3.0), q(70.0, 48.0))),
        Edge::seam(
            "armscye",
            curve([q(70.0, 48.0), q(50.0, 48.0), q(54.0, 70.0), q(56.0, 88.0)]),
        ),
        Edge::seam("shoulder", straight(q(56.0, 88.0), q(28.0, 98.0))),
        Edge::seam(
            "neckline",
            curve([q(28.0, 98.0), q(26.0, 80.0), q(14.0, 76.0), q(0.0, 76.0)]),
        ),
        Edge::finished(
            "centre front",
            straight(q(0.0, 76.0), q(0.0, 0.0)),
            Finish::Fold,
        ),
    ];
    let dart = Dart {
        name: "waist dart".into(),
        leg_in: "dart leg in".into(),
        leg_out: "dart leg out".into(),
        pressed: DartPress::Before,
    };
    let mut front = piece(
        "Front",
        edges,
        &[(Side::Whole, Role::Shell), (Side::Whole, Role::Lining)],
    );
    front.darts = vec![dart];
    front.notches = vec![
        Notch {
            edge: "armscye".into(),
            fraction: 0.5,
            kind: NotchKind::Single,
        },
        Notch {
            edge: "side".into(),
            fraction: 0.4,
            kind: NotchKind::Single,
        },
    ];
    front.marks = vec![
        Mark {
            name: "dart point".into(),
            kind: MarkKind::Dot(q(30.0, 35.0)),
        },
        Mark {
            name: "".into(),
            kind: MarkKind::Buttonhole(q(3.0, 60.0), q(8.0, 60.0)),
        },
    ];
    front
}

pub fn back(s: f64) -> Piece {
    let q = |x: f64, y: f64| p(x * s, y * s);
    let edges = vec![
        Edge::seam("waist", straight(q(0.0, 0.0), q(55.0, 0.0))),
        Edge::seam("centre back", straight(q(55.0, 0.0), q(58.0, 92.0))),
        Edge::seam(
            "neckline",
            curve([q(58.0, 92.0), q(48.0, 91.0), q(36.0, 92.0), q(34.0, 100.0)]),
        ),
        Edge::seam("shoulder", straight(q(34.0, 100.0), q(6.0, 90.0))),
        Edge::seam(
            "armscye",
            curve([q(6.0, 90.0), q(10.0, 70.0), q(12.0, 50.0), q(-6.0, 48.0)]),
        ),
        Edge::seam("side", straight(q(-6.0, 48.0), q(0.0, 0.0))),
    ];
    let mut back = piece("Back", edges, PAIR);
    back.notches = vec![
        Notch {
            edge: "armscye".into(),
            fraction: 0.5,
            kind: NotchKind::Double,
        },
        Notch {
            edge: "centre back".into(),
            fraction: 0.5,
            kind: NotchKind::Triple,
        },
    ];
    back
}

pub fn sleeve(s: f64) -> Piece {
    let q = |x: f64, y: f64| p(x * s, y * s);
    let edges = vec![
        Edge::finished(
            "wrist",
            straight(q(12.0, 0.0), q(78.0, 0.0)),
            Finish::Hem {
                width: None,
                turns: 2,
            },
        ),
        Edge::seam("front seam", straight(q(78.0, 0.0), q(92.0, 70.0))),
        Edge::seam(
            "cap front",
            curve([q(92.0, 70.0), q(70.0, 78.0), q(66.0, 104.0), q(46.0, 106.0)]),
        ),
        Edge::seam(
            "cap back",
            curve([q(46.0, 106.0), q(26.0, 106.0), q(20.0, 78.0), q(0.0, 70.0)]),
        ),
        Edge::seam("back seam", straight(q(0.0, 70.0), q(12.0, 0.0))),
    ];
    piece("Sleeve", edges, PAIR)
}

pub fn collar(s: f64) -> Piece {
    let q = |x: f64, y: f64| p(x * s, y * s);
    let edges = vec![
        Edge::seam(
            "neck",
            curve([q(0.0, 0.0), q(30.0, -4.0), q(60.0, 0.0), q(90.0, 6.0)]),
        ),
        Edge::seam("front", straight(q(90.0, 6.0), q(94.0, 24.0))),
        Edge::seam(
            "outer",
            curve([q(94.0, 24.0), q(60.0, 16.0), q(30.0, 14.0), q(0.0, 16.0)]),
        ),
        Edge::finished(
            "centre back",
            straight(q(0.0, 16.0), q(0.0, 0.0)),
            Finish::Fold,
        ),
    ];
    piece(
        "Collar",
        edges,
        &[
            (Side::Whole, Role::Shell),
            (Side::Whole, Role::Shell),
            (Side::Whole, Role::Interlining),
        ],
    )
}

pub fn strip(name: &str, long: f64, wide: f64) -> Piece {
    let edges = vec![
        Edge::seam("lower", straight(p(0.0, 0.0), p(long, 0.0))),
        Edge::seam("end", straight(p(long, 0.0), p(long, wide))),
        Edge::seam("upper", straight(p(long, wide), p(0.0, wide))),
        Edge::seam("start", straight(p(0.0, wide), p(0.0, 0.0))),
    ];
    piece(name, edges, ONE)
}

/// A quarter of a circular skirt.
pub fn quarter(waist: f64, long: f64) -> Piece {
    let arc = |r: f64| {
        let k = 0.5522847498 * r;
        [p(r, 0.0), p(r, k), p(k, r), p(0.0, r)]
    };
    let (a, b) = (arc(waist), arc(waist + long));
    let edges = vec![
        Edge::finished(
            "hem",
            curve(b),
            Finish::Hem {
                width: None,
                turns: 1,
            },
        ),
        Edge::finished("centre", straight(b[3], a[3]), Finish::Fold),
        Edge::seam("waist", curve([a[3], a[2], a[1], a[0]])),
        Edge::seam("side", straight(a[0], b[0])),
    ];
    piece("Skirt quarter", edges, ONE)
}

/// The piece with allowances, as the fourth step makes it.
pub fn finished_piece(piece: Piece) -> FinishedPiece {
    petitoile_core::finish::finish_piece(&Arc::new(piece), &AllowancePlan::default(), "fitting")
        .outcome
}

pub fn finished(name: &str, pieces: Vec<FinishedPiece>) -> Finished {
    let cloth = |name: &str| Cloth {
        name: name.into(),
        thickness: Mm(0.2),
        source: String::new(),
    };
    let body = Arc::new(Body::new("45 cm play doll", BodyKind::Doll));
    let garment = Garment {
        name: name.into(),
        made_for: Arc::new(Body::new("adult", BodyKind::Woman)),
        pieces: pieces.iter().map(|piece| piece.piece.clone()).collect(),
        seams: vec![],
        tape_lines: vec![],
        openings: vec![],
        cloths: BTreeMap::from([
            (Role::Shell, cloth("wool serge")),
            (Role::Lining, cloth("cotton lawn")),
        ]),
        included_allowance: BTreeMap::new(),
    };
    let adapted = Arc::new(Adapted {
        pieces: garment.pieces.clone(),
        made: Arc::new(garment.clone()),
        garment: Arc::new(garment),
        fitting: Arc::new(Fitting::new("fitting", name, body)),
        demands: vec![],
        tape_lines: Vec::new(),
        ease: vec![],
        findings: vec![],
        steps: 0,
    });
    let filled = Arc::new(petitoile_core::fullness::fill(&adapted).outcome);
    Finished { filled, pieces }
}

/// A jacket for a doll: small pieces only.
pub fn doll_jacket() -> Finished {
    let pieces = [
        front(1.0),
        back(1.0),
        sleeve(1.0),
        collar(1.0),
        strip("Waistband", 180.0, 14.0),
        strip("Tie", 90.0, 6.0),
        strip("Cuff", 66.0, 12.0),
        strip("Button strip", 14.0, 80.0),
    ];
    finished(
        "Harbour jacket",
        pieces.into_iter().map(finished_piece).collect(),
    )
}

/// The same for a person, with a skirt: most pieces span pages.
pub fn adult_dress() -> Finished {
    let pieces = [
        front(4.2),
        back(4.2),
        sleeve(4.2),
        collar(2.4),
        quarter(105.0, 700.0),
        strip("Sash", 900.0, 40.0),
        strip("Cuff", 170.0, 40.0),
    ];
    finished(
        "Harbour dress",
        pieces.into_iter().map(finished_piece).collect(),
    )
}
