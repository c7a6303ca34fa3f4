//! Sizes that are none are refused, with the nearest that are some.

use super::wrong::{FULLEST, NARROWEST};
use super::{
    Ends, Hiding, LongEdge, Make, Size, Source, StripError, StripWanted, UnsoundStrip, WrongStrip,
};
use crate::units::Mm;

const LONGEST: f64 = 1.0e6;
const SHORTEST: f64 = 0.01;

/// Refuses sizes that are none.
pub(super) fn sound(wanted: &StripWanted, source: &Source) -> Result<(), StripError> {
    if let Some(wrong) = wrong_size(wanted) {
        let nearest = mended(wanted);
        let nearest = wrong_size(&nearest).is_none().then_some(nearest);
        return Err(StripError::Unsound(Box::new(UnsoundStrip {
            wrong,
            nearest,
        })));
    }
    let bits = match source {
        Source::Every(length) => std::slice::from_ref(length),
        Source::Bits(bits) => bits,
    };
    match bits.iter().find(|bit| !(0.0..=LONGEST).contains(&bit.0)) {
        Some(wrong) => Err(WrongStrip::Bit(*wrong).into()),
        None => Ok(()),
    }
}

/// The first size that is none.
fn wrong_size(wanted: &StripWanted) -> Option<WrongStrip> {
    let (cut, width) = wanted.widths();
    let (cloth, length) = wanted.lengths();
    let named = [
        (length, "finished length"),
        (cloth, "length"),
        (width, "finished width"),
        (cut, "cut width"),
    ];
    let is_none = |size: &Mm| !(SHORTEST..=LONGEST).contains(&size.0);
    if let Some((size, what)) = named.into_iter().find(|(size, _)| is_none(size)) {
        return Some(WrongStrip::Size(what, size));
    }
    let takes = [wanted.allowance, wanted.shortest];
    let edges = match wanted.make {
        Make::Single { upper, lower } => [upper.takes(), lower.takes()],
        Make::Double { allowance } => [allowance.0; 2],
    };
    let all = takes
        .iter()
        .map(|m| m.0)
        .chain(edges)
        .chain([wanted.at_ends()]);
    if let Some(wrong) = all.into_iter().find(|size| !(0.0..=LONGEST).contains(size)) {
        return Some(WrongStrip::Allowance(Mm(wrong)));
    }
    (!(1.0..=FULLEST).contains(&wanted.ratio)).then_some(WrongStrip::Ratio(wanted.ratio))
}

/// The nearest request whose sizes are some.
fn mended(wanted: &StripWanted) -> StripWanted {
    let length = |mm: Mm| {
        Mm(if mm.0.is_nan() {
            0.0
        } else {
            mm.0.clamp(0.0, 1.0e5)
        })
    };
    let edge = |edge: LongEdge| match edge {
        LongEdge::Raw => LongEdge::Raw,
        LongEdge::Seam(mm) => LongEdge::Seam(length(mm)),
        LongEdge::Hem { width, turns } => LongEdge::Hem {
            width: length(width),
            turns,
        },
    };
    let mut near = StripWanted {
        make: match wanted.make {
            Make::Single { upper, lower } => Make::Single {
                upper: edge(upper),
                lower: edge(lower),
            },
            Make::Double { allowance } => Make::Double {
                allowance: length(allowance),
            },
        },
        ends: match wanted.ends {
            Ends::Ring => Ends::Ring,
            Ends::Open(ends) => Ends::Open(edge(ends)),
        },
        ratio: if wanted.ratio.is_nan() {
            1.0
        } else {
            wanted.ratio.clamp(1.0, FULLEST)
        },
        allowance: length(wanted.allowance),
        shortest: length(wanted.shortest),
        ..wanted.clone()
    };
    // Pleats were folded for the old length.
    if near.ratio != wanted.ratio && matches!(near.hiding, Hiding::UnderPleats(_)) {
        near.hiding = Hiding::InGathers;
    }
    let some = NARROWEST.0..=1.0e5;
    let finished = near.lengths().1.0;
    if !some.contains(&finished) {
        near.length = Size::Finished(Mm(finished.clamp(*some.start(), *some.end() / FULLEST)));
        near.hiding = match near.hiding {
            Hiding::UnderPleats(_) => Hiding::InGathers,
            other => other,
        };
    }
    let width = near.widths().1.0;
    if !some.contains(&width) {
        near.width = Size::Finished(Mm(width.clamp(*some.start(), *some.end())));
    }
    near
}
