//! Where pleats stand on the finished stretch, by its layout. Plain mm here.

use super::layout::{Layout, Lies, Rest};

/// Places of that many pleats on a stretch of this length, from its start, in order.
pub(super) fn sites(count: u32, finished: f64, layout: &Layout) -> Vec<f64> {
    let ranges = ranges(finished, layout);
    let whole: f64 = ranges.iter().map(|(from, to)| to - from).sum();
    let mut sites = Vec::new();
    let (mut done, mut before) = (0, 0.0);
    for (from, to) in ranges {
        before += to - from;
        let until = (f64::from(count) * before / whole).round() as u32;
        sites.extend(in_range(until - done, to - from, layout).map(|x| from + x));
        done = until;
    }
    sites
}

/// The parts of a stretch that are not left plain.
pub(super) fn ranges(finished: f64, layout: &Layout) -> Vec<(f64, f64)> {
    let Some(plain) = layout.plain.filter(|p| p.width.0 > 0.0) else {
        return vec![(0.0, finished)];
    };
    let (middle, half) = (plain.at * finished, plain.width.0 / 2.0);
    let parts = [(0.0, middle - half), (middle + half, finished)];
    let parts: Vec<_> = parts.into_iter().filter(|(a, b)| b > a).collect();
    if parts.is_empty() {
        vec![(0.0, finished)]
    } else {
        parts
    }
}

/// How many distances from pleat to pleat a range is divided in, and what is left for them.
pub(super) fn room(count: u32, length: f64, layout: &Layout) -> (u32, f64) {
    let gaps = layout.groups.map_or(0.0, |groups| {
        f64::from(group_count(count, groups.each).saturating_sub(1)) * groups.gap.0
    });
    match layout.margin {
        None => (count, length - gaps),
        Some(margin) => (count.saturating_sub(1), length - 2.0 * margin.0 - gaps),
    }
}

/// How many distances from pleat to pleat a stretch is divided in, and how much of it is left plain: panel, margins and
/// gaps between groups. An infinite length has its panel in the middle.
pub(super) fn plain_part(count: u32, finished: f64, layout: &Layout) -> (u32, f64) {
    let panel = layout.plain.filter(|p| p.width.0 > 0.0);
    if panel.is_some() && finished.is_infinite() {
        let halves = [count / 2, count - count / 2].map(|n| room(n, 0.0, layout));
        let steps = halves.iter().map(|(steps, _)| steps).sum();
        let plain: f64 = halves.iter().map(|(_, room)| -room).sum();
        return (steps, plain + panel.map_or(0.0, |p| p.width.0));
    }
    let ranges = ranges(finished, layout);
    let whole: f64 = ranges.iter().map(|(from, to)| to - from).sum();
    if ranges.len() < 2 {
        let (steps, room) = room(count, 0.0, layout);
        return (
            steps,
            -room
                + if finished.is_finite() {
                    finished - whole
                } else {
                    0.0
                },
        );
    }
    let (mut steps, mut plain) = (0, finished - whole);
    let (mut done, mut before) = (0, 0.0);
    for (from, to) in &ranges {
        before += to - from;
        let until = (f64::from(count) * before / whole).round() as u32;
        let (own, room) = room(until - done, 0.0, layout);
        steps += own;
        plain -= room;
        done = until;
    }
    (steps, plain)
}

/// Is there room in every part for the pleats that fall to it?
pub(super) fn has_room(count: u32, finished: f64, layout: &Layout) -> bool {
    let ranges = ranges(finished, layout);
    let whole: f64 = ranges.iter().map(|(from, to)| to - from).sum();
    let (mut done, mut before) = (0, 0.0);
    ranges.iter().all(|(from, to)| {
        before += to - from;
        let until = (f64::from(count) * before / whole).round() as u32;
        let own = until - done;
        done = until;
        own == 0 || room(own, to - from, layout).1 > 0.0
    })
}

/// In how many parts the plain panel divides a stretch.
pub(super) fn range_count(finished: f64, layout: &Layout) -> u32 {
    ranges(finished, layout).len() as u32
}

fn group_count(count: u32, each: u32) -> u32 {
    count.div_ceil(each.max(1)).max(1)
}

