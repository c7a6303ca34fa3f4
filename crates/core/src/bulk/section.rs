//! Sections: where each layer of cloth lies when a seam, hem or edge is cut through square to its stitch line.
//!
//! Every count of layers in this folder is read off these sections, and the picture in the window is drawn from them.
//! x runs square to the stitch line, which lies at 0; mm. Layers are listed bottom up, right side of the garment down
//! where it lies finished. `A` and `B` are the two sides of a seam, `A'` and `B'` their allowances, `S` a strip.
//!
//! ```text
//! plain, sewn            plain, pressed open      plain, to one side (b)      turned (bagged, faced)
//!  BBBBBBBB|bbb           aaa|bbb                        |aaa                    BBBBBB
//!  AAAAAAAA|aaa        AAAAAA|BBBBBB              AAAAAAA|bbb                    bbb
//!   2 layers            2 layers                         |BBBBBB  3 layers       aaa
//!                                                                               |AAAAAA  4 layers
//!
//! French, second row     French, lying (b)        felled, second row          lapped (a on b)
//!  BBBBBB|BBB                   |  aa                    |AAAAAA                AAAAAA|
//!  AA    |bb             AAAAAAA|AAA.                    |bbb                   aaa   |
//!        |aa                    |  bb               AAAAA|aaaaaa                bbbbbb|BBBBB
//!  AAAAAA|AAA                   |BBB                     |BBBBBB  4 layers       3 layers
//!   2 under the needle,         |BBBBBB  5 layers
//!   4 under the foot
//!
//! bound (both edges)     hem, turned once         hem, turned twice           turned corner, each side
//!   SS                    aaa                      aaa                          aaa   beyond both edges
//!   SS                    |AAAAAA  2 layers        aaa                          aaa   beyond the one
//!  BBBB                                            |AAAAAA  3 layers            aaa   beyond the other
//!  AAAA                                                                         AAA   4 layers
//!   SS
//!   SS   a + b + 4 of the strip
//! ```

use crate::seams::SeamKind;

/// Which cloth a layer is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Of {
    /// Side `a` of the seam, or the only side of a hem.
    A,
    /// Side `b`.
    B,
    /// A binding or facing that is no piece of the garment.
    Strip,
}

/// What a layer is of its piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// The piece itself.
    Ply,
    /// Its allowance.
    Allowance,
    /// Its allowance, turned under.
    TurnedUnder,
}

/// One layer of a section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Run {
    /// Of which cloth.
    pub of: Of,
    /// What of it.
    pub part: Part,
    /// Where it begins, mm.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

/// Where one layer goes over into another: a fold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turn {
    /// The two layers, by their places in the section.
    pub between: (usize, usize),
    /// Where, mm.
    pub at: f64,
}

/// A seam, hem or edge cut through.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Section {
    /// Its layers, bottom up.
    pub runs: Vec<Run>,
    /// Its folds.
    pub turns: Vec<Turn>,
}

/// When a section is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Moment {
    /// While its first row is sewn.
    Sewn,
    /// While it is sewn a second time.
    Second,
    /// As it lies when it is done.
    Lying,
}

impl Moment {
    /// In the maker's words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Sewn => "under the foot",
            Self::Second => "under the foot, second row",
            Self::Lying => "lying",
        }
    }

    /// Is it under the foot then?
    pub fn is_sewn(self) -> bool {
        self != Self::Lying
    }
}

/// To which side the allowances of a seam lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lies {
    /// Pressed open.
    Open,
    /// Both over side `a`.
    OnA,
    /// Both over side `b`.
    OnB,
    /// Turned: both pieces lie on each other with the allowances between them.
    Turned,
}

/// What is cut through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Work {
    /// A seam of this kind whose allowances lie so.
    Seam(SeamKind, Lies),
    /// An edge left as cut, bound by side `b`.
    BoundEdge,
    /// An edge turned over and sewn down: once, or twice.
    Hem {
        /// How often.
        turns: u8,
    },
    /// An edge faced with a strip: sewn and turned.
    Faced,
    /// The corner of a turned edge.
    Corner,
}

