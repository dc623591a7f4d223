//! In: a book of 40 pages with 500 lines, 60 strings and 6 filled areas each; text to set. Out: times.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use turnleaf_page::*;
use turnleaf_text::{Setting, Span, measure, paragraph};

fn page(number: usize) -> Page {
    let mut items = Vec::new();
    for i in 0..500 {
        let (x, y) = (15.0 + (i % 25) as f64 * 7.0, 15.0 + (i / 25) as f64 * 13.0);
        let (dx, dy) = (((i * 7 + number) % 11) as f64 - 5.0, ((i * 3 + number) % 9) as f64 - 4.0);
        let steps = vec![Step::Move(pt(x, y)), Step::Line(pt(x + dx, y + dy))];
        let width = if i % 3 == 0 { 0.5 } else { 0.25 };
        items.push(Item::Path { steps, stroke: Some(Stroke::solid(width)), fill: None });
    }
    for i in 0..6 {
        let (x, y) = (20.0 + 30.0 * f64::from(i), 250.0);
        let corners = [(0.0, 0.0), (12.0, 1.0), (10.0, 9.0)].map(|(u, v)| Step::Line(pt(x + u, y + v)));
        items.push(Item::Path { steps: corners.to_vec(), stroke: None, fill: Some(Colour(220, 220, 220)) });
    }
    let alt = format!("Lines of page {number}");
    let figure = Item::Group { role: Role::Figure { alt }, origin: None, id: None, items };
    let mut items = vec![figure];
    for i in 0..60 {
        let at = pt(15.0 + 95.0 * f64::from(i % 2), 20.0 + 8.0 * f64::from(i / 2));
        let words = format!("{}.{} mm, part {i} of page {number}", 100 + i * 7, i % 10);
        items.push(Item::Text(Text::new(at, 3.5, words).rotate(if i % 10 == 0 { 90.0 } else { 0.0 })));
    }
    Page {
        width: 210.0,
        height: 297.0,
        label: number.to_string(),
        id: format!("page/{number}"),
        title: format!("Page {number}"),
        items,
    }
}

fn book(pages: usize) -> Document {
    Document {
        title: "Bench".to_string(),
        language: "en".to_string(),
        date: "2025-01-01".to_string(),
        pages: (1..=pages).map(page).collect(),
        ..Document::default()
    }
}

fn benches(c: &mut Criterion) {
    for pages in [20, 40, 400] {
        let document = book(pages);
        let mut group = c.benchmark_group("write");
        group.sample_size(10);
        group.bench_function(format!("{pages} pages of 500 lines and 60 strings"), |b| {
            b.iter(|| turnleaf_pdf::write(black_box(&document)).unwrap());
        });
        group.finish();
    }
    let size = turnleaf_pdf::write(&book(40)).unwrap().len();
    println!("the 40-page file has {size} bytes");
    c.bench_function("measure a dimension", |b| {
        b.iter(|| measure(black_box("⌀ 1,234.5"), 3.5, Face::Regular));
    });
    let words = "Turn the ring by hand and check that every arm clears its neighbour by 4.6 mm. ".repeat(8);
    let spans = [Span::new(words)];
    c.bench_function("set a paragraph of 630 letters", |b| {
        b.iter(|| paragraph(black_box(&spans), 170.0, Setting::new(3.6)));
    });
}

criterion_group!(all, benches);
criterion_main!(all);
