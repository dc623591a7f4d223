//! Cranks, slopes, levers, beams, springs, stacks. In: worked examples. Out: rows.
//! Always true: where a textbook's value is that of a shortened formula, the row says so.

use crate::table::{Group, Known::*, Source, Within};
use core::f64::consts::PI;
use turnleaf_figures::plane_frame::{Bar, Frame};
use turnleaf_figures::{Assumptions, beams, friction, springs, tipping, tolerance};
use turnleaf_geom::{Vec2, trig, vec2::v};
use turnleaf_mechanism::crank::Crank;
use turnleaf_mechanism::lever::Lever;

/// Where a crank's slide is fastest, radians: by golden section, on the crank's own speed.
fn fastest(crank: &Crank) -> f64 {
    let (mut low, mut high) = (0.1, PI - 0.1);
    let share = (5f64.sqrt() - 1.0) / 2.0;
    for _ in 0..90 {
        let (a, b) = (high - share * (high - low), low + share * (high - low));
        if crank.speed(a).abs() > crank.speed(b).abs() { high = b } else { low = a }
    }
    (low + high) / 2.0
}

/// Slider-cranks.
pub fn cranks() -> Group {
    let mut g = Group::new("Slider-crank");
    let engine =
        Source::new("Engine example, rod 6.024 in, stroke 3.307 in, 6000 rpm (quartermile.ws)", "", Quoted);
    let crank = Crank { pin_radius: 3.307 / 2.0, arm: 6.024 };
    let turning = 6000.0 * 2.0 * PI / 60.0;
    let peak = fastest(&crank);
    g.figure("top of the stroke, in", engine, "7.68", crank.slide(0.0));
    g.figure("crank angle of greatest speed, degrees", engine, "75.6", trig::deg(peak));
    g.near(
        "time to greatest speed, s",
        engine,
        "0.002100653404",
        peak / turning,
        Within::Of(1e-10, "ten digits agree; the root is found to half the digits of a float"),
    );
    g.figure("slide at greatest speed, in", engine, "6.218", crank.slide(peak));
    g.near("greatest speed, in/s", engine, "1078", crank.speed(peak).abs() * turning, Within::LastDigit);
    let course = Source::new(
        "Linkage exercise, a = 10 in, b = 20 in, 45°, 1 rad/s (coursehero.com 6680931)",
        "",
        Quoted,
    );
    let crank = Crank { pin_radius: 10.0, arm: 20.0 };
    let at = trig::rad(45.0);
    g.figure("angle of the arm, degrees", course, "159.295", 180.0 - trig::deg(crank.arm_angle(at)));
    let step = 1e-5;
    let swing = (crank.arm_angle(at + step) - crank.arm_angle(at - step)) / (2.0 * step);
    g.figure("turning speed of the arm, rad/s", course, "0.378", swing);
    g.figure("speed of the slide, in/s", course, "9.744", crank.speed(at).abs());
    let khurmi =
        Source::new("Khurmi and Gupta, Theory of Machines, chapter 15", "r = 0.3 m, l = 1.5 m", Quoted);
    let crank = Crank { pin_radius: 0.3, arm: 1.5 };
    g.near(
        "speed of the slide at 40°, 150 rpm, m/s",
        khurmi,
        "3.49",
        crank.speed(trig::rad(40.0)).abs() * 150.0 * PI / 30.0,
        Within::Of(0.01, "the book keeps two terms of a series; the exact value is 3.4970"),
    );
    g.near(
        "crank angle of greatest speed, 180 rpm, degrees",
        khurmi.at("example 15.2").memory(),
        "79.27",
        trig::deg(fastest(&crank)),
        Within::Of(0.2, "the book keeps two terms of a series; the exact value is 79.10"),
    );
    let engine_3 = Source::new(
        "Calculus problem ENGINE_3 (rose-hulman.edu), solved with mpmath 1.3",
        "r = 8 cm, l = 24.5 cm, 1000 rpm",
        Computed,
    );
    let crank = Crank { pin_radius: 0.08, arm: 0.245 };
    g.figure(
        "crank angle of greatest speed, short rod, degrees",
        engine_3,
        "73.44449",
        trig::deg(fastest(&crank)),
    );
    let most = crank.speed(fastest(&crank)).abs() * 1000.0 * PI / 30.0;
    g.figure("greatest speed, short rod, m/s", engine_3, "8.81697", most);
    let crank = Crank { pin_radius: 2.0, arm: 6.0 };
    let exact = Source::new("mpmath 1.3", "crank 2, rod 6", Computed);
    g.near(
        "crank angle of greatest speed, crank 2, rod 6",
        exact,
        "73.175297",
        trig::deg(fastest(&crank)),
        Within::Of(2e-6, "the greatest of a smooth curve is found to half the digits of a float"),
    );
    g.not_followed(
        "the often quoted angle for crank 2, rod 6",
        Source::new(
            "Encyclopaedia article on piston motion",
            "from memory; its angles do not add up to 180°",
            Memory,
        ),
        "73.17615",
        trig::deg(fastest(&crank)),
        0.0008,
        "out in the third decimal",
    );
    g
}

