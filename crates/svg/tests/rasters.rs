//! In: a page with every kind of item. Out: the SVG, drawn by a browser, and the PDF, drawn by
//! poppler, put the same ink in the same places.
//! Outside checks: Chromium and poppler-utils (Debian packages).

#[path = "../../pdf/tests/support/mod.rs"]
mod support;

use std::fs::File;
use std::io::BufReader;
use std::path::Path;

use support::grey::Grey;
use support::{folder, run, sample};
use turnleaf_page::Item;
use turnleaf_svg::{Letters, SvgOptions, page_svg_with};

/// Pixels an inch: twice what a browser takes for an inch, so that the browser draws at scale 2.
const DPI: f64 = 192.0;

fn browse(dir: &Path, name: &str, svg: &str, width: f64, height: f64) -> Grey {
    let html = format!("<!doctype html><style>body{{margin:0}}svg{{display:block}}</style>{svg}");
    std::fs::write(dir.join(format!("{name}.html")), html).unwrap();
    let side = |mm: f64| (mm / 25.4 * 96.0).ceil() as u32;
    let size = format!("--window-size={},{}", side(width), side(height));
    let shot = format!("--screenshot={name}.png");
    let page = format!("file://{}/{name}.html", dir.display());
    let profile = format!("--user-data-dir={}/profile-{name}", dir.display());
    let args = [
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-background-networking",
        "--no-first-run",
        "--hide-scrollbars",
        "--force-device-scale-factor=2",
        &profile,
        &size,
        &shot,
        &page,
    ];
    let browser = std::env::var("CHROMIUM").unwrap_or_else(|_| "chromium".to_string());
    let (shown, _) = run(&browser, &args, dir);
    let file = format!("{name}.png");
    assert!(dir.join(&file).exists(), "the browser made no picture: {shown}");
    grey(&dir.join(&file))
}

/// The grey values of a PNG file, by the weights of ITU-R BT.709.
fn grey(file: &Path) -> Grey {
    let mut decoder = png::Decoder::new(BufReader::new(File::open(file).unwrap()));
    decoder.set_transformations(png::Transformations::normalize_to_color8());
    let mut reader = decoder.read_info().unwrap();
    let mut bytes = vec![0; reader.output_buffer_size().unwrap()];
    let picture = reader.next_frame(&mut bytes).unwrap();
    let samples = picture.color_type.samples();
    assert!(matches!(picture.color_type, png::ColorType::Rgb | png::ColorType::Rgba), "{picture:?}");
    let value = |pixel: &[u8]| {
        let sum = pixel.iter().zip([0.2126, 0.7152, 0.0722]).map(|(part, weight)| f64::from(*part) * weight);
        sum.sum::<f64>().round() as u8
    };
    let pixels = bytes[..picture.buffer_size()].chunks_exact(samples).map(value).collect();
    Grey { width: picture.width as usize, height: picture.height as usize, pixels }
}

#[test]
fn the_browser_and_the_pdf_reader_agree() {
    let dir = folder("rasters");
    let document = sample();
    std::fs::write(dir.join("book.pdf"), turnleaf_pdf::write(&document).unwrap()).unwrap();
    let (_, fine) = run("pdftoppm", &["-r", "192", "-gray", "book.pdf", "pdf"], &dir);
    assert!(fine);
    let pixel = |mm: f64| (mm * DPI / 25.4) as usize;
    for (index, letters) in [(0, Letters::Embedded), (0, Letters::Outlined), (2, Letters::Embedded)] {
        let page = &document.pages[index];
        let name = format!("{letters:?}-{index}");
        let pdf = Grey::read(&dir.join(format!("pdf-{}.pgm", index + 1)));
        let options = SvgOptions { letters, ..SvgOptions::default() };
        let drawn = browse(&dir, &name, &page_svg_with(page, &options), page.width, page.height);
        // Two pixels are 0.26 mm. Tiles of 10 mm,
        // so that a fault in one word cannot hide among the ink of the page.
        let (there, back) = (drawn.worst_tile(&pdf, 2, pixel(10.0)), pdf.worst_tile(&drawn, 2, pixel(10.0)));
        assert!(there > 0.95 && back > 0.95, "{name}: {there:.4} and {back:.4} of the ink agree");
        let bar = drawn.run(pixel(70.0), pixel(62.0)) / DPI * 25.4;
        assert!((bar - 100.0).abs() < 0.2, "{name}: the 100 mm bar measures {bar} mm");
    }
    // The measure itself notices one word a millimetre off.
    let mut moved = document.pages[0].clone();
    let row = moved.items.last_mut().unwrap();
    shift_first_word(row);
    let pdf = Grey::read(&dir.join("pdf-1.pgm"));
    let options = SvgOptions { letters: Letters::Outlined, ..SvgOptions::default() };
    let drawn = browse(&dir, "moved", &page_svg_with(&moved, &options), moved.width, moved.height);
    let noticed = drawn.worst_tile(&pdf, 2, pixel(10.0));
    assert!(noticed < 0.9, "{noticed}");
}

/// Moves the first word of a group a millimetre to the right.
fn shift_first_word(item: &mut Item) -> bool {
    match item {
        Item::Text(text) => {
            text.at.x += 1.0;
            true
        }
        Item::Group { items, .. } => items.iter_mut().any(shift_first_word),
        _ => false,
    }
}
