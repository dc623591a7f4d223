//! The maker's changes to the build steps: saved, opened, refused.

use turnleaf_planfile::{FIRST, PICTURE_MAX, Picture, Plan, StepChange, free_id};

/// A PNG of so many dots, grey, by a library that is not ours.
fn png(width: u32, height: u32) -> Vec<u8> {
    let mut out = Vec::new();
    let mut encoder = png::Encoder::new(&mut out, width, height);
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::Eight);
    let dots: Vec<u8> = (0..width * height).map(|i| (i * 7 % 251) as u8).collect();
    encoder.write_header().unwrap().write_image_data(&dots).unwrap();
    out
}

/// The smallest baseline JPEG there is, one grey dot (ITU-T T.81; tables of its annex K cut to what is used).
fn jpeg() -> Vec<u8> {
    let mut out = vec![0xff, 0xd8, 0xff, 0xdb, 0, 67, 0];
    out.extend([1; 64]);
    out.extend([0xff, 0xc0, 0, 11, 8, 0, 1, 0, 1, 1, 1, 0x11, 0]);
    // One code of one bit each: DC difference of no bits, AC end of block.
    for class in [0x00, 0x10] {
        out.extend([0xff, 0xc4, 0, 20, class, 1]);
        out.extend([0; 15]);
        out.push(0);
    }
    out.extend([0xff, 0xda, 0, 8, 1, 1, 0, 0, 63, 0, 0b0011_1111, 0xff, 0xd9]);
    out
}

fn changed() -> Vec<StepChange> {
    let mut reworded = StepChange::of("fit/drive");
    reworded.title = Some("Arms, my way".into());
    reworded.text =
        Some(vec!["Arms are [=panel.arm.length] long.".into(), "“Quotes” \\ and {braces}.".into()]);
    let mut hidden = StepChange::of("make/stock");
    hidden.hidden = true;
    let mut own = StepChange::of("own/1");
    own.title = Some("Finish the edges".into());
    own.after = Some("make/top".into());
    own.notes = vec!["Oil, thin.".into()];
    own.pictures =
        vec![Picture::new(&png(40, 30), "An edge").unwrap(), Picture::new(&jpeg(), "A dot").unwrap()];
    let mut moved = StepChange::of("make/bars");
    moved.after = Some(FIRST.into());
    vec![reworded, hidden, own, moved]
}

#[test]
fn changes_survive_saving_and_opening() {
    let mut plan = Plan::default_metric();
    assert!(!plan.to_json().contains("\"steps\""), "no changes, no key");
    plan.set_steps(changed()).unwrap();
    let text = plan.to_json();
    let (opened, said) = Plan::parse(text.as_bytes()).unwrap();
    assert_eq!(said, []);
    assert_eq!(opened, plan);
    assert_eq!(opened.to_json(), text);
    assert_eq!(opened.steps()[2].pictures[0].width, 40);
    assert_eq!(opened.steps()[2].pictures[1].height, 1);
    assert_eq!(free_id(plan.steps()), "own/2");
    // Taking every change back leaves no trace.
    plan.set_steps(vec![StepChange::of("fit/drive")]).unwrap();
    assert_eq!(plan, Plan::default_metric());
}

#[test]
fn what_a_later_version_adds_to_a_step_is_kept() {
    let mut plan = Plan::default_metric();
    plan.set_steps(changed()).unwrap();
    let text = plan.to_json().replace("\"hidden\": true", "\"hidden\": true, \"colour\": 7");
    let (opened, said) = Plan::parse(text.as_bytes()).unwrap();
    assert!(said.iter().any(|d| d.sentence.contains("steps.colour")), "{said:?}");
    assert!(opened.to_json().contains("\"colour\": 7"));
}

/// The one sentence of a refusal; the plan stays as it was.
fn refused(steps: Vec<StepChange>) -> String {
    let mut plan = Plan::default_metric();
    let found = plan.set_steps(steps).unwrap_err();
    assert_eq!(plan, Plan::default_metric());
    found.sentence
}

#[test]
fn what_cannot_be_kept_is_refused_in_one_sentence() {
    let with = |f: fn(&mut StepChange)| {
        let mut s = StepChange::of("fit/base");
        f(&mut s);
        vec![s]
    };
    for (steps, says) in [
        (vec![StepChange::of("Fit Base")], "small letters"),
        (vec![StepChange::of("")], "small letters"),
        (vec![StepChange::of("own/1")], "no title"),
        (with(|s| s.title = Some("x".repeat(121))), "121 characters; 120 fit"),
        (with(|s| s.title = Some("a\u{202e}b".into())), "U+202E"),
        (with(|s| s.text = Some(vec!["a\nb".into()])), "invisible character"),
        (with(|s| s.notes = vec!["n".into(); 31]), "31 notes; 30 fit"),
        (with(|s| s.after = Some("../..".into())), "to stand behind"),
    ] {
        let sentence = refused(steps);
        assert!(sentence.contains(says), "{sentence}");
    }
    let twice = vec![StepChange::of("fit/base"), StepChange::of("fit/base")];
    assert!(refused(twice).contains("changed twice"));
    assert!(refused((0..300).map(|i| StepChange::of(format!("fit/{i}"))).collect()).contains("200 at most"));
}

