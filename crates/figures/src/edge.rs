//! The open edge under a load: droop, stress in slide and posts, forces in the guides.
//!
//! In: an assembly and assumptions. Out: figures for panels and leaves.
//! Always true: the load stands on the slide's line at the very edge (less the inset).
//! ```text
//!                     posts                     load
//!     panel    ---------+-----------------+-------v
//!                       |                 |
//!     slide  o----------+------o----------+
//!          held inside      guide's end
//! ```
//! Three answers, from hopeful to worst. *Shared*: open, tongues home, so that the neighbour on each side sinks
//! with the loaded edge. *Posts glued* tight in slide and top, no neighbours: both bend together as a frame,
//! solved by direct stiffness. *Slide alone*: loose posts, so that the slide carries all the bending, in closed
//! form.

use crate::assumptions::Assumptions;
use crate::beams::{Overhang, rectangle_i, rectangle_z, round_i, round_z};
use crate::figure::{BEAMS, Figure, STATICS};
use crate::mass::Solid;
use crate::plane_frame::{Bar, Frame};
use crate::slides::Slides;
use turnleaf_geom::{Vec2, trig, vec2::v};
use turnleaf_parts::{Assembly, Law, Motion};

/// A post between slide and top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Post {
    /// Distance from the centre, open, mm.
    pub at: f64,
    /// Second moment, mm⁴.
    pub i: f64,
    /// Section modulus, mm³.
    pub z: f64,
    /// Area, mm².
    pub area: f64,
}

/// The loaded side of the open table.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeCase {
    /// Held stretch of the slide, open, mm.
    pub held: (f64, f64),
    /// Edge from the centre, open, mm.
    pub edge: f64,
    /// Where the load stands, mm.
    pub load_at: f64,
    /// Load, N.
    pub load: f64,
    /// Posts, inner first.
    pub posts: Vec<Post>,
    /// Middle of the slide to middle of the top, mm.
    pub apart: f64,
    /// Slide: E·I, E·A, section modulus.
    pub slide: (f64, f64, f64),
    /// Post modulus, MPa.
    pub post_modulus: f64,
    /// Top piece: modulus, thickness, and how its width grows: width = 2·tan·(x − from), at most `width`.
    pub top: TopBeam,
    /// Outer end of the slide, open, mm.
    pub slide_end: f64,
}

/// A top piece as a beam.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TopBeam {
    /// Modulus, MPa.
    pub modulus: f64,
    /// Thickness, mm.
    pub thickness: f64,
    /// Where a sector's point lies, open, mm.
    pub from: f64,
    /// Half-width for a mm of distance from there; 0 for a strip.
    pub spread: f64,
    /// Greatest width, mm.
    pub width: f64,
}

impl TopBeam {
    /// Width at a distance from the centre, mm.
    pub fn width_at(&self, x: f64) -> f64 {
        if self.spread > 0.0 {
            (2.0 * self.spread * (x - self.from)).clamp(1.0, self.width)
        } else {
            self.width
        }
    }
}

/// What the frame says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeResult {
    /// Droop under the load from bending, mm.
    pub droop: f64,
    /// Largest bending stress in the slide, MPa.
    pub slide_stress: f64,
    /// Largest bending stress in a post, MPa.
    pub post_stress: f64,
    /// Force of the guide's outer end on the slide, upward, N.
    pub outer: f64,
    /// Force of the inner end of the held stretch on the slide, downward, N.
    pub inner: f64,
}

impl EdgeResult {
    /// Under so many times the load.
    pub fn times(&self, by: f64) -> EdgeResult {
        EdgeResult {
            droop: self.droop * by,
            slide_stress: self.slide_stress * by,
            post_stress: self.post_stress * by,
            outer: self.outer * by,
            inner: self.inner * by,
        }
    }
}

