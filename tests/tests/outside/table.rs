//! Rows: what somebody published, what the crates say, and how near they must be.
//!
//! In: figures as printed by their source. Out: a verdict.
//! Always true: the tolerance of a printed figure is half a unit of its last digit unless the row gives another with
//! its reason.

/// Where a published value comes from.
#[derive(Clone, Copy)]
pub struct Source {
    /// Title, edition or year.
    pub name: &'static str,
    /// Clause, table, page or example.
    pub place: &'static str,
    /// How it is known.
    pub known: Known,
}

/// How a published value is known.
#[derive(Clone, Copy, PartialEq)]
pub enum Known {
    /// Read in the publication itself.
    Read,
    /// Read in a text that quotes it.
    Quoted,
    /// Not read for this project.
    Memory,
    /// Worked out with a general-purpose library that shares no code with this project.
    Computed,
}

impl Source {
    pub const fn new(name: &'static str, place: &'static str, known: Known) -> Source {
        Source { name, place, known }
    }
    pub const fn at(self, place: &'static str) -> Source {
        Source { place, ..self }
    }
    pub const fn memory(self) -> Source {
        Source { known: Known::Memory, ..self }
    }
}

/// How near ours must be.
#[derive(Clone, Copy)]
pub enum Within {
    /// Half a unit of the last digit printed.
    LastDigit,
    /// Nothing between them.
    Exactly(&'static str),
    /// So much, because of this.
    Of(f64, &'static str),
}

/// Both sides of a row.
#[derive(Clone)]
pub enum Pair {
    /// Figures as printed, ours, how near.
    Figures(Vec<(&'static str, f64)>, Within),
    /// Words that must be equal.
    Words(&'static str, String, &'static str),
    /// Ours within a published range.
    Between(f64, f64, f64, &'static str),
    /// A value found to be wrong where it stands: ours is at least so far from it.
    NotFollowed(&'static str, f64, f64, &'static str),
}

/// A row.
#[derive(Clone)]
pub struct Row {
    pub what: &'static str,
    pub source: Source,
    pub pair: Pair,
}

/// Rows under a heading.
pub struct Group {
    pub heading: &'static str,
    pub rows: Vec<Row>,
}

/// Half a unit of the last digit of a printed decimal.
pub fn half_digit(printed: &str) -> f64 {
    0.5 * 10f64.powi(-(decimals(printed) as i32))
}

/// Decimals of a printed figure.
pub fn decimals(printed: &str) -> usize {
    printed.split_once('.').map_or(0, |(_, d)| d.len())
}

/// A printed figure as a number.
pub fn number(printed: &str) -> f64 {
    printed.parse().unwrap_or(f64::NAN)
}

impl Group {
    pub fn new(heading: &'static str) -> Group {
        Group { heading, rows: Vec::new() }
    }
    fn row(&mut self, what: &'static str, source: Source, pair: Pair) {
        self.rows.push(Row { what, source, pair });
    }
    pub fn figure(&mut self, what: &'static str, source: Source, theirs: &'static str, ours: f64) {
        self.row(what, source, Pair::Figures(vec![(theirs, ours)], Within::LastDigit));
    }
    pub fn near(
        &mut self,
        what: &'static str,
        source: Source,
        theirs: &'static str,
        ours: f64,
        within: Within,
    ) {
        self.row(what, source, Pair::Figures(vec![(theirs, ours)], within));
    }
    pub fn figures(
        &mut self,
        what: &'static str,
        source: Source,
        pairs: impl IntoIterator<Item = (&'static str, f64)>,
        within: Within,
    ) {
        self.row(what, source, Pair::Figures(pairs.into_iter().collect(), within));
    }
    pub fn words(
        &mut self,
        what: &'static str,
        source: Source,
        theirs: &'static str,
        ours: impl Into<String>,
        why: &'static str,
    ) {
        self.row(what, source, Pair::Words(theirs, ours.into(), why));
    }
    pub fn between(
        &mut self,
        what: &'static str,
        source: Source,
        range: (f64, f64),
        ours: f64,
        why: &'static str,
    ) {
        self.row(what, source, Pair::Between(range.0, range.1, ours, why));
    }
    pub fn not_followed(
        &mut self,
        what: &'static str,
        source: Source,
        theirs: &'static str,
        ours: f64,
        apart: f64,
        why: &'static str,
    ) {
        self.row(what, source, Pair::NotFollowed(theirs, ours, apart, why));
    }
}

impl Row {
    /// Whether the row holds.
    pub fn judge(&self) -> Result<(), String> {
        match &self.pair {
            Pair::Figures(pairs, within) => {
                for (theirs, ours) in pairs {
                    let most = match within {
                        Within::LastDigit => half_digit(theirs) * 1.000_001,
                        Within::Exactly(_) => 0.0,
                        Within::Of(most, _) => *most,
                    };
                    let off = (ours - number(theirs)).abs();
                    // A figure that is no number does not hold.
                    if off.is_nan() || off > most {
                        return Err(format!("{ours} is not the published {theirs} within {most}"));
                    }
                }
                if pairs.is_empty() { Err("nothing is compared".into()) } else { Ok(()) }
            }
            Pair::Words(theirs, ours, _) if theirs == ours => Ok(()),
            Pair::Words(theirs, ours, _) => Err(format!("“{ours}” is not the published “{theirs}”")),
            Pair::Between(low, high, ours, _) if low <= ours && ours <= high => Ok(()),
            Pair::Between(low, high, ours, _) => Err(format!("{ours} is not between {low} and {high}")),
            Pair::NotFollowed(theirs, ours, apart, _) if (ours - number(theirs)).abs() >= *apart => Ok(()),
            Pair::NotFollowed(theirs, ours, apart, _) => {
                Err(format!("{ours} is less than {apart} from {theirs}, which is known to be wrong"))
            }
        }
    }

    /// The row as it would be if the crates said something else.
    pub fn spoilt(&self) -> Row {
        let mut row = self.clone();
        match &mut row.pair {
            Pair::Figures(pairs, within) => {
                if let Some((theirs, ours)) = pairs.last_mut() {
                    *ours += match within {
                        Within::LastDigit => 3.0 * half_digit(theirs),
                        Within::Exactly(_) => 1e-6,
                        Within::Of(most, _) => 3.0 * *most,
                    };
                }
            }
            Pair::Words(_, ours, _) => ours.push('?'),
            Pair::Between(_, high, ours, _) => {
                *ours = if high.is_finite() { *high * 1.01 + 1e-9 } else { -1.0 }
            }
            Pair::NotFollowed(theirs, ours, ..) => *ours = number(theirs),
        }
        row
    }
}
