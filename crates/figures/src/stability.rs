//! Whether the table, or its turning top, tips.
//!
//! In: an assembly, assumptions, the drive. Out: figures.
//! Always true: the load stands at the farthest point of the edge, straight across the nearest line through
//! two neighbouring feet, whatever the top's direction; the table stands level on all feet.

use crate::assumptions::Assumptions;
use crate::base::feet_at;
use crate::figure::{Figure, MEASURED, STATICS};
use crate::mass::{Body, Solid, gather, turns};
use crate::tipping::{lines, tipping_load, weakest};
use crate::torque::Drive;
use turnleaf_geom::Vec2;
use turnleaf_parts::Assembly;

/// The whole table at a turn.
pub fn whole(a: &Assembly, solids: &[Solid], turn: f64) -> Body {
    gather(a, solids, turn, |_, _| true)
}

/// Load at the edge that begins to tip the table at a turn: (load, distance of the line, overhang). None when
/// the edge does not reach beyond the feet.
pub fn table_limit(a: &Assembly, solids: &[Solid], turn: f64, reach: f64) -> Option<(f64, f64, f64)> {
    let body = whole(a, solids, turn);
    let (line, load) = weakest(&lines(&feet_at(a, turn)), body.weight(), body.centre, reach)?;
    let inside = line.inside(Vec2::ZERO);
    Some((load, line.inside(body.centre), reach - inside))
}

/// All figures of tipping.
pub fn figures(a: &Assembly, s: &Assumptions, solids: &[Solid], drive: &Drive) -> Vec<Figure> {
    let mut out = Vec::new();
    let m = &a.mechanism;
    let load = m.sizes.edge_load;
    let states = [
        ("closed", 0.0, m.layout.radius - s.edge_inset),
        ("open", m.turn(), m.layout.radius + m.layout.travel - s.edge_inset),
    ];
    for (id, turn, reach) in states {
        let body = whole(a, solids, turn);
        let feet = feet_at(a, turn);
        let inside = lines(&feet).iter().map(|l| l.inside(Vec2::ZERO)).fold(f64::INFINITY, f64::min);
        if !inside.is_finite() {
            continue;
        }
        out.push(
            Figure::new(
                format!("tip.{id}.overhang"),
                format!("Edge beyond the line of the feet, {id}"),
                reach - inside,
                "mm",
            )
            .given("reach of the edge", reach, "mm")
            .given("line of two feet from the centre", inside, "mm")
            .by("reach − a", MEASURED)
            .says("Nothing tips a table whose edge does not reach beyond its feet."),
        );
        if let Some((limit, arm, beyond)) = table_limit(a, solids, turn, reach) {
            out.push(
                Figure::new(
                    format!("tip.{id}.load"),
                    format!("Load at the edge that begins to tip the table, {id}"),
                    limit,
                    "N",
                )
                .at_least(load)
                .given("W, weight of the table", body.weight(), "N")
                .given("a, line of two feet from the weight", arm, "mm")
                .given("x, load beyond that line", beyond, "mm")
                .by("W·a/x", format!("{STATICS}; the limit is the maker's edge load, an assumption"))
                .says("Legs set further out help twice: a grows and x shrinks. Not a test to any standard."),
            );
        }
        let height = m.sizes.height;
        out.push(
            Figure::new(
                format!("tip.{id}.push"),
                format!("Level push at the top that begins to tip the table, {id}"),
                body.weight() * inside / height,
                "N",
            )
            .given("W, weight of the table", body.weight(), "N")
            .given("a, line of two feet from the centre", inside, "mm")
            .given("height of the top", height, "mm")
            .by("W·a/height", STATICS)
            .says("On most floors the feet slide first."),
        );
    }
    // The turning top lies loose on its glide ring.
    let top = gather(a, solids, m.turn(), |p, _| turns(p));
    let reach = m.layout.radius + m.layout.travel - s.edge_inset;
    if let Some(limit) = tipping_load(top.weight(), drive.glide_radius, reach - drive.glide_radius) {
        out.push(
            Figure::new("tip.top.load", "Load at the open edge that begins to lift the top off its glide ring", limit, "N")
                .at_least(load)
                .given("W, weight of everything that turns", top.weight(), "N")
                .given("r, glide ring from the centre", drive.glide_radius, "mm")
                .given("x, load beyond the ring", reach - drive.glide_radius, "mm")
                .by("W·r/x", format!("{STATICS}; the limit is the maker's edge load, an assumption"))
                .says("Below the limit the top needs holding down at the centre: a nut and washer under the base plate on the centre post."),
        );
    }
    out
}
