//! Files of others: read true to size, told in full, and never a crash.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]

mod dxf;
mod mutants;
mod storm;
mod svg;
