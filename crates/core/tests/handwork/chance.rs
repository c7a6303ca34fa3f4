//! Numbers by chance from a seed.

use petitoile_core::units::Mm;

/// Numbers by chance from a seed: splitmix64 (Steele, Lea and Flood 2014; from memory).
pub(super) struct Chance(pub(super) u64);

impl Chance {
    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    pub(super) fn below(&mut self, count: usize) -> usize {
        (self.next() % count.max(1) as u64) as usize
    }

    pub(super) fn between(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(super) fn of<'a, T>(&mut self, list: &'a [T]) -> Option<&'a T> {
        let at = self.below(list.len());
        list.get(at)
    }

    pub(super) fn mm(&mut self, most: f64) -> Mm {
        // round figures are as likely as odd ones: corners then fall on corners
        let value = self.between(-most, most);
        Mm(if self.below(2) == 0 {
            value.round()
        } else {
            value
        })
    }

    pub(super) fn is(&mut self) -> bool {
        self.below(2) == 0
    }
}
