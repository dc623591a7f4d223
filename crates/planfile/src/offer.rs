//! A plan for buyers: what they may change, and within which limits.
//!
//! In: a maker's plan and an [`Offer`]. Out: a plan that takes only what is offered, and the maker's next revision
//! with a buyer's own choices put onto it.
//! Always true: a plan with an offer holds no size outside its limits, whether it was typed or edited into the file;
//! it holds nothing private (see [`Plan::edition`]).

use crate::fields::{FIELDS, FieldSpec, Value, field, field_index};
use crate::json::Json;
use crate::options::{Choice, Options, PrintChoice};
use crate::plan::{Plan, Typed, read_value};
use crate::say::quoted;
use crate::texts::{self, NOTE_MAX};
use turnleaf_diag::Diagnostic;
use turnleaf_page::Paper;

/// Longest imprint, in characters: one line at a page's foot, or two.
pub const IMPRINT_MAX: usize = 120;

/// How far one size may be changed.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// Position in [`FIELDS`].
    pub(crate) field: usize,
    /// Least and greatest, as the maker typed them.
    pub(crate) typed: (Typed, Typed),
    /// The same as values.
    pub(crate) value: (Value, Value),
}

impl Limit {
    /// Key of the size.
    pub fn size(&self) -> &'static str {
        FIELDS[self.field].id
    }
    /// Least and greatest, as typed.
    pub fn texts(&self) -> (String, String) {
        (self.typed.0.text(), self.typed.1.text())
    }
    /// Least and greatest.
    pub fn values(&self) -> (Value, Value) {
        self.value
    }
}

/// What buyers may change.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Offer {
    /// The maker's revision it comes from.
    pub revision: String,
    /// Sizes with their limits.
    pub(crate) limits: Vec<Limit>,
    /// Units they may print; all when empty.
    pub units: Vec<PrintChoice>,
    /// Papers they may print on; all when empty.
    pub papers: Vec<Paper>,
    /// What a buyer may do with the plan, in the maker's words.
    pub licence: String,
}

impl Offer {
    /// Sizes that may be changed.
    pub fn limits(&self) -> &[Limit] {
        &self.limits
    }
    pub(crate) fn limit(&self, field: usize) -> Option<&Limit> {
        self.limits.iter().find(|l| l.field == field)
    }

    /// Refuses a value that is not offered.
    pub(crate) fn allows(&self, field: usize, value: Value, said: &str) -> Result<(), Diagnostic> {
        let f = &FIELDS[field];
        let Some(limit) = self.limit(field) else { return Err(fixed(f)) };
        if value >= limit.value.0 && value <= limit.value.1 {
            return Ok(());
        }
        Err(outside(f, limit, said))
    }

    pub(crate) fn tree(&self) -> Json {
        let limit = |l: &Limit| {
            let ends = vec![l.typed.0.json(), l.typed.1.json()];
            (l.size().to_string(), Json::List(ends))
        };
        let words = |list: Vec<&str>| Json::List(list.into_iter().map(Json::text).collect());
        let pair = |key: &str, value: Json| (key.to_string(), value);
        Json::Object(vec![
            pair("revision", Json::text(&self.revision)),
            pair("sizes", Json::Object(self.limits.iter().map(limit).collect())),
            pair("units", words(self.units.iter().map(|u| u.key()).collect())),
            pair("papers", words(self.papers.iter().map(|p| Choice::key(*p)).collect())),
            pair("licence", Json::text(&self.licence)),
        ])
    }
}

fn fixed(f: &FieldSpec) -> Diagnostic {
    let sentence = format!("{} is fixed by the maker of this plan and cannot be changed.", f.label);
    Diagnostic::error(format!("sizes.{}.fixed", f.id), sentence)
}

fn outside(f: &FieldSpec, limit: &Limit, said: &str) -> Diagnostic {
    let (low, high) = limit.texts();
    let sentence =
        format!("{}: {} is outside what this plan is offered for, {low} to {high}.", f.label, quoted(said));
    Diagnostic::error(format!("sizes.{}.offer", f.id), sentence)
        .hint("The maker of the plan may know a design for this size; ask there.")
}

impl Plan {
    /// What buyers may change, when this is a plan for buyers.
    pub fn offer(&self) -> Option<&Offer> {
        self.offer.as_ref()
    }

    /// A line printed on every page: whose copy this is.
    pub fn imprint(&self) -> &str {
        &self.imprint
    }

