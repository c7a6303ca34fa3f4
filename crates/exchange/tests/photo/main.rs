//! Photographs and scans become outlines: reading, straightening, tracing, against drawn photographs of known truth.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]

mod camera;
mod outside;
mod pictures;
mod robust;
mod scene;
mod straight;
mod traces;
