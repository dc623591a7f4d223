//! Everything that a table prints, as entries that can be compared.
//!
//! In: a built table and the options it is written by. Out: [`Entry`]s with stable identifiers; differences in words.
//! Always true: a value is the printed one, rounded as it is in print, so that a difference is that of the figures
//! one reads; two entries of one identifier print alike exactly when nothing of them changed.

use crate::{BookOptions, Built};
use turnleaf_dimension::rule::Rule;
use turnleaf_dimension::{Drawing, Wording, choose, printed};
use turnleaf_mechanism::{Number, Unit};
use turnleaf_parts::Part;
use turnleaf_planfile::{FIELDS, Options, Value};
use turnleaf_revise::{Amount, Entry, Group, Measure};
use turnleaf_units::{DecimalSign, InchPrint, Length, PrintUnits, print_decimal, print_inch, print_mm};

/// Decimals of solved angles, as printed.
const ANGLE: u8 = 1;
/// Decimals of ratios and of what is typed, as printed.
const OTHER: u8 = 3;

/// Everything a table prints, with stable identifiers.
pub fn entries(built: &Built, options: &Options) -> Vec<Entry> {
    let mut out = Vec::new();
    let plan = &built.plan;
    for f in FIELDS {
        let Some(value) = plan.value(f.id) else { continue };
        out.push(size_entry(f.id, f.label, value, options));
        if let Some(measured) = plan.measured(f.id) {
            let id = format!("{}/measured", f.id);
            let label = format!("{}, measured", f.label);
            out.push(size_entry(&id, &label, Value::Length(measured), options));
        }
    }
    for key in Options::KEYS {
        let word = plan.options().word(key);
        out.push(Entry {
            group: Group::Option,
            id: key.into(),
            label: Options::name(key).into(),
            print: word.clone(),
            shown: word,
            value: None,
        });
    }
    out.extend(built.numbers.iter().map(|n| number_entry(n, options)));
    out.extend(built.assembly.parts.iter().map(|p| part_entry(p, options)));
    for part in built.assembly.parts.iter().filter(|p| p.made) {
        out.extend(dimension_entries(part, options));
    }
    out.extend(step_entries(built, options));
    out
}

/// Steps by their whole text: one of which any word or number changed is shown by its title.
fn step_entries(built: &Built, options: &Options) -> Vec<Entry> {
    let Options { paper, print, language, projection, .. } = *options;
    let by = BookOptions { paper, print, language, projection, ..BookOptions::of(&built.plan) };
    let (steps, _) = built.steps(&by);
    let shown = steps.into_iter().filter(|s| s.number.is_some());
    shown
        .map(|s| {
            let list = |rows: &[(String, String, usize)]| {
                rows.iter().map(|r| format!("{} {}", r.2, r.1)).collect::<Vec<_>>().join("\n")
            };
            let (pieces, hardware) = (list(&s.pieces), list(&s.hardware));
            let groups = [&s.text, &s.settings, &s.checks, &s.cautions, &s.notes];
            let words: Vec<&str> = groups.into_iter().flatten().map(String::as_str).collect();
            Entry {
                group: Group::Step,
                id: s.id.clone(),
                label: s.title.clone(),
                print: format!("{}\n{}\n{pieces}\n{hardware}", s.title, words.join("\n")),
                shown: s.title,
                value: None,
            }
        })
        .collect()
}

/// A length as it is printed in both units, so that differences are those of the printed figures.
fn length(mm: f64, options: &Options) -> Option<Amount> {
    let l = Length::from_mm_f64(mm)?;
    let value = print_mm(l, options.print.mm_step, DecimalSign::default()).rounded.mm();
    let inches = Some(print_inch(l, inch_print(options)).rounded.mm() / 25.4);
    Some(Amount { value, inches, measure: Measure::Length })
}

/// Any other value.
fn amount(value: f64, measure: Measure) -> Amount {
    Amount { value, inches: None, measure }
}

/// A number as printed with so many decimals.
fn to_places(value: f64, places: u8) -> f64 {
    let whole = [1.0, 10.0, 100.0, 1000.0][usize::from(places.min(3))];
    (value * whole).round() / whole
}

fn inch_print(options: &Options) -> InchPrint {
    InchPrint { denominator: options.print.inch_denominator, feet: options.print.feet }
}

fn both(options: &Options) -> PrintUnits {
    PrintUnits::Both(options.print.mm_step, inch_print(options))
}

/// A difference in words with its sign, a length in both units; in millimetres alone where the fraction of an inch
/// prints the same.
pub fn difference_text(by: &Amount, options: &Options) -> String {
    let sign = options.language.decimal_sign();
    let decimal = || print_decimal(by.value.abs(), OTHER, sign).unwrap_or_default();
    let print = |mm: f64, units: PrintUnits| {
        Length::from_mm_f64(mm.abs()).map_or_else(String::new, |l| units.print(l, sign).text())
    };
    let inches = by.inches.unwrap_or_default();
    let text = match by.measure {
        Measure::Length => {
            let mm = print(by.value, PrintUnits::Mm(options.print.mm_step));
            match inches {
                0.0 => mm,
                inches => format!("{mm} ({})", print(inches * 25.4, PrintUnits::Inch(inch_print(options)))),
            }
        }
        Measure::Angle | Measure::Bearing => format!("{}°", decimal()),
        Measure::Other => decimal(),
    };
    format!("{}{text}", if by.value < 0.0 || by.value == 0.0 && inches < 0.0 { "−" } else { "+" })
}

