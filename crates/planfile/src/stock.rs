//! Stock on hand: the sheets and boards a table is cut from, and how they are sawn.
//!
//! In: the group `stock` of a file, or text of a form. Out: [`Stock`].
//! Always true: every length carries its unit, so that it means the same whatever the plan's unit; what is absent
//! has a usual value; what was typed is kept as typed.

use crate::fields::field_index;
use crate::json::Json;
use crate::options::PlanUnit;
use crate::plan::Plan;
use crate::say::{quoted, wrong_type};
use turnleaf_diag::Diagnostic;
use turnleaf_units::{Length, LengthUnit, parse_length, understand_length};

/// Kinds of sheet stock that a sheet may be kept for.
pub const STOCK_KINDS: [&str; 6] = ["top", "plate", "base", "slide", "steel", "plastic"];
/// Most kinds of sheets.
pub const SHEETS_MAX: usize = 40;
/// Most sheets of one kind.
const COUNT_MAX: u32 = 1000;

/// Sheets of one size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetOnHand {
    /// The size as typed.
    pub name: String,
    /// The longer side, along the grain.
    pub length: Length,
    /// The shorter side.
    pub width: Length,
    /// How many of each material and thickness; without limit when left out.
    pub count: Option<u32>,
    /// One of [`STOCK_KINDS`]; for every kind when left out.
    pub of: Option<&'static str>,
}

/// Everything on hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stock {
    /// Sheets.
    pub sheets: Vec<SheetOnHand>,
    /// What the saw takes away.
    pub kerf: Length,
    /// Unused edge of each sheet.
    pub margin: Length,
    /// Length of the boards, dowels and bars as bought, from which strips and rods are cut.
    pub board: Length,
}

/// Keys of the group that hold one length: key, name, usual in a metric and an inch plan, least and most mm.
/// Usual values: common practice, no source.
const LENGTHS: [(&str, &str, &str, &str, f64, f64); 3] = [
    ("kerf", "saw kerf", "3.2 mm", "1/8 in", 0.0, 100.0),
    ("margin", "edge margin of the sheets", "10 mm", "3/8 in", 0.0, 500.0),
    ("board", "length of boards", "2400 mm", "96 in", 300.0, 10_000.0),
];

/// Reads a sheet: two lengths with x or × between them; after a colon how many there are and what they are kept for.
/// A unit after the second length holds for both. "1220x2440mm", "4x8ft:3", "1525 × 1525 mm: 2 plate".
pub fn parse_sheet(text: &str) -> Result<SheetOnHand, Diagnostic> {
    let wrong = |code: &str, why: String| Err(Diagnostic::error(format!("stock.sheets.{code}"), why));
    let eg = "write it as in 1220x2440mm, 4x8ft or 1525x1525mm:3 plate";
    let (size, rest) = text.split_once(':').map_or((text, None), |(a, b)| (a, Some(b)));
    let unreadable = || wrong("text", format!("The sheet “{}” cannot be read; {eg}.", quoted(text)));
    let Some((a, b)) = size.split_once(['x', '×', 'X']) else { return unreadable() };
    let unit: String =
        b.trim().trim_start_matches(|c: char| !c.is_alphabetic() && !"\"'″′".contains(c)).into();
    if unit.is_empty() {
        let sentence = format!("The sheet “{}” has no unit; {eg}.", quoted(text));
        return wrong("unit", sentence);
    }
    let bare = a.trim().chars().all(|c| c.is_ascii_digit() || ".,/ ".contains(c));
    let a = if bare { format!("{}{unit}", a.trim()) } else { a.to_string() };
    let read = |t: &str| parse_length(t, LengthUnit::Mm).ok();
    let (Some(a), Some(b)) = (read(&a), read(b)) else { return unreadable() };
    let (mut count, mut of) = (None, None);
    for word in rest.unwrap_or_default().split_whitespace() {
        if let Ok(n) = word.parse::<u32>() {
            if !(1..=COUNT_MAX).contains(&n) {
                let sentence = format!("{n} sheets cannot be used; there are 1 to {COUNT_MAX} of a kind.");
                return wrong("count", sentence);
            }
            count = Some(n);
        } else if let Some(kind) = STOCK_KINDS.into_iter().find(|k| *k == word) {
            of = Some(kind);
        } else {
            let kinds = STOCK_KINDS.join(", ");
            let sentence = format!(
                "“{}” after the colon of a sheet is neither a number nor a kind of stock; those are {kinds}.",
                quoted(word)
            );
            return wrong("kind", sentence);
        }
    }
    let (length, width) = (a.max(b), a.min(b));
    if width.mm() < 100.0 || length.mm() > 10_000.0 {
        let sentence =
            format!("The sheet “{}” must be at least 100 mm wide and at most 10 m long.", quoted(text));
        return wrong("range", sentence);
    }
    Ok(SheetOnHand { name: size.trim().to_string(), length, width, count, of })
}

