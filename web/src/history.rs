//! What was done to the plan, so that it can be undone.
//!
//! In: the form after every change. Out: earlier and later forms, each with a name for what lies between.
//! Always true: undoing and redoing everything comes back to the same form; typing on in one size is one step,
//! and so is pausing in the middle of it; a new change ends what could be redone. Nothing here touches the browser.

use crate::core::{FIELDS, field};
use crate::form::{Form, MORE};

/// Steps kept; each holds one small form.
const MOST: usize = 200;

/// The key of a step behind which another plan lies.
const OTHER: &str = "plan";

/// One change.
#[derive(Clone, Debug, PartialEq)]
struct Step {
    /// What was changed, as a key: steps of one key in a row become one.
    key: String,
    /// What was changed, in plain words.
    name: String,
    /// The form on the far side of the change.
    form: Form,
}

/// The changes before and after the present form.
#[derive(Clone, Debug, PartialEq)]
pub struct History {
    now: Form,
    past: Vec<Step>,
    future: Vec<Step>,
    /// Whether the next change of the same key belongs to the last step.
    open: bool,
}

impl History {
    /// A history that begins with this form.
    pub fn new(form: Form) -> History {
        History { now: form, past: Vec::new(), future: Vec::new(), open: false }
    }

    /// Takes note of the form as it is now; nothing happens when it has not changed.
    pub fn note(&mut self, form: &Form) {
        if *form == self.now {
            return;
        }
        let (key, name) = difference(&self.now, form);
        let goes_on = self.open && self.past.last().is_some_and(|last| last.key == key);
        let before = std::mem::replace(&mut self.now, form.clone());
        if !goes_on {
            self.past.push(Step { key, name, form: before });
            if self.past.len() > MOST {
                self.past.remove(0);
            }
        }
        self.future.clear();
        self.open = true;
    }

    /// A revision was issued and `form` has it: every state that can be brought back has it from now on, since
    /// buyers have it. States of another plan, before the present one was opened, stay as they were.
    pub fn issued(&mut self, form: &Form) {
        let plan = form.plan();
        for steps in [&mut self.past, &mut self.future] {
            for step in steps.iter_mut().rev() {
                if step.key == OTHER {
                    break;
                }
                step.form.keep_issued(plan);
            }
        }
        self.now = form.clone();
        self.open = false;
    }

    /// Ends the step under way: the next change is a step of its own.
    pub fn rest(&mut self) {
        self.open = false;
    }

    /// What undoing would take back.
    pub fn undoes(&self) -> Option<&str> {
        self.past.last().map(|step| step.name.as_str())
    }

    /// What redoing would do again.
    pub fn redoes(&self) -> Option<&str> {
        self.future.last().map(|step| step.name.as_str())
    }

    /// The form before the last change.
    pub fn before(&self) -> Option<&Form> {
        self.past.last().map(|step| &step.form)
    }

    /// Goes one step back; the form to show.
    pub fn undo(&mut self) -> Option<Form> {
        self.step(false)
    }

    /// Goes one step forth again.
    pub fn redo(&mut self) -> Option<Form> {
        self.step(true)
    }

    fn step(&mut self, forth: bool) -> Option<Form> {
        let (from, to) =
            if forth { (&mut self.future, &mut self.past) } else { (&mut self.past, &mut self.future) };
        let step = from.pop()?;
        let there = std::mem::replace(&mut self.now, step.form);
        to.push(Step { form: there, ..step });
        self.open = false;
        Some(self.now.clone())
    }
}

