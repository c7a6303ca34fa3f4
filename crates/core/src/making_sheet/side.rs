//! Whom a step concerns: copies in words, and which side of the body.

use crate::making_order::Step;
use crate::piece::{Copy, Role, Side};

use super::curves::listed;

/// Side of the body that a step is for; `Whole` when it is for both or for none.
pub(super) fn side_of(step: &Step) -> Side {
    let has = |side| step.copies.iter().any(|(_, copy)| copy.side == side);
    match (has(Side::Left), has(Side::Right)) {
        (true, false) => Side::Left,
        (false, true) => Side::Right,
        // Two whole pieces sewn at one side: only the name of the step says which.
        (false, false) if step.key.ends_with(", left") => Side::Left,
        (false, false) if step.key.ends_with(", right") => Side::Right,
        _ => Side::Whole,
    }
}

/// "left", "right", or nothing.
pub(super) fn side_word(side: Side) -> &'static str {
    match side {
        Side::Whole => "",
        Side::Right => "right",
        Side::Left => "left",
    }
}

/// "front yoke, left and right sleeve and lining of front".
pub(super) fn copies_words(copies: &[(String, Copy)]) -> String {
    let mut seen: Vec<(&str, Role)> = Vec::new();
    for (piece, copy) in copies {
        if !seen.contains(&(piece, copy.role)) {
            seen.push((piece, copy.role));
        }
    }
    listed(seen.into_iter().map(|(piece, role)| {
        let has = |side| {
            copies
                .iter()
                .any(|(p, c)| p == piece && c.role == role && c.side == side)
        };
        let sides = match (has(Side::Left), has(Side::Right)) {
            (true, true) => "left and right ",
            (true, false) => "left ",
            (false, true) => "right ",
            (false, false) => "",
        };
        match role {
            Role::Shell => format!("{sides}{piece}"),
            other => format!("{} of {sides}{piece}", role_word(other)),
        }
    }))
}

/// "shell", "lining".
pub(super) fn role_word(role: Role) -> &'static str {
    match role {
        Role::Shell => "shell",
        Role::Lining => "lining",
        Role::Interlining => "interlining",
        Role::FlatLined => "flat lining",
    }
}
