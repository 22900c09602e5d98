//! What each column is taken as, beside what stands in it.

use files::list::Target;
use language::say;
use leptos::prelude::*;

use super::select::{Options, select};
use super::state::Bring;
use super::words;
use crate::parts::lean::{changing, element, said};

/// A select for each column.
pub(super) fn columns(bring: Bring) -> AnyView {
    // Made anew only when other columns stand there: a select keeps its focus when it is used.
    let shown = Memo::new(move |_| {
        bring.seen.with(|seen| {
            let seen = seen.as_ref()?;
            let names: Vec<String> =
                (0..seen.columns.heads.len()).map(|nth| seen.columns.name(nth)).collect();
            Some((names, seen.samples.clone()))
        })
    });
    let list = changing(move || {
        let (names, samples) = shown.get().unwrap_or_default();
        let one =
            |(nth, (name, sample)): (usize, (String, String))| column(bring, nth, name, sample);
        let lines = names.into_iter().zip(samples).enumerate().map(one).collect();
        element("ul", "bring-columns", lines)
    });
    let hint = say!(
        "Where a tree stands is needed: row and place, or metres, or longitude and latitude. \
                An empty cell changes nothing. Several columns may go into the note."
    );
    element(
        "section",
        "",
        vec![said("h4", "", say!("What its columns are")), said("p", "hint", hint), list],
    )
}

fn column(bring: Bring, nth: usize, name: String, sample: String) -> AnyView {
    let options: Options =
        Target::all().map(|it| (it.as_str().to_owned(), words::target(it).to_owned())).collect();
    let is_left_out = move || {
        bring.seen.with(|it| {
            it.as_ref().and_then(|it| it.columns.targets.get(nth).copied()) == Some(Target::Skip)
        })
    };
    let chosen = move || {
        let target =
            bring.seen.with(|it| it.as_ref().and_then(|it| it.columns.targets.get(nth).copied()));
        target.unwrap_or(Target::Skip).as_str().to_owned()
    };
    let choose = move |word: String| {
        let target = Target::parse(&word).unwrap_or(Target::Skip);
        let targets =
            bring.seen.with_untracked(|it| it.as_ref().map(|it| it.with_target(nth, target)));
        bring.wish(|wishes| wishes.targets = targets);
    };
    let sample = if sample.is_empty() { say!("nothing in it").to_owned() } else { sample };
    view! {
        <li class:bring-left-out=is_left_out>
            {select(name, options, chosen, choose)}
            <p class="bring-sample">{sample}</p>
        </li>
    }
    .into_any()
}
