//! Properties of units that hold for every value.

use proptest::prelude::*;
use turnleaf_units::{
    Angle, DecimalSign, Denominator, ForceUnit, InchPrint, Length, LengthUnit, MassUnit, MmStep, PrintUnits,
    parse_angle, parse_count, parse_force, parse_length, parse_mass, print_inch, print_mm, understand_length,
};

fn denominator() -> impl Strategy<Value = Denominator> {
    prop::sample::select(Denominator::ALL.to_vec())
}
fn sign() -> impl Strategy<Value = DecimalSign> {
    prop::sample::select(vec![DecimalSign::Point, DecimalSign::Comma])
}
/// Steps that makers print to, and odd ones.
fn step() -> impl Strategy<Value = MmStep> {
    prop_oneof![
        prop::sample::select(vec![1i64, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 100_000]),
        1i64..10_000_000,
    ]
    .prop_filter_map("a step", |n| MmStep::new(Length::from_quanta(n * 8)))
}

/// All 64ths of an inch up to ten feet, in each style, come back exactly.
#[test]
fn every_64th_to_ten_feet_comes_back() {
    for k in 0..=(120 * 64) {
        let length = Length::inch_256ths(k * 4);
        for feet in [false, true] {
            let printed = print_inch(length, InchPrint { denominator: Denominator::SixtyFour, feet });
            assert_eq!(printed.error, Length::ZERO);
            assert_eq!(parse_length(&printed.text, LengthUnit::Mm), Ok(length), "{}", printed.text);
            assert_eq!(parse_length(&printed.figure, LengthUnit::Inch), Ok(length), "{}", printed.figure);
        }
    }
}

/// All hundredths of a millimetre up to 3 m come back exactly, with a point and with a comma.
#[test]
fn every_hundredth_to_three_metres_comes_back() {
    for k in 0..=300_000 {
        let length = Length::hundredths_mm(k);
        for sign in [DecimalSign::Point, DecimalSign::Comma] {
            let printed = print_mm(length, MmStep::HUNDREDTH, sign);
            assert_eq!(printed.error, Length::ZERO);
            assert_eq!(parse_length(&printed.text, LengthUnit::Inch), Ok(length), "{}", printed.text);
        }
    }
}

