//! Pieces in blocks of their own that lie on each other, as files of the apparel practice hold them: taken apart before
//! they are recognised, put back afterwards.

use std::collections::BTreeMap;

use petitoile_core::kurbo::{Affine, Point, Rect, Shape, Vec2};
use petitoile_core::piece::Piece;

use super::super::FoundSheet;
use super::super::found::Meaning;
use super::types::{Recognised, Thing};

/// Room between blocks that were taken apart, mm.
const ROOM: f64 = 50.0;

/// By how much each block was moved.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Apart {
    /// The sheet with its blocks beside each other.
    pub sheet: FoundSheet,
    moved: BTreeMap<String, Vec2>,
}

impl Apart {
    /// Takes the blocks of a sheet apart; `None` where no block with a cut line lies on another.
    pub fn of(sheet: &FoundSheet) -> Option<Self> {
        let mut bounds: BTreeMap<&str, (Rect, bool)> = BTreeMap::new();
        for line in &sheet.lines {
            let Some(block) = line.groups.first() else {
                continue;
            };
            let at = line.path.bounding_box();
            if !at.is_finite() {
                return None;
            }
            let is_cut = line.meaning == Some(Meaning::CutLine);
            let entry = bounds.entry(block).or_insert((at, false));
            *entry = (entry.0.union(at), entry.1 || is_cut);
        }
        let mut pieces: Vec<(&str, Rect)> = bounds
            .iter()
            .filter(|b| b.1.1)
            .map(|(name, b)| (*name, b.0))
            .collect();
        pieces.sort_by(|a, b| a.1.x0.total_cmp(&b.1.x0).then(a.0.cmp(b.0)));
        let mut reach = f64::NEG_INFINITY;
        let mut widest: Vec<Rect> = Vec::new();
        let overlap = pieces.iter().any(|(_, b)| {
            let hits = b.x0 < reach && widest.iter().any(|o| o.intersect(*b).area() > 0.0);
            reach = reach.max(b.x1);
            widest.retain(|o| o.x1 > b.x0);
            widest.push(*b);
            hits
        });
        if !overlap {
            return None;
        }
        let all = sheet.bounds.union(
            pieces
                .iter()
                .map(|p| p.1)
                .reduce(|a, b| a.union(b))
                .unwrap_or(sheet.bounds),
        );
        let mut x = all.x1 + ROOM;
        let mut moved = BTreeMap::new();
        for (name, b) in pieces {
            moved.insert(name.to_owned(), Vec2::new(x - b.x0, 0.0));
            x += b.width() + ROOM;
        }
        let mut apart = Self {
            sheet: sheet.clone(),
            moved,
        };
        let by = |groups: &[String]| {
            let block = groups.first()?;
            apart.moved.get(block).copied()
        };
        for line in &mut apart.sheet.lines {
            if let Some(by) = by(&line.groups) {
                line.path = Affine::translate(by) * line.path.clone();
            }
        }
        for text in &mut apart.sheet.texts {
            text.at += by(&text.groups).unwrap_or_default();
        }
        for point in &mut apart.sheet.points {
            point.at += by(&point.groups).unwrap_or_default();
        }
        Some(apart)
    }

    /// By how much a thing was moved.
    fn by(&self, thing: Thing) -> Vec2 {
        let groups = match thing {
            Thing::Line(i) => self.sheet.lines.get(i).map(|l| &l.groups),
            Thing::Text(i) => self.sheet.texts.get(i).map(|t| &t.groups),
            Thing::Point(i) => self.sheet.points.get(i).map(|p| &p.groups),
        };
        let block = groups.and_then(|g| g.first());
        block
            .and_then(|b| self.moved.get(b))
            .copied()
            .unwrap_or_default()
    }

    /// Puts everything back to where it lies on the sheet.
    pub fn back(&self, mut found: Recognised) -> Recognised {
        for piece in &mut found.pieces {
            let by = -self.by(Thing::Line(piece.id.0));
            if let Some(moved) = moved(&piece.piece, by) {
                piece.piece = moved;
            }
            piece.at = piece.at + by;
        }
        for guess in &mut found.guesses {
            if let Some(piece) = guess.piece {
                guess.at -= self.by(Thing::Line(piece.0));
            }
        }
        for left in &mut found.left {
            left.at = left.at - self.by(left.thing);
        }
        found
    }
}

/// A piece moved as a whole.
fn moved(piece: &Piece, by: Vec2) -> Option<Piece> {
    let lines = piece
        .outline
        .edges()
        .iter()
        .map(|e| e.line.mapped(|p| p + by))
        .collect();
    let mut out = piece.clone();
    out.outline = piece.outline.with_lines(lines).ok()?;
    for mark in &mut out.marks {
        mark.kind = mark.kind.moved(by);
    }
    let along = |p: Point| p + by;
    out.grainline = piece.grainline.map(|(a, b)| (along(a), along(b)));
    Some(out)
}
