//! Lines and fills ready to paint: flattened and tessellated once, kept until the table or the zoom changes much.
//!
//! Fills go through lyon, because a piece is seldom convex. A piece whose lines did not change keeps its shapes when
//! the rest of the table is worked out anew.

use std::sync::Arc;

use kurbo::{BezPath, PathEl};
use lyon::math::point;
use lyon::tessellation::{BuffersBuilder, FillOptions, FillTessellator, FillVertex, VertexBuffers};

use super::shown::{ShownPiece, Table};

/// Points of a line and where it is closed, mm.
pub type Flat = Vec<[f32; 2]>;

/// A filled area as triangles, mm.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Fill {
    /// Corners.
    pub corners: Vec<[f32; 2]>,
    /// Three corners for each triangle.
    pub triangles: Vec<u32>,
}

/// One piece ready to paint, in its own coordinates.
#[derive(Debug, Clone, Default)]
pub struct PieceShapes {
    /// Cut line.
    pub cut: Flat,
    /// Stitch line.
    pub stitch: Flat,
    /// Source behind it.
    pub ghost: Flat,
    /// Inside of the cut line.
    pub cut_fill: Fill,
    /// Inside of the stitch line.
    pub stitch_fill: Fill,
    /// Lines along which cloth is folded.
    pub fold_lines: Vec<Flat>,
    /// Lines sewn inside.
    pub sew_lines: Vec<Flat>,
    /// Dots, buttonholes and lines marked inside, stroke by stroke.
    pub marks: Vec<Flat>,
    /// Stitch line of every edge.
    pub edges: Vec<Flat>,
}

/// Shapes of the table that was painted last.
#[derive(Default)]
pub struct Shapes {
    table: Option<Arc<Table>>,
    step: i32,
    pieces: Vec<Arc<PieceShapes>>,
}

impl Shapes {
    /// Shapes of every piece of this table, fine enough for this scale (screen points per mm).
    pub fn of(&mut self, table: &Arc<Table>, scale: f64) -> &[Arc<PieceShapes>] {
        let step = (scale.max(1e-3).ln() / 4.0_f64.ln()).ceil() as i32;
        let same_table = self
            .table
            .as_ref()
            .is_some_and(|old| Arc::ptr_eq(old, table));
        if !same_table || step != self.step {
            let tolerance = 0.25 / 4.0_f64.powi(step);
            let old = self.table.take().filter(|_| step == self.step);
            self.pieces = table
                .pieces
                .iter()
                .enumerate()
                .map(|(i, piece)| self.kept(old.as_deref(), i, piece, tolerance))
                .collect();
            self.table = Some(table.clone());
            self.step = step;
        }
        &self.pieces
    }

    fn kept(
        &self,
        old: Option<&Table>,
        i: usize,
        piece: &ShownPiece,
        tolerance: f64,
    ) -> Arc<PieceShapes> {
        let before = old
            .and_then(|table| table.pieces.get(i))
            .zip(self.pieces.get(i));
        match before {
            Some((was, shapes)) if same_lines(was, piece) => shapes.clone(),
            _ => Arc::new(PieceShapes::of(piece, tolerance)),
        }
    }
}

fn same_lines(a: &ShownPiece, b: &ShownPiece) -> bool {
    a.cut == b.cut
        && a.stitch == b.stitch
        && a.ghost == b.ghost
        && a.fold_lines == b.fold_lines
        && a.sew_lines == b.sew_lines
        && a.marks == b.marks
}

impl PieceShapes {
    fn of(piece: &ShownPiece, tolerance: f64) -> Self {
        let (cut, stitch) = (flat(&piece.cut, tolerance), flat(&piece.stitch, tolerance));
        let many = |paths: &[BezPath]| paths.iter().map(|path| flat(path, tolerance)).collect();
        Self {
            cut_fill: fill(&cut),
            stitch_fill: fill(&stitch),
            ghost: piece
                .ghost
                .as_ref()
                .map(|ghost| flat(ghost, tolerance))
                .unwrap_or_default(),
            fold_lines: many(&piece.fold_lines),
            sew_lines: many(&piece.sew_lines),
            marks: piece
                .marks
                .iter()
                .flat_map(|path| strokes(path, tolerance))
                .collect(),
            edges: piece
                .edges
                .iter()
                .map(|edge| flat(&edge.line, tolerance))
                .collect(),
            cut,
            stitch,
        }
    }
}

