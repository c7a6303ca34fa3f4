//! One side of a seam as one run along the outline of one piece.

use crate::alteration::AlterationError;
use crate::alteration::pieces::naming::{piece_of, refuse};
use crate::alteration::pieces::round::{Spot, along, one_line, round, spot};
use crate::edge::OutlinePoint;
use crate::garment::Garment;
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::seams::Stretch;
use crate::tolerance::JOINING;

/// One side of a seam.
pub(super) struct SideRun {
    pub piece: String,
    outline: Outline,
    /// Where it starts, counter-clockwise.
    pub start: Spot,
    /// Where it ends, counter-clockwise.
    pub end: Spot,
    /// Is it sewn counter-clockwise?
    pub forwards: bool,
    /// Its line, in sewing order.
    pub line: Line,
}

/// The run of a side; refused when it lies on several pieces or jumps.
pub(super) fn side_run(
    garment: &Garment,
    seam: &str,
    side: &[Stretch],
) -> Result<SideRun, AlterationError> {
    let Some((first, last)) = side.first().zip(side.last()) else {
        return refuse(format!("{seam} has a side without any edge; sew it anew"));
    };
    if let Some(other) = side.iter().find(|stretch| stretch.piece != first.piece) {
        return refuse(format!(
            "one side of {seam} lies on {} and {}; join those two first",
            first.piece, other.piece
        ));
    }
    let piece = piece_of(garment, &first.piece)?;
    let forwards = first.from < first.to;
    let place = |edge: &str, fraction| spot(piece, &OutlinePoint::new(edge, fraction));
    for pair in side.windows(2) {
        let [one, next] = pair else { continue };
        let meets = place(&one.edge, one.to)? == place(&next.edge, next.from)?;
        if !meets || (next.from < next.to) != forwards {
            return refuse(format!(
                "{seam} jumps from {} to {} of {}; join along seams that run on",
                one.edge, next.edge, piece.name
            ));
        }
    }
    let (begin, finish) = (place(&first.edge, first.from)?, place(&last.edge, last.to)?);
    let (start, end) = if forwards {
        (begin, finish)
    } else {
        (finish, begin)
    };
    if start == end {
        return refuse(format!(
            "{seam} goes all round {}; nothing would be left of it",
            piece.name
        ));
    }
    let ways = round(&piece.outline, start, end);
    let line = one_line(ways.iter().map(|way| &way.line)).ok_or(AlterationError::NotFinite)?;
    Ok(SideRun {
        piece: piece.name.clone(),
        outline: piece.outline.clone(),
        start,
        end,
        forwards,
        line: if forwards { line } else { line.reversed() },
    })
}

impl SideRun {
    /// Does a place of its piece lie on it, ends included?
    pub fn holds(&self, edge: &str, fraction: f64) -> bool {
        let Some(number) = self.outline.index_of(edge) else {
            return false;
        };
        let whole: f64 = self.outline.edges().iter().map(|e| e.line.length()).sum();
        let at = along(
            &self.outline,
            Spot {
                edge: number,
                at: fraction,
            },
        );
        let from_start = (at - along(&self.outline, self.start)).rem_euclid(whole);
        from_start <= self.line.length() + JOINING.0 || whole - from_start <= JOINING.0
    }

    /// Does a stretch lie on it from end to end?
    pub fn holds_stretch(&self, stretch: &Stretch) -> bool {
        let at = |share: f64| stretch.from + share * (stretch.to - stretch.from);
        stretch.piece == self.piece
            && [0.0, 0.5, 1.0]
                .into_iter()
                .all(|share| self.holds(&stretch.edge, at(share)))
    }

    /// The end of a line over the piece that does not lie on it, when the other one does.
    pub fn outer_end<'a>(
        &self,
        from: &'a OutlinePoint,
        to: &'a OutlinePoint,
    ) -> Option<&'a OutlinePoint> {
        let on = |p: &OutlinePoint| self.holds(&p.edge, p.fraction);
        match (on(from), on(to)) {
            (false, true) => Some(from),
            (true, false) => Some(to),
            _ => None,
        }
    }
}
