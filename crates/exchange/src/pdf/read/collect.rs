//! Listens to what a page draws and keeps it.

use std::ops::Range;

use hayro_interpret::font::{Glyph, GlyphRun};
use hayro_interpret::hayro_cmap::BfString;
use hayro_interpret::{
    BlendMode, ClipPath, Device, DrawMode, DrawProps, Image, ImageDrawProps, SoftMask,
};
use hayro_syntax::object::Dict;
use petitoile_core::kurbo::{Affine, BezPath, Point, Rect, Vec2};

use super::layers::{Layers, name_of};
use super::page::Frame;
use super::paint::{FARTHEST, Look, is_somewhere, points, sub_paths, touches};
use super::words::{Letter, Words};
use super::{Ask, away};
use crate::bring_in::{BringInError, FoundLine, FoundSheet, FoundText, Left};

/// Pictures of a page that are told one by one.
const PICTURES_TOLD: usize = 12;

/// What was counted over all pages so far.
#[derive(Clone, Copy, Default)]
pub(super) struct Spent {
    elements: u64,
    letters: u64,
}

/// What a page holds.
pub(super) struct Found {
    pub sheet: FoundSheet,
    pub left: Vec<Left>,
    pub pictures: usize,
    pub spent: Spent,
}

/// Keeps what is drawn on one page.
pub(super) struct Collector<'r> {
    ask: Ask<'r>,
    layers: &'r Layers,
    page: usize,
    bounds: Rect,
    spent: Spent,
    lines: Vec<FoundLine>,
    words: Words,
    /// Open marks of content; `Some` where they name a layer.
    marks: Vec<Option<String>>,
    /// Windows that are open, each within the one before.
    clips: Vec<Rect>,
    /// Lines of the last filling, waiting for their stroke.
    filled: Range<usize>,
    /// Start and words of the last run of letters.
    run: Option<(Point, String)>,
    pictures: Vec<Rect>,
    count: Counts,
}

/// Things that are not kept.
#[derive(Default)]
struct Counts {
    hidden: usize,
    beyond: usize,
    unseen: usize,
    nowhere: usize,
    unread: usize,
}

impl<'r> Collector<'r> {
    pub fn new(ask: Ask<'r>, layers: &'r Layers, page: usize, frame: &Frame, spent: Spent) -> Self {
        Self {
            ask,
            layers,
            page,
            bounds: frame.bounds,
            spent,
            lines: Vec::new(),
            words: Words::default(),
            marks: Vec::new(),
            clips: Vec::new(),
            filled: 0..0,
            run: None,
            pictures: Vec::new(),
            count: Counts::default(),
        }
    }

    /// What was found, and what was not kept.
    pub fn found(self) -> Found {
        let left = self.left();
        Found {
            left,
            pictures: self.pictures.len(),
            spent: self.spent,
            sheet: FoundSheet {
                name: format!("page {}", self.page),
                bounds: self.bounds,
                lines: self.lines,
                texts: self.words.done(),
                points: Vec::new(),
            },
        }
    }

    fn left(&self) -> Vec<Left> {
        let page = self.page;
        let mut left = Vec::new();
        let mut tell = |what: String, advice: &str| {
            left.push(Left {
                what,
                advice: advice.to_owned(),
            });
        };
        let lines = |count: usize| match count {
            1 => "1 line".to_owned(),
            _ => format!("{count} lines"),
        };
        let is_picture = |rect: &&Rect| {
            rect.intersect(self.bounds).area() > 0.5 * self.bounds.area() && self.lines.len() < 20
        };
        if self.pictures.iter().any(|rect| is_picture(&rect)) {
            tell(
                format!("page {page} is a picture"),
                "bring the picture in by itself and trace it",
            );
        } else {
            for rect in self.pictures.iter().take(PICTURES_TOLD) {
                tell(
                    format!(
                        "page {page}: a picture at {:.0}, {:.0} mm, {:.0} by {:.0} mm",
                        rect.x0,
                        rect.y0,
                        rect.width(),
                        rect.height()
                    ),
                    "if it shows a piece, bring it in by itself and trace it",
                );
            }
            if let Some(more @ 1..) = self.pictures.len().checked_sub(PICTURES_TOLD) {
                tell(format!("page {page}: {more} more pictures"), "");
            }
        }
        let Counts {
            hidden,
            beyond,
            unseen,
            nowhere,
            unread,
        } = self.count;
        if hidden > 0 {
            tell(
                format!(
                    "page {page}: {} outside of the window they are shown in",
                    lines(hidden)
                ),
                "",
            );
        }
        if beyond > 0 {
            tell(
                format!("page {page}: {} beyond the edge of the page", lines(beyond)),
                "",
            );
        }
        if unseen > 0 {
            tell(
                format!(
                    "page {page}: {} that cannot be seen (wholly transparent)",
                    lines(unseen)
                ),
                "",
            );
        }
        if nowhere > 0 {
            tell(
                format!("page {page}: {} with places that cannot be", lines(nowhere)),
                "save the file anew where it was made, if something is missing",
            );
        }
        if unread > 0 {
            tell(
                format!("page {page}: {unread} letters whose font does not tell which they are"),
                "type the names of the pieces yourself",
            );
        }
        left
    }

