//! Ease over everything underneath, girth by girth; what changes when a layer is left out.

use std::collections::BTreeSet;

use egui::{Grid, RichText, Ui};
use petitoile_core::LengthUnit;
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::layers::{Room, rooms};

use super::Shown;
use crate::command::Command;
use crate::theme::Palette;
use crate::trays::{faded, heading};

pub(super) fn ui(
    ui: &mut Ui,
    shown: Shown<'_>,
    left_out: &BTreeSet<String>,
    commands: &mut Vec<Command>,
) {
    let Some(worn) = shown.worn else {
        return;
    };
    let unit = shown.session.shown().unit;
    heading(ui, "Room over what is underneath");
    let fewer = (!left_out.is_empty() && !left_out.contains(shown.fitting)).then(|| {
        let without = worn.together.without(left_out);
        without
            .place_of(shown.fitting)
            .map(|place| rooms(&without, place))
            .unwrap_or_default()
    });
    if worn.rooms.is_empty() {
        faded(ui, "This garment has no girths to measure.");
        return;
    }
    Grid::new("room")
        .num_columns(4)
        .striped(true)
        .show(ui, |ui| {
            for words in ["", "underneath", "room"] {
                ui.label(RichText::new(words).small().weak());
            }
            if fewer.is_some() {
                ui.label(RichText::new("left out").small().weak());
            }
            ui.end_row();
            for (i, room) in worn.rooms.iter().enumerate() {
                let other = fewer.as_ref().and_then(|rooms| rooms.get(i));
                row(ui, room, other, unit);
                ui.end_row();
            }
        });
    as_worn(ui, shown, commands);
}

fn row(ui: &mut Ui, room: &Room, fewer: Option<&Room>, unit: LengthUnit) {
    let over = room.outer() - room.body;
    let name = ui.label(&room.name);
    let said = format!("{}: {}", room.name, what(room, unit));
    name.on_hover_text(&said);
    let under = ui.label(format!("+ {}", unit.show(over)));
    under.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &said));
    under.on_hover_text(&said);
    ease(ui, &format!("{}: room", room.name), room, unit);
    if let Some(fewer) = fewer {
        ease(ui, &format!("{}: room without", room.name), fewer, unit);
    }
}

/// The ease that is left, in the colour of trouble where it is none.
fn ease(ui: &mut Ui, name: &str, room: &Room, unit: LengthUnit) {
    let left = room.ease();
    let words = format!(
        "{}{}",
        if left.0 < -0.05 { "\u{2212}" } else { "" },
        unit.show(petitoile_core::Mm(left.0.abs()))
    );
    let palette = Palette::showing(ui);
    let mut text = RichText::new(&words);
    if left.0 < -0.05 {
        text = text.color(palette.unusable).strong();
    }
    let label = ui.label(text);
    label.widget_info(|| {
        egui::WidgetInfo::labeled(egui::Role::Label, true, format!("{name} {words}"))
    });
}

/// "body 150 mm, smock 2 mm, garment 170 mm".
fn what(room: &Room, unit: LengthUnit) -> String {
    let mut words = vec![format!("body {}", unit.show(room.body))];
    words.extend(
        room.layers
            .iter()
            .map(|layer| format!("{} {}", layer.stack.layer, unit.show(layer.adds))),
    );
    if room.pads.0 > 0.0 {
        words.push(format!("pads {}", unit.show(room.pads)));
    }
    words.push(format!("own cloth {}", unit.show(room.own)));
    words.push(format!("garment {}", unit.show(room.garment)));
    words.join(", ")
}

/// Fitted as worn in an outfit, or not yet.
fn as_worn(ui: &mut Ui, shown: Shown<'_>, commands: &mut Vec<Command>) {
    let Some((worn, fitting)) = shown.worn.zip(shown.session.fitting()) else {
        return;
    };
    let as_worn = worn.under.as_worn(&shown.outfit.name, shown.fitting);
    let is_so = matches!(
        &as_worn,
        Edit::Fitting { change: FittingEdit::SetAsWorn(worn, pads), .. }
            if *worn == fitting.as_worn && *pads == fitting.pads_underneath
    );
    if is_so {
        faded(ui, format!("Fitted as worn in {}.", shown.outfit.name));
        if ui.button("Fit it on its own").clicked() {
            commands.push(Command::Edit(Edit::Fitting {
                fitting: shown.fitting.to_owned(),
                change: FittingEdit::SetAsWorn(None, Vec::new()),
            }));
        }
        return;
    }
    if let Some(other) = &fitting.as_worn {
        faded(ui, format!("Fitted as worn in {}.", other.outfit));
    }
    let words = format!("Fit it as worn in {}", shown.outfit.name);
    let button = ui.add(egui::Button::new(words).min_size(egui::vec2(120.0, 32.0)));
    if button
        .on_hover_text("Every girth gets what lies under it there, and the pads")
        .clicked()
    {
        commands.push(Command::Edit(as_worn));
    }
}
