//! Sentences written in millimetres, said again in the maker's unit.
//!
//! Findings and errors of the core are sentences with figures in mm: what raises them knows no unit. They are said again
//! once, where they leave for the maker.

use super::LengthUnit;
use super::Mm;

/// What may stand between two numbers that share one unit: "between 0 and 60 mm", "from 5 to 6 mm", "7 of the 10 mm".
const BETWEEN: [&str; 3] = [" and ", " to ", " of the "];

/// Shorter than this, the nearest 1/32 in says too little: it is given in thousandths.
const SHORT: Mm = Mm(1.6);

impl LengthUnit {
    /// A sentence whose lengths are in mm, with its lengths in this unit.
    ///
    /// Only numbers that stand before "mm" are lengths, and numbers joined to such a one ("between 0 and 60 mm").
    ///
    /// # Example
    /// ```
    /// # use petitoile_core::units::LengthUnit;
    /// let said = "Front, hem: 12.7 mm too long; take 2 tucks of 25.4 mm.";
    /// assert_eq!(LengthUnit::Inch.reword(said), "Front, hem: 1/2 in too long; take 2 tucks of 1 in.");
    /// assert_eq!(LengthUnit::Millimetre.reword(said), said);
    /// ```
    pub fn reword(self, sentence: &str) -> String {
        if self == Self::Millimetre {
            return sentence.to_owned();
        }
        let mut said = String::new();
        let mut rest = sentence;
        while let Some((before, after)) = next_unit(rest) {
            said.push_str(&self.reworded_numbers(before));
            rest = after;
        }
        said.push_str(rest);
        said
    }

    /// Text that ends with a number in mm, whose unit is taken off; with the numbers joined to it.
    fn reworded_numbers(self, text: &str) -> String {
        let Some((head, number)) = last_number(text) else {
            return format!("{text} mm");
        };
        let shown = self.short_or_shown(Mm(number));
        let joined = BETWEEN
            .iter()
            .find_map(|between| Some((head.strip_suffix(between)?, *between)))
            .filter(|(earlier, _)| last_number(earlier).is_some());
        match joined {
            Some((earlier, between)) => {
                format!("{}{between}{shown}", self.reworded_numbers(earlier))
            }
            None => format!("{head}{shown}"),
        }
    }

    fn short_or_shown(self, length: Mm) -> String {
        if self == Self::Inch && length.0 != 0.0 && length.0.abs() < SHORT.0 {
            self.show_decimal(length)
        } else {
            self.show(length)
        }
    }
}

/// What stands before the next " mm" that follows a number, and what comes after it.
fn next_unit(text: &str) -> Option<(&str, &str)> {
    text.match_indices(" mm").find_map(|(at, unit)| {
        let (before, after) = (text.get(..at)?, text.get(at + unit.len()..)?);
        let goes_on = |c: char| c.is_alphanumeric() || c == '\u{b2}' || c == '\u{b3}';
        let is_unit = !after.starts_with(goes_on) && last_number(before).is_some();
        is_unit.then_some((before, after))
    })
}

/// The number a text ends with, and what stands before it. A number that is part of a word ("A4") is none.
fn last_number(text: &str) -> Option<(&str, f64)> {
    let digits = |c: char| c.is_ascii_digit() || c == '.';
    let unsigned = text.trim_end_matches(digits);
    let signed = ['-', '\u{2212}']
        .iter()
        .find_map(|sign| unsigned.strip_suffix(*sign))
        // A hyphen inside a word or a range is no sign.
        .filter(|before| !before.ends_with(|c: char| c.is_alphanumeric()));
    let head = signed.unwrap_or(unsigned);
    if head.ends_with(char::is_alphanumeric) {
        return None;
    }
    let size: f64 = text.get(unsigned.len()..)?.parse().ok()?;
    Some((head, if signed.is_some() { -size } else { size }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_length_of_a_sentence_is_said_in_inches_and_nothing_else_changes() {
        let check = |mm: &str, inches: &str| assert_eq!(LengthUnit::Inch.reword(mm), inches);
        check(
            "the seam allowance cannot be 63.50 mm; it must be between 0.00 and 50.80 mm",
            "the seam allowance cannot be 2 1/2 in; it must be between 0 in and 2 in",
        );
        check("2 pleats, 3 of 8 steps", "2 pleats, 3 of 8 steps");
        check("2 x 25.4 mm, edge 2, 50.8 mm", "2 x 1 in, edge 2, 2 in");
        check("12.7 of the 25.4 mm", "1/2 in of the 1 in");
        check(
            "-12.7 mm at the waist (12.7 mm)",
            "-1/2 in at the waist (1/2 in)",
        );
        check("3 layers of 0.3 mm", "3 layers of 0.012 in");
        check("left over: 300 mm\u{b2}", "left over: 300 mm\u{b2}");
        check("Size 12: 25.4 mm too long", "Size 12: 1 in too long");
        check("piece A4 mm", "piece A4 mm");
        check(" mm", " mm");
        check("", "");
    }

    #[test]
    fn a_sentence_in_centimetres_has_one_decimal_more() {
        let said = LengthUnit::Centimetre.reword("the hem is 7.5 mm longer than 120 mm");
        assert_eq!(said, "the hem is 0.75 cm longer than 12 cm");
    }

    #[test]
    fn what_is_said_in_inches_is_the_length_that_was_meant() {
        for tenths in 16..4000 {
            let mm = f64::from(tenths) / 10.0;
            let said = LengthUnit::Inch.reword(&format!("{mm:.1} mm"));
            let back = crate::units::read_length(&said, LengthUnit::Inch).map(|mm| mm.0);
            assert!(
                back.is_ok_and(|back| (back - mm).abs() <= 25.4 / 64.0 + 1e-9),
                "{mm} mm: {said}"
            );
        }
    }
}
