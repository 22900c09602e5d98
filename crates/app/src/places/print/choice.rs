//! What a person chooses: what is printed, of which trees, on which paper.

use language::say;
use leptos::prelude::*;
use paper::LabelSize;
use writer::{MapLayer, PrintWish, What};

use super::desk::Desk;
use crate::state::App;

/// The class of a paper: `paper-a4`, `paper-letter-lying` …
pub(super) fn paper_class(wish: &PrintWish) -> String {
    let name = if wish.is_letter { "paper-letter" } else { "paper-a4" };
    let is_lying = wish.is_landscape && !matches!(wish.what, What::Tags { .. });
    if is_lying { format!("{name}-lying") } else { name.to_owned() }
}

/// All choices.
#[component]
pub(super) fn Choice(desk: Desk) -> impl IntoView {
    let app = desk.app;
    let kind = Memo::new(move |_| desk.wish.with(|wish| std::mem::discriminant(&wish.what)));
    let firsts: [(&'static str, What); 4] = [
        (say!("Field sheets"), first_sheets(app)),
        (say!("Tags"), What::Tags { size: LabelSize::Medium, start: 1, no_tag: false }),
        (say!("Map"), What::Map(MapLayer::Cross)),
        (say!("Report"), What::Report),
    ];
    let radio = move |(name, first): (&'static str, What)| {
        let of = std::mem::discriminant(&first);
        view! {
            <label class="check">
                <input
                    type="radio"
                    name="print-what"
                    prop:checked=move || kind.get() == of
                    on:change=move |_| desk.wish.update(|wish| wish.what = first.clone())
                />
                {name}
            </label>
        }
    };
    let is_tags = move || desk.wish.with(|wish| matches!(wish.what, What::Tags { .. }));
    let has_rows = move || {
        desk.wish.with(|wish| matches!(wish.what, What::Tags { .. } | What::FieldSheets { .. }))
    };
    view! {
        <fieldset class="print-what"><legend>{say!("What")}</legend>{firsts.map(radio)}</fieldset>
        {move || { kind.track(); of_kind(desk) }}
        <Show when=has_rows>
            <label class="field">
                <span>{say!("Rows")}</span>
                <input
                    type="text"
                    inputmode="text"
                    placeholder=say!("all, or 3-7, 9")
                    prop:value=move || desk.wish.with(|wish| wish.rows.clone())
                    on:input=move |event| desk.wish.update(|wish| wish.rows = event_target_value(&event))
                />
            </label>
        </Show>
        <fieldset class="print-what">
            <legend>{say!("Paper")}</legend>
            {[("A4", false), (say!("Letter"), true)].map(|(name, is_letter)| view! {
                <label class="check">
                    <input
                        type="radio"
                        name="print-paper"
                        prop:checked=move || desk.wish.with(|wish| wish.is_letter == is_letter)
                        on:change=move |_| desk.wish.update(|wish| wish.is_letter = is_letter)
                    />
                    {name}
                </label>
            })}
            <Show when=move || !is_tags()>
                <label class="check">
                    <input
                        type="checkbox"
                        prop:checked=move || desk.wish.with(|wish| wish.is_landscape)
                        on:change=move |event| desk.wish.update(|wish| wish.is_landscape = event_target_checked(&event))
                    />
                    {say!("On its long side")}
                </label>
            </Show>
        </fieldset>
    }
}

/// The first traits: more hardly fit on a page.
pub(super) fn first_sheets(app: App) -> What {
    let traits = app
        .plot_now(|plot| plot.head().traits.iter().take(3).map(|one| one.id.to_string()).collect());
    What::FieldSheets { traits: traits.unwrap_or_default(), sick_last: false }
}

/// What belongs to one kind alone.
fn of_kind(desk: Desk) -> AnyView {
    match desk.wish.with_untracked(|wish| wish.what.clone()) {
        What::FieldSheets { traits, sick_last } => sheets(desk, traits, sick_last),
        What::Tags { size, start, no_tag } => tags(desk, size, start, no_tag),
        What::Map(layer) => map(desk, layer),
        What::Report => ().into_any(),
    }
}

fn sheets(desk: Desk, chosen: Vec<String>, sick_last: bool) -> AnyView {
    let all = desk.app.plot_now(|plot| {
        let named = plot.head().traits.iter().map(|one| (one.id.to_string(), one.label.clone()));
        named.collect::<Vec<_>>()
    });
    let order: Vec<String> = all.iter().flatten().map(|(id, _)| id.clone()).collect();
    let line = move |(id, label): (String, String)| {
        let (is_chosen, order) = (chosen.contains(&id), order.clone());
        let change = move |event| {
            let wanted = event_target_checked(&event);
            desk.wish.update(|wish| {
                if let What::FieldSheets { traits, .. } = &mut wish.what {
                    traits.retain(|one| *one != id);
                    if wanted {
                        traits.push(id.clone());
                    }
                    // As the plot has them.
                    traits.sort_by_key(|one| order.iter().position(|it| it == one));
                }
            });
        };
        view! {
            <label class="check">
                <input type="checkbox" prop:checked=is_chosen on:change=change />
                {label}
            </label>
        }
    };
    let change = move |event| {
        let wanted = event_target_checked(&event);
        desk.wish.update(|wish| {
            if let What::FieldSheets { sick_last, .. } = &mut wish.what {
                *sick_last = wanted;
            }
        });
    };
    view! {
        <fieldset class="print-what">
            <legend>{say!("A box for each score of")}</legend>
            {all.unwrap_or_default().into_iter().map(line).collect_view()}
        </fieldset>
        <label class="check">
            <input type="checkbox" prop:checked=sick_last on:change=change />
            {say!("Trees seen with symptoms last")}
        </label>
    }
    .into_any()
}

fn tags(desk: Desk, size: LabelSize, start: usize, no_tag: bool) -> AnyView {
    let sizes = [
        (LabelSize::Small, say!("Small, 48 on a page")),
        (LabelSize::Medium, say!("Medium, 24 on a page")),
        (LabelSize::Large, say!("Large, 8 on a page")),
    ];
    let radio = move |(of, name): (LabelSize, &'static str)| {
        let choose = move |_| {
            desk.wish.update(|wish| {
                if let What::Tags { size, .. } = &mut wish.what {
                    *size = of;
                }
            });
        };
        view! {
            <label class="check">
                <input type="radio" name="print-size" prop:checked=of == size on:change=choose />
                {name}
            </label>
        }
    };
    let begin = move |event| {
        let first = event_target_value(&event).parse().unwrap_or(1);
        desk.wish.update(|wish| {
            if let What::Tags { start, .. } = &mut wish.what {
                *start = first;
            }
        });
    };
    let spare = move |event| {
        let wanted = event_target_checked(&event);
        desk.wish.update(|wish| {
            if let What::Tags { no_tag, .. } = &mut wish.what {
                *no_tag = wanted;
            }
        });
    };
    view! {
        <fieldset class="print-what"><legend>{say!("Size")}</legend>{sizes.map(radio)}</fieldset>
        <label class="field">
            <span>{say!("First label that is left on the sheet")}</span>
            <input type="number" min="1" prop:value=start.to_string() on:input=begin />
        </label>
        <label class="check">
            <input type="checkbox" prop:checked=no_tag on:change=spare />
            {say!("Only trees without a tag")}
        </label>
    }
    .into_any()
}

fn map(desk: Desk, chosen: MapLayer) -> AnyView {
    let layers = desk.app.plot_now(|plot| {
        let verdict = |disease: &&str| {
            let name = scene::words::disease(plot, disease);
            (MapLayer::Verdict((*disease).to_owned()), say!("Verdicts on {name}"))
        };
        let of_trait = |one: &plot::Trait| (MapLayer::Trait(one.id.to_string()), one.label.clone());
        let mut all = vec![(MapLayer::Cross, say!("Crosses").to_owned())];
        all.extend(plot.diseases().iter().map(verdict));
        all.extend(plot.head().traits.iter().map(of_trait));
        all
    });
    let layers = layers.unwrap_or_default();
    let at = layers.iter().position(|(layer, _)| *layer == chosen).unwrap_or(0);
    let option = |(nth, (_, name)): (usize, &(MapLayer, String))| {
        view! { <option value=nth.to_string() selected=nth == at>{name.clone()}</option> }
    };
    let options = layers.iter().enumerate().map(option).collect_view();
    let choose = move |event| {
        let nth: usize = event_target_value(&event).parse().unwrap_or(0);
        if let Some((layer, _)) = layers.get(nth) {
            desk.wish.update(|wish| wish.what = What::Map(layer.clone()));
        }
    };
    view! {
        <label class="field"><span>{say!("What it shows")}</span><select on:change=choose>{options}</select></label>
    }
    .into_any()
}
