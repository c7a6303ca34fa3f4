//! The garment with every accepted proposal in it.

use std::sync::Arc;

use super::answers::Answers;
use super::levels::Spot;
use super::named::{Naming, namings};
use super::opening::Opened;
use super::plan::{GIRTHS_ONLY, Plan, TAPES, frame, lines_key};
use super::read::Read;
use super::reading::piece_key;
use super::sewing::{Run, Sewn};
use super::sides::Bit;
use super::taping::{Path, Taped};
use super::upright::turned_piece;
use super::wearer;
use super::what::Cut;
use crate::edge::{EdgeRef, OutlinePoint};
use crate::garment::{Garment, Opening};
use crate::piece::{BodyLine, Copy, Piece, Role as Layer, Side};
use crate::seams::{Relation, Seam, SeamKind, Stretch};
use crate::tape::{TapeKind, TapeLine, TapePart, TapePath};
use crate::units::Mm;

/// A garment on its way to being ready.
pub(super) struct Made<'a> {
    plan: &'a Plan,
    pub(super) source: &'a Garment,
    /// Names and direction of every piece's edges now; `taken` where its proposal was accepted.
    names: Vec<Naming>,
    pub(super) garment: Garment,
}

/// Puts everything that was accepted into the garment.
pub(super) fn made(garment: &Garment, plan: &Plan, answers: &Answers) -> Garment {
    let accepted = |i: usize, piece: &Piece| {
        plan.read(i).is_some() && answers.way(&piece_key(&piece.name)).is_some()
    };
    let taken: Vec<bool> = garment
        .pieces
        .iter()
        .enumerate()
        .map(|(i, piece)| accepted(i, piece))
        .collect();
    let mut made = Made {
        plan,
        source: garment,
        names: namings(garment, plan, &taken),
        garment: garment.clone(),
    };
    made.pieces();
    made.renamed_references();
    for seam in &plan.seams {
        let wanted = match seam.of_band {
            Some(band) => taken.get(band).copied().unwrap_or(false),
            None => answers.way(&seam.key).is_some(),
        };
        if wanted {
            made.sew(seam);
        }
    }
    made.body(answers);
    made.lines(answers);
    made.tapes(answers);
    for opening in &plan.openings {
        if answers.way(&opening.key).is_some() {
            made.open(opening);
        }
    }
    made.hems();
    made.garment
}

pub(super) fn piece_now(garment: &mut Garment, at: usize) -> Option<&mut Piece> {
    garment.pieces.get_mut(at).map(Arc::make_mut)
}

