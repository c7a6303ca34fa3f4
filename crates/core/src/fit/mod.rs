//! How a fitting sits: ease at every girth and length, compared with the source, with handbooks and with others; and the
//! measure figure with its rings.
//!
//! Lengths in mm. A figure here is a picture of measures, not a drape.

mod table;
mod underneath;

pub use table::{EaseTable, FitRow, Sat, Sits, ease_table};
pub use underneath::Underneath;
