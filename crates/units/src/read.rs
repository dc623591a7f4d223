//! What people type, read exactly.
//!
//! In: text and the unit meant when none is typed. Out: a value, or a sentence saying what would work.
//! Always true: a decimal comma and a decimal point mean the same; a comma that could separate thousands is
//! refused, never guessed; a leading minus is read (whether a size may be negative is its range's business);
//! anything finer than a quantum is rounded to the nearest one, ties to even.

use crate::length::{Length, LengthUnit};
use crate::problem::{ParseProblem, Problem};
use crate::quantity::{Angle, Force, ForceUnit, Mass, MassUnit, PER_DEGREE, PER_NEWTON};
use crate::ratio::Ratio;
use crate::scan::{Kind, Token, decimal, scan};

const LENGTH: What = What {
    wanted: "a length",
    units: "mm, cm, m, in or ft",
    examples: "1200 mm, 1.2 m, 47 1/4 in or 3 ft 11 in",
};
const ANGLE: What = What { wanted: "an angle", units: "° or rad", examples: "45° or 0.785 rad" };
const FORCE: What = What { wanted: "a force", units: "N, kN or lbf", examples: "300 N or 70 lbf" };
const MASS: What = What { wanted: "a mass", units: "kg, g or lb", examples: "25 kg or 55 lb" };
const COUNT: What = What { wanted: "a whole number", units: "no unit", examples: "6" };

/// How a kind of value is named in sentences.
struct What {
    wanted: &'static str,
    units: &'static str,
    examples: &'static str,
}

fn length_unit(word: &str) -> Option<LengthUnit> {
    Some(match word {
        "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => LengthUnit::Mm,
        "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" | "zentimeter" => LengthUnit::Cm,
        "m" | "metre" | "metres" | "meter" | "meters" => LengthUnit::M,
        "in" | "inch" | "inches" | "\"" | "zoll" => LengthUnit::Inch,
        "ft" | "foot" | "feet" | "'" | "fuß" | "fuss" => LengthUnit::Foot,
        _ => return None,
    })
}

#[derive(Clone, Copy, PartialEq)]
enum AngleUnit {
    Degree,
    Radian,
}

fn angle_unit(word: &str) -> Option<AngleUnit> {
    Some(match word {
        "°" | "deg" | "degs" | "degree" | "degrees" => AngleUnit::Degree,
        "rad" | "rads" | "radian" | "radians" => AngleUnit::Radian,
        _ => return None,
    })
}

fn force_unit(word: &str) -> Option<ForceUnit> {
    Some(match word {
        "n" | "newton" | "newtons" => ForceUnit::Newton,
        "kn" | "kilonewton" | "kilonewtons" => ForceUnit::Kilonewton,
        "lbf" => ForceUnit::PoundForce,
        _ => return None,
    })
}

fn mass_unit(word: &str) -> Option<MassUnit> {
    Some(match word {
        "kg" | "kilogram" | "kilograms" | "kilogramm" => MassUnit::Kilogram,
        "g" | "gram" | "grams" | "gramm" => MassUnit::Gram,
        "lb" | "lbs" | "pound" | "pounds" => MassUnit::Pound,
        _ => return None,
    })
}

/// What a unit word measures, whichever kind it is.
fn measures(word: &str) -> Option<&'static str> {
    if length_unit(word).is_some() {
        Some("a length")
    } else if angle_unit(word).is_some() {
        Some("an angle")
    } else if force_unit(word).is_some() {
        Some("a force")
    } else if mass_unit(word).is_some() {
        Some("a mass")
    } else {
        None
    }
}

/// The marks of one text and how far they have been read.
struct Reader<'a> {
    text: &'a str,
    what: &'static What,
    tokens: Vec<Token>,
    at: usize,
}

