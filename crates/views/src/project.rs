//! The stage itself. In: bodies, traces, a projection. Out: a [`View`].

use crate::block::Block;
use crate::body::{Body, Trace};
use crate::curve::{EdgeKind, Tag, View};
use crate::edge::{Edge, edges};
use crate::hide::visible;
use crate::merge::strokes;
use crate::plane::{Plane, Run3};
use crate::projection::Projection;

/// What a view shows beside its visible edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Options {
    /// Hidden edges too. Pictorial views usually leave them out.
    pub hidden: bool,
    /// Lines where flat faces pass smoothly into round ones (in sight only).
    pub smooth: bool,
}

impl Default for Options {
    fn default() -> Self {
        Options { hidden: true, smooth: false }
    }
}

/// Looks at the bodies. Traces are drawn where nothing stands before them.
pub fn project(bodies: &[Body], traces: &[Trace], projection: &Projection, options: &Options) -> View {
    let plane = Plane::new(projection.sight());
    let mut blocks: Vec<Block> = Vec::new();
    let mut list: Vec<Edge> = Vec::new();
    for (i, body) in bodies.iter().enumerate() {
        let first = blocks.len();
        let solid = body.layers.iter().filter(|l| l.z1 > l.z0 && !l.region.outer.vertices.is_empty());
        blocks.extend(solid.map(|l| Block::new(i, body, l, &plane)));
        edges(&blocks[first..], &plane, options.smooth, &mut list);
    }
    for (i, t) in traces.iter().enumerate() {
        let run = Run3 { a: t.from, b: t.to, bow: None };
        list.push(Edge::new(bodies.len() + i, EdgeKind::Trace, run, &plane));
    }
    let seen = visible(&list, &blocks);
    let (visible, hidden) = strokes(&list, &seen, &plane, options.hidden);
    let tag = |id: &str, style: &str| Tag { id: id.into(), style: style.into() };
    let names = bodies.iter().map(|b| tag(&b.id, &b.style)).chain(traces.iter().map(|t| tag(&t.id, "")));
    let mut view = View { visible, hidden, bodies: names.collect(), ..View::default() };
    view.measure();
    view
}
