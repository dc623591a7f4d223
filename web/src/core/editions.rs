//! Editions: issuing one, making an issued one again, comparing two, what a question can be about.
//!
//! In: plans as text. Out: plain values that can cross to another thread, and files.
//! Always true: of each pair compared the newer plan's units and language are used; nothing private to the maker
//! is in what goes to buyers; the editions worked out last are kept, so that a comparison, its overlays and its
//! notice cost two books, not six.

use super::{Plan, say_length};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use turnleaf_page::{Document, Item, Page, Pt, Role, Step, Text, pt};
use turnleaf_plan::{
    Change, Edition, Group, Measure, PageState, PartVerdict, Reason, Verdict, Work, WorkKind, page_svg,
};
use turnleaf_units::print_decimal;

/// A plan file, or one of the revisions frozen in it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Side {
    /// The plan file.
    pub plan: String,
    /// The revision; the plan as it is now without one.
    pub mark: Option<String>,
}

/// What was just issued.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Issued {
    /// The plan file with the revision frozen in it.
    pub plan: String,
    /// Its mark.
    pub mark: String,
    /// Pages of its book.
    pub pages: usize,
}

/// One line of a comparison.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Line {
    /// Kind of thing, as a word: size, option, number, part, hardware, dimension, step.
    pub group: String,
    /// Stable identifier.
    pub id: String,
    /// Plain words.
    pub label: String,
    /// In the older edition; none when it was added.
    pub old: Option<String>,
    /// In the newer one; none when it was taken away.
    pub new: Option<String>,
    /// New less old with its sign, in the units chosen; empty where it is no number.
    pub difference: String,
}

/// What became of a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum PageFate {
    /// Prints the same.
    Same,
    /// Prints the same under another number.
    Renumbered,
    /// Prints something else.
    Changed,
    /// New.
    Added,
    /// Gone.
    Removed,
}

/// A page of either book.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PageLine {
    /// Stable identifier.
    pub id: String,
    /// Its title.
    pub title: String,
    /// Place in the older book, from 1.
    pub old: Option<usize>,
    /// Place in the newer book, from 1.
    pub new: Option<usize>,
    /// What became of it.
    pub fate: PageFate,
}

/// What becomes of a part that is already cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum PartFate {
    /// It serves as it is.
    Good,
    /// It serves after some work.
    Work,
    /// It must be cut again.
    Again,
    /// It is no longer needed.
    NotNeeded,
    /// It was not there before.
    New,
}

/// A part already cut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PartLine {
    /// Stable identifier.
    pub id: String,
    /// Plain name.
    pub name: String,
    /// How many the older and the newer table need.
    pub count: (usize, usize),
    /// What becomes of it.
    pub fate: PartFate,
    /// What is to be done, or why it does not serve: sentences.
    pub why: Vec<String>,
    /// How much is to spare or lacking, in words.
    pub margin: String,
}

/// Two editions side by side.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
pub struct Compared {
    /// What prints differently, pages left out.
    pub lines: Vec<Line>,
    /// Pages of both books.
    pub pages: Vec<PageLine>,
    /// Parts already cut that were made, not bought.
    pub parts: Vec<PartLine>,
    /// Checks that fail with the parts that stay good in the newer table.
    pub fails: Vec<String>,
}

/// A sheet of two books laid over each other: three drawings of one size.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
pub struct Overlay {
    /// What both print.
    pub same: String,
    /// What only the older one prints.
    pub gone: String,
    /// What only the newer one prints.
    pub came: String,
}

/// Something that a question can be about.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Thing {
    /// dimension, part, step or page.
    pub about: String,
    /// Stable identifier.
    pub id: String,
    /// Plain words.
    pub label: String,
    /// What it belongs to; empty where it stands by itself.
    pub of: String,
}

/// Editions that were asked about.
#[derive(Default)]
pub struct Editions {
    kept: Vec<(Plan, Edition)>,
}

/// Most editions kept: both sides of a comparison and the present one.
const KEPT: usize = 3;

fn first(found: &[turnleaf_plan::Diagnostic]) -> String {
    crate::kept::first(found)
}

fn parse(text: &str) -> Result<Plan, String> {
    Plan::parse(text.as_bytes()).map(|(plan, _)| plan).map_err(|found| first(&found))
}

