//! Opening a plan.
//!
//! In: bytes of any kind. Out: a [`Plan`] with remarks, or every problem found.
//! Always true: never a panic; more than [`BYTES_MAX`] bytes are refused unread; what this version does not know is
//! kept and said; all problems are collected, at most [`SAID_MAX`] are said of each kind.

use crate::fields::{FIELDS, FieldSpec, field_index};
use crate::json::{self, DEEPEST, Json, Stopped, Why};
use crate::offer::IMPRINT_MAX;
use crate::options::{Options, PlanUnit};
use crate::picture::{self, Look, UNPACKED_MAX};
use crate::plan::{
    Extra, Plan, Size, Typed, as_measured, check_either, check_list, falls_back, measurable, missing,
    read_value, usual_size,
};
use crate::say::{example, quoted, wrong_type};
use crate::shared::Shared;
use crate::texts::{self, MAKER_MAX, NOTE_MAX, NUMBER_MAX, Revision, TITLE_MAX, Texts};
use crate::{FORMAT, VERSION};
use std::collections::{BTreeMap, BTreeSet};
use turnleaf_diag::{Diagnostic, Severity};
use turnleaf_units::Length;

/// Largest file read, in bytes: as many pictures as fit, as text, and a thousand long notes; more is something else.
pub const BYTES_MAX: usize = 5_000_000;
/// Most remarks of one kind that are said; the rest are counted.
const SAID_MAX: usize = 20;
/// Longest place in the file that is kept for sentences, characters; less of it is quoted.
const PATH_MAX: usize = 60;

mod lists;
mod steps;

type Pairs = Vec<(String, Json)>;

impl Plan {
    /// Reads a plan file. The first list holds remarks (notes and warnings); the second, when the file
    /// cannot be used, holds everything found, errors first.
    pub fn parse(bytes: &[u8]) -> Result<(Plan, Vec<Diagnostic>), Vec<Diagnostic>> {
        plan_of(tree(bytes).map_err(|d| vec![d])?, picture::WHOLE)
    }

    /// The same for a file whose pictures were decoded when it came: only their headers are read.
    pub fn parse_known(bytes: &[u8]) -> Result<(Plan, Vec<Diagnostic>), Vec<Diagnostic>> {
        plan_of(tree(bytes).map_err(|d| vec![d])?, picture::HEADER)
    }
}

/// The plan in the pairs of a file's outermost group, with remarks, or everything found.
pub(crate) fn plan_of(root: Pairs, look: Look) -> Result<(Plan, Vec<Diagnostic>), Vec<Diagnostic>> {
    let mut reader =
        Reader { look, unpack: UNPACKED_MAX, found: Vec::new(), unknown: Vec::new(), repeated: Vec::new() };
    let plan = reader.plan(root);
    let mut found = reader.finish();
    match plan {
        Some(plan) if found.iter().all(|d| d.severity != Severity::Error) => Ok((plan, found)),
        _ => {
            found.sort_by_key(|d| core::cmp::Reverse(d.severity));
            Err(found)
        }
    }
}

/// Bytes to the pairs of the outermost group.
fn tree(bytes: &[u8]) -> Result<Pairs, Diagnostic> {
    if bytes.len() > BYTES_MAX {
        let size = bytes.len() as f64 / 1e6;
        return Err(Diagnostic::error(
            "file.large",
            format!(
                "This file has {size:.1} MB; a plan file never has more than 5 MB, so this is something else."
            ),
        ));
    }
    let text = core::str::from_utf8(bytes).map_err(|e| {
        let sentence =
            format!("This file is not a plan: from byte {} on it is not text in UTF-8.", e.valid_up_to() + 1);
        Diagnostic::error("file.encoding", sentence)
    })?;
    // Some editors put a byte order mark in front.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return Err(Diagnostic::error("file.empty", "This file is empty; choose a plan file."));
    }
    match json::read(text).map_err(stopped)? {
        Json::Object(pairs) => Ok(pairs),
        other => Err(Diagnostic::error(
            "file.shape",
            format!("This file holds {} instead of a plan; choose a plan file.", other.what()),
        )),
    }
}

