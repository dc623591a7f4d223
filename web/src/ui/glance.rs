//! The small drawing beside a size.
//!
//! In: the table on show, and a size. Out: the drawing with what the size decides lit.
//! Always true: it is of the table on show; what it shows is said for those who do not see it.

use crate::desk::Desk;
use crate::picture::{Pieces, picture};
use leptos::prelude::*;

/// The drawing.
#[component]
pub fn Glance(id: &'static str) -> impl IntoView {
    let desk = Desk::here();
    move || {
        desk.drawn().map(|drawn| {
            let whole = drawn.table.turn_degrees();
            let (closed, open) = (drawn.table.stands(0.0), drawn.table.stands(whole));
            let pieces =
                Pieces { scene: &drawn.scene, solids: drawn.solids(), closed: &closed, open: &open, turn: whole };
            let drawn = picture(id, &pieces);
            let [x, y, w, h] = drawn.frame;
            let shapes: Vec<_> = drawn
                .shapes
                .into_iter()
                .map(|shape| view! { <path class=shape.look d=shape.path transform=shape.place></path> })
                .collect();
            view! {
                <svg class="glance" data-glance=id role="img" aria-label=drawn.words viewBox=format!("{x:.1} {y:.1} {w:.1} {h:.1}")>
                    {shapes}
                </svg>
            }
        })
    }
}
