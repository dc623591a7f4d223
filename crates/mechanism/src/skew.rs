//! What a skew of the slides makes impossible, and whether it alone stands in the way.
//!
//! In: sizes with a skew. Out: [`Trouble`]s that name it.
//! Always true: without a skew nothing here says anything; that the skew alone is at fault is said only after
//! the same sizes were solved with radial slides.

use crate::layout::Layout;
use crate::members::Members;
use crate::sizes::Sizes;
use crate::solve::{Trouble, solve};
use turnleaf_geom::trig;

/// Reasons that are the same with and without a skew.
const ELSEWHERE: [&str; 5] = ["opening.small", "tip.sharp", "tongue.thick", "height.low", "pocket.deep"];

/// The skew a table of these sizes must stay below, or the reason why its leaves could not be carried.
pub fn refuse(s: &Sizes, lay: &Layout, m: &Members) -> Option<Trouble> {
    let (h, k) = (lay.half_sector, lay.skew);
    if k == 0.0 {
        return None;
    }
    let said =
        |code, sentence, sizes: &[&'static str]| Some(Trouble { code, sentence, sizes: sizes.to_vec() });
    // At κ = h a panel would run along its neighbour's edge and never let go of the leaf.
    if k < 0.0 || k >= h * (1.0 - 1e-9) {
        return said(
            "skew.large",
            format!(
                "With {} sectors the slides may be turned by less than {:.1} degrees; they are turned by {:.1}.",
                s.sectors,
                trig::deg(h),
                trig::deg(k)
            ),
            &["slide_skew", "sectors"],
        );
    }
    let (beside, need) = (lay.travel * trig::sin(h - k), m.slide_width / 2.0 + m.gap);
    if beside < need {
        return said(
            "skew.leaf",
            format!(
                "Turned by {:.1} degrees, the slides leave {beside:.1} mm of each leaf on the narrow side of its own slide, which needs {need:.1} mm there; turn them less.",
                trig::deg(k)
            ),
            &["slide_skew", "open_diameter", "sectors"],
        );
    }
    None
}

/// Adds the skew to the sizes at odds, and says so when it alone is.
pub fn explain(s: &Sizes, troubles: &mut Vec<Trouble>) {
    if s.slide_skew == 0.0 {
        return;
    }
    for t in troubles.iter_mut() {
        if !ELSEWHERE.contains(&t.code) && !t.sizes.contains(&"slide_skew") {
            t.sizes.push("slide_skew");
        }
    }
    if troubles.iter().any(|t| t.code.starts_with("skew.")) {
        return;
    }
    let radial = Sizes { slide_skew: 0.0, ..s.clone() };
    if solve(&radial).is_ok() {
        troubles.push(Trouble {
            code: "skew.alone",
            sentence: format!(
                "Turned by {:.1} degrees from the panels' centre lines, the slides leave no table; with radial slides these sizes work.",
                trig::deg(s.slide_skew)
            ),
            sizes: vec!["slide_skew"],
        });
    }
}
