//! Cut files: what a machine is to do with a part, layer by layer.
//!
//! In: parts. Out: for each part one [`CutFile`], or two when it is cut from both faces.
//! Always true: outlines are closed rings with true arcs, exactly the part's; round holes are circles; a file
//! shows the part as it lies on the machine, so one cut from the lower face is turned over about the x axis;
//! what cannot be cut square to the face (grooves in edges) is only marked.
//!
//! A tongue stands proud of the outline: the part is cut out along the tongue's end, and what lies above and
//! below the tongue is a recess. So panels with tongues are cut from both faces.

use crate::from_sheet;
use turnleaf_diag::Diagnostic;
use turnleaf_geom::boolean::{BooleanOp, combine, union_all};
use turnleaf_geom::{Region, Ring, Vec2, measure::perimeter, vec2::v};
use turnleaf_parts::layers::{layers, opening};
use turnleaf_parts::{Depth, Face, Feature, FeatureKind, Part};

/// Largest round hole that is drilled, mm; larger ones are openings or recesses that happen to be round. Drills
/// for wood are sold up to about this (common practice, no source).
pub const DRILL_MOST: f64 = 50.0;

/// Which face lies up on the machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CutFace {
    /// The upper face: the part as drawn.
    Top,
    /// The lower face: the part turned over about its x axis.
    Bottom,
}

impl CutFace {
    /// "top", "bottom".
    pub fn key(self) -> &'static str {
        match self {
            CutFace::Top => "top",
            CutFace::Bottom => "bottom",
        }
    }
}

/// What is done along a layer's outlines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Operation {
    /// Cut out the part, tool outside the line.
    OutsideCut,
    /// Cut out an opening, tool inside the line.
    InsideCut,
    /// Clear to a depth, mm.
    Pocket {
        /// From the face that lies up, mm.
        depth: f64,
    },
    /// Drill, mm.
    Drill {
        /// Diameter, mm.
        diameter: f64,
        /// From the face that lies up; right through when `None`.
        depth: Option<f64>,
    },
    /// Draw only: what is made otherwise, or the outline for placing the part again.
    Mark,
}

