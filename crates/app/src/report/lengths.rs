//! Lengths in the unit the maker reads.

use petitoile_core::{LengthUnit, Mm};

/// "mm", "cm" or "in".
pub fn unit_key(unit: LengthUnit) -> &'static str {
    match unit {
        LengthUnit::Millimetre => "mm",
        LengthUnit::Centimetre => "cm",
        LengthUnit::Inch => "in",
    }
}

/// A length with its unit: "6.4 mm", "0.64 cm", "1/4 in".
pub fn shown(length: Mm, unit: LengthUnit) -> String {
    match unit {
        LengthUnit::Millimetre => format!("{} mm", decimals(length.0, 1)),
        LengthUnit::Centimetre => format!("{} cm", decimals(length.0 / 10.0, 2)),
        LengthUnit::Inch => format!("{} in", thirty_seconds(length.inches())),
    }
}

/// The same with its sign always written.
pub fn shown_signed(length: Mm, unit: LengthUnit) -> String {
    let words = shown(length, unit);
    if words.starts_with('-') {
        words
    } else {
        format!("+{words}")
    }
}

/// At most so many decimals, without zeros at the end and without "-0".
fn decimals(value: f64, most: usize) -> String {
    let text = format!("{value:.most$}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

/// Whole inches and a fraction in lowest terms, rounded to 1/32.
fn thirty_seconds(inches: f64) -> String {
    let count = (inches.abs() * 32.0).round();
    let sign = if inches < 0.0 && 0.0 < count { "-" } else { "" };
    let (whole, mut part, mut of) = ((count / 32.0).floor(), count % 32.0, 32.0);
    while 0.0 < part && part % 2.0 == 0.0 {
        part /= 2.0;
        of /= 2.0;
    }
    match (whole > 0.0, part > 0.0) {
        (_, false) => format!("{sign}{whole}"),
        (false, true) => format!("{sign}{part}/{of}"),
        (true, true) => format!("{sign}{whole} {part}/{of}"),
    }
}

#[cfg(test)]
mod tests {
    use super::{shown, shown_signed};
    use petitoile_core::{LengthUnit, Mm};

    #[test]
    fn a_length_reads_in_the_unit_of_the_maker() {
        let check = |mm: f64, [in_mm, in_cm, in_inches]: [&str; 3]| {
            assert_eq!(shown(Mm(mm), LengthUnit::Millimetre), in_mm);
            assert_eq!(shown(Mm(mm), LengthUnit::Centimetre), in_cm);
            assert_eq!(shown(Mm(mm), LengthUnit::Inch), in_inches);
        };
        check(0.0, ["0 mm", "0 cm", "0 in"]);
        check(6.35, ["6.3 mm", "0.64 cm", "1/4 in"]);
        check(69.85, ["69.8 mm", "6.98 cm", "2 3/4 in"]);
        check(25.39, ["25.4 mm", "2.54 cm", "1 in"]);
        check(-3.175, ["-3.2 mm", "-0.32 cm", "-1/8 in"]);
        check(-0.01, ["0 mm", "0 cm", "0 in"]);
    }

    #[test]
    fn ease_always_shows_its_sign() {
        assert_eq!(shown_signed(Mm(12.0), LengthUnit::Millimetre), "+12 mm");
        assert_eq!(shown_signed(Mm(-12.0), LengthUnit::Millimetre), "-12 mm");
    }
}
