//! What can be sewn in one go: the sewable part of an edge, edges that run on into each other or over a dart, and rows
//! of such over neighbouring pieces.

use crate::edge::{Edge, Finish};
use crate::garment::Garment;
use crate::joins::inside;
use crate::piece::{Copy, Piece, Role, Side};
use crate::seams::{Stretch, side_length};
use crate::tolerance::JOINING;

/// How far a corner may turn and the edge still run on, degrees (common practice, no source).
const RUNS_ON: f64 = 30.0;

/// How far the corners of neighbours in a row may be from straight together, degrees.
const IN_A_ROW: f64 = 50.0;

/// How much the edges between neighbours in a row may differ in length.
const NEIGHBOURS: f64 = 0.03;

/// Edges of one piece in one go, pieces in a row, and rows looked at, at most.
const EDGES: usize = 4;
const PIECES: usize = 6;
const ROWS: usize = 4000;

/// A row may be so many times as long as what it is sewn to, or the other way round.
const FULLEST: f64 = 3.5;

/// A run of stretches, drawn counter-clockwise on each piece; pieces in sewing order of the mate.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Run {
    /// Each walked as drawn; in a row the last piece comes first.
    pub stretches: Vec<Stretch>,
    pub length: f64,
    /// Share that is sewn already.
    pub sewn: f64,
    /// Is it finished with a facing?
    pub faced: bool,
    /// How well its neighbours fit each other, for a row.
    pub joined: f64,
    /// Was it asked for against its drawn direction?
    pub turned: bool,
}

impl Run {
    /// The side that is asked about, walked as drawn.
    pub(super) fn asked(garment: &Garment, side: &[Stretch]) -> Option<Self> {
        let turned = side.first().is_some_and(|s| s.to < s.from);
        let mut stretches = side.to_vec();
        if turned {
            super::turn(&mut stretches);
        }
        let first = stretches.first()?;
        let piece = garment.piece(&first.piece)?;
        let edge = piece.outline.edge(&first.edge)?;
        Some(Self {
            length: side_length(side, &garment.pieces).ok()?.0,
            sewn: 0.0,
            faced: edge.finish_at(f64::midpoint(first.from, first.to)) == Finish::Facing,
            joined: 0.0,
            turned,
            stretches,
        })
    }

    pub(super) fn copy(&self) -> Copy {
        self.stretches.first().map_or(
            Copy {
                side: Side::Whole,
                role: Role::Shell,
            },
            |stretch| stretch.copy,
        )
    }

    pub(super) fn pieces(&self) -> impl Iterator<Item = &str> {
        self.stretches.iter().map(|s| s.piece.as_str())
    }

    pub(super) fn on_copy(&self, copy: Copy) -> Self {
        let mut run = self.clone();
        for stretch in &mut run.stretches {
            stretch.copy = copy;
        }
        run
    }

    pub(super) fn overlaps(&self, other: &Self) -> bool {
        let ends = |s: &Stretch| (s.from.min(s.to), s.from.max(s.to));
        self.stretches.iter().any(|x| {
            other.stretches.iter().any(|y| {
                let ((a, b), (c, d)) = (ends(x), ends(y));
                (&x.piece, &x.edge) == (&y.piece, &y.edge) && b.min(d) - a.max(c) > 1e-6
            })
        })
    }
}

fn is_leg(piece: &Piece, edge: &str) -> bool {
    piece
        .darts
        .iter()
        .any(|dart| dart.leg_in == edge || dart.leg_out == edge)
}

/// The parts of an edge that can be sewn, as drawn; one whose finish is a facing counts where nothing else does.
pub(super) fn sewable_parts(piece: &Piece, edge: &Edge) -> Vec<(f64, f64)> {
    if edge.is_fold() || is_leg(piece, &edge.name) {
        return Vec::new();
    }
    if edge.finish.is_empty() {
        return vec![(0.0, 1.0)];
    }
    // What no finish is said for is a seam.
    let mut stops: Vec<f64> = edge
        .finish
        .iter()
        .flat_map(|part| [part.from, part.to])
        .chain([0.0, 1.0])
        .map(|at| at.clamp(0.0, 1.0))
        .collect();
    stops.sort_by(f64::total_cmp);
    let parts = |wanted: Finish| {
        let mut parts: Vec<(f64, f64)> = Vec::new();
        for pair in stops.windows(2) {
            let [from, to] = pair else { continue };
            if to - from <= 1e-9 || edge.finish_at(f64::midpoint(*from, *to)) != wanted {
                continue;
            }
            match parts.last_mut() {
                Some(last) if (last.1 - from).abs() <= 1e-9 => last.1 = *to,
                _ => parts.push((*from, *to)),
            }
        }
        parts
    };
    let sewn = parts(Finish::Seam);
    if sewn.is_empty() {
        parts(Finish::Facing)
    } else {
        sewn
    }
}

