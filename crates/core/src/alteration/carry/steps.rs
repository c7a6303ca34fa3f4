//! A fitting's own work by hand follows when its garment is changed: the steps name the pieces, edges and seams that
//! theirs became.

use super::{Bit, Carried};
use crate::alteration::{
    Alteration, DartChange, MarkChange, PiecesChange, PointRef, SeamChange, ShapeChange,
};
use crate::edge::{EdgeRef, OutlinePoint};
use crate::fullness::FullnessOp;
use crate::piece::BodyLine;
use crate::seams::Seam;

impl Carried {
    /// Lets one step follow. What it names that is gone it goes on naming: when it is replayed, a finding says so.
    ///
    /// Numbers of points, notches and marks stay as they are.
    pub(super) fn step(&self, step: &mut Alteration) {
        match step {
            Alteration::MoveEdge { edge, .. } | Alteration::MoveCorner { edge, .. } => {
                if let Some(bit) = self.bits(edge).into_iter().next() {
                    *edge = bit.edge;
                }
            }
            Alteration::LengthenAt { piece, .. } => self.rename_piece(piece),
            Alteration::Shape { piece, change } => {
                let mut on = On::new(self, piece);
                on.shape(change);
                *piece = on.piece();
            }
            Alteration::Dart { piece, change } => {
                let mut on = On::new(self, piece);
                match change {
                    DartChange::Add { at, .. } | DartChange::Pivot { to: at, .. } => on.place(at),
                    _ => {}
                }
                *piece = on.piece();
            }
            Alteration::Mark { piece, change } => {
                let mut on = On::new(self, piece);
                on.mark(change);
                *piece = on.piece();
            }
            Alteration::Fullness { piece, fullness } => {
                let mut on = On::new(self, piece);
                for op in fullness.iter_mut() {
                    on.fullness(op);
                }
                *piece = on.piece();
            }
            Alteration::Pieces(change) => self.pieces_step(change),
            Alteration::Seam(change) => self.seam_step(change),
        }
    }

    fn rename_piece(&self, piece: &mut String) {
        if let Some(name) = self.piece(piece).into_iter().next() {
            *piece = name;
        }
    }

    fn rename_seam(&self, seam: &mut String) {
        if let Some(name) = self.seam(seam).into_iter().next() {
            *seam = name;
        }
    }

    fn pieces_step(&self, change: &mut PiecesChange) {
        match change {
            PiecesChange::Add(_) => {}
            PiecesChange::Cut {
                piece, from, to, ..
            } => {
                let mut on = On::new(self, piece);
                on.place(from);
                on.place(to);
                *piece = on.piece();
            }
            PiecesChange::Join { seam, .. } => self.rename_seam(seam),
            PiecesChange::Facing { piece, edges, .. }
            | PiecesChange::Binding { piece, edges, .. } => {
                let mut on = On::new(self, piece);
                for edge in edges.iter_mut() {
                    on.edge(edge);
                }
                *piece = on.piece();
            }
            PiecesChange::Gusset { piece, corner, .. } => {
                let mut on = On::new(self, piece);
                on.edge(corner);
                *piece = on.piece();
            }
            PiecesChange::Remove { piece }
            | PiecesChange::Rename { piece, .. }
            | PiecesChange::Lining { piece, .. } => self.rename_piece(piece),
        }
    }

    fn seam_step(&self, change: &mut SeamChange) {
        match change {
            SeamChange::Sew(seam) => self.sewn(seam),
            SeamChange::Unpick { seam }
            | SeamChange::Rename { seam, .. }
            | SeamChange::SetRelation { seam, .. }
            | SeamChange::SetKind { seam, .. }
            | SeamChange::MatchNotch { seam, .. }
            | SeamChange::MoveLine { seam, .. }
            | SeamChange::True { seam, .. } => self.rename_seam(seam),
            SeamChange::Distinguish { piece } => self.rename_piece(piece),
        }
    }

    fn sewn(&self, seam: &mut Seam) {
        self.rename_seam(&mut seam.name);
        for side in [&mut seam.a, &mut seam.b] {
            let moved = side.iter().flat_map(|stretch| {
                let edge = EdgeRef::new(&stretch.piece, &stretch.edge);
                let parts = self.range(&edge, stretch.from, stretch.to);
                parts.into_iter().map(|part| crate::seams::Stretch {
                    piece: part.edge.piece,
                    edge: part.edge.edge,
                    from: part.from,
                    to: part.to,
                    ..stretch.clone()
                })
            });
            let moved: Vec<_> = moved.collect();
            if !moved.is_empty() {
                *side = moved;
            }
        }
    }
}

