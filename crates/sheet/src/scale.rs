//! Preferred scales.
//!
//! In: nothing. Out: the series, largest first.
//! Always true: only scales of ISO 5455:1979 (50:1 … 1:10000) are used; 1:2.5, 1:4 and 1:25 are not among them.

/// A scale: so many mm on paper for so many on the part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scale {
    /// On paper.
    pub paper: u32,
    /// On the part.
    pub part: u32,
}

const fn scale(paper: u32, part: u32) -> Scale {
    Scale { paper, part }
}

/// The series of ISO 5455:1979, largest first, as far as a table's parts need it.
pub const PREFERRED: [Scale; 11] = [
    scale(10, 1),
    scale(5, 1),
    scale(2, 1),
    scale(1, 1),
    scale(1, 2),
    scale(1, 5),
    scale(1, 10),
    scale(1, 20),
    scale(1, 50),
    scale(1, 100),
    scale(1, 200),
];

impl Scale {
    /// Paper mm for one mm of the part.
    pub fn factor(self) -> f64 {
        f64::from(self.paper) / f64::from(self.part)
    }
    /// "1 : 5".
    pub fn text(self) -> String {
        format!("{} : {}", self.paper, self.part)
    }
}
