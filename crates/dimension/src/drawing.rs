//! What is printed on a part's drawing, before anything has a place on paper.
//!
//! In: nothing. Out: the nouns of this crate: dimensions, call-outs, table rows, edge sections.
//! Always true: a dimension holds what is measured, never a figure; the figure is made when it is printed.

use crate::convention::Convention;
use crate::frame::Frame;
use crate::rule::{CircleId, PointId, Rule};
use crate::sketch::{Deep, Shape, Sketch};
use crate::tongue::Tongue;
use turnleaf_diag::Origin;

/// How a dimension is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// A dimension line between extension lines.
    Linear,
    /// A cell of the table of edges.
    Edge,
    /// A dimension line across the part itself, its arrows pointing in from outside.
    Across,
    /// An angle arc.
    Angle,
    /// Part of the text of a call-out (radius, diameter, depth).
    Callout,
    /// A cell of the table of holes.
    Table,
    /// In the section through an edge.
    Section,
    /// At the side of the front view.
    Front,
    /// In a note.
    Note,
}

/// A dimension.
#[derive(Clone, Debug, PartialEq)]
pub struct Dimension {
    /// Stable identifier, such as "panel/dim/radius/outer-arc".
    pub id: String,
    /// What is measured.
    pub rule: Rule,
    /// How it is shown.
    pub look: Look,
    /// Printed in brackets: follows from the others and fixes nothing.
    pub reference: bool,
    /// What it says, in plain words ("the radius of the outer arc").
    pub words: String,
    /// The size or solved number behind it.
    pub origin: Option<Origin>,
}

/// A piece of printed text.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// Words.
    Words(String),
    /// The figure of a dimension (index into [`Drawing::dimensions`]).
    Figure(usize),
}

/// Text with a leader to a circle or an arc.
#[derive(Clone, Debug, PartialEq)]
pub struct Callout {
    /// What the arrow touches.
    pub circle: CircleId,
    /// The arc's ends when only part of the circle is drawn.
    pub ends: Option<(PointId, PointId)>,
    /// The text.
    pub pieces: Vec<Piece>,
}

/// A row of the table of holes, slots and recesses.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// The letter (and number) on the drawing.
    pub label: String,
    /// How many.
    pub count: usize,
    /// Features it covers (indices of [`Sketch::features`]).
    pub members: Vec<usize>,
    /// What it is for.
    pub purpose: String,
    /// Size, first position, second position, depth.
    pub cells: [Vec<Piece>; 4],
}

/// A row of the table of edges: where a groove or tongue begins and ends.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeRow {
    /// The mark on the drawing: the section's letter, numbered when stretches differ.
    pub label: String,
    /// Features it covers (indices of [`Sketch::features`]).
    pub members: Vec<usize>,
    /// What it is: "groove", "tongue".
    pub what: String,
    /// The corner it is measured from, in plain words.
    pub base: String,
    /// Where it begins.
    pub begins: Vec<Piece>,
    /// Where it ends.
    pub ends: Vec<Piece>,
}

/// The developed view of a ramp: dimensions of its slope line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RampView {
    /// The feature.
    pub member: usize,
    /// Radius of the hollow at the foot.
    pub foot: usize,
    /// Radius of the rounding at the head.
    pub head: usize,
    /// Developed length (reference).
    pub run: usize,
    /// Steepest slope (reference).
    pub slope: usize,
}

/// The centre line of a curved slot.
#[derive(Clone, Debug, PartialEq)]
pub struct WayTable {
    /// The slot's mark.
    pub label: String,
    /// For every station: first position, second position, the arc to the next one.
    pub stations: Vec<[Vec<Piece>; 3]>,
}

/// A section through an edge with a groove or a tongue.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeSection {
    /// Letter of the section.
    pub letter: String,
    /// The features it stands for (indices of [`Sketch::features`]).
    pub members: Vec<usize>,
    /// Dimensions: thickness (if shown here), from the lower face, width of the band, depth.
    pub thickness: Option<usize>,
    /// From the lower face to the band.
    pub below: Option<usize>,
    /// Width of the band.
    pub band: usize,
    /// Depth of the groove or length of the tongue.
    pub depth: usize,
}

