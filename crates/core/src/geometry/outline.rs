//! A closed line of named edges, checked once; afterwards the type is the proof.

use kurbo::{BezPath, Point, Rect, Shape};
use serde::{Deserialize, Serialize};

use crate::edge::Edge;
use crate::tolerance::JOINING;

/// A closed line of named edges, counter-clockwise, each starting where the one before ends.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Vec<Edge>", into = "Vec<Edge>")]
pub struct Outline {
    edges: Vec<Edge>,
}

/// Why a list of edges is not an outline.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum OutlineError {
    /// No edge at all.
    #[error("an outline needs at least one edge")]
    Empty,
    /// Two neighbours do not meet.
    #[error("edge {edge} starts {gap:.2} mm away from the end of the edge before it; join them")]
    Open {
        /// The edge that starts elsewhere.
        edge: String,
        /// How far apart, mm.
        gap: f64,
    },
    /// Two edges have one name.
    #[error("two edges are called {0}; give each a name of its own")]
    SameName(String),
    /// No area inside.
    #[error("the outline holds no area")]
    Flat,
}

impl TryFrom<Vec<Edge>> for Outline {
    type Error = OutlineError;
    fn try_from(edges: Vec<Edge>) -> Result<Self, OutlineError> {
        Self::new(edges)
    }
}

impl From<Outline> for Vec<Edge> {
    fn from(outline: Outline) -> Self {
        outline.edges
    }
}

impl Outline {
    /// Checks that the edges close, and turns a clockwise list round (edges reversed, order reversed).
    ///
    /// # Errors
    /// [`OutlineError`] when the edges do not meet within [`JOINING`], share a name, or hold no area.
    pub fn new(edges: Vec<Edge>) -> Result<Self, OutlineError> {
        let Some(last) = edges.last() else {
            return Err(OutlineError::Empty);
        };
        let mut before = last.line.end();
        for (i, edge) in edges.iter().enumerate() {
            let gap = (edge.line.start() - before).hypot();
            if JOINING.0 < gap {
                return Err(OutlineError::Open {
                    edge: edge.name.clone(),
                    gap,
                });
            }
            if edges.iter().take(i).any(|other| other.name == edge.name) {
                return Err(OutlineError::SameName(edge.name.clone()));
            }
            before = edge.line.end();
        }
        let outline = Self { edges };
        let area = outline.path().area();
        if area.abs() <= JOINING.0 * JOINING.0 {
            return Err(OutlineError::Flat);
        }
        if area > 0.0 {
            return Ok(outline);
        }
        Ok(Self {
            edges: outline
                .edges
                .into_iter()
                .rev()
                .map(Edge::reversed)
                .collect(),
        })
    }

    /// The edges in order, counter-clockwise.
    pub fn edges(&self) -> &[Edge] {
        &self.edges
    }

    /// The edge of this name.
    pub fn edge(&self, name: &str) -> Option<&Edge> {
        self.edges.iter().find(|edge| edge.name == name)
    }

    /// Place of the edge of this name in [`Self::edges`].
    pub fn index_of(&self, name: &str) -> Option<usize> {
        self.edges.iter().position(|edge| edge.name == name)
    }

    /// The whole outline as one closed path.
    pub fn path(&self) -> BezPath {
        let mut path = BezPath::new();
        for edge in &self.edges {
            if path.is_empty() {
                path.move_to(edge.line.start());
            }
            for c in edge.line.cubics() {
                path.curve_to(c.p1, c.p2, c.p3);
            }
        }
        path.close_path();
        path
    }

    /// Smallest upright rectangle around the outline.
    pub fn bounds(&self) -> Rect {
        self.path().bounding_box()
    }

    /// Area inside, mm2.
    pub fn area(&self) -> f64 {
        self.path().area()
    }

    /// Is the point inside?
    pub fn contains(&self, point: Point) -> bool {
        self.path().contains(point)
    }

    /// The same edges on other lines, one new line per edge in order.
    ///
    /// # Errors
    /// [`OutlineError`] as in [`Self::new`].
    pub fn with_lines(
        &self,
        lines: Vec<crate::geometry::curve::Line>,
    ) -> Result<Self, OutlineError> {
        Self::new(
            self.edges
                .iter()
                .zip(lines)
                .map(|(edge, line)| Edge {
                    line,
                    ..edge.clone()
                })
                .collect(),
        )
    }
}
