//! A piece parted along a straight line across it: lengthened there, or slashed and spread.

use kurbo::{Affine, Point, Vec2};

use super::edges::{edge_at, one_line};
use super::kept::{NEAR, Reshaped, no_leg, stretched_at};
use super::{HingeEnd, Spreading};
use crate::alteration::moves::{finite, follow, index_of};
use crate::alteration::{AlterationError, Carried};
use crate::edge::{Edge, EdgeRef, OutlinePoint};
use crate::geometry::crossing::crossings;
use crate::geometry::curve::Line;
use crate::geometry::parallel::{right_of, straight};
use crate::piece::Piece;
use crate::tolerance::JOINING;
use crate::units::Mm;

/// Widest angle that one slash opens, as a share of twice its length: 60 degrees.
const WIDEST: f64 = 0.5;

/// A line across a piece, from edge to edge.
pub(in crate::alteration) struct Slash<'a> {
    piece: &'a Piece,
    /// Edge and fraction where it starts, and where it ends.
    pub ends: [(usize, f64); 2],
    pub from: Point,
    pub to: Point,
}

impl<'a> Slash<'a> {
    /// Checks that the line runs over the cloth of the piece.
    pub fn new(
        piece: &'a Piece,
        from: &OutlinePoint,
        to: &OutlinePoint,
    ) -> Result<Self, AlterationError> {
        let end = |at: &OutlinePoint| {
            let index = index_of(piece, &at.edge)?;
            let fraction = finite(at.fraction)?.clamp(0.0, 1.0);
            if (NEAR..=1.0 - NEAR).contains(&fraction) {
                no_leg(piece, &at.edge)?;
            }
            let point = edge_at(piece, index, &at.edge)?.line.at(fraction);
            Ok::<_, AlterationError>(((index, fraction), point))
        };
        let ((first, from_at), (last, to_at)) = (end(from)?, end(to)?);
        let slash = Self {
            piece,
            ends: [first, last],
            from: from_at,
            to: to_at,
        };
        if slash.length() <= JOINING.0 {
            return Err(AlterationError::Refused(format!(
                "the line would be {:.2} mm long; lay it across the piece, from one edge to another",
                slash.length()
            )));
        }
        slash.on_cloth()?;
        Ok(slash)
    }

    pub fn length(&self) -> f64 {
        (self.to - self.from).hypot()
    }

    pub fn along(&self) -> Vec2 {
        (self.to - self.from) / self.length()
    }

    /// Is a point on the right of the line?
    pub fn is_right(&self, p: Point) -> bool {
        self.along().cross(p - self.from) < 0.0
    }

    /// Refuses a line that leaves the piece between its ends.
    fn on_cloth(&self) -> Result<(), AlterationError> {
        let line = [straight(self.from, self.to)];
        for edge in self.piece.outline.edges() {
            let cubics: Vec<_> = edge.line.cubics().collect();
            for crossing in crossings(&line, &cubics) {
                let along = crossing.first.t * self.length();
                if along > JOINING.0 && self.length() - along > JOINING.0 {
                    return Err(AlterationError::Refused(format!(
                        "the line runs over {} after {along:.1} mm; lay it so that it stays on the cloth of the piece",
                        edge.name
                    )));
                }
            }
        }
        Ok(())
    }

    /// Does the fold lie on the right (`Some(true)`), on the left, or on neither side of the line?
    fn fold_side(&self) -> Option<bool> {
        let middle = self.piece.fold_edge().map(|edge| edge.line.at(0.5))?;
        Some(self.is_right(middle))
    }

    fn crosses_fold(&self) -> Option<&Edge> {
        let edges = self.piece.outline.edges();
        let on = |(index, fraction): &(usize, f64)| {
            let edge = edges.get(*index)?;
            let inside = (NEAR..=1.0 - NEAR).contains(fraction);
            (edge.is_fold() && inside).then_some(edge)
        };
        self.ends.iter().find_map(on)
    }

    /// Square to the line, to its right; along the fold where the line crosses it.
    fn away(&self) -> Result<Vec2, AlterationError> {
        let square = right_of(self.along());
        let Some(fold) = self.crosses_fold() else {
            return Ok(square);
        };
        let fold = fold.line.direction(0.5);
        let along = fold.dot(square);
        if along.abs() < 0.5 {
            return Err(AlterationError::Refused(format!(
                "the line meets the fold at {:.0} degrees; lay it more square to the fold",
                libm::asin(along.abs().min(1.0)).to_degrees()
            )));
        }
        Ok(fold * along.signum())
    }
}

