//! How the demands came out, the ease, and what the maker should know.
#![allow(
    clippy::indexing_slicing,
    reason = "blocks and pieces have the same order"
)]

use kurbo::{ParamCurve, Point};

use super::demands::{Asker, Demand, Problem, Setup};
use super::solve::Solution;
use super::{AdaptError, DemandOutcome, EaseRow};
use crate::edit::{Edit, FittingEdit};
use crate::finding::{Finding, Gravity, Place};
use crate::fitting::DemandChoice;
use crate::garment::{Garment, tape_measure};
use crate::piece::Piece;
use crate::tape::Hold;
use crate::units::Mm;

/// A demand missed by less is met (ADAPTATION.md: "met within 0.01 mm or reported").
const MET: f64 = 0.01;

/// A girth or length missed by more than this share of itself cannot be worn as it is (proposal of our own).
const FAR_OFF: f64 = 0.1;

/// A difference that is no number is not met either.
fn is_met(missed: f64) -> bool {
    missed.abs() <= MET
}

/// Every demand, and how it came out.
pub(super) fn outcomes(problem: &Problem, solution: &Solution) -> Vec<DemandOutcome> {
    problem
        .rules
        .iter()
        .filter_map(|rule| {
            let demand = &problem.demands[rule.demand?];
            let missed = rule.missed(&problem.blocks, &solution.points);
            let name = match (&demand.piece, demand.from) {
                (Some(piece), _) => format!("{piece}, {}", demand.name),
                // A seam and a tape line may have one name.
                (None, Asker::Seam) => format!("{} seam", demand.name.trim_end_matches(" seam")),
                (None, _) => demand.name.clone(),
            };
            Some(DemandOutcome {
                name,
                rank: demand.rank,
                wanted: Mm(demand.wanted),
                got: Mm(demand.wanted + missed),
                gave_way: !is_met(missed),
            })
        })
        .collect()
}

/// Ease at every tape line, measured on the adapted pieces.
pub(super) fn ease(setup: &Setup<'_>, made: &Garment) -> Result<Vec<EaseRow>, AdaptError> {
    let targets = setup.garment.tape_lines.iter().zip(setup.tapes);
    let still_there = targets.filter_map(|(source, target)| {
        let tape = made.tape_lines.iter().find(|t| t.name == source.name)?;
        Some((tape, target))
    });
    let measured = still_there.map(|(tape, target)| {
        let got = tape_measure(tape, &made.pieces)
            .map_err(|why| AdaptError::BadReference(why.to_string()))?;
        Ok(target.row(tape, got.0))
    });
    measured.collect()
}

/// Demands that gave way, legs that turned round, outlines that cross themselves.
pub(super) fn findings(setup: &Setup<'_>, problem: &Problem, solution: &Solution) -> Vec<Finding> {
    let mut findings = Vec::new();
    for rule in &problem.rules {
        let Some(demand) = rule.demand.map(|d| &problem.demands[d]) else {
            continue;
        };
        let missed = rule.missed(&problem.blocks, &solution.points);
        if !is_met(missed) {
            findings.push(gave_way(setup, demand, missed));
        }
    }
    for (index, piece) in setup.pieces.iter().enumerate() {
        if let Some(edge) = turned_edge(problem, index, piece, &solution.points[index]) {
            findings.push(Finding {
                gravity: Gravity::Unusable,
                place: Place::edge(&piece.name, &edge),
                what: "this edge has folded back on itself.".to_owned(),
                advice: "Two demands push against each other here: let one of this piece hang, or type its measure.".to_owned(),
                remedy: None,
            });
        }
        if let Some((first, second)) =
            crossing_edges(problem, index, piece, &solution.points[index])
        {
            findings.push(Finding {
                gravity: Gravity::Unusable,
                place: Place::edge(&piece.name, &first),
                what: format!("the outline crosses itself: {first} runs over {second}."),
                advice: "Check the body's measures, or let a demand of this piece hang.".to_owned(),
                remedy: None,
            });
        }
    }
    findings
}

