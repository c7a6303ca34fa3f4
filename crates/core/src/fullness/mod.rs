//! Fullness: pleats, gathers and tucks between the finished outline and the cloth outline.
//!
//! [`cloth_length`] is the arithmetic; [`fill`] spreads the outlines. Lengths in mm.

pub mod cloth_length;
mod fit;
mod folded;
mod in_cloth;
mod kind;
mod layout;
mod left_out;
mod lines;
mod motion;
mod pattern;
mod place;
mod rows;
mod solve;
mod spread;
#[cfg(test)]
mod tests;
mod walk;
mod worked_in;

use std::sync::Arc;

use kurbo::Point;
use serde::{Deserialize, Serialize};

pub use folded::{Fold, FoldedEdge, Miss, Pleat, Span, Way};
pub use in_cloth::{
    DOLL_STITCH, EASED_UP_TO, FLAT_PLEAT, FULL_STITCH, Hand, NARROWEST_PLEAT, Pressable, Stack,
    fullest_gathers, gathers_for, hand, narrowest, pressable, shallowest, stack,
};
pub use kind::{Kind, PIN_TUCK};
pub use layout::{Groups, KeepOff, Layout, Lies, PlainPanel, Rest};
pub use rows::Rows;
pub use solve::{Adjusted, Depth, Leftover, Quantity, Solved, Unsolved, Wanted, solve};
pub use worked_in::{Band, THIN_CLOTH, WorkedIn};

use crate::adapt::Adapted;
use crate::allowance::{AllowancePlan, strips};
use crate::edge::{Edge, EdgeRef, Finish, FinishStretch, OutlinePoint};
use crate::finding::{Finding, Warned};
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::piece::{Mark, MarkKind, Piece};
use crate::tolerance::MEASURING;
use crate::units::Mm;

use spread::{Opening, Spread};

/// Fullness on an edge of a piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FullnessOp {
    /// Edge that is drawn in.
    pub edge: String,
    /// Fraction of the edge where it starts.
    pub from: f64,
    /// Fraction where it ends.
    pub to: f64,
    /// How.
    pub fullness: Fullness,
    /// The opposite edge, when it is widened as much (even); `None` hinges there instead.
    pub even_to: Option<String>,
    /// How it lies along the stretch.
    #[serde(default, skip_serializing_if = "Layout::is_default")]
    pub layout: Layout,
}

/// How an edge is made longer than it is sewn. [`Kind`] names them.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Fullness {
    /// Drawn in by rows of running stitch: cloth length = finished length x ratio.
    Gathers {
        /// Cloth length / finished length, 1 or more.
        ratio: f64,
    },
    /// Folds all lying one way: each takes twice its depth.
    KnifePleats {
        /// How many.
        count: u32,
        /// Depth of each fold.
        depth: Mm,
    },
    /// Two folds meeting behind (box) or in front (inverted): each takes four times its depth.
    BoxPleats {
        /// How many.
        count: u32,
        /// Depth of each fold.
        depth: Mm,
        /// Do the folds meet in front?
        inverted: bool,
    },
    /// Small stitched folds: each takes twice its width.
    Tucks {
        /// How many.
        count: u32,
        /// Width of each.
        width: Mm,
    },
    /// A box pleat on a box pleat (or inverted under inverted): each takes eight times its depth.
    DoubleBoxPleats {
        /// How many.
        count: u32,
        /// Depth of each fold.
        depth: Mm,
        /// Do the folds meet in front?
        inverted: bool,
    },
    /// Loops that stand out from the edge, drawn up by rows of even stitches, each as long as a loop is deep: cloth =
    /// finished x ratio = 2 x depth x count.
    CartridgePleats {
        /// How many loops.
        count: u32,
        /// Cloth length / finished length.
        ratio: f64,
    },
    /// Gathers held by several rows into the piece.
    Shirring {
        /// Cloth length / finished length, 1 or more.
        ratio: f64,
        /// How many rows.
        rows: u32,
        /// From row to row.
        apart: Mm,
    },
    /// A little more cloth, shrunk or sewn in without a fold: cloth = finished + this.
    Ease {
        /// How much longer the cloth is.
        by: Mm,
    },
}

