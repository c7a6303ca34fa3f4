//! The name of an undo step, in a maker's words, with its value.

use super::{Edit, FittingEdit};
use crate::body::Torso;
use crate::ease::EasePolicy;
use crate::fitting::{DemandChoice, DetailRule, Shaping};
use crate::lay_plan::LayChange;
use crate::laying::PieceLaying;
use crate::making_order::By;
use crate::paper::{PaperSettings, PaperSize, PaperTurn};
use crate::piece::Role;
use crate::tape::Hold;
use crate::units::LengthUnit;

impl Edit {
    /// What the undo step is called: "hem 4 mm", "waist girth 150 mm", lengths in `unit`.
    ///
    /// # Example
    /// ```
    /// # use petitoile_core::{LengthUnit, Mm, edit::{Edit, FittingEdit}};
    /// let edit = Edit::Fitting { fitting: "dress".to_owned(), change: FittingEdit::SetHem(Mm(4.0)) };
    /// assert_eq!(edit.words(LengthUnit::Millimetre), "hem 4 mm");
    /// ```
    pub fn words(&self, unit: LengthUnit) -> String {
        match self {
            Self::RenameProject(name) => format!("call the project {name}"),
            Self::SetUnit(unit) => format!("read in {}", unit.label().to_lowercase()),
            Self::PutGarment(garment) => format!("garment {}", garment.name),
            Self::TakeReady(garment) => format!("{} made ready to adapt", garment.name),
            Self::RemoveGarment(name) => format!("take out garment {name}"),
            Self::Alter { alteration, .. } => alteration.words(unit),
            Self::PutOpening { garment, opening } => format!("{garment}: opening {}", opening.name),
            Self::PutPiece { garment, piece } => format!("{garment}: piece {}", piece.name),
            Self::PutBody(body) => format!("body {}", body.name),
            Self::RemoveBody(name) => format!("take out body {name}"),
            Self::PutFitting(fitting) => format!("fitting {}", fitting.name),
            Self::RemoveFitting(name) => format!("take out fitting {name}"),
            Self::PutOutfit(outfit) => format!("outfit {}", outfit.name),
            Self::RemoveOutfit(name) => format!("take out outfit {name}"),
            Self::RenameOutfit { name, .. } => format!("call the outfit {name}"),
            Self::SetMachine(_) => "limits of the sewing machine".to_owned(),
            Self::PutOffcut(offcut) => format!("offcut {}", offcut.name),
            Self::RemoveOffcut(name) => format!("take out offcut {name}"),
            Self::UseUpOffcut(name) => format!("{name} is used up"),
            Self::RenameOffcut { name, .. } => format!("call the offcut {name}"),
            Self::GrowOffcuts(percent) => format!("take every offcut for {percent:.0} % larger"),
            Self::SetStashFile(Some(file)) => format!("stash {file}"),
            Self::SetStashFile(None) => "no stash".to_owned(),
            Self::SetWardrobeFile(Some(file)) => format!("wardrobe {file}"),
            Self::SetWardrobeFile(None) => "no wardrobe".to_owned(),
            Self::PutPin(pin) => format!("pin {}", pin.name),
            Self::RemovePin(name) => format!("take out pin {name}"),
            Self::Fitting { change, .. } => change.words(unit),
        }
    }
}

