//! The heavy work: proof, checks, numbers.
//!
//! In: a question with the plan as text. Out: an answer as plain values that can cross to another thread.
//! Always true: every question gets exactly one answer; a question about a plan that gives no table is answered
//! with what is at odds. Nothing here touches the browser, so the work runs in a worker or, where there is none,
//! on the page itself.

use crate::core::{Built, Check, Number, Plan};
use crate::kept::first;
use serde::{Deserialize, Serialize};

/// A question.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Ask {
    /// Work this plan out and hold on to it.
    Build(String),
}

impl Ask {
    /// A short name, for measurements.
    pub fn name(&self) -> &'static str {
        match self {
            Ask::Build(_) => "build",
        }
    }
}

/// An answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Answer {
    /// To [`Ask::Build`].
    Built(Findings),
    /// It could not be done; one sentence.
    Failed(String),
}

/// What a build found.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
pub struct Findings {
    /// Solved numbers in book order.
    pub numbers: Vec<Number>,
    /// Checks in book order.
    pub checks: Vec<Check>,
}

impl Findings {
    /// A solved number.
    pub fn number(&self, id: &str) -> Option<&Number> {
        self.numbers.iter().find(|number| number.id == id)
    }
}

/// Who does the work, and what is held on to between questions.
#[derive(Default)]
pub struct Bench {
    built: Option<Built>,
}

impl Bench {
    /// Answers a question.
    pub fn answer(&mut self, ask: Ask) -> Answer {
        match ask {
            Ask::Build(plan) => match build(&plan) {
                Ok(built) => {
                    let findings = Findings { numbers: built.numbers(), checks: built.checks() };
                    self.built = Some(built);
                    Answer::Built(findings)
                }
                Err(sentence) => {
                    self.built = None;
                    Answer::Failed(sentence)
                }
            },
        }
    }
}

fn build(text: &str) -> Result<Built, String> {
    let (plan, _) = Plan::parse(text.as_bytes()).map_err(|found| first(&found))?;
    Built::new(&plan).map_err(|found| first(&found))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_plan_is_worked_out() {
        let Answer::Built(found) = Bench::default().answer(Ask::Build(Plan::default_metric().to_json()))
        else {
            panic!("not built");
        };
        assert!(found.number("closed.diameter").is_some_and(|n| n.text_mm.starts_with("1200")));
        assert!(!found.checks.is_empty());
    }

    #[test]
    fn rubbish_is_answered_with_a_sentence() {
        let Answer::Failed(sentence) = Bench::default().answer(Ask::Build("{".into())) else {
            panic!("built from rubbish");
        };
        assert!(sentence.ends_with('.'), "{sentence}");
    }

    #[test]
    fn answers_cross_to_another_thread_unchanged() {
        let answer = Bench::default().answer(Ask::Build(Plan::default_metric().to_json()));
        let text = serde_json::to_string(&answer).unwrap();
        assert_eq!(serde_json::from_str::<Answer>(&text).unwrap(), answer);
    }
}
