//! Revisions as the app speaks of them: what is asked about editions, and what is said of them.
//!
//! In: plans as text. Out: questions and answers that cross to the worker; counts and sentences.
//! Always true: every question is answered by [`Asked::answer`] alone; nothing here touches the browser.

use crate::core::{
    Compared, Date, Editions, Issued, Line, Overlay, PageFate, PartFate, Plan, Side, State, Thing,
};
use serde::{Deserialize, Serialize};

/// A question about editions.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Asked {
    /// Issue the present revision.
    Issue(String),
    /// The book of an issued revision.
    Again(String, String),
    /// What differs between two editions.
    Compare(Side, Side),
    /// One page of both.
    Overlay(Side, Side, String),
    /// The change notice as a file.
    Notice(Side, Side),
    /// What a question can be about.
    Things(String),
}

/// An answer about editions.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Told {
    /// To [`Asked::Issue`].
    Issued(Issued),
    /// To [`Asked::Again`]: what differs from the issued file, nothing when it is the same.
    Again(Vec<String>),
    /// To [`Asked::Compare`].
    Compared(Compared),
    /// To [`Asked::Overlay`].
    Overlay(Overlay),
    /// To [`Asked::Notice`].
    Notice,
    /// To [`Asked::Things`].
    Things(Vec<Thing>),
}

impl Asked {
    /// A short name, for measurements.
    pub fn name(&self) -> &'static str {
        match self {
            Asked::Issue(_) => "issue",
            Asked::Again(..) => "again",
            Asked::Compare(..) => "compare",
            Asked::Overlay(..) => "overlay",
            Asked::Notice(..) => "notice",
            Asked::Things(_) => "things",
        }
    }

    /// Whether the answer is wanted even when the same is asked again: a deed or a file.
    pub fn wanted(&self) -> bool {
        matches!(self, Asked::Issue(_) | Asked::Again(..) | Asked::Notice(..) | Asked::Compare(..))
    }

    /// Answers, with a file where there is one.
    pub fn answer(self, editions: &mut Editions) -> Result<(Told, Vec<u8>), String> {
        let none = Vec::new();
        Ok(match self {
            Asked::Issue(plan) => (Told::Issued(editions.issue(&plan)?), none),
            Asked::Again(plan, mark) => {
                let (differs, pdf) = editions.again(&plan, &mark)?;
                (Told::Again(differs), pdf)
            }
            Asked::Compare(old, new) => (Told::Compared(editions.compare(&old, &new)?), none),
            Asked::Overlay(old, new, page) => (Told::Overlay(editions.overlay(&old, &new, &page)?), none),
            Asked::Notice(old, new) => (Told::Notice, editions.notice(&old, &new)?),
            Asked::Things(plan) => (Told::Things(editions.things(&plan)?), none),
        })
    }
}

/// Groups of a comparison in their order, with what they are called.
pub const GROUPS: [(&str, &str); 7] = [
    ("size", "Sizes"),
    ("option", "Choices"),
    ("number", "Numbers worked out"),
    ("part", "Parts to make"),
    ("hardware", "Things to buy"),
    ("dimension", "Dimensions on sheets"),
    ("step", "Build steps"),
];

/// Lines of one group.
pub fn of_group<'a>(found: &'a Compared, group: &'a str) -> impl Iterator<Item = &'a Line> {
    found.lines.iter().filter(move |line| line.group == group)
}

/// `1 page`, `3 pages`.
pub fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// How revisions and questions of a plan stand, in one line.
pub fn standing(plan: &Plan) -> String {
    let issued = plan.revisions().len();
    let open = plan.questions().iter().filter(|q| q.state == State::Open).count();
    let revisions = match issued {
        0 => "nothing is issued yet".to_string(),
        _ => format!("{} issued", counted(issued, "revision", "revisions")),
    };
    match open {
        0 => revisions,
        _ => format!("{revisions}, {}", counted(open, "open question", "open questions")),
    }
}

/// The whole comparison in one sentence.
pub fn summary(found: &Compared) -> String {
    let pages = |fates: &[PageFate]| found.pages.iter().filter(|p| fates.contains(&p.fate)).count();
    let again = pages(&[PageFate::Changed, PageFate::Added]);
    if found.lines.is_empty() && again == 0 && pages(&[PageFate::Removed]) == 0 {
        return "Nothing prints differently.".into();
    }
    let sizes = of_group(found, "size").count();
    let dimensions = of_group(found, "dimension").count();
    format!(
        "{} and {} print differently; {} to print again, {} gone, {} the same.",
        counted(sizes, "size", "sizes"),
        counted(dimensions, "dimension", "dimensions"),
        counted(again, "page", "pages"),
        counted(pages(&[PageFate::Removed]), "page", "pages"),
        counted(pages(&[PageFate::Same, PageFate::Renumbered]), "page", "pages"),
    )
}

