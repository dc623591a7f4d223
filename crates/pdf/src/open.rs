//! Files carried inside a PDF, taken out again.
//!
//! In: bytes of a PDF, ours or saved again by another program. Out: the embedded files.
//! Always true: no input makes it panic; embedded files larger than [`MOST`] packed bytes are passed over, so that
//! a small file cannot unpack into a great one; encrypted files give a sentence.

use hayro_syntax::object::{Dict, Name, Object, Stream};
use hayro_syntax::{LoadPdfError, Pdf};

/// Longest packed file that is unpacked, bytes. A plan of 2 MB packs to a tenth of that.
pub const MOST: usize = 512_000;

/// Whether bytes begin as a PDF does: its header stands within the first 1024 bytes (ISO 32000-1, annex H, note 13;
/// from memory).
pub fn is_pdf(bytes: &[u8]) -> bool {
    bytes[..bytes.len().min(1024)].windows(5).any(|w| w == b"%PDF-")
}

/// The embedded files of a PDF, in the order of its objects. An error is one sentence.
pub fn carried(bytes: &[u8]) -> Result<Vec<Vec<u8>>, String> {
    let pdf = Pdf::new(bytes.to_vec()).map_err(|e| match e {
        LoadPdfError::Decryption(_) => {
            "This PDF is encrypted; save it without a password and open it again.".to_string()
        }
        LoadPdfError::Invalid => "This PDF cannot be read; it may be only part of a file.".to_string(),
    })?;
    let mut out = Vec::new();
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
        let marked = kind.is_some_and(|n| n.as_ref() == b"EmbeddedFile");
        if marked
            && stream.raw_data().len() <= MOST
            && let Ok(data) = stream.decoded()
        {
            let data = data.into_owned();
            if !out.contains(&data) {
                out.push(data);
            }
        }
    }
    Ok(out)
}

/// The stream that a file specification points to.
fn embedded<'a>(dict: &Dict<'a>) -> Option<Stream<'a>> {
    dict.get::<Dict>("EF")?.get::<Stream>("F")
}