/// Widths of the allowances, mm: side `a`, side `b`. For a turned edge the first turn and the second.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Widths {
    /// Of side `a`.
    pub a: f64,
    /// Of side `b`.
    pub b: f64,
}

impl Widths {
    /// Graded: the allowance that lies further inside is trimmed to half (common practice, no source).
    pub fn graded(self, lies: Lies) -> Self {
        match lies {
            Lies::Open => self,
            Lies::OnA => Self {
                b: self.b.min(self.a / 2.0),
                ..self
            },
            Lies::OnB => Self {
                a: self.a.min(self.b / 2.0),
                ..self
            },
            Lies::Turned => Self {
                b: self.b.min(self.a / 2.0),
                ..self
            },
        }
    }
}

/// How much of each piece a section shows beyond its allowances, mm.
const SHOWN: f64 = 5.0;
/// How wide the part of a French seam is that stands off, as a share of the allowance: half is used by the first row.
const FIN: f64 = 0.5;
/// What is left of the allowances inside a French seam, as a share of the part that stands off (common practice).
const TRIMMED: f64 = 0.8;

/// Layers laid one on the other, bottom up.
#[derive(Default)]
struct Pile {
    section: Section,
}

impl Pile {
    fn lay(&mut self, of: Of, part: Part, from: f64, to: f64) -> usize {
        self.section.runs.push(Run { of, part, from, to });
        self.section.runs.len() - 1
    }

    fn fold(&mut self, one: usize, other: usize, at: f64) {
        self.section.turns.push(Turn {
            between: (one, other),
            at,
        });
    }
}

/// Every moment of a work at which it is thick in another way, with its section.
pub fn sections(work: Work, widths: Widths) -> Vec<(Moment, Section)> {
    let w = Widths {
        a: widths.a.max(0.0),
        b: widths.b.max(0.0),
    };
    match work {
        Work::Seam(kind, lies) => seam(kind, lies, w),
        Work::BoundEdge => vec![(Moment::Sewn, bound_edge(w))],
        Work::Hem { turns } => vec![(Moment::Sewn, hem(turns, w))],
        Work::Faced => vec![
            (Moment::Sewn, together(Of::Strip, w)),
            (Moment::Lying, turned(Of::Strip, w)),
        ],
        Work::Corner => vec![(Moment::Lying, corner(w))],
    }
}

fn seam(kind: SeamKind, lies: Lies, w: Widths) -> Vec<(Moment, Section)> {
    let sewn = (Moment::Sewn, together(Of::B, w));
    match kind {
        SeamKind::Plain => vec![sewn, (Moment::Lying, plain(lies, w))],
        SeamKind::Overedged if lies == Lies::Turned => {
            vec![sewn, (Moment::Lying, turned(Of::B, w))]
        }
        SeamKind::Overedged => vec![sewn, (Moment::Lying, to_one_side(lies, w))],
        SeamKind::French => vec![
            sewn,
            (Moment::Second, french(w)),
            (Moment::Lying, french_lying(lies, w)),
        ],
        SeamKind::Felled => vec![
            sewn,
            (Moment::Second, felled(lies, w)),
            (Moment::Lying, felled(lies, w)),
        ],
        SeamKind::Bound => vec![
            sewn,
            (Moment::Second, bound(w)),
            (Moment::Lying, bound_lying(lies, w)),
        ],
        SeamKind::Lapped => vec![(Moment::Sewn, lapped(w)), (Moment::Lying, lapped(w))],
    }
}

/// Right sides facing, allowances to the right.
fn together(other: Of, w: Widths) -> Section {
    let mut pile = Pile::default();
    pile.lay(Of::A, Part::Ply, -SHOWN - w.a, w.a);
    pile.lay(other, Part::Ply, -SHOWN - w.a, w.b);
    pile.section
}

