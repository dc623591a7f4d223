//! Sizes at odds: where each refusal begins, worked out by hand, and the nearest value that mends it.

use crate::{near, table};
use turnleaf_geom::trig;
use turnleaf_mechanism::remedy::{DIALS, get, set};
use turnleaf_mechanism::{DriveKind, Opening, Sizes, remedies, solve};

fn codes(s: &Sizes) -> Vec<&'static str> {
    solve(s).map_or_else(|all| all.iter().map(|t| t.code).collect(), |_| Vec::new())
}

fn has(s: &Sizes, code: &str) -> bool {
    codes(s).contains(&code)
}

/// The value of one dial at which a reason begins, and the one beside it at which it does not.
fn edge(base: &Sizes, dial: &str, free: f64, caught: f64, code: &str) {
    let with = |v: f64| set(base, dial, v).expect("a dial");
    assert!(!has(&with(free), code), "{dial} {free}: {:?}", codes(&with(free)));
    assert!(has(&with(caught), code), "{dial} {caught}: {:?}", codes(&with(caught)));
}

#[test]
fn where_refusals_begin() {
    let s = Sizes::example();
    edge(&s, "open_diameter", 1240.0, 1239.9, "opening.small");
    // Six sectors: stored tips meet below half of 60°.
    edge(&s, "leaf_tip_half_angle", 30.0, 29.9, "tip.sharp");
    edge(&Sizes { sectors: 8, ..s.clone() }, "leaf_tip_half_angle", 22.5, 22.4, "tip.sharp");
    // Tongue of a third: 9 mm of stock leave 3 mm above and below.
    edge(&s, "stock_thickness", 9.0, 8.9, "tongue.thick");
    let thick = |t: f64| Sizes { tongue_thickness: Some(t), ..s.clone() };
    assert!(has(&thick(13.1), "tongue.thick") && !has(&thick(13.0), "tongue.thick"));
    assert!(!has(&Sizes { tongue_depth: 0.0, ..thick(18.0) }, "tongue.thick"), "no tongue, no groove");
    // The stack is 170 thick and wants 150 below it.
    edge(&s, "height", 320.0, 319.9, "height.low");
    // Pockets are one step of 20 deep, in two plies, or in two plies and the cam plate of 18.
    edge(&s, "ply_thickness", 10.0, 9.9, "pocket.deep");
    let cam = Sizes { drive: DriveKind::Cam, plate_thickness: 12.0, ..s.clone() };
    edge(&cam, "ply_thickness", 4.0, 3.9, "pocket.deep");
    // The star's reach against the closed edge less the margin of 3.
    let shows = |e: f64| {
        let wide = Sizes { opening: Opening::Travel(e), ..s.clone() };
        let (out, y) = (e * 0.75f64.sqrt(), e / 2.0);
        let middle = ((600.0 + out).powi(2) + y * y).sqrt() - 597.0;
        // A leaf's corners are to be hidden by 0.2 mm at least.
        let corner = 600.0 + out - (599.8f64.powi(2) - y * y).sqrt();
        let x = out + middle.max(corner);
        (has(&wide, "star.shows"), (x * x + y * y).sqrt() > 597.0)
    };
    let all: Vec<(bool, bool)> = (280..=350).map(|e| shows(f64::from(e))).collect();
    assert!(all.iter().all(|(ours, due)| ours == due), "{all:?}");
    assert!(all.iter().any(|a| a.0) && all.iter().any(|a| !a.0));
}

#[test]
fn skew_begins_to_be_at_fault() {
    let s = Sizes::example();
    let turned = |deg: f64| Sizes { slide_skew: trig::rad(deg), ..s.clone() };
    assert!(!has(&turned(0.0), "skew.large") && !has(&turned(0.0), "skew.leaf"));
    assert!(has(&turned(30.0), "skew.large") && has(&turned(-1.0), "skew.large"));
    // 225·sin(30° − κ) must leave half a slide of 40 and 2 mm: κ = 30° − asin(22/225) = 24.388°.
    assert!(has(&turned(24.5), "skew.leaf") && !has(&turned(24.3), "skew.leaf"));
    assert!(!has(&turned(29.9), "skew.large"));
    // Where the skew alone is at fault, that is said, and every size at odds names it too.
    let troubles = solve(&turned(20.0)).expect_err("too far turned");
    assert!(troubles.iter().any(|t| t.code == "skew.alone"), "{troubles:?}");
    assert!(
        troubles.iter().all(|t| t.sizes.iter().filter(|z| **z == "slide_skew").count() == 1),
        "{troubles:?}"
    );
    // Where it is not, nothing says so, and a reason that is the same without a skew keeps its own sizes.
    let low = solve(&Sizes { height: 300.0, ..turned(2.0) }).expect_err("too low");
    assert!(low.iter().all(|t| t.code == "height.low" && !t.sizes.contains(&"slide_skew")), "{low:?}");
}