/// What becomes of a page, in words.
pub fn page_word(fate: PageFate) -> &'static str {
    match fate {
        PageFate::Same => "same",
        PageFate::Renumbered => "same, other number",
        PageFate::Changed => "changed",
        PageFate::Added => "new",
        PageFate::Removed => "gone",
    }
}

/// What becomes of a part, in words.
pub fn part_word(fate: PartFate) -> &'static str {
    match fate {
        PartFate::Good => "still good",
        PartFate::Work => "needs work",
        PartFate::Again => "cut again",
        PartFate::NotNeeded => "no longer needed",
        PartFate::New => "new, to be made",
    }
}

/// The parts in one sentence.
pub fn parts_summary(found: &Compared) -> String {
    let fates =
        [PartFate::Good, PartFate::Work, PartFate::Again, PartFate::NotNeeded, PartFate::New].map(|fate| {
            let count = found.parts.iter().filter(|p| p.fate == fate).count();
            (count > 0).then(|| format!("{count} {}", part_word(fate)))
        });
    let said: Vec<String> = fates.into_iter().flatten().collect();
    if said.is_empty() { "There are no parts to make.".into() } else { format!("{}.", said.join(", ")) }
}

/// Paragraphs parted by line breaks, without empty ones.
pub fn reasons(text: &str) -> Vec<String> {
    text.lines().map(str::trim).filter(|line| !line.is_empty()).map(String::from).collect()
}

/// A day as typed; an error is one sentence. Empty is no day.
pub fn day(text: &str) -> Result<Option<Date>, String> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let sentence = || format!("“{text}” is not a day; write year, month, day as in 2026-03-14.");
    Date::parse(text).map(Some).ok_or_else(sentence)
}

/// The editions that can be compared, newest first: marks of those frozen in the plan, and the plan as it is now.
pub fn frozen(plan: &Plan) -> Vec<String> {
    plan.revisions().iter().rev().filter(|r| r.frozen().is_some()).map(|r| r.mark.clone()).collect()
}

