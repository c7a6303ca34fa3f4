//! Lengths and angles as a maker types and reads them. Inside, everything is millimetres.

mod reworded;

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

impl std::ops::Neg for Mm {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

/// Longest length that can be typed: 100 m, more than any bolt of cloth.
const LONGEST: f64 = 100_000.0;

/// A length that is shown off by less is not called rounded, mm: half of what two decimals of a millimetre tell.
const HIDDEN: f64 = 0.00501;

/// Inches are shown in parts of this.
const INCH_PARTS: i64 = 32;

/// Why a typed length cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LengthError {
    /// Nothing was typed.
    #[error("type a length, for example 70 mm, 7 cm or 2 3/4 in")]
    Empty,
    /// Not a length.
    #[error("\"{typed}\" is not a length; type it like 70 mm, 7.5 cm, 2.75 in or 2 3/4 in")]
    NotALength {
        /// What was typed.
        typed: String,
    },
    /// A fraction with nothing below the line.
    #[error("\"{typed}\" divides by zero; type a fraction like 1/8")]
    DividesByZero {
        /// What was typed.
        typed: String,
    },
    /// Below zero where only a length from 0 up makes sense.
    #[error("\"{typed}\" is below zero; type a length from 0 up")]
    BelowZero {
        /// What was typed.
        typed: String,
    },
    /// Longer than 100 m.
    #[error("\"{typed}\" is longer than 100 m; check the unit, for example 70 mm")]
    TooLong {
        /// What was typed.
        typed: String,
    },
}

/// Reads a length as a maker types it; a bare number counts in `default_unit`.
///
/// Reads `2 3/4 in`, `2-3/4"`, `2¾″`, `70 mm`, `7,5 cm`, `1/8`. Exact: an inch is 25.4 mm.
///
/// # Errors
/// [`LengthError`], which says what can be typed. Lengths below zero are refused; see [`read_signed_length`].
///
/// # Example
/// ```
/// # use petitoile_core::units::{LengthUnit, read_length};
/// assert_eq!(read_length("2 3/4 in", LengthUnit::Millimetre)?.0, 69.85);
/// assert_eq!(read_length("7,5", LengthUnit::Centimetre)?.0, 75.0);
/// # Ok::<(), petitoile_core::units::LengthError>(())
/// ```
pub fn read_length(text: &str, default_unit: LengthUnit) -> Result<Mm, LengthError> {
    let length = read_signed_length(text, default_unit)?;
    if length.0 < 0.0 {
        return Err(LengthError::BelowZero {
            typed: text.trim().to_owned(),
        });
    }
    Ok(length)
}

/// Like [`read_length`], but a leading minus is allowed: how far something is moved, ease that takes in.
///
/// # Errors
/// [`LengthError`], which says what can be typed.
pub fn read_signed_length(text: &str, default_unit: LengthUnit) -> Result<Mm, LengthError> {
    let typed = || text.trim().to_owned();
    let lower = text.trim().to_lowercase();
    if lower.is_empty() {
        return Err(LengthError::Empty);
    }
    let (sign, unsigned) = match lower.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (-1.0, rest),
        None => (1.0, lower.strip_prefix('+').unwrap_or(&lower)),
    };
    let (number, unit) = split_unit(unsigned, default_unit);
    let value = match number_of(number.trim()) {
        Number::Value(value) => sign * value * unit.mm(),
        Number::DividesByZero => return Err(LengthError::DividesByZero { typed: typed() }),
        Number::None => return Err(LengthError::NotALength { typed: typed() }),
    };
    if LONGEST < value.abs() {
        return Err(LengthError::TooLong { typed: typed() });
    }
    // A typed "-0" is plain 0.
    Ok(Mm(value + 0.0))
}

