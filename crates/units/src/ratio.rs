//! Exact fractions for reading and rounding.
//!
//! In: whole numbers. Out: a [`Ratio`], or a whole number rounded half to even.
//! Always true: the denominator is positive; every step is checked, an overflow is `None`, never a wrap.

/// `num / den`, not necessarily reduced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Ratio {
    pub num: i128,
    pub den: i128,
}

impl Ratio {
    pub const fn whole(num: i128) -> Ratio {
        Ratio { num, den: 1 }
    }
    /// Sum.
    pub fn plus(self, other: Ratio) -> Option<Ratio> {
        let num = self.num.checked_mul(other.den)?.checked_add(other.num.checked_mul(self.den)?)?;
        Some(Ratio { num, den: self.den.checked_mul(other.den)? })
    }
    /// Times a whole number, over a whole positive number, rounded half to even.
    /// The flag says whether the result is exact.
    pub fn scaled(self, times: i128, over: i128) -> Option<(i64, bool)> {
        let num = self.num.checked_mul(times)?;
        let den = self.den.checked_mul(over)?;
        let rounded = round_half_even(num, den)?;
        let exact = rounded.checked_mul(den)? == num;
        Some((i64::try_from(rounded).ok()?, exact))
    }
    /// Nearest float.
    pub fn to_f64(self) -> f64 {
        self.num as f64 / self.den as f64
    }
    /// Whether it is a whole number.
    pub fn is_whole(self) -> bool {
        self.num % self.den == 0
    }
}

/// `num / den` to the nearest whole number; a tie goes to the even one. `den` must be positive.
pub(crate) fn round_half_even(num: i128, den: i128) -> Option<i128> {
    let (floor, rest) = (num.div_euclid(den), num.rem_euclid(den));
    let twice = rest.checked_mul(2)?;
    let up = twice > den || (twice == den && floor % 2 != 0);
    if up { floor.checked_add(1) } else { Some(floor) }
}

/// Greatest common divisor of two numbers, neither negative.
pub(crate) fn gcd(a: i64, b: i64) -> i64 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}
