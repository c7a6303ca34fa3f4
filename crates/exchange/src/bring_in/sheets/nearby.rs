//! A page slid to where its open ends lie on lines of its neighbours and go on there.

use petitoile_core::kurbo::{
    BezPath, ParamCurve, ParamCurveDeriv, ParamCurveNearest, PathSeg, Point, Rect, Vec2,
};

use super::cells::Cells;
use super::features::Fit;
use crate::bring_in::{FoundLine, FoundSheet};

/// Directions this alike are one: cosine of 10 degrees.
const SAME_WAY: f64 = 0.985;

/// How far ends may be off their lines for a slide to count, mm.
pub(super) const GOOD: f64 = 0.35;

/// An end may be this far from the edge of what a page shows and still be cut there, mm.
const AT_EDGE: f64 = 0.6;

/// Lines are looked for about this far from an end, mm.
const CELL: f64 = 6.0;

/// A page's open ends and what they may lie on, from the page's corner, mm.
#[derive(Clone)]
pub(super) struct Page {
    pub ends: Vec<End>,
    segments: Vec<(PathSeg, u64)>,
    cells: Cells<usize>,
}

/// An open end of a line.
#[derive(Debug, Clone, Copy)]
pub(super) struct End {
    pub at: Vec2,
    /// Away from its line, length 1.
    pub out: Vec2,
    /// What its line looks like.
    pub look: u64,
    /// Does it lie at the edge of what the page shows?
    pub is_at_edge: bool,
}

