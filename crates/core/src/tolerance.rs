//! The three tolerances of the house. No loose 1e-6 stands anywhere else outside `adapt/solve.rs`.

use crate::units::Mm;

/// How far a drawn curve may lie from the true one.
pub const DRAWING: Mm = Mm(0.05);

/// How exactly a length is measured.
pub const MEASURING: Mm = Mm(0.001);

/// How far apart two ends may lie and still count as joined.
pub const JOINING: Mm = Mm(0.01);
