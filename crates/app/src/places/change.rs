//! What can be done to the chosen tree: a form for each, what it would be in words, and the list of
//! what was done.

mod fields;
mod form;
mod made;

use language::say;
use leptos::prelude::*;
use plot::{Status, TreeId};
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

use crate::parts::done_line;
use crate::parts::lean::{changing, element, said, when};
use crate::state::{App, app, in_words};
use form::{Form, Kind};

/// The forms for [`App::chosen`](crate::state::App), one at a time.
#[component]
pub fn ChangeTree() -> impl IntoView {
    let app = app();
    let tree = app.chosen.get_untracked();
    let id = tree.and_then(|tree| app.plot_now(|plot| plot.tree(tree).id().clone()));
    let Some(id) = id else { return ().into_any() };
    let id = StoredValue::new(id);
    let form = Form::new();
    let done = RwSignal::new(None::<String>);
    view! {
        <div class="change-body">
            {changing(move || choices(app, id.get_value(), form))}
            {when(move || form.kind.get().is_some(), move || form_of(app, id, form, done))}
            {changing(move || done_line(app, done))}
            {made::made(app)}
        </div>
    }
    .into_any()
}

/// A button for each thing that can be done, as the tree stands.
fn choices(app: App, id: TreeId, form: Form) -> AnyView {
    let stands = app.plot(|plot| {
        let one = plot.tree(plot.tree_ix(id.as_str())?);
        Some((one.status() == Status::Alive, one.carrier().is_some()))
    });
    let Some((is_alive, is_graft)) = stands.flatten() else { return ().into_any() };
    let mut kinds = Vec::new();
    if !is_graft {
        kinds.push(if is_alive { Kind::Beside } else { Kind::PlantHere });
    }
    if is_alive {
        kinds.extend([Kind::Died, Kind::TakenOut, Kind::Graft]);
    }
    if !is_graft {
        kinds.push(Kind::Move);
        kinds.push(Kind::Behind);
    }
    kinds.push(Kind::Relabel);
    let one = |kind: Kind| {
        let is_it = move || (form.kind.get() == Some(kind)).to_string();
        let id = id.clone();
        let choose = move |_| {
            form.choose(app, &id, kind);
            bring(".change-form", |form| form.scroll_into_view_with_bool(true));
        };
        view! {
            <button class="button" aria-pressed=is_it on:click=choose>{kind.words()}</button>
        }
        .into_any()
    };
    let buttons = kinds.into_iter().map(one).collect();
    element("div", "change-choices", buttons)
}

/// The fields, what would be, and the button that does it.
fn form_of(
    app: App,
    id: StoredValue<TreeId>,
    form: Form,
    done: RwSignal<Option<String>>,
) -> AnyView {
    let refused = RwSignal::new(None::<String>);
    let plan = move || {
        let act = form.act(&id.get_value()).and_then(|act| Ok((act, form.day()?)));
        let (act, day) = act.map_err(|refusal| in_words(&refusal))?;
        app.plan(&act, day)
    };
    Effect::new(move || {
        form.follow();
        refused.set(None);
    });
    let make = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        match untrack(plan).and_then(|plan| app.carry_out(plan)) {
            Ok(words) => {
                form.kind.set(None);
                app.told.set(None);
                done.set(Some(words));
                bring(".change-done button", |undo| _ = undo.focus());
            }
            Err(why) => refused.set(Some(why)),
        }
    };
    let will_be = move || match plan() {
        Ok(plan) => {
            let sentences = plan.will_be.into_iter().map(|words| said("p", "", words));
            element("div", "change-will-be", sentences.collect())
        }
        Err(why) => said("p", "hint", why),
    };
    let refusal = move || match refused.get() {
        Some(why) => view! { <p class="fault" role="alert">{why}</p> }.into_any(),
        None => ().into_any(),
    };
    view! {
        <form class="change-form" novalidate=true on:submit=make>
            {changing(move || fields::fields(app, id.get_value(), form))}
            <div role="status" aria-label=say!("What will be")>{changing(will_be)}</div>
            {changing(refusal)}
            <div class="change-ways">
                <button class="button button-first" type="submit">{say!("Do it")}</button>
                <button class="button" type="button" on:click=move |_| form.kind.set(None)>
                    {say!("Leave it")}
                </button>
            </div>
        </form>
    }
    .into_any()
}

/// Does something with what will stand there in the next frame.
fn bring(selector: &'static str, then: fn(HtmlElement)) {
    request_animation_frame(move || {
        let found = document().query_selector(selector).ok().flatten();
        if let Some(found) = found.and_then(|it| it.dyn_into::<HtmlElement>().ok()) {
            then(found);
        }
    });
}
