//! Reference drawings: what was looked at once and found good stays so until somebody looks again.
//!
//! In: the demo plans. Out: each drawing, byte for byte the file in `tests/references`, or a list of those that are
//! not, with the command that shows old and new side by side.
//! Always true: every drawing stands for one question, and every file belongs to a drawing.
//! With TURNLEAF_REVIEW=FOLDER the drawings are written there instead, with their questions.

use serde_json::json;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use turnleaf_page::{Page, Paper, pt};
use turnleaf_parts::Layer;
use turnleaf_plan::planfile::Plan;
use turnleaf_plan::units::{Denominator, InchPrint, MmStep, PrintUnits};
use turnleaf_plan::{Assembly, outline};
use turnleaf_sheet::{Projection, SheetOptions, TitleData, part_sheet};
use turnleaf_svg::page_svg;

/// Tables the drawings are of. Demo data: invented for this project.
struct Tables {
    /// Six sectors, metric, arms.
    six: Assembly,
    /// Eight sectors, inches.
    eight: Assembly,
    /// Five sectors, small.
    five: Assembly,
    /// Six sectors, driven by a cam.
    cam: Assembly,
    /// Twelve sectors, two metres.
    twelve: Assembly,
}

fn plan(text: &str) -> Plan {
    Plan::parse(text.as_bytes()).expect("a plan of the project's own").0
}

impl Tables {
    fn new() -> Tables {
        let demo = |text: &str| outline(&plan(text)).expect("a demo plan has a mechanism");
        let metric = || Plan::default_metric();
        let mut cam = metric();
        cam.set_option("drive", "cam").expect("an option of the plan file");
        let mut twelve = metric();
        for (field, text) in [
            ("closed_diameter", "2000 mm"),
            ("open_diameter", "2500 mm"),
            ("sectors", "12"),
            ("stock_thickness", "18.2 mm"),
        ] {
            twelve.set(field, text).expect("a size of the plan file");
        }
        Tables {
            six: demo(include_str!("../../demo/reading-room.json")),
            eight: demo(include_str!("../../demo/map-room.json")),
            five: demo(include_str!("../../demo/window-table.json")),
            cam: outline(&cam).expect("the usual table has a cam"),
            twelve: outline(&twelve).expect("a table of twelve sectors has a mechanism"),
        }
    }
}

/// One drawing and the question it answers.
struct Reference {
    name: &'static str,
    question: &'static str,
    draw: Box<dyn Fn(&Tables) -> String>,
}

fn options(units: PrintUnits, paper: Paper, projection: Projection) -> SheetOptions {
    let title = TitleData {
        project: "Reference table (demo)".into(),
        document_type: "Part drawing".into(),
        ..TitleData::default()
    };
    SheetOptions { units, paper, projection, title, ..SheetOptions::default() }
}

const METRIC: PrintUnits = PrintUnits::Mm(MmStep::TENTH);
const INCH: PrintUnits = PrintUnits::Inch(InchPrint { denominator: Denominator::ThirtyTwo, feet: false });

/// The first sheet of a part.
fn first_sheet(table: &Assembly, part: &str, o: &SheetOptions) -> String {
    let part = table.parts.iter().find(|p| p.id == part).unwrap_or_else(|| panic!("there is no {part}"));
    let (pages, said, proof) = part_sheet(part, o);
    assert!(proof.holds(), "{}: {said:?}", part.id);
    page_svg(pages.first().unwrap_or_else(|| panic!("{} has no sheet", part.id)))
}

type Pick = fn(&Tables) -> &Assembly;

fn sheet(name: &'static str, part: &'static str, pick: Pick, question: &'static str) -> Reference {
    let draw = move |t: &Tables| {
        let o = match name.split_once('-').map(|(first, _)| first) {
            Some("inch") => options(INCH, Paper::Letter, Projection::Third),
            _ => options(METRIC, Paper::A4, Projection::First),
        };
        first_sheet(pick(t), part, &o)
    };
    Reference { name, question, draw: Box::new(draw) }
}

/// A view of some pieces at a turn, as a page just large enough.
fn sight(
    name: &'static str,
    wanted: &'static [&'static str],
    share: f64,
    way: Way,
    pick: Pick,
    question: &'static str,
) -> Reference {
    let draw = move |t: &Tables| view_page(name, pick(t), wanted, share, way);
    Reference { name, question, draw: Box::new(draw) }
}

/// A way of looking.
#[derive(Clone, Copy)]
enum Way {
    /// Isometric, from above.
    Corner,
    /// From above, hidden edges dashed.
    Plan,
    /// From the front, hidden edges dashed.
    Front,
    /// Cut upright through the centre, hatched.
    Cut,
}

