//! Lengths in words: "50 mm", "5 x 5 cm", "2 in", "1 1/2 inch", "4″", "TEST SQUARE 10 cm".

use petitoile_core::kurbo::{Point, Vec2};
use petitoile_core::units::MM_PER_INCH;

use crate::bring_in::FoundText;

/// Longest length that a label is believed to give, mm: a metre.
const LONGEST: f64 = 1000.0;

/// A length, or two ("10 x 5 cm"), mm.
pub type Length = (f64, Option<f64>);

/// A text that says a length.
pub(super) struct Label {
    pub words: String,
    pub lengths: Vec<Length>,
    /// About the middle of the text.
    pub middle: Point,
    pub size: f64,
    /// Is the length all it says, but for words about testing?
    pub is_bare: bool,
}

impl Label {
    pub fn of(text: &FoundText) -> Option<Self> {
        let lengths = lengths(&text.words);
        if lengths.is_empty() {
            return None;
        }
        let others = text
            .words
            .split(|c: char| !c.is_alphabetic())
            .filter(|word| word.chars().count() > 2 && unit(&word.to_lowercase()).is_none())
            .filter(|word| !names_a_test(word))
            .count();
        Some(Self {
            words: text.words.clone(),
            lengths,
            middle: middle(text),
            size: text.size,
            is_bare: others == 0,
        })
    }
}

/// About the middle of a text: letters are taken as half an em wide.
pub(super) fn middle(text: &FoundText) -> Point {
    let along = Vec2::from_angle(text.turn.to_radians());
    let long = 0.5 * text.size * text.words.chars().count() as f64;
    text.at + along * (long / 2.0) + along.turn_90() * (0.35 * text.size)
}

/// Does a text speak of testing the scale? Words of some languages that sheets are sold in; from memory, no source.
pub(super) fn names_a_test(words: &str) -> bool {
    const WORDS: [&str; 15] = [
        "test",
        "square",
        "check",
        "scale",
        "control",
        "kontroll",
        "quadrat",
        "maßstab",
        "massstab",
        "carré",
        "contrôle",
        "échelle",
        "cuadrado",
        "quadrato",
        "prüf",
    ];
    let words = words.to_lowercase();
    WORDS.iter().any(|word| words.contains(word))
}

/// Every length that words name, mm.
///
/// ```
/// use petitoile_exchange::bring_in::scale::lengths;
/// assert_eq!(lengths("TEST SQUARE 10 cm"), [(100.0, None)]);
/// assert_eq!(lengths("5 x 5cm = 2″"), [(50.0, Some(50.0)), (50.8, None)]);
/// ```
pub fn lengths(words: &str) -> Vec<Length> {
    let tokens = tokens(words);
    let mut found = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        match tokens.get(at..) {
            Some(
                [
                    Token::Number(a),
                    Token::Unit(u),
                    Token::Times,
                    Token::Number(b),
                    Token::Unit(v),
                    ..,
                ],
            ) => {
                found.push((a * u, Some(b * v)));
                at += 5;
            }
            Some(
                [
                    Token::Number(a),
                    Token::Times,
                    Token::Number(b),
                    Token::Unit(u),
                    ..,
                ],
            ) => {
                found.push((a * u, Some(b * u)));
                at += 4;
            }
            Some([Token::Number(a), Token::Unit(u), ..]) => {
                found.push((a * u, None));
                at += 2;
            }
            _ => at += 1,
        }
    }
    found.retain(|(a, b)| {
        let may_be = |length: f64| (1.0..=LONGEST).contains(&length);
        may_be(*a) && b.is_none_or(may_be)
    });
    found
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Token {
    Number(f64),
    /// mm in one.
    Unit(f64),
    Times,
    Other,
}

fn unit(word: &str) -> Option<f64> {
    match word {
        "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Some(1.0),
        "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Some(10.0),
        "in" | "ins" | "inch" | "inches" | "zoll" | "pouce" | "pouces" | "\"" | "″" | "”"
        | "''" => Some(MM_PER_INCH),
        _ => None,
    }
}

/// A fraction written as one letter.
fn vulgar(letter: char) -> Option<f64> {
    Some(match letter {
        '½' => 0.5,
        '¼' => 0.25,
        '¾' => 0.75,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        _ => return None,
    })
}

