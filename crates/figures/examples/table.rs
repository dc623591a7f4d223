//! Prints every figure of the worked example, and the torque over the turn.
//!
//!     cargo run -p turnleaf-figures --example table [-- cam]

use turnleaf_figures::{Assumptions, NOTICE, figures, torque_curve};
use turnleaf_mechanism::{DriveKind, Sizes, solve};

fn main() {
    let drive = if std::env::args().any(|word| word == "cam") { DriveKind::Cam } else { DriveKind::Arms };
    let m = match solve(&Sizes { drive, ..Sizes::example() }) {
        Ok(m) => m,
        Err(troubles) => {
            for t in troubles {
                println!("{}", t.sentence);
            }
            return;
        }
    };
    let a = turnleaf_parts::assemble(&m);
    let s = Assumptions::default();
    println!("{NOTICE}\n");
    for f in figures(&a, &s) {
        let held = match (f.limit, f.margin) {
            (Some(l), Some(m)) => format!("limit {l:9.2}  margin {m:9.2}"),
            _ => String::new(),
        };
        println!("{:32} {:10.3} {:8} {:36} {}", f.id, f.value, f.unit, held, f.label);
    }
    println!("\nturn, torque without the lift, with it");
    for t in torque_curve(&a, &s, 24) {
        println!("{:7.1}° {:8.2} {:8.2} N·m", turnleaf_geom::trig::deg(t.turn), t.level(), t.whole());
    }
}
