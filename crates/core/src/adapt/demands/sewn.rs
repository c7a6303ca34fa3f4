//! Seams: what is sewn together keeps fitting.
#![allow(
    clippy::indexing_slicing,
    reason = "block, edge and point indices are looked up in the same chain"
)]

use super::{Asker, Demand, Problem, Setup, rank};
use crate::adapt::AdaptError;
use crate::adapt::rules::Term;
use crate::seams::{Relation, Seam, Stretch};
use crate::tolerance::JOINING;

impl Problem {
    pub(super) fn seam_rule(&mut self, setup: &Setup<'_>, seam: &Seam) -> Result<(), AdaptError> {
        let (a, length_a) = self.side(setup, seam, &seam.a, 1.0)?;
        let (b, length_b) = self.side(setup, seam, &seam.b, 1.0)?;
        // Ease and gathers stay in proportion to what the source really has.
        let times = match seam.relation {
            Relation::Equal if (length_a - length_b).abs() <= JOINING.0 => 1.0,
            Relation::Ratio(ratio)
                if (length_a / length_b.max(1e-9) - ratio).abs() < 0.01 * ratio =>
            {
                ratio
            }
            Relation::Equal | Relation::Eased(_) | Relation::Ratio(_) => {
                length_a / length_b.max(1e-9)
            }
        };
        let mut terms = a;
        terms.extend(b.into_iter().map(|(f, t)| (-times * f, t)));
        let terms = gathered(terms);
        if terms.is_empty()
            || self
                .rules
                .iter()
                .any(|r| r.rank == rank::SEAM && (r.terms == terms || negated(&r.terms, &terms)))
        {
            return Ok(());
        }
        let rank = setup
            .fitting
            .demands
            .get(&seam.name)
            .and_then(|c| c.rank)
            .unwrap_or(rank::SEAM);
        let demand = Some(Demand {
            from: Asker::Seam,
            name: seam.name.clone(),
            rank,
            wanted: 0.0,
            piece: None,
        });
        self.add(demand, rank, terms, 0.0);
        Ok(())
    }

    /// Arcs of one side of a seam, and its length on the source.
    pub(super) fn side(
        &self,
        setup: &Setup<'_>,
        seam: &Seam,
        side: &[Stretch],
        factor: f64,
    ) -> Result<(Vec<(f64, Term)>, f64), AdaptError> {
        let (mut terms, mut length) = (Vec::new(), 0.0);
        for stretch in side {
            let missing = || {
                AdaptError::BadReference(format!(
                    "seam {}: {}, {} is not there; take it out of the seam or rename it",
                    seam.name, stretch.piece, stretch.edge
                ))
            };
            let index = setup
                .pieces
                .iter()
                .position(|p| p.name == stretch.piece)
                .ok_or_else(missing)?;
            let edge = setup.pieces[index]
                .outline
                .index_of(&stretch.edge)
                .ok_or_else(missing)?;
            let (from, to) = (stretch.from.min(stretch.to), stretch.from.max(stretch.to));
            let arcs = self.arcs(index, edge, &setup.pieces[index], from, to, factor);
            // Measured as the solver measures, so that the source fits its own seam to the last bits.
            let block = &self.blocks[index];
            length += arcs
                .iter()
                .map(|(_, term)| term.length(block, &block.source))
                .sum::<f64>();
            terms.extend(arcs);
        }
        Ok((terms, length))
    }
}

/// Terms with equal arcs put together; what cancels is dropped (a seam of an edge with its own mirror image).
fn gathered(terms: Vec<(f64, Term)>) -> Vec<(f64, Term)> {
    let mut out: Vec<(f64, Term)> = Vec::with_capacity(terms.len());
    for (factor, term) in terms {
        match out.iter_mut().find(|(_, t)| *t == term) {
            Some((sum, _)) => *sum += factor,
            None => out.push((factor, term)),
        }
    }
    out.retain(|(factor, _)| factor.abs() > 1e-12);
    out
}

fn negated(a: &[(f64, Term)], b: &[(f64, Term)]) -> bool {
    a.len() == b.len()
        && a.iter()
            .all(|(f, t)| b.iter().any(|(g, u)| t == u && (f + g).abs() < 1e-12))
}
