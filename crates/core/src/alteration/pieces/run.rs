//! Neighbouring edges of a piece: those that are faced or bound together.

use std::collections::BTreeMap;

use super::naming::refuse;
use crate::allowance::{AllowanceError, stretches, without_allowance};
use crate::alteration::AlterationError;
use crate::edge::{Edge, EdgeRef, Finish, FinishStretch};
use crate::geometry::curve::Line;
use crate::piece::Piece;
use crate::units::Mm;

/// Numbers of the chosen edges in order along the outline; refused when they are no neighbours, folded or dart legs.
pub(super) fn run_of(piece: &Piece, chosen: &[String]) -> Result<Vec<usize>, AlterationError> {
    let count = piece.outline.edges().len();
    let mut numbers = Vec::new();
    for name in chosen {
        let number = piece
            .outline
            .index_of(name)
            .ok_or_else(|| AlterationError::NoEdge(name.clone()))?;
        if piece.outline.edges().get(number).is_some_and(Edge::is_fold) {
            return refuse(format!("{name} is a fold; choose the edges beside it"));
        }
        not_a_leg(piece, name)?;
        if !numbers.contains(&number) {
            numbers.push(number);
        }
    }
    if numbers.is_empty() {
        return refuse("no edge was chosen; choose one or more that lie side by side".into());
    }
    if numbers.len() == count {
        return refuse("every edge was chosen; leave at least one out".into());
    }
    let starts: Vec<usize> = numbers
        .iter()
        .copied()
        .filter(|number| !numbers.contains(&((number + count - 1) % count)))
        .collect();
    let [start] = starts.as_slice() else {
        return refuse(
            "the chosen edges do not lie side by side; choose those between them too".into(),
        );
    };
    Ok((0..numbers.len()).map(|i| (start + i) % count).collect())
}

/// Refuses a dart leg.
pub(super) fn not_a_leg(piece: &Piece, edge: &str) -> Result<(), AlterationError> {
    let dart = piece
        .darts
        .iter()
        .find(|dart| dart.leg_in == edge || dart.leg_out == edge);
    match dart {
        Some(dart) => refuse(format!(
            "{edge} is a leg of {}; turn that dart into another edge first",
            dart.name
        )),
        None => Ok(()),
    }
}

/// The piece with some of its edges moved inwards, each by its width, cut off by their neighbours.
pub(super) fn moved_in(
    piece: &Piece,
    what: &str,
    widths: &BTreeMap<EdgeRef, Mm>,
) -> Result<Piece, AlterationError> {
    let widest = widths.values().fold(0.0_f64, |most, mm| most.max(mm.0));
    without_allowance(piece, widths).or_else(|why| match why {
        AllowanceError::TooWide { edge, .. } => {
            let long = piece
                .outline
                .edge(&edge.edge)
                .map_or(0.0, |edge| edge.line.length());
            refuse(format!(
                "{what} of {widest:.1} mm leaves nothing of {} ({long:.1} mm long); make it less",
                edge.edge
            ))
        }
        AllowanceError::TooTight { edge, radius, .. } => refuse(format!(
            "{what} of {widest:.1} mm is more than the bend of {} allows (radius {radius:.1} mm); make it less",
            edge.edge
        )),
        AllowanceError::Crosses { .. } => refuse(format!(
            "{what} of {widest:.1} mm is more than the piece is wide; make it less"
        )),
        other => refuse(other.to_string()),
    })
}

/// One width for every edge of a run.
pub(super) fn widths(piece: &Piece, run: &[usize], width: Mm) -> BTreeMap<EdgeRef, Mm> {
    run.iter()
        .filter_map(|i| piece.outline.edges().get(*i))
        .map(|edge| (EdgeRef::new(&piece.name, &edge.name), width))
        .collect()
}

/// A bit of an edge as an edge of its own, finished as it was.
pub(super) fn bit_of(edge: &Edge, name: &str, from: f64, to: f64, line: Line) -> Edge {
    let inside = |at: f64| ((at - from) / (to - from)).clamp(0.0, 1.0);
    let list: Vec<FinishStretch> = stretches(edge)
        .into_iter()
        .map(|(a, b, finish)| FinishStretch {
            from: inside(a),
            to: inside(b),
            finish,
        })
        .filter(|stretch| stretch.from < stretch.to)
        .collect();
    let plain = list.iter().all(|stretch| stretch.finish == Finish::Seam);
    Edge {
        name: name.to_owned(),
        line,
        finish: if plain { Vec::new() } else { list },
        allowance: edge.allowance,
    }
}