/// Every run on one piece in one layer, over all pieces: single stretches, what of them is still free, and stretches
/// that run on into each other or over a dart.
pub(super) fn runs_of(garment: &Garment, role: Role, side: Side) -> Vec<Run> {
    let mut runs = Vec::new();
    for piece in &garment.pieces {
        let Some(copy) = copy_for(piece, role, side) else {
            continue;
        };
        let bits = bits(piece, copy);
        for (start, first) in bits.iter().enumerate() {
            let mut run = vec![first.clone()];
            runs.push(run.clone());
            for step in 1..EDGES.min(bits.len()) {
                let Some(next) = bits.get((start + step) % bits.len()) else {
                    break;
                };
                if !run.last().is_some_and(|last| runs_on(piece, last, next)) {
                    break;
                }
                run.push(next.clone());
                runs.push(run.clone());
            }
        }
    }
    let mut found: Vec<Run> = Vec::new();
    for stretches in runs {
        let whole = made(garment, stretches);
        if whole.sewn > 1e-6 && whole.stretches.len() == 1 {
            found.extend(free_parts(garment, &whole));
        }
        found.push(whole);
    }
    found.retain(|run| run.length > JOINING.0);
    found
}

/// The copy that is sewn to a copy of this side.
fn copy_for(piece: &Piece, role: Role, side: Side) -> Option<Copy> {
    let rank = |copy: &Copy| {
        (
            copy.side != side,
            copy.side != Side::Whole,
            copy.side != Side::Right,
        )
    };
    piece
        .copies
        .iter()
        .filter(|copy| copy.role == role)
        .min_by_key(|copy| rank(copy))
        .copied()
}

fn bits(piece: &Piece, copy: Copy) -> Vec<Stretch> {
    let one = |edge: &Edge| -> Vec<Stretch> {
        sewable_parts(piece, edge)
            .into_iter()
            .map(|(from, to)| Stretch {
                piece: piece.name.clone(),
                copy,
                edge: edge.name.clone(),
                from,
                to,
            })
            .collect()
    };
    piece.outline.edges().iter().flat_map(one).collect()
}

/// Does the second stretch run on where the first ends, smoothly or over a dart?
fn runs_on(piece: &Piece, first: &Stretch, second: &Stretch) -> bool {
    if (first.to - 1.0).abs() > 1e-9 || second.from.abs() > 1e-9 {
        return false;
    }
    let edges = piece.outline.edges();
    let (Some(a), Some(b)) = (
        piece.outline.index_of(&first.edge),
        piece.outline.index_of(&second.edge),
    ) else {
        return false;
    };
    let after = |index: usize| (index + 1) % edges.len();
    if b == after(a) && a != b {
        let (Some(x), Some(y)) = (edges.get(a), edges.get(b)) else {
            return false;
        };
        let angle = inside(x.line.direction(1.0), y.line.direction(0.0));
        return (angle - 180.0).abs() <= RUNS_ON;
    }
    // Over a dart: two legs between.
    let leg = |index: usize| {
        edges
            .get(index)
            .is_some_and(|edge| is_leg(piece, &edge.name))
    };
    b == after(after(after(a))) && leg(after(a)) && leg(after(after(a)))
}

fn made(garment: &Garment, stretches: Vec<Stretch>) -> Run {
    let length = side_length(&stretches, &garment.pieces).map_or(0.0, |mm| mm.0);
    let mut sewn = 0.0;
    for stretch in &stretches {
        let own = stretch.length(&garment.pieces).map_or(0.0, |mm| mm.0);
        let width = (stretch.to - stretch.from).abs();
        let taken: f64 = taken(garment, stretch).iter().map(|(a, b)| b - a).sum();
        if width > 0.0 {
            sewn += own * (taken / width).min(1.0);
        }
    }
    let faced = stretches.first().is_some_and(|stretch| {
        let edge = garment
            .piece(&stretch.piece)
            .and_then(|piece| piece.outline.edge(&stretch.edge));
        edge.is_some_and(|edge| {
            edge.finish_at(f64::midpoint(stretch.from, stretch.to)) == Finish::Facing
        })
    });
    Run {
        sewn: if length > 0.0 { sewn / length } else { 0.0 },
        length,
        faced,
        joined: 0.0,
        turned: false,
        stretches,
    }
}

/// The parts of a stretch that other seams hold.
fn taken(garment: &Garment, stretch: &Stretch) -> Vec<(f64, f64)> {
    let (low, high) = (stretch.from.min(stretch.to), stretch.from.max(stretch.to));
    let mut taken: Vec<(f64, f64)> = garment
        .seams
        .iter()
        .flat_map(|seam| seam.a.iter().chain(&seam.b))
        .filter(|s| {
            (&s.piece, &s.edge) == (&stretch.piece, &stretch.edge)
                && s.copy.role == stretch.copy.role
        })
        .map(|s| (s.from.min(s.to).max(low), s.from.max(s.to).min(high)))
        .filter(|(a, b)| b - a > 1e-9)
        .collect();
    taken.sort_by(|x, y| x.0.total_cmp(&y.0));
    let mut whole: Vec<(f64, f64)> = Vec::new();
    for (a, b) in taken {
        match whole.last_mut() {
            Some(last) if a <= last.1 => last.1 = last.1.max(b),
            _ => whole.push((a, b)),
        }
    }
    whole
}

