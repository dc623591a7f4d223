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
use turnleaf_units::{DecimalSign, Denominator, InchPrint, Length, PrintUnits, Printed, print_decimal};

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

impl Figure {
    /// The same words in runs that a narrow column may set below each other: a size is never parted from its unit
    /// or brackets, only from its limits and from the other unit.
    pub fn runs(&self) -> Vec<String> {
        if self.limits.iter().all(String::is_empty) {
            return vec![self.text()];
        }
        let limits = self.limits.each_ref().map(|l| l.trim().to_string());
        let mut out = vec![self.main.clone(), limits[0].clone()];
        if let Some(s) = &self.second {
            let close = if limits[1].is_empty() { "]" } else { "" };
            out.extend([format!("[{s}{close}"), limits[1].clone()]);
            if let Some(last) = out.last_mut().filter(|l| !l.is_empty()) {
                last.push(']');
            }
        }
        out.retain(|r| !r.is_empty());
        out
    }
}

/// Steps that deviations are written in, mm: hundredths of a millimetre, thousandths of an inch.
const FINE: [f64; 2] = [0.01, 0.0254];

/// A size with its tolerance as printed: another figure where the rounded one lies too far off the middle, and the
/// limit deviations.
struct Limited {
    figure: Option<String>,
    limits: String,
}

/// What keeps a size within `half` of its true value, or nothing when the steps are too coarse for it. Limits are
/// rounded inwards, so that what is printed never allows more, and they stand evenly about the figure: where rounding
/// has moved it aside, the figure is printed to the same decimals as its limits instead.
fn limited(true_mm: f64, printed_mm: f64, half: f64, inch: bool, sign: DecimalSign) -> Option<Limited> {
    let (step, places) = if inch { (FINE[1], 3) } else { (FINE[0], 2) };
    let unit = if inch { 0.001 } else { 0.01 };
    let about = |figure_mm: f64| {
        let upper = ((true_mm + half - figure_mm) / step + 1e-6).floor();
        let lower = ((true_mm - half - figure_mm) / step - 1e-6).ceil();
        (upper, lower)
    };
    // In inches every decimal stands, noughts too, as figures with limits are written there.
    let written = |x: f64| {
        let plain = || format!("{x:.3}").replace('.', &sign.char().to_string());
        if inch { Some(plain()) } else { print_decimal(x, places, sign) }
    };
    let even = |k: f64| format!(" ±{}", written(k * unit).unwrap_or_default());
    let (upper, lower) = about(printed_mm);
    if upper == -lower && upper > 0.0 {
        return Some(Limited { figure: None, limits: even(upper) });
    }
    let fine = (true_mm / step).round();
    let (upper, lower) = about(fine * step);
    let k = upper.min(-lower);
    (k >= 1.0).then(|| Limited { figure: written(fine * unit), limits: even(k) })
}

impl Figure {
    fn limit(&mut self, place: usize, found: Option<Limited>) {
        let Some(Limited { figure, limits }) = found else { return };
        self.limits[place] = limits;
        match (figure, place) {
            (Some(text), 0) => self.main = text,
            (Some(text), _) => self.second = Some(text),
            _ => {}
        }
    }
}

/// Adds the tolerance of a length: `half` mm either side of its true size.
pub fn with_tolerance(figure: &mut Figure, d: &Drawing, dim: usize, half: f64, w: &Wording) {
    if figure.angle || d.dimensions[dim].reference {
        return;
    }
    let value = d.shown(dim);
    let (main, second) = length(value, w);
    let inch = matches!(w.units, PrintUnits::Inch(_));
    figure.limit(0, limited(value, main.rounded.mm(), half, inch, w.sign));
    if let Some(s) = second {
        figure.limit(1, limited(value, s.rounded.mm(), half, true, w.sign));
    }
}

/// The least part of a general tolerance that the note of a sheet leaves to the maker; what rounding takes beyond
/// that is said at the figure itself.
const LEFT: f64 = 0.4;

/// What the note allows either side of a printed figure, in steps of [`FINE`]: the tolerance less what rounding may
/// have taken from it already, but at least [`LEFT`] of it.
fn allowed(half: f64, step: f64, inch: bool) -> f64 {
    let fine = FINE[usize::from(inch)];
    ((half - step / 2.0).max(half * LEFT) / fine + 1e-6).floor().max(1.0)
}

/// The steps that lengths are rounded to in the leading unit and in the other, mm, and whether that is inches.
fn steps(units: PrintUnits) -> [Option<(f64, bool)>; 2] {
    let inch = |i: InchPrint| Some((step_of(PrintUnits::Inch(i)), true));
    match units {
        PrintUnits::Mm(step) => [Some((step.length().mm(), false)), None],
        PrintUnits::Inch(i) => [inch(i), None],
        PrintUnits::Both(step, i) => [Some((step.length().mm(), false)), inch(i)],
    }
}

/// The note's tolerance for figures without one of their own, `half` mm either side of the true size: "±0.2 mm",
/// and in the other unit in brackets.
pub fn general(half: f64, w: &Wording) -> String {
    let one = |(step, inch): (f64, bool)| {
        let (unit, places, name) = if inch { (0.001, 3, "in") } else { (0.01, 2, "mm") };
        let text = print_decimal(allowed(half, step, inch) * unit, places, w.sign).unwrap_or_default();
        format!("±{text}\u{a0}{name}")
    };
    match steps(w.units) {
        [Some(a), Some(b)] => format!("{} [{}]", one(a), one(b)),
        [a, _] => a.map(one).unwrap_or_default(),
    }
}

/// Mends a length that the general tolerance does not keep within `half` mm of its true size, because the figure is
/// rounded by more than the note leaves room for: in inches a finer fraction where that is enough, else limits.
pub fn with_general(figure: &mut Figure, d: &Drawing, dim: usize, half: f64, w: &Wording) {
    if figure.angle || d.dimensions[dim].reference {
        return;
    }
    let value = d.shown(dim);
    let (main, second) = length(value, w);
    for (k, printed) in [Some(main), second].into_iter().enumerate() {
        let (Some(p), Some((step, inch))) = (printed, steps(w.units)[k]) else { continue };
        let room = half - allowed(half, step, inch) * FINE[usize::from(inch)] + 1e-6;
        let off = |p: &Printed| (p.rounded.mm() - value).abs();
        if off(&p) <= room {
            continue;
        }
        let finer = finer(value, k, w).filter(|q| off(q) <= room);
        figure.limit(
            k,
            match finer {
                Some(q) => Some(Limited { figure: Some(q.figure), limits: String::new() }),
                None => limited(value, p.rounded.mm(), half, inch, w.sign),
            },
        );
    }
}

/// A length in sixty-fourths of an inch, the finest fraction on a rule; nothing for millimetres.
fn finer(value: f64, place: usize, w: &Wording) -> Option<Printed> {
    let inch = match (w.units, place) {
        (PrintUnits::Inch(i), 0) | (PrintUnits::Both(_, i), 1) => i,
        _ => return None,
    };
    let fine = InchPrint { denominator: Denominator::SixtyFour, ..inch };
    let exact = Length::from_mm_f64(value)?;
    Some(PrintUnits::Inch(fine).print(exact, w.sign).main)
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
    let value = d.shown(dim);
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
