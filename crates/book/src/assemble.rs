//! Puts the chapters in order, finds the page numbers and finishes the pages.
//!
//! In: input and options. Out: the document.
//! Always true: chapters are composed until every printed page number is right (twice, seldom three
//! times); page labels are the numbers printed at the foot.

use crate::chapters::{assembly, contents, cover, lists, motion, overview, ready, revisions, sheets, sizes};
use crate::cx::{Cx, Refs};
use crate::draw::{furniture, level, words};
use crate::flow::{Chapter, Draft, marks};
use crate::grid::{MIDDLE, TINY, rule};
use crate::scene;
use crate::{BookInput, BookOptions};
use std::collections::{BTreeMap, BTreeSet};
use turnleaf_diag::Diagnostic;
use turnleaf_page::{Anchor, Attachment, Bookmark, Document, Face, Item, Page, pt};

/// How often page numbers may still move. Two rounds settle them; each further one means that a number
/// grew a digit and pushed a line over.
const ROUNDS: usize = 5;

/// The date that the PDF's metadata carry when the plan was never issued.
const UNDATED: &str = "1970-01-01";

struct Book {
    cover: Chapter,
    contents: Chapter,
    before: Vec<Chapter>,
    assembly: Vec<turnleaf_assembly::AssemblySheet>,
    sheets: Vec<sheets::Sheets>,
    after: Vec<Chapter>,
}

impl Book {
    /// Page counts, to know when nothing moves any more.
    fn refs(&self) -> Refs {
        let mut refs = BTreeMap::new();
        let mut page = 0;
        let mut note = |items: &[Item], page: usize| {
            marks(items, &mut |name, _| {
                refs.entry(name.to_string()).or_insert(page);
            });
        };
        let front = [&self.cover, &self.contents].into_iter().chain(&self.before);
        for draft in front.flat_map(|c| &c.pages) {
            page += 1;
            note(&draft.items, page);
        }
        let assembly = self.assembly.iter().map(|s| &s.page);
        for sheet in assembly.chain(self.sheets.iter().flat_map(|s| &s.pages)) {
            page += 1;
            note(&sheet.items, page);
        }
        for draft in self.after.iter().flat_map(|c| &c.pages) {
            page += 1;
            note(&draft.items, page);
        }
        Refs(refs)
    }
    fn first_sheet(&self) -> usize {
        let front = [&self.cover, &self.contents].into_iter().chain(&self.before);
        1 + front.map(|c| c.pages.len()).sum::<usize>()
    }
}

/// The numbers of the drawings' chapters.
const ASSEMBLY: usize = 7;
const DRAWINGS: usize = 8;

pub(crate) fn compose(input: &BookInput, options: &BookOptions) -> (Document, Vec<Diagnostic>) {
    let cx = Cx::new(input, options);
    let turn = input.assembly.mechanism.turn();
    let (closed, open) = (scene::isometric(input.assembly, 0.0), scene::isometric(input.assembly, turn));
    let mut said = Vec::new();
    let mut refs = Refs::default();
    let front = |cx: &Cx, refs: &Refs| vec![ready::chapter(cx, 1, refs), ready::print_check(cx, 2)];
    let middle =
        vec![overview::chapter(&cx, 3, &refs), motion::chapter(&cx, 4, &refs), sizes::chapter(&cx, 5, &refs)];
    let mut before = front(&cx, &refs);
    before.extend(middle);
    before.push(lists::chapter(&cx, 6, &refs));
    let after = vec![revisions::chapter(&cx, 9, &refs)];
    let mut book = Book {
        cover: cover::chapter(&cx, &closed, &open, &refs),
        contents: contents::chapter(&cx, &[], &refs),
        before,
        assembly: Vec::new(),
        sheets: Vec::new(),
        after,
    };
    // Their number and titles do not depend on the page they begin on.
    let (drawings, misfits) = assembly::drawings(&cx);
    book.assembly = assembly::pages(&cx, &drawings, 1);
    // A first guess of the contents, so that the sheets' numbers are right at once.
    let names: Vec<_> =
        input.assembly.parts.iter().filter(|p| p.made).map(|p| (p.id.clone(), cx.part_name(p))).collect();
    book.contents = contents::chapter(&cx, &entries(&cx, &book, &names), &refs);
    let mut first = 0;
    for _ in 0..ROUNDS {
        if book.first_sheet() != first {
            first = book.first_sheet();
            book.assembly = assembly::pages(&cx, &drawings, first);
            let (sheets, mut problems) = sheets::sheets(&cx, first + book.assembly.len());
            book.sheets = sheets;
            said.retain(|d: &Diagnostic| !d.code.starts_with("sheet."));
            said.append(&mut problems);
        }
        let found = book.refs();
        if found == refs {
            break;
        }
        refs = found;
        // Only these print page numbers.
        book.cover = cover::chapter(&cx, &closed, &open, &refs);
        book.contents = contents::chapter(&cx, &entries(&cx, &book, &names), &refs);
        book.before[0] = ready::chapter(&cx, 1, &refs);
        let last = book.before.len() - 1;
        book.before[last] = lists::chapter(&cx, 6, &refs);
    }
    said.extend(misfits);
    finish(&cx, book, said)
}

