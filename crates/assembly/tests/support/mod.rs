//! Tables and words for the tests.
//!
//! In: sectors and diameter. Out: assemblies; the English messages, read from the message file itself.
//! Always true: a message that the file lacks comes out in angle quotes.
#![allow(dead_code)]

use std::collections::BTreeMap;
use turnleaf_assembly::{AssemblyOptions, AssemblySheet, sheets};
use turnleaf_mechanism::{Opening, Sizes, solve};
use turnleaf_parts::{Assembly, assemble};
use turnleaf_sheet::SheetOptions;

/// The table of the demo size, or one of another size scaled from it; None when it cannot be solved.
pub fn table(sectors: usize, diameter: f64, stock: f64) -> Option<Assembly> {
    let mut s = Sizes::example();
    if sectors != s.sectors || diameter != s.closed_diameter {
        s.sectors = sectors;
        s.closed_diameter = diameter;
        s.opening = Opening::Diameter(diameter * 1.3);
        s.leaf_tip_half_angle = s.half_sector().max(core::f64::consts::FRAC_PI_4);
        let k = (diameter / 1200.0).clamp(0.6, 1.0) * if sectors > 8 { 0.7 } else { 1.0 };
        (s.arm_width, s.tongue_depth, s.arm_clearance) = (20.0 * k, 6.0 * k, 3.0);
    }
    s.stock_thickness = stock;
    solve(&s).ok().map(|m| assemble(&m))
}

/// The messages of a language.
pub fn messages(file: &str) -> BTreeMap<String, String> {
    let path = format!("{}/../../static/text/{file}.ftl", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}"));
    let pairs = text.lines().filter(|l| !l.starts_with('#')).filter_map(|l| l.split_once(" = "));
    pairs.map(|(k, v)| (k.to_string(), v.to_string())).collect()
}

/// A message with its values.
pub fn said(words: &BTreeMap<String, String>, name: &str, values: &[(&str, String)]) -> String {
    let Some(text) = words.get(name) else { return format!("‹{name}›") };
    let put = |t: String, (key, value): &(&str, String)| t.replace(&format!("{{ ${key} }}"), value);
    values.iter().fold(text.clone(), put)
}

/// All sheets of a table in English.
pub fn drawn(a: &Assembly, o: &SheetOptions) -> Vec<AssemblySheet> {
    let words = messages("en");
    let say = |name: &str, values: &[(&str, String)]| said(&words, name, values);
    let (sheets, said) = sheets(a, &AssemblyOptions { sheet: o, say: &say, name: &|p| p.name.clone() });
    assert!(said.is_empty(), "{said:?}");
    sheets
}
