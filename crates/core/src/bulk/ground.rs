//! What the stacks are reckoned from: pieces, seams, cloths, allowances, and what the maker chose.

use std::collections::{BTreeMap, BTreeSet};

use super::section::{Lies, Widths, Work};
use crate::adapt::Adapted;
use crate::allowance::strips;
use crate::edge::{Edge, EdgeRef, Finish};
use crate::fullness::Fullness;
use crate::making_order::{By, LiningMethod, Order, Work as Step};
use crate::piece::{Piece, Placement, Role};
use crate::seams::{Relation, Seam, SeamKind, Stretch};

/// One layer of cloth at a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Sheet {
    /// Number of its piece.
    pub piece: usize,
    /// Of which layer of the garment.
    pub role: Role,
    /// What of it.
    pub what: What,
    /// mm.
    pub thickness: f64,
}

/// What a sheet is of its piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum What {
    /// The piece itself, or whatever of it the section says.
    Ply,
    /// An allowance of a seam that is crossed.
    Crossed,
    /// A dart, folded.
    Dart,
    /// An allowance that another seam brought here.
    Beneath,
    /// A binding or facing that is no piece of the garment.
    Strip,
}

/// A side of a seam.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum End {
    A,
    B,
}

impl End {
    pub(super) fn other(self) -> Self {
        match self {
            Self::A => Self::B,
            Self::B => Self::A,
        }
    }

    pub(super) fn of(self, seam: &Seam) -> &[Stretch] {
        match self {
            Self::A => &seam.a,
            Self::B => &seam.b,
        }
    }
}

/// One stretch in a seam.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Use {
    /// Number of the seam.
    pub seam: usize,
    pub end: End,
    /// Number of the stretch on that side.
    pub stretch: usize,
}

/// When and how something is sewn, by the order of work.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sewing {
    /// Place of its first step in the order.
    pub at: usize,
    /// By machine as soon as one of its steps is.
    pub by: By,
    /// Why, as the order says it.
    pub why: String,
    /// Key of a step that is sewn by machine, else of its first.
    pub key: String,
}

/// What the stacks are reckoned from. A trial changes a copy of it.
#[derive(Clone)]
pub(super) struct Ground<'a> {
    pub adapted: &'a Adapted,
    /// Thickness of each layer, mm; what is not given is 0 and named in [`Self::unknown`].
    pub cloths: BTreeMap<Role, f64>,
    /// Seams whose allowances are graded.
    pub graded: BTreeSet<&'a str>,
    /// Kinds of seams that are tried.
    pub kinds: BTreeMap<&'a str, SeamKind>,
    /// Is the lining laid on the shell and sewn as one with it?
    pub flat_lined: bool,
    /// Which seams use an edge: by number of the piece, role, name of the edge.
    uses: BTreeMap<(usize, Role, &'a str), Vec<Use>>,
    numbers: BTreeMap<&'a str, usize>,
    /// When each seam is sewn; empty without an order.
    seams_at: BTreeMap<&'a str, Sewing>,
    /// When each edge is hemmed, cased, faced.
    edges_at: BTreeMap<&'a EdgeRef, Sewing>,
    /// Allowances of both sides of every seam where they are widest, mm; no trial changes them.
    allowances: Vec<(f64, f64)>,
}

/// Notes a step for what it works on.
fn note<K: Ord>(
    into: &mut BTreeMap<K, Sewing>,
    of: K,
    at: usize,
    step: &crate::making_order::Step,
) {
    let now = Sewing {
        at,
        by: step.by,
        why: step.by_why.clone(),
        key: step.key.clone(),
    };
    match into.get_mut(&of) {
        None => {
            into.insert(of, now);
        }
        Some(before) if before.by == By::Hand && step.by == By::Machine => {
            *before = Sewing {
                at: before.at,
                ..now
            };
        }
        Some(_) => {}
    }
}

/// The seam that is felled in a step of this key: its longest name that fits.
fn felled<'s>(seams: &'s [Seam], key: &str) -> Option<&'s str> {
    let rest = key.strip_prefix("fell ")?;
    let is_it = |name: &&str| {
        rest.strip_prefix(*name)
            .is_some_and(|side| side.is_empty() || side.starts_with(", "))
    };
    seams
        .iter()
        .map(|seam| seam.name.as_str())
        .filter(is_it)
        .max_by_key(|name| name.len())
}

