//! Tools that measure.

mod girth;
mod tape;

use crate::chalk::tool::Tool;

/// All of them, in the order they stand in the tray.
pub fn all() -> Vec<Box<dyn Tool>> {
    vec![
        Box::<tape::Tape>::default(),
        Box::<girth::TakeGirth>::default(),
    ]
}
