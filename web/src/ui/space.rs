//! The table in space: walked round, cut open, pulled apart, level by level.
//!
//! In: the table on show, its turn, how one looks. Out: the drawing, painted anew once a frame when something changed;
//! turns and walks by dragging and by keys.
//! Always true: what is painted are the pieces at the turn that the control says; colours follow the scheme of the page;
//! whoever cannot see it reads what the control beside it says.

use crate::browser::canvas::{self, Colours};
use crate::browser::{clock, page};
use crate::core::{PrintChoice, say_length};
use crate::desk::{Desk, Drawn};
use crate::space::{ISOMETRIC, Kind, Level, Look, Ready, Stand, reaches, room};
use crate::turning::Drag;
use leptos::html::Canvas;
use leptos::prelude::*;

/// Where one stands when the view opens, radians: two legs beside each other, none behind another.
const BEGIN: f64 = -0.35;
/// Walked by dragging across the whole view, radians.
const WALK: f64 = 4.0;
/// How far one may look down, radians.
const DOWN: (f64, f64) = (0.06, 1.5);
/// One press of an arrow key, radians.
const PRESS: f64 = 0.12;
/// Most distance between two levels, mm.
const APART: f64 = 220.0;

/// Where one stands and what one has cut away; it stays when the table becomes another.
#[derive(Clone, Copy)]
pub struct Standing {
    round: RwSignal<f64>,
    down: RwSignal<f64>,
    apart: RwSignal<f64>,
    cut: RwSignal<bool>,
    hidden: RwSignal<Vec<Level>>,
    /// Whether a drag walks round the table; else it turns it.
    walks: RwSignal<bool>,
}

impl Standing {
    /// Where one stands at first.
    pub fn at_first() -> Standing {
        Standing {
            round: RwSignal::new(BEGIN),
            down: RwSignal::new(ISOMETRIC),
            apart: RwSignal::new(0.0),
            cut: RwSignal::new(false),
            hidden: RwSignal::new(Vec::new()),
            walks: RwSignal::new(true),
        }
    }
}

