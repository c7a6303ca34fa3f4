//! Words drawn as outlines: small closed lines close to each other in a run. Nobody can read them here, so they are told
//! and left out before they are taken for lines to place something on.

use std::collections::BTreeSet;

use petitoile_core::kurbo::Rect;

use super::Scene;

/// Letters are no larger than this, mm.
const LARGEST: f64 = 16.0;

/// The next letter is no further off than this share of the larger one.
const NEXT: f64 = 0.6;

/// A run has at least so many.
const LEAST: usize = 3;

/// A letter has at least so many stretches; an I has fewer, but not all letters of a word have.
const STRETCHES: usize = 6;

/// More small closed lines on one piece than this are not looked at.
const MOST: usize = 3000;

/// Leaves out runs of letters.
pub(super) fn leave_out(scene: &mut Scene<'_, '_>) {
    let small: Vec<(usize, Rect, usize)> = scene
        .strokes()
        .filter(|(at, s)| s.closed && s.meaning.is_none() && scene.said(*at).is_none())
        .filter(|(_, s)| s.bounds.width().max(s.bounds.height()) <= LARGEST)
        .map(|(at, s)| (at, s.bounds, s.segs.len()))
        .take(MOST)
        .collect();
    let mut seen: BTreeSet<usize> = BTreeSet::new();
    for first in 0..small.len() {
        if !seen.insert(first) {
            continue;
        }
        let mut run = vec![first];
        let mut next = 0;
        while let Some(here) = run.get(next).and_then(|at| small.get(*at)) {
            next += 1;
            for (other, (_, bounds, _)) in small.iter().enumerate() {
                if !seen.contains(&other) && is_next(here.1, *bounds) {
                    seen.insert(other);
                    run.push(other);
                }
            }
        }
        let strokes = || run.iter().filter_map(|at| small.get(*at));
        let shaped = strokes().filter(|s| s.2 >= STRETCHES).count();
        if run.len() >= LEAST && 2 * shaped >= run.len() {
            let all: Vec<usize> = strokes().map(|s| s.0).collect();
            for at in all {
                scene
                    .work
                    .leave(at, "letters drawn as lines, which are not read");
                scene.free.remove(&at);
            }
        }
    }
}

/// Do two letters stand beside each other?
fn is_next(a: Rect, b: Rect) -> bool {
    let high = |r: Rect| r.width().max(r.height());
    let x = (a.x0 - b.x1).max(b.x0 - a.x1).max(0.0);
    let y = (a.y0 - b.y1).max(b.y0 - a.y1).max(0.0);
    x.hypot(y) <= NEXT * high(a).max(high(b))
}
