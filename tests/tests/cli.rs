//! The terminal program as a user meets it: every command on the demo plans, and everything that can go wrong.
//!
//! What goes wrong is one sentence on stderr, nothing on standard output, and exit code 2.

use serde_json::{Value, json};
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::OnceLock;

const DEMOS: [&str; 3] = ["reading-room.json", "map-room.json", "window-table.json"];

/// The program, built by cargo for the profile of this test; as a part of the whole workspace, so that everything
/// it needs is there already.
fn program() -> &'static Path {
    static BUILT: OnceLock<PathBuf> = OnceLock::new();
    BUILT.get_or_init(|| {
        let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".into());
        let mut build = Command::new(cargo);
        build.args(["build", "--quiet", "--workspace", "--bin", "turnleaf", "--message-format", "json"]);
        if !cfg!(debug_assertions) {
            build.arg("--release");
        }
        let done = build.current_dir(root()).stderr(Stdio::inherit()).output().expect("cargo runs");
        assert!(done.status.success(), "the program does not build");
        let text = String::from_utf8(done.stdout).unwrap();
        let messages = text.lines().filter_map(|l| serde_json::from_str::<Value>(l).ok());
        let built = messages
            .filter(|m| m["target"]["name"] == "turnleaf")
            .find_map(|m| m["executable"].as_str().map(PathBuf::from));
        built.expect("cargo names the program")
    })
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn demo(name: &str) -> String {
    format!("demo/{name}")
}

fn call(words: &[&str]) -> Output {
    Command::new(program()).args(words).current_dir(root()).output().expect("the program starts")
}

/// Standard output of a command that succeeds and says nothing on stderr.
fn text(words: &[&str]) -> String {
    let done = call(words);
    let stderr = String::from_utf8_lossy(&done.stderr);
    assert!(done.status.success() && stderr.is_empty(), "{words:?}: {stderr}");
    String::from_utf8(done.stdout).unwrap()
}

fn json_of(words: &[&str]) -> Value {
    serde_json::from_str(&text(words)).unwrap_or_else(|e| panic!("{words:?}: {e}"))
}

/// The one sentence of a command that fails.
fn refused(words: &[&str]) -> String {
    let done = call(words);
    assert_eq!(done.status.code(), Some(2), "{words:?}");
    assert!(done.stdout.is_empty(), "{words:?} wrote to standard output");
    let stderr = String::from_utf8(done.stderr).unwrap();
    assert_eq!(stderr.lines().count(), 1, "{words:?}: {stderr}");
    let line = stderr.trim_end();
    assert!(line.len() > 10 && line.ends_with('.'), "{words:?}: {line}");
    assert!(!line.contains("panicked") && !line.contains("os error"), "{words:?}: {line}");
    line.into()
}

fn keys(v: &Value) -> Vec<&str> {
    let mut keys: Vec<&str> = v.as_object().expect("an object").keys().map(String::as_str).collect();
    keys.sort_unstable();
    keys
}

fn rows(v: &Value) -> &[Value] {
    v.as_array().expect("an array")
}

fn scratch(name: &str, bytes: &[u8]) -> String {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("cli");
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join(name);
    std::fs::write(&file, bytes).unwrap();
    file.to_string_lossy().into_owned()
}

#[test]
fn numbers() {
    for name in DEMOS {
        let list = json_of(&["numbers", &demo(name), "--json"]);
        let mut ids: Vec<&str> = Vec::new();
        for n in rows(&list) {
            assert_eq!(keys(n), ["id", "text", "unit", "value"]);
            assert!(n["value"].is_f64() && !n["text"].as_str().unwrap().is_empty(), "{n}");
            ids.push(n["id"].as_str().unwrap());
        }
        let plain = text(&["numbers", &demo(name)]);
        assert_eq!(plain.lines().count(), ids.len());
        for (line, id) in plain.lines().zip(&ids) {
            assert!(line.starts_with(id), "{line} is not about {id}");
        }
        let count = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), count, "identifiers come once");
    }
    // The metric demo's reference (elementary geometry, recomputed by hand to one decimal).
    let list = json_of(&["numbers", &demo("reading-room.json"), "--json"]);
    let value = |id: &str| rows(&list).iter().find(|n| n["id"] == id).unwrap()["value"].as_f64().unwrap();
    for (id, theirs) in [("gap.width", 225.0), ("panel.corner-radius", 802.8), ("leaf.travel", 205.8)] {
        assert!((value(id) - theirs).abs() < 0.05, "{id}");
    }
}

