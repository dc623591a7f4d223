//! Building it: the steps with their figures.
//!
//! In: the steps in words, the assembly. Out: a chapter.
//! Always true: each figure is drawn once, however often the chapter is set for the sake of page numbers; a step's
//! heading stands with its figure or its first lines, and a figure with its caption.

use crate::cx::{Cx, Refs};
use crate::flow::{Chapter, Figure, Flow};
use crate::steps::{StepText, texts, time};
use turnleaf_assembly::{StepFigure, step_figure};
use turnleaf_diag::Diagnostic;
use turnleaf_page::{Item, pt};
use turnleaf_parts::Assembly;
use turnleaf_planfile::Picture;
use turnleaf_steps::{FIT, GROOVE, HOLE, Look, OUTLINE, PIECE, STEP};
use turnleaf_text::Span;
use turnleaf_views::{Corner, Projection};

/// Most height of a step's figure, mm: two steps with their words share a page.
const TALL: f64 = 40.0;
/// Most height of a maker's picture, mm.
const PICTURE_TALL: f64 = 90.0;
/// Dots a millimetre below which a picture is not stretched further: 150 an inch.
const DOTS: f64 = 150.0 / 25.4;

/// A figure of a step, and the numbers of its balloons by part.
type Drawn = (Figure, Vec<(usize, String)>);

/// The steps with their figures, made once.
pub struct Steps {
    steps: Vec<StepText>,
    figures: Vec<Option<Drawn>>,
    /// What is wrong with the maker's changes.
    pub said: Vec<Diagnostic>,
}

/// A figure before it is drawn.
pub struct Wanted<'a> {
    there: Vec<&'a str>,
    new: Vec<&'a str>,
    view: Projection,
    /// The message that says whence one looks.
    pub from: &'static str,
    room: (f64, f64),
}

impl Wanted<'_> {
    /// Draws; it needs nothing of the rest of the book.
    pub fn draw(&self, assembly: &Assembly) -> StepFigure {
        step_figure(assembly, &self.there, &self.new, &self.view, 0.0, self.room)
    }
}

/// The steps that are shown, and what is wrong with the maker's changes.
pub fn shown(cx: &Cx) -> (Vec<StepText>, Vec<Diagnostic>) {
    let (mut steps, said) = texts(cx);
    steps.retain(|s| s.number.is_some());
    (steps, said)
}

/// Their figures, before they are drawn.
pub fn wanted<'a>(cx: &Cx, steps: &'a [StepText]) -> Vec<Option<Wanted<'a>>> {
    steps.iter().map(|s| want(cx, s)).collect()
}

impl Steps {
    /// Words and figures.
    pub fn new(
        cx: &Cx,
        (steps, said): (Vec<StepText>, Vec<Diagnostic>),
        drawn: Vec<Option<(&'static str, StepFigure)>>,
    ) -> Steps {
        let figures =
            steps.iter().zip(drawn).map(|(s, drawn)| drawn.map(|(from, d)| figure(cx, s, from, d))).collect();
        Steps { steps, figures, said }
    }
}

fn want<'a>(cx: &Cx, s: &'a StepText) -> Option<Wanted<'a>> {
    let look = s.look.filter(|_| !s.put_in.is_empty())?;
    let (view, from) = match look {
        Look::Corner => (Projection::Isometric(Corner::FrontRight), "steps-view-corner"),
        Look::Above => (Projection::Plan, "steps-view-above"),
        Look::Below => (Projection::Bottom, "steps-view-below"),
    };
    let there = s.there.iter().map(String::as_str).collect();
    let new = s.put_in.iter().map(String::as_str).collect();
    Some(Wanted { there, new, view, from, room: (cx.grid.main_width(), TALL) })
}

fn figure(cx: &Cx, s: &StepText, from: &str, drawn: StepFigure) -> Drawn {
    let names: Vec<String> =
        drawn.numbers.iter().map(|(n, part)| format!("{n} {}", cx.name_of(part))).collect();
    let alt = cx.tv("steps-figure-alt", &[("view", cx.t(from)), ("items", names.join(", "))]);
    let id = format!("figure/step/{}", s.id);
    let figure = Figure { id, alt, width: drawn.width, height: drawn.height, items: drawn.items };
    (figure, drawn.numbers)
}

/// A maker's picture at a size that its dots bear.
fn picture(cx: &Cx, id: String, p: &Picture) -> Figure {
    let (w, h) = (f64::from(p.width), f64::from(p.height));
    let scale = (cx.grid.main_width() / w).min(PICTURE_TALL / h).min(1.0 / DOTS);
    let (width, height) = (w * scale, h * scale);
    let item = Item::Picture { min: pt(0.0, 0.0), max: pt(width, height), picture: p.shown.clone() };
    Figure { id, alt: p.caption.clone(), width, height, items: vec![item] }
}

