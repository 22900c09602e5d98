//! A new plot: rows, places, what stands where, with a picture that follows each word.

mod fields;
mod list;
mod picture;
mod told;
mod traits;

use files::{PlantingForm, usual_traits};
use language::say;
use leptos::html;
use leptos::prelude::*;
use plot::Problem;

use crate::parts::Turn;
use crate::parts::lean::when;
use crate::state::app;
use fields::{COUNTS, DAY, EARTH, ENDS, FIRSTS, Field, NAME, SPACINGS, fields};
use list::PlantingList;
use picture::{Drawn, Picture};
use told::FieldFaults;
use traits::TraitChoice;

/// What is filled in, what comes of it, and what is wrong with it.
#[derive(Clone, Copy)]
struct Draft {
    form: RwSignal<PlantingForm>,
    drawn: RwSignal<Option<Drawn>>,
    faults: RwSignal<Vec<Problem>>,
    turn: Turn,
}

/// The form that makes a plot.
#[component]
pub fn NewPlotForm() -> impl IntoView {
    let app = app();
    let draft = Draft {
        form: RwSignal::new(PlantingForm {
            rows: "10".to_owned(),
            places: "40".to_owned(),
            row_spacing_m: language::decimal("3.0".to_owned()),
            place_spacing_m: language::decimal("0.75".to_owned()),
            traits: usual_traits(),
            ..PlantingForm::default()
        }),
        drawn: RwSignal::new(None),
        faults: RwSignal::new(Vec::new()),
        turn: Turn::default(),
    };
    Effect::new(move |before: Option<()>| {
        draft.form.track();
        match before {
            None => draft.look(),
            Some(()) => draft.turn.after_keys(move || draft.look()),
        }
    });
    let told = NodeRef::<html::Div>::new();
    let make = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        draft.turn.next();
        match draft.form.with_untracked(PlantingForm::plant) {
            Ok(book) => app.open_new(book, draft.form.with_untracked(|form| form.is_for_list)),
            Err(faults) => {
                draft.faults.set(faults);
                // Once they stand there.
                request_animation_frame(move || {
                    if let Some(told) = told.get_untracked() {
                        let _ = told.focus();
                    }
                });
            }
        }
    };
    let part = move |of: &'static [Field]| fields(draft.form, of);
    let is_for_list = Memo::new(move |_| draft.form.with(|form| form.is_for_list));
    let written = move || {
        view! {
            <Picture drawn=draft.drawn faults=draft.faults />
            <PlantingList form=draft.form faults=draft.faults />
        }
        .into_any()
    };
    view! {
        <form class="new-plot" novalidate=true on:submit=make>
            {part(&NAME)}
            {from_where(draft.form)}
            {when(move || !is_for_list.get(), move || part(&COUNTS).into_any())}
            {part(&SPACINGS)}
            {part(&ENDS)}
            {when(move || !is_for_list.get(), written)}
            <details class="field-wide">
                <summary>
                    {move || match is_for_list.get() {
                        true => say!("Other first numbers"),
                        false => say!("Other first numbers, day of planting"),
                    }}
                </summary>
                <div class="new-plot-earth">
                    {part(&FIRSTS)}
                    {when(move || !is_for_list.get(), move || part(&DAY).into_any())}
                </div>
            </details>
            <details class="field-wide">
                <summary>{say!("Where on earth it lies")}</summary>
                <p class="hint">
                    {say!("Bearing: the way from the first place to the other end of a row, degrees clockwise from \
                     true north. Longitude and latitude: of the first place of the first row. All three, or none.")}
                </p>
                <div class="new-plot-earth">{part(&EARTH)}</div>
            </details>
            <TraitChoice form=draft.form />
            <div class="field-wide new-plot-told" tabindex="-1" node_ref=told>
                <FieldFaults faults=draft.faults />
            </div>
            <button class="button button-first field-wide" type="submit">
                {move || match is_for_list.get() {
                    true => say!("Begin it, then bring in the list"),
                    false => say!("Plant it"),
                }}
            </button>
        </form>
    }
}

/// Whether what stands where is written here, or comes from a list.
fn from_where(form: RwSignal<PlantingForm>) -> AnyView {
    let choice = move |is_for_list: bool, words: &'static str| {
        view! {
            <label class="check">
                <input type="radio" name="from-where"
                    prop:checked=move || form.with(|form| form.is_for_list == is_for_list)
                    on:change=move |_| form.update(|form| form.is_for_list = is_for_list) />
                {words}
            </label>
        }
        .into_any()
    };
    view! {
        <fieldset class="field-wide">
            <legend>{say!("What stands where")}</legend>
            {choice(false, say!("I write it here: rows, places and a few lines"))}
            {choice(true, say!("It stands in a list: a sheet or a table, brought in next"))}
        </fieldset>
    }
    .into_any()
}

impl Draft {
    /// Draws what is sound so far and tells which lines of the list are wrong. What is missing in
    /// the fields is told when the plot is to be made.
    fn look(self) {
        let (plot, faults) = self.form.with_untracked(PlantingForm::sketch);
        if let Some(plot) = plot {
            let drawn = self.form.with_untracked(|form| picture::draw(&plot, form.ends()));
            self.drawn.set(Some(drawn));
        }
        self.faults.set(faults);
    }
}
