//! A plane frame by direct stiffness.
//!
//! In: nodes, bars, supports, loads. Out: movements of the nodes and forces at the bars' ends.
//! Always true: x to the right, y up, rotations counter-clockwise; N, mm, MPa; small deflections. A frame that
//! can move without strain gives None.
//!
//! Source: the stiffness matrix of a straight prismatic bar, in every text on matrix structural analysis; with
//! the shear term φ = 12·E·I/(G·A_s·L²).

use turnleaf_geom::Vec2;

/// A bar between two nodes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bar {
    /// First node.
    pub from: usize,
    /// Second node.
    pub to: usize,
    /// E·A, N.
    pub ea: f64,
    /// E·I, N·mm².
    pub ei: f64,
    /// G times the shear area, N; None for a bar that does not give in shear.
    pub gas: Option<f64>,
    /// Whether the second end is hinged.
    pub hinged: bool,
}

/// A frame to solve.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Frame {
    /// Nodes.
    pub nodes: Vec<Vec2>,
    /// Bars.
    pub bars: Vec<Bar>,
    /// Held movements: node and direction (0 x, 1 y, 2 rotation).
    pub held: Vec<(usize, usize)>,
    /// Loads: node, direction, N or N·mm.
    pub loads: Vec<(usize, usize, f64)>,
}

/// Forces of a bar at its ends, in its own axes (along, across, moment), acting on the bar.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndForces {
    /// At the first node.
    pub from: [f64; 3],
    /// At the second node.
    pub to: [f64; 3],
}

/// What a loaded frame does.
#[derive(Clone, Debug, PartialEq)]
pub struct Solved {
    /// Movements of each node: x, y, rotation.
    pub moved: Vec<[f64; 3]>,
    /// End forces of each bar.
    pub ends: Vec<EndForces>,
    /// Reaction at each held movement, in the order of [`Frame::held`].
    pub reactions: Vec<f64>,
}

type Matrix = [[f64; 6]; 6];

impl Bar {
    /// Stiffness in the bar's own axes.
    fn own(&self, l: f64) -> Matrix {
        let phi = self.gas.map_or(0.0, |g| 12.0 * self.ei / (g * l * l));
        let k = self.ei / (1.0 + phi);
        let (a, b, c) = (self.ea / l, 12.0 * k / l.powi(3), 6.0 * k / (l * l));
        let (d, e) = ((4.0 + phi) * k / l, (2.0 - phi) * k / l);
        [
            [a, 0.0, 0.0, -a, 0.0, 0.0],
            [0.0, b, c, 0.0, -b, c],
            [0.0, c, d, 0.0, -c, e],
            [-a, 0.0, 0.0, a, 0.0, 0.0],
            [0.0, -b, -c, 0.0, b, -c],
            [0.0, c, e, 0.0, -c, d],
        ]
    }
}

/// Rotates a pair of (x, y, rotation) triples by a unit direction.
fn turn(q: [f64; 6], u: Vec2) -> [f64; 6] {
    let t = |x: f64, y: f64| (u.x * x + u.y * y, -u.y * x + u.x * y);
    let (a, b) = t(q[0], q[1]);
    let (c, d) = t(q[3], q[4]);
    [a, b, q[2], c, d, q[5]]
}

