//! The Chalk tray: what hand work alters, the tools, the numbers of the tool in hand.

use egui::{Button, RichText, ScrollArea, Ui};

use super::{faded, heading};
use crate::chalk::Chalk;
use crate::chalk::tool::Group;
use crate::command::Command;
use crate::fields::one_of;
use crate::session::{On, Session};

/// The Chalk tray.
#[derive(Default)]
pub struct ChalkTray;

impl ChalkTray {
    /// Shows the tray.
    pub fn ui(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        chalk: &mut Chalk,
        commands: &mut Vec<Command>,
    ) {
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            on(ui, session, commands);
            tools(ui, chalk, commands);
            ui.separator();
            ui.label(chalk.says(session));
            chalk.fields(ui, session, commands);
            ui.add_space(12.0);
        });
    }
}

/// Garment or fitting: always visible which.
fn on(ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
    heading(ui, "Chalk on");
    let both: &[On] = if session.fitting().is_some() {
        &[On::Fitting, On::Garment]
    } else {
        &[On::Garment]
    };
    ui.horizontal_wrapped(|ui| {
        if let Some(on) = one_of(ui, "Chalk on", session.on(), both, |on| match on {
            On::Fitting => "This fitting",
            On::Garment => "The garment",
        }) {
            commands.push(Command::On(on));
        }
    });
    faded(
        ui,
        match session.on() {
            On::Fitting => {
                "Only this fitting changes. Each step is made again when the body or the ease changes."
            }
            On::Garment => "The garment changes, and with it every fitting of it.",
        },
    );
}

fn tools(ui: &mut Ui, chalk: &mut Chalk, commands: &mut Vec<Command>) {
    let in_hand = chalk.tool().map(|tool| tool.name()).unwrap_or_default();
    let mut taken = None;
    for group in Group::ALL {
        let mut tools = chalk
            .tools()
            .filter(|tool| tool.group() == group)
            .peekable();
        if tools.peek().is_none() {
            continue;
        }
        faded(ui, group.words());
        ui.horizontal_wrapped(|ui| {
            for tool in tools {
                let chosen = tool.name() == in_hand;
                let button = ui.add(
                    Button::selectable(chosen, RichText::new(tool.name()))
                        .min_size(egui::vec2(44.0, 28.0)),
                );
                let keys = tool
                    .key()
                    .map_or(String::new(), |key| format!(" ({})", key.name()));
                if button
                    .on_hover_text(format!("{}{keys}", tool.tip()))
                    .clicked()
                {
                    taken = Some(tool.name());
                }
            }
        });
    }
    if let Some(name) = taken {
        chalk.take(name, commands);
    }
}
