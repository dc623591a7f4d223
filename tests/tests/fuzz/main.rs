//! Readers under spoilt input.
//!
//! In: the committed corpus (`tests/corpus`), spoilt by a fixed sequence of draws. Out: pass, or the input that broke
//! a reader. Always true: a run of the usual budget takes seconds; `TURNLEAF_FUZZ=1000` makes it a long one. The
//! readers of tables (CSV) are fuzzed in the terminal program's own tests, by the same means.

mod outlines;

use std::path::PathBuf;
use turnleaf_book::words::Words;
use turnleaf_page::{Attachment, Document, Page, Paper};
use turnleaf_plan::planfile::{FIELDS, Language, parse_sheet};
use turnleaf_plan::units::{
    DecimalSign, ForceUnit, Length, LengthUnit, MassUnit, MmStep, parse_angle, parse_count, parse_force,
    parse_length, parse_mass, print_mm, understand_length,
};
use turnleaf_plan::{Diagnostic, Severity, open, outline, pdf};
use turnleaf_steps::{Piece, nearest, pieces};
use turnleaf_tests::fuzz::{Corpus, run};

fn corpus(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("corpus").join(name)
}

fn plans() -> Vec<Vec<u8>> {
    let demos = ["reading-room", "map-room", "window-table"].map(|d| {
        let file = corpus("..").join("..").join("demo").join(format!("{d}.json"));
        std::fs::read(file).expect("a demo plan")
    });
    let mut all = demos.to_vec();
    all.extend(Corpus::folder(&corpus("plan"), &[]).inputs);
    all
}

/// Sentences are short, on one line, and end.
fn fit_to_show(said: &[Diagnostic]) -> Result<(), String> {
    match said.iter().find(|d| {
        !d.sentence.ends_with(['.', '”'])
            || d.sentence.chars().count() > 500
            || d.sentence.chars().any(char::is_control)
    }) {
        Some(d) => Err(format!("not fit to show: {:?}", d.sentence)),
        None => Ok(()),
    }
}

/// A plan file: refused in sentences, or opened, and then saving and opening again changes nothing.
#[test]
fn plan_files() {
    let mut words = vec![
        "{",
        "}",
        "[",
        "]",
        "\"\"",
        ":",
        ",",
        "null",
        "true",
        "{\"\":{}}",
        "\\u0000",
        "\\ud800",
        "\"format\"",
        "\"version\"",
        "\"sizes\"",
        "\"options\"",
        "\"texts\"",
        "\"measured\"",
        "\"revision\"",
        "\"revisions\"",
        "\"steps\"",
        "\"notes\"",
        "\"stock\"",
        "\"questions\"",
        "\"offer\"",
        "\"title\"",
    ];
    words.extend(FIELDS.iter().map(|f| f.id));
    let ran = run("plan files", &Corpus::new(plans(), &words), 12_000, |input| match open(input) {
        Err(found) if found.iter().any(|d| d.severity == Severity::Error) => {
            fit_to_show(&found).map(|()| false)
        }
        Err(found) => Err(format!("refused without an error: {found:?}")),
        Ok((plan, said)) => {
            fit_to_show(&said)?;
            let saved = plan.to_json();
            let (again, _) =
                open(saved.as_bytes()).map_err(|d| format!("what was saved does not open: {d:?}"))?;
            if again != plan || again.to_json() != saved {
                return Err("saving and opening changes the plan".into());
            }
            Ok(true)
        }
    });
    assert!(ran.taken > ran.executions / 50, "hardly anything was opened: {ran:?}");
}

/// Tables of spoilt plans are worked out or refused.
#[test]
fn tables_of_plans() {
    let words: Vec<&str> = FIELDS.iter().map(|f| f.id).collect();
    let ran = run("tables of plans", &Corpus::new(plans(), &words), 150, |input| {
        let Ok((plan, _)) = open(input) else { return Ok(false) };
        match outline(&plan) {
            Ok(table) if table.pieces.is_empty() => Err("a table of no pieces".into()),
            Ok(table) => match table.parts.iter().find(|p| !p.outline.area().is_finite()) {
                Some(part) => Err(format!("the area of {} is no number", part.id)),
                None => Ok(true),
            },
            Err(said) if said.is_empty() => Err("refused without a word".into()),
            Err(said) => fit_to_show(&said).map(|()| false),
        }
    });
    assert!(ran.taken > 0, "no table was worked out: {ran:?}");
}

