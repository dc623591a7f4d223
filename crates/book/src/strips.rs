//! Strips from boards, and rods from bars.
//!
//! In: the parts of a table, the length of a board, the saw's kerf. Out: [`Strip`]s: what is cut from each board.
//! Always true: every part that is not cut from sheet stock and not bought whole is in exactly one of them, with
//! all its pieces; no board is longer than given, unless a single piece is.

use turnleaf_parts::{Assembly, Part};

/// The section of a board or bar, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Section {
    /// Width and thickness, the larger first.
    Square(f64, f64),
    /// Diameter.
    Round(f64),
}

/// Pieces of one section and material.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    /// Material as the parts name it.
    pub material: String,
    /// Section.
    pub section: Section,
    /// For each board the pieces cut from it, in order: index of the part, length in mm.
    pub boards: Vec<Vec<(usize, f64)>>,
}

impl Strip {
    /// Parts in it, once each, in list order.
    pub fn parts(&self) -> Vec<usize> {
        let mut all: Vec<usize> = self.boards.iter().flatten().map(|p| p.0).collect();
        all.sort_unstable();
        all.dedup();
        all
    }
    /// How many pieces of a part.
    pub fn count(&self, part: usize) -> usize {
        self.boards.iter().flatten().filter(|p| p.0 == part).count()
    }
    /// All lengths together, mm.
    pub fn total(&self) -> f64 {
        self.boards.iter().flatten().map(|p| p.1).sum()
    }
}

/// Whether a part is bought whole, not made and not cut from a bar.
pub fn bought_whole(part: &Part) -> bool {
    let what = part.material.as_str();
    !part.made && (what == "steel" || what.starts_with("bought") || !crate::say::is_round(&part.outline))
}

/// The section a part is cut from and its length, which is along the grain; nothing for what comes from sheets or is bought whole.
fn cut(part: &Part) -> Option<(Section, f64)> {
    let [length, a, b] = part.size();
    if part.made && part.material == "hardwood" {
        Some((Section::Square(a.max(b), a.min(b)), length))
    } else if !part.made && !bought_whole(part) {
        Some((Section::Round(length), part.thickness))
    } else {
        None
    }
}

/// Sections that differ by less are one board, mm: they are planed or sawn from the same stock.
const SAME: f64 = 0.55;

fn alike(a: Section, b: Section) -> bool {
    match (a, b) {
        (Section::Square(a, b), Section::Square(c, d)) => (a - c).abs() < SAME && (b - d).abs() < SAME,
        (Section::Round(a), Section::Round(b)) => (a - b).abs() < 1e-6,
        _ => false,
    }
}

/// All strips, in list order. Longest pieces first, each into the first board that has room (first fit decreasing,
/// which never takes more than 11/9 of the fewest boards and one more; D. S. Johnson 1973, from memory).
pub fn strips(a: &Assembly, board: f64, kerf: f64) -> Vec<Strip> {
    let mut out: Vec<(Strip, Vec<(usize, f64)>)> = Vec::new();
    for (i, part) in a.parts.iter().enumerate().filter(|(_, p)| p.count > 0) {
        let Some((section, length)) = cut(part) else { continue };
        let same = |s: &&mut (Strip, _)| s.0.material == part.material && alike(s.0.section, section);
        let at = match out.iter_mut().find(same) {
            Some((strip, list)) => {
                if let (Section::Square(a, b), Section::Square(c, d)) = (strip.section, section) {
                    strip.section = Section::Square(a.max(c), b.max(d));
                }
                list
            }
            None => {
                let strip = Strip { material: part.material.clone(), section, boards: Vec::new() };
                out.push((strip, Vec::new()));
                let last = out.len() - 1;
                &mut out[last].1
            }
        };
        at.extend(core::iter::repeat_n((i, length), part.count));
    }
    for (strip, list) in &mut out {
        list.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        let mut left: Vec<f64> = Vec::new();
        for piece in list.iter() {
            let fits = left.iter().position(|room| *room >= piece.1);
            let at = fits.unwrap_or_else(|| {
                left.push(board);
                strip.boards.push(Vec::new());
                left.len() - 1
            });
            strip.boards[at].push(*piece);
            left[at] -= piece.1 + kerf;
        }
    }
    out.into_iter().map(|(strip, _)| strip).collect()
}
