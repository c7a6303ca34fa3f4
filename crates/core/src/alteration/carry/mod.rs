//! Where edges went when a piece was split, cut, joined or renamed, so that everything that names them can follow.
//!
//! A change of the outline builds its new pieces and says in a [`Carried`] where the old edges are now;
//! [`Carried::altered`] then lets notches, darts, seams, tape lines and all the rest follow, and says what could not.

mod fitting;
mod follow;
mod on_piece;
mod steps;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use crate::edge::{EdgeRef, OutlinePoint};

/// How near two fractions lie that count as one.
const NEAR: f64 = 1e-9;

/// Where the edges of altered pieces went. An edge that is not listed stayed where it was, or went with its piece where
/// that was renamed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Carried {
    /// For every old edge, the bits it became, in order along the old edge; none when it is gone.
    pub edges: BTreeMap<EdgeRef, Vec<Bit>>,
    /// For every old piece, what it became: several when it was cut in two, none when it was taken out.
    pub pieces: BTreeMap<String, Vec<String>>,
    /// For every old seam that was renamed, cut in two or taken out, what it became.
    pub seams: BTreeMap<String, Vec<String>>,
}

/// A bit of an old edge and where it is now.
#[derive(Debug, Clone, PartialEq)]
pub struct Bit {
    /// Fraction of the old edge where the bit starts.
    pub from: f64,
    /// Fraction of the old edge where it ends, above `from`.
    pub to: f64,
    /// The edge it is on now.
    pub edge: EdgeRef,
    /// Fraction of that edge that belongs to `from`.
    pub start: f64,
    /// Fraction of that edge that belongs to `to`; below `start` when it now runs the other way.
    pub end: f64,
}

/// A part of an edge, walked from one fraction to another.
#[derive(Debug, Clone, PartialEq)]
pub struct EdgePart {
    /// The edge.
    pub edge: EdgeRef,
    /// Fraction where the walk starts; above `to` when the edge is walked against its drawn direction.
    pub from: f64,
    /// Fraction where it ends.
    pub to: f64,
}

impl Bit {
    /// A bit of an old edge that lies between two fractions of a new one.
    pub fn new((from, to): (f64, f64), edge: EdgeRef, (start, end): (f64, f64)) -> Self {
        Self {
            from,
            to,
            edge,
            start,
            end,
        }
    }

    /// The whole old edge is the whole of this one.
    pub fn whole(edge: EdgeRef) -> Self {
        Self::new((0.0, 1.0), edge, (0.0, 1.0))
    }

    /// The whole old edge is the whole of this one, which runs the other way.
    pub fn turned(edge: EdgeRef) -> Self {
        Self::new((0.0, 1.0), edge, (1.0, 0.0))
    }

    /// The fraction of the new edge at a fraction of the old one.
    pub fn at(&self, old: f64) -> f64 {
        let width = self.to - self.from;
        let share = if width > 0.0 {
            (old - self.from) / width
        } else {
            0.0
        };
        snapped(self.start + share * (self.end - self.start))
    }

    fn runs_back(&self) -> bool {
        self.end < self.start
    }
}

/// A fraction a hair away from an end is the end.
fn snapped(fraction: f64) -> f64 {
    if fraction.abs() <= NEAR {
        0.0
    } else if (fraction - 1.0).abs() <= NEAR {
        1.0
    } else {
        fraction
    }
}

impl Carried {
    /// Says where an old edge is now; with no bits, it is gone.
    #[must_use]
    pub fn with_edge(mut self, old: EdgeRef, bits: Vec<Bit>) -> Self {
        self.edges.insert(old, bits);
        self
    }

    /// Says what an old piece became; with no names, it is gone.
    #[must_use]
    pub fn with_piece(mut self, old: &str, now: &[&str]) -> Self {
        let names = now.iter().map(|name| (*name).to_owned()).collect();
        self.pieces.insert(old.to_owned(), names);
        self
    }

    /// Says what an old seam became; with no names, it is gone.
    #[must_use]
    pub fn with_seam(mut self, old: &str, now: &[&str]) -> Self {
        let names = now.iter().map(|name| (*name).to_owned()).collect();
        self.seams.insert(old.to_owned(), names);
        self
    }

    /// What an old piece is called now: itself when nothing was said about it.
    pub fn piece(&self, old: &str) -> Vec<String> {
        let same = || vec![old.to_owned()];
        self.pieces.get(old).cloned().unwrap_or_else(same)
    }

    /// What an old seam is called now: itself when nothing was said about it.
    pub fn seam(&self, old: &str) -> Vec<String> {
        let same = || vec![old.to_owned()];
        self.seams.get(old).cloned().unwrap_or_else(same)
    }

    /// The bits of an old edge, in order along it: itself when nothing was said about it or its piece.
    pub fn bits(&self, old: &EdgeRef) -> Vec<Bit> {
        if let Some(bits) = self.edges.get(old) {
            return bits.clone();
        }
        let now = self.piece(&old.piece);
        let first = now.first();
        first
            .map(|piece| Bit::whole(EdgeRef::new(piece, &old.edge)))
            .into_iter()
            .collect()
    }

    /// Where a place on an old edge is now; `None` when it is gone.
    pub fn place(&self, edge: &EdgeRef, fraction: f64) -> Option<(EdgeRef, f64)> {
        let bits = self.bits(edge);
        let holds = |bit: &&Bit| bit.from - NEAR <= fraction && fraction <= bit.to + NEAR;
        let bit = bits.iter().find(holds)?;
        Some((bit.edge.clone(), bit.at(fraction)))
    }

