//! The chosen piece: what can be done with it on the cloth, and how it is laid.

use egui::{Grid, Ui};
use petitoile_core::Degrees;
use petitoile_core::cloth::GoodFor;
use petitoile_core::edit::FittingEdit;
use petitoile_core::fitting::Fitting;
use petitoile_core::lay_plan::{LayChange, Piecing};
use petitoile_core::laying::{self, CopyToLay, PieceLaying};

use super::laid::Part;
use super::lay_leaf::edit;
use super::seen::Seen;
use super::table::Act;
use crate::command::Command;
use crate::fields::{Asked, angle_field, pick};
use crate::session::Session;
use crate::trays::{faded, heading};
use crate::wording;

/// Shows the form; gives what is to be done with the part by the table.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    fitting: &Fitting,
    seen: &Seen,
    part: Option<&Part>,
    commands: &mut Vec<Command>,
) -> Vec<Act> {
    let Some(part) = part else {
        heading(ui, "By hand");
        faded(
            ui,
            "Drag a piece onto the cloth, or choose one with Tab: arrows move it (Ctrl: until it touches), comma and full stop turn it, Enter lays it.",
        );
        return Vec::new();
    };
    heading(ui, &part.name);
    let acts = buttons(ui, part);
    let copies = &seen.cloth.to_lay.copies;
    if let Some(copy) = copies.iter().find(|copy| copy.of == part.part.of) {
        pieced(ui, fitting, seen, copy, commands);
        choices(ui, session, fitting, copy, commands);
    }
    acts
}

fn buttons(ui: &mut Ui, part: &Part) -> Vec<Act> {
    let mut acts = Vec::new();
    if part.is_cut() {
        faded(ui, "It is cut: it stays where it was cut.");
        return acts;
    }
    if part.placed.is_none() {
        faded(
            ui,
            "It waits. Drag it onto the cloth, or press Enter on it.",
        );
        return acts;
    }
    ui.horizontal_wrapped(|ui| {
        let pin = if part.is_pinned() { "Let go" } else { "Pin" };
        for (words, tip, act) in [
            (
                pin,
                "A pinned piece stays where it is when the rest is laid (P)",
                Act::Pin,
            ),
            (
                "Upside down",
                "Half a turn, where nap and piece allow it (U)",
                Act::UpsideDown,
            ),
            (
                "Turn over",
                "Left to right, where both sides are alike (F)",
                Act::Flip,
            ),
            (
                "Take off",
                "Off the cloth, to the row below (Delete)",
                Act::TakeUp,
            ),
        ] {
            if ui.button(words).on_hover_text(tip).clicked() {
                acts.push(act);
            }
        }
    });
    acts
}

/// Whole or in parts, by hand.
fn pieced(
    ui: &mut Ui,
    fitting: &Fitting,
    seen: &Seen,
    copy: &CopyToLay,
    commands: &mut Vec<Command>,
) {
    if copy.pieced.is_empty() || seen.is_searching {
        return;
    }
    let now: Option<Piecing> = seen.plan.piecing(&copy.of).cloned();
    let mut all: Vec<Option<Piecing>> = vec![None];
    all.extend(copy.pieced.iter().map(|way| Some(way.piecing.clone())));
    if !all.contains(&now) {
        all.push(now.clone());
    }
    let words = |piecing: &Option<Piecing>| match piecing {
        None => "in one".to_owned(),
        Some(piecing) => laying::words::way(copy, piecing),
    };
    ui.horizontal(|ui| {
        ui.label("Cut");
        if let Some(next) = pick(ui, "pieced", "Cut it", &now, &all, words) {
            let change = LayChange::Piece(copy.of.clone(), next);
            commands.push(edit(fitting, FittingEdit::Lay(change)));
        }
    });
}

/// How it is laid, where the maker chooses otherwise than the program.
fn choices(
    ui: &mut Ui,
    session: &Session,
    fitting: &Fitting,
    copy: &CopyToLay,
    commands: &mut Vec<Command>,
) {
    let piece = &copy.of.piece;
    let chosen = fitting.laying.pieces.get(piece).copied();
    let now = chosen.unwrap_or_default();
    let mut next = now;
    Grid::new("piece laying").num_columns(2).show(ui, |ui| {
        ui.label("Off the grain, up to");
        let tolerance = now.grain_tolerance.unwrap_or(copy.grain_tolerance);
        let field = angle_field(ui, "Off the grain, this piece", Some(tolerance.0));
        if let Asked::Done(angle) = field {
            next.grain_tolerance = Some(Degrees(angle.abs()));
        }
        ui.end_row();
        ui.label("Laid");
        let all = [None, Some(1), Some(2), Some(3), Some(4)];
        let words = |priority: &Option<u8>| match priority {
            None => format!("as usual ({})", place(copy.priority)),
            Some(priority) => place(*priority),
        };
        if let Some(priority) = pick(ui, "priority", "Laid", &now.priority, &all, words) {
            next.priority = priority;
        }
        ui.end_row();
        ui.label("Needs");
        let all = [
            None,
            Some(GoodFor::Anything),
            Some(GoodFor::Hidden),
            Some(GoodFor::Inside),
        ];
        let words = |needs: &Option<GoodFor>| match needs {
            None => format!("as usual ({})", needs_words(copy.needs)),
            Some(needs) => needs_words(*needs).to_owned(),
        };
        if let Some(needs) = pick(ui, "needs", "Needs", &now.needs, &all, words) {
            next.needs = needs;
        }
        ui.end_row();
        for (words, value, usual) in [
            (
                "Upside down",
                &mut next.upside_down,
                "where there is no nap",
            ),
            (
                "Seam on the fold",
                &mut next.seam_on_fold,
                "where it is hidden",
            ),
            ("A patch at a corner", &mut next.patch, "where it is hidden"),
            ("Joined of several", &mut next.join, "as usual"),
        ] {
            ui.label(words);
            let all = [None, Some(true), Some(false)];
            let said = |choice: &Option<bool>| match choice {
                None => usual.to_owned(),
                Some(true) => "allowed".to_owned(),
                Some(false) => "never".to_owned(),
            };
            if let Some(choice) = pick(ui, words, words, &value.clone(), &all, said) {
                *value = choice;
            }
            ui.end_row();
        }
    });
    if next != now {
        let kept = (next != PieceLaying::default()).then_some(next);
        commands.push(edit(
            fitting,
            FittingEdit::SetPieceLaying(piece.clone(), kept),
        ));
    }
    if chosen.is_some() && ui.button("Lay it as usual").clicked() {
        commands.push(edit(
            fitting,
            FittingEdit::SetPieceLaying(piece.clone(), None),
        ));
    }
    let alike = session.work.done.as_ref().map_or(0, |worked| {
        let copies = worked.beyond.cloth.to_lay.copies.iter();
        copies.filter(|other| other.of.piece == *piece).count()
    });
    if alike > 1 {
        faded(
            ui,
            format!("For all {}.", wording::count(alike, "copy", "copies")),
        );
    }
}

fn place(priority: u8) -> String {
    match priority {
        1 => "first of all".to_owned(),
        2 => "with the shell".to_owned(),
        3 => "with the inside".to_owned(),
        4 => "last".to_owned(),
        other => format!("{other}"),
    }
}

fn needs_words(needs: GoodFor) -> &'static str {
    match needs {
        GoodFor::Anything => "clean cloth",
        GoodFor::Hidden => "may lie where it is hidden",
        GoodFor::Inside => "any cloth, inside",
    }
}
