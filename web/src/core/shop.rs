//! What the shop view shows: parts with the views of their sheets, and steps with their figures.
//!
//! In: a built table and the pages of its book. Out: plain values; drawings cut down to what is drawn.
//! Always true: nothing is drawn anew: what is seen beside the saw is what the book prints, without frame, title block
//! and notes; every dimension of a view has a reading, under the identifier it carries on the drawing.

use super::{Book, Built, Choice, words_of};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use turnleaf_page::{Anchor, Item, Page, Pt, Role, Step};
use turnleaf_plan::BookOptions;
use turnleaf_text::width;

/// Air round a drawing, mm on paper.
const AIR: f64 = 3.0;

/// A part to cut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ShopPart {
    /// Stable identifier.
    pub id: String,
    /// Name in the book's language.
    pub name: String,
    /// How many the table needs.
    pub count: usize,
    /// Its sizes, in short: another one means other sizes, whatever language and units its sheets are in.
    pub print: String,
}

/// A step, in full.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ShopStep {
    /// Stable identifier.
    pub id: String,
    /// Number in the book.
    pub number: usize,
    /// Title.
    pub title: String,
    /// Paragraphs, then notes of the maker.
    pub text: Vec<String>,
    /// Settings of tools.
    pub settings: Vec<String>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// Checks before going on.
    pub checks: Vec<String>,
    /// Pieces and hardware: name and count.
    pub pieces: Vec<(String, usize)>,
    /// Working time; may be empty.
    pub time: String,
    /// Its figure, where it has one.
    pub figure: Option<String>,
}

/// Everything for the shop view but the sheets of parts.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
pub struct ShopBook {
    /// Parts in the order of the book.
    pub parts: Vec<ShopPart>,
    /// Steps in the order of the book.
    pub steps: Vec<ShopStep>,
    /// What dimensions and marks are, in the book's language, by their identifiers.
    pub words: BTreeMap<String, String>,
    /// The book's language, as browsers know it.
    pub language: String,
}

/// A dimension or a mark read out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// Identifier that it carries on the drawing.
    pub id: String,
    /// As printed.
    pub said: String,
    /// The end of its identifier as words, for what has no words of its own in an English book.
    pub what: String,
}

/// One sheet of a part.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ShopSheet {
    /// The drawing.
    pub drawing: String,
    /// Its dimensions and marks in reading order.
    pub readings: Vec<Reading>,
    /// Its notes.
    pub notes: Vec<String>,
}

/// The part whose sheet a page is.
fn part_of(page: &Page) -> Option<&str> {
    let rest = page.id.strip_prefix("sheet/")?;
    let part = rest.split('/').next()?;
    (part != "assembly").then_some(part)
}

