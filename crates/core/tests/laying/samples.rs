//! Small garments and finished pieces.

use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::adapt::Adapted;
use petitoile_core::body::{Body, BodyKind};
use petitoile_core::edge::{Edge, Finish};
use petitoile_core::finding::Warned;
use petitoile_core::finish::{Finished, finish};
use petitoile_core::fitting::Fitting;
use petitoile_core::fullness::fill;
use petitoile_core::garment::Garment;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::CopyRef;
use petitoile_core::laying::{Hidden, LayShape, PieceLaying, ToLay, to_lay};
use petitoile_core::piece::{Copy, Frame, Piece, Placement, Role, Side};
use petitoile_core::units::{Degrees, LengthUnit};

pub const WHOLE: Copy = Copy {
    side: Side::Whole,
    role: Role::Shell,
};

/// A piece with straight edges between these corners, counter-clockwise; edge `i` starts at corner `i` and is named and
/// finished so.
pub fn piece(name: &str, corners: &[(f64, f64)], edges: &[(&str, Finish)]) -> Piece {
    let n = corners.len();
    let edge = |i: usize| {
        let line = Line::straight(corners[i].into(), corners[(i + 1) % n].into());
        Edge::finished(edges[i].0, line, edges[i].1)
    };
    Piece {
        name: name.to_owned(),
        outline: Outline::new((0..n).map(edge).collect()).unwrap(),
        placement: Placement::Framed(Frame::Torso),
        body_lines: Vec::new(),
        darts: Vec::new(),
        notches: Vec::new(),
        marks: Vec::new(),
        grainline: None,
        face: Default::default(),
        fullness: Vec::new(),
        copies: vec![WHOLE],
    }
}

/// A rectangle from the origin with seams all round: hem, right, waist, left.
pub fn rectangle(name: &str, width: f64, height: f64) -> Piece {
    let corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)];
    let seam = Finish::Seam;
    piece(
        name,
        &corners,
        &[
            ("hem", seam),
            ("right", seam),
            ("waist", seam),
            ("left", seam),
        ],
    )
}

/// The same with its left edge on the fold.
pub fn on_fold(name: &str, width: f64, height: f64) -> Piece {
    let corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)];
    let seam = Finish::Seam;
    piece(
        name,
        &corners,
        &[
            ("hem", seam),
            ("right", seam),
            ("waist", seam),
            ("left", Finish::Fold),
        ],
    )
}

pub fn doll() -> Body {
    Body::new("doll", BodyKind::Doll)
}

/// These pieces as they come out of step 2 on the body they were made for, no allowance at seams, with these choices.
pub fn adapted(pieces: Vec<Piece>, choose: impl Fn(&mut Fitting)) -> Adapted {
    let garment = Arc::new(Garment {
        name: "Smock".to_owned(),
        made_for: Arc::new(doll()),
        pieces: pieces.into_iter().map(Arc::new).collect(),
        seams: Vec::new(),
        tape_lines: Vec::new(),
        openings: Vec::new(),
        cloths: Default::default(),
        included_allowance: Default::default(),
    });
    let mut fitting = Fitting::new("Smock for the doll", garment.name.clone(), Arc::new(doll()));
    fitting.allowances.seam = Mm(0.0);
    choose(&mut fitting);
    Adapted {
        made: garment.clone(),
        pieces: garment.pieces.clone(),
        garment,
        fitting: Arc::new(fitting),
        demands: Vec::new(),
        tape_lines: Vec::new(),
        ease: Vec::new(),
        findings: Vec::new(),
        steps: 0,
    }
}

/// The maker allows every way to piece.
pub fn allowed() -> PieceLaying {
    PieceLaying {
        seam_on_fold: Some(true),
        patch: Some(true),
        join: Some(true),
        ..PieceLaying::default()
    }
}

/// The maker allows every way to piece these.
pub fn allow(fitting: &mut Fitting, pieces: &[&str]) {
    let chosen = pieces.iter().map(|name| ((*name).to_owned(), allowed()));
    fitting.laying.pieces.extend(chosen);
}

/// The same after steps 3 and 4.
pub fn finished(pieces: Vec<Piece>, choose: impl Fn(&mut Fitting)) -> Finished {
    let filled = fill(&Arc::new(adapted(pieces, choose))).outcome;
    finish(&Arc::new(filled)).outcome
}

pub fn laid(finished: &Finished) -> Warned<ToLay> {
    to_lay(finished, &Hidden::default(), LengthUnit::Millimetre)
}

/// Everything to be laid of these pieces, which have nothing wrong with them.
pub fn to_lay_of(pieces: Vec<Piece>, choose: impl Fn(&mut Fitting)) -> ToLay {
    let laid = laid(&finished(pieces, choose));
    assert_eq!(laid.findings, Vec::new());
    laid.outcome
}

pub fn area(outline: &[Point]) -> f64 {
    let n = outline.len();
    (0..n)
        .map(|i| (outline[i], outline[(i + 1) % n]))
        .map(|(a, b)| a.x * b.y - b.x * a.y)
        .sum::<f64>()
        / 2.0
}

/// Left, lower, right, upper.
pub fn bounds(outline: &[Point]) -> (f64, f64, f64, f64) {
    let all = |f: fn(&Point) -> f64| outline.iter().map(f).collect::<Vec<_>>();
    let low = |v: Vec<f64>| v.into_iter().fold(f64::INFINITY, f64::min);
    let high = |v: Vec<f64>| v.into_iter().fold(f64::NEG_INFINITY, f64::max);
    (
        low(all(|p| p.x)),
        low(all(|p| p.y)),
        high(all(|p| p.x)),
        high(all(|p| p.y)),
    )
}

pub fn shape(corners: &[(f64, f64)]) -> LayShape {
    LayShape {
        outline: corners.iter().map(|p| Point::from(*p)).collect(),
        grain: Degrees(0.0),
        mirrored: false,
        fold: None,
    }
}

pub fn copy_of(piece: &str) -> CopyRef {
    CopyRef {
        piece: piece.to_owned(),
        copy: WHOLE,
        number: 0,
    }
}
