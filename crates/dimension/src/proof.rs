//! Proof that a drawing says enough, and says nothing twice.
//!
//! In: a drawing and how its figures are written. Out: a [`Proof`] and plain sentences about what is wrong.
//! Always true: the rank is taken at the actual geometry; the rebuild reads the printed text back and knows
//! no true size; a proof that fails names the feature that is left loose.

use crate::compare::{Difference, compare};
use crate::drawing::{Drawing, Look};
use crate::printed::{Figure, Wording, figures, step_of};
use crate::rank::Echelon;
use crate::rebuild::{Failure, Statement, read, rebuild};
use turnleaf_diag::Diagnostic;
use turnleaf_units::{LengthUnit, PrintUnits};

/// The rebuilt part may differ from the model by this many half steps: a band's far side is the sum of two
/// rounded figures, a corner has two rounded ordinates, and a polar place a rounded radius and angle.
pub const HALF_STEPS: f64 = 3.0;

/// The rebuild from one unit's printed figures.
#[derive(Clone, Debug, PartialEq)]
pub struct Rebuilt {
    /// "mm" or "in".
    pub unit: &'static str,
    /// The printed step, mm.
    pub step: f64,
    /// How far the rebuilt part is from the model; nothing when it could not be rebuilt.
    pub difference: Option<Difference>,
    /// The most it may be, mm.
    pub allowed: f64,
    /// Why it could not be rebuilt.
    pub failure: Option<Failure>,
}

impl Rebuilt {
    /// Whether the part was rebuilt and is near enough.
    pub fn holds(&self) -> bool {
        self.difference.is_some_and(|d| d.worst <= self.allowed)
    }
}

/// The proof for one part.
#[derive(Clone, Debug, PartialEq)]
pub struct Proof {
    /// The part's identifier.
    pub part: String,
    /// Numbers the drawing has to fix, the three of its place on the stock included.
    pub unknowns: usize,
    /// What definitions, datums and conventions fix.
    pub unsaid: usize,
    /// Printed figures that fix something (reference figures left out).
    pub figures: usize,
    /// What all of it fixes.
    pub rank: usize,
    /// Features left loose: identifiers.
    pub loose: Vec<String>,
    /// Figures that repeat what others say: identifiers.
    pub repeated: Vec<String>,
    /// One rebuild for each printed unit.
    pub rebuilt: Vec<Rebuilt>,
}

impl Proof {
    /// Whether every feature is fixed and no figure repeats another.
    pub fn complete(&self) -> bool {
        self.loose.is_empty() && self.repeated.is_empty() && self.rank == self.unknowns
    }
    /// Whether the drawing is complete and every rebuild is near enough.
    pub fn holds(&self) -> bool {
        self.complete() && self.rebuilt.iter().all(Rebuilt::holds)
    }
    /// Greatest distance of any rebuild from the model, mm.
    pub fn worst(&self) -> f64 {
        self.rebuilt.iter().filter_map(|r| r.difference).map(|d| d.worst).fold(0.0, f64::max)
    }
}

/// What the rank says: unsaid rank, total rank, loose owners with words, repeated figures.
struct Ranked {
    unsaid: usize,
    rank: usize,
    loose: Vec<(String, String)>,
    repeated: Vec<usize>,
}

