//! Projections of solids. In: figures of a geometry kernel and closed forms. Out: rows.
//! Always true: the solids are as plain as the source's: a unit cube, a cylinder of radius 1 and height 2.

use crate::table::{Group, Known::*, Source, Within};
use turnleaf_geom::{Pose2, Region, Ring, trig, vec2::v};
use turnleaf_parts::Layer;
use turnleaf_views::{Body, Corner, EdgeKind, Options, Projection, View, project, v3};

const ISO_5456_3: Source = Source::new("ISO 5456-3:1996 (axonometric)", "", Memory);
const KERNEL: Source =
    Source::new("OpenCASCADE (cadquery-ocp-novtk 8.0.1.1)", "hidden-line removal", Computed);

fn seen(ring: Ring, height: f64) -> View {
    let layers = vec![Layer { region: Region::from(ring), z0: 0.0, z1: height }];
    let body = Body::upright("solid", layers, &Pose2::default(), 0.0);
    project(&[body], &[], &Projection::Isometric(Corner::FrontRight), &Options::default())
}

/// The rows.
pub fn rows() -> Group {
    let mut g = Group::new("Isometric projection and hidden lines");
    let sight = Projection::Isometric(Corner::FrontRight).sight();
    let closed = Within::Of(1e-12, "a closed form in floats");
    let elevation = trig::deg(trig::asin(sight.toward.unit().z));
    g.near(
        "elevation of the line of sight, degrees: arctan(1/√2)",
        Source::new("mpmath 1.3", "arctan(1/√2)", Computed),
        "35.264389682754654",
        elevation,
        closed,
    );
    // The three edges that meet at the corner looked at.
    let axes = [v3(1.0, 0.0, 0.0), v3(0.0, -1.0, 0.0), v3(0.0, 0.0, 1.0)].map(|a| sight.flat(a));
    g.figures(
        "shortening of the three axes: √(2/3)",
        KERNEL.at("edges of a unit cube"),
        axes.map(|a| ("0.816496580927726", a.norm())),
        closed,
    );
    g.near(
        "shortening, in percent as taught",
        Source::new("US Army engineer course EN0113 (armyengineer.tpub.com)", "", Quoted),
        "81",
        100.0 * axes[0].norm(),
        Within::Of(1.0, "the handbook says “about 81 percent”"),
    );
    let apart =
        |a: usize, b: usize| trig::deg(trig::acos(axes[a].dot(axes[b]) / axes[a].norm() / axes[b].norm()));
    g.figures(
        "angles between the axes on paper, degrees",
        ISO_5456_3,
        [("120", apart(0, 1)), ("120", apart(1, 2)), ("120", apart(2, 0))],
        Within::Of(1e-9, "a closed form in floats"),
    );
    let cube = seen(Ring::rect(v(0.0, 0.0), v(1.0, 1.0)), 1.0);
    g.figures(
        "edges of a cube: in sight, hidden",
        KERNEL,
        [("9", cube.visible.len() as f64), ("3", cube.hidden.len() as f64)],
        Within::Exactly("a count"),
    );
    let rod = seen(Ring::circle(v(0.0, 0.0), 1.0), 2.0);
    let sides = rod.visible.iter().filter(|s| s.kind == EdgeKind::Silhouette);
    g.figures(
        "both silhouettes of a cylinder",
        KERNEL,
        ["1.63299"; 2].into_iter().zip(sides.map(|s| s.curve.length())),
        Within::LastDigit,
    );
    let mut rims: Vec<f64> =
        rod.visible.iter().filter(|s| s.kind != EdgeKind::Silhouette).map(|s| s.curve.length()).collect();
    rims.sort_by(f64::total_cmp);
    g.figures(
        "rims of a cylinder: lower in sight, upper",
        KERNEL,
        ["2.52237", "5.04474"].into_iter().zip(rims),
        Within::LastDigit,
    );
    g.figure("lower rim of a cylinder, hidden half", KERNEL, "2.52237", rod.hidden_length());
    g
}
