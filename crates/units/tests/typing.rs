//! What people type, and the sentences for what cannot be read.

use turnleaf_units::{
    Angle, DecimalSign, Denominator, Force, ForceUnit, InchPrint, Length, LengthUnit, Mass, MassUnit, MmStep,
    PrintUnits, parse_angle, parse_count, parse_force, parse_length, parse_mass, print_decimal, print_inch,
    print_mm, understand_angle, understand_force, understand_length, understand_mass,
};

const MM: LengthUnit = LengthUnit::Mm;
const INCH: LengthUnit = LengthUnit::Inch;

/// Hundredths of a millimetre.
fn h(hundredths: i32) -> Length {
    Length::hundredths_mm(hundredths)
}
/// 1/256 in.
fn f(parts: i32) -> Length {
    Length::inch_256ths(parts)
}

#[test]
fn lengths_that_read() {
    let quarter_47 = f(47 * 256 + 64);
    let eleven = f((36 + 11) * 256);
    let cases: &[(&str, LengthUnit, Length)] = &[
        ("1200", MM, h(120_000)),
        ("1200", INCH, f(1200 * 256)),
        (" 1200 mm ", INCH, h(120_000)),
        ("1200mm", INCH, h(120_000)),
        ("1200 MM", INCH, h(120_000)),
        ("1200 millimetres", INCH, h(120_000)),
        ("1.2 m", MM, h(120_000)),
        ("1,2 m", MM, h(120_000)),
        ("120cm", MM, h(120_000)),
        ("1 m 20 cm", MM, h(120_000)),
        ("1 m 20 cm 5 mm", MM, h(120_500)),
        ("18,2", MM, h(1820)),
        ("18,25", MM, h(1825)),
        ("0,125", INCH, f(32)),
        ("18,2500", MM, h(1825)),
        (".75", INCH, f(192)),
        ("0.75in", MM, f(192)),
        ("0.75 in.", MM, f(192)),
        ("3/4\"", MM, f(192)),
        ("3/4 inch", MM, f(192)),
        ("¾", INCH, f(192)),
        ("3⁄4 in", MM, f(192)),
        ("47 1/4\"", MM, quarter_47),
        ("47 1/4", INCH, quarter_47),
        ("47-1/4 in", MM, quarter_47),
        ("47‑1/4 in", MM, quarter_47),
        ("47¼″", MM, quarter_47),
        ("47 ¼ ”", MM, quarter_47),
        ("47\u{a0}1/4\u{202f}in", MM, quarter_47),
        ("47 1/4 Zoll", MM, quarter_47),
        ("47.25\"", MM, quarter_47),
        ("1⅛\"", MM, f(256 + 32)),
        ("5 63/64 in", MM, f(5 * 256 + 252)),
        ("1/256 in", MM, f(1)),
        ("3'11\"", MM, eleven),
        ("3'11", MM, eleven),
        ("3' 11\"", MM, eleven),
        ("3'-11\"", MM, eleven),
        ("3′11″", MM, eleven),
        ("3’11”", MM, eleven),
        ("3'11''", MM, eleven),
        ("3ft 11in", MM, eleven),
        ("3 ft 11 1/2 in", MM, f(47 * 256 + 128)),
        ("3 feet 11-1/2 inches", MM, f(47 * 256 + 128)),
        ("3'-11 1/2\"", MM, f(47 * 256 + 128)),
        ("3 ft. 11 in.", MM, eleven),
        ("4'", MM, f(48 * 256)),
        ("4 Fuß", MM, f(48 * 256)),
        ("3.5 ft", MM, f(42 * 256)),
        ("1 200", MM, h(120_000)),
        ("1 200,5 mm", MM, h(120_050)),
        ("1 200 000", MM, h(120_000_000)),
        ("1,200.5", MM, h(120_050)),
        ("1.200,5", MM, h(120_050)),
        ("1,200,000", MM, h(120_000_000)),
        ("0", MM, Length::ZERO),
        ("-5", MM, h(-500)),
        ("−5 mm", MM, h(-500)),
        ("-3'11\"", MM, f(-47 * 256)),
        ("+5", MM, h(500)),
        ("0.00001", MM, Length::from_quanta(8)),
        ("0.0001", INCH, Length::from_quanta(2032)),
        ("1/3 mm", MM, Length::from_quanta(266_667)),
        ("999999999999", MM, Length::from_quanta(799_999_999_999_200_000)),
    ];
    for (text, unit, expected) in cases {
        assert_eq!(parse_length(text, *unit), Ok(*expected), "{text}");
    }
}

