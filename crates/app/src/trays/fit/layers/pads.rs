//! Pads: their figures, what they do, how they are made.

use std::collections::BTreeSet;

use egui::Ui;
use petitoile_core::edit::Edit;
use petitoile_core::layers::Levelled;
use petitoile_core::measure::Measure;
use petitoile_core::outfit::{Outfit, WornPad};
use petitoile_core::pad::{Pad, PadMiddle, PadShape, girth_over};
use petitoile_core::piece::Role;
use petitoile_core::{LengthUnit, Mm};

use super::Shown;
use super::order::{named, tick};
use crate::command::Command;
use crate::fields::{Asked, Typed, length_field, name_field, one_of, pick, share_field};
use crate::theme::Palette;
use crate::trays::faded;

pub(super) fn ui(
    ui: &mut Ui,
    shown: Shown<'_>,
    left_out: &mut BTreeSet<String>,
    commands: &mut Vec<Command>,
) {
    let unit = shown.session.shown().unit;
    for (place, worn) in shown.outfit.pads.iter().enumerate() {
        ui.push_id(("pad", place), |ui| {
            one(ui, shown, (place, worn), unit, left_out, commands);
        });
    }
    if ui
        .button("Add a pad")
        .on_hover_text("A stuffed roll under the skirts: a hip roll, a bustle pad")
        .clicked()
    {
        let mut next = shown.outfit.clone();
        next.pads.push(WornPad {
            pad: usual(shown),
            over: None,
        });
        commands.push(Command::Edit(Edit::PutOutfit(next)));
    }
    if let Some(level) = shown.worn.and_then(|worn| worn.levelled.as_ref()) {
        levelled(ui, shown, level, unit, commands);
    }
}

/// A roll of a size that suits the doll: an eighth of the waist's radius times four; changed at once by the maker.
fn usual(shown: Shown<'_>) -> Pad {
    let body = shown.session.fitting().map(|fitting| &fitting.body);
    let of = |measure| body.map_or(Mm(100.0), |body| body.mm(measure)).0;
    let rule = |mm: f64| Mm((2.0 * mm).round() / 2.0);
    let taken = |name: &str| shown.outfit.pads.iter().any(|worn| worn.pad.name == name);
    let name = (1..)
        .map(|i| format!("roll {i}"))
        .find(|name| !taken(name))
        .unwrap_or_default();
    Pad {
        name,
        projection: rule(0.05 * of(Measure::WaistGirth)),
        below_waist: rule(0.4 * of(Measure::WaistToHip)),
        share: 0.5,
        middle: PadMiddle::Back,
    }
}

fn one(
    ui: &mut Ui,
    shown: Shown<'_>,
    (place, worn): (usize, &WornPad),
    unit: LengthUnit,
    left_out: &mut BTreeSet<String>,
    commands: &mut Vec<Command>,
) {
    let pad = &worn.pad;
    let put = |commands: &mut Vec<Command>, changed: WornPad| {
        let mut next: Outfit = shown.outfit.clone();
        if let Some(slot) = next.pads.get_mut(place) {
            *slot = changed;
        }
        commands.push(Command::Edit(Edit::PutOutfit(next)));
    };
    let with = |pad: Pad| WornPad {
        pad,
        over: worn.over.clone(),
    };
    ui.horizontal(|ui| {
        tick(ui, &pad.name, left_out);
        if let Some(name) = name_field(ui, "Name of the pad", &pad.name) {
            put(
                commands,
                with(Pad {
                    name,
                    ..pad.clone()
                }),
            );
        }
        if named(ui, "Off", &format!("Take {} off", pad.name), true) {
            let mut next = shown.outfit.clone();
            next.pads.remove(place);
            commands.push(Command::Edit(Edit::PutOutfit(next)));
        }
    });
    ui.horizontal_wrapped(|ui| {
        ui.label("Stands off");
        let name = format!("{} stands off", pad.name);
        length(ui, &name, pad.projection, unit, commands, |mm, commands| {
            put(
                commands,
                with(Pad {
                    projection: mm,
                    ..pad.clone()
                }),
            );
        });
        ui.label("below the waist");
        let name = format!("{} below the waist", pad.name);
        length(
            ui,
            &name,
            pad.below_waist,
            unit,
            commands,
            |mm, commands| {
                put(
                    commands,
                    with(Pad {
                        below_waist: mm,
                        ..pad.clone()
                    }),
                );
            },
        );
    });
    ui.horizontal_wrapped(|ui| {
        ui.label("Share of the girth");
        let name = format!("{} share", pad.name);
        if let Asked::Done(share) = share_field(ui, &name, Some(pad.share)) {
            put(
                commands,
                with(Pad {
                    share,
                    ..pad.clone()
                }),
            );
        }
    });
    ui.horizontal_wrapped(|ui| {
        ui.label("Middle at");
        let middles = [PadMiddle::Back, PadMiddle::Sides, PadMiddle::Front];
        let name = format!("{} middle", pad.name);
        if let Some(middle) = one_of(ui, &name, pad.middle, &middles, PadMiddle::label) {
            put(
                commands,
                with(Pad {
                    middle,
                    ..pad.clone()
                }),
            );
        }
    });
    over(ui, shown, worn, |over| {
        put(
            commands,
            WornPad {
                pad: pad.clone(),
                over,
            },
        );
    });
    faded(ui, figures(shown, pad, unit));
}

