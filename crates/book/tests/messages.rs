//! The message files: complete, alike in what they put in, and all of it used.

use std::collections::{BTreeMap, BTreeSet};

fn file(name: &str) -> String {
    let path = format!("{}/../../static/text/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}"))
}

/// Messages with the names of the values put into them.
fn messages(name: &str) -> BTreeMap<String, BTreeSet<String>> {
    let mut out = BTreeMap::new();
    for line in file(name).lines() {
        if line.starts_with('#') || line.trim().is_empty() {
            continue;
        }
        let (key, text) = line.split_once(" = ").unwrap_or_else(|| panic!("{name}: {line}"));
        let values = text.split("{ $").skip(1).filter_map(|t| t.split_once(" }")).map(|t| t.0.to_string());
        let before = out.insert(key.to_string(), values.collect::<BTreeSet<_>>());
        assert!(before.is_none(), "{name}: {key} stands twice");
    }
    out
}

#[test]
fn german_has_every_english_message_with_the_same_values() {
    let (en, de) = (messages("en.ftl"), messages("de.ftl"));
    for (key, values) in &en {
        let other = de.get(key).unwrap_or_else(|| panic!("German lacks {key}"));
        // A language may leave a value out, but not ask for one that is not given.
        assert!(other.is_subset(values), "{key}: {other:?} against {values:?}");
    }
}

#[test]
fn sheets_have_the_same_phrases_in_both_languages() {
    let (en, de) = (messages("sheet.en.ftl"), messages("sheet.de.ftl"));
    assert_eq!(en, de);
}

/// Names that German has beyond English: those whose English stands in the program itself.
#[test]
fn german_says_nothing_that_english_does_not() {
    let (en, de) = (messages("en.ftl"), messages("de.ftl"));
    let beyond = [
        "part-",
        "material-",
        "number-",
        "rule-",
        "field-",
        "group-",
        "strength-of-",
        "formula-",
        "source-",
        "assumed-",
    ];
    for key in de.keys() {
        let known = en.contains_key(key) || beyond.iter().any(|b| key.starts_with(b));
        assert!(known, "{key} is not in the English file");
    }
}

fn dashed(id: &str) -> String {
    id.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect()
}

#[test]
fn german_names_every_part_number_and_field_of_the_demos() {
    let de = messages("de.ftl");
    for name in ["reading-room", "map-room", "window-table"] {
        let path = format!("{}/../../demo/{name}.json", env!("CARGO_MANIFEST_DIR"));
        let plan = turnleaf_plan::Plan::parse(&std::fs::read(path).unwrap()).unwrap().0;
        let built = turnleaf_plan::build(&plan).unwrap();
        for part in &built.assembly.parts {
            let screw = part.name.starts_with("Wood screw ");
            let id = if screw { "wood-screw" } else { part.id.as_str() };
            for key in [format!("part-{id}"), format!("material-{}", dashed(&part.material))] {
                assert!(de.contains_key(&key), "German lacks {key}");
            }
        }
        for f in built.figures().iter().filter(|f| f.limit.is_some() && !f.id.starts_with("seats.")) {
            let key = format!("strength-of-{}", dashed(&f.id));
            assert!(de.contains_key(&key), "German lacks {key}");
            for source in f.source.split("; ") {
                let key = format!("source-{}", dashed(source));
                assert!(de.contains_key(&key), "German lacks {key}");
            }
        }
        for n in &built.numbers {
            let key = format!("number-{}", dashed(n.id));
            assert!(de.contains_key(&key), "German lacks {key}");
        }
    }
    for f in turnleaf_planfile::FIELDS {
        let key = format!("field-{}", dashed(f.id));
        assert!(de.contains_key(&key), "German lacks {key}");
    }
}

/// Every English message is named somewhere in the program, and none asked for is missing (missing ones
/// show in angle quotes, which the layout tests look for).
#[test]
fn every_english_message_is_used() {
    let mut source = String::new();
    let folder = format!("{}/src", env!("CARGO_MANIFEST_DIR"));
    for folder in [folder.clone(), format!("{folder}/chapters")] {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_file() {
                source += &std::fs::read_to_string(path).unwrap();
            }
        }
    }
    // Families whose names are made from identifiers.
    // Those of the steps are held to their use by a test of their own.
    let made =
        ["check-", "solved-", "caution-", "plan-", "drawing-", "standard-", "jigs-hole-", "step-", "notice-"];
    for key in messages("en.ftl").keys() {
        let stem = key.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end_matches('-');
        let used = source.contains(&format!("\"{key}\""))
            || source.contains(&format!("\"{stem}\""))
            || made.iter().any(|m| key.starts_with(m));
        assert!(used, "{key} is in the file but not used");
    }
}
