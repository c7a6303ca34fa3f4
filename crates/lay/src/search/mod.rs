//! The search: every item on the rooms that are there.
//!
//! ```
//! use kurbo::Point;
//! use petitoile_lay::search::{Item, Options, Part, Problem, Room, Search, Way};
//!
//! let square = |side: f64| vec![(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)].into_iter().map(Point::from).collect();
//! let part = Part { outline: square(40.0), turns: vec![0.0, 180.0], tolerance_deg: 2.0, ..Part::default() };
//! let item = Item { ways: vec![Way { parts: vec![part], cost: 0 }], priority: 0 };
//! let problem = Problem {
//!     rooms: vec![Room { outline: square(100.0), margin: 3.0, ..Room::default() }],
//!     items: vec![item; 4],
//!     gap: 1.0,
//!     fixed: vec![],
//! };
//! let mut search = Search::new(&problem, Options { seed: 1, ..Options::default() })?;
//! let progress = search.run_for(200);
//! assert!(progress.complete);
//! assert_eq!(search.best().placed.len(), 4);
//! # Ok::<(), petitoile_lay::search::ProblemError>(())
//! ```
//!
//! How it works: `start` lays the biggest first, each in a free place. What finds none is laid where it overlaps least.
//! `untangle` then lays bodies that overlap elsewhere, over all rooms, until nothing overlaps; overlaps that stay get heavier,
//! so that something else gives way. Every plan that is shown is first proved in f64 (`exact`).
//!
//! No clock, no file: a search goes on only while its caller calls [`Search::step`], so to pause or end it is not to call it.
//! Same problem, seed and number of steps: same plan, on every machine.

mod aims;
mod bay;
mod chance;
pub mod collision;
mod driver;
mod exact;
mod field;
mod floor;
pub mod free_strips;
mod grown;
mod inner_circles;
pub mod left_over;
mod miss;
mod offset;
mod patches;
mod plane;
mod problem;
mod record;
mod sample;
mod score;
mod shape;
mod start;
mod stir;
mod stock;
pub mod strip;
mod tidy;
mod turns;
mod untangle;
mod weights;

pub use driver::{Options, Progress, Search};
pub use miss::Miss;
pub use patches::{SeamOff, SeamsOff};
pub use problem::{
    Grain, Item, Mirror, OutlineFault, Part, Placed, Plan, Polygon, Problem, ProblemError, Room,
    Way, What, Zone,
};
pub use score::Score;
pub use strip::{StripPlan, StripProblem, StripProgress, StripSearch};

/// An outline moved inwards by a margin, as the search keeps to it.
pub(crate) fn inset(outline: &[kurbo::Point], margin: f64) -> Vec<Polygon> {
    plane::tidied(outline).map_or_else(|_| Vec::new(), |tidy| offset::moved(&tidy, -margin))
}