fn length(
    ui: &mut Ui,
    name: &str,
    value: Mm,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
    done: impl FnOnce(Mm, &mut Vec<Command>),
) {
    match length_field(ui, name, Some(value), "", unit, 62.0).typed {
        Typed::Length(mm) => done(mm, commands),
        Typed::Trouble(trouble) => commands.push(Command::Say(format!("{name}: {trouble}"))),
        Typed::Cleared | Typed::Nothing => {}
    }
}

/// Which layer the pad lies on.
fn over(ui: &mut Ui, shown: Shown<'_>, worn: &WornPad, put: impl FnOnce(Option<String>)) {
    ui.horizontal_wrapped(|ui| {
        ui.label("Worn over");
        let choices: Vec<Option<String>> = std::iter::once(None)
            .chain(shown.outfit.layers.iter().cloned().map(Some))
            .collect();
        let name = format!("{} worn over", worn.pad.name);
        let words = |over: &Option<String>| over.clone().unwrap_or_else(|| "the body".to_owned());
        if let Some(over) = pick(ui, "over", &name, &worn.over, &choices, words) {
            put(over);
        }
    });
}

/// What it does and how it is made, in one paragraph.
fn figures(shown: Shown<'_>, pad: &Pad, unit: LengthUnit) -> String {
    let Some(fitting) = shown.session.fitting() else {
        return String::new();
    };
    let body = &fitting.body;
    let hip = body.mm(Measure::HipGirth);
    let more = girth_over(std::slice::from_ref(pad), hip, body.mm(Measure::WaistToHip)) - hip;
    let cloth = fitting.cloths.get(&Role::Shell);
    let cloth = cloth.map_or(Mm(0.3), |cloth| cloth.thickness);
    let made = pad.pattern(hip, cloth, &shown.session.shown().machine);
    let round = match pad.middle {
        PadMiddle::Back => 1.0,
        PadMiddle::Sides => 0.5,
        PadMiddle::Front => 0.0,
    };
    let shape = match (made.shape, made.count) {
        (PadShape::Ring, _) => "A closed roll".to_owned(),
        (PadShape::Crescent, 1) => "A roll with tapered ends".to_owned(),
        (PadShape::Crescent, many) => format!("{many} rolls with tapered ends"),
    };
    format!(
        "Hip {} wider, skirt {} longer at the {}. {shape}, {} long, cut {} wide: {:.1} ml of stuffing, {} of seam. Quilted by machine up to {} of loft (common practice, no source).",
        unit.show(more),
        unit.show(pad.longer_at(round)),
        pad.middle.label(),
        unit.show(made.length),
        unit.show(made.width),
        made.volume_ml,
        unit.show(made.seam),
        unit.show(made.quiltable),
    )
}

/// How much longer the way down becomes round the waist, and the step that levels the skirt.
fn levelled(
    ui: &mut Ui,
    shown: Shown<'_>,
    level: &Levelled,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    let most = level.most.1;
    let said = format!(
        "Way down over the pads: {} longer at most; the waist edge is raised by {}",
        unit.show(most),
        unit.show(level.raised)
    );
    ui.label(&said);
    profile(ui, level, &said);
    let is_level = (most - level.raised).0.abs() <= 0.5;
    let button = ui
        .add_enabled(
            !is_level,
            egui::Button::new("Raise the waist edge").min_size(egui::vec2(120.0, 32.0)),
        )
        .on_hover_text("The hem stays straight on grain; a step of hand work on this fitting");
    if let Some(fitting) = shown.session.fitting().filter(|_| button.clicked()) {
        commands.push(Command::Edit(level.edit(fitting)));
    }
}

/// From the centre front on the left to the centre back on the right.
fn profile(ui: &mut Ui, level: &Levelled, said: &str) {
    let width = ui.available_width().min(360.0);
    let (response, painter) = ui.allocate_painter(egui::vec2(width, 64.0), egui::Sense::hover());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, said));
    let palette = Palette::showing(ui);
    let rect = response.rect.shrink2(egui::vec2(4.0, 14.0));
    let most = level.most.1.0.max(1e-6) as f32;
    let points: Vec<egui::Pos2> = level
        .profile
        .iter()
        .map(|(round, longer)| {
            egui::pos2(
                rect.left() + *round as f32 * rect.width(),
                rect.bottom() - longer.0 as f32 / most * rect.height(),
            )
        })
        .collect();
    let base = egui::Stroke::new(1.0, palette.chalk);
    painter.hline(rect.x_range(), rect.bottom(), base);
    painter.line(points, egui::Stroke::new(2.0, palette.stitch));
    let font = egui::TextStyle::Small.resolve(ui.style());
    let colour = ui.visuals().weak_text_color();
    let below = rect.bottom() + 1.0;
    for (x, align, words) in [
        (rect.left(), egui::Align2::LEFT_TOP, "centre front"),
        (rect.center().x, egui::Align2::CENTER_TOP, "side"),
        (rect.right(), egui::Align2::RIGHT_TOP, "centre back"),
    ] {
        painter.text(egui::pos2(x, below), align, words, font.clone(), colour);
    }
}
