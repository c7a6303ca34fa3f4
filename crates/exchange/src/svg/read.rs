//! Reads SVG.

use crate::bring_in::{BringInError, FoundDrawing, Limits, Watch};

/// Reads a file of this kind.
///
/// # Errors
/// [`BringInError`].
pub fn read(
    _bytes: &[u8],
    name: &str,
    _limits: &Limits,
    _watch: &Watch<'_>,
) -> Result<FoundDrawing, BringInError> {
    Err(BringInError::UnknownKind {
        file: name.to_owned(),
    })
}
