//! Lines drawn by hand, point by point: how points become lines, edges with names, and outlines.
//!
//! Lengths in mm, x right, y up. A point is a corner, or the line runs smoothly through it; two pulls steer the curve
//! where it arrives and where it leaves. Points without pulls marked [`Bend::Through`] are joined by one smooth curve.

mod measured;

pub use measured::{AngleFrom, Measured, length_and_angle, mirrored_about, towards};

use kurbo::{CubicBez, Point, Vec2};
use serde::{Deserialize, Serialize};

use crate::edge::{Edge, Finish};
use crate::geometry::curve::Line;
use crate::geometry::outline::{Outline, OutlineError};
use crate::geometry::simple::{corners, crosses_itself};
use crate::geometry::spline;
use crate::tolerance::{DRAWING, JOINING};

/// Sine of the angle between two pulls that still counts as one direction.
const IN_LINE: f64 = 1e-3;

/// A point of a line drawn by hand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DrawnPoint {
    /// Where it lies.
    pub at: Point,
    /// How the line runs through it.
    pub bend: Bend,
    /// From the point to what steers the curve that arrives; `None` where it arrives straight.
    pub arrives: Option<Vec2>,
    /// From the point to what steers the curve that leaves; `None` where it leaves straight.
    pub leaves: Option<Vec2>,
    /// Name of the stretch that arrives here, as far as the maker gave one.
    pub name: Option<String>,
}

/// How a line runs through a point.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Bend {
    /// As its pulls say: a corner where they are missing or not in line.
    #[default]
    AsPulled,
    /// On one smooth curve with its neighbours.
    Through,
}

/// Why drawn points make no piece.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum DrawnError {
    /// Too little to hold any cloth.
    #[error("this is no outline yet: draw three corners at least, or a curve")]
    TooFew,
    /// It crosses itself.
    #[error("the line crosses itself near ({x:.1}, {y:.1}) mm; move a point or take it back")]
    Crosses {
        /// Where, mm.
        x: f64,
        /// Where, mm.
        y: f64,
    },
    /// A fold that is not straight.
    #[error("the first line is to be the fold, so it must be straight; take its curve out")]
    BentFold,
    /// Something lies beyond the fold.
    #[error("the outline reaches {by:.1} mm over its fold; keep all of it on one side")]
    OverFold {
        /// How far, mm.
        by: f64,
    },
    /// Edges that make no outline.
    #[error("{0}")]
    Outline(#[from] OutlineError),
}

impl DrawnPoint {
    /// A corner.
    pub fn corner(at: Point) -> Self {
        Self {
            at,
            bend: Bend::AsPulled,
            arrives: None,
            leaves: None,
            name: None,
        }
    }

    /// A point the line runs smoothly through, pulled by this much the way it travels.
    pub fn pulled(at: Point, by: Vec2) -> Self {
        Self {
            arrives: Some(-by),
            leaves: Some(by),
            ..Self::corner(at)
        }
    }

    /// A point on one smooth curve with its neighbours.
    pub fn through(at: Point) -> Self {
        Self {
            bend: Bend::Through,
            ..Self::corner(at)
        }
    }

    /// Does one stretch end here and another begin?
    pub fn is_corner(&self) -> bool {
        if self.bend == Bend::Through {
            return false;
        }
        match (self.arrives, self.leaves) {
            (Some(a), Some(b)) => {
                let size = a.hypot() * b.hypot();
                size <= 0.0 || a.dot(b) >= 0.0 || (a.cross(b) / size).abs() > IN_LINE
            }
            _ => true,
        }
    }
}

/// The direction in which the line arrives at the last of drawn points; `None` for fewer than two places.
pub fn arriving(points: &[DrawnPoint]) -> Option<Vec2> {
    let way = line(points)?.direction(1.0);
    (way.hypot() > 0.0).then_some(way)
}

/// The line through drawn points, from the first to the last. `None` for fewer than two places.
pub fn line(points: &[DrawnPoint]) -> Option<Line> {
    Line::from_cubics(&cubics(points))
}

