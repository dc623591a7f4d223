//! Kept plans as they lie on the shelf, and all of them as one file.
//!
//! In: works with what is known about them, or a file of plans. Out: cards, the file, or what is in it.
//! Always true: a card's stamp is new with every writing, and no order is ever read from a clock; of a file of
//! plans each plan is read by itself, so that one that cannot be read costs no other. Nothing here touches the browser.

use crate::core::{Plan, TITLE_MAX, say_length};
use crate::kept::{self, Work};
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};

/// What one knows of a kept plan without reading it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Card {
    /// Stable identifier.
    pub id: String,
    /// New with every writing; two tabs tell by it whether they know the same text.
    pub stamp: String,
    /// Name of the plan; may be empty.
    pub name: String,
    /// When it was changed, milliseconds since 1970, by a clock that may be wrong.
    pub changed: f64,
    /// Place in the order of changes; greater is later.
    pub order: u64,
    /// Bytes of the plan file.
    pub bytes: usize,
    /// Its main sizes in words.
    pub says: String,
    /// Where it came from, if that has to be said; may be empty.
    #[serde(default)]
    pub note: String,
}

impl Card {
    /// The card of a work. `changed` and `order` are the caller's to say, since no clock is known here.
    pub fn of(work: &Work, id: &str, stamp: &str, changed: f64, order: u64, note: &str) -> Card {
        let plan = work.form.plan();
        Card {
            id: id.into(),
            stamp: stamp.into(),
            name: plan.texts().title.trim().into(),
            changed,
            order,
            bytes: plan.to_json().len(),
            says: says(plan),
            note: note.into(),
        }
    }

    /// What it is called.
    pub fn called(&self) -> &str {
        called(&self.name)
    }
}

/// What a plan of this name is called.
pub fn called(name: &str) -> &str {
    if name.trim().is_empty() { "A table without a name yet" } else { name.trim() }
}

/// The main sizes of a plan in words.
pub fn says(plan: &Plan) -> String {
    let mm = |id: &str| plan.length(id).map(|length| length.mm());
    let closed = mm("closed_diameter").unwrap_or(0.0);
    let open =
        mm("open_diameter").or_else(|| mm("travel").map(|travel| closed + 2.0 * travel)).unwrap_or(0.0);
    let sectors = plan.count("sectors").unwrap_or(0);
    format!("{} closed, {} open, {sectors} sectors", say_length(plan, closed), say_length(plan, open))
}

/// Kept work that could not be read, with nothing of it lost.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Aside {
    /// Stable identifier.
    pub id: String,
    /// Why it could not be read.
    pub why: String,
    /// The text as it was found.
    pub text: String,
}

/// The last state of a plan that a tab wrote down at once, before the slower keeping was through.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Last {
    /// The plan.
    pub id: String,
    /// Stamp of the kept text that this was typed upon; none when the plan was not kept yet.
    pub base: Option<String>,
    /// The work as [`kept::write`] gives it.
    pub body: String,
    /// The card's note.
    #[serde(default)]
    pub note: String,
}

/// What to do with a tab's last state, seen beside what is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rescue {
    /// Nothing: it is what is kept.
    Nothing,
    /// It goes on from what is kept, and takes its place.
    Continue,
    /// Both were changed: it becomes a plan of its own.
    Beside,
}

/// Decides it from the stamp and text that are kept now, if any are.
pub fn rescue(last: &Last, kept: Option<(&str, &str)>) -> Rescue {
    match kept {
        Some((_, body)) if body == last.body => Rescue::Nothing,
        Some((stamp, _)) if last.base.as_deref() != Some(stamp) => Rescue::Beside,
        _ => Rescue::Continue,
    }
}

/// The word that a file of plans begins with.
const FORMAT: &str = "turnleaf-plans";
/// Its version.
const VERSION: u64 = 1;

/// What a file of plans holds.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Collection {
    /// Identifier, when it was changed, the work as it was kept, and the list of its copies.
    pub plans: Vec<(String, f64, String, Option<String>)>,
    /// What could not be read when the file was written, or cannot be now.
    pub asides: Vec<Aside>,
}

/// Writes all plans as one file, each with the list of its copies where it has one.
pub fn write_all(plans: &[(Card, String, Option<String>)], asides: &[Aside]) -> String {
    let mut unread: Vec<Value> =
        asides.iter().map(|one| json!({ "why": one.why, "text": one.text })).collect();
    let mut works = Vec::new();
    for (card, body, list) in plans {
        match serde_json::from_str::<Value>(body) {
            Ok(work) => {
                let mut one = json!({ "id": card.id, "changed": card.changed, "work": work });
                if let Some(list) = list {
                    one["copies"] = json!(list);
                }
                works.push(one);
            }
            Err(_) => unread.push(json!({ "why": "it is not complete", "text": body })),
        }
    }
    let file = json!({ "format": FORMAT, "version": VERSION, "plans": works, "unread": unread });
    serde_json::to_string_pretty(&file).unwrap_or_default()
}