fn ring(v: &Value) -> Vec<(f64, f64)> {
    rows(v).iter().map(|p| (p[0].as_f64().unwrap(), p[1].as_f64().unwrap())).collect()
}

/// Twice the area by the shoelace, positive when counter-clockwise.
fn twice_area(r: &[(f64, f64)]) -> f64 {
    (0..r.len()).map(|i| (r[i], r[(i + 1) % r.len()])).map(|(a, b)| a.0 * b.1 - a.1 * b.0).sum()
}

#[test]
fn pose() {
    let plan = demo("reading-room.json");
    let (closed, open) = (600.0, 600.0 + 225.0);
    let numbers = json_of(&["numbers", &plan, "--json"]);
    let whole = rows(&numbers).iter().find(|n| n["id"] == "turn.whole").unwrap()["value"].to_string();
    let mut count = None;
    for (turn, edge) in [("0", closed), (whole.as_str(), open)] {
        let pieces = json_of(&["pose", &plan, "--turn", turn, "--json"]);
        assert_eq!(*count.get_or_insert(rows(&pieces).len()), rows(&pieces).len());
        for p in rows(&pieces) {
            assert_eq!(keys(p), ["id", "layers", "outline", "part", "z_max", "z_min"]);
            assert!(p["id"].as_str().unwrap().starts_with(p["part"].as_str().unwrap()));
            let (low, high) = (p["z_min"].as_f64().unwrap(), p["z_max"].as_f64().unwrap());
            assert!(low < high && low >= 0.0 && high <= 740.0 + 1e-9, "{}", p["id"]);
            for shape in rows(&p["layers"]).iter().map(|l| &l["outline"]).chain([&p["outline"]]) {
                assert_eq!(keys(shape), ["holes", "outer"]);
                assert!(twice_area(&ring(&shape["outer"])) > 0.0, "{} is not counter-clockwise", p["id"]);
                for hole in rows(&shape["holes"]) {
                    assert!(twice_area(&ring(hole)) < 0.0);
                }
            }
        }
        // Panel 1 lies on +x; its rim is an arc of 600 mm about its own apex, flattened to 0.01 mm.
        let panel = rows(&pieces).iter().find(|p| p["id"] == "panel/1").unwrap();
        let outline = ring(&panel["outline"]["outer"]);
        let far = outline.iter().map(|p| p.0).fold(0.0, f64::max);
        assert!((far - edge).abs() < 0.02, "{far} against {edge}");
        let apex = edge - closed;
        let rim: Vec<_> = outline.iter().map(|p| (p.0 - apex, p.1)).filter(|p| p.0 > 1.0).collect();
        assert!(rim.len() > 20);
        for pair in rim.windows(2) {
            let off = |p: (f64, f64)| (p.0 * p.0 + p.1 * p.1).sqrt() - closed;
            let middle = ((pair[0].0 + pair[1].0) / 2.0, (pair[0].1 + pair[1].1) / 2.0);
            assert!(off(pair[0]).abs() < 1e-3 && off(middle) > -0.0101 && off(middle) < 1e-3);
        }
    }
    assert_eq!(text(&["pose", &plan, "--turn", "10"]).lines().count(), count.unwrap());
}

#[test]
fn poses_at_many_turns() {
    let plan = demo("window-table.json");
    let whole = text(&["pose", &plan, "--turns", "4", "--json"]);
    // One element a line, so that a reader need not hold them all.
    assert_eq!(whole.lines().count(), 6);
    let turns: Value = serde_json::from_str(&whole).unwrap();
    let numbers = json_of(&["numbers", &plan, "--json"]);
    let end = rows(&numbers).iter().find(|n| n["id"] == "turn.whole").unwrap()["value"].as_f64().unwrap();
    for (i, t) in rows(&turns).iter().enumerate() {
        assert_eq!(keys(t), ["pieces", "turn"]);
        let turn = t["turn"].as_f64().unwrap();
        assert!((turn - end * i as f64 / 3.0).abs() < 1e-9);
        assert_eq!(t["pieces"], json_of(&["pose", &plan, "--turn", &turn.to_string(), "--json"]));
    }
    assert!(text(&["pose", &plan, "--turns", "2"]).contains('°'));
}