fn plain(lies: Lies, w: Widths) -> Section {
    match lies {
        Lies::Open => {
            let mut pile = Pile::default();
            let a = pile.lay(Of::A, Part::Ply, -SHOWN - w.a, 0.0);
            let b = pile.lay(Of::B, Part::Ply, 0.0, SHOWN + w.b);
            let over_a = pile.lay(Of::A, Part::Allowance, -w.a, 0.0);
            let over_b = pile.lay(Of::B, Part::Allowance, 0.0, w.b);
            pile.fold(a, over_a, 0.0);
            pile.fold(b, over_b, 0.0);
            pile.section
        }
        Lies::Turned => turned(Of::B, w),
        one_side => to_one_side(one_side, w),
    }
}

/// Mirrors a section drawn with its allowances over `b` where they lie over `a`.
fn on(lies: Lies, w: Widths, drawn: impl FnOnce(Widths) -> Section) -> Section {
    if lies != Lies::OnA {
        return drawn(w);
    }
    let mut section = drawn(Widths { a: w.b, b: w.a });
    for run in &mut section.runs {
        (run.from, run.to) = (-run.to, -run.from);
        run.of = match run.of {
            Of::A => Of::B,
            Of::B => Of::A,
            Of::Strip => Of::Strip,
        };
    }
    for turn in &mut section.turns {
        turn.at = -turn.at;
    }
    section
}

fn to_one_side(lies: Lies, w: Widths) -> Section {
    on(lies, w, |w| {
        let mut pile = Pile::default();
        let b = pile.lay(Of::B, Part::Ply, 0.0, SHOWN + w.a.max(w.b));
        let over_b = pile.lay(Of::B, Part::Allowance, 0.0, w.b);
        pile.fold(b, over_b, 0.0);
        pile.lay(Of::A, Part::Ply, -SHOWN, 0.0);
        pile.lay(Of::A, Part::Allowance, 0.0, w.a);
        pile.section
    })
}

/// Both pieces to the right of the edge, allowances between them.
fn turned(other: Of, w: Widths) -> Section {
    let mut pile = Pile::default();
    let reach = SHOWN + w.a.max(w.b);
    let a = pile.lay(Of::A, Part::Ply, 0.0, reach);
    let in_a = pile.lay(Of::A, Part::Allowance, 0.0, w.a);
    let in_b = pile.lay(other, Part::Allowance, 0.0, w.b);
    let b = pile.lay(other, Part::Ply, 0.0, reach);
    pile.fold(a, in_a, 0.0);
    pile.fold(in_b, b, 0.0);
    pile.section
}

/// How far a French seam stands off, and where its trimmed edges begin.
fn fin(w: Widths) -> (f64, f64) {
    let fin = FIN * w.a.min(w.b);
    (fin, fin * (1.0 - TRIMMED))
}

/// The first row lies at the far end, the second at 0.
fn french(w: Widths) -> Section {
    let (fin, raw) = fin(w);
    let mut pile = Pile::default();
    let a = pile.lay(Of::A, Part::Ply, -SHOWN - w.a, fin);
    let in_a = pile.lay(Of::A, Part::Allowance, raw, fin);
    let in_b = pile.lay(Of::B, Part::Allowance, raw, fin);
    let b = pile.lay(Of::B, Part::Ply, -SHOWN - w.a, fin);
    pile.fold(a, in_a, fin);
    pile.fold(in_b, b, fin);
    pile.section
}

fn french_lying(lies: Lies, w: Widths) -> Section {
    on(lies, w, |w| {
        let (fin, raw) = fin(w);
        let mut pile = Pile::default();
        let b = pile.lay(Of::B, Part::Ply, 0.0, SHOWN + w.b);
        let back = pile.lay(Of::B, Part::Allowance, 0.0, fin);
        let in_b = pile.lay(Of::B, Part::TurnedUnder, raw, fin);
        let in_a = pile.lay(Of::A, Part::TurnedUnder, raw, fin);
        let over = pile.lay(Of::A, Part::Allowance, 0.0, fin);
        pile.lay(Of::A, Part::Ply, -SHOWN, 0.0);
        pile.fold(b, back, 0.0);
        pile.fold(back, in_b, fin);
        pile.fold(in_a, over, fin);
        pile.section
    })
}

