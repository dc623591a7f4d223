//! Work as it is kept in the browser between visits.
//!
//! In: a form and the view of it, or the text kept earlier. Out: that text, or the form and view again.
//! Always true: any text at all can be read: what makes no sense is refused with a sentence, never a panic, and
//! texts that waited in their fields come back as they were typed. Nothing here touches the browser.

use crate::core::{Diagnostic, Plan};
use crate::form::Form;
use serde_json::{Map, Value, json};

/// Version of the text; another one is refused.
const VERSION: u64 = 1;

/// What is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// Sizes, options and words.
    pub form: Form,
    /// How far the table was turned: 0 closed, 1 open.
    pub share: f64,
}

/// The text to keep.
pub fn write(work: &Work) -> String {
    let waiting: Map<String, Value> = work
        .form
        .all_refused()
        .into_iter()
        .map(|(id, refused)| (id.to_string(), Value::from(refused.text.clone())))
        .collect();
    json!({
        "kept": VERSION,
        "plan": work.form.plan().to_json(),
        "waiting": waiting,
        "chapters": work.form.chapters(),
        "turn": if work.share.is_finite() { work.share } else { 0.0 },
    })
    .to_string()
}

/// The work in a kept text.
pub fn read(text: &str) -> Result<Work, String> {
    let tree: Value = serde_json::from_str(text).map_err(|_| "it is not complete".to_string())?;
    if tree["kept"] != VERSION {
        return Err("another version of Turnleaf kept it".into());
    }
    let plan = tree["plan"].as_str().ok_or("the plan is missing from it")?;
    let (plan, _) = Plan::parse_known(plan.as_bytes()).map_err(|found| first(&found))?;
    let mut form = Form::new(plan);
    for (id, typed) in tree["waiting"].as_object().into_iter().flatten() {
        if let Some(typed) = typed.as_str() {
            form.edit(id, typed);
        }
    }
    // Chapters that this version does not have are no reason to lose the work.
    let _ = tree["chapters"].as_str().map(|chapters| form.pick_chapters(chapters));
    let share = tree["turn"].as_f64().filter(|share| share.is_finite()).unwrap_or(0.0).clamp(0.0, 1.0);
    Ok(Work { form, share })
}

/// The gravest of what was found, as a sentence with its hint.
pub fn first(found: &[Diagnostic]) -> String {
    let Some(worst) = found.first() else { return "It could not be read.".into() };
    if worst.hint.is_empty() { worst.sentence.clone() } else { format!("{} {}", worst.sentence, worst.hint) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn work() -> Work {
        let mut form = Form::new(Plan::default_metric());
        form.edit("closed_diameter", "1180 mm");
        form.edit("height", "as high as it goes");
        form.edit("measured.ply_thickness", "thick");
        form.pick_chapters("shop").unwrap();
        Work { form, share: 0.415 }
    }

    #[test]
    fn what_is_kept_comes_back_equal() {
        assert_eq!(read(&write(&work())), Ok(work()));
    }

    #[test]
    fn every_cut_of_a_kept_text_is_refused_or_read_but_never_a_panic() {
        let text = write(&work());
        for end in (0..text.len()).filter(|end| text.is_char_boundary(*end)) {
            assert!(read(&text[..end]).is_err());
        }
    }

    #[test]
    fn rubbish_is_refused_with_a_reason() {
        for rubbish in
            ["", "null", "[]", "{}", "{\"kept\":9}", "{\"kept\":1}", "{\"kept\":1,\"plan\":\"{}\"}", "\u{0}"]
        {
            assert!(!read(rubbish).unwrap_err().is_empty(), "{rubbish}");
        }
    }

    #[test]
    fn a_broken_turn_or_an_unknown_field_does_not_cost_the_plan() {
        let text = write(&work()).replace("0.415", "\"x\"").replace("\"height\":", "\"no_such\":");
        let back = read(&text).unwrap();
        assert_eq!(back.share, 0.0);
        assert_eq!(back.form.text("closed_diameter"), "1180 mm");
    }
}
