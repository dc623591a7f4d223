//! Pictures of the maker, embedded in the plan file.
//!
//! In: the bytes of a PNG or JPEG file. Out: a [`Picture`] that was decoded once from beginning to end; or, where it was
//! decoded before, one whose header was read again.
//! Always true: no picture is larger than [`PICTURE_MAX`] bytes or [`SIDE_MAX`] dots a side; nothing is decoded
//! before the size that its header names is known to be allowed; what is kept can be printed. Programs that read only
//! headers carry no decoders.

use crate::json::Json;
use crate::say::quoted;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use std::io::Cursor;
use turnleaf_diag::Diagnostic;
use turnleaf_page::{Packing, Picture as Shown};

/// Largest picture file, bytes. 300 kB hold a photograph 120 mm wide at 250 dots an inch.
pub const PICTURE_MAX: usize = 300_000;
/// Most bytes of all pictures of a plan together.
pub const PICTURES_MAX: usize = 2_000_000;
/// Most dots along a side.
pub const SIDE_MAX: u32 = 4000;
/// Most bytes that all pictures of a plan unpack to: 50 million dots in colours. Small files can hold very many dots,
/// and each is decoded.
pub const UNPACKED_MAX: u64 = 150_000_000;
/// Longest caption, in characters: three lines beside a figure.
pub const CAPTION_MAX: usize = 300;

/// An embedded picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// The file as it prints.
    pub shown: Shown,
    /// Dots across.
    pub width: u32,
    /// Dots down.
    pub height: u32,
    /// What it shows: printed below it, and told to readers who cannot see it.
    pub caption: String,
    /// Fingerprint of the file.
    pub(crate) print: String,
    /// Bytes that it unpacks to.
    pub(crate) unpacked: u64,
    /// What this version does not know, kept.
    pub(crate) extra: Vec<(String, Json)>,
}

impl Picture {
    /// A picture from the bytes of its file. An error is one sentence; nothing of a refused file is kept.
    pub fn new(data: &[u8], caption: impl Into<String>) -> Result<Picture, Diagnostic> {
        let mut left = UNPACKED_MAX;
        Picture::within(data, caption.into(), &mut left, WHOLE)
    }
    /// The same from a file that another program has decoded whole: only its header is read.
    pub fn known(data: &[u8], caption: impl Into<String>) -> Result<Picture, Diagnostic> {
        let mut left = UNPACKED_MAX;
        Picture::within(data, caption.into(), &mut left, HEADER)
    }
    /// The same, when it unpacks to no more bytes than are left.
    fn within(data: &[u8], caption: String, left: &mut u64, look: Look) -> Result<Picture, Diagnostic> {
        let before = *left;
        let (packing, width, height) = looked_at(data, left, look)?;
        check_caption(&caption)?;
        let shown = Shown { packing, data: data.into() };
        let print = crate::shared::fingerprint(data);
        Ok(Picture { shown, width, height, caption, print, unpacked: before - *left, extra: Vec::new() })
    }
    /// From the text that a plan file holds.
    pub(crate) fn decoded(
        text: &str,
        caption: String,
        left: &mut u64,
        look: Look,
    ) -> Result<Picture, Diagnostic> {
        // Base64 writes three bytes as four letters; longer text is not even unpacked.
        if text.len() > PICTURE_MAX / 3 * 4 + 8 {
            return Err(too_large(text.len() / 4 * 3));
        }
        let data = STANDARD.decode(text.trim()).map_err(|e| {
            wrong("base64", format!("A picture's data is not base64: {}.", quoted(&e.to_string())))
        })?;
        Picture::within(&data, caption, left, look)
    }
    /// The text that a plan file holds.
    pub(crate) fn encoded(&self) -> String {
        STANDARD.encode(&self.shown.data)
    }
}

pub(crate) fn check_caption(caption: &str) -> Result<(), Diagnostic> {
    if caption.trim().is_empty() {
        let sentence = "A picture has no caption; say what it shows, for those who cannot see it.";
        return Err(wrong("caption.missing", sentence.into()));
    }
    crate::texts::check("steps.picture.caption", "caption of a picture", caption, CAPTION_MAX)
}

fn wrong(code: &str, sentence: String) -> Diagnostic {
    Diagnostic::error(format!("steps.picture.{code}"), sentence)
}

fn too_large(bytes: usize) -> Diagnostic {
    let (has, most) = (bytes.div_ceil(1000), PICTURE_MAX / 1000);
    wrong("large", format!("A picture has {has} kB; {most} kB fit. Save it smaller, for example as JPEG."))
}

/// How a file is looked at: its size in dots, what it unpacks to taken from what is left.
type Reading = fn(&[u8], &mut u64) -> Result<(u32, u32), Diagnostic>;

/// How files are looked at, PNG and JPEG. A pair of functions, so that a program that never asks for [`WHOLE`] is
/// linked without decoders.
pub(crate) type Look = (Reading, Reading);

/// Each is decoded from beginning to end.
pub(crate) const WHOLE: Look = (png, jpeg);
/// Only headers are read.
pub(crate) const HEADER: Look = (png_header, jpeg_header);

/// Looks at a file; its packing and its size in dots.
fn looked_at(data: &[u8], left: &mut u64, look: Look) -> Result<(Packing, u32, u32), Diagnostic> {
    if data.len() > PICTURE_MAX {
        return Err(too_large(data.len()));
    }
    let (packing, found) = if data.starts_with(b"\x89PNG\r\n\x1a\n") {
        (Packing::Png, look.0(data, left))
    } else if data.starts_with(&[0xff, 0xd8, 0xff]) {
        (Packing::Jpeg, look.1(data, left))
    } else {
        return Err(wrong("kind", "A picture is neither PNG nor JPEG; save it as one of these.".into()));
    };
    let (width, height) = found?;
    Ok((packing, width, height))
}

