//! The one font of every print, embedded: how wide words are, and its bytes for the writers.
//!
//! DejaVu Sans; its licence lies beside it in `assets/fonts`.

use std::sync::LazyLock;

use ttf_parser::{Face, GlyphId};

/// The font file.
pub const BYTES: &[u8] = include_bytes!("../../../assets/fonts/DejaVuSans.ttf");

/// Name of the font family.
pub const FAMILY: &str = "DejaVu Sans";

/// How far a line of text reaches above its base line, as a share of its size (accents included).
pub const ASCENT: f64 = 0.93;

/// How far a line of text reaches below its base line, as a share of its size.
pub const DESCENT: f64 = 0.24;

/// From one base line to the next, as a share of the size.
pub const LINE_STEP: f64 = 1.25;

/// The font, taken apart once.
pub(crate) static FACE: LazyLock<Option<Face<'static>>> =
    LazyLock::new(|| Face::parse(BYTES, 0).ok());

/// The em of the font at a text size: a size is 1.4 capital heights.
pub fn em(size: f64) -> f64 {
    let share = FACE
        .as_ref()
        .and_then(|face| Some(f64::from(face.capital_height()?) / f64::from(face.units_per_em())));
    size / (1.4 * share.unwrap_or(0.729))
}

/// Width of a line of text, mm. A letter that the font lacks is printed as an empty box and measured as such.
pub fn width(words: &str, size: f64) -> f64 {
    let Some(face) = FACE.as_ref() else {
        return words.chars().count() as f64 * size * 0.6;
    };
    let units: u32 = words
        .chars()
        .map(|c| u32::from(face.glyph_hor_advance(glyph(face, c)).unwrap_or_default()))
        .sum();
    f64::from(units) / f64::from(face.units_per_em()) * em(size)
}

/// The glyph of a letter, or the empty box.
pub(crate) fn glyph(face: &Face<'_>, letter: char) -> GlyphId {
    face.glyph_index(letter).unwrap_or_default()
}

/// A blank at which no line is broken.
pub const TIED: char = '\u{a0}';

/// Breaks words into lines no wider than `most` where blanks allow it. Tied blanks stay, as plain ones.
pub fn broken(words: &str, size: f64, most: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split(' ').filter(|word| !word.is_empty()) {
        match lines.last_mut() {
            Some(line) if width(&format!("{line} {word}"), size) <= most => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
        .into_iter()
        .map(|line| line.replace(TIED, " "))
        .collect()
}

#[cfg(test)]
#[allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]
mod tests {
    use super::*;

    #[test]
    fn the_font_can_be_taken_apart() {
        assert!(FACE.is_some());
    }

    #[test]
    fn a_size_is_one_and_a_half_capitals_less_a_tenth() {
        let face = FACE.as_ref().unwrap();
        let rect = face.glyph_bounding_box(glyph(face, 'H')).unwrap();
        let capital = f64::from(rect.y_max) / f64::from(face.units_per_em()) * em(2.8);
        assert!((capital - 2.0).abs() < 0.01, "{capital}");
    }

    #[test]
    fn broken_lines_hold_every_word_and_no_more_than_the_width() {
        let words = "cut 2 shell (1 left, 1 right), 2 lining (1 left, 1 right)";
        let lines = broken(words, 2.0, 25.0);
        assert_eq!(lines.join(" "), words);
        assert!(
            lines.len() > 2 && lines.iter().all(|line| width(line, 2.0) <= 25.0),
            "{lines:?}"
        );
    }

    #[test]
    fn tied_words_stay_together() {
        assert_eq!(
            broken("cut 2\u{a0}shell, 2\u{a0}lining", 2.0, 9.0),
            ["cut", "2 shell,", "2 lining"]
        );
    }

    #[test]
    fn letters_of_many_tongues_are_there() {
        let face = FACE.as_ref().unwrap();
        for letter in "äöüßéèçñåøłžěőŞğΩДжї½¼⅛×°–—„“→↔".chars()
        {
            assert_ne!(glyph(face, letter).0, 0, "{letter}");
        }
    }
}