/// The allowance of `a` is folded round the trimmed one of `b` and sewn down on `b`.
fn felled(lies: Lies, w: Widths) -> Section {
    on(lies, w, |w| {
        let fold = w.a / 2.0;
        let trimmed = w.b.min(TRIMMED * fold);
        let mut pile = Pile::default();
        let b = pile.lay(Of::B, Part::Ply, 0.0, SHOWN + w.a);
        let under = pile.lay(Of::A, Part::TurnedUnder, 0.0, fold);
        let in_b = pile.lay(Of::B, Part::Allowance, 0.0, trimmed);
        let over = pile.lay(Of::A, Part::Allowance, 0.0, fold);
        pile.lay(Of::A, Part::Ply, -SHOWN, 0.0);
        pile.fold(b, in_b, 0.0);
        pile.fold(under, over, fold);
        pile.section
    })
}

/// A strip of double fold round both edges, half as wide as the allowance.
fn bound(w: Widths) -> Section {
    let edge = w.a.max(w.b);
    let from = edge / 2.0;
    let mut pile = Pile::default();
    let first = pile.lay(Of::Strip, Part::TurnedUnder, from, edge);
    let below = pile.lay(Of::Strip, Part::Ply, from, edge);
    pile.lay(Of::A, Part::Ply, -SHOWN - w.a, w.a);
    pile.lay(Of::B, Part::Ply, -SHOWN - w.a, w.b);
    let last = pile.lay(Of::Strip, Part::TurnedUnder, from, edge);
    let above = pile.lay(Of::Strip, Part::Ply, from, edge);
    pile.fold(first, below, from);
    pile.fold(last, above, from);
    pile.fold(below, above, edge);
    pile.section
}

fn bound_lying(lies: Lies, w: Widths) -> Section {
    on(lies, w, |w| {
        let edge = w.a.max(w.b);
        let from = edge / 2.0;
        let mut pile = Pile::default();
        let b = pile.lay(Of::B, Part::Ply, 0.0, SHOWN + edge);
        let below = pile.lay(Of::Strip, Part::Ply, from, edge);
        let first = pile.lay(Of::Strip, Part::TurnedUnder, from, edge);
        let over_b = pile.lay(Of::B, Part::Allowance, 0.0, w.b);
        pile.lay(Of::A, Part::Ply, -SHOWN, 0.0);
        pile.lay(Of::A, Part::Allowance, 0.0, w.a);
        let last = pile.lay(Of::Strip, Part::TurnedUnder, from, edge);
        let above = pile.lay(Of::Strip, Part::Ply, from, edge);
        pile.fold(b, over_b, 0.0);
        pile.fold(below, first, from);
        pile.fold(last, above, from);
        pile.fold(below, above, edge);
        pile.section
    })
}

/// `a`, its allowance turned under, laid on the allowance of `b` with its fold on the stitch line.
fn lapped(w: Widths) -> Section {
    let mut pile = Pile::default();
    pile.lay(Of::B, Part::Allowance, -w.b, 0.0);
    pile.lay(Of::B, Part::Ply, 0.0, SHOWN);
    let under = pile.lay(Of::A, Part::TurnedUnder, -w.a, 0.0);
    let over = pile.lay(Of::A, Part::Ply, -SHOWN - w.a, 0.0);
    pile.fold(under, over, 0.0);
    pile.section
}

/// The edge of `a` ends at the stitch line; the piece `b` is folded four times round it, a quarter of `w.b` wide.
fn bound_edge(w: Widths) -> Section {
    let wide = w.b.max(0.1);
    let mut pile = Pile::default();
    let first = pile.lay(Of::B, Part::TurnedUnder, -wide, 0.0);
    let below = pile.lay(Of::B, Part::Ply, -wide, 0.0);
    pile.lay(Of::A, Part::Ply, -SHOWN - wide, 0.0);
    let last = pile.lay(Of::B, Part::TurnedUnder, -wide, 0.0);
    let above = pile.lay(Of::B, Part::Ply, -wide, 0.0);
    pile.fold(first, below, -wide);
    pile.fold(last, above, -wide);
    pile.fold(below, above, 0.0);
    pile.section
}

