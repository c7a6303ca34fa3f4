//! Lines and curves that know no cloth. Plain `f64` millimetres, y up.

pub mod curve;
pub mod outline;
pub mod simple;
