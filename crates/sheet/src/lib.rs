//! Drawing sheets.
