//! Buyers' questions: writing them down, answering them, finding them again.
//!
//! In: what is typed. Out: the questions of a plan.
//! Always true: a number once given is never given to another question of the same list; what was typed as an
//! answer stays when the state is only looked at. Nothing here touches the browser.

use crate::core::{About, Plan, Question, State, Thing};

/// What questions can be about, with what it is called.
pub const ABOUTS: [(About, &str); 5] = [
    (About::Dimension, "a dimension"),
    (About::Part, "a part"),
    (About::Step, "a build step"),
    (About::Page, "a page"),
    (About::Book, "the book as a whole"),
];

/// Which questions a list shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Which {
    /// All.
    #[default]
    All,
    /// Not answered yet.
    Open,
    /// Answered in a revision.
    Answered,
    /// Declined.
    Declined,
}

impl Which {
    /// All filters with their words.
    pub const WORDS: [(Which, &'static str); 4] = [
        (Which::All, "all"),
        (Which::Open, "open"),
        (Which::Answered, "answered"),
        (Which::Declined, "declined"),
    ];

    /// Whether a question passes.
    pub fn takes(self, question: &Question) -> bool {
        match self {
            Which::All => true,
            Which::Open => question.state == State::Open,
            Which::Answered => matches!(question.state, State::Answered { .. }),
            Which::Declined => matches!(question.state, State::Declined { .. }),
        }
    }
}

/// Whether a question has these words in it somewhere, in capitals or not. No words are everywhere.
pub fn has_words(question: &Question, subject: &str, words: &str) -> bool {
    let answer = match &question.state {
        State::Open => "",
        State::Answered { answer, .. } => answer,
        State::Declined { why } => why,
    };
    let all = [&question.text, &question.from, &question.id, subject, answer].join(" ").to_lowercase();
    words.to_lowercase().split_whitespace().all(|word| all.contains(word))
}

/// The number of the next question.
pub fn next_number(questions: &[Question]) -> u32 {
    questions.iter().map(|q| q.number).max().unwrap_or(0).saturating_add(1)
}

/// What a question is about, in words.
pub fn subject(question: &Question, things: &[Thing]) -> String {
    if question.about == About::Book {
        return "the book as a whole".into();
    }
    let found = things.iter().find(|t| t.about == question.about.key() && t.id == question.id);
    match found {
        Some(thing) if thing.of.is_empty() => format!("{}: {}", kind(question.about), thing.label),
        Some(thing) => format!("{} of {}: {}", kind(question.about), thing.of, thing.label),
        None => format!("{}: {} (not in the table as it is now)", kind(question.about), question.id),
    }
}

fn kind(about: About) -> &'static str {
    match about {
        About::Dimension => "dimension",
        About::Part => "part",
        About::Step => "build step",
        About::Page => "page",
        About::Book => "book",
    }
}

/// The state in words.
pub fn state_words(state: &State) -> String {
    match state {
        State::Open => "open".into(),
        State::Answered { revision, printed, .. } => {
            format!("answered in revision {revision}{}", if *printed { ", printed" } else { "" })
        }
        State::Declined { .. } => "declined".into(),
    }
}

/// Changes one question of a plan.
pub fn with(plan: &Plan, number: u32, change: impl FnOnce(&mut Question)) -> Vec<Question> {
    let mut all = plan.questions().to_vec();
    if let Some(question) = all.iter_mut().find(|q| q.number == number) {
        change(question);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn question(number: u32, state: State) -> Question {
        Question {
            number,
            about: About::Part,
            id: "panel".into(),
            from: "a buyer".into(),
            asked: None,
            text: "Is the Tongue included?".into(),
            state,
        }
    }

    #[test]
    fn filters_part_the_list_and_words_are_found_anywhere() {
        let answered = State::Answered { revision: "B".into(), answer: "Yes.".into(), printed: true };
        let list = [
            question(1, State::Open),
            question(2, answered),
            question(5, State::Declined { why: "Another table.".into() }),
        ];
        for (which, words) in Which::WORDS.into_iter().skip(1) {
            assert_eq!(list.iter().filter(|q| which.takes(q)).count(), 1, "{words}");
        }
        assert!(list.iter().all(|q| Which::All.takes(q)));
        assert!(has_words(&list[0], "", "tongue INCLUDED") && has_words(&list[2], "", "another table"));
        assert!(!has_words(&list[0], "", "groove") && has_words(&list[0], "", ""));
        assert_eq!(next_number(&list), 6);
        assert_eq!(next_number(&[]), 1);
    }

    #[test]
    fn a_thing_that_is_gone_is_said_by_its_identifier() {
        let things =
            [Thing { about: "part".into(), id: "panel".into(), label: "Panel".into(), of: String::new() }];
        assert_eq!(subject(&question(1, State::Open), &things), "part: Panel");
        assert!(subject(&question(1, State::Open), &[]).contains("not in the table"));
    }
}
