//! How far one size may be changed with the others held.
//!
//! In: sizes that work and the name of one. Out: its [`Interval`].
//! Always true: both ends were proved over the whole turn; between them a table was found at every value
//! looked at on the way, which is said to the maker as just that.

use turnleaf_mechanism::{
    Sizes,
    remedy::{DIALS, get, set},
    solve,
};

/// The values of one size that work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Plan-file name of the size.
    pub size: &'static str,
    /// Least value, in its unit.
    pub least: f64,
    /// Greatest value.
    pub most: f64,
    /// Unit symbol.
    pub unit: &'static str,
}

/// Whether a table with these sizes solves and passes every check.
pub fn sound(s: &Sizes) -> bool {
    let Ok(m) = solve(s) else { return false };
    let a = turnleaf_parts::assemble(&m);
    let p = turnleaf_motion::prove(&a);
    turnleaf_motion::checks(&a, &p).iter().all(|c| c.holds)
}

/// The interval of one size round its present value; None when the name is unknown or the present sizes do
/// not work themselves.
pub fn interval(s: &Sizes, size: &str) -> Option<Interval> {
    let &(name, unit, step, least, most) = DIALS.iter().find(|d| d.0 == size)?;
    let now = get(s, name)?;
    if !sound(s) {
        return None;
    }
    let solves = |v: f64| set(s, name, v).is_some_and(|t| solve(&t).is_ok());
    let holds = |v: f64| set(s, name, v).is_some_and(|t| sound(&t));
    let end = |direction: f64, limit: f64| {
        let on_grid = |k: f64| {
            let base = if direction > 0.0 { (now / step).floor() } else { (now / step).ceil() };
            (base + direction * k) * step
        };
        let most_steps = ((limit - now).abs() / step).floor();
        let (mut good, mut bad) = (0.0, most_steps + 1.0);
        let mut stride = 1.0;
        // Growing strides find where it stops solving; halving finds the edge.
        while good + stride < bad {
            if solves(on_grid(good + stride)) {
                good += stride;
                stride = (stride * 1.8).ceil();
            } else {
                bad = good + stride;
                break;
            }
        }
        while bad - good > 1.0 {
            let mid = ((good + bad) / 2.0).floor();
            if solves(on_grid(mid)) { good = mid } else { bad = mid }
        }
        // The edge itself is proved; where the proof fails, halving finds the edge of what is proved.
        let (mut k, mut fails) = (good, good);
        if !holds(on_grid(k)) {
            k = 0.0;
            while fails - k > 1.0 {
                let mid = ((k + fails) / 2.0).floor();
                if holds(on_grid(mid)) { k = mid } else { fails = mid }
            }
        }
        if k == 0.0 { now } else { on_grid(k) }
    };
    Some(Interval { size: name, least: end(-1.0, least), most: end(1.0, most), unit })
}
