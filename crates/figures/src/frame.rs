//! The frame's long rail under the whole table.
//!
//! In: an assembly, assumptions, the drive. Out: figures.
//! Always true: the rail is taken as one beam from leg to leg with everything in its middle, as if the base plate and the
//! short rails carried nothing; its depth follows the curve of its lower edge.

use crate::assumptions::Assumptions;
use crate::beams::rectangle_z;
use crate::figure::{BEAMS, Figure};
use crate::torque::Drive;
use turnleaf_parts::Assembly;

/// Places looked at along half the rail.
const LOOKS: usize = 200;

/// All figures of the frame.
pub fn figures(a: &Assembly, s: &Assumptions, drive: &Drive) -> Vec<Figure> {
    let Some(rail) = a.part("rail-long") else { return Vec::new() };
    let (low, high) = rail.outline.bounds();
    let (half, width) = (high.x, high.y - low.y);
    let material = s.material(&rail.material);
    let working = material.flat_strength(width) / material.factor(s.wood_factor, s.steel_factor);
    let load = drive.turning_weight + a.mechanism.sizes.edge_load;
    // A load Q in the middle of a span of 2·L bends it by Q/2·(L − x) at x from the middle.
    let at = |i: usize| {
        let x = half * i as f64 / LOOKS as f64;
        let depth = rail.thickness - rail.hollow_at(x);
        (load / 2.0 * (half - x) / rectangle_z(width, depth), x, depth)
    };
    let Some(worst) = (0..LOOKS).map(at).max_by(|p, q| p.0.total_cmp(&q.0)) else { return Vec::new() };
    vec![
        Figure::new("frame.rail-stress", "Long rail, bending stress at its weakest place", worst.0, "MPa")
            .at_most(working)
            .given("Q, weight of everything that turns and the edge load", load, "N")
            .given("L, from the middle to a leg", half, "mm")
            .given("x, weakest place from the middle", worst.1, "mm")
            .given("depth of the rail there", worst.2, "mm")
            .given("width of the rail", width, "mm")
            .by(
                "Q/2·(L − x)/(width·depth²/6)",
                format!("{BEAMS}; strength: {}; factor: common practice, no source", material.source()),
            )
            .says("The base plate, screwed to the rails, carries with them. Choose straight grain without knots along the hollow edge."),
    ]
}
