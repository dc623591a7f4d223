//! Cutting layouts: true part outlines nested on stock sheets.
//!
//! In: a [`Request`]: parts with count, material and grain, sheets on hand, kerf, margin. Out: [`Layouts`]: for each
//! sheet the parts in their places, bands to rip, the fill; and a sentence for what found no place.
//! Always true: every layout that comes back was checked on the true arcs by [`verify::verify`]; the work is counted
//! and chance is a fixed sequence, so the same request gives the same layouts everywhere; parts are never mirrored.
//!
//! How: no-fit areas of convex pieces ([`nofit`]), the best touching place for each part in turn (`spot`), orders
//! bettered by swaps ([`order`]), then sheets pressed together by weighed overlaps (`press`). Openings in parts
//! are not used.
//!
//! ```
//! use turnleaf_geom::{Ring, vec2::v};
//! use turnleaf_nest::{Effort, Grain, PartIn, Request, Sheet, Turns, nest};
//! // A sheet of 1220 × 2440 mm holds two by four squares of 500 mm.
//! let square = PartIn {
//!     id: "square".into(),
//!     name: "Square".into(),
//!     stock: "Plywood 18".into(),
//!     outline: Ring::rect(v(0.0, 0.0), v(500.0, 500.0)),
//!     count: 8,
//!     grain: Grain::Along,
//!     turns: Turns::Fixed,
//! };
//! let sheets = vec![Sheet::of("1220 × 2440 mm", 1220.0, 2440.0)];
//! let request = Request { parts: vec![square], sheets, kerf: 3.0, margin: 10.0, effort: Effort::QUICK };
//! let found = nest(&request)?;
//! assert_eq!((found.sheets.len(), found.left.len()), (1, 0));
//! assert!((found.sheets[0].fill - 100.0 * 8.0 * 0.25 / (1.22 * 2.44)).abs() < 1e-9);
//! # Ok::<(), String>(())
//! ```

mod bands;
mod fixed;
pub mod nofit;
pub mod order;
pub mod outline;
pub mod picture;
mod press;
pub mod request;
pub mod shapes;
mod spot;
pub mod table;
pub mod verify;

pub use request::{Band, Effort, Grain, Layout, Layouts, Left, PartIn, Placement, Request, Sheet, Turns};

use order::{Kind, Pack, Task};
use shapes::Shapes;
use spot::Bin;
use turnleaf_geom::{check, vec2::v};
use turnleaf_units::{DecimalSign, print_decimal};

/// Nests all parts. An error is a sentence about a field of the request that cannot be used.
pub fn nest(request: &Request) -> Result<Layouts, String> {
    check_request(request)?;
    let mut stocks: Vec<&str> = Vec::new();
    for part in request.parts.iter().filter(|p| p.count > 0) {
        if !stocks.contains(&part.stock.as_str()) {
            stocks.push(&part.stock);
        }
    }
    let mut out = Layouts::default();
    for stock in stocks {
        one_stock(request, stock, &mut out);
    }
    Ok(out)
}

fn mm(x: f64) -> String {
    print_decimal(x, 1, DecimalSign::Point).unwrap_or_else(|| "?".into())
}

fn check_request(request: &Request) -> Result<(), String> {
    let length = |name: &str, x: f64, most: f64| {
        if x.is_finite() && (0.0..=most).contains(&x) {
            Ok(())
        } else {
            Err(format!("The {name} must be a length from 0 to {} mm, such as {name} 3 mm.", mm(most)))
        }
    };
    length("kerf", request.kerf, 100.0)?;
    length("margin", request.margin, 500.0)?;
    if request.sheets.is_empty() {
        return Err("No sheet on hand is named; name one, such as 1220 × 2440 mm.".into());
    }
    for sheet in &request.sheets {
        let fine = |x: f64| x.is_finite() && x > 2.0 * request.margin && x <= 100_000.0;
        if !fine(sheet.length) || !fine(sheet.width) {
            return Err(format!(
                "Sheet {} must be longer and wider than twice the margin ({} mm) and at most 100 m long.",
                sheet.name,
                mm(2.0 * request.margin)
            ));
        }
    }
    for part in &request.parts {
        check::check_ring(&part.outline)
            .map_err(|e| format!("The outline of {} cannot be nested: {}", part.name, e.sentence))?;
        if part.count > 10_000 {
            return Err(format!(
                "{} of {} are asked for; at most 10000 can be nested.",
                part.count, part.name
            ));
        }
    }
    Ok(())
}

