//! A fitting follows: what was chosen about single pieces, edges and seams, and its own work by hand.

use std::collections::BTreeMap;

use super::Carried;
use crate::edge::EdgeRef;
use crate::fitting::Fitting;
use crate::garment::Garment;
use crate::units::Mm;

impl Carried {
    /// A fitting whose choices about pieces, edges and seams have followed; `None` when nothing in it changes.
    ///
    /// Every piece that one became keeps its choices, every edge its allowance. Choices about what is gone wait, in case
    /// it comes back.
    pub fn fitting(&self, fitting: &Fitting) -> Option<Fitting> {
        if *self == Self::default() {
            return None;
        }
        let mut next = fitting.clone();
        next.shaping = self.by_piece(&fitting.shaping);
        next.detail_of = self.by_piece(&fitting.detail_of);
        next.demands = by_name(&fitting.demands, |name| self.seam(name));
        next.allowances.single = self.widths(&fitting.allowances.single);
        for (edge, width) in &fitting.allowances.single {
            if self.bits(edge).is_empty() {
                next.allowances.single.insert(edge.clone(), *width);
            }
        }
        let done = fitting.making.done.iter();
        next.making.done = done
            .flat_map(|step| match self.seam(step) {
                names if names.is_empty() => vec![step.clone()],
                names => names,
            })
            .collect();
        next.laying.pieces = self.by_piece(&fitting.laying.pieces);
        if let Some(plan) = &mut next.lay_plan {
            let placed = plan.placed.iter_mut().map(|placed| &mut placed.piece);
            let pieced = plan
                .piecings
                .iter_mut()
                .map(|piecing| &mut piecing.of.piece);
            let chosen = plan.chosen.iter_mut().map(|of| &mut of.piece);
            for name in placed.chain(pieced).chain(chosen) {
                if let [only] = self.piece(name).as_slice() {
                    name.clone_from(only);
                }
            }
        }
        for alteration in &mut next.alterations {
            self.step(alteration);
        }
        (next != *fitting).then_some(next)
    }

    /// Allowances of single edges on a garment made by a fitting's own work: those of its source follow, and what was
    /// chosen for an edge that the work made comes before what that edge would get from its source.
    pub(crate) fn made_widths(
        &self,
        single: &BTreeMap<EdgeRef, Mm>,
        source: &Garment,
    ) -> BTreeMap<EdgeRef, Mm> {
        let on_source = |at: &EdgeRef| {
            let piece = source.piece(&at.piece);
            piece.is_some_and(|piece| piece.outline.edge(&at.edge).is_some())
        };
        let (old, own): (BTreeMap<_, _>, BTreeMap<_, _>) = single
            .iter()
            .map(|(at, width)| (at.clone(), *width))
            .partition(|(at, _)| on_source(at));
        let mut now = self.widths(&old);
        now.extend(own);
        now
    }

    fn by_piece<V: Clone>(&self, choices: &BTreeMap<String, V>) -> BTreeMap<String, V> {
        by_name(choices, |name| self.piece(name))
    }
}

/// Choices under the names that theirs became; those about what is gone stay.
fn by_name<V: Clone>(
    choices: &BTreeMap<String, V>,
    now: impl Fn(&str) -> Vec<String>,
) -> BTreeMap<String, V> {
    let mut next = BTreeMap::new();
    for (name, choice) in choices {
        let names = now(name);
        if names.is_empty() {
            next.insert(name.clone(), choice.clone());
        }
        for name in names {
            next.insert(name, choice.clone());
        }
    }
    next
}
