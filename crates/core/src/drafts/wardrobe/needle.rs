//! Pieces from edges, and what the wardrobe says again and again: sides, frames, cloths.

use kurbo::Point;

use super::WardrobeError;
use crate::drafts::DraftPiece;
use crate::drafts::pen::on_ray;
use crate::edge::{Edge, Finish, FinishStretch};
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::piece::{Copy, Follow, FollowRule, Frame, Mark, MarkKind, Piece, Placement, Role, Side};
use crate::units::Mm;

/// A copy for the right side of the body, as drawn.
pub(super) const RIGHT: Side = Side::Right;
/// A copy for the left side of the body, mirrored.
pub(super) const LEFT: Side = Side::Left;
/// A copy across both sides.
pub(super) const WHOLE: Side = Side::Whole;

/// Frameless pieces: as long as what they are sewn to, as deep as the fitting's rule for details says.
pub(super) const BAND: Placement = Placement::Follows(Follow {
    length: FollowRule::Mate,
    depth: FollowRule::Detail,
});

/// Copies for these sides in these roles.
pub(super) fn copies(sides: &[Side], roles: &[Role]) -> Vec<Copy> {
    roles
        .iter()
        .flat_map(|role| {
            sides.iter().map(|side| Copy {
                side: *side,
                role: *role,
            })
        })
        .collect()
}

/// Where a band is folded lengthwise once it is sewn on.
pub(super) fn fold_mark(from: Point, to: Point) -> Mark {
    Mark {
        name: "fold".to_owned(),
        kind: MarkKind::Line(Line::straight(from, to)),
    }
}

/// A piece from edges in order, either way round; missing edges are left out and refused by the outline.
pub(super) fn piece(
    name: &str,
    placement: Placement,
    copies: Vec<Copy>,
    edges: Vec<Option<Edge>>,
) -> Result<Piece, WardrobeError> {
    let edges: Vec<Edge> = edges.into_iter().flatten().collect();
    let outline = Outline::new(edges).map_err(|why| WardrobeError::NoOutline {
        piece: name.to_owned(),
        why,
    })?;
    Ok(Piece {
        name: name.to_owned(),
        outline,
        placement,
        body_lines: Vec::new(),
        darts: Vec::new(),
        notches: Vec::new(),
        marks: Vec::new(),
        grainline: None,
        face: Default::default(),
        fullness: Vec::new(),
        copies,
    })
}

/// How far the neck points of jacket and smock are moved out along the shoulder, inches: the books' necklines lie close
/// to the bare neck, these are worn over something and closed. *Own.*
pub(super) const NECK_EASE: f64 = 0.4;

/// A named point of a drafted piece; the origin when the draft does not name it.
pub(super) fn at(draft: &DraftPiece, name: &str) -> Point {
    draft.point(name).unwrap_or_default()
}

/// A drafted piece with one point moved; only the points, its outline stays as drafted.
pub(super) fn with_point(mut draft: DraftPiece, name: &str, to: Point) -> DraftPiece {
    for point in draft.points.iter_mut().filter(|(n, _)| *n == name) {
        point.1 = to;
    }
    draft
}

/// A drafted piece whose neck point is moved out along the shoulder.
pub(super) fn neck_widened(draft: DraftPiece, neck: &str, shoulder: &str, by: f64) -> DraftPiece {
    let at = |name| draft.point(name).unwrap_or_default();
    let to = on_ray(at(neck), at(shoulder), by);
    with_point(draft, neck, to)
}

/// The same edge mirrored at x = 0.
pub(super) fn mirrored(edge: Option<Edge>) -> Option<Edge> {
    edge.map(|edge| Edge {
        line: edge.line.mapped(|p| Point::new(-p.x, p.y)),
        ..edge
    })
}

/// The same edge under another name.
pub(super) fn named(name: &str, edge: Option<Edge>) -> Option<Edge> {
    edge.map(|edge| Edge {
        name: name.to_owned(),
        ..edge
    })
}

/// The same edge with one finish from end to end.
pub(super) fn with_finish(finish: Finish, edge: Option<Edge>) -> Option<Edge> {
    edge.map(|edge| Edge {
        finish: vec![FinishStretch {
            from: 0.0,
            to: 1.0,
            finish,
        }],
        ..edge
    })
}

/// The torso's frame.
pub(super) const TORSO: Placement = Placement::Framed(Frame::Torso);
/// The arm's frame.
pub(super) const ARM: Placement = Placement::Framed(Frame::Arm);

/// A cloth with the source of its thickness.
pub(super) fn cloth(name: &str, thickness: f64, source: &str) -> crate::cloth::Cloth {
    crate::cloth::Cloth {
        name: name.to_owned(),
        thickness: Mm(thickness),
        source: source.to_owned(),
    }
}

/// The plain-weave cotton whose thickness was measured.
#[allow(
    clippy::approx_constant,
    reason = "a measured thickness, no share of pi"
)]
pub(super) fn plain_cotton(name: &str) -> crate::cloth::Cloth {
    cloth(
        name,
        0.318,
        "measured, plain-weave cotton, Fibres & Textiles in Eastern Europe 2014, Table 1, secondary copy",
    )
}

/// The plain-weave wool whose thickness was measured.
pub(super) fn plain_wool(name: &str) -> crate::cloth::Cloth {
    cloth(
        name,
        0.568,
        "measured, plain-weave wool, Fibres & Textiles in Eastern Europe 2014, Table 1, secondary copy",
    )
}
