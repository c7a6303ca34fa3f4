//! Tape lines: girths, lengths, and each piece's share of them.
#![allow(
    clippy::indexing_slicing,
    reason = "block, edge and point indices are looked up in the same chain"
)]

use super::{Asker, Demand, Problem, Setup, rank};
use crate::adapt::AdaptError;
use crate::adapt::rules::Term;
use crate::adapt::targets::{TapeTarget, closing, detail_ratio, times};
use crate::edge::OutlinePoint;
use crate::tape::{Hold, TapeKind, TapeLine, TapePart, TapePath};

impl Problem {
    pub(super) fn tape_rules(
        &mut self,
        setup: &Setup<'_>,
        tape: &TapeLine,
        target: &TapeTarget,
    ) -> Result<(), AdaptError> {
        let rank = match (
            setup.fitting.demands.get(&tape.name).and_then(|c| c.rank),
            tape.kind,
        ) {
            (Some(rank), _) => rank,
            (None, TapeKind::Girth) => rank::GIRTH,
            (None, TapeKind::Length) => rank::LENGTH,
        };
        let detail = detail_ratio(setup.garment, setup.fitting, None);
        let wanted_sum = target.target + closing(tape) * detail;
        let source_sum: f64 = tape
            .parts
            .iter()
            .zip(&target.parts)
            .map(|(part, v)| v * times(tape, part, setup.pieces))
            .sum();
        let mut all = Vec::new();
        let mut single = Vec::new();
        for part in &tape.parts {
            let times = times(tape, part, setup.pieces);
            let terms = self.path(setup, tape, &part.piece, &part.path)?;
            all.extend(terms.iter().map(|(f, t)| (times * f, *t)));
            single.push(terms);
        }
        let demand = Some(Demand {
            from: Asker::Tape,
            name: tape.name.clone(),
            rank,
            wanted: target.target,
            piece: None,
        });
        self.add(demand, rank, all, wanted_sum);
        if tape.parts.len() < 2 || source_sum.abs() < 1e-9 {
            return Ok(());
        }
        // Where parts have tape lines of their own, those tell the shares.
        let settled = |part: &TapePart| {
            let mut others = setup.garment.tape_lines.iter().zip(setup.tapes);
            others.any(|(other, t)| {
                t.hold == Hold::Fitted && other.parts.as_slice() == std::slice::from_ref(part)
            })
        };
        if tape.parts.iter().any(settled) {
            return Ok(());
        }
        for ((part, terms), source) in tape.parts.iter().zip(single).zip(&target.parts) {
            let share = source * wanted_sum / source_sum;
            let demand = Some(Demand {
                from: Asker::Shape,
                name: format!("{}: share", tape.name),
                rank: rank::SHARE,
                wanted: share,
                piece: Some(part.piece.clone()),
            });
            self.add(demand, rank::SHARE, terms, share);
        }
        Ok(())
    }

    /// Terms of one part of a tape line.
    pub(super) fn path(
        &self,
        setup: &Setup<'_>,
        tape: &TapeLine,
        piece: &str,
        path: &TapePath,
    ) -> Result<Vec<(f64, Term)>, AdaptError> {
        let missing = |what: &str| {
            AdaptError::BadReference(format!(
                "tape line {}: {piece}, {what} is not there; take it out of the tape line or rename it",
                tape.name
            ))
        };
        let index = setup
            .pieces
            .iter()
            .position(|p| p.name == piece)
            .ok_or_else(|| missing("the piece"))?;
        let place = |p: &OutlinePoint| {
            self.site(index, &setup.pieces[index], p)
                .ok_or_else(|| missing(&p.edge))
        };
        match path {
            TapePath::Along { edge, from, to } => {
                let at = setup.pieces[index]
                    .outline
                    .index_of(edge)
                    .ok_or_else(|| missing(edge))?;
                Ok(self.arcs(
                    index,
                    at,
                    &setup.pieces[index],
                    from.min(*to),
                    from.max(*to),
                    1.0,
                ))
            }
            TapePath::Across(a, b) => {
                let (a, b) = (place(a)?, place(b)?);
                let sign = if self.source_point(&b).x >= self.source_point(&a).x {
                    1.0
                } else {
                    -1.0
                };
                Ok(vec![(sign, Term::X(b)), (-sign, Term::X(a))])
            }
            TapePath::Upright(a, b) => {
                let (a, b) = (place(a)?, place(b)?);
                let sign = if self.source_point(&b).y >= self.source_point(&a).y {
                    1.0
                } else {
                    -1.0
                };
                Ok(vec![(sign, Term::Y(b)), (-sign, Term::Y(a))])
            }
        }
    }
}
