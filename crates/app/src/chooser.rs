//! Choosing a file: with the desktop's own chooser where it has one, else with one inside the window.
//!
//! The desktop's chooser runs beside the window, so that the table stays alive. A desktop without one answers at
//! once with nothing, which looks like "cancelled" (measured: within 18 ms); then the inside chooser opens instead.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::{Duration, Instant};

use crate::command::{Command, Export};
use crate::files::ENDING;

mod inside;

use inside::{Inside, Outcome};

/// Nobody cancels a chooser faster than this.
const TOO_FAST_FOR_A_HAND: Duration = Duration::from_millis(120);

/// Endings of files that can be brought in; what they are is told by their bytes.
pub const BROUGHT_IN: &[&str] = &[
    "svg", "svgz", "dxf", "pdf", "png", "jpg", "jpeg", "SVG", "DXF", "PDF", "PNG", "JPG", "JPEG",
];

/// What a file is chosen for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Purpose {
    /// To open a project.
    Open,
    /// To save the project.
    Save,
    /// To trace cloth in a photo.
    Photo,
    /// To bring in a drawing or a picture of pieces.
    BringIn,
    /// To write a print or drawing.
    Export(Export),
}

impl Purpose {
    /// The command that chosen files lead to; all but drawings to bring in are one file.
    pub fn command(self, files: Vec<PathBuf>) -> Option<Command> {
        if self == Self::BringIn {
            return Some(Command::BringInFiles(files));
        }
        let file = files.into_iter().next()?;
        Some(match self {
            Self::Open => Command::OpenFile(file),
            Self::Save => Command::SaveFile(with_ending(file, ENDING)),
            Self::Photo => Command::PhotoFile(file),
            Self::BringIn => Command::BringInFiles(vec![file]),
            Self::Export(export) => Command::ExportFile(export, with_ending(file, export.ending())),
        })
    }

    fn ending(self) -> &'static str {
        match self {
            Self::Photo => "png",
            Self::BringIn => "svg",
            Self::Open | Self::Save => ENDING,
            Self::Export(export) => export.ending(),
        }
    }

    /// Every ending of files of its kind.
    fn endings(self) -> &'static [&'static str] {
        match self {
            Self::Photo => &["png", "jpg", "jpeg", "PNG", "JPG", "JPEG"],
            Self::BringIn => BROUGHT_IN,
            Self::Open | Self::Save => &[ENDING],
            Self::Export(Export::Svg) => &["svg"],
            Self::Export(Export::Dxf) => &["dxf"],
            Self::Export(Export::Png) => &["png"],
            Self::Export(_) => &["pdf"],
        }
    }

    fn title(self) -> &'static str {
        match self {
            Self::Open => "Open a project",
            Self::Save => "Save the project",
            Self::Photo => "Open a photo of cloth",
            Self::BringIn => "Bring in a drawing or a picture",
            Self::Export(Export::PagesPdf) => "Write pages as PDF",
            Self::Export(Export::OneSheetPdf) => "Write one sheet as PDF",
            Self::Export(Export::Svg) => "Write a drawing as SVG",
            Self::Export(Export::Dxf) => "Write a drawing as DXF",
            Self::Export(Export::Png) => "Write a picture as PNG",
            Self::Export(Export::Lines) => "Write a page of figures as PDF",
            Self::Export(Export::LayPlan) => "Write the lay plan as PDF",
            Self::Export(Export::LayPlanTrueSize) => "Write the lay plan at true size as PDF",
            Self::Export(Export::MakingSheet) => "Write the making sheet as PDF",
        }
    }
}

/// A name without an ending gets one; any other is left as it was typed.
fn with_ending(file: PathBuf, ending: &str) -> PathBuf {
    if file.extension().is_some() {
        file
    } else {
        file.with_extension(ending)
    }
}

struct Asked {
    purpose: Purpose,
    at: Instant,
    answer: Receiver<Option<Vec<PathBuf>>>,
    folder: PathBuf,
    name: String,
}

/// The chooser that is open, if any.
#[derive(Default)]
pub struct Chooser {
    asked: Option<Asked>,
    inside: Option<(Purpose, Inside)>,
    inside_only: bool,
}

impl Chooser {
    /// A chooser that is always inside the window: for tests, and where the maker prefers it.
    pub fn inside_the_window() -> Self {
        Self {
            inside_only: true,
            ..Self::default()
        }
    }

