//! Several sizes drawn on top of each other: told apart by dash, colour, layer or line width; one is chosen.
//!
//! Closed lines that cover about the same place are a stack. A stack of two that runs beside itself at a steady width is
//! a piece with its stitch line, not two sizes.

use std::collections::{BTreeMap, BTreeSet};

use petitoile_core::kurbo::{Point, Rect};

use super::loops::SMALLEST_PIECE;
use super::pieces::Work;
use super::strokes::{Style, Styles};
use super::told::guess;
use super::types::{FoundSize, Guess, GuessKind};
use crate::bring_in::tongues;

/// Two closed lines cover the same place when this share of both is shared, by their bounds.
const SHARED: f64 = 0.5;

/// More sizes than this are not believed.
const MOST: usize = 24;

/// Letters that name sizes, smallest first.
const LETTERS: [&str; 9] = ["xxs", "xs", "s", "m", "l", "xl", "xxl", "2xl", "3xl"];

/// How a size is known on this sheet.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
enum Key {
    /// By how it is drawn.
    Style(usize),
    /// By its order in the stack: nothing else tells.
    Order(usize),
}

/// Tells sizes apart and leaves out all but one.
pub(super) fn choose(work: &mut Work<'_>) {
    let stacks: Vec<Vec<usize>> = stacks(work);
    let (stacks, keys) = match by_style(work, &stacks) {
        Some(found) => found,
        None => match by_order(work, &stacks) {
            Some(found) => found,
            None => return,
        },
    };
    let names = names(work, &keys);
    let wanted = work.choices.size.as_deref();
    let chosen = names
        .iter()
        .position(|n| Some(n.as_str()) == wanted)
        .unwrap_or(0);
    let told = told_by(work, &keys);
    for (place, key) in keys.iter().enumerate() {
        let outlines = stacks.iter().flatten().filter(|(_, k)| k == key).count();
        work.sizes.push(FoundSize {
            name: names.get(place).cloned().unwrap_or_default(),
            told_by: told.get(place).cloned().unwrap_or_default(),
            outlines,
        });
    }
    work.size = names.get(chosen).cloned();
    let rank = |key: &Key| keys.iter().position(|k| k == key).unwrap_or(0);
    let mut kept: Vec<usize> = Vec::new();
    let mut gone: Vec<(usize, usize)> = Vec::new();
    for stack in &stacks {
        // A piece without the chosen size is taken in the size next to it.
        let nearest = stack
            .iter()
            .map(|(_, k)| rank(k))
            .min_by_key(|r| (r.abs_diff(chosen), *r));
        for (at, key) in stack {
            if Some(rank(key)) == nearest {
                kept.push(*at);
            } else {
                gone.push((*at, rank(key)));
            }
        }
    }
    leave(work, &kept, &gone, &names, &keys);
    let middle = work.sheet.bounds.center();
    let at = if middle.is_finite() {
        middle
    } else {
        Point::ZERO
    };
    let way = told.first().cloned().unwrap_or_default();
    let certainty = match keys.first() {
        Some(Key::Style(_)) if stacks.len() > 1 => 0.95,
        Some(Key::Style(_)) => 0.85,
        _ => 0.5,
    };
    work.guesses.push(Guess {
        words: format!(
            "{} sizes are drawn on each other; this is {}",
            names.len(),
            work.size.clone().unwrap_or_default()
        ),
        rests_on: format!("{} stacks of lines, told by {way}", stacks.len()),
        certainty,
        ..guess(None, GuessKind::Sizes, "", at)
    });
}

