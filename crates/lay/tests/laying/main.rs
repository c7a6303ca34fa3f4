//! Laying as its callers see it: the check, the job, hands, lengths, concessions.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]

mod check_plan;
mod doll_set;
mod small;
