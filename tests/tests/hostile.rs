//! A stranger's plan file: hostile words in every field, wrong kinds of values, great numbers and counts, deep nesting.
//!
//! In: a plan with everything that a plan can hold, one place of it spoilt at a time. Out: passed or failed.
//! Always true: each file is refused with plain sentences that name the place, or is accepted and comes back equal;
//! what is accepted is escaped in SVG, PDF and CSV. Times are printed, never judged.
//! Outside checks: the general libraries roxmltree and csv's format (RFC 4180) for what is written, pdftotext (Debian package) for the PDF.

#[path = "hostile/plan.rs"]
mod plan;

use plan::{base64, full, png};
use serde_json::{Value, json};
use std::path::Path;
use std::time::{Duration, Instant};
use turnleaf_plan::planfile::{BYTES_MAX, LIST_MAX, STEPS_MAX, field};
use turnleaf_plan::{BookOptions, Plan, Severity, build, csv_cell, page_svg_embedded, pdf};

fn parse(plan: &Value) -> Result<Plan, Vec<String>> {
    parse_text(&plan.to_string())
}

/// The plan, come back equal from its own file; or sentences that can be read, errors only.
fn parse_text(text: &str) -> Result<Plan, Vec<String>> {
    match Plan::parse(text.as_bytes()) {
        Ok((plan, said)) => {
            said.iter().for_each(|d| readable(&d.sentence));
            let (again, _) = Plan::parse(plan.to_json().as_bytes()).expect("what was saved opens");
            assert!(again == plan, "comes back as another plan: {text:.3000}");
            Ok(plan)
        }
        Err(found) => {
            found.iter().for_each(|d| readable(&d.sentence));
            let errors = found.into_iter().filter(|d| d.severity == Severity::Error);
            let sentences: Vec<String> = errors.map(|d| d.sentence).collect();
            assert!(!sentences.is_empty(), "refused without a reason");
            Err(sentences)
        }
    }
}

/// One or two sentences on one line, of a length that is read, without a character that cannot be seen.
fn readable(sentence: &str) {
    assert!(sentence.ends_with(['.', '?', '!']), "{sentence}");
    assert!(sentence.chars().count() <= 400, "{} letters: {sentence}", sentence.chars().count());
    assert!(!sentence.chars().any(hidden), "{sentence:?}");
}

/// Controls (ISO/IEC 6429), and marks of direction (Unicode Standard Annex 9, table of explicit formatting).
fn hidden(c: char) -> bool {
    c.is_control()
        || ('\u{202a}'..='\u{202e}').contains(&c)
        || ('\u{2066}'..='\u{2069}').contains(&c)
        || "\u{200e}\u{200f}\u{61c}\u{2028}\u{2029}".contains(c)
}

/// Pointers (RFC 6901) to everything in a tree, frozen plans left alone: they are read when asked for.
fn places(value: &Value, at: &str, out: &mut Vec<String>) {
    if !at.is_empty() {
        out.push(at.to_string());
    }
    match value {
        Value::Object(pairs) if !at.ends_with("/frozen/plan") => {
            pairs.iter().for_each(|(k, v)| places(v, &format!("{at}/{k}"), out));
        }
        Value::Array(list) => list.iter().enumerate().for_each(|(i, v)| places(v, &format!("{at}/{i}"), out)),
        _ => {}
    }
}

fn everywhere(plan: &Value) -> Vec<String> {
    let mut out = Vec::new();
    places(plan, "", &mut out);
    assert!(out.len() > 100, "{out:?}");
    out
}

/// Words of which a sentence about a place must have one.
fn names(place: &str) -> Vec<String> {
    let keys: Vec<&str> = place.split('/').skip(1).filter(|k| k.parse::<u32>().is_err()).collect();
    let (group, last) = (keys[0], *keys.last().unwrap());
    let mut out: Vec<String> = vec![last.replace('_', " ")];
    // A list's entries are named in the singular, an offer or a question by its own name.
    out.push(last.trim_end_matches('s').to_string());
    out.push(group.trim_end_matches('s').to_string());
    out.extend(field(last).map(|f| f.label.to_lowercase()));
    let other: &[&str] = match last {
        "what" => &["account"],
        "book" => &["fingerprint"],
        "kerf" => &["saw"],
        "program" | "plan" | "frozen" => &["frozen plan"],
        "from" => &["asker"],
        "id" | "about" => &["subject", "identifier"],
        "asked" => &["date"],
        "text" => &["paragraph"],
        "declined" => &["reason"],
        "inch_denominator" => &["inch fraction"],
        "sizes" => &["is missing"],
        "mm_step" => &["step of printed millimetres"],
        "drive" | "projection" | "language" | "paper" => &["option"],
        _ => &[],
    };
    out.extend(other.iter().map(|w| w.to_string()));
    out.into_iter().map(|w| w.to_lowercase()).collect()
}