/// Leaves out the outlines of the other sizes and what touches only them.
fn leave(
    work: &mut Work<'_>,
    kept: &[usize],
    gone: &[(usize, usize)],
    names: &[String],
    keys: &[Key],
) {
    let name = |rank: usize| names.get(rank).cloned().unwrap_or_default();
    let mut lost: Vec<(usize, String)> = Vec::new();
    let others: BTreeMap<usize, usize> = gone
        .iter()
        .filter_map(|(_, rank)| match keys.get(*rank)? {
            Key::Style(style) => Some((*style, *rank)),
            Key::Order(_) => None,
        })
        .collect();
    let layers_differ = layers_tell(&work.styles, keys);
    for (at, stroke) in work.strokes.iter().enumerate() {
        let Some(rank) = others.get(&stroke.style) else {
            continue;
        };
        let is_outline = stroke.closed && stroke.bounds.area() >= SMALLEST_PIECE;
        if is_outline || work.is_left(at) {
            continue;
        }
        let ends = [stroke.start(), stroke.end()];
        let touches = |of: usize| {
            work.loops.get(of).is_some_and(|l| {
                l.bounds.inflate(1.0, 1.0).overlaps(stroke.bounds)
                    && ends.iter().any(|p| l.off(*p) <= 0.4)
            })
        };
        let on_other = gone.iter().any(|(l, r)| r == rank && touches(*l));
        if layers_differ || on_other && !kept.iter().any(|l| touches(*l)) {
            lost.push((at, name(*rank)));
        }
    }
    for (at, size) in lost {
        work.leave(at, &format!("of size {size}"));
    }
    for (at, rank) in gone {
        if let Some(stroke) = work.loops.get(*at).map(|l| l.stroke) {
            work.leave(stroke, &format!("the outline of size {}", name(*rank)));
        }
    }
}

/// Closed lines that cover the same place: a sweep along x.
fn stacks(work: &Work<'_>) -> Vec<Vec<usize>> {
    let may = |i: &usize| {
        work.loops.get(*i).is_some_and(|l| {
            l.area >= SMALLEST_PIECE
                && !work.is_left(l.stroke)
                && work
                    .strokes
                    .get(l.stroke)
                    .is_some_and(|s| !s.filled && s.meaning.is_none())
        })
    };
    let mut order: Vec<usize> = (0..work.loops.len()).filter(may).collect();
    let bounds = |i: usize| work.loops.get(i).map_or(Rect::ZERO, |l| l.bounds);
    order.sort_by(|a, b| bounds(*a).x0.total_cmp(&bounds(*b).x0).then(a.cmp(b)));
    let mut group: BTreeMap<usize, usize> = order.iter().map(|i| (*i, *i)).collect();
    let mut active: Vec<usize> = Vec::new();
    let mut budget = 4_000_000_usize;
    for i in order {
        let here = bounds(i);
        active.retain(|a| bounds(*a).x1 >= here.x0);
        for a in &active {
            budget = budget.saturating_sub(1);
            if budget > 0 && covers(bounds(*a), here) {
                let (from, to) = (root(&group, i), root(&group, *a));
                group.insert(from.max(to), from.min(to));
            }
        }
        active.push(i);
    }
    let mut stacks: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for i in group.keys() {
        stacks.entry(root(&group, *i)).or_default().push(*i);
    }
    stacks.into_values().filter(|s| s.len() > 1).collect()
}

fn root(group: &BTreeMap<usize, usize>, of: usize) -> usize {
    let mut at = of;
    while let Some(up) = group.get(&at).filter(|up| **up != at) {
        at = *up;
    }
    at
}

fn covers(a: Rect, b: Rect) -> bool {
    let both = a.intersect(b).area().max(0.0);
    let all = a.area() + b.area() - both;
    all > 0.0 && both >= SHARED * all
}

type Keyed = (Vec<Vec<(usize, Key)>>, Vec<Key>);

