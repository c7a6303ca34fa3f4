//! A gusset: a diamond set into a corner of the outline, between a piece and what it is sewn to there.

use std::sync::Arc;

use kurbo::Point;

use super::naming::{
    above_zero, free_piece, opened_copies, piece_of, refuse, roles, seam_name, told_by,
};
use super::run::not_a_leg;
use crate::alteration::marks::{between, fresh, gaps_of, left_open};
use crate::alteration::{AlterationError, Altered};
use crate::edge::{Edge, Finish};
use crate::finding::{Finding, Gravity, Place};
use crate::garment::Garment;
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::piece::{Copy, Follow, FollowRule, Piece, Placement, Role, Side};
use crate::seams::{Relation, Seam, SeamKind, Stretch};
use crate::units::Mm;

/// What is asked: see [`super::PiecesChange::Gusset`].
pub(super) struct Gusset<'a> {
    pub piece: &'a str,
    pub corner: &'a str,
    pub side: Mm,
    pub width: Mm,
    pub name: &'a str,
}

/// A stretch of an edge beside the corner, as long as a side of the gusset, walked counter-clockwise.
struct Slit {
    edge: String,
    from: f64,
    to: f64,
}

pub(super) fn gusset(garment: &Garment, asked: &Gusset<'_>) -> Result<Altered, AlterationError> {
    let piece = piece_of(garment, asked.piece)?;
    free_piece(garment, asked.name, &[])?;
    let side = above_zero("a side", asked.side.0)?;
    let width = above_zero("a width", asked.width.0)?;
    if width >= 2.0 * side {
        return refuse(format!(
            "four sides of {side:.1} mm cannot open {width:.1} mm wide; type less than {:.1} mm",
            2.0 * side
        ));
    }
    let slits = slits(piece, asked.corner, side)?;
    let role = roles(piece).first().copied().unwrap_or(Role::Shell);
    let Some((copy, mirrored)) = told_by(piece, role) else {
        return refuse(format!("{} is cut no time at all", asked.piece));
    };
    let mates: Vec<Vec<Stretch>> = slits
        .iter()
        .map(|slit| mate(garment, asked.piece, slit, role))
        .collect();
    let (diamond, names) = diamond(piece, role, mirrored, asked, &slits, &mates)?;
    let mut altered = opened(garment, asked.piece, &slits);
    let place = altered
        .garment
        .pieces
        .iter()
        .position(|p| p.name == asked.piece);
    let place = place.map_or(altered.garment.pieces.len(), |at| at + 1);
    let own = diamond.copies.first().copied().unwrap_or(copy);
    altered.garment.pieces.insert(place, Arc::new(diamond));
    let on_piece = slits.iter().map(|slit| Stretch {
        piece: asked.piece.to_owned(),
        copy,
        edge: slit.edge.clone(),
        from: slit.from,
        to: slit.to,
    });
    let [l_h, h_m, m_b, b_l] = &names;
    let gusset = |edge: &String, from: f64, to: f64| Stretch {
        piece: asked.name.to_owned(),
        copy: own,
        edge: edge.clone(),
        from,
        to,
    };
    let first = vec![gusset(h_m, 1.0, 0.0), gusset(l_h, 1.0, 0.0)];
    sew(
        &mut altered.garment,
        asked,
        asked.piece,
        on_piece.collect(),
        first,
    );
    if mates.iter().all(|mate| !mate.is_empty()) {
        let with = mates
            .first()
            .and_then(|m| m.first())
            .map(|s| s.piece.clone());
        let second = vec![gusset(m_b, 0.0, 1.0), gusset(b_l, 0.0, 1.0)];
        let a = mates.into_iter().flatten().collect();
        sew(
            &mut altered.garment,
            asked,
            &with.unwrap_or_default(),
            a,
            second,
        );
    } else {
        altered.notes.push(Finding {
            gravity: Gravity::Care,
            place: Place::piece(asked.name),
            what: "two of its sides are not sewn yet: the edges at the corner are not both sewn to another piece.".to_owned(),
            advice: "Sew them to the piece that comes there.".to_owned(),
            remedy: None,
        });
    }
    Ok(altered)
}

/// The last stretch of the edge before the corner and the first of the edge after it, each as long as a side.
fn slits(piece: &Piece, corner: &str, side: f64) -> Result<[Slit; 2], AlterationError> {
    let missing = || AlterationError::NoEdge(corner.to_owned());
    let number = piece.outline.index_of(corner).ok_or_else(missing)?;
    let count = piece.outline.edges().len();
    let edges = piece.outline.edges();
    let (Some(before), Some(after)) = (edges.get((number + count - 1) % count), edges.get(number))
    else {
        return Err(missing());
    };
    let share = |edge: &Edge| -> Result<f64, AlterationError> {
        not_a_leg(piece, &edge.name)?;
        if edge.is_fold() {
            return refuse(format!(
                "{} is a fold; set the gusset into another corner",
                edge.name
            ));
        }
        let length = edge.line.length();
        if side > length {
            return refuse(format!(
                "a side of {side:.1} mm is {:.1} mm longer than {} ({length:.1} mm); make it less",
                side - length,
                edge.name
            ));
        }
        Ok(side / length)
    };
    Ok([
        Slit {
            edge: before.name.clone(),
            from: 1.0 - share(before)?,
            to: 1.0,
        },
        Slit {
            edge: after.name.clone(),
            from: 0.0,
            to: share(after)?,
        },
    ])
}