fn put(plan: &Value, place: &str, value: Value) -> Value {
    let mut out = plan.clone();
    *out.pointer_mut(place).unwrap() = value;
    out
}

/// Tries a value in a place: whether it is taken; what is wrong with the sentences goes to `wrong`.
fn try_in(plan: &Value, place: &str, value: Value, wrong: &mut Vec<String>) -> bool {
    let shown: String = value.to_string().chars().take(60).collect();
    match parse(&put(plan, place, value)) {
        Ok(_) => true,
        Err(sentences) => {
            let said = sentences.join(" ").to_lowercase();
            let names = names(place);
            if !names.iter().any(|w| said.contains(w)) {
                wrong.push(format!("{place} = {shown}: {names:?} not in “{said}”"));
            }
            false
        }
    }
}

const WORDS: [&str; 22] = [
    "<script>window.hostile = 1</script>",
    "\"><img src=x onerror=\"window.hostile = 1\">",
    "' onload='window.hostile = 1",
    "</text></svg><script>window.hostile=1</script>",
    "]]><!--&lt;&amp;&#0;<![CDATA[",
    "javascript:window.hostile=1",
    "=HYPERLINK(\"http://127.0.0.1\")",
    "+1+1",
    "@SUM(A1)",
    "{{constructor}} ${1} {0} %s %n ../../x",
    "\u{202e}gnirts\u{2066}",
    "\u{200f}\u{200e}\u{61c}",
    "nul\u{0}in\u{7}side\u{1b}[31m",
    "line\nline\r\u{2028}line",
    "\u{feff}\u{fffe}\u{ffff}",
    "a\u{301}\u{301}\u{301}\u{301}\u{200d}👩\u{200d}🔧",
    "",
    "   ",
    "NaN",
    "-inf",
    "1e999 mm",
    "99999999999999999999999999999999999999999999999999 mm",
];

#[test]
fn hostile_words_in_every_place() {
    let plan = full();
    assert!(parse(&plan).is_ok(), "{:?}", parse(&plan).err());
    let (mut taken, mut refused, mut wrong) = (0, 0, Vec::new());
    for place in everywhere(&plan) {
        for words in WORDS {
            if try_in(&plan, &place, json!(words), &mut wrong) { taken += 1 } else { refused += 1 }
        }
    }
    println!("hostile words: {taken} taken as words, {refused} refused with a sentence");
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(taken > 100 && refused > 1000);
}

