//! What the maker should know about one garment in the outfits that wear it.

use std::sync::Arc;

use super::mended;
use super::{
    Cover, EndKind, Peep, Room, Together, Under, Worn, cover, levelled, rooms, underneath,
};
use crate::body::Body;
use crate::edit::{Edit, FittingEdit};
use crate::finding::{Finding, Gravity, Place};
use crate::machine::Machine;
use crate::measure::Measure;
use crate::pad::{Pad, measured_over};
use crate::piece::Role;
use crate::units::{LengthUnit, Mm};

/// By how much a girth may differ from what the outfit asks before it is said: proposal of our own, half the step between
/// two lines of a tape.
pub const DISAGREES: Mm = Mm(1.0);

/// What shows by less than this is no matter; what shows by more than `MEANT` of the body's height is meant to show.
pub const PEEPS: Mm = Mm(0.5);

/// Proposal of our own, no source.
const MEANT: f64 = 0.04;

impl Peep {
    /// Does it show by so little that nobody means it? From [`PEEPS`] up to 4 % of the body's height (proposal of our own).
    pub fn is_by_chance(&self, body: &Body) -> bool {
        (PEEPS.0..MEANT * body.mm(Measure::Height).0).contains(&self.by.0)
    }
}

/// What the maker should know about a fitting in the outfits that wear it. Lengths in the maker's unit.
pub fn findings(
    outfits: &[Together],
    fitting: &str,
    machine: &Machine,
    unit: LengthUnit,
) -> Vec<Finding> {
    let mut found = Vec::new();
    let fitted_for = outfits
        .iter()
        .position(|together| is_fitted_for(together, fitting))
        .unwrap_or(0);
    for (number, together) in outfits.iter().enumerate() {
        for (layer, why) in &together.left_out {
            found.push(Finding {
                gravity: Gravity::Care,
                place: Place::default(),
                what: format!(
                    "{layer}, worn in {}, cannot be worked out: {why}.",
                    together.outfit
                ),
                advice:
                    "What lies under and over it is reckoned without it; mend that fitting first."
                        .to_owned(),
                remedy: None,
            });
        }
        let Some(place) = together.place_of(fitting) else {
            continue;
        };
        let Some(worn) = together.layers.get(place) else {
            continue;
        };
        found.extend(other_body(together, worn));
        let under = underneath(together, place);
        found.extend(disagrees(
            together,
            place,
            &under,
            number == fitted_for,
            unit,
        ));
        found.extend(not_level(together, worn, &under.pads, unit));
        found.extend(too_thick(&under, worn, machine, unit));
        found.extend(peeping(together, place, unit));
    }
    found.dedup();
    found
}

fn is_fitted_for(together: &Together, fitting: &str) -> bool {
    let worn = together.layers.iter().find(|worn| worn.name() == fitting);
    let as_worn = worn.and_then(|worn| worn.adapted.fitting.as_worn.as_ref());
    as_worn.is_some_and(|as_worn| as_worn.outfit == together.outfit)
}

/// Layers of one outfit are fitted to one body.
fn other_body(together: &Together, worn: &Arc<Worn>) -> Option<Finding> {
    let first = together.layers.first()?;
    if first.body() == worn.body() {
        return None;
    }
    Some(Finding {
        gravity: Gravity::Care,
        place: Place::default(),
        what: format!(
            "in {} it is worn over {}, which is fitted to {}; this one is fitted to {}{}.",
            together.outfit,
            first.name(),
            first.body().name,
            worn.body().name,
            if first.body().name == worn.body().name {
                " with other figures"
            } else {
                ""
            },
        ),
        advice: "Put both on the same body, or take one out of the outfit.".to_owned(),
        remedy: Some(Edit::Fitting {
            fitting: worn.name().to_owned(),
            change: FittingEdit::SetBody(first.body().clone()),
        }),
    })
}

