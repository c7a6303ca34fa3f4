//! The numbers of the next point as they are typed: on the table or in the tray.

use petitoile_core::drawn::{AngleFrom, Measured};
use petitoile_core::{Degrees, LengthUnit, Mm, units};

use crate::chalk::tool::Typed;

/// Names of the numbers, in the order of Tab.
pub const NAMES: [&str; 4] = ["Length", "Angle", "Right", "Up"];
const LENGTH: usize = 0;
const ANGLE: usize = 1;
const RIGHT: usize = 2;
const UP: usize = 3;

/// The numbers as they are typed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Numbers {
    /// The texts, in the order of [`NAMES`].
    pub texts: [String; 4],
    /// From where the angle is counted.
    pub from: AngleFrom,
    at: usize,
}

impl Numbers {
    /// Is anything typed?
    pub fn is_typing(&self) -> bool {
        self.texts.iter().any(|text| !text.is_empty())
    }

    /// Forgets what was typed.
    pub fn clear(&mut self) {
        self.texts = Default::default();
        self.at = LENGTH;
    }

    /// The number that is being typed, for the table: "length 120".
    pub fn words(&self) -> Option<String> {
        let typed: Vec<String> = NAMES
            .iter()
            .zip(&self.texts)
            .enumerate()
            .filter(|(i, (_, text))| !text.is_empty() || self.is_typing() && *i == self.at)
            .map(|(i, (name, text))| {
                let caret = if i == self.at { "|" } else { "" };
                format!("{} {text}{caret}", name.to_lowercase())
            })
            .collect();
        (!typed.is_empty()).then(|| typed.join(", "))
    }

    /// A sign or key. Digits begin a number; the first point is typed as right and up. Gives whether it was taken.
    pub fn typed(&mut self, key: Typed, first_point: bool) -> bool {
        if first_point && self.at < RIGHT {
            self.at = RIGHT;
        }
        let typing = self.is_typing();
        let least = if first_point { RIGHT } else { LENGTH };
        let Some(text) = self.texts.get_mut(self.at) else {
            return false;
        };
        match key {
            Typed::Sign(sign) if begins(sign) || typing && goes_on(sign) => text.push(sign),
            Typed::Back if typing => {
                text.pop();
            }
            Typed::Next if typing => self.at = if self.at == UP { least } else { self.at + 1 },
            Typed::Previous if typing => self.at = if self.at == least { UP } else { self.at - 1 },
            _ => return false,
        }
        true
    }

    /// What was typed, or what is wrong with it.
    pub fn read(&self, unit: LengthUnit) -> Result<Measured, String> {
        let text = |at: usize| {
            let text = self.texts.get(at).map_or("", |text| text.trim());
            (!text.is_empty()).then_some(text)
        };
        let length = |at: usize| -> Result<Option<Mm>, String> {
            let reader = if at == LENGTH {
                units::read_length
            } else {
                units::read_signed_length
            };
            let read = text(at).map(|text| reader(text, unit)).transpose();
            read.map_err(|trouble| format!("{}: {trouble}", NAMES.get(at).unwrap_or(&"")))
        };
        Ok(Measured {
            length: length(LENGTH)?,
            angle: text(ANGLE).map(read_angle).transpose()?,
            from: self.from,
            right: length(RIGHT)?,
            up: length(UP)?,
        })
    }
}

/// An angle as typed: `33.5`, `-90\u{b0}`.
pub fn read_angle(text: &str) -> Result<Degrees, String> {
    let plain = text
        .trim()
        .trim_end_matches('\u{b0}')
        .replace(',', ".")
        .replace('\u{2212}', "-");
    match plain.trim().parse::<f64>() {
        Ok(angle) if angle.is_finite() && angle.abs() <= 360.0 => Ok(Degrees(angle)),
        _ => Err(format!(
            "\"{text}\" is not an angle; type degrees between -360 and 360, like 90 or -12.5"
        )),
    }
}

fn begins(sign: char) -> bool {
    sign.is_ascii_digit() || matches!(sign, '.' | ',')
}

fn goes_on(sign: char) -> bool {
    matches!(
        sign,
        ' ' | '/' | '-' | '+' | '"' | 'm' | 'c' | 'i' | 'n' | '\u{b0}'
    )
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;

    fn type_in(numbers: &mut Numbers, text: &str, first: bool) {
        for sign in text.chars() {
            let key = match sign {
                '\t' => Typed::Next,
                '<' => Typed::Back,
                sign => Typed::Sign(sign),
            };
            assert!(numbers.typed(key, first), "{sign:?} of {text:?}");
        }
    }

    #[test]
    fn digits_begin_the_length_and_tab_goes_on_to_the_angle() {
        let mut numbers = Numbers::default();
        assert!(
            !numbers.typed(Typed::Sign('c'), false),
            "a letter chooses a tool"
        );
        assert!(!numbers.typed(Typed::Next, false));
        type_in(&mut numbers, "2 3/4 in\t45", false);
        let read = numbers.read(LengthUnit::Millimetre).unwrap();
        assert_eq!(
            (read.length, read.angle),
            (Some(Mm(69.85)), Some(Degrees(45.0)))
        );
        assert_eq!(numbers.words().unwrap(), "length 2 3/4 in, angle 45|");
    }

    #[test]
    fn the_first_point_is_typed_as_right_and_up_and_may_lie_left_and_below() {
        let mut numbers = Numbers::default();
        type_in(&mut numbers, "7<12\t0<-3", true);
        let read = numbers.read(LengthUnit::Centimetre).unwrap();
        assert_eq!((read.right, read.up), (Some(Mm(120.0)), Some(Mm(-30.0))));
    }

    #[test]
    fn what_is_no_number_says_what_can_be_typed() {
        let mut numbers = Numbers::default();
        type_in(&mut numbers, "5 5 5", false);
        assert!(
            numbers
                .read(LengthUnit::Millimetre)
                .unwrap_err()
                .starts_with("Length:")
        );
        assert!(read_angle("400").unwrap_err().contains("degrees"));
        assert_eq!(read_angle("-12,5\u{b0}"), Ok(Degrees(-12.5)));
    }
}
