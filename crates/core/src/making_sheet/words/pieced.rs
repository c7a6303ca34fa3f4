//! What is said of copies that are cut in parts.

use super::Says;
use crate::lay_plan::{CopyRef, PiecingKind};
use crate::making_sheet::CutRow;
use crate::making_sheet::curves::listed;
use crate::making_sheet::side::copies_words;
use crate::units::{LengthUnit, Mm};

/// "Sew the two parts of back together, along the former fold."
pub(super) fn says(
    of: &CopyRef,
    kind: PiecingKind,
    parts: usize,
    allowance: Mm,
    unit: LengthUnit,
) -> Says {
    let copy = copies_words(&[(of.piece.clone(), of.copy)]);
    let copy = match of.number {
        0 => copy,
        more => format!("{copy} ({} of those alike)", ordinal(more + 1)),
    };
    let seams = parts.saturating_sub(1);
    let sentence = match kind {
        PiecingKind::AlongFold => {
            let parts = counted(parts);
            format!("Sew the {parts} parts of {copy} together, along the former fold.")
        }
        PiecingKind::Patch if seams == 1 => format!("Sew the patch to {copy}."),
        PiecingKind::Patch => format!("Sew the {} patches to {copy}.", counted(seams)),
        PiecingKind::Strip => format!("Join the {} parts of {copy} end to end.", counted(parts)),
    };
    let notes = vec![
        format!(
            "Right sides together; allowance {}.",
            unit.show_chosen(allowance)
        ),
        "Trim what sticks out beyond the cut line.".to_owned(),
    ];
    Says {
        sentence,
        notes,
        press: None,
    }
}

/// "Cut in parts: back in 2, cuff in 4."; nothing when everything is cut whole.
pub(super) fn parts_note(rows: &[CutRow]) -> Option<String> {
    let pieced = rows.iter().filter(|row| row.parts > row.count);
    let words: Vec<String> = pieced
        .map(|row| format!("{} in {}", row.piece, row.parts))
        .collect();
    (!words.is_empty()).then(|| format!("Cut in parts: {}.", listed(words.into_iter())))
}

fn counted(number: usize) -> String {
    match number {
        2 => "two".to_owned(),
        3 => "three".to_owned(),
        4 => "four".to_owned(),
        5 => "five".to_owned(),
        6 => "six".to_owned(),
        other => other.to_string(),
    }
}

fn ordinal(number: usize) -> String {
    match number {
        2 => "2nd".to_owned(),
        3 => "3rd".to_owned(),
        other => format!("{other}th"),
    }
}
