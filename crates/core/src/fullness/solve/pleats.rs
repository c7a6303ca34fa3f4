//! Pleats and tucks: `cloth = finished + k x count x depth`, whole counts, and what to do when nothing whole fits.

use super::known::{Known, counted, known, reduce, within};
use super::limits;
use super::limits::DEEPEST;
use super::{Adjusted, Depth, Leftover, Quantity, Solved, Unsolved, Wanted, impossible, open};
use crate::fullness::{FoldedEdge, Fullness, Kind, place};
use crate::units::Mm;

/// Lengths that differ by less are the same, as a share.
const SAME: f64 = 1e-6;

/// Solves pleats and tucks.
pub(super) fn solved(wanted: &Wanted, steps: u32) -> Result<Solved, Unsolved> {
    if let Some((why, near)) = contradiction(wanted) {
        return Err(impossible(why, &near, steps));
    }
    let mut known = known(wanted);
    reduce(&mut known, wanted);
    if known.spacing.is_some_and(|p| p <= 0.0) || known.depth.is_some_and(|d| d <= 0.0) {
        let why = format!(
            "Marks {} apart leave no cloth to fold.",
            wanted.shown(wanted.marks.unwrap_or_default().0)
        );
        return Err(impossible(
            why,
            &Wanted {
                marks: None,
                ..wanted.clone()
            },
            steps,
        ));
    }
    let Some(count) = known.count.or_else(|| counted(&known, wanted)) else {
        return Err(open(ask(&known, wanted)));
    };
    // Without a depth and without cloth to tell it, pleats are full.
    if known.depth.is_none()
        && known.share.is_none()
        && !(known.cloth.is_some() && known.finished_with(count, wanted).is_some())
    {
        if wanted.kind.is_tuck() {
            return Err(open("Give the width of a tuck."));
        }
        known.share = Some(known.full);
    }
    let Some(finished) = known
        .finished_with(count, wanted)
        .or_else(|| known.full_finished(count, wanted))
    else {
        return Err(open(ask(&known, wanted)));
    };
    built(wanted, &known, count, finished, steps)
}

/// Two names of one length that were given differently; and the request without the second.
fn contradiction(wanted: &Wanted) -> Option<(String, Wanted)> {
    let same = |a: Mm, b: Mm| (a.0 - b.0).abs() <= SAME * a.0.max(b.0);
    match (wanted.kind, wanted.visible, wanted.spacing, wanted.depth) {
        (Kind::Knife | Kind::Inverted | Kind::DoubleInverted, Some(v), Some(p), _)
            if !same(v, p) =>
        {
            Some((
                format!(
                    "{} show from fold to fold, so the visible width and the spacing are one length; {} and {} are given.",
                    capital(wanted.kind.words()),
                    wanted.shown(v.0),
                    wanted.shown(p.0)
                ),
                Wanted {
                    spacing: None,
                    ..wanted.clone()
                },
            ))
        }
        (Kind::PinTucks | Kind::WideTucks, Some(v), _, Some(Depth::Of(d))) if !same(v, d) => {
            Some((
                format!(
                    "A tuck shows as wide as it is deep; {} and {} are given.",
                    wanted.shown(v.0),
                    wanted.shown(d.0)
                ),
                Wanted {
                    visible: None,
                    ..wanted.clone()
                },
            ))
        }
        (Kind::Box | Kind::DoubleBox, Some(v), Some(p), _) if v.0 > p.0 * (1.0 + SAME) => Some((
            format!(
                "Tops of {} cannot lie {} apart: they would cover each other.",
                wanted.shown(v.0),
                wanted.shown(p.0)
            ),
            Wanted {
                visible: None,
                ..wanted.clone()
            },
        )),
        _ => None,
    }
}

fn capital(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(chars).collect()
    })
}