    /// Counts drawn elements; leaves when it is enough or the maker stops.
    fn spend(&mut self, elements: usize) {
        let before = self.spent.elements;
        self.spent.elements = before.saturating_add(elements as u64);
        if self.ask.limits.elements < self.spent.elements {
            away(self.ask.limit(self.ask.limits.elements, "drawn elements"));
        }
        if before / 1024 != self.spent.elements / 1024 && self.ask.watch.is_stopped() {
            away(BringInError::Stopped {
                file: self.ask.name.to_owned(),
            });
        }
    }

    fn layer(&self) -> (String, Vec<String>) {
        let mut names: Vec<String> = self.marks.iter().flatten().cloned().collect();
        let layer = names.pop().unwrap_or_default();
        (layer, names)
    }

    fn window(&self) -> Rect {
        self.clips.last().copied().unwrap_or(self.bounds)
    }

    /// Keeps the sub-paths of a path that can be seen.
    fn keep(&mut self, path: &BezPath, transform: Affine, look: &Look) {
        let start = self.lines.len();
        let (layer, groups) = self.layer();
        let dashed = !look.dash.is_empty();
        let meaning = self.layers.meaning(&layer, false, dashed);
        for (path, closed) in sub_paths(&(transform * path), look.filled) {
            if !is_somewhere(&path) {
                self.count.nowhere += 1;
            } else if look.unseen {
                self.count.unseen += 1;
            } else if !touches(&path, look, self.bounds) {
                self.count.beyond += 1;
            } else if !touches(&path, look, self.window()) {
                self.count.hidden += 1;
            } else {
                self.lines.push(FoundLine {
                    path,
                    closed,
                    layer: layer.clone(),
                    groups: groups.clone(),
                    colour: look.colour,
                    width: look.width,
                    dash: look.dash.clone(),
                    filled: look.filled,
                    meaning,
                });
            }
        }
        if look.filled {
            self.filled = start..self.lines.len();
        }
    }

    /// A filling that is stroked too comes twice: the stroke takes the place of the filling.
    fn stroke_of_filling(&mut self, start: usize) {
        let filled = std::mem::replace(&mut self.filled, 0..0);
        if filled.is_empty() || filled.end != start || self.lines.len() - start != filled.len() {
            return;
        }
        let (before, strokes) = self.lines.split_at(start);
        let Some(fillings) = before.get(filled.clone()) else {
            return;
        };
        let same = fillings
            .iter()
            .zip(strokes)
            .all(|(a, b)| a.layer == b.layer && points(&a.path).eq(points(&b.path)));
        if same {
            for line in self.lines.iter_mut().skip(start) {
                line.filled = true;
            }
            self.lines.drain(filled);
        }
    }

