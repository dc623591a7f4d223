//! Buyers' copies: what they may change, the maker's next revision put onto their own sizes, the register, batches.
//!
//! Buyers, their sizes and their addresses are invented (demo).

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;
use turnleaf_plan::planfile::{About, PrintChoice, Question, State};
use turnleaf_plan::{Edition, Paper, Plan, build, compare_tables};
use turnleaf_tests::program::{self, call, folder, program};
use turnleaf_tests::table;

fn demo(name: &str) -> Plan {
    Plan::parse(&program::demo(name)).unwrap().0
}

/// The reading room's plan, offered from 700 to 760 mm high, in millimetres or both, on A4.
fn offered(plan: &Plan) -> Plan {
    let limits = vec![plan.limit("height", "700 mm", "760 mm").unwrap()];
    let units = vec![PrintChoice::Mm, PrintChoice::Both];
    plan.for_buyers(limits, units, vec![Paper::A4], "For one table of your own.").unwrap()
}

#[test]
fn a_buyer_changes_what_is_offered_and_nothing_else() {
    let mut plan = offered(&demo("reading-room.json"));
    plan.set("height", "710 mm").unwrap();
    let before = plan.clone();
    let refused = |plan: &mut Plan, id: &str, text: &str| plan.set(id, text).unwrap_err().sentence;
    let high = refused(&mut plan, "height", "761 mm");
    assert!(high.contains("700 mm to 760 mm"), "{high}");
    let fixed = refused(&mut plan, "sectors", "8");
    assert!(fixed.contains("fixed by the maker"), "{fixed}");
    assert!(plan.set_option("paper", "letter").unwrap_err().sentence.contains("not offered"));
    assert!(plan.set_option("print.units", "in").unwrap_err().sentence.contains("not offered"));
    assert!(plan.set_option("drive", "cam").is_err());
    assert_eq!(plan, before);
    plan.set_option("print.units", "both").unwrap();
    plan.set_measured("stock_thickness", "18.6 mm").unwrap();
    let (again, _) = Plan::parse(plan.to_json().as_bytes()).unwrap();
    assert_eq!(again, plan);
}

#[test]
fn a_file_edited_beyond_its_limits_is_explained() {
    let json = offered(&demo("reading-room.json")).to_json();
    let edited = |from: &str, to: &str| {
        assert!(json.contains(from), "{from}");
        Plan::parse(json.replacen(from, to, 1).as_bytes())
    };
    let said = edited("\"height\": \"740 mm\"", "\"height\": \"900 mm\"").unwrap_err();
    assert!(said.iter().any(|d| d.sentence.contains("700 mm to 760 mm")), "{said:?}");
    for nonsense in ["[\"760 mm\", \"700 mm\"]", "[1]", "{}", "\"x\"", "[\"many\", \"more\"]"] {
        let start = json.find("\"height\": [").unwrap() + "\"height\": ".len();
        let end = start + json[start..].find(']').unwrap() + 1;
        let text = format!("{}{nonsense}{}", &json[..start], &json[end..]);
        let said = Plan::parse(text.as_bytes()).unwrap_err();
        assert!(said.iter().any(|d| d.code == "offer.shape"), "{nonsense}: {said:?}");
    }
}

#[test]
fn nothing_private_reaches_a_buyer() {
    let mut plan = demo("reading-room.json");
    let secret = Question {
        number: 1,
        about: About::Part,
        id: "leaf".into(),
        from: "Secret buyer".into(),
        asked: None,
        text: "Secret words".into(),
        state: State::Open,
    };
    plan.set_questions(vec![secret]).unwrap();
    assert!(!offered(&plan).to_json().contains("Secret"));
    let book = Edition::of(&plan).unwrap();
    let carried = String::from_utf8_lossy(&book.document.attachments[0].data).into_owned();
    assert!(!carried.contains("Secret") && carried.contains("turnleaf-plan"));
}

