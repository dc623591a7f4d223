//! Draws the items of one page and notes what they are.
//!
//! In: items in drawing order. Out: marks on the page, links to add, and the page's elements.
//! Always true: everything drawn lies either in an artifact or in content with one place in the
//! structure; a marked stretch is always closed before another one opens.

use std::collections::BTreeMap;

use krilla::geom::{Point, Rect, Transform};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, Identifier, SpanTag};
use krilla::text::{Font as PdfFont, GlyphId, KrillaGlyph};
use turnleaf_page::{Item, Pt, Role, Text};
use turnleaf_text::measure::{anchor_shift, turn};
use turnleaf_text::{Font, plain, shape};

use crate::convert;
use crate::tags::{Kind, Marks, Tagged};

/// The fonts as the library wants them, in the order of [`Font::ALL`].
pub(crate) struct Fonts(Vec<PdfFont>);

impl Fonts {
    pub(crate) fn new() -> Option<Fonts> {
        Font::ALL.iter().map(|f| PdfFont::new(f.bytes().into(), 0)).collect::<Option<Vec<_>>>().map(Fonts)
    }
}

/// A link to add when the page is drawn.
pub(crate) struct Link {
    pub(crate) min: Pt,
    pub(crate) max: Pt,
    pub(crate) target: String,
    /// The words it lies on; empty when there are none.
    pub(crate) words: String,
}

/// Most glyphs written in one go: two bytes each must stay below the 32,767 bytes a string may have in
/// an archive file, with room for escapes.
const LONGEST_RUN: usize = 8000;

/// How loose items are taken.
#[derive(Clone, Copy, PartialEq)]
enum Scope {
    /// Each text is a paragraph of its own, lines are decoration.
    Flow,
    /// Texts are pieces of the surrounding element, lines are decoration.
    Inline,
    /// Everything is part of one picture.
    Picture,
    /// Everything is furniture.
    Furniture,
}

#[derive(PartialEq)]
enum Open {
    Artifact,
    Content(Identifier),
}

/// Draws one page.
pub(crate) struct Painter<'a, 'b> {
    pub(crate) surface: Surface<'a>,
    pub(crate) fonts: &'b Fonts,
    pub(crate) page: usize,
    /// Tables begun on earlier pages.
    pub(crate) tables: &'b BTreeMap<String, usize>,
    pub(crate) links: Vec<Link>,
    open: Option<Open>,
}

impl<'a, 'b> Painter<'a, 'b> {
    pub(crate) fn new(
        surface: Surface<'a>,
        fonts: &'b Fonts,
        page: usize,
        tables: &'b BTreeMap<String, usize>,
    ) -> Painter<'a, 'b> {
        Painter { surface, fonts, page, tables, links: Vec::new(), open: None }
    }

    /// Draws the items of the page; the surface is finished afterwards.
    pub(crate) fn paint(mut self, items: &[Item]) -> (Vec<Tagged>, Vec<Link>) {
        let mut out = Vec::new();
        self.items(items, Scope::Flow, &mut out);
        self.close();
        self.surface.finish();
        (out, self.links)
    }

    fn close(&mut self) {
        if self.open.take().is_some() {
            self.surface.end_tagged();
        }
    }

    fn artifact(&mut self) {
        if self.open != Some(Open::Artifact) {
            self.close();
            let tag = Artifact::with_kind(ArtifactType::Layout);
            self.surface.start_tagged(ContentTag::Artifact(tag));
            self.open = Some(Open::Artifact);
        }
    }

    /// Opens a stretch of content, or continues the open one, and notes it under `out` once.
    fn content(&mut self, out: &mut Vec<Tagged>, text: bool) {
        if let (Some(Open::Content(open)), Some(Tagged::Content(last))) = (&self.open, out.last())
            && open == last
        {
            return;
        }
        self.close();
        let tag = if text { ContentTag::Span(SpanTag::empty()) } else { ContentTag::Other };
        let id = self.surface.start_tagged(tag);
        out.push(Tagged::Content(id));
        self.open = Some(Open::Content(id));
    }

    fn items(&mut self, items: &[Item], scope: Scope, out: &mut Vec<Tagged>) {
        for item in items {
            self.item(item, scope, out);
        }
    }

