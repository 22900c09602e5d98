//! Which trees the map shows, and which season beside the slider's moment.

use language::say;
use leptos::prelude::*;
use plot::{CrossKey, Role, Season};
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
        when(narrowed, move || button("button button-small", say!("All trees, one map"), all)),
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

/// `Shown: 12 proven seedlings of Marl Beauty × TR-9; season 2032 beside`.
fn summary(app: App, shown: Shown) -> String {
    let only = shown.only.get();
    let beside = shown.season_beside.get().and_then(|season| season_words(app, season));
    let trees = match only.is_all() {
        true => say!("Shown: all trees").to_owned(),
        false => {
            let count = shown.pane.sheet.get().map_or(0, |sheet| sheet.order().len());
            say!("Shown: {count} {only}", only = only.words())
        }
    };
    match beside {
        Some(season) => say!("{trees}; {season} beside"),
        None => trees,
    }
}

fn crosses(app: App, shown: Shown) -> AnyView {
    let crosses = app.plot(Only::crosses).unwrap_or_default();
    let options = crosses.iter().map(|(cross, count)| {
        let unknown = cross.is_unknown();
        let name = if unknown { say!("parents unknown").to_owned() } else { cross.to_string() };
        format!("{name} ({count})")
    });
    let options = options.collect();
    let crosses: Vec<CrossKey> = crosses.into_iter().map(|(cross, _)| cross).collect();
    one_of(
        (say!("Cross"), say!("all")),
        options,
        crosses,
        move || shown.only.get().cross,
        move |cross| {
            shown.only.update(|only| only.cross = cross);
        },
    )
}

fn roles(shown: Shown) -> AnyView {
    let options = Role::ALL.iter().map(|role| words::roles(*role).to_owned()).collect();
    one_of(
        (say!("Kind"), say!("all")),
        options,
        Role::ALL.to_vec(),
        move || shown.only.get().role,
        move |role| {
            shown.only.update(|only| only.role = role);
        },
    )
}

fn verdicts(shown: Shown) -> AnyView {
    let options = Verdict::ALL.iter().map(|verdict| words::verdict(*verdict).to_owned()).collect();
    let chosen = move || shown.only.get().verdict;
    one_of((say!("Verdict"), say!("all")), options, Verdict::ALL.to_vec(), chosen, move |verdict| {
        shown.only.update(|only| only.verdict = verdict);
    })
}

/// A season to be seen beside the slider's moment; none where there are not two.
fn seasons(app: App, shown: Shown) -> AnyView {
    let seasons = shown.under.seasons();
    if seasons.len() < 2 {
        return ().into_any();
    }
    let options =
        seasons.iter().map(|season| season_words(app, *season).unwrap_or_default()).collect();
    let all = seasons.clone();
    let chosen = move || shown.season_beside.get();
    one_of((say!("Beside it"), say!("nothing")), options, seasons, chosen, move |season| {
        shown.season_beside.set(season);
        // Two seasons are what one wants to compare, not one of them with all.
        let other = all.iter().rev().find(|other| Some(**other) != season);
        if let (Some(_), Some(other), Moment::All) = (season, other, shown.moment.get_untracked()) {
            shown.moment.set(Moment::Season(*other));
        }
    })
}

/// A choice among values, each with its words, with its name and its word for none of them.
fn one_of<T: Clone + PartialEq + Send + Sync + 'static>(
    (name, none): (&'static str, &'static str),
    options: Vec<String>,
    values: Vec<T>,
    chosen: impl Fn() -> Option<T> + Send + Sync + 'static,
    choose: impl Fn(Option<T>) + 'static,
) -> AnyView {
    let known = values.clone();
    let at = move || {
        let nth = chosen().and_then(|one| known.iter().position(|value| *value == one));
        nth.map_or_else(String::new, |nth| nth.to_string())
    };
    let take = move |word: String| {
        choose(word.parse().ok().and_then(|nth: usize| values.get(nth).cloned()));
    };
    choice(name, none, options, Box::new(at), Box::new(take))
}

fn choice(
    name: &'static str,
    none: &'static str,
    options: Vec<String>,
    at: Box<dyn Fn() -> String + Send + Sync>,
    take: Box<dyn Fn(String)>,
) -> AnyView {
    let option = |(nth, words): (usize, String)| {
        view! { <option value=nth.to_string()>{words}</option> }.into_any()
    };
    let none = view! { <option value="">{none}</option> }.into_any();
    let options: Vec<AnyView> =
        std::iter::once(none).chain(options.into_iter().enumerate().map(option)).collect();
    view! {
        <label class="which-choice">
            {said("span", "", name)}
            <select prop:value=at on:change=move |event| take(event_target_value(&event))>{options}</select>
        </label>
    }
    .into_any()
}

fn season_words(app: App, season: Season) -> Option<String> {
    app.plot(|plot| say!("season {season}", season = words::season_name(plot, season)))
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
