//! How far an alteration can go before the outline crosses itself.

use super::{Alteration, AlterationError, DartChange, ShapeChange};
use crate::garment::Garment;
use crate::units::Mm;

/// How often the way is halved: to less than a thousandth of what was asked.
const HALVINGS: u32 = 10;

/// What to say of an alteration that makes an outline cross itself: how much of it does not.
pub(super) fn as_far_as(alteration: &Alteration, garment: &Garment) -> AlterationError {
    let asked = size(alteration);
    let goes = |share: f64| {
        let part = part(alteration, share)?;
        Some(part.made(garment).is_ok())
    };
    let (Some(asked), Some(_)) = (asked, goes(0.5)) else {
        return AlterationError::Crosses;
    };
    let (mut goes_to, mut crosses_at) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(goes_to, crosses_at);
        if goes(middle) == Some(true) {
            goes_to = middle;
        } else {
            crosses_at = middle;
        }
    }
    // rounded down to a tenth, so that what is said surely goes
    let most = (asked * goes_to * 10.0).trunc() / 10.0;
    AlterationError::CrossesAfter { most, asked }
}

/// How far it goes, mm; for a way, its length.
fn size(alteration: &Alteration) -> Option<f64> {
    let way = |right: &Mm, up: &Mm| Some(right.0.hypot(up.0));
    let larger = |a: &Mm, b: &Mm| Some(if a.0.abs() < b.0.abs() { b.0 } else { a.0 });
    match alteration {
        Alteration::MoveEdge { outwards: by, .. } | Alteration::LengthenAt { by, .. } => Some(by.0),
        Alteration::MoveCorner { right, up, .. } => way(right, up),
        Alteration::Shape { change, .. } => match change {
            ShapeChange::MovePoints { right, up, .. }
            | ShapeChange::MoveStretch { right, up, .. } => way(right, up),
            ShapeChange::Lengthen { by, .. } | ShapeChange::Spread { by, .. } => Some(by.0),
            ShapeChange::Widen {
                at_start, at_end, ..
            } => larger(at_start, at_end),
            ShapeChange::Raise { by, .. } => by
                .iter()
                .map(|by| by.0)
                .max_by(|a, b| a.abs().total_cmp(&b.abs())),
            _ => None,
        },
        Alteration::Dart { change, .. } => match change {
            DartChange::Move { along, .. } => Some(along.0),
            DartChange::MoveTip { right, up, .. } => way(right, up),
            _ => None,
        },
        _ => None,
    }
}

/// The same alteration, only a share of the way.
fn part(alteration: &Alteration, share: f64) -> Option<Alteration> {
    let mut part = alteration.clone();
    let scale = |by: &mut Mm| by.0 *= share;
    match &mut part {
        Alteration::MoveEdge { outwards: by, .. } | Alteration::LengthenAt { by, .. } => scale(by),
        Alteration::MoveCorner { right, up, .. } => [right, up].into_iter().for_each(scale),
        Alteration::Shape { change, .. } => match change {
            ShapeChange::MovePoints { right, up, .. }
            | ShapeChange::MoveStretch { right, up, .. } => {
                [right, up].into_iter().for_each(scale);
            }
            ShapeChange::Lengthen { by, .. } | ShapeChange::Spread { by, .. } => scale(by),
            ShapeChange::Widen {
                at_start, at_end, ..
            } => [at_start, at_end].into_iter().for_each(scale),
            ShapeChange::Raise { by, .. } => by.iter_mut().for_each(scale),
            _ => return None,
        },
        Alteration::Dart { change, .. } => match change {
            DartChange::Move { along, .. } => scale(along),
            DartChange::MoveTip { right, up, .. } => [right, up].into_iter().for_each(scale),
            _ => return None,
        },
        _ => return None,
    }
    Some(part)
}
