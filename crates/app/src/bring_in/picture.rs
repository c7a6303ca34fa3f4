//! A picture on the table: shown small, pointed at, straightened and traced at its full size beside the window.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};

use egui::{Color32, ColorImage, Context, TextureHandle, TextureOptions};
use kurbo::{Point, Rect};
use petitoile_core::Mm;
use petitoile_exchange::bring_in::{Pace, Watch, traced_drawing};
use petitoile_exchange::photo::straighten::{self, Bottom};
use petitoile_exchange::photo::{
    KnownRectangle, LaidFlat, Picture, Straightened, Traced, Wanted, find_sheet, laid_flat, trace,
};

use super::work::Source;
use crate::background::Background;
use crate::canvas::brush::Brush;

/// Longest side that is shown, pixels: every graphics card can.
const SHOWN: usize = 2048;

/// What of known size lies in a picture.
#[derive(Debug, Clone, PartialEq)]
pub enum Known {
    /// Something with four corners.
    Rectangle(KnownRectangle),
    /// A length between two points.
    Length(Mm),
    /// What the file says.
    Density,
}

/// What is asked of the worker.
enum Question {
    Find(KnownRectangle),
    Trace(Box<Straightened>, Option<Point>),
    LayFlat(Box<Straightened>),
}

struct Asked {
    question: Question,
    picture: Arc<Picture>,
    name: String,
    before: Option<Arc<Source>>,
    stop: Arc<AtomicBool>,
    done: Arc<AtomicU32>,
}

enum Answer {
    Sheet(Option<[Point; 4]>),
    Traced(Vec<Traced>, Source),
    Flat(Arc<LaidFlat>),
}

/// What came out of a picture.
pub enum Found {
    /// The outlines in it.
    Outlines(Arc<Source>),
    /// The picture itself, as from straight above.
    Flat(Arc<LaidFlat>),
}

/// A picture on the table.
pub struct PictureTable {
    picture: Arc<Picture>,
    name: String,
    /// What was brought in before it.
    before: Option<Arc<Source>>,
    texture: TextureHandle,
    /// Points that were shown in it, pixels.
    points: Vec<Point>,
    worker: Option<Background<Asked, Result<Answer, String>>>,
    stop: Arc<AtomicBool>,
    done: Arc<AtomicU32>,
    /// What was traced last.
    traced: Vec<Traced>,
    straight: Option<(Vec<Point>, Known, Straightened)>,
}

impl PictureTable {
    /// Puts a picture on the table; what is traced in it lies beside what was brought in before.
    pub fn new(
        ctx: &Context,
        picture: Arc<Picture>,
        name: String,
        before: Option<Arc<Source>>,
    ) -> Self {
        let image = shown(&picture);
        Self {
            texture: ctx.load_texture("picture to trace", image, TextureOptions::LINEAR),
            picture,
            name,
            before,
            points: Vec::new(),
            worker: None,
            stop: Arc::default(),
            done: Arc::default(),
            traced: Vec::new(),
            straight: None,
        }
    }

    /// What was brought in before it; the picture goes.
    pub fn into_before(self) -> Option<Arc<Source>> {
        self.before
    }

    /// Its size on the table: a pixel is a mm there.
    pub fn bounds(&self) -> Rect {
        Rect::new(
            0.0,
            -(self.picture.height as f64),
            self.picture.width as f64,
            0.0,
        )
    }

    /// The pixel at a place on the table.
    pub fn pixel(at: Point) -> Point {
        Point::new(at.x, -at.y)
    }

    /// Points on the table.
    pub fn points(&self) -> Vec<Point> {
        self.points.iter().map(|p| Self::pixel(*p)).collect()
    }

    /// The resolution the file gives.
    pub fn density(&self) -> Option<String> {
        self.picture.density.as_ref().map(|density| density.words())
    }

    /// How many points are still to be shown.
    pub fn needs(&self, known: &Known) -> usize {
        let all: usize = match known {
            Known::Rectangle(_) => 4,
            Known::Length(_) => 2,
            Known::Density => 0,
        };
        all.saturating_sub(self.points.len())
    }

    /// Was any shown?
    pub fn has_points(&self) -> bool {
        !self.points.is_empty()
    }

    /// Begins anew.
    pub fn forget_points(&mut self) {
        self.points.clear();
        self.straight = None;
    }

    /// One point less.
    pub fn take_back(&mut self) {
        self.points.pop();
        self.straight = None;
    }

    /// A click on the table: one more point, or the piece that is wanted.
    pub fn click(&mut self, ctx: &Context, at: Point) {
        let pixel = Self::pixel(at);
        let inside = Rect::new(
            0.0,
            0.0,
            self.picture.width as f64,
            self.picture.height as f64,
        );
        if !inside.contains(pixel) || self.tracing().is_some() {
            return;
        }
        match self.straight.clone() {
            Some((.., straight)) => self.ask(ctx, Question::Trace(Box::new(straight), Some(pixel))),
            None if self.points.len() < 4 => self.points.push(pixel),
            None => {}
        }
    }

    /// Moves a point.
    pub fn drag(&mut self, number: usize, to: Point) {
        if let Some(point) = self.points.get_mut(number) {
            *point = Self::pixel(to);
            self.straight = None;
        }
    }