/// A short print of a part's shape: FNV-1a, 64 bits (Fowler, Noll, Vo), which is enough to tell other sizes.
fn print_of(shape: &str) -> String {
    let print = rounded(shape).bytes().fold(0xcbf2_9ce4_8422_2325_u64, |print, byte| {
        (print ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    });
    format!("{print:016x}")
}

/// A text with every number in it to two decimals, the finest that fits are printed to; the bulge of an arc, which is
/// no length, to four.
fn rounded(text: &str) -> String {
    let bytes = text.as_bytes();
    let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let (mut out, mut at, mut from) = (String::new(), 0, 0);
    while at < bytes.len() {
        if !(digit(at) || bytes[at] == b'-' && digit(at + 1)) {
            at += 1;
            continue;
        }
        let begin = at;
        at += 1;
        let goes_on = |at: usize| {
            let exponent = bytes[at - 1] == b'e' && bytes[at] == b'-' && digit(at + 1);
            digit(at)
                || exponent
                || bytes[at] == b'.'
                || bytes[at] == b'e' && (digit(at + 1) || bytes.get(at + 1) == Some(&b'-'))
        };
        while at < bytes.len() && goes_on(at) {
            at += 1;
        }
        out.push_str(&text[from..begin]);
        let decimals = if out.ends_with("bulge: ") { 4 } else { 2 };
        match text[begin..at].parse::<f64>() {
            // No zero has a sign.
            Ok(number) => {
                let number = format!("{number:.decimals$}");
                let nothing = number.bytes().all(|b| b"-0.".contains(&b));
                out.push_str(if nothing { number.trim_start_matches('-') } else { &number });
            }
            Err(_) => out.push_str(&text[begin..at]),
        }
        from = at;
    }
    out.push_str(&text[from..]);
    out
}

/// Parts and steps.
pub fn shop(built: &Built, book: &Book) -> ShopBook {
    let mut parts: Vec<ShopPart> = Vec::new();
    for page in &book.document.pages {
        let Some(id) = part_of(page) else { continue };
        if parts.iter().any(|part| part.id == id) {
            continue;
        }
        let Some(part) = built.0.assembly.part(id) else { continue };
        let cuts: Vec<_> = part.features.iter().map(|f| (&f.id, &f.kind)).collect();
        let shape = format!("{:?} {:?} {:?} {cuts:?}", part.thickness, part.outline, part.side);
        parts.push(ShopPart {
            id: id.into(),
            name: page.title.clone(),
            count: part.count,
            print: print_of(&shape),
        });
    }
    let (steps, _) = built.0.steps(&BookOptions::of(&built.0.plan));
    let steps = steps.into_iter().filter_map(|s| {
        let figure = figure(book, &format!("figure/step/{}", s.id));
        let pieces = s.pieces.into_iter().chain(s.hardware).map(|(_, name, count)| (name, count)).collect();
        let text = s.text.into_iter().chain(s.notes).collect();
        let (settings, cautions, checks) = (s.settings, s.cautions, s.checks);
        Some(ShopStep {
            id: s.id,
            number: s.number?,
            title: s.title,
            text,
            settings,
            cautions,
            checks,
            pieces,
            time: s.time,
            figure,
        })
    });
    let words = turnleaf_plan::spoken(&built.0).into_iter().collect();
    let language = built.0.plan.options().language.key().to_string();
    ShopBook { parts, steps: steps.collect(), words, language }
}

impl ShopBook {
    /// What a reading is, in words of the book's language; nothing where it has none.
    pub fn what(&self, reading: &Reading) -> String {
        match self.words.get(&reading.id) {
            Some(words) => plain(words),
            // The figure's own word says it already, as with "grain".
            None if self.language != "en" || reading.what == reading.said => String::new(),
            None => reading.what.clone(),
        }
    }
}

/// Words without the names by which the program knows its features, such as post/inner.
fn plain(words: &str) -> String {
    let named = |word: &str| {
        let begins = word.starts_with(|c: char| c.is_ascii_lowercase());
        begins
            && word.contains('/')
            && word.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || "/-".contains(c))
    };
    words.split(' ').filter(|word| !named(word)).collect::<Vec<_>>().join(" ")
}

/// The sheets of a part.
pub fn sheets(book: &Book, part: &str) -> Vec<ShopSheet> {
    let mine = book.document.pages.iter().filter(|page| part_of(page) == Some(part));
    mine.map(|page| {
        let (mut drawn, mut said, mut notes) = (Vec::new(), Vec::new(), Vec::new());
        for item in &page.items {
            match item {
                Item::Group { id: Some(id), items, .. } if id.ends_with("/notes") => {
                    paragraphs(items, &mut notes)
                }
                Item::Group { id: Some(id), .. } if is_furniture(id) => {}
                Item::Mark { .. } | Item::Link { .. } => {}
                other => drawn.push(other.clone()),
            }
        }
        readings(&drawn, &mut said);
        ShopSheet { drawing: cut_down(book, page, drawn).unwrap_or_default(), readings: said, notes }
    })
    .collect()
}

