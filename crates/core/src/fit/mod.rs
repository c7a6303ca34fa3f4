//! How a fitting sits: ease at every girth and length, compared with the source, with handbooks and with others; and the
//! measure figure with its rings.
//!
//! Lengths in mm. A figure here is a picture of measures, not a drape.

mod along;
mod beside;
pub mod figure;
mod table;
mod underneath;

pub use along::{AlongBody, AlongPoint, along_body};
pub use beside::{Beside, BesideRow, beside, on_body, uniform};
pub use table::{EaseTable, FitRow, Sat, Sits, ease_table};
pub use underneath::Underneath;
