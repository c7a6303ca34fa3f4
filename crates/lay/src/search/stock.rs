//! The problem made ready: every outline once, every part as a *body* with a number, every room as bays.

use kurbo::Point;

use super::bay::Bay;
use super::plane;
use super::problem::{
    Item, Mirror, OutlineFault, Part, Placed, Problem, ProblemError, Room, Way, What,
};
use super::shape::Shape;
use super::turns::Turns;

/// One part of one way of one item.
#[derive(Debug)]
pub(crate) struct Body {
    pub(crate) item: usize,
    pub(crate) way: usize,
    pub(crate) part: usize,
    /// Shapes it may take: as drawn, mirrored, or both.
    pub(crate) shapes: Vec<usize>,
    pub(crate) min_quality: Option<u8>,
    /// Bays it may lie in.
    pub(crate) bays: Vec<usize>,
    /// Its turns, one entry a room.
    pub(crate) turns: Vec<Turns>,
    pub(crate) area: f32,
    pub(crate) diameter: f32,
}

/// Where a body lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Pose {
    pub(crate) bay: usize,
    pub(crate) shape: usize,
    /// Radians.
    pub(crate) turn: f32,
    pub(crate) x: f32,
    pub(crate) y: f32,
}

/// Everything about a problem that the search looks up. It only grows: a way can be added ([`Stock::add_way`]).
#[derive(Debug)]
pub(crate) struct Stock {
    pub(crate) problem: Problem,
    pub(crate) shapes: Vec<Shape>,
    pub(crate) bodies: Vec<Body>,
    /// Bodies of each way of each item.
    pub(crate) of: Vec<Vec<Vec<usize>>>,
    pub(crate) bays: Vec<Bay>,
    /// Number of obstacles in all bays.
    pub(crate) obstacles: usize,
    /// What rounding to f32 may eat, mm.
    pub(crate) hair: f64,
    /// Fixed parts: body, pose.
    pub(crate) fixed: Vec<(usize, Pose)>,
}

/// Largest coordinate taken, mm: a kilometre.
const FAR: f64 = 1e6;

/// What rounding to f32 may eat, as a share of the largest coordinate: four of its last digits.
const HAIR: f64 = 4.0 / 8_388_608.0;

impl Stock {
    pub(crate) fn new(problem: &Problem) -> Result<Self, ProblemError> {
        check_numbers(problem)?;
        let bays = Bay::all(problem)?;
        let obstacles = bays.iter().map(|bay| bay.obstacles.len()).sum();
        let mut stock = Self {
            problem: problem.clone(),
            shapes: Vec::new(),
            bodies: Vec::new(),
            of: Vec::new(),
            hair: hair(&bays),
            bays,
            obstacles,
            fixed: Vec::new(),
        };
        let mut known = Vec::new();
        for (item, copy) in problem.items.iter().enumerate() {
            let mut ways = Vec::new();
            for (way, cut) in copy.ways.iter().enumerate() {
                ways.push(stock.bodies_of((item, way), cut, &mut known)?);
            }
            stock.of.push(ways);
        }
        stock.fix()?;
        Ok(stock)
    }

    /// Makes the bodies of a way; none when one of them cannot be made.
    fn bodies_of(
        &mut self,
        (item, way): (usize, usize),
        cut: &Way,
        known: &mut Vec<(Vec<Point>, bool, usize)>,
    ) -> Result<Vec<usize>, ProblemError> {
        let first = self.bodies.len();
        for (part, outline) in cut.parts.iter().enumerate() {
            match self.body((item, way, part), outline, known) {
                Ok(body) => self.bodies.push(body),
                Err(error) => {
                    self.bodies.truncate(first);
                    return Err(error);
                }
            }
        }
        Ok((first..self.bodies.len()).collect())
    }

    /// Adds a way of cutting an item: its number. Numbers given before stay.
    pub(crate) fn add_way(&mut self, item: usize, cut: &Way) -> Result<usize, ProblemError> {
        let nothing = || ProblemError::Number(What::Part(item, 0, 0));
        let way = self.of.get(item).map(Vec::len).ok_or_else(nothing)?;
        check_way(item, way, cut)?;
        let bodies = self.bodies_of((item, way), cut, &mut Vec::new())?;
        if let (Some(ways), Some(made)) = (self.of.get_mut(item), self.problem.items.get_mut(item))
        {
            ways.push(bodies);
            made.ways.push(cut.clone());
        }
        Ok(way)
    }

