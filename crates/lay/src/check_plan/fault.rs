//! What can be wrong with a plan: which part, on which offcut, by how many mm, what to do.

use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::finding::{Finding, Gravity, Place};
use petitoile_core::lay_plan::{LayChange, PartRef};
use petitoile_core::laying::words;
use petitoile_core::{Degrees, LengthUnit, Mm};

/// One thing that is wrong with a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanFault {
    /// Which part.
    pub part: PartRef,
    /// Its name: "Sleeve, left", "Back, left part".
    pub name: String,
    /// On which offcut.
    pub offcut: String,
    /// By how much: how far it sticks out, overlaps, is too near; for the grain, how far the grainline runs off over the
    /// length of the part, beyond what is allowed. 0 where there is no length to it.
    pub by: Mm,
    /// What is wrong.
    pub kind: FaultKind,
    /// Names of what else it is about: the other part, or the parts that are missing.
    pub others: Vec<String>,
}

/// What is wrong with one part of a plan.
#[derive(Debug, Clone, PartialEq)]
pub enum FaultKind {
    /// Nothing of this name is to be laid.
    NotWanted,
    /// The copy is not cut in so many parts, or its piecing no longer makes parts of it.
    NoSuchPart,
    /// There is no offcut of this name.
    NoSuchOffcut,
    /// Its place is no number, or it has no outline.
    NoPlace,
    /// It lies more than once.
    LaidTwice,
    /// Other parts of the copy do not lie; these, from 0.
    PartsMissing(Vec<usize>),
    /// It sticks out over the edge.
    OverEdge,
    /// It is nearer to the edge than the margin.
    InMargin(Mm),
    /// It reaches into a hole; which of the blemishes, from 0.
    OnHole(usize),
    /// It is nearer to a hole than the margin.
    NearHole(usize, Mm),
    /// It reaches into a place that is not good enough for it; which of the blemishes, from 0.
    OnBlemish(usize),
    /// It overlaps this one.
    Overlaps(PartRef),
    /// It is nearer to this one than the gap.
    TooNear(PartRef, Mm),
    /// Its grain is off that of the cloth by more than is allowed.
    OffGrain {
        /// How far it is off.
        off: Degrees,
        /// How far it may be off: its own tolerance and the doubt of the offcut's grain.
        allowed: Degrees,
    },
    /// It lies upside down; on cloth with nap, or where that is not allowed for the piece.
    UpsideDown {
        /// Has the cloth a nap?
        nap: bool,
    },
    /// It is mirrored so that its right side would be the wrong side of the cloth.
    WrongSide,
    /// It is of another cloth.
    OtherCloth {
        /// The cloth it is to be of.
        wanted: String,
        /// The cloth of the offcut.
        there: String,
    },
    /// It was cut otherwise than it is now drawn, or than it lies.
    NotAsCut,
}

impl PlanFault {
    /// "sleeve, left, on blue A: sticks out over the edge by 2.3 mm".
    pub fn words(&self, unit: LengthUnit) -> String {
        format!("{}, on {}: {}", self.name, self.offcut, self.what(unit))
    }

