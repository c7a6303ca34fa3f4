//! Which part of the edge is folded, and what is widened with it.

use egui::Ui;
use petitoile_core::fullness::FullnessOp;
use petitoile_core::{LengthUnit, Mm};

use super::place::Place;
use crate::command::Command;
use crate::fields::{Typed, length_field, pick};
use crate::trays::faded;

/// Fields for the stretch; gives the fullness with another one.
pub fn stretch(
    ui: &mut Ui,
    op: &FullnessOp,
    place: &Place<'_>,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) -> Option<FullnessOp> {
    let mut next = op.clone();
    ui.horizontal_wrapped(|ui| {
        for (name, at, is_from) in [("From", op.from, true), ("To", op.to, false)] {
            ui.label(name);
            let shown = Mm(at * place.length.0);
            let label = format!("{name} along the edge");
            match length_field(ui, &label, Some(shown), "", unit, 78.0).typed {
                Typed::Length(mm) => {
                    let share = (mm.0 / place.length.0).clamp(0.0, 1.0);
                    if is_from {
                        next.from = share;
                    } else {
                        next.to = share;
                    }
                }
                Typed::Cleared if is_from => next.from = 0.0,
                Typed::Cleared => next.to = 1.0,
                Typed::Trouble(why) => commands.push(Command::Say(format!("{label}: {why}"))),
                Typed::Nothing => {}
            }
        }
        faded(ui, format!("of {}", unit.show(place.length)));
    });
    if next.to - next.from < 1e-6 {
        commands.push(Command::Say(
            "The stretch must end after it starts; nothing was changed.".to_owned(),
        ));
        return None;
    }
    widened(ui, &mut next, place);
    (next != *op).then_some(next)
}

/// The same fullness on the longest part of the edge that has none yet; `None` where there is no such part.
pub fn another(place: &Place<'_>, op: &FullnessOp) -> Option<FullnessOp> {
    const LEAST: f64 = 0.02;
    let mut taken: Vec<(f64, f64)> = place.ops().iter().map(|(_, op)| (op.from, op.to)).collect();
    taken.push((1.0, 1.0));
    taken.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut at, mut best) = (0.0_f64, (0.0, 0.0));
    for (from, to) in taken {
        if from - at > best.1 - best.0 {
            best = (at, from);
        }
        at = at.max(to);
    }
    (best.1 - best.0 > LEAST).then(|| FullnessOp {
        from: best.0,
        to: best.1,
        ..op.clone()
    })
}

/// Even to an opposite edge, or hinged.
fn widened(ui: &mut Ui, op: &mut FullnessOp, place: &Place<'_>) {
    let mut choices: Vec<Option<String>> = vec![None];
    let others = place.piece.outline.edges().iter();
    choices.extend(
        others
            .filter(|edge| edge.name != op.edge && !edge.is_fold())
            .map(|edge| Some(edge.name.clone())),
    );
    ui.horizontal_wrapped(|ui| {
        ui.label("Spread");
        let words = |to: &Option<String>| match to {
            None => "hinged: nothing else grows".to_owned(),
            Some(edge) => format!("even: {edge} grows as much"),
        };
        if let Some(to) = pick(ui, "spread", "Spread", &op.even_to, &choices, words) {
            op.even_to = to;
        }
    });
}
