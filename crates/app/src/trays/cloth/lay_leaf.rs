//! How the pieces are laid: the search with its progress, what would make everything fit, the chosen piece, what to buy.

use egui::{Grid, ProgressBar, Ui};
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::fitting::Fitting;
use petitoile_core::{Degrees, LengthUnit, Mm};

use super::laid::Laid;
use super::offcuts_leaf::take;
use super::seen::Seen;
use super::{ClothTray, piece_form};
use crate::command::{Command, LayAsk};
use crate::fields::{Asked, Style, Typed, angle_field, length_field, typed_field};
use crate::session::{Ended, Session, What};
use crate::trays::{faded, heading};
use crate::wording;

/// Steps of a search where nothing else is typed: some seconds.
const STEPS: u64 = 20_000;
/// Most steps that can be typed.
const MOST: u64 = 100_000_000;

/// What is half typed on this leaf.
pub struct Half {
    seed: u64,
    steps: u64,
    width: Option<Mm>,
}

impl Default for Half {
    fn default() -> Self {
        Self {
            seed: 1,
            steps: STEPS,
            width: None,
        }
    }
}

impl ClothTray {
    /// Shows the leaf.
    pub(super) fn lay_leaf(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        seen: &Seen,
        laid: &Laid,
        commands: &mut Vec<Command>,
    ) {
        let Some(fitting) = &seen.fitting else { return };
        let unit = seen.unit();
        self.search(ui, session, fitting, seen, commands);
        why_not(ui, session, fitting, self.lay.steps, commands);
        general(ui, fitting, unit, commands);
        let part = self.chosen_part(session, laid).cloned();
        for act in piece_form::ui(ui, session, fitting, seen, part.as_ref(), commands) {
            self.asked(session, act, commands);
        }
        self.cloth_to_buy(ui, session, unit, commands);
    }

    fn search(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        fitting: &Fitting,
        seen: &Seen,
        commands: &mut Vec<Command>,
    ) {
        heading(ui, "Lay everything");
        let plan = fitting.lay_plan.as_ref();
        let kept = plan.map_or(0, |plan| {
            plan.placed
                .iter()
                .filter(|placed| placed.pinned || placed.as_cut.is_some())
                .count()
        });
        if let Some(now) = session.laying.now(&fitting.name) {
            self.running(ui, session, &now, commands);
            return;
        }
        if session.laying.busy_with() == Some(What::Plan) {
            faded(ui, "Making ready\u{2026}");
            return;
        }
        ui.horizontal_wrapped(|ui| {
            let words = if kept > 0 {
                "Finish around what I pinned"
            } else {
                "Lay out"
            };
            let possible = !seen.cloth.offcuts.is_empty() && session.work.done.is_some();
            let button = egui::Button::new(egui::RichText::new(words).strong())
                .min_size(egui::vec2(110.0, 34.0));
            let tip = "Searches for a place for everything that is neither pinned nor cut";
            if ui
                .add_enabled(possible, button)
                .on_hover_text(tip)
                .clicked()
            {
                self.hand = None;
                commands.push(Command::Lay(LayAsk::LayOut {
                    seed: self.lay.seed,
                    steps: self.lay.steps,
                }));
            }
            if seen.cloth.offcuts.is_empty() {
                faded(ui, "There is no cloth yet.");
            }
        });
        ui.horizontal_wrapped(|ui| {
            for (name, is_seed) in [("Seed", true), ("Steps", false)] {
                ui.label(name);
                let value = if is_seed {
                    self.lay.seed
                } else {
                    self.lay.steps
                };
                let style = Style {
                    width: 76.0,
                    computed: false,
                };
                let number = |text: &str| text.trim().parse::<u64>().ok();
                let named = format!("{name} of the search");
                let reads = |text: &str| number(text).is_some();
                if let Some(text) = typed_field(ui, &named, &value.to_string(), style, reads) {
                    match number(&text) {
                        Some(next) if is_seed => self.lay.seed = next,
                        Some(next) => self.lay.steps = next.clamp(1, MOST),
                        None => commands.push(Command::Say(format!("{name}: type a whole number"))),
                    }
                }
            }
        });
        if let Some(plan) = plan.filter(|plan| plan.steps > 0) {
            faded(
                ui,
                format!(
                    "The plan that is kept: seed {}, {} steps.",
                    plan.seed, plan.steps
                ),
            );
        }
        let ended = session.laying.ended.as_ref();
        let holds =
            |ended: &&Ended| ended.fitting == fitting.name && ended.plan == fitting.lay_plan;
        if let Some(ended) = ended.filter(holds) {
            ui.add(egui::Label::new(&ended.words).wrap());
        }
    }

    /// While it is searched: how far it is, hold and end.
    fn running(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        now: &crate::session::Now,
        commands: &mut Vec<Command>,
    ) {
        let progress = &now.progress;
        let words = progress.words();
        let share = progress.placed as f32 / progress.of.max(1) as f32;
        let bar = ui.add(ProgressBar::new(share).text(&words));
        bar.widget_info(|| {
            egui::WidgetInfo::labeled(
                egui::Role::ProgressIndicator,
                true,
                format!("Laying: {words}"),
            )
        });
        faded(
            ui,
            format!(
                "{} steps, {:.1} s. The table shows the best so far.",
                progress.steps,
                now.worked.as_secs_f64()
            ),
        );
        ui.horizontal_wrapped(|ui| {
            let held = session.laying.is_held();
            let (words, ask) = if held {
                ("Go on", LayAsk::GoOn)
            } else {
                ("Pause", LayAsk::Pause)
            };
            let size = egui::vec2(84.0, 32.0);
            if ui.add(egui::Button::new(words).min_size(size)).clicked() {
                commands.push(Command::Lay(ask));
            }
            let stop = ui.add(egui::Button::new("Stop").min_size(size));
            if stop.on_hover_text("Ends it and keeps the best").clicked() {
                commands.push(Command::Lay(LayAsk::Stop));
            }
        });
    }

