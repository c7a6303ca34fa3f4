//! Pleats and tucks: `cloth = finished + k x count x depth`, whole counts, and what to do when nothing whole fits.

use super::limits::{DEEPEST, MOST, short};
use super::{Adjusted, Depth, Leftover, Quantity, Solved, Unsolved, Wanted, impossible, open};
use crate::fullness::{FoldedEdge, Fullness, Kind, place};
use crate::units::Mm;

/// Lengths that differ by less are the same, as a share.
const SAME: f64 = 1e-6;

/// What is known so far, in plain mm; `share` is a depth as a share of the spacing.
#[derive(Debug, Clone, Copy, Default)]
struct Known {
    finished: Option<f64>,
    cloth: Option<f64>,
    count: Option<u32>,
    spacing: Option<f64>,
    depth: Option<f64>,
    share: Option<f64>,
    /// Depths that one pleat takes.
    takes: f64,
    /// Depth of a full one, as a share of its spacing.
    full: f64,
}

/// Solves pleats and tucks.
pub(super) fn solved(wanted: &Wanted, steps: u32) -> Result<Solved, Unsolved> {
    if let Some((why, near)) = contradiction(wanted) {
        return Err(impossible(why, &near, steps));
    }
    let mut known = known(wanted);
    reduce(&mut known, wanted);
    if known.spacing.is_some_and(|p| p <= 0.0) || known.depth.is_some_and(|d| d <= 0.0) {
        let why = format!(
            "Marks {} mm apart leave no cloth to fold.",
            short(wanted.marks.unwrap_or_default().0)
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
                    "{} show from fold to fold, so the visible width and the spacing are one length; {} mm and {} mm are given.",
                    capital(wanted.kind.words()),
                    short(v.0),
                    short(p.0)
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
                    "A tuck shows as wide as it is deep; {} mm and {} mm are given.",
                    short(v.0),
                    short(d.0)
                ),
                Wanted {
                    visible: None,
                    ..wanted.clone()
                },
            ))
        }
        (Kind::Box | Kind::DoubleBox, Some(v), Some(p), _) if v.0 > p.0 * (1.0 + SAME) => Some((
            format!(
                "Tops of {} mm cannot lie {} mm apart: they would cover each other.",
                short(v.0),
                short(p.0)
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

/// What the request says, visible widths turned into spacing or depth.
fn known(wanted: &Wanted) -> Known {
    let mm = |m: Option<Mm>| m.map(|m| m.0);
    let full = wanted.kind.full_depth().unwrap_or(1.0);
    let (depth, share) = match wanted.depth {
        Some(Depth::Of(depth)) => (Some(depth.0), None),
        Some(Depth::Full) => (None, Some(full)),
        Some(Depth::Share(share)) => (None, Some(share * full)),
        None => (None, None),
    };
    let mut known = Known {
        finished: mm(wanted.finished),
        cloth: mm(wanted.cloth),
        count: wanted.count,
        spacing: mm(wanted.spacing),
        depth,
        share,
        takes: wanted.kind.depths_taken().unwrap_or(2.0),
        full,
    };
    if let Some(visible) = wanted.visible.map(|v| v.0) {
        match wanted.kind {
            Kind::PinTucks | Kind::WideTucks => known.depth = Some(visible),
            // Tops that touch, unless something else says how far apart they are.
            Kind::Box | Kind::DoubleBox => {
                let told = known.count.is_some() || wanted.marks.is_some();
                known.spacing = known.spacing.or((!told).then_some(visible));
            }
            _ => known.spacing = Some(visible),
        }
    }
    known
}

/// Uses the distance between marks and the ratio.
fn reduce(known: &mut Known, wanted: &Wanted) {
    if let Some(marks) = wanted.marks.map(|m| m.0) {
        match (known.spacing, known.depth, known.share) {
            (Some(spacing), None, None) => known.depth = Some((marks - spacing) / known.takes),
            (None, Some(depth), _) => known.spacing = Some(marks - known.takes * depth),
            (None, None, Some(share)) => known.spacing = Some(marks / (1.0 + known.takes * share)),
            // A box pleat's depth comes from its top, below; else full.
            (None, None, None) if !wanted.kind.is_tuck() && known.cloth.is_none() => {
                known.share = Some(known.full);
                known.spacing = Some(marks / (1.0 + known.takes * known.full));
            }
            _ => {}
        }
    }
    if let Some(ratio) = wanted.ratio {
        known.cloth = known.cloth.or(known.finished.map(|f| f * ratio));
        known.finished = known.finished.or(known.cloth.map(|c| c / ratio));
        if known.depth.is_none() && known.share.is_none() && known.cloth.is_none() {
            known.share = Some((ratio - 1.0) / known.takes).filter(|s| *s > 0.0);
        }
    }
    // A box pleat of which only the top is given is folded until its folds meet behind.
    if let (Kind::Box | Kind::DoubleBox, Some(top), None, None) =
        (wanted.kind, wanted.visible, known.depth, known.share)
        && !(known.finished.is_some() && known.cloth.is_some())
    {
        known.depth = Some(top.0 / 2.0);
    }
}

/// The whole number nearest to what is asked.
fn counted(known: &Known, wanted: &Wanted) -> Option<u32> {
    let marks = known.spacing.zip(
        known
            .depth
            .or(known.spacing.zip(known.share).map(|(p, s)| p * s)),
    );
    let marks = marks
        .map(|(p, d)| p + known.takes * d)
        .or(wanted.marks.map(|m| m.0));
    if let Some((finished, spacing)) = known.finished.zip(known.spacing) {
        return Some(nearest(finished, spacing, wanted));
    }
    if let Some((cloth, marks)) = known.cloth.zip(marks) {
        return Some(nearest(cloth, marks, wanted));
    }
    if let Some(((cloth, finished), depth)) = known.cloth.zip(known.finished).zip(known.depth) {
        return Some(within(((cloth - finished) / (known.takes * depth)).round()));
    }
    let full = (!wanted.kind.is_tuck()).then_some(known.full)?;
    if let Some((finished, depth)) = known.finished.zip(known.depth) {
        return Some(nearest(finished, depth / full, wanted));
    }
    if let Some((cloth, depth)) = known.cloth.zip(known.depth) {
        return Some(nearest(cloth, depth / full + known.takes * depth, wanted));
    }
    let (cloth, spacing) = known.cloth.zip(known.spacing)?;
    Some(nearest(cloth, spacing * (1.0 + known.takes * full), wanted))
}

fn within(count: f64) -> u32 {
    if count.is_finite() {
        count.clamp(1.0, f64::from(MOST)) as u32
    } else {
        1
    }
}

/// How many steps of this length fit best, plain parts left out. Tucks between margins round up (handbook, p. 194), and
/// so nothing is left wider than asked; what keeps its spacing rounds down.
fn nearest(length: f64, step: f64, wanted: &Wanted) -> u32 {
    const WHOLE: f64 = 1e-6;
    let mut count = within((length / step).round());
    // What is left plain depends on the count through the gaps between groups.
    for _ in 0..4 {
        let (_, plain) = place::plain_part(count, length, &wanted.layout);
        let share = (length - plain).max(0.0) / step;
        let steps = match (wanted.leftover, wanted.layout.margin) {
            (Leftover::Plain, _) => (share + WHOLE).floor(),
            (_, Some(_)) if wanted.kind.is_tuck() => (share - WHOLE).ceil(),
            _ => share.round(),
        };
        let posts = if wanted.layout.margin.is_some() {
            f64::from(place::range_count(length, &wanted.layout))
        } else {
            0.0
        };
        let next = within(steps + posts);
        if next == count {
            break;
        }
        count = next;
    }
    count
}

impl Known {
    /// The finished length with this many, if it follows from what is known.
    fn finished_with(&self, count: u32, wanted: &Wanted) -> Option<f64> {
        let taken = self.depth.map(|d| self.takes * f64::from(count) * d);
        self.finished
            .or_else(|| Some(self.cloth? - taken?))
            .or_else(|| {
                // By spacing; with cloth and a share, the spacing follows from the cloth instead.
                let spacing = self
                    .spacing
                    .filter(|_| self.cloth.is_none() || self.share.is_none())?;
                let (steps, plain) = place::plain_part(count, f64::INFINITY, &wanted.layout);
                Some(f64::from(steps.max(1)) * spacing + plain)
            })
    }

    /// The finished length with this many whose depth is a share of their spacing.
    fn full_finished(&self, count: u32, wanted: &Wanted) -> Option<f64> {
        let share = self.share.unwrap_or(self.full);
        let (steps, plain) = place::plain_part(count, f64::INFINITY, &wanted.layout);
        let steps = f64::from(steps.max(1));
        if let Some(cloth) = self.cloth {
            let taken = self.takes * f64::from(count) * share / steps;
            return Some((cloth + taken * plain) / (1.0 + taken));
        }
        let depth = self.depth.filter(|_| !wanted.kind.is_tuck())?;
        Some(depth / share * steps + plain)
    }
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
            "{count} folds {} mm deep take {} mm of cloth, and only {} mm is there.",
            short(known.depth.unwrap_or_default()),
            short(known.takes * n * known.depth.unwrap_or_default()),
            short(known.cloth.unwrap_or_default())
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
            "What is left plain takes {} mm of {} mm; nothing is left to fold.",
            short(plain),
            short(finished)
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
            "{} mm of cloth leaves nothing to fold on {} mm.",
            short(known.cloth.unwrap_or(finished)),
            short(finished)
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
            "A fold {} mm deep is more than any cloth is wide enough for; {DEEPEST:.0} mm is the most.",
            short(depth)
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
            "{count} {} of {} mm need {} mm, {} mm more than there is.",
            wanted.kind.words(),
            short(asked),
            short(solved.finished.0 + f64::from(count) * (asked - spacing)),
            short(f64::from(count) * (asked - spacing))
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
            "A fold comes {} mm from the {}; {} mm are asked for, and no place is left to move it to.",
            short(miss.got.0),
            miss.what,
            short(miss.asked.0)
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
    let why = format!(
        "These lengths contradict each other: with the others, {what} would be {}, not {}.",
        short(wrong.got),
        short(wrong.asked)
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
