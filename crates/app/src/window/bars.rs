//! The bar at the top (menus, undo, trays) and the line at the bottom (last word, unsaved work).

use egui::{Align, Button, Layout, MenuBar, RichText, Ui};
use petitoile_core::LengthUnit;
use petitoile_core::edit::Edit;

use crate::command::{self, Command, Entry, Menu};
use crate::files::Kept;
use crate::session::{Session, Tray};
use crate::theme::Palette;
use crate::wording;

/// Menus, undo and redo, the title, and the trays.
pub fn top(ui: &mut Ui, session: &Session, narrow: bool, commands: &mut Vec<Command>) {
    let table = command::table(session);
    MenuBar::new().ui(ui, |ui| {
        for (menu, words) in [
            (Menu::Project, "Project"),
            (Menu::Change, "Change"),
            (Menu::Look, "Look"),
        ] {
            ui.menu_button(words, |ui| {
                // On a low window, or at twice the size, a menu scrolls.
                let tall = (ui.ctx().content_rect().height() - 60.0).max(120.0);
                egui::ScrollArea::vertical()
                    .max_height(tall)
                    .min_scrolled_height(tall)
                    .show(ui, |ui| {
                        ui.set_min_width(230.0);
                        let mut last = None;
                        let mut entries: Vec<&Entry> =
                            table.iter().filter(|e| e.menu == menu).collect();
                        entries.sort_by_key(|e| second(&e.command));
                        entries.sort_by_key(|e| group(&e.command));
                        for entry in &entries {
                            let group = group(&entry.command);
                            if last.is_some_and(|last| last != group) {
                                ui.separator();
                            }
                            if !in_a_row(&entry.command) {
                                menu_entry(ui, entry, commands);
                            } else if last != Some(group) {
                                row(
                                    ui,
                                    entries.iter().filter(|e| self::group(&e.command) == group),
                                    commands,
                                );
                            }
                            last = Some(group);
                        }
                        if menu == Menu::Project {
                            demos(ui, commands);
                            units(ui, session, commands);
                        }
                        if menu == Menu::Look && narrow {
                            pieces(ui, session, commands);
                        }
                    });
            });
        }
        quick(ui, &table, commands);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if narrow {
                ui.spacing_mut().button_padding.x = 4.0;
                ui.spacing_mut().item_spacing.x = 2.0;
            }
            for tray in Tray::ALL.into_iter().rev() {
                let entry = table.iter().find(|e| e.command == Command::Tray(tray));
                let button = ui.add(
                    Button::selectable(session.tray == tray, RichText::new(tray.name()).strong())
                        .min_size(egui::vec2(if narrow { 46.0 } else { 72.0 }, 32.0)),
                );
                if let Some(entry) = entry {
                    button.clone().on_hover_text(with_keys(ui, entry));
                }
                button.widget_info(|| {
                    egui::WidgetInfo::selected(
                        egui::Role::Tab,
                        true,
                        session.tray == tray,
                        format!("{} tray", tray.name()),
                    )
                });
                if button.clicked() {
                    commands.push(Command::Tray(tray));
                }
            }
            // Where there is no room for the name, the dot alone says that something is unsaved.
            let name = if narrow {
                ""
            } else if session.project().name.is_empty() {
                "New project"
            } else {
                session.project().name.as_str()
            };
            let mark = if session.is_unsaved() {
                " \u{2022}"
            } else {
                ""
            };
            if narrow && !session.is_unsaved() {
                return;
            }
            let title =
                ui.add(egui::Label::new(RichText::new(format!("{name}{mark}")).weak()).truncate());
            if session.is_unsaved() {
                title.on_hover_text(
                    "Not saved yet. Unsaved work is kept and offered again after a crash.",
                );
            }
        });
    });
}

