//! The register of copies as the app speaks of it: what is asked about it, and what is said of it.
//!
//! In: the list as a text, deeds. Out: questions and answers that cross to the worker; sentences.
//! Always true: the page itself takes no list apart and writes none; nothing of a list gets into a plan. Nothing here
//! touches the browser.

use crate::core::{Holder, News, PastMark, Plan, Register, older};
use serde::{Deserialize, Serialize};

/// What is done with a list, whose text crosses beside it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Deed {
    /// Read it; the name is what sentences call it.
    Read(String),
    /// Add a copy.
    Add(Holder),
    /// Change the copy at a place, as it was shown, into another.
    Change(usize, Holder, Holder),
    /// Take the copy at a place out, as it was shown.
    Remove(usize, Holder),
    /// Put a row back that was taken out, or changed into the copy named.
    PutBack(usize, String, Option<Holder>),
    /// The mail about one copy.
    Mail(Tidings, Holder),
    /// The mails to everybody whose copy is older, as one text.
    Mails(Tidings),
}

/// What there is to tell of.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Tidings {
    title: String,
    /// Mark, day and what it changed of everything issued, in order.
    issued: Vec<(String, String, String)>,
    working: String,
    link: String,
}

/// A list as it is shown.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
pub struct List {
    /// Its copies in their order.
    pub copies: Vec<Holder>,
    /// Columns of the maker's own.
    pub own: Vec<String>,
    /// The row that the deed changed or took out, as it was.
    pub was: Option<String>,
}

/// A mail as it is shown.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Letter {
    /// Head and text.
    pub whole: String,
    /// What opens it in a mail program.
    pub link: Option<String>,
}

/// An answer about a list.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Told {
    /// The list after the deed; its text crosses beside it.
    List(List),
    /// To [`Deed::Mail`].
    Mail(Letter),
    /// To [`Deed::Mails`]; the text crosses beside it.
    Mails,
}

/// What a message about copies brings back, or leads to.
#[derive(Clone, Debug, PartialEq)]
pub enum Return {
    /// A row of the list of the plan named: its place, as it was, and what it was changed into.
    Row(String, usize, String, Option<Holder>),
    /// The whole list of the plan named.
    List(String, String),
    /// Noting whom what was just saved is for, of the revision named.
    Note(String),
}

impl Tidings {
    /// Of the plan's last issued revision; `link` is where it can be fetched from, or empty.
    pub fn of(plan: &Plan, link: &str) -> Tidings {
        let issued = plan.revisions().iter().map(|r| (r.mark.clone(), r.date.to_string(), r.what.clone()));
        Tidings {
            title: plan.texts().title.clone(),
            issued: issued.collect(),
            working: plan.revision().mark.clone(),
            link: link.trim().into(),
        }
    }

