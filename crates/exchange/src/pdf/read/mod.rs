//! Reads PDF (ISO 32000): the vector pages of a printed sheet, one `FoundSheet` each, in mm as they print.
//!
//! Foreign crates take the file apart (`hayro`), we listen to what it draws. They have neither limits nor a way to be
//! stopped, so the listener counts every drawn element and leaves by unwinding when it is enough; whatever panics in
//! there becomes [`BringInError::Broken`]. Lines that reach beyond a page's window are kept whole: tiled sheets draw
//! every line on every page and hide the rest, so that the pages join without a seam. Never here: joining of pages.

mod collect;
mod guard;
mod layers;
mod page;
mod paint;
mod words;

use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};

use hayro_interpret::{
    Context, InterpreterCache, InterpreterSettings, RenderContent, interpret, interpret_page,
};
use hayro_syntax::content::TypedIter;
use hayro_syntax::{DecryptionError, LoadPdfError, Pdf};

use crate::bring_in::{BringInError, FoundDrawing, Kind, Left, Limits, Scale, Watch};
use collect::Collector;
use layers::Layers;
use page::Frame;

/// What unwinding carries when the listener has had enough.
struct Away(BringInError);

/// Leaves the foreign crates from within one of their calls; the panic hook stays silent.
fn away(error: BringInError) -> ! {
    resume_unwind(Box::new(Away(error)))
}

/// Reads the pages of a PDF.
///
/// Lengths are true: the page's own unit and turn are taken into account. Lines of layers that are off are read too.
///
/// # Errors
/// [`BringInError`]: locked, broken, without any page, nothing to be seen, or beyond one of the limits.
pub fn read(
    bytes: &[u8],
    name: &str,
    limits: &Limits,
    watch: &Watch<'_>,
) -> Result<FoundDrawing, BringInError> {
    limits.admit(bytes, name)?;
    let ask = Ask {
        name,
        limits,
        watch,
    };
    match catch_unwind(AssertUnwindSafe(|| ask.all(bytes))) {
        Ok(outcome) => outcome,
        Err(cause) => Err(match cause.downcast::<Away>() {
            Ok(away) => away.0,
            Err(_) => ask.broken("its insides contradict one another"),
        }),
    }
}

/// What is asked of a file.
#[derive(Clone, Copy)]
struct Ask<'r> {
    name: &'r str,
    limits: &'r Limits,
    watch: &'r Watch<'r>,
}

impl Ask<'_> {
    fn broken(&self, why: &str) -> BringInError {
        BringInError::Broken {
            file: self.name.to_owned(),
            why: why.to_owned(),
        }
    }

    fn limit(&self, limit: u64, of: &str) -> BringInError {
        self.limits.error(self.name, limit, of)
    }

    fn open(&self, bytes: Vec<u8>) -> Result<Pdf, BringInError> {
        let locked = |what: &str, remedy: &str| BringInError::NotRead {
            file: self.name.to_owned(),
            what: what.to_owned(),
            remedy: remedy.to_owned(),
        };
        Pdf::new(bytes).map_err(|error| match error {
            LoadPdfError::Decryption(DecryptionError::PasswordProtected) => locked(
                "a PDF locked with a password",
                "open it with its password, save it without one and bring that in",
            ),
            LoadPdfError::Decryption(_) => locked(
                "a PDF locked in an unknown way",
                "save it without a lock and bring that in",
            ),
            LoadPdfError::Invalid => self.broken("the PDF's table of contents cannot be read"),
        })
    }

    fn all(&self, bytes: &[u8]) -> Result<FoundDrawing, BringInError> {
        self.watch.at(0.0, self.name)?;
        guard::packed(bytes, self)?;
        let mut pdf = self.open(bytes.to_vec())?;
        let count = pdf.pages().len();
        if count == 0 {
            return Err(self.broken("no page is left in it, the file is damaged"));
        }
        if self.limits.pages < count as u64 {
            return Err(self.limit(self.limits.pages, "pages"));
        }
        let mut left = Vec::new();
        let layers = Layers::of(&pdf);
        if let Some(words) = layers.off_in_words() {
            match layers
                .all_on(bytes, &pdf)
                .and_then(|bytes| Pdf::new(bytes).ok())
                .filter(|shown| shown.pages().len() == count)
            {
                Some(shown) => {
                    pdf = shown;
                    left.push(Left {
                        what: format!("{words}; what is on there is read all the same"),
                        advice: "look whether it belongs to what you want".to_owned(),
                    });
                }
                None => left.push(Left {
                    what: format!("{words} and could not be read"),
                    advice: "switch every layer on where the file was made and save it anew"
                        .to_owned(),
                }),
            }
        }
        guard::work(&pdf, self)?;
        self.pages(&pdf, &layers, left)
    }

    fn pages(
        &self,
        pdf: &Pdf,
        layers: &Layers,
        mut left: Vec<Left>,
    ) -> Result<FoundDrawing, BringInError> {
        let cache = InterpreterCache::new();
        let count = pdf.pages().len();
        let (mut sheets, mut spent, mut pictures) = (Vec::new(), collect::Spent::default(), 0);
        for (index, page) in pdf.pages().iter().enumerate() {
            self.watch.at(index as f64 / count as f64, self.name)?;
            let frame = Frame::of(page).ok_or_else(|| {
                self.broken(&format!("page {} has no size that can be", index + 1))
            })?;
            let told = layers::told_of_forms(page);
            let settings = InterpreterSettings {
                render_content: match told {
                    Some(_) => RenderContent::ANNOTATIONS,
                    None => RenderContent::all(),
                },
                ..InterpreterSettings::default()
            };
            let (start, all) = (frame.mm_from_page, frame.bounds);
            let mut context = Context::new(start, all, &cache, pdf.xref(), settings);
            let mut collector = Collector::new(*self, layers, index + 1, &frame, spent);
            if let Some(content) = &told {
                let content = TypedIter::new(content);
                interpret(content, page.resources(), &mut context, &mut collector);
            }
            interpret_page(page, &mut context, &mut collector);
            let found = collector.found();
            spent = found.spent;
            pictures += found.pictures;
            left.extend(found.left);
            sheets.push(found.sheet);
        }
        self.watch.at(1.0, self.name)?;
        let nothing = sheets
            .iter()
            .all(|sheet| sheet.lines.is_empty() && sheet.texts.is_empty());
        if nothing && pictures == 0 {
            return Err(BringInError::Empty {
                file: self.name.to_owned(),
            });
        }
        Ok(FoundDrawing {
            file: self.name.to_owned(),
            kind: Kind::Pdf,
            scale: Scale::Given,
            sheets,
            left,
        })
    }
}
