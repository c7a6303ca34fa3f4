//! Short texts about what is laid: copies, their parts, ways to piece.

use super::parts::across;
use super::{CopyToLay, PiecedWay};
use crate::lay_plan::{CopyRef, PartRef, Piecing, PiecingKind};
use crate::piece::{Role, Side};
use crate::tolerance::JOINING;

/// Which copy: "Back", "Cuff, left", "Front, lining", "Cuff, left, 2nd".
pub fn copy(of: &CopyRef) -> String {
    let side = match of.copy.side {
        Side::Whole => "",
        Side::Right => ", right",
        Side::Left => ", left",
    };
    let role = match of.copy.role {
        Role::Shell => "",
        Role::Lining => ", lining",
        Role::Interlining => ", interlining",
        Role::FlatLined => ", flat lining",
    };
    let number = match of.number {
        0 => String::new(),
        1 => ", 2nd".to_owned(),
        2 => ", 3rd".to_owned(),
        more => format!(", {}th", more + 1),
    };
    format!("{}{side}{role}{number}", of.piece)
}

/// Which part of a copy, as drawn: "left part", "upper part", "main part", "patch 2", "part 3 of 4"; nothing for a copy
/// that is cut whole.
pub fn part_of(piecing: Option<&Piecing>, part: usize) -> String {
    let Some(piecing) = piecing else {
        return String::new();
    };
    let count = piecing.lines.len() + 1;
    match piecing.kind {
        PiecingKind::Patch if part == 0 => "main part".to_owned(),
        PiecingKind::Patch if count == 2 => "patch".to_owned(),
        PiecingKind::Patch => format!("patch {part}"),
        PiecingKind::AlongFold if count == 2 => {
            let across = piecing
                .lines
                .first()
                .map(|(a, b)| across(kurbo::Line::new(*a, *b)));
            let is_level = across.is_some_and(|to| to.x.abs() <= JOINING.0 * to.hypot());
            match (is_level, part) {
                (false, 0) => "left part".to_owned(),
                (false, _) => "right part".to_owned(),
                (true, 0) => "upper part".to_owned(),
                (true, _) => "lower part".to_owned(),
            }
        }
        PiecingKind::AlongFold | PiecingKind::Strip => format!("part {} of {count}", part + 1),
    }
}

/// A copy or its part, by name: "Back, left part", "Cuff, left".
pub fn part(part: &PartRef, piecing: Option<&Piecing>) -> String {
    let copy = copy(&part.of);
    match part_of(piecing, part.part) {
        whole if whole.is_empty() => copy,
        which => format!("{copy}, {which}"),
    }
}

/// How a copy is pieced: as it is offered, or where the way was only made while laying, by its kind.
pub fn way(copy: &CopyToLay, piecing: &Piecing) -> String {
    let offered = copy.pieced.iter().find(|way| way.piecing == *piecing);
    if let Some(offered) = offered {
        return offered.why.clone();
    }
    let count = piecing.lines.len() + 1;
    match piecing.kind {
        PiecingKind::AlongFold => "a seam along the former fold".to_owned(),
        PiecingKind::Patch if count == 2 => "a patch as deep as is missing".to_owned(),
        PiecingKind::Patch => format!("{} patches", count - 1),
        PiecingKind::Strip => format!("joined of {count} strips"),
    }
}

impl PiecedWay {
    /// "a seam at the centre back, hidden under Apron; 1 seam, 2 parts".
    pub fn words(&self) -> String {
        let seams = self.piecing.lines.len();
        let s = if seams == 1 { "" } else { "s" };
        format!("{}; {seams} seam{s}, {} parts", self.why, self.parts.len())
    }
}

impl CopyToLay {
    /// Which copy: "Cuff, left".
    pub fn words(&self) -> String {
        copy(&self.of)
    }
}
