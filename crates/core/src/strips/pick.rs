//! Which bits make a strip: the fewest, then the shortest that serve.

use super::joins::{Care, Ground};
use super::{
    Ends, Hiding, JoinedStrip, Segment, Size, Source, StripError, StripWanted, Tally, WrongStrip,
};
use crate::units::Mm;

/// Rounding, mm.
const NEAR: f64 = 1e-7;

/// Most segments of one strip.
const MOST: usize = 2_000;

/// How many more than the fewest are tried so that joins are hidden.
const MORE: usize = 3;

/// A bit of cloth: its place in the list, and its length.
type Bit = (usize, f64);

pub(super) fn joined(wanted: &StripWanted, source: &Source) -> Result<JoinedStrip, StripError> {
    if let Hiding::UnderPleats(folded) = &wanted.hiding {
        let between = wanted.lengths().0.0 - wanted.at_ends();
        if (folded.cloth.0 - between).abs() > 0.01 {
            return Err(WrongStrip::Pleats(folded.cloth, Mm(between)).into());
        }
    }
    let need = Need::new(wanted);
    let usable = need.usable(source)?;
    let Some(fewest) = (1..=usable.len()).find(|n| need.reaches(usable.iter().take(*n).copied()))
    else {
        return Err(need.too_short(wanted, source, &usable));
    };
    let ground = Ground::new(wanted);
    let tries = |count: usize| -> Vec<Vec<Bit>> { orders(&need.shortest_of(&usable, count)) };
    let most = (fewest + MORE).min(usable.len());
    for count in fewest..=most {
        for order in tries(count) {
            if let Some(strip) = need.strip(wanted, &ground, &order, Care::Full) {
                return Ok(strip);
            }
        }
    }
    // Not hidden, or at least made.
    for care in [Care::KeepsOff, Care::None] {
        for order in tries(fewest) {
            if let Some(strip) = need.strip(wanted, &ground, &order, care) {
                return Ok(strip);
            }
        }
    }
    Err(need.too_short(wanted, source, &usable))
}

/// What the segments have to add up to.
struct Need {
    length: f64,
    /// Lost in each join.
    loss: f64,
    is_ring: bool,
    shortest: f64,
}

impl Need {
    fn new(wanted: &StripWanted) -> Self {
        Self {
            length: wanted.lengths().0.0,
            loss: wanted.lost_in_join().0,
            is_ring: wanted.ends == Ends::Ring,
            shortest: wanted.shortest.0,
        }
    }

    fn joins(&self, segments: usize) -> usize {
        if self.is_ring {
            segments
        } else {
            segments.saturating_sub(1)
        }
    }

    /// Length to cut in all.
    fn cut(&self, segments: usize) -> f64 {
        self.length + self.loss * self.joins(segments) as f64
    }

    fn reaches(&self, bits: impl Iterator<Item = Bit>) -> bool {
        let (count, sum) = bits.fold((0, 0.0), |(n, sum), bit| (n + 1, sum + bit.1));
        sum >= self.cut(count) - NEAR
    }

    /// Bits worth joining, the longest first.
    fn usable(&self, source: &Source) -> Result<Vec<Bit>, StripError> {
        let bits = match source {
            Source::Bits(bits) => bits.clone(),
            Source::Every(each) => {
                // The length they cover beside their joins; one more for an open strip's missing join.
                let count =
                    ((self.length + self.loss) / (each.0 - self.loss)).ceil() + 1.0 + MORE as f64;
                let most = MOST + MORE;
                let count = if each.0 > self.loss {
                    count.min(most as f64) as usize
                } else {
                    1
                };
                vec![*each; count]
            }
        };
        let enough = |bit: &Bit| bit.1 >= self.shortest.min(self.length) - NEAR && bit.1 > 0.0;
        let mut usable: Vec<Bit> = bits
            .iter()
            .map(|b| b.0)
            .enumerate()
            .filter(enough)
            .collect();
        usable.sort_by(|a, b| b.1.total_cmp(&a.1));
        if usable
            .iter()
            .take(MOST)
            .map(|b| b.1 - self.loss)
            .sum::<f64>()
            < self.length - self.loss
            && usable.len() > MOST
        {
            return Err(WrongStrip::Segments(MOST).into());
        }
        Ok(usable)
    }

    /// So many bits that reach, none of which can be exchanged for a shorter one left over.
    fn shortest_of(&self, usable: &[Bit], count: usize) -> Vec<Bit> {
        let mut chosen: Vec<Bit> = usable.iter().take(count).copied().collect();
        let mut left: Vec<Bit> = usable.iter().skip(count).copied().collect();
        let mut spare = chosen.iter().map(|b| b.1).sum::<f64>() - self.cut(count);
        for bit in &mut chosen {
            // The shortest left over that still reaches; `left` is sorted, the longest first.
            let least = bit.1 - spare - NEAR;
            let serves = left
                .iter()
                .rposition(|other| other.1 >= least && other.1 < bit.1);
            if let Some(other) = serves.and_then(|at| left.get_mut(at)) {
                spare -= bit.1 - other.1;
                std::mem::swap(bit, other);
                left.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
            }
        }
        chosen.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        chosen
    }

