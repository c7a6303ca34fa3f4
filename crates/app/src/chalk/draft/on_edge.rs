//! A new line for an edge of a piece: from the corner where it starts to the corner where it ends.

use kurbo::Point;
use petitoile_core::alteration::ShapeChange;
use petitoile_core::drawn::{self, DrawnPoint};
use petitoile_core::geometry::curve::Line;
use petitoile_core::snapping::NamedPoint;

use super::Draft;
use crate::chalk::ask::alter;
use crate::chalk::hand::{At, Hand};
use crate::command::{Chosen, Command};

/// The edge that is drawn anew.
#[derive(Debug, Clone, PartialEq)]
pub struct OnEdge {
    piece: String,
    edge: String,
    /// Drawn from the end of the edge to its start.
    backwards: bool,
}

impl OnEdge {
    /// Begins at the corner of the clicked edge that is nearer to the click.
    pub fn begin(hand: &Hand<'_>, at: &At, draft: &mut Draft) -> Option<Self> {
        let (piece, (edge, fraction)) = (at.piece.clone()?, at.edge.clone()?);
        Self::of(hand, &piece, &edge, fraction > 0.5, draft)
    }

    /// Begins with the edge that is chosen on the table.
    pub fn chosen(hand: &Hand<'_>, draft: &mut Draft) -> Option<Self> {
        let chosen = &hand.session.chosen;
        Self::of(
            hand,
            chosen.piece.as_ref()?,
            chosen.edge.as_ref()?,
            false,
            draft,
        )
    }

    fn of(
        hand: &Hand<'_>,
        piece: &str,
        edge: &str,
        backwards: bool,
        draft: &mut Draft,
    ) -> Option<Self> {
        let line = &hand.piece(piece)?.outline.edge(edge)?.line;
        let (start, end) = if backwards {
            (line.end(), line.start())
        } else {
            (line.start(), line.end())
        };
        draft.points = vec![DrawnPoint::corner(hand.on_table(piece, start))];
        draft.fixed_start = true;
        draft.end = Some(NamedPoint {
            at: hand.on_table(piece, end),
            words: format!("end of {edge}: finishes the line"),
        });
        Some(Self {
            piece: piece.to_owned(),
            edge: edge.to_owned(),
            backwards,
        })
    }

    /// "side seam of Front".
    pub fn name(&self) -> String {
        format!("{} of {}", self.edge, self.piece)
    }

    /// The line as drawn, closed to the end of the edge, on the table.
    pub fn line(&self, draft: &Draft) -> Option<Line> {
        let end: Point = draft.end.as_ref()?.at;
        let mut points = draft.points.clone();
        if points.last().is_none_or(|last| last.at != end) {
            points.push(DrawnPoint::corner(end));
        }
        drawn::line(&points)
    }

    /// Draws the edge anew. `false` when it was refused; then nothing is lost.
    pub fn finish(&self, hand: &Hand<'_>, line: Option<Line>, commands: &mut Vec<Command>) -> bool {
        let Some(line) = line else {
            return false;
        };
        let moved = hand.moved(&self.piece);
        let line = if self.backwards {
            line.reversed()
        } else {
            line
        };
        let change = ShapeChange::Redraw {
            edge: self.edge.clone(),
            line: line.mapped(|p| p - moved),
        };
        commands.push(Command::Choose(Chosen::edge(&self.piece, &self.edge)));
        alter(hand, change.of(&self.piece), commands)
    }
}
