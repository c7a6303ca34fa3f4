//! Chance from a seed: the same numbers on every machine.

/// A counter whose values are mixed by two multiplications and three shifts (the finaliser of `SplitMix`, Steele, Lea, Flood 2014,
/// "Fast splittable pseudorandom number generators", OOPSLA).
#[derive(Clone, Debug)]
pub(crate) struct Chance {
    state: u64,
}

impl Chance {
    pub(crate) fn new(seed: u64) -> Self {
        Self {
            state: seed ^ 0x5DEE_CE66_D1CE_4E5B,
        }
    }

    fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// At least 0, below 1.
    pub(crate) fn unit(&mut self) -> f32 {
        // 24 bits: exactly what an f32 holds.
        (self.next() >> 40) as f32 * (1.0 / 16_777_216.0)
    }

    /// At least `low`, at most `high`.
    pub(crate) fn between(&mut self, low: f32, high: f32) -> f32 {
        low + (high - low) * self.unit()
    }

    /// Below `count`; 0 when there is nothing to choose.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        ((u128::from(self.next()) * count as u128) >> 64) as usize
    }

    /// Roughly bell-shaped around 0 with deviation 1: the sum of twelve even numbers less six. No logarithm, so the same bits
    /// everywhere.
    pub(crate) fn bell(&mut self) -> f32 {
        (0..12).map(|_| self.unit()).sum::<f32>() - 6.0
    }

    /// Puts a list in a random order.
    pub(crate) fn shuffle<T>(&mut self, list: &mut [T]) {
        for end in (1..list.len()).rev() {
            list.swap(end, self.below(end + 1));
        }
    }
}
