//! Bodies as data: the tables in `assets/bodies`, embedded.

use std::sync::Arc;

use petitoile_core::body::Body;

/// Every body that comes with Petitoile: adults, children, doll classes, in this order.
pub fn built_in() -> Vec<Arc<Body>> {
    Vec::new()
}
