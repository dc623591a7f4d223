//! Puts the chapters in order, finds the page numbers and finishes the pages.
//!
//! In: input and options. Out: the document.
//! Always true: chapters are composed until every printed page number is right (twice, seldom three
//! times); page labels are the numbers printed at the foot; chapters are numbered in their order, without gaps; a
//! chapter of text begins on the last page of the one before it where enough room is left.

use crate::changed;
use crate::chapters::{
    adjusting, assembly, contents, cover, cutting, index, jigs, lists, motion, overview, ready, revisions,
    sheets, sizes, steps, strength, templates,
};
use crate::chosen::Part;
use crate::cx::{Cx, Refs};
use crate::draw::{furniture, level, words};
use crate::flow::{Chapter, Draft, marks};
use crate::grid::{MIDDLE, TINY, rule};
use crate::stamps::{Marks, stamp};
use crate::{BookInput, BookOptions};
use crate::{many, scene};
use std::collections::{BTreeMap, BTreeSet};
use turnleaf_assembly::StepFigure;
use turnleaf_diag::Diagnostic;
use turnleaf_page::{Anchor, Attachment, Bookmark, Document, Face, Item, Page, pt};
use turnleaf_parts::Assembly;

/// How often page numbers may still move. Two rounds settle them; each further one means that a number
/// grew a digit and pushed a line over.
const ROUNDS: usize = 5;

/// The date that the PDF's metadata carry when the plan was never issued.
pub(crate) const UNDATED: &str = "1970-01-01";

/// What a chapter is made of.
#[derive(Clone, Copy)]
enum Make {
    /// Text that prints no page numbers but its own.
    Once(fn(&Cx, usize, &Refs) -> Chapter),
    /// Text that prints page numbers.
    Again(fn(&Cx, usize, &Refs) -> Chapter),
    /// Drawings of the whole table.
    Assembly,
    /// Sheets of the parts.
    Sheets,
    /// Building steps: their figures are drawn once, their words set again when page numbers move.
    Steps,
    /// Full-size templates.
    Templates,
    /// Where everything stands: made of the finished pages before it.
    Index,
}

/// The chapters in their order; what has no key is in every book.
const ORDER: &[(Option<Part>, Make)] = &[
    (None, Make::Once(|cx, number, _| ready::print_check(cx, number))),
    (None, Make::Again(ready::chapter)),
    (Some(Part::Table), Make::Once(overview::chapter)),
    (Some(Part::Motion), Make::Once(motion::chapter)),
    (Some(Part::Sizes), Make::Once(sizes::chapter)),
    (Some(Part::Lists), Make::Again(lists::chapter)),
    (Some(Part::Cutting), Make::Once(cutting::chapter)),
    (Some(Part::Assembly), Make::Assembly),
    (Some(Part::Drawings), Make::Sheets),
    (Some(Part::Jigs), Make::Once(jigs::chapter)),
    (Some(Part::Steps), Make::Steps),
    (Some(Part::Adjusting), Make::Once(adjusting::chapter)),
    (Some(Part::Strength), Make::Once(strength::chapter)),
    (Some(Part::Templates), Make::Templates),
    (Some(Part::Revisions), Make::Once(revisions::chapter)),
    (Some(Part::Index), Make::Index),
];

/// A chapter as it stands.
enum Body {
    Text(Chapter),
    Assembly(Vec<turnleaf_assembly::AssemblySheet>),
    Sheets(Vec<sheets::Sheets>),
    Templates(turnleaf_template::Chapter),
}

impl Body {
    fn each(&self, see: &mut dyn FnMut(&[Item])) {
        match self {
            Body::Text(c) => c.pages.iter().for_each(|d| see(&d.items)),
            Body::Assembly(list) => list.iter().for_each(|s| see(&s.page.items)),
            Body::Sheets(list) => list.iter().flat_map(|s| &s.pages).for_each(|p| see(&p.items)),
            Body::Templates(c) => c.pages.iter().for_each(|p| see(&p.items)),
        }
    }
    fn pages(&self) -> usize {
        let mut n = 0;
        self.each(&mut |_| n += 1);
        n
    }
    /// Whether the first page is the last one of the chapter before.
    fn shared(&self) -> bool {
        matches!(self, Body::Text(c) if c.shared)
    }
    /// Where the next chapter may begin on the last page.
    fn end(&self) -> Option<f64> {
        if let Body::Text(c) = self { Some(c.end) } else { None }
    }
}

