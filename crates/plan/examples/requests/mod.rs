//! Requests drawn by a fixed rule, for examples that look at many tables: demo data.
//!
//! In: a drive for each request. Out: wishes with 4 to 12 sectors, closed diameters from 700 to 2,000 mm, opening by
//! a fifth to two fifths, stock from 12 to 25 mm.
//! Always true: the same requests in the same order, whatever drives are asked for.

use turnleaf_fit::{Goal, Wish};
use turnleaf_plan::DriveKind;

/// The requests, from the first.
pub struct Requests {
    seed: u64,
    drawn: usize,
}

impl Requests {
    /// From the first request.
    pub fn new() -> Requests {
        Requests { seed: 0x9E37_79B9_7F4A_7C15, drawn: 0 }
    }
    /// Evenly spread from 0 to 1 (xorshift).
    fn share(&mut self) -> f64 {
        self.seed ^= self.seed << 13;
        self.seed ^= self.seed >> 7;
        self.seed ^= self.seed << 17;
        (self.seed >> 11) as f64 / (1u64 << 53) as f64
    }
    /// The next request.
    pub fn next(&mut self, drive: DriveKind) -> Wish {
        let closed = (700.0 + 1300.0 * self.share()).round();
        let wish = Wish {
            closed_diameter: closed,
            open_diameter: (closed * (1.2 + 0.2 * self.share())).round(),
            sectors: 4 + self.drawn % 9,
            stock_thickness: (12.0 + 13.0 * self.share()).round(),
            height: 740.0,
            drive,
            goal: Goal::Margin,
        };
        self.drawn += 1;
        wish
    }
}
