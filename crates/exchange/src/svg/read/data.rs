//! The figures of a shape, before usvg sees them.
//!
//! Arcs and circles become cubics here: usvg takes arcs within 0.1 unit, whatever a unit is, and an arc with a radius of 1e39
//! keeps it busy for hours.

use std::fmt::Write;
use std::str::FromStr;

use petitoile_core::kurbo::{Affine, Arc, Point, SvgArc, Vec2};
use roxmltree::Node;
use svgtypes::{Length, PathParser, PathSegment, PointsParser};

use crate::bring_in;

/// A figure beyond this is none.
const BEYOND: f64 = 1e9;

/// The figures of a shape.
#[derive(Debug, Default)]
pub(super) struct Data {
    /// The same shape as path data without arcs; `None` when usvg is to make it of its attributes.
    pub path: Option<String>,
    /// Its corners.
    pub corners: u64,
    /// Do its data break off?
    pub is_broken: bool,
    /// Is a figure beyond all measure?
    pub is_beyond: bool,
    /// Is it longer than it may be?
    pub is_over: bool,
}

/// The figures of a shape. Path data are followed to so many letters and corners; longer ones are over.
pub(super) fn of(node: Node<'_, '_>, letters: u64, corners: u64) -> Data {
    let mut data = Data {
        corners: 1,
        ..Data::default()
    };
    for name in [
        "x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r", "rx", "ry", "width", "height",
    ] {
        let figure = node
            .attribute(name)
            .and_then(|words| Length::from_str(words).ok());
        data.is_beyond |= figure.is_some_and(|length| !is_sound(length.number));
    }
    match node.tag_name().name() {
        "path" => data.follow(node.attribute("d").unwrap_or_default(), letters, corners),
        "circle" => data.round(node, "r", "r"),
        "ellipse" => data.round(node, "rx", "ry"),
        _ => {
            for (x, y) in PointsParser::from(node.attribute("points").unwrap_or_default()) {
                data.corners += 1;
                data.is_beyond |= !is_sound(x) || !is_sound(y);
            }
        }
    }
    data
}

fn is_sound(figure: f64) -> bool {
    figure.abs() <= BEYOND // false for what is no figure
}

impl Data {
    /// A whole ellipse, when its figures carry no units.
    fn round(&mut self, node: Node<'_, '_>, rx: &str, ry: &str) {
        let figure = |name: &str, otherwise: Option<f64>| match node.attribute(name) {
            Some(words) => words.trim().parse::<f64>().ok(),
            None => otherwise,
        };
        let place = figure("cx", Some(0.0)).zip(figure("cy", Some(0.0)));
        let radii = figure(rx, None).zip(figure(ry, None));
        let (Some((x, y)), Some((rx, ry))) = (place, radii) else {
            self.corners += 8;
            return;
        };
        if self.is_beyond || rx <= 0.0 || ry <= 0.0 {
            return;
        }
        let arc = Arc::new(
            Point::new(x, y),
            Vec2::new(rx, ry),
            0.0,
            std::f64::consts::TAU,
            0.0,
        );
        let mut pen = Pen::default();
        pen.put('M', &[Point::new(x + rx, y)]);
        pen.arc(&arc);
        pen.put('Z', &[]);
        self.corners += pen.corners;
        self.path = Some(pen.out);
    }

    /// Path data, made absolute.
    fn follow(&mut self, words: &str, letters: u64, corners: u64) {
        let mut pen = Pen::default();
        for segment in PathParser::from(words) {
            match segment {
                Ok(segment) => pen.follow(segment),
                Err(_) => {
                    self.is_broken = true;
                    break;
                }
            }
            if !pen.is_sound() {
                self.is_beyond = true;
                break;
            }
            if letters < pen.out.len() as u64 || corners < pen.corners {
                self.is_over = true;
                return;
            }
        }
        self.corners += pen.corners;
        self.path = Some(pen.out);
    }
}

/// Follows path data and writes them anew.
#[derive(Default)]
struct Pen {
    out: String,
    corners: u64,
    start: Point,
    at: Point,
    /// Second handle of a cubic, if that was the last thing drawn.
    cubic: Option<Point>,
    /// Handle of a quadratic, if that was the last thing drawn.
    quadratic: Option<Point>,
    farthest: f64,
}

