//! Puts the fonts of a page into its file.
//!
//! In: the items of a page. Out: a style element with the glyphs they use, font by font.
//! Always true: fonts come in a fixed order and hold only what the page draws.

use std::collections::BTreeSet;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use turnleaf_page::Item;
use turnleaf_text::{Font, shape, subset};

type Used = [BTreeSet<u32>; Font::ALL.len()];

fn collect(items: &[Item], used: &mut Used) {
    for item in items {
        match item {
            Item::Text(text) => {
                for run in shape(&text.text, text.face).runs {
                    used[run.font.index()].extend(run.glyphs.iter().map(|g| g.id));
                }
            }
            Item::Group { items, .. } => collect(items, used),
            _ => {}
        }
    }
}

/// Appends the style element.
pub(crate) fn embed(out: &mut String, items: &[Item]) {
    let mut used = Used::default();
    collect(items, &mut used);
    out.push_str("<style>");
    for font in Font::ALL {
        let glyphs = &used[font.index()];
        if glyphs.is_empty() {
            continue;
        }
        let style = if font.italic() { "italic" } else { "normal" };
        out.push_str(&format!(
            "@font-face{{font-family:'{}';font-weight:{};font-style:{style};src:url(data:font/ttf;base64,",
            font.family(),
            font.weight(),
        ));
        STANDARD.encode_string(subset(font, glyphs), out);
        out.push_str(")}\n");
    }
    out.push_str("</style>\n");
}
