//! What lies on the cloth table, and where: offcuts beside one another, the pieces on them, and in a row below the pieces
//! that wait. Plain values; nothing is painted here.

use std::sync::Arc;

use kurbo::{Affine, Point, Rect, Vec2};
use petitoile_core::LengthUnit;
use petitoile_core::cloth::Offcut;
use petitoile_core::geometry::polygon::Polygon;
use petitoile_core::lay_plan::{LayPlan, PartRef, Placed};
use petitoile_core::laying::{LayShape, ToLay, words};
use petitoile_lay::check_plan::PlanFault;
use petitoile_lay::lying;

/// Free table between two offcuts, as a share of the largest one's side.
const BETWEEN: f64 = 0.12;
/// Width of the table against its height.
const WIDE: f64 = 3.0;
/// Room between rows against that beside an offcut: its name and warp arrow stand above it.
const ABOVE: f64 = 1.8;
/// Length of a grain arrow, as a share of the room there is for it.
const GRAIN: f64 = 0.5;

/// Everything on the cloth table.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Laid {
    /// The offcuts.
    pub cloths: Vec<OnTable>,
    /// What lies on them, and after that what waits.
    pub parts: Vec<Part>,
}

/// One offcut where it lies on the table.
#[derive(Debug, Clone, PartialEq)]
pub struct OnTable {
    /// As the maker keeps it.
    pub offcut: Arc<Offcut>,
    /// As it is there for this fitting, what others have cut gone.
    pub left: Arc<Offcut>,
    /// From its own coordinates to the table.
    pub moved: Vec2,
    /// Around it on the table.
    pub bounds: Rect,
}

/// One part of a copy where it lies, on cloth or waiting.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Which.
    pub part: PartRef,
    /// "sleeve, left".
    pub name: String,
    /// Where it lies; `None`: it waits.
    pub placed: Option<Placed>,
    /// How it is cut; `None` for what was cut of a piece that is no longer wanted.
    pub shape: Option<LayShape>,
    /// Its lines on the table.
    pub lines: Lines,
    /// What is wrong with where it lies.
    pub faults: Vec<String>,
}

/// Lines of a part, in table coordinates.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Lines {
    /// The cut line.
    pub outline: Vec<Point>,
    /// Two ends of its grainline.
    pub grain: Option<(Point, Point)>,
    /// Where the cloth may be folded instead.
    pub fold: Option<(Point, Point)>,
    /// Seams that its piecing adds.
    pub joins: Vec<(Point, Point)>,
    /// Well inside it.
    pub middle: Point,
    /// Around it.
    pub bounds: Rect,
}

impl Part {
    /// Is it cut?
    pub fn is_cut(&self) -> bool {
        self.placed
            .as_ref()
            .is_some_and(|placed| placed.as_cut.is_some())
    }

    /// Is it pinned?
    pub fn is_pinned(&self) -> bool {
        self.placed.as_ref().is_some_and(|placed| placed.pinned)
    }

    /// What is read out: name, where it lies, what is wrong.
    pub fn label(&self) -> String {
        let mut label = match &self.placed {
            None => format!("{}, waits", self.name),
            Some(placed) => format!("{}, on {}", self.name, placed.offcut),
        };
        if self.is_cut() {
            label.push_str(", cut");
        } else if self.is_pinned() {
            label.push_str(", pinned");
        }
        for fault in &self.faults {
            label.push_str(", ");
            label.push_str(fault);
        }
        label
    }
}

/// What is laid out on the table.
#[derive(Clone, Copy)]
pub struct Scene<'a> {
    /// What is to be laid.
    pub to_lay: &'a ToLay,
    /// The offcuts as the maker keeps them.
    pub offcuts: &'a [Arc<Offcut>],
    /// The same as they are there for this fitting.
    pub left: &'a [Arc<Offcut>],
    /// Where things lie.
    pub plan: &'a LayPlan,
    /// What is wrong with it.
    pub faults: &'a [PlanFault],
    /// How lengths are told.
    pub unit: LengthUnit,
}

impl Laid {
    /// Lays everything out.
    pub fn of(scene: &Scene<'_>) -> Self {
        let cloths = cloths(scene.offcuts, scene.left);
        let mut parts: Vec<Part> = Vec::new();
        let mut waiting: Vec<(PartRef, String, LayShape)> = Vec::new();
        for copy in &scene.to_lay.copies {
            let shapes = lying::shapes_of(copy, scene.plan);
            for (number, shape) in shapes.iter().enumerate() {
                let part = PartRef {
                    of: copy.of.clone(),
                    part: number,
                };
                // A piecing that no longer works cuts nothing: the copy counts as whole then.
                let piecing = scene.plan.piecing(&copy.of);
                let name = words::part(&part, piecing.filter(|_| shapes.len() > 1));
                match scene.plan.placed(&part) {
                    Some(placed) => {
                        parts.extend(lying_part(
                            scene,
                            &cloths,
                            placed,
                            name,
                            Some(shape.clone()),
                        ));
                    }
                    None => waiting.push((part, name, shape.clone())),
                }
            }
        }
        // What was cut of something that is no longer wanted still has its cloth.
        for placed in &scene.plan.placed {
            let part = placed.part_ref();
            if parts.iter().all(|one| one.part != part) {
                let name = words::part(&part, scene.plan.piecing(&placed.of()));
                parts.extend(lying_part(scene, &cloths, placed, name, None));
            }
        }
        let below = cloths.iter().fold(None, |around: Option<Rect>, cloth| {
            Some(around.map_or(cloth.bounds, |a| a.union(cloth.bounds)))
        });
        parts.extend(row_below(scene, below, waiting));
        Self { cloths, parts }
    }

