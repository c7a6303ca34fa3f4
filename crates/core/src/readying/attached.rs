//! The seams of collars, waistbands and cuffs: each belongs to the proposal that says what the band is.

use super::kinds::Role;
use super::reading::Reading;
use super::sewing::{Run, Sewn, Torso, before, run, sewn};
use super::sides::turned;
use super::what::{Cut, What};

/// What the bands are sewn to, and their own ends.
pub(super) fn seams(reading: &Reading, torso: Torso<'_>) -> Vec<Sewn> {
    let mut made: Vec<Sewn> = Vec::new();
    for (i, read) in reading.reads.iter().enumerate() {
        let Some((read, target)) = read.as_ref().and_then(|read| Some((read, read.attached?)))
        else {
            continue;
        };
        let edge = run(i, &before(read, read.bits(Role::Attached), target.share));
        let (name, other): (&str, Run) = match read.what {
            What::Collar => ("collar to neckline", neckline(torso, read.cut)),
            What::Waistband => ("waistband", waist(reading, read.cut)),
            What::Cuff => ("cuff to sleeve", hem(reading)),
            _ => continue,
        };
        if other.is_empty() {
            continue;
        }
        let seam = sewn(reading, name, name, edge, other);
        made.push(Sewn {
            of_band: Some(i),
            certainty: read.certainty,
            ..seam
        });
        if read.what == What::Cuff {
            let (one, two) = (
                turned(read.bits(Role::EndOne)),
                read.bits(Role::EndTwo).to_vec(),
            );
            let seam = sewn(reading, name, "cuff ends", run(i, &one), run(i, &two));
            made.push(Sewn {
                of_band: Some(i),
                ..seam
            });
        }
    }
    made
}

/// The neckline from the centre back to the front; all round it for a collar that is cut whole.
fn neckline(torso: Torso<'_>, cut: Cut) -> Run {
    let part = |k: usize| {
        torso
            .tops
            .get(k)
            .copied()
            .flatten()
            .map_or(Vec::new(), |(i, read)| run(i, read.bits(Role::Neckline)))
    };
    let mut half = part(1);
    half.extend(part(0).iter().rev().map(|(i, bit)| (*i, bit.turned())));
    round(half, cut)
}

fn waist(reading: &Reading, cut: Cut) -> Run {
    let read = |i: &usize| Some((*i, reading.reads.get(*i)?.as_ref()?));
    let mut half: Run = reading
        .chain
        .iter()
        .filter_map(read)
        .flat_map(|(i, panel)| run(i, panel.bits(Role::Waist)))
        .collect();
    if half.is_empty() {
        for what in [What::FrontLeg, What::BackLeg] {
            let found =
                reading.reads.iter().enumerate().find_map(|(i, read)| {
                    Some((i, read.as_ref().filter(|read| read.what == what)?))
                });
            if let Some((i, leg)) = found {
                let bits = leg.bits(Role::Waist);
                half.extend(run(
                    i,
                    &if what == What::FrontLeg {
                        bits.to_vec()
                    } else {
                        turned(bits)
                    },
                ));
            }
        }
    }
    round(half, cut)
}

/// A half for a band on the fold; for one that is cut whole, there and back again over the other half.
fn round(half: Run, cut: Cut) -> Run {
    if cut == Cut::Fold {
        return half;
    }
    let mut whole: Run = half
        .iter()
        .rev()
        .map(|(i, bit)| (*i, bit.turned()))
        .collect();
    whole.extend(half);
    whole
}

fn hem(reading: &Reading) -> Run {
    reading
        .reads
        .iter()
        .enumerate()
        .find_map(|(i, read)| Some((i, read.as_ref().filter(|read| read.what == What::Sleeve)?)))
        .map_or(Vec::new(), |(i, sleeve)| {
            turned(sleeve.bits(Role::Hem))
                .iter()
                .map(|bit| (i, *bit))
                .collect()
        })
}
