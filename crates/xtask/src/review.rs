//! Old and new reference drawings side by side.
//!
//! In: `tests/references` and what the program draws now. Out: a page in `target/review`, or with `--accept` the new
//! drawings in the place of the old.
//! Always true: nothing is accepted that was not drawn by this very call; the page needs no network.

use crate::run::{command, root, show};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

struct Pair {
    name: String,
    question: String,
    old: Option<String>,
    new: String,
}

impl Pair {
    fn changed(&self) -> bool {
        self.old.as_ref() != Some(&self.new)
    }
}

/// The `review` command: `review` makes the page, `review --accept [NAME ...]` accepts all or those named.
pub fn command_line(words: &[String]) -> Result<(), String> {
    let (accept, names) = match words.split_first() {
        None => (false, &[][..]),
        Some((first, names)) if first == "--accept" => (true, names),
        Some((other, _)) => {
            return Err(format!("review does not know `{other}`; it takes --accept [NAME ...]."));
        }
    };
    let work = root().join("target").join("review");
    let drawn = work.join("drawn");
    if drawn.exists() {
        std::fs::remove_dir_all(&drawn).map_err(|error| format!("target/review: {error}."))?;
    }
    let mut draw = command(
        "cargo",
        &["test", "--quiet", "--locked", "--workspace", "--test", "references", "--", "drawings_are"],
    );
    draw.env("TURNLEAF_REVIEW", &drawn);
    show(draw, "Drawing the references")?;
    let pairs = pairs(&drawn)?;
    let changed: Vec<&Pair> = pairs.iter().filter(|pair| pair.changed()).collect();
    if accept {
        return take(&changed, names);
    }
    let page = work.join("index.html");
    std::fs::write(&page, html(&pairs)).map_err(|error| format!("target/review/index.html: {error}."))?;
    println!(
        "{} of {} drawings differ from those accepted. Look at target/review/index.html, then accept them with \
         `cargo xtask review --accept [NAME ...]`.",
        changed.len(),
        pairs.len()
    );
    Ok(())
}

fn references() -> PathBuf {
    root().join("tests").join("references")
}

fn pairs(drawn: &Path) -> Result<Vec<Pair>, String> {
    let text =
        std::fs::read_to_string(drawn.join("index.json")).map_err(|error| format!("index.json: {error}."))?;
    let index: serde_json::Value =
        serde_json::from_str(&text).map_err(|error| format!("index.json: {error}."))?;
    let field = |entry: &serde_json::Value, key: &str| entry[key].as_str().unwrap_or_default().to_string();
    let pair = |entry: &serde_json::Value| {
        let name = field(entry, "name");
        let file = format!("{name}.svg");
        let new = std::fs::read_to_string(drawn.join(&file)).map_err(|error| format!("{file}: {error}."))?;
        let old = std::fs::read_to_string(references().join(&file)).ok();
        Ok(Pair { name, question: field(entry, "question"), old, new })
    };
    index.as_array().into_iter().flatten().map(pair).collect()
}

fn take(changed: &[&Pair], names: &[String]) -> Result<(), String> {
    if let Some(name) = names.iter().find(|name| !changed.iter().any(|pair| pair.name == **name)) {
        return Err(format!("`{name}` is no drawing that changed."));
    }
    std::fs::create_dir_all(references()).map_err(|error| format!("tests/references: {error}."))?;
    let mut accepted = 0;
    for pair in changed.iter().filter(|pair| names.is_empty() || names.contains(&pair.name)) {
        let file = references().join(format!("{}.svg", pair.name));
        std::fs::write(&file, &pair.new).map_err(|error| format!("{}: {error}.", file.display()))?;
        accepted += 1;
    }
    println!("{accepted} drawings accepted.");
    Ok(())
}

/// Changed drawings first and open, the others folded up.
fn html(pairs: &[Pair]) -> String {
    let mut out = String::from(HEAD);
    let (changed, same): (Vec<&Pair>, Vec<&Pair>) = pairs.iter().partition(|pair| pair.changed());
    let _ = writeln!(out, "<p>{} drawings differ, {} are as accepted.</p>", changed.len(), same.len());
    for (pairs, open) in [(changed, " open"), (same, "")] {
        for pair in pairs {
            let _ = writeln!(
                out,
                "<details{open}><summary><b>{}</b> {}</summary><div class=\"pair\">",
                escaped(&pair.name),
                escaped(&pair.question)
            );
            let old = pair.old.as_deref().unwrap_or("<p>There is none yet.</p>");
            for (title, drawing) in [("Accepted", old), ("Drawn now", pair.new.as_str())] {
                if title == "Drawn now" || pair.changed() {
                    let _ = writeln!(out, "<figure><figcaption>{title}</figcaption>{drawing}</figure>");
                }
            }
            out.push_str("</div></details>\n");
        }
    }
    out.push_str("</body></html>\n");
    out
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;")
}

const HEAD: &str = "<!doctype html>
<html lang=\"en\"><head><meta charset=\"utf-8\"><title>Reference drawings</title><style>
@font-face { font-family: 'Open Sans'; src: url('../../static/fonts/OpenSans-Regular.ttf'); }
@font-face { font-family: 'Open Sans'; font-weight: 600; src: url('../../static/fonts/OpenSans-SemiBold.ttf'); }
@font-face { font-family: 'Open Sans'; font-style: italic; src: url('../../static/fonts/OpenSans-Italic.ttf'); }
@font-face { font-family: 'Turnleaf Signs'; src: url('../../static/fonts/TurnleafSigns-Regular.ttf'); }
body { font-family: 'Open Sans', sans-serif; margin: 1rem; }
summary { padding: 0.5rem 0; border-top: 1px solid #999; cursor: pointer; }
.pair { display: flex; flex-wrap: wrap; gap: 1rem; }
figure { flex: 1 1 30rem; margin: 0; border: 1px solid #ccc; }
figure svg { width: 100%; height: auto; }
</style></head><body><h1>Reference drawings</h1>
";

#[cfg(test)]
mod tests {
    use super::*;

    fn pair(old: Option<&str>) -> Pair {
        Pair {
            name: "a<b".into(),
            question: "Is it?".into(),
            old: old.map(str::to_string),
            new: "<svg/>".into(),
        }
    }

    #[test]
    fn changed_drawings_stand_first_and_open() {
        let page = html(&[pair(Some("<svg/>")), pair(None), pair(Some("<svg></svg>"))]);
        assert!(page.contains("2 drawings differ, 1 are as accepted"));
        assert_eq!(page.matches("<details open>").count(), 2);
        assert!(page.find("<details open>") < page.find("<details>"));
        assert!(page.contains("a&lt;b"));
    }

    #[test]
    fn a_name_that_did_not_change_is_not_accepted() {
        let same = pair(Some("<svg/>"));
        let said = take(&[], std::slice::from_ref(&same.name)).unwrap_err();
        assert!(said.contains("no drawing that changed"), "{said}");
    }
}