/// The plan of a side as it goes to buyers.
fn plan_of(side: &Side) -> Result<Plan, String> {
    let plan = parse(&side.plan)?;
    let Some(mark) = &side.mark else { return Ok(plan.edition()) };
    match plan.issued(mark) {
        Some(issued) => issued.map(|p| p.edition()).map_err(|found| first(&found)),
        None => Err(format!("The plan of revision {mark} was not kept in this file.")),
    }
}

impl Editions {
    /// Makes sure that the edition of a plan is at hand; its place.
    fn find(&mut self, plan: &Plan) -> Result<usize, String> {
        if let Some(at) = self.kept.iter().position(|(of, _)| of == plan) {
            let found = self.kept.remove(at);
            self.kept.push(found);
        } else {
            let edition = Edition::of(plan).map_err(|found| first(&found))?;
            if self.kept.len() >= KEPT {
                self.kept.remove(0);
            }
            self.kept.push((plan.clone(), edition));
        }
        Ok(self.kept.len() - 1)
    }

    fn pair(&mut self, old: &Side, new: &Side) -> Result<(&Edition, &Edition), String> {
        let (old, new) = (plan_of(old)?, plan_of(new)?);
        self.find(&old)?;
        let newer = self.find(&new)?;
        let older = self.kept.iter().position(|(of, _)| *of == old).unwrap_or(newer);
        Ok((&self.kept[older].1, &self.kept[newer].1))
    }

    /// Issues the present revision of a plan.
    pub fn issue(&mut self, plan: &str) -> Result<Issued, String> {
        let mut plan = parse(plan)?;
        let mark = plan.revision().mark.clone();
        let edition = turnleaf_plan::issue(&mut plan).map_err(|found| first(&found))?;
        Ok(Issued { plan: plan.to_json(), mark, pages: edition.document.pages.len() })
    }

    /// The book of an issued revision, and what differs from the file it was issued with.
    pub fn again(&mut self, plan: &str, mark: &str) -> Result<(Vec<String>, Vec<u8>), String> {
        let again = turnleaf_plan::again(&parse(plan)?, mark).map_err(|found| first(&found))?;
        Ok((again.differs, again.pdf))
    }

    /// Compares two editions.
    pub fn compare(&mut self, old: &Side, new: &Side) -> Result<Compared, String> {
        let (old, new) = self.pair(old, new)?;
        let found = turnleaf_plan::compare_editions(old, new);
        let plan = &new.built.plan;
        let of = |id: &str| {
            let name = |e: &Edition| e.built.assembly.part(id).map(|p| p.name.clone());
            name(new).or_else(|| name(old)).unwrap_or_default()
        };
        let line = |c: &Change| Line {
            group: c.group.key().into(),
            id: c.id.clone(),
            label: match c.group {
                Group::Dimension => {
                    format!("{}: {}", of(c.id.split('/').next().unwrap_or_default()), c.label)
                }
                _ => c.label.clone(),
            },
            old: c.old.clone(),
            new: c.new.clone(),
            difference: c.difference.map_or(String::new(), |d| difference(plan, d)),
        };
        let page = |p: &turnleaf_plan::PageChange| PageLine {
            id: p.id.clone(),
            title: p.title.clone(),
            old: p.old,
            new: p.new,
            fate: match p.state {
                PageState::Same => PageFate::Same,
                PageState::Renumbered => PageFate::Renumbered,
                PageState::Changed => PageFate::Changed,
                PageState::Added => PageFate::Added,
                PageState::Removed => PageFate::Removed,
            },
        };
        Ok(Compared {
            lines: found.changes.iter().map(line).collect(),
            pages: found.pages.iter().map(page).collect(),
            parts: found
                .parts
                .iter()
                .filter(|v| v.made)
                .map(|v| part_line(plan, v, found.step, &of))
                .collect(),
            fails: found.old_parts_fail,
        })
    }

