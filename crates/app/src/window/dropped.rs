//! Files dropped on the window: a project is opened, everything else that is understood is brought in, all of it together.

use std::path::{Path, PathBuf};

use crate::chooser::BROUGHT_IN;
use crate::command::Command;

/// What to do with files that were dropped onto the window.
pub(super) fn dropped(ctx: &egui::Context, commands: &mut Vec<Command>) {
    let files: Vec<PathBuf> = ctx.input(|i| {
        let files = i.raw.dropped_files.iter();
        files.map(|file| file.path().to_owned()).collect()
    });
    commands.extend(asked(files));
    if ctx.input(|i| !i.raw.hovered_files.is_empty()) {
        super::bars::drop_here(ctx);
    }
}

/// Drawings and pictures are brought in together; of other files the first is opened, when there are no drawings.
fn asked(files: Vec<PathBuf>) -> Option<Command> {
    let (drawings, others): (Vec<_>, Vec<_>) = files.into_iter().partition(|file| is_drawing(file));
    if drawings.is_empty() {
        others.into_iter().next().map(Command::OpenFile)
    } else {
        Some(Command::BringInFiles(drawings))
    }
}

fn is_drawing(file: &Path) -> bool {
    let ending = file.extension().and_then(|ending| ending.to_str());
    ending.is_some_and(|ending| BROUGHT_IN.contains(&ending))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn drawings_are_brought_in_together_and_a_project_is_opened() {
        let paths = |names: &[&str]| names.iter().map(PathBuf::from).collect::<Vec<_>>();
        let both = asked(paths(&["front.svg", "back.PDF"]));
        let expected = Command::BringInFiles(paths(&["front.svg", "back.PDF"]));
        assert_eq!(both, Some(expected));
        let project = asked(paths(&["doll.petitoile"]));
        assert_eq!(project, Some(Command::OpenFile("doll.petitoile".into())));
        assert_eq!(asked(Vec::new()), None);
    }
}