impl FittingEdit {
    /// What the undo step is called, lengths in `unit`.
    pub fn words(&self, unit: LengthUnit) -> String {
        match self {
            Self::SetBody(body) => format!("put on {}", body.name),
            Self::SetMeasure(measure, value) => {
                format!("{} {}", measure.label().to_lowercase(), unit.show(*value))
            }
            Self::ForgetMeasure(measure) => format!("forget {}", measure.label().to_lowercase()),
            Self::SetEase(policy) => ease(*policy).to_owned(),
            Self::SetShaping(piece, shaping) => format!("{piece}: {}", shaping_words(*shaping)),
            Self::SetDemand(name, choice) => format!("{name}: {}", demand(choice.as_ref(), unit)),
            Self::SetDetails(rule) => format!("details follow the {}", rule_words(*rule)),
            Self::SetDetailOf(piece, Some(rule)) => {
                format!("{piece}: details follow the {}", rule_words(*rule))
            }
            Self::SetDetailOf(piece, None) => format!("{piece}: details as everywhere"),
            Self::SetCloth(role, Some(cloth)) => format!("{} of {}", role_words(*role), cloth.name),
            Self::SetCloth(role, None) => format!("no cloth for the {}", role_words(*role)),
            Self::SetWornUnderneath(layers) => match layers.len() {
                0 => "nothing worn underneath".to_owned(),
                1 => "1 layer worn underneath".to_owned(),
                many => format!("{many} layers worn underneath"),
            },
            Self::SetAsWorn(Some(worn), _) => format!("as worn in {}", worn.outfit),
            Self::SetAsWorn(None, _) => "not as worn in an outfit".to_owned(),
            Self::SetShoes(true) => "with shoes".to_owned(),
            Self::SetShoes(false) => "without shoes".to_owned(),
            Self::SetTorso(Torso::Rigid) => "rigid torso".to_owned(),
            Self::SetTorso(Torso::Soft { give }) => {
                format!("soft torso, gives {}", unit.show_chosen(*give))
            }
            Self::SetSeamAllowance(width) => format!("seam allowance {}", unit.show_chosen(*width)),
            Self::SetHem(width) => format!("hem {}", unit.show_chosen(*width)),
            Self::SetSingleAllowance(edge, Some(width)) => {
                format!("{edge}: allowance {}", unit.show_chosen(*width))
            }
            Self::SetSingleAllowance(edge, None) => format!("{edge}: usual allowance"),
            Self::SetCornerLimit(times) => format!("corners run out {times} times the allowance"),
            Self::SetNotchDepth(depth) => format!("notches {}", unit.show(*depth)),
            Self::AddAlteration(alteration) => alteration.words(unit),
            Self::AddAlterations(all) => match all.as_slice() {
                [] => "no alteration".to_owned(),
                [one] => one.words(unit),
                [first, rest @ ..] => format!("{} and {} more", first.words(unit), rest.len()),
            },
            Self::SetAlteration(_, alteration) => alteration.words(unit),
            Self::MoveAlteration { from, to } => format!(
                "make alteration {} {}",
                from.saturating_add(1),
                if to < from { "earlier" } else { "later" }
            ),
            Self::RemoveAlteration(place) => {
                format!("take out alteration {}", place.saturating_add(1))
            }
            Self::SetPaper(paper) => paper_words(paper, unit),
            Self::SetLayPlan(Some(plan)) => format!("lay plan of {} pieces", plan.placed.len()),
            Self::SetLayPlan(None) => "no lay plan".to_owned(),
            Self::Lay(change) => lay_change(change),
            Self::SetLayGap(gap) => format!("{} between pieces", unit.show_chosen(*gap)),
            Self::SetGrainTolerance(tolerance) => {
                format!("up to {:.1}\u{b0} off the grain", tolerance.0)
            }
            Self::SetPieceLaying(piece, Some(laying)) => piece_laid(piece, laying),
            Self::SetPieceLaying(piece, None) => format!("{piece}: laid as usual"),
            Self::SetPadsUnderneath(pads) => match pads.as_slice() {
                [] => "no pad underneath".to_owned(),
                [pad] => format!("{} worn underneath", pad.name),
                many => format!("{} pads worn underneath", many.len()),
            },
            Self::SetClosure(opening, Some(closure)) => {
                format!("{opening}: {}", closure.noun())
            }
            Self::SetClosure(opening, None) => format!("{opening}: usual closure"),
            Self::MoveStep {
                step,
                before: Some(before),
            } => format!("{step}: before {before}"),
            Self::MoveStep { step, before: None } => format!("{step}: last"),
            Self::ForgetMoves => "order of work as computed".to_owned(),
            Self::SetBy(step, Some(By::Hand)) => format!("{step}: by hand"),
            Self::SetBy(step, Some(By::Machine)) => format!("{step}: by machine"),
            Self::SetBy(step, None) => format!("{step}: hand or machine as computed"),
            Self::SetLining(Some(method)) => format!("lining {}", method.label().to_lowercase()),
            Self::SetLining(None) => "lining as computed".to_owned(),
            Self::SetGraded(seam, true) => format!("{seam}: allowances graded"),
            Self::SetGraded(seam, false) => format!("{seam}: allowances not graded"),
            Self::Tick(step, true) => format!("done: {step}"),
            Self::Tick(step, false) => format!("not done: {step}"),
        }
    }
}

