//! Stacks of cloth: what can be sewn, turned and reached.

mod machine;
mod section;

use egui::{Align, Layout, RichText, ScrollArea, Ui};
use petitoile_core::bulk::{Bulk, Curve, Judged, Moment, Turned, iso_class, thick, why};
use petitoile_core::finding::Place;
use petitoile_core::making_order::By;
use petitoile_core::{LengthUnit, Mm};

use crate::command::Command;
use crate::session::Session;
use crate::theme::Palette;
use crate::trays::{faded, heading};
use crate::wording;

/// As many stacks are shown at first; so many curves at all.
const FIRST: usize = 10;
/// See [`FIRST`].
const CURVES: usize = 6;

/// Stacks of cloth: what can be sewn, turned and reached.
#[derive(Default)]
pub struct BulkLeaf {
    /// The stack that is unfolded: its name and what it meets.
    open: Option<(String, Vec<String>)>,
    /// Are all of them shown?
    all: bool,
}

impl BulkLeaf {
    /// Shows the leaf.
    pub fn ui(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        let unit = session.shown().unit;
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            heading(ui, "Your machine");
            machine::limits(ui, &session.shown().machine, unit, commands);
            let Some(worked) = session.work.done.as_ref() else {
                return;
            };
            let bulk = &worked.beyond.bulk;
            heading(ui, "Stacks, thickest first");
            unknown(ui, bulk);
            self.stacks(ui, bulk, session.shown().machine.thickest, unit, commands);
            turned(ui, &bulk.turned, unit, commands);
            curves(ui, &bulk.curves, unit, commands);
            ui.add_space(12.0);
        });
    }

    fn stacks(
        &mut self,
        ui: &mut Ui,
        bulk: &Bulk,
        limit: Mm,
        unit: LengthUnit,
        commands: &mut Vec<Command>,
    ) {
        if bulk.stacks.is_empty() {
            faded(ui, "Nothing is sewn yet.");
            return;
        }
        let palette = Palette::showing(ui);
        let small = |words: String| RichText::new(words).small().weak();
        let limit = format!("of {}", thick(limit, unit));
        cells(
            ui,
            [
                small("place".to_owned()),
                small("layers".to_owned()),
                small(limit),
            ],
        );
        // Numbered, because a seam may meet the same one at both its ends.
        for (i, judged) in bulk.stacks.iter().enumerate() {
            let is_first = i < FIRST || judged.is_over();
            if is_first || self.all {
                ui.push_id(i, |ui| self.row(ui, judged, unit, palette, commands));
            }
        }
        let more = bulk.stacks.len().saturating_sub(FIRST);
        if more > 0 {
            let words = if self.all {
                "Show the thickest only".to_owned()
            } else {
                format!("Show all {}", bulk.stacks.len())
            };
            if ui.button(words).clicked() {
                self.all = !self.all;
            }
        }
    }

    fn row(
        &mut self,
        ui: &mut Ui,
        judged: &Judged,
        unit: LengthUnit,
        palette: &Palette,
        commands: &mut Vec<Command>,
    ) {
        let stack = &judged.stack;
        let key = (stack.name.clone(), stack.meets.clone());
        let is_open = self.open.as_ref() == Some(&key);
        let (layers, high) = stack
            .sewn()
            .or_else(|| stack.lying())
            .map_or((0, Mm(0.0)), |heap| (heap.count, heap.thickness));
        let colour = if judged.is_over() {
            palette.care
        } else {
            palette.ink
        };
        let name = RichText::new(name(judged)).color(colour);
        let rect = cells(
            ui,
            [
                if is_open { name.strong() } else { name },
                RichText::new(layers.to_string()),
                RichText::new(thick(high, unit)).color(colour),
            ],
        );
        let row = ui.interact(rect, ui.scope_id().with("stack"), egui::Sense::click());
        row.widget_info(|| {
            let over = if judged.is_over() { ", too much" } else { "" };
            egui::WidgetInfo::selected(
                egui::Role::Button,
                true,
                is_open,
                format!("Stack {}{over}", name_words(judged)),
            )
        });
        if row.hovered() || row.has_focus() {
            let edge = ui.visuals().widgets.hovered.bg_stroke;
            ui.painter()
                .rect_stroke(rect, 3.0, edge, egui::StrokeKind::Outside);
        }
        if row.clicked() {
            self.open = if is_open { None } else { Some(key) };
        }
        if is_open {
            egui::Frame::NONE
                .fill(ui.visuals().faint_bg_color)
                .inner_margin(8)
                .corner_radius(4)
                .show(ui, |ui| details(ui, judged, unit, commands));
        }
    }
}

/// Name of the seam and what it meets, short.
fn name(judged: &Judged) -> String {
    let stack = &judged.stack;
    if stack.meets.is_empty() {
        stack.name.clone()
    } else {
        format!("{} \u{d7} {}", stack.name, stack.meets.join(", "))
    }
}

/// The same in words.
fn name_words(judged: &Judged) -> String {
    let meets = judged.stack.where_words();
    if meets.is_empty() {
        judged.stack.name.clone()
    } else {
        format!("{}, {meets}", judged.stack.name)
    }
}

fn show_me(ui: &mut Ui, place: &Place, of: &str, commands: &mut Vec<Command>) {
    let show = ui
        .button("Show me")
        .accessible_name(format!("Show me the stack: {of}"));
    if show.clicked() {
        commands.push(Command::ShowPlace(place.clone()));
    }
}

