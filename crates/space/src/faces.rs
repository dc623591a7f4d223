//! Faces in the order of painting.
//!
//! In: solids made ready, where each stands, how one looks. Out: faces on the screen, those that are hidden left out.
//! Always true: faces are found from near to far, so that what is hidden is never made; they are given out from far to
//! near. Of any two that overlap the nearer is painted later, whatever is left out.

use crate::cover::Grid;
use crate::order::near_first;
use crate::ready::{Ready, Stood};
use crate::{Box4, Kind, Look, Movement, Point, Stand, hatch};
use core::ops::Range;

/// How far a side laps over the one below, mm: about half a dot of the screen.
const LAP: f64 = 0.8;
/// Heights nearer than this are one, mm.
const SAME: f64 = 0.02;

/// A face on the screen; its points are with the others, in [`Faces`].
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// Place of its piece in the list of solids.
    pub solid: usize,
    /// What it is.
    pub kind: Kind,
    /// Whether a line runs along its rings after it is filled.
    pub edged: bool,
    rings: Range<usize>,
    lines: Range<usize>,
}

/// Faces on the screen, mm, x right and y **down**.
#[derive(Clone, Debug, Default)]
pub struct Faces {
    points: Vec<Point>,
    /// Stretches of points: rings and lines.
    runs: Vec<Range<usize>>,
    /// The nearest first.
    faces: Vec<Face>,
}

impl Faces {
    /// From far to near, as they are to be painted.
    pub fn iter(&self) -> impl Iterator<Item = &Face> {
        self.faces.iter().rev()
    }
    /// How many there are.
    pub fn len(&self) -> usize {
        self.faces.len()
    }
    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.faces.is_empty()
    }
    /// The rings of a face, filled even-odd.
    pub fn rings(&self, face: &Face) -> impl Iterator<Item = &[Point]> {
        self.runs[face.rings.clone()].iter().map(|run| &self.points[run.clone()])
    }
    /// The lines drawn on it after it is filled.
    pub fn lines(&self, face: &Face) -> impl Iterator<Item = &[Point]> {
        self.runs[face.lines.clone()].iter().map(|run| &self.points[run.clone()])
    }
    /// The box of all faces.
    pub fn bounds(&self) -> Option<Box4> {
        let rings = self.faces.iter().flat_map(|face| self.rings(face));
        crate::ready::bounds(rings.flatten())
    }

    fn run(&mut self, points: impl Iterator<Item = Point>) {
        let from = self.points.len();
        self.points.extend(points);
        self.runs.push(from..self.points.len());
    }
    /// Ends a face whose rings are the runs from `first` to `lines`, its lines those after.
    fn end(&mut self, solid: usize, kind: Kind, edged: bool, first: usize, lines: usize) {
        self.faces.push(Face { solid, kind, edged, rings: first..lines, lines: lines..self.runs.len() });
    }
}

/// How points come onto the screen.
struct Eye {
    sin: f64,
    cos: f64,
}

impl Eye {
    fn at(&self, (x, y): Point, z: f64) -> Point {
        (x, -(y * self.sin + z * self.cos))
    }
    /// The box on the screen of a box in the plan between two heights.
    fn room(&self, (l, near, r, far): Box4, low: f64, high: f64) -> Box4 {
        (l, self.at((l, far), high).1, r, self.at((l, near), low).1)
    }
}

/// What is painted, and what hides others.
struct Painting {
    out: Faces,
    grid: Option<Grid>,
}

impl Painting {
    /// Whether everything in a box on the screen is hidden.
    fn hides(&self, room: Box4) -> bool {
        self.grid.as_ref().is_some_and(|grid| grid.hides(room))
    }
    /// Whether all of a prism between two heights is hidden.
    fn hides_all(&self, eye: &Eye, one: &Stood, low: f64, high: f64) -> bool {
        self.grid.is_some()
            && (self.hides(eye.room(one.about(), low, high))
                || one.bounds().is_none_or(|box4| self.hides(eye.room(box4, low, high))))
    }
    /// The face ended last hides what lies behind it.
    fn cover(&mut self) {
        let (Some(grid), Some(face)) = (&mut self.grid, self.out.faces.last()) else { return };
        grid.cover(&self.out.points, &self.out.runs[face.rings.clone()]);
    }
}

impl Ready {
    /// Faces in the order of painting. The base stands still: `turn` in radians is taken off every movement. With the
    /// room that is painted, faces that others hide are left out.
    pub fn faces(&self, stands: &[Stand], turn: f64, look: &Look, room: Option<Box4>) -> Faces {
        self.faces_of(stands, turn, look, room, &|_| true)
    }

