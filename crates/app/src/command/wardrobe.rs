//! What can be asked of the wardrobe file.

/// What is done with the wardrobe file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum InWardrobe {
    /// Looks what is in it.
    Look,
    /// Keeps this outfit of the project in it; begins a wardrobe when there is none.
    Keep(String),
    /// Takes the outfit at this place out of it.
    TakeOut(usize),
    /// Opens the project of the outfit at this place.
    Open(usize),
}