/// Undo and redo as buttons.
fn quick(ui: &mut Ui, table: &[Entry], commands: &mut Vec<Command>) {
    for (command, sign) in [(Command::Undo, "\u{21b6}"), (Command::Redo, "\u{21b7}")] {
        let Some(entry) = table.iter().find(|e| e.command == command) else {
            continue;
        };
        let name = if command == Command::Undo {
            "Undo"
        } else {
            "Redo"
        };
        let button = ui.add_enabled(
            entry.allowed,
            Button::new(RichText::new(sign).size(17.0)).min_size(egui::vec2(34.0, 28.0)),
        );
        if button
            .accessible_name(name)
            .on_hover_text(with_keys(ui, entry))
            .clicked()
        {
            commands.push(command);
        }
    }
}

/// The table names longer key combinations first; a maker looks for the plain command first.
fn second(command: &Command) -> bool {
    matches!(command, Command::SaveAs | Command::Redo)
}

/// Which commands stand together.
fn group(command: &Command) -> u8 {
    match command {
        Command::Open | Command::Save | Command::SaveAs => 0,
        Command::Export(_) => 1,
        Command::Tray(_) | Command::FoldFindings => 3,
        Command::Ghost(_) => 4,
        Command::Look(_) => 5,
        Command::Scale(_) => 6,
        _ => 2,
    }
}

/// Light or dark, and sizes: short words side by side, so that the menu fits a small window.
fn in_a_row(command: &Command) -> bool {
    matches!(command, Command::Look(_) | Command::Scale(_))
}

fn row<'a>(ui: &mut Ui, entries: impl Iterator<Item = &'a &'a Entry>, commands: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for entry in entries {
            let short = entry.words.trim_start_matches("Size ").to_owned();
            let button = Button::selectable(entry.ticked, short).min_size(egui::vec2(40.0, 28.0));
            let response = ui.add_enabled(entry.allowed, button);
            response.widget_info(|| {
                egui::WidgetInfo::selected(
                    egui::Role::RadioButton,
                    entry.allowed,
                    entry.ticked,
                    &entry.words,
                )
            });
            if response.on_hover_text(entry.tip).clicked() {
                commands.push(entry.command.clone());
                ui.close();
            }
        }
    });
}

fn menu_entry(ui: &mut Ui, entry: &Entry, commands: &mut Vec<Command>) {
    let keys = entry
        .shortcut
        .map(|keys| ui.ctx().format_shortcut(&keys))
        .unwrap_or_default();
    let mut button =
        Button::selectable(entry.ticked, entry.words.as_str()).min_size(egui::vec2(220.0, 28.0));
    if !keys.is_empty() {
        button = button.shortcut_text(keys);
    }
    if ui
        .add_enabled(entry.allowed, button)
        .on_hover_text(entry.tip)
        .clicked()
    {
        commands.push(entry.command.clone());
        ui.close();
    }
}

fn with_keys(ui: &Ui, entry: &Entry) -> String {
    match entry.shortcut {
        Some(keys) => format!("{} ({})", entry.words, ui.ctx().format_shortcut(&keys)),
        None => entry.words.clone(),
    }
}

/// The demo projects, to try things on.
fn demos(ui: &mut Ui, commands: &mut Vec<Command>) {
    ui.separator();
    for (name, _) in crate::demos::ALL {
        let words = format!("Demo: {}", name.replace('-', " "));
        let button = Button::selectable(false, words).min_size(egui::vec2(220.0, 28.0));
        let tip = "A small finished project; unsaved work is kept and offered again";
        if ui.add(button).on_hover_text(tip).clicked() {
            commands.push(Command::OpenDemo(name));
            ui.close();
        }
    }
}

fn units(ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
    ui.separator();
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.label("Lengths in");
        for unit in [
            LengthUnit::Millimetre,
            LengthUnit::Centimetre,
            LengthUnit::Inch,
        ] {
            let now = session.project().unit == unit;
            let words = format!("Read and type {}", wording::unit_name(unit));
            let button = Button::selectable(now, unit.suffix()).min_size(egui::vec2(40.0, 28.0));
            let response = ui.add(button);
            response.widget_info(|| {
                egui::WidgetInfo::selected(egui::Role::RadioButton, true, now, &words)
            });
            if response.on_hover_text(words).clicked() {
                if !now {
                    commands.push(Command::Edit(Edit::SetUnit(unit)));
                }
                ui.close();
            }
        }
    });
}