proptest! {
    /// Millimetres: the text says `rounded`, which is the nearest multiple of the step.
    #[test]
    fn printed_mm_says_the_rounded_length(q in -4_000_000_000_000i64..4_000_000_000_000, step in step(), sign in sign()) {
        let length = Length::from_quanta(q);
        let printed = print_mm(length, step, sign);
        let unit = step.length().quanta();
        prop_assert_eq!(printed.rounded.quanta() % unit, 0);
        prop_assert_eq!(printed.rounded.checked_sub(length), Some(printed.error));
        prop_assert!(printed.error.quanta().abs() * 2 <= unit);
        if printed.error.quanta().abs() * 2 == unit {
            prop_assert_eq!(printed.rounded.quanta() / unit % 2, 0, "a tie goes to the even multiple");
        }
        // 1,234 alone could separate thousands: what we print must still be readable, so it is read with its sign.
        match parse_length(&printed.text, LengthUnit::Inch) {
            Ok(read) => prop_assert_eq!(read, printed.rounded),
            Err(p) => prop_assert!(sign == DecimalSign::Comma && p.to_string().contains("could mean"), "{p}"),
        }
    }

    /// Inches: the same.
    #[test]
    fn printed_inches_say_the_rounded_length(q in -4_000_000_000_000i64..4_000_000_000_000, d in denominator(), feet: bool) {
        let length = Length::from_quanta(q);
        let printed = print_inch(length, InchPrint { denominator: d, feet });
        let unit = 20_320_000 / d.number();
        prop_assert_eq!(printed.rounded.quanta() % unit, 0);
        prop_assert_eq!(printed.rounded.checked_sub(length), Some(printed.error));
        prop_assert!(printed.error.quanta().abs() * 2 <= unit);
        if printed.error.quanta().abs() * 2 == unit {
            prop_assert_eq!(printed.rounded.quanta() / unit % 2, 0, "a tie goes to the even multiple");
        }
        prop_assert_eq!(parse_length(&printed.text, LengthUnit::Mm), Ok(printed.rounded));
        prop_assert_eq!(parse_length(&printed.figure, LengthUnit::Inch), Ok(printed.rounded));
    }

    /// Printing twice changes nothing more, and mirrored lengths print alike.
    #[test]
    fn rounding_is_idempotent_and_odd(q in any::<i64>(), step in step(), d in denominator(), feet: bool) {
        for units in [PrintUnits::Mm(step), PrintUnits::Inch(InchPrint { denominator: d, feet })] {
            let once = units.print(Length::from_quanta(q), DecimalSign::Point).main;
            let twice = units.print(once.rounded, DecimalSign::Point).main;
            prop_assert_eq!(&twice.text, &once.text);
            prop_assert_eq!(twice.error, Length::ZERO);
            if let Some(mirrored) = Length::ZERO.checked_sub(Length::from_quanta(q)) {
                let other = units.print(mirrored, DecimalSign::Point).main;
                prop_assert_eq!(other.text.trim_start_matches('−'), once.text.trim_start_matches('−'));
                prop_assert_eq!(Length::ZERO.checked_sub(once.rounded), Some(other.rounded));
            }
        }
    }

    /// Every typed way of the same inches is the same length.
    #[test]
    fn ways_of_typing_agree(feet in 0i64..100, inches in 0i64..12, k in 1i64..64) {
        let total = Length::from_quanta((feet * 12 + inches) * 20_320_000 + k * 317_500);
        for text in [
            format!("{feet}'{inches} {k}/64\""),
            format!("{feet} ft {inches}-{k}/64 in"),
            format!("{feet}′ {inches} {k}⁄64″"),
            format!("{} {k}/64", feet * 12 + inches),
            format!("{}.{:06} in", feet * 12 + inches, k * 15625),
        ] {
            prop_assert_eq!(parse_length(&text, LengthUnit::Inch), Ok(total), "{}", text);
        }
    }

    /// The float bridge loses nothing below a kilometre.
    #[test]
    fn float_bridge_comes_back(q in -800_000_000_000i64..800_000_000_000) {
        let length = Length::from_quanta(q);
        prop_assert_eq!(Length::from_mm_f64(length.mm()), Some(length));
    }

    /// No float makes a length that is not near it.
    #[test]
    fn float_bridge_is_near(mm in any::<f64>()) {
        match Length::from_mm_f64(mm) {
            Some(length) => prop_assert!((length.mm() - mm).abs() <= 0.5 / 800_000.0 + mm.abs() * 1e-15),
            None => prop_assert!(!mm.is_finite() || mm.abs() > 1.15e13),
        }
    }

    /// Degrees typed with up to nine decimals are exact.
    #[test]
    fn degrees_are_exact(whole in 0i64..360, part in 0i64..1_000_000_000) {
        let text = format!("{whole}.{part:09}°");
        prop_assert_eq!(parse_angle(&text), Ok(Angle::from_quanta(whole * 1_000_000_000 + part)));
    }

    /// No text makes any reader panic, and every sentence is short, one line and free of control characters.
    #[test]
    fn no_text_breaks_a_reader(text in any::<String>()) {
        let sentences = [
            parse_length(&text, LengthUnit::Mm).err(),
            parse_angle(&text).err(),
            parse_count(&text).err(),
            parse_force(&text, ForceUnit::Newton).err(),
            parse_mass(&text, MassUnit::Kilogram).err(),
        ];
        for p in sentences.into_iter().flatten() {
            let sentence = p.to_string();
            prop_assert!(sentence.ends_with('.') && sentence.chars().count() < 300, "{sentence}");
            prop_assert!(!sentence.chars().any(char::is_control), "{sentence:?}");
        }
    }

    /// Text made of the marks that lengths are made of: what reads, reads the same after being said back.
    #[test]
    fn what_is_understood_reads_back(text in "[-+0-9., /'\"¼½mcinft]{0,14}") {
        if let Ok(u) = understand_length(&text, LengthUnit::Mm, DecimalSign::Point) {
            let said = u.text.split(" (").next().unwrap_or_default();
            if !said.starts_with("about") {
                prop_assert_eq!(parse_length(said, LengthUnit::Mm), Ok(u.value), "{}", u.text);
            }
        }
    }
}
