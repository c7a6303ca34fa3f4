//! What lies on the table, as plain values: every piece with its lines, marks and words. No pixels, no colours.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use kurbo::{Affine, BezPath, Line, Point, Rect, Shape, Vec2};
use petitoile_core::LengthUnit;
use petitoile_core::finding::Place;
use petitoile_core::finish::{Finished, FinishedPiece};
use petitoile_core::geometry::parallel::parallel;
use petitoile_core::measure::Measure;
use petitoile_core::piece::{MarkKind, Piece};

use super::places;
use super::view::Aim;
use crate::command::Chosen;
use crate::settings::Ghost;
use crate::whole_way::Worked;
use crate::wording;

/// What lies on the table.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Table {
    /// The pieces, in the maker's order.
    pub pieces: Vec<ShownPiece>,
    /// Seams and tape lines, with the pieces they lie on: where to look when a finding names one.
    pub parts: Vec<(String, Vec<(String, String)>)>,
}

/// One piece on the table. Its lines are in its own coordinates, `moved` brings them to the table.
#[derive(Debug, Clone, PartialEq)]
pub struct ShownPiece {
    /// Its name.
    pub name: String,
    /// What is read out: name and how many to cut.
    pub label: String,
    /// Second line on the piece: "cut 2 on fold".
    pub to_cut: String,
    /// From the piece's own coordinates to the table.
    pub moved: Vec2,
    /// Everything of it, ghost included, in its own coordinates.
    pub bounds: Rect,
    /// The same without the ghost.
    pub own: Rect,
    /// Cut line, closed.
    pub cut: BezPath,
    /// Stitch line, closed.
    pub stitch: BezPath,
    /// The source piece behind it.
    pub ghost: Option<BezPath>,
    /// Notch strokes with what is read out.
    pub notches: Vec<(Line, String)>,
    /// Where the piece lies on the fold of the cloth.
    pub fold: Option<Line>,
    /// Lines along which cloth is folded.
    pub fold_lines: Vec<BezPath>,
    /// Lines sewn inside.
    pub sew_lines: Vec<BezPath>,
    /// Dots, buttonholes and lines marked inside.
    pub marks: Vec<BezPath>,
    /// Grain arrow.
    pub grain: Line,
    /// Where a label fits.
    pub label_at: Point,
    /// The edges.
    pub edges: Vec<ShownEdge>,
}

/// An edge of a piece on the table.
#[derive(Debug, Clone, PartialEq)]
pub struct ShownEdge {
    /// Its name.
    pub name: String,
    /// Its stitch line.
    pub line: BezPath,
    /// Its middle.
    pub middle: Point,
    /// What is read out: piece, edge, length, allowance.
    pub label: String,
}

impl Table {
    /// Everything that was worked out, side by side; where `drawn_in` is given, its pieces instead of the spread ones.
    pub fn of(
        worked: &Worked,
        drawn_in: Option<&Finished>,
        ghost: Ghost,
        unit: LengthUnit,
    ) -> Self {
        let garment = &worked.adapted.garment;
        let height = |body: &petitoile_core::body::Body| body.measure(Measure::Height).value.0;
        let scale = match ghost {
            Ghost::Hidden => None,
            Ghost::TrueSize | Ghost::DrawnIn => Some(1.0),
            Ghost::SameHeight => {
                Some(height(&worked.adapted.fitting.body) / height(&garment.made_for))
            }
        };
        let mut pieces: Vec<ShownPiece> = drawn_in
            .unwrap_or(&worked.finished)
            .pieces
            .iter()
            .map(|finished| {
                let name = &finished.piece.name;
                let behind = match ghost {
                    Ghost::DrawnIn => drawn_in_piece(worked, name),
                    _ => garment.piece(name),
                };
                let source = scale.zip(behind);
                ShownPiece::of(
                    finished,
                    source.map(|(scale, piece)| (piece.as_ref(), scale)),
                    unit,
                )
            })
            .collect();
        let bounds: Vec<Rect> = pieces.iter().map(|piece| piece.bounds).collect();
        for (piece, moved) in pieces.iter_mut().zip(places::side_by_side(&bounds)) {
            piece.moved = moved;
        }
        Self {
            pieces,
            parts: parts(&worked.adapted.made),
        }
    }

