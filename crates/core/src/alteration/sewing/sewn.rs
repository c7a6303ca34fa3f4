//! Sewn, unpicked, renamed; how long and how sewn.

use super::{note, refused, seam_of};
use crate::alteration::{AlterationError, Altered, Carried};
use crate::edge::{Edge, Finish};
use crate::finding::Finding;
use crate::garment::Garment;
use crate::piece::Piece;
use crate::seams::{Relation, Seam, SeamKind, Stretch, side_length};
use crate::tolerance::MEASURING;

/// Difference that no hand notices (common practice, no source).
const FITS: f64 = 0.5;

/// Sews: adds a seam, or puts it in place of the one of that name.
pub(super) fn sew(garment: &Garment, seam: &Seam) -> Result<Altered, AlterationError> {
    if seam.name.trim().is_empty() {
        return Err(AlterationError::Refused(
            "a seam needs a name; type one".to_owned(),
        ));
    }
    check_relation(seam.relation)?;
    let mut notes = Vec::new();
    for stretch in seam.a.iter().chain(&seam.b) {
        let (piece, edge) = check_stretch(garment, stretch)?;
        notes.extend(finished_otherwise(seam, piece, edge, stretch));
    }
    check_apart(seam)?;
    for side in [&seam.a, &seam.b] {
        let length = side_length(side, &garment.pieces).map_err(refused)?;
        if length.0 <= MEASURING.0 {
            return Err(AlterationError::Refused(
                "one side of the seam has no length; choose an edge for it".to_owned(),
            ));
        }
    }
    notes.extend(sewn_already(garment, seam));
    notes.extend(difference(garment, seam)?);
    let mut next = garment.clone();
    match next.seams.iter_mut().find(|other| other.name == seam.name) {
        Some(other) => *other = seam.clone(),
        None => next.seams.push(seam.clone()),
    }
    Ok(Altered {
        garment: next,
        carried: Carried::default(),
        notes,
    })
}

fn check_relation(relation: Relation) -> Result<(), AlterationError> {
    match relation {
        Relation::Equal => Ok(()),
        Relation::Eased(by) if by.0.is_finite() => Ok(()),
        Relation::Ratio(ratio) if ratio.is_finite() && ratio > 0.0 => Ok(()),
        Relation::Eased(_) => Err(AlterationError::NotFinite),
        Relation::Ratio(_) => Err(AlterationError::Refused(
            "the ratio of the two sides must be above 0; 1 is equal, 2 is gathered to half"
                .to_owned(),
        )),
    }
}

/// The piece and edge of a stretch that can be sewn.
fn check_stretch<'a>(
    garment: &'a Garment,
    stretch: &Stretch,
) -> Result<(&'a Piece, &'a Edge), AlterationError> {
    let piece = garment
        .piece(&stretch.piece)
        .ok_or_else(|| AlterationError::NoPiece(stretch.piece.clone()))?;
    let edge = piece
        .outline
        .edge(&stretch.edge)
        .ok_or_else(|| AlterationError::NoEdge(stretch.edge.clone()))?;
    let refuse = |what: String| {
        Err(AlterationError::Refused(format!(
            "{}, {}: {what}",
            stretch.piece, stretch.edge
        )))
    };
    let on_edge = |fraction: f64| (-1e-9..=1.0 + 1e-9).contains(&fraction);
    if !on_edge(stretch.from) || !on_edge(stretch.to) {
        return refuse("the stretch runs beyond the ends of its edge; shorten it".to_owned());
    }
    if edge.is_fold() {
        return refuse(
            "is cut on the fold and has no raw edge to sew; sew another edge".to_owned(),
        );
    }
    if !piece.copies.contains(&stretch.copy) {
        return refuse(
            "no copy is cut for that side and layer; cut one, or sew another copy".to_owned(),
        );
    }
    Ok((piece, edge))
}

/// The two sides may not lie on each other on one copy.
fn check_apart(seam: &Seam) -> Result<(), AlterationError> {
    for (number, first) in seam.a.iter().chain(&seam.b).enumerate() {
        for second in seam.a.iter().chain(&seam.b).skip(number + 1) {
            let shared = overlap(first, second);
            if first.copy == second.copy && shared > 1e-9 {
                return Err(AlterationError::Refused(format!(
                    "{}, {} would be sewn to itself over {:.0} % of its length; choose another edge for one side",
                    first.piece,
                    first.edge,
                    shared * 100.0
                )));
            }
        }
    }
    Ok(())
}

/// Share of an edge that two stretches have in common.
fn overlap(first: &Stretch, second: &Stretch) -> f64 {
    if (&first.piece, &first.edge) != (&second.piece, &second.edge) {
        return 0.0;
    }
    let ends = |s: &Stretch| (s.from.min(s.to), s.from.max(s.to));
    let (a, b) = (ends(first), ends(second));
    (a.1.min(b.1) - a.0.max(b.0)).max(0.0)
}

