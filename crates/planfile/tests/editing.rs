//! Editing a plan as a form does.

use turnleaf_diag::Origin;
use turnleaf_planfile::{
    Absent, Choice, Date, FIELDS, Group, Kind, Options, PastRevision, Plan, PlanUnit, PrintChoice,
};
use turnleaf_planfile::{Revision, Texts, Value, field, field_index, field_of, origin};
use turnleaf_units::{Length, PrintUnits};

#[test]
fn defaults_are_valid_and_come_back() {
    for plan in [Plan::default_metric(), Plan::default_inch()] {
        let (again, remarks) = Plan::parse(plan.to_json().as_bytes()).expect("a default plan opens");
        assert_eq!(remarks, []);
        assert_eq!(again, plan);
    }
    let metric = Plan::default_metric();
    assert_eq!(metric.length("closed_diameter"), Some(Length::whole_mm(1200)));
    assert_eq!(metric.length("open_diameter"), Some(Length::whole_mm(1650)));
    assert_eq!(metric.length("travel"), None);
    assert_eq!(metric.count("sectors"), Some(6));
    assert_eq!(metric.angle("ramp_sweep").map(|a| a.degrees()), Some(24.0));
    assert_eq!(metric.force("edge_load").map(|f| f.newtons()), Some(300.0));
    assert_eq!(metric.value("tongue_thickness"), None);
    // Asking for the wrong kind, or for nothing that exists, is nothing.
    assert_eq!(metric.length("sectors"), None);
    assert_eq!(metric.count("play"), None);
    assert_eq!(metric.value("colour"), None);
}

#[test]
fn the_table_of_sizes_is_sound() {
    let mut seen = std::collections::BTreeSet::new();
    for (i, f) in FIELDS.iter().enumerate() {
        assert!(seen.insert(f.id), "{} twice", f.id);
        assert_eq!(field_index(f.id), Some(i));
        assert_eq!(origin(f.id), Some(Origin::Size(i as u16)));
        assert_eq!(field_of(Origin::Size(i as u16)).map(|g| g.id), Some(f.id));
        assert_eq!(field(f.id).map(|g| g.label), Some(f.label));
        assert!(f.help.ends_with('.') && !f.label.is_empty() && f.min < f.max, "{}", f.id);
        assert!(Group::ALL.contains(&f.group) && !f.group.label().is_empty());
        let kind = |v: Value| match v {
            Value::Length(_) => Kind::Length,
            Value::Angle(_) => Kind::Angle,
            Value::Count(_) => Kind::Count,
            Value::Force(_) => Kind::Force,
        };
        assert!(kind(f.min) == f.kind && kind(f.max) == f.kind, "{}", f.id);
        // Every default and every example can be typed.
        for (mut plan, text) in [(Plan::default_metric(), f.metric), (Plan::default_inch(), f.inch)] {
            plan.set(f.id, text).unwrap_or_else(|d| panic!("{}: {}", f.id, d.sentence));
            assert_eq!(plan.typed(f.id).as_deref(), Some(text));
        }
        assert_eq!(f.optional(), f.absent == Absent::Worked);
    }
    assert_eq!(field_of(Origin::Solved(0)).map(|f| f.id), None);
    assert_eq!(field_of(Origin::Size(u16::MAX)).map(|f| f.id), None);
    assert_eq!(origin("colour"), None);
}

#[test]
fn every_bound_works_and_the_next_step_beyond_does_not() {
    for f in FIELDS {
        let unit = PlanUnit::Mm;
        let (low, high) = match (f.min, f.max) {
            (Value::Length(a), Value::Length(b)) => ((a.mm(), 0.001), (b.mm(), 0.001)),
            (Value::Angle(a), Value::Angle(b)) => ((a.degrees(), 1e-9), (b.degrees(), 1e-9)),
            (Value::Count(a), Value::Count(b)) => ((f64::from(a), 1.0), (f64::from(b), 1.0)),
            (Value::Force(a), Value::Force(b)) => ((a.newtons(), 1e-6), (b.newtons(), 1e-6)),
            _ => panic!("mixed kinds in {}", f.id),
        };
        let mut plan = Plan::default_metric();
        assert_eq!(plan.options().unit, unit);
        for ((bound, step), out) in [(low, -1.0), (high, 1.0)] {
            assert!(plan.set(f.id, &format!("{bound}")).is_ok(), "{} {bound}", f.id);
            let beyond = format!("{:.9}", bound + out * step);
            let refusal = plan.set(f.id, &beyond).expect_err(f.id);
            assert!(refusal.code.starts_with(&format!("sizes.{}.", f.id)), "{}", refusal.code);
            assert_eq!(refusal.origins, [origin(f.id).expect("an origin")]);
        }
    }
}

