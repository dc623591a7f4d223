//! The book's pages as they will print: contents or small pictures beside the pages laid open.
//!
//! In: the newest book. Out: its pages, drawn when they are looked at, nearer or farther.
//! Always true: a page shown is of the book whose contents stand beside it; while a newer book is made the last
//! one stays on show, and it is said, but for sheets of parts, which follow the sizes at once; a figure on a page leads back to the size or rule behind it.

use super::{printing, seeking, shop, thumbs};
use crate::bench::{Answer, Ask, Contents};
use crate::browser::{backroom, clock, page};
use crate::core::{PageInfo, PageView, Plan, Sourced};
use crate::desk::{Desk, Shared};
use crate::leafing::{Run, facing, held, kept, moved, runs, stepped};
use leptos::html::Div;
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// The pages on show: their places in the book and their drawings.
type OnShow = Option<(Shared<Contents>, Vec<usize>, Vec<PageView>)>;

/// What lies open, and how near.
#[derive(Clone, Copy)]
pub struct Lectern {
    /// A page that lies open.
    pub place: RwSignal<usize>,
    /// Whether two pages lie side by side.
    pub two: RwSignal<bool>,
    /// How near: 1 fits the room.
    pub zoom: RwSignal<f64>,
    /// Words looked for.
    pub words: RwSignal<String>,
    /// The hit one looks at: page and the how-manieth on it.
    pub hit: RwSignal<Option<(usize, usize)>>,
    /// What is drawn.
    pub shown: RwSignal<OnShow>,
    /// The plan that some of it was drawn for before its book was made, and at which places.
    pub early: RwSignal<Option<(Plan, Vec<usize>)>>,
}

impl Lectern {
    /// Places that lie open.
    pub fn open(&self, desk: Desk) -> Vec<usize> {
        let book = desk.book.get();
        book.map_or(Vec::new(), |book| facing(&book.pages, self.place.get(), self.two.get()))
    }

    /// Leafs on or back.
    pub fn leaf(&self, desk: Desk, on: bool) {
        let open = self.open(desk);
        let count = desk.book.with(|book| book.as_ref().map_or(0, |book| book.pages.len()));
        let (Some(first), Some(last)) = (open.first(), open.last()) else { return };
        self.place.set(if on { (last + 1).min(count.saturating_sub(1)) } else { first.saturating_sub(1) });
    }
}

