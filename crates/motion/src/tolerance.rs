//! Tolerances, worked out from the clearances that the checks found.
//!
//! In: an assembly and its proof. Out: [`Chain`]s: what a clearance leaves over, and the printed sizes it is shared
//! among.
//! Always true: in every chain the half-widths, each times how much of it reaches the gap, add up to no more than
//! the room, so that the worst case still keeps what the check asks for (arithmetical stack, no luck counted on).
//!
//! Rules, each with its room:
//! - A pair that is to *fit* (the check passes down to half its play) leaves the rest of its proved clearance.
//! - A tongue in a groove leaves half of the difference of their drawn sizes: the other half stays as play.
//! - An arm hangs in two pins; together their play takes up what centres, pins and holes are off.
//! - Every pair not meant to fit keeps at least [`CLEAR`]: half of that for each of the two parts is the general
//!   tolerance, and a size in a chain whose share is no finer than that needs none of its own.

use crate::expect::{CLEAR, Expect};
use crate::proof::{FAR, Proof};
use turnleaf_parts::{Assembly, FeatureKind};

/// A printed size in a chain.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// The part.
    pub part: String,
    /// How the dimension's identifier begins after "PART/dim/".
    pub begins: String,
    /// How it ends.
    pub ends: &'static str,
    /// How much of its deviation reaches the gap: 0.5 for a width or a diameter, of which each side has half.
    pub reaches: f64,
    /// Half-width of its tolerance, mm.
    pub half: f64,
}

/// A clearance and what may take from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    /// Stable identifier: "slide.panel", "arm.leaf", "tongue.top.width", …
    pub id: String,
    /// What the worst case may take, mm.
    pub room: f64,
    /// The share of it kept for setting parts by hand, mm.
    pub setting: f64,
    /// Printed sizes.
    pub links: Vec<Link>,
}

impl Chain {
    /// The worst case, mm: what all links and the setting take together.
    pub fn worst(&self) -> f64 {
        self.setting + self.links.iter().map(|l| l.reaches * l.half).sum::<f64>()
    }
}

/// The general tolerance, mm: either of two parts may take half of the least clearance asked of every pair.
pub const GENERAL: f64 = CLEAR / 2.0;

/// Whether a half-width is finer than the general one by more than a hundredth, the step it is printed in.
pub fn finer(half: f64) -> bool {
    half < GENERAL - 0.01
}

/// A link before it has a share: part, beginning, ending, reach.
type Wish<'a> = (&'a str, &'a str, &'static str, f64);

/// Shares the room equally among the links and, where parts are set by hand, the setting as one more.
fn shared(id: String, room: f64, by_hand: bool, wishes: &[Wish]) -> Option<Chain> {
    if !(room > 0.0 && room.is_finite()) || wishes.is_empty() {
        return None;
    }
    let each = room / (wishes.len() + usize::from(by_hand)) as f64;
    let link =
        |w: &Wish| Link { part: w.0.into(), begins: w.1.into(), ends: w.2, reaches: w.3, half: each / w.3 };
    let setting = if by_hand { each } else { 0.0 };
    Some(Chain { id, room, setting, links: wishes.iter().map(link).collect() })
}

/// What a proved pair leaves over, mm.
fn left(proof: &Proof, a: &str, b: &str) -> Option<f64> {
    let r = proof.pairs.iter().find(|r| (r.a == a && r.b == b) || (r.a == b && r.b == a))?;
    let limit = match r.expect {
        Expect::Fit(f) => f / 2.0,
        Expect::Clear(c) => c,
        Expect::Touch | Expect::Joined(_) => return None,
    };
    (r.distance < FAR).then(|| r.distance.min(r.at_least) - limit)
}

/// Width of the band and depth of a part's grooves, or of its tongues.
fn bands(a: &Assembly, part: &str, tongues: bool) -> Vec<(f64, f64)> {
    let features = a.part(part).map(|p| p.features.as_slice()).unwrap_or_default();
    let found = features.iter().filter_map(|f| match f.kind {
        FeatureKind::EdgeGroove { depth, z, .. } if !tongues => Some((z.1 - z.0, depth)),
        FeatureKind::EdgeTongue { depth, z, .. } if tongues => Some((z.1 - z.0, depth)),
        _ => None,
    });
    found.collect()
}

