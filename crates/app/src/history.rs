//! Undo and redo: whole, shared snapshots, one per finished gesture, named after their edit.

use std::sync::Arc;

use petitoile_core::edit::Edit;
use petitoile_core::project::Project;

/// What was done, and what can be done again.
#[derive(Debug, Clone, Default)]
pub struct History {
    past: Vec<(Edit, Arc<Project>)>,
    future: Vec<(Edit, Arc<Project>)>,
}

impl History {
    /// Remembers the project as it was before an edit; what had been undone is gone for good.
    pub fn push(&mut self, edit: Edit, before: Arc<Project>) {
        self.past.push((edit, before));
        self.future.clear();
    }

    /// Goes one step back from `now`.
    pub fn undo(&mut self, now: &Arc<Project>) -> Option<Arc<Project>> {
        let (edit, before) = self.past.pop()?;
        self.future.push((edit, now.clone()));
        Some(before)
    }

    /// Goes one step forward again from `now`.
    pub fn redo(&mut self, now: &Arc<Project>) -> Option<Arc<Project>> {
        let (edit, after) = self.future.pop()?;
        self.past.push((edit, now.clone()));
        Some(after)
    }

    /// Takes the last edit out for good, to put another in its place. Gives the project as it was before it.
    pub fn take_back(&mut self) -> Option<Arc<Project>> {
        self.past.pop().map(|(_, before)| before)
    }

    /// The project as it was before the last edit.
    pub fn before(&self) -> Option<&Arc<Project>> {
        self.past.last().map(|(_, before)| before)
    }

    /// The edit that undo would take back.
    pub fn last(&self) -> Option<&Edit> {
        self.past.last().map(|(edit, _)| edit)
    }

    /// The edit that redo would make again.
    pub fn next(&self) -> Option<&Edit> {
        self.future.last().map(|(edit, _)| edit)
    }

    /// How many steps can be undone.
    pub fn steps(&self) -> usize {
        self.past.len()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    fn named(name: &str) -> Arc<Project> {
        Arc::new(Project {
            name: name.into(),
            ..Project::default()
        })
    }

    #[test]
    fn undo_and_redo_walk_the_same_steps_both_ways() {
        let (a, b, c) = (named("a"), named("b"), named("c"));
        let mut history = History::default();
        history.push(Edit::RenameProject("b".into()), a.clone());
        history.push(Edit::RenameProject("c".into()), b.clone());
        let back = history.undo(&c).unwrap();
        assert_eq!(back.name, "b");
        assert_eq!(history.undo(&back).unwrap().name, "a");
        assert_eq!(history.redo(&a).unwrap().name, "b");
        assert_eq!(history.redo(&b).unwrap().name, "c");
        assert!(history.redo(&c).is_none());
    }

    #[test]
    fn a_new_edit_after_undo_forgets_what_was_undone() {
        let (a, b) = (named("a"), named("b"));
        let mut history = History::default();
        history.push(Edit::RenameProject("b".into()), a.clone());
        history.undo(&b);
        history.push(Edit::RenameProject("z".into()), a);
        assert!(history.next().is_none());
        assert_eq!(history.steps(), 1);
    }
}
