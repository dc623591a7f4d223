//! Editions of a plan: issuing one, making an issued one again, and comparing two.
//!
//! In: plans. Out: issued plans, books made again, [`Comparison`]s.
//! Always true: an edition is compared by what it prints; an issued book made again is held to the fingerprint it
//! was issued with, and what differs is said page by page.

use crate::cut_parts::{self, FINE};
use crate::{BookOptions, Built, Diagnostic, Plan, build, pdf};
use std::collections::BTreeMap;
use turnleaf_dimension::{Wording, choose, printed};
use turnleaf_geom::trig;
use turnleaf_mechanism::{Number, Unit};
use turnleaf_page::Document;
use turnleaf_parts::Part;
use turnleaf_planfile::{FIELDS, FrozenPage, Options, Value};
use turnleaf_revise::{
    Change, Entry, Group, Measure, PageChange, PartVerdict, compare, compare_pages, print,
};
use turnleaf_units::{InchPrint, Length, PrintUnits};

/// Version of this program, as issued plans carry it.
pub const PROGRAM: &str = env!("CARGO_PKG_VERSION");

/// A table with its book.
#[derive(Clone, Debug, PartialEq)]
pub struct Edition {
    /// The table.
    pub built: Built,
    /// Its book, by its plan's own options.
    pub document: Document,
}

impl Edition {
    /// Builds a plan as it goes to buyers, with its book.
    pub fn of(plan: &Plan) -> Result<Edition, Vec<Diagnostic>> {
        let built = build(&plan.edition())?;
        let (document, said) = built.book(&BookOptions::of(&built.plan));
        let errors: Vec<Diagnostic> =
            said.into_iter().filter(|d| d.severity == turnleaf_diag::Severity::Error).collect();
        if errors.is_empty() { Ok(Edition { built, document }) } else { Err(errors) }
    }

    /// Its book as a PDF file.
    fn file(&self) -> Result<Vec<u8>, Vec<Diagnostic>> {
        let wrong =
            |e| Diagnostic::error("revision.book", format!("The revision's book cannot be written: {e}"));
        pdf(&self.document).map_err(|e| vec![wrong(e)])
    }

    /// Its pages as an issued plan keeps them.
    pub fn frozen_pages(&self) -> Vec<FrozenPage> {
        turnleaf_book::frozen_pages(&self.document, &self.built.plan)
    }
}

/// Issues the present revision: its table and book are made, their fingerprints and the plan are frozen in the
/// plan, and the next revision begins. Every check must hold. A refusal changes nothing.
pub fn issue(plan: &mut Plan) -> Result<Edition, Vec<Diagnostic>> {
    plan.can_issue().map_err(|d| vec![d])?;
    let edition = Edition::of(plan)?;
    if let Some(check) = edition.built.checks.iter().find(|c| !c.holds) {
        let sentence = format!("The revision cannot be issued: {}", check.text);
        return Err(vec![Diagnostic::error("revision.checks", sentence)]);
    }
    let bytes = edition.file()?;
    let figures = turnleaf_book::changed::figures(&edition.document);
    plan.issue(PROGRAM, &print::of_bytes(&bytes), edition.frozen_pages(), figures).map_err(|d| vec![d])?;
    Ok(edition)
}

/// An issued book made again.
#[derive(Clone, Debug, PartialEq)]
pub struct Again {
    /// Table and book.
    pub edition: Edition,
    /// The PDF file.
    pub pdf: Vec<u8>,
    /// Whether it is the issued file, byte for byte.
    pub same: bool,
    /// What differs otherwise, in sentences.
    pub differs: Vec<String>,
}

/// Makes the book of an issued revision again.
pub fn again(plan: &Plan, mark: &str) -> Result<Again, Vec<Diagnostic>> {
    let Some(issued) = plan.issued(mark) else {
        let known: Vec<&str> =
            plan.revisions().iter().filter(|r| r.frozen().is_some()).map(|r| r.mark.as_str()).collect();
        let known = if known.is_empty() { "none".into() } else { known.join(", ") };
        let sentence = format!("There is no frozen plan of a revision {mark}; this file has {known}.");
        return Err(vec![Diagnostic::error("revision.unknown", sentence)]);
    };
    let edition = Edition::of(&issued?)?;
    let bytes = edition.file()?;
    let row = plan.revisions().iter().rfind(|r| r.mark == mark);
    let Some((row, frozen)) = row.and_then(|r| Some((r, r.frozen()?))) else {
        return Ok(Again { edition, pdf: bytes, same: false, differs: Vec::new() });
    };
    let same = frozen.book == print::of_bytes(&bytes);
    let mut differs = Vec::new();
    if !same {
        if frozen.program != PROGRAM {
            differs.push(format!("It was issued by version {}; this is {PROGRAM}.", frozen.program));
        }
        differs.extend(page_differences(row.pages(), &edition.frozen_pages()));
        if differs.is_empty() {
            differs.push("Every page prints the same; only the file is written differently.".into());
        }
    }
    Ok(Again { edition, pdf: bytes, same, differs })
}

