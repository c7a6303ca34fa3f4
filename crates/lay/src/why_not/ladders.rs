//! What is tried, in which order, and the change of the project that each trial stands for.

use std::collections::VecDeque;

use petitoile_core::cloth::{GoodFor, Offcut};
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::laying::PieceLaying;
use petitoile_core::{Degrees, Mm};

use super::{Answer, Change, Concession, Impossible, Question, extra, proof};

/// Gaps tried, shares of the gap now.
const GAPS: [f64; 2] = [0.5, 0.0];

/// Degrees added to the turn off the grain.
const GRAINS: [f64; 3] = [1.0, 3.0, 6.0];

/// Allowances become narrower by this each time, mm, down to the least that can be sewn (common practice, no source).
const ALLOWANCE_STEP: f64 = 1.0;
const LEAST_ALLOWANCE: f64 = 3.0;

/// Larger offcuts tried, percent longer and wider.
const LARGER: [f64; 12] = [
    1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 15.0, 20.0, 30.0, 50.0, 75.0,
];

/// Pieces that are tried pieced or upside down at most.
const PIECES: usize = 6;

/// The piece that a change is about, if it is about one.
pub(super) fn piece_of(change: &Change) -> Option<&String> {
    match change {
        Change::Split(piece)
        | Change::Patched(piece)
        | Change::Joined(piece)
        | Change::Pieced(piece)
        | Change::UpsideDown(piece) => Some(piece),
        _ => None,
    }
}

/// Is it worth trying all ways to piece a piece together: were several tried, and was none enough alone?
pub(super) fn is_worth_more(piece: &String, answer: &Answer) -> bool {
    let is_alone = |change: &Change| {
        let alone = matches!(
            change,
            Change::Split(_) | Change::Patched(_) | Change::Joined(_)
        );
        alone && piece_of(change) == Some(piece)
    };
    let helped = || {
        answer
            .concessions
            .iter()
            .filter(|one| is_alone(&one.change))
    };
    let in_vain = answer.in_vain.iter().filter(|change| is_alone(change));
    !helped().any(Concession::is_enough) && helped().count() + in_vain.count() > 1
}

/// Everything that is tried: what costs least first. Where there is too little cloth, only what makes pieces smaller or cloth
/// larger can help; where a piece is larger than every offcut, piecing it may.
pub(super) fn ladders(question: &Question, answer: &Answer) -> VecDeque<VecDeque<Change>> {
    let mut ladders = VecDeque::new();
    if answer.impossible.is_empty() {
        ladders.push_back(gaps(question));
    }
    let too_large = |proof: &Impossible| matches!(proof, Impossible::TooLarge { .. });
    if answer.impossible.iter().all(too_large) {
        ladders.push_back(grains(question));
        let pieces = pieces(question, answer);
        for piece in &pieces {
            ladders.extend(alone(question, piece).map(|change| [change].into()));
        }
        for piece in &pieces {
            ladders.push_back([Change::Pieced(piece.clone())].into());
        }
    }
    ladders.push_back(allowances(question));
    let least = proof::least_growth(&question.to_lay, &question.offcuts, &question.plan);
    ladders.push_back(
        LARGER
            .into_iter()
            .filter(|percent| *percent >= least)
            .map(Change::LargerOffcuts)
            .collect(),
    );
    if let Some(offcut) = extra::first_guess(question, answer) {
        ladders.push_back([Change::Extra(offcut)].into());
    }
    ladders
}

/// Ways to lay a piece otherwise, each for itself; none that the maker has refused, or that the piece has no fold for.
fn alone(question: &Question, piece: &str) -> impl Iterator<Item = Change> {
    let chosen = chosen(question, piece);
    let has_fold = question
        .to_lay
        .copies
        .iter()
        .any(|copy| copy.of.piece == piece && copy.whole.fold.is_some());
    let new = |refused: Option<bool>, change: fn(String) -> Change| {
        (refused != Some(false)).then(|| change(piece.to_owned()))
    };
    [
        new(chosen.seam_on_fold, Change::Split).filter(|_| has_fold),
        new(chosen.patch, Change::Patched),
        new(chosen.join, Change::Joined),
        new(chosen.upside_down, Change::UpsideDown),
    ]
    .into_iter()
    .flatten()
}

