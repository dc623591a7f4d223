//! Rank of a growing set of rows, and what is left loose.
//!
//! In: rows of slopes against numbered unknowns. Out: whether each row says something new, the rank, and
//! one loose motion for every unknown that nothing fixes.
//! Always true: rows are reduced against all earlier ones, so the order of adding decides which of two
//! rows that say the same is called the repeat, and nothing else.

/// A row reduced to less than this part of its size says nothing new. Larger would call a well-conditioned
/// but shallow dimension a repeat; smaller would let rounding noise (about 1e-13 here) count as knowledge.
pub const NOTHING_NEW: f64 = 1e-7;

/// Rows in echelon form.
#[derive(Clone, Debug)]
pub struct Echelon {
    size: usize,
    rows: Vec<(usize, Vec<f64>)>,
}

impl Echelon {
    /// No rows yet, `size` unknowns.
    pub fn new(size: usize) -> Echelon {
        Echelon { size, rows: Vec::new() }
    }
    /// Rows that said something new.
    pub fn rank(&self) -> usize {
        self.rows.len()
    }
    /// The row scaled to size one and reduced against what is known; the largest entry left, and where.
    fn reduce(&self, slopes: &[(usize, f64)]) -> Option<(usize, f64, Vec<f64>)> {
        let norm = slopes.iter().map(|s| s.1 * s.1).sum::<f64>().sqrt();
        if !norm.is_normal() {
            return None;
        }
        let mut row = vec![0.0; self.size];
        for &(u, s) in slopes {
            row[u] += s / norm;
        }
        for (col, known) in &self.rows {
            let k = row[*col];
            if k != 0.0 {
                let k = k / known[*col];
                for (r, q) in row.iter_mut().zip(known) {
                    *r -= k * q;
                }
                row[*col] = 0.0;
            }
        }
        let mut best = (0, 0.0f64);
        for (u, r) in row.iter().enumerate() {
            if r.abs() > best.1 {
                best = (u, r.abs());
            }
        }
        Some((best.0, best.1, row))
    }
    /// How much of the row is new, 0 (nothing) to about 1 (all of it).
    pub fn news(&self, slopes: &[(usize, f64)]) -> f64 {
        self.reduce(slopes).map_or(0.0, |r| r.1)
    }
    /// Adds the row if it says something new; tells whether it did.
    pub fn add(&mut self, slopes: &[(usize, f64)]) -> bool {
        match self.reduce(slopes) {
            Some((col, size, row)) if size > NOTHING_NEW => {
                self.rows.push((col, row));
                true
            }
            _ => false,
        }
    }
    /// One motion for each unknown that nothing fixes: how every unknown moves when that one moves by 1.
    pub fn loose(&self) -> Vec<Vec<f64>> {
        let mut pivot = vec![false; self.size];
        for (col, _) in &self.rows {
            pivot[*col] = true;
        }
        let mut out = Vec::new();
        for free in (0..self.size).filter(|&u| !pivot[u]) {
            let mut z = vec![0.0; self.size];
            z[free] = 1.0;
            // Later rows hold no earlier pivot, so going backwards meets only settled unknowns.
            for (col, row) in self.rows.iter().rev() {
                let sum: f64 = row.iter().zip(&z).map(|(r, q)| r * q).sum::<f64>() - row[*col] * z[*col];
                z[*col] = -sum / row[*col];
            }
            out.push(z);
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_repeat_is_seen_and_the_loose_unknown_is_named() {
        let mut e = Echelon::new(4);
        assert!(e.add(&[(0, 1.0), (1, 1.0)]));
        assert!(e.add(&[(1, 2.0), (2, -1.0)]));
        assert!(!e.add(&[(0, 2.0), (2, 1.0)]), "twice the first less the second");
        assert_eq!(e.rank(), 2);
        let loose = e.loose();
        assert_eq!(loose.len(), 2);
        for z in &loose {
            assert!((z[0] + z[1]).abs() < 1e-12 && (2.0 * z[1] - z[2]).abs() < 1e-12, "{z:?}");
        }
        assert!(e.add(&[(3, 5.0)]) && e.add(&[(0, 1.0)]));
        assert!(e.loose().is_empty());
    }
}
