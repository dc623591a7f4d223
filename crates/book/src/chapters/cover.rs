//! The cover.
//!
//! In: title, maker, key sizes, pictures of the table closed and open. Out: one page.
//! Always true: a title of any length stays inside its box, set smaller when it is long.

use crate::cx::{Cx, Refs};
use crate::draw::{cut, furniture, group, level, words};
use crate::flow::{Chapter, Draft, Figure};
use crate::grid::{BODY, SMALL, THICK, THIN, grey_rule, rule};
use crate::scene;
use turnleaf_diag::{Diagnostic, Origin};
use turnleaf_page::{Anchor, Face, Item, Role, Text, pt};
use turnleaf_text::{Lines, Setting, Span, paragraph};
use turnleaf_units::{PrintUnits, print_decimal};
use turnleaf_views::View;

/// Sizes of the title tried in turn, mm.
const SIZES: [f64; 5] = [14.0, 12.0, 10.0, 8.0, 6.0];
/// Highest title block, mm.
const TITLE_HIGH: f64 = 48.0;

/// The largest setting in which the title fits.
fn title(text: &str, width: f64) -> (Lines, bool) {
    let set = |size: f64| paragraph(&[Span::new(text).bold()], width, Setting::new(size).leading(size * 1.2));
    let word = |size: f64| {
        let longest = text.split_whitespace().map(|w| turnleaf_text::width(w, size, Face::Bold));
        longest.fold(0.0, f64::max) <= width
    };
    for size in SIZES {
        let lines = set(size);
        if lines.height() <= TITLE_HIGH && word(size) {
            return (lines, true);
        }
    }
    let mut lines = set(6.0);
    let most = (TITLE_HIGH / lines.setting.leading) as usize;
    let whole = lines.len() <= most;
    lines.lines.truncate(most);
    (lines, whole)
}

/// The two pictures side by side at one scale, and the middle of each.
fn pictures(cx: &Cx, closed: &View, open: &View, width: f64, height: f64) -> (Figure, [f64; 2]) {
    let (a, b) = (scene::size(closed), scene::size(open));
    let gap = 8.0;
    let scale = ((width - gap) / (a.x + b.x)).min(height / b.y.max(a.y));
    let tall = b.y.max(a.y) * scale;
    let left = (width - gap - (a.x + b.x) * scale) / 2.0;
    let mut items = scene::drawn(closed, scale, pt(left, tall - a.y * scale), (0.3, 0.2));
    items.extend(scene::drawn(open, scale, pt(left + a.x * scale + gap, tall - b.y * scale), (0.3, 0.2)));
    let m = cx.mechanism();
    let alt = cx.tv(
        "cover-alt",
        &[
            ("closed", cx.length(m.sizes.closed_diameter)),
            ("open", cx.length(2.0 * (m.layout.radius + m.layout.travel))),
            ("sectors", m.sizes.sectors.to_string()),
        ],
    );
    let middles = [left + a.x * scale / 2.0, left + a.x * scale + gap + b.x * scale / 2.0];
    (Figure { id: "figure/cover".into(), alt, width, height: tall, items }, middles)
}

/// A key size: label, big figure, the other unit below.
fn key(x: f64, y: f64, width: f64, label: &str, main: &str, second: &str, origin: Option<Origin>) -> Item {
    let mut items = vec![
        words(pt(x, y), SMALL, Face::Regular, Anchor::Start, label, width),
        words(pt(x, y + 7.2), 5.6, Face::Bold, Anchor::Start, main, width),
    ];
    if !second.is_empty() {
        items.push(words(pt(x, y + 12.2), SMALL, Face::Regular, Anchor::Start, second, width));
    }
    Item::Group { role: Role::Paragraph, origin, id: None, items }
}

