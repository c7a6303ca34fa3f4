//! From garment and fitting to blocks and rules: everything that must hold, with its rank.

use std::sync::Arc;

use super::AdaptError;
use super::block::Block;
use super::guess::Warp;
use super::rules::{Rule, Term};
use super::targets::TapeTarget;
use crate::fitting::Fitting;
use crate::garment::Garment;
use crate::piece::Piece;
use crate::tape::Hold;

mod followers;
mod sewn;
mod shape;
mod sites;
mod taped;

/// Ranks, from what is kept longest. A fold that bends or a seam that does not meet cannot be sewn at all, a girth that
/// is missed may not close, a length that is missed looks wrong, a share or a smooth join is only less good.
pub(in crate::adapt) mod rank {
    /// Folds on grain, square corners at a fold.
    pub const FOLD: u8 = 1;
    /// Dart legs equal.
    pub const DART: u8 = 2;
    /// Mated seams.
    pub const SEAM: u8 = 3;
    /// Girths.
    pub const GIRTH: u8 = 4;
    /// Lengths.
    pub const LENGTH: u8 = 5;
    /// Square corners away from folds; sizes of details.
    pub const SQUARE: u8 = 6;
    /// Each piece's share of a girth.
    pub const SHARE: u8 = 7;
    /// Smooth joins.
    pub const SMOOTH: u8 = 8;
}

/// A demand the maker is told about.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::adapt) struct Demand {
    /// What asks for it.
    pub(in crate::adapt) from: Asker,
    /// Name of the tape line or seam, or what the rule is.
    pub(in crate::adapt) name: String,
    /// 1 is kept longest.
    pub(in crate::adapt) rank: u8,
    /// What it should measure, mm; 0 for a difference.
    pub(in crate::adapt) wanted: f64,
    /// The piece it is about, when it is about one.
    pub(in crate::adapt) piece: Option<String>,
}

/// What asks for a demand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::adapt) enum Asker {
    /// A tape line of the garment.
    Tape,
    /// A seam: its two sides fit.
    Seam,
    /// The shape of a piece.
    Shape,
}

/// Blocks, rules and demands of one adaptation.
pub(in crate::adapt) struct Problem {
    pub(in crate::adapt) blocks: Vec<Block>,
    pub(in crate::adapt) warps: Vec<Warp>,
    pub(in crate::adapt) rules: Vec<Rule>,
    pub(in crate::adapt) demands: Vec<Demand>,
}

/// What the problem is built from.
pub(in crate::adapt) struct Setup<'a> {
    pub(in crate::adapt) garment: &'a Garment,
    pub(in crate::adapt) fitting: &'a Fitting,
    pub(in crate::adapt) pieces: &'a [Arc<Piece>],
    pub(in crate::adapt) tapes: &'a [TapeTarget],
}

/// Builds the problem.
///
/// # Errors
/// [`AdaptError::BadReference`] when a seam or tape line names something that is not there.
pub(in crate::adapt) fn problem(setup: &Setup<'_>) -> Result<Problem, AdaptError> {
    let (blocks, warps) = followers::blocks(setup);
    let mut problem = Problem {
        blocks,
        warps,
        rules: Vec::new(),
        demands: Vec::new(),
    };
    for (index, piece) in setup.pieces.iter().enumerate() {
        problem.fold_rules(index, piece);
        problem.dart_rules(index, piece);
        problem.upright_dart_rules(index, piece);
        problem.corner_rules(index, piece);
        problem.smooth_rules(index, piece);
        problem.grain_rules(index, piece);
        problem.size_rules(setup, index, piece);
    }
    for seam in &setup.garment.seams {
        problem.seam_rule(setup, seam)?;
    }
    for (tape, target) in setup.garment.tape_lines.iter().zip(setup.tapes) {
        if target.hold == Hold::Fitted {
            problem.tape_rules(setup, tape, target)?;
        }
    }
    problem.rules.sort_by_key(|rule| rule.rank);
    Ok(problem)
}

impl Problem {
    fn add(&mut self, demand: Option<Demand>, rank: u8, terms: Vec<(f64, Term)>, target: f64) {
        let demand = demand.map(|d| {
            self.demands.push(d);
            self.demands.len() - 1
        });
        if demand.is_some()
            || !self
                .rules
                .iter()
                .any(|r| r.terms == terms && (r.target - target).abs() < 1e-12)
        {
            self.rules.push(Rule {
                demand,
                rank,
                terms,
                target,
            });
        }
    }
}
