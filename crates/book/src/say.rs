//! Numbers in words: lengths, angles, areas, parts' sizes as the book prints them.
//!
//! In: a value in mm, degrees or mm². Out: text with its unit.
//! Always true: each value is rounded once; a value below one millimetre is printed finer than the book's
//! step, because a clearance of 0.3 mm says nothing as "0 mm"; what is no number gives `None`.

use turnleaf_geom::Ring;
use turnleaf_mechanism::{Number, Unit};
use turnleaf_parts::Part;
use turnleaf_planfile::PrintOptions;
use turnleaf_units::{
    DecimalSign, InchPrint, Length, MmStep, PrintUnits, print_decimal, print_inch, print_mm,
};

/// Lengths below this, mm, are printed in hundredths, and in thousandths of an inch.
const FINE_BELOW: f64 = 1.0;

/// How numbers are printed.
#[derive(Clone, Copy, Debug)]
pub struct Say {
    /// Units of running text and figures.
    pub units: PrintUnits,
    /// Step of millimetres, whatever the units.
    pub step: MmStep,
    /// Form of inches, whatever the units.
    pub inch: InchPrint,
    /// Decimal sign.
    pub sign: DecimalSign,
}

/// A number of the size table in both units.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Both {
    /// Metric, or the only way.
    pub metric: String,
    /// In inches; empty for what has no length in it.
    pub inch: String,
}

impl Say {
    /// From the print options of a plan.
    pub fn new(print: &PrintOptions, sign: DecimalSign) -> Say {
        Say {
            units: print.print_units(),
            step: print.mm_step,
            inch: InchPrint { denominator: print.inch_denominator, feet: print.feet },
            sign,
        }
    }
    /// Millimetres with the unit.
    pub fn mm(&self, mm: f64) -> Option<String> {
        let step = if mm.abs() < FINE_BELOW { finer(self.step) } else { self.step };
        Some(print_mm(Length::from_mm_f64(mm)?, step, self.sign).text)
    }
    /// Inches with the unit.
    pub fn inches(&self, mm: f64) -> Option<String> {
        let length = Length::from_mm_f64(mm)?;
        if mm.abs() < FINE_BELOW && mm != 0.0 {
            return Some(format!("{} in", print_decimal(mm / 25.4, 3, self.sign)?));
        }
        Some(print_inch(length, self.inch).text)
    }
    /// Inches with the unit, as a fraction however small.
    pub fn inch_fraction(&self, mm: f64) -> Option<String> {
        Some(print_inch(Length::from_mm_f64(mm)?, self.inch).text)
    }
    /// A length in the book's units.
    pub fn length(&self, mm: f64) -> Option<String> {
        Some(match self.units {
            PrintUnits::Mm(_) => self.mm(mm)?,
            PrintUnits::Inch(_) => self.inches(mm)?,
            PrintUnits::Both(..) => format!("{} ({})", self.mm(mm)?, self.inches(mm)?),
        })
    }
    /// A length in the leading unit alone.
    pub fn leading(&self, mm: f64) -> Option<String> {
        match self.units {
            PrintUnits::Inch(_) => self.inches(mm),
            _ => self.mm(mm),
        }
    }
    /// A length for a dimension line, without unit.
    pub fn figure(&self, mm: f64) -> Option<String> {
        Some(self.units.print(Length::from_mm_f64(mm)?, self.sign).figure())
    }
    /// An angle.
    pub fn degrees(&self, degrees: f64, decimals: u8) -> Option<String> {
        Some(format!("{}°", print_decimal(degrees, decimals, self.sign)?))
    }
    /// A solved number in both units, as the size table prints it.
    pub fn number(&self, n: &Number) -> Option<Both> {
        let only = |metric: String| Both { metric, inch: String::new() };
        Some(match n.unit {
            Unit::Mm => Both { metric: self.mm(n.value)?, inch: self.inches(n.value)? },
            Unit::Mm2 => Both {
                metric: format!("{} cm²", print_decimal(n.value / 100.0, 1, self.sign)?),
                inch: format!("{} in²", print_decimal(n.value / (25.4 * 25.4), 2, self.sign)?),
            },
            Unit::Deg => only(self.degrees(n.value, 1)?),
            Unit::Count => only(print_decimal(n.value, 0, self.sign)?),
            Unit::Ratio => only(print_decimal(n.value, 3, self.sign)?),
        })
    }
    /// A part's size: length × width × thickness, or diameter × thickness.
    pub fn part_size(&self, part: &Part) -> Option<String> {
        match self.units {
            PrintUnits::Mm(_) => self.size_in(part, false),
            PrintUnits::Inch(_) => self.size_in(part, true),
            PrintUnits::Both(..) => {
                Some(format!("{}\n{}", self.size_in(part, false)?, self.size_in(part, true)?))
            }
        }
    }
    fn size_in(&self, part: &Part, inch: bool) -> Option<String> {
        let figure = |mm: f64| -> Option<String> {
            let length = Length::from_mm_f64(mm)?;
            Some(if inch {
                print_inch(length, self.inch).figure
            } else {
                print_mm(length, self.step, self.sign).figure
            })
        };
        let unit = if inch { "in" } else { "mm" };
        let [long, wide, thick] = part.size();
        // No-break spaces inside a figure, so that a size parts only at its crosses.
        let figure = |mm: f64| figure(mm).map(|f| f.replace(' ', "\u{A0}"));
        Some(if is_round(&part.outline) {
            format!("⌀\u{A0}{} × {}\u{A0}{unit}", figure(long)?, figure(thick)?)
        } else {
            format!("{} × {} × {}\u{A0}{unit}", figure(long)?, figure(wide)?, figure(thick)?)
        })
    }
}

/// Whether an outline is a circle.
pub fn is_round(ring: &Ring) -> bool {
    let (low, high) = ring.bounds();
    let (w, h) = (high.x - low.x, high.y - low.y);
    let disc = core::f64::consts::PI * w * w / 4.0;
    (w - h).abs() < 1e-6 && (ring.area() - disc).abs() < 1e-6 * disc
}

fn finer(step: MmStep) -> MmStep {
    if step.length() > MmStep::HUNDREDTH.length() { MmStep::HUNDREDTH } else { step }
}
