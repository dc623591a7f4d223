//! Pictures of issued revisions: kept once, and back again whole.
//! In: plans with pictures, issued several times. Out: passed or failed.
//! Always true: the frozen plan read back is the plan that was issued.

use turnleaf_planfile::{BYTES_MAX, Date, Picture, Plan, Revision, StepChange};

/// A grey PNG of 40 × 40 dots whose tint is chosen. ISO/IEC 15948 by the general `png` library's own writer.
fn picture(tint: u8, side: u32) -> Picture {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, side, side);
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::Eight);
    // Noise, so that it does not pack to nothing.
    let mut state = u32::from(tint).wrapping_mul(2_654_435_761) | 1;
    let dots: Vec<u8> = (0..side * side)
        .map(|_| {
            state ^= state << 13;
            state ^= state >> 17;
            state ^= state << 5;
            state as u8
        })
        .collect();
    encoder.write_header().unwrap().write_image_data(&dots).unwrap();
    Picture::new(&bytes, "The plate on its frame").unwrap()
}

fn pictured(plan: &mut Plan, pictures: &[Picture]) {
    let mut step = StepChange::of("fit/base");
    step.pictures = pictures.to_vec();
    plan.set_steps(vec![step]).unwrap();
}

fn issue(plan: &mut Plan, day: u8) -> Plan {
    let mut now: Revision = plan.revision().clone();
    now.date = Some(Date { year: 2026, month: 2, day });
    plan.set_revision(now).unwrap();
    let issued = plan.edition();
    plan.issue("test", "0", Vec::new(), String::new()).unwrap();
    issued
}

#[test]
fn twelve_revisions_with_the_same_pictures_keep_each_picture_once() {
    let mut plan = Plan::default_metric();
    let (a, b) = (picture(3, 300), picture(9, 300));
    pictured(&mut plan, &[a.clone(), b]);
    let before = plan.to_json().len();
    let mut issued = Vec::new();
    for day in 1..=11 {
        issued.push(issue(&mut plan, day));
    }
    // A picture taken out of the present steps is still that of the revisions before.
    pictured(&mut plan, &[a]);
    issued.push(issue(&mut plan, 12));
    let text = plan.to_json();
    assert!(text.len() < before + 12 * 6_000, "{} bytes after {before}", text.len());
    let (again, said) = Plan::parse(text.as_bytes()).unwrap();
    assert!(said.is_empty(), "{said:?}");
    assert_eq!(again, plan);
    assert_eq!(again.to_json(), text);
    for was in issued {
        let mark = was.revision().mark.clone();
        let back = again.issued(&mark).unwrap().unwrap();
        assert_eq!(back.edition().steps(), was.steps(), "revision {mark}");
        assert_eq!(back.steps()[0].pictures[0].shown.data, was.steps()[0].pictures[0].shown.data);
    }
}

#[test]
fn a_file_that_holds_the_pictures_of_each_revision_is_read_as_before() {
    let mut plan = Plan::default_metric();
    pictured(&mut plan, &[picture(5, 60)]);
    let was = issue(&mut plan, 1);
    let text = plan.to_json();
    // As files were written before: the data in the frozen plan itself.
    let at = text.find("\"same\": \"").unwrap();
    let end = at + text[at + 9..].find('"').unwrap() + 10;
    let data = text.find("\"data\": \"").unwrap();
    let whole = &text[data..data + text[data + 9..].find('"').unwrap() + 10];
    let old = format!("{}{whole}{}", &text[..at], &text[end..]);
    assert!(!old.contains("\"same\""));
    let (read, said) = Plan::parse(old.as_bytes()).unwrap();
    assert!(said.is_empty(), "{said:?}");
    assert_eq!(read, plan);
    assert_eq!(read.issued("A").unwrap().unwrap().steps(), was.steps());
}

#[test]
fn a_picture_that_is_not_what_its_fingerprint_says_is_left_out_and_said() {
    let mut plan = Plan::default_metric();
    pictured(&mut plan, &[picture(5, 60)]);
    issue(&mut plan, 1);
    plan.set_steps(Vec::new()).unwrap();
    let text = plan.to_json();
    let at = text.rfind("iVBORw0KGgo").unwrap() + 200;
    let other = if text.as_bytes()[at] == b'A' { "B" } else { "A" };
    let broken = format!("{}{other}{}", &text[..at], &text[at + 1..]);
    let (read, said) = Plan::parse(broken.as_bytes()).unwrap();
    assert!(said.iter().any(|d| d.sentence.contains("does not match its fingerprint")), "{said:?}");
    assert!(read.issued("A").unwrap().is_err(), "a frozen plan without its picture says so");
}

