//! Units, fractions, rounding. In: tables and agreements. Out: rows.
//! Always true: ours is what a maker's typed text reads as, or prints as.

use crate::table::{Group, Known::*, Source, Within};
use turnleaf_units::{
    DecimalSign, Denominator, ForceUnit, InchPrint, LengthUnit, MassUnit, MmStep, parse_angle, parse_force,
    parse_length, parse_mass, print_inch, print_mm,
};

const YARD: Source =
    Source::new("Refinement of Values for the Yard and the Pound, Federal Register, 1 July 1959", "", Quoted);
const PLUMBING: Source = Source::new("Cosgrove, Principles and Practice of Plumbing", "table LXIII", Read);
const ASME: Source = Source::new("ASME A112.18.1-2018/CSA B125.1-18", "annex A.2", Read);
const CICC: Source = Source::new("CICC databook (cites ISO 31-0, JIS Z 8401)", "2.05", Read);
const ISO_80000: Source = Source::new("ISO 80000-1:2009", "annex B, rule A", Memory);

fn mm(text: &str) -> f64 {
    parse_length(text, LengthUnit::Mm).map_or(f64::NAN, |l| l.mm())
}
fn inch(text: &str) -> f64 {
    parse_length(text, LengthUnit::Inch).map_or(f64::NAN, |l| l.mm())
}
fn fraction(text: &str) -> String {
    let style = InchPrint { denominator: Denominator::SixtyFour, feet: false };
    parse_length(text, LengthUnit::Inch).map_or(String::new(), |l| print_inch(l, style).figure)
}
fn rounded(value: &str, step: &str) -> f64 {
    let printed = parse_length(step, LengthUnit::Mm).ok().and_then(MmStep::new).and_then(|s| {
        Some(print_mm(parse_length(value, LengthUnit::Mm).ok()?, s, DecimalSign::Point).figure)
    });
    printed.map_or(f64::NAN, |t| t.parse().unwrap_or(f64::NAN))
}

/// The rows.
pub fn rows() -> Group {
    let mut g = Group::new("Units, fractions, rounding");
    let exact = Within::Exactly("exact by definition");
    g.near("inch in millimetres", YARD, "25.4", mm("1 in"), exact);
    g.near("yard in millimetres", YARD.at("1 yd = 0.9144 m"), "914.4", mm("3 ft"), exact);
    let pound = parse_mass("1 lb", MassUnit::Kilogram).map_or(f64::NAN, |m| m.kilograms());
    g.near("pound in kilograms", YARD.at("1 lb = 0.453 592 37 kg"), "0.45359237", pound, exact);
    let force = parse_force("1 lbf", ForceUnit::Newton).map_or(f64::NAN, |f| f.newtons());
    g.near(
        "pound-force in newtons",
        Source::new("pint 0.25.3", "default registry", Computed),
        "4.4482216152605",
        force,
        Within::Of(5e-7, "forces are kept to a micronewton"),
    );
    g.not_followed(
        "foot is not the survey foot",
        Source::new("US survey foot, withdrawn from 2023 (probsee.com)", "", Quoted),
        "304.8006096",
        mm("1 ft"),
        0.0006,
        "two parts in a million, but the wrong foot",
    );
    let decimals = [
        ("1/64", ".015625"),
        ("3/64", ".046875"),
        ("9/64", ".140625"),
        ("37/64", ".578125"),
        ("63/64", ".984375"),
    ];
    g.figures(
        "fractions of an inch as decimals",
        PLUMBING,
        decimals.map(|(f, d)| (d, inch(f) / mm("1 in"))),
        Within::Of(1e-15, "the printed decimals are exact; a division of floats is not"),
    );
    g.words(
        "printed fraction of .046875 in",
        PLUMBING.at("table LXIII (labels it 3/62, a misprint)"),
        "3/64",
        fraction(".046875"),
        "an exact fraction",
    );
    let exactly = [
        ("1/64", "0.396875"),
        ("1/32", "0.79375"),
        ("3/64", "1.190625"),
        ("1/16", "1.5875"),
        ("5/64", "1.984375"),
        ("3/32", "2.38125"),
    ];
    g.figures(
        "fractions of an inch in millimetres, exact",
        Source::new("rebab.net, inch fraction conversion", "", Quoted),
        exactly.map(|(f, m)| (m, inch(f))),
        Within::Exactly("the source prints exact values"),
    );
    let ties = [
        ("1/32", "0.7937"),
        ("9/32", "7.1437"),
        ("15/32", "11.9062"),
        ("17/32", "13.4937"),
        ("1", "25.4000"),
    ];
    g.figures(
        "fractions of an inch in millimetres, four decimals",
        Source::new("utilitiesbunker.com, fraction to decimal chart", "", Quoted),
        ties.map(|(f, m)| (m, inch(f))),
        Within::Of(5.1e-5, "half a unit; ties are printed there as binary floats fall"),
    );
    let whole = [
        ("1", ".03937"),
        ("7", ".27559"),
        ("10", ".39370"),
        ("19", ".74803"),
        ("25", ".98425"),
        ("26", "1.02362"),
    ];
    g.figures(
        "whole millimetres in inches",
        Source::new(
            "Hawkins, Self-Help Mechanical Drawing",
            "table of decimal equivalents of millimetres",
            Read,
        ),
        whole.map(|(m, i)| (i, mm(m) / inch("1"))),
        Within::LastDigit,
    );
    g.words(
        "nearest 64th of 0.123 in",
        Source::new("machinecalcs.com, decimal to fraction", "", Quoted),
        "1/8",
        fraction("0.123"),
        "the nearest fraction",
    );
    g.words(
        "nearest 64ths of .1330, .3670 and .8979 in",
        Source::new(
            "International Correspondence Schools, The Building Trades Pocketbook",
            "decimal equivalents",
            Read,
        ),
        "9/64, 23/64, 57/64",
        [".1330", ".3670", ".8979"].map(fraction).join(", "),
        "the nearest fractions",
    );
    let text = Within::Exactly("a printed figure");
    g.figures(
        "a tie goes to the even digit, three figures",
        ASME.at("annex A.2: 1.655 and 1.625"),
        [("1.66", rounded("1.655000", "0.01")), ("1.62", rounded("1.625000", "0.01"))],
        text,
    );
    g.figures(
        "a tie goes to the even multiple",
        ISO_80000.at("annex B, rule A: 12.25 and 12.35"),
        [("12.2", rounded("12.25", "0.1")), ("12.4", rounded("12.35", "0.1"))],
        text,
    );
    g.figures(
        "ties and steps of five",
        CICC.at("2.05: 123.55; 123.454, 123.458; 123.326"),
        [
            ("123.6", rounded("123.55", "0.1")),
            ("123.455", rounded("123.454", "0.005")),
            ("123.46", rounded("123.458", "0.005")),
            ("123.35", rounded("123.326", "0.05")),
        ],
        text,
    );
    g.not_followed(
        "ties are not rounded up",
        Source::new("European Pharmacopoeia FAQ (faq.edqm.eu)", "0.145 to two decimals", Read),
        "0.15",
        rounded("0.145", "0.01"),
        0.009,
        "the other rule, which the book does not use",
    );
    let degree = parse_angle("180°").map_or(f64::NAN, |a| a.radians());
    g.figure(
        "straight angle in radians",
        Source::new("mpmath 1.3", "π", Computed),
        "3.141592653589793",
        degree,
    );
    g
}