/// Lengthens the piece at a line: what lies right of it moves away, edges that cross it stretch evenly.
pub(super) fn lengthen(
    piece: &Piece,
    from: &OutlinePoint,
    to: &OutlinePoint,
    by: Mm,
) -> Result<Reshaped, AlterationError> {
    let by = finite(by.0)?;
    let slash = Slash::new(piece, from, to)?;
    let away = slash.away()? * by;
    if from.edge == to.edge {
        let parted = Parted::new(&slash, [Affine::IDENTITY, Affine::translate(away)], by);
        return parted.reshaped();
    }
    let edges = piece.outline.edges();
    let count = edges.len();
    let [(first, _), (last, _)] = slash.ends;
    // the corners right of the line: after the edge where it starts, up to the edge where it ends
    let moving = (last + count - first) % count;
    let shift = |corner: usize| {
        let steps = (corner + count - first) % count;
        if (1..=moving).contains(&steps) {
            away
        } else {
            Vec2::ZERO
        }
    };
    let mut carried = Carried::default();
    let mut lengthened = Vec::new();
    for (i, edge) in edges.iter().enumerate() {
        let line = follow(&edge.line, shift(i), shift(i + 1));
        for (_, fraction) in slash.ends.iter().filter(|(index, _)| *index == i) {
            let own = EdgeRef::new(&piece.name, &edge.name);
            let bits = stretched_at(own.clone(), *fraction, edge.line.length(), line.length());
            if shift(i) != shift(i + 1) {
                carried = carried.with_edge(own, bits);
            }
        }
        lengthened.push(Edge {
            line,
            ..edge.clone()
        });
    }
    let mut reshaped = Reshaped::with_edges(piece, lengthened, carried)?;
    let moves = |p: Point| {
        if slash.is_right(p) {
            Affine::translate(away)
        } else {
            Affine::IDENTITY
        }
    };
    move_marks(&mut reshaped.piece, moves);
    Ok(reshaped)
}

/// Marks and grainline move with the part their middle lies on.
pub(in crate::alteration) fn move_marks(piece: &mut Piece, moves: impl Fn(Point) -> Affine) {
    for mark in &mut piece.marks {
        let with = moves(mark.kind.middle());
        mark.kind = mark.kind.mapped(|p| with * p);
    }
    if let Some((a, b)) = piece.grainline {
        let with = moves(a.midpoint(b));
        piece.grainline = Some((with * a, with * b));
    }
}

/// Slashes the piece and spreads it; below 0 the parts are lapped. The part with the fold, else the larger, stays.
pub(super) fn spread(
    piece: &Piece,
    from: &OutlinePoint,
    to: &OutlinePoint,
    by: Mm,
    how: Spreading,
) -> Result<Reshaped, AlterationError> {
    let by = finite(by.0)?;
    let slash = Slash::new(piece, from, to)?;
    let (left, right) = match how {
        Spreading::Even => {
            let away = slash.away()? * by;
            (Affine::translate(-away), Affine::translate(away))
        }
        Spreading::Hinged(end) => {
            let reach = slash.length();
            let share = by / (2.0 * reach);
            if share.abs() > WIDEST {
                return Err(AlterationError::Refused(format!(
                    "a slash of {reach:.1} mm opens by {:.1} mm at most; slash at several places for more",
                    2.0 * reach * WIDEST
                )));
            }
            let angle = 2.0 * libm::asin(share);
            let (angle, hinge) = match end {
                HingeEnd::To => (angle, slash.to),
                HingeEnd::From => (-angle, slash.from),
            };
            (turned(-angle, hinge), turned(angle, hinge))
        }
    };
    let parted = if right_stays(&slash) {
        Parted::new(&slash, [left, Affine::IDENTITY], by)
    } else {
        Parted::new(&slash, [Affine::IDENTITY, right], by)
    };
    parted.reshaped()
}

/// A turn about a point, counter-clockwise, the same on every machine.
pub(in crate::alteration) fn turned(angle: f64, about: Point) -> Affine {
    let (sin, cos) = (libm::sin(angle), libm::cos(angle));
    Affine::translate(about.to_vec2())
        * Affine::new([cos, sin, -sin, cos, 0.0, 0.0])
        * Affine::translate(-about.to_vec2())
}