    /// The same of some solids alone, by their places in the list.
    pub fn faces_of(
        &self,
        stands: &[Stand],
        turn: f64,
        look: &Look,
        room: Option<Box4>,
        of: &dyn Fn(usize) -> bool,
    ) -> Faces {
        let frame = Movement::new(-turn - look.round, 0.0, 0.0);
        let eye = Eye { sin: libm::sin(look.down), cos: libm::cos(look.down) };
        let place = |solid: usize| {
            let (stand, level) = (stands.get(solid)?, self.levels[solid]);
            let shown = of(solid) && !look.hidden.contains(&level);
            shown.then(|| (stand.plan.then(&frame), stand.z + look.apart * f64::from(level as u8)))
        };
        let stood = self.stand(look.cut, &place);
        let mut heights: Vec<f64> = stood.iter().flat_map(|s| [s.low, s.high]).collect();
        heights.sort_by(f64::total_cmp);
        heights.dedup_by(|a, b| *a - *b < SAME);
        let mut painting = Painting { out: Faces::default(), grid: room.map(Grid::over) };
        for pair in heights.windows(2).rev() {
            let (low, high) = (pair[0], pair[1]);
            let inside = |s: &&Stood| s.low < high - SAME / 2.0 && s.high > low + SAME / 2.0;
            let here: Vec<&Stood> = stood.iter().filter(inside).collect();
            for one in here.iter().rev() {
                painting.top(&eye, one, high);
            }
            for one in here.iter().rev() {
                painting.cuts(&eye, one, self.levels[one.solid()] as usize, (low, high));
            }
            painting.sides(&eye, &here, (low, high));
        }
        painting.out
    }
}

impl Painting {
    /// The upper face of a prism that ends at this height.
    fn top(&mut self, eye: &Eye, one: &Stood, high: f64) {
        if (one.high - high).abs() >= SAME || self.hides_all(eye, one, high, high) {
            return;
        }
        let first = self.out.runs.len();
        for ring in one.rings() {
            self.out.run(ring.iter().map(|p| eye.at(*p, high)));
        }
        self.out.end(one.solid(), Kind::Top, one.lined(), first, self.out.runs.len());
        self.cover();
    }

    /// Where a prism is cut through.
    fn cuts(&mut self, eye: &Eye, one: &Stood, level: usize, (low, high): (f64, f64)) {
        for (from, to) in one.cuts().iter().rev() {
            let ring =
                [(*from, low), (*to, low), (*to, high), (*from, high)].map(|(x, z)| eye.at((x, 0.0), z));
            if self.hides((*from, ring[2].1, *to, ring[0].1)) {
                continue;
            }
            let first = self.out.runs.len();
            self.out.run(ring.into_iter());
            let lines = self.out.runs.len();
            for line in hatch(ring[0], ring[2], level) {
                self.out.run(line.into_iter());
            }
            if (one.low - low).abs() < SAME {
                self.out.run([ring[0], ring[1]].into_iter());
            }
            self.out.end(one.solid(), Kind::Cut, false, first, lines);
            self.cover();
        }
    }