/// What the outfit asks of a girth beyond what the fitting was made for.
fn asked(worn: &Worn, under: &Under, room: &Room) -> Mm {
    let fitting = &worn.adapted.fitting;
    let share = if room.body.0 > 0.0 {
        room.body.0 / fitting.body.mm(room.measure).0
    } else {
        1.0
    };
    let given = {
        let cloth = std::f64::consts::TAU * fitting.stack_underneath(room.measure).0;
        fitting.girth_over_pads(room.measure) + Mm(cloth)
    };
    let ring =
        fitting.body.mm(room.measure) + Mm(std::f64::consts::TAU * under.stack(room.measure).0);
    let wanted = measured_over(&under.pads, &fitting.body, room.measure, ring);
    Mm(share * (wanted - given).0)
}

/// The girth at which outfit and fitting differ most.
fn disagrees(
    together: &Together,
    place: usize,
    under: &Under,
    is_fitted_for: bool,
    unit: LengthUnit,
) -> Option<Finding> {
    let worn = together.layers.get(place)?;
    let rooms = rooms(together, place);
    let (room, more) = rooms
        .iter()
        .map(|room| (room, asked(worn, under, room)))
        .max_by(|a, b| a.1.0.abs().total_cmp(&b.1.0.abs()))?;
    if more.0.abs() <= DISAGREES.0 || !is_fitted_for && more.0 < 0.0 {
        return None;
    }
    let fitting = &worn.adapted.fitting;
    let (gravity, than) = if more.0 < 0.0 {
        (Gravity::Note, "less")
    } else if is_fitted_for {
        (Gravity::Care, "more")
    } else {
        (Gravity::Note, "more")
    };
    let by = unit.show(Mm(more.0.abs()));
    let made = fitting.as_worn.as_ref().map_or_else(
        || "was fitted for".to_owned(),
        |as_worn| format!("has as worn in {}", as_worn.outfit),
    );
    let ease = unit.show(Mm(room.ease().0));
    Some(Finding {
        gravity,
        place: Place::part(&room.name),
        what: format!(
            "worn in {}, it lies over {by} {than} than it {made} ({}); {ease} of ease are left here.",
            together.outfit,
            over_what(under, room.measure),
        ),
        advice: format!("Fit it as worn in {}.", together.outfit),
        remedy: Some(under.as_worn(&together.outfit, worn.name())),
    })
}

/// "smock 0.17 mm, skirt 1.40 mm, hip roll".
fn over_what(under: &Under, measure: Measure) -> String {
    let stacks = under.stacks.get(&measure).into_iter().flatten();
    let mut words: Vec<String> = stacks
        .map(|stack| format!("{} {}", stack.layer, thickness(stack.thickness)))
        .collect();
    if matches!(measure, Measure::HipGirth) {
        words.extend(under.pads.iter().map(|pad| pad.name.clone()));
    }
    if words.is_empty() {
        "nothing underneath".to_owned()
    } else {
        words.join(", ")
    }
}

/// Cloth is measured in hundredths of a mm, whatever the maker reads her tape in.
fn thickness(cloth: Mm) -> String {
    format!("{:.2} mm", cloth.0)
}

/// How much of the raise may be missing, or too much, before it is said: as much as a hem is off that looks straight.
/// Proposal of our own.
const LEVEL: Mm = Mm(0.5);

fn not_level(
    together: &Together,
    worn: &Arc<Worn>,
    pads: &[Pad],
    unit: LengthUnit,
) -> Option<Finding> {
    let level = levelled(worn, pads)?;
    let missing = level.most.1 - level.raised;
    if missing.0.abs() <= LEVEL.0 {
        return None;
    }
    let at = match level.most.0 {
        round if round < 0.05 => "centre front",
        round if round > 0.95 => "centre back",
        _ => "side",
    };
    let names: Vec<&str> = pads.iter().map(|pad| pad.name.as_str()).collect();
    let place = level
        .steps
        .last()
        .map_or_else(Place::default, |step| step.place());
    Some(Finding {
        gravity: Gravity::Care,
        place,
        what: format!(
            "worn in {} over {}, the way down at the {at} is {} longer; the waist edge is raised by {}, so the hem hangs {} there by {}.",
            together.outfit,
            names.join(" and "),
            unit.show(level.most.1),
            unit.show(level.raised),
            if missing.0 > 0.0 {
                "too high"
            } else {
                "too low"
            },
            unit.show(Mm(missing.0.abs())),
        ),
        advice: "Raise the waist edge there: the hem stays straight on grain.".to_owned(),
        remedy: Some(level.edit(&worn.adapted.fitting)),
    })
}

