//! The form behind the sizes: what is typed, what of it is understood, what drives the drawing.
//!
//! In: edits as typed. Out: a [`Plan`] that always works, and for each field what to show.
//! Always true: typed text is never lost; a text that cannot be used stays in its field with a sentence, while
//! the plan keeps the last text that could. Nothing here touches the browser.

use crate::core::{Diagnostic, FIELDS, Options, Plan, PlanUnit, StepChange, read_chapters};
use std::collections::BTreeMap;

/// Fields beside the sizes: lengths of stock on hand, thicknesses measured on it, and the line of one's own copy.
pub const MORE: [&str; 9] = [
    "stock.kerf",
    "stock.margin",
    "stock.board",
    "measured.stock_thickness",
    "measured.plate_thickness",
    "measured.ply_thickness",
    "measured.slide_thickness",
    "measured.arm_thickness",
    IMPRINT,
];

/// The field of the line at the foot of every page that says whose copy it is.
pub const IMPRINT: &str = "copy.imprint";

/// A text that was refused, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Refused {
    /// As typed.
    pub text: String,
    /// What is wrong with it.
    pub sentence: String,
    /// What would work; may be empty.
    pub hint: String,
}

/// What a field shows.
#[derive(Clone, Debug, PartialEq)]
pub enum Shown {
    /// Left out: the number is worked out.
    Worked,
    /// Understood, as in `47 1/4 in (1200.15 mm)`.
    Understood(String),
    /// Refused.
    Wrong(Refused),
}

/// The form.
#[derive(Clone, Debug, PartialEq)]
pub struct Form {
    plan: Plan,
    refused: BTreeMap<&'static str, Refused>,
    /// Which chapters the book has when it is shown and saved: "whole", "shop", or keys parted by commas.
    chapters: String,
}

/// The whole book.
pub const WHOLE: &str = "whole";

impl Form {
    /// A form over a plan, nothing refused.
    pub fn new(plan: Plan) -> Form {
        Form { plan, refused: BTreeMap::new(), chapters: WHOLE.into() }
    }

    /// The plan as it can be used.
    pub fn plan(&self) -> &Plan {
        &self.plan
    }

    /// The text in a field.
    pub fn text(&self, id: &str) -> String {
        match self.refused.get(id) {
            Some(refused) => refused.text.clone(),
            None => self.typed(id).unwrap_or_default(),
        }
    }

    /// What the plan holds for a field.
    fn typed(&self, id: &str) -> Option<String> {
        match id.split_once('.') {
            Some(("stock", key)) => self.plan.typed_stock(key),
            Some(("measured", key)) => self.plan.typed_measured(key),
            Some(_) => Some(self.plan.imprint().to_string()).filter(|line| !line.is_empty()),
            None => self.plan.typed(id),
        }
    }

    /// What a text in a field would be understood as.
    fn understood(&self, id: &str, text: &str) -> Result<String, Diagnostic> {
        match id.split_once('.') {
            Some(("stock", key)) => self.plan.understand_stock(key, text),
            Some(("measured", key)) => self.plan.understand(key, text).map(|u| u.text),
            // Words are taken as they stand.
            Some(_) => Ok(text.to_string()),
            None => self.plan.understand(id, text).map(|u| u.text),
        }
    }

