//! What is left of an offcut when something was cut from it.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay as _;
use kurbo::Point;

use super::LayShape;
use crate::cloth::{Blemish, Offcut};
use crate::geometry::closed::{area, bounds, counter_clockwise, tidied};
use crate::geometry::polygon::Polygon;
use crate::lay_plan::Placed;
use crate::tolerance::MEASURING;
use crate::units::{LengthUnit, Mm};

/// A rest is kept when a round patch this wide can still be cut from it. Default of ours: common practice, no source.
pub const USEFUL: Mm = Mm(25.0);

/// What is left of one offcut.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Rests {
    /// The rests that are still useful, the largest first.
    pub offcuts: Vec<Offcut>,
    /// Those that are not.
    pub dropped: Vec<Dropped>,
}

/// A rest that is too small to keep.
#[derive(Debug, Clone, PartialEq)]
pub struct Dropped {
    /// Its width and height as the offcut lies.
    pub size: (Mm, Mm),
    /// Diameter of the largest circle in it, nearly.
    pub widest: Mm,
    /// Its area, mm2.
    pub area: f64,
}

impl Dropped {
    /// "60 x 11 mm, nowhere wider than 10 mm".
    pub fn words(&self, unit: LengthUnit) -> String {
        format!(
            "{} by {}, nowhere wider than {}",
            unit.show(self.size.0),
            unit.show(self.size.1),
            unit.show(self.widest)
        )
    }
}

/// The cut line of what lies on an offcut, in the offcut's drawing, counter-clockwise.
pub fn cut_outline(placed: &Placed, shape: &LayShape) -> Vec<Point> {
    let to = placed.offcut_from_piece();
    counter_clockwise(shape.outline.iter().map(|p| to * *p).collect())
}

type Contour = Vec<[f64; 2]>;

fn contour(outline: &[Point]) -> Contour {
    outline.iter().map(|p| [p.x, p.y]).collect()
}

fn points(contour: &Contour) -> Vec<Point> {
    tidied(
        &contour
            .iter()
            .map(|[x, y]| Point::new(*x, *y))
            .collect::<Vec<_>>(),
    )
}

/// What is left of an offcut when these outlines are cut from it: rests in which a circle `useful` wide finds room; `taken`
/// are names that are given already. Grain, sides, nap and margin are kept; holes and blemishes are where they were; where
/// something was cut out of the middle of a rest, it has a hole.
///
/// The areas add up: rests and dropped rests, their holes taken off, are the offcut without what was cut, within 0.01 mm2 for
/// cloth up to a metre wide. An outline with a point that is no number was never cut and counts for nothing.
pub fn rests(offcut: &Offcut, cut: &[Vec<Point>], useful: Mm, taken: &[&str]) -> Rests {
    if !are_places(&offcut.outline) {
        return Rests::default();
    }
    let whole = vec![contour(&counter_clockwise(offcut.outline.clone()))];
    let gone: Vec<Contour> = cut
        .iter()
        .filter(|outline| are_places(outline))
        .map(|outline| contour(&counter_clockwise(outline.clone())))
        .collect();
    let mut left = if gone.is_empty() {
        vec![whole]
    } else {
        whole.overlay(&gone, OverlayRule::Difference, FillRule::NonZero)
    };
    let outer = |shape: &Vec<Contour>| shape.first().map_or(0.0, |c| area(&points(c)).abs());
    left.sort_by(|a, b| outer(b).total_cmp(&outer(a)));
    let mut rests = Rests::default();
    for shape in &left {
        let Some((outer, inner)) = shape.split_first() else {
            continue;
        };
        let outline = counter_clockwise(points(outer));
        let holes: Vec<Vec<Point>> = inner
            .iter()
            .map(|hole| counter_clockwise(points(hole)))
            .collect();
        if outline.len() < 3 || area(&outline) <= MEASURING.0 {
            continue;
        }
        let blemishes = blemishes(offcut, &outline, holes);
        let widest = widest(&outline, &blemishes);
        if widest < useful.0 {
            rests.dropped.push(dropped(&outline, &blemishes, widest));
            continue;
        }
        let names = rests.offcuts.iter().map(|rest| rest.name.as_str());
        let names: Vec<&str> = names.chain(taken.iter().copied()).collect();
        rests.offcuts.push(Offcut {
            name: name(&offcut.name, &names),
            outline,
            blemishes,
            ..offcut.clone()
        });
    }
    rests
}