fn view_page(name: &str, a: &Assembly, wanted: &[&str], share: f64, way: Way) -> String {
    use turnleaf_views::paper::{Placement, Widths, hatch_item, items};
    use turnleaf_views::{Body, Corner, Cut, Options, hatch, project, section, v3};
    let turn = a.mechanism.turn() * share;
    let pieces = a.pieces.iter().filter(|p| wanted.is_empty() || wanted.contains(&a.part_of(p).id.as_str()));
    let bodies: Vec<Body> = pieces
        .map(|p| {
            let place = a.place(p, turn);
            let layers: Arc<[Layer]> = Arc::from(a.part_of(p).layers.as_slice());
            Body::upright(p.id.clone(), layers, &place.pose, place.z)
        })
        .collect();
    let seen = Options { hidden: false, smooth: false };
    let through = Options { hidden: true, smooth: false };
    let (view, lines) = match way {
        Way::Corner => (
            project(&bodies, &[], &turnleaf_views::Projection::Isometric(Corner::default()), &seen),
            Vec::new(),
        ),
        Way::Plan => (project(&bodies, &[], &turnleaf_views::Projection::Plan, &through), Vec::new()),
        Way::Front => (project(&bodies, &[], &turnleaf_views::Projection::Front, &through), Vec::new()),
        Way::Cut => {
            let cut = Cut { point: v3(0.0, 0.0, 0.0), normal: v3(0.0, -1.0, 0.0) };
            let s = section(&bodies, &cut, &|b| b.id.contains("pin") || b.id.contains("shaft"), &seen);
            let lines = hatch(&s.areas, 25.0);
            (s.view, lines)
        }
    };
    let (low, high) = view.bounds;
    let size = high - low;
    let scale = (240.0 / size.x.max(size.y)).min(1.0);
    let placement = Placement { at: pt(10.0 - low.x * scale, 10.0 + high.y * scale), scale };
    let widths = Widths::default();
    let mut page_items = items(&view, &placement, &widths);
    if !lines.is_empty() {
        page_items.push(hatch_item(&lines, &placement, &widths));
    }
    page_svg(&page(name, size.x * scale + 20.0, size.y * scale + 20.0, page_items))
}

fn page(name: &str, width: f64, height: f64, items: Vec<turnleaf_page::Item>) -> Page {
    Page { id: name.into(), title: name.into(), label: String::new(), width, height, items }
}

/// Every drawing. A question is what one asks of the drawing before it is accepted.
fn all() -> Vec<Reference> {
    let six: Pick = |t| &t.six;
    let eight: Pick = |t| &t.eight;
    let five: Pick = |t| &t.five;
    let cam: Pick = |t| &t.cam;
    let twelve: Pick = |t| &t.twelve;
    vec![
        sheet(
            "panel",
            "panel",
            six,
            "Can the sector be struck and its grooves be cut from this sheet alone?",
        ),
        sheet(
            "leaf",
            "leaf",
            six,
            "Is the V end given by its angle and tip, and the tongue by depth and thickness?",
        ),
        sheet(
            "star",
            "star",
            six,
            "Can every point of the star be marked out without copying it from a picture?",
        ),
        sheet("panel-slide", "panel-slide", six, "Are all holes given from the same end?"),
        sheet("leaf-slide", "leaf-slide", six, "Is the pin's hole told apart from the screw holes?"),
        sheet("panel-guide", "panel-guide", six, "Is the groove for the slide given with depth and width?"),
        sheet("leaf-guide", "leaf-guide", six, "Does it differ from the panel's guide in plain figures?"),
        sheet("panel-post", "panel-post", six, "Is the length along the grain the longest figure?"),
        sheet("leaf-riser", "leaf-riser", six, "Can a short piece be read without crowded arrows?"),
        sheet("panel-arm", "panel-arm", six, "Can the bow be drawn with a compass from the figures given?"),
        sheet(
            "leaf-arm",
            "leaf-arm",
            six,
            "Is the distance from pin to pin given straight, not along the bow?",
        ),
        sheet("turning-plate", "turning-plate", six, "Are equal holes dimensioned once and counted?"),
        sheet("rising-plate", "rising-plate", six, "Are recesses, slots and bushing holes told apart?"),
        sheet("stiffening-ring", "stiffening-ring", six, "Are both radii given, and neither twice?"),
        sheet("star-hub", "star-hub", six, "Is the bore's centre tied to the outline?"),
        sheet("star-lever", "star-lever", six, "Are pivot, middle and tip given from one another?"),
        sheet("base-upper-ply", "base-upper-ply", six, "Are the ramp pockets given by angle and radius?"),
        sheet(
            "base-lower-ply",
            "base-lower-ply",
            six,
            "Do its holes match those of the ply above in the figures printed?",
        ),
        sheet("ramp-outer", "ramp-outer", six, "Is the slope to be cut clear, and where it begins and ends?"),
        sheet("ramp-inner", "ramp-inner", six, "Is it told apart from the outer ramp at a glance?"),
        sheet("glide-ring", "glide-ring", six, "Is a thin ring drawn so that its width can be seen?"),
        sheet("leg", "leg", six, "Does a long piece fit its sheet at a preferred scale?"),
        sheet("rail-long", "rail-long", six, "Is the knee's curve dimensioned?"),
        sheet("rail-short", "rail-short", six, "Does the joint with the long rail agree in figures?"),
        sheet("inch-panel", "panel", eight, "Are inches printed as reduced fractions throughout?"),
        sheet("inch-leaf", "leaf", eight, "Do narrow gaps still take their fractions?"),
        sheet("inch-star", "star", eight, "Do eight points stay readable on Letter?"),
        sheet("inch-rising-plate", "rising-plate", eight, "Do fractions in a hole table line up?"),
        sheet("inch-panel-arm", "panel-arm", eight, "Does third angle carry its own symbol?"),
        sheet("five-panel", "panel", five, "Is an odd number of sectors no trouble?"),
        sheet("five-star", "star", five, "Is a star without mirror points complete?"),
        sheet(
            "five-base-upper-ply",
            "base-upper-ply",
            five,
            "Do pockets of a small table keep their figures apart?",
        ),
        sheet(
            "twelve-panel",
            "panel",
            twelve,
            "Can a narrow sector of a metre's radius be dimensioned on A4?",
        ),
        sheet("twelve-star", "star", twelve, "Are twelve points given by one and a count?"),
        sheet("twelve-turning-plate", "turning-plate", twelve, "Does a crowded plate keep its text apart?"),
        sight("cam-seen", &["cam-plate"], 0.0, Way::Plan, cam, "Do the spiral slots keep wood between them?"),
        sight("iso-closed", &[], 0.0, Way::Corner, six, "Does the closed table look like one, feet and all?"),
        sight("iso-open", &[], 1.0, Way::Corner, six, "Do the leaves lie flush in their gaps?"),
        sight("iso-open-eight", &[], 1.0, Way::Corner, eight, "Is it right for eight sectors?"),
        sight(
            "plan-half",
            &["panel", "leaf", "star"],
            0.5,
            Way::Plan,
            six,
            "Are hidden edges dashed, and only those?",
        ),
        sight(
            "plan-arms",
            &["panel-arm", "leaf-arm", "base-upper-ply"],
            0.6,
            Way::Plan,
            six,
            "Do the arms pass without touching?",
        ),
        sight(
            "front-closed",
            &[],
            0.0,
            Way::Front,
            six,
            "Is the stack seen from the front in its true heights?",
        ),
        sight(
            "cut-closed",
            &[],
            0.0,
            Way::Cut,
            six,
            "Can panel, leaf and star be told apart by their hatching?",
        ),
        sight("cut-open", &[], 1.0, Way::Cut, six, "Have leaves and star risen flush in the section?"),
        sight(
            "cut-hub",
            &["star-hub", "star-shaft", "keeping-pin", "centre-post", "bushing"],
            0.0,
            Way::Cut,
            six,
            "Are shafts and pins left whole?",
        ),
        sight(
            "levers",
            &["star-lever", "star-hub", "rising-plate"],
            0.0,
            Way::Corner,
            six,
            "Do the levers lie in their recesses?",
        ),
    ]
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("references")
}

