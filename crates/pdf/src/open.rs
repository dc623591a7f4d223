//! Files carried inside a PDF, taken out again.
//!
//! In: bytes of a PDF, ours or saved again by another program. Out: the embedded files.
//! Always true: no input makes it panic; nothing is unpacked beyond its limit, neither a carried file nor the PDF's own
//! lists, so that a small file cannot unpack into a great one; encrypted files give a sentence.

use crate::unpack::{Unpacked, measure, unpack};
use hayro_syntax::object::{Dict, Name, Object, Stream};
use hayro_syntax::{Filter, LoadPdfError, Pdf};
use std::collections::BTreeSet;

/// Most different files looked at in one PDF.
const FILES: usize = 100;
/// Bytes that a PDF's own lists (object streams and cross-reference streams) may take, packed and unpacked. A book of
/// 73 pages, saved again with object streams by qpdf, takes 0.8 MB of them (measured).
const LISTS: usize = 40_000_000;

/// Whether bytes begin as a PDF does: its header stands within the first 1024 bytes (ISO 32000-1, annex H, note 13;
/// from memory).
pub fn is_pdf(bytes: &[u8]) -> bool {
    bytes[..bytes.len().min(1024)].windows(5).any(|w| w == b"%PDF-")
}

/// The embedded files of a PDF, in the order of its objects: those of no more than `most` bytes unpacked. An error
/// is one sentence; it is one, too, when every embedded file is larger or damaged.
pub fn carried(bytes: &[u8], most: usize) -> Result<Vec<Vec<u8>>, String> {
    if !lists_are_bounded(bytes) {
        return Err(format!(
            "This PDF cannot be read: its lists are damaged or unpack to more than {} MB; save the book again and open that.",
            LISTS / 1_000_000
        ));
    }
    let pdf = Pdf::new(bytes.to_vec()).map_err(|e| match e {
        LoadPdfError::Decryption(_) => {
            "This PDF is encrypted; save it without a password and open it again.".to_string()
        }
        LoadPdfError::Invalid => "This PDF cannot be read; it may be only part of a file.".to_string(),
    })?;
    let mut out = Vec::new();
    let mut seen = BTreeSet::new();
    let (mut large, mut broken) = (false, false);
    // All files together may take what three of the largest do.
    let mut left = most.saturating_mul(3);
    for object in pdf.objects() {
        let stream = match object {
            Object::Stream(stream) => stream,
            Object::Dict(dict) => match embedded(&dict) {
                Some(stream) => stream,
                None => continue,
            },
            _ => continue,
        };
        let kind = stream.dict().get::<Name>("Type");
        let id = stream.obj_id();
        if kind.is_none_or(|n| n.as_ref() != b"EmbeddedFile") || !seen.insert((id.obj_number, id.gen_number))
        {
            continue;
        }
        if seen.len() > FILES || left == 0 {
            break;
        }
        match contents(&stream, most.min(left)) {
            Unpacked::Whole(data) => {
                left -= data.len();
                if !out.contains(&data) {
                    out.push(data);
                }
            }
            Unpacked::TooMuch => {
                large = true;
                left -= most.min(left);
            }
            Unpacked::Broken => broken = true,
        }
    }
    if out.is_empty() && large {
        let size = most as f64 / 1e6;
        return Err(format!(
            "The file inside this PDF unpacks to more than {size:.0} MB; a plan file never has more, so this is something else."
        ));
    }
    if out.is_empty() && broken {
        return Err("The file inside this PDF is damaged; open another copy of the book.".to_string());
    }
    Ok(out)
}

/// The stream that a file specification points to.
fn embedded<'a>(dict: &Dict<'a>) -> Option<Stream<'a>> {
    dict.get::<Dict>("EF")?.get::<Stream>("F")
}

/// What a stream holds.
fn contents(stream: &Stream, most: usize) -> Unpacked {
    let raw = stream.raw_data();
    let filters = stream.filters();
    match filters.as_slice() {
        [] if raw.len() <= most => return Unpacked::Whole(raw.into_owned()),
        [] => return Unpacked::TooMuch,
        // Differences from row to row are for pictures; a reader that knows them undoes them below.
        [Filter::FlateDecode] => match unpack(&raw, most) {
            Unpacked::Whole(data) if stream.dict().get::<Dict>("DecodeParms").is_none() => {
                return Unpacked::Whole(data);
            }
            Unpacked::Whole(_) => {}
            other => return other,
        },
        // The most that each packing can grow by; other programs use them for small files, if at all.
        several => {
            let growth = several.iter().map(|f| match f {
                Filter::AsciiHexDecode | Filter::Crypt => 1,
                // "z" stands for four bytes.
                Filter::Ascii85Decode => 4,
                // Two bytes stand for 128 at most.
                Filter::RunLengthDecode => 64,
                // RFC 1951: 258 bytes from two bits.
                Filter::FlateDecode => 1032,
                // Twelve bits stand for 4096 bytes at most.
                _ => 4096,
            });
            let largest = growth.fold(raw.len(), usize::saturating_mul);
            // Four times over: what is small in truth is not refused for what it could have been.
            if largest > most.saturating_mul(4) {
                return Unpacked::TooMuch;
            }
        }
    }
    match stream.decoded() {
        Ok(data) if data.len() <= most => Unpacked::Whole(data.into_owned()),
        Ok(_) => Unpacked::TooMuch,
        Err(_) => Unpacked::Broken,
    }
}