/// Slopes, rolling, levers, tipping.
pub fn slopes_and_levers() -> Group {
    let mut g = Group::new("Inclined plane, rolling, levers, tipping");
    g.near(
        "level push up a slope of 23° with friction of 2°, N",
        Source::new("bit1024.com, inclined plane", "W = 120 N", Quoted),
        "55.9569189785878",
        friction::push_level(120.0, 0.401_425_727_958_62, 0.034_906_585_039_88),
        Within::Of(2e-12, "the angles are printed to 14 decimals"),
    );
    let (w, slope, phi) = (1.0, trig::rad(20.0), trig::rad(11.0));
    let both = friction::pull_at(w, slope, phi, 0.0) / friction::push_along(w, slope, trig::tan(phi));
    g.near(
        "pull along the slope by both published forms, ratio",
        Source::new(
            "Machinery's Handbook (engineersedge.com 13975) and curioustab.com",
            "W·sin(α + φ)/cos(β − φ) at β = 0",
            Quoted,
        ),
        "1",
        both,
        Within::Of(1e-12, "two forms of one law"),
    );
    let usual = Assumptions::default();
    let norden = Source::new(
        "nordengineeringdatabase.com, rolling resistance",
        "wood on steel, lever arm in inches",
        Quoted,
    );
    g.near(
        "lever arm of rolling, in",
        norden,
        "0.05",
        usual.rolling_arm / 25.4,
        Within::Of(1e-12, "as printed"),
    );
    let wheel = |r: f64| 1000.0 * trig::tan(friction::rolling_angle(0.05, 0.0, 0.1, r));
    g.near(
        "force to roll 1000 lbf on a wheel of 1 in, lbf: W·f/R",
        norden,
        "50",
        wheel(1.0),
        Within::Of(1e-9, "the law in floats"),
    );
    g.between(
        "assumed friction of slides",
        Source::new(
            "McMillin, Lemoine and Manwiller (Wood and Fiber Science) and seaintarchive 2002",
            "0.10 to 0.25 oven-dry pine on steel, 0.2 to 0.6 wood on metal",
            Read,
        ),
        (0.10, 0.60),
        usual.slide_friction,
        "published values spread by a factor of five",
    );
    let elementary = Source::new("Law of the lever, F1·a = F2·b", "elementary", Memory);
    g.near(
        "10 N at 30 mm against 60 mm, N",
        elementary,
        "5",
        tipping::lever(10.0, 30.0, 60.0),
        Within::Of(1e-12, "the law in floats"),
    );
    let lever = Lever { inner: 60.0, outer: 60.0, inner_offset: 0.0, outer_offset: 0.0 };
    let rises = [5.0, 20.0, 35.0].map(|r| ("2", lever.tip_rise(r).map_or(f64::NAN, |t| t / r)));
    g.figures(
        "a lever lifted at half its length: rise of its tip for one of its pin",
        elementary.at("straight lever, three tilts"),
        rises,
        Within::Of(1e-12, "exact at any tilt"),
    );
    let wood_web =
        Source::new("woodweb.com, Dining Table Stability", "54 in top, feet on a 31.5 in circle", Quoted);
    let feet: Vec<Vec2> = (0..4).map(|k| Vec2::polar(15.75, trig::rad(45.0 + 90.0 * f64::from(k)))).collect();
    let lines = tipping::lines(&feet);
    let (inside, load) = tipping::weakest(&lines, 100.0, v(0.0, 0.0), 27.0)
        .map_or((f64::NAN, f64::NAN), |(l, p)| (l.inside(v(0.0, 0.0)), p));
    g.figures(
        "from the middle to the tipping line, and beyond it to the edge, in",
        wood_web,
        [("11.137", inside), ("15.863", 27.0 - inside)],
        Within::LastDigit,
    );
    g.figure(
        "load on the edge that tips, lbf for 100 lb of table: W·a/x",
        Source::new("physicsforums.com 1057816 (tipping by W·a/x) with woodweb's table", "", Quoted),
        "70.2",
        load,
    );
    g.not_followed(
        "the thread's own answer for that load, lbf",
        wood_web,
        "270",
        load,
        150.0,
        "the thread takes the wrong lever arms",
    );
    g
}