impl<'a> Reader<'a> {
    fn new(text: &'a str, what: &'static What) -> Result<Reader<'a>, ParseProblem> {
        let tokens = scan(text)?;
        if tokens.is_empty() {
            return Err(ParseProblem::new(text, Problem::Empty { examples: what.examples }));
        }
        Ok(Reader { text, what, tokens, at: 0 })
    }

    fn fail(&self, problem: Problem) -> ParseProblem {
        ParseProblem::new(self.text, problem)
    }

    fn not_understood(&self) -> ParseProblem {
        self.fail(Problem::NotUnderstood { wanted: self.what.wanted, examples: self.what.examples })
    }

    fn kind(&self, ahead: usize) -> Option<&Kind> {
        self.tokens.get(self.at + ahead).map(|t| &t.kind)
    }

    fn spaced(&self, ahead: usize) -> bool {
        self.tokens.get(self.at + ahead).is_some_and(|t| t.spaced)
    }

    fn done(&self) -> bool {
        self.at == self.tokens.len()
    }

    /// A leading sign: -1 or 1.
    fn sign(&mut self) -> i128 {
        match self.kind(0) {
            Some(Kind::Dash) => {
                self.at += 1;
                -1
            }
            Some(Kind::Plus) => {
                self.at += 1;
                1
            }
            _ => 1,
        }
    }

    /// `n/d` starting so many marks ahead: the fraction and how many marks it takes.
    fn fraction(&self, ahead: usize) -> Result<Option<(Ratio, usize)>, ParseProblem> {
        if let Some(&Kind::Vulgar(num, den)) = self.kind(ahead) {
            return Ok(Some((Ratio { num, den }, 1)));
        }
        let (Some(Kind::Number(num)), Some(Kind::Slash), Some(Kind::Number(den))) =
            (self.kind(ahead), self.kind(ahead + 1), self.kind(ahead + 2))
        else {
            return Ok(None);
        };
        let (num, den) = (self.whole(num)?, self.whole(den)?);
        if den == 0 {
            return Err(self.fail(Problem::ZeroDenominator));
        }
        Ok(Some((Ratio { num, den }, 3)))
    }

    fn whole(&self, raw: &str) -> Result<i128, ParseProblem> {
        if !raw.bytes().all(|b| b.is_ascii_digit()) {
            return Err(self.fail(Problem::NotWhole(raw.into())));
        }
        Ok(decimal(raw).map_err(|p| self.fail(p))?.num)
    }

    /// A decimal, a fraction, or a whole number with a fraction.
    fn number(&mut self) -> Result<Ratio, ParseProblem> {
        if let Some((value, taken)) = self.fraction(0)? {
            self.at += taken;
            return Ok(value);
        }
        let Some(Kind::Number(raw)) = self.kind(0).cloned() else { return Err(self.not_understood()) };
        // A dash binds a fraction to its whole number only when it touches it: 47-1/4.
        let dash = usize::from(matches!(self.kind(1), Some(Kind::Dash)) && !self.spaced(1));
        if let Some((part, taken)) = self.fraction(1 + dash)? {
            let whole = self.whole(&raw)?;
            if part.num >= part.den {
                return Err(self
                    .fail(Problem::FractionNotBelowOne { fraction: format!("{}/{}", part.num, part.den) }));
            }
            self.at += 1 + dash + taken;
            return Ratio::whole(whole).plus(part).ok_or_else(|| self.fail(Problem::TooLarge));
        }
        // Thousands set apart by spaces: 1 200 or 1 200,5.
        let mut raw = raw;
        self.at += 1;
        if raw.len() <= 3 && !raw.starts_with('0') && raw.bytes().all(|b| b.is_ascii_digit()) {
            while let Some(Kind::Number(next)) = self.kind(0) {
                let lead = next.bytes().take_while(u8::is_ascii_digit).count();
                let open = raw.bytes().all(|b| b.is_ascii_digit());
                if !open || lead != 3 || matches!(self.kind(1), Some(Kind::Slash)) {
                    break;
                }
                raw.push_str(next);
                self.at += 1;
            }
        }
        decimal(&raw).map_err(|p| self.fail(p))
    }

    /// The unit that follows, if any mark follows that looks like one.
    fn unit<U>(&mut self, lookup: fn(&str) -> Option<U>) -> Result<Option<U>, ParseProblem> {
        let Some(Kind::Unit(word)) = self.kind(0).cloned() else { return Ok(None) };
        let Some(unit) = lookup(&word.to_lowercase()) else { return Err(self.wrong_unit(word)) };
        self.at += 1;
        Ok(Some(unit))
    }

    fn wrong_unit(&self, word: String) -> ParseProblem {
        let (wanted, units) = (self.what.wanted, self.what.units);
        self.fail(match measures(&word.to_lowercase()) {
            Some(measures) => Problem::WrongKind { word, measures, wanted, units },
            // "ten", "abc mm": with no number before it, it is not a unit that is wrong.
            None if self.at == 0 => Problem::NotUnderstood { wanted, examples: self.what.examples },
            None => Problem::UnknownUnit { word, units },
        })
    }

    /// One number, one unit, nothing else.
    fn single<U>(&mut self, lookup: fn(&str) -> Option<U>) -> Result<(Ratio, Option<U>), ParseProblem> {
        let sign = self.sign();
        let mut value = self.number()?;
        value.num *= sign;
        let unit = self.unit(lookup)?;
        if self.done() { Ok((value, unit)) } else { Err(self.not_understood()) }
    }
}

/// A length as read, with the unit it was typed in.
pub(crate) struct ReadLength {
    pub length: Length,
    /// The first unit typed, or the default.
    pub unit: LengthUnit,
    /// False when it had to be rounded to a quantum.
    pub exact: bool,
}

