//! One drawing by itself, for a terminal.
//!
//! In: what to look at. Out: a page just large enough, or a sentence.
//! Always true: A3 or smaller; bad wishes give one sentence that names them and what would work.

use crate::draw::{centred, largest, size, strokes, style};
use crate::exploded::picture;
use crate::group::{Group, group_of};
use crate::relations::Relations;
use crate::scene::{Scene, Solid};
use crate::table::list;
use crate::{AssemblyOptions, stack, whole};
use turnleaf_geom::{trig, vec2::v};
use turnleaf_page::{Page, pt};
use turnleaf_views::{Corner, Options, Projection, project};

/// Which drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sight {
    /// Isometric view.
    Isometric,
    /// Exploded isometric view of one sub-assembly, closed.
    Exploded,
    /// Section through the stack.
    Section,
    /// Plan view.
    Plan,
}

impl Sight {
    /// All, with their keys.
    pub const ALL: [(&'static str, Sight); 4] = [
        ("iso", Sight::Isometric),
        ("exploded", Sight::Exploded),
        ("section", Sight::Section),
        ("plan", Sight::Plan),
    ];
    /// The drawing with a key, or a sentence.
    pub fn from_key(key: &str) -> Result<Sight, String> {
        Sight::ALL.into_iter().find(|s| s.0 == key).map(|s| s.1).ok_or_else(|| {
            let keys = Sight::ALL.map(|s| s.0).join(", ");
            format!("There is no view called {key}; there are {keys}.")
        })
    }
}

/// Room for the drawing, mm; margin round it, mm.
const ROOM: (f64, f64) = (260.0, 220.0);
const MARGIN: f64 = 8.0;

/// A drawing at a turn in degrees; `of` names parts, pieces or sub-assemblies, all when empty.
pub fn single(
    scene: &Scene,
    sight: Sight,
    turn: f64,
    of: &[String],
    o: &AssemblyOptions,
) -> Result<Page, String> {
    let a = scene.a;
    let whole_turn = trig::deg(a.mechanism.turn());
    if !turn.is_finite() || turn < -1e-3 || turn > whole_turn + 1e-3 {
        return Err(format!("This table turns from 0 to {whole_turn:.2} degrees; {turn} lies outside."));
    }
    let turn = trig::rad(turn).clamp(0.0, a.mechanism.turn());
    let group = |w: &str| Group::ALL.into_iter().find(|g| g.key() == w);
    let is = |p: &turnleaf_parts::Piece, w: &str| {
        p.id == w || a.part_of(p).id == w || group(w).is_some_and(|g| group_of(a, p) == g)
    };
    for w in of {
        if !a.pieces.iter().any(|p| is(p, w)) {
            let groups = Group::ALL.map(Group::key).join(", ");
            return Err(format!(
                "The table has no piece, part or sub-assembly called {w}; sub-assemblies are {groups}, and turnleaf pose lists the pieces."
            ));
        }
    }
    let st = style(o.sheet.paper);
    let pens = |_: &str| st.wide;
    let (view, title) = match sight {
        Sight::Exploded => return exploded(scene, turn, of, o, &group),
        Sight::Section => {
            if !of.is_empty() {
                return Err("A section shows the whole table; leave out --of.".into());
            }
            let c = stack::cutting(scene, turn);
            let scale = fit(&c.view);
            let at = centred(&c.view, scale, middle());
            let items = stack::section_items(&c, &at, &st);
            return Ok(page("section", items));
        }
        Sight::Isometric => (Projection::Isometric(Corner::FrontRight), "isometric"),
        Sight::Plan => (Projection::Plan, "plan"),
    };
    let bodies: Vec<_> = if of.is_empty() {
        whole::bodies(scene, turn)
    } else {
        let wanted = a.pieces.iter().filter(|p| of.iter().any(|w| is(p, w)));
        wanted.flat_map(|p| scene.bodies(p, turn, Solid::Whole)).collect()
    };
    let seen = project(&bodies, &[], &view, &Options { hidden: false, smooth: false });
    let at = centred(&seen, fit(&seen), middle());
    Ok(page(title, strokes(&seen, &at, title, st.narrow, &pens)))
}

fn middle() -> turnleaf_page::Pt {
    pt(MARGIN + ROOM.0 / 2.0, MARGIN + ROOM.1 / 2.0)
}

fn fit(view: &turnleaf_views::View) -> f64 {
    let s = size(view);
    let free = (ROOM.0 / s.x.max(1e-6)).min(ROOM.1 / s.y.max(1e-6));
    largest(s, v(ROOM.0, ROOM.1)).map_or(free, |q| q.factor())
}

fn page(id: &str, items: Vec<turnleaf_page::Item>) -> Page {
    Page {
        width: ROOM.0 + 2.0 * MARGIN,
        height: ROOM.1 + 2.0 * MARGIN,
        label: "1".into(),
        id: format!("drawing/{id}"),
        title: id.into(),
        items,
    }
}

fn exploded(
    scene: &Scene,
    turn: f64,
    of: &[String],
    o: &AssemblyOptions,
    group: &dyn Fn(&str) -> Option<Group>,
) -> Result<Page, String> {
    if turn != 0.0 {
        return Err("Exploded views show the closed table; leave out --turn or give 0.".into());
    }
    let chosen = match of {
        [] => Some(Group::Rising),
        [one] => group(one),
        _ => None,
    };
    let Some(g) = chosen else {
        let groups = Group::ALL.map(Group::key).join(", ");
        return Err(format!("An exploded view is of one sub-assembly: --of with one of {groups}."));
    };
    let r = Relations::of(scene.a);
    let zone = (pt(MARGIN, MARGIN), pt(MARGIN + ROOM.0, MARGIN + ROOM.1));
    let (mut items, found) = picture(scene, &r, g, o, zone);
    if found.is_empty() {
        return Err(format!("This table has no pieces in the sub-assembly {}.", g.key()));
    }
    let heads = ["drawing-item", "drawing-name", "drawing-count"].map(|k| (o.say)(k, &[]));
    let heads = [heads[0].as_str(), heads[1].as_str(), heads[2].as_str()];
    let table = list(crate::exploded::id_of(g), &found, heads, ROOM.0);
    items.extend(table.at(MARGIN, 2.0 * MARGIN + ROOM.1));
    let mut page = page("exploded", items);
    page.height += table.height + MARGIN;
    Ok(page)
}
