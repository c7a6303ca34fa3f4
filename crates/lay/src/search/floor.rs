//! What lies where during the search, and what a pose would cost there.

#![allow(
    clippy::indexing_slicing,
    reason = "bodies, bays and shapes are numbered by the stock; numbers never change"
)]

use std::sync::Arc;

use jagua_rs::collision_detection::CDEngine;
use jagua_rs::collision_detection::hazards::{HazKey, Hazard};
use jagua_rs::geometry::geo_traits::{Transformable as _, TransformableFrom as _};
use jagua_rs::geometry::primitives::{Rect, SPolygon};
use jagua_rs::geometry::{DTransformation, Transformation};

use super::bay::{Asked, Bay, Met, Thing};
use super::field::Field;
use super::inner_circles::InnerCircles;
use super::shape::Shape;
use super::stock::{Pose, Stock};
use super::weights::Weights;

/// A body that lies somewhere.
#[derive(Clone, Debug)]
pub(crate) struct Lying {
    pub(crate) pose: Pose,
    key: HazKey,
    inner: InnerCircles,
}

/// Bounds that touch nothing.
const NOWHERE: Rect = Rect {
    x_min: f32::INFINITY,
    y_min: f32::INFINITY,
    x_max: f32::NEG_INFINITY,
    y_max: f32::NEG_INFINITY,
};

/// Who asks what is in the way.
pub(crate) trait Asks {
    /// The overlap with a thing from which on it makes no difference how much more it is.
    fn enough(&self, thing: Thing) -> f32;

    /// Hears of a thing in the way and how much it overlaps (or at least [`Self::enough`]); `true`: no need to look further.
    fn meets(&mut self, thing: Thing, loss: f32) -> bool;
}

impl<Meets: FnMut(Thing, f32) -> bool> Asks for Meets {
    fn enough(&self, _: Thing) -> f32 {
        f32::INFINITY
    }

    fn meets(&mut self, thing: Thing, loss: f32) -> bool {
        self(thing, loss)
    }
}

/// Sums up overlaps times weights, as far as a bound.
struct Weighing<'a> {
    weights: &'a Weights,
    row: &'a [f32],
    sum: f32,
    bound: f32,
}

impl Asks for Weighing<'_> {
    fn enough(&self, thing: Thing) -> f32 {
        // A little more, so that rounding does not bring the sum under the bound again.
        1.001 * (self.bound - self.sum) / self.row[self.weights.column(thing)]
    }

    fn meets(&mut self, thing: Thing, loss: f32) -> bool {
        self.sum += loss * self.row[self.weights.column(thing)];
        self.sum >= self.bound
    }
}

/// Asks only whether there is anything.
struct IsFree(bool);

impl Asks for IsFree {
    fn enough(&self, _: Thing) -> f32 {
        0.0
    }

    fn meets(&mut self, _: Thing, _: f32) -> bool {
        self.0 = false;
        true
    }
}

/// The state of one layout over all bays. Bodies may overlap.
#[derive(Clone, Debug)]
pub(crate) struct Floor {
    engines: Vec<CDEngine<Thing>>,
    lying: Vec<Option<Lying>>,
    scratch: Vec<SPolygon>,
    met: Met,
    /// Bounds of what lies; nowhere for what does not.
    bounds: Vec<Rect>,
    /// Things near a pose whose circles stay clear of its own: their edges have to be asked.
    unsure: Vec<Thing>,
    /// Bays nothing new is laid in for now.
    closed: Vec<bool>,
    /// Corner that things are pushed to.
    corner: usize,
}

/// How soft overlaps begin, as a share of the larger diameter.
const SOFT: f32 = 0.01;

/// Circles that reach so deep into each other are no rounding, as a share of the larger diameter.
const SURE: f32 = 1e-5;

pub(crate) fn move_of(pose: &Pose) -> Transformation {
    DTransformation::new(pose.turn, (pose.x, pose.y)).compose()
}

impl Floor {
    pub(crate) fn new(stock: &Stock) -> Self {
        let mut floor = Self {
            engines: stock.bays.iter().map(super::bay::Bay::engine).collect(),
            lying: stock.bodies.iter().map(|_| None).collect(),
            scratch: stock
                .shapes
                .iter()
                .map(|shape| shape.asking.clone())
                .collect(),
            met: Met::default(),
            bounds: vec![NOWHERE; stock.bodies.len()],
            unsure: Vec::new(),
            closed: vec![false; stock.bays.len()],
            corner: 0,
        };
        for (body, pose) in &stock.fixed {
            floor.put(stock, *body, *pose);
        }
        floor
    }

    /// Makes room for what was added to the stock.
    pub(crate) fn grow(&mut self, stock: &Stock) {
        self.lying.resize_with(stock.bodies.len(), || None);
        self.bounds.resize(stock.bodies.len(), NOWHERE);
        let new = stock.shapes.iter().skip(self.scratch.len());
        let new: Vec<SPolygon> = new.map(|shape| shape.asking.clone()).collect();
        self.scratch.extend(new);
    }

