//! Tests of paragraphs and tables.

use turnleaf_page::{Face, Item, Role};

use crate::tests::hostile;
use crate::*;

const WORDS: &str = "Turn the ring by hand through 46 1/2 ° and check that the arms clear by 4.6 mm; \
the tongue of each leaf, ⌀ 8 holes and all, must slide without force over the whole travel of 225.0 mm.";

fn said(lines: &Lines) -> String {
    lines.lines.iter().flatten().map(|p| p.text.as_str()).collect()
}

fn line_texts(lines: &Lines) -> Vec<String> {
    lines.lines.iter().map(|l| l.iter().map(|p| p.text.as_str()).collect()).collect()
}

#[test]
fn lines_stay_inside_and_keep_every_character() {
    let spans = [Span::new(WORDS), Span::new(" Twice.").bold(), Span::new(" Always so.").italic()];
    let whole: String = spans.iter().map(|s| s.text.as_str()).collect();
    for tenth in 15..1800 {
        let room = f64::from(tenth) / 10.0;
        let set = paragraph(&spans, room, Setting::new(3.6));
        assert_eq!(said(&set), whole, "at {room}");
        // Below the widest letter nothing fits; a letter a line is all that can be done.
        if room > 3.6 {
            assert!(set.width() <= room + 0.001, "{} in {room}", set.width());
        }
    }
}

#[test]
fn numbers_are_not_parted() {
    for tenth in 300..1500 {
        let set = paragraph(&[Span::new(WORDS)], f64::from(tenth) / 10.0, Setting::new(3.6));
        for line in line_texts(&set) {
            let line = line.trim_end();
            for bad in ["46", "46 1/2", "4.6", "⌀", "225.0"] {
                assert!(!line.ends_with(bad), "“{line}” ends with {bad}");
            }
        }
    }
}

#[test]
fn alignment_moves_lines_to_the_edges() {
    for align in [Align::Left, Align::Centre, Align::Right] {
        let set = paragraph(&[Span::new(WORDS)], 70.0, Setting::new(3.6).align(align));
        for line in &set.lines {
            let (start, end) = (line[0].x, line.last().map(|p| p.x + p.width).unwrap());
            match align {
                Align::Left => assert_eq!(start, 0.0),
                Align::Centre => assert!((start - (70.0 - end)).abs() < 1e-9),
                Align::Right => assert!((end - 70.0).abs() < 1e-9),
            }
        }
    }
}

#[test]
fn breaks_and_soft_hyphens_are_followed() {
    let set = paragraph(&[Span::new("one\n\ntwo")], 50.0, Setting::new(3.0));
    assert_eq!(line_texts(&set), ["one", "", "two"]);
    let word = [Span::new("Schubladen\u{AD}führungs\u{AD}schiene")];
    let wide = paragraph(&word, 100.0, Setting::new(4.0));
    assert_eq!(line_texts(&wide), ["Schubladenführungsschiene"]);
    let full = wide.width();
    for tenth in 260..(full * 10.0) as i32 {
        let room = f64::from(tenth) / 10.0;
        let set = paragraph(&word, room, Setting::new(4.0));
        assert!(set.width() <= room + 0.001, "{} in {room}", set.width());
        let lines = line_texts(&set);
        assert!(lines.len() > 1 && lines[0].ends_with('-'), "{lines:?} in {room}");
        assert_eq!(said(&set).replace('-', ""), "Schubladenführungsschiene");
    }
}

#[test]
fn hostile_text_sets_without_leaving_the_column() {
    for text in hostile() {
        let set = paragraph(&[Span::new(text.clone())], 60.0, Setting::new(3.5));
        assert!(set.width() <= 60.001, "{} for {:.20}", set.width(), text);
        let _ = set.group(0.0, 0.0, None);
    }
    for width in [0.0, -5.0, f64::NAN, f64::INFINITY] {
        assert_eq!(said(&paragraph(&[Span::new("abc def")], width, Setting::new(3.5))), "abc def");
    }
}

#[test]
fn single_lines_are_not_left_alone() {
    let set = paragraph(&[Span::new(WORDS)], 60.0, Setting::new(3.6));
    let n = set.len();
    assert!(n >= 4);
    let height = |lines: usize| set.height_of(lines);
    assert_eq!(set.fit(0, height(n)), n);
    assert_eq!(set.fit(0, height(1)), 0, "one line at the foot");
    assert_eq!(set.fit(0, height(n - 1)), n - 2, "one line over the page");
    assert_eq!(set.fit(0, 0.0), 0);
    assert_eq!(set.fit(n - 1, height(1)), 1);
}

