//! What a place on the table snaps to. Pure functions.

use kurbo::Point;

/// What a place snapped to.
#[derive(Debug, Clone, PartialEq)]
pub struct Snapped {
    /// Where.
    pub at: Point,
    /// What it is, in the maker's words: "corner", "square to the line before".
    pub what: String,
}
