//! How far the making of a book is.
//!
//! In: pieces of work done. Out: whoever listens on this thread is told.
//! Always true: what is told never goes back while one book is made; listening changes nothing in the book.

use std::cell::Cell;

/// Told a share from 0 to 1.
pub type Listener = fn(f64);

thread_local! {
    static LISTENER: Cell<Option<Listener>> = const { Cell::new(None) };
}

/// Share of the whole that drawing takes; the rest is laying out.
const DRAWING: f64 = 0.8;

/// Has someone told, on this thread, how far the book that is made on it has come: pieces drawn of those to draw. What
/// is drawn on other threads meanwhile counts at the next piece of this one.
pub fn listen(listener: Listener) {
    LISTENER.set(Some(listener));
}

/// So many pieces of all are drawn or at work.
pub(crate) fn drawn(done: usize, of: usize) {
    if let Some(listener) = LISTENER.get() {
        listener(DRAWING * done.min(of) as f64 / of.max(1) as f64);
    }
}