struct Slot {
    number: usize,
    make: Make,
    body: Body,
    /// Where the chapter before it ended when it was composed.
    start: Option<f64>,
}

struct Book {
    cover: Chapter,
    contents: Chapter,
    slots: Vec<Slot>,
}

impl Book {
    /// Every page's items with the page's number, up to a slot.
    fn each(&self, slots: usize, see: &mut dyn FnMut(&[Item], usize)) {
        let mut page = 0;
        for draft in self.cover.pages.iter().chain(&self.contents.pages) {
            page += 1;
            see(&draft.items, page);
        }
        for slot in &self.slots[..slots] {
            page -= usize::from(slot.body.shared());
            slot.body.each(&mut |items| {
                page += 1;
                see(items, page);
            });
        }
    }
    /// Page numbers of all marks, to know when nothing moves any more.
    fn refs(&self, partial: bool) -> Refs {
        let mut refs = BTreeMap::new();
        self.each(self.slots.len(), &mut |items, page| {
            marks(items, &mut |name, _| {
                refs.entry(name.to_string()).or_insert(page);
            });
        });
        Refs { pages: refs, settled: partial }
    }
    /// The number of a slot's first page.
    fn first_of(&self, slot: usize) -> usize {
        let front = self.cover.pages.len() + self.contents.pages.len();
        let pages = |s: &Slot| s.body.pages() - usize::from(s.body.shared());
        1 + front + self.slots[..slot].iter().map(pages).sum::<usize>()
    }
    /// Where a slot's chapter may begin on the page of the one before it.
    fn start_of(&self, slot: usize) -> Option<f64> {
        slot.checked_sub(1).and_then(|i| self.slots[i].body.end())
    }
}

/// A piece of drawing that needs nothing of the rest of the book.
enum Work<'a> {
    /// Cutting layouts, which stay where they are.
    Layouts(&'a crate::Nested),
    /// Gaps that can pinch.
    Pinches,
    Sheets(&'a sheets::Wanted),
    Figure(&'a steps::Wanted<'a>),
}

/// What came of it.
enum Done {
    Layouts,
    Pinches(Vec<turnleaf_motion::Pinch>),
    Sheets(Box<sheets::Drawn>),
    Figure(StepFigure),
}

impl Work<'_> {
    fn done(&self, assembly: &Assembly) -> Done {
        match self {
            Work::Layouts(nested) => {
                nested.found();
                Done::Layouts
            }
            Work::Pinches => Done::Pinches(turnleaf_motion::pinch_points(assembly)),
            Work::Sheets(wanted) => Done::Sheets(Box::new(wanted.draw())),
            Work::Figure(wanted) => Done::Figure(wanted.draw(assembly)),
        }
    }
}