fn one_stock(request: &Request, stock: &str, out: &mut Layouts) {
    let indices: Vec<usize> = (0..request.parts.len())
        .filter(|&i| request.parts[i].stock == stock && request.parts[i].count > 0)
        .collect();
    let chosen: Vec<&PartIn> = indices.iter().map(|&i| &request.parts[i]).collect();
    let margin = request.margin;
    let kinds: Vec<Kind> = (request.sheets.iter().enumerate())
        .filter(|(_, s)| s.count != Some(0) && s.stock.as_ref().is_none_or(|name| name == stock))
        .map(|(sheet, s)| Kind {
            sheet,
            bin: Bin { lo: v(margin, margin), hi: v(s.length - margin, s.width - margin) },
            count: s.count.unwrap_or(usize::MAX),
            area: s.length * s.width,
        })
        .collect();
    let size = request.sheets.iter().map(|s| s.length.max(s.width)).fold(1.0, f64::max);
    let shapes = Shapes::new(&chosen, request.kerf, size);
    let mut parts = Vec::new();
    for (i, part) in chosen.iter().enumerate() {
        let fits =
            kinds.iter().any(|k| shapes.of[i].iter().any(|&one| spot::room(&shapes, &k.bin, one).is_some()));
        if fits {
            parts.extend(std::iter::repeat_n(i, part.count));
        } else {
            let sentence = too_large(part, &shapes, i, margin, kinds.is_empty());
            out.left.push(Left { part: indices[i], count: part.count, sentence });
        }
    }
    if parts.is_empty() {
        return;
    }
    let pack = pack(request, &shapes, &kinds, &parts);
    for (i, part) in chosen.iter().enumerate() {
        let count = pack.left.iter().filter(|&&p| p == i).count();
        if count > 0 {
            let sentence = shortage(part, count, &shapes, &kinds, request, &pack.left);
            out.left.push(Left { part: indices[i], count, sentence });
        }
    }
    let mut used = vec![0; chosen.len()];
    for filled in &pack.sheets {
        let mut layout = Layout {
            sheet: kinds[filled.kind].sheet,
            stock: stock.into(),
            placements: Vec::new(),
            bands: Vec::new(),
            fill: 0.0,
            used: filled.used(&shapes) + 2.0 * margin,
        };
        let mut put = |part: usize, placed: &spot::Placed, list: &mut Vec<Placement>| {
            used[part] += 1;
            let turned = shapes.variants[placed.variant].turned;
            list.push(Placement { part: indices[part], instance: used[part], turned, at: placed.at });
        };
        for band in &filled.bands {
            let first = layout.placements.len();
            for (part, placed) in &band.parts {
                put(*part, placed, &mut layout.placements);
            }
            let placements = (first..layout.placements.len()).collect();
            layout.bands.push(Band { from: band.from, to: band.to, placements });
            layout.used = request.sheets[layout.sheet].length;
        }
        for (part, placed) in filled.parts.iter().zip(&filled.placed) {
            put(*part, placed, &mut layout.placements);
        }
        // What the judge rejects is not handed out.
        while let Err(fault) = verify::verify(request, &layout) {
            let bad = layout.placements.remove(fault.placement);
            for band in &mut layout.bands {
                band.placements.retain(|&i| i != fault.placement);
                band.placements.iter_mut().for_each(|i| *i -= usize::from(*i > fault.placement));
            }
            let name = &request.parts[bad.part].name;
            let sentence =
                format!("One {name} was left out of a layout that failed its check: {}", fault.sentence);
            out.left.push(Left { part: bad.part, count: 1, sentence });
        }
        let area: f64 = layout.placements.iter().map(|p| request.parts[p.part].outline.area().abs()).sum();
        layout.fill = 100.0 * area / kinds[filled.kind].area;
        out.sheets.push(layout);
    }
}

