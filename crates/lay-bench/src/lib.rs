//! Measures the search of `petitoile-lay` on instances in a folder: how dense, how soon.
//!
//! Files and the clock live here; the search knows neither. It is the search of the product, nothing is set for one instance.

pub mod clock;
pub mod instance;
pub mod measure;
pub mod request;
