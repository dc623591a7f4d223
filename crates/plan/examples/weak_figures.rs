//! Lists the strength and safety figures that do not hold, for plan files and for fitted requests.
//!
//! `cargo run -p turnleaf-plan --example weak_figures -- COUNT [PLAN ...]`: COUNT requests drawn by a fixed rule
//! for each drive, then the plan files.
mod requests;

use requests::Requests;
use std::collections::BTreeMap;
use turnleaf_fit::fit;
use turnleaf_plan::{Assumptions, DriveKind, Plan};

type Tally = BTreeMap<String, (usize, f64, String)>;

fn note(tally: &mut Tally, name: &str, a: &turnleaf_plan::Assembly) -> usize {
    let mut weak = 0;
    for f in turnleaf_figures::figures(a, &Assumptions::default()) {
        let (Some(limit), Some(margin)) = (f.limit, f.margin) else { continue };
        if margin >= 0.0 {
            continue;
        }
        weak += 1;
        let share: f64 = margin / limit.abs().max(1e-9);
        let text = format!("{:.1} {} against {limit:.1} ({name})", f.value, f.unit);
        let row = tally.entry(f.id).or_insert((0, f64::INFINITY, String::new()));
        row.0 += 1;
        if share < row.1 {
            (row.1, row.2) = (share, text);
        }
    }
    weak
}

fn print(title: &str, tally: &Tally) {
    println!("\n{title}");
    for (id, (n, share, text)) in tally {
        println!("{n:4} {id:36} {:7.0} %  {text}", share * 100.0);
    }
}

fn main() {
    let mut args = std::env::args().skip(1);
    let count: usize = args.next().and_then(|a| a.parse().ok()).unwrap_or(12);
    for drive in [DriveKind::Arms, DriveKind::Cam] {
        let mut requests = Requests::new();
        let (mut tally, mut fitted, mut weak, mut sound) = (Tally::new(), 0, 0, 0);
        for _ in 0..count {
            let wish = requests.next(drive);
            let Ok(f) = fit(&wish) else { continue };
            fitted += 1;
            let name = format!("n{} D{:.0} T{:.0}", wish.sectors, wish.closed_diameter, wish.stock_thickness);
            let w = note(&mut tally, &name, &f.assembly);
            weak += w;
            sound += usize::from(w == 0);
        }
        print(
            &format!(
                "{drive:?}: {fitted} of {count} fitted, {sound} without a weak figure, {weak} weak figures"
            ),
            &tally,
        );
    }
    for path in args {
        let bytes = std::fs::read(&path).expect("the plan can be read");
        let (plan, _) = Plan::parse(&bytes).expect("the plan is sound");
        match turnleaf_plan::build(&plan) {
            Ok(b) => {
                let mut tally = Tally::new();
                let weak = note(&mut tally, "", &b.assembly);
                print(&format!("{path}: {weak} weak figures, checks hold: {}", b.sound()), &tally);
            }
            Err(d) => println!("{path}: {:?}", d.iter().map(|d| &d.sentence).collect::<Vec<_>>()),
        }
    }
}