/// Each sentence says what is wrong and what would work.
#[test]
fn lengths_that_do_not_read() {
    let cases: &[(&str, &str)] = &[
        ("", "Nothing is typed here; type for example 1200 mm, 1.2 m, 47 1/4 in or 3 ft 11 in."),
        ("   ", "Nothing is typed here; type for example 1200 mm, 1.2 m, 47 1/4 in or 3 ft 11 in."),
        (
            "wide",
            "“wide” cannot be read as a length; type for example 1200 mm, 1.2 m, 47 1/4 in or 3 ft 11 in.",
        ),
        ("mm", "“mm” cannot be read as a length; type for example 1200 mm, 1.2 m, 47 1/4 in or 3 ft 11 in."),
        ("-", "“-” cannot be read as a length; type for example 1200 mm, 1.2 m, 47 1/4 in or 3 ft 11 in."),
        ("12 mm 3", "3 in “12 mm 3” has no unit; write the unit after it."),
        ("1200 furlongs", "“furlongs” in “1200 furlongs” is not a unit known here; use mm, cm, m, in or ft."),
        ("1e3", "“e” in “1e3” is not a unit known here; use mm, cm, m, in or ft."),
        (
            "NaN",
            "“NaN” cannot be read as a length; type for example 1200 mm, 1.2 m, 47 1/4 in or 3 ft 11 in.",
        ),
        ("45°", "“°” in “45°” measures an angle, but a length is wanted; use mm, cm, m, in or ft."),
        ("3 kg", "“kg” in “3 kg” measures a mass, but a length is wanted; use mm, cm, m, in or ft."),
        ("1,200", "“1,200” could mean 1200 or 1.2; type 1200 or 1.2 instead."),
        ("18,250 mm", "“18,250” could mean 18250 or 18.25; type 18250 or 18.25 instead."),
        (
            "1,20,000",
            "“1,20,000” has its dots and commas in odd places; type it with one decimal sign at most.",
        ),
        ("1.2.3", "“1.2.3” has its dots and commas in odd places; type it with one decimal sign at most."),
        ("12.", "“12.” has its dots and commas in odd places; type it with one decimal sign at most."),
        ("1/0 in", "“1/0 in” divides by zero; use a fraction such as 3/4."),
        (
            "47 5/4",
            "After a whole number the fraction must be below one, but “47 5/4” has 5/4; check the figures.",
        ),
        ("47.5 1/4", "“47.5” in “47.5 1/4” must be a whole number; use decimals or a fraction, not both."),
        ("3'14\"", "“3'14\"” has 12 in or more after ft; keep in below 12."),
        ("1'200", "“1'200” has 12 in or more after ft; keep in below 12."),
        ("1 m 100 cm", "“1 m 100 cm” has 100 cm or more after m; keep cm below 100."),
        (
            "3 mm 2 ft",
            "“3 mm 2 ft” mixes units in a way that cannot be read; use one unit, or feet and inches, or m, cm and mm.",
        ),
        (
            "3.5 ft 2 in",
            "“3.5 ft 2 in” mixes units in a way that cannot be read; use one unit, or feet and inches, or m, cm and mm.",
        ),
        (
            "47 - 1/4",
            "“47 - 1/4” cannot be read as a length; type for example 1200 mm, 1.2 m, 47 1/4 in or 3 ft 11 in.",
        ),
        (
            "3 11",
            "“3 11” cannot be read as a length; type for example 1200 mm, 1.2 m, 47 1/4 in or 3 ft 11 in.",
        ),
        (
            "1200 × 2",
            "“1200 × 2” cannot be read as a length; type for example 1200 mm, 1.2 m, 47 1/4 in or 3 ft 11 in.",
        ),
        ("12\u{7}mm", "“12\u{fffd}mm” holds an invisible control character (U+0007); delete it."),
        (
            "1234567890123 m",
            "“1234567890123 m” has more digits than can be kept exactly; twelve before and after the sign are enough.",
        ),
        ("999999999999 m", "“999999999999 m” is larger than can be held."),
    ];
    for (text, sentence) in cases {
        let problem = parse_length(text, MM).expect_err(text);
        assert_eq!(&problem.to_string(), sentence, "{text}");
    }
    let long = "9".repeat(10_000_000);
    let sentence = parse_length(&long, MM).expect_err("long").to_string();
    assert_eq!(sentence, "“999999999999999999999999…” is too long to be one value; 80 characters at most.");
}

