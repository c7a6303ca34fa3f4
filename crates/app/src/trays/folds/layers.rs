//! How thick the folds lie at the thickest place, in which cloth, and what the band takes: always told, also when all is
//! well.

use egui::{RichText, Ui};
use petitoile_core::fullness::{Band, FoldedEdge, WorkedIn, stack};
use petitoile_core::{LengthUnit, Mm};

use crate::theme::Palette;
use crate::trays::faded;
use crate::wording;

/// One line about the stack, one about the band where there is one, one about the cloth where none was chosen.
pub fn layers(
    ui: &mut Ui,
    folded: &FoldedEdge,
    cloth: WorkedIn<'_>,
    band: Option<Band<'_>>,
    unit: LengthUnit,
) {
    let thickness = cloth.thickness();
    let stack = stack(folded, thickness);
    let show = |mm: Mm| unit.show_decimal(mm);
    let layers = if stack.layers.fract().abs() < 1e-9 {
        format!("{:.0} layers", stack.layers)
    } else {
        format!("{:.1} layers", stack.layers)
    };
    ui.label(format!("Up to {layers}, {} thick.", show(stack.height)));
    if let Some(band) = band {
        let height = Band::height_with(&stack, thickness);
        let takes = band.takes();
        let words = format!(
            "With both sides of {} {} thick; it is {} deep and takes {}.",
            band.piece,
            show(height),
            unit.show(band.depth),
            show(takes)
        );
        if height.0 > takes.0 {
            ui.label(RichText::new(words).color(Palette::showing(ui).care));
        } else {
            ui.label(words);
        }
    }
    if cloth.cloth.is_none() {
        faded(
            ui,
            format!(
                "No cloth is chosen for the {}; {} is assumed.",
                wording::role(cloth.role),
                show(thickness)
            ),
        );
    }
}