#[test]
fn labels_hang() {
    let set = labelled(Span::new("12.").bold(), &[Span::new(WORDS)], 60.0, Setting::new(3.6).hang(8.0));
    assert_eq!(set.lines[0][0].text, "12. ");
    assert_eq!(set.lines[0][1].x, 8.0);
    assert!(set.lines[1..].iter().all(|l| l[0].x == 8.0));
    assert!(set.width() <= 60.001);
}

fn table(rows: usize) -> Table {
    let columns = vec![
        Column::new("No.", Width::Fit(15.0)),
        Column::new("Name", Width::Fixed(30.0)),
        Column::number("mm", Width::Fit(20.0)),
        Column::new("Remark", Width::Share(1.0)),
    ];
    let rows = (0..rows).map(|i| {
        if i % 7 == 0 {
            Row::heading(format!("Group {i}"))
        } else {
            Row::new([i.to_string(), format!("name of {i}"), format!("{i}.5"), WORDS.repeat(i % 3)])
        }
    });
    Table::new(columns, 3.2).rows(rows).id("t")
}

fn count(item: &Item, what: &dyn Fn(&Role) -> bool) -> usize {
    match item {
        Item::Group { role, items, .. } => {
            usize::from(what(role)) + items.iter().map(|i| count(i, what)).sum::<usize>()
        }
        _ => 0,
    }
}

#[test]
fn table_columns_fill_the_width() {
    let set = table(30).set(170.0, 250.0);
    let (x, w) = *set.columns().last().unwrap();
    assert!((x + w - 170.0).abs() < 1e-9);
    assert!((set.columns()[1].1 - 30.0).abs() < 1e-9);
    // Too narrow for its fixed columns: everything shrinks, nothing leaves the width.
    let narrow = table(30).set(40.0, 250.0);
    let (x, w) = *narrow.columns().last().unwrap();
    assert!(x + w <= 40.0 + 1e-9 && w > 0.0);
}

#[test]
fn a_table_breaks_into_pages_without_losing_rows_or_stranding_headings() {
    for highest in [40.0, 61.7, 100.0, 250.0] {
        let source = table(40);
        let set = source.set(170.0, highest);
        let (mut from, mut rows) = (0, 0);
        while from < set.len() {
            let take = set.fit(from, highest);
            assert!(take > 0, "nothing fits an empty page of {highest}");
            assert!(set.height(from..from + take) <= highest + 0.02);
            let part = set.place(from..from + take, 10.0, 20.0);
            rows += count(&part, &|r| *r == Role::Row) - 1;
            let (low, high) = bounds(std::slice::from_ref(&part)).unwrap();
            assert!(low.y >= 19.5 && high.y <= 20.5 + set.height(from..from + take), "{low:?} {high:?}");
            assert!(low.x >= 9.8 && high.x <= 180.2, "{low:?} {high:?}");
            if let Item::Group { items, .. } = &part
                && from + take < set.len()
            {
                let last = items.iter().rev().find(|i| matches!(i, Item::Group { .. })).unwrap();
                assert!(count(last, &|r| *r == Role::Cell(true)) == 0, "a heading is left at the foot");
            }
            from += take;
        }
        assert_eq!(rows, set.len());
    }
}

#[test]
fn a_table_holds_hostile_cells() {
    let columns = || vec![Column::new("A", Width::Fit(30.0)), Column::new("B", Width::Share(1.0))];
    for text in hostile() {
        let rows = [Row::new([text.clone(), text.clone()]), Row::default()];
        let set = Table::new(columns(), 3.0).rows(rows).set(100.0, 200.0);
        let mut from = 0;
        while from < set.len() {
            let take = set.fit(from, 200.0);
            assert!(take > 0);
            if let Some((low, high)) = bounds(&[set.place(from..from + take, 0.0, 0.0)]) {
                assert!(low.x >= -0.2 && high.x <= 100.2 && high.y <= 200.5, "{low:?} {high:?}");
            }
            from += take;
        }
    }
}

#[test]
fn widths_of_pieces_are_those_of_their_text() {
    let set = paragraph(&[Span::new(WORDS), Span::new(" bold").bold()], 80.0, Setting::new(3.6));
    for piece in set.lines.iter().flatten() {
        let face = if piece.text.contains("bold") { Face::Bold } else { Face::Regular };
        assert!((piece.width - width(piece.text.trim_end_matches(' '), 3.6, face)).abs() < 1e-9);
    }
}
