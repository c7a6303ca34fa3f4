//! Garments made by hand for the tests of drawings and pages.

#![allow(dead_code, reason = "each test file uses a part of it")]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, clippy::panic, reason = "tests")]

use std::collections::BTreeMap;
use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::adapt::Adapted;
use petitoile_core::body::{Body, BodyKind};
use petitoile_core::cloth::Cloth;
use petitoile_core::edge::{Edge, Finish};
use petitoile_core::finish::{Finished, FinishedPiece};
use petitoile_core::fitting::Fitting;
use petitoile_core::garment::Garment;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::kurbo::{BezPath, Line as Stroke, Point, Shape};
use petitoile_core::piece::{Copy, Frame, Mark, MarkKind, Piece, Placement, Role, Side};

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
    list.iter().map(|(side, role)| Copy { side: *side, role: *role }).collect()
}

pub const PAIR: &[(Side, Role)] =
    &[(Side::Right, Role::Shell), (Side::Left, Role::Shell), (Side::Right, Role::Lining), (Side::Left, Role::Lining)];
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
        Edge::seam("armscye", curve([q(70.0, 48.0), q(50.0, 48.0), q(54.0, 70.0), q(56.0, 88.0)])),
        Edge::seam("shoulder", straight(q(56.0, 88.0), q(28.0, 98.0))),
        Edge::seam("neckline", curve([q(28.0, 98.0), q(26.0, 80.0), q(14.0, 76.0), q(0.0, 76.0)])),
        Edge::finished("centre front", straight(q(0.0, 76.0), q(0.0, 0.0)), Finish::Fold),
    ];
    let mut front = piece("Front", edges, &[(Side::Whole, Role::Shell), (Side::Whole, Role::Lining)]);
    front.marks = vec![
        Mark { name: "dart point".into(), kind: MarkKind::Dot(q(30.0, 35.0)) },
        Mark { name: "".into(), kind: MarkKind::Buttonhole(q(3.0, 60.0), q(8.0, 60.0)) },
    ];
    front
}

pub fn back(s: f64) -> Piece {
    let q = |x: f64, y: f64| p(x * s, y * s);
    let edges = vec![
        Edge::seam("waist", straight(q(0.0, 0.0), q(55.0, 0.0))),
        Edge::seam("centre back", straight(q(55.0, 0.0), q(58.0, 92.0))),
        Edge::seam("neckline", curve([q(58.0, 92.0), q(48.0, 91.0), q(36.0, 92.0), q(34.0, 100.0)])),
        Edge::seam("shoulder", straight(q(34.0, 100.0), q(6.0, 90.0))),
        Edge::seam("armscye", curve([q(6.0, 90.0), q(10.0, 70.0), q(12.0, 50.0), q(-6.0, 48.0)])),
        Edge::seam("side", straight(q(-6.0, 48.0), q(0.0, 0.0))),
    ];
    piece("Back", edges, PAIR)
}

pub fn sleeve(s: f64) -> Piece {
    let q = |x: f64, y: f64| p(x * s, y * s);
    let edges = vec![
        Edge::finished("wrist", straight(q(12.0, 0.0), q(78.0, 0.0)), Finish::Hem { width: None, turns: 2 }),
        Edge::seam("front seam", straight(q(78.0, 0.0), q(92.0, 70.0))),
        Edge::seam("cap front", curve([q(92.0, 70.0), q(70.0, 78.0), q(66.0, 104.0), q(46.0, 106.0)])),
        Edge::seam("cap back", curve([q(46.0, 106.0), q(26.0, 106.0), q(20.0, 78.0), q(0.0, 70.0)])),
        Edge::seam("back seam", straight(q(0.0, 70.0), q(12.0, 0.0))),
    ];
    piece("Sleeve", edges, PAIR)
}

pub fn collar(s: f64) -> Piece {
    let q = |x: f64, y: f64| p(x * s, y * s);
    let edges = vec![
        Edge::seam("neck", curve([q(0.0, 0.0), q(30.0, -4.0), q(60.0, 0.0), q(90.0, 6.0)])),
        Edge::seam("front", straight(q(90.0, 6.0), q(94.0, 24.0))),
        Edge::seam("outer", curve([q(94.0, 24.0), q(60.0, 16.0), q(30.0, 14.0), q(0.0, 16.0)])),
        Edge::finished("centre back", straight(q(0.0, 16.0), q(0.0, 0.0)), Finish::Fold),
    ];
    piece("Collar", edges, &[(Side::Whole, Role::Shell), (Side::Whole, Role::Shell), (Side::Whole, Role::Interlining)])
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
        Edge::finished("hem", curve(b), Finish::Hem { width: None, turns: 1 }),
        Edge::finished("centre", straight(b[3], a[3]), Finish::Fold),
        Edge::seam("waist", curve([a[3], a[2], a[1], a[0]])),
        Edge::seam("side", straight(a[0], b[0])),
    ];
    piece("Skirt quarter", edges, ONE)
}