#[test]
fn checks() {
    for name in DEMOS {
        let list = json_of(&["checks", &demo(name), "--json"]);
        assert!(rows(&list).len() > 50);
        for c in rows(&list) {
            assert_eq!(keys(c), ["at_turn", "holds", "id", "limit", "margin", "text", "unit", "value"]);
            assert_eq!(c["holds"], json!(true), "{c}");
            assert!(
                c["margin"].as_f64().unwrap() > -0.03 && (c["at_turn"].is_null() || c["at_turn"].is_f64()),
                "{c}"
            );
            assert!(c["text"].as_str().unwrap().ends_with('.'));
        }
        let plain = text(&["checks", &demo(name)]);
        assert_eq!(plain.lines().filter(|l| l.starts_with("holds")).count(), rows(&list).len());
    }
}

/// A plan that builds but fails a check: the remedies are listed, and each of them, typed in, mends it.
#[test]
fn checks_with_remedies() {
    let sizes = json!({
        "closed_diameter": "1494 mm", "open_diameter": "1877 mm", "sectors": 12, "stock_thickness": "23 mm",
        "ply_thickness": "13 mm", "leaf_tip_half_angle": "21°", "tongue_depth": "1 mm",
        "tongue_clearance": "0.5 mm", "fitting_gap": "1.5 mm", "hidden_margin": "4 mm", "play": "0.9 mm",
        "arm_width": "21 mm", "arm_clearance": "2 mm", "ramp_sweep": "11°",
    });
    let demo = std::fs::read_to_string(root().join(demo("reading-room.json"))).unwrap();
    let plan = |sizes: &Value| {
        let mut plan: Value = serde_json::from_str(&demo).unwrap();
        let all = plan["sizes"].as_object_mut().unwrap();
        all.retain(|id, _| !id.starts_with("panel_"));
        all.extend(sizes.as_object().unwrap().clone());
        plan.to_string()
    };
    let file = scratch("fails.json", plan(&sizes).as_bytes());
    let list = json_of(&["checks", &file, "--json", "--remedies"]);
    let failing: Vec<&Value> = rows(&list).iter().filter(|c| c["holds"] == json!(false)).collect();
    assert!(!failing.is_empty());
    for c in rows(&list) {
        assert!(c["holds"] == json!(false) || rows(&c["remedies"]).is_empty(), "{c}");
    }
    for c in failing {
        assert!(!rows(&c["remedies"]).is_empty(), "{c}");
        for (i, r) in rows(&c["remedies"]).iter().enumerate() {
            assert_eq!(keys(r), ["size", "text", "to"]);
            let mut changed = sizes.clone();
            changed[r["size"].as_str().unwrap()] = r["to"].clone();
            let file = scratch(&format!("mended-{i}.json"), plan(&changed).as_bytes());
            let again = json_of(&["checks", &file, "--json"]);
            assert!(rows(&again).iter().all(|c| c["holds"] == json!(true)), "{r}");
        }
    }
    let plain = text(&["checks", &file, "--remedies"]);
    assert!(plain.contains("FAILS") && plain.contains("      remedy: "), "{plain}");
    assert!(!text(&["checks", &file]).contains("remedy"));
}

#[test]
fn proof() {
    for name in DEMOS {
        let p = json_of(&["proof", &demo(name), "--json"]);
        assert_eq!(keys(&p), ["far", "joined", "pairs", "pinches", "turn"]);
        for pair in rows(&p["pairs"]) {
            let wanted =
                ["a", "asked", "at_least", "b", "distance", "expect", "holds", "pieces", "place", "turn"];
            assert_eq!(keys(pair), wanted);
            assert!(["clear", "fit", "touch"].contains(&pair["expect"].as_str().unwrap()));
            assert!(pair["at_least"].as_f64().unwrap() <= pair["distance"].as_f64().unwrap());
            let turn = pair["turn"].as_f64().unwrap();
            assert!(turn >= 0.0 && turn <= p["turn"].as_f64().unwrap() + 1e-9);
        }
        for pair in rows(&p["joined"]) {
            assert_eq!(keys(pair), ["a", "b", "reason"]);
        }
        for pinch in rows(&p["pinches"]) {
            let (from, at, to) = (&pinch["from"], &pinch["at"], &pinch["to"]);
            assert!(from.as_f64() <= at.as_f64() && at.as_f64() <= to.as_f64(), "{pinch}");
            assert!(pinch["narrowest"].as_f64() <= pinch["widest"].as_f64(), "{pinch}");
        }
        let lines = text(&["proof", &demo(name)]).lines().count();
        assert_eq!(lines, ["pairs", "joined", "pinches"].iter().map(|k| rows(&p[*k]).len()).sum::<usize>());
    }
}

