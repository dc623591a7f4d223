//! Opening files: every kind of trouble, and the sentence for it.

use std::time::{Duration, Instant};
use turnleaf_diag::{Diagnostic, Severity};
use turnleaf_planfile::{BYTES_MAX, LIST_MAX, Plan, field_of};

/// A small complete plan; tests change one thing in it.
const PLAN: &str = r#"{
  "format": "turnleaf-plan",
  "version": 1,
  "texts": { "title": "A table", "maker": "Demo", "number": "D-1", "notes": ["One."] },
  "options": { "unit": "mm", "drive": "arms",
    "print": { "units": "both", "mm_step": 0.5, "inch_denominator": 32, "feet": true },
    "paper": "a3", "projection": "third", "language": "de" },
  "sizes": {
    "closed_diameter": "47 1/4 in", "travel": 225, "sectors": 6, "stock_thickness": "19,0",
    "height": 740, "plate_thickness": 18, "ply_thickness": 12, "slide_thickness": 12, "arm_thickness": 9,
    "play": 1, "fitting_gap": 0.6, "hidden_margin": 3, "leaf_tip_half_angle": "0.785 rad", "tongue_depth": 6,
    "tongue_clearance": 1.5, "arm_width": 20, "arm_clearance": 4, "ramp_sweep": 24, "edge_load": 300,
    "panel_arm_bend": -12.25
  },
  "measured": { "stock_thickness": 18.6 },
  "revision": { "mark": "B", "date": "2024-02-29", "reasons": ["Because."] },
  "revisions": [ { "mark": "A", "date": "2023-12-31", "what": "First issue." } ]
}"#;

fn with(from: &str, to: &str) -> String {
    assert_eq!(PLAN.matches(from).count(), 1, "{from}");
    PLAN.replace(from, to)
}

fn refused(bytes: &[u8]) -> Vec<Diagnostic> {
    let found = Plan::parse(bytes).expect_err("should be refused");
    assert!(found.iter().any(|d| d.severity == Severity::Error));
    found
}

/// The only error of a file and its code.
fn only(text: &str) -> (String, String) {
    let mut found = refused(text.as_bytes());
    found.retain(|d| d.severity == Severity::Error);
    assert_eq!(found.len(), 1, "{found:#?}");
    (found[0].code.clone(), found[0].sentence.clone())
}

fn check(text: &str, code: &str, sentence: &str) {
    assert_eq!(only(text), (code.to_string(), sentence.to_string()));
}

#[test]
fn the_plan_itself_opens_and_comes_back() {
    let (plan, remarks) = Plan::parse(PLAN.as_bytes()).expect("opens");
    assert_eq!(remarks, []);
    let saved = plan.to_json();
    let (again, remarks) = Plan::parse(saved.as_bytes()).expect("opens again");
    assert_eq!(remarks, []);
    assert_eq!(again, plan);
    assert_eq!(again.to_json(), saved);
    // Typed text and bare numbers are kept as they were.
    for kept in ["\"47 1/4 in\"", "\"travel\": 225,", "\"19,0\"", "0.6", "\"0.785 rad\"", "-12.25", "18.6"] {
        assert!(saved.contains(kept), "{kept} in {saved}");
    }
}

