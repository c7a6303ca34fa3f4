//! Pieces recognised again on sheets of our own without a word of what each line is: shares of right guesses per kind.

#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod chords;
#[path = "../common/mod.rs"]
mod common;
mod demo;
mod laws;
mod made;
mod makers;
mod readers;
mod ready;
mod tally;