/// The view.
#[component]
pub fn Space(drawn: Drawn, standing: Standing) -> impl IntoView {
    let desk = Desk::here();
    let Standing { round, down, apart, cut, hidden, walks } = standing;
    let node = NodeRef::<Canvas>::new();
    let table = drawn.table.clone();
    let reaches = reaches(drawn.solids(), &table.stands(0.0), &table.stands(table.turn_degrees()));
    let ready = Ready::new(drawn.solids());
    let stands = Memo::new(move |_| table.stands(desk.turn()));
    let due = StoredValue::new(false);
    let again = RwSignal::new(0u32);
    // Asked of the browser only when they may have become others: either may have it lay out the page in between.
    let room_there = StoredValue::new((0.0, 0.0));
    let colours = StoredValue::new_local(None::<Colours>);
    let paint = StoredValue::new_local(move || {
        due.set_value(false);
        let Some(canvas) = node.try_get_untracked().flatten() else { return };
        let look = Look {
            round: round.get_untracked(),
            down: down.get_untracked(),
            apart: apart.get_untracked(),
            cut: cut.get_untracked(),
            hidden: hidden.get_untracked(),
        };
        let turn = desk.turn_now().0.to_radians();
        let lit = desk.lit.get_untracked();
        let solids = drawn.solids();
        let lit: Vec<bool> = solids.iter().map(|solid| lit.contains(&solid.id)).collect();
        // Lit pieces are drawn even where their level is taken away.
        let mut shown = look.clone();
        shown
            .hidden
            .retain(|level| !solids.iter().zip(&lit).any(|(solid, lit)| *lit && solid.level == *level));
        let classes: Vec<&'static str> =
            solids.iter().map(|solid| colour_of(&solid.part, solid.level)).collect();
        if room_there.get_value() == (0.0, 0.0) {
            room_there.set_value((f64::from(canvas.client_width()), f64::from(canvas.client_height())));
        }
        colours.update_value(|colours| {
            colours.get_or_insert_with(|| Colours::of(&canvas));
        });
        let begun = clock::seconds();
        // Every state of one table fits one frame, so that nothing jumps while it turns.
        let Some(whole) = room(solids, &reaches, &look) else { return };
        // A place that is lit is looked for: it shines through whatever lies before it.
        let faces = stands.with_untracked(|stands: &Vec<Stand>| {
            [
                ready.faces_of(stands, turn, &look, Some(whole), &|place| !lit[place]),
                ready.faces_of(stands, turn, &shown, None, &|place| lit[place]),
            ]
        });
        let sorted = clock::seconds();
        clock::record("sort", begun, sorted);
        let look_of = |solid: usize, kind: Kind| (classes[solid], kind, lit[solid]);
        colours.with_value(|colours| {
            let Some(colours) = colours else { return };
            canvas::paint(&canvas, room_there.get_value(), colours, &faces, whole, &look_of);
        });
        clock::record("paint", begun, clock::seconds());
    });
    let soon = move || {
        if due.try_get_value() == Some(false) {
            due.set_value(true);
            request_animation_frame(move || {
                paint.try_with_value(|paint| paint());
            });
        }
    };
    Effect::new(move |_| {
        stands.track();
        desk.lit.track();
        round.track();
        down.track();
        apart.track();
        cut.track();
        again.track();
        hidden.track();
        node.track();
        soon();
    });
    let anew = move || {
        room_there.try_set_value((0.0, 0.0));
        colours.try_set_value(None);
        again.try_update(|n| *n += 1);
    };
    let resized = window_event_listener_untyped("resize", move |_| anew());
    // They go with the component.
    StoredValue::new_local(page::on_scheme(anew));
    let watched = StoredValue::new_local(None);
    Effect::new(move |_| {
        let watch = node.get().map(|canvas| page::on_size(&canvas, anew));
        watched.set_value(watch);
    });
    on_cleanup(move || resized.remove());

    let held = StoredValue::new(None::<(f64, f64)>);
    let drag = StoredValue::new(None::<Drag>);
    // Where the pointer is against the middle of the top, as if one looked straight down on it.
    let from_middle = move |x: i32, y: i32| {
        let seen = node.get_untracked()?.get_bounding_client_rect();
        let middle = seen.top() + seen.height() * 0.4;
        Some((
            f64::from(x) - seen.left() - seen.width() / 2.0,
            (f64::from(y) - middle) / libm::sin(down.get_untracked()).max(0.2),
        ))
    };
    let press = move |event: web_sys::PointerEvent| {
        if event.button() != 0 {
            return;
        }
        event.prevent_default();
        if walks.get_untracked() {
            held.set_value(Some((f64::from(event.client_x()), f64::from(event.client_y()))));
        } else if let Some((x, y)) = from_middle(event.client_x(), event.client_y()) {
            desk.playing.set(false);
            drag.set_value(Some(Drag::begin(x, y, desk.turn_now().0)));
        }
        if let Some(canvas) = node.get_untracked() {
            let _ = canvas.set_pointer_capture(event.pointer_id());
            let _ = canvas.focus();
        }
    };
    let shift = move |event: web_sys::PointerEvent| {
        let (x, y) = (f64::from(event.client_x()), f64::from(event.client_y()));
        if let Some((was_x, was_y)) = held.get_value() {
            let wide = node.get_untracked().map_or(600.0, |canvas| f64::from(canvas.client_width())).max(1.0);
            round.update(|round| *round -= (x - was_x) / wide * WALK);
            down.update(|down| *down = (*down + (y - was_y) / wide * WALK / 2.0).clamp(DOWN.0, DOWN.1));
            held.set_value(Some((x, y)));
        } else if let Some(mut now) = drag.get_value()
            && let Some((x, y)) = from_middle(event.client_x(), event.client_y())
        {
            let turn = now.to(x, y, desk.turn_now().1);
            drag.set_value(Some(now));
            desk.turn_to(turn);
        }
    };
    let up = move |_| {
        held.set_value(None);
        drag.set_value(None);
    };
    let keys = move |event: web_sys::KeyboardEvent| {
        match event.key().as_str() {
            "ArrowLeft" => round.update(|round| *round += PRESS),
            "ArrowRight" => round.update(|round| *round -= PRESS),
            "ArrowUp" => down.update(|down| *down = (*down + PRESS).min(DOWN.1)),
            "ArrowDown" => down.update(|down| *down = (*down - PRESS).max(DOWN.0)),
            "Home" => {
                round.set(BEGIN);
                down.set(ISOMETRIC);
            }
            _ => return,
        }
        event.prevent_default();
    };
    view! {
        <canvas
            node_ref=node
            class="space"
            tabindex="0"
            role="img"
            aria-label="The table in space. Arrow keys walk round it and look farther down; it is turned with the control below."
            on:pointerdown=press
            on:pointermove=shift
            on:pointerup=up
            on:pointercancel=up
            on:keydown=keys
        ></canvas>
    }
}

