//! Cuts a bundled font down to the glyphs in use, for files that carry their own fonts.
//!
//! In: a font and glyph numbers. Out: a TrueType file (ISO/IEC 14496-22) that browsers accept.
//! Always true: glyphs keep their numbers and the character map stays whole; glyphs not in use are
//! empty; the same glyphs give the same bytes. Hints and layout tables are left out: today's files
//! carry no kerning, and the advances are all that places letters.

use std::collections::BTreeSet;

use crate::fonts::Font;

/// Tables that are kept as they are.
const KEPT: [&[u8; 4]; 7] = [b"OS/2", b"cmap", b"head", b"hhea", b"hmtx", b"maxp", b"name"];

/// Flags of a piece of a composite glyph (glyf table).
const WORDS: u16 = 0x0001;
const SCALE: u16 = 0x0008;
const MORE: u16 = 0x0020;
const TWO_SCALES: u16 = 0x0040;
const MATRIX: u16 = 0x0080;

fn u16_at(data: &[u8], at: usize) -> Option<u16> {
    Some(u16::from_be_bytes(data.get(at..at + 2)?.try_into().ok()?))
}

fn u32_at(data: &[u8], at: usize) -> Option<u32> {
    Some(u32::from_be_bytes(data.get(at..at + 4)?.try_into().ok()?))
}

fn table<'a>(font: &'a [u8], tag: &[u8; 4]) -> Option<&'a [u8]> {
    let count = usize::from(u16_at(font, 4)?);
    let record = (0..count).map(|i| 12 + 16 * i).find(|at| font.get(*at..at + 4) == Some(&tag[..]))?;
    let (start, len) = (u32_at(font, record + 8)? as usize, u32_at(font, record + 12)? as usize);
    font.get(start..start + len)
}

/// Offsets of all glyphs and the end of the last.
fn offsets(font: &[u8]) -> Option<Vec<usize>> {
    let glyphs = usize::from(u16_at(table(font, b"maxp")?, 4)?);
    let long = u16_at(table(font, b"head")?, 50)? != 0;
    let loca = table(font, b"loca")?;
    (0..=glyphs)
        .map(|i| match long {
            true => u32_at(loca, 4 * i).map(|o| o as usize),
            false => u16_at(loca, 2 * i).map(|o| usize::from(o) * 2),
        })
        .collect()
}

/// The glyphs a composite glyph is made of.
fn parts(glyph: &[u8]) -> Vec<u32> {
    let mut parts = Vec::new();
    // A negative number of contours marks a composite.
    if u16_at(glyph, 0).is_none_or(|n| n < 0x8000) {
        return parts;
    }
    let mut at = 10;
    while let (Some(flags), Some(id)) = (u16_at(glyph, at), u16_at(glyph, at + 2)) {
        parts.push(u32::from(id));
        at += 4 + if flags & WORDS != 0 { 4 } else { 2 };
        at += match flags & (SCALE | TWO_SCALES | MATRIX) {
            SCALE => 2,
            TWO_SCALES => 4,
            MATRIX => 8,
            _ => 0,
        };
        if flags & MORE == 0 {
            break;
        }
    }
    parts
}

fn checksum(data: &[u8]) -> u32 {
    data.chunks(4).fold(0u32, |sum, c| {
        let mut word = [0; 4];
        word[..c.len()].copy_from_slice(c);
        sum.wrapping_add(u32::from_be_bytes(word))
    })
}

/// The font with only these glyphs. The bundled files are sound; should one ever not be, the whole
/// file comes back.
pub fn subset(font: Font, glyphs: &BTreeSet<u32>) -> Vec<u8> {
    cut(font.bytes(), glyphs).unwrap_or_else(|| font.bytes().to_vec())
}

fn cut(font: &[u8], glyphs: &BTreeSet<u32>) -> Option<Vec<u8>> {
    let (offsets, glyf) = (offsets(font)?, table(font, b"glyf")?);
    let outline = |id: u32| {
        let (a, b) = (*offsets.get(id as usize)?, *offsets.get(id as usize + 1)?);
        glyf.get(a..b)
    };
    let mut wanted = BTreeSet::new();
    let mut open: Vec<u32> = std::iter::once(0).chain(glyphs.iter().copied()).collect();
    while let Some(id) = open.pop() {
        if wanted.insert(id) {
            open.extend(outline(id).map(parts).unwrap_or_default());
        }
    }
    let (mut new_glyf, mut new_loca) = (Vec::new(), Vec::new());
    for id in 0..offsets.len() as u32 - 1 {
        new_loca.extend((new_glyf.len() as u32).to_be_bytes());
        if wanted.contains(&id) {
            new_glyf.extend_from_slice(outline(id)?);
            new_glyf.resize(new_glyf.len().next_multiple_of(4), 0);
        }
    }
    new_loca.extend((new_glyf.len() as u32).to_be_bytes());
    let mut tables: Vec<(&[u8; 4], Vec<u8>)> = Vec::new();
    for tag in KEPT {
        tables.push((tag, table(font, tag)?.to_vec()));
    }
    // Version 3: no glyph names.
    let mut post = table(font, b"post")?.get(..32)?.to_vec();
    post[..4].copy_from_slice(&0x0003_0000u32.to_be_bytes());
    tables.push((b"post", post));
    tables.push((b"glyf", new_glyf));
    tables.push((b"loca", new_loca));
    tables.sort();
    for (tag, data) in &mut tables {
        if *tag == b"head" {
            // No checksum yet, long offsets.
            data.get_mut(8..12)?.fill(0);
            data.get_mut(50..52)?.copy_from_slice(&[0, 1]);
        }
    }
    Some(assemble(&tables))
}

fn assemble(tables: &[(&[u8; 4], Vec<u8>)]) -> Vec<u8> {
    let count = tables.len() as u16;
    let power = count.ilog2();
    let mut out = Vec::new();
    out.extend(0x0001_0000u32.to_be_bytes());
    for n in [count, 16 << power, power as u16, count * 16 - (16 << power)] {
        out.extend(n.to_be_bytes());
    }
    let mut start = out.len() + 16 * tables.len();
    for (tag, data) in tables {
        out.extend_from_slice(&tag[..]);
        for n in [checksum(data), start as u32, data.len() as u32] {
            out.extend(n.to_be_bytes());
        }
        start += data.len().next_multiple_of(4);
    }
    let mut head = None;
    for (tag, data) in tables {
        if *tag == b"head" {
            head = Some(out.len());
        }
        out.extend_from_slice(data);
        out.resize(out.len().next_multiple_of(4), 0);
    }
    if let Some(head) = head {
        let adjustment = 0xB1B0_AFBAu32.wrapping_sub(checksum(&out));
        out[head + 8..head + 12].copy_from_slice(&adjustment.to_be_bytes());
    }
    out
}