    /// Is one open?
    pub fn is_open(&self) -> bool {
        self.asked.is_some() || self.inside.is_some()
    }

    /// Asks for a file, starting beside `near`, with this name for a new one.
    pub fn ask(&mut self, ctx: &egui::Context, purpose: Purpose, near: Option<&Path>, name: &str) {
        if self.is_open() {
            return;
        }
        let folder = near
            .and_then(Path::parent)
            .filter(|p| !p.as_os_str().is_empty())
            .map_or_else(home, Path::to_owned);
        let name = format!("{name}.{}", purpose.ending());
        if self.inside_only || !desktop_has_one() {
            self.open_inside(purpose, &folder, &name);
            return;
        }
        let (sender, answer) = channel();
        let (ctx, dialog_folder, dialog_name) = (ctx.clone(), folder.clone(), name.clone());
        let started = std::thread::Builder::new()
            .name("chooser".to_owned())
            .spawn(move || {
                let dialog = rfd::FileDialog::new()
                    .set_title(purpose.title())
                    .set_directory(dialog_folder);
                let dialog = dialog.add_filter(purpose.ending(), purpose.endings());
                let one = |file: Option<PathBuf>| file.map(|file| vec![file]);
                let files = match purpose {
                    Purpose::Open | Purpose::Photo => one(dialog.pick_file()),
                    Purpose::BringIn => dialog.pick_files(),
                    Purpose::Save | Purpose::Export(_) => {
                        one(dialog.set_file_name(dialog_name).save_file())
                    }
                };
                sender.send(files).ok();
                ctx.request_repaint();
            });
        match started {
            Ok(_) => {
                self.asked = Some(Asked {
                    purpose,
                    at: Instant::now(),
                    answer,
                    folder,
                    name,
                })
            }
            Err(_) => self.open_inside(purpose, &folder, &name),
        }
    }

    fn open_inside(&mut self, purpose: Purpose, folder: &Path, name: &str) {
        self.inside = Some((purpose, Inside::new(purpose, folder, name)));
    }

    /// Shows the inside chooser and takes over what was chosen.
    pub fn ui(&mut self, ctx: &egui::Context, commands: &mut Vec<Command>) {
        self.collect(commands);
        let Some((purpose, inside)) = self.inside.as_mut() else {
            return;
        };
        match inside.ui(ctx) {
            Outcome::Open => {}
            Outcome::Closed => self.inside = None,
            Outcome::Chosen(file) => {
                commands.extend(purpose.command(vec![file]));
                self.inside = None;
            }
        }
    }

    fn collect(&mut self, commands: &mut Vec<Command>) {
        let Some(asked) = self.asked.as_ref() else {
            return;
        };
        let answer = match asked.answer.try_recv() {
            Err(TryRecvError::Empty) => return,
            Err(TryRecvError::Disconnected) => None,
            Ok(answer) => answer,
        };
        let took = asked.at.elapsed();
        let Some(asked) = self.asked.take() else {
            return;
        };
        match answer {
            Some(files) => commands.extend(asked.purpose.command(files)),
            // Answered before a hand could: there is no chooser on this desktop.
            None if took < TOO_FAST_FOR_A_HAND => {
                self.open_inside(asked.purpose, &asked.folder, &asked.name)
            }
            None => {}
        }
    }
}

/// Where to start when there is no file yet.
fn home() -> PathBuf {
    std::env::home_dir().unwrap_or_else(|| PathBuf::from("."))
}

/// Has the desktop a chooser of its own? On Linux that needs a session bus and a desktop that says its name.
fn desktop_has_one() -> bool {
    if !cfg!(target_os = "linux") {
        return true;
    }
    let set = |name: &str| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    set("DBUS_SESSION_BUS_ADDRESS") && set("XDG_CURRENT_DESKTOP")
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    #[test]
    fn a_name_without_an_ending_gets_the_right_one() {
        let of = |purpose: Purpose, name: &str| purpose.command(vec![name.into()]).unwrap();
        assert_eq!(
            of(Purpose::Save, "dress"),
            Command::SaveFile(format!("dress.{ENDING}").into())
        );
        assert_eq!(
            of(Purpose::Save, "dress.ron"),
            Command::SaveFile("dress.ron".into())
        );
        assert_eq!(
            of(Purpose::Export(Export::Svg), "dress"),
            Command::ExportFile(Export::Svg, "dress.svg".into())
        );
    }
}
