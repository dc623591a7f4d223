//! What follows from thicknesses measured on the stock.
//!
//! In: the same table twice, as planned and as measured. Out: [`Measured`], and pages whose dimensions carry the sign.
//! Always true: only numbers that would be others without the measurement carry the sign.

use crate::cx::Cx;
use std::collections::{BTreeMap, BTreeSet};
use turnleaf_geom::trig;
use turnleaf_mechanism::Number;
use turnleaf_page::{Anchor, Item, Page, Role, Text, pt};
use turnleaf_parts::{Assembly, Part};

/// The sign after a number that follows from a measurement.
pub const SIGN: &str = "†";

/// Numbers and parts that a measurement changes.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// Identifiers of solved numbers.
    pub numbers: BTreeSet<String>,
    /// Identifiers of parts whose length, width or thickness is another.
    pub parts: BTreeSet<String>,
    /// Parts as planned, as far as they are others.
    pub planned: Vec<Part>,
}

impl Measured {
    /// Compares the table as planned with the table as measured.
    pub fn between(planned: (&[Number], &Assembly), actual: (&[Number], &Assembly)) -> Measured {
        let changed = |n: &&Number| {
            let before = planned.0.iter().find(|p| p.id == n.id);
            before.is_none_or(|p| (p.value - n.value).abs() > 1e-9)
        };
        let size = |a: &Assembly, id: &str| {
            a.part(id).map(|p| {
                let (low, high) = p.outline.bounds();
                [high.x - low.x, high.y - low.y, p.thickness]
            })
        };
        let resized = |id: &&str| match (size(planned.1, id), size(actual.1, id)) {
            (Some(a), Some(b)) => a.iter().zip(b).any(|(a, b)| (a - b).abs() > 1e-6),
            _ => true,
        };
        let other = |p: &&Part| actual.1.part(&p.id).is_some_and(|now| now != *p);
        Measured {
            planned: planned.1.parts.iter().filter(other).cloned().collect(),
            numbers: actual.0.iter().filter(changed).map(|n| n.id.to_string()).collect(),
            parts: actual.1.parts.iter().map(|p| p.id.as_str()).filter(resized).map(str::to_string).collect(),
        }
    }
}

impl Cx<'_> {
    /// Whether any thickness was measured.
    pub fn any_measured(&self) -> bool {
        turnleaf_planfile::FIELDS.iter().any(|f| self.input.plan.measured(f.id).is_some())
    }
    /// The sign for a solved number, or nothing.
    pub fn number_sign(&self, id: &str) -> &'static str {
        if self.input.measured.is_some_and(|m| m.numbers.contains(id)) { SIGN } else { "" }
    }
    /// The sign for a part's size, or nothing.
    pub fn part_sign(&self, id: &str) -> &'static str {
        if self.input.measured.is_some_and(|m| m.parts.contains(id)) { SIGN } else { "" }
    }
}

/// What each dimension of some pages says, by its identifier.
fn spoken(items: &[Item], out: &mut BTreeMap<String, String>) {
    for item in items {
        let Item::Group { role, id, items, .. } = item else { continue };
        if let (Role::Dimension, Some(id)) = (role, id) {
            let mut text = String::new();
            texts(items, &mut text);
            out.insert(id.clone(), text);
        }
        spoken(items, out);
    }
}

fn texts(items: &[Item], out: &mut String) {
    for item in items {
        match item {
            Item::Text(t) => {
                out.push_str(&t.text);
                out.push(' ');
            }
            Item::Group { items, .. } => texts(items, out),
            _ => {}
        }
    }
}

/// Puts the sign behind every dimension of a part's pages that would say something else as planned.
pub fn sign(pages: &mut [Page], planned: &[Page]) {
    let mut before = BTreeMap::new();
    planned.iter().for_each(|p| spoken(&p.items, &mut before));
    pages.iter_mut().for_each(|p| sign_items(&mut p.items, &before));
}

fn sign_items(items: &mut [Item], before: &BTreeMap<String, String>) {
    for item in items {
        let Item::Group { role, id, items, .. } = item else { continue };
        if let (Role::Dimension, Some(id)) = (&role, &id) {
            let mut now = String::new();
            texts(items, &mut now);
            if before.get(id) != Some(&now) {
                sign_last(items);
            }
            continue;
        }
        sign_items(items, before);
    }
}

/// Signs the last words of a dimension with a small raised sign, which needs no room of its own.
fn sign_last(items: &mut Vec<Item>) -> bool {
    for i in (0..items.len()).rev() {
        if let Item::Group { items: inner, .. } = &mut items[i]
            && sign_last(inner)
        {
            return true;
        }
        let Item::Text(t) = &items[i] else { continue };
        let wide = turnleaf_text::width(&t.text, t.size, t.face);
        let along = match t.anchor {
            Anchor::Start => wide,
            Anchor::Middle => wide / 2.0,
            Anchor::End => 0.0,
        };
        let turned = trig::rad(t.rotate);
        let (c, s) = (trig::cos(turned), trig::sin(turned));
        let up = 0.32 * t.size;
        let at = pt(t.at.x + along * c - up * s, t.at.y - along * s - up * c);
        let small = Text { at, text: SIGN.into(), size: 0.62 * t.size, anchor: Anchor::Start, ..t.clone() };
        items.insert(i + 1, Item::Text(small));
        return true;
    }
    false
}
