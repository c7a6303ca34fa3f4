//! Yokes, bodies, sleeve and bands of the smock.

use kurbo::{CubicBez, Point};

use super::SLIT;
use crate::drafts::pen::{
    curved, fold, level_both, level_then_square, level_then_upright, on_ray, other_leg,
    square_then_upright, straight, upright_then_level,
};
use crate::drafts::wardrobe::WardrobeError;
use crate::drafts::wardrobe::needle::{
    ARM, BAND, LEFT, RIGHT, TORSO, WHOLE, at, copies, fold_mark, mirrored, named, piece,
    with_finish,
};
use crate::drafts::{DraftMeasures, DraftPiece};
use crate::edge::{Edge, Finish, FinishStretch};
use crate::fullness::{Fullness, FullnessOp};
use crate::piece::{Piece, Role, Side};

/// Cloth / finished width where the body is gathered into the yoke. *Own; 1.5 to 2 is common practice, no source.*
const GATHERS: f64 = 1.6;

/// The front's half lies at -x, seen from outside on the right side of the body.
pub(super) fn front_yoke(draft: &DraftPiece) -> Result<Piece, WardrobeError> {
    let (neck_pit, neck, shoulder, width) = (
        at(draft, "F1"),
        at(draft, "F"),
        at(draft, "I"),
        at(draft, "G"),
    );
    let foot = Point::new(0.0, width.y);
    let edges = vec![
        fold("centre front", foot, neck_pit),
        curved("neckline", &[level_then_upright(neck_pit, neck)]),
        straight("shoulder", &[neck, shoulder]),
        curved("armscye", &[square_then_upright(neck, shoulder, width)]),
        straight("yoke seam", &[width, foot]),
    ];
    piece(
        "front yoke",
        TORSO,
        copies(&[WHOLE], &[Role::Shell]),
        edges.into_iter().map(mirrored).collect(),
    )
}

pub(super) fn back_yoke(draft: &DraftPiece) -> Result<Piece, WardrobeError> {
    let (nape, neck, shoulder, width) = (
        at(draft, "A"),
        at(draft, "F"),
        at(draft, "I"),
        at(draft, "G"),
    );
    let foot = Point::new(0.0, width.y);
    let edges = vec![
        with_finish(Finish::Facing, straight("centre back", &[foot, nape])),
        curved("neckline", &[level_then_square(nape, neck, shoulder)]),
        straight("shoulder", &[neck, shoulder]),
        curved("armscye", &[square_then_upright(neck, shoulder, width)]),
        straight("yoke seam", &[width, foot]),
    ];
    piece(
        "back yoke",
        TORSO,
        copies(&[RIGHT, LEFT], &[Role::Shell]),
        edges,
    )
}

/// The body below the yoke: side seam of this length on the line of the bodice's own, gathered above, hemmed below.
pub(super) fn body_piece(
    name: &str,
    draft: &DraftPiece,
    side_length: f64,
) -> Result<Piece, WardrobeError> {
    let (width, armpit) = (at(draft, "G"), at(draft, "L"));
    let top = Point::new(0.0, width.y);
    // Straight down with a little flare, whichever way the draft's own side seam leans. *Own.*
    let side = on_ray(armpit, armpit + kurbo::Vec2::new(0.08, -1.0), side_length);
    let foot = Point::new(0.0, side.y - 0.03 * side_length);
    let is_front = name == "front body";
    let centre = if is_front {
        fold("centre front", foot, top)
    } else {
        straight("centre back", &[foot, top]).map(slit)
    };
    let hem = with_finish(
        Finish::Hem {
            width: None,
            turns: 2,
        },
        curved("hem", &[level_both(side, foot)]),
    );
    let edges = vec![
        centre,
        straight("yoke seam", &[top, width]),
        curved("armscye", &[upright_then_level(width, armpit)]),
        straight("side seam", &[armpit, side]),
        hem,
    ];
    let (edges, sides): (Vec<Option<Edge>>, &[Side]) = if is_front {
        (edges.into_iter().map(mirrored).collect(), &[WHOLE])
    } else {
        (edges, &[RIGHT, LEFT])
    };
    let mut body = piece(name, TORSO, copies(sides, &[Role::Shell]), edges)?;
    body.fullness.push(FullnessOp {
        edge: "yoke seam".to_owned(),
        from: 0.0,
        to: 1.0,
        fullness: Fullness::Gathers { ratio: GATHERS },
        even_to: Some("hem".to_owned()),
        layout: Default::default(),
    });
    Ok(body)
}