/// A part's drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// The part's identifier.
    pub part: String,
    /// The part's plain name.
    pub name: String,
    /// Its datums.
    pub frame: Frame,
    /// Which way its grain runs, where that can be said by its datums.
    pub grain: Option<crate::grain::Grain>,
    /// Its unknowns.
    pub sketch: Sketch,
    /// What is said without figures.
    pub conventions: Vec<Convention>,
    /// What is said with figures, in reading order.
    pub dimensions: Vec<Dimension>,
    /// Leaders.
    pub callouts: Vec<Callout>,
    /// Table rows.
    pub rows: Vec<Row>,
    /// Whether the table gives positions as distance and angle from the centre.
    pub polar: bool,
    /// Sections through edges.
    pub sections: Vec<EdgeSection>,
    /// Stretches of edges.
    pub edges: Vec<EdgeRow>,
    /// Centre lines of curved slots.
    pub ways: Vec<WayTable>,
    /// The developed view of a slope.
    pub ramp: Option<RampView>,
    /// Whether a front view is drawn besides the plan: for parts with a rectangular outline.
    pub front: bool,
    /// Stretches left out of the view; empty but for a drawing made by [`crate::shorten::shorten`].
    pub breaks: Vec<crate::shorten::Break>,
    /// The dimension that gives the thickness.
    pub thickness: usize,
    /// The language of what is printed besides figures.
    pub tongue: Tongue,
}

impl Drawing {
    /// The model's value of a dimension: mm, or radians for an angle.
    pub fn value(&self, dim: usize) -> f64 {
        self.sketch.measure(&self.dimensions[dim].rule)
    }
    /// What a dimension's figure says: its value, but never a minus between extension lines, where the side of the
    /// datum is seen.
    pub fn shown(&self, dim: usize) -> f64 {
        match self.dimensions[dim].look {
            Look::Linear => self.value(dim).abs(),
            _ => self.value(dim),
        }
    }
    /// Whether a dimension leaves the maker free: the drill of a screw's hole and how deep it goes.
    /// Nothing moves by them, and no check depends on them to a fraction of a millimetre.
    pub fn is_free(&self, dim: usize) -> bool {
        let s = &self.sketch;
        let touched: Vec<usize> = s.slopes(&self.dimensions[dim].rule).into_iter().map(|q| q.0).collect();
        let mut features = s.features.iter();
        features.any(|f| match f.shape {
            Shape::Hole(c, deep) if f.is_screw() => {
                let depth = matches!(deep, Deep::Blind(_, depth) if touched == [depth.0]);
                depth || touched == [s.circles[c.0].radius.0]
            }
            _ => false,
        })
    }
    /// Says everything that is printed in a language, from now on.
    pub fn in_tongue(&mut self, tongue: &Tongue) {
        self.tongue = tongue.clone();
        if tongue.is_english() {
            return;
        }
        let all = |pieces: &mut Vec<Piece>| {
            for p in pieces {
                if let Piece::Words(w) = p {
                    *w = tongue.say(w);
                }
            }
        };
        self.callouts.iter_mut().for_each(|c| all(&mut c.pieces));
        for r in &mut self.rows {
            r.purpose = tongue.say(&r.purpose);
            r.cells.iter_mut().for_each(all);
        }
        for e in &mut self.edges {
            (e.what, e.base) = (tongue.say(&e.what), tongue.say(&e.base));
            all(&mut e.begins);
            all(&mut e.ends);
        }
        self.ways.iter_mut().flat_map(|w| &mut w.stations).flatten().for_each(all);
        for c in &mut self.conventions {
            c.sentence = tongue.say(&c.sentence);
        }
        for d in &mut self.dimensions {
            d.words = tongue.say(&d.words);
        }
    }
    /// Printed sentences of the conventions, each once.
    pub fn sentences(&self) -> Vec<String> {
        let mut out: Vec<String> = Vec::new();
        for c in &self.conventions {
            if !c.sentence.is_empty() && !out.contains(&c.sentence) {
                out.push(c.sentence.clone());
            }
        }
        let drawn = |kinds: &[&str]| {
            self.conventions.iter().any(|c| {
                c.sentence.is_empty() && !c.rules.is_empty() && kinds.iter().any(|k| c.id.starts_with(k))
            })
        };
        if drawn(&["straight/", "smooth/", "arm/"]) {
            out.push(self.tongue.say("Edges drawn parallel, square or meeting smoothly are so."));
        }
        if drawn(&["centre/"]) {
            out.push(self.tongue.say(if self.frame.pins.is_some() {
                "Round ends share the centres of their holes, curves share one centre."
            } else {
                "Arcs drawn about one centre share it."
            }));
        }
        out
    }
}
