//! Tests of the PDF writer.