fn stopped(s: Stopped) -> Diagnostic {
    let place =
        if s.path.is_empty() { String::new() } else { format!(" (in “{}”)", quoted(&s.path.join("."))) };
    match s.why {
        Why::TooDeep => {
            let sentence =
                format!("This file nests more than {DEEPEST} levels deep{place}; a plan needs four.");
            Diagnostic::error("file.deep", sentence)
        }
        Why::EndsEarly => Diagnostic::error(
            "file.short",
            format!("This file ends too early{place}, at line {}; it may be only part of a plan.", s.line),
        ),
        Why::Syntax(words) => Diagnostic::error(
            "file.json",
            format!(
                "This file cannot be read at line {}, column {}{place}: {}.",
                s.line,
                s.column,
                quoted(words.trim_end_matches('.'))
            ),
        ),
    }
}

struct Reader {
    /// How pictures are looked at.
    look: Look,
    /// Bytes that pictures may still unpack to.
    unpack: u64,
    found: Vec<Diagnostic>,
    unknown: Vec<String>,
    repeated: Vec<String>,
}

impl Reader {
    fn keep<T>(&mut self, result: Result<T, Diagnostic>) -> Option<T> {
        result.map_err(|d| self.found.push(d)).ok()
    }

    fn plan(&mut self, mut root: Pairs) -> Option<Plan> {
        // Anything else is only worth saying about a plan of this version.
        let ours = identify(&mut root);
        self.keep(ours)?;
        self.repeats(&root, "");
        let texts_group = self.group(&mut root, "texts", "group of texts");
        let options_group = self.group(&mut root, "options", "group of options");
        let sizes_group = self.group(&mut root, "sizes", "group of sizes");
        let measured_group = self.group(&mut root, "measured", "group of measured sizes");
        let stock_group = self.group(&mut root, "stock", "group of stock");
        let revision_group = self.group(&mut root, "revision", "revision");
        let mut extra = Extra::default();
        let (texts, notes, imprint) = self.texts(texts_group.unwrap_or_default(), &mut extra);
        let options = self.options(options_group.unwrap_or_default(), &mut extra);
        let sizes = self.sizes(sizes_group, options.unit, &mut extra);
        let measured = self.measured(measured_group.unwrap_or_default(), &sizes, options.unit, &mut extra);
        let stock = self.stock(stock_group.unwrap_or_default(), options.unit);
        let revision = self.revision(revision_group.unwrap_or_default(), &mut extra);
        let mut shared = Shared::new();
        let revisions = self.revisions(take(&mut root, "revisions"), &mut shared);
        let questions = self.questions(take(&mut root, "questions"));
        let steps = self.steps(take(&mut root, "steps"));
        let offer = take(&mut root, "offer").filter(|j| *j != Json::Null);
        let offer = offer.and_then(|j| crate::offer::read(j, &options, &mut self.found));
        let pictures = take(&mut root, "pictures");
        extra.root = self.rest("", root);
        let mut plan = Plan {
            options,
            sizes,
            measured,
            stock,
            texts,
            notes,
            revision,
            revisions,
            shared,
            questions,
            steps,
            imprint,
            offer,
            issued_by: None,
            extra,
        };
        plan.take_shared(pictures, &mut self.found);
        self.found.extend(plan.beyond_offer());
        Some(plan)
    }

    /// A group of the root; nothing when it is absent.
    fn group(&mut self, from: &mut Pairs, key: &str, name: &str) -> Option<Pairs> {
        match take(from, key)? {
            Json::Object(pairs) => Some(pairs),
            Json::Null => None,
            other => {
                let works = "a group of values in braces";
                self.found.push(wrong_type(key, &format!("{name} “{key}”"), &other, works));
                Some(Vec::new())
            }
        }
    }

    /// What is left in a group is unknown: kept, and said.
    fn rest(&mut self, section: &str, pairs: Pairs) -> Pairs {
        for (key, _) in &pairs {
            self.unknown.push(joined(section, key));
        }
        pairs
    }

    fn repeats(&mut self, pairs: &Pairs, path: &str) {
        let mut seen = BTreeSet::new();
        for (key, value) in pairs {
            if !seen.insert(key.as_str()) {
                self.repeated.push(joined(path, key));
            }
            self.repeats_in(value, &joined(path, key));
        }
    }

    fn repeats_in(&mut self, value: &Json, path: &str) {
        match value {
            Json::Object(inner) => self.repeats(inner, path),
            Json::List(items) => items.iter().for_each(|v| self.repeats_in(v, path)),
            _ => {}
        }
    }