fn gave_way(setup: &Setup<'_>, demand: &Demand, missed: f64) -> Finding {
    let how = if missed > 0.0 {
        "too long"
    } else {
        "too short"
    };
    let is_tape = demand.from == Asker::Tape;
    let tape = setup
        .garment
        .tape_lines
        .iter()
        .find(|t| is_tape && t.name == demand.name);
    let is_seam = demand.from == Asker::Seam;
    let place = Place {
        piece: demand.piece.clone(),
        part: Some(demand.name.clone()),
        fraction: None,
    };
    let advice = if tape.is_some() {
        "It contradicts a demand of better rank. Let it hang, or give it a better rank."
    } else if is_seam {
        "Its two sides no longer fit: ease the difference in, or let a girth or length beside it hang."
    } else {
        "It contradicts a demand of better rank; look at the piece before cutting."
    };
    let remedy = tape.map(|tape| {
        let choice = DemandChoice {
            hold: Some(Hold::Hanging),
            ..setup
                .fitting
                .demands
                .get(&tape.name)
                .copied()
                .unwrap_or_default()
        };
        Edit::Fitting {
            fitting: setup.fitting.name.clone(),
            change: FittingEdit::SetDemand(tape.name.clone(), Some(choice)),
        }
    });
    // A seam that cannot be eased in (over 3 % of a doll's shortest useful seam, 1 mm) cannot be sewn.
    let far_off = is_tape && missed.abs() > FAR_OFF * demand.wanted.abs();
    let gravity = if far_off || !missed.is_finite() || is_seam && missed.abs() > 1.0 {
        Gravity::Unusable
    } else if demand.rank >= super::demands::rank::SHARE && missed.abs() < 1.0 {
        Gravity::Note
    } else {
        Gravity::Care
    };
    Finding {
        gravity,
        place,
        what: if missed.is_finite() {
            format!("gave way by {:.2} mm ({how}).", missed.abs())
        } else {
            "cannot be met at all.".to_owned()
        },
        advice: advice.to_owned(),
        remedy,
    }
}

/// An edge one of whose legs points against its guess and its source.
fn turned_edge(problem: &Problem, index: usize, piece: &Piece, points: &[Point]) -> Option<String> {
    let block = &problem.blocks[index];
    let small = block.mean_leg() * 0.02;
    for (range, edge) in block.edges.iter().zip(piece.outline.edges()) {
        for cubic in range.clone() {
            for w in block.cubics[cubic].windows(2) {
                let (now, guess) = (
                    points[w[1]] - points[w[0]],
                    block.guess[w[1]] - block.guess[w[0]],
                );
                if now.hypot() > small
                    && guess.hypot() > small
                    && now.dot(guess) < -0.2 * now.hypot() * guess.hypot()
                {
                    return Some(edge.name.clone());
                }
            }
        }
    }
    None
}

/// Chords per cubic when looking for crossings.
const CHORDS: u32 = 8;

/// Two edges that cross each other (or one itself), away from shared corners.
fn crossing_edges(
    problem: &Problem,
    index: usize,
    piece: &Piece,
    points: &[Point],
) -> Option<(String, String)> {
    let block = &problem.blocks[index];
    let mut chords: Vec<(usize, Point, Point)> = Vec::new();
    for (edge, range) in block.edges.iter().enumerate() {
        for cubic in range.clone() {
            let c = block.cubic(cubic, points);
            let n = if piece.outline.edges()[edge].line.is_straight() {
                1
            } else {
                CHORDS
            };
            for k in 0..n {
                let (t, u) = (f64::from(k) / f64::from(n), f64::from(k + 1) / f64::from(n));
                chords.push((edge, c.eval(t), c.eval(u)));
            }
        }
    }
    let count = chords.len();
    for i in 0..count {
        for j in i + 2..count {
            if i == 0 && j == count - 1 {
                continue;
            }
            let ((e, a, b), (f, c, d)) = (chords[i], chords[j]);
            if cross(a, b, c, d) {
                let edges = piece.outline.edges();
                return Some((edges[e].name.clone(), edges[f].name.clone()));
            }
        }
    }
    None
}

/// Do two chords cross properly?
fn cross(a: Point, b: Point, c: Point, d: Point) -> bool {
    let side = |p: Point, q: Point, r: Point| (q - p).cross(r - p);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}
