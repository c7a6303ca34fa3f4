//! The chosen offcut: name, cloth, grain, sides, margin, holes and blemishes, corners.

use std::sync::Arc;

use egui::{Grid, Ui};
use kurbo::Point;
use petitoile_core::cloth::{GoodFor, Offcut};
use petitoile_core::edit::Edit;
use petitoile_core::piece::Face;
use petitoile_core::{Degrees, LengthUnit, Mm};

use super::pen::{self, Pen};
use super::table::with_corner;
use crate::command::Command;
use crate::fields::{
    Asked, Typed, angle_field, difference_field, length_field, name_field, one_of,
};
use crate::lay_work::cloth_names;
use crate::session::Session;
use crate::trays::{faded, heading};
use crate::wording;

/// What is half chosen here.
#[derive(Default)]
pub struct Half {
    /// What the next blemish is good for.
    good_for: GoodFor,
}

/// What the form asks of the tray.
pub enum Wants {
    /// Nothing.
    Nothing,
    /// A pen in the hand.
    Draw(Pen),
    /// The offcut has another name now.
    Renamed(String),
}

/// Which side is up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Up {
    Right,
    Wrong,
    Alike,
}

impl Up {
    fn of(offcut: &Offcut) -> Self {
        match (offcut.sides_alike, offcut.face) {
            (true, _) => Self::Alike,
            (false, Face::Right) => Self::Right,
            (false, Face::Wrong) => Self::Wrong,
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Right => "Right side up",
            Self::Wrong => "Wrong side up",
            Self::Alike => "Both alike",
        }
    }
}

/// Shows the form.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    offcut: &Offcut,
    half: &mut Half,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) -> Wants {
    let mut wants = Wants::Nothing;
    heading(ui, &offcut.name);
    let change = |next: Offcut| pen::put(next);
    Grid::new("offcut").num_columns(2).show(ui, |ui| {
        ui.label("Name");
        if let Some(name) = name_field(ui, "Name of the offcut", &offcut.name) {
            let name = name.trim().to_owned();
            commands.push(Command::Edit(Edit::RenameOffcut {
                offcut: offcut.name.clone(),
                name: name.clone(),
            }));
            if !name.is_empty() && session.shown().offcut(&name).is_none() {
                wants = Wants::Renamed(name);
            }
        }
        ui.end_row();
        ui.label("Cloth");
        if let Some(cloth) = cloth_pick(ui, "Cloth of the offcut", &offcut.cloth, session) {
            commands.push(change(Offcut {
                cloth,
                ..offcut.clone()
            }));
        }
        ui.end_row();
        ui.label("Grain");
        grain(ui, offcut, commands);
        ui.end_row();
        let margin = length_row(ui, "Margin", Some(offcut.margin), unit, commands);
        if let Some(margin) = margin {
            commands.push(change(Offcut {
                margin: margin.unwrap_or(Mm(0.0)),
                ..offcut.clone()
            }));
        }
        let thickness = length_row(ui, "Thickness", offcut.thickness, unit, commands);
        if let Some(thickness) = thickness {
            commands.push(change(Offcut {
                thickness,
                ..offcut.clone()
            }));
        }
    });
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let all = [Up::Right, Up::Wrong, Up::Alike];
        if let Some(up) = one_of(ui, "Side", Up::of(offcut), &all, Up::words) {
            let face = if up == Up::Wrong {
                Face::Wrong
            } else {
                Face::Right
            };
            commands.push(change(Offcut {
                sides_alike: up == Up::Alike,
                face,
                ..offcut.clone()
            }));
        }
    });
    let mut nap = offcut.nap;
    let tip = "Pile, print or sheen: all pieces point the way of the arrow";
    if ui
        .checkbox(&mut nap, "Nap or one-way print")
        .on_hover_text(tip)
        .changed()
    {
        commands.push(change(Offcut {
            nap,
            ..offcut.clone()
        }));
    }
    if let Some(pen) = blemishes(ui, offcut, half, commands) {
        wants = Wants::Draw(pen);
    }
    corners(ui, offcut, unit, commands);
    ui.horizontal_wrapped(|ui| {
        let tip = "A thread pulled out shows the grain where there is no selvedge";
        if ui
            .button("Draw a pulled thread")
            .on_hover_text(tip)
            .clicked()
        {
            wants = Wants::Draw(Pen::Thread(offcut.name.clone()));
        }
        if ui
            .button("Take it off the table")
            .on_hover_text("With what lies on it; refused while something on it is cut")
            .clicked()
        {
            commands.push(Command::Edit(Edit::RemoveOffcut(offcut.name.clone())));
        }
    });
    wants
}

/// A length of the offcut; what was typed, `Some(None)` when it was cleared.
fn length_row(
    ui: &mut Ui,
    what: &str,
    now: Option<Mm>,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) -> Option<Option<Mm>> {
    ui.label(what);
    let field = length_field(ui, &format!("{what} of the offcut"), now, "", unit, 76.0);
    ui.end_row();
    match field.typed {
        Typed::Length(length) => Some(Some(length)),
        Typed::Cleared => Some(None),
        Typed::Trouble(why) => {
            commands.push(Command::Say(format!("{what}: {why}")));
            None
        }
        Typed::Nothing => None,
    }
}

