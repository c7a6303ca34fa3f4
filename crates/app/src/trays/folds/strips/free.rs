//! Places that joins keep off: what is there, where, and how far joins stay away.

use egui::Ui;
use petitoile_core::Mm;
use petitoile_core::fullness::KeepOff;

use super::form::Sizes;
use crate::fields::{Style, typed_field};
use crate::trays::faded;

/// Every place in a row, and a button for one more. Where it is counts from the right end of the finished strip.
pub fn places(ui: &mut Ui, places: &mut Vec<KeepOff>, finished: Mm, sizes: &mut Sizes<'_>) {
    let mut gone = None;
    for (i, place) in places.iter_mut().enumerate() {
        ui.horizontal_wrapped(|ui| {
            if one(ui, i + 1, place, finished, sizes) {
                gone = Some(i);
            }
        });
    }
    if let Some(i) = gone {
        places.remove(i);
    }
    if ui.button("Keep joins off a place").clicked() {
        let number = places.len() + 1;
        places.push(KeepOff {
            what: format!("place {number}"),
            at: 0.5,
            by: Mm(10.0),
        });
    }
    if !places.is_empty() {
        faded(ui, "Places count from the right end of the finished strip.");
    }
}

/// One place; true when it is let go.
fn one(
    ui: &mut Ui,
    number: usize,
    place: &mut KeepOff,
    finished: Mm,
    sizes: &mut Sizes<'_>,
) -> bool {
    let style = Style {
        width: 110.0,
        computed: false,
    };
    ui.label("Off");
    let name = format!("Free place {number}");
    let reads = |text: &str| !text.trim().is_empty();
    if let Some(text) = typed_field(ui, &name, &place.what, style, reads) {
        place.what = text.trim().to_owned();
    }
    ui.label("at");
    let long = finished.0.max(f64::MIN_POSITIVE);
    let mut at = Mm(place.at * long);
    let before = at;
    sizes.field(ui, &format!("{name}: at"), &mut at);
    if at != before {
        // A place beyond the strip is its end.
        place.at = (at.0 / long).clamp(0.0, 1.0);
    }
    ui.label("by");
    sizes.field(ui, &format!("{name}: by"), &mut place.by);
    let off = ui
        .button("Let go")
        .accessible_name(format!("Let go of free place {number}"));
    off.clicked()
}