    /// The strip of these bits in this order; `None` when its joins cannot be placed with that care.
    fn strip(
        &self,
        wanted: &StripWanted,
        ground: &Ground<'_>,
        bits: &[Bit],
        care: Care,
    ) -> Option<JoinedStrip> {
        let count = bits.len();
        let own_loss = |i: usize| {
            let first = i == 0 && !self.is_ring;
            let last = i + 1 == count && !self.is_ring;
            self.loss / 2.0 * f64::from(2 - u8::from(first) - u8::from(last))
        };
        let shortest = self.shortest.min(self.cut(count) / count as f64);
        let reaches: Vec<(f64, f64)> = bits
            .iter()
            .enumerate()
            .map(|(i, bit)| ((shortest - own_loss(i)).max(NEAR), bit.1 - own_loss(i)))
            .collect();
        if reaches.iter().any(|(least, most)| *most < least - NEAR) {
            return None;
        }
        let places = ground.placed(&reaches, &spread(&reaches, self.length), care)?;
        let starts = std::iter::once(0.0).chain(places.iter().copied());
        let ends = places.iter().copied().chain([self.length]);
        let segments: Vec<Segment> = bits
            .iter()
            .enumerate()
            .zip(starts.zip(ends))
            .map(|((i, bit), (from, to))| Segment {
                cut: Mm(to - from + own_loss(i)),
                bit: bit.0,
                of: Mm(bit.1),
                covers: (Mm(from), Mm(to)),
            })
            .collect();
        let closing = self.is_ring.then_some(self.length);
        let joins: Vec<_> = places
            .iter()
            .copied()
            .chain(closing)
            .map(|at| ground.join(at))
            .collect();
        let (cloth, finished) = wanted.lengths();
        let (cut_width, finished_width) = wanted.widths();
        let cut: f64 = segments.iter().map(|s| s.cut.0).sum();
        let of: f64 = bits.iter().map(|b| b.1).sum();
        let ends = wanted.at_ends();
        let tally = Tally {
            segments: count,
            joins: joins.len(),
            cut: Mm(cut),
            shown: finished,
            drawn_in: Mm(cloth.0 - ends - finished.0),
            ends: Mm(ends),
            joins_take: Mm(self.loss * joins.len() as f64),
            left: Mm(of - cut),
            bits: Mm(of),
        };
        Some(JoinedStrip {
            finished,
            finished_width,
            cloth,
            cut_width,
            segments,
            joins,
            tally,
        })
    }

    /// Why the bits do not reach, with the strip that they do give.
    fn too_short(&self, wanted: &StripWanted, source: &Source, usable: &[Bit]) -> StripError {
        // One bit alone needs no join, so more bits may give less.
        let given = |n: usize| {
            usable.iter().take(n).map(|b| b.1).sum::<f64>() - self.loss * self.joins(n) as f64
        };
        let got = (1..=usable.len()).map(given).fold(0.0, f64::max);
        let shorter = StripWanted {
            length: Size::Cut(Mm((got - 0.001).max(0.0))),
            hiding: Hiding::Nowhere,
            ..wanted.clone()
        };
        let nearest = (got < self.length && shorter.lengths().1.0 > 0.0)
            .then(|| super::joined(&shorter, source).ok())
            .flatten();
        let all = match source {
            Source::Bits(bits) => bits.len(),
            Source::Every(_) => usable.len(),
        };
        StripError::TooShort {
            needed: Mm(self.length),
            got: Mm(got),
            left_out: all - usable.len(),
            shortest: wanted.shortest,
            nearest: nearest.map(Box::new),
        }
    }
}

/// Where joins would fall if every segment gave the same share of what it can.
fn spread(reaches: &[(f64, f64)], length: f64) -> Vec<f64> {
    let whole: f64 = reaches.iter().map(|(_, most)| most).sum();
    let mut before = 0.0;
    let inner = reaches.iter().take(reaches.len().saturating_sub(1));
    inner
        .map(|(_, most)| {
            before += most;
            length * before / whole
        })
        .collect()
}

/// Orders in which bits are tried: all of them up to four bits, else every turn of the list and of its reverse, at most
/// 24. Bits of one length are tried once.
fn orders(bits: &[Bit]) -> Vec<Vec<Bit>> {
    const TRIES: usize = 24;
    let is_even = bits
        .windows(2)
        .all(|pair| pair.first().map(|b| b.1) == pair.last().map(|b| b.1));
    if is_even {
        return vec![bits.to_vec()];
    }
    if bits.len() <= 4 {
        return permutations(bits);
    }
    let reversed: Vec<Bit> = bits.iter().rev().copied().collect();
    (0..bits.len())
        .flat_map(|turn| {
            [bits, &reversed].map(|list| {
                let mut list = list.to_vec();
                list.rotate_left(turn);
                list
            })
        })
        .take(TRIES)
        .collect()
}

fn permutations(bits: &[Bit]) -> Vec<Vec<Bit>> {
    if bits.len() < 2 {
        return vec![bits.to_vec()];
    }
    let mut all = Vec::new();
    for (at, first) in bits.iter().enumerate() {
        let rest: Vec<Bit> = bits
            .iter()
            .enumerate()
            .filter(|(i, _)| *i != at)
            .map(|(_, b)| *b)
            .collect();
        for tail in permutations(&rest) {
            all.push(std::iter::once(*first).chain(tail).collect());
        }
    }
    all
}
