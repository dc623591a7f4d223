//! A size as it lies on a tape measure: which marks show round it, and what a pull at the tape makes of it.
//!
//! In: a plan and one of its sizes; pulls in pixels, or steps. Out: marks in pixels from the index, and texts to type.
//! Always true: what a pull gives lies on a mark of the tape and within the widest range of the size; it is written in
//! the unit in which the size was typed. Nothing here touches the browser.

use crate::core::{Kind, Plan, PlanUnit, Value, field};

/// How a tape is ruled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Ruling {
    /// Whole millimetres.
    Millimetres,
    /// Tenths of a millimetre, for thicknesses and gaps.
    Tenths,
    /// Sixteenths of an inch.
    Sixteenths,
    /// Sixty-fourths of an inch, for thicknesses and gaps.
    SixtyFourths,
    /// Half degrees.
    HalfDegrees,
}

/// Sizes that never come above this are pulled in finer steps, mm.
const FINE: f64 = 90.0;

impl Ruling {
    /// Quanta of the size's own kind from one mark to the next.
    const fn quanta(self) -> i64 {
        match self {
            Ruling::Millimetres => 800_000,
            Ruling::Tenths => 80_000,
            Ruling::Sixteenths => 1_270_000,
            Ruling::SixtyFourths => 317_500,
            Ruling::HalfDegrees => 500_000_000,
        }
    }

    /// Pixels from one mark to the next.
    const fn pixels(self) -> f64 {
        match self {
            Ruling::Millimetres => 4.0,
            Ruling::Tenths | Ruling::SixtyFourths => 5.0,
            Ruling::Sixteenths | Ruling::HalfDegrees => 6.0,
        }
    }

    /// Marks from one longer mark to the next, the longest first; the first of them bear numbers.
    const fn longer(self) -> &'static [i64] {
        match self {
            Ruling::Millimetres | Ruling::Tenths => &[10, 5],
            Ruling::Sixteenths => &[16, 8, 4, 2],
            Ruling::SixtyFourths => &[8, 4, 2],
            Ruling::HalfDegrees => &[10, 2],
        }
    }

    /// Marks that make one unit.
    const fn parts(self) -> i64 {
        match self {
            Ruling::Millimetres => 1,
            Ruling::Tenths => 10,
            Ruling::Sixteenths => 16,
            Ruling::SixtyFourths => 64,
            Ruling::HalfDegrees => 2,
        }
    }

    const fn unit(self) -> &'static str {
        match self {
            Ruling::Millimetres | Ruling::Tenths => " mm",
            Ruling::Sixteenths | Ruling::SixtyFourths => " in",
            Ruling::HalfDegrees => "°",
        }
    }

    /// The number at a mark, without its unit.
    fn number(self, mark: i64, sign: char) -> String {
        let mut parts = self.parts();
        let (whole, mut rest) = (mark.abs() / parts, mark.abs() % parts);
        let text = match self {
            _ if rest == 0 => format!("{whole}"),
            Ruling::Sixteenths | Ruling::SixtyFourths => {
                while rest % 2 == 0 {
                    (rest, parts) = (rest / 2, parts / 2);
                }
                if whole == 0 { format!("{rest}/{parts}") } else { format!("{whole} {rest}/{parts}") }
            }
            _ => format!("{whole}{sign}{}", rest * 10 / parts),
        };
        if mark < 0 { format!("-{text}") } else { text }
    }
}

/// A mark on the tape.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Where it lies, pixels to the right of the index.
    pub x: f64,
    /// How long it is: 0 for the longest.
    pub rank: usize,
    /// The number at it; the longest have one.
    pub number: Option<String>,
}

/// A tape, drawn out to a size.
#[derive(Clone, Debug, PartialEq)]
pub struct Tape {
    ruling: Ruling,
    /// Whether the size was typed without a unit.
    bare: bool,
    /// Sign between whole and decimals.
    sign: char,
    /// First and last mark within the size's widest range.
    ends: (i64, i64),
    /// The size, in marks; it need not lie on one.
    at: f64,
}