#[test]
fn drawings_are_as_they_were_accepted() {
    let (tables, all) = (Tables::new(), all());
    let drawn: Vec<(&Reference, String)> = all.iter().map(|r| (r, (r.draw)(&tables))).collect();
    if let Some(out) = std::env::var_os("TURNLEAF_REVIEW").map(PathBuf::from) {
        std::fs::create_dir_all(&out).expect("the folder for the review");
        let index: Vec<_> = all.iter().map(|r| json!({"name": r.name, "question": r.question})).collect();
        std::fs::write(out.join("index.json"), json!(index).to_string()).expect("the list of drawings");
        for (r, svg) in &drawn {
            std::fs::write(out.join(format!("{}.svg", r.name)), svg).expect("a drawing");
        }
        return;
    }
    let accepted = |name: &str| std::fs::read_to_string(folder().join(format!("{name}.svg"))).ok();
    let other: Vec<&str> =
        drawn.iter().filter(|(r, svg)| accepted(r.name).as_ref() != Some(svg)).map(|(r, _)| r.name).collect();
    assert!(
        other.is_empty(),
        "{} of {} drawings are not as they were accepted: {}. Look at old and new with `cargo xtask review`.",
        other.len(),
        drawn.len(),
        other.join(", ")
    );
}

#[test]
fn every_file_belongs_to_a_drawing_and_every_name_to_one_question() {
    let all = all();
    assert!(all.len() >= 40, "{} drawings", all.len());
    for r in &all {
        assert!(r.question.ends_with('?'), "{}", r.question);
        let same = |o: &&Reference| o.name == r.name || o.question == r.question;
        assert_eq!(all.iter().filter(same).count(), 1, "{}", r.name);
    }
    for entry in std::fs::read_dir(folder()).expect("the references").flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        let known = all.iter().any(|r| name == format!("{}.svg", r.name));
        assert!(known, "tests/references/{name} belongs to no drawing");
    }
}

/// A drawing that was changed by one hair is seen.
#[test]
fn a_moved_line_is_seen() {
    let tables = Tables::new();
    let before = first_sheet(&tables.six, "leaf", &options(METRIC, Paper::A4, Projection::First));
    let mut moved = tables.six.clone();
    let leaf = moved.parts.iter_mut().find(|p| p.id == "leaf").expect("a leaf");
    leaf.thickness += 0.2;
    let after = first_sheet(&moved, "leaf", &options(METRIC, Paper::A4, Projection::First));
    assert_ne!(before, after);
}
