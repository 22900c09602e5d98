//! Taking them: only where the plot lies, or where each tree stands.

use files::list::Survey;
use language::{count, say};
use leptos::prelude::*;

use super::of_survey;
use super::state::Receiver;
use crate::parts::lean::{changing, when};
use crate::places::intake::tick;

/// Two buttons, and what must be said before.
pub(super) fn take(receiver: Receiver) -> AnyView {
    let (far_off_too, all_the_same) = (RwSignal::new(false), RwSignal::new(false));
    let survey_is = move |read: fn(&Survey) -> bool| {
        Memo::new(move |_| of_survey(receiver, read).unwrap_or_default())
    };
    let can_lie = survey_is(|survey| survey.lie().is_some());
    let tells = survey_is(Survey::tells_trees_apart);
    let far_off = Memo::new(move |_| of_survey(receiver, Survey::far_off).unwrap_or_default());
    let trees = Memo::new(move |_| {
        of_survey(receiver, |survey| survey.trees(far_off_too.get())).unwrap_or_default()
    });
    let lie = move |_| {
        let Some(part) = of_survey(receiver, Survey::lie).flatten() else { return };
        receiver.take(
            vec![part],
            say!("Where the plot lies, by {name}", name = receiver.name()),
            say!("where the plot lies").to_owned(),
        );
    };
    let stand = move |_| {
        let app = receiver.app;
        let parts = app.plot_now(|plot| {
            of_survey(receiver, |survey| survey.stand(plot, far_off_too.get_untracked()))
        });
        let Some((parts, trees)) = parts.flatten().flatten() else { return };
        let words = count!(
            trees,
            "Positions of 1 tree, by {name}",
            "Positions of {trees} trees, by {name}",
            name = receiver.name()
        );
        let said = count!(trees, "positions of 1 tree", "positions of {trees} trees");
        receiver.take(parts, words, said);
    };
    view! {
        <section class="bring-take">
            <h4>{say!("What to take")}</h4>
            <p class="row">
                <button class="button" class:button-first=move || !tells.get() prop:disabled=move || !can_lie.get() on:click=lie>
                    {say!("Take where the plot lies")}
                </button>
            </p>
            <p class="hint">
                {say!("The plot's place on earth and the bearing of its rows. Trees stay in their rows and \
                 places. How far all positions are off together, no fit can tell. One step, which \
                 Undo takes back.")}
            </p>
            {when(move || { far_off.get() > 0 }, move || changing(move || {
                tick(far_off_too, say!("Take the {some} far off, too", some = far_off.get()))
            }))}
            {when(move || !tells.get(), move || {
                let words = say!("Take positions that do not tell one tree from the next");
                tick(all_the_same, words.to_owned())
            })}
            <p class="row">
                <button class="button" class:button-first=move || tells.get()
                    prop:disabled=move || trees.get() == 0 || !(tells.get() || all_the_same.get())
                    on:click=stand>
                    {move || count!(
                        trees.get(),
                        "Take the positions of 1 tree",
                        "Take the positions of {trees} trees",
                        trees = trees.get()
                    )}
                </button>
            </p>
            <p class="hint">
                {say!("Each measured tree then stands where it was measured, in metres of the plot; how good \
                 its position is goes to its note. One step, which Undo takes back.")}
            </p>
        </section>
    }
    .into_any()
}
