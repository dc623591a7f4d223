//! Buyers' questions and their answers.
//!
//! In: what the maker writes down. Out: [`Question`]s of a plan.
//! Always true: a question is about a thing by its stable identifier, so that renumbering pages does not lose it;
//! who asked, and when and in what words, never leaves the maker's own file.

use crate::json::Json;
use crate::texts::{self, Date, MAKER_MAX, NOTE_MAX};
use turnleaf_diag::Diagnostic;

/// What a question is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum About {
    /// A printed dimension ("panel/dim/radius/outer-arc").
    Dimension,
    /// A part ("panel").
    Part,
    /// A step of the building.
    Step,
    /// A page ("sheet/panel").
    Page,
    /// The book as a whole.
    Book,
}

impl About {
    /// All, with their words in the file.
    pub const WORDS: [(&'static str, About); 5] = [
        ("dimension", About::Dimension),
        ("part", About::Part),
        ("step", About::Step),
        ("page", About::Page),
        ("book", About::Book),
    ];
    /// The word in the file.
    pub fn key(self) -> &'static str {
        About::WORDS.iter().find(|w| w.1 == self).map_or("book", |w| w.0)
    }
    /// The thing with this word.
    pub fn from_key(key: &str) -> Option<About> {
        About::WORDS.iter().find(|w| w.0 == key).map(|w| w.1)
    }
}

/// How far a question has come.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub enum State {
    /// Not answered yet.
    #[default]
    Open,
    /// Answered.
    Answered {
        /// Mark of the revision that answers it.
        revision: String,
        /// The answer.
        answer: String,
        /// Whether the answer is printed where the question was about.
        printed: bool,
    },
    /// Not going to be answered by a revision, and why.
    Declined {
        /// Why.
        why: String,
    },
}

/// A buyer's question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// Its number in this plan, never used again.
    pub number: u32,
    /// What kind of thing it is about.
    pub about: About,
    /// The thing's stable identifier; empty for the book.
    pub id: String,
    /// Who asked. Stays in the maker's file.
    pub from: String,
    /// When. Stays in the maker's file.
    pub asked: Option<Date>,
    /// The question. Stays in the maker's file.
    pub text: String,
    /// How far it has come.
    pub state: State,
}

/// Longest identifier of a thing, in characters.
const ID_MAX: usize = 200;

impl Question {
    /// Checks the words of a question.
    pub(crate) fn check(&self) -> Result<(), Diagnostic> {
        let name = |what: &str| format!("{what} of question {}", self.number);
        texts::check("questions", &name("asker"), &self.from, MAKER_MAX)?;
        texts::check("questions", &name("text"), &self.text, NOTE_MAX)?;
        texts::check("questions", &name("subject"), &self.id, ID_MAX)?;
        match &self.state {
            State::Open => Ok(()),
            State::Answered { revision, answer, .. } => {
                texts::check_mark("questions", &name("revision"), revision)?;
                texts::check("questions", &name("answer"), answer, NOTE_MAX)
            }
            State::Declined { why } => texts::check("questions", &name("reason"), why, NOTE_MAX),
        }
    }

    /// What of it goes into a book: a printed answer, nothing else.
    pub(crate) fn printed_only(&self) -> Option<Question> {
        match &self.state {
            State::Answered { printed: true, .. } => {
                Some(Question { from: String::new(), asked: None, text: String::new(), ..self.clone() })
            }
            _ => None,
        }
    }

    /// As the file has it.
    pub(crate) fn tree(&self) -> Json {
        let pair = |key: &str, value: &str| (key.to_string(), Json::text(value));
        let mut out = vec![
            ("number".to_string(), Json::Number(self.number.into())),
            pair("about", self.about.key()),
            pair("id", &self.id),
        ];
        let some = [("from", self.from.clone()), ("text", self.text.clone())];
        out.extend(some.iter().filter(|s| !s.1.is_empty()).map(|s| pair(s.0, &s.1)));
        out.extend(self.asked.map(|d| pair("asked", &d.to_string())));
        match &self.state {
            State::Open => {}
            State::Answered { revision, answer, printed } => {
                out.push(pair("revision", revision));
                out.push(pair("answer", answer));
                out.push(("printed".to_string(), Json::Bool(*printed)));
            }
            State::Declined { why } => out.push(pair("declined", why)),
        }
        Json::Object(out)
    }
}