/// A cantilever of equal bars, loaded at its tip.
fn cantilever(ea: f64, ei: f64, gas: f64, load: (usize, f64)) -> f64 {
    let mut f = Frame::default();
    let nodes: Vec<usize> = (0..=6).map(|i| f.node(v(f64::from(i), 0.0))).collect();
    for w in nodes.windows(2) {
        f.bars.push(Bar { from: w[0], to: w[1], ea, ei, gas: Some(gas), hinged: false });
    }
    f.held = vec![(nodes[0], 0), (nodes[0], 1), (nodes[0], 2)];
    f.loads = vec![(nodes[6], load.0, load.1)];
    f.solve().map_or(f64::NAN, |s| s.moved[nodes[6]][load.0])
}

/// Beams, bars, springs.
pub fn beams_and_springs() -> Group {
    let mut g = Group::new("Beams and springs");
    let macneal = Source::new(
        "MacNeal and Harder, straight cantilever (targets of verification page OS-V 0720)",
        "L = 6, 0.2 × 0.1, E = 10⁷, ν = 0.3",
        Quoted,
    );
    let (e, area) = (1e7, 0.2 * 0.1);
    let shear = e / 2.6 * area * 5.0 / 6.0;
    let out = |b: f64, h: f64| cantilever(e * area, e * beams::rectangle_i(b, h), shear, (1, 1.0));
    g.near(
        "extension under a unit pull, 10⁻⁵",
        macneal,
        "3.0",
        1e5 * cantilever(e * area, 1.0, shear, (0, 1.0)),
        Within::LastDigit,
    );
    g.figure("deflection in plane", macneal, "0.1081", out(0.1, 0.2));
    g.figure("deflection out of plane", macneal, "0.4321", out(0.2, 0.1));
    let calculeaf = Source::new("calculeaf.com, beam guide", "50 × 100 mm, 2 m, 5 kN, 200 GPa", Quoted);
    let i = beams::rectangle_i(50.0, 100.0);
    g.figure("second moment, 10⁶ mm⁴", calculeaf, "4.17", i / 1e6);
    g.near(
        "tip of a steel cantilever, mm",
        calculeaf,
        "16",
        beams::cantilever_tip(5000.0, 2000.0, 200_000.0 * i),
        Within::Of(1e-9, "the formula gives 16 exactly"),
    );
    let coefficients = [
        ("3", 1.0 / beams::cantilever_tip(1.0, 1.0, 1.0)),
        ("8", 1.0 / beams::cantilever_even(1.0, 1.0, 1.0)),
        ("48", 1.0 / beams::simple_middle(1.0, 1.0, 1.0)),
        ("76.8", 1.0 / beams::simple_even(1.0, 1.0, 1.0)),
        ("192", 1.0 / beams::clamped_middle(1.0, 1.0, 1.0)),
        ("384", 1.0 / beams::clamped_even(1.0, 1.0, 1.0)),
    ];
    g.figures(
        "divisors of six beam formulas (PL³/3EI … wL⁴/384EI)",
        Source::new(
            "calculeaf.com and engineersedge beam 9 (after Machinery's Handbook, 27th ed., p. 265)",
            "",
            Quoted,
        ),
        coefficients,
        Within::Of(1e-9, "whole numbers, 384/5 for the fourth"),
    );
    g.near(
        "buckling load of a unit strut: π²",
        Source::new("mpmath 1.3", "π²EI/(KL)² at one", Computed),
        "9.869604401089358",
        beams::euler(1.0, 1.0, 1.0),
        Within::Of(1e-14, "the last place of a float"),
    );
    g.not_followed(
        "tip of a 50 mm square steel cantilever of 1 m under 100 N, mm",
        Source::new("solver-docs.pages.dev, cantilever", "", Quoted),
        "0.0381",
        beams::cantilever_tip(100.0, 1000.0, 210_000.0 * beams::rectangle_i(50.0, 50.0)),
        0.26,
        "an eighth of what its own formula gives: half the length was used",
    );
    let handbook = Source::new("Handbook formulas πd⁴/64 and πd³/32", "round bar of 20 mm", Memory);
    g.figure("second moment of a round bar, mm⁴", handbook, "7853.98", beams::round_i(20.0));
    g.figure("section modulus of a round bar, mm³", handbook, "785.398", beams::round_z(20.0));
    g.near(
        "the same bar as a polygon of 256 sides, mm⁴",
        Source::new("sectionproperties 3.10", "", Computed),
        "7852.40",
        beams::round_i(20.0),
        Within::Of(2.4, "0.03 %: the polygon lies inside the circle"),
    );
    let acx = Source::new(
        "acxesspring.com, torsion spring",
        "d = 0.035, D = 0.465 in, 3 coils, 30·10⁶ psi",
        Quoted,
    );
    let rate = springs::torsion_rate_turn(30e6, 0.035, 0.465, 3.0);
    g.figure("torsion spring, lbf·in a turn", acx, "2.988", rate);
    g.figure("torsion spring, lbf·in a degree", acx, "0.0083", rate / 360.0);
    g.figure(
        "the same without friction of coils, lbf·in a turn: Ed⁴/(64·n·D)",
        Source::new("designerdata.nl, torsion spring", "", Quoted),
        "3.168",
        2.0 * PI * springs::torsion_rate_radian(30e6, 0.035, 0.465, 3.0),
    );
    g.figure(
        "inner-fibre factor at C = 8: 247/224",
        Source::new("Formula (4C² − C − 1)/(4C(C − 1)), spring handbooks", "", Quoted),
        "1.1027",
        springs::inner_factor(8.0),
    );
    g.not_followed(
        "the factor as printed elsewhere",
        Source::new("neutrondb.com, spring factor at C = 8", "", Quoted),
        "1.106",
        springs::inner_factor(8.0),
        0.003,
        "does not follow from its own formula",
    );
    g
}

