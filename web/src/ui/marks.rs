//! Our own small drawings for buttons and lists.
//!
//! In: nothing. Out: SVG marks that take the colour of the text beside them.
//! Always true: a mark never stands alone for a meaning; words go with it, seen or read out.

use leptos::prelude::*;

fn mark(shape: &'static str) -> impl IntoView {
    view! {
        <svg class="mark" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
            <path d=shape></path>
        </svg>
    }
}

/// The corner of a page: a part that opens and folds.
pub fn corner() -> impl IntoView {
    mark("M5 9l7 7 7-7")
}

/// A tick: it holds.
pub fn holds() -> impl IntoView {
    mark("M4 13l5 5L20 6")
}

/// A bar across: it fails.
pub fn fails() -> impl IntoView {
    mark("M12 3a9 9 0 1 0 .01 0zM6 6l12 12")
}

/// Three panels swinging open: play.
pub fn play() -> impl IntoView {
    mark("M7 4.5v15l12.5-7.5z")
}

/// Two bars: pause.
pub fn pause() -> impl IntoView {
    mark("M8 5v14M16 5v14")
}

/// A book with a bookmark: save the book.
pub fn book() -> impl IntoView {
    mark("M12 6C9.5 4.2 6.5 3.8 3 4v14.5c3.5-.2 6.5.2 9 2 2.5-1.8 5.5-2.2 9-2V4c-3.5-.2-6.5.2-9 2zM12 6v14.5")
}

/// A sheet going into a drawer: save the plan.
pub fn put_by() -> impl IntoView {
    mark("M3 15v5h18v-5M12 3v11M8 10.5l4 4 4-4")
}

/// A sheet coming out of a drawer: open a plan.
pub fn take_out() -> impl IntoView {
    mark("M3 15v5h18v-5M12 14.5V3.5M8 7.5l4-4 4 4")
}

/// An arrow bent back: undo.
pub fn undo() -> impl IntoView {
    mark("M9 5L4 10l5 5M4.5 10H14a5.5 5.5 0 0 1 0 11h-3")
}

/// An arrow bent forth: redo.
pub fn redo() -> impl IntoView {
    mark("M15 5l5 5-5 5M19.5 10H10a5.5 5.5 0 0 0 0 11h3")
}

/// The table from above, opened.
pub fn table() -> impl IntoView {
    view! {
        <svg viewBox="0 0 64 64" aria-hidden="true" focusable="false">
            <circle cx="32" cy="32" r="29" fill="var(--leaf)"></circle>
            <path fill="var(--wood)" stroke="var(--bench)" stroke-width="1.5" d=TABLE></path>
        </svg>
    }
}

/// Six panels moved apart; the same figures as the app's icon.
const TABLE: &str = "\
    M38.93 28.00L59.93 28.00A21 21 0 0 0 49.43 9.81Z \
    M32.00 24.00L42.50 5.81A21 21 0 0 0 21.50 5.81Z \
    M25.07 28.00L14.57 9.81A21 21 0 0 0 4.07 28.00Z \
    M25.07 36.00L4.07 36.00A21 21 0 0 0 14.57 54.19Z \
    M32.00 40.00L21.50 58.19A21 21 0 0 0 42.50 58.19Z \
    M38.93 36.00L49.43 54.19A21 21 0 0 0 59.93 36.00Z";
