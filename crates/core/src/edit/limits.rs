//! What sizes and names an edit may bring in. Limits: our own choice, wide enough for every body from 1:12 to a person.

use super::{EditError, alterations, lay_limits, missing, shapes};
use crate::alteration::{self, Alteration, PiecesChange};
use crate::body::{Body, Torso};
use crate::closure::Closure;
use crate::cloth::Cloth;
use crate::edge::{EdgeRef, Finish};
use crate::fitting::{AsWorn, DemandChoice, Fitting};
use crate::garment::Garment;
use crate::machine::Machine;
use crate::pad::Pad;
use crate::paper::PaperSettings;
use crate::units::Mm;

/// Seam allowances, mm.
const ALLOWANCES: (f64, f64) = (0.0, 60.0);
/// Hem widths, and allowances of edges that are hemmed, faced or cased, mm.
pub(super) const HEMS: (f64, f64) = (0.0, 200.0);
/// Measures of a body, mm.
const MEASURES: (f64, f64) = (0.5, 3000.0);
/// Finished measures of a garment, mm; a full hem is longer than any body.
const GARMENT_MEASURES: (f64, f64) = (0.5, 20_000.0);
/// Ease, mm.
const EASE: (f64, f64) = (-1000.0, 3000.0);
/// Thickness of a layer of cloth, mm.
pub(super) const THICKNESS: (f64, f64) = (0.0, 20.0);
/// How far an alteration moves something, mm.
pub(super) const MOVES: (f64, f64) = (-3000.0, 3000.0);
/// Notch strokes, mm.
const NOTCHES: (f64, f64) = (0.0, 20.0);
/// Thickness of everything worn underneath, mm.
const STACKS: (f64, f64) = (0.0, 200.0);
/// How far pads stand off and lie below the waist, mm.
const PADS: (f64, f64) = (0.0, 1000.0);
/// Buttons, tapes, gaps and elastics, mm.
const CLOSURES: (f64, f64) = (0.0, 2000.0);

/// A name that is not blank.
pub(super) fn name(what: &'static str, name: &str) -> Result<(), EditError> {
    if name.trim().is_empty() {
        Err(EditError::NoName { what })
    } else {
        Ok(())
    }
}

/// A length inside its limits; what is not a number is outside.
pub(super) fn length(
    what: impl Into<String>,
    value: Mm,
    (least, most): (f64, f64),
) -> Result<(), EditError> {
    if (least..=most).contains(&value.0) {
        return Ok(());
    }
    Err(EditError::OutOfRange {
        what: what.into(),
        value: value.0,
        least,
        most,
    })
}

pub(super) fn number(
    what: impl Into<String>,
    value: f64,
    least: f64,
    most: f64,
) -> Result<(), EditError> {
    if (least..=most).contains(&value) {
        return Ok(());
    }
    Err(EditError::NumberOutOfRange {
        what: what.into(),
        value,
        least,
        most,
    })
}

pub(super) fn seam_allowance(width: Mm) -> Result<(), EditError> {
    length("the seam allowance", width, ALLOWANCES)
}

pub(super) fn hem(width: Mm) -> Result<(), EditError> {
    length("the hem", width, HEMS)
}

pub(super) fn notch_depth(depth: Mm) -> Result<(), EditError> {
    length("the notch stroke", depth, NOTCHES)
}

pub(super) fn corner_limit(times: f64) -> Result<(), EditError> {
    number("how far a corner runs out", times, 1.0, 10.0)
}

pub(super) fn measure(what: &str, value: Mm) -> Result<(), EditError> {
    length(what, value, MEASURES)
}

/// The allowance of one edge that must be there: as wide as a hem where it is turned, else as a seam.
pub(super) fn single_allowance(
    garment: &Garment,
    at: &EdgeRef,
    width: Mm,
) -> Result<(), EditError> {
    let edge = edge(garment, at)?;
    let turned = |finish: &Finish| {
        matches!(
            finish,
            Finish::Hem { .. } | Finish::Casing { .. } | Finish::Placket { .. } | Finish::Facing
        )
    };
    let limits = if edge.finish.iter().any(|s| turned(&s.finish)) {
        HEMS
    } else {
        ALLOWANCES
    };
    length(format!("the allowance of {at}"), width, limits)
}

