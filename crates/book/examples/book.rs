//! Writes a book: `book PLAN.json OUT.pdf [paper] [units] [language]`.

use turnleaf_book::{BookInput, BookOptions, Nested, compose};
use turnleaf_page::Paper;
use turnleaf_planfile::{Choice, Language, Plan, PrintChoice};

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let fail = |what: String| -> ! {
        eprintln!("{what}");
        std::process::exit(2)
    };
    let [plan_path, out, rest @ ..] = args.as_slice() else {
        fail("Say the plan file and the PDF to write.".into())
    };
    let bytes = std::fs::read(plan_path).unwrap_or_else(|e| fail(format!("{plan_path}: {e}")));
    let (plan, _) = Plan::parse(&bytes).unwrap_or_else(|d| fail(d[0].sentence.clone()));
    let built = turnleaf_plan::build(&plan).unwrap_or_else(|d| fail(d[0].sentence.clone()));
    let mut options = BookOptions::of(&plan);
    for word in rest {
        if let Some(paper) = Paper::from_key(word) {
            options.paper = paper;
        } else if let Some(units) = PrintChoice::from_key(word) {
            options.print.units = units;
        } else if let Some(language) = Language::from_key(word) {
            options.language = language;
        } else {
            fail(format!("“{word}” is no paper, unit or language."));
        }
    }
    let plan_json = plan.to_json();
    let figures = built.figures();
    let stock = turnleaf_plan::StockOnHand::of(&built.plan, &built.assembly);
    let cutting = built.cutting_layouts(&stock).ok().map(|c| Nested::from((c.request, c.layouts)));
    let input = BookInput {
        plan: &plan,
        assembly: &built.assembly,
        numbers: &built.numbers,
        checks: &built.checks,
        proof: &built.proof,
        figures: &figures,
        cutting: cutting.as_ref(),
        measured: None,
        plan_json: &plan_json,
        program: turnleaf_plan::PROGRAM,
    };
    let start = std::time::Instant::now();
    let (document, said) = compose(&input, &options);
    let composed = start.elapsed();
    for d in &said {
        println!("{:?} {}: {} {}", d.severity, d.code, d.sentence, d.hint);
    }
    let pdf = turnleaf_pdf::write(&document).unwrap_or_else(|p| fail(p.to_string()));
    let written = start.elapsed() - composed;
    if let Err(e) = std::fs::write(out, &pdf) {
        fail(format!("{out}: {e}"));
    }
    println!(
        "{} pages, {} bytes, composed in {composed:.1?}, written in {written:.1?}",
        document.pages.len(),
        pdf.len()
    );
}