const ROLES: [Role; 4] = [
    Role::Shell,
    Role::Lining,
    Role::Interlining,
    Role::FlatLined,
];

impl<'a> Ground<'a> {
    pub(super) fn new(adapted: &'a Adapted, order: Option<&'a Order>) -> Self {
        let fitting = &adapted.fitting;
        let given = |role: &Role| {
            let cloth = fitting.cloths.get(role);
            cloth.or_else(|| adapted.made.cloths.get(role))
        };
        let thick = |mm: f64| if mm.is_finite() { mm.max(0.0) } else { 0.0 };
        let cloths = ROLES
            .iter()
            .filter_map(|role| Some((*role, thick(given(role)?.thickness.0))))
            .collect();
        let numbers: BTreeMap<&str, usize> = adapted
            .pieces
            .iter()
            .enumerate()
            .map(|(i, piece)| (piece.name.as_str(), i))
            .collect();
        let mut uses: BTreeMap<(usize, Role, &str), Vec<Use>> = BTreeMap::new();
        for (seam, sewn) in adapted.made.seams.iter().enumerate() {
            for end in [End::A, End::B] {
                for (stretch, bit) in end.of(sewn).iter().enumerate() {
                    let Some(piece) = numbers.get(bit.piece.as_str()) else {
                        continue;
                    };
                    let all = uses
                        .entry((*piece, bit.copy.role, bit.edge.as_str()))
                        .or_default();
                    all.push(Use { seam, end, stretch });
                }
            }
        }
        let (mut seams_at, mut edges_at) = (BTreeMap::new(), BTreeMap::new());
        for (at, step) in order.iter().flat_map(|order| &order.steps).enumerate() {
            match &step.work {
                Step::Seam { seam } => note(&mut seams_at, seam.as_str(), at, step),
                Step::Fell { .. } => {
                    if let Some(seam) = felled(&adapted.made.seams, &step.key) {
                        note(&mut seams_at, seam, at, step);
                    }
                }
                Step::Hem | Step::Casing | Step::Face | Step::Slit => {
                    for edge in &step.edges {
                        note(&mut edges_at, edge, at, step);
                    }
                }
                _ => {}
            }
        }
        let mut ground = Self {
            adapted,
            seams_at,
            edges_at,
            allowances: Vec::new(),
            cloths,
            graded: fitting.making.graded.iter().map(String::as_str).collect(),
            kinds: BTreeMap::new(),
            flat_lined: order.map_or(fitting.making.lining, |order| order.lining)
                == Some(LiningMethod::FlatLined),
            uses,
            numbers,
        };
        let seams = ground.seams().iter();
        ground.allowances = seams
            .map(|seam| (ground.allowance(&seam.a), ground.allowance(&seam.b)))
            .collect();
        ground
    }

    /// When and how a seam is sewn; `None` where no order says it.
    pub(super) fn sewing(&self, seam: &str) -> Option<&Sewing> {
        self.seams_at.get(seam)
    }

    /// When and how an edge is turned and sewn down.
    pub(super) fn turning(&self, edge: &EdgeRef) -> Option<&Sewing> {
        self.edges_at.get(edge)
    }

    /// Layers that are cut but whose thickness nobody gave.
    pub(super) fn unknown(&self) -> Vec<Role> {
        let is_cut = |role: &Role| self.adapted.pieces.iter().any(|p| p.copies_in(*role) > 0);
        ROLES
            .into_iter()
            .filter(|role| is_cut(role) && !self.cloths.contains_key(role))
            .collect()
    }