/// The others being filled no more than this by all parts together, a sheet may be saved, and more rounds are tried.
const FULL: f64 = 0.72;
/// Most rounds of pressing.
const ROUNDS: u64 = 8;

/// With bands if that needs no more sheets than without, then pressed together.
fn pack(request: &Request, shapes: &Shapes, kinds: &[Kind], parts: &[usize]) -> Pack {
    let effort = request.effort;
    let plain = order::search(&Task { shapes, kinds, begun: &[], parts }, effort.orders.max(kinds.len()));
    let mut chosen = plain;
    if let Some(first) = chosen.sheets.first() {
        let (begun, rest) = bands::begin(shapes, kinds, first.kind, parts, request.kerf);
        if !begun.is_empty() {
            let task = Task { shapes, kinds, begun: &begun, parts: &rest };
            let ripped = order::search(&task, effort.orders.max(kinds.len()));
            if ripped.left.len() <= chosen.left.len() && ripped.area(kinds) <= chosen.area(kinds) + 1e-6 {
                chosen = ripped;
            }
        }
    }
    // Pressing pays where it may save a sheet or a good piece of one.
    let area: f64 = parts.iter().map(|&p| shapes.area[p]).sum();
    if area < order::WORTH * chosen.area(kinds) {
        return chosen;
    }
    let mut pack = press::press(chosen, shapes, effort.moves, 0);
    for round in 1..ROUNDS {
        let least = pack.sheets.iter().map(|s| kinds[s.kind].area).fold(f64::INFINITY, f64::min);
        if pack.sheets.len() < 2 || area > FULL * (pack.area(kinds) - least) {
            break;
        }
        pack = press::press(pack, shapes, effort.moves, round);
    }
    pack
}

fn too_large(part: &PartIn, shapes: &Shapes, i: usize, margin: f64, none: bool) -> String {
    let sizes = shapes.of[i].iter().map(|&k| shapes.variants[k].hi - shapes.variants[k].lo);
    let Some(least) = sizes.min_by(|a, b| (a.x * a.y).total_cmp(&(b.x * b.y))) else { return String::new() };
    let (x, y) = (least.x, least.y);
    // Rounded up to whole millimetres, so that the sheet named would really do.
    let up = |x: f64| mm((x + 2.0 * margin - 1e-6).ceil());
    let would = format!("a sheet of {} × {} mm (the first along the grain) would do", up(x), up(y));
    if none {
        format!("No sheet of {} is on hand for {}: {would}.", part.stock, part.name)
    } else {
        format!("{} ({} × {} mm) is too large for every sheet on hand: {would}.", part.name, mm(x), mm(y))
    }
}

fn shortage(
    part: &PartIn,
    count: usize,
    shapes: &Shapes,
    kinds: &[Kind],
    request: &Request,
    left: &[usize],
) -> String {
    // What all that is left would need if there were enough of one size.
    let many: Vec<Kind> = kinds.iter().map(|k| Kind { count: usize::MAX, ..k.clone() }).collect();
    let more = order::search(&Task { shapes, kinds: &many, begun: &[], parts: left }, many.len());
    let mut words = Vec::new();
    for kind in &many {
        let n = more.sheets.iter().filter(|s| many[s.kind].sheet == kind.sheet).count();
        if n > 0 {
            words.push(format!("{n} more of {}", request.sheets[kind.sheet].name));
        }
    }
    format!(
        "The sheets on hand are used up: {count} of {} found no place; {} would hold all that is left of {}.",
        part.name,
        words.join(" and "),
        part.stock
    )
}