pub(crate) fn compose(input: &BookInput, options: &BookOptions) -> (Document, Vec<Diagnostic>) {
    let cx = Cx::new(input, options);
    let turn = input.assembly.mechanism.turn();
    let mut said = Vec::new();
    let mut refs = Refs::default();
    let chosen = ORDER.iter().filter(|(key, _)| key.is_none_or(|k| options.chapters.has(k)));
    let has = |wanted: Part| options.chapters.has(wanted);
    // Nothing that is drawn depends on the page it comes on, and no drawing on another.
    let to_draw = if has(Part::Drawings) { sheets::wanted(&cx) } else { Vec::new() };
    let told = if has(Part::Steps) { steps::shown(&cx) } else { Default::default() };
    let figures = steps::wanted(&cx, &told.0);
    // The longest first.
    let mut work: Vec<Work> = input.cutting.iter().map(|nested| Work::Layouts(nested)).collect();
    work.push(Work::Pinches);
    work.extend(to_draw.iter().map(Work::Sheets));
    work.extend(figures.iter().flatten().map(Work::Figure));
    let meanwhile = || {
        let whole = if has(Part::Assembly) { assembly::drawings(&cx) } else { Default::default() };
        (whole, scene::isometric(input.assembly, 0.0), scene::isometric(input.assembly, turn))
    };
    let (done, ((drawings, misfits), closed, open)) =
        many::each(&work, |one| one.done(input.assembly), meanwhile);
    let (mut drawn, mut steps_drawn) = (Vec::new(), Vec::new());
    for one in done {
        match one {
            Done::Layouts => {}
            Done::Pinches(found) => cx.know_pinches(found),
            Done::Sheets(sheets) => drawn.push(*sheets),
            Done::Figure(figure) => steps_drawn.push(figure),
        }
    }
    let mut steps_drawn = steps_drawn.into_iter();
    let of_steps = figures.iter().map(|f| Some((f.as_ref()?.from, steps_drawn.next()?))).collect();
    let building = has(Part::Steps).then(|| steps::Steps::new(&cx, told, of_steps));
    let mut book = Book {
        cover: cover::chapter(&cx, &closed, &open, &refs),
        contents: contents::chapter(&cx, &[], &refs),
        slots: Vec::new(),
    };
    for (i, (_, make)) in chosen.enumerate() {
        let number = i + 1;
        let start = book.start_of(i);
        cx.start.set(start);
        let body = match make {
            Make::Once(f) | Make::Again(f) => Body::Text(f(&cx, number, &refs)),
            Make::Assembly => Body::Assembly(assembly::pages(&cx, &drawings, 1)),
            Make::Sheets => Body::Sheets(Vec::new()),
            Make::Steps => match &building {
                Some(b) => Body::Text(steps::chapter(&cx, number, &refs, b)),
                None => continue,
            },
            Make::Templates => Body::Templates(templates::templates(&cx, 1).0),
            Make::Index => Body::Text(index::chapter(&cx, number, &refs, &index::Found::default())),
        };
        book.slots.push(Slot { number, make: *make, body, start });
    }
    // A first guess of the contents, so that the sheets' numbers are right at once.
    book.contents = contents::chapter(&cx, &entries(&cx, &book), &refs);
    let mut firsts = vec![0; book.slots.len()];
    for _ in 0..ROUNDS {
        for (i, known) in firsts.iter_mut().enumerate() {
            let first = book.first_of(i);
            if *known == first {
                continue;
            }
            *known = first;
            match book.slots[i].make {
                Make::Assembly => book.slots[i].body = Body::Assembly(assembly::pages(&cx, &drawings, first)),
                Make::Templates => {
                    let (chapter, mut problems) = templates::templates(&cx, first);
                    book.slots[i].body = Body::Templates(chapter);
                    said.retain(|d: &Diagnostic| !d.code.starts_with("template."));
                    said.append(&mut problems);
                }
                Make::Sheets => {
                    let (sheets, mut problems) = sheets::sheets(&cx, &to_draw, &drawn, first);
                    book.slots[i].body = Body::Sheets(sheets);
                    said.retain(|d: &Diagnostic| !d.code.starts_with("sheet."));
                    said.append(&mut problems);
                }
                _ => {}
            }
        }
        let found = book.refs(!options.chapters.complete());
        if found == refs {
            break;
        }
        refs = found;
        book.cover = cover::chapter(&cx, &closed, &open, &refs);
        book.contents = contents::chapter(&cx, &entries(&cx, &book), &refs);
        for i in 0..book.slots.len() {
            let number = book.slots[i].number;
            let start = book.start_of(i);
            cx.start.set(start);
            let body = match book.slots[i].make {
                Make::Again(f) => f(&cx, number, &refs),
                Make::Once(f) if book.slots[i].start != start => f(&cx, number, &refs),
                Make::Steps => match &building {
                    Some(b) => steps::chapter(&cx, number, &refs, b),
                    None => continue,
                },
                Make::Index => {
                    let mut found = index::Found::default();
                    book.each(i, &mut |items, page| found.note(items, page));
                    index::chapter(&cx, number, &refs, &found)
                }
                _ => continue,
            };
            book.slots[i].body = Body::Text(body);
            book.slots[i].start = start;
        }
    }
    said.extend(misfits);
    said.extend(building.into_iter().flat_map(|b| b.said));
    finish(&cx, book, said)
}

