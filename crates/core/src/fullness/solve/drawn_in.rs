//! Gathers, shirring, ease and cartridge pleats: cloth drawn in along the edge.

use super::limits::{FULLEST, MOST};
use super::{Depth, Solved, Unsolved, Wanted, impossible, open};
use crate::fullness::{FoldedEdge, Fullness, Kind};
use crate::units::Mm;

/// Cloth that is not longer than the edge: how much is let go, mm.
const NEAR: f64 = 1e-6;

/// Gathers, shirring, ease: two of finished length, cloth length and ratio.
pub(super) fn solved(wanted: &Wanted, steps: u32) -> Result<Solved, Unsolved> {
    let (finished, cloth) = match (wanted.finished, wanted.cloth, wanted.ratio) {
        (Some(finished), Some(cloth), Some(ratio)) => {
            if (finished.0 * ratio - cloth.0).abs() > 1e-6 * cloth.0 {
                let why = format!(
                    "{} gathered from {} is {:.2} times, not {:.2}.",
                    wanted.shown(finished.0),
                    wanted.shown(cloth.0),
                    cloth.0 / finished.0,
                    ratio
                );
                let near = Wanted {
                    ratio: None,
                    ..wanted.clone()
                };
                return Err(impossible(why, &near, steps));
            }
            (finished.0, cloth.0)
        }
        (Some(finished), Some(cloth), None) => (finished.0, cloth.0),
        (Some(finished), None, Some(ratio)) => (finished.0, finished.0 * ratio),
        (None, Some(cloth), Some(ratio)) => (cloth.0 / ratio, cloth.0),
        _ => {
            return Err(open(
                "Give two of finished length, cloth length and how many times as long the cloth is.",
            ));
        }
    };
    if cloth < finished - NEAR {
        let why = format!(
            "{} of cloth cannot cover {}: {} are missing.",
            wanted.shown(cloth),
            wanted.shown(finished),
            wanted.shown(finished - cloth)
        );
        let near = Wanted {
            cloth: Some(Mm(finished)),
            ratio: None,
            ..wanted.clone()
        };
        return Err(impossible(why, &near, steps));
    }
    let ratio = (cloth / finished).max(1.0);
    if ratio > FULLEST * (1.0 + NEAR) {
        return Err(too_full(wanted, finished, cloth, steps));
    }
    let fullness = match wanted.kind {
        Kind::Shirring => Fullness::Shirring {
            ratio,
            rows: wanted.rows,
            apart: wanted.apart,
        },
        Kind::Ease => Fullness::Ease {
            by: Mm((cloth - finished).max(0.0)),
        },
        _ => Fullness::Gathers { ratio },
    };
    Ok(whole(wanted, fullness, finished, None).compared(wanted))
}

/// Cartridge pleats: cloth = 2 x depth x count.
///
/// # Source
/// Fact sheet E2, from memory: common practice, no source.
pub(super) fn loops(wanted: &Wanted, steps: u32) -> Result<Solved, Unsolved> {
    let wide = wanted.spacing.or(wanted.visible).map(|m| m.0);
    let depth = match wanted.depth {
        Some(Depth::Of(depth)) => Some(depth.0),
        _ => wanted.marks.map(|m| m.0 / 2.0),
    };
    let mm = |m: Option<Mm>| m.map(|m| m.0);
    let (mut finished, mut cloth) = (mm(wanted.finished), mm(wanted.cloth));
    if let Some(ratio) = wanted.ratio {
        finished = finished.or(cloth.map(|c| c / ratio));
        cloth = cloth.or(finished.map(|f| f * ratio));
    }
    let whole_count = |n: f64| n.round().clamp(1.0, f64::from(MOST)) as u32;
    let count = wanted
        .count
        .or_else(|| Some(whole_count(finished? / wide?)))
        .or_else(|| Some(whole_count(cloth? / (2.0 * depth?))));
    let Some(count) = count else {
        return Err(open(
            "Give how many cartridge pleats, or how wide or deep one is.",
        ));
    };
    let n = f64::from(count);
    finished = finished.or(wide.map(|w| w * n));
    cloth = cloth.or(depth.map(|d| 2.0 * d * n));
    if let Some(ratio) = wanted.ratio {
        finished = finished.or(cloth.map(|c| c / ratio));
        cloth = cloth.or(finished.map(|f| f * ratio));
    }
    let Some((finished, cloth)) = finished.zip(cloth) else {
        return Err(open(
            "Give the finished length, and the depth or the cloth length.",
        ));
    };
    if cloth <= finished {
        let why = format!(
            "{count} loops take {} of cloth, less than the {} they are to cover.",
            wanted.shown(cloth),
            wanted.shown(finished)
        );
        // As many times as the shallowest that still stand out (common practice, from memory).
        let near = Wanted {
            cloth: None,
            depth: None,
            marks: None,
            ratio: Some(3.0),
            count: Some(count),
            finished: Some(Mm(finished)),
            ..wanted.clone()
        };
        return Err(impossible(why, &near, steps));
    }
    if cloth > finished * FULLEST * (1.0 + NEAR) {
        return Err(too_full(wanted, finished, cloth, steps));
    }
    let fullness = Fullness::CartridgePleats {
        count,
        ratio: cloth / finished,
    };
    let solved = whole(wanted, fullness, finished, Some(count)).compared(wanted);
    super::pleats::consistent(wanted, solved)
}

fn too_full(wanted: &Wanted, finished: f64, cloth: f64, steps: u32) -> Unsolved {
    let why = format!(
        "{} of cloth is {:.0} times {}; more than {FULLEST:.0} times cannot be drawn in.",
        wanted.shown(cloth),
        cloth / finished,
        wanted.shown(finished)
    );
    let near = Wanted {
        finished: Some(Mm(finished)),
        cloth: None,
        depth: None,
        marks: None,
        ratio: Some(FULLEST),
        ..wanted.clone()
    };
    impossible(why, &near, steps)
}

fn whole(wanted: &Wanted, fullness: Fullness, finished: f64, count: Option<u32>) -> Solved {
    let mut layout = wanted.layout.clone();
    layout.spacing = None;
    let folded = FoldedEdge::new(fullness, &layout, Mm(finished));
    let each = |length: Mm| count.map(|n| Mm(length.0 / f64::from(n)));
    Solved {
        kind: wanted.kind,
        finished: Mm(finished),
        cloth: folded.cloth,
        count,
        visible: each(folded.finished),
        depth: each(folded.cloth).map(|m| Mm(m.0 / 2.0)),
        spacing: each(folded.finished),
        marks: each(folded.cloth),
        ratio: folded.cloth.0 / finished,
        leftover: Mm(0.0),
        adjusted: Vec::new(),
        fullness,
        layout,
        folded,
    }
}