/// All numbers, once count and finished length are found.
fn built(
    wanted: &Wanted,
    known: &Known,
    count: u32,
    finished: f64,
    steps: u32,
) -> Result<Solved, Unsolved> {
    let n = f64::from(count);
    if finished <= 0.0 {
        let why = format!(
            "{count} folds {} deep take {} of cloth, and only {} is there.",
            wanted.shown(known.depth.unwrap_or_default()),
            wanted.shown(known.takes * n * known.depth.unwrap_or_default()),
            wanted.shown(known.cloth.unwrap_or_default())
        );
        let fewer = known
            .cloth
            .zip(known.depth)
            .map(|(c, d)| within((c / (known.takes + 1.0 / known.full) / d).floor()));
        let near = if wanted.kind.is_tuck() || count == 1 {
            Wanted {
                cloth: None,
                spacing: wanted.spacing.or(known.depth.map(|d| Mm(2.0 * d))),
                visible: None,
                ..wanted.clone()
            }
        } else {
            Wanted {
                count: fewer.map(|f| f.min(count - 1).max(1)),
                visible: None,
                spacing: None,
                marks: None,
                ..wanted.clone()
            }
        };
        return Err(impossible(why, &near, steps));
    }
    let (parts, plain) = place::plain_part(count, finished, &wanted.layout);
    let (parts, room) = (f64::from(parts.max(1)), finished - plain);
    if room <= SAME * finished || !place::has_room(count, finished, &wanted.layout) {
        let why = format!(
            "What is left plain takes {} of {}; nothing is left to fold.",
            wanted.shown(plain),
            wanted.shown(finished)
        );
        let layout = crate::fullness::Layout {
            groups: None,
            plain: None,
            margin: None,
            ..wanted.layout.clone()
        };
        return Err(impossible(
            why,
            &Wanted {
                layout,
                ..wanted.clone()
            },
            steps,
        ));
    }
    let even = room / parts;
    let depth = match (known.share, known.cloth, known.depth) {
        (Some(share), _, _) if known.depth.is_none() => share * even,
        (_, Some(cloth), given) if known.finished.is_some() || given.is_none() => {
            (cloth - finished) / (known.takes * n)
        }
        (_, _, given) => given.unwrap_or(known.full * even),
    };
    if depth <= SAME * even {
        let why = format!(
            "{} of cloth leaves nothing to fold on {}.",
            wanted.shown(known.cloth.unwrap_or(finished)),
            wanted.shown(finished)
        );
        let near = Wanted {
            cloth: None,
            ratio: None,
            depth: wanted
                .depth
                .or((!wanted.kind.is_tuck()).then_some(Depth::Full))
                .or(Some(Depth::Of(Mm(even / 4.0)))),
            ..wanted.clone()
        };
        return Err(impossible(why, &near, steps));
    }
    if depth > DEEPEST {
        let why = format!(
            "A fold {} deep is more than any cloth is wide enough for; {} is the most.",
            wanted.shown(depth),
            wanted.shown(DEEPEST)
        );
        let near = Wanted {
            depth: Some(Depth::Of(Mm(DEEPEST))),
            visible: wanted.visible.filter(|_| !wanted.kind.is_tuck()),
            cloth: wanted
                .cloth
                .filter(|_| wanted.finished.is_none() && wanted.count.is_none()),
            marks: None,
            ratio: None,
            ..wanted.clone()
        };
        return Err(impossible(why, &near, steps));
    }
    let kept = known.spacing.filter(|p| {
        (wanted.leftover == Leftover::Plain || known.count.is_some()) && *p < even * (1.0 - SAME)
    });
    let solved = whole(wanted, count, depth, finished, (kept, even, parts, room));
    checked(wanted, known, solved, steps)
}

/// The outcome as one value.
fn whole(
    wanted: &Wanted,
    count: u32,
    depth: f64,
    finished: f64,
    (kept, even, parts, room): (Option<f64>, f64, f64, f64),
) -> Solved {
    let depth = Mm(depth);
    let inverted = matches!(wanted.kind, Kind::Inverted | Kind::DoubleInverted);
    let fullness = match wanted.kind {
        Kind::Box | Kind::Inverted => Fullness::BoxPleats {
            count,
            depth,
            inverted,
        },
        Kind::DoubleBox | Kind::DoubleInverted => Fullness::DoubleBoxPleats {
            count,
            depth,
            inverted,
        },
        Kind::PinTucks | Kind::WideTucks => Fullness::Tucks {
            count,
            width: depth,
        },
        _ => Fullness::KnifePleats { count, depth },
    };
    let is_box = matches!(wanted.kind, Kind::Box | Kind::DoubleBox);
    let spacing = kept.unwrap_or(even);
    let top = wanted
        .visible
        .filter(|_| is_box)
        .map(|top| Mm(top.0.min(spacing)));
    // Tops that were to touch still touch when the spacing is adjusted.
    let touching = wanted.spacing.is_none() && wanted.count.is_none() && wanted.marks.is_none();
    let top = if touching {
        top.map(|_| Mm(spacing))
    } else {
        top
    };
    let layout = crate::fullness::Layout {
        spacing: kept.map(Mm),
        top: top.or(wanted.layout.top).filter(|_| is_box),
        ..wanted.layout.clone()
    };
    let folded = FoldedEdge::new(fullness, &layout, Mm(finished));
    let takes = wanted.kind.depths_taken().unwrap_or(2.0);
    let visible = match wanted.kind {
        Kind::PinTucks | Kind::WideTucks => depth,
        Kind::Box | Kind::DoubleBox => folded.top().unwrap_or(Mm(spacing)),
        _ => Mm(spacing),
    };
    Solved {
        kind: wanted.kind,
        finished: Mm(finished),
        cloth: folded.cloth,
        count: Some(count),
        visible: Some(visible),
        depth: Some(depth),
        spacing: Some(Mm(spacing)),
        marks: Some(Mm(spacing + takes * depth.0)),
        ratio: folded.cloth.0 / finished,
        leftover: Mm(kept.map_or(0.0, |p| room - p * parts)),
        adjusted: Vec::new(),
        fullness,
        layout,
        folded,
    }
    .compared(wanted)
}

