//! A checker that knows nothing of the engine: it sews the copies together in the order given, and looks.
//!
//! Outlines are cut into atoms; sewing ties ends of atoms, and every figure is counted anew after each step: corners less
//! edges plus faces of each part, the length of each boundary by walking round it.

use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::PI;

use petitoile_core::edge::Finish;
use petitoile_core::garment::Garment;
use petitoile_core::piece::{Copy, Role, Side};
use petitoile_core::seams::{Seam, Stretch};

const NEAR: f64 = 1e-6;

/// Weights as the maker's documentation gives them.
pub const ROOMY: u32 = 1;
pub const ROUND: u32 = 10;
pub const NARROW: u32 = 30;
pub const PULLED: u32 = 40;
pub const NOT_IN_ONE_GO: u32 = 2;

#[derive(Debug, Clone)]
pub struct Atom {
    pub copy: usize,
    pub edge: usize,
    mirrored: bool,
    from: f64,
    to: f64,
    pub length: f64,
    /// Neighbours round the copy.
    pub before: usize,
    pub next: usize,
    /// Is its fraction falling on the way round?
    falling: bool,
    pub finish: Finish,
}

/// Where an atom is left: at its end on the way round, or at its start.
type End = (usize, bool);

pub struct Cloth<'a> {
    pub garment: &'a Garment,
    pub copies: Vec<(usize, Copy)>,
    area: Vec<f64>,
    pub atoms: Vec<Atom>,
}

/// A line of stitches: pairs of atoms; are both met the same way round?
pub type Line = Vec<(usize, usize, bool)>;

#[derive(Debug, Clone, Default)]
pub struct Sewn {
    mate: BTreeMap<usize, (usize, bool)>,
}

/// How a part lies where an atom is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    pub ring: Option<f64>,
    pub boundary: usize,
}

impl<'a> Cloth<'a> {
    pub fn new(garment: &'a Garment, layers: &[Role]) -> Self {
        let mut cloth = Self {
            garment,
            copies: Vec::new(),
            area: Vec::new(),
            atoms: Vec::new(),
        };
        for (i, piece) in garment.pieces.iter().enumerate() {
            let mut known = BTreeSet::new();
            for copy in &piece.copies {
                if layers.contains(&copy.role) && known.insert(*copy) {
                    let halves = if piece.fold_edge().is_some() {
                        2.0
                    } else {
                        1.0
                    };
                    cloth.copies.push((i, *copy));
                    cloth.area.push(piece.outline.area().abs() * halves);
                }
            }
        }
        let cuts = cloth.cuts();
        for copy in 0..cloth.copies.len() {
            cloth.lay(copy, &cuts);
        }
        cloth
    }

    fn edge(&self, s: &Stretch) -> (usize, usize) {
        let piece = self
            .garment
            .pieces
            .iter()
            .position(|p| p.name == s.piece)
            .unwrap();
        (
            piece,
            self.garment.pieces[piece]
                .outline
                .index_of(&s.edge)
                .unwrap(),
        )
    }

