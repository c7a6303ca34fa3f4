//! Binding, piping, and the square of cloth that gives a length of bias strip.

use egui::Ui;
use petitoile_core::strips::{
    bias_length, bias_square, binding_width, continuous_bias, piping_width,
};
use petitoile_core::{LengthUnit, Mm};

use super::told::Told;
use crate::command::Command;
use crate::fields::{Typed, length_field};
use crate::trays::{faded, heading};

/// What is typed about bias strips.
#[derive(Debug, Clone)]
pub struct Bias {
    binding: Mm,
    double: bool,
    cord: Mm,
    piping_seam: Mm,
    length: Mm,
    strip: Mm,
    seam: Mm,
    cloth: (Mm, Mm),
}

impl Default for Bias {
    fn default() -> Self {
        Self {
            binding: Mm(4.0),
            double: false,
            cord: Mm(6.0),
            piping_seam: Mm(5.0),
            length: Mm(600.0),
            strip: Mm(16.0),
            seam: Mm(6.0),
            cloth: (Mm(300.0), Mm(200.0)),
        }
    }
}

impl Bias {
    /// Fields and what follows from them.
    pub fn ui(&mut self, ui: &mut Ui, unit: LengthUnit, commands: &mut Vec<Command>) {
        let mut told = Told::default();
        let mut fields = Fields { unit, commands };
        heading(ui, "Binding");
        fields.row(ui, "Width when sewn", &mut self.binding);
        ui.checkbox(&mut self.double, "Folded double");
        let width = binding_width(self.binding, self.double);
        told.say(
            ui,
            format!("Cut the binding {} wide.", unit.show_chosen(width)),
        );
        heading(ui, "Piping");
        fields.row(ui, "Girth of the cord", &mut self.cord);
        fields.row(ui, "Allowance of the piping", &mut self.piping_seam);
        let width = piping_width(self.cord, self.piping_seam);
        told.say(
            ui,
            format!("Cut the piping {} wide.", unit.show_chosen(width)),
        );
        heading(ui, "Bias strip");
        fields.row(ui, "Length of bias needed", &mut self.length);
        fields.row(ui, "Width of the bias strip", &mut self.strip);
        fields.row(ui, "Seam of the tube", &mut self.seam);
        self.square(ui, unit, &mut told);
        heading(ui, "Out of a piece of cloth");
        fields.row(ui, "Long side of the cloth", &mut self.cloth.0);
        fields.row(ui, "Short side of the cloth", &mut self.cloth.1);
        let sound = [self.cloth.0, self.cloth.1, self.strip]
            .iter()
            .all(|mm| mm.0 > 0.0);
        if sound {
            let length = bias_length(self.cloth.0, self.cloth.1, self.strip);
            told.say(
                ui,
                format!("It gives about {} of bias strip.", unit.show(length)),
            );
            faded(ui, "By area; joins not counted.");
        }
        told.offer(ui, "bias figures", commands);
    }

    fn square(&self, ui: &mut Ui, unit: LengthUnit, told: &mut Told) {
        if self.length.0 <= 0.0 || self.strip.0 <= 0.0 {
            faded(ui, "Type a length and a width above 0.");
            return;
        }
        let step = match unit {
            LengthUnit::Inch => Mm::from_inches(1.0),
            _ => Mm(10.0),
        };
        let square = bias_square(self.length, self.strip, step);
        let words = format!(
            "Strips cut one by one: a square of {}, cut {}.",
            unit.show(square.side),
            unit.show(square.cut_side)
        );
        told.say(ui, words);
        let tube = continuous_bias(self.length, self.strip, self.seam);
        let words = format!(
            "One strip round and round: a square of {}, {} across, gives {}.",
            unit.show(tube.side),
            crate::wording::count(tube.strips as usize, "width", "widths"),
            unit.show(tube.length)
        );
        told.say(ui, words);
    }
}

struct Fields<'a> {
    unit: LengthUnit,
    commands: &'a mut Vec<Command>,
}

impl Fields<'_> {
    fn row(&mut self, ui: &mut Ui, name: &str, value: &mut Mm) {
        ui.horizontal(|ui| {
            match length_field(ui, name, Some(*value), "", self.unit, 84.0).typed {
                Typed::Length(mm) => *value = mm,
                Typed::Trouble(why) => self.commands.push(Command::Say(format!("{name}: {why}"))),
                Typed::Nothing | Typed::Cleared => {}
            }
            ui.label(name);
        });
    }
}