    fn cloth_to_buy(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        unit: LengthUnit,
        commands: &mut Vec<Command>,
    ) {
        heading(ui, "Cloth to buy");
        ui.horizontal_wrapped(|ui| {
            ui.label("Width");
            let field = length_field(
                ui,
                "Width of the cloth to buy",
                self.lay.width,
                "",
                unit,
                86.0,
            );
            take(field.typed, &mut self.lay.width, "Width", commands);
            let busy = session.laying.busy_with().is_some();
            let ask = ui.add_enabled(
                self.lay.width.is_some() && !busy,
                egui::Button::new("How long?").min_size(egui::vec2(84.0, 28.0)),
            );
            if let Some(width) = self.lay.width.filter(|_| ask.clicked()) {
                commands.push(Command::Lay(LayAsk::Needed(width)));
            }
        });
        if session.laying.busy_with() == Some(What::Needed) {
            faded(ui, "Looking for the shortest length\u{2026}");
            if ui.button("That is enough").clicked() {
                commands.push(Command::Lay(LayAsk::Stop));
            }
        } else if let Some(needed) = &session.laying.needed {
            for cloth in &needed.cloths {
                ui.add(egui::Label::new(&cloth.words).wrap());
            }
        }
    }
}

/// Why not everything fits, and what would help: each is one click.
fn why_not(
    ui: &mut Ui,
    session: &Session,
    fitting: &Fitting,
    steps: u64,
    commands: &mut Vec<Command>,
) {
    if session.laying.busy_with() == Some(What::WhyNot) {
        heading(ui, "Why not?");
        faded(ui, format!("Trying {}", session.laying.trying()));
        if ui.button("That is enough").clicked() {
            commands.push(Command::Lay(LayAsk::Stop));
        }
        let soon = std::time::Duration::from_millis(150);
        ui.ctx().request_repaint_after(soon);
        return;
    }
    let why = session.laying.why.as_ref();
    let Some(why) = why.filter(|why| why.plan == fitting.lay_plan) else {
        return;
    };
    heading(ui, "Why not?");
    ui.add(egui::Label::new(&why.verdict).wrap());
    for words in &why.not_laid {
        faded(ui, words);
    }
    if why.concessions.is_empty() {
        ui.label(format!(
            "Nothing that was tried in {:.0} s helps.",
            why.seconds
        ));
    }
    for concession in &why.concessions {
        ui.add(egui::Label::new(&concession.words).wrap());
        let Some((button, edit)) = &concession.remedy else {
            continue;
        };
        let tip = match edit {
            Edit::GrowOffcuts(_) => {
                "Cloth does not grow: for offcuts that are still to be measured or got. Lays everything out again; undo takes it back"
            }
            _ => "Changes that, and lays everything out again",
        };
        let button = ui.add(egui::Button::new(button).wrap());
        if button.on_hover_text(tip).clicked() {
            commands.push(Command::Lay(LayAsk::GiveIn {
                edit: Box::new(edit.clone()),
                seed: why.again.0,
                steps: why.again.1.max(steps),
            }));
        }
    }
    if !why.in_vain.is_empty() {
        let count = wording::count(why.in_vain.len(), "thing", "things");
        ui.collapsing(format!("{count} tried in vain"), |ui| {
            for words in &why.in_vain {
                faded(ui, words);
            }
        });
    }
}

/// Gap and grain for all pieces.
fn general(ui: &mut Ui, fitting: &Fitting, unit: LengthUnit, commands: &mut Vec<Command>) {
    heading(ui, "All pieces");
    let laying = &fitting.laying;
    Grid::new("laying").num_columns(2).show(ui, |ui| {
        ui.label("Between pieces");
        let field = length_field(
            ui,
            "Room between pieces",
            Some(laying.gap),
            "1 mm",
            unit,
            76.0,
        );
        match field.typed {
            Typed::Length(gap) => commands.push(edit(fitting, FittingEdit::SetLayGap(gap))),
            Typed::Trouble(why) => commands.push(Command::Say(format!("Between pieces: {why}"))),
            Typed::Cleared | Typed::Nothing => {}
        }
        ui.end_row();
        ui.label("Off the grain, up to");
        let now = laying.grain_tolerance.0;
        if let Asked::Done(angle) = angle_field(ui, "Off the grain, all pieces", Some(now)) {
            let tolerance = FittingEdit::SetGrainTolerance(Degrees(angle.abs()));
            commands.push(edit(fitting, tolerance));
        }
        ui.end_row();
    });
}

/// A change of this fitting as a command.
pub fn edit(fitting: &Fitting, change: FittingEdit) -> Command {
    Command::Edit(Edit::Fitting {
        fitting: fitting.name.clone(),
        change,
    })
}