    /// One page of both books, laid over each other.
    pub fn overlay(&mut self, old: &Side, new: &Side, id: &str) -> Result<Overlay, String> {
        let (old, new) = self.pair(old, new)?;
        let page = |d: &Document| d.pages.iter().find(|p| p.id == id).cloned();
        let (mut was, is) = (page(&old.document), page(&new.document));
        if let (Some(was), Some(is)) = (&mut was, &is) {
            lay_on(&mut was.items, &is.items);
        }
        let (Some(any), numbers) = (is.as_ref().or(was.as_ref()), &new.built.numbers) else {
            return Err(format!("Neither book has a page “{id}”."));
        };
        let counted = |p: &Option<Page>| {
            let mut out = BTreeMap::new();
            p.iter().for_each(|p| count(&p.items, &mut out));
            out
        };
        let (in_old, in_new) = (counted(&was), counted(&is));
        let with = |items: Vec<Item>| {
            let page = Page { items, ..any.clone() };
            // The sheet itself lies under all three.
            page_svg(&page, numbers).replace(super::INLINE, "").replacen(&sheet(&page), "", 1)
        };
        let of = |p: &Option<Page>, other: &BTreeMap<String, usize>, common: bool| {
            p.as_ref().map_or(Vec::new(), |p| picked(&p.items, &mut other.clone(), common))
        };
        Ok(Overlay {
            same: with(of(&is, &in_old, true)),
            gone: with(of(&was, &in_new, false)),
            came: with(of(&is, &in_old, false)),
        })
    }

    /// The change notice from one edition to another, as a file.
    pub fn notice(&mut self, old: &Side, new: &Side) -> Result<Vec<u8>, String> {
        let (old, new) = self.pair(old, new)?;
        let found = turnleaf_plan::compare_editions(old, new);
        let (document, _) = turnleaf_plan::notice(old, new, &found);
        turnleaf_plan::pdf(&document).map_err(|e| format!("The change notice could not be written: {e}"))
    }

    /// Everything that a question can be about.
    pub fn things(&mut self, plan: &str) -> Result<Vec<Thing>, String> {
        let plan = parse(plan)?.edition();
        let at = self.find(&plan)?;
        let edition = &self.kept[at].1;
        let name = |id: &str| edition.built.assembly.part(id).map(|p| p.name.clone()).unwrap_or_default();
        let mut out = Vec::new();
        for e in turnleaf_plan::entries(&edition.built, edition.built.plan.options()) {
            let (about, of) = match e.group {
                Group::Dimension => ("dimension", name(e.id.split('/').next().unwrap_or_default())),
                Group::Part => ("part", String::new()),
                Group::Step => ("step", String::new()),
                _ => continue,
            };
            let label = match e.group {
                Group::Dimension => format!("{}, {}", e.label, e.print),
                _ => e.label,
            };
            out.push(Thing { about: about.into(), id: e.id, label, of });
        }
        let pages = edition.document.pages.iter().map(|p| Thing {
            about: "page".into(),
            id: p.id.clone(),
            label: format!("{}: {}", p.label, p.title),
            of: String::new(),
        });
        out.extend(pages);
        Ok(out)
    }
}

/// The white sheet that page writers draw first.
fn sheet(page: &Page) -> String {
    let drawn = page_svg(&Page { items: Vec::new(), ..page.clone() }, &[]);
    let from = drawn.find("<rect").unwrap_or(0);
    let length = drawn[from..].find("/>\n").map_or(0, |at| at + 3);
    drawn[from..from + length].to_string()
}

/// Where the outline inside a view begins: the same corner of a part on both sheets.
fn corner(items: &[Item]) -> Option<Pt> {
    items.iter().find_map(|item| match item {
        Item::Group { role: Role::Outline, items, .. } => items.iter().find_map(|item| match item {
            Item::Path { steps, .. } => steps.iter().find_map(|step| match step {
                Step::Move(p) => Some(*p),
                _ => None,
            }),
            _ => None,
        }),
        Item::Group { items, .. } => corner(items),
        _ => None,
    })
}

/// Moves every view of the older page onto the newer page's view of the same name: a view that only lies elsewhere
/// on its sheet, because a table above it grew, is no other view.
fn lay_on(old: &mut [Item], new: &[Item]) {
    fn view<'a>(items: &'a [Item], name: &str) -> Option<&'a [Item]> {
        items.iter().find_map(|item| match item {
            Item::Group { role: Role::Figure { .. }, id: Some(id), items, .. } if id == name => {
                Some(&items[..])
            }
            Item::Group { items, .. } => view(items, name),
            _ => None,
        })
    }
    for item in old {
        match item {
            Item::Group { role: Role::Figure { .. }, id: Some(id), items, .. } => {
                let there = view(new, id).and_then(corner);
                if let (Some(here), Some(there)) = (corner(items), there) {
                    shift(items, there.x - here.x, there.y - here.y);
                }
            }
            Item::Group { items, .. } => lay_on(items, new),
            _ => {}
        }
    }
}