/// Frame, title block and check bar are for paper.
fn is_furniture(id: &str) -> bool {
    ["frame", "title-block", "check-bar"].contains(&id) || id.starts_with("stamp/")
}

/// Entries of a list, or everything in one.
fn paragraphs(items: &[Item], out: &mut Vec<String>) {
    for item in items {
        let Item::Group { role, items, .. } = item else { continue };
        if *role == Role::ListItem {
            let mut words = String::new();
            let body: Vec<Item> = items
                .iter()
                .filter(|i| !matches!(i, Item::Group { role: Role::Label, .. }))
                .cloned()
                .collect();
            words_of(&body, &mut words);
            out.push(words);
        } else {
            paragraphs(items, out);
        }
    }
}

/// Every dimension and every mark with words.
fn readings(items: &[Item], out: &mut Vec<Reading>) {
    for item in items {
        let Item::Group { role, id, items, .. } = item else { continue };
        let tail = |id: &str| {
            let (_, tail) = id.split_once("/dim/").or_else(|| id.split_once("/mark/"))?;
            Some(tail.replace(['/', '-'], " "))
        };
        match id {
            Some(id) if *role == Role::Dimension || id.contains("/mark/") => {
                let mut said = String::new();
                words_of(items, &mut said);
                if !said.trim().is_empty() {
                    out.push(Reading {
                        id: id.clone(),
                        said: said.trim().into(),
                        what: tail(id).unwrap_or_default(),
                    });
                }
            }
            _ => readings(items, out),
        }
    }
}

/// A figure of the book by its identifier.
fn figure(book: &Book, id: &str) -> Option<String> {
    fn find<'a>(items: &'a [Item], wanted: &str) -> Option<&'a Item> {
        items.iter().find_map(|item| match item {
            Item::Group { id: Some(id), .. } if id == wanted => Some(item),
            Item::Group { items, .. } => find(items, wanted),
            _ => None,
        })
    }
    book.document.pages.iter().find_map(|page| {
        let found = find(&page.items, id)?;
        cut_down(book, page, vec![found.clone()])
    })
}

/// The corners of what is drawn.
fn bounds(items: &[Item], least: &mut Pt, most: &mut Pt) {
    for item in items {
        if let Item::Group { items, .. } = item {
            bounds(items, least, most);
            continue;
        }
        let mut take = |p: Pt| {
            (least.x, least.y) = (least.x.min(p.x), least.y.min(p.y));
            (most.x, most.y) = (most.x.max(p.x), most.y.max(p.y));
        };
        match item {
            Item::Path { steps, .. } => {
                for step in steps {
                    match step {
                        Step::Move(p) | Step::Line(p) => take(*p),
                        Step::Cubic(a, b, c) => [*a, *b, *c].into_iter().for_each(&mut take),
                        Step::Close => {}
                    }
                }
            }
            Item::Text(text) => {
                let wide = width(&text.text, text.size, text.face);
                let left = match text.anchor {
                    Anchor::Start => 0.0,
                    Anchor::Middle => -wide / 2.0,
                    Anchor::End => -wide,
                };
                let turn = text.rotate.to_radians();
                let (c, s) = (libm::cos(turn), libm::sin(turn));
                for (along, up) in [(left, -0.3), (left + wide, -0.3), (left, 0.9), (left + wide, 0.9)] {
                    let up = up * text.size;
                    take(Pt { x: text.at.x + along * c - up * s, y: text.at.y - along * s - up * c });
                }
            }
            Item::Picture { min, max, .. } => {
                take(*min);
                take(*max);
            }
            Item::Group { .. } | Item::Link { .. } | Item::Mark { .. } => {}
        }
    }
}

