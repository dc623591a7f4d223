//! Files taken out of PDFs: large ones that are meant, and small ones that would unpack without end.
//! In: PDFs of ours, resaved ones, and ones made by hand. Out: passed or failed.
//! Outside check: qpdf (Debian package) packs our file into object streams, as other programs do.

mod support;

use miniz_oxide::deflate::compress_to_vec_zlib;
use support::{folder, run};
use turnleaf_page::*;
use turnleaf_pdf::{carried, write};

/// As the plan file's limit.
const MOST: usize = 5_000_000;

fn with(data: Vec<u8>) -> Vec<u8> {
    let page = Page {
        width: 210.0,
        height: 297.0,
        label: "1".into(),
        id: "p".into(),
        title: "Page".into(),
        items: Vec::new(),
    };
    let file = Attachment {
        name: "plan.json".into(),
        mime: "application/json".into(),
        description: "The plan.".into(),
        data,
    };
    let document = Document {
        title: "T".into(),
        language: "en".into(),
        date: "2024-02-29".into(),
        pages: vec![page],
        attachments: vec![file],
        ..Document::default()
    };
    write(&document).unwrap()
}

/// Letters that hardly pack, as pictures in base64 do.
fn noise(length: usize) -> Vec<u8> {
    let mut state = 1u32;
    let letter = |_| {
        state ^= state << 13;
        state ^= state >> 17;
        state ^= state << 5;
        b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/"[(state % 64) as usize]
    };
    (0..length).map(letter).collect()
}

#[test]
fn a_plan_as_large_as_plans_may_be_comes_out() {
    for length in [0, 1, 700_000, MOST] {
        let data = noise(length);
        assert!(carried(&with(data.clone()), MOST).unwrap() == [data], "{length} bytes");
    }
}

#[test]
fn it_comes_out_of_a_file_that_another_program_saved() {
    let dir = folder("resaved");
    let data = noise(900_000);
    std::fs::write(dir.join("a.pdf"), with(data.clone())).unwrap();
    for (name, how) in [
        ("packed", ["--object-streams=generate", "--stream-data=compress"]),
        ("plain", ["--object-streams=generate", "--stream-data=uncompress"]),
    ] {
        let file = format!("{name}.pdf");
        let (said, fine) = run("qpdf", &[how[0], how[1], "a.pdf", &file], &dir);
        assert!(fine, "{said}");
        let bytes = std::fs::read(dir.join(file)).unwrap();
        assert!(bytes.windows(7).any(|w| w == b"/ObjStm"), "{name}: qpdf made no object streams");
        assert!(carried(&bytes, MOST).unwrap() == [data.clone()], "{name}");
    }
}

#[test]
fn a_small_file_that_unpacks_into_a_great_one_is_refused() {
    let bomb = with(vec![b' '; 60_000_000]);
    assert!(bomb.len() < 200_000, "{} bytes", bomb.len());
    let sentence = carried(&bomb, MOST).unwrap_err();
    assert_eq!(
        sentence,
        "The file inside this PDF unpacks to more than 5 MB; a plan file never has more, so this is something else."
    );
    assert!(carried(&with(vec![b' '; MOST + 1]), MOST).is_err());
}

/// A PDF whose second object is a stream with these words and this data.
fn by_hand(words: &str, data: &[u8]) -> Vec<u8> {
    let mut out = b"%PDF-1.7\n1 0 obj\n<< /Type /Catalog /Pages 3 0 R >>\nendobj\n".to_vec();
    out.extend(b"3 0 obj\n<< /Type /Pages /Kids [4 0 R] /Count 1 >>\nendobj\n");
    out.extend(b"4 0 obj\n<< /Type /Page /Parent 3 0 R /MediaBox [0 0 9 9] >>\nendobj\n");
    out.extend(format!("2 0 obj\n<< {words} /Length {} >>\nstream\n", data.len()).bytes());
    out.extend(data);
    out.extend(b"\nendstream\nendobj\ntrailer\n<< /Root 1 0 R >>\n%%EOF\n");
    out
}

#[test]
fn lists_that_unpack_without_end_are_refused() {
    let packed = compress_to_vec_zlib(&vec![b' '; 60_000_000], 9);
    let twice = compress_to_vec_zlib(&packed, 9);
    let broken = &packed[..packed.len() / 2];
    let few = compress_to_vec_zlib(b"3 0 << /A 1 >>", 9);
    let list = |filter: &str| format!("/Type /ObjStm /N 1 /First 4 {filter}");
    for (words, data) in [
        (list("/Filter /FlateDecode"), packed.as_slice()),
        (list("/Filter [/FlateDecode /FlateDecode]"), &twice),
        (list("/F /Fl"), &packed),
        (list("/Filter /#46late#44ecode"), &packed),
        (list("/Filter 1 0 R"), &packed),
        (list("/Filter [ /LZWDecode ]"), &packed),
        (list("/Filter /FlateDecode"), broken),
        ("/Type /XRef /W [1 2 1] /Size 9 /Filter/FlateDecode".to_string(), &packed),
    ] {
        let sentence = carried(&by_hand(&words, data), MOST).expect_err(&words);
        assert!(sentence.starts_with("This PDF cannot be read: its lists"), "{words}: {sentence}");
    }
    // What is small is left to the reader, whatever it makes of it.
    let said = carried(&by_hand(&list("/Filter /FlateDecode"), &few), MOST);
    assert!(!said.is_err_and(|e| e.contains("lists")));
}

#[test]
fn other_packings_are_bounded_too() {
    let file =
        |words: &str, data: &[u8]| carried(&by_hand(&format!("/Type /EmbeddedFile {words}"), data), MOST);
    // ISO 32000-1, 7.4.2: pairs of hexadecimal figures up to ">"; 41 is A in ASCII.
    assert_eq!(file("/Filter /ASCIIHexDecode", b"414243>").unwrap(), [b"ABC".to_vec()]);
    assert_eq!(file("", b"ABC").unwrap(), [b"ABC".to_vec()]);
    let packed = compress_to_vec_zlib(&vec![b' '; 60_000_000], 9);
    let twice = compress_to_vec_zlib(&packed, 9);
    for (filter, data) in [
        ("/Filter [/FlateDecode /FlateDecode]", &twice),
        ("/Filter /LZWDecode", &packed),
        ("/Filter /RunLengthDecode", &vec![129; 2_000_000]),
        ("/Filter /FlateDecode /DecodeParms << /Predictor 12 >>", &packed),
    ] {
        let sentence = file(filter, data).expect_err(filter);
        assert!(sentence.contains("more than 5 MB"), "{filter}: {sentence}");
    }
    let sentence = file("/Filter /FlateDecode", &packed[..packed.len() / 3 * 2]).unwrap_err();
    assert!(sentence.contains("5 MB") || sentence.contains("damaged"), "{sentence}");
}
