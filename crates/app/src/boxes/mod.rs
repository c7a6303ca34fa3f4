//! Small boxes that ask one thing: a new garment, a new fitting, the size of the screen. Escape closes them.

mod new_fitting;
mod new_garment;
mod ruler;

pub use new_garment::usual_body;

use std::sync::Arc;

use egui::{Context, Id, Modal, RichText, Ui};
use petitoile_core::body::Body;
use petitoile_exchange::body_table;

use crate::command::Command;
use crate::session::Session;

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Question {
    /// Name and body of a new garment.
    NewGarment,
    /// Name and body of a new fitting.
    NewFitting,
    /// How large the screen is.
    ScreenSize,
}

/// The box that is open, and what is half typed in it.
pub struct Boxes {
    open: Option<Question>,
    built_in: Vec<Arc<Body>>,
    name: String,
    body: Option<Arc<Body>>,
    points: f32,
    fresh: bool,
}

impl Default for Boxes {
    fn default() -> Self {
        Self {
            open: None,
            built_in: body_table::built_in(),
            name: String::new(),
            body: None,
            points: ruler::USUAL_POINTS,
            fresh: false,
        }
    }
}

impl Boxes {
    /// Opens a box.
    pub fn ask(&mut self, question: Question, session: &Session) {
        self.open = Some(question);
        self.name.clear();
        self.fresh = true;
        match question {
            Question::NewGarment => self.body = new_garment::usual_body(&self.built_in),
            Question::NewFitting => self.body = new_fitting::usual_body(&self.built_in),
            Question::ScreenSize => {
                self.points = session
                    .settings
                    .points_on_100_mm
                    .unwrap_or(ruler::USUAL_POINTS);
            }
        }
    }

    /// Is one open?
    pub fn is_open(&self) -> bool {
        self.open.is_some()
    }

    /// Shows the open box.
    pub fn ui(&mut self, ctx: &Context, session: &Session, commands: &mut Vec<Command>) {
        let Some(question) = self.open else { return };
        let modal = Modal::new(Id::unique("box")).show(ctx, |ui| {
            ui.set_width(440.0_f32.min(ctx.content_rect().width() - 60.0));
            match question {
                Question::NewGarment => new_garment::ui(self, ui, session, commands),
                Question::NewFitting => new_fitting::ui(self, ui, session, commands),
                Question::ScreenSize => ruler::ui(self, ui, session, commands),
            }
        });
        self.fresh = false;
        if modal.inner || modal.should_close() {
            self.open = None;
        }
    }
}

fn title(ui: &mut Ui, words: &str) {
    ui.label(RichText::new(words).heading());
    ui.add_space(4.0);
}

/// Two buttons side by side. Gives whether the first was clicked, and whether the box is to be closed.
fn buttons(ui: &mut Ui, yes: &str, allowed: bool) -> (bool, bool) {
    ui.add_space(8.0);
    ui.horizontal(|ui| {
        let large = egui::vec2(100.0, 32.0);
        let done = ui.add_enabled(allowed, egui::Button::new(yes).min_size(large));
        let given_up = ui.add(egui::Button::new("Cancel").min_size(large));
        (done.clicked(), done.clicked() || given_up.clicked())
    })
    .inner
}

/// A field for the name; the keys go to it when the box opens. Gives whether Enter was pressed in it.
fn name_row(boxes: &mut Boxes, ui: &mut Ui, label: &str, hint: &str) -> bool {
    ui.horizontal(|ui| {
        ui.label("Name");
        let edit = egui::TextEdit::singleline(&mut boxes.name)
            .hint_text(hint)
            .desired_width(f32::INFINITY);
        let response = ui.add(edit).accessible_name(label);
        if boxes.fresh {
            response.request_focus();
        }
        response.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter))
    })
    .inner
}

/// The list of bodies.
fn body_row(boxes: &mut Boxes, ui: &mut Ui, session: &Session, words: &str) {
    ui.horizontal(|ui| {
        ui.label(words);
        let Some(now) = boxes.body.clone() else {
            return;
        };
        if let Some(body) = crate::fields::pick_body(ui, session, &boxes.built_in, &now) {
            boxes.body = Some(body);
        }
    });
}
