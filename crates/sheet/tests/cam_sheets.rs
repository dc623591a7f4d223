//! The cam plate's sheet: enough and nothing twice, rebuilt from what is printed, near the pins' true ways.

#[allow(dead_code)]
mod checker;

use turnleaf_dimension::compare::compare;
use turnleaf_dimension::place::pen::Style;
use turnleaf_dimension::place::{View, place};
use turnleaf_dimension::proof::{HALF_STEPS, built_from};
use turnleaf_dimension::sketch::{Shape, Way};
use turnleaf_dimension::{Drawing, Wording, choose, printed, prove};
use turnleaf_geom::{Seg, Vec2, Vertex};
use turnleaf_mechanism::{DriveKind, Mechanism, Opening, Sizes, solve};
use turnleaf_page::{Item, Paper, Pt};
use turnleaf_parts::build::cam::{SLOT_DEVIATION, slot_way};
use turnleaf_parts::{Part, assemble};
use turnleaf_sheet::{SheetOptions, part_sheet};
use turnleaf_svg::page_svg;
use turnleaf_units::{DecimalSign, Denominator, InchPrint, LengthUnit, MmStep, PrintUnits, parse_length};

const INCH: InchPrint = InchPrint { denominator: Denominator::SixtyFour, feet: false };
const MM: Wording = Wording { units: PrintUnits::Mm(MmStep::TENTH), sign: DecimalSign::Point };
const IN: Wording = Wording { units: PrintUnits::Inch(INCH), sign: DecimalSign::Point };

fn table(sectors: usize, diameter: f64) -> Option<Mechanism> {
    let mut s = Sizes::example();
    s.drive = DriveKind::Cam;
    s.sectors = sectors;
    s.closed_diameter = diameter;
    s.opening = Opening::Diameter(diameter * 1.32);
    s.leaf_tip_half_angle = s.half_sector().max(core::f64::consts::FRAC_PI_4);
    let k = (diameter / 1200.0).clamp(0.6, 1.0) * if sectors > 8 { 0.7 } else { 1.0 };
    (s.arm_width, s.tongue_depth, s.arm_clearance) = (20.0 * k, 6.0 * k, 3.0);
    solve(&s).ok()
}

/// Cam tables of 4 to 12 sectors, 700 to 2000 mm, those that solve.
fn tables() -> Vec<Mechanism> {
    [(4, 700.0), (4, 900.0), (5, 1000.0), (6, 1200.0), (7, 1320.0), (8, 1500.0), (10, 1800.0), (12, 2000.0)]
        .into_iter()
        .filter_map(|(n, d)| table(n, d))
        .collect()
}

fn plate(m: &Mechanism) -> Part {
    assemble(m).parts.into_iter().find(|p| p.id == "cam-plate").expect("a cam plate")
}

/// Distance of a point from a chain of arcs, by this file's own reckoning.
fn off(p: Vec2, line: &[Vertex]) -> f64 {
    line.windows(2)
        .map(|w| match Seg::between(w[0], w[1].p) {
            Seg::Line(a, b) => {
                let d = b - a;
                p.dist(a + d * ((p - a).dot(d) / d.norm2()).clamp(0.0, 1.0))
            }
            Seg::Arc(c) => {
                // Inside the wedge of both ends the nearest point is on the arc, else it is an end.
                let (a, b, q) = (w[0].p - c.centre, w[1].p - c.centre, p - c.centre);
                let within = a.cross(q) * c.sweep >= 0.0 && q.cross(b) * c.sweep >= 0.0;
                if within { (q.norm() - c.radius).abs() } else { p.dist(w[0].p).min(p.dist(w[1].p)) }
            }
        })
        .fold(f64::INFINITY, f64::min)
}

