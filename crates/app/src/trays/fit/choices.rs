//! How pieces keep their shape, what details follow, which cloth, and what is worn underneath.

use std::collections::{BTreeMap, BTreeSet};

use egui::Ui;
use petitoile_core::cloth::Cloth;
use petitoile_core::edit::FittingEdit;
use petitoile_core::fitting::{DetailRule, Fitting, Shaping};
use petitoile_core::piece::{Piece, Placement, Role};
use petitoile_core::{LengthUnit, Mm};

use crate::command::Command;
use crate::fields::{Asked, Typed, length_field, one_of, pick};
use crate::session::Session;
use crate::trays::faded;
use crate::wording;

/// Half-typed names of cloths.
pub type Names = BTreeMap<Role, String>;

/// Details for all, then for each piece what it may choose.
pub fn shape(ui: &mut Ui, session: &Session, fitting: &Fitting, commands: &mut Vec<Command>) {
    ui.horizontal_wrapped(|ui| {
        ui.label("Details follow");
        let rules = [DetailRule::Height, DetailRule::Girth];
        if let Some(rule) = one_of(
            ui,
            "Details follow",
            fitting.details,
            &rules,
            wording::detail_rule,
        ) {
            Asked::Done(rule).push(&fitting.name, commands, FittingEdit::SetDetails);
        }
    });
    let Some(garment) = session.garment() else {
        return;
    };
    let chosen = session.chosen.piece.as_deref();
    egui::Grid::new("shapes").num_columns(2).show(ui, |ui| {
        for piece in &garment.pieces {
            let words = egui::RichText::new(&piece.name);
            ui.label(if chosen == Some(piece.name.as_str()) {
                words.strong()
            } else {
                words
            });
            piece_choice(ui, piece, fitting, commands);
            ui.end_row();
        }
    });
}

fn piece_choice(ui: &mut Ui, piece: &Piece, fitting: &Fitting, commands: &mut Vec<Command>) {
    match piece.placement {
        Placement::Framed(_) => {
            let now = fitting.shaping.get(&piece.name).copied();
            let choices = [
                None,
                Some(Shaping::FollowBody),
                Some(Shaping::KeepDirections),
            ];
            let name = format!("Shape of {}", piece.name);
            if let Some(how) = pick(ui, "shape", &name, &now, &choices, |how| {
                wording::shaping(*how).to_owned()
            }) {
                Asked::Done(how).push(&fitting.name, commands, |how| {
                    FittingEdit::SetShaping(piece.name.clone(), how)
                });
            }
        }
        Placement::Follows(_) => {
            let now = fitting.detail_of.get(&piece.name).copied();
            let choices = [None, Some(DetailRule::Height), Some(DetailRule::Girth)];
            let name = format!("Detail {}", piece.name);
            let words = |rule: &Option<DetailRule>| {
                rule.map_or("as all details".to_owned(), |r| {
                    format!("follows {}", wording::detail_rule(r))
                })
            };
            if let Some(rule) = pick(ui, "detail", &name, &now, &choices, words) {
                Asked::Done(rule).push(&fitting.name, commands, |rule| {
                    FittingEdit::SetDetailOf(piece.name.clone(), rule)
                });
            }
        }
    }
}

/// Thickness of each layer of the garment, of what is worn underneath, and shoes.
pub fn cloth(
    ui: &mut Ui,
    session: &Session,
    fitting: &Fitting,
    unit: LengthUnit,
    names: &mut Names,
    commands: &mut Vec<Command>,
) {
    let Some(garment) = session.garment() else {
        return;
    };
    let roles: BTreeSet<Role> = garment
        .pieces
        .iter()
        .flat_map(|p| p.copies.iter().map(|c| c.role))
        .collect();
    faded(
        ui,
        "Cloth does not get thinner with the doll: its thickness counts in every girth.",
    );
    egui::Grid::new("cloths").num_columns(3).show(ui, |ui| {
        for role in roles {
            let now = fitting
                .cloths
                .get(&role)
                .or_else(|| garment.cloths.get(&role));
            cloth_row(ui, role, now, fitting, unit, names, commands);
            ui.end_row();
        }
    });
    match &fitting.as_worn {
        Some(worn) => {
            ui.label(format!("Worn underneath: as in {}", worn.outfit))
                .on_hover_text("Girth by girth; the Layers leaf shows it");
        }
        None => underneath(ui, fitting, unit, commands),
    }
    let mut shoes = fitting.with_shoes;
    if ui.checkbox(&mut shoes, "Wears shoes").changed() {
        Asked::Done(shoes).push(&fitting.name, commands, FittingEdit::SetShoes);
    }
}

