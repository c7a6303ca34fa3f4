//! From the tree that usvg makes to lines and texts in mm, y up.

use petitoile_core::kurbo::{Affine, BezPath, PathEl, Point};
use usvg::tiny_skia_path::PathSegment;
use usvg::{Group, Node, Paint, Path};

use super::plain::{Numbered, Plain};
use super::words::{affine, words};
use crate::bring_in::{BringInError, FoundLine, FoundSheet, FoundText, Limits, Tally, Watch};

/// What is read out of a tree.
pub(super) struct Lines<'a> {
    /// Coordinates of the drawing from those of the file.
    pub mm_from_px: Affine,
    /// What the numbers stand for.
    pub plain: &'a Plain,
    /// What is in it.
    pub sheet: FoundSheet,
    /// What is not.
    pub left: Tally,
    /// How far out it goes.
    pub limits: &'a Limits,
    /// Stops it.
    pub watch: &'a Watch<'a>,
    /// Name of the file.
    pub file: &'a str,
    /// Which of the numbers drew something.
    pub seen: Vec<bool>,
    last: Option<usize>,
}

impl<'a> Lines<'a> {
    pub(super) fn new(
        mm_from_px: Affine,
        plain: &'a Plain,
        limits: &'a Limits,
        watch: &'a Watch<'a>,
        file: &'a str,
    ) -> Self {
        Self {
            mm_from_px,
            plain,
            sheet: FoundSheet::default(),
            left: Tally::default(),
            limits,
            watch,
            file,
            seen: vec![false; plain.shapes.len()],
            last: None,
        }
    }

    /// Everything in a group.
    pub(super) fn group(&mut self, group: &Group) -> Result<(), BringInError> {
        for node in group.children() {
            match node {
                Node::Group(inner) => self.group(inner)?,
                Node::Path(path) => self.path(path)?,
                Node::Text(text) => {
                    let number = self.number(text.id());
                    let lines = words(text, self.mm_from_px);
                    for line in lines {
                        if self.is_near(line.at) {
                            self.text(line, number);
                        } else {
                            self.far();
                        }
                    }
                }
                Node::Image(_) => {} // none can get this far
            }
        }
        Ok(())
    }

    /// The number of a shape. Markers have none and belong to the shape before them.
    fn number(&mut self, id: &str) -> Option<usize> {
        let number = id
            .strip_prefix('s')
            .and_then(|words| words.parse::<usize>().ok())
            .or(self.last);
        if let Some(seen) = number.and_then(|number| self.seen.get_mut(number)) {
            *seen = true;
        }
        self.last = number;
        number
    }

    fn numbered(&self, number: Option<usize>) -> Option<&'a Numbered> {
        self.plain.shapes.get(number?)
    }

    fn text(&mut self, line: super::words::Words, number: Option<usize>) {
        let told = self.numbered(number);
        self.sheet.texts.push(FoundText {
            at: line.at,
            size: line.size,
            turn: line.turn,
            words: line.words,
            layer: told.map_or_else(String::new, |told| told.belongs.layer.clone()),
            groups: groups(told),
            meaning: told.and_then(|told| told.belongs.of_text()),
        });
    }

    fn far(&mut self) {
        let reach = self.limits.reach / 1000;
        self.left.add(
            &format!("something further out than {reach} m"),
            "look whether a number in the file is wrong",
            String::new,
        );
    }

    fn is_near(&self, point: Point) -> bool {
        let reach = self.limits.reach as f64;
        point.x.abs() <= reach && point.y.abs() <= reach // false for what is no number
    }

    fn path(&mut self, path: &Path) -> Result<(), BringInError> {
        let number = self.number(path.id());
        let told = self.numbered(number);
        if !path.is_visible() {
            self.left.add(
                "a line without stroke and filling",
                "give it a stroke where the file was made if it belongs to the pieces",
                || place(told),
            );
            return Ok(());
        }
        if self.sheet.lines.len().is_multiple_of(1024) {
            let share = self.last.unwrap_or(0) as f64 / self.seen.len().max(1) as f64;
            self.watch.at(0.8 + 0.2 * share, self.file)?;
        }
        let to = self.mm_from_px * affine(path.abs_transform());
        let scale = to.determinant().abs().sqrt();
        let look = look(path, scale);
        let (layer, meaning) = told.map_or((String::new(), None), |told| {
            (told.belongs.layer.clone(), told.belongs.of_line())
        });
        for (line, closed) in subpaths(path) {
            let line = to * line;
            if line.elements().len() < 2 {
                self.left.add("a line without length", "", || place(told));
                continue;
            }
            let near = line
                .elements()
                .iter()
                .all(|element| points(*element).iter().all(|point| self.is_near(*point)));
            if !near {
                self.far();
                continue;
            }
            self.sheet.lines.push(FoundLine {
                path: line,
                closed,
                layer: layer.clone(),
                groups: groups(told),
                colour: look.colour,
                width: look.width,
                dash: look.dash.clone(),
                filled: path.fill().is_some(),
                meaning,
            });
        }
        Ok(())
    }
}