impl Made<'_> {
    pub(super) fn naming(&self, piece: usize) -> Option<&Naming> {
        self.names.get(piece)
    }

    pub(super) fn taken(&self, piece: usize) -> Option<&Read> {
        self.naming(piece).filter(|naming| naming.taken)?;
        self.plan.read(piece)
    }

    /// Turned upright, named, folded, its copies and its part of the body.
    fn pieces(&mut self) {
        for (i, piece) in self.source.pieces.iter().enumerate() {
            let Some(read) = self.taken(i) else { continue };
            let Some(naming) = self.naming(i) else {
                continue;
            };
            let next = turned_piece(piece, read, naming);
            match next {
                Some(next) => {
                    if let Some(slot) = self.garment.pieces.get_mut(i) {
                        *slot = Arc::new(next);
                    }
                }
                // An outline that cannot be turned stays as it was drawn.
                None => {
                    if let Some(naming) = self.names.get_mut(i) {
                        *naming = Naming::as_it_is(piece);
                    }
                }
            }
        }
    }

    /// What named the pieces and edges before names them still.
    fn renamed_references(&mut self) {
        let index = |name: &str| {
            self.source
                .pieces
                .iter()
                .position(|piece| piece.name == name)
        };
        let names = &self.names;
        let find = |piece: &str, edge: &str| -> Option<(&Naming, usize)> {
            let i = index(piece)?;
            let at = self.source.pieces.get(i)?.outline.index_of(edge)?;
            Some((names.get(i)?, at))
        };
        let garment = &mut self.garment;
        for stretch in garment
            .seams
            .iter_mut()
            .flat_map(|seam| seam.a.iter_mut().chain(&mut seam.b))
        {
            let Some((naming, at)) = find(&stretch.piece, &stretch.edge) else {
                continue;
            };
            (stretch.from, stretch.to) =
                (naming.fraction(stretch.from), naming.fraction(stretch.to));
            stretch.edge = naming.edge(at);
            stretch.piece.clone_from(&naming.piece);
            if let Some(copy) = naming.copies.as_ref().and_then(|copies| copies.first()) {
                stretch.copy = *copy;
            }
        }
        for part in garment
            .tape_lines
            .iter_mut()
            .flat_map(|tape| &mut tape.parts)
        {
            let piece = part.piece.clone();
            let point = |at: &mut OutlinePoint| {
                if let Some((naming, edge)) = find(&piece, &at.edge) {
                    *at = OutlinePoint::new(naming.edge(edge), naming.fraction(at.fraction));
                }
            };
            match &mut part.path {
                TapePath::Along { edge, from, to } => {
                    if let Some((naming, at)) = find(&piece, edge) {
                        *edge = naming.edge(at);
                        (*from, *to) = (naming.fraction(*from), naming.fraction(*to));
                    }
                }
                TapePath::Across(a, b) | TapePath::Upright(a, b) => {
                    point(a);
                    point(b);
                }
            }
            if let Some(naming) = index(&piece).and_then(|i| names.get(i)) {
                part.piece.clone_from(&naming.piece);
            }
        }
        let renamed = |at: &EdgeRef| match find(&at.piece, &at.edge) {
            Some((naming, edge)) => EdgeRef::new(&naming.piece, naming.edge(edge)),
            None => at.clone(),
        };
        for at in garment
            .openings
            .iter_mut()
            .flat_map(|o| o.hole.iter_mut().chain(&mut o.slit))
        {
            *at = renamed(at);
        }
        garment.included_allowance = garment
            .included_allowance
            .iter()
            .map(|(at, width)| (renamed(at), *width))
            .collect();
    }

    pub(super) fn bit(&self, piece: usize, bit: Bit) -> Option<(&Naming, String, f64, f64)> {
        let naming = self.naming(piece)?;
        Some((
            naming,
            naming.edge(bit.edge),
            naming.fraction(bit.from),
            naming.fraction(bit.to),
        ))
    }

    fn copy(&self, piece: usize, layer: Layer, left: bool) -> Option<Copy> {
        let copies = &self.garment.pieces.get(piece)?.copies;
        let wanted = if left { Side::Left } else { Side::Right };
        let of = |side: Side| {
            copies
                .iter()
                .find(|copy| copy.role == layer && copy.side == side)
        };
        of(wanted)
            .or_else(|| of(Side::Whole))
            .or_else(|| of(Side::Right))
            .copied()
    }

    fn stretches(
        &self,
        run: &Run,
        layer: Layer,
        left: impl Fn(usize) -> bool,
    ) -> Option<Vec<Stretch>> {
        run.iter()
            .enumerate()
            .map(|(n, (piece, bit))| {
                let (naming, edge, from, to) = self.bit(*piece, *bit)?;
                Some(Stretch {
                    piece: naming.piece.clone(),
                    copy: self.copy(*piece, layer, left(n))?,
                    edge,
                    from,
                    to,
                })
            })
            .collect()
    }

    /// Sews a seam in every layer that all its pieces have.
    fn sew(&mut self, seam: &Sewn) {
        for layer in [
            Layer::Shell,
            Layer::Lining,
            Layer::Interlining,
            Layer::FlatLined,
        ] {
            let whole = seam
                .of_band
                .and_then(|band| self.taken(band))
                .is_some_and(|read| read.cut == Cut::Once);
            let half = seam.b.len() / 2;
            let (a, b) = (
                self.stretches(&seam.a, layer, |_| false),
                self.stretches(&seam.b, layer, |n| seam.is_centre || (whole && n < half)),
            );
            let (Some(a), Some(b)) = (a, b) else { continue };
            if seam.is_centre && a.iter().zip(&b).any(|(x, y)| x.copy == y.copy) {
                continue;
            }
            let name = match layer {
                Layer::Shell => seam.name.clone(),
                Layer::Lining => format!("{}, lining", seam.name),
                Layer::Interlining => format!("{}, interlining", seam.name),
                Layer::FlatLined => format!("{}, flat lining", seam.name),
            };
            let taken: Vec<&String> = self.garment.seams.iter().map(|seam| &seam.name).collect();
            let name = unique(&name, |name| taken.iter().any(|other| *other == name));
            let relation = match self.plan.relation(seam) {
                Relation::Eased(by) => Relation::Eased(Mm(by.0.clamp(-1000.0, 1000.0))),
                other => other,
            };
            self.garment.seams.push(Seam {
                name,
                a,
                b,
                mirrored: !seam.is_centre && !whole,
                relation,
                kind: SeamKind::Plain,
                inserts: Vec::new(),
            });
        }
    }

    fn body(&mut self, answers: &Answers) {
        let way = answers.way(wearer::KEY);
        let chosen = self
            .plan
            .wearers
            .iter()
            .find(|wearer| Some(wearer.key.as_str()) == way);
        if let Some(wearer) = chosen {
            self.garment.made_for = wearer.body.clone();
        }
    }

    fn point(&self, piece: usize, spot: Spot) -> Option<OutlinePoint> {
        let naming = self.naming(piece)?;
        Some(OutlinePoint::new(
            naming.edge(spot.edge),
            naming.fraction(spot.at),
        ))
    }

    fn lines(&mut self, answers: &Answers) {
        for line in &self.plan.levels {
            let Some(frame) = self.taken(line.piece).and_then(frame) else {
                continue;
            };
            if answers.way(&lines_key(frame)).is_none() {
                continue;
            }
            let ends = self
                .point(line.piece, line.from)
                .zip(self.point(line.piece, line.to));
            let Some((from, to)) = ends else { continue };
            if let Some(piece) = piece_now(&mut self.garment, line.piece) {
                piece.body_lines.push(BodyLine {
                    level: line.level,
                    from,
                    to,
                });
            }
        }
    }

    fn tapes(&mut self, answers: &Answers) {
        let Some(way) = answers.way(TAPES) else {
            return;
        };
        for tape in &self.plan.tapes {
            if way == GIRTHS_ONLY && tape.kind == TapeKind::Length {
                continue;
            }
            if let Some(tape) = self.tape(tape) {
                self.garment.tape_lines.push(tape);
            }
        }
    }

    /// A tape line, when every piece it lies on is there as it was read.
    fn tape(&self, tape: &Taped) -> Option<TapeLine> {
        let parts: Option<Vec<TapePart>> = tape
            .parts
            .iter()
            .map(|(piece, path)| {
                self.taken(*piece)?;
                let path = match path {
                    Path::Along(bit) => {
                        let (_, edge, from, to) = self.bit(*piece, *bit)?;
                        TapePath::Along {
                            edge,
                            from: from.min(to),
                            to: from.max(to),
                        }
                    }
                    Path::Across(a, b) => {
                        TapePath::Across(self.point(*piece, *a)?, self.point(*piece, *b)?)
                    }
                    Path::Upright(a, b) => {
                        TapePath::Upright(self.point(*piece, *a)?, self.point(*piece, *b)?)
                    }
                };
                Some(TapePart {
                    piece: self.naming(*piece)?.piece.clone(),
                    path,
                })
            })
            .collect();
        let taken: Vec<&String> = self
            .garment
            .tape_lines
            .iter()
            .map(|tape| &tape.name)
            .collect();
        Some(TapeLine {
            name: unique(&tape.name, |name| taken.iter().any(|other| *other == name)),
            measure: tape.measure,
            share: tape.share,
            kind: tape.kind,
            parts: parts?,
            hold: tape.hold,
            overlap: Mm(tape.overlap.clamp(0.0, 1000.0)),
            lacing_gap: Mm(0.0),
        })
    }

    fn open(&mut self, opening: &Opened) {
        let edges = |run: &Run| -> Vec<EdgeRef> {
            let mut all: Vec<EdgeRef> = Vec::new();
            for (piece, bit) in run {
                let Some((naming, edge, ..)) = self.bit(*piece, *bit) else {
                    continue;
                };
                let at = EdgeRef::new(&naming.piece, edge);
                if !all.contains(&at) {
                    all.push(at);
                }
            }
            all
        };
        let (hole, slit) = (edges(&opening.hole), edges(&opening.slit));
        let taken: Vec<&String> = self
            .garment
            .openings
            .iter()
            .map(|opening| &opening.name)
            .collect();
        self.garment.openings.push(Opening {
            name: unique(&opening.name, |name| {
                taken.iter().any(|other| *other == name)
            }),
            hole,
            slit,
            passes: opening.passes,
        });
        for (piece, bit) in &opening.slit {
            self.face(*piece, bit.edge);
        }
    }
}

/// The name itself, or with the first number that makes it one of its own.
pub(super) fn unique(name: &str, is_taken: impl Fn(&str) -> bool) -> String {
    if !is_taken(name) {
        return name.to_owned();
    }
    (2..10_000_u32)
        .map(|n| format!("{name} {n}"))
        .find(|name| !is_taken(name))
        .unwrap_or_else(|| name.to_owned())
}
