//! How the pages are joined: as they tell it, in rows that are typed, or dragged together on the table.

use egui::{Grid, Ui};
use petitoile_core::Mm;
use petitoile_exchange::bring_in::sheets::{PagePlaces, PlacedBy, Rows};

use super::{BringIn, Mark};
use crate::command::Command;
use crate::fields::{Style, Typed, length_field, typed_field};
use crate::session::Session;
use crate::trays::{faded, heading};

/// Rows that are half typed.
#[derive(Default)]
pub struct Half {
    columns: Option<usize>,
    overlap: Mm,
    trim: Mm,
    skip: usize,
}

impl BringIn {
    pub(super) fn pages_leaf(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        commands: &mut Vec<Command>,
    ) {
        let (Some(source), Some(worked)) = (self.source.clone(), self.worked.clone()) else {
            faded(ui, "Looking at the pages\u{2026}");
            return;
        };
        let unit = session.project().unit;
        let pages = source.drawing.sheets.len();
        ui.label(format!(
            "{pages} pages. Drag one on the table: it snaps to where its lines go on."
        ));
        if ui.button("Join them by their lines").clicked() {
            self.choose(ui.ctx(), |choices| choices.places = None);
        }
        heading(ui, "In rows");
        Grid::new("rows").num_columns(2).show(ui, |ui| {
            for (label, is_columns) in [("Pages in a row", true), ("Pages before the first", false)]
            {
                ui.label(label);
                let half = &mut self.half.pages;
                let now = if is_columns {
                    half.columns.map_or_else(String::new, |n| n.to_string())
                } else {
                    half.skip.to_string()
                };
                let style = Style {
                    width: 60.0,
                    computed: false,
                };
                let number = |text: &str| text.trim().parse::<usize>().ok();
                let reads = |text: &str| number(text).is_some();
                if let Some(number) =
                    typed_field(ui, label, &now, style, reads).and_then(|text| number(&text))
                {
                    if is_columns {
                        half.columns = Some(number.clamp(1, pages));
                    } else {
                        half.skip = number.min(pages.saturating_sub(1));
                    }
                }
                ui.end_row();
            }
            for (label, is_overlap) in [("Overlap", true), ("Blank edge", false)] {
                ui.label(label);
                let half = &mut self.half.pages;
                let length = if is_overlap {
                    &mut half.overlap
                } else {
                    &mut half.trim
                };
                match length_field(ui, label, Some(*length), "", unit, 76.0).typed {
                    Typed::Length(mm) => *length = mm,
                    Typed::Cleared => *length = Mm(0.0),
                    Typed::Trouble(why) => commands.push(Command::Say(why)),
                    Typed::Nothing => {}
                }
                ui.end_row();
            }
        });
        let half = &self.half.pages;
        let rows = half.columns.map(|columns| Rows {
            columns,
            overlap: (half.overlap.0, half.overlap.0),
            trim: half.trim.0,
            skip: half.skip,
            ..Rows::default()
        });
        let lay = ui.add_enabled(rows.is_some(), egui::Button::new("Lay them in rows"));
        if let Some(rows) = rows.filter(|_| lay.clicked()) {
            let places = PagePlaces::in_rows(&source.drawing, &rows);
            let matches = source.matches.as_ref();
            let places = matches.map_or(places.clone(), |matches| matches.refined(&places));
            self.choose(ui.ctx(), |choices| choices.places = Some(places));
        }
        heading(ui, "Pages");
        for (i, (place, sheet)) in worked
            .places
            .pages
            .iter()
            .zip(&source.drawing.sheets)
            .enumerate()
        {
            let by = match place.by {
                PlacedBy::Given => "as laid",
                PlacedBy::Lines => "by its lines",
                PlacedBy::Order => "by its order only",
                PlacedBy::Aside => "stands alone",
            };
            let off = place
                .off
                .filter(|off| *off > 0.05)
                .map_or_else(String::new, |off| {
                    format!(", lines {} apart", unit.show(Mm(off)))
                });
            let left_out = if place.used { "" } else { ", left out" };
            let words = format!("{}: {by}{off}{left_out}", sheet.name);
            let chosen = self.chosen == Some(Mark::Page(i));
            let row = ui.add(egui::Button::selectable(chosen, &words).wrap());
            row.widget_info(|| {
                egui::WidgetInfo::selected(egui::Role::ListItem, true, chosen, &words)
            });
            if row.clicked() {
                self.chosen = (!chosen).then_some(Mark::Page(i));
            }
            if chosen {
                let words = if place.used {
                    "Leave this page out"
                } else {
                    "Use this page"
                };
                if ui.button(words).clicked() {
                    let mut places = worked.places.clone();
                    if let Some(place) = places.pages.get_mut(i) {
                        place.used = !place.used;
                    }
                    self.choose(ui.ctx(), |choices| choices.places = Some(places));
                }
            }
        }
    }
}