fn cloth_row(
    ui: &mut Ui,
    role: Role,
    now: Option<&Cloth>,
    fitting: &Fitting,
    unit: LengthUnit,
    names: &mut Names,
    commands: &mut Vec<Command>,
) {
    let layer = wording::role(role);
    ui.label(layer);
    let shown = now.map(|c| c.name.clone()).unwrap_or_default();
    let text = names.entry(role).or_insert_with(|| shown.clone());
    let field = egui::TextEdit::singleline(text)
        .hint_text("cloth")
        .desired_width(130.0)
        .min_size(egui::vec2(130.0, 0.0));
    let response = ui
        .add(field)
        .accessible_name(format!("Cloth of the {layer}"));
    let source = "own measure".to_owned();
    if response.lost_focus() && *text != shown {
        let cloth = Cloth {
            name: text.trim().to_owned(),
            thickness: now.map_or(Mm(0.0), |c| c.thickness),
            source: now.map_or(source.clone(), |c| c.source.clone()),
        };
        Asked::Done(cloth).push(&fitting.name, commands, |cloth| {
            FittingEdit::SetCloth(role, Some(cloth))
        });
    }
    if !response.has_focus() && !response.lost_focus() {
        text.clone_from(&shown);
    }
    let thick = length_field(
        ui,
        &format!("Thickness of the {layer}"),
        now.map(|c| c.thickness),
        "thickness",
        unit,
        74.0,
    );
    match thick.typed {
        Typed::Length(thickness) => {
            let name = if shown.is_empty() {
                layer.to_owned()
            } else {
                shown
            };
            Asked::Done(Cloth {
                name,
                thickness,
                source,
            })
            .push(&fitting.name, commands, |c| {
                FittingEdit::SetCloth(role, Some(c))
            });
        }
        Typed::Cleared => Asked::Done(()).push(&fitting.name, commands, |()| {
            FittingEdit::SetCloth(role, None)
        }),
        Typed::Trouble(trouble) => {
            commands.push(Command::Say(format!("Thickness of the {layer}: {trouble}")))
        }
        Typed::Nothing => {}
    }
}

/// Layers worn underneath, innermost first.
fn underneath(ui: &mut Ui, fitting: &Fitting, unit: LengthUnit, commands: &mut Vec<Command>) {
    let layers = &fitting.worn_underneath;
    let set = |commands: &mut Vec<Command>, next: Vec<Mm>| {
        Asked::Done(next).push(&fitting.name, commands, FittingEdit::SetWornUnderneath)
    };
    ui.horizontal_wrapped(|ui| {
        ui.label("Worn underneath");
        for (i, layer) in layers.iter().enumerate() {
            let field = length_field(
                ui,
                &format!("Layer {} underneath", i + 1),
                Some(*layer),
                "",
                unit,
                62.0,
            );
            match field.typed {
                Typed::Length(mm) => set(
                    commands,
                    layers
                        .iter()
                        .enumerate()
                        .map(|(k, l)| if k == i { mm } else { *l })
                        .collect(),
                ),
                Typed::Cleared => set(
                    commands,
                    layers
                        .iter()
                        .enumerate()
                        .filter(|(k, _)| *k != i)
                        .map(|(_, l)| *l)
                        .collect(),
                ),
                Typed::Trouble(trouble) => {
                    commands.push(Command::Say(format!("Layer {}: {trouble}", i + 1)))
                }
                Typed::Nothing => {}
            }
        }
        if ui
            .button("Add a layer")
            .on_hover_text("0.3 mm thick at first; empty its field to take it out")
            .clicked()
        {
            set(commands, layers.iter().copied().chain([Mm(0.3)]).collect());
        }
    });
}
