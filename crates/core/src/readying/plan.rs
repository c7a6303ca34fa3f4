//! All that is proposed for a garment, worked out once: the readings, and what follows from them.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::answers::Answers;
use super::kinds::{Family, Role};
use super::levels::{LevelLine, levels};
use super::opening::{Opened, openings};
use super::read::Read;
use super::reading::{Reading, read};
use super::sewing::{Sewn, length, relation, seams};
use super::taping::{Taped, tapes};
use super::wearer::{self, Wearer, wearers};
use super::what::Cut;
use crate::body::Body;
use crate::garment::Garment;
use crate::piece::Frame;
use crate::seams::Relation;

/// The key of the tapes, and its ways.
pub(super) const TAPES: &str = "tape lines";
pub(super) const AS_PROPOSED: &str = "as proposed";
pub(super) const GIRTHS_ONLY: &str = "girths only";

/// What follows from a garment, the bodies that are known and the answers.
pub(super) struct Plan {
    pub(super) reading: Reading,
    /// Seams as they are proposed or were answered, by their proposals.
    pub(super) seams: Vec<Sewn>,
    /// Other ways of the seams, by the keys of their proposals.
    pub(super) other_seams: BTreeMap<String, Vec<Sewn>>,
    pub(super) wearers: Vec<Wearer>,
    /// The body that lines and tapes are reckoned with.
    pub(super) body: Arc<Body>,
    pub(super) levels: Vec<LevelLine>,
    pub(super) tapes: Vec<Taped>,
    pub(super) openings: Vec<Opened>,
}

impl Plan {
    pub(super) fn of(garment: &Garment, known: &[Arc<Body>], answers: &Answers) -> Self {
        let reading = read(garment, answers);
        let proposed = seams(&reading);
        let mut other_seams: BTreeMap<String, Vec<Sewn>> = BTreeMap::new();
        let mut taken = Vec::new();
        for seam in &proposed {
            let others = if seam.of_band.is_none()
                && proposed.iter().filter(|s| s.key == seam.key).count() == 1
            {
                others(&reading, seam)
            } else {
                Vec::new()
            };
            let chosen = answers
                .way(&seam.key)
                .and_then(|way| others.iter().find(|other| other.way == way));
            taken.push(chosen.unwrap_or(seam).clone());
            let mut all = others.clone();
            if chosen.is_some() {
                all.retain(|other| Some(other) != chosen);
                all.push(seam.clone());
            }
            other_seams.insert(seam.key.clone(), all);
        }
        let body_is_known = !garment.made_for.measures.is_empty();
        let wearers = if body_is_known {
            Vec::new()
        } else {
            wearers(&reading, known, answers.way(wearer::KEY))
        };
        let body = wearers
            .first()
            .map_or_else(|| garment.made_for.clone(), |wearer| wearer.body.clone());
        let levels = levels(&reading, &body);
        let tapes = tapes(&reading, &levels, &body);
        let openings = openings(garment, &reading);
        Self {
            reading,
            seams: taken,
            other_seams,
            wearers,
            body,
            levels,
            tapes,
            openings,
        }
    }

    pub(super) fn read(&self, piece: usize) -> Option<&Read> {
        self.reading.reads.get(piece)?.as_ref()
    }

    /// How two sides of a seam are brought together.
    pub(super) fn relation(&self, seam: &Sewn) -> Relation {
        relation(
            length(&self.reading, &seam.a),
            length(&self.reading, &seam.b),
        )
    }

    /// Frames that have lines, in order.
    pub(super) fn frames(&self) -> Vec<Frame> {
        let mut frames: Vec<Frame> = self
            .levels
            .iter()
            .filter_map(|line| self.read(line.piece).and_then(frame))
            .collect();
        frames.sort();
        frames.dedup();
        frames
    }
}

/// The key of the body lines of a frame.
pub(super) fn lines_key(frame: Frame) -> String {
    format!("body lines: {}", frame.label())
}

/// The part of the body a piece lies on; `None` for one that follows what it is sewn to.
pub(super) fn frame(read: &Read) -> Option<Frame> {
    match read.what.family() {
        Family::Bodice | Family::Yoke | Family::Under | Family::Panel => Some(Frame::Torso),
        Family::Sleeve => Some(Frame::Arm),
        Family::Leg => Some(Frame::Leg),
        Family::Band => None,
    }
}

/// Sides within this share of each other's length may be mates.
const ALIKE: f64 = 0.04;
/// Other mates that are offered for a seam.
const OFFERED: usize = 2;

/// Other mates of the first side of a seam: sides of other pieces of about its length.
fn others(reading: &Reading, seam: &Sewn) -> Vec<Sewn> {
    if seam.is_centre {
        return Vec::new();
    }
    let own = length(reading, &seam.a);
    let pieces: Vec<usize> = seam.a.iter().map(|(piece, _)| *piece).collect();
    let mut found: Vec<(f64, Sewn)> = Vec::new();
    for (i, read) in reading.reads.iter().enumerate() {
        let Some(read) = read.as_ref().filter(|_| !pieces.contains(&i)) else {
            continue;
        };
        for role in read.roles.keys().copied() {
            if is_fold(read, role) || role == Role::Extension {
                continue;
            }
            let b: Vec<_> = read.bits(role).iter().map(|bit| (i, *bit)).collect();
            let off = libm::log(length(reading, &b).max(1e-9) / own.max(1e-9)).abs();
            if off > ALIKE || b == seam.b {
                continue;
            }
            found.push((
                off,
                Sewn {
                    b,
                    certainty: 0.25 * (1.0 - off / ALIKE),
                    way: format!("to {}, {}", read.what.name(), read.what.edge(role)),
                    ..seam.clone()
                },
            ));
        }
    }
    found.sort_by(|x, y| x.0.total_cmp(&y.0));
    found.truncate(OFFERED);
    found.into_iter().map(|(_, seam)| seam).collect()
}

/// Is the cloth folded along this side?
pub(super) fn is_fold(read: &Read, role: Role) -> bool {
    read.cut == Cut::Fold && fold_role(read) == Some(role)
}

/// The side a piece is folded along when it is cut on the fold.
pub(super) fn fold_role(read: &Read) -> Option<Role> {
    use super::what::What;
    match read.what {
        What::Front
        | What::Back
        | What::FrontYoke
        | What::BackYoke
        | What::FrontBody
        | What::BackBody => Some(Role::Centre),
        What::SkirtFront => Some(Role::Fronter),
        What::SkirtBack => Some(Role::Backer),
        What::Collar | What::Waistband => Some(Role::EndOne),
        What::FrontLeg | What::BackLeg => Some(Role::Rise),
        What::Sleeve | What::SkirtSide | What::Cuff => None,
    }
}
