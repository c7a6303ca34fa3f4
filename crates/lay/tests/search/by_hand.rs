//! The hand on the cloth.
