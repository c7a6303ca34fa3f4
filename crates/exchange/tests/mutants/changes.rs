//! A bounded corpus of broken files: each reader gets thousands of mutated ones and must give an answer.
//!
//! The same seeds every time, the limits as a maker has them; what comes out must keep them.

use petitoile_exchange::bring_in::{FoundDrawing, Limits};

use super::{Watched, whole_way};

/// Splitmix64, a published generator (Steele, Lea, Flood 2014): the same numbers everywhere.
pub struct Chance(pub u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    pub fn below(&mut self, most: usize) -> usize {
        usize::try_from(self.next() % (most.max(1) as u64)).unwrap()
    }
}

const FIGURES: [&str; 14] = [
    "0",
    "-1",
    "1e300",
    "-1e308",
    "NaN",
    "inf",
    "1e-320",
    "4294967296",
    "9223372036854775808",
    "99999999999999999999999999",
    "0.0000001",
    "-0",
    "2147483647",
    "1e39",
];

/// A stretch of a file, at most 64 bytes of it.
fn stretch(chance: &mut Chance, length: usize) -> std::ops::Range<usize> {
    let from = chance.below(length + 1);
    from..(from + chance.below(64)).min(length)
}

/// Where figures stand in a file.
fn figures(bytes: &[u8]) -> Vec<std::ops::Range<usize>> {
    let mut all: Vec<std::ops::Range<usize>> = Vec::new();
    for (at, byte) in bytes.iter().enumerate() {
        if byte.is_ascii_digit() || *byte == b'.' || *byte == b'-' {
            match all.last_mut() {
                Some(last) if last.end == at => last.end = at + 1,
                _ => all.push(at..at + 1),
            }
        }
    }
    all
}

/// Pairs of lines taken out, drawn again or moved elsewhere: a DXF stays in step.
fn pairs_changed(chance: &mut Chance, out: &mut Vec<u8>) {
    let mut lines: Vec<Vec<u8>> = out
        .split_inclusive(|byte| *byte == b'\n')
        .map(<[u8]>::to_vec)
        .collect();
    let pairs = lines.len() / 2;
    if pairs < 2 {
        return;
    }
    let from = chance.below(pairs);
    let to = (from + 1 + chance.below(6)).min(pairs);
    let taken: Vec<Vec<u8>> = if chance.below(2) == 0 {
        lines.drain(2 * from..2 * to).collect()
    } else {
        lines[2 * from..2 * to].to_vec()
    };
    if chance.below(3) > 0 {
        let at = 2 * chance.below(lines.len() / 2 + 1);
        let many = 1 + chance.below(10);
        for _ in 0..many {
            lines.splice(at..at, taken.clone());
        }
    }
    *out = lines.concat();
}

/// A value of a DXF replaced by an odd figure or another of its values: every second line.
fn value_changed(chance: &mut Chance, out: &mut Vec<u8>) {
    let mut lines: Vec<Vec<u8>> = out
        .split(|byte| *byte == b'\n')
        .map(<[u8]>::to_vec)
        .collect();
    if lines.len() < 4 {
        return;
    }
    let at = 2 * chance.below(lines.len() / 2) + 1;
    lines[at] = if chance.below(2) == 0 {
        FIGURES[chance.below(FIGURES.len())].as_bytes().to_vec()
    } else {
        lines[2 * chance.below(lines.len() / 2) + 1].clone()
    };
    *out = lines.join(&b'\n');
}

/// One to four things done to a file: bytes flipped, cut out, repeated, taken from another, figures replaced by odd ones.
pub fn mutated(chance: &mut Chance, file: &[u8], other: &[u8]) -> Vec<u8> {
    let mut out = file.to_vec();
    for _ in 0..=chance.below(4) {
        match chance.below(10) {
            0 => pairs_changed(chance, &mut out),
            1 | 2 => value_changed(chance, &mut out),
            3 | 4 => {
                let places = figures(&out);
                if let Some(place) = places.get(chance.below(places.len())) {
                    let figure = FIGURES[chance.below(FIGURES.len())];
                    out.splice(place.clone(), figure.bytes());
                }
            }
            5 => {
                for _ in 0..=chance.below(8) {
                    let at = chance.below(out.len());
                    let bit = 1 << chance.below(8);
                    if let Some(byte) = out.get_mut(at) {
                        *byte ^= bit;
                    }
                }
            }
            6 => {
                let gone = stretch(chance, out.len());
                out.drain(gone);
            }
            7 => {
                let again = out[stretch(chance, out.len())].to_vec();
                let at = chance.below(out.len() + 1);
                let many = again.repeat(1 + chance.below(20));
                out.splice(at..at, many);
            }
            8 => {
                let taken = other[stretch(chance, other.len())].to_vec();
                let at = chance.below(out.len() + 1);
                out.splice(at..at, taken);
            }
            _ => out.truncate(chance.below(out.len() + 1)),
        }
    }
    out
}

/// What came out keeps the limits and holds nothing but sound figures.
pub fn check(found: &FoundDrawing, limits: &Limits) {
    let reach = limits.reach as f64;
    let mut elements = 0;
    for sheet in &found.sheets {
        for line in &sheet.lines {
            elements += line.path.elements().len() as u64;
            assert!(line.path.is_finite(), "{line:?}");
            assert!(line.width.is_finite() && line.dash.iter().all(|part| part.is_finite()));
            let bounds = line.path.control_box();
            for side in [bounds.x0, bounds.y0, bounds.x1, bounds.y1] {
                assert!(side.abs() <= reach, "{side}");
            }
        }
        for text in &sheet.texts {
            assert!(text.at.is_finite() && text.size.is_finite() && text.turn.is_finite());
            assert!(!text.words.trim().is_empty());
        }
        assert!(sheet.points.iter().all(|point| point.at.is_finite()));
    }
    assert!(elements <= limits.elements, "{elements}");
    assert!(found.left.len() <= 100);
}

/// Mutates each of the files in turn, `times` in all, and takes each the whole way; gives how many still were read and how
/// many were refused.
pub fn storm(
    watched: &mut Watched,
    seed: u64,
    times: usize,
    files: &[Vec<u8>],
    read: impl Fn(&[u8], &Limits) -> Option<FoundDrawing>,
) -> (usize, usize) {
    let limits = Limits::default();
    let mut chance = Chance(seed);
    let (mut taken, mut refused) = (0, 0);
    for number in 0..times {
        let file = &files[number % files.len()];
        let other = &files[chance.below(files.len())];
        let bytes = mutated(&mut chance, file, other);
        let found = watched.one(|| {
            let found = read(&bytes, &limits);
            found.iter().for_each(whole_way);
            found
        });
        match found {
            Some(found) => {
                check(&found, &limits);
                taken += 1;
            }
            None => refused += 1,
        }
    }
    (taken, refused)
}