/// The section.
#[component]
pub fn Pages() -> impl IntoView {
    let desk = Desk::here();
    let at = Lectern {
        place: RwSignal::new(0),
        two: RwSignal::new(true),
        zoom: RwSignal::new(1.0),
        words: RwSignal::new(String::new()),
        hit: RwSignal::new(None),
        shown: RwSignal::new(None),
        early: RwSignal::new(None),
    };
    Effect::new(move |before: Option<Option<Shared<Contents>>>| {
        let contents = desk.book.get()?;
        let place = at.place.get();
        // What is looked at stays, though pages before it may have come or gone.
        if let Some(before) = before.flatten().filter(|before| *before != contents) {
            let moved = moved(&before.pages, place, &contents.pages);
            if moved != place {
                at.place.set(moved);
                return Some(contents);
            }
        }
        let places = facing(&contents.pages, place, at.two.get());
        let (plan, chapters, words) = (contents.plan.clone(), contents.chapters.clone(), at.words.get());
        let asked = contents.clone();
        backroom::ask(Ask::Pages(plan, chapters, places.clone(), words), move |answer| {
            if let Answer::Pages(pages) = answer {
                at.early.set(None);
                at.shown.set(Some((asked, places, pages)));
            }
        });
        Some(contents)
    });
    Effect::new(move |before: Option<()>| {
        desk.followed.track();
        if before.is_some() && desk.troubles().is_empty() {
            look_ahead(desk, at);
        }
    });
    let stale = Memo::new(move |_| {
        let book = desk.book.get();
        book.is_some_and(|book| {
            desk.plan.with(|plan| plan.to_json()) != book.plan
                || desk.chapters.with(|chapters| *chapters != book.chapters)
                // A newer book is there, and the page on show is still the older one's.
                || at.shown.with(|shown| shown.as_ref().is_some_and(|(of, ..)| *of != book))
        })
    });
    let early = move || {
        at.early.with(|early| early.as_ref().is_some_and(|(of, _)| desk.plan.with(|plan| plan == of)))
    };
    let stopped = move || desk.stopped.get() && desk.troubles().is_empty();
    let lead = move || {
        match (desk.book.with(Option::is_some), stale.get(), desk.troubles().is_empty()) {
        (false, ..) if stopped() => "You stopped the making of the pages, so there are none yet. They are made when a size changes, or now.".to_string(),
        (true, true, _) if stopped() => {
            "You stopped the making of the pages: those on show are of the older sizes. New ones are made when a size changes, or now.".into()
        }
        (false, _, true) => "The pages are being laid out …".to_string(),
        (false, _, false) => "There is no book yet: these sizes give no table that works.".into(),
        (true, true, true) if early() => {
            "The sheet on show is of the new sizes already; the pages are being laid out anew …".into()
        }
        (true, true, true) => "The pages are being laid out anew …".into(),
        (true, true, false) => "These pages are of the last sizes that gave a table.".into(),
        (true, false, _) => {
            let pages = desk.book.with(|book| book.as_ref().map_or(0, |book| book.pages.len()));
            format!("{pages} pages, just as they will print.")
        }
    }
    };
    let remarks =
        move || desk.book.with(|book| book.as_ref().map_or(Vec::new(), |book| book.remarks.clone()));
    let pictures = RwSignal::new(false);
    view! {
        <div class="book-head">
            <div>
                <p class="lead" role="status" data-say="book">{lead}</p>
                <div class="making">
                    <progress
                        class="laying"
                        max="1"
                        aria-label="How far the book is"
                        class:still=move || desk.laying.with(Option::is_none)
                        value=move || desk.laying.get().unwrap_or_default().to_string()
                    ></progress>
                    // One button, so that whoever stops by keyboard stands on what goes on.
                    <button
                        type="button"
                        class="plain stop"
                        class:still=move || desk.laying.with(Option::is_none) && !stopped()
                        on:click=move |_| if desk.laying.with_untracked(Option::is_some) { desk.stop_book() } else { desk.make_book() }
                    >
                        {move || if stopped() { "Make the pages now" } else { "Stop" }}
                        <span class="unseen">{move || if stopped() { "" } else { " making the pages" }}</span>
                    </button>
                </div>
            </div>
            <shop::Shop/>
        </div>
        {move || {
            let remarks: Vec<_> = remarks().into_iter().map(|remark| view! { <li class="mild">{remark}</li> }).collect();
            let words = match remarks.len() {
                0 => return ().into_any(),
                1 => "One remark about this book".to_string(),
                many => format!("{many} remarks about this book"),
            };
            view! {
                <details class="more">
                    <summary>{words}</summary>
                    <ul class="troubles">{remarks}</ul>
                </details>
            }.into_any()
        }}
        <div class="pages" class:stale=move || stale.get()>
            <nav aria-label="Contents of the book">
                <fieldset class="either" aria-label="Show the book's pages as">
                    <label>
                        <input type="radio" name="beside" prop:checked=move || !pictures.get() on:change=move |_| pictures.set(false)/>
                        "contents"
                    </label>
                    <label>
                        <input type="radio" name="beside" prop:checked=move || pictures.get() on:change=move |_| pictures.set(true)/>
                        "small pages"
                    </label>
                </fieldset>
                <seeking::Seeking at/>
                <Show when=move || pictures.get() fallback=move || view! { <ContentsList at/> }>
                    <thumbs::Thumbs at/>
                </Show>
            </nav>
            <div class="sheets">
                <Turning at/>
                <Sheets at/>
                <Sources at/>
                <printing::Printing/>
            </div>
        </div>
    }
}

