//! How a path is painted, what it is made of, and whether anything of it can be seen.

use hayro_interpret::{DrawMode, Paint, StrokeProps};
use petitoile_core::kurbo::{
    Affine, BezPath, ParamCurve, PathEl, PathSeg, Point, Rect, Shape, flatten,
};

/// Width of a line that a PDF asks to be drawn as thin as can be, mm.
const HAIRLINE: f64 = 0.05;

/// Farthest place that is believed, mm. Our own limit, no source.
pub(super) const FARTHEST: f64 = 1e6;

/// How a path is painted.
pub(super) struct Look {
    pub filled: bool,
    pub unseen: bool,
    pub colour: [u8; 3],
    pub width: f64,
    pub dash: Vec<f64>,
}

impl Look {
    pub fn of(paint: &Paint<'_>, mode: &DrawMode, transform: Affine) -> Self {
        let (colour, unseen) = match paint {
            Paint::Color(colour) => {
                let [red, green, blue, seen] = colour.to_rgba().to_rgba8();
                ([red, green, blue], seen == 0)
            }
            Paint::Pattern(_) => ([128; 3], false),
        };
        let scale = transform.determinant().abs().sqrt();
        let (width, dash) = match mode {
            DrawMode::Stroke(stroke) | DrawMode::FillAndStroke(_, stroke) => {
                let width = f64::from(stroke.line_width) * scale;
                let width = if width.is_finite() {
                    width.clamp(HAIRLINE, 1e4)
                } else {
                    HAIRLINE
                };
                (width, dashes(stroke, scale))
            }
            DrawMode::Fill(_) | DrawMode::Invisible => (0.0, Vec::new()),
        };
        Self {
            filled: matches!(mode, DrawMode::Fill(_) | DrawMode::FillAndStroke(..)),
            unseen: unseen || matches!(mode, DrawMode::Invisible),
            colour,
            width,
            dash,
        }
    }
}

/// Dash and gap in turn, mm; an odd list is gone through twice (ISO 32000-1, 8.4.3.6). Empty when nothing is left out.
fn dashes(stroke: &StrokeProps, scale: f64) -> Vec<f64> {
    /// What the reading crate puts for nought.
    const NOUGHT: f32 = 0.011;
    const MOST: usize = 32;
    let array = &stroke.dash_array;
    if array.is_empty() || array.len() > MOST || array.iter().all(|part| *part <= NOUGHT) {
        return Vec::new();
    }
    let times = 1 + array.len() % 2;
    let parts = array.iter().cycle().take(array.len() * times);
    let gaps = parts.clone().skip(1).step_by(2);
    if gaps.into_iter().all(|gap| *gap <= NOUGHT) {
        return Vec::new();
    }
    parts.map(|part| f64::from(*part) * scale).collect()
}

/// The sub-paths of a path, and whether each is closed. A filling closes every one.
pub(super) fn sub_paths(path: &BezPath, filled: bool) -> Vec<(BezPath, bool)> {
    let mut all = Vec::new();
    let (mut open, mut start) = (BezPath::new(), Point::ZERO);
    let mut finish = |mut path: BezPath, close: bool| {
        if path.elements().len() > 1 {
            if close {
                path.close_path();
            }
            all.push((path, close));
        }
    };
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(to) => {
                finish(std::mem::take(&mut open), filled);
                start = to;
                open.move_to(to);
            }
            PathEl::ClosePath => finish(std::mem::take(&mut open), true),
            other => {
                // What goes on without a move starts where the closed one did.
                if open.elements().is_empty() {
                    open.move_to(start);
                }
                open.push(other);
            }
        }
    }
    finish(open, filled);
    all
}

/// Every place that a path names, in turn.
pub(super) fn points(path: &BezPath) -> impl Iterator<Item = Point> + '_ {
    path.elements()
        .iter()
        .filter_map(|element| element.end_point())
}

pub(super) fn is_somewhere(path: &BezPath) -> bool {
    let near = |p: &Point| p.is_finite() && p.x.abs() < FARTHEST && p.y.abs() < FARTHEST;
    path.elements().iter().all(|element| match element {
        PathEl::MoveTo(p) | PathEl::LineTo(p) => near(p),
        PathEl::QuadTo(a, p) => near(a) && near(p),
        PathEl::CurveTo(a, b, p) => near(a) && near(b) && near(p),
        PathEl::ClosePath => true,
    })
}

/// Does anything of a line lie in a window?
pub(super) fn touches(path: &BezPath, look: &Look, window: Rect) -> bool {
    let window = window.inflate(look.width / 2.0, look.width / 2.0);
    let all = path.control_box();
    let inside = |inner: Rect| {
        window.x0 <= inner.x0
            && window.y0 <= inner.y0
            && inner.x1 <= window.x1
            && inner.y1 <= window.y1
    };
    let apart = |other: Rect| {
        other.x1 < window.x0 || window.x1 < other.x0 || other.y1 < window.y0 || window.y1 < other.y0
    };
    if inside(all) {
        return true;
    }
    if apart(all) {
        return false;
    }
    let crossed = path.segments().any(|segment| {
        let around = around(&segment);
        !apart(around) && (inside(around) || crosses(&segment, window))
    });
    crossed || (look.filled && path.contains(window.center()))
}

fn around(segment: &PathSeg) -> Rect {
    match segment {
        PathSeg::Line(line) => Rect::from_points(line.p0, line.p1),
        PathSeg::Quad(quad) => Rect::from_points(quad.p0, quad.p2).union_pt(quad.p1),
        PathSeg::Cubic(cubic) => Rect::from_points(cubic.p0, cubic.p3)
            .union_pt(cubic.p1)
            .union_pt(cubic.p2),
    }
}

/// Does a segment, looked at as chords, enter a window?
fn crosses(segment: &PathSeg, window: Rect) -> bool {
    let mut last = None;
    let mut found = false;
    let path = [PathEl::MoveTo(segment.start()), segment.as_path_el()];
    flatten(path, 0.05, |element| {
        if let PathEl::MoveTo(p) | PathEl::LineTo(p) = element {
            if let Some(from) = last {
                found = found || chord_enters(from, p, window);
            }
            last = Some(p);
        }
    });
    found
}

/// Clips a chord against the four sides in turn.
fn chord_enters(a: Point, b: Point, window: Rect) -> bool {
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    let step = b - a;
    for (start, step, least, most) in [
        (a.x, step.x, window.x0, window.x1),
        (a.y, step.y, window.y0, window.y1),
    ] {
        if step == 0.0 {
            if start < least || most < start {
                return false;
            }
            continue;
        }
        let (s, t) = ((least - start) / step, (most - start) / step);
        enter = enter.max(s.min(t));
        leave = leave.min(s.max(t));
    }
    enter <= leave
}
