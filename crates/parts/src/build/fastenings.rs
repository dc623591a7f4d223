//! Screws and dowels: bought by the set, listed, in no place of their own.
//!
//! In: the parts built so far. Out: a bought part for each set.
//! Always true: a set has as many as its part has holes for them, over all its pieces; a screw is no longer than
//! the wood it goes into, but where even the shortest sold is; sizes are common practice, no source.

use super::{Builder, fixings, frame, lift, stops, top};

/// Lengths wood screws are sold in, mm, with the nearest trade length in inches.
const LENGTHS: [(f64, &str); 12] = [
    (12.0, "1/2"),
    (16.0, "5/8"),
    (20.0, "3/4"),
    (25.0, "1"),
    (30.0, "1 1/4"),
    (35.0, "1 3/8"),
    (40.0, "1 1/2"),
    (45.0, "1 3/4"),
    (50.0, "2"),
    (60.0, "2 3/8"),
    (70.0, "2 3/4"),
    (80.0, "3 1/8"),
];

/// The longest screw of a size that stays inside so much wood, mm and inches; the shortest sold where none does.
fn screw_for(screw: Screw, wood: f64) -> (f64, &'static str) {
    let most = screw.longest();
    LENGTHS.into_iter().rev().find(|l| l.0 <= (wood - 2.0).min(most)).unwrap_or(LENGTHS[0])
}

/// A wood screw by its trade size.
#[derive(Clone, Copy)]
pub(crate) enum Screw {
    /// 3 mm: its pilot hole is 2.5 mm in hardwood.
    No4,
    /// 3.5 mm: through 4 mm holes.
    No6,
    /// 4 mm: through 4.5 mm holes.
    No8,
    /// 5 mm: through 5.5 mm holes.
    No10,
}

impl Screw {
    fn size(self) -> (f64, usize) {
        match self {
            Screw::No4 => (3.0, 4),
            Screw::No6 => (3.5, 6),
            Screw::No8 => (4.0, 8),
            Screw::No10 => (5.0, 10),
        }
    }
    /// The longest that dealers usually have, mm (from memory).
    fn longest(self) -> f64 {
        match self {
            Screw::No4 => 40.0,
            Screw::No6 => 50.0,
            Screw::No8 => 70.0,
            Screw::No10 => 80.0,
        }
    }
}

impl Builder<'_> {
    /// A set of wood screws for so much wood, from the head's seat to what they must not come through.
    pub(super) fn screws(&mut self, id: &str, screw: Screw, wood: f64, count: usize, what: &str) {
        let (length, inch) = screw_for(screw, wood);
        let (diameter, number) = screw.size();
        self.bought(
            id,
            &format!("Wood screw {diameter} × {length:.0} mm (No. {number} × {inch} in)"),
            length,
            diameter / 2.0,
            count,
            vec![format!("{what}."), "Countersunk, DIN 7997 or ASME B18.6.1 (sizes from memory).".into()],
        );
    }
    /// Screws for every hole of a part whose identifier begins so; nothing when the table has no such part.
    fn screws_of(&mut self, part: &str, begins: &str, screw: Screw, wood: f64, what: &str) {
        self.screws_for((&format!("screw-{part}"), part, begins), screw, wood, what);
    }
    /// The same under an identifier of its own: identifier, part, beginning of the holes'.
    fn screws_for(&mut self, (id, part, begins): (&str, &str, &str), screw: Screw, wood: f64, what: &str) {
        let Some(p) = self.parts.iter().find(|p| p.id == part) else { return };
        let holes = p.features.iter().filter(|f| f.id.starts_with(begins)).count();
        let count = holes * p.count;
        if count > 0 {
            self.screws(id, screw, wood, count, what);
        }
    }
    fn thick(&self, part: &str) -> f64 {
        self.parts.iter().find(|p| p.id == part).map_or(0.0, |p| p.thickness)
    }
}

/// Screws of everything but stops and hand holds.
pub(crate) fn add(b: &mut Builder) {
    let (sizes, pilot) = (&b.m.sizes, top::pilot_depth(b.m));
    let (slide, plate) = (sizes.slide_thickness, sizes.plate_thickness);
    // The plate is let in flush: what is over it is what the slide has.
    b.screws_of("pin-plate", "screw", Screw::No10, slide + 1.0, "Pin plates, up into the panel slides");
    for part in ["panel-guide", "leaf-guide"] {
        b.screws_of(part, "screw", Screw::No4, slide + plate, "Guides, to their plate");
    }
    let through = slide + b.thick("leaf-riser") + pilot + 2.0;
    b.screws_of("leaf-riser", "screw", Screw::No8, through, "Leaves, from below, up through slide and riser");
    let through = b.thick("star-hub") + pilot + 2.0;
    b.screws_of("star-hub", "screw", Screw::No8, through, "Star hub, up into the star");
    standing(b);
}

