//! How many pages stand in a row and how much they share, guessed from line ends alone.
//!
//! For sheets whose lines are really cut at the pages' edges: one pair of pages may share a single straight line, which
//! says little; all pairs of a sheet together say more.

use petitoile_core::kurbo::Vec2;

use super::features::Matches;
use super::nearby::meeting;
use super::places::Rows;

/// Overlaps that are tried: so many, 2 mm apart.
const TRIED: usize = 21;
const STEP: f64 = 2.0;

/// An end this near to a line meets it at half a step, mm.
const NEAR: f64 = 1.2;

/// Most pages for which this is tried: the work grows with their square.
const MOST_PAGES: usize = 80;

/// A guess with its doubt.
pub(super) struct Guess {
    pub rows: Rows,
    pub sure: f64,
}

/// Met and unmet ends for one overlap.
type Tally = (usize, usize);

/// The rows in which most ends meet; `None` when hardly any do. All pages must be of one size.
pub(super) fn guessed(matches: &Matches) -> Option<Guess> {
    let count = matches.pages.len();
    let size = *matches.sizes.first()?;
    let same = |a: f64, b: f64| (a - b).abs() < 0.5;
    let alike = matches
        .sizes
        .iter()
        .all(|s| same(s.width, size.width) && same(s.height, size.height));
    if !(2..=MOST_PAGES).contains(&count) || !alike {
        return None;
    }
    let tally = |first: usize, second: usize, across: bool, overlap: f64| {
        tally(matches, (first, second), across, overlap)
    };
    let overlaps = || (0..TRIED).map(|step| step as f64 * STEP);
    // Beside one another: counted once, whatever the length of the rows.
    let beside: Vec<Vec<Tally>> = (1..count)
        .map(|second| {
            overlaps()
                .map(|overlap| tally(second - 1, second, true, overlap))
                .collect()
        })
        .collect();
    let mut best: Option<(i64, Guess)> = None;
    for columns in 1..=count {
        let pairs = (1..count).filter(|second| second % columns != 0);
        let across = best_of(
            pairs
                .filter_map(|second| beside.get(second - 1))
                .cloned()
                .collect(),
        );
        let below: Vec<Vec<Tally>> = (columns..count)
            .map(|second| {
                overlaps()
                    .map(|overlap| tally(second - columns, second, false, overlap))
                    .collect()
            })
            .collect();
        let down = best_of(below);
        let met = across.met + down.met;
        let unmet = across.unmet + down.unmet;
        let worth = met as i64 - unmet as i64;
        if met >= 4 && best.as_ref().is_none_or(|(before, _)| *before < worth) {
            let share = met as f64 / (met + unmet) as f64;
            let rows = Rows {
                columns,
                overlap: (across.overlap, down.overlap),
                ..Rows::default()
            };
            let clear = if across.is_clear && down.is_clear {
                1.0
            } else {
                0.6
            };
            let sure = 0.7 * share * clear * (1.0 - libm::exp(-0.2 * met as f64));
            best = Some((worth, Guess { rows, sure }));
        }
    }
    best.map(|(_, guess)| guess)
        .filter(|guess| guess.sure > 0.1)
}

/// The overlap at which most ends meet.
#[derive(Default)]
pub(super) struct Best {
    pub overlap: f64,
    pub met: usize,
    unmet: usize,
    /// Do clearly fewer meet at other overlaps?
    is_clear: bool,
}

/// How many ends meet and do not, when the second page lies to the right of the first, or below it.
fn tally(matches: &Matches, (first, second): (usize, usize), across: bool, overlap: f64) -> Tally {
    let (Some(a), Some(b), Some(size)) = (
        matches.pages.get(first),
        matches.pages.get(second),
        matches.sizes.get(first),
    ) else {
        return (0, 0);
    };
    let (step, towards) = if across {
        (Vec2::new(size.width - overlap, 0.0), Vec2::new(1.0, 0.0))
    } else {
        (Vec2::new(0.0, overlap - size.height), Vec2::new(0.0, -1.0))
    };
    meeting(a, b, step, towards, NEAR)
}

/// The overlap at which most ends of these neighbours meet: the second of each pair to the right, or below.
pub(super) fn overlap(matches: &Matches, pairs: &[(usize, usize)], across: bool) -> Best {
    let tallies = |pair: &(usize, usize)| {
        (0..TRIED)
            .map(|step| tally(matches, *pair, across, step as f64 * STEP))
            .collect()
    };
    best_of(pairs.iter().map(tallies).collect())
}

fn best_of(pairs: Vec<Vec<Tally>>) -> Best {
    let sums: Vec<Tally> = (0..TRIED)
        .map(|overlap| {
            pairs
                .iter()
                .filter_map(|pair| pair.get(overlap))
                .fold((0, 0), |sum, pair| (sum.0 + pair.0, sum.1 + pair.1))
        })
        .collect();
    // The least overlap of those that are as good.
    let Some((overlap, (met, unmet))) = sums
        .iter()
        .enumerate()
        .max_by_key(|(overlap, (met, _))| (*met, usize::MAX - overlap))
    else {
        return Best::default();
    };
    let as_good = sums.iter().filter(|(other, _)| other >= met).count();
    Best {
        overlap: overlap as f64 * STEP,
        met: *met,
        unmet: *unmet,
        is_clear: as_good <= 2 || *met == 0,
    }
}
