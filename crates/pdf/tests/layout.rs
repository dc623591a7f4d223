//! In: running text and a long table. Out: pages on which everything lies inside its margins, and a
//! structure in which the table is one element.

mod support;

use support::{folder, pages, run};
use turnleaf_page::Paper;

#[test]
fn a_table_over_pages_is_one_table() {
    let dir = folder("layout");
    for paper in [Paper::A4, Paper::Letter] {
        let file = format!("{}.pdf", paper.key());
        let document = pages::book(paper);
        std::fs::write(dir.join(&file), turnleaf_pdf::write(&document).unwrap()).unwrap();
        let (shown, fine) = run("qpdf", &["--check", &file], &dir);
        assert!(fine && !shown.contains("WARNING"), "{shown}");
        let (tree, _) = run("pdfinfo", &["-struct", &file], &dir);
        assert_eq!(tree.matches("Table (block)").count(), 1, "{tree}");
    }
}