/// Places in one range, from its start.
fn in_range(count: u32, length: f64, layout: &Layout) -> impl Iterator<Item = f64> {
    // Margins that leave no room are none; the solver refuses them.
    let narrow = layout.margin.is_some() && room(count, length, layout).1 <= 0.0;
    let layout = &Layout {
        margin: layout.margin.filter(|_| !narrow),
        ..layout.clone()
    };
    let (steps, room) = room(count, length, layout);
    let (gap, room) = match layout.groups {
        Some(groups) if room > 0.0 => (groups.gap.0, room),
        _ => (
            0.0,
            self::room(
                count,
                length,
                &Layout {
                    groups: None,
                    ..layout.clone()
                },
            )
            .1,
        ),
    };
    let even = room.max(0.0) / f64::from(steps.max(1));
    let step = layout.spacing.map_or(even, |asked| asked.0.min(even));
    let rest = (room - step * f64::from(steps)).max(0.0);
    let first = match layout.margin {
        None => step / 2.0,
        // A single pleat between margins stands in the middle.
        Some(_) if steps == 0 => length / 2.0,
        Some(margin) => margin.0,
    };
    let (start, middle) = match layout.rest {
        Rest::Ends => (rest / 2.0, 0.0),
        Rest::Start => (rest, 0.0),
        Rest::End => (0.0, 0.0),
        Rest::Middle => (0.0, rest),
    };
    let start = if steps == 0 { 0.0 } else { start };
    let groups = layout.groups.map_or(1, |g| group_count(count, g.each));
    (0..count).map(move |i| {
        let group = (u64::from(i) * u64::from(groups) / u64::from(count.max(1))) as f64;
        let second_half = if 2 * i >= count && count > 1 {
            middle
        } else {
            0.0
        };
        start + first + step * f64::from(i) + group * gap + second_half
    })
}

/// Does the pleat at this place lie onward (to the left)?
pub(super) fn is_onward(site: f64, finished: f64, layout: &Layout) -> bool {
    let centre = layout.plain.map_or(0.5, |plain| plain.at) * finished;
    match layout.lies {
        Lies::Left => true,
        Lies::Right => false,
        Lies::ToCentre => site < centre,
        Lies::FromCentre => centre <= site,
    }
}

/// A site that came nearer to a place than asked: which place, and the nearest fold's distance.
pub(super) struct TooNear {
    pub what: usize,
    pub got: f64,
}

/// Moves pleats so that none of their folds (`offsets` of a site) comes near a place to keep off. A pleat that would
/// have to come nearer to its neighbour than half the smallest distance (or than `clear`) stays, and is told.
pub(super) fn keep_off(
    sites: &mut [f64],
    offsets: &dyn Fn(f64) -> Vec<f64>,
    clear: f64,
    finished: f64,
    layout: &Layout,
) -> Vec<TooNear> {
    const NEAR: f64 = 1e-9;
    let mut told = Vec::new();
    if layout.keep_off.is_empty() {
        return told;
    }
    let least = sites
        .windows(2)
        .filter_map(|pair| Some(pair.last()? - pair.first()?))
        .fold(finished, f64::min)
        / 2.0;
    let least = least.max(clear);
    let places: Vec<(f64, f64)> = layout
        .keep_off
        .iter()
        .map(|k| (k.at * finished, k.by.0))
        .collect();
    let nearest = |site: f64| {
        let own = offsets(site);
        let pairs = places.iter().enumerate().flat_map(|(i, (at, by))| {
            own.iter()
                .map(move |o| (i, (site + o - at).abs(), *by))
                .collect::<Vec<_>>()
        });
        pairs
            .filter(|(_, far, by)| *far < by - NEAR)
            .min_by(|a, b| a.1.total_cmp(&b.1))
    };
    for i in 0..sites.len() {
        let Some(site) = sites.get(i).copied() else {
            continue;
        };
        let Some((what, got, _)) = nearest(site) else {
            continue;
        };
        let low = i
            .checked_sub(1)
            .and_then(|i| sites.get(i))
            .map_or(clear / 2.0, |s| s + least);
        let high = sites
            .get(i + 1)
            .map_or(finished - clear / 2.0, |s| s - least);
        // A fold just far enough from one of the places, on either side.
        let own = offsets(site);
        let just = places
            .iter()
            .flat_map(|(at, by)| own.iter().flat_map(move |o| [at - o - by, at - o + by]))
            .filter(|x| low - NEAR <= *x && *x <= high + NEAR && nearest(*x).is_none())
            .filter(|x| is_onward(*x, finished, layout) == is_onward(site, finished, layout))
            .min_by(|a, b| (a - site).abs().total_cmp(&(b - site).abs()));
        match (just, sites.get_mut(i)) {
            (Some(x), Some(site)) => *site = x,
            _ => told.push(TooNear { what, got }),
        }
    }
    told
}
