//! How much of a cloth to buy.

use std::time::{Duration, Instant};

use petitoile_core::laying::ToLay;
use petitoile_core::{LengthUnit, Mm};
use petitoile_lay::lying::copy_name;
use petitoile_lay::{Bolt, LengthJob};

/// How long is looked for a shorter length after the last one was found.
const PATIENCE: Duration = Duration::from_secs(4);
/// How long is looked in all.
const LONGEST: Duration = Duration::from_secs(20);
/// Steps between two looks at the clock.
const STEPS: u64 = 64;
/// Steps in all, so that it ends on any machine.
const MOST_STEPS: u64 = 20_000;

/// How much of a cloth is needed.
#[derive(Debug, Clone, PartialEq)]
pub struct Needed {
    /// Width of the cloth.
    pub width: Mm,
    /// Length to buy; `None`: no length was found.
    pub length: Option<Mm>,
    /// What is to be said of it.
    pub words: String,
}

/// The least length of a cloth of this width that was found to take every piece whole.
///
/// # Errors
/// Why nothing can be laid at all, in words.
pub fn needed(
    to_lay: &ToLay,
    width: Mm,
    unit: LengthUnit,
    ended: impl Fn() -> bool,
) -> Result<Needed, String> {
    let bolt = Bolt::of_width(width);
    let mut job = LengthJob::new(to_lay, &bolt).map_err(|why| why.to_string())?;
    let too_wide = job.too_wide();
    if let Some((of, by)) = too_wide.first() {
        return Ok(Needed {
            width,
            length: None,
            words: format!(
                "{} is {} too wide for a cloth of {}.",
                copy_name(of),
                unit.show(*by),
                unit.show(width)
            ),
        });
    }
    let begun = Instant::now();
    let (mut found_at, mut steps, mut length) = (begun, 0, None);
    while steps < MOST_STEPS && !ended() {
        let progress = job.step(STEPS);
        if progress.steps == steps {
            break;
        }
        steps = progress.steps;
        if progress.length != length {
            (length, found_at) = (progress.length, Instant::now());
        }
        let waited = if length.is_some() {
            found_at.elapsed() > PATIENCE
        } else {
            false
        };
        if waited || begun.elapsed() > LONGEST {
            break;
        }
    }
    let seconds = begun.elapsed().as_secs_f64();
    let words = match length {
        Some(length) => format!(
            "{} of a cloth {} wide, {} free along every edge; the least found in {seconds:.0} s.",
            unit.show(length),
            unit.show(width),
            unit.show(bolt.margin)
        ),
        None => format!("No length found in {seconds:.0} s that takes everything."),
    };
    Ok(Needed {
        width,
        length,
        words,
    })
}