impl EdgeCase {
    /// Reads the case from the assembly.
    pub fn of(a: &Assembly, s: &Assumptions, slides: &Slides) -> Option<EdgeCase> {
        let m = &a.mechanism;
        let (lay, st) = (&m.layout, &m.stack);
        let (slide_id, post_id, top_id, top_level, edge) = match slides.law {
            Law::Panel => ("panel-slide", "panel-post", "panel", st.panel, lay.radius + lay.travel),
            Law::Leaf => ("leaf-slide", "leaf-riser", "leaf", st.leaf, lay.rim_along_seam()),
        };
        let (slide, post, top) = (a.part(slide_id)?, a.part(post_id)?, a.part(top_id)?);
        let travel = slides.travel(a, m.turn());
        let (low, high) = post.outline.bounds();
        let size = high - low;
        let round = post.outline.segs().all(|seg| matches!(seg, turnleaf_geom::Seg::Arc(_)));
        let section = |at: f64| {
            if round {
                let d = size.x;
                Post { at, i: round_i(d), z: round_z(d), area: core::f64::consts::PI * d * d / 4.0 }
            } else {
                Post {
                    at,
                    i: rectangle_i(size.y, size.x),
                    z: rectangle_z(size.y, size.x),
                    area: size.x * size.y,
                }
            }
        };
        let mut first = None;
        let mut posts = Vec::new();
        for p in a.pieces.iter().filter(|p| a.part_of(p).id == post_id) {
            let Motion::Sliding { line, .. } = p.motion else { continue };
            // One line stands for all of them.
            if *first.get_or_insert(line) == line {
                posts.push(section(p.at.offset.dot(Vec2::polar(1.0, line)) + travel));
            }
        }
        posts.sort_by(|x, y| x.at.total_cmp(&y.at));
        if posts.is_empty() {
            return None;
        }
        let (sm, tm) = (s.material(&slide.material), s.material(&top.material));
        let (b, t) = slides.section;
        let e = sm.flat_modulus(t);
        let slide_level = if slides.rises { st.leaf_slide } else { st.panel_slide };
        let middle = |l: turnleaf_mechanism::stack::Level| (l.bottom + l.top) / 2.0;
        let (spread, from, width) = match slides.law {
            Law::Panel => {
                // Both edges of the panel lean from the slide's line; skew makes one lean more, the other less.
                let lean = |k: f64| trig::tan(lay.half_sector + k);
                let spread = (lean(-lay.skew) + lean(lay.skew)) / 2.0;
                (spread, lay.travel, 2.0 * lay.radius * trig::sin(lay.half_sector))
            }
            Law::Leaf => (0.0, 0.0, lay.gap_width - m.sizes.fitting_gap),
        };
        Some(EdgeCase {
            held: slides.held(travel),
            edge,
            load_at: edge - s.edge_inset,
            load: m.sizes.edge_load,
            posts,
            apart: middle(top_level) - middle(slide_level),
            slide: (e * rectangle_i(b, t), e * b * t, rectangle_z(b, t)),
            post_modulus: s.material(&post.material).flat_modulus(post.thickness),
            top: TopBeam {
                modulus: tm.flat_modulus(top.thickness),
                thickness: top.thickness,
                from,
                spread,
                width,
            },
            slide_end: slides.ends.1 + travel,
        })
    }
    /// The slide alone as a beam that overhangs its guide, the whole load at the edge.
    pub fn overhang(&self) -> Overhang {
        Overhang {
            load: self.load,
            overhang: (self.load_at - self.held.1).max(0.0),
            engaged: self.held.1 - self.held.0,
        }
    }
    /// Solves the frame with the posts fixed or hinged at the top piece.
    pub fn solve(&self, fixed: bool) -> Option<EdgeResult> {
        let mut f = Frame::default();
        let (inner, outer) = (f.node_at(v(self.held.0, 0.0)), f.node_at(v(self.held.1, 0.0)));
        let mut low: Vec<f64> = vec![self.held.0, self.held.1];
        let mut high: Vec<f64> = vec![self.load_at];
        for p in &self.posts {
            low.push(p.at);
            high.push(p.at);
        }
        for (list, y) in [(&mut low, 0.0), (&mut high, self.apart)] {
            list.sort_by(f64::total_cmp);
            list.dedup_by(|x, y| (*x - *y).abs() < 1e-6);
            for pair in list.windows(2) {
                let (from, to) = (f.node_at(v(pair[0], y)), f.node_at(v(pair[1], y)));
                let (ei, ea) = if y == 0.0 {
                    (self.slide.0, self.slide.1)
                } else {
                    // The narrower end of each stretch stands for all of it.
                    let b = self.top.width_at(pair[0]);
                    let t = self.top.thickness;
                    (self.top.modulus * rectangle_i(b, t), self.top.modulus * b * t)
                };
                f.bars.push(Bar { from, to, ea, ei, gas: None, hinged: false });
            }
        }
        let beams = f.bars.len();
        for p in &self.posts {
            let (from, to) = (f.node_at(v(p.at, 0.0)), f.node_at(v(p.at, self.apart)));
            let (ea, ei) = (self.post_modulus * p.area, self.post_modulus * p.i);
            f.bars.push(Bar { from, to, ea, ei, gas: None, hinged: !fixed });
        }
        f.held = vec![(inner, 0), (inner, 1), (outer, 1)];
        let load = f.node_at(v(self.load_at, self.apart));
        f.loads = vec![(load, 1, -self.load)];
        let solved = f.solve()?;
        let moment = |i: usize| solved.ends[i].from[2].abs().max(solved.ends[i].to[2].abs());
        let slide_moment =
            (0..beams).filter(|&i| f.nodes[f.bars[i].from].y == 0.0).map(moment).fold(0.0, f64::max);
        let post_stress =
            self.posts.iter().enumerate().map(|(i, p)| moment(beams + i) / p.z).fold(0.0, f64::max);
        Some(EdgeResult {
            droop: -solved.moved[load][1],
            slide_stress: slide_moment / self.slide.2,
            post_stress,
            outer: solved.reactions[2],
            inner: -solved.reactions[1],
        })
    }
}

