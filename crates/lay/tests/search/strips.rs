//! How much cloth to buy.