/// Stacks whose lines are drawn differently.
fn by_style(work: &Work<'_>, stacks: &[Vec<usize>]) -> Option<Keyed> {
    let style = |i: usize| work.stroke_of(i).map(|s| s.style);
    let mut sets: Vec<(usize, BTreeSet<usize>)> = Vec::new();
    for (at, stack) in stacks.iter().enumerate() {
        let styles: BTreeSet<usize> = stack.iter().filter_map(|i| style(*i)).collect();
        if styles.len() >= 2 && !is_one_piece(work, stack) {
            sets.push((at, styles));
        }
    }
    let labels = labels(work);
    // Two ways of drawing tell sizes when they do so on several pieces, or words or layers say so.
    let trusted: Vec<(usize, BTreeSet<usize>)> = sets
        .iter()
        .filter(|(_, styles)| {
            let again = sets.iter().filter(|(_, other)| other == styles).count();
            let keys: Vec<Key> = styles.iter().copied().map(Key::Style).collect();
            styles.len() >= 3
                || again >= 2
                || labels.len() == styles.len()
                || layers_named(&work.styles, &keys)
        })
        .cloned()
        .collect();
    let all: BTreeSet<usize> = trusted
        .iter()
        .flat_map(|(_, s)| s.iter().copied())
        .collect();
    if all.len() < 2 || all.len() > MOST {
        return None;
    }
    let mut keyed = Vec::new();
    let mut areas: BTreeMap<usize, (f64, usize)> = BTreeMap::new();
    for stack in stacks {
        let list: Vec<(usize, Key)> = stack
            .iter()
            .filter_map(|i| Some((*i, style(*i)?)))
            .filter(|(_, s)| all.contains(s))
            .map(|(i, s)| (i, Key::Style(s)))
            .collect();
        let distinct: BTreeSet<&Key> = list.iter().map(|l| &l.1).collect();
        if distinct.len() < 2 {
            continue;
        }
        let largest = list
            .iter()
            .filter_map(|(i, _)| work.loops.get(*i))
            .map(|l| l.area)
            .fold(1e-9, f64::max);
        for (i, key) in &list {
            if let (Some(l), Key::Style(s)) = (work.loops.get(*i), key) {
                let entry = areas.entry(*s).or_default();
                *entry = (entry.0 + l.area / largest, entry.1 + 1);
            }
        }
        keyed.push(list);
    }
    let mean = |s: &usize| areas.get(s).map_or(0.0, |a| a.0 / a.1.max(1) as f64);
    let mut order: Vec<usize> = areas.keys().copied().collect();
    order.sort_by(|a, b| mean(a).total_cmp(&mean(b)).then(a.cmp(b)));
    Some((keyed, order.into_iter().map(Key::Style).collect()))
}

/// Stacks of lines drawn alike, as many in each as the sheet names sizes.
fn by_order(work: &Work<'_>, stacks: &[Vec<usize>]) -> Option<Keyed> {
    let labels = labels(work);
    let count = labels.len();
    if !(2..=MOST).contains(&count) {
        return None;
    }
    let fits: Vec<&Vec<usize>> = stacks
        .iter()
        .filter(|s| s.len() == count && !is_one_piece(work, s))
        .collect();
    if fits.is_empty() {
        return None;
    }
    let area = |i: &usize| work.loops.get(*i).map_or(0.0, |l| l.area);
    let keyed = fits
        .into_iter()
        .map(|stack| {
            let mut stack = stack.clone();
            stack.sort_by(|a, b| area(a).total_cmp(&area(b)).then(a.cmp(b)));
            stack
                .into_iter()
                .enumerate()
                .map(|(rank, i)| (i, Key::Order(rank)))
                .collect()
        })
        .collect();
    Some((keyed, (0..count).map(Key::Order).collect()))
}

/// Is a stack one piece: its cut line with its stitch line in it?
fn is_one_piece(work: &Work<'_>, stack: &[usize]) -> bool {
    let [a, b] = stack else { return false };
    let area = |i: usize| work.loops.get(i).map_or(0.0, |l| l.area);
    let (outer, inner) = if area(*a) >= area(*b) {
        (*a, *b)
    } else {
        (*b, *a)
    };
    let is_in = match (work.loops.get(inner), work.loops.get(outer)) {
        (Some(i), Some(o)) => i.lies_in(o),
        _ => false,
    };
    is_in && work.stitch_line(outer, &[inner]).is_some()
}

/// The sizes that words on the sheet name, smallest first.
fn labels(work: &Work<'_>) -> Vec<String> {
    let lists: Vec<Vec<String>> = work
        .sheet
        .texts
        .iter()
        .filter_map(|t| size_words(&t.words))
        .collect();
    // One text that names them all, else each in a text of its own.
    if let Some(list) = lists.iter().filter(|l| l.len() > 1).max_by_key(|l| l.len()) {
        return list.clone();
    }
    let mut single: Vec<String> = lists.into_iter().flatten().collect();
    single.sort_by_key(|w| rank(w));
    single.dedup();
    single
}