/// Tolerances.
pub fn stacks() -> Group {
    let mut g = Group::new("Tolerance stacks");
    let housing =
        Source::new("ficientdesign.com, housing stack", "4.020 − (2.000 + 1.500 + 0.500) in", Quoted);
    let all = [0.005, 0.005, 0.003, 0.002];
    g.figure("worst case, in", housing, "0.015", tolerance::worst(&all));
    g.figure("root-sum-square of the parts, in", housing, "0.00616", tolerance::root_sum_square(&all[1..]));
    g.figure("root-sum-square with the housing, in", housing, "0.00794", tolerance::root_sum_square(&all));
    let bore = Source::new(
        "metricmech.com, bore stack, solved with the uncertainties library",
        "40 − 25 − 2 − 10 mm",
        Computed,
    );
    let halves = [0.10, 0.05, 0.03, 0.05];
    g.figures(
        "bore: worst case, root-sum-square, mm",
        bore,
        [("0.23", tolerance::worst(&halves)), ("0.1261", tolerance::root_sum_square(&halves))],
        Within::LastDigit,
    );
    let pages = Source::new(
        "Web pages on root-sum-square stacks",
        "ten parts of ± 0.1; ± 0.20, ± 0.10, ± 0.15",
        Quoted,
    );
    g.figures(
        "ten equal parts: worst case, root-sum-square",
        pages,
        [("1.0", tolerance::worst(&[0.1; 10])), ("0.316", tolerance::root_sum_square(&[0.1; 10]))],
        Within::LastDigit,
    );
    g.figures(
        "three parts: worst case, root-sum-square",
        pages,
        [
            ("0.45", tolerance::worst(&[0.20, 0.10, 0.15])),
            ("0.27", tolerance::root_sum_square(&[0.20, 0.10, 0.15])),
        ],
        Within::LastDigit,
    );
    g.near(
        "ratio of the inflated to the plain root-sum-square",
        Source::new("Bender 1962 (factor of 1.5)", "", Quoted),
        "1.5",
        tolerance::inflated(&halves, 1.5) / tolerance::root_sum_square(&halves),
        Within::Of(1e-12, "a factor"),
    );
    let mut draws = tolerance::Draws::start(1_234_567);
    let drawn: Vec<String> = (0..3).map(|_| draws.bits().to_string()).collect();
    g.words(
        "first draws of the generator of trials from 1234567",
        Source::new("splitmix64, public-domain reference program", "", Memory),
        "6457827717110365317, 3203168211198807973, 9817491932198370423",
        drawn.join(", "),
        "whole numbers",
    );
    g
}
