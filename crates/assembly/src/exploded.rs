//! Exploded views of the sub-assemblies, with item lists.
//!
//! In: a scene, relations. Out: a sheet for each group.
//! Always true: pieces move straight up, except what a groove holds, which moves out along its own line, with
//! everything that slides with it; what stands in another's way upward is lifted higher than that one, pins
//! higher than what they are fitted in; numbers run from the top of the view down.

use crate::balloon::{self, MARGIN, Wish};
use crate::draw::{figure_group, part_of, points, size, strokes, style};
use crate::group::{Group, group_of};
use crate::relations::Relations;
use crate::scene::{Scene, TURNED};
use crate::table::{Row, list};
use crate::{AssemblyOptions, Drawing};
use turnleaf_geom::{Vec2, vec2::v};
use turnleaf_page::{Item, Paper, Pt, pt};
use turnleaf_parts::{Motion, Piece};
use turnleaf_sheet::drawing_space;
use turnleaf_views::paper::Placement;
use turnleaf_views::{Body, Corner, EdgeKind, Options, Projection, Trace, Vec3, View, project, v3};

/// How a kind is moved in an exploded view.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shift {
    /// Level, from 0.
    pub level: usize,
    /// The kind it is drawn away from, if any.
    pub host: Option<usize>,
    /// Whether it moves out along its line.
    pub out: bool,
    /// How often it moves away from the axis, for pieces joined side by side.
    pub aside: usize,
}

/// Kinds of a group and how each moves.
pub fn shifts(scene: &Scene, r: &Relations, group: Group) -> Vec<(usize, Shift)> {
    let a = scene.a;
    let kinds: Vec<usize> = (0..a.parts.len())
        .filter(|k| a.pieces.iter().find(|p| p.part == *k).is_some_and(|p| group_of(a, p) == group))
        .collect();
    let captive = |k: usize| r.slides[k] && kinds.iter().any(|&o| r.captive(k, o));
    let out = kinds.iter().any(|&k| captive(k));
    // Kinds held in each other's grooves share a level: each is known by the first of them.
    let lead = |k: usize| kinds.iter().copied().find(|&o| o == k || r.captive(k, o)).unwrap_or(k).min(k);
    let below = |k: usize, o: usize| {
        // o lies lower than k: k stands in its way, or is fitted in it.
        let pinned = |p: usize, h: usize| {
            r.through(p, h) && !r.blocks_up(p, h) && (r.touch(p, h) || r.bottom[p] > r.bottom[h] + 0.1)
        };
        (r.blocks_up(o, k) && !r.captive(o, k)) || pinned(k, o) || (r.through(o, k) && !pinned(o, k))
    };
    let mut level: Vec<usize> = vec![0; a.parts.len()];
    // Longest chains; a circle of kinds in each other's way ends at the number of kinds.
    for _ in 0..kinds.len() {
        let mut moved = false;
        for &k in &kinds {
            for &o in &kinds {
                if lead(k) != lead(o)
                    && below(k, o)
                    && level[lead(k)] <= level[lead(o)]
                    && level[lead(o)] < kinds.len()
                {
                    level[lead(k)] = level[lead(o)] + 1;
                    moved = true;
                }
            }
        }
        if !moved {
            break;
        }
    }
    // What touches nothing and stands in nobody's way (a shaft in openings wider than itself) goes in last.
    for &k in &kinds {
        let related = kinds.iter().any(|&o| o != k && (below(k, o) || below(o, k) || r.captive(k, o)));
        if !related
            && kinds.iter().any(|&o| r.top[o] > r.bottom[k] + 0.1 && r.top[o] <= r.top[k] + 0.1 && o != k)
        {
            let lower = kinds.iter().filter(|&&o| o != k && r.top[o] <= r.top[k] + 0.1);
            let enclosed = lower.clone().any(|&o| level[lead(o)] > 0);
            if enclosed {
                level[k] = 1 + lower.map(|&o| level[lead(o)]).max().unwrap_or(0);
            }
        }
    }
    let mut found = kinds
        .iter()
        .map(|&k| {
            let mine = level[lead(k)];
            let host = kinds
                .iter()
                .copied()
                .filter(|&o| lead(o) != lead(k) && level[lead(o)] < mine && below(k, o))
                .max_by(|x, y| level[lead(*x)].cmp(&level[lead(*y)]).then(r.area[*x].total_cmp(&r.area[*y])))
                .or_else(|| kinds.iter().copied().find(|&o| o != k && r.captive(k, o)));
            (k, Shift { level: mine, host, out: out && r.slides[k], aside: 0 })
        })
        .collect::<Vec<_>>();
    if found.iter().all(|s| s.1.level == 0) {
        side_by_side(scene, r, &mut found);
    }
    found
}

