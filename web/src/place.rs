//! Where in the app one is, as an address.
//!
//! In: the part of the address behind `#`. Out: the place, and back.
//! Always true: an address that means no place, such as a part of the page, changes none. Nothing here touches the browser.

use crate::shelf::proper;

/// A place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// The start page with all plans.
    Start,
    /// A kept plan, by its identifier.
    Plan(String),
    /// A demo, by its name; it becomes a plan with the first change.
    Demo(String),
    /// The usual table; it becomes a plan with the first change.
    Usual,
}

impl Place {
    /// From an address part such as `#/plan/p-1`; nothing for any other.
    pub fn read(hash: &str) -> Option<Place> {
        let words: Vec<&str> = hash.strip_prefix("#/")?.split('/').collect();
        match words.as_slice() {
            ["plans"] => Some(Place::Start),
            ["plan", id] if proper(id) => Some(Place::Plan((*id).into())),
            ["demo", name] if proper(name) => Some(Place::Demo((*name).into())),
            ["usual"] => Some(Place::Usual),
            _ => None,
        }
    }

    /// The address part.
    pub fn hash(&self) -> String {
        match self {
            Place::Start => "#/plans".into(),
            Place::Plan(id) => format!("#/plan/{id}"),
            Place::Demo(name) => format!("#/demo/{name}"),
            Place::Usual => "#/usual".into(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_place_has_an_address_of_its_own() {
        for place in [Place::Start, Place::Plan("p-1".into()), Place::Demo("map-room".into()), Place::Usual] {
            assert_eq!(Place::read(&place.hash()), Some(place));
        }
    }

    #[test]
    fn parts_of_the_page_and_rubbish_are_no_places() {
        for hash in [
            "",
            "#",
            "#sizes",
            "#/",
            "#/plan",
            "#/plan/",
            "#/plan/../x",
            "#/plan/a/b",
            "#/PLANS",
            "#/demo/%00",
        ] {
            assert_eq!(Place::read(hash), None, "{hash}");
        }
    }
}