#[test]
fn book_and_pages() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("cli").join("book");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    let place = |name: &str| folder.join(name).to_string_lossy().into_owned();
    let plan = demo("map-room.json");
    assert!(text(&["book", &plan, "-o", &place("a.pdf"), "--paper", "a4", "--units", "in"]).is_empty());
    assert!(std::fs::read(folder.join("a.pdf")).unwrap().starts_with(b"%PDF-"));
    assert!(text(&["pages", &plan, "-o", &place("pages")]).is_empty());
    let mut names: Vec<String> = std::fs::read_dir(folder.join("pages"))
        .unwrap()
        .map(|f| f.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert!(names.len() > 5 && names[0] == "page-01.svg", "{names:?}");
    let first = std::fs::read_to_string(folder.join("pages").join(&names[0])).unwrap();
    assert!(first.contains("<svg") && first.trim_end().ends_with("</svg>"));
    assert!(refused(&["book", &plan, "-o", &place("b.pdf"), "--paper", "a99"]).contains("a99"));
    assert!(refused(&["pages", &plan, "-o", &place("p"), "--units", "ells"]).contains("ells"));
    assert!(!folder.join("b.pdf").exists() && !folder.join("p").exists());
    refused(&["book", &plan]);
}

#[test]
fn templates_and_cut_files() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("cli").join("shop");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    let place = |name: &str| folder.join(name).to_string_lossy().into_owned();
    let plan = demo("reading-room.json");
    let arms = ["--part", "panel-arm", "--part", "leaf-arm"];
    let with = |more: &[&str]| {
        let out = place("t.pdf");
        let words = ["template", &plan, "-o", &out];
        words.iter().chain(&arms).chain(more).map(|w| w.to_string()).collect::<Vec<String>>()
    };
    let run = |more: &[&str]| text(&with(more).iter().map(String::as_str).collect::<Vec<_>>());
    let refuse = |more: &[&str]| refused(&with(more).iter().map(String::as_str).collect::<Vec<_>>());
    assert!(refuse(&["--measured-x", "90mm"]).contains("bar x is 90 mm"));
    assert!(refuse(&["--measured-y", "-100"]).contains("bar y"));
    assert!(refuse(&["--measured-y", "wide"]).contains("“wide”"));
    assert!(refuse(&["--overlap", "1m"]).contains("overlap"));
    assert!(refuse(&["--part", "lid"]).contains("lid"));
    assert!(!folder.join("t.pdf").exists());
    assert!(run(&["--paper", "letter", "--measured-x", "3 15/16 in", "--measured-y", "99.7"]).is_empty());
    assert!(std::fs::read(folder.join("t.pdf")).unwrap().starts_with(b"%PDF-"));
    assert!(text(&["cut", &plan, "-o", &place("cut")]).is_empty());
    let index = std::fs::read_to_string(folder.join("cut").join("index.csv")).unwrap();
    for line in index.lines().skip(1) {
        let file = line.split(',').next().unwrap();
        let svg = std::fs::read_to_string(folder.join("cut").join(file)).unwrap();
        assert!(svg.starts_with("<svg") && svg.trim_end().ends_with("</svg>"), "{file}");
    }
    assert!(index.lines().count() > 20 && index.contains("panel-arm.svg,panel-arm,Panel arm,6,"));
}

#[test]
fn help_and_version() {
    for words in [&["--help"][..], &["--version"], &["pose", "--help"], &["help"]] {
        assert!(!text(words).is_empty());
    }
}