/// What holds together what stands still, and the block under the plate.
fn standing(b: &mut Builder) {
    let (m, sizes) = (b.m, &b.m.sizes);
    let base = 2.0 * sizes.ply_thickness;
    // Where its lower edge is hollowed most a rail still has so much height.
    let rail = frame::RAIL.1 - frame::HOLLOW;
    b.screws_for(
        ("screw-base-upper-ply", "base-upper-ply", "rail-screw"),
        Screw::No10,
        base + rail,
        "Base plate, down into the rails",
    );
    if let Some(rest) = fixings::under_head(m) {
        b.screws_of("glide-ring", "screw", Screw::No6, rest + base, "Glide ring, down into the base plate");
    }
    lift(b);
    let cam = b.thick("cam-plate");
    b.screws_of("cam-plate", "screw", Screw::No8, cam + base, "Cam plate, down into the base plate");
    if b.parts.iter().any(|p| p.id == "hold-down-flange") {
        let reach = m.members.flange - m.members.centre_post;
        // Its point bears on the post with the head just under the rim.
        let length = GRUB.into_iter().rev().find(|l| *l <= reach).unwrap_or(GRUB[0]);
        b.bought(
            "screw-hold-down-flange",
            &format!("Grub screw M5 × {length:.0}"),
            length,
            2.5,
            FLANGE_SCREWS,
            vec!["Through the flange's rim, at right angles to each other, against the centre post.".into()],
        );
    }
    if let Some(block) = b.parts.iter().find(|p| p.id == "stop-block") {
        let count = block.features.iter().filter(|f| f.id == "dowel").count() * block.count;
        // A little shorter than its holes are deep together: room for glue.
        let deep = stops::DOWEL_IN_BLOCK + stops::dowel_depth(m);
        let (length, inch) = DOWELS.into_iter().rev().find(|l| l.0 < deep).unwrap_or(DOWELS[0]);
        b.bought(
            "dowel-stop-block",
            &format!("Dowel {:.0} × {length:.0} mm (5/16 × {inch} in)", stops::DOWEL),
            length,
            stops::DOWEL / 2.0,
            count,
            vec!["Stop block, up into the turning plate.".into()],
        );
    }
}

/// Screws of a roller's hinge: its leaf lies under the rising plate.
pub const HINGE_SCREWS: usize = 2;
/// Thickness of the hinge's leaf, mm. Common practice, no source.
const HINGE_LEAF: f64 = 2.0;

/// Rollers under the rising plate, and what the star levers turn on.
fn lift(b: &mut Builder) {
    let m = b.m;
    let count = |b: &Builder, id: &str| b.parts.iter().find(|p| p.id == id).map_or(0, |p| p.count);
    let rollers = count(b, "drop-roller");
    if rollers > 0 {
        let wood = HINGE_LEAF + m.sizes.plate_thickness;
        let what = "Hinges of the drop rollers, up into the rising plate";
        b.screws("screw-drop-roller", Screw::No8, wood, HINGE_SCREWS * rollers, what);
    }
    let levers = count(b, "star-lever");
    if levers > 0 {
        let length = lift::lever_pin_length(m);
        let notes = vec![
            "In its grooves in the rising plate, a drop of epoxy at both ends; the lever turns on it.".into(),
        ];
        b.bought(
            "pin-star-lever",
            "Cross pin of a star lever",
            length,
            lift::LEVER_PIN.0 / 2.0,
            levers,
            notes,
        );
        // Cut from a bar, as the keeping pins are.
        if let Some(pin) = b.parts.last_mut() {
            pin.material = "steel rod".into();
        }
    }
}

/// Lengths that the dowel is cut to, mm, with the same in inches.
const DOWELS: [(f64, &str); 5] = [(16.0, "5/8"), (19.0, "3/4"), (22.0, "7/8"), (25.0, "1"), (28.0, "1 1/8")];
/// Lengths of grub screws, mm (ISO 4027, from memory).
const GRUB: [f64; 4] = [8.0, 10.0, 12.0, 16.0];
/// Grub screws in the hold-down flange.
pub const FLANGE_SCREWS: usize = 2;
