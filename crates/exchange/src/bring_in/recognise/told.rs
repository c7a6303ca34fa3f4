//! Guesses in the maker's words. Lengths in mm, with the unit beside every figure, so that they can be said in another unit.

use petitoile_core::kurbo::{Point, Rect};

use super::parallel::Way;
use super::types::{Alternative, Correction, Guess, GuessKind, OneLine, PieceId, Taken, Thing};

/// A length as it is told: hundredths, no idle zeros.
pub(super) fn mm(length: f64) -> String {
    let text = format!("{length:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    format!("{text} mm")
}

pub(super) fn guess(piece: Option<PieceId>, kind: GuessKind, about: &str, at: Point) -> Guess {
    let place = piece.map_or_else(String::new, |p| format!("/{}", p.0));
    let about = if about.is_empty() {
        String::new()
    } else {
        format!("/{about}")
    };
    Guess {
        id: format!("{}{place}{about}", kind.label()),
        piece,
        kind,
        at,
        words: String::new(),
        rests_on: String::new(),
        certainty: 1.0,
        alternatives: Vec::new(),
    }
}

pub(super) fn allowance(
    id: PieceId,
    ways: &[Option<Way>],
    certainty: f64,
    usual: f64,
    inner: usize,
    bounds: Rect,
) -> Guess {
    let widest = ways.iter().flatten().map(|w| w.width).fold(0.0, f64::max);
    let wider = if widest > 1.2 * usual + 0.5 {
        format!(", up to {}", mm(widest))
    } else {
        String::new()
    };
    Guess {
        words: format!(
            "the inner line is the stitch line; allowance {}{wider}",
            mm(usual)
        ),
        rests_on: format!(
            "it runs beside the outer line at a steady width on {} edges",
            ways.iter().flatten().filter(|w| w.share > 0.8).count()
        ),
        certainty,
        alternatives: vec![
            Alternative {
                words: "the inner line is no part of the piece".to_owned(),
                correction: Correction::Is {
                    thing: Thing::Line(inner),
                    taken: Taken::NoPart,
                },
            },
            Alternative {
                words: "it is a line to place something on".to_owned(),
                correction: Correction::Is {
                    thing: Thing::Line(inner),
                    taken: Taken::Placement,
                },
            },
        ],
        ..guess(Some(id), GuessKind::Allowance, "", bounds.center())
    }
}

pub(super) fn gap(id: PieceId, at: Point, far: f64) -> Guess {
    Guess {
        words: format!("the outline is closed over a gap of {}", mm(far)),
        rests_on: format!("two ends {} apart", mm(far)),
        certainty: (1.0 - 0.5 * far).clamp(0.3, 0.95),
        alternatives: vec![Alternative {
            words: "this is no piece".to_owned(),
            correction: Correction::IsPiece {
                piece: id,
                is_piece: false,
            },
        }],
        ..guess(
            Some(id),
            GuessKind::Gap,
            &format!("{:.0},{:.0}", at.x, at.y),
            at,
        )
    }
}

pub(super) fn one_line(id: PieceId, is: OneLine, certainty: f64, why: &str, at: Point) -> Guess {
    let (words, other, correction) = match is {
        OneLine::Stitch => (
            "the line is the stitch line: no allowance is drawn",
            "it is the cut line",
            OneLine::Cut,
        ),
        OneLine::Cut => (
            "the line is the cut line: its allowance is to be taken off",
            "it is the stitch line",
            OneLine::Stitch,
        ),
    };
    Guess {
        words: words.to_owned(),
        rests_on: why.to_owned(),
        certainty,
        alternatives: vec![Alternative {
            words: other.to_owned(),
            correction: Correction::OneLine {
                piece: id,
                is: correction,
            },
        }],
        ..guess(Some(id), GuessKind::OneLine, "", at)
    }
}
