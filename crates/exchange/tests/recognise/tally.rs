//! Right guesses counted, kind by kind.

use std::collections::BTreeMap;

use petitoile_core::finish::{Finished, FinishedPiece};
use petitoile_core::geometry::curve::Line;
use petitoile_core::kurbo::{Affine, BezPath, ParamCurve, ParamCurveNearest, Point, Shape, Vec2};
use petitoile_core::piece::{MarkKind, Piece};
use petitoile_exchange::bring_in::recognise::{Drawn, Recognised, RecognisedPiece};

/// Right ones and all, by kind.
#[derive(Default)]
pub struct Tally {
    pub counts: BTreeMap<&'static str, (usize, usize)>,
    pub wrong: Vec<String>,
}

impl Tally {
    pub fn put(&mut self, kind: &'static str, right: bool, what: impl FnOnce() -> String) {
        let count = self.counts.entry(kind).or_default();
        count.1 += 1;
        if right {
            count.0 += 1;
        } else {
            self.wrong.push(format!("{kind}: {}", what()));
        }
    }

    pub fn table(&self) -> String {
        self.counts
            .iter()
            .map(|(kind, (right, all))| format!("{kind:<16} {right:>4} of {all:>4}\n"))
            .collect()
    }
}

/// Furthest any point of `a` lies from `b`.
pub fn apart(a: &BezPath, b: &BezPath) -> f64 {
    let segs: Vec<_> = b.segments().collect();
    a.segments()
        .flat_map(|s| (0..8).map(move |i| s.eval(f64::from(i) / 8.0)))
        .map(|p| {
            segs.iter()
                .map(|s| s.nearest(p, 1e-9).distance_sq)
                .fold(f64::INFINITY, f64::min)
                .sqrt()
        })
        .fold(0.0, f64::max)
}

/// The found piece that lies where a drawn one does: best by the outline.
fn best<'a>(
    drawn: &BezPath,
    found: &'a Recognised,
    places: &[Affine],
) -> Option<(&'a RecognisedPiece, Affine, f64)> {
    found
        .pieces
        .iter()
        .flat_map(|p| places.iter().map(move |at| (p, *at)))
        .filter(|(p, at)| {
            let b = (*at * drawn.clone()).bounding_box();
            let o = p.piece.outline.bounds();
            (b.x0 - o.x0).abs() < 30.0
                && (b.y0 - o.y0).abs() < 30.0
                && (b.x1 - o.x1).abs() < 30.0
                && (b.y1 - o.y1).abs() < 30.0
        })
        .map(|(p, at)| {
            let there = at * drawn.clone();
            let off =
                apart(&there, &p.piece.outline.path()).max(apart(&p.piece.outline.path(), &there));
            (p, at, off)
        })
        .min_by(|a, b| a.2.total_cmp(&b.2))
}

fn place(line: &Line, p: Point) -> (f64, f64) {
    let mut best = (f64::INFINITY, 0.0);
    for i in 0..=400 {
        let f = f64::from(i) / 400.0;
        let off = (line.at(f) - p).hypot();
        if off < best.0 {
            best = (off, f);
        }
    }
    best
}

/// Compares what was recognised with what was drawn; `sheet_from_piece` tells where each piece was put.
pub fn compare(
    finished: &Finished,
    found: &Recognised,
    places: &[Vec<Affine>],
    with_marks: bool,
) -> Tally {
    let mut tally = Tally::default();
    for (model, places) in finished.pieces.iter().zip(places) {
        let name = &model.piece.name;
        let hit = best(&model.stitch, found, places).filter(|b| b.2 < 0.5);
        tally.put("piece", hit.is_some(), || name.clone());
        let Some((piece, at, off)) = hit else {
            continue;
        };
        tally.put("outline", off <= 0.01, || format!("{name} {off:.4} mm off"));
        tally.put("both lines", piece.drawn == Drawn::Both, || name.clone());
        allowances(&mut tally, model, piece, at);
        fold(&mut tally, model, piece, at);
        tally.put(
            "darts",
            model.piece.darts.len() == piece.piece.darts.len(),
            || {
                format!(
                    "{name}: {} of {}",
                    piece.piece.darts.len(),
                    model.piece.darts.len()
                )
            },
        );
        if with_marks {
            marks(&mut tally, model, piece, at);
        }
    }
    let extra = found.pieces.len().saturating_sub(finished.pieces.len());
    for i in 0..extra {
        tally.put("nothing extra", false, || {
            let names: Vec<&str> = found.pieces.iter().map(|p| p.piece.name.as_str()).collect();
            format!("{i}: {names:?}")
        });
    }
    tally
}

