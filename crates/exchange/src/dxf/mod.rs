//! DXF, text form, with the layers of the open apparel practice ASTM D6673 (`shared/facts/dxf_layers.csv`).

pub mod layers;
pub mod piece;
pub mod read;
pub mod write;