/// Every single-character fraction reads as the same fraction typed out, alone and after a whole number.
#[test]
fn single_character_fractions() {
    for (c, typed) in [
        ('¼', "1/4"),
        ('½', "1/2"),
        ('¾', "3/4"),
        ('⅐', "1/7"),
        ('⅑', "1/9"),
        ('⅒', "1/10"),
        ('⅓', "1/3"),
        ('⅔', "2/3"),
        ('⅕', "1/5"),
        ('⅖', "2/5"),
        ('⅗', "3/5"),
        ('⅘', "4/5"),
        ('⅙', "1/6"),
        ('⅚', "5/6"),
        ('⅛', "1/8"),
        ('⅜', "3/8"),
        ('⅝', "5/8"),
        ('⅞', "7/8"),
    ] {
        let read = |t: String| parse_length(&t, INCH).unwrap_or_else(|p| panic!("{p}"));
        assert_eq!(read(c.to_string()), read(typed.to_string()), "{c}");
        assert_eq!(read(format!("2{c}")), read(format!("2 {typed}")), "2{c}");
    }
}

/// Where each rule of reading begins and ends.
#[test]
fn edges_of_the_rules() {
    let read = |t: &str| parse_length(t, MM);
    let mm = |v: i32| Ok(Length::whole_mm(v));
    // The longest text that is looked at has 80 characters.
    assert_eq!(read(&format!("5{}mm", " ".repeat(77))), mm(5));
    assert!(read(&format!("5{}mm", " ".repeat(78))).is_err());
    // A comma before three digits is doubtful after one, two or three digits, and clear after four or a zero.
    for doubtful in ["1,200", "12,200", "123,200"] {
        assert!(read(doubtful).expect_err(doubtful).to_string().contains("could mean"), "{doubtful}");
    }
    assert_eq!(read("1234,500"), Ok(Length::hundredths_mm(123_450)));
    assert_eq!(read("0,500"), Ok(Length::hundredths_mm(50)));
    assert_eq!(read(",500"), Ok(Length::hundredths_mm(50)));
    // Groups of thousands: one to three digits lead, never a zero, three follow each.
    assert_eq!(read("100 200"), mm(100_200));
    for odd in ["0,123,456", "1234,567,890", "12,34,567", "0.123.456,5", "1,,000", "1.000,"] {
        assert!(read(odd).expect_err(odd).to_string().contains("odd places"), "{odd}");
    }
    for odd in ["1000 200", "0 200", "1 2000", "1 20", "1 200 30"] {
        assert!(read(odd).expect_err(odd).to_string().contains("cannot be read as a length"), "{odd}");
    }
    // A fraction after a whole number is below one; alone it need not be.
    assert_eq!(read("1 63/64 in"), Ok(f(256 + 252)));
    assert!(read("1 64/64 in").is_err());
    assert_eq!(read("64/64 in"), Ok(f(256)));
    // The smaller unit stays below the larger.
    for (good, bad) in [
        ("1 ft 11 63/64 in", "1 ft 12 in"),
        ("1 m 99 cm", "1 m 100 cm"),
        ("1 m 999 mm", "1 m 1000 mm"),
        ("1 cm 9 mm", "1 cm 10 mm"),
    ] {
        assert!(read(good).is_ok(), "{good}");
        assert!(read(bad).expect_err(bad).to_string().contains("or more after"), "{bad}");
    }
    // Twelve digits before and after the sign.
    assert_eq!(read("0.000000000001"), Ok(Length::ZERO));
    assert!(read("0.0000000000001").is_err());
    assert_eq!(read("000000000000000012"), mm(12));
    // A dash that touches the whole number binds the fraction; one set off before is no part of either.
    assert_eq!(read("47- 1/4 in"), Ok(f(47 * 256 + 64)));
    assert!(read("47 -1/4 in").is_err());
    // After feet a dash sets the inches apart, marked or not.
    assert_eq!(read("3'-11"), Ok(f(47 * 256)));
    assert!(read("3'-").is_err());
    // A full stop after a unit is swallowed, unless it begins a decimal; whatever else stands there is not.
    assert_eq!(read("3 ft.5 in"), Ok(f(36 * 256 + 128)));
    for odd in ["5 mm/", "5 mm./", "5 mm)"] {
        assert!(read(odd).is_err(), "{odd}");
    }
    // Two signs in turn group nothing, even where three marks stand between them.
    assert!(read("1,2.3,444").expect_err("mixed").to_string().contains("odd places"));
    // A sentence shows 24 characters, and says with the 25th that there were more.
    for (wide, shown) in [("w".repeat(24), "w".repeat(24)), ("w".repeat(25), "w".repeat(24) + "…")] {
        let sentence = read(&wide).expect_err("no number").to_string();
        assert!(sentence.starts_with(&format!("“{shown}” cannot be read")), "{sentence}");
    }
}

