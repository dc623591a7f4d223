//! The sheet's frame: border, zones, centring marks.
//!
//! In: a paper and its orientation. Out: the drawing space and the items round it.
//! Always true: sizes are those of ISO 5457:1999: 20 mm margin on the left, 10 mm on the other sides; zones
//! of 50 mm counted from the sheet's axes, the corner zones taking what is left over; letters without I and O;
//! A4 (and Letter, which is about its size) is lettered on the top and the right only.

use crate::block::{line, rect, words};
use turnleaf_page::{Anchor, Face, Item, Paper, Pt, Role, pt};

/// Filing margin, mm (ISO 5457:1999 4.2).
pub const LEFT: f64 = 20.0;
/// The other margins, mm (ISO 5457:1999 4.2).
pub const MARGIN: f64 = 10.0;
/// From the frame out to the border of the zones, mm (ISO 5457:1999 4.4, from memory).
const GRID: f64 = 5.0;
/// How far centring marks reach into the drawing space, mm (from memory; shorter than the standard's 10 would
/// be found less easily when filming, longer would cost drawing space).
pub const MARK: f64 = 4.0;
/// Length of a zone, mm (ISO 5457:1999 4.4).
const ZONE: f64 = 50.0;
const FRAME_LINE: f64 = 0.7;
const GRID_LINE: f64 = 0.35;

/// A sheet and its drawing space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Border {
    /// Paper width, mm.
    pub width: f64,
    /// Paper height, mm.
    pub height: f64,
    /// Upper left corner of the drawing space.
    pub min: Pt,
    /// Lower right corner of the drawing space.
    pub max: Pt,
    /// Whether all four sides are lettered.
    pub all_sides: bool,
}

/// Number of zones along a side of this length (ISO 5457:1999 table 2: A4 6 × 4, A3 8 × 6, A2 12 × 8).
pub fn zones(side: f64) -> usize {
    2 * ((side / 2.0 / ZONE).round() as usize).max(1)
}

impl Border {
    /// The border of a paper, upright or on its side.
    pub fn new(paper: Paper, landscape: bool) -> Border {
        let (short, long) = paper.sides();
        let (width, height) = if landscape { (long, short) } else { (short, long) };
        Border {
            width,
            height,
            min: pt(LEFT, MARGIN),
            max: pt(width - MARGIN, height - MARGIN),
            all_sides: !matches!(paper, Paper::A4 | Paper::Letter),
        }
    }

    /// Frame, zones and marks. `title_top` is the upper edge of the title block, so that the lower centring
    /// mark does not run into it.
    pub fn items(&self, title_top: f64, title_left: f64) -> Vec<Item> {
        let (w, h) = (self.width, self.height);
        let grid_min = pt(self.min.x - GRID, self.min.y - GRID);
        let grid_max = pt(self.max.x + GRID, self.max.y + GRID);
        let mut items = vec![rect(self.min, self.max, FRAME_LINE), rect(grid_min, grid_max, GRID_LINE)];
        self.zone_marks(grid_min, grid_max, &mut items);
        let into_title = w / 2.0 > title_left && title_top < self.max.y;
        let up = if into_title { self.max.y } else { self.max.y - MARK };
        for (a, b) in [
            (pt(w / 2.0, grid_min.y), pt(w / 2.0, self.min.y + MARK)),
            (pt(w / 2.0, grid_max.y), pt(w / 2.0, up)),
            (pt(grid_min.x, h / 2.0), pt(self.min.x + MARK, h / 2.0)),
            (pt(grid_max.x, h / 2.0), pt(self.max.x - MARK, h / 2.0)),
        ] {
            items.push(line(a, b, FRAME_LINE));
        }
        vec![Item::Group { role: Role::Artifact, origin: None, id: Some("frame".into()), items }]
    }

    fn zone_marks(&self, lo: Pt, hi: Pt, items: &mut Vec<Item>) {
        let mut side = |length: f64, level: bool| {
            let n = zones(length);
            let centre = length / 2.0;
            let (from, to) = if level { (self.min.x, self.max.x) } else { (self.min.y, self.max.y) };
            let edge = |k: usize| {
                if k == 0 {
                    from
                } else if k == n {
                    to
                } else {
                    centre + ZONE * (k as f64 - n as f64 / 2.0)
                }
            };
            for k in 0..n {
                let middle = (edge(k) + edge(k + 1)) / 2.0;
                let name = if level { (k + 1).to_string() } else { zone_letter(k) };
                let strips: &[(f64, f64)] = match (level, self.all_sides) {
                    (true, true) => &[(lo.y, self.min.y), (self.max.y, hi.y)],
                    (true, false) => &[(lo.y, self.min.y)],
                    (false, true) => &[(lo.x, self.min.x), (self.max.x, hi.x)],
                    (false, false) => &[(self.max.x, hi.x)],
                };
                for &(a, b) in strips {
                    let across = (a + b) / 2.0;
                    let at = if level { pt(middle, across + 1.25) } else { pt(across, middle + 1.25) };
                    items.push(words(at, 2.5, &name, Face::Regular, Anchor::Middle));
                    // The middle division is the centring mark itself.
                    if k > 0 && 2 * k != n {
                        let (p, q) = if level {
                            (pt(edge(k), a), pt(edge(k), b))
                        } else {
                            (pt(a, edge(k)), pt(b, edge(k)))
                        };
                        items.push(line(p, q, GRID_LINE));
                    }
                }
            }
        };
        side(self.width, true);
        side(self.height, false);
    }
}

/// Zone letters from the top: A, B, C … without I and O, then AA, AB …
fn zone_letter(k: usize) -> String {
    const LETTERS: &[u8] = b"ABCDEFGHJKLMNPQRSTUVWXYZ";
    let n = LETTERS.len();
    let one = |k: usize| (LETTERS[k % n] as char).to_string();
    if k < n { one(k) } else { format!("{}{}", one(k / n - 1), one(k)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO 5457:1999 table 2 (field counts) and table 1 (drawing space), as quoted in the project's collection
    /// of published values.
    #[test]
    fn zones_and_drawing_space_are_the_standards() {
        for (paper, long, short) in [(Paper::A4, 6, 4), (Paper::A3, 8, 6), (Paper::A2, 12, 8)] {
            let (s, l) = paper.sides();
            assert_eq!((zones(l), zones(s)), (long, short), "{paper:?}");
        }
        assert_eq!((zones(1189.0), zones(841.0), zones(594.0)), (24, 16, 12));
        for (paper, landscape, w, h) in [
            (Paper::A4, false, 180.0, 277.0),
            (Paper::A3, true, 390.0, 277.0),
            (Paper::A2, true, 564.0, 400.0),
        ] {
            let b = Border::new(paper, landscape);
            assert_eq!((b.max.x - b.min.x, b.max.y - b.min.y), (w, h), "{paper:?}");
        }
        let all: String = (0..24).map(zone_letter).collect();
        assert!(!all.contains(['I', 'O']) && all.len() == 24);
    }
}
