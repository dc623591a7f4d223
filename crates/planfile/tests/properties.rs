//! Properties of the plan file over random input.

use proptest::prelude::*;
use turnleaf_diag::Severity;
use turnleaf_planfile::{FIELDS, Kind, Options, Plan, Value};

const READING_ROOM: &[u8] = include_bytes!("../../../demo/reading-room.json");

/// Whatever comes out of `parse` is fit to be shown, and what opens comes back.
fn sound(bytes: &[u8]) -> Result<(), TestCaseError> {
    let remarks = match Plan::parse(bytes) {
        Ok((plan, remarks)) => {
            prop_assert!(remarks.iter().all(|d| d.severity != Severity::Error));
            let saved = plan.to_json();
            let (again, _) =
                Plan::parse(saved.as_bytes()).map_err(|d| TestCaseError::fail(format!("{d:?}")))?;
            prop_assert_eq!(&again, &plan);
            prop_assert_eq!(again.to_json(), saved);
            for f in FIELDS {
                if let Some(value) = plan.value(f.id) {
                    prop_assert!(value >= f.min && value <= f.max, "{}", f.id);
                }
            }
            prop_assert!(plan.value("open_diameter").is_some() != plan.value("travel").is_some());
            remarks
        }
        Err(found) => {
            prop_assert!(found.first().is_some_and(|d| d.severity == Severity::Error));
            found
        }
    };
    for d in remarks {
        prop_assert!(d.sentence.ends_with('.') && d.sentence.chars().count() < 400, "{}", d.sentence);
        prop_assert!(!d.sentence.chars().any(char::is_control), "{:?}", d.sentence);
        prop_assert!(!d.code.is_empty());
    }
    Ok(())
}

/// JSON values of any shape.
fn json() -> impl Strategy<Value = serde_json::Value> {
    use serde_json::Value as J;
    let leaf = prop_oneof![
        Just(J::Null),
        any::<bool>().prop_map(J::Bool),
        any::<i64>().prop_map(|n| J::Number(n.into())),
        any::<f64>().prop_map(|n| serde_json::Number::from_f64(n).map_or(J::Null, J::Number)),
        any::<String>().prop_map(J::String),
        "[0-9 /.,'\"mincft]{0,9}".prop_map(J::String),
    ];
    leaf.prop_recursive(4, 24, 6, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..6).prop_map(J::Array),
            prop::collection::vec((key(), inner), 0..6)
                .prop_map(|pairs| J::Object(pairs.into_iter().collect())),
        ]
    })
}

/// Keys of the file, and others.
fn key() -> impl Strategy<Value = String> {
    let known =
        ["format", "version", "texts", "title", "notes", "options", "unit", "print", "sizes", "measured"];
    let mut known: Vec<String> = known.iter().map(|k| k.to_string()).collect();
    known.extend(FIELDS.iter().map(|f| f.id.to_string()));
    prop_oneof![prop::sample::select(known), "[a-z]{0,3}", any::<String>()]
}

/// A text for a field: often good, often not.
fn typed(kind: Kind) -> BoxedStrategy<String> {
    match kind {
        Kind::Length => prop_oneof![
            (0.0..3000.0f64).prop_map(|v| format!("{v:.2}")),
            (0.0..3000.0f64).prop_map(|v| format!("{v:.1} mm").replace('.', ",")),
            (0u32..100, 1u32..64).prop_map(|(i, k)| format!("{i} {k}/64 in")),
            (0u32..9, 0u32..12).prop_map(|(f, i)| format!("{f}'{i}\"")),
            any::<String>(),
        ]
        .boxed(),
        Kind::Angle => prop_oneof![(0.0..100.0f64).prop_map(|v| format!("{v}°")), any::<String>()].boxed(),
        Kind::Count => prop_oneof![(0u32..14).prop_map(|v| v.to_string()), any::<String>()].boxed(),
        Kind::Force => prop_oneof![(0u32..6000).prop_map(|v| format!("{v} N")), any::<String>()].boxed(),
    }
}

fn edit() -> impl Strategy<Value = (usize, String)> {
    (0..FIELDS.len()).prop_flat_map(|i| (Just(i), typed(FIELDS[i].kind)))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, ..ProptestConfig::default() })]

    #[test]
    fn random_bytes(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        sound(&bytes)?;
    }

    #[test]
    fn random_json(json in json()) {
        sound(json.to_string().as_bytes())?;
    }

    /// A plan with any one value of it replaced, or any key added.
    #[test]
    fn one_value_replaced(group in prop::sample::select(vec!["", "texts", "options", "sizes", "measured", "revision"]), key in key(), json in json()) {
        let mut file: serde_json::Value = serde_json::from_slice(READING_ROOM).expect("the demo is JSON");
        let at = if group.is_empty() { &mut file } else { &mut file[group] };
        at[key] = json;
        sound(file.to_string().as_bytes())?;
    }

    /// A plan with some bytes overwritten, cut out or put in.
    #[test]
    fn mutated_bytes(changes in prop::collection::vec((any::<prop::sample::Index>(), 0..3u8, any::<u8>()), 1..6)) {
        let mut bytes = READING_ROOM.to_vec();
        for (at, how, byte) in changes {
            let i = at.index(bytes.len());
            match how {
                0 => bytes[i] = byte,
                1 => { bytes.remove(i); }
                _ => bytes.insert(i, byte),
            }
        }
        sound(&bytes)?;
    }

    /// A plan cut short anywhere is refused.
    #[test]
    fn cut_short(at in any::<prop::sample::Index>()) {
        let end = at.index(READING_ROOM.trim_ascii_end().len());
        prop_assert!(Plan::parse(&READING_ROOM[..end]).is_err());
        sound(&READING_ROOM[..end])?;
    }

    /// Any series of edits leaves a plan that comes back equal; a refused one changes nothing.
    #[test]
    fn edits_keep_the_plan_sound(inch: bool, edits in prop::collection::vec(edit(), 0..30), flips in 0..3usize) {
        let mut plan = if inch { Plan::default_inch() } else { Plan::default_metric() };
        for (i, text) in edits {
            let before = plan.clone();
            match plan.set(FIELDS[i].id, &text) {
                Ok(_) if text.trim().is_empty() => prop_assert_eq!(plan.value(FIELDS[i].id), None),
                Ok(_) => prop_assert_eq!(plan.typed(FIELDS[i].id), Some(text.trim().to_string())),
                Err(_) => prop_assert_eq!(&plan, &before),
            }
        }
        let values: Vec<Option<Value>> = FIELDS.iter().map(|f| plan.value(f.id)).collect();
        for _ in 0..flips {
            for unit in ["in", "mm"] {
                prop_assert!(plan.set_option("unit", unit).is_ok());
            }
        }
        let after: Vec<Option<Value>> = FIELDS.iter().map(|f| plan.value(f.id)).collect();
        prop_assert_eq!(values, after);
        sound(plan.to_json().as_bytes())?;
    }

    /// Any words for any option: taken or refused, never half.
    #[test]
    fn options_hold(key in prop_oneof![prop::sample::select(Options::KEYS.to_vec()).prop_map(str::to_string), any::<String>()], word in any::<String>()) {
        let mut plan = Plan::default_metric();
        let before = plan.clone();
        if plan.set_option(&key, &word).is_err() {
            prop_assert_eq!(plan, before);
        }
    }
}