#[test]
fn reasons_of_the_searches() {
    let s = Sizes::example();
    let first = |s: &Sizes| codes(s).first().copied().unwrap_or("none");
    assert_eq!(first(&Sizes { arm_width: 70.0, ..s.clone() }), "arms.touch");
    let troubles = solve(&Sizes { arm_width: 70.0, ..s.clone() }).expect_err("arms touch");
    assert!(troubles[0].sentence.contains("70 mm wide arms"), "{}", troubles[0].sentence);
    // Half a millimetre wider than arms that just pass, the best miss what is asked by no more than they grew.
    let wide = |k: u32| Sizes { arm_width: 20.0 + 0.5 * f64::from(k), ..s.clone() };
    let k = (1..100).find(|k| solve(&wide(*k)).is_err()).expect("some width is too much");
    let said_left = |s: &Sizes| -> f64 {
        let sentence = &solve(s).expect_err("too wide")[0].sentence;
        let left = sentence.split("leaves ").nth(1).and_then(|t| t.split(' ').next()).map(str::parse);
        left.unwrap_or_else(|| panic!("{sentence}")).unwrap_or_else(|_| panic!("{sentence}"))
    };
    let left = said_left(&wide(k));
    assert!((3.4..=4.0).contains(&left), "{left}");
    // Where pins are in the way too, what is said to be left is the best seen: short of what is asked, and no overlap.
    let arms = DriveKind::Arms;
    let pinned = table(arms, (7, 820.0, 164.0), (17.0, 14.0), (50.0, 16.0, 0.0), (13.0, 2.0));
    let left = said_left(&pinned);
    assert!((0.0..2.0).contains(&left), "{left}");
    // Long over-travel on a small table: more cranks would reach too far out than fail for anything else.
    let deep = table(arms, (8, 640.0, 150.0), (18.0, 15.0), (65.0, 35.0, 0.0), (20.0, 1.0));
    assert_eq!(first(&deep), "arms.far");
    let cam = Sizes { drive: DriveKind::Cam, ..s.clone() };
    assert!(first(&Sizes { sectors: 12, ..cam.clone() }).starts_with("cam."));
    assert_eq!(first(&Sizes { opening: Opening::Travel(330.0), ..cam }), "star.shows");
}

/// Each dial is read as it was set, in its unit, and stays inside the range the plan file allows.
#[test]
fn dials_are_read_as_they_are_set() {
    let s = Sizes::example();
    for (name, unit, step, least, most) in DIALS {
        let has = get(&s, name).expect("a dial");
        assert!(least < most && (step == 0.5 || step == 1.0) && has >= least && has <= most, "{name}: {has}");
        for value in [least, most] {
            near(name, set(&s, name, value).and_then(|t| get(&t, name)).expect("a dial"), value);
        }
        assert_eq!(
            unit,
            if name == "sectors" {
                "count"
            } else if step == 0.5 && has < 60.0 && angle(name) {
                "deg"
            } else {
                "mm"
            }
        );
    }
    // The other diameter stays when one is set.
    let wider = set(&s, "closed_diameter", 1300.0).expect("a dial");
    near("open diameter", get(&wider, "open_diameter").expect("a dial"), 1650.0);
    near("travel", wider.travel(), 175.0);
    near("radius", wider.radius(), 650.0);
    near(
        "tip, radians",
        set(&s, "leaf_tip_half_angle", 60.0).expect("a dial").leaf_tip_half_angle,
        core::f64::consts::FRAC_PI_3,
    );
    assert_eq!((get(&s, "colour"), set(&s, "colour", 1.0)), (None, None));
}

fn angle(name: &str) -> bool {
    name.contains("angle") || name.contains("sweep") || name.contains("skew")
}

/// The nearest value on the dial's grid that works: where the edge is known by hand, it is that edge.
#[test]
fn remedies_are_the_nearest_on_the_grid() {
    let example = Sizes::example();
    for (dial, asked, due) in [
        ("height", 300.0, 320.0),
        ("height", 312.4, 320.0),
        ("height", 319.6, 320.0),
        ("leaf_tip_half_angle", 20.0, 30.0),
        ("ply_thickness", 6.2, 10.0),
    ] {
        let s = set(&example, dial, asked).expect("a dial");
        let all = remedies(&s);
        let found = all.iter().find(|r| r.size == dial).unwrap_or_else(|| panic!("no remedy by {dial}"));
        near(dial, found.to, due);
        near(dial, found.from, asked);
        assert!(all.iter().all(|r| r.size != "slide_skew"), "a radial table is not skewed");
        for r in all {
            let mended = set(&s, r.size, r.to).expect("a dial");
            assert!(solve(&mended).is_ok(), "{} = {} does not work", r.size, r.to);
            let (_, _, step, least, most) = DIALS.into_iter().find(|d| d.0 == r.size).expect("a dial");
            near("on the grid", (r.to / step).round() * step, r.to);
            assert!(r.to >= least - 1e-9 && r.to <= most + 1e-9);
            let back = if r.to > r.from { -step } else { step };
            let before = r.to + back;
            // The one before it, if it is still on the same side of what was asked, does not work.
            if (before - r.from) * (r.to - r.from) > 0.0 {
                assert!(set(&s, r.size, before).is_none_or(|t| solve(&t).is_err()), "{} = {before}", r.size);
            }
        }
    }
    // Downwards too: stock too thick for a low table.
    let low = Sizes { height: 322.0, stock_thickness: 19.7, ..example };
    let found = remedies(&low).into_iter().find(|r| r.size == "stock_thickness").expect("a remedy");
    // All but the three surfaces takes 113: 322 − 150 − 113 = 59 for three of them, 19.67 each.
    near("thinner", found.to, 19.5);
}
