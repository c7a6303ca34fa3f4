//! Curves that are sewn: can they be guided round, and do their allowances lie when they are turned?

use std::collections::BTreeMap;

use super::ground::{End, Ground};
use super::section::{Lies, Work};
use crate::check::sewing::tightest_bend;
use crate::edge::EdgeRef;
use crate::finding::Place;
use crate::machine::Machine;
use crate::units::Mm;

/// A curve that is sewn.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// Which edge.
    pub edge: EdgeRef,
    /// The same as a place.
    pub place: Place,
    /// Name of the seam it is sewn in.
    pub seam: String,
    /// Its tightest radius.
    pub radius: Mm,
    /// Does it bend into the piece, like a neckline?
    pub hollow: bool,
    /// Its allowance.
    pub allowance: Mm,
    /// Is it turned, so that its allowance lies inside?
    pub turned: bool,
    /// How much tighter it is than the machine can be guided round; 0 where it can.
    pub too_tight: Mm,
    /// Is there no room for its allowance inside when it is turned? Then the allowance is as wide as the curve is round.
    pub no_room: bool,
}

impl Curve {
    /// Allowance with which it lies when turned: half the radius, to the half millimetre below (common practice, no
    /// source). `None` under 1 mm.
    pub fn good(&self) -> Option<Mm> {
        let good = Mm((self.radius.0 / 2.0 * 2.0).floor() / 2.0);
        (good.0 >= 1.0).then_some(good)
    }
}

/// Every curve that is sewn in a seam, tightest first; an edge that is sewn twice is told once.
pub(super) fn curves(ground: &Ground<'_>, machine: &Machine) -> Vec<Curve> {
    let mut found: BTreeMap<EdgeRef, Curve> = BTreeMap::new();
    for seam in ground.seams() {
        let (work, _) = ground.work(seam);
        let turned = matches!(work, Work::Seam(_, Lies::Turned));
        for s in End::A.of(seam).iter().chain(End::B.of(seam)) {
            let Some(edge) = ground.edge(s) else { continue };
            let (low, high) = (s.from.min(s.to), s.from.max(s.to));
            let bend = edge.line.between(low, high).and_then(|l| tightest_bend(&l));
            let Some(bend) = bend else { continue };
            let at = EdgeRef::new(&s.piece, &s.edge);
            let finish = edge.finish_at(f64::midpoint(low, high));
            let allowance: f64 = ground.strips(&s.piece, &s.edge, finish).iter().sum();
            let curve = Curve {
                place: Place::edge(&s.piece, &s.edge),
                edge: at.clone(),
                seam: seam.name.clone(),
                radius: Mm(bend.radius),
                hollow: bend.hollow,
                allowance: Mm(allowance),
                turned,
                too_tight: Mm((machine.radius.0 - bend.radius).max(0.0)),
                no_room: turned && !bend.hollow && allowance >= bend.radius,
            };
            // Told with the seam in which it is turned, if any.
            match found.get(&at) {
                Some(before) if before.turned || !turned => {}
                _ => {
                    found.insert(at, curve);
                }
            }
        }
    }
    let mut all: Vec<Curve> = found.into_values().collect();
    all.sort_by(|a, b| a.radius.0.total_cmp(&b.radius.0));
    all
}