    fn item(&mut self, item: &Item, scope: Scope, out: &mut Vec<Tagged>) {
        match item {
            Item::Path { steps, stroke, fill } => {
                if stroke.is_none() && fill.is_none() {
                    return;
                }
                let Some(path) = convert::path(steps) else { return };
                match scope {
                    Scope::Picture => self.content(out, false),
                    _ => self.artifact(),
                }
                self.surface.set_fill(fill.map(convert::fill));
                self.surface.set_stroke(stroke.as_ref().map(convert::stroke));
                self.surface.draw_path(&path);
            }
            Item::Text(text) => match scope {
                Scope::Flow => {
                    let mut inner = Vec::new();
                    self.close();
                    self.content(&mut inner, true);
                    self.text(text);
                    self.close();
                    out.push(Tagged::group(Kind::Paragraph, inner));
                }
                Scope::Inline => {
                    self.content(out, true);
                    self.text(text);
                }
                Scope::Picture => {
                    self.content(out, false);
                    self.text(text);
                }
                Scope::Furniture => {
                    self.artifact();
                    self.text(text);
                }
            },
            Item::Link { min, max, target } => {
                let link = self.link(*min, *max, target, String::new());
                out.push(Tagged::group(Kind::Link, vec![link]));
            }
            Item::Picture { min, max, picture } => {
                let Some(image) = convert::picture(picture) else { return };
                let Some(size) = convert::size(*min, *max) else { return };
                match scope {
                    Scope::Picture => self.content(out, false),
                    _ => self.artifact(),
                }
                let at = convert::place(Pt { x: min.x.min(max.x), y: min.y.min(max.y) });
                self.surface.push_transform(&Transform::from_translate(at.x, at.y));
                self.surface.draw_image(image, size);
                self.surface.pop();
            }
            Item::Mark { .. } => {}
            Item::Group { role, id, items, .. } => self.group(role, id.as_deref(), items, scope, out),
        }
    }

    fn link(&mut self, min: Pt, max: Pt, target: &str, words: String) -> Tagged {
        self.links.push(Link { min, max, target: target.to_string(), words });
        Tagged::Link(self.links.len() - 1)
    }

    fn group(&mut self, role: &Role, id: Option<&str>, items: &[Item], scope: Scope, out: &mut Vec<Tagged>) {
        // Inside a picture or the furniture every group is just its items.
        let kind = match (scope, role) {
            (Scope::Picture | Scope::Furniture, _) => None,
            (_, Role::Figure { alt }) => {
                let bbox = bounds(items).map(|rect| (self.page, rect));
                let alt = plain(alt, 4000);
                Some((Kind::Figure { alt, bbox }, Scope::Picture))
            }
            (_, Role::Heading(level)) => {
                let title = plain(&words(items), 1000);
                // A heading without words heads nothing.
                let heading = Kind::Heading { level: *level, title: title.clone() };
                Some((if title.trim().is_empty() { Kind::Paragraph } else { heading }, Scope::Inline))
            }
            (Scope::Flow, Role::Paragraph) => Some((Kind::Paragraph, Scope::Inline)),
            (_, Role::Table) => Some((Kind::Table, Scope::Furniture)),
            (Scope::Flow, Role::List) => Some((Kind::List(marks(items)), Scope::Flow)),
            (Scope::Flow, Role::ListItem) => Some((Kind::ListItem, Scope::Flow)),
            (Scope::Flow, Role::Label) => Some((Kind::Label, Scope::Inline)),
            (Scope::Flow, Role::Caption) => Some((Kind::Caption, Scope::Inline)),
            (Scope::Flow, Role::Contents) => Some((Kind::Contents, Scope::Flow)),
            (Scope::Flow, Role::ContentsEntry) => Some((Kind::ContentsEntry, Scope::Inline)),
            _ => None,
        };
        match (kind, role) {
            (Some((Kind::Table, _)), _) => self.table(id, items, out),
            (Some((Kind::Figure { alt, bbox }, inner)), _) => {
                self.close();
                let mut children = Vec::new();
                self.items(items, inner, &mut children);
                self.close();
                // A link inside a picture stands beside it in the structure, not in it.
                let (mine, links) = children.into_iter().partition(|c| matches!(c, Tagged::Content(_)));
                out.push(Tagged::group(Kind::Figure { alt, bbox }, mine));
                out.extend::<Vec<_>>(links);
            }
            (Some((kind, inner)), _) => {
                self.close();
                let mut children = Vec::new();
                self.linked(items, inner, &mut children);
                self.close();
                if kind == Kind::ListItem {
                    children = entry(children);
                }
                out.push(Tagged::Group { kind, id: id.map(str::to_string), children });
            }
            (None, Role::Artifact) => self.items(items, Scope::Furniture, out),
            (None, _) => self.linked(items, scope, out),
        }
    }

    /// Draws items; when a link lies directly among them, it owns the words beside it.
    fn linked(&mut self, items: &[Item], scope: Scope, out: &mut Vec<Tagged>) {
        let has_link = items.iter().any(|i| matches!(i, Item::Link { .. }));
        let has_words = items.iter().any(|i| matches!(i, Item::Text(_)));
        if !(has_link && has_words && matches!(scope, Scope::Flow | Scope::Inline)) {
            return self.items(items, scope, out);
        }
        self.close();
        let mut children = Vec::new();
        let said = plain(&words(items), 500);
        for item in items {
            match item {
                Item::Link { min, max, target } => {
                    let link = self.link(*min, *max, target, said.clone());
                    children.push(link);
                }
                item => self.item(item, Scope::Inline, &mut children),
            }
        }
        self.close();
        let link = Tagged::group(Kind::Link, children);
        match scope {
            Scope::Flow => out.push(Tagged::group(Kind::Paragraph, vec![link])),
            _ => out.push(link),
        }
    }

