//! The fields of what is to be done.

use language::say;
use leptos::prelude::*;
use plot::{Act, Role, Stand, TreeField, TreeId};
use scene::words;

use super::form::{Form, KNOWN, Kind, Where};
use crate::parts::lean::{changing, element, said, when};
use crate::state::App;

/// All fields of the form as it stands.
pub(super) fn fields(app: App, tree: TreeId, form: Form) -> AnyView {
    let Some(kind) = form.kind.get() else { return ().into_any() };
    let mut parts = vec![said("h3", "", kind.words())];
    match kind {
        Kind::Behind => parts.push(stand(app, tree, form)),
        Kind::Move => {
            parts.push(place(form));
            parts.push(truly(form, say!("It was really moved"), moved()));
        }
        Kind::Graft => parts.push(scions(form)),
        Kind::Relabel => {
            parts.extend(KNOWN.iter().map(|field| known(form, *field)));
            parts.push(truly(form, say!("It got another tag"), retagged()));
        }
        Kind::PlantHere | Kind::Beside | Kind::Died | Kind::TakenOut => {}
    }
    if kind.plants() {
        parts.push(known(form, TreeField::Tag));
        let more = KNOWN[1..].iter().map(|field| known(form, *field)).collect();
        let more =
            vec![said("summary", "", say!("Cross, genotype, note")), element("div", "", more)];
        parts.push(element("details", "change-more", more));
    }
    // What was only entered wrongly has no day.
    let is_dated = move || !matches!(kind, Kind::Move | Kind::Relabel) || form.truly.get();
    parts.push(when(is_dated, move || day(form, kind)));
    parts.into_any()
}

fn moved() -> &'static str {
    say!(
        "Its scores stay with it either way. If it was really moved, the scores before that day \
         were taken at the old place, and the proof counts them at the new one."
    )
}

fn retagged() -> &'static str {
    say!("For the tag: if it got another one, the note keeps the old one with the day.")
}

/// A text field.
fn text(form: Form, name: String, label: &'static str, keyboard: &'static str) -> AnyView {
    let start = form.texts.with_untracked(|texts| texts.get(&name).cloned().unwrap_or_default());
    let keep = move |event| {
        let typed = event_target_value(&event);
        form.texts.update(|texts| _ = texts.insert(name.clone(), typed));
    };
    view! {
        <label class="field">
            <span>{label}</span>
            <input type="text" inputmode=keyboard maxlength="400" autocomplete="off" value=start on:input=keep />
        </label>
    }
    .into_any()
}

fn known(form: Form, field: TreeField) -> AnyView {
    if field == TreeField::Role {
        return role(form);
    }
    let keyboard = if field == TreeField::CrossYear { "numeric" } else { "text" };
    text(form, field.as_str().to_owned(), field.label(), keyboard)
}

fn role(form: Form) -> AnyView {
    let now = form.texts.with_untracked(|texts| {
        texts.get("role").and_then(|role| Role::parse(role)).unwrap_or_default()
    });
    let keep = move |event| {
        let chosen = event_target_value(&event);
        form.texts.update(|texts| _ = texts.insert("role".to_owned(), chosen));
    };
    let one = |role: &Role| {
        view! { <option value=role.as_str() selected={*role == now}>{words::role(*role)}</option> }
    };
    view! {
        <label class="field">
            <span>{TreeField::Role.label()}</span>
            <select on:change=keep>{Role::ALL.iter().map(one).collect_view()}</select>
        </label>
    }
    .into_any()
}

fn place(form: Form) -> AnyView {
    let number = |field: TreeField| text(form, field.as_str().to_owned(), field.label(), "text");
    element("div", "change-place", vec![number(TreeField::Row), number(TreeField::Place)])
}

fn day(form: Form, kind: Kind) -> AnyView {
    let label = match kind {
        Kind::Graft => say!("Grafted on"; "a day"),
        kind if kind.plants() => say!("Planted on"; "a day"),
        _ => say!("On"; "a day"),
    };
    let keep = move |event| form.day.set(event_target_value(&event));
    view! {
        <label class="field">
            <span>{label}</span>
            <input type="date" value=form.day.get_untracked() on:input=keep />
        </label>
    }
    .into_any()
}

/// One of several, as buttons of a radio group.
fn one_of<T: Copy + PartialEq + Send + Sync + 'static>(
    legend: &'static str,
    all: Vec<(T, String)>,
    chosen: RwSignal<T>,
) -> AnyView {
    let one = move |(it, words): (T, String)| {
        view! {
            <label class="check">
                <input type="radio" name=legend prop:checked=move || chosen.get() == it
                    on:change=move |_| chosen.set(it) />
                {words}
            </label>
        }
        .into_any()
    };
    let all = all.into_iter().map(one).collect::<Vec<_>>();
    view! { <fieldset><legend>{legend}</legend>{all}</fieldset> }.into_any()
}

fn truly(form: Form, really: &str, hint: &'static str) -> AnyView {
    let wrongly = say!("It was entered wrongly");
    let both = vec![(false, wrongly.to_owned()), (true, really.to_owned())];
    element("div", "", vec![one_of(say!("Why"), both, form.truly), said("p", "hint", hint)])
}

/// Behind the tree, behind it with those that follow counted on, or elsewhere.
fn stand(app: App, tree: TreeId, form: Form) -> AnyView {
    let is_followed = app.plot_now(|plot| {
        let act = Act::Plant(Stand::BehindMovingOn(tree.clone()), Vec::new());
        let plan = plot.plan(&act, form.day().ok()?).ok()?;
        Some((plot.tree(plot.tree_ix(tree.as_str())?).name(), plan.parts.len() > 1))
    });
    let (name, is_followed) = untrack(|| is_followed.flatten()).unwrap_or_default();
    let mut all = vec![(Where::Behind, say!("Behind {name}"))];
    if is_followed {
        all[0].1 = say!("Between {name} and the next; nobody counts anew");
        let words = say!("There, and all behind count one place further");
        all.push((Where::MovingOn, words.to_owned()));
    }
    all.push((Where::At, say!("In another row and place").to_owned()));
    let elsewhere = when(move || form.place.get() == Where::At, move || place(form));
    element("div", "", vec![one_of(say!("Where"), all, form.place), elsewhere])
}

/// Fields for each graft, and one more.
fn scions(form: Form) -> AnyView {
    let one = move |nth: usize| {
        let field = |what: &str, label| text(form, format!("{what} {nth}"), label, "text");
        let fields = vec![
            said("legend", "", say!("Graft {nth}")),
            field("genotype", TreeField::Genotype.label()),
            field("limb", say!("Which limb")),
            field("tag", TreeField::Tag.label()),
        ];
        element("fieldset", "", fields)
    };
    let all = changing(move || (1..=form.scions.get()).map(one).collect::<Vec<_>>().into_any());
    let more = view! {
        <button class="button" type="button" on:click=move |_| form.scions.update(|count| *count += 1)>
            {say!("One more graft")}
        </button>
    };
    element("div", "", vec![all, more.into_any()])
}