    /// Whether nothing new is laid in a bay for now.
    pub(crate) fn is_closed(&self, bay: usize) -> bool {
        self.closed[bay]
    }

    /// Closes or opens a bay for what is laid from now on.
    pub(crate) fn set_closed(&mut self, bay: usize, closed: bool) {
        self.closed[bay] = closed;
    }

    /// The corner things are pushed to (see [`super::start::corner`]).
    pub(crate) fn corner(&self) -> usize {
        self.corner
    }

    /// Chooses that corner.
    pub(crate) fn set_corner(&mut self, corner: usize) {
        self.corner = corner;
    }

    /// Where a body lies.
    pub(crate) fn pose(&self, body: usize) -> Option<Pose> {
        self.lying.get(body)?.as_ref().map(|lying| lying.pose)
    }

    /// Every body that lies, in order.
    pub(crate) fn bodies(&self) -> impl Iterator<Item = (usize, Pose)> + '_ {
        self.lying
            .iter()
            .enumerate()
            .filter_map(|(body, lying)| Some((body, lying.as_ref()?.pose)))
    }

    /// Lays a body down, from wherever it lay.
    pub(crate) fn put(&mut self, stock: &Stock, body: usize, pose: Pose) {
        self.lift(body);
        let shape = &stock.shapes[pose.shape];
        let by = move_of(&pose);
        let polygon = Arc::new(shape.standing.transform_clone(&by));
        let bounds = polygon.bbox();
        let thing = Thing::Body(body as u32);
        let engine = &mut self.engines[pose.bay];
        engine.register_hazard(Hazard::new(thing, polygon));
        let Some(key) = engine.haz_key(&thing) else {
            return;
        };
        let mut inner = InnerCircles::default();
        inner.moved_from(&shape.standing_circles, &by);
        self.lying[body] = Some(Lying { pose, key, inner });
        self.bounds[body] = bounds;
    }

    /// Takes a body up.
    pub(crate) fn lift(&mut self, body: usize) {
        self.bounds[body] = NOWHERE;
        if let Some(lying) = self.lying[body].take() {
            self.engines[lying.pose.bay].deregister_hazard_by_key(lying.key);
        }
    }

    /// Makes the engine of one bay anew, after the bay changed. Everything lies as before.
    pub(crate) fn rebuild(&mut self, stock: &Stock, bay: usize) {
        let poses: Vec<_> = self.bodies().filter(|(_, pose)| pose.bay == bay).collect();
        for (body, _) in &poses {
            self.lying[*body] = None;
            self.bounds[*body] = NOWHERE;
        }
        self.engines[bay] = stock.bays[bay].engine();
        for (body, pose) in poses {
            self.put(stock, body, pose);
        }
    }

    /// Makes the floor lie as in a list of poses (one entry a body).
    pub(crate) fn restore(&mut self, stock: &Stock, poses: &[Option<Pose>]) {
        for (body, pose) in poses.iter().enumerate() {
            match pose {
                None => self.lift(body),
                Some(pose) if self.pose(body) != Some(*pose) => self.put(stock, body, *pose),
                Some(_) => {}
            }
        }
    }

    /// Where everything lies, to restore it later.
    pub(crate) fn poses(&self) -> Vec<Option<Pose>> {
        self.lying
            .iter()
            .map(|lying| lying.as_ref().map(|lying| lying.pose))
            .collect()
    }

    /// What a body would cost at a pose: every overlap times its weight. Gives up as soon as it is `bound` or more; what it gives
    /// then is only known to be at least `bound`.
    pub(crate) fn weigh(
        &mut self,
        stock: &Stock,
        body: usize,
        pose: &Pose,
        bound: f32,
        weights: &Weights,
    ) -> f32 {
        let mut weighing = Weighing {
            weights,
            row: weights.row(body),
            sum: 0.0,
            bound,
        };
        self.ask(stock, body, pose, &mut weighing);
        weighing.sum
    }

    /// Whether nothing is in the way of a body at a pose.
    pub(crate) fn is_free(&mut self, stock: &Stock, body: usize, pose: &Pose) -> bool {
        let mut free = IsFree(true);
        self.ask(stock, body, pose, &mut free);
        free.0
    }

    /// Tells of everything that is in the way of a body at a pose, and how much, until it is enough.
    ///
    /// First the inner circles of what is near: where they reach into each other nothing else need be asked. The engine then tells
    /// of the rest by the edges.
    pub(crate) fn ask(&mut self, stock: &Stock, body: usize, pose: &Pose, asks: &mut impl Asks) {
        let shape = &stock.shapes[pose.shape];
        self.scratch[pose.shape].transform_from(&shape.asking, &move_of(pose));
        let at = At {
            stock,
            shape,
            bay: &stock.bays[pose.bay],
            asking: &self.scratch[pose.shape],
            lying: &self.lying,
        };
        let is_box = matches!(at.bay.field, Field::Box(_));
        if is_box && !at.is_in_box() && asks.meets(Thing::Outside, at.outside()) {
            return;
        }
        let own = at.asking.bbox();
        let is_other = |other: usize| {
            let there = self.lying[other].as_ref();
            other != body && there.is_some_and(|there| there.pose.bay == pose.bay)
        };
        let near = self.bounds.iter().enumerate();
        let near = near.filter(|(other, bounds)| touch(&own, bounds) && is_other(*other));
        let near = near.map(|(other, _)| Thing::Body(other as u32));
        self.unsure.clear();
        for thing in near.chain(at.obstacles(stock.bodies[body].min_quality)) {
            let Some(near) = at.near(thing) else {
                continue;
            };
            if !near.is_sure(at.asking) {
                self.unsure.push(thing);
            } else if asks.meets(thing, near.loss(at.asking, asks.enough(thing))) {
                return;
            }
        }
        if is_box && self.unsure.is_empty() {
            return;
        }
        let asked = Asked {
            outside: !is_box,
            things: &self.unsure,
        };
        self.met.clear();
        let met = |thing: Thing| {
            let loss = match at.near(thing) {
                Some(near) => near.loss(at.asking, asks.enough(thing)),
                None => at.outside(),
            };
            asks.meets(thing, loss)
        };
        let engine = &self.engines[pose.bay];
        let _ = engine.collect_poly_collisions_until(at.asking, &asked, &mut self.met, met);
    }
}

