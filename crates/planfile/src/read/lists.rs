//! Reading the lists of a plan: earlier revisions with what is frozen of them, and questions.
//!
//! In: JSON. Out: lists whose entries could be read; what could not is said.
//! Always true: a frozen plan is kept as it stands and read only when it is asked for.

use super::{Pairs, Reader, take};
use crate::issue::{Frozen, FrozenPage};
use crate::json::Json;
use crate::plan::check_list;
use crate::questions::{About, Question, State};
use crate::say::wrong_type;
use crate::shared::{self, Shared};
use crate::texts::{self, LIST_MAX, MAKER_MAX, NOTE_MAX, PastRevision};
use std::sync::Arc;
use turnleaf_diag::Diagnostic;

/// Most characters of the fingerprints of one book: some forty thousand printed lines.
const FIGURES_MAX: usize = 250_000;

impl Reader {
    pub(super) fn revisions(&mut self, from: Option<Json>, shared: &mut Shared) -> Vec<PastRevision> {
        let list = match from {
            None | Some(Json::Null) => return Vec::new(),
            Some(Json::List(list)) => list,
            Some(other) => {
                self.found.push(wrong_type(
                    "revisions",
                    "list of earlier revisions",
                    &other,
                    "a list in brackets",
                ));
                return Vec::new();
            }
        };
        let fits = check_list("revisions", "earlier revisions", list.len());
        if self.keep(fits).is_none() {
            return Vec::new();
        }
        let mut out = Vec::new();
        for (i, item) in list.into_iter().enumerate() {
            let name = format!("earlier revision number {}", i + 1);
            let Json::Object(mut from) = item else {
                self.found.push(wrong_type("revisions", &name, &item, "a group of values in braces"));
                continue;
            };
            let mark = self.text(&mut from, "revisions.mark", "mark", &format!("mark of {name}"), NOTE_MAX);
            let fits = texts::check_mark("revisions", &format!("mark of {name}"), &mark);
            self.keep(fits);
            let date = self.text(&mut from, "revisions.date", "date", &format!("date of {name}"), NOTE_MAX);
            let date = texts::date("revisions", &format!("date of {name}"), &date);
            let date = self.keep(date);
            let what =
                self.text(&mut from, "revisions.what", "what", &format!("account of {name}"), NOTE_MAX);
            let frozen = take(&mut from, "frozen").and_then(|f| self.frozen(f, &name, shared));
            let pages: Vec<FrozenPage> = match take(&mut from, "pages") {
                None | Some(Json::Null) => Vec::new(),
                Some(Json::List(list)) => {
                    let count = list.len();
                    let read: Vec<FrozenPage> = list.into_iter().filter_map(frozen_page).collect();
                    if read.len() < count {
                        let lost = count - read.len();
                        let sentence =
                            format!("Of the pages of {name}, {lost} cannot be read; they count as changed.");
                        self.found.push(Diagnostic::warning("revisions.pages", sentence));
                    }
                    read
                }
                Some(other) => {
                    let name = format!("list of pages of {name}");
                    self.found.push(wrong_type("revisions.pages", &name, &other, "a list in brackets"));
                    Vec::new()
                }
            };
            let pages = Arc::new(pages);
            let named = format!("figures of {name}");
            let figures = self.text(&mut from, "revisions.figures", "figures", &named, FIGURES_MAX).into();
            let extra = self.rest("revisions", from);
            out.extend(date.map(|date| PastRevision { mark, date, what, frozen, pages, figures, extra }));
        }
        out
    }

    /// What was kept of an issued revision. Its plan is read when it is asked for.
    fn frozen(&mut self, from: Json, name: &str, shared: &mut Shared) -> Option<Arc<Frozen>> {
        let code = "revisions.frozen";
        let mut from = match from {
            Json::Object(pairs) => pairs,
            Json::Null => return None,
            other => {
                let name = format!("frozen plan of {name}");
                self.found.push(wrong_type(code, &name, &other, "a group of values in braces"));
                return None;
            }
        };
        let program = self.text(&mut from, code, "program", &format!("program of {name}"), MAKER_MAX);
        let book = self.text(&mut from, code, "book", &format!("fingerprint of {name}"), MAKER_MAX);
        match take(&mut from, "plan") {
            Some(mut plan @ Json::Object(_)) => {
                // Files of before pictures were shared hold them here.
                shared::take_out(&mut plan, shared);
                Some(Arc::new(Frozen { program, book, plan }))
            }
            _ => {
                let sentence =
                    format!("The frozen plan of {name} is missing; its book cannot be made again.");
                self.found.push(Diagnostic::warning("revisions.frozen.missing", sentence));
                None
            }
        }
    }

