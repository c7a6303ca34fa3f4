//! The pages of a printed sheet joined into one drawing.
//!
//! First every page gets its place ([`PagePlaces`]): told by the maker (so many columns, such an overlap), or guessed
//! from what pages share: lines drawn on both, marks, words, corners, and line ends that go on across an edge
//! ([`Matches`]). The maker may drag a page; [`Matches::snapped`] says where its lines go on best. Then the lines are
//! joined ([`joined`]): what two pages show is kept once, what is cut at an edge becomes one line again. Pure
//! functions. Never here: the window, files, what a line means.

mod by_labels;
mod cells;
mod doubles;
mod eased;
mod features;
mod frames;
mod guess;
mod join;
mod nearby;
mod numbered;
mod places;
mod regular;
mod rows;
mod settled;
mod strand;
mod strands;

pub use features::Matches;
pub use join::{Joined, joined};
pub use places::{PagePlace, PagePlaces, PlacedBy, Rows};