    /// The same with every piece where it lay before, so that nothing jumps under the hand. What is new lies beside
    /// all others, but where it was drawn if it is among `as_drawn`.
    pub fn where_it_lay(mut self, before: &Self, as_drawn: &BTreeSet<String>) -> Self {
        let lay: Vec<Option<Vec2>> = self
            .pieces
            .iter()
            .map(|piece| {
                let drawn = as_drawn.contains(&piece.name).then_some(Vec2::ZERO);
                before.piece(&piece.name).map(|old| old.moved).or(drawn)
            })
            .collect();
        let bounds: Vec<Rect> = self.pieces.iter().map(|piece| piece.bounds).collect();
        for (piece, moved) in self.pieces.iter_mut().zip(places::as_before(&bounds, &lay)) {
            piece.moved = moved;
        }
        self
    }

    /// Everything, on the table.
    pub fn bounds(&self) -> Option<Rect> {
        self.pieces
            .iter()
            .map(ShownPiece::on_table)
            .reduce(|a, b| a.union(b))
    }

    /// The piece of this name.
    pub fn piece(&self, name: &str) -> Option<&ShownPiece> {
        self.pieces.iter().find(|piece| piece.name == name)
    }

    /// Where to look to see a place.
    pub fn aim_at(&self, place: &Place) -> Aim {
        let rects: Vec<Rect> = self
            .edges_at(place)
            .filter_map(|(piece, edge)| piece.part(edge, place.fraction))
            .collect();
        let whole = || {
            self.piece(place.piece.as_deref()?)
                .map(ShownPiece::on_table)
        };
        rects
            .into_iter()
            .reduce(|a, b| a.union(b))
            .or_else(whole)
            .map_or(Aim::All, Aim::Part)
    }

    /// What to choose when a place is shown.
    pub fn chosen_at(&self, place: &Place) -> Chosen {
        match self.edges_at(place).next() {
            Some((piece, Some(edge))) => Chosen::edge(&piece.name, edge),
            Some((piece, None)) => Chosen::piece(&piece.name),
            None => Chosen::default(),
        }
    }

    /// The pieces a place lies on, with the edge where one is meant.
    fn edges_at<'a>(
        &'a self,
        place: &'a Place,
    ) -> Box<dyn Iterator<Item = (&'a ShownPiece, Option<&'a str>)> + 'a> {
        if let Some(piece) = place.piece.as_deref().and_then(|name| self.piece(name)) {
            let edge = place
                .part
                .as_deref()
                .filter(|part| piece.edges.iter().any(|edge| edge.name == *part));
            return Box::new(std::iter::once((piece, edge)));
        }
        let part = place.part.as_deref().unwrap_or_default();
        let found = self
            .parts
            .iter()
            .filter(move |(name, _)| name == part)
            .flat_map(|(_, edges)| edges);
        Box::new(found.filter_map(|(piece, edge)| {
            Some((
                self.piece(piece)?,
                Some(edge.as_str()).filter(|e| !e.is_empty()),
            ))
        }))
    }

    /// The whole table as text, for tests and for reading aloud.
    pub fn describe(&self) -> String {
        let mut text = String::new();
        for piece in &self.pieces {
            let r = piece.on_table();
            let _ = writeln!(
                text,
                "{} at {:.0},{:.0} size {:.0} x {:.0}",
                piece.label,
                r.x0,
                r.y0,
                r.width(),
                r.height()
            );
            for edge in &piece.edges {
                let _ = writeln!(text, "  {}", edge.label);
            }
            for (_, notch) in &piece.notches {
                let _ = writeln!(text, "  {notch}");
            }
            if piece.ghost.is_some() {
                let _ = writeln!(text, "  source behind");
            }
        }
        text
    }
}