/// How far from the axis the middle of a kind's first piece lies, mm.
fn off_axis(scene: &Scene, kind: usize) -> f64 {
    let first = scene.a.pieces.iter().find(|p| p.part == kind);
    first.map_or(0.0, |p| foot(scene, p, 0.0).xy().norm())
}

/// Nothing lies upon anything: what touches a kind nearer the axis is drawn away from it.
fn side_by_side(scene: &Scene, r: &Relations, found: &mut [(usize, Shift)]) {
    let mut order: Vec<usize> = (0..found.len()).collect();
    order
        .sort_by(|x, y| off_axis(scene, found[*x].0).total_cmp(&off_axis(scene, found[*y].0)).then(x.cmp(y)));
    for (i, &at) in order.iter().enumerate() {
        let nearer = order[..i].iter().filter(|&&o| r.touch(found[at].0, found[o].0));
        let host = nearer.max_by_key(|o| found[**o].1.aside).copied();
        if let Some(h) = host {
            found[at].1.aside = found[h].1.aside + 1;
            found[at].1.host = Some(found[h].0);
        }
    }
}

/// How far a kind that moves out moves, in its slide's lengths: enough to show most of it, little enough to
/// keep the view small.
const PULL: f64 = 0.55;
/// How far pieces joined side by side are drawn apart, of the group's reach.
const ASIDE: f64 = 0.3;

/// An exploded view, and the order of its kinds from the top.
pub struct Exploded {
    /// The view.
    pub view: View,
    /// Kinds from the top down, highest level first: item 1 is the first.
    pub kinds: Vec<usize>,
}

/// How often the levels may be spread further until every kind shows, and by how much each time.
const SPREADS: usize = 5;
const WIDER: f64 = 1.45;

/// The view of a group from a corner for a room of this width and height on paper.
pub fn exploded(scene: &Scene, r: &Relations, group: Group, room: Vec2) -> Exploded {
    let mut wider = 1.0;
    let mut out = at_spread(scene, r, group, room, wider);
    for _ in 0..SPREADS {
        let shown = |k: &usize| {
            let id = &scene.a.parts[*k].id;
            out.view.visible.iter().any(|s| s.kind != EdgeKind::Trace && part_of(out.view.id(s)) == id)
        };
        if out.kinds.iter().all(shown) {
            break;
        }
        wider *= WIDER;
        out = at_spread(scene, r, group, room, wider);
    }
    out
}