/// A shape held at a pose in a bay where others lie.
struct At<'a> {
    stock: &'a Stock,
    shape: &'a Shape,
    bay: &'a Bay,
    /// The shape as it is held.
    asking: &'a SPolygon,
    lying: &'a [Option<Lying>],
}

impl<'a> At<'a> {
    /// Whether it lies inside of a bay that is a box.
    fn is_in_box(&self) -> bool {
        let (own, edge) = (self.asking.bbox(), self.bay.bounds);
        own.x_min > edge.x_min
            && own.x_max < edge.x_max
            && own.y_min > edge.y_min
            && own.y_max < edge.y_max
    }

    /// How much of it lies outside of the bay.
    fn outside(&self) -> f32 {
        let surrogate = self.asking.surrogate();
        let corners = surrogate.convex_hull_indices.iter().map(|&index| {
            let corner = self.asking.vertex(index);
            (corner.0, corner.1)
        });
        let soft = SOFT * self.shape.diameter;
        let field = &self.bay.field;
        let (common, far) = field.outside(&surrogate.poles, corners, soft);
        // A strip as wide as the shape is long lies out by `far`.
        (common + far * self.shape.area.sqrt()).sqrt() * self.shape.area.sqrt()
    }

    /// Holes, and zones that are too poor for a body, where their bounds touch its own.
    fn obstacles(&self, min_quality: Option<u8>) -> impl Iterator<Item = Thing> + use<'a> {
        let own = self.asking.bbox();
        let minds = move |thing: Thing| match thing {
            Thing::Zone(_, quality) => min_quality.is_none_or(|least| quality < least),
            _ => true,
        };
        let obstacles = self.bay.obstacles.iter();
        obstacles
            .filter(move |one| minds(one.thing) && touch(&own, &one.polygon.bbox()))
            .map(|one| one.thing)
    }

    /// What it takes to say how much it overlaps a thing; `None` for the outside.
    fn near(&self, thing: Thing) -> Option<Near<'a>> {
        let (inner, area, diameter) = match thing {
            Thing::Body(other) => {
                let there = self.lying[other as usize].as_ref()?;
                let made = &self.stock.shapes[there.pose.shape];
                (&there.inner, made.area, made.diameter)
            }
            _ => {
                let mut obstacles = self.bay.obstacles.iter();
                let there = obstacles.find(|one| one.thing == thing)?;
                (&there.inner, there.area, self.shape.diameter)
            }
        };
        Some(Near {
            inner,
            largest: self.shape.diameter.max(diameter),
            size: (self.shape.area * area).sqrt().sqrt(),
        })
    }
}

/// Something near a shape that asks.
struct Near<'a> {
    inner: &'a InnerCircles,
    /// Larger diameter of both.
    largest: f32,
    /// Side of a square between both.
    size: f32,
}

impl Near<'_> {
    /// Whether the circles alone tell that both overlap.
    fn is_sure(&self, asking: &SPolygon) -> bool {
        let circles = &asking.surrogate().poles;
        self.inner.reach_into(circles, SURE * self.largest)
    }

    /// How much both overlap, where they do; or at least `enough`.
    fn loss(&self, asking: &SPolygon, enough: f32) -> f32 {
        let enough = enough / self.size;
        let circles = &asking.surrogate().poles;
        let soft = SOFT * self.largest;
        self.inner.common(circles, soft, enough * enough).sqrt() * self.size
    }
}

fn touch(a: &Rect, b: &Rect) -> bool {
    a.x_min <= b.x_max && b.x_min <= a.x_max && a.y_min <= b.y_max && b.y_min <= a.y_max
}
