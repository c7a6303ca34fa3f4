//! Will it go on? Which opening passes what, what closes it, and how long ties and wraps must be.
//!
//! Lengths in mm. Geometry: an opening passes what is no larger than its hole + 2 slits; see [`crate::garment::Opening`].
