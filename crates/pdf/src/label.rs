//! Page labels.
//!
//! In: what a reader shall see ("iii", "12", "A-4"). Out: the style, prefix and number that show it.
//! Always true: prefix and number together show exactly the given characters.

use std::num::NonZeroU32;

use krilla::page::{NumberingStyle, PageLabel};
use turnleaf_text::plain;

/// The label of a page, `None` when it is empty.
pub(crate) fn label(shown: &str) -> Option<PageLabel> {
    let shown = plain(shown, 100);
    if shown.is_empty() {
        return None;
    }
    let digits = shown.len() - shown.bytes().rev().take_while(u8::is_ascii_digit).count();
    // Leading zeros belong to the prefix, because a number is shown without them.
    let start = digits + shown[digits..].bytes().take_while(|b| *b == b'0').count();
    if let Some(n) = shown[start..].parse().ok().and_then(NonZeroU32::new) {
        return Some(PageLabel::new(Some(NumberingStyle::Arabic), prefix(&shown[..start]), Some(n)));
    }
    if let Some(n) = roman_value(&shown).and_then(NonZeroU32::new) {
        return Some(PageLabel::new(Some(NumberingStyle::LowerRoman), None, Some(n)));
    }
    Some(PageLabel::new(None, Some(shown), None))
}

fn prefix(text: &str) -> Option<String> {
    (!text.is_empty()).then(|| text.to_string())
}

const ROMAN: [(u32, &str); 13] = [
    (1000, "m"),
    (900, "cm"),
    (500, "d"),
    (400, "cd"),
    (100, "c"),
    (90, "xc"),
    (50, "l"),
    (40, "xl"),
    (10, "x"),
    (9, "ix"),
    (5, "v"),
    (4, "iv"),
    (1, "i"),
];

fn roman(mut n: u32) -> String {
    let mut out = String::new();
    for (value, sign) in ROMAN {
        while n >= value {
            out.push_str(sign);
            n -= value;
        }
    }
    out
}

/// The value of a Roman number written as a reader would write it, in small letters, below 4000.
fn roman_value(text: &str) -> Option<u32> {
    let (mut rest, mut n) = (text, 0);
    for (value, sign) in ROMAN {
        while let Some(r) = rest.strip_prefix(sign) {
            rest = r;
            n += value;
            if n >= 4000 {
                return None;
            }
        }
    }
    (n > 0 && rest.is_empty() && roman(n) == text).then_some(n)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roman_numbers_go_there_and_back() {
        for n in 1..4000 {
            assert_eq!(roman_value(&roman(n)), Some(n));
        }
        for odd in ["", "iiii", "vx", "ic", "cover", "XIV", "mmmm"] {
            assert_eq!(roman_value(odd), None, "{odd}");
        }
    }
}