fn shift(items: &mut [Item], x: f64, y: f64) {
    let by = |p: &mut Pt| {
        p.x += x;
        p.y += y;
    };
    for item in items {
        match item {
            Item::Path { steps, .. } => {
                for step in steps {
                    match step {
                        Step::Move(p) | Step::Line(p) => by(p),
                        Step::Cubic(a, b, c) => [a, b, c].into_iter().for_each(by),
                        Step::Close => {}
                    }
                }
            }
            Item::Text(text) => by(&mut text.at),
            Item::Link { min, max, .. } | Item::Picture { min, max, .. } => {
                by(min);
                by(max);
            }
            Item::Mark { at, .. } => by(at),
            Item::Group { items, .. } => shift(items, x, y),
        }
    }
}

/// A leaf of a page by all that it prints, to a hundredth of a millimetre; links and marks print nothing.
fn ink(item: &Item) -> Option<String> {
    let at = |p: &Pt| format!("{:.0} {:.0}", p.x * 100.0 + 0.0, p.y * 100.0 + 0.0);
    match item {
        Item::Path { steps, stroke, fill } => {
            let step = |step: &Step| match step {
                Step::Move(p) => format!("M{}", at(p)),
                Step::Line(p) => format!("L{}", at(p)),
                Step::Cubic(a, b, c) => format!("C{} {} {}", at(a), at(b), at(c)),
                Step::Close => "Z".into(),
            };
            Some(format!("{} {stroke:?} {fill:?}", steps.iter().map(step).collect::<String>()))
        }
        Item::Text(text) => Some(format!("{} {:?}", at(&text.at), Text { at: pt(0.0, 0.0), ..text.clone() })),
        Item::Picture { min, max, picture } => {
            Some(format!("{min:?} {max:?} {}", turnleaf_plan::fingerprint(&picture.data)))
        }
        Item::Group { .. } | Item::Link { .. } | Item::Mark { .. } => None,
    }
}

/// How often each thing is printed.
fn count(items: &[Item], out: &mut BTreeMap<String, usize>) {
    for item in items {
        match item {
            Item::Group { items, .. } => count(items, out),
            other => {
                if let Some(ink) = ink(other) {
                    *out.entry(ink).or_default() += 1;
                }
            }
        }
    }
}

/// Of a page what the other one prints too, or what it does not.
fn picked(items: &[Item], other: &mut BTreeMap<String, usize>, common: bool) -> Vec<Item> {
    let mut out = Vec::new();
    for item in items {
        if let Item::Group { origin, items, .. } = item {
            let inner = picked(items, other, common);
            if !inner.is_empty() {
                // Without identifiers and names: three drawings on one page would have each of them three times.
                let role = Role::Plain;
                out.push(Item::Group { role, origin: *origin, id: None, items: inner });
            }
            continue;
        }
        let Some(ink) = ink(item) else { continue };
        let both = match other.get_mut(&ink) {
            Some(left) if *left > 0 => {
                *left -= 1;
                true
            }
            _ => false,
        };
        if both == common {
            out.push(item.clone());
        }
    }
    out
}

/// A difference with its sign, in the units that the plan prints.
fn difference(plan: &Plan, (value, measure): (f64, Measure)) -> String {
    let sign = if value < 0.0 { "−" } else { "+" };
    let places = |places: u8| {
        print_decimal(value.abs(), places, plan.options().language.decimal_sign()).unwrap_or_default()
    };
    match measure {
        Measure::Length => format!("{sign}{}", say_length(plan, value.abs())),
        Measure::Angle => format!("{sign}{}°", places(2)),
        Measure::Other => format!("{sign}{}", places(0)),
    }
}

/// Where on a part, measured from the origin of its drawing.
fn place(plan: &Plan, (x, y): (f64, f64)) -> String {
    let axis = |v: f64| {
        let text = say_length(plan, v.abs());
        if v < 0.0 { format!("−{text}") } else { text }
    };
    format!("most at x {}, y {} of the part’s own frame", axis(x), axis(y))
}

