//! Requests with numbers that are none: not finite, below 0, beyond any work.

use super::{Depth, Wanted};
use crate::units::{LengthUnit, Mm};

/// Longest length, mm: 1 km.
const LONGEST: f64 = 1.0e6;
/// Shortest length, mm.
const SHORTEST: f64 = 1.0e-3;
/// Most pleats on one stretch.
pub(super) const MOST: u32 = 2_000;
/// Greatest ratio of cloth to finished length.
pub(super) const FULLEST: f64 = 20.0;
/// Deepest fold, mm.
pub(super) const DEEPEST: f64 = 500.0;

/// Why a request is unsound, and the request without what is wrong; `None` when all is well.
pub(super) fn sound(wanted: &Wanted) -> Option<(String, Wanted)> {
    let mut sound = wanted.clone();
    let mut why = Vec::new();
    let mut length = |value: &mut Option<Mm>, what: &str| {
        if let Some(m) = value.filter(|m| !(SHORTEST..=LONGEST).contains(&m.0)) {
            why.push(format!("A {what} of {} cannot be made.", wanted.shown(m.0)));
            *value = None;
        }
    };
    length(&mut sound.finished, "finished length");
    length(&mut sound.cloth, "cloth length");
    length(&mut sound.visible, "visible width");
    length(&mut sound.spacing, "spacing");
    length(&mut sound.marks, "distance between marks");
    length(&mut sound.layout.top, "top of a box pleat");
    let mut depth = match sound.depth {
        Some(Depth::Of(depth)) => Some(depth),
        _ => None,
    };
    if depth.is_some() {
        length(&mut depth, "depth");
        sound.depth = depth.map(Depth::Of);
    }
    if let Some(Depth::Share(share)) = sound.depth
        && !(1.0e-3..=FULLEST).contains(&share)
    {
        why.push(format!(
            "A depth of {} times full cannot be folded.",
            short(share)
        ));
        sound.depth = Some(Depth::Full);
    }
    if let Some(count) = sound.count.filter(|n| !(1..=MOST).contains(n)) {
        why.push(format!("{count} pleats cannot be made; 1 to {MOST} can."));
        sound.count = Some(count.clamp(1, MOST));
    }
    if let Some(ratio) = sound.ratio.filter(|r| !(1.0..=FULLEST).contains(r)) {
        why.push(format!(
            "Cloth {} times the finished length cannot be drawn in; 1 to {FULLEST:.0} times can.",
            short(ratio)
        ));
        sound.ratio = ratio.is_finite().then_some(ratio.clamp(1.0, FULLEST));
    }
    why.extend(sound_rows(&mut sound));
    why.extend(sound_layout(&mut sound));
    (!why.is_empty()).then(|| (why.join(" "), sound))
}

fn sound_rows(sound: &mut Wanted) -> Option<String> {
    let good = (1..=200).contains(&sound.rows) && (0.1..=LONGEST).contains(&sound.apart.0);
    if good {
        return None;
    }
    let why = format!(
        "{} rows {} apart cannot be sewn.",
        sound.rows,
        sound.shown(sound.apart.0)
    );
    (sound.rows, sound.apart) = (3, Mm(6.0));
    Some(why)
}

fn sound_layout(sound: &mut Wanted) -> Vec<String> {
    let shown = shown_in(sound.unit);
    let layout = &mut sound.layout;
    let mut why = Vec::new();
    let is_length = |m: Mm| (0.0..=LONGEST).contains(&m.0);
    let is_share = |at: f64| (0.0..=1.0).contains(&at);
    if let Some(margin) = layout.margin.filter(|m| !is_length(*m)) {
        why.push(format!("A margin of {} cannot be left.", shown(margin.0)));
        layout.margin = None;
    }
    if let Some(groups) = layout.groups.filter(|g| g.each == 0 || !is_length(g.gap)) {
        why.push(format!(
            "Groups of {} with {} between cannot be made.",
            groups.each,
            shown(groups.gap.0)
        ));
        layout.groups = None;
    }
    if let Some(plain) = layout
        .plain
        .filter(|p| !is_length(p.width) || !is_share(p.at))
    {
        why.push(format!(
            "A plain panel of {} cannot be left there.",
            shown(plain.width.0)
        ));
        layout.plain = None;
    }
    let before = layout.keep_off.len();
    layout
        .keep_off
        .retain(|k| is_length(k.by) && is_share(k.at));
    if layout.keep_off.len() < before {
        why.push("A place to keep off does not lie on the edge.".to_owned());
    }
    layout.rows.retain(|row| row.0.abs() <= LONGEST);
    why
}

/// A length in the maker's unit, for reasons.
pub(super) fn shown_in(unit: LengthUnit) -> impl Fn(f64) -> String {
    move |mm| {
        if mm.is_finite() {
            unit.show_computed(Mm(mm))
        } else {
            format!("{} {}", short(mm), unit.suffix())
        }
    }
}

/// A number as short as it can be read.
pub(super) fn short(value: f64) -> String {
    if !value.is_finite() {
        return "no number of".to_owned();
    }
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