#[test]
fn angles() {
    for text in ["45", "45°", "45 °", "45 deg", "45 degrees", "45,0"] {
        assert_eq!(parse_angle(text), Ok(Angle::whole_degrees(45)), "{text}");
    }
    let rad = parse_angle("0.785398163397 rad").expect("an angle");
    assert!((rad.degrees() - 45.0).abs() < 1e-9);
    assert!((Angle::whole_degrees(180).radians() - core::f64::consts::PI).abs() < 1e-15);
    assert_eq!(parse_angle("22 1/2°"), Ok(Angle::from_quanta(22_500_000_000)));
    let wrong = |t: &str| parse_angle(t).expect_err(t).to_string();
    assert_eq!(wrong("45 mm"), "“mm” in “45 mm” measures a length, but an angle is wanted; use ° or rad.");
    assert_eq!(wrong("wide"), "“wide” cannot be read as an angle; type for example 45° or 0.785 rad.");
    assert_eq!(wrong("50 gon"), "“gon” in “50 gon” is not a unit known here; use ° or rad.");
    assert_eq!(wrong("999999999999"), "“999999999999” is larger than can be held.");
    assert_eq!(wrong("999999999999 rad"), "“999999999999 rad” is larger than can be held.");
}

#[test]
fn counts() {
    assert_eq!(parse_count("6"), Ok(6));
    assert_eq!(parse_count(" 6.0 "), Ok(6));
    assert_eq!(parse_count("0"), Ok(0));
    assert_eq!(parse_count("12/2"), Ok(6));
    let wrong = |t: &str| parse_count(t).expect_err(t).to_string();
    for text in ["6.5", "-6", "six", "1/2"] {
        assert_eq!(wrong(text), format!("“{text}” cannot be read as a whole number; type for example 6."));
    }
    assert_eq!(wrong("6 mm"), "“mm” in “6 mm” measures a length, but a whole number is wanted; use no unit.");
    assert_eq!(wrong("99999999999"), "“99999999999” is larger than can be held.");
}

#[test]
fn forces_and_masses() {
    let newtons = |t: &str| parse_force(t, ForceUnit::Newton).map(|f| f.newtons());
    assert_eq!(newtons("300"), Ok(300.0));
    assert_eq!(newtons("300 N"), Ok(300.0));
    assert_eq!(newtons("0,3 kN"), Ok(300.0));
    assert_eq!(parse_force("300", ForceUnit::Newton), Ok(Force::whole_newtons(300)));
    assert!((parse_force("70", ForceUnit::PoundForce).expect("a force").pounds_force() - 70.0).abs() < 1e-6);
    let wrong = parse_force("30 kg", ForceUnit::Newton).expect_err("a mass").to_string();
    assert_eq!(wrong, "“kg” in “30 kg” measures a mass, but a force is wanted; use N, kN or lbf.");
    let kilograms = |t: &str| parse_mass(t, MassUnit::Kilogram).map(|m| m.kilograms());
    assert_eq!(kilograms("25"), Ok(25.0));
    assert_eq!(kilograms("250 g"), Ok(0.25));
    assert!((parse_mass("55 lb", MassUnit::Kilogram).expect("a mass").pounds() - 55.0).abs() < 1e-12);
    let wrong = parse_mass("30 N", MassUnit::Kilogram).expect_err("a force").to_string();
    assert_eq!(wrong, "“N” in “30 N” measures a force, but a mass is wanted; use kg, g or lb.");
}

