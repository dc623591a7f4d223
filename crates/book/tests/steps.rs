//! The build steps in words: complete in both languages, the maker's changes made, references held to the numbers.

use std::collections::BTreeSet;
use turnleaf_plan::planfile::{FIRST, Language, PrintChoice, StepChange};
use turnleaf_plan::{BookOptions, Built, Plan, Severity, StepText, Unit, build, number_text};
use turnleaf_steps::{Line, Table, build_steps};

fn demo(name: &str) -> Plan {
    let path = format!("{}/../../demo/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let mut plan = Plan::parse(&std::fs::read(path).unwrap()).unwrap().0;
    // Judged without whatever the demo's maker changed.
    plan.set_steps(Vec::new()).unwrap();
    plan
}

fn built(plan: &Plan) -> Built {
    build(plan).unwrap()
}

fn options(plan: &Plan, language: Language, units: PrintChoice) -> BookOptions {
    let mut o = BookOptions::of(plan);
    o.language = language;
    o.print.units = units;
    o
}

/// Words are known in both languages, and every message of the steps is used by some table.
#[test]
fn every_message_is_there_and_used() {
    let mut used = BTreeSet::new();
    for name in ["reading-room", "map-room", "window-table", "cam"] {
        let mut plan = if name == "cam" { Plan::default_metric() } else { demo(name) };
        if name == "cam" {
            plan.set_option("drive", "cam").unwrap();
        }
        let b = built(&plan);
        for language in [Language::En, Language::De] {
            for units in [PrintChoice::Mm, PrintChoice::Inch, PrintChoice::Both] {
                let (steps, said) = b.steps(&options(&plan, language, units));
                assert!(said.is_empty(), "{said:?}");
                for s in &steps {
                    let all = [&s.text, &s.settings, &s.checks, &s.cautions].into_iter().flatten();
                    for text in all.chain([&s.title, &s.time]) {
                        assert!(!text.contains(['‹', '–', '{']), "{name} {}: {text}", s.id);
                    }
                }
            }
        }
        for s in build_steps(&Table { assembly: &b.assembly, checks: &b.checks, proof: &b.proof }) {
            let lines = [&s.text, &s.settings, &s.checks, &s.cautions, &s.tight];
            used.extend(lines.into_iter().flatten().chain([&s.title]).map(|l: &Line| l.name.clone()));
        }
    }
    let file = format!("{}/../../static/text/en.ftl", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(file).unwrap();
    let known =
        text.lines().filter_map(|l| l.split_once(" = ")).map(|l| l.0).filter(|k| k.starts_with("step-"));
    let unused: Vec<&str> = known.filter(|k| !used.contains(*k)).collect();
    assert!(unused.is_empty(), "{unused:?}");
}

fn with(plan: &Plan, changes: Vec<StepChange>) -> (Vec<StepText>, Vec<turnleaf_plan::Diagnostic>) {
    let mut plan = plan.clone();
    plan.set_steps(changes).unwrap();
    let saved = Plan::parse(plan.to_json().as_bytes()).unwrap().0;
    built(&saved).steps(&BookOptions::of(&saved))
}

fn own(text: Vec<String>) -> StepChange {
    let mut own = StepChange::of("own/1");
    own.title = Some("Try the numbers".into());
    own.text = Some(text);
    own
}

#[test]
fn references_print_as_the_numbers_do() {
    let plan = demo("reading-room");
    let b = built(&plan);
    let names: Vec<String> = b.numbers.iter().map(|n| format!("[={}]", n.id)).collect();
    for (language, units) in [
        (Language::En, PrintChoice::Mm),
        (Language::De, PrintChoice::Inch),
        (Language::De, PrintChoice::Both),
    ] {
        let mut plan = plan.clone();
        plan.set_steps(vec![own(names.chunks(4).map(|c| c.join(" | ")).collect())]).unwrap();
        let o = options(&plan, language, units);
        let (steps, said) = build(&plan).unwrap().steps(&o);
        assert!(said.is_empty(), "{said:?}");
        let printed: Vec<&str> = steps.last().unwrap().text.iter().flat_map(|t| t.split(" | ")).collect();
        assert_eq!(printed.len(), b.numbers.len());
        for (n, text) in b.numbers.iter().zip(printed) {
            // Below a millimetre running text prints finer than the book's step.
            if !(n.unit == Unit::Mm && n.value.abs() < 1.0 || n.unit == Unit::Mm2) {
                assert_eq!(text, number_text(n, o.print.print_units(), language), "{}", n.id);
            }
        }
    }
    let (steps, said) = with(
        &plan,
        vec![own(vec![
            "[=count.panel] panels, [=sectors] sectors, [=stock_thickness], [=edge_load]".into(),
            "arms clear by [=check.clear.panel-arm.panel-arm], [==name] is how it is written".into(),
        ])],
    );
    assert!(said.is_empty(), "{said:?}");
    assert_eq!(steps.last().unwrap().text[0], "6 panels, 6 sectors, 19 mm, 300\u{A0}N");
    assert_eq!(steps.last().unwrap().text[1], "arms clear by 4.7 mm, [=name] is how it is written");
}

#[test]
fn an_unknown_name_is_an_error_that_says_where_and_what_is_near() {
    let plan = demo("reading-room");
    let mut change = StepChange::of("fit/drive");
    change.notes = vec!["See.".into(), "Bend them by [=panel.arm.bent].".into()];
    let (_, said) = with(&plan, vec![change, own(vec!["[=".into(), "[=zzzzzzzzzzzz]".into()])]);
    let errors: Vec<_> = said.iter().filter(|d| d.severity == Severity::Error).collect();
    assert_eq!(errors.len(), 3, "{said:?}");
    let one = &errors[0].sentence;
    for part in ["“Crank pins and arms” (fit/drive), note 2", "“panel.arm.bent”", "“panel.arm.bend”"]
    {
        assert!(one.contains(part), "{one}");
    }
    assert!(errors[1].sentence.contains("no closing bracket"), "{}", errors[1].sentence);
    assert!(errors[2].sentence.contains("no name is near it"), "{}", errors[2].sentence);
    // The book refuses what the list refuses, and notes and reasons may refer too.
    let mut plan = plan;
    plan.set_notes(vec!["The gap is [=gap.width].".into(), "[=gap.widht]".into()]).unwrap();
    let b = built(&plan);
    let (document, said) = b.book(&BookOptions::of(&plan));
    assert!(
        said.iter().any(|d| d.sentence.starts_with("Note 2: ") && d.sentence.contains("“gap.width”")),
        "{said:?}"
    );
    let words = format!("{:?}", document.pages);
    assert!(words.contains("The gap is 225 mm."), "the note is printed with its value");
}

#[test]
fn steps_are_hidden_moved_added_and_keep_their_names() {
    let plan = demo("reading-room");
    let usual = built(&plan).steps(&BookOptions::of(&plan)).0;
    let mut hidden = StepChange::of("make/stock");
    hidden.hidden = true;
    let mut first = StepChange::of("make/bars");
    first.after = Some(FIRST.into());
    let mut new = own(vec!["Oil.".into()]);
    new.after = Some("make/top".into());
    let mut absent = StepChange::of("fit/other");
    absent.notes = vec!["For the cam.".into()];
    let mut lost = StepChange::of("make/arms");
    lost.after = Some("fit/nowhere".into());
    let mut early = StepChange::of("fit/panels");
    early.after = Some("make/top".into());
    let (steps, said) = with(&plan, vec![hidden, first, new, absent, lost, early]);
    let ids: Vec<&str> = steps.iter().map(|s| s.id.as_str()).collect();
    assert_eq!(ids[..5], ["make/bars", "make/stock", "make/top", "fit/panels", "own/1"]);
    assert_eq!(steps[1].number, None);
    let numbers: Vec<usize> = steps.iter().filter_map(|s| s.number).collect();
    assert_eq!(numbers, (1..=usual.len()).collect::<Vec<_>>(), "one hidden, one added");
    let set: BTreeSet<&str> = ids.iter().copied().collect();
    assert!(usual.iter().all(|s| set.contains(s.id.as_str())), "every identifier is still there");
    let told = |part: &str| said.iter().any(|d| d.sentence.contains(part) && d.severity != Severity::Error);
    assert!(told("no step “fit/other”") && told("“fit/nowhere”"), "{said:?}");
    assert!(told("“Panels” stands before “Leaves”, which it needs"), "{said:?}");
}

#[test]
fn words_of_the_maker_are_words_and_nothing_else() {
    let plan = demo("window-table");
    let wild = [
        "{ $sectors } { step-stock-text } \\u{7d} <b>&amp;</b> %s",
        "[[=]] [=[=gap.width]] ]=[",
        "שלום مرحبا 木工 🪵",
        &"m".repeat(2000),
        "",
    ];
    let mut plan2 = plan.clone();
    plan2.set_steps(vec![own(wild.iter().map(|w| w.to_string()).collect())]).unwrap();
    let b = built(&plan2);
    let (steps, said) = b.steps(&BookOptions::of(&plan2));
    assert_eq!(steps.last().unwrap().text[0], wild[0]);
    assert!(said.iter().all(|d| d.code == "book.reference"), "{said:?}");
    let (document, _) = b.book(&BookOptions::of(&plan2));
    assert!(!turnleaf_pdf::write(&document).unwrap().is_empty());
}