impl Tape {
    /// The tape of a size; none when it is left out, or is neither a length nor an angle.
    pub fn of(plan: &Plan, id: &str) -> Option<Tape> {
        let (spec, text) = (field(id)?, plan.typed(id)?);
        let quanta = |value: Value| match value {
            Value::Length(length) => Some(length.quanta()),
            Value::Angle(angle) => Some(angle.quanta()),
            Value::Count(_) | Value::Force(_) => None,
        };
        let has = |words: &[&str]| words.iter().any(|word| text.contains(word));
        let inch = has(&["in", "ft", "foot", "feet", "\"", "'", "″", "′", "”", "’", "yd"]);
        let bare = !inch && !text.contains(|c: char| c.is_alphabetic() || c == '°');
        let fine = matches!(spec.max, Value::Length(most) if most.mm() <= FINE);
        let ruling = match spec.kind {
            Kind::Angle => Ruling::HalfDegrees,
            Kind::Length if inch || bare && plan.options().unit == PlanUnit::Inch => {
                if fine {
                    Ruling::SixtyFourths
                } else {
                    Ruling::Sixteenths
                }
            }
            Kind::Length if fine => Ruling::Tenths,
            Kind::Length => Ruling::Millimetres,
            Kind::Count | Kind::Force => return None,
        };
        let (least, most) = (quanta(spec.min)?, quanta(spec.max)?);
        let step = ruling.quanta();
        Some(Tape {
            ruling,
            bare,
            sign: plan.options().language.decimal_sign().char(),
            ends: (-(-least).div_euclid(step), most.div_euclid(step)),
            at: quanta(plan.value(id)?)? as f64 / step as f64,
        })
    }

    /// The mark under the index after a pull by so many pixels to the right, which brings smaller numbers to it.
    pub fn pulled(&self, pixels: f64) -> i64 {
        // Within the ends, which are small.
        self.hold((self.at - pixels / self.ruling.pixels()).round())
    }

    /// The mark so many steps on; from between two marks the first step leads to the next.
    pub fn stepped(&self, steps: i64) -> i64 {
        let from = if steps < 0 { self.at.ceil() } else { self.at.floor() };
        self.hold(from + steps as f64)
    }

    fn hold(&self, mark: f64) -> i64 {
        let (first, last) = self.ends;
        mark.clamp(first as f64, last as f64) as i64
    }

    /// First and last mark.
    pub fn ends(&self) -> (i64, i64) {
        self.ends
    }

    /// The size at a mark, as it would be typed.
    pub fn text(&self, mark: i64) -> String {
        let unit = if self.bare { "" } else { self.ruling.unit() };
        format!("{}{unit}", self.ruling.number(mark, self.sign))
    }

    /// The size in the tape's own unit, for those who hear it as a number; to a mark.
    pub fn number(&self, mark: i64) -> f64 {
        mark as f64 / self.ruling.parts() as f64
    }

    /// The mark nearest to the size.
    pub fn nearest(&self) -> i64 {
        self.hold(self.at.round())
    }

    /// Where a size lies, pixels to the right of the index; given in millimetres or degrees.
    pub fn place(&self, value: f64) -> f64 {
        let one = match self.ruling {
            Ruling::HalfDegrees => 1e9,
            _ => 8e5,
        };
        (value * one / self.ruling.quanta() as f64 - self.at) * self.ruling.pixels()
    }