#[test]
fn says_what_was_understood() {
    let say = |t: &str, u| understand_length(t, u, DecimalSign::Point).expect(t).text;
    assert_eq!(say("1200", MM), "1200 mm (about 47 1/4 in)");
    assert_eq!(say("1,2 m", MM), "1200 mm (about 47 1/4 in)");
    assert_eq!(say("25,4", MM), "25.4 mm (1 in)");
    assert_eq!(say("47 1/4\"", MM), "47 1/4 in (1200.15 mm)");
    assert_eq!(say("3'11\"", MM), "47 in (1193.8 mm)");
    assert_eq!(say("0.123 in", MM), "0.123 in (3.1242 mm)");
    assert_eq!(say("1/256 in", MM), "1/256 in (about 0.099 mm)");
    assert_eq!(say("-5", MM), "−5 mm (about −13/64 in)");
    assert_eq!(say("1/3 mm", MM), "about 0.333 mm (about 1/64 in)");
    let german = understand_length("47 1/4\"", MM, DecimalSign::Comma).expect("a length").text;
    assert_eq!(german, "47 1/4 in (1200,15 mm)");
    assert_eq!(
        understand_angle("22,5", DecimalSign::Comma).expect("an angle").text,
        "22,5° (about 0,3927 rad)"
    );
    let force = understand_force("70 lbf", ForceUnit::Newton, DecimalSign::Point).expect("a force").text;
    assert_eq!(force, "311.376 N (about 70 lbf)");
    let mass = understand_mass("55 lb", MassUnit::Kilogram, DecimalSign::Point).expect("a mass").text;
    assert_eq!(mass, "24.948 kg (about 55 lb)");
}

#[test]
fn printed_lengths() {
    let inch = |d, feet| InchPrint { denominator: d, feet };
    let sixteen = inch(Denominator::Sixteen, false);
    let p = print_inch(h(120_000), inch(Denominator::SixtyFour, false));
    // 1200 mm = 47.2440… in; 47 16/64 in is 0.15 mm longer.
    assert_eq!((p.text.as_str(), p.figure.as_str()), ("47 1/4 in", "47 1/4"));
    assert_eq!((p.rounded, p.error), (f(47 * 256 + 64), h(15)));
    let p = print_inch(f(47 * 256 + 64), inch(Denominator::Sixteen, true));
    assert_eq!((p.text.as_str(), p.figure.as_str()), ("3 ft 11 1/4 in", "3'-11 1/4\""));
    let p = print_inch(f(36 * 256), inch(Denominator::Sixteen, true));
    assert_eq!((p.text.as_str(), p.figure.as_str()), ("3 ft", "3'-0\""));
    let p = print_inch(f(192), inch(Denominator::Sixteen, true));
    assert_eq!((p.text.as_str(), p.figure.as_str()), ("3/4 in", "3/4\""));
    // 11.99 in rounds up into the next foot.
    let p = print_inch(f(12 * 256 - 1), inch(Denominator::Sixteen, true));
    assert_eq!(p.text, "1 ft");
    // Ties to the even count of sixteenths: 1/32 to 0, 3/32 to 1/8.
    assert_eq!(print_inch(f(8), sixteen).text, "0 in");
    assert_eq!(print_inch(f(24), sixteen).text, "1/8 in");
    assert_eq!(print_inch(f(-24), sixteen).text, "−1/8 in");

    let p = print_mm(f(192), MmStep::TENTH, DecimalSign::Comma);
    // 19.05 mm is a tie: 190 tenths is even.
    assert_eq!((p.text.as_str(), p.rounded, p.error), ("19 mm", h(1900), h(-5)));
    assert_eq!(print_mm(h(1820), MmStep::TENTH, DecimalSign::Comma).figure, "18,2");
    assert_eq!(print_mm(h(-1820), MmStep::TENTH, DecimalSign::Point).figure, "−18.2");
    assert_eq!(print_mm(h(-4), MmStep::TENTH, DecimalSign::Point).figure, "0");
    let half = MmStep::new(h(50)).expect("a step");
    assert_eq!(print_mm(h(1820), half, DecimalSign::Point).figure, "18");
    assert_eq!(print_mm(h(1830), half, DecimalSign::Point).figure, "18.5");

    let both = PrintUnits::Both(MmStep::TENTH, sixteen).print(h(120_000), DecimalSign::Point);
    assert_eq!((both.text().as_str(), both.figure().as_str()), ("1200 mm (47 1/4 in)", "1200 (47 1/4)"));
}

#[test]
fn steps_that_cannot_be_printed_are_refused() {
    assert!(MmStep::new(Length::ZERO).is_none());
    assert!(MmStep::new(h(-10)).is_none());
    assert!(MmStep::new(Length::from_quanta(7)).is_none());
    assert!(MmStep::new(h(10_001)).is_none());
    assert!(MmStep::new(h(10_000)).is_some());
    assert!(MmStep::new(Length::from_quanta(8)).is_some());
    assert_eq!(Denominator::from_number(32), Some(Denominator::ThirtyTwo));
    assert_eq!(Denominator::from_number(10), None);
}

