//! Tests of the SVG writer.