    /// Text under a key; absent is empty.
    fn text(&mut self, from: &mut Pairs, code: &str, key: &str, name: &str, limit: usize) -> String {
        let text = match take(from, key) {
            None | Some(Json::Null) => return String::new(),
            Some(Json::Text(text)) => text,
            Some(other) => {
                self.found.push(wrong_type(code, name, &other, "text in quotes"));
                return String::new();
            }
        };
        let fits = texts::check(code, name, &text, limit);
        self.keep(fits).map(|()| text).unwrap_or_default()
    }

    /// A list of texts under a key; absent is empty.
    fn text_list(
        &mut self,
        from: &mut Pairs,
        code: &str,
        key: &str,
        (name, names): (&str, &str),
    ) -> Vec<String> {
        let list = match take(from, key) {
            None | Some(Json::Null) => return Vec::new(),
            Some(Json::List(list)) => list,
            Some(other) => {
                self.found.push(wrong_type(code, &format!("list of {names}"), &other, "a list in brackets"));
                return Vec::new();
            }
        };
        let fits = check_list(code, names, list.len());
        if self.keep(fits).is_none() {
            return Vec::new();
        }
        let mut out = Vec::new();
        for (i, item) in list.into_iter().enumerate() {
            let name = format!("{name} number {}", i + 1);
            let checked = match item {
                Json::Text(text) => texts::check(code, &name, &text, NOTE_MAX).map(|()| text),
                other => Err(wrong_type(code, &name, &other, "text in quotes")),
            };
            out.extend(self.keep(checked));
        }
        out
    }

    fn texts(&mut self, mut from: Pairs, extra: &mut Extra) -> (Texts, Vec<String>, String) {
        let texts = Texts {
            title: self.text(&mut from, "texts.title", "title", "title", TITLE_MAX),
            maker: self.text(&mut from, "texts.maker", "maker", "maker's name", MAKER_MAX),
            number: self.text(&mut from, "texts.number", "number", "book number", NUMBER_MAX),
        };
        let notes = self.text_list(&mut from, "texts.notes", "notes", ("note", "notes"));
        let imprint = self.text(&mut from, "texts.imprint", "imprint", "imprint", IMPRINT_MAX);
        extra.texts = self.rest("texts", from);
        (texts, notes, imprint)
    }

    fn options(&mut self, mut from: Pairs, extra: &mut Extra) -> Options {
        // The unit comes first: it decides what the other options usually are.
        let mut options = Options::usual(PlanUnit::Mm);
        match take(&mut from, "unit") {
            None | Some(Json::Null) => self.found.push(Diagnostic::error(
                "options.unit.missing",
                "The plan's unit is missing (“unit” under “options”), so a plain number could be anything; write “mm” or “in”.",
            )),
            Some(unit) => {
                let taken = options.take("unit", &unit);
                self.keep(taken);
            }
        }
        options = Options::usual(options.unit);
        let mut print = self.group(&mut from, "print", "group").unwrap_or_default();
        for key in Options::KEYS.into_iter().skip(1) {
            let found = match key.strip_prefix("print.") {
                Some(inner) => take(&mut print, inner),
                None => take(&mut from, key),
            };
            match found.filter(|j| *j != Json::Null) {
                Some(json) => {
                    let taken = options.take(key, &json);
                    self.keep(taken);
                }
                None => self.usual_option(&options, key),
            }
        }
        extra.print = self.rest("options.print", print);
        extra.options = self.rest("options", from);
        options
    }

    fn usual_option(&mut self, options: &Options, key: &str) {
        let usual = options.word(key);
        let name = Options::name(key);
        let sentence = format!("The {name} is not in the file (“{key}” under “options”); “{usual}” is used.");
        self.found.push(note(&format!("options.{key}.usual"), sentence));
    }

