//! The making sheet: everything that is printed for the hand that sews, as one value.
//!
//! Steps in words with a little picture, cutting list, clips of curves, stitch length, materials, cautions. Taken from the
//! finished pieces and the making order; nothing is laid out here. Lengths in mm; words in the unit that was asked for.

use crate::bulk::Bulk;
use crate::dressing::Dressing;
use crate::finding::Place;
use crate::finish::Finished;
use crate::machine::Machine;
use crate::making_order::{By, LiningMethod, Order, Step, Work};
use crate::units::LengthUnit;

mod cautions;
mod curves;
mod cutting;
mod materials;
mod picture;
mod pressing;
mod side;
mod stitches;
mod words;

#[cfg(test)]
mod curve_tests;
#[cfg(test)]
mod tests;

pub use cautions::{CORD, SMALL_PARTS_CYLINDER};
pub use curves::{
    Bend, CLOSEST_CUTS, CurveCut, CurveCuts, Cuts, SHORT_OF_STITCHES, WIDEST_CUT, curve_cuts,
    cuts_along, widest_cut,
};
pub use cutting::{CutRow, cutting_list};
pub use materials::{ELASTIC_JOIN, END, Material};
pub use picture::{Picture, Pictured, picture};
pub use pressing::PRESSED_OPEN_FROM;
pub use stitches::{FINE, Stitches, THREAD, stitches};

/// Everything that is printed for the hand that sews.
#[derive(Debug, Clone, PartialEq)]
pub struct MakingSheet {
    /// Garment and body.
    pub title: String,
    /// Name of the fitting.
    pub fitting: String,
    /// How it is lined; `None` when it is neither lined nor faced.
    pub lining: Option<LiningMethod>,
    /// The steps, first to last.
    pub steps: Vec<SheetStep>,
    /// Every piece in every cloth.
    pub cutting: Vec<CutRow>,
    /// Where curves are clipped and notched out.
    pub curves: Vec<CurveCuts>,
    /// How long the stitches are.
    pub stitches: Stitches,
    /// What is needed besides the pattern.
    pub materials: Vec<Material>,
    /// What is still to be chosen before everything can be listed.
    pub open_questions: Vec<String>,
    /// Said once, at the head.
    pub cautions: Vec<String>,
}

/// One step on the sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetStep {
    /// Its place in the order, from 1.
    pub number: usize,
    /// Key of the step.
    pub key: String,
    /// Is it done?
    pub done: bool,
    /// Is it a moment to try on?
    pub try_on: bool,
    /// One short sentence in the imperative.
    pub sentence: String,
    /// Notches, allowances, pressing: one matter each.
    pub notes: Vec<String>,
    /// What to be careful with.
    pub cautions: Vec<String>,
    /// By hand or by machine.
    pub by: By,
    /// Why so.
    pub by_why: String,
    /// What it looks like.
    pub picture: Option<Picture>,
    /// Where it is on the table; `None` for what concerns everything.
    pub place: Option<Place>,
}

/// What a making sheet is made from.
#[derive(Debug, Clone, Copy)]
pub struct Basis<'a> {
    /// The pieces as they are cut and sewn.
    pub finished: &'a Finished,
    /// The order of work, hand and machine decided ([`crate::bulk::heeded`]).
    pub order: &'a Order,
    /// Stacks of cloth: what the needle has to go through.
    pub bulk: &'a Bulk,
    /// Openings and what closes them.
    pub dressing: &'a Dressing,
    /// What the maker's machine takes.
    pub machine: &'a Machine,
    /// The unit that is read.
    pub unit: LengthUnit,
}

/// The making sheet of a fitting.
pub fn making_sheet(basis: &Basis<'_>) -> MakingSheet {
    let Basis {
        finished,
        order,
        unit,
        ..
    } = *basis;
    let adapted = &finished.filled.adapted;
    let making = &adapted.fitting.making;
    let speaker = words::Speaker {
        basis,
        finished,
        unit,
    };
    let curves = curve_cuts(finished);
    let steps = (1..)
        .zip(&order.steps)
        .map(|(number, step)| {
            let says = speaker.says(step);
            let mut notes = says.notes;
            notes.extend(clips(step, &curves));
            let press = step.then_press.map(|what| format!("Then press {what}."));
            notes.extend(says.press.or(press));
            if 1 < step.times {
                notes.insert(
                    0,
                    format!("{} times: {} are cut alike.", step.times, step.times),
                );
            }
            if step.goes_on {
                notes.insert(0, "Sew on from the step before, in one go.".to_owned());
            }
            SheetStep {
                number,
                key: step.key.clone(),
                done: making.done.contains(&step.key),
                try_on: step.work == Work::TryOn,
                sentence: says.sentence,
                notes,
                cautions: cautions::of_step(basis, step),
                by: step.by,
                by_why: step.by_why.clone(),
                picture: picture(finished, step),
                place: place(step),
            }
        })
        .collect();
    let cutting = cutting_list(finished);
    let materials = materials::materials(basis, &cutting);
    let open_questions = materials::suggested(basis);
    MakingSheet {
        title: format!("{} for {}", adapted.garment.name, adapted.fitting.body.name),
        fitting: adapted.fitting.name.clone(),
        lining: order.lining,
        steps,
        cutting,
        curves,
        stitches: stitches(finished),
        cautions: cautions::of_sheet(finished, &materials, unit),
        materials,
        open_questions,
    }
}

/// Where a step is: its first edge, its seam or opening, its only piece.
fn place(step: &Step) -> Option<Place> {
    if let Some(edge) = step.edges.first() {
        return Some(Place::edge(&edge.piece, &edge.edge));
    }
    match (&step.work, step.copies.as_slice()) {
        (Work::Seam { seam }, _) => Some(Place::part(seam)),
        (Work::Closure { opening }, _) => Some(Place::part(opening)),
        (Work::PieceTogether { of, .. }, _) => Some(Place::piece(&of.piece)),
        (_, [(piece, _)]) => Some(Place::piece(piece)),
        _ => None,
    }
}

/// "Curves, as listed: clip neckline of front yoke 5 times.": what a step's curves ask for, in one note.
fn clips(step: &Step, curves: &[CurveCuts]) -> Option<String> {
    if !matches!(
        step.work,
        Work::Seam { .. } | Work::Face | Work::Turn { .. }
    ) {
        return None;
    }
    let own = curves
        .iter()
        .filter(|curve| step.edges.contains(&curve.edge));
    let words = own.map(|curve| {
        format!(
            "{} {} of {} {}",
            curve.cuts.cut.verb(),
            curve.edge.edge,
            curve.edge.piece,
            curves::times(curve.cuts.places.len())
        )
    });
    let all = curves::listed(words);
    (!all.is_empty()).then(|| format!("Curves, as listed: {all}."))
}

impl MakingSheet {
    /// How many steps are done, and how many there are.
    pub fn progress(&self) -> (usize, usize) {
        let done = self.steps.iter().filter(|step| step.done).count();
        (done, self.steps.len())
    }

    /// "7 of 23 done".
    pub fn progress_words(&self) -> String {
        let (done, all) = self.progress();
        format!("{done} of {all} done")
    }
}