/// An edge that is hemmed, cased or left where it is to be sewn.
fn finished_otherwise(
    seam: &Seam,
    piece: &Piece,
    edge: &Edge,
    stretch: &Stretch,
) -> Option<Finding> {
    let (low, high) = (stretch.from.min(stretch.to), stretch.from.max(stretch.to));
    let other = edge.finish.iter().find(|part| {
        !matches!(part.finish, Finish::Seam | Finish::Facing | Finish::Open)
            && part.to.min(high) - part.from.max(low) > 1e-6
    })?;
    Some(note(
        &seam.name,
        format!(
            "{}, {} is finished otherwise there ({}).",
            piece.name,
            edge.name,
            other.finish.noun()
        ),
        "Finish it as a seam over the stretch that is sewn.",
    ))
}

/// Other seams that hold part of the same stretches.
fn sewn_already(garment: &Garment, seam: &Seam) -> Option<Finding> {
    let others = garment.seams.iter().filter(|other| other.name != seam.name);
    let holds = |other: &&Seam| {
        other.a.iter().chain(&other.b).any(|there| {
            seam.a
                .iter()
                .chain(&seam.b)
                .any(|here| here.copy == there.copy && overlap(here, there) > 1e-6)
        })
    };
    let names: Vec<&str> = others.filter(holds).map(|s| s.name.as_str()).collect();
    if names.is_empty() {
        return None;
    }
    Some(note(
        &seam.name,
        format!("part of it is sewn already in {}.", names.join(" and ")),
        "Unpick that, if it was not meant; a band that is folded over is sewn twice.",
    ))
}

/// How far the sides are from their relation, where a hand notices it.
pub(super) fn difference(
    garment: &Garment,
    seam: &Seam,
) -> Result<Option<Finding>, AlterationError> {
    let off = seam.difference(&garment.pieces).map_err(refused)?.0;
    if off.abs() <= FITS {
        return Ok(None);
    }
    let (a, b) = (
        side_length(&seam.a, &garment.pieces).map_err(refused)?,
        side_length(&seam.b, &garment.pieces).map_err(refused)?,
    );
    Ok(Some(note(
        &seam.name,
        format!(
            "its first side is {:.1} mm long, its second {:.1} mm: {:.1} mm too {} for how they are to be sewn.",
            a.0,
            b.0,
            off.abs(),
            if off > 0.0 { "long" } else { "short" }
        ),
        "Ease or gather it in, or alter one of the edges.",
    )))
}

/// Unpicks a seam.
pub(super) fn unpick(garment: &Garment, name: &str) -> Result<Altered, AlterationError> {
    seam_of(garment, name)?;
    let mut next = garment.clone();
    next.seams.retain(|seam| seam.name != name);
    Ok(Altered {
        garment: next,
        carried: Carried::default().with_seam(name, &[]),
        notes: Vec::new(),
    })
}

/// Gives a seam another name.
pub(super) fn rename(garment: &Garment, name: &str, new: &str) -> Result<Altered, AlterationError> {
    seam_of(garment, name)?;
    if new.trim().is_empty() {
        return Err(AlterationError::Refused(
            "a seam needs a name; type one".to_owned(),
        ));
    }
    if new != name && garment.seams.iter().any(|seam| seam.name == new) {
        return Err(AlterationError::Taken {
            what: "seam",
            name: new.to_owned(),
        });
    }
    let changed = changed(garment, name, |seam| new.clone_into(&mut seam.name));
    Ok(Altered {
        carried: Carried::default().with_seam(name, &[new]),
        ..changed
    })
}

/// Says how long its sides are against each other.
pub(super) fn set_relation(
    garment: &Garment,
    name: &str,
    relation: Relation,
) -> Result<Altered, AlterationError> {
    check_relation(relation)?;
    let seam = Seam {
        relation,
        ..seam_of(garment, name)?.clone()
    };
    let notes = difference(garment, &seam)?.into_iter().collect();
    Ok(Altered {
        notes,
        ..changed(garment, name, |seam| seam.relation = relation)
    })
}

/// Says how it is sewn.
pub(super) fn set_kind(
    garment: &Garment,
    name: &str,
    kind: SeamKind,
) -> Result<Altered, AlterationError> {
    seam_of(garment, name)?;
    Ok(changed(garment, name, |seam| seam.kind = kind))
}

fn changed(garment: &Garment, name: &str, change: impl Fn(&mut Seam)) -> Altered {
    let mut next = garment.clone();
    next.seams
        .iter_mut()
        .filter(|seam| seam.name == name)
        .for_each(change);
    Altered {
        garment: next,
        carried: Carried::default(),
        notes: Vec::new(),
    }
}