fn length_of(row: &(&str, &str, &str, &str, f64, f64), text: &str) -> Result<Length, Diagnostic> {
    let (key, name, metric, inch, least, most) = *row;
    let code = |tail: &str| format!("stock.{key}.{tail}");
    if text.trim().chars().all(|c| c.is_ascii_digit() || ".,/ ".contains(c)) {
        let sentence = format!("The {name} “{}” has no unit; write {metric} or {inch}.", quoted(text));
        return Err(Diagnostic::error(code("unit"), sentence));
    }
    let length = parse_length(text, LengthUnit::Mm).map_err(|p| {
        Diagnostic::error(code("text"), format!("The {name}: {p}")).hint(format!("The usual is {metric}."))
    })?;
    if !(least..=most).contains(&length.mm()) {
        let sentence =
            format!("The {name} “{}” is outside what can be used, {least} mm to {most} mm.", quoted(text));
        return Err(Diagnostic::error(code("range"), sentence));
    }
    Ok(length)
}

fn unknown(key: &str) -> Diagnostic {
    let sentence = format!("There is no length of stock called “{}”.", quoted(key));
    Diagnostic::error("stock.unknown", sentence)
}

/// Everything wrong with a group, or what it means.
pub(crate) fn read(pairs: &[(String, Json)], unit: PlanUnit) -> Result<Stock, Vec<Diagnostic>> {
    let mut wrong = Vec::new();
    let find = |key: &str| pairs.iter().find(|(k, v)| k == key && *v != Json::Null).map(|(_, v)| v);
    let mut lengths = [Length::ZERO; 3];
    for (row, place) in LENGTHS.iter().zip(&mut lengths) {
        let usual = if unit == PlanUnit::Inch { row.3 } else { row.2 };
        let text = match find(row.0) {
            None => usual,
            Some(Json::Text(text)) => text,
            Some(other) => {
                let works = format!("text with a unit, for example “{}”", row.2);
                wrong.push(wrong_type(&format!("stock.{}", row.0), row.1, other, &works));
                continue;
            }
        };
        match length_of(row, text) {
            Ok(length) => *place = length,
            Err(d) => wrong.push(d),
        }
    }
    let usual = if unit == PlanUnit::Inch { "4x8ft" } else { "1220x2440mm" };
    let mut texts = vec![usual.to_string()];
    match find("sheets") {
        None => {}
        Some(Json::List(list)) if list.len() > SHEETS_MAX => {
            let sentence = format!("There are {} kinds of sheets; a plan holds {SHEETS_MAX}.", list.len());
            wrong.push(Diagnostic::error("stock.sheets.many", sentence));
        }
        Some(Json::List(list)) => {
            let mut read = Vec::new();
            for one in list {
                match one {
                    Json::Text(text) => read.push(text.clone()),
                    other => {
                        wrong.push(wrong_type("stock.sheets", "sheet", other, "text such as “1220x2440mm”"))
                    }
                }
            }
            if !read.is_empty() {
                texts = read;
            }
        }
        Some(other) => wrong.push(wrong_type("stock.sheets", "list of sheets", other, "a list in brackets")),
    }
    let mut sheets = Vec::new();
    for text in &texts {
        match parse_sheet(text) {
            Ok(sheet) => sheets.push(sheet),
            Err(d) => wrong.push(d),
        }
    }
    let [kerf, margin, board] = lengths;
    if let Some(small) = sheets.iter().find(|s| s.width.mm() <= 2.0 * margin.mm()) {
        let sentence = format!(
            "A sheet {} mm wide has nothing left inside an edge margin of {} mm; take a smaller margin.",
            small.width.mm(),
            margin.mm()
        );
        wrong.push(Diagnostic::error("stock.margin.range", sentence));
    }
    if wrong.is_empty() { Ok(Stock { sheets, kerf, margin, board }) } else { Err(wrong) }
}

/// Keys of the group that this version knows.
pub(crate) fn knows(key: &str) -> bool {
    key == "sheets" || LENGTHS.iter().any(|row| row.0 == key)
}

