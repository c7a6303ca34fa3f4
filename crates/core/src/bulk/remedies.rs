//! What helps against a stack that is too thick: every change is tried out, and said with what it gives.

use std::sync::Arc;

use super::ground::Ground;
use super::section::Work;
use super::stacks::{self, Stack};
use super::words::{seam_kind, thick};
use crate::adapt::Adapted;
use crate::alteration::{Alteration, PiecesChange, SeamChange, turn_of_cloth};
use crate::cloth::Cloth;
use crate::dressing::{edit_of, made};
use crate::edge::Finish;
use crate::edit::{Edit, FittingEdit};
use crate::machine::Machine;
use crate::making_order::By;
use crate::piece::{Copy, Role};
use crate::seams::{Relation, Seam, SeamKind, Stretch};
use crate::units::{LengthUnit, Mm};

/// Thinnest cloth that is offered for a lining, mm (silk habotai of 8 momme, 0.06 to 0.10: fact sheet D3, from memory).
const THINNEST: f64 = 0.06;

/// Something that helps.
#[derive(Debug, Clone, PartialEq)]
pub struct Remedy {
    /// What is done, and what it gives.
    pub words: String,
    /// The same as a change to the project, where one change does it.
    pub edit: Option<Edit>,
    /// How thick the stack is then, under the foot; `None` where it does not change.
    pub becomes: Option<Mm>,
    /// Is that enough for the machine?
    pub is_enough: bool,
}

/// What helps, best first; by hand always helps and comes last.
pub(super) fn remedies(
    ground: &Ground<'_>,
    stack: &Stack,
    machine: &Machine,
    unit: LengthUnit,
) -> Vec<Remedy> {
    let trial = Trial {
        ground,
        stack,
        machine,
        unit,
    };
    let mut all: Vec<Remedy> = trial
        .seams()
        .iter()
        .flat_map(|name| trial.of_seam(name))
        .collect();
    all.extend(
        [Role::Interlining, Role::FlatLined, Role::Lining]
            .map(|role| trial.thinner(role))
            .into_iter()
            .flatten(),
    );
    all.extend(trial.line_to_the_edge());
    // What is enough first, the smaller change before the larger; then what helps most.
    all.sort_by(|x, y| {
        let left = |r: &Remedy| match r.becomes {
            Some(mm) if !r.is_enough => mm.0,
            None if !r.is_enough => f64::INFINITY,
            _ => 0.0,
        };
        left(x).total_cmp(&left(y))
    });
    all.push(trial.by_hand());
    all
}

struct Trial<'a, 'g> {
    ground: &'a Ground<'g>,
    stack: &'a Stack,
    machine: &'a Machine,
    unit: LengthUnit,
}

