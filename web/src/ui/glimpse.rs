//! A small picture of a table, closed and open side by side at one scale.
//!
//! In: a plan file. Out: the picture, drawn by the worker when its turn comes, or by the page itself once it is painted.
//! Always true: the place it takes is there from the start, so that nothing jumps; words beside it say what it shows.

use crate::bench::{Answer, Ask};
use crate::browser::{backroom, clock};
use crate::core::{Glimpse as Seen, Plan, Spot, glimpse};
use leptos::prelude::*;

/// Air round a table, as a share of the open radius.
const AIR: f64 = 0.08;

/// The picture of a plan file that comes at once or later; none keeps the place empty. `here` has the page draw it: for
/// few of them on a first visit, when the program of checks would have to be fetched for nothing else.
#[component]
pub fn Glimpse(#[prop(into)] plan: Signal<Option<String>>, #[prop(optional)] here: bool) -> impl IntoView {
    let seen = RwSignal::new(None::<Seen>);
    Effect::new(move |_| {
        let Some(plan) = plan.get() else { return };
        if here {
            // Each is a task of its own, so that nothing waits for all of them.
            clock::after_paint(move || {
                let drawn = Plan::parse_known(plan.as_bytes()).ok().and_then(|(plan, _)| glimpse(&plan));
                let _ = seen.try_set(drawn);
            });
            return;
        }
        backroom::ask(Ask::Glimpse(plan), move |answer| {
            if let Answer::Glimpse(found) = answer {
                // The card may be gone by now.
                let _ = seen.try_set(found);
            }
        });
    });
    view! { <div class="glimpse" aria-hidden="true">{move || seen.get().map(|seen| draw(&seen))}</div> }
}

fn draw(seen: &Seen) -> impl IntoView + use<> {
    let air = AIR * seen.open_radius;
    let (left, right) = (seen.closed_radius + air, 2.0 * seen.closed_radius + 2.0 * air + seen.open_radius);
    let high = seen.open_radius + air;
    let view_box = format!("0 {:.0} {:.0} {:.0}", -high, right + high, 2.0 * high);
    let group = |spots: &[Spot], x: f64| {
        let shapes: Vec<_> = spots
            .iter()
            .map(|spot| view! { <path class=spot.class.clone() d=spot.path.clone() transform=spot.place.clone()></path> })
            .collect();
        view! { <g transform=format!("translate({x:.0} 0) scale(1 -1)")>{shapes}</g> }
    };
    view! {
        <svg viewBox=view_box focusable="false">{group(&seen.closed, left)}{group(&seen.open, right)}</svg>
    }
}
