//! Files of ASTM D6673: what lies on a numbered layer, and smooth lines through the points of curves.

use std::collections::BTreeMap;

use petitoile_core::geometry::spline::through;
use petitoile_core::kurbo::{BezPath, PathEl, Point, Vec2};

use crate::bring_in::{FoundSheet, Meaning};
use crate::dxf::layers;

/// A marked point belongs to a corner this near, mm.
const NEAR: f64 = 0.01;

/// Does a drawing look like one of the practice? Its pieces are blocks with an outline on layer 1, and layers are numbers.
pub(super) fn is_of_practice(sheet: &FoundSheet) -> bool {
    let in_blocks = || sheet.lines.iter().filter(|line| !line.groups.is_empty());
    let numbered = in_blocks()
        .filter(|line| layers::number(&line.layer).is_some())
        .count();
    let outlines = in_blocks()
        .filter(|line| layers::number(&line.layer) == Some(layers::OUTLINE))
        .count();
    0 < outlines && in_blocks().count() <= numbered + numbered / 4
}

/// Says what everything is, and makes smooth lines of marked ones.
pub(super) fn tell(sheet: &mut FoundSheet) {
    for line in &mut sheet.lines {
        let meaning = layers::number(&line.layer).and_then(layers::of_line);
        line.meaning = line.meaning.or(meaning);
    }
    for point in &mut sheet.points {
        point.meaning = layers::number(&point.layer).and_then(layers::of_point);
    }
    for text in &mut sheet.texts {
        let meaning = layers::number(&text.layer).map(layers::of_text);
        text.meaning = text.meaning.or(meaning);
    }
    name_blocks(sheet);
    let marks = Marks::of(sheet);
    for line in &mut sheet.lines {
        let is_marked = matches!(
            line.meaning,
            Some(Meaning::CutLine | Meaning::StitchLine | Meaning::Inside | Meaning::CutOut)
        );
        if let Some(smooth) = is_marked
            .then(|| marks.smooth(&line.path, &line.groups))
            .flatten()
        {
            line.path = smooth;
        }
    }
}

/// What stands before the name of a piece (from memory of the practice).
const PIECE_NAME: &str = "PIECE NAME:";

/// A block carries the name that its own text gives to the piece: names of blocks are short and in capitals.
fn name_blocks(sheet: &mut FoundSheet) {
    let mut names: BTreeMap<Vec<String>, String> = BTreeMap::new();
    for text in sheet.texts.iter().filter(|text| !text.groups.is_empty()) {
        let start = text.words.get(..PIECE_NAME.len()).unwrap_or_default();
        let name = text
            .words
            .get(PIECE_NAME.len()..)
            .unwrap_or_default()
            .trim();
        if start.eq_ignore_ascii_case(PIECE_NAME) && !name.is_empty() {
            names
                .entry(text.groups.clone())
                .or_insert_with(|| name.to_owned());
        }
    }
    let rename = |groups: &mut Vec<String>| {
        if let (Some(name), Some(last)) = (names.get(groups).cloned(), groups.last_mut()) {
            *last = name;
        }
    };
    sheet
        .lines
        .iter_mut()
        .for_each(|line| rename(&mut line.groups));
    sheet
        .texts
        .iter_mut()
        .for_each(|text| rename(&mut text.groups));
    sheet
        .points
        .iter_mut()
        .for_each(|point| rename(&mut point.groups));
}

/// Where the points of curves and the corners lie, by piece and by place.
struct Marks {
    pieces: BTreeMap<Vec<String>, usize>,
    cells: BTreeMap<(usize, i64, i64), Vec<(Point, Meaning)>>,
}

impl Marks {
    fn of(sheet: &FoundSheet) -> Self {
        let mut marks = Self {
            pieces: BTreeMap::new(),
            cells: BTreeMap::new(),
        };
        for point in &sheet.points {
            if let Some(meaning @ (Meaning::Corner | Meaning::OnCurve)) = point.meaning {
                let next = marks.pieces.len();
                let piece = *marks.pieces.entry(point.groups.clone()).or_insert(next);
                let (x, y) = cell(point.at);
                let here = marks.cells.entry((piece, x, y)).or_default();
                if here.len() < 8 {
                    here.push((point.at, meaning));
                }
            }
        }
        marks
    }

