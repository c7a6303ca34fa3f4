//! The copies of a garment as one surface: outlines cut into segments, which are glued where they are sewn.
//!
//! From it comes how work lies at any moment. A part that is one disc lies flat. Any other lies flat along a boundary of
//! length `L` only if its area is at most `L^2 / 4 pi` (isoperimetric inequality: no flat region inside a boundary of that
//! length is larger); otherwise that boundary is the mouth of a ring or tube, and `L` is its girth.
//! Lengths in mm, of finished edges (pleats and gathers drawn in). Never here: rules of work.

mod segments;

use std::collections::BTreeMap;

use crate::edge::Finish;
use crate::garment::Garment;
use crate::piece::{Copy, Piece, Placement, Role, Side};
use crate::seams::{Seam, Stretch};

/// Fractions nearer than this are one place.
const NEAR: f64 = 1e-6;

/// Directions within this angle run on smoothly: 20 degrees.
const SMOOTH: f64 = 0.94;

/// One copy that is cut.
#[derive(Debug, Clone)]
pub(super) struct Cut {
    /// Index of its piece in the garment.
    pub piece: usize,
    /// Which copy.
    pub copy: Copy,
    /// Its area, opened out where it is cut on a fold, mm2.
    pub area: f64,
    /// Does it lie on no part of the body: a collar, cuff, band?
    pub detail: bool,
    /// How many are cut alike, each sewn as this one.
    pub times: usize,
    /// Are those sewn to each other, side by side: gores all alike? Then they are one piece so many times as wide.
    pub wide: bool,
}

/// Part of the outline of a copy.
#[derive(Debug, Clone)]
pub(super) struct Segment {
    /// Index of its copy.
    pub cut: usize,
    /// Index of its edge in the piece.
    pub edge: usize,
    /// On the mirrored half of a piece cut on a fold?
    pub mirrored: bool,
    /// Lower fraction of the edge.
    pub from: f64,
    /// Upper fraction.
    pub to: f64,
    /// Its finished length.
    pub length: f64,
    /// How it is finished.
    pub finish: Finish,
    /// The segment after it on the outline of its copy.
    pub next: usize,
    /// The segment before it.
    pub before: usize,
    /// Does the outline run on smoothly from the segment before it?
    pub smooth: bool,
    /// Is its length that of all the copies that are sewn side by side?
    pub wide: bool,
}

/// All copies, and where they can be glued.
#[derive(Debug)]
pub(super) struct Surface<'a> {
    pub garment: &'a Garment,
    pub cuts: Vec<Cut>,
    pub segments: Vec<Segment>,
    /// Length of every edge of every piece, mm.
    lengths: Vec<Vec<f64>>,
    /// Segments of an edge of one half of a copy, by rising fraction.
    on_edge: BTreeMap<(usize, bool, usize), Vec<usize>>,
}

/// A place on a copy that a stretch of a seam stands for.
#[derive(Debug, Clone, Copy)]
struct On {
    cut: usize,
    mirrored: bool,
    edge: usize,
}

/// Does a seam join copies of a piece that are alike to each other: one edge of it to another edge of it?
fn joins(seam: &Seam, piece: &str, copy: &Copy) -> bool {
    let is = |s: &Stretch| s.piece == piece && s.copy == *copy;
    let (a, b) = (&seam.a, &seam.b);
    a.iter().all(is)
        && b.iter().all(is)
        && a.iter().all(|s| b.iter().all(|other| other.edge != s.edge))
}

