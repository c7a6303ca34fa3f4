//! A skirt levelled over pads: its waist edge is raised, its hem stays straight on grain.

use std::sync::Arc;

use super::Worn;
use super::ring::WaistRing;
use crate::alteration::{Alteration, ShapeChange};
use crate::edit::Edit;
use crate::fitting::Fitting;
use crate::pad::{Pad, longer_over};
use crate::units::Mm;

/// Places along one edge at which it is raised.
const PLACES: u32 = 13;

/// How a garment that hangs from the waist is levelled over pads.
#[derive(Debug, Clone, PartialEq)]
pub struct Levelled {
    /// From the centre front, 0, to the centre back, 1: how much longer the way down becomes there.
    pub profile: Vec<(f64, Mm)>,
    /// Where it is most.
    pub most: (f64, Mm),
    /// How much of that its fitting has raised already, at the same place.
    pub raised: Mm,
    /// The steps of hand work that raise the waist edge, piece by piece.
    pub steps: Vec<Alteration>,
}

/// How the garment is levelled over these pads; `None` when it does not hang from a ring of waist edges, or no pad makes
/// a difference.
pub fn levelled(worn: &Worn, pads: &[Pad]) -> Option<Levelled> {
    let ring = WaistRing::of(worn)?;
    let profile: Vec<(f64, Mm)> = (0..=40)
        .map(|i| f64::from(i) / 40.0)
        .map(|round| (round, longer_over(pads, round)))
        .collect();
    let most = profile
        .iter()
        .copied()
        .max_by(|a, b| a.1.0.total_cmp(&b.1.0))
        .filter(|most| most.1.0 > 0.0)?;
    let place = |i: u32| f64::from(i) / f64::from(PLACES - 1);
    let steps = ring.parts.iter().filter_map(|part| {
        let by: Vec<Mm> = (0..PLACES)
            .map(|i| part.at_start + (part.at_end - part.at_start) * place(i))
            .map(|round| longer_over(pads, round))
            .collect();
        let any = by.iter().any(|by| by.0 > 0.0);
        any.then(|| raise(&part.edge.piece, &part.edge.edge, by))
    });
    let steps: Vec<Alteration> = steps.collect();
    let raised = raised_at(&ring, &worn.adapted.fitting, most.0);
    Some(Levelled {
        profile,
        most,
        raised,
        steps,
    })
}

fn raise(piece: &str, edge: &str, by: Vec<Mm>) -> Alteration {
    ShapeChange::Raise {
        edge: edge.to_owned(),
        by,
    }
    .of(piece)
}

/// What the fitting's own steps have raised at a place of the ring.
fn raised_at(ring: &WaistRing, fitting: &Fitting, round: f64) -> Mm {
    let mut most: f64 = 0.0;
    for part in &ring.parts {
        let (from, to) = (part.at_start, part.at_end);
        let inside = (from.min(to) - 1e-9..=from.max(to) + 1e-9).contains(&round);
        if !inside || (to - from).abs() < 1e-12 {
            continue;
        }
        let share = ((round - from) / (to - from)).clamp(0.0, 1.0);
        let raised: f64 = fitting
            .alterations
            .iter()
            .filter_map(|step| match step {
                Alteration::Shape {
                    piece,
                    change: ShapeChange::Raise { edge, by },
                } if *piece == part.edge.piece && *edge == part.edge.edge => Some(at(by, share)),
                _ => None,
            })
            .sum();
        most = most.max(raised);
    }
    Mm(most)
}

/// The amount at a share of the way, between the places given.
fn at(by: &[Mm], share: f64) -> f64 {
    let steps = by.len().saturating_sub(1);
    let place = share * steps as f64;
    let low = (place.floor() as usize).min(steps.saturating_sub(1));
    let value = |i: usize| by.get(i).map_or(0.0, |by| by.0);
    value(low) + (value(low + 1) - value(low)) * (place - low as f64)
}

impl Levelled {
    /// The change that levels the fitting: steps that raised these edges before make way for the new ones.
    pub fn edit(&self, fitting: &Arc<Fitting>) -> Edit {
        let mut next = Fitting::clone(fitting);
        let same = |step: &Alteration| {
            self.steps.iter().any(|new| match (step, new) {
                (
                    Alteration::Shape {
                        piece,
                        change: ShapeChange::Raise { edge, .. },
                    },
                    Alteration::Shape {
                        piece: other,
                        change: ShapeChange::Raise { edge: of, .. },
                    },
                ) => piece == other && edge == of,
                _ => false,
            })
        };
        next.alterations.retain(|step| !same(step));
        next.alterations.extend(self.steps.iter().cloned());
        Edit::PutFitting(Arc::new(next))
    }
}