/// Pictures of the moments, what it rests on, what helps.
fn details(ui: &mut Ui, judged: &Judged, unit: LengthUnit, commands: &mut Vec<Command>) {
    let stack = &judged.stack;
    ui.horizontal_wrapped(|ui| {
        show_me(ui, &stack.place, &name_words(judged), commands);
        let class = iso_class(stack.work).map_or(String::new(), |(number, name)| {
            format!(", ISO 4916 class {number} ({name})")
        });
        ui.label(format!("{}{class}", wording::sentence(&stack.work.words())));
    });
    for heap in &stack.heaps {
        // A seam that lies as it is sewn is shown once.
        let is_again = heap.moment == Moment::Lying
            && stack
                .heaps
                .iter()
                .any(|h| h.moment.is_sewn() && h.layers == heap.layers);
        if is_again {
            continue;
        }
        section::picture(ui, heap, unit);
        faded(
            ui,
            format!(
                "{}: {} {}, {}. {}.",
                wording::sentence(heap.moment.words()),
                heap.count,
                if heap.count == 1 { "layer" } else { "layers" },
                thick(heap.thickness, unit),
                wording::sentence(why(stack.work, heap.moment))
            ),
        );
    }
    let mut more = Vec::new();
    if (stack.mean - stack.mean.round()).abs() > 0.05 {
        more.push(format!("{:.1} layers in the mean", stack.mean));
    }
    if stack.step.0 > 0.0 {
        more.push(format!(
            "the foot climbs {} at once",
            thick(stack.step, unit)
        ));
    }
    if let Some(turn) = stack.turn_of_cloth {
        more.push(format!("the fold takes {} of cloth", thick(turn, unit)));
    }
    if judged.by == By::Hand {
        let reason = judged.by_why.as_deref().unwrap_or("chosen");
        more.push(format!("sewn by hand: {reason}"));
    }
    if !more.is_empty() {
        faded(ui, format!("{}.", wording::sentence(&more.join("; "))));
    }
    for remedy in &judged.remedies {
        match &remedy.edit {
            Some(edit) => {
                let button = egui::Button::new(&remedy.words).wrap();
                if ui.add(button).clicked() {
                    commands.push(Command::Edit(edit.clone()));
                }
            }
            None => {
                ui.label(&remedy.words);
            }
        }
    }
}

fn unknown(ui: &mut Ui, bulk: &Bulk) {
    for role in &bulk.unknown {
        let layer = wording::role(*role);
        ui.label(format!(
            "Nobody gave the thickness of the {layer}: choose its cloth on the Ease leaf."
        ));
    }
}

/// Place, layers and thickness side by side.
fn cells(ui: &mut Ui, texts: [RichText; 3]) -> egui::Rect {
    let all = ui.available_width() - 8.0;
    let widths = [0.62, 0.14, 0.24].map(|share| share * all);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for (i, (width, text)) in widths.iter().zip(texts).enumerate() {
            let layout = if i == 0 {
                Layout::left_to_right(Align::Center)
            } else {
                Layout::right_to_left(Align::Center)
            };
            ui.allocate_ui_with_layout(egui::vec2(*width, 24.0), layout, |ui| {
                ui.set_min_width(*width);
                ui.add(egui::Label::new(text).truncate().selectable(false));
            });
        }
    })
    .response
    .rect
}

fn turned(ui: &mut Ui, all: &[Turned], unit: LengthUnit, commands: &mut Vec<Command>) {
    if all.is_empty() {
        return;
    }
    heading(ui, "To be turned");
    let palette = Palette::showing(ui);
    for (i, one) in all.iter().enumerate() {
        ui.push_id(("turned", i), |ui| {
            ui.horizontal_wrapped(|ui| {
                let show = ui
                    .button("Show me")
                    .accessible_name(format!("Show me what is turned: {}", one.name));
                if show.clicked() {
                    commands.push(Command::ShowPlace(one.place.clone()));
                }
                let cannot = one.too_narrow.0 > 0.0;
                let colour = if cannot { palette.care } else { palette.ink };
                let cord = if one.wants_cord() {
                    "; pull it through with a cord sewn to its end"
                } else {
                    ""
                };
                ui.label(
                    RichText::new(format!(
                        "{}, {}: {} wide, needs {}{}",
                        wording::sentence(&one.name),
                        one.way.words(),
                        unit.show(one.flat),
                        unit.show(one.needed()),
                        if cannot { ": cannot be turned" } else { cord },
                    ))
                    .color(colour),
                );
            });
        });
    }
    faded(
        ui,
        "Laid flat it must hold its allowances side by side, and its seam (own rule, geometry).",
    );
}

fn curves(ui: &mut Ui, all: &[Curve], unit: LengthUnit, commands: &mut Vec<Command>) {
    if all.is_empty() {
        return;
    }
    heading(ui, "Tightest curves");
    let palette = Palette::showing(ui);
    for (i, curve) in all.iter().take(CURVES).enumerate() {
        ui.push_id(("curve", i), |ui| {
            ui.horizontal_wrapped(|ui| {
                let show = ui
                    .button("Show me")
                    .accessible_name(format!("Show me the curve: {}", curve.edge));
                if show.clicked() {
                    commands.push(Command::ShowPlace(curve.place.clone()));
                }
                let trouble = if curve.no_room {
                    ": no room to turn it"
                } else if curve.too_tight.0 > 0.0 {
                    ": by hand"
                } else {
                    ""
                };
                let colour = if trouble.is_empty() {
                    palette.ink
                } else {
                    palette.care
                };
                ui.label(
                    RichText::new(format!(
                        "{}: radius {}, allowance {}{trouble}",
                        wording::sentence(&curve.edge.to_string()),
                        unit.show(curve.radius),
                        unit.show_chosen(curve.allowance),
                    ))
                    .color(colour),
                );
            });
        });
    }
}