    fn letter(&mut self, glyph: &Glyph<'_>, place: Affine) {
        self.spent.letters += 1;
        if self.ask.limits.letters < self.spent.letters {
            away(self.ask.limit(self.ask.limits.letters, "letters"));
        }
        self.spend(1);
        let words = match glyph.as_unicode() {
            Some(BfString::Char(letter)) => letter.to_string(),
            Some(BfString::String(letters)) => letters,
            None => {
                self.count.unread += 1;
                '\u{fffd}'.to_string()
            }
        };
        let words: String = words
            .chars()
            .map(|c| {
                if c.is_control() || c == '\u{a0}' {
                    ' '
                } else {
                    c
                }
            })
            .collect();
        let advance = match glyph {
            Glyph::Outline(glyph) => glyph.advance_width(),
            Glyph::Type3(glyph) => glyph.advance_width(),
        };
        let [a, b, c, d, ..] = place.as_coeffs();
        let (right, up) = (Vec2::new(a, b), Vec2::new(c, d));
        // Letters are handed over in thousandths of the em.
        let size = up.hypot() * 1000.0;
        let at = place * Point::ZERO;
        let end = place * Point::new(f64::from(advance.unwrap_or(500.0)), 0.0);
        let is_sound = size.is_finite() && at.is_finite() && end.is_finite() && right.hypot() > 0.0;
        if !is_sound || at.to_vec2().hypot() > FARTHEST {
            self.count.nowhere += 1;
            return;
        }
        if !self.bounds.inflate(size, size).contains(at) {
            self.count.beyond += usize::from(!words.trim().is_empty());
            return;
        }
        if !self.window().inflate(size, size).contains(at) {
            self.count.hidden += usize::from(!words.trim().is_empty());
            return;
        }
        let along = right / right.hypot();
        let letter = Letter {
            words: words.clone(),
            at,
            end,
            along,
            size,
        };
        let (layer, groups) = self.layer();
        let meaning = self.layers.meaning(&layer, true, false);
        self.words.push(letter, || FoundText {
            at,
            size,
            turn: along.atan2().to_degrees(),
            words,
            layer,
            groups,
            meaning,
        });
    }
}

impl<'a> Device<'a> for Collector<'_> {
    fn draw_path(&mut self, path: &BezPath, props: DrawProps<'a>, mode: &DrawMode) {
        self.spend(1 + path.elements().len());
        self.words.cut();
        let look = Look::of(&props.paint, mode, props.transform);
        let start = self.lines.len();
        self.keep(path, props.transform, &look);
        if !look.filled {
            self.stroke_of_filling(start);
        }
    }

    fn push_clip_path(&mut self, clip: &ClipPath) {
        self.spend(1 + clip.path.elements().len());
        let within = clip.path.control_box();
        let within = if within.is_finite() {
            within
        } else {
            self.bounds
        };
        self.clips.push(meet(self.window(), within));
    }

    fn pop_clip(&mut self) {
        self.clips.pop();
    }

    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'a>>, _: BlendMode) {
        self.spend(1);
    }

    fn pop_transparency_group(&mut self) {}

    fn draw_glyph_run(&mut self, run: &GlyphRun<'_, 'a>, props: DrawProps<'a>, mode: &DrawMode) {
        // Filled and stroked letters come twice.
        let start = run
            .glyphs()
            .first()
            .map(|glyph| props.transform * glyph.transform() * Point::ZERO);
        let words: String = run
            .glyphs()
            .iter()
            .map(|glyph| format!("{} ", glyph.char_code()))
            .collect();
        let this = start.map(|start| (start, words));
        if matches!(mode, DrawMode::Stroke(_)) && this == self.run {
            return;
        }
        self.run = this;
        for glyph in run.glyphs() {
            self.letter(glyph, props.transform * glyph.transform());
        }
    }

    fn draw_image(&mut self, image: Image<'a, '_>, props: ImageDrawProps<'a>) {
        self.spend(1);
        let size = Rect::new(
            0.0,
            0.0,
            f64::from(image.width()),
            f64::from(image.height()),
        );
        let place = props.transform.transform_rect_bbox(size);
        if place.is_finite() {
            let seen = meet(place, meet(self.window(), self.bounds));
            if seen.area() > 0.0 {
                self.pictures.push(seen);
            }
        }
    }

    fn begin_marked_content(&mut self, tag: &[u8], properties: Option<&Dict<'_>>) {
        self.spend(1);
        let name = (tag == b"OC")
            .then_some(properties)
            .flatten()
            .and_then(name_of);
        if name.is_some() {
            self.words.cut();
        }
        self.marks.push(name);
    }

    fn end_marked_content(&mut self) {
        if self.marks.pop().flatten().is_some() {
            self.words.cut();
        }
    }
}

/// What two windows share; no larger than nothing where they are apart.
fn meet(a: Rect, b: Rect) -> Rect {
    let both = a.intersect(b);
    Rect::new(both.x0, both.y0, both.x1.max(both.x0), both.y1.max(both.y0))
}