fn ranked(d: &Drawing) -> Ranked {
    let s = &d.sketch;
    let mut e = Echelon::new(s.unknowns.len());
    for rule in s.definitions.iter().chain(d.conventions.iter().flat_map(|c| &c.rules)) {
        e.add(&s.slopes(rule));
    }
    let unsaid = e.rank();
    let mut repeated = Vec::new();
    for (i, dim) in d.dimensions.iter().enumerate() {
        if !dim.reference && !e.add(&s.slopes(&dim.rule)) {
            repeated.push(i);
        }
    }
    let mut weight = vec![(0.0f64, ""); s.owners.len()];
    for z in e.loose() {
        let most = z.iter().fold(0.0f64, |m, q| m.max(q.abs()));
        for (u, q) in z.iter().enumerate() {
            let w = &mut weight[s.unknowns[u].owner];
            if q.abs() / most > w.0 + 1e-9 {
                *w = (q.abs() / most, s.unknowns[u].what);
            }
        }
    }
    let mut loose: Vec<usize> = (0..weight.len()).filter(|&o| weight[o].0 > 1e-6).collect();
    // The one that moves most first; the sort is stable, so equals keep the part's order.
    loose.sort_by(|a, b| weight[*b].0.total_cmp(&weight[*a].0));
    let named = |o: usize| {
        let (owner, what) = (&s.owners[o], weight[o].1);
        let words =
            if what.is_empty() { owner.words.clone() } else { format!("the {what} of {}", owner.words) };
        (owner.id.clone(), words)
    };
    Ranked { unsaid, rank: e.rank(), loose: loose.into_iter().map(named).collect(), repeated }
}

/// The statements of a drawing, with figures read back from `texts` (one for each dimension).
fn statements(d: &Drawing, texts: &[(String, bool)], unit: LengthUnit) -> Result<Vec<Statement>, Failure> {
    let zero = |rule: &crate::rule::Rule| Statement { rule: *rule, value: 0.0 };
    let mut out: Vec<Statement> = d.sketch.definitions.iter().map(zero).collect();
    out.extend(d.conventions.iter().flat_map(|c| &c.rules).map(zero));
    for (k, (dim, (text, angle))) in d.dimensions.iter().zip(texts).enumerate() {
        if dim.reference {
            continue;
        }
        let value = read(text, *angle, unit)
            .ok_or_else(|| Failure::Unreadable(format!("the figure \"{text}\" of {}", dim.words)))?;
        // Between extension lines the side of the datum is read from the view, not from the figure.
        let beyond = dim.look == Look::Linear && d.value(k) < 0.0;
        let value = if beyond { -value } else { value };
        out.push(Statement { rule: dim.rule, value });
    }
    Ok(out)
}

/// The unknowns of the part built from printed texts.
pub fn built_from(d: &Drawing, texts: &[(String, bool)], unit: LengthUnit) -> Result<Vec<f64>, Failure> {
    rebuild(&d.sketch, statements(d, texts, unit)?)
}

/// How far the part built from printed texts is from the model.
pub fn rebuilt_from(d: &Drawing, texts: &[(String, bool)], unit: LengthUnit) -> Result<Difference, Failure> {
    let x = built_from(d, texts, unit)?;
    let model: Vec<f64> = d.sketch.unknowns.iter().map(|u| u.value).collect();
    Ok(compare(&d.sketch, &model, &x))
}

/// A printed unit: its sign, how its figures are read, how they were rounded, and their texts.
type System<'a> = (&'static str, LengthUnit, PrintUnits, &'a [(String, bool)]);

/// Proves a drawing complete, or says what is missing.
///
/// ```
/// use turnleaf_dimension::{Wording, choose, prove};
/// use turnleaf_mechanism::{Sizes, solve};
/// use turnleaf_units::{DecimalSign, MmStep, PrintUnits};
/// let table = turnleaf_parts::assemble(&solve(&Sizes::example()).expect("the demo's sizes agree"));
/// let mut drawing = choose(table.part("star-lever").expect("a table has levers"));
/// let wording = Wording { units: PrintUnits::Mm(MmStep::TENTH), sign: DecimalSign::Point };
/// assert!(prove(&drawing, &wording).0.complete());
/// // With one figure fewer the part can no longer be made from its drawing.
/// drawing.dimensions.remove(0);
/// assert!(!prove(&drawing, &wording).0.complete());
/// ```
pub fn prove(d: &Drawing, w: &Wording) -> (Proof, Vec<Diagnostic>) {
    prove_printed(d, w, &figures(d, w))
}