#[test]
fn a_refused_edit_changes_nothing() {
    let mut plan = Plan::default_metric();
    plan.set("play", "1,5").expect("reads");
    let before = plan.clone();
    for (id, text) in [
        ("play", "much"),
        ("play", "99"),
        ("play", ""),
        ("play", "1,200"),
        ("sectors", "6.5"),
        ("ramp_sweep", "24 mm"),
        ("open_diameter", ""),
        ("colour", "red"),
        ("closed_diameter", &"9".repeat(1_000_000)),
    ] {
        let d = plan.set(id, text).expect_err(text);
        assert!(d.sentence.ends_with('.') && d.sentence.chars().count() < 200, "{}", d.sentence);
        assert_eq!(plan, before, "{id}");
    }
    for (key, word) in [("paper", "papyrus"), ("drive", "motor"), ("colour", "red"), ("print.mm_step", "0")] {
        plan.set_option(key, word).expect_err(key);
        assert_eq!(plan, before, "{key}");
    }
    plan.set_measured("play", "1").expect_err("play is no stock");
    plan.set_measured("stock_thickness", "190").expect_err("far too thick");
    plan.set_texts(Texts { title: "x".repeat(121), ..Texts::default() }).expect_err("too long");
    plan.set_texts(Texts { maker: "a\nb".into(), ..Texts::default() }).expect_err("a line break");
    plan.set_notes(vec!["x".into(); 1001]).expect_err("too many");
    plan.set_notes(vec!["\u{1}".into()]).expect_err("a control character");
    plan.set_revision(Revision { mark: "O".into(), ..Revision::default() }).expect_err("a letter left out");
    let past = |mark: &str| PastRevision::new(mark, Date::parse("2025-01-31").expect("a day"), "Why.");
    plan.set_revisions(vec![past("A"), past("b")]).expect_err("a small letter");
    assert_eq!(plan, before);
}

#[test]
fn an_edit_says_what_was_understood() {
    let mut plan = Plan::default_metric();
    let said = plan.set("closed_diameter", " 3'11\" ").expect("reads");
    assert_eq!(said.text, "47 in (1193.8 mm)");
    assert_eq!(plan.typed("closed_diameter").as_deref(), Some("3'11\""));
    assert_eq!(plan.set("sectors", "8").expect("reads").text, "8");
    assert_eq!(plan.set("leaf_tip_half_angle", "60").expect("reads").text, "60° (about 1.0472 rad)");
    plan.set_option("language", "de").expect("known");
    assert_eq!(plan.set("closed_diameter", "1200,5").expect("reads").text, "1200,5 mm (about 47 17/64 in)");
    // Looking changes nothing.
    let before = plan.clone();
    assert_eq!(plan.understand("play", "1/16\"").expect("reads").text, "1/16 in (1,5875 mm)");
    assert_eq!(plan.understand("play", "9").expect_err("too much").code, "sizes.play.range");
    assert_eq!(plan, before);
}

#[test]
fn open_diameter_and_travel_take_turns() {
    let mut plan = Plan::default_metric();
    let said = plan.set("travel", "225").expect("reads");
    assert_eq!(said.emptied, Some("open_diameter"));
    assert_eq!((plan.length("travel"), plan.length("open_diameter")), (Some(Length::whole_mm(225)), None));
    let refusal = plan.set("travel", "").expect_err("one of them is needed");
    assert_eq!(
        refusal.sentence,
        "Neither the open diameter nor the travel is given; give one of them, for example an open diameter of 1650 mm."
    );
    assert_eq!(refusal.origins.len(), 2);
    assert_eq!(plan.set("travel", "230").expect("reads").emptied, None);
    let said = plan.set("open_diameter", "1650").expect("reads");
    assert_eq!(said.emptied, Some("travel"));
    assert_eq!(plan.length("travel"), None);
}

#[test]
fn a_size_that_is_worked_out_can_be_left_out_again() {
    let mut plan = Plan::default_metric();
    plan.set("panel_arm_bend", "-40").expect("reads");
    assert_eq!(plan.length("panel_arm_bend"), Some(Length::whole_mm(-40)));
    assert_eq!(plan.set("panel_arm_bend", "  ").expect("may be left out").text, "left out");
    assert_eq!(plan, Plan::default_metric());
}