fn tokens(words: &str) -> Vec<Token> {
    let letters: Vec<char> = words.chars().take(400).collect();
    let mut tokens = Vec::new();
    let mut at = 0;
    while let Some(letter) = letters.get(at).copied() {
        if letter.is_whitespace() {
            at += 1;
        } else if letter.is_ascii_digit() || vulgar(letter).is_some() {
            let (value, next) = number(&letters, at);
            tokens.push(value.map_or(Token::Other, Token::Number));
            at = next;
        } else if letter == '×' || letter == '*' {
            tokens.push(Token::Times);
            at += 1;
        } else if letter.is_alphabetic() {
            let word: String = letters
                .iter()
                .skip(at)
                .take_while(|c| c.is_alphabetic())
                .collect();
            at += word.chars().count();
            let word = word.to_lowercase();
            tokens.push(match (unit(&word), word.as_str()) {
                (Some(mm), _) => Token::Unit(mm),
                (None, "x" | "by" | "auf" | "sur") => Token::Times,
                _ => Token::Other,
            });
        } else if letter == '\'' && letters.get(at + 1) == Some(&'\'') {
            tokens.push(Token::Unit(MM_PER_INCH));
            at += 2;
        } else {
            tokens.push(unit(&letter.to_string()).map_or(Token::Other, Token::Unit));
            at += 1;
        }
    }
    tokens
}

/// A number from here on: "50", "2.5", "2,5", "1/2", "1 1/2", "1-1/2", "1½"; `None` for what is none, and where it ends.
fn number(letters: &[char], start: usize) -> (Option<f64>, usize) {
    let digits = |from: usize| -> (String, usize) {
        let run: String = letters
            .iter()
            .skip(from)
            .take_while(|c| c.is_ascii_digit())
            .collect();
        let end = from + run.len();
        (run, end)
    };
    let at = |place: usize| letters.get(place).copied();
    let fraction = |from: usize| -> Option<(f64, usize)> {
        if let Some(part) = at(from).and_then(vulgar) {
            return Some((part, from + 1));
        }
        let (above, end) = digits(from);
        if !matches!(at(end), Some('/' | '⁄')) {
            return None;
        }
        let (below, last) = digits(end + 1);
        let (above, below): (f64, f64) = (above.parse().ok()?, below.parse().ok()?);
        (below > 0.0).then_some((above / below, last))
    };
    if let Some((part, end)) = fraction(start) {
        return (Some(part), end);
    }
    let (mut written, mut end) = digits(start);
    if matches!(at(end), Some('.' | ',')) && at(end + 1).is_some_and(|c| c.is_ascii_digit()) {
        let (part, last) = digits(end + 1);
        written = format!("{written}.{part}");
        end = last;
        return (written.parse().ok(), end);
    }
    let whole: Option<f64> = written.parse().ok();
    let gap = usize::from(matches!(at(end), Some(' ' | '-')));
    if let (Some(whole), Some((part, last))) = (whole, fraction(end + gap)) {
        return (Some(whole + part), last);
    }
    (whole, end)
}

#[cfg(test)]
#[allow(clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;

    fn check(words: &str, wanted: &[Length]) {
        let found = lengths(words);
        assert_eq!(found.len(), wanted.len(), "{words}: {found:?}");
        for (a, b) in found.iter().zip(wanted) {
            assert!((a.0 - b.0).abs() < 1e-9, "{words}: {found:?}");
            assert_eq!(a.1.is_some(), b.1.is_some(), "{words}: {found:?}");
            assert!(
                a.1.zip(b.1).is_none_or(|(a, b)| (a - b).abs() < 1e-9),
                "{words}: {found:?}"
            );
        }
    }

    #[test]
    fn lengths_are_read_as_makers_write_them() {
        check("50 mm", &[(50.0, None)]);
        check("5cm", &[(50.0, None)]);
        check("2,5 cm", &[(25.0, None)]);
        check("2 in", &[(50.8, None)]);
        check("1 inch", &[(25.4, None)]);
        check("4\"", &[(101.6, None)]);
        check("4″", &[(101.6, None)]);
        check("1 1/2 in", &[(38.1, None)]);
        check("1-1/2\"", &[(38.1, None)]);
        check("1½ in", &[(38.1, None)]);
        check("½ inch", &[(12.7, None)]);
        check("3/4''", &[(19.05, None)]);
        check("TEST SQUARE 10 cm", &[(100.0, None)]);
        check(
            "Test square: 5 cm x 5 cm (2\" x 2\")",
            &[(50.0, Some(50.0)), (50.8, Some(50.8))],
        );
        check("10 × 5 cm", &[(100.0, Some(50.0))]);
        check("Kontrollquadrat 5x5cm", &[(50.0, Some(50.0))]);
    }

    #[test]
    fn what_is_no_length_is_left_alone() {
        check("Front, cut 2", &[]);
        check("page 3 of 12", &[]);
        check("size 38", &[]);
        check("cut 2 in shell", &[(50.8, None)]); // as read by a person in a hurry: a shape must agree with it
        check("5000 cm", &[]);
        check("0 mm", &[]);
        check("", &[]);
    }
}
