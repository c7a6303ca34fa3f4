//! The Chalk tray: what hand work alters, the tools, the numbers of the tool in hand.

use egui::{Align, Button, RichText, Role, ScrollArea, Ui, WidgetInfo};
use petitoile_core::snapping::Snapping;

use super::alterations::alterations;
use super::numbers::numbers;
use super::{faded, works_on};
use crate::chalk::tool::Group;
use crate::chalk::{Chalk, Clipboard};
use crate::chalk::{picture_under, pinned};
use crate::command::Command;
use crate::session::Session;

/// Below this height the whole tray scrolls, screen points.
const LOW: f32 = 420.0;

/// The Chalk tray.
#[derive(Default)]
pub struct ChalkTray;

impl ChalkTray {
    /// Shows the tray.
    pub fn ui(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        chalk: &mut Chalk,
        commands: &mut Vec<Command>,
    ) {
        let height = ui.available_height();
        let most = (0.28 * height).max(96.0);
        if height < LOW {
            // Too low for a list that stays where it is.
            ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
                choices(ui, most, session, chalk, commands);
                numbers_and_lists(ui, session, chalk, commands);
            });
        } else {
            choices(ui, most, session, chalk, commands);
            ScrollArea::vertical()
                .auto_shrink(false)
                .show(ui, |ui| numbers_and_lists(ui, session, chalk, commands));
        }
    }
}

/// What hand work alters, and all tools in a list of their own.
fn choices(
    ui: &mut Ui,
    most: f32,
    session: &Session,
    chalk: &mut Chalk,
    commands: &mut Vec<Command>,
) {
    works_on(ui, "Chalk on", session, commands);
    headings(ui, chalk);
    ScrollArea::vertical()
        .id_salt("tools")
        .scroll_bar_visibility(egui::scroll_area::ScrollBarVisibility::AlwaysVisible)
        .max_height(most)
        .show(ui, |ui| tools(ui, chalk, commands));
    ui.separator();
}

fn numbers_and_lists(
    ui: &mut Ui,
    session: &Session,
    chalk: &mut Chalk,
    commands: &mut Vec<Command>,
) {
    // What is drawn over is looked at all the time; the way to it only once.
    let draws_over = chalk.picture.is_some();
    if draws_over {
        picture_under::fields(&mut chalk.picture, ui, commands);
        ui.separator();
    }
    in_hand(ui, session, chalk, commands);
    pinned::list(ui, session, commands);
    if !draws_over {
        picture_under::fields(&mut chalk.picture, ui, commands);
    }
    ui.separator();
    numbers(ui, session, chalk, commands);
    clipboard(ui, session, chalk, commands);
    alterations(ui, session, commands);
    ui.separator();
    snapping(ui, session.settings.snapping, commands);
    ui.add_space(12.0);
}

/// The tool in hand: what the next click does, and its numbers.
fn in_hand(ui: &mut Ui, session: &Session, chalk: &mut Chalk, commands: &mut Vec<Command>) {
    if let Some(tool) = chalk.tool() {
        ui.label(RichText::new(tool.name()).strong());
    }
    ui.label(chalk.says(session));
    chalk.fields(ui, session, commands);
}

/// Copy, cut and paste, for those who do not know the keys.
fn clipboard(ui: &mut Ui, session: &Session, chalk: &Chalk, commands: &mut Vec<Command>) {
    let chosen = session.chosen.piece.is_some();
    ui.horizontal_wrapped(|ui| {
        if ui.add_enabled(chosen, Button::new("Copy")).clicked() {
            chalk.clipboard(ui.ctx(), session, Clipboard::Copy, commands);
        }
        if ui.add_enabled(chosen, Button::new("Cut")).clicked() {
            chalk.clipboard(ui.ctx(), session, Clipboard::Cut, commands);
        }
        if ui.button("Paste").clicked() {
            ui.ctx()
                .send_viewport_cmd(egui::ViewportCommand::RequestPaste);
        }
    });
}

/// What places snap to.
fn snapping(ui: &mut Ui, now: Snapping, commands: &mut Vec<Command>) {
    let mut next = now;
    ui.label("Snap to");
    ui.horizontal_wrapped(|ui| {
        for (on, words, tip) in [
            (
                &mut next.points,
                "points",
                "Corners, and points of what is being drawn",
            ),
            (&mut next.edges, "edges", "The nearest place on an edge"),
            (
                &mut next.squares,
                "squares",
                "90\u{b0} to the line before and to an edge",
            ),
            (
                &mut next.level,
                "level and upright",
                "Level with other points, above or below them",
            ),
            (
                &mut next.body_lines,
                "body lines",
                "Bust, waist, hip and the other levels",
            ),
            (&mut next.fold, "fold", "The fold, and beyond its ends"),
            (&mut next.grid, "ruler marks", "The marks of the rulers"),
        ] {
            let button = ui.add(Button::selectable(*on, words));
            let ticked = *on;
            button.widget_info(|| {
                let label = format!("Snap to {words}");
                WidgetInfo::selected(Role::CheckBox, true, ticked, label)
            });
            if button.on_hover_text(tip).clicked() {
                *on = !*on;
            }
        }
    });
    let held = if cfg!(target_os = "macos") {
        "Command"
    } else {
        "Ctrl"
    };
    faded(ui, format!("Hold {held} to place freely."));
    if next != now {
        commands.push(Command::Snap(next));
    }
}

/// Where the list of tools is to be rolled to with the next frame.
fn jump_id() -> egui::Id {
    egui::Id::unique("tools rolled to")
}

/// The headings of the list side by side: a click rolls the list there.
fn headings(ui: &mut Ui, chalk: &Chalk) {
    let of = |group: Group| chalk.tools().any(|tool| tool.group() == group);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for group in Group::ALL.into_iter().filter(|group| of(*group)) {
            let here = chalk.tool().is_some_and(|tool| tool.group() == group);
            let button = ui.add(Button::selectable(
                here,
                RichText::new(group.words()).small(),
            ));
            button.widget_info(|| {
                let label = format!("Tools: {}", group.words());
                WidgetInfo::selected(Role::Tab, true, here, label)
            });
            if button.clicked() {
                ui.data_mut(|data| data.insert_temp(jump_id(), group));
                ui.ctx().request_repaint();
            }
        }
    });
}

fn tools(ui: &mut Ui, chalk: &mut Chalk, commands: &mut Vec<Command>) {
    let in_hand = chalk.tool().map(|tool| tool.name()).unwrap_or_default();
    let mut taken = None;
    let jump = ui.data_mut(|data| data.remove_temp::<Group>(jump_id()));
    for group in Group::ALL {
        let mut tools = chalk
            .tools()
            .filter(|tool| tool.group() == group)
            .peekable();
        if tools.peek().is_none() {
            continue;
        }
        let heading = faded(ui, group.words());
        if jump == Some(group) {
            heading.scroll_to_me(Some(Align::TOP));
        }
        ui.horizontal_wrapped(|ui| {
            for tool in tools {
                let chosen = tool.name() == in_hand;
                let button = ui.add(
                    Button::selectable(chosen, RichText::new(tool.name()))
                        .min_size(egui::vec2(44.0, 28.0)),
                );
                let keys = tool
                    .key()
                    .map_or(String::new(), |key| format!(" ({})", key.name()));
                if button
                    .on_hover_text(format!("{}{keys}", tool.tip()))
                    .clicked()
                {
                    taken = Some(tool.name());
                }
            }
        });
    }
    if let Some(name) = taken {
        chalk.take(name, commands);
    }
}
