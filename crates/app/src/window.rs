//! The window: what comes in is collected, everything is shown, then the commands are run, in this order.

use std::path::{Path, PathBuf};

use eframe::Storage;
use egui::{CentralPanel, Panel, Ui, ViewportCommand};
use petitoile_core::project::Project;
use petitoile_exchange::photo::LaidFlat;

use crate::boxes::{Boxes, Question};
use crate::bring_in::BringIn;
use crate::canvas::Canvas;
use crate::chalk::Chalk;
use crate::chalk::picture_under::PictureUnder;
use crate::chooser::{Chooser, Purpose};
use crate::command::{self, Command, Export};
use crate::demos;
use crate::files::{self, Recovery};
use crate::session::{On, Session, Tray};
use crate::theme;
use crate::trays::{
    BodyTray, ChalkTray, ClothTray, FindingsTray, FitTray, FoldsTray, MakeTray, PaperTray,
    PieceList,
};

mod bars;
mod dropped;
mod keeping;
mod printing;
mod stash;
mod wardrobe;

use keeping::Keeping;

/// Below this width the list of pieces gives way to the table.
const NARROW: f32 = 900.0;

/// Opens the window on a project and blocks until it is closed.
///
/// # Errors
/// One line when no window can be opened (no display, no OpenGL).
pub fn open(project: Project, file: Option<PathBuf>) -> Result<(), String> {
    let options = eframe::NativeOptions {
        renderer: eframe::Renderer::Glow,
        viewport: egui::ViewportBuilder::default()
            .with_title("Petitoile")
            .with_app_id("petitoile")
            .with_inner_size([1280.0, 800.0])
            .with_min_inner_size([560.0, 380.0])
            .with_drag_and_drop(true),
        persist_window: false,
        ..eframe::NativeOptions::default()
    };
    let build = move |cc: &eframe::CreationContext<'_>| -> Result<Box<dyn eframe::App>, Box<dyn std::error::Error + Send + Sync>> {
        let settings = cc.storage.and_then(|storage| eframe::get_value(storage, SETTINGS)).unwrap_or_default();
        theme::install(&cc.egui_ctx);
        let ctx = cc.egui_ctx.clone();
        let session = Session::new(project, file, settings, move || ctx.request_repaint());
        Ok(Box::new(Window::new(session, Chooser::default(), Recovery::of_user().ok())))
    };
    eframe::run_native("petitoile", options, Box::new(build))
        .map_err(|trouble| format!("no window can be opened: {trouble}"))
}

const SETTINGS: &str = "settings";

/// The window.
pub struct Window {
    /// The sitting.
    pub session: Session,
    canvas: Canvas,
    boxes: Boxes,
    /// What is being brought in; while that goes on it takes the place of tray and table.
    pub bring_in: BringIn,
    body: BodyTray,
    chalk: Chalk,
    chalk_tray: ChalkTray,
    fit: FitTray,
    folds: FoldsTray,
    cloth: ClothTray,
    paper: PaperTray,
    make: MakeTray,
    findings: FindingsTray,
    pieces: PieceList,
    chooser: Chooser,
    keeping: Keeping,
    asked: Vec<Command>,
    /// Lines of figures that wait for a file to be chosen: what they are about, and the lines.
    lines: (String, Vec<String>),
    title: String,
}

impl Window {
    /// A window on a sitting. Without `recovery` unsaved work is not kept.
    pub fn new(session: Session, chooser: Chooser, recovery: Option<Recovery>) -> Self {
        let keeping = Keeping::new(recovery, session.file.as_deref());
        Self {
            session,
            canvas: Canvas::default(),
            boxes: Boxes::default(),
            bring_in: BringIn::default(),
            body: BodyTray::default(),
            chalk: Chalk::default(),
            chalk_tray: ChalkTray,
            fit: FitTray::default(),
            folds: FoldsTray::default(),
            cloth: ClothTray::default(),
            paper: PaperTray::default(),
            make: MakeTray::default(),
            findings: FindingsTray,
            pieces: PieceList::default(),
            chooser,
            keeping,
            asked: Vec::new(),
            lines: (String::new(), Vec::new()),
            title: String::new(),
        }
    }

