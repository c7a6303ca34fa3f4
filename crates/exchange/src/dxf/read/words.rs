//! Words of a DXF: TEXT, ATTRIB, MTEXT.
//!
//! A height in DXF is that of a capital; ours is that of the em. Widths are those of our own font.

use petitoile_core::kurbo::{Point, Vec2};

use super::pairs::Record;
use crate::font;

/// From one base line to the next, as a share of the height of a capital (5/3 is what the format says).
const STEP: f64 = 5.0 / 3.0;

/// A line of words, in units of the file.
pub(super) struct Line {
    pub at: Point,
    /// Height of the em.
    pub size: f64,
    /// Radians.
    pub turn: f64,
    pub words: String,
}

/// The lines of a record; `None` when it has no place or height.
pub(super) fn lines(record: &Record<'_>) -> Option<Vec<Line>> {
    if record.kind == "MTEXT" {
        many(record)
    } else {
        one(record)
    }
}

fn one(record: &Record<'_>) -> Option<Vec<Line>> {
    let height = record.figure(40).filter(|height| 0.0 < *height)?;
    let words = shown(record.text(1).unwrap_or_default());
    let turn = record.figure(50).unwrap_or(0.0).to_radians();
    let (across, up) = (record.whole(72).unwrap_or(0), record.whole(73).unwrap_or(0));
    let is_aligned = across != 0 || up != 0;
    let first = record.point(10)?;
    let second = record.point(11).filter(|_| is_aligned);
    let wide = font::width(&words, 1.4 * height) * record.figure(41).unwrap_or(1.0).abs();
    let (share, at) = match (across, second) {
        (1 | 4, Some(at)) => (0.5, at),
        (2, Some(at)) => (1.0, at),
        (3 | 5, _) | (_, None) => (0.0, first),
        (_, Some(at)) => (0.0, at),
    };
    let lift = match (across, up) {
        (4, _) | (_, 2) => 0.5,
        (_, 3) => 1.0,
        _ => 0.0,
    };
    Some(placed(at, height, turn, words, share * wide, lift * height))
}

/// A line whose given place lies `right` of its start and `up` above its base line.
fn placed(at: Point, height: f64, turn: f64, words: String, right: f64, up: f64) -> Vec<Line> {
    let along = Vec2::from_angle(turn);
    let at = at - along * right - along.turn_90() * up;
    if words.trim().is_empty() || !at.is_finite() {
        return Vec::new();
    }
    vec![Line {
        at,
        size: font::em(1.4 * height),
        turn,
        words: words.trim().to_owned(),
    }]
}

fn many(record: &Record<'_>) -> Option<Vec<Line>> {
    let height = record.figure(40).filter(|height| 0.0 < *height)?;
    let at = record.point(10)?;
    let mut raw = String::new();
    for (_, value) in record.pairs().filter(|(code, _)| matches!(code, 1 | 3)) {
        raw.push_str(value);
    }
    let turn = match record.point(11) {
        Some(along) if along != Point::ZERO => libm::atan2(along.y, along.x),
        _ => record.figure(50).unwrap_or(0.0).to_radians(),
    };
    let step = height * STEP * record.figure(44).unwrap_or(1.0);
    let lines = plain(&raw);
    let place = record.whole(71).unwrap_or(1).clamp(1, 9) - 1;
    let share = [0.0, 0.5, 1.0]
        .get(usize::try_from(place % 3).unwrap_or(0))
        .copied()
        .unwrap_or(0.0);
    let all = height + step * (lines.len().max(1) - 1) as f64;
    // How far the first base line lies below the given place.
    let down = match place / 3 {
        0 => height,
        1 => height - all / 2.0,
        _ => height - all,
    };
    let up = Vec2::from_angle(turn).turn_90();
    let set = (0..).zip(lines).flat_map(|(number, words)| {
        let wide = font::width(&words, 1.4 * height);
        let at = at - up * (down + step * f64::from(number));
        placed(at, height, turn, words, share * wide, 0.0)
    });
    Some(set.collect())
}

/// The lines of an MTEXT without its commands.
fn plain(raw: &str) -> Vec<String> {
    let mut lines = vec![String::new()];
    let mut rest = raw;
    while let Some(letter) = rest.chars().next() {
        let (words, after) = command(rest).unwrap_or_else(|| {
            let end = letter.len_utf8();
            let words = if matches!(letter, '{' | '}') {
                ""
            } else {
                rest.get(..end).unwrap_or_default()
            };
            (words, rest.get(end..).unwrap_or_default())
        });
        rest = after;
        if words == "\n" {
            lines.push(String::new());
        } else if let Some(line) = lines.last_mut() {
            line.push_str(words);
        }
    }
    lines.iter().map(|line| shown(line)).collect()
}

/// What a command at the start stands for, and what follows it.
fn command(rest: &str) -> Option<(&str, &str)> {
    let after = rest.strip_prefix('\\')?;
    let letter = after.chars().next()?;
    let following = after.get(letter.len_utf8()..)?;
    match letter {
        'P' | 'X' => Some(("\n", following)),
        '~' => Some((" ", following)),
        '\\' | '{' | '}' => Some((after.get(..1)?, following)),
        'L' | 'l' | 'O' | 'o' | 'K' | 'k' | 'N' => Some(("", following)),
        'S' => {
            let (stacked, after) = following.split_once(';')?;
            Some((stacked, after))
        }
        'A' | 'C' | 'c' | 'F' | 'f' | 'H' | 'Q' | 'T' | 'W' | 'p' => {
            let (_, after) = following.split_once(';')?;
            Some(("", after))
        }
        _ => None,
    }
}

/// Signs that are written as codes: `%%d`, `%%p`, `%%c`, `\U+00e9`.
fn shown(words: &str) -> String {
    let mut out = String::new();
    let mut rest = words;
    while let Some(letter) = rest.chars().next() {
        let code = rest.strip_prefix("%%").and_then(|after| {
            let sign = match after.chars().next()?.to_ascii_lowercase() {
                'd' => "\u{b0}",
                'p' => "\u{b1}",
                'c' => "\u{2300}",
                'u' | 'o' | 'k' => "",
                '%' => "%",
                _ => return None,
            };
            Some((sign.to_owned(), after.get(1..)?))
        });
        let unicode = || coded(rest);
        let caret = || {
            Some((
                " ".to_owned(),
                rest.strip_prefix("^J").or(rest.strip_prefix("^I"))?,
            ))
        };
        match code.or_else(unicode).or_else(caret) {
            Some((sign, after)) => {
                out.push_str(&sign);
                rest = after;
            }
            None => {
                if !letter.is_control() {
                    out.push(letter);
                }
                rest = rest.get(letter.len_utf8()..).unwrap_or_default();
            }
        }
    }
    out
}

/// A letter that is written as one or two codes of UTF-16, and what follows it.
fn coded(words: &str) -> Option<(String, &str)> {
    let unit = |words: &'_ str| -> Option<u16> {
        u16::from_str_radix(words.strip_prefix("\\U+")?.get(..4)?, 16).ok()
    };
    let after = |words| -> Option<&str> { <str>::get(words, 7..) };
    let first = unit(words)?;
    let rest = after(words)?;
    let both = [first, unit(rest).unwrap_or_default()];
    if let Some(Ok(letter)) = char::decode_utf16(both).next() {
        let rest = if letter.len_utf16() == 2 {
            after(rest)?
        } else {
            rest
        };
        return Some((letter.to_string(), rest));
    }
    Some((char::REPLACEMENT_CHARACTER.to_string(), rest))
}
