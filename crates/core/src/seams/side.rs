//! One side of a seam, laid out end to end: which place lies how far along it.

use std::sync::Arc;

use kurbo::{Point, Vec2};

use super::{SeamError, Stretch};
use crate::edge::EdgeRef;
use crate::geometry::curve::Line;
use crate::notch::{Notch, NotchKind};
use crate::piece::Piece;
use crate::units::Mm;

/// One side of a seam, its stretches end to end in sewing order.
#[derive(Debug, Clone, PartialEq)]
pub struct Side {
    parts: Vec<SidePart>,
    length: f64,
}

/// One stretch of a side, with the line it lies on.
#[derive(Debug, Clone, PartialEq)]
pub struct SidePart {
    /// The stretch.
    pub stretch: Stretch,
    /// The whole edge it is part of, as drawn.
    pub line: Line,
    /// How far along the side it starts.
    pub start: Mm,
    /// How long it is.
    pub length: Mm,
}

/// A place on a side.
#[derive(Debug, Clone, PartialEq)]
pub struct SidePlace {
    /// Number of its stretch in the side, from 0.
    pub part: usize,
    /// The edge.
    pub edge: EdgeRef,
    /// Fraction of that edge.
    pub fraction: f64,
    /// Where it lies in the drawing of its piece.
    pub point: Point,
    /// Unit direction in which the seam is sewn, in that drawing.
    pub direction: Vec2,
    /// Does the piece lie to the left of that direction in its drawing?
    pub piece_on_left: bool,
}

impl Side {
    /// Lays out one side of a seam on the given pieces.
    ///
    /// # Errors
    /// [`SeamError`] when a stretch names something that is not there, or the side has no length.
    pub fn new(stretches: &[Stretch], pieces: &[Arc<Piece>]) -> Result<Self, SeamError> {
        let mut parts = Vec::with_capacity(stretches.len());
        let mut before = 0.0;
        for stretch in stretches {
            let line = stretch.edge_in(pieces)?.line.clone();
            let length = line.length() * (stretch.to - stretch.from).abs();
            parts.push(SidePart {
                stretch: stretch.clone(),
                line,
                start: Mm(before),
                length: Mm(length),
            });
            before += length;
        }
        if before.is_finite() && 0.0 < before {
            Ok(Self {
                parts,
                length: before,
            })
        } else {
            Err(SeamError::NoLength)
        }
    }

    /// Its whole length.
    pub fn length(&self) -> Mm {
        Mm(self.length)
    }

    /// Its stretches in sewing order.
    pub fn parts(&self) -> &[SidePart] {
        &self.parts
    }

    /// The place that lies this far along; its ends for what lies beyond them.
    ///
    /// Where two stretches meet it is the end of the first.
    pub fn place(&self, along: Mm) -> Option<SidePlace> {
        let along = along.0.clamp(0.0, self.length);
        let last = self.parts.len().checked_sub(1)?;
        let found = self
            .parts
            .iter()
            .enumerate()
            .find(|(i, part)| along <= part.start.0 + part.length.0 || *i == last);
        let (number, part) = found?;
        let within = if part.length.0 > 0.0 {
            ((along - part.start.0) / part.length.0).clamp(0.0, 1.0)
        } else {
            0.0
        };
        Some(part.place(number, within))
    }

    /// How far along the side a place on an edge lies, each time the side passes it.
    pub fn along(&self, edge: &EdgeRef, fraction: f64) -> Vec<Mm> {
        self.parts
            .iter()
            .filter(|part| part.stretch.piece == edge.piece && part.stretch.edge == edge.edge)
            .filter_map(|part| {
                let along = part.stretch.along(fraction)?;
                Some(Mm(part.start.0 + along * part.length.0))
            })
            .collect()
    }

    /// The notch that lies this far along, as it is marked on its piece, with the name of the piece.
    pub fn notch(&self, along: Mm, kind: NotchKind) -> Option<(String, Notch)> {
        let place = self.place(along)?;
        let notch = Notch {
            edge: place.edge.edge,
            fraction: place.fraction,
            kind,
        };
        Some((place.edge.piece, notch))
    }
}

impl SidePart {
    /// The place at a share of this stretch, 0 where sewing starts.
    pub fn place(&self, number: usize, share: f64) -> SidePlace {
        let stretch = &self.stretch;
        let forwards = stretch.from <= stretch.to;
        let fraction = stretch.from + share * (stretch.to - stretch.from);
        let direction = self.line.direction(fraction);
        SidePlace {
            part: number,
            edge: EdgeRef::new(&stretch.piece, &stretch.edge),
            fraction,
            point: self.line.at(fraction),
            direction: if forwards { direction } else { -direction },
            // Outlines run counter-clockwise: the piece lies left of an edge as drawn.
            piece_on_left: forwards,
        }
    }
}
