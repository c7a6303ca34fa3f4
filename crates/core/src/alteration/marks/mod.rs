//! Changes to what is marked on one piece, how its edges are finished, and how many are cut.

mod finish;
mod opening;
#[cfg(test)]
mod tests;
mod words;

use kurbo::Point;
use serde::{Deserialize, Serialize};

use super::{Alteration, AlterationError, Altered, on_piece};
use crate::edge::{Edge, Finish, OutlinePoint};
use crate::finding::{Finding, Gravity, Place};
use crate::garment::Garment;
use crate::geometry::outline::Outline;
use crate::geometry::polygon::Polygon;
use crate::measure::Level;
use crate::notch::{Notch, NotchKind};
use crate::piece::{BodyLine, Copy, Face, Mark, MarkKind, Piece, Placement};
use crate::tolerance::{DRAWING, JOINING};

/// A change to what is marked on one piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum MarkChange {
    /// Adds a notch.
    AddNotch(Notch),
    /// Moves a notch, or changes how many strokes it has.
    SetNotch {
        /// Its place in the list, from 0.
        number: usize,
        /// Where it is now.
        at: OutlinePoint,
        /// Its strokes.
        kind: NotchKind,
    },
    /// Takes a notch out.
    RemoveNotch {
        /// Its place in the list, from 0.
        number: usize,
    },
    /// Lays the grainline; `None` stands upright.
    SetGrain(Option<(Point, Point)>),
    /// Adds a mark inside.
    AddMark(Mark),
    /// Puts a mark in place of another.
    SetMark {
        /// Its place in the list, from 0.
        number: usize,
        /// What stands there now.
        mark: Mark,
    },
    /// Takes a mark out.
    RemoveMark {
        /// Its place in the list, from 0.
        number: usize,
    },
    /// Says which copies are cut: how many, in pairs, of which layer.
    SetCopies(Vec<Copy>),
    /// Finishes a stretch of an edge: a hem, a facing, a slit below a notch.
    SetFinish {
        /// Name of the edge.
        edge: String,
        /// Fraction where it starts.
        from: f64,
        /// Fraction where it ends.
        to: f64,
        /// What is done there.
        finish: Finish,
    },
    /// Lays a body line, in place of the one of that level.
    SetBodyLine(BodyLine),
    /// Takes a body line out.
    RemoveBodyLine(Level),
    /// Says which side of the cloth the drawing shows.
    SetFace(Face),
    /// Says which part of the body steers it.
    SetPlacement(Placement),
}

impl MarkChange {
    /// The garment with one piece marked.
    ///
    /// # Errors
    /// [`AlterationError`] when it does not apply.
    pub fn applied(&self, garment: &Garment, piece: &str) -> Result<Altered, AlterationError> {
        if let Self::SetFinish {
            edge,
            from,
            to,
            finish,
        } = self
        {
            return set_finish(garment, piece, edge, (*from, *to), *finish);
        }
        let mut altered = on_piece(garment, piece, |piece| self.marked(piece))?;
        if let Self::AddMark(mark) | Self::SetMark { mark, .. } = self {
            altered.notes = altered
                .garment
                .piece(piece)
                .and_then(|piece| beside(piece, mark))
                .into_iter()
                .collect();
        }
        Ok(altered)
    }

