//! Notes of a sheet.
//!
//! In: a part, its drawing, its figures. Out: numbered sentences as a block of a given width.
//! Always true: everything the proof counts as said without a figure is printed here.

use crate::block::{Block, words, wrapped};
use turnleaf_dimension::drawing::Look;
use turnleaf_dimension::printed::{Figure, Wording};
use turnleaf_dimension::sketch::{Deep, Shape};
use turnleaf_dimension::{Drawing, Tongue};
use turnleaf_page::{Anchor, Face, Item, Role, Text, pt};
use turnleaf_parts::{Face as PartFace, Part};
use turnleaf_text::size_for_cap_height;
use turnleaf_units::PrintUnits;

const CAP: f64 = 2.5;
const PITCH: f64 = 3.8;
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
    /// Whether the view is turned a quarter, so that its datum line runs up the sheet.
    pub quarter: bool,
    /// Whether tables and sections stand on the next sheet.
    pub overleaf: bool,
    /// The general tolerance, in words.
    pub general: Option<&'a str>,
    /// How lengths are written.
    pub wording: Wording,
}

/// What lies on the left of a view stands below when the view is turned a quarter.
const UPRIGHT: [(&str, &str); 2] = [
    ("Datums: the left end and the centre line.", "Datums: the lower end and the centre line."),
    (
        "Datums: the middle of the left end and the centre line.",
        "Datums: the middle of the lower end and the centre line.",
    ),
];

/// The sentences, with the thickness first when no section shows it.
fn sentences(part: &Part, d: &Drawing, figures: &[Figure], said: &Said) -> Vec<String> {
    let say = |text: &str| d.tongue.say(text);
    let mut out: Vec<String> = d.sentences();
    if said.quarter {
        for (lying, upright) in UPRIGHT {
            let lying = say(lying);
            out.iter_mut().filter(|s| **s == lying).for_each(|s| *s = say(upright));
        }
    }
    if said.overleaf && !(d.rows.is_empty() && d.edges.is_empty()) {
        out.push(say("The tables on the next sheet say what the letters mark."));
    }
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
    if !d.rows.is_empty() {
        out.push(say(match (d.polar, said.quarter) {
            (true, false) => "Angles run anticlockwise from the right.",
            (true, true) => "Angles run anticlockwise from the top.",
            (false, false) => "X runs along the datum line, Y across it.",
            (false, true) => "X runs up the datum line, Y to the left.",
        }));
    }
    out.extend(said.general.map(|g| say(&format!("Sizes without a tolerance: {g}."))));
    if let Some(general) = said.general.filter(|_| (0..d.dimensions.len()).any(|k| d.is_free(k))) {
        let near = match (general.contains("mm"), general.contains("in")) {
            (true, true) => "1\u{a0}mm [1/32\u{a0}in]",
            (true, false) => "1\u{a0}mm",
            _ => "1/32\u{a0}in",
        };
        out.push(say(&format!("Screw holes: nearest drill, depth ±{near}.")));
    }
    out.extend(d.grain.map(|g| say(g.sentence())));
    out.extend(part.notes.iter().map(|n| in_units(&say(n), &said.wording)));
    out
}

/// A sentence whose lengths stand in millimetres, with them in the units of the sheet.
fn in_units(sentence: &str, w: &Wording) -> String {
    let mut out = String::new();
    let mut rest = sentence;
    while let Some(at) = rest.find("mm") {
        let (before, after) = (&rest[..at], &rest[at + 2..]);
        rest = after;
        let head = before.trim_end_matches([' ', '\u{a0}']);
        let from = head
            .rfind(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))
            .map_or(0, |i| i + head[i..].chars().next().map_or(1, char::len_utf8));
        let number = head[from..].replace(',', ".").parse::<f64>().ok();
        let ends = !after.starts_with(char::is_alphanumeric) && head.len() < before.len();
        match number.filter(|_| ends).and_then(|mm| length(mm, &head[from..], w)) {
            Some(text) => out.extend([&head[..from], &text]),
            None => out.extend([before, "mm"]),
        }
    }
    out + rest
}

/// A length said in words, `as_written` in millimetres; below a millimetre in thousandths of an inch.
fn length(mm: f64, as_written: &str, w: &Wording) -> Option<String> {
    let inch = |i: turnleaf_units::InchPrint| {
        if mm < 1.0 {
            return turnleaf_units::print_decimal(mm / 25.4, 3, w.sign);
        }
        let exact = turnleaf_units::Length::from_mm_f64(mm)?;
        // A figure stays whole where lines are broken.
        Some(PrintUnits::Inch(i).print(exact, w.sign).main.figure.replace(' ', "\u{a0}"))
    };
    Some(match w.units {
        PrintUnits::Mm(_) => format!("{as_written}\u{a0}mm"),
        PrintUnits::Inch(i) => format!("{}\u{a0}in", inch(i)?),
        PrintUnits::Both(_, i) => format!("{as_written}\u{a0}mm [{}\u{a0}in]", inch(i)?),
    })
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

#[cfg(test)]
mod tests {
    use super::*;
    use turnleaf_units::{DecimalSign, Denominator, InchPrint, MmStep};

    /// 25.4 mm to the inch, exactly (ISO 31-1): 4 mm are 10.08 sixty-fourths, 16.7 mm are 42.08.
    #[test]
    fn lengths_in_a_sentence_follow_the_units_of_the_sheet() {
        let inch = InchPrint { denominator: Denominator::SixtyFour, feet: false };
        let say = |units: PrintUnits, text: &str| {
            in_units(text, &Wording { units, sign: DecimalSign::Point }).replace('\u{a0}', " ")
        };
        let (mm, inches) = (PrintUnits::Mm(MmStep::TENTH), PrintUnits::Inch(inch));
        assert_eq!(say(mm, "Add 20 mm at each end."), "Add 20 mm at each end.");
        assert_eq!(
            say(inches, "Round to 4 mm radius; 16,7 mm high."),
            "Round to 5/32 in radius; 21/32 in high."
        );
        let both = PrintUnits::Both(MmStep::TENTH, inch);
        assert_eq!(say(both, "(12 mm)"), "(12 mm [15/32 in])");
        assert_eq!(say(inches, "within 0.05 mm"), "within 0.002 in");
        for untouched in ["Planed, mm by mm", "hammmer 3mm", "mm", "", "Ø mm 5"] {
            assert_eq!(say(inches, untouched), untouched);
        }
    }
}
