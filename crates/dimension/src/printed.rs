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
}

impl Figure {
    /// As drawn: the second unit in square brackets, since round ones mark a reference figure.
    pub fn text(&self) -> String {
        match &self.second {
            Some(s) => format!("{} [{s}]", self.main),
            None => self.main.clone(),
        }
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
        return Figure { main: format!("{degrees}°"), second: None, angle: true };
    }
    let (main, second) = length(value, w);
    Figure { main: main.figure, second: second.map(|p| p.figure), angle: false }
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
