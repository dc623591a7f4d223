//! The fonts of the book's pages, lent to the page.
//!
//! In: the font files that the core carries for the PDF. Out: the browser knows them by their families.
//! Always true: nothing is downloaded for them; a browser that refuses one shows its own font instead.

use crate::core::fonts;
use js_sys::Uint8Array;
use web_sys::{FontFace, FontFaceDescriptors};

/// Hands every font to the browser.
pub fn lend() {
    let Some(document) = web_sys::window().and_then(|window| window.document()) else { return };
    for (family, weight, slanted, bytes) in fonts() {
        let how = FontFaceDescriptors::new();
        how.set_weight(&weight.to_string());
        how.set_style(if slanted { "italic" } else { "normal" });
        let face =
            FontFace::new_with_array_buffer_and_descriptors(family, &Uint8Array::from(bytes).buffer(), &how);
        if let Ok(face) = face {
            // Refused only by a browser that cannot take fonts at all.
            let _ = document.fonts().add(&face);
        }
    }
}