    /// Asks for something from outside the window; it is run at the end of the next frame.
    pub fn ask(&mut self, command: Command) {
        self.asked.push(command);
    }

    /// One frame: takes over answers, shows everything, runs what was asked.
    pub fn frame(&mut self, ui: &mut Ui) {
        self.session.collect();
        let mut commands = std::mem::take(&mut self.asked);
        self.show(ui, &mut commands);
        self.boxes.ui(ui.ctx(), &self.session, &mut commands);
        self.chooser.ui(ui.ctx(), &mut commands);
        dropped::dropped(ui.ctx(), &mut commands);
        if self.bring_in.is_open() && !self.boxes.is_open() {
            self.bring_in.keys(ui.ctx(), &mut commands);
        }
        if self.session.tray == Tray::Cloth && !self.is_covered() {
            self.cloth.keys(ui.ctx(), &self.session, &mut commands);
        }
        if self.session.tray == Tray::Chalk && !self.is_covered() {
            self.chalk.keys(ui.ctx(), &self.session, &mut commands);
        }
        if !self.is_covered() {
            command::from_keys(ui.ctx(), &self.session, &mut commands);
        }
        let any = !commands.is_empty();
        for command in commands {
            self.run(command, ui.ctx());
        }
        self.keep(ui.ctx());
        self.settle(ui.ctx());
        if any {
            ui.ctx().request_repaint();
        }
    }

    /// Does something else have the keys of the trays?
    fn is_covered(&self) -> bool {
        self.boxes.is_open() || self.bring_in.is_open()
    }

    fn show(&mut self, ui: &mut Ui, commands: &mut Vec<Command>) {
        let session = &self.session;
        let size = ui.ctx().content_rect().size();
        let narrow = size.x < NARROW;
        Panel::top("bar").show(ui, |ui| bars::top(ui, session, narrow, commands));
        let next_click = match session.tray {
            _ if self.bring_in.is_open() => None,
            Tray::Chalk => Some(self.chalk.says(session)),
            Tray::Cloth => self.cloth.says(session),
            _ => None,
        };
        Panel::bottom("status").show(ui, |ui| {
            bars::status(
                ui,
                session,
                next_click.as_deref(),
                &self.keeping.found,
                commands,
            )
        });
        let tray_width = if narrow {
            (size.x * 0.46).max(260.0)
        } else {
            (size.x * 0.29).clamp(340.0, 420.0)
        };
        Panel::right("tray")
            .default_size(tray_width)
            .size_range(240.0..=size.x * 0.6)
            .show(ui, |ui| {
                // A tray keeps its width, whatever stands in it.
                ui.set_min_width(ui.available_width());
                ui.add_space(4.0);
                if self.bring_in.is_open() {
                    self.bring_in.ui(ui, session, commands);
                    return;
                }
                if narrow {
                    ui.spacing_mut().slider_width = 96.0;
                }
                match session.tray {
                    Tray::Body => self.body.ui(ui, session, commands),
                    Tray::Chalk => self.chalk_tray.ui(ui, session, &mut self.chalk, commands),
                    Tray::Fit => self.fit.ui(ui, session, commands),
                    Tray::Folds => self.folds.ui(ui, session, commands),
                    Tray::Cloth => self.cloth.ui(ui, session, commands),
                    Tray::Paper => self.paper.ui(ui, session, commands),
                    Tray::Make => self.make.ui(ui, session, commands),
                }
            });
        if self.bring_in.is_open() {
            CentralPanel::default()
                .frame(egui::Frame::NONE)
                .show(ui, |ui| self.bring_in.table(ui, session));
            return;
        }
        if !narrow {
            Panel::left("pieces")
                .default_size(196.0)
                .size_range(130.0..=320.0)
                .show(ui, |ui| {
                    ui.set_min_width(ui.available_width());
                    self.pieces.ui(ui, session, commands);
                });
        }
        let findings = bars::findings_height(session, size.y);
        Panel::bottom("findings")
            .resizable(false)
            .exact_size(findings)
            .show(ui, |ui| {
                ui.add_space(3.0);
                self.findings.ui(ui, session, commands);
            });
        CentralPanel::default()
            .frame(egui::Frame::NONE)
            .show(ui, |ui| {
                if session.tray == Tray::Cloth {
                    self.cloth.table(ui, session, commands);
                    return;
                }
                let chalk = (session.tray == Tray::Chalk).then_some(&mut self.chalk);
                self.canvas.ui(ui, session, chalk, commands);
            });
    }

