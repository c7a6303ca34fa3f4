//! What is to be laid: closed forms on strips, laws, and the demo garments.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]

mod added;
mod demos;
mod hidden;
mod lay_sheet;
mod left;
mod made_later;
mod opened;
mod parts;
mod pieced;
mod samples;
mod sewn;
mod tally;
