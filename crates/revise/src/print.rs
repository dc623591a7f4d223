//! Fingerprints of what is printed.
//!
//! In: a page, or the bytes of a file. Out: a short text that is equal when they print alike.
//! Always true: what carries the revision or the page number ([`STAMP`]) does not count, nor do links, names and
//! roles; coordinates count to a thousandth of a millimetre.

use sha2::{Digest, Sha256};
use turnleaf_page::{Anchor, Colour, Face, Item, Page, Pt, Step, Stroke};

/// Groups whose identifier begins so are stamped on a page after it is finished: revision mark, page number,
/// marks beside what changed. They do not make it another page.
pub const STAMP: &str = "stamp/";

/// The group with a page's number.
pub const NUMBER: &str = "stamp/number";

/// What of a page counts.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Part {
    /// All but what is stamped on it.
    Own,
    /// What is stamped on it, but for its number.
    Stamps,
    /// Its number.
    Number,
}

/// Fingerprint of a page, 16 hexadecimal digits.
pub fn of_page(page: &Page) -> String {
    of(page, Part::Own)
}

/// Fingerprint of what is stamped on a page, its number left out.
pub fn of_stamps(page: &Page) -> String {
    of(page, Part::Stamps)
}

/// Fingerprint of a page's printed number.
pub fn of_number(page: &Page) -> String {
    of(page, Part::Number)
}

fn of(page: &Page, part: Part) -> String {
    let mut ink = Ink { hash: Sha256::new(), part };
    ink.numbers(&[page.width, page.height]);
    ink.items(&page.items, Part::Own);
    hex(&ink.hash.finalize()[..8])
}

/// Characters of a short fingerprint.
pub const SHORT: usize = 6;

/// Short fingerprint of a line of text. Of two thousand lines, one that changed is taken for an old one about once
/// in eight thousand times (24 bits).
pub fn short(text: &str) -> String {
    hex(&Sha256::digest(text.as_bytes())[..SHORT / 2])
}

/// Fingerprint of a file, 64 hexadecimal digits (SHA-256, FIPS 180-4).
pub fn of_bytes(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|b| format!("{b:02x}")).collect()
}

struct Ink {
    hash: Sha256,
    part: Part,
}

impl Ink {
    fn numbers(&mut self, numbers: &[f64]) {
        for n in numbers {
            // Adding zero makes one of both zeros.
            self.hash.update(((n * 1000.0).round() + 0.0).to_le_bytes());
        }
    }
    fn points(&mut self, kind: u8, points: &[Pt]) {
        self.hash.update([kind]);
        points.iter().for_each(|p| self.numbers(&[p.x, p.y]));
    }
    fn colour(&mut self, c: Colour) {
        self.hash.update([c.0, c.1, c.2]);
    }
    fn stroke(&mut self, s: &Stroke) {
        self.hash.update([u8::from(s.round)]);
        self.numbers(&[s.width]);
        self.numbers(&s.dash);
        self.colour(s.colour);
    }
    /// Takes in what counts of items that belong to a part of the page.
    fn items(&mut self, items: &[Item], here: Part) {
        for item in items {
            match item {
                Item::Group { id, items, .. } => {
                    let id = id.as_deref().unwrap_or_default();
                    let inside = match here {
                        _ if id == NUMBER => Part::Number,
                        Part::Own if id.starts_with(STAMP) => Part::Stamps,
                        other => other,
                    };
                    self.items(items, inside);
                }
                _ if here != self.part => {}
                Item::Path { steps, stroke, fill } => {
                    self.hash.update(b"path");
                    for step in steps {
                        match step {
                            Step::Move(p) => self.points(0, &[*p]),
                            Step::Line(p) => self.points(1, &[*p]),
                            Step::Cubic(a, b, c) => self.points(2, &[*a, *b, *c]),
                            Step::Close => self.points(3, &[]),
                        }
                    }
                    self.hash.update(b"pen");
                    stroke.iter().for_each(|s| self.stroke(s));
                    self.hash.update(b"fill");
                    fill.iter().for_each(|c| self.colour(*c));
                }
                Item::Text(t) => {
                    let face = match t.face {
                        Face::Regular => 0,
                        Face::Bold => 1,
                        Face::Italic => 2,
                    };
                    let anchor = match t.anchor {
                        Anchor::Start => 0,
                        Anchor::Middle => 1,
                        Anchor::End => 2,
                    };
                    self.hash.update([b't', face, anchor]);
                    self.hash.update((t.text.len() as u64).to_le_bytes());
                    self.hash.update(t.text.as_bytes());
                    self.numbers(&[t.at.x, t.at.y, t.size, t.rotate]);
                    self.colour(t.colour);
                }
                Item::Picture { min, max, picture } => {
                    self.points(4, &[*min, *max]);
                    self.hash.update((picture.data.len() as u64).to_le_bytes());
                    self.hash.update(&picture.data);
                }
                Item::Link { .. } | Item::Mark { .. } => {}
            }
        }
    }
}
