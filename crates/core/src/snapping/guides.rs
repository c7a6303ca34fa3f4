//! Helping lines: endless straight lines a place can snap to.

use kurbo::{Line, Point, Vec2};

use super::{Scene, Snapping, far_from, foot, is_moving, points};
use crate::geometry::curve::direction_on;
use crate::tolerance::JOINING;

/// An endless straight line with what it means.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Guide {
    /// A point it goes through: where its stroke on the table starts.
    pub(super) through: Point,
    /// Its direction, length 1.
    pub(super) way: Vec2,
    /// What it is, in the maker's words.
    pub(super) words: String,
}

impl Guide {
    fn new(through: Point, way: Vec2, words: impl Into<String>) -> Option<Self> {
        let length = way.hypot();
        (length > 0.0 && length.is_finite()).then(|| Self {
            through,
            way: way / length,
            words: words.into(),
        })
    }

    /// The place on it that is nearest to a point.
    pub(super) fn nearest(&self, p: Point) -> Point {
        self.through + self.way * (p - self.through).dot(self.way)
    }

    /// Where two cross, unless they are nearly parallel.
    pub(super) fn meets(&self, other: &Self) -> Option<Point> {
        let cross = self.way.cross(other.way);
        // Below 5 degrees the meeting point runs away from under the hand.
        (cross.abs() > 0.087).then(|| {
            let along = (other.through - self.through).cross(other.way) / cross;
            self.through + self.way * along
        })
    }

    /// The part of it around a place.
    pub(super) fn around(&self, p: Point, reach: f64) -> Line {
        let middle = self.nearest(p);
        Line::new(
            middle - self.way * (2.0 * reach),
            middle + self.way * (2.0 * reach),
        )
    }
}

/// The helping lines within reach of the pointer.
pub(super) fn guides(scene: &Scene, pointer: Point, reach: f64, to: Snapping) -> Vec<Guide> {
    let mut found = from_start(scene, pointer, reach, to);
    if to.level {
        found.extend(level_with_points(scene, pointer, reach));
    }
    for (piece, moved) in &scene.pieces {
        if to.body_lines {
            found.extend(piece.body_lines.iter().filter_map(|line| {
                let (a, b) = (piece.point_at(&line.from)?, piece.point_at(&line.to)?);
                let level = line.level.label().to_lowercase();
                Guide::new(a + *moved, b - a, format!("{level} line of {}", piece.name))
            }));
        }
        if to.fold {
            found.extend(piece.fold_edge().and_then(|edge| {
                let (a, b) = (edge.line.start(), edge.line.end());
                let moves = scene.moving.is_some_and(|m| {
                    let way = b - a;
                    ((m - *moved - a).cross(way) / way.hypot().max(JOINING.0)).abs() <= JOINING.0
                });
                let words = format!("fold of {}", piece.name);
                (!moves)
                    .then(|| Guide::new(a + *moved, b - a, words))
                    .flatten()
            }));
        }
    }
    found.retain(|guide| (guide.nearest(pointer) - pointer).hypot() <= reach);
    found
}

/// Level and upright from where the line starts, square to the line before, square to an edge.
fn from_start(scene: &Scene, pointer: Point, reach: f64, to: Snapping) -> Vec<Guide> {
    let Some(start) = scene.start else {
        return Vec::new();
    };
    let mut found: Vec<Option<Guide>> = Vec::new();
    if to.squares {
        if let Some(before) = start.before {
            let square = Vec2::new(-before.y, before.x);
            found.push(Guide::new(start.at, square, "square to the line before"));
            found.push(Guide::new(start.at, before, "straight on"));
        }
        found.extend(square_to_edges(scene, start.at, pointer, reach));
    }
    if to.level {
        found.push(Guide::new(start.at, Vec2::new(1.0, 0.0), "level"));
        found.push(Guide::new(start.at, Vec2::new(0.0, 1.0), "upright"));
    }
    // "Level" is said rather than "square to the line before" only where there is no line before.
    let mut kept: Vec<Guide> = Vec::new();
    for guide in found.into_iter().flatten() {
        if kept
            .iter()
            .all(|other| other.way.cross(guide.way).abs() > 1e-6)
        {
            kept.push(guide);
        }
    }
    kept
}

/// The way from an edge the line starts on, square to it; and the way to an edge near the pointer, square to that.
fn square_to_edges(scene: &Scene, start: Point, pointer: Point, reach: f64) -> Vec<Option<Guide>> {
    let mut found = Vec::new();
    for (piece, moved) in &scene.pieces {
        for edge in piece.outline.edges() {
            for cubic in edge.line.cubics() {
                let words = || format!("square to {} of {}", edge.name, piece.name);
                if !far_from(&cubic, start - *moved, JOINING.0) {
                    let near = kurbo::ParamCurveNearest::nearest(&cubic, start - *moved, JOINING.0);
                    if near.distance_sq.sqrt() <= JOINING.0 {
                        let way = direction_on(&cubic, near.t);
                        found.push(Guide::new(start, Vec2::new(-way.y, way.x), words()));
                    }
                }
                if !far_from(&cubic, pointer - *moved, 2.0 * reach) {
                    let square = foot(&cubic, start - *moved).map(|(at, _)| at + *moved);
                    found.extend(square.map(|at| Guide::new(start, at - start, words())));
                }
            }
        }
    }
    found
}

/// Level with, or upright over, the point whose level comes nearest.
fn level_with_points(scene: &Scene, pointer: Point, reach: f64) -> Vec<Guide> {
    let nearest = |distance: fn(Point, Point) -> f64| {
        points(scene)
            .filter(|(at, _)| !is_moving(scene, *at))
            .filter(|(at, _)| {
                scene
                    .start
                    .is_none_or(|start| (start.at - *at).hypot() > JOINING.0)
            })
            .filter(|(at, _)| distance(*at, pointer) <= reach)
            .min_by(|a, b| {
                let by_level = distance(a.0, pointer).total_cmp(&distance(b.0, pointer));
                by_level.then((a.0 - pointer).hypot().total_cmp(&(b.0 - pointer).hypot()))
            })
    };
    let level = nearest(|a, b| (a.y - b.y).abs()).and_then(|(at, name)| {
        Guide::new(
            at,
            Vec2::new(1.0, 0.0),
            format!("level with {}", name.words()),
        )
    });
    let upright = nearest(|a, b| (a.x - b.x).abs()).and_then(|(at, name)| {
        let side = if pointer.y >= at.y { "above" } else { "below" };
        Guide::new(at, Vec2::new(0.0, 1.0), format!("{side} {}", name.words()))
    });
    level.into_iter().chain(upright).collect()
}
