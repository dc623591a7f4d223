//! Figures as they stand on paper.
//!
//! In: a drawing, the units and the decimal sign. Out: the text of every dimension.
//! Always true: every length is rounded once, to the nearest step; positions are ordinates from a datum, so
//! the parts of a chain, taken as differences, always add up to its whole; an angle gets enough decimals
//! that its half unit moves nothing it places by more than half the length step.

use crate::drawing::{Drawing, Piece};
use crate::rule::Rule;
use core::f64::consts::PI;
use turnleaf_geom::trig;
use turnleaf_units::{DecimalSign, Length, PrintUnits, Printed, print_decimal};

/// How figures are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wording {
    /// Units of lengths.
    pub units: PrintUnits,
    /// Decimal point or comma.
    pub sign: DecimalSign,
}

/// A printed figure: one text, or the leading unit and the other.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// In the leading unit (or degrees).
    pub main: String,
    /// In the other unit, when both are printed.
    pub second: Option<String>,
    /// Whether it is an angle.
    pub angle: bool,
    /// Limit deviations after the leading figure and after the other (ISO 129-1); empty for a size without a
    /// tolerance of its own.
    pub limits: [String; 2],
}

impl Figure {
    /// As drawn: the second unit in square brackets, since round ones mark a reference figure.
    pub fn text(&self) -> String {
        let [main, second] = &self.limits;
        match &self.second {
            Some(s) => format!("{}{main} [{s}{second}]", self.main),
            None => format!("{}{main}", self.main),
        }
    }
}

/// Steps that deviations are written in, mm: hundredths of a millimetre, thousandths of an inch.
const FINE: [f64; 2] = [0.01, 0.0254];

/// Limit deviations from a printed figure that keep the size within `half` of its true value, or nothing when the
/// steps are too coarse for it. Rounded inwards, so that what is printed never allows more.
fn deviations(true_mm: f64, printed_mm: f64, half: f64, inch: bool, sign: DecimalSign) -> String {
    let (step, places) = if inch { (FINE[1], 3) } else { (FINE[0], 2) };
    let upper = ((true_mm + half - printed_mm) / step + 1e-6).floor();
    let lower = ((true_mm - half - printed_mm) / step - 1e-6).ceil();
    if upper <= lower {
        return String::new();
    }
    let unit = if inch { 0.001 } else { 0.01 };
    let text = |k: f64| {
        // Both deviations of a size have the same number of decimals, except nought (ISO 129-1).
        let size = format!("{:.*}", places, (k * unit).abs()).replace('.', &sign.char().to_string());
        match k {
            k if k > 0.0 => format!("+{size}"),
            k if k < 0.0 => format!("\u{2212}{size}"),
            _ => "0".to_string(),
        }
    };
    if upper == -lower {
        format!(" ±{}", print_decimal(upper * unit, places as u8, sign).unwrap_or_default())
    } else {
        format!(" {}/{}", text(upper), text(lower))
    }
}

/// Adds the tolerance of a length: `half` mm either side of its true size.
pub fn with_tolerance(figure: &mut Figure, d: &Drawing, dim: usize, half: f64, w: &Wording) {
    if figure.angle || d.dimensions[dim].reference {
        return;
    }
    let value = d.value(dim);
    let (main, second) = length(value, w);
    let inch = matches!(w.units, PrintUnits::Inch(_));
    figure.limits[0] = deviations(value, main.rounded.mm(), half, inch, w.sign);
    if let Some(s) = second {
        figure.limits[1] = deviations(value, s.rounded.mm(), half, true, w.sign);
    }
}

/// A tolerance without a size: "±0.25" in the leading unit, and the other in brackets.
pub fn general(half: f64, w: &Wording) -> String {
    let one = |inch: bool| deviations(0.0, 0.0, half, inch, w.sign).trim().to_string();
    match w.units {
        PrintUnits::Mm(_) => format!("{} mm", one(false)),
        PrintUnits::Inch(_) => format!("{} in", one(true)),
        PrintUnits::Both(..) => format!("{} mm [{} in]", one(false), one(true)),
    }
}

/// Half of this (mm) is the most that rounding moves an ordinate; of both units, the coarser.
pub fn step_of(units: PrintUnits) -> f64 {
    match units {
        PrintUnits::Mm(step) => step.length().mm(),
        PrintUnits::Inch(inch) => 25.4 / inch.denominator.number() as f64,
        PrintUnits::Both(step, inch) => step.length().mm().max(25.4 / inch.denominator.number() as f64),
    }
}

/// The finer of both units' steps, mm: what angles must keep up with.
fn fine_step(units: PrintUnits) -> f64 {
    match units {
        PrintUnits::Both(step, _) => step_of(PrintUnits::Mm(step)).min(step_of(units)),
        other => step_of(other),
    }
}

/// Decimals of a degree so that half a unit at `lever` mm stays under half a `step`; at most four.
pub fn angle_decimals(lever: f64, step: f64) -> u8 {
    let mut unit = 1.0;
    let mut decimals = 0;
    while decimals < 4 && unit * PI / 180.0 * lever > step {
        unit /= 10.0;
        decimals += 1;
    }
    decimals
}

fn length(value: f64, w: &Wording) -> (Printed, Option<Printed>) {
    // A solved length is always finite and below a kilometre; anything else would be our own fault.
    let exact = Length::from_mm_f64(value).unwrap_or(Length::ZERO);
    let p = w.units.print(exact, w.sign);
    (p.main, p.second)
}

/// The figure of one dimension.
pub fn figure(d: &Drawing, dim: usize, w: &Wording) -> Figure {
    let rule = d.dimensions[dim].rule;
    let value = d.value(dim);
    if rule.is_angle() {
        let lever = match rule {
            Rule::Corner(o, a, b) => {
                let o = d.sketch.at(o);
                d.sketch.at(a).dist(o).max(d.sketch.at(b).dist(o))
            }
            Rule::Heading(a, b) => d.sketch.at(a).dist(d.sketch.at(b)),
            _ => rule.points().iter().map(|p| d.sketch.at(*p).norm()).fold(0.0, f64::max),
        };
        // A reference angle is for the bevel gauge: a tenth of a degree is as fine as one is set.
        let decimals =
            if d.dimensions[dim].reference { 1 } else { angle_decimals(lever, fine_step(w.units)) };
        let round = matches!(rule, Rule::Bearing(_) | Rule::Heading(..));
        let turn = if round && value < -1e-9 { value + 2.0 * PI } else { value };
        let degrees = print_decimal(trig::deg(turn), decimals, w.sign).unwrap_or_default();
        return Figure {
            main: format!("{degrees}°"), second: None, angle: true, limits: Default::default()
        };
    }
    let (main, second) = length(value, w);
    Figure { main: main.figure, second: second.map(|p| p.figure), angle: false, limits: Default::default() }
}

/// Figures of all dimensions, in order.
pub fn figures(d: &Drawing, w: &Wording) -> Vec<Figure> {
    (0..d.dimensions.len()).map(|i| figure(d, i, w)).collect()
}

/// Pieces as one line of text.
pub fn line(pieces: &[Piece], figures: &[Figure]) -> String {
    pieces
        .iter()
        .map(|p| match p {
            Piece::Words(w) => w.clone(),
            Piece::Figure(i) => figures[*i].text(),
        })
        .collect()
}