#[test]
fn three_buyers_put_the_next_revision_onto_their_own_sizes() {
    let maker = demo("reading-room.json");
    let mut next = maker.clone();
    next.set("tongue_clearance", "1.4 mm").unwrap();
    let next = offered(&next);
    for (height, imprint, measured) in [
        ("700 mm", "Copy one (demo)", "18.8 mm"),
        ("725 mm", "Copy two (demo)", ""),
        ("27.8 in", "", "19.1 mm"),
    ] {
        let mut own = offered(&maker);
        own.set("height", height).unwrap();
        own.set_imprint(imprint).unwrap();
        own.set_measured("stock_thickness", measured).unwrap();
        let (merged, said) = next.onto(&own);
        assert!(said.is_empty(), "{said:?}");
        assert_eq!(merged.length("height"), own.length("height"));
        assert_eq!(merged.measured("stock_thickness"), own.measured("stock_thickness"));
        assert_eq!(merged.imprint(), imprint);
        assert_eq!(merged.length("tongue_clearance"), next.length("tongue_clearance"));
        // At their own size only the maker's change shows.
        let c = compare_tables(&build(&own).unwrap(), &build(&merged).unwrap());
        let sizes: Vec<&str> =
            c.changes.iter().filter(|x| x.group.key() == "size").map(|x| x.id.as_str()).collect();
        assert_eq!(sizes, ["tongue_clearance"]);
    }
    // A size that is no longer offered is said, and the maker's stays.
    let mut own = offered(&maker);
    own.set("height", "760 mm").unwrap();
    let narrow = maker
        .for_buyers(vec![maker.limit("height", "730 mm", "750 mm").unwrap()], vec![], vec![], "")
        .unwrap();
    let (merged, said) = narrow.onto(&own);
    assert_eq!(merged.length("height"), maker.length("height"));
    assert!(said.iter().any(|d| d.sentence.contains("730 mm to 750 mm")), "{said:?}");
}

#[test]
fn the_register_keeps_formulas_harmless_and_names_whom_to_notify() {
    let place = folder("register");
    std::fs::write(place.join("plan.json"), demo("reading-room.json").to_json()).unwrap();
    let add = |name: &str, revision: &str| {
        let words =
            ["register", "r.csv", "add", "--name", name, "--date", "2026-01-11", "--revision", revision];
        assert!(call(&words, &place).status.success());
    };
    add("=HYPERLINK(\"x\")", "A");
    add("Comma, \"quoted\"", "0");
    let text = std::fs::read_to_string(place.join("r.csv")).unwrap();
    assert!(text.contains("\"'=HYPERLINK(\"\"x\"\")\""), "{text}");
    assert!(text.contains("\"Comma, \"\"quoted\"\"\""), "{text}");
    let done = call(&["register", "r.csv", "notify", "plan.json"], &place);
    let said = String::from_utf8(done.stdout).unwrap();
    assert!(said.contains("Dear Comma, \"quoted\"") && !said.contains("HYPERLINK"), "{said}");
    assert!(said.ends_with("1 to notify of revision A.\n"), "{said}");
    // Lines end as RFC 4180 has them.
    assert_eq!(text.matches("\r\n").count(), 3);
    // A column of the maker's own stays; a name with a line break makes no line of a mail's head.
    let own =
        "paid,name,contact,date,revision,size,units,paper\r\nyes,\"Line\nBcc: x\",mail,2026-01-11,0,,,\r\n";
    std::fs::write(place.join("r.csv"), own).unwrap();
    add("Third", "0");
    let text = std::fs::read_to_string(place.join("r.csv")).unwrap();
    assert!(text.starts_with(own) && text.ends_with(",Third,,2026-01-11,0,,,\r\n"), "{text}");
    let done = call(&["register", "r.csv", "notify", "plan.json"], &place);
    let said = String::from_utf8(done.stdout).unwrap();
    assert!(said.contains("Dear Line Bcc: x,") && said.ends_with("2 to notify of revision A.\n"), "{said}");
    // Nothing of the register is in what buyers get, though it lies beside the plan.
    let words = ["offer", "plan.json", "-o", "buyers.json", "--size", "height=700 mm..760 mm"];
    assert!(call(&words, &place).status.success());
    let words = ["issue", "plan.json", "--date", "2026-02-11", "--book", "book.pdf"];
    assert!(call(&words, &place).status.success());
    for file in ["buyers.json", "plan.json"] {
        let text = std::fs::read_to_string(place.join(file)).unwrap();
        assert!(!text.contains("Third") && !text.contains("Bcc"), "{file}");
    }
    let carried = turnleaf_plan::open(&std::fs::read(place.join("book.pdf")).unwrap()).unwrap().0.to_json();
    assert!(carried.contains("Reading room") && !carried.contains("Third") && !carried.contains("Bcc"));
    std::fs::remove_dir_all(place).unwrap();
}

