//! Marks, seams and measures on the Chalk table: real pointer and key events on a demo garment, on the garment and on
//! a fitting of it; what becomes of it, and undo.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod apart;
mod bench;
#[path = "../common/mod.rs"]
mod common;
mod lines;
mod marks;
mod measures;
mod seams;
mod sewing;