#[test]
fn changing_the_unit_changes_no_size() {
    let mut plan = Plan::default_metric();
    for (id, text) in [("closed_diameter", "1200"), ("height", "0.74 m"), ("edge_load", "300"), ("play", "0")]
    {
        plan.set(id, text).expect(id);
    }
    plan.set_measured("stock_thickness", "18,6").expect("reads");
    let before: Vec<_> = FIELDS.iter().map(|f| plan.value(f.id)).collect();
    plan.set_option("unit", "in").expect("known");
    let after: Vec<_> = FIELDS.iter().map(|f| plan.value(f.id)).collect();
    assert_eq!(before, after);
    assert_eq!(plan.typed("closed_diameter").as_deref(), Some("1200 mm"));
    assert_eq!(plan.typed("height").as_deref(), Some("0.74 m"));
    assert_eq!(plan.typed("edge_load").as_deref(), Some("300 N"));
    assert_eq!(plan.typed("play").as_deref(), Some("0"));
    // Everything still means the same once saved and opened.
    let (again, _) = Plan::parse(plan.to_json().as_bytes()).expect("opens");
    assert_eq!(again, plan);
    assert_eq!(again.measured("stock_thickness"), Some(Length::hundredths_mm(1860)));
    // And back again.
    plan.set("closed_diameter", "48").expect("reads");
    plan.set("edge_load", "70").expect("reads");
    plan.set_option("unit", "mm").expect("known");
    assert_eq!(plan.typed("closed_diameter").as_deref(), Some("48 in"));
    assert_eq!(plan.typed("edge_load").as_deref(), Some("70 lbf"));
    assert_eq!(plan.length("closed_diameter").map(|l| l.mm()), Some(1219.2));
}

#[test]
fn options_are_set_by_key() {
    let mut plan = Plan::default_metric();
    for (key, word) in [
        ("unit", "in"),
        ("drive", "arms"),
        ("print.units", "both"),
        ("print.mm_step", "0,5 mm"),
        ("print.inch_denominator", "16"),
        ("print.feet", "true"),
        ("paper", "arch-c"),
        ("projection", "third"),
        ("language", "de"),
    ] {
        plan.set_option(key, word).unwrap_or_else(|d| panic!("{key}: {}", d.sentence));
    }
    let o = plan.options();
    assert_eq!((o.unit, o.print.units, o.print.feet), (PlanUnit::Inch, PrintChoice::Both, true));
    assert_eq!((o.projection.key(), o.language.key(), Choice::key(o.paper)), ("third", "de", "arch-c"));
    let PrintUnits::Both(step, inch) = o.print.print_units() else { panic!("both were asked for") };
    assert_eq!((step.length(), inch.denominator.number(), inch.feet), (Length::hundredths_mm(50), 16, true));
    let (again, _) = Plan::parse(plan.to_json().as_bytes()).expect("opens");
    assert_eq!(again, plan);
    let d = plan.set_option("colour", "red").expect_err("no such option");
    assert_eq!(d.sentence, "There is no option called “colour”.");
    assert_eq!(Options::usual(PlanUnit::Inch).print.units, PrintChoice::Inch);
}

#[test]
fn measured_stock_stands_beside_the_plan() {
    let mut plan = Plan::default_metric();
    assert_eq!(plan.actual_length("stock_thickness"), Some(Length::whole_mm(19)));
    plan.set_measured("stock_thickness", "18.6").expect("reads");
    assert_eq!(plan.length("stock_thickness"), Some(Length::whole_mm(19)));
    assert_eq!(plan.measured("stock_thickness"), Some(Length::hundredths_mm(1860)));
    assert_eq!(plan.actual_length("stock_thickness"), Some(Length::hundredths_mm(1860)));
    let d = plan.set_measured("play", "1").expect_err("no stock");
    assert_eq!(d.sentence, "Play is not a thickness of stock, so it cannot be measured.");
    let d = plan.set_measured("ply_thickness", "thick").expect_err("no number");
    assert!(d.sentence.starts_with("Base ply thickness, measured: “thick” cannot be read"), "{}", d.sentence);
    assert_eq!(d.code, "measured.ply_thickness.text");
    plan.set_measured("stock_thickness", "").expect("may be left out");
    assert_eq!(plan, Plan::default_metric());
}

#[test]
fn words_and_revisions_come_back() {
    let mut plan = Plan::default_metric();
    let texts = Texts {
        title: "Tisch „Groß“ \\ \"a\" <b>&amp;".into(),
        maker: "Ærø ⌀ 桌".into(),
        number: "X-1".into(),
    };
    plan.set_texts(texts.clone()).expect("printable");
    plan.set_notes(vec!["One.".into(), String::new()]).expect("printable");
    let day = Date::parse("2000-02-29").expect("a day");
    let revision = Revision { mark: "AA".into(), date: Some(day), reasons: vec!["Why.".into()] };
    plan.set_revision(revision.clone()).expect("fits");
    plan.set_revisions(vec![PastRevision::new("1", day, "What.")]).expect("fits");
    let (again, remarks) = Plan::parse(plan.to_json().as_bytes()).expect("opens");
    assert_eq!(remarks, []);
    assert_eq!(again, plan);
    assert_eq!((again.texts(), again.revision()), (&texts, &revision));
    assert_eq!((again.notes().len(), again.revisions()[0].what.as_str()), (2, "What."));
}

