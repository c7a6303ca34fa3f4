//! What is worked on: a fitting, or a garment as it was drawn; and how to start another.

use egui::Ui;

use super::faded;
use crate::boxes::Question;
use crate::command::Command;
use crate::fields::pick;
use crate::session::Session;

/// Something that can be worked on.
#[derive(Debug, Clone, PartialEq)]
enum Work {
    Fitting(String),
    AsDrawn(String),
}

impl Work {
    fn words(&self) -> String {
        match self {
            Self::Fitting(name) => name.clone(),
            Self::AsDrawn(name) => format!("{name}, as drawn"),
        }
    }
}

/// Shows what is worked on, lets another be chosen, and offers to start one.
pub fn choose(ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
    let shown = session.shown();
    let fittings = shown.fittings.iter().map(|f| Work::Fitting(f.name.clone()));
    let garments = shown.garments.iter().map(|g| Work::AsDrawn(g.name.clone()));
    let all: Vec<Work> = fittings.chain(garments).collect();
    let now = match (session.fitting(), session.garment()) {
        (Some(fitting), _) => Work::Fitting(fitting.name.clone()),
        (None, Some(garment)) => Work::AsDrawn(garment.name.clone()),
        (None, None) => {
            faded(ui, "Nothing to work on yet.");
            ui.horizontal_wrapped(|ui| {
                start(ui, "New garment\u{2026}", Question::NewGarment, commands);
                if ui.button("Open\u{2026}").clicked() {
                    commands.push(Command::Open);
                }
            });
            return;
        }
    };
    ui.horizontal(|ui| {
        ui.label("Fitting");
        match pick(ui, "fitting", "Fitting", &now, &all, Work::words) {
            Some(Work::Fitting(name)) => commands.push(Command::ChooseFitting(name)),
            Some(Work::AsDrawn(name)) => commands.push(Command::ChooseGarment(name)),
            None => {}
        }
        start(ui, "New\u{2026}", Question::NewFitting, commands);
    });
    let garment = session.garment();
    let made_for = garment.map_or("?", |g| g.made_for.name.as_str());
    let name = garment.map_or("?", |g| g.name.as_str());
    faded(ui, format!("{name}, made for {made_for}"));
    if session.fitting().is_none() {
        faded(
            ui,
            "It lies as it was drawn. New\u{2026} puts it on a doll.",
        );
    }
}

fn start(ui: &mut Ui, words: &str, question: Question, commands: &mut Vec<Command>) {
    let button = ui.button(words);
    let name = match question {
        Question::NewGarment => "New garment",
        Question::NewFitting => "New fitting",
        Question::ScreenSize => "True size",
    };
    if button.accessible_name(name).clicked() {
        commands.push(Command::Ask(question));
    }
}
