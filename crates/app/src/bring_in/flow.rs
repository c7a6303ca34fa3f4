//! The frame of the tray while something is brought in: which file, the steps, what follows, and the way out.

use egui::{ProgressBar, RichText, ScrollArea, Ui};
use petitoile_exchange::bring_in::Kind;

use super::{BringIn, Leaf};
use crate::command::Command;
use crate::session::{On, Session, Tray};
use crate::trays::{faded, heading, leaves};
use crate::wording;

impl BringIn {
    /// Shows the tray.
    pub fn ui(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        self.collect(ui.ctx(), session, commands);
        heading(ui, "Bring in");
        if let Some((name, done)) = self.reader.reading() {
            let name = name.to_owned();
            self.reading(ui, &name, done);
            return;
        }
        if let Some(trouble) = self.trouble.clone() {
            ui.add(egui::Label::new(trouble).wrap());
        }
        if self.source.is_none() && self.picture.is_none() {
            self.way_out(ui, session, commands);
            return;
        }
        let all = self.steps();
        leaves(ui, &all, &mut self.leaf, 60.0);
        ui.separator();
        let foot = 88.0;
        let tall = (ui.available_height() - foot).max(120.0);
        ScrollArea::vertical()
            .max_height(tall)
            .auto_shrink([false, false])
            .show(ui, |ui| match self.leaf {
                Leaf::Picture => self.picture_leaf(ui, session, commands),
                Leaf::Pages => self.pages_leaf(ui, session, commands),
                Leaf::Scale => self.scale_leaf(ui, session, commands),
                Leaf::Pieces => self.pieces_leaf(ui, session, commands),
                Leaf::Ready => self.ready_leaf(ui, session, commands),
            });
        ui.separator();
        self.way_out(ui, session, commands);
    }

    /// The steps that this file needs.
    fn steps(&self) -> Vec<(Leaf, &'static str)> {
        let mut steps = Vec::new();
        if self.picture.is_some() {
            steps.push((Leaf::Picture, "Picture"));
        }
        let drawing = self.source.as_ref().map(|source| &source.drawing);
        if drawing.is_some_and(|drawing| drawing.sheets.len() > 1) {
            steps.push((Leaf::Pages, "Pages"));
        }
        if drawing.is_some_and(|drawing| drawing.kind != Kind::Picture) {
            steps.push((Leaf::Scale, "Scale"));
        }
        if drawing.is_some() {
            steps.push((Leaf::Pieces, "Pieces"));
            steps.push((Leaf::Ready, "Ready"));
        }
        steps
    }

    fn reading(&mut self, ui: &mut Ui, name: &str, done: f32) {
        let words = format!("Reading {name}");
        let bar = ui.add(ProgressBar::new(done).text(&words));
        bar.widget_info(|| {
            egui::WidgetInfo::labeled(egui::Role::ProgressIndicator, true, words.clone())
        });
        if ui.button("Stop reading").clicked() {
            self.give_up();
        }
        ui.ctx()
            .request_repaint_after(std::time::Duration::from_millis(100));
    }

    /// What has come out, and the two ways out of here.
    fn way_out(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        let worked = self.worked.clone().filter(|_| !self.is_working());
        if let Some(worked) = &worked {
            let pieces = wording::count(worked.recognised.pieces.len(), "piece", "pieces");
            let words = if worked.is_ready() {
                format!("{pieces}, ready to adapt")
            } else {
                let lacking = wording::count(worked.lacking.len(), "thing is", "things are");
                format!("{pieces}; {lacking} still needed to adapt it")
            };
            faded(ui, words);
        } else if self.is_working() {
            let words = "Looking at the lines\u{2026}";
            let bar = ui.add(ProgressBar::new(self.share_done()).text(words));
            bar.widget_info(|| {
                egui::WidgetInfo::labeled(egui::Role::ProgressIndicator, true, words)
            });
            ui.ctx()
                .request_repaint_after(std::time::Duration::from_millis(100));
        }
        ui.horizontal_wrapped(|ui| {
            let large = egui::vec2(110.0, 34.0);
            let taken = worked
                .as_ref()
                .is_some_and(|w| session.project().garment(&w.readied.name).is_some());
            let possible = worked
                .as_ref()
                .is_some_and(|w| !w.recognised.pieces.is_empty() && !taken);
            let button = egui::Button::new(RichText::new("Take it in").strong()).min_size(large);
            let tip = "Puts the garment into the project, as one step that can be undone";
            let button = ui.add_enabled(possible, button).on_hover_text(tip);
            if let Some(worked) = worked.as_ref().filter(|_| button.clicked()) {
                commands.push(Command::Edit(worked.edit()));
                commands.push(Command::ChooseGarment(worked.readied.name.clone()));
                commands.push(Command::On(On::Garment));
                commands.push(Command::Tray(Tray::Chalk));
                commands.push(Command::ShowAll);
                self.give_up();
            }
            let tip = "Another page, drawing or picture of the same garment; what was put right so far begins anew";
            let add = egui::Button::new("Add a file\u{2026}").min_size(large);
            let has_some = self.source.is_some() || self.picture.is_some();
            if has_some && ui.add(add).on_hover_text(tip).clicked() {
                commands.push(Command::BringIn);
            }
            let tip = "Nothing of it is kept";
            let given_up = ui.add(egui::Button::new("Give it up").min_size(large));
            if given_up.on_hover_text(tip).clicked() {
                self.give_up();
            }
        });
    }
}
