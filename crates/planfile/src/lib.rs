//! The plan file.
