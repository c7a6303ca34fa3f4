//! A lining: a copy of the piece that lies inside, a turn of cloth smaller all round.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::facing::as_drawn;
use super::naming::{free_piece, in_layer, piece_of, refuse};
use super::run::moved_in;
use crate::alteration::{AlterationError, Altered, Carried};
use crate::edge::{EdgeRef, Finish};
use crate::finding::{Finding, Gravity, Place};
use crate::garment::Garment;
use crate::piece::{Copy, Mark, MarkKind, Piece, Role};
use crate::seams::{Relation, Seam, Stretch};
use crate::units::Mm;

pub(super) fn lining(
    garment: &Garment,
    of: &str,
    turn_of_cloth: Mm,
    name: &str,
) -> Result<Altered, AlterationError> {
    let piece = piece_of(garment, of)?;
    free_piece(garment, name, &[])?;
    if !turn_of_cloth.0.is_finite() {
        return Err(AlterationError::NotFinite);
    }
    if turn_of_cloth.0 < 0.0 {
        return refuse(format!(
            "a turn of cloth of {:.1} mm would make the lining larger; type 0 or more",
            turn_of_cloth.0
        ));
    }
    let shells: Vec<Copy> = piece
        .copies
        .iter()
        .filter(|copy| copy.role == Role::Shell)
        .copied()
        .collect();
    if shells.is_empty() {
        return refuse(format!(
            "{of} is not cut in the shell; line a piece that is"
        ));
    }
    let had_lining = piece.copies_in(Role::Lining) > 0;
    let made = drawn(piece, &shells, turn_of_cloth, name)?;
    let mut altered = garment.clone();
    let mut notes = Vec::new();
    if let Some(at) = altered.pieces.iter().position(|p| p.name == of) {
        if had_lining && let Some(slot) = altered.pieces.get_mut(at) {
            Arc::make_mut(slot)
                .copies
                .retain(|c| c.role != Role::Lining);
            notes.push(Finding {
                gravity: Gravity::Note,
                place: Place::piece(of),
                what: format!("its lining is cut from {name} now."),
                advice: "The seams of the lining went with it.".to_owned(),
                remedy: None,
            });
        }
        altered.pieces.insert(at + 1, Arc::new(made));
    }
    if had_lining {
        take_over(&mut altered, of, name);
    } else {
        sew_like_the_shell(&mut altered, of, name);
    }
    Ok(Altered {
        garment: altered,
        carried: Carried::default(),
        notes,
    })
}

fn drawn(
    piece: &Piece,
    shells: &[Copy],
    turn_of_cloth: Mm,
    name: &str,
) -> Result<Piece, AlterationError> {
    let is_leg = |edge: &str| {
        let mut darts = piece.darts.iter();
        darts.any(|dart| dart.leg_in == edge || dart.leg_out == edge)
    };
    let widths: BTreeMap<EdgeRef, Mm> = piece
        .outline
        .edges()
        .iter()
        .filter(|edge| !edge.is_fold() && !is_leg(&edge.name))
        .map(|edge| (EdgeRef::new(&piece.name, &edge.name), turn_of_cloth))
        .collect();
    let smaller = moved_in(piece, "a turn of cloth", &widths)?;
    let stays = |mark: &&Mark| matches!(mark.kind, MarkKind::Fold(_) | MarkKind::Stitch(_));
    Ok(Piece {
        name: name.to_owned(),
        marks: smaller.marks.iter().filter(stays).cloned().collect(),
        copies: shells
            .iter()
            .map(|copy| Copy {
                role: Role::Lining,
                ..*copy
            })
            .collect(),
        ..smaller
    })
}

/// Seams that named the lining copies of the piece name the lining.
fn take_over(garment: &mut Garment, of: &str, name: &str) {
    let mut seams = std::mem::take(&mut garment.seams);
    for seam in &mut seams {
        let mut touched = false;
        for stretch in seam.a.iter_mut().chain(&mut seam.b) {
            if stretch.piece == of && stretch.copy.role == Role::Lining {
                name.clone_into(&mut stretch.piece);
                touched = true;
            }
        }
        if touched && !matches!(seam.relation, Relation::Ratio(_)) {
            seam.relation = as_drawn(garment, &seam.a, &seam.b);
        }
    }
    garment.seams = seams;
}

/// Sews linings together wherever their shells are sewn together.
fn sew_like_the_shell(garment: &mut Garment, of: &str, name: &str) {
    let mut new: Vec<Seam> = Vec::new();
    for seam in &garment.seams {
        let mut both = seam.a.iter().chain(&seam.b);
        let of_shell = both.clone().all(|s| s.copy.role == Role::Shell);
        if !of_shell || !both.any(|s| s.piece == of) {
            continue;
        }
        let called = in_layer(&seam.name, Role::Lining);
        if garment.seams.iter().any(|other| other.name == called) {
            continue;
        }
        let side = |side: &[Stretch]| -> Option<Vec<Stretch>> {
            side.iter().map(|s| lined(garment, s, of, name)).collect()
        };
        let Some((a, b)) = side(&seam.a).zip(side(&seam.b)) else {
            continue;
        };
        let relation = match seam.relation {
            Relation::Ratio(ratio) => Relation::Ratio(ratio),
            Relation::Equal | Relation::Eased(_) => as_drawn(garment, &a, &b),
        };
        new.push(Seam {
            name: called,
            a,
            b,
            relation,
            inserts: Vec::new(),
            ..seam.clone()
        });
    }
    garment.seams.extend(new);
}

/// The same stretch on the lining of its piece; `None` where that has none.
fn lined(garment: &Garment, stretch: &Stretch, of: &str, name: &str) -> Option<Stretch> {
    let on = |piece: &str| Stretch {
        piece: piece.to_owned(),
        copy: Copy {
            role: Role::Lining,
            ..stretch.copy
        },
        ..stretch.clone()
    };
    if stretch.piece == of {
        return Some(on(name));
    }
    let shell = garment.piece(&stretch.piece)?;
    if shell.copies_in(Role::Lining) > 0 {
        return Some(on(&shell.name));
    }
    garment
        .pieces
        .iter()
        .find(|piece| is_lining_of(piece, shell))
        .map(|piece| on(&piece.name))
}

/// A piece of lining only, with the edges of its shell in their order.
fn is_lining_of(piece: &Piece, shell: &Piece) -> bool {
    let names = |piece: &Piece| -> Vec<String> {
        let edges = piece.outline.edges().iter();
        edges.map(|edge| edge.name.clone()).collect()
    };
    !piece.copies.is_empty()
        && piece.copies_in(Role::Lining) == piece.copies.len()
        && names(piece) == names(shell)
        && finishes_fold_alike(piece, shell)
}

fn finishes_fold_alike(piece: &Piece, shell: &Piece) -> bool {
    let fold = |piece: &Piece| {
        let edges = piece.outline.edges().iter();
        let folded = edges.filter(|edge| edge.finish.iter().any(|s| s.finish == Finish::Fold));
        folded.map(|edge| edge.name.clone()).collect::<Vec<_>>()
    };
    fold(piece) == fold(shell)
}
