//! What sizes, places and names an alteration by hand may bring in. Whether it still applies is told when it is replayed.

use super::limits::{MOVES, length, name, number};
use super::{EditError, shapes};
use crate::alteration::{
    Alteration, DartChange, MarkChange, PiecesChange, SeamChange, ShapeChange,
};
use crate::edge::OutlinePoint;
use crate::units::Mm;

/// Length of an edge, width of a dart or a facing, mm.
const SIZES: (f64, f64) = (0.0, 20_000.0);

fn moved(what: &str, by: &Mm) -> Result<(), EditError> {
    length(format!("how far {what} is moved"), *by, MOVES)
}

fn size(what: &str, size: &Mm) -> Result<(), EditError> {
    length(what, *size, SIZES)
}

fn place(what: &str, at: &OutlinePoint) -> Result<(), EditError> {
    shapes::fraction(&format!("{what}: a place on {}", at.edge), at.fraction)
}

/// Alterations whose sizes make sense.
pub(super) fn sizes(alteration: &Alteration) -> Result<(), EditError> {
    match alteration {
        Alteration::MoveEdge { edge: at, outwards } => moved(&at.to_string(), outwards),
        Alteration::MoveCorner {
            edge: at,
            right,
            up,
        } => {
            moved(&format!("the corner at {at}"), right)?;
            moved(&format!("the corner at {at}"), up)
        }
        Alteration::LengthenAt { piece, by, .. } => {
            length(format!("by how much {piece} is lengthened"), *by, MOVES)
        }
        Alteration::Shape { piece, change } => shape(piece, change),
        Alteration::Dart { piece, change } => dart(piece, change),
        Alteration::Mark { piece, change } => mark(piece, change),
        Alteration::Fullness { piece, fullness } => fullness
            .iter()
            .try_for_each(|op| shapes::fullness(piece, op)),
        Alteration::Pieces(change) => pieces(change),
        Alteration::Seam(change) => seam(change),
    }
}

fn shape(piece: &str, change: &ShapeChange) -> Result<(), EditError> {
    match change {
        ShapeChange::MovePoints { right, up, .. } => {
            moved(&format!("a point of {piece}"), right)?;
            moved(&format!("a point of {piece}"), up)
        }
        ShapeChange::MoveStretch {
            from,
            to,
            right,
            up,
        } => {
            place(piece, from)?;
            place(piece, to)?;
            moved(&format!("a stretch of {piece}"), right)?;
            moved(&format!("a stretch of {piece}"), up)
        }
        ShapeChange::Redraw { edge, line } => shapes::line(&format!("{piece}, {edge}"), line),
        ShapeChange::AddPoint { at } => place(piece, at),
        ShapeChange::SplitEdge { at, name: new } => {
            place(piece, at)?;
            name("edge", new)
        }
        ShapeChange::RenameEdge { name: new, .. } => name("edge", new),
        ShapeChange::SetLength { edge, length } => {
            size(&format!("the length of {piece}, {edge}"), length)
        }
        ShapeChange::Lengthen { from, to, by } | ShapeChange::Spread { from, to, by, .. } => {
            place(piece, from)?;
            place(piece, to)?;
            moved(&format!("a part of {piece}"), by)
        }
        ShapeChange::Widen {
            edge,
            at_start,
            at_end,
        } => {
            moved(&format!("{piece}, {edge}"), at_start)?;
            moved(&format!("{piece}, {edge}"), at_end)
        }
        ShapeChange::Raise { edge, by } => by
            .iter()
            .try_for_each(|by| moved(&format!("{piece}, {edge}"), by)),
        ShapeChange::Turn { by } => number(format!("the turn of {piece}"), by.0, -360.0, 360.0),
        ShapeChange::Straighten { .. }
        | ShapeChange::Smooth { .. }
        | ShapeChange::RemovePoint { .. }
        | ShapeChange::JoinEdges { .. }
        | ShapeChange::Mirror { .. }
        | ShapeChange::TurnToGrain
        | ShapeChange::OpenOut => Ok(()),
    }
}

