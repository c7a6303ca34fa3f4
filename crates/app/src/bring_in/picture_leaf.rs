//! A picture step by step: something of known size in it, then the outlines.

use std::sync::Arc;

use egui::{ProgressBar, Ui};
use petitoile_core::edit::Edit;
use petitoile_core::{LengthUnit, Mm};
use petitoile_exchange::photo::{KnownRectangle, Traced, as_offcut};

use super::BringIn;
use super::picture::{Known, PictureTable};
use crate::command::Command;
use crate::fields::{Typed, length_field, one_of};
use crate::lay_work::cloth_names;
use crate::session::{Session, Tray};
use crate::trays::fresh_name;
use crate::trays::{faded, heading};
use crate::wording;

/// What is half chosen.
#[derive(Default)]
pub struct Half {
    known: Choice,
    side: Option<Mm>,
    other: Option<Mm>,
    length: Option<Mm>,
}

/// What of known size is in the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Choice {
    #[default]
    A4,
    Letter,
    Square,
    Sheet,
    Length,
    File,
}

impl Choice {
    fn words(self) -> &'static str {
        match self {
            Self::A4 => "a sheet of A4",
            Self::Letter => "a sheet of Letter",
            Self::Square => "a square of a cutting mat",
            Self::Sheet => "another sheet",
            Self::Length => "a length",
            Self::File => "what the scan says",
        }
    }
}

impl BringIn {
    pub(super) fn picture_leaf(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        commands: &mut Vec<Command>,
    ) {
        self.step_by_step(ui, session, commands);
        self.on_to_next(ui);
    }

    fn step_by_step(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        let unit = session.project().unit;
        let Some(picture) = &mut self.picture else {
            return;
        };
        if let Some(done) = picture.tracing() {
            let words = "Finding the outlines";
            let bar = ui.add(ProgressBar::new(done).text(words));
            bar.widget_info(|| {
                egui::WidgetInfo::labeled(egui::Role::ProgressIndicator, true, words)
            });
            if ui.button("Stop").clicked() {
                picture.stop();
            }
            ui.ctx()
                .request_repaint_after(std::time::Duration::from_millis(100));
            return;
        }
        let half = &mut self.half.picture;
        let Some(known) = known_thing(ui, picture, half, unit, commands) else {
            return;
        };
        if picture.needs(&known) > 0 {
            point_at(ui, picture, &known);
            return;
        }
        outlines(ui, picture, &known, unit);
        if picture.has_points() && ui.button("Point at it again").clicked() {
            picture.forget_points();
        }
        let traced = picture.traced().to_vec();
        self.what_was_traced(ui, session, &traced, commands);
    }

    /// The next file, once this picture is done with; or without it.
    fn on_to_next(&mut self, ui: &mut Ui) {
        let Some(next) = self.next_file() else {
            return;
        };
        ui.separator();
        let words = if self.is_traced() {
            format!("Go on with {next}")
        } else {
            format!("Leave this picture out, go on with {next}")
        };
        if ui.button(words).clicked() {
            self.read_next(ui.ctx());
        }
    }

    /// How exact the outlines are; and whether they are pieces, or offcuts of cloth.
    fn what_was_traced(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        traced: &[Traced],
        commands: &mut Vec<Command>,
    ) {
        if traced.is_empty() {
            return;
        }
        let unit = session.project().unit;
        for (i, one) in traced.iter().enumerate() {
            for words in one.words(unit) {
                let words = format!("Outline {}: {words}", i + 1);
                ui.add(egui::Label::new(words).wrap());
            }
        }
        heading(ui, "3. What they are");
        faded(ui, "Pieces of a garment: go on to the next step.");
        let tip = "Puts them on the cloth table, with their holes; set their grain there";
        if !ui
            .button("They are offcuts of cloth")
            .on_hover_text(tip)
            .clicked()
        {
            return;
        }
        let mut all = session.project().offcuts.clone();
        let cloth = cloth_names(session.project()).into_iter().next();
        let cloth = cloth.unwrap_or_else(|| "cloth".to_owned());
        for one in traced {
            match as_offcut(one, &fresh_name(&all), &cloth) {
                Ok(offcut) => {
                    let offcut = Arc::new(offcut);
                    all.push(offcut.clone());
                    commands.push(Command::Edit(Edit::PutOffcut(offcut)));
                }
                Err(why) => commands.push(Command::Say(why.to_string())),
            }
        }
        if self.put_picture_aside(ui.ctx(), session) {
            let count = wording::count(traced.len(), "outline went", "outlines went");
            commands.push(Command::Say(format!("{count} onto the cloth table.")));
        } else {
            commands.push(Command::Tray(Tray::Cloth));
            commands.push(Command::ShowAll);
        }
    }
}

