//! The collision core against f64.
