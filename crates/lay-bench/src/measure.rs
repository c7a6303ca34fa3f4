//! One search against the clock.

use petitoile_lay::search::{Options, Problem, ProblemError, Search, StripProblem, StripSearch};

use crate::clock::Clock;
use crate::instance::{items_area, room_area};

/// Steps between two looks at the clock.
const STEPS: u64 = 20;

/// What a strip came to.
#[derive(Clone, Copy, Debug)]
pub struct StripOutcome {
    /// Share of the strip that is covered, %.
    pub density: f64,
    /// Length of the strip.
    pub length: f64,
    /// Steps made.
    pub steps: u64,
}

/// Looks for the shortest strip for some seconds.
///
/// # Errors
/// When the search refuses the problem.
pub fn strip(
    problem: &StripProblem,
    seed: u64,
    seconds: f64,
) -> Result<StripOutcome, ProblemError> {
    let clock = Clock::start();
    let mut search = StripSearch::new(
        problem,
        Options {
            seed,
            ..Options::default()
        },
    )?;
    while clock.seconds() < seconds {
        search.run_for(STEPS);
    }
    let progress = search.progress();
    Ok(StripOutcome {
        density: 100.0 * items_area(&problem.items) / (progress.length * problem.width),
        length: progress.length,
        steps: progress.steps_done,
    })
}

/// What rooms came to.
#[derive(Clone, Copy, Debug)]
pub struct RoomsOutcome {
    /// Items placed.
    pub placed: usize,
    /// Items there are.
    pub of: usize,
    /// When all lay, seconds.
    pub complete_after: Option<f64>,
    /// Area of all items, as a share of all rooms less holes, %.
    pub density: f64,
    /// Steps made.
    pub steps: u64,
}

/// Lays everything on the rooms; ends when all lies or after some seconds.
///
/// # Errors
/// When the search refuses the problem.
pub fn rooms(problem: &Problem, seed: u64, seconds: f64) -> Result<RoomsOutcome, ProblemError> {
    let clock = Clock::start();
    let mut search = Search::new(
        problem,
        Options {
            seed,
            ..Options::default()
        },
    )?;
    let mut complete_after = None;
    while complete_after.is_none() && clock.seconds() < seconds {
        if search.run_for(STEPS).complete {
            complete_after = Some(clock.seconds());
        }
    }
    let progress = search.progress();
    Ok(RoomsOutcome {
        placed: progress.placed,
        of: progress.of,
        complete_after,
        density: 100.0 * items_area(&problem.items)
            / problem.rooms.iter().map(room_area).sum::<f64>(),
        steps: progress.steps_done,
    })
}

/// The middle one, or the mean of both middle ones.
#[must_use]
pub fn median(values: &[f64]) -> f64 {
    let mut values = values.to_vec();
    values.sort_by(f64::total_cmp);
    let upper = values.get(values.len() / 2).copied().unwrap_or(f64::NAN);
    if values.len() % 2 == 1 {
        return upper;
    }
    let lower = values
        .len()
        .checked_sub(2)
        .and_then(|less| values.get(less / 2).copied())
        .unwrap_or(upper);
    (lower + upper) * 0.5
}
