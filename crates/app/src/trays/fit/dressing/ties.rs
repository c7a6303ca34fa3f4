//! Ties and wraps: those of the garment, and how long one must be to go round and be tied.

use egui::{RichText, Ui};
use petitoile_core::body::Body;
use petitoile_core::dressing::{
    Bow, Dressing, Round, Tied, band_behind, band_returned, kerchief_side, sash, usual_bow,
};
use petitoile_core::finding::Place;
use petitoile_core::{LengthUnit, Mm};

use crate::command::Command;
use crate::fields::{Typed, length_field, one_of};
use crate::theme::Palette;
use crate::trays::{faded, heading};
use crate::wording;

/// The lengths that were typed; the rest follows the body.
pub struct Ties {
    round: Round,
    girth: Option<Mm>,
    loop_: Option<Mm>,
    tail: Option<Mm>,
    width: Option<Mm>,
}

impl Default for Ties {
    fn default() -> Self {
        Self {
            round: Round::Waist,
            girth: None,
            loop_: None,
            tail: None,
            width: None,
        }
    }
}

fn round_words(round: Round) -> &'static str {
    match round {
        Round::Neck => "neck",
        Round::Waist => "waist",
        Round::Wrist => "wrist",
        Round::Head => "head",
    }
}

impl Ties {
    /// Shows ties of the garment, then the lengths for one to be made.
    pub fn ui(
        &mut self,
        ui: &mut Ui,
        body: &Body,
        dressing: &Dressing,
        unit: LengthUnit,
        commands: &mut Vec<Command>,
    ) {
        heading(ui, "Ties and wraps");
        for tied in &dressing.tied {
            of_garment(ui, tied, unit, commands);
        }
        for tie in &dressing.caught {
            ui.label(format!(
                "{} in {}, {} wide: {} long beyond the seam for a bow, {} for a knot",
                wording::sentence(&tie.name),
                tie.seam,
                unit.show(tie.width),
                unit.show(tie.bow),
                unit.show(tie.knot)
            ));
        }
        ui.horizontal_wrapped(|ui| {
            ui.label("Round the");
            if let Some(round) = one_of(ui, "Round", self.round, &Round::ALL, round_words) {
                self.round = round;
                self.girth = None;
            }
        });
        let girth = self.girth.unwrap_or(body.mm(self.round.measure()));
        // A band about as wide as a fortieth of the height: own.
        let width = self.width.unwrap_or(Mm(
            0.025 * body.mm(petitoile_core::measure::Measure::Height).0
        ));
        let usual = usual_bow(body, width);
        let bow = Bow {
            loop_: self.loop_.unwrap_or(usual.loop_),
            tail: self.tail.unwrap_or(usual.tail),
            width,
        };
        egui::Grid::new("tie fields").num_columns(4).show(ui, |ui| {
            field(ui, "Girth to tie", girth, &mut self.girth, unit, commands);
            field(ui, "Band", width, &mut self.width, unit, commands);
            ui.end_row();
            field(ui, "Bow loop", bow.loop_, &mut self.loop_, unit, commands);
            field(ui, "Hanging end", bow.tail, &mut self.tail, unit, commands);
            ui.end_row();
        });
        lengths(ui, girth, bow, unit);
    }
}

fn field(
    ui: &mut Ui,
    name: &str,
    shown: Mm,
    own: &mut Option<Mm>,
    unit: LengthUnit,
    commands: &mut Vec<Command>,
) {
    ui.label(name);
    match length_field(ui, name, Some(shown), "", unit, 74.0).typed {
        Typed::Length(mm) => *own = Some(mm),
        Typed::Cleared => *own = None,
        Typed::Trouble(trouble) => commands.push(Command::Say(format!("{name}: {trouble}"))),
        Typed::Nothing => {}
    }
}

/// What each way of tying takes.
fn lengths(ui: &mut Ui, girth: Mm, bow: Bow, unit: LengthUnit) {
    let (bowed, knotted) = (bow.length(), bow.knotted().length());
    let kerchief = kerchief_side(sash(girth, 1, knotted));
    for (words, length) in [
        ("Two parts, bow behind, each", band_behind(girth, bowed)),
        (
            "Two parts, crossed and back in front, each",
            band_returned(girth, bowed),
        ),
        ("Sash, once round, bow", sash(girth, 1, bowed)),
        ("Sash, twice round, bow", sash(girth, 2, bowed)),
        ("Kerchief, side of the square, knotted", kerchief),
    ] {
        ui.label(format!("{words}: {}", unit.show(length)));
    }
    faded(
        ui,
        "Two parts: the garment covers the front half. What a knot takes (4 x the band at each end) is common practice.",
    );
}

/// A tie, sash or kerchief of the garment.
fn of_garment(ui: &mut Ui, tied: &Tied, unit: LengthUnit, commands: &mut Vec<Command>) {
    let palette = Palette::showing(ui);
    super::named(ui, &tied.piece, Place::piece(&tied.piece), commands);
    faded(
        ui,
        format!(
            "{} long, round {} of {}; at most {}",
            unit.show(tied.length),
            tied.round.words(),
            unit.show(tied.girth),
            unit.show(tied.most)
        ),
    );
    for way in &tied.ways {
        let mark = if way.reaches {
            "long enough"
        } else {
            "too short"
        };
        let colour = if way.reaches {
            palette.ink
        } else {
            palette.care
        };
        let words = format!(
            "{}: {}, {mark}",
            wording::sentence(way.words),
            unit.show(way.length)
        );
        ui.label(RichText::new(words).color(colour));
    }
}
