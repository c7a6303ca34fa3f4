//! The usual cautions, each where it belongs. They are no substitute for the rules of the place.

use super::Basis;
use super::materials::Material;
use crate::body::BodyKind;
use crate::bulk::{thick, under_the_foot};
use crate::finish::Finished;
use crate::making_order::{By, Step, Work};
use crate::units::{LengthUnit, Mm};

/// Longest free cord on a toy for a child under 36 months, and longest way round a noose.
///
/// # Source
/// EN 71-1:2005+A8:2009, 5.4 (S29, secondary): 220 mm and 380 mm at 25 N. A later edition may differ.
pub const CORD: (Mm, Mm) = (Mm(220.0), Mm(380.0));

/// Inner diameter of the cylinder that a small part fits into.
///
/// # Source
/// 16 CFR 1501.4 (S28, read): 1.25 in; the figure in mm is for convenience, the inches rule.
pub const SMALL_PARTS_CYLINDER: Mm = Mm(31.75);

/// What a step asks to be careful with; empty for most.
///
/// # Source
/// Common practice (fact sheet H).
pub(super) fn of_step(basis: &Basis<'_>, step: &Step) -> Vec<String> {
    let is_doll = basis.finished.filled.adapted.fitting.body.kind == BodyKind::Doll;
    let mut all = Vec::new();
    match &step.work {
        Work::CutOut => all.push(
            "Blades: close the cutter after each cut, cut away from the hand, use a rule with a rim."
                .to_owned(),
        ),
        Work::Press => all.push(if is_doll {
            "Hot iron: never on the doll; vinyl softens and resin yellows. Press the garment off the body, under a cloth.".to_owned()
        } else {
            "Hot iron: test the cloth on a scrap, press under a cloth.".to_owned()
        }),
        Work::TryOn if is_doll => {
            all.push("Pins scratch: let no point touch vinyl or resin.".to_owned());
        }
        _ if step.by == By::Machine => all.extend(needle(basis, step)),
        _ => {}
    }
    all
}

/// From this share of what the machine takes a stack is thick enough to bend a needle: at the usual 4 mm it is the 3 mm at
/// which light machines begin to skip (fact sheet I; common practice, no source).
const THICK: f64 = 0.75;

/// The needle, where what is measured under the foot is thick or climbs at once.
fn needle(basis: &Basis<'_>, step: &Step) -> Option<String> {
    let (machine, unit) = (basis.machine, basis.unit);
    let thickest = under_the_foot(basis.bulk, step)
        .filter_map(|judged| Some((&judged.stack, judged.stack.sewn()?)))
        .max_by(|a, b| a.1.thickness.0.total_cmp(&b.1.thickness.0))?;
    let (stack, heap) = thickest;
    let is_thick = heap.thickness.0 > THICK * machine.thickest.0;
    let climbs = under_the_foot(basis.bulk, step)
        .map(|judged| judged.stack.step)
        .fold(Mm(0.0), |a, b| if a.0 < b.0 { b } else { a });
    let wheel = "turn the wheel by hand, stop if the needle bends, eyes out of its line.";
    if is_thick {
        let place = match stack.where_words() {
            words if words.is_empty() => String::new(),
            words => format!(" {words}"),
        };
        return Some(format!(
            "Needle: {} layers, {}, lie under it{place} (the machine takes {}): {wheel}",
            heap.count,
            thick(heap.thickness, unit),
            thick(machine.thickest, unit)
        ));
    }
    (climbs.0 > machine.step.0).then(|| {
        format!(
            "Needle: the foot climbs {} at once (the machine takes {}): lay a fold of cloth behind it, {wheel}",
            thick(climbs, unit),
            thick(machine.step, unit)
        )
    })
}

/// What is said once, at the head of the sheet.
///
/// # Source
/// Fact sheet H: tools common practice; small parts 16 CFR 1501 (read); cords EN 71-1 (secondary).
pub(super) fn of_sheet(
    finished: &Finished,
    materials: &[Material],
    unit: LengthUnit,
) -> Vec<String> {
    let mut all = vec![
        "Irons burn, blades cut, and a needle that hits a lump can break: keep your eyes out of the line of the needle, or shielded, over thick places.".to_owned(),
    ];
    if finished.filled.adapted.fitting.body.kind != BodyKind::Doll {
        return all;
    }
    all.push(
        "Press every piece off the doll: steam and a hot iron soften vinyl, resin and glue."
            .to_owned(),
    );
    let named = |wanted: fn(&Material) -> bool| {
        let mut names: Vec<String> = Vec::new();
        for material in materials.iter().filter(|m| wanted(m)) {
            if !names.contains(&material.what) {
                names.push(material.what.clone());
            }
        }
        names
    };
    let small = named(|m| m.is_small_part);
    let what = if small.is_empty() {
        "beads, buttons, snaps and hooks".to_owned()
    } else {
        small.join(", ")
    };
    all.push(format!(
        "For a child under three: no small parts ({what}). What fits the cylinder of {} inside is one (16 CFR 1501); use soft tape or sew it shut.",
        unit.show(SMALL_PARTS_CYLINDER)
    ));
    let longest = materials
        .iter()
        .filter(|m| m.is_cord)
        .filter_map(|m| m.length)
        .fold(Mm(0.0), |a, b| if a.0 < b.0 { b } else { a });
    let long = if longest.0 > CORD.0.0 {
        format!(" The longest here is {}: too long.", unit.show(longest))
    } else if longest.0 > 0.0 {
        format!(" The longest here is {}.", unit.show(longest))
    } else {
        String::new()
    };
    all.push(format!(
        "For a child under three: cords and ribbons hang free by no more than {} and make no noose longer than {} round (EN 71-1, 5.4; ask for the edition in force).{long}",
        unit.show(CORD.0),
        unit.show(CORD.1)
    ));
    all.push("The rules for toys where you live come before anything said here.".to_owned());
    all
}