/// One cubic or more from point to point.
fn cubics(points: &[DrawnPoint]) -> Vec<CubicBez> {
    let mut cubics = Vec::new();
    let mut from = 0;
    while from + 1 < points.len() {
        let inner = points
            .iter()
            .skip(from + 1)
            .take_while(|p| p.bend == Bend::Through)
            .count();
        let to = (from + 1 + inner).min(points.len() - 1);
        let run = points.get(from..=to).unwrap_or_default();
        cubics.extend(run_of(run));
        from = to;
    }
    cubics
}

/// Two points as their pulls say, or more on one smooth curve.
fn run_of(run: &[DrawnPoint]) -> Vec<CubicBez> {
    let is_through = run.iter().any(|p| p.bend == Bend::Through);
    let (Some(first), Some(last)) = (run.first(), run.last()) else {
        return Vec::new();
    };
    if is_through {
        let places: Vec<Point> = run.iter().map(|p| p.at).collect();
        let arrives = last.arrives.map(|pull| -pull);
        return spline::through(&places, first.leaves, arrives)
            .map_or(Vec::new(), |line| line.cubics().collect());
    }
    if (last.at - first.at).hypot() <= JOINING.0 && first.leaves.is_none() {
        return Vec::new();
    }
    vec![between(first, last)]
}

fn between(a: &DrawnPoint, b: &DrawnPoint) -> CubicBez {
    let straight = (a.at.lerp(b.at, 1.0 / 3.0), a.at.lerp(b.at, 2.0 / 3.0));
    match (a.leaves, b.arrives) {
        (None, None) => CubicBez::new(a.at, straight.0, straight.1, b.at),
        (leaves, arrives) => {
            // An end without a pull bends as little as it can: its steering point lies on the way to the other.
            let far = |pull: Option<Vec2>, at: Point| pull.map(|pull| at + pull);
            let (p1, p2) = (far(leaves, a.at), far(arrives, b.at));
            CubicBez::new(
                a.at,
                p1.unwrap_or(a.at.lerp(p2.unwrap_or(b.at), 0.5)),
                p2.unwrap_or(b.at.lerp(p1.unwrap_or(a.at), 0.5)),
                b.at,
            )
        }
    }
}

/// The stretches between corners, from the first point round to it again, with the names the maker gave.
fn stretches(points: &[DrawnPoint]) -> Vec<(Line, Option<String>)> {
    // A smooth first point lies inside a stretch: start at a corner, if there is one.
    let start = points.iter().position(DrawnPoint::is_corner).unwrap_or(0);
    let mut round: Vec<DrawnPoint> = points.to_vec();
    if !round.is_empty() {
        round.rotate_left(start);
    }
    round.extend(round.first().cloned());
    let last = round.len().saturating_sub(1);
    let mut found = Vec::new();
    let mut from = 0;
    for to in 1..=last {
        if to != last && round.get(to).is_some_and(|p| !p.is_corner()) {
            continue;
        }
        let run = round.get(from..=to).unwrap_or_default();
        let name = run.iter().skip(1).find_map(|p| p.name.clone());
        found.extend(line(run).map(|line| (line, name)));
        from = to;
    }
    found
}