/// Chains of the tongues of some parts in the grooves of others: across and in depth.
fn tongues(a: &Assembly, id: &str, parts: &[&str]) -> Vec<Chain> {
    let all = |tongue: bool| parts.iter().flat_map(|p| bands(a, p, tongue)).collect::<Vec<_>>();
    let (grooves, tongues) = (all(false), all(true));
    if grooves.is_empty() || tongues.is_empty() {
        return Vec::new();
    }
    let play = |pick: fn(&(f64, f64)) -> f64| {
        let least = grooves.iter().map(pick).fold(f64::INFINITY, f64::min);
        least - tongues.iter().map(pick).fold(0.0, f64::max)
    };
    let mut out = Vec::new();
    for (key, play, ends) in [("width", play(|b| b.0), "/width"), ("depth", play(|b| b.1), "/depth")] {
        let room = play / 2.0;
        // One groove meets one tongue at a time, whichever parts they are on.
        let half = room / 2.0;
        let links = parts.iter().flat_map(|p| {
            let of =
                |begins: &str| Link { part: (*p).into(), begins: begins.into(), ends, reaches: 1.0, half };
            [(false, "groove"), (true, "tongue")]
                .into_iter()
                .filter(|k| !bands(a, p, k.0).is_empty())
                .map(move |k| of(k.1))
                .collect::<Vec<_>>()
        });
        let mut links: Vec<Link> = links.collect();
        if !(room > 0.0 && room.is_finite()) {
            continue;
        }
        // Each pair is a chain of its own with the same room.
        links.dedup();
        for g in links.iter().filter(|l| l.begins == "groove") {
            for t in links.iter().filter(|l| l.begins == "tongue") {
                let id = format!("tongue.{id}.{key}.{}.{}", g.part, t.part);
                out.push(Chain { id, room, setting: 0.0, links: vec![g.clone(), t.clone()] });
            }
        }
    }
    out
}

/// All chains of a table.
pub fn chains(a: &Assembly, proof: &Proof) -> Vec<Chain> {
    let mut out = tongues(a, "top", &["panel", "leaf", "star"]);
    for what in ["panel", "leaf"] {
        let (slide, guide) = (format!("{what}-slide"), format!("{what}-guide"));
        let (arm, pin, crank) =
            (format!("{what}-arm"), format!("{what}-slide-pin"), format!("{what}-crank-pin"));
        out.extend(tongues(a, what, &[&slide, &guide]));
        if let Some(room) = left(proof, &slide, &guide) {
            let wishes: [Wish; 1] = [(&slide, "width/", "", 0.5)];
            out.extend(shared(format!("slide.{what}"), room, true, &wishes));
        }
        // Both ends of an arm have play along it.
        if let (Some(near), Some(far)) = (left(proof, &arm, &crank), left(proof, &arm, &pin)) {
            // The plies of the base are drilled together: whichever is measured counts once.
            for ply in ["base-upper-ply", "base-lower-ply"] {
                let wishes: [Wish; 5] = [
                    (&arm, "pin-to-pin", "", 1.0),
                    (&arm, "crank-pin/diameter", "", 0.5),
                    (&arm, "slide-pin/diameter", "", 0.5),
                    (ply, &crank, "/radius", 1.0),
                    (&slide, "pin/", "x", 1.0),
                ];
                out.extend(shared(format!("arm.{what}.{ply}"), near + far, false, &wishes));
            }
        }
        if let Some(room) = left(proof, &pin, "cam-plate") {
            let slot = format!("{what}-slot");
            let wishes: [Wish; 1] = [("cam-plate", &slot, "/width", 0.5)];
            out.extend(shared(format!("cam.{what}"), room, true, &wishes));
        }
        // Ends of the slots that pins run in: the pin's place and the stops take the other share.
        for plate in ["turning-plate", "rising-plate"] {
            let opening = format!("{what}-pin/");
            let runs = [pin.as_str(), "leaf-sleeve"];
            let room = runs.iter().filter_map(|r| left(proof, r, plate)).fold(f64::INFINITY, f64::min);
            let wishes: [Wish; 1] = [(plate, &opening, "radius", 1.0)];
            out.extend(shared(format!("slot.{what}.{plate}"), room, true, &wishes));
        }
    }
    // A wheel between the walls of its pocket: half its gap stays, half is shared with how the roller is set.
    let gap =
        turnleaf_parts::build::base_pocket_half_width(&a.mechanism) - a.mechanism.members.wheel_width / 2.0;
    for ply in ["base-upper-ply", "base-lower-ply"] {
        for side in ["inner-radius", "outer-radius"] {
            let wishes: [Wish; 1] = [(ply, "pocket/", side, 1.0)];
            out.extend(shared(format!("pocket.{ply}.{side}"), gap / 2.0, true, &wishes));
        }
    }
    out
}

/// The tolerance of a dimension by its identifier, mm: the finest share of all chains it is in; none where that is
/// no finer than the general one.
pub fn half_width(chains: &[Chain], dimension: &str) -> Option<f64> {
    let (part, rest) = dimension.split_once("/dim/")?;
    let links = chains.iter().flat_map(|c| &c.links);
    let mine = links.filter(|l| l.part == part && rest.starts_with(&l.begins) && rest.ends_with(l.ends));
    let finest = mine.map(|l| l.half).fold(f64::INFINITY, f64::min);
    finer(finest).then_some(finest)
}
