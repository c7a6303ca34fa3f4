//! What the checker looks for in an order, rule by rule, and what it reckons an order to be worth.

use std::collections::{BTreeMap, BTreeSet};

use petitoile_core::edge::Finish;
use petitoile_core::garment::Garment;
use petitoile_core::making_order::{Lies, LiningMethod, Order, Step, Work};
use petitoile_core::piece::Role;
use petitoile_core::seams::SeamKind;

use super::checker::{Cloth, Line, Look, NARROW, NOT_IN_ONE_GO, PULLED, ROOMY, ROUND, Sewn};

/// Everything that can be sewn in a garment, by the key of its step.
pub struct Replay<'a> {
    pub cloth: Cloth<'a>,
    /// Seams and darts.
    pub lines: BTreeMap<String, Line>,
    /// Seams that lie over another seam; they tie nothing.
    lapped: BTreeSet<String>,
    tube: f64,
}

pub fn layers(lining: Option<LiningMethod>) -> &'static [Role] {
    match lining {
        Some(LiningMethod::Bagged | LiningMethod::Felled) => &[Role::Shell, Role::Lining],
        _ => &[Role::Shell],
    }
}

/// A seam and a seam that runs across its end.
pub type Crossing = (String, String);

impl<'a> Replay<'a> {
    pub fn new(garment: &'a Garment, layers: &[Role], tube: f64) -> Self {
        let cloth = Cloth::new(garment, layers);
        let mut lines = BTreeMap::new();
        let mut lapped = BTreeSet::new();
        for (name, (line, seam)) in cloth.lines() {
            if seam.kind == SeamKind::Lapped {
                lapped.insert(format!("sew {name}"));
            }
            lines.insert(format!("sew {name}"), line);
        }
        for (name, (line, _)) in cloth.darts() {
            lines.insert(name, line);
        }
        Self {
            cloth,
            lines,
            lapped,
            tube,
        }
    }

    /// All of it sewn, and which line sews an atom; what is lapped over another seam last.
    fn whole(&self) -> (Sewn, BTreeMap<usize, String>) {
        let (mut sewn, mut by) = (Sewn::default(), BTreeMap::new());
        for lapped in [false, true] {
            for (key, line) in &self.lines {
                if self.lapped.contains(key) != lapped {
                    continue;
                }
                for (a, b, _) in line {
                    if !by.contains_key(a) && !by.contains_key(b) {
                        by.insert(*a, key.clone());
                        by.insert(*b, key.clone());
                    }
                }
                self.cloth.sew(&mut sewn, line);
            }
        }
        (sewn, by)
    }

    /// Seams that end where another runs across, told by the corners of the finished garment alone.
    pub fn crossings(&self) -> Vec<Crossing> {
        let (sewn, by) = self.whole();
        let (corner, ..) = self.cloth.parts(&sewn);
        // At each corner: who comes there, and who runs through it on one copy.
        let mut there: BTreeMap<usize, (BTreeSet<&String>, BTreeSet<&String>)> = BTreeMap::new();
        for (a, atom) in self.cloth.atoms.iter().enumerate() {
            let slot = there.entry(corner[a]).or_default();
            let (here, before) = (by.get(&a), by.get(&atom.before));
            slot.0.extend(here);
            slot.0.extend(before);
            if here.is_some() && here == before {
                slot.1.extend(here);
            }
        }
        let mut found = BTreeSet::new();
        for (all, through) in there.values() {
            for across in through {
                for ends in all.difference(through) {
                    found.insert(((*ends).clone(), (*across).clone()));
                }
            }
        }
        found.into_iter().collect()
    }

    /// Pairs of seams that end on both sides of one that passes between them.
    pub fn run_on(&self) -> Vec<(String, String)> {
        let (sewn, by) = self.whole();
        let (corner, ..) = self.cloth.parts(&sewn);
        let mut there: BTreeMap<usize, BTreeMap<&String, u32>> = BTreeMap::new();
        let mut through: BTreeSet<usize> = BTreeSet::new();
        for (a, atom) in self.cloth.atoms.iter().enumerate() {
            let Some(key) = by.get(&a) else { continue };
            // Each seam is met from both of its sides.
            for end in [corner[a], corner[atom.next]] {
                *there.entry(end).or_default().entry(key).or_default() += 1;
            }
            if by.get(&atom.before) == Some(key) {
                through.insert(corner[a]);
            }
        }
        let mut found = Vec::new();
        for (corner, seams) in there {
            let ends: Vec<&&String> = seams
                .iter()
                .filter(|(_, n)| **n == 2)
                .map(|(k, _)| k)
                .collect();
            let passes = seams.values().any(|n| *n == 4);
            if let ([a, b], true, false) = (ends.as_slice(), passes, through.contains(&corner)) {
                let sewing = |k: &str| k.starts_with("sew ");
                if sewing(a) == sewing(b) {
                    found.push(((**a).clone(), (**b).clone()));
                }
            }
        }
        found
    }