impl<'a> Surface<'a> {
    /// The copies of these layers, their outlines cut wherever a seam or finish starts or ends.
    pub(super) fn new(garment: &'a Garment, layers: &[Role]) -> Self {
        let mut surface = Self {
            garment,
            cuts: Vec::new(),
            segments: Vec::new(),
            lengths: garment
                .pieces
                .iter()
                .map(|piece| {
                    let edges = piece.outline.edges().iter();
                    edges.map(|edge| edge.line.length()).collect()
                })
                .collect(),
            on_edge: BTreeMap::new(),
        };
        for (index, piece) in garment.pieces.iter().enumerate() {
            let mut seen: Vec<Copy> = Vec::new();
            let area = piece.outline.area().abs();
            for copy in &piece.copies {
                if !layers.contains(&copy.role) || seen.contains(copy) {
                    continue;
                }
                seen.push(*copy);
                let opened = if piece.fold_edge().is_some() {
                    2.0
                } else {
                    1.0
                };
                let times = piece.copies.iter().filter(|other| *other == copy).count();
                let wide = 1 < times
                    && garment
                        .seams
                        .iter()
                        .any(|seam| joins(seam, &piece.name, copy));
                let area = area * opened * if wide { times as f64 } else { 1.0 };
                surface.cuts.push(Cut {
                    piece: index,
                    copy: *copy,
                    area,
                    detail: matches!(piece.placement, Placement::Follows(_)),
                    times,
                    wide,
                });
            }
        }
        let places = surface.places();
        let turned = surface.turned();
        for (cut, turned) in turned.into_iter().enumerate() {
            surface.lay_out(cut, &places, turned);
        }
        surface
    }

    /// Which copies are met the other way round than they are drawn, so that on both sides of every seam the outlines run
    /// against each other. Where nothing tells: the left ones, and linings, which are seen from their other side.
    fn turned(&self) -> Vec<bool> {
        // A forest whose links say whether a copy is turned against the one above it.
        let mut up: Vec<(usize, bool)> = (0..self.cuts.len()).map(|cut| (cut, false)).collect();
        fn top(up: &[(usize, bool)], mut at: usize) -> (usize, bool) {
            let mut against = false;
            while let Some((next, turned)) = up.get(at) {
                if *next == at {
                    break;
                }
                against ^= turned;
                at = *next;
            }
            (at, against)
        }
        for seam in &self.garment.seams {
            for twin in [false, true] {
                if twin && !seam.mirrored {
                    continue;
                }
                let ways = |side: &[Stretch], other: bool| -> Vec<(usize, bool)> {
                    side.iter()
                        .filter_map(|s| {
                            let on = self.on(s, twin)?;
                            Some((on.cut, (s.from < s.to) ^ on.mirrored ^ other))
                        })
                        .collect()
                };
                let mut all = ways(&seam.a, false);
                all.extend(ways(&seam.b, true));
                let Some((first, way)) = all.first().copied() else {
                    continue;
                };
                for (cut, other) in all.into_iter().skip(1) {
                    let ((a, turned_a), (b, turned_b)) = (top(&up, first), top(&up, cut));
                    if a != b
                        && let Some(slot) = up.get_mut(b)
                    {
                        *slot = (a, way ^ other ^ turned_a ^ turned_b);
                    }
                }
            }
        }
        (0..self.cuts.len())
            .map(|cut| {
                let (root, against) = top(&up, cut);
                let usual = self.cuts.get(root).is_some_and(|of| {
                    (of.copy.side == Side::Left) != (of.copy.role == Role::Lining)
                });
                usual ^ against
            })
            .collect()
    }

    /// Fractions at which the edges of each piece are cut, by piece and edge.
    fn places(&self) -> BTreeMap<(usize, usize), Vec<f64>> {
        let mut places: BTreeMap<(usize, usize), Vec<f64>> = BTreeMap::new();
        let mut add = |piece: usize, edge: usize, at: f64| {
            if !(NEAR..=1.0 - NEAR).contains(&at) {
                return false;
            }
            let known = places.entry((piece, edge)).or_default();
            if known.iter().any(|k| (k - at).abs() < NEAR) {
                return false;
            }
            known.push(at);
            known.sort_by(f64::total_cmp);
            true
        };
        for (index, piece) in self.garment.pieces.iter().enumerate() {
            for (number, edge) in piece.outline.edges().iter().enumerate() {
                for stretch in &edge.finish {
                    add(index, number, stretch.from);
                    add(index, number, stretch.to);
                }
            }
        }
        let sides = || {
            let seams = self.garment.seams.iter();
            seams.flat_map(|seam| [&seam.a, &seam.b])
        };
        for stretch in sides().flatten() {
            if let Some((piece, edge)) = self.edge_of(stretch) {
                add(piece, edge, stretch.from);
                add(piece, edge, stretch.to);
            }
        }
        // Where one side of a seam is cut, the other is: so every segment has one mate. Three rounds reach what is sewn
        // to what is sewn.
        for _ in 0..3 {
            let mut changed = false;
            for seam in &self.garment.seams {
                for (side, other) in [(&seam.a, &seam.b), (&seam.b, &seam.a)] {
                    for share in self.cut_shares(side, &places) {
                        if let Some((piece, edge, at)) = self.at_share(other, share) {
                            let known = places.entry((piece, edge)).or_default();
                            let inside = (NEAR..=1.0 - NEAR).contains(&at);
                            if inside && !known.iter().any(|k| (k - at).abs() < NEAR) {
                                known.push(at);
                                known.sort_by(f64::total_cmp);
                                changed = true;
                            }
                        }
                    }
                }
            }
            if !changed {
                break;
            }
        }
        places
    }