    /// Is there a point of a curve here, and no corner?
    fn is_on_curve(&self, piece: usize, at: Point) -> bool {
        let (x, y) = cell(at);
        let around = (x - 1..=x + 1).flat_map(|x| (y - 1..=y + 1).map(move |y| (piece, x, y)));
        let mut on_curve = false;
        for (mark, meaning) in around
            .filter_map(|key| self.cells.get(&key))
            .flatten()
            .filter(|(mark, _)| mark.distance(at) <= NEAR)
        {
            let _ = mark;
            if *meaning == Meaning::Corner {
                return false;
            }
            on_curve = true;
        }
        on_curve
    }

    /// The smooth line of a polyline with marked points; `None` when it has none.
    fn smooth(&self, path: &BezPath, groups: &[String]) -> Option<BezPath> {
        let piece = *self.pieces.get(groups)?;
        let mut points = Vec::new();
        let mut is_closed = false;
        for element in path.elements() {
            match *element {
                PathEl::MoveTo(p) | PathEl::LineTo(p) => points.push(p),
                PathEl::ClosePath => is_closed = true,
                PathEl::QuadTo(..) | PathEl::CurveTo(..) => return None, // it has curves of its own
            }
        }
        points.dedup();
        if points.len() > 2 && points.first() == points.last() {
            points.pop();
            is_closed = true;
        }
        let curved: Vec<bool> = points
            .iter()
            .map(|at| self.is_on_curve(piece, *at))
            .collect();
        if points.len() < 3 || !curved.contains(&true) {
            return None;
        }
        let corner = curved.iter().position(|on_curve| !on_curve);
        let mut around = points;
        let mut is_curved = curved;
        if is_closed {
            let start = corner.unwrap_or(0);
            around.rotate_left(start);
            is_curved.rotate_left(start);
            around.extend(around.first().copied());
            is_curved.push(false);
        }
        if let Some(first) = is_curved.first_mut() {
            *first = false;
        }
        if let Some(last) = is_curved.last_mut() {
            *last = false;
        }
        let seam = (is_closed && corner.is_none()).then(|| {
            let ends = (around.get(1), around.get(around.len().saturating_sub(2)));
            match ends {
                (Some(next), Some(before)) => {
                    bent(*before, around.first().copied().unwrap_or_default(), *next)
                }
                _ => Vec2::ZERO,
            }
        });
        let mut out = stretches(&around, &is_curved, seam)?;
        if is_closed {
            out.close_path();
        }
        Some(out)
    }
}

fn cell(at: Point) -> (i64, i64) {
    ((at.x / NEAR).floor() as i64, (at.y / NEAR).floor() as i64)
}

/// A line through points, smooth at those of curves. `seam` is the direction at either end of a ring without corners.
fn stretches(points: &[Point], is_curved: &[bool], seam: Option<Vec2>) -> Option<BezPath> {
    let mut path = BezPath::new();
    path.move_to(*points.first()?);
    let mut from = 0;
    for (at, on_curve) in is_curved.iter().enumerate().skip(1) {
        if *on_curve {
            continue;
        }
        let run = points.get(from..=at)?;
        match run {
            [_, end] => path.line_to(*end),
            [a, b, .., y, z] | [a, b @ y, z] => {
                let third = run.get(2)?;
                let last_but_two = run.get(run.len() - 3)?;
                let start = seam.unwrap_or_else(|| {
                    2.0 * (*b - *a) / (*b - *a).hypot() - unit(bent(*a, *b, *third))
                });
                let end = seam.unwrap_or_else(|| {
                    2.0 * (*z - *y) / (*z - *y).hypot() - unit(bent(*last_but_two, *y, *z))
                });
                let curve = through(run, sound(start), sound(end))?;
                for c in curve.cubics() {
                    path.curve_to(c.p1, c.p2, c.p3);
                }
            }
            _ => {}
        }
        from = at;
    }
    Some(path)
}

/// Direction at the middle of three points of a curve: that of the parabola through them.
fn bent(before: Point, here: Point, after: Point) -> Vec2 {
    let (back, on) = (here - before, after - here);
    let (a, b) = (back.hypot(), on.hypot());
    if a <= 0.0 || b <= 0.0 {
        return on;
    }
    back / a * b + on / b * a
}

fn unit(v: Vec2) -> Vec2 {
    if 0.0 < v.hypot() { v / v.hypot() } else { v }
}

fn sound(direction: Vec2) -> Option<Vec2> {
    (direction.is_finite() && 0.0 < direction.hypot()).then_some(direction)
}
