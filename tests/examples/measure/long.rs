//! Books of many pages, and how much memory a book takes.
//!
//! In: a plan, how many steps of the maker's own. Out: a plan with that many more, two pages each of words with live
//! numbers and a picture; the most memory that a process of its own holds while it makes a book.
//! Always true: the same number gives the same plan; every limit of a plan file is kept (200 steps, 2 MB of pictures).

use std::process::Command;
use turnleaf_plan::planfile::{Picture, StepChange};
use turnleaf_plan::{BookOptions, Chapters, Plan, build, pdf};

/// Long books: name, steps of the maker's own.
pub const BOOKS: [(&str, usize); 3] = [
    ("reading room with 14 steps more", 14),
    ("reading room with 63 steps more", 63),
    ("reading room with 162 steps more", 162),
];

/// The argument that makes one book and tells the memory it took.
pub const FLAG: &str = "--memory-of";

/// A sentence that workshop notes could hold, with a number of the table in it.
const SENTENCES: [&str; 4] = [
    "Lay the piece on a flat bench with its best face down and wipe the dust out of every groove before the next pass. ",
    "Turn the top by hand to [=turn.whole] and back, and look at the rim from the side at every quarter of the way. ",
    "Where a finger feels a step, take the piece out again and plane a shaving off its lower face, never off the top. ",
    "The radius is [=closed.radius] here as on the sheet; measure it from the pin and not from the edge of a panel. ",
];

/// A picture of bands, 240 by 160 dots, another for each number.
fn picture(number: usize) -> Option<Picture> {
    let (width, height) = (240_u32, 160_u32);
    let dots: Vec<u8> = (0..width * height)
        .map(|i| {
            let (x, y) = (i % width, i / width);
            ((x * y / 40 + x * number as u32 / 7 + y) % 256) as u8
        })
        .collect();
    let mut file = Vec::new();
    let mut encoder = png::Encoder::new(&mut file, width, height);
    encoder.set_color(png::ColorType::Grayscale);
    encoder.write_header().ok()?.write_image_data(&dots).ok()?;
    Picture::new(&file, format!("Bands at step {number} (demo)")).ok()
}

/// The plan with so many steps more.
pub fn plan(mut plan: Plan, own: usize) -> Option<Plan> {
    let mut steps = plan.steps().to_vec();
    for number in 1..=own {
        // Nine paragraphs of seven sentences and a picture: about two pages.
        let paragraph = |k: usize| (0..7).map(|i| SENTENCES[(number + k + i) % SENTENCES.len()]).collect();
        let mut step = StepChange::of(format!("own/{number}"));
        step.title = Some(format!("Workshop note {number}"));
        step.text = Some((0..9).map(paragraph).collect());
        step.pictures = picture(number).into_iter().collect();
        steps.push(step);
    }
    match plan.set_steps(steps) {
        Ok(()) => Some(plan),
        Err(said) => {
            println!("{own} steps more cannot be had: {}", said.sentence);
            None
        }
    }
}

/// The most memory that a process of its own holds while it makes a book of the plan, MB; a dash where the system does
/// not say.
pub fn memory(plan: &Plan, chapters: &str) -> String {
    let file = std::env::temp_dir().join(format!("turnleaf-measure-{}.json", std::process::id()));
    let told = std::fs::write(&file, plan.to_json()).and_then(|()| {
        let program = std::env::current_exe()?;
        Command::new(program).arg(FLAG).arg(&file).arg(chapters).output()
    });
    let _ = std::fs::remove_file(&file);
    let text = told.map(|o| String::from_utf8_lossy(&o.stdout).trim().to_string()).unwrap_or_default();
    if text.is_empty() { "–".into() } else { text }
}

/// Makes one book and prints the most memory held meanwhile, MB.
pub fn one_book(file: &str, chapters: &str) {
    let plan = Plan::parse(&std::fs::read(file).expect("the plan is there")).expect("the plan opens").0;
    let chapters = Chapters::read(chapters).expect("chapters there are");
    let options = BookOptions { chapters, ..BookOptions::of(&plan) };
    let built = build(&plan).expect("the plan builds");
    let written = pdf(&built.book(&options).0).is_ok();
    let said = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let held = said.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kilobytes = held.and_then(|text| text.trim().trim_end_matches("kB").trim().parse::<f64>().ok());
    if let (true, Some(kilobytes)) = (written, kilobytes) {
        println!("{:.0}", kilobytes / 1000.0);
    }
}
