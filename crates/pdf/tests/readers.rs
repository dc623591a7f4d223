//! In: a document with every kind of item. Out: what unrelated PDF readers make of its file.
//! Outside checks: qpdf and poppler-utils (Debian packages).

mod support;

use support::{folder, run, sample};

#[test]
fn qpdf_finds_no_fault() {
    let dir = folder("qpdf");
    std::fs::write(dir.join("book.pdf"), turnleaf_pdf::write(&sample()).unwrap()).unwrap();
    let (shown, fine) = run("qpdf", &["--check", "book.pdf"], &dir);
    assert!(fine && !shown.contains("WARNING"), "{shown}");
    assert!(shown.contains("No syntax or stream encoding errors found"), "{shown}");
}
