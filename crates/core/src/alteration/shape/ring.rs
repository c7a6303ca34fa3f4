//! The control points of an outline as one ring, in which the corner between two edges is one point.

use std::collections::BTreeMap;

use kurbo::{CubicBez, Point, Vec2};

use super::PointRef;
use crate::alteration::AlterationError;
use crate::geometry::curve::Line;
use crate::geometry::parallel::is_straight;
use crate::piece::Piece;

/// Steering points that deviate by less than this (sine of the angle) from one line make a smooth join.
const SMOOTH_JOIN: f64 = 0.01;

/// A ring of control points: every third lies on the line, from 0.
#[derive(Debug, Clone)]
pub(super) struct Ring {
    /// Every point once.
    points: Vec<Point>,
    /// For every edge, the place of its first point.
    firsts: Vec<usize>,
    lines: Vec<Line>,
}

/// How far points of a ring move.
pub(super) type Shifts = BTreeMap<usize, Vec2>;

impl Ring {
    pub fn new(lines: Vec<Line>) -> Self {
        let mut points = Vec::new();
        let mut firsts = Vec::new();
        for line in &lines {
            firsts.push(points.len());
            let own = line.points();
            points.extend_from_slice(own.get(..own.len().saturating_sub(1)).unwrap_or_default());
        }
        Self {
            points,
            firsts,
            lines,
        }
    }

    pub fn of(piece: &Piece) -> Self {
        let edges = piece.outline.edges().iter();
        Self::new(edges.map(|edge| edge.line.clone()).collect())
    }

    pub fn len(&self) -> usize {
        self.points.len()
    }

    /// The place in the ring of a control point of an edge.
    pub fn place(&self, edge: usize, number: usize) -> Option<usize> {
        let count = self.lines.get(edge)?.points().len();
        let first = self.firsts.get(edge)?;
        (number < count).then(|| (first + number) % self.len())
    }

    /// The same by the name of the edge.
    pub fn find(&self, piece: &Piece, point: &PointRef) -> Result<usize, AlterationError> {
        let edge = crate::alteration::moves::index_of(piece, &point.edge)?;
        self.place(edge, point.number)
            .ok_or_else(|| AlterationError::NoPoint {
                edge: point.edge.clone(),
                number: point.number,
            })
    }

    /// The point at a place, which may run round.
    pub fn at(&self, place: usize) -> Point {
        let count = self.len().max(1);
        self.points.get(place % count).copied().unwrap_or_default()
    }

    /// The place before another, or after it.
    pub fn step(&self, place: usize, by: isize) -> usize {
        let count = self.len().max(1) as isize;
        (place as isize + by).rem_euclid(count) as usize
    }

    /// Places of the points on the line.
    pub fn on_line(&self) -> impl Iterator<Item = usize> + use<> {
        (0..self.points.len()).step_by(3)
    }

    /// The cubic that starts at a point on the line.
    pub fn cubic(&self, place: usize) -> CubicBez {
        CubicBez::new(
            self.at(place),
            self.at(place + 1),
            self.at(place + 2),
            self.at(place + 3),
        )
    }

    pub fn is_straight(&self, place: usize) -> bool {
        is_straight(&self.cubic(place))
    }

    /// Do the steering points at a point on the line make one line?
    pub fn is_smooth(&self, place: usize) -> bool {
        let (before, after) = self.steering(place);
        let size = before.hypot() * after.hypot();
        size > 0.0 && before.dot(after) < 0.0 && before.cross(after).abs() <= SMOOTH_JOIN * size
    }

    /// From a point on the line to its two steering points.
    pub fn steering(&self, place: usize) -> (Vec2, Vec2) {
        let here = self.at(place);
        (
            self.at(self.step(place, -1)) - here,
            self.at(place + 1) - here,
        )
    }

    /// The lines of the edges with points moved; an edge none of whose points moves stays as it is.
    pub fn lines(&self, shifts: &Shifts) -> Vec<Line> {
        let mut lines = Vec::new();
        for (line, first) in self.lines.iter().zip(&self.firsts) {
            let shift = |i: usize| shifts.get(&((first + i) % self.len())).copied();
            let moves = (0..line.points().len()).any(|i| shift(i).is_some());
            if !moves {
                lines.push(line.clone());
                continue;
            }
            let points = line.points().iter().enumerate();
            let moved = points.map(|(i, p)| *p + shift(i).unwrap_or_default());
            lines.push(Line::new(moved.collect()).unwrap_or_else(|_| line.clone()));
        }
        lines
    }

    /// The edges, as places of their first and last points and their lines.
    pub fn edges(&self) -> impl Iterator<Item = (usize, usize, &Line)> {
        self.firsts.iter().zip(&self.lines).map(|(first, line)| {
            let last = first + line.points().len().saturating_sub(1);
            (*first, last, line)
        })
    }
}