fn allowances(tally: &mut Tally, model: &FinishedPiece, piece: &RecognisedPiece, at: Affine) {
    let edges = model.piece.outline.edges();
    for (edge, found) in piece.piece.outline.edges().iter().zip(&piece.allowances) {
        let middle = at.inverse() * edge.line.at(0.5);
        let (of, _) = edges
            .iter()
            .enumerate()
            .map(|(i, e)| (i, place(&e.line, middle).0))
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .unwrap();
        let wanted = model.allowances[of].0;
        let is_leg = model
            .piece
            .darts
            .iter()
            .any(|d| d.leg_in == edges[of].name || d.leg_out == edges[of].name);
        if is_leg {
            continue;
        }
        tally.put("allowance", (found.width.0 - wanted).abs() <= 0.02, || {
            format!(
                "{}, {}: {:.3} instead of {wanted:.3}",
                model.piece.name, edges[of].name, found.width.0
            )
        });
        let is_hem = matches!(
            edges[of].finish_at(0.5),
            petitoile_core::edge::Finish::Hem { .. }
                | petitoile_core::edge::Finish::Casing { .. }
                | petitoile_core::edge::Finish::Placket { .. }
        );
        let found_hem = matches!(
            edge.finish_at(0.5),
            petitoile_core::edge::Finish::Hem { .. }
        );
        tally.put("hem or not", is_hem == found_hem, || {
            format!(
                "{}, {}: {:?}",
                model.piece.name,
                edges[of].name,
                edges[of].finish_at(0.5)
            )
        });
    }
}

fn fold(tally: &mut Tally, model: &FinishedPiece, piece: &RecognisedPiece, at: Affine) {
    let (wanted, found) = (model.piece.fold_edge(), piece.piece.fold_edge());
    let right = match (wanted, found) {
        (None, None) => true,
        (Some(w), Some(f)) => (at * w.line.at(0.5) - f.line.at(0.5)).hypot() < 0.05,
        _ => false,
    };
    tally.put("fold", right, || {
        format!(
            "{}: {:?} instead of {:?}",
            model.piece.name,
            found.map(|e| &e.name),
            wanted.map(|e| &e.name)
        )
    });
}

fn notch_places(piece: &Piece) -> Vec<(Point, u32)> {
    piece
        .notches
        .iter()
        .filter_map(|n| {
            Some((
                piece.outline.edge(&n.edge)?.line.at(n.fraction),
                n.kind.strokes(),
            ))
        })
        .collect()
}

fn marks(tally: &mut Tally, model: &FinishedPiece, piece: &RecognisedPiece, at: Affine) {
    let name = &model.piece.name;
    let found = notch_places(&piece.piece);
    for (p, strokes) in notch_places(&model.piece) {
        let p = at * p;
        let hit = found
            .iter()
            .any(|(q, s)| (*q - p).hypot() <= 0.1 && *s == strokes);
        tally.put("notch", hit, || {
            let near = found
                .iter()
                .map(|(q, s)| ((*q - p).hypot(), *s))
                .min_by(|a, b| a.0.total_cmp(&b.0));
            format!("{name}: {strokes} strokes at {p:?}, nearest {near:?}")
        });
    }
    let extra = found.len().saturating_sub(model.piece.notches.len());
    for _ in 0..extra {
        tally.put("notch", false, || format!("{name}: one too many"));
    }
    let along = |a: Point, b: Point| {
        let v = b - a;
        v / v.hypot()
    };
    let wanted = along(at * model.grain.p0, at * model.grain.p1);
    let grain = piece.piece.grainline.map(|(a, b)| along(a, b));
    let is_grain = grain.is_some_and(|g: Vec2| g.cross(wanted).abs() < 1e-3);
    tally.put("grain", is_grain, || format!("{name}: {grain:?}"));
    for mark in &model.piece.marks {
        let kind: &'static str = match mark.kind {
            MarkKind::Dot(_) => "dot",
            MarkKind::Buttonhole(..) => "buttonhole",
            MarkKind::Eyelet { .. } => "eyelet",
            MarkKind::Text(_) | MarkKind::Channel { .. } => continue,
            _ => "inner line",
        };
        let middle = at * mark.kind.middle();
        let hit = piece.piece.marks.iter().any(|m| {
            std::mem::discriminant(&m.kind) == std::mem::discriminant(&mark.kind)
                && (m.kind.middle() - middle).hypot() <= 0.05
        });
        tally.put(kind, hit, || {
            format!("{name}: {} {:?}", mark.kind.noun(), mark.name)
        });
    }
    tally.put("name", piece.piece.name == *name, || {
        format!("{} instead of {name}", piece.piece.name)
    });
    let mut copies = (piece.piece.copies.clone(), model.piece.copies.clone());
    copies.0.sort();
    copies.1.sort();
    tally.put("cut count", copies.0 == copies.1, || {
        format!("{name}: {:?} instead of {:?}", copies.0, copies.1)
    });
}
