//! The seams of an adapted garment: ease in mm goes in proportion to the seam.

use std::sync::Arc;

use crate::garment::Garment;
use crate::piece::Piece;
use crate::seams::{Relation, Seam, side_length};
use crate::units::Mm;

/// The seams of a source garment for adapted pieces: what is eased in keeps its share of the seam.
///
/// A cap that is 12 mm longer than a 250 mm armscye is 4.8 mm longer than one of 100 mm.
pub(crate) fn in_proportion(source: &Garment, adapted: &[Arc<Piece>]) -> Vec<Seam> {
    let seam = |seam: &Seam| match seam.relation {
        Relation::Eased(by) => Seam {
            relation: Relation::Eased(Mm(by.0 * scale_of(source, adapted, seam))),
            ..seam.clone()
        },
        Relation::Equal | Relation::Ratio(_) => seam.clone(),
    };
    source.seams.iter().map(seam).collect()
}

/// How long side `b` is against the same side on the source.
fn scale_of(source: &Garment, adapted: &[Arc<Piece>], seam: &Seam) -> f64 {
    let lengths = side_length(&seam.b, &source.pieces)
        .ok()
        .zip(side_length(&seam.b, adapted).ok());
    lengths
        .filter(|(before, _)| before.0 > 0.0)
        .map_or(1.0, |(before, now)| now.0 / before.0)
}