    /// Shares of each edge where something starts or ends, carried over to what it is sewn to until nothing is new.
    fn cuts(&self) -> BTreeMap<(usize, usize), Vec<f64>> {
        let mut cuts: BTreeMap<(usize, usize), Vec<f64>> = BTreeMap::new();
        let add = |cuts: &mut BTreeMap<(usize, usize), Vec<f64>>, key, at: f64| {
            let list = cuts.entry(key).or_default();
            let inside = NEAR < at && at < 1.0 - NEAR;
            let new = inside && list.iter().all(|k| NEAR < (k - at).abs());
            if new {
                list.push(at);
            }
            new
        };
        for (p, piece) in self.garment.pieces.iter().enumerate() {
            for (e, edge) in piece.outline.edges().iter().enumerate() {
                for part in &edge.finish {
                    add(&mut cuts, (p, e), part.from);
                    add(&mut cuts, (p, e), part.to);
                }
            }
        }
        for seam in &self.garment.seams {
            for s in seam.a.iter().chain(&seam.b) {
                add(&mut cuts, self.edge(s), s.from);
                add(&mut cuts, self.edge(s), s.to);
            }
        }
        let length = |s: &Stretch| s.length(&self.garment.pieces).unwrap().0;
        for _ in 0..3 {
            let mut new = false;
            for seam in &self.garment.seams {
                for (one, other) in [(&seam.a, &seam.b), (&seam.b, &seam.a)] {
                    let whole: f64 = one.iter().map(length).sum();
                    let mut marks = Vec::new();
                    let mut so_far = 0.0;
                    for s in one {
                        marks.push(so_far / whole);
                        for at in cuts.get(&self.edge(s)).into_iter().flatten() {
                            let share = (at - s.from) / (s.to - s.from);
                            if (0.0..=1.0).contains(&share) {
                                marks.push((so_far + share * length(s)) / whole);
                            }
                        }
                        so_far += length(s);
                    }
                    let whole: f64 = other.iter().map(length).sum();
                    for mark in marks {
                        let mut left = mark * whole;
                        for s in other {
                            if left <= length(s) {
                                let at = s.from + (s.to - s.from) * left / length(s);
                                new |= add(&mut cuts, self.edge(s), at);
                                break;
                            }
                            left -= length(s);
                        }
                    }
                }
            }
            if !new {
                break;
            }
        }
        for list in cuts.values_mut() {
            list.sort_by(f64::total_cmp);
        }
        cuts
    }

    fn lay(&mut self, copy: usize, cuts: &BTreeMap<(usize, usize), Vec<f64>>) {
        let piece = self.copies[copy].0;
        let edges = self.garment.pieces[piece].outline.edges();
        let fold = edges.iter().position(|e| e.is_fold());
        let count = edges.len();
        let start = fold.map_or(0, |f| f + 1);
        let order: Vec<usize> = (0..count)
            .map(|i| (start + i) % count)
            .filter(|e| Some(*e) != fold)
            .collect();
        let mut ring: Vec<(usize, bool, f64, f64)> = Vec::new();
        let parts = |e: usize| -> Vec<(f64, f64)> {
            let mut at = vec![0.0];
            at.extend(cuts.get(&(piece, e)).into_iter().flatten());
            at.push(1.0);
            at.windows(2).map(|w| (w[0], w[1])).collect()
        };
        for e in &order {
            ring.extend(parts(*e).iter().map(|(a, b)| (*e, false, *a, *b)));
        }
        if fold.is_some() {
            for e in order.iter().rev() {
                ring.extend(parts(*e).iter().rev().map(|(a, b)| (*e, true, *a, *b)));
            }
        }
        let first = self.atoms.len();
        let n = ring.len();
        for (i, (edge, mirrored, from, to)) in ring.into_iter().enumerate() {
            self.atoms.push(Atom {
                copy,
                edge,
                mirrored,
                from,
                to,
                length: edges[edge].line.length() * (to - from),
                before: first + (i + n - 1) % n,
                next: first + (i + 1) % n,
                falling: mirrored,
                finish: edges[edge].finish_at((from + to) / 2.0),
            });
        }
    }

    fn side(&self, side: &[Stretch], twin: bool) -> Option<Vec<(usize, bool)>> {
        let mut found = Vec::new();
        for s in side {
            let (piece, edge) = self.edge(s);
            let folded = self.garment.pieces[piece].fold_edge().is_some();
            let wanted = match (twin, s.copy.side) {
                (true, Side::Right) => Side::Left,
                (true, Side::Left) => Side::Right,
                (_, side) => side,
            };
            let mirrored = twin && s.copy.side == Side::Whole && folded;
            let copy = self
                .copies
                .iter()
                .position(|(p, c)| *p == piece && c.side == wanted && c.role == s.copy.role)?;
            let (low, high) = (s.from.min(s.to) - NEAR, s.from.max(s.to) + NEAR);
            let mut atoms: Vec<usize> = (0..self.atoms.len())
                .filter(|a| {
                    let a = &self.atoms[*a];
                    (a.copy, a.edge, a.mirrored) == (copy, edge, mirrored)
                        && low <= a.from
                        && a.to <= high
                })
                .collect();
            atoms.sort_by(|a, b| self.atoms[*a].from.total_cmp(&self.atoms[*b].from));
            let rising = s.from < s.to;
            if !rising {
                atoms.reverse();
            }
            found.extend(
                atoms
                    .into_iter()
                    .map(|a| (a, rising != self.atoms[a].falling)),
            );
        }
        Some(found)
    }

