//! What to say when there is no mechanism.
//!
//! In: the sizes and the solver's reasons. Out: diagnostics that name the fields at odds, with the nearest
//! value of each size that works.
//! Always true: each value offered was solved before it is offered.

use turnleaf_diag::Diagnostic;
use turnleaf_mechanism::{Sizes, Trouble, remedies};
use turnleaf_planfile::{field, origin};

/// Explains why there is no mechanism.
pub(crate) fn explain(sizes: &Sizes, troubles: &[Trouble]) -> Vec<Diagnostic> {
    let hint = hint(sizes);
    troubles
        .iter()
        .map(|t| {
            let origins: Vec<_> = t.sizes.iter().filter_map(|id| origin(id)).collect();
            Diagnostic::error(format!("mechanism.{}", t.code), t.sentence.clone())
                .origins(&origins)
                .hint(hint.clone())
        })
        .collect()
}

fn hint(sizes: &Sizes) -> String {
    let list: Vec<String> = remedies(sizes)
        .into_iter()
        .map(|r| {
            let label = field(r.size).map_or(r.size, |f| f.label).to_lowercase();
            let unit = match r.unit {
                "count" => String::new(),
                "deg" => "°".into(),
                u => format!(" {u}"),
            };
            format!("{label} {}{unit} (now {}{unit})", plain(r.to), plain(r.from))
        })
        .collect();
    if list.is_empty() {
        return "No change of one size alone mends it; change the diameters and the number of sectors together.".into();
    }
    format!("One of these alone would work: {}.", list.join(", "))
}

/// Up to two decimals, without trailing noughts.
fn plain(x: f64) -> String {
    let text = format!("{x:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}