impl Frame {
    /// Adds a node.
    pub fn node(&mut self, p: Vec2) -> usize {
        self.nodes.push(p);
        self.nodes.len() - 1
    }
    /// The node at a place, added if there is none.
    pub fn node_at(&mut self, p: Vec2) -> usize {
        match self.nodes.iter().position(|q| q.dist(p) < 1e-6) {
            Some(i) => i,
            None => self.node(p),
        }
    }
    /// Solves it.
    pub fn solve(&self) -> Option<Solved> {
        let hinges = self.bars.iter().filter(|b| b.hinged).count();
        let size = 3 * self.nodes.len() + hinges;
        let mut k = vec![vec![0.0; size]; size];
        let mut places = Vec::with_capacity(self.bars.len());
        let mut next = 3 * self.nodes.len();
        for bar in &self.bars {
            let d = self.nodes[bar.to] - self.nodes[bar.from];
            let (l, u) = (d.norm(), d.unit());
            let (i, j) = (3 * bar.from, 3 * bar.to);
            let mut place = [i, i + 1, i + 2, j, j + 1, j + 2];
            if bar.hinged {
                // A hinged end turns on its own.
                place[5] = next;
                next += 1;
            }
            let own = bar.own(l);
            for (col, &at) in place.iter().enumerate() {
                let mut unit = [0.0; 6];
                unit[col] = 1.0;
                let local = turn(unit, u);
                let mut force = [0.0; 6];
                for (f, row) in force.iter_mut().zip(&own) {
                    *f = row.iter().zip(&local).map(|(a, b)| a * b).sum();
                }
                let back = turn(force, Vec2 { x: u.x, y: -u.y });
                for (row, &to) in place.iter().enumerate() {
                    k[to][at] += back[row];
                }
            }
            places.push((place, own, u));
        }
        let mut f = vec![0.0; size];
        for &(n, d, p) in &self.loads {
            f[3 * n + d] += p;
        }
        let whole = k.clone();
        for &(n, d) in &self.held {
            let at = 3 * n + d;
            for row in k.iter_mut() {
                row[at] = 0.0;
            }
            k[at] = vec![0.0; size];
            k[at][at] = 1.0;
            f[at] = 0.0;
        }
        let x = eliminate(k, f)?;
        let ends = places
            .iter()
            .map(|(place, own, u)| {
                let local = turn(core::array::from_fn(|i| x[place[i]]), *u);
                let q: [f64; 6] =
                    core::array::from_fn(|i| own[i].iter().zip(&local).map(|(a, b)| a * b).sum());
                EndForces { from: [q[0], q[1], q[2]], to: [q[3], q[4], q[5]] }
            })
            .collect();
        let reactions = self
            .held
            .iter()
            .map(|&(n, d)| {
                let at = 3 * n + d;
                let inner: f64 = whole[at].iter().zip(&x).map(|(a, b)| a * b).sum();
                let load: f64 = self.loads.iter().filter(|l| 3 * l.0 + l.1 == at).map(|l| l.2).sum();
                inner - load
            })
            .collect();
        let moved = (0..self.nodes.len()).map(|i| [x[3 * i], x[3 * i + 1], x[3 * i + 2]]).collect();
        Some(Solved { moved, ends, reactions })
    }
}

/// Gaussian elimination with row exchange, after scaling each row by its largest entry.
fn eliminate(mut k: Vec<Vec<f64>>, mut f: Vec<f64>) -> Option<Vec<f64>> {
    let n = f.len();
    for (row, right) in k.iter_mut().zip(f.iter_mut()) {
        let largest = row.iter().fold(0.0f64, |m, x| m.max(x.abs()));
        if largest == 0.0 {
            return None;
        }
        row.iter_mut().for_each(|x| *x /= largest);
        *right /= largest;
    }
    for c in 0..n {
        let p = (c..n).max_by(|&a, &b| k[a][c].abs().total_cmp(&k[b][c].abs()))?;
        // Far below this ratio of stiffnesses only a mechanism is left.
        if k[p][c].abs() < 1e-14 {
            return None;
        }
        k.swap(c, p);
        f.swap(c, p);
        let (upper, lower) = k.split_at_mut(c + 1);
        let pivot = &upper[c];
        for (i, row) in lower.iter_mut().enumerate() {
            let share = row[c] / pivot[c];
            if share != 0.0 {
                for (x, y) in row[c..].iter_mut().zip(&pivot[c..]) {
                    *x -= share * y;
                }
                f[c + 1 + i] -= share * f[c];
            }
        }
    }
    let mut x = vec![0.0; n];
    for i in (0..n).rev() {
        let known: f64 = (i + 1..n).map(|j| k[i][j] * x[j]).sum();
        x[i] = (f[i] - known) / k[i][i];
    }
    Some(x)
}
