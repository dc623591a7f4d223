//! Which size or rule stands behind each dimension of the sheets.
//!
//! In: the plan's fields and the solved numbers. Out: beginnings of dimension identifiers with their origin.
//! Always true: the longest beginning wins, so a row for a whole part catches what no finer row names; a
//! row whose number this table does not have is left out, and the next shorter one takes its place.

use crate::cx::Cx;
use std::collections::BTreeMap;
use turnleaf_diag::Origin;

/// A source: a field of the plan, or a solved number.
#[derive(Clone, Copy)]
enum Behind {
    Size(&'static str),
    Rule(&'static str),
}
use Behind::{Rule, Size};

/// `#` stands for any number from 1 to the count of sectors.
const ROWS: &[(&str, Behind)] = &[
    ("panel/", Rule("closed.radius")),
    ("panel/dim/angle", Rule("panel.angle")),
    ("panel/dim/post/inner", Rule("post.inner-radius")),
    ("panel/dim/post/outer", Rule("post.outer-radius")),
    ("panel/dim/post/inner/y", Rule("panel.skew")),
    ("panel/dim/post/outer/y", Rule("panel.skew")),
    ("leaf/", Rule("leaf.travel")),
    ("leaf/dim/radius", Rule("panel.corner-radius")),
    ("leaf/dim/radius", Rule("leaf.rim")),
    ("leaf/dim/width", Rule("gap.width")),
    ("leaf/dim/x", Rule("leaf.tip")),
    ("leaf/dim/angle", Rule("leaf.tip-half-angle")),
    ("star/", Rule("star.reach")),
    ("star/dim/x/notch", Rule("leaf.tip")),
    ("star/dim/x/point", Rule("leaf.shoulder")),
    ("star/dim/width", Rule("gap.width")),
    ("star/dim/angle", Rule("leaf.tip-half-angle")),
    ("panel-slide/", Rule("panel.slide.engaged")),
    ("panel-slide/dim/pin", Rule("panel.slide.pin-closed")),
    ("panel-slide/dim/post/inner", Rule("post.inner-radius")),
    ("panel-slide/dim/post/outer", Rule("post.outer-radius")),
    ("pin-plate/", Rule("panel.slide.pin-closed")),
    ("leaf-slide/", Rule("leaf.slide.engaged")),
    ("leaf-slide/dim/pin", Rule("leaf.slide.pin-closed")),
    ("panel-guide/", Rule("plate.turning-radius")),
    ("leaf-guide/", Rule("plate.rising-radius")),
    ("leaf-riser/", Rule("lift.step")),
    ("panel-arm/", Rule("panel.arm.length")),
    ("panel-arm/dim/bend", Rule("panel.arm.bend")),
    ("panel-arm/dim/radius", Rule("panel.arm.bend")),
    ("leaf-arm/", Rule("leaf.arm.length")),
    ("leaf-arm/dim/bend", Rule("leaf.arm.bend")),
    ("leaf-arm/dim/radius", Rule("leaf.arm.bend")),
    ("turning-plate/", Rule("plate.turning-radius")),
    ("turning-plate/dim/panel-pin", Rule("panel.slide.pin-farthest")),
    ("turning-plate/dim/panel-pin/#/near", Rule("panel.slide.pin-closed")),
    ("turning-plate/dim/leaf-pin", Rule("leaf.slide.pin-farthest")),
    ("turning-plate/dim/leaf-pin/#/near", Rule("leaf.slide.pin-closed")),
    ("turning-plate/dim/roller", Rule("roller.arm")),
    ("turning-plate/dim/roller/1", Rule("roller.outer-radius")),
    ("turning-plate/dim/roller/2", Rule("roller.outer-radius")),
    ("turning-plate/dim/roller/3", Rule("roller.inner-radius")),
    ("turning-plate/dim/roller/4", Rule("roller.inner-radius")),
    ("rising-plate/", Rule("plate.rising-radius")),
    ("rising-plate/dim/post", Rule("post.inner-radius")),
    ("rising-plate/dim/centre", Rule("lift.lever-arm")),
    ("rising-plate/dim/leaf-sleeve", Rule("leaf.slide.pin-farthest")),
    ("rising-plate/dim/leaf-sleeve/#/near", Rule("leaf.slide.pin-closed")),
    ("stiffening-ring/", Rule("plate.turning-radius")),
    ("star-hub/", Rule("lift.lever-arm")),
    ("star-lever/", Rule("lift.lever-arm")),
    ("base-", Rule("plate.base-radius")),
    ("cam-plate/", Rule("plate.base-radius")),
    ("cam-plate/dim/panel", Rule("cam.panel-farthest")),
    ("cam-plate/dim/leaf", Rule("cam.leaf-farthest")),
    ("ramp-outer/", Rule("roller.outer-radius")),
    ("ramp-outer/dim/width", Rule("roller.outer-arc")),
    ("ramp-outer/dim/thickness", Rule("lift.step")),
    ("ramp-inner/", Rule("roller.inner-radius")),
    ("ramp-inner/dim/width", Rule("roller.inner-arc")),
    ("ramp-inner/dim/thickness", Rule("lift.step")),
    ("glide-ring/", Rule("plate.base-radius")),
    ("glide-ring/dim/thickness", Size("arm_thickness")),
    ("leg/", Rule("stack.base-bottom")),
    ("hand-hold/", Rule("post.outer-radius")),
    ("stop-block/", Rule("plate.base-radius")),
    ("end-stop/", Rule("plate.base-radius")),
    ("keeper-bar/", Rule("plate.base-radius")),
    ("rail-", Rule("plate.base-radius")),
];

/// The sheet stock each part's thickness comes from.
const THICKNESS: [(&str, &str); 16] = [
    ("panel", "stock_thickness"),
    ("leaf", "stock_thickness"),
    ("star", "stock_thickness"),
    ("panel-slide", "slide_thickness"),
    ("leaf-slide", "slide_thickness"),
    ("panel-guide", "slide_thickness"),
    ("leaf-guide", "slide_thickness"),
    ("stiffening-ring", "slide_thickness"),
    ("star-hub", "slide_thickness"),
    ("panel-arm", "arm_thickness"),
    ("leaf-arm", "arm_thickness"),
    ("turning-plate", "plate_thickness"),
    ("rising-plate", "plate_thickness"),
    ("cam-plate", "plate_thickness"),
    ("hand-hold", "stock_thickness"),
    ("keeper-bar", "ply_thickness"),
];

/// All rows of this table.
pub fn origins(cx: &Cx) -> BTreeMap<String, Origin> {
    let mut out = BTreeMap::new();
    let mut put = |beginning: String, from: Behind| {
        let origin = match from {
            Size(id) => turnleaf_planfile::origin(id),
            Rule(id) => cx.number(id).map(|n| n.0),
        };
        if let Some(origin) = origin {
            out.insert(beginning, origin);
        }
    };
    let sectors = cx.mechanism().sizes.sectors.max(4);
    for (beginning, from) in ROWS {
        if beginning.contains('#') {
            for k in 1..=sectors {
                put(beginning.replace('#', &k.to_string()), *from);
            }
        } else {
            put(beginning.to_string(), *from);
        }
    }
    for (part, stock) in THICKNESS {
        put(format!("{part}/dim/thickness"), Size(stock));
    }
    let tongue = if cx.input.plan.value("tongue_thickness").is_some() {
        "tongue_thickness"
    } else {
        "stock_thickness"
    };
    for part in ["panel", "leaf", "star"] {
        put(format!("{part}/dim/groove"), Rule("gap.width"));
        put(format!("{part}/dim/tongue"), Rule("gap.width"));
        // The features of an edge have names of their own, so each is named with all its sides.
        for k in [String::new(), "point-".into(), "side-".into()]
            .into_iter()
            .chain((1..=sectors).map(|k| format!("{k}-")))
        {
            for turn in ["clockwise", "counter-clockwise"] {
                for kind in ["groove", "tongue"] {
                    put(format!("{part}/dim/{kind}/{k}{turn}/depth"), Size("tongue_depth"));
                    put(format!("{part}/dim/{kind}/{k}{turn}/width"), Size(tongue));
                }
            }
        }
    }
    for part in ["panel-arm", "leaf-arm"] {
        put(format!("{part}/dim/width"), Size("arm_width"));
        put(format!("{part}/dim/radius/end"), Size("arm_width"));
    }
    for ply in ["base-upper-ply", "base-lower-ply"] {
        put(format!("{ply}/dim/thickness"), Size("ply_thickness"));
        for k in 1..=sectors {
            put(format!("{ply}/dim/panel-crank-pin/{k}"), Rule("panel.arm.pin-radius"));
            put(format!("{ply}/dim/leaf-crank-pin/{k}"), Rule("leaf.arm.pin-radius"));
            for pins in ["panel", "leaf"] {
                put(format!("{ply}/dim/{pins}-crank-pin/{k}/bearing"), Rule("panel.arm.closed-angle"));
            }
        }
        for k in 1..=4 {
            let circle = if k < 3 { "roller.outer-radius" } else { "roller.inner-radius" };
            put(format!("{ply}/dim/pocket/{k}"), Rule(circle));
            put(format!("{ply}/dim/pocket/{k}/from"), Rule("turn.lift-begins"));
            put(format!("{ply}/dim/pocket/{k}/to"), Rule("turn.lift-ends"));
            put(format!("{ply}/dim/pocket/{k}/depth"), Rule("lift.step"));
        }
    }
    out
}