/// Has the sheets on show drawn for the newest plan, before its book is made.
fn look_ahead(desk: Desk, at: Lectern) {
    let Some((contents, places)) = at.shown.with_untracked(|shown| {
        shown.as_ref().map(|(contents, places, _)| (contents.clone(), places.clone()))
    }) else {
        return;
    };
    // The book made last is the one it is asked of; pages out of sight wait for theirs, and so does what is no sheet.
    let newest = desk.book.with_untracked(|book| book.as_ref() == Some(&contents));
    let on = |place: &usize| contents.pages.get(*place).map_or(&[][..], |page| page.marks.as_slice());
    let sheet = places.iter().flat_map(on).any(|mark| mark.starts_with("sheet/"));
    if !newest || !sheet || !page::in_view(".lectern") {
        return;
    }
    let (plan, words, since) =
        (desk.followed.get_untracked(), at.words.get_untracked(), desk.changed.get_value());
    backroom::ask(Ask::Early(plan.to_json(), places.clone(), words), move |answer| {
        let Answer::Early(found) = answer else { return };
        // Others may have been leafed to.
        let still = at.shown.try_with_untracked(|shown| {
            shown.as_ref().is_some_and(|(of, on_show, _)| *of == contents && *on_show == places)
        });
        // A book that came meanwhile may have other pages at these places.
        let newest = desk.book.try_with_untracked(|book| book.as_ref() == Some(&contents));
        if still != Some(true) || newest != Some(true) || found.iter().all(Option::is_none) {
            return;
        }
        let drawn = places.iter().zip(&found).filter(|(_, page)| page.is_some()).map(|(place, _)| *place);
        at.early.set(Some((plan, drawn.collect())));
        at.shown.update(|shown| {
            let pages = shown.iter_mut().flat_map(|(_, _, pages)| pages);
            for (page, new) in pages.zip(found) {
                if let Some(new) = new {
                    *page = new;
                }
            }
        });
        clock::after_paint(move || clock::record("sheet", since, clock::seconds()));
    });
}

#[component]
fn ContentsList(at: Lectern) -> impl IntoView {
    let desk = Desk::here();
    let items = move || {
        let Some(contents) = desk.book.get() else { return Vec::new() };
        let item = |run: Run| {
            let contents = contents.clone();
            let Run { title, folio, first, last } = run;
            let here = move || {
                let open = facing(&contents.pages, at.place.get(), at.two.get());
                open.iter().any(|place| (first..=last).contains(place))
            };
            view! {
                <li>
                    <button
                        type="button"
                        aria-current=move || if here() { "true" } else { "false" }
                        on:click=move |_| at.place.set(first)
                    >
                        <span>{title}</span>
                        <span class="folio">{folio}</span>
                    </button>
                </li>
            }
        };
        runs(&contents.pages).into_iter().map(item).collect::<Vec<_>>()
    };
    view! { <ol class="contents">{items}</ol> }
}

/// Leafing forward and back, one page or two, nearer and farther.
#[component]
fn Turning(at: Lectern) -> impl IntoView {
    let desk = Desk::here();
    let count = move || desk.book.with(|book| book.as_ref().map_or(0, |book| book.pages.len()));
    let first = move || at.open(desk).first().is_none_or(|first| *first == 0);
    let last = move || at.open(desk).last().is_none_or(|last| last + 1 >= count());
    let percent = move || format!("{:.0} %", at.zoom.get() * 100.0);
    view! {
        <div class="sheet-turn">
            <button type="button" disabled=first on:click=move |_| at.leaf(desk, false)>"Leaf back"</button>
            <seeking::TurnTo at/>
            <button type="button" disabled=last on:click=move |_| at.leaf(desk, true)>"Leaf on"</button>
            <fieldset class="either" aria-label="Pages side by side">
                <label>
                    <input type="radio" name="side" prop:checked=move || at.two.get() on:change=move |_| at.two.set(true)/>
                    "two pages"
                </label>
                <label>
                    <input type="radio" name="side" prop:checked=move || !at.two.get() on:change=move |_| at.two.set(false)/>
                    "one page"
                </label>
            </fieldset>
            <div class="nearer" role="group" aria-label="How near the pages are">
                <button type="button" aria-label="Farther" title="Farther (-)" on:click=move |_| at.zoom.update(|zoom| *zoom = stepped(*zoom, false))>"−"</button>
                <button type="button" aria-label=move || format!("{}: fit the room", percent()) title="Fit the room (0)" on:click=move |_| at.zoom.set(1.0)>{percent}</button>
                <button type="button" aria-label="Nearer" title="Nearer (+)" on:click=move |_| at.zoom.update(|zoom| *zoom = stepped(*zoom, true))>"+"</button>
            </div>
        </div>
    }
}