    fn sizes(&mut self, from: Option<Pairs>, unit: PlanUnit, extra: &mut Extra) -> Vec<Option<Size>> {
        let Some(mut from) = from else {
            let sentence = "The sizes are missing (“sizes” in the file); it needs at least closed_diameter, open_diameter, sectors and stock_thickness.";
            self.found.push(Diagnostic::error("sizes.missing", sentence));
            return FIELDS.iter().map(|_| None).collect();
        };
        let before = self.found.len();
        let sizes: Vec<Option<Size>> = FIELDS.iter().map(|f| self.field(f, &mut from, unit)).collect();
        let broken = self.found[before..].iter().any(|d| {
            d.severity == Severity::Error && (d.code.contains("open_diameter") || d.code.contains("travel"))
        });
        // Of two broken sizes it would be wrong to say that neither is given.
        if !broken {
            let either = check_either(&sizes, unit);
            self.keep(either);
        }
        extra.sizes = self.rest("sizes", from);
        sizes
    }

    fn field(&mut self, f: &FieldSpec, from: &mut Pairs, unit: PlanUnit) -> Option<Size> {
        let typed = match take(from, f.id) {
            None | Some(Json::Null) => {
                if falls_back(f) {
                    let sentence =
                        format!("{} is not in the file; the usual {} is used.", f.label, example(f, unit));
                    self.found.push(note(&format!("sizes.{}.usual", f.id), sentence));
                    return Some(usual_size(f, unit));
                }
                if !f.optional() {
                    self.found.push(missing(f, unit));
                }
                return None;
            }
            Some(Json::Text(text)) => Typed::Text(text),
            Some(Json::Number(number)) => Typed::Number(number),
            Some(other) => {
                self.found.push(size_type("sizes", f, &other, unit));
                return None;
            }
        };
        let read = read_value(f, &typed.text(), unit, Default::default());
        self.keep(read).map(|(value, _)| Size { typed, value })
    }

    /// Stock on hand, kept as it stands in the file.
    fn stock(&mut self, from: Pairs, unit: PlanUnit) -> Pairs {
        for (key, _) in from.iter().filter(|(key, _)| !crate::stock::knows(key)) {
            self.unknown.push(joined("stock", key));
        }
        if let Err(wrong) = crate::stock::read(&from, unit) {
            self.found.extend(wrong);
        }
        from
    }

    fn measured(
        &mut self,
        mut from: Pairs,
        sizes: &[Option<Size>],
        unit: PlanUnit,
        extra: &mut Extra,
    ) -> BTreeMap<usize, Size> {
        let mut out = BTreeMap::new();
        for f in FIELDS {
            let Ok((i, _)) = measurable(f.id) else { continue };
            let typed = match take(&mut from, f.id) {
                None | Some(Json::Null) => continue,
                Some(Json::Text(text)) => Typed::Text(text),
                Some(Json::Number(number)) => Typed::Number(number),
                Some(other) => {
                    self.found.push(size_type("measured", f, &other, unit));
                    continue;
                }
            };
            let read = read_value(f, &typed.text(), unit, Default::default()).map_err(|d| as_measured(f, d));
            if let Some((value, said)) = self.keep(read) {
                self.far_off(f, sizes, value, &said);
                out.insert(i, Size { typed, value });
            }
        }
        extra.measured = self.rest("measured", from);
        out
    }

    /// A measured thickness far from the plan's is more likely a slip than stock.
    fn far_off(&mut self, f: &FieldSpec, sizes: &[Option<Size>], value: crate::Value, said: &str) {
        use crate::Value::Length as L;
        let planned = field_index(f.id).and_then(|i| sizes[i].as_ref());
        let (Some(Size { value: L(planned), typed }), L(measured)) = (planned, value) else { return };
        let off = measured.checked_sub(*planned).and_then(Length::checked_abs);
        // A quarter is far beyond any standard's thickness tolerance (EN 315 allows about 9 % at 18 mm).
        if off.and_then(|o| o.checked_mul(4)).is_none_or(|four| four > *planned) {
            let sentence = format!(
                "{}, measured: {said} is far from the {} of the plan; measure again.",
                f.label,
                quoted(&typed.text())
            );
            self.found.push(Diagnostic::warning(format!("measured.{}.far", f.id), sentence));
        }
    }

    fn revision(&mut self, mut from: Pairs, extra: &mut Extra) -> Revision {
        let usual = Revision::default();
        let mark = self.text(&mut from, "revision.mark", "mark", "revision mark", NOTE_MAX);
        let mark = if mark.is_empty() { usual.mark } else { mark };
        let fits = texts::check_mark("revision", "revision mark", &mark);
        self.keep(fits);
        let date = self.text(&mut from, "revision.date", "date", "revision date", NOTE_MAX);
        let date = (!date.trim().is_empty()).then(|| texts::date("revision", "revision date", &date));
        let date = date.and_then(|d| self.keep(d));
        let reasons = self.text_list(&mut from, "revision.reasons", "reasons", ("reason", "reasons"));
        extra.revision = self.rest("revision", from);
        Revision { mark, date, reasons }
    }

