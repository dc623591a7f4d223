//! FORMAT.md says what the program does.

use turnleaf_page::Paper;
use turnleaf_planfile::{Absent, Choice, Date, FIELDS, Options, Plan, Revision, Value};
use turnleaf_units::{DecimalSign, print_decimal};

const DOCUMENT: &str = include_str!("../FORMAT.md");

fn say(value: Value) -> String {
    let number = |v| print_decimal(v, 3, DecimalSign::Point).expect("finite");
    match value {
        Value::Length(v) => format!("{} mm", number(v.mm())),
        Value::Angle(v) => format!("{}°", number(v.degrees())),
        Value::Count(v) => v.to_string(),
        Value::Force(v) => format!("{} N", number(v.newtons())),
    }
}

#[test]
fn every_size_stands_in_the_table_in_order() {
    let rows: Vec<String> = FIELDS
        .iter()
        .map(|f| {
            let (absent, metric, inch) = match f.absent {
                Absent::Refused => ("needed", f.metric, f.inch),
                Absent::Usual => ("usual", f.metric, f.inch),
                Absent::Worked => ("worked out", "", ""),
            };
            format!("| `{}` | {metric} | {inch} | {} to {} | {absent} |", f.id, say(f.min), say(f.max))
        })
        .collect();
    let table = rows.join("\n");
    assert!(DOCUMENT.contains(&table), "the table of sizes should be:\n{table}");
}

#[test]
fn every_option_is_described() {
    for key in Options::KEYS {
        assert!(DOCUMENT.contains(&format!("| `{key}` |")), "{key}");
        assert_ne!(Options::name(key), "option", "{key}");
    }
}

#[test]
fn what_an_issued_revision_keeps_is_described() {
    let mut plan = Plan::default_metric();
    let date = Date::parse("2026-02-01");
    plan.set_revision(Revision { mark: "A".into(), date, reasons: Vec::new() }).unwrap();
    plan.issue("1.2.3", "0", Vec::new(), String::new()).unwrap();
    let file: serde_json::Value = serde_json::from_str(&plan.to_json()).unwrap();
    let frozen = file["revisions"][0]["frozen"].as_object().unwrap();
    assert_eq!(frozen["program"], "1.2.3");
    for key in frozen.keys() {
        assert!(DOCUMENT.contains(&format!("| `frozen.{key}` |")), "{key}");
    }
}

#[test]
fn papers_have_the_keys_of_the_page_crate() {
    let ours: Vec<_> = <Paper as Choice>::WORDS.to_vec();
    let theirs: Vec<_> = Paper::ALL.iter().map(|p| (p.key(), *p)).collect();
    assert_eq!(ours, theirs);
}