    /// Puts a text into the plan; gives the field that was emptied by it.
    fn put(&mut self, id: &str, text: &str) -> Result<Option<&'static str>, Diagnostic> {
        match id.split_once('.') {
            Some(("stock", key)) => self.plan.set_stock(key, text).map(|()| None),
            Some(("measured", key)) => self.plan.set_measured(key, text).map(|_| None),
            Some(_) => self.plan.set_imprint(text).map(|()| None),
            None => self.plan.set(id, text).map(|u| u.emptied),
        }
    }

    /// What a field shows below its text.
    pub fn shown(&self, id: &str) -> Shown {
        if let Some(refused) = self.refused.get(id) {
            return Shown::Wrong(refused.clone());
        }
        match self.typed(id) {
            None => Shown::Worked,
            Some(text) => match self.understood(id, &text) {
                Ok(understood) => Shown::Understood(understood),
                // The plan holds only texts that are understood; said all the same, should that ever fail.
                Err(why) => Shown::Wrong(refusal(&text, &why)),
            },
        }
    }

    /// The refused text of a field, and why.
    pub fn wrong(&self, id: &str) -> Option<&Refused> {
        self.refused.get(id)
    }

    /// Everything that [`Form::shown`] hangs on for a field: cheap to look at for every field at every letter.
    pub fn heard(&self, id: &str) -> (Option<String>, Option<Refused>, Options) {
        (self.typed(id), self.refused.get(id).cloned(), *self.plan.options())
    }

    /// Takes an edit of a size. True when the plan changed.
    pub fn edit(&mut self, id: &str, text: &str) -> bool {
        let Some(id) = known(id) else { return false };
        let before = self.typed(id);
        match self.put(id, text) {
            Ok(emptied) => {
                self.refused.remove(id);
                if let Some(emptied) = emptied {
                    self.refused.remove(emptied);
                }
                self.typed(id) != before || emptied.is_some()
            }
            Err(why) => {
                self.refused.insert(id, refusal(text, &why));
                false
            }
        }
    }

    /// Everything that a size's limits hang on beside the size itself: what else is typed, and what was chosen.
    pub fn beside(&self, id: &str) -> (Vec<Option<String>>, Options) {
        (ids().filter(|other| *other != id).map(|other| self.typed(other)).collect(), *self.plan.options())
    }

    /// Puts a field back to the text that could be used.
    pub fn give_up(&mut self, id: &str) {
        self.refused.remove(id);
    }

    /// Every refused field, in the order of the table of sizes, then those of the stock.
    pub fn all_refused(&self) -> Vec<(&'static str, &Refused)> {
        ids().filter_map(|id| Some((id, self.refused.get(id)?))).collect()
    }

    /// The chapters that the book has when it is shown and saved.
    pub fn chapters(&self) -> &str {
        &self.chapters
    }

    /// Chooses the chapters; a refusal comes back as a sentence and changes nothing.
    pub fn pick_chapters(&mut self, keys: &str) -> Result<(), String> {
        read_chapters(keys)?;
        self.chapters = keys.to_string();
        Ok(())
    }

    /// Changes the sheets on hand, as typed; a refusal comes back as a sentence and changes nothing.
    pub fn resheet(&mut self, sheets: &[String]) -> Result<(), String> {
        self.plan.set_sheets(sheets).map_err(|why| why.sentence)
    }

    /// Changes one option; a refusal comes back as a sentence and changes nothing. Texts that wait in their
    /// fields are tried again, since their unit may be another now.
    pub fn choose(&mut self, key: &str, word: &str) -> Result<(), String> {
        self.plan.set_option(key, word).map_err(|why| why.sentence)?;
        for (id, refused) in std::mem::take(&mut self.refused) {
            self.edit(id, &refused.text);
        }
        Ok(())
    }

    /// Names the plan; a refusal comes back as a sentence and changes nothing.
    pub fn name(&mut self, title: &str) -> Result<(), String> {
        let mut texts = self.plan.texts().clone();
        texts.title = title.to_string();
        self.plan.set_texts(texts).map_err(|why| why.sentence)
    }

    /// Changes the plan in any other way; a refusal comes back as a sentence and changes nothing.
    pub fn change(&mut self, deed: impl FnOnce(&mut Plan) -> Result<(), Diagnostic>) -> Result<(), String> {
        let mut plan = self.plan.clone();
        deed(&mut plan).map_err(|why| why.sentence)?;
        self.plan = plan;
        Ok(())
    }

    /// Takes over what a later state of this plan has issued.
    pub fn keep_issued(&mut self, later: &Plan) {
        self.plan.keep_issued(later);
    }

    /// Changes the maker's changes to the build steps; a refusal comes back as a sentence and changes nothing.
    pub fn restep(&mut self, change: impl FnOnce(&mut Vec<StepChange>)) -> Result<(), String> {
        let mut steps = self.plan.steps().to_vec();
        change(&mut steps);
        self.plan.set_steps(steps).map_err(|why| why.sentence)
    }

    /// The unit of numbers typed without one.
    pub fn unit(&self) -> PlanUnit {
        self.plan.options().unit
    }
}