/// A path as points; a closed one does not repeat its first point.
pub fn flat(path: &BezPath, tolerance: f64) -> Flat {
    let mut points: Flat = Vec::new();
    let mut closed = false;
    kurbo::flatten(path, tolerance, |el| match el {
        PathEl::MoveTo(p) | PathEl::LineTo(p) => {
            let p = [p.x as f32, p.y as f32];
            if points.last() != Some(&p) {
                points.push(p);
            }
        }
        PathEl::ClosePath => closed = true,
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    if closed && points.len() > 1 && points.first() == points.last() {
        points.pop();
    }
    points
}

/// A path as lines, one for each time the pen is set down.
pub fn strokes(path: &BezPath, tolerance: f64) -> Vec<Flat> {
    let mut all: Vec<Flat> = Vec::new();
    kurbo::flatten(path, tolerance, |el| match el {
        PathEl::MoveTo(p) => all.push(vec![[p.x as f32, p.y as f32]]),
        PathEl::LineTo(p) => {
            if let Some(line) = all.last_mut() {
                line.push([p.x as f32, p.y as f32]);
            }
        }
        PathEl::ClosePath => {
            if let Some(line) = all.last_mut() {
                line.extend(line.first().copied());
            }
        }
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    all
}

/// Triangles inside a closed line, whatever its shape.
pub fn fill(points: &[[f32; 2]]) -> Fill {
    let mut builder = lyon::path::Path::builder();
    let mut rest = points.iter().map(|[x, y]| point(*x, *y));
    let Some(first) = rest.next() else {
        return Fill::default();
    };
    builder.begin(first);
    for p in rest {
        builder.line_to(p);
    }
    builder.end(true);
    let mut buffers: VertexBuffers<[f32; 2], u32> = VertexBuffers::new();
    let mut out = BuffersBuilder::new(&mut buffers, |vertex: FillVertex<'_>| {
        vertex.position().to_array()
    });
    match FillTessellator::new().tessellate_path(
        &builder.build(),
        &FillOptions::non_zero(),
        &mut out,
    ) {
        Ok(()) => Fill {
            corners: buffers.vertices,
            triangles: buffers.indices,
        },
        // A line that lyon cannot fill is still painted as a line.
        Err(_) => Fill::default(),
    }
}

#[cfg(test)]
#[allow(clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;

    fn area(fill: &Fill) -> f32 {
        let corner = |i: u32| fill.corners[i as usize];
        fill.triangles
            .chunks(3)
            .map(|t| {
                let (a, b, c) = (corner(t[0]), corner(t[1]), corner(t[2]));
                (0.5 * ((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]))).abs()
            })
            .sum()
    }

    #[test]
    fn the_triangles_of_a_hollow_piece_have_exactly_its_area() {
        // An L: 40 x 40 less 30 x 30.
        let l = [
            [0.0, 0.0],
            [40.0, 0.0],
            [40.0, 10.0],
            [10.0, 10.0],
            [10.0, 40.0],
            [0.0, 40.0],
        ];
        assert!((area(&fill(&l)) - 700.0).abs() < 0.01);
        // A neckline scooped out of a square: 100 x 100 less half a circle of radius 30.
        let mut neck = vec![[0.0, 0.0], [100.0, 0.0], [100.0, 100.0], [80.0, 100.0]];
        let steps = 400;
        neck.extend((1..steps).map(|i| {
            let a = std::f32::consts::PI * i as f32 / steps as f32;
            [50.0 + 30.0 * a.cos(), 100.0 - 30.0 * a.sin()]
        }));
        neck.extend([[20.0, 100.0], [0.0, 100.0]]);
        let truth = 10_000.0 - 0.5 * std::f32::consts::PI * 900.0;
        assert!(
            (area(&fill(&neck)) - truth).abs() < 1.0,
            "{}",
            area(&fill(&neck))
        );
    }
}
