//! The ways a copy can be cut in parts: along its former fold, with patches at its corners, joined of several strips.

mod fold;
mod missing;
mod patch;
mod strip;

pub use missing::{Beyond, patch_beyond};
pub use strip::{StripShape, joined_from, strip_shape};

use kurbo::{Line, Point};

use super::parts::parts;
use super::seen::Seen;
use super::{Hidden, LayShape, NewSeams, PieceLaying, PiecedWay};
use crate::edge::Edge;
use crate::finish::FinishedPiece;
use crate::fitting::Fitting;
use crate::garment::Garment;
use crate::lay_plan::{CopyRef, Piecing, PiecingKind};
use crate::tolerance::JOINING;
use crate::units::{LengthUnit, Mm};

/// A patch or segment narrower or shorter than this, allowance included, is not worth sewing on. Common practice, no source.
pub const LEAST: Mm = Mm(12.0);

/// What a seam costs at most that nobody sees.
const UNSEEN: u32 = 1;

/// A copy that is to be pieced, and what decides how.
pub(super) struct Asked<'a> {
    pub finished: &'a FinishedPiece,
    pub garment: &'a Garment,
    pub fitting: &'a Fitting,
    pub hidden: &'a Hidden,
    pub chosen: PieceLaying,
    pub of: &'a CopyRef,
    pub whole: &'a LayShape,
    pub unit: LengthUnit,
}

impl Asked<'_> {
    /// The ways to cut it in parts, the least concession first.
    pub fn ways(&self) -> Vec<PiecedWay> {
        let mut ways = Vec::new();
        // A seam that shows, where none was drawn, is for the maker to allow.
        let on_fold = self.chosen.seam_on_fold;
        if on_fold != Some(false) {
            let way = fold::way(self);
            ways.extend(way.filter(|way| on_fold == Some(true) || way.cost <= UNSEEN));
        }
        if self.chosen.join != Some(false) {
            ways.extend(strip::ways(self));
        }
        if self.may_patch() {
            ways.extend(patch::ways(self));
        }
        // Of what costs the same: fewer seams first, and shorter ones.
        let rank = |way: &PiecedWay| {
            let sewn = way.piecing.lines.iter();
            let sewn: f64 = sewn.map(|(a, b)| (*b - *a).hypot()).sum();
            // Rounding makes none shorter.
            let sewn = (sewn / JOINING.0).round();
            (way.cost, way.piecing.lines.len(), sewn)
        };
        ways.sort_by(|a, b| {
            let (a, b) = (rank(a), rank(b));
            (a.0, a.1).cmp(&(b.0, b.1)).then(a.2.total_cmp(&b.2))
        });
        ways
    }

    /// What seams have to heed that are only made while laying.
    pub fn new_seams(&self) -> NewSeams {
        let lines = |strokes: Vec<(Point, Point)>| {
            let line = |(a, b): (Point, Point)| Line::new(a, b);
            strokes.into_iter().map(line).collect()
        };
        let corners = self.finished.piece.outline.edges().iter();
        let corners: Vec<Point> = corners.map(|edge| edge.line.start()).collect();
        let over = self.whole.fold;
        let over = over.map(|fold| super::opened::mirror(fold.p0, fold.p1 - fold.p0));
        let both = |at: Point| std::iter::once(at).chain(over.map(|over| over * at));
        NewSeams {
            allowance: self.allowance(),
            patch: self.may_patch().then(|| self.seen().cost()),
            keep_off: lines(patch::darts(self)),
            marks: lines(patch::marks(self)),
            corners: corners
                .into_iter()
                .flat_map(|at| both(at).map(move |there| (there, at)))
                .map(|(there, at)| (there, self.edges_at(at).join(" and ")))
                .filter(|corner| !corner.1.is_empty())
                .collect(),
            off_middle: strip::off_middle(self),
            seen: self.seen().words(),
            unit: self.unit,
        }
    }

    /// May its corners be patched? By itself only where nobody sees it.
    fn may_patch(&self) -> bool {
        let unseen = self.seen().cost() <= UNSEEN;
        self.chosen.patch.unwrap_or(unseen)
    }

    /// Allowance of the new seams: that of the fitting's seams.
    fn allowance(&self) -> Mm {
        self.fitting.allowances.seam
    }

    fn seen(&self) -> Seen {
        let role = self.of.copy.role;
        Seen::on(self.garment, &self.finished.piece, role, self.hidden)
    }

    /// The way with these seams; `None` when it cannot be cut so.
    fn way(&self, kind: PiecingKind, lines: &[Line], cost: u32, why: String) -> Option<PiecedWay> {
        let piecing = Piecing {
            of: self.of.clone(),
            kind,
            lines: lines.iter().map(|line| (line.p0, line.p1)).collect(),
            allowance: self.allowance(),
        };
        let parts = parts(self.whole, &piecing).ok()?;
        Some(PiecedWay {
            piecing,
            parts,
            cost,
            why,
        })
    }

    /// Names of the edges that meet at the corner nearest to a point of the opened-out outline; the fold is none of them.
    fn edges_at(&self, at: Point) -> Vec<&str> {
        let half = self.in_half(at);
        let edges = self.finished.piece.outline.edges();
        let corner = edges
            .iter()
            .map(|edge| edge.line.start())
            .min_by(|a, b| (*a - half).hypot().total_cmp(&(*b - half).hypot()));
        let meets = |edge: &&Edge| {
            let ends = [edge.line.start(), edge.line.end()];
            let near = |end: &Point| corner.is_some_and(|c| (c - *end).hypot() <= JOINING.0);
            !edge.is_fold() && ends.iter().any(near)
        };
        edges
            .iter()
            .filter(meets)
            .map(|edge| edge.name.as_str())
            .collect()
    }

    /// The point, or its mirror image, in the half that is drawn.
    fn in_half(&self, at: Point) -> Point {
        let Some(fold) = self.whole.fold else {
            return at;
        };
        let along = fold.p1 - fold.p0;
        let side = |p: Point| along.cross(p - fold.p0);
        if side(at) * side(self.finished.label_at) < 0.0 {
            super::opened::mirror(fold.p0, along) * at
        } else {
            at
        }
    }
}
