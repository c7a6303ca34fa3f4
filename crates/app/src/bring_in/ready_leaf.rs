//! What the garment still needs before it can be adapted: what is proposed is confirmed, taken another way, or refused.

use egui::{RichText, Ui};
use petitoile_core::readying::{
    Answer, MADE_FOR, NONE, Proposed, ProposedKind, Way, accept_all, made_for_way,
};

use super::BringIn;
use super::leaves::doubt;
use super::work::Worked;
use crate::command::Command;
use crate::fields::{name_field, pick, pick_body};
use crate::session::Session;
use crate::trays::{faded, heading};
use crate::wording;

impl BringIn {
    pub(super) fn ready_leaf(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        commands: &mut Vec<Command>,
    ) {
        let Some(worked) = self.worked.clone() else {
            faded(ui, "Looking at the lines\u{2026}");
            return;
        };
        ui.horizontal(|ui| {
            ui.label("Name");
            if let Some(name) = name_field(ui, "Name of the garment", &worked.choices.name) {
                let name = name.trim().to_owned();
                if session.project().garment(&name).is_some() {
                    let words = format!("another garment is called {name} already");
                    commands.push(Command::Say(words));
                } else if !name.is_empty() {
                    self.choose(ui.ctx(), |choices| choices.name = name);
                }
            }
        });
        self.accept(ui, &worked);
        for kind in ProposedKind::ALL {
            let items = worked.proposal.items.iter();
            let items: Vec<&Proposed> = items.filter(|item| item.kind == kind).collect();
            if items.is_empty() {
                continue;
            }
            heading(ui, kind_words(kind));
            if kind == ProposedKind::MadeFor {
                self.other_body(ui, session, &worked);
            }
            for item in items {
                self.proposed(ui, &worked, item);
            }
        }
        self.lacking(ui, &worked);
    }

    /// Everything as it is proposed, in one click; it says how many that are.
    fn accept(&mut self, ui: &mut Ui, worked: &Worked) {
        let open = worked.proposal.items.iter();
        let open = open.filter(|item| worked.choices.answers.to(&item.key).is_none());
        let count = open.count();
        if count == 0 {
            faded(ui, "Everything that is proposed is answered.");
            return;
        }
        let words = format!("Accept all {count}");
        let button =
            egui::Button::new(RichText::new(words).strong()).min_size(egui::vec2(120.0, 32.0));
        let tip = "Takes every open proposal as it stands; look them over first";
        if ui.add(button).on_hover_text(tip).clicked() {
            let (all, _) = accept_all(&worked.proposal);
            self.choose(ui.ctx(), |choices| {
                for item in &worked.proposal.items {
                    if choices.answers.to(&item.key).is_some() {
                        continue;
                    }
                    match all.way(&item.key) {
                        Some(way) => choices.answers.choose(&item.key, way),
                        None => choices.answers.refuse(&item.key),
                    }
                }
            });
        }
    }

    /// The body it was made for, chosen by hand.
    fn other_body(&mut self, ui: &mut Ui, session: &Session, worked: &Worked) {
        let known = self.known.clone();
        let now = worked.readied.made_for.clone();
        if let Some(body) = pick_body(ui, session, &known, &now) {
            let way = made_for_way(&body);
            self.choose(ui.ctx(), |choices| {
                choices.answers.choose(MADE_FOR, &way);
                choices.made_for = body;
            });
        }
    }

    fn proposed(&mut self, ui: &mut Ui, worked: &Worked, item: &Proposed) {
        let answer = worked.choices.answers.to(&item.key).cloned();
        ui.horizontal_wrapped(|ui| {
            let mut taken = matches!(answer, Some(Answer::Way(_)));
            let words = RichText::new(&item.words).strong();
            let name = format!("Accept: {}", item.words);
            let tick = ui.checkbox(&mut taken, "").accessible_name(&name);
            if tick.changed() {
                self.choose(ui.ctx(), |choices| {
                    if taken {
                        choices.answers.accept(item);
                    } else {
                        choices.answers.forget(&item.key);
                    }
                });
            }
            ui.add(egui::Label::new(words).wrap());
        });
        ui.indent(("proposed", &item.key), |ui| {
            doubt(ui, item.certainty, &item.rests_on);
            self.ways(ui, item, answer.as_ref());
        });
    }

    /// The other ways of taking it, where there are any.
    fn ways(&mut self, ui: &mut Ui, item: &Proposed, answer: Option<&Answer>) {
        if item.ways.len() < 2 {
            return;
        }
        let now_key = match answer {
            Some(Answer::Way(way)) => way.as_str(),
            Some(Answer::Refused) => NONE,
            None => item.ways.first().map_or(NONE, |way| way.key.as_str()),
        };
        let Some(now) = item.ways.iter().find(|way| way.key == now_key) else {
            return;
        };
        let name = format!("Ways of: {}", item.words);
        let words = |way: &Way| way.words.clone();
        if let Some(way) = pick(ui, &item.key, &name, now, &item.ways, words) {
            self.choose(ui.ctx(), |choices| {
                choices.answers.choose(&item.key, &way.key)
            });
        }
    }

    /// What is lacking still, whatever is accepted.
    fn lacking(&mut self, ui: &mut Ui, worked: &Worked) {
        if worked.is_ready() {
            ui.add_space(6.0);
            ui.label("It can be adapted.");
            return;
        }
        heading(ui, "Still needed");
        let count = wording::count(worked.lacking.len(), "thing", "things");
        faded(
            ui,
            format!(
                "{count}; the garment can be taken in without, and finished on the Chalk tray."
            ),
        );
        for words in &worked.lacking {
            ui.add(egui::Label::new(wording::sentence(words)).wrap());
        }
        for words in &worked.proposal.lacking {
            if !worked.lacking.contains(words) {
                ui.add(egui::Label::new(wording::sentence(words)).wrap());
            }
        }
    }
}

fn kind_words(kind: ProposedKind) -> &'static str {
    match kind {
        ProposedKind::Piece => "What the pieces are",
        ProposedKind::Seam => "What is sewn to what",
        ProposedKind::MadeFor => "Whom it was made for",
        ProposedKind::BodyLines => "Where the body lines lie",
        ProposedKind::Tapes => "Where it is measured",
        ProposedKind::Opening => "Where it opens",
    }
}