/// What a maker types for a length, an angle, a count, a force, a mass, a sheet.
#[test]
fn typed_quantities() {
    let words = [
        "mm", "cm", "m", "in", "ft", "\"", "'", "′", "″", "½", "¼", "¾", "⁄", "1/64", "-", "–", "−", "×",
        "x", "°", "N", "lbf", "kg", "lb", "\u{a0}", "\u{202f}", "，", "٣", "e5", " and ", "4x8ft", ":3",
    ];
    let text = std::fs::read_to_string(corpus("typed").join("typed.txt")).expect("the corpus is there");
    let ran = run("typed quantities", &Corpus::lines(&text, &words), 60_000, |input| {
        let text = String::from_utf8_lossy(input);
        let mut taken = false;
        for unit in [LengthUnit::Mm, LengthUnit::Inch] {
            let Ok(length) = parse_length(&text, unit) else { continue };
            taken = true;
            let printed = print_mm(length, MmStep::HUNDREDTH, DecimalSign::Point);
            if printed.rounded.checked_sub(length) != Some(printed.error) {
                return Err(format!("{text:?} is printed {} with another error than it says", printed.text));
            }
            // Readers take twelve digits; beyond a thousand kilometres printing may need more.
            let readable = length.mm().abs() < 1e9;
            if readable && printed.error == Length::ZERO && parse_length(&printed.text, unit) != Ok(length) {
                return Err(format!("{text:?} prints as {}, which does not read back", printed.text));
            }
        }
        let sentences = [
            parse_angle(&text).err().map(|p| p.to_string()),
            parse_count(&text).err().map(|p| p.to_string()),
            parse_force(&text, ForceUnit::Newton).err().map(|p| p.to_string()),
            parse_mass(&text, MassUnit::Kilogram).err().map(|p| p.to_string()),
            parse_sheet(&text).err().map(|d| d.sentence),
            understand_length(&text, LengthUnit::Mm, DecimalSign::Comma).err().map(|p| p.to_string()),
        ];
        let odd =
            |s: &&String| !s.ends_with('.') || s.chars().count() > 400 || s.chars().any(char::is_control);
        match sentences.iter().flatten().find(odd) {
            Some(sentence) => Err(format!("not fit to show: {sentence:?}")),
            None => Ok(taken),
        }
    });
    assert!(ran.taken > ran.executions / 50, "hardly anything was read: {ran:?}");
}

/// References in the maker's words.
#[test]
fn references_in_words() {
    let words = ["[=", "]", "[==", "[", "=", "panel.travel", "gap.width", " ", "ä", "\u{1F600}"];
    let text = std::fs::read_to_string(corpus("words").join("words.txt")).expect("the corpus is there");
    let known = ["panel.travel", "leaf.travel", "gap.width", "star.reach", "sectors"];
    run("references in words", &Corpus::lines(&text, &words), 60_000, |input| {
        let text = String::from_utf8_lossy(input);
        let found = pieces(&text);
        // Words stand in the text in their order, and nothing is made up.
        let mut rest: &str = &text;
        for piece in &found {
            let (Piece::Words(part) | Piece::Value(part) | Piece::Open(part)) = piece;
            if matches!(piece, Piece::Open(_)) || part.contains("[=") {
                continue;
            }
            let Some(at) = rest.find(part.as_str()) else {
                return Err(format!("{part:?} does not stand in what follows"));
            };
            rest = &rest[at + part.len()..];
        }
        if let Some(Piece::Value(name)) = found.iter().find(|p| matches!(p, Piece::Value(_)))
            && nearest(name, known.into_iter()).len() > 3
        {
            return Err("more than three names are near".into());
        }
        Ok(found.iter().any(|p| matches!(p, Piece::Value(_))))
    });
}

/// Names of messages with the names of the values put into them.
fn messages(file: &str) -> Vec<(&str, Vec<&str>)> {
    let lines = file.lines().filter(|l| !l.starts_with('#'));
    let parted = lines.filter_map(|l| l.split_once(" = "));
    parted
        .map(|(name, text)| {
            (name, text.split("{ $").skip(1).filter_map(|t| Some(t.split_once(" }")?.0)).collect())
        })
        .collect()
}

