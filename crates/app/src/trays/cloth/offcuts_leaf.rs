//! The cloth that is there: every offcut with its area, how to add one, the chosen one, the stash.

use egui::{Grid, Ui};
use petitoile_core::cloth::Offcut;
use petitoile_core::piece::Role;
use petitoile_core::{LengthUnit, Mm};

use super::laid::Laid;
use super::pen::{self, Drawing, Pen};
use super::seen::Seen;
use super::{ClothTray, offcut_form, paint, photo_form, stash_form};
use crate::command::Command;
use crate::fields::{Typed, difference_field, length_field};
use crate::lay_work::cloth_names;
use crate::session::Session;
use crate::trays::{faded, heading};

/// What is half typed on this leaf.
#[derive(Default)]
pub struct Half {
    width: Option<Mm>,
    height: Option<Mm>,
    /// The next point of a drawing, where it is typed.
    x: Option<Mm>,
    y: Option<Mm>,
    /// Of which cloth new offcuts are.
    cloth: Option<String>,
    /// How long the known length in the photo is.
    pub known: Option<Mm>,
    /// The chosen offcut's half-typed things.
    pub form: offcut_form::Half,
}

impl Half {
    /// Of which cloth a new offcut is: the chosen one, else that of the fitting's shell.
    pub fn cloth_for(&self, session: &Session) -> String {
        if let Some(cloth) = &self.cloth {
            return cloth.clone();
        }
        let shell = session
            .fitting()
            .and_then(|fitting| fitting.cloths.get(&Role::Shell))
            .map(|cloth| cloth.name.clone());
        shell
            .or_else(|| cloth_names(session.shown()).into_iter().next())
            .unwrap_or_else(|| "cloth".to_owned())
    }
}

impl ClothTray {
    /// Shows the leaf.
    pub(super) fn offcuts_leaf(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        seen: &Seen,
        laid: &Laid,
        commands: &mut Vec<Command>,
    ) {
        let unit = seen.unit();
        heading(ui, "On the table");
        self.list(ui, laid, unit);
        if let Some(offcut) = self.chosen_offcut(session) {
            let wants =
                offcut_form::ui(ui, session, &offcut, &mut self.offcuts.form, unit, commands);
            match wants {
                offcut_form::Wants::Nothing => {}
                offcut_form::Wants::Draw(pen) => self.drawing = Some(Drawing::new(pen)),
                offcut_form::Wants::Renamed(name) => self.offcut = Some(name),
            }
        }
        heading(ui, "Add an offcut");
        if self.drawing.is_some() {
            self.typed_points(ui, session, unit, commands);
        } else {
            self.rectangle(ui, session, unit, commands);
            ui.horizontal_wrapped(|ui| {
                let tip = "Click its corners on the table, or type them; Enter closes it";
                if ui.button("Draw it").on_hover_text(tip).clicked() {
                    self.drawing = Some(Drawing::new(Pen::Outline));
                }
            });
        }
        photo_form::ui(self, ui, unit, commands);
        stash_form::ui(ui, session, self.offcut.as_deref(), unit, commands);
    }

    fn chosen_offcut(&self, session: &Session) -> Option<Offcut> {
        let name = self.offcut.as_deref()?;
        session
            .shown()
            .offcut(name)
            .map(|offcut| Offcut::clone(offcut))
    }

    fn list(&mut self, ui: &mut Ui, laid: &Laid, unit: LengthUnit) {
        if laid.cloths.is_empty() {
            faded(ui, "No offcut yet.");
            return;
        }
        for cloth in &laid.cloths {
            let name = &cloth.offcut.name;
            let chosen = self.offcut.as_deref() == Some(name);
            let words = format!(
                "{name}: {}, {} of {}",
                paint::size_words(cloth.offcut.bounds(), unit),
                area_words(cloth.left.area()),
                cloth.offcut.cloth
            );
            let row = egui::Button::selectable(chosen, &words)
                .wrap()
                .min_size(egui::vec2(ui.available_width(), 28.0));
            let response = ui.add(row);
            response.widget_info(|| {
                egui::WidgetInfo::selected(egui::Role::ListItem, true, chosen, &words)
            });
            if response.clicked() {
                self.offcut = (!chosen).then(|| name.clone());
            }
        }
    }