/// Reads a file of plans; nothing when the bytes are no such file, a sentence when it is one that cannot be used.
pub fn read_all(bytes: &[u8]) -> Option<Result<Collection, String>> {
    // Our own files begin with the word; a plan or a book is not looked through for it.
    let head = String::from_utf8_lossy(&bytes[..bytes.len().min(400)]);
    if !head.contains(&format!("\"{FORMAT}\"")) {
        return None;
    }
    let broken = "This file of plans is cut short or broken; nothing of it was taken over.";
    let Ok(file) = serde_json::from_slice::<Value>(bytes) else { return Some(Err(broken.into())) };
    (file["format"] == FORMAT).then(|| collection(&file))
}

fn collection(file: &Value) -> Result<Collection, String> {
    if file["version"] != VERSION {
        return Err(
            "This file of plans was written by a newer version of Turnleaf; nothing of it was taken over."
                .into(),
        );
    }
    let plans = file["plans"]
        .as_array()
        .ok_or("There is no list of plans in this file; nothing of it was taken over.")?;
    let mut out = Collection::default();
    for (number, one) in plans.iter().enumerate() {
        let body = one["work"].to_string();
        let id =
            one["id"].as_str().filter(|id| proper(id)).map_or(format!("file-{}", number + 1), str::to_string);
        match kept::read(&body) {
            Ok(_) => {
                let changed = one["changed"].as_f64().filter(|ms| ms.is_finite()).unwrap_or(0.0);
                out.plans.push((id, changed, body, one["copies"].as_str().map(str::to_string)));
            }
            Err(why) => out.asides.push(Aside { id, why, text: one.to_string() }),
        }
    }
    for (number, one) in file["unread"].as_array().into_iter().flatten().enumerate() {
        let text = one["text"].as_str().map_or_else(|| one.to_string(), str::to_string);
        let why = one["why"].as_str().unwrap_or("it could not be read").to_string();
        out.asides.push(Aside { id: format!("unread-{}", number + 1), why, text });
    }
    Ok(out)
}

/// Longest name of a file in the name of a plan, in characters.
const FILE_MAX: usize = 40;

/// What the `n`-th plan is called that comes from a file, differs from the one that is here, and is kept beside it.
pub fn beside(title: &str, file: &str, n: usize) -> String {
    let short = |text: &str, most: usize| -> String {
        if text.chars().count() <= most {
            return text.into();
        }
        text.chars().take(most - 1).chain(['…']).collect()
    };
    let number = if n > 1 { format!(" ({n})") } else { String::new() };
    let behind = format!(", as in {}{number}", short(file, FILE_MAX));
    format!("{}{behind}", short(called(title), TITLE_MAX - behind.chars().count()))
}

/// Whether two works are one and the same, without looking how far the table was turned.
pub fn same(one: &Work, other: &Work) -> bool {
    one.form == other.form
}

/// Whether a kept work is just this plan, with nothing that waits in its fields.
pub fn is_plan(work: &Work, plan: &Plan) -> bool {
    work.form.plan() == plan && work.form.all_refused().is_empty()
}

/// Whether the works behind two cards can be equal: equal plans have equal names and lengths.
pub fn alike(one: &Card, other: &Card) -> bool {
    one.bytes == other.bytes && one.name == other.name
}

/// Whether a text may be an identifier of a plan: it goes into addresses and keys.
pub fn proper(id: &str) -> bool {
    !id.is_empty()
        && id.len() <= 64
        && id.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-')
}

