//! A fixed sequence of numbers in place of chance.
//!
//! In: nothing. Out: numbers spread evenly. Always true: the same sequence on every platform and every run, so
//! that the same parts give the same layout (Marsaglia's xorshift with Vigna's multiplier).

/// The sequence.
#[derive(Clone, Debug)]
pub struct Fixed(u64);

impl Fixed {
    /// The sequence from its start; another `start` gives another sequence.
    pub fn new(start: u64) -> Fixed {
        Fixed(start.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }
    /// In [0, 1).
    pub fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }
    /// In [from, to).
    pub fn between(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * self.unit()
    }
    /// One of 0..n; 0 for an empty range.
    pub fn below(&mut self, n: usize) -> usize {
        ((self.unit() * n as f64) as usize).min(n.saturating_sub(1))
    }
}
