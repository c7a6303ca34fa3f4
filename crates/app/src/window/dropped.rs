//! Files dropped on the window: a project is opened, everything else that is understood is brought in.

use crate::chooser::BROUGHT_IN;
use crate::command::Command;

/// A project file that was dropped onto the window.
pub(super) fn dropped(ctx: &egui::Context, commands: &mut Vec<Command>) {
    let file = ctx.input(|i| {
        i.raw
            .dropped_files
            .first()
            .map(|file| file.path().to_owned())
    });
    commands.extend(file.map(|file| {
        let ending = file.extension().and_then(|ending| ending.to_str());
        if ending.is_some_and(|ending| BROUGHT_IN.contains(&ending)) {
            Command::BringInFile(file)
        } else {
            Command::OpenFile(file)
        }
    }));
    if ctx.input(|i| !i.raw.hovered_files.is_empty()) {
        super::bars::drop_here(ctx);
    }
}