/// A count of bytes for people.
pub fn size_words(bytes: usize) -> String {
    match bytes {
        0..1_000 => format!("{bytes} bytes"),
        1_000..1_000_000 => format!("{} KB", (bytes + 500) / 1_000),
        _ => format!("{:.1} MB", bytes as f64 / 1e6),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::form::Form;

    fn work(closed: &str) -> Work {
        let mut form = Form::new(Plan::default_metric());
        form.edit("closed_diameter", closed);
        form.edit("height", "up to the sill");
        Work { form, share: 0.25 }
    }

    fn kept_one(id: &str, closed: &str) -> (Card, String, Option<String>) {
        let work = work(closed);
        (Card::of(&work, id, "1", 1.7e12, 3, ""), kept::write(&work), None)
    }

    #[test]
    fn all_plans_come_back_from_one_file_with_what_waits_in_their_fields() {
        let list = Some("name\r\n\"Ann, \"\"A\"\"\"\r\n".to_string());
        let (card, body, _) = kept_one("p-2", "47 in");
        let plans = [kept_one("p-1", "1180 mm"), (card, body, list.clone())];
        let aside = Aside { id: "x".into(), why: "it is not complete".into(), text: "{\"kept\"".into() };
        let file = write_all(&plans, std::slice::from_ref(&aside));
        let back = read_all(file.as_bytes()).unwrap().unwrap();
        let works: Vec<_> =
            back.plans.iter().map(|(id, _, body, _)| (id.as_str(), kept::read(body).unwrap())).collect();
        assert_eq!((&back.plans[0].3, &back.plans[1].3), (&None, &list));
        assert_eq!(works, [("p-1", work("1180 mm")), ("p-2", work("47 in"))]);
        assert_eq!(back.asides[0].text, aside.text);
    }

    #[test]
    fn one_plan_that_cannot_be_read_costs_no_other() {
        let file = write_all(&[kept_one("p-1", "1180 mm"), kept_one("p-2", "1190 mm")], &[]);
        let file = file.replacen("\"kept\": 1", "\"kept\": 99", 1);
        let back = read_all(file.as_bytes()).unwrap().unwrap();
        assert_eq!((back.plans.len(), back.asides.len()), (1, 1));
        assert!(back.asides[0].text.contains("1180 mm"));
    }

    #[test]
    fn a_file_cut_anywhere_is_refused_or_no_file_of_plans_and_never_half_taken() {
        let file = write_all(&[kept_one("p-1", "1180 mm")], &[]);
        for end in (0..file.len() - 1).filter(|end| file.is_char_boundary(*end)) {
            assert!(!matches!(read_all(&file.as_bytes()[..end]), Some(Ok(_))), "{end}");
        }
    }

    #[test]
    fn a_plan_is_no_file_of_plans() {
        assert!(read_all(Plan::default_metric().to_json().as_bytes()).is_none());
        assert!(read_all(b"%PDF-1.7").is_none() && read_all(b"").is_none());
    }

    #[test]
    fn a_tabs_last_state_never_takes_the_place_of_what_another_wrote() {
        let last = |base: Option<&str>| Last {
            id: "p".into(),
            base: base.map(str::to_string),
            body: "mine".into(),
            note: String::new(),
        };
        assert_eq!(rescue(&last(None), None), Rescue::Continue);
        assert_eq!(rescue(&last(Some("1")), None), Rescue::Continue);
        assert_eq!(rescue(&last(Some("1")), Some(("1", "older"))), Rescue::Continue);
        assert_eq!(rescue(&last(Some("1")), Some(("2", "other"))), Rescue::Beside);
        assert_eq!(rescue(&last(None), Some(("2", "other"))), Rescue::Beside);
        assert_eq!(rescue(&last(Some("1")), Some(("2", "mine"))), Rescue::Nothing);
    }

    #[test]
    fn what_is_kept_beside_is_named_after_its_file_and_fits() {
        assert_eq!(beside("Oak", "plans.json", 1), "Oak, as in plans.json");
        assert_eq!(beside(" ", "plans.json", 2), "A table without a name yet, as in plans.json (2)");
        let mut form = Form::new(Plan::default_metric());
        for (title, file) in [("x".repeat(120), "f.json".into()), ("x".into(), "ü".repeat(300))] {
            let name = beside(&title, &file, 12);
            form.name(&name).unwrap();
            assert!(name.ends_with(" (12)") && name.contains('…'), "{name}");
        }
    }

    #[test]
    fn works_are_the_same_by_their_forms_alone() {
        let (one, other) = (work("1180 mm"), Work { share: 0.9, ..work("1180 mm") });
        assert!(same(&one, &other) && !same(&one, &work("1181 mm")));
        assert!(alike(&kept_one("a", "1180 mm").0, &kept_one("b", "1180 mm").0));
        assert!(!alike(&kept_one("a", "1180 mm").0, &kept_one("b", "118 cm").0));
        // What waits in a field is more than its plan.
        assert!(!is_plan(&one, one.form.plan()));
        let plain = Work { form: Form::new(one.form.plan().clone()), share: 0.0 };
        assert!(is_plan(&plain, one.form.plan()));
    }

    #[test]
    fn identifiers_from_files_are_plain() {
        for wrong in ["", "../x", "A", "a b", "ä", &"a".repeat(65)] {
            assert!(!proper(wrong), "{wrong}");
        }
        assert!(proper("p-l9x2k-4f"));
    }

    #[test]
    fn the_main_sizes_are_said_in_the_plans_units() {
        assert_eq!(says(&Plan::default_metric()), "1200 mm closed, 1650 mm open, 6 sectors");
        assert!(says(&Plan::default_inch()).starts_with("48 in closed"), "{}", says(&Plan::default_inch()));
    }
}
