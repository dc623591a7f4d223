//! The pieces of the table as solids for the view in space.
//!
//! In: the pieces. Out: prisms in the frames of their parts, and where each piece stands at a turn.
//! Always true: solids stand in the order of the pieces; a bar on edge is a stack of slices.

use super::Table;
use crate::scene::Movement;
use crate::space::{Prism, Solid, Stand, level, oriented};

/// How fine outlines are in space, mm: a third of a dot of the screen for a table as wide as its view.
const COARSE: f64 = 0.7;
/// Slices of a bar on edge.
const SLICES: usize = 10;

/// The stretches of a level line inside a ring.
fn level_cut(ring: &[(f64, f64)], y: f64) -> Vec<(f64, f64)> {
    let mut found: Vec<f64> = (0..ring.len())
        .map(|i| (ring[i], ring[(i + 1) % ring.len()]))
        .filter(|(a, b)| (a.1 >= y) != (b.1 >= y))
        .map(|(a, b)| a.0 + (b.0 - a.0) * (y - a.1) / (b.1 - a.1))
        .collect();
    found.sort_by(f64::total_cmp);
    found.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect()
}

impl Table {
    /// The plain name of a piece, of its part that is; none of a piece that this table has not.
    pub fn name_of(&self, piece: &str) -> Option<&str> {
        self.0.pieces.iter().find(|one| one.id == piece).map(|one| self.0.part_of(one).name.as_str())
    }

    /// Every piece as a solid, in the order of [`Table::pieces`].
    pub fn solids(&self) -> Vec<Solid> {
        let (closed, open) = (self.stands(0.0), self.stands(self.turn_degrees()));
        let turn = self.0.mechanism.turn();
        let floor = self.0.mechanism.stack.base.bottom;
        let solid = |(place, piece): (usize, &_)| {
            let part = self.0.part_of(piece);
            let level = level(&part.id, closed[place], open[place], turn, floor, part.thickness);
            let lined = part.side.is_none();
            let prism = |low: f64, high: f64, rings: Vec<Vec<(f64, f64)>>| Prism {
                low,
                high,
                rings: oriented(rings),
                lined,
            };
            let prisms = match &part.side {
                // A bar on edge is a stack of slices, each as long as its side view is there.
                Some(side) => {
                    let (low, high) = part.outline.bounds();
                    let side: Vec<(f64, f64)> =
                        side.flatten(COARSE).into_iter().map(|p| (p.x, p.y)).collect();
                    let slice = |k: usize| {
                        let (from, to) = (k as f64 / SLICES as f64, (k + 1) as f64 / SLICES as f64);
                        let at = part.thickness * (from + to) / 2.0;
                        let bars = level_cut(&side, at);
                        let bar = move |(a, b): (f64, f64)| {
                            let ring = vec![(a, low.y), (b, low.y), (b, high.y), (a, high.y)];
                            prism(part.thickness * from, part.thickness * to, vec![ring])
                        };
                        bars.into_iter().map(bar)
                    };
                    (0..SLICES).flat_map(slice).collect()
                }
                None => {
                    let mut prisms = Vec::new();
                    for layer in &part.layers {
                        let rings = layer.region.rings();
                        let rings =
                            rings.map(|ring| ring.flatten(COARSE).into_iter().map(|p| (p.x, p.y)).collect());
                        prisms.push(prism(layer.z0, layer.z1, rings.collect()));
                    }
                    prisms
                }
            };
            Solid { id: piece.id.clone(), part: part.id.clone(), level, prisms }
        };
        self.0.pieces.iter().enumerate().map(solid).collect()
    }

    /// Where every piece is at a turn, and how high, degrees from closed.
    pub fn stands(&self, degrees: f64) -> Vec<Stand> {
        let turn = degrees.clamp(0.0, self.turn_degrees()).to_radians();
        let stand = |piece: &_| {
            let place = self.0.place(piece, turn);
            let plan = Movement::new(place.pose.angle(), place.pose.offset.x, place.pose.offset.y);
            Stand { plan, z: place.z }
        };
        self.0.pieces.iter().map(stand).collect()
    }
}

#[cfg(test)]
mod depth;

#[cfg(test)]
mod tests {
    use crate::core::{Plan, Table};
    use crate::space::{Face, Faces, ISOMETRIC, Level, Look, Point, Ready, reaches, room};
    use std::collections::BTreeSet;

    const LOOK: Look = Look { round: 0.0, down: ISOMETRIC, apart: 0.0, cut: false, hidden: Vec::new() };

