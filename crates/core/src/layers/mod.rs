//! Garments worn one over another: what is underneath enlarges the body for the next, what lies on top hides.
//!
//! Lengths in mm, levels as in [`crate::measure::Level`]. Pads ([`crate::pad`]) are layers too.
