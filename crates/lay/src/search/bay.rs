//! One connected place to lie in: a room less its margin, or one part of it where the margin splits it.

use std::sync::Arc;

use jagua_rs::collision_detection::hazards::collector::HazardCollector;
use jagua_rs::collision_detection::hazards::filter::HazardFilter;
use jagua_rs::collision_detection::hazards::{HazKey, Hazard, HazardEntity};
use jagua_rs::collision_detection::{CDEConfig, CDEngine};
use jagua_rs::geometry::fail_fast::SPSurrogateConfig;
use jagua_rs::geometry::geo_enums::GeoPosition;
use jagua_rs::geometry::primitives::{Rect, SPolygon};
use kurbo::Point;

use super::field::Field;
use super::inner_circles::InnerCircles;
use super::problem::{Polygon, Problem, ProblemError, Room, What};
use super::{offset, plane, shape};

/// What can be in the way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Thing {
    /// Everything outside the bay.
    Outside,
    /// A hole: its number among all obstacles.
    Hole(u32),
    /// A zone: its number among all obstacles, its quality.
    Zone(u32, u8),
    /// A body: its number.
    Body(u32),
}

impl HazardEntity for Thing {
    fn scope(&self) -> GeoPosition {
        if *self == Self::Outside {
            GeoPosition::Exterior
        } else {
            GeoPosition::Interior
        }
    }

    fn is_dynamic(&self) -> bool {
        matches!(self, Self::Body(_))
    }
}

/// What the engine is asked about; all else does not count.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Asked<'a> {
    pub(crate) outside: bool,
    pub(crate) things: &'a [Thing],
}

impl HazardFilter<Thing> for Asked<'_> {
    fn is_irrelevant(&self, _: HazKey, thing: &Thing) -> bool {
        if *thing == Thing::Outside {
            return !self.outside;
        }
        !self.things.contains(thing)
    }
}

/// Things met so far in one question.
#[derive(Clone, Debug, Default)]
pub(crate) struct Met(Vec<(HazKey, Thing)>);

impl Met {
    pub(crate) fn clear(&mut self) {
        self.0.clear();
    }
}

impl HazardCollector for Met {
    type Entity = Thing;

    fn contains_key(&self, key: HazKey) -> bool {
        self.0.iter().any(|met| met.0 == key)
    }

    fn insert(&mut self, key: HazKey, thing: Thing) {
        self.0.push((key, thing));
    }

    fn remove_by_key(&mut self, key: HazKey) {
        self.0.retain(|met| met.0 != key);
    }

    fn len(&self) -> usize {
        self.0.len()
    }

    fn iter(&self) -> impl Iterator<Item = (HazKey, &Thing)> {
        self.0.iter().map(|(key, thing)| (*key, thing))
    }
}

/// A hole or zone.
#[derive(Clone, Debug)]
pub(crate) struct Obstacle {
    pub(crate) thing: Thing,
    pub(crate) polygon: Arc<SPolygon>,
    pub(crate) inner: InnerCircles,
    pub(crate) area: f32,
}

/// What stays the same of a bay.
#[derive(Clone, Debug)]
pub(crate) struct Bay {
    /// Number of its room.
    pub(crate) room: usize,
    /// What is taken off all coordinates of the room, so that f32 has its digits where they are needed.
    pub(crate) middle: Point,
    /// Its edge around that middle.
    pub(crate) outline: Polygon,
    /// Around the edge.
    pub(crate) bounds: Rect,
    pub(crate) field: Field,
    pub(crate) edge: Arc<SPolygon>,
    pub(crate) obstacles: Vec<Obstacle>,
    /// Area less holes, mm2.
    pub(crate) area: f32,
}

/// Splitting stops at this depth, or where a field has at most so many edges.
const DEPTH: u8 = 4;
const FEW_EDGES: u8 = 16;

impl Bay {
    /// The bays of all rooms.
    pub(crate) fn all(problem: &Problem) -> Result<Vec<Self>, ProblemError> {
        let mut bays = Vec::new();
        let mut obstacles = 0;
        for (number, room) in problem.rooms.iter().enumerate() {
            Self::of_room(problem, number, room, &mut obstacles, &mut bays)?;
        }
        Ok(bays)
    }

