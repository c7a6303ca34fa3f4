//! Bringing in what the maker already has: a file is read, its pages joined and measured, its lines become pieces, and the
//! garment is made ready to adapt; every guess can be put right on the way, and everything can be undone.
//!
//! While it goes on it takes the place of tray and table. Nothing of it is in the project until the garment is taken in,
//! which is one edit. Never here: how lines are read or recognised (exchange), what a garment needs (core).

mod flow;
mod leaves;
mod pages_leaf;
mod paint;
mod picture;
mod picture_leaf;
mod pieces_leaf;
pub mod reader;
mod ready_leaf;
mod scale_leaf;
mod table;
pub mod work;

use std::collections::VecDeque;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};

use egui::Context;
use petitoile_core::body::Body;
use petitoile_exchange::bring_in::recognise::{PieceId, Thing};
use petitoile_exchange::bring_in::{BringInError, Pace, Watch};

use crate::background::Background;
use crate::canvas::view::View;
use crate::command::Command;
use crate::session::Session;
use picture::{Found, PictureTable};
use reader::{Come, Reader};
use work::{Choices, Source, Worked};

/// What is being brought in, and how far it is.
#[derive(Default)]
pub struct BringIn {
    reader: Reader,
    /// Files that wait until those before them are read and traced.
    waiting: VecDeque<PathBuf>,
    worker: Option<Background<Question, Result<Worked, BringInError>>>,
    /// Ends the work that is going on.
    stop: Arc<AtomicBool>,
    /// How far it is, thousandths.
    done: Arc<AtomicU32>,
    /// The drawing that was read or traced.
    source: Option<Arc<Source>>,
    picture: Option<PictureTable>,
    choices: Option<Choices>,
    worked: Option<Arc<Worked>>,
    past: Vec<Choices>,
    ahead: Vec<Choices>,
    known: Vec<Arc<Body>>,
    leaf: Leaf,
    view: Option<View>,
    chosen: Option<Mark>,
    /// The place of the guess that is looked at.
    place: Option<kurbo::Point>,
    half: Half,
    trouble: Option<String>,
    is_open: bool,
}

/// What is half typed.
#[derive(Default)]
struct Half {
    pages: pages_leaf::Half,
    scale: scale_leaf::Half,
    picture: picture_leaf::Half,
}

/// A drawing with the choices made on it.
struct Question {
    source: Arc<Source>,
    choices: Choices,
    known: Vec<Arc<Body>>,
    stop: Arc<AtomicBool>,
    done: Arc<AtomicU32>,
}

/// Works one question out, watched.
fn answer(question: Question) -> Result<Worked, BringInError> {
    let watch = Watch {
        stop: Some(&question.stop),
        done: Some(&question.done),
    };
    let pace = Pace::new(&watch, &question.source.drawing.file);
    work::work(&question.source, &question.choices, &question.known, &pace)
}

/// The steps of the way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Leaf {
    /// Where a picture is scaled and traced.
    Picture,
    /// How pages are joined.
    Pages,
    /// Whether it is true to scale.
    Scale,
    /// What lines and words are taken for.
    #[default]
    Pieces,
    /// What the garment still needs.
    Ready,
}

/// What is chosen on the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Mark {
    /// A piece.
    Piece(PieceId),
    /// A line, text or point.
    Thing(Thing),
    /// A page, by its place.
    Page(usize),
}

impl BringIn {
    /// Is something being brought in?
    pub fn is_open(&self) -> bool {
        self.is_open
    }

    /// Begins with files of one garment; where something was brought in already, they come beside it.
    pub fn take_up(&mut self, ctx: &Context, session: &Session, files: Vec<PathBuf>) {
        let is_reading = self.is_open && self.reader.reading().is_some();
        if !is_reading && self.source.is_none() && self.picture.is_none() {
            self.stop.store(true, Ordering::Relaxed);
            *self = Self {
                reader: std::mem::take(&mut self.reader),
                worker: self.worker.take(),
                known: Self::bodies(session),
                is_open: true,
                ..Self::default()
            };
        }
        self.trouble = None;
        self.waiting.extend(files);
        // A picture that is not traced yet comes first.
        if !is_reading && (self.picture.is_none() || self.is_traced()) {
            self.read_next(ctx);
        }
    }