    /// The same for a point of an old piece: the piece it is on now, and where.
    pub fn point(&self, piece: &str, at: &OutlinePoint) -> Option<(String, OutlinePoint)> {
        let (edge, fraction) = self.place(&EdgeRef::new(piece, &at.edge), at.fraction)?;
        Some((edge.piece, OutlinePoint::new(edge.edge, fraction)))
    }

    /// Where a part of an old edge is now, bit by bit, walked in the same order (backwards where `from` is above `to`).
    pub fn range(&self, edge: &EdgeRef, from: f64, to: f64) -> Vec<EdgePart> {
        let (low, high) = (from.min(to), from.max(to));
        let bits = self.bits(edge);
        let shared = bits.iter().filter_map(|bit| {
            let (start, end) = (low.max(bit.from), high.min(bit.to));
            (end - start > NEAR || (high - low <= NEAR && start <= end)).then(|| EdgePart {
                edge: bit.edge.clone(),
                from: bit.at(start),
                to: bit.at(end),
            })
        });
        let mut walked: Vec<EdgePart> = shared.collect();
        if to < from {
            walked.reverse();
            for part in &mut walked {
                std::mem::swap(&mut part.from, &mut part.to);
            }
        }
        joined(walked)
    }

    /// The one edge that the whole of an old one is the whole of now, and whether it runs the other way.
    pub fn whole_edge(&self, old: &EdgeRef) -> Option<(EdgeRef, bool)> {
        let mut parts = self.range(old, 0.0, 1.0).into_iter();
        let (part, None) = (parts.next()?, parts.next()) else {
            return None;
        };
        let covered: f64 = self.bits(old).iter().map(|bit| bit.to - bit.from).sum();
        let is = |fraction: f64, wanted: f64| (fraction - wanted).abs() <= NEAR;
        let turned = is(part.from, 1.0) && is(part.to, 0.0);
        let whole = turned || (is(part.from, 0.0) && is(part.to, 1.0));
        (whole && (covered - 1.0).abs() <= NEAR).then_some((part.edge, turned))
    }

    /// This change, then another: where everything is after both.
    #[must_use]
    pub fn then(&self, next: &Self) -> Self {
        let mut both = Self::default();
        for (old, bits) in &self.edges {
            let moved = bits.iter().flat_map(|bit| moved_on(bit, next)).collect();
            both.edges.insert(old.clone(), bits_joined(moved));
        }
        for (edge, bits) in &next.edges {
            for old in self.old_names(&edge.piece) {
                let old = EdgeRef::new(old, &edge.edge);
                both.edges.entry(old).or_insert_with(|| bits.clone());
            }
        }
        both.pieces = names_then(&self.pieces, &next.pieces);
        both.seams = names_then(&self.seams, &next.seams);
        both
    }

    /// The old pieces that are called this now and whose unlisted edges went with them.
    fn old_names(&self, now: &str) -> Vec<String> {
        let renamed = self.pieces.iter();
        let mut old: Vec<String> = renamed
            .filter(|(_, names)| names.first().is_some_and(|name| name == now))
            .map(|(old, _)| old.clone())
            .collect();
        if !self.pieces.contains_key(now) {
            old.push(now.to_owned());
        }
        old
    }
}

/// Parts of one edge that follow each other become one.
fn joined(parts: Vec<EdgePart>) -> Vec<EdgePart> {
    let mut whole: Vec<EdgePart> = Vec::new();
    for part in parts {
        match whole.last_mut() {
            Some(last)
                if last.edge == part.edge
                    && (last.to - part.from).abs() <= NEAR
                    && (last.to - last.from) * (part.to - part.from) >= 0.0 =>
            {
                last.to = part.to;
            }
            _ => whole.push(part),
        }
    }
    whole
}

fn bits_joined(bits: Vec<Bit>) -> Vec<Bit> {
    let mut whole: Vec<Bit> = Vec::new();
    for bit in bits {
        match whole.last_mut() {
            Some(last)
                if last.edge == bit.edge
                    && (last.to - bit.from).abs() <= NEAR
                    && (last.end - bit.start).abs() <= NEAR
                    && last.runs_back() == bit.runs_back() =>
            {
                last.to = bit.to;
                last.end = bit.end;
            }
            _ => whole.push(bit),
        }
    }
    whole
}

/// What became of a bit in the next change, as bits of the first edge.
fn moved_on(bit: &Bit, next: &Carried) -> Vec<Bit> {
    let old = |fraction: f64| {
        let share = (fraction - bit.start) / (bit.end - bit.start);
        snapped(bit.from + share * (bit.to - bit.from))
    };
    let (low, high) = (bit.start.min(bit.end), bit.start.max(bit.end));
    let mut moved: Vec<Bit> = Vec::new();
    for part in next.bits(&bit.edge) {
        let (start, end) = (low.max(part.from), high.min(part.to));
        if end - start <= NEAR {
            continue;
        }
        let (first, last) = if bit.runs_back() {
            (end, start)
        } else {
            (start, end)
        };
        moved.push(Bit::new(
            (old(first), old(last)),
            part.edge.clone(),
            (part.at(first), part.at(last)),
        ));
    }
    moved.sort_by(|a, b| a.from.total_cmp(&b.from));
    moved
}

fn names_then(
    first: &BTreeMap<String, Vec<String>>,
    next: &BTreeMap<String, Vec<String>>,
) -> BTreeMap<String, Vec<String>> {
    let on = |name: &String| {
        let same = || vec![name.clone()];
        next.get(name).cloned().unwrap_or_else(same)
    };
    let mut both: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (old, names) in first {
        let mut now: Vec<String> = Vec::new();
        for name in names.iter().flat_map(on) {
            if !now.contains(&name) {
                now.push(name);
            }
        }
        both.insert(old.clone(), now);
    }
    for (old, names) in next {
        both.entry(old.clone()).or_insert_with(|| names.clone());
    }
    both
}