    /// Width, height, and a button.
    fn rectangle(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        unit: LengthUnit,
        commands: &mut Vec<Command>,
    ) {
        Grid::new("rectangle").num_columns(2).show(ui, |ui| {
            for (name, wide) in [("Width", true), ("Height", false)] {
                ui.label(name);
                let half = &mut self.offcuts;
                let value = if wide {
                    &mut half.width
                } else {
                    &mut half.height
                };
                let named = format!("{name} of the offcut");
                take(
                    length_field(ui, &named, *value, "", unit, 96.0).typed,
                    value,
                    name,
                    commands,
                );
                ui.end_row();
            }
            ui.label("Cloth");
            let now = self.offcuts.cloth_for(session);
            if let Some(cloth) =
                offcut_form::cloth_pick(ui, "Cloth of the new offcut", &now, session)
            {
                self.offcuts.cloth = Some(cloth);
            }
            ui.end_row();
        });
        let size = self.offcuts.width.zip(self.offcuts.height);
        let button = ui.add_enabled(size.is_some(), egui::Button::new("Add a rectangle"));
        if let Some((width, height)) = size.filter(|_| button.clicked()) {
            let name = pen::fresh_name(&session.shown().offcuts);
            let cloth = self.offcuts.cloth_for(session);
            match Offcut::rectangle(name.clone(), cloth, width, height) {
                Ok(offcut) => {
                    commands.push(pen::put(offcut));
                    self.offcut = Some(name);
                    self.offcuts.width = None;
                    self.offcuts.height = None;
                }
                Err(why) => commands.push(Command::Say(why.to_string())),
            }
        }
    }

    /// What is being drawn: its points typed instead of clicked, and how it ends.
    fn typed_points(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        unit: LengthUnit,
        commands: &mut Vec<Command>,
    ) {
        let Some(says) = self.drawing.as_ref().map(Drawing::says) else {
            return;
        };
        ui.label(says);
        ui.horizontal_wrapped(|ui| {
            for (name, across) in [("x", true), ("y", false)] {
                ui.label(name);
                let half = &mut self.offcuts;
                let value = if across { &mut half.x } else { &mut half.y };
                let named = format!("{name} of the next point");
                let field = difference_field(ui, &named, *value, "", unit, 76.0);
                take(field.typed, value, name, commands);
            }
            let place = self.offcuts.x.zip(self.offcuts.y);
            let add = ui.add_enabled(place.is_some(), egui::Button::new("Add this point"));
            if let Some((x, y)) = place.filter(|_| add.clicked()) {
                // A typed point is as sure as its last digit.
                let point = kurbo::Point::new(x.0, y.0);
                self.draw_point(session, point, Mm(0.05), commands);
                (self.offcuts.x, self.offcuts.y) = (None, None);
            }
        });
        let count = self
            .drawing
            .as_ref()
            .map_or(0, |drawing| drawing.points.len());
        ui.horizontal_wrapped(|ui| {
            let closes = self
                .drawing
                .as_ref()
                .is_some_and(|drawing| drawing.pen.closes());
            if closes
                && ui
                    .add_enabled(count >= 3, egui::Button::new("Close the outline"))
                    .clicked()
            {
                self.close_drawing(session, Mm(0.05), commands);
            }
            let back = ui.add_enabled(count > 0, egui::Button::new("Take a point back"));
            if back.clicked()
                && let Some(drawing) = &mut self.drawing
            {
                drawing.points.pop();
            }
            if ui.button("Give up").clicked() {
                self.drawing = None;
            }
        });
        faded(ui, crate::wording::count(count, "point", "points"));
    }
}

/// Takes over what was typed; says what could not be read.
pub fn take(typed: Typed, value: &mut Option<Mm>, name: &str, commands: &mut Vec<Command>) {
    match typed {
        Typed::Length(mm) => *value = Some(mm),
        Typed::Cleared => *value = None,
        Typed::Trouble(why) => commands.push(Command::Say(format!("{name}: {why}"))),
        Typed::Nothing => {}
    }
}

/// "600 cm2".
pub fn area_words(mm2: f64) -> String {
    let cm2 = mm2 / 100.0;
    if cm2 < 100.0 {
        format!("{cm2:.1} cm\u{b2}")
    } else {
        format!("{cm2:.0} cm\u{b2}")
    }
}