#[test]
fn an_issued_plan_knows_the_version_it_was_issued_with() {
    let mut plan = Plan::default_metric();
    issue(&mut plan, 1);
    assert_eq!(plan.issued_by(), None, "a plan at work is not issued");
    let (read, _) = Plan::parse(plan.to_json().as_bytes()).unwrap();
    let frozen = read.issued("A").unwrap().unwrap();
    assert_eq!(frozen.issued_by(), Some("test"));
    // A buyer's copy is made by the buyer's own program, and so is a plan that is worked on again.
    let sold = frozen.for_buyers(Vec::new(), Vec::new(), Vec::new(), "").unwrap();
    assert_eq!(sold.issued_by(), None);
    assert_eq!(Plan::parse(frozen.to_json().as_bytes()).unwrap().0.issued_by(), None);
    // A file that does not tell opens without a word.
    let line = plan.to_json().lines().find(|l| l.contains("\"program\"")).unwrap().to_string();
    let (silent, said) = Plan::parse(plan.to_json().replacen(&line, "", 1).as_bytes()).unwrap();
    assert!(said.is_empty(), "{said:?}");
    assert_eq!(silent.issued("A").unwrap().unwrap().issued_by(), Some(""));
}

#[test]
fn nothing_of_it_reaches_a_buyer() {
    let mut plan = Plan::default_metric();
    pictured(&mut plan, &[picture(5, 60)]);
    issue(&mut plan, 1);
    plan.set_steps(Vec::new()).unwrap();
    assert!(plan.to_json().contains("iVBORw0KGgo"));
    assert!(!plan.edition().to_json().contains("iVBORw0KGgo"));
}

#[test]
fn a_revision_that_the_file_could_not_hold_is_not_issued() {
    let mut plan = Plan::default_metric();
    for (k, day) in (1..=3).enumerate() {
        // 1.9 MB of other pictures each time: the second set still fits, the third does not.
        let set: Vec<Picture> = (0..6).map(|i| picture((k * 6 + i) as u8, 530)).collect();
        pictured(&mut plan, &set);
        if day < 3 {
            issue(&mut plan, day);
            assert!(plan.to_json().len() <= BYTES_MAX);
        }
    }
    let mut now = plan.revision().clone();
    now.date = Some(Date { year: 2026, month: 3, day: 1 });
    plan.set_revision(now).unwrap();
    let before = plan.clone();
    let refused = plan.issue("test", "0", Vec::new(), String::new()).unwrap_err();
    assert!(refused.sentence.contains("5 MB fit"), "{}", refused.sentence);
    assert_eq!(plan, before);
}

#[test]
fn what_was_issued_stays_so_when_an_earlier_state_is_brought_back() {
    let mut plan = Plan::default_metric();
    issue(&mut plan, 1);
    let mut before = plan.clone();
    plan.set("height", "735 mm").unwrap();
    issue(&mut plan, 2);
    before.keep_issued(&plan);
    assert_eq!(before.typed("height").as_deref(), Some("740 mm"));
    assert_eq!(before.revisions(), plan.revisions());
    assert_eq!(before.revision().mark, "C");
}

#[test]
fn after_the_last_mark_the_next_is_one_that_is_free() {
    for (last, next) in [("YY", "A"), ("99", "A"), ("Y", "AA"), ("9", "10")] {
        let mut plan = Plan::default_metric();
        let mut now = plan.revision().clone();
        now.mark = last.into();
        plan.set_revision(now).unwrap();
        issue(&mut plan, 3);
        assert_eq!(plan.revision().mark, next);
        // The file that holds it opens again as it is.
        assert_eq!(Plan::parse(plan.to_json().as_bytes()).unwrap().0, plan);
    }
    // A mark used before is passed over.
    let mut plan = Plan::default_metric();
    for mark in ["B", "A"] {
        let mut now = plan.revision().clone();
        now.mark = mark.into();
        plan.set_revision(now).unwrap();
        issue(&mut plan, 4);
    }
    assert_eq!(plan.revision().mark, "C");
}
