//! What is done of a table: parts cut, steps made.
//!
//! In: presses. Out: counts, and the text to keep in the browser.
//! Always true: any text at all can be read, and what makes no sense in it is left out; a part never has more cut than
//! the table needs while it is counted up. Nothing here touches the browser.

use serde_json::{Map, Value, json};
use std::collections::{BTreeMap, BTreeSet};

/// Pieces of one part that were cut.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
struct Cut {
    count: usize,
    /// Print of the sheets they were cut to.
    to: String,
}

/// What is done.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Ticks {
    cut: BTreeMap<String, Cut>,
    steps: BTreeSet<String>,
}

impl Ticks {
    /// How many pieces of a part were cut.
    pub fn cut(&self, part: &str) -> usize {
        self.cut.get(part).map_or(0, |cut| cut.count)
    }

    /// Whether pieces of a part were cut to other sheets than these.
    pub fn cut_to_others(&self, part: &str, print: &str) -> bool {
        self.cut.get(part).is_some_and(|cut| cut.count > 0 && cut.to != print)
    }

    /// One more or one less, of so many; the sheets are those looked at.
    pub fn count(&mut self, part: &str, more: bool, of: usize, print: &str) {
        let now = self.cut(part);
        let count = if more { (now + 1).min(of.max(now)) } else { now.saturating_sub(1) };
        if count == 0 {
            self.cut.remove(part);
            return;
        }
        let cut = self.cut.entry(part.into()).or_default();
        // Pieces cut to older sheets stay so until all are counted down.
        if now == 0 {
            cut.to = print.into();
        }
        cut.count = count;
    }

    /// The pieces there serve with these sheets as well.
    pub fn serve(&mut self, part: &str, print: &str) {
        if let Some(cut) = self.cut.get_mut(part) {
            cut.to = print.into();
        }
    }

    /// Whether a step is done.
    pub fn done(&self, step: &str) -> bool {
        self.steps.contains(step)
    }

    /// Ticks a step, or takes the tick away.
    pub fn tick(&mut self, step: &str, done: bool) {
        if done {
            self.steps.insert(step.into());
        } else {
            self.steps.remove(step);
        }
    }

    /// The text to keep.
    pub fn write(&self) -> String {
        let cut: Map<String, Value> = self
            .cut
            .iter()
            .map(|(part, cut)| (part.clone(), json!({ "count": cut.count, "to": cut.to })))
            .collect();
        json!({ "cut": cut, "steps": self.steps }).to_string()
    }

    /// From a kept text; what cannot be read is not done.
    pub fn read(text: &str) -> Ticks {
        let tree: Value = serde_json::from_str(text).unwrap_or_default();
        let mut ticks = Ticks::default();
        for (part, cut) in tree["cut"].as_object().into_iter().flatten() {
            let count = cut["count"].as_u64().and_then(|n| usize::try_from(n).ok()).unwrap_or(0);
            if (1..10_000).contains(&count) {
                let to = cut["to"].as_str().unwrap_or_default().to_string();
                ticks.cut.insert(part.clone(), Cut { count, to });
            }
        }
        ticks.steps = tree["steps"]
            .as_array()
            .into_iter()
            .flatten()
            .filter_map(|s| s.as_str().map(str::to_string))
            .collect();
        ticks
    }
}

/// Under which name the ticks of a plan are kept, from the address of the app: every kept plan has its own.
pub fn key(hash: &str) -> String {
    let proper = |c: char| c.is_ascii_alphanumeric() || "-_/".contains(c);
    match hash.strip_prefix("#/") {
        Some(place) if !place.is_empty() && place.chars().all(proper) => format!("turnleaf/ticks/{place}"),
        _ => "turnleaf/ticks/work".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn some() -> Ticks {
        let mut ticks = Ticks::default();
        ticks.count("panel", true, 6, "a");
        ticks.count("panel", true, 6, "a");
        ticks.tick("make/top", true);
        ticks
    }

    #[test]
    fn what_is_kept_comes_back_equal() {
        assert_eq!(Ticks::read(&some().write()), some());
    }

    #[test]
    fn nobody_cuts_more_than_the_table_needs_nor_less_than_none() {
        let mut ticks = some();
        for _ in 0..20 {
            ticks.count("panel", true, 6, "a");
        }
        assert_eq!(ticks.cut("panel"), 6);
        for _ in 0..20 {
            ticks.count("panel", false, 6, "a");
        }
        assert_eq!(ticks.cut("panel"), 0);
    }

    #[test]
    fn pieces_cut_to_older_sizes_are_told_until_they_serve_or_are_gone() {
        let mut ticks = some();
        assert!(!ticks.cut_to_others("panel", "a") && ticks.cut_to_others("panel", "b"));
        ticks.count("panel", true, 6, "b");
        assert!(ticks.cut_to_others("panel", "b"), "two of three are the older ones");
        ticks.serve("panel", "b");
        assert!(!ticks.cut_to_others("panel", "b"));
    }

    #[test]
    fn rubbish_is_nothing_done() {
        for text in
            ["", "null", "[]", "{\"cut\":3}", "{\"cut\":{\"panel\":{\"count\":-1}},\"steps\":[1]}", "\u{0}"]
        {
            assert_eq!(Ticks::read(text), Ticks::default(), "{text}");
        }
    }

    #[test]
    fn every_kept_plan_has_its_own_ticks() {
        assert_eq!(key("#/plan/p-1"), "turnleaf/ticks/plan/p-1");
        assert_eq!(key(""), "turnleaf/ticks/work");
        assert_eq!(key("#book"), "turnleaf/ticks/work");
        assert_eq!(key("#/<script>"), "turnleaf/ticks/work");
    }
}