/// A size of which no line's end parts the fraction from its whole inches, or the unit from its number.
pub fn unbroken(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    let mut before = ' ';
    for (at, letter) in text.char_indices() {
        let rest = &text[at + letter.len_utf8()..];
        let unit = ["mm", "in"].iter().any(|unit| {
            rest.strip_prefix(unit).is_some_and(|after| !after.starts_with(char::is_alphanumeric))
        });
        let held = before.is_ascii_digit() && (unit || rest.starts_with(|c: char| c.is_ascii_digit()));
        out.push(if letter == ' ' && held { '\u{a0}' } else { letter });
        before = letter;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::{Answer, Ask, Bench};
    use crate::core::Revision;

    fn ask(bench: &mut Bench, asked: Asked) -> (Told, Vec<u8>) {
        match bench.answer(Ask::Editions(asked)) {
            Answer::Editions(told, bytes) => (told, bytes),
            other => panic!("{other:?}"),
        }
    }

    fn dated(plan: &mut Plan, day: u8) {
        let revision = Revision { date: Some(Date { year: 2026, month: 2, day }), ..plan.revision().clone() };
        plan.set_revision(revision).unwrap();
    }

    #[test]
    fn how_it_stands_is_said_in_one_line() {
        let mut bench = Bench::default();
        let mut plan = Plan::default_metric();
        assert_eq!(standing(&plan), "nothing is issued yet");
        dated(&mut plan, 1);
        let (Told::Issued(issued), _) = ask(&mut bench, Asked::Issue(plan.to_json())) else {
            panic!("not issued")
        };
        let (mut plan, _) = Plan::parse(issued.plan.as_bytes()).unwrap();
        let question = |number| crate::core::Question {
            number,
            about: crate::core::About::Book,
            id: String::new(),
            from: String::new(),
            asked: None,
            text: "May I sell it?".into(),
            state: State::Open,
        };
        plan.set_questions(vec![question(1), question(2)]).unwrap();
        assert_eq!(standing(&plan), "1 revision issued, 2 open questions");
    }

    #[test]
    fn a_life_of_two_revisions() {
        let mut bench = Bench::default();
        let mut plan = Plan::default_metric();
        dated(&mut plan, 1);
        let (Told::Issued(issued), _) = ask(&mut bench, Asked::Issue(plan.to_json())) else { panic!() };
        assert_eq!(issued.mark, "A");
        let (mut plan, _) = Plan::parse(issued.plan.as_bytes()).unwrap();
        let (Told::Again(differs), first) = ask(&mut bench, Asked::Again(plan.to_json(), "A".into())) else {
            panic!()
        };
        assert!(differs.is_empty() && first.starts_with(b"%PDF-"));
        plan.set("tongue_depth", "8 mm").unwrap();
        let text = plan.to_json();
        let old = Side { plan: text.clone(), mark: Some("A".into()) };
        let new = Side { plan: text.clone(), mark: None };
        let (Told::Compared(found), _) = ask(&mut bench, Asked::Compare(old.clone(), new.clone())) else {
            panic!()
        };
        let size: Vec<&Line> = of_group(&found, "size").collect();
        assert_eq!(size.len(), 1);
        assert_eq!((size[0].id.as_str(), size[0].difference.as_str()), ("tongue_depth", "+2 mm (5/64 in)"));
        let panel = found.parts.iter().find(|p| p.id == "panel").unwrap();
        assert!(!panel.why.is_empty() && panel.fate != PartFate::Good, "{panel:?}");
        assert!(summary(&found).starts_with("1 size and "), "{}", summary(&found));
        let sheet = found.pages.iter().find(|p| p.id == "sheet/panel").unwrap();
        assert_eq!(sheet.fate, PageFate::Changed);
        let id = sheet.id.clone();
        let (Told::Overlay(laid), _) = ask(&mut bench, Asked::Overlay(old.clone(), new.clone(), id)) else {
            panic!()
        };
        for drawing in [&laid.same, &laid.gone, &laid.came] {
            assert!(
                drawing.starts_with("<svg") && !drawing.contains(" style=") && !drawing.contains("<rect")
            );
        }
        assert!([&laid.same, &laid.gone, &laid.came].iter().all(|drawing| drawing.contains("<text")));
        let (Told::Notice, notice) = ask(&mut bench, Asked::Notice(old, new)) else { panic!() };
        assert!(notice.starts_with(b"%PDF-"));
        // Nothing done since reaches what was issued.
        let (_, again) = ask(&mut bench, Asked::Again(text, "A".into()));
        assert!(again == first);
    }

    #[test]
    fn a_plan_against_itself_has_no_change() {
        let mut bench = Bench::default();
        let side = Side { plan: Plan::default_metric().to_json(), mark: None };
        let (Told::Compared(found), _) = ask(&mut bench, Asked::Compare(side.clone(), side)) else {
            panic!()
        };
        assert_eq!(summary(&found), "Nothing prints differently.");
        assert!(found.parts.iter().all(|p| p.fate == PartFate::Good));
    }

    #[test]
    fn there_is_something_of_every_kind_to_ask_about() {
        let things = Asked::Things(Plan::default_metric().to_json());
        let (Told::Things(things), _) = ask(&mut Bench::default(), things) else { panic!() };
        for (about, id) in
            [("dimension", "panel/dim/"), ("part", "panel"), ("step", "fit/base"), ("page", "sheet/panel")]
        {
            assert!(things.iter().any(|t| t.about == about && t.id.starts_with(id)), "{about} {id}");
        }
    }

    #[test]
    fn what_cannot_be_done_is_one_sentence() {
        let mut bench = Bench::default();
        let plan = Plan::default_metric().to_json();
        for asked in [
            Asked::Issue(plan.clone()),
            Asked::Issue("{".into()),
            Asked::Again(plan.clone(), "B".into()),
            Asked::Compare(Side { plan: plan.clone(), mark: Some("B".into()) }, Side { plan, mark: None }),
        ] {
            let Answer::Failed(sentence) = bench.answer(Ask::Editions(asked)) else { panic!("done") };
            assert!(sentence.ends_with('.'), "{sentence}");
        }
    }

    #[test]
    fn days_and_reasons_are_read_as_typed() {
        assert_eq!(day(" 2026-02-01 ").unwrap(), Some(Date { year: 2026, month: 2, day: 1 }));
        assert_eq!(day(""), Ok(None));
        assert!(day("2026-02-30").unwrap_err().contains("not a day"));
        assert_eq!(reasons("Taller.\n\n  As a buyer asked. \n"), ["Taller.", "As a buyer asked."]);
    }

    #[test]
    fn a_size_is_not_parted_at_a_line_s_end() {
        let plain = |text: &str| text.replace('\u{a0}', "_");
        assert_eq!(
            plain(&unbroken("6 × top stock, 36 × 40 × 21 mm (1 27/64 × 53/64 in)")),
            "6 × top stock, 36 × 40 × 21_mm (1_27/64 × 53/64_in)"
        );
        assert_eq!(plain(&unbroken("screw 3 into the hub, 2 inner")), "screw 3 into the hub, 2 inner");
    }
}