/// The limits stand in FORMAT.md, and each is the last length that fits.
#[test]
fn limits_of_words() {
    let document = include_str!("../FORMAT.md");
    let fits = |field: fn(&mut Texts) -> &mut String, n: usize| {
        let mut texts = Texts::default();
        *field(&mut texts) = "ä".repeat(n);
        Plan::default_metric().set_texts(texts).is_ok()
    };
    type Field = fn(&mut Texts) -> &mut String;
    let fields: [(&str, Field, usize); 3] = [
        ("title", |t| &mut t.title, 120),
        ("maker", |t| &mut t.maker, 80),
        ("number", |t| &mut t.number, 16),
    ];
    for (name, field, limit) in fields {
        assert!(document.contains(&format!("| `texts.{name}` | {limit} characters")), "{name}");
        assert!(fits(field, limit) && !fits(field, limit + 1), "{name}");
    }
    assert!(document.contains("up to 1000 notes of 2000 characters"));
    let mut plan = Plan::default_metric();
    assert!(plan.set_notes(vec!["x".repeat(2000); 1000]).is_ok());
    assert!(plan.set_notes(vec!["x".repeat(2001)]).is_err());
    assert!(plan.set_notes(vec![String::new(); 1001]).is_err());
    assert_eq!(plan.notes().len(), 1000);
}

#[test]
fn revision_marks() {
    let takes = |mark: &str| {
        let revision = Revision { mark: mark.into(), ..Revision::default() };
        Plan::default_metric().set_revision(revision).is_ok()
    };
    // The letters left out are those of the engineering-drawing practice in US Navy, Engineering Aid Basic, p. 3-15
    // (after Y14.35): I, O, Q, S, X and Z. The twenty that remain are all taken.
    let left: Vec<char> = ('A'..='Z').filter(|c| takes(&c.to_string())).collect();
    assert_eq!(left.iter().collect::<String>(), "ABCDEFGHJKLMNPRTUVWY");
    for good in ["AA", "AY", "BA", "1", "9", "10", "99"] {
        assert!(takes(good), "{good}");
    }
    for bad in ["", "a", "AI", "AAA", "0", "01", "100", "A1", "-", "Ä", " A"] {
        assert!(!takes(bad), "{bad}");
    }
}

#[test]
fn characters_that_cannot_be_printed() {
    let takes = |c: char| {
        let texts = Texts { title: format!("a{c}b"), ..Texts::default() };
        Plan::default_metric().set_texts(texts).is_ok()
    };
    for bad in [
        '\0', '\t', '\n', '\u{7f}', '\u{85}', '\u{61c}', '\u{200e}', '\u{200f}', '\u{2028}', '\u{2029}',
        '\u{202a}', '\u{202e}', '\u{2066}', '\u{2069}', '\u{feff}', '\u{fffe}', '\u{ffff}',
    ] {
        assert!(!takes(bad), "U+{:04X}", bad as u32);
    }
    // A joiner is part of some words and of composed signs; the rest is plain text.
    for good in [' ', 'é', '″', '⌀', '桌', '\u{200d}', '\u{a0}', '\u{ad}', '🪵'] {
        assert!(takes(good), "U+{:04X}", good as u32);
    }
}

#[test]
fn usual_options_follow_the_unit() {
    let words = |unit| {
        let o = Options::usual(unit);
        (o.print.units.key(), Choice::key(o.paper), o.projection.key())
    };
    assert_eq!(words(PlanUnit::Mm), ("mm", "a4", "first"));
    assert_eq!(words(PlanUnit::Inch), ("in", "letter", "third"));
}

#[test]
fn dates_are_real_days() {
    for good in ["2025-03-14", "2024-02-29", "2000-02-29", "9999-12-31", "1583-01-01"] {
        assert_eq!(Date::parse(good).map(|d| d.to_string()).as_deref(), Some(good));
    }
    for bad in [
        "2025-02-29",
        "1900-02-29",
        "2025-13-01",
        "2025-00-01",
        "2025-01-00",
        "2025-04-31",
        "2025-1-1",
        "14.03.2025",
        "1582-12-31",
        "2025-03-1é",
        "+025-03-14",
        "",
        "20250314",
    ] {
        assert_eq!(Date::parse(bad), None, "{bad}");
    }
}
