//! Writes the demo scenes for the outside check, and pictures of them.
//!
//! In: a folder on the command line. Out: for each scene NAME.json (solids, way of looking, strokes,
//! time taken) and NAME.svg. Always true: times are the best of several runs in one thread.

mod scenes;

use std::fmt::Write;
use std::time::Instant;
use turnleaf_page::{Step, pt};
use turnleaf_views::paper::{Placement, push};
use turnleaf_views::{
    Body, Corner, Curve2, Cut, HatchLine, Options, Projection, Stroke2, Trace, Vec3, View, hatch, project,
    section, v3,
};

fn main() -> std::io::Result<()> {
    let Some(folder) = std::env::args().nth(1) else {
        eprintln!("Name the folder to write to.");
        std::process::exit(2);
    };
    std::fs::create_dir_all(&folder)?;
    for scene in scenes::all() {
        let run = |hidden: bool| {
            let options = Options { hidden, smooth: false };
            let mut best = f64::INFINITY;
            let mut view = View::default();
            for _ in 0..9 {
                let start = Instant::now();
                view = project(&scene.bodies, &[], &scene.projection, &options);
                best = best.min(start.elapsed().as_secs_f64() * 1e3);
            }
            (view, best)
        };
        let (_, quick) = run(false);
        let (view, full) = run(true);
        println!(
            "{:24} {:3} bodies {:5} visible {:5} hidden  {quick:7.3} ms visible only {full:7.3} ms with hidden",
            scene.name,
            scene.bodies.len(),
            view.visible.len(),
            view.hidden.len()
        );
        std::fs::write(format!("{folder}/{}.json", scene.name), json(&scene, &view, quick, full))?;
        std::fs::write(format!("{folder}/{}.svg", scene.name), svg(&view, &[]))?;
    }
    pictures(&folder)
}

/// Sections and an exploded view, as pictures only.
fn pictures(folder: &str) -> std::io::Result<()> {
    let options = Options { hidden: false, smooth: false };
    let table = scenes::table(6, false);
    let whole = |b: &Body| ["shaft", "crank-pin", "wheel", "leg"].iter().any(|k| b.id.starts_with(k));
    let upright = Cut { point: v3(0.0, 20.0, 0.0), normal: v3(0.0, -1.0, 0.0) };
    let level = Cut { point: v3(0.0, 0.0, 651.0), normal: v3(0.0, 0.0, 1.0) };
    for (name, cut) in [("section-upright", upright), ("section-level", level)] {
        let s = section(&table, &cut, &whole, &options);
        std::fs::write(format!("{folder}/{name}.svg"), svg(&s.view, &hatch(&s.areas, 8.0)))?;
    }
    let lift = |b: &Body| {
        let steps = [
            ("panel/", 900.0),
            ("leaf/", 640.0),
            ("star", 440.0),
            ("rising", 260.0),
            ("leaf-slide", 330.0),
            ("leaf-guide", 330.0),
        ];
        steps.iter().find(|(k, _)| b.id.starts_with(k)).map_or(0.0, |s| s.1)
    };
    let apart: Vec<Body> = table.iter().map(|b| b.shifted(v3(0.0, 0.0, lift(b)))).collect();
    let trace = |id: &str, x: f64, y: f64, z0: f64, z1: f64| Trace {
        id: id.into(),
        from: v3(x, y, z0),
        to: v3(x, y, z1),
    };
    let traces = [trace("middle", 0.0, 0.0, 520.0, 1620.0), trace("rim", 550.0, 0.0, 718.0, 1600.0)];
    let view = project(&apart, &traces, &Projection::Isometric(Corner::FrontRight), &options);
    std::fs::write(format!("{folder}/exploded.svg"), svg(&view, &[]))
}

fn triple(p: Vec3) -> String {
    format!("[{:?},{:?},{:?}]", p.x, p.y, p.z)
}

fn list<T>(items: &[T], one: impl Fn(&T) -> String) -> String {
    let parts: Vec<String> = items.iter().map(one).collect();
    format!("[{}]", parts.join(","))
}