impl<'g> Trial<'_, 'g> {
    fn edit(&self, change: FittingEdit) -> Edit {
        Edit::Fitting {
            fitting: self.ground.adapted.fitting.name.clone(),
            change,
        }
    }

    /// Names of the seam itself and of those it crosses.
    fn seams(&self) -> Vec<&'g str> {
        let is_here =
            |name: &str| name == self.stack.name || self.stack.meets.iter().any(|m| m == name);
        let names = self.ground.seams().iter().map(|seam| seam.name.as_str());
        names.filter(|name| is_here(name)).collect()
    }

    /// The same stack on other ground.
    fn tried(&self, ground: &Ground<'g>) -> Option<Stack> {
        stacks::of_name(ground, &self.stack.name)
            .into_iter()
            .find(|s| s.meets == self.stack.meets && same_work(s.work, self.stack.work))
    }

    fn remedy(&self, ground: &Ground<'g>, what: &str, change: FittingEdit) -> Option<Remedy> {
        let then = self.tried(ground)?;
        let high = |s: &Stack| s.sewn().map_or(Mm(0.0), |heap| heap.thickness);
        let (before, after) = (high(self.stack), high(&then));
        let is_thinner = after.0 < before.0 - 1e-6;
        let is_lower = then.step.0 < self.stack.step.0 - 1e-6;
        // A lower step does not help against what is too thick.
        let is_too_thick = before.0 > self.machine.thickest.0 + 1e-9;
        if !is_thinner && (is_too_thick || !is_lower) {
            return None;
        }
        let fits = |is: Mm, limit: Mm| is.0 <= limit.0 + 1e-9;
        let gives = if is_thinner {
            thick(after, self.unit)
        } else {
            format!(
                "{}, the highest step {}",
                thick(after, self.unit),
                thick(then.step, self.unit)
            )
        };
        Some(Remedy {
            words: format!("{what}: {gives}"),
            edit: Some(self.edit(change)),
            becomes: Some(after),
            is_enough: fits(after, self.machine.thickest) && fits(then.step, self.machine.step),
        })
    }

    /// Grading one of the seams, or sewing it otherwise.
    fn of_seam(&self, name: &'g str) -> Vec<Remedy> {
        let mut found = Vec::new();
        if !self.ground.graded.contains(name) {
            let mut ground = self.ground.clone();
            ground.graded.insert(name);
            let change = FittingEdit::SetGraded(name.to_owned(), true);
            found.extend(self.remedy(&ground, &format!("Grade the allowances of {name}"), change));
        }
        let seam = self.ground.seams().iter().find(|seam| seam.name == name);
        let now = seam.map(|seam| self.ground.kind(seam));
        let others = match now {
            Some(SeamKind::French | SeamKind::Felled | SeamKind::Bound) => {
                &[SeamKind::Overedged, SeamKind::Plain][..]
            }
            Some(SeamKind::Overedged) => &[SeamKind::Plain][..],
            _ => &[],
        };
        for kind in others {
            let mut ground = self.ground.clone();
            ground.kinds.insert(name, *kind);
            let alteration = Alteration::Seam(SeamChange::SetKind {
                seam: name.to_owned(),
                kind: *kind,
            });
            let what = format!("Sew {name} {}", seam_kind(*kind));
            found.extend(self.remedy(&ground, &what, FittingEdit::AddAlteration(alteration)));
        }
        found
    }

    /// A thinner cloth in one of the inner layers, as thin as it must be.
    fn thinner(&self, role: Role) -> Option<Remedy> {
        let heap = self.stack.sewn()?;
        let own = heap
            .layers
            .iter()
            .filter(|l| l.counts && l.role == Some(role))
            .count();
        let now = *self.ground.cloths.get(&role)?;
        if own == 0 || now <= THINNEST {
            return None;
        }
        let over = heap.thickness.0 - self.machine.thickest.0;
        let wanted = now - over.max(0.0) / own as f64;
        // Rounded down to what a label says.
        let wanted = ((wanted * 100.0 + 1e-9).floor() / 100.0).clamp(THINNEST, now);
        let mut ground = self.ground.clone();
        ground.cloths.insert(role, wanted);
        let layer = match role {
            Role::Shell => "shell",
            Role::Lining => "lining",
            Role::Interlining => "interlining",
            Role::FlatLined => "flat lining",
        };
        let cloth = Cloth {
            name: format!("thinner {layer}"),
            thickness: Mm(wanted),
            source: "what the thickest stack leaves".to_owned(),
        };
        let what = format!("Take a {layer} of {}", thick(Mm(wanted), self.unit));
        self.remedy(&ground, &what, FittingEdit::SetCloth(role, Some(cloth)))
    }

    /// Lining sewn along a faced edge in the facing's place. The lining is made where the piece has none.
    fn line_to_the_edge(&self) -> Option<Remedy> {
        if self.stack.work != Work::Faced {
            return None;
        }
        let lining = self.ground.cloths.get(&Role::Lining);
        let shell = self.ground.thickness(Role::Shell);
        let words = match lining {
            Some(lining) => format!(
                "Line to the edge instead of facing it: each turned layer {} instead of {}",
                thick(Mm(*lining), self.unit),
                thick(Mm(shell), self.unit)
            ),
            None => "Line to the edge with thin cloth instead of facing it".to_owned(),
        };
        let plain = Remedy {
            words,
            edit: None,
            becomes: None,
            is_enough: false,
        };
        let Some((edit, becomes)) = self.lined() else {
            return Some(plain);
        };
        let before = self
            .stack
            .sewn()
            .map_or(f64::INFINITY, |heap| heap.thickness.0);
        let is_known = lining.is_some();
        // Known to be no thinner: told, not offered.
        if is_known && before - 1e-6 <= becomes.0 {
            return Some(plain);
        }
        Some(Remedy {
            words: match is_known {
                true => format!("{}: {}", plain.words, thick(becomes, self.unit)),
                false => plain.words,
            },
            edit: Some(edit),
            becomes: is_known.then_some(becomes),
            is_enough: is_known && becomes.0 <= self.machine.thickest.0 + 1e-9,
        })
    }

    /// The steps that line a faced edge, as one change, and how thick the seam is that takes the facing's place.
    fn lined(&self) -> Option<(Edit, Mm)> {
        let adapted = self.ground.adapted;
        let place = &self.stack.place;
        let piece = adapted.made.piece(place.piece.as_ref()?)?;
        let edge = piece.outline.edge(place.part.as_ref()?)?;
        let faced = edge.finish.iter().find(|s| s.finish == Finish::Facing)?;
        let shell = piece.copies.iter().find(|copy| copy.role == Role::Shell)?;
        let mut steps = Vec::new();
        let inside = if piece.copies_in(Role::Lining) > 0 {
            piece.name.clone()
        } else {
            let name = format!("{} lining", piece.name);
            steps.push(Alteration::Pieces(PiecesChange::Lining {
                piece: piece.name.clone(),
                turn_of_cloth: turn_of_cloth(Mm(self.ground.thickness(Role::Shell)), 1),
                name: name.clone(),
            }));
            name
        };
        let side = |piece: &str, role: Role| {
            vec![Stretch {
                piece: piece.to_owned(),
                copy: Copy { role, ..*shell },
                edge: edge.name.clone(),
                from: faced.from,
                to: faced.to,
            }]
        };
        let name = format!("{} of {} to its lining", edge.name, piece.name);
        let is_paired = piece.copies.iter().any(|copy| copy.side != shell.side);
        steps.push(
            SeamChange::Sew(Seam {
                name: name.clone(),
                a: side(&piece.name, Role::Shell),
                b: side(&inside, Role::Lining),
                mirrored: is_paired || piece.fold_edge().is_some(),
                relation: Relation::Equal,
                kind: SeamKind::Plain,
                inserts: Vec::new(),
            })
            .of(),
        );
        let garment = made(&adapted.made, &steps)?;
        let then = Adapted {
            pieces: garment.pieces.clone(),
            made: Arc::new(garment),
            ..Adapted::clone(adapted)
        };
        let ground = Ground::new(&then, None);
        let seam = stacks::of_name(&ground, &name);
        let run = seam.iter().find(|stack| stack.meets.is_empty())?;
        Some((edit_of(adapted, &steps)?, run.sewn()?.thickness))
    }

    fn by_hand(&self) -> Remedy {
        let sewing = super::sewing(self.ground, self.stack);
        let by_hand = |key: &str| self.edit(FittingEdit::SetBy(key.to_owned(), Some(By::Hand)));
        Remedy {
            words: match sewing {
                Some(sewing) => format!("{} by hand", capital(&sewing.key)),
                None => "Sew it by hand".to_owned(),
            },
            edit: sewing.map(|sewing| by_hand(&sewing.key)),
            becomes: None,
            is_enough: true,
        }
    }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// The same stack may lie otherwise once a seam is sewn as another kind.
fn same_work(one: Work, other: Work) -> bool {
    std::mem::discriminant(&one) == std::mem::discriminant(&other)
}
