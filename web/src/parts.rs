//! Parts of a plan's page that fold: which stand open, remembered for each plan.
//!
//! In: what was opened and folded, and where. Out: which parts stand open at a place.
//! Always true: a plan without a memory of its own takes over what was chosen last; the memory stays small; an unknown
//! part is no part. Nothing here touches the browser.

use serde::{Deserialize, Serialize};

/// The parts below the sizes, in their order.
pub const PARTS: [&str; 6] = ["proof", "steps", "book", "revisions", "changes", "buyers"];

/// Plans that are remembered; the one not looked at for longest is forgotten first.
const MOST: usize = 60;

/// The parts that stand open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Open(Vec<&'static str>);

impl Default for Open {
    /// The book shows at first: it is what all is made for.
    fn default() -> Self {
        Open(vec!["book"])
    }
}

impl Open {
    /// Of parts by name; unknown names are left out.
    fn named(names: &[String]) -> Open {
        Open(PARTS.into_iter().filter(|part| names.iter().any(|name| name == part)).collect())
    }

    /// All or none.
    pub fn every(open: bool) -> Open {
        Open(if open { PARTS.to_vec() } else { Vec::new() })
    }

    /// Whether a part stands open.
    pub fn has(&self, part: &str) -> bool {
        self.0.contains(&part)
    }

    /// Opens or folds a part; whether that changed anything.
    pub fn put(&mut self, part: &str, open: bool) -> bool {
        let Some(part) = PARTS.into_iter().find(|one| *one == part) else { return false };
        if self.has(part) == open {
            return false;
        }
        self.0.retain(|one| *one != part);
        if open {
            self.0.push(part);
        }
        true
    }

    fn names(&self) -> Vec<String> {
        PARTS.into_iter().filter(|part| self.has(part)).map(String::from).collect()
    }
}

/// What is remembered, the place looked at last in front.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Memory {
    last: Option<Vec<String>>,
    places: Vec<(String, Vec<String>)>,
}

impl Memory {
    /// From the text it was kept as; anything else is an empty memory.
    pub fn read(text: &str) -> Memory {
        serde_json::from_str(text).unwrap_or_default()
    }

    /// As a text to keep.
    pub fn write(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }

    /// What stood open at a place.
    pub fn at(&self, place: &str) -> Option<Open> {
        self.places.iter().find(|(one, _)| one == place).map(|(_, names)| Open::named(names))
    }

    /// What was chosen last, anywhere.
    pub fn last(&self) -> Option<Open> {
        self.last.as_deref().map(Open::named)
    }

    /// Notes what stands open at a place.
    pub fn note(&mut self, place: &str, open: &Open) {
        self.last = Some(open.names());
        self.places.retain(|(one, _)| one != place);
        self.places.insert(0, (place.to_string(), open.names()));
        self.places.truncate(MOST);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_place_has_its_own_and_others_take_the_last() {
        let mut memory = Memory::default();
        assert_eq!(memory.at("#/plan/p-1"), None);
        memory.note("#/plan/p-1", &Open::every(true));
        memory.note("#/plan/p-2", &Open::every(false));
        let again = Memory::read(&memory.write());
        assert_eq!(again, memory);
        assert_eq!(again.at("#/plan/p-1"), Some(Open::every(true)));
        assert_eq!(again.at("#/plan/p-2"), Some(Open::every(false)));
        assert_eq!(again.last(), Some(Open::every(false)));
    }

    #[test]
    fn rubbish_is_an_empty_memory_and_unknown_parts_are_none() {
        for text in ["", "null", "[1]", "{\"last\":3}"] {
            assert_eq!(Memory::read(text), Memory::default(), "{text}");
        }
        let odd = Memory::read("{\"last\":[\"book\",\"cellar\",\"book\"],\"places\":[]}");
        assert_eq!(odd.last(), Some(Open::default()));
        let mut open = Open::default();
        assert!(!open.put("cellar", true) && !open.put("book", true) && open.put("book", false));
        assert_eq!(open, Open::every(false));
    }

    #[test]
    fn the_memory_stays_small_and_forgets_the_oldest() {
        let mut memory = Memory::default();
        for i in 0..=MOST {
            memory.note(&format!("#/plan/p-{i}"), &Open::default());
        }
        assert_eq!(memory.at("#/plan/p-0"), None);
        assert!(memory.at("#/plan/p-1").is_some());
    }
}
