//! Front, back, sleeve, cuff and collar of the harbour jacket.

use kurbo::{CubicBez, Point, Vec2};

use super::{Shape, flipped, front_levels};
use crate::drafts::pen::{
    curved, fold, level_then_square, level_then_upright, other_leg, square_then_upright, straight,
    upright_then_level,
};
use crate::drafts::sleeve::{back_again, hollow_cap};
use crate::drafts::wardrobe::WardrobeError;
use crate::drafts::wardrobe::needle::{
    ARM, BAND, LEFT, RIGHT, TORSO, WHOLE, at, copies, mirrored, piece, with_finish,
};
use crate::drafts::{DraftError, DraftMeasures, DraftPiece};
use crate::edge::{Edge, Finish};
use crate::geometry::curve::Line;
use crate::piece::{Mark, MarkKind, Piece, Role};

/// Cap length / armscye: eased in. *Own, as the flat sleeve but less.*
const CAP_TO_ARMSCYE: f64 = 1.05;
/// Sleeve width / upper arm girth: 84 mm of ease on a 299 mm arm; a jacket sleeve has 75 to 110 mm (ease table).
const SLEEVE_TO_ARM: f64 = 1.28;

fn hem_of(edge: Option<Edge>) -> Option<Edge> {
    with_finish(
        Finish::Hem {
            width: None,
            turns: 1,
        },
        edge,
    )
}

/// Drafted with the side at +x, then mirrored: the right front is seen from outside with its side at the left.
pub(super) fn front(draft: &DraftPiece, shape: &Shape) -> Result<Piece, WardrobeError> {
    let (neck_pit, neck, shoulder, width) = (
        at(draft, "1"),
        at(draft, "7"),
        at(draft, "9s"),
        at(draft, "g"),
    );
    let (bust, waist) = front_levels(draft, shape);
    let (armpit, side) = (
        Point::new(shape.quarter, bust),
        Point::new(shape.quarter - shape.side, waist),
    );
    let mouth = |sign: f64| Point::new(shape.dart_middle + sign * shape.dart / 2.0, waist);
    let apex = Point::new(shape.dart_middle, waist + shape.dart_height);
    let (edge_top, edge_foot) = (
        Point::new(-shape.overlap, neck_pit.y),
        Point::new(-shape.overlap, waist),
    );
    let edges = vec![
        straight("front edge", &[edge_foot, edge_top]),
        straight("neck extension", &[edge_top, neck_pit]),
        curved("neckline", &[level_then_upright(neck_pit, neck)]),
        straight("shoulder", &[neck, shoulder]),
        curved(
            "armscye",
            &[
                square_then_upright(neck, shoulder, width),
                upright_then_level(width, armpit),
            ],
        ),
        straight("side seam", &[armpit, side]),
        hem_of(straight("waist side", &[side, mouth(1.0)])),
        straight("dart leg side", &[mouth(1.0), apex]),
        straight("dart leg centre", &[apex, mouth(-1.0)]),
        hem_of(straight("waist centre", &[mouth(-1.0), edge_foot])),
    ];
    let edges = edges.into_iter().map(mirrored).collect();
    let mut front = piece(
        "front",
        TORSO,
        copies(&[RIGHT, LEFT], &[Role::Shell, Role::Lining]),
        edges,
    )?;
    let middle = -shape.quarter / 2.0;
    front.grainline = Some((
        Point::new(middle, waist + 0.2 * shape.underarm),
        Point::new(middle, bust - 0.1 * shape.underarm),
    ));
    front.marks = buttonholes(neck_pit.y, waist, shape.overlap);
    Ok(front)
}

/// Four buttonholes that lie across the centre front. *Own.*
fn buttonholes(top: f64, waist: f64, overlap: f64) -> Vec<Mark> {
    let y = |i: u8| top + (waist - top) * (0.06 + 0.27 * f64::from(i));
    (0..4_u8)
        .map(|i| Mark {
            name: format!("buttonhole {}", i + 1),
            kind: MarkKind::Buttonhole(
                Point::new(0.15 * overlap, y(i)),
                Point::new(-0.95 * overlap, y(i)),
            ),
        })
        .collect()
}

pub(super) fn back(draft: &DraftPiece, shape: &Shape) -> Result<Piece, WardrobeError> {
    let (nape, neck, shoulder, width) = (
        at(draft, "A"),
        at(draft, "F"),
        at(draft, "I"),
        at(draft, "G"),
    );
    let waist = -shape.back_length;
    let (foot, side) = (
        Point::new(0.0, waist),
        Point::new(shape.quarter - shape.side, waist),
    );
    let armpit = Point::new(shape.quarter, waist + shape.underarm);
    let edges = vec![
        fold("centre back", foot, nape),
        curved("neckline", &[level_then_square(nape, neck, shoulder)]),
        straight("shoulder", &[neck, shoulder]),
        curved(
            "armscye",
            &[
                square_then_upright(neck, shoulder, width),
                upright_then_level(width, armpit),
            ],
        ),
        straight("side seam", &[armpit, side]),
        hem_of(straight("waist", &[side, foot])),
    ];
    let mut back = piece(
        "back",
        TORSO,
        copies(&[WHOLE], &[Role::Shell, Role::Lining]),
        edges,
    )?;
    let middle = shape.quarter / 2.0;
    back.grainline = Some((
        Point::new(middle, 0.8 * waist),
        Point::new(middle, 0.35 * waist),
    ));
    Ok(back)
}