fn common(f: Figure, c: &EdgeCase) -> Figure {
    f.given("P, load at the edge (the maker's assumption)", c.load, "N")
        .given("a, from the guide's end to the load", c.load_at - c.held.1, "mm")
        .given("b, slide held in its guide", c.held.1 - c.held.0, "mm")
}

const FRAME: &str = "plane frame by direct stiffness (texts on matrix structural analysis)";

/// One side of the table with its glued frame solved.
struct Side<'a> {
    slides: &'a Slides,
    case: EdgeCase,
    /// Under the edge load.
    glued: EdgeResult,
    /// N for a mm of droop.
    stiffness: f64,
}

/// Figures of one side, `next` being the neighbours' side.
fn side(a: &Assembly, s: &Assumptions, one: &Side, next: Option<&Side>, out: &mut Vec<Figure>) -> Option<()> {
    let (slides, c, glued) = (one.slides, &one.case, one.glued);
    let m = &a.mechanism;
    let (id, what, slide_part, post_part) = match slides.law {
        Law::Panel => ("panel", "Panel", "panel-slide", "panel-post"),
        Law::Leaf => ("leaf", "Leaf", "leaf-slide", "leaf-riser"),
    };
    let (slide_part, post_part) = (a.part(slide_part)?, a.part(post_part)?);
    let slide = s.material(&slide_part.material);
    let strength = slide.flat_strength(slides.section.1);
    let working = strength / slide.factor(s.wood_factor, s.steel_factor);
    let limit = s.droop_share * c.edge;
    let over = c.overhang();
    let stiff = format!("stiffness: {}", slide.source());
    let strong = format!("{BEAMS}; strength: {}", slide.source());
    let name = |tail: &str| format!("edge.{id}.{tail}");
    if let Some(next) = next {
        let (k, k2) = (one.stiffness, next.stiffness);
        let share = k / (k + 2.0 * k2);
        let droop = c.load / (k + 2.0 * k2);
        let both = |f: Figure| {
            common(f, c).given("k, this edge for itself", k, "N/mm").given("k2, each neighbour", k2, "N/mm")
        };
        out.push(
            both(Figure::new(
                name("droop-shared"),
                format!("{what} edge, droop, neighbours sharing"),
                droop,
                "mm",
            ))
            .at_most(limit)
            .by(
                "P/(k + 2·k2); the limit is a share of the open radius",
                format!("{STATICS}; {FRAME}; {stiff}; limit: common practice, no source"),
            )
            .says("Open, with all tongues home. This is how the table is meant to carry its load."),
        );
        out.push(
            both(Figure::new(name("slide-stress-shared"), format!("{what} slide, bending stress, neighbours sharing"), glued.slide_stress * share, "MPa"))
                .at_most(working)
                .given("share of the load that stays with this edge, k/(k + 2·k2)", share, "ratio")
                .by("σ = share·M/Z; limit = strength/factor", format!("{strong}; factor: common practice, no source"))
                .says("Cut slides with the face grain along them. Thicker slides, solid hardwood, or a longer stretch held in the guides help."),
        );
    }
    out.push(
        common(
            Figure::new(
                name("droop-glued"),
                format!("{what} edge, droop, no neighbours, posts glued"),
                glued.droop,
                "mm",
            ),
            c,
        )
        .given("E·I of the slide", c.slide.0 / 1e6, "N·m²")
        .given("height between slide and top, middles", c.apart, "mm")
        .by("frame of slide, posts and top piece", format!("{FRAME}; {stiff}"))
        .says("Half open, or with its tongues out: what sound, glued post joints still give."),
    );
    out.push(
        common(
            Figure::new(
                name("droop-alone"),
                format!("{what} edge, droop, slide alone"),
                over.deflection(c.slide.0),
                "mm",
            ),
            c,
        )
        .given("E·I of the slide", c.slide.0 / 1e6, "N·m²")
        .by("P·a²·(a + b)/(3·E·I)", format!("{BEAMS}; {stiff}"))
        .says("What is left if the post joints work loose. A slide twice as thick is eight times as stiff."),
    );
    for (tail, words, stress) in [
        ("slide-stress-glued", "no neighbours, posts glued", glued.slide_stress),
        ("slide-stress-alone", "slide alone", over.moment() / c.slide.2),
    ] {
        out.push(
            common(Figure::new(name(tail), format!("{what} slide, bending stress, {words}"), stress, "MPa"), c)
                .at_most(strength)
                .given("width of the slide", slides.section.0, "mm")
                .given("thickness of the slide", slides.section.1, "mm")
                .by("σ = M/Z, Z = width·thickness²/6; limit = strength", strong.clone())
                .says("Above the limit the slide may break when someone leans on an edge that stands alone, half open. Say so in the cautions, or make the slides thicker or of hardwood."),
        );
    }
    let droop = over.droop(slides.play);
    out.push(
        common(
            Figure::new(
                format!("edge.{id}.play"),
                format!("{what} edge, droop from the slide's play"),
                droop,
                "mm",
            ),
            c,
        )
        .at_most(limit)
        .given("s, free height of the slide's tongue in its groove", slides.play, "mm")
        .by("s·(a + b)/b", format!("{STATICS}; limit: common practice, no source"))
        .says("Comes on top of the bending; a closer groove lowers it."),
    );
    out.push(
        common(
            Figure::new(
                format!("edge.{id}.guide-outer"),
                format!("{what} slide, force on the plate at the guide's end"),
                over.outer(),
                "N",
            ),
            c,
        )
        .by("P·(a + b)/b", STATICS)
        .says("The slide presses down on the plate here; a hard strip let into the plate wears better."),
    );
    let rail = slides.section.0 / 2.0;
    let shear = over.inner() / (2.0 * rail.min(c.held.1 - c.held.0) * slides.tongue) * 1.5;
    let shear_limit = ROLLING * SHEAR / s.wood_factor;
    out.push(
        common(Figure::new(format!("edge.{id}.guide-inner"), format!("{what} slide, force lifting its inner end"), over.inner(), "N"), c)
            .by("P·a/b", STATICS)
            .says("The guides' grooves and screws hold this down: put the first screws of each guide near its inner end."),
    );
    out.push(
        common(Figure::new(format!("edge.{id}.tongue-shear"), format!("{what} slide, shear in its tongues"), shear, "MPa"), c)
            .at_most(shear_limit)
            .given("length that bears at each side, half the slide's width", rail, "mm")
            .given("tongue thickness", slides.tongue, "mm")
            .by(
                "1.5·(P·a/b)/(2·length·thickness)",
                format!("{BEAMS}; shear along the grain {SHEAR} MPa and {:.0} % of it across (Wood Handbook FPL-GTR-190, chapter 5), from memory; factor and length: common practice, no source", 100.0 * ROLLING),
            )
            .says("A tongue is pushed across its grain, where wood shears most easily. A longer hold in the guide, a thicker tongue or less load at the edge help; so does a tongue eased at its inner end, which bears over more of its length."),
    );
    let post = s.material(&post_part.material);
    out.push(
        common(
            Figure::new(
                format!("edge.{id}.post-stress"),
                format!("{what}, bending stress of its posts, glued tight"),
                glued.post_stress,
                "MPa",
            ),
            c,
        )
        .at_most(post.flat_strength(post_part.thickness) / post.factor(s.wood_factor, s.steel_factor))
        .given("height between slide and top, middles", c.apart, "mm")
        .by(
            "σ = M/Z from the frame",
            format!("{FRAME}; strength: {}; factor: common practice, no source", post.source()),
        )
        .says(
            "Above the limit, expect the joints to work loose and count on the figures of the slide alone.",
        ),
    );
    if slides.law == Law::Panel {
        let lay = &m.layout;
        // The corner farther from the slide's line, where skew makes them differ.
        let aside = lay.radius * trig::sin(lay.half_sector + lay.skew);
        out.push(
            Figure::new("edge.panel.corner", "Panel corner, force on the guides' sides", c.load * aside / slides.section.0, "N")
                .given("P, load at the corner", c.load, "N")
                .given("y, corner from the slide's line, R·sin h", aside, "mm")
                .given("width of the slide", slides.section.0, "mm")
                .by("P·y/width", STATICS)
                .says("A load on a corner twists the slide. The tongues share it with the neighbouring leaves: never lean on a panel that stands alone, half open."),
        );
    }
    Some(())
}

