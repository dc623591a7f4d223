//! The turn control: a slider for hand and keyboard, and a button that plays.
//!
//! In: the turn. Out: turns.
//! Always true: what the control says in words is what the drawing shows; a visitor who asked for less motion gets
//! a few standing pictures instead of a movement.

use super::marks;
use crate::browser::clock;
use crate::desk::Desk;
use crate::turning::{Play, doing};
use leptos::prelude::*;

/// The control.
#[component]
pub fn Turner() -> impl IntoView {
    let desk = Desk::here();
    let whole = move || desk.whole();
    let words = move || {
        let (turn, whole) = (desk.turn(), whole());
        let lift = desk.drawn().map(|drawn| drawn.table.lift());
        format!("{turn:.0}° of {whole:.0}°. {}", doing(turn, whole, lift))
    };
    let play = move |_| {
        if desk.playing.get_untracked() {
            desk.playing.set(false);
        } else {
            begin(desk);
        }
    };
    let (move_by_hand, say) = (move |value: String| by_hand(desk, &value), Memo::new(move |_| words()));
    view! {
        <div class="turner">
            <button type="button" class="play main" on:click=play disabled=move || whole() <= 0.0>
                {move || if desk.playing.get() { marks::pause().into_any() } else { marks::play().into_any() }}
                <span class="unseen">{move || if desk.playing.get() { "Pause the turn" } else { "Play the turn" }}</span>
            </button>
            <input
                type="range"
                aria-label="Turn of the table"
                min="0"
                max=move || format!("{:.2}", whole())
                step="0.5"
                prop:value=move || format!("{:.2}", desk.turn())
                aria-valuetext=move || say.get()
                on:input:target=move |event| move_by_hand(event.target().value())
            />
            <div class="ends" aria-hidden="true"><span>"closed"</span><span>"open"</span></div>
        </div>
        <p class="turn-words" data-say="turn">{move || say.get()}</p>
        <div class="looks">
            <span id="space-name">"Look at it"</span>
            <fieldset class="either" aria-labelledby="space-name">
                <label>
                    <input type="radio" name="space" prop:checked=move || !desk.space.get() on:change=move |_| desk.space.set(false)/>
                    "from above"
                </label>
                <label>
                    <input type="radio" name="space" prop:checked=move || desk.space.get() on:change=move |_| desk.space.set(true)/>
                    "in space"
                </label>
            </fieldset>
            <fieldset class="either" aria-label="Show" class:unused=move || desk.space.get()>
                <label>
                    <input type="radio" name="look" checked=!desk.inside.get_untracked() on:change=move |_| desk.inside.set(false)/>
                    "the top"
                </label>
                <label>
                    <input type="radio" name="look" checked=desk.inside.get_untracked() on:change=move |_| desk.inside.set(true)/>
                    "what moves it"
                </label>
            </fieldset>
            <div class="lit-words">
                <p role="status" data-say="lit">{move || lit_words(desk)}</p>
                <Show when=move || desk.lit.with(|lit| !lit.is_empty())>
                    <button type="button" class="plain" on:click=move |_| desk.lit.set(Vec::new())>"Put the light out"</button>
                </Show>
            </div>
        </div>
    }
}

/// Which pieces are lit.
fn lit_words(desk: Desk) -> Option<String> {
    let (lit, drawn) = (desk.lit.get(), desk.drawn()?);
    let names: Vec<&str> = lit.iter().filter_map(|piece| drawn.table.name_of(piece)).collect();
    (!names.is_empty()).then(|| format!("Lit, and seen through what lies before: {}.", told(&names)))
}

/// Names in order, each once, with how many there are of it.
fn told(names: &[&str]) -> String {
    let mut once: Vec<(&str, usize)> = Vec::new();
    for name in names {
        match once.iter_mut().find(|(known, _)| known == name) {
            Some((_, count)) => *count += 1,
            None => once.push((name, 1)),
        }
    }
    let one = |(name, count): &(&str, usize)| {
        if *count > 1 { format!("{count}\u{a0}× {name}") } else { (*name).into() }
    };
    once.iter().map(one).collect::<Vec<String>>().join(", ")
}

fn by_hand(desk: Desk, value: &str) {
    desk.playing.set(false);
    if let Ok(turn) = value.parse::<f64>() {
        // The slider stops at a whole step; its last step means open.
        let (_, whole) = desk.turn_now();
        desk.turn_to(if whole - turn < 0.5 { whole } else { turn });
    }
}

/// Plays from where the table is.
fn begin(desk: Desk) {
    desk.playing.set(true);
    let (turn, whole) = desk.turn_now();
    let play = Play::begin(turn, whole, clock::still());
    frame(desk, play, clock::seconds());
}

fn frame(desk: Desk, play: Play, since: f64) {
    request_animation_frame(move || {
        // The app may have been taken off the page meanwhile.
        if desk.playing.try_get_untracked() != Some(true) {
            return;
        }
        let (turn, over) = play.at(clock::seconds() - since);
        desk.turn_to(turn);
        if over {
            desk.playing.set(false);
        } else {
            frame(desk, play, since);
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lit_pieces_are_told_by_name_each_once() {
        assert_eq!(told(&["Panel arm", "Panel arm", "Leaf"]), "2\u{a0}× Panel arm, Leaf");
        assert_eq!(told(&[]), "");
    }
}
