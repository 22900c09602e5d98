//! Which trees the map shows, and which season beside the slider's moment.

use leptos::prelude::*;
use plot::{Role, Season};
use proof::Verdict;
use scene::{Moment, Only, words};

use super::shown::{Shown, shown};
use crate::parts::lean::{button, changing, changing_words, element, said, when};
use crate::state::{App, app};

/// The choices; closed, they say in one line what is chosen.
#[component]
pub fn Which() -> impl IntoView {
    let (app, shown) = (app(), shown());
    drop_lost_season(shown);
    let narrowed = move || !shown.only.with(Only::is_all) || shown.season_beside.get().is_some();
    let all = move || {
        shown.only.set(Only::default());
        shown.season_beside.set(None);
    };
    let fields = vec![
        changing(move || crosses(app, shown)),
        roles(shown),
        verdicts(shown),
        changing(move || seasons(app, shown)),
        when(narrowed, move || button("button button-small", "All trees, one map", all)),
    ];
    element(
        "details",
        "which",
        vec![
            element("summary", "", vec![changing_words(move || Some(summary(app, shown)))]),
            element("div", "which-choices", fields),
        ],
    )
}

/// `Shown: 12 proven seedlings of Marl Beauty × TR-9; season 2032 beside it`.
fn summary(app: App, shown: Shown) -> String {
    let only = shown.only.get();
    let beside = shown.season_beside.get().and_then(|season| season_words(app, season));
    let trees = match only.is_all() {
        true => "Shown: all trees".to_owned(),
        false => {
            let count = shown.pane.sheet.get().map_or(0, |sheet| sheet.order().len());
            format!("Shown: {count} {}", only.words())
        }
    };
    beside.map_or(trees.clone(), |season| format!("{trees}; {season} beside"))
}

fn crosses(app: App, shown: Shown) -> AnyView {
    let crosses = app.plot(Only::crosses).unwrap_or_default();
    let chosen = shown.only.with_untracked(|only| only.cross.clone());
    let options = crosses.iter().map(|(cross, count)| {
        let name =
            if cross.is_unknown() { "parents unknown".to_owned() } else { cross.to_string() };
        (format!("{name} ({count})"), Some(cross) == chosen.as_ref())
    });
    let options = options.collect();
    choice(("Cross", "all"), options, move |nth| {
        shown.only.update(|only| only.cross = nth.map(|nth| crosses[nth].0.clone()));
    })
}

fn roles(shown: Shown) -> AnyView {
    let chosen = shown.only.with_untracked(|only| only.role);
    let options =
        Role::ALL.iter().map(|role| (format!("{}s", words::role(*role)), Some(*role) == chosen));
    choice(("Kind", "all"), options.collect(), move |nth| {
        shown.only.update(|only| only.role = nth.map(|nth| Role::ALL[nth]));
    })
}

fn verdicts(shown: Shown) -> AnyView {
    let chosen = shown.only.with_untracked(|only| only.verdict);
    let options =
        Verdict::ALL.iter().map(|verdict| (verdict.as_str().to_owned(), Some(*verdict) == chosen));
    choice(("Verdict", "all"), options.collect(), move |nth| {
        shown.only.update(|only| only.verdict = nth.map(|nth| Verdict::ALL[nth]));
    })
}

/// A season to be seen beside the slider's moment; none where there are not two.
fn seasons(app: App, shown: Shown) -> AnyView {
    let seasons = shown.under.seasons();
    if seasons.len() < 2 {
        return ().into_any();
    }
    let chosen = shown.season_beside.get_untracked();
    let options = seasons
        .iter()
        .map(|season| (season_words(app, *season).unwrap_or_default(), Some(*season) == chosen));
    let options = options.collect();
    choice(("Beside it", "nothing"), options, move |nth| {
        let season = nth.map(|nth| seasons[nth]);
        shown.season_beside.set(season);
        // Two seasons are what one wants to compare, not one of them with all.
        let other = seasons.iter().rev().find(|other| Some(**other) != season);
        if let (Some(_), Some(other), Moment::All) = (season, other, shown.moment.get_untracked()) {
            shown.moment.set(Moment::Season(*other));
        }
    })
}

/// A choice with its name and its word for none of the options; gives the place of the chosen one.
fn choice(
    (name, none): (&'static str, &'static str),
    options: Vec<(String, bool)>,
    chosen: impl Fn(Option<usize>) + 'static,
) -> AnyView {
    let all = view! { <option value="">{none}</option> }.into_any();
    let option = |(nth, (words, is_chosen)): (usize, (String, bool))| {
        view! { <option value=nth.to_string() selected=is_chosen>{words}</option> }.into_any()
    };
    let options: Vec<AnyView> =
        std::iter::once(all).chain(options.into_iter().enumerate().map(option)).collect();
    let choose = move |event| chosen(event_target_value(&event).parse().ok());
    view! {
        <label class="which-choice">
            {said("span", "", name)}
            <select on:change=choose>{options}</select>
        </label>
    }
    .into_any()
}

fn season_words(app: App, season: Season) -> Option<String> {
    app.plot(|plot| format!("season {}", words::season_name(plot, season)))
}

/// A layer without the season has nothing to show beside.
fn drop_lost_season(shown: Shown) {
    Effect::new(move || {
        let known = shown.under.rounds.with(Option::is_some);
        let lost = |season: Season| !shown.under.seasons().contains(&season);
        if known && shown.season_beside.get().is_some_and(lost) {
            shown.season_beside.set(None);
        }
    });
}
