//! The life of a plan: revisions issued one after another, questions asked and answered, and every issued book made
//! again at the end.
//!
//! The plan, its buyers and their questions are invented (demo).

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::process::Command;
use turnleaf_page::Item;
use turnleaf_plan::planfile::{About, Date, Language, PrintChoice, Question, Revision, State};
use turnleaf_plan::{
    Change, Comparison, Edition, Group, PageState, Paper, Plan, Verdict, again, build, compare_editions,
    compare_tables, issue, pdf,
};
use turnleaf_tests::program::{self, call, folder};
use turnleaf_tests::spread;

fn demo(name: &str) -> Plan {
    Plan::parse(&program::demo(name)).unwrap().0
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

/// Every number of an edition as `turnleaf numbers --json` gives it: its text, and its value in its unit.
fn numbers(e: &Edition, place: &Path) -> BTreeMap<String, (String, f64, String)> {
    std::fs::write(place.join("plan.json"), e.built.plan.to_json()).unwrap();
    let done = call(&["numbers", "plan.json", "--json"], place);
    let list: Vec<Value> = serde_json::from_slice(&done.stdout).unwrap();
    let text = |n: &Value, key: &str| n[key].as_str().unwrap().to_string();
    list.iter()
        .map(|n| (text(n, "id"), (text(n, "text"), n["value"].as_f64().unwrap_or(f64::NAN), text(n, "unit"))))
        .collect()
}

/// The list of changed numbers is the difference of both lists of printed numbers, and its differences are theirs.
fn same_numbers(c: &Comparison, old: &Edition, new: &Edition, place: &Path) {
    std::fs::create_dir_all(place).unwrap();
    let (was, is) = (numbers(old, place), numbers(new, place));
    let all: BTreeSet<&String> = was.keys().chain(is.keys()).collect();
    let text = |of: &BTreeMap<String, (String, f64, String)>, id: &str| of.get(id).map(|n| n.0.clone());
    let differ: BTreeSet<&str> =
        all.into_iter().filter(|id| text(&was, id) != text(&is, id)).map(String::as_str).collect();
    let said: Vec<&Change> = c.changes.iter().filter(|x| x.group == Group::Number).collect();
    assert_eq!(said.iter().map(|x| x.id.as_str()).collect::<BTreeSet<_>>(), differ);
    for x in said {
        let (Some(by), Some(a), Some(b)) = (x.difference, was.get(&x.id), is.get(&x.id)) else { continue };
        assert_eq!(a.2, b.2, "{}", x.id);
        // Both figures are rounded to a tenth in print, ratios to a thousandth.
        let step = if a.2.is_empty() { 0.001 } else { 0.1 };
        assert!((by.value - (b.1 - a.1)).abs() <= step + 1e-9, "{}: {by:?} from {a:?} to {b:?}", x.id);
    }
}

/// Pictures of the pages of a book at 50 dots an inch, by poppler.
fn pictures(book: &[u8], place: &Path) -> Vec<Vec<u8>> {
    std::fs::create_dir_all(place).unwrap();
    let file = place.join("book.pdf");
    std::fs::write(&file, book).unwrap();
    let done = Command::new("pdftoppm").args(["-r", "50", "-gray"]).arg(&file).arg(place.join("p")).status();
    assert!(done.expect("pdftoppm, of the package poppler-utils, is needed").success());
    let mut files: Vec<_> = std::fs::read_dir(place).unwrap().flatten().map(|e| e.path()).collect();
    files.retain(|p| p.extension().is_some_and(|e| e == "pgm"));
    files.sort();
    files.iter().map(|p| std::fs::read(p).unwrap()).collect()
}

/// Pages said to be the same look the same, and the others do not; how many there were of either.
fn same_pictures(c: &Comparison, before: &[Vec<u8>], after: &[Vec<u8>]) -> (usize, usize) {
    let mut counts = (0, 0);
    for p in &c.pages {
        let (Some(a), Some(b)) = (p.old, p.new) else { continue };
        let alike = before[a - 1] == after[b - 1];
        assert_eq!(alike, p.state == PageState::Same, "{} is said to be {:?}", p.id, p.state);
        *(if alike { &mut counts.0 } else { &mut counts.1 }) += 1;
    }
    counts
}

/// A buyer's own copy: the revision it is of, the plan file as kept, the book made from it.
struct Copy {
    revision: String,
    kept: String,
    book: Vec<u8>,
}

/// Own height, line of the copy, measured thickness of the top, language and units of three buyers.
const BUYERS: [(usize, &str, &str, &str, Language, PrintChoice); 3] = [
    (1, "700 mm", "Copy one (demo)", "18.8 mm", Language::En, PrintChoice::Mm),
    (4, "725 mm", "Copy two (demo)", "", Language::De, PrintChoice::Both),
    (7, "27.8 in", "", "19.1 mm", Language::En, PrintChoice::Both),
];

/// The plan as it is sold, from 690 to 770 mm high.
fn for_sale(plan: &Plan) -> Plan {
    let limits = vec![plan.limit("height", "690 mm", "770 mm").unwrap()];
    let units = vec![PrintChoice::Mm, PrintChoice::Both];
    plan.for_buyers(limits, units, vec![Paper::A4], "For one table of your own.").unwrap()
}

/// What a buyer makes of the plan on sale.
fn bought(sale: &Plan, buyer: usize) -> Copy {
    let (_, height, imprint, measured, language, units) = BUYERS[buyer];
    let mut own = sale.clone();
    own.set("height", height).unwrap();
    own.set_imprint(imprint).unwrap();
    own.set_measured("stock_thickness", measured).unwrap();
    let word = if language == Language::De { "de" } else { "en" };
    own.set_option("language", word).unwrap();
    own.set_option("print.units", if units == PrintChoice::Mm { "mm" } else { "both" }).unwrap();
    let edition = Edition::of(&own).unwrap();
    for page in &edition.document.pages {
        let page = format!("{page:?}");
        assert_eq!(page.contains("stamp/imprint"), !imprint.is_empty());
        assert!(page.contains(imprint));
    }
    Copy { revision: own.revision().mark.clone(), kept: own.to_json(), book: pdf(&edition.document).unwrap() }
}

#[test]
fn twelve_revisions_forty_questions_three_buyers_and_every_book_again() {
    let place = folder("life");
    let mut plan = demo("reading-room.json");
    plan.set_revisions(Vec::new()).unwrap();
    let mut books: Vec<(String, Vec<u8>)> = Vec::new();
    let mut editions: Vec<Edition> = Vec::new();
    let mut asked: Vec<Question> = Vec::new();
    let mut copies: Vec<Copy> = Vec::new();
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
        if let Some(buyer) = BUYERS.iter().position(|b| b.0 == i) {
            copies.push(bought(&for_sale(&plan), buyer));
        }
        let edition = issue(&mut plan).unwrap_or_else(|d| panic!("{mark}: {d:?}"));
        books.push((mark, pdf(&edition.document).unwrap()));
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
    let last = plan.clone();
    plan.set("sectors", "8").unwrap();
    spread(books.len(), |i| {
        let (mark, book) = &books[i];
        let made = again(&plan, mark).unwrap();
        assert!(made.same && made.differs.is_empty(), "{mark}: {:?}", made.differs);
        assert!(made.pdf == *book, "the book of revision {mark} is not the one that was issued");
        // Who asked and what stays with the maker.
        let carried = &made.edition.document.attachments[0].data;
        let carried = std::str::from_utf8(carried).unwrap();
        assert!(!carried.contains("Secret"), "{mark}");
    });

    // Each buyer's book is made again from their file, the same to the byte; the last revision, put onto their own
    // size, changes what the maker changed since, and nothing else.
    let sale = for_sale(&last);
    for (copy, buyer) in copies.iter().zip(BUYERS) {
        assert!(!copy.kept.contains("Secret"));
        let own = Plan::parse(copy.kept.as_bytes()).unwrap().0;
        let edition = Edition::of(&own).unwrap();
        assert!(pdf(&edition.document).unwrap() == copy.book, "the copy of revision {}", copy.revision);
        let (merged, said) = sale.onto(&own);
        assert!(said.is_empty(), "{said:?}");
        assert_eq!((merged.length("height"), merged.imprint()), (own.length("height"), buyer.2));
        let c = compare_tables(&edition.built, &build(&merged).unwrap());
        let told: BTreeSet<&str> =
            c.changes.iter().filter(|x| x.group == Group::Size).map(|x| x.id.as_str()).collect();
        // The buyer's own height stays, and a change too small to print is none.
        let since = LIFE[buyer.0 + 1..].iter().filter(|l| !["", "height"].contains(&l.0) && l.1 != "1.41 mm");
        let expected: BTreeSet<&str> = since.map(|l| l.0).collect();
        assert_eq!(told, expected, "for the copy of revision {}", copy.revision);
        assert!(c.old_parts_fail.is_empty(), "{:?}", c.old_parts_fail);
    }

    let looks = spread(books.len(), |i| pictures(&books[i].1, &place.join(format!("book-{i}"))));
    let counts = spread(editions.len() - 1, |k| {
        let pair = &editions[k..k + 2];
        let c = compare_editions(&pair[0], &pair[1]);
        same_numbers(&c, &pair[0], &pair[1], &place.join(format!("numbers-{k}")));
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
        same_pictures(&c, &looks[k], &looks[k + 1])
    });
    let (same, other) = counts.into_iter().fold((0, 0), |sum, c| (sum.0 + c.0, sum.1 + c.1));
    println!("{same} pages look the same and are said to, {other} do not and are said not to");
    assert!(same > 100 && other > 100, "{same} the same, {other} not");
    std::fs::remove_dir_all(place).unwrap();
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
    let (_, json) = issued_once();
    let at = json.find("\"frozen\"").unwrap();
    let changed = json[at..].replacen("740 mm", "741 mm", 1);
    assert_ne!(changed, json[at..]);
    let (forged, _) = Plan::parse(format!("{}{changed}", &json[..at]).as_bytes()).unwrap();
    let made = again(&forged, "B").unwrap();
    assert!(!made.same);
    assert!(made.differs.iter().any(|d| d.contains("sheet/leg")), "{:?}", made.differs);
}

/// A plan with one revision issued, and what its file says of it.
fn issued_once() -> (Plan, String) {
    let mut plan = demo("reading-room.json");
    let mut revision = plan.revision().clone();
    revision.date = Some(day(300));
    plan.set_revision(revision).unwrap();
    issue(&mut plan).unwrap();
    let json = plan.to_json();
    (plan, json)
}

#[test]
fn a_book_that_a_later_program_would_draw_otherwise_is_told_page_by_page() {
    let (plan, json) = issued_once();
    let row: Value = serde_json::from_str(&json).unwrap();
    let row = row["revisions"].as_array().unwrap().last().unwrap();
    let book = row["frozen"]["book"].as_str().unwrap();
    let page = row["pages"].as_array().unwrap().iter().find(|p| p[0] == "sheet/leg").unwrap();
    let differs = |json: &str| {
        let (spoilt, _) = Plan::parse(json.as_bytes()).unwrap();
        let made = again(&spoilt, "B").unwrap();
        assert!(!made.same && made.pdf.starts_with(b"%PDF-1.7"));
        made.differs
    };
    let other = json.replacen(book, &"0".repeat(64), 1);
    // An earlier version issued it and drew every page alike: the book made again says that version and is the same.
    let cover = row["pages"].as_array().unwrap().iter().find(|p| p[0] == "cover").unwrap();
    let earlier = json.replacen("\"program\": \"", "\"program\": \"0.0.", 1);
    let made = again(&Plan::parse(earlier.as_bytes()).unwrap().0, "B").unwrap();
    let said = format!("Turnleaf 0.0.{}", turnleaf_plan::PROGRAM);
    assert_eq!(made.edition.document.program, said);
    assert!(format!("{:?}", made.edition.document.pages[0]).contains(&said));
    let page_then = made.edition.frozen_pages().into_iter().find(|p| p.id == "cover").unwrap();
    let earlier = earlier.replacen(book, &turnleaf_plan::fingerprint(&made.pdf), 1).replacen(
        cover[1].as_str().unwrap(),
        &page_then.print,
        1,
    );
    let kept = again(&Plan::parse(earlier.as_bytes()).unwrap().0, "B").unwrap();
    assert!(kept.same && kept.differs.is_empty(), "{:?}", kept.differs);
    // It drew every page alike, but wrote the file in another way.
    let said = differs(&earlier.replacen(&turnleaf_plan::fingerprint(&made.pdf), &"0".repeat(64), 1));
    assert_eq!(
        said,
        [
            format!("It was issued by version 0.0.{0}; this is {0}.", turnleaf_plan::PROGRAM),
            "Every page prints the same; only the file is written differently.".into()
        ]
    );
    // A file that does not tell its version: the book says none.
    let line = json.lines().find(|l| l.contains("\"program\"")).unwrap();
    let made = again(&Plan::parse(json.replacen(line, "", 1).as_bytes()).unwrap().0, "B").unwrap();
    assert_eq!(made.edition.document.program, "");
    assert!(!format!("{:?}", made.edition.document.pages[0]).contains("Turnleaf"));
    // It drew the leg otherwise.
    let said = differs(&other.replacen(page[1].as_str().unwrap(), &"0".repeat(16), 1));
    assert_eq!(said, ["The page “Leg” (sheet/leg) prints differently."]);
    // It had a page more, and one under another name.
    let said = differs(&other.replacen("\"sheet/leg\",", "\"sheet/old\",", 1));
    assert_eq!(said, ["The page “Leg” (sheet/leg) is new.", "The page sheet/old is gone."]);
    // A file that is not spoilt makes the very book.
    assert!(again(&plan, "B").unwrap().same);
}

#[test]
fn another_unit_or_language_alone_is_no_change() {
    let plan = demo("reading-room.json");
    let mut other = plan.clone();
    other.set_option("print.units", "in").unwrap();
    other.set_option("language", "de").unwrap();
    let c = compare_tables(&build(&plan).unwrap(), &build(&other).unwrap());
    let groups: BTreeSet<Group> = c.changes.iter().map(|x| x.group).collect();
    assert_eq!(groups, BTreeSet::from([Group::Option]), "{:?}", c.changes);
    assert!(c.parts.iter().all(|v| v.verdict == Verdict::Good));
}

/// Texts and triangles of a page, and the bars of its notes, each with its box (least and greatest corner, mm).
#[derive(Default)]
struct Marked {
    words: Vec<(String, [f64; 4])>,
    triangles: Vec<[f64; 4]>,
    bars: Vec<[f64; 4]>,
}

fn marked(items: &[Item], stamped: bool, out: &mut Marked) {
    for item in items {
        let Some((lo, hi)) = turnleaf_text::bounds(std::slice::from_ref(item)) else { continue };
        let corners = [lo.x, lo.y, hi.x, hi.y];
        match item {
            Item::Group { id, items, .. } => {
                let stamp = id.as_deref() == Some("stamp/changes");
                marked(items, stamped || stamp, out);
            }
            // The letters in triangles are stamps too.
            Item::Text(t) if !stamped => out.words.push((t.text.clone(), corners)),
            Item::Path { steps, .. } if stamped => match steps.len() {
                4 => out.triangles.push(corners),
                2 => out.bars.push(corners),
                _ => {}
            },
            _ => {}
        }
    }
}

/// A thickness that changed stands among the notes: a bar before it and a triangle behind it, neither on any word; and
/// the tables of a part that takes two sheets are marked as well as its view.
#[test]
fn changed_lines_of_notes_and_further_sheets_are_marked() {
    let mut plan = demo("window-table.json");
    plan.set_option("language", "de").unwrap();
    plan.set_option("paper", "a4").unwrap();
    let changes = [("tongue_depth", "5 mm"), ("plate_thickness", "16 mm"), ("ply_thickness", "13 mm")];
    for mark in ["A", "B"] {
        for (size, text) in changes.iter().filter(|_| mark == "B") {
            plan.set(size, text).unwrap();
        }
        let reasons = vec!["Thicker.".into()];
        plan.set_revision(Revision { mark: mark.into(), date: Some(day(3)), reasons }).unwrap();
        let edition = issue(&mut plan).unwrap();
        let (mut found, mut count, mut triangles) = (0, 0, 0);
        for page in edition.document.pages.iter().filter(|p| p.id.starts_with("sheet/")) {
            let mut all = Marked::default();
            marked(&page.items, false, &mut all);
            for t in all.triangles.iter().chain(&all.bars) {
                let clash = |w: &&(String, [f64; 4])| {
                    // Boxes of words hold the room of their highest and deepest letters.
                    t[0] < w.1[2] && w.1[0] < t[2] && t[1] < w.1[3] - 0.8 && w.1[1] + 0.4 < t[3]
                };
                let clash = all.words.iter().find(clash);
                assert!(clash.is_none(), "{mark} {}: {t:?} on {clash:?}", page.id);
            }
            triangles += all.triangles.len();
            if !page.id.starts_with("sheet/base-upper-ply") {
                continue;
            }
            count += 1;
            let line = all.words.iter().find(|w| w.0.starts_with("13"));
            let beside =
                |b: &&[f64; 4]| line.is_some_and(|w| b[1] < w.1[3] && w.1[1] < b[3] && b[2] < w.1[0]);
            found += all.bars.iter().filter(beside).count();
            assert_eq!(all.triangles.is_empty(), mark == "A", "{}", page.id);
        }
        assert_eq!(found, usize::from(mark == "B"), "{mark}: bars before the thickness");
        assert_eq!(triangles > 50, mark == "B", "{mark}: {triangles} triangles");
        // Its tables found room on one sheet before.
        assert_eq!(count, if mark == "A" { 1 } else { 2 }, "{mark}");
    }
}