/// The piece as its fullness is drawn in, where it has any.
fn drawn_in_piece<'a>(worked: &'a Worked, name: &str) -> Option<&'a std::sync::Arc<Piece>> {
    let pieces = &worked.adapted.pieces;
    pieces
        .iter()
        .find(|piece| piece.name == name && !piece.fullness.is_empty())
}

/// Every seam, tape line and opening of a garment with the pieces and edges it lies on.
fn parts(garment: &petitoile_core::garment::Garment) -> Vec<(String, Vec<(String, String)>)> {
    use petitoile_core::tape::TapePath;
    let seams = garment.seams.iter().map(|seam| {
        let edges = seam
            .a
            .iter()
            .chain(&seam.b)
            .map(|s| (s.piece.clone(), s.edge.clone()))
            .collect();
        (seam.name.clone(), edges)
    });
    let tapes = garment.tape_lines.iter().map(|tape| {
        let edges = tape.parts.iter().map(|part| match &part.path {
            TapePath::Along { edge, .. } => (part.piece.clone(), edge.clone()),
            TapePath::Across(..) | TapePath::Upright(..) => (part.piece.clone(), String::new()),
        });
        (tape.name.clone(), edges.collect())
    });
    let openings = garment.openings.iter().map(|opening| {
        let edges = opening
            .hole
            .iter()
            .chain(&opening.slit)
            .map(|e| (e.piece.clone(), e.edge.clone()))
            .collect();
        (opening.name.clone(), edges)
    });
    seams.chain(tapes).chain(openings).collect()
}

impl ShownPiece {
    fn of(finished: &FinishedPiece, source: Option<(&Piece, f64)>, unit: LengthUnit) -> Self {
        let piece = &finished.piece;
        let ghost = source.map(|(source, scale)| ghost(source, piece, scale));
        let own = finished
            .cut
            .bounding_box()
            .union(finished.stitch.bounding_box());
        let bounds = ghost
            .as_ref()
            .map_or(own, |ghost| own.union(ghost.bounding_box()));
        let to_cut = wording::to_cut(piece);
        let notch_count = finished.notches.len();
        let notches = finished.notches.iter().enumerate();
        let edges = piece.outline.edges().iter().zip(finished.allowances.iter());
        Self {
            name: piece.name.clone(),
            label: format!("{}, {to_cut}", piece.name),
            to_cut,
            moved: Vec2::ZERO,
            bounds,
            own,
            cut: finished.cut.clone(),
            stitch: finished.stitch.clone(),
            ghost,
            notches: notches
                .map(|(i, line)| {
                    (
                        *line,
                        format!("{}, notch {} of {notch_count}", piece.name, i + 1),
                    )
                })
                .collect(),
            fold: finished.fold,
            fold_lines: finished.fold_lines.clone(),
            sew_lines: finished.sew_lines.clone(),
            marks: piece
                .marks
                .iter()
                .map(|mark| mark_path(&mark.kind))
                .collect(),
            grain: finished.grain,
            label_at: finished.label_at,
            edges: edges
                .map(|(edge, allowance)| ShownEdge {
                    name: edge.name.clone(),
                    line: edge.line.to_path(),
                    middle: edge.line.at(0.5),
                    label: format!(
                        "{}, {}, {} long, allowance {}",
                        piece.name,
                        edge.name,
                        wording::length(petitoile_core::Mm(edge.line.length()), unit),
                        wording::length(*allowance, unit)
                    ),
                })
                .collect(),
        }
    }

    /// Everything of it, on the table.
    pub fn on_table(&self) -> Rect {
        self.bounds + self.moved
    }