/// What of a stretch is not sewn yet.
fn free_parts(garment: &Garment, run: &Run) -> Vec<Run> {
    let Some(stretch) = run.stretches.first() else {
        return Vec::new();
    };
    let mut free = Vec::new();
    let mut from = stretch.from;
    for (a, b) in taken(garment, stretch)
        .into_iter()
        .chain([(stretch.to, stretch.to)])
    {
        if a - from > 1e-6 {
            free.push(Stretch {
                from,
                to: a,
                ..stretch.clone()
            });
        }
        from = from.max(b);
    }
    free.into_iter()
        .map(|part| Run {
            sewn: 0.0,
            ..made(garment, vec![part])
        })
        .collect()
}

/// A run and how well the next one follows it.
type Next = Vec<Vec<(usize, f64)>>;

/// Runs of different pieces in a row, neighbour after neighbour, not much longer or shorter than `length`.
pub(super) fn rows(garment: &Garment, runs: &[Run], length: f64) -> Vec<Run> {
    let next = next(garment, runs);
    let mut rows = Vec::new();
    for start in 0..runs.len() {
        let mut row = vec![start];
        grow(runs, &next, length, 0.0, &mut row, &mut rows);
    }
    rows
}

fn grow(
    runs: &[Run],
    next: &Next,
    wanted: f64,
    joined: f64,
    row: &mut Vec<usize>,
    rows: &mut Vec<Run>,
) {
    let of = |index: &usize| runs.get(*index);
    let length: f64 = row.iter().filter_map(of).map(|run| run.length).sum();
    if rows.len() >= ROWS || length > wanted * FULLEST {
        return;
    }
    if row.len() > 1 && length * FULLEST > wanted {
        rows.push(row_of(runs, row, length, joined));
    }
    if row.len() >= PIECES {
        return;
    }
    let Some(last) = row.last().copied() else {
        return;
    };
    for (after, quality) in next.get(last).into_iter().flatten() {
        let piece = |index: &usize| of(index).and_then(|run| run.pieces().next());
        if row.iter().any(|index| piece(index) == piece(after)) {
            continue;
        }
        row.push(*after);
        grow(runs, next, wanted, joined + quality, row, rows);
        row.pop();
    }
}

fn row_of(runs: &[Run], row: &[usize], length: f64, joined: f64) -> Run {
    let parts = || row.iter().filter_map(|index| runs.get(*index));
    let sewn: f64 = parts().map(|run| run.sewn * run.length).sum();
    Run {
        // Walked as drawn the last comes first; the mate is turned round as a whole.
        stretches: parts()
            .rev()
            .flat_map(|run| run.stretches.clone())
            .collect(),
        length,
        sewn: sewn / length,
        faced: parts().any(|run| run.faced),
        joined: joined / (row.len() as f64 - 1.0).max(1.0),
        turned: false,
    }
}

/// Which run can follow which when both are sewn against their drawn direction, and how well.
fn next(garment: &Garment, runs: &[Run]) -> Next {
    runs.iter()
        .map(|run| {
            let follow = |(index, other): (usize, &Run)| {
                let quality = follows(garment, run, other)?;
                Some((index, quality))
            };
            runs.iter().enumerate().filter_map(follow).collect()
        })
        .collect()
}

/// How well one run of a piece follows another of its neighbour: the edges between them must fit each other.
fn follows(garment: &Garment, run: &Run, after: &Run) -> Option<f64> {
    let (last, first) = (run.stretches.first()?, after.stretches.last()?);
    if last.piece == first.piece || last.from.abs() > 1e-9 || (first.to - 1.0).abs() > 1e-9 {
        return None;
    }
    let (here, there) = (garment.piece(&last.piece)?, garment.piece(&first.piece)?);
    let beside = |piece: &Piece, edge: &str, step: usize| {
        let edges = piece.outline.edges();
        let index = piece.outline.index_of(edge)?;
        edges.get((index + step) % edges.len()).cloned()
    };
    let before = beside(here, &last.edge, here.outline.edges().len() - 1)?;
    let behind = beside(there, &first.edge, 1)?;
    let (at_here, at_there) = (
        here.outline.edge(&last.edge)?,
        there.outline.edge(&first.edge)?,
    );
    let sewn_at = |piece: &Piece, edge: &Edge, at_start: bool| {
        let parts = sewable_parts(piece, edge);
        let end = if at_start {
            parts.first()
        } else {
            parts.last()
        };
        end.filter(|(from, to)| {
            if at_start {
                from.abs() <= 1e-9
            } else {
                (to - 1.0).abs() <= 1e-9
            }
        })
        .map(|(from, to)| edge.line.length() * (to - from))
    };
    let (x, y) = (
        sewn_at(here, &before, false)?,
        sewn_at(there, &behind, true)?,
    );
    let off = (x - y).abs() / x.max(y);
    if off > NEIGHBOURS {
        return None;
    }
    let together = inside(before.line.direction(1.0), at_here.line.direction(0.0))
        + inside(at_there.line.direction(1.0), behind.line.direction(0.0));
    let turn = (together - 180.0).abs();
    (turn <= IN_A_ROW).then_some(0.03 - off - 0.0004 * turn)
}
