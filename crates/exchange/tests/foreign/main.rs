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
mod out_and_in;
mod png;
mod svg;