/// What differs between two forms: a key, and plain words for a button.
fn difference(before: &Form, after: &Form) -> (String, String) {
    let changed: Vec<&str> =
        FIELDS.iter().map(|f| f.id).filter(|id| before.text(id) != after.text(id)).collect();
    let more: Vec<&str> = MORE.into_iter().filter(|id| before.text(id) != after.text(id)).collect();
    let (one, other) = (before.plan(), after.plan());
    // Another unit is written behind every size and changes none.
    let unit = one.options().unit != other.options().unit
        && FIELDS.iter().all(|f| one.value(f.id) == other.value(f.id));
    // Rows of sheets are changed one at a time, each change a step of its own.
    let sheets = format!("stock.sheets {:?}", other.typed_sheets());
    let others = [
        (one.texts() != other.texts() || one.notes() != other.notes(), "texts", "name of the plan"),
        (one.steps() != other.steps(), "steps", "change of the build steps"),
        (one.questions() != other.questions(), "questions", "buyers’ questions"),
        (one.revision() != other.revision(), "revision", "words about the revision"),
        (one.typed_sheets() != other.typed_sheets(), sheets.as_str(), "sheets on hand"),
        (before.chapters() != after.chapters(), "chapters", "choice of chapters"),
        (one.options() != other.options(), "options", "choices for the book"),
    ];
    let touched = others.iter().filter(|o| o.0).count()
        + usize::from(!changed.is_empty() && !unit)
        + usize::from(!more.is_empty() && !unit);
    // A deed of the app touches one thing at a time; issuing does not come here.
    if touched > 1 || (changed.len() > 2 && !unit) || one.revisions() != other.revisions() {
        return (OTHER.into(), "another plan".into());
    }
    if let Some((_, key, name)) = others.iter().find(|o| o.0) {
        return ((*key).into(), (*name).into());
    }
    // The travel and the open diameter empty one another, which is one change.
    if let Some(id) = changed.iter().find(|id| !after.text(id).is_empty()).or(changed.first())
        && let Some(field) = field(id)
    {
        return (field.id.into(), field.label.to_lowercase());
    }
    if let Some(id) = more.first() {
        let name = match id.split_once('.') {
            Some(("measured", key)) => {
                format!("measured {}", field(key).map_or("", |field| field.label).to_lowercase())
            }
            Some(("copy", _)) => "line of your copy".into(),
            _ => "stock on hand".into(),
        };
        return ((*id).into(), name);
    }
    ("part".into(), "change of the plan".into())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::core::{Date, Plan};

    fn form() -> Form {
        Form::new(Plan::default_metric())
    }

    fn typed(history: &mut History, form: &mut Form, id: &str, text: &str) {
        form.edit(id, text);
        history.note(form);
    }

    #[test]
    fn typing_on_in_one_size_is_one_step_and_another_size_another() {
        let mut form = form();
        let first = form.clone();
        let mut history = History::new(form.clone());
        for text in ["1", "11", "118", "1180", "1180 mm"] {
            typed(&mut history, &mut form, "closed_diameter", text);
        }
        typed(&mut history, &mut form, "sectors", "8");
        assert_eq!(history.undoes(), Some("sectors"));
        assert_eq!(history.undo().map(|f| f.text("closed_diameter")), Some("1180 mm".into()));
        assert_eq!(history.undoes(), Some("closed diameter"));
        assert_eq!(history.undo(), Some(first));
        assert_eq!((history.undo(), history.undoes()), (None, None));
    }

    #[test]
    fn redoing_everything_comes_back_to_the_last_form() {
        let mut form = form();
        let mut history = History::new(form.clone());
        typed(&mut history, &mut form, "closed_diameter", "1180 mm");
        typed(&mut history, &mut form, "travel", "210 mm");
        form.choose("unit", "in").unwrap();
        history.note(&form);
        form.name("Reading table").unwrap();
        history.note(&form);
        let mut steps = 0;
        while history.undo().is_some() {
            steps += 1;
        }
        assert_eq!(steps, 4);
        let mut last = None;
        while let Some(form) = history.redo() {
            last = Some(form);
        }
        assert_eq!(last, Some(form));
    }

    #[test]
    fn a_pause_ends_a_step_and_a_new_change_ends_what_could_be_redone() {
        let mut form = form();
        let mut history = History::new(form.clone());
        typed(&mut history, &mut form, "closed_diameter", "1180 mm");
        history.rest();
        typed(&mut history, &mut form, "closed_diameter", "1190 mm");
        let back = history.undo().unwrap();
        assert_eq!(back.text("closed_diameter"), "1180 mm");
        assert!(history.redoes().is_some());
        form = back;
        typed(&mut history, &mut form, "height", "735 mm");
        assert_eq!(history.redoes(), None);
    }

    #[test]
    fn a_text_that_cannot_be_used_is_a_step_too() {
        let mut form = form();
        let mut history = History::new(form.clone());
        typed(&mut history, &mut form, "closed_diameter", "wide");
        assert_eq!(history.undo().map(|f| f.all_refused().len()), Some(0));
    }

    #[test]
    fn no_more_steps_are_kept_than_stated() {
        let mut form = form();
        let mut history = History::new(form.clone());
        for i in 0..MOST + 20 {
            history.rest();
            typed(&mut history, &mut form, "height", &format!("{} mm", 700 + i % 2));
        }
        let mut steps = 0;
        while history.undo().is_some() {
            steps += 1;
        }
        assert_eq!(steps, MOST);
    }

    /// The plan with its revision frozen, as the worker gives it back.
    fn issued(form: &Form) -> Form {
        let mut plan = form.plan().clone();
        let mut now = plan.revision().clone();
        now.date = Some(Date { year: 2026, month: 2, day: 1 });
        plan.set_revision(now).unwrap();
        plan.issue("test", "0", Vec::new(), String::new()).unwrap();
        let mut form = form.clone();
        form.keep_issued(&plan);
        form
    }

    #[test]
    fn undoing_takes_sizes_back_but_nothing_that_was_issued() {
        let mut form = form();
        let mut history = History::new(form.clone());
        typed(&mut history, &mut form, "height", "735 mm");
        form = issued(&form);
        history.issued(&form);
        history.note(&form);
        assert_eq!(history.undoes(), Some("height"), "issuing is no step");
        let back = history.undo().unwrap();
        assert_eq!(back.text("height"), "740 mm");
        assert_eq!(back.plan().revisions().len(), 1);
        assert_eq!(back.plan().revision().mark, "B");
        assert_eq!(history.redo().unwrap().plan().revisions().len(), 1);
    }

    #[test]
    fn what_one_plan_issued_is_not_put_into_another_that_lay_here_before() {
        let before = form();
        let mut history = History::new(before.clone());
        let mut other = Form::new(Plan::default_inch());
        other.name("Another table").unwrap();
        history.note(&other);
        assert_eq!(history.undoes(), Some("another plan"));
        let other = issued(&other);
        history.issued(&other);
        assert_eq!(history.undo(), Some(before));
    }
}