/// Shear strength of beech along the grain at 12 % moisture, MPa (Wood Handbook FPL-GTR-190, table 5-3, from memory).
const SHEAR: f64 = 13.9;
/// Least share of it that holds across the grain, where fibres roll on each other: the tongue's grain runs along the
/// slide, the push is square to it (Wood Handbook, chapter 5: 18 to 28 %, from memory).
const ROLLING: f64 = 0.18;

/// All figures of the open edge.
pub fn figures(a: &Assembly, s: &Assumptions, solids: &[Solid]) -> Vec<Figure> {
    let mut out = Vec::new();
    let sets: Vec<Slides> =
        [Law::Panel, Law::Leaf].into_iter().filter_map(|law| Slides::of(a, solids, law)).collect();
    let sides: Vec<Side> = sets
        .iter()
        .filter_map(|slides| {
            let case = EdgeCase::of(a, s, slides)?;
            // Solved for one newton, so that a load of nothing still has a stiffness.
            let unit = EdgeCase { load: 1.0, ..case.clone() }.solve(true)?;
            let glued = unit.times(case.load);
            Some(Side { slides, case, glued, stiffness: 1.0 / unit.droop })
        })
        .collect();
    for (i, one) in sides.iter().enumerate() {
        let next = if sides.len() == 2 { sides.get(1 - i) } else { None };
        let _ = side(a, s, one, next, &mut out);
    }
    out
}
