//! The build steps as text and as JSON.
//!
//! In: a plan file. Out: the steps in the order and words of the book, or what is wrong with the maker's changes.
//! Always true: hidden steps stand in the JSON with no number, and not in the text.

use crate::load;
use crate::show::{line, lines};
use serde_json::{Value, json};
use std::path::Path;
use turnleaf_plan::{BookOptions, Severity, StepText};

/// The steps of a plan; remarks go to stderr, an unknown reference is an error.
pub fn steps(plan: &Path, as_json: bool) -> Result<String, String> {
    let built = load::build(plan)?;
    let (steps, said) = built.steps(&BookOptions::of(&built.plan));
    let (errors, remarks): (Vec<_>, Vec<_>) = said.iter().partition(|d| d.severity == Severity::Error);
    for d in remarks {
        eprintln!("{}", d.sentence);
    }
    if !errors.is_empty() {
        return Err(errors.iter().map(|d| d.sentence.as_str()).collect::<Vec<_>>().join(" "));
    }
    Ok(if as_json { json_text(&steps) } else { text(&steps) })
}

fn text(steps: &[StepText]) -> String {
    let shown = steps.iter().filter_map(|s| Some((s.number?, s)));
    lines(shown.map(|(number, s)| {
        let counted = |list: &[(String, String, usize)]| {
            let one = |(_, name, count): &(String, String, usize)| format!("{count} × {name}");
            list.iter().map(one).collect::<Vec<_>>().join(", ")
        };
        let mut out = vec![format!("{number}. {} [{}]  {}", s.title, s.id, s.time)];
        out.extend(s.text.iter().cloned());
        for (mark, list) in
            [("set", &s.settings), ("caution", &s.cautions), ("check", &s.checks), ("note", &s.notes)]
        {
            out.extend(list.iter().map(|t| format!("{mark}: {t}")));
        }
        for (mark, list) in [("pieces", &s.pieces), ("hardware", &s.hardware)] {
            if !list.is_empty() {
                out.push(format!("{mark}: {}", counted(list)));
            }
        }
        out.extend(s.pictures.iter().map(|p| format!("picture: {}", p.caption)));
        out.join("\n   ") + "\n"
    }))
}

fn json_text(steps: &[StepText]) -> String {
    let parts = |list: &[(String, String, usize)]| -> Vec<Value> {
        list.iter().map(|(id, name, count)| json!({"part": id, "name": name, "count": count})).collect()
    };
    let rows = steps.iter().map(|s| {
        json!({
            "id": s.id, "number": s.number, "own": s.own, "changed": s.changed, "title": s.title, "text": s.text,
            "settings": s.settings, "checks": s.checks, "cautions": s.cautions, "pieces": parts(&s.pieces),
            "hardware": parts(&s.hardware), "put_in": s.put_in, "needs": s.needs, "minutes": s.minutes,
            "notes": s.notes, "pictures": s.pictures.iter().map(|p| &p.caption).collect::<Vec<_>>(),
        })
    });
    line(&Value::Array(rows.collect()))
}