    /// Runs one command. Files and choosers are handled here, all else by the session.
    fn run(&mut self, command: Command, ctx: &egui::Context) {
        let done = match command {
            Command::Open => {
                self.chooser
                    .ask(ctx, Purpose::Open, self.session.file.as_deref(), "");
                Ok(())
            }
            Command::SaveAs => {
                self.choose(ctx, Purpose::Save);
                Ok(())
            }
            Command::Export(export) => {
                self.choose(ctx, Purpose::Export(export));
                Ok(())
            }
            Command::PrintLines(title, lines) => {
                self.lines = (title, lines);
                self.choose(ctx, Purpose::Export(Export::Lines));
                Ok(())
            }
            Command::Ask(question) => {
                self.boxes.ask(question, &self.session);
                Ok(())
            }
            // Nobody has held a ruler to this screen yet: that comes first.
            Command::TrueSize if self.session.settings.points_on_100_mm.is_none() => {
                self.boxes.ask(Question::ScreenSize, &self.session);
                Ok(())
            }
            Command::OpenFile(file) => self.open_file(&file),
            Command::Save => match self.session.file.clone() {
                Some(file) => self.save_file(&file),
                None => {
                    self.choose(ctx, Purpose::Save);
                    Ok(())
                }
            },
            Command::SaveFile(file) => self.save_file(&file),
            Command::ExportFile(export, file) => self.export_file(export, &file),
            Command::Recover(number) => self.recover(number),
            Command::OpenDemo(name) => self.open_demo(name),
            Command::Wardrobe(ask) => self.wardrobe(&ask),
            Command::Stash(ask) => self.stash(&ask),
            Command::BringIn => {
                let near = self.session.file.as_deref();
                self.chooser.ask(ctx, Purpose::BringIn, near, "");
                Ok(())
            }
            Command::Undo if self.bring_in.is_open() => {
                self.bring_in.undo(ctx);
                Ok(())
            }
            Command::Redo if self.bring_in.is_open() => {
                self.bring_in.redo(ctx);
                Ok(())
            }
            Command::Tray(_) if self.bring_in.is_open() => {
                Err("take in what you are bringing in, or give it up, first".to_owned())
            }
            Command::BringInFiles(files) => {
                self.bring_in.take_up(ctx, &self.session, files);
                Ok(())
            }
            Command::DrawOver(flat) => {
                self.draw_over(ctx, &flat);
                Ok(())
            }
            Command::ChoosePhoto => {
                self.choose(ctx, Purpose::Photo);
                Ok(())
            }
            Command::PhotoFile(file) => {
                self.cloth.photo(ctx, file);
                Ok(())
            }
            Command::ShowPlace(place) if self.session.tray == Tray::Cloth => {
                for command in self.cloth.show_place(&self.session, &place) {
                    self.session.apply(command);
                }
                Ok(())
            }
            Command::Discard(number) => self.discard(number),
            other => {
                self.session.apply(other);
                Ok(())
            }
        };
        if let Err(trouble) = done {
            self.session.message = Some(trouble);
        }
    }

    /// Lays a picture under the pieces of the Chalk table and takes the tool that draws in hand.
    fn draw_over(&mut self, ctx: &egui::Context, flat: &LaidFlat) {
        self.chalk.picture = Some(PictureUnder::new(ctx, flat));
        let mut commands = vec![Command::On(On::Garment), Command::Tray(Tray::Chalk)];
        self.chalk.take("Line", &mut commands);
        for command in commands {
            self.session.apply(command);
        }
        if self.session.garment().is_none() {
            self.boxes.ask(Question::NewGarment, &self.session);
        }
    }

