//! The limits of the maker's machine, typed once for a project.

use egui::Ui;
use petitoile_core::edit::Edit;
use petitoile_core::machine::Machine;
use petitoile_core::{LengthUnit, Mm};

use crate::command::Command;
use crate::fields::{Typed, length_field};
use crate::trays::faded;

/// Name of a limit, its value, and the machine with another one.
type Limit = (&'static str, Mm, fn(&Machine, Mm) -> Machine);

fn all(machine: &Machine) -> [Limit; 5] {
    [
        ("Thickest stack", machine.thickest, |m, thickest| Machine {
            thickest,
            ..m.clone()
        }),
        ("Highest step", machine.step, |m, step| Machine {
            step,
            ..m.clone()
        }),
        ("Narrowest tube, girth", machine.tube, |m, tube| Machine {
            tube,
            ..m.clone()
        }),
        ("Tightest curve, radius", machine.radius, |m, radius| {
            Machine {
                radius,
                ..m.clone()
            }
        }),
        ("Shortest seam", machine.shortest, |m, shortest| Machine {
            shortest,
            ..m.clone()
        }),
    ]
}

/// Five fields; emptied, a limit is the usual one again.
pub fn limits(ui: &mut Ui, machine: &Machine, unit: LengthUnit, commands: &mut Vec<Command>) {
    let usual = Machine::default();
    let usual = all(&usual).map(|(_, value, _)| value);
    egui::Grid::new("machine").num_columns(2).show(ui, |ui| {
        for ((name, value, with), usual) in all(machine).into_iter().zip(usual) {
            ui.label(name);
            let field = length_field(ui, name, Some(value), "", unit, 84.0);
            let set = match field.typed {
                Typed::Length(mm) => Some(mm),
                Typed::Cleared => Some(usual),
                Typed::Trouble(trouble) => {
                    commands.push(Command::Say(format!("{name}: {trouble}")));
                    None
                }
                Typed::Nothing => None,
            };
            if let Some(mm) = set {
                commands.push(Command::Edit(Edit::SetMachine(with(machine, mm))));
            }
            ui.end_row();
        }
    });
    if machine.is_usual() {
        faded(
            ui,
            "These are usual limits (common practice, no source). Type what your own machine takes.",
        );
    } else if ui.button("Usual limits").clicked() {
        commands.push(Command::Edit(Edit::SetMachine(Machine::default())));
    }
}