/// What stands before the unit, and the unit.
fn split_unit(text: &str, default_unit: LengthUnit) -> (&str, LengthUnit) {
    const WORDS: [(&str, LengthUnit); 17] = [
        ("millimetres", LengthUnit::Millimetre),
        ("millimetre", LengthUnit::Millimetre),
        ("millimeters", LengthUnit::Millimetre),
        ("millimeter", LengthUnit::Millimetre),
        ("mm", LengthUnit::Millimetre),
        ("centimetres", LengthUnit::Centimetre),
        ("centimetre", LengthUnit::Centimetre),
        ("centimeters", LengthUnit::Centimetre),
        ("centimeter", LengthUnit::Centimetre),
        ("cm", LengthUnit::Centimetre),
        ("inches", LengthUnit::Inch),
        ("inch", LengthUnit::Inch),
        ("in", LengthUnit::Inch),
        ("\"", LengthUnit::Inch),
        ("\u{2033}", LengthUnit::Inch),
        ("\u{201d}", LengthUnit::Inch),
        ("''", LengthUnit::Inch),
    ];
    let full = text.strip_suffix('.').unwrap_or(text);
    let found = WORDS
        .iter()
        .find_map(|(word, unit)| Some((full.strip_suffix(word)?, *unit)));
    found.unwrap_or((text, default_unit))
}

/// A typed number.
enum Number {
    Value(f64),
    DividesByZero,
    None,
}

/// Reads digits, a decimal, a fraction, or a whole with a fraction.
fn number_of(text: &str) -> Number {
    let plain = spelled_out(text);
    match plain.split_once('/') {
        None => decimal(&plain).map_or(Number::None, Number::Value),
        Some((above, below)) => fraction(above, below.trim()),
    }
}

/// One-sign fractions as plain ones: `2¾` becomes `2 3/4`.
fn spelled_out(text: &str) -> String {
    let mut plain = String::with_capacity(text.len() + 4);
    for c in text.chars() {
        match SMALL_FRACTIONS.iter().find(|(sign, _)| *sign == c) {
            Some((_, words)) => {
                plain.push(' ');
                plain.push_str(words);
            }
            None if c == '\u{2044}' || c == '\u{2215}' => plain.push('/'),
            None if c.is_whitespace() => plain.push(' '),
            None => plain.push(c),
        }
    }
    plain.trim().to_owned()
}