/// A maker's words put into the messages of the book come out whole, once for every place of theirs, in both languages:
/// what stands in them is never read as a message.
#[test]
fn words_in_messages() {
    let files = [
        (Language::En, include_str!("../../../static/text/en.ftl")),
        (Language::De, include_str!("../../../static/text/de.ftl")),
    ];
    let all = files.map(|(language, text)| (Words::new(language), messages(text)));
    let words = [
        "{ $mark }",
        "{",
        "}",
        "\"",
        "{ -brand }",
        "*[other]",
        "->",
        "\u{2068}",
        "ä",
        "\u{1F600}",
        "NUMBER($n)",
    ];
    let text = std::fs::read_to_string(corpus("words").join("words.txt")).expect("the corpus is there");
    run("words in messages", &Corpus::lines(&text, &words), 60_000, |input| {
        let text = String::from_utf8_lossy(input).into_owned();
        let pick =
            input.iter().fold(input.len(), |sum, b| sum.wrapping_mul(31).wrapping_add(usize::from(*b)));
        let (words, messages) = &all[pick % 2];
        let (name, names) = &messages[pick / 2 % messages.len()];
        let values: Vec<(&str, String)> = names.iter().map(|n| (*n, text.clone())).collect();
        let Some(said) = words.find(name, &values) else { return Err(format!("{name} is not said")) };
        let bare = words.find(name, &names.iter().map(|n| (*n, String::new())).collect::<Vec<_>>());
        let due = bare.unwrap_or_default().len() + names.len() * text.len();
        if said.len() != due || !(names.is_empty() || said.contains(&text)) {
            return Err(format!("{name} says {said:?}"));
        }
        Ok(!names.is_empty())
    });
}

/// A small PDF of our own with a plan inside.
fn small_pdf(plan: &[u8]) -> Vec<u8> {
    let (width, height) = Paper::A4.sides();
    let page =
        Page { width, height, label: "1".into(), id: "one".into(), title: "One".into(), items: Vec::new() };
    let carried = Attachment {
        name: "plan.json".into(),
        mime: "application/json".into(),
        description: "A plan".into(),
        data: plan.to_vec(),
    };
    let document = Document {
        title: "Small".into(),
        language: "en".into(),
        date: "2025-01-01".into(),
        pages: vec![page],
        attachments: vec![carried],
        ..Document::default()
    };
    pdf(&document).expect("an empty page with a file inside")
}

/// A PDF with a plan inside: opened or refused in sentences.
#[test]
fn plans_inside_pdfs() {
    let plan =
        std::fs::read(corpus("..").join("..").join("demo").join("window-table.json")).expect("a demo plan");
    let words = [
        "%PDF-1.7",
        "%%EOF",
        "xref",
        "trailer",
        "startxref",
        "obj",
        "endobj",
        "stream\n",
        "endstream",
        "<<",
        ">>",
        "/EmbeddedFile",
        "/EF",
        "/F",
        "/Type",
        "/Filter",
        "/FlateDecode",
        "/LZWDecode",
        "/ASCIIHexDecode",
        "/ASCII85Decode",
        "/RunLengthDecode",
        "/DecodeParms",
        "/Predictor",
        "/Columns",
        "/Length",
        "1 0 R",
        "0 0 R",
        "/ObjStm",
        "/XRef",
        "/Prev",
        "/Encrypt",
        "/Index",
        "/W",
        "(",
        ")",
        "[",
        "]",
    ];
    let mut inputs = vec![small_pdf(&plan), small_pdf(b"{}")];
    inputs.extend(Corpus::folder(&corpus("pdf"), &[]).inputs);
    for (k, input) in inputs.iter().enumerate().take(1) {
        assert!(open(input).is_ok(), "input {k} carries a plan");
    }
    let ran =
        run("plans inside PDFs", &Corpus::new(inputs, &words), 3_000, |input| {
            match turnleaf_plan::open(input) {
                Ok((_, said)) => fit_to_show(&said).map(|()| true),
                Err(said) if said.is_empty() => Err("refused without a word".into()),
                Err(said) => fit_to_show(&said).map(|()| false),
            }
        });
    assert!(ran.taken > 0, "no plan was found: {ran:?}");
}
