//! Wood left between the cuts of one part.
//!
//! In: a part. Out: its nearest two cuts that share a height, and how much wood is between them.
//! Always true: a cut that lies wholly inside another (a bore through the floor of a recess) leaves no wall between
//! them and is not looked at; two cuts that run into each other leave none, which is said as nothing left.

use turnleaf_geom::{Pose2, Prepared, Region};
use turnleaf_parts::Part;
use turnleaf_parts::layers::{feature_band, opening};

/// The thinnest wall of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Wall {
    /// Wood between the cuts, mm; 0 when they run into each other.
    pub wood: f64,
    /// Identifiers of the two features.
    pub cuts: [String; 2],
    /// What they are for.
    pub purposes: [String; 2],
}

/// The thinnest wall between two cuts of a part; None with fewer than two.
pub fn thinnest(part: &Part) -> Option<Wall> {
    all(part).into_iter().min_by(|a, b| a.wood.total_cmp(&b.wood))
}

/// Every wall of a part, in the order of its features.
pub fn all(part: &Part) -> Vec<Wall> {
    let cuts: Vec<_> = part
        .features
        .iter()
        .filter_map(|f| {
            let region = Region::from(opening(&f.kind)?);
            Some((f, feature_band(&f.kind, part.thickness), Prepared::new(&region)))
        })
        .collect();
    let here = Pose2::default();
    let mut out = Vec::new();
    for (i, (f, f_band, f_shape)) in cuts.iter().enumerate() {
        for (g, g_band, g_shape) in &cuts[i + 1..] {
            if f_band.0 >= g_band.1 - 1e-9 || g_band.0 >= f_band.1 - 1e-9 {
                continue;
            }
            let found = f_shape.clearance(&here, g_shape, &here);
            if found.penetrates && (inside(f_shape, g_shape) || inside(g_shape, f_shape)) {
                continue;
            }
            out.push(Wall {
                wood: if found.penetrates { 0.0 } else { found.distance },
                cuts: [f.id.clone(), g.id.clone()],
                purposes: [f.purpose.clone(), g.purpose.clone()],
            });
        }
    }
    out
}

/// Whether every corner and edge middle of one outline lies in the other.
fn inside(small: &Prepared, large: &Prepared) -> bool {
    small.edges().iter().all(|e| [0.0, 0.5].iter().all(|t| large.contains(e.at(*t))))
}
