//! Collars, waistbands and cuffs: what they are is what they are sewn to, told from their length.

use super::kinds::{Family, Role, View, near};
use super::read::Read;
use super::reading::{Candidate, Reading, of_kind, put};
use super::what::{Cut, What};

/// What the attached edge of a band is sewn to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Target {
    /// Share of the attached edge that is sewn on, from the band's first end; the rest laps over.
    pub(super) share: f64,
    /// How much longer the edge it is sewn to is: above 1 it is gathered into the band.
    pub(super) gathered: f64,
}

/// A band and what it may be.
struct Guess {
    band: usize,
    view: View,
    what: What,
    cut: Cut,
    target: Target,
    score: f64,
    words: String,
}

/// Below this no band is read.
const LEAST: f64 = 0.12;

/// Lengths of what bands are sewn to on this garment, mm.
#[derive(Debug, Clone, Copy, Default)]
struct Runs {
    /// Half of the neckline, half of the waist, one sleeve's hem.
    neck: f64,
    waist: f64,
    hem: f64,
}

/// Reads the bands: the surest first, each place on the garment taken once.
pub(super) fn banded(candidates: &[Candidate<'_>], reading: &mut Reading) {
    let sum = |role: Role, family: &[Family]| -> f64 {
        let of = |read: &&Read| family.contains(&read.what.family());
        reading
            .reads
            .iter()
            .flatten()
            .filter(of)
            .map(|r| r.length(role))
            .sum()
    };
    let sleeves = reading
        .reads
        .iter()
        .flatten()
        .filter(|r| r.what == What::Sleeve)
        .count();
    let runs = Runs {
        neck: sum(Role::Neckline, &[Family::Bodice, Family::Yoke]),
        waist: sum(Role::Waist, &[Family::Panel, Family::Leg]),
        hem: sum(Role::Hem, &[Family::Sleeve]) / sleeves.max(1) as f64,
    };
    let found = of_kind(candidates, Family::Band);
    let mut guesses: Vec<Guess> = Vec::new();
    for (number, (candidate, view)) in found.iter().enumerate() {
        for walk in walks(view) {
            guesses.extend(of_walk(number, candidate, &walk, runs));
        }
    }
    guesses.sort_by(|a, b| b.score.total_cmp(&a.score));
    let (mut taken, mut placed): (Vec<usize>, Vec<What>) = (Vec::new(), Vec::new());
    for guess in guesses {
        let forced = found
            .get(guess.band)
            .is_some_and(|(c, _)| c.forced.is_some());
        if taken.contains(&guess.band) || (placed.contains(&guess.what) && !forced) {
            continue;
        }
        let Some((candidate, _)) = found.get(guess.band) else {
            continue;
        };
        if guess.score < LEAST && !forced {
            continue;
        }
        let mut read = Read::new(candidate, &guess.view, guess.what, true);
        read.cut = guess.cut;
        read.certainty = guess.score.min(0.97);
        read.rests_on.push(guess.words);
        read.attached = Some(guess.target);
        put(reading, candidate.index, read);
        taken.push(guess.band);
        placed.push(guess.what);
    }
}

/// A band seen from either long edge and either end.
fn walks(view: &View) -> Vec<View> {
    let order = |order: [usize; 4], against: bool, turned: f64, out: f64| View {
        sides: order
            .iter()
            .filter_map(|k| view.sides.get(*k).cloned())
            .collect(),
        against,
        up: view.up * turned,
        out: view.out * out,
        ..view.clone()
    };
    let own = view.against;
    vec![
        order([0, 1, 2, 3], own, 1.0, 1.0),
        order([2, 1, 0, 3], !own, 1.0, -1.0),
        order([2, 3, 0, 1], own, -1.0, -1.0),
        order([0, 3, 2, 1], !own, -1.0, 1.0),
    ]
}

fn of_walk(band: usize, candidate: &Candidate<'_>, view: &View, runs: Runs) -> Vec<Guess> {
    let length = view.length(Role::Attached);
    let (Some(attached), Some(free)) = (view.sides.get(1), view.sides.get(3)) else {
        return Vec::new();
    };
    // The attached edge is the straighter one, and stands square on the first end when that is a fold.
    let shape = (0.4 + 0.6 * near(attached.off, 0.0, 0.03))
        * if attached.off <= free.off + 1e-6 {
            1.0
        } else {
            0.8
        };
    let folded = near(view.corner(0), 90.0, 6.0)
        * near(view.corner(3), 90.0, 8.0)
        * view.sides.first().map_or(0.0, |s| near(s.off, 0.0, 0.02));
    // Of two ends that could be folded, the squarer one.
    let other = near(view.corner(1), 90.0, 6.0) * near(view.corner(2), 90.0, 8.0);
    let folded = folded * if other > folded + 0.05 { 0.7 } else { 1.0 };
    let hypotheses = [
        (What::Collar, Cut::Fold, runs.neck, 0.95 * folded, 1.12),
        (What::Collar, Cut::Once, 2.0 * runs.neck, 0.85, 1.06),
        (What::Waistband, Cut::Fold, runs.waist, 0.95 * folded, 1.12),
        (What::Waistband, Cut::Once, 2.0 * runs.waist, 0.9, 1.12),
    ];
    let mut guesses = Vec::new();
    let mut add = |what: What, cut: Cut, target: Target, score: f64, words: String| {
        let asked = candidate
            .forced
            .map_or(1.0, |forced| if forced == (what, cut) { 1.0 } else { 0.0 });
        let named = super::what::hint(&candidate.piece.name, what).clamp(0.5, 1.0);
        let score = score * shape * asked * named;
        if score > 0.0 {
            guesses.push(Guess {
                band,
                view: view.clone(),
                what,
                cut,
                target,
                score: if candidate.forced.is_some() {
                    score.max(LEAST)
                } else {
                    score
                },
                words,
            });
        }
    };
    let forced_what = candidate.forced.map(|(what, _)| what);
    for (what, cut, run, sure, most) in hypotheses {
        if run <= 0.0 {
            if forced_what == Some(what) {
                let free = Target {
                    share: 1.0,
                    gathered: 1.0,
                };
                add(what, cut, free, 0.1, "as answered".to_owned());
            }
            continue;
        }
        let ratio = length / run;
        let exact = near(libm::log(ratio), 0.0, 0.006);
        let lapped = if ratio > 1.0 && ratio <= most {
            0.7
        } else {
            0.0
        };
        let fit = exact
            .max(lapped)
            .max(if forced_what == Some(what) { 0.1 } else { 0.0 });
        let place = if what == What::Collar {
            "neckline"
        } else {
            "waist"
        };
        let words = if exact >= lapped {
            format!("its edge of {length:.1} mm is as long as the {place}")
        } else {
            format!("its edge of {length:.1} mm laps over the {place} of {run:.1} mm")
        };
        let share = if ratio > 1.0 {
            (1.0 / ratio).clamp(0.05, 1.0)
        } else {
            1.0
        };
        add(
            what,
            cut,
            Target {
                share,
                gathered: (1.0 / ratio).max(1.0),
            },
            sure * fit,
            words,
        );
    }
    if runs.hem > 0.0 {
        let fuller = runs.hem / length.max(1e-9);
        let exact = near(libm::log(fuller), 0.0, 0.02);
        let gathered = if (1.05..=2.6).contains(&fuller) {
            0.6
        } else {
            0.0
        };
        let fit = (0.93 * exact)
            .max(gathered)
            .max(if forced_what == Some(What::Cuff) {
                0.1
            } else {
                0.0
            });
        let words = if 0.93 * exact >= gathered {
            format!("its edge of {length:.1} mm is as long as the hem of the sleeve")
        } else {
            format!("the hem of the sleeve, {fuller:.2} times as long, is gathered into it")
        };
        let share = fuller.clamp(0.05, 1.0);
        add(
            What::Cuff,
            Cut::Pair,
            Target {
                share,
                gathered: fuller.max(1.0),
            },
            fit,
            words,
        );
    } else if forced_what == Some(What::Cuff) {
        add(
            What::Cuff,
            Cut::Pair,
            Target {
                share: 1.0,
                gathered: 1.0,
            },
            0.1,
            "as answered".to_owned(),
        );
    }
    guesses
}
