//! The check bar: 100 mm above, 4 in below.
//!
//! In: a language. Out: a block.
//! Always true: at full print size the upper bar is 100.0 mm and the lower 4 in (101.6 mm) between the outer
//! sides of nothing but their end ticks' middles.

use crate::block::{Block, line, words};
use turnleaf_dimension::Tongue;
use turnleaf_page::{Anchor, Face, Item, Role, pt};

/// The block with both bars.
pub fn check_bar(tongue: &Tongue) -> Block {
    let (x, y) = (0.5, 4.6);
    let mut items = Vec::new();
    let mut bar = |length: f64, divisions: usize, down: f64, heavy: usize| {
        items.push(line(pt(x, y), pt(x + length, y), 0.25));
        for k in 0..=divisions {
            let at = x + length * k as f64 / divisions as f64;
            let tick = if k % heavy == 0 { 2.6 } else { 1.4 };
            items.push(line(pt(at, y), pt(at, y + down * tick), 0.25));
        }
    };
    bar(100.0, 10, -1.0, 5);
    bar(101.6, 16, 1.0, 4);
    let label = |at, text: &str| words(at, 1.8, text, Face::Regular, Anchor::Start);
    items.push(label(pt(x + 103.0, y - 0.5), "100 mm"));
    items.push(label(pt(x + 103.0, y + 2.5), "4 in"));
    items.push(label(pt(x, y - 3.2 + 0.2), &tongue.say("Check the print: measure these bars")));
    let group = Item::Group { role: Role::Plain, origin: None, id: Some("check-bar".into()), items };
    Block { items: vec![group], width: 116.0, height: 8.0 }
}