#[test]
fn a_batch_makes_what_is_missing_and_names_rows_that_fail() {
    let place = folder("batch");
    std::fs::write(place.join("plan.json"), demo("window-table.json").to_json()).unwrap();
    let table = "name,units,paper,imprint,height\none,mm,a4,Copy one (demo),\ntwo,in,letter,,5 m\n";
    std::fs::write(place.join("t.csv"), table).unwrap();
    let run = || {
        let done = call(&["batch", "t.csv", "plan.json", "-o", "books"], &place);
        assert_eq!(done.status.code(), Some(2));
        String::from_utf8(done.stdout).unwrap()
    };
    let first = run();
    assert!(first.starts_with("1 book made, 0 kept as they were, 1 row failed."), "{first}");
    assert!(first.contains("Row at line 3, two: Height"), "{first}");
    let book = std::fs::read(place.join("books/one.pdf")).unwrap();
    assert!(book.starts_with(b"%PDF-1.7"));
    assert!(run().starts_with("0 books made, 1 kept"));
    // A book cut short by something else is not taken for whole.
    std::fs::write(place.join("books/one.pdf"), &book[..book.len() / 2]).unwrap();
    assert!(run().starts_with("1 book made"));
    assert!(std::fs::read(place.join("books/one.pdf")).unwrap() == book);
    std::fs::remove_file(place.join("books/one.pdf")).unwrap();
    assert!(run().starts_with("1 book made"));
    assert!(std::fs::read(place.join("books/one.pdf")).unwrap() == book);
    for (table, word) in [
        ("title\nx\n", "column “name”"),
        ("name,colour\nx,red\n", "colour"),
        ("name\n../x\n", "cannot be a file"),
    ] {
        std::fs::write(place.join("t.csv"), table).unwrap();
        let done = call(&["batch", "t.csv", "plan.json", "-o", "books"], &place);
        let said = String::from_utf8(done.stderr).unwrap();
        assert!(done.status.code() == Some(2) && said.contains(word), "{said}");
    }
    std::fs::remove_dir_all(place).unwrap();
}

/// Files of a folder with an ending.
fn files(place: &Path, ending: &str) -> Vec<String> {
    let all = std::fs::read_dir(place).into_iter().flatten().flatten();
    let mut names: Vec<String> = all.filter_map(|e| e.file_name().into_string().ok()).collect();
    names.retain(|name| name.ends_with(ending));
    names.sort();
    names
}

#[test]
fn a_batch_that_is_killed_goes_on_where_it_was() {
    const ROWS: usize = 6;
    let place = folder("killed");
    std::fs::write(place.join("plan.json"), program::demo("reading-room.json")).unwrap();
    std::fs::write(place.join("t.csv"), table::of_books(ROWS)).unwrap();
    let words = ["batch", "t.csv", "plan.json", "-o", "books"];
    let books = place.join("books");
    let mut run = Command::new(program());
    let mut run =
        run.args(words).current_dir(&place).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
    // Killed as soon as one book is noted as done, with others half made.
    while files(&books, ".made-of").is_empty() && run.try_wait().unwrap().is_none() {
        std::thread::sleep(Duration::from_millis(5));
    }
    run.kill().unwrap();
    assert!(!run.wait().unwrap().success(), "it ended before it was killed");
    let done = files(&books, ".made-of").len();
    assert!((1..ROWS).contains(&done), "{done}");
    // Whatever has a book's name is a whole book, which its own end tells.
    for name in files(&books, ".pdf") {
        let bytes = std::fs::read(books.join(&name)).unwrap();
        assert!(bytes.starts_with(b"%PDF-1.7") && bytes.ends_with(b"%%EOF"), "{name}");
    }
    let when = |name: &str| std::fs::metadata(books.join(name)).unwrap().modified().unwrap();
    let kept: Vec<_> = files(&books, ".made-of").iter().map(|n| n.replace(".made-of", ".pdf")).collect();
    let before: Vec<_> = kept.iter().map(|n| when(n)).collect();
    let again = call(&words, &place);
    let said = String::from_utf8(again.stdout).unwrap();
    let expected = format!("{} made, {done} kept as they were, 0 rows failed.", ROWS - done);
    assert!(
        again.status.success() && said.replace(" books", "").replace(" book", "").starts_with(&expected),
        "{said}"
    );
    assert_eq!(kept.iter().map(|n| when(n)).collect::<Vec<_>>(), before, "a finished book was written again");
    assert_eq!((files(&books, ".pdf").len(), files(&books, ".part").len()), (ROWS, 0));
    std::fs::remove_dir_all(place).unwrap();
}
