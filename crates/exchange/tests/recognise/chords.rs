//! Outlines as cutters and old programs draw them: short chords, an edge or less to a stroke, ends rounded.

use petitoile_core::finish::Finished;
use petitoile_core::kurbo::{Affine, BezPath, PathEl, Point, Shape, Vec2};
use petitoile_exchange::bring_in::recognise::{Choices, recognise};
use petitoile_exchange::bring_in::{FoundLine, FoundSheet};

use super::demo::GARMENTS;
use super::tally::apart;

/// How far the curve found may lie from the true one, mm: chords, rounding, and what lies between their ends.
const OFF: f64 = 0.06;

/// How far chords lie from the curve, mm.
const TOLERANCE: f64 = 0.02;

fn rounded(p: Point) -> Point {
    Point::new((p.x * 100.0).round() / 100.0, (p.y * 100.0).round() / 100.0)
}

/// A closed path as strokes of chords, cut at every joint of its curves and in their middles.
fn strokes(path: &BezPath, at: Affine, dash: &[f64]) -> Vec<FoundLine> {
    let mut all: Vec<Vec<Point>> = vec![Vec::new()];
    for segment in (at * path.clone()).segments() {
        let mut points: Vec<Point> = Vec::new();
        let mut one = BezPath::new();
        one.move_to(petitoile_core::kurbo::ParamCurve::start(&segment));
        one.push(segment.as_path_el());
        petitoile_core::kurbo::flatten(one.iter(), TOLERANCE, |el| match el {
            PathEl::MoveTo(p) | PathEl::LineTo(p) => points.push(rounded(p)),
            _ => {}
        });
        all.push(points);
    }
    all.retain(|points| points.len() > 1 && points[0] != points[points.len() - 1]);
    all.into_iter()
        .enumerate()
        .map(|(i, mut points)| {
            if i % 3 == 1 {
                points.reverse();
            }
            let mut path = BezPath::new();
            path.move_to(points[0]);
            points[1..].iter().for_each(|p| path.line_to(*p));
            FoundLine {
                path,
                closed: false,
                layer: String::new(),
                groups: vec![],
                colour: [0, 0, 0],
                width: 0.2,
                dash: dash.to_vec(),
                filled: false,
                meaning: None,
            }
        })
        .collect()
}

fn sheet(garment: &Finished) -> (FoundSheet, Vec<Affine>) {
    let mut found = FoundSheet::default();
    let mut x = 0.0;
    let mut places = Vec::new();
    for (i, piece) in garment.pieces.iter().enumerate() {
        let turn = Affine::rotate(0.2 + 0.9 * i as f64);
        let b = (turn * piece.cut.clone()).bounding_box();
        let at = Affine::translate(Vec2::new(x - b.x0, -b.y0)) * turn;
        x += b.width() + 12.0;
        found.lines.extend(strokes(&piece.cut, at, &[]));
        found.lines.extend(strokes(&piece.stitch, at, &[2.0, 1.0]));
        places.push(at);
    }
    // In no order at all.
    let n = found.lines.len();
    let shares = |a: usize, b: usize| (2..=a).any(|d| a.is_multiple_of(d) && b.is_multiple_of(d));
    let step = (n / 3 + 1..).find(|s| !shares(*s, n)).unwrap();
    found.lines = (0..n).map(|i| found.lines[i * step % n].clone()).collect();
    (found, places)
}

#[test]
fn chords_in_loose_strokes_become_smooth_outlines_with_the_same_corners() {
    let (mut edges, mut curves) = (0, 0);
    let mut wrong = Vec::new();
    for garment in GARMENTS.iter() {
        let (sheet, places) = sheet(garment);
        let found = recognise(&sheet, &Choices::default());
        // What the same outlines give when they are drawn as one smooth path each.
        for (model, at) in garment.pieces.iter().zip(places) {
            let there = at * model.stitch.clone();
            let hit = found
                .pieces
                .iter()
                .map(|p| (p, apart(&there, &p.piece.outline.path())))
                .min_by(|a, b| a.1.total_cmp(&b.1));
            let Some((piece, off)) = hit.filter(|h| h.1 <= OFF) else {
                wrong.push(format!("{}: {:?}", model.piece.name, hit.map(|h| h.1)));
                continue;
            };
            let back = apart(&piece.piece.outline.path(), &there);
            if back > OFF {
                wrong.push(format!("{}: {off:.3}, back {back:.3}", model.piece.name));
            }
            let smooth = smooth_edges(&there);
            let own = piece.piece.outline.edges();
            if own.len() != smooth {
                wrong.push(format!(
                    "{}: {} edges instead of {smooth}",
                    model.piece.name,
                    own.len()
                ));
            }
            edges += own.len();
            curves += own.iter().map(|e| e.line.cubics().count()).sum::<usize>();
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(
        curves <= 4 * edges,
        "{curves} curves on {edges} edges: chords were kept"
    );
}

/// How many edges the same outline has when it is drawn as one smooth path.
fn smooth_edges(path: &BezPath) -> usize {
    let line = FoundLine {
        path: path.clone(),
        closed: true,
        layer: String::new(),
        groups: vec![],
        colour: [0, 0, 0],
        width: 0.2,
        dash: vec![],
        filled: false,
        meaning: None,
    };
    let sheet = FoundSheet {
        lines: vec![line],
        ..FoundSheet::default()
    };
    let found = recognise(&sheet, &Choices::default());
    found.pieces[0].piece.outline.edges().len()
}
