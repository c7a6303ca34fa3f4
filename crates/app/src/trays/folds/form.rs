//! The numbers of one fullness while they are worked on: which are given, and what follows from them.

use petitoile_core::fullness::{
    Depth, FullnessOp, Kind, Layout, Leftover, Quantity, Solved, Unsolved, Wanted, solve,
};
use petitoile_core::{LengthUnit, Mm};

/// Lengths that differ by less are the same, mm.
const SAME: f64 = 1e-6;

/// Every number, in the order they are shown.
const ALL: [Quantity; 8] = [
    Quantity::Finished,
    Quantity::Cloth,
    Quantity::Count,
    Quantity::Spacing,
    Quantity::Visible,
    Quantity::Depth,
    Quantity::Marks,
    Quantity::Ratio,
];

/// Why the numbers cannot be, and the nearest that can.
#[derive(Debug, Clone, PartialEq)]
pub struct Trouble {
    /// In the maker's words.
    pub why: String,
    /// What can be had instead.
    pub nearest: Option<Box<Solved>>,
}

/// The numbers of one fullness.
#[derive(Debug, Clone)]
pub struct Form {
    /// Name of the piece.
    pub piece: String,
    /// Its place in the list of the piece.
    pub number: usize,
    /// The fullness on the table when the form was filled in.
    seen: FullnessOp,
    /// What the form has asked for since.
    made: Option<FullnessOp>,
    /// Length of the whole edge.
    pub edge: Mm,
    /// What is given.
    pub wanted: Wanted,
    /// What was given, oldest first.
    given: Vec<Quantity>,
    /// Unit in which reasons are told.
    pub unit: LengthUnit,
    /// What follows.
    pub outcome: Result<Box<Solved>, Trouble>,
    /// Where a value stood when the hand took hold of it.
    pub held: Option<f64>,
}

impl Form {
    /// The form of a fullness that is there.
    pub fn of(piece: &str, number: usize, op: &FullnessOp, edge: Mm, unit: LengthUnit) -> Self {
        let finished = Mm(edge.0 * (op.to - op.from));
        let mut wanted = Wanted::of(op.fullness, &op.layout, finished);
        if op.layout.spacing.is_some() {
            wanted.leftover = Leftover::Plain;
        }
        let given = ALL
            .into_iter()
            .filter(|what| value(&wanted, *what).is_some());
        let mut form = Self {
            piece: piece.to_owned(),
            number,
            seen: op.clone(),
            made: None,
            edge,
            given: given.collect(),
            wanted,
            unit,
            outcome: Err(Trouble {
                why: String::new(),
                nearest: None,
            }),
            held: None,
        };
        form.work_out();
        form
    }

    /// Follows what lies on the table. What the maker typed stays as long as nothing else has changed it.
    pub fn follow(
        &mut self,
        piece: &str,
        number: usize,
        op: &FullnessOp,
        edge: Mm,
        unit: LengthUnit,
    ) {
        if self.unit != unit {
            self.unit = unit;
            self.work_out();
        }
        let same_edge = (self.edge.0 - edge.0).abs() < SAME;
        let same_place = self.piece == piece && self.number == number && same_edge;
        if same_place && *op == self.seen {
            return;
        }
        if same_place && self.made.as_ref() == Some(op) {
            self.seen = op.clone();
            return;
        }
        *self = Self::of(piece, number, op, edge, unit);
    }

    /// Is this number given, not computed?
    pub fn is_given(&self, what: Quantity) -> bool {
        self.given.contains(&what)
    }

    /// What stands in the field of a number: what was given, else what follows.
    pub fn shown(&self, what: Quantity) -> Option<f64> {
        value(&self.wanted, what).or_else(|| got(self.outcome.as_deref().ok()?, what))
    }

