//! A finished piece as ASTM D6673 wants it: which line, point and text goes on which layer.

use petitoile_core::LengthUnit;
use petitoile_core::finish::{Finished, FinishedPiece};
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::parallel::parallel;
use petitoile_core::kurbo::{BezPath, Circle, CubicBez, Line as Stroke, Point, Rect, Shape};
use petitoile_core::piece::{Mark, MarkKind, Role};

use super::layers;
use crate::font::TIED;
use crate::sheet::{gathers, openings, words};

/// Height of the capitals of small words, mm.
const SMALL: f64 = 1.3;

/// A piece as it is written.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct DxfPiece {
    /// Its name.
    pub name: String,
    /// Outlines and lines.
    pub lines: Vec<DxfLine>,
    /// Notches and holes.
    pub points: Vec<DxfPoint>,
    /// Words.
    pub texts: Vec<DxfText>,
}

/// A line on a layer. Mm, y up.
#[derive(Debug, Clone, PartialEq)]
pub struct DxfLine {
    /// Layer, by number.
    pub layer: u16,
    /// Where.
    pub path: BezPath,
}

/// A point on a layer.
#[derive(Debug, Clone, PartialEq)]
pub struct DxfPoint {
    /// Layer, by number.
    pub layer: u16,
    /// Where, mm.
    pub at: Point,
    /// Of a notch: its end inside the piece.
    pub to: Option<Point>,
}

/// A line of words.
#[derive(Debug, Clone, PartialEq)]
pub struct DxfText {
    /// Layer, by number.
    pub layer: u16,
    /// Left end of its base line, mm.
    pub at: Point,
    /// Height of its capitals, mm.
    pub height: f64,
    /// What it says.
    pub words: String,
}

/// Every finished piece as it is written. `unit` is used in the words only; the drawing is in mm.
pub fn pieces(finished: &Finished, unit: LengthUnit) -> Vec<DxfPiece> {
    (1..)
        .zip(&finished.pieces)
        .map(|(number, piece)| one(finished, number, piece, unit))
        .collect()
}

fn one(finished: &Finished, number: usize, piece: &FinishedPiece, unit: LengthUnit) -> DxfPiece {
    let mut out = DxfPiece {
        name: piece.piece.name.clone(),
        ..DxfPiece::default()
    };
    out.line(layers::OUTLINE, piece.cut.clone());
    out.line(layers::SEWN, piece.stitch.clone());
    for line in piece
        .sew_lines
        .iter()
        .cloned()
        .chain(gathers::rows(finished, piece))
    {
        out.line(layers::SEWN, line);
    }
    for line in &piece.fold_lines {
        out.line(layers::INSIDE, line.clone());
    }
    if let Some(fold) = piece.fold {
        out.line(layers::MIRROR, straight(fold));
    }
    out.line(layers::GRAIN, straight(piece.grain));
    for notch in &piece.notches {
        out.points.push(DxfPoint {
            layer: layers::NOTCHES,
            at: notch.p0,
            to: Some(notch.p1),
        });
    }
    for at in openings::ends(&piece.piece) {
        out.hole(at);
    }
    for mark in &piece.piece.marks {
        out.mark(mark);
    }
    out.tell(finished, number, piece, unit);
    out
}

fn straight(line: Stroke) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(line.p0);
    path.line_to(line.p1);
    path
}

impl DxfPiece {
    /// Smallest upright rectangle around its lines.
    pub fn bounds(&self) -> Rect {
        self.lines
            .iter()
            .map(|line| line.path.bounding_box())
            .reduce(|a, b| a.union(b))
            .unwrap_or_default()
    }

    fn line(&mut self, layer: u16, path: BezPath) {
        self.lines.push(DxfLine { layer, path });
    }

    fn hole(&mut self, at: Point) {
        self.points.push(DxfPoint {
            layer: layers::HOLES,
            at,
            to: None,
        });
    }

    fn words(&mut self, layer: u16, at: Point, height: f64, words: &str) {
        if !words.trim().is_empty() {
            self.texts.push(DxfText {
                layer,
                at,
                height,
                words: words.replace(TIED, " "),
            });
        }
    }

    fn mark(&mut self, mark: &Mark) {
        let beside = |at: Point| at + (1.0, 1.0);
        let at = match &mark.kind {
            MarkKind::Dot(at) => {
                self.hole(*at);
                *at
            }
            MarkKind::Line(line) | MarkKind::Fold(line) => {
                self.line(layers::INSIDE, line.to_path());
                line.at(0.5)
            }
            MarkKind::Stitch(line) => {
                self.line(layers::SEWN, line.to_path());
                line.at(0.5)
            }
            MarkKind::Buttonhole(from, to) => {
                self.line(layers::INSIDE, straight(Stroke::new(*from, *to)));
                self.words(layers::WORDS, beside(*to), SMALL, "buttonhole");
                *from
            }
            MarkKind::Text(at) => *at,
            MarkKind::Channel { line, width } => {
                let middle: Vec<CubicBez> = line.cubics().collect();
                for side in [width.0 / 2.0, -width.0 / 2.0] {
                    if let Some(row) = Line::from_cubics(&parallel(&middle, side)) {
                        self.line(layers::SEWN, row.to_path());
                    }
                }
                line.at(0.5)
            }
            MarkKind::Eyelet { at, diameter } => {
                let hole = Circle::new(*at, diameter.0 / 2.0).to_path(1e-4);
                self.line(layers::CUT_OUTS, hole);
                *at
            }
        };
        self.words(layers::WORDS, beside(at), SMALL, &mark.name);
    }

    /// The texts about the piece, below one another. The words before the colons are the practice's (from memory).
    fn tell(
        &mut self,
        finished: &Finished,
        number: usize,
        piece: &FinishedPiece,
        unit: LengthUnit,
    ) {
        let adapted = &finished.filled.adapted;
        let roles = [
            (Role::Shell, "shell"),
            (Role::Lining, "lining"),
            (Role::Interlining, "interlining"),
            (Role::FlatLined, "flat lining"),
        ];
        let material: Vec<&str> = roles
            .into_iter()
            .filter(|(role, _)| 0 < piece.piece.copies_in(*role))
            .map(|(_, name)| name)
            .collect();
        let label = words::label(finished, number, piece, unit);
        let mut lines = vec![
            format!("PIECE NAME: {}", piece.piece.name),
            format!("SIZE: {}", adapted.fitting.body.name),
            format!("QUANTITY: {}", piece.piece.copies.len()),
            format!("MATERIAL: {}", material.join(", ")),
        ];
        lines.extend(label.lines.iter().map(|line| format!("ANNOTATION: {line}")));
        for (row, line) in (0..).zip(&lines) {
            let at = piece.label_at - (0.0, 1.8 * SMALL * f64::from(row));
            self.words(layers::OUTLINE, at, SMALL, line);
        }
    }
}
