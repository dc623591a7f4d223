//! Buyers' copies: what they may change, the maker's next revision put onto their own sizes, the register, batches.
//!
//! Buyers, their sizes and their addresses are invented (demo).

use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::OnceLock;
use turnleaf_plan::planfile::{About, PrintChoice, Question, State};
use turnleaf_plan::{Edition, Paper, Plan, compare_editions};

fn demo(name: &str) -> Plan {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo").join(name);
    Plan::parse(&std::fs::read(path).unwrap()).unwrap().0
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
        let (old, new) = (Edition::of(&own).unwrap(), Edition::of(&merged).unwrap());
        let c = compare_editions(&old, &new);
        let sizes: Vec<&str> =
            c.changes.iter().filter(|x| x.group.key() == "size").map(|x| x.id.as_str()).collect();
        assert_eq!(sizes, ["tongue_clearance"]);
        let last = new.document.pages.last().unwrap();
        assert_eq!(format!("{last:?}").contains("Copy"), !imprint.is_empty());
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

fn folder(name: &str) -> PathBuf {
    let path = std::env::temp_dir().join(format!("turnleaf-copies-{}-{name}", std::process::id()));
    std::fs::create_dir_all(&path).unwrap();
    path
}

/// The terminal program, built once as `cargo test --workspace` builds it.
fn program() -> &'static Path {
    static BUILT: OnceLock<PathBuf> = OnceLock::new();
    BUILT.get_or_init(|| {
        let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".into());
        let words = ["build", "--quiet", "--workspace", "--bin", "turnleaf"];
        assert!(Command::new(cargo).args(words).status().unwrap().success());
        let mut path = std::env::current_exe().unwrap();
        path.pop();
        path.pop();
        path.join(format!("turnleaf{}", std::env::consts::EXE_SUFFIX))
    })
}

fn call(words: &[&str], folder: &Path) -> Output {
    Command::new(program()).args(words).current_dir(folder).output().unwrap()
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
    assert!(first.starts_with("1 books made, 0 kept as they were, 1 rows failed."), "{first}");
    assert!(first.contains("Row at line 3, two: Height"), "{first}");
    let book = std::fs::read(place.join("books/one.pdf")).unwrap();
    assert!(book.starts_with(b"%PDF-1.7"));
    assert!(run().starts_with("0 books made, 1 kept"));
    std::fs::remove_file(place.join("books/one.pdf")).unwrap();
    assert!(run().starts_with("1 books made"));
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
