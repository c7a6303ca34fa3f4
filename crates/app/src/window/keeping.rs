//! Unsaved work: where it is kept and since when it waits.

use std::path::Path;
use std::sync::Arc;
use std::time::Instant;

use petitoile_core::project::Project;

use super::Window;
use crate::files::recovery::AUTOSAVE_EVERY;
use crate::files::{self, Kept, Recovery, Seal, Work};

/// Unsaved work: where it is kept and since when it waits.
pub struct Keeping {
    pub recovery: Option<Recovery>,
    pub work: Work,
    pub seal: Option<Seal>,
    pub unsaved_since: Option<Instant>,
    pub kept: Option<Arc<Project>>,
    pub found: Vec<Kept>,
}

impl Keeping {
    pub fn new(recovery: Option<Recovery>, file: Option<&Path>) -> Self {
        let seal = file
            .and_then(|file| files::read_bytes(file).ok())
            .map(|bytes| Seal::of(&bytes));
        let found = recovery.as_ref().map(Recovery::list).unwrap_or_default();
        let mut keeping = Self {
            recovery,
            work: Work::untitled(),
            seal: None,
            unsaved_since: None,
            kept: None,
            found,
        };
        keeping.belongs_to(file, seal);
        keeping
    }

    pub fn belongs_to(&mut self, file: Option<&Path>, seal: Option<Seal>) {
        self.seal = seal;
        self.work = file.map_or_else(Work::untitled, |file| Work::on_file(file, seal));
        self.unsaved_since = None;
        self.kept = None;
    }
}

impl Window {
    /// Keeps unsaved work once it has waited long enough.
    pub(super) fn keep(&mut self, ctx: &egui::Context) {
        if !self.session.is_unsaved() {
            self.keeping.unsaved_since = None;
            return;
        }
        let same = self
            .keeping
            .kept
            .as_ref()
            .is_some_and(|kept| std::sync::Arc::ptr_eq(kept, self.session.project()));
        if same || self.keeping.recovery.is_none() {
            return;
        }
        let since = *self.keeping.unsaved_since.get_or_insert_with(Instant::now);
        match AUTOSAVE_EVERY.checked_sub(since.elapsed()) {
            Some(rest) if !rest.is_zero() => ctx.request_repaint_after(rest),
            _ => self.keep_now(),
        }
    }

    pub(super) fn keep_now(&mut self) {
        self.keeping.unsaved_since = None;
        let Some(recovery) = self
            .keeping
            .recovery
            .as_ref()
            .filter(|_| self.session.is_unsaved())
        else {
            return;
        };
        match recovery.keep(&self.keeping.work, self.session.project()) {
            Ok(()) => self.keeping.kept = Some(self.session.project().clone()),
            Err(trouble) => {
                self.session.message = Some(format!("Unsaved work could not be kept: {trouble}"))
            }
        }
    }

    pub(super) fn forget_kept(&mut self) {
        if let Some(recovery) = &self.keeping.recovery {
            recovery.forget(&self.keeping.work).ok();
        }
    }

    /// Goes on with work that was never saved.
    pub(super) fn recover(&mut self, number: usize) -> Result<(), String> {
        let (Some(recovery), Some(kept)) = (
            self.keeping.recovery.clone(),
            self.keeping.found.get(number).cloned(),
        ) else {
            return Ok(());
        };
        let project = recovery
            .open(&kept)
            .map_err(|trouble| trouble.to_string())?;
        self.keep_now();
        self.session.put(project, kept.work.path.clone());
        self.session.now_unsaved();
        self.keeping
            .belongs_to(kept.work.path.as_deref(), kept.work.seal);
        self.keeping.work = kept.work;
        self.keeping.found.remove(number);
        self.session.message = Some("This work was not saved before. Save it now.".to_owned());
        Ok(())
    }

    pub(super) fn discard(&mut self, number: usize) -> Result<(), String> {
        let (Some(recovery), Some(kept)) = (&self.keeping.recovery, self.keeping.found.get(number))
        else {
            return Ok(());
        };
        recovery
            .discard(kept)
            .map_err(|trouble| trouble.to_string())?;
        self.keeping.found.remove(number);
        Ok(())
    }
}
