//! The search: every plan lies right, and the same seed gives the same plan.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]

mod by_hand;
mod differential;
mod grown;
mod made_up;
mod plain_check;
mod plans;
mod strips;
