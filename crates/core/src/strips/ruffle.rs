//! Tiers, and gathers turned into pleats for the same cloth.

use super::wrong::{Bounds, FULLEST, LONGEST, NARROWEST, NEAR, Unmade, Wrong};
use crate::fullness::{Fullness, Kind, Layout, Solved, Unsolved, Wanted, solve};
use crate::units::Mm;

/// One tier of a tiered skirt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tier {
    /// Length of the edge above that it is sewn to.
    pub finished: Mm,
    /// Length of the tier before it is drawn in.
    pub cloth: Mm,
}

/// What is asked of tiers.
#[derive(Debug, Clone, PartialEq)]
pub struct TiersWanted {
    /// Length of the edge above the first.
    pub edge: Mm,
    /// Of each tier, how many times as long it is as what it is sewn to.
    pub ratios: Vec<f64>,
}

/// Tiers below an edge of this length: each as many times as long as the one above it as its ratio says.
///
/// # Errors
/// [`Unmade`] for an edge that is none, a tier shorter or much longer than what it is sewn to, and for more cloth than 100 m.
///
/// # Source
/// The next tier takes 1.5 to 2 times the one before: CITS Dress Making Trade Theory 2024, p. 235.
pub fn tiers(asked: &TiersWanted) -> Result<Vec<Tier>, Unmade<TiersWanted, Vec<Tier>>> {
    let mut bounds = Bounds::default();
    let edge = bounds.kept("edge above the first tier", asked.edge, NARROWEST, LONGEST);
    let (mut above, mut tiers, mut ratios) = (edge, Vec::new(), Vec::new());
    for (tier, ratio) in (1..).zip(&asked.ratios) {
        let mut near = ratio.clamp(1.0, FULLEST);
        if near.is_nan() {
            near = 1.0;
        }
        if near != *ratio {
            bounds.why.push(Wrong::Ratio {
                tier,
                asked: *ratio,
                nearest: near,
            });
        }
        let cloth = Mm(above.0 * near);
        if cloth.0 > LONGEST.0 * (1.0 + NEAR) {
            bounds.why.push(Wrong::TierTooLong { tier, cloth });
            break;
        }
        tiers.push(Tier {
            finished: above,
            cloth,
        });
        ratios.push(near);
        above = cloth;
    }
    bounds.outcome(TiersWanted { edge, ratios }, tiers)
}

/// Knife pleats in place of gathers (or of anything else) on an edge of this finished length, for the same cloth length;
/// each shows about `visible`.
///
/// # Errors
/// [`Unsolved`] when the cloth is not longer than the edge.
pub fn pleated_instead(
    fullness: Fullness,
    layout: &Layout,
    finished: Mm,
    visible: Mm,
) -> Result<Solved, Unsolved> {
    let mut layout = layout.clone();
    layout.rows.clear();
    solve(&Wanted {
        finished: Some(finished),
        cloth: Some(fullness.cloth_length(finished)),
        visible: Some(visible),
        layout,
        ..Wanted::new(Kind::Knife)
    })
}

/// Gathers in place of pleats (or of anything else), for the same cloth length; how folds lay is kept for the way back.
///
/// # Errors
/// [`Unsolved`] when the cloth is not longer than the edge.
pub fn gathered_instead(
    fullness: Fullness,
    layout: &Layout,
    finished: Mm,
) -> Result<Solved, Unsolved> {
    solve(&Wanted {
        finished: Some(finished),
        cloth: Some(fullness.cloth_length(finished)),
        layout: layout.clone(),
        ..Wanted::new(Kind::Gathers)
    })
}

/// A visible width for knife pleats of this fullness that are deep enough to be pressed in cloth this thick: six layers
/// deep, at least 4 mm wide (common practice, no source).
pub fn pleats_wide(ratio: f64, thickness: Mm) -> Mm {
    const DEEP: f64 = 6.0;
    const NARROWEST: f64 = 4.0;
    let per_depth = 2.0 / (ratio - 1.0).max(0.1);
    Mm((DEEP * thickness.0 * per_depth).max(NARROWEST))
}
