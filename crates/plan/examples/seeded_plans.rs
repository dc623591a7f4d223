//! Writes seeded plan files that solve, for checks outside this workspace.
//!
//! `cargo run -p turnleaf-plan --example seeded_plans -- DIR COUNT`: writes DIR/plan-001.json and on, with
//! sectors 4 to 12 and closed diameters 700 to 2,000 mm; only plans that solve are written. Every fourth opens
//! askew where its sizes allow it.

mod requests;

use requests::Requests;
use turnleaf_fit::fit;
use turnleaf_plan::{DriveKind, Plan};

fn main() {
    let mut args = std::env::args().skip(1);
    let dir = args.next().expect("a folder");
    let count: usize = args.next().and_then(|a| a.parse().ok()).expect("a count");
    std::fs::create_dir_all(&dir).expect("the folder can be made");
    let mut requests = Requests::new();
    let mut written = 0;
    let mut k = 0;
    while written < count {
        // Every third round of sector counts is driven by a cam.
        let wish = requests.next(if k / 9 % 3 == 1 { DriveKind::Cam } else { DriveKind::Arms });
        k += 1;
        let Ok(f) = fit(&wish) else { continue };
        let mut plan = Plan::default_metric();
        let drive = if wish.drive == DriveKind::Cam { "cam" } else { "arms" };
        plan.set_option("drive", drive).expect("both drives are known");
        let s = &f.sizes;
        let mm = |x: f64| format!("{x:.2} mm");
        let deg = |x: f64| format!("{:.3}°", turnleaf_geom::trig::deg(x));
        for (id, text) in [
            ("closed_diameter", mm(s.closed_diameter)),
            ("open_diameter", mm(s.closed_diameter + 2.0 * s.travel())),
            ("sectors", s.sectors.to_string()),
            ("stock_thickness", mm(s.stock_thickness)),
            ("ply_thickness", mm(s.ply_thickness)),
            ("tongue_depth", mm(s.tongue_depth)),
            ("tongue_clearance", mm(s.tongue_clearance)),
            ("arm_width", mm(s.arm_width)),
            ("arm_clearance", mm(s.arm_clearance)),
            ("ramp_sweep", deg(s.ramp_sweep)),
            ("leaf_tip_half_angle", deg(s.leaf_tip_half_angle)),
        ] {
            plan.set(id, &text).unwrap_or_else(|d| panic!("{id} {text}: {}", d.sentence));
        }
        if turnleaf_plan::outline(&plan).is_err() {
            continue;
        }
        if k % 4 == 1 {
            let askew = [0.45, 0.25, 0.1].into_iter().find_map(|share| {
                let mut askew = plan.clone();
                askew.set("slide_skew", &deg(share * s.half_sector())).ok()?;
                turnleaf_plan::outline(&askew).is_ok().then_some(askew)
            });
            plan = askew.unwrap_or(plan);
        }
        written += 1;
        std::fs::write(format!("{dir}/plan-{written:03}.json"), plan.to_json())
            .expect("the plan can be written");
    }
}
