//! One outline made ready for the collision engine.

use std::sync::Arc;

use jagua_rs::geometry::fail_fast::SPSurrogateConfig;
use jagua_rs::geometry::primitives::{Point as EnginePoint, SPolygon};
use kurbo::{Point, Vec2};

use super::inner_circles::InnerCircles;
use super::problem::{OutlineFault, Polygon};
use super::{offset, plane};

/// How many inner circles stand for a shape: at most the first number of each pair, or the later ones once that share of the
/// area is covered.
const POLES: [(usize, f32); 3] = [(28, 0.0), (16, 0.8), (8, 0.92)];

/// Share of the area whose circles are asked first, before edges.
const FIRST_ASKED: f32 = 0.6;

/// Number of inner lines asked first; none, circles do better for cloth.
const FIRST_LINES: usize = 0;

/// An outline around its own middle, not turned. The engine works in f32; `exact` is what plans are proved with.
#[derive(Debug)]
pub(crate) struct Shape {
    /// Mirrored if need be, shifted by `-middle`, counter-clockwise.
    pub(crate) exact: Polygon,
    /// What was taken off all points after mirroring.
    pub(crate) middle: Vec2,
    /// What asks: the outline, a hair larger.
    pub(crate) asking: SPolygon,
    /// What is in the way of others: the outline grown by the gap and a hair.
    pub(crate) standing: Arc<SPolygon>,
    /// Inner circles of `standing`.
    pub(crate) standing_circles: InnerCircles,
    /// Corners of the hull, for how far it sticks out.
    pub(crate) hull: Vec<(f32, f32)>,
    /// Area, mm2.
    pub(crate) area: f32,
    /// Largest distance between two points, mm.
    pub(crate) diameter: f32,
}

impl Shape {
    /// `hair` is what rounding to f32 may eat.
    pub(crate) fn new(
        outline: &[Point],
        mirrored: bool,
        gap: f64,
        hair: f64,
    ) -> Result<Self, OutlineFault> {
        let as_lying: Polygon = outline
            .iter()
            .map(|point| Point::new(if mirrored { -point.x } else { point.x }, point.y))
            .collect();
        let tidy = plane::tidied(&as_lying)?;
        let middle = plane::bounds(&tidy).center().to_vec2();
        let exact: Polygon = tidy.iter().map(|&point| point - middle).collect();
        let mut asking = engine_polygon(&plane::nudged_outwards(&exact, hair * 0.5))?;
        asking
            .generate_surrogate(surrogate())
            .map_err(|_| OutlineFault::Flat)?;
        let (standing, standing_circles) = standing(&exact, &asking, gap, hair)?;
        let hull = asking
            .surrogate()
            .convex_hull_indices
            .iter()
            .map(|&index| (asking.vertex(index).0, asking.vertex(index).1))
            .collect();
        Ok(Self {
            middle,
            standing,
            standing_circles,
            hull,
            area: asking.area(),
            diameter: asking.diameter(),
            asking,
            exact,
        })
    }
}

fn surrogate() -> SPSurrogateConfig {
    SPSurrogateConfig {
        n_pole_limits: POLES,
        ff_pole_area_ratio: FIRST_ASKED,
        n_ff_piers: FIRST_LINES,
    }
}

fn standing(
    exact: &[Point],
    asking: &SPolygon,
    gap: f64,
    hair: f64,
) -> Result<(Arc<SPolygon>, InnerCircles), OutlineFault> {
    if gap <= 0.0 {
        return Ok((
            Arc::new(asking.clone()),
            InnerCircles::of(&asking.surrogate().poles, 0.0),
        ));
    }
    let grown = offset::moved(exact, gap + hair * 0.5);
    let largest = grown
        .iter()
        .max_by(|a, b| plane::area(a).total_cmp(&plane::area(b)))
        .ok_or(OutlineFault::Flat)?;
    let polygon = engine_polygon(largest)?;
    // Every inner circle of the outline, grown by the gap, lies in the grown outline.
    let inner = InnerCircles::of(&asking.surrogate().poles, gap as f32);
    Ok((Arc::new(polygon), inner))
}

/// Rounds to f32.
///
/// What f32 can no longer tell from a line is refused: the engine would give up on it.
pub(crate) fn engine_polygon(polygon: &[Point]) -> Result<SPolygon, OutlineFault> {
    let points: Vec<EnginePoint> = polygon
        .iter()
        .map(|point| EnginePoint(point.x as f32, point.y as f32))
        .collect();
    let differ = |value: fn(&EnginePoint) -> f32| {
        let mut values = points.iter().map(value);
        let first = values.next();
        values.any(|other| Some(other) != first)
    };
    if !(differ(|point| point.0) && differ(|point| point.1)) {
        return Err(OutlineFault::Flat);
    }
    SPolygon::new(points).map_err(|_| OutlineFault::CrossesItself)
}

/// An obstacle that never moves, with its inner circles.
pub(crate) fn obstacle(polygon: &[Point]) -> Result<(Arc<SPolygon>, InnerCircles), OutlineFault> {
    let mut made = engine_polygon(polygon)?;
    made.generate_surrogate(surrogate())
        .map_err(|_| OutlineFault::Flat)?;
    let inner = InnerCircles::of(&made.surrogate().poles, 0.0);
    Ok((Arc::new(made), inner))
}