/// The outline through drawn points, closed from the last to the first. With `on_fold` the line from the first point to
/// the second is the fold, and the outline is one half.
///
/// Every stretch between two corners becomes an edge; one without a name of the maker's is named after where it lies:
/// "top", "right side", "bottom", "left side", numbered where there are several.
///
/// # Errors
/// [`DrawnError`], which says what to do.
///
/// # Example
/// ```
/// # use petitoile_core::{drawn::{DrawnPoint, outline}, kurbo::Point};
/// let corners = [(0.0, 0.0), (60.0, 0.0), (0.0, 90.0)].map(|p| DrawnPoint::corner(Point::from(p)));
/// let kerchief = outline(&corners, false)?;
/// let names: Vec<&str> = kerchief.edges().iter().map(|edge| edge.name.as_str()).collect();
/// assert_eq!(names, ["bottom", "right side", "left side"]);
/// # Ok::<(), petitoile_core::drawn::DrawnError>(())
/// ```
pub fn outline(points: &[DrawnPoint], on_fold: bool) -> Result<Outline, DrawnError> {
    let lines = stretches(points);
    if lines.len() < 2 && lines.first().is_none_or(|(line, _)| line.is_straight()) {
        return Err(DrawnError::TooFew);
    }
    let mut edges: Vec<Edge> = lines
        .into_iter()
        .enumerate()
        .map(|(i, (line, name))| match (on_fold, i, name) {
            (true, 0, name) => {
                let name = name.unwrap_or_else(|| "fold".to_owned());
                Edge::finished(name, line, Finish::Fold)
            }
            (_, i, name) => Edge::seam(name.unwrap_or_else(|| unnamed(i)), line),
        })
        .collect();
    make_single(&mut edges);
    let drawn = Outline::new(edges).map_err(|why| match why {
        OutlineError::Flat => DrawnError::TooFew,
        other => DrawnError::Outline(other),
    })?;
    if let Some(at) = crosses_itself(&drawn) {
        return Err(DrawnError::Crosses { x: at.x, y: at.y });
    }
    if on_fold {
        on_one_side(&drawn)?;
    }
    let mut edges = drawn.edges().to_vec();
    name_by_place(&mut edges);
    Ok(Outline::new(edges)?)
}

/// A name that no maker types, until the place of the edge is known.
fn unnamed(number: usize) -> String {
    format!("\u{0}{number}")
}

/// A name given twice gets a number.
fn make_single(edges: &mut [Edge]) {
    for i in 0..edges.len() {
        let (before, rest) = edges.split_at_mut(i);
        let Some(edge) = rest.first_mut() else { break };
        let taken = |name: &str| before.iter().any(|other| other.name == name);
        let plain = edge.name.clone();
        let mut number = 2;
        while taken(&edge.name) {
            edge.name = format!("{plain} {number}");
            number += 1;
        }
    }
}

fn on_one_side(drawn: &Outline) -> Result<(), DrawnError> {
    let Some(fold) = drawn.edges().iter().find(|edge| edge.is_fold()) else {
        return Ok(());
    };
    if !fold.line.is_straight() {
        return Err(DrawnError::BentFold);
    }
    let (a, way) = (fold.line.start(), fold.line.end() - fold.line.start());
    // Counter-clockwise, all of the piece lies left of its fold.
    let over = corners(drawn)
        .into_iter()
        .map(|p| -way.cross(p - a) / way.hypot())
        .fold(0.0, f64::max);
    if over > DRAWING.0 {
        return Err(DrawnError::OverFold { by: over });
    }
    Ok(())
}

/// Names edges without one after the side of the piece they lie on. The outline is counter-clockwise.
fn name_by_place(edges: &mut [Edge]) {
    let sides: Vec<Option<&'static str>> = edges
        .iter()
        .map(|edge| edge.name.starts_with('\u{0}').then(|| side_of(edge)))
        .collect();
    for i in 0..edges.len() {
        let Some(Some(side)) = sides.get(i).copied() else {
            continue;
        };
        let alike = sides.iter().flatten().filter(|other| **other == side);
        let several = alike.count() > 1;
        let before = sides.iter().take(i).flatten();
        let mut number = before.filter(|other| **other == side).count() + 1;
        let taken = |name: &str| edges.iter().any(|other| other.name == name);
        let mut name = if several {
            format!("{side} {number}")
        } else {
            side.to_owned()
        };
        while taken(&name) {
            number += 1;
            name = format!("{side} {number}");
        }
        if let Some(edge) = edges.get_mut(i) {
            edge.name = name;
        }
    }
}

/// Which way the edge looks out of its piece.
fn side_of(edge: &Edge) -> &'static str {
    let way = edge.line.end() - edge.line.start();
    let out = Vec2::new(way.y, -way.x);
    if way.hypot() <= JOINING.0 {
        "edge"
    } else if out.x.abs() > out.y.abs() {
        if out.x > 0.0 {
            "right side"
        } else {
            "left side"
        }
    } else if out.y > 0.0 {
        "top"
    } else {
        "bottom"
    }
}

#[cfg(test)]
#[path = "drawn_tests.rs"]
mod tests;