/// Direction of the warp, and its doubt.
fn grain(ui: &mut Ui, offcut: &Offcut, commands: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        let tip = "Against upright, to the left";
        ui.label("").on_hover_text(tip);
        ui.spacing_mut().item_spacing.x = 5.0;
        if let Asked::Done(angle) = angle_field(ui, "Grain of the offcut", Some(offcut.grain.0)) {
            commands.push(pen::put(Offcut {
                grain: Degrees(angle),
                ..offcut.clone()
            }));
        }
        ui.label("\u{b1}")
            .on_hover_text("How far the warp may run off that");
        let doubt = angle_field(ui, "Doubt of the grain", Some(offcut.grain_doubt.0));
        if let Asked::Done(angle) = doubt {
            commands.push(pen::put(Offcut {
                grain_doubt: Degrees(angle.abs()),
                ..offcut.clone()
            }));
        }
    });
}

/// One of the cloths there are, or a new name typed.
pub fn cloth_pick(ui: &mut Ui, name: &str, now: &str, session: &Session) -> Option<String> {
    let mut all = cloth_names(session.shown());
    if !all.iter().any(|one| one == now) {
        all.push(now.to_owned());
    }
    let mut asked = None;
    ui.horizontal(|ui| {
        if all.len() > 1 {
            asked = crate::fields::pick(ui, name, name, &now.to_owned(), &all, Clone::clone);
        }
        let typed = name_field(ui, &format!("{name}, typed"), now);
        asked = asked.take().or(typed);
    });
    asked.filter(|cloth| !cloth.trim().is_empty())
}

fn blemishes(
    ui: &mut Ui,
    offcut: &Offcut,
    half: &mut Half,
    commands: &mut Vec<Command>,
) -> Option<Pen> {
    let mut pen = None;
    ui.label("Holes, stains, worn places");
    for (i, blemish) in offcut.blemishes.iter().enumerate() {
        ui.horizontal_wrapped(|ui| {
            let number = i + 1;
            ui.label(format!("{number}"));
            let now = (!blemish.is_hole).then_some(blemish.good_for);
            let all: Vec<Option<GoodFor>> = std::iter::once(None)
                .chain([GoodFor::Inside, GoodFor::Hidden].map(Some))
                .collect();
            let words = |good_for: Option<GoodFor>| good_for.map_or("hole", GoodFor::words);
            let name = format!("Place {number}");
            if let Some(next) = one_of(ui, &name, now, &all, words) {
                let mut changed = offcut.clone();
                if let Some(place) = changed.blemishes.get_mut(i) {
                    place.is_hole = next.is_none();
                    place.good_for = next.unwrap_or(place.good_for);
                }
                commands.push(pen::put(changed));
            }
            let out = ui
                .small_button("\u{2715}")
                .accessible_name(format!("Take out place {number}"));
            if out.clicked() {
                commands.push(pen::put(offcut.without_blemish(i)));
            }
        });
    }
    ui.horizontal_wrapped(|ui| {
        if ui.button("Draw a hole").clicked() {
            pen = Some(Pen::Hole(offcut.name.clone()));
        }
        if ui.button("Draw a stain").clicked() {
            pen = Some(Pen::Blemish(offcut.name.clone(), half.good_for));
        }
        ui.label("good for");
        let all = [GoodFor::Inside, GoodFor::Hidden];
        if let Some(next) = one_of(
            ui,
            "A new stain is good for",
            half.good_for,
            &all,
            GoodFor::words,
        ) {
            half.good_for = next;
        }
    });
    pen
}

/// Every corner as two numbers.
fn corners(ui: &mut Ui, offcut: &Offcut, unit: LengthUnit, commands: &mut Vec<Command>) {
    let count = wording::count(offcut.outline.len(), "corner", "corners");
    ui.collapsing(count, |ui| {
        faded(ui, "Drag them on the table, or type where they are.");
        for (i, p) in offcut.outline.iter().enumerate() {
            ui.horizontal(|ui| {
                ui.label(format!("{}", i + 1));
                for (name, value) in [("x", p.x), ("y", p.y)] {
                    let named = format!("{name} of corner {}", i + 1);
                    let field = difference_field(ui, &named, Some(Mm(value)), "", unit, 70.0);
                    match field.typed {
                        Typed::Length(mm) => {
                            let to = if name == "x" {
                                Point::new(mm.0, p.y)
                            } else {
                                Point::new(p.x, mm.0)
                            };
                            commands.push(with_corner(offcut, i, Some(to)));
                        }
                        Typed::Trouble(why) => commands.push(Command::Say(why)),
                        Typed::Cleared | Typed::Nothing => {}
                    }
                }
                let more = ui
                    .small_button("+")
                    .accessible_name(format!("A corner after {}", i + 1))
                    .on_hover_text("One more corner after this one");
                if more.clicked() {
                    commands.push(one_more(offcut, i));
                }
                let out = ui
                    .small_button("\u{2715}")
                    .accessible_name(format!("Take out corner {}", i + 1));
                if out.clicked() {
                    commands.push(with_corner(offcut, i, None));
                }
            });
        }
    });
}

/// A corner half way to the next.
fn one_more(offcut: &Offcut, after: usize) -> Command {
    let mut next = offcut.clone();
    let here = next.outline.get(after).copied();
    let there = next
        .outline
        .get(after + 1)
        .or(next.outline.first())
        .copied();
    if let (Some(a), Some(b)) = (here, there) {
        next.outline.insert(after + 1, a.midpoint(b));
    }
    Command::Edit(Edit::PutOffcut(Arc::new(next)))
}
