//! Measures how long the main job takes and how that grows, and writes down the same work for other libraries.
//!
//! In: a folder for the work of the others. Out: a report in Markdown on the standard output; in the folder `cases.json`
//! with the outlines and pages that were timed here and our times, for `tests/python/side_by_side.py`.
//! With `pages` after the folder only what books of many pages cost.
//! Always true: each time is the median of the runs stated; nothing is judged. Run it built for release, on a machine
//! that does nothing else: `cargo xtask measure` does.

mod long;

use core::f64::consts::PI;
use serde_json::{Value, json};
use std::hint::black_box;
use std::path::Path;
use std::time::Instant;
use turnleaf_fit::{Goal, Wish, fit};
use turnleaf_geom::boolean::{BooleanOp, combine};
use turnleaf_geom::vec2::v;
use turnleaf_geom::{Pose2, Prepared, Region, Ring, Vec2, Vertex, trig};
use turnleaf_mechanism::DriveKind;
use turnleaf_page::{Document, Item, Page, Step, Stroke, Text, pt};
use turnleaf_plan::planfile::{Date, Revision};
use turnleaf_plan::{BookOptions, Chapters, Plan, StockOnHand, build, pdf, sizes};

/// How fine round edges are for libraries that know only straight ones, mm.
const FLAT: f64 = 0.01;

