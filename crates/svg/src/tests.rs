//! Tests of the SVG text: well-formed, plain numbers, names, hostile input.

use roxmltree::{Document as Xml, Node};
use turnleaf_diag::Origin;
use turnleaf_page::*;

use crate::{Letters, SvgOptions, page_svg, page_svg_with};

fn page(items: Vec<Item>) -> Page {
    Page {
        width: 210.0,
        height: 297.0,
        label: "1".to_string(),
        id: "sheet/panel".to_string(),
        title: "Panel".to_string(),
        items,
    }
}

fn all(letters: Letters) -> SvgOptions<'static> {
    SvgOptions { letters, ..SvgOptions::default() }
}

fn find<'a, 'b>(xml: &'a Xml<'b>, tag: &str) -> Vec<Node<'a, 'b>> {
    xml.descendants().filter(|n| n.has_tag_name(("http://www.w3.org/2000/svg", tag))).collect()
}

#[test]
fn the_page_is_in_millimetres() {
    let svg = page_svg(&page(vec![]));
    let xml = Xml::parse(&svg).unwrap();
    let root = xml.root_element();
    assert_eq!(root.attribute("width"), Some("210mm"));
    assert_eq!(root.attribute("height"), Some("297mm"));
    assert_eq!(root.attribute("viewBox"), Some("0 0 210 297"));
    assert_eq!(root.attribute("data-id"), Some("sheet/panel"));
    assert_eq!(find(&xml, "title")[0].text(), Some("Panel"));
}

#[test]
fn groups_carry_identifier_role_and_origin() {
    let dimension = |origin| Item::Group {
        role: Role::Dimension,
        origin: Some(origin),
        id: Some("panel/dim/length".to_string()),
        items: vec![Item::Text(Text::new(pt(10.0, 20.0), 3.5, "450.0").anchor(Anchor::Middle))],
    };
    let page = page(vec![dimension(Origin::Size(3)), dimension(Origin::Solved(12))]);
    let plain = page_svg(&page);
    let xml = Xml::parse(&plain).unwrap();
    let groups = find(&xml, "g");
    assert_eq!(groups[0].attribute("data-id"), Some("panel/dim/length"));
    assert_eq!(groups[0].attribute("data-role"), Some("dimension"));
    assert_eq!(groups[0].attribute("data-origin"), Some("size/3"));
    assert_eq!(groups[1].attribute("data-origin"), Some("solved/12"));
    let text = find(&xml, "text")[0];
    assert_eq!(text.text(), Some("450.0"));
    assert_eq!(text.attribute("text-anchor"), Some("middle"));
    assert_eq!(text.attribute("x"), Some("10"));
    let named = |o: Origin| match o {
        Origin::Size(_) => "size:closed_diameter".to_string(),
        Origin::Solved(_) => "rule:\"travel\"".to_string(),
    };
    let options = SvgOptions { origin_name: &named, ..SvgOptions::default() };
    let svg = page_svg_with(&page, &options);
    let xml = Xml::parse(&svg).unwrap();
    assert_eq!(find(&xml, "g")[0].attribute("data-origin"), Some("size:closed_diameter"));
    assert_eq!(find(&xml, "g")[1].attribute("data-origin"), Some("rule:\"travel\""));
}

#[test]
fn paths_keep_their_steps_pens_and_fills() {
    let steps = vec![
        Step::Move(pt(0.125, -1.0)),
        Step::Line(pt(10.0, 20.000_04)),
        Step::Cubic(pt(1.0, 2.0), pt(3.0, 4.0), pt(5.0, 6.0)),
        Step::Close,
    ];
    let stroke = Stroke { dash: vec![3.0, 0.75], round: false, ..Stroke::solid(0.35) };
    let item = Item::Path { steps, stroke: Some(stroke), fill: Some(Colour(255, 128, 0)) };
    let svg = page_svg(&page(vec![item]));
    let xml = Xml::parse(&svg).unwrap();
    let path = find(&xml, "path")[0];
    assert_eq!(path.attribute("d"), Some("M0.125 -1L10 20C1 2 3 4 5 6Z"));
    assert_eq!(path.attribute("stroke-width"), Some("0.35"));
    assert_eq!(path.attribute("stroke-dasharray"), Some("3 0.75"));
    assert_eq!(path.attribute("fill"), Some("#ff8000"));
    assert_eq!(path.attribute("fill-rule"), Some("evenodd"));
}