#[test]
fn wrong_kinds_of_values_in_every_place() {
    let plan = full();
    let values = [
        Value::Null,
        json!(true),
        json!(0),
        json!(-1),
        json!(1e308),
        json!(u64::MAX),
        json!(-0.0),
        json!([]),
        json!({}),
        json!([[[]]]),
        json!([null, 1, "x", {}]),
        json!({ "a": { "b": [1] } }),
    ];
    let mut wrong = Vec::new();
    for place in everywhere(&plan) {
        for value in &values {
            try_in(&plan, &place, value.clone(), &mut wrong);
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// A number beyond what a float holds, and one of a thousand digits, written into the file's text.
#[test]
fn numbers_beyond_all_bounds() {
    let plan = full();
    let digits = "9".repeat(1000);
    let mut wrong = Vec::new();
    for place in everywhere(&plan) {
        let marked = put(&plan, &place, json!("@here@")).to_string();
        for number in ["1e400", "-1e999999999", &digits, "1e-400"] {
            if let Err(sentences) = parse_text(&marked.replace("\"@here@\"", number)) {
                let said = sentences.join(" ").to_lowercase();
                if !names(&place).iter().any(|w| said.contains(w)) {
                    wrong.push(format!("{place} = {number:.20}: {said}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Every text a million letters long.
#[test]
fn a_million_letters_in_every_place() {
    let plan = full();
    let long = "x".repeat(1_000_000);
    let (mut slowest, mut wrong) = (Duration::ZERO, Vec::new());
    for place in everywhere(&plan) {
        let text = put(&plan, &place, json!(long)).to_string();
        let start = Instant::now();
        let read = Plan::parse(text.as_bytes());
        slowest = slowest.max(start.elapsed());
        match read {
            // The offer's and the revisions' own keys that the reader passes over are kept as they are.
            Ok((_, said)) => said.iter().for_each(|d| readable(&d.sentence)),
            Err(found) => {
                found.iter().for_each(|d| readable(&d.sentence));
                let said: String = found.iter().map(|d| d.sentence.to_lowercase() + " ").collect();
                if !names(&place).iter().any(|w| said.contains(w)) {
                    wrong.push(format!("{place}: {said}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    println!("a million letters in one place: slowest {slowest:?}");
}

fn refused(name: &str, text: &str, sentence: &str) {
    let start = Instant::now();
    let found = Plan::parse(text.as_bytes()).expect_err(name);
    println!("{name}: {:.1} MB refused in {:?}", text.len() as f64 / 1e6, start.elapsed());
    found.iter().for_each(|d| readable(&d.sentence));
    assert!(found.len() < 200, "{name}: {} sentences", found.len());
    assert!(found.iter().any(|d| d.sentence.contains(sentence)), "{name}: {:?}", found[0]);
}

/// The file's text with something put into a place, unread and unwritten by any library.
fn raw(place: &str, what: &str) -> String {
    put(&full(), place, json!("@here@")).to_string().replace("\"@here@\"", what)
}

fn list(of: &str, count: usize) -> String {
    format!("[{}]", vec![of; count].join(","))
}

#[test]
fn great_counts_are_told_not_worked_through() {
    let row = r#"{"mark":"A","date":"2026-01-02","what":"x"}"#;
    refused("10,000 revisions", &raw("/revisions", &list(row, 10_000)), "10000 earlier revisions");
    let questions: Vec<String> =
        (1..=10_000).map(|n| format!(r#"{{"number":{n},"about":"book","text":"Why?"}}"#)).collect();
    let questions = format!("[{}]", questions.join(","));
    refused("10,000 questions", &raw("/questions", &questions), "10000 questions");
    let steps: Vec<String> = (1..=10_000).map(|n| format!(r#"{{"id":"own/{n}","title":"x"}}"#)).collect();
    let most = format!("a plan holds {STEPS_MAX} at most");
    refused("10,000 steps", &raw("/steps", &format!("[{}]", steps.join(","))), &most);
    for place in ["/revisions", "/questions", "/steps", "/texts/notes", "/revision/reasons", "/stock/sheets"]
    {
        refused(&format!("two million ones in {place}"), &raw(place, &list("1", 2_000_000)), "holds");
    }
    for place in ["/steps/0/text", "/steps/0/notes", "/steps/0/pictures"] {
        refused(&format!("two million ones in {place}"), &raw(place, &list("1", 2_000_000)), "2000000");
    }
    for place in ["/offer/units", "/offer/papers", "/offer/sizes/height"] {
        refused(&format!("two million ones in {place}"), &raw(place, &list("1", 2_000_000)), "offer");
    }
    let keys = |n: usize| {
        let pairs: Vec<String> = (0..n).map(|i| format!("\"k{i}\":0")).collect();
        format!("{{{}}}", pairs.join(","))
    };
    refused("300,000 unknown keys in an offer", &raw("/offer", &keys(300_000)), "offer");
    refused("300,000 unknown keys in its sizes", &raw("/offer/sizes", &keys(300_000)), "offer");
    let same = format!("{{{}}}", vec!["\"k\":0"; 600_000].join(","));
    refused("600,000 times the same key", &raw("/stock", &same), "more than once");
    // A long key above many short ones.
    let deep = format!("{{\"{}\":{}}}", "k".repeat(1_000_000), keys(300_000));
    let start = Instant::now();
    let (_, said) = Plan::parse(raw("/stock", &deep).as_bytes()).expect("unknown keys are kept");
    println!("a key of a million letters above 300,000 keys: {:?}", start.elapsed());
    said.iter().for_each(|d| readable(&d.sentence));
}

#[test]
fn deep_nesting_is_told() {
    for (open, close) in [("[", "]"), ("{\"a\":", "}")] {
        let deep = |n: usize| format!("{}0{}", open.repeat(n), close.repeat(n));
        for place in
            ["/texts/title", "/sizes/height", "/revisions", "/stock/sheets", "/offer", "/steps/0/pictures"]
        {
            let text = raw(place, &deep(100_000));
            refused(&format!("100,000 {open} in {place}"), &text, "nests more than 24 levels deep");
        }
        refused(
            "nothing but brackets",
            &open.repeat(BYTES_MAX / open.len()),
            "nests more than 24 levels deep",
        );
    }
}

/// Small files of very many dots: each would be decoded.
#[test]
fn pictures_that_unpack_without_end_are_told() {
    let plan = full();
    let great = png(4000, 4000);
    let one = json!({ "caption": "Grey", "data": great });
    let steps: Vec<Value> = (1..=28)
        .map(|n| json!({ "id": format!("own/{n}"), "title": "x", "pictures": [&one, &one, &one, &one] }))
        .collect();
    refused(
        "112 pictures of 16 million dots",
        &put(&plan, "/steps", json!(steps)).to_string(),
        "unpack to more than 150 MB",
    );
    // Cut short: decoded until their end, and refused.
    let half = great.as_str().unwrap();
    let half = json!({ "caption": "Grey", "data": &half[..half.len() / 8 * 4] });
    let steps: Vec<Value> = (1..=28)
        .map(|n| json!({ "id": format!("own/{n}"), "title": "x", "pictures": [&half, &half, &half, &half] }))
        .collect();
    refused("112 broken pictures", &put(&plan, "/steps", json!(steps)).to_string(), "cannot be read");
    // A frozen plan that shows one large picture very often.
    let mut many = plan.clone();
    many["steps"][0]["pictures"][0]["data"] = great.clone();
    let mut held = Plan::parse(many.to_string().as_bytes()).unwrap().0;
    held.issue("test", "0", Vec::new(), String::new()).unwrap();
    let mut file: Value = serde_json::from_str(&held.to_json()).unwrap();
    let pictures = file.pointer_mut("/revisions/1/frozen/plan/steps/0/pictures").unwrap();
    assert!(pictures[0]["same"].is_string());
    *pictures = json!(vec![pictures[0].clone(); 20_000]);
    let (again, _) = Plan::parse(file.to_string().as_bytes()).unwrap();
    let start = Instant::now();
    let said = again.issued("B").unwrap().unwrap_err();
    println!("an issued plan with 20,000 times a picture: {:?}", start.elapsed());
    assert!(said.iter().any(|d| d.sentence.contains("20000 pictures; 6 fit")), "{said:?}");
}

/// The most revisions and questions that the limits allow, in a file of almost the greatest size.
#[test]
fn the_greatest_plan_opens() {
    let mut plan = full();
    plan.as_object_mut().unwrap().remove("offer");
    let frozen = plan["revisions"][0]["frozen"].clone();
    let figures = "f".repeat(2000);
    let rows: Vec<Value> = (0..LIST_MAX)
        .map(|i| {
            json!({ "mark": format!("{}", i % 99 + 1), "date": "2026-01-02", "what": "<b>What</b>", "figures": figures,
                "pages": [["cover", "0123", "ab", "A"]], "frozen": frozen })
        })
        .collect();
    plan["revisions"] = json!(rows);
    let asked = |i: usize| {
        json!({ "number": i + 1, "about": "part", "id": "panel", "text": "Why?", "revision": "B",
        "answer": "Because <i>so</i>.", "printed": true })
    };
    plan["questions"] = json!((0..LIST_MAX).map(asked).collect::<Vec<_>>());
    let text = plan.to_string();
    assert!(text.len() < BYTES_MAX && text.len() > BYTES_MAX / 2, "{}", text.len());
    let start = Instant::now();
    let (read, _) = Plan::parse(text.as_bytes()).unwrap();
    let parsed = start.elapsed();
    assert_eq!((read.revisions().len(), read.questions().len()), (LIST_MAX, LIST_MAX));
    let built = build(&read).unwrap();
    let all = start.elapsed();
    let saved = read.to_json();
    println!(
        "the greatest plan, {:.1} MB: parsed in {parsed:?}, table built after {all:?}, saved after {:?}",
        text.len() as f64 / 1e6,
        start.elapsed()
    );
    assert!(built.sound());
    assert_eq!(Plan::parse(saved.as_bytes()).unwrap().0, read);
}

/// A maker's own great plan is no stranger's: with two megabytes of pictures it comes out of its book.
#[test]
fn a_book_full_of_pictures_opens_again() {
    let mut plan = full();
    plan.as_object_mut().unwrap().remove("offer");
    let mut state = 1u32;
    let mut noise = |_| {
        state ^= state << 13;
        state ^= state >> 17;
        state ^= state << 5;
        state as u8
    };
    let mut step = |n: usize| {
        let (side, mut bytes) = (520, Vec::new());
        let mut encoder = png::Encoder::new(&mut bytes, side, side);
        encoder.set_color(png::ColorType::Grayscale);
        encoder.set_depth(png::BitDepth::Eight);
        let dots: Vec<u8> = (0..side * side).map(&mut noise).collect();
        encoder.write_header().unwrap().write_image_data(&dots).unwrap();
        let picture = json!({ "caption": "Noise (demo)", "data": base64(&bytes) });
        json!({ "id": format!("own/{n}"), "title": "A step", "pictures": [picture] })
    };
    plan["steps"] = json!((1..=7).map(&mut step).collect::<Vec<_>>());
    let plan = parse(&plan).unwrap();
    let kept = plan.edition();
    assert!(kept.to_json().len() > 2_500_000);
    let built = build(&plan).unwrap();
    let bytes = pdf(&built.book(&BookOptions::of(&plan)).0).unwrap();
    let start = Instant::now();
    let (again, _) = turnleaf_plan::open(&bytes).unwrap();
    println!(
        "a book of {:.1} MB with pictures: its plan after {:?}",
        bytes.len() as f64 / 1e6,
        start.elapsed()
    );
    assert!(again == kept);
}

/// What is accepted comes out as words: in SVG, in the PDF's text and in CSV.
#[test]
fn accepted_words_are_only_words() {
    const SCRIPT: &str = "<script>hostile()</script>";
    const FORMULA: &str = "=HYPERLINK(\"x\")";
    let mut plan = full();
    plan.as_object_mut().unwrap().remove("offer");
    for place in [
        "/texts/title",
        "/texts/maker",
        "/texts/notes/0",
        "/texts/imprint",
        "/revision/reasons/0",
        "/revisions/0/what",
        "/questions/0/answer",
        "/steps/0/title",
        "/steps/0/text/0",
        "/steps/0/notes/0",
        "/steps/0/pictures/0/caption",
    ] {
        plan = put(&plan, place, json!(format!("{SCRIPT} {FORMULA} & '\"")));
    }
    plan = put(&plan, "/texts/number", json!("<i onload=x>"));
    let built = build(&parse(&plan).unwrap()).unwrap();
    let options = BookOptions::of(&built.plan);
    let (document, _) = built.book(&options);
    let mut shown = 0;
    for page in &document.pages {
        let svg = page_svg_embedded(page, &built.numbers);
        let tree = roxmltree::Document::parse(&svg).unwrap_or_else(|e| panic!("{}: {e}", page.id));
        for node in tree.descendants().filter(|n| n.is_element()) {
            let name = node.tag_name().name();
            assert!(
                !["script", "img", "foreignObject", "iframe", "i"].contains(&name),
                "{}: {name}",
                page.id
            );
            for a in node.attributes() {
                let value = a.value().trim_start().to_lowercase();
                assert!(
                    !a.name().starts_with("on") && !value.starts_with("javascript:"),
                    "{}: {a:?}",
                    page.id
                );
            }
        }
        shown += usize::from(svg.contains("&lt;script&gt;") || svg.contains("&lt;script>"));
    }
    assert!(shown > 3, "the words are on {shown} pages");

    let file = Path::new(env!("CARGO_TARGET_TMPDIR")).join("hostile.pdf");
    std::fs::write(&file, pdf(&document).unwrap()).unwrap();
    let done = std::process::Command::new("pdftotext").arg(&file).arg("-").output().expect("pdftotext");
    let words = String::from_utf8(done.stdout).unwrap();
    assert!(words.contains("<script>hostile()"), "the words are not in the PDF");
    for (_, text) in built.lists_csv(&options).unwrap() {
        for row in csv::Reader::from_reader(text.as_bytes()).records() {
            for cell in &row.unwrap() {
                let formula = cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
                assert!(!formula || cell.parse::<f64>().is_ok(), "{cell}");
            }
        }
    }
    // The common rule for cells that a spreadsheet would run, from memory: = + - @, tab and carriage return.
    for cell in [FORMULA, "+1+1", "-1+1", "@SUM(A1)", "\t=1", "\r=1"] {
        assert_eq!(csv_cell(cell), format!("'{cell}"));
    }
}