/// On a narrow window the pieces stand in a menu.
fn pieces(ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
    ui.separator();
    for piece in &session.work.table.pieces {
        if ui.button(format!("Go to {}", piece.name)).clicked() {
            commands.push(Command::ShowPlace(petitoile_core::finding::Place::piece(
                &piece.name,
            )));
            ui.close();
        }
    }
}

/// The last word, what the next click does or what was worked out, and unsaved work that was found.
pub fn status(
    ui: &mut Ui,
    session: &Session,
    next_click: Option<&str>,
    found: &[Kept],
    commands: &mut Vec<Command>,
) {
    let palette = Palette::showing(ui);
    if let Some(kept) = found.first() {
        ui.horizontal_wrapped(|ui| {
            let of = kept
                .work
                .path
                .as_ref()
                .map_or("a project without a file".to_owned(), |path| {
                    path.display().to_string()
                });
            ui.label(RichText::new(format!("Unsaved work was found: {of}")).color(palette.care));
            if ui.button("Go on with it").clicked() {
                commands.push(Command::Recover(0));
            }
            if ui.button("Throw it away").clicked() {
                commands.push(Command::Discard(0));
            }
        });
    }
    ui.horizontal(|ui| {
        ui.set_min_height(24.0);
        let trouble = session.work.trouble.as_ref();
        match (&session.message, trouble) {
            (Some(words), _) => {
                ui.add(egui::Label::new(words).truncate())
                    .on_hover_text(words);
                if ui
                    .small_button("\u{2715}")
                    .accessible_name("Clear this message")
                    .clicked()
                {
                    commands.push(Command::Hush);
                }
            }
            (None, Some(words)) => {
                ui.add(egui::Label::new(RichText::new(words).color(palette.unusable)).truncate())
                    .on_hover_text(words);
            }
            (None, None) => {
                let words = next_click.map_or_else(|| summary(session), str::to_owned);
                ui.add(egui::Label::new(RichText::new(words).small().weak()).truncate());
            }
        }
        if session.is_working() {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                ui.label(RichText::new("fitting\u{2026}").small().weak());
            });
        } else if let Some(edit) = session.history.last().filter(|_| session.message.is_none()) {
            let done = format!("last change: {}", edit.words(session.shown().unit));
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                ui.add(egui::Label::new(RichText::new(done).small().weak()).truncate());
            });
        }
    });
}

/// Height of the list of findings: a head line, and when unfolded as many rows as there are, up to a share of the window.
/// While pieces are altered by hand it does not change with them: the table would slip away under the hand.
pub fn findings_height(session: &Session, window: f32) -> f32 {
    let head = 40.0;
    let rows = session.findings().len() as f32;
    let most = (window * 0.24).max(96.0);
    if session.settings.findings_open && session.tray.is_of_hand_work() {
        most
    } else if session.settings.findings_open {
        (head + 52.0 * rows).min(most)
    } else {
        head
    }
}

/// One line on what lies on the table.
fn summary(session: &Session) -> String {
    let (Some(worked), Some(fitting)) = (session.work.done.as_ref(), session.fitting()) else {
        return String::new();
    };
    let demands = worked.adapted.demands.len();
    let missed = worked.adapted.demands.iter().filter(|d| d.gave_way).count();
    format!(
        "{} for {}, {}{}",
        fitting.garment,
        fitting.body.name,
        wording::count(worked.adapted.pieces.len(), "piece", "pieces"),
        wording::measures_kept(demands, missed)
    )
}

/// Shown while a file hovers over the window.
pub fn drop_here(ctx: &egui::Context) {
    let painter = ctx.layer_painter(egui::LayerId::new(
        egui::Order::Foreground,
        egui::Id::unique("drop here"),
    ));
    let rect = ctx.content_rect();
    painter.rect_filled(rect, 0.0, egui::Color32::from_black_alpha(150));
    let white = egui::Color32::WHITE;
    painter.text(
        rect.center(),
        egui::Align2::CENTER_CENTER,
        "Drop the project here",
        egui::FontId::proportional(26.0),
        white,
    );
}
