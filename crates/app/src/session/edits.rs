//! What is done to the project: recorded as one step, tried without a record, taken back and made again.

use std::sync::Arc;

use petitoile_core::edit::Edit;
use petitoile_core::project::Project;

use super::Session;
use crate::history::History;

impl Session {
    pub(super) fn edit(&mut self, edit: Edit) {
        self.trial = None;
        self.under_hand = None;
        match self.project.edited(&edit) {
            // A gesture that ends where it began is no step.
            Ok(next) if next == *self.project => {}
            Ok(next) => {
                let before = std::mem::replace(&mut self.project, Arc::new(next));
                self.history.push(edit, before);
                self.message = None;
                self.keep_fitting();
            }
            Err(trouble) => self.message = Some(self.project.unit.reword(&trouble.to_string())),
        }
        self.ask();
    }

    pub(super) fn try_out(&mut self, edit: &Edit) {
        match self.project.edited(edit) {
            Ok(next) => {
                if self.trial.is_none() {
                    self.under_hand = self.on_table().cloned();
                }
                self.trial = Some(Arc::new(next));
                self.message = None;
                self.ask();
            }
            Err(trouble) => self.message = Some(self.project.unit.reword(&trouble.to_string())),
        }
    }

    pub(super) fn stop_trying(&mut self) {
        if self.trial.take().is_some() {
            self.ask();
        }
    }

    pub(super) fn step(&mut self, walk: fn(&mut History, &Arc<Project>) -> Option<Arc<Project>>) {
        if let Some(project) = walk(&mut self.history, &self.project) {
            self.trial = None;
            self.under_hand = None;
            self.project = project;
            self.keep_fitting();
            self.ask();
        }
    }

    /// After an edit or undo the fitting may have gone, or the first one come.
    fn keep_fitting(&mut self) {
        let there = self
            .fitting
            .as_deref()
            .is_some_and(|name| self.project.fitting(name).is_some());
        if !there && (self.fitting.is_some() || self.project.garments.is_empty()) {
            self.fitting = self.project.fittings.first().map(|f| f.name.clone());
            self.forget_work();
        }
    }
}