#[test]
fn outlines_need_no_font() {
    let text = Item::Text(Text::new(pt(10.0, 20.0), 5.0, "⌀ 12 ä").rotate(30.0));
    let svg = page_svg_with(&page(vec![text]), &all(Letters::Outlined));
    let xml = Xml::parse(&svg).unwrap();
    assert!(find(&xml, "text").is_empty());
    let path = find(&xml, "path")[0];
    assert!(path.attribute("d").unwrap().len() > 500);
    assert_eq!(path.attribute("aria-label"), Some("⌀ 12 ä"));
}

#[test]
fn hostile_pages_stay_well_formed() {
    let words = [
        "</text><script>alert(1)</script>".to_string(),
        "\" onload=\"x' <!-- --> ]]> &amp; &#0; <![CDATA[".to_string(),
        "\0\u{1}\u{8}\u{B}\u{FFFE}\u{FFFF}\u{7F}\u{85}\u{202E}".to_string(),
        "tab\tline\nreturn\r".to_string(),
        "漢字 👍🏽 שלום العربية".to_string(),
        "x".repeat(100_000),
    ];
    let name = |_: Origin| "\"<&'\u{0}".to_string();
    for word in &words {
        let group = Item::Group {
            role: Role::Figure { alt: word.clone() },
            origin: Some(Origin::Size(0)),
            id: Some(word.clone()),
            items: vec![
                Item::Text(Text::new(pt(1.0, 1.0), 3.0, word.clone())),
                Item::Link { min: pt(0.0, 0.0), max: pt(1.0, 1.0), target: word.clone() },
                Item::Mark { at: pt(0.0, 0.0), name: word.clone() },
            ],
        };
        let mut page = page(vec![group]);
        page.id = word.clone();
        page.label = word.clone();
        page.title = word.clone();
        for letters in [Letters::Named, Letters::Embedded, Letters::Outlined] {
            let options = SvgOptions { letters, origin_name: &name, sheet: true };
            let svg = page_svg_with(&page, &options);
            let xml = Xml::parse(&svg).unwrap_or_else(|e| panic!("{e} for {word:.40}"));
            assert!(find(&xml, "script").is_empty());
            assert!(xml.descendants().all(|n| n.attribute("onload").is_none()));
        }
    }
}

#[test]
fn lengths_that_are_no_numbers_are_left_out() {
    for v in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        let mut page = page(vec![
            Item::Path {
                steps: vec![Step::Move(pt(0.0, 0.0)), Step::Line(pt(v, 1.0))],
                stroke: Some(Stroke::solid(0.5)),
                fill: None,
            },
            Item::Text(Text::new(pt(v, 0.0), 3.0, "a")),
            Item::Text(Text::new(pt(0.0, 0.0), v, "a")),
            Item::Text(Text::new(pt(0.0, 0.0), 3.0, "a").rotate(v)),
            Item::Mark { at: pt(v, v), name: "m".to_string() },
            Item::Link { min: pt(v, v), max: pt(v, v), target: "m".to_string() },
        ]);
        page.width = v;
        let svg = page_svg(&page);
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
        assert_eq!(find(&Xml::parse(&svg).unwrap(), "text").len(), 0);
    }
}

#[test]
fn numbers_have_no_exponent_and_at_most_four_decimals() {
    let values = [1e-7, -1e-7, 0.1 + 0.2, 1.0 / 3.0, 12_345.678_912, 1e17];
    let items = values.iter().map(|v| Item::Path {
        steps: vec![Step::Move(pt(*v, -*v)), Step::Line(pt(1.0, *v))],
        stroke: Some(Stroke::solid(0.5)),
        fill: None,
    });
    let svg = page_svg(&page(items.collect()));
    let xml = Xml::parse(&svg).unwrap();
    for path in find(&xml, "path") {
        for number in path.attribute("d").unwrap().split(['M', 'L', ' ']).filter(|n| !n.is_empty()) {
            assert!(number.chars().all(|c| c.is_ascii_digit() || c == '.' || c == '-'), "{number}");
            assert!(number.split('.').nth(1).is_none_or(|d| d.len() <= 4), "{number}");
        }
    }
}