/// The sheets of one part as the book has them when the first is page `first`, but for links that a book of chosen
/// chapters leaves out; empty for a part that is not made.
pub(crate) fn part_pages(input: &BookInput, options: &BookOptions, part: &str, first: usize) -> Vec<Page> {
    let cx = Cx::new(input, options);
    let wanted: Vec<sheets::Wanted> = sheets::wanted(&cx).into_iter().filter(|w| w.part() == part).collect();
    let drawn: Vec<sheets::Drawn> = wanted.iter().map(sheets::Wanted::draw).collect();
    let (found, _) = sheets::sheets(&cx, &wanted, &drawn, first);
    let mut pages: Vec<Page> = found.into_iter().flat_map(|s| s.pages).collect();
    for (i, page) in pages.iter_mut().enumerate() {
        page.label = (first + i).to_string();
    }
    changed::mark(&mut pages, input.plan);
    pages.iter_mut().for_each(|page| imprint(page, input.plan.imprint()));
    pages
}

/// Chapters as bookmarks.
fn entries(cx: &Cx, book: &Book) -> Vec<contents::Entry> {
    let leaf = |title: &str, target: String| Bookmark { title: title.into(), target, children: Vec::new() };
    let names = || {
        let made = cx.input.assembly.parts.iter().filter(|p| p.made);
        made.map(|p| leaf(&cx.part_name(p), format!("sheet/{}", p.id))).collect::<Vec<_>>()
    };
    let over = |title: &str, children: Vec<Bookmark>| {
        let target = children.first()?.target.clone();
        Some(Bookmark { title: cx.t(title), target, children })
    };
    let mark = |slot: &Slot| match &slot.body {
        Body::Text(c) => {
            Some(Bookmark { title: c.title.clone(), target: c.id.clone(), children: c.sections.clone() })
        }
        Body::Assembly(list) => {
            over("assembly-title", list.iter().map(|s| leaf(&s.title, s.id.clone())).collect())
        }
        Body::Sheets(_) => over("drawings-title", names()),
        Body::Templates(c) if c.pages.is_empty() => None,
        Body::Templates(c) => Some(Bookmark {
            title: c.title.clone(),
            target: turnleaf_template::MARK.into(),
            children: c.bookmarks.clone(),
        }),
    };
    let entry = |slot: &Slot| Some(contents::Entry { number: slot.number, mark: mark(slot)? });
    book.slots.iter().filter_map(entry).collect()
}

/// The foot of a text page: the revision in which it last changed, and its number.
pub(crate) fn foot(cx: &Cx, page: usize, revision: &str) -> Item {
    let g = &cx.grid;
    let y = g.page_height - 14.0;
    let number = page.to_string();
    let third = g.width() / 3.0;
    let middle = turnleaf_text::width(revision, TINY, Face::Regular).min(third + 10.0);
    furniture(vec![
        level(g.left, g.right_x(), y - 4.6, rule(MIDDLE)),
        words(
            pt(g.left, y),
            TINY,
            Face::Regular,
            Anchor::Start,
            &cx.title(),
            g.width() / 2.0 - middle / 2.0 - 4.0,
        ),
        stamp(
            "revision",
            vec![words(
                pt(g.left + g.width() / 2.0, y),
                TINY,
                Face::Regular,
                Anchor::Middle,
                revision,
                third + 10.0,
            )],
        ),
        stamp("number", vec![words(pt(g.right_x(), y), TINY + 0.5, Face::Bold, Anchor::End, &number, 20.0)]),
    ])
}

/// Whose copy it is, below everything else on the page: outside the frame of a drawing (ISO 5457 leaves 10 mm there).
fn imprint(page: &mut Page, text: &str) {
    if text.is_empty() {
        return;
    }
    // On a drawing between the frame and the border of its zones, and left of the centring mark.
    let sheet = page.id.starts_with("sheet/");
    let (left, room, up, small) = match sheet {
        true => (22.0, page.width / 2.0 - 24.0, 5.9, 2.1),
        false => (18.0, page.width - 58.0, 4.6, TINY - 0.4),
    };
    let size = if turnleaf_text::width(text, TINY - 0.4, Face::Regular) <= room { TINY - 0.4 } else { small };
    let (first, rest) = two_lines(text, size, room);
    let line = |up: f64, text: &str| {
        words(pt(left, page.height - up), size, Face::Regular, Anchor::Start, text, room)
    };
    let lines = match rest {
        "" => vec![line(up, first)],
        rest => vec![line(up + size, first), line(up - 0.1, rest)],
    };
    page.items.push(stamp("imprint", vec![furniture(lines)]));
}

