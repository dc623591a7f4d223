//! Tests of cleaning, shaping and measuring.

use turnleaf_page::{Anchor, Face, Item, Text, pt};

use crate::clean::STAND_IN;
use crate::fonts::Font;
use crate::*;

const FACES: [Face; 3] = [Face::Regular, Face::Bold, Face::Italic];

/// Strings that were made to break text code: controls, overrides, right-to-left letters, emoji,
/// piled-up accents, private and non-characters, long words.
pub(crate) fn hostile() -> Vec<String> {
    vec![
        String::new(),
        " ".repeat(300),
        "\0\u{1}\u{7F}\u{9F}\u{1B}[31m".to_string(),
        "a\tb\r\nc\u{2028}d\u{2029}e\u{85}f".to_string(),
        "\u{202E}evil\u{202C} \u{2066}x\u{2069} \u{200F}".to_string(),
        "שלום עולם 1200 mm".to_string(),
        "abc שלום 12.5 def עולם".to_string(),
        "مرحبا بالعالم".to_string(),
        "👩‍👩‍👧‍👦🏳️‍🌈 ok".to_string(),
        "漢字かな交じり文 12 mm".to_string(),
        "\u{E000}\u{F8FF}\u{10FFFF}\u{FFFE}\u{FDD0}".to_string(),
        format!("Z{}", "\u{301}\u{327}\u{330}".repeat(3000)),
        "W".repeat(100_000),
        "iW ".repeat(33_000),
        "1 mm ".repeat(20_000),
        "א".repeat(50_000),
        "\u{AD}".repeat(1000),
        format!("x{}y", "\u{AD}".repeat(1000)),
        "<svg onload=\"x\">&amp;]]>".to_string(),
    ]
}

#[test]
fn every_face_draws_the_same_characters() {
    for c in (0..0x3_0000u32).filter_map(char::from_u32) {
        for font in [Font::Bold, Font::Italic] {
            assert_eq!(Font::Regular.covers(c), font.covers(c), "U+{:04X}", c as u32);
        }
    }
}

#[test]
fn no_character_becomes_a_missing_glyph_box() {
    for c in (0..0x2_0000u32).chain(0xE_0000..0xE_0200).chain(0x10_FFF0..0x11_0000).filter_map(char::from_u32)
    {
        let shaped = shape(&c.to_string(), Face::Regular);
        for run in &shaped.runs {
            assert!(run.glyphs.iter().all(|g| g.id != 0), "U+{:04X} is drawn as a box", c as u32);
        }
    }
}

#[test]
fn signs_of_a_plan_book_can_be_drawn() {
    let text = "⌀ ∅ → ← ↑ ↓ ↻ ↺ ✓ ✗ ☐ ☑ ± × · ° ′ ″ ½ ¼ ¾ ⅛ ⅜ ⅝ ⅞ ⁄ ≤ ≥ ≈ − – — … “ ” ‘ ’ „ ä ö ü ß Ä Ö Ü é µ Ω ² ³ √ π △ ⚠ ↧ ⌴ ⌵ ⟂ ∥ ∠";
    assert!(undrawable(text).is_empty(), "{:?}", undrawable(text));
    assert_eq!(undrawable("a漢b漢👍"), ['漢', '👍']);
    assert_eq!(drawable("a漢b"), format!("a{STAND_IN}b"));
}

#[test]
fn cleaning_twice_changes_nothing_more() {
    for text in hostile() {
        let once = drawable(&text).into_owned();
        assert_eq!(drawable(&once), once);
        assert!(undrawable(&once).is_empty());
        assert!(!once.chars().any(char::is_control));
    }
}

#[test]
fn hostile_text_is_shaped_with_finite_lengths_and_valid_ranges() {
    for text in hostile() {
        for face in FACES {
            let shaped = shape(&text, face);
            assert!(shaped.width.is_finite() && shaped.width >= 0.0);
            let mut x = 0.0;
            for run in &shaped.runs {
                assert!((run.x - x).abs() < 1e-9);
                x += run.width;
                for g in &run.glyphs {
                    assert!(g.range.start <= g.range.end, "{:?}", g.range);
                    assert!(shaped.text.get(g.range.clone()).is_some_and(|t| !t.is_empty()), "{:?}", g.range);
                }
            }
            assert!((shaped.width - x).abs() < 1e-6);
        }
    }
}