#[test]
fn commands_that_cannot_be_read() {
    let plan = demo("reading-room.json");
    refused(&[]);
    assert!(refused(&["frobnicate"]).contains("frobnicate"));
    assert!(refused(&["numbers"]).contains("PLAN"));
    assert!(refused(&["checks", &plan, "--loud"]).contains("--loud"));
    assert!(refused(&["pose", &plan, "--turn", "sideways"]).contains("sideways"));
    assert!(refused(&["pose", &plan]).contains("--turns"));
    refused(&["pose", &plan, "--turn", "1", "--turns", "3"]);
    refused(&["pose", &plan, "--turn", "nan"]);
    refused(&["pose", &plan, "--turn", "inf"]);
    assert!(refused(&["pose", &plan, "--turn", "200"]).contains("138.84"));
    refused(&["pose", &plan, "--turn", "-5"]);
    for turns in ["0", "1", "1000000", "-4", "2.5"] {
        refused(&["pose", &plan, "--turns", turns]);
    }
}

#[test]
fn files_that_cannot_be_used() {
    assert!(refused(&["numbers", "no-such-plan.json"]).contains("no-such-plan.json"));
    refused(&["checks", "demo"]);
    let good = std::fs::read_to_string(root().join(demo("reading-room.json"))).unwrap();
    let edit = |from: &str, to: &str| {
        assert!(good.contains(from));
        good.replace(from, to)
    };
    let files: Vec<(&str, Vec<u8>, &str)> = vec![
        ("empty.json", Vec::new(), ""),
        ("rubbish.json", vec![0xFF; 100_000], ""),
        ("large.json", vec![b' '; 5_000_000], ""),
        ("list.json", b"[1, 2]".to_vec(), ""),
        ("deep.json", [b'['; 100_000].to_vec(), ""),
        ("newer.json", edit("\"version\": 1", "\"version\": 99").into_bytes(), "99"),
        ("other.json", edit("turnleaf-plan", "shopping-list").into_bytes(), "turnleaf-plan"),
        ("size.json", edit("\"1200 mm\"", "\"wide\"").into_bytes(), "Closed diameter"),
        ("huge.json", edit("\"1200 mm\"", "\"1e300 mm\"").into_bytes(), "Closed diameter"),
        ("type.json", edit("\"1200 mm\"", "{}").into_bytes(), "losed"),
        ("missing.json", edit("\"closed_diameter\"", "\"closed\"").into_bytes(), "losed"),
    ];
    for (name, bytes, word) in files {
        let file = scratch(name, &bytes);
        for command in ["numbers", "checks", "proof"] {
            let sentence = refused(&[command, &file]);
            assert!(sentence.contains(word), "{name}: {sentence}");
        }
        refused(&["pose", &file, "--turn", "0", "--json"]);
    }
}

/// Sizes that have no mechanism: which are at odds, what would happen, what mends it.
#[test]
fn a_plan_without_a_mechanism() {
    let good = std::fs::read_to_string(root().join(demo("reading-room.json"))).unwrap();
    let file = scratch("bend.json", good.replace("\"80 mm\"", "\"0 mm\"").as_bytes());
    let sentence = refused(&["checks", &file]);
    for word in ["arms", "Built as given", "° of turn", "80 mm"] {
        assert!(sentence.contains(word), "{sentence}");
    }
    // The pose is wanted quickly, and comes without remedies.
    assert!(!refused(&["pose", &file, "--turn", "0"]).contains("80 mm"));
}

/// A reader that stops reading is no failure.
#[test]
fn a_reader_that_closes_early() {
    let mut run = Command::new(program())
        .args(["pose", &demo("reading-room.json"), "--turns", "20", "--json"])
        .current_dir(root())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut few = [0; 64];
    run.stdout.take().unwrap().read_exact(&mut few).unwrap();
    let done = run.wait_with_output().unwrap();
    assert!(done.status.success() && done.stderr.is_empty(), "{}", String::from_utf8_lossy(&done.stderr));
}

/// A full disk is one.
#[cfg(target_os = "linux")]
#[test]
fn output_that_cannot_be_written() {
    let full = std::fs::File::options().write(true).open("/dev/full").unwrap();
    let done = Command::new(program())
        .args(["numbers", &demo("reading-room.json")])
        .current_dir(root())
        .stdout(full)
        .output()
        .unwrap();
    assert_eq!(done.status.code(), Some(2));
    assert_eq!(String::from_utf8(done.stderr).unwrap().lines().count(), 1);
}
