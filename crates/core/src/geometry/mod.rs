//! Lines and curves that know no cloth. Plain `f64` millimetres, y up.

pub mod arc;
pub mod closed;
pub mod corner;
pub mod crossing;
pub mod curve;
pub mod outline;
pub mod parallel;
pub mod polygon;
pub mod simple;
pub mod spline;