/// A pad that no machine quilts through.
fn too_thick(under: &Under, worn: &Worn, machine: &Machine, unit: LengthUnit) -> Vec<Finding> {
    let fitting = &worn.adapted.fitting;
    let shell = fitting.cloths.get(&Role::Shell);
    let cloth = shell.map_or(Mm(0.0), |cloth| cloth.thickness);
    let thick = under.pads.iter().filter_map(|pad| {
        let pattern = pad.pattern(fitting.body.mm(Measure::WaistGirth), cloth, machine);
        (pad.projection.0 > pattern.quiltable.0).then(|| Finding {
            gravity: Gravity::Note,
            place: Place::default(),
            what: format!(
                "{} is {} thick; the machine quilts wadding of up to {} loft (common practice, no source).",
                pad.name,
                unit.show(pad.projection),
                unit.show(pattern.quiltable)
            ),
            advice: "Sew its cover first and stuff it afterwards, or stitch through it by hand.".to_owned(),
            remedy: None,
        })
    });
    thick.collect()
}

/// Where this layer shows beyond those over it, or one under it shows beyond this one, by so little that nobody means it.
fn peeping(together: &Together, place: usize, unit: LengthUnit) -> Vec<Finding> {
    let Some(worn) = together.layers.get(place) else {
        return Vec::new();
    };
    let by_chance = |peep: &Peep| peep.is_by_chance(worn.body());
    let mut found = Vec::new();
    for (number, _) in together.layers.iter().enumerate().take(place + 1) {
        let Some(Cover { layer, peeps, .. }) = cover(together, number) else {
            continue;
        };
        let about_this = |peep: &&Peep| number == place || peep.over == worn.name();
        for peep in peeps
            .iter()
            .filter(|peep| by_chance(peep))
            .filter(about_this)
        {
            found.push(peep_finding(together, &layer, peep, number == place, unit));
        }
    }
    found
}

fn peep_finding(
    together: &Together,
    layer: &str,
    peep: &Peep,
    is_own: bool,
    unit: LengthUnit,
) -> Finding {
    let by = unit.show(peep.by);
    let kind = peep.end.kind;
    let half = match peep.end.half.words() {
        "" => String::new(),
        half => format!(" {half}"),
    };
    let shown = format!("the {} of {layer}{half}", kind.label());
    let place = if is_own {
        Place::edge(&peep.end.edge.piece, &peep.end.edge.edge)
    } else {
        Place::default()
    };
    let mended = mended::hidden(together, layer, peep);
    let advice = match kind {
        EndKind::Neckline => format!(
            "Cut the neckline of {layer} {by} lower, or that of {} higher.",
            peep.over
        ),
        EndKind::Wrist => format!(
            "Make the sleeve of {layer} {by} shorter, or that of {} longer.",
            peep.over
        ),
        EndKind::Hem => format!("Make {layer} {by} shorter, or {} longer.", peep.over),
    };
    let advice = match &mended {
        Some((which, _)) => format!("{advice} One click does it to {which}."),
        None => advice,
    };
    Finding {
        gravity: Gravity::Note,
        place,
        what: format!(
            "worn in {}, {shown} shows {by} beyond {}.",
            together.outfit, peep.over
        ),
        advice,
        remedy: mended.map(|(_, edit)| edit),
    }
}
