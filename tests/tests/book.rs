//! The finished book of each demo, judged by programs that are not ours: qpdf and poppler.

use std::path::{Path, PathBuf};
use std::process::Command;
use turnleaf_plan::planfile::{Choice, Language, PrintChoice};
use turnleaf_plan::{BookOptions, Built, Paper, Plan, Unit, build, number_text, pdf};

const DEMOS: [&str; 3] = ["reading-room.json", "map-room.json", "window-table.json"];

fn demo(name: &str) -> Built {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo").join(name);
    build(&Plan::parse(&std::fs::read(path).unwrap()).unwrap().0).unwrap()
}

fn out(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("book");
    std::fs::create_dir_all(&folder).unwrap();
    folder.join(name)
}

fn run(program: &str, words: &[&str]) -> Vec<u8> {
    let done = Command::new(program)
        .args(words)
        .output()
        .unwrap_or_else(|e| panic!("{program} is needed by this test and cannot be started: {e}"));
    assert!(
        done.status.success(),
        "{program} {words:?}: {}{}",
        String::from_utf8_lossy(&done.stdout),
        String::from_utf8_lossy(&done.stderr)
    );
    done.stdout
}

fn book(built: &Built, paper: Paper, units: PrintChoice, file: &Path) {
    let mut options = BookOptions::of(&built.plan);
    options.paper = paper;
    options.print.units = units;
    let (document, problems) = built.book(&options);
    let errors: Vec<_> = problems.iter().filter(|p| p.severity == turnleaf_plan::Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:?}");
    std::fs::write(file, pdf(&document).unwrap()).unwrap();
}

/// Every demo on A4 and Letter, in mm and inches: qpdf finds nothing wrong, the same input gives the same
/// bytes, and pdftotext finds every solved number in mm and in inches.
#[test]
fn books_are_sound_and_hold_every_number() {
    for name in DEMOS {
        let built = demo(name);
        for paper in [Paper::A4, Paper::Letter] {
            for units in [PrintChoice::Mm, PrintChoice::Inch] {
                let stem = format!("{}-{}-{}", name.trim_end_matches(".json"), paper.key(), units.key());
                let file = out(&format!("{stem}.pdf"));
                book(&built, paper, units, &file);
                let first = std::fs::read(&file).unwrap();
                book(&built, paper, units, &file);
                assert!(first == std::fs::read(&file).unwrap(), "{stem}: two runs differ");
                let place = file.to_string_lossy();
                run("qpdf", &["--check", &place]);
                let text = String::from_utf8(run("pdftotext", &["-layout", &place, "-"])).unwrap();
                // Lines may break inside a cell; spaces are folded.
                let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
                let mut missing = Vec::new();
                for n in &built.numbers {
                    let mut wanted = Vec::new();
                    let mut print = built.plan.options().print;
                    if n.unit == Unit::Mm {
                        for units in [PrintChoice::Mm, PrintChoice::Inch] {
                            print.units = units;
                            wanted.push(number_text(n, print.print_units(), Language::En));
                        }
                    }
                    missing.extend(
                        wanted
                            .into_iter()
                            .filter(|w| !text.contains(w.as_str()))
                            .map(|w| format!("{} {w}", n.id)),
                    );
                }
                assert!(missing.is_empty(), "{stem}: pdftotext does not find {missing:?}");
            }
        }
    }
}

/// The 100 mm bars of the page for checking a print, measured in the rasterised page (poppler), both ways.
#[test]
fn check_bars_are_a_hundred_millimetres() {
    let built = demo(DEMOS[0]);
    for paper in [Paper::A4, Paper::Letter] {
        let file = out(&format!("bars-{}.pdf", paper.key()));
        book(&built, paper, PrintChoice::Mm, &file);
        let place = file.to_string_lossy().into_owned();
        let text = String::from_utf8(run("pdftotext", &["-layout", &place, "-"])).unwrap();
        let page = text.split('\u{c}').position(|p| p.contains("100 mm") && p.contains("4 in")).unwrap() + 1;
        let dpi = 300.0;
        let number = page.to_string();
        let picture = out(&format!("bars-{}", paper.key()));
        run(
            "pdftoppm",
            &[
                "-r",
                "300",
                "-f",
                &number,
                "-l",
                &number,
                "-gray",
                "-singlefile",
                &place,
                &picture.to_string_lossy(),
            ],
        );
        let (width, height, grey) = pgm(&std::fs::read(picture.with_extension("pgm")).unwrap());
        let dark = |x: usize, y: usize| grey[y * width + x] < 128;
        // A bar is framed: its long edges are unbroken dark runs.
        let longest = |along: usize, across: usize, at: &dyn Fn(usize, usize) -> bool| {
            let mut runs: Vec<usize> = Vec::new();
            for j in 0..across {
                let mut run = 0;
                for i in 0..=along {
                    if i < along && at(i, j) {
                        run += 1;
                    } else {
                        runs.push(std::mem::take(&mut run));
                    }
                }
            }
            runs
        };
        for (name, runs) in [
            ("across", longest(width, height, &|i, j| dark(i, j))),
            ("down", longest(height, width, &|i, j| dark(j, i))),
        ] {
            let mm = |run: usize| run as f64 / dpi * 25.4;
            // Lines are drawn round the bar: half a line's width at each end belongs to the outline.
            let near = runs.iter().map(|r| mm(*r)).filter(|l| (99.0..101.0).contains(l)).fold(0.0, f64::max);
            assert!(
                (near - 100.0).abs() <= 0.2 + 0.3,
                "{} {name}: the bar measures {near:.2} mm",
                paper.key()
            );
            let inches = runs.iter().map(|r| mm(*r)).any(|l| (l - 101.6).abs() < 0.5);
            assert!(inches, "{} {name}: no 4 in bar", paper.key());
        }
    }
}

/// A binary greyscale PGM: width, height, pixels.
fn pgm(bytes: &[u8]) -> (usize, usize, Vec<u8>) {
    let mut fields = Vec::new();
    let mut at = 0;
    while fields.len() < 4 {
        let end = at + bytes[at..].iter().position(|b| b.is_ascii_whitespace()).unwrap();
        fields.push(std::str::from_utf8(&bytes[at..end]).unwrap().to_string());
        at = end + 1;
    }
    assert_eq!((fields[0].as_str(), fields[3].as_str()), ("P5", "255"));
    (fields[1].parse().unwrap(), fields[2].parse().unwrap(), bytes[at..].to_vec())
}

/// The plan file is carried inside the book and comes out as it went in (qpdf reads it).
#[test]
fn the_plan_comes_out_of_the_book() {
    for name in DEMOS {
        let built = demo(name);
        let file = out(&format!("carried-{name}.pdf"));
        book(&built, Paper::A4, PrintChoice::Mm, &file);
        let place = file.to_string_lossy().into_owned();
        let list = String::from_utf8(run("qpdf", &["--list-attachments", &place])).unwrap();
        let key = list.split(" -> ").next().unwrap().trim().to_string();
        assert!(key.ends_with(".json"), "{list}");
        let carried = run("qpdf", &[&format!("--show-attachment={key}"), &place]);
        assert_eq!(String::from_utf8(carried).unwrap(), built.plan.to_json());
    }
}
