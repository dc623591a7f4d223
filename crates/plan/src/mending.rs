//! Remedies in the plan's own units.
//!
//! In: a built table and a check or figure that fails, or sizes without a mechanism. Out: [`Mend`]s: a sentence, and
//! what to type into which field.
//! Always true: what is to be typed lies in the field's range and was tried with just that value; a size that is
//! overruled by a measured thickness is not offered.

use crate::Built;
use turnleaf_mechanism::{Sizes, Trouble};
use turnleaf_mend::{Change, Marks, Remedy};
use turnleaf_planfile::{Plan, PlanUnit};
use turnleaf_units::{Denominator, InchPrint, Length, MmStep, PrintUnits};

/// A remedy for a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// One plain sentence, such as "Lengthen the panel arms by 6 mm: 300 mm → 306 mm."
    pub text: String,
    /// The field and what to type into it; nothing when a part, not a size, is at fault.
    pub set: Option<(&'static str, String)>,
    /// The change itself.
    pub remedy: Remedy,
}

/// What mends a check that fails; nothing when it holds or nothing was found. May take a second.
pub fn remedies_for(built: &Built, check: &str) -> Vec<Mend> {
    in_plan(&built.plan, turnleaf_mend::mend(&built.assembly, &built.checks, check, marks(&built.plan)))
}

/// What mends a strength or safety figure with a negative margin.
pub fn remedies_for_figure(built: &Built, figure: &str) -> Vec<Mend> {
    in_plan(
        &built.plan,
        turnleaf_mend::mend_figure(&built.assembly, &built.checks, figure, marks(&built.plan)),
    )
}

/// What gives a plan without a mechanism one that passes every check; nothing when it has a mechanism.
pub fn remedies_for_plan(plan: &Plan) -> Vec<Mend> {
    let sizes = crate::sizes(plan);
    match turnleaf_mechanism::solve(&sizes) {
        Ok(_) => Vec::new(),
        Err(troubles) => remedies_for_sizes(plan, &sizes, &troubles),
    }
}

/// What would happen with sizes that give no mechanism, were they built all the same: the worst that fails, in one
/// sentence. Nothing when the plan has a mechanism or none can be forced on it.
pub fn as_given(plan: &Plan) -> Option<String> {
    turnleaf_mend::as_given(&crate::sizes(plan))?.failing.into_iter().next().map(|worst| worst.text)
}

/// The same, with the reasons known already.
pub(crate) fn remedies_for_sizes(plan: &Plan, sizes: &Sizes, troubles: &[Trouble]) -> Vec<Mend> {
    in_plan(plan, turnleaf_mend::mend_sizes(sizes, troubles, marks(plan)))
}

fn marks(plan: &Plan) -> Marks {
    match plan.options().unit {
        PlanUnit::Mm => Marks::Metric,
        PlanUnit::Inch => Marks::Inch,
    }
}

fn in_plan(plan: &Plan, remedies: Vec<Remedy>) -> Vec<Mend> {
    remedies.into_iter().filter_map(|remedy| one(plan, remedy)).collect()
}

fn one(plan: &Plan, remedy: Remedy) -> Option<Mend> {
    let set = match &remedy.change {
        Change::Size { size, unit, to, .. } | Change::Held { size, unit, to, .. } => {
            Some((*size, shown(plan, *to, unit)))
        }
        Change::Leave { size } => Some((*size, String::new())),
        _ => None,
    };
    if let Some((size, text)) = &set {
        if plan.measured(size).is_some() {
            return None;
        }
        plan.clone().set(size, text).ok()?;
    }
    let text = Remedy::sentence(&remedy.change, |value, unit| shown(plan, value, unit))
        .unwrap_or_else(|| remedy.text.clone());
    Some(Mend { text, set, remedy })
}

/// A value as it may be typed into the plan. Values on the marks of a rule come out exactly.
fn shown(plan: &Plan, value: f64, unit: &str) -> String {
    let sign = plan.options().language.decimal_sign();
    let inch = InchPrint { denominator: Denominator::SixtyFour, feet: false };
    let units = match plan.options().unit {
        PlanUnit::Mm => PrintUnits::Mm(MmStep::HUNDREDTH),
        PlanUnit::Inch => PrintUnits::Inch(inch),
    };
    match (unit, Length::from_mm_f64(value)) {
        ("mm", Some(length)) => units.print(length, sign).text(),
        _ => turnleaf_mend::metric(value, unit).replace('.', &sign.char().to_string()),
    }
}
