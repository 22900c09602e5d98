//! What differs, each with what may be done about it.

use language::{count, say};
use leptos::prelude::*;
use plot::{Act, Plot};
use walk::{Difference, Differs};

use super::walked::Walked;
use crate::parts::done_line;
use crate::parts::lean::{changing, element, said};
use crate::state::App;
use crate::work::clock;

/// One difference, said.
struct Said {
    differs: Differs,
    sentence: String,
    doubt: Option<&'static str>,
    proposals: Vec<(String, Act)>,
}

/// The list of those that are not settled yet.
pub(super) fn differences(app: App, walked: Walked) -> AnyView {
    let done = RwSignal::new(None::<String>);
    let refused = RwSignal::new(None::<String>);
    let list = changing(move || {
        let Some(checked) = walked.checked() else { return ().into_any() };
        let settled = walked.settled.get();
        let said_of = |one: Difference| {
            app.plot(|plot| said_of(plot, one)).filter(|one| !settled.contains(&one.differs))
        };
        let open: Vec<Said> = checked.differences.into_iter().filter_map(said_of).collect();
        let mut parts = vec![as_written(checked.as_written)];
        if !open.is_empty() {
            let lines = open.into_iter().map(|said| line(app, walked, said, done, refused));
            parts.push(element("ul", "row-check-list", lines.collect()));
        }
        element("div", "", parts)
    });
    let refusal =
        move || refused.get().map(|why| view! { <p class="fault" role="alert">{why}</p> });
    view! { <div class="row-check-told">{changing(move || done_line(app, done))} {refusal} {list}</div> }.into_any()
}

fn said_of(plot: &Plot, one: Difference) -> Said {
    Said {
        sentence: one.what.sentence(plot),
        doubt: one.doubt(),
        proposals: one.what.proposals(plot),
        differs: one.what,
    }
}

fn line(
    app: App,
    walked: Walked,
    said_: Said,
    done: RwSignal<Option<String>>,
    refused: RwSignal<Option<String>>,
) -> AnyView {
    let Said { differs, sentence, doubt, proposals } = said_;
    let differs = StoredValue::new(differs);
    let settle = move || walked.settled.update(|settled| settled.push(differs.get_value()));
    let accept = move |act: &Act| match accepted(app, act) {
        Ok(words) => {
            refused.set(None);
            done.set(Some(words));
            // A word in the note changes nothing of the list; all else is no difference any more,
            // and is one again when it is undone.
            if differs.with_value(|differs| matches!(differs, Differs::NoTag(_))) {
                settle();
            }
        }
        Err(why) => refused.set(Some(why)),
    };
    let mut ways: Vec<AnyView> = proposals
        .into_iter()
        .map(|(words, act)| {
            let label = format!("{words}: {sentence}");
            view! { <button class="button button-small" aria-label=label on:click=move |_| accept(&act)>{words}</button> }
                .into_any()
        })
        .collect();
    let label = say!("Leave it: {sentence}");
    ways.push(
        view! { <button class="button button-small" aria-label=label on:click=move |_| settle()>{say!("Leave it")}</button> }
            .into_any(),
    );
    let mut parts = vec![said("p", "", sentence)];
    parts.extend(doubt.map(|doubt| said("p", "hint", doubt)));
    parts.push(element("div", "row-check-ways", ways));
    element("li", "", parts)
}

/// Does it, today; gives what was done.
fn accepted(app: App, act: &Act) -> Result<String, String> {
    let day = clock::now().date();
    app.carry_out(untrack(|| app.plan(act, day))?)
}

fn as_written(count: usize) -> AnyView {
    let words = count!(
        count,
        "1 tree stands as it is written.",
        "{count} trees stand as they are written."
    );
    said("p", "row-check-same", words)
}
