//! A mistake was made: what went wrong, and the ways back with what each unpicks.

use std::sync::Arc;

use egui::{RichText, Ui};
use petitoile_core::edit::FittingEdit;
use petitoile_core::fitting::Fitting;
use petitoile_core::making_order::{Mistake, MistakeError, Way, WayBack, Work, ways_back};
use petitoile_core::piece::{Copy, Role, Side};
use petitoile_core::project::Project;

use super::{Shown, change};
use crate::command::Command;
use crate::fields::{one_of, pick};
use crate::session::Session;
use crate::trays::faded;
use crate::wording::{count, sentence};

/// What is chosen in the box, and the ways that were found for it.
#[derive(Default)]
pub(super) struct MistakeBox {
    kind: Kind,
    step: Option<String>,
    /// The two copies taken for each other.
    copies: [Option<OfPiece>; 2],
    found: Option<Found>,
}

/// A copy of a piece: its name, and which copy.
type OfPiece = (String, Copy);

/// Ways back, and what they were found for: they are sought anew only when that changes.
struct Found {
    project: Arc<Project>,
    fitting: Arc<Fitting>,
    mistake: Mistake,
    ways: Result<Vec<WayBack>, MistakeError>,
}

/// What went wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Kind {
    #[default]
    SewnWrong,
    TooEarly,
    Swapped,
}

impl Kind {
    const ALL: [Self; 3] = [Self::SewnWrong, Self::TooEarly, Self::Swapped];

    fn words(self) -> &'static str {
        match self {
            Self::SewnWrong => "Sewn wrong or inside out",
            Self::TooEarly => "Sewn too early",
            Self::Swapped => "Two copies swapped",
        }
    }
}

impl MistakeBox {
    /// The box, folded until it is needed.
    pub(super) fn ui(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        shown: &Shown<'_>,
        commands: &mut Vec<Command>,
    ) {
        ui.collapsing("A mistake was made", |ui| {
            if shown.sheet.progress().0 == 0 {
                faded(
                    ui,
                    "Tick what is sewn first; then say here what went wrong.",
                );
                return;
            }
            ui.horizontal_wrapped(|ui| {
                if let Some(kind) = one_of(ui, "Mistake", self.kind, &Kind::ALL, Kind::words) {
                    self.kind = kind;
                }
            });
            let Some(mistake) = self.asked(ui, shown) else {
                return;
            };
            match self.ways(session, mistake) {
                Some(Ok(ways)) => {
                    for (number, way) in (1..).zip(ways) {
                        way_back(ui, shown, number, way, commands);
                    }
                }
                Some(Err(why)) => {
                    faded(ui, sentence(&why.to_string()));
                }
                None => {}
            }
        });
    }

    /// The step or piece it is about, chosen from what is sewn.
    fn asked(&mut self, ui: &mut Ui, shown: &Shown<'_>) -> Option<Mistake> {
        if self.kind == Kind::Swapped {
            let sewn = sewn_copies(shown);
            let [one, other] = &self.copies;
            let there = |copy: &Option<OfPiece>| copy.clone().filter(|copy| sewn.contains(copy));
            let Some(first) = there(one).or_else(|| sewn.first().cloned()) else {
                faded(ui, "Nothing that is ticked is sewn.");
                return None;
            };
            let others: Vec<OfPiece> = sewn.iter().filter(|c| **c != first).cloned().collect();
            // Left for right of one piece first: that happens most.
            let pair = || others.iter().find(|(piece, _)| *piece == first.0).cloned();
            let second = there(other).filter(|copy| *copy != first).or_else(pair);
            let second = second.or_else(|| others.first().cloned())?;
            if let Some(copy) = pick(ui, "swapped", "This copy", &first, &sewn, words) {
                self.copies = [Some(copy), Some(second.clone())];
            }
            if let Some(copy) = pick(ui, "for", "Taken for", &second, &others, words) {
                self.copies = [Some(first.clone()), Some(copy)];
            }
            return Some(Mistake::Swapped(first, second));
        }
        let sewn: Vec<String> = shown
            .sheet
            .steps
            .iter()
            .filter(|step| step.done && !step.by_why.is_empty())
            .map(|step| step.key.clone())
            .collect();
        let now = self.step.clone().filter(|step| sewn.contains(step));
        let Some(now) = now.or_else(|| sewn.last().cloned()) else {
            faded(ui, "Nothing that is ticked is sewn.");
            return None;
        };
        if let Some(step) = pick(ui, "wrong", "Which step", &now, &sewn, |key| sentence(key)) {
            self.step = Some(step);
        }
        Some(match self.kind {
            Kind::TooEarly => Mistake::TooEarly(now),
            Kind::SewnWrong | Kind::Swapped => Mistake::SewnWrong(now),
        })
    }

