//! Every piece on the cloth that is there.
//!
//! [`Job`] lays what `petitoile_core::laying` says is to be laid on the offcuts there are; [`check_plan()`] proves a plan without
//! the search; [`by_hand`] answers the hand that moves a part; [`why_not`] says what does not fit and what would help; [`LengthJob`] how much of a cloth to buy.
//!
//! Lengths in mm, y up, offcuts as they lie on the table. No clock, no file; chance only from a seed.

pub mod by_hand;
pub mod check_plan;
pub mod lying;
pub mod needed_length;
pub mod search;
pub mod why_not;

mod better;
mod bridge;
mod cloth_left;
mod job;
mod made_later;
mod usable;

pub use better::better;
pub use check_plan::{FaultKind, PlanFault, check_plan};
pub use cloth_left::cloth_left;
pub use job::{Job, JobOptions, LayError, Progress, Unusable, lies, seams_added};
pub use needed_length::{Bolt, LengthJob, LengthProgress, NeededLength};
pub use usable::usable;