    /// Atoms that a step works on.
    fn atoms(&self, step: &Step) -> Vec<usize> {
        if let Some(line) = self.lines.get(&step.key) {
            return line.iter().flat_map(|(a, b, _)| [*a, *b]).collect();
        }
        let wanted = |finish: Finish| match step.work {
            Work::Hem => matches!(finish, Finish::Hem { .. }),
            Work::Face => finish == Finish::Facing,
            Work::CloseGap => finish == Finish::Open,
            Work::Gather { .. } => true,
            _ => false,
        };
        (0..self.cloth.atoms.len())
            .filter(|a| {
                let atom = &self.cloth.atoms[*a];
                let (piece, copy) = self.cloth.copies[atom.copy];
                let piece = &self.cloth.garment.pieces[piece];
                let edge = &piece.outline.edges()[atom.edge].name;
                wanted(atom.finish)
                    && step.copies.contains(&(piece.name.clone(), copy))
                    && step
                        .edges
                        .iter()
                        .any(|e| e.piece == piece.name && e.edge == *edge)
            })
            .collect()
    }

    /// Everything that is wrong with an order; nothing when it is sound.
    pub fn complaints(&self, order: &Order) -> Vec<String> {
        let mut wrong = Vec::new();
        let place = |key: &str| order.steps.iter().position(|s| s.key == key);
        let excused = |first: &str, then: &str| {
            order
                .broken
                .iter()
                .any(|b| b.first == first && b.then == then)
        };
        for key in self.lines.keys() {
            let times = order.steps.iter().filter(|s| s.key == *key).count();
            if times != 1 {
                wrong.push(format!("{key} is done {times} times"));
            }
        }
        for (ends, across) in self.crossings() {
            if place(&across) < place(&ends) && !excused(&ends, &across) {
                wrong.push(format!(
                    "{across} runs across the end of {ends}, which comes later"
                ));
            }
        }
        for (i, step) in order.steps.iter().enumerate() {
            for before in &step.after {
                if place(before).is_none_or(|b| i < b) && !excused(before, &step.key) {
                    wrong.push(format!("{before} should be done before {}", step.key));
                }
            }
            let mine: BTreeSet<usize> = self.atoms(step).into_iter().collect();
            for (later, other) in order.steps.iter().enumerate() {
                let seam = matches!(other.work, Work::Seam { .. });
                let drawn_in = matches!(step.work, Work::Gather { .. } | Work::Dart { .. });
                let shared = || match step.work {
                    Work::Dart { .. } => step.copies.iter().any(|c| other.copies.contains(c)),
                    _ => self.atoms(other).iter().any(|a| mine.contains(a)),
                };
                if drawn_in && seam && later < i && shared() {
                    wrong.push(format!("{} comes after {}", step.key, other.key));
                }
                let finishing = matches!(other.work, Work::CloseGap | Work::Closure { .. });
                if matches!(step.work, Work::Turn { .. }) && finishing && later < i {
                    wrong.push(format!("{} comes before {}", other.key, step.key));
                }
            }
        }
        wrong.extend(self.looks_wrong(order));
        wrong.extend(self.hems_wrong(order));
        wrong
    }

    /// Does every step lie as it says? Is there a mouth to turn through?
    fn looks_wrong(&self, order: &Order) -> Vec<String> {
        let mut wrong = Vec::new();
        let mut sewn = Sewn::default();
        for step in &order.steps {
            let (looks, boundaries, part) = self.cloth.looks(&sewn);
            if matches!(
                step.work,
                Work::Seam { .. } | Work::Hem | Work::Gather { .. } | Work::Dart { .. }
            ) {
                let ring = narrowest(&looks, &self.atoms(step));
                let told = step.girth.map(|g| g.0);
                let same = match (ring, told) {
                    (None, None) => step.lies == Lies::Flat,
                    (Some(a), Some(b)) => (a - b).abs() < 0.01 && step.lies == Lies::Round,
                    _ => false,
                };
                if !same {
                    wrong.push(format!(
                        "{} is said to lie {told:?}, it lies {ring:?}",
                        step.key
                    ));
                }
            }
            if matches!(step.work, Work::Turn { .. }) {
                let parts = self.parts_of(step, &part);
                let mouth = boundaries
                    .iter()
                    .filter(|(p, _)| parts.contains(p))
                    .map(|(_, length)| *length)
                    .fold(0.0, f64::max);
                let told = order
                    .broken
                    .iter()
                    .any(|b| b.rule == "way out" && b.first == step.key);
                // 24 mm: the narrowest mouth anything is turned through.
                if mouth < 24.0 && !told {
                    wrong.push(format!("{} has a mouth of {mouth}", step.key));
                }
            }
            if let Some(line) = self.lines.get(&step.key) {
                self.sew(&mut sewn, &step.key, line);
            }
        }
        wrong
    }

    /// What is lapped over another seam is caught on it, and ties no new edges.
    fn sew(&self, sewn: &mut Sewn, key: &str, line: &Line) {
        if !self.lapped.contains(key) {
            self.cloth.sew(sewn, line);
        }
    }