    fn of_room(
        problem: &Problem,
        number: usize,
        room: &Room,
        obstacles: &mut u32,
        bays: &mut Vec<Self>,
    ) -> Result<(), ProblemError> {
        let tidy = |polygon: &[Point], what| {
            plane::tidied(polygon).map_err(|why| ProblemError::Outline { what, why })
        };
        let outline = tidy(&room.outline, What::Room(number))?;
        let mut blocked = Vec::new();
        for (index, hole) in room.holes.iter().enumerate() {
            let hole = tidy(hole, What::Hole(number, index))?;
            blocked.extend(
                offset::moved(&hole, room.margin.max(problem.gap))
                    .into_iter()
                    .map(|grown| (None, grown)),
            );
        }
        for (index, zone) in room.zones.iter().enumerate() {
            let polygon = tidy(&zone.polygon, What::Zone(number, index))?;
            blocked.extend(
                offset::moved(&polygon, problem.gap)
                    .into_iter()
                    .map(|grown| (Some(zone.quality), grown)),
            );
        }
        for usable in offset::moved(&outline, -room.margin) {
            bays.extend(Self::new(number, &usable, &blocked, obstacles));
        }
        Ok(())
    }

    /// `None` when nothing that f32 can tell apart is left.
    fn new(
        room: usize,
        usable: &[Point],
        blocked: &[(Option<u8>, Polygon)],
        numbers: &mut u32,
    ) -> Option<Self> {
        let middle = plane::bounds(usable).center();
        let shifted = |polygon: &[Point]| {
            polygon
                .iter()
                .map(|&point| point - middle.to_vec2())
                .collect::<Polygon>()
        };
        let outline = shifted(usable);
        let edge = Arc::new(shape::engine_polygon(&outline).ok()?);
        let mut area = edge.area();
        let mut obstacles = Vec::new();
        for (quality, polygon) in blocked {
            let polygon = shifted(polygon);
            if !plane::overlap(&polygon, &outline) {
                continue;
            }
            let Ok((polygon, inner)) = shape::obstacle(&polygon) else {
                continue;
            };
            let thing = quality.map_or(Thing::Hole(*numbers), |quality| {
                Thing::Zone(*numbers, quality)
            });
            *numbers += 1;
            let taken = polygon.area();
            if quality.is_none() {
                area -= taken;
            }
            obstacles.push(Obstacle {
                thing,
                polygon,
                inner,
                area: taken,
            });
        }
        let bounds = edge.bbox();
        Some(Self {
            room,
            middle,
            field: Field::new(&outline),
            outline,
            bounds,
            edge,
            obstacles,
            area,
        })
    }

    /// Becomes an upright rectangle without obstacles (coordinates of the room); its middle stays, so poses keep their meaning.
    pub(crate) fn become_box(&mut self, rect: kurbo::Rect) {
        let rect = rect - self.middle.to_vec2();
        let outline = vec![
            rect.origin(),
            Point::new(rect.x1, rect.y0),
            Point::new(rect.x1, rect.y1),
            Point::new(rect.x0, rect.y1),
        ];
        if let Ok(edge) = shape::engine_polygon(&outline) {
            self.field = Field::new(&outline);
            self.bounds = edge.bbox();
            self.area = edge.area();
            self.edge = Arc::new(edge);
            self.outline = outline;
        }
    }

    /// A collision engine with nothing lying in it.
    pub(crate) fn engine(&self) -> CDEngine<Thing> {
        let mut hazards = vec![Hazard::new(Thing::Outside, Arc::clone(&self.edge))];
        hazards.extend(
            self.obstacles
                .iter()
                .map(|obstacle| Hazard::new(obstacle.thing, Arc::clone(&obstacle.polygon))),
        );
        let config = CDEConfig {
            quadtree_depth: DEPTH,
            cd_threshold: FEW_EDGES,
            item_surrogate_config: SPSurrogateConfig::none(),
        };
        // A little wider than the bay, so that what just touches its edge is still seen whole.
        CDEngine::new(self.bounds.scale(1.05), hazards, config)
    }
}