    /// The piece with the change made, for all that stays on it.
    fn marked(&self, piece: &Piece) -> Result<Piece, AlterationError> {
        let mut marked = piece.clone();
        match self {
            Self::AddNotch(notch) => {
                notchable(piece, None, &notch.edge, notch.fraction)?;
                marked.notches.push(notch.clone());
            }
            Self::SetNotch { number, at, kind } => {
                let slot = nth(&mut marked.notches, "notch", *number)?;
                notchable(piece, Some(*number), &at.edge, at.fraction)?;
                *slot = Notch {
                    edge: at.edge.clone(),
                    fraction: at.fraction,
                    kind: *kind,
                };
            }
            Self::RemoveNotch { number } => {
                nth(&mut marked.notches, "notch", *number)?;
                marked.notches.remove(*number);
            }
            Self::SetGrain(grain) => {
                grain.map_or(Ok(()), grain_lies)?;
                marked.grainline = *grain;
            }
            Self::AddMark(mark) => {
                markable(mark)?;
                marked.marks.push(mark.clone());
            }
            Self::SetMark { number, mark } => {
                let slot = nth(&mut marked.marks, "mark", *number)?;
                markable(mark)?;
                *slot = mark.clone();
            }
            Self::RemoveMark { number } => {
                nth(&mut marked.marks, "mark", *number)?;
                marked.marks.remove(*number);
            }
            Self::SetCopies(copies) => {
                countable(copies)?;
                marked.copies.clone_from(copies);
            }
            Self::SetBodyLine(line) => {
                crosses(piece, line)?;
                match marked.body_lines.iter_mut().find(|l| l.level == line.level) {
                    Some(slot) => *slot = line.clone(),
                    None => marked.body_lines.push(line.clone()),
                }
            }
            Self::RemoveBodyLine(level) => {
                let before = marked.body_lines.len();
                marked.body_lines.retain(|line| line.level != *level);
                if marked.body_lines.len() == before {
                    return Err(AlterationError::NoLevel(*level));
                }
            }
            Self::SetFace(face) => marked.face = *face,
            Self::SetPlacement(placement) => marked.placement.clone_from(placement),
            // Changes seams too, and is done before.
            Self::SetFinish { .. } => {}
        }
        Ok(marked)
    }

    /// The same as an alteration of a piece.
    pub fn of(self, piece: impl Into<String>) -> Alteration {
        Alteration::Mark {
            piece: piece.into(),
            change: self,
        }
    }
}

pub(in crate::alteration) use opening::{between, fresh, gaps_of, left_open};

/// The one of this place in the list.
fn nth<'a, T>(
    list: &'a mut [T],
    what: &'static str,
    number: usize,
) -> Result<&'a mut T, AlterationError> {
    list.get_mut(number).ok_or(AlterationError::NoMark {
        what,
        number: number.saturating_add(1),
    })
}

fn refuse<T>(why: String) -> Result<T, AlterationError> {
    Err(AlterationError::Refused(why))
}

/// Refuses a place beyond the ends of its edge, saying by how much.
fn on_edge(piece: &Piece, what: &str, edge: &str, fraction: f64) -> Result<(), AlterationError> {
    let found = piece
        .outline
        .edge(edge)
        .ok_or_else(|| AlterationError::NoEdge(edge.to_owned()))?;
    if !fraction.is_finite() {
        return Err(AlterationError::NotFinite);
    }
    let beyond = (-fraction).max(fraction - 1.0);
    if beyond > 0.0 {
        let by = beyond * found.line.length();
        return refuse(format!(
            "{what} would lie {by:.1} mm beyond the end of {edge}; put it on the edge"
        ));
    }
    Ok(())
}

/// Refuses a notch beyond its edge, and one where another notch (than the one it replaces) is.
fn notchable(
    piece: &Piece,
    itself: Option<usize>,
    edge: &str,
    fraction: f64,
) -> Result<(), AlterationError> {
    on_edge(piece, "the notch", edge, fraction)?;
    let length = piece
        .outline
        .edge(edge)
        .map_or(0.0, |edge| edge.line.length());
    let there = |(number, other): (usize, &Notch)| {
        Some(number) != itself
            && other.edge == edge
            && (other.fraction - fraction).abs() * length <= JOINING.0
    };
    if piece.notches.iter().enumerate().any(there) {
        return refuse(format!(
            "{edge} is notched there already; move that notch, or give it more strokes"
        ));
    }
    Ok(())
}

fn grain_lies((a, b): (Point, Point)) -> Result<(), AlterationError> {
    if !(a.is_finite() && b.is_finite()) {
        return Err(AlterationError::NotFinite);
    }
    let length = (b - a).hypot();
    if length <= JOINING.0 {
        return refuse(format!(
            "a grainline of {length:.2} mm has no direction; draw it longer"
        ));
    }
    Ok(())
}

