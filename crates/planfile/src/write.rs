//! Saving a plan.
//!
//! In: a [`Plan`]. Out: JSON text.
//! Always true: keys stand in the order of FORMAT.md, what this version does not know follows in its old order;
//! the same plan gives the same bytes; reading them gives an equal plan.

use crate::fields::FIELDS;
use crate::json::Json;
use crate::options::Options;
use crate::plan::{Plan, Size};
use crate::steps::StepChange;
use crate::{FORMAT, VERSION};

impl Plan {
    /// The plan as a file.
    pub fn to_json(&self) -> String {
        // A tree of texts and finite numbers always serialises.
        serde_json::to_string_pretty(&self.tree()).expect("a plan serialises") + "\n"
    }

    pub(crate) fn tree(&self) -> Json {
        let mut root =
            vec![pair("format", Json::text(FORMAT)), pair("version", Json::Number(VERSION.into()))];
        let mut texts = vec![
            pair("title", Json::text(&self.texts.title)),
            pair("maker", Json::text(&self.texts.maker)),
            pair("number", Json::text(&self.texts.number)),
            pair("notes", list(&self.notes)),
        ];
        if !self.imprint.is_empty() {
            texts.push(pair("imprint", Json::text(&self.imprint)));
        }
        root.push(pair("texts", group(texts, &self.extra.texts)));
        root.push(pair("options", self.options_tree()));
        let sizes = self.sizes.iter().enumerate().filter_map(|(i, s)| Some(size(i, s.as_ref()?))).collect();
        root.push(pair("sizes", group(sizes, &self.extra.sizes)));
        let measured = self.measured.iter().map(|(i, s)| size(*i, s)).collect();
        root.push(pair("measured", group(measured, &self.extra.measured)));
        if !self.stock.is_empty() {
            root.push(pair("stock", Json::Object(self.stock.clone())));
        }
        let mut revision = vec![pair("mark", Json::text(&self.revision.mark))];
        revision.extend(self.revision.date.map(|d| pair("date", Json::text(d.to_string()))));
        revision.push(pair("reasons", list(&self.revision.reasons)));
        root.push(pair("revision", group(revision, &self.extra.revision)));
        if let Some(offer) = &self.offer {
            root.push(pair("offer", offer.tree()));
        }
        if !self.questions.is_empty() {
            root.push(pair("questions", Json::List(self.questions.iter().map(|q| q.tree()).collect())));
        }
        let past = self.revisions.iter().map(|r| r.row(true, true));
        root.push(pair("revisions", Json::List(past.collect())));
        root.extend(self.shared_tree().map(|t| pair("pictures", t)));
        if !self.steps.is_empty() {
            root.push(pair("steps", Json::List(self.steps.iter().map(step).collect())));
        }
        group(root, &self.extra.root)
    }

    fn options_tree(&self) -> Json {
        let (mut outer, mut print) = (Vec::new(), Vec::new());
        let mut print_at = None;
        for key in Options::KEYS {
            let Some(value) = self.options.give(key) else { continue };
            match key.strip_prefix("print.") {
                Some(inner) => {
                    print_at.get_or_insert(outer.len());
                    print.push(pair(inner, value));
                }
                None => outer.push(pair(key, value)),
            }
        }
        outer.insert(print_at.unwrap_or_default(), pair("print", group(print, &self.extra.print)));
        group(outer, &self.extra.options)
    }
}

fn pair(key: &str, value: Json) -> (String, Json) {
    (key.to_string(), value)
}

fn size(i: usize, size: &Size) -> (String, Json) {
    pair(FIELDS[i].id, size.typed.json())
}

fn step(s: &StepChange) -> Json {
    let mut known = vec![pair("id", Json::text(&s.id))];
    known.extend(s.title.as_ref().map(|t| pair("title", Json::text(t))));
    known.extend(s.text.as_ref().map(|t| pair("text", list(t))));
    if s.hidden {
        known.push(pair("hidden", Json::Bool(true)));
    }
    known.extend(s.after.as_ref().map(|a| pair("after", Json::text(a))));
    if !s.notes.is_empty() {
        known.push(pair("notes", list(&s.notes)));
    }
    if !s.pictures.is_empty() {
        let one = |p: &crate::Picture| {
            group(
                vec![pair("caption", Json::text(&p.caption)), pair("data", Json::text(p.encoded()))],
                &p.extra,
            )
        };
        known.push(pair("pictures", Json::List(s.pictures.iter().map(one).collect())));
    }
    group(known, &s.extra)
}

fn list(texts: &[String]) -> Json {
    Json::List(texts.iter().map(Json::text).collect())
}

fn group(mut known: Vec<(String, Json)>, extra: &[(String, Json)]) -> Json {
    known.extend_from_slice(extra);
    Json::Object(known)
}