impl FullnessOp {
    /// Fullness over a whole edge, hinged, laid as usual.
    pub fn new(edge: impl Into<String>, fullness: Fullness) -> Self {
        Self {
            edge: edge.into(),
            from: 0.0,
            to: 1.0,
            fullness,
            even_to: None,
            layout: Layout::default(),
        }
    }

    /// The same fullness on the edge opposite, for a strip that is sewn on at both edges; `None` when it hinges. Folds go
    /// on lying where they lie, so the layout is that of an edge walked from its other end.
    pub fn across(&self) -> Option<Self> {
        Some(Self {
            edge: self.even_to.clone()?,
            from: 1.0 - self.to,
            to: 1.0 - self.from,
            fullness: self.fullness,
            even_to: Some(self.edge.clone()),
            layout: self.layout.mirrored(),
        })
    }

    /// Are these the two edges of one strip, drawn in alike? Then the folds of one are those of the other.
    pub fn is_across_from(&self, other: &Self) -> bool {
        self.across().as_ref() == Some(other) || other.across().as_ref() == Some(self)
    }

    /// How far down from the edge its pleats are stitched shut. `None` when they are not, and for tucks (stitched all
    /// along) and for what is drawn in.
    pub fn sewn_down(&self) -> Option<Mm> {
        let kind = self.fullness.kind();
        let is_pleat = kind.depths_taken().is_some() && !kind.is_tuck();
        self.layout.sewn_down.filter(|mm| is_pleat && 0.0 < mm.0)
    }

    /// The folds along its stretch, when that is finished to this length.
    pub fn folded(&self, finished: Mm) -> FoldedEdge {
        FoldedEdge::new(self.fullness, &self.layout, finished)
    }
}

/// What [`fill`] gives: the adapted pieces with their cloth outlines.
#[derive(Debug, Clone, PartialEq)]
pub struct Filled {
    /// What it was made from.
    pub adapted: Arc<Adapted>,
    /// One per adapted piece, same order: the piece as it is cut, fullness spread out. Its notches, finishes, body
    /// lines and fullness lie at the fractions of the cloth outline that belong to those of the finished one.
    pub pieces: Vec<Arc<Piece>>,
    /// One list per piece, same order: where it is folded, stitched or gathered.
    pub lines: Vec<Vec<FillLine>>,
}

/// A line that a fullness needs on the cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct FillLine {
    /// What is done along it.
    pub kind: FillLineKind,
    /// From the drawn-in edge to what lies opposite; a gathering row runs along the edge.
    pub line: Line,
    /// Which fullness of its piece it belongs to, by its place in the list.
    pub op: usize,
    /// Number of its pleat or tuck, from 1; 0 for a row.
    pub pleat: u32,
    /// How far along the cloth of its stretch it lies; 0 for a row.
    pub on_cloth: Mm,
    /// Where that comes to lie on the finished stretch; 0 for a row.
    pub on_edge: Mm,
    /// From this line to where it is laid or sewn to, square to the edge's rays, a fourth of the way down.
    pub arrow: Option<(Point, Point)>,
    /// How long each stitch of a row is to be, where it matters (cartridge pleats).
    pub stitch: Option<Mm>,
}

/// What is done along a [`FillLine`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FillLineKind {
    /// Folded, the fold seen on the right side.
    Fold,
    /// Folded, the fold hidden behind.
    Under,
    /// A fold is laid against it; it is a mark of the filled piece too.
    Placement,
    /// Stitched to the next one: the two sides of a tuck, or a fold and the line it is laid on as far as the pleat is
    /// stitched down, with a bar where that ends.
    Stitch,
    /// A row of running stitch, to be drawn up.
    Gather,
}

impl FillLineKind {
    /// Is the cloth folded here?
    pub fn is_folded(self) -> bool {
        matches!(self, Self::Fold | Self::Under)
    }

    /// Is a needle drawn through here?
    pub fn is_sewn(self) -> bool {
        matches!(self, Self::Stitch | Self::Gather)
    }
}

/// What the mark of a placement line says.
const PLACEMENT: &str = "fold to here";