#[component]
fn Sheets(at: Lectern) -> impl IntoView {
    let desk = Desk::here();
    let room = NodeRef::<Div>::new();
    // Fingers on the pages: pointer and place.
    let fingers = StoredValue::new(Vec::<(i32, f64, f64)>::new());
    let focus = StoredValue::new(None::<(f64, f64)>);
    let before = StoredValue::new(1.0);
    // What lies under the fingers stays there.
    Effect::new(move |_| {
        let zoom = at.zoom.get();
        let ratio = zoom / before.get_value();
        before.set_value(zoom);
        let Some(room) = room.get_untracked() else { return };
        let (x, y) = focus
            .get_value()
            .unwrap_or_else(|| (f64::from(room.client_width()) / 2.0, f64::from(room.client_height()) / 2.0));
        focus.set_value(None);
        let (left, top) =
            (kept(f64::from(room.scroll_left()), x, ratio), kept(f64::from(room.scroll_top()), y, ratio));
        request_animation_frame(move || {
            room.set_scroll_left(left.round() as i32);
            room.set_scroll_top(top.round() as i32);
        });
    });
    let from_corner = move |x: f64, y: f64| {
        let seen = room.get_untracked()?.get_bounding_client_rect();
        Some((x - seen.left(), y - seen.top()))
    };
    let near = move |factor: f64, x: f64, y: f64| {
        focus.set_value(from_corner(x, y));
        at.zoom.update(|zoom| *zoom = held(*zoom * factor));
    };
    let wheel = move |event: web_sys::WheelEvent| {
        // With the control key, as a pinch on a touch pad comes too; the plain wheel scrolls.
        if event.ctrl_key() {
            event.prevent_default();
            near(
                (-event.delta_y() * 0.002).clamp(-0.5, 0.5).exp2(),
                f64::from(event.client_x()),
                f64::from(event.client_y()),
            );
        }
    };
    let down = move |event: web_sys::PointerEvent| {
        if event.pointer_type() == "touch" {
            let (x, y) = (f64::from(event.client_x()), f64::from(event.client_y()));
            fingers.update_value(|all| all.push((event.pointer_id(), x, y)));
        }
    };
    let shift = move |event: web_sys::PointerEvent| {
        let span = |all: &[(i32, f64, f64)]| libm::hypot(all[0].1 - all[1].1, all[0].2 - all[1].2);
        let mut pinch = None;
        fingers.update_value(|all| {
            let was = (all.len() == 2).then(|| span(all));
            if let Some(mine) = all.iter_mut().find(|f| f.0 == event.pointer_id()) {
                (mine.1, mine.2) = (f64::from(event.client_x()), f64::from(event.client_y()));
            }
            if let Some(was) = was.filter(|was| *was > 1.0) {
                pinch = Some((span(all) / was, (all[0].1 + all[1].1) / 2.0, (all[0].2 + all[1].2) / 2.0));
            }
        });
        if let Some((factor, x, y)) = pinch {
            near(factor, x, y);
        }
    };
    let up = move |event: web_sys::PointerEvent| {
        fingers.update_value(|all| all.retain(|f| f.0 != event.pointer_id()));
    };
    let keys = move |event: web_sys::KeyboardEvent| {
        if event.ctrl_key() || event.meta_key() || event.alt_key() {
            return;
        }
        match event.key().as_str() {
            "+" | "=" => at.zoom.update(|zoom| *zoom = stepped(*zoom, true)),
            "-" => at.zoom.update(|zoom| *zoom = stepped(*zoom, false)),
            "0" => at.zoom.set(1.0),
            "PageDown" => at.leaf(desk, true),
            "PageUp" => at.leaf(desk, false),
            // While the page is larger than the room the arrows scroll it.
            "ArrowRight" if at.zoom.get_untracked() <= 1.0 => at.leaf(desk, true),
            "ArrowLeft" if at.zoom.get_untracked() <= 1.0 => at.leaf(desk, false),
            "Home" => at.place.set(0),
            "End" => at.place.set(usize::MAX),
            _ => return,
        }
        event.prevent_default();
    };
    // A link leads to another page of the book, a figure back to its size or rule.
    let follow = move |event: web_sys::MouseEvent| {
        let Some(on) = event.target().and_then(|on| on.dyn_into::<web_sys::Element>().ok()) else { return };
        if let Ok(Some(link)) = on.closest("a") {
            event.prevent_default();
            let mark = link.get_attribute("href").unwrap_or_default();
            let mark = mark.trim_start_matches('#');
            let there = desk.book.with_untracked(|book| {
                let pages = book.as_ref().map(|book| book.pages.as_slice()).unwrap_or_default();
                pages.iter().position(|page| page.marks.iter().any(|on_it| on_it == mark))
            });
            if let Some(there) = there {
                at.place.set(there);
            }
        } else if let Ok(Some(figure)) = on.closest("[data-origin]")
            && let Some(origin) = figure.get_attribute("data-origin")
        {
            page::lead_to(&origin);
        }
    };
    // The hit one looks at is told from the others, and brought into sight.
    Effect::new(move |_| {
        at.shown.track();
        let hit = at.hit.get();
        request_animation_frame(move || page::light_hit(hit));
    });
    let sheets = move || {
        let Some((contents, places, pages)) = at.shown.get() else { return ().into_any() };
        // A wide page takes the whole room; a page that lies alone in an open book keeps its half of it.
        let wide = places.iter().any(|place| contents.pages.get(*place).is_some_and(PageInfo::wide));
        let alone = places.len() < 2;
        let (single, right) =
            (alone && (wide || !at.two.get_untracked()), alone && places.first() == Some(&0));
        let early = move |place: usize| {
            at.early.with(|early| early.as_ref().is_some_and(|(_, all)| all.contains(&place)))
        };
        let sheets: Vec<_> = places
            .into_iter()
            .zip(pages)
            .map(|(place, page)| {
                let name = contents.pages.get(place).map_or(String::new(), PageInfo::name);
                view! { <figure class="sheet" aria-label=name class:early=move || early(place) data-page=place inner_html=page.drawing></figure> }
            })
            .collect();
        view! {
            <div class="facing" class:single=single class:right=right && !single style:width=move || format!("{:.1}%", at.zoom.get() * 100.0)>{sheets}</div>
        }
        .into_any()
    };
    view! {
        <div
            node_ref=room
            class="lectern"
            class:near=move || { at.zoom.get() > 1.0 }
            tabindex="0"
            role="region"
            aria-label="Pages lying open. Plus and minus bring them nearer and farther, Page Up and Page Down leaf."
            on:wheel=wheel
            on:pointerdown=down
            on:pointermove=shift
            on:pointerup=up
            on:pointercancel=up
            on:keydown=keys
            on:click=follow
        >
            {sheets}
        </div>
    }
}