    pub(super) fn questions(&mut self, from: Option<Json>) -> Vec<Question> {
        let list = match from {
            None | Some(Json::Null) => return Vec::new(),
            Some(Json::List(list)) => list,
            Some(other) => {
                self.found.push(wrong_type("questions", "list of questions", &other, "a list in brackets"));
                return Vec::new();
            }
        };
        let fits = check_list("questions", "questions", list.len());
        if self.keep(fits).is_none() {
            return Vec::new();
        }
        let mut out: Vec<Question> = Vec::new();
        for (i, item) in list.into_iter().enumerate() {
            let name = format!("question number {}", i + 1);
            let Json::Object(from) = item else {
                self.found.push(wrong_type("questions", &name, &item, "a group of values in braces"));
                continue;
            };
            let question = self.question(from, &name);
            let checked = question.and_then(|q| {
                let fits = q.check();
                self.keep(fits).map(|()| q)
            });
            if let Some(q) = checked {
                if out.iter().any(|o| o.number == q.number) {
                    let sentence = format!("Two questions have the number {}; give one another.", q.number);
                    self.found.push(Diagnostic::error("questions.number", sentence));
                }
                out.push(q);
            }
        }
        out
    }

    fn question(&mut self, mut from: Pairs, name: &str) -> Option<Question> {
        let code = "questions";
        let number = match take(&mut from, "number") {
            Some(Json::Number(n)) => n.as_u64().and_then(|n| u32::try_from(n).ok()),
            _ => None,
        };
        let word = self.text(&mut from, code, "about", &format!("subject of {name}"), NOTE_MAX);
        let (Some(number), Some(about)) = (number, About::from_key(&word)) else {
            let words: Vec<&str> = About::WORDS.iter().map(|w| w.0).collect();
            let sentence = format!(
                "The {name} needs a whole “number” and what it is “about”: one of {}.",
                words.join(", ")
            );
            self.found.push(Diagnostic::error("questions.shape", sentence));
            return None;
        };
        let mut text = |key: &str, what: &str| {
            let present = from.iter().any(|(k, v)| k == key && *v != Json::Null);
            let text = self.text(&mut from, code, key, &format!("{what} of {name}"), NOTE_MAX);
            present.then_some(text)
        };
        let (id, asker) = (text("id", "identifier"), text("from", "asker"));
        let (asked, words) = (text("asked", "date"), text("text", "text"));
        let (revision, answer) = (text("revision", "revision"), text("answer", "answer"));
        let declined = text("declined", "reason");
        let printed = matches!(take(&mut from, "printed"), Some(Json::Bool(true)));
        let state = match (answer, declined) {
            (Some(answer), _) => State::Answered { revision: revision.unwrap_or_default(), answer, printed },
            (None, Some(why)) => State::Declined { why },
            (None, None) => State::Open,
        };
        let asked = asked.map(|d| texts::date(code, &format!("date of {name}"), &d));
        let asked = asked.and_then(|d| self.keep(d));
        self.rest("questions", from);
        Some(Question {
            number,
            about,
            id: id.unwrap_or_default(),
            from: asker.unwrap_or_default(),
            asked,
            text: words.unwrap_or_default(),
            state,
        })
    }
}

/// Identifier, fingerprint, flags, marks; nothing when one of them cannot be printed.
fn frozen_page(json: Json) -> Option<FrozenPage> {
    let Json::List(list) = json else { return None };
    let mut words = list.into_iter().map(|j| if let Json::Text(t) = j { Some(t) } else { None });
    let (id, print, flags) = (words.next()??, words.next()??, words.next()??);
    let marks = words.collect::<Option<Vec<String>>>()?;
    let fine = |text: &str, most: usize| texts::check("revisions", "page", text, most).is_ok();
    let printable = fine(&id, NOTE_MAX) && fine(&print, NOTE_MAX) && fine(&flags, FIGURES_MAX);
    let marked =
        marks.len() <= LIST_MAX && marks.iter().all(|m| texts::check_mark("revisions", "mark", m).is_ok());
    (printable && marked).then_some(FrozenPage { id, print, flags, marks })
}