/// A figure that is the same for lines that look the same: layer, colour, width, dashed or not.
pub(super) fn look(line: &FoundLine) -> u64 {
    let mut sum = 0xcbf2_9ce4_8422_2325_u64; // FNV-1a
    let width = (line.width * 20.0).round() as u64;
    let bytes = line
        .layer
        .bytes()
        .chain(line.colour)
        .chain(width.to_le_bytes())
        .chain([u8::from(line.dash.is_empty()), u8::from(line.width == 0.0)]);
    for byte in bytes {
        sum = (sum ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
    }
    sum
}

/// The direction of a segment at a place, length 1; that of its chord where it stands still.
pub(super) fn way(segment: &PathSeg, t: f64) -> Vec2 {
    let d = match segment {
        PathSeg::Line(line) => line.p1 - line.p0,
        PathSeg::Quad(quad) => quad.deriv().eval(t).to_vec2(),
        PathSeg::Cubic(cubic) => cubic.deriv().eval(t).to_vec2(),
    };
    let d = if d.hypot() > 1e-9 {
        d
    } else {
        segment.end() - segment.start()
    };
    if d.hypot() > 1e-12 {
        d / d.hypot()
    } else {
        Vec2::ZERO
    }
}

/// Is a segment so short that it has no direction?
pub(super) fn is_point(segment: &PathSeg) -> bool {
    const SHORT: f64 = 1e-3;
    match segment {
        PathSeg::Line(line) => line.p0.distance(line.p1) < SHORT,
        PathSeg::Quad(quad) => {
            quad.p0.distance(quad.p1) < SHORT && quad.p0.distance(quad.p2) < SHORT
        }
        PathSeg::Cubic(cubic) => [cubic.p1, cubic.p2, cubic.p3]
            .iter()
            .all(|p| cubic.p0.distance(*p) < SHORT),
    }
}

/// The open ends of a path, with the direction away from it.
pub(super) fn open_ends(path: &BezPath) -> Option<[(Point, Vec2); 2]> {
    let mut segments = path.segments().filter(|segment| !is_point(segment));
    let first = segments.next()?;
    let last = segments.last().unwrap_or(first);
    let (start, end) = (first.start(), last.end());
    (start.distance(end) > 1e-6).then(|| [(start, -way(&first, 0.0)), (end, way(&last, 1.0))])
}

impl Page {
    pub fn of(sheet: &FoundSheet) -> Self {
        let corner = sheet.bounds.origin().to_vec2();
        let shown = sheet
            .lines
            .iter()
            .map(|line| line.path.control_box())
            .reduce(|a, b| a.union(b))
            .unwrap_or(sheet.bounds)
            .intersect(sheet.bounds);
        let mut page = Self {
            ends: Vec::new(),
            segments: Vec::new(),
            cells: Cells::new(CELL.max(sheet.bounds.width().max(sheet.bounds.height()) / 500.0)),
        };
        let window = (sheet.bounds - corner).inflate(20.0, 20.0);
        for line in &sheet.lines {
            let look = look(line);
            if !line.closed
                && let Some(ends) = open_ends(&line.path)
            {
                page.ends.extend(ends.map(|(at, out)| End {
                    at: at.to_vec2() - corner,
                    out,
                    look,
                    is_at_edge: is_at_edge(at, out, shown) || is_at_edge(at, out, sheet.bounds),
                }));
            }
            for segment in line.path.segments() {
                let moved = petitoile_core::kurbo::Affine::translate(-corner) * segment;
                page.cells
                    .along(&moved, page.segments.len(), window, |_| true);
                page.segments.push((moved, look));
            }
        }
        page
    }

    /// The nearest point of a like line that runs the same way, within a reach: the point and its direction.
    fn under(&self, at: Point, end: &End, reach: f64) -> Option<(Point, Vec2)> {
        let mut best: Option<(f64, Point, Vec2)> = None;
        for index in self.cells.near(at) {
            let Some((segment, look)) = self.segments.get(index) else {
                continue;
            };
            if *look != end.look {
                continue;
            }
            let nearest = segment.nearest(at, 1e-4);
            let distance = nearest.distance_sq.sqrt();
            let along = way(segment, nearest.t);
            if distance < best.map_or(reach, |(d, ..)| d) && along.dot(end.out).abs() > SAME_WAY {
                best = Some((distance, segment.eval(nearest.t), along));
            }
        }
        best.map(|(_, p, along)| (p, along))
    }
}

/// How many ends of two pages that face the seam between them meet a line of the other page, and how many meet none,
/// if the second page lies a step from the first. `towards` points from the first to the second.
pub(super) fn meeting(
    first: &Page,
    second: &Page,
    step: Vec2,
    towards: Vec2,
    near: f64,
) -> (usize, usize) {
    let facing = |page: &Page, towards: Vec2| -> Vec<End> {
        page.ends
            .iter()
            .filter(|end| end.is_at_edge && end.out.dot(towards) > 0.2)
            .copied()
            .collect()
    };
    let (mut met, mut not) = (0, 0);
    for (ends, other, step) in [
        (facing(first, towards), second, -step),
        (facing(second, -towards), first, step),
    ] {
        for end in ends {
            if other
                .under((end.at + step).to_point(), &end, near)
                .is_some()
            {
                met += 1;
            } else {
                not += 1;
            }
        }
    }
    (met, not)
}

fn is_at_edge(at: Point, out: Vec2, shown: Rect) -> bool {
    let leaves = |distance: f64, outwards: f64| distance.abs() < AT_EDGE && outwards > 0.05;
    leaves(at.x - shown.x0, -out.x)
        || leaves(at.x - shown.x1, out.x)
        || leaves(at.y - shown.y0, -out.y)
        || leaves(at.y - shown.y1, out.y)
}

/// Where an end pulls its page: a direction square to the line it lies near, and how far along it, mm.
pub(super) type Pull = (Vec2, f64);

/// What pulls one page in its place towards another in its: ends near like lines, of either on the other.
pub(super) fn pulls(
    pages: &[Page],
    (page, place): (usize, Point),
    (other, other_at): (usize, Point),
    reach: f64,
) -> Vec<Pull> {
    let (Some(mine), Some(theirs)) = (pages.get(page), pages.get(other)) else {
        return Vec::new();
    };
    let mut pulls = Vec::new();
    for end in &mine.ends {
        let on_theirs = place + end.at - other_at.to_vec2();
        if let Some((p, along)) = theirs.under(on_theirs, end, reach) {
            let normal = along.turn_90();
            pulls.push((normal, (p - on_theirs).dot(normal)));
        }
    }
    for end in &theirs.ends {
        let on_mine = other_at + end.at - place.to_vec2();
        if let Some((p, along)) = mine.under(on_mine, end, reach) {
            let normal = along.turn_90();
            pulls.push((normal, (on_mine - p).dot(normal)));
        }
    }
    pulls
}

/// The step that answers pulls best (least squares), and how much they tell in the direction in which they tell least.
pub(super) fn solved(pulls: &[Pull]) -> (Vec2, f64) {
    // A little weight for staying: it decides only along lines that all run one way.
    const STAY: f64 = 1e-4;
    let (mut xx, mut xy, mut yy, mut x, mut y) = (STAY, 0.0, STAY, 0.0, 0.0);
    for (normal, pull) in pulls {
        xx += normal.x * normal.x;
        xy += normal.x * normal.y;
        yy += normal.y * normal.y;
        x += normal.x * pull;
        y += normal.y * pull;
    }
    let determinant = xx * yy - xy * xy;
    let step = Vec2::new(
        (yy * x - xy * y) / determinant,
        (xx * y - xy * x) / determinant,
    );
    // The lesser eigenvalue.
    (step, (xx + yy) / 2.0 - ((xx - yy) / 2.0).hypot(xy))
}

/// Slides a page so that its open ends lie on its neighbours' lines and theirs on its own (least squares of the
/// distances, a few rounds). Where all lines run one way, the page keeps its place along them.
pub(super) fn slid(
    pages: &[Page],
    page: usize,
    at: Point,
    others: &[(usize, Point)],
    reach: f64,
) -> Option<Fit> {
    const ROUNDS: usize = 8;
    let mut place = at;
    let mut last: Option<(usize, f64, f64)> = None;
    for round in 0..ROUNDS {
        let reach = if round < 3 {
            reach
        } else {
            (reach / 4.0).max(1.0)
        };
        let pulls: Vec<Pull> = others
            .iter()
            .flat_map(|other| pulls(pages, (page, place), *other, reach))
            .collect();
        if pulls.len() < 2 {
            return None;
        }
        let (step, least) = solved(&pulls);
        place += step;
        let off = pulls
            .iter()
            .map(|(normal, pull)| (pull - normal.dot(step)).abs())
            .fold(0.0, f64::max);
        last = Some((pulls.len(), off, least));
        if step.hypot() < 1e-6 {
            break;
        }
    }
    let (count, off, least) = last?;
    (off < GOOD && (place - at).hypot() < reach).then(|| Fit {
        step: place.to_vec2(),
        weight: 0.15 * count as f64 * (least / 0.05).clamp(0.1, 1.0),
        off,
    })
}
