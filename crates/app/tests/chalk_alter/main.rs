//! Altering by hand in the window: every tool by its labels, with pointer and keys, on the garment and on a fitting.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod bench;
#[path = "../common/mod.rs"]
mod common;
mod darts;
mod list;
mod moving;
mod pieces;
mod shapes;