    /// The marks within so many pixels of the index, from left to right.
    pub fn marks(&self, half: f64) -> Vec<Mark> {
        let reach = half / self.ruling.pixels();
        let (first, last) = (self.hold((self.at - reach).ceil()), self.hold((self.at + reach).floor()));
        let longer = self.ruling.longer();
        let mark = |mark: i64| {
            let rank = longer.iter().position(|every| mark % every == 0).unwrap_or(longer.len());
            let number = (rank == 0).then(|| self.ruling.number(mark, self.sign));
            Mark { x: (mark as f64 - self.at) * self.ruling.pixels(), rank, number }
        };
        (first..=last).map(mark).filter(|mark| mark.x.abs() <= half).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::core::{FIELDS, demo, open};

    fn tape(id: &str, text: &str) -> Tape {
        let mut plan = Plan::default_metric();
        plan.set(id, text).unwrap();
        Tape::of(&plan, id).unwrap()
    }

    #[test]
    fn a_pull_to_the_left_brings_larger_numbers_in_the_unit_that_was_typed() {
        let metric = tape("closed_diameter", "1200 mm");
        assert_eq!(metric.text(metric.pulled(-40.0)), "1210 mm");
        assert_eq!(metric.text(metric.pulled(41.9)), "1190 mm");
        let bare = tape("closed_diameter", "1200");
        assert_eq!(bare.text(bare.pulled(-4.0)), "1201");
        let inch = tape("closed_diameter", "47 1/4\"");
        assert_eq!(inch.text(inch.pulled(-6.0)), "47 5/16 in");
        assert_eq!(inch.text(inch.pulled(-72.0)), "48 in");
    }

    #[test]
    fn thin_sizes_are_pulled_in_finer_steps_and_angles_in_half_degrees() {
        let thick = tape("stock_thickness", "18.2 mm");
        assert_eq!(thick.text(thick.stepped(1)), "18.3 mm");
        let inch = tape("stock_thickness", "3/4 in");
        assert_eq!(inch.text(inch.stepped(-1)), "47/64 in");
        let angle = tape("leaf_tip_half_angle", "45°");
        assert_eq!(angle.text(angle.stepped(1)), "45.5°");
    }

    #[test]
    fn from_between_two_marks_a_step_leads_to_the_next() {
        let odd = tape("closed_diameter", "1200.15 mm");
        assert_eq!((odd.stepped(1), odd.stepped(-1), odd.nearest()), (1201, 1200, 1200));
        // 1200.15 mm lies 0.15 of a mark of 4 px behind the mark at 1200.
        assert!((odd.place(1200.0) + 0.6).abs() < 1e-9);
    }

    #[test]
    fn no_pull_leads_out_of_the_widest_range() {
        let tape = tape("closed_diameter", "1200 mm");
        assert_eq!(tape.ends(), (500, 2500));
        assert_eq!((tape.pulled(1e9), tape.pulled(-1e9)), tape.ends());
        assert_eq!((tape.pulled(f64::INFINITY), tape.stepped(i64::MIN)), (500, 500));
    }

    #[test]
    fn numbers_stand_at_the_longest_marks() {
        let marks = tape("closed_diameter", "1200 mm").marks(60.0);
        let numbers: Vec<_> = marks.iter().filter_map(|mark| mark.number.as_deref()).collect();
        assert_eq!(numbers, ["1190", "1200", "1210"]);
        assert_eq!(marks.len(), 31);
        assert_eq!(marks.iter().filter(|mark| mark.rank == 1).count(), 4);
        let inches = tape("stock_thickness", "3/4 in").marks(45.0);
        let numbers: Vec<_> = inches.iter().filter_map(|mark| mark.number.as_deref()).collect();
        assert_eq!(numbers, ["5/8", "3/4", "7/8"]);
    }

    /// Whatever a tape says is understood as the mark it stands for, in every demo, either unit and both languages.
    #[test]
    fn what_a_tape_writes_is_read_back_as_the_same_size() {
        let mut seen = 0;
        for id in ["reading-room", "window-table", "map-room"] {
            for language in ["en", "de"] {
                let mut plan = open(demo(id).unwrap().as_bytes()).unwrap().0;
                plan.set_option("language", language).unwrap();
                for spec in FIELDS {
                    let Some(tape) = Tape::of(&plan, spec.id) else { continue };
                    let mark = tape.stepped(3);
                    let mut pulled = plan.clone();
                    pulled
                        .set(spec.id, &tape.text(mark))
                        .unwrap_or_else(|why| panic!("{}: {why:?}", spec.id));
                    let again = Tape::of(&pulled, spec.id).unwrap();
                    assert_eq!(
                        (again.nearest(), again.at),
                        (mark, mark as f64),
                        "{} {}",
                        spec.id,
                        tape.text(mark)
                    );
                    seen += 1;
                }
            }
        }
        assert!(seen > 100, "{seen}");
    }
}
