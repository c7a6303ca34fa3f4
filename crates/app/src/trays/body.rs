//! The Body tray: whom it is for. Fitting, body, tape figures, and where the tape goes.

use std::collections::BTreeSet;
use std::sync::Arc;

use egui::{RichText, ScrollArea, Ui};
use petitoile_core::body::{Body, Measured, Origin, Torso};
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::fitting::Fitting;
use petitoile_core::measure::Measure;
use petitoile_core::{LengthUnit, Mm};
use petitoile_exchange::body_table;

use super::{faded, figure::figure, heading, work};
use crate::command::Command;
use crate::fields::{self, Typed, length_field, own_bodies, pick_body};
use crate::session::Session;
use crate::wording;

/// Below this height of the window the picture is not held in place.
const LOW: f32 = 560.0;

/// What a stuffed torso gives until it has been measured (common practice, no source).
const GIVE: Mm = Mm(5.0);

/// The Body tray.
pub struct BodyTray {
    built_in: Vec<Arc<Body>>,
    in_focus: Option<Measure>,
    own_name: String,
}

impl Default for BodyTray {
    fn default() -> Self {
        Self {
            built_in: body_table::built_in(),
            in_focus: None,
            own_name: String::new(),
        }
    }
}

impl BodyTray {
    /// Shows the tray.
    pub fn ui(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        work::choose(ui, session, commands);
        let Some(fitting) = session.fitting() else {
            return;
        };
        self.choose_body(ui, session, fitting, commands);
        // On a low window the picture scrolls with the figures, so that some of them are seen.
        let low = ui.ctx().content_rect().height() < LOW;
        if !low {
            self.picture(ui, session, fitting, commands);
        }
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            if low {
                self.picture(ui, session, fitting, commands);
            }
            let used = used_measures(session);
            heading(ui, "Tape figures this garment asks for");
            self.figures(
                ui,
                fitting,
                Measure::ALL.into_iter().filter(|m| used.contains(m)),
                session.shown().unit,
                commands,
            );
            ui.add_space(4.0);
            ui.collapsing("All other figures", |ui| {
                self.figures(
                    ui,
                    fitting,
                    Measure::ALL.into_iter().filter(|m| !used.contains(m)),
                    session.shown().unit,
                    commands,
                );
            });
            torso(ui, fitting, session.shown().unit, commands);
            self.keep(ui, session, fitting, commands);
        });
    }

    fn choose_body(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        fitting: &Fitting,
        commands: &mut Vec<Command>,
    ) {
        let mut asked = None;
        ui.horizontal(|ui| {
            ui.label("Body");
            asked = pick_body(ui, session, &self.built_in, &fitting.body);
        });
        if !fitting.body.note.is_empty() {
            faded(ui, &fitting.body.note);
        }
        if let Some(body) = asked {
            commands.push(change(fitting, FittingEdit::SetBody(body)));
        }
    }

    /// The figure, and beside it all about the measure in focus.
    fn picture(
        &self,
        ui: &mut Ui,
        session: &Session,
        fitting: &Fitting,
        commands: &mut Vec<Command>,
    ) {
        let unit = session.shown().unit;
        let measure = self.in_focus.unwrap_or_else(|| first_girth(session));
        let figures = fitting.body.measure(measure);
        let height = (ui.ctx().content_rect().height() * 0.27).clamp(120.0, 230.0);
        ui.horizontal_top(|ui| {
            figure(ui, measure, egui::vec2(height * 0.56, height));
            ui.vertical(|ui| {
                ui.label(RichText::new(measure.label()).strong());
                ui.label(measure.how_to_measure());
                ui.label(RichText::new(wording::length(figures.value, unit)).strong());
                let from = if figures.source.is_empty() {
                    String::new()
                } else {
                    format!(": {}", figures.source)
                };
                ui.add(
                    egui::Label::new(
                        RichText::new(format!("{}{from}", wording::origin(figures.origin)))
                            .small()
                            .weak(),
                    )
                    .wrap(),
                );
                if fitting.body.measures.contains_key(&measure)
                    && ui
                        .button("Estimate again")
                        .on_hover_text("Forget this figure")
                        .clicked()
                {
                    commands.push(change(fitting, FittingEdit::ForgetMeasure(measure)));
                }
            });
        });
    }

    fn figures(
        &mut self,
        ui: &mut Ui,
        fitting: &Fitting,
        list: impl Iterator<Item = Measure>,
        unit: LengthUnit,
        commands: &mut Vec<Command>,
    ) {
        egui::Grid::new(ui.scope_id().with("figures"))
            .num_columns(3)
            .min_col_width(60.0)
            .show(ui, |ui| {
                for measure in list {
                    self.figure_row(ui, fitting, measure, unit, commands);
                    ui.end_row();
                }
            });
    }

    fn figure_row(
        &mut self,
        ui: &mut Ui,
        fitting: &Fitting,
        measure: Measure,
        unit: LengthUnit,
        commands: &mut Vec<Command>,
    ) {
        let figures = fitting.body.measure(measure);
        let is_chosen = Some(measure) == self.in_focus;
        let words = if is_chosen {
            RichText::new(measure.label()).strong()
        } else {
            RichText::new(measure.label())
        };
        let label = ui
            .add(
                egui::Label::new(words)
                    .sense(egui::Sense::click())
                    .selectable(false),
            )
            .on_hover_text(measure.how_to_measure());
        if label.clicked() {
            self.in_focus = Some(measure);
        }
        let field = length_field(ui, measure.label(), Some(figures.value), "", unit, 84.0);
        if field.in_focus {
            self.in_focus = Some(measure);
        }
        match field.typed {
            Typed::Length(length) => {
                commands.push(change(fitting, FittingEdit::SetMeasure(measure, length)))
            }
            Typed::Cleared => commands.push(change(fitting, FittingEdit::ForgetMeasure(measure))),
            Typed::Trouble(trouble) => {
                commands.push(Command::Say(format!("{}: {trouble}", measure.label())))
            }
            Typed::Nothing => {}
        }
        origin(ui, &figures);
    }

    fn keep(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        fitting: &Fitting,
        commands: &mut Vec<Command>,
    ) {
        heading(ui, "Keep these figures");
        faded(ui, "As a body of your own, for other garments.");
        ui.horizontal(|ui| {
            let field = egui::TextEdit::singleline(&mut self.own_name)
                .hint_text("name")
                .desired_width(170.0);
            ui.add(field).accessible_name("Name of the own body");
            let name = self.own_name.trim();
            if ui
                .add_enabled(!name.is_empty(), egui::Button::new("Keep as own body"))
                .clicked()
            {
                let body = Body {
                    name: name.to_owned(),
                    key: String::new(),
                    ..(*fitting.body).clone()
                };
                commands.push(Command::Edit(Edit::PutBody(Arc::new(body))));
                self.own_name.clear();
            }
        });
        for body in own_bodies(session, &self.built_in) {
            ui.horizontal(|ui| {
                ui.label(&body.name);
                if ui
                    .button("Take out")
                    .accessible_name(format!("Take out body {}", body.name))
                    .clicked()
                {
                    commands.push(Command::Edit(Edit::RemoveBody(body.name.clone())));
                }
            });
        }
    }
}

