//! The chooser inside the window: folders and fitting files of one folder, a name, and two buttons.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};

use egui::{Align, Button, Key, Layout, RichText, ScrollArea, TextEdit, Ui};

use super::Purpose;

/// A folder that is looked into.
pub struct Inside {
    purpose: Purpose,
    folder: PathBuf,
    folders: Vec<String>,
    files: Vec<String>,
    name: String,
    path_text: String,
    trouble: Option<String>,
}

/// What came of a frame.
pub enum Outcome {
    /// Still open.
    Open,
    /// Closed without a file.
    Closed,
    /// This file.
    Chosen(PathBuf),
}

impl Inside {
    /// Looks into a folder, or the nearest one above it that can be read.
    pub fn new(purpose: Purpose, folder: &Path, name: &str) -> Self {
        let mut inside = Self {
            purpose,
            folder: PathBuf::new(),
            folders: Vec::new(),
            files: Vec::new(),
            name: if matches!(purpose, Purpose::Open | Purpose::Photo | Purpose::BringIn) {
                String::new()
            } else {
                name.to_owned()
            },
            path_text: String::new(),
            trouble: None,
        };
        let whole = std::path::absolute(folder).unwrap_or_else(|_| folder.to_owned());
        if !whole.ancestors().any(|folder| inside.look_into(folder)) {
            inside.path_text = whole.display().to_string();
        }
        inside
    }

    /// Reads a folder; says why not, and stays, when it cannot be read.
    fn look_into(&mut self, folder: &Path) -> bool {
        let entries = match std::fs::read_dir(folder) {
            Ok(entries) => entries,
            Err(trouble) => {
                self.trouble = Some(format!("{}: {trouble}", folder.display()));
                return false;
            }
        };
        let (mut folders, mut files) = (Vec::new(), Vec::new());
        for entry in entries.flatten() {
            let Ok(name) = entry.file_name().into_string() else {
                continue;
            };
            let path = entry.path();
            if name.starts_with('.') {
                continue;
            }
            if path.is_dir() {
                folders.push(name);
            } else if self.purpose.fits(&path) {
                files.push(name);
            }
        }
        folders.sort();
        files.sort();
        (self.folders, self.files) = (folders, files);
        self.folder = folder.to_owned();
        self.path_text = folder.display().to_string();
        self.trouble = None;
        true
    }

    /// Shows the chooser in the middle of the window.
    pub fn ui(&mut self, ctx: &egui::Context) -> Outcome {
        let room = ctx.content_rect().size();
        let mut outcome = Outcome::Open;
        let size = egui::vec2(
            (room.x - 40.0).clamp(240.0, 560.0),
            (room.y - 80.0).clamp(180.0, 420.0),
        );
        egui::Window::new(self.purpose.title())
            .collapsible(false)
            .resizable(false)
            .anchor(egui::Align2::CENTER_CENTER, [0.0, 0.0])
            .fixed_size(size)
            .show(ctx, |ui| {
                self.way(ui);
                let chosen_in_list = self.list(ui, size.y - 130.0);
                outcome = self.foot(ui, chosen_in_list);
            });
        if ctx.input_mut(|i| i.consume_key(egui::Modifiers::NONE, Key::Escape)) {
            outcome = Outcome::Closed;
        }
        outcome
    }

    /// The folder, and the way up.
    fn way(&mut self, ui: &mut Ui) {
        ui.horizontal(|ui| {
            let above = self.folder.parent().map(Path::to_owned);
            if ui
                .add_enabled(above.is_some(), Button::new("Up"))
                .on_hover_text("The folder above")
                .clicked()
                && let Some(above) = above
            {
                self.look_into(&above);
            }
            let field = ui
                .add(TextEdit::singleline(&mut self.path_text).desired_width(f32::INFINITY))
                .accessible_name("Folder");
            if field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter)) {
                let typed = PathBuf::from(self.path_text.trim());
                self.look_into(&typed);
            }
        });
    }

    /// Folders, then files. Gives whether a file was double-clicked.
    fn list(&mut self, ui: &mut Ui, height: f32) -> bool {
        let (mut into, mut done) = (None, false);
        ScrollArea::vertical()
            .auto_shrink(false)
            .max_height(height.max(60.0))
            .show(ui, |ui| {
                for folder in &self.folders {
                    if ui
                        .add(
                            Button::selectable(false, format!("{folder}/"))
                                .min_size(egui::vec2(ui.available_width(), 26.0)),
                        )
                        .clicked()
                    {
                        into = Some(self.folder.join(folder));
                    }
                }
                for file in &self.files {
                    let row = ui.add(
                        Button::selectable(self.name == *file, RichText::new(file).strong())
                            .min_size(egui::vec2(ui.available_width(), 26.0)),
                    );
                    if row.clicked() {
                        self.name.clone_from(file);
                    }
                    done |= row.double_clicked();
                }
                if self.folders.is_empty() && self.files.is_empty() {
                    ui.label(RichText::new("nothing here").weak());
                }
            });
        if let Some(folder) = into {
            self.look_into(&folder);
        }
        done
    }

    /// Name and buttons.
    fn foot(&mut self, ui: &mut Ui, done_in_list: bool) -> Outcome {
        if let Some(trouble) = &self.trouble {
            ui.label(
                RichText::new(trouble)
                    .small()
                    .color(ui.visuals().error_fg_color),
            );
        }
        let mut outcome = Outcome::Open;
        let label = ui.label("File");
        let field = ui
            .add(TextEdit::singleline(&mut self.name).desired_width(f32::INFINITY))
            .labelled_by(label.id);
        let entered = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        let file = self.folder.join(self.name.trim());
        let there = file.is_file();
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let (words, allowed) = match self.purpose {
                Purpose::Open | Purpose::Photo | Purpose::BringIn => ("Open this", there),
                Purpose::Save | Purpose::Export(_) if there => ("Replace it", true),
                Purpose::Save => ("Save here", !self.name.trim().is_empty()),
                Purpose::Export(_) => ("Write here", !self.name.trim().is_empty()),
            };
            let go = ui.add_enabled(allowed, Button::new(words)).clicked();
            if allowed && (go || entered || done_in_list) {
                outcome = Outcome::Chosen(file.clone());
            }
            if ui.button("Cancel").clicked() {
                outcome = Outcome::Closed;
            }
        });
        outcome
    }
}

impl Purpose {
    /// Is a file of this name of the right kind? Projects may also end in `.ron`.
    fn fits(self, file: &Path) -> bool {
        let ending = file.extension();
        if matches!(self, Self::Photo | Self::BringIn) {
            let endings = self.endings().iter();
            return ending.is_some_and(|ending| endings.clone().any(|one| ending == *one));
        }
        let other = if matches!(self, Self::Open | Self::Save) {
            Some(OsStr::new("ron"))
        } else {
            None
        };
        ending == Some(OsStr::new(self.ending())) || (other.is_some() && ending == other)
    }
}
