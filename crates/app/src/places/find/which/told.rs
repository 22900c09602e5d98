//! The answer, said as a person says it: who it is, how sure, who else, and what would settle it.

use language::say;
use leptos::prelude::*;
use plot::{Plot, TreeIx};
use walk::{Guess, Sure, Whereabouts, WhichTree, Who, percent};

use super::reads::Reads;
use super::side_words;
use crate::places::find::row_strip::RowStrip;
use crate::route::Route;
use crate::state::{Lookup, app};

/// Who the tree is.
#[component]
pub fn Told(answer: WhichTree, reads: Reads) -> impl IntoView {
    let best = answer.guesses[0];
    let next = answer.guesses.get(1).copied();
    let (side, towards) = (answer.read_on, answer.towards());
    let said = app().look_up(|plot, look| {
        let towards =
            towards.map(|end| say!("You read towards the {end}.", end = look.ends.name(end)));
        let (name, place, address) = who(plot, look, best);
        (
            name,
            place,
            address,
            towards,
            next.map(|next| (who(plot, look, next), percent(next.probability))),
        )
    });
    let (name, place, address, towards, next) = said?;
    let sure = Sure::of(best.probability);
    let tree = match best.who {
        Who::Listed(tree) => Some(tree),
        Who::NotListed { .. } => None,
    };
    let next = next.map(|((name, place, address), percent)| {
        let name = match address {
            Some(address) => view! { <a href=address>{name}</a> }.into_any(),
            None => name.into_any(),
        };
        view! { <p class="which-next">{say!("Else ")} {name} {say!(", {percent}. {place}")}</p> }
    });
    let settle = (sure < Sure::NearlyCertain).then(|| {
        view! {
            <p class="which-settle">
                <strong>{say!("Read one more tag at the {side}.", side = side_words(side))}</strong>
                {say!(" That tells most.")}
            </p>
            <p class="row">
                <button class="button" on:click=move |_| reads.go_on_at(side)>
                    {say!("Add at the {side}", side = side_words(side))}
                </button>
            </p>
        }
    });
    Some(view! {
        <article class="answer" aria-labelledby="which-name">
            <p class="which-sure">{sure_words(sure)}</p>
            <h3 id="which-name">{name} " " <span class="which-percent">{percent(best.probability)}</span></h3>
            <p class="answer-place">{place}</p>
            {tree.map(|tree| view! { <RowStrip tree /> })}
            {towards.map(|towards| view! { <p class="hint">{towards}</p> })}
            {next}
            {settle}
            {address.map(|address| view! {
                <p class="row"><a class="button button-first" href=address>{say!("Show on the map")}</a></p>
            })}
        </article>
    })
}

fn sure_words(sure: Sure) -> &'static str {
    match sure {
        Sure::NearlyCertain => say!("Nearly certain: this is"),
        Sure::Likely => say!("Likely: this is"),
        Sure::Perhaps => say!("Perhaps; not sure yet. This may be"),
        Sure::CannotTell => say!("It cannot be told yet. The best guess is"),
    }
}

/// Name, place in words, and the address of its card.
fn who(plot: &Plot, look: &Lookup, guess: Guess) -> (String, String, Option<String>) {
    let name = |tree: TreeIx| plot.tree(tree).name();
    match guess.who {
        Who::Listed(tree) => {
            let place = Whereabouts::of(plot, &look.rows, tree).sentence(plot, &look.ends);
            let address = Route::Tree { id: plot.tree(tree).id().to_string() }.address();
            (name(tree), place, Some(address))
        }
        Who::NotListed { after, before } => {
            let row = after.or(before).and_then(|tree| plot.tree(tree).row());
            let place = match (after, before) {
                (Some(after), Some(before)) => {
                    say!("between {after} and {before}", after = name(after), before = name(before))
                }
                (Some(one), None) | (None, Some(one)) => {
                    say!("at the row's end beside {tree}", tree = name(one))
                }
                (None, None) => say!("somewhere").to_owned(),
            };
            let place = match row {
                Some(row) => say!("Row {row}, {place}."),
                None => format!("{place}."),
            };
            (say!("a tree that is not on the list").to_owned(), place, None)
        }
    }
}