    /// Sets the imprint. A refusal changes nothing.
    pub fn set_imprint(&mut self, imprint: &str) -> Result<(), Diagnostic> {
        texts::check("texts.imprint", "imprint", imprint, IMPRINT_MAX)?;
        self.imprint = imprint.trim().to_string();
        Ok(())
    }

    /// A limit as typed; both ends must read and hold the plan's own size between them.
    pub fn limit(&self, id: &str, low: &str, high: &str) -> Result<Limit, Diagnostic> {
        let i = field_index(id).ok_or_else(|| {
            Diagnostic::error("offer.unknown", format!("There is no size called “{}”.", quoted(id)))
        })?;
        let f = &FIELDS[i];
        let sign = self.options.language.decimal_sign();
        let read = |text: &str| read_value(f, text, self.options.unit, sign).map(|(v, _)| v);
        let value = (read(low)?, read(high)?);
        let Some(now) = self.value(id) else {
            let sentence =
                format!("{} is worked out in this plan, so it cannot be offered; fix it first.", f.label);
            return Err(Diagnostic::error("offer.absent", sentence));
        };
        if value.0 > value.1 || now < value.0 || now > value.1 {
            let sentence = format!(
                "{}: the limits {} to {} do not hold the plan's own {}; give the smaller first.",
                f.label,
                quoted(low),
                quoted(high),
                self.typed(id).unwrap_or_default()
            );
            return Err(Diagnostic::error("offer.limits", sentence));
        }
        let typed = |text: &str| Typed::Text(text.trim().to_string());
        Ok(Limit { field: i, typed: (typed(low), typed(high)), value })
    }

    /// The plan for buyers: this edition with an offer. The licence is checked; limits come from [`Plan::limit`].
    pub fn for_buyers(
        &self,
        limits: Vec<Limit>,
        units: Vec<PrintChoice>,
        papers: Vec<Paper>,
        licence: &str,
    ) -> Result<Plan, Diagnostic> {
        texts::check("offer.licence", "licence", licence, NOTE_MAX)?;
        let mut out = self.edition();
        let revision = self.revision.mark.clone();
        let offer = Offer { revision, limits, units, papers, licence: licence.trim().to_string() };
        if !offer.units.is_empty() && !offer.units.contains(&out.options.print.units) {
            out.options.print.units = offer.units[0];
        }
        if !offer.papers.is_empty() && !offer.papers.contains(&out.options.paper) {
            out.options.paper = offer.papers[0];
        }
        out.offer = Some(offer);
        // A buyer's book is made by the buyer's own program.
        out.issued_by = None;
        Ok(out)
    }

    /// Refuses an option that is not offered.
    pub(crate) fn option_offered(&self, key: &str, options: &Options) -> Result<(), Diagnostic> {
        let Some(offer) = &self.offer else { return Ok(()) };
        let refused = match key {
            "print.units" => !offer.units.is_empty() && !offer.units.contains(&options.print.units),
            "paper" => !offer.papers.is_empty() && !offer.papers.contains(&options.paper),
            "drive" => options.drive != self.options.drive,
            _ => false,
        };
        if !refused {
            return Ok(());
        }
        let sentence = format!("The {} is not offered by the maker of this plan.", Options::name(key));
        Err(Diagnostic::error(format!("options.{key}.offer"), sentence))
    }

    /// Sizes of the plan that its own offer does not allow: a file edited by hand.
    pub(crate) fn beyond_offer(&self) -> Vec<Diagnostic> {
        let Some(offer) = &self.offer else { return Vec::new() };
        let limits = offer.limits.iter();
        limits
            .filter_map(|l| {
                let size = self.sizes[l.field].as_ref()?;
                offer.allows(l.field, size.value, &size.typed.text()).err()
            })
            .collect()
    }