    fn tell<T>(&self, run: impl FnOnce(&News<'_>) -> T) -> Result<T, String> {
        let past = |(mark, date, what): &(String, String, String)| PastMark {
            mark: mark.clone(),
            date: date.clone(),
            what: what.clone(),
        };
        let issued: Vec<PastMark> = self.issued.iter().map(past).collect();
        let mark = News::mark(&issued, None)?;
        let link = Some(self.link.as_str());
        Ok(run(&News { title: &self.title, issued: &issued, working: &self.working, mark, link }))
    }
}

impl Deed {
    /// Does it on a list's bytes: what is said of it, and the bytes that go with that.
    pub fn done(self, bytes: &[u8]) -> Result<(Told, Vec<u8>), String> {
        let name = if let Deed::Read(name) = &self { name.as_str() } else { "The list of copies" };
        let mut all = Register::parse(name, bytes)?;
        let was = match self {
            Deed::Read(_) => None,
            Deed::Add(copy) => all.add(&copy).map(|()| None)?,
            Deed::Change(at, was, now) => Some(all.change(at, &was, &now)?),
            Deed::Remove(at, was) => Some(all.remove(at, &was)?),
            Deed::PutBack(at, raw, over) => all.put_back(at, &raw, over.as_ref()).map(|()| None)?,
            Deed::Mail(tidings, copy) => {
                let mail = tidings.tell(|news| news.mail(&copy))?;
                return Ok((Told::Mail(Letter { whole: mail.whole(), link: mail.link() }), Vec::new()));
            }
            Deed::Mails(tidings) => {
                let text = tidings.tell(|news| news.letters(all.copies()))?;
                return Ok((Told::Mails, text.into_bytes()));
            }
        };
        let list = List { copies: all.copies().collect(), own: all.own_columns(), was };
        Ok((Told::List(list), all.text().into_bytes()))
    }
}

/// Whether a copy is older than the plan's last issued revision.
pub fn is_older(plan: &Plan, copy: &Holder) -> bool {
    let marks: Vec<&str> = plan.revisions().iter().map(|r| r.mark.as_str()).collect();
    marks.last().is_some_and(|last| older(&marks, &plan.revision().mark, &copy[3], last))
}

/// The places of the copies that a list shows, the one noted last on top: those with these words in them, or of those
/// only the older ones.
pub fn listed(copies: &[Holder], words: &str, only: Option<&Plan>) -> Vec<usize> {
    let words = words.to_lowercase();
    let has = |copy: &Holder| {
        let all = copy.join(" ").to_lowercase();
        words.split_whitespace().all(|word| all.contains(word))
    };
    let fits = |copy: &Holder| only.is_none_or(|plan| is_older(plan, copy));
    (0..copies.len()).rev().filter(|at| fits(&copies[*at]) && has(&copies[*at])).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::{Answer, Ask, Bench, Checks};
    use crate::core::NO_COPIES;

    fn holder(name: &str, revision: &str) -> Holder {
        [name, "a@example.org", "2026-02-01", revision, "", "mm", "a4"].map(String::from)
    }

    fn list(deed: Deed, text: &str) -> (List, String) {
        match Checks::default().answer(Ask::Copies(Box::new(deed), text.into())) {
            Answer::Copies(Told::List(list), bytes) => (list, String::from_utf8(bytes).unwrap()),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_list_lives_through_its_deeds() {
        let (_, text) = list(Deed::Add(holder("Ann", "A")), NO_COPIES);
        let (two, text) = list(Deed::Add(holder("Ben", "B")), &text);
        assert_eq!(two.copies.len(), 2);
        let (changed, text) = list(Deed::Change(0, holder("Ann", "A"), holder("Ann", "B")), &text);
        let was = changed.was.unwrap();
        let (back, text) = list(Deed::PutBack(0, was, Some(holder("Ann", "B"))), &text);
        assert_eq!(back.copies, two.copies);
        let (one, text) = list(Deed::Remove(0, holder("Ann", "A")), &text);
        let (back, _) = list(Deed::PutBack(0, one.was.unwrap(), None), &text);
        assert_eq!(back.copies, two.copies);
        let refused =
            Checks::default().answer(Ask::Copies(Box::new(Deed::Add(holder("", "A"))), text.into_bytes()));
        assert!(matches!(refused, Answer::Failed(why) if why.contains("needs a name")));
        // The program of books knows no lists.
        let wrong = Bench::default().answer(Ask::Copies(Box::new(Deed::Read("x".into())), Vec::new()));
        assert!(matches!(wrong, Answer::Failed(why) if why.contains("wrong room")));
    }

    #[test]
    fn words_and_age_choose_what_is_listed() {
        let mut plan = Plan::default_metric();
        let copies = [holder("Ann Ash", "0"), holder("Ben Birch", "A"), holder("Ann Beech", "A")];
        assert_eq!(listed(&copies, "", None), [2, 1, 0]);
        assert_eq!(listed(&copies, "ANN a4", None), [2, 0]);
        // Nothing is issued, so nobody is to be told.
        assert_eq!(listed(&copies, "", Some(&plan)), [0; 0]);
        let dated =
            crate::core::Revision { date: crate::core::Date::parse("2026-02-01"), ..plan.revision().clone() };
        plan.set_revision(dated).unwrap();
        let Answer::Editions(crate::revising::Told::Issued(issued), _) =
            Bench::default().answer(Ask::Editions(crate::revising::Asked::Issue(plan.to_json())))
        else {
            panic!("not issued")
        };
        let (plan, _) = Plan::parse(issued.plan.as_bytes()).unwrap();
        assert_eq!(listed(&copies, "", Some(&plan)), [0]);
        let told =
            Deed::Mail(Tidings::of(&plan, ""), holder("Ann", "0")).done(NO_COPIES.as_bytes()).unwrap().0;
        let Told::Mail(letter) = told else { panic!("{told:?}") };
        assert!(letter.whole.contains("Revision A is free for you") && !letter.whole.contains("Download"));
        assert!(letter.link.is_some_and(|link| link.starts_with("mailto:a@example.org?subject=")));
    }
}