/// Where a size stands among others.
fn rank(word: &str) -> (usize, u64) {
    let letter = LETTERS.iter().position(|l| *l == word.to_lowercase());
    letter.map_or_else(
        || (0, (word.parse::<f64>().unwrap_or(0.0) * 100.0) as u64),
        |l| (1, l as u64),
    )
}

/// The sizes in some words, when they are nothing else: "10 12 14", "Size S", "sizes: 36/38/40".
pub(super) fn size_words(words: &str) -> Option<Vec<String>> {
    let lower = words.to_lowercase();
    let mut parts: Vec<&str> = lower
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .collect();
    let is_told = parts.first().is_some_and(|w| tongues::is(tongues::SIZE, w));
    if is_told {
        parts.remove(0);
    }
    let is_size =
        |w: &&str| LETTERS.contains(w) || w.parse::<u32>().is_ok_and(|n| n <= 64 && w.len() <= 2);
    (!parts.is_empty() && parts.iter().all(is_size))
        .then(|| parts.iter().map(|w| w.to_uppercase()).collect())
}

fn style_of<'a>(styles: &'a Styles, key: &Key) -> Option<&'a Style> {
    match key {
        Key::Style(s) => styles.0.get(*s),
        Key::Order(_) => None,
    }
}

/// Does every size lie on a layer of its own?
fn layers_tell(styles: &Styles, keys: &[Key]) -> bool {
    let layers: BTreeSet<&str> = keys
        .iter()
        .filter_map(|k| style_of(styles, k))
        .map(|s| s.layer.as_str())
        .collect();
    layers.len() == keys.len() && keys.len() > 1
}

/// Do the layers have names of sizes?
fn layers_named(styles: &Styles, keys: &[Key]) -> bool {
    layers_tell(styles, keys)
        && keys
            .iter()
            .filter_map(|k| style_of(styles, k))
            .all(|s| size_words(&s.layer).is_some())
}

/// What each size is called.
fn names(work: &Work<'_>, keys: &[Key]) -> Vec<String> {
    if layers_tell(&work.styles, keys) {
        return keys
            .iter()
            .filter_map(|k| style_of(&work.styles, k))
            .map(|s| {
                size_words(&s.layer)
                    .and_then(|w| w.first().cloned())
                    .unwrap_or_else(|| s.layer.clone())
            })
            .collect();
    }
    let labels = labels(work);
    if labels.len() == keys.len() {
        return labels;
    }
    (1..=keys.len()).map(|i| format!("size {i}")).collect()
}

/// What tells each size from the others.
fn told_by(work: &Work<'_>, keys: &[Key]) -> Vec<String> {
    let styles: Vec<&Style> = keys
        .iter()
        .filter_map(|k| style_of(&work.styles, k))
        .collect();
    if styles.len() < keys.len() {
        return keys.iter().map(|_| "their order".to_owned()).collect();
    }
    fn differ<T: Ord>(of: impl Iterator<Item = T>, all: usize) -> bool {
        of.collect::<BTreeSet<T>>().len() == all
    }
    let n = styles.len();
    let by_layer = layers_tell(&work.styles, keys);
    let by_dash = differ(styles.iter().map(|s| &s.dash), n);
    let by_colour = differ(styles.iter().map(|s| s.colour), n);
    styles
        .iter()
        .map(|s| {
            let dash = || match s.dash.as_slice() {
                [] => "no dashes".to_owned(),
                dashes => {
                    let list: Vec<String> = dashes
                        .iter()
                        .map(|d| format!("{}", *d as f64 / 100.0))
                        .collect();
                    format!("dashes {} mm", list.join(" "))
                }
            };
            let [r, g, b] = s.colour;
            if by_layer {
                format!("layer {}", s.layer)
            } else if by_dash {
                dash()
            } else if by_colour {
                format!("colour {r}, {g}, {b}")
            } else {
                format!(
                    "{}, colour {r}, {g}, {b}, line {} mm wide",
                    dash(),
                    s.width as f64 / 100.0
                )
            }
        })
        .collect()
}
