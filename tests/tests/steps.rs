//! The chapter of building steps as it is printed, read back by poppler and held against the solved numbers; pictures
//! of the maker in the finished file, looked at by qpdf and poppler.

use std::path::{Path, PathBuf};
use std::process::Command;
use turnleaf_plan::planfile::{Language, Picture, PrintChoice, StepChange};
use turnleaf_plan::{BookOptions, Chapter, Chapters, Plan, Unit, build, number_text, page_svg, pdf};

fn demo(name: &str) -> Plan {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo").join(name);
    Plan::parse(&std::fs::read(path).unwrap()).unwrap().0
}

fn out(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("steps");
    std::fs::create_dir_all(&folder).unwrap();
    folder.join(name)
}

fn run(program: &str, words: &[&str]) -> String {
    let done = Command::new(program).args(words).output();
    let done = done.unwrap_or_else(|e| panic!("{program} is needed by this test and cannot be started: {e}"));
    assert!(done.status.success(), "{program} {words:?}: {}", String::from_utf8_lossy(&done.stderr));
    String::from_utf8_lossy(&done.stdout).into_owned()
}

fn options(plan: &Plan, language: Language, units: PrintChoice) -> BookOptions {
    let mut o = BookOptions::of(plan);
    (o.language, o.print.units) = (language, units);
    o.chapters = Chapters::NONE.with(Chapter::Steps);
    o
}

/// Words with single spaces between; a word that a line broke at its own hyphen is whole again.
fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ").replace("- ", "-")
}

/// Every solved number referred to in a step of the maker's, in one paragraph each, as `turnleaf numbers` gives it; and
/// every sentence of the generated steps whole, page feet left out.
#[test]
fn numbers_in_the_printed_steps_are_the_solved_ones() {
    for (language, units) in [(Language::En, PrintChoice::Mm), (Language::De, PrintChoice::Inch)] {
        let mut plan = demo("reading-room.json");
        let numbers = build(&plan).unwrap().numbers;
        let changes: Vec<StepChange> = numbers
            .chunks(10)
            .enumerate()
            .map(|(i, some)| {
                let mut own = StepChange::of(format!("own/{}", i + 1));
                own.title = Some(format!("Numbers {}", i + 1));
                own.text = Some(some.iter().map(|n| format!("{} is [={}] here.", n.id, n.id)).collect());
                own
            })
            .collect();
        plan.set_steps(changes).unwrap();
        let b = build(&plan).unwrap();
        let o = options(&plan, language, units);
        let (document, said) = b.book(&o);
        assert!(said.iter().all(|d| d.severity != turnleaf_plan::Severity::Error), "{said:?}");
        let file = out(&format!("numbers-{units:?}.pdf"));
        std::fs::write(&file, pdf(&document).unwrap()).unwrap();
        let place = file.to_string_lossy().into_owned();
        run("qpdf", &["--check", &place]);
        let raw = run("pdftotext", &["-raw", &place, "-"]);
        // The foot is the last thing on a page: title, revision, page number, on one line or more.
        let page = |text: &str| {
            let lines: Vec<&str> = text.lines().collect();
            let foot = lines.iter().rposition(|l| l.contains("Reading room table")).unwrap_or(lines.len());
            lines[..foot].join("\n")
        };
        let text = words(&raw.split('\u{c}').map(page).collect::<Vec<_>>().join("\n"));
        let mut missing = Vec::new();
        for n in &b.numbers {
            // Below a millimetre running text prints finer; areas print in the book's own unit of area.
            if n.unit == Unit::Mm2 || n.unit == Unit::Mm && n.value.abs() < 1.0 {
                continue;
            }
            let wanted = format!("{} is {} here.", n.id, number_text(n, o.print.print_units(), language));
            if !text.contains(&words(&wanted)) {
                missing.push(wanted);
            }
        }
        for s in b.steps(&o).0.iter().filter(|s| !s.own) {
            for sentence in s.text.iter().chain(&s.checks).chain(&s.cautions) {
                if !text.contains(&words(sentence)) {
                    missing.push(sentence.clone());
                }
            }
        }
        assert!(missing.is_empty(), "{language:?}: {missing:#?}");
    }
}

/// A picture of 60 × 40 dots, red left and white right: in the PDF at its size, in colour, with its caption told; in the
/// SVG of its page too.
#[test]
fn pictures_are_printed() {
    let mut data = Vec::new();
    let mut encoder = png::Encoder::new(&mut data, 60, 40);
    encoder.set_color(png::ColorType::Rgb);
    let dots: Vec<u8> =
        (0..60 * 40).flat_map(|i| if i % 60 < 30 { [200, 0, 0] } else { [255, 255, 255] }).collect();
    encoder.write_header().unwrap().write_image_data(&dots).unwrap();
    let mut plan = demo("window-table.json");
    let mut step = StepChange::of("make/top");
    step.pictures = vec![Picture::new(&data, "Red left, gap [=gap.width]").unwrap()];
    plan.set_steps(vec![step]).unwrap();
    let b = build(&plan).unwrap();
    let (document, said) = b.book(&options(&plan, Language::En, PrintChoice::Mm));
    assert!(said.iter().all(|d| d.severity != turnleaf_plan::Severity::Error), "{said:?}");
    let file = out("picture.pdf");
    std::fs::write(&file, pdf(&document).unwrap()).unwrap();
    let place = file.to_string_lossy().into_owned();
    run("qpdf", &["--check", &place]);
    let list = run("pdfimages", &["-list", &place]);
    let row: Vec<&str> = list.lines().nth(2).expect("an image").split_whitespace().collect();
    assert_eq!((row[2], row[3], row[4]), ("image", "60", "40"), "{list}");
    let page =
        document.pages.iter().find(|p| page_svg(p, &b.numbers).contains("<image")).expect("a page with it");
    let svg = page_svg(page, &b.numbers);
    assert_eq!(svg.matches("<image").count(), 1);
    assert!(svg.contains("Red left, gap ") && !svg.contains("[="), "the caption is told with its value");
    // Its dots on the rasterised page: red on as much of the page as 150 dots an inch give, half of the picture.
    let number = (document.pages.iter().position(|p| p.id == page.id).unwrap() + 1).to_string();
    let picture = out("picture");
    run(
        "pdftoppm",
        &["-r", "150", "-f", &number, "-l", &number, "-singlefile", &place, &picture.to_string_lossy()],
    );
    let ppm = std::fs::read(picture.with_extension("ppm")).unwrap();
    // Counted from the end, where no header is.
    let red = ppm.rchunks_exact(3).filter(|d| d[0] > 150 && d[1] < 60 && d[2] < 60).count();
    assert!((red as f64 / (30.0 * 40.0) - 1.0).abs() < 0.1, "{red} red dots");
}
