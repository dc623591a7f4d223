//! Packed data of a PDF, unpacked no further than allowed.
//!
//! In: bytes packed with Flate (RFC 1950 and 1951), a limit. Out: what they unpack to, or that it is too much.
//! Always true: no more than the limit is ever held; the work is bounded by the limit.

use miniz_oxide::inflate::core::inflate_flags::{
    TINFL_FLAG_HAS_MORE_INPUT, TINFL_FLAG_IGNORE_ADLER32, TINFL_FLAG_PARSE_ZLIB_HEADER,
};
use miniz_oxide::inflate::core::{DecompressorOxide, decompress};
use miniz_oxide::inflate::{TINFLStatus, decompress_to_vec_zlib_with_limit};

/// What became of packed data.
pub(crate) enum Unpacked {
    /// All of it.
    Whole(Vec<u8>),
    /// There is more than allowed.
    TooMuch,
    /// It is damaged.
    Broken,
}

/// Unpacks a whole Flate stream.
pub(crate) fn unpack(packed: &[u8], most: usize) -> Unpacked {
    // One byte more tells too much from just enough.
    match decompress_to_vec_zlib_with_limit(packed, most.saturating_add(1)) {
        Ok(data) if data.len() <= most => Unpacked::Whole(data),
        Ok(_) => Unpacked::TooMuch,
        Err(e) if e.status == TINFLStatus::HasMoreOutput => Unpacked::TooMuch,
        Err(_) => Unpacked::Broken,
    }
}

/// Bytes read and unpacked until a Flate stream ends, what follows it left alone; none when they are more than
/// allowed, or when it is damaged. Nothing is kept.
pub(crate) fn measure(packed: &[u8], most: usize) -> Option<usize> {
    const RING: usize = 32_768;
    // As readers do, data without the head of RFC 1950 is taken for bare RFC 1951.
    let headed = packed.len() >= 2
        && packed[0] & 0x0f == 8
        && u16::from_be_bytes([packed[0], packed[1]]).is_multiple_of(31)
        && packed[1] & 0x20 == 0;
    let head = if headed { TINFL_FLAG_PARSE_ZLIB_HEADER } else { 0 };
    let mut state = DecompressorOxide::new();
    let mut ring = vec![0; RING];
    let (mut from, mut out) = (0, 0);
    loop {
        let to = packed.len().min(from + RING);
        let more = if to < packed.len() { TINFL_FLAG_HAS_MORE_INPUT } else { 0 };
        let flags = head | more | TINFL_FLAG_IGNORE_ADLER32;
        let (status, read, written) = decompress(&mut state, &packed[from..to], &mut ring, out % RING, flags);
        from += read;
        out += written;
        if from + out > most {
            return None;
        }
        match status {
            TINFLStatus::Done => return Some(from + out),
            TINFLStatus::HasMoreOutput | TINFLStatus::NeedsMoreInput if read + written > 0 => {}
            _ => return None,
        }
    }
}