    /// Around everything.
    pub fn bounds(&self) -> Option<Rect> {
        let all = self.cloths.iter().map(|cloth| cloth.bounds);
        all.chain(self.parts.iter().map(|part| part.lines.bounds))
            .reduce(|a, b| a.union(b))
    }

    /// The offcut of this name.
    pub fn cloth(&self, name: &str) -> Option<&OnTable> {
        self.cloths.iter().find(|cloth| cloth.offcut.name == name)
    }

    /// This part.
    pub fn part(&self, part: &PartRef) -> Option<&Part> {
        self.parts.iter().find(|one| one.part == *part)
    }

    /// The uppermost part at a place.
    pub fn part_at(&self, p: Point) -> Option<&Part> {
        self.parts.iter().rev().find(|part| {
            part.lines.bounds.contains(p)
                && Polygon::new(part.lines.outline.clone()).winding(p) != 0
        })
    }

    /// The offcut at a place.
    pub fn cloth_at(&self, p: Point) -> Option<&OnTable> {
        self.cloths.iter().find(|cloth| {
            cloth.bounds.contains(p)
                && Polygon::new(cloth.offcut.outline.clone()).winding(p - cloth.moved) != 0
        })
    }

    /// Place of a piece or a part on the table, by its name.
    pub fn place_of(&self, name: &str) -> Option<(&Part, Rect)> {
        let by_part = self.parts.iter().find(|part| part.name == name);
        let found = by_part.or_else(|| self.parts.iter().find(|part| part.part.of.piece == name));
        found.map(|part| (part, part.lines.bounds))
    }
}

/// Offcuts in rows, left to right.
fn cloths(offcuts: &[Arc<Offcut>], left: &[Arc<Offcut>]) -> Vec<OnTable> {
    let all: Vec<Rect> = offcuts.iter().map(|offcut| offcut.bounds()).collect();
    let largest = all
        .iter()
        .map(|bounds| bounds.width().max(bounds.height()))
        .fold(0.0, f64::max);
    let gap = (largest * BETWEEN).max(4.0);
    let area: f64 = all
        .iter()
        .map(|bounds| (bounds.width() + gap) * (bounds.height() + gap))
        .sum();
    let widest = all.iter().map(Rect::width).fold(0.0, f64::max);
    let row = (area * WIDE).sqrt().max(widest);
    let (mut x, mut y, mut tall) = (0.0, 0.0, 0.0_f64);
    offcuts
        .iter()
        .zip(all)
        .map(|(offcut, bounds)| {
            if x > 0.0 && x + bounds.width() > row {
                (x, y) = (0.0, y - tall - gap * ABOVE);
                tall = 0.0;
            }
            // Rows hang from their upper edge.
            let moved = Vec2::new(x - bounds.x0, y - bounds.y1);
            x += bounds.width() + gap;
            tall = tall.max(bounds.height());
            let there = left.iter().find(|one| one.name == offcut.name);
            OnTable {
                offcut: offcut.clone(),
                left: there.unwrap_or(offcut).clone(),
                moved,
                bounds: bounds + moved,
            }
        })
        .collect()
}

fn lying_part(
    scene: &Scene<'_>,
    cloths: &[OnTable],
    placed: &Placed,
    name: String,
    shape: Option<LayShape>,
) -> Option<Part> {
    let cloth = cloths
        .iter()
        .find(|cloth| cloth.offcut.name == placed.offcut)?;
    let part = placed.part_ref();
    let faults = scene
        .faults
        .iter()
        .filter(|fault| fault.part == part)
        .map(|fault| fault.what(scene.unit));
    Some(Part {
        lines: lines_of(scene, placed, shape.as_ref(), cloth.moved)?,
        name,
        faults: faults.collect(),
        placed: Some(placed.clone()),
        shape,
        part,
    })
}

/// Lines of a part that lies on an offcut, or is held over the table.
pub fn lines_of(
    scene: &Scene<'_>,
    placed: &Placed,
    shape: Option<&LayShape>,
    moved: Vec2,
) -> Option<Lines> {
    let table_from_piece = Affine::translate(moved) * placed.offcut_from_piece();
    let outline: Vec<Point> = match (&placed.as_cut, shape) {
        (Some(cut), _) => cut.iter().map(|p| *p + moved).collect(),
        (None, Some(shape)) => shape
            .outline
            .iter()
            .map(|p| table_from_piece * *p)
            .collect(),
        (None, None) => return None,
    };
    let joins = scene
        .plan
        .piecing(&placed.of())
        .map(|piecing| piecing.lines.clone())
        .unwrap_or_default();
    Some(lines(outline, shape, table_from_piece, &joins))
}