    fn table(&mut self, id: Option<&str>, items: &[Item], out: &mut Vec<Tagged>) {
        self.close();
        let (mut rows, mut beside) = (Vec::new(), Vec::new());
        let mut goes_on = id.is_some_and(|id| self.tables.contains_key(id));
        for item in items {
            match item {
                Item::Group { role: Role::Row, items: cells, .. } if goes_on && is_header(cells) => {
                    self.items(cells, Scope::Furniture, &mut beside);
                }
                Item::Group { role: Role::Row, items: cells, .. } => {
                    goes_on = false;
                    let row = self.row(cells, &mut beside);
                    rows.push(Tagged::group(Kind::Row, row));
                }
                item => self.item(item, Scope::Flow, &mut beside),
            }
        }
        self.close();
        out.push(Tagged::Group { kind: Kind::Table, id: id.map(str::to_string), children: rows });
        out.extend(beside);
    }

    fn row(&mut self, items: &[Item], beside: &mut Vec<Tagged>) -> Vec<Tagged> {
        let mut cells = Vec::new();
        for item in items {
            match item {
                Item::Group { role: Role::Cell(header), items, .. } => {
                    self.close();
                    let mut children = Vec::new();
                    self.linked(items, Scope::Inline, &mut children);
                    self.close();
                    cells.push(Tagged::group(Kind::Cell { header: *header }, children));
                }
                item => self.item(item, Scope::Flow, beside),
            }
        }
        cells
    }

    fn text(&mut self, text: &Text) {
        let shaped = shape(&text.text, text.face);
        if shaped.runs.is_empty() || text.size <= 0.0 {
            return;
        }
        self.surface.set_fill(Some(convert::fill(text.colour)));
        self.surface.set_stroke(None);
        let shift = anchor_shift(text.anchor, shaped.width * text.size);
        let turned = text.rotate.rem_euclid(360.0) != 0.0;
        let origin = if turned {
            let (c, s) = turn(text.rotate);
            let at = convert::place(text.at);
            // y runs down: a counter-clockwise turn carries right to up, which is -y.
            let turn = Transform::from_row(c as f32, -s as f32, s as f32, c as f32, at.x, at.y);
            self.surface.push_transform(&turn);
            Pt::default()
        } else {
            text.at
        };
        for run in &shaped.runs {
            let glyphs: Vec<KrillaGlyph> = run
                .glyphs
                .iter()
                .map(|g| {
                    KrillaGlyph::new(
                        GlyphId::new(g.id),
                        g.advance as f32,
                        g.dx as f32,
                        g.dy as f32,
                        0.0,
                        g.range.clone(),
                        None,
                    )
                })
                .collect();
            let font = &self.fonts.0[run.font.index()];
            let size = convert::points(text.size);
            let mut x = run.x;
            for part in glyphs.chunks(LONGEST_RUN) {
                let start = Point::from_xy(
                    convert::points(origin.x + shift + x * text.size),
                    convert::points(origin.y),
                );
                self.surface.draw_glyphs(start, part, font.clone(), &shaped.text, size, false);
                x += part.iter().map(|g| f64::from(g.x_advance)).sum::<f64>();
            }
        }
        if turned {
            self.surface.pop();
        }
    }
}

/// The parts of a list entry: its label, then everything else as its body.
fn entry(children: Vec<Tagged>) -> Vec<Tagged> {
    let label = |c: &Tagged| matches!(c, Tagged::Group { kind: Kind::Label, .. });
    let (mut parts, body): (Vec<_>, Vec<_>) = children.into_iter().partition(label);
    parts.push(Tagged::group(Kind::Body, body));
    parts
}

/// What stands before the entries of a list, judged by the first label.
fn marks(items: &[Item]) -> Marks {
    let label = |item: &Item| match item {
        Item::Group { role: Role::Label, items, .. } => Some(words(items)),
        _ => None,
    };
    let first = items.iter().find_map(|entry| match entry {
        Item::Group { role: Role::ListItem, items, .. } => items.iter().find_map(label),
        _ => None,
    });
    match first {
        None => Marks::Nothing,
        Some(said) if said.starts_with(|c: char| c.is_ascii_digit()) => Marks::Numbers,
        Some(_) => Marks::Signs,
    }
}

/// Whether a row is a header: several cells, all of them header cells.
fn is_header(cells: &[Item]) -> bool {
    let header = |c: &Item| matches!(c, Item::Group { role: Role::Cell(true), .. });
    cells.len() > 1 && cells.iter().all(header)
}

/// The words of the items in order, with single spaces between them.
fn words(items: &[Item]) -> String {
    fn collect(items: &[Item], out: &mut String) {
        for item in items {
            match item {
                Item::Text(text) => {
                    if !out.is_empty() && !out.ends_with(' ') {
                        out.push(' ');
                    }
                    out.push_str(&text.text);
                }
                Item::Group { items, .. } => collect(items, out),
                _ => {}
            }
        }
    }
    let mut out = String::new();
    collect(items, &mut out);
    out.trim().to_string()
}

/// The box around everything drawn, `None` when nothing is.
fn bounds(items: &[Item]) -> Option<Rect> {
    turnleaf_text::bounds(items).and_then(|(low, high)| convert::rect(low, high))
}