/// Turned once by `w.a`, or twice by `w.a` and `w.b`; x runs into the piece.
fn hem(turns: u8, w: Widths) -> Section {
    let mut pile = Pile::default();
    let ply = pile.lay(Of::A, Part::Ply, 0.0, SHOWN + w.a);
    if turns < 2 {
        let up = pile.lay(Of::A, Part::Allowance, 0.0, w.a);
        pile.fold(ply, up, 0.0);
    } else {
        let under = pile.lay(Of::A, Part::TurnedUnder, (w.a - w.b).max(0.0), w.a);
        let up = pile.lay(Of::A, Part::Allowance, 0.0, w.a);
        pile.fold(ply, up, 0.0);
        pile.fold(under, up, w.a);
    }
    pile.section
}

/// Within both allowances of a turned corner that was not trimmed: the bit beyond both edges is folded twice.
fn corner(w: Widths) -> Section {
    let mut pile = Pile::default();
    for (of, wide) in [(Of::A, w.a), (Of::B, w.b)] {
        let reach = SHOWN + w.a.max(w.b);
        let inside = [Part::Allowance, Part::Allowance, Part::TurnedUnder];
        if of == Of::A {
            pile.lay(of, Part::Ply, 0.0, reach);
        }
        for part in inside {
            pile.lay(of, part, 0.0, wide);
        }
        if of == Of::B {
            pile.lay(of, Part::Ply, 0.0, reach);
        }
    }
    pile.section
}

/// How many layers of each cloth lie over one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cover {
    /// The place, mm.
    pub x: f64,
    /// Layers of side `a`.
    pub a: u32,
    /// Layers of side `b`.
    pub b: u32,
    /// Layers of a strip.
    pub strip: u32,
}

impl Cover {
    /// All layers together.
    pub fn all(self) -> u32 {
        self.a + self.b + self.strip
    }
}

impl Section {
    /// Where the number of layers changes, from left to right.
    pub fn breaks(&self) -> Vec<f64> {
        let mut ends: Vec<f64> = self.runs.iter().flat_map(|r| [r.from, r.to]).collect();
        ends.sort_by(f64::total_cmp);
        ends.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        ends
    }

    /// What lies over each stretch between two changes.
    pub fn covers(&self) -> Vec<Cover> {
        let breaks = self.breaks();
        let pairs = breaks.iter().zip(breaks.iter().skip(1));
        pairs
            .map(|(from, to)| self.cover(f64::midpoint(*from, *to)))
            .collect()
    }

    /// What lies over one place.
    pub fn cover(&self, x: f64) -> Cover {
        let count = |of: Of| {
            let over = |r: &&Run| r.of == of && r.from < x && x < r.to;
            self.runs.iter().filter(over).count() as u32
        };
        Cover {
            x,
            a: count(Of::A),
            b: count(Of::B),
            strip: count(Of::Strip),
        }
    }

    /// The place where most lies, when one layer of each cloth is so thick; `None` for a section without layers.
    pub fn thickest(&self, a: f64, b: f64, strip: f64) -> Option<(Cover, f64)> {
        let high = |c: &Cover| f64::from(c.a) * a + f64::from(c.b) * b + f64::from(c.strip) * strip;
        self.covers()
            .into_iter()
            .map(|cover| (cover, high(&cover)))
            .max_by(|x, y| x.1.total_cmp(&y.1).then(x.0.all().cmp(&y.0.all())))
    }
}

/// Every kind of seam.
pub const KINDS: [SeamKind; 6] = [
    SeamKind::Plain,
    SeamKind::Overedged,
    SeamKind::French,
    SeamKind::Felled,
    SeamKind::Bound,
    SeamKind::Lapped,
];

