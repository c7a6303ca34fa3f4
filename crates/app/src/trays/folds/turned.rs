//! One kind turned into another that cannot take the same cloth: both lengths beside each other, and why.

use egui::{RichText, Ui};
use petitoile_core::fullness::{FullnessOp, Kind};
use petitoile_core::{LengthUnit, Mm};

use crate::theme::Palette;
use crate::wording;

/// Cloth lengths that differ by less are the same, mm.
const SAME: f64 = 0.05;

/// A kind that was turned into another.
#[derive(Debug, Clone, PartialEq)]
pub struct Turned {
    /// What it became.
    pub op: FullnessOp,
    before: (Kind, Mm),
    now: (Kind, Mm),
    /// Why not for the same cloth; empty where that is not known.
    why: String,
}

impl Turned {
    /// What was turned, on a stretch of this finished length; `None` where the cloth stays the same.
    pub fn new(before: &FullnessOp, finished: Mm, op: &FullnessOp, why: String) -> Option<Self> {
        let cloth = |op: &FullnessOp| (op.fullness.kind(), op.fullness.cloth_length(finished));
        let (old, new) = (cloth(before), cloth(op));
        ((old.1.0 - new.1.0).abs() > SAME).then(|| Self {
            op: op.clone(),
            before: old,
            now: new,
            why,
        })
    }

    /// Both lengths, and why.
    pub fn ui(&self, ui: &mut Ui, unit: LengthUnit) {
        let told = |(kind, cloth): (Kind, Mm)| {
            format!("{} of cloth as {}", unit.show_computed(cloth), kind.words())
        };
        let words = format!(
            "Before {}, now {}. {}",
            told(self.before),
            told(self.now),
            wording::sentence(&self.why)
        );
        let palette = Palette::showing(ui);
        ui.label(RichText::new(words.trim()).color(palette.care));
    }
}