    fn choose(&mut self, ctx: &egui::Context, purpose: Purpose) {
        let name = match (purpose, self.session.fitting.as_deref()) {
            (Purpose::Export(Export::Lines), _) => self.lines.0.clone(),
            (Purpose::Export(Export::MakingSheet), Some(name)) => format!("{name}, making"),
            (Purpose::Export(Export::LayPlan), Some(name)) => format!("{name}, lay plan"),
            (Purpose::Export(Export::LayPlanTrueSize), Some(name)) => {
                format!("{name}, lay plan at true size")
            }
            (Purpose::Export(_), Some(fitting)) => fitting.to_owned(),
            _ if self.session.project().name.is_empty() => "project".to_owned(),
            _ => self.session.project().name.clone(),
        };
        self.chooser.ask(
            ctx,
            purpose,
            self.session.file.as_deref(),
            &file_name(&name),
        );
    }

    fn open_file(&mut self, file: &Path) -> Result<(), String> {
        let opened = files::open(file).map_err(|trouble| trouble.to_string())?;
        // What was unsaved until now stays in the recovery folder.
        self.keep_now();
        self.session.put(opened.project, Some(file.to_owned()));
        self.keeping.belongs_to(Some(file), Some(opened.seal));
        self.session.message = Some(format!("Opened {}", file.display()));
        Ok(())
    }

    fn open_demo(&mut self, name: &str) -> Result<(), String> {
        let project = demos::named(name)?;
        self.keep_now();
        self.session.put(project, None);
        self.keeping.belongs_to(None, None);
        Ok(())
    }

    fn save_file(&mut self, file: &Path) -> Result<(), String> {
        let project = self.session.project().clone();
        let seal = self
            .keeping
            .seal
            .filter(|_| self.session.file.as_deref() == Some(file));
        let seal = files::save(file, &project, seal).map_err(|trouble| trouble.to_string())?;
        self.forget_kept();
        self.session.now_saved(project, file.to_owned());
        self.settle_stash()?;
        self.keeping.belongs_to(Some(file), Some(seal));
        self.session.message = Some(format!("Saved {}", file.display()));
        Ok(())
    }

    /// Title, theme and size of everything.
    fn settle(&mut self, ctx: &egui::Context) {
        let mark = if self.session.is_unsaved() {
            "\u{2022} "
        } else {
            ""
        };
        let name = self.session.project().name.as_str();
        let title = format!(
            "{mark}{}{}Petitoile",
            name,
            if name.is_empty() { "" } else { " \u{2013} " }
        );
        if title != self.title {
            ctx.send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.title = title;
        }
        let look = self.session.settings.look.preference();
        if ctx.options(|o| o.theme_preference) != look {
            ctx.set_theme(look);
        }
        if (ctx.zoom_factor() - self.session.settings.scale).abs() > 1e-3 {
            ctx.set_zoom_factor(self.session.settings.scale);
        }
    }
}

impl eframe::App for Window {
    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.frame(ui);
        if ui.input(|i| i.viewport().close_requested()) {
            self.keep_now();
        }
    }

    fn save(&mut self, storage: &mut dyn Storage) {
        eframe::set_value(storage, SETTINGS, &self.session.settings);
    }
}

/// A title as the name of a file: letters, digits and hyphens.
fn file_name(title: &str) -> String {
    let name: String = title
        .trim()
        .chars()
        .map(|c| if c.is_alphanumeric() { c } else { '-' })
        .collect();
    let parts: Vec<&str> = name.split('-').filter(|part| !part.is_empty()).collect();
    if parts.is_empty() {
        "project".to_owned()
    } else {
        parts.join("-").to_lowercase()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_becomes_a_plain_file_name() {
        assert_eq!(file_name("Harbour jacket, 45 cm"), "harbour-jacket-45-cm");
        assert_eq!(file_name("  //"), "project");
    }
}
