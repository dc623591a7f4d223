//! Blocks: items with a size, to be moved into place.
//!
//! In: items drawn round an origin of their own. Out: the same items elsewhere.
//! Always true: moving changes nothing but positions.

use turnleaf_page::{Anchor, Face, Item, Pt, Step, Stroke, Text, pt};
use turnleaf_text::{size_for_cap_height, width};

/// Items that fill a box from (0, 0) to (width, height).
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Block {
    /// Items.
    pub items: Vec<Item>,
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
}

/// An item moved by (dx, dy).
pub fn moved(item: &Item, dx: f64, dy: f64) -> Item {
    let m = |p: Pt| pt(p.x + dx, p.y + dy);
    match item {
        Item::Path { steps, stroke, fill } => Item::Path {
            steps: steps
                .iter()
                .map(|s| match *s {
                    Step::Move(p) => Step::Move(m(p)),
                    Step::Line(p) => Step::Line(m(p)),
                    Step::Cubic(a, b, c) => Step::Cubic(m(a), m(b), m(c)),
                    Step::Close => Step::Close,
                })
                .collect(),
            stroke: stroke.clone(),
            fill: *fill,
        },
        Item::Text(t) => Item::Text(Text { at: m(t.at), ..t.clone() }),
        Item::Link { min, max, target } => Item::Link { min: m(*min), max: m(*max), target: target.clone() },
        Item::Picture { min, max, picture } => {
            Item::Picture { min: m(*min), max: m(*max), picture: picture.clone() }
        }
        Item::Mark { at, name } => Item::Mark { at: m(*at), name: name.clone() },
        Item::Group { role, origin, id, items } => Item::Group {
            role: role.clone(),
            origin: *origin,
            id: id.clone(),
            items: items.iter().map(|i| moved(i, dx, dy)).collect(),
        },
    }
}

impl Block {
    /// A block from items that fill a box anywhere.
    pub fn from_box(items: &[Item], min: Pt, max: Pt) -> Block {
        Block {
            items: items.iter().map(|i| moved(i, -min.x, -min.y)).collect(),
            width: max.x - min.x,
            height: max.y - min.y,
        }
    }
    /// The items with the block's corner at (x, y).
    pub fn at(&self, x: f64, y: f64) -> Vec<Item> {
        self.items.iter().map(|i| moved(i, x, y)).collect()
    }
}

/// A straight line.
pub fn line(a: Pt, b: Pt, thickness: f64) -> Item {
    let stroke = Stroke { round: false, ..Stroke::solid(thickness) };
    Item::Path { steps: vec![Step::Move(a), Step::Line(b)], stroke: Some(stroke), fill: None }
}

/// A rectangle.
pub fn rect(min: Pt, max: Pt, thickness: f64) -> Item {
    let steps = vec![
        Step::Move(min),
        Step::Line(pt(max.x, min.y)),
        Step::Line(max),
        Step::Line(pt(min.x, max.y)),
        Step::Close,
    ];
    let stroke = Stroke { round: false, ..Stroke::solid(thickness) };
    Item::Path { steps, stroke: Some(stroke), fill: None }
}

/// Text with capitals this high.
pub fn words(at: Pt, cap: f64, text: &str, face: Face, anchor: Anchor) -> Item {
    Item::Text(Text::new(at, size_for_cap_height(cap), text).face(face).anchor(anchor))
}

/// Text no wider than `room`: smaller first, down to 1.8 mm capitals, then cut short.
pub fn fitted(at: Pt, cap: f64, text: &str, face: Face, room: f64) -> Item {
    let wide = |cap: f64, t: &str| width(t, size_for_cap_height(cap), face);
    let mut cap = cap;
    while cap > 1.8 && wide(cap, text) > room {
        cap = (cap - 0.1).max(1.8);
    }
    let mut kept = text.to_string();
    let mut shown = kept.clone();
    // One more character goes each time, so this ends with the mark of omission alone at the latest.
    while wide(cap, &shown) > room && kept.pop().is_some() {
        shown = format!("{}…", kept.trim_end());
    }
    words(at, cap, &shown, face, Anchor::Start)
}

/// Text no wider than `room`, its last line at `at`: on one line down to 2 mm capitals, else on two lines of 1.8 mm
/// with room for them `above` mm over the last line; cut short only where two lines do not hold it.
pub fn fitted_twice(at: Pt, cap: f64, text: &str, face: Face, room: f64, above: f64) -> Vec<Item> {
    let wide = |cap: f64, t: &str| width(t, size_for_cap_height(cap), face);
    if wide(2.0, text) <= room || !text.trim().contains(' ') || above < 2.3 {
        return vec![fitted(at, cap, text, face, room)];
    }
    let lines = wrapped(text, 1.8, face, room);
    let (first, rest) =
        lines.split_first().map_or((String::new(), String::new()), |(a, b)| (a.clone(), b.join(" ")));
    if rest.is_empty() {
        return vec![fitted(at, cap, text, face, room)];
    }
    vec![fitted(pt(at.x, at.y - 2.5), 1.8, &first, face, room), fitted(at, 1.8, &rest, face, room)]
}

/// Words broken into lines no wider than `room` (a longer word stands alone).
pub fn wrapped(text: &str, cap: f64, face: Face, room: f64) -> Vec<String> {
    let size = size_for_cap_height(cap);
    let space = width("n n", size, face) - width("nn", size, face);
    let mut out: Vec<(String, f64)> = Vec::new();
    // A no-break space keeps a number and its unit together.
    for word in text.split([' ', '\n', '\t']).filter(|word| !word.is_empty()) {
        let w = width(word, size, face);
        match out.last_mut() {
            // A hair's breadth spare: the whole line may be shaped a little wider than its words.
            Some((line, used)) if *used + space + w <= room - 0.2 => {
                line.push(' ');
                line.push_str(word);
                *used += space + w;
            }
            _ => out.push((word.to_string(), w)),
        }
    }
    out.into_iter().map(|l| l.0).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use turnleaf_page::pt;

    /// A name too long for one line of readable size stands whole on two, within its room.
    #[test]
    fn a_long_name_stands_on_two_lines() {
        let name = "Tischlerei Bartholomäus Wiesenhüttner GmbH";
        let items = fitted_twice(pt(0.0, 9.0), 2.5, name, Face::Regular, 36.0, 5.0);
        let lines: Vec<&Text> = items
            .iter()
            .map(|i| if let Item::Text(t) = i { t } else { panic!("a text was asked for") })
            .collect();
        assert_eq!(lines.iter().map(|t| t.text.as_str()).collect::<Vec<_>>().join(" "), name);
        assert_eq!(lines.len(), 2);
        assert!(lines.iter().all(|t| width(&t.text, t.size, t.face) <= 36.0 + 1e-9));
        assert!(lines[0].at.y < lines[1].at.y - 2.0);
        assert_eq!(fitted_twice(pt(0.0, 9.0), 2.5, "A. Smith", Face::Regular, 36.0, 5.0).len(), 1);
    }

    /// A text far too wide is cut to what fits, however little room there is.
    #[test]
    fn long_texts_are_cut_and_the_cutting_ends() {
        for room in [0.0, 3.0, 20.0] {
            let Item::Text(t) = fitted(pt(0.0, 0.0), 2.5, &"wide words ".repeat(40), Face::Regular, room)
            else {
                panic!("a text was asked for");
            };
            assert!(t.text.ends_with('…'), "{}", t.text);
            assert!(room < 3.0 || width(&t.text, t.size, t.face) <= room + 1e-9, "{} in {room}", t.text);
        }
    }
}
