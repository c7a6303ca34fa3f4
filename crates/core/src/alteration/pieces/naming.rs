//! Names that are free, and what every new piece must have.

use crate::alteration::AlterationError;
use crate::alteration::marks::fresh;
use crate::garment::Garment;
use crate::piece::{Copy, Piece, Role, Side};

/// Refuses a blank name and one that another piece has.
pub(super) fn free_piece(
    garment: &Garment,
    name: &str,
    but: &[&str],
) -> Result<(), AlterationError> {
    free("piece", name, but, garment.pieces.iter().map(|p| &p.name))
}

/// Refuses a blank name and one that another seam has.
pub(super) fn free_seam(garment: &Garment, name: &str) -> Result<(), AlterationError> {
    free("seam", name, &[], garment.seams.iter().map(|s| &s.name))
}

fn free<'a>(
    what: &'static str,
    name: &str,
    but: &[&str],
    mut taken: impl Iterator<Item = &'a String>,
) -> Result<(), AlterationError> {
    if name.trim().is_empty() {
        return Err(AlterationError::Refused(format!(
            "the new {what} needs a name; type one"
        )));
    }
    if taken.any(|other| other == name && !but.contains(&other.as_str())) {
        return Err(AlterationError::Taken {
            what,
            name: name.to_owned(),
        });
    }
    Ok(())
}

/// A seam name that nobody has.
pub(super) fn seam_name(garment: &Garment, name: &str) -> String {
    fresh(name, garment.seams.iter().map(|seam| seam.name.as_str()))
}

/// The piece of a name.
pub(super) fn piece_of<'a>(garment: &'a Garment, name: &str) -> Result<&'a Piece, AlterationError> {
    garment
        .piece(name)
        .map(|piece| &**piece)
        .ok_or_else(|| AlterationError::NoPiece(name.to_owned()))
}

/// The layers a piece is cut in, outermost first.
pub(super) fn roles(piece: &Piece) -> Vec<Role> {
    [
        Role::Shell,
        Role::Lining,
        Role::Interlining,
        Role::FlatLined,
    ]
    .into_iter()
    .filter(|role| piece.copies_in(*role) > 0)
    .collect()
}

/// The copy of a layer by which a seam is told, and whether the same is sewn mirrored on the other side.
pub(super) fn told_by(piece: &Piece, role: Role) -> Option<(Copy, bool)> {
    let has = |side| piece.copies.contains(&Copy { side, role });
    let side = [Side::Right, Side::Whole, Side::Left]
        .into_iter()
        .find(|side| has(*side))?;
    let mirrored = (has(Side::Right) && has(Side::Left)) || piece.fold_edge().is_some();
    Some((Copy { side, role }, mirrored))
}

/// What a seam is called in a layer: the shell's has the plain name.
pub(super) fn in_layer(name: &str, role: Role) -> String {
    match role {
        Role::Shell => name.to_owned(),
        Role::Lining => format!("{name}, lining"),
        Role::Interlining => format!("{name}, interlining"),
        Role::FlatLined => format!("{name}, flat lining"),
    }
}

/// Copies of a piece that was half of a folded one, or has lost its fold: each becomes one and its mirror image.
pub(super) fn opened_copies(copies: &[Copy]) -> Vec<Copy> {
    let both = |copy: &Copy| {
        [Side::Right, Side::Left].map(|side| Copy {
            side,
            role: copy.role,
        })
    };
    copies.iter().flat_map(both).collect()
}

pub(super) fn refuse<T>(why: String) -> Result<T, AlterationError> {
    Err(AlterationError::Refused(why))
}

/// A length above 0, or a refusal that says what it is.
pub(super) fn above_zero(what: &str, mm: f64) -> Result<f64, AlterationError> {
    if !mm.is_finite() {
        return Err(AlterationError::NotFinite);
    }
    if mm <= 0.0 {
        return refuse(format!("{what} of {mm:.1} mm is none; type one above 0"));
    }
    Ok(mm)
}