    /// What a seam sews, on the side drawn or on the other.
    pub fn line(&self, seam: &Seam, twin: bool) -> Option<Line> {
        let (a, b) = (self.side(&seam.a, twin)?, self.side(&seam.b, twin)?);
        Some(
            a.into_iter()
                .zip(b)
                .map(|((a, on), (b, also))| (a, b, on == also))
                .collect(),
        )
    }

    /// Every line of every seam, named as its steps are.
    pub fn lines(&self) -> BTreeMap<String, (Line, &'a Seam)> {
        let mut lines = BTreeMap::new();
        for seam in &self.garment.seams {
            let Some(drawn) = self.line(seam, false) else {
                continue;
            };
            let twin = if seam.mirrored {
                self.line(seam, true).filter(|t| *t != drawn)
            } else {
                None
            };
            let atoms = |l: &Line| -> Vec<usize> { l.iter().flat_map(|p| [p.0, p.1]).collect() };
            let touches = twin.as_ref().is_some_and(|t| {
                let t = atoms(t);
                atoms(&drawn)
                    .iter()
                    .any(|a| t.contains(&self.atoms[*a].next) || t.contains(&self.atoms[*a].before))
            });
            match twin {
                None => {
                    lines.insert(seam.name.clone(), (drawn, seam));
                }
                Some(twin) if touches => {
                    let both = drawn.into_iter().chain(twin).collect();
                    lines.insert(seam.name.clone(), (both, seam));
                }
                Some(twin) => {
                    let left = seam
                        .a
                        .iter()
                        .chain(&seam.b)
                        .any(|s| s.copy.side == Side::Left);
                    let (one, other) = if left {
                        ("left", "right")
                    } else {
                        ("right", "left")
                    };
                    lines.insert(format!("{}, {one}", seam.name), (drawn, seam));
                    lines.insert(format!("{}, {other}", seam.name), (twin, seam));
                }
            }
        }
        lines
    }

    /// The two legs of every dart of every copy.
    pub fn darts(&self) -> BTreeMap<String, (Line, usize)> {
        let mut darts = BTreeMap::new();
        for (c, (piece, copy)) in self.copies.iter().enumerate() {
            let p = &self.garment.pieces[*piece];
            for dart in &p.darts {
                let at = |name: &str| p.outline.index_of(name).unwrap();
                let of = |edge: usize, half: bool| -> Vec<usize> {
                    (0..self.atoms.len())
                        .filter(|a| {
                            let a = &self.atoms[*a];
                            (a.copy, a.edge, a.mirrored) == (c, edge, half)
                        })
                        .collect()
                };
                let mut line = Vec::new();
                for half in [false, true] {
                    let outs = of(at(&dart.leg_out), half);
                    let ins = of(at(&dart.leg_in), half);
                    line.extend(
                        ins.into_iter()
                            .zip(outs.into_iter().rev())
                            .map(|(a, b)| (a, b, false)),
                    );
                }
                darts.insert(
                    format!("dart {}, {}{}", p.name, dart.name, copy_words(*copy)),
                    (line, c),
                );
            }
        }
        darts
    }

    pub fn sew(&self, sewn: &mut Sewn, line: &Line) {
        for (a, b, same) in line {
            if a != b && !sewn.mate.contains_key(a) && !sewn.mate.contains_key(b) {
                sewn.mate.insert(*a, (*b, *same));
                sewn.mate.insert(*b, (*a, *same));
            }
        }
    }