fn json(scene: &scenes::Scene, view: &View, quick: f64, full: f64) -> String {
    let sight = scene.projection.sight();
    let body = |b: &Body| {
        let layers = list(&b.layers, |l| {
            let rings: Vec<_> = l.region.rings().collect();
            let rings =
                list(&rings, |r| list(&r.vertices, |q| format!("[{:?},{:?},{:?}]", q.p.x, q.p.y, q.bulge)));
            format!("{{\"z0\":{:?},\"z1\":{:?},\"rings\":{rings}}}", l.z0, l.z1)
        });
        let pose = [b.pose.x, b.pose.y, b.pose.z, b.pose.offset];
        format!("{{\"id\":{:?},\"pose\":{},\"layers\":{layers}}}", b.id, list(&pose, |p| triple(*p)))
    };
    let stroke = |s: &Stroke2| match s.curve {
        Curve2::Line(a, b) => format!("[\"line\",{:?},{:?},{:?},{:?}]", a.x, a.y, b.x, b.y),
        Curve2::Arc(c) => format!(
            "[\"ellipse\",{:?},{:?},{:?},0.0,1.0,{:?},{:?}]",
            c.centre.x, c.centre.y, c.radius, c.start, c.sweep
        ),
        Curve2::Ellipse(e) => format!(
            "[\"ellipse\",{:?},{:?},{:?},{:?},{:?},{:?},{:?}]",
            e.centre.x, e.centre.y, e.major.x, e.major.y, e.ratio, e.start, e.sweep
        ),
    };
    format!(
        "{{\"name\":{:?},\"right\":{},\"up\":{},\"toward\":{},\"visible_length\":{:?},\"hidden_length\":{:?},\n\
         \"visible_ms\":{quick:?},\"full_ms\":{full:?},\n\"visible\":{},\n\"hidden\":{},\n\"bodies\":{}}}\n",
        scene.name,
        triple(sight.right),
        triple(sight.up),
        triple(sight.toward),
        view.visible_length(),
        view.hidden_length(),
        list(&view.visible, stroke),
        list(&view.hidden, stroke),
        list(&scene.bodies, body)
    )
}

/// A plain picture, one unit a millimetre of the view, lines thick enough to see at any size.
fn svg(view: &View, hatching: &[HatchLine]) -> String {
    let (lo, hi) = view.bounds;
    let size = (hi.x - lo.x).max(hi.y - lo.y);
    let (pad, pen) = (size * 0.03, size / 900.0);
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{} {} {} {}\" fill=\"none\" stroke-linecap=\"round\">\n",
        lo.x - pad,
        -hi.y - pad,
        hi.x - lo.x + 2.0 * pad,
        hi.y - lo.y + 2.0 * pad
    );
    let groups = [
        (
            &view.hidden,
            format!(
                "stroke=\"#888\" stroke-width=\"{pen}\" stroke-dasharray=\"{} {}\"",
                8.0 * pen,
                4.0 * pen
            ),
        ),
        (&view.visible, format!("stroke=\"#000\" stroke-width=\"{}\"", 1.6 * pen)),
    ];
    for (strokes, pen) in groups {
        let _ = writeln!(out, "<g {pen}>");
        let place = Placement { at: pt(0.0, 0.0), scale: 1.0 };
        for s in strokes {
            let mut steps = Vec::new();
            push(s, &place, &mut steps);
            let word = |step: &Step| match *step {
                Step::Move(p) => format!("M{:.3} {:.3}", p.x, p.y),
                Step::Line(p) => format!("L{:.3} {:.3}", p.x, p.y),
                Step::Cubic(a, b, p) => {
                    format!("C{:.3} {:.3} {:.3} {:.3} {:.3} {:.3}", a.x, a.y, b.x, b.y, p.x, p.y)
                }
                Step::Close => "Z".into(),
            };
            let words: Vec<String> = steps.iter().map(word).collect();
            let _ = writeln!(out, "<path d=\"{}\"/>", words.join(""));
        }
        out.push_str("</g>\n");
    }
    let _ = writeln!(out, "<g stroke=\"#000\" stroke-width=\"{}\">", 0.6 * pen);
    for h in hatching {
        let _ = writeln!(out, "<polyline points=\"{:.3},{:.3} {:.3},{:.3}\"/>", h.a.x, -h.a.y, h.b.x, -h.b.y);
    }
    out + "</g>\n</svg>\n"
}
