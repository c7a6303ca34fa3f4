//! Where an edge is not sewn over its whole length: gaps left open, slits, plackets.

use petitoile_core::edge::{Edge, Finish, FinishStretch};
use petitoile_core::finish::FinishedPiece;
use petitoile_core::kurbo::Point;
use petitoile_core::piece::Piece;
use petitoile_core::{LengthUnit, Mm};

use super::symbols;
use crate::drawing::Item;

/// Ends this close to the end of the edge need no dot: the corner itself shows them.
const AT_CORNER: f64 = 1e-6;

fn of_edge(edge: &Edge) -> impl Iterator<Item = &FinishStretch> {
    edge.finish.iter().filter(|stretch| {
        matches!(
            stretch.finish,
            Finish::Open | Finish::Slit | Finish::Placket { .. }
        )
    })
}

/// Where sewing ends inside an edge.
pub(crate) fn ends(piece: &Piece) -> Vec<Point> {
    let mut places = Vec::new();
    for edge in piece.outline.edges() {
        for stretch in of_edge(edge) {
            for end in [stretch.from, stretch.to] {
                if AT_CORNER < end && end < 1.0 - AT_CORNER {
                    places.push(edge.line.at(end));
                }
            }
        }
    }
    places
}

/// A dot wherever sewing ends inside an edge.
pub(super) fn dots(piece: &Piece) -> Vec<Item> {
    ends(piece)
        .into_iter()
        .flat_map(|at| symbols::dot(at, ""))
        .collect()
}

/// "side: slit of 35 mm; centre back: leave 40 mm open": what the maker does not sew.
pub(super) fn words(piece: &FinishedPiece, unit: LengthUnit) -> Option<String> {
    let mut words = Vec::new();
    for edge in piece.piece.outline.edges() {
        let whole = edge.line.length();
        for stretch in of_edge(edge) {
            // Nobody measures a slit to less than a tenth of a millimetre.
            let length = Mm((whole * (stretch.to - stretch.from) * 10.0).round() / 10.0);
            let long = unit.show_chosen(length);
            words.push(match stretch.finish {
                Finish::Slit => format!("{}: slit of {long}", edge.name),
                Finish::Placket { width } => format!(
                    "{}: placket {long} long, {} wide",
                    edge.name,
                    unit.show_chosen(width)
                ),
                _ => format!("{}: leave {long} open", edge.name),
            });
        }
    }
    (!words.is_empty()).then(|| words.join("; "))
}
