//! Messages above the book.
//!
//! In: the messages of the state. Out: a list that screen readers announce.
//! Always true: a message stays until it is dismissed, since nobody knows how fast someone reads.

use crate::copies::Return;
use crate::desk::{Back, Desk};
use crate::keeper::Keeper;
use leptos::prelude::*;

/// The messages.
#[component]
pub fn Notices() -> impl IntoView {
    let (desk, keeper) = (Desk::here(), Keeper::here());
    let many = move || desk.notices.with(|all| all.len() > 2);
    view! {
        <Show when=many>
            <p class="notices-all">
                <button type="button" class="plain" on:click=move |_| desk.notices.set(Vec::new())>"Close all messages"</button>
            </p>
        </Show>
        <div class="notices" role="log" aria-label="Messages">
            <For each=move || desk.notices.get() key=|notice| notice.number let(notice)>
                <div class="notice" class:bad=notice.bad>
                    <p>{notice.text.clone()}</p>
                    {notice.back.clone().map(|back| view! {
                        <button type="button" on:click={
                            let back = back.clone();
                            move |_| {
                                desk.dismiss(notice.number);
                                keeper.bring(back.clone());
                            }
                        }>{match back {
                            Back::Card(..) | Back::Copies(Return::Row(.., None)) => "Bring it back",
                            Back::Copies(Return::Note(_)) => "Note whom this is for",
                            Back::Form(_) | Back::Place(_) | Back::Copies(_) => "Bring back what was here",
                        }}</button>
                    })}
                    <button type="button" on:click=move |_| desk.dismiss(notice.number)>"Close"</button>
                </div>
            </For>
        </div>
    }
}
