//! One figure: a number a maker can judge, with everything it was made from.
//!
//! In: value, formula, inputs, source. Out: [`Figure`].
//! Always true: a margin stands beside every limit and is positive exactly when the figure holds; every
//! figure says what to do with it. Figures are guidance for makers, not a certification.

/// What the whole list must be headed with.
pub const NOTICE: &str = "These figures are guidance for makers. They rest on the assumptions listed with \
them and are not a certification to any standard.";

/// Formulas that follow from equilibrium alone.
pub const STATICS: &str = "elementary statics";
/// Beam formulas of any handbook.
pub const BEAMS: &str = "elementary beam theory (deflection and stress tables of engineering handbooks)";
/// Lengths read off the solved table.
pub const MEASURED: &str = "measured on the solved table";

/// A named number that went into a figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Input {
    /// Symbol and plain words, such as "a, overhang".
    pub name: String,
    /// Its value.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
}

/// One figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// Stable dotted identifier.
    pub id: String,
    /// Plain name.
    pub label: String,
    /// The number.
    pub value: f64,
    /// Unit symbol: mm, N, N·m, MPa, kg, %, deg, count or ratio.
    pub unit: &'static str,
    /// What it is held against, same unit.
    pub limit: Option<f64>,
    /// Room to spare, same unit; negative when the figure does not hold.
    pub margin: Option<f64>,
    /// The rule, in symbols that the inputs name.
    pub formula: String,
    /// What went in.
    pub inputs: Vec<Input>,
    /// Where the rule, and the limit if there is one, come from.
    pub source: String,
    /// What it means for the maker.
    pub guidance: String,
}

impl Figure {
    /// A figure without limit, formula or inputs yet.
    pub fn new(id: impl Into<String>, label: impl Into<String>, value: f64, unit: &'static str) -> Figure {
        Figure {
            id: id.into(),
            label: label.into(),
            value,
            unit,
            limit: None,
            margin: None,
            formula: String::new(),
            inputs: Vec::new(),
            source: String::new(),
            guidance: String::new(),
        }
    }
    /// Holds when the value is no larger.
    pub fn at_most(self, limit: f64) -> Figure {
        Figure { limit: Some(limit), margin: Some(limit - self.value), ..self }
    }
    /// Holds when the value is no smaller.
    pub fn at_least(self, limit: f64) -> Figure {
        Figure { limit: Some(limit), margin: Some(self.value - limit), ..self }
    }
    /// The rule.
    pub fn by(self, formula: impl Into<String>, source: impl Into<String>) -> Figure {
        Figure { formula: formula.into(), source: source.into(), ..self }
    }
    /// One input.
    pub fn given(mut self, name: impl Into<String>, value: f64, unit: &'static str) -> Figure {
        self.inputs.push(Input { name: name.into(), value, unit });
        self
    }
    /// What it means for the maker.
    pub fn says(self, guidance: impl Into<String>) -> Figure {
        Figure { guidance: guidance.into(), ..self }
    }
    /// Whether it holds; None when it has no limit.
    pub fn holds(&self) -> Option<bool> {
        self.margin.map(|m| m >= 0.0)
    }
}
