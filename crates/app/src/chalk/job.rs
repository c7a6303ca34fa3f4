//! Tools that alter what they are shown: a [`Job`] says what it wants to be shown, which numbers it has and which
//! alteration that is; [`AtSpots`] does all the rest the same way for every one of them.

use egui::{Key, Ui};
use kurbo::{BezPath, Point};
use petitoile_core::alteration::Alteration;
use petitoile_core::garment::Garment;

use super::brush::Brush;
use super::hand::{At, Hand};
use super::spot::{Spot, Wants};
use super::tool::{Gesture, Group, Handle, Tool};
use super::trial::{Shows, Trial};
use crate::command::{Chosen, Command};

/// One kind of alteration, as a tool.
pub trait Job {
    /// Its name, as on its button.
    fn name(&self) -> &'static str;

    /// What it is for, one sentence.
    fn tip(&self) -> &'static str;

    /// Under which heading it stands.
    fn group(&self) -> Group;

    /// The letter that takes it in hand, if it has one.
    fn key(&self) -> Option<Key> {
        None
    }

    /// What it wants to be shown next; `None` when it has seen everything.
    fn wants(&self, picked: &[Spot]) -> Option<Wants>;

    /// Can it be done now?
    fn is_ready(&self, picked: &[Spot]) -> bool {
        self.wants(picked).is_none()
    }

    /// What the button says that does it; `None` when the last click does it.
    fn does(&self) -> Option<&'static str>;

    /// What the next click does, while it still wants something.
    fn asks(&self, picked: &[Spot]) -> &'static str;