/// The figures on the open pages as a list, so that keyboard and screen reader lead back as well.
#[component]
fn Sources(at: Lectern) -> impl IntoView {
    let all = Memo::new(move |_| {
        let mut all: Vec<Sourced> = Vec::new();
        at.shown.with(|shown| {
            let pages = shown.iter().flat_map(|(_, _, pages)| pages);
            for one in pages.flat_map(|page| &page.sourced) {
                if !all.contains(one) {
                    all.push(one.clone());
                }
            }
        });
        all
    });
    move || {
        let all = all.get();
        (!all.is_empty()).then(|| {
            let words = format!("Where the {} figures on these pages come from", all.len());
            let items: Vec<_> = all
                .into_iter()
                .map(|one| {
                    let origin = one.origin.clone();
                    let kind = if origin.starts_with("size/") { "size" } else { "worked out" };
                    view! {
                        <li>
                            <button type="button" class="plain" data-leads=one.origin on:click=move |_| page::lead_to(&origin)>
                                <strong>{one.said}</strong>
                                <span>{format!("{}, {kind}", one.from)}</span>
                            </button>
                        </li>
                    }
                })
                .collect();
            view! {
                <details class="more sources">
                    <summary>{words}</summary>
                    <ul>{items}</ul>
                </details>
            }
        })
    }
}