fn at_spread(scene: &Scene, r: &Relations, group: Group, room: Vec2, wider: f64) -> Exploded {
    let a = scene.a;
    let shifts = shifts(scene, r, group);
    let shift = |k: usize| shifts.iter().find(|s| s.0 == k).map(|s| s.1);
    let longest = shifts
        .iter()
        .filter(|s| s.1.out)
        .map(|s| {
            let (lo, hi) = a.parts[s.0].outline.bounds();
            hi.x - lo.x
        })
        .fold(0.0, f64::max);
    let pull = longest * PULL;
    let members: Vec<&Piece> = a.pieces.iter().filter(|p| shift(p.part).is_some()).collect();
    // What the view will take: a circle about the axis, seen 35.26° from above.
    let reach = members
        .iter()
        .map(|p| {
            let far = a.part_of(p).outline.moved(&a.place(p, 0.0).pose).reach();
            far + match shift(p.part) {
                Some(s) if s.out => pull,
                Some(s) => ASIDE * far * s.aside as f64,
                None => 0.0,
            }
        })
        .fold(1.0, f64::max);
    let (low, high) = shifts
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), s| (l.min(r.bottom[s.0]), h.max(r.top[s.0])));
    let levels = shifts.iter().map(|s| s.1.level).max().unwrap_or(0);
    let tilt = (2.0_f64 / 3.0).sqrt();
    let flat = 2.0 * reach / 3.0_f64.sqrt() + (high - low) * tilt;
    // Levels as far apart as the room allows at the scale its width gives, within reason.
    let want = (2.0 * reach * room.y / room.x - flat) / (tilt * levels.max(1) as f64);
    let step = want.clamp(0.14 * reach, 1.3 * reach) * wider;
    let offset = |p: &Piece, s: &Shift| {
        let up = v3(0.0, 0.0, step * s.level as f64);
        match p.motion {
            _ if s.aside > 0 => {
                let way = foot(scene, p, TURNED).xy().unit() * (ASIDE * reach * s.aside as f64);
                v3(way.x, way.y, 0.0)
            }
            Motion::Sliding { line, .. } if s.out => {
                let way = Vec2::polar(pull, line + TURNED);
                up + v3(way.x, way.y, 0.0)
            }
            _ => up,
        }
    };
    let mut bodies: Vec<Body> = Vec::new();
    let mut traces: Vec<Trace> = Vec::new();
    for p in &members {
        let Some(s) = shift(p.part) else { continue };
        let by = offset(p, &s);
        bodies.extend(scene.isometric(p, 0.0).into_iter().map(|b| b.shifted(by)));
        let Some(h) = s.host.and_then(shift) else { continue };
        // The host's own shift along the same line, for what slides with it.
        let from = offset(p, &Shift { out: h.out && s.out, ..h });
        let foot = foot(scene, p, TURNED);
        if (by - from).norm() > 1.0 {
            traces.push(Trace { id: format!("{}/trace", p.id), from: foot + from, to: foot + by });
        }
    }
    let options = Options { hidden: false, smooth: false };
    let view = project(&bodies, &traces, &Projection::Isometric(Corner::FrontRight), &options);
    let mut kinds: Vec<usize> = shifts.iter().map(|s| s.0).collect();
    kinds.sort_by(|x, y| {
        let l = |k: usize| shift(k).map_or(0, |s| s.level);
        l(*y).cmp(&l(*x)).then(r.top[*y].total_cmp(&r.top[*x])).then(x.cmp(y))
    });
    Exploded { view, kinds }
}

/// The point of a piece from which its trace runs: the middle of its outline's box, at its lower face, the table
/// turned by `frame` radians.
fn foot(scene: &Scene, p: &Piece, frame: f64) -> Vec3 {
    let place = scene.a.place(p, 0.0);
    let (lo, hi) = scene.a.part_of(p).outline.bounds();
    let at = place.pose.apply((lo + hi) * 0.5).rot(frame);
    v3(at.x, at.y, place.z)
}

/// Space between the view and the list, mm.
const GAP: f64 = 5.0;

/// The sheets of all groups that have pieces.
pub(crate) fn sheets(scene: &Scene, r: &Relations, o: &AssemblyOptions) -> Vec<Drawing> {
    Group::ALL.into_iter().filter_map(|g| sheet(scene, r, g, o)).collect()
}

const IDS: [(Group, &str); 5] = [
    (Group::Top, "exploded-top"),
    (Group::Rising, "exploded-rising"),
    (Group::Turning, "exploded-turning"),
    (Group::Base, "exploded-base"),
    (Group::Frame, "exploded-frame"),
];

/// The identifier of a group's sheet.
pub fn id_of(group: Group) -> &'static str {
    IDS.iter().find(|i| i.0 == group).map_or("exploded", |i| i.1)
}

