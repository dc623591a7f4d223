//! What becomes of parts already cut, asked of their solids and then of the turn.
//!
//! In: an older and a newer table. Out: verdicts, and what still fails with the old parts in the new table.
//! Always true: parts that are called good, put into the newer table together, pass its motion proof and checks as
//! far as the newer table passes them; one that would not is to be cut again and says which fit it misses.

use crate::Built;
use turnleaf_geom::trig;
use turnleaf_motion::expect::Expect;
use turnleaf_motion::{PairResult, Proof};
use turnleaf_parts::Assembly;
use turnleaf_revise::{PartVerdict, Reason, Verdict, stand_in, verdicts};

/// What differs by less than this, mm, is the same part even where a plan prints coarser steps: nobody cuts finer,
/// and the fits of the turn are laid out for it (common practice, no source).
pub(crate) const FINE: f64 = 0.1;

/// Verdicts on parts cut to the older table, and the checks that fail with those that stay good.
pub(crate) fn judge(old: &Built, new: &Built, step: f64) -> (Vec<PartVerdict>, Vec<String>) {
    let mut parts = verdicts(&old.assembly.parts, &new.assembly.parts, step.min(FINE));
    // Each round takes at least one part out, so this ends.
    loop {
        let doubtful = |v: &&PartVerdict| v.verdict == Verdict::Good && off(v) > 0.0;
        if parts.iter().find(doubtful).is_none() {
            return (parts, Vec::new());
        }
        let mixed: Assembly = stand_in(&old.assembly.parts, &new.assembly, &parts);
        let proof = turnleaf_motion::prove(&mixed);
        let holds = |r: &PairResult| new.proof.pairs.iter().any(|n| n.a == r.a && n.b == r.b && n.holds);
        let mut refused: Vec<(usize, Reason)> = Vec::new();
        for r in proof.pairs.iter().filter(|r| !r.holds && holds(r)) {
            let of = |id: &str| {
                let i = parts.iter().position(|v| v.part == id)?;
                (parts[i].verdict == Verdict::Good && off(&parts[i]) > 0.0).then(|| (i, off(&parts[i])))
            };
            // Of two parts that miss each other the one that is further off goes.
            let worse = [of(&r.a), of(&r.b)].into_iter().flatten().max_by(|x, y| x.1.total_cmp(&y.1));
            if let Some((i, _)) = worse {
                let other = if parts[i].part == r.a { &r.b } else { &r.a };
                let reason =
                    Reason::Fit { with: other.clone(), by: asked(r) - r.distance, turn: trig::deg(r.turn) };
                refused.push((i, reason));
            }
        }
        if refused.is_empty() {
            let fail = failing(&mixed, &proof, new);
            let Some(first) = fail.first() else { return (parts, fail) };
            // A check that no pair explains: the part goes without which fewest checks fail.
            let without = |i: usize| {
                let kept: Vec<PartVerdict> =
                    parts.iter().enumerate().filter(|(k, _)| *k != i).map(|(_, v)| v.clone()).collect();
                let table = stand_in(&old.assembly.parts, &new.assembly, &kept);
                failing(&table, &turnleaf_motion::prove(&table), new).len()
            };
            let doubtful =
                (0..parts.len()).filter(|i| parts[*i].verdict == Verdict::Good && off(&parts[*i]) > 0.0);
            let Some(worst) = doubtful.min_by_key(|i| without(*i)) else { return (parts, fail) };
            refused.push((worst, Reason::Check(first.clone())));
        }
        for (i, reason) in refused {
            match &mut parts[i].verdict {
                Verdict::Again(reasons) => reasons.push(reason),
                verdict => *verdict = Verdict::Again(vec![reason]),
            }
        }
    }
}

/// Checks that fail in a table though they hold in the newer one, in sentences.
fn failing(table: &Assembly, proof: &Proof, new: &Built) -> Vec<String> {
    let theirs = |id: &str| new.checks.iter().any(|c| c.id == id && !c.holds);
    let checks = turnleaf_motion::checks(table, proof);
    checks.iter().filter(|c| !c.holds && !theirs(&c.id)).map(|c| c.text.clone()).collect()
}

/// How far an old part is off the new one, mm.
fn off(v: &PartVerdict) -> f64 {
    v.missing.max(v.surplus)
}

/// The clearance that a pair asks for, mm.
fn asked(r: &PairResult) -> f64 {
    match r.expect {
        Expect::Clear(c) | Expect::Fit(c) => c,
        Expect::Touch | Expect::Joined(_) => 0.0,
    }
}