fn are_places(outline: &[Point]) -> bool {
    outline.iter().all(|p| p.x.is_finite() && p.y.is_finite())
}

/// What was amiss there before, and holes where something was cut out.
fn blemishes(offcut: &Offcut, outline: &[Point], holes: Vec<Vec<Point>>) -> Vec<Blemish> {
    let ground = vec![contour(outline)];
    let mut all: Vec<Blemish> = Vec::new();
    let places = offcut.blemishes.iter();
    for blemish in places.filter(|blemish| are_places(&blemish.outline)) {
        let place = vec![contour(&counter_clockwise(blemish.outline.clone()))];
        let within = ground.overlay(&place, OverlayRule::Intersect, FillRule::NonZero);
        let places = within.iter().filter_map(|shape| shape.first()).map(points);
        let places = places.filter(|place| place.len() > 2 && area(place).abs() > MEASURING.0);
        all.extend(places.map(|place| Blemish {
            outline: counter_clockwise(place),
            ..blemish.clone()
        }));
    }
    let holes = holes.into_iter().map(|outline| Blemish {
        outline,
        is_hole: true,
        good_for: crate::cloth::GoodFor::default(),
    });
    all.extend(holes);
    all
}

/// Cloth that is there: the outline without its holes.
fn cloth(outline: &[Point], blemishes: &[Blemish]) -> Vec<Vec<Contour>> {
    let ground = vec![contour(outline)];
    let holes: Vec<Contour> = blemishes
        .iter()
        .filter(|blemish| blemish.is_hole)
        .map(|hole| contour(&hole.outline))
        .collect();
    if holes.is_empty() {
        return vec![ground];
    }
    ground.overlay(&holes, OverlayRule::Difference, FillRule::NonZero)
}

/// Diameter of the largest circle that finds room, found to about 1 %.
fn widest(outline: &[Point], blemishes: &[Blemish]) -> f64 {
    let lines: Vec<Vec<Point>> = cloth(outline, blemishes)
        .iter()
        .map(|shape| bridged(shape))
        .collect();
    let widths = lines.into_iter().map(|line| {
        let polygon = Polygon::new(line);
        2.0 * polygon.depth(polygon.deepest())
    });
    widths.fold(0.0, f64::max)
}

/// One closed line round a shape with holes: to every hole there and back on the same way, so that depth is measured from
/// the holes too. A circle that lies across such a way is not found: what is left may be taken for a little narrower.
fn bridged(shape: &[Contour]) -> Vec<Point> {
    let Some((outer, holes)) = shape.split_first() else {
        return Vec::new();
    };
    let mut line = points(outer);
    for hole in holes {
        let hole = points(hole);
        let near = line.iter().enumerate().flat_map(|(i, p)| {
            hole.iter()
                .enumerate()
                .map(move |(j, q)| (i, j, (*p - *q).hypot2()))
        });
        let Some((i, j, _)) = near.min_by(|a, b| a.2.total_cmp(&b.2)) else {
            continue;
        };
        let mut next: Vec<Point> = line.iter().take(i + 1).copied().collect();
        next.extend(hole.iter().cycle().skip(j).take(hole.len() + 1));
        next.extend(line.iter().skip(i));
        line = next;
    }
    line
}

fn dropped(outline: &[Point], blemishes: &[Blemish], widest: f64) -> Dropped {
    let bounds = bounds(outline);
    let shapes = cloth(outline, blemishes);
    let contours = shapes.iter().flatten();
    Dropped {
        size: (Mm(bounds.width()), Mm(bounds.height())),
        widest: Mm(widest),
        // Holes run the other way round.
        area: contours
            .map(|c| Polygon::new(points(c)).area())
            .sum::<f64>()
            .abs(),
    }
}

/// "blue linen, rest 1"; what is left of a rest is a rest of the same cloth.
fn name(of: &str, taken: &[&str]) -> String {
    let stem = of
        .rsplit_once(", rest ")
        .filter(|(_, number)| number.parse::<u32>().is_ok())
        .map_or(of, |(stem, _)| stem);
    let free = |number: &usize| {
        let name = format!("{stem}, rest {number}");
        !taken.contains(&name.as_str()) && name != of
    };
    let number = (1..=taken.len() + 2).find(free).unwrap_or(1);
    format!("{stem}, rest {number}")
}
