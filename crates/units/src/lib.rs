//! Exact lengths.