#[test]
fn not_a_plan_at_all() {
    let sentence = |bytes: &[u8]| refused(bytes)[0].sentence.clone();
    assert_eq!(sentence(b""), "This file is empty; choose a plan file.");
    assert_eq!(sentence(b" \n\t "), "This file is empty; choose a plan file.");
    assert_eq!(sentence(b"[1, 2]"), "This file holds a list instead of a plan; choose a plan file.");
    assert_eq!(sentence(b"\"plan\""), "This file holds text instead of a plan; choose a plan file.");
    assert_eq!(sentence(b"null"), "This file holds nothing (null) instead of a plan; choose a plan file.");
    assert_eq!(
        sentence(b"{\"a\": \"\xff\"}"),
        "This file is not a plan: from byte 8 on it is not text in UTF-8."
    );
    assert_eq!(sentence(b"%PDF-1.7"), "This file cannot be read at line 1, column 1: expected value.");
    assert_eq!(
        sentence(b"{}"),
        "This file does not say that it is a plan; “format” must be “turnleaf-plan”."
    );
    assert_eq!(
        sentence(br#"{"format": "a recipe", "version": 1}"#),
        "This file is “a recipe”, not a plan; “format” must be “turnleaf-plan”."
    );
    assert_eq!(
        sentence(br#"{"format": 7, "version": 1}"#),
        "The “format” is a number; it must be “turnleaf-plan”."
    );
}

#[test]
fn a_byte_order_mark_is_skipped() {
    assert!(Plan::parse(format!("\u{feff}{PLAN}").as_bytes()).is_ok());
}

#[test]
fn versions() {
    check(
        &with("\"version\": 1", "\"version\": 3"),
        "file.version.newer",
        "This plan was saved by a newer Turnleaf (file version 3; this one reads 1); update to open it.",
    );
    check(
        &with("\"version\": 1,", ""),
        "file.version.missing",
        "The file's version is missing; “version” must be 1.",
    );
    check(
        &with("\"version\": 1", "\"version\": \"1\""),
        "file.version.type",
        "The “version” is text; it must be the number 1.",
    );
    for bad in ["0", "-1", "1.5"] {
        check(
            &with("\"version\": 1", &format!("\"version\": {bad}")),
            "file.version.unknown",
            &format!("The file's version {bad} is not known; it must be 1."),
        );
    }
}

#[test]
fn broken_json_says_where() {
    check(
        &with("\"play\": 1,", "\"play\": NaN,"),
        "file.json",
        "This file cannot be read at line 11, column 13 (in “sizes.play”): expected value.",
    );
    check(
        &with("\"play\": 1,", "\"play\": 1e999,"),
        "file.json",
        "This file cannot be read at line 11, column 17 (in “sizes.play”): number out of range.",
    );
    check(
        &with("\"height\": 740,", "\"height\": 740"),
        "file.json",
        "This file cannot be read at line 10, column 19 (in “sizes”): expected `,` or `}`.",
    );
    check(
        PLAN.split("-02-29").next().unwrap_or_default(),
        "file.short",
        "This file ends too early (in “revision.date”), at line 16; it may be only part of a plan.",
    );
    check(
        &format!("{PLAN} extra"),
        "file.json",
        "This file cannot be read at line 18, column 3: trailing characters.",
    );
}

#[test]
fn missing_sizes_are_named() {
    check(
        &with("\"closed_diameter\": \"47 1/4 in\",", ""),
        "sizes.closed_diameter.missing",
        "Closed diameter is missing (“closed_diameter” in the file); give it, for example 1200 mm.",
    );
    check(
        &with("\"sectors\": 6,", "\"sectors\": null,"),
        "sizes.sectors.missing",
        "Sectors is missing (“sectors” in the file); give it, for example 6.",
    );
    check(
        &with("\"travel\": 225,", ""),
        "sizes.open_diameter.missing",
        "Neither the open diameter nor the travel is given; give one of them, for example an open diameter of 1650 mm.",
    );
    check(
        &with("\"travel\": 225,", "\"travel\": 225, \"open_diameter\": 1650,"),
        "sizes.open_diameter.both",
        "Both the open diameter and the travel are given; take one of them out, the other then follows.",
    );
    check(
        &with("\"sizes\": {", "\"sizes_\": {"),
        "sizes.missing",
        "The sizes are missing (“sizes” in the file); it needs at least closed_diameter, open_diameter, sectors and stock_thickness.",
    );
    check(
        &with("\"unit\": \"mm\",", ""),
        "options.unit.missing",
        "The plan's unit is missing (“unit” under “options”), so a plain number could be anything; write “mm” or “in”.",
    );
}

#[test]
fn missing_usual_sizes_are_filled_in_and_said() {
    let text = with("\"play\": 1,", "");
    let (plan, remarks) = Plan::parse(text.as_bytes()).expect("opens");
    assert_eq!(remarks.len(), 1);
    assert_eq!(remarks[0].severity, Severity::Note);
    assert_eq!(remarks[0].code, "sizes.play.usual");
    assert_eq!(remarks[0].sentence, "Play is not in the file; the usual 1 mm is used.");
    assert_eq!(plan.typed("play").as_deref(), Some("1 mm"));
    assert!(plan.to_json().contains("\"play\": \"1 mm\""));

    let text = with("\"paper\": \"a3\",", "");
    let (_, remarks) = Plan::parse(text.as_bytes()).expect("opens");
    assert_eq!(remarks[0].sentence, "The paper is not in the file (“paper” under “options”); “a4” is used.");

    // The least that opens.
    let least = r#"{"format":"turnleaf-plan","version":1,"options":{"unit":"in"},
        "sizes":{"closed_diameter":48,"open_diameter":64,"sectors":8,"stock_thickness":"3/4"}}"#;
    let (plan, remarks) = Plan::parse(least.as_bytes()).expect("opens");
    assert!(remarks.iter().all(|d| d.severity == Severity::Note && d.code.ends_with(".usual")));
    assert_eq!(plan.typed("arm_width").as_deref(), Some("3/4 in"));
    assert_eq!(plan.length("closed_diameter").map(|l| l.mm()), Some(1219.2));
}

#[test]
fn wrong_types_are_named() {
    check(
        &with("\"sectors\": 6", "\"sectors\": [6]"),
        "sizes.sectors.type",
        "Sectors (“sectors” in the file) is a list; write it as text or a number, for example “6”.",
    );
    check(
        &with("\"height\": 740", "\"height\": true"),
        "sizes.height.type",
        "Height (“height” in the file) is true or false; write it as text or a number, for example “740 mm”.",
    );
    check(
        &with("{ \"stock_thickness\": 18.6 }", "{ \"stock_thickness\": {} }"),
        "measured.stock_thickness.type",
        "Top thickness (“stock_thickness” in the file) is a group of values; write it as text or a number, for example “19 mm”.",
    );
    check(
        &with("{ \"stock_thickness\": 18.6 }", "18.6"),
        "measured.type",
        "The group of measured sizes “measured” is a number; it must be a group of values in braces.",
    );
    check(
        &with("\"title\": \"A table\"", "\"title\": 5"),
        "texts.title.type",
        "The title is a number; it must be text in quotes.",
    );
    check(
        &with("[\"One.\"]", "\"One.\""),
        "texts.notes.type",
        "The list of notes is text; it must be a list in brackets.",
    );
    check(
        &with("[\"One.\"]", "[\"One.\", 2]"),
        "texts.notes.type",
        "The note number 2 is a number; it must be text in quotes.",
    );
    check(
        &with("\"paper\": \"a3\"", "\"paper\": 3"),
        "options.paper.type",
        "The paper is a number; it must be “a4”, “a3”, “a2”, “letter”, “tabloid” or “arch-c”.",
    );
    check(
        &with("\"feet\": true", "\"feet\": 1"),
        "options.print.feet.type",
        "The choice of feet is a number; it must be true or false.",
    );
    check(
        &with("[ { \"mark\": \"A\", \"date\": \"2023-12-31\", \"what\": \"First issue.\" } ]", "[\"A\"]"),
        "revisions.type",
        "The earlier revision number 1 is text; it must be a group of values in braces.",
    );
}

#[test]
fn absurd_sizes_are_named_with_what_would_work() {
    check(
        &with("\"closed_diameter\": \"47 1/4 in\"", "\"closed_diameter\": 12000"),
        "sizes.closed_diameter.range",
        "Closed diameter: 12000 mm (about 472 7/16 in) is outside what can be used, 500 mm to 2500 mm.",
    );
    check(
        &with("\"play\": 1,", "\"play\": -1,"),
        "sizes.play.range",
        "Play: −1 mm (about −3/64 in) is outside what can be used, 0 mm to 5 mm.",
    );
    check(
        &with("\"sectors\": 6", "\"sectors\": 13"),
        "sizes.sectors.range",
        "Sectors: 13 is outside what can be used, 4 to 12.",
    );
    check(
        &with("\"ramp_sweep\": 24", "\"ramp_sweep\": 90"),
        "sizes.ramp_sweep.range",
        "Ramp sweep: 90° (about 1.5708 rad) is outside what can be used, 8° to 60°.",
    );
    check(
        &with("\"edge_load\": 300", "\"edge_load\": \"6 kN\""),
        "sizes.edge_load.range",
        "Edge load: 6000 N (about 1348.85 lbf) is outside what can be used, 0 N to 5000 N.",
    );
    check(
        &with("\"closed_diameter\": \"47 1/4 in\"", "\"closed_diameter\": 1e300"),
        "sizes.closed_diameter.text",
        "Closed diameter: “100000000000000000000000…” is too long to be one value; 80 characters at most.",
    );
    check(
        &with("\"sectors\": 6", "\"sectors\": 6.5"),
        "sizes.sectors.text",
        "Sectors: “6.5” cannot be read as a whole number; type for example 6.",
    );
    check(
        &with("\"height\": 740", "\"height\": \"tall\""),
        "sizes.height.text",
        "Height: “tall” cannot be read as a length; type for example 1200 mm, 1.2 m, 47 1/4 in or 3 ft 11 in.",
    );
    check(
        &with("{ \"stock_thickness\": 18.6 }", "{ \"stock_thickness\": 186 }"),
        "measured.stock_thickness.range",
        "Top thickness, measured: 186 mm (about 7 21/64 in) is outside what can be used, 6 mm to 40 mm.",
    );
    let found = refused(with("\"play\": 1,", "\"play\": 50,").as_bytes());
    assert_eq!(found[0].hint, "The nearest that works is 5 mm.");
    assert_eq!(
        found[0].origins.iter().filter_map(|o| field_of(*o)).map(|f| f.id).collect::<Vec<_>>(),
        ["play"]
    );
    // In an inch plan the bounds are said in both.
    let inch = Plan::default_inch().to_json().replace("\"1/32 in\"", "\"1 in\"");
    let found = refused(inch.as_bytes());
    assert_eq!(
        found[0].sentence,
        "Play: 1 in (25.4 mm) is outside what can be used, 0 mm to 5 mm (about 13/64 in)."
    );
}

#[test]
fn a_measured_thickness_far_off_is_a_warning() {
    let (_, remarks) = Plan::parse(with("18.6", "12").as_bytes()).expect("opens");
    assert_eq!(remarks.len(), 1);
    assert_eq!(remarks[0].severity, Severity::Warning);
    assert_eq!(
        remarks[0].sentence,
        "Top thickness, measured: 12 mm (about 15/32 in) is far from the 19,0 of the plan; measure again."
    );
}

#[test]
fn a_measured_thickness_a_quarter_off_still_passes() {
    // 19 mm ± 4.75 mm.
    for (measured, warned) in [("14.25", 0), ("14.24", 1), ("23.75", 0), ("23.76", 1)] {
        let (_, remarks) = Plan::parse(with("18.6", measured).as_bytes()).expect("opens");
        assert_eq!(remarks.len(), warned, "{measured}");
    }
}

#[test]
fn a_broken_opening_is_not_called_missing() {
    check(
        &with("\"travel\": 225,", "\"travel\": \"far\","),
        "sizes.travel.text",
        "Travel: “far” cannot be read as a length; type for example 1200 mm, 1.2 m, 47 1/4 in or 3 ft 11 in.",
    );
    check(
        &with("\"travel\": 225,", "\"open_diameter\": 9000,"),
        "sizes.open_diameter.range",
        "Open diameter: 9000 mm (about 354 21/64 in) is outside what can be used, 520 mm to 4000 mm.",
    );
}

#[test]
fn options_that_are_not_known() {
    check(
        &with("\"drive\": \"arms\"", "\"drive\": \"motor\""),
        "options.drive.unknown",
        "The drive “motor” is not known; use “arms” or “cam”.",
    );
    check(
        &with("\"unit\": \"mm\"", "\"unit\": \"furlong\""),
        "options.unit.unknown",
        "The unit “furlong” is not known; use “mm” or “in”.",
    );
    check(
        &with("\"inch_denominator\": 32", "\"inch_denominator\": 10"),
        "options.print.inch_denominator.unknown",
        "The finest inch fraction “10” is not known; use 16, 32 or 64.",
    );
    check(
        &with("\"mm_step\": 0.5", "\"mm_step\": 0"),
        "options.print.mm_step.range",
        "The step of printed millimetres, “0”, must be between 0.00001 mm and 100 mm; 0.1 mm is usual.",
    );
    check(
        &with("\"mm_step\": 0.5", "\"mm_step\": \"fine\""),
        "options.print.mm_step.text",
        "The step of printed millimetres cannot be read: “fine” cannot be read as a length; type for example 1200 mm, 1.2 m, 47 1/4 in or 3 ft 11 in.",
    );
}

#[test]
fn words_that_cannot_be_printed() {
    check(
        &with("\"A table\"", "\"A\\u0007table\""),
        "texts.title.character",
        "The title holds an invisible character (U+0007) that cannot be printed; delete it.",
    );
    check(
        &with("\"Demo\"", "\"\\u202eomeD\""),
        "texts.maker.character",
        "The maker's name holds an invisible character (U+202E) that cannot be printed; delete it.",
    );
    check(
        &with("\"D-1\"", "\"D-1234567890123456\""),
        "texts.number.long",
        "The book number has 18 characters; 16 fit.",
    );
    check(
        &with("\"2024-02-29\"", "\"2023-02-29\""),
        "revision.date",
        "The revision date “2023-02-29” is not a day; write year, month, day as in 2025-03-14.",
    );
    check(
        &with("\"mark\": \"B\"", "\"mark\": \"I\""),
        "revision.mark",
        "The revision mark “I” cannot be used; use one or two capital letters without I, O, Q, S, X and Z, or a number up to 99.",
    );
    check(
        &with("\"2023-12-31\"", "\"yesterday\""),
        "revisions.date",
        "The date of earlier revision number 1 “yesterday” is not a day; write year, month, day as in 2025-03-14.",
    );
    // A lone half of a surrogate pair is no character.
    let (code, _) = only(&with("\"A table\"", "\"\\ud800\""));
    assert_eq!(code, "file.json");
}

#[test]
fn repeated_keys_are_named() {
    check(
        &with("\"play\": 1,", "\"play\": 1, \"play\": 2,"),
        "file.repeated",
        "“sizes.play” stands in the file more than once; keep one of them.",
    );
    check(
        &with("\"mark\": \"A\",", "\"mark\": \"A\", \"mark\": \"A\","),
        "file.repeated",
        "“revisions.mark” stands in the file more than once; keep one of them.",
    );
}

#[test]
fn unknown_keys_are_kept_and_said() {
    let text =
        with("\"version\": 1,", "\"version\": 1, \"colour\": {\"top\": [1, 2.5, -3e-7, \"oak\", null]},")
            .replace("\"play\": 1,", "\"play\": 1, \"glow\": false,")
            .replace("\"feet\": true", "\"feet\": true, \"ink\": 18446744073709551615")
            .replace("\"what\": \"First issue.\"", "\"what\": \"First issue.\", \"by\": \"me\"");
    let (plan, remarks) = Plan::parse(text.as_bytes()).expect("opens");
    let said: Vec<_> = remarks.iter().map(|d| d.sentence.split('”').next().unwrap_or_default()).collect();
    assert_eq!(said, ["“options.print.ink", "“sizes.glow", "“revisions.by", "“colour"]);
    assert_eq!(
        remarks[1].sentence,
        "“sizes.glow” is not known to this version; it is kept and will be saved again."
    );
    assert!(remarks.iter().all(|d| d.severity == Severity::Note));
    let saved = plan.to_json();
    let (again, _) = Plan::parse(saved.as_bytes()).expect("opens again");
    assert_eq!(again, plan);
    for kept in ["\"glow\": false", "\"ink\": 18446744073709551615", "\"by\": \"me\"", "-3e-7", "2.5", "null"]
    {
        assert!(saved.contains(kept), "{kept} in {saved}");
    }
}

#[test]
fn all_problems_are_collected() {
    let text = with("\"play\": 1,", "\"play\": \"much\",")
        .replace("\"sectors\": 6", "\"sectors\": 99")
        .replace("\"height\": 740", "\"height\": []")
        .replace("\"paper\": \"a3\"", "\"paper\": \"papyrus\"")
        .replace("\"A table\"", "7")
        .replace("2024-02-29", "soon");
    let found = refused(text.as_bytes());
    let codes: Vec<_> = found.iter().map(|d| d.code.as_str()).collect();
    assert_eq!(
        codes,
        [
            "texts.title.type",
            "options.paper.unknown",
            "sizes.sectors.range",
            "sizes.height.type",
            "sizes.play.text",
            "revision.date",
        ]
    );
}

#[test]
fn rubbish_is_refused_quickly() {
    let quick = |bytes: &[u8], limit: Duration| {
        let start = Instant::now();
        let found = refused(bytes);
        assert!(start.elapsed() < limit, "took {:?}", start.elapsed());
        found
    };
    let ms = Duration::from_millis;
    // 50 MB are refused without being read.
    let found = quick(&vec![b'['; 50_000_000], ms(200));
    assert_eq!(
        found[0].sentence,
        "This file has 50.0 MB; a plan file never has more than 5 MB, so this is something else."
    );
    assert_eq!(quick(&vec![0xff; BYTES_MAX], ms(2000))[0].code, "file.encoding");
    let found = quick(&vec![b'['; BYTES_MAX], ms(2000));
    assert_eq!(found[0].sentence, "This file nests more than 24 levels deep; a plan needs four.");
    let deep = "{\"a\":".repeat(1000);
    assert_eq!(
        quick(deep.as_bytes(), ms(2000))[0].sentence,
        "This file nests more than 24 levels deep (in “a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.a.…”); a plan needs four."
    );
    // A string of nearly two megabytes, everywhere one fits.
    let long = "x".repeat(1_900_000);
    let found = quick(with("A table", &long).as_bytes(), ms(2000));
    assert_eq!(found[0].sentence, "The title has 1900000 characters; 120 fit.");
    let found = quick(with("47 1/4 in", &long).as_bytes(), ms(2000));
    assert!(found[0].sentence.len() < 200 && found[0].code == "sizes.closed_diameter.text", "{found:?}");
    let found = quick(with("\"paper\": \"a3\"", &format!("\"paper\": \"{long}\"")).as_bytes(), ms(2000));
    assert!(found[0].sentence.len() < 200, "{found:?}");
    // Very many small things: counted, not all said.
    let many: String = (0..100_000).map(|i| format!("\"k{i}\": 1, ")).collect();
    let start = Instant::now();
    let (_, remarks) =
        Plan::parse(with("\"play\": 1,", &format!("{many} \"play\": 1,")).as_bytes()).expect("opens");
    assert!(start.elapsed() < ms(4000), "took {:?}", start.elapsed());
    assert_eq!(remarks.len(), 20);
    assert!(remarks[19].sentence.ends_with(" The same holds for 99980 more."), "{}", remarks[19].sentence);
    let same = "\"play\": 1, ".repeat(100_000);
    let found = quick(with("\"play\": 1,", &same).as_bytes(), ms(4000));
    assert_eq!(found.iter().filter(|d| d.code == "file.repeated").count(), 20);
    let notes = "\"n\", ".repeat(100_000);
    let found = quick(with("[\"One.\"]", &format!("[{notes} \"n\"]")).as_bytes(), ms(4000));
    assert_eq!(found[0].sentence, format!("There are 100001 notes; a plan holds {LIST_MAX} at most."));
    let odd = "5, ".repeat(900);
    let found = quick(with("[\"One.\"]", &format!("[{odd} \"n\"]")).as_bytes(), ms(4000));
    assert_eq!(found.len(), 20);
}