fn sheet(scene: &Scene, r: &Relations, group: Group, o: &AssemblyOptions) -> Option<Drawing> {
    let id = id_of(group);
    let landscape = !matches!(o.sheet.paper, Paper::A4 | Paper::Letter);
    let (lo, hi) = drawing_space(o.sheet, landscape);
    let kinds = shifts(scene, r, group).len();
    if kinds == 0 {
        return None;
    }
    let heads = ["drawing-item", "drawing-name", "drawing-count"].map(|k| (o.say)(k, &[]));
    let heads = [heads[0].as_str(), heads[1].as_str(), heads[2].as_str()];
    // The list's height depends on its number of rows alone.
    let blank = |n: usize| {
        let row = |i| Row { number: i, id: String::new(), name: String::new(), count: 0 };
        list(id, &(0..n).map(row).collect::<Vec<_>>(), heads, hi.x - lo.x)
    };
    let high = blank(kinds).height;
    let zone = (lo, pt(hi.x, hi.y - high - GAP));
    let (items, rows) = picture(scene, r, group, o, zone);
    let table = list(id, &rows, heads, hi.x - lo.x);
    let title = (o.say)(&format!("drawing-{id}"), &[]);
    let names: Vec<String> = rows.iter().map(|r| format!("{} {}", r.number, r.name)).collect();
    let alt = (o.say)("drawing-exploded-alt", &[("title", title.clone()), ("items", names.join(", "))]);
    let mut all = vec![figure_group(&format!("figure/{id}"), alt, items)];
    all.extend(table.at(hi.x - table.width, hi.y - table.height));
    Some(Drawing { id, title, landscape, scale: (o.say)("drawing-unscaled", &[]), items: all })
}

/// The picture with its balloons in a zone, and the rows of its list.
pub fn picture(
    scene: &Scene,
    r: &Relations,
    group: Group,
    o: &AssemblyOptions,
    zone: (Pt, Pt),
) -> (Vec<Item>, Vec<Row>) {
    let st = style(o.sheet.paper);
    let (lo, hi) = zone;
    let room = v(hi.x - lo.x - 2.0 * MARGIN, hi.y - lo.y - 2.0);
    let e = exploded(scene, r, group, room);
    let s = size(&e.view);
    let scale = (room.x / s.x.max(1.0)).min(room.y / s.y.max(1.0)).min(0.5);
    let at = crate::draw::centred(&e.view, scale, pt((lo.x + hi.x) / 2.0, (lo.y + hi.y) / 2.0));
    let id = id_of(group);
    let mut items = strokes(&e.view, &at, id, st.narrow, &|_| st.wide * 0.7);
    let rows: Vec<Row> = rows(scene, o, &e.kinds);
    items.extend(balloons(&e.view, &at, &rows, zone, id, &st));
    (items, rows)
}

/// Rows of a list for kinds in their order.
pub fn rows(scene: &Scene, o: &AssemblyOptions, kinds: &[usize]) -> Vec<Row> {
    let row = |(i, k): (usize, &usize)| {
        let part = &scene.a.parts[*k];
        let count = scene.a.pieces.iter().filter(|p| p.part == *k).count();
        Row { number: i + 1, id: part.id.clone(), name: (o.name)(part), count }
    };
    kinds.iter().enumerate().map(row).collect()
}

/// Balloons of the rows in the margins of a zone.
pub fn balloons(
    view: &View,
    at: &Placement,
    rows: &[Row],
    zone: (Pt, Pt),
    id: &str,
    st: &turnleaf_dimension::place::pen::Style,
) -> Vec<Item> {
    let found = points(view, at);
    let wishes: Vec<Wish> = rows
        .iter()
        .map(|r| Wish {
            number: r.number,
            id: r.id.clone(),
            points: found.get(&r.id).cloned().unwrap_or_default(),
        })
        .collect();
    balloon::place(&wishes, zone).iter().map(|b| balloon::items(b, id, st)).collect()
}
