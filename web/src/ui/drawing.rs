//! The table from above, as one sees it from the floor: it turns, the base stands still.
//!
//! In: the table on show, and the turn. Out: the drawing, and turns by dragging it.
//! Always true: shapes are drawn once a table; a turn only moves them.

use super::space::{Space, Standing};
use crate::core::say_length;
use crate::desk::{Desk, Drawn};
use crate::scene::{Movement, Scene};
use crate::turning::Drag;
use leptos::prelude::*;
use leptos::svg::Svg;
use wasm_bindgen::JsCast;

/// Room below the table for its measure, as a share of its reach.
const FOOT: f64 = 0.17;
/// Air around the table, as a share of its reach.
const AIR: f64 = 0.03;

/// The drawing with its heading.
#[component]
pub fn Drawing(standing: Standing) -> impl IntoView {
    let desk = Desk::here();
    let name = move || {
        let title = desk.form.with(|form| form.plan().texts().title.clone());
        if title.trim().is_empty() { "A table without a name yet".to_string() } else { title }
    };
    let stale = move || !desk.troubles().is_empty();
    let there = Memo::new(move |_| desk.drawn().is_some());
    view! {
        <h2>{name}</h2>
        <figure class="table-view" class:stale=stale>
            {move || match (there.get(), desk.space.get()) {
                (false, _) => view! { <p class="lead">"There is no table to draw yet; the checks say why."</p> }.into_any(),
                (true, true) => view! { {move || desk.drawn().map(|drawn| view! { <Space drawn standing/> })} }.into_any(),
                (true, false) => view! { <Plan/> }.into_any(),
            }}
            <Show when=stale>
                <figcaption class="wrong">
                    "The drawing still shows the last sizes that gave a table. "<a href="#checks">"See what is at odds"</a>"."
                </figcaption>
            </Show>
        </figure>
    }
}

