//! What a garment lacks before it can be adapted.

use crate::garment::Garment;
use crate::piece::{FollowRule, Piece, Placement};
use crate::tape::{Hold, TapeKind};

/// Is it ready to be adapted?
///
/// # Errors
/// What is lacking, each with what to do: a piece without body lines, a band that is sewn to nothing, no girth, no body
/// it was made for.
pub fn is_ready(garment: &Garment) -> Result<(), Vec<String>> {
    let mut lacking = Vec::new();
    if garment.pieces.is_empty() {
        lacking.push("there is no piece yet; bring one in or draw one".to_owned());
    }
    lacking.extend(garment.check_references().err().map(|why| why.to_string()));
    for piece in &garment.pieces {
        lacking.extend(of_piece(garment, piece));
    }
    let has_girth = garment
        .tape_lines
        .iter()
        .any(|tape| tape.kind == TapeKind::Girth && tape.hold != Hold::Hanging);
    if !garment.pieces.is_empty() && !has_girth {
        lacking.push(
            "no tape goes round it; lay one at the bust or the waist, on every piece that lies there"
                .to_owned(),
        );
    }
    if garment.made_for.measures.is_empty() {
        lacking.push(
            "the body it was made for is not known; choose one or type its girths".to_owned(),
        );
    }
    if lacking.is_empty() {
        Ok(())
    } else {
        Err(lacking)
    }
}

fn of_piece(garment: &Garment, piece: &Piece) -> Option<String> {
    let name = &piece.name;
    match &piece.placement {
        _ if piece.copies.is_empty() => Some(format!(
            "{name}: no copy of it is cut; say how many are needed"
        )),
        Placement::Framed(frame) if piece.body_lines.is_empty() => Some(format!(
            "{name}: no line of the {} lies on it; mark one, or say that it follows what it is sewn to",
            frame.label()
        )),
        Placement::Follows(follow)
            if follow.length == FollowRule::Mate || follow.depth == FollowRule::Mate =>
        {
            let sewn = garment
                .seams
                .iter()
                .any(|seam| seam.a.iter().chain(&seam.b).any(|s| s.piece == *name));
            (!sewn).then(|| {
                format!(
                    "{name}: it follows what it is sewn to, and is sewn to nothing; say to what"
                )
            })
        }
        Placement::Framed(_) | Placement::Follows(_) => None,
    }
}
