//! The sign on a sheet that tells first from third angle: two views of a truncated cone.
//!
//! In: the arrangement and a size. Out: curves about the origin, x right, y up, in mm of the sheet.
//!
//! Always true: the cone's small end points left, so the view from the left shows both rims; first
//! angle puts that view to the right of the other, third angle to the left (ISO 5456-2).

use crate::curve::Curve2;
use crate::projection::Arrangement;
use core::f64::consts::PI;
use turnleaf_geom::{Arc, Vec2, vec2::v};

/// The curves of the sign.
#[derive(Clone, Debug, PartialEq)]
pub struct Symbol {
    /// Wide continuous lines.
    pub outlines: Vec<Curve2>,
    /// Narrow long-dashed dotted lines.
    pub centre_lines: Vec<(Vec2, Vec2)>,
}

/// The sign with the large rim `size` mm across. Proportions (small rim one half, length one, space
/// between the views one half, centre lines a sixth over) are from memory: the standard shows the
/// sign and this is its general look, not a measured copy.
pub fn symbol(arrangement: Arrangement, size: f64) -> Symbol {
    let (large, small) = (size / 2.0, size / 4.0);
    // Middles of the side view (cone) and of the end view (rims), `apart` from each other.
    let apart = 1.5 * size;
    let (cone, rims) = match arrangement {
        Arrangement::FirstAngle => (-apart / 2.0, apart / 2.0),
        Arrangement::ThirdAngle => (apart / 2.0, -apart / 2.0),
    };
    let (left, right) = (cone - size / 2.0, cone + size / 2.0);
    let corners = [v(left, -small), v(right, -large), v(right, large), v(left, small)];
    let mut outlines: Vec<Curve2> = (0..4).map(|i| Curve2::Line(corners[i], corners[(i + 1) % 4])).collect();
    for radius in [large, small] {
        outlines.push(Curve2::Arc(Arc { centre: v(rims, 0.0), radius, start: 0.0, sweep: 2.0 * PI }));
    }
    let over = size / 6.0;
    let centre_lines = vec![
        (v(left - over, 0.0), v(right + over, 0.0)),
        (v(rims - large - over, 0.0), v(rims + large + over, 0.0)),
        (v(rims, -large - over), v(rims, large + over)),
    ];
    Symbol { outlines, centre_lines }
}