/// Whether the streams that a reader of PDF unpacks by itself, to find its objects, unpack to no more than [`LISTS`].
/// They are found by their keys (`First` of object streams, `W` of cross-reference streams; ISO 32000-1, 7.5.7 and
/// 7.5.8, from memory); their packing must be Flate, once, as all programs that write them do.
fn lists_are_bounded(bytes: &[u8]) -> bool {
    const KEY: &[u8] = b"stream";
    let encrypted = find(bytes, b"/Encrypt").is_some();
    let mut left = LISTS;
    let (mut at, mut object) = (0, 0);
    while let Some(k) = bytes.get(at..).and_then(next_mark) {
        let found = at + k;
        at = found + KEY.len();
        if bytes[found..].starts_with(b"endobj") {
            object = at;
            continue;
        }
        if found >= 3 && &bytes[found - 3..found] == b"end" {
            object = at;
            continue;
        }
        let Some(dict) = bytes.get(object..found) else { continue };
        // A list's own words are short; what is long is not one.
        let dict = named(&dict[dict.len().saturating_sub(4096)..]);
        if !is_list(&dict) || !is_packed(&dict) {
            continue;
        }
        if !packed_once(&dict) {
            return false;
        }
        let mut start = at;
        start += usize::from(bytes.get(start) == Some(&b'\r'));
        start += usize::from(bytes.get(start) == Some(&b'\n'));
        let data = &bytes[start.min(bytes.len())..];
        let took = if encrypted {
            // Cannot be looked into here: the most that it could be.
            let end = find(data, b"endstream").unwrap_or(data.len());
            Some(end.saturating_mul(1032)).filter(|n| *n <= left)
        } else {
            measure(data, left)
        };
        match took {
            Some(n) => left -= n,
            None => return false,
        }
    }
    true
}

/// The next "stream" or "endobj".
fn next_mark(bytes: &[u8]) -> Option<usize> {
    bytes.windows(6).position(|w| w == b"stream" || w == b"endobj")
}

fn find(bytes: &[u8], what: &[u8]) -> Option<usize> {
    bytes.windows(what.len()).position(|w| w == what)
}

/// The words of a dictionary with `#xx` in names undone.
fn named(dict: &[u8]) -> Vec<u8> {
    let mut out = Vec::with_capacity(dict.len());
    let mut i = 0;
    while i < dict.len() {
        let digit = |k: usize| dict.get(k).and_then(|b| char::from(*b).to_digit(16));
        match (dict[i], digit(i + 1), digit(i + 2)) {
            (b'#', Some(high), Some(low)) => {
                out.push((high * 16 + low) as u8);
                i += 3;
            }
            (b, _, _) => {
                out.push(b);
                i += 1;
            }
        }
    }
    out
}

fn is_list(dict: &[u8]) -> bool {
    let widths = dict.windows(3).any(|w| w[..2] == *b"/W" && !w[2].is_ascii_alphabetic());
    widths || find(dict, b"/First").is_some()
}

/// Whether a dictionary has the key `Filter`, or its short form.
fn is_packed(dict: &[u8]) -> bool {
    find(dict, b"/Filter").is_some()
        || dict.windows(3).any(|w| w[..2] == *b"/F" && !w[2].is_ascii_alphabetic())
}

/// Whether a list is packed with Flate alone, and says so in its own words.
fn packed_once(dict: &[u8]) -> bool {
    let other: [&[u8]; 6] = [b"LZW", b"RunLength", b"/RL", b"/A85", b"/AHx", b"/ASCII"];
    let flate = dict.windows(3).filter(|w| w == b"/Fl").count();
    let direct = find(dict, b"/Filter").is_none_or(|k| {
        let rest = dict[k + 7..].iter().find(|b| !b.is_ascii_whitespace() && **b != b'[');
        rest == Some(&b'/')
    });
    flate == 1 && direct && !other.iter().any(|w| find(dict, w).is_some())
}