    /// What is wrong and by how much, without the name.
    pub fn what(&self, unit: LengthUnit) -> String {
        let by = unit.show(self.by);
        match &self.kind {
            FaultKind::NotWanted => "nothing of this name is to be laid".to_owned(),
            FaultKind::NoSuchPart => format!("it is not cut in {} parts", self.part.part + 1),
            FaultKind::NoSuchOffcut => "there is no offcut of this name".to_owned(),
            FaultKind::NoPlace => "its place or outline cannot be read".to_owned(),
            FaultKind::LaidTwice => "it lies twice".to_owned(),
            FaultKind::PartsMissing(_) => parts_missing(&self.others),
            FaultKind::OverEdge => format!("sticks out over the edge by {by}"),
            FaultKind::InMargin(margin) => {
                format!(
                    "{by} too near the edge: the margin is {}",
                    unit.show(*margin)
                )
            }
            FaultKind::OnHole(_) => format!("reaches {by} into a hole"),
            FaultKind::NearHole(_, margin) => {
                format!("{by} too near a hole: the margin is {}", unit.show(*margin))
            }
            FaultKind::OnBlemish(_) => {
                format!("reaches {by} into a place that is not good enough for it")
            }
            FaultKind::Overlaps(other) => format!("overlaps {} by {by}", self.other(other)),
            FaultKind::TooNear(other, gap) => format!(
                "{by} too near {}: the gap is {}",
                self.other(other),
                unit.show(*gap)
            ),
            FaultKind::OffGrain { off, allowed } => format!(
                "{:.1}\u{b0} off the grain, {:.1}\u{b0} allowed: it runs off {by} too far over its length",
                off.0, allowed.0
            ),
            FaultKind::UpsideDown { nap: true } => "lies against the nap".to_owned(),
            FaultKind::UpsideDown { nap: false } => "lies upside down".to_owned(),
            FaultKind::WrongSide => {
                "would show the wrong side of the cloth: it is to be turned over".to_owned()
            }
            FaultKind::OtherCloth { wanted, there } => {
                format!("is to be of {wanted}, the offcut is of {there}")
            }
            FaultKind::NotAsCut => format!("was cut otherwise than it is now, by {by}"),
        }
    }

    /// The other part, by name.
    fn other(&self, part: &PartRef) -> String {
        let name = self.others.first().cloned();
        name.unwrap_or_else(|| words::copy(&part.of))
    }

    /// What to do about it, one sentence.
    pub fn advice(&self) -> &'static str {
        match self.kind {
            FaultKind::NotWanted | FaultKind::NoSuchPart | FaultKind::LaidTwice => {
                "Take it off the cloth."
            }
            FaultKind::NoSuchOffcut | FaultKind::NoPlace | FaultKind::OtherCloth { .. } => {
                "Lay it on an offcut of its cloth."
            }
            FaultKind::PartsMissing(_) => "Lay the missing parts, or cut it whole.",
            FaultKind::OverEdge
            | FaultKind::InMargin(_)
            | FaultKind::OnHole(_)
            | FaultKind::NearHole(..)
            | FaultKind::OnBlemish(_)
            | FaultKind::Overlaps(_)
            | FaultKind::TooNear(..) => "Move it, or lay again.",
            FaultKind::OffGrain { .. } | FaultKind::UpsideDown { .. } => {
                "Turn it along the grain, or lay again."
            }
            FaultKind::WrongSide => "Turn it over, or lay again.",
            FaultKind::NotAsCut => {
                "Measure the cut piece; if it cannot be used, take the mark away and cut it again."
            }
        }
    }

    /// The same as a finding of this fitting; the remedy takes the part up where that does it.
    pub fn finding(&self, fitting: &str, unit: LengthUnit) -> Finding {
        let cut = matches!(self.kind, FaultKind::NotAsCut);
        let remedy = (!cut).then(|| Edit::Fitting {
            fitting: fitting.to_owned(),
            change: FittingEdit::Lay(LayChange::TakeUp(self.part.clone())),
        });
        Finding {
            gravity: match self.kind {
                FaultKind::PartsMissing(_) | FaultKind::NotAsCut => Gravity::Care,
                _ => Gravity::Unusable,
            },
            place: Place::edge(self.name.clone(), format!("on {}", self.offcut)),
            what: sentence(&self.what(unit)),
            advice: self.advice().to_owned(),
            remedy,
        }
    }
}

fn parts_missing(missing: &[String]) -> String {
    match missing {
        [one] => format!("its {one} does not lie"),
        many => format!("its {} do not lie", many.join(" and ")),
    }
}

/// What is wrong as a sentence about a part.
fn sentence(what: &str) -> String {
    let says_of_whom = ["it ", "its ", "nothing ", "there "];
    let mut letters = what.chars();
    match letters.next() {
        Some(first) if says_of_whom.iter().any(|start| what.starts_with(start)) => {
            format!("{}{}.", first.to_uppercase(), letters.as_str())
        }
        Some(first) if first.is_ascii_digit() => format!("It is {what}."),
        _ => format!("It {what}."),
    }
}