impl Pen {
    fn is_sound(&self) -> bool {
        is_sound(self.farthest)
    }

    fn put(&mut self, letter: char, points: &[Point]) {
        self.out.push(letter);
        self.corners += 1;
        for point in points {
            for figure in [point.x, point.y] {
                let size = if figure.is_nan() {
                    f64::INFINITY
                } else {
                    figure.abs()
                };
                self.farthest = self.farthest.max(size);
            }
            // usvg counts in f32.
            let _ = write!(self.out, " {:e} {:e}", point.x as f32, point.y as f32);
        }
        if let Some(last) = points.last() {
            self.at = *last;
        }
    }

    fn arc(&mut self, arc: &Arc) {
        let size = arc.radii.x.abs().max(arc.radii.y.abs());
        if !is_sound(size) {
            self.farthest = f64::INFINITY;
            return;
        }
        let to = Affine::translate(arc.center.to_vec2())
            * Affine::rotate(arc.x_rotation)
            * Affine::scale_non_uniform(arc.radii.x, arc.radii.y);
        for part in bring_in::arc(to, arc.start_angle, arc.sweep_angle) {
            self.put('C', &part);
        }
    }

    fn follow(&mut self, segment: PathSegment) {
        let at = self.at;
        let from = |abs: bool| if abs { Vec2::ZERO } else { at.to_vec2() };
        let point = |abs: bool, x: f64, y: f64| Point::new(x, y) + from(abs);
        let (cubic, quadratic) = (self.cubic.take(), self.quadratic.take());
        match segment {
            PathSegment::MoveTo { abs, x, y } => {
                self.start = point(abs, x, y);
                self.put('M', &[self.start]);
            }
            PathSegment::LineTo { abs, x, y } => self.put('L', &[point(abs, x, y)]),
            PathSegment::HorizontalLineTo { abs, x } => {
                self.put('L', &[Point::new(x + from(abs).x, at.y)]);
            }
            PathSegment::VerticalLineTo { abs, y } => {
                self.put('L', &[Point::new(at.x, y + from(abs).y)]);
            }
            PathSegment::CurveTo {
                abs,
                x1,
                y1,
                x2,
                y2,
                x,
                y,
            } => {
                let second = point(abs, x2, y2);
                self.put('C', &[point(abs, x1, y1), second, point(abs, x, y)]);
                self.cubic = Some(second);
            }
            PathSegment::SmoothCurveTo { abs, x2, y2, x, y } => {
                let first = cubic.map_or(at, |handle| at + (at - handle));
                let second = point(abs, x2, y2);
                self.put('C', &[first, second, point(abs, x, y)]);
                self.cubic = Some(second);
            }
            PathSegment::Quadratic { abs, x1, y1, x, y } => {
                let handle = point(abs, x1, y1);
                self.put('Q', &[handle, point(abs, x, y)]);
                self.quadratic = Some(handle);
            }
            PathSegment::SmoothQuadratic { abs, x, y } => {
                let handle = quadratic.map_or(at, |handle| at + (at - handle));
                self.put('Q', &[handle, point(abs, x, y)]);
                self.quadratic = Some(handle);
            }
            PathSegment::EllipticalArc {
                abs,
                rx,
                ry,
                x_axis_rotation,
                large_arc,
                sweep,
                x,
                y,
            } => self.svg_arc(&SvgArc {
                from: at,
                to: point(abs, x, y),
                radii: Vec2::new(rx, ry),
                x_rotation: x_axis_rotation.to_radians(),
                large_arc,
                sweep,
            }),
            PathSegment::ClosePath { .. } => {
                self.put('Z', &[]);
                self.at = self.start;
            }
        }
    }

    fn svg_arc(&mut self, arc: &SvgArc) {
        let ends = [arc.from.x, arc.from.y, arc.to.x, arc.to.y];
        let figures = [arc.radii.x, arc.radii.y, arc.x_rotation];
        if !ends.into_iter().chain(figures).all(is_sound) {
            self.farthest = f64::INFINITY;
            return;
        }
        match Arc::from_svg_arc(arc) {
            Some(round) => {
                self.arc(&round);
                // The last point exactly where the file says.
                self.at = arc.to;
            }
            None => self.put('L', &[arc.to]),
        }
    }
}
