//! A seam left open over a stretch: it is sewn up to there and on from there, on both sides.

use crate::alteration::Carried;
use crate::edge::Finish;
use crate::finding::{Finding, Gravity, Place};
use crate::garment::Garment;
use crate::seams::{Insert, Relation, Seam, Stretch, side_length};
use crate::units::Mm;

use super::finish::spliced;

/// Shares of a seam closer than this are the same place.
const SAME: f64 = 1e-9;

/// The seams of a garment with those along one stretch of an edge left open there, the mate finished alike.
pub(in crate::alteration) struct Opened {
    pub garment: Garment,
    pub carried: Carried,
    pub notes: Vec<Finding>,
}

/// Leaves every seam open that runs over this stretch of an edge.
pub(in crate::alteration) fn left_open(
    garment: &Garment,
    piece: &str,
    edge: &str,
    (from, to): (f64, f64),
    finish: Finish,
) -> Opened {
    let mut opened = Opened {
        garment: garment.clone(),
        carried: Carried::default(),
        notes: Vec::new(),
    };
    opened.garment.seams.clear();
    let mut mates = Vec::new();
    for seam in &garment.seams {
        let gaps = gaps_of(garment, seam, piece, edge, from, to);
        if gaps.is_empty() {
            opened.garment.seams.push(seam.clone());
            continue;
        }
        for side in [&seam.a, &seam.b] {
            for gap in &gaps {
                mates.extend(between(garment, side, gap.0, gap.1));
            }
        }
        let parts = parts_of(garment, seam, &gaps, &mut opened.notes);
        opened.carried.seams.insert(
            seam.name.clone(),
            parts.iter().map(|part| part.name.clone()).collect(),
        );
        opened.notes.push(told(garment, seam, &gaps));
        opened.garment.seams.extend(parts);
    }
    for stretch in mates {
        finish_alike(&mut opened.garment, &stretch, finish);
    }
    opened
}

fn finish_alike(garment: &mut Garment, stretch: &Stretch, finish: Finish) {
    let Some(slot) = garment.pieces.iter_mut().find(|p| p.name == stretch.piece) else {
        return;
    };
    let Some(edge) = slot.outline.edge(&stretch.edge) else {
        return;
    };
    let (from, to) = (stretch.from.min(stretch.to), stretch.from.max(stretch.to));
    if let Ok(piece) = super::with_edge(slot, spliced(edge, from, to, finish)) {
        *slot = std::sync::Arc::new(piece);
    }
}

/// Shares of the seam that lie on this stretch of an edge, on either side, in order, joined where they touch.
pub(in crate::alteration) fn gaps_of(
    garment: &Garment,
    seam: &Seam,
    piece: &str,
    edge: &str,
    from: f64,
    to: f64,
) -> Vec<(f64, f64)> {
    let mut gaps: Vec<(f64, f64)> = Vec::new();
    for side in [&seam.a, &seam.b] {
        let whole = side_length(side, &garment.pieces).map_or(0.0, |mm| mm.0);
        let mut before = 0.0;
        for stretch in side {
            let length = stretch.length(&garment.pieces).map_or(0.0, |mm| mm.0);
            let (low, high) = (stretch.from.min(stretch.to), stretch.from.max(stretch.to));
            let (a, b) = (from.max(low), to.min(high));
            if stretch.piece == piece && stretch.edge == edge && b - a > SAME && whole > 0.0 {
                let share = |at: f64| {
                    (before + length * (at - stretch.from) / (stretch.to - stretch.from)) / whole
                };
                let (x, y) = (share(a), share(b));
                gaps.push((x.min(y), x.max(y)));
            }
            before += length;
        }
    }
    gaps.sort_by(|x, y| x.0.total_cmp(&y.0));
    let mut joined: Vec<(f64, f64)> = Vec::new();
    for gap in gaps {
        match joined.last_mut() {
            Some(last) if gap.0 <= last.1 + SAME => last.1 = last.1.max(gap.1),
            _ => joined.push(gap),
        }
    }
    joined
}