/// What the maker chose for a piece.
fn chosen(question: &Question, piece: &str) -> PieceLaying {
    let chosen = question.laying.pieces.get(piece).copied();
    chosen.unwrap_or_default()
}

fn gaps(question: &Question) -> VecDeque<Change> {
    let from = question.laying.gap;
    GAPS.into_iter()
        .map(|share| Mm(from.0 * share))
        .filter(|to| to.0 < from.0)
        .map(|to| Change::Gap { from, to })
        .collect()
}

fn grains(question: &Question) -> VecDeque<Change> {
    let from = question.laying.grain_tolerance;
    GRAINS
        .into_iter()
        .map(|more| Change::Grain {
            from,
            to: Degrees(from.0 + more),
        })
        .collect()
}

fn allowances(question: &Question) -> VecDeque<Change> {
    let from = question.allowance;
    let mut rungs = VecDeque::new();
    let mut to = from.0 - ALLOWANCE_STEP;
    while to >= LEAST_ALLOWANCE {
        rungs.push_back(Change::Allowance { from, to: Mm(to) });
        to -= ALLOWANCE_STEP;
    }
    rungs
}

/// Pieces that do not lie, then the largest others.
fn pieces(question: &Question, answer: &Answer) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    let mut others: Vec<(f64, &String)> = question
        .to_lay
        .copies
        .iter()
        .map(|copy| (crate::bridge::area(&copy.whole.outline), &copy.of.piece))
        .collect();
    others.sort_by(|a, b| b.0.total_cmp(&a.0));
    let left = answer.not_laid.iter().map(|left| &left.of.piece);
    for name in left.chain(others.into_iter().map(|other| other.1)) {
        if !names.contains(name) && names.len() < PIECES {
            names.push(name.clone());
        }
    }
    names
}

/// The change of the fitting that a trial stands for.
pub(super) fn edit(question: &Question, change: &Change) -> Option<FittingEdit> {
    let laid = |piece: &String, change: &dyn Fn(&mut PieceLaying)| {
        let mut laying = chosen(question, piece);
        change(&mut laying);
        Some(FittingEdit::SetPieceLaying(piece.clone(), Some(laying)))
    };
    // What was refused stays refused.
    let allow = |choice: &mut Option<bool>| *choice = Some(*choice != Some(false));
    match change {
        Change::Allowance { to, .. } => Some(FittingEdit::SetSeamAllowance(*to)),
        Change::Gap { to, .. } => Some(FittingEdit::SetLayGap(*to)),
        Change::Grain { to, .. } => Some(FittingEdit::SetGrainTolerance(*to)),
        Change::Split(piece) => laid(piece, &|laying| allow(&mut laying.seam_on_fold)),
        Change::Patched(piece) => laid(piece, &|laying| allow(&mut laying.patch)),
        Change::Joined(piece) => laid(piece, &|laying| allow(&mut laying.join)),
        Change::Pieced(piece) => laid(piece, &|laying| {
            allow(&mut laying.seam_on_fold);
            allow(&mut laying.patch);
            allow(&mut laying.join);
        }),
        Change::UpsideDown(piece) => laid(piece, &|laying| allow(&mut laying.upside_down)),
        Change::LargerOffcuts(_) | Change::Extra(_) => None,
    }
}

/// The change of the project that a trial stands for.
pub(super) fn remedy(question: &Question, change: &Change) -> Option<Edit> {
    if let Change::LargerOffcuts(percent) = change {
        return Some(Edit::GrowOffcuts(*percent));
    }
    Some(Edit::Fitting {
        fitting: question.fitting.clone(),
        change: edit(question, change)?,
    })
}

/// The same offcut, longer and wider by this share (percent) about its middle, the mean of its corners, with its blemishes; holes where
/// something was cut out stay. On such offcuts lies the plan of [`Change::LargerOffcuts`].
pub fn larger_offcut(offcut: &Offcut, percent: f64) -> Offcut {
    offcut.grown(percent, |blemish| {
        blemish.is_hole && blemish.good_for == GoodFor::Inside
    })
}