/// Median of so many runs, ms.
fn time<T>(runs: usize, mut work: impl FnMut() -> T) -> f64 {
    let mut took: Vec<f64> = (0..runs)
        .map(|_| {
            let since = Instant::now();
            black_box(work());
            since.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    took.sort_by(f64::total_cmp);
    took[took.len() / 2]
}

fn demo(name: &str) -> Plan {
    let path = format!("{}/../demo/{name}.json", env!("CARGO_MANIFEST_DIR"));
    Plan::parse(&std::fs::read(path).expect("a demo plan")).expect("the demo opens").0
}

fn head(title: &str, columns: &[&str]) {
    println!("\n### {title}\n");
    println!("| {} |", columns.join(" | "));
    println!("|{}", "---|".repeat(columns.len()));
}

fn row(cells: &[String]) {
    println!("| {} |", cells.join(" | "));
}

fn one_table() {
    head(
        "One table and its book, ms",
        &[
            "plan",
            "pages",
            "PDF, kB",
            "solve",
            "motion proof",
            "everything but the book",
            "compose",
            "write the PDF",
            "plan file to PDF",
        ],
    );
    for name in ["reading-room", "map-room", "window-table"] {
        let plan = demo(name);
        let s = sizes(&plan);
        let built = build(&plan).expect("the demo builds");
        let options = BookOptions::of(&plan);
        let document = built.book(&options).0;
        let bytes = pdf(&document).expect("written").len();
        let text = plan.to_json();
        row(&[
            name.into(),
            document.pages.len().to_string(),
            (bytes / 1000).to_string(),
            format!("{:.2}", time(101, || turnleaf_mechanism::solve(&s).is_ok())),
            format!("{:.1}", time(15, || turnleaf_motion::prove(&built.assembly).looks)),
            format!("{:.1}", time(15, || build(&plan).is_ok())),
            format!("{:.0}", time(9, || built.book(&options).0.pages.len())),
            format!("{:.0}", time(9, || pdf(&document).map(|b| b.len()).ok())),
            format!(
                "{:.0}",
                time(9, || {
                    let plan = Plan::parse(text.as_bytes()).expect("reads").0;
                    let built = build(&plan).expect("builds");
                    pdf(&built.book(&BookOptions::of(&plan)).0).map(|b| b.len()).ok()
                })
            ),
        ]);
    }
}

fn fits() {
    head("Fitting sizes to a wish, and limits of a size, ms", &["wish", "median of 5"]);
    let wish = |sectors, drive, goal| Wish {
        closed_diameter: 1200.0,
        open_diameter: 1650.0,
        sectors,
        stock_thickness: 19.0,
        height: 740.0,
        drive,
        goal,
    };
    for (name, w) in [
        ("6 sectors, arms", wish(6, DriveKind::Arms, Goal::Margin)),
        ("11 sectors, arms", wish(11, DriveKind::Arms, Goal::Margin)),
        ("6 sectors, cam", wish(6, DriveKind::Cam, Goal::Margin)),
        ("6 sectors, arms, thinnest top", wish(6, DriveKind::Arms, Goal::ThinnestTop)),
    ] {
        row(&[name.into(), format!("{:.0}", time(5, || fit(&w).is_ok()))]);
    }
    let s = sizes(&demo("reading-room"));
    row(&[
        "limits of the height".into(),
        format!("{:.0}", time(3, || turnleaf_plan::interval(&s, "height"))),
    ]);
}

fn by_sectors() {
    head(
        "How cost grows with the number of sectors (1,200 mm closed, as far open as goes), ms",
        &["sectors", "pieces", "parts", "solve", "motion proof", "compose", "pages", "compose, a page"],
    );
    for sectors in 4..=12_u32 {
        // The widest opening of a few that gives a table.
        let plan = (0..12).find_map(|k| {
            let mut plan = Plan::default_metric();
            let open = 1700 - 50 * k;
            plan.set("sectors", &sectors.to_string()).ok()?;
            plan.set("open_diameter", &format!("{open} mm")).ok()?;
            build(&plan).ok().map(|built| (plan, built))
        });
        let Some((plan, built)) = plan else { continue };
        let s = sizes(&plan);
        let options = BookOptions::of(&plan);
        let pages = built.book(&options).0.pages.len();
        let compose = time(5, || built.book(&options).0.pages.len());
        row(&[
            sectors.to_string(),
            built.assembly.pieces.len().to_string(),
            built.assembly.parts.len().to_string(),
            format!("{:.2}", time(51, || turnleaf_mechanism::solve(&s).is_ok())),
            format!("{:.1}", time(9, || turnleaf_motion::prove(&built.assembly).looks)),
            format!("{compose:.0}"),
            pages.to_string(),
            format!("{:.2}", compose / pages as f64),
        ]);
    }
}

fn by_pages() {
    head(
        "How cost grows with pages, ms",
        &[
            "book",
            "pages",
            "compose",
            "write",
            "compose, a page",
            "write, a page",
            "PDF, kB a page",
            "most memory, MB",
        ],
    );
    let all = "whole,templates";
    let wide = |closed: &str, open: &str| {
        let mut plan = Plan::default_metric();
        let set = [("closed_diameter", closed), ("open_diameter", open)]
            .map(|(id, text)| plan.set(id, text).is_ok());
        (set == [true, true]).then_some(plan)
    };
    let mut books = vec![
        ("reading room, for the shop", Some(demo("reading-room")), "shop"),
        ("reading room", Some(demo("reading-room")), "whole"),
        ("reading room with templates", Some(demo("reading-room")), all),
        ("1,500 mm with templates", wide("1500 mm", "2050 mm"), all),
        ("2,000 mm with templates", wide("2000 mm", "2700 mm"), all),
    ];
    books.extend(long::BOOKS.map(|(name, own)| (name, long::plan(demo("reading-room"), own), "whole")));
    for (name, plan, chapters) in books {
        let Some(plan) = plan else { continue };
        let memory = long::memory(&plan, chapters);
        let Ok(built) = build(&plan) else { continue };
        let chapters = Chapters::read(chapters).expect("chapters there are");
        let options = BookOptions { chapters, ..BookOptions::of(&plan) };
        let document = built.book(&options).0;
        let pages = document.pages.len() as f64;
        let (compose, write) = (
            time(5, || built.book(&options).0.pages.len()),
            time(5, || pdf(&document).map(|b| b.len()).ok()),
        );
        let bytes = pdf(&document).map_or(0, |b| b.len());
        row(&[
            name.into(),
            format!("{pages}"),
            format!("{compose:.0}"),
            format!("{write:.0}"),
            format!("{:.2}", compose / pages),
            format!("{:.2}", write / pages),
            format!("{:.1}", bytes as f64 / 1000.0 / pages),
            memory,
        ]);
    }
}

fn by_revisions() {
    head(
        "How cost grows with issued revisions, ms",
        &[
            "revisions",
            "plan file, kB",
            "read the file",
            "issue one more",
            "make the first again",
            "compare first and last",
        ],
    );
    let mut plan = demo("window-table");
    let heights = [
        "741 mm", "742 mm", "743 mm", "744 mm", "745 mm", "746 mm", "747 mm", "748 mm", "749 mm", "750 mm",
        "751 mm", "752 mm",
    ];
    for (k, height) in heights.iter().enumerate() {
        if plan.set("height", height).is_err() {
            continue;
        }
        let date = Date::parse(&format!("2026-{:02}-01", k + 1));
        let revision = Revision { date, ..plan.revision().clone() };
        if plan.set_revision(revision).is_err() {
            continue;
        }
        let mut issued = Err(Vec::new());
        let took = time(1, || issued = turnleaf_plan::issue(&mut plan));
        if let Err(said) = issued {
            println!("revision {} was not issued: {:?}", k + 1, said.first().map(|d| &d.sentence));
            return;
        }
        if ![1, 2, 4, 8, 12].contains(&(k + 1)) {
            continue;
        }
        let text = plan.to_json();
        let marks: Vec<String> = plan.revisions().iter().map(|r| r.mark.clone()).collect();
        let edition = |mark: &String| {
            plan.issued(mark).and_then(Result::ok).and_then(|p| turnleaf_plan::Edition::of(&p).ok())
        };
        let (Some(first), Some(last)) = (marks.first().and_then(edition), marks.last().and_then(edition))
        else {
            return;
        };
        row(&[
            (k + 1).to_string(),
            (text.len() / 1000).to_string(),
            format!("{:.1}", time(9, || Plan::parse(text.as_bytes()).is_ok())),
            format!("{took:.0}"),
            format!("{:.0}", time(3, || turnleaf_plan::again(&plan, &marks[0]).is_ok_and(|a| a.same))),
            format!("{:.0}", time(3, || turnleaf_plan::compare_editions(&first, &last).parts.len())),
        ]);
    }
}

fn layouts() {
    head("Cutting layouts at the book's effort, ms", &["plan", "nested anew"]);
    for name in ["reading-room", "map-room", "window-table"] {
        let built = build(&demo(name)).expect("the demo builds");
        let stock = StockOnHand::of(&built.plan, &built.assembly);
        // The first look nests; the layouts found last are remembered, so only this one is timed.
        let took = time(1, || built.cutting_layouts(&stock).is_ok());
        row(&[name.into(), format!("{took:.0}")]);
    }
}

/// A round plate with six slots and six holes, and an arm bent away from the middle.
fn plate_and_arm() -> (Region, Region) {
    let mut plate = Region::from(Ring::circle(Vec2::ZERO, 400.0));
    for k in 0..6 {
        let at = |radius: f64| Vec2::polar(radius, k as f64 * PI / 3.0);
        plate.holes.push(Ring::slot(at(150.0), at(330.0), 15.0).reversed());
        plate.holes.push(Ring::circle(Vec2::polar(250.0, (k as f64 + 0.5) * PI / 3.0), 10.0).reversed());
    }
    let corner = |x: f64, y: f64, bulge: f64| Vertex { p: v(x, y), bulge };
    let vertices = vec![
        corner(0.0, -10.0, 0.3),
        corner(300.0, -10.0, 1.0),
        corner(300.0, 10.0, -0.28),
        corner(0.0, 10.0, 1.0),
    ];
    (plate, Ring { vertices }.into())
}

/// A disc, and what panels and leaves take of it.
fn star() -> (Region, Vec<Region>) {
    let (n, rim, e, shoulder) = (6, 600.0, 225.0, 400.6);
    let h = PI / n as f64;
    let half = e * trig::sin(h);
    let mut out = Vec::new();
    for k in 0..n {
        let mid = 2.0 * h * k as f64;
        let vertices = vec![
            Vertex { p: Vec2::ZERO, bulge: 0.0 },
            Vertex { p: Vec2::polar(rim, -h), bulge: trig::tan(h / 2.0) },
            Vertex { p: Vec2::polar(rim, h), bulge: 0.0 },
        ];
        out.push(Ring { vertices }.moved(&Pose2::new(mid, Vec2::polar(e, mid))).into());
        let leaf =
            [v(shoulder - half, 0.0), v(shoulder, -half), v(780.0, -half), v(780.0, half), v(shoulder, half)];
        out.push(Ring::polygon(&leaf).moved(&Pose2::new(mid + h, Vec2::ZERO)).into());
    }
    (Region::from(Ring::circle(Vec2::ZERO, 780.0)), out)
}

fn flat(region: &Region) -> Value {
    let rings = region
        .rings()
        .map(|ring| ring.flatten(FLAT).into_iter().map(|p| json!([p.x, p.y])).collect::<Vec<_>>());
    json!(rings.collect::<Vec<_>>())
}

/// A page of 500 lines and 60 strings.
fn page(number: usize) -> (Page, Value) {
    let (mut items, mut lines, mut words) = (Vec::new(), Vec::new(), Vec::new());
    for i in 0..500 {
        let (x, y) = (15.0 + (i % 25) as f64 * 7.0, 15.0 + (i / 25) as f64 * 13.0);
        let (dx, dy) = (((i * 7 + number) % 11) as f64 - 5.0, ((i * 3 + number) % 9) as f64 - 4.0);
        let steps = vec![Step::Move(pt(x, y)), Step::Line(pt(x + dx, y + dy))];
        items.push(Item::Path { steps, stroke: Some(Stroke::solid(0.25)), fill: None });
        lines.push(json!([x, y, x + dx, y + dy]));
    }
    for i in 0..60 {
        let (x, y) = (15.0 + 95.0 * f64::from(i % 2), 20.0 + 8.0 * f64::from(i / 2));
        let text = format!("{}.{} mm, part {i} of page {number}", 100 + i * 7, i % 10);
        words.push(json!([x, y, &text]));
        items.push(Item::Text(Text::new(pt(x, y), 3.5, text)));
    }
    let (label, id, title) = (number.to_string(), format!("page/{number}"), format!("Page {number}"));
    let page = Page { width: 210.0, height: 297.0, label, id, title, items };
    (page, json!({ "lines": lines, "words": words }))
}

fn for_others(folder: &Path) {
    let (plate, arm) = plate_and_arm();
    let poses: Vec<f64> = (0..64).map(|i| f64::from(i) * 2.0 * PI / 64.0).collect();
    let place = |turn: f64| Pose2::new(turn, Vec2::polar(120.0, turn * 3.0));
    let (a, b) = (Prepared::new(&plate), Prepared::new(&arm));
    let found: Vec<f64> =
        poses.iter().map(|t| a.clearance(&Pose2::default(), &b, &place(*t)).distance).collect();
    let clearance = time(51, || {
        poses.iter().map(|t| a.clearance(&Pose2::default(), &b, &place(*t)).distance).sum::<f64>()
    }) / 64.0;
    let (disc, pieces) = star();
    let whole = [disc];
    let rest = combine(BooleanOp::Difference, &whole, &pieces).expect("sound outlines");
    let area: f64 = rest.iter().map(Region::area).sum();
    let boolean = time(51, || combine(BooleanOp::Difference, &whole, &pieces).is_ok());
    let made: Vec<(Page, Value)> = (1..=40).map(page).collect();
    let document = Document {
        title: "Forty pages".into(),
        language: "en".into(),
        pages: made.iter().map(|(page, _)| page.clone()).collect(),
        date: "1970-01-01".into(),
        ..Document::default()
    };
    let written = time(9, || turnleaf_plan::pdf(&document).map(|b| b.len()).ok());
    let bytes = turnleaf_plan::pdf(&document).map_or(0, |b| b.len());
    let cases = json!({
        "clearance": {
            "ms": clearance, "plate": flat(&plate), "arm": flat(&arm),
            "poses": poses.iter().map(|t| { let p = place(*t); json!([p.angle(), p.offset.x, p.offset.y]) }).collect::<Vec<_>>(),
            "found": found,
        },
        "boolean": { "ms": boolean, "disc": flat(&whole[0]), "pieces": pieces.iter().map(flat).collect::<Vec<_>>(), "area": area },
        "pdf": { "ms": written, "bytes": bytes, "pages": made.into_iter().map(|(_, page)| page).collect::<Vec<_>>() },
    });
    std::fs::write(folder.join("cases.json"), cases.to_string()).expect("cases.json can be written");
}

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let folder = match args.as_slice() {
        [flag, file, chapters] if flag == long::FLAG => return long::one_book(file, chapters),
        [folder, ..] => folder,
        [] => panic!("a folder for the work of others"),
    };
    std::fs::create_dir_all(folder).expect("the folder can be made");
    if args.get(1).is_some_and(|only| only == "pages") {
        return by_pages();
    }
    println!("## Natively");
    one_table();
    fits();
    by_sectors();
    by_pages();
    by_revisions();
    layouts();
    for_others(Path::new(folder));
}