/// Refuses a mark without length, width or words.
fn markable(mark: &Mark) -> Result<(), AlterationError> {
    let kind = &mark.kind;
    if kind.points().iter().any(|p| !p.is_finite()) {
        return Err(AlterationError::NotFinite);
    }
    let noun = kind.noun();
    if let Some(size) = kind.size()
        && (size.0.is_nan() || size.0 <= 0.0)
    {
        return refuse(format!(
            "a width of {:.1} mm is none for the {noun}; type one above 0",
            size.0
        ));
    }
    let length = match kind {
        MarkKind::Buttonhole(a, b) => Some((*b - *a).hypot()),
        other => other.line().map(|line| line.length()),
    };
    if let Some(length) = length.filter(|length| *length <= JOINING.0) {
        return refuse(format!(
            "the {noun} is only {length:.2} mm long; draw it longer"
        ));
    }
    if matches!(kind, MarkKind::Text(_)) && mark.name.trim().is_empty() {
        return refuse("there are no words to write; type some".to_owned());
    }
    Ok(())
}

/// Tells of a mark that lies beside the piece.
fn beside(piece: &Piece, mark: &Mark) -> Option<Finding> {
    let middle = mark.kind.middle();
    if piece.outline.contains(middle) {
        return None;
    }
    let cubics: Vec<_> = piece
        .outline
        .edges()
        .iter()
        .flat_map(|edge| edge.line.cubics())
        .collect();
    let off = Polygon::from_chain(&cubics, DRAWING.0).distance(middle);
    (off > DRAWING.0).then(|| Finding {
        gravity: Gravity::Note,
        place: Place::piece(&piece.name),
        what: format!(
            "the {} {} lies {off:.1} mm outside its stitch line.",
            mark.kind.noun(),
            mark.name
        ),
        advice: "Move it onto the piece, unless it is meant for the allowance.".to_owned(),
        remedy: None,
    })
}

fn countable(copies: &[Copy]) -> Result<(), AlterationError> {
    if copies.is_empty() {
        return refuse(
            "a piece is cut at least once; take the piece out if it is not needed".to_owned(),
        );
    }
    Ok(())
}

fn crosses(piece: &Piece, line: &BodyLine) -> Result<(), AlterationError> {
    let what = format!("the {} line", line.level.label().to_lowercase());
    on_edge(piece, &what, &line.from.edge, line.from.fraction)?;
    on_edge(piece, &what, &line.to.edge, line.to.fraction)?;
    let ends = piece.point_at(&line.from).zip(piece.point_at(&line.to));
    let length = ends.map_or(0.0, |(a, b)| (b - a).hypot());
    if length <= JOINING.0 {
        return refuse(format!(
            "{what} would be only {length:.2} mm long; lay it from one side of the piece to the other"
        ));
    }
    Ok(())
}

fn set_finish(
    garment: &Garment,
    name: &str,
    edge: &str,
    (from, to): (f64, f64),
    finish: Finish,
) -> Result<Altered, AlterationError> {
    let piece = garment
        .piece(name)
        .ok_or_else(|| AlterationError::NoPiece(name.to_owned()))?;
    on_edge(piece, "the start of the finish", edge, from)?;
    on_edge(piece, "the end of the finish", edge, to)?;
    let found = piece
        .outline
        .edge(edge)
        .ok_or_else(|| AlterationError::NoEdge(edge.to_owned()))?;
    let length = (to - from) * found.line.length();
    if length <= JOINING.0 {
        return refuse(format!(
            "{} over {length:.2} mm of {edge} is nothing; its end must come after its start",
            finish.noun()
        ));
    }
    finish::possible(piece, found, (from, to), finish)?;
    let mut altered = on_piece(garment, name, |piece| {
        with_edge(piece, finish::spliced(found, from, to, finish))
    })?;
    if opening::opens(finish) {
        let opened = opening::left_open(&altered.garment, name, edge, (from, to), finish);
        altered = Altered {
            garment: opened.garment,
            carried: opened.carried,
            notes: opened.notes,
        };
    }
    Ok(altered)
}

/// The piece with this edge in place of the one of its name.
fn with_edge(piece: &Piece, edge: Edge) -> Result<Piece, AlterationError> {
    let edges = piece.outline.edges().iter().map(|other| {
        if other.name == edge.name {
            edge.clone()
        } else {
            other.clone()
        }
    });
    Ok(Piece {
        outline: Outline::new(edges.collect())?,
        ..piece.clone()
    })
}