    #[test]
    fn the_demo_table_keeps_its_true_outline_in_space() {
        let table = Table::new(&Plan::default_metric()).unwrap();
        let solids = table.solids();
        let ready = Ready::new(&solids);
        let whole = table.turn_degrees();
        let at = |turn: f64, look: &Look| ready.faces(&table.stands(turn), turn.to_radians(), look, None);
        for (turn, across) in [(0.0, 1200.0), (whole, 1650.0)] {
            let (l, t, r, b) = at(turn, &LOOK).bounds().unwrap();
            // Panels lie as the plan says whatever the view; an arc seen across its middle is as wide as the table,
            // less what the corners of six panels lose of it.
            assert!(r - l <= across + 0.1 && r - l > 0.96 * across, "{turn}: {}", r - l);
            let reaches = reaches(&solids, &table.stands(0.0), &table.stands(whole));
            let room = room(&solids, &reaches, &LOOK).unwrap();
            assert!(room.0 <= l && room.1 <= t && room.2 >= r && room.3 >= b, "{turn}: {room:?}");
        }
        let levels =
            |look: &Look| at(0.0, look).iter().map(|face| solids[face.solid].level).collect::<BTreeSet<_>>();
        assert_eq!(levels(&LOOK).len(), Level::ALL.len(), "every level has pieces: {:?}", levels(&LOOK));
        assert!(!levels(&Look { hidden: vec![Level::Panels], ..LOOK }).contains(&Level::Panels));
    }

    /// Whether a point is inside by counting crossings to the right.
    fn inside(faces: &Faces, face: &Face, (x, y): Point) -> bool {
        let crosses = |(a, b): (Point, Point)| {
            (a.1 > y) != (b.1 > y) && x < a.0 + (b.0 - a.0) * (y - a.1) / (b.1 - a.1)
        };
        let edges = faces
            .rings(face)
            .flat_map(|ring| ring.iter().enumerate().map(move |(i, a)| (*a, ring[(i + 1) % ring.len()])));
        edges.filter(|edge| crosses(*edge)).count() % 2 == 1
    }

    /// Every corner of a face that is left out, and points between, lie under a face painted later.
    #[test]
    fn nothing_that_can_be_seen_of_the_demo_table_is_left_out() {
        let table = Table::new(&Plan::default_metric()).unwrap();
        let solids = table.solids();
        let ready = Ready::new(&solids);
        let whole = table.turn_degrees();
        let reaches = reaches(&solids, &table.stands(0.0), &table.stands(whole));
        for (turn, round, down, cut, apart) in [
            (0.0, -0.35, ISOMETRIC, false, 0.0),
            (0.4, 1.0, ISOMETRIC, false, 0.0),
            (1.0, -0.35, 1.2, false, 0.0),
            (0.7, 0.2, 0.3, true, 40.0),
        ] {
            let look = Look { round, down, apart, cut, hidden: Vec::new() };
            let (stands, angle) = (table.stands(turn * whole), (turn * whole).to_radians());
            let all = ready.faces(&stands, angle, &look, None);
            let left = ready.faces(&stands, angle, &look, room(&solids, &reaches, &look));
            assert!(left.len() < all.len(), "nothing was left out of {}", all.len());
            let same = |a: &Face, b: &Face| {
                a.solid == b.solid
                    && a.kind == b.kind
                    && all.rings(a).eq(left.rings(b))
                    && all.lines(a).eq(left.lines(b))
            };
            let mut still: Vec<&Face> = left.iter().collect();
            let faces: Vec<&Face> = all.iter().collect();
            for (place, face) in faces.iter().enumerate() {
                // Of two that hide nothing of each other either may come first.
                if let Some(at) = still.iter().position(|one| same(face, one)) {
                    still.remove(at);
                    continue;
                }
                for ring in all.rings(face) {
                    for (i, a) in ring.iter().enumerate() {
                        let b = ring[(i + 1) % ring.len()];
                        let middle = ((a.0 + b.0) / 2.0, (a.1 + b.1) / 2.0);
                        for point in [*a, middle] {
                            let over = faces[place + 1..].iter().any(|later| inside(&all, later, point));
                            assert!(over, "turned {turn}: {point:?} of face {place} could be seen");
                        }
                    }
                }
            }
            assert!(still.is_empty(), "{still:?}");
            println!("turned {turn}: {} of {} faces painted", left.len(), all.len());
        }
    }
}
