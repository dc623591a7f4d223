//! Sheets, room, safety. In: ergonomic and safety standards. Out: rows.
//! Always true: limits are those the program's own checks use.

use crate::table::{Group, Known::*, Source, Within};
use core::f64::consts::PI;
use turnleaf_figures::room;
use turnleaf_geom::trig;
use turnleaf_mechanism::Sizes;
use turnleaf_motion::pinch;
use turnleaf_plan::planfile::{Plan, parse_sheet};

/// Contrast of two colours of the style sheet by WCAG 2.2's relative luminance.
fn contrast(sheet: &str, scheme: usize, a: &str, b: &str) -> f64 {
    let light = |name: &str| {
        let key = format!("--{name}: #");
        let at = sheet.match_indices(&key).nth(scheme).map(|(i, k)| i + k.len());
        let Some(hex) = at.and_then(|i| sheet.get(i..i + 6)) else { return f64::NAN };
        let Ok(rgb) = u32::from_str_radix(hex, 16) else { return f64::NAN };
        let channel = |shift: u32| {
            let c = f64::from((rgb >> shift) & 255) / 255.0;
            if c <= 0.04045 { c / 12.92 } else { trig::pow((c + 0.055) / 1.055, 2.4) }
        };
        0.2126 * channel(16) + 0.7152 * channel(8) + 0.0722 * channel(0)
    };
    let (x, y) = (light(a), light(b));
    (x.max(y) + 0.05) / (x.min(y) + 0.05)
}

/// The rows.
pub fn rows() -> Group {
    let mut g = Group::new("Sheets, room, safety, reading");
    let exact = Within::Of(1e-9, "as printed");
    let ada = Source::new("1991 ADA Standards (corada.com)", "4.32.3", Read);
    g.figures(
        "knee space, height and depth, in",
        ada,
        [("27", room::KNEE.0 / 25.4), ("19", room::KNEE.1 / 25.4)],
        exact,
    );
    let saver =
        Source::new("Time-Saver Standards (northernarchitecture.us)", "place width: least, usual", Quoted);
    g.figures(
        "width of a place, in",
        saver,
        [("21", room::PLACES[0] / 25.4), ("25", room::PLACES[2] / 25.4)],
        exact,
    );
    let panero = Source::new("Panero and Zelnik (dimensions.com)", "place width: least, best", Quoted);
    g.figures(
        "width of a place, wider school, in",
        panero,
        [("24", room::PLACES[1] / 25.4), ("30", room::PLACES[3] / 25.4)],
        exact,
    );
    let round = |d: f64| room::seats(PI * d, room::PLACES[1]) as f64;
    g.near(
        "places of 24 in at a round table of 48 in: ⌊πD/w⌋",
        Source::new("mpmath 1.3", "⌊48π/24⌋", Computed),
        "6",
        round(48.0 * 25.4),
        Within::Exactly("a count"),
    );
    let aba = Source::new("ABA Standards 902.3 (wbdg.org)", "710 to 865 mm above the floor", Read);
    g.between(
        "height of the demo table's top, mm",
        aba,
        (710.0, 865.0),
        Sizes::example().height,
        "the published range",
    );
    let usual = Plan::default_inch().length("height").map_or(f64::NAN, |l| l.mm());
    g.between(
        "height of a new table in inches",
        Source::new("popularwoodworking.com, table height", "29 to 30 in", Quoted),
        (29.0, 30.0),
        usual / 25.4,
        "the published range",
    );
    let gaps = Source::new("ISO 13854:2017 (EN 349)", "least gap for a finger", Memory);
    g.near("gap that does not crush a finger, mm", gaps, "25", pinch::FINGER, exact);
    let en = Source::new("EN 12521, shear and squeeze points", "gaps of 8 mm or less", Memory);
    g.near("gap that no finger enters, mm", en, "8", pinch::ENTERS, exact);
    let us = parse_sheet("4x8ft").ok().map_or((f64::NAN, f64::NAN), |s| (s.length.mm(), s.width.mm()));
    g.figures(
        "a sheet of 4 × 8 ft, mm",
        Source::new("PS 1-19 (apawood-europe.org, tolerances)", "4 × 8 ft = 1220 × 2440 mm", Read),
        [("2440", us.0), ("1220", us.1)],
        Within::Of(2.0, "the metric name is a rounding: 1219.2 × 2438.4"),
    );
    let css = include_str!("../../../web/styles/app.css");
    let aa = Source::new("WCAG 2.2, success criterion 1.4.3", "4.5 : 1, from memory", Memory);
    for (what, scheme, ink, paper) in [
        ("contrast of text, light", 0, "ink", "paper"),
        ("contrast of text, dark", 1, "ink", "paper"),
        ("contrast of soft text, light", 0, "ink-soft", "paper"),
        ("contrast of soft text, dark", 1, "ink-soft", "paper"),
    ] {
        g.between(
            what,
            aa,
            (4.5, f64::INFINITY),
            contrast(css, scheme, ink, paper),
            "by the colours of the style sheet",
        );
    }
    let library = Source::new("wcag-contrast-ratio 0.9", "", Computed);
    let grey = |hex: &str| contrast(&format!("--a: #{hex}; --b: #ffffff;"), 0, "a", "b");
    g.figures(
        "the measure of contrast itself: #000000, #767676 and #777777 on white",
        library,
        [("21.0", grey("000000")), ("4.5422", grey("767676")), ("4.4781", grey("777777"))],
        Within::Of(
            6e-5,
            "half a unit of the last digit; the two thresholds in use for dark colours differ by less",
        ),
    );
    g
}