fn edge<'a>(garment: &'a Garment, at: &EdgeRef) -> Result<&'a crate::edge::Edge, EditError> {
    let piece = garment
        .piece(&at.piece)
        .ok_or_else(|| missing("piece", &at.piece))?;
    piece
        .outline
        .edge(&at.edge)
        .ok_or_else(|| missing("edge", &at.to_string()))
}

pub(super) fn piece(garment: &Garment, wanted: &str) -> Result<(), EditError> {
    garment
        .piece(wanted)
        .map(|_| ())
        .ok_or_else(|| missing("piece", wanted))
}

/// A tape line or seam of this name.
pub(super) fn demand(garment: &Garment, wanted: &str) -> Result<(), EditError> {
    let tape = garment.tape_lines.iter().any(|tape| tape.name == wanted);
    let seam = garment.seams.iter().any(|seam| seam.name == wanted);
    if tape || seam {
        Ok(())
    } else {
        Err(missing("tape line or seam", wanted))
    }
}

pub(super) fn demand_choice(of: &str, choice: &DemandChoice) -> Result<(), EditError> {
    let measure = choice.measure.map(|value| {
        length(
            format!("{of}: the finished measure"),
            value,
            GARMENT_MEASURES,
        )
    });
    let ease = choice
        .ease
        .map(|value| length(format!("{of}: the ease"), value, EASE));
    let rank = choice
        .rank
        .map(|rank| number(format!("{of}: the rank"), f64::from(rank), 1.0, 99.0));
    [measure, ease, rank].into_iter().flatten().collect()
}

pub(super) fn cloth(cloth: &Cloth) -> Result<(), EditError> {
    name("cloth", &cloth.name)?;
    length(
        format!("the thickness of {}", cloth.name),
        cloth.thickness,
        THICKNESS,
    )
}

pub(super) fn worn_underneath(layers: &[Mm]) -> Result<(), EditError> {
    layers.iter().try_for_each(|layer| {
        length(
            "the thickness of a layer worn underneath",
            *layer,
            THICKNESS,
        )
    })
}

pub(super) fn paper(paper: &PaperSettings) -> Result<(), EditError> {
    match paper.out_of_limits() {
        None => Ok(()),
        Some((what, size, least, most)) => length(what, size, (least.0, most.0)),
    }
}

/// The garment with the names that a fitting's alterations make.
pub(super) fn made(garment: &Garment, alterations: &[Alteration]) -> Garment {
    alteration::replay(garment.clone(), alterations, "").outcome
}

/// An alteration whose piece, edge and level are there, on the garment or made by the alterations before it.
pub(super) fn alteration(
    garment: &Garment,
    earlier: &[Alteration],
    alteration: &Alteration,
) -> Result<(), EditError> {
    alterations::sizes(alteration)?;
    let there = || made(garment, earlier);
    match alteration {
        Alteration::MoveEdge { edge: at, .. } | Alteration::MoveCorner { edge: at, .. } => {
            edge(&there(), at).map(|_| ())
        }
        Alteration::LengthenAt { piece, level, .. } => {
            let there = there();
            let there = there.piece(piece).ok_or_else(|| missing("piece", piece))?;
            if there.body_lines.iter().any(|line| line.level == *level) {
                Ok(())
            } else {
                Err(missing(
                    "body line",
                    &format!("{} on {piece}", level.label()),
                ))
            }
        }
        other
            if other.piece().is_empty()
                || matches!(other, Alteration::Pieces(PiecesChange::Add(_))) =>
        {
            Ok(())
        }
        other => piece(&there(), other.piece()),
    }
}

pub(super) fn body(body: &Body) -> Result<(), EditError> {
    name("body", &body.name)?;
    if let Torso::Soft { give } = body.torso {
        length(
            format!("{}: the give of the torso", body.name),
            give,
            (0.0, 300.0),
        )?;
    }
    body.measures.iter().try_for_each(|(measure, figure)| {
        length(format!("{}: {measure}", body.name), figure.value, MEASURES)
    })
}