    /// How the picture lies against the table, by what is known; kept while nothing changes.
    ///
    /// # Errors
    /// What is wrong with the points, and what to do.
    pub fn straighten(&mut self, known: &Known) -> Result<Straightened, String> {
        if let Some((points, of, straight)) = &self.straight
            && *points == self.points
            && of == known
        {
            return Ok(straight.clone());
        }
        let straight = match (known, self.points.as_slice()) {
            (Known::Rectangle(sheet), [a, b, c, d, ..]) => {
                straighten::by_rectangle(&self.picture, [*a, *b, *c, *d], sheet, Bottom::default())
                    .map_err(|why| why.to_string())?
            }
            (Known::Length(length), [a, b, ..]) => {
                straighten::by_two_points(&self.picture, *a, *b, *length)
                    .map_err(|why| why.to_string())?
            }
            _ => straighten::by_density(&self.picture)
                .ok_or_else(|| "the file gives no scale; show a known length".to_owned())?,
        };
        self.straight = Some((self.points.clone(), known.clone(), straight.clone()));
        Ok(straight)
    }

    /// Looks for a sheet of this size.
    pub fn find(&mut self, ctx: &Context, sheet: KnownRectangle) {
        self.ask(ctx, Question::Find(sheet));
    }

    /// Finds the outlines of everything on the table.
    pub fn trace(&mut self, ctx: &Context, straight: Straightened) {
        self.ask(ctx, Question::Trace(Box::new(straight), None));
    }

    /// Lays it flat, to be drawn over by hand.
    pub fn lay_flat(&mut self, ctx: &Context, straight: Straightened) {
        self.ask(ctx, Question::LayFlat(Box::new(straight)));
    }

    fn ask(&mut self, ctx: &Context, question: Question) {
        self.stop();
        (self.stop, self.done) = (Arc::default(), Arc::default());
        let wake = ctx.clone();
        let worker = self.worker.get_or_insert_with(|| {
            Background::new("tracing", answer, move || wake.request_repaint())
        });
        worker.ask(Asked {
            question,
            picture: self.picture.clone(),
            name: self.name.clone(),
            before: self.before.clone(),
            stop: self.stop.clone(),
            done: self.done.clone(),
        });
    }

    /// How far the worker is, 0 to 1.
    pub fn tracing(&self) -> Option<f32> {
        let waits = self.worker.as_ref().is_some_and(Background::is_waiting);
        waits.then(|| self.done.load(Ordering::Relaxed) as f32 / 1000.0)
    }

    /// Ends it.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// What was traced last.
    pub fn traced(&self) -> &[Traced] {
        &self.traced
    }

    /// Takes over what was found.
    pub fn collect(&mut self) -> Option<Result<Found, String>> {
        let worker = self.worker.as_mut()?;
        let answer = worker.answer()?;
        // What was asked before the last question is of no use any more.
        if worker.is_waiting() {
            return None;
        }
        match answer {
            Ok(Ok(Answer::Sheet(Some(corners)))) => {
                self.points = corners.to_vec();
                self.straight = None;
                None
            }
            Ok(Ok(Answer::Sheet(None))) => Some(Err(
                "No such sheet was made out; click its four corners in the picture.".to_owned(),
            )),
            Ok(Ok(Answer::Traced(traced, source))) => {
                self.traced = traced;
                Some(Ok(Found::Outlines(Arc::new(source))))
            }
            Ok(Ok(Answer::Flat(flat))) => Some(Ok(Found::Flat(flat))),
            Ok(Err(why)) => Some(Err(why)),
            Err(broken) => Some(Err(broken.to_string())),
        }
    }

    /// Paints it, and the points in it.
    pub fn paint(&self, brush: &Brush<'_>) {
        let uv = egui::Rect::from_min_max(egui::Pos2::ZERO, egui::Pos2::new(1.0, 1.0));
        let rect = brush.rect(self.bounds());
        brush
            .painter
            .image(self.texture.id(), rect, uv, Color32::WHITE);
    }
}

fn answer(asked: Asked) -> Result<Answer, String> {
    let watch = Watch {
        stop: Some(&asked.stop),
        done: Some(&asked.done),
    };
    match asked.question {
        Question::Find(sheet) => find_sheet(&asked.picture, &sheet, &watch)
            .map(Answer::Sheet)
            .map_err(|why| why.to_string()),
        Question::LayFlat(straight) => {
            let flat = laid_flat(&asked.picture, &straight, &asked.name, &watch);
            flat.map(|flat| Answer::Flat(Arc::new(flat)))
                .map_err(|why| why.to_string())
        }
        Question::Trace(straight, at) => {
            let wanted = match at {
                Some(at) => Wanted::at(at, &straight),
                None => Wanted::all(&straight),
            };
            let traced = trace(&asked.picture, &straight, &wanted, &watch);
            let traced = traced.map_err(|why| why.to_string())?;
            let drawing = traced_drawing(&traced, &asked.name);
            let pace = Pace::new(&watch, &asked.name);
            let source = Source::beside(asked.before.as_deref(), drawing, &pace);
            Ok(Answer::Traced(
                traced,
                source.map_err(|why| why.to_string())?,
            ))
        }
    }
}

/// As large as a window can show, every so many pixels one.
fn shown(picture: &Picture) -> ColorImage {
    let longest = picture.width.max(picture.height);
    let every = longest.div_ceil(SHOWN).max(1);
    let size = [
        picture.width.div_ceil(every).max(1),
        picture.height.div_ceil(every).max(1),
    ];
    let pixels = (0..size[1])
        .flat_map(|y| (0..size[0]).map(move |x| (x * every, y * every)))
        .map(|(x, y)| {
            let [r, g, b] = picture.pixel(x as i64, y as i64);
            Color32::from_rgb(r, g, b)
        })
        .collect();
    ColorImage::new(size, pixels)
}
