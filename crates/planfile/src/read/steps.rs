//! Reading the maker's changes to the build steps.
//!
//! In: the list under `steps`. Out: [`StepChange`]s.
//! Always true: what cannot be read is said and left out; pictures are decoded before they are kept.

use super::{Pairs, Reader, take};
use crate::json::Json;
use crate::picture::{CAPTION_MAX, Picture};
use crate::say::wrong_type;
use crate::steps::{self, STEP_PICTURES_MAX, StepChange};
use crate::texts::{NOTE_MAX, TITLE_MAX};

impl Reader {
    /// The changes; absent is none.
    pub(super) fn steps(&mut self, from: Option<Json>) -> Vec<StepChange> {
        let list = match from {
            None | Some(Json::Null) => return Vec::new(),
            Some(Json::List(list)) => list,
            Some(other) => {
                self.found.push(wrong_type("steps", "list of steps", &other, "a list in brackets"));
                return Vec::new();
            }
        };
        let fits = steps::check_count(list.len());
        if self.keep(fits).is_none() {
            return Vec::new();
        }
        let mut out = Vec::new();
        for (i, item) in list.into_iter().enumerate() {
            let name = format!("step number {}", i + 1);
            match item {
                Json::Object(from) => out.push(self.step(from, &name)),
                other => self.found.push(wrong_type("steps", &name, &other, "a group of values in braces")),
            }
        }
        let fits = steps::check_steps(&out);
        self.keep(fits).map(|()| out).unwrap_or_default()
    }

    fn step(&mut self, mut from: Pairs, name: &str) -> StepChange {
        let whether = |json: &Json| !matches!(json, Json::Null);
        let has = |from: &Pairs, key: &str| from.iter().any(|(k, v)| k == key && whether(v));
        let id = self.text(&mut from, "steps.id", "id", &format!("identifier of {name}"), NOTE_MAX);
        let mut s = StepChange::of(id);
        if has(&from, "title") {
            s.title =
                Some(self.text(&mut from, "steps.title", "title", &format!("title of {name}"), TITLE_MAX));
        }
        if has(&from, "text") {
            s.text = Some(self.text_list(&mut from, "steps.text", "text", ("paragraph", "paragraphs")));
        }
        s.hidden = match take(&mut from, "hidden") {
            None | Some(Json::Null) => false,
            Some(Json::Bool(hidden)) => hidden,
            Some(other) => {
                let what = format!("“hidden” of {name}");
                self.found.push(wrong_type("steps.hidden", &what, &other, "true or false"));
                false
            }
        };
        if has(&from, "after") {
            let what = format!("“after” of {name}");
            s.after = Some(self.text(&mut from, "steps.after", "after", &what, NOTE_MAX));
        }
        s.notes = self.text_list(&mut from, "steps.notes", "notes", ("note", "notes"));
        match take(&mut from, "pictures") {
            None | Some(Json::Null) => {}
            Some(Json::List(list)) => {
                // Told before any is decoded.
                let fits = steps::count(&s.id, "pictures", list.len(), STEP_PICTURES_MAX);
                let list = self.keep(fits).map(|()| list).unwrap_or_default();
                for item in list {
                    s.pictures.extend(self.picture(item, name));
                }
            }
            Some(other) => {
                let what = format!("pictures of {name}");
                self.found.push(wrong_type("steps.pictures", &what, &other, "a list in brackets"));
            }
        }
        s.extra = self.rest("steps", from);
        s
    }

    fn picture(&mut self, item: Json, step: &str) -> Option<Picture> {
        let Json::Object(mut from) = item else {
            let what = format!("picture of {step}");
            self.found.push(wrong_type("steps.pictures", &what, &item, "a group of values in braces"));
            return None;
        };
        let what = format!("caption of a picture of {step}");
        let caption = self.text(&mut from, "steps.picture.caption", "caption", &what, CAPTION_MAX);
        let data = match take(&mut from, "data") {
            Some(Json::Text(data)) => data,
            other => {
                let what = format!("data of a picture of {step}");
                let other = other.unwrap_or(Json::Null);
                self.found.push(wrong_type("steps.picture.data", &what, &other, "text in quotes"));
                return None;
            }
        };
        let read = Picture::decoded(&data, caption, &mut self.unpack, self.look).map_err(|mut d| {
            d.sentence = format!("In {step}: {}", d.sentence);
            d
        });
        let mut picture = self.keep(read)?;
        picture.extra = self.rest("steps.pictures", from);
        Some(picture)
    }
}
