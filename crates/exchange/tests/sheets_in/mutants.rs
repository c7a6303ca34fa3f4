//! Damaged PDFs: an answer every time, never a panic, and what was read can be joined.

use super::*;
use petitoile_exchange::bring_in::scale::scale_check;
use petitoile_exchange::bring_in::sheets::{Matches, joined};

/// A small source of chance, the same on every machine (xorshift64*, Vigna 2016).
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_f491_4f6c_dd1d)
    }

    fn below(&mut self, most: usize) -> usize {
        (self.next() % most.max(1) as u64) as usize
    }
}

/// Bytes with a few things wrong: changed, cut out, doubled, torn off, figures made absurd.
fn damaged(whole: &[u8], chance: &mut Chance) -> Vec<u8> {
    let mut bytes = whole.to_vec();
    for _ in 0..1 + chance.below(6) {
        let at = chance.below(bytes.len());
        let long = 1 + chance.below(40);
        let end = (at + long).min(bytes.len());
        match chance.below(7) {
            0 => bytes[at] = chance.next() as u8,
            1 => drop(bytes.drain(at..end)),
            2 => {
                let part = bytes[at..end].to_vec();
                bytes.splice(at..at, part);
            }
            3 => bytes.truncate(at.max(20)),
            4 => {
                let words: [&[u8]; 10] = [
                    b"99999999999999",
                    b"-1",
                    b"<<",
                    b">>",
                    b"[",
                    b"]",
                    b"0 0 R",
                    b"NaN",
                    b"endobj",
                    b" Do ",
                ];
                let word = words[chance.below(words.len())];
                bytes.splice(at..at, word.iter().copied());
            }
            5 => {
                // One digit for another: references, lengths, places.
                let digits: Vec<usize> = (0..bytes.len())
                    .filter(|i| bytes[*i].is_ascii_digit())
                    .collect();
                if let Some(i) = digits.get(chance.below(digits.len())) {
                    bytes[*i] = b'0' + chance.below(10) as u8;
                }
            }
            _ => bytes[at] ^= 1 << chance.below(8),
        }
        if bytes.len() < 20 {
            break;
        }
    }
    bytes
}

#[test]
fn of_2600_damaged_files_each_gets_an_answer() {
    let names = [
        "reportlab.pdf",
        "cairo.pdf",
        "layers_plain.pdf",
        "layers_packed.pdf",
        "user_unit.pdf",
        "locked_without_word.pdf",
        "cut_edge_to_edge.pdf",
        "locked.pdf",
    ];
    let (mut read, mut refused) = (0, 0);
    let mut chance = Chance(1912);
    for name in names {
        let whole = sample(name);
        for _ in 0..325 {
            match bring_in(&damaged(&whole, &mut chance), name) {
                Ok(found) => {
                    assert!(!found.sheets.is_empty());
                    let places = Matches::of(&found).proposed(&found);
                    let sheet = joined(&found, &places, 0.5).sheet;
                    assert!(sheet.lines.iter().all(|line| line.path.is_finite()));
                    let _ = scale_check(&sheet);
                    read += 1;
                }
                Err(BringInError::Broken { why, .. }) => {
                    assert!(
                        !why.contains("contradict"),
                        "a panic inside, made an answer"
                    );
                    refused += 1;
                }
                Err(_) => refused += 1,
            }
        }
    }
    assert_eq!(read + refused, 2600);
    assert!(
        read > 500 && refused > 100,
        "both kinds: {read} read, {refused} refused"
    );
}