    fn body(
        &mut self,
        (item, way, part): (usize, usize, usize),
        outline: &Part,
        known: &mut Vec<(Vec<Point>, bool, usize)>,
    ) -> Result<Body, ProblemError> {
        let mirrored: &[bool] = match outline.mirror {
            Mirror::Never => &[false],
            Mirror::Always => &[true],
            Mirror::Either => &[false, true],
        };
        let mut shapes = Vec::new();
        for &mirrored in mirrored {
            let index = known
                .iter()
                .find(|(points, side, _)| *side == mirrored && *points == outline.outline);
            shapes.push(match index {
                Some((_, _, index)) => *index,
                None => {
                    let shape = Shape::new(&outline.outline, mirrored, self.problem.gap, self.hair)
                        .map_err(|why| ProblemError::Outline {
                            what: What::Part(item, way, part),
                            why,
                        })?;
                    let index = self.shapes.len();
                    self.shapes.push(shape);
                    known.push((outline.outline.clone(), mirrored, index));
                    index
                }
            });
        }
        let allowed = |room: usize| {
            outline
                .rooms
                .as_ref()
                .is_none_or(|rooms| rooms.contains(&room))
        };
        let bays = self
            .bays
            .iter()
            .enumerate()
            .filter(|(_, bay)| allowed(bay.room))
            .map(|(index, _)| index)
            .collect();
        let turns = self
            .problem
            .rooms
            .iter()
            .map(|room| Turns::new(outline, room.grain))
            .collect();
        let first = shapes.first().and_then(|&shape| self.shapes.get(shape));
        let (area, diameter) = first.map_or((0.0, 0.0), |shape| (shape.area, shape.diameter));
        Ok(Body {
            item,
            way,
            part,
            shapes,
            min_quality: outline.min_quality,
            bays,
            turns,
            area,
            diameter,
        })
    }

    fn fix(&mut self) -> Result<(), ProblemError> {
        let mut ways: Vec<Option<usize>> = vec![None; self.problem.items.len()];
        for (index, placed) in self.problem.fixed.clone().iter().enumerate() {
            let wrong = ProblemError::Fixed(index);
            let body = self.body_of(placed).ok_or_else(|| wrong.clone())?;
            let chosen = ways.get_mut(placed.item).ok_or_else(|| wrong.clone())?;
            if chosen.is_some_and(|way| way != placed.way)
                || self.fixed.iter().any(|fixed| fixed.0 == body)
            {
                return Err(wrong);
            }
            *chosen = Some(placed.way);
            let pose = self.pose_of(body, placed, index)?;
            self.fixed.push((body, pose));
        }
        Ok(())
    }

    pub(crate) fn body_of(&self, placed: &Placed) -> Option<usize> {
        self.of
            .get(placed.item)?
            .get(placed.way)?
            .get(placed.part)
            .copied()
    }

    /// Where a placement lies for the engine; it may be in any bay of its room (the one it is nearest to), turned in any way.
    fn pose_of(
        &mut self,
        body: usize,
        placed: &Placed,
        index: usize,
    ) -> Result<Pose, ProblemError> {
        let wrong = ProblemError::Fixed(index);
        let middle = |stock: &Self| -> Option<Point> {
            let outline = stock.problem.lying(placed)?;
            Some(plane::bounds(&outline).center())
        };
        let at = middle(self).ok_or_else(|| wrong.clone())?;
        let nearest = |bay: &Bay| {
            -f64::from(
                bay.field
                    .within((at.x - bay.middle.x) as f32, (at.y - bay.middle.y) as f32),
            )
        };
        let (bay, _) = self
            .bays
            .iter()
            .enumerate()
            .filter(|(_, bay)| bay.room == placed.room)
            .min_by(|a, b| nearest(a.1).total_cmp(&nearest(b.1)))
            .ok_or_else(|| wrong.clone())?;
        let shape = self.shape_for(body, placed, index)?;
        let (Some(made), Some(place)) = (self.shapes.get(shape), self.bays.get(bay)) else {
            return Err(wrong);
        };
        let (sin, cos) = libm::sincos(placed.turn_deg.to_radians());
        let (mx, my) = (made.middle.x, made.middle.y);
        Ok(Pose {
            bay,
            shape,
            turn: placed.turn_deg.to_radians() as f32,
            x: (placed.x + cos * mx - sin * my - place.middle.x) as f32,
            y: (placed.y + sin * mx + cos * my - place.middle.y) as f32,
        })
    }

