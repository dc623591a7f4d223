//! The life of a plan: revisions issued one after another, questions asked and answered, and every issued book made
//! again at the end.
//!
//! The plan, its buyers and their questions are invented (demo).

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::process::Command;
use turnleaf_plan::planfile::{About, Date, Question, Revision, State};
use turnleaf_plan::{Edition, Group, PageState, Plan, Verdict, again, compare_editions, issue, plan_text};

fn demo(name: &str) -> Plan {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo").join(name);
    Plan::parse(&std::fs::read(path).unwrap()).unwrap().0
}

/// What each revision changes: a size, or only words.
const LIFE: [(&str, &str, &str); 12] = [
    ("", "", "First issue."),
    ("height", "745 mm", "Taller, for chairs with arms."),
    ("", "", "A note was added; nothing is cut differently."),
    ("tongue_clearance", "1.4 mm", "Tongues a little nearer."),
    ("tongue_depth", "5 mm", "Shorter tongues are easier to rout."),
    ("fitting_gap", "0.8 mm", "Wider gaps for damp rooms."),
    ("play", "1.2 mm", "More air between the layers."),
    ("open_diameter", "1640 mm", "Smaller when open."),
    ("height", "750 mm", "Taller once more."),
    ("ramp_sweep", "25 °", "A flatter ramp."),
    ("tongue_clearance", "1.41 mm", "A change too small to print."),
    ("closed_diameter", "1190 mm", "Smaller when closed."),
];

fn day(n: usize) -> Date {
    Date::parse(&format!("2026-{:02}-{:02}", n / 28 + 1, n % 28 + 1)).unwrap()
}

/// Forty questions over the life, three or four to a revision; every second one is answered in the next revision
/// and printed, every fifth declined.
fn question(number: u32, answered_in: &str) -> Question {
    let abouts = [
        (About::Dimension, "panel/dim/thickness"),
        (About::Part, "leaf"),
        (About::Page, "sheet/star"),
        (About::Book, ""),
    ];
    let (about, id) = abouts[number as usize % abouts.len()];
    let state = match number {
        n if n % 5 == 0 => State::Declined { why: "It depends on the room.".into() },
        n if n % 2 == 0 => State::Answered {
            revision: answered_in.into(),
            answer: format!("Answer {n}: measured without the tongue."),
            printed: true,
        },
        _ => State::Open,
    };
    let from = format!("Secret buyer {number}");
    let text = format!("Secret question {number}: measured how?");
    Question { number, about, id: id.into(), from, asked: Some(day(number as usize)), text, state }
}

/// Every number of a table as it prints, by identifier.
fn numbers(e: &Edition) -> BTreeMap<String, String> {
    let options = e.built.plan.options();
    e.built.numbers.iter().map(|n| (n.id.to_string(), plan_text(n, options))).collect()
}

#[test]
fn twelve_revisions_forty_questions_and_every_book_again() {
    let mut plan = demo("reading-room.json");
    plan.set_revisions(Vec::new()).unwrap();
    let mut books: Vec<(String, Vec<u8>)> = Vec::new();
    let mut editions: Vec<Edition> = Vec::new();
    let mut asked: Vec<Question> = Vec::new();
    let mut mark = "A".to_string();
    for (i, (field, text, reason)) in LIFE.iter().enumerate() {
        if !field.is_empty() {
            plan.set(field, text).unwrap();
        }
        if i == 2 {
            plan.set_notes(vec!["Wax the slides before the first turn.".into()]).unwrap();
        }
        while asked.len() < (i + 1) * 40 / LIFE.len() {
            asked.push(question(asked.len() as u32 + 1, &mark));
        }
        plan.set_questions(asked.clone()).unwrap();
        let revision =
            Revision { mark: mark.clone(), date: Some(day(i * 20)), reasons: vec![(*reason).into()] };
        plan.set_revision(revision).unwrap();
        let edition = issue(&mut plan).unwrap_or_else(|d| panic!("{mark}: {d:?}"));
        books.push((mark, turnleaf_plan::pdf(&edition.document).unwrap()));
        editions.push(edition);
        mark = plan.revision().mark.clone();
        // What was saved is what is opened.
        let (opened, said) = Plan::parse(plan.to_json().as_bytes()).unwrap();
        assert!(said.is_empty(), "{said:?}");
        assert_eq!(opened, plan);
        plan = opened;
    }
    assert_eq!(plan.questions().len(), 40);
    assert_eq!(books.iter().map(|b| b.0.as_str()).collect::<Vec<_>>().join(""), "ABCDEFGHJKLM");

    // Later edits reach no issued revision.
    plan.set("sectors", "8").unwrap();
    for (mark, book) in &books {
        let made = again(&plan, mark).unwrap();
        assert!(made.same && made.differs.is_empty(), "{mark}: {:?}", made.differs);
        assert!(made.pdf == *book, "the book of revision {mark} is not the one that was issued");
        // Who asked and what stays with the maker.
        let carried = &made.edition.document.attachments[0].data;
        let carried = std::str::from_utf8(carried).unwrap();
        assert!(!carried.contains("Secret"), "{mark}");
    }

    let mut same = 0;
    for (k, pair) in editions.windows(2).enumerate() {
        let c = compare_editions(&pair[0], &pair[1]);
        // The list of changed numbers is the difference of both lists of printed numbers.
        let (was, is) = (numbers(&pair[0]), numbers(&pair[1]));
        let all: BTreeSet<&String> = was.keys().chain(is.keys()).collect();
        let differ: BTreeSet<&str> =
            all.into_iter().filter(|id| was.get(*id) != is.get(*id)).map(String::as_str).collect();
        let said: BTreeSet<&str> =
            c.changes.iter().filter(|x| x.group == Group::Number).map(|x| x.id.as_str()).collect();
        assert_eq!(said, differ, "revision {k}");
        // Parts that stay good turn in the new table.
        assert!(c.old_parts_fail.is_empty(), "revision {k}: {:?}", c.old_parts_fail);
        if LIFE[k + 1].0.is_empty() {
            assert!(c.parts.iter().all(|v| v.verdict == Verdict::Good), "only words changed");
            assert!(c.changes.iter().all(|x| x.group == Group::Page), "{:?}", c.changes);
        } else if LIFE[k + 1].1 != "1.41 mm" {
            assert!(c.changes.iter().any(|x| x.group == Group::Size && x.id == LIFE[k + 1].0));
        } else {
            // It does not print, so it is no change.
            assert!(!c.changes.iter().any(|x| x.group == Group::Size), "{:?}", c.changes);
        }
        same += c.pages.iter().filter(|p| p.state == PageState::Same).count();
    }
    assert!(same > 100, "only {same} pages stayed the same over the whole life");
}

