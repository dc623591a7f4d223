//! Broken views of long, thin parts, read from the finished page.

use turnleaf_dimension::choose;
use turnleaf_page::{Item, Page, Paper, Pt, Step};
use turnleaf_parts::Part;
use turnleaf_sheet::{SheetOptions, part_sheet};

fn parts() -> Vec<Part> {
    let m = turnleaf_mechanism::solve(&turnleaf_mechanism::Sizes::example()).unwrap();
    turnleaf_parts::assemble(&m).parts
}

fn part(id: &str) -> Part {
    parts().into_iter().find(|p| p.id == id).unwrap()
}

fn sheet(part: &Part) -> Page {
    let (mut pages, said, proof) = part_sheet(part, &SheetOptions { paper: Paper::A4, ..Default::default() });
    assert!(said.is_empty() && proof.holds(), "{said:?}");
    pages.remove(0)
}

fn texts(items: &[Item], out: &mut Vec<String>) {
    for item in items {
        match item {
            Item::Group { items, .. } => texts(items, out),
            Item::Text(t) => out.push(t.text.clone()),
            _ => {}
        }
    }
}

/// Straight stretches and the narrow zigzags of a named group.
fn lines(items: &[Item], name: &str, inside: bool, straight: &mut Vec<(Pt, Pt)>, zigzags: &mut Vec<Pt>) {
    for item in items {
        match item {
            Item::Group { id, items, .. } => {
                let here = inside || id.as_deref().is_some_and(|id| id == name);
                lines(items, name, here, straight, zigzags);
            }
            Item::Path { steps, stroke: Some(pen), .. } if inside => {
                let mut at = None;
                let mut first = None;
                let mut count = 0;
                let mut own = Vec::new();
                for step in steps {
                    let next = match step {
                        Step::Move(p) => {
                            first = Some(*p);
                            at = Some(*p);
                            continue;
                        }
                        Step::Line(p) => *p,
                        Step::Cubic(_, _, p) => {
                            at = Some(*p);
                            continue;
                        }
                        Step::Close => first.unwrap(),
                    };
                    count += 1;
                    own.push((at.unwrap(), next));
                    at = Some(next);
                }
                let slanted =
                    own.iter().filter(|(a, b)| (a.x - b.x).abs() > 1e-6 && (a.y - b.y).abs() > 1e-6);
                if count == 5 && slanted.count() == 3 && pen.width < 0.3 {
                    zigzags.push(first.unwrap());
                } else {
                    straight.extend(own);
                }
            }
            _ => {}
        }
    }
}

/// Long parts of the example and whether their plain stretches are left out: whole, a slide is 8 mm broad on A4, a
/// guide 1.6 mm; a panel is broad enough.
#[test]
fn streaks_are_broken_and_broad_parts_are_not() {
    for (id, wanted) in [("panel-slide", true), ("panel-guide", true), ("leaf-guide", true), ("panel", false)]
    {
        let mut words = Vec::new();
        texts(&sheet(&part(id)).items, &mut words);
        assert_eq!(words.iter().any(|w| w.starts_with("Shortened between")), wanted, "{id}");
    }
}

/// ISO 128-3 and ISO 129-1 (from memory): between the break lines nothing is drawn, and figures stay those of the whole.
#[test]
fn nothing_is_drawn_between_break_lines_and_figures_stay_true() {
    for (id, length) in [("panel-slide", "548.4"), ("panel-guide", "536.6")] {
        let (part, page) = (part(id), sheet(&part(id)));
        let mut words = Vec::new();
        texts(&page.items, &mut words);
        assert!(words.iter().any(|w| w == length), "{id}: its length {length} is not printed");
        for view in ["outline", "front"] {
            let (mut straight, mut zigzags) = (Vec::new(), Vec::new());
            lines(&page.items, &format!("{id}/{view}"), false, &mut straight, &mut zigzags);
            assert!(zigzags.len() >= 2 && zigzags.len() % 2 == 0, "{id}/{view}: {zigzags:?}");
            let mut at: Vec<f64> = zigzags.iter().map(|p| p.x).collect();
            at.sort_by(f64::total_cmp);
            for pair in at.chunks(2) {
                assert!((pair[1] - pair[0] - 3.0).abs() < 1e-6, "{id}/{view}: {pair:?}");
                let middle = (pair[0] + pair[1]) / 2.0;
                let through = straight.iter().find(|(a, b)| a.x.min(b.x) < middle && middle < a.x.max(b.x));
                assert!(through.is_none(), "{id}/{view}: {through:?} runs through the break at {middle}");
            }
            // Both ends are there, and much nearer to each other than the scale of 1 : 2 or 1 : 1 would have them.
            let (lo, hi) = straight
                .iter()
                .fold((f64::MAX, f64::MIN), |(lo, hi), (a, b)| (lo.min(a.x).min(b.x), hi.max(a.x).max(b.x)));
            assert!(hi - lo > 60.0 && hi - lo < 180.0, "{id}/{view}: {lo} to {hi}");
        }
        assert_eq!(part.count % 6, 0);
    }
}

/// What stands between two breaks keeps its distances; only across a break they shrink.
#[test]
fn shapes_keep_their_size_and_their_order() {
    let mut broken = 0;
    for part in parts().iter().filter(|p| p.made) {
        let d = choose(part);
        for scale in [1.0, 0.5, 0.2] {
            let Some(short) = turnleaf_dimension::shorten::shorten(&d, scale) else { continue };
            broken += 1;
            for (i, p) in d.sketch.points.iter().enumerate() {
                for q in &d.sketch.points[..i] {
                    let x = |s: &turnleaf_dimension::Drawing, p: turnleaf_dimension::rule::VarId| {
                        s.sketch.unknowns[p.0].value
                    };
                    let (was, is) = (x(&d, p.x) - x(&d, q.x), x(&short, p.x) - x(&short, q.x));
                    let (a, b) = (x(&short, p.x).min(x(&short, q.x)), x(&short, p.x).max(x(&short, q.x)));
                    let across = short.breaks.iter().any(|k| a < k.0 && k.1 < b);
                    if across {
                        assert!(was * is > 0.0 && is.abs() < was.abs(), "{}: {was} {is}", part.id);
                    } else {
                        assert!((was - is).abs() < 1e-9, "{}: {was} {is}", part.id);
                    }
                }
                assert!(!short.is_left_out(short.sketch.unknowns[p.x.0].value), "{}: {}", part.id, p.id);
            }
        }
    }
    assert!(broken >= 6, "only {broken} drawings were shortened");
}
