//! How much of each cloth to buy.

use petitoile_core::laying::ToLay;
use petitoile_core::{LengthUnit, Mm};
use petitoile_lay::lying::copy_name;
use petitoile_lay::{Bolt, LengthJob};

/// How many steps are made for a shorter length after the last one was found.
const PATIENCE: u64 = 2_000;
/// Steps for one cloth in all.
const MOST_STEPS: u64 = 12_000;
/// Steps between two looks at whether it is to end.
const STEPS: u64 = 64;

/// How much of each cloth is needed.
#[derive(Debug, Clone, PartialEq)]
pub struct Needed {
    /// Width of the cloths.
    pub width: Mm,
    /// Each cloth that something is cut from.
    pub cloths: Vec<NeededOf>,
}

/// How much of one cloth is needed.
#[derive(Debug, Clone, PartialEq)]
pub struct NeededOf {
    /// Its name; `None` where the pieces may be of any cloth.
    pub cloth: Option<String>,
    /// Length to buy; `None`: no length was found.
    pub length: Option<Mm>,
    /// What is to be said of it.
    pub words: String,
}

/// The least length of each cloth of this width that was found to take every piece whole. Same pieces, same lengths: it counts
/// steps, not seconds; `ended` cuts it short.
///
/// # Errors
/// Why nothing can be laid at all, in words.
pub fn needed(
    to_lay: &ToLay,
    width: Mm,
    unit: LengthUnit,
    ended: impl Fn() -> bool,
) -> Result<Needed, String> {
    let mut names: Vec<Option<String>> = Vec::new();
    for copy in &to_lay.copies {
        if !names.contains(&copy.cloth) {
            names.push(copy.cloth.clone());
        }
    }
    let cloths = names
        .into_iter()
        .map(|cloth| needed_of(to_lay, cloth, width, unit, &ended));
    Ok(Needed {
        width,
        cloths: cloths.collect::<Result<_, _>>()?,
    })
}

fn needed_of(
    to_lay: &ToLay,
    cloth: Option<String>,
    width: Mm,
    unit: LengthUnit,
    ended: impl Fn() -> bool,
) -> Result<NeededOf, String> {
    let mut only = to_lay.clone();
    only.copies.retain(|copy| copy.cloth == cloth);
    let bolt = Bolt {
        cloth: cloth.clone(),
        ..Bolt::of_width(width)
    };
    let name = cloth.clone().unwrap_or_else(|| "the cloth".to_owned());
    let mut job = LengthJob::new(&only, &bolt).map_err(|why| why.to_string())?;
    if let Some((of, by)) = job.too_wide().first() {
        let words = format!(
            "{name}: {} is {} too wide for a cloth of {}.",
            copy_name(of),
            unit.show(*by),
            unit.show(width)
        );
        return Ok(NeededOf {
            cloth,
            length: None,
            words,
        });
    }
    let (mut found_at, mut steps, mut length) = (0, 0, None);
    while steps < MOST_STEPS && !ended() {
        let progress = job.step(STEPS);
        if progress.steps == steps {
            break;
        }
        steps = progress.steps;
        if progress.length != length {
            (length, found_at) = (progress.length, steps);
        }
        if length.is_some() && steps - found_at > PATIENCE {
            break;
        }
    }
    let words = match length {
        Some(length) => format!(
            "{name}: {} of a cloth {} wide, {} free along every edge; the least found in {steps} steps.",
            unit.show(length),
            unit.show(width),
            unit.show(bolt.margin)
        ),
        None => format!("{name}: no length found in {steps} steps that takes everything."),
    };
    Ok(NeededOf {
        cloth,
        length,
        words,
    })
}