#[test]
fn slots_keep_near_the_pins_true_ways_with_few_stations() {
    let all = tables();
    assert!(all.len() >= 5, "only {} cam tables solved", all.len());
    let (mut worst, mut most, mut sharpest) = (0.0f64, 0, 0.0f64);
    for m in &all {
        let cam = m.cam().expect("a cam");
        for (track, line) in [(&cam.panel, 0.0), (&cam.leaf, m.layout.half_sector)] {
            let way = slot_way(cam, track, line);
            most = most.max(way.len());
            for k in 0..=4000 {
                let p = cam.pin(track, line, cam.turn() * f64::from(k) / 4000.0);
                worst = worst.max(off(p, &way));
            }
            assert!(way[0].p.dist(cam.pin(track, line, 0.0)) < 1e-9);
            assert!(way[way.len() - 1].p.dist(cam.pin(track, line, cam.turn())) < 1e-9);
            // Arcs meet nearly smoothly.
            for w in way.windows(3) {
                let lean = |q: &Vertex| 2.0 * turnleaf_geom::trig::atan(q.bulge);
                let (a, b) =
                    ((w[1].p - w[0].p).angle() + lean(&w[0]), (w[2].p - w[1].p).angle() - lean(&w[1]));
                let d = (b - a).rem_euclid(core::f64::consts::TAU);
                sharpest = sharpest.max(d.min(core::f64::consts::TAU - d).to_degrees());
            }
        }
    }
    println!("{} tables, off {worst:.4} mm, {most} stations at most, corners of {sharpest:.2}°", all.len());
    // A little more: the fit looks at some places of an arc, this test at thousands.
    assert!(worst <= 1.04 * SLOT_DEVIATION && worst > 0.1 * SLOT_DEVIATION, "{worst}");
    assert!(most <= 24, "{most} stations");
    // The law of travel itself turns this sharply where the short return from over-travel begins.
    assert!(sharpest < 20.0, "{sharpest}°");
}

/// What is cut is what a cutter of the slot's width sweeps along the centre line: its area, length by width and
/// one circle, less what laps over where the line bends sharply; and its sides stand half the width off.
#[test]
fn a_slot_is_as_wide_as_its_cutter_and_never_folds_over() {
    for m in tables() {
        let part = plate(&m);
        for f in &part.features {
            let turnleaf_parts::FeatureKind::CurvedSlot { way, width, .. } = &f.kind else { continue };
            let ring = turnleaf_parts::shapes::curved_slot(way, width / 2.0);
            let length: f64 = way.windows(2).map(|w| Seg::between(w[0], w[1].p).length()).sum();
            let disc = core::f64::consts::PI * width * width / 4.0;
            let swept = length * width + disc;
            assert!((ring.area() - swept).abs() < 0.001 * swept, "{}: {} {swept}", f.id, ring.area());
            let segs: Vec<Seg> = ring.segs().collect();
            for (i, s) in segs.iter().enumerate() {
                let middle = match s {
                    Seg::Line(a, b) => a.lerp(*b, 0.5),
                    Seg::Arc(c) => c.at(0.5),
                };
                let away = off(middle, way);
                assert!((away - width / 2.0).abs() < 0.15, "{} edge {i}: {away} of {width}", f.id);
            }
        }
    }
}

#[test]
fn cam_plates_have_complete_and_clean_sheets() {
    let mut found = Vec::new();
    let (mut pages_most, mut worst) = (0, [0.0f64; 2]);
    for m in tables() {
        let part = plate(&m);
        assert!(part.made);
        for (k, units) in [MM.units, IN.units].into_iter().enumerate() {
            for paper in [Paper::A4, Paper::Letter] {
                let o = SheetOptions { paper, units, ..SheetOptions::default() };
                let (pages, said, proof) = part_sheet(&part, &o);
                let what =
                    format!("{} sectors {:.0} {paper:?} {k}", m.sizes.sectors, m.sizes.closed_diameter);
                found.extend(said.iter().map(|d| format!("{what}: {}", d.sentence)));
                if !proof.holds() || pages.is_empty() {
                    found.push(format!("{what}: {} pages, {proof:?}", pages.len()));
                }
                worst[k] = worst[k].max(proof.worst());
                pages_most = pages_most.max(pages.len());
                for page in &pages {
                    let sheet = checker::read(&page_svg(page));
                    assert!(sheet.ink > 100.0 && sheet.words.len() > 20, "{what}: almost nothing drawn");
                    found.extend(sheet.complaints().into_iter().map(|c| format!("{what}: {c}")));
                }
            }
        }
    }
    println!("at most {pages_most} sheets, worst {:.3} mm from mm, {:.3} mm from inches", worst[0], worst[1]);
    assert!(found.is_empty(), "{} complaints:\n{}", found.len(), found.join("\n"));
    assert!(pages_most <= 4, "{pages_most} sheets");
}