/// A text that is too wide for one line, parted at the last space that leaves enough in the first, or within a word
/// where there is none; the second line is empty when one is enough.
fn two_lines(text: &str, size: f64, room: f64) -> (&str, &str) {
    let fits = |text: &str| turnleaf_text::width(text, size, Face::Regular) <= room;
    if fits(text) {
        return (text, "");
    }
    let last = |ends: &mut dyn Iterator<Item = usize>| ends.take_while(|i| fits(&text[..*i])).last();
    let spaces = &mut text.match_indices(' ').map(|(i, _)| i);
    let letters = &mut text.char_indices().map(|(i, _)| i);
    let at = last(spaces).filter(|i| *i > 0).or_else(|| last(letters)).unwrap_or(text.len());
    (text[..at].trim_end(), text[at..].trim_start())
}

/// Puts the first page of every chapter that begins on another's page onto that page.
fn share(slots: &mut [Slot]) {
    for i in (1..slots.len()).rev() {
        let (before, after) = slots.split_at_mut(i);
        if let (Some(Slot { body: Body::Text(a), .. }), Some(Slot { body: Body::Text(b), .. })) =
            (before.last_mut(), after.first_mut())
            && b.shared
            && let Some(last) = a.pages.last_mut()
        {
            last.items.append(&mut b.pages.remove(0).items);
        }
    }
}

fn finish(cx: &Cx, book: Book, mut said: Vec<Diagnostic>) -> (Document, Vec<Diagnostic>) {
    let mut bookmarks = vec![
        Bookmark { title: cx.t("cover"), target: "cover".into(), children: Vec::new() },
        Bookmark { title: cx.t("contents-title"), target: "contents".into(), children: Vec::new() },
    ];
    bookmarks.extend(
        entries(cx, &book)
            .into_iter()
            .map(|e| Bookmark { title: format!("{}  {}", e.number, e.mark.title), ..e.mark }),
    );
    let g = &cx.grid;
    let marks = Marks::of(cx.input.plan);
    let mut pages: Vec<Page> = Vec::new();
    let mut slots = book.slots;
    share(&mut slots);
    let text_pages = |chapter: Chapter, pages: &mut Vec<Page>, said: &mut Vec<Diagnostic>| {
        said.extend(chapter.said);
        let skipped = usize::from(chapter.shared);
        for (i, Draft { items }) in chapter.pages.into_iter().enumerate() {
            let number = pages.len() + 1;
            // A page that begins with another chapter goes by that one's name.
            let i = i + skipped;
            let id = if i == 0 { chapter.id.clone() } else { format!("{}/{}", chapter.id, i + 1) };
            let mut page = Page {
                width: g.page_width,
                height: g.page_height,
                label: number.to_string(),
                id,
                title: chapter.title.clone(),
                items,
            };
            if chapter.id != "cover" {
                page.items.push(foot(cx, number, &cx.revision()));
                let changed = marks.now(&page.id, &[&page]).pop().unwrap_or_default();
                let said = cx.revision_of(&changed, marks.revision(&changed).0);
                page.items.pop();
                page.items.push(foot(cx, number, &said));
            }
            pages.push(page);
        }
    };
    text_pages(book.cover, &mut pages, &mut said);
    text_pages(book.contents, &mut pages, &mut said);
    for slot in slots {
        let drawn: Vec<Page> = match slot.body {
            Body::Text(chapter) => {
                text_pages(chapter, &mut pages, &mut said);
                continue;
            }
            Body::Assembly(list) => list.into_iter().map(|s| s.page).collect(),
            Body::Sheets(list) => list.into_iter().flat_map(|s| s.pages).collect(),
            Body::Templates(c) => c.pages,
        };
        for mut page in drawn {
            page.label = (pages.len() + 1).to_string();
            pages.push(page);
        }
    }
    changed::mark(&mut pages, cx.input.plan);
    pages.iter_mut().for_each(|page| imprint(page, cx.input.plan.imprint()));
    lead_somewhere(cx, &mut pages, &mut bookmarks, &mut said);
    if cx.dashes.get() > 0 {
        let sentence = "Some solved values are no numbers; the book shows a dash in their place.";
        said.push(Diagnostic::error("book.number", sentence));
    }
    said.extend(unprintable(cx));
    let plan = cx.input.plan;
    let date = plan.revision().date.or(plan.revisions().last().map(|r| r.date));
    if date.is_none() {
        let sentence = "The plan has no date; the book's file is dated 1970-01-01.";
        let hint = "Give the revision a date when it is issued.";
        said.push(Diagnostic {
            severity: turnleaf_diag::Severity::Note,
            ..Diagnostic::warning("book.date", sentence).hint(hint)
        });
    }
    let document = Document {
        title: cx.title(),
        author: plan.texts().maker.clone(),
        subject: cx.tv("subject", &[("revision", cx.revision())]),
        language: cx.words.tag().to_string(),
        program: cx.program(),
        date: date.map_or_else(|| UNDATED.to_string(), |d| d.to_string()),
        pages,
        bookmarks,
        attachments: attachments(cx),
    };
    (document, said)
}

