//! The language of what drawings say.
//!
//! In: pairs of patterns, English and another language's, with places `{a}`, `{b}`, `{c}` for what changes.
//! Out: English text said in that language.
//! Always true: drawings are made and proved in English; what is printed passes through here last, so that no
//! figure, choice or proof depends on a language; what no pattern fits stays as it is (tests of the book hold the
//! patterns complete); without patterns nothing changes.

use std::collections::BTreeMap;
use std::sync::Arc;
use turnleaf_units::DecimalSign;

/// How deep a phrase may stand within a phrase: "the radius of the arc from station 1 of the slot …" takes four.
const DEPTH: usize = 6;

/// A piece of a pattern.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Bit {
    Words(String),
    Place(char),
}

#[derive(Clone, Debug, PartialEq, Eq)]
struct Pattern {
    from: Vec<Bit>,
    to: Vec<Bit>,
}

#[derive(Debug, Default, PartialEq, Eq)]
struct Table {
    /// Phrases without places.
    plain: BTreeMap<String, String>,
    /// Phrases with places, those with most words of their own first.
    open: Vec<Pattern>,
    /// The sign between whole and decimals.
    decimal: DecimalSign,
}

/// A language that drawings are printed in; the default is English.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tongue(Option<Arc<Table>>);

fn bits(text: &str) -> Vec<Bit> {
    let mut out = Vec::new();
    let mut rest = text;
    while let Some(at) = rest.find('{') {
        let mut inside = rest[at + 1..].chars();
        let place = (inside.next(), inside.next());
        let (Some(letter), Some('}')) = place else { break };
        if at > 0 {
            out.push(Bit::Words(rest[..at].to_string()));
        }
        out.push(Bit::Place(letter));
        rest = &rest[at + 2 + letter.len_utf8()..];
    }
    if !rest.is_empty() {
        out.push(Bit::Words(rest.to_string()));
    }
    out
}

fn own(bits: &[Bit]) -> usize {
    bits.iter().map(|b| if let Bit::Words(w) = b { w.len() } else { 0 }).sum()
}

/// What stands in the places of a pattern that fits the whole text; each place takes as little as it can.
fn fits<'t>(pattern: &[Bit], text: &'t str) -> Option<Vec<(char, &'t str)>> {
    match pattern {
        [] => text.is_empty().then(Vec::new),
        [Bit::Words(w), rest @ ..] => fits(rest, text.strip_prefix(w.as_str())?),
        [Bit::Place(c)] => (!text.is_empty()).then(|| vec![(*c, text)]),
        [Bit::Place(c), rest @ ..] => {
            let ends = text.char_indices().map(|(i, _)| i).skip(1);
            for end in ends {
                if let Some(mut found) = fits(rest, &text[end..]) {
                    found.push((*c, &text[..end]));
                    return Some(found);
                }
            }
            None
        }
    }
}

impl Tongue {
    /// A language from its decimal sign and from pairs of English and its own patterns.
    pub fn new(decimal: DecimalSign, pairs: impl IntoIterator<Item = (String, String)>) -> Tongue {
        let mut table = Table { decimal, ..Table::default() };
        for (from, to) in pairs {
            let (left, right) = (bits(&from), bits(&to));
            if left.iter().any(|b| matches!(b, Bit::Place(_))) {
                table.open.push(Pattern { from: left, to: right });
            } else {
                table.plain.insert(from, to);
            }
        }
        table.open.sort_by_key(|p| std::cmp::Reverse(own(&p.from)));
        Tongue(Some(Arc::new(table)))
    }
    /// Whether this is the language drawings are made in.
    pub fn is_english(&self) -> bool {
        self.0.is_none()
    }
    /// The text in this language. Spaces round it stay.
    pub fn say(&self, text: &str) -> String {
        self.known(text).unwrap_or_else(|| text.to_string())
    }
    /// The text in this language, if a pattern fits it.
    pub fn known(&self, text: &str) -> Option<String> {
        let table = self.0.as_ref()?;
        let core = text.trim();
        let said = table.say(core, DEPTH)?;
        let lead = text.len() - text.trim_start().len();
        let tail = text.trim_end().len();
        Some(format!("{}{said}{}", &text[..lead], &text[tail..]))
    }
    /// A name as it stands within a sentence: English writes nouns small there.
    pub fn within(&self, name: &str) -> String {
        if self.is_english() { name.to_lowercase() } else { name.to_string() }
    }
}

impl Table {
    /// What stands for itself: a number or angle with this language's decimal sign, all else as it is.
    fn number(&self, text: &str) -> String {
        let number = text.contains('.') && text.trim_end_matches('°').parse::<f64>().is_ok();
        if number { text.replace('.', &self.decimal.char().to_string()) } else { text.to_string() }
    }
    fn say(&self, text: &str, depth: usize) -> Option<String> {
        if let Some(found) = self.plain.get(text) {
            return Some(found.clone());
        }
        if depth == 0 {
            return None;
        }
        let (pattern, places) = self.open.iter().find_map(|p| fits(&p.from, text).map(|f| (p, f)))?;
        let mut out = String::new();
        for bit in &pattern.to {
            match bit {
                Bit::Words(w) => out.push_str(w),
                Bit::Place(c) => {
                    let inner = places.iter().find(|p| p.0 == *c).map_or("", |p| p.1);
                    out.push_str(&self.say(inner, depth - 1).unwrap_or_else(|| self.number(inner)));
                }
            }
        }
        Some(out)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tongue() -> Tongue {
        let pairs = [
            ("the radius of {a}", "Radius: {a}"),
            ("the {a} corner", "Ecke {a}"),
            ("the arc from {a} to {b}", "Bogen von {a} bis {b}"),
            ("left", "links"),
            ("deep", "tief"),
            ("{a} mm thick", "{a} mm dick"),
        ];
        Tongue::new(DecimalSign::Comma, pairs.map(|(a, b)| (a.to_string(), b.to_string())))
    }

    #[test]
    fn phrases_within_phrases_are_said_and_spaces_stay() {
        let t = tongue();
        assert_eq!(
            t.say("the radius of the arc from the left corner to the tip"),
            "Radius: Bogen von Ecke links bis the tip"
        );
        assert_eq!(t.say(" deep"), " tief");
        assert_eq!(t.say("12.5 mm thick"), "12,5 mm dick");
        assert_eq!(t.known("deeper"), None);
        assert_eq!(Tongue::default().say("deep"), "deep");
        assert_eq!(Tongue::default().within("Panel"), "panel");
        assert_eq!(t.within("Segment"), "Segment");
    }
}
