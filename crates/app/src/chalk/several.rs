//! Several edges of one piece that were shown to a tool.

use super::spot::Spot;

/// The piece and its edges; `None` when none was shown, or edges of several pieces.
pub fn edges(picked: &[Spot]) -> Option<(String, Vec<String>)> {
    let piece = picked.first()?.piece()?.to_owned();
    let edges = picked.iter().map(|spot| match spot {
        Spot::Edge(edge) if edge.piece == piece => Some(edge.edge.clone()),
        _ => None,
    });
    Some((piece.clone(), edges.collect::<Option<_>>()?))
}