fn page_differences(old: &[FrozenPage], new: &[FrozenPage]) -> Vec<String> {
    let was: BTreeMap<&str, &FrozenPage> = old.iter().map(|p| (p.id.as_str(), p)).collect();
    let mut out = Vec::new();
    for p in new {
        match was.get(p.id.as_str()) {
            None => out.push(format!("The page “{}” is new.", p.id)),
            Some(o) if o.print != p.print => out.push(format!("The page “{}” prints differently.", p.id)),
            Some(_) => {}
        }
    }
    let gone = old.iter().filter(|o| !new.iter().any(|n| n.id == o.id));
    out.extend(gone.map(|o| format!("The page “{}” is gone.", o.id)));
    out
}

/// Two editions side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// Sizes, options, numbers, parts, hardware, dimensions, steps that changed.
    pub changes: Vec<Change>,
    /// Every page of both books.
    pub pages: Vec<PageChange>,
    /// What becomes of parts already cut.
    pub parts: Vec<PartVerdict>,
    /// Checks that fail when the parts that stay good are put into the newer table, in sentences.
    pub old_parts_fail: Vec<String>,
    /// A part that is off by no more than this is the same part, mm.
    pub step: f64,
}

/// Compares two editions.
pub fn compare_editions(old: &Edition, new: &Edition) -> Comparison {
    Comparison {
        pages: compare_pages(&old.document.pages, &new.document.pages),
        ..compare_tables(&old.built, &new.built)
    }
}

/// Compares two tables without their books: there are no pages in the result.
pub fn compare_tables(old: &Built, new: &Built) -> Comparison {
    let options = new.plan.options();
    let step = printed::step_of(options.print.print_units());
    let (parts, old_parts_fail) = cut_parts::judge(old, new, step);
    Comparison {
        // Both are written by the newer plan's rules, so that another unit alone is no change.
        changes: compare(&entries(old, options), &entries(new, options)),
        pages: Vec::new(),
        parts,
        old_parts_fail,
        step: step.min(FINE),
    }
}

/// The change notice from one edition to a later one, in the later one's language, units and paper.
pub fn notice(old: &Edition, new: &Edition, c: &Comparison) -> (Document, Vec<Diagnostic>) {
    let plan = &new.built.plan;
    let from = &old.built.plan.revision().mark;
    let after = plan.revisions().iter().skip_while(|r| r.mark != *from).skip(1);
    let mut why: Vec<(String, String)> = after.map(|r| (r.mark.clone(), r.what.clone())).collect();
    why.push((plan.revision().mark.clone(), plan.revision().reasons.join(" ")));
    let input = turnleaf_book::notice::NoticeInput {
        from: (from, old.built.plan.revision().date),
        old_parts: &old.built.assembly.parts,
        changes: &c.changes,
        pages: &c.pages,
        parts: &c.parts,
        why: &why,
    };
    turnleaf_book::notice::compose(&new.built.input(""), &input, &BookOptions::of(plan))
}

/// Everything a table prints, with stable identifiers.
pub fn entries(built: &Built, options: &Options) -> Vec<Entry> {
    let mut out = Vec::new();
    let plan = &built.plan;
    for f in FIELDS {
        let Some(value) = plan.value(f.id) else { continue };
        out.push(size_entry(f.id, f.label, value, options));
        if let Some(measured) = plan.measured(f.id) {
            let id = format!("{}/measured", f.id);
            let label = format!("{}, measured", f.label);
            out.push(size_entry(&id, &label, Value::Length(measured), options));
        }
    }
    for key in Options::KEYS {
        let word = plan.options().word(key);
        out.push(Entry {
            group: Group::Option,
            id: key.into(),
            label: Options::name(key).into(),
            print: word.clone(),
            shown: word,
            value: None,
        });
    }
    out.extend(built.numbers.iter().map(|n| number_entry(n, options)));
    out.extend(built.assembly.parts.iter().map(|p| part_entry(p, options)));
    for part in built.assembly.parts.iter().filter(|p| p.made) {
        out.extend(dimension_entries(part, options));
    }
    out.extend(step_entries(built));
    out
}

/// Steps by their whole text: one of which any word or number changed is shown by its title.
fn step_entries(built: &Built) -> Vec<Entry> {
    let (steps, _) = built.steps(&BookOptions::of(&built.plan));
    let shown = steps.into_iter().filter(|s| s.number.is_some());
    shown
        .map(|s| {
            let list = |rows: &[(String, String, usize)]| {
                rows.iter().map(|r| format!("{} {}", r.2, r.1)).collect::<Vec<_>>().join("\n")
            };
            let (pieces, hardware) = (list(&s.pieces), list(&s.hardware));
            let groups = [&s.text, &s.settings, &s.checks, &s.cautions, &s.notes];
            let words: Vec<&str> = groups.into_iter().flatten().map(String::as_str).collect();
            Entry {
                group: Group::Step,
                id: s.id.clone(),
                label: s.title.clone(),
                print: format!("{}\n{}\n{pieces}\n{hardware}", s.title, words.join("\n")),
                shown: s.title,
                value: None,
            }
        })
        .collect()
}

