//! Unsaved work: where it is kept and since when it waits.

use std::path::Path;
use std::sync::Arc;
use std::time::Instant;

use petitoile_core::project::Project;

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