/// One row of the table of layer counts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CountRow {
    /// What is sewn.
    pub work: Work,
    /// When.
    pub moment: Moment,
    /// Layers at the thickest place.
    pub cover: Cover,
    /// Why so many.
    pub why: &'static str,
}

/// The table of layer counts, read off the sections for allowances of 6 mm.
pub fn table() -> Vec<CountRow> {
    let w = Widths { a: 6.0, b: 6.0 };
    let works = KINDS.into_iter().flat_map(|kind| {
        let lies: &[Lies] = match kind {
            SeamKind::Plain => &[Lies::Open, Lies::OnB, Lies::Turned],
            _ => &[Lies::OnB],
        };
        lies.iter().map(move |lies| Work::Seam(kind, *lies))
    });
    let others = [
        Work::BoundEdge,
        Work::Hem { turns: 1 },
        Work::Hem { turns: 2 },
        Work::Faced,
        Work::Corner,
    ];
    works
        .chain(others)
        .flat_map(|work| {
            sections(work, w)
                .into_iter()
                .filter_map(move |(moment, section)| {
                    let (cover, _) = section.thickest(1.0, 1.0, 1.0)?;
                    let why = why(work, moment);
                    Some(CountRow {
                        work,
                        moment,
                        cover,
                        why,
                    })
                })
        })
        .collect()
}

/// Why a work has as many layers as it has, one line.
pub fn why(work: Work, moment: Moment) -> &'static str {
    match (work, moment) {
        (Work::Seam(SeamKind::Lapped, _), _) => {
            "side a with its allowance turned under, on the allowance of side b"
        }
        (Work::Seam(_, _) | Work::Faced, Moment::Sewn) => "both sides laid together",
        (Work::Seam(SeamKind::Plain, Lies::Open), _) => {
            "each piece with its own allowance pressed back on it"
        }
        (Work::Seam(SeamKind::Plain | SeamKind::Overedged, Lies::Turned) | Work::Faced, _) => {
            "both pieces with both allowances between them"
        }
        (Work::Seam(SeamKind::Plain | SeamKind::Overedged, _), _) => {
            "the piece below with both allowances on it"
        }
        (Work::Seam(SeamKind::French, _), Moment::Second) => {
            "both pieces with both trimmed edges between them; the needle itself goes through the two pieces"
        }
        (Work::Seam(SeamKind::French, _), _) => "the four layers that stand off, laid on one piece",
        (Work::Seam(SeamKind::Felled, _), _) => {
            "one allowance folded round the other, on the piece below"
        }
        (Work::Seam(SeamKind::Bound, _), Moment::Second) => {
            "both allowances with two layers of the strip on either side"
        }
        (Work::Seam(SeamKind::Bound, _), _) => {
            "both allowances and four layers of the strip, laid on one piece"
        }
        (Work::BoundEdge, _) => "the edge with two layers of the binding on either side",
        (Work::Hem { turns: 0 | 1 }, _) => "the piece and its allowance turned once",
        (Work::Hem { .. }, _) => "the piece and its allowance turned twice",
        (Work::Corner, _) => {
            "each piece with the allowances of both edges, and the bit beyond both folded twice"
        }
    }
}

/// Class of a seam in ISO 4916, with its name; the numbers behind the class are left out: no source for them was read.
///
/// # Source
/// Names of the eight classes: fact sheet E1, key S27. Which class a seam belongs to follows from what the name says.
pub fn iso_class(work: Work) -> Option<(u8, &'static str)> {
    match work {
        Work::Seam(SeamKind::Plain | SeamKind::French, _) => Some((1, "superimposed")),
        Work::Seam(SeamKind::Felled | SeamKind::Lapped, _) => Some((2, "lapped")),
        Work::Seam(SeamKind::Bound, _) | Work::BoundEdge => Some((3, "bound")),
        Work::Hem { .. } => Some((6, "edge finish")),
        Work::Seam(SeamKind::Overedged, _) | Work::Faced | Work::Corner => None,
    }
}