    /// Reads the file that waits first.
    fn read_next(&mut self, ctx: &Context) {
        if let Some(file) = self.waiting.pop_front() {
            self.picture = None;
            self.reader.open(ctx, file, self.source.clone());
        }
    }

    /// The picture was used otherwise: as offcuts, or to draw over. What came before it and what waits go on; `false` when
    /// there is neither, and this ends.
    fn put_picture_aside(&mut self, ctx: &Context, session: &Session) -> bool {
        let before = self.picture.take().and_then(PictureTable::into_before);
        self.stop.store(true, Ordering::Relaxed);
        (self.source, self.worked, self.choices) = (None, None, None);
        match before {
            Some(before) => self.begin(ctx, session, before),
            None if self.waiting.is_empty() => {
                self.give_up();
                return false;
            }
            None => {}
        }
        self.read_next(ctx);
        true
    }

    /// Were outlines found in the picture on the table?
    fn is_traced(&self) -> bool {
        self.picture
            .as_ref()
            .is_some_and(|picture| !picture.traced().is_empty())
    }

    /// The name of the file that waits first.
    fn next_file(&self) -> Option<String> {
        self.waiting.front().map(|file| reader::name_of(file))
    }

    /// Ends it; nothing is kept.
    fn give_up(&mut self) {
        self.reader.stop();
        self.stop.store(true, Ordering::Relaxed);
        *self = Self {
            reader: std::mem::take(&mut self.reader),
            worker: self.worker.take(),
            ..Self::default()
        };
    }

    /// The maker's own bodies first, then those that come with the program.
    fn bodies(session: &Session) -> Vec<Arc<Body>> {
        let own = session.shown().bodies.iter().cloned();
        own.chain(petitoile_exchange::body_table::built_in())
            .collect()
    }

    /// Takes over what has come from the workers.
    fn collect(&mut self, ctx: &Context, session: &Session, commands: &mut Vec<Command>) {
        match self.reader.answer() {
            Some(Ok(Come::Drawing(source))) => {
                self.begin(ctx, session, source);
                self.read_next(ctx);
            }
            Some(Ok(Come::Picture(picture, name))) => {
                self.leaf = Leaf::Picture;
                let before = self.source.clone();
                self.picture = Some(PictureTable::new(ctx, picture, name, before));
                self.view = None;
            }
            Some(Err(trouble)) => {
                self.trouble = Some(trouble);
                self.read_next(ctx);
            }
            None => {}
        }
        if let Some(picture) = &mut self.picture {
            match picture.collect() {
                Some(Ok(Found::Outlines(source))) => {
                    self.trouble = None;
                    self.begin(ctx, session, source);
                }
                Some(Ok(Found::Flat(flat))) => {
                    commands.push(Command::DrawOver(flat));
                    if self.put_picture_aside(ctx, session) {
                        let words =
                            "The picture lies under the Chalk table; the other files come first.";
                        commands.push(Command::Say(words.to_owned()));
                    }
                }
                Some(Err(trouble)) => self.trouble = Some(trouble),
                None => {}
            }
        }
        let Some(answer) = self.worker.as_mut().and_then(Background::answer) else {
            return;
        };
        match answer {
            Ok(Ok(worked)) if self.source.is_some() => self.worked = Some(Arc::new(worked)),
            // It was overtaken by the next choice, or given up.
            Ok(_) => {}
            Err(broken) => self.trouble = Some(broken.to_string()),
        }
    }

    /// A drawing has come: the way to a garment begins.
    fn begin(&mut self, ctx: &Context, session: &Session, source: Arc<Source>) {
        let Some(made_for) = crate::boxes::usual_body(&self.known) else {
            return;
        };
        let name = free_name(session, &source.drawing.file);
        self.leaf = if source.drawing.sheets.len() > 1 {
            Leaf::Pages
        } else {
            Leaf::Pieces
        };
        self.source = Some(source);
        self.view = None;
        (self.past, self.ahead) = (Vec::new(), Vec::new());
        self.ask(ctx, Choices::new(&name, made_for));
    }