/// A length for a layer's name: at most four decimals, no trailing zeros.
pub(crate) fn short(mm: f64) -> String {
    let text = format!("{mm:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

impl Operation {
    /// The layer's name: "outside-cut", "inside-cut", "pocket-6.5", "drill-8.5", "drill-22-deep-11.4", "mark".
    pub fn id(&self) -> String {
        match self {
            Operation::OutsideCut => "outside-cut".into(),
            Operation::InsideCut => "inside-cut".into(),
            Operation::Pocket { depth } => format!("pocket-{}", short(*depth)),
            Operation::Drill { diameter, depth: None } => format!("drill-{}", short(*diameter)),
            Operation::Drill { diameter, depth: Some(d) } => {
                format!("drill-{}-deep-{}", short(*diameter), short(*d))
            }
            Operation::Mark => "mark".into(),
        }
    }
    /// The word for its kind: "outside-cut", "inside-cut", "pocket", "drill", "mark".
    pub fn key(&self) -> &'static str {
        match self {
            Operation::OutsideCut => "outside-cut",
            Operation::InsideCut => "inside-cut",
            Operation::Pocket { .. } => "pocket",
            Operation::Drill { .. } => "drill",
            Operation::Mark => "mark",
        }
    }
    /// Depth from the face that lies up, mm; `None` right through or when nothing is cut.
    pub fn depth(&self) -> Option<f64> {
        match self {
            Operation::Pocket { depth } => Some(*depth),
            Operation::Drill { depth, .. } => *depth,
            _ => None,
        }
    }
    /// Order of work and of layers: marks, holes, recesses, openings, and the outline last, so that the part
    /// stays held by its sheet until then.
    fn rank(&self) -> u8 {
        match self {
            Operation::Mark => 0,
            Operation::Drill { .. } => 1,
            Operation::Pocket { .. } => 2,
            Operation::InsideCut => 3,
            Operation::OutsideCut => 4,
        }
    }
    /// Which of two layers is worked first.
    pub fn work_order(&self, other: &Operation) -> core::cmp::Ordering {
        (self.rank(), self.id()).cmp(&(other.rank(), other.id()))
    }
}

/// One closed shape.
#[derive(Clone, Debug, PartialEq)]
pub enum CutShape {
    /// A circle.
    Circle {
        /// Centre.
        centre: Vec2,
        /// Radius, mm.
        radius: f64,
    },
    /// A region: an outline, counter-clockwise, and what it leaves out.
    Region(Region),
}

impl CutShape {
    /// Area, mm².
    pub fn area(&self) -> f64 {
        match self {
            CutShape::Circle { radius, .. } => core::f64::consts::PI * radius * radius,
            CutShape::Region(r) => r.area(),
        }
    }
    /// Length of its outlines, mm.
    pub fn length(&self) -> f64 {
        match self {
            CutShape::Circle { radius, .. } => core::f64::consts::TAU * radius,
            CutShape::Region(r) => r.rings().map(perimeter).sum(),
        }
    }
    fn turned_over(&self) -> CutShape {
        match self {
            CutShape::Circle { centre, radius } => {
                CutShape::Circle { centre: v(centre.x, -centre.y), radius: *radius }
            }
            CutShape::Region(r) => CutShape::Region(Region {
                outer: r.outer.mirrored_y(),
                holes: r.holes.iter().map(Ring::mirrored_y).collect(),
            }),
        }
    }
    pub(crate) fn bounds(&self) -> (Vec2, Vec2) {
        match self {
            CutShape::Circle { centre, radius } => {
                (*centre - v(*radius, *radius), *centre + v(*radius, *radius))
            }
            CutShape::Region(r) => r.outer.bounds(),
        }
    }
}

/// Everything done in one way.
#[derive(Clone, Debug, PartialEq)]
pub struct CutLayer {
    /// What is done.
    pub operation: Operation,
    /// Along what.
    pub shapes: Vec<CutShape>,
}

/// What a machine does with a part from one face.
#[derive(Clone, Debug, PartialEq)]
pub struct CutFile {
    /// Name of the file without its ending: the part's identifier, and the face when there are two.
    pub name: String,
    /// Identifier of the part.
    pub part: String,
    /// Its name.
    pub title: String,
    /// How many the table needs.
    pub count: usize,
    /// Material as the maker names it.
    pub material: String,
    /// Thickness, mm.
    pub thickness: f64,
    /// Which face lies up.
    pub face: CutFace,
    /// Layers in the order of work.
    pub layers: Vec<CutLayer>,
}

impl CutFile {
    /// Smallest box around everything: (least, greatest corner). Both zero when there is nothing.
    pub fn bounds(&self) -> (Vec2, Vec2) {
        let mut found: Option<(Vec2, Vec2)> = None;
        for shape in self.layers.iter().flat_map(|l| &l.shapes) {
            let (a, b) = shape.bounds();
            let (lo, hi) = found.unwrap_or((a, b));
            found = Some((v(lo.x.min(a.x), lo.y.min(a.y)), v(hi.x.max(b.x), hi.y.max(b.y))));
        }
        found.unwrap_or_default()
    }
}

/// Layers while they are collected.
#[derive(Default)]
struct Work(Vec<CutLayer>);

impl Work {
    fn add(&mut self, operation: Operation, shape: CutShape) {
        let id = operation.id();
        match self.0.iter_mut().find(|l| l.operation.id() == id) {
            Some(layer) => layer.shapes.push(shape),
            None => self.0.push(CutLayer { operation, shapes: vec![shape] }),
        }
    }
    fn finish(mut self, turn_over: bool) -> Vec<CutLayer> {
        self.0.sort_by(|a, b| a.operation.work_order(&b.operation));
        if turn_over {
            for layer in &mut self.0 {
                layer.shapes = layer.shapes.iter().map(CutShape::turned_over).collect();
            }
        }
        self.0
    }
}

fn area(ring: &Ring) -> CutShape {
    CutShape::Region(Region { outer: ring.clone(), holes: Vec::new() })
}

/// The outline with its tongues, and for each height band of tongues what stands proud: (band, regions).
type Proud = (Ring, Vec<((f64, f64), Vec<Region>)>);

fn proud(part: &Part) -> Result<Proud, turnleaf_geom::GeomError> {
    let mut bands: Vec<(f64, f64)> = Vec::new();
    for f in &part.features {
        if let FeatureKind::EdgeTongue { z, .. } = f.kind
            && !bands.contains(&z)
        {
            bands.push(z);
        }
    }
    let base: Region = part.outline.clone().into();
    let mut all = vec![base.clone()];
    let mut found = Vec::new();
    for band in bands {
        let mine: Vec<Feature> = part
            .features
            .iter()
            .filter(|f| matches!(f.kind, FeatureKind::EdgeTongue { z, .. } if z == band))
            .cloned()
            .collect();
        let middle = (band.0 + band.1) / 2.0;
        let slabs = layers(part.thickness, &part.outline, &mine);
        if let Some(slab) = slabs.iter().find(|l| l.z0 < middle && l.z1 > middle) {
            let outer: Region = slab.region.outer.clone().into();
            found.push((
                band,
                combine(BooleanOp::Difference, std::slice::from_ref(&outer), std::slice::from_ref(&base))?,
            ));
            all.push(outer);
        }
    }
    if all.len() == 1 {
        return Ok((part.outline.clone(), found));
    }
    let whole = union_all(&all)?;
    // Tongues touch the outline all along, so the union is one piece.
    Ok((whole.into_iter().next().map_or_else(|| part.outline.clone(), |r| r.outer), found))
}

/// What grooves take from the outline, seen from the face.
fn grooves(part: &Part) -> Result<Vec<Region>, turnleaf_geom::GeomError> {
    let mine: Vec<Feature> =
        part.features.iter().filter(|f| matches!(f.kind, FeatureKind::EdgeGroove { .. })).cloned().collect();
    let base: Region = part.outline.clone().into();
    let mut out = Vec::new();
    for slab in layers(part.thickness, &part.outline, &mine) {
        let outer: Region = slab.region.outer.clone().into();
        out.extend(combine(
            BooleanOp::Difference,
            std::slice::from_ref(&base),
            std::slice::from_ref(&outer),
        )?);
    }
    Ok(out)
}

/// The cut files of one part.
fn of_part(part: &Part) -> Result<Vec<CutFile>, turnleaf_geom::GeomError> {
    let (outline, tongues) = proud(part)?;
    let (mut through, mut top, mut bottom) = (Work::default(), Work::default(), Work::default());
    for region in grooves(part)? {
        through.add(Operation::Mark, CutShape::Region(region));
    }
    for f in &part.features {
        let (depth, shape) = match &f.kind {
            FeatureKind::Hole { centre, diameter, depth } => {
                (*depth, CutShape::Circle { centre: *centre, radius: diameter / 2.0 })
            }
            FeatureKind::Slot { depth, .. }
            | FeatureKind::CurvedSlot { depth, .. }
            | FeatureKind::Pocket { depth, .. } => {
                let Some(ring) = opening(&f.kind) else { continue };
                (*depth, area(&ring))
            }
            FeatureKind::Ramp { .. } | FeatureKind::EdgeGroove { .. } | FeatureKind::EdgeTongue { .. } => {
                continue;
            }
        };
        let diameter = match &shape {
            CutShape::Circle { radius, .. } if 2.0 * radius <= DRILL_MOST => Some(2.0 * radius),
            _ => None,
        };
        let (work, deep) = match depth {
            Depth::Through => (&mut through, None),
            Depth::Blind(Face::Top, d) => (&mut top, Some(d)),
            Depth::Blind(Face::Bottom, d) => (&mut bottom, Some(d)),
        };
        let operation = match (diameter, deep) {
            (Some(diameter), depth) => Operation::Drill { diameter, depth },
            (None, Some(depth)) => Operation::Pocket { depth },
            (None, None) => Operation::InsideCut,
        };
        work.add(operation, shape);
    }
    const THIN: f64 = 1e-9;
    for ((z0, z1), regions) in tongues {
        for region in regions {
            if part.thickness - z1 > THIN {
                top.add(Operation::Pocket { depth: part.thickness - z1 }, CutShape::Region(region.clone()));
            }
            if z0 > THIN {
                bottom.add(Operation::Pocket { depth: z0 }, CutShape::Region(region));
            }
        }
    }
    through.add(Operation::OutsideCut, area(&outline));
    let file = |face: CutFace, work: Work, both: bool| CutFile {
        name: if both { format!("{}-{}", part.id, face.key()) } else { part.id.clone() },
        part: part.id.clone(),
        title: part.name.clone(),
        count: part.count,
        material: part.material.clone(),
        thickness: part.thickness,
        face,
        layers: work.finish(face == CutFace::Bottom),
    };
    Ok(match (top.0.is_empty(), bottom.0.is_empty()) {
        // Everything from one face: the part need not be turned over.
        (_, true) => {
            through.0.extend(top.0);
            vec![file(CutFace::Top, through, false)]
        }
        (true, false) => {
            through.0.extend(bottom.0);
            vec![file(CutFace::Bottom, through, false)]
        }
        (false, false) => {
            // The lower face first, with the outline only marked; then the upper, which cuts the part free.
            bottom.add(Operation::Mark, area(&outline));
            through.0.extend(top.0);
            vec![file(CutFace::Bottom, bottom, true), file(CutFace::Top, through, true)]
        }
    })
}

/// Round holes of which neither holds the other and which are not apart, by their identifiers.
fn meeting_holes(part: &Part) -> Vec<(&str, &str)> {
    let holes: Vec<(&str, Vec2, f64)> = part
        .features
        .iter()
        .filter_map(|f| match f.kind {
            FeatureKind::Hole { centre, diameter, .. } => Some((f.id.as_str(), centre, diameter / 2.0)),
            _ => None,
        })
        .collect();
    let mut out = Vec::new();
    for (i, (a, p, r)) in holes.iter().enumerate() {
        for (b, q, s) in &holes[i + 1..] {
            let apart = p.dist(*q);
            if apart < r + s && apart > (r - s).abs() {
                out.push((*a, *b));
            }
        }
    }
    out
}

/// Cut files of all parts that come from sheets, in the order of the parts.
pub fn cut_files(parts: &[Part]) -> (Vec<CutFile>, Vec<Diagnostic>) {
    let (mut out, mut said) = (Vec::new(), Vec::new());
    for part in parts.iter().filter(|p| from_sheet(p)) {
        for (a, b) in meeting_holes(part) {
            let sentence = format!(
                "In the {} the holes {a} and {b} run into each other; a drill would break out there.",
                part.name.to_lowercase()
            );
            said.push(Diagnostic::warning(format!("cut.{}.holes", part.id), sentence));
        }
        match of_part(part) {
            Ok(files) => out.extend(files),
            Err(e) => {
                let sentence =
                    format!("The {} has no cut file: {e}", part.name.to_lowercase().trim_end_matches('.'));
                said.push(Diagnostic::error(format!("cut.{}", part.id), sentence));
            }
        }
    }
    (out, said)
}

/// A field of a CSV file (RFC 4180).
fn field(text: &str) -> String {
    if text.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_string()
    }
}

/// The list of files and layers: a line a layer, lengths in mm, areas in mm².
pub fn index_csv(files: &[CutFile]) -> String {
    let mut out = String::from(
        "file,part,name,count,material,thickness_mm,face,layer,operation,depth_mm,diameter_mm,shapes,area_mm2,length_mm\r\n",
    );
    for f in files {
        for l in &f.layers {
            let diameter = match l.operation {
                Operation::Drill { diameter, .. } => short(diameter),
                _ => String::new(),
            };
            let cells = [
                format!("{}.svg", f.name),
                f.part.clone(),
                f.title.clone(),
                f.count.to_string(),
                f.material.clone(),
                short(f.thickness),
                f.face.key().into(),
                l.operation.id(),
                l.operation.key().into(),
                l.operation.depth().map(short).unwrap_or_default(),
                diameter,
                l.shapes.len().to_string(),
                format!("{:.6}", l.shapes.iter().map(CutShape::area).sum::<f64>()),
                format!("{:.6}", l.shapes.iter().map(CutShape::length).sum::<f64>()),
            ];
            let line: Vec<String> = cells.iter().map(|c| field(c)).collect();
            out += &line.join(",");
            out += "\r\n";
        }
    }
    out
}