/// Which part stays: the one with the fold; else the one with the grainline; else the larger.
fn right_stays(slash: &Slash<'_>) -> bool {
    if let Some(side) = slash.fold_side() {
        return side;
    }
    if let Some((a, b)) = slash.piece.grainline {
        return slash.is_right(a.midpoint(b));
    }
    let mut path = kurbo::BezPath::new();
    path.move_to(slash.from);
    for line in arc(slash.piece, slash.ends) {
        for c in line.cubics() {
            path.curve_to(c.p1, c.p2, c.p3);
        }
    }
    path.close_path();
    kurbo::Shape::area(&path).abs() > slash.piece.outline.area() / 2.0
}

/// The lines from one place of the outline to another, counter-clockwise.
pub(in crate::alteration) fn arc(piece: &Piece, [first, last]: [(usize, f64); 2]) -> Vec<Line> {
    let edges = piece.outline.edges();
    let line = |index: usize, from: f64, to: f64| {
        let edge = edges.get(index)?;
        (to - from > NEAR)
            .then(|| edge.line.between(from, to))
            .flatten()
    };
    if first.0 == last.0 && first.1 <= last.1 {
        return line(first.0, first.1, last.1).into_iter().collect();
    }
    let mut lines: Vec<Line> = line(first.0, first.1, 1.0).into_iter().collect();
    let mut at = (first.0 + 1) % edges.len();
    while at != last.0 {
        lines.extend(line(at, 0.0, 1.0));
        at = (at + 1) % edges.len();
    }
    lines.extend(line(last.0, 0.0, last.1));
    lines
}

/// A piece in two parts that have moved apart.
struct Parted<'a> {
    slash: &'a Slash<'a>,
    /// How the left and the right part move.
    parts: [Affine; 2],
    by: f64,
}

impl<'a> Parted<'a> {
    fn new(slash: &'a Slash<'a>, parts: [Affine; 2], by: f64) -> Self {
        Self { slash, parts, by }
    }

    fn reshaped(&self) -> Result<Reshaped, AlterationError> {
        let piece = self.slash.piece;
        let mut carried = Carried::default();
        let mut edges = Vec::new();
        for (i, edge) in piece.outline.edges().iter().enumerate() {
            let line = self.line(i, edge)?;
            for (_, fraction) in self.slash.ends.iter().filter(|(index, _)| *index == i) {
                let own = EdgeRef::new(&piece.name, &edge.name);
                let (old, new) = (edge.line.length(), line.length());
                if (old - new).abs() > NEAR && self.ends_on(i) == 1 {
                    carried =
                        carried.with_edge(own.clone(), stretched_at(own, *fraction, old, new));
                }
            }
            edges.push(Edge {
                line,
                ..edge.clone()
            });
        }
        let mut reshaped = Reshaped::with_edges(piece, edges, carried)?;
        move_marks(&mut reshaped.piece, |p| self.part(self.slash.is_right(p)));
        Ok(reshaped)
    }

    fn part(&self, right: bool) -> Affine {
        let [left_part, right_part] = self.parts;
        if right { right_part } else { left_part }
    }

    fn ends_on(&self, index: usize) -> usize {
        self.slash.ends.iter().filter(|(i, _)| *i == index).count()
    }

    /// The new line of an edge: its parts moved, joined over the gaps. Where the slash ends at a corner, the new cloth
    /// belongs to the edge it was said of.
    fn line(&self, index: usize, edge: &Edge) -> Result<Line, AlterationError> {
        let ends = self.slash.ends.iter().filter(|(i, _)| *i == index);
        let mut bounds: Vec<f64> = ends.map(|(_, fraction)| *fraction).collect();
        let at_corner =
            |bounds: &[f64], corner: f64| bounds.iter().any(|bound| (bound - corner).abs() <= NEAR);
        let (at_start, at_end) = (at_corner(&bounds, 0.0), at_corner(&bounds, 1.0));
        bounds.retain(|bound| (NEAR..=1.0 - NEAR).contains(bound));
        bounds.extend([0.0, 1.0]);
        bounds.sort_by(f64::total_cmp);
        let mut line: Option<Line> = None;
        for pair in bounds.windows(2) {
            let [from, to] = pair else { continue };
            let with = self.part(self.is_right(index, (from + to) / 2.0));
            let part = edge.line.between(*from, *to);
            let part = part.ok_or(AlterationError::NotFinite)?.mapped(|p| with * p);
            line = Some(match line {
                None => part,
                Some(before) => self.over_gap(&before, &part, edge)?,
            });
        }
        let mut line = line.ok_or(AlterationError::NotFinite)?;
        if at_start {
            let other = self.part(!self.is_right(index, NEAR)) * edge.line.start();
            line = self.to_corner(&line.reversed(), other, edge)?.reversed();
        }
        if at_end {
            let other = self.part(!self.is_right(index, 1.0 - NEAR)) * edge.line.end();
            line = self.to_corner(&line, other, edge)?;
        }
        Ok(line)
    }