/// The cover.
pub fn chapter(cx: &Cx, closed: &View, open: &View, refs: &Refs) -> Chapter {
    let g = &cx.grid;
    let texts = cx.input.plan.texts();
    let (x, right, width) = (g.left, g.right_x(), g.width());
    let mut said = Vec::new();
    let mut items = vec![Item::Mark { at: pt(0.0, 0.0), name: "cover".into() }];
    // Baseline of the head: its letters reach up to where the text of other pages begins.
    let head_line = g.top + 4.0;
    // Head: maker and number over a thick rule.
    let number = cut(&texts.number, BODY, Face::Regular, 60.0);
    let room = width - turnleaf_text::width(&number, BODY, Face::Regular) - 6.0;
    let mut head = Vec::new();
    if !texts.maker.trim().is_empty() {
        head.push(words(pt(x, head_line), BODY, Face::Regular, Anchor::Start, &texts.maker, room));
    }
    if !number.trim().is_empty() {
        head.push(Item::Text(Text::new(pt(right, head_line), BODY, number).anchor(Anchor::End)));
    }
    let (lines, whole) = title(&cx.title(), width);
    if !whole {
        let sentence = "The title is too long for the cover; only its beginning is shown there.";
        said.push(Diagnostic::warning("book.title.long", sentence));
    }
    let top = head_line + 8.0;
    items.extend(head.into_iter().map(|i| group(Role::Paragraph, None, vec![i])));
    items.push(furniture(vec![level(x, right, head_line + 4.0, rule(THICK))]));
    items.push(group(Role::Heading(1), Some("cover/title".into()), lines.place(0..lines.len(), x, top)));
    let mut y = top + lines.height() + 2.0;
    let n = cx.mechanism().sizes.sectors;
    let sub = cx.tv("cover-sub", &[("sectors", n.to_string())]);
    let sub = paragraph(&[Span::new(sub)], width, Setting::new(4.4).leading(6.2));
    items.push(sub.group(x, y, Some("cover/sub".into())));
    y += sub.height();
    // Foot: key sizes, then the facts of this issue.
    let facts = facts(cx, refs);
    let foot_height = 5.0 * facts.len() as f64;
    let facts_top = g.bottom - foot_height + 6.0;
    let keys_top = facts_top - 28.0;
    // Pictures in the room between, a little above its middle.
    let room = keys_top - 8.0 - y;
    let (figure, middles) = pictures(cx, closed, open, width, (room - 22.0).max(20.0));
    let at = y + (room - figure.height - 8.0) * 0.5;
    items.push(figure.at(x, at));
    for (middle, state) in middles.into_iter().zip(["closed", "open"]) {
        let line = Text::new(pt(x + middle, at + figure.height + 6.0), SMALL, cx.t(state));
        items.push(group(Role::Paragraph, None, vec![Item::Text(line.anchor(Anchor::Middle))]));
    }
    items.push(furniture(vec![level(x, right, keys_top, rule(THIN))]));
    items.extend(keys(cx, x, keys_top + 6.0, width));
    items.push(furniture(vec![level(x, right, facts_top - 5.0, rule(THIN))]));
    for (i, (label, value, link)) in facts.iter().enumerate() {
        let base = facts_top + 5.0 * i as f64;
        let mut row = vec![
            words(pt(x, base), SMALL, Face::Regular, Anchor::Start, &format!("{label}  "), g.side),
            words(pt(g.main_x(), base), SMALL, Face::Regular, Anchor::Start, value, g.main_width()),
        ];
        if let Some(target) = link {
            row.push(Item::Link {
                min: pt(g.main_x(), base - 3.6),
                max: pt(right, base + 1.2),
                target: target.to_string(),
            });
        }
        items.push(group(Role::Paragraph, None, row));
    }
    items.push(furniture(vec![level(x, right, g.bottom + 4.0, grey_rule(THIN))]));
    Chapter {
        id: "cover".into(),
        title: cx.t("cover"),
        number: 0,
        pages: vec![Draft { items }],
        shared: false,
        end: g.bottom,
        sections: Vec::new(),
        said,
    }
}

fn keys(cx: &Cx, x: f64, y: f64, width: f64) -> Vec<Item> {
    let column = width / 4.0;
    let room = column - 4.0;
    let mut out = Vec::new();
    let sizes =
        [("closed.diameter", "key-closed"), ("open.diameter", "key-open"), ("stack.top", "key-height")];
    for (i, (id, label)) in sizes.into_iter().enumerate() {
        let Some((origin, n)) = cx.number(id) else { continue };
        let inch_first = matches!(cx.say.units, PrintUnits::Inch(_));
        let (mm, inch) = (cx.or_dash(cx.say.mm(n.value)), cx.or_dash(cx.say.inches(n.value)));
        let (main, second) = if inch_first { (inch, mm) } else { (mm, inch) };
        out.push(key(x + column * i as f64, y, room, &cx.t(label), &main, &second, Some(origin)));
    }
    if let Some((origin, n)) = cx.number("sectors") {
        let count = cx.or_dash(print_decimal(n.value, 0, cx.say.sign));
        out.push(key(x + column * 3.0, y, room, &cx.t("key-sectors"), &count, "", Some(origin)));
    }
    out
}

type Fact = (String, String, Option<&'static str>);

fn facts(cx: &Cx, refs: &Refs) -> Vec<Fact> {
    let units = match cx.say.units {
        PrintUnits::Mm(_) => "units-mm",
        PrintUnits::Inch(_) => "units-inch",
        PrintUnits::Both(..) => "units-both",
    };
    let print = cx.tv("cover-check", &[("page", refs.page("print"))]);
    let mut out = vec![
        (cx.t("fact-revision"), cx.revision(), Some("revisions")),
        (cx.t("fact-units"), cx.t(units), None),
        (cx.t("fact-print"), print, Some("print")),
    ];
    let program = cx.program();
    if !program.is_empty() {
        out.push((cx.t("fact-program"), program, None));
    }
    // Whole on the cover where it fits into its line, else its beginning and the page that has it whole.
    if let Some(licence) = cx.input.plan.offer().map(|o| o.licence.trim()).filter(|l| !l.is_empty()) {
        let page = cx.tv("cover-licence", &[("page", refs.page("revisions"))]);
        let room = cx.grid.main_width();
        let width = |text: &str| turnleaf_text::width(text, SMALL, Face::Regular);
        let value = if width(licence) <= room {
            licence.to_string()
        } else {
            format!("{} {page}", cut(licence, SMALL, Face::Regular, room - width(&page) - 2.0))
        };
        out.push((cx.t("fact-licence"), value, Some("revisions")));
    }
    out
}
