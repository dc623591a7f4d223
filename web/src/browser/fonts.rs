//! The fonts of the book's pages, lent to the page.
//!
//! In: the font files that the program of books carries for the PDF. Out: the browser knows them by their families.
//! Always true: nothing is downloaded for them; a browser that refuses one shows its own font instead.

use crate::bench::{Answer, Ask, FontFile};
use crate::browser::backroom;
use js_sys::Uint8Array;
use web_sys::{FontFace, FontFaceDescriptors};

/// Asks for every font and hands it to the browser.
pub fn lend() {
    backroom::ask(Ask::Fonts, |answer| {
        // Without them pages are shown in the browser's own letters.
        if let Answer::Fonts(list, bytes) = answer {
            take(&list, &bytes);
        }
    });
}

/// Hands fonts to the browser; their files stand one after another.
pub fn take(list: &[FontFile], bytes: &[u8]) {
    let mut rest = bytes;
    for font in list {
        let Some((file, after)) = rest.split_at_checked(font.length) else { return };
        hand(font, file);
        rest = after;
    }
}

fn hand(font: &FontFile, file: &[u8]) {
    let Some(document) = web_sys::window().and_then(|window| window.document()) else { return };
    let how = FontFaceDescriptors::new();
    how.set_weight(&font.weight.to_string());
    how.set_style(if font.slanted { "italic" } else { "normal" });
    let face =
        FontFace::new_with_array_buffer_and_descriptors(&font.family, &Uint8Array::from(file).buffer(), &how);
    if let Ok(face) = face {
        // Refused only by a browser that cannot take fonts at all.
        let _ = document.fonts().add(&face);
    }
}