fn lay_change(change: &LayChange) -> String {
    match change {
        LayChange::Put(placed) => format!("lay {} on {}", placed.piece, placed.offcut),
        LayChange::TakeUp(part) => format!("take {} off the cloth", part.of.piece),
        LayChange::Pin(part, true) => format!("pin {}", part.of.piece),
        LayChange::Pin(part, false) => format!("unpin {}", part.of.piece),
        LayChange::Piece(of, Some(_)) => format!("piece {} together", of.piece),
        LayChange::Piece(of, None) => format!("cut {} whole", of.piece),
        LayChange::Cut(parts) => match parts.as_slice() {
            [(part, _)] => format!("{} is cut", part.of.piece),
            many => format!("{} pieces are cut", many.len()),
        },
        LayChange::NotCut(part) => format!("{} is not cut", part.of.piece),
    }
}

fn ease(policy: EasePolicy) -> &'static str {
    match policy {
        EasePolicy::InProportion => "ease in proportion",
        EasePolicy::Absolute => "the same ease as on the source",
        EasePolicy::FromTable => "ease from the table",
    }
}

fn shaping_words(shaping: Option<Shaping>) -> &'static str {
    match shaping {
        Some(Shaping::FollowBody) => "follow the body",
        Some(Shaping::KeepDirections) => "keep directions",
        None => "shape as the program finds best",
    }
}

fn rule_words(rule: DetailRule) -> &'static str {
    match rule {
        DetailRule::Height => "height",
        DetailRule::Girth => "girth",
    }
}

fn role_words(role: Role) -> &'static str {
    match role {
        Role::Shell => "shell",
        Role::Lining => "lining",
        Role::Interlining => "interlining",
        Role::FlatLined => "flat lining",
    }
}

fn demand(choice: Option<&DemandChoice>, unit: LengthUnit) -> String {
    let Some(choice) = choice else {
        return "as computed".to_owned();
    };
    let hold = choice.hold.map(|hold| match hold {
        Hold::Auto => "fitted or hanging by its ease".to_owned(),
        Hold::Fitted => "fitted".to_owned(),
        Hold::Hanging => "hanging".to_owned(),
    });
    let measure = choice.measure.map(|value| unit.show(value));
    let ease = choice
        .ease
        .map(|value| format!("ease {}", unit.show(value)));
    let rank = choice.rank.map(|rank| format!("rank {rank}"));
    let words: Vec<String> = [hold, measure, ease, rank].into_iter().flatten().collect();
    if words.is_empty() {
        "as computed".to_owned()
    } else {
        words.join(", ")
    }
}

fn paper_words(paper: &PaperSettings, unit: LengthUnit) -> String {
    let size = match paper.size {
        PaperSize::A4 => "A4",
        PaperSize::Letter => "Letter",
    };
    let turn = match paper.turn {
        PaperTurn::Portrait => "upright",
        PaperTurn::Landscape => "on its side",
    };
    format!("paper {size} {turn}, margin {}", unit.show(paper.margin))
}

/// "Back: may be split along its fold, may not be patched"; choices of other kinds are only named.
fn piece_laid(piece: &str, laying: &PieceLaying) -> String {
    let may = |choice: Option<bool>, what: &str| {
        choice.map(|yes| format!("{} {what}", if yes { "may" } else { "may not" }))
    };
    let words: Vec<String> = [
        may(laying.seam_on_fold, "be split along its fold"),
        may(laying.patch, "be patched"),
        may(laying.join, "be joined of several"),
        may(laying.upside_down, "lie upside down"),
    ]
    .into_iter()
    .flatten()
    .collect();
    if words.is_empty() {
        format!("{piece}: how it is laid")
    } else {
        format!("{piece}: {}", words.join(", "))
    }
}