/// The drawing itself. Of another table the shapes stay, and only what changed of them is drawn anew.
#[component]
fn Plan() -> impl IntoView {
    let desk = Desk::here();
    // On its way out it shows the last table there was.
    let drawn = Memo::new(move |before: Option<&Option<Drawn>>| desk.drawn().or(before.cloned().flatten()));
    let scene = Memo::new(move |_| drawn.with(|drawn| drawn.as_ref().map(|drawn| drawn.scene.clone())));
    let places = Memo::new(move |_| {
        drawn.with(|drawn| drawn.as_ref().map_or(Vec::new(), |drawn| drawn.table.places(desk.turn())))
    });
    let place = move |index: usize| {
        move || places.with(|places| places.get(index).copied().unwrap_or(Movement::NONE).svg())
    };
    let path = move |index: usize| {
        move || {
            scene.with(|scene| {
                let shape = scene.as_ref()?.shapes.iter().find(|shape| shape.index == index)?;
                Some(shape.path.clone())
            })
        }
    };
    let kinds = move || {
        scene.with(|scene| {
            let shapes = scene.iter().flat_map(|scene| &scene.shapes);
            shapes.map(|shape| (shape.id.clone(), shape.class.clone(), shape.index)).collect::<Vec<_>>()
        })
    };
    // Lit pieces once more, over everything.
    let lit = move || {
        let lit = desk.lit.get();
        kinds().into_iter().filter(move |(id, ..)| lit.contains(id)).collect::<Vec<_>>()
    };

    let svg = NodeRef::<Svg>::new();
    let drag = StoredValue::new(None::<Drag>);
    let held = RwSignal::new(false);
    let of_scene = move |of: fn(&Scene) -> f64| {
        Memo::new(move |_| scene.with(|scene| scene.as_ref().map_or(1.0, |scene| of(scene))))
    };
    let reach = of_scene(|scene| scene.reach);
    let (closed, opened) = (of_scene(|scene| scene.closed_radius), of_scene(|scene| scene.open_radius));
    let side = move || reach.get() * (1.0 + AIR);
    let view_box = move || {
        let (side, foot) = (side(), FOOT * reach.get());
        format!("{:.1} {:.1} {:.1} {:.1}", -side, -side, 2.0 * side, 2.0 * side + foot)
    };
    // Where the pointer is against the table's centre, in any one unit.
    let from_centre = move |x: i32, y: i32| {
        let seen = svg.get_untracked()?.get_bounding_client_rect();
        let centre_y = seen.top() + seen.height() * (1.0 + AIR) / (2.0 * (1.0 + AIR) + FOOT);
        Some((f64::from(x) - seen.left() - seen.width() / 2.0, f64::from(y) - centre_y))
    };
    let down = move |event: web_sys::PointerEvent| {
        if event.button() != 0 {
            return;
        }
        let Some((x, y)) = from_centre(event.client_x(), event.client_y()) else { return };
        event.prevent_default();
        desk.playing.set(false);
        drag.set_value(Some(Drag::begin(x, y, desk.turn_now().0)));
        held.set(true);
        if let Some(target) =
            event.current_target().and_then(|target| target.dyn_into::<web_sys::Element>().ok())
        {
            // Without capture the drag ends at the drawing's edge; nothing worse.
            let _ = target.set_pointer_capture(event.pointer_id());
        }
    };
    let shift = move |event: web_sys::PointerEvent| {
        let Some(mut now) = drag.get_value() else { return };
        let Some((x, y)) = from_centre(event.client_x(), event.client_y()) else { return };
        let turn = now.to(x, y, desk.turn_now().1);
        drag.set_value(Some(now));
        desk.turn_to(turn);
    };
    let up = move |_| {
        drag.set_value(None);
        held.set(false);
    };

    let description = move || {
        let look = if desk.inside.get() { ", looking through the top" } else { "" };
        format!("The table from above{look}. Turn it with the control below.")
    };
    let across = Memo::new(move |_| {
        drawn
            .with(|drawn| {
                let table = &drawn.as_ref()?.table;
                Some(table.closed_diameter() + 2.0 * table.travels(desk.turn()).0)
            })
            .unwrap_or_default()
    });
    let words = move || desk.plan.with(|plan| say_length(plan, (across.get() * 10.0).round() / 10.0));
    let line = move || {
        let reach = reach.get();
        let (half, y, tick) = (across.get() / 2.0, side() + 0.03 * reach, 0.025 * reach);
        format!(
            "M{:.1} {y:.1}H{half:.1}M{:.1} {:.1}v{:.1}M{half:.1} {:.1}v{:.1}",
            -half,
            -half,
            y - tick,
            2.0 * tick,
            y - tick,
            2.0 * tick
        )
    };
    view! {
        <svg
            node_ref=svg
            class="plan"
            // What is lit may lie under the top: then one looks through it.
            class:inside=move || desk.inside.get() || desk.lit.with(|lit| !lit.is_empty())
            class:held=move || held.get()
            viewBox=view_box
            role="img"
            aria-label=description
        >
            <circle class="ghost" r=move || format!("{:.1}", closed.get())></circle>
            <circle class="ghost" r=move || format!("{:.1}", opened.get())></circle>
            <g
                class="turns"
                transform=move || format!("rotate({:.3}) scale(1 -1)", desk.turn())
                on:pointerdown=down
                on:pointermove=shift
                on:pointerup=up
                on:pointercancel=up
            >
                <For each=kinds key=|kind| kind.clone() let((id, class, index))>
                    <path class=class data-piece=id d=path(index) transform=place(index)></path>
                </For>
                <For each=lit key=|kind| kind.clone() let((_, _, index))>
                    <path class="lit" d=path(index) transform=place(index)></path>
                </For>
            </g>
            <path class="measure" d=line></path>
            <text class="across" y=move || format!("{:.1}", side() + 0.125 * reach.get()) font-size=move || format!("{:.1}", 0.075 * reach.get())>
                {words}
            </text>
        </svg>
    }
}
