//! References in the maker's texts: `[=panel.travel]` stands for a value of the table.
//!
//! In: text. Out: its [`Piece`]s; the known names nearest to one that is not known.
//! Always true: the pieces put one behind the other give the text again; `[==` stands for the two characters `[=`.

/// A piece of text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Piece {
    /// Words as they are.
    Words(String),
    /// A value by its name.
    Value(String),
    /// A reference that is not finished: what stands after its beginning.
    Open(String),
}

/// Beginning of a reference.
const BEGIN: &str = "[=";
/// Longest name taken for one; what is longer has lost its bracket.
const NAME_MAX: usize = 80;

/// The pieces of a text.
pub fn pieces(text: &str) -> Vec<Piece> {
    let mut out: Vec<Piece> = Vec::new();
    let mut words = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(BEGIN) {
        words.push_str(&rest[..at]);
        rest = &rest[at + BEGIN.len()..];
        if let Some(more) = rest.strip_prefix('=') {
            words.push_str(BEGIN);
            rest = more;
            continue;
        }
        let end =
            rest.find(']').filter(|e| rest[..*e].chars().count() <= NAME_MAX && !rest[..*e].contains('['));
        if !words.is_empty() {
            out.push(Piece::Words(core::mem::take(&mut words)));
        }
        match end {
            Some(end) => {
                out.push(Piece::Value(rest[..end].trim().to_string()));
                rest = &rest[end + 1..];
            }
            None => {
                let shown: String = rest.chars().take(20).collect();
                out.push(Piece::Open(shown));
                words.push_str(BEGIN);
            }
        }
    }
    words.push_str(rest);
    if !words.is_empty() {
        out.push(Piece::Words(words));
    }
    out
}

/// Letters to change, add or take out to make one text of the other (Levenshtein 1965, from memory).
fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, c) in a.chars().enumerate() {
        let mut corner = row[0];
        row[0] = i + 1;
        for (j, d) in b.iter().enumerate() {
            let change = corner + usize::from(c != *d);
            corner = row[j + 1];
            row[j + 1] = change.min(row[j] + 1).min(corner + 1);
        }
    }
    row[b.len()]
}

/// Up to three known names nearest to a name, nearest first; names that hold all its words come before others.
pub fn nearest<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let low = name.to_lowercase();
    let words: Vec<&str> = low.split(|c: char| !c.is_alphanumeric()).filter(|w| w.len() > 2).collect();
    let mut all: Vec<(usize, usize, &str)> = known
        .map(|k| {
            let held = words.iter().filter(|w| k.contains(**w)).count();
            (words.len() - held, distance(&low, k), k)
        })
        // More than half the letters wrong is no slip of the pen, unless a word is right.
        .filter(|(missing, d, _)| *d * 2 <= low.chars().count().max(4) || *missing < words.len())
        .collect();
    all.sort_by_key(|(missing, d, k)| (*d > 2, *missing, *d, *k));
    all.into_iter().take(3).map(|x| x.2).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(t: &str) -> Piece {
        Piece::Words(t.into())
    }
    fn value(t: &str) -> Piece {
        Piece::Value(t.into())
    }

    #[test]
    fn references_are_found_and_brackets_left_alone() {
        let found = pieces("Set the fence to [=gap.width] and [= star.reach ] [see below].");
        let wanted = [
            words("Set the fence to "),
            value("gap.width"),
            words(" and "),
            value("star.reach"),
            words(" [see below]."),
        ];
        assert_eq!(found, wanted);
        assert_eq!(pieces("a [==b] c"), [words("a [=b] c")]);
        assert_eq!(pieces(""), []);
        assert_eq!(pieces("[=]"), [value("")]);
    }

    #[test]
    fn unfinished_references_are_told() {
        assert_eq!(
            pieces("to [=gap.width and on"),
            [words("to "), Piece::Open("gap.width and on".into()), words("[=gap.width and on"),]
        );
        assert_eq!(pieces("[=a [=b]")[0], Piece::Open("a [=b]".into()));
        assert!(pieces(&format!("[={}]", "x".repeat(500))).iter().any(|p| matches!(p, Piece::Open(_))));
    }

    /// Textbook pairs (kitten and sitting, Saturday and Sunday; from memory).
    #[test]
    fn distances_are_those_of_the_textbooks() {
        assert_eq!(distance("kitten", "sitting"), 3);
        assert_eq!(distance("saturday", "sunday"), 3);
        assert_eq!(distance("", "abc"), 3);
    }

    #[test]
    fn the_nearest_names_come_first() {
        let known = ["panel.travel", "leaf.travel", "panel.arm.length", "gap.width", "sectors"];
        let near = |n: &str| nearest(n, known.iter().copied());
        assert_eq!(near("pannel.travel")[0], "panel.travel");
        assert_eq!(near("travel"), ["leaf.travel", "panel.travel"]);
        assert_eq!(near("Gap.Width")[0], "gap.width");
        assert_eq!(near("zzzzzzzz"), Vec::<&str>::new());
    }
}
