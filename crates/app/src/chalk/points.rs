//! The control points of a piece as handles: corners, points on lines, steering points, middles of edges.

use kurbo::Point;
use petitoile_core::alteration::PointRef;
use petitoile_core::edge::Edge;
use petitoile_core::piece::Piece;

use super::hand::Hand;
use super::made::edge_before;
use super::tool::{Handle, HandleLook};

/// What a handle stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Grip {
    /// A control point.
    Point(PointRef),
    /// A whole edge, taken by its middle.
    Edge(String),
}

impl Grip {
    /// Its handle's name.
    pub fn id(&self) -> String {
        match self {
            Self::Point(point) => format!("point {} {}", point.number, point.edge),
            Self::Edge(edge) => format!("edge {edge}"),
        }
    }

    /// The grip of a handle.
    pub fn of(id: &str) -> Option<Self> {
        let (kind, rest) = id.split_once(' ')?;
        match kind {
            "edge" => Some(Self::Edge(rest.to_owned())),
            "point" => {
                let (number, edge) = rest.split_once(' ')?;
                Some(Self::Point(PointRef::new(edge, number.parse().ok()?)))
            }
            _ => None,
        }
    }

    /// The points that move with it: itself, or all of the edge with its corners.
    pub fn points(&self, piece: &Piece) -> Vec<PointRef> {
        match self {
            Self::Point(point) => vec![point.clone()],
            Self::Edge(name) => {
                let Some(edge) = piece.outline.edge(name) else {
                    return Vec::new();
                };
                let mut points = on_line(edge);
                points.extend(edge_after(piece, name).map(|next| PointRef::new(next, 0)));
                points
            }
        }
    }
}

/// The corner where an edge starts and its points on the line.
fn on_line(edge: &Edge) -> Vec<PointRef> {
    (0..edge.line.points().len().saturating_sub(1))
        .step_by(3)
        .map(|number| PointRef::new(&edge.name, number))
        .collect()
}

fn edge_after<'a>(piece: &'a Piece, edge: &str) -> Option<&'a str> {
    let edges = piece.outline.edges();
    let number = piece.outline.index_of(edge)?;
    Some(&edges.get((number + 1) % edges.len())?.name)
}

/// Where a point is, in the coordinates of its piece.
pub fn place(piece: &Piece, point: &PointRef) -> Option<Point> {
    let line = &piece.outline.edge(&point.edge)?.line;
    line.points().get(point.number).copied()
}

/// Corners and points on lines that lie in a box on the table.
pub fn in_box(hand: &Hand<'_>, piece: &Piece, of: kurbo::Rect) -> Vec<PointRef> {
    let points = piece.outline.edges().iter().flat_map(on_line);
    points
        .filter(|point| {
            place(piece, point).is_some_and(|at| of.contains(hand.on_table(&piece.name, at)))
        })
        .collect()
}

/// Every handle of a piece. Straight edges need no steering points.
pub fn handles(hand: &Hand<'_>, piece: &Piece, chosen: &[PointRef]) -> Vec<Handle> {
    let mut handles = Vec::new();
    for edge in piece.outline.edges() {
        for (number, at) in points_of(edge) {
            let point = PointRef::new(&edge.name, number);
            let look = match number {
                0 => HandleLook::Corner,
                _ if number % 3 == 0 => HandleLook::Point,
                _ => HandleLook::Steering,
            };
            handles.push(Handle {
                at: hand.on_table(&piece.name, at),
                label: words(piece, &point),
                look,
                chosen: chosen.contains(&point),
                id: Grip::Point(point).id(),
            });
        }
        handles.push(Handle {
            id: Grip::Edge(edge.name.clone()).id(),
            at: hand.on_table(&piece.name, edge.line.at(0.5)),
            label: format!("{}, {}, whole edge", piece.name, edge.name),
            look: HandleLook::Edge,
            chosen: false,
        });
    }
    handles
}

fn points_of(edge: &Edge) -> Vec<(usize, Point)> {
    let points = edge.line.points();
    let inner = points.len().saturating_sub(1);
    let shown = points.iter().copied().enumerate().take(inner);
    let straight = edge.line.is_straight();
    shown
        .filter(|(number, _)| number % 3 == 0 || !straight)
        .collect()
}

/// What a point is called: "Front, corner of waist and side".
pub fn words(piece: &Piece, point: &PointRef) -> String {
    let (name, edge) = (&piece.name, &point.edge);
    match (point.number, edge_before(piece, edge)) {
        (0, Some(before)) => format!("{name}, corner of {before} and {edge}"),
        (0, None) => format!("{name}, corner at the start of {edge}"),
        (number, _) if number % 3 == 0 => format!("{name}, {edge}, point {}", number / 3),
        (number, _) => {
            let steering = number - number / 3;
            format!("{name}, {edge}, steering point {steering}")
        }
    }
}
