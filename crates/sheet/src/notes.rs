//! Notes of a sheet.
//!
//! In: a part, its drawing, its figures. Out: numbered sentences as a block of a given width.
//! Always true: everything the proof counts as said without a figure is printed here.

use crate::block::{Block, words, wrapped};
use turnleaf_dimension::drawing::Look;
use turnleaf_dimension::printed::Figure;
use turnleaf_dimension::sketch::{Deep, Shape};
use turnleaf_dimension::{Drawing, Tongue};
use turnleaf_page::{Anchor, Face, Item, Role, Text, pt};
use turnleaf_parts::{Face as PartFace, Part};
use turnleaf_text::size_for_cap_height;
use turnleaf_units::PrintUnits;

const CAP: f64 = 2.5;
const PITCH: f64 = 4.1;
const INDENT: f64 = 6.6;

/// How lengths are written, for the title block.
pub fn units_text(units: PrintUnits, tongue: &Tongue) -> String {
    let mm = |step: turnleaf_units::MmStep| format!("millimetres, to {}", trimmed(step.length().mm()));
    let inch = |i: turnleaf_units::InchPrint| format!("inches, to 1/{}", i.denominator.number());
    let text = match units {
        PrintUnits::Mm(step) => mm(step),
        PrintUnits::Inch(i) => inch(i),
        PrintUnits::Both(step, i) => format!("{} [{}]", mm(step), inch(i)),
    };
    tongue.say(&text)
}

fn trimmed(x: f64) -> String {
    let s = format!("{x:.3}");
    s.trim_end_matches('0').trim_end_matches('.').to_string()
}

/// What the notes say of how the view turned out.
#[derive(Clone, Copy, Debug)]
pub struct Said<'a> {
    /// Reference angles that found no place in the view (indices of dimensions).
    pub left_over: &'a [usize],
    /// Whether stretches of the view are left out.
    pub broken: bool,
    /// The general tolerance, in words.
    pub general: Option<&'a str>,
}

/// The sentences, with the thickness first when no section shows it.
fn sentences(part: &Part, d: &Drawing, figures: &[Figure], said: &Said) -> Vec<String> {
    let mut out: Vec<String> = d.sentences();
    let say = |text: &str| d.tongue.say(text);
    if said.broken {
        out.push(say("Shortened between zigzag lines; all figures are full sizes."));
    }
    let s = &d.sketch;
    let below = s.features.iter().any(|f| match &f.shape {
        Shape::Hole(_, q) | Shape::Slot(_, _, _, q) | Shape::Way(_, q) | Shape::Pocket(_, q) => {
            matches!(q, Deep::Blind(PartFace::Bottom, _))
        }
        Shape::Ramp(_) | Shape::Edge(_) => false,
    });
    if below {
        out.push(say("Dashed holes and recesses are cut from below."));
    }
    if s.features.iter().any(|f| matches!(f.shape, Shape::Slot(..))) {
        out.push(say("Slots are given by the centres of their round ends."));
    }
    for &i in said.left_over {
        let dim = &d.dimensions[i];
        out.push(format!("{}: ({}).", capital(&dim.words), figures[i].text()));
    }
    let in_view = |q: &turnleaf_dimension::drawing::Dimension| q.reference;
    if d.dimensions.iter().any(in_view) {
        out.push(say("Figures in brackets follow from the others."));
    }
    if d.polar && !d.rows.is_empty() {
        out.push(say("Angles run anticlockwise from the right."));
    } else if !d.rows.is_empty() {
        out.push(say("X runs along the datum line, Y across it."));
    }
    out.extend(said.general.map(|g| say(&format!("Sizes without a tolerance: {g}."))));
    if let Some(general) = said.general.filter(|_| (0..d.dimensions.len()).any(|k| d.is_free(k))) {
        let near = match (general.contains("mm"), general.contains("in")) {
            (true, true) => "1 mm [1/32 in]",
            (true, false) => "1 mm",
            _ => "1/32 in",
        };
        out.push(say(&format!(
            "Screw holes: the nearest drill; depths of holes for screws and dowels within {near}."
        )));
    }
    out.extend(d.grain.map(|g| say(g.sentence())));
    out.extend(part.notes.iter().map(|n| say(n)));
    out
}

fn group(role: Role, items: Vec<Item>) -> Item {
    Item::Group { role, origin: None, id: None, items }
}

fn capital(s: &str) -> String {
    let mut c = s.chars();
    c.next().map_or(String::new(), |f| f.to_uppercase().chain(c).collect())
}

/// Notes wrapped to a width.
pub fn notes(part: &Part, d: &Drawing, figures: &[Figure], said: &Said, width: f64) -> Block {
    let size = size_for_cap_height(CAP);
    let mut items = vec![words(pt(0.0, CAP), CAP, &d.tongue.say("Notes"), Face::Bold, Anchor::Start)];
    let mut y = CAP + 1.2;
    let thick = &d.dimensions[d.thickness];
    if thick.look == Look::Note {
        y += PITCH;
        let lead = d.tongue.say("Thickness ");
        let text = Text::new(pt(INDENT, y), size, lead.as_str()).face(Face::Bold);
        items.push(Item::Text(text));
        let at = INDENT + turnleaf_text::width(&lead, size, Face::Bold);
        items.push(Item::Group {
            role: Role::Dimension,
            origin: thick.origin,
            id: Some(thick.id.clone()),
            items: vec![Item::Text(Text::new(pt(at, y), size, figures[d.thickness].text()).face(Face::Bold))],
        });
    }
    let mut list = Vec::new();
    for (k, s) in sentences(part, d, figures, said).iter().enumerate() {
        let mut entry = Vec::new();
        for (n, l) in wrapped(s, CAP, Face::Regular, width - INDENT).iter().enumerate() {
            y += PITCH;
            if n == 0 {
                let number = words(pt(0.0, y), CAP, &format!("{}.", k + 1), Face::Regular, Anchor::Start);
                entry.push(group(Role::Label, vec![number]));
            }
            entry.push(words(pt(INDENT, y), CAP, l, Face::Regular, Anchor::Start));
        }
        list.push(group(Role::ListItem, entry));
    }
    items.push(group(Role::List, list));
    let group = Item::Group { role: Role::Plain, origin: None, id: Some(format!("{}/notes", d.part)), items };
    Block { items: vec![group], width, height: y + 1.2 }
}
