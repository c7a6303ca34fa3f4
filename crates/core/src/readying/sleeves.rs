//! Sleeves: which half of a cap is the front's, and how a cap fits an armscye.

use kurbo::{Point, Vec2};

use super::kinds::{Family, Role, near};
use super::read::Read;
use super::reading::{Candidate, Reading, of_kind, put};
use super::sides::Bit;
use super::what::{Cut, What};
use crate::geometry::curve::Line;

/// Sleeves: the front half of the cap goes with the front armscye, or is the hollower one.
pub(super) fn sleeves(candidates: &[Candidate<'_>], reading: &mut Reading) {
    let armscye = |front: bool| -> f64 {
        reading
            .reads
            .iter()
            .flatten()
            .filter(|r| r.what.is_front() == front)
            .map(|r| r.length(Role::Armscye))
            .sum()
    };
    let (front, back) = (armscye(true), armscye(false));
    for (candidate, view) in of_kind(candidates, Family::Sleeve) {
        let cap = view.bits(Role::Cap);
        let lines: Vec<&Line> = candidate
            .piece
            .outline
            .edges()
            .iter()
            .map(|e| &e.line)
            .collect();
        let (start, end) = cap_halves(&lines, &cap, view.up);
        let apart = libm::log(start.length / end.length.max(1e-9));
        let wanted = if front > 0.0 && back > 0.0 {
            libm::log(front / back)
        } else {
            0.0
        };
        let hollow = end.hollow - start.hollow;
        let (at_end, sure, why) = if apart.abs() > 0.004 && wanted.abs() > 0.004 {
            (
                apart * wanted < 0.0,
                0.95,
                "cap and underarms; the halves of the cap go with the armscyes",
            )
        } else if hollow.abs() > 0.004 {
            (
                hollow > 0.0,
                0.85,
                "cap and underarms; its front half is the hollower one",
            )
        } else {
            (true, 0.9, "cap and underarms, front and back alike")
        };
        let mut read = Read::new(candidate, view, What::Sleeve, at_end);
        read.cut = candidate.forced.map_or(Cut::Pair, |(_, cut)| cut);
        read.certainty = candidate.certainty(Family::Sleeve) * sure;
        let fits = fit_of_cap(view.length(Role::Cap), front + back);
        read.certainty *= 0.8 + 0.2 * fits;
        read.rests_on.push(why.to_owned());
        put(reading, candidate.index, read);
    }
}

/// How well a cap fits an armscye: with an ease up to 15 %, or gathered.
pub(super) fn fit_of_cap(cap: f64, armscye: f64) -> f64 {
    if armscye <= 0.0 {
        return 0.5;
    }
    let ratio = cap / armscye;
    if (0.985..=1.15).contains(&ratio) {
        1.0
    } else if (1.15..=2.2).contains(&ratio) {
        0.8
    } else {
        near(ratio, 1.05, 0.1) * 0.5
    }
}

/// One half of a cap: its length, and how far it lies below the line from its top to its base, as a share of that.
struct CapHalf {
    length: f64,
    hollow: f64,
}

/// The place of the top of a cap in its bits: which bit, and the share of it.
pub(super) fn top_of(lines: &[&Line], cap: &[Bit], up: Vec2) -> Option<(usize, f64)> {
    let mut best: Option<(f64, usize, f64)> = None;
    for (n, bit) in cap.iter().enumerate() {
        let line = lines.get(bit.edge)?;
        for step in 0..=48_u32 {
            let share = f64::from(step) / 48.0;
            let height = line.at(bit.at(share)).to_vec2().dot(up);
            if best.is_none_or(|(b, ..)| height > b + 1e-9) {
                best = Some((height, n, share));
            }
        }
    }
    best.map(|(_, n, share)| (n, share))
}

fn cap_halves(lines: &[&Line], cap: &[Bit], up: Vec2) -> (CapHalf, CapHalf) {
    let Some((top, share)) = top_of(lines, cap, up) else {
        let none = || CapHalf {
            length: 1.0,
            hollow: 0.0,
        };
        return (none(), none());
    };
    let length = |bit: &Bit| {
        lines
            .get(bit.edge)
            .map_or(0.0, |l| l.length() * (bit.to - bit.from).abs())
    };
    let before: f64 = cap.iter().take(top).map(length).sum();
    let own = cap.get(top).map_or(0.0, length);
    let whole: f64 = cap.iter().map(length).sum();
    let first = before + share * own;
    let point = |along: f64| -> Point {
        let mut rest = along;
        for bit in cap {
            let size = length(bit);
            if rest <= size {
                return lines
                    .get(bit.edge)
                    .map_or(Point::ORIGIN, |l| l.at(bit.at(rest / size.max(1e-9))));
            }
            rest -= size;
        }
        let last = cap.last();
        last.and_then(|bit| lines.get(bit.edge).map(|l| l.at(bit.to)))
            .unwrap_or_default()
    };
    let half = |base: f64| {
        let (low, high) = (point(base), point(first));
        let chord = high - low;
        let size = chord.hypot().max(1e-9);
        let hollow = (1..8_u32)
            .map(|k| {
                let p = point(base + (first - base) * f64::from(k) / 16.0);
                // Below the line: away from up.
                let foot = low + chord * ((p - low).dot(chord) / (size * size));
                (foot - p).dot(up) / size
            })
            .fold(0.0, f64::max);
        CapHalf {
            length: (first - base).abs(),
            hollow,
        }
    };
    (half(0.0), half(whole))
}