/// Spreads every piece by its fullness: the third of nine steps from file to page.
///
/// Every widened edge gets its cloth length exactly; with `even_to` the opposite edge grows by as much wherever it
/// runs parallel. Sides stay as they are and move as a whole, so folds and straight sides stay straight. A fullness
/// that cannot be spread is left out with a finding, never silently.
pub fn fill(adapted: &Arc<Adapted>) -> Warned<Filled> {
    let mut findings = Vec::new();
    let mut pieces = Vec::new();
    let mut lines = Vec::new();
    for piece in &adapted.pieces {
        let (filled, own) = filled(adapted, piece, &mut findings);
        pieces.push(filled);
        lines.push(own);
    }
    Warned {
        outcome: Filled {
            adapted: adapted.clone(),
            pieces,
            lines,
        },
        findings,
    }
}

/// Every piece as it is when its fullness is drawn in: what hand work changes.
pub fn drawn_in(adapted: &Arc<Adapted>) -> Filled {
    Filled {
        adapted: adapted.clone(),
        pieces: adapted.pieces.clone(),
        lines: vec![Vec::new(); adapted.pieces.len()],
    }
}

/// One piece, spread by all its fullness in order.
fn filled(
    adapted: &Adapted,
    finished: &Arc<Piece>,
    findings: &mut Vec<Finding>,
) -> (Arc<Piece>, Vec<FillLine>) {
    let mut piece = finished.clone();
    let mut lines: Vec<FillLine> = Vec::new();
    for number in 0..finished.fullness.len() {
        match widened(adapted, finished, &piece, number) {
            Ok(None) => {}
            Ok(Some((wider, spread, own))) => {
                for line in &mut lines {
                    line.line = line.line.mapped(|p| spread.moved(p));
                    line.arrow = line.arrow.map(|(a, b)| (spread.moved(a), spread.moved(b)));
                }
                let op = finished.fullness.get(number);
                let mut before = finished.fullness.iter().take(number);
                // Folds that run from edge to edge are drawn once, rows of stitches at both.
                let twice = op.is_some_and(|op| before.any(|other| op.is_across_from(other)));
                lines.extend(own.into_iter().filter(|line| line.pleat == 0 || !twice));
                piece = Arc::new(wider);
            }
            Err(why) => findings.extend(left_out::cannot_spread(adapted, finished, number, &why)),
        }
    }
    let placed = lines
        .iter()
        .filter(|line| line.kind == FillLineKind::Placement);
    let marks: Vec<Mark> = placed
        .map(|line| Mark {
            name: PLACEMENT.to_owned(),
            kind: MarkKind::Line(line.line.clone()),
        })
        .collect();
    if !marks.is_empty() {
        let mut marked = Piece::clone(&piece);
        marked.marks.extend(marks);
        piece = Arc::new(marked);
    }
    (piece, lines)
}

/// The piece after one more of its fullness; `None` when the cloth is already there.
fn widened(
    adapted: &Adapted,
    finished: &Piece,
    piece: &Piece,
    number: usize,
) -> Result<Option<(Piece, Spread, Vec<FillLine>)>, String> {
    let Some((first, now)) = finished
        .fullness
        .get(number)
        .zip(piece.fullness.get(number))
    else {
        return Ok(None);
    };
    let fullness = first.fullness.checked().map_err(|e| e.to_string())?;
    let place = |name: &str| {
        piece
            .outline
            .index_of(name)
            .ok_or_else(|| format!("there is no edge called {name}"))
    };
    let (edge, even_to) = (
        place(&now.edge)?,
        now.even_to.as_deref().map(place).transpose()?,
    );
    if even_to == Some(edge) {
        return Err(format!("{} cannot lie opposite itself", now.edge));
    }
    let length = |piece: &Piece, op: &FullnessOp| {
        piece
            .outline
            .edge(&op.edge)
            .map_or(0.0, |e| e.line.length() * (op.to - op.from))
    };
    let drawn_in = Mm(length(finished, first));
    let there = length(piece, now) - own_growth(finished, number);
    let growth = fullness.cloth_length(drawn_in).0 - there;
    if drawn_in.0.is_nan() || drawn_in.0 <= MEASURING.0 {
        return Err(format!(
            "there is no length between {:.2} and {:.2} of the edge",
            now.from, now.to
        ));
    }
    let opening = Opening {
        edge,
        from: now.from,
        to: now.to,
        growth: growth.max(0.0),
        even_to,
    };
    let grain_at = piece.grainline.map(|(a, b)| a.midpoint(b));
    let spread = spread::spread(&piece.outline, opening, grain_at).map_err(|e| e.to_string())?;
    let folded = first.folded(drawn_in);
    let lines = lines::fill_lines(
        &folded,
        first,
        number,
        &spread,
        seam_width(piece, edge, &adapted.fitting.allowances),
    );
    Ok(Some((carried(piece, &spread), spread, lines)))
}

