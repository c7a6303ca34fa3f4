//! Pins: put up, taken out, and following what they are pinned to.

use super::limits::{MOVES, length, name, number};
use super::{EditError, missing, put};
use crate::alteration::Carried;
use crate::edge::OutlinePoint;
use crate::measuring::{Measurement, PiecePoint};
use crate::pins::{Pin, PinnedTo};
use crate::project::Project;

/// Measurements that may be added up in one pin.
const MOST: f64 = 200.0;

impl Project {
    pub(super) fn put_pin(&mut self, pin: &Pin) -> Result<(), EditError> {
        limits(pin)?;
        if self.pinned_garment(pin).is_none() {
            let (what, name) = match &pin.on {
                PinnedTo::Garment(name) => ("garment", name),
                PinnedTo::Fitting(name) => ("fitting", name),
            };
            return Err(missing(what, name));
        }
        put(&mut self.pins, pin.clone(), |pin| &pin.name);
        Ok(())
    }

    /// Takes out the pins of what is gone.
    pub(super) fn drop_pins(&mut self) {
        let mut pins = std::mem::take(&mut self.pins);
        pins.retain(|pin| self.pinned_garment(pin).is_some());
        self.pins = pins;
    }

    /// Pins on a garment and on its fittings follow when its pieces are cut, joined or renamed.
    pub(super) fn follow_pins(&mut self, garment: &str, carried: &Carried) {
        if *carried == Carried::default() {
            return;
        }
        let mut pins = std::mem::take(&mut self.pins);
        for pin in &mut pins {
            if self.pinned_garment(pin).is_some_and(|g| g.name == garment) {
                pin.measures = pin.measures.followed(carried);
            }
        }
        self.pins = pins;
    }
}

/// A pin with a name, places on edges and a height that makes sense.
pub(super) fn limits(pin: &Pin) -> Result<(), EditError> {
    name("pin", &pin.name)?;
    measured(&pin.name, &pin.measures)
}

fn measured(pin: &str, measures: &Measurement) -> Result<(), EditError> {
    match measures {
        Measurement::Edge(_) => Ok(()),
        Measurement::Stretch { from, to, .. } => {
            [from, to].into_iter().try_for_each(|at| share(pin, *at))
        }
        Measurement::Between { from, to, .. } | Measurement::Across { from, to, .. } => {
            [from, to].into_iter().try_for_each(|at| point(pin, at))
        }
        Measurement::Sum(all) => {
            number(
                format!("pin {pin}: how many measurements it adds up"),
                all.len() as f64,
                1.0,
                MOST,
            )?;
            all.iter().try_for_each(|one| measured(pin, one))
        }
        Measurement::Girth { below, .. } => length(format!("pin {pin}: its height"), *below, MOVES),
    }
}

fn point(pin: &str, at: &PiecePoint) -> Result<(), EditError> {
    let on = |at: &OutlinePoint| share(pin, at.fraction);
    match at {
        PiecePoint::On(at) => on(at),
        PiecePoint::Inside {
            from,
            to,
            share: between,
        } => {
            on(from)?;
            on(to)?;
            share(pin, *between)
        }
        PiecePoint::Dot(_) => Ok(()),
    }
}

fn share(pin: &str, value: f64) -> Result<(), EditError> {
    number(
        format!("pin {pin}: a place on an edge"),
        value,
        -1e-6,
        1.0 + 1e-6,
    )
}