    /// The shape of a fixed part, made anew when it lies mirrored although it should not (it lies there, so it counts).
    fn shape_for(
        &mut self,
        body: usize,
        placed: &Placed,
        index: usize,
    ) -> Result<usize, ProblemError> {
        let wrong = ProblemError::Fixed(index);
        let part = self.problem.part(placed).ok_or_else(|| wrong.clone())?;
        let made = self.bodies.get(body).ok_or_else(|| wrong.clone())?;
        let position = match (part.mirror, placed.mirrored) {
            (Mirror::Never, false) | (Mirror::Always, true) | (Mirror::Either, false) => Some(0),
            (Mirror::Either, true) => Some(1),
            _ => None,
        };
        if let Some(shape) = position.and_then(|position| made.shapes.get(position)) {
            return Ok(*shape);
        }
        let shape = Shape::new(&part.outline, placed.mirrored, self.problem.gap, self.hair)
            .map_err(|why| ProblemError::Outline {
                what: What::Fixed(index),
                why,
            })?;
        self.shapes.push(shape);
        Ok(self.shapes.len() - 1)
    }

    /// Area of a body's outline, mm2.
    pub(crate) fn exact_area(&self, body: usize) -> f64 {
        let shape = self
            .bodies
            .get(body)
            .and_then(|made| self.shapes.get(*made.shapes.first()?));
        shape.map_or(0.0, |shape| plane::area(&shape.exact))
    }

    /// A pose as others see it.
    pub(crate) fn told(&self, body: usize, pose: &Pose) -> Option<Placed> {
        let made = self.bodies.get(body)?;
        let (bay, shape) = (self.bays.get(pose.bay)?, self.shapes.get(pose.shape)?);
        let mirrored = match self
            .problem
            .items
            .get(made.item)?
            .ways
            .get(made.way)?
            .parts
            .get(made.part)?
            .mirror
        {
            Mirror::Never => false,
            Mirror::Always => true,
            Mirror::Either => made.shapes.get(1) == Some(&pose.shape),
        };
        let turn_deg = made.turns.get(bay.room)?.told(pose.turn);
        let (sin, cos) = libm::sincos(turn_deg.to_radians());
        Some(Placed {
            item: made.item,
            way: made.way,
            part: made.part,
            room: bay.room,
            turn_deg,
            mirrored,
            x: f64::from(pose.x) - (cos * shape.middle.x - sin * shape.middle.y) + bay.middle.x,
            y: f64::from(pose.y) - (sin * shape.middle.x + cos * shape.middle.y) + bay.middle.y,
        })
    }
}

fn hair(bays: &[Bay]) -> f64 {
    let largest = bays
        .iter()
        .map(|bay| f64::from(bay.bounds.width().max(bay.bounds.height())))
        .fold(0.0, f64::max);
    largest * 0.5 * HAIR
}

fn check_numbers(problem: &Problem) -> Result<(), ProblemError> {
    let length = |value: f64| value.is_finite() && (0.0..FAR).contains(&value);
    if !length(problem.gap) {
        return Err(ProblemError::Number(What::Gap));
    }
    for (index, room) in problem.rooms.iter().enumerate() {
        let Room { margin, grain, .. } = room;
        if !length(*margin) || !grain.angle_deg.is_finite() || !grain.doubt_deg.is_finite() {
            return Err(ProblemError::Number(What::Room(index)));
        }
        near(&room.outline, What::Room(index))?;
        for (hole, outline) in room.holes.iter().enumerate() {
            near(outline, What::Hole(index, hole))?;
        }
        for (zone, outline) in room.zones.iter().enumerate() {
            near(&outline.polygon, What::Zone(index, zone))?;
        }
    }
    for (index, item) in problem.items.iter().enumerate() {
        check_item(index, item)?;
    }
    for (index, placed) in problem.fixed.iter().enumerate() {
        if [placed.turn_deg, placed.x, placed.y]
            .iter()
            .any(|value| !value.is_finite() || value.abs() > FAR)
        {
            return Err(ProblemError::Number(What::Fixed(index)));
        }
    }
    Ok(())
}

fn check_item(index: usize, item: &Item) -> Result<(), ProblemError> {
    for (way, cut) in item.ways.iter().enumerate() {
        check_way(index, way, cut)?;
    }
    Ok(())
}

fn check_way(item: usize, way: usize, cut: &Way) -> Result<(), ProblemError> {
    for (part, outline) in cut.parts.iter().enumerate() {
        let what = What::Part(item, way, part);
        let turns = outline
            .turns
            .iter()
            .all(|turn| turn.is_finite() && turn.abs() <= 36_000.0);
        if !turns || !outline.tolerance_deg.is_finite() || outline.tolerance_deg < 0.0 {
            return Err(ProblemError::Number(what));
        }
        near(&outline.outline, what)?;
    }
    Ok(())
}

fn near(outline: &[Point], what: What) -> Result<(), ProblemError> {
    if outline
        .iter()
        .all(|point| point.x.abs() <= FAR && point.y.abs() <= FAR)
    {
        return Ok(());
    }
    Err(ProblemError::Outline {
        what,
        why: OutlineFault::NotFinite,
    })
}