/// Parts by name and count, made ones leading to their sheets; where the figure numbers them, with that number. Those
/// asked for only: the ones that the figure numbers, or the ones that it does not.
fn parts(cx: &Cx, s: &StepText, numbers: &[(usize, String)], refs: &Refs, numbered: bool) -> Vec<Span> {
    let made = s.pieces.iter().map(|p| (p, true));
    let mut all: Vec<_> = made.chain(s.hardware.iter().map(|p| (p, false))).collect();
    let number = |id: &str| numbers.iter().find(|n| n.1 == id).map(|n| n.0);
    all.retain(|((id, _, _), _)| number(id).is_some() == numbered);
    all.sort_by_key(|((id, _, _), _)| number(id).unwrap_or(usize::MAX));
    let mut out = Vec::new();
    let last = all.len();
    for (i, ((id, name, count), made)) in all.into_iter().enumerate() {
        if let Some(n) = number(id) {
            out.push(Span::new(format!("{n}\u{A0}")).bold());
        }
        let text = cx.tv("steps-count", &[("name", name.clone()), ("count", count.to_string())]);
        let mark = format!("sheet/{id}");
        if made {
            out.push(Span::new(text).link(mark.clone()));
            // A book without the sheets has no page to name.
            let page = refs.page(&mark);
            if page != "–" {
                out.push(Span::new(format!(" ({})", cx.tv("steps-page", &[("page", page)]))));
            }
        } else {
            out.push(Span::new(text));
        }
        out.push(Span::new(if i + 1 < last { ", " } else { "." }));
    }
    out
}

fn run_in(cx: &Cx, head: &str, text: &str) -> [Span; 2] {
    [Span::new(format!("{} ", cx.t(head))).bold(), Span::new(text)]
}

/// The chapter.
pub fn chapter(cx: &Cx, number: usize, refs: &Refs, all: &Steps) -> Chapter {
    let mut f = cx.flow(number, "steps", &cx.t("steps-title"));
    f.section(&cx.t("steps-how"), "steps/how");
    let rule = |v: f64| cx.or_dash(turnleaf_units::print_decimal(v, 1, cx.say.sign));
    let make = all.steps.iter().filter(|s| s.id.starts_with("make/")).count();
    let total = time(cx, all.steps.iter().map(|s| s.minutes).sum());
    let values = [
        ("make", make.to_string()),
        ("step", rule(STEP)),
        ("outline", rule(OUTLINE)),
        ("groove", rule(GROOVE)),
        ("hole", rule(HOLE)),
        ("piece", rule(PIECE)),
        ("fit", rule(FIT)),
        ("total", total),
    ];
    for text in cx.words.list("steps-how-text", &values) {
        f.para(text);
    }
    for (s, figure) in all.steps.iter().zip(&all.figures) {
        step(cx, refs, &mut f, s, figure.as_ref());
    }
    f.finish()
}

fn step(cx: &Cx, refs: &Refs, f: &mut Flow, s: &StepText, figure: Option<&Drawn>) {
    let number = s.number.unwrap_or_default();
    let mut below = Vec::new();
    if !s.time.is_empty() {
        below.push(vec![Span::new(cx.tv("steps-time", &[("time", s.time.clone())]))]);
    }
    f.section_with(&format!("{number}  {}", s.title), &format!("step/{}", s.id), &below);
    if let Some((figure, numbers)) = figure {
        f.figure_with(figure, &cx.t("figure"), &parts(cx, s, numbers, refs, true));
    }
    for text in &s.text {
        f.para(text.clone());
    }
    // A step without words still has its heading stand beside something.
    if s.text.is_empty() && figure.is_none() {
        f.para(cx.t("steps-no-text"));
    }
    // Screws and dowels have no place in a figure.
    let numbers = figure.map_or(&[][..], |f| &f.1);
    let rest = parts(cx, s, numbers, refs, false);
    if !rest.is_empty() {
        let head = cx.t(if figure.is_some() { "steps-fastenings" } else { "steps-pieces" });
        let mut spans = vec![Span::new(format!("{head} ")).bold()];
        spans.extend(rest);
        f.small_spans(&spans);
    }
    if !s.settings.is_empty() {
        f.small_spans(&run_in(cx, "steps-settings", &format!("{}.", s.settings.join("; "))));
    }
    if !s.cautions.is_empty() {
        f.small_spans(&run_in(cx, "steps-caution", &s.cautions.join(" ")));
    }
    for (k, p) in s.pictures.iter().enumerate() {
        f.figure(&picture(cx, format!("picture/{}/{}", s.id, k + 1), p), &cx.t("figure"), &p.caption);
    }
    for note in &s.notes {
        f.spans(&run_in(cx, "steps-note", note));
    }
    match s.checks.as_slice() {
        [] => {}
        [one] => f.small_spans(&run_in(cx, "steps-checks", one)),
        many => {
            f.sub(&cx.t("steps-checks"));
            for check in many {
                f.small_item("–", check);
            }
            f.end_list();
        }
    }
}
