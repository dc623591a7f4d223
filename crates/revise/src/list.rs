//! What changed between two editions, as a list.
//!
//! In: what each prints, as [`Entry`]s with stable identifiers. Out: [`Change`]s.
//! Always true: an entry is in the list exactly when it was added, taken away, or prints differently; a value that
//! moved by less than shows in print is no change. The list has the order of the newer edition, with what was
//! taken away at the end of its group.

use std::collections::{BTreeMap, BTreeSet};

/// What kind of thing an entry is. In the order in which lists show them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// A size the maker typed.
    Size,
    /// An option of the plan.
    Option,
    /// A solved number.
    Number,
    /// A part to make: how many, of what.
    Part,
    /// A thing to buy.
    Hardware,
    /// A printed dimension of a part.
    Dimension,
    /// A step of the building.
    Step,
    /// A page of the book.
    Page,
}

impl Group {
    /// All groups in order.
    pub const ALL: [Group; 8] = [
        Group::Size,
        Group::Option,
        Group::Number,
        Group::Part,
        Group::Hardware,
        Group::Dimension,
        Group::Step,
        Group::Page,
    ];
    /// The word in JSON.
    pub const fn key(self) -> &'static str {
        match self {
            Group::Size => "size",
            Group::Option => "option",
            Group::Number => "number",
            Group::Part => "part",
            Group::Hardware => "hardware",
            Group::Dimension => "dimension",
            Group::Step => "step",
            Group::Page => "page",
        }
    }
}

/// What a value measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// A length, mm.
    Length,
    /// An angle, degrees.
    Angle,
    /// A count, a force or anything else that is a number.
    Other,
}

/// One thing that an edition prints.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// What kind of thing.
    pub group: Group,
    /// Stable identifier, unique within the group.
    pub id: String,
    /// Name in plain words.
    pub label: String,
    /// As printed; what decides whether it changed.
    pub print: String,
    /// As shown in a list: in both units where it is a length.
    pub shown: String,
    /// The value, where it is one.
    pub value: Option<(f64, Measure)>,
}

/// One change.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// What kind of thing.
    pub group: Group,
    /// Its identifier.
    pub id: String,
    /// Its name, the newer one where both have it.
    pub label: String,
    /// As the older edition has it; none when it was added.
    pub old: Option<String>,
    /// As the newer edition has it; none when it was taken away.
    pub new: Option<String>,
    /// New less old, where both are values of one kind.
    pub difference: Option<(f64, Measure)>,
}

/// Everything that changed.
pub fn compare(old: &[Entry], new: &[Entry]) -> Vec<Change> {
    let mut out = Vec::new();
    for group in Group::ALL {
        let was: BTreeMap<&str, &Entry> =
            old.iter().filter(|e| e.group == group).map(|e| (e.id.as_str(), e)).collect();
        let is: BTreeSet<&str> = new.iter().filter(|e| e.group == group).map(|e| e.id.as_str()).collect();
        for e in new.iter().filter(|e| e.group == group) {
            let before = was.get(e.id.as_str());
            if before.is_some_and(|b| b.print == e.print) {
                continue;
            }
            out.push(Change {
                group,
                id: e.id.clone(),
                label: e.label.clone(),
                old: before.map(|b| b.shown.clone()),
                new: Some(e.shown.clone()),
                difference: before.and_then(|b| match (e.value?, b.value?) {
                    ((new, measure), (old, same)) if measure == same => Some((new - old, measure)),
                    _ => None,
                }),
            });
        }
        for e in old.iter().filter(|e| e.group == group && !is.contains(e.id.as_str())) {
            out.push(Change {
                group,
                id: e.id.clone(),
                label: e.label.clone(),
                old: Some(e.shown.clone()),
                new: None,
                difference: None,
            });
        }
    }
    out
}
