//! A line while it is joined, its two ends, and places on it.

use petitoile_core::kurbo::{BezPath, ParamCurve, ParamCurveArclen, PathSeg, Point, Vec2};

use super::nearby::{is_point, look, way};
use crate::bring_in::FoundLine;

/// How exactly lengths along lines are measured, mm.
pub(super) const MEASURED: f64 = 1e-3;

/// A line while it is joined.
#[derive(Clone)]
pub(super) struct Strand {
    pub segments: Vec<PathSeg>,
    pub closed: bool,
    pub look: u64,
    /// Pages of its start and of its end.
    pub pages: [usize; 2],
    /// The line it takes its looks from.
    pub line: usize,
    /// Is it more than that one line?
    pub is_joined: bool,
    /// Length up to the start of each segment, and of the whole.
    lengths: Vec<f64>,
}

/// Start or end of a strand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Side {
    Start,
    End,
}

/// An end of a strand, by the strand's number.
pub(super) type EndOf = (usize, Side);

impl Side {
    pub fn other(self) -> Self {
        match self {
            Self::Start => Self::End,
            Self::End => Self::Start,
        }
    }
}

impl Strand {
    pub fn new(line: &FoundLine, page: usize, number: usize) -> Self {
        // A segment of hardly any length has no direction worth the name.
        let all = || line.path.segments();
        let mut segments: Vec<PathSeg> = Vec::new();
        for segment in all().filter(|segment| !is_point(segment)) {
            let joined = segments
                .last()
                .map_or(segment, |last| started(&segment, last.end()));
            segments.push(joined);
        }
        if segments.is_empty() {
            segments = all().collect();
        }
        Self::of(segments, line.closed, look(line), [page; 2], number)
    }

    pub fn of(
        segments: Vec<PathSeg>,
        closed: bool,
        look: u64,
        pages: [usize; 2],
        line: usize,
    ) -> Self {
        let mut lengths = vec![0.0];
        let mut sum = 0.0;
        for segment in &segments {
            sum += segment.arclen(MEASURED);
            lengths.push(sum);
        }
        Self {
            segments,
            closed,
            look,
            pages,
            line,
            is_joined: false,
            lengths,
        }
    }

    pub fn length(&self) -> f64 {
        self.lengths.last().copied().unwrap_or(0.0)
    }

    /// An end and the direction away from the line there.
    pub fn end(&self, side: Side) -> Option<(Point, Vec2)> {
        Some(match side {
            Side::Start => {
                let first = self.segments.first()?;
                (first.start(), -way(first, 0.0))
            }
            Side::End => {
                let last = self.segments.last()?;
                (last.end(), way(last, 1.0))
            }
        })
    }

    pub fn page(&self, side: Side) -> usize {
        let [start, end] = self.pages;
        if side == Side::Start { start } else { end }
    }

    /// Length from the start to a place on a segment.
    pub fn length_to(&self, segment: usize, t: f64) -> f64 {
        let before = self.lengths.get(segment).copied().unwrap_or(0.0);
        let part = self
            .segments
            .get(segment)
            .map_or(0.0, |segment| segment.subsegment(0.0..t).arclen(MEASURED));
        before + part
    }

    pub fn reversed(&self) -> Self {
        let [start, end] = self.pages;
        Self::of(
            self.segments.iter().rev().map(PathSeg::reverse).collect(),
            self.closed,
            self.look,
            [end, start],
            self.line,
        )
    }

    /// What is left from a place on.
    pub fn from(&self, spot: Spot) -> Vec<PathSeg> {
        let mut rest = Vec::new();
        if let Some(segment) = self.segments.get(spot.segment)
            && spot.t < 1.0 - 1e-9
        {
            rest.push(segment.subsegment(spot.t..1.0));
        }
        rest.extend(self.segments.iter().skip(spot.segment + 1).copied());
        rest
    }

    pub fn path(&self) -> BezPath {
        let mut path = BezPath::from_path_segments(self.segments.iter().copied());
        if self.closed {
            path.close_path();
        }
        path
    }
}

/// A place on a strand.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spot {
    pub strand: usize,
    pub segment: usize,
    pub t: f64,
    pub distance: f64,
}

/// A segment that starts elsewhere, by less than the tolerance.
pub(super) fn started(segment: &PathSeg, at: Point) -> PathSeg {
    let mut moved = *segment;
    match &mut moved {
        PathSeg::Line(line) => line.p0 = at,
        PathSeg::Quad(quad) => quad.p0 = at,
        PathSeg::Cubic(cubic) => cubic.p0 = at,
    }
    moved
}