    /// Where one of its edges, or a place on it, lies on the table, with some room around.
    fn part(&self, edge: Option<&str>, fraction: Option<f64>) -> Option<Rect> {
        let Some(edge) = edge else {
            return Some(self.on_table());
        };
        let edge = self.edges.iter().find(|e| e.name == edge)?;
        let rect = match fraction {
            Some(at) => {
                let p = point_along(&edge.line, at);
                Rect::from_center_size(p, (0.0, 0.0))
            }
            None => edge.line.bounding_box(),
        };
        let room = 0.15 * self.bounds.width().max(self.bounds.height());
        Some(rect.inflate(room, room) + self.moved)
    }
}

fn point_along(path: &BezPath, fraction: f64) -> Point {
    use kurbo::{ParamCurve, ParamCurveArclen};
    let total: f64 = path.segments().map(|s| s.arclen(0.01)).sum();
    let mut rest = total * fraction.clamp(0.0, 1.0);
    for segment in path.segments() {
        let length = segment.arclen(0.01);
        if rest <= length {
            return segment.eval(segment.inv_arclen(rest.min(length), 0.01));
        }
        rest -= length;
    }
    path.segments().last().map_or(Point::ZERO, |s| s.end())
}

/// Cubics as a path.
fn open_path(chain: &[kurbo::CubicBez]) -> BezPath {
    let mut path = BezPath::new();
    for cubic in chain {
        if path.is_empty() {
            path.move_to(cubic.p0);
        }
        path.curve_to(cubic.p1, cubic.p2, cubic.p3);
    }
    path
}

/// A mark as it is drawn: a dot as a small cross, a buttonhole as a bar with two ends, a channel as its two rows.
fn mark_path(kind: &MarkKind) -> BezPath {
    let mut path = BezPath::new();
    let mut stroke = |a: Point, b: Point| {
        path.move_to(a);
        path.line_to(b);
    };
    match kind {
        MarkKind::Dot(at) => {
            stroke(*at - (1.2, 0.0), *at + (1.2, 0.0));
            stroke(*at - (0.0, 1.2), *at + (0.0, 1.2));
        }
        MarkKind::Buttonhole(a, b) => {
            stroke(*a, *b);
            let way = *b - *a;
            let end = Vec2::new(-way.y, way.x) * (1.2 / way.hypot().max(1e-9));
            stroke(*a - end, *a + end);
            stroke(*b - end, *b + end);
        }
        MarkKind::Text(at) => stroke(*at - (2.0, 0.0), *at + (2.0, 0.0)),
        MarkKind::Eyelet { at, diameter } => {
            return kurbo::Shape::to_path(&kurbo::Circle::new(*at, diameter.0 / 2.0), 0.01);
        }
        MarkKind::Channel { line, width } => {
            let middle: Vec<_> = line.cubics().collect();
            for side in [width.0 / 2.0, -width.0 / 2.0] {
                path.extend(&open_path(&parallel(&middle, side)));
            }
        }
        MarkKind::Line(line) | MarkKind::Fold(line) | MarkKind::Stitch(line) => {
            return line.to_path();
        }
    }
    path
}

/// The source outline, scaled, laid so that its centre line and its first body line meet those of the adapted piece.
fn ghost(source: &Piece, adapted: &Piece, scale: f64) -> BezPath {
    let to = anchor(adapted);
    let from = anchor(source);
    let lay =
        Affine::translate(to.to_vec2()) * Affine::scale(scale) * Affine::translate(-from.to_vec2());
    lay * source.outline.path()
}

/// The fold (or the middle) across, the first body line that both have (or the middle) along.
fn anchor(piece: &Piece) -> Point {
    let middle = piece.outline.bounds().center();
    let x = piece
        .fold_edge()
        .filter(|e| is_upright(e.line.start(), e.line.end()))
        .map_or(middle.x, |e| e.line.start().x);
    let y = piece
        .body_lines
        .first()
        .and_then(|line| piece.point_at(&line.from))
        .map_or(middle.y, |p| p.y);
    Point::new(x, y)
}

fn is_upright(a: Point, b: Point) -> bool {
    (a.x - b.x).abs() <= 0.1 * (a.y - b.y).abs()
}