/// The same from these very figures, one for each dimension, as they are to be printed.
pub fn prove_printed(d: &Drawing, w: &Wording, figs: &[Figure]) -> (Proof, Vec<Diagnostic>) {
    let mut out = Vec::new();
    let ranked = ranked(d);
    if let Some((_, words)) = ranked.loose.first() {
        let others = ranked.loose.len() - 1;
        let more = match others {
            0 => String::new(),
            1 => format!(" (nor {})", ranked.loose[1].1),
            _ => format!(" (nor {} and {} more)", ranked.loose[1].1, others - 1),
        };
        out.push(
            Diagnostic::error(
                format!("drawing.{}.loose", d.part),
                format!("The drawing of the {} does not fix {words}{more}.", d.name.to_lowercase()),
            )
            .hint("Give a size from a datum to it.".to_string()),
        );
    }
    for &i in &ranked.repeated {
        let dim = &d.dimensions[i];
        out.push(Diagnostic::error(
            format!("drawing.{}.repeated", d.part),
            format!(
                "The drawing of the {} gives {} twice: other sizes already fix it.",
                d.name.to_lowercase(),
                dim.words
            ),
        ));
    }
    let main: Vec<(String, bool)> = figs.iter().map(|f| (f.main.clone(), f.angle)).collect();
    let second: Vec<(String, bool)> =
        figs.iter().map(|f| (f.second.clone().unwrap_or_else(|| f.main.clone()), f.angle)).collect();
    let systems: Vec<System> = match w.units {
        PrintUnits::Mm(_) => vec![("mm", LengthUnit::Mm, w.units, &main)],
        PrintUnits::Inch(_) => vec![("in", LengthUnit::Inch, w.units, &main)],
        PrintUnits::Both(step, inch) => vec![
            ("mm", LengthUnit::Mm, PrintUnits::Mm(step), &main),
            ("in", LengthUnit::Inch, PrintUnits::Inch(inch), &second),
        ],
    };
    let mut rebuilt = Vec::new();
    // Without a complete drawing there is nothing to rebuild.
    if ranked.loose.is_empty() {
        for (unit, parse_as, units, texts) in systems {
            let step = step_of(units);
            let allowed = HALF_STEPS * step / 2.0;
            let (difference, failure) = match rebuilt_from(d, texts, parse_as) {
                Ok(q) => (Some(q), None),
                Err(f) => (None, Some(f)),
            };
            let r = Rebuilt { unit, step, difference, allowed, failure };
            if !r.holds() {
                out.push(not_rebuilt(d, &r));
            }
            rebuilt.push(r);
        }
    }
    let proof = Proof {
        part: d.part.clone(),
        unknowns: d.sketch.unknowns.len(),
        unsaid: ranked.unsaid,
        figures: d.dimensions.iter().filter(|q| !q.reference).count(),
        rank: ranked.rank,
        loose: ranked.loose.into_iter().map(|q| q.0).collect(),
        repeated: ranked.repeated.into_iter().map(|i| d.dimensions[i].id.clone()).collect(),
        rebuilt,
    };
    (proof, out)
}

fn not_rebuilt(d: &Drawing, r: &Rebuilt) -> Diagnostic {
    let name = d.name.to_lowercase();
    let sentence = match (&r.failure, r.difference) {
        (Some(Failure::Unreadable(what)), _) => {
            format!("On the drawing of the {name}, {what} cannot be read back.")
        }
        (Some(Failure::TwoShapes), _) => {
            format!("The printed sizes of the {name} ({}) fit more than one shape.", r.unit)
        }
        (_, Some(q)) => format!(
            "A {name} made to the printed sizes ({}) would be up to {:.2} mm off; {:.2} mm is allowed.",
            r.unit, q.worst, r.allowed
        ),
        _ => format!("The printed sizes of the {name} ({}) contradict each other after rounding.", r.unit),
    };
    Diagnostic::error(format!("drawing.{}.rebuild.{}", d.part, r.unit), sentence)
        .hint("Print with a finer step.".to_string())
}