/// A step on one piece: the first edge or place that follows says on which new piece it is now.
struct On<'a> {
    carried: &'a Carried,
    old: String,
    now: Option<String>,
}

impl<'a> On<'a> {
    fn new(carried: &'a Carried, piece: &str) -> Self {
        Self {
            carried,
            old: piece.to_owned(),
            now: None,
        }
    }

    /// The piece the step is on now.
    fn piece(&self) -> String {
        let renamed = || self.carried.piece(&self.old).into_iter().next();
        let now = self.now.clone().or_else(renamed);
        now.unwrap_or_else(|| self.old.clone())
    }

    /// Is it the piece of this step? The first that is asked about settles it.
    fn here(&mut self, piece: &str) -> bool {
        self.now.get_or_insert_with(|| piece.to_owned()) == piece
    }

    fn first_bit(&mut self, edge: &str) -> Option<Bit> {
        let bits = self.carried.bits(&EdgeRef::new(&self.old, edge));
        let bit = bits.into_iter().next()?;
        self.here(&bit.edge.piece).then_some(bit)
    }

    fn edge(&mut self, edge: &mut String) {
        if let Some(bit) = self.first_bit(edge) {
            *edge = bit.edge.edge;
        }
    }

    fn place(&mut self, at: &mut OutlinePoint) {
        if let Some((piece, moved)) = self.carried.point(&self.old, at)
            && self.here(&piece)
        {
            *at = moved;
        }
    }

    /// A part of an edge that became one part.
    fn part(&mut self, edge: &mut String, from: &mut f64, to: &mut f64) {
        let at = EdgeRef::new(&self.old, &*edge);
        let parts = self.carried.range(&at, *from, *to);
        if let Some(part) = parts.into_iter().next()
            && self.here(&part.edge.piece)
        {
            *edge = part.edge.edge;
            (*from, *to) = (part.from.min(part.to), part.from.max(part.to));
        }
    }

    fn point(&mut self, point: &mut PointRef) {
        self.edge(&mut point.edge);
    }

    fn fullness(&mut self, op: &mut FullnessOp) {
        self.part(&mut op.edge, &mut op.from, &mut op.to);
        if let Some(opposite) = &mut op.even_to {
            let mut name = std::mem::take(opposite);
            self.edge(&mut name);
            *opposite = name;
        }
    }

    fn body_line(&mut self, line: &mut BodyLine) {
        self.place(&mut line.from);
        self.place(&mut line.to);
    }

    fn shape(&mut self, change: &mut ShapeChange) {
        match change {
            ShapeChange::MovePoints { points, .. } => {
                points.iter_mut().for_each(|point| self.point(point));
            }
            ShapeChange::MoveStretch { from, to, .. }
            | ShapeChange::Lengthen { from, to, .. }
            | ShapeChange::Spread { from, to, .. } => {
                self.place(from);
                self.place(to);
            }
            ShapeChange::Redraw { edge, .. }
            | ShapeChange::Straighten { edge }
            | ShapeChange::JoinEdges { edge }
            | ShapeChange::RenameEdge { edge, .. }
            | ShapeChange::SetLength { edge, .. }
            | ShapeChange::Widen { edge, .. }
            | ShapeChange::Raise { edge, .. } => self.edge(edge),
            ShapeChange::Smooth { point } | ShapeChange::RemovePoint { point } => {
                self.point(point);
            }
            ShapeChange::AddPoint { at } | ShapeChange::SplitEdge { at, .. } => self.place(at),
            ShapeChange::Mirror { .. }
            | ShapeChange::Turn { .. }
            | ShapeChange::TurnToGrain
            | ShapeChange::OpenOut => {}
        }
    }

    fn mark(&mut self, change: &mut MarkChange) {
        match change {
            MarkChange::AddNotch(notch) => {
                let mut at = OutlinePoint::new(&notch.edge, notch.fraction);
                self.place(&mut at);
                (notch.edge, notch.fraction) = (at.edge, at.fraction);
            }
            MarkChange::SetNotch { at, .. } => self.place(at),
            MarkChange::SetFinish { edge, from, to, .. } => self.part(edge, from, to),
            MarkChange::SetBodyLine(line) => self.body_line(line),
            _ => {}
        }
    }
}
