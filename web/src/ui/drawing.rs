//! The table from above, as one sees it from the floor: it turns, the base stands still.
//!
//! In: the table on show, and the turn. Out: the drawing, and turns by dragging it.
//! Always true: shapes are drawn once a table; a turn only moves them.

use super::space::{Space, Standing};
use crate::core::say_length;
use crate::desk::{Desk, Drawn};
use crate::scene::Movement;
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
    view! {
        <h2>{name}</h2>
        <figure class="table-view" class:stale=stale>
            {move || match desk.drawn() {
                Some(drawn) if desk.space.get() => view! { <Space drawn standing/> }.into_any(),
                Some(drawn) => view! { <Plan drawn/> }.into_any(),
                None => view! { <p class="lead">"There is no table to draw yet; the checks say why."</p> }.into_any(),
            }}
            <Show when=stale>
                <figcaption class="wrong">
                    "The drawing still shows the last sizes that gave a table. "<a href="#checks">"See what is at odds"</a>"."
                </figcaption>
            </Show>
        </figure>
    }
}

#[component]
fn Plan(drawn: Drawn) -> impl IntoView {
    let desk = Desk::here();
    let (table, scene) = (drawn.table, drawn.scene);
    let places = Memo::new({
        let table = table.clone();
        move |_| table.places(desk.turn())
    });
    let shapes: Vec<_> = scene
        .shapes
        .iter()
        .map(|shape| {
            let index = shape.index;
            let place = move || places.with(|places| places.get(index).copied().unwrap_or(Movement::NONE).svg());
            view! { <path class=shape.class.clone() data-piece=shape.id.clone() d=shape.path.clone() transform=place></path> }
        })
        .collect();

    // Lit pieces once more, over everything.
    let lit = {
        let shapes: Vec<_> =
            scene.shapes.iter().map(|shape| (shape.id.clone(), shape.index, shape.path.clone())).collect();
        move || {
            let lit = desk.lit.get();
            let of = shapes.iter().filter(|(id, ..)| lit.contains(id));
            let one = |(_, index, path): &(String, usize, String)| {
                let index = *index;
                let place =
                    move || places.with(|places| places.get(index).copied().unwrap_or(Movement::NONE).svg());
                view! { <path class="lit" d=path.clone() transform=place></path> }
            };
            of.map(one).collect::<Vec<_>>()
        }
    };

    let svg = NodeRef::<Svg>::new();
    let drag = StoredValue::new(None::<Drag>);
    let held = RwSignal::new(false);
    let reach = scene.reach;
    let side = reach * (1.0 + AIR);
    let frame = (-side, -side, 2.0 * side, 2.0 * side + FOOT * reach);
    let view_box = format!("{:.1} {:.1} {:.1} {:.1}", frame.0, frame.1, frame.2, frame.3);
    // Where the pointer is against the table's centre, in any one unit.
    let from_centre = move |x: i32, y: i32| {
        let seen = svg.get_untracked()?.get_bounding_client_rect();
        let centre_y = seen.top() + seen.height() * (side / frame.3);
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
    let closed = scene.closed_radius;
    let across = {
        let table = table.clone();
        Memo::new(move |_| table.closed_diameter() + 2.0 * table.travels(desk.turn()).0)
    };
    let words = move || desk.plan.with(|plan| say_length(plan, (across.get() * 10.0).round() / 10.0));
    let line = move || {
        let (half, y, tick) = (across.get() / 2.0, side + 0.03 * reach, 0.025 * reach);
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
            <circle class="ghost" r=format!("{closed:.1}")></circle>
            <circle class="ghost" r=format!("{:.1}", scene.open_radius)></circle>
            <g
                class="turns"
                transform=move || format!("rotate({:.3}) scale(1 -1)", desk.turn())
                on:pointerdown=down
                on:pointermove=shift
                on:pointerup=up
                on:pointercancel=up
            >
                {shapes}
                {lit}
            </g>
            <path class="measure" d=line></path>
            <text class="across" y=format!("{:.1}", side + 0.125 * reach) font-size=format!("{:.1}", 0.075 * reach)>
                {words}
            </text>
        </svg>
    }
}