fn dart(piece: &str, change: &DartChange) -> Result<(), EditError> {
    match change {
        DartChange::Add {
            dart,
            at,
            width,
            tip,
        } => {
            name("dart", dart)?;
            place(piece, at)?;
            size(&format!("{piece}: the width of {dart}"), width)?;
            shapes::point(&format!("{piece}: the tip of {dart}"), *tip)
        }
        DartChange::Pivot {
            dart,
            to,
            share,
            name: new,
        } => {
            name("dart", new)?;
            place(piece, to)?;
            number(
                format!("{piece}: how much of {dart} is turned"),
                *share,
                0.0,
                1.0,
            )
        }
        DartChange::Divide { dart, into, apart } => {
            number(
                format!("{piece}: into how many {dart} is divided"),
                f64::from(*into),
                2.0,
                20.0,
            )?;
            size(&format!("{piece}: how far its darts lie apart"), apart)
        }
        DartChange::Move { dart, along } => moved(&format!("{piece}, {dart}"), along),
        DartChange::MoveTip { dart, right, up } => {
            moved(&format!("the tip of {piece}, {dart}"), right)?;
            moved(&format!("the tip of {piece}, {dart}"), up)
        }
        DartChange::Press { .. }
        | DartChange::ToGathers { .. }
        | DartChange::ToEase { .. }
        | DartChange::Remove { .. } => Ok(()),
    }
}

fn mark(piece: &str, change: &MarkChange) -> Result<(), EditError> {
    match change {
        MarkChange::AddNotch(notch) => shapes::fraction(
            &format!("{piece}, {}: the place of a notch", notch.edge),
            notch.fraction,
        ),
        MarkChange::SetNotch { at, .. } => place(piece, at),
        MarkChange::SetGrain(Some((a, b))) => {
            shapes::point(&format!("{piece}: its grainline"), *a)?;
            shapes::point(&format!("{piece}: its grainline"), *b)
        }
        MarkChange::AddMark(mark) | MarkChange::SetMark { mark, .. } => shapes::mark(piece, mark),
        MarkChange::SetCopies(copies) => shapes::copies(piece, copies.len()),
        MarkChange::SetFinish {
            edge,
            from,
            to,
            finish,
        } => {
            let of = format!("{piece}, {edge}");
            shapes::fraction(&format!("{of}: the start of a finish"), *from)?;
            shapes::fraction(&format!("{of}: the end of a finish"), *to)?;
            shapes::finish(&of, *finish)
        }
        MarkChange::SetBodyLine(line) => {
            place(piece, &line.from)?;
            place(piece, &line.to)
        }
        _ => Ok(()),
    }
}

fn pieces(change: &PiecesChange) -> Result<(), EditError> {
    match change {
        PiecesChange::Add(piece) => {
            name("piece", &piece.name)?;
            shapes::piece(piece)
        }
        PiecesChange::Remove { .. } => Ok(()),
        PiecesChange::Rename { name: new, .. } | PiecesChange::Join { name: new, .. } => {
            name("piece", new)
        }
        PiecesChange::Cut {
            piece,
            from,
            to,
            through,
            name: new,
            seam,
        } => {
            name("piece", new)?;
            name("seam", seam)?;
            place(piece, from)?;
            place(piece, to)?;
            let line = through.as_ref();
            line.map_or(Ok(()), |line| shapes::line(piece, line))
        }
        PiecesChange::Facing {
            depth,
            turn_of_cloth,
            name: new,
            ..
        } => {
            name("piece", new)?;
            size(&format!("the depth of {new}"), depth)?;
            size(&format!("the turn of cloth of {new}"), turn_of_cloth)
        }
        PiecesChange::Lining {
            turn_of_cloth,
            name: new,
            ..
        } => {
            name("piece", new)?;
            size(&format!("the turn of cloth of {new}"), turn_of_cloth)
        }
        PiecesChange::Gusset {
            side,
            width,
            name: new,
            ..
        } => {
            name("piece", new)?;
            size(&format!("the side of {new}"), side)?;
            size(&format!("the width of {new}"), width)
        }
        PiecesChange::Binding {
            width,
            turn_of_cloth,
            name: new,
            ..
        } => {
            name("piece", new)?;
            size(&format!("the width of {new}"), width)?;
            size(&format!("the turn of cloth of {new}"), turn_of_cloth)
        }
    }
}

fn seam(change: &SeamChange) -> Result<(), EditError> {
    match change {
        SeamChange::Sew(seam) => {
            name("seam", &seam.name)?;
            shapes::seam(seam)
        }
        SeamChange::Rename { name: new, .. } => name("seam", new),
        SeamChange::SetRelation { seam, relation } => shapes::relation(seam, *relation),
        SeamChange::MatchNotch {
            seam, at, at_mate, ..
        } => {
            shapes::fraction(&format!("seam {seam}: the place of a notch"), *at)?;
            shapes::fraction(&format!("seam {seam}: the place of a notch"), *at_mate)
        }
        SeamChange::MoveLine {
            seam,
            at_start,
            at_end,
        } => {
            moved(&format!("the line of {seam}"), at_start)?;
            moved(&format!("the line of {seam}"), at_end)
        }
        SeamChange::Unpick { .. }
        | SeamChange::SetKind { .. }
        | SeamChange::True { .. }
        | SeamChange::Distinguish { .. } => Ok(()),
    }
}