/// The fractions that Unicode has as one sign and that stand on rulers or tapes.
const SMALL_FRACTIONS: [(char, &str); 15] = [
    ('½', "1/2"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
    ('⅕', "1/5"),
    ('⅖', "2/5"),
    ('⅗', "3/5"),
    ('⅘', "4/5"),
    ('⅙', "1/6"),
    ('⅚', "5/6"),
];

fn fraction(above: &str, below: &str) -> Number {
    let above = above.trim();
    let (whole, above) = match above.rfind([' ', '-', '+']) {
        Some(at) => {
            let (whole, above) = above.split_at(at);
            (
                whole.trim_end_matches([' ', '-', '+']),
                above.trim_start_matches([' ', '-', '+']),
            )
        }
        None => ("0", above),
    };
    let (Some(whole), Some(above), Some(below)) = (digits(whole), digits(above), digits(below))
    else {
        return Number::None;
    };
    if below == 0.0 {
        return Number::DividesByZero;
    }
    Number::Value(whole + above / below)
}

/// Digits only, at most nine.
fn digits(text: &str) -> Option<f64> {
    let only = (1..=9).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
    only.then(|| text.parse().ok()).flatten()
}

/// Digits with at most one comma or point.
fn decimal(text: &str) -> Option<f64> {
    let marks = text.matches([',', '.']).count();
    let has_digit = text.bytes().any(|b| b.is_ascii_digit());
    let only = text
        .bytes()
        .all(|b| b.is_ascii_digit() || matches!(b, b',' | b'.'));
    (has_digit && only && marks <= 1)
        .then(|| text.replace(',', ".").parse().ok())
        .flatten()
}

impl LengthUnit {
    /// Every unit, in the order of a menu.
    pub const ALL: [Self; 3] = [Self::Millimetre, Self::Centimetre, Self::Inch];

    /// Millimetres in one of it.
    pub const fn mm(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::Centimetre => 10.0,
            Self::Inch => MM_PER_INCH,
        }
    }

    /// The finest step that is shown: 0.1 mm, 0.01 cm, 1/32 in.
    pub const fn finest_step(self) -> Mm {
        match self {
            Self::Millimetre | Self::Centimetre => Mm(0.1),
            Self::Inch => Mm(MM_PER_INCH / INCH_PARTS as f64),
        }
    }

    /// What stands behind a number: "mm", "cm", "in".
    pub const fn suffix(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
            Self::Inch => "in",
        }
    }

    /// Its name: "Millimetres".
    pub const fn label(self) -> &'static str {
        match self {
            Self::Millimetre => "Millimetres",
            Self::Centimetre => "Centimetres",
            Self::Inch => "Inches",
        }
    }

    /// A length in this unit: "70 mm", "7.05 cm", "2 3/4 in". [`read_length`] reads it back.
    pub fn show(self, length: Mm) -> String {
        format!("{} {}", self.show_bare(length), self.suffix())
    }

    /// The step that is marked on a rule: 0.5 mm or 1/16 in.
    pub const fn rule_step(self) -> Mm {
        match self {
            Self::Millimetre | Self::Centimetre => Mm(0.5),
            Self::Inch => Mm(MM_PER_INCH / 16.0),
        }
    }

    /// A place as it is marked with a rule, to the nearest 0.5 mm or 1/16 in: "51 mm", "2 1/16 in".
    ///
    /// # Example
    /// ```
    /// # use petitoile_core::{Mm, units::LengthUnit};
    /// assert_eq!(LengthUnit::Millimetre.show_on_rule(Mm(51.11)), "51 mm");
    /// assert_eq!(LengthUnit::Inch.show_on_rule(Mm(51.11)), "2 in");
    /// ```
    pub fn show_on_rule(self, place: Mm) -> String {
        let step = self.rule_step().0;
        // Half a step goes away from zero, as on paper.
        let steps = (place.0 / step).round();
        if self == Self::Centimetre {
            return format!("{} cm", trimmed(&format!("{:.2}", steps * step / 10.0)));
        }
        self.show(Mm(steps * step))
    }

    /// A width that was chosen, not measured, to the hundredth: an allowance of a quarter inch is "6.35 mm".
    pub fn show_chosen(self, width: Mm) -> String {
        if self != Self::Millimetre || !width.0.is_finite() {
            return self.show(width);
        }
        format!("{} mm", trimmed(&format!("{:.2}", width.0)))
    }

    /// The finest step of [`Self::show_chosen`]: 0.01 mm, 0.01 cm, 1/32 in.
    const fn chosen_step(self) -> f64 {
        match self {
            Self::Millimetre => 0.01,
            Self::Centimetre | Self::Inch => self.finest_step().0,
        }
    }

    /// Does [`Self::show_chosen`] give another length than this one, by more than `HIDDEN`?
    pub fn is_rounded(self, length: Mm) -> bool {
        let step = self.chosen_step();
        ((length.0 / step).round() * step - length.0).abs() > HIDDEN
    }

    /// A length in decimals, to the hundredth of a millimetre or the thousandth of an inch: "5.111 cm", "2.012 in".
    pub fn show_decimal(self, length: Mm) -> String {
        if !length.0.is_finite() {
            return self.show(length);
        }
        let in_unit = length.0 / self.mm();
        let decimal = match self {
            Self::Millimetre => format!("{in_unit:.2}"),
            Self::Centimetre | Self::Inch => format!("{in_unit:.3}"),
        };
        format!("{} {}", trimmed(&decimal), self.suffix())
    }

    /// A computed length, which says when the figure is rounded.
    ///
    /// # Example
    /// ```
    /// # use petitoile_core::{Mm, units::LengthUnit};
    /// assert_eq!(LengthUnit::Inch.show_computed(Mm(50.8)), "2 in");
    /// assert_eq!(LengthUnit::Inch.show_computed(Mm(51.11)), "about 2 in (2.012 in)");
    /// assert_eq!(LengthUnit::Millimetre.show_computed(Mm(51.11)), "51.11 mm");
    /// ```
    pub fn show_computed(self, length: Mm) -> String {
        if !self.is_rounded(length) {
            return self.show_chosen(length);
        }
        let decimal = self.show_decimal(length);
        format!("about {} ({decimal})", self.show_chosen(length))
    }

    /// Terms as [`Self::show_chosen`] shows them, so that what is shown adds up; and what they add up to.
    ///
    /// The sum is rounded, and what its steps leave over goes to the terms that rounding down hurts most. Each comes out
    /// within one step of what it is.
    ///
    /// # Example
    /// ```
    /// # use petitoile_core::{Mm, units::LengthUnit};
    /// // 1.3, 1.3 and 1.3 thirty-seconds of an inch are 4 of them.
    /// let third = Mm::from_inches(1.3 / 32.0);
    /// let (sum, terms) = LengthUnit::Inch.rounded_to_add_up(&[third; 3]);
    /// let shown: Vec<String> = terms.into_iter().map(|mm| LengthUnit::Inch.show(mm)).collect();
    /// assert_eq!(LengthUnit::Inch.show(sum), "1/8 in");
    /// assert_eq!(shown, ["1/16 in", "1/32 in", "1/32 in"]);
    /// ```
    pub fn rounded_to_add_up(self, terms: &[Mm]) -> (Mm, Vec<Mm>) {
        let step = self.chosen_step();
        let sum = (terms.iter().map(|mm| mm.0).sum::<f64>() / step).round();
        // A hair more, so that a whole number of steps is not taken for one less.
        let down = |mm: &Mm| (mm.0 / step + 1e-6).floor();
        let mut steps: Vec<f64> = terms.iter().map(down).collect();
        let mut order: Vec<usize> = (0..terms.len()).collect();
        let rest = |i: &usize| {
            let (term, down) = terms.get(*i).zip(steps.get(*i)).unwrap_or((&Mm(0.0), &0.0));
            term.0 / step - down
        };
        order.sort_by(|a, b| rest(b).total_cmp(&rest(a)));
        let left = (sum - steps.iter().sum::<f64>()).clamp(0.0, terms.len() as f64);
        for i in order.into_iter().take(left as usize) {
            if let Some(steps) = steps.get_mut(i) {
                *steps += 1.0;
            }
        }
        let lengths = steps.into_iter().map(|steps| Mm(steps * step)).collect();
        (Mm(sum * step), lengths)
    }

    /// The same without the unit. A length that is no number shows as "?".
    pub fn show_bare(self, length: Mm) -> String {
        if !length.0.is_finite() {
            return "?".to_owned();
        }
        // Tenths of a millimetre, halves away from zero as on paper: 6.35 shows as 6.4.
        let tenths = (length.0 * 10.0).round();
        match self {
            Self::Millimetre => trimmed(&format!("{:.1}", tenths / 10.0)),
            Self::Centimetre => trimmed(&format!("{:.2}", tenths / 100.0)),
            Self::Inch => inch_fraction(length),
        }
    }
}

/// A decimal without zeros at its end.
fn trimmed(decimal: &str) -> String {
    let short = decimal.trim_end_matches('0').trim_end_matches('.');
    if short == "-0" {
        "0".to_owned()
    } else {
        short.to_owned()
    }
}

/// Whole inches and a fraction down to 1/32, in lowest terms.
fn inch_fraction(length: Mm) -> String {
    // Saturates far beyond any cloth.
    let parts = (length.inches() * INCH_PARTS as f64).round() as i64;
    let sign = if parts < 0 { "-" } else { "" };
    let parts = parts.saturating_abs();
    let (whole, above) = (parts / INCH_PARTS, parts % INCH_PARTS);
    // 32 is a power of two, so halving is all it takes.
    let halvings = if above == 0 {
        0
    } else {
        above.trailing_zeros()
    };
    let (above, below) = (above >> halvings, INCH_PARTS >> halvings);
    match (whole, above) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, above) => format!("{sign}{above}/{below}"),
        (whole, above) => format!("{sign}{whole} {above}/{below}"),
    }
}

#[cfg(test)]
#[path = "units_tests.rs"]
mod tests;