    /// The ways back, sought anew when project, fitting or mistake have changed.
    fn ways(
        &mut self,
        session: &Session,
        mistake: Mistake,
    ) -> Option<Result<&[WayBack], &MistakeError>> {
        let (project, fitting) = (session.shown(), session.fitting()?);
        let is_known = self.found.as_ref().is_some_and(|found| {
            Arc::ptr_eq(&found.project, project)
                && found.fitting.name == fitting.name
                && found.mistake == mistake
        });
        if !is_known {
            let made = &session.work.done.as_ref()?.adapted.made;
            self.found = Some(Found {
                ways: ways_back(made, fitting, &project.machine, project.unit, &mistake),
                project: project.clone(),
                fitting: fitting.clone(),
                mistake,
            });
        }
        self.found
            .as_ref()
            .map(|found| found.ways.as_ref().map(Vec::as_slice))
    }
}

/// Copies that are sewn to something in a ticked seam.
fn sewn_copies(shown: &Shown<'_>) -> Vec<OfPiece> {
    let done = &shown.fitting.making.done;
    let mut copies: Vec<OfPiece> = Vec::new();
    let seams = shown
        .order
        .steps
        .iter()
        .filter(|step| done.contains(&step.key) && matches!(step.work, Work::Seam { .. }));
    for copy in seams.filter(|s| 1 < s.copies.len()).flat_map(|s| &s.copies) {
        if !copies.contains(copy) {
            copies.push(copy.clone());
        }
    }
    copies.sort();
    copies
}

/// "Left sleeve", "lining of the front".
fn words((piece, copy): &OfPiece) -> String {
    let side = match copy.side {
        Side::Whole => "",
        Side::Left => "left ",
        Side::Right => "right ",
    };
    let role = match copy.role {
        Role::Shell => "",
        Role::Lining => ", lining",
        Role::Interlining => ", interlining",
        Role::FlatLined => ", flat lining",
    };
    sentence(&format!("{side}{piece}{role}"))
}

/// One way back: how many seams, how long, what it means; and the ticks it takes away.
fn way_back(
    ui: &mut Ui,
    shown: &Shown<'_>,
    number: usize,
    way: &WayBack,
    commands: &mut Vec<Command>,
) {
    let kind = match way.way {
        Way::Fewest => "Fewest seams",
        Way::ByHand => "By hand",
        Way::AllAfter => "All that came after",
        Way::Leave => "Leave it",
    };
    let mut cost = format!("{} to unpick", count(way.unpick.len(), "seam", "seams"));
    if !way.open.is_empty() {
        cost.push_str(&format!(", {} opened a little", way.open.len()));
    }
    cost.push_str(&format!(", {}", shown.unit.show(way.length)));
    ui.separator();
    ui.label(RichText::new(format!("{number}. {kind}: {cost}")).strong());
    ui.add(egui::Label::new(sentence(&way.words)).wrap());
    for key in &way.unpick {
        faded(ui, sentence(key));
    }
    if !way.unpick.is_empty() {
        let button = ui.button("Unpicked: take these ticks away");
        button.widget_info(|| {
            let name = format!("Unpicked: way {number}");
            egui::WidgetInfo::labeled(egui::Role::Button, true, name)
        });
        if button.clicked() {
            commands.extend(
                way.unpick
                    .iter()
                    .map(|key| change(shown.fitting, FittingEdit::Tick(key.clone(), false))),
            );
        }
    }
}