    /// Works everything out anew with these choices.
    fn ask(&mut self, ctx: &Context, choices: Choices) {
        let Some(source) = self.source.clone() else {
            return;
        };
        self.choices = Some(choices.clone());
        // Nobody waits for the answer to older choices any more.
        self.stop.store(true, Ordering::Relaxed);
        (self.stop, self.done) = (Arc::default(), Arc::default());
        let wake = ctx.clone();
        let worker = self.worker.get_or_insert_with(|| {
            Background::new("recognising", answer, move || wake.request_repaint())
        });
        worker.ask(Question {
            source,
            choices,
            known: self.known.clone(),
            stop: self.stop.clone(),
            done: self.done.clone(),
        });
    }

    /// One choice more: an undo step.
    fn choose(&mut self, ctx: &Context, change: impl FnOnce(&mut Choices)) {
        let Some(before) = self.choices.clone() else {
            return;
        };
        let mut next = before.clone();
        change(&mut next);
        if next != before {
            self.place = None;
            self.past.push(before);
            self.ahead.clear();
            self.ask(ctx, next);
        }
    }

    /// Takes the last choice back, or makes it again.
    fn step(&mut self, ctx: &Context, back: bool) {
        let Some(now) = self.choices.clone() else {
            return;
        };
        let (from, to) = if back {
            (&mut self.past, &mut self.ahead)
        } else {
            (&mut self.ahead, &mut self.past)
        };
        if let Some(next) = from.pop() {
            to.push(now);
            self.ask(ctx, next);
        }
    }

    /// Takes the last choice back.
    pub fn undo(&mut self, ctx: &Context) {
        self.step(ctx, true);
    }

    /// Makes it again.
    pub fn redo(&mut self, ctx: &Context) {
        self.step(ctx, false);
    }

    /// Undo and redo, and Escape, while it is open: the keys of the window's own commands.
    pub fn keys(&mut self, ctx: &Context, commands: &mut Vec<Command>) {
        use egui::{Key, Modifiers};
        let typing = ctx.text_edit_focused();
        let pressed = |modifiers, key| ctx.input_mut(|i| i.consume_key(modifiers, key));
        if pressed(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z)
            || pressed(Modifiers::COMMAND, Key::Y)
        {
            self.step(ctx, false);
        } else if pressed(Modifiers::COMMAND, Key::Z) {
            self.step(ctx, true);
        }
        if !typing && pressed(Modifiers::NONE, Key::Home) {
            self.view = None;
        }
        if !typing && pressed(Modifiers::NONE, Key::Escape) {
            if self.chosen.is_some() {
                self.chosen = None;
            } else if self.worked.is_none() {
                self.give_up();
            } else {
                commands.push(Command::Say(
                    "Nothing is in the project yet: take it in, or give it up.".to_owned(),
                ));
            }
        }
    }

    /// Is everything worked out for the choices as they are?
    fn is_working(&self) -> bool {
        self.worker.as_ref().is_some_and(Background::is_waiting)
    }

    /// How far that work is, 0 to 1.
    fn share_done(&self) -> f32 {
        self.done.load(Ordering::Relaxed) as f32 / 1000.0
    }
}

/// A name that no garment has yet, from the name of a file.
fn free_name(session: &Session, file: &str) -> String {
    let stem = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
    let stem = stem.replace(['_', '-'], " ");
    let stem = if stem.trim().is_empty() {
        "Garment"
    } else {
        stem.trim()
    };
    let taken = |name: &str| session.project().garment(name).is_some();
    if !taken(stem) {
        return stem.to_owned();
    }
    let numbered = |number: usize| format!("{stem} {number}");
    let count = session.project().garments.len() + 2;
    (2..=count)
        .map(numbered)
        .find(|name| !taken(name))
        .unwrap_or_else(|| numbered(count))
}
