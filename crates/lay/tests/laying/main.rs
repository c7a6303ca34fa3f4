//! Laying as its callers see it: the check, the job, hands, lengths, concessions.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]

mod better;
mod by_hand;
mod check_plan;
mod chosen;
mod doll_set;
mod job;
mod made_later;
mod needed_length;
mod one_at_a_time;
mod random_sets;
mod small;
mod why_not;
