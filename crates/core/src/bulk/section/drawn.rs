//! Every section, layer by layer as it is folded; pictures of them stand in [`super`].

use super::{Lies, Moment, Of, Part, Run, Section, Turn, Widths, Work};
use crate::seams::SeamKind;

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