/// Some items of a page as a drawing no larger than they are.
fn cut_down(book: &Book, page: &Page, items: Vec<Item>) -> Option<String> {
    let (mut least, mut most) = (Pt { x: f64::MAX, y: f64::MAX }, Pt { x: f64::MIN, y: f64::MIN });
    bounds(&items, &mut least, &mut most);
    if least.x > most.x {
        return None;
    }
    let svg = book.svg(&Page { items, ..page.clone() });
    let (_, rest) = svg.split_once("viewBox=\"")?;
    let (_, rest) = rest.split_once('"')?;
    let (x, y, w, h) =
        (least.x - AIR, least.y - AIR, most.x - least.x + 2.0 * AIR, most.y - least.y + 2.0 * AIR);
    Some(format!("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{x:.2} {y:.2} {w:.2} {h:.2}\"{rest}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use turnleaf_plan::{Plan, build};

    /// Prints of all parts that have sheets.
    fn prints(change: impl Fn(&mut Plan)) -> BTreeMap<String, String> {
        let mut plan = Plan::default_metric();
        change(&mut plan);
        let built = Built::new(&plan).unwrap();
        let book = built.book("drawings").unwrap();
        shop(&built, &book).parts.into_iter().map(|part| (part.id, part.print)).collect()
    }

    #[test]
    fn a_piece_is_cut_to_other_sizes_only_where_its_own_sizes_changed() {
        let usual = prints(|_| {});
        assert!(usual.len() > 20, "{}", usual.len());
        let otherwise = prints(|plan| {
            for (key, word) in
                [("language", "de"), ("print.units", "in"), ("paper", "letter"), ("projection", "third")]
            {
                plan.set_option(key, word).unwrap();
            }
        });
        assert_eq!(otherwise, usual);
        // A higher table has longer legs; what turns and slides on top of them is the same.
        let higher = prints(|plan| drop(plan.set("height", "750 mm").unwrap()));
        let others: Vec<_> = usual
            .iter()
            .filter(|(id, print)| higher.get(*id) != Some(*print))
            .map(|(id, _)| id.as_str())
            .collect();
        assert_eq!(others, ["leg"]);
        let thicker = prints(|plan| drop(plan.set("tongue_depth", "5 mm").unwrap()));
        assert!(["panel", "leaf"].iter().all(|id| usual[*id] != thicker[*id]));
    }

    #[test]
    fn nobody_at_the_bench_reads_the_programs_own_names() {
        let said = "the diameter of the hole post/inner-2 (dowel of a post, from below)";
        assert_eq!(plain(said), "the diameter of the hole (dowel of a post, from below)");
        assert_eq!(plain("Breite 1/2 der Nut"), "Breite 1/2 der Nut");
    }

    #[test]
    fn numbers_are_rounded_wherever_they_stand() {
        assert_eq!(
            rounded("a-1/2: (-0.001, 3.14159e2, 1e-9, 12)"),
            "a-1.00/2.00: (0.00, 314.16, 0.00, 12.00)"
        );
        assert_eq!(rounded("bulge: 0.123456, edge: 1.0"), "bulge: 0.1235, edge: 1.00");
        assert_eq!(rounded("Ø no number"), "Ø no number");
    }

    #[test]
    fn every_dimension_has_words_in_the_books_own_language() {
        for drive in ["arms", "cam"] {
            let mut plan = Plan::default_metric();
            plan.set_option("drive", drive).unwrap();
            let english: BTreeMap<_, _> = turnleaf_plan::spoken(&build(&plan).unwrap()).into_iter().collect();
            plan.set_option("language", "de").unwrap();
            let german: BTreeMap<_, _> = turnleaf_plan::spoken(&build(&plan).unwrap()).into_iter().collect();
            assert!(english.len() > 100, "{}", english.len());
            let missing: Vec<_> = english.iter().filter(|(id, _)| !german.contains_key(*id)).collect();
            assert!(missing.is_empty(), "{missing:#?}");
            // A radius is "Radius" in both; whole phrases never agree.
            let same: Vec<_> = german.iter().filter(|(id, words)| english.get(*id) == Some(words)).collect();
            assert!(same.is_empty(), "{same:#?}");
        }
    }
}