/// What the header says is what the decoder finds, for every kind of dots that PNG has and for JPEG.
#[test]
fn a_picture_known_by_its_header_is_the_picture_decoded() {
    use png::{BitDepth, ColorType};
    let kinds = [
        (ColorType::Grayscale, BitDepth::One, 1),
        (ColorType::Grayscale, BitDepth::Sixteen, 16),
        (ColorType::Rgb, BitDepth::Eight, 24),
        (ColorType::Indexed, BitDepth::Four, 4),
        (ColorType::GrayscaleAlpha, BitDepth::Eight, 16),
        (ColorType::Rgba, BitDepth::Sixteen, 64),
    ];
    let mut files = vec![jpeg()];
    for (colour, depth, bits) in kinds {
        let (width, height) = (13_u32, 7_u32);
        let mut out = Vec::new();
        let mut encoder = png::Encoder::new(&mut out, width, height);
        encoder.set_color(colour);
        encoder.set_depth(depth);
        if colour == ColorType::Indexed {
            encoder.set_palette(vec![0; 48]);
        }
        let row = (width * bits).div_ceil(8);
        encoder.write_header().unwrap().write_image_data(&vec![0; (row * height) as usize]).unwrap();
        files.push(out);
    }
    for file in &files {
        assert_eq!(Picture::known(file, "A picture").unwrap(), Picture::new(file, "A picture").unwrap());
        for cut in 0..file.len().min(40) {
            // Never a panic, and never a size out of nothing.
            if let Ok(found) = Picture::known(&file[..cut], "A picture") {
                assert_eq!(
                    (found.width, found.height),
                    (
                        Picture::new(file, "A picture").unwrap().width,
                        Picture::new(file, "A picture").unwrap().height
                    )
                );
            }
        }
    }
}

#[test]
fn pictures_are_looked_at_before_they_are_kept() {
    let why = |data: &[u8]| Picture::new(data, "A picture").unwrap_err().sentence;
    assert!(why(b"GIF89a").contains("neither PNG nor JPEG"));
    assert!(why(b"").contains("neither PNG nor JPEG"));
    assert!(why(&vec![0; PICTURE_MAX + 1]).contains("301 kB; 300 kB fit"));
    let whole = png(40, 30);
    for cut in [10, 40, whole.len() - 20] {
        assert!(why(&whole[..cut]).contains("cannot be read"), "{cut}");
    }
    let mut turned = whole.clone();
    let middle = turned.len() / 2;
    turned[middle] ^= 0xff;
    assert!(why(&turned).contains("cannot be read"));
    // A header that promises 60,000 dots a side, with its checksum right, is refused before anything is unpacked.
    let mut bomb = Vec::new();
    let mut encoder = png::Encoder::new(&mut bomb, 60_000, 60_000);
    encoder.set_color(png::ColorType::Grayscale);
    drop(encoder.write_header().unwrap());
    // Signature and header alone, then dots that never come.
    bomb.truncate(33);
    bomb.extend(b"\0\0\0\x0aIDAT0123456789");
    assert!(why(&bomb).contains("60000 × 60000 dots"), "{}", why(&bomb));
    assert!(why(&jpeg()[..60]).contains("JPEG"));
    assert!(Picture::new(&whole, " ").unwrap_err().sentence.contains("no caption"));
    assert_eq!(Picture::new(&jpeg(), "A dot").unwrap().width, 1);
}

#[test]
fn hostile_files_give_sentences() {
    let plan = Plan::default_metric().to_json();
    let with =
        |steps: &str| plan.trim_end().trim_end_matches('}').to_string() + &format!(",\"steps\": {steps}}}");
    for (steps, says) in [
        ("7", "list of steps is a number"),
        ("[7]", "step number 1 is a number"),
        ("[{}]", "cannot be used"),
        ("[{\"id\": \"fit/base\", \"hidden\": \"yes\"}]", "must be true or false"),
        ("[{\"id\": \"fit/base\", \"text\": \"one\"}]", "a list in brackets"),
        ("[{\"id\": \"fit/base\", \"pictures\": [{\"caption\": \"c\", \"data\": \"%%%\"}]}]", "not base64"),
        (
            "[{\"id\": \"fit/base\", \"pictures\": [{\"caption\": \"c\", \"data\": \"AAAA\"}]}]",
            "neither PNG nor JPEG",
        ),
        ("[{\"id\": \"fit/base\", \"pictures\": [{\"caption\": \"c\"}]}]", "text in quotes"),
    ] {
        let found = Plan::parse(with(steps).as_bytes()).unwrap_err();
        assert!(found.iter().any(|d| d.sentence.contains(says)), "{steps}: {found:?}");
    }
    let long = format!(
        "[{{\"id\": \"fit/base\", \"pictures\": [{{\"caption\": \"c\", \"data\": \"{}\"}}]}}]",
        "A".repeat(900_000)
    );
    let found = Plan::parse(with(&long).as_bytes()).unwrap_err();
    assert!(found[0].sentence.contains("300 kB fit"), "{found:?}");
}
