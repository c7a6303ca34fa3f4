//! What lies where during the search, and what a pose would cost there.

#![allow(
    clippy::indexing_slicing,
    reason = "bodies, bays and shapes are numbered by the stock; numbers never change"
)]

use std::sync::Arc;

use jagua_rs::collision_detection::CDEngine;
use jagua_rs::collision_detection::hazards::{HazKey, Hazard};
use jagua_rs::geometry::geo_traits::{Transformable as _, TransformableFrom as _};
use jagua_rs::geometry::primitives::SPolygon;
use jagua_rs::geometry::{DTransformation, Transformation};

use super::bay::{Ignored, Met, Thing};
use super::field::Field;
use super::inner_circles::InnerCircles;
use super::stock::{Pose, Stock};
use super::weights::Weights;

/// A body that lies somewhere.
#[derive(Clone, Debug)]
pub(crate) struct Lying {
    pub(crate) pose: Pose,
    key: HazKey,
    inner: InnerCircles,
}

/// The state of one layout over all bays. Bodies may overlap.
#[derive(Clone, Debug)]
pub(crate) struct Floor {
    engines: Vec<CDEngine<Thing>>,
    lying: Vec<Option<Lying>>,
    scratch: Vec<SPolygon>,
    met: Met,
    /// Bays nothing new is laid in for now.
    closed: Vec<bool>,
    /// Corner that things are pushed to.
    corner: usize,
}

/// How soft overlaps begin, as a share of the larger diameter.
const SOFT: f32 = 0.01;

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
        let thing = Thing::Body(body as u32);
        let engine = &mut self.engines[pose.bay];
        engine.register_hazard(Hazard::new(thing, polygon));
        let Some(key) = engine.haz_key(&thing) else {
            return;
        };
        let mut inner = InnerCircles::default();
        inner.moved_from(&shape.standing_circles, &by);
        self.lying[body] = Some(Lying { pose, key, inner });
    }

    /// Takes a body up.
    pub(crate) fn lift(&mut self, body: usize) {
        if let Some(lying) = self.lying[body].take() {
            self.engines[lying.pose.bay].deregister_hazard_by_key(lying.key);
        }
    }

    /// Makes the engine of one bay anew, after the bay changed. Everything lies as before.
    pub(crate) fn rebuild(&mut self, stock: &Stock, bay: usize) {
        let poses: Vec<_> = self.bodies().filter(|(_, pose)| pose.bay == bay).collect();
        for (body, _) in &poses {
            self.lying[*body] = None;
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
        let row = weights.row(body);
        let mut sum = 0.0;
        self.ask(stock, body, pose, |thing, loss| {
            sum += loss * row[weights.column(thing)];
            sum >= bound
        });
        sum
    }

    /// Whether nothing is in the way of a body at a pose.
    pub(crate) fn is_free(&mut self, stock: &Stock, body: usize, pose: &Pose) -> bool {
        let mut free = true;
        self.ask(stock, body, pose, |_, _| {
            free = false;
            true
        });
        free
    }

    /// Tells of everything that is in the way of a body at a pose, and how much, until `stop` says it is enough.
    pub(crate) fn ask(
        &mut self,
        stock: &Stock,
        body: usize,
        pose: &Pose,
        mut stop: impl FnMut(Thing, f32) -> bool,
    ) {
        let made = &stock.bodies[body];
        let shape = &stock.shapes[pose.shape];
        let bay = &stock.bays[pose.bay];
        let engine = &self.engines[pose.bay];
        let asking = &mut self.scratch[pose.shape];
        asking.transform_from(&shape.asking, &move_of(pose));
        let asking = &*asking;
        let circles = &asking.surrogate().poles;
        let lying = &self.lying;

        let outside = || {
            let soft = SOFT * shape.diameter;
            let corners = asking.surrogate().convex_hull_indices.iter().map(|&index| {
                let corner = asking.vertex(index);
                (corner.0, corner.1)
            });
            let (common, far) = bay.field.outside(circles, corners, soft);
            // A strip as wide as the shape is long lies out by `far`.
            (common + far * shape.area.sqrt()).sqrt() * shape.area.sqrt()
        };
        let is_box = matches!(bay.field, Field::Box(_));
        if is_box {
            let (own, edge) = (asking.bbox(), bay.bounds);
            let inside = own.x_min > edge.x_min
                && own.x_max < edge.x_max
                && own.y_min > edge.y_min
                && own.y_max < edge.y_max;
            if !inside && stop(Thing::Outside, outside()) {
                return;
            }
        }
        let mut met = |thing: Thing| {
            let (inner, area, diameter) = match thing {
                Thing::Outside if is_box => return false,
                Thing::Outside => return stop(thing, outside()),
                Thing::Body(other) => {
                    let Some(there) = &lying[other as usize] else {
                        return false;
                    };
                    let other = &stock.shapes[there.pose.shape];
                    (&there.inner, other.area, other.diameter)
                }
                Thing::Hole(_) | Thing::Zone(..) => {
                    let Some(obstacle) = bay
                        .obstacles
                        .iter()
                        .find(|obstacle| obstacle.thing == thing)
                    else {
                        return false;
                    };
                    (&obstacle.inner, obstacle.area, shape.diameter)
                }
            };
            let common = inner.common(circles, SOFT * shape.diameter.max(diameter));
            stop(thing, common.sqrt() * (shape.area * area).sqrt().sqrt())
        };
        let ignored = Ignored {
            body: body as u32,
            min_quality: made.min_quality,
        };
        self.met.clear();
        if engine.collect_surrogate_collisions_until(asking, &ignored, &mut self.met, &mut met) {
            return;
        }
        let _ = engine.collect_poly_collisions_until(asking, &ignored, &mut self.met, &mut met);
    }
}