    /// What a given number became, so that the count is whole.
    pub fn became(&self, what: Quantity) -> Option<f64> {
        let solved = self.outcome.as_deref().ok()?;
        self.is_given(what)
            .then(|| solved.adjusted.iter().find(|a| a.what == what))
            .flatten()
            .map(|adjusted| adjusted.got)
    }

    /// Gives a number. Others that say the same in another way are let go, then the oldest beyond what is needed.
    pub fn give(&mut self, what: Quantity, given: f64) {
        put(&mut self.wanted, what, Some(given));
        self.given.retain(|other| *other != what);
        let fixed = self.is_given(Quantity::Finished);
        let rivals = rivals(self.wanted.kind, what, fixed);
        for rival in rivals {
            self.let_go_of(*rival);
        }
        self.given.push(what);
        let most = most(self.wanted.kind);
        while self.given.len() > most {
            let oldest = self
                .given
                .iter()
                .copied()
                .find(|other| *other != what && *other != Quantity::Finished);
            match oldest {
                Some(oldest) => self.let_go_of(oldest),
                None => break,
            }
        }
        self.work_out();
    }

    /// Gives a depth as a share of full.
    pub fn give_share(&mut self, share: f64) {
        self.give(Quantity::Depth, 1.0);
        self.wanted.depth = Some(if share >= 1.0 {
            Depth::Full
        } else {
            Depth::Share(share)
        });
        self.work_out();
    }

    /// Lets a number be computed.
    pub fn let_go(&mut self, what: Quantity) {
        self.let_go_of(what);
        self.work_out();
    }

    fn let_go_of(&mut self, what: Quantity) {
        put(&mut self.wanted, what, None);
        self.given.retain(|other| *other != what);
    }

    /// Changes how it lies.
    pub fn lay(&mut self, change: impl FnOnce(&mut Layout, &mut Leftover)) {
        change(&mut self.wanted.layout, &mut self.wanted.leftover);
        self.work_out();
    }

    /// Changes rows of shirring.
    pub fn rows(&mut self, rows: u32, apart: Mm) {
        (self.wanted.rows, self.wanted.apart) = (rows, apart);
        self.work_out();
    }

    /// Takes the nearest possible numbers in place of those that cannot be.
    pub fn take_nearest(&mut self) {
        let Err(Trouble {
            nearest: Some(nearest),
            ..
        }) = &self.outcome
        else {
            return;
        };
        self.put_in(&nearest.clone());
    }

    /// Fills the form with numbers that are known to go together.
    pub fn put_in(&mut self, solved: &Solved) {
        let mut wanted = Wanted::of(solved.fullness, &solved.layout, solved.finished);
        if solved.layout.spacing.is_some() {
            wanted.leftover = Leftover::Plain;
        }
        self.given = ALL
            .into_iter()
            .filter(|what| value(&wanted, *what).is_some())
            .collect();
        self.wanted = wanted;
        self.work_out();
    }

    fn work_out(&mut self) {
        self.wanted.unit = self.unit;
        self.outcome = match solve(&self.wanted) {
            Ok(solved) => self.on_edge(solved),
            Err(Unsolved::Open { ask }) => Err(Trouble {
                why: ask,
                nearest: None,
            }),
            Err(Unsolved::Impossible { why, nearest }) => Err(Trouble {
                why,
                nearest: Some(nearest),
            }),
        };
    }

    /// What is folded must fit on its edge.
    fn on_edge(&self, solved: Solved) -> Result<Box<Solved>, Trouble> {
        let over = solved.finished.0 - self.edge.0;
        if over <= 1e-4 {
            return Ok(Box::new(solved));
        }
        let whole = Wanted {
            finished: Some(self.edge),
            cloth: None,
            ..Wanted::of(solved.fullness, &solved.layout, self.edge)
        };
        Err(Trouble {
            why: format!(
                "The edge is {} shorter than that.",
                self.unit.show_computed(Mm(over))
            ),
            nearest: solve(&whole).ok().map(Box::new),
        })
    }

