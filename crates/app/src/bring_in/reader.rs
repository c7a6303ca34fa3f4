//! Reads files beside the window: drawings at once, pictures once it is known how large a millimetre is in them.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};

use egui::Context;
use petitoile_exchange::bring_in::{self, FoundDrawing, Kind, Limits, Pace, Watch};
use petitoile_exchange::photo::Picture;

use super::work::Source;
use crate::background::Background;
use crate::files;

/// What is in one file.
pub enum Read {
    /// A drawing.
    Drawing(Box<FoundDrawing>),
    /// A picture, still to be traced.
    Picture(Arc<Picture>, String),
}

/// What has come.
pub enum Come {
    /// A drawing, beside what was there before.
    Drawing(Arc<Source>),
    /// A picture, still to be traced.
    Picture(Arc<Picture>, String),
}

/// A file to be read; can be stopped, and tells how far it is.
struct Question {
    file: PathBuf,
    before: Option<Arc<Source>>,
    stop: Arc<AtomicBool>,
    done: Arc<AtomicU32>,
}

/// The worker, and how far it is.
#[derive(Default)]
pub struct Reader {
    worker: Option<Background<Question, Result<Come, String>>>,
    stop: Arc<AtomicBool>,
    done: Arc<AtomicU32>,
    name: String,
}

impl Reader {
    /// Begins to read a file; what comes out lies beside what was read before.
    pub fn open(&mut self, ctx: &Context, file: PathBuf, before: Option<Arc<Source>>) {
        self.stop();
        (self.stop, self.done) = (Arc::default(), Arc::default());
        self.name = name_of(&file);
        let wake = ctx.clone();
        let worker = self.worker.get_or_insert_with(|| {
            Background::new("bring in", answer, move || wake.request_repaint())
        });
        worker.ask(Question {
            file,
            before,
            stop: self.stop.clone(),
            done: self.done.clone(),
        });
    }

    /// Ends it.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// The file that is being read and how far it is, 0 to 1.
    pub fn reading(&self) -> Option<(&str, f32)> {
        let waits = self.worker.as_ref().is_some_and(Background::is_waiting);
        let done = self.done.load(Ordering::Relaxed) as f32 / 1000.0;
        waits.then_some((self.name.as_str(), done))
    }

    /// What was read, once it has come.
    pub fn answer(&mut self) -> Option<Result<Come, String>> {
        let worker = self.worker.as_mut()?;
        let answer = worker.answer()?;
        // A file that was given up may still come in while the next one is read.
        if worker.is_waiting() {
            return None;
        }
        Some(answer.unwrap_or_else(|broken| Err(broken.to_string())))
    }
}

/// The name of a file without its folder.
pub fn name_of(file: &std::path::Path) -> String {
    file.file_name()
        .map_or_else(String::new, |name| name.to_string_lossy().into_owned())
}

fn answer(question: Question) -> Result<Come, String> {
    let watch = Watch {
        stop: Some(&question.stop),
        done: Some(&question.done),
    };
    Ok(match read(&question.file, &Limits::default(), &watch)? {
        Read::Drawing(drawing) => {
            // Reading told its way to the end; what the pages share is a step of its own.
            let name = drawing.file.clone();
            let pace = Pace::new(&watch, &name);
            let source = Source::beside(question.before.as_deref(), *drawing, &pace);
            Come::Drawing(Arc::new(source.map_err(|why| why.to_string())?))
        }
        Read::Picture(picture, name) => Come::Picture(picture, name),
    })
}

/// Reads one file of any kind that is understood.
///
/// # Errors
/// One line that names the file, what is wrong, and what to do.
pub fn read(file: &std::path::Path, limits: &Limits, watch: &Watch<'_>) -> Result<Read, String> {
    let name = name_of(file);
    let bytes = files::read_bytes(file).map_err(|why| why.to_string())?;
    if Kind::of(&bytes) == Some(Kind::Picture) {
        let picture = petitoile_exchange::photo::read_full(&bytes, &name, limits, watch);
        let picture = picture.map_err(|why| why.to_string())?;
        return Ok(Read::Picture(Arc::new(picture), name));
    }
    let drawing = bring_in::read(&bytes, &name, limits, watch).map_err(|why| why.to_string())?;
    Ok(Read::Drawing(Box::new(drawing)))
}