    fn edge_of(&self, stretch: &Stretch) -> Option<(usize, usize)> {
        let pieces = &self.garment.pieces;
        let piece = pieces.iter().position(|p| p.name == stretch.piece)?;
        let edge = pieces.get(piece)?.outline.index_of(&stretch.edge)?;
        Some((piece, edge))
    }

    fn edge_length(&self, piece: usize, edge: usize) -> f64 {
        let lengths = self.lengths.get(piece).and_then(|list| list.get(edge));
        lengths.copied().unwrap_or(0.0)
    }

    fn length_of(&self, stretch: &Stretch) -> f64 {
        self.edge_of(stretch).map_or(0.0, |(piece, edge)| {
            self.edge_length(piece, edge) * (stretch.to - stretch.from).abs()
        })
    }

    /// Where along a side, as a share of its length, its edges are cut; the ends of its stretches too.
    fn cut_shares(
        &self,
        side: &[Stretch],
        places: &BTreeMap<(usize, usize), Vec<f64>>,
    ) -> Vec<f64> {
        let whole: f64 = side.iter().map(|s| self.length_of(s)).sum();
        if whole <= 0.0 {
            return Vec::new();
        }
        let (mut shares, mut before) = (Vec::new(), 0.0);
        for stretch in side {
            let length = self.length_of(stretch);
            if before > 0.0 {
                shares.push(before / whole);
            }
            let cuts = self.edge_of(stretch).and_then(|key| places.get(&key));
            for at in cuts.into_iter().flatten() {
                if let Some(along) = stretch.along(*at) {
                    shares.push((before + along * length) / whole);
                }
            }
            before += length;
        }
        shares
    }

    /// The place on a side at a share of its length.
    fn at_share(&self, side: &[Stretch], share: f64) -> Option<(usize, usize, f64)> {
        let whole: f64 = side.iter().map(|s| self.length_of(s)).sum();
        let mut left = share * whole;
        for stretch in side {
            let length = self.length_of(stretch);
            if left <= length && 0.0 < length {
                let (piece, edge) = self.edge_of(stretch)?;
                let at = stretch.from + (stretch.to - stretch.from) * left / length;
                return Some((piece, edge, at));
            }
            left -= length;
        }
        None
    }

    /// Does an edge lie between copies that are alike, or inside each: a side sewn to the next gore, the leg of a dart?
    fn is_between(&self, piece: &Piece, edge: &str, copy: &Copy) -> bool {
        let darts = piece.darts.iter();
        let on = |s: &Stretch| s.edge == edge;
        let mut seams = self.garment.seams.iter();
        darts
            .flat_map(|d| [&d.leg_in, &d.leg_out])
            .any(|leg| leg == edge)
            || seams.any(|seam| {
                joins(seam, &piece.name, copy) && (seam.a.iter().any(on) || seam.b.iter().any(on))
            })
    }