fn allowed(width: u32, height: u32) -> Result<(u32, u32), Diagnostic> {
    let side = |s: u32| (1..=SIDE_MAX).contains(&s);
    if side(width) && side(height) {
        return Ok((width, height));
    }
    let sentence =
        format!("A picture has {width} × {height} dots; from 1 to {SIDE_MAX} along each side can be used.");
    Err(wrong("dots", sentence))
}

/// Takes what a picture unpacks to from what is left, before it is unpacked.
fn take(left: &mut u64, bytes: u64) -> Result<(), Diagnostic> {
    match left.checked_sub(bytes) {
        Some(rest) => *left = rest,
        None => return Err(too_much()),
    }
    Ok(())
}

/// The sentence about too many dots.
pub(crate) fn too_much() -> Diagnostic {
    let most = UNPACKED_MAX / 1_000_000;
    let sentence = format!(
        "All pictures together unpack to more than {most} MB, the most that a plan holds; save them with fewer dots."
    );
    wrong("unpacked", sentence)
}

fn broken(kind: &str, why: &str) -> Diagnostic {
    wrong("broken", format!("A {kind} picture cannot be read: {}.", quoted(why.trim_end_matches('.'))))
}

fn png(data: &[u8], left: &mut u64) -> Result<(u32, u32), Diagnostic> {
    let fail = |e: png::DecodingError| broken("PNG", &e.to_string());
    // What 16 million dots of four times two bytes take; headers are held against SIDE_MAX below.
    let limits = png::Limits { bytes: 160_000_000 };
    let decoder = png::Decoder::new_with_limits(Cursor::new(data), limits);
    let mut reader = decoder.read_info().map_err(fail)?;
    let (width, height) = allowed(reader.info().width, reader.info().height)?;
    let length = reader.output_buffer_size().ok_or_else(|| broken("PNG", "it is too large"))?;
    take(left, length as u64)?;
    let mut dots = vec![0; length];
    reader.next_frame(&mut dots).map_err(fail)?;
    Ok((width, height))
}

fn jpeg(data: &[u8], left: &mut u64) -> Result<(u32, u32), Diagnostic> {
    use zune_jpeg::JpegDecoder;
    use zune_jpeg::zune_core::{bytestream::ZCursor, colorspace::ColorSpace, options::DecoderOptions};
    let fail = |e: zune_jpeg::errors::DecodeErrors| broken("JPEG", &e.to_string());
    let most = SIDE_MAX as usize;
    let options = DecoderOptions::default().set_max_width(most).set_max_height(most);
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(data), options);
    decoder.decode_headers().map_err(fail)?;
    let info = decoder.info().ok_or_else(|| broken("JPEG", "it has no header"))?;
    let (width, height) = allowed(u32::from(info.width), u32::from(info.height))?;
    take(left, 3 * u64::from(width) * u64::from(height))?;
    // Four inks belong to a printing press; readers show them in colours of their own.
    let known =
        matches!(decoder.input_colorspace(), Some(ColorSpace::YCbCr | ColorSpace::Luma | ColorSpace::RGB));
    if !known {
        return Err(broken("JPEG", "its colours are neither grey nor RGB"));
    }
    decoder.decode().map_err(fail)?;
    Ok((width, height))
}

/// Size and dots of a PNG file by its first chunk (PNG 1.2, 11.2.2: width, height, bit depth, colour type).
fn png_header(data: &[u8], left: &mut u64) -> Result<(u32, u32), Diagnostic> {
    let short = || broken("PNG", "it has no header");
    let word = |at: usize| -> Option<u32> {
        let bytes = data.get(at..at + 4)?;
        Some(bytes.iter().fold(0, |sum, byte| sum << 8 | u32::from(*byte)))
    };
    let named = data.get(12..16) == Some(b"IHDR".as_slice());
    let (width, height) = word(16).zip(word(20)).filter(|_| named).ok_or_else(short)?;
    let (width, height) = allowed(width, height)?;
    let depth = u64::from(*data.get(24).ok_or_else(short)?);
    let channels = match data.get(25) {
        Some(0 | 3) => 1,
        Some(2) => 3,
        Some(4) => 2,
        Some(6) => 4,
        _ => return Err(broken("PNG", "its colours are of an unknown kind")),
    };
    take(left, (u64::from(width) * channels * depth).div_ceil(8) * u64::from(height))?;
    Ok((width, height))
}

/// Size of a JPEG file by its frame header (ITU-T T.81, B.2.2: markers C0 to CF but C4, C8 and CC).
fn jpeg_header(data: &[u8], left: &mut u64) -> Result<(u32, u32), Diagnostic> {
    let short = || broken("JPEG", "it has no header");
    let two = |at: usize| Some(u32::from(*data.get(at)?) << 8 | u32::from(*data.get(at + 1)?));
    let mut at = 2;
    loop {
        // Markers may be filled up with further FF.
        while data.get(at) == Some(&0xff) && data.get(at + 1) == Some(&0xff) {
            at += 1;
        }
        let marker = *data.get(at + 1).filter(|_| data[at] == 0xff).ok_or_else(short)?;
        if (0xc0..=0xcf).contains(&marker) && ![0xc4, 0xc8, 0xcc].contains(&marker) {
            let (height, width) = two(at + 5).zip(two(at + 7)).ok_or_else(short)?;
            let (width, height) = allowed(width, height)?;
            take(left, 3 * u64::from(width) * u64::from(height))?;
            return Ok((width, height));
        }
        // Every other segment before the frame says how long it is.
        at += 2 + two(at + 2).filter(|long| *long >= 2).ok_or_else(short)? as usize;
    }
}