/// Texts of named groups with where they stand.
fn marks(items: &[Item], name: &str, out: &mut Vec<(String, String, Pt)>) {
    for item in items {
        match item {
            Item::Group { id, items, .. } => marks(items, id.as_deref().unwrap_or(name), out),
            Item::Text(t) => out.push((name.to_string(), t.text.clone(), t.at)),
            _ => {}
        }
    }
}

/// A number on the view is that of the station it stands at, as the table counts them: of all stations of both
/// slots none of another number is clearly nearer.
#[test]
fn numbers_on_the_view_are_those_of_the_table() {
    let mut ends = 0;
    for m in tables() {
        let d = choose(&plate(&m));
        let figures = printed::figures(&d, &MM);
        let view = View { scale: 0.2, quarter: false, first_angle: true };
        let placed = place(&d, &figures, &view, &Style::SMALL);
        let values: Vec<f64> = d.sketch.unknowns.iter().map(|u| u.value).collect();
        let mut found = Vec::new();
        marks(&placed.items, "", &mut found);
        found.retain(|q| q.0.contains("/station-"));
        let mut seen = 0;
        for f in &d.sketch.features {
            let Shape::Way(way, _) = &f.shape else { continue };
            let line = d.sketch.centre_line(way, &values);
            for (_, number, at) in found.iter().filter(|q| q.0.contains(&format!("/{}/", f.id))) {
                let k: usize = number.parse().expect("a number");
                let off = |p: Vec2| turnleaf_geom::trig::hypot(p.x * 0.2 - at.x, -p.y * 0.2 - (at.y - 1.25));
                let own = off(line[k - 1].p);
                let least = line.iter().map(|q| off(q.p)).fold(f64::INFINITY, f64::min);
                assert!(own < 9.0 && own < least + 2.5, "{} {number}: {own:.1} mm off, {least:.1}", f.id);
                seen += 1;
                ends += usize::from(k == 1 || k == line.len());
            }
        }
        assert!(seen == found.len() && seen >= 8, "{seen} of {} numbers", found.len());
    }
    assert!(ends >= 2 * tables().len(), "{ends} ends numbered");
}

fn ways(d: &Drawing) -> Vec<&Way> {
    d.sketch
        .features
        .iter()
        .filter_map(|f| if let Shape::Way(w, _) = &f.shape { Some(w) } else { None })
        .collect()
}

/// The whole way from paper to wood: every slot set out from the printed text carries its pin.
#[test]
fn slots_built_from_the_printed_text_carry_the_pins() {
    for (n, diameter) in [(6, 1200.0), (8, 1500.0)] {
        let Some(m) = table(n, diameter) else { continue };
        let (part, cam) = (plate(&m), *m.cam().expect("a cam"));
        let d = choose(&part);
        for (w, unit, step) in [(MM, LengthUnit::Mm, 0.1), (IN, LengthUnit::Inch, 25.4 / 64.0)] {
            let texts: Vec<(String, bool)> =
                printed::figures(&d, &w).into_iter().map(|f| (f.main, f.angle)).collect();
            let x = built_from(&d, &texts, unit).expect("rebuilds");
            let mut worst = 0.0f64;
            for (k, way) in ways(&d).into_iter().enumerate() {
                let (track, start) =
                    if k < n { (&cam.panel, 0.0) } else { (&cam.leaf, m.layout.half_sector) };
                let line = start + core::f64::consts::TAU * (k % n) as f64 / n as f64;
                let centre = d.sketch.centre_line(way, &x);
                for i in 0..=400 {
                    let p = cam.pin(track, line, cam.turn() * f64::from(i) / 400.0);
                    worst = worst.max(off(p, &centre));
                }
            }
            let allowed = SLOT_DEVIATION * 1.04 + HALF_STEPS * step / 2.0;
            println!("{n} sectors, {unit:?}: pins up to {worst:.3} mm off the slots' centre lines");
            assert!(worst <= allowed, "{worst} of {allowed}");
        }
    }
}

