//! Sheets on hand as rows of a form.
//!
//! In: a sheet as the plan file has it ("1220x2440mm:3 plate"). Out: its size, count and use, and the text again.
//! Always true: a row that was split and joined means the same; what cannot be split stays whole in the size, where
//! the plan refuses it with a sentence. Nothing here touches the browser.

use crate::core::STOCK_KINDS;

/// Sizes that are sold in most places: what is typed, and what one calls them. Common practice, no source.
pub const SOLD: [(&str, &str); 4] = [
    ("1220x2440mm", "1220 × 2440 mm"),
    ("1525x1525mm", "1525 × 1525 mm"),
    ("4x8ft", "4 × 8 ft"),
    ("5x5ft", "5 × 5 ft"),
];

/// What a kind of stock is used for, in plain words.
pub fn kind_words(kind: &str) -> &'static str {
    match kind {
        "top" => "panels, leaves and star",
        "plate" => "plates",
        "base" => "the base",
        "slide" => "slides",
        "steel" => "steel parts",
        "plastic" => "plastic parts",
        _ => "any part",
    }
}

/// One row.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Row {
    /// Two lengths with x between them.
    pub size: String,
    /// How many there are; empty for as many as it takes.
    pub count: String,
    /// One of the kinds of stock; empty for all.
    pub kind: String,
}

impl Row {
    /// From the text of the plan.
    pub fn split(text: &str) -> Row {
        let Some((size, rest)) = text.split_once(':') else {
            return Row { size: text.trim().into(), ..Row::default() };
        };
        let mut row = Row { size: size.trim().into(), ..Row::default() };
        for word in rest.split_whitespace() {
            if STOCK_KINDS.contains(&word) {
                row.kind = word.into();
            } else {
                row.count = word.into();
            }
        }
        row
    }

    /// The text for the plan.
    pub fn join(&self) -> String {
        let (size, count, kind) = (self.size.trim(), self.count.trim(), self.kind.trim());
        match (count, kind) {
            ("", "") => size.into(),
            (one, "") | ("", one) => format!("{size}:{one}"),
            (count, kind) => format!("{size}:{count} {kind}"),
        }
    }
}

/// Whether a measured thickness is so far from the planned one that it is more likely a slip: a quarter and more.
pub fn far(planned: f64, measured: f64) -> bool {
    planned > 0.0 && (measured - planned).abs() > planned / 4.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::core::Plan;

    #[test]
    fn rows_that_are_split_and_joined_mean_the_same() {
        for text in ["1220x2440mm", "4x8ft:3", "1525 × 1525 mm: 2 plate", "5x5ft:steel"] {
            let row = Row::split(text);
            let (mut one, mut other) = (Plan::default_metric(), Plan::default_metric());
            one.set_sheets(&[text.into()]).unwrap();
            other.set_sheets(&[row.join()]).unwrap();
            let of = |plan: &Plan| {
                plan.stock().sheets.iter().map(|s| (s.length, s.width, s.count, s.of)).collect::<Vec<_>>()
            };
            assert_eq!(of(&one), of(&other), "{text}");
        }
        assert_eq!(Row::split("1525x1525mm: 2 plate").kind, "plate");
    }

    #[test]
    fn every_size_that_is_sold_can_be_used() {
        let mut plan = Plan::default_metric();
        let all: Vec<String> = SOLD.iter().map(|(typed, _)| (*typed).to_string()).collect();
        plan.set_sheets(&all).unwrap();
        assert_eq!(plan.stock().sheets.len(), SOLD.len());
    }

    #[test]
    fn nonsense_is_refused_by_the_plan_with_a_sentence() {
        let row = Row { size: "1220x2440mm".into(), count: "many".into(), kind: String::new() };
        let why = Plan::default_metric().set_sheets(&[row.join()]).unwrap_err();
        assert!(why.sentence.contains("many"), "{}", why.sentence);
    }

    #[test]
    fn a_quarter_off_is_far() {
        assert!(far(19.0, 24.0) && far(19.0, 14.0) && !far(19.0, 18.2) && !far(19.0, 23.0));
    }
}
