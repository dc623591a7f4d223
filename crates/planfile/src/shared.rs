//! Pictures of frozen plans, each kept once.
//!
//! In: frozen plans with their pictures inside. Out: the same plans with the fingerprint of each picture in its
//! place, and a [`Shared`] that has the picture; and the other way round.
//! Always true: putting back what was taken out gives a plan that decodes to the same pictures; data that is not
//! base64 is left where it stands; a picture whose fingerprint is another is not taken in.

use crate::json::Json;
use crate::plan::Plan;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use turnleaf_diag::Diagnostic;

/// Pictures in base64 by their fingerprints.
pub(crate) type Shared = BTreeMap<String, Arc<str>>;

/// The key in whose place a fingerprint stands.
const DATA: &str = "data";
/// The key of a fingerprint.
const SAME: &str = "same";

/// SHA-256 of the bytes of a picture file, hexadecimal.
pub(crate) fn fingerprint(data: &[u8]) -> String {
    Sha256::digest(data).iter().map(|b| format!("{b:02x}")).collect()
}

/// The groups of all pictures in a frozen plan.
fn pictures(plan: &mut Json) -> Vec<&mut Vec<(String, Json)>> {
    fn under<'a>(json: &'a mut Json, key: &str) -> Vec<&'a mut Json> {
        let Json::Object(pairs) = json else { return Vec::new() };
        let lists = pairs.iter_mut().filter(|(k, _)| k == key).filter_map(|(_, v)| match v {
            Json::List(list) => Some(list),
            _ => None,
        });
        lists.flatten().collect()
    }
    let steps = under(plan, "steps");
    let all = steps.into_iter().flat_map(|step| under(step, "pictures"));
    all.filter_map(|p| if let Json::Object(pairs) = p { Some(pairs) } else { None }).collect()
}

/// Takes the pictures out of a frozen plan.
pub(crate) fn take_out(plan: &mut Json, shared: &mut Shared) {
    for picture in pictures(plan) {
        for (key, value) in picture.iter_mut().filter(|(key, _)| key == DATA) {
            let Json::Text(text) = &value else { continue };
            let Ok(data) = STANDARD.decode(text.trim()) else { continue };
            let print = fingerprint(&data);
            shared.entry(print.clone()).or_insert_with(|| STANDARD.encode(&data).into());
            *key = SAME.into();
            *value = Json::Text(print);
        }
    }
}

/// Puts the pictures back into a frozen plan. One that is not there stays a fingerprint, and so does what a plan
/// file would not hold.
pub(crate) fn put_back(plan: &mut Json, shared: &Shared) {
    let mut left = crate::read::BYTES_MAX;
    for picture in pictures(plan) {
        for (key, value) in picture.iter_mut().filter(|(key, _)| key == SAME) {
            let Json::Text(print) = &value else { continue };
            if let Some(text) = shared.get(print).filter(|t| t.len() <= left) {
                left -= text.len();
                *key = DATA.into();
                *value = Json::text(&**text);
            }
        }
    }
}

/// Fingerprints in a frozen plan.
fn named(plan: &Json, out: &mut BTreeSet<String>) {
    let mut plan = plan.clone();
    for picture in pictures(&mut plan) {
        let prints = picture.iter().filter(|(key, _)| key == SAME);
        out.extend(prints.filter_map(|(_, v)| if let Json::Text(t) = v { Some(t.clone()) } else { None }));
    }
}

impl Plan {
    /// Fingerprints of all pictures that frozen plans show.
    fn shown(&self) -> BTreeSet<String> {
        let mut out = BTreeSet::new();
        self.revisions.iter().filter_map(|r| r.frozen()).for_each(|f| named(&f.plan, &mut out));
        out
    }

    /// Lets go of pictures that no frozen plan shows.
    pub(crate) fn prune_shared(&mut self) {
        if !self.shared.is_empty() {
            let shown = self.shown();
            self.shared.retain(|print, _| shown.contains(print));
        }
    }

    /// What the file has: pictures of frozen plans, without those that the present steps carry.
    pub(crate) fn shared_tree(&self) -> Option<Json> {
        let present: BTreeSet<&str> =
            self.steps.iter().flat_map(|s| &s.pictures).map(|p| p.print.as_str()).collect();
        let kept = self.shared.iter().filter(|(print, _)| !present.contains(print.as_str()));
        let pairs: Vec<(String, Json)> = kept.map(|(k, v)| (k.clone(), Json::text(&**v))).collect();
        (!pairs.is_empty()).then_some(Json::Object(pairs))
    }

    /// Takes in what the file has of them, and those of the present steps that frozen plans show too.
    pub(crate) fn take_shared(&mut self, from: Option<Json>, found: &mut Vec<Diagnostic>) {
        let wrong = |what: &str| {
            let sentence = format!("Of the pictures of issued revisions (“pictures”) {what}.");
            Diagnostic::warning("pictures", sentence)
        };
        match from {
            None | Some(Json::Null) => {}
            Some(Json::Object(pairs)) => {
                for (print, json) in pairs {
                    let Json::Text(text) = &json else {
                        found.push(wrong("one is not text; it is left out"));
                        continue;
                    };
                    match STANDARD.decode(text.trim()) {
                        Ok(data) if fingerprint(&data) == print => {
                            self.shared.insert(print, STANDARD.encode(&data).into());
                        }
                        _ => found.push(wrong("one does not match its fingerprint; it is left out")),
                    }
                }
            }
            Some(other) => {
                found.push(wrong(&format!("the file has {} instead of a group of values", other.what())));
            }
        }
        let shown = self.shown();
        for picture in self.steps.iter().flat_map(|s| &s.pictures).filter(|p| shown.contains(&p.print)) {
            self.shared.entry(picture.print.clone()).or_insert_with(|| picture.encoded().into());
        }
        self.shared.retain(|print, _| shown.contains(print));
    }
}