    /// The fullness that the numbers make; `None` while they cannot be.
    pub fn op(&self) -> Option<FullnessOp> {
        let solved = self.outcome.as_deref().ok()?;
        let (mut from, mut to) = (self.seen.from, self.seen.to);
        let share = solved.finished.0 / self.edge.0.max(SAME);
        if ((to - from) - share).abs() > 1e-9 {
            from = from.min(1.0 - share).max(0.0);
            to = (from + share).min(1.0);
        }
        Some(solved.op(&self.seen.edge, from, to, self.seen.even_to.clone()))
    }

    /// Remembers what was asked for, so that the form stays as typed when it lies on the table.
    pub fn asks_for(&mut self, op: FullnessOp) {
        self.made = Some(op);
    }
}

/// How many numbers settle a kind.
fn most(kind: Kind) -> usize {
    match kind {
        Kind::Gathers | Kind::Shirring | Kind::Ease => 2,
        Kind::Box | Kind::DoubleBox => 4,
        _ => 3,
    }
}

/// Numbers that say the same as another once the finished length is fixed: how many, or how deep.
fn rivals(kind: Kind, what: Quantity, fixed: bool) -> &'static [Quantity] {
    use Quantity::{Cloth, Count, Depth, Ratio, Spacing, Visible};
    if !fixed {
        return &[];
    }
    match (what, kind) {
        (Visible, Kind::Box | Kind::DoubleBox) => &[],
        (Count, Kind::Box | Kind::DoubleBox) => &[Spacing],
        (Spacing, Kind::Box | Kind::DoubleBox) => &[Count],
        (Count, _) => &[Spacing, Visible],
        (Spacing, _) => &[Count, Visible],
        (Visible, _) => &[Count, Spacing],
        (Cloth, _) => &[Depth, Ratio],
        (Depth, _) => &[Cloth, Ratio],
        (Ratio, _) => &[Cloth, Depth],
        _ => &[],
    }
}

/// A number of a request: mm, a count, or a ratio.
fn value(wanted: &Wanted, what: Quantity) -> Option<f64> {
    let mm = |m: Option<Mm>| m.map(|m| m.0);
    match what {
        Quantity::Finished => mm(wanted.finished),
        Quantity::Cloth => mm(wanted.cloth),
        Quantity::Count => wanted.count.map(f64::from),
        Quantity::Visible => mm(wanted.visible),
        Quantity::Depth => match wanted.depth {
            Some(Depth::Of(depth)) => Some(depth.0),
            _ => None,
        },
        Quantity::Spacing => mm(wanted.spacing),
        Quantity::Marks => mm(wanted.marks),
        Quantity::Ratio => wanted.ratio,
    }
}

fn put(wanted: &mut Wanted, what: Quantity, given: Option<f64>) {
    let mm = given.map(Mm);
    match what {
        Quantity::Finished => wanted.finished = mm,
        Quantity::Cloth => wanted.cloth = mm,
        Quantity::Count => wanted.count = given.map(|n| n.round().clamp(0.0, 1e6) as u32),
        Quantity::Visible => wanted.visible = mm,
        Quantity::Depth => wanted.depth = mm.map(Depth::Of),
        Quantity::Spacing => wanted.spacing = mm,
        Quantity::Marks => wanted.marks = mm,
        Quantity::Ratio => wanted.ratio = given,
    }
}

/// The same number of an outcome.
pub fn got(solved: &Solved, what: Quantity) -> Option<f64> {
    let mm = |m: Option<Mm>| m.map(|m| m.0);
    match what {
        Quantity::Finished => Some(solved.finished.0),
        Quantity::Cloth => Some(solved.cloth.0),
        Quantity::Count => solved.count.map(f64::from),
        Quantity::Visible => mm(solved.visible),
        Quantity::Depth => mm(solved.depth),
        Quantity::Spacing => mm(solved.spacing),
        Quantity::Marks => mm(solved.marks),
        Quantity::Ratio => Some(solved.ratio),
    }
}