impl Plan {
    /// Stock on hand.
    pub fn stock(&self) -> Stock {
        // What is kept was read before; only the unit, which decides the usual values, may have changed since.
        read(&self.stock, self.options().unit).or_else(|_| read(&[], self.options().unit)).unwrap_or(Stock {
            sheets: Vec::new(),
            kerf: Length::ZERO,
            margin: Length::ZERO,
            board: Length::ZERO,
        })
    }
    /// The sheets as typed; none when they are the usual ones.
    pub fn typed_sheets(&self) -> Vec<String> {
        let list = self.stock.iter().find(|(k, _)| k == "sheets").map(|(_, v)| v);
        let Some(Json::List(list)) = list else { return Vec::new() };
        let text = |j: &Json| if let Json::Text(t) = j { Some(t.clone()) } else { None };
        list.iter().filter_map(text).collect()
    }
    /// Sets the sheets as typed (see [`parse_sheet`]); an empty list brings the usual ones back. A refusal changes
    /// nothing.
    pub fn set_sheets(&mut self, sheets: &[String]) -> Result<(), Diagnostic> {
        let list = Json::List(sheets.iter().map(Json::text).collect());
        self.put_stock("sheets", (!sheets.is_empty()).then_some(list))
    }
    /// Sets `kerf`, `margin` or `board` as typed, with its unit; empty text brings the usual one back. A refusal
    /// changes nothing.
    pub fn set_stock(&mut self, key: &str, text: &str) -> Result<(), Diagnostic> {
        if !LENGTHS.iter().any(|row| row.0 == key) {
            return Err(unknown(key));
        }
        self.put_stock(key, (!text.trim().is_empty()).then(|| Json::text(text.trim())))
    }
    /// `kerf`, `margin` or `board` as typed; nothing when it is the usual one.
    pub fn typed_stock(&self, key: &str) -> Option<String> {
        let (_, value) = self.stock.iter().find(|(k, _)| k == key)?;
        if let Json::Text(text) = value { Some(text.clone()) } else { None }
    }
    /// Says what a text for `kerf`, `margin` or `board` would be understood as, without keeping it; for empty text,
    /// the usual one.
    pub fn understand_stock(&self, key: &str, text: &str) -> Result<String, Diagnostic> {
        let row = LENGTHS.iter().find(|row| row.0 == key).ok_or_else(|| unknown(key))?;
        let usual = if self.options().unit == PlanUnit::Inch { row.3 } else { row.2 };
        let text = if text.trim().is_empty() { usual } else { text };
        let mm = length_of(row, text)?.mm();
        let said = understand_length(text, LengthUnit::Mm, self.options().language.decimal_sign());
        Ok(said.map_or(format!("{mm} mm"), |u| u.text))
    }
    /// A measured thickness as typed.
    pub fn typed_measured(&self, id: &str) -> Option<String> {
        Some(self.measured.get(&field_index(id)?)?.typed.text())
    }
    fn put_stock(&mut self, key: &str, value: Option<Json>) -> Result<(), Diagnostic> {
        let mut pairs = self.stock.clone();
        match (pairs.iter().position(|(k, _)| k == key), value) {
            (Some(i), Some(value)) => pairs[i].1 = value,
            (Some(i), None) => {
                pairs.remove(i);
            }
            (None, Some(value)) => pairs.push((key.to_string(), value)),
            (None, None) => {}
        }
        read(&pairs, self.options().unit).map_err(|mut found| found.remove(0))?;
        self.stock = pairs;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sheets_are_read_as_typed() {
        let read = |t: &str| parse_sheet(t).map(|s| (s.length.mm(), s.width.mm(), s.count, s.of)).ok();
        assert_eq!(read("1220x2440mm"), Some((2440.0, 1220.0, None, None)));
        // 1 ft is 304.8 mm (international yard and pound agreement, 1959).
        assert_eq!(read("4x8ft"), Some((2438.4, 1219.2, None, None)));
        assert_eq!(read("1525 × 1525 mm: 3 plate"), Some((1525.0, 1525.0, Some(3), Some("plate"))));
        assert_eq!(read("5x5ft:steel"), Some((1524.0, 1524.0, None, Some("steel"))));
    }

    #[test]
    fn bad_sheets_are_told_in_one_sentence() {
        for (text, word) in [
            ("", "read"),
            ("big", "read"),
            ("1220x", "unit"),
            ("1220x2440", "unit"),
            ("1220x2440mm:many", "many"),
            ("1220x2440mm:0", "1 to 1000"),
            ("20x2440mm", "100 mm"),
            ("1x99999m", "10 m"),
        ] {
            let d = parse_sheet(text).expect_err(text);
            assert!(d.sentence.contains(word), "{text}: {}", d.sentence);
        }
    }

    #[test]
    fn stock_is_kept_as_typed_and_refusals_change_nothing() {
        let mut plan = Plan::default_metric();
        assert_eq!(plan.stock().sheets[0].length.mm(), 2440.0);
        plan.set_sheets(&["5x5ft:2 top".into(), "1220x2440mm".into()]).unwrap();
        plan.set_stock("kerf", "1/8 in").unwrap();
        let saved = plan.to_json();
        assert!(saved.contains("5x5ft:2 top") && saved.contains("1/8 in"));
        let again = Plan::parse(saved.as_bytes()).unwrap().0;
        assert_eq!(again, plan);
        assert_eq!(again.stock().kerf.mm(), 3.175);
        for (key, text) in
            [("kerf", "3"), ("kerf", "200 mm"), ("margin", "600 mm"), ("glue", "1 mm"), ("board", "x")]
        {
            assert!(plan.set_stock(key, text).is_err(), "{key} {text}");
        }
        assert_eq!(plan, again);
        assert_eq!(plan.typed_stock("kerf").as_deref(), Some("1/8 in"));
        // 1/8 in is 3.175 mm exactly.
        assert!(plan.understand_stock("kerf", "1/8 in").unwrap().contains("3.175 mm"));
        assert!(plan.understand_stock("kerf", "3").is_err() && plan.understand_stock("glue", "").is_err());
        plan.set_stock("kerf", "").unwrap();
        assert_eq!((plan.stock().kerf.mm(), plan.typed_stock("kerf")), (3.2, None));
        assert!(plan.understand_stock("kerf", "").unwrap().starts_with("3.2 mm"));
    }
}