    /// How often a step on these segments of these copies is done: once for every copy that is alike, unless they lie side by
    /// side as one.
    pub(super) fn times(&self, cuts: &[usize], segments: &[usize]) -> usize {
        let along = segments.iter().filter_map(|s| self.segment(*s));
        if !segments.is_empty() && along.clone().all(|s| s.wide) {
            return 1;
        }
        let times = cuts
            .iter()
            .filter_map(|c| self.cuts.get(*c))
            .map(|c| c.times);
        times.min().unwrap_or(1)
    }

    /// Cuts the outline of one copy into segments, in the order in which they are met from outside, counter-clockwise.
    fn lay_out(&mut self, cut: usize, places: &BTreeMap<(usize, usize), Vec<f64>>, turned: bool) {
        let Some(of) = self.cuts.get(cut).cloned() else {
            return;
        };
        let Some(piece) = self.garment.pieces.get(of.piece) else {
            return;
        };
        let edges = piece.outline.edges();
        let fold = edges.iter().position(crate::edge::Edge::is_fold);
        // Edges in order, from the one after the fold to the one before it.
        let first = fold.map_or(0, |f| f + 1);
        let count = edges.len() - usize::from(fold.is_some());
        let order: Vec<usize> = (0..count)
            .map(|i| (first + i) % edges.len().max(1))
            .collect();
        let mut ring: Vec<Segment> = Vec::new();
        let mut add = |number: usize, mirrored: bool, turned: bool| {
            let Some(edge) = edges.get(number) else {
                return;
            };
            let mut at = vec![0.0];
            at.extend(places.get(&(of.piece, number)).into_iter().flatten());
            at.push(1.0);
            let wide = of.wide && !self.is_between(piece, &edge.name, &of.copy);
            let times = if wide { of.times as f64 } else { 1.0 };
            let whole = self.edge_length(of.piece, number) * times;
            let mut parts: Vec<Segment> = at
                .windows(2)
                .filter_map(|ends| match ends {
                    [from, to] => Some(Segment {
                        cut,
                        edge: number,
                        mirrored,
                        from: *from,
                        to: *to,
                        length: whole * (to - from),
                        finish: edge.finish_at(f64::midpoint(*from, *to)),
                        next: 0,
                        before: 0,
                        smooth: true,
                        wide,
                    }),
                    _ => None,
                })
                .collect();
            if turned {
                parts.reverse();
            }
            if let Some(start) = parts.first_mut() {
                // Smooth where the edge before runs on; the corner is the one the drawing has there.
                let neighbour = if turned {
                    number + 1
                } else {
                    number + edges.len() - 1
                };
                let other = edges.get(neighbour % edges.len().max(1));
                start.smooth = other.is_some_and(|other| {
                    if other.is_fold() {
                        return true;
                    }
                    let (before, after) = if turned { (edge, other) } else { (other, edge) };
                    let (end, start) = (before.line.direction(1.0), after.line.direction(0.0));
                    let lengths = end.hypot() * start.hypot();
                    SMOOTH * lengths < end.dot(start)
                });
            }
            ring.extend(parts);
        };
        for number in &order {
            add(*number, false, false);
        }
        if fold.is_some() {
            for number in order.iter().rev() {
                add(*number, true, true);
            }
        }
        if turned {
            let smooth: Vec<bool> = ring.iter().map(|s| s.smooth).collect();
            let count = ring.len();
            ring.reverse();
            for (i, segment) in ring.iter_mut().enumerate() {
                // The corner before it is now the one that was after it.
                let corner = (2 * count - i) % count.max(1);
                segment.smooth = smooth.get(corner).copied().unwrap_or(false);
            }
        }
        let (start, count) = (self.segments.len(), ring.len());
        for (i, mut segment) in ring.into_iter().enumerate() {
            segment.next = start + (i + 1) % count;
            segment.before = start + (i + count - 1) % count;
            let key = (cut, segment.mirrored, segment.edge);
            self.on_edge.entry(key).or_default().push(start + i);
            self.segments.push(segment);
        }
        for ((of, ..), list) in &mut self.on_edge {
            if *of == cut {
                list.sort_by(|a, b| {
                    let from = |i: &usize| self.segments.get(*i).map_or(0.0, |s| s.from);
                    from(a).total_cmp(&from(b))
                });
            }
        }
    }
}