/// The sleeve and the width of its hem. Front half at +x: the right sleeve seen from outside.
pub(super) fn sleeve(
    m: &DraftMeasures,
    front_armscye: f64,
    back_armscye: f64,
) -> Result<(Piece, f64), WardrobeError> {
    let (front_cap, back_cap) = (
        CAP_TO_ARMSCYE * front_armscye,
        CAP_TO_ARMSCYE * back_armscye,
    );
    let (height, front_width, back_width) =
        cap_of(front_cap, back_cap, SLEEVE_TO_ARM * m.upper_arm_girth)?;
    let (front, back) = (
        Point::new(front_width, -height),
        Point::new(back_width, -height),
    );
    let (middle, half_hem) = ((front_width - back_width) / 2.0, 0.6 * m.hand_girth);
    let drop = other_leg(
        "sleeve",
        "underarm",
        m.inside_wrist,
        (front_width + back_width) / 2.0 - half_hem,
    )?;
    let (hem_front, hem_back) = (
        Point::new(middle + half_hem, -height - drop),
        Point::new(middle - half_hem, -height - drop),
    );
    let edges = vec![
        curved("cap front", &hollow_cap(front)),
        straight("underarm front", &[front, hem_front]),
        straight("hem", &[hem_front, hem_back]),
        straight("underarm back", &[hem_back, flipped(back)]),
        curved("cap back", &back_again(&hollow_cap(back))),
    ];
    let mut sleeve = piece(
        "sleeve",
        ARM,
        copies(&[RIGHT, LEFT], &[Role::Shell, Role::Lining]),
        edges,
    )?;
    sleeve.grainline = Some((
        Point::new(middle, -height - 0.8 * drop),
        Point::new(middle, -height - 0.1 * drop),
    ));
    Ok((sleeve, 2.0 * half_hem))
}

/// Cap height and the two half widths for these half caps and this whole width.
fn cap_of(front_cap: f64, back_cap: f64, width: f64) -> Result<(f64, f64, f64), DraftError> {
    let too_wide = DraftError::OutOfReach {
        piece: "sleeve",
        edge: "cap",
        length: front_cap + back_cap,
        distance: width,
    };
    let widths = |height: f64| {
        Some((
            half_width(height, front_cap)?,
            half_width(height, back_cap)?,
        ))
    };
    // The higher the cap the narrower the sleeve.
    let (mut low, mut high) = (0.0, front_cap.min(back_cap));
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        match widths(middle) {
            Some((front, back)) if width < front + back => low = middle,
            _ => high = middle,
        }
    }
    let height = f64::midpoint(low, high);
    match widths(height) {
        Some((front, back)) if (front + back - width).abs() < 1e-6 * width => {
            Ok((height, front, back))
        }
        _ => Err(too_wide),
    }
}

/// Half width of a sleeve whose half cap has this height and length; `None` when it is higher than long.
fn half_width(height: f64, half_cap: f64) -> Option<f64> {
    let length = |width: f64| {
        Line::from_cubics(&hollow_cap(Point::new(width, -height))).map_or(0.0, |line| line.length())
    };
    let (mut low, mut high) = (1e-3 * half_cap, half_cap);
    if half_cap < length(low) || length(high) < half_cap {
        return None;
    }
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if length(middle) < half_cap {
            low = middle
        } else {
            high = middle
        }
    }
    Some(f64::midpoint(low, high))
}

/// A turned-back cuff: as long as the sleeve's hem, a little wider where it stands off.
pub(super) fn cuff(hem: f64, inch: f64) -> Result<Piece, WardrobeError> {
    let (depth, flare) = (2.75 * inch, 0.3 * inch);
    let (a, b) = (Point::new(-flare, 0.0), Point::new(hem + flare, 0.0));
    let (c, d) = (Point::new(hem, depth), Point::new(0.0, depth));
    let edges = vec![
        straight("outer edge", &[a, b]),
        straight("end front", &[b, c]),
        straight("sleeve edge", &[c, d]),
        straight("end back", &[d, a]),
    ];
    piece(
        "cuff",
        BAND,
        copies(&[RIGHT, LEFT], &[Role::Shell, Role::Lining]),
        edges,
    )
}

/// A turn-down collar, half from the fold at the centre back, its front end pointed.
pub(super) fn collar(neckline: f64, inch: f64) -> Result<Piece, WardrobeError> {
    let depth = 2.6 * inch;
    let (a, b) = (Point::ORIGIN, Point::new(neckline, 0.0));
    let (tip, top) = (
        Point::new(neckline + 0.6 * inch, depth + 0.35 * inch),
        Point::new(0.0, depth),
    );
    let outer = CubicBez::new(
        tip,
        tip - Vec2::new(0.35 * neckline, 0.1 * inch),
        top + Vec2::new(0.35 * neckline, 0.0),
        top,
    );
    let edges = vec![
        straight("neckline", &[a, b]),
        straight("front end", &[b, tip]),
        curved("outer edge", &[outer]),
        fold("centre back", top, a),
    ];
    piece(
        "collar",
        BAND,
        copies(&[WHOLE], &[Role::Shell, Role::Lining]),
        edges,
    )
}
