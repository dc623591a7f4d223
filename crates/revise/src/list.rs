//! What changed between two editions, as a list.
//!
//! In: what each prints, as [`Entry`]s with stable identifiers. Out: [`Change`]s.
//! Always true: an entry is in the list exactly when it was added, taken away, or prints differently; a value that
//! moved by less than shows in print is no change. The list has the order of the newer edition, with what was
//! taken away at the end of its group.

use crate::pairs::by_name;

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
    /// A direction round the whole circle, degrees from 0 to 360; differences are angles.
    Bearing,
    /// A count, a force or anything else that is a number.
    Other,
}

/// A value as it is printed, or the difference of two.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Amount {
    /// Millimetres, degrees, or a plain number.
    pub value: f64,
    /// Of a length, inches: rounded by themselves, so they need not be the millimetres over 25.4.
    pub inches: Option<f64>,
    /// What it measures.
    pub measure: Measure,
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
    pub value: Option<Amount>,
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
    /// New less old, where both are values of one kind; of bearings the angle between them, -180 to 180.
    pub difference: Option<Amount>,
}

/// Everything that changed.
pub fn compare(old: &[Entry], new: &[Entry]) -> Vec<Change> {
    let mut out = Vec::new();
    for group in Group::ALL {
        let of = |all: &'_ [Entry]| (0..all.len()).filter(|i| all[*i].group == group).collect::<Vec<_>>();
        let (was, is) = (of(old), of(new));
        let ids = by_name(was.iter().map(|i| old[*i].id.as_str()), is.iter().map(|i| new[*i].id.as_str()));
        for (a, b) in ids {
            let (a, b) = (a.map(|i| &old[was[i]]), b.map(|i| &new[is[i]]));
            if a.zip(b).is_some_and(|(a, b)| a.print == b.print) {
                continue;
            }
            let Some(named) = b.or(a) else { continue };
            out.push(Change {
                group,
                id: named.id.clone(),
                label: named.label.clone(),
                old: a.map(|e| e.shown.clone()),
                new: b.map(|e| e.shown.clone()),
                difference: a.zip(b).and_then(|(a, b)| difference(a.value?, b.value?)),
            });
        }
    }
    out
}

/// New less old, where both are values of one kind.
fn difference(old: Amount, new: Amount) -> Option<Amount> {
    if old.measure != new.measure {
        return None;
    }
    let value = new.value - old.value;
    let inches = new.inches.zip(old.inches).map(|(new, old)| new - old);
    Some(match new.measure {
        // Round the whole circle the shorter way: from 359 to 1 degree is +2.
        Measure::Bearing => {
            Amount { value: value - 360.0 * (value / 360.0).round(), inches: None, measure: Measure::Angle }
        }
        measure => Amount { value, inches, measure },
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(id: &str, value: f64, measure: Measure) -> Entry {
        let text = format!("{value}");
        Entry {
            group: Group::Dimension,
            id: id.into(),
            label: id.into(),
            print: text.clone(),
            shown: text,
            value: Some(Amount { value, inches: None, measure }),
        }
    }

    #[test]
    fn bearings_differ_by_the_shorter_way_round() {
        for (old, new, by) in
            [(359.0, 1.0, 2.0), (1.0, 359.0, -2.0), (225.0, 165.0, -60.0), (10.0, 10.5, 0.5)]
        {
            let c = compare(&[entry("a", old, Measure::Bearing)], &[entry("a", new, Measure::Bearing)]);
            let found = c[0].difference.unwrap();
            assert_eq!((found.value, found.measure), (by, Measure::Angle), "{old} to {new}");
        }
    }

    #[test]
    fn values_of_two_kinds_have_no_difference() {
        let c = compare(&[entry("a", 1.0, Measure::Length)], &[entry("a", 2.0, Measure::Angle)]);
        assert_eq!(c[0].difference, None);
    }
}