#[test]
fn leaving_out_any_figure_or_station_fails_and_names_the_slot() {
    let m = table(6, 1200.0).expect("solves");
    let d = choose(&plate(&m));
    let mut stations = 0;
    for i in (0..d.dimensions.len()).filter(|i| !d.dimensions[*i].reference) {
        let mut less = d.clone();
        less.dimensions[i].reference = true;
        let (proof, said) = prove(&less, &MM);
        let id = &d.dimensions[i].id;
        assert!(!proof.complete() && proof.rank == proof.unknowns - 1, "{id}");
        let owner = d.sketch.owners.iter().find(|o| o.id == proof.loose[0]).expect("an owner");
        assert!(said[0].sentence.contains(&owner.words), "{}", said[0].sentence);
        if id.contains("/station-") || id.contains("/arc-") {
            stations += 1;
            let slot = id.trim_start_matches("cam-plate/dim/").split("/1/").next().expect("a slot's name");
            assert!(proof.loose.contains(&format!("{slot}/1")), "{id}: {:?}", proof.loose);
        }
    }
    assert!(stations > 30, "{stations}");
    // A whole station: both its figures.
    for slot in ["panel-slot/1", "leaf-slot/1"] {
        let mut less = d.clone();
        let of_it = |id: &str| id.starts_with(&format!("cam-plate/dim/{slot}/station-3/"));
        less.dimensions.iter_mut().filter(|q| of_it(&q.id)).for_each(|q| q.reference = true);
        let (proof, _) = prove(&less, &MM);
        assert!(proof.rank == proof.unknowns - 2 && proof.loose[0] == slot, "{:?}", proof.loose);
    }
}

#[test]
fn changing_a_station_by_one_unit_or_a_radius_by_a_tenth_moves_the_slots() {
    let m = table(6, 1200.0).expect("solves");
    let d = choose(&plate(&m));
    let w = Wording { units: PrintUnits::Mm(MmStep::TENTH), sign: DecimalSign::Point };
    let texts: Vec<(String, bool)> =
        printed::figures(&d, &w).into_iter().map(|f| (f.main, f.angle)).collect();
    let plain = built_from(&d, &texts, LengthUnit::Mm).expect("rebuilds");
    let mut least = f64::INFINITY;
    for i in (0..d.dimensions.len()).filter(|i| d.dimensions[*i].id.contains("-slot")) {
        let mut other = texts.clone();
        let (text, angle) = &texts[i];
        other[i].0 = if *angle {
            let plain = text.trim_end_matches('°');
            let decimals = plain.split_once('.').map_or(0, |q| q.1.len());
            let degrees: f64 = plain.parse().expect("degrees");
            format!("{:.decimals$}°", degrees + 0.1f64.powi(decimals as i32))
        } else {
            let mm = parse_length(text, LengthUnit::Mm).expect("mm").mm();
            // A tenth of a millimetre in a radius of metres is nothing; a tenth of the radius is not.
            let arc = d.dimensions[i].id.contains("/arc-");
            format!("{:.1}", if arc { mm * 1.1 } else { mm + 0.1 })
        };
        let moved = built_from(&d, &other, LengthUnit::Mm).expect("still a shape");
        let far = compare(&d.sketch, &plain, &moved).worst;
        let id = &d.dimensions[i].id;
        assert!(far > 1e-4, "{id}: {far}");
        // A station on an arc about the centre moves along its own slot, so it is looked at itself.
        let shift = plain.iter().zip(&moved).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        assert!(shift > 0.01, "{id}: {shift}");
        least = least.min(far);
    }
    println!("the least that one unit moves: {least:.5} mm");
}