    /// The maker's next plan with a buyer's own choices put onto it: the sizes it offers, measured stock, units, paper,
    /// language and imprint. What cannot be taken over is said, and the maker's value stays.
    pub fn onto(&self, buyer: &Plan) -> (Plan, Vec<Diagnostic>) {
        let mut out = self.clone();
        let mut said = Vec::new();
        let offered: Vec<usize> = self.offer.iter().flat_map(|o| o.limits.iter().map(|l| l.field)).collect();
        for i in offered {
            let id = FIELDS[i].id;
            // Texts are read in the unit of the plan they were typed into.
            let Some(size) = &buyer.sizes[i] else { continue };
            let offer = self.offer.as_ref().map(|o| o.allows(i, size.value, &size.typed.text()));
            match offer {
                Some(Ok(())) => {
                    let mut own = size.clone();
                    if self.options.unit != buyer.options.unit {
                        crate::plan::write_unit(&mut own, buyer.options.unit);
                    }
                    out.sizes[i] = Some(own);
                    if id == "open_diameter" || id == "travel" {
                        let other = if id == "travel" { "open_diameter" } else { "travel" };
                        if let Some(k) = field_index(other) {
                            out.sizes[k] = None;
                        }
                    }
                }
                Some(Err(d)) => said.push(d),
                None => {}
            }
        }
        for (i, size) in &buyer.measured {
            let mut own = size.clone();
            if self.options.unit != buyer.options.unit {
                crate::plan::write_unit(&mut own, buyer.options.unit);
            }
            out.measured.insert(*i, own);
        }
        for key in
            ["print.units", "print.mm_step", "print.inch_denominator", "print.feet", "paper", "language"]
        {
            if let Err(d) = out.set_option(key, &buyer.options.word(key)) {
                said.push(d);
            }
        }
        out.imprint = buyer.imprint.clone();
        (out, said)
    }
}

/// Reads an offer; what cannot be read is said.
pub(crate) fn read(json: Json, options: &Options, found: &mut Vec<Diagnostic>) -> Option<Offer> {
    let wrong = |what: &str| {
        Diagnostic::error(
            "offer.shape",
            format!("The offer to buyers cannot be read: {what}; ask the maker for the file again."),
        )
    };
    let Json::Object(pairs) = json else {
        found.push(wrong("it is no group of values"));
        return None;
    };
    // Every key is one of five, and every size one of the table's; more of them are repeated or none of ours.
    let inner = |j: &Json| match j {
        Json::Object(pairs) => pairs.len(),
        Json::List(list) => list.len(),
        _ => 0,
    };
    if pairs.len() > 5 || pairs.iter().any(|(_, v)| inner(v) > FIELDS.len()) {
        found.push(wrong("it has more entries than there are things to offer"));
        return None;
    }
    let mut offer = Offer::default();
    for (key, value) in pairs {
        match (key.as_str(), value) {
            ("revision", Json::Text(text)) => offer.revision = text,
            ("licence", Json::Text(text)) => offer.licence = text,
            ("sizes", Json::Object(sizes)) => {
                for (id, ends) in sizes {
                    match limit_of(&id, ends, options) {
                        Some(limit) => offer.limits.push(limit),
                        None => found.push(wrong(&format!("the limits of “{}”", quoted(&id)))),
                    }
                }
            }
            ("units", Json::List(list)) => match choices(&list) {
                Some(units) => offer.units = units,
                None => found.push(wrong("its units")),
            },
            ("papers", Json::List(list)) => match choices(&list) {
                Some(papers) => offer.papers = papers,
                None => found.push(wrong("its papers")),
            },
            (key, _) => found.push(wrong(&format!("“{}”", quoted(key)))),
        }
    }
    let words = [("revision", &offer.revision), ("licence", &offer.licence)];
    for (name, text) in words {
        if let Err(d) = texts::check(&format!("offer.{name}"), name, text, NOTE_MAX) {
            found.push(d);
        }
    }
    Some(offer)
}

fn choices<C: Choice>(list: &[Json]) -> Option<Vec<C>> {
    list.iter().map(|j| if let Json::Text(t) = j { C::from_key(t) } else { None }).collect()
}

fn limit_of(id: &str, ends: Json, options: &Options) -> Option<Limit> {
    let f = field(id)?;
    let Json::List(ends) = ends else { return None };
    let typed = |j: &Json| match j {
        Json::Text(text) => Some(Typed::Text(text.clone())),
        Json::Number(n) => Some(Typed::Number(n.clone())),
        _ => None,
    };
    let [low, high] = ends.as_slice() else { return None };
    let (low, high) = (typed(low)?, typed(high)?);
    let read = |t: &Typed| read_value(f, &t.text(), options.unit, Default::default()).ok().map(|(v, _)| v);
    let value = (read(&low)?, read(&high)?);
    (value.0 <= value.1).then_some(Limit { field: field_index(id)?, typed: (low, high), value })
}