/// A centre back drawn upwards: sewn below, faced above.
fn slit(edge: Edge) -> Edge {
    let stretch = |from, to, finish| FinishStretch { from, to, finish };
    Edge {
        finish: vec![
            stretch(0.0, 1.0 - SLIT, Finish::Seam),
            stretch(1.0 - SLIT, 1.0, Finish::Facing),
        ],
        ..edge
    }
}

/// The drafted sleeve with its hem widened to three quarters more than the cuff; front half (the hollow one) at +x.
pub(super) fn sleeve(draft: &DraftPiece, m: &DraftMeasures) -> Result<Piece, WardrobeError> {
    let underarm = at(draft, "5");
    let half_hem = 0.875 * 1.18 * m.hand_girth;
    let drop = other_leg("sleeve", "underarm", m.inside_wrist, underarm.x - half_hem)?;
    let foot = Point::new(half_hem, underarm.y - drop);
    let middle = Point::new(0.0, foot.y - 0.05 * drop);
    let cap = |name: &str| draft.outline.edge(name).cloned();
    let hem = CubicBez::new(
        foot,
        Point::new(foot.x * 2.0 / 3.0, foot.y),
        Point::new(foot.x / 3.0, middle.y),
        middle,
    );
    // The hem runs on across the middle as one edge.
    let all = [
        hem,
        CubicBez::new(
            middle,
            Point::new(-hem.p2.x, hem.p2.y),
            Point::new(-hem.p1.x, hem.p1.y),
            Point::new(-foot.x, foot.y),
        ),
    ];
    let clockwise = vec![
        named("cap back", cap("cap upper").map(Edge::reversed)),
        straight("underarm back", &[underarm, foot]),
        curved("hem", &all),
        straight(
            "underarm front",
            &[
                Point::new(-foot.x, foot.y),
                Point::new(-underarm.x, underarm.y),
            ],
        ),
        named("cap front", cap("cap under").map(Edge::reversed)),
    ];
    piece(
        "sleeve",
        ARM,
        copies(&[RIGHT, LEFT], &[Role::Shell]),
        clockwise.into_iter().map(mirrored).collect(),
    )
}

/// A band folded lengthwise, drawn unfolded: "sleeve edge" is sewn to the sleeve, "inner edge" felled over it.
pub(super) fn band(
    name: &str,
    length: f64,
    depth: f64,
    sides: &[Side],
) -> Result<Piece, WardrobeError> {
    let p = Point::new;
    let edges = vec![
        straight("inner edge", &[p(0.0, 0.0), p(length, 0.0)]),
        straight("end front", &[p(length, 0.0), p(length, depth)]),
        straight("sleeve edge", &[p(length, depth), p(0.0, depth)]),
        straight("end back", &[p(0.0, depth), p(0.0, 0.0)]),
    ];
    let mut band = piece(name, BAND, copies(sides, &[Role::Shell]), edges)?;
    let (quarter, middle) = (0.25 * depth, depth / 2.0);
    band.grainline = Some((p(0.2 * length, quarter), p(0.8 * length, quarter)));
    band.marks = vec![fold_mark(p(0.0, middle), p(length, middle))];
    Ok(band)
}

/// The neckband, half from the fold at the centre front to the opening at the back; drawn unfolded.
pub(super) fn neckband(front: &Piece, back: &Piece, inch: f64) -> Result<Piece, WardrobeError> {
    let neckline = |d: &Piece| d.outline.edge("neckline").map_or(0.0, |e| e.line.length());
    let (length, depth) = (neckline(front) + neckline(back), 2.5 * inch);
    let p = Point::new;
    let edges = vec![
        straight("neck edge", &[p(0.0, 0.0), p(length, 0.0)]),
        straight("end", &[p(length, 0.0), p(length, depth / 2.0)]),
        straight("inner end", &[p(length, depth / 2.0), p(length, depth)]),
        straight("inner edge", &[p(length, depth), p(0.0, depth)]),
        fold("centre front", p(0.0, depth), p(0.0, 0.0)),
    ];
    // Front in the middle, right side of the body at -x.
    let mut band = piece(
        "neckband",
        BAND,
        copies(&[WHOLE], &[Role::Shell]),
        edges.into_iter().map(mirrored).collect(),
    )?;
    let (quarter, middle) = (0.75 * depth, depth / 2.0);
    band.grainline = Some((p(-0.8 * length, quarter), p(-0.2 * length, quarter)));
    band.marks = vec![fold_mark(p(-length, middle), p(0.0, middle))];
    Ok(band)
}