/// The part of a side between two shares of it.
pub(in crate::alteration) fn between(
    garment: &Garment,
    side: &[Stretch],
    from: f64,
    to: f64,
) -> Vec<Stretch> {
    let whole = side_length(side, &garment.pieces).map_or(0.0, |mm| mm.0);
    let mut before = 0.0;
    let mut list = Vec::new();
    for stretch in side {
        let length = stretch.length(&garment.pieces).map_or(0.0, |mm| mm.0);
        if length > 0.0 {
            let place = |share: f64| ((share * whole - before) / length).clamp(0.0, 1.0);
            let (a, b) = (place(from), place(to));
            if b - a > SAME {
                let at = |along: f64| stretch.from + along * (stretch.to - stretch.from);
                list.push(Stretch {
                    from: at(a),
                    to: at(b),
                    ..stretch.clone()
                });
            }
        }
        before += length;
    }
    list
}

/// What is left to sew of a seam: one seam per stretch between the gaps. The first keeps the name.
fn parts_of(
    garment: &Garment,
    seam: &Seam,
    gaps: &[(f64, f64)],
    notes: &mut Vec<Finding>,
) -> Vec<Seam> {
    let mut kept = Vec::new();
    let mut at = 0.0;
    for (from, to) in gaps.iter().copied().chain([(1.0, 1.0)]) {
        if from - at > SAME {
            kept.push((at, from));
        }
        at = to;
    }
    let mut parts: Vec<Seam> = Vec::new();
    for (from, to) in &kept {
        let name = if parts.is_empty() {
            seam.name.clone()
        } else {
            let others = garment.seams.iter().chain(&parts);
            fresh(&seam.name, others.map(|seam| seam.name.as_str()))
        };
        parts.push(Seam {
            name,
            a: between(garment, &seam.a, *from, *to),
            b: between(garment, &seam.b, *from, *to),
            relation: match seam.relation {
                Relation::Eased(by) => Relation::Eased(Mm(by.0 * (to - from))),
                other => other,
            },
            inserts: inserts(&seam.inserts, *from, *to),
            ..seam.clone()
        });
    }
    let lost = seam.inserts.iter().filter(|insert| {
        let middle = (insert.from + insert.to) / 2.0;
        !kept.iter().any(|(a, b)| (*a..=*b).contains(&middle))
    });
    notes.extend(lost.map(|insert| Finding {
        gravity: Gravity::Care,
        place: Place::part(&seam.name),
        what: format!("{} was caught in it where it is open now.", insert.name),
        advice: "Sew it on elsewhere.".to_owned(),
        remedy: None,
    }));
    parts
}

/// Inserts whose middle lies between two shares, in shares of that part.
fn inserts(list: &[Insert], from: f64, to: f64) -> Vec<Insert> {
    list.iter()
        .filter(|insert| (from..=to).contains(&((insert.from + insert.to) / 2.0)))
        .map(|insert| {
            let share = |at: f64| ((at - from) / (to - from)).clamp(0.0, 1.0);
            Insert {
                from: share(insert.from),
                to: share(insert.to),
                ..insert.clone()
            }
        })
        .collect()
}

/// A name that nobody has: "side seam 2", "side seam 3", ...
pub(in crate::alteration) fn fresh<'a>(name: &str, taken: impl Iterator<Item = &'a str>) -> String {
    let taken: Vec<&str> = taken.collect();
    if !taken.contains(&name) {
        return name.to_owned();
    }
    let mut number = 2_u32;
    loop {
        let candidate = format!("{name} {number}");
        if !taken.contains(&candidate.as_str()) {
            return candidate;
        }
        number += 1;
    }
}

fn told(garment: &Garment, seam: &Seam, gaps: &[(f64, f64)]) -> Finding {
    let whole = side_length(&seam.a, &garment.pieces).map_or(0.0, |mm| mm.0);
    let open: f64 = gaps.iter().map(|(from, to)| (to - from) * whole).sum();
    let left = whole - open;
    Finding {
        gravity: Gravity::Note,
        place: Place::part(&seam.name),
        what: if left > 0.01 {
            format!("it is open over {open:.1} mm now, {left:.1} mm of it are sewn.")
        } else {
            format!("it was open over all of its {open:.1} mm and is no seam any more.")
        },
        advice: "Both sides are finished alike where it is open.".to_owned(),
        remedy: None,
    }
}

/// Is it a finish over which a seam is left open?
pub(super) fn opens(finish: Finish) -> bool {
    matches!(finish, Finish::Open | Finish::Slit | Finish::Placket { .. })
}