#[test]
fn solved_numbers() {
    assert_eq!(Length::from_mm_f64(1.0 / 3.0), Some(Length::from_quanta(266_667)));
    assert_eq!(Length::from_mm_f64(-0.0), Some(Length::ZERO));
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300, -1e300, 1.2e13] {
        assert_eq!(Length::from_mm_f64(bad), None, "{bad}");
        assert_eq!(Angle::from_degrees_f64(bad), None, "{bad}");
    }
    // 2^63 quanta are one more than can be held.
    let over = 2f64.powi(63) / 800_000.0;
    assert_eq!(over * 800_000.0, 2f64.powi(63));
    assert_eq!((Length::from_mm_f64(over), Length::from_mm_f64(-over)), (None, None));
    let say = |v, d| print_decimal(v, d, DecimalSign::Point);
    assert_eq!(say(802.8472, 1).as_deref(), Some("802.8"));
    assert_eq!(say(225.0, 3).as_deref(), Some("225"));
    assert_eq!(say(0.125, 2).as_deref(), Some("0.12"));
    assert_eq!(say(-0.0001, 2).as_deref(), Some("0"));
    assert_eq!(say(-1.5, 2).as_deref(), Some("−1.5"));
    assert_eq!(say(100.0, 0).as_deref(), Some("100"));
    assert_eq!(say(f64::NAN, 2), None);
    assert_eq!(print_decimal(22.2, 1, DecimalSign::Comma).as_deref(), Some("22,2"));
}

#[test]
fn checked_arithmetic() {
    let top = Length::from_quanta(i64::MAX);
    assert_eq!(top.checked_add(Length::from_quanta(1)), None);
    assert_eq!(Length::from_quanta(i64::MIN).checked_sub(Length::from_quanta(1)), None);
    assert_eq!(Length::from_quanta(i64::MIN).checked_abs(), None);
    assert_eq!(top.checked_mul(2), None);
    assert_eq!(h(5).checked_mul(-3), Some(h(-15)));
    assert_eq!(h(5).checked_add(h(7)), Some(h(12)));
    assert_eq!(h(5).checked_sub(h(7)), Some(h(-2)));
    assert_eq!(h(-2).checked_abs(), Some(h(2)));
    // The largest lengths still print.
    for length in [top, Length::from_quanta(i64::MIN)] {
        let inch = InchPrint { denominator: Denominator::Sixteen, feet: true };
        assert!(print_mm(length, MmStep::TENTH, DecimalSign::Point).text.ends_with(" mm"));
        assert!(print_inch(length, inch).text.ends_with(" in"));
    }
}

#[test]
fn decimal_sign_by_language() {
    for (tag, sign) in [("de", '.'), ("de-AT", '.'), ("DE", '.'), ("en", ','), ("den", ','), ("", ',')] {
        let other = if sign == '.' { ',' } else { '.' };
        assert_eq!(DecimalSign::for_language(tag).char(), other, "{tag}");
    }
}

/// What goes in as whole quanta comes out as they were, and only what is below nothing is negative.
#[test]
fn quanta_come_back() {
    for q in [0, 1, -1, 453_592_370, i64::MIN, i64::MAX] {
        assert_eq!(Length::from_quanta(q).quanta(), q);
        assert_eq!(Angle::from_quanta(q).quanta(), q);
        assert_eq!(Force::from_micronewtons(q).micronewtons(), q);
        assert_eq!(Mass::from_micrograms(q).micrograms(), q);
        assert_eq!(Length::from_quanta(q).is_negative(), q < 0);
    }
    assert_eq!((Length::ZERO.quanta(), Length::whole_mm(-3).is_negative()), (0, true));
    assert_eq!(Force::whole_newtons(3).micronewtons(), 3_000_000);
    assert_eq!(Angle::whole_degrees(-2).quanta(), -2_000_000_000);
}

/// The bridge from floats takes angles up to a million turns, 360 000 000°, and nothing beyond.
#[test]
fn angles_from_floats_end_at_a_million_turns() {
    let million = Angle::from_degrees_f64(3.6e8).map(Angle::quanta);
    assert_eq!(million, Some(360_000_000_000_000_000));
    assert_eq!(Angle::from_degrees_f64(-3.6e8).map(Angle::quanta), Some(-360_000_000_000_000_000));
    assert_eq!(Angle::from_degrees_f64(3.600_001e8), None);
    assert_eq!(Angle::from_degrees_f64(f64::NAN), None);
}
