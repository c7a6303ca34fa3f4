//! Readying: bare pieces become garments that can be adapted.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod adapted;
mod bare;
mod bodies;
mod laws;
mod shares;
mod trousers;
