//! Lengths and angles as a maker types and reads them. Inside, everything is millimetres.

use serde::{Deserialize, Serialize};

/// A length in millimetres.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Mm(pub f64);

/// An angle in degrees.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Degrees(pub f64);

/// Millimetres in one inch, exact by definition (international inch, 1959).
pub const MM_PER_INCH: f64 = 25.4;

impl Mm {
    /// A length given in inches.
    pub fn from_inches(inches: f64) -> Self {
        Self(inches * MM_PER_INCH)
    }

    /// The same length in inches.
    pub fn inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }
}

impl std::ops::Add for Mm {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl std::ops::Sub for Mm {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

/// The unit a maker chose to read and type.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum LengthUnit {
    /// Millimetres, one decimal where it is not whole.
    #[default]
    Millimetre,
    /// Centimetres, two decimals at most.
    Centimetre,
    /// Inches, with fractions down to 1/32.
    Inch,
}