fn lines(
    outline: Vec<Point>,
    shape: Option<&LayShape>,
    table_from_piece: Affine,
    joins: &[(Point, Point)],
) -> Lines {
    let inside = Polygon::new(outline.clone());
    let middle = inside.deepest();
    let linear = |v: Vec2| table_from_piece * v.to_point() - table_from_piece * Point::ZERO;
    let grain = shape.and_then(|shape| {
        let angle = shape.grain.0.to_radians();
        let along = linear(Vec2::new(-angle.sin(), angle.cos()));
        let (a, b) = inside.chord(middle, along)?;
        let half = 0.5 * (1.0 - GRAIN);
        let (low, high) = (a.lerp(b, half), a.lerp(b, 1.0 - half));
        // The second end is the upper one of the piece.
        Some(if (high - low).dot(along) < 0.0 {
            (high, low)
        } else {
            (low, high)
        })
    });
    let fold = shape
        .and_then(|shape| shape.fold)
        .map(|fold| (table_from_piece * fold.p0, table_from_piece * fold.p1));
    let joins = joins.iter().filter_map(|(a, b)| {
        let (a, b) = (table_from_piece * *a, table_from_piece * *b);
        let through = (1..8).map(|i| a.lerp(b, f64::from(i) / 8.0));
        let at = through.into_iter().find(|p| inside.winding(*p) != 0)?;
        inside.chord(at, b - a)
    });
    Lines {
        grain,
        fold,
        joins: joins.collect(),
        middle,
        bounds: inside.bounds(),
        outline,
    }
}

/// What waits, in rows under the offcuts, with the grain upright.
fn row_below(
    scene: &Scene<'_>,
    above: Option<Rect>,
    waiting: Vec<(PartRef, String, LayShape)>,
) -> Vec<Part> {
    let resting: Vec<(PartRef, String, LayShape, Rect)> = waiting
        .into_iter()
        .map(|(part, name, shape)| {
            let at_rest = at_rest(&shape);
            let around = Polygon::new(shape.outline.iter().map(|p| at_rest * *p).collect());
            (part, name, shape, around.bounds())
        })
        .collect();
    let area: f64 = resting
        .iter()
        .map(|(.., bounds)| bounds.width() * bounds.height())
        .sum();
    let largest = resting
        .iter()
        .map(|(.., bounds)| bounds.width().max(bounds.height()))
        .fold(0.0, f64::max);
    let gap = (largest * 0.12).max(4.0);
    let wide = above.map_or(0.0, |above| above.width());
    let row = (area * 2.5).sqrt().max(wide).max(largest);
    let left = above.map_or(0.0, |above| above.x0);
    let mut y = above.map_or(0.0, |above| above.y0 - gap * 2.0);
    let (mut x, mut tall) = (left, 0.0_f64);
    resting
        .into_iter()
        .map(|(part, name, shape, bounds)| {
            if x > left && x - left + bounds.width() > row {
                (x, y) = (left, y - tall - gap);
                tall = 0.0;
            }
            let moved = Affine::translate(Vec2::new(x - bounds.x0, y - bounds.y1));
            x += bounds.width() + gap;
            tall = tall.max(bounds.height());
            let table_from_piece = moved * at_rest(&shape);
            let outline = shape.outline.iter().map(|p| table_from_piece * *p);
            let joins = scene.plan.piecing(&part.of);
            let joins = joins.map(|piecing| piecing.lines.clone());
            Part {
                lines: lines(
                    outline.collect(),
                    Some(&shape),
                    table_from_piece,
                    &joins.unwrap_or_default(),
                ),
                name,
                placed: None,
                shape: Some(shape),
                faults: Vec::new(),
                part,
            }
        })
        .collect()
}

/// How a waiting shape is turned: grain upright, mirrored as it will be cut.
fn at_rest(shape: &LayShape) -> Affine {
    let (mirror, grain) = if shape.mirrored {
        (Affine::scale_non_uniform(-1.0, 1.0), -shape.grain.0)
    } else {
        (Affine::IDENTITY, shape.grain.0)
    };
    Affine::rotate(-grain.to_radians()) * mirror
}

#[cfg(test)]
#[allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]
mod tests {
    use petitoile_core::Mm;

    use super::*;

    #[test]
    fn offcuts_lie_beside_one_another_and_never_over_one_another() {
        let offcut = |name: &str, width: f64, height: f64| {
            Arc::new(Offcut::rectangle(name, "linen", Mm(width), Mm(height)).unwrap())
        };
        let all = [
            offcut("A", 300.0, 200.0),
            offcut("B", 120.0, 260.0),
            offcut("C", 500.0, 80.0),
            offcut("D", 90.0, 90.0),
        ];
        let cloths = cloths(&all, &all);
        for (i, a) in cloths.iter().enumerate() {
            for b in cloths.iter().skip(i + 1) {
                let both = a.bounds.intersect(b.bounds);
                assert!(both.width() <= 0.0 || both.height() <= 0.0, "{both:?}");
            }
        }
    }
}
