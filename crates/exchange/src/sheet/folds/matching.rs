//! Marks that match when a drawn-in edge is sewn to its band: the same letter on the cloth and on the band.

use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::finish::Finished;
use petitoile_core::kurbo::{BezPath, Point};
use petitoile_core::piece::Piece;
use petitoile_core::seams::{self, Seam, side_length};

use super::Stretch;
use crate::drawing::{Item, Layer};

/// Where the marks stand, as shares of the sewn stretch.
const SHARES: [f64; 3] = [0.25, 0.5, 0.75];

/// How far a mark runs from the stitch line into the piece, mm.
const LONG: f64 = 2.2;

/// Size of its letter, mm.
const SIZE: f64 = 1.8;

/// All matching marks that stand on one piece: those of its own fullness, and those of what is sewn to it.
pub(super) fn on_piece(finished: &Finished, at: usize) -> Vec<Item> {
    let mut items = Vec::new();
    let mut letter = 0;
    for (piece, _, stretch) in super::stretches(finished) {
        let mates = mates(finished, &stretch);
        if mates.is_empty() {
            continue;
        }
        for share in SHARES {
            if piece == at {
                let fraction = stretch.op.from + share * (stretch.op.to - stretch.op.from);
                items.extend(mark(finished, at, &stretch.op.edge, fraction, letter));
            }
            for seam in &mates {
                let Some((mate, edge, fraction)) = seam.opposite(finished, share) else {
                    continue;
                };
                if mate == at {
                    items.extend(mark(finished, at, &edge, fraction, letter));
                }
            }
            letter += 1;
        }
    }
    items
}

/// The stretch of fullness in a seam: distances on its side of the seam.
struct Sewn<'a> {
    seam: &'a Seam,
    is_a: bool,
    from: f64,
    to: f64,
    whole: f64,
}

/// The seams in which all of a stretch is sewn.
fn mates<'a>(finished: &'a Finished, stretch: &Stretch<'_>) -> Vec<Sewn<'a>> {
    let adapted = &finished.filled.adapted;
    let pieces = &adapted.pieces;
    let mut found = Vec::new();
    for seam in &adapted.made.seams {
        for (side, is_a) in [(&seam.a, true), (&seam.b, false)] {
            let Ok(whole) = side_length(side, pieces) else {
                continue;
            };
            let mut before = 0.0;
            for part in side {
                let long = part.length(pieces).map_or(0.0, |mm| mm.0);
                let is_here = part.piece == stretch.sewn.name && part.edge == stretch.op.edge;
                let ends = (part.along(stretch.op.from), part.along(stretch.op.to));
                if let (true, (Some(from), Some(to))) = (is_here, ends) {
                    found.push(Sewn {
                        seam,
                        is_a,
                        from: before + from * long,
                        to: before + to * long,
                        whole: whole.0,
                    });
                }
                before += long;
            }
        }
    }
    found
}

impl Sewn<'_> {
    /// Piece, edge and fraction on the other side of the seam, for a share of the sewn stretch.
    fn opposite(&self, finished: &Finished, share: f64) -> Option<(usize, String, f64)> {
        let pieces = &finished.filled.adapted.pieces;
        let side: &[seams::Stretch] = if self.is_a {
            &self.seam.b
        } else {
            &self.seam.a
        };
        let whole = side_length(side, pieces).ok()?;
        let here = (self.from + share * (self.to - self.from)) / self.whole.max(1e-9);
        let mut rest = here * whole.0;
        for part in side {
            let long = part.length(pieces).ok()?.0;
            if rest <= long + 1e-6 {
                let along = (rest / long.max(1e-9)).clamp(0.0, 1.0);
                let piece = pieces.iter().position(|p| p.name == part.piece)?;
                let fraction = part.from + along * (part.to - part.from);
                return Some((piece, part.edge.clone(), fraction));
            }
            rest -= long;
        }
        None
    }
}

/// A stroke inwards from the stitch line with its letter, at a fraction of the sewn edge.
fn mark(finished: &Finished, at: usize, edge: &str, fraction: f64, letter: u32) -> Vec<Item> {
    let Some((point, inwards)) = on_cloth(finished, at, edge, fraction) else {
        return Vec::new();
    };
    let mut path = BezPath::new();
    path.move_to(point);
    path.line_to(point + inwards * LONG);
    let words = point + inwards * (LONG + 0.7 * SIZE) - (0.0, 0.36 * SIZE);
    vec![
        Item::stroke(Layer::Marks, path, 0.35),
        Item::text(Layer::Marks, words, SIZE, lettered(letter)).centred(),
    ]
}

/// a, b, c; after z: a1, b1.
fn lettered(number: u32) -> String {
    let letter = char::from(b'a' + (number % 26) as u8);
    match number / 26 {
        0 => letter.to_string(),
        round => format!("{letter}{round}"),
    }
}

/// Where a fraction of a sewn edge lies on the cloth, and the direction into the piece.
fn on_cloth(
    finished: &Finished,
    at: usize,
    edge: &str,
    fraction: f64,
) -> Option<(Point, petitoile_core::kurbo::Vec2)> {
    let sewn: &Arc<Piece> = finished.filled.adapted.pieces.get(at)?;
    let cut: &Arc<Piece> = finished.filled.pieces.get(at)?;
    let line = &cut.outline.edge(edge)?.line;
    let place = cloth_fraction(sewn, cut, edge, fraction);
    Some((line.at(place), line.direction(place).turn_90()))
}

/// The fraction of the cut edge that comes to lie at a fraction of the sewn one. Uppermost cloth, where it is folded.
fn cloth_fraction(sewn: &Piece, cut: &Piece, edge: &str, fraction: f64) -> f64 {
    let (mut low, mut high) = ((0.0, 0.0), (1.0, 1.0));
    for (op, spread) in sewn.fullness.iter().zip(&cut.fullness) {
        if op.edge != edge {
            continue;
        }
        let inside = op.from <= fraction && fraction <= op.to && op.from < op.to;
        let length = sewn.outline.edge(edge).map_or(0.0, |e| e.line.length());
        if inside && op.fullness.checked().is_ok() {
            let folded = op.folded(Mm(length * (op.to - op.from)));
            let there = Mm((fraction - op.from) * length);
            let share = if folded.pleats.is_empty() {
                there.0 / folded.finished.0
            } else {
                folded.cloth_at(there).0 / folded.cloth.0
            };
            return spread.from + share * (spread.to - spread.from);
        }
        for (before, after) in [(op.from, spread.from), (op.to, spread.to)] {
            if before <= fraction && low.0 <= before {
                low = (before, after);
            }
            if fraction <= before && before <= high.0 {
                high = (before, after);
            }
        }
    }
    let share = (fraction - low.0) / (high.0 - low.0).max(1e-12);
    low.1 + share * (high.1 - low.1)
}