    /// The sides of all prisms between two heights.
    fn sides(&mut self, eye: &Eye, here: &[&Stood], (low, high): (f64, f64)) {
        // How far, and which stretch of which prism; only of those not hidden by what lies higher.
        let mut sides: Vec<(f64, usize, usize)> = Vec::new();
        for (place, one) in here.iter().enumerate() {
            if self.hides_all(eye, one, low - LAP, high) {
                continue;
            }
            for (k, stretch) in one.stretches().iter().enumerate() {
                let own = crate::ready::bounds(one.points(stretch).iter());
                if own.is_some_and(|own| !self.hides(eye.room(own, low - LAP, high))) {
                    sides.push((stretch.far, place, k));
                }
            }
        }
        // Of those that hide nothing of each other the nearest in the mean comes first, or the one that comes last.
        sides.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then_with(|| (b.1, b.2).cmp(&(a.1, a.2))));
        let lines: Vec<&[Point]> =
            sides.iter().map(|(_, place, k)| here[*place].points(&here[*place].stretches()[*k])).collect();
        for next in near_first(&lines) {
            let (_, place, k) = sides[next];
            let (one, stretch) = (here[place], &here[place].stretches()[k]);
            let bottom = one.lined() && (one.low - low).abs() < SAME;
            // A side that goes on below laps over it, so that no seam shows between the two.
            let foot = if bottom { low } else { low - LAP };
            let points = one.points(stretch);
            let Some(own) = crate::ready::bounds(points.iter()) else { continue };
            if self.hides(eye.room(own, foot, high)) {
                continue;
            }
            let first = self.out.runs.len();
            let under = points.iter().map(|p| eye.at(*p, foot));
            self.out.run(under.clone().chain(points.iter().rev().map(|p| eye.at(*p, high))));
            let lines = self.out.runs.len();
            if bottom {
                self.out.run(under);
            }
            let ends = [(stretch.corners.0, points.first()), (stretch.corners.1, points.last())];
            for end in ends.into_iter().filter_map(|(corner, end)| end.filter(|_| corner)) {
                self.out.run([eye.at(*end, foot), eye.at(*end, high)].into_iter());
            }
            self.out.end(one.solid(), Kind::Side(stretch.shade), false, first, lines);
            self.cover();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{ISOMETRIC, Level, Prism, Solid, oriented};

    fn block(id: &str, level: Level, x: f64, y: f64, side: f64, high: f64) -> Solid {
        let ring = vec![(x, y), (x + side, y), (x + side, y + side), (x, y + side)];
        let prisms = vec![Prism { low: 0.0, high, rings: oriented(vec![ring]), lined: true }];
        Solid { id: id.into(), part: id.into(), level, prisms }
    }

    fn of(solids: &[Solid], stands: &[Stand], look: &Look) -> Faces {
        Ready::new(solids).faces(stands, 0.0, look, None)
    }

    const LOOK: Look = Look { round: 0.0, down: ISOMETRIC, apart: 0.0, cut: false, hidden: Vec::new() };
    const AT: Stand = Stand { plan: Movement::NONE, z: 0.0 };

    #[test]
    fn a_block_shows_one_side_and_its_top() {
        let faces = of(&[block("a", Level::Base, 0.0, 0.0, 10.0, 5.0)], &[AT], &LOOK);
        assert_eq!(faces.iter().map(|f| f.kind).collect::<Vec<_>>(), [Kind::Side(1.0), Kind::Top]);
        // Looked at from above at the isometric angle a square of 10 is 10·sin 35.264° = 5.7735 high on the screen.
        let top = faces.iter().last().unwrap();
        let (l, t, r, b) = crate::ready::bounds(faces.rings(top).flatten()).unwrap();
        assert!((r - l - 10.0).abs() < 1e-9 && (b - t - 10.0 / 3.0_f64.sqrt()).abs() < 1e-9);
        assert!(top.edged && faces.lines(top).count() == 0);
    }

    #[test]
    fn what_is_nearer_and_what_is_higher_is_painted_later() {
        let solids = [
            block("near", Level::Base, 0.0, -20.0, 10.0, 5.0),
            block("far", Level::Base, 0.0, 20.0, 10.0, 5.0),
            block("over", Level::Panels, 0.0, 0.0, 10.0, 5.0),
        ];
        let stands = [AT, AT, Stand { z: 3.0, ..AT }];
        let faces = of(&solids, &stands, &LOOK);
        assert!(!faces.is_empty());
        let sides: Vec<usize> =
            faces.iter().filter(|f| matches!(f.kind, Kind::Side(_))).map(|f| f.solid).collect();
        let first = |solid: usize| sides.iter().position(|s| *s == solid).unwrap();
        assert!(first(1) < first(0), "the far one before the near one");
        let tops: Vec<usize> = faces.iter().filter(|f| f.kind == Kind::Top).map(|f| f.solid).collect();
        assert_eq!(tops.last(), Some(&2), "the highest last");
    }

    #[test]
    fn a_cut_shows_the_material_and_nothing_in_a_hole() {
        let mut ring = block("a", Level::Base, -10.0, -10.0, 20.0, 5.0);
        let hole = vec![(-4.0, -4.0), (4.0, -4.0), (4.0, 4.0), (-4.0, 4.0)];
        ring.prisms[0].rings = oriented(vec![ring.prisms[0].rings[0].clone(), hole]);
        let faces = of(&[ring], &[AT], &Look { cut: true, ..LOOK });
        let wide = |f| crate::ready::bounds(faces.rings(f).flatten()).map_or(0.0, |(l, _, r, _)| r - l);
        let cut: f64 = faces.iter().filter(|f| f.kind == Kind::Cut).map(wide).sum();
        assert!((cut - 12.0).abs() < 1e-9, "20 wide less a hole of 8: {cut}");
        assert!(
            faces.iter().all(|f| faces.rings(f).flatten().all(|p| p.1 <= 1e-9)),
            "nothing nearer than the cut"
        );
    }

    #[test]
    fn some_solids_alone_are_drawn_as_among_all_unless_their_level_is_taken_away() {
        let solids = [
            block("far", Level::Base, 0.0, 20.0, 10.0, 5.0),
            block("near", Level::Base, 0.0, -20.0, 10.0, 5.0),
        ];
        let of = |look: &Look| Ready::new(&solids).faces_of(&[AT, AT], 0.0, look, None, &|place| place == 1);
        assert_eq!(of(&LOOK).iter().map(|face| face.solid).collect::<Vec<_>>(), [1, 1]);
        assert!(of(&Look { hidden: vec![Level::Base], ..LOOK }).is_empty());
    }

    #[test]
    fn a_turn_of_the_eye_and_one_of_the_piece_against_it_give_the_same_faces() {
        let solids = [block("a", Level::Base, 40.0, -300.0, 500.0, 5.0)];
        let ready = Ready::new(&solids);
        let turned = Stand { plan: Movement::new(0.7, 0.0, 0.0), z: 0.0 };
        let (here, there) = (
            ready.faces(&[turned], 0.0, &Look { round: 0.7, ..LOOK }, None),
            ready.faces(&[AT], 0.0, &LOOK, None),
        );
        assert_eq!(here.len(), there.len());
        for (a, b) in here.points.iter().zip(&there.points) {
            assert!((a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9, "{a:?} {b:?}");
        }
        // A side of 500 is parted into four of 125, and two of those are as long as a stretch may grow.
        assert_eq!(there.iter().filter(|f| matches!(f.kind, Kind::Side(_))).count(), 2);
    }
}