    /// A hem runs over its seams, or, as a small ring, waits with one of them.
    fn hems_wrong(&self, order: &Order) -> Vec<String> {
        let mut wrong = Vec::new();
        let (whole, _) = self.whole();
        let (corner, ..) = self.cloth.parts(&whole);
        for (i, step) in order.steps.iter().enumerate() {
            if step.work != Work::Hem {
                continue;
            }
            let mine = self.atoms(step);
            let ends: BTreeSet<usize> = mine
                .iter()
                .flat_map(|a| [corner[*a], corner[self.cloth.atoms[*a].next]])
                .collect();
            let later: Vec<&str> = order
                .steps
                .iter()
                .enumerate()
                .filter(|(at, s)| i < *at && s.key.starts_with("sew "))
                .filter(|(_, s)| {
                    // It joins two ends of this hem: both of its sides border on it.
                    let line = &self.lines[&s.key];
                    let borders = |a: usize| {
                        let atom = &self.cloth.atoms[a];
                        mine.contains(&atom.before) || mine.contains(&atom.next)
                    };
                    line.iter().any(|(a, b, _)| {
                        borders(*a) && borders(*b) && ends.contains(&corner[*a])
                            || borders(*a)
                                && borders(*b)
                                && ends.contains(&corner[self.cloth.atoms[*a].next])
                    })
                })
                .map(|(_, s)| s.key.as_str())
                .collect();
            let excused = later.iter().all(|key| {
                order
                    .broken
                    .iter()
                    .any(|b| b.first == **key && b.then == step.key)
            });
            if 1 < later.len() && !excused {
                wrong.push(format!("{} comes before its seams {later:?}", step.key));
            }
        }
        wrong
    }

    /// What an order costs, by the weights of the documentation.
    pub fn trouble(&self, steps: &[&Step], mates: &[(String, String)]) -> u32 {
        let mut sewn = Sewn::default();
        let mut sum = 0;
        for (i, step) in steps.iter().enumerate() {
            sum += self.step_trouble(&sewn, step);
            for (a, b) in mates {
                let other = match &step.key {
                    k if k == a => b,
                    k if k == b => a,
                    _ => continue,
                };
                let at = steps.iter().position(|s| s.key == *other);
                if at.is_some_and(|at| at + 1 < i) {
                    sum += NOT_IN_ONE_GO;
                }
            }
            if let Some(line) = self.lines.get(&step.key) {
                self.sew(&mut sewn, &step.key, line);
            }
        }
        sum
    }

    fn step_trouble(&self, sewn: &Sewn, step: &Step) -> u32 {
        if matches!(
            step.work,
            Work::CutOut | Work::TryOn | Work::Press | Work::Closure { .. } | Work::Neaten
        ) {
            return 0;
        }
        let (looks, ..) = self.cloth.looks(sewn);
        let Some(girth) = narrowest(&looks, &self.atoms(step)) else {
            return 0;
        };
        let mut sum = match girth {
            g if 2.0 * self.tube <= g => ROOMY,
            g if g < self.tube => NARROW,
            _ => ROUND,
        };
        if let Some(line) = self.lines.get(&step.key)
            && self.pulls_through(sewn, &looks, line)
        {
            sum += PULLED;
        }
        sum
    }

    /// A whole ring into another whole ring of the same part.
    fn pulls_through(&self, sewn: &Sewn, looks: &BTreeMap<usize, Look>, line: &Line) -> bool {
        let (_, part, _) = self.cloth.parts(sewn);
        let open: Vec<(usize, usize)> = line
            .iter()
            .filter(|(a, b, _)| !self.cloth.is_sewn(sewn, *a) && !self.cloth.is_sewn(sewn, *b))
            .map(|(a, b, _)| (*a, *b))
            .collect();
        let Some((a, b)) = open.first() else {
            return false;
        };
        let copy = |x: usize| part[self.cloth.atoms[x].copy];
        let (one, other) = (looks[a].boundary, looks[b].boundary);
        copy(*a) == copy(*b)
            && one != other
            && looks.iter().all(|(atom, look)| {
                (look.boundary != one && look.boundary != other)
                    || open.iter().any(|(a, b)| a == atom || b == atom)
            })
    }

    /// The widest mouth left of what a step turns when all is sewn.
    pub fn mouth_at_the_end(&self, turn: &Step) -> f64 {
        let (sewn, _) = self.whole();
        let (_, boundaries, part) = self.cloth.looks(&sewn);
        let parts = self.parts_of(turn, &part);
        let mouths = boundaries.iter().filter(|(p, _)| parts.contains(p));
        mouths.map(|(_, l)| *l).fold(0.0, f64::max)
    }

    fn parts_of(&self, turn: &Step, part: &[usize]) -> BTreeSet<usize> {
        let copies = self.cloth.copies.iter().enumerate();
        copies
            .filter(|(_, (p, c))| {
                let name = self.cloth.garment.pieces[*p].name.clone();
                turn.copies.contains(&(name, *c))
            })
            .map(|(i, _)| part[i])
            .collect()
    }
}

fn narrowest(looks: &BTreeMap<usize, Look>, atoms: &[usize]) -> Option<f64> {
    atoms
        .iter()
        .filter_map(|a| looks.get(a)?.ring)
        .min_by(f64::total_cmp)
}