#[test]
fn figures_have_one_width_and_sums_hold() {
    // Advance of a figure in the bundled Open Sans Regular, read from its hmtx table with fontTools.
    let figure = 1171.0 / 2048.0;
    for c in "0123456789".chars() {
        assert!((width(&c.to_string(), 1.0, Face::Regular) - figure).abs() < 1e-12);
    }
    assert!(
        (width("1,200.5", 3.5, Face::Regular)
            - 3.5 * (5.0 * figure + width(",", 1.0, Face::Regular) + width(".", 1.0, Face::Regular)))
        .abs()
            < 1e-9
    );
}

#[test]
fn hebrew_runs_from_right_to_left() {
    let shaped = shape("אבג", Face::Regular);
    let starts: Vec<usize> = shaped.runs[0].glyphs.iter().map(|g| g.range.start).collect();
    assert!(shaped.runs[0].rtl);
    assert_eq!(starts, [4, 2, 0]);
    // The number inside stays readable: the run of the figures is left to right.
    let mixed = shape("ab אב 12", Face::Regular);
    assert!(mixed.runs.iter().any(|r| !r.rtl && mixed.text[r.range.clone()].contains("12")));
}

#[test]
fn composed_and_decomposed_letters_measure_alike() {
    let (a, b) = (width("Ü", 4.0, Face::Regular), width("U\u{308}", 4.0, Face::Regular));
    assert!((a - b).abs() < 1e-9, "{a} {b}");
}

#[test]
fn corners_turn_with_the_text() {
    let text = Text::new(pt(50.0, 80.0), 4.0, "450.0").anchor(Anchor::Middle);
    let flat = corners(&text);
    let w = width("450.0", 4.0, Face::Regular);
    assert!((flat[0].x - (50.0 - w / 2.0)).abs() < 1e-9 && flat[0].y > 80.0);
    assert!(flat[2].y < 80.0);
    // Read from the right: the text runs up the sheet, its top points left.
    let up = corners(&text.rotate(90.0));
    assert!((up[0].y - (80.0 + w / 2.0)).abs() < 1e-9 && up[0].x > 50.0);
    assert!((up[1].y - (80.0 - w / 2.0)).abs() < 1e-9 && up[2].x < 50.0);
}

#[test]
fn bounds_hold_lines_and_words() {
    let text = Item::Text(Text::new(pt(10.0, 10.0), 4.0, "Ag"));
    let (low, high) = bounds(std::slice::from_ref(&text)).unwrap();
    assert!(low.x == 10.0 && low.y < 10.0 - 2.8 && high.y > 10.9);
    assert!(bounds(&[]).is_none());
}

#[test]
fn plain_keeps_what_titles_can_hold() {
    assert_eq!(plain("Tisch 漢字\n\u{0}zwei\u{FFFF}", 100), "Tisch 漢字 zwei");
    assert_eq!(plain(&"é".repeat(500), 10), format!("{}…", "é".repeat(9)));
    assert_eq!(plain("abc", 3), "abc");
}

#[test]
fn a_subset_is_a_sound_font_with_the_same_outlines() {
    use skrifa::MetadataProvider;
    use std::collections::BTreeSet;
    // Ä is a composite glyph: its parts must come along.
    let text = "Ä1,⌀x";
    for font in [Font::Regular, Font::Signs] {
        let shaped = shape(text, Face::Regular);
        let used: BTreeSet<u32> = shaped
            .runs
            .iter()
            .filter(|r| r.font == font)
            .flat_map(|r| r.glyphs.iter().map(|g| g.id))
            .collect();
        let bytes = crate::subset(font, &used);
        assert!(bytes.len() < font.bytes().len() / if font == Font::Signs { 1 } else { 4 });
        let cut = skrifa::FontRef::new(&bytes).unwrap();
        let size = skrifa::instance::Size::unscaled();
        let whole = skrifa::FontRef::new(font.bytes()).unwrap();
        for id in used {
            let id = skrifa::GlyphId::new(id);
            let box_of = |f: &skrifa::FontRef| {
                f.glyph_metrics(size, skrifa::instance::LocationRef::default()).bounds(id)
            };
            assert!(box_of(&whole).is_some());
            assert_eq!(box_of(&cut), box_of(&whole));
        }
    }
}