fn size_entry(id: &str, label: &str, value: Value, options: &Options) -> Entry {
    let sign = options.language.decimal_sign();
    let decimal = |v: f64| turnleaf_units::print_decimal(v, 3, sign).unwrap_or_default();
    let (print, shown, number) = match value {
        Value::Length(l) => (
            options.print.print_units().print(l, sign).text(),
            both(options).print(l, sign).text(),
            length(l.mm(), options),
        ),
        Value::Angle(a) => {
            let text = format!("{}°", decimal(a.degrees()));
            (text.clone(), text, Some(amount(to_places(a.degrees(), OTHER), Measure::Angle)))
        }
        Value::Count(n) => (n.to_string(), n.to_string(), Some(amount(f64::from(n), Measure::Other))),
        Value::Force(f) => {
            let text = format!("{} N", decimal(f.newtons()));
            (text.clone(), text, Some(amount(to_places(f.newtons(), OTHER), Measure::Other)))
        }
    };
    Entry { group: Group::Size, id: id.into(), label: label.into(), print, shown, value: number }
}

fn number_entry(n: &Number, options: &Options) -> Entry {
    let shown = match n.unit {
        Unit::Mm => crate::number_text(n, both(options), options.language),
        _ => crate::plan_text(n, options),
    };
    Entry {
        group: Group::Number,
        id: n.id.to_string(),
        label: n.label.to_string(),
        print: crate::plan_text(n, options),
        shown,
        value: match n.unit {
            _ if !n.value.is_finite() => None,
            Unit::Mm => length(n.value, options),
            Unit::Deg => Some(amount(to_places(n.value, ANGLE), Measure::Angle)),
            Unit::Count | Unit::Ratio => Some(amount(to_places(n.value, OTHER), Measure::Other)),
            Unit::Mm2 => None,
        },
    }
}

/// How many of what, and how large: all sides in millimetres, then all in inches.
fn part_entry(p: &Part, options: &Options) -> Entry {
    let sign = options.language.decimal_sign();
    let (low, high) = p.outline.bounds();
    let sides = [high.x - low.x, high.y - low.y, p.thickness];
    let size = |units: PrintUnits| {
        let side = |v: f64| Length::from_mm_f64(v).map_or_else(String::new, |l| units.print(l, sign).text());
        sides.map(side).join(" × ")
    };
    let count = format!("{} × {}", p.count, p.material);
    let (mm, inch) = (options.print.mm_step, inch_print(options));
    let shown = format!("{count}, {} ({})", size(PrintUnits::Mm(mm)), size(PrintUnits::Inch(inch)));
    Entry {
        group: if p.made { Group::Part } else { Group::Hardware },
        id: p.id.clone(),
        label: p.name.clone(),
        print: format!("{count}, {}", size(options.print.print_units())),
        // The unit stands behind the last side alone.
        shown: shown.replace(" mm × ", " × ").replace(" in × ", " × "),
        value: None,
    }
}

/// The value of a dimension as its figure prints it.
fn dimension_value(d: &Drawing, i: usize, lean: &Wording, options: &Options) -> Option<Amount> {
    let rule = d.dimensions[i].rule;
    if !rule.is_angle() {
        return length(d.shown(i), options);
    }
    // How finely an angle is printed hangs on the part; its figure tells.
    let figure = printed::figure(d, i, &Wording { sign: DecimalSign::default(), ..*lean });
    let degrees = figure.main.trim_end_matches('°').replace('−', "-").parse().ok()?;
    let round = matches!(rule, Rule::Bearing(_) | Rule::Heading(..));
    Some(amount(degrees, if round { Measure::Bearing } else { Measure::Angle }))
}

/// What each dimension and each lettered mark of the sheets is, in words of the book's language, by its identifier on the
/// drawing ("panel/dim/radius/outer-arc": "the radius of the outer arc"). In any other language than English, what has
/// no words there is left out.
pub fn spoken(built: &Built) -> Vec<(String, String)> {
    let tongue = turnleaf_book::words::tongue(built.plan.options().language);
    let mut out = Vec::new();
    for part in built.assembly.parts.iter().filter(|p| p.made) {
        let drawing = choose(part);
        let mut say = |id: String, words: &str| match tongue.known(words) {
            _ if tongue.is_english() => out.push((id, words.to_string())),
            Some(said) => out.push((id, said)),
            None => {}
        };
        for d in &drawing.dimensions {
            say(d.id.clone(), &d.words);
        }
        let rows = drawing.rows.iter().map(|r| (&r.members, &r.purpose));
        for (members, words) in rows.chain(drawing.edges.iter().map(|e| (&e.members, &e.what))) {
            for feature in members.iter().filter_map(|m| drawing.sketch.features.get(*m)) {
                say(format!("{}/mark/{}", part.id, feature.id), words);
            }
        }
    }
    out
}

fn dimension_entries(part: &Part, options: &Options) -> Vec<Entry> {
    let drawing = choose(part);
    let sign = options.language.decimal_sign();
    let lean = Wording { units: options.print.print_units(), sign };
    let full = Wording { units: both(options), sign };
    (0..drawing.dimensions.len())
        .map(|i| {
            let d = &drawing.dimensions[i];
            Entry {
                group: Group::Dimension,
                id: d.id.clone(),
                label: d.words.clone(),
                print: printed::figure(&drawing, i, &lean).text(),
                shown: printed::figure(&drawing, i, &full).text(),
                value: dimension_value(&drawing, i, &lean, options),
            }
        })
        .collect()
}