/// Where something stands in the file.
pub(super) fn place(told: Option<&Numbered>) -> String {
    told.map_or_else(String::new, |told| {
        format!("in line {} of the file", told.line)
    })
}

fn groups(told: Option<&Numbered>) -> Vec<String> {
    told.map_or_else(Vec::new, |told| {
        let mut groups = told.belongs.groups.clone();
        groups.extend(told.name.clone());
        groups
    })
}

struct Look {
    colour: [u8; 3],
    width: f64,
    dash: Vec<f64>,
}

fn look(path: &Path, scale: f64) -> Look {
    let sound = |value: f64| if value.is_finite() { value } else { 0.0 };
    if let Some(stroke) = path.stroke() {
        let dash = stroke.dasharray().unwrap_or_default();
        return Look {
            colour: colour(stroke.paint()),
            width: sound(f64::from(stroke.width().get()) * scale),
            dash: dash
                .iter()
                .map(|part| sound(f64::from(*part) * scale))
                .collect(),
        };
    }
    Look {
        colour: path.fill().map_or([0; 3], |fill| colour(fill.paint())),
        width: 0.0,
        dash: Vec::new(),
    }
}

fn colour(paint: &Paint) -> [u8; 3] {
    match paint {
        Paint::Color(colour) => [colour.red, colour.green, colour.blue],
        _ => [128; 3],
    }
}

fn points(element: PathEl) -> Vec<Point> {
    match element {
        PathEl::MoveTo(p) | PathEl::LineTo(p) => vec![p],
        PathEl::QuadTo(a, p) => vec![a, p],
        PathEl::CurveTo(a, b, p) => vec![a, b, p],
        PathEl::ClosePath => Vec::new(),
    }
}

/// One line for each `move`, and whether it is closed.
fn subpaths(path: &Path) -> Vec<(BezPath, bool)> {
    let at = |p: usvg::tiny_skia_path::Point| Point::new(f64::from(p.x), f64::from(p.y));
    let mut lines: Vec<(BezPath, bool)> = Vec::new();
    let mut start = Point::ZERO;
    let mut is_closed = true;
    for segment in path.data().segments() {
        let is_move = matches!(segment, PathSegment::MoveTo(_));
        if is_closed && !is_move {
            // After a close the pen is at the start again.
            let mut line = BezPath::new();
            line.move_to(start);
            lines.push((line, false));
        }
        is_closed = false;
        if let PathSegment::MoveTo(p) = segment {
            start = at(p);
            let mut line = BezPath::new();
            line.move_to(start);
            lines.push((line, false));
            continue;
        }
        let Some((line, closed)) = lines.last_mut() else {
            continue;
        };
        match segment {
            PathSegment::LineTo(p) => line.line_to(at(p)),
            PathSegment::QuadTo(a, p) => line.quad_to(at(a), at(p)),
            PathSegment::CubicTo(a, b, p) => line.curve_to(at(a), at(b), at(p)),
            PathSegment::MoveTo(_) => {}
            PathSegment::Close => {
                line.close_path();
                *closed = true;
                is_closed = true;
            }
        }
    }
    lines
}