/// Chapters as bookmarks.
fn entries(cx: &Cx, book: &Book, sheets: &[(String, String)]) -> Vec<contents::Entry> {
    let one = |c: &Chapter| contents::Entry {
        number: c.number,
        mark: Bookmark { title: c.title.clone(), target: c.id.clone(), children: c.sections.clone() },
    };
    let mut out: Vec<contents::Entry> = book.before.iter().map(one).collect();
    let children: Vec<Bookmark> = sheets
        .iter()
        .map(|(id, name)| Bookmark {
            title: name.clone(),
            target: format!("sheet/{id}"),
            children: Vec::new(),
        })
        .collect();
    let whole: Vec<Bookmark> = book
        .assembly
        .iter()
        .map(|s| Bookmark { title: s.title.clone(), target: s.id.clone(), children: Vec::new() })
        .collect();
    if let Some(first) = whole.first() {
        let target = first.target.clone();
        let mark = Bookmark { title: cx.t("assembly-title"), target, children: whole };
        out.push(contents::Entry { number: ASSEMBLY, mark });
    }
    if let Some(first) = children.first() {
        let target = first.target.clone();
        out.push(contents::Entry {
            number: DRAWINGS,
            mark: Bookmark { title: cx.t("drawings-title"), target, children },
        });
    }
    out.extend(book.after.iter().map(one));
    out
}

/// The foot of a text page.
fn foot(cx: &Cx, page: usize) -> Item {
    let g = &cx.grid;
    let y = g.page_height - 14.0;
    let number = page.to_string();
    let revision = cx.revision();
    let third = g.width() / 3.0;
    let middle = turnleaf_text::width(&revision, TINY, Face::Regular).min(third + 10.0);
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
        words(pt(g.left + g.width() / 2.0, y), TINY, Face::Regular, Anchor::Middle, &revision, third + 10.0),
        words(pt(g.right_x(), y), TINY + 0.5, Face::Bold, Anchor::End, &number, 20.0),
    ])
}

fn finish(cx: &Cx, book: Book, mut said: Vec<Diagnostic>) -> (Document, Vec<Diagnostic>) {
    let names: Vec<_> = book.sheets.iter().map(|s| (s.part.clone(), s.name.clone())).collect();
    let mut bookmarks = vec![
        Bookmark { title: cx.t("cover"), target: "cover".into(), children: Vec::new() },
        Bookmark { title: cx.t("contents-title"), target: "contents".into(), children: Vec::new() },
    ];
    bookmarks.extend(
        entries(cx, &book, &names)
            .into_iter()
            .map(|e| Bookmark { title: format!("{}  {}", e.number, e.mark.title), ..e.mark }),
    );
    let g = &cx.grid;
    let mut pages: Vec<Page> = Vec::new();
    let text_pages = |chapter: Chapter, pages: &mut Vec<Page>, said: &mut Vec<Diagnostic>| {
        said.extend(chapter.said);
        for (i, Draft { mut items }) in chapter.pages.into_iter().enumerate() {
            let number = pages.len() + 1;
            if chapter.id != "cover" {
                items.push(foot(cx, number));
            }
            let id = if i == 0 { chapter.id.clone() } else { format!("{}/{}", chapter.id, i + 1) };
            pages.push(Page {
                width: g.page_width,
                height: g.page_height,
                label: number.to_string(),
                id,
                title: chapter.title.clone(),
                items,
            });
        }
    };
    text_pages(book.cover, &mut pages, &mut said);
    text_pages(book.contents, &mut pages, &mut said);
    for chapter in book.before {
        text_pages(chapter, &mut pages, &mut said);
    }
    let assembly = book.assembly.into_iter().map(|s| s.page);
    for mut page in assembly.chain(book.sheets.into_iter().flat_map(|s| s.pages)) {
        page.label = (pages.len() + 1).to_string();
        pages.push(page);
    }
    for chapter in book.after {
        text_pages(chapter, &mut pages, &mut said);
    }
    lead_somewhere(&mut pages, &mut bookmarks, &mut said);
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

/// Takes out links and bookmarks that lead nowhere, which only happens when a sheet could not be drawn.
fn lead_somewhere(pages: &mut [Page], bookmarks: &mut Vec<Bookmark>, said: &mut Vec<Diagnostic>) {
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
    for target in lost {
        let sentence = format!("The book has no page “{target}”, to which its lists should lead.");
        said.push(Diagnostic::error("book.link", sentence));
    }
}

/// Characters of the maker's words that no bundled font can draw.
fn unprintable(cx: &Cx) -> Vec<Diagnostic> {
    let plan = cx.input.plan;
    let texts = plan.texts();
    let mut all = format!("{}{}{}", texts.title, texts.maker, texts.number);
    plan.notes().iter().chain(&plan.revision().reasons).for_each(|n| all.push_str(n));
    plan.revisions().iter().for_each(|r| all.push_str(&r.what));
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