    /// Something was picked: sets what the numbers start from.
    fn begin(&mut self, _hand: &Hand<'_>, _picked: &[Spot]) {}

    /// The alteration.
    ///
    /// # Errors
    /// In the maker's words, what is missing.
    fn alteration(&self, hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String>;

    /// Its numbers in the tray. Gives whether one changed.
    fn fields(
        &mut self,
        _ui: &mut Ui,
        _hand: &Hand<'_>,
        _picked: &[Spot],
        _commands: &mut Vec<Command>,
    ) -> bool {
        false
    }

    /// Handles to drag its numbers with.
    fn pulls(&self, _hand: &Hand<'_>, _picked: &[Spot]) -> Vec<Handle> {
        Vec::new()
    }

    /// One of these was dragged to a place of the table.
    fn pull(&mut self, _hand: &Hand<'_>, _picked: &[Spot], _handle: &str, _to: Point) {}

    /// A line to paint between what was picked and the pointer, in coordinates of the table.
    fn line(&self, _hand: &Hand<'_>, _picked: &[Spot]) -> Option<BezPath> {
        None
    }
}

/// A tool made of a job.
pub struct AtSpots<J> {
    job: J,
    picked: Vec<Spot>,
    trial: Trial,
    pulled: Option<String>,
}

impl<J: Job> AtSpots<J> {
    /// The tool that does this job.
    pub fn new(job: J) -> Self {
        Self {
            job,
            picked: Vec::new(),
            trial: Trial::default(),
            pulled: None,
        }
    }

    fn clear(&mut self) {
        self.picked.clear();
        self.pulled = None;
    }

    fn show(&mut self, hand: &Hand<'_>, at: Option<Point>, commands: &mut Vec<Command>) {
        if self.job.is_ready(&self.picked) {
            let alteration = self.job.alteration(hand, &self.picked);
            let at = at.or_else(|| self.picked.last().and_then(|spot| spot.at(hand)));
            self.trial
                .show(hand, alteration, at, Shows::Everywhere, commands);
        } else {
            self.trial.give_up(commands);
        }
    }

    fn finish(&mut self, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        if !self.job.is_ready(&self.picked) {
            return;
        }
        let alteration = self.job.alteration(hand, &self.picked);
        if self.trial.finish(hand, alteration, commands) {
            self.clear();
        }
    }

    fn pick(&mut self, hand: &Hand<'_>, spot: Spot, commands: &mut Vec<Command>) {
        if let Some(chosen) = spot.chosen() {
            commands.push(Command::Choose(chosen));
        }
        match self.picked.iter().position(|other| *other == spot) {
            // Shown once more: taken back, where several of a kind are wanted.
            Some(at) => {
                self.picked.remove(at);
            }
            None => self.picked.push(spot),
        }
        self.job.begin(hand, &self.picked);
        if self.job.does().is_none() && self.job.is_ready(&self.picked) {
            self.finish(hand, commands);
            self.clear();
        } else {
            self.show(hand, None, commands);
        }
    }

    fn click(&mut self, hand: &Hand<'_>, at: &At, commands: &mut Vec<Command>) {
        if self.job.wants(&self.picked).is_none() {
            self.trial.give_up(commands);
            self.clear();
        }
        let spot = self
            .job
            .wants(&self.picked)
            .and_then(|wants| wants.under(hand, at));
        match spot {
            Some(spot) => self.pick(hand, spot, commands),
            None => commands.push(Command::Choose(
                at.piece.clone().map(Chosen::piece).unwrap_or_default(),
            )),
        }
    }

    /// Shows what the next click would do, when that click is all it needs.
    fn hover(&mut self, hand: &Hand<'_>, at: &At, commands: &mut Vec<Command>) {
        if self.job.does().is_some() {
            return;
        }
        let spot = self
            .job
            .wants(&self.picked)
            .and_then(|wants| wants.under(hand, at));
        match spot {
            Some(spot) => {
                let mut picked = self.picked.clone();
                picked.push(spot);
                if self.job.is_ready(&picked) {
                    self.job.begin(hand, &picked);
                    let alteration = self.job.alteration(hand, &picked);
                    self.trial
                        .show(hand, alteration, Some(at.pointer), Shows::Painted, commands);
                }
            }
            None => {
                self.trial.give_up(commands);
            }
        }
    }

    fn pull(&mut self, hand: &Hand<'_>, handle: &str, to: Point, commands: &mut Vec<Command>) {
        self.job.pull(hand, &self.picked, handle, to);
        self.pulled = Some(handle.to_owned());
        self.show(hand, Some(to), commands);
    }

    fn nudge(&mut self, hand: &Hand<'_>, by: kurbo::Vec2, commands: &mut Vec<Command>) {
        let pulls = self.job.pulls(hand, &self.picked);
        let pulled = self.pulled.clone();
        let handle = pulls
            .iter()
            .find(|handle| Some(&handle.id) == pulled.as_ref())
            .or(pulls.first());
        if let Some(handle) = handle {
            self.pull(hand, &handle.id, handle.at + by, commands);
        }
    }
}

impl<J: Job> Tool for AtSpots<J> {
    fn name(&self) -> &'static str {
        self.job.name()
    }

    fn tip(&self) -> &'static str {
        self.job.tip()
    }

    fn group(&self) -> Group {
        self.job.group()
    }

    fn key(&self) -> Option<Key> {
        self.job.key()
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        if self.job.is_ready(&self.picked)
            && let (Some(does), Some(words)) = (self.job.does(), self.trial.words())
        {
            return format!("Enter: {}. {words}", does.to_lowercase());
        }
        let under = self.job.wants(&self.picked).and_then(|wants| {
            let at = hand.pointer.as_ref()?;
            wants.under(hand, at)
        });
        match under {
            Some(spot) => format!("{}: {}", self.job.asks(&self.picked), spot.words(hand)),
            None => self.job.asks(&self.picked).to_owned(),
        }
    }

    fn handles(&self, hand: &Hand<'_>) -> Vec<Handle> {
        let offered = self
            .job
            .wants(&self.picked)
            .map(|wants| wants.handles(hand))
            .unwrap_or_default();
        let mut handles: Vec<Handle> = offered
            .into_iter()
            .map(|(handle, spot)| Handle {
                chosen: self.picked.contains(&spot),
                ..handle
            })
            .collect();
        if self.job.is_ready(&self.picked) {
            handles.extend(self.job.pulls(hand, &self.picked));
        }
        handles
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        let is_pull = |tool: &Self, id: &str| {
            let pulls = tool.job.pulls(hand, &tool.picked);
            tool.job.is_ready(&tool.picked) && pulls.iter().any(|handle| handle.id == id)
        };
        match gesture {
            Gesture::Move(at) => self.hover(hand, &at, commands),
            Gesture::Click(at) => self.click(hand, &at, commands),
            Gesture::Take { handle, .. } if is_pull(self, &handle) => self.pulled = Some(handle),
            Gesture::Take { handle, .. } => {
                let offered = self
                    .job
                    .wants(&self.picked)
                    .map(|wants| wants.handles(hand));
                let taken = offered
                    .into_iter()
                    .flatten()
                    .find(|(offered, _)| offered.id == handle);
                if let Some((_, spot)) = taken {
                    self.pick(hand, spot, commands);
                }
            }
            Gesture::DragHandle(handle, at) if is_pull(self, &handle) => {
                self.pull(hand, &handle, at.point, commands);
            }
            Gesture::DropHandle(handle, at) if is_pull(self, &handle) => {
                self.pull(hand, &handle, at.point, commands);
                self.finish(hand, commands);
            }
            Gesture::Finish => self.finish(hand, commands),
            Gesture::Nudge(by) => self.nudge(hand, by, commands),
            _ => {}
        }
    }

    fn takes_arrows(&self, hand: &Hand<'_>) -> bool {
        self.job.is_ready(&self.picked) && !self.job.pulls(hand, &self.picked).is_empty()
    }

    fn step_back(&mut self) -> bool {
        let was = self.picked.pop().is_some();
        self.pulled = None;
        was
    }

    fn cancel(&mut self, commands: &mut Vec<Command>) -> bool {
        let was = self.trial.give_up(commands) | !self.picked.is_empty();
        self.clear();
        was
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        if self.job.does().is_some() && !self.job.is_ready(&self.picked) {
            self.trial.give_up(commands);
        }
        for spot in &self.picked {
            ui.label(spot.words(hand));
        }
        if self.job.fields(ui, hand, &self.picked, commands) {
            self.show(hand, None, commands);
        }
        let Some(does) = self.job.does() else {
            return;
        };
        let ready = self.job.is_ready(&self.picked);
        let button = ui.add_enabled(ready, egui::Button::new(does));
        if button.clicked() {
            self.finish(hand, commands);
        }
    }

    fn preview(&self) -> Option<&Garment> {
        self.trial.made()
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        let mut picked = self.picked.clone();
        if let Some(wants) = self.job.wants(&picked)
            && let Some(spot) = hand.pointer.as_ref().and_then(|at| wants.under(hand, at))
        {
            if let Some(at) = spot.at(hand) {
                brush.dot(at);
            }
            picked.push(spot);
        }
        if let Some(line) = self.job.line(hand, &picked) {
            brush.line(&line);
        }
        self.trial.paint(hand, brush);
    }
}