/// What was understood, without what the maker has just typed: the other system after `1200 mm` or `3'11"`, the
/// millimetres after a bare `1200`.
pub fn brief(typed: &str, understood: &str) -> String {
    let squeezed = |text: &str| text.split_whitespace().collect::<String>();
    let has_unit = typed.contains(|c: char| c.is_alphabetic() || "'\"′″’”°".contains(c));
    // Radians are of no use at a bench.
    let (first, other) = match understood.split_once(" (") {
        Some((first, other)) => (first, other.strip_suffix(')').filter(|other| !other.ends_with("rad"))),
        None => (understood, None),
    };
    match other {
        Some(other) if has_unit => other.to_string(),
        _ if squeezed(first) == squeezed(typed) => String::new(),
        _ => format!("= {first}"),
    }
}

/// The keys of all fields: the sizes, then those beside them.
pub fn ids() -> impl Iterator<Item = &'static str> {
    FIELDS.iter().map(|field| field.id).chain(MORE)
}

/// The key as the table of sizes has it.
fn known(id: &str) -> Option<&'static str> {
    ids().find(|known| *known == id)
}

fn refusal(text: &str, why: &Diagnostic) -> Refused {
    Refused { text: text.to_string(), sentence: why.sentence.clone(), hint: why.hint.clone() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn form() -> Form {
        Form::new(Plan::default_metric())
    }

    #[test]
    fn a_size_is_kept_as_typed_and_said_back() {
        let mut form = form();
        assert!(form.edit("closed_diameter", "47 1/4\""));
        assert_eq!(form.text("closed_diameter"), "47 1/4\"");
        match form.shown("closed_diameter") {
            Shown::Understood(text) => {
                assert!(text.contains("47 1/4 in") && text.contains("1200.15 mm"), "{text}");
            }
            other => panic!("{other:?}"),
        }
        assert!((form.plan().length("closed_diameter").unwrap().mm() - 1200.15).abs() < 1e-9);
    }

    #[test]
    fn a_text_that_cannot_be_used_stays_in_its_field_and_the_plan_stays_as_it_was() {
        let mut form = form();
        let before = form.plan().clone();
        assert!(!form.edit("closed_diameter", "twelve hundred"));
        assert_eq!(form.text("closed_diameter"), "twelve hundred");
        assert_eq!(form.plan(), &before);
        let Shown::Wrong(wrong) = form.shown("closed_diameter") else { panic!("not refused") };
        assert!(wrong.sentence.contains("Closed diameter"), "{}", wrong.sentence);
        assert!(!wrong.hint.is_empty());
        assert_eq!(form.all_refused().len(), 1);
        form.give_up("closed_diameter");
        assert_eq!(form.text("closed_diameter"), before.typed("closed_diameter").unwrap());
    }

    #[test]
    fn typing_the_travel_empties_the_open_diameter() {
        let mut form = form();
        assert!(form.edit("travel", "210 mm"));
        assert_eq!(form.text("open_diameter"), "");
        assert_eq!(form.shown("open_diameter"), Shown::Worked);
    }

    #[test]
    fn a_refused_open_diameter_goes_when_the_travel_takes_its_place() {
        let mut form = form();
        form.edit("open_diameter", "wide");
        assert!(form.edit("travel", "210 mm"));
        assert_eq!(form.all_refused(), []);
    }

    #[test]
    fn what_is_beside_a_size_changes_with_everything_but_the_size() {
        let first = form().beside("closed_diameter");
        let after = |id: &str, text: &str| {
            let mut form = form();
            assert!(form.edit(id, text));
            form.beside("closed_diameter")
        };
        assert_eq!(after("closed_diameter", "1190 mm"), first);
        assert_ne!(after("height", "735 mm"), first);
        assert_ne!(after("measured.stock_thickness", "18.6 mm"), first);
    }

    #[test]
    fn what_is_shown_changes_only_with_what_is_heard() {
        let edits = [
            ("closed_diameter", "1190 mm"),
            ("closed_diameter", "wide"),
            ("travel", "210 mm"),
            ("stock.kerf", "3 mm"),
            ("measured.stock_thickness", "18.6 mm"),
            (IMPRINT, "Copy of a demo buyer"),
        ];
        let mut form = form();
        let states = |form: &Form| ids().map(|id| (form.heard(id), form.shown(id))).collect::<Vec<_>>();
        let mut all = states(&form);
        for (id, text) in edits {
            form.edit(id, text);
            all.extend(states(&form));
        }
        for (key, word) in [("unit", "in"), ("language", "de")] {
            form.choose(key, word).unwrap();
            all.extend(states(&form));
        }
        let fields = ids().count();
        let mut differ = 0;
        for field in 0..fields {
            let of_field: Vec<_> = all.iter().skip(field).step_by(fields).collect();
            for pair in of_field.windows(2) {
                if pair[0].1 != pair[1].1 {
                    differ += 1;
                    assert_ne!(pair[0].0, pair[1].0, "field {field}");
                }
            }
        }
        assert!(differ > edits.len(), "{differ}");
    }

    #[test]
    fn the_same_text_again_changes_nothing() {
        let mut form = form();
        let text = form.text("closed_diameter");
        assert!(!form.edit("closed_diameter", &text));
    }

    #[test]
    fn waiting_texts_are_tried_again_when_the_unit_changes() {
        let mut form = form();
        form.edit("closed_diameter", "48");
        assert_eq!(form.all_refused().len(), 1, "48 mm is no table");
        form.choose("unit", "in").unwrap();
        assert_eq!(form.all_refused(), []);
        assert!((form.plan().length("closed_diameter").unwrap().mm() - 1219.2).abs() < 1e-9);
    }

    #[test]
    fn only_what_was_not_typed_is_said_back() {
        assert_eq!(brief("1200 mm", "1200 mm (about 47 1/4 in)"), "about 47 1/4 in");
        assert_eq!(brief("1200", "1200 mm (about 47 1/4 in)"), "= 1200 mm");
        assert_eq!(brief("3'11\"", "47 in (1193.8 mm)"), "1193.8 mm");
        assert_eq!(brief("6", "6"), "");
        assert_eq!(brief("45 °", "45° (about 0.7854 rad)"), "");
        assert_eq!(brief("0.5 rad", "28.648° (about 0.5 rad)"), "= 28.648°");
    }

    #[test]
    fn stock_and_measured_thicknesses_are_fields_like_sizes() {
        let mut form = form();
        assert_eq!((form.text("stock.kerf"), form.shown("stock.kerf")), (String::new(), Shown::Worked));
        assert!(form.edit("stock.kerf", "1/8 in") && form.edit("measured.stock_thickness", "18.6 mm"));
        assert_eq!(form.plan().measured("stock_thickness").map(|l| l.mm()), Some(18.6));
        assert!(!form.edit("stock.margin", "wide"));
        let Shown::Wrong(wrong) = form.shown("stock.margin") else { panic!("not refused") };
        assert!(wrong.sentence.contains("edge margin"), "{}", wrong.sentence);
        assert_eq!(form.all_refused().len(), 1);
        assert!(form.edit("measured.stock_thickness", ""));
        assert_eq!(form.plan().measured("stock_thickness"), None);
    }

    #[test]
    fn the_line_of_ones_own_copy_is_a_field_like_sizes() {
        let mut form = form();
        assert_eq!((form.text(IMPRINT), form.shown(IMPRINT)), (String::new(), Shown::Worked));
        assert!(form.edit(IMPRINT, " Copy 12, for the Reading Room (demo) "));
        assert_eq!(form.plan().imprint(), "Copy 12, for the Reading Room (demo)");
        for (text, word) in [("x".repeat(121), "121 characters; 120 fit"), ("a\u{202e}b".into(), "U+202E")] {
            assert!(!form.edit(IMPRINT, &text));
            let Shown::Wrong(wrong) = form.shown(IMPRINT) else { panic!("not refused") };
            assert!(
                wrong.sentence.contains(word) && wrong.sentence.contains("imprint"),
                "{}",
                wrong.sentence
            );
            assert_eq!((form.text(IMPRINT), form.plan().imprint().len()), (text, 36));
        }
        assert!(form.edit(IMPRINT, "") && form.plan().imprint().is_empty());
    }

    #[test]
    fn chapters_that_do_not_exist_are_refused_with_a_sentence() {
        let mut form = form();
        form.pick_chapters("lists,jigs").unwrap();
        assert!(form.pick_chapters("recipes").unwrap_err().contains("recipes"));
        assert!(form.pick_chapters("").unwrap_err().ends_with('.'));
        assert_eq!(form.chapters(), "lists,jigs");
    }

    #[test]
    fn a_name_too_long_is_refused_with_a_sentence() {
        let mut form = form();
        form.name("Reading room").unwrap();
        let sentence = form.name(&"x".repeat(5000)).unwrap_err();
        assert!(sentence.ends_with('.'), "{sentence}");
        assert_eq!(form.plan().texts().title, "Reading room");
    }
}