/// A length on the grid it is printed to, so that differences are those of the printed figures.
fn stepped(mm: f64, options: &Options) -> f64 {
    let step = printed::step_of(options.print.print_units());
    (mm / step).round() * step
}

fn both(options: &Options) -> PrintUnits {
    PrintUnits::Both(
        options.print.mm_step,
        InchPrint { denominator: options.print.inch_denominator, feet: options.print.feet },
    )
}

fn size_entry(id: &str, label: &str, value: Value, options: &Options) -> Entry {
    let sign = options.language.decimal_sign();
    let decimal = |v: f64| turnleaf_units::print_decimal(v, 3, sign).unwrap_or_default();
    let (print, shown, number) = match value {
        Value::Length(l) => (
            options.print.print_units().print(l, sign).text(),
            both(options).print(l, sign).text(),
            (l.mm(), Measure::Length),
        ),
        Value::Angle(a) => {
            let text = format!("{}°", decimal(a.degrees()));
            (text.clone(), text, (a.degrees(), Measure::Angle))
        }
        Value::Count(n) => (n.to_string(), n.to_string(), (f64::from(n), Measure::Other)),
        Value::Force(f) => {
            let text = format!("{} N", decimal(f.newtons()));
            (text.clone(), text, (f.newtons(), Measure::Other))
        }
    };
    Entry { group: Group::Size, id: id.into(), label: label.into(), print, shown, value: Some(number) }
}

fn number_entry(n: &Number, options: &Options) -> Entry {
    let shown = match n.unit {
        Unit::Mm => crate::number_text(n, both(options), options.language),
        _ => crate::plan_text(n, options),
    };
    Entry {
        group: Group::Number,
        id: n.id.to_string(),
        label: n.label.to_string(),
        print: crate::plan_text(n, options),
        shown,
        value: (n.value.is_finite() && n.unit != Unit::Mm2).then_some((
            if n.unit == Unit::Mm { stepped(n.value, options) } else { n.value },
            match n.unit {
                Unit::Mm => Measure::Length,
                Unit::Deg => Measure::Angle,
                _ => Measure::Other,
            },
        )),
    }
}

fn part_entry(p: &Part, options: &Options) -> Entry {
    let sign = options.language.decimal_sign();
    let (low, high) = p.outline.bounds();
    let size = |units: PrintUnits| {
        let side = |v: f64| Length::from_mm_f64(v).map_or_else(String::new, |l| units.print(l, sign).text());
        let sides = [high.x - low.x, high.y - low.y, p.thickness].map(side).join(" × ");
        format!("{} × {}, {sides}", p.count, p.material)
    };
    Entry {
        group: if p.made { Group::Part } else { Group::Hardware },
        id: p.id.clone(),
        label: p.name.clone(),
        print: size(options.print.print_units()),
        shown: size(both(options)),
        value: None,
    }
}

/// What each dimension and each lettered mark of the sheets is, in words of the book's language, by its identifier on the
/// drawing ("panel/dim/radius/outer-arc": "the radius of the outer arc"). In any other language than English, what has
/// no words there is left out.
pub fn spoken(built: &Built) -> Vec<(String, String)> {
    let tongue = turnleaf_book::words::tongue(built.plan.options().language);
    let mut out = Vec::new();
    for part in built.assembly.parts.iter().filter(|p| p.made) {
        let drawing = choose(part);
        let mut say = |id: String, words: &str| match tongue.known(words) {
            _ if tongue.is_english() => out.push((id, words.to_string())),
            Some(said) => out.push((id, said)),
            None => {}
        };
        for d in &drawing.dimensions {
            say(d.id.clone(), &d.words);
        }
        let rows = drawing.rows.iter().map(|r| (&r.members, &r.purpose));
        for (members, words) in rows.chain(drawing.edges.iter().map(|e| (&e.members, &e.what))) {
            for feature in members.iter().filter_map(|m| drawing.sketch.features.get(*m)) {
                say(format!("{}/mark/{}", part.id, feature.id), words);
            }
        }
    }
    out
}

fn dimension_entries(part: &Part, options: &Options) -> Vec<Entry> {
    let drawing = choose(part);
    let sign = options.language.decimal_sign();
    let lean = Wording { units: options.print.print_units(), sign };
    let full = Wording { units: both(options), sign };
    (0..drawing.dimensions.len())
        .map(|i| {
            let d = &drawing.dimensions[i];
            let value = drawing.value(i);
            Entry {
                group: Group::Dimension,
                id: d.id.clone(),
                label: d.words.clone(),
                print: printed::figure(&drawing, i, &lean).text(),
                shown: printed::figure(&drawing, i, &full).text(),
                value: Some(if d.rule.is_angle() {
                    (trig::deg(value), Measure::Angle)
                } else {
                    (stepped(value, options), Measure::Length)
                }),
            }
        })
        .collect()
}
