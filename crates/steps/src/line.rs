//! The vocabulary of steps.
//!
//! In: nothing. Out: [`BuildStep`], [`Line`], [`Value`].
//! Always true: a length is in mm and an angle in degrees, unrounded; whoever prints them rounds once.

/// A value put into a message.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A solved number by its identifier.
    Solved(&'static str),
    /// A length, mm.
    Length(f64),
    /// An angle, degrees.
    Degrees(f64),
    /// A force, N.
    Force(f64),
    /// A count.
    Count(usize),
    /// The name of a part, by its identifier.
    Part(String),
}

/// A sentence or a few: a message by name, with values.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Name of the message.
    pub name: String,
    /// Values by the names that the message gives them.
    pub values: Vec<(&'static str, Value)>,
}

impl Line {
    /// A message without values.
    pub fn new(name: impl Into<String>) -> Line {
        Line { name: name.into(), values: Vec::new() }
    }
    /// A message with values.
    pub fn with(name: impl Into<String>, values: impl Into<Vec<(&'static str, Value)>>) -> Line {
        Line { name: name.into(), values: values.into() }
    }
}

/// How a step's figure looks at the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// From above a corner.
    Corner,
    /// From above.
    Above,
    /// From below.
    Below,
}

/// One step of building.
#[derive(Clone, Debug, PartialEq)]
pub struct BuildStep {
    /// Stable identifier: `make/…` at the bench, `fit/…` at the table.
    pub id: String,
    /// Title.
    pub title: Line,
    /// What is done.
    pub text: Vec<Line>,
    /// Settings of tools, one after the other.
    pub settings: Vec<Line>,
    /// What must be true before going on.
    pub checks: Vec<Line>,
    /// The tightest places to look at while turning by hand.
    pub tight: Vec<Line>,
    /// Dangers that arise here.
    pub cautions: Vec<Line>,
    /// Made parts worked on or put in: index of the part, how many.
    pub pieces: Vec<(usize, usize)>,
    /// Bought things used up here: index of the part, how many.
    pub hardware: Vec<(usize, usize)>,
    /// Identifiers of the pieces put in.
    pub put_in: Vec<String>,
    /// Identifiers of pieces there before, as far as the figure shows them.
    pub there: Vec<String>,
    /// How its figure looks at the table; no figure without it.
    pub look: Option<Look>,
    /// Estimated working time, minutes, unrounded.
    pub minutes: f64,
    /// Identifiers of steps that must come before this one.
    pub needs: Vec<String>,
}

impl BuildStep {
    /// A step with nothing in it yet.
    pub(crate) fn new(kind: &str, key: &str) -> BuildStep {
        BuildStep {
            id: format!("{kind}/{key}"),
            title: Line::new(format!("step-{key}")),
            text: Vec::new(),
            settings: Vec::new(),
            checks: Vec::new(),
            tight: Vec::new(),
            cautions: Vec::new(),
            pieces: Vec::new(),
            hardware: Vec::new(),
            put_in: Vec::new(),
            there: Vec::new(),
            look: None,
            minutes: 0.0,
            needs: Vec::new(),
        }
    }
    /// Adds a paragraph.
    pub(crate) fn say(&mut self, name: &str, values: impl Into<Vec<(&'static str, Value)>>) {
        self.text.push(Line::with(name, values));
    }
    /// Adds a setting.
    pub(crate) fn set(&mut self, name: &str, values: impl Into<Vec<(&'static str, Value)>>) {
        self.settings.push(Line::with(name, values));
    }
    /// Adds a check.
    pub(crate) fn check(&mut self, name: &str, values: impl Into<Vec<(&'static str, Value)>>) {
        self.checks.push(Line::with(name, values));
    }
    /// Adds cautions.
    pub(crate) fn beware(&mut self, names: &[&str]) {
        self.cautions.extend(names.iter().map(|n| Line::new(format!("step-caution-{n}"))));
    }
}