fn attachments(cx: &Cx) -> Vec<Attachment> {
    if !cx.options.carry_plan || cx.input.plan_json.is_empty() {
        return Vec::new();
    }
    vec![Attachment {
        name: format!("{}.json", file_name(&cx.title())),
        mime: "application/json".into(),
        description: cx.t("attachment"),
        data: cx.input.plan_json.as_bytes().to_vec(),
    }]
}

/// A file name from a title: small letters, figures and single hyphens.
pub(crate) fn file_name(title: &str) -> String {
    let mut out = String::new();
    for c in title.chars().flat_map(char::to_lowercase) {
        if c.is_ascii_alphanumeric() {
            out.push(c);
        } else if !out.is_empty() && !out.ends_with('-') {
            out.push('-');
        }
        if out.len() >= 60 {
            break;
        }
    }
    let out = out.trim_end_matches('-');
    if out.is_empty() { "plan".into() } else { out.into() }
}

/// Takes out links and bookmarks that lead nowhere: to chapters that were not chosen, or to a sheet that could not
/// be drawn.
fn lead_somewhere(cx: &Cx, pages: &mut [Page], bookmarks: &mut Vec<Bookmark>, said: &mut Vec<Diagnostic>) {
    let mut known = BTreeSet::new();
    for page in pages.iter() {
        marks(&page.items, &mut |name, _| {
            known.insert(name.to_string());
        });
    }
    let mut lost = BTreeSet::new();
    fn clean(items: &mut Vec<Item>, known: &BTreeSet<String>, lost: &mut BTreeSet<String>) {
        items.retain(|item| match item {
            Item::Link { target, .. } if !known.contains(target) => {
                lost.insert(target.clone());
                false
            }
            _ => true,
        });
        for item in items {
            if let Item::Group { items, .. } = item {
                clean(items, known, lost);
            }
        }
    }
    for page in pages {
        clean(&mut page.items, &known, &mut lost);
    }
    fn sieve(list: &mut Vec<Bookmark>, known: &BTreeSet<String>) {
        list.retain(|b| known.contains(&b.target));
        list.iter_mut().for_each(|b| sieve(&mut b.children, known));
    }
    sieve(bookmarks, &known);
    if !cx.options.chapters.complete() {
        lost.clear();
    }
    for target in lost {
        let sentence = format!("The book has no page “{target}”, to which its lists should lead.");
        said.push(Diagnostic::error("book.link", sentence));
    }
}

/// Characters of the maker's words that no bundled font can draw.
fn unprintable(cx: &Cx) -> Vec<Diagnostic> {
    let plan = cx.input.plan;
    let texts = plan.texts();
    let mut all = format!("{}{}{}{}", texts.title, texts.maker, texts.number, plan.imprint());
    plan.notes().iter().chain(&plan.revision().reasons).for_each(|n| all.push_str(n));
    plan.revisions().iter().for_each(|r| all.push_str(&r.what));
    for s in plan.steps() {
        let pictures = s.pictures.iter().map(|p| &p.caption);
        let texts = s.title.iter().chain(s.text.iter().flatten()).chain(&s.notes);
        texts.chain(pictures).for_each(|t| all.push_str(t));
    }
    let missing = turnleaf_text::undrawable(&all);
    if missing.is_empty() {
        return Vec::new();
    }
    let shown: Vec<String> = missing.iter().take(10).map(|c| format!("U+{:04X}", *c as u32)).collect();
    let sentence = format!(
        "{} characters of the plan's words cannot be drawn with the book's fonts and show as a stand-in: {}.",
        missing.len(),
        shown.join(", ")
    );
    vec![Diagnostic::warning("book.characters", sentence)]
}