/// Width of the seam allowance beyond an edge, in which gathering rows lie.
fn seam_width(piece: &Piece, edge: usize, plan: &AllowancePlan) -> Mm {
    let own = piece.outline.edges().get(edge).and_then(|edge| {
        let finish = edge.finish_at(0.5);
        let at = EdgeRef::new(&piece.name, &edge.name);
        let strips = strips(finish, plan, &at, edge.allowance);
        matches!(finish, Finish::Seam | Finish::Facing).then_some(strips)
    });
    own.and_then(|strips| strips.first().copied())
        .map_or(plan.seam, Mm)
}

/// What earlier fullness on the same stretch of the same edge has already let in there, mm.
fn own_growth(finished: &Piece, number: usize) -> f64 {
    let Some(op) = finished.fullness.get(number) else {
        return 0.0;
    };
    let Some(edge) = finished.outline.edge(&op.edge) else {
        return 0.0;
    };
    let earlier = finished
        .fullness
        .iter()
        .take(number)
        .filter(|other| other.edge == op.edge && other.fullness.checked().is_ok());
    earlier
        .map(|other| {
            let range = other.to - other.from;
            let shared = (other.to.min(op.to) - other.from.max(op.from)).max(0.0);
            other.fullness.taken_up(Mm(edge.line.length() * range)).0 * shared / range
        })
        .sum()
}

/// Everything on a piece, carried to its spread outline.
fn carried(piece: &Piece, spread: &Spread) -> Piece {
    let to = |edge: &str, fraction: f64| {
        piece
            .outline
            .index_of(edge)
            .map_or(fraction, |index| spread.new_fraction(index, fraction))
    };
    let point = |at: &OutlinePoint| OutlinePoint {
        fraction: to(&at.edge, at.fraction),
        ..at.clone()
    };
    let finishes = |edge: &Edge| -> Vec<FinishStretch> {
        let moved = |s: &FinishStretch| FinishStretch {
            from: to(&edge.name, s.from),
            to: to(&edge.name, s.to),
            ..s.clone()
        };
        edge.finish.iter().map(moved).collect()
    };
    let edges = spread
        .outline
        .edges()
        .iter()
        .map(|edge| Edge {
            finish: finishes(edge),
            ..edge.clone()
        })
        .collect();
    let mut carried = Piece {
        outline: Outline::new(edges).unwrap_or_else(|_| spread.outline.clone()),
        ..piece.clone()
    };
    for notch in &mut carried.notches {
        notch.fraction = to(&notch.edge, notch.fraction);
    }
    for line in &mut carried.body_lines {
        (line.from, line.to) = (point(&line.from), point(&line.to));
    }
    for op in &mut carried.fullness {
        (op.from, op.to) = (to(&op.edge, op.from), to(&op.edge, op.to));
    }
    for mark in &mut carried.marks {
        *mark = Mark {
            kind: moved_mark(&mark.kind, spread),
            ..mark.clone()
        };
    }
    carried.grainline = piece.grainline.map(|(a, b)| spread.moved_together(a, b));
    carried
}

fn moved_mark(kind: &MarkKind, spread: &Spread) -> MarkKind {
    match kind {
        MarkKind::Buttonhole(a, b) => {
            let (a, b) = spread.moved_together(*a, *b);
            MarkKind::Buttonhole(a, b)
        }
        other => other.mapped(|p| spread.moved(p)),
    }
}