/// How it is looked at: what a drag does, a cut through the middle, levels apart or taken away.
#[component]
pub fn Choices(standing: Standing) -> impl IntoView {
    let desk = Desk::here();
    let Standing { apart, cut, hidden, walks, .. } = standing;
    let levels = Level::ALL.map(|(level, words)| {
        view! {
            <label>
                <input
                    type="checkbox"
                    prop:checked=move || hidden.with(|hidden| !hidden.contains(&level))
                    on:change:target=move |event| {
                        let on = event.target().checked();
                        hidden.update(|hidden| {
                            hidden.retain(|one| *one != level);
                            if !on {
                                hidden.push(level);
                            }
                        });
                    }
                />
                {words}
            </label>
        }
    });
    let pulled = move || {
        let mm = apart.get();
        if mm <= 0.0 {
            return "together".to_string();
        }
        desk.plan.with(|plan| {
            let whole = if plan.options().print.units == PrintChoice::Mm { mm.round() } else { mm };
            format!("{} from level to level", say_length(plan, whole))
        })
    };
    let shown = move || match hidden.with(Vec::len) {
        0 => "all".to_string(),
        gone => format!("{} of {}", Level::ALL.len() - gone, Level::ALL.len()),
    };
    view! {
        <div class="space-choices">
            <fieldset class="either" aria-label="A drag">
                <label>
                    <input type="radio" name="drag" prop:checked=move || walks.get() on:change=move |_| walks.set(true)/>
                    "drag walks round it"
                </label>
                <label>
                    <input type="radio" name="drag" prop:checked=move || !walks.get() on:change=move |_| walks.set(false)/>
                    "drag turns it"
                </label>
            </fieldset>
            <label class="tick">
                <input type="checkbox" prop:checked=move || cut.get() on:change:target=move |event| cut.set(event.target().checked())/>
                "cut open through the middle"
            </label>
            <label class="pull">
                <span>"Pull apart"</span>
                <input
                    type="range"
                    min="0"
                    max=APART
                    step="5"
                    prop:value=move || apart.get().to_string()
                    aria-valuetext=pulled
                    on:input:target=move |event| apart.set(event.target().value().parse().unwrap_or(0.0))
                />
            </label>
            <details class="levels">
                <summary>"Levels shown: " {shown}</summary>
                <fieldset aria-label="Levels shown">{levels.into_iter().collect::<Vec<_>>()}</fieldset>
            </details>
        </div>
    }
}

/// The colour of a piece, by the name it has in the style sheet.
fn colour_of(part: &str, level: Level) -> &'static str {
    match level {
        Level::Panels => "--panel",
        Level::Leaves => "--leaf",
        Level::Star => "--star",
        Level::Arms if part.contains("leaf") => "--arm-alt",
        Level::Arms => "--arm",
        _ => "--plate",
    }
}
