//! Along the grain, with the nap, the right side up.

use petitoile_core::Degrees;
use petitoile_core::cloth::Offcut;
use petitoile_core::piece::Face;

use super::{FaultKind, Lying, PlanFault};

/// An angle off by less is rounding, degrees.
const ROUNDING: f64 = 1e-6;

pub(super) fn check(one: &Lying<'_>, faults: &mut Vec<PlanFault>) {
    let Some(wanted) = &one.wanted else {
        return;
    };
    let mirrored = one.placed.mirrored;
    if !one.offcut.sides_alike && mirrored != mirrored_there(wanted.shape.mirrored, one.offcut) {
        faults.push(one.fault(0.0, FaultKind::WrongSide));
    }
    let in_drawing = if mirrored {
        -wanted.shape.grain.0
    } else {
        wanted.shape.grain.0
    };
    let turn = between(in_drawing + one.placed.turn.0 - one.offcut.grain.0);
    let allowed = wanted.copy.grain_tolerance.0.abs() + one.offcut.grain_doubt.0.abs();
    if turn.abs() <= allowed + ROUNDING {
        return;
    }
    let either_way = wanted.copy.upside_down && !one.offcut.nap;
    let half_turn = between(turn + 180.0);
    if !either_way && turn.abs() > 90.0 {
        faults.push(one.fault(
            0.0,
            FaultKind::UpsideDown {
                nap: one.offcut.nap,
            },
        ));
    }
    let off = if turn.abs() > 90.0 {
        half_turn.abs()
    } else {
        turn.abs()
    };
    if off <= allowed + ROUNDING {
        return;
    }
    let grain = (one.offcut.grain.0 + 90.0).to_radians();
    let length = one.outline.length_along(libm::cos(grain), libm::sin(grain));
    let run_off = length * (libm::sin(off.to_radians()) - libm::sin(allowed.to_radians()));
    faults.push(one.fault(
        run_off.max(0.0),
        FaultKind::OffGrain {
            off: Degrees(off),
            allowed: Degrees(allowed),
        },
    ));
}

/// Is a copy mirrored on this offcut that is mirrored, or not, on cloth that shows its right side?
fn mirrored_there(on_right_side: bool, offcut: &Offcut) -> bool {
    match offcut.face {
        Face::Right => on_right_side,
        Face::Wrong => !on_right_side,
    }
}

/// The same turn, from -180 to 180 degrees.
fn between(turn: f64) -> f64 {
    libm::remainder(turn, 360.0)
}
