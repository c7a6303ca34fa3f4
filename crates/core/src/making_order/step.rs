//! What a step of the making order is.

use serde::{Deserialize, Serialize};

use super::LiningMethod;
use crate::edge::EdgeRef;
use crate::finding::Finding;
use crate::lay_plan::{CopyRef, PiecingKind};
use crate::piece::Copy;
use crate::units::Mm;

/// Names a step for good: "sew side seam, left", "hem Sleeve, wrist, right". Ticks and moves are kept by it.
pub type StepKey = String;

/// A whole order of work.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Order {
    /// The steps, first to last.
    pub steps: Vec<Step>,
    /// What the maker should know: steps that close the way for later ones, moves that break a rule, what is infeasible.
    pub findings: Vec<Finding>,
    /// How it is lined; `None` when it is neither lined nor faced.
    pub lining: Option<LiningMethod>,
    /// Rules that the order does not keep: because they contradict each other, or because the maker moved a step.
    pub broken: Vec<Broken>,
    /// Rules that run in a circle, each circle as short as can be: every step must come before the next one, the last
    /// before the first.
    pub circles: Vec<Vec<Tie>>,
    /// What the order costs in trouble: steps in the round, steps by hand that would be sewn by machine flat, seams that
    /// are not sewn in one go. Lower is better; only for comparing orders of the same garment.
    pub trouble: u32,
}

impl Order {
    /// Can it be sewn without breaking a rule that must hold (other than by the maker's own moves)?
    pub fn is_feasible(&self) -> bool {
        self.broken.iter().all(|broken| broken.by_move)
    }

    /// The step of this key.
    pub fn step(&self, key: &str) -> Option<&Step> {
        self.steps.iter().find(|step| step.key == key)
    }
}

/// One step that must come before another, by a rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tie {
    /// Key of the rule.
    pub rule: &'static str,
    /// The step that comes first.
    pub first: StepKey,
    /// The step that comes after it.
    pub then: StepKey,
}

/// A rule that an order does not keep.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Broken {
    /// Key of the rule.
    pub rule: &'static str,
    /// The step that should come first.
    pub first: StepKey,
    /// The step that should come after it.
    pub then: StepKey,
    /// Is it because the maker moved a step?
    pub by_move: bool,
}

/// One step.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// Names it for good.
    pub key: StepKey,
    /// What is done.
    pub work: Work,
    /// The copies taken in hand: piece and copy.
    pub copies: Vec<(String, Copy)>,
    /// The edges that are worked.
    pub edges: Vec<EdgeRef>,
    /// How the work lies.
    pub lies: Lies,
    /// In the round: the girth of the narrowest ring it is worked on.
    pub girth: Option<Mm>,
    /// Length of the seam, hem or row, sewn once; 0 where nothing of that kind is sewn.
    pub length: Mm,
    /// How often it is done: once for every copy that is cut alike.
    pub times: usize,
    /// Is it sewn on in one go with the step before it?
    pub goes_on: bool,
    /// What is pressed straight after it, in the maker's words.
    pub then_press: Option<&'static str>,
    /// By hand or by machine.
    pub by: By,
    /// Why so, with the figure it rests on.
    pub by_why: String,
    /// Keys of the rules that put it where it is; see the table of rules.
    pub rules: Vec<&'static str>,
    /// Keys of the steps that must be done before it.
    pub after: Vec<StepKey>,
}

/// What is done in a step.
#[derive(Debug, Clone, PartialEq)]
pub enum Work {
    /// Cut out and mark.
    CutOut,
    /// Sew the parts of a copy together that was cut in parts.
    PieceTogether {
        /// Which copy.
        of: CopyRef,
        /// Why it was cut so.
        kind: PiecingKind,
        /// In how many parts.
        parts: usize,
        /// Allowance of the seams between them.
        allowance: Mm,
    },
    /// Lay the lining or interlining on a piece and baste, so that both are sewn as one.
    FlatLine,
    /// Sew a dart.
    Dart {
        /// Its name.
        dart: String,
    },
    /// Sew pin tucks or wide tucks.
    Tucks {
        /// Edge they start from.
        edge: String,
    },
    /// Fold and baste pleats.
    Pleats {
        /// Edge they are folded on.
        edge: String,
    },
    /// Draw in gathers, shirring or ease.
    Gather {
        /// Edge that is drawn in.
        edge: String,
    },
    /// Sew a seam.
    Seam {
        /// Its name.
        seam: String,
    },
    /// Hem an edge.
    Hem,
    /// Turn over a casing.
    Casing,
    /// Sew on a facing, or turn one in.
    Face,
    /// Turn in a slit, or sew a placket.
    Slit,
    /// Overcast or bind a raw edge.
    Neaten,
    /// Turn to the right side through an opening.
    Turn {
        /// Where it is turned through: name of the gap or edge.
        through: String,
    },
    /// Close the gap it was turned through.
    CloseGap,
    /// Fell the lining in by hand.
    Fell {
        /// Where: "armscye", "waist".
        at: String,
    },
    /// Sew on what closes an opening.
    Closure {
        /// Name of the opening.
        opening: String,
    },
    /// Press.
    Press,
    /// Try it on.
    TryOn,
}

/// How the work lies while it is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Lies {
    /// Flat on the table.
    Flat,
    /// In the round: a ring or tube.
    Round,
}

/// By hand or by machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum By {
    /// By hand.
    Hand,
    /// By machine.
    Machine,
}