    /// Classes of corners, parts with their corners less edges plus faces, and their areas.
    pub fn parts(&self, sewn: &Sewn) -> (Vec<usize>, Vec<usize>, BTreeMap<usize, (i64, f64)>) {
        // The corner before each atom; the corner after it is that before the next.
        let mut corner: Vec<usize> = (0..self.atoms.len()).collect();
        let mut part: Vec<usize> = (0..self.copies.len()).collect();
        fn top(of: &[usize], mut at: usize) -> usize {
            while of[at] != at {
                at = of[at];
            }
            at
        }
        for (a, (b, same)) in &sewn.mate {
            if b < a {
                continue;
            }
            let (x, y) = (&self.atoms[*a], &self.atoms[*b]);
            let ties = if *same {
                [(*a, *b), (x.next, y.next)]
            } else {
                [(*a, y.next), (x.next, *b)]
            };
            for (p, q) in ties {
                let (p, q) = (top(&corner, p), top(&corner, q));
                corner[q] = p;
            }
            let (p, q) = (top(&part, x.copy), top(&part, y.copy));
            part[q] = p;
        }
        let corner: Vec<usize> = (0..corner.len()).map(|c| top(&corner, c)).collect();
        let part: Vec<usize> = (0..part.len()).map(|c| top(&part, c)).collect();
        let mut found: BTreeMap<usize, (i64, f64)> = BTreeMap::new();
        for (c, p) in part.iter().enumerate() {
            let slot = found.entry(*p).or_default();
            slot.0 += 1;
            slot.1 += self.area[c];
        }
        let mut corners: BTreeSet<(usize, usize)> = BTreeSet::new();
        for (a, atom) in self.atoms.iter().enumerate() {
            corners.insert((part[atom.copy], corner[a]));
            // An edge less for each atom, but two that are sewn together are one.
            let second = sewn.mate.get(&a).is_some_and(|(b, _)| *b < a);
            found.get_mut(&part[atom.copy]).unwrap().0 -= i64::from(!second);
        }
        for (p, _) in corners {
            found.get_mut(&p).unwrap().0 += 1;
        }
        (corner, part, found)
    }

    /// Where the boundary leads from an unsewn atom left at an end.
    fn onward(&self, sewn: &Sewn, (atom, at_end): End) -> End {
        let step = |atom: usize, at_end: bool| -> End {
            // The neighbour, and whether it is entered at its end.
            if at_end {
                (self.atoms[atom].next, false)
            } else {
                (self.atoms[atom].before, true)
            }
        };
        let (mut y, mut entered_at_end) = step(atom, at_end);
        while let Some((z, same)) = sewn.mate.get(&y) {
            let corner_of_z = if *same {
                entered_at_end
            } else {
                !entered_at_end
            };
            (y, entered_at_end) = step(*z, corner_of_z);
        }
        (y, !entered_at_end)
    }

    /// How it lies at every unsewn atom.
    pub fn looks(&self, sewn: &Sewn) -> (BTreeMap<usize, Look>, Vec<(usize, f64)>, Vec<usize>) {
        let (_, part, parts) = self.parts(sewn);
        let mut looks = BTreeMap::new();
        let mut boundaries = Vec::new();
        for start in 0..self.atoms.len() {
            if sewn.mate.contains_key(&start) || looks.contains_key(&start) {
                continue;
            }
            let (mut at, mut round, mut length) = ((start, true), Vec::new(), 0.0);
            loop {
                round.push(at.0);
                length += self.atoms[at.0].length;
                at = self.onward(sewn, at);
                if at.0 == start || self.atoms.len() < round.len() {
                    break;
                }
            }
            let p = part[self.atoms[start].copy];
            let (euler, area) = parts[&p];
            let flat = 1 <= euler || area <= length * length / (4.0 * PI);
            let boundary = boundaries.len();
            boundaries.push((p, length));
            for a in round {
                looks.insert(
                    a,
                    Look {
                        ring: (!flat).then_some(length),
                        boundary,
                    },
                );
            }
        }
        (looks, boundaries, part)
    }

    pub fn is_sewn(&self, sewn: &Sewn, atom: usize) -> bool {
        sewn.mate.contains_key(&atom)
    }
}

pub fn copy_words(copy: Copy) -> String {
    let side = match copy.side {
        Side::Whole => "",
        Side::Right => ", right",
        Side::Left => ", left",
    };
    let role = if copy.role == Role::Lining {
        ", lining"
    } else {
        ""
    };
    format!("{side}{role}")
}
