//! Tolerance stacks: worst case, root-sum-square, and by trial.
//!
//! In: contributions, each a mean shift and a half-width, mm. Out: bands, mm.
//! Always true: trials use this file's own generator from a given start, so the same numbers come out on
//! every machine.

/// Worst case: the sum of the half-widths.
pub fn worst(halves: &[f64]) -> f64 {
    halves.iter().map(|h| h.abs()).sum()
}

/// Root-sum-square of the half-widths: the same share of stacks stays inside as of each contribution, when
/// they are independent and normal.
pub fn root_sum_square(halves: &[f64]) -> f64 {
    halves.iter().map(|h| h * h).sum::<f64>().sqrt()
}

/// Root-sum-square times a factor for contributions that are not quite normal (1.2 to 1.5 in use).
pub fn inflated(halves: &[f64], factor: f64) -> f64 {
    factor * root_sum_square(halves)
}

/// A small generator of repeatable numbers: splitmix64 (Steele, Lea and Flood 2014).
#[derive(Clone, Debug)]
pub struct Draws {
    state: u64,
}

impl Draws {
    /// Starts a sequence.
    pub fn start(at: u64) -> Draws {
        Draws { state: at }
    }
    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }
    /// Uniform in [0, 1).
    pub fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }
    /// Nearly normal with mean 0 and deviation 1: twelve uniform numbers less six. Bounded by ±6, needs no
    /// transcendental function, and its deviation is exactly 1.
    pub fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.unit()).sum::<f64>() - 6.0
    }
    /// A size drawn about a mean so that the half-width is three deviations, kept inside it.
    pub fn within(&mut self, mean: f64, half: f64) -> f64 {
        mean + (self.normal() / 3.0).clamp(-1.0, 1.0) * half
    }
}

/// The value that the share `p` of a list stays at or below. 0 for an empty list.
pub fn percentile(mut values: Vec<f64>, p: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    let last = values.len().saturating_sub(1);
    let at = (p * last as f64).round() as usize;
    values.get(at.min(last)).copied().unwrap_or(0.0)
}
