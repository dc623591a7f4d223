//! The JSON tree of a plan file.
//!
//! In: text. Out: a [`Json`] tree that keeps the order of keys and every repeated key, or where reading stopped.
//! Always true: no more than [`DEEPEST`] levels; every number is finite; writing a tree and reading it again
//! gives an equal tree.

use serde::de::{DeserializeSeed, Deserializer, Error as _, MapAccess, SeqAccess, Visitor};
use serde::ser::{Serialize, SerializeMap, SerializeSeq, Serializer};
use serde_json::Number;
use std::cell::{Cell, RefCell};
use std::fmt;

/// Deepest nesting read. A plan needs four levels; what is kept for later versions may need a few more.
pub(crate) const DEEPEST: usize = 24;

/// Any JSON value.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Json {
    Null,
    Bool(bool),
    Number(Number),
    Text(String),
    List(Vec<Json>),
    Object(Vec<(String, Json)>),
}

impl Json {
    /// What it is, in words.
    pub fn what(&self) -> &'static str {
        match self {
            Json::Null => "nothing (null)",
            Json::Bool(_) => "true or false",
            Json::Number(_) => "a number",
            Json::Text(_) => "text",
            Json::List(_) => "a list",
            Json::Object(_) => "a group of values",
        }
    }
    pub fn text(text: impl Into<String>) -> Json {
        Json::Text(text.into())
    }
}

/// A JSON number as plain decimal text, without an exponent.
pub(crate) fn plain(number: &Number) -> String {
    if let Some(n) = number.as_u64() {
        n.to_string()
    } else if let Some(n) = number.as_i64() {
        n.to_string()
    } else {
        // The shortest decimal that reads back as the same float.
        number.as_f64().map(|n| n.to_string()).unwrap_or_default()
    }
}

/// Why and where reading stopped.
pub(crate) struct Stopped {
    /// Keys from the root to the value being read.
    pub path: Vec<String>,
    pub line: usize,
    pub column: usize,
    pub why: Why,
}

pub(crate) enum Why {
    TooDeep,
    EndsEarly,
    /// The reader's own words.
    Syntax(String),
}

/// Reads the whole text as one value.
pub(crate) fn read(text: &str) -> Result<Json, Stopped> {
    let place = Place::default();
    let mut de = serde_json::Deserializer::from_str(text);
    let seed = Seed { place: &place, depth: 0 };
    seed.deserialize(&mut de).and_then(|json| de.end().map(|()| json)).map_err(|e| {
        let why = if place.too_deep.get() {
            Why::TooDeep
        } else if e.is_eof() {
            Why::EndsEarly
        } else {
            let words = e.to_string();
            Why::Syntax(words.split(" at line ").next().unwrap_or_default().to_string())
        };
        Stopped { path: place.path.take(), line: e.line(), column: e.column(), why }
    })
}

/// Where the reader is, kept outside so that it survives an error.
#[derive(Default)]
struct Place {
    path: RefCell<Vec<String>>,
    too_deep: Cell<bool>,
}

#[derive(Clone, Copy)]
struct Seed<'a> {
    place: &'a Place,
    depth: usize,
}

impl Seed<'_> {
    fn deeper<E: serde::de::Error>(self) -> Result<Self, E> {
        if self.depth >= DEEPEST {
            self.place.too_deep.set(true);
            return Err(E::custom("too deep"));
        }
        Ok(Seed { depth: self.depth + 1, ..self })
    }
}

impl<'de> DeserializeSeed<'de> for Seed<'_> {
    type Value = Json;
    fn deserialize<D: Deserializer<'de>>(self, de: D) -> Result<Json, D::Error> {
        de.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Seed<'_> {
    type Value = Json;
    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a JSON value")
    }
    fn visit_unit<E>(self) -> Result<Json, E> {
        Ok(Json::Null)
    }
    fn visit_bool<E>(self, v: bool) -> Result<Json, E> {
        Ok(Json::Bool(v))
    }
    fn visit_u64<E>(self, v: u64) -> Result<Json, E> {
        Ok(Json::Number(v.into()))
    }
    fn visit_i64<E>(self, v: i64) -> Result<Json, E> {
        Ok(Json::Number(v.into()))
    }
    fn visit_f64<E: serde::de::Error>(self, v: f64) -> Result<Json, E> {
        Number::from_f64(v).map(Json::Number).ok_or_else(|| E::custom("number out of range"))
    }
    fn visit_str<E>(self, v: &str) -> Result<Json, E> {
        Ok(Json::text(v))
    }
    fn visit_string<E>(self, v: String) -> Result<Json, E> {
        Ok(Json::Text(v))
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Json, A::Error> {
        let inner = self.deeper()?;
        let mut list = Vec::new();
        while let Some(item) = seq.next_element_seed(inner)? {
            list.push(item);
        }
        Ok(Json::List(list))
    }
    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Json, A::Error> {
        let inner = self.deeper()?;
        let mut pairs = Vec::new();
        while let Some(key) = map.next_key::<String>()? {
            self.place.path.borrow_mut().push(key);
            let value = map.next_value_seed(inner)?;
            // Only reached when the value was read: after an error the path keeps saying where.
            let key = self.place.path.borrow_mut().pop().ok_or_else(|| A::Error::custom("lost its place"))?;
            pairs.push((key, value));
        }
        Ok(Json::Object(pairs))
    }
}

impl Serialize for Json {
    fn serialize<S: Serializer>(&self, ser: S) -> Result<S::Ok, S::Error> {
        match self {
            Json::Null => ser.serialize_unit(),
            Json::Bool(v) => ser.serialize_bool(*v),
            Json::Number(v) => v.serialize(ser),
            Json::Text(v) => ser.serialize_str(v),
            Json::List(list) => {
                let mut seq = ser.serialize_seq(Some(list.len()))?;
                for item in list {
                    seq.serialize_element(item)?;
                }
                seq.end()
            }
            Json::Object(pairs) => {
                let mut map = ser.serialize_map(Some(pairs.len()))?;
                for (key, value) in pairs {
                    map.serialize_entry(key, value)?;
                }
                map.end()
            }
        }
    }
}
