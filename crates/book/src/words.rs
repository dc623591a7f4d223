//! Words of the book from message files.
//!
//! In: a language, a message name, values to put in. Out: text.
//! Always true: every language falls back to English message by message; a name that no file knows
//! comes out as itself in angle quotes (a test holds the files complete, so that no book shows one).

use fluent_bundle::{FluentArgs, FluentBundle, FluentResource};
use std::collections::BTreeMap;
use turnleaf_planfile::Language;
use turnleaf_sheet::Tongue;
use unic_langid::LanguageIdentifier;

const EN: &str = include_str!("../../../static/text/en.ftl");
const DE: &str = include_str!("../../../static/text/de.ftl");
const SHEET_EN: &str = include_str!("../../../static/text/sheet.en.ftl");
const SHEET_DE: &str = include_str!("../../../static/text/sheet.de.ftl");

/// Messages of one language over English.
pub struct Words {
    bundles: Vec<FluentBundle<FluentResource>>,
    tag: &'static str,
}

/// The message file of a language and its tag.
fn source(language: Language) -> (&'static str, &'static str) {
    match language {
        Language::En => ("en", EN),
        Language::De => ("de", DE),
    }
}

/// The phrases of a sheet file: one a line, places as `{ $a }`.
fn phrases(text: &str) -> impl Iterator<Item = (&str, String)> {
    let lines = text.lines().filter(|l| !l.starts_with('#'));
    lines.filter_map(|l| l.split_once(" = ")).map(|(k, v)| (k, v.replace("{ $", "{").replace(" }", "}")))
}

/// What drawing sheets say in a language.
pub fn tongue(language: Language) -> Tongue {
    let own = match language {
        Language::En => return Tongue::default(),
        Language::De => SHEET_DE,
    };
    let own: BTreeMap<&str, String> = phrases(own).collect();
    let pairs = phrases(SHEET_EN).filter_map(|(k, en)| Some((en, own.get(k)?.clone())));
    Tongue::new(language.decimal_sign(), pairs)
}

fn bundle(tag: &str, text: &str) -> FluentBundle<FluentResource> {
    // Files and tags are part of the program: one that does not read is our own mistake, and tests read all.
    let id: LanguageIdentifier = tag.parse().expect("a language tag of ours");
    let resource = FluentResource::try_new(text.to_string()).expect("a message file of ours");
    let mut bundle = FluentBundle::new(vec![id]);
    // Direction marks around values would end up on paper.
    bundle.set_use_isolating(false);
    bundle.add_resource(resource).expect("message names are unique");
    bundle
}

impl Words {
    /// The messages of a language.
    pub fn new(language: Language) -> Words {
        let (tag, text) = source(language);
        let mut bundles = vec![bundle(tag, text)];
        if language != Language::En {
            bundles.push(bundle("en", EN));
        }
        Words { bundles, tag }
    }
    /// BCP 47 tag.
    pub fn tag(&self) -> &'static str {
        self.tag
    }
    /// A message, if any file has it.
    pub fn find(&self, name: &str, values: &[(&str, String)]) -> Option<String> {
        let mut args = FluentArgs::with_capacity(values.len());
        for (key, value) in values {
            args.set(*key, value.as_str());
        }
        self.bundles.iter().find_map(|b| {
            let pattern = b.get_message(name)?.value()?;
            let mut errors = Vec::new();
            let text = b.format_pattern(pattern, Some(&args), &mut errors).into_owned();
            errors.is_empty().then_some(text)
        })
    }
    /// A message with values.
    pub fn with(&self, name: &str, values: &[(&str, String)]) -> String {
        self.find(name, values).unwrap_or_else(|| format!("‹{name}›"))
    }
    /// A message without values.
    pub fn get(&self, name: &str) -> String {
        self.with(name, &[])
    }
    /// The paragraphs or items `name-1`, `name-2`, … as many as there are.
    pub fn list(&self, name: &str, values: &[(&str, String)]) -> Vec<String> {
        (1..).map_while(|i| self.find(&format!("{name}-{i}"), values)).collect()
    }
    /// A message whose name is made of a prefix and an identifier with dots or slashes.
    pub fn named(&self, prefix: &str, id: &str) -> Option<String> {
        let name: String = id.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect();
        self.find(&format!("{prefix}-{name}"), &[])
    }
}
