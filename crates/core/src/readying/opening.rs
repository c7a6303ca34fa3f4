//! Where the garment opens to let the body in.

use super::kinds::Role;
use super::read::Read;
use super::reading::{Reading, is_marked};
use super::sewing::{Run, Torso};
use super::wearer::is_long;
use super::what::{Cut, What};
use crate::edge::Finish;
use crate::garment::{Garment, Passing};

/// An opening that is proposed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Opened {
    pub(super) key: String,
    pub(super) name: String,
    pub(super) passes: Passing,
    pub(super) hole: Run,
    pub(super) slit: Run,
    pub(super) certainty: f64,
    pub(super) rests_on: String,
}

/// Where the garment opens.
pub(super) fn openings(garment: &Garment, reading: &Reading) -> Vec<Opened> {
    let mut found = Vec::new();
    let torso = Torso::of(reading);
    let run = |part: Option<(usize, &Read)>, role: Role| -> Run {
        part.map_or(Vec::new(), |(i, read)| {
            read.bits(role).iter().map(|bit| (i, *bit)).collect()
        })
    };
    if torso.tops.iter().any(Option::is_some) {
        let open = |k: usize| {
            let top = torso.tops.get(k).copied().flatten()?;
            (top.1.cut == Cut::Pair).then_some(k)
        };
        let (k, name) = match (open(0), open(1)) {
            (Some(k), None) => (Some(k), "centre front"),
            (_, Some(k)) => (Some(k), "centre back"),
            (None, None) => (None, "neckline"),
        };
        let mut slit = Run::new();
        if let Some(k) = k {
            let (top, low) = (
                torso.tops.get(k).copied().flatten(),
                torso.lows.get(k).copied().flatten(),
            );
            slit.extend(run(top, Role::Centre));
            if top.map(|(i, _)| i) != low.map(|(i, _)| i) {
                slit.extend(run(low, Role::Centre));
            }
        }
        let marked = slit.iter().any(|(i, bit)| {
            garment.pieces.get(*i).is_some_and(|piece| {
                is_marked(piece, &[*bit], |finish| {
                    matches!(
                        finish,
                        Finish::Facing | Finish::Slit | Finish::Placket { .. }
                    )
                })
            })
        });
        found.push(Opened {
            key: "opening: neckline".to_owned(),
            name: name.to_owned(),
            passes: Passing::Head,
            hole: [
                run(torso.tops[0], Role::Neckline),
                run(torso.tops[1], Role::Neckline),
            ]
            .concat(),
            certainty: if marked {
                0.95
            } else if slit.is_empty() {
                0.6
            } else {
                0.75
            },
            rests_on: if slit.is_empty() {
                "nothing is cut as a pair, the neckline has to let the head in".to_owned()
            } else {
                "what is cut as a pair opens in its middle".to_owned()
            },
            slit,
        });
    }
    found.extend(wrist(reading));
    found.extend(waist(reading));
    found
}

fn wrist(reading: &Reading) -> Option<Opened> {
    let one = |what: What| {
        reading
            .reads
            .iter()
            .enumerate()
            .find_map(|(i, read)| Some((i, read.as_ref().filter(|read| read.what == what)?)))
    };
    let (i, sleeve) = one(What::Sleeve)?;
    if !is_long(sleeve) {
        return None;
    }
    let gathered = one(What::Cuff)
        .filter(|(_, cuff)| cuff.attached.is_some_and(|target| target.gathered > 1.05));
    let hole: Run = match gathered {
        Some((k, cuff)) => cuff
            .bits(Role::Attached)
            .iter()
            .map(|bit| (k, *bit))
            .collect(),
        None => sleeve.bits(Role::Hem).iter().map(|bit| (i, *bit)).collect(),
    };
    Some(Opened {
        key: "opening: wrist".to_owned(),
        name: "wrist".to_owned(),
        passes: Passing::Hand,
        hole,
        slit: Vec::new(),
        certainty: 0.85,
        rests_on: "the sleeve is closed to a ring and reaches the wrist".to_owned(),
    })
}

fn waist(reading: &Reading) -> Option<Opened> {
    let read = |i: &usize| Some((*i, reading.reads.get(*i)?.as_ref()?));
    let has_bodice = Torso::of(reading).lows.iter().any(Option::is_some);
    let legs: Vec<usize> = (0..reading.reads.len())
        .filter(|i| read(i).is_some_and(|(_, r)| matches!(r.what, What::FrontLeg | What::BackLeg)))
        .collect();
    let chain = if reading.chain.is_empty() {
        &legs
    } else {
        &reading.chain
    };
    if has_bodice || chain.is_empty() {
        return None;
    }
    let hole = chain
        .iter()
        .filter_map(read)
        .flat_map(|(i, panel)| panel.bits(Role::Waist).iter().map(move |bit| (i, *bit)))
        .collect();
    let slit = chain.last().and_then(read).map_or(Run::new(), |(i, back)| {
        back.bits(if legs.is_empty() {
            Role::Backer
        } else {
            Role::Rise
        })
        .iter()
        .map(|bit| (i, *bit))
        .collect()
    });
    Some(Opened {
        key: "opening: waist".to_owned(),
        name: "centre back".to_owned(),
        passes: Passing::Trunk,
        hole,
        slit,
        certainty: 0.7,
        rests_on: "a waist that fits has to open; behind, where nothing else is told".to_owned(),
    })
}
