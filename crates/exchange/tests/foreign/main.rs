//! Files of others: read true to size, told in full, and never a crash.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]

mod auditor;
mod dxf;
mod made;
mod mutants;
mod out_and_in;
mod png;
mod storm;
mod svg;