/// Refuses an outcome that is not what was asked: lengths or a given count that changed, folds too near a place.
fn checked(wanted: &Wanted, known: &Known, solved: Solved, steps: u32) -> Result<Solved, Unsolved> {
    let spacing = solved.spacing.unwrap_or_default().0;
    if let (Some(count), Some(asked)) = (known.count, known.spacing)
        && asked > spacing * (1.0 + SAME)
        && known.finished.is_some()
    {
        let why = format!(
            "{count} {} of {} need {}, {} more than there is.",
            wanted.kind.words(),
            wanted.shown(asked),
            wanted.shown(solved.finished.0 + f64::from(count) * (asked - spacing)),
            wanted.shown(f64::from(count) * (asked - spacing))
        );
        let near = Wanted {
            count: None,
            leftover: Leftover::Plain,
            ..wanted.clone()
        };
        return Err(impossible(why, &near, steps));
    }
    let solved = consistent(wanted, solved)?;
    if let Some(miss) = solved.folded.misses.first() {
        let why = format!(
            "A fold comes {} from the {}; {} are asked for, and no place is left to move it to.",
            wanted.shown(miss.got.0),
            miss.what,
            wanted.shown(miss.asked.0)
        );
        return Err(Unsolved::Impossible {
            why,
            nearest: Box::new(solved),
        });
    }
    Ok(solved)
}

/// Refuses an outcome that contradicts a length, a ratio or a count that was given.
pub(super) fn consistent(wanted: &Wanted, solved: Solved) -> Result<Solved, Unsolved> {
    let is_whole_number = wanted.count.is_none();
    let may_change = |a: &&Adjusted| match a.what {
        Quantity::Finished | Quantity::Cloth | Quantity::Count => true,
        // A whole count moves widths and depths; a typed count does not.
        Quantity::Visible
        | Quantity::Depth
        | Quantity::Spacing
        | Quantity::Marks
        | Quantity::Ratio => !is_whole_number,
    };
    let Some(wrong) = solved.adjusted.iter().find(may_change) else {
        return Ok(solved);
    };
    let what = match wrong.what {
        Quantity::Finished => "the finished length",
        Quantity::Cloth => "the cloth length",
        Quantity::Count => "the number",
        Quantity::Visible => "the visible width",
        Quantity::Depth => "the depth",
        Quantity::Spacing => "the spacing",
        Quantity::Marks => "the distance between marks",
        Quantity::Ratio => "the cloth, as times the finished length,",
    };
    let told = |value: f64| match wrong.what {
        Quantity::Count | Quantity::Ratio => limits::short(value),
        _ => wanted.shown(value),
    };
    let why = format!(
        "These lengths contradict each other: with the others, {what} would be {}, not {}.",
        told(wrong.got),
        told(wrong.asked)
    );
    Err(Unsolved::Impossible {
        why,
        nearest: Box::new(solved),
    })
}

/// What to give so that there is an answer.
fn ask(known: &Known, wanted: &Wanted) -> &'static str {
    let lengths = (known.finished.is_some(), known.cloth.is_some());
    match lengths {
        (true, true) => "Give how many, how wide or how deep: both lengths leave that open.",
        (true, false) | (false, true) if wanted.kind.is_tuck() => {
            "Give how many tucks or how far apart, and how wide."
        }
        (true, false) | (false, true) => "Give how many, how wide or how deep.",
        (false, false) => "Give the finished length or the cloth length, or how many.",
    }
}