fn change(fitting: &Fitting, change: FittingEdit) -> Command {
    Command::Edit(Edit::Fitting {
        fitting: fitting.name.clone(),
        change,
    })
}

/// Does the torso give, and by how much?
fn torso(ui: &mut Ui, fitting: &Fitting, unit: LengthUnit, commands: &mut Vec<Command>) {
    heading(ui, "Torso");
    let now = fitting.body.torso;
    let is_soft = matches!(now, Torso::Soft { .. });
    let set = |torso| change(fitting, FittingEdit::SetTorso(torso));
    ui.horizontal_wrapped(|ui| {
        match fields::one_of(ui, "Torso", is_soft, &[false, true], wording::torso) {
            Some(true) => commands.push(set(Torso::Soft { give: GIVE })),
            Some(false) => commands.push(set(Torso::Rigid)),
            None => {}
        }
    });
    let Torso::Soft { give } = now else {
        faded(ui, "Vinyl, resin, porcelain or wood.");
        return;
    };
    ui.horizontal_wrapped(|ui| {
        ui.label("A girth gives");
        match length_field(ui, "A girth gives", Some(give), "", unit, 84.0).typed {
            Typed::Length(give) => commands.push(set(Torso::Soft { give })),
            Typed::Cleared => commands.push(set(Torso::Rigid)),
            Typed::Trouble(trouble) => {
                commands.push(Command::Say(format!("A girth gives: {trouble}")))
            }
            Typed::Nothing => {}
        }
    });
    faded(ui, "Pull the tape tight, then loose: the difference.");
}

/// What this garment's tape lines answer to, and the height.
fn used_measures(session: &Session) -> BTreeSet<Measure> {
    let lines = session
        .garment()
        .into_iter()
        .flat_map(|garment| garment.tape_lines.iter().map(|line| line.measure));
    lines.chain([Measure::Height]).collect()
}

/// The girth that is shown until a figure is chosen: the first this garment asks for.
fn first_girth(session: &Session) -> Measure {
    let used = used_measures(session);
    Measure::ALL
        .into_iter()
        .find(|m| m.is_girth() && used.contains(m))
        .unwrap_or(Measure::BustGirth)
}

/// Where a figure comes from, in a word; the rest when the pointer rests on it.
fn origin(ui: &mut Ui, figures: &Measured) {
    let words = match figures.origin {
        Origin::Measured => "measured",
        Origin::Typical => "typical",
        Origin::Estimated => "\u{2248} estimated",
    };
    faded(ui, words).on_hover_text(&figures.source);
}