/// Pictures of the pages of a book at 72 dots an inch, by poppler.
fn pictures(pdf: &[u8], name: &str) -> Vec<Vec<u8>> {
    let folder = std::env::temp_dir().join(format!("turnleaf-editions-{}-{name}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("book.pdf");
    std::fs::write(&file, pdf).unwrap();
    let done = Command::new("pdftoppm").args(["-r", "72", "-gray"]).arg(&file).arg(folder.join("p")).status();
    assert!(done.expect("pdftoppm, of the package poppler-utils, is needed").success());
    let mut files: Vec<_> = std::fs::read_dir(&folder).unwrap().flatten().map(|e| e.path()).collect();
    files.retain(|p| p.extension().is_some_and(|e| e == "pgm"));
    files.sort();
    let pictures = files.iter().map(|p| std::fs::read(p).unwrap()).collect();
    std::fs::remove_dir_all(&folder).unwrap();
    pictures
}

#[test]
fn pages_said_to_be_the_same_look_the_same_and_changed_ones_do_not() {
    let mut plan = demo("window-table.json");
    let mut make = |height: &str, n: usize| {
        plan.set("height", height).unwrap();
        let mut revision = plan.revision().clone();
        (revision.date, revision.reasons) = (Some(day(n)), vec!["Another height.".into()]);
        plan.set_revision(revision).unwrap();
        issue(&mut plan).unwrap()
    };
    let (old, new) = (make("29 in", 300), make("29 1/2 in", 320));
    let c = compare_editions(&old, &new);
    let show = |e: &Edition, name: &str| pictures(&turnleaf_plan::pdf(&e.document).unwrap(), name);
    let (before, after) = (show(&old, "old"), show(&new, "new"));
    assert_eq!((before.len(), after.len()), (old.document.pages.len(), new.document.pages.len()));
    let mut counts: BTreeMap<bool, usize> = BTreeMap::new();
    for p in &c.pages {
        let (Some(a), Some(b)) = (p.old, p.new) else { continue };
        let alike = before[a - 1] == after[b - 1];
        match p.state {
            PageState::Same => assert!(alike, "{} is said to be the same", p.id),
            PageState::Changed | PageState::Renumbered => assert!(!alike, "{} is said to differ", p.id),
            PageState::Added | PageState::Removed => {}
        }
        *counts.entry(alike).or_default() += 1;
    }
    assert!(counts[&true] >= 20 && counts[&false] >= 5, "{counts:?}");
}

#[test]
fn what_cannot_be_issued_says_why_and_changes_nothing() {
    let plan = demo("reading-room.json");
    let refused = |change: &dyn Fn(&mut Plan)| {
        let mut plan = plan.clone();
        change(&mut plan);
        let before = plan.clone();
        let said = issue(&mut plan).unwrap_err();
        assert_eq!(plan, before);
        said[0].sentence.clone()
    };
    let dated =
        |mark: &str, date: &str| Revision { mark: mark.into(), date: Date::parse(date), reasons: Vec::new() };
    let undated = refused(&|p| p.set_revision(Revision { date: None, ..dated("C", "") }).unwrap());
    assert!(undated.contains("no date"), "{undated}");
    let early = refused(&|p| p.set_revision(dated("C", "2001-01-01")).unwrap());
    assert!(early.contains("before revision"), "{early}");
    let taken = refused(&|p| p.set_revision(dated("A", "2030-01-01")).unwrap());
    assert!(taken.contains("issued before"), "{taken}");
    let unsound = refused(&|p| {
        p.set_revision(dated("C", "2030-01-01")).unwrap();
        p.set("leaf_arm_bend", "0 mm").unwrap();
    });
    assert!(!unsound.is_empty(), "{unsound}");
}

#[test]
fn a_frozen_plan_that_was_changed_by_hand_is_found_out() {
    let mut plan = demo("reading-room.json");
    let mut revision = plan.revision().clone();
    revision.date = Some(day(300));
    plan.set_revision(revision.clone()).unwrap();
    issue(&mut plan).unwrap();
    let json = plan.to_json();
    let at = json.find("\"frozen\"").unwrap();
    let changed = json[at..].replacen("740 mm", "741 mm", 1);
    assert_ne!(changed, json[at..]);
    let (forged, _) = Plan::parse(format!("{}{changed}", &json[..at]).as_bytes()).unwrap();
    let made = again(&forged, &revision.mark).unwrap();
    assert!(!made.same);
    assert!(made.differs.iter().any(|d| d.contains("sheet/leg")), "{:?}", made.differs);
}
