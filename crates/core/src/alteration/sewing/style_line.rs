//! The style line: a seam moved from one piece into its neighbour.

use crate::alteration::{AlterationError, Altered};
use crate::garment::Garment;

pub(super) fn move_line(
    _garment: &Garment,
    name: &str,
    _by: (f64, f64),
) -> Result<Altered, AlterationError> {
    Err(AlterationError::Refused(format!("{name}: comes later")))
}
