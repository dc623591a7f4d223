//! Words looked for on the pages of a book.
//!
//! In: the items of a page, and words. Out: how often they stand there, and the page with their places marked.
//! Always true: upper and lower case are one; words parted by the end of a line are found, with a mark on either line;
//! nothing of the page is moved; a page is marked in the order in which it is read.

use turnleaf_page::{Anchor, Colour, Item, Pt, Role, Step, Text, pt};
use turnleaf_text::width;

/// Colour of a mark: dark letters keep 7 : 1 on it.
const MARKED: Colour = Colour(255, 221, 110);
/// A mark reaches so far over and under the line of writing, in sizes of the type.
const OVER: f64 = 0.86;
const UNDER: f64 = 0.26;

/// Every line of text, in reading order.
fn lines<'a>(items: &'a [Item], out: &mut Vec<&'a Text>) {
    for item in items {
        match item {
            Item::Text(text) => out.push(text),
            Item::Group { items, .. } => lines(items, out),
            _ => {}
        }
    }
}

/// Letters as they are compared.
fn folded(c: char) -> char {
    let mut small = c.to_lowercase();
    match (small.next(), small.next()) {
        // No-break and thin spaces are spaces; a letter whose small form has several keeps its own.
        (Some(c), None) if c.is_whitespace() => ' ',
        (Some(c), None) => c,
        _ => c,
    }
}

/// Words as they are looked for: small letters, single spaces.
fn wanted(words: &str) -> Vec<char> {
    words.split_whitespace().collect::<Vec<_>>().join(" ").chars().map(folded).collect()
}

/// A stretch of one line: which line, from which letter to before which.
type Stretch = (usize, usize, usize);

/// The stretches of every place where the words stand, one list a place.
fn places(lines: &[&Text], words: &str) -> Vec<Vec<Stretch>> {
    let wanted = wanted(words);
    if wanted.is_empty() {
        return Vec::new();
    }
    // All letters in a row, each with its line and place; between lines stands one space.
    let mut letters: Vec<(char, usize, usize)> = Vec::new();
    for (line, text) in lines.iter().enumerate() {
        if letters.last().is_some_and(|(c, _, _)| *c != ' ') {
            letters.push((' ', line, usize::MAX));
        }
        for (at, c) in text.text.chars().enumerate() {
            let c = folded(c);
            if c != ' ' || letters.last().is_none_or(|(last, _, _)| *last != ' ') {
                letters.push((c, line, at));
            }
        }
    }
    let mut found = Vec::new();
    let mut from = 0;
    while from + wanted.len() <= letters.len() {
        let here = &letters[from..from + wanted.len()];
        if here.iter().map(|(c, _, _)| c).eq(wanted.iter()) {
            let mut stretches: Vec<Stretch> = Vec::new();
            for (_, line, at) in here.iter().filter(|(_, _, at)| *at != usize::MAX) {
                match stretches.last_mut() {
                    Some(last) if last.0 == *line => last.2 = at + 1,
                    _ => stretches.push((*line, *at, at + 1)),
                }
            }
            found.push(stretches);
            from += wanted.len();
        } else {
            from += 1;
        }
    }
    found
}

/// How often the words stand on a page.
pub fn count(items: &[Item], words: &str) -> usize {
    let mut all = Vec::new();
    lines(items, &mut all);
    places(&all, words).len()
}

/// The page with a mark under every place; the marks of the n-th are groups named "hit/n", counted from 0.
pub fn marked(items: &[Item], words: &str) -> Vec<Item> {
    let mut all = Vec::new();
    lines(items, &mut all);
    let mut by_line: Vec<Vec<(usize, Stretch)>> = vec![Vec::new(); all.len()];
    for (number, stretches) in places(&all, words).into_iter().enumerate() {
        for stretch in stretches {
            by_line[stretch.0].push((number, stretch));
        }
    }
    let mut line = 0;
    put(items, &by_line, &mut line)
}