    /// Everything found, with what repeats without limit cut short.
    fn finish(self) -> Vec<Diagnostic> {
        let repeated = self.repeated.iter().map(|key| {
            let sentence = format!("“{}” stands in the file more than once; keep one of them.", quoted(key));
            Diagnostic::error("file.repeated", sentence)
        });
        let unknown = self.unknown.iter().map(|key| {
            let sentence = format!(
                "“{}” is not known to this version; it is kept and will be saved again.",
                quoted(key)
            );
            note("file.unknown", sentence)
        });
        let mut out: Vec<Diagnostic> = Vec::new();
        // How many of each kind, and the last one said.
        let mut counts: BTreeMap<String, (usize, usize)> = BTreeMap::new();
        for d in repeated.chain(self.found).chain(unknown) {
            let (count, last) = counts.entry(d.code.clone()).or_default();
            *count += 1;
            if *count <= SAID_MAX {
                *last = out.len();
                out.push(d);
            }
        }
        for (count, last) in counts.into_values().filter(|(count, _)| *count > SAID_MAX) {
            let more = count - SAID_MAX;
            out[last].sentence += &format!(" The same holds for {more} more.");
        }
        out
    }
}

fn note(code: &str, sentence: String) -> Diagnostic {
    Diagnostic { severity: Severity::Note, ..Diagnostic::error(code, sentence) }
}

fn size_type(section: &str, f: &FieldSpec, found: &Json, unit: PlanUnit) -> Diagnostic {
    let sentence = format!(
        "{} (“{}” in the file) is {}; write it as text or a number, for example “{}”.",
        f.label,
        f.id,
        found.what(),
        example(f, unit)
    );
    Diagnostic::error(format!("{section}.{}.type", f.id), sentence)
        .origins(&crate::origin(f.id).into_iter().collect::<Vec<_>>())
}

/// A place in the file, for sentences: no longer than they quote, or a long key would be copied for all below it.
fn joined(path: &str, key: &str) -> String {
    let dot = if path.is_empty() { "" } else { "." };
    path.chars().chain(dot.chars()).chain(key.chars()).take(PATH_MAX).collect()
}

/// Takes the value of a key out.
fn take(from: &mut Pairs, key: &str) -> Option<Json> {
    let i = from.iter().position(|(k, _)| k == key)?;
    Some(from.remove(i).1)
}

/// Whether the file is a plan of a version that can be read.
fn identify(root: &mut Pairs) -> Result<(), Diagnostic> {
    match take(root, "format") {
        Some(Json::Text(name)) if name == FORMAT => {}
        Some(Json::Text(name)) => {
            let sentence =
                format!("This file is “{}”, not a plan; “format” must be “{FORMAT}”.", quoted(&name));
            return Err(Diagnostic::error("file.format", sentence));
        }
        Some(other) => return Err(wrong_type("file.format", "“format”", &other, &format!("“{FORMAT}”"))),
        None => {
            let sentence = format!("This file does not say that it is a plan; “format” must be “{FORMAT}”.");
            return Err(Diagnostic::error("file.format", sentence));
        }
    }
    let version = match take(root, "version") {
        Some(Json::Number(n)) => n,
        Some(other) => {
            return Err(wrong_type("file.version", "“version”", &other, &format!("the number {VERSION}")));
        }
        None => {
            let sentence = format!("The file's version is missing; “version” must be {VERSION}.");
            return Err(Diagnostic::error("file.version.missing", sentence));
        }
    };
    match version.as_u64() {
        Some(VERSION) => Ok(()),
        Some(newer) if newer > VERSION => Err(Diagnostic::error(
            "file.version.newer",
            format!(
                "This plan was saved by a newer Turnleaf (file version {newer}; this one reads {VERSION}); update to open it."
            ),
        )),
        _ => Err(Diagnostic::error(
            "file.version.unknown",
            format!(
                "The file's version {} is not known; it must be {VERSION}.",
                quoted(&json::plain(&version))
            ),
        )),
    }
}
