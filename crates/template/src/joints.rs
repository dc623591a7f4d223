//! Crosses by which neighbouring tiles are joined.
//!
//! In: a part's lines and its grid. Out: crosses with letters, each on the middle of an overlap.
//! Always true: a cross stands at one place of the part's frame, so both tiles print the same cross; crosses
//! keep clear of the part's lines wherever a joint leaves room, their letters always (or it is reported), and
//! of the corners where four tiles meet.

use crate::arrange::{Grid, Tile};
use crate::clip::clip;
use crate::drawn::Drawn;
use crate::ink::{Box2, Ink};
use crate::pen::CAP;
use turnleaf_geom::{Vec2, vec2::v};

/// Radius of the ring of a cross, mm.
pub const RING: f64 = 2.0;
/// Half the length of the arms of a cross, mm.
pub const ARM: f64 = 3.5;
/// From the joint to the middle of a cross's letter, mm; the nearest that is free is taken.
const LETTERS: [f64; 3] = [7.0, 12.0, 17.0];

/// Places tried along a joint: about one every 2 mm.
const TRIES: u32 = 100;
/// Least distance of two crosses of one joint, mm. Nearer, they would fix a tile's direction badly.
const APART: f64 = 45.0;

/// How much worse a line through a letter is than one through a cross.
const OVER_LETTER: usize = 1000;

/// A cross.
#[derive(Clone, Debug, PartialEq)]
pub struct Cross {
    /// Its letter, the same on both tiles.
    pub letter: String,
    /// How far its letters stand from it, square to the joint, mm.
    pub letter_at: f64,
    /// Where, in the part's frame.
    pub at: Vec2,
    /// The tile left of it or above it.
    pub first: Tile,
    /// The tile right of it or below it.
    pub second: Tile,
    /// Whether the two tiles lie side by side.
    pub side_by_side: bool,
}

/// a, b, c … without i, l and o, which are misread; then aa, ab …
fn letter(k: usize) -> String {
    const LETTERS: &[u8] = b"abcdefghjkmnpqrstuvwxyz";
    let n = LETTERS.len();
    let one = |k: usize| char::from(LETTERS[k % n]).to_string();
    if k < n { one(k) } else { format!("{}{}", one(k / n - 1), one(k)) }
}

/// All crosses, and whether a letter of one of them had to be put on a line.
pub fn crosses(drawn: &Drawn, grid: &Grid) -> (Vec<Cross>, bool) {
    let mut out: Vec<Cross> = Vec::new();
    let mut crowded = false;
    for (r, c) in grid.tiles() {
        for (second, side_by_side) in [((r, c + 1), true), ((r + 1, c), false)] {
            if !grid.has(second) {
                continue;
            }
            // Lines near this joint only.
            let near = grid.field_of((r, c)).grown(LETTERS[2] + 2.0 * CAP);
            let mut ink = Ink::default();
            for line in &drawn.lines {
                for seg in line.segs.iter().flat_map(|s| clip(s, &near)) {
                    ink.seg(&seg, &|p| p);
                }
            }
            let cell = grid.cell_of((r, c));
            let along = if side_by_side { grid.cell.y } else { grid.cell.x };
            let place = |t: f64| {
                if side_by_side {
                    v(cell.hi.x, cell.lo.y + t * along)
                } else {
                    v(cell.lo.x + t * along, cell.lo.y)
                }
            };
            // Ring and arms, and a letter on each side; letters are wider than high.
            let boxes = |t: f64, letter: f64| {
                let c = place(t);
                let d = if side_by_side { v(letter, 0.0) } else { v(0.0, letter) };
                let own = Box2::about(c, ARM + 0.8, ARM + 0.8);
                [own, Box2::about(c - d, CAP, CAP * 0.9), Box2::about(c + d, CAP, CAP * 0.9)]
            };
            // A cross over a line can be read, a letter cannot.
            let hits = |t: f64, letter: f64| {
                let [own, a, b] = boxes(t, letter);
                ink.hits(&own) + OVER_LETTER * (ink.hits(&a) + ink.hits(&b))
            };
            let edge = (2.0 * grid.half.x.max(grid.half.y) + 14.0) / along;
            let mut taken: Option<f64> = None;
            for preferred in [0.25, 0.75] {
                let mut tried: Vec<(usize, f64, f64)> = Vec::new();
                for i in 0..=TRIES {
                    let t = edge + (1.0 - 2.0 * edge) * f64::from(i) / f64::from(TRIES);
                    if taken.is_none_or(|o| (o - t).abs() * along >= APART) {
                        tried.extend(LETTERS.iter().map(|l| (hits(t, *l), t, *l)));
                    }
                }
                // A letter farther off its cross is worse than a cross somewhat farther along the joint.
                let far = |t: &(usize, f64, f64)| (t.1 - preferred).abs() * along + 8.0 * (t.2 - LETTERS[0]);
                tried.sort_by(|a, b| a.0.cmp(&b.0).then(far(a).total_cmp(&far(b))));
                let Some(&(hits, t, letter_at)) = tried.first() else { continue };
                // One clear cross and the cut line place a tile; a second on a line of the part would hide it.
                if hits > 0 && taken.is_some() {
                    continue;
                }
                crowded |= hits >= OVER_LETTER;
                taken = Some(t);
                let letter = letter(out.len());
                out.push(Cross { letter, letter_at, at: place(t), first: (r, c), second, side_by_side });
            }
        }
    }
    (out, crowded)
}

/// The two crosses farthest apart, for checking the joined template.
pub fn farthest(crosses: &[Cross]) -> Option<(&Cross, &Cross)> {
    let pairs = crosses.iter().enumerate().flat_map(|(i, a)| crosses[i + 1..].iter().map(move |b| (a, b)));
    pairs.max_by(|p, q| p.0.at.dist(p.1.at).total_cmp(&q.0.at.dist(q.1.at)))
}