    pub(super) fn seams(&self) -> &'a [Seam] {
        &self.adapted.made.seams
    }

    pub(super) fn number(&self, piece: &str) -> Option<usize> {
        self.numbers.get(piece).copied()
    }

    pub(super) fn piece(&self, number: usize) -> Option<&'a Piece> {
        self.adapted.pieces.get(number).map(|piece| &**piece)
    }

    pub(super) fn uses<'s>(&'s self, piece: usize, role: Role, edge: &'s str) -> &'s [Use] {
        self.uses
            .get(&(piece, role, edge))
            .map_or(&[], Vec::as_slice)
    }

    pub(super) fn thickness(&self, role: Role) -> f64 {
        self.cloths.get(&role).copied().unwrap_or(0.0)
    }

    pub(super) fn kind(&self, seam: &Seam) -> SeamKind {
        let tried = self.kinds.get(seam.name.as_str());
        tried.copied().unwrap_or(seam.kind)
    }

    /// What lies there when one copy of a piece in this role is laid down: what is mounted on it comes with it.
    pub(super) fn sheets(&self, piece: usize, role: Role) -> Vec<Sheet> {
        let sheet = |role| Sheet {
            piece,
            role,
            what: What::Ply,
            thickness: self.thickness(role),
        };
        let mut sheets = vec![sheet(role)];
        let Some(cut) = self.piece(piece).filter(|_| role == Role::Shell) else {
            return sheets;
        };
        if cut.copies_in(Role::FlatLined) > 0 {
            sheets.push(sheet(Role::FlatLined));
        }
        // An interlining with seams of its own is made up by itself.
        let is_sewn_alone = cut
            .outline
            .edges()
            .iter()
            .any(|edge| !self.uses(piece, Role::Interlining, &edge.name).is_empty());
        if cut.copies_in(Role::Interlining) > 0 && !is_sewn_alone {
            sheets.push(sheet(Role::Interlining));
        }
        if self.takes_lining(cut) {
            sheets.push(sheet(Role::Lining));
        }
        sheets
    }

    /// Is the lining of this piece laid on its shell and sewn as one? Pieces that follow others (collar, cuff) are
    /// bagged even then.
    pub(super) fn takes_lining(&self, piece: &Piece) -> bool {
        self.flat_lined
            && piece.copies_in(Role::Lining) > 0
            && piece.copies_in(Role::Shell) > 0
            && matches!(piece.placement, Placement::Framed(_))
    }

    /// Is there nothing to sew, because all it joins is lining that is sewn as one with its shell?
    pub(super) fn falls_away(&self, seam: &Seam) -> bool {
        self.flat_lined
            && seam.a.iter().chain(&seam.b).all(|s| {
                let piece = self.number(&s.piece).and_then(|n| self.piece(n));
                let mounted = piece.is_some_and(|piece| self.takes_lining(piece));
                mounted && (s.copy.role == Role::Lining || is_bag(seam))
            })
    }

    /// Allowances of an edge, from the stitch line outwards, mm.
    pub(super) fn strips(&self, piece: &str, edge: &str, finish: Finish) -> Vec<f64> {
        let at = EdgeRef::new(piece, edge);
        let own = self
            .number(piece)
            .and_then(|n| self.piece(n)?.outline.edge(edge)?.allowance);
        strips(finish, &self.adapted.fitting.allowances, &at, own)
    }

    /// Allowance of one side of a seam where it is widest, mm.
    fn allowance(&self, side: &[Stretch]) -> f64 {
        let of = |s: &Stretch| {
            let edge = self.edge(s)?;
            let finish = edge.finish_at(f64::midpoint(s.from, s.to));
            Some(self.strips(&s.piece, &s.edge, finish).iter().sum::<f64>())
        };
        side.iter().filter_map(of).fold(0.0, f64::max)
    }

    pub(super) fn edge(&self, s: &Stretch) -> Option<&'a Edge> {
        let piece = self.piece(self.number(&s.piece)?)?;
        piece.outline.edge(&s.edge)
    }

    /// Length of one side as it is sewn on finished pieces, mm.
    pub(super) fn length(&self, side: &[Stretch]) -> f64 {
        let of = |s: &Stretch| Some(self.edge(s)?.line.length() * (s.to - s.from).abs());
        side.iter().filter_map(of).sum()
    }

    /// How a seam is cut through, with the widths of its allowances, graded where the maker grades them.
    pub(super) fn work(&self, seam: &Seam) -> (Work, Widths) {
        let number = self
            .seams()
            .iter()
            .position(|other| std::ptr::eq(other, seam));
        let known = number.and_then(|number| self.allowances.get(number));
        let (a, b) = known
            .copied()
            .unwrap_or_else(|| (self.allowance(&seam.a), self.allowance(&seam.b)));
        let widths = Widths { a, b };
        if seam.kind == SeamKind::Bound && self.is_binding(seam) {
            let strip = seam
                .b
                .first()
                .and_then(|s| self.piece(self.number(&s.piece)?));
            let depth = strip.map_or(0.0, |p| p.outline.bounds().height());
            let b = depth.min(4.0 * 20.0) / 4.0;
            return (Work::BoundEdge, Widths { b, ..widths });
        }
        let lies = self.lies(seam);
        let widths = if self.graded.contains(seam.name.as_str()) {
            widths.graded(lies)
        } else {
            widths
        };
        (Work::Seam(self.kind(seam), lies), widths)
    }

    /// Does its side `b` bind the edges of side `a`? A binding is a strip whose long edges are folded in, nothing added.
    fn is_binding(&self, seam: &Seam) -> bool {
        let is_raw = |s: &Stretch| {
            self.edge(s)
                .is_some_and(|edge| edge.finish_at(0.5) == Finish::Raw)
        };
        !seam.b.is_empty() && seam.b.iter().all(is_raw)
    }

    /// To which side its allowances lie.
    ///
    /// Turned where shell and lining, or an edge and its facing, are sewn together; into a band that is sewn to the
    /// same edge again; away from gathers; towards an eased sleeve; pressed open otherwise (common practice, no source).
    pub(super) fn lies(&self, seam: &Seam) -> Lies {
        if is_bag(seam) || self.is_faced(seam) {
            return Lies::Turned;
        }
        for (end, lies) in [(End::A, Lies::OnA), (End::B, Lies::OnB)] {
            if end.of(seam).iter().any(|s| self.is_lapped_later(seam, s)) {
                return lies;
            }
        }
        if self.is_full(&seam.a) != self.is_full(&seam.b) {
            return if self.is_full(&seam.a) {
                Lies::OnB
            } else {
                Lies::OnA
            };
        }
        match seam.relation {
            Relation::Ratio(ratio) if ratio > 1.0 => Lies::OnB,
            Relation::Ratio(ratio) if ratio < 1.0 => Lies::OnA,
            Relation::Eased(by) if by.0 > 0.0 => Lies::OnA,
            Relation::Eased(by) if by.0 < 0.0 => Lies::OnB,
            _ if self.kind(seam) == SeamKind::Plain => Lies::Open,
            _ => Lies::OnB,
        }
    }

    fn is_faced(&self, seam: &Seam) -> bool {
        let is_facing = |s: &Stretch| {
            let at = f64::midpoint(s.from, s.to);
            self.edge(s)
                .is_some_and(|edge| edge.finish_at(at) == Finish::Facing)
        };
        seam.a.iter().chain(&seam.b).any(is_facing)
    }

    fn is_full(&self, side: &[Stretch]) -> bool {
        side.iter().any(|s| {
            let piece = self.number(&s.piece).and_then(|n| self.piece(n));
            piece.is_some_and(|p| {
                let is_folded = |f: &Fullness| !matches!(f, Fullness::Ease { .. });
                p.fullness
                    .iter()
                    .any(|op| op.edge == s.edge && is_folded(&op.fullness))
            })
        })
    }

    /// Is this stretch covered by the edge of a band that is lapped over it once the seam is sewn?
    fn is_lapped_later(&self, seam: &Seam, s: &Stretch) -> bool {
        let Some(piece) = self.number(&s.piece) else {
            return false;
        };
        self.uses(piece, s.copy.role, &s.edge).iter().any(|other| {
            let lapped = self.seams().get(other.seam);
            lapped.is_some_and(|lapped| {
                lapped.kind == SeamKind::Lapped
                    && lapped.name != seam.name
                    && other.end == End::B
                    && lapped.a.iter().all(|a| a.piece == s.piece)
            })
        })
    }
}

/// Are the shell and the lining of the same pieces sewn together, to be turned?
pub(super) fn is_bag(seam: &Seam) -> bool {
    let all = |side: &[Stretch], role| side.iter().all(|s| s.copy.role == role);
    let roles = [(Role::Shell, Role::Lining), (Role::Lining, Role::Shell)];
    !seam.a.is_empty()
        && !seam.b.is_empty()
        && roles
            .iter()
            .any(|(a, b)| all(&seam.a, *a) && all(&seam.b, *b))
}
