//! Stacks of cloth: how thick each seam, crossing, hem and band becomes, what can still be sewn, turned and reached.
//!
//! Lengths in mm. Limits are those the maker sets for her machine ([`crate::machine::Machine`]).
