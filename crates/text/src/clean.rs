//! Makes any string drawable.
//!
//! In: text as somebody typed it. Out: text in which every character has a picture in a bundled font
//! or is invisible by nature, and the list of characters that had none.
//! Always true: [`drawable`] is idempotent, never fails, and leaves no control character, line break
//! or direction override behind; a character without a picture becomes U+FFFD, which has one.

use std::borrow::Cow;

use crate::fonts::Font;

/// What stands in for a character that no bundled font can draw.
pub const STAND_IN: char = '\u{FFFD}';

/// What becomes of one character.
enum Fate {
    Keep,
    Become(char),
    Drop,
    /// No picture: drawn as [`STAND_IN`].
    Missing,
}

fn fate(c: char) -> Fate {
    match c {
        ' '..='~' => Fate::Keep,
        // Breaks and tabs are one space on a single line.
        '\t' | '\n' | '\u{B}' | '\u{C}' | '\r' | '\u{85}' | '\u{2028}' | '\u{2029}' => Fate::Become(' '),
        // Other controls, soft hyphens, joiners, direction marks and overrides, byte order mark,
        // variation selectors, tags, interlinear marks: invisible, and some of them are used to deceive.
        '\0'..='\u{1F}'
        | '\u{7F}'..='\u{9F}'
        | '\u{AD}'
        | '\u{34F}'
        | '\u{61C}'
        | '\u{115F}'..='\u{1160}'
        | '\u{17B4}'..='\u{17B5}'
        | '\u{180B}'..='\u{180F}'
        | '\u{200B}'..='\u{200F}'
        | '\u{202A}'..='\u{202E}'
        | '\u{2060}'..='\u{206F}'
        | '\u{3164}'
        | '\u{FE00}'..='\u{FE0F}'
        | '\u{FEFF}'
        | '\u{FFA0}'
        | '\u{FFF0}'..='\u{FFFB}'
        | '\u{1BCA0}'..='\u{1BCA3}'
        | '\u{1D173}'..='\u{1D17A}'
        | '\u{E0000}'..='\u{E0FFF}' => Fate::Drop,
        // Look-alikes the fonts lack.
        '\u{2012}' => Fate::Become('–'),
        '\u{2010}' | '\u{2011}' if !Font::Regular.covers(c) => Fate::Become('-'),
        '\u{2007}' | '\u{202F}' if !Font::Regular.covers(c) => Fate::Become('\u{A0}'),
        '\u{2000}'..='\u{200A}' | '\u{205F}' | '\u{3000}' if !Font::Regular.covers(c) => Fate::Become(' '),
        // Private characters mean nothing outside one font; the archive format refuses them.
        '\u{E000}'..='\u{F8FF}' | '\u{F0000}'..='\u{10FFFF}' => Fate::Missing,
        c if Font::Regular.covers(c) || Font::Signs.covers(c) => Fate::Keep,
        _ => Fate::Missing,
    }
}

/// The text as it will be drawn.
pub fn drawable(text: &str) -> Cow<'_, str> {
    if text.bytes().all(|b| (b' '..=b'~').contains(&b)) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match fate(c) {
            Fate::Keep => out.push(c),
            Fate::Become(c) => out.push(c),
            Fate::Drop => {}
            Fate::Missing => out.push(STAND_IN),
        }
    }
    if out == text { Cow::Borrowed(text) } else { Cow::Owned(out) }
}

/// The characters that no bundled font can draw, each once, in the order of their appearance (at most
/// a hundred, which is plenty for a sentence).
pub fn undrawable(text: &str) -> Vec<char> {
    let mut missing = Vec::new();
    for c in text.chars() {
        if matches!(fate(c), Fate::Missing) && !missing.contains(&c) {
            missing.push(c);
            if missing.len() == 100 {
                break;
            }
        }
    }
    missing
}

/// Text for titles, bookmarks and other places that are not drawn by us: every character stays except
/// controls and non-characters, which such places cannot hold; breaks become spaces; at most
/// `max_chars` characters, the last of them an ellipsis when something was cut.
pub fn plain(text: &str, max_chars: usize) -> String {
    let mut out = String::new();
    let mut kept = 0;
    for c in text.chars() {
        let c = match c {
            '\t' | '\n' | '\r' | '\u{B}' | '\u{C}' | '\u{85}' | '\u{2028}' | '\u{2029}' => ' ',
            c if c.is_control() => continue,
            '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' | '\u{FEFF}' => continue,
            c if (c as u32) & 0xFFFE == 0xFFFE || ('\u{FDD0}'..='\u{FDEF}').contains(&c) => continue,
            c => c,
        };
        if kept == max_chars {
            out.pop();
            out.push('…');
            break;
        }
        out.push(c);
        kept += 1;
    }
    out
}
