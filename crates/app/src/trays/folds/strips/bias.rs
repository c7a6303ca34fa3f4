//! Binding, piping, and the square of cloth that gives a length of bias strip.

use egui::Ui;
use petitoile_core::strips::{
    BiasCloth, BiasSquare, BiasWanted, ContinuousBias, PipingWanted, bias_length, bias_square,
    binding_width, continuous_bias, piping_width,
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
        self.binding_cut(ui, unit, &mut told);
        heading(ui, "Piping");
        fields.row(ui, "Girth of the cord", &mut self.cord);
        fields.row(ui, "Allowance of the piping", &mut self.piping_seam);
        self.piping_cut(ui, unit, &mut told);
        heading(ui, "Bias strip");
        fields.row(ui, "Length of bias needed", &mut self.length);
        fields.row(ui, "Width of the bias strip", &mut self.strip);
        fields.row(ui, "Seam of the tube", &mut self.seam);
        self.square(ui, unit, &mut told);
        self.tube(ui, unit, &mut told);
        heading(ui, "Out of a piece of cloth");
        fields.row(ui, "Long side of the cloth", &mut self.cloth.0);
        fields.row(ui, "Short side of the cloth", &mut self.cloth.1);
        self.out_of_cloth(ui, unit, &mut told);
        told.offer(ui, "bias figures", commands);
    }

    fn binding_cut(&mut self, ui: &mut Ui, unit: LengthUnit, told: &mut Told) {
        let words = |cut: &Mm| format!("Cut the binding {} wide.", unit.show_computed(*cut));
        let outcome = binding_width(self.binding, self.double);
        if let Some(near) = told.outcome(ui, "binding", outcome, words, unit) {
            self.binding = near;
        }
    }

    fn piping_cut(&mut self, ui: &mut Ui, unit: LengthUnit, told: &mut Told) {
        let words = |cut: &Mm| format!("Cut the piping {} wide.", unit.show_computed(*cut));
        let outcome = piping_width(PipingWanted {
            cord: self.cord,
            allowance: self.piping_seam,
        });
        if let Some(near) = told.outcome(ui, "piping", outcome, words, unit) {
            (self.cord, self.piping_seam) = (near.cord, near.allowance);
        }
    }

    fn wanted(&self) -> BiasWanted {
        BiasWanted {
            length: self.length,
            strip: self.strip,
            seam: self.seam,
        }
    }

    fn take(&mut self, near: BiasWanted) {
        (self.length, self.strip, self.seam) = (near.length, near.strip, near.seam);
    }

    fn square(&mut self, ui: &mut Ui, unit: LengthUnit, told: &mut Told) {
        let step = match unit {
            LengthUnit::Inch => Mm::from_inches(1.0),
            _ => Mm(10.0),
        };
        let words = |square: &BiasSquare| {
            format!(
                "Strips cut one by one: a square of {}, cut {}.",
                unit.show(square.side),
                unit.show(square.cut_side)
            )
        };
        let outcome = bias_square(self.wanted(), step);
        if let Some(near) = told.outcome(ui, "square", outcome, words, unit) {
            self.take(near);
        }
    }

    fn tube(&mut self, ui: &mut Ui, unit: LengthUnit, told: &mut Told) {
        let words = |tube: &ContinuousBias| {
            format!(
                "One strip round and round: a square of {}, {} across, gives {}.",
                unit.show_computed(tube.side),
                crate::wording::count(tube.strips as usize, "width", "widths"),
                unit.show_computed(tube.length)
            )
        };
        let outcome = continuous_bias(self.wanted());
        if let Some(near) = told.outcome(ui, "tube", outcome, words, unit) {
            self.take(near);
        }
    }

    fn out_of_cloth(&mut self, ui: &mut Ui, unit: LengthUnit, told: &mut Told) {
        let words = |gives: &Mm| format!("It gives about {} of bias strip.", unit.show(*gives));
        let outcome = bias_length(BiasCloth {
            long: self.cloth.0,
            wide: self.cloth.1,
            strip: self.strip,
        });
        if let Some(near) = told.outcome(ui, "piece of cloth", outcome, words, unit) {
            (self.cloth, self.strip) = ((near.long, near.wide), near.strip);
        }
        faded(ui, "By area; joins not counted.");
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