/// Asks what of known size lies in the picture; `None` until its size is given, too.
fn known_thing(
    ui: &mut Ui,
    picture: &mut PictureTable,
    half: &mut Half,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) -> Option<Known> {
    heading(ui, "1. Something of known size");
    faded(ui, "It lies flat in the picture, on the same table.");
    let mut all = vec![
        Choice::A4,
        Choice::Letter,
        Choice::Square,
        Choice::Sheet,
        Choice::Length,
    ];
    if picture.density().is_some() {
        all.push(Choice::File);
    }
    ui.horizontal_wrapped(|ui| {
        if let Some(next) = one_of(ui, "Known", half.known, &all, Choice::words) {
            half.known = next;
            picture.forget_points();
        }
    });
    let mut take = |ui: &mut Ui, label: &str, value: &mut Option<Mm>| {
        ui.horizontal(|ui| {
            ui.label(label);
            match length_field(ui, label, *value, "", unit, 86.0).typed {
                Typed::Length(mm) => *value = Some(mm),
                Typed::Cleared => *value = None,
                Typed::Trouble(why) => commands.push(Command::Say(why)),
                Typed::Nothing => {}
            }
        });
    };
    match half.known {
        Choice::A4 => Some(Known::Rectangle(KnownRectangle::a4())),
        Choice::Letter => Some(Known::Rectangle(KnownRectangle::letter())),
        Choice::Square => {
            take(ui, "Side of the square", &mut half.side);
            half.side
                .map(|side| Known::Rectangle(KnownRectangle::square_of_mat(side)))
        }
        Choice::Sheet => {
            take(ui, "Width of the sheet", &mut half.side);
            take(ui, "Height of the sheet", &mut half.other);
            let size = half.side.zip(half.other);
            size.map(|(w, h)| Known::Rectangle(KnownRectangle::sheet("the sheet", w, h)))
        }
        Choice::Length => {
            take(ui, "Known length", &mut half.length);
            half.length.map(Known::Length)
        }
        Choice::File => Some(Known::Density),
    }
}

/// Where its corners or ends are: found, or pointed at.
fn point_at(ui: &mut Ui, picture: &mut PictureTable, known: &Known) {
    let what = match known {
        Known::Rectangle(_) => "its four corners",
        _ => "its two ends",
    };
    ui.label(format!("Click {what} in the picture, or let it be found."));
    ui.horizontal_wrapped(|ui| {
        let can_find = matches!(known, Known::Rectangle(sheet) if sheet.is_sheet);
        let find = ui.add_enabled(can_find, egui::Button::new("Find the sheet"));
        if let (true, Known::Rectangle(sheet)) = (find.clicked(), known) {
            picture.find(ui.ctx(), sheet.clone());
        }
        if picture.has_points() && ui.button("Take a point back").clicked() {
            picture.take_back();
        }
    });
}

/// The picture straightened, and what can be done with it.
fn outlines(ui: &mut Ui, picture: &mut PictureTable, known: &Known, unit: LengthUnit) {
    match picture.straighten(known) {
        Ok(straight) => {
            for words in straight.words(unit) {
                faded(ui, words);
            }
            heading(ui, "2. The outlines");
            let tip = "Pieces and offcuts that stand out from the table become lines";
            let find = egui::Button::new("Find the outlines").min_size(egui::vec2(130.0, 32.0));
            ui.horizontal_wrapped(|ui| {
                if ui.add(find).on_hover_text(tip).clicked() {
                    picture.trace(ui.ctx(), straight.clone());
                }
                let tip = "Lays the picture, straightened and true to scale, under the Chalk table";
                let over =
                    egui::Button::new("Draw over it by hand").min_size(egui::vec2(130.0, 32.0));
                if ui.add(over).on_hover_text(tip).clicked() {
                    picture.lay_flat(ui.ctx(), straight);
                }
            });
            faded(ui, "Or click one piece in the picture to find only that.");
        }
        Err(why) => {
            ui.add(egui::Label::new(why).wrap());
        }
    }
}