    /// Does a place of the outline lie right of the slash?
    fn is_right(&self, index: usize, fraction: f64) -> bool {
        let count = self.slash.piece.outline.edges().len() as f64;
        let [first, last] = self.slash.ends.map(|(i, f)| i as f64 + f);
        let round = |to: f64| (to - first).rem_euclid(count);
        round(index as f64 + fraction) < round(last)
    }

    /// Two parts of an edge that have moved apart, or over each other, as one line.
    fn over_gap(&self, before: &Line, after: &Line, edge: &Edge) -> Result<Line, AlterationError> {
        let gap = (after.start() - before.end()).hypot();
        if gap <= JOINING.0 || self.by > 0.0 {
            return through(&[before, after]);
        }
        let (before, after) = match crossed(before, after) {
            Some(cut) => cut,
            None => {
                let cut = |line: &Line| gap / 2.0 / line.length();
                let first = before.between(0.0, 1.0 - cut(before));
                let second = after.between(cut(after), 1.0);
                let enough = cut(before) < 1.0 && cut(after) < 1.0;
                let parts = first.zip(second).filter(|_| enough);
                parts.ok_or_else(|| self.too_short(edge))?
            }
        };
        through(&[&before, &after])
    }

    /// A line run on, or cut back, to where its neighbour ends now.
    fn to_corner(&self, line: &Line, corner: Point, edge: &Edge) -> Result<Line, AlterationError> {
        let gap = (corner - line.end()).hypot();
        if gap <= JOINING.0 * 1e-3 {
            return Ok(line.clone());
        }
        let end = Line::straight(line.end(), corner);
        if self.by > 0.0 {
            return through(&[line, &end]);
        }
        let share = 1.0 - gap / line.length();
        let cut = line.between(0.0, share).filter(|_| share > 0.0);
        let cut = cut.ok_or_else(|| self.too_short(edge))?;
        if (cut.end() - corner).hypot() <= JOINING.0 {
            let mut points = cut.points().to_vec();
            if let Some(last) = points.last_mut() {
                *last = corner;
            }
            return Line::new(points).map_err(|_| AlterationError::NotFinite);
        }
        through(&[&cut, &Line::straight(cut.end(), corner)])
    }

    fn too_short(&self, edge: &Edge) -> AlterationError {
        AlterationError::Refused(format!(
            "{} is too short to be lapped by {:.1} mm here; lap less, or lay the line elsewhere",
            edge.name,
            self.by.abs()
        ))
    }
}

/// Lines one after the other, straight over what lies between.
fn through(lines: &[&Line]) -> Result<Line, AlterationError> {
    let mut whole: Option<Line> = None;
    for line in lines {
        whole = match whole {
            None => Some((*line).clone()),
            Some(before) => {
                let gap = (line.start() - before.end()).hypot();
                let over = if gap <= JOINING.0 {
                    Some(before)
                } else {
                    one_line(&before, &Line::straight(before.end(), line.start()))
                };
                over.and_then(|over| one_line(&over, line))
            }
        };
    }
    whole.ok_or(AlterationError::NotFinite)
}

/// Two lines cut off where the first ends over the second.
fn crossed(before: &Line, after: &Line) -> Option<(Line, Line)> {
    let (a, b): (Vec<_>, Vec<_>) = (before.cubics().collect(), after.cubics().collect());
    let meeting = crossings(&a, &b);
    let last = meeting.into_iter().max_by(|x, y| {
        x.first
            .partial_cmp(&y.first)
            .unwrap_or(std::cmp::Ordering::Equal)
    })?;
    let first = kept_cubics(&a, last.first, true)?;
    let second = kept_cubics(&b, last.second, false)?;
    Some((first, second))
}

fn kept_cubics(
    cubics: &[kurbo::CubicBez],
    spot: crate::geometry::parallel::Spot,
    before: bool,
) -> Option<Line> {
    let kept = if before {
        crate::geometry::parallel::up_to(cubics, spot)
    } else {
        crate::geometry::parallel::from_spot(cubics, spot)
    };
    Line::from_cubics(&kept)
}
