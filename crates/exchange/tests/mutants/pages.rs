//! Damaged PDFs: an answer every time, never a panic, and what was read is joined and recognised.

use petitoile_exchange::bring_in::{BringInError, Limits, Watch, read};

use super::{PDF, Watched, whole_way};

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
fn damaged_pdf_goes_the_whole_way_or_is_refused() {
    let mut watched = Watched::new("PDF");
    let names = [
        "reportlab.pdf",
        "cairo.pdf",
        "layers_plain.pdf",
        "layers_packed.pdf",
        "user_unit.pdf",
        "locked_without_word.pdf",
        "cut_edge_to_edge.pdf",
        "locked.pdf",
        "tiled_reportlab.pdf",
        "tiled_cairo.pdf",
        "cut_with_overlap.pdf",
    ];
    let (mut taken, mut refused) = (0, 0);
    let mut chance = Chance(1912);
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/samples/pages/");
    for name in names {
        let whole = std::fs::read(format!("{folder}{name}")).unwrap();
        for _ in 0..PDF / names.len() {
            let bytes = damaged(&whole, &mut chance);
            let found = watched.one(|| {
                let found = read(&bytes, name, &Limits::default(), &Watch::default());
                found.iter().for_each(whole_way);
                found
            });
            match found {
                Ok(_) => taken += 1,
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
    assert!(
        taken > 500 && refused > 100,
        "both kinds: {taken} read, {refused} refused"
    );
    watched.ends(PDF);
}
