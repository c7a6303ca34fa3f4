//! Ease over everything that is worn underneath, girth by girth; with layers left out, what changes.

use super::stack::Stack;
use super::under::pads_under;
use super::{Together, Worn};
use crate::ease::cloth_term;
use crate::measure::Measure;
use crate::pad::measured_over;
use crate::piece::Role;
use crate::units::Mm;

/// One girth of a garment over what is worn under it.
#[derive(Debug, Clone, PartialEq)]
pub struct Room {
    /// Name of the tape line.
    pub name: String,
    /// The measure it answers to.
    pub measure: Measure,
    /// The bare body, its share.
    pub body: Mm,
    /// What lies underneath, innermost first, each with what it adds to the girth.
    pub layers: Vec<RoomOver>,
    /// What pads add.
    pub pads: Mm,
    /// What the garment's own cloth takes up.
    pub own: Mm,
    /// What the garment measures.
    pub garment: Mm,
}

/// What one layer adds to a girth.
#[derive(Debug, Clone, PartialEq)]
pub struct RoomOver {
    /// The layer.
    pub stack: Stack,
    /// What it adds: `2 pi` times its thickness, by the tape line's share.
    pub adds: Mm,
}

impl Room {
    /// The girth over all that is underneath: what the garment lies on.
    pub fn outer(&self) -> Mm {
        let layers: f64 = self.layers.iter().map(|layer| layer.adds.0).sum();
        self.body + Mm(layers) + self.pads
    }

    /// What is left between that and the garment, its own cloth taken off: below 0 it is too tight.
    pub fn ease(&self) -> Mm {
        self.garment - self.outer() - self.own
    }
}

/// Every girth of the garment at this place of an outfit. Girths the garment hangs free at are among them.
pub fn rooms(together: &Together, place: usize) -> Vec<Room> {
    let Some(worn) = together.layers.get(place) else {
        return Vec::new();
    };
    let pads = pads_under(together, place);
    let rows = worn.adapted.ease.iter().filter(|row| row.is_girth);
    rows.map(|row| {
        let body = &worn.adapted.fitting.body;
        let share = share_of(worn, &row.name);
        let stacks = together.stacks_under(place, row.measure);
        let layers: Vec<RoomOver> = stacks
            .into_iter()
            .map(|stack| RoomOver {
                adds: Mm(share * cloth_term(&[stack.thickness], Mm(0.0)).0),
                stack,
            })
            .collect();
        let bare = body.mm(row.measure);
        let ring = bare + Mm(layers.iter().map(|layer| layer.adds.0).sum::<f64>() / share);
        let padded = measured_over(&pads, body, row.measure, ring) - ring;
        Room {
            name: row.name.clone(),
            measure: row.measure,
            body: Mm(share * bare.0),
            layers,
            pads: Mm(share * padded.0),
            own: Mm(share * own(worn).0),
            garment: row.garment.1,
        }
    })
    .collect()
}

/// What the garment's own cloth takes up at a girth, as the adaptation reckons it: `pi t` of its shell, `2 pi t` of every
/// layer inside it.
fn own(worn: &Worn) -> Mm {
    let adapted = &worn.adapted;
    let thickness = |role: &Role| {
        let own = adapted.fitting.cloths.get(role);
        let cloth = own.or_else(|| adapted.made.cloths.get(role));
        cloth.map_or(Mm(0.0), |cloth| cloth.thickness)
    };
    let cut = |role: &&Role| adapted.made.pieces.iter().any(|p| p.copies_in(**role) > 0);
    let inner = [Role::Lining, Role::Interlining, Role::FlatLined];
    let inside: Vec<Mm> = inner.iter().filter(cut).map(thickness).collect();
    cloth_term(&inside, thickness(&Role::Shell))
}

fn share_of(worn: &Worn, tape: &str) -> f64 {
    let tapes = worn.adapted.tape_lines.iter();
    tapes
        .filter(|line| line.name == tape)
        .map(|line| line.share)
        .find(|share| *share > 0.0)
        .unwrap_or(1.0)
}
