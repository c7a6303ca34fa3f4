//! Corners trued at the end of a seam.

use super::TrueTo;
use crate::alteration::{AlterationError, Altered};
use crate::garment::Garment;

pub(super) fn true_join(
    _garment: &Garment,
    name: &str,
    _at_start: bool,
    _to: TrueTo,
) -> Result<Altered, AlterationError> {
    Err(AlterationError::Refused(format!("{name}: comes later")))
}
