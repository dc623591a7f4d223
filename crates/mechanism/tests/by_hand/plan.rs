//! The plan layout, with every corner added up from the way its panel goes.

use crate::{at, near, near_point};
use core::f64::consts::PI;
use turnleaf_geom::{Vec2, trig};
use turnleaf_mechanism::layout::{CORNER_HIDDEN, layout};
use turnleaf_mechanism::{Opening, Sizes};

fn tables() -> Vec<Sizes> {
    let example = Sizes::example();
    let mut all = Vec::new();
    for (sectors, radius, travel, tip) in
        [(6, 600.0, 225.0, 45.0), (8, 700.0, 230.0, 40.0), (5, 450.0, 150.0, 60.0)]
    {
        for skew in [0.0, 2.0, 5.0] {
            all.push(Sizes {
                sectors,
                closed_diameter: 2.0 * radius,
                opening: Opening::Travel(travel),
                leaf_tip_half_angle: trig::rad(tip),
                slide_skew: trig::rad(skew),
                ..example.clone()
            });
        }
    }
    all
}

/// Where two lines through `p` along `u` and through `q` along `w` meet.
fn meet(p: Vec2, u: Vec2, q: Vec2, w: Vec2) -> Vec2 {
    p + u * ((q - p).cross(w) / u.cross(w))
}

#[test]
fn every_length_of_the_plan_is_its_corners_coordinates() {
    for s in tables() {
        let (lay, h, k) = (layout(&s), PI / s.sectors as f64, s.slide_skew);
        let (r, e) = (s.closed_diameter / 2.0, s.travel());
        near("radius", lay.radius, r);
        // The panel clockwise of the seam goes out at −h + κ, the other one at h + κ; the seam is +x.
        let (low, high) = (Vec2::polar(e, k - h), Vec2::polar(e, k + h));
        let tips = lay.panel_tips();
        near_point("tip", tips[0], low);
        near_point("tip", tips[1], high);
        near("gap", lay.gap_width, high.y - low.y);
        near("gap's middle", lay.gap_offset, (high.y + low.y) / 2.0);
        near("shear", lay.gap_shear, low.x - high.x);
        near("apothem", lay.apothem, low.lerp(high, 0.5).norm());
        let corners = [low + at(r, 0.0), high + at(r, 0.0)];
        for (i, due) in corners.into_iter().enumerate() {
            near("corner", lay.corners[i], due.norm());
            near_point("rim's end", lay.rim_corners()[i], due);
            near("rim's radius", due.dist(lay.rim_centre), lay.corner_radius);
            near_point("shoulder", lay.shoulders()[i], tips[i] + at(lay.leaf_travel, 0.0));
        }
        near("out of round", lay.out_of_round, r + e - corners[0].norm().min(corners[1].norm()));
        let square = (corners[0].norm2() + corners[1].norm2()) / 2.0;
        near("rim's radius, root mean square", lay.corner_radius, square.sqrt());
        let half = trig::asin(corners[0].dist(corners[1]) / 2.0 / lay.corner_radius);
        near("rim's half angle", lay.rim_half_angle(), half);
        near("rim on the seam", at(lay.rim_along_seam(), 0.0).dist(lay.rim_centre), lay.corner_radius);
        // Stored, every point has gone back by the leaf's travel.
        let back = |p: Vec2| p - at(lay.leaf_travel, 0.0);
        let far = corners.map(|p| back(p).norm());
        near("stored corner", lay.stored_corner(), far[0].max(far[1]));
        let middle =
            lay.rim_centre + (corners[0].lerp(corners[1], 0.5) - lay.rim_centre).unit() * lay.corner_radius;
        near("stored rim", lay.stored_rim(), back(middle).norm());
        assert!(
            lay.stored_corner() <= r - CORNER_HIDDEN + 1e-9 && lay.stored_rim() <= r - s.hidden_margin + 1e-9
        );
        // No farther than one of the two asks for.
        let to_spare = (r - CORNER_HIDDEN - lay.stored_corner()).min(r - s.hidden_margin - lay.stored_rim());
        near("hidden by just so much", to_spare, 0.0);
    }
}

#[test]
fn the_leafs_tip_is_where_its_edges_meet() {
    for s in tables() {
        let (lay, k, alpha) = (layout(&s), s.slide_skew, s.leaf_tip_half_angle);
        let [low, high] = lay.shoulders();
        let tip = meet(low, Vec2::polar(1.0, k - alpha), high, Vec2::polar(1.0, k + alpha));
        near_point("tip", at(lay.tip, lay.tip_offset), tip);
        near("farther shoulder", lay.shoulder, low.x);
        near("star's reach", lay.star_reach, low.norm().max(high.norm()));
        near("tip's half angle", lay.tip_half_angle, alpha);
        // The star is n times the outline centre, panel tip, shoulder, leaf tip, shoulder, panel tip.
        let [a, b] = lay.panel_tips();
        let arm = [Vec2::ZERO, a, low, tip, high, b];
        let area: f64 = (0..6).map(|i| arm[i].cross(arm[(i + 1) % 6]) / 2.0).sum();
        near("star's area", lay.star_area / (s.sectors as f64 * area), 1.0);
    }
}

/// Going a little farther out, a panel leaves the tongue's edge by tongue and clearance, square to that edge.
#[test]
fn over_travel_frees_the_tongues() {
    for s in tables() {
        let (lay, k) = (layout(&s), s.slide_skew);
        let free = s.tongue_depth + s.tongue_clearance;
        let panel = Vec2::polar(lay.panel_overtravel_least, k - lay.half_sector);
        near("panel's edge, along the seam", -panel.y, free);
        // A leaf goes out along the seam; its nearer edge runs at α − κ to it.
        let edge = Vec2::polar(1.0, s.leaf_tip_half_angle - k);
        near("leaf's edge", at(lay.leaf_overtravel_least, 0.0).cross(edge), free);
    }
}