/// A finished piece with a cut line that is only roughly parallel: enough for drawing.
pub fn finished_piece(piece: Piece) -> FinishedPiece {
    let allowances: Vec<Mm> = piece
        .outline
        .edges()
        .iter()
        .map(|edge| match edge.finish_at(0.5) {
            Finish::Fold => Mm(0.0),
            Finish::Hem { .. } => Mm(16.0),
            _ => Mm(6.35),
        })
        .collect();
    let mut cut = BezPath::new();
    for (edge, width) in piece.outline.edges().iter().zip(&allowances) {
        if edge.name.starts_with("dart leg") {
            continue;
        }
        for c in edge.line.cubics() {
            let side = |t: f64| {
                let d = petitoile_core::geometry::curve::direction_on(&c, t);
                petitoile_core::kurbo::Vec2::new(d.y, -d.x) * width.0
            };
            let (a, b) = (side(0.0), side(1.0));
            if cut.is_empty() {
                cut.move_to(c.p0 + a);
            } else {
                cut.line_to(c.p0 + a);
            }
            cut.curve_to(c.p1 + a, c.p2 + b, c.p3 + b);
        }
    }
    cut.close_path();
    let bounds = piece.outline.bounds();
    let at = inner_point(&piece);
    let reach = (bounds.height() * 0.2).min(40.0);
    let wide = bounds.height() < 0.4 * bounds.width();
    let along = if wide { petitoile_core::kurbo::Vec2::new((bounds.width() * 0.25).min(40.0), 0.0) } else { petitoile_core::kurbo::Vec2::new(0.0, reach) };
    let notches = piece
        .outline
        .edges()
        .iter()
        .zip(&allowances)
        .filter(|(edge, width)| width.0 > 0.0 && !edge.name.starts_with("dart"))
        .map(|(edge, width)| {
            let (at, d) = (edge.line.at(0.5), edge.line.direction(0.5));
            let out = petitoile_core::kurbo::Vec2::new(d.y, -d.x);
            Stroke::new(at + out * width.0, at + out * (width.0 - 3.0))
        })
        .collect();
    let hem = piece.outline.edges().iter().find(|edge| matches!(edge.finish_at(0.5), Finish::Hem { .. }));
    FinishedPiece {
        stitch: piece.outline.path(),
        cut,
        notches,
        fold: piece.fold_edge().map(|e| Stroke::new(e.line.start(), e.line.end())),
        fold_lines: hem.map(|edge| edge.line.to_path()).into_iter().collect(),
        sew_lines: vec![],
        grain: Stroke::new(at - along, at + along),
        label_at: at,
        allowances,
        piece: Arc::new(piece),
    }
}

/// Of a table of points, the one inside that is farthest from the outline.
fn inner_point(piece: &Piece) -> Point {
    let path = piece.outline.path();
    let bounds = piece.outline.bounds();
    let middle = bounds.center();
    let far = |q: Point| {
        path.segments().map(|s| petitoile_core::kurbo::ParamCurveNearest::nearest(&s, q, 0.01).distance_sq).fold(f64::INFINITY, f64::min) - 1e-3 * q.distance(middle)
    };
    let mut best = (bounds.center(), f64::NEG_INFINITY);
    for i in 1..24 {
        for j in 1..24 {
            let q = p(bounds.x0 + bounds.width() * f64::from(i) / 24.0, bounds.y0 + bounds.height() * f64::from(j) / 24.0);
            if path.contains(q) && far(q) > best.1 {
                best = (q, far(q));
            }
        }
    }
    best.0
}

pub fn finished(name: &str, pieces: Vec<FinishedPiece>) -> Finished {
    let cloth = |name: &str| Cloth { name: name.into(), thickness: Mm(0.2), source: String::new() };
    let body = Arc::new(Body::new("45 cm play doll", BodyKind::Doll));
    let garment = Garment {
        name: name.into(),
        made_for: Arc::new(Body::new("adult", BodyKind::Woman)),
        pieces: pieces.iter().map(|piece| piece.piece.clone()).collect(),
        seams: vec![],
        tape_lines: vec![],
        openings: vec![],
        cloths: BTreeMap::from([(Role::Shell, cloth("wool serge")), (Role::Lining, cloth("cotton lawn"))]),
        included_allowance: BTreeMap::new(),
    };
    let adapted = Arc::new(Adapted {
        pieces: garment.pieces.clone(),
        garment: Arc::new(garment),
        fitting: Arc::new(Fitting::new("fitting", name, body)),
        demands: vec![],
        ease: vec![],
        findings: vec![],
        steps: 0,
    });
    let filled = Arc::new(petitoile_core::fullness::fill(&adapted).outcome);
    Finished { filled, pieces }
}

/// A jacket for a doll: small pieces only.
pub fn doll_jacket() -> Finished {
    let pieces = [front(1.0), back(1.0), sleeve(1.0), collar(1.0), strip("Waistband", 180.0, 14.0), strip("Tie", 90.0, 6.0), strip("Cuff", 66.0, 12.0), strip("Button strip", 14.0, 80.0)];
    finished("Harbour jacket", pieces.into_iter().map(finished_piece).collect())
}

/// The same for a person, with a skirt: most pieces span pages.
pub fn adult_dress() -> Finished {
    let pieces = [front(4.2), back(4.2), sleeve(4.2), collar(2.4), quarter(105.0, 700.0), strip("Sash", 900.0, 40.0), strip("Cuff", 170.0, 40.0)];
    finished("Harbour dress", pieces.into_iter().map(finished_piece).collect())
}