/// What a slit is sewn to in a layer, walked the same way; empty when it is sewn to nothing.
fn mate(garment: &Garment, piece: &str, slit: &Slit, role: Role) -> Vec<Stretch> {
    for seam in &garment.seams {
        for (mine, other) in [(&seam.a, &seam.b), (&seam.b, &seam.a)] {
            let is_mine =
                |s: &Stretch| s.piece == piece && s.edge == slit.edge && s.copy.role == role;
            if !mine.iter().any(is_mine) {
                continue;
            }
            for (from, to) in gaps_of(garment, seam, piece, &slit.edge, slit.from, slit.to) {
                let own = between(garment, mine, from, to);
                let Some(first) = own.first().filter(|s| is_mine(s)) else {
                    continue;
                };
                let mut there = between(garment, other, from, to);
                if first.from > first.to {
                    there.reverse();
                    for stretch in &mut there {
                        std::mem::swap(&mut stretch.from, &mut stretch.to);
                    }
                }
                return there;
            }
        }
    }
    Vec::new()
}

/// The diamond and the names of its edges: L-H, H-M along the piece, M-H', H'-L along its mate.
fn diamond(
    piece: &Piece,
    role: Role,
    mirrored: bool,
    asked: &Gusset<'_>,
    slits: &[Slit; 2],
    mates: &[Vec<Stretch>],
) -> Result<(Piece, [String; 4]), AlterationError> {
    let [before, after] = slits;
    let other = |i: usize| {
        mates.get(i).and_then(|mate| mate.first()).map_or_else(
            || "other side".to_owned(),
            |s| format!("{} {}", s.piece, s.edge),
        )
    };
    let wanted = [
        format!("{} {}", asked.piece, after.edge),
        format!("{} {}", asked.piece, before.edge),
        other(0),
        other(1),
    ];
    let mut taken: Vec<String> = Vec::new();
    let names = wanted.map(|name| {
        let name = fresh(&name, taken.iter().map(String::as_str));
        taken.push(name.clone());
        name
    });
    let half = asked.width.0 / 2.0;
    let across = libm::sqrt(asked.side.0 * asked.side.0 - half * half);
    let corners = [(-across, 0.0), (0.0, -half), (across, 0.0), (0.0, half)].map(Point::from);
    let ends = corners.iter().zip(corners.iter().cycle().skip(1));
    let edges = names
        .iter()
        .zip(ends)
        .map(|(name, (a, b))| Edge::seam(name, Line::straight(*a, *b)));
    let copy = Copy {
        side: Side::Whole,
        role,
    };
    let made = Piece {
        name: asked.name.to_owned(),
        outline: Outline::new(edges.collect())?,
        placement: Placement::Follows(Follow {
            length: FollowRule::Mate,
            depth: FollowRule::Mate,
        }),
        body_lines: Vec::new(),
        darts: Vec::new(),
        notches: Vec::new(),
        marks: Vec::new(),
        grainline: None,
        fullness: Vec::new(),
        copies: if mirrored {
            opened_copies(&[copy])
        } else {
            vec![copy]
        },
        face: piece.face,
    };
    Ok((made, names))
}

/// The seams along both slits end where the gusset begins.
fn opened(garment: &Garment, piece: &str, slits: &[Slit; 2]) -> Altered {
    let [before, after] = slits;
    let open = |garment: &Garment, slit: &Slit| {
        left_open(
            garment,
            piece,
            &slit.edge,
            (slit.from, slit.to),
            Finish::Seam,
        )
    };
    let first = open(garment, before);
    let second = open(&first.garment, after);
    Altered {
        carried: first.carried.then(&second.carried),
        garment: second.garment,
        notes: Vec::new(),
    }
}

fn sew(garment: &mut Garment, asked: &Gusset<'_>, with: &str, a: Vec<Stretch>, b: Vec<Stretch>) {
    let mirrored = a.iter().all(|s| s.copy.side != Side::Left)
        && garment
            .piece(asked.name)
            .is_some_and(|piece| piece.copies.len() > 1);
    garment.seams.push(Seam {
        name: seam_name(garment, &format!("{} to {with}", asked.name)),
        a,
        b,
        mirrored,
        relation: Relation::Equal,
        kind: SeamKind::Plain,
        inserts: Vec::new(),
    });
}