fn put(items: &[Item], by_line: &[Vec<(usize, Stretch)>], line: &mut usize) -> Vec<Item> {
    let mut out = Vec::with_capacity(items.len());
    for item in items {
        match item {
            Item::Text(text) => {
                for (number, (_, from, to)) in by_line.get(*line).into_iter().flatten() {
                    out.push(mark(text, *from, *to, *number));
                }
                *line += 1;
                out.push(item.clone());
            }
            Item::Group { role, origin, id, items } => out.push(Item::Group {
                role: role.clone(),
                origin: *origin,
                id: id.clone(),
                items: put(items, by_line, line),
            }),
            other => out.push(other.clone()),
        }
    }
    out
}

/// A filled box under some letters of a line.
fn mark(text: &Text, from: usize, to: usize, number: usize) -> Item {
    let part = |many: usize| text.text.chars().take(many).collect::<String>();
    let wide = |many: usize| width(&part(many), text.size, text.face);
    let shift = match text.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -wide(usize::MAX) / 2.0,
        Anchor::End => -wide(usize::MAX),
    };
    let (left, right) = (shift + wide(from), shift + wide(to));
    let turn = text.rotate.to_radians();
    let (c, s) = (libm::cos(turn), libm::sin(turn));
    let at =
        |along: f64, up: f64| -> Pt { pt(text.at.x + along * c - up * s, text.at.y - along * s - up * c) };
    let (over, under) = (OVER * text.size, -UNDER * text.size);
    let steps = vec![
        Step::Move(at(left, under)),
        Step::Line(at(right, under)),
        Step::Line(at(right, over)),
        Step::Line(at(left, over)),
        Step::Close,
    ];
    let path = Item::Path { steps, stroke: None, fill: Some(MARKED) };
    Item::Group { role: Role::Artifact, origin: None, id: Some(format!("hit/{number}")), items: vec![path] }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page() -> Vec<Item> {
        let text = |y: f64, words: &str| Item::Text(Text::new(pt(10.0, y), 4.0, words));
        vec![
            text(10.0, "Set the table saw"),
            Item::Group {
                role: Role::Plain,
                origin: None,
                id: None,
                items: vec![text(16.0, "fence to 225\u{A0}mm.")],
            },
            text(22.0, "SAW again"),
        ]
    }

    #[test]
    fn upper_and_lower_case_are_one_and_every_place_is_counted() {
        assert_eq!(count(&page(), "saw"), 2);
        assert_eq!(count(&page(), "Saw Fence"), 1, "across the end of a line");
        assert_eq!(count(&page(), "225 mm"), 1, "a no-break space is a space");
        assert_eq!((count(&page(), "  "), count(&page(), "plane")), (0, 0));
    }

    #[test]
    fn marks_lie_under_their_words_and_nothing_else_changes() {
        let marked = marked(&page(), "saw fence");
        let ids = |items: &[Item]| -> Vec<String> {
            items
                .iter()
                .filter_map(
                    |i| if let Item::Group { id: Some(id), .. } = i { Some(id.clone()) } else { None },
                )
                .collect()
        };
        assert_eq!(ids(&marked), ["hit/0"]);
        let Item::Group { items: inner, .. } = &marked[2] else { panic!("{:?}", marked[2]) };
        assert_eq!((ids(inner).len(), inner.len()), (1, 2), "a mark on either line");
        let Item::Group { items, .. } = &marked[0] else { panic!() };
        let Item::Path { steps, .. } = &items[0] else { panic!() };
        let (Step::Move(left), Step::Line(right)) = (steps[0], steps[1]) else { panic!() };
        let whole = width("Set the table saw", 4.0, turnleaf_page::Face::Regular);
        assert!((right.x - 10.0 - whole).abs() < 1e-9 && left.x > 10.0 + whole / 2.0, "{left:?} {right:?}");
    }

    #[test]
    fn the_mark_of_a_turned_word_turns_with_it() {
        let upright = Item::Text(Text::new(pt(50.0, 50.0), 4.0, "up").rotate(90.0));
        let marked = marked(&[upright], "up");
        let Item::Group { items, .. } = &marked[0] else { panic!() };
        let Item::Path { steps, .. } = &items[0] else { panic!() };
        let (Step::Move(a), Step::Line(b)) = (steps[0], steps[1]) else { panic!() };
        // Text turned by 90 degrees runs up the paper, and y runs down.
        assert!((a.x - b.x).abs() < 1e-9 && b.y < a.y);
    }
}