/// A garment whose parts have names of their own and name only what is there.
pub(super) fn garment(garment: &Garment) -> Result<(), EditError> {
    name("garment", &garment.name)?;
    garment
        .pieces
        .iter()
        .try_for_each(|piece| name("piece", &piece.name))?;
    garment.check_references()?;
    garment
        .pieces
        .iter()
        .try_for_each(|piece| shapes::piece(piece))?;
    garment.seams.iter().try_for_each(shapes::seam)?;
    garment.tape_lines.iter().try_for_each(shapes::tape)?;
    garment.cloths.values().try_for_each(cloth)?;
    body(&garment.made_for)?;
    garment
        .included_allowance
        .iter()
        .try_for_each(|(at, width)| length(format!("the allowance included at {at}"), *width, HEMS))
}

/// A stuffed piece of a size that can be worn.
pub(super) fn pad(pad: &Pad) -> Result<(), EditError> {
    name("pad", &pad.name)?;
    length(
        format!("how far {} stands off", pad.name),
        pad.projection,
        PADS,
    )?;
    length(
        format!("how far {} lies below the waist", pad.name),
        pad.below_waist,
        PADS,
    )?;
    number(
        format!("the share of the girth of {}", pad.name),
        pad.share,
        0.0,
        1.0,
    )
}

/// An outfit with a name, and stacks of cloth that can be worn.
pub(super) fn as_worn(worn: &AsWorn) -> Result<(), EditError> {
    name("outfit", &worn.outfit)?;
    worn.stacks.iter().try_for_each(|(measure, stack)| {
        length(
            format!("what lies underneath at the {measure}"),
            *stack,
            STACKS,
        )
    })
}

/// What closes an opening, of a size that can be had.
pub(super) fn closure(opening: &str, closure: &Closure) -> Result<(), EditError> {
    closure
        .sizes()
        .into_iter()
        .try_for_each(|(what, size)| length(format!("{opening}: {what}"), size, CLOSURES))
}

/// Limits of a sewing machine that make sense.
pub(super) fn machine(machine: &Machine) -> Result<(), EditError> {
    length("the thickest stack", machine.thickest, (0.1, 50.0))?;
    length("the highest step", machine.step, (0.1, 50.0))?;
    length("the narrowest tube", machine.tube, (0.0, 1000.0))?;
    length("the tightest curve", machine.radius, (0.0, 200.0))?;
    length("the shortest machine seam", machine.shortest, (0.0, 500.0))
}

/// A fitting with sizes inside their limits. Choices for parts that are no longer there may stay: they wait.
pub(super) fn fitting(fitting: &Fitting, garment: &Garment) -> Result<(), EditError> {
    name("fitting", &fitting.name)?;
    body(&fitting.body)?;
    fitting
        .demands
        .iter()
        .try_for_each(|(of, choice)| demand_choice(of, choice))?;
    fitting.cloths.values().try_for_each(cloth)?;
    worn_underneath(&fitting.worn_underneath)?;
    fitting.pads_underneath.iter().try_for_each(pad)?;
    fitting.as_worn.as_ref().map_or(Ok(()), as_worn)?;
    fitting
        .closures
        .iter()
        .try_for_each(|(opening, of)| closure(opening, of))?;
    paper(&fitting.paper)?;
    lay_limits::laying(&fitting.laying)?;
    fitting.lay_plan.as_ref().map_or(Ok(()), lay_limits::plan)?;
    fitting
        .alterations
        .iter()
        .try_for_each(alterations::sizes)?;
    let plan = &fitting.allowances;
    seam_allowance(plan.seam)?;
    hem(plan.hem)?;
    corner_limit(plan.corner_limit)?;
    notch_depth(plan.notch_depth)?;
    plan.single
        .iter()
        .try_for_each(|(at, width)| match edge(garment, at) {
            Ok(_) => single_allowance(garment, at, *width),
            Err(_) => length(format!("the allowance of {at}"), *width, HEMS),
        })
}