pub(crate) fn read_length(text: &str, default: LengthUnit) -> Result<ReadLength, ParseProblem> {
    let mut r = Reader::new(text, &LENGTH)?;
    let sign = r.sign();
    let mut parts: Vec<(Ratio, LengthUnit)> = Vec::new();
    while !r.done() {
        let start = r.at;
        let value = r.number()?;
        let before = parts.last().map(|p| p.1);
        let unit = match (r.unit(length_unit)?, before) {
            (Some(unit), _) => unit,
            (None, None) if r.done() => default,
            // 3'11 needs no mark after the inches.
            (None, Some(LengthUnit::Foot)) if r.done() => LengthUnit::Inch,
            (None, Some(_)) if r.done() => {
                let Some(Kind::Number(raw)) = r.tokens.get(start).map(|t| &t.kind) else {
                    return Err(r.not_understood());
                };
                return Err(r.fail(Problem::UnitMissing(raw.clone())));
            }
            _ => return Err(r.not_understood()),
        };
        if let Some((upper, large)) = parts.last() {
            check_follows(&r, *upper, *large, value, unit)?;
        }
        parts.push((value, unit));
        // 3'-11": the dash only sets the inches apart.
        if unit == LengthUnit::Foot && matches!(r.kind(0), Some(Kind::Dash)) && r.kind(1).is_some() {
            r.at += 1;
        }
    }
    let Some(&(_, unit)) = parts.first() else { return Err(r.not_understood()) };
    let mut total = Ratio::whole(0);
    for (value, unit) in parts {
        let quanta = value.num.checked_mul(i128::from(unit.quanta()) * sign);
        total = quanta
            .and_then(|num| total.plus(Ratio { num, den: value.den }))
            .ok_or_else(|| r.fail(Problem::TooLarge))?;
    }
    let (quanta, exact) = total.scaled(1, 1).ok_or_else(|| r.fail(Problem::TooLarge))?;
    Ok(ReadLength { length: Length::from_quanta(quanta), unit, exact })
}

/// Feet take inches below 12; metres take cm below 100 and mm below 1000; cm take mm below 10.
fn check_follows(
    r: &Reader<'_>,
    upper: Ratio,
    large: LengthUnit,
    value: Ratio,
    small: LengthUnit,
) -> Result<(), ParseProblem> {
    let limit = match (large, small) {
        (LengthUnit::Foot, LengthUnit::Inch) => 12,
        (LengthUnit::M, LengthUnit::Cm) => 100,
        (LengthUnit::M, LengthUnit::Mm) => 1000,
        (LengthUnit::Cm, LengthUnit::Mm) => 10,
        _ => return Err(r.fail(Problem::UnitOrder)),
    };
    if !upper.is_whole() {
        return Err(r.fail(Problem::UnitOrder));
    }
    if value.num >= value.den * i128::from(limit) {
        let (small, large) = (small.symbol(), large.symbol());
        return Err(r.fail(Problem::PartTooLarge { small, large, limit }));
    }
    Ok(())
}

/// Reads a length: `1200`, `1.2 m`, `47 1/4"`, `47-1/4 in`, `3'11"`, `18,2`, `¾"`.
/// A number without a unit is in the default unit.
pub fn parse_length(text: &str, default: LengthUnit) -> Result<Length, ParseProblem> {
    Ok(read_length(text, default)?.length)
}

/// Reads an angle: `45`, `45°`, `45 deg`, `0.785 rad`. A number without a unit is in degrees.
pub fn parse_angle(text: &str) -> Result<Angle, ParseProblem> {
    let mut r = Reader::new(text, &ANGLE)?;
    let (value, unit) = r.single(angle_unit)?;
    let angle = match unit {
        Some(AngleUnit::Radian) => Angle::from_radians_f64(value.to_f64()),
        _ => value.scaled(i128::from(PER_DEGREE), 1).map(|(q, _)| Angle::from_quanta(q)),
    };
    angle.ok_or_else(|| r.fail(Problem::TooLarge))
}

/// Reads a plain whole number.
pub fn parse_count(text: &str) -> Result<u32, ParseProblem> {
    let mut r = Reader::new(text, &COUNT)?;
    let (value, _) = r.single(|_| None::<()>)?;
    if value.num < 0 || !value.is_whole() {
        return Err(r.not_understood());
    }
    u32::try_from(value.num / value.den).map_err(|_| r.fail(Problem::TooLarge))
}

/// Reads a force: `300 N`, `0.3 kN`, `70 lbf`.
pub fn parse_force(text: &str, default: ForceUnit) -> Result<Force, ParseProblem> {
    let mut r = Reader::new(text, &FORCE)?;
    let (value, unit) = r.single(force_unit)?;
    let (num, den) = unit.unwrap_or(default).newtons();
    let force = value.scaled(num * i128::from(PER_NEWTON), den);
    Ok(Force::from_micronewtons(force.ok_or_else(|| r.fail(Problem::TooLarge))?.0))
}

/// Reads a mass: `25 kg`, `250 g`, `55 lb`.
pub fn parse_mass(text: &str, default: MassUnit) -> Result<Mass, ParseProblem> {
    let mut r = Reader::new(text, &MASS)?;
    let (value, unit) = r.single(mass_unit)?;
    let mass = value.scaled(unit.unwrap_or(default).micrograms(), 1);
    Ok(Mass::from_micrograms(mass.ok_or_else(|| r.fail(Problem::TooLarge))?.0))
}
