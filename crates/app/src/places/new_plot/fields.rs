//! The fields of the form, and what may be scored.

use files::PlantingForm;
use language::{said, text};
use leptos::prelude::*;

/// A field: its label, the class of its place, what keyboard a phone shows, an example, and where
/// its text is kept.
pub(super) struct Field {
    label: &'static str,
    /// As problems call it.
    column: &'static str,
    class: &'static str,
    /// Of the input: `text`, or `date`.
    kind: &'static str,
    keyboard: &'static str,
    example: &'static str,
    text: fn(&mut PlantingForm) -> &mut String,
}

const fn field(
    label: &'static str,
    column: &'static str,
    keyboard: &'static str,
    text: fn(&mut PlantingForm) -> &mut String,
) -> Field {
    Field { label, column, class: "field", kind: "text", keyboard, example: "", text }
}

pub(super) const NAME: [Field; 1] = [Field {
    class: "field field-wide",
    ..field(text!("Name of the plot"), "name", "text", |form| &mut form.name)
}];
pub(super) const COUNTS: [Field; 2] = [
    field(text!("Rows"), "rows", "numeric", |form| &mut form.rows),
    field(text!("Places in a row"), "places", "numeric", |form| &mut form.places),
];
pub(super) const SPACINGS: [Field; 2] = [
    field(text!("Metres between rows"), "row_spacing_m", "decimal", |form| &mut form.row_spacing_m),
    field(text!("Metres between places"), "place_spacing_m", "decimal", |form| {
        &mut form.place_spacing_m
    }),
];
pub(super) const FIRSTS: [Field; 2] = [
    Field {
        example: "1",
        ..field(text!("Number of the first row"), "first_row", "numeric", |form| {
            &mut form.first_row
        })
    },
    Field {
        example: "1",
        ..field(text!("Number of the first place"), "first_place", "numeric", |form| {
            &mut form.first_place
        })
    },
];
pub(super) const DAY: [Field; 1] = [Field {
    kind: "date",
    ..field(text!("All planted on"), "planted_on", "text", |form| &mut form.planted_on)
}];
pub(super) const ENDS: [Field; 2] = [
    Field {
        example: text!("road end"),
        ..field(text!("The end with place 1 is called"), "low_end", "text", |form| {
            &mut form.low_end
        })
    },
    Field {
        example: text!("hedge end"),
        ..field(text!("The other end is called"), "high_end", "text", |form| &mut form.high_end)
    },
];
// Keyboards of numbers alone lack the minus on some phones.
pub(super) const EARTH: [Field; 3] = [
    field(text!("Bearing of the rows"), "row_bearing_deg", "decimal", |form| {
        &mut form.row_bearing_deg
    }),
    field(text!("Longitude"), "lon", "text", |form| &mut form.lon),
    field(text!("Latitude"), "lat", "text", |form| &mut form.lat),
];

/// What a field is called on the screen.
pub(super) fn label(column: &str) -> &str {
    let column = column.strip_prefix("layout.").unwrap_or(column);
    let size = COUNTS.iter().chain(&SPACINGS).chain(&FIRSTS).chain(&DAY);
    let all = NAME.iter().chain(size).chain(&ENDS).chain(&EARTH);
    let named = all.into_iter().find(|field| field.column == column).map(|field| field.label);
    let named = named.or((column == "traits").then_some(super::traits::LEGEND));
    match named {
        Some(named) => said(named),
        None => column,
    }
}

/// Fields, each kept as it is typed.
pub(super) fn fields(form: RwSignal<PlantingForm>, of: &'static [Field]) -> Vec<AnyView> {
    of.iter().map(|field| one(form, field)).collect()
}

fn one(form: RwSignal<PlantingForm>, field: &'static Field) -> AnyView {
    let start = form.try_update_untracked(|form| (field.text)(form).clone());
    let keep = move |event| {
        form.update(|form| *(field.text)(form) = event_target_value(&event));
    };
    view! {
        <label class=field.class>
            <span>{said(field.label)}</span>
            <input type=field.kind inputmode=field.keyboard placeholder=said(field.example) maxlength="120"
                value=start on:input=keep />
        </label>
    }
    .into_any()
}