fn part_line(plan: &Plan, v: &PartVerdict, step: f64, name: &dyn Fn(&str) -> String) -> PartLine {
    let say = |mm: f64| say_length(plan, mm);
    let off = v.missing.max(v.surplus);
    let (fate, why, margin) = match &v.verdict {
        Verdict::Good if off > 0.0 => {
            let text =
                format!("It differs by {} of the {} that may stay.", fine(plan, off), fine(plan, step));
            (PartFate::Good, Vec::new(), text)
        }
        Verdict::Good => (PartFate::Good, Vec::new(), "It is the same part.".into()),
        Verdict::Work(work) => {
            let alike = |w: &Work| (format!("{:?}/{}", w.kind, w.purpose), w.by);
            let why = worst_of(work, alike, |w| work_line(plan, w));
            (
                PartFate::Work,
                why,
                format!("At most {} of wood is to come off; none is lacking.", say(v.surplus)),
            )
        }
        Verdict::Again(reasons) => {
            let alike = |r: &Reason| match r {
                Reason::Opening { purpose, by, .. } => (format!("opening/{purpose}"), *by),
                other => (format!("{other:?}"), 0.0),
            };
            let why = worst_of(reasons, alike, |r| reason_line(plan, r, name));
            let text = if v.missing > step {
                format!("Up to {} of wood is lacking.", say(v.missing))
            } else {
                String::new()
            };
            (PartFate::Again, why, text)
        }
        Verdict::NotNeeded => (PartFate::NotNeeded, Vec::new(), String::new()),
        Verdict::New => (PartFate::New, Vec::new(), String::new()),
    };
    PartLine { id: v.part.clone(), name: v.name.clone(), count: v.count, fate, why, margin }
}

/// Openings made or lacking for the same purpose take one line: how many, and the worst of them.
fn worst_of<T>(all: &[T], key: impl Fn(&T) -> (String, f64), line: impl Fn(&T) -> String) -> Vec<String> {
    let mut found: Vec<(String, usize, f64, &T)> = Vec::new();
    for one in all {
        let (name, by) = key(one);
        match found.iter_mut().find(|f| f.0 == name) {
            Some(f) => {
                f.1 += 1;
                if by > f.2 {
                    (f.2, f.3) = (by, one);
                }
            }
            None => found.push((name, 1, by, one)),
        }
    }
    let said = |(_, count, _, worst): &(String, usize, f64, &T)| match count {
        1 => line(worst),
        many => format!("{many} times, here the worst: {}", line(worst)),
    };
    found.iter().map(said).collect()
}

/// A length finer than any step that is printed.
fn fine(plan: &Plan, mm: f64) -> String {
    let text = print_decimal(mm, 3, plan.options().language.decimal_sign()).unwrap_or_default();
    format!("{text} mm")
}

fn work_line(plan: &Plan, w: &Work) -> String {
    let (by, at) = (say_length(plan, w.by), place(plan, (w.at.x, w.at.y)));
    let what = if w.purpose.is_empty() { "the opening" } else { w.purpose.as_str() };
    match w.kind {
        WorkKind::Open => format!("Cut a new opening ({what}); {at}."),
        WorkKind::Widen => format!("Widen by up to {by} ({what}); {at}."),
        WorkKind::Deepen => format!("Deepen by {by} ({what}); {at}."),
        WorkKind::Trim => format!("Take up to {by} off the edge; {at}."),
        WorkKind::Shorten => format!("Cut it {by} shorter at its upper end."),
    }
}

fn reason_line(plan: &Plan, r: &Reason, name: &dyn Fn(&str) -> String) -> String {
    let say = |mm: f64| say_length(plan, mm);
    match r {
        Reason::Thickness(old, new) => format!("It must be {} thick and is {}.", say(*new), say(*old)),
        Reason::Material(old, new) => format!("It must be of {new} and is of {old}."),
        Reason::Slope(by) => format!("Its slope is another, by {} at the worst.", say(*by)),
        Reason::Opening { purpose, by, at, .. } => format!(
            "An opening ({purpose}) reaches {} into wood that is needed; {}.",
            say(*by),
            place(plan, (at.x, at.y))
        ),
        Reason::Short { by, at } => format!("Its edge is {} short; {}.", say(*by), place(plan, (at.x, at.y))),
        Reason::Fit { with, by, turn } => {
            let turn = print_decimal(*turn, 1, plan.options().language.decimal_sign()).unwrap_or_default();
            // A piece is named by its part and its number.
            let part = with.split('/').next().unwrap_or_default();
            let named = name(part);
            let with = if named.is_empty() { with.as_str() } else { named.as_str() };
            format!("With {with} it is {} too tight at {turn}° of the turn.", fine(plan, *by))
        }
        Reason::Check(text) => format!("With it a check of the newer table fails: {text}"),
    }
}
